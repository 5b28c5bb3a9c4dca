//! What a scale is: a question, what its digit keys stand for, and everyday examples along it.

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::domain::Allergen;
use crate::domain::Invalid;
use crate::domain::SCALES;
use crate::domain::Stage;

/// What the ten digit keys mean on a scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measure {
    /// Intensity 0 to 9 (a ten-category scale in the sense of ISO 4121).
    Intensity,
    /// An amount in a unit; digit `d` stands for `steps[d]`.
    Amount {
        /// The unit shown.
        unit: &'static str,
        /// What each digit stands for.
        steps: [f64; 10],
        /// The largest amount that can be stored.
        most: f64,
    },
    /// One of a few named choices, digits from 1.
    Choice {
        /// The words, first for the digit 1.
        words: &'static [&'static str],
    },
}

impl Measure {
    /// The unit of its values; empty for digits.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Amount { unit, .. } => unit,
            Self::Intensity | Self::Choice { .. } => "",
        }
    }
}

/// Everyday examples along an intensity, for a kitchen without a laboratory (judgement).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Anchors {
    /// What 1, 3, 5, 7 and 9 are like.
    pub at: [&'static str; 5],
    /// A series to be mixed in a kitchen, from 1 to 9, where there is one.
    pub series: Option<Series>,
}

/// A series to be mixed in a kitchen, from 1 to 9 (judgement).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Series {
    /// What is mixed with what.
    pub base: &'static str,
    /// How much of it stands for 1, 3, 5, 7 and 9.
    pub steps: [&'static str; 5],
    /// What it holds.
    pub allergens: &'static [Allergen],
    /// Who should leave it out, where somebody should.
    pub care: Option<&'static str>,
}

impl Series {
    /// The series as one sentence without its full stop.
    #[must_use]
    pub fn sentence(&self) -> String {
        let [first, second, third, fourth, fifth] = self.steps;
        let care = self.care.map_or(String::new(), |it| format!("; {it}"));
        format!(
            "{}: {first}, {second}, {third}, {fourth} and {fifth}{care}",
            self.base
        )
    }
}

impl Anchors {
    /// The digits at which the examples stand.
    pub const DIGITS: [u8; 5] = [1, 3, 5, 7, 9];
}

/// One scale; the whole knowledge about it.
#[derive(Debug, PartialEq)]
pub struct Scale {
    /// The id in files, columns and commands.
    pub id: &'static str,
    /// The word on screen.
    pub word: &'static str,
    /// The stage it belongs to; none for what is asked apart from the profile.
    pub stage: Option<Stage>,
    /// The question put to the taster.
    pub question: &'static str,
    /// What the low end means.
    pub low: &'static str,
    /// What the high end means.
    pub high: &'static str,
    /// Everyday examples along it, where it is an intensity.
    pub anchors: Option<Anchors>,
    /// What the digits mean.
    pub measure: Measure,
}

