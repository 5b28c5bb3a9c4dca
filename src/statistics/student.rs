//! Student's t with any number of degrees of freedom, whole or not.

use std::f64::consts::PI;

use statrs::function::beta::beta_reg;
use statrs::function::gamma::ln_gamma;

use crate::statistics::Normal;
use crate::statistics::Probability;

/// From here on the normal distribution with a correction is nearer than the incomplete beta
/// function, whose parameters have grown too large for it.
const LARGE: f64 = 1e5;

/// Student's t distribution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StudentT {
    freedom: f64,
}

impl StudentT {
    /// With `freedom` degrees of freedom, infinity for the normal distribution; `None` unless above 0.
    #[must_use]
    pub fn new(freedom: f64) -> Option<Self> {
        (freedom > 0.0).then_some(Self { freedom })
    }

    /// The degrees of freedom.
    #[must_use]
    pub const fn freedom(self) -> f64 {
        self.freedom
    }

    /// P(|T| ≥ |t|).
    ///
    /// Iₓ(ν/2, 1/2) with x = ν/(ν + t²) (Abramowitz & Stegun 1964, 26.5.27); from 100,000 degrees of
    /// freedom the normal distribution at t(1 − 1/(4ν))/√(1 + t²/(2ν)) (26.7.8).
    #[must_use]
    pub fn two_sided_p(self, t: f64) -> Probability {
        let nu = self.freedom;
        let square = t * t;
        if nu > LARGE {
            let z = t.abs() * (1.0 - 0.25 / nu) / (1.0 + square / (2.0 * nu)).sqrt();
            return Probability::rounded(2.0 * Normal::STANDARD.upper_tail(z).get());
        }
        if square.is_infinite() {
            return Probability::ZERO;
        }
        // From the nearer end, so that neither a tiny nor a huge t loses its digits.
        Probability::rounded(if square < 1.0 {
            1.0 - beta_reg(0.5, nu / 2.0, square / (nu + square))
        } else {
            beta_reg(nu / 2.0, 0.5, nu / (nu + square))
        })
    }

    /// The value that T stays below with this probability: minus infinity for 0, infinity for 1.
    ///
    /// Found by Newton's steps between two values of t, or by halving where a step leaves them, until a step changes
    /// nothing any more.
    #[must_use]
    pub fn quantile(self, p: Probability) -> f64 {
        let tail = p.get().min(p.complement().get());
        if tail == 0.0 {
            return if p.get() > 0.5 {
                f64::INFINITY
            } else {
                f64::NEG_INFINITY
            };
        }
        let beyond = |t: f64| self.two_sided_p(t).get() > 2.0 * tail;
        let mut high = 1.0;
        while beyond(high) && high < f64::MAX / 2.0 {
            high *= 2.0;
        }
        let low = if high > 1.0 { high / 2.0 } else { 0.0 };
        let found = self.reached_between([low, high], 2.0 * tail);
        if p.get() > 0.5 { found } else { -found }
    }

    /// Where P(|T| ≥ t) is `both_tails`, between two values of t on either side of it.
    fn reached_between(self, [mut low, mut high]: [f64; 2], both_tails: f64) -> f64 {
        let density = self.density();
        let mut t = f64::midpoint(low, high);
        loop {
            let above = self.two_sided_p(t).get() - both_tails;
            if above > 0.0 {
                low = t;
            } else {
                high = t;
            }
            let step = above / (2.0 * density(t));
            let next = if t + step > low && t + step < high {
                t + step
            } else {
                f64::midpoint(low, high)
            };
            if (next - t).abs() <= f64::EPSILON * t || next <= low || next >= high {
                return next;
            }
            t = next;
        }
    }

