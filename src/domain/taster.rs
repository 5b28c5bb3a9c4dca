//! A person who tastes.

use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::TasterId;

/// A taster as stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taster {
    /// The id.
    pub id: TasterId,
    /// The name they go by at the table; may be a pseudonym.
    pub name: Name,
    /// When they were added.
    pub made_at: Moment,
}
