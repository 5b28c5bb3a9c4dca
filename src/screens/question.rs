//! A screen that is one typed question.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Asking;
use crate::screens::Input;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// A screen that is one typed question; how it looks and which keys work is the same for all.
pub trait Question: Send {
    /// The title.
    fn heading(&self) -> String;

    /// What is asked, in a sentence.
    fn asked(&self) -> &'static str;

    /// Lets pass only while what it tells is not sealed.
    ///
    /// # Errors
    /// Something is sealed, or the store cannot be read.
    fn ensure_may_be_told(&self, _home: &Home) -> Result<(), WorkflowError> {
        Ok(())
    }

    /// What must be known to answer, where that depends on what was answered before.
    fn told(&self) -> Vec<String> {
        Vec::new()
    }

    /// What can be typed, each with what it does.
    fn forms(&self) -> &'static [(&'static str, &'static str)] {
        &[]
    }

    /// False where Enter alone is the answer.
    fn is_typed(&self) -> bool {
        true
    }

    /// What the question is for.
    fn purpose(&self) -> &'static str;

    /// What is missing where nothing was typed, and where Enter alone is no answer.
    fn needs(&self) -> Option<&'static str> {
        None
    }

    /// The line typed on.
    fn asking(&self) -> &Asking;

    /// The line typed on, to type.
    fn asking_mut(&mut self) -> &mut Asking;

    /// Takes the answer.
    ///
    /// # Errors
    /// The answer is refused; the question stands as before.
    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError>;

    /// Goes back: out of the screen, or where it asks several things, to the one before.
    ///
    /// # Errors
    /// The store cannot be read.
    fn back(&mut self, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(Next::Close)
    }
}

impl<Q: Question> Screen for Q {
    fn title(&self) -> String {
        self.heading()
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        self.ensure_may_be_told(home)?;
        let mut page = Page::default();
        page.gap();
        for told in self.told() {
            page.text(Ink::Strong, &told, room.text_width());
            page.gap();
        }
        page.text(Ink::Plain, self.asked(), room.text_width());
        page.gap();
        page.lines(form_lines(self.forms()));
        if self.is_typed() {
            self.asking().draw(&mut page);
        }
        Ok(page)
    }

    fn input(&self) -> Input {
        if self.is_typed() {
            Input::Text
        } else {
            Input::Keys
        }
    }

    fn typed(&self) -> Option<&str> {
        Some(self.asking().text())
    }

    fn is_typing(&self) -> bool {
        self.asking().is_typing()
    }

    fn actions(&self) -> Vec<Action> {
        self.asking().actions()
    }

    fn explanation(&self) -> &'static str {
        self.purpose()
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match answered(self.asking_mut(), act) {
            Answered::With(answer) => match self.needs() {
                Some(needed) if answer.trim().is_empty() => {
                    Ok(Next::Say(format!("Nothing was typed; {needed}.")))
                }
                _ => self.accept(&answer, home),
            },
            Answered::NotYet => Ok(Next::Stay),
            Answered::Back => self.back(home),
        }
    }

    fn paste(&mut self, text: &str) {
        self.asking_mut().paste(text);
    }
}

/// A line each, the forms above each other.
fn form_lines(forms: &[(&str, &str)]) -> Vec<Line> {
    let widest = forms.iter().map(|it| it.0.chars().count()).max();
    let widest = widest.unwrap_or_default();
    let mut lines: Vec<Line> = forms
        .iter()
        .map(|(form, does)| {
            Line::of(Ink::Strong, format!("{form:<widest$}  ")).and(Ink::Quiet, *does)
        })
        .collect();
    if !lines.is_empty() {
        lines.push(Line::blank());
    }
    lines
}

/// Where a question that is being typed stands.
pub(super) enum Answered {
    /// It was answered.
    With(String),
    /// Not yet.
    NotYet,
    /// The taster went back.
    Back,
}

/// Lets a key work on a question that is typed.
pub(super) fn answered(asking: &mut Asking, act: Act) -> Answered {
    match act {
        Act::Do(Action::Accept) => return Answered::With(asking.answer()),
        Act::Do(Action::Back) => return Answered::Back,
        Act::Do(Action::Undo) => asking.rub_out(),
        Act::Do(Action::Up) => asking.turn(-1),
        Act::Do(Action::Down) => asking.turn(1),
        Act::Typed(c) => asking.push(c),
        Act::Row(row) => {
            if let Some(name) = asking.name_in(row) {
                return Answered::With(name);
            }
        }
        Act::Do(_) | Act::Digit(_) => {}
    }
    Answered::NotYet
}
