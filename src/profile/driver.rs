//! The figures of a brew that the rules of the scales hang on, each with its range and what is usual.

use crate::domain::choice::choices;

choices! {
    /// A figure that a scale depends on.
    Driver ("a figure of the brew") {
        /// Real extract, % w/w.
        RealExtract = "real-extract", "real extract";
        /// Alcohol, % vol.
        Alcohol = "alcohol", "alcohol";
        /// Bitterness, IBU.
        Bitterness = "bitterness", "bitterness units";
        /// Carbon dioxide, volumes.
        Gas = "carbonation", "gas";
        /// Colour, EBC.
        Colour = "colour", "colour of the grist";
        /// Apparent attenuation, %.
        Attenuation = "attenuation", "attenuation";
        /// Roasted malt, % of the grist.
        Roasted = "roasted", "roasted malt";
        /// Crystal malt, % of the grist.
        Crystal = "crystal", "crystal malt";
        /// Wheat and rye, % of the grist.
        Wheat = "wheat", "wheat or rye";
        /// Oats, % of the grist.
        Oats = "oats", "oats";
        /// Dry hops, g/L.
        DryHop = "dry-hop", "dry hops";
        /// Chloride, mg/L.
        Chloride = "chloride", "chloride";
        /// Sulphate, mg/L.
        Sulphate = "sulphate", "sulphate";
        /// Sodium, mg/L.
        Sodium = "sodium", "sodium";
        /// Sparge water, °C.
        Sparge = "sparge", "hot sparge";
        /// Acid added, g/L.
        Acid = "acid", "added acid";
        /// Flavour units that the yeast brings to the soured and vinegar shelves.
        SourCulture = "sour-culture", "souring culture";
    }
}

/// A figure with the range in which it lies eight times in ten.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    low: f64,
    value: f64,
    high: f64,
}

impl Estimate {
    /// A figure with its range; the ends are put in order and made to hold the value.
    #[must_use]
    pub const fn new(value: f64, [one, other]: [f64; 2]) -> Self {
        Self {
            low: one.min(other).min(value),
            value,
            high: one.max(other).max(value),
        }
    }

    /// A figure that is known.
    #[must_use]
    pub const fn exact(value: f64) -> Self {
        Self {
            low: value,
            value,
            high: value,
        }
    }

    /// The lower end, the tenth percentile.
    #[must_use]
    pub const fn low(self) -> f64 {
        self.low
    }

    /// The figure.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.value
    }

    /// The upper end, the ninetieth percentile.
    #[must_use]
    pub const fn high(self) -> f64 {
        self.high
    }
}

impl Driver {
    /// What an ordinary beer has, and the range where nothing is known of this one (judgement).
    #[must_use]
    pub const fn usual(self) -> Estimate {
        let (value, ends) = match self {
            Self::RealExtract => (4.5, [3.0, 6.5]),
            Self::Alcohol => (5.0, [4.0, 6.5]),
            Self::Bitterness => (28.0, [15.0, 45.0]),
            Self::Gas => (2.4, [2.0, 2.8]),
            Self::Colour => (15.0, [7.0, 60.0]),
            Self::Attenuation => (76.0, [70.0, 82.0]),
            Self::Chloride => (60.0, [20.0, 120.0]),
            Self::Sulphate => (80.0, [20.0, 180.0]),
            Self::Sodium => (25.0, [8.0, 60.0]),
            Self::Sparge => (75.0, [72.0, 79.0]),
            Self::Roasted
            | Self::Crystal
            | Self::Wheat
            | Self::Oats
            | Self::DryHop
            | Self::Acid
            | Self::SourCulture => (0.0, [0.0, 0.0]),
        };
        Estimate::new(value, ends)
    }
}

/// Every figure of one brew; what is not known is as usual, with a wide range.
#[derive(Debug, Clone, PartialEq)]
pub struct Drivers([Estimate; Driver::ALL.len()]);

impl Default for Drivers {
    fn default() -> Self {
        let mut all = [Estimate::exact(0.0); Driver::ALL.len()];
        for (place, driver) in all.iter_mut().zip(Driver::ALL) {
            *place = driver.usual();
        }
        Self(all)
    }
}

impl Drivers {
    /// These figures with one of them known.
    #[must_use]
    pub const fn with(mut self, driver: Driver, estimate: Estimate) -> Self {
        self.0[driver as usize] = estimate;
        self
    }

    /// A figure.
    #[must_use]
    pub const fn get(&self, driver: Driver) -> Estimate {
        self.0[driver as usize]
    }
}
