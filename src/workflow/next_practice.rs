//! Which words are practised next: what a taster remembers and what their beers needed, put to the rule.

use std::collections::HashSet;
use std::num::NonZeroU8;
use std::num::NonZeroUsize;

use crate::domain::Days;
use crate::domain::Descriptor;
use crate::domain::DescriptorId;
use crate::domain::Invalid;
use crate::domain::ItemForm;
use crate::domain::Moment;
use crate::domain::PracticeKind;
use crate::domain::Reference;
use crate::domain::Taster;
use crate::training::Asked;
use crate::training::Histories;
use crate::training::NextWord;
use crate::training::Outcome;
use crate::training::PracticeTime;
use crate::training::PracticeWord;
use crate::training::Rarity;
use crate::training::WhyAsked;
use crate::training::WordAnswer;
use crate::training::next_words;
use crate::workflow::Home;
use crate::workflow::PastItem;
use crate::workflow::WorkflowError;
use crate::workflow::practice_plan::FIVE_MINUTES;
use crate::workflow::word_items::OPTIONS;

/// For when words are to be remembered, in days (judgement: four weeks).
const HORIZON: f64 = 28.0;

/// What each beer that needed a word adds to its weight, and the most that it can weigh (judgement).
const NEED: f64 = 0.5;
const MOST_WEIGHT: f64 = 3.0;

const SECONDS_A_DAY: f64 = 86_400.0;

impl Home {
    /// So many words for the people at a table, those where an answer is worth most; each person's own
    /// come in turn.
    pub(super) fn words_to_practise(
        &mut self,
        tasters: &[Taster],
        kind: PracticeKind,
        count: usize,
    ) -> Result<Vec<DescriptorId>, WorkflowError> {
        let mut own = Vec::new();
        for taster in tasters {
            let held_back = self.held_back(tasters)?;
            let words = self.next_words_of(taster, kind, count, &held_back)?;
            own.push(words.into_iter());
        }
        let mut chosen: Vec<DescriptorId> = Vec::new();
        while chosen.len() < count && own.iter().any(|it| it.len() > 0) {
            for words in &mut own {
                let next = words.find(|it| !chosen.contains(&it.id));
                chosen.extend(next.map(|it| it.id));
            }
        }
        chosen.truncate(count);
        Ok(chosen)
    }

    /// Why the words of five minutes would be asked now, with how many for each reason; the most in front.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn practice_outlook(
        &mut self,
        taster: &Taster,
    ) -> Result<Vec<(WhyAsked, usize)>, WorkflowError> {
        let held_back = self.held_back(std::slice::from_ref(taster))?;
        let words = self.next_words_of(taster, PracticeKind::Words, FIVE_MINUTES, &held_back)?;
        let mut reasons: Vec<(WhyAsked, usize)> = Vec::new();
        for word in words {
            match reasons.iter_mut().find(|it| it.0 == word.why) {
                Some(reason) => reason.1 += 1,
                None => reasons.push((word.why, 1)),
            }
        }
        reasons.sort_by_key(|it| std::cmp::Reverse(it.1));
        Ok(reasons)
    }

    /// So many jars that a page of a taster names: the same all day, on a screen and on paper, until something is
    /// practised.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn jars_to_name(
        &mut self,
        taster: &Taster,
        count: usize,
    ) -> Result<Vec<DescriptorId>, WorkflowError> {
        let now = self.now();
        let past = self.practice_history(taster)?;
        let morning = Moment::parse(&format!("{}T00:00:00Z", now.day()))?;
        let answered = past.iter().map(|it| it.given_at);
        let steady = answered.fold(morning, Moment::max);
        let held_back = self.held_back(std::slice::from_ref(taster))?;
        let words = self.words_at(steady, taster, PracticeKind::Jars, count, &held_back)?;
        Ok(words.into_iter().map(|it| it.id).collect())
    }

    /// So many words for one taster now.
    fn next_words_of(
        &mut self,
        taster: &Taster,
        kind: PracticeKind,
        count: usize,
        held_back: &HashSet<DescriptorId>,
    ) -> Result<Vec<NextWord>, WorkflowError> {
        let now = self.now();
        self.words_at(now, taster, kind, count, held_back)
    }

    /// So many words for one taster at a moment; among words worth the same, the moment chooses.
    fn words_at(
        &mut self,
        now: Moment,
        taster: &Taster,
        kind: PracticeKind,
        count: usize,
        held_back: &HashSet<DescriptorId>,
    ) -> Result<Vec<NextWord>, WorkflowError> {
        let Some(count) = NonZeroUsize::new(count) else {
            return Ok(Vec::new());
        };
        let past = self.practice_history(taster)?;
        let histories = histories(&past, kind)?;
        let needed = self.needed_words(taster)?;
        let usable = self.wheel().descriptors().iter().filter(|it| {
            let has_jar = matches!(it.reference, Reference::Jar(_));
            (has_jar || kind == PracticeKind::Words) && !held_back.contains(&it.id)
        });
        let words: Vec<PracticeWord> = usable
            .map(|it| practice_word(it, needed.get(&it.id).copied().unwrap_or(0)))
            .collect();
        let now = practice_time(now)?;
        let horizon = Days::new(HORIZON)?;
        Ok(next_words(&words, &histories, now, count, horizon))
    }
}

