//! The scales on which a glass is rated, each one record: id, stage, unit, question, anchors and steps of the digit keys.

use crate::domain::Invalid;
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

/// Everyday examples along an intensity, for a kitchen without a laboratory (judgement).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Anchors {
    /// What 1, 3, 5, 7 and 9 are like.
    pub at: [&'static str; 5],
    /// A series to be mixed in a kitchen, from 1 to 9, where there is one.
    pub series: Option<&'static str>,
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

const fn intensity(
    id: &'static str,
    word: &'static str,
    stage: Stage,
    question: &'static str,
    [low, high]: [&'static str; 2],
    anchors: Option<Anchors>,
) -> Scale {
    Scale {
        id,
        word,
        stage: Some(stage),
        question,
        low,
        high,
        anchors,
        measure: Measure::Intensity,
    }
}

/// Every scale, in the order in which a tasting asks.
pub static SCALES: &[Scale] = &[
    Scale {
        id: "colour",
        word: "Colour",
        stage: Some(Stage::Appearance),
        question: "Which strip looks like your glass, held against white?",
        low: "pale straw",
        high: "black",
        anchors: None,
        measure: Measure::Amount {
            unit: "EBC",
            // Steps of equal ratio, about 1.5, from straw to black: the eye compares ratios.
            steps: [3.0, 4.5, 6.5, 10.0, 15.0, 22.0, 32.0, 48.0, 70.0, 100.0],
            most: 300.0,
        },
    },
    intensity(
        "haze",
        "Haze",
        Stage::Appearance,
        "How hazy is it?",
        ["brilliant", "like milk"],
        Some(Anchors {
            at: [
                "a trace, against bright light only",
                "a thin veil: print behind it stays sharp",
                "like apple juice: print behind it blurs",
                "like cloudy lemonade: nothing is read through it",
                "like milk",
            ],
            series: Some("milk in 200 mL of water: 1, 4, 10 and 30 drops, and milk alone"),
        }),
    ),
    Scale {
        id: "head",
        word: "Head height",
        stage: Some(Stage::Appearance),
        question: "How high is the foam? One finger is about 15 mm.",
        low: "no foam",
        high: "45 mm or more",
        anchors: None,
        measure: Measure::Amount {
            unit: "mm",
            steps: [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0],
            most: 200.0,
        },
    },
    intensity(
        "bubbles",
        "Bubbles",
        Stage::Appearance,
        "How lively are the bubbles in the glass?",
        ["still", "streaming"],
        Some(Anchors {
            at: [
                "a single string now and then",
                "a few thin strings",
                "steady strings, like sparkling water after ten minutes",
                "lively, like sparkling water just poured",
                "streaming, like lemonade just poured",
            ],
            series: None,
        }),
    ),
    Scale {
        id: "head-retention",
        word: "Head retention",
        stage: Some(Stage::Appearance),
        question: "How long until the foam has sunk to half its height?",
        low: "gone at once",
        high: "six minutes or more",
        anchors: None,
        measure: Measure::Amount {
            unit: "s",
            steps: [
                0.0, 15.0, 30.0, 60.0, 90.0, 120.0, 180.0, 240.0, 300.0, 360.0,
            ],
            most: 3_600.0,
        },
    },
    intensity(
        "aroma-intensity",
        "Overall aroma",
        Stage::Aroma,
        "How strong is the smell as a whole?",
        ["no smell", "fills the room"],
        Some(Anchors {
            at: [
                "only with the nose in the glass",
                "light, at the rim",
                "clear at the rim, like a cup of tea",
                "a hand's width away, like an orange being peeled",
                "fills the room, like coffee being ground",
            ],
            series: None,
        }),
    ),
    intensity(
        "sweet",
        "Sweet",
        Stage::Flavour,
        "How sweet?",
        ["not at all", "syrup"],
        Some(Anchors {
            at: [
                "a sugar cube in a whole pot of tea",
                "milk",
                "a ripe apple",
                "lemonade",
                "syrup",
            ],
            series: Some("table sugar in a litre of water: 3, 10, 25, 50 and 100 g"),
        }),
    ),
    intensity(
        "bitter",
        "Bitter",
        Stage::Flavour,
        "How bitter?",
        ["not at all", "cannot be more"],
        Some(Anchors {
            at: [
                "a lettuce leaf",
                "milk chocolate",
                "black coffee",
                "the white of a grapefruit peel",
                "chewed dandelion root",
            ],
            series: Some(
                "tonic water thinned with still water: one part in sixteen, in eight, in four, in two, and undiluted; not in pregnancy, nor with heart medicines",
            ),
        }),
    ),
    intensity(
        "sour",
        "Sour",
        Stage::Flavour,
        "How sour?",
        ["not at all", "lemon juice"],
        Some(Anchors {
            at: [
                "milk",
                "a sweet apple",
                "plain yogurt",
                "grapefruit juice",
                "lemon juice",
            ],
            series: Some("lemon juice in 200 mL of water: 1, 3, 6, 12 and 25 mL"),
        }),
    ),
    intensity(
        "salty",
        "Salty",
        Stage::Flavour,
        "How salty?",
        ["not at all", "sea water"],
        Some(Anchors {
            at: [
                "mineral water",
                "fresh bread",
                "clear broth",
                "olives in brine",
                "sea water",
            ],
            series: Some(
                "table salt in a litre of water: half a gram, 1.5, 3, 8 and 30 g; a sip and spit, and none with high blood pressure",
            ),
        }),
    ),
    intensity(
        "fullness",
        "Fullness",
        Stage::Body,
        "How full does it feel in the mouth?",
        ["water", "cream"],
        Some(Anchors {
            at: [
                "water",
                "skimmed milk",
                "whole milk",
                "drinking chocolate",
                "cream",
            ],
            series: Some(
                "milk thinned with water: one part in eight, in four, in two, undiluted, and cream",
            ),
        }),
    ),
    intensity(
        "carbonation",
        "Carbonation",
        Stage::Body,
        "How strongly does it prickle?",
        ["flat", "stings"],
        Some(Anchors {
            at: [
                "water left open overnight",
                "sparkling water left open for an hour",
                "mild sparkling water",
                "sparkling water just opened",
                "stings like soda from a siphon",
            ],
            series: Some(
                "sparkling water mixed with still water: one part in eight, in four, in two, three parts in four, and undiluted",
            ),
        }),
    ),
    intensity(
        "smoothness",
        "Smoothness",
        Stage::Body,
        "How smooth does it slide?",
        ["rough", "silk"],
        Some(Anchors {
            at: [
                "rough like an unripe banana",
                "a little rough, like strong tea",
                "neither, like apple juice",
                "smooth like milk",
                "slides like cream",
            ],
            series: None,
        }),
    ),
    intensity(
        "astringency",
        "Astringency",
        Stage::Body,
        "How much does it dry and rough the tongue?",
        ["not at all", "over-steeped tea"],
        Some(Anchors {
            at: [
                "weak tea",
                "black tea steeped three minutes",
                "red wine, or tea steeped six minutes",
                "an unripe banana",
                "over-steeped tea, a sloe",
            ],
            series: Some(
                "one bag of black tea in 200 mL, steeped 1, 3, 6, 15 and 30 minutes, drunk cold",
            ),
        }),
    ),
    intensity(
        "alcohol-warmth",
        "Alcohol warmth",
        Stage::Body,
        "How much warmth of alcohol?",
        ["none", "spirits"],
        Some(Anchors {
            at: ["light beer", "wine", "port", "liqueur", "spirits"],
            series: None,
        }),
    ),
    intensity(
        "dryness",
        "Dryness",
        Stage::Finish,
        "How dry is the end?",
        ["sweet to the last", "bone dry"],
        Some(Anchors {
            at: [
                "honey in tea: sweet to the last",
                "apple juice",
                "a ripe orange",
                "dry white wine",
                "unsweetened cold tea: bone dry",
            ],
            series: None,
        }),
    ),
    intensity(
        "lingering-bitterness",
        "Lingering bitterness",
        Stage::Finish,
        "How much bitterness stays?",
        ["none", "will not go"],
        Some(Anchors {
            at: [
                "gone in a breath, like lettuce",
                "a few seconds, like milk chocolate",
                "ten seconds, like black coffee",
                "half a minute, like grapefruit peel",
                "a minute and more, like dandelion root",
            ],
            series: None,
        }),
    ),
    Scale {
        id: "length",
        word: "Length",
        stage: Some(Stage::Finish),
        question: "How long does the taste stay after swallowing?",
        low: "gone at once",
        high: "a minute or more",
        anchors: None,
        measure: Measure::Amount {
            unit: "s",
            steps: [0.0, 2.0, 4.0, 7.0, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0],
            most: 600.0,
        },
    },
    Scale {
        id: "lacing",
        word: "Lacing",
        stage: Some(Stage::Appearance),
        question: "Now look at the empty part of the glass: how much foam clings to it?",
        low: "clean glass",
        high: "a closed curtain",
        anchors: Some(Anchors {
            at: [
                "a few specks",
                "scattered islands",
                "broken rings",
                "a ring for every sip",
                "a closed curtain",
            ],
            series: None,
        }),
        measure: Measure::Intensity,
    },
    Scale {
        id: "serving-temperature",
        word: "Serving temperature",
        stage: None,
        question: "How warm is the beer in the glass? Measure it if you can.",
        low: "from the fridge",
        high: "room temperature",
        anchors: None,
        measure: Measure::Amount {
            unit: "°C",
            steps: [3.0, 5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0],
            most: 40.0,
        },
    },
    // The nine-point hedonic scale with its words: Peryam & Pilgrim 1957, Food Technology 11:9-14.
    Scale {
        id: "liking",
        word: "Liking",
        stage: None,
        question: "Apart from all that: how do you like it?",
        low: "dislike extremely",
        high: "like extremely",
        anchors: None,
        measure: Measure::Choice {
            words: &[
                "dislike extremely",
                "dislike very much",
                "dislike moderately",
                "dislike slightly",
                "neither like nor dislike",
                "like slightly",
                "like moderately",
                "like very much",
                "like extremely",
            ],
        },
    },
    Scale {
        id: "another-glass",
        word: "Another glass",
        stage: None,
        question: "Would you take another glass of it?",
        low: "no",
        high: "yes",
        anchors: None,
        measure: Measure::Choice {
            words: &["no", "perhaps", "yes"],
        },
    },
];

impl Scale {
    /// The scale with this id.
    ///
    /// # Errors
    /// No scale has the id; the message names those that exist.
    pub fn from_id(id: &str) -> Result<&'static Self, Invalid> {
        SCALES
            .iter()
            .find(|scale| scale.id == id)
            .ok_or_else(|| Invalid::NotAChoice {
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
