//! What was concluded from the whole store, kept in memory for as long as nobody has written to the file.

use std::cell::RefCell;
use std::sync::Arc;

use crate::storage::StoreStamp;
use crate::workflow::WorkflowError;

/// One conclusion, with the state of the store it was drawn from.
pub(super) struct Remembered<T>(RefCell<Option<(StoreStamp, Arc<T>)>>);

impl<T> Default for Remembered<T> {
    fn default() -> Self {
        Self(RefCell::new(None))
    }
}

impl<T> Remembered<T> {
    /// Forgets it, after the whole file was written over.
    pub(super) fn forget(&self) {
        *self.0.borrow_mut() = None;
    }

    /// The conclusion; drawn anew where the store has changed since, from this window or another.
    pub(super) fn or_drawn(
        &self,
        stamp: StoreStamp,
        draw: impl FnOnce() -> Result<T, WorkflowError>,
    ) -> Result<Arc<T>, WorkflowError> {
        let kept = self.0.borrow().clone();
        if let Some((_, conclusion)) = kept.filter(|it| it.0 == stamp) {
            return Ok(conclusion);
        }
        let drawn = Arc::new(draw()?);
        *self.0.borrow_mut() = Some((stamp, Arc::clone(&drawn)));
        Ok(drawn)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Dice;
    use crate::workflow::Clock;
    use crate::workflow::Home;

    #[test]
    fn what_is_known_of_tasters_is_forgotten_as_soon_as_anybody_writes() {
        let folder = tempfile::tempdir().unwrap();
        let window = |seed| Home::open(folder.path(), Clock::system(), Dice::from_seed(seed));
        let (mut home, mut other) = (window(1).unwrap(), window(2).unwrap());
        let first = home.taster_noise().unwrap();
        let again = || Arc::ptr_eq(&first, &home.taster_noise().unwrap());
        assert!(again());
        other.add_taster("Cleo").unwrap();
        assert!(!again());
        let first = home.taster_noise().unwrap();
        home.add_taster("Ana").unwrap();
        assert!(!Arc::ptr_eq(&first, &home.taster_noise().unwrap()));
    }
}
