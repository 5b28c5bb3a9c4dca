//! The app as a stack of screens: presses in, a framed page out; the full-screen and the line-by-line mode both drive it.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Input;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Row;
use crate::screens::Screen;
use crate::screens::frame::cut;
use crate::screens::frame::explanation;
use crate::screens::frame::footer;
use crate::screens::frame::indented;
use crate::screens::frame::inside;
use crate::screens::frame::narrow;
use crate::screens::frame::page_or_error;
use crate::screens::frame::says;
use crate::screens::frame::title_row;
use crate::screens::frame::visible;
use crate::screens::meaning::meaning;
use crate::screens::meaning::works;
use crate::screens::paging::PAGING;
use crate::screens::paging::Paged;
use crate::screens::paging::Seen;
use crate::screens::paging::paging;
use crate::screens::text_entry::MOST;
use crate::screens::text_entry::last_word;
use crate::screens::waiting::Waiting;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What lies over the top screen.
enum Overlay {
    None,
    Explanation,
    Sentence(String),
}

/// Whether the app goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Running {
    /// It goes on.
    Yes,
    /// It has ended.
    Ended,
}

/// The screens that are open, and the home they work on.
pub struct App {
    home: Home,
    screens: Vec<Box<dyn Screen>>,
    overlay: Overlay,
    scrolled: usize,
    seen: Seen,
    waiting: Waiting,
}

impl Drop for App {
    /// However the app ends, what is due once a day is done when the screen is free again.
    fn drop(&mut self) {
        self.home.end_the_day();
    }
}

/// A page with title and footer, exactly as high as the room.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Framed {
    /// The rows from top to bottom.
    pub rows: Vec<Row>,
    /// How many of them, at the end, are keys.
    pub footer: usize,
}

impl App {
    /// An app that begins with these screens, the last one on top.
    #[must_use]
    pub fn new(home: Home, screens: Vec<Box<dyn Screen>>) -> Self {
        Self {
            home,
            screens,
            overlay: Overlay::None,
            scrolled: 0,
            seen: Seen::default(),
            waiting: Waiting::default(),
        }
    }

    /// Does what a press asks for, but keeps what takes long, a page only in a long history: then the next picture says
    /// so, and after [`App::go_on`] it is there.
    pub fn press_in_sight(&mut self, press: &Press) -> Running {
        // What waits came first, whatever comes now.
        if self.go_on() == Running::Ended || self.pressed(press) == Running::Ended {
            return Running::Ended;
        }
        let is_page = !matches!(self.overlay, Overlay::Explanation);
        let top = self.screens.last();
        let is_drawn = top.is_none_or(|it| it.is_drawn(&self.home));
        if is_page && !is_drawn && self.home.has_long_history() {
            self.waiting.for_page();
        }
        Running::Yes
    }

    /// True while a page or work waits for its sign to be seen.
    #[must_use]
    pub const fn is_waiting(&self) -> bool {
        self.waiting.is_waiting()
    }

    /// Does the work that waited for its sign to be seen; the page that did is drawn with the next picture.
    pub fn go_on(&mut self) -> Running {
        while let Some(work) = self.waiting.take() {
            let next = (work.does)(&mut self.home);
            if self.follow(next) == Running::Ended {
                return Running::Ended;
            }
        }
        Running::Yes
    }

    /// Reads ahead what the next key may ask for, while nobody waits.
    pub fn get_ready(&self) {
        self.home.get_ready();
    }

    /// True while a watch runs on the top screen.
    #[must_use]
    pub fn is_ticking(&self) -> bool {
        self.screens
            .last()
            .is_some_and(|screen| screen.is_ticking())
    }

    /// True while the top screen has typed text that Enter would accept.
    #[must_use]
    pub fn is_typing(&self) -> bool {
        self.screens.last().is_some_and(|screen| screen.is_typing())
    }

    /// What characters mean on the top screen.
    #[must_use]
    pub fn input(&self) -> Input {
        self.screens
            .last()
            .map_or(Input::Keys, |screen| screen.input())
    }

    /// The keys that work now.
    #[must_use]
    pub fn actions(&self) -> Vec<Action> {
        self.screens
            .last()
            .map_or_else(Vec::new, |screen| screen.actions())
    }

