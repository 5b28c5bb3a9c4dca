//! Invented learners taught by the practice rule and by plain rotation, and how much they keep.

use std::fmt;
use std::num::NonZeroU8;
use std::num::NonZeroUsize;

use crate::domain::Days;
use crate::domain::DescriptorId;
use crate::statistics::Dice;
use crate::training::Asked;
use crate::training::Histories;
use crate::training::Memories;
use crate::training::Outcome;
use crate::training::PracticeTime;
use crate::training::PracticeWord;
use crate::training::Rarity;
use crate::training::WordAnswer;
use crate::training::next_words;
use crate::training::trial_learners::LAWS;
use crate::training::trial_learners::Law;
use crate::training::trial_learners::Learner;
use crate::training::trial_learners::Start;

/// Answers of a sitting of five minutes.
const ANSWERS: usize = 12;

/// Shorter sittings of the rule, from which the answers it saves are read.
const SHORTER: [usize; 2] = [6, 9];

/// Days after the last sitting when recall is measured.
const PAUSE: f64 = 28.0;

/// What the rule is told to look ahead, in days.
const HORIZON: f64 = 28.0;

/// Days between two answers of a sitting: 25 seconds.
const BETWEEN: f64 = 25.0 / 86_400.0;

/// How the words of a sitting are chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Choosing {
    /// As the program does.
    AsShipped,
    /// The words asked least often.
    Rotation,
    /// A fault: always the words that are known best.
    BestKnown,
}

/// One kind of learner and of practice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plan {
    /// By which law they forget.
    pub law: Law,
    /// What they know beforehand.
    pub start: Start,
    /// Words to learn.
    pub words: usize,
    /// Weeks of three sittings.
    pub weeks: u16,
    /// How they are asked.
    pub asked: Asked,
}

/// What came of one plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// The plan.
    pub plan: Plan,
    /// Learners taught both ways.
    pub runs: u32,
    /// Mean recall after the pause under rotation, in %.
    pub rotation: f64,
    /// How much more of it the rule leaves, in points, …
    pub gain: f64,
    /// … and the standard error of that.
    pub error: f64,
    /// The share of answers that the rule does without for the same recall, in %; none where more than
    /// half are saved or none is.
    pub saved: Option<f64>,
}

/// Teaches learners of every plan, `runs` of each; the same seed gives the same table.
#[must_use]
pub fn table(runs: u32, seed: u64) -> Vec<Row> {
    plans()
        .into_iter()
        .map(|plan| row(plan, Choosing::AsShipped, &SHORTER, runs, seed))
        .collect()
}

/// Some plans only, without the shorter sittings: enough to see whether the rule teaches at all.
#[must_use]
pub fn short_table(choosing: Choosing, runs: u32, seed: u64) -> Vec<Row> {
    let short = |it: &Plan| it.start == Start::Experienced && it.weeks == 4 && it.words == 60;
    plans()
        .into_iter()
        .filter(|it| short(it) && it.asked != Asked::Freely)
        .map(|plan| row(plan, choosing, &[], runs, seed))
        .collect()
}

/// Every plan: all laws, two starts, two lengths; and longer lists, and the wheel open.
fn plans() -> Vec<Plan> {
    let among = NonZeroU8::new(6).map_or(Asked::Freely, Asked::Among);
    let mut plans = Vec::new();
    for law in LAWS {
        for (start, words, weeks, asked) in [
            (Start::Novice, 60, 4, among),
            (Start::Novice, 60, 8, among),
            (Start::Experienced, 60, 4, among),
            (Start::Experienced, 60, 8, among),
            (Start::Experienced, 60, 8, Asked::Freely),
            (Start::Experienced, 150, 8, among),
        ] {
            plans.push(Plan {
                law,
                start,
                words,
                weeks,
                asked,
            });
        }
    }
    plans
}

