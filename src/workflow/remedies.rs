//! Smells that nobody planned and that come of how a beer was made or kept: what to look at first, before any recipe is changed.

use crate::domain::Cause;
use crate::domain::CauseWeight;
use crate::domain::Day;
use crate::domain::Descriptor;
use crate::domain::DescriptorId;
use crate::domain::Hint;
use crate::domain::HintOdds;
use crate::domain::Origin;
use crate::domain::Recipe;
use crate::domain::Subject;
use crate::workflow::BatchLog;
use crate::workflow::Comparison;
use crate::workflow::Found;
use crate::workflow::Home;
use crate::workflow::compared_words::planned_words;
use crate::workflow::hints::hints;
use crate::workflow::noted::named;

/// How many causes are told of one word.
const CAUSES: usize = 3;

/// One thing that may be the cause.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Suspect {
    /// What it is, in a sentence.
    pub says: String,
    /// How often it leads to this, in a word.
    pub odds: &'static str,
    /// What to look at to tell causes apart, where something is known.
    pub look: Option<String>,
    /// What to do the next time, where something is known.
    pub remedy: Option<String>,
    /// True where the log of the batch points at it.
    pub is_logged: bool,
}

/// A smell that comes of process, age or contamination.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remedy {
    /// The word.
    pub word: String,
    /// Who named it.
    pub found_by: Vec<String>,
    /// In how many glasses it was named.
    pub named_in: usize,
    /// Of how many.
    pub glasses: usize,
    /// On how many days it was named.
    pub days: usize,
    /// What may be the cause, the likeliest in front.
    pub suspects: Vec<Suspect>,
}

impl Remedy {
    /// True as long as one bottle alone may be to blame.
    #[must_use]
    pub const fn wants_second_bottle(&self) -> bool {
        self.days < 2
    }
}

impl Home {
    /// What to look at first: every word of the notes that count which nobody planned and which comes of how the
    /// beer was made or kept, those named most often in front.
    pub(super) fn remedies(
        &self,
        it: &Comparison,
        recipe: &Recipe,
        log: &BatchLog,
        today: Day,
    ) -> Vec<Remedy> {
        let planned = planned_words(&it.intent.intent, &recipe.promised);
        let counting = it.counting_notes();
        let mut words: Vec<&DescriptorId> = Vec::new();
        for subject in counting.iter().flat_map(|it| named(&it.notes)) {
            if let Subject::Descriptor(id) = subject
                && !planned.contains(id)
                && !words.contains(&id)
            {
                words.push(id);
            }
        }
        let holding = hints(self.hints(), recipe, log, today);
        let descriptors = words
            .into_iter()
            .filter_map(|it| self.wheel().descriptor(it));
        let faults = descriptors.filter(|it| is_of_process(it));
        let mut all: Vec<Remedy> = faults.map(|it| remedy(it, counting, &holding)).collect();
        all.sort_by_key(|it| std::cmp::Reverse((it.days, it.named_in)));
        all
    }
}

/// True for a word whose usual cause is how the beer was made or kept, and that is welcome nowhere.
fn is_of_process(it: &Descriptor) -> bool {
    let usual = it.causes.iter().map(|it| it.weight).max();
    let mut heaviest = it.causes.iter().filter(|it| Some(it.weight) == usual);
    let made = |it: &Cause| {
        matches!(
            it.origin,
            Origin::Process | Origin::Age | Origin::Contamination | Origin::Yeast
        )
    };
    it.standing.welcome.is_empty() && usual.is_some() && heaviest.all(made)
}

fn remedy(it: &Descriptor, counting: &[Found], holding: &[&Hint]) -> Remedy {
    let names = |found: &&Found| {
        let mut all = named(&found.notes).into_iter();
        all.any(|subject| matches!(subject, Subject::Descriptor(id) if *id == it.id))
    };
    let by: Vec<&Found> = counting.iter().filter(names).collect();
    let mut found_by: Vec<String> = Vec::new();
    let mut days: Vec<Day> = Vec::new();
    for found in &by {
        let name = found.taster.to_string();
        if !found_by.contains(&name) {
            found_by.push(name);
        }
        if !days.contains(&found.tasted_on) {
            days.push(found.tasted_on);
        }
    }
    Remedy {
        word: it.word.clone(),
        found_by,
        named_in: by.len(),
        glasses: counting.len(),
        days: days.len(),
        suspects: suspects(it, holding),
    }
}

/// What the log points at, the most frequent in front, and after it what the word usually comes of.
fn suspects(it: &Descriptor, holding: &[&Hint]) -> Vec<Suspect> {
    let mut logged: Vec<&&Hint> = holding
        .iter()
        .filter(|hint| hint.words.contains(&it.id))
        .collect();
    logged.sort_by_key(|hint| std::cmp::Reverse(rank(hint.odds)));
    let logged = logged.into_iter().map(|hint| Suspect {
        says: hint.says.clone(),
        odds: hint.odds.word(),
        look: Some(hint.look.clone()),
        remedy: Some(hint.remedy.clone()),
        is_logged: true,
    });
    let mut causes: Vec<&Cause> = it.causes.iter().collect();
    causes.sort_by_key(|it| std::cmp::Reverse(it.weight));
    let causes = causes.into_iter().map(|it| Suspect {
        says: match &it.when {
            Some(when) => format!("{}: {} ({when})", it.origin.word(), it.what),
            None => format!("{}: {}", it.origin.word(), it.what),
        },
        odds: weight_word(it.weight),
        look: None,
        remedy: None,
        is_logged: false,
    });
    logged.chain(causes).take(CAUSES).collect()
}

const fn rank(odds: HintOdds) -> u8 {
    match odds {
        HintOdds::Seldom => 0,
        HintOdds::Sometimes => 1,
        HintOdds::Often => 2,
    }
}

const fn weight_word(weight: CauseWeight) -> &'static str {
    match weight {
        CauseWeight::Rare => "rarely",
        CauseWeight::Frequent => "often",
        CauseWeight::Usual => "usually",
    }
}
