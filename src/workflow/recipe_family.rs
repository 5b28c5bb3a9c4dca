//! The versions of a recipe: everything that came from it and everything it came from, as a tree.

use std::collections::HashMap;

use crate::domain::KeptProposal;
use crate::domain::Name;
use crate::domain::RecipeVersion;
use crate::domain::RecipeVersionId;
use crate::domain::is_same_name;
use crate::domain::nearest_names;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// Names that are told where none fits.
const MOST_NAMES: usize = 5;

/// One version in its tree.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Member {
    /// The version.
    pub(super) version: RecipeVersion,
    /// How many versions stand above it.
    pub(super) depth: usize,
    /// The version it came from: the one in its file, or the one of which it was proposed.
    pub(super) parent: Option<RecipeVersion>,
}

impl Home {
    /// The names of all recipes that were brewed, each once, in the order in which they came.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn recipe_names(&self) -> Result<Vec<String>, WorkflowError> {
        let mut names: Vec<String> = Vec::new();
        for version in self.store.recipe_versions()? {
            let name = version.name.to_string();
            if !names.contains(&name) {
                names.push(name);
            }
        }
        Ok(names)
    }

    /// The versions of a recipe with all that they came from and all that came from them, whatever those are
    /// called; each is followed by what came from it, the oldest first.
    ///
    /// # Errors
    /// No recipe has the name, whatever its capitals; the message names those that are like it.
    pub(super) fn recipe_family(&self, name: &str) -> Result<Vec<Member>, WorkflowError> {
        let asked = Name::new("the name of a recipe", name)?;
        let versions = self.store.recipe_versions()?;
        let proposals = self.kept_proposals()?;
        let links: Vec<Option<RecipeVersionId>> = versions
            .iter()
            .map(|it| parent(it, &versions, &proposals))
            .collect();
        let is_asked = |it: &RecipeVersion| is_same_name(it.name.as_str(), asked.as_str());
        let mut members: Vec<bool> = versions.iter().map(is_asked).collect();
        if !members.contains(&true) {
            return Err(self.no_such_recipe(&asked)?);
        }
        join(&mut members, &pairs(&versions, &links));
        let rows = versions.into_iter().zip(links).zip(members);
        let rows = rows.filter(|it| it.1).map(|it| it.0).collect();
        Ok(in_order(rows))
    }

    fn no_such_recipe(&self, asked: &Name) -> Result<WorkflowError, WorkflowError> {
        let names = self.recipe_names()?;
        let all = names.iter().map(String::as_str);
        let near = nearest_names(asked.as_str(), all.clone(), MOST_NAMES);
        let told = if near.is_empty() {
            all.take(MOST_NAMES).collect()
        } else {
            near
        };
        Ok(WorkflowError::NoRecipeNamed {
            asked: asked.to_string(),
            known: told.into_iter().map(str::to_owned).collect(),
        })
    }
}

/// Each version that came from another one, with that one, by their places.
fn pairs(versions: &[RecipeVersion], links: &[Option<RecipeVersionId>]) -> Vec<(usize, usize)> {
    let places: HashMap<&RecipeVersionId, usize> = versions
        .iter()
        .enumerate()
        .map(|(at, it)| (&it.id, at))
        .collect();
    let above = |link: &Option<RecipeVersionId>| places.get(link.as_ref()?).copied();
    let all = links.iter().enumerate();
    all.filter_map(|(at, link)| Some((at, above(link)?)))
        .collect()
}

/// Takes in whatever is linked to a member, until a sweep finds nobody more.
fn join(members: &mut [bool], pairs: &[(usize, usize)]) {
    loop {
        let before = members.iter().filter(|it| **it).count();
        for (one, other) in pairs {
            let joined = members[*one] || members[*other];
            (members[*one], members[*other]) = (joined, joined);
        }
        if members.iter().filter(|it| **it).count() == before {
            return;
        }
    }
}

/// Where a version came from: what its file says, or else the proposal of which it was written, which knows it
/// under another name too.
fn parent(
    version: &RecipeVersion,
    versions: &[RecipeVersion],
    proposals: &[KeptProposal],
) -> Option<RecipeVersionId> {
    let proposed = || {
        let mut newest = proposals.iter().rev();
        let it = newest.find(|it| it.name == version.name && it.version == version.version)?;
        Some(it.parent.clone())
    };
    let found = version.parent.clone().or_else(proposed)?;
    let is_there = versions.iter().any(|it| it.id == found);
    (is_there && found != version.id).then_some(found)
}

/// Each version followed by what came from it; those that came from nothing here are the beginnings.
fn in_order(mut rows: Vec<(RecipeVersion, Option<RecipeVersionId>)>) -> Vec<Member> {
    let mut told: Vec<Member> = Vec::new();
    let is_root = |rows: &[(RecipeVersion, Option<RecipeVersionId>)], at: usize| {
        let link = rows[at].1.as_ref();
        link.is_none_or(|link| rows.iter().all(|it| it.0.id != *link))
    };
    let mut roots: Vec<usize> = (0..rows.len()).filter(|it| is_root(&rows, *it)).collect();
    let mut open: Vec<(RecipeVersion, Option<RecipeVersion>, usize)> = Vec::new();
    while let Some(at) = roots.pop() {
        // From the last one on, so that no place moves before its turn.
        open.push((rows.remove(at).0, None, 0));
    }
    while let Some((version, parent, depth)) = open.pop() {
        let from =
            |it: &(RecipeVersion, Option<RecipeVersionId>)| it.1.as_ref() == Some(&version.id);
        let (children, others): (Vec<_>, Vec<_>) = rows.into_iter().partition(from);
        rows = others;
        let later = children.into_iter().rev();
        open.extend(later.map(|it| (it.0, Some(version.clone()), depth + 1)));
        told.push(Member {
            version,
            depth,
            parent,
        });
    }
    told
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Moment;

    fn version(id: &str, minute: u32) -> RecipeVersion {
        RecipeVersion {
            id: RecipeVersionId::new(id),
            parent: None,
            reason: None,
            name: Name::new("a name", "Porter").unwrap(),
            version: Name::new("a version", id).unwrap(),
            document: String::new(),
            hash: id.to_owned(),
            made_at: Moment::parse(&format!("2026-01-01T10:{minute:02}:00Z")).unwrap(),
        }
    }

    #[test]
    fn each_version_is_followed_by_what_came_from_it_the_oldest_first() {
        let link = |it: &str| Some(RecipeVersionId::new(it));
        let rows = vec![
            (version("1", 0), None),
            (version("2", 1), link("1")),
            (version("other", 2), None),
            (version("3", 3), link("1")),
            (version("2b", 4), link("2")),
            (version("orphan", 5), link("gone")),
        ];
        let told = in_order(rows);
        let told: Vec<(&str, usize)> = told
            .iter()
            .map(|it| (it.version.version.as_str(), it.depth))
            .collect();
        let expected = [
            ("1", 0),
            ("2", 1),
            ("2b", 2),
            ("3", 1),
            ("other", 0),
            ("orphan", 0),
        ];
        assert_eq!(told, expected);
    }
}
