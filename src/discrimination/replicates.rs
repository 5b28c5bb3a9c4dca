//! Several answers by the same tasters: what they say of all tasters and of each.

use crate::discrimination::Method;
use crate::discrimination::Ways;
use crate::statistics::Count;
use crate::statistics::PopulationReading;
use crate::statistics::Tarone;
use crate::statistics::read_population;
use crate::statistics::tarone;

/// What replicates say beside the sum.
///
/// The sum of all answers is a valid test of difference, because where the beers are the same every
/// answer is a guess; for anything else the answers of one taster are no independent ones (ISO 10399).
#[derive(Debug, Clone, PartialEq)]
pub struct Replicates {
    /// Whether tasters differ more than one common chance has them differ; none where all or nobody was
    /// right.
    pub spread: Option<Tarone>,
    /// The proportion of discriminators among all such tasters, and each one's own share; its limits
    /// stand in place of those of the sum. None where no direction is fixed.
    pub population: Option<PopulationReading>,
}

impl Replicates {
    /// Reads the counts of tasters; none if nobody answered twice.
    #[must_use]
    pub fn read(method: &Method, tasters: &[Count]) -> Option<Self> {
        if tasters.iter().all(|it| it.tries() < 2) {
            return None;
        }
        let population = match method.ways {
            Ways::One => read_population(tasters, method.guess()),
            Ways::Either => None,
        };
        Some(Self {
            spread: tarone(tasters),
            population,
        })
    }
}