    /// Does what the key of an action does, also where its sign would be typed as text; nothing if
    /// the key does not work now.
    pub fn command(&mut self, action: Action) -> Running {
        self.overlay = Overlay::None;
        match self.screens.last() {
            Some(screen) if works(screen.as_ref(), action) => {
                let running = self.act(Act::Do(action));
                self.done(running)
            }
            Some(_) => Running::Yes,
            None => Running::Ended,
        }
    }

    /// Puts a sentence on the page until the next key.
    pub(super) fn say(&mut self, sentence: String) {
        self.overlay = Overlay::Sentence(sentence);
    }

    /// Does what a press asks for, however long it takes.
    pub fn press(&mut self, press: &Press) -> Running {
        let running = self.pressed(press);
        self.done(running)
    }

    /// Goes on at once with what a key began.
    fn done(&mut self, running: Running) -> Running {
        match running {
            Running::Yes => self.go_on(),
            Running::Ended => running,
        }
    }

    fn pressed(&mut self, press: &Press) -> Running {
        if !matches!(self.overlay, Overlay::None) {
            let explained = matches!(self.overlay, Overlay::Explanation);
            if explained && let Some(action) = paging(press) {
                self.page(action);
                return Running::Yes;
            }
            self.overlay = Overlay::None;
            if explained {
                self.scrolled = 0;
            }
            // A sentence is no question: the key that takes it away does its work too.
            if explained {
                return Running::Yes;
            }
        }
        let Some(screen) = self.screens.last_mut() else {
            return Running::Ended;
        };
        if let Press::Paste(text) = press {
            screen.paste(text);
            return Running::Yes;
        }
        if matches!(press, Press::RubLine | Press::RubWord) {
            self.rub_out(press);
            return Running::Yes;
        }
        match meaning(screen.as_ref(), press) {
            Some(act) => self.act(act),
            None => Running::Yes,
        }
    }

    /// Rubs out the last word that is typed, or all of it, and never an answer that was given before.
    fn rub_out(&mut self, press: &Press) {
        let word = self
            .screens
            .last()
            .and_then(|it| it.typed())
            .map_or(0, last_word);
        let most = if *press == Press::RubWord { word } else { MOST };
        for _ in 0..most {
            let top = self.screens.last();
            let is_typed = |it: &dyn Screen| it.is_typing() && works(it, Action::Undo);
            if !top.is_some_and(|it| is_typed(it.as_ref())) {
                break;
            }
            self.act(Act::Do(Action::Undo));
        }
    }

    fn act(&mut self, act: Act) -> Running {
        match act {
            Act::Do(Action::Explain) => {
                self.overlay = Overlay::Explanation;
                self.scrolled = 0;
            }
            Act::Do(action) if PAGING.contains(&action) => self.page(action),
            act => {
                if matches!(act, Act::Do(Action::Up | Action::Down)) {
                    // The cursor is looked at again, wherever the page was.
                    self.scrolled = 0;
                }
                let Some(screen) = self.screens.last_mut() else {
                    return Running::Ended;
                };
                let next = screen.act(act, &mut self.home);
                return self.follow(next);
            }
        }
        Running::Yes
    }

    /// By a screen down or up, to the first or the last: the cursor of a list, or the page where there is none.
    fn page(&mut self, action: Action) {
        let moves = |way| {
            self.screens
                .last()
                .is_some_and(|it| works(it.as_ref(), way))
        };
        match self.seen.paged(action, self.scrolled) {
            Paged::Rows(way, rows) if moves(way) => {
                for _ in 0..rows {
                    self.act(Act::Do(way));
                }
            }
            Paged::Rows(..) => {}
            Paged::FromLine(line) => self.scrolled = line,
        }
    }

    fn follow(&mut self, next: Result<Next, WorkflowError>) -> Running {
        let depth = self.screens.len();
        match next {
            Ok(Next::Stay) => return Running::Yes,
            Ok(Next::After(work)) => {
                self.waiting.for_work(work);
                return Running::Yes;
            }
            Ok(Next::Top) => {}
            Ok(Next::Open(screen)) => self.screens.push(screen),
            Ok(Next::Replace(screen)) => {
                self.screens.truncate(depth - 1);
                self.screens.push(screen);
            }
            Ok(Next::Close) => self.screens.truncate(depth - 1),
            Ok(Next::Home) => self.screens.truncate(1),
            Ok(Next::Quit) => self.screens.clear(),
            Ok(Next::Say(sentence)) => {
                self.overlay = Overlay::Sentence(sentence);
                return Running::Yes;
            }
            Err(error) => {
                self.overlay = Overlay::Sentence(error.to_string());
                return Running::Yes;
            }
        }
        self.scrolled = 0;
        if self.screens.is_empty() {
            Running::Ended
        } else {
            Running::Yes
        }
    }

