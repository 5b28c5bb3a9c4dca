//! The second sniff: one word after the other, and at the end which of them were decoys.

use crate::domain::FoundOf;
use crate::domain::Name;
use crate::domain::NotesId;
use crate::domain::SecondSniff;
use crate::domain::SniffAnswer;
use crate::domain::SniffKind;
use crate::domain::SniffedWord;
use crate::domain::Subject;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::width;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::subject_word;

/// The screen of the second sniff after one set of notes.
pub struct SecondSniffScreen {
    notes: NotesId,
    mark: Name,
    taster: Name,
    /// As last read; none while the plan is sealed again.
    sniff: Option<SecondSniff>,
}

impl SecondSniffScreen {
    /// The screen for a second sniff that was begun.
    #[must_use]
    pub const fn new(sniff: SecondSniff, notes: NotesId, mark: Name, taster: Name) -> Self {
        Self {
            notes,
            mark,
            taster,
            sniff: Some(sniff),
        }
    }

    /// The word that stands on the screen.
    fn asked(&self) -> Option<&SniffedWord> {
        self.sniff.as_ref().and_then(SecondSniff::asked)
    }

    fn answer(&mut self, answer: SniffAnswer, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(word) = self.asked().map(|it| it.id.clone()) {
            let sniff = home.answer_second_sniff(&self.notes, &word, answer)?;
            self.sniff = Some(sniff);
        }
        Ok(Next::Stay)
    }
}

impl Screen for SecondSniffScreen {
    fn title(&self) -> String {
        format!("{} smells {} once more", self.taster, self.mark)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        // Somebody may have begun to taste since, and the words tell the plan.
        self.sniff = None;
        let sniff = home.second_sniff(&self.notes)?;
        let mut page = Page::default();
        page.gap();
        match sniff.asked() {
            Some(word) => draw_word(&mut page, home.wheel(), &sniff, word, room.text_width()),
            None => draw_end(&mut page, home.wheel(), &sniff, room.text_width()),
        }
        self.sniff = Some(sniff);
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        let Some(sniff) = &self.sniff else {
            return vec![Action::Back];
        };
        if sniff.asked().is_none() {
            return vec![Action::Accept, Action::Back];
        }
        let mut actions = vec![Action::Yes, Action::No, Action::CannotTell];
        if sniff.answered().next().is_some() {
            actions.push(Action::Undo);
        }
        actions.push(Action::Back);
        actions
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match action {
            Action::Yes => Some("there"),
            Action::No => Some("not there"),
            Action::Accept => Some("back"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "Your notes are locked and stay as they are. Here you smell the glass once more with a hint: some of these words were hoped for or promised and are not in your notes, and as many are decoys that nobody expects. Which is which is told after the last word. Esc leaves; what you have answered is kept, and you can go on later. A second sniff is kept apart from your notes and changes no verdict."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Yes) => self.answer(SniffAnswer::There, home),
            Act::Do(Action::No) => self.answer(SniffAnswer::NotThere, home),
            Act::Do(Action::CannotTell) => self.answer(SniffAnswer::CannotTell, home),
            Act::Do(Action::Undo) => {
                self.sniff = Some(home.take_back_second_sniff(&self.notes)?);
                Ok(Next::Stay)
            }
            Act::Do(Action::Accept | Action::Back) => Ok(Next::Close),
            _ => Ok(Next::Stay),
        }
    }
}

fn word_of(wheel: &Wheel, it: &SniffedWord) -> String {
    subject_word(wheel, &Subject::Descriptor(it.descriptor.clone()))
}

/// One word, with what it is like, and what was answered before.
fn draw_word(
    page: &mut Page,
    wheel: &Wheel,
    sniff: &SecondSniff,
    asked: &SniffedWord,
    cells: usize,
) {
    page.text(Ink::Plain, "Smell the glass once more for each word: one short sniff, then a breath of fresh air. Smelling is enough, nobody needs to drink for it.", cells);
    page.gap();
    let (at, all) = (sniff.answered().count() + 1, sniff.words.len());
    page.line(
        Line::of(Ink::Quiet, format!("Word {at} of {all}   "))
            .and(Ink::Strong, word_of(wheel, asked)),
    );
    if let Some(it) = wheel.descriptor(&asked.descriptor) {
        page.text(Ink::Plain, &it.definition, cells);
    }
    page.gap();
    for (key, words) in [
        ('y', "it is there"),
        ('n', "it is not there"),
        ('-', "I cannot tell"),
    ] {
        let line = Line::plain("  ").and(Ink::Strong, key.to_string());
        page.choice(line.and(Ink::Plain, format!("  {words}")), Press::Char(key));
    }
    page.gap();
    for it in sniff.answered() {
        let answer = it.answer().map_or("", SniffAnswer::word);
        let said = format!("{}: {answer}", word_of(wheel, it));
        page.line(Line::of(Ink::Quiet, said));
    }
    page.text(
        Ink::Quiet,
        "Half of all the words are decoys; which ones is told after the last.",
        cells,
    );
}

/// What was hoped for, what was a decoy, and how little that proves.
fn draw_end(page: &mut Page, wheel: &Wheel, sniff: &SecondSniff, cells: usize) {
    page.text(Ink::Plain, &sum(sniff), cells);
    page.gap();
    let words = sniff.words.iter().map(|it| width(&word_of(wheel, it)));
    let longest = words.max().unwrap_or(0);
    for it in &sniff.words {
        let word = word_of(wheel, it);
        let pad = " ".repeat(longest - width(&word));
        let ink = if it.kind == SniffKind::Decoy {
            Ink::Quiet
        } else {
            Ink::Good
        };
        let answer = it.answer().map_or("", SniffAnswer::word);
        page.line(
            Line::of(Ink::Strong, word)
                .and(ink, format!("{pad}  {:<9}", it.kind.word()))
                .and(Ink::Plain, format!("  you said: {answer}")),
        );
    }
    page.gap();
    page.line(Line::of(Ink::Quiet, "Enter goes back."));
}

/// What was found, in sentences.
fn sum(sniff: &SecondSniff) -> String {
    let kinds = || sniff.words.iter().map(|it| it.kind);
    let wanted = match (
        kinds().any(|it| it == SniffKind::Hoped),
        kinds().any(|it| it == SniffKind::Promised),
    ) {
        (true, true) => "hoped-for or promised word",
        (false, true) => "promised word",
        _ => "hoped-for word",
    };
    let unsure = sniff.words.iter();
    let unsure = unsure.filter(|it| it.answer() == Some(SniffAnswer::CannotTell));
    let unsure = match unsure.count() {
        0 => String::new(),
        count => format!(" For {count} of them you could not tell."),
    };
    format!(
        "You found {} and {}: a second sniff with a hint proves little; it is kept apart and changes no verdict.{unsure}",
        counted(sniff.wanted(), wanted),
        counted(sniff.decoys(), "decoy"),
    )
}

fn counted(FoundOf { found, of }: FoundOf, word: &str) -> String {
    let ending = if of == 1 { "" } else { "s" };
    format!("{found} of {of} {word}{ending}")
}
