//! What the ratings of one taster on one line leave when they are gathered sitting by sitting.

use std::collections::BTreeMap;
use std::collections::HashMap;

use crate::domain::Day;
use crate::statistics::ASSESSOR_NUMBERS;
use crate::statistics::AssessorSums;
use crate::statistics::DayPairs;
use crate::statistics::Duplicates;
use crate::statistics::Moments;
use crate::statistics::PAIR_NUMBERS;
use crate::statistics::PairSums;
use crate::statistics::whole;

/// Days between two sittings within which the same beer is taken to be unchanged (judgement).
const SAME_BEER_DAYS: i64 = 7;

/// Answers from which on it tells something that all are the same (judgement): before that a pair that agrees is
/// a pair like any other.
const MANY_ANSWERS: u64 = 8;

/// Sums over the ratings of one taster on one line. They are joined by adding, whatever was gathered first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatingSums {
    /// How many ratings.
    pub ratings: u64,
    /// The same beer twice in one sitting.
    pub duplicates: Duplicates,
    /// The taster's mean of a glass, and the mean of all others who had it.
    pub beside: PairSums,
    /// Over the same glasses the sum of (n − 1)/n with n tasters each: what turns a gap to the others into one to
    /// all.
    pub shares: f64,
    /// How far the taster's mean lay above that of the others, sitting by sitting: what a day moves, it moves in all
    /// glasses of a sitting, so that sittings are what counts.
    pub standing: Moments,
    /// Samples and repeats within sittings.
    pub repeats: AssessorSums,
    /// The same beer in two sittings within a week.
    pub days: DayPairs,
}

/// How many numbers they are made of.
const NUMBERS: usize = 8 + PAIR_NUMBERS + ASSESSOR_NUMBERS + 3;

impl RatingSums {
    /// Of no rating.
    pub const NONE: Self = Self {
        ratings: 0,
        duplicates: Duplicates::NONE,
        beside: PairSums::NONE,
        shares: 0.0,
        standing: Moments::NONE,
        repeats: AssessorSums::NONE,
        days: DayPairs::NONE,
    };

    /// The version of what they hold and how it is computed.
    pub const FORMULA_VERSION: u32 = 1;

    /// Of the ratings of both.
    #[must_use]
    pub fn joined(&self, other: &Self) -> Self {
        Self {
            ratings: self.ratings + other.ratings,
            duplicates: self.duplicates.joined(other.duplicates),
            beside: self.beside.joined(other.beside),
            shares: self.shares + other.shares,
            standing: self.standing.joined(other.standing),
            repeats: self.repeats.joined(other.repeats),
            days: self.days.joined(other.days),
        }
    }

    /// True when many answers were given and all are the same: then nothing says how far answers scatter.
    #[must_use]
    pub fn is_always_the_same(&self) -> bool {
        let answers = self.repeats.answers();
        answers.count() >= MANY_ANSWERS && answers.squares() <= 0.0
    }

    /// The numbers they are made of, as text from which the very same come back.
    #[must_use]
    pub fn to_text(&self) -> String {
        let squares = self.duplicates.squares();
        let freedom = f64::from(self.duplicates.freedom());
        let first = [self.ratings as f64, squares, freedom, self.shares];
        let numbers = first.into_iter().chain(self.standing.numbers());
        let numbers = numbers.chain(self.beside.numbers());
        let numbers = numbers.chain(self.repeats.numbers());
        let numbers = numbers.chain(self.days.numbers());
        let words: Vec<String> = numbers.map(|it| format!("{it:?}")).collect();
        words.join(" ")
    }

    /// The sums that a text holds; none when it is no such text.
    #[must_use]
    pub fn from_text(text: &str) -> Option<Self> {
        let numbers: Vec<f64> = text
            .split(' ')
            .map(|it| it.parse().ok())
            .collect::<Option<_>>()?;
        let numbers: [f64; NUMBERS] = numbers.try_into().ok()?;
        let (first, rest) = numbers.split_at(8);
        let (beside, rest) = rest.split_at(PAIR_NUMBERS);
        let (repeats, days) = rest.split_at(ASSESSOR_NUMBERS);
        let freedom = u32::try_from(whole(first[2])?).ok()?;
        Some(Self {
            ratings: whole(first[0])?,
            duplicates: Duplicates::new(first[1], freedom)?,
            beside: PairSums::from_numbers(beside.try_into().ok()?)?,
            standing: Moments::from_numbers([first[4], first[5], first[6], first[7]])?,
            shares: Some(first[3]).filter(|it| it.is_finite() && *it >= 0.0)?,
            repeats: AssessorSums::from_numbers(repeats.try_into().ok()?)?,
            days: DayPairs::from_numbers(days.try_into().ok()?)?,
        })
    }
}

