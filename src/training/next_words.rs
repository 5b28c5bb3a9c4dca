//! Which words are practised next, and why: those where an answer is worth most.

use std::collections::VecDeque;
use std::num::NonZeroUsize;

use crate::domain::Days;
use crate::domain::DescriptorId;
use crate::training::Histories;
use crate::training::Memories;
use crate::training::PracticeTime;

/// A rare fault that came to mind once is asked again after so many days at the latest (judgement: no
/// beer at hand repeats it, and who misses it pours it).
pub const RARE_FAULT_DAYS: f64 = 45.0;

/// A word asked less than so many days ago is only asked where nothing else is left.
const REST: f64 = 0.5;

/// One word in so many is asked in turn (measured, with `BELIEF` at 0.5: with none, novices of two laws
/// lose 1 to 2 points against rotation; with this, up to 1.1).
const IN_TURN: usize = 3;

/// A word is known somewhat where it comes to mind with this chance.
const KNOWN: f64 = 0.5;

/// How often one meets what a word names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rarity {
    /// Often enough to stay in mind with practice as it comes.
    Everyday,
    /// A fault that beers seldom have.
    RareFault,
}

/// A word that may be practised.
#[derive(Debug, Clone, PartialEq)]
pub struct PracticeWord {
    /// Which.
    pub id: DescriptorId,
    /// How much it matters: 1 for all alike, more for words that tasted batches needed.
    pub weight: f64,
    /// How often one meets it.
    pub rarity: Rarity,
    /// What it is taken for.
    pub look_alikes: Vec<DescriptorId>,
}

/// Why a word is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhyAsked {
    /// It was never asked.
    New,
    /// Tasted batches needed it.
    Needed,
    /// It was asked, and would more likely not come to mind now.
    NotYetFirm,
    /// It would come to mind now, and is going to fade.
    Fading,
    /// A rare fault that was not asked for [`RARE_FAULT_DAYS`] days.
    RareFault,
    /// It looks like the word before it, and both are known somewhat: now to tell them apart.
    BesideLookAlike,
}

/// A word to ask, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NextWord {
    /// Which.
    pub id: DescriptorId,
    /// Why.
    pub why: WhyAsked,
}

/// A word with what is thought of it now.
struct Candidate<'a> {
    word: &'a PracticeWord,
    why: WhyAsked,
    new: bool,
    known: bool,
    value: f64,
    times: usize,
    tie: u64,
}

/// So many words to ask a taster now, each once, the most worthwhile first and look-alikes side by side;
/// fewer only where there are not so many.
///
/// Worth is what an answer adds to recall a `horizon` from now, times the weight of the word; a third of
/// the words are those asked least often, whatever they are worth. As long as
/// there are others, two look-alikes are not asked in one sitting while neither is known somewhat and one
/// is new. Once both are known somewhat, they come together, where that costs little.
/// The same arguments give the same words; words worth the same follow no alphabet.
#[must_use]
pub fn next_words(
    words: &[PracticeWord],
    histories: &Histories,
    now: PracticeTime,
    count: NonZeroUsize,
    horizon: Days,
) -> Vec<NextWord> {
    let memories = Memories::learn(histories);
    let mut unasked = None;
    let mut all: Vec<Candidate> = words
        .iter()
        .map(|word| {
            let gain = || memories.gain(&word.id, now, horizon, histories.asked_last());
            let gain = match histories.latest(&word.id) {
                // All words that were never asked are alike: worked out once.
                None => *unasked.get_or_insert_with(gain),
                Some(_) => gain(),
            };
            candidate(word, &memories, histories, now, gain)
        })
        .collect();
    all.sort_by(|one, other| {
        let by_value = other.value.total_cmp(&one.value);
        by_value.then(one.tie.cmp(&other.tie))
    });
    let chosen = side_by_side(apart(in_turn(all, count.get()), count.get()));
    let named = chosen.into_iter().map(|it| NextWord {
        id: it.word.id.clone(),
        why: it.why,
    });
    named.collect()
}

