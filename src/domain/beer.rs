//! What fills a glass: a batch of one's own, or any bottle by a free name.

use crate::domain::Abv;
use crate::domain::BatchId;
use crate::domain::BeerId;
use crate::domain::Name;

/// A beer as stored.
#[derive(Debug, Clone, PartialEq)]
pub struct Beer {
    /// The id.
    pub id: BeerId,
    /// What is written on the bottle: the only name a taster sees before the lock.
    pub cap_mark: Name,
    /// The batch, once known; a beer known only by its cap mark has none yet.
    pub batch: Option<BatchId>,
    /// Its alcohol content, where somebody stated it.
    pub abv: Option<Abv>,
}
