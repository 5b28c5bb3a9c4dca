//! The history of a recipe: its versions, why each was made, what was promised of it and what was found.

use std::sync::Arc;

use crate::domain::Batch;
use crate::domain::Beer;
use crate::domain::Day;
use crate::domain::KeptProposal;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Proposed;
use crate::domain::Recipe;
use crate::domain::RecipeVersion;
use crate::workflow::BlindError;
use crate::workflow::Home;
use crate::workflow::KitchenSpread;
use crate::workflow::Outcome;
use crate::workflow::PromiseKept;
use crate::workflow::SinceWritten;
use crate::workflow::TestResult;
use crate::workflow::WorkflowError;
use crate::workflow::learnt::KnownOfTasters;
use crate::workflow::local_day;
use crate::workflow::recipe_differences;
use crate::workflow::recipe_family::Member;

/// How many hopes a batch has met.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HopesMet {
    /// As good as meant.
    pub as_meant: u32,
    /// More, less or missing, beyond the noise.
    pub differ: u32,
    /// All that were judged or wait to be.
    pub of: u32,
}

/// One batch of a version.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryBatch {
    /// What is written on its caps.
    pub cap_mark: Name,
    /// When it was brewed, where that was logged.
    pub brewed: Option<Day>,
    /// When it was packaged, where that was logged.
    pub packaged: Option<Day>,
    /// How many sets of notes on it are locked.
    pub tasted: usize,
    /// The hopes it has met; none before anybody tasted it.
    pub hopes: Option<HopesMet>,
    /// What became of the promise; none where there was none, or either beer was not tasted yet.
    pub promise: Option<PromiseKept>,
}

/// What was promised of a version.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryPromise {
    /// What the proposal said.
    pub proposed: Proposed,
    /// The batch whose notes it follows from.
    pub from: Option<Name>,
    /// What became of the file after it was written.
    pub since_written: SinceWritten,
}

/// What is known of a version.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryTold {
    /// Why it was made, in the brewer's words.
    pub reason: Option<Name>,
    /// What changed from the version it came from; none of a beginning.
    pub changes: Option<Vec<String>>,
    /// What was promised, where it was written from a proposal.
    pub promised: Option<HistoryPromise>,
    /// Its batches, the oldest first.
    pub batches: Vec<HistoryBatch>,
    /// Closed blind tests between a batch of it and one of the version it came from.
    pub tests: Vec<TestResult>,
}

/// One version of a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryVersion {
    /// The name of the recipe then.
    pub name: Name,
    /// The version.
    pub version: Name,
    /// How many versions stand above it in the tree.
    pub depth: usize,
    /// Name and version of the one it came from.
    pub parent: Option<(Name, Name)>,
    /// When it was kept, which is when its first batch was added.
    pub made_at: Moment,
    /// The rest.
    pub told: HistoryTold,
}

impl HistoryVersion {
    /// The day on which it was kept, on the calendar of this machine.
    #[must_use]
    pub fn day(&self) -> Day {
        local_day(self.made_at)
    }
}

/// The history of a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct RecipeHistory {
    /// The name of its newest version.
    pub name: Name,
    /// Its versions: each is followed by what came from it, the oldest first.
    pub versions: Vec<HistoryVersion>,
    /// How far brews of one recipe lie apart.
    pub kitchen: KitchenSpread,
}

/// What is known of the tasters, and how far brews lie apart: read once for a whole history.
type Known = (KnownOfTasters, KitchenSpread);

impl Home {
    /// The history of a recipe with all versions that it came from and that came from it.
    ///
    /// # Errors
    /// Somebody is tasting a batch, whichever it is: a gap in one history and none in another would tell what is
    /// in the glass, and so would names of recipes. Otherwise no recipe has the name, or the store cannot be read.
    pub fn recipe_history(&mut self, name: &str) -> Result<RecipeHistory, WorkflowError> {
        self.ensure_history_open()?;
        let family = self.recipe_family(name)?;
        let known = (self.known_of_all()?, self.kitchen_spread()?);
        let mut versions = Vec::new();
        for member in &family {
            let parent = member.parent.as_ref();
            versions.push(HistoryVersion {
                name: member.version.name.clone(),
                version: member.version.version.clone(),
                depth: member.depth,
                parent: parent.map(|it| (it.name.clone(), it.version.clone())),
                made_at: member.version.made_at,
                told: self.version_told(member, &known)?,
            });
        }
        let newest = versions.iter().max_by_key(|it| it.made_at);
        let name = newest.map_or_else(|| Name::new("a name", name), |it| Ok(it.name.clone()))?;
        Ok(RecipeHistory {
            name,
            versions,
            kitchen: known.1,
        })
    }