fn practice_word(it: &Descriptor, needed: u32) -> PracticeWord {
    // A fault everywhere and welcome nowhere is met too seldom to stay in mind by itself.
    let is_fault = it.standing.welcome.is_empty() && !it.standing.fault.is_empty();
    PracticeWord {
        id: it.id.clone(),
        weight: (1.0 + NEED * f64::from(needed)).min(MOST_WEIGHT),
        rarity: if is_fault {
            Rarity::RareFault
        } else {
            Rarity::Everyday
        },
        look_alikes: it.look_alikes.iter().map(|it| it.id.clone()).collect(),
    }
}

/// The answers of a kind of practice, word by word. Words without a glass and jars are remembered apart:
/// who knows a definition does not yet know the smell.
fn histories(past: &[PastItem], kind: PracticeKind) -> Result<Histories, WorkflowError> {
    let mut answers = Vec::new();
    for it in past {
        if let (Some(asked), Some(right)) = (asked(it.item.form, kind), it.right.whole) {
            let answer = WordAnswer {
                at: practice_time(it.given_at)?,
                asked,
                outcome: if right {
                    Outcome::Right
                } else {
                    Outcome::Wrong
                },
            };
            answers.push((it.item.descriptor.clone(), answer));
        }
    }
    Ok(answers.into_iter().collect())
}

/// Among how many words a form asks; none for a form that is no question of this kind of practice.
fn asked(form: ItemForm, kind: PracticeKind) -> Option<Asked> {
    let among = |count: u8| NonZeroU8::new(count).map(Asked::Among);
    match (form, kind) {
        (ItemForm::Definition, PracticeKind::Words) => among(OPTIONS),
        (ItemForm::Pair, PracticeKind::Words) => among(2),
        (ItemForm::Jar, PracticeKind::Jars | PracticeKind::Presence) => Some(Asked::Freely),
        _ => None,
    }
}

/// Days since the epoch of Unix: not since somebody's first answer, because words worth the same are
/// ordered by the time, and those who begin would all be asked the same.
fn practice_time(at: Moment) -> Result<PracticeTime, Invalid> {
    let seconds = at.seconds_since(Moment::EPOCH);
    PracticeTime::new(seconds as f64 / SECONDS_A_DAY)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::NotesSource;
    use crate::formats::EXAMPLE;
    use crate::workflow::ReadRecipe;

    /// A home where a recipe with hopes is brewed as T1.
    fn brewed() -> Home {
        let mut home = Home::trial();
        let read = ReadRecipe {
            document: EXAMPLE.to_owned(),
            recipe: home.parse_recipe("trial", EXAMPLE).unwrap(),
        };
        home.add_batch_of(&read, Some("T1")).unwrap();
        home
    }

    #[test]
    fn a_page_names_the_same_jars_whenever_it_is_opened() {
        let mut home = Home::trial();
        let ana = home.add_taster("Ana").unwrap();
        let first = home.jars_to_name(&ana, 3).unwrap();
        let mut drawn = Vec::new();
        for _ in 0..20 {
            assert_eq!(home.jars_to_name(&ana, 3).unwrap(), first);
            drawn.push(
                home.jars_to_practise(std::slice::from_ref(&ana), 3)
                    .unwrap(),
            );
        }
        // For a practice the moment chooses, so that beginners are not all asked the same.
        drawn.dedup();
        assert!(drawn.len() > 1);
    }

    #[test]
    fn words_that_a_beer_needed_come_first_once_it_is_locked_and_never_before() {
        let mut home = brewed();
        let ana = home.add_taster("Ana").unwrap();
        let needs = |home: &mut Home| {
            let outlook = home.practice_outlook(&ana).unwrap();
            outlook
                .iter()
                .find(|it| it.0 == WhyAsked::Needed)
                .map(|it| it.1)
        };
        let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        assert_eq!(needs(&mut home), None);
        home.lock(&mut tasting).unwrap();
        // The example hopes for one word, and nothing was named.
        assert_eq!(needs(&mut home), Some(1));
        let first = home
            .words_to_practise(std::slice::from_ref(&ana), PracticeKind::Words, 1)
            .unwrap();
        assert_eq!(first[0].as_str(), "orange-peel");
        // Somebody tastes the same beer: practice must not tell them what is hoped for.
        let ben = home.add_taster("Ben").unwrap();
        let _open = home.start_tasting(&ben, "T1", NotesSource::App).unwrap();
        assert_eq!(needs(&mut home), None);
    }

    #[test]
    fn at_a_table_everybody_gets_words_of_their_own_need() {
        let mut home = Home::trial();
        let people = [
            home.add_taster("Ana").unwrap(),
            home.add_taster("Ben").unwrap(),
        ];
        let words = home
            .words_to_practise(&people, PracticeKind::Jars, 6)
            .unwrap();
        let mut once = words.clone();
        once.sort();
        once.dedup();
        assert_eq!((words.len(), once.len()), (6, 6));
    }
}
