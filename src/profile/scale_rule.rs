//! A rule of a scale: a base and what each figure of the brew adds to it, with a range and reasons.

use crate::domain::Scale;
use crate::profile::Driver;
use crate::profile::Drivers;

/// From the tenth to the ninetieth percentile of a normal distribution, in standard deviations.
pub(crate) const TENTH_TO_NINETIETH: f64 = 2.563_103_131_089_201;

/// How a figure adds to a scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Curve {
    /// `per` for each unit above or below `from`.
    Straight {
        /// Where it adds nothing.
        from: f64,
        /// What one unit adds.
        per: f64,
    },
    /// `per` for each unit above `from`, nothing below.
    Above {
        /// Where it begins.
        from: f64,
        /// What one unit adds.
        per: f64,
    },
    /// most × (1 − e^(−figure/bend)).
    Saturating {
        /// What it comes to at last.
        most: f64,
        /// Where it has come to 63 % of that.
        bend: f64,
    },
}

impl Curve {
    fn at(self, figure: f64) -> f64 {
        match self {
            Self::Straight { from, per } => per * (figure - from),
            Self::Above { from, per } => per * (figure - from).max(0.0),
            Self::Saturating { most, bend } => most * (1.0 - (-figure.max(0.0) / bend).exp()),
        }
    }
}

/// What one figure adds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Term {
    /// Which figure.
    pub driver: Driver,
    /// How it adds.
    pub curve: Curve,
}

/// A worked example of a rule: figures given, everything else as usual, and what comes out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Example {
    /// The figures.
    pub given: &'static [(Driver, f64)],
    /// What comes out by hand, in the unit of the scale.
    pub expected: f64,
}

/// One rule; the whole knowledge about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ScaleRule {
    /// The id of the scale.
    pub scale: &'static str,
    /// The value that everything adds to, in the unit of the scale.
    pub base: f64,
    /// What adds.
    pub terms: &'static [Term],
    /// The standard deviation that stays when every figure is known, in the unit of the scale.
    pub residual: f64,
    /// Where the rule comes from.
    pub source: &'static str,
    /// A worked example.
    pub example: Example,
}

/// What one figure adds to a scale compared with an ordinary beer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moved {
    /// Which figure.
    pub driver: Driver,
    /// What it is here.
    pub figure: f64,
    /// What it adds, in the unit of the scale.
    pub adds: f64,
    /// How it adds.
    pub curve: Curve,
}

/// What a rule says of a brew: a value, its spread, and what moved it.
#[derive(Debug, Clone, PartialEq)]
pub struct ScaleForecast {
    /// The scale.
    pub scale: &'static Scale,
    /// The value in the unit of the scale; it may lie beyond the ends of its digits.
    pub value: f64,
    /// The standard deviation in the unit of the scale.
    pub sd: f64,
    /// What each figure adds compared with an ordinary beer, in the unit of the scale; none that
    /// adds nothing.
    pub reasons: Vec<Moved>,
}

impl ScaleForecast {
    /// The tenth and the ninetieth percentile, in digits of the scale.
    #[must_use]
    pub fn digits_range(&self) -> (f64, f64) {
        let reach = self.sd * TENTH_TO_NINETIETH / 2.0;
        let end = |value: f64| self.scale.digits(value);
        (end(self.value - reach), end(self.value + reach))
    }

    /// The value in digits of the scale.
    #[must_use]
    pub fn digits(&self) -> f64 {
        self.scale.digits(self.value)
    }
}

impl ScaleRule {
    /// The value alone, in the unit of the scale.
    #[must_use]
    pub fn value(&self, drivers: &Drivers) -> f64 {
        let terms = self.terms.iter();
        let adds = terms.map(|it| it.curve.at(drivers.get(it.driver).value()));
        self.base + adds.sum::<f64>()
    }

    /// What the rule says of a brew; none if its scale is not known.
    #[must_use]
    pub fn forecast(&self, drivers: &Drivers) -> Option<ScaleForecast> {
        let scale = Scale::from_id(self.scale).ok()?;
        let mut value = self.base;
        let mut variance = self.residual * self.residual;
        let mut reasons = Vec::with_capacity(self.terms.len());
        for term in self.terms {
            let figure = drivers.get(term.driver);
            let here = term.curve.at(figure.value());
            value += here;
            let width = term.curve.at(figure.high()) - term.curve.at(figure.low());
            variance += (width / TENTH_TO_NINETIETH).powi(2);
            let moved = here - term.curve.at(term.driver.usual().value());
            if moved != 0.0 {
                reasons.push(Moved {
                    driver: term.driver,
                    figure: figure.value(),
                    adds: moved,
                    curve: term.curve,
                });
            }
        }
        Some(ScaleForecast {
            scale,
            value,
            sd: variance.sqrt(),
            reasons,
        })
    }
}