    /// The history of the recipe of a batch.
    ///
    /// # Errors
    /// There is no such batch, somebody is tasting a batch, or the store cannot be read.
    pub fn batch_history(&mut self, mark: &str) -> Result<RecipeHistory, WorkflowError> {
        let batch = self.batch(mark)?;
        self.ensure_history_open()?;
        let version = self.store.recipe_version(&batch.version)?;
        let version = version.ok_or_else(|| WorkflowError::NoRecipe {
            mark: batch.cap_mark.to_string(),
        })?;
        self.recipe_history(version.name.as_str())
    }

    /// Lets pass only if nobody is tasting a batch, whichever it is.
    ///
    /// # Errors
    /// [`WorkflowError::HistoryWaits`], with the names of those who are.
    pub(crate) fn ensure_history_open(&self) -> Result<(), WorkflowError> {
        self.ensure_no_batch_is_tasted().map_err(|it| match it {
            WorkflowError::PredictionsWait { tasters, panel } => {
                WorkflowError::HistoryWaits { tasters, panel }
            }
            other => other,
        })
    }

    fn version_told(&self, member: &Member, known: &Known) -> Result<HistoryTold, WorkflowError> {
        let version = &member.version;
        let proposal = self.proposal_of(version)?;
        let own: Vec<Batch> = self.batches_of(version)?;
        let mut batches = Vec::new();
        for batch in &own {
            batches.push(self.history_batch(batch, proposal.as_ref(), known)?);
        }
        let tests = match &member.parent {
            Some(parent) => {
                let before = self.batches_of(parent)?;
                self.tests_between(&own, &before)?
            }
            None => Vec::new(),
        };
        let promised = match proposal {
            None => None,
            Some((proposal, since_written)) => Some(HistoryPromise {
                from: self.store.batch(&proposal.batch)?.map(|it| it.cap_mark),
                proposed: proposal.proposed,
                since_written,
            }),
        };
        let parent = member.parent.as_ref();
        Ok(HistoryTold {
            reason: version.reason.clone(),
            changes: parent.map(|it| self.changes(it, version)),
            promised,
            batches,
            tests,
        })
    }

    fn batches_of(&self, version: &RecipeVersion) -> Result<Vec<Batch>, WorkflowError> {
        Ok(self.store.batches_of_version(&version.id)?)
    }

    /// What changed, or that a document of another time cannot be read any more.
    fn changes(&self, old: &RecipeVersion, new: &RecipeVersion) -> Vec<String> {
        match (self.kept_recipe(old), self.kept_recipe(new)) {
            (Ok(old), Ok(new)) => recipe_differences(&old, &new),
            (Err(_), _) => vec![unreadable(old)],
            (Ok(_), Err(_)) => vec![unreadable(new)],
        }
    }

    fn kept_recipe(&self, version: &RecipeVersion) -> Result<Arc<Recipe>, WorkflowError> {
        if let Some(recipe) = self.recipes.borrow().get(&version.id) {
            return Ok(Arc::clone(recipe));
        }
        let name = format!("{} {}", version.name, version.version);
        let recipe = Arc::new(self.parse_recipe(&name, &version.document)?);
        let mut recipes = self.recipes.borrow_mut();
        recipes.insert(version.id.clone(), Arc::clone(&recipe));
        Ok(recipe)
    }

    fn history_batch(
        &self,
        batch: &Batch,
        promised: Option<&(KeptProposal, SinceWritten)>,
        (tasters, kitchen): &Known,
    ) -> Result<HistoryBatch, WorkflowError> {
        let log = self.log_of(&batch.id)?;
        let beer = self.store.beer_of_batch(&batch.id)?;
        let notes = beer.map_or(Ok(Vec::new()), |it| self.store.notes_of_beer(&it.id))?;
        let promise = match promised {
            Some(it) => {
                if_tasted(self.promise_in(batch, it, (&tasters.noise, *kitchen)))?.flatten()
            }
            None => None,
        };
        let held = if_tasted(self.hopes_held(batch.cap_mark.as_str(), tasters))?;
        let outcomes = held.map(|it| {
            let all = it.iter().map(|it| it.outcome);
            all.collect::<Vec<Outcome>>()
        });
        Ok(HistoryBatch {
            cap_mark: batch.cap_mark.clone(),
            brewed: log.day("brewed"),
            packaged: log.day("packaged"),
            tasted: notes.iter().filter(|it| it.locked_at.is_some()).count(),
            hopes: outcomes.map(|it| hopes_met(&it)),
            promise,
        })
    }