    /// The density (Abramowitz & Stegun 1964, 26.7.1 differentiated); no number where ν is too large for its factors.
    fn density(self) -> impl Fn(f64) -> f64 {
        let nu = self.freedom;
        let half = f64::midpoint(nu, 1.0);
        let factor = ln_gamma(half) - ln_gamma(nu / 2.0) - 0.5 * (nu * PI).ln();
        move |t| (factor - half * (t * t / nu).ln_1p()).exp()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn student(freedom: f64) -> StudentT {
        StudentT::new(freedom).unwrap()
    }

    #[test]
    fn a_tail_far_out_keeps_its_digits_with_many_degrees_of_freedom() {
        // p = 1.6559e-20 by Simpson's rule on the density from 10 to 30, outside this program; subtracting
        // from 1 would give 0.
        let p = StudentT::new(300.0).unwrap().two_sided_p(10.0).get();
        assert!((p / 1.655_86e-20 - 1.0).abs() < 1e-3, "{p}");
    }

    #[test]
    fn chances_are_those_of_scipy_and_mpmath() {
        // scipy 1.17.1, 2*t.sf(t, nu); from 100,000 degrees of freedom mpmath 1.3, the density
        // integrated with 40 digits. Relative tolerance: the incomplete beta function of the crate
        // loses digits as its parameters grow.
        for (t, nu, expected, tolerance) in [
            (1.0, 1.0, 0.5, 1e-13),
            (1.0, 1.42, 0.457_153_135_762_181_5, 1e-13),
            (2.0, 2.99, 0.139_632_034_543_275_5, 1e-13),
            (-2.0, 2.99, 0.139_632_034_543_275_5, 1e-13),
            (8.0, 2.99, 0.004_126_216_646_675_462, 1e-13),
            (50.0, 1.5, 0.002_132_430_910_288_866, 1e-13),
            (3.0, 0.5, 0.367_308_155_985_943_4, 1e-13),
            (3.0, 30.0, 0.005_389_964_065_651_945, 1e-12),
            (3.0, 1e3, 0.002_766_709_044_238_192_5, 1e-12),
            (2.5, 1e5, 0.012_420_919_192_559_045, 1e-9),
            (2.5, 1e6, 0.012_419_489_502_163_246, 1e-9),
            (2.5, 4e6, 0.012_419_370_364_132_311, 1e-9),
            (2.5, 1e9, 0.012_419_330_810_402_494, 1e-12),
            (6.0, 4e6, 1.973_343_902_029_268_5e-9, 1e-9),
            (1e-8, 5.0, 0.999_999_992_407_866_2, 1e-13),
            (1e5, 5.0, 1.898_033_447_078_865_8e-24, 1e-13),
        ] {
            let found = student(nu).two_sided_p(t).get();
            let miss = (found / expected - 1.0).abs();
            assert!(miss < tolerance, "{t} {nu}: {found}, off by {miss:e}");
        }
    }

    #[test]
    fn quantiles_are_those_of_scipy() {
        // scipy 1.17.1, t.ppf(p, nu); 12.706, 4.032 and 1.310 stand in every printed table of t.
        for (p, nu, expected) in [
            (0.975, 1.0, 12.706_204_736_174_694),
            (0.975, 2.99, 3.188_476_114_808_231_5),
            (0.995, 5.0, 4.032_142_983_555_228),
            (0.9, 30.0, 1.310_415_025_391_395_5),
            (0.025, 120.0, -1.979_930_405_082_441_1),
            (0.999_83, 2.99, 18.711_899_033_513_518),
            (0.6, 0.7, 0.356_031_365_234_680_15),
            (0.975, 1e9, 1.959_963_986_912_325),
        ] {
            let found = student(nu).quantile(Probability::new(p).unwrap());
            assert!((found / expected - 1.0).abs() < 1e-11, "{p} {nu}: {found}");
        }
    }

    #[test]
    fn endless_freedom_is_the_normal_distribution() {
        // scipy 1.17.1, 2*norm.sf(1.959963984540054).
        let p = student(f64::INFINITY).two_sided_p(1.959_963_984_540_054);
        assert!((p.get() - 0.05).abs() < 1e-13);
    }

    #[test]
    fn the_ends_are_infinite_and_the_middle_is_nothing() {
        let some = student(3.0);
        assert!(some.quantile(Probability::ONE) == f64::INFINITY);
        assert!(some.quantile(Probability::ZERO) == f64::NEG_INFINITY);
        assert!(some.quantile(Probability::new(0.5).unwrap()).abs() < 1e-12);
        assert_eq!(some.two_sided_p(f64::INFINITY), Probability::ZERO);
        assert_eq!(some.two_sided_p(0.0), Probability::ONE);
    }

    #[test]
    fn no_freedom_is_no_distribution() {
        for bad in [0.0, -1.0, f64::NAN] {
            assert_eq!(StudentT::new(bad), None, "{bad}");
        }
    }
}
