//! How much gas is proposed at most for a bottle.

use crate::brewing::BottleKind;
use crate::brewing::MARGIN_VOLUMES;
use crate::domain::Bottle;

/// What a bottle of a recipe is, as far as it bears pressure; of a keg nobody says how much.
#[must_use]
pub const fn bottle_kind(bottle: Bottle) -> BottleKind {
    match bottle {
        Bottle::OneWay | Bottle::Crown => BottleKind::CrownOneWay,
        Bottle::Heavy => BottleKind::HeavyReusable,
        Bottle::SwingTop => BottleKind::SwingTop,
        Bottle::Champagne => BottleKind::Champagne,
        Bottle::Plastic => BottleKind::Pet,
        Bottle::Keg | Bottle::Unknown => BottleKind::Unknown,
    }
}

/// The most that is proposed, volumes: what a bottle bears less what no estimate can tell from it.
pub(in crate::profile) fn most_gas(bottle: Bottle) -> f64 {
    bottle_kind(bottle).limit_volumes() - MARGIN_VOLUMES
}
