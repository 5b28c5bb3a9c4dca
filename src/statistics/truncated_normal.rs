//! A normal distribution of what can only be above zero.

use crate::statistics::Normal;
use crate::statistics::Probability;

/// Less of a normal distribution than this above zero is nothing to take a quantile of.
const LEAST_MASS: f64 = 1e-290;

/// What is left of a normal distribution when only values above zero can be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TruncatedNormal(Normal);

impl TruncatedNormal {
    /// The part of `whole` above zero; `None` when all but 1e-290 of it lies below.
    #[must_use]
    pub fn above_zero(whole: Normal) -> Option<Self> {
        let mass = whole.upper_tail(0.0).get();
        (mass > LEAST_MASS).then_some(Self(whole))
    }

    /// The value that stays above all but `p` of it.
    ///
    /// With F the distribution of the whole, F⁻¹(F(0) + p·(1 − F(0))) (Johnson, Kotz & Balakrishnan
    /// 1994, vol. 1, section 13.10.1), taken from the nearer end so that far out no digit is lost.
    #[must_use]
    pub fn quantile(self, p: Probability) -> f64 {
        let mass = self.0.upper_tail(0.0).get();
        let above = Probability::rounded(p.complement().get() * mass);
        let value = if above.get() < 0.5 {
            let mean = self.0.mean();
            2.0 * mean - self.0.quantile(above)
        } else {
            let below = self.0.cdf(0.0).get() + p.get() * mass;
            self.0.quantile(Probability::rounded(below))
        };
        value.max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use crate::statistics::Sd;

    use super::*;

    /// scipy 1.17.1, `truncnorm.ppf([.1, .5, .9], -m/s, inf, loc=m, scale=s)`.
    const CHECKS: [(f64, f64, [f64; 3]); 6] = [
        (
            0.0,
            1.0,
            [
                0.125_661_346_855_074_02,
                0.674_489_750_196_081_7,
                1.644_853_626_951_472_9,
            ],
        ),
        (
            2.0,
            1.0,
            [
                0.827_385_015_162_805_3,
                2.028_516_926_590_917_5,
                3.294_623_986_645_134,
            ],
        ),
        (
            -3.0,
            1.0,
            [
                0.031_947_269_879_009_976,
                0.205_154_920_598_933_37,
                0.642_522_275_831_624_2,
            ],
        ),
        (
            -30.0,
            1.0,
            [
                0.003_507_923_244_178_812,
                0.023_070_467_827_313_48,
                0.076_570_337_034_944_2,
            ],
        ),
        (5.0, 0.5, [4.359_224_217_227_7, 5.0, 5.640_775_782_772_3]),
        (
            1.5,
            2.0,
            [
                0.473_936_851_202_362_5,
                2.075_932_306_215_886_8,
                4.346_425_231_492_249,
            ],
        ),
    ];

    fn normal(mean: f64, sd: f64) -> Normal {
        Normal::new(mean, Sd::new(sd).unwrap())
    }

    #[test]
    fn quantiles_are_those_of_scipy() {
        for (mean, sd, expected) in CHECKS {
            let cut = TruncatedNormal::above_zero(normal(mean, sd)).unwrap();
            for (p, expected) in [0.1, 0.5, 0.9].into_iter().zip(expected) {
                let found = cut.quantile(Probability::new(p).unwrap());
                // Absolute: 30 standard deviations out, mean and quantile cancel to a few hundredths.
                assert!((found - expected).abs() < 1e-12, "{mean} {sd} {p}: {found}");
            }
        }
    }

    #[test]
    fn it_begins_at_zero_and_has_no_end() {
        let cut = TruncatedNormal::above_zero(normal(-1.0, 1.0)).unwrap();
        assert!(cut.quantile(Probability::ZERO).abs() < 1e-12);
        assert!(cut.quantile(Probability::ONE) == f64::INFINITY);
    }

    #[test]
    fn what_lies_below_zero_altogether_has_no_part_above() {
        assert_eq!(TruncatedNormal::above_zero(normal(-40.0, 1.0)), None);
    }
}