    /// The whole picture for the room there is.
    pub fn framed(&mut self, room: Room) -> Framed {
        if let Some(sign) = self.waiting.sign(room) {
            return sign;
        }
        let mut framed = self.laid_out(room);
        for row in &mut framed.rows {
            narrow(&mut row.line, room.width);
        }
        self.waiting.drew(room, &framed);
        framed
    }

    /// The picture with every row at its full length.
    pub(super) fn laid_out(&mut self, room: Room) -> Framed {
        let Some(screen) = self.screens.last_mut() else {
            return Framed::default();
        };
        let unread = screen.refresh(&mut self.home).err();
        let page = |screen: &mut dyn Screen, home: &mut Home, room| match &self.overlay {
            Overlay::Explanation => explanation(screen, room),
            _ => page_or_error(screen, home, room),
        };
        let sentence = match (&self.overlay, unread) {
            (_, Some(error)) => error.to_string(),
            (Overlay::Sentence(sentence), None) => sentence.clone(),
            _ => String::new(),
        };
        let below = inside(room, 1 + footer(screen.as_ref(), &[], room).len());
        let shown = page(screen.as_mut(), &mut self.home, below);
        // What is read for the page may name the screen too.
        let title = title_row(&screen.title());
        // What does not fit is reached by a key, and that key must be seen.
        let scrolls = shown.rows.len() > below.height || !shown.left_out.is_nothing();
        let more: &[Action] = if scrolls { &[Action::PageDown] } else { &[] };
        let footer = footer(screen.as_ref(), more, room);
        let mut said = Page::default();
        if !sentence.is_empty() && !says(&shown, &sentence) {
            said.text(Ink::Alert, &sentence, below.text_width().saturating_sub(1));
            cut(&mut said, below.height / 2);
        }
        let body = inside(room, 1 + footer.len() + said.rows.len());
        self.seen = Seen::of(&shown, body.height);
        let mut rows = vec![title];
        let inner = visible(shown, body, &mut self.scrolled);
        let keys = footer.len();
        let all = inner.into_iter().chain(said.rows).chain(footer);
        rows.extend(all.map(indented));
        rows.truncate(room.height);
        Framed { rows, footer: keys }
    }

    /// The top page as lines of any number, for the line-by-line mode.
    pub fn told(&mut self) -> Vec<Line> {
        let room = Room::TOLD;
        let Some(screen) = self.screens.last_mut() else {
            return Vec::new();
        };
        let unread = screen.refresh(&mut self.home).err();
        let overlay = std::mem::replace(&mut self.overlay, Overlay::None);
        let page = match overlay {
            Overlay::Explanation => explanation(screen.as_ref(), room),
            _ => page_or_error(screen.as_mut(), &mut self.home, room),
        };
        let mut told = Page::default();
        told.line(Line::of(Ink::Title, screen.title()));
        if let Some(error) = unread {
            told.text(Ink::Alert, &error.to_string(), room.width);
        }
        if let Overlay::Sentence(sentence) = &overlay {
            told.text(Ink::Alert, sentence, room.width);
        }
        self.seen = Seen::of(&page, room.height);
        let more = (!page.left_out.is_nothing())
            .then(|| Line::of(Ink::Quiet, "… there are more lines than are told here."));
        let rows = told.rows.into_iter().chain(page.rows);
        rows.map(|row| row.line).chain(more).collect()
    }
}

#[cfg(test)]
impl App {
    /// The home, for a look at what was kept.
    pub(super) const fn home(&mut self) -> &mut Home {
        &mut self.home
    }

    /// The top screen and the home it works on.
    pub(super) fn top(&mut self) -> (&mut dyn Screen, &mut Home) {
        let screen = self.screens.last_mut().unwrap();
        (screen.as_mut(), &mut self.home)
    }
}