/// What is thought of a word now.
fn candidate<'a>(
    word: &'a PracticeWord,
    memories: &Memories,
    histories: &Histories,
    now: PracticeTime,
    gain: f64,
) -> Candidate<'a> {
    let known = memories.recall(&word.id, now).get() >= KNOWN;
    let latest = histories.latest(&word.id);
    let rested = latest.map(|it| now.days() - it.at.days());
    let forgotten_soon = word.rarity == Rarity::RareFault
        && histories.ever_right(&word.id)
        && rested.is_some_and(|it| it >= RARE_FAULT_DAYS);
    let (why, value) = match rested {
        _ if forgotten_soon => (WhyAsked::RareFault, f64::INFINITY),
        Some(days) if days < REST => (WhyAsked::Fading, f64::NEG_INFINITY),
        _ if word.weight > 1.0 => (WhyAsked::Needed, gain * word.weight),
        None => (WhyAsked::New, gain * word.weight),
        Some(_) if known => (WhyAsked::Fading, gain * word.weight),
        Some(_) => (WhyAsked::NotYetFirm, gain * word.weight),
    };
    Candidate {
        word,
        why,
        new: latest.is_none(),
        known: known && latest.is_some(),
        value,
        times: histories.times(&word.id),
        tie: tie(&word.id, now),
    }
}

/// The same words, the last third of a sitting in turn: those asked least often.
///
/// It is the guard for learners who forget by no law supposed here, so that no word is given up.
fn in_turn(mut all: Vec<Candidate>, count: usize) -> Vec<Candidate> {
    let due = all.iter().filter(|it| it.why == WhyAsked::RareFault);
    let by_worth = (count - count / IN_TURN).max(due.count()).min(all.len());
    let mut rest = all.split_off(by_worth);
    // A stable order: words asked equally often stay in that of their worth.
    rest.sort_by_key(|it| (it.value == f64::NEG_INFINITY, it.times));
    all.extend(rest);
    all
}

/// The first so many, without look-alikes that would be confused as long as there are others.
fn apart(all: Vec<Candidate>, count: usize) -> Vec<Candidate> {
    let mut chosen: Vec<Candidate> = Vec::new();
    let mut waiting = Vec::new();
    for one in all {
        if chosen.len() < count && !chosen.iter().any(|it| confusing(it, &one)) {
            chosen.push(one);
        } else {
            waiting.push(one);
        }
    }
    if chosen.len() == count {
        bring_look_alike(&mut chosen, waiting);
    } else {
        let missing = count - chosen.len();
        chosen.extend(waiting.into_iter().take(missing));
    }
    chosen
}

/// Puts a look-alike of a chosen word in the place of the last, where both are known and it is worth at
/// least half as much.
fn bring_look_alike<'a>(chosen: &mut Vec<Candidate<'a>>, waiting: Vec<Candidate<'a>>) {
    let Some((last, others)) = chosen.split_last() else {
        return;
    };
    let least = last.value / 2.0;
    let worth = |it: &Candidate| it.known && it.value.is_finite() && it.value >= least;
    let paired = |it: &Candidate| others.iter().any(|other| comparable(other, it));
    if let Some(one) = waiting.into_iter().find(|it| worth(it) && paired(it)) {
        chosen.pop();
        chosen.push(one);
    }
}

/// Whether two look-alikes would be confused in one sitting.
fn confusing(one: &Candidate, other: &Candidate) -> bool {
    look_alike(one.word, other.word) && !one.known && !other.known && (one.new || other.new)
}

/// Whether two look-alikes are known enough to tell them apart.
fn comparable(one: &Candidate, other: &Candidate) -> bool {
    look_alike(one.word, other.word) && one.known && other.known
}

