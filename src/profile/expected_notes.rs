//! From a forecast to the digits a taster is expected to write down, as predicted and as learnt.

use crate::domain::Measure;
use crate::profile::Digits;
use crate::profile::Hurdle;
use crate::profile::Odour;
use crate::profile::Offset;
use crate::profile::ScaleForecast;
use crate::statistics::Normal;
use crate::statistics::Sd;

/// From the tenth to the ninetieth percentile of a normal distribution, in standard deviations.
const TENTHS_APART: f64 = 2.563_103_131_089_201;

/// The middles of as many equal parts of what a smell's strength may be.
const PARTS: [f64; 8] = {
    let mut parts = [0.0; 8];
    let mut part = 0;
    while part < 8 {
        parts[part] = (part as f64 + 0.5) / 8.0;
        part += 1;
    }
    parts
};

/// What was learnt of a taster on one line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shift {
    /// By how much they answer above the prediction, in digits.
    pub offset: Offset,
    /// κ: how many times wider than predicted their answers scatter.
    pub factor: f64,
    /// By how much the logit of the chance to name a shelf lies above the predicted one.
    pub naming: f64,
}

impl Shift {
    /// Nothing was learnt.
    pub const NONE: Self = Self {
        offset: Offset::NONE,
        factor: 1.0,
        naming: 0.0,
    };
}

impl ScaleForecast {
    /// The standard deviation in digits: of an intensity its own, of an amount in its unit half the way
    /// between its tenths, as far as they lie on the scale.
    #[must_use]
    fn digits_sd(&self) -> f64 {
        match self.scale.measure {
            Measure::Amount { .. } => {
                let (low, high) = self.digits_range();
                (high - low) / TENTHS_APART
            }
            _ => self.sd,
        }
    }

    /// The digits that notes with this variance about what is there are expected to show: a normal
    /// distribution with mean m + offset and variance κ²(s² + v) + Var(offset), rounded.
    #[must_use]
    pub fn digits_expected(&self, notes: f64, shift: Shift) -> Digits {
        let spread = shift.factor.powi(2) * (self.digits_sd().powi(2) + notes);
        let normal = normal(
            self.digits() + shift.offset.mean,
            spread + shift.offset.variance,
        );
        Digits::rounded(normal)
    }
}

impl Odour {
    /// How often it is expected to be named, and at which digits by notes with this variance about what is
    /// there.
    #[must_use]
    pub fn expected(self, notes: f64, shift: Shift) -> Hurdle {
        let [middle] = self.if_named_at([0.5]);
        let variance = shift.factor.powi(2) * notes + shift.offset.variance;
        let parts = self.if_named_at(PARTS).map(|it| {
            let place = middle + shift.factor * (it - middle) + shift.offset.mean;
            normal(place, variance)
        });
        Hurdle::new(
            self.named().logit_moved(shift.naming),
            Digits::named(&parts),
        )
    }
}

fn normal(mean: f64, variance: f64) -> Normal {
    // A spread of nothing is one far below a digit.
    const LEAST: f64 = 1e-6;
    let sd = Sd::new(variance.max(LEAST).sqrt()).or_else(|| Sd::new(LEAST));
    Normal::new(mean, sd.expect("a small number above 0 is one"))
}

#[cfg(test)]
mod tests {
    use crate::domain::Scale;

    use super::*;

    fn bitter(value: f64, sd: f64) -> ScaleForecast {
        ScaleForecast {
            scale: Scale::from_id("bitter").unwrap(),
            value,
            sd,
            reasons: Vec::new(),
        }
    }

    fn shift(mean: f64, variance: f64, factor: f64) -> Shift {
        Shift {
            offset: Offset { mean, variance },
            factor,
            naming: 0.0,
        }
    }

    #[test]
    fn a_scale_is_moved_by_its_offset_and_widened_by_its_factor_and_its_doubt() {
        // By hand: 4 + 1; 2²·(0.04 + 0.05) + 0.64 = 1, and 1/12 for whole digits (Sheppard 1898).
        let it = bitter(4.0, 0.2).digits_expected(0.05, shift(1.0, 0.64, 2.0));
        assert!((it.mean() - 5.0).abs() < 1e-3, "{}", it.mean());
        assert!(
            (it.variance() - 13.0 / 12.0).abs() < 1e-3,
            "{}",
            it.variance()
        );
    }

    #[test]
    fn a_smell_far_above_every_threshold_is_named_at_its_own_strength() {
        // By hand: 32 units stand at 4.5 (u = 8, 72/16), and Φ(log10(32)/0.5) = Φ(3.01) = 0.99869 name it; it is
        // named from the lowest of PARTS to the highest, half of them below its median.
        let it = Odour::new(32.0, 1e-9).unwrap().expected(1e-9, Shift::NONE);
        assert!((it.named().get() - 0.998_69).abs() < 1e-4);
        assert!(it.if_named().cdf(3).get() < 0.5 && it.if_named().cdf(4).get() >= 0.5);
        let louder = Odour::new(32.0, 1e-9)
            .unwrap()
            .expected(1e-9, shift(2.0, 0.0, 1.0));
        assert!((louder.if_named().mean() - it.if_named().mean() - 2.0).abs() < 0.3);
    }
}
