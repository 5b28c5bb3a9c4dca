//! The flavour units of a hop's oil: what of it a dry hop brings, over its threshold.

use crate::brewing::oil_micrograms;
use crate::domain::HopOil;
use crate::domain::HopPart;
use crate::domain::Spread;
use crate::profile::scale_rule::TENTH_TO_NINETIETH;

/// The part of the hydrocarbons that a dry hop leaves in the beer (Forster & Gahr 2013, `BrewingScience` 66:93).
const HYDROCARBONS_KEPT: f64 = 0.03;

/// Thresholds in beer, µg/L: myrcene 100 (10 to 1,000), linalool 27 (Meilgaard 1982), geraniol 36 (the upper
/// end of the older figures); all from memory.
const MYRCENE: f64 = 100.0;
const LINALOOL: f64 = 27.0;
const GERANIOL: f64 = 36.0;

/// One substance of the oil: its share, and the flavour units that a dry hop of 1 g/L has of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OilSubstance {
    /// Its name.
    pub name: &'static str,
    /// Per cent of the oil.
    pub share: Spread,
    /// What a dry hop keeps of it, as a fraction.
    pub kept: f64,
    /// Its threshold, µg/L.
    pub threshold: f64,
}

/// The substances that a part of a hop is reckoned by; none for parts that no analysis of oil tells.
#[must_use]
pub fn oil_substances(oil: &HopOil, part: HopPart) -> Vec<OilSubstance> {
    let substance = |name, share, kept, threshold| OilSubstance {
        name,
        share,
        kept,
        threshold,
    };
    match part {
        HopPart::Resinous => vec![substance(
            "myrcene",
            oil.myrcene,
            HYDROCARBONS_KEPT,
            MYRCENE,
        )],
        HopPart::Floral => vec![
            substance("linalool", oil.linalool, 1.0, LINALOOL),
            substance("geraniol", oil.geraniol, 1.0, GERANIOL),
        ],
        HopPart::Thiol | HopPart::Noble => Vec::new(),
    }
}

/// Flavour units of a part of the oil from a dry hop of 1 g/L, and how far they stray from packet to packet:
/// the standard deviation of their log10, from the ranges of oil and share, which are tenth and ninetieth
/// percentile and vary by themselves.
#[must_use]
pub(super) fn oil_units(oil: &HopOil, part: HopPart) -> (f64, f64) {
    let (mut units, mut variance) = (0.0, 0.0);
    for it in oil_substances(oil, part) {
        let fraction = it.share.usual() / 100.0;
        let micrograms = oil_micrograms(1.0, oil.total.usual(), fraction, it.kept);
        let own = micrograms.unwrap_or(0.0) / it.threshold;
        units += own;
        variance += (own * log_spread(it.share)).powi(2);
    }
    if units <= 0.0 {
        return (0.0, 0.0);
    }
    let shares = variance.sqrt() / units;
    (units, shares.hypot(log_spread(oil.total)))
}

/// The standard deviation of log10 of what has this spread.
fn log_spread(spread: Spread) -> f64 {
    let ends = spread.high().max(f64::MIN_POSITIVE) / spread.low().max(1e-3 * spread.high());
    ends.log10().max(0.0) / TENTH_TO_NINETIETH
}