/// One answer to one glass; who and what are numbers of the caller's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GlassRating {
    /// Who.
    pub taster: u32,
    /// Which beer was in the glass.
    pub sample: u32,
    /// The day of tasting; of paper it may be another one for each taster.
    pub day: Day,
    /// The answer, 0 to 9.
    pub digits: f64,
}

/// The mean of what one taster last said of a beer, and of how many glasses it is.
#[derive(Debug, Clone, Copy)]
struct LastSaid {
    day: Day,
    mean: f64,
    glasses: u32,
}

/// Gathers ratings sitting by sitting, in the order of their days.
#[derive(Debug, Default)]
pub struct RatingGatherer {
    sums: BTreeMap<(u32, u32), RatingSums>,
    last: HashMap<(u32, u32, u32), LastSaid>,
}

impl RatingGatherer {
    /// Adds all ratings of one sitting on one line, those of a taster in the order of their glasses.
    pub fn add(&mut self, line: u32, ratings: &[GlassRating]) {
        let mut glasses: BTreeMap<(u32, u32), Vec<f64>> = BTreeMap::new();
        let mut days: BTreeMap<u32, Day> = BTreeMap::new();
        for it in ratings {
            days.entry(it.taster).or_insert(it.day);
            let glass = glasses.entry((it.taster, it.sample)).or_default();
            glass.push(it.digits);
        }
        let means: BTreeMap<(u32, u32), f64> = glasses
            .iter()
            .map(|(at, values)| (*at, values.iter().sum::<f64>() / values.len() as f64))
            .collect();
        // What all said of a sample together, so that everybody else's mean is one subtraction.
        let mut together: BTreeMap<u32, (f64, u32)> = BTreeMap::new();
        for ((_, sample), mean) in &means {
            let all = together.entry(*sample).or_insert((0.0, 0));
            all.0 += mean;
            all.1 += 1;
        }
        let mut at = 0;
        let rows: Vec<(&(u32, u32), &Vec<f64>)> = glasses.iter().collect();
        while let Some(((taster, _), _)) = rows.get(at) {
            let own = rows[at..].iter().take_while(|it| it.0.0 == *taster).count();
            let own_rows = &rows[at..at + own];
            let sums = self.sums.entry((*taster, line)).or_insert(RatingSums::NONE);
            *sums = sums.joined(&of_taster(own_rows, &means, &together));
            for ((_, sample), values) in own_rows {
                if let Some(day) = days.get(taster) {
                    self.hold_against_last((*taster, line, *sample), *day, values);
                }
            }
            at += own;
        }
    }

    /// Holds what was said of a beer against what the same taster last said of it, if that was on another day
    /// of the same week.
    fn hold_against_last(&mut self, key: (u32, u32, u32), day: Day, values: &[f64]) {
        let now = LastSaid {
            day,
            mean: values.iter().sum::<f64>() / values.len() as f64,
            glasses: u32::try_from(values.len()).unwrap_or(u32::MAX),
        };
        let Some(last) = self.last.insert(key, now) else {
            return;
        };
        let apart = day.days_since(last.day);
        let middle = f64::midpoint(last.mean, now.mean);
        if (1..=SAME_BEER_DAYS).contains(&apart) && Duplicates::OPEN_MEANS.contains(&middle) {
            let sums = self.sums.entry((key.0, key.1)).or_insert(RatingSums::NONE);
            sums.days
                .add([last.mean, now.mean], [last.glasses, now.glasses]);
        }
    }

    /// The sums by taster and line.
    #[must_use]
    pub fn gathered(self) -> BTreeMap<(u32, u32), RatingSums> {
        self.sums
    }
}

/// The sums of one taster's glasses of one sitting on one line.
fn of_taster(
    glasses: &[(&(u32, u32), &Vec<f64>)],
    means: &BTreeMap<(u32, u32), f64>,
    together: &BTreeMap<u32, (f64, u32)>,
) -> RatingSums {
    let values: Vec<Vec<f64>> = glasses.iter().map(|it| it.1.clone()).collect();
    let mut sums = RatingSums {
        ratings: values.iter().map(|it| it.len() as u64).sum(),
        duplicates: pairs_of(&values),
        repeats: AssessorSums::of(&values),
        ..RatingSums::NONE
    };
    for (at, _) in glasses {
        let own = means.get(at).copied();
        let all = together.get(&at.1).copied();
        if let (Some(own), Some((sum, tasters))) = (own, all)
            && tasters > 1
        {
            let others = f64::from(tasters - 1);
            sums.beside.add([own, (sum - own) / others]);
            sums.shares += others / f64::from(tasters);
        }
    }
    if sums.beside.pairs() > 0 {
        sums.standing.add(sums.beside.differences().mean());
    }
    sums
}