/// The same words, each followed by a look-alike among them where both are known.
fn side_by_side(chosen: Vec<Candidate>) -> Vec<Candidate> {
    let mut open: VecDeque<Candidate> = chosen.into();
    let mut ordered: Vec<Candidate> = Vec::new();
    while let Some(one) = open.pop_front() {
        let beside = open.iter().position(|it| comparable(it, &one));
        let other = beside.and_then(|at| open.remove(at));
        ordered.push(one);
        ordered.extend(other.map(|it| Candidate {
            why: WhyAsked::BesideLookAlike,
            ..it
        }));
    }
    ordered
}

/// Whether either is taken for the other.
fn look_alike(one: &PracticeWord, other: &PracticeWord) -> bool {
    one.look_alikes.contains(&other.id) || other.look_alikes.contains(&one.id)
}

/// A number that orders words worth the same, differently at each moment.
///
/// FNV-1a of 64 bits (Fowler, Noll & Vo 1991; constants as in RFC 9923).
fn tie(id: &DescriptorId, now: PracticeTime) -> u64 {
    let time = now.days().to_bits().to_le_bytes();
    let bytes = time.iter().chain(id.as_str().as_bytes());
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    for byte in bytes {
        hash = (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
    }
    // The last letters reach the high bits only when they are folded once more.
    (hash ^ (hash >> 32)).wrapping_mul(0x0000_0100_0000_01b3)
}

#[cfg(test)]
mod tests {
    use std::num::NonZeroU8;

    use super::*;
    use crate::training::Asked;
    use crate::training::Outcome;
    use crate::training::WordAnswer;

    fn id(name: &str) -> DescriptorId {
        DescriptorId::new(name).unwrap()
    }

    fn word(name: &str) -> PracticeWord {
        PracticeWord {
            id: id(name),
            weight: 1.0,
            rarity: Rarity::Everyday,
            look_alikes: Vec::new(),
        }
    }

    fn like(name: &str, other: &str) -> PracticeWord {
        PracticeWord {
            look_alikes: vec![id(other)],
            ..word(name)
        }
    }

    fn day(days: f64) -> PracticeTime {
        PracticeTime::new(days).unwrap()
    }

    /// Right answers to a word on some days, with the whole wheel open.
    fn right(name: &str, days: &[f64]) -> Vec<(DescriptorId, WordAnswer)> {
        answers(name, days, Asked::Freely, Outcome::Right)
    }

    fn answers(
        name: &str,
        days: &[f64],
        asked: Asked,
        outcome: Outcome,
    ) -> Vec<(DescriptorId, WordAnswer)> {
        let answer = |&it: &f64| WordAnswer {
            at: day(it),
            asked,
            outcome,
        };
        days.iter().map(|it| (id(name), answer(it))).collect()
    }

    fn next(
        words: &[PracticeWord],
        given: Vec<(DescriptorId, WordAnswer)>,
        count: usize,
    ) -> Vec<NextWord> {
        let histories = given.into_iter().collect();
        let horizon = Days::new(28.0).unwrap();
        let count = NonZeroUsize::new(count).unwrap();
        next_words(words, &histories, day(100.0), count, horizon)
    }

    fn names(next: &[NextWord]) -> Vec<&str> {
        next.iter().map(|it| it.id.as_str()).collect()
    }

    #[test]
    fn new_words_follow_no_alphabet_and_are_the_same_when_asked_again() {
        let all: Vec<PracticeWord> = ('a'..='z').map(|it| word(&it.to_string())).collect();
        let first = next(&all, Vec::new(), 26);
        let mut sorted = names(&first);
        sorted.sort_unstable();
        assert_eq!(sorted.len(), 26);
        assert_ne!(names(&first), sorted);
        assert!(first.iter().all(|it| it.why == WhyAsked::New));
        assert_eq!(first, next(&all, Vec::new(), 26));
        let backwards: Vec<PracticeWord> = all.into_iter().rev().collect();
        assert_eq!(first, next(&backwards, Vec::new(), 26));
    }

    #[test]
    fn words_that_batches_needed_come_first() {
        let needed = PracticeWord {
            weight: 3.0,
            ..word("m")
        };
        let mut all: Vec<PracticeWord> = ('a'..='l').map(|it| word(&it.to_string())).collect();
        all.push(needed);
        let first = next(&all, Vec::new(), 1);
        assert_eq!(names(&first), ["m"]);
        assert_eq!(first[0].why, WhyAsked::Needed);
    }

    #[test]
    fn a_rare_fault_once_learnt_comes_back_at_the_latest_after_its_days() {
        let rare = PracticeWord {
            rarity: Rarity::RareFault,
            ..word("rare")
        };
        let all = [word("a"), word("b"), rare];
        // Known so well that an answer to it is worth nothing.
        let often = |last: f64| right("rare", &[last - 40.0, last - 30.0, last - 20.0, last]);
        let long_ago = next(&all, often(100.0 - RARE_FAULT_DAYS), 1);
        assert_eq!(names(&long_ago), ["rare"]);
        assert_eq!(long_ago[0].why, WhyAsked::RareFault);
        let lately = next(&all, often(101.0 - RARE_FAULT_DAYS), 1);
        assert_ne!(names(&lately), ["rare"]);
        let everyday = [word("a"), word("b"), word("rare")];
        assert_ne!(
            names(&next(&everyday, often(100.0 - RARE_FAULT_DAYS), 1)),
            ["rare"]
        );
    }

    #[test]
    fn new_look_alikes_are_asked_in_different_sittings_and_known_ones_side_by_side() {
        let all = [like("a", "b"), word("b"), word("c"), word("d")];
        let apart = next(&all, Vec::new(), 3);
        assert!(
            !(names(&apart).contains(&"a") && names(&apart).contains(&"b")),
            "{apart:?}"
        );
        // Nothing else is left: all four are asked for.
        assert_eq!(next(&all, Vec::new(), 4).len(), 4);
        let mut given = right("a", &[80.0, 90.0]);
        given.extend(right("b", &[80.0, 90.0]));
        let together = next(&all, given, 4);
        let a = names(&together).iter().position(|it| *it == "a").unwrap();
        let b = names(&together).iter().position(|it| *it == "b").unwrap();
        assert_eq!(a.abs_diff(b), 1, "{together:?}");
        assert_eq!(together[a.max(b)].why, WhyAsked::BesideLookAlike);
    }

    #[test]
    fn a_word_of_this_morning_waits_until_nothing_else_is_left() {
        let all = [word("a"), word("b")];
        let given = answers("a", &[99.9], Asked::Freely, Outcome::Wrong);
        assert_eq!(names(&next(&all, given.clone(), 1)), ["b"]);
        assert_eq!(names(&next(&all, given, 2)), ["b", "a"]);
    }

    #[test]
    fn a_right_answer_among_two_says_less_than_one_with_the_wheel_open() {
        let two = Asked::Among(NonZeroU8::new(2).unwrap());
        let recall = |asked| {
            let given = answers("a", &[90.0], asked, Outcome::Right);
            let memories = Memories::learn(&given.into_iter().collect());
            memories.recall(&id("a"), day(100.0)).get()
        };
        assert!(recall(two) < recall(Asked::Freely) - 0.05);
    }

    #[test]
    fn a_word_asked_once_is_held_to_be_more_like_the_others_than_one_asked_often() {
        // Other words always right; one was wrong once, another wrong each time.
        let mut given = right("a", &[80.0, 85.0, 90.0]);
        given.extend(right("b", &[80.0, 85.0, 90.0]));
        given.extend(answers("once", &[90.0], Asked::Freely, Outcome::Wrong));
        given.extend(answers(
            "often",
            &[80.0, 85.0, 90.0],
            Asked::Freely,
            Outcome::Wrong,
        ));
        let memories = Memories::learn(&given.into_iter().collect());
        let recall = |name| memories.recall(&id(name), day(100.0)).get();
        assert!(recall("often") < recall("once"));
        assert!(recall("once") < recall("a"));
    }
}
