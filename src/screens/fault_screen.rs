//! Something is wrong with this bottle: which fault, and what to do with the rest of the batch.

use crate::domain::BottleFault;
use crate::domain::NotesChange;
use crate::domain::SittingKind;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::CupsScreen;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TastingScreen;
use crate::workflow::Cups;
use crate::workflow::Home;
use crate::workflow::Pourer;
use crate::workflow::Tasting;
use crate::workflow::TwoGlasses;
use crate::workflow::WorkflowError;

/// The screen that ends a tasting because of its bottle.
pub struct FaultScreen {
    tasting: Tasting,
    /// Both glasses, where two stand side by side.
    two: Option<TwoGlasses>,
}

impl FaultScreen {
    /// The screen for a tasting under way, alone or one of two.
    #[must_use]
    pub const fn new(tasting: Tasting, two: Option<TwoGlasses>) -> Self {
        Self { tasting, two }
    }

    fn choose(&mut self, index: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(&fault) = BottleFault::ALL.get(index) else {
            return Ok(Next::Stay);
        };
        let Some(two) = &mut self.two else {
            home.lock_faulty(&mut self.tasting, fault)?;
            return Ok(Next::Stay);
        };
        let id = self.tasting.notes.id.clone();
        let faulted = [NotesChange::Faulted(Some(fault))];
        home.change(&mut self.tasting, &faulted)?;
        for tasting in two.tastings.iter_mut().filter(|it| it.notes.id == id) {
            *tasting = self.tasting.clone();
        }
        if two.pourer == Pourer::SomebodyElse {
            home.lock_two(two, Cups::InSight)?;
        }
        Ok(Next::Stay)
    }

    /// What comes after the advice: cups that nobody knows yet are turned over first.
    fn after(&self) -> Next {
        if self.tasting.kind == SittingKind::Panel {
            return Next::Close;
        }
        let two = self.two.as_ref().filter(|it| it.pourer == Pourer::Taster);
        two.map_or(Next::Home, |it| {
            Next::Replace(Box::new(CupsScreen::new(it.clone())))
        })
    }
}

/// What to do after a fault, step by step.
const fn steps(fault: BottleFault) -> &'static [&'static str] {
    match fault {
        BottleFault::Gushing => &[
            "Do not taste it. Keep faces and hands away until it has calmed down.",
            "Treat the whole batch as over-carbonated: one gusher means that the others may burst.",
            "Put on eye protection and thick gloves, and chill every bottle for a day before you touch it again.",
            "Then open them outdoors over a bucket, one by one, loosening the cap slowly and letting them rest.",
            "Until then keep them in a closed crate, cool, away from people; never shake, never warm.",
            "Uneven priming, wild yeast, hops or fruit added late, or bottling too early are the usual causes.",
        ],
        BottleFault::Flat => &[
            "No danger. Open a second bottle before you blame the batch: one bad cap is enough.",
            "If all are flat: two weeks at 18 to 22 °C, turned upside down once, wake most of them.",
            "Do not add sugar to closed bottles; too much gas is worse than too little.",
        ],
        BottleFault::Sour => &[
            "Spit it out if you have tasted it. Sourness alone is seldom harmful, but do not force it on anyone.",
            "Wild bacteria and yeast go on eating: pressure in the other bottles may rise. Chill them.",
            "Open a second bottle over a sink. If it is sour too, pour the batch away and replace soft parts.",
        ],
        BottleFault::Mould => &[
            "Do not taste it to make sure. Pour it away, and do not smell it closely.",
            "A thin white film can be wild yeast; grey, green, black or hairy growth is mould. Either way: away with it.",
            "Look at every other bottle against the light before it is opened.",
        ],
        BottleFault::Glass => &[
            "Do not drink or strain it: splinters cannot be seen in beer.",
            "Pour it away, wrap the glass and throw it out; rinse the sink and look for splinters in your glass too.",
            "A chip at the mouth often comes from the opener: check the others of the same crate, and never reuse scuffed bottles.",
        ],
    }
}

impl Screen for FaultScreen {
    fn title(&self) -> String {
        format!("Something is wrong with {}", self.tasting.glass)
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let cells = room.text_width();
        let mut page = Page::default();
        page.gap();
        let Some(fault) = self.tasting.notes.bottle_fault else {
            page.line(Line::of(Ink::Strong, "What is it?"));
            page.gap();
            for (index, fault) in BottleFault::ALL.iter().enumerate() {
                page.choice(
                    Line::of(Ink::Strong, format!("  {}  ", index + 1))
                        .and(Ink::Plain, fault.word()),
                    Press::Row(index),
                );
            }
            page.gap();
            page.text(Ink::Quiet, "The tasting ends here, without ratings. This bottle stays out of every comparison. Esc goes back to the tasting.", cells);
            return Ok(page);
        };
        page.line(Line::of(
            Ink::Strong,
            format!(
                "Kept: {}. This bottle counts in no comparison.",
                fault.word()
            ),
        ));
        page.gap();
        for step in steps(fault) {
            page.text(Ink::Plain, &format!("· {step}"), cells);
        }
        page.gap();
        let end = match self.after() {
            Next::Home => "Enter goes back to the first screen.",
            Next::Close => "Enter goes back to the glasses.",
            _ => "Enter asks which cup it was; then the notes on both are locked.",
        };
        page.line(Line::of(Ink::Quiet, end));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.tasting.notes.bottle_fault.is_some() {
            vec![Action::Accept, Action::Back]
        } else {
            vec![Action::Back]
        }
    }

    fn explanation(&self) -> &'static str {
        "A bad bottle says little about its batch. Choose what is wrong; the app says what to do with the other bottles. Nothing you noted before is thrown away, but this bottle is left out of comparisons."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        let done = self.tasting.notes.bottle_fault.is_some();
        match act {
            Act::Digit(digit) if !done => self.choose(usize::from(digit).wrapping_sub(1), home),
            Act::Row(row) if !done => self.choose(row, home),
            Act::Do(Action::Back) if !done => {
                let back = match &self.two {
                    Some(two) => TastingScreen::of_two(two.clone(), home)?,
                    None => TastingScreen::new(self.tasting.clone(), home)?,
                };
                Ok(Next::Replace(Box::new(back)))
            }
            Act::Do(Action::Accept | Action::Back) => Ok(self.after()),
            _ => Ok(Next::Stay),
        }
    }
}
