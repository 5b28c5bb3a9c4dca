//! How alpha acid turns into iso-alpha-acid in hot wort, at one temperature or along a cooling.

use std::ops::RangeInclusive;

use crate::brewing::bounds::MINUTES;
use crate::brewing::bounds::within;

/// Temperatures of wort that hops may stand in, °C; the rate constants were measured at 90 to 130.
const WORT_CELSIUS: RangeInclusive<f64> = 0.0..=130.0;

/// What wort cools towards: the room, or the water in a coil, °C.
const ROOM_CELSIUS: f64 = 20.0;

/// The longest step of the integration, minutes; in it the temperature counts as that of its middle.
const STEP_MINUTES: f64 = 0.25;

/// The most steps of one stretch.
const MOST_STEPS: f64 = 2_000.0;

/// What the alpha acid of a charge has become, as parts of what went in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Isomerised {
    /// Still alpha acid.
    pub alpha: f64,
    /// Now iso-alpha-acid.
    pub iso: f64,
}

/// A stretch of time that hops spend in hot wort.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    minutes: f64,
    from: f64,
    to: f64,
}

impl Isomerised {
    /// A charge as it goes in.
    pub const FRESH: Self = Self {
        alpha: 1.0,
        iso: 0.0,
    };

    /// What is left after so many minutes at one temperature: two first-order steps, alpha to iso-alpha to
    /// losses (Malowicki & Shellhammer 2005, J. Agric. Food Chem. 53:4434-4439; measured at 90 to 130 °C in
    /// buffer, below that extrapolated).
    ///
    /// Domain: 0 to 1440 minutes, 0 to 130 °C; `None` outside.
    #[must_use]
    pub fn held(self, minutes: f64, celsius: f64) -> Option<Self> {
        let minutes = within(minutes, &MINUTES)?;
        let kelvin = within(celsius, &WORT_CELSIUS)? + 273.15;
        // Per minute. In this range formation is always faster than loss, so the difference is never 0.
        let formation = 7.9e11 * (-11_858.0 / kelvin).exp();
        let loss = 4.1e12 * (-12_994.0 / kelvin).exp();
        let (alpha, iso) = ((-formation * minutes).exp(), (-loss * minutes).exp());
        let made = formation / (formation - loss) * (iso - alpha);
        Some(Self {
            alpha: self.alpha * alpha,
            iso: self.iso * iso + self.alpha * made,
        })
    }

    /// What is left after a stretch, step by step at the temperature of the middle of each step.
    ///
    /// `None` where [`Self::held`] has none.
    #[must_use]
    pub fn along(self, stretch: Stretch) -> Option<Self> {
        if (stretch.from - stretch.to).abs() < 1e-9 {
            return self.held(stretch.minutes, stretch.from);
        }
        let steps = (stretch.minutes / STEP_MINUTES)
            .ceil()
            .clamp(1.0, MOST_STEPS);
        let step = stretch.minutes / steps;
        let mut now = self;
        let mut middle = step / 2.0;
        while middle < stretch.minutes {
            now = now.held(step, stretch.celsius(middle))?;
            middle += step;
        }
        Some(now)
    }
}

impl Stretch {
    /// So many minutes from one temperature to another, °C, falling as things cool: fast at first, towards
    /// the 20 °C of a room. The end cannot be warmer than the beginning, nor cooler than the room unless
    /// the beginning is.
    ///
    /// Domain: 0 to 1440 minutes, 0 to 130 °C; `None` outside.
    #[must_use]
    pub fn new(minutes: f64, from: f64, to: f64) -> Option<Self> {
        let from = within(from, &WORT_CELSIUS)?;
        let to = within(to, &WORT_CELSIUS)?.min(from);
        Some(Self {
            minutes: within(minutes, &MINUTES)?,
            from,
            // A twentieth of a degree above what it would never quite reach.
            to: to.max((ROOM_CELSIUS + 0.05).min(from)),
        })
    }

    /// How long it is, minutes.
    #[must_use]
    pub const fn minutes(self) -> f64 {
        self.minutes
    }

    /// The temperature at its end, °C.
    #[must_use]
    pub const fn end(self) -> f64 {
        self.to
    }

