//! The figures of a brew that the rules of the scales hang on, each with its range and what is usual.

/// A figure that a scale depends on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Driver {
    /// Real extract, % w/w.
    RealExtract,
    /// Alcohol, % vol.
    Alcohol,
    /// Bitterness, IBU.
    Bitterness,
    /// What bitterness units and dry hops are worth to the tongue, mg/L of iso-alpha-acid.
    BitterEquivalents,
    /// Carbon dioxide, volumes.
    Gas,
    /// Colour, EBC.
    Colour,
    /// Apparent attenuation, %.
    Attenuation,
    /// Roasted malt, % of the grist.
    Roasted,
    /// Crystal malt, % of the grist.
    Crystal,
    /// Wheat and rye, % of the grist.
    Wheat,
    /// Oats, % of the grist.
    Oats,
    /// Dry hops, g/L.
    DryHop,
    /// Chloride, mg/L.
    Chloride,
    /// Sulphate, mg/L.
    Sulphate,
    /// Sodium, mg/L.
    Sodium,
    /// β-glucan, mg/L.
    Glucan,
    /// Polyphenols of hops, mg/L.
    HopPolyphenols,
    /// Finings, as a part of their usual dose.
    Fining,
    /// How far below 12 °C the beer was kept, °C.
    Chill,
    /// Sparge water, °C.
    Sparge,
    /// pH of the sparge.
    SpargeAcidity,
    /// Acid added, g/L.
    Acid,
    /// Flavour units that the yeast brings to the soured and vinegar shelves.
    SourCulture,
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

    /// The lower end, the tenth percentile, in the unit of the driver.
    #[must_use]
    pub const fn low(self) -> f64 {
        self.low
    }

    /// The figure, in the unit of the driver.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.value
    }

    /// The upper end, the ninetieth percentile, in the unit of the driver.
    #[must_use]
    pub const fn high(self) -> f64 {
        self.high
    }
}

impl Driver {
    /// Every figure.
    pub const ALL: [Self; 23] = [
        Self::RealExtract,
        Self::Alcohol,
        Self::Bitterness,
        Self::BitterEquivalents,
        Self::Gas,
        Self::Colour,
        Self::Attenuation,
        Self::Roasted,
        Self::Crystal,
        Self::Wheat,
        Self::Oats,
        Self::DryHop,
        Self::Chloride,
        Self::Sulphate,
        Self::Sodium,
        Self::Glucan,
        Self::HopPolyphenols,
        Self::Fining,
        Self::Chill,
        Self::Sparge,
        Self::SpargeAcidity,
        Self::Acid,
        Self::SourCulture,
    ];

    /// The words on screen.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::RealExtract => "real extract",
            Self::Alcohol => "alcohol",
            Self::Bitterness => "bitterness units",
            Self::BitterEquivalents => "hop bitterness",
            Self::Gas => "gas",
            Self::Colour => "colour of the grist",
            Self::Attenuation => "attenuation",
            Self::Roasted => "roasted malt",
            Self::Crystal => "crystal malt",
            Self::Wheat => "wheat or rye",
            Self::Oats => "oats",
            Self::DryHop => "dry hops",
            Self::Chloride => "chloride",
            Self::Sulphate => "sulphate",
            Self::Sodium => "sodium",
            Self::Glucan => "β-glucan",
            Self::HopPolyphenols => "hop polyphenols",
            Self::Fining => "finings",
            Self::Chill => "cold storage",
            Self::Sparge => "hot sparge",
            Self::SpargeAcidity => "sparge pH",
            Self::Acid => "added acid",
            Self::SourCulture => "souring culture",
        }
    }

    /// What an ordinary beer has, and the range where nothing is known of this one (judgement).
    #[must_use]
    pub const fn usual(self) -> Estimate {
        let (value, ends) = match self {
            Self::RealExtract => (4.5, [3.0, 6.5]),
            Self::Alcohol => (5.0, [4.0, 6.5]),
            Self::Bitterness | Self::BitterEquivalents => (28.0, [15.0, 45.0]),
            Self::Gas => (2.4, [2.0, 2.8]),
            Self::Colour => (15.0, [7.0, 60.0]),
            Self::Attenuation => (76.0, [70.0, 82.0]),
            Self::Chloride => (60.0, [20.0, 120.0]),
            Self::Sulphate => (80.0, [20.0, 180.0]),
            Self::Sodium => (25.0, [8.0, 60.0]),
            Self::Glucan => (100.0, [60.0, 160.0]),
            Self::HopPolyphenols => (25.0, [10.0, 60.0]),
            Self::Sparge => (75.0, [72.0, 79.0]),
            Self::SpargeAcidity => (5.6, [5.4, 5.9]),
            Self::Roasted
            | Self::Crystal
            | Self::Wheat
            | Self::Oats
            | Self::DryHop
            | Self::Fining
            | Self::Chill
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