/// Teaches the learners of one plan both ways.
fn row(plan: Plan, choosing: Choosing, shorter: &[usize], runs: u32, seed: u64) -> Row {
    let recalls = |choosing, answers| -> Vec<f64> {
        (0..u64::from(runs))
            .map(|run| 100.0 * taught(plan, choosing, answers, seed * 1_000_003 + run))
            .collect()
    };
    let rotation = recalls(Choosing::Rotation, ANSWERS);
    let full = recalls(choosing, ANSWERS);
    let gains: Vec<f64> = full.iter().zip(&rotation).map(|it| it.0 - it.1).collect();
    let gain = mean(&gains);
    let squares = gains.iter().map(|it| (it - gain).powi(2));
    let error = (squares.sum::<f64>() / f64::from(runs.max(2) - 1) / f64::from(runs)).sqrt();
    let mut curve: Vec<(f64, f64)> = shorter
        .iter()
        .map(|&it| (it as f64, mean(&recalls(choosing, it))))
        .collect();
    curve.push((ANSWERS as f64, mean(&full)));
    let rotation = mean(&rotation);
    Row {
        plan,
        runs,
        rotation,
        gain,
        error,
        saved: answers_for(rotation, &curve).map(|it| 100.0 * (1.0 - it / ANSWERS as f64)),
    }
}

/// The answers that give a recall, on straight lines between those measured.
fn answers_for(recall: f64, curve: &[(f64, f64)]) -> Option<f64> {
    let crossing = curve
        .windows(2)
        .find(|it| it[0].1 <= recall && recall <= it[1].1)?;
    let ((few, low), (many, high)) = (crossing[0], crossing[1]);
    Some(few + (many - few) * (recall - low) / (high - low).max(f64::MIN_POSITIVE))
}

fn mean(numbers: &[f64]) -> f64 {
    numbers.iter().sum::<f64>() / numbers.len() as f64
}

/// Teaches one learner; their mean recall after the pause.
fn taught(plan: Plan, choosing: Choosing, answers: usize, seed: u64) -> f64 {
    let mut dice = Dice::from_seed(seed);
    let mut learner = Learner::draw(plan.law, plan.start, plan.words, &mut dice);
    let words = practice_words(plan.words);
    let mut given: Vec<(usize, WordAnswer)> = Vec::new();
    let mut last = 0.0;
    for week in 0..plan.weeks {
        for day in [0.0, 2.0, 4.0] {
            last = 7.0 * f64::from(week) + day;
            let asked = chosen(choosing, &words, &given, last, answers, &mut dice);
            for (place, word) in asked.into_iter().enumerate() {
                let day = last + BETWEEN * place as f64;
                let came = learner.meet(word, day, &mut dice);
                let right = came || guessed(plan.asked, &mut dice);
                given.push((word, answer(day, plan.asked, right)));
            }
        }
    }
    learner.mean_recall(last + PAUSE)
}

/// Whether a word that did not come to mind was guessed.
fn guessed(asked: Asked, dice: &mut Dice) -> bool {
    dice.share() < asked.guess()
}

fn answer(day: f64, asked: Asked, right: bool) -> WordAnswer {
    let outcome = if right {
        Outcome::Right
    } else {
        Outcome::Wrong
    };
    WordAnswer {
        at: moment(day),
        asked,
        outcome,
    }
}

fn moment(day: f64) -> PracticeTime {
    PracticeTime::new(day).expect("a practice of weeks does not last ten thousand years")
}

/// Words of which every third looks like the one after it.
fn practice_words(count: usize) -> Vec<PracticeWord> {
    let id = |it: usize| {
        DescriptorId::new(&format!("word-{it}")).expect("small letters, a hyphen and digits")
    };
    let word = |it: usize| PracticeWord {
        id: id(it),
        weight: 1.0,
        rarity: Rarity::Everyday,
        look_alikes: match it % 3 {
            0 => vec![id(it + 1)],
            _ => Vec::new(),
        },
    };
    (0..count).map(word).collect()
}