    /// The temperature after so many minutes, °C.
    fn celsius(self, minutes: f64) -> f64 {
        let (from, to) = (self.from - ROOM_CELSIUS, self.to - ROOM_CELSIUS);
        if from <= 0.0 || self.minutes <= 0.0 {
            return self.from;
        }
        ROOM_CELSIUS + from * (to / from).powf(minutes / self.minutes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn iso(minutes: f64, celsius: f64) -> f64 {
        Isomerised::FRESH.held(minutes, celsius).unwrap().iso
    }

    #[test]
    fn isomerisation_quickens_with_the_published_activation_energies() {
        // Malowicki & Shellhammer 2005, abstract: 98.6 kJ/mol for formation, 108.0 for loss.
        // At very short times the share formed is k1 t, so its logarithm against 1/T shows Ea.
        let gas_constant = 8.314_463e-3;
        let inverse = |celsius: f64| 1.0 / (celsius + 273.15);
        let share = |celsius| iso(1e-4, celsius);
        let formation: f64 =
            (share(130.0) / share(90.0)).ln() * gas_constant / (inverse(90.0) - inverse(130.0));
        assert!((formation - 98.6).abs() < 0.1, "{formation}");
        // After a day nearly all alpha acid is gone and what is left falls at k2.
        let late = |celsius| (iso(1380.0, celsius) / iso(1440.0, celsius)).ln();
        let loss: f64 =
            (late(120.0) / late(100.0)).ln() * gas_constant / (inverse(100.0) - inverse(120.0));
        assert!((loss - 108.0).abs() < 0.2, "{loss}");
    }

    #[test]
    fn hardly_anything_isomerises_below_seventy_degrees() {
        // Kishimoto 2021: isomerisation starts between 60 and 70 °C. An hour makes under 2 % at 60
        // and several per cent at 70.
        assert!(iso(60.0, 60.0) < 0.02);
        assert!(iso(60.0, 70.0) > 0.03);
    }

    #[test]
    fn the_isomerised_share_is_that_worked_by_hand() {
        // Computed from the rate constants; the published activation energies are checked above.
        let computed = [
            (70.0, [0.0116, 0.0154, 0.0230, 0.0453, 0.0670]),
            (80.0, [0.0304, 0.0403, 0.0597, 0.1150, 0.1663]),
            (90.0, [0.0745, 0.0977, 0.1420, 0.2585, 0.3534]),
            (100.0, [0.1668, 0.2141, 0.2976, 0.4759, 0.5745]),
            (110.0, [0.3284, 0.4012, 0.5066, 0.6172, 0.5814]),
            (130.0, [0.5838, 0.5341, 0.3941, 0.1218, 0.0355]),
        ];
        for (celsius, row) in computed {
            for (minutes, share) in [15.0, 20.0, 30.0, 60.0, 90.0].into_iter().zip(row) {
                let got = iso(minutes, celsius);
                let miss = (got - share).abs();
                assert!(miss < 0.000_06, "{minutes} min at {celsius} °C: {got}");
            }
        }
    }

    #[test]
    fn two_halves_of_a_stand_are_the_whole() {
        let half = Isomerised::FRESH.held(15.0, 95.0).unwrap();
        let whole = half.held(15.0, 95.0).unwrap();
        assert!((whole.iso - iso(30.0, 95.0)).abs() < 1e-12);
        // Nothing appears from nowhere.
        assert!(whole.alpha + whole.iso < 1.0);
    }

    #[test]
    fn wort_that_cannot_be_is_no_stretch() {
        for (minutes, from, to) in [
            (f64::NAN, 90.0, 80.0),
            (20.0, 500.0, 80.0),
            (20.0, 90.0, f64::INFINITY),
            (-1.0, 90.0, 80.0),
            (1e308, 90.0, 80.0),
        ] {
            assert_eq!(
                Stretch::new(minutes, from, to),
                None,
                "{minutes} {from} {to}"
            );
        }
        assert_eq!(Isomerised::FRESH.held(20.0, 500.0), None);
        // No time, no change; below the room nothing cools towards it.
        let none = Stretch::new(0.0, 98.0, 20.0).unwrap();
        assert_eq!(Isomerised::FRESH.along(none), Some(Isomerised::FRESH));
        let cold = Stretch::new(60.0, 4.0, 2.0).unwrap();
        assert!(Isomerised::FRESH.along(cold).unwrap().iso < 1e-4);
    }
}
