//! The oil of a hop as an analysis tells it: how much, and what it is made of.

use crate::domain::Spread;

/// The oil of a hop variety; shares are per cent of the oil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HopOil {
    /// All of it, mL in 100 g of hops.
    pub total: Spread,
    /// Myrcene.
    pub myrcene: Spread,
    /// Humulene.
    pub humulene: Spread,
    /// Linalool.
    pub linalool: Spread,
    /// Geraniol.
    pub geraniol: Spread,
}