/// The pairs of glasses of one sitting, given by sample: of three glasses of one beer the first two, and the third
/// stands alone.
pub(in crate::training) fn pairs_of(samples: &[Vec<f64>]) -> Duplicates {
    let pairs = samples.iter().flat_map(|it| it.chunks_exact(2));
    let pairs: Vec<[u8; 2]> = pairs.map(|it| [digit(it[0]), digit(it[1])]).collect();
    Duplicates::gather(&pairs).unwrap_or(Duplicates::NONE)
}

/// The whole digit of an answer.
fn digit(value: f64) -> u8 {
    (0..=9).find(|it| value < f64::from(*it) + 0.5).unwrap_or(9)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rated(taster: u32, sample: u32, digits: f64) -> GlassRating {
        GlassRating {
            taster,
            sample,
            day: day("2026-03-14"),
            digits,
        }
    }

    fn on(text: &str, ratings: &[GlassRating]) -> Vec<GlassRating> {
        let day = day(text);
        ratings
            .iter()
            .map(|it| GlassRating { day, ..*it })
            .collect()
    }

    fn day(text: &str) -> Day {
        Day::parse(text).unwrap()
    }

    /// Two tasters, two beers, the first beer twice for both.
    fn first_sitting() -> [GlassRating; 6] {
        [
            rated(1, 1, 4.0),
            rated(1, 1, 6.0),
            rated(1, 2, 3.0),
            rated(2, 1, 2.0),
            rated(2, 1, 2.0),
            rated(2, 2, 7.0),
        ]
    }

    #[test]
    fn a_sitting_leaves_pairs_repeats_and_what_the_others_said() {
        let mut all = RatingGatherer::default();
        all.add(7, &on("2026-03-14", &first_sitting()));
        let sums = all.gathered();
        let ana = &sums[&(1, 7)];
        // By hand: the pair 4, 6 has S = 2; own means 5 and 3 beside 2 and 7: differences 3 and -4.
        assert_eq!(ana.ratings, 3);
        assert_eq!(
            (ana.duplicates.squares(), ana.duplicates.freedom()),
            (2.0, 1)
        );
        assert_eq!(ana.beside.pairs(), 2);
        assert!((ana.beside.differences().mean() + 0.5).abs() < 1e-12);
        // Two tasters of each: half of the gap to the other is the gap to both.
        assert!((ana.shares - 1.0).abs() < 1e-12);
        assert_eq!(ana.standing.count(), 1);
        let variance = ana.repeats.variance().unwrap();
        // By hand: within (4 - 5)² + (6 - 5)² = 2 on 1; between 2·(5 - 13/3)² + (3 - 13/3)² = 8/3 on 1.
        assert!((variance.error - 2.0).abs() < 1e-12);
        assert!((variance.between - 8.0 / 3.0).abs() < 1e-12);
        assert_eq!(ana.days.pairs(), 0);
    }

    #[test]
    fn the_same_beer_within_a_week_tells_of_days_and_later_it_does_not() {
        let mut all = RatingGatherer::default();
        all.add(7, &on("2026-03-14", &[rated(1, 1, 4.0)]));
        all.add(7, &on("2026-03-14", &[rated(1, 1, 9.0)]));
        all.add(7, &on("2026-03-20", &[rated(1, 1, 3.0), rated(1, 1, 5.0)]));
        all.add(7, &on("2026-04-20", &[rated(1, 1, 4.0)]));
        let sums = all.gathered();
        // By hand: 9 six days before the mean 4: d²/2 = 12.5, shares (1 + 1/2)/2; the rest is the same day, or
        // a month apart.
        let expected = DayPairs::from_numbers([1.0, 12.5, 0.75]);
        assert_eq!(Some(sums[&(1, 7)].days), expected);
    }

    #[test]
    fn sums_of_halves_joined_are_those_of_all_and_come_back_from_their_text() {
        let mut one = RatingGatherer::default();
        one.add(7, &on("2026-03-14", &first_sitting()));
        let half = one.gathered()[&(1, 7)];
        let mut both = RatingGatherer::default();
        both.add(7, &on("2026-03-14", &first_sitting()));
        both.add(7, &on("2026-06-14", &first_sitting()));
        let all = both.gathered()[&(1, 7)];
        assert_eq!(half.joined(&half), all);
        assert_eq!(RatingSums::from_text(&all.to_text()), Some(all));
        for bad in ["", "1 2 3", &all.to_text().replace("6.0", "-1.0")] {
            assert_eq!(RatingSums::from_text(bad), None, "{bad}");
        }
    }
}