    /// The closed tests in which a batch of one list stood beside one of the other.
    fn tests_between(
        &self,
        own: &[Batch],
        before: &[Batch],
    ) -> Result<Vec<TestResult>, WorkflowError> {
        let [own, before] = [self.beers_brewed(own)?, self.beers_brewed(before)?];
        let mut results = Vec::new();
        for test in self.store.tests()? {
            let is_in =
                |beers: &[Beer], side: usize| beers.iter().any(|it| it.id == test.beers[side]);
            let is_between =
                (is_in(&own, 0) && is_in(&before, 1)) || (is_in(&own, 1) && is_in(&before, 0));
            if !is_between || test.closed_at.is_none() {
                continue;
            }
            match self.test_result(test.number) {
                Ok(result) => results.push(result),
                Err(WorkflowError::Blind(BlindError::NoAnswers { .. })) => {}
                Err(other) => return Err(other),
            }
        }
        Ok(results)
    }

    fn beers_brewed(&self, batches: &[Batch]) -> Result<Vec<Beer>, WorkflowError> {
        let mut beers = Vec::new();
        for batch in batches {
            beers.extend(self.store.beer_of_batch(&batch.id)?);
        }
        Ok(beers)
    }
}

/// Nothing where a beer was not tasted yet, or its stored document cannot be read any more.
fn if_tasted<T>(found: Result<T, WorkflowError>) -> Result<Option<T>, WorkflowError> {
    match found {
        Ok(found) => Ok(Some(found)),
        Err(WorkflowError::NothingTasted { .. } | WorkflowError::StoredDocument { .. }) => Ok(None),
        Err(other) => Err(other),
    }
}

fn unreadable(version: &RecipeVersion) -> String {
    format!(
        "the stored document of version {} cannot be read any more",
        version.version
    )
}

