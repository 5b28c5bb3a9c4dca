//! Converted amounts with as many digits as a kitchen weighs, pours or reads, and a remark on all that were left out.

/// How many digits the amounts have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Digits {
    /// All of them: the file was written from a recipe of ours, and shall come back as it was.
    AsStored,
    /// As many as somebody can weigh, pour or read.
    Kitchen,
}

/// The amounts of one recipe on their way into a document.
pub(super) struct KitchenAmounts {
    digits: Digits,
    /// What has more digits than are written, and how much it is exactly.
    exactly: Vec<String>,
}

impl KitchenAmounts {
    /// None told yet.
    pub(super) const fn new(digits: Digits) -> Self {
        Self {
            digits,
            exactly: Vec::new(),
        }
    }

    /// A number with as many digits as are wanted; `of` says what it is an amount of.
    pub(super) fn told(&mut self, of: &str, value: f64, unit: &str) -> String {
        let exact = plain(value);
        if self.digits == Digits::AsStored {
            return exact;
        }
        let short = short(value, unit).filter(|it| it.len() < exact.len());
        let Some(short) = short else {
            return exact;
        };
        // A bare number is an ion of the water.
        let unit = if unit.is_empty() { "mg/L" } else { unit };
        self.exactly
            .push(format!("{of} {} {unit}", nine_decimals(value)));
        short
    }

    /// What the file says exactly, so that nothing of it is lost; none where no digit was left out.
    pub(super) fn remark(&self) -> Option<String> {
        let exactly = self.exactly.join("; ");
        (!exactly.is_empty()).then(|| {
            format!("Amounts are written as a kitchen weighs them. Exactly they are: {exactly}")
        })
    }
}

/// By less than this part of itself an amount is changed by what is left out: a judgement, that scales and jugs of a
/// kitchen are no better.
const LEFT_OUT: f64 = 0.01;

/// A number as it is weighed, poured or read in a kitchen: whole grams, tenths below 50 g and hundredths below 1 g,
/// hundredths of a litre, tenths of a degree and of a minute, and more of a little, so that nothing that counts is left
/// out. None where nine decimals are not enough.
fn short(number: f64, unit: &str) -> Option<String> {
    let fewest = match unit {
        "g" if number >= 50.0 => 0,
        "g" if number >= 1.0 => 1,
        "g" | "L" | "%" | "vol" => 2,
        _ => 1,
    };
    let mut told = (fewest..=MOST_DECIMALS).map(|it| with_decimals(number, it));
    told.find(|it| {
        let read = it.parse::<f64>();
        read.is_ok_and(|read| (read - number).abs() < LEFT_OUT * number.abs())
    })
}

/// All the decimals that the units of a kitchen need.
const MOST_DECIMALS: usize = 9;

/// So many decimals, without zeros at their end.
fn with_decimals(number: f64, decimals: usize) -> String {
    let told = format!("{number:.decimals$}");
    if decimals == 0 {
        return told;
    }
    told.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Nine decimals at most, and none of what the machine adds.
fn nine_decimals(number: f64) -> String {
    with_decimals(number, MOST_DECIMALS)
}

/// A number as a person would write it, and as it is read back.
fn plain(number: f64) -> String {
    let short = nine_decimals(number);
    let is_same = short
        .parse::<f64>()
        .is_ok_and(|it| (it - number).abs() <= f64::EPSILON * number.abs());
    if is_same { short } else { number.to_string() }
}
