//! Whether anything is worth changing: hopes held against glasses, and what of their gaps is believed.

use crate::profile::Aim;
use crate::profile::Judged;
use crate::statistics::Normal;
use crate::statistics::Probability;
use crate::statistics::discoveries;

/// The share of gaps beyond the noise that may be false, from which on a change is thought of: a proposal costs a
/// batch, not a reputation (the project's notes on noise, section 7).
const LEVEL: Probability = Probability::new(0.08).expect("8 % is a probability");

/// The variance of a gap of which nothing is known, digits squared: hopes are missed by one or two (judgement).
const UNKNOWN: f64 = 2.0;

/// How far hopes are missed where something is missed, variance in digits squared: what silence says is drawn
/// towards 0 by it, as every other gap is (judgement).
const MISSED_BY: f64 = 3.0;

/// The variance of the gap where a hoped-for smell is not there, digits squared: one that nobody names may still
/// be there a little (judgement).
const NOT_THERE: f64 = 1.0;

/// From a tenth to nine tenths of a normal distribution, in standard deviations.
const TENTHS_APART: f64 = 2.563;

/// What the glasses say of a hope.
#[derive(Debug, Clone, PartialEq)]
pub enum Said {
    /// Numbers, judged together with those of the other hopes.
    Judged(Judged),
    /// It is not there.
    NotFound,
    /// Nobody named it yet; it is there with this chance.
    Silent(Probability),
    /// Nobody was asked, or nobody answered.
    Nothing,
}

/// A hope and what the glasses say of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// Which line of an outlook.
    pub line: usize,
    /// How much it matters.
    pub weight: f64,
    /// What was hoped for, digits.
    pub hope: f64,
    /// What the glasses say.
    pub said: Said,
    /// What was known of the gap before these glasses, as its mean and variance in digits: by what was promised of
    /// this recipe, and by other brews of it.
    pub foreknown: Option<(f64, f64)>,
}

/// Which hopes are missed by more than noise, judged together.
#[must_use]
pub fn beyond(wanted: &[Wanted]) -> Vec<bool> {
    let p_values: Vec<Probability> = wanted.iter().filter_map(Wanted::p_value).collect();
    let mut found = discoveries(&p_values, LEVEL).into_iter();
    let each = wanted.iter().map(|it| match it.said {
        Said::Judged(_) => found.next().unwrap_or(false),
        Said::NotFound => it.hope > 0.0,
        Said::Silent(_) | Said::Nothing => false,
    });
    each.collect()
}

/// The aims of a search; none where no gap is beyond the noise, and nothing should be changed yet.
///
/// Once one is, all hopes are aimed at, each with its gap as far as it is believed.
#[must_use]
pub fn aims(wanted: &[Wanted]) -> Option<Vec<Aim>> {
    let is_open = beyond(wanted).contains(&true);
    is_open.then(|| wanted.iter().map(Wanted::aim).collect())
}

impl Wanted {
    /// The mean and the variance of the gap by all that is known: of independent sources, each weighs by the
    /// reciprocal of its variance; without anything known before, the gap is drawn towards 0.
    #[must_use]
    pub fn believed(&self) -> (f64, f64) {
        let glasses = match &self.said {
            Said::Judged(judged) => Some(judged.gap),
            Said::NotFound => Some((-self.hope, NOT_THERE)),
            Said::Silent(present) => Some(self.silent(*present)),
            Said::Nothing => None,
        };
        match (glasses, self.foreknown) {
            (Some(now), Some(before)) => together(now, before),
            (None, Some(before)) => before,
            (Some(now), None) => match &self.said {
                Said::Judged(judged) => {
                    let sd = (judged.range.high - judged.range.low) / TENTHS_APART;
                    (judged.size, sd * sd)
                }
                Said::NotFound | Said::Silent(_) | Said::Nothing => now,
            },
            (None, None) => (0.0, UNKNOWN),
        }
    }

    /// The gap of a smell that nobody named: the whole hope if it is not there, none that is known if it is; drawn
    /// towards 0 as far as that is not known.
    fn silent(&self, present: Probability) -> (f64, f64) {
        let (there, absent) = (present.get(), present.complement().get());
        let apart = there * absent * self.hope * self.hope;
        let variance = NOT_THERE + there * UNKNOWN + apart;
        let kept = MISSED_BY / (MISSED_BY + variance);
        (-self.hope * absent * kept, variance * kept)
    }

    /// How often noise alone makes such a gap; none without a number.
    fn p_value(&self) -> Option<Probability> {
        let Said::Judged(judged) = &self.said else {
            return None;
        };
        if self.foreknown.is_none() {
            return Some(judged.p_value);
        }
        let (gap, variance) = self.believed();
        let tail = Normal::STANDARD.cdf(-gap.abs() / variance.sqrt()).get();
        Probability::new((2.0 * tail).min(1.0))
    }

    fn aim(&self) -> Aim {
        let (gap, variance) = self.believed();
        Aim {
            line: self.line,
            weight: self.weight,
            gap,
            variance,
        }
    }
}

/// Two independent estimates of one thing as one.
#[must_use]
pub fn together(one: (f64, f64), other: (f64, f64)) -> (f64, f64) {
    let variance = 1.0 / (1.0 / one.1 + 1.0 / other.1);
    (variance * (one.0 / one.1 + other.0 / other.1), variance)
}