impl Scale {
    /// The scale with this id.
    ///
    /// # Errors
    /// No scale has the id; the message names those that exist.
    pub fn from_id(id: &str) -> Result<&'static Self, Invalid> {
        // A history holds hundreds of thousands of them.
        static BY_ID: LazyLock<HashMap<&str, &Scale>> =
            LazyLock::new(|| SCALES.iter().map(|it| (it.id, it)).collect());
        BY_ID.get(id).copied().ok_or_else(|| Invalid::NotAChoice {
            what: "a scale",
            found: id.chars().take(60).collect(),
            choices: SCALES
                .iter()
                .filter(|scale| scale.stage.is_some())
                .map(|scale| scale.id)
                .collect::<Vec<_>>()
                .join(", "),
        })
    }

    /// What a digit key stands for, in the unit of the scale; none if the key has no meaning here.
    #[must_use]
    pub fn value_of_digit(&self, digit: u8) -> Option<f64> {
        let index = usize::from(digit);
        match &self.measure {
            Measure::Intensity => (index <= 9).then(|| f64::from(digit)),
            Measure::Amount { steps, .. } => steps.get(index).copied(),
            Measure::Choice { words } => {
                (1..=words.len()).contains(&index).then(|| f64::from(digit))
            }
        }
    }

    /// Where `value`, in the unit of the scale, stands among the digits, from 0 to 9: straight lines
    /// between what one digit stands for and what the next does.
    ///
    /// An amount beyond the first or last digit counts as that digit, because no key says more.
    /// Intensities and choices are digits already.
    #[must_use]
    pub fn digits(&self, value: f64) -> f64 {
        let Measure::Amount { steps, .. } = &self.measure else {
            return value.clamp(0.0, 9.0);
        };
        let pairs = (0_u8..).zip(steps.windows(2));
        let found = pairs.take_while(|(digit, pair)| *digit == 0 || value >= pair[0]);
        found.last().map_or(0.0, |(digit, pair)| {
            let part = (value - pair[0]) / (pair[1] - pair[0]);
            f64::from(digit) + part.clamp(0.0, 1.0)
        })
    }

    /// What a place among the digits, from 0 to 9, stands for in the unit of the scale; beyond the
    /// ends, what the end stands for. The inverse of `digits`.
    #[must_use]
    pub fn value_at(&self, digits: f64) -> f64 {
        let digits = digits.clamp(0.0, 9.0);
        let Measure::Amount { steps, .. } = &self.measure else {
            return digits;
        };
        let pairs = (0_u8..).zip(steps.windows(2));
        let found = pairs.take_while(|(digit, _)| *digit == 0 || digits >= f64::from(*digit));
        found.last().map_or(0.0, |(digit, pair)| {
            let part = digits - f64::from(digit);
            pair[0] + part * (pair[1] - pair[0])
        })
    }

    /// True when `value` can stand on this scale.
    #[must_use]
    pub fn allows(&self, value: f64) -> bool {
        match &self.measure {
            Measure::Intensity => (0.0..=9.0).contains(&value),
            Measure::Amount { most, .. } => (0.0..=*most).contains(&value),
            Measure::Choice { words } => {
                (1..=words.len()).any(|n| (value - n as f64).abs() < f64::EPSILON)
            }
        }
    }

    /// The value in words, with its unit.
    #[must_use]
    pub fn words_for(&self, value: f64) -> String {
        match &self.measure {
            Measure::Intensity => format!("{value:.0}"),
            Measure::Amount { unit, .. } => format!("{value:.0} {unit}"),
            Measure::Choice { words } => words
                .iter()
                .enumerate()
                .find(|(index, _)| (value - (index + 1) as f64).abs() < f64::EPSILON)
                .map_or_else(|| format!("{value:.0}"), |(_, word)| (*word).to_owned()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_unique_and_kebab_case() {
        for (index, scale) in SCALES.iter().enumerate() {
            assert!(
                crate::domain::DescriptorId::new(scale.id).is_ok(),
                "{}",
                scale.id
            );
            assert!(SCALES[index + 1..].iter().all(|other| other.id != scale.id));
        }
    }

    #[test]
    fn every_digit_gives_a_value_that_the_scale_allows() {
        for scale in SCALES {
            for value in (0..=9).filter_map(|digit| scale.value_of_digit(digit)) {
                assert!(scale.allows(value), "{} {value}", scale.id);
            }
        }
    }

    #[test]
    fn an_amount_stands_where_its_digits_stand_and_between_them_in_proportion() {
        let colour = Scale::from_id("colour").unwrap();
        // By hand from the steps 3, 4.5, 6.5, 10, 15, 22, 32, 48, 70, 100 EBC.
        for (ebc, digits) in [
            (3.0, 0.0),
            (3.75, 0.5),
            (4.5, 1.0),
            (12.5, 3.5),
            (40.0, 6.5),
            (77.5, 8.25),
            (100.0, 9.0),
        ] {
            assert!((colour.digits(ebc) - digits).abs() < 1e-12, "{ebc}");
            assert!((colour.value_at(digits) - ebc).abs() < 1e-12, "{digits}");
        }
    }

    #[test]
    fn what_no_key_reaches_counts_as_the_end() {
        let colour = Scale::from_id("colour").unwrap();
        assert!(colour.digits(0.5).abs() < f64::EPSILON);
        assert!((colour.digits(300.0) - 9.0).abs() < f64::EPSILON);
        assert!((colour.value_at(-1.0) - 3.0).abs() < f64::EPSILON);
        assert!((colour.value_at(11.0) - 100.0).abs() < f64::EPSILON);
        let bitter = Scale::from_id("bitter").unwrap();
        assert!((bitter.digits(4.3) - 4.3).abs() < f64::EPSILON);
        assert!((bitter.digits(12.0) - 9.0).abs() < f64::EPSILON);
    }

    #[test]
    fn every_digit_of_every_scale_is_its_own_place() {
        for scale in SCALES {
            for digit in 0..=9 {
                let Some(value) = scale.value_of_digit(digit) else {
                    continue;
                };
                let place = scale.digits(value);
                assert!(
                    (place - f64::from(digit)).abs() < 1e-12,
                    "{} {digit}",
                    scale.id
                );
                let back = scale.value_at(place);
                assert!((back - value).abs() < 1e-12, "{} {digit}", scale.id);
            }
        }
    }

    #[test]
    fn liking_has_the_nine_words_of_peryam_and_pilgrim() {
        // Peryam & Pilgrim 1957, Food Technology 11:9-14; words from memory.
        let liking = Scale::from_id("liking").unwrap();
        assert_eq!(liking.words_for(5.0), "neither like nor dislike");
        assert_eq!(liking.words_for(9.0), "like extremely");
        assert_eq!(liking.value_of_digit(0), None);
    }
}
