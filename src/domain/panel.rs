//! A panel: several tasters with the same beers, each beer under a code.

use crate::domain::Form;
use crate::domain::Millilitres;
use crate::domain::Moment;
use crate::domain::SittingId;
use crate::domain::TasterId;

/// A panel as stored; its people, glasses and orders hang on its sitting.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// The sitting.
    pub sitting: SittingId,
    /// The number by which people call it.
    pub number: u32,
    /// How much is asked of each glass.
    pub form: Form,
    /// What goes into one glass.
    pub glass: Millilitres,
    /// The taster who poured and so knows the key; none if whoever poured does not taste.
    pub poured_by: Option<TasterId>,
    /// When it was planned.
    pub made_at: Moment,
    /// When it was told what was in the glasses; none before.
    pub told_at: Option<Moment>,
}
