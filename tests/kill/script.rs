//! A whole tasting as lines to type, and what must be on disk after each of them.

use thirdglass::domain::Field;
use thirdglass::domain::Form;
use thirdglass::domain::Knew;
use thirdglass::domain::Nose;
use thirdglass::domain::Scale;
use thirdglass::domain::Stage;
use thirdglass::statistics::Dice;

/// What the file holds of one tasting, as far as somebody typed it.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Kept {
    pub(crate) field: String,
    pub(crate) knew: Option<String>,
    pub(crate) nose: Option<String>,
    pub(crate) remark: Option<String>,
    pub(crate) locked: bool,
    /// Scale, state and value, in the order of the answers.
    pub(crate) ratings: Vec<(String, String, Option<f64>)>,
    /// Stage, word and strength, in the order of naming.
    pub(crate) marks: Vec<(String, String, Option<u8>)>,
}

/// One line and what it leaves behind.
#[derive(Debug, Clone)]
pub(crate) struct Step {
    pub(crate) line: String,
    pub(crate) kept: Kept,
    /// The line with which a tasting goes on after this step, counted as the steps are; a word that
    /// waited for its strength is typed again.
    pub(crate) go_on: usize,
}

/// A whole tasting in the full form.
pub(crate) struct Script {
    /// What is kept when it has been opened.
    pub(crate) opened: Kept,
    pub(crate) steps: Vec<Step>,
}

impl Script {
    /// A tasting with drawn answers.
    pub(crate) fn draw(dice: &mut Dice) -> Self {
        let fields = Form::Full.fields();
        let mut script = Self {
            opened: Kept {
                field: fields[0].id(),
                ..Kept::default()
            },
            steps: Vec::new(),
        };
        for (index, field) in fields.iter().enumerate() {
            script.answer(*field, fields.get(index + 1), dice);
        }
        script
    }

    /// What is kept after so many lines.
    pub(crate) fn kept(&self, lines: usize) -> &Kept {
        match lines.checked_sub(1) {
            Some(last) => &self.steps[last].kept,
            None => &self.opened,
        }
    }

    /// The line with which to go on after so many.
    pub(crate) fn go_on(&self, lines: usize) -> usize {
        lines
            .checked_sub(1)
            .map_or(0, |last| self.steps[last].go_on)
    }

    fn step(&mut self, line: impl Into<String>, change: impl FnOnce(&mut Kept)) {
        let mut kept = self.kept(self.steps.len()).clone();
        change(&mut kept);
        self.steps.push(Step {
            line: line.into(),
            kept,
            go_on: self.steps.len() + 1,
        });
    }

    fn answer(&mut self, field: Field, next: Option<&Field>, dice: &mut Dice) {
        let next = next.map(|field| field.id());
        let goes_on = move |kept: &mut Kept| {
            if let Some(next) = next {
                kept.field = next;
            }
        };
        match field {
            Field::Checklist => self.step("", goes_on),
            Field::Knew => self.step("4", |kept| {
                kept.knew = Some(Knew::EarlierReveal.id().to_owned());
                goes_on(kept);
            }),
            Field::Nose => self.step("1", |kept| {
                kept.nose = Some(Nose::Fine.id().to_owned());
                goes_on(kept);
            }),
            Field::FirstSniff => {
                self.word("orange peel", "orange-peel", Stage::Aroma, dice);
                self.step("", goes_on);
            }
            Field::Words(stage) => {
                self.word("honey", "honey", stage, dice);
                self.step("", goes_on);
            }
            Field::CarriedOver => {
                self.carried("orange-peel", dice, |_| {});
                self.carried("honey", dice, goes_on);
            }
            Field::Scale(scale) => self.rating(scale, dice, goes_on),
            Field::Remark => self.step("half of it in one go", |kept| {
                kept.remark = Some("half of it in one go".to_owned());
                goes_on(kept);
            }),
            Field::Lock => self.step("", |kept| kept.locked = true),
        }
    }

    /// A word and its strength, which are two answers.
    fn word(&mut self, typed: &str, id: &str, stage: Stage, dice: &mut Dice) {
        let strength = dice.whole(1, 9);
        let known = self.kept(self.steps.len()).marks.len();
        let position = |kept: &Kept| {
            let mut marks = kept.marks.iter();
            marks.position(|(at, word, _)| at == stage.id() && word == id)
        };
        let again = self.steps.len();
        self.step(typed, |kept| {
            if position(kept).is_none() {
                kept.marks
                    .push((stage.id().to_owned(), id.to_owned(), None));
            }
        });
        self.steps[again].go_on = again;
        self.step(strength.to_string(), |kept| {
            let at = position(kept).unwrap_or(known);
            kept.marks[at].2 = u8::try_from(strength).ok();
        });
    }

    fn carried(&mut self, id: &str, dice: &mut Dice, goes_on: impl FnOnce(&mut Kept)) {
        let strength = dice.whole(0, 9);
        self.step(strength.to_string(), |kept| {
            let strength = u8::try_from(strength).ok();
            let stage = Stage::Flavour.id().to_owned();
            kept.marks.push((stage, id.to_owned(), strength));
            goes_on(kept);
        });
    }

    fn rating(&mut self, scale: &Scale, dice: &mut Dice, goes_on: impl FnOnce(&mut Kept)) {
        let drawn = dice.whole(0, 11);
        let value = u8::try_from(drawn)
            .ok()
            .and_then(|digit| scale.value_of_digit(digit));
        let (line, state) = match (drawn, value) {
            (_, Some(_)) => (drawn.to_string(), "rated"),
            (11, None) => ("/cannot-tell".to_owned(), "cannot-tell"),
            (_, None) => ("/skip".to_owned(), "skipped"),
        };
        self.step(line, |kept| {
            kept.ratings
                .push((scale.id.to_owned(), state.to_owned(), value));
            goes_on(kept);
        });
    }
}
