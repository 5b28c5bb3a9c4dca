//! Every screen at every place: in any room, with every key it shows.

use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Stage;
use crate::drawing::width;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::App;
use crate::screens::Input;
use crate::screens::Next;
use crate::screens::Room;
use crate::screens::Row;
use crate::screens::trial::USUAL;
use crate::screens::trial::keys;
use crate::screens::trial::started;
use crate::screens::trial::tasting_at;
use crate::screens::trial::welcomed;
use crate::workflow::Home;

/// Keys that stop at the end of what they move along.
const MOVES: [Action; 8] = [
    Action::Up,
    Action::Down,
    Action::Left,
    Action::Right,
    Action::NextStage,
    Action::PreviousStage,
    Action::PageUp,
    Action::PageDown,
];

/// Ways from the first screen to the others, beside a batch that nobody is tasting.
const FROM_THE_START: [&str; 84] = [
    "",
    "4⏎o↓↓",
    "1",
    "1Ana",
    "1Ana⏎",
    "1Ana⏎T1⏎",
    "2",
    "2⏎",
    "2⏎⏎",
    "2⏎a",
    "2⏎a⏎",
    "2⏎a⏎1.05",
    "2a",
    "3",
    "4",
    "4⏎",
    "4⏎⏎",
    "4⏎⏎⏎",
    "5",
    "5l",
    "5p",
    "1Ana⏎⎋⎋5p",
    "1Ana⏎⎋⎋5p1",
    "1Ana⏎⎋⎋5p11",
    "1Ana⏎⎋⎋5p11→",
    "1Ana⏎⎋⎋5p11→→",
    "1Ana⏎⎋⎋5p12",
    "1Ana⏎⎋⎋5p12Fox⏎",
    "1Ana⏎⎋⎋5p13",
    "1Ana⏎⎋⎋5p14",
    "1Ana⏎⎋⎋5p14Ana⏎",
    "1Ana⏎T1⏎⏎⏎⏎⎋4⏎→",
    "512",
    "5123⏎",
    "5123⏎⏎⏎⏎",
    "5123⏎⏎⏎⏎1",
    "5123⏎⏎⏎⏎1⏎⏎⏎⏎1⏎⏎⏎⏎1⏎",
    "1Ana⏎T1⏎⏎⏎⏎⎋",
    "6",
    "6@",
    "6@#",
    "6@12",
    "6@⏎",
    "6@⏎3⏎#",
    "6@⏎⏎⏎",
    "4⏎w",
    "4⏎g",
    "4⏎w⏎",
    "8",
    "81Ana⏎",
    "82Ana⏎",
    "82Ana⏎⏎⏎",
    "82Ana⏎⏎⏎⏎⏎",
    "84Ana⏎⏎⏎⏎⏎",
    "84Ana⏎⏎⏎⏎⏎13579",
    "85Winter⏎Ana, Ben⏎⏎",
    "85Winter⏎Ana, Ben⏎⏎⏎⏎⏎",
    "85Winter⏎Ana, Ben⏎⏎⏎⏎⏎1",
    "85Winter⏎Ana, Ben⏎⏎⏎⏎⏎2→",
    "85Winter⏎Ana, Ben⏎⏎⏎⏎⏎3",
    "85Winter⏎Ana, Ben⏎⏎⏎⏎⏎7⏎cardb 7",
    "85Winter⏎Ana, Ben⏎⏎⏎⏎⏎9",
    "9",
    "9a",
    "9aT1, B2⏎",
    "9aT1, B2⏎⏎",
    "9aT1, B2⏎⏎Ana⏎⏎",
    "9aT1, B2⏎⏎Ana⏎⏎⏎",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎⎋",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎1",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎1⏎",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎1⏎⏎",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎1⏎⎋",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎2",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎2⏎",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎3",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎5⏎⏎",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎77",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎77⏎1⏎",
    "9aT1, B2⏎⏎Ana⏎⏎⏎⏎⏎⏎⏎1⏎xx⏎2",
];

/// Ways from a question for words.
const FROM_WORDS: [&str; 11] = [
    "ora",
    "ora⏎",
    "ora5toa3hon2",
    "zzyx",
    "→",
    "→⏎",
    "→⏎⏎",
    "+",
    "+⏎⏎",
    "+→",
    "ora5toa3⏎",
];

/// Ways from the page that locks.
const FROM_THE_LOCK: [&str; 16] = [
    "⏎",
    "⏎⏎",
    "=",
    "!",
    "!1",
    "!2",
    "!4",
    "!5",
    "⏎⎋3",
    "⏎⎋2⏎",
    "y",
    "yr",
    "yry",
    "yryn-yn",
    "yryn-ynn",
    "!4⏎3⏎",
];

/// Ways from the first screen of the demonstration to what comes after a tasting.
const FROM_THE_DEMO: [&str; 5] = ["4⏎b", "4⏎ba", "4⏎balock Saaz; changes 1⏎", "4⏎b⏎", "4⏎g"];

/// The demonstration without its folder, which nothing here writes into.
fn demonstration() -> Home {
    Home::trial_demo()
}

