//! By which name an ingredient is written in a document, so that the reader finds that one and no other.

use crate::domain::Identity;
use crate::formats::declared::Declared;
use crate::formats::edit_problem::EditProblem;
use crate::formats::proof::Proof;
use crate::formats::section::Section;

/// What a document declares by itself.
pub(crate) struct Names {
    declared: Declared,
}

impl Names {
    /// Looks into a document.
    pub(crate) fn of(document: &str) -> Self {
        let proof = Proof::new("", document);
        let table = proof.parse();
        let declared = Section::new(&proof, &table, 0).section("declare");
        Self {
            declared: declared.map(Declared::read).unwrap_or_default(),
        }
    }

    /// The name of a fermentable; none where the old text under the key names it already.
    pub(crate) fn fermentable(
        &self,
        wanted: &Identity,
        old: Option<&str>,
    ) -> Result<Option<String>, EditProblem> {
        let all = self.declared.fermentables.iter();
        name(&all.map(|it| it.identity.as_ref()), wanted, old)
    }

    /// The name of a hop in the same way.
    pub(crate) fn hop(
        &self,
        wanted: &Identity,
        old: Option<&str>,
    ) -> Result<Option<String>, EditProblem> {
        let all = self.declared.hops.iter();
        name(&all.map(|it| it.identity.as_ref()), wanted, old)
    }

    /// The name of a yeast in the same way.
    pub(crate) fn yeast(
        &self,
        wanted: &Identity,
        old: Option<&str>,
    ) -> Result<Option<String>, EditProblem> {
        let all = self.declared.yeasts.iter();
        name(&all.map(|it| it.identity.as_ref()), wanted, old)
    }

    /// The name of another addition in the same way.
    pub(crate) fn other(
        &self,
        wanted: &Identity,
        old: Option<&str>,
    ) -> Result<Option<String>, EditProblem> {
        let all = self.declared.others.iter();
        name(&all.map(|it| it.identity.as_ref()), wanted, old)
    }
}

fn name<'a>(
    declared: &(impl Iterator<Item = &'a Identity> + Clone),
    wanted: &Identity,
    old: Option<&str>,
) -> Result<Option<String>, EditProblem> {
    // The reader takes the first that answers, and what is declared comes before the catalogue.
    let names_it = |text: &str| {
        let mut declared = declared.clone();
        let first = declared.find(|it| it.answers_to(text));
        first.unwrap_or(wanted) == wanted && wanted.answers_to(text)
    };
    if old.is_some_and(names_it) {
        return Ok(None);
    }
    let name = wanted.name.clone();
    let is_declared = wanted.id.as_str().starts_with("declared");
    if is_declared && !declared.clone().any(|it| it == wanted) {
        return Err(EditProblem::Undeclared { name });
    }
    let synonyms = wanted.synonyms.iter().map(String::as_str);
    let names = [wanted.name.as_str(), wanted.id.as_str()];
    let found = names.into_iter().chain(synonyms).find(|it| names_it(it));
    match found {
        Some(found) => Ok(Some(found.to_owned())),
        None => Err(EditProblem::Hidden { name }),
    }
}