fn hopes_met(outcomes: &[Outcome]) -> HopesMet {
    let count = |is_it: fn(&Outcome) -> bool| {
        let found = outcomes.iter().filter(|it| is_it(it)).count();
        u32::try_from(found).unwrap_or(u32::MAX)
    };
    HopesMet {
        as_meant: count(|it| *it == Outcome::AsGoodAs),
        differ: count(|it| it.differs()),
        of: count(|it| *it != Outcome::HardlyMatters),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::NotesSource;
    use crate::domain::ProposalId;
    use crate::formats::EXAMPLE;
    use crate::workflow::Cause;
    use crate::workflow::ReadRecipe;
    use crate::workflow::SpreadBasis;
    use crate::workflow::trial_promise::MARKS;
    use crate::workflow::trial_promise::promised_home;
    use crate::workflow::trial_promise::told_history;

    fn brewed(home: &mut Home, document: &str, mark: &str) {
        let read = ReadRecipe {
            document: document.to_owned(),
            recipe: home.parse_recipe("a file", document).unwrap(),
        };
        home.add_batch_of(&read, Some(mark)).unwrap();
    }

    #[test]
    fn a_version_tells_why_it_was_made_what_changed_what_was_promised_and_what_came_of_it() {
        let it = told_history();
        let told: Vec<&HistoryTold> = it.versions.iter().map(|it| &it.told).collect();
        // By hand from the two documents, and from who said what.
        assert_eq!(it.versions.len(), 2);
        assert_eq!((it.versions[0].depth, it.versions[1].depth), (0, 1));
        assert_eq!(told[0].changes, None);
        let changes = [
            "40 g less Chocolate malt (60 to 20 g)",
            "8 g more Saaz (60 min boil): 12 to 20 g",
        ];
        assert_eq!(
            told[1].changes.as_deref(),
            Some(&changes.map(str::to_owned)[..])
        );
        assert_eq!(
            told[1].reason.as_ref().map(Name::as_str),
            Some("more bitter")
        );
        let promised = told[1].promised.as_ref().unwrap();
        assert_eq!(promised.since_written, SinceWritten::Unaltered);
        assert_eq!(promised.from.as_ref().map(Name::as_str), Some(MARKS[0]));
        let marks: Vec<&str> = told[0]
            .batches
            .iter()
            .map(|it| it.cap_mark.as_str())
            .collect();
        assert_eq!(marks, ["T1", "T9"]);
        assert_eq!(told[1].batches[0].tasted, 6);
        let kept = told[1].batches[0].promise.as_ref().unwrap();
        assert_eq!(kept.cause, Cause::TheChange);
        let count = told[1].tests[0].analysis.count;
        assert_eq!((count.hits(), count.tries()), (5, 6));
        assert_eq!(it.kitchen.basis, SpreadBasis::Measured { pairs: 1 });
    }

    #[test]
    fn hopes_are_counted_by_what_became_of_them() {
        use crate::workflow::Outcome::AsGoodAs;
        use crate::workflow::Outcome::CannotTellYet;
        use crate::workflow::Outcome::HardlyMatters;
        use crate::workflow::Outcome::Less;
        use crate::workflow::Outcome::NotFound;
        let met = hopes_met(&[
            AsGoodAs,
            Less,
            NotFound,
            CannotTellYet,
            HardlyMatters,
            AsGoodAs,
        ]);
        let expected = HopesMet {
            as_meant: 2,
            differ: 2,
            of: 5,
        };
        assert_eq!(met, expected);
    }

    #[test]
    fn a_recipe_that_was_renamed_is_found_by_either_name_through_its_proposal() {
        let mut home = promised_home([3.0, 6.0, 7.0, 8.0]);
        let document = EXAMPLE
            .replace("Harbour dark", "Quay dark")
            .replace("version = \"2\"", "version = \"1\"")
            .replace("parent = \"1\"", "# no parent of this name");
        let second = home.batch(MARKS[1]).unwrap();
        let proposal = KeptProposal {
            id: ProposalId::new("renamed"),
            batch: second.id,
            parent: second.version,
            name: Name::new("a name", "Quay dark").unwrap(),
            version: Name::new("a version", "1").unwrap(),
            ..home.kept_proposals().unwrap().remove(0)
        };
        home.keep_proposal(&proposal).unwrap();
        brewed(&mut home, &document, "Q1");
        for name in ["quay DARK", "Harbour dark"] {
            let it = home.recipe_history(name).unwrap();
            let depths: Vec<usize> = it.versions.iter().map(|it| it.depth).collect();
            assert_eq!(depths, [0, 1, 2], "{name}");
            assert_eq!(it.name.as_str(), "Quay dark");
            let promised = it.versions[2].told.promised.as_ref();
            assert_eq!(promised.unwrap().since_written, SinceWritten::Altered);
        }
        assert_eq!(home.batch_history("T1").unwrap().versions.len(), 3);
    }

    #[test]
    fn a_name_that_is_misspelt_is_told_what_it_is_like_and_an_empty_home_what_to_do() {
        let mut home = Home::trial_with_a_batch();
        let refused = home.recipe_history("Harbor dark").unwrap_err().to_string();
        assert!(
            refused.contains("“Harbor dark”") && refused.contains("Harbour dark"),
            "{refused}"
        );
        let empty = Home::trial()
            .recipe_history("Stout")
            .unwrap_err()
            .to_string();
        assert!(empty.contains("thirdglass batch add"), "{empty}");
    }

    #[test]
    fn while_any_batch_is_in_a_glass_no_history_is_told_and_no_name_of_a_recipe() {
        let mut home = promised_home([3.0, 6.0, 7.0, 8.0]);
        brewed(&mut home, &EXAMPLE.replace("Harbour dark", "Other"), "O1");
        let ben = home.taster_or_new("Ben").unwrap();
        // Of another recipe altogether: what is told elsewhere would tell that it is this one.
        let mut tasting = home.start_tasting(&ben, "O1", NotesSource::App).unwrap();
        for name in ["Harbour dark", "Other", "Harbor"] {
            let waits = home.recipe_history(name).unwrap_err().to_string();
            assert!(waits.contains("until Ben locks"), "{waits}");
            assert!(!waits.contains("O1") && !waits.contains("dark"), "{waits}");
        }
        let waits = home.batch_history("T1");
        assert!(matches!(waits, Err(WorkflowError::HistoryWaits { .. })));
        home.lock(&mut tasting).unwrap();
        assert_eq!(
            home.recipe_history("Harbour dark").unwrap().versions.len(),
            2
        );
    }
}
