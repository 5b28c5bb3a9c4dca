//! What was concluded from the whole store, kept in memory for as long as nobody has written to the file.

use std::cell::RefCell;
use std::sync::Arc;

use crate::storage::StoreStamp;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// One conclusion, with the state of the store it was drawn from.
pub struct Remembered<T>(RefCell<Option<Kept<T>>>);

/// What came of drawing it.
struct Kept<T> {
    stamp: StoreStamp,
    /// None where it was refused.
    conclusion: Option<Arc<T>>,
}

impl<T> Default for Remembered<T> {
    fn default() -> Self {
        Self(RefCell::new(None))
    }
}

impl<T> Remembered<T> {
    /// Forgets it, after the words it was read with became others, or where something else is asked for.
    pub fn forget(&self) {
        *self.0.borrow_mut() = None;
    }

    /// True while it was drawn, or refused, from the store as it is now. Where the store cannot be read nothing more
    /// can be drawn either.
    #[must_use]
    pub fn is_of_now(&self, home: &Home) -> bool {
        let kept = self.0.borrow();
        home.store
            .stamp()
            .is_ok_and(|now| kept.as_ref().is_some_and(|it| it.stamp == now))
    }

    /// The conclusion as last drawn, whatever was written since.
    #[must_use]
    pub fn last(&self) -> Option<Arc<T>> {
        self.0.borrow().as_ref()?.conclusion.clone()
    }

    /// The conclusion; drawn anew where the store has changed since, from this window or another. What drawing it
    /// writes itself does not count as a change.
    ///
    /// # Errors
    /// Those of `draw`, or the store cannot be read.
    pub fn or_drawn_by(
        &self,
        home: &mut Home,
        draw: impl FnOnce(&mut Home) -> Result<T, WorkflowError>,
    ) -> Result<Arc<T>, WorkflowError> {
        let before = home.store.stamp()?;
        if let Some(conclusion) = self.kept_of(before) {
            return Ok(conclusion);
        }
        let drawn = draw(home);
        self.keep(before.after_own_writes(home.store.stamp()?), drawn)
    }

    /// The same, where drawing it writes nothing.
    pub(super) fn or_drawn(
        &self,
        stamp: StoreStamp,
        draw: impl FnOnce() -> Result<T, WorkflowError>,
    ) -> Result<Arc<T>, WorkflowError> {
        match self.kept_of(stamp) {
            Some(conclusion) => Ok(conclusion),
            None => self.keep(stamp, draw()),
        }
    }

    fn kept_of(&self, stamp: StoreStamp) -> Option<Arc<T>> {
        let kept = self.0.borrow();
        let kept = kept.as_ref().filter(|it| it.stamp == stamp)?;
        kept.conclusion.clone()
    }

    fn keep(
        &self,
        stamp: StoreStamp,
        drawn: Result<T, WorkflowError>,
    ) -> Result<Arc<T>, WorkflowError> {
        let drawn = drawn.map(Arc::new);
        *self.0.borrow_mut() = Some(Kept {
            stamp,
            conclusion: drawn.as_ref().ok().map(Arc::clone),
        });
        drawn
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Dice;
    use crate::workflow::Clock;

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

    #[test]
    fn what_drawing_writes_itself_changes_nothing_and_what_another_window_writes_meanwhile_does() {
        let folder = tempfile::tempdir().unwrap();
        let window = |seed| Home::open(folder.path(), Clock::system(), Dice::from_seed(seed));
        let (mut home, mut other) = (window(1).unwrap(), window(2).unwrap());
        let count = Remembered::default();
        let counted = |home: &mut Home| Ok(home.tasters()?.len());
        let drawn = count.or_drawn_by(&mut home, |home| {
            home.add_taster("Ana")?;
            counted(home)
        });
        assert_eq!(*drawn.unwrap(), 1);
        assert!(count.is_of_now(&home));
        count.forget();
        count
            .or_drawn_by(&mut home, |home| {
                let counted = counted(home);
                other.add_taster("Ben").unwrap();
                counted
            })
            .unwrap();
        assert!(!count.is_of_now(&home));
        assert_eq!(*count.or_drawn_by(&mut home, counted).unwrap(), 2);
    }

    #[test]
    fn what_was_refused_is_asked_again_and_said_again() {
        let mut home = Home::trial();
        let nobody = Remembered::<()>::default();
        for _ in 0..2 {
            let refused = nobody.or_drawn_by(&mut home, |home| home.taster("Ana").map(|_| ()));
            assert!(refused.is_err());
            assert!(nobody.is_of_now(&home) && nobody.last().is_none());
        }
    }
}