/// Where a way begins.
#[derive(Debug, Clone, Copy)]
enum Gate {
    Welcome,
    EmptyHome,
    Home,
    /// The kitchen of the demonstration, where there is something to change.
    Demo,
    Tasting(Form, Field),
}

/// A screen at some place: the keys that lead there.
#[derive(Debug)]
struct Place {
    gate: Gate,
    way: String,
}

impl Place {
    fn app(&self) -> App {
        let mut app = match self.gate {
            Gate::Welcome => welcomed(),
            Gate::EmptyHome => started(Home::trial()),
            Gate::Home => started(Home::trial_with_a_batch()),
            Gate::Demo => started(demonstration()),
            Gate::Tasting(form, field) => tasting_at(form, field),
        };
        keys(&mut app, &self.way);
        app
    }
}

/// Every screen at every place.
fn every_place() -> Vec<Place> {
    let aroma = Gate::Tasting(Form::Full, Field::Words(Stage::Aroma));
    let lock = Gate::Tasting(Form::Full, Field::Lock);
    let checklist = Gate::Tasting(Form::Full, Field::Checklist);
    let fields = [Form::Full, Form::Short].into_iter().flat_map(|form| {
        let fields = form.fields().into_iter();
        fields.map(move |field| (Gate::Tasting(form, field), ""))
    });
    let everything = everything();
    [
        (Gate::Welcome, ""),
        (Gate::EmptyHome, "2"),
        (Gate::EmptyHome, "3"),
    ]
    .into_iter()
    .chain(FROM_THE_START.map(|way| (Gate::Home, way)))
    .chain(FROM_THE_DEMO.map(|way| (Gate::Demo, way)))
    .chain(fields)
    .chain(FROM_WORDS.map(|way| (aroma, way)))
    .chain(FROM_THE_LOCK.map(|way| (lock, way)))
    .chain([(checklist, everything.as_str())])
    .map(|(gate, way)| Place {
        gate,
        way: way.to_owned(),
    })
    .collect()
}

/// A tasting with as much on the screen as there can be, and both watches running.
fn everything() -> String {
    let scales = |count| "9".repeat(count);
    format!(
        "⏎22.ora5⏎{}{}toa4hon3⏎123clo2van1⏎{}.",
        "7235⏎",
        "6",
        scales(11)
    )
}

#[test]
fn any_room_holds_any_screen() {
    let rooms = [
        (80, 24),
        (160, 50),
        (20, 5),
        (1, 1),
        (0, 0),
        (110, 3),
        (7, 200),
    ];
    for place in every_place() {
        let mut app = place.app();
        for (width, height) in rooms {
            let room = Room { width, height };
            let framed = app.framed(room);
            assert!(framed.rows.len() <= height, "{place:?} in {room:?}");
            for row in framed.rows {
                assert!(cells(&row) <= width, "{place:?} in {room:?}: {row:?}");
            }
        }
    }
}

#[test]
fn on_a_usual_terminal_nothing_is_cut_at_the_edge() {
    let mut cut = Vec::new();
    let wide = Room {
        width: 160,
        height: 50,
    };
    for place in every_place() {
        let mut app = place.app();
        for room in [USUAL, wide] {
            for row in app.laid_out(room).rows {
                let text = row.line.text();
                if cells(&row) > room.width {
                    cut.push(format!("{place:?} in {room:?}: “{text}”"));
                }
            }
        }
    }
    assert!(cut.is_empty(), "{}", cut.join("\n"));
}

#[test]
fn on_a_usual_terminal_the_explanation_and_the_way_back_are_always_among_the_keys() {
    for place in every_place() {
        let mut app = place.app();
        app.framed(USUAL);
        let framed = app.framed(USUAL);
        let keys: String = framed.rows[framed.rows.len() - framed.footer..]
            .iter()
            .map(|it| it.line.text())
            .collect();
        assert!(keys.contains("explain"), "{place:?}: {keys}");
        let goes_back = app.actions().contains(&Action::Back);
        assert!(!goes_back || keys.contains("Esc"), "{place:?}: {keys}");
    }
}

/// How many cells a row takes, patches of colour included.
fn cells(row: &Row) -> usize {
    row.line.spans.iter().map(|span| width(&span.text)).sum()
}

#[test]
fn every_key_that_is_shown_does_something() {
    let mut idle = Vec::new();
    for place in every_place() {
        let mut shown = place.app();
        shown.framed(USUAL);
        for action in shown.actions() {
            let mut app = place.app();
            let before = app.framed(USUAL);
            let (screen, home) = app.top();
            // An empty answer to a question that is typed is refused with a sentence.
            let asks = action == Action::Accept && screen.input() == Input::Text;
            match screen.act(Act::Do(action), home) {
                Ok(Next::Stay) if !MOVES.contains(&action) && app.framed(USUAL) == before => {
                    idle.push(format!("{place:?}: {action:?} does nothing"));
                }
                Err(error) if !asks => idle.push(format!("{place:?}: {action:?}: {error}")),
                _ => {}
            }
        }
    }
    assert!(idle.is_empty(), "{}", idle.join("\n"));
}
