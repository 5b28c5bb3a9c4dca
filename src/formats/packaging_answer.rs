//! Bottles, priming sugar and gas as answered at the kitchen table.

use crate::domain::Bottle;
use crate::domain::PrimingSugar;
use crate::formats::answer_text::FILLERS;
use crate::formats::answer_text::is_number;
use crate::formats::answer_text::is_one_of;
use crate::formats::answer_text::pieces;
use crate::formats::answer_text::take_amount;
use crate::formats::answer_text::words;
use crate::formats::quantity_text::CARBONATION;

/// What people call a bottle, the weakest first: where two are named, the weaker one counts.
const BOTTLES: &[(&[&str], Bottle)] = &[
    (
        &[
            "one way",
            "one-way",
            "oneway",
            "single use",
            "single-use",
            "disposable",
        ],
        Bottle::OneWay,
    ),
    (
        &["crown caps", "crown cap", "crown", "crowns"],
        Bottle::Crown,
    ),
    (
        &[
            "swing top",
            "swing-top",
            "swingtop",
            "swing tops",
            "swing-tops",
            "flip top",
            "flip-top",
            "flip tops",
            "flip-tops",
        ],
        Bottle::SwingTop,
    ),
    (&["plastic", "pet"], Bottle::Plastic),
    (
        &["heavy", "reusable", "returnable", "returnables"],
        Bottle::Heavy,
    ),
    (&["champagne", "sparkling wine"], Bottle::Champagne),
    (&["keg", "kegs"], Bottle::Keg),
];

/// What people call a priming sugar; longer names first, for they hold shorter ones.
const SUGARS: &[(&[&str], PrimingSugar)] = &[
    (
        &[
            "dextrose monohydrate",
            "dextrose-monohydrate",
            "dextrose",
            "corn sugar",
        ],
        PrimingSugar::DextroseMonohydrate,
    ),
    (&["glucose"], PrimingSugar::Glucose),
    (
        &[
            "table sugar",
            "white sugar",
            "cane sugar",
            "beet sugar",
            "caster sugar",
            "kitchen sugar",
            "granulated sugar",
            "household sugar",
            "normal sugar",
            "plain sugar",
            "sucrose",
        ],
        PrimingSugar::Sucrose,
    ),
];

/// Words about packaging that decide nothing by themselves.
const IDLE: &[&str] = &[
    "bottle",
    "bottles",
    "cap",
    "caps",
    "capped",
    "vol",
    "co2",
    "carbonation",
    "carbonated",
    "priming",
    "primed",
    "fizz",
    "fizzy",
    "kind",
    "on",
    "sugar",
];

/// Volumes of gas that a number without a unit is taken for: what beer is bottled with (judgement).
const LIKELY_VOLUMES: std::ops::RangeInclusive<f64> = 1.0..=5.0;

/// An answer about packaging: what was understood, and the parts that were not.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct PackagingAnswer {
    /// Carbon dioxide with its unit.
    pub(crate) gas: Option<String>,
    pub(crate) sugar: Option<PrimingSugar>,
    pub(crate) bottle: Option<Bottle>,
    pub(crate) left: Vec<String>,
}

impl PackagingAnswer {
    /// Reads `crown bottles, table sugar, 2.4 vol` and the like, in any order.
    pub(crate) fn read(answer: &str) -> Self {
        let mut read = Self::default();
        for piece in pieces(answer) {
            read.take(&piece.to_lowercase());
        }
        read
    }

    fn take(&mut self, piece: &str) {
        let mut words = words(piece);
        if words
            .iter()
            .any(|it| is_one_of(it, &["no", "not", "without"]))
        {
            self.left.push(words.join(" "));
            return;
        }
        if let Some(gas) = take_amount(&CARBONATION, &mut words).or_else(|| bare_gas(&mut words)) {
            keep(&mut self.gas, gas.clone(), &gas, &mut self.left);
        }
        while let Some((bottle, said)) = take_named(BOTTLES, &mut words) {
            self.keep_weaker(bottle, &said);
        }
        while let Some((sugar, said)) =
            take_named(SUGARS, &mut words).or_else(|| plain_sugar(&mut words))
        {
            keep(&mut self.sugar, sugar, &said, &mut self.left);
        }
        if words.iter().any(|it| !is_idle(it)) {
            self.left.push(words.join(" "));
        }
    }

    /// Keeps a bottle; of two kinds the weaker one, which is safe for both.
    fn keep_weaker(&mut self, bottle: Bottle, said: &str) {
        let strength = |it: Bottle| BOTTLES.iter().position(|(_, have)| *have == it);
        let Some(before) = self.bottle.filter(|it| *it != bottle) else {
            self.bottle = Some(bottle);
            return;
        };
        if strength(bottle) < strength(before) {
            self.left.push(before.word().to_owned());
            self.bottle = Some(bottle);
        } else {
            self.left.push(said.to_owned());
        }
    }
}

