//! The wishes by which the next recipe is searched for.

use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Question;
use crate::screens::next_screen::NextScreen;
use crate::workflow::AskedWishes;
use crate::workflow::Home;
use crate::workflow::WISH_FORMS;
use crate::workflow::WorkflowError;

/// The question for a wish.
pub(super) struct WishScreen {
    mark: String,
    wishes: AskedWishes,
    asking: Asking,
}

impl WishScreen {
    pub(super) fn new(mark: String, wishes: AskedWishes) -> Self {
        Self {
            mark,
            wishes,
            asking: Asking::default(),
        }
    }
}

impl Question for WishScreen {
    fn heading(&self) -> String {
        "Wishes for the next recipe".to_owned()
    }

    fn asked(&self) -> &'static str {
        "One wish, or several with semicolons between them. Enter alone searches."
    }

    fn told(&self) -> Vec<String> {
        let so_far = self.wishes.words();
        let so_far = (!so_far.is_empty()).then(|| format!("So far: {}.", so_far.join("; ")));
        so_far.into_iter().collect()
    }

    fn forms(&self) -> &'static [(&'static str, &'static str)] {
        &WISH_FORMS
    }

    fn purpose(&self) -> &'static str {
        "What is wanted beside the taste. What is locked stays as it is, what is forbidden is left out or never proposed, and every figure with a range ends up inside it. Wishes that cannot be had together are named."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let wishes = self.wishes.with(answer);
        let wishes = wishes.map_err(|problems| WorkflowError::Wishes { problems })?;
        // A name that nothing has is told while the line still stands there.
        home.next_recipe(&self.mark, &wishes, None)?;
        Ok(Next::Replace(Box::new(NextScreen::with(
            &self.mark, wishes,
        ))))
    }

    fn back(&mut self, _home: &mut Home) -> Result<Next, WorkflowError> {
        let before = NextScreen::with(&self.mark, self.wishes.clone());
        Ok(Next::Replace(Box::new(before)))
    }
}