/// The words of a sitting.
fn chosen(
    choosing: Choosing,
    words: &[PracticeWord],
    given: &[(usize, WordAnswer)],
    day: f64,
    answers: usize,
    dice: &mut Dice,
) -> Vec<usize> {
    let answered = given.iter().map(|it| (words[it.0].id.clone(), it.1));
    let histories: Histories = answered.collect();
    let mut order: Vec<usize> = (0..words.len()).collect();
    dice.shuffle(&mut order);
    match choosing {
        Choosing::AsShipped => {
            let count = NonZeroUsize::new(answers).unwrap_or(NonZeroUsize::MIN);
            let horizon = Days::new(HORIZON).expect("four weeks are a number of days");
            let next = next_words(words, &histories, moment(day), count, horizon);
            let place = |id| words.iter().position(|it| it.id == id);
            return next.into_iter().filter_map(|it| place(it.id)).collect();
        }
        Choosing::Rotation => {
            order.sort_by_key(|word| given.iter().filter(|it| it.0 == *word).count());
        }
        Choosing::BestKnown => {
            let memories = Memories::learn(&histories);
            let known = |it: &usize| memories.recall(&words[*it].id, moment(day)).get();
            order.sort_by(|one, other| known(other).total_cmp(&known(one)));
        }
    }
    order.truncate(answers);
    order
}

impl fmt::Display for Row {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let asked = match self.plan.asked {
            Asked::Freely => "open".to_owned(),
            Asked::Among(words) => format!("of {words}"),
        };
        write!(
            f,
            "{:<18} {:<12} {:>5} {:>5} {asked:>5} {:>9.1} {:>+7.2} {:>6.2}",
            format!("{:?}", self.plan.law),
            format!("{:?}", self.plan.start),
            self.plan.words,
            self.plan.weeks,
            self.rotation,
            self.gain,
            self.error
        )?;
        match self.saved {
            Some(saved) => write!(f, " {saved:>7.0}"),
            None if self.gain > 0.0 => write!(f, "    > 50"),
            None => write!(f, "    none"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Learners of each row.
    const RUNS: u32 = 4;

    /// Rows in which rotation does better, by more than 5 standard errors of the mean of as many learners
    /// (t with 3 degrees of freedom: 8 in 1,000 for a row without any difference), or by 1 point where the
    /// learners happen to agree.
    fn worse(rows: &[Row]) -> Vec<String> {
        let bound = |it: &Row| (5.0 * it.error).max(1.0);
        let worse = rows.iter().filter(|it| it.gain < -bound(it));
        worse.map(Row::to_string).collect()
    }

    /// The mean gain of all rows, in its standard errors.
    fn gain_in_errors(rows: &[Row]) -> f64 {
        let variance: f64 = rows.iter().map(|it| it.error.powi(2)).sum();
        rows.iter().map(|it| it.gain).sum::<f64>() / variance.sqrt()
    }

    #[test]
    fn every_kind_of_learner_keeps_at_least_what_rotation_leaves_and_all_together_more() {
        let rows = short_table(Choosing::AsShipped, RUNS, 2);
        assert_eq!(rows.len(), LAWS.len());
        assert_eq!(worse(&rows), Vec::<String>::new());
        assert!(gain_in_errors(&rows) > 3.0, "{}", gain_in_errors(&rows));
    }

    #[test]
    fn asking_what_is_known_best_turns_the_table_red() {
        let rows = short_table(Choosing::BestKnown, RUNS, 2);
        assert_eq!(worse(&rows).len(), rows.len());
        assert!(gain_in_errors(&rows) < -3.0, "{}", gain_in_errors(&rows));
    }

    #[test]
    fn answers_saved_are_read_from_straight_lines() {
        // Half-way between 6 answers with 40 % and 9 with 50 % stands 45 %.
        let curve = [(6.0, 40.0), (9.0, 50.0), (12.0, 55.0)];
        assert_eq!(answers_for(45.0, &curve), Some(7.5));
        assert_eq!(answers_for(39.0, &curve), None);
        assert_eq!(answers_for(56.0, &curve), None);
    }
}