/// Keeps what was said first; something else said later is left over.
fn keep<T: PartialEq>(kept: &mut Option<T>, value: T, said: &str, left: &mut Vec<String>) {
    match kept {
        None => *kept = Some(value),
        Some(before) if *before == value => {}
        Some(_) => left.push(said.to_owned()),
    }
}

fn is_idle(word: &str) -> bool {
    is_one_of(word, IDLE) || is_one_of(word, FILLERS)
}

/// A number without a unit, if it is the only one and lies where bottled beer does.
fn bare_gas(words: &mut Vec<String>) -> Option<String> {
    let numbers: Vec<usize> = (0..words.len())
        .filter(|it| is_number(&words[*it]))
        .collect();
    let [at] = numbers.as_slice() else {
        return None;
    };
    let volumes: f64 = words[*at].parse().ok()?;
    let likely = LIKELY_VOLUMES.contains(&volumes);
    likely.then(|| format!("{} vol", words.remove(*at)))
}

/// Takes the first of the names that stands in the words.
fn take_named<T: Copy>(names: &[(&[&str], T)], words: &mut Vec<String>) -> Option<(T, String)> {
    let all = names
        .iter()
        .flat_map(|(names, value)| names.iter().map(|name| (*value, *name)));
    for (value, name) in all {
        let parts: Vec<&str> = name.split(' ').collect();
        let found = words
            .windows(parts.len())
            .position(|window| window.iter().zip(&parts).all(|(word, part)| word == part));
        if let Some(at) = found {
            words.drain(at..at + parts.len());
            return Some((value, name.to_owned()));
        }
    }
    None
}

/// "Sugar" is table sugar, unless a word before it makes it another one, such as brown sugar.
fn plain_sugar(words: &mut Vec<String>) -> Option<(PrimingSugar, String)> {
    let at = words.iter().position(|it| it == "sugar")?;
    let plain = at
        .checked_sub(1)
        .is_none_or(|before| is_idle(&words[before]));
    plain.then(|| (PrimingSugar::Sucrose, words.remove(at)))
}

#[cfg(test)]
mod tests {
    use super::*;

    type Read = (Option<String>, Option<PrimingSugar>, Option<Bottle>);

    fn read(answer: &str) -> (Read, Vec<String>) {
        let it = PackagingAnswer::read(answer);
        ((it.gas, it.sugar, it.bottle), it.left)
    }

    fn wanted(gas: &str, sugar: PrimingSugar, bottle: Bottle) -> (Read, Vec<String>) {
        ((Some(gas.to_owned()), Some(sugar), Some(bottle)), vec![])
    }

    #[test]
    fn bottles_sugar_and_gas_are_understood_as_people_write_them() {
        let crown = wanted("2.4 vol", PrimingSugar::Sucrose, Bottle::Crown);
        for answer in [
            "crown caps, table sugar, 2.4",
            "Crown bottles, sugar, 2,4 vol.",
            "CROWN CAPPED BOTTLES WITH WHITE SUGAR AND 2.4 VOLUMES",
            "2.4, sugar, crown",
            "crown bottles with sugar 2.4 vol CO2",
        ] {
            assert_eq!(read(answer), crown, "{answer}");
        }
        assert_eq!(
            read("flip tops; corn sugar; about 2.6"),
            wanted(
                "2.6 vol",
                PrimingSugar::DextroseMonohydrate,
                Bottle::SwingTop
            )
        );
        assert_eq!(
            read("swing-top bottles with glucose, 5 g/L"),
            wanted("5 g/l", PrimingSugar::Glucose, Bottle::SwingTop)
        );
    }

    #[test]
    fn what_is_not_understood_is_named_and_the_rest_is_kept() {
        let ((gas, sugar, bottle), left) = read("beer bottles, brown sugar, very fizzy");
        assert_eq!((gas, sugar, bottle), (None, None, None));
        assert_eq!(left, ["beer bottles", "brown sugar", "very fizzy"]);
        let ((gas, sugar, bottle), left) = read("crown caps, no sugar, 24");
        assert_eq!((gas, sugar, bottle), (None, None, Some(Bottle::Crown)));
        assert_eq!(left, ["no sugar", "24"]);
        let ((_, sugar, _), left) = read("dextrose or table sugar");
        assert_eq!(sugar, Some(PrimingSugar::DextroseMonohydrate));
        assert_eq!(left, ["table sugar", "or"]);
    }

    #[test]
    fn of_two_kinds_of_bottle_the_weaker_one_counts() {
        // Limits in brewing/bottle.rs: crown and swing-top 3.0 volumes, heavy 4.0, champagne 5.0.
        for (answer, weaker) in [
            ("champagne bottles, crown caps", Bottle::Crown),
            ("heavy swing-top bottles", Bottle::SwingTop),
            ("heavy bottles, some one-way", Bottle::OneWay),
        ] {
            let it = PackagingAnswer::read(answer);
            assert_eq!(it.bottle, Some(weaker), "{answer}");
            assert_eq!(it.left.len(), 1, "{answer}");
        }
    }
}
