//! The normal distribution: cumulative, density and quantile.

use std::f64::consts::PI;
use std::f64::consts::SQRT_2;

use libm::erfc;
use statrs::function::erf::erfc_inv;

use crate::statistics::Probability;

/// A standard deviation: above 0 and finite.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Sd(f64);

impl Sd {
    /// The standard deviation `value`; `None` unless it is above 0 and finite.
    #[must_use]
    pub const fn new(value: f64) -> Option<Self> {
        if value > 0.0 && value.is_finite() {
            Some(Self(value))
        } else {
            None
        }
    }

    /// The number.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }

    /// The variance.
    #[must_use]
    pub const fn squared(self) -> f64 {
        self.0 * self.0
    }
}

/// A normal distribution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Normal {
    mean: f64,
    sd: Sd,
}

impl Normal {
    /// Mean 0, standard deviation 1.
    pub const STANDARD: Self = Self {
        mean: 0.0,
        sd: Sd(1.0),
    };

    /// The normal distribution with this mean and standard deviation.
    #[must_use]
    pub const fn new(mean: f64, sd: Sd) -> Self {
        Self { mean, sd }
    }

    /// The mean.
    #[must_use]
    pub const fn mean(self) -> f64 {
        self.mean
    }

    /// The standard deviation.
    #[must_use]
    pub const fn sd(self) -> Sd {
        self.sd
    }

    /// P(X ≤ x).
    #[must_use]
    pub fn cdf(self, x: f64) -> Probability {
        upper_tail(-self.standardised(x))
    }

    /// P(X > x), exact far out too, where 1 − `cdf` is only rounding.
    #[must_use]
    pub fn upper_tail(self, x: f64) -> Probability {
        upper_tail(self.standardised(x))
    }

    /// The density at `x`.
    #[must_use]
    pub fn density(self, x: f64) -> f64 {
        let z = self.standardised(x);
        (-z * z / 2.0).exp() / (self.sd.get() * (2.0 * PI).sqrt())
    }

    /// The value that X stays below with this probability: minus infinity for 0, infinity for 1.
    #[must_use]
    pub fn quantile(self, p: Probability) -> f64 {
        self.mean - self.sd.get() * SQRT_2 * erfc_inv(2.0 * p.get())
    }

    fn standardised(self, x: f64) -> f64 {
        (x - self.mean) / self.sd.get()
    }
}

/// P(Z > z) = erfc(z/√2)/2 (Abramowitz & Stegun 1964, 26.2.29): the error function of libm is good to its last digit,
/// that of statrs to ten digits only, and the incomplete gamma function takes much longer.
fn upper_tail(z: f64) -> Probability {
    Probability::rounded(erfc(z / SQRT_2) / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// scipy 1.17.1, `norm.cdf` and `norm.pdf`.
    const CHECKS: [(f64, f64, f64); 10] = [
        (
            -37.0,
            5.725_571_222_523_927e-300,
            2.120_006_551_524_606e-298,
        ),
        (-10.0, 7.619_853_024_160_47e-24, 7.694_598_626_706_42e-23),
        (-5.0, 2.866_515_718_791_933e-7, 1.486_719_514_734_297_8e-6),
        (-1.959_963_984_540_054, 0.025, 0.058_445_069_805_035_38),
        (-1.0, 0.158_655_253_931_457_07, 0.241_970_724_519_143_37),
        (-0.5, 0.308_537_538_725_986_9, 0.352_065_326_764_299_5),
        (0.0, 0.5, 0.398_942_280_401_432_7),
        (0.3, 0.617_911_422_188_952_6, 0.381_387_815_460_524_14),
        (1.0, 0.841_344_746_068_542_9, 0.241_970_724_519_143_37),
        (3.0, 0.998_650_101_968_369_9, 0.004_431_848_411_938_007_5),
    ];

    /// Relative: far out one more in the last digit of z is many in those of its tail.
    const TOLERANCE: f64 = 1e-12;

    fn close(found: f64, expected: f64) -> bool {
        (found - expected).abs() <= TOLERANCE * expected.abs()
    }

    #[test]
    fn chance_and_density_are_those_of_scipy() {
        for (z, below, density) in CHECKS {
            let standard = Normal::STANDARD;
            assert!(close(standard.cdf(z).get(), below), "{z}");
            assert!(close(standard.upper_tail(-z).get(), below), "{z}");
            assert!(close(standard.density(z), density), "{z}");
        }
    }

    #[test]
    fn quantiles_are_those_of_scipy() {
        // scipy 1.17.1, norm.ppf.
        for (p, z) in [
            (1e-300, -37.047_096_299_361_2),
            (1e-10, -6.361_340_902_404_056),
            (0.001, -3.090_232_306_167_813),
            (0.025, -1.959_963_984_540_054_5),
            (0.1, -1.281_551_565_544_600_4),
            (0.9, 1.281_551_565_544_600_4),
            (0.975, 1.959_963_984_540_054),
        ] {
            let p = Probability::new(p).unwrap();
            assert!(close(Normal::STANDARD.quantile(p), z), "{z}");
        }
        assert!(
            Normal::STANDARD
                .quantile(Probability::new(0.5).unwrap())
                .abs()
                < 1e-15
        );
        assert!(Normal::STANDARD.quantile(Probability::ONE) == f64::INFINITY);
        assert!(Normal::STANDARD.quantile(Probability::ZERO) == f64::NEG_INFINITY);
    }

    #[test]
    fn mean_and_deviation_move_and_stretch_it() {
        // scipy 1.17.1: norm(5, 2).cdf(3) = norm.cdf(-1), its density half of that at -1.
        let moved = Normal::new(5.0, Sd::new(2.0).unwrap());
        assert!(close(moved.cdf(3.0).get(), 0.158_655_253_931_457_07));
        assert!(close(moved.density(3.0), 0.241_970_724_519_143_37 / 2.0));
        let p = Probability::new(0.9).unwrap();
        assert!(close(
            moved.quantile(p),
            5.0 + 2.0 * 1.281_551_565_544_600_4
        ));
    }

    #[test]
    fn the_ends_of_the_line_have_no_chance_beyond_them() {
        assert_eq!(Normal::STANDARD.cdf(f64::INFINITY), Probability::ONE);
        assert_eq!(Normal::STANDARD.cdf(f64::NEG_INFINITY), Probability::ZERO);
    }

    #[test]
    fn nothing_spreads_by_nothing() {
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(Sd::new(bad), None, "{bad}");
        }
    }
}
