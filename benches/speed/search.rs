//! A word looked for as one types, over a market of five thousand words of one's own.

use thirdglass::domain::NotesSource;
use thirdglass::screens::App;
use thirdglass::screens::Input;
use thirdglass::screens::Press;
use thirdglass::screens::Room;
use thirdglass::screens::TastingScreen;
use thirdglass::statistics::Dice;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;

use crate::clockwork::middle_and_longest;
use crate::clockwork::timed;
use crate::table::Bound;
use crate::table::Table;
use crate::words::write_words;

/// Words on the market beside the built-in ones.
const WORDS: usize = 5_000;
/// What a letter's answer may take, milliseconds.
const MOST: f64 = 16.0;
/// What is typed: a word, a slip, and what there is nothing of.
const TYPED: [&str; 3] = ["hidden orchard peel", "qiuet lantren smoke", "zzyzx qwv"];
/// Fields of a tasting before the first one that takes words.
const FIELDS: usize = 20;

const ROOM: Room = Room {
    width: 80,
    height: 24,
};

/// Types letter by letter in a tasting, each with the page that answers it.
pub(crate) fn measure(table: &mut Table) {
    let folder = tempfile::tempdir().expect("there is room for a home");
    write_words(folder.path(), WORDS).expect("words are written");
    let open =
        || Home::open(folder.path(), Clock::system(), Dice::from_seed(1)).expect("a home opens");
    drop(open());
    let (start, mut home) = timed(open);
    let words = home.wheel().descriptors().len();
    assert!(words > WORDS, "the words of one's own are not read");
    let taster = home.add_taster("Saucer").expect("a name is free");
    let tasting = home
        .start_tasting(&taster, "Dot", NotesSource::App)
        .expect("a glass is there");
    let screen = TastingScreen::new(tasting, &home).expect("the glass can be tasted");
    let mut app = App::new(home, vec![Box::new(screen)]);
    for press in std::iter::once(Press::Enter).chain((0..FIELDS).map(|_| Press::Char('1'))) {
        if app.input() == Input::Words {
            break;
        }
        app.press(&press);
        app.framed(ROOM);
    }
    assert_eq!(
        app.input(),
        Input::Words,
        "no question for words was reached"
    );
    let mut times = Vec::new();
    for typed in TYPED {
        for letter in typed.chars() {
            times.push(timed(|| answer(&mut app, &Press::Char(letter))).0);
        }
        for _ in typed.chars() {
            answer(&mut app, &Press::Backspace);
        }
    }
    let (middle, longest) = middle_and_longest(times);
    table.row(
        "5,000 own words: home opened, ms",
        &[start],
        &[Bound::Beside],
    );
    table.row(
        "5,000 own words: letter, ms",
        &[middle],
        &[Bound::Most(MOST)],
    );
    table.row(
        "5,000 own words: slowest letter, ms",
        &[longest],
        &[Bound::Most(MOST)],
    );
}

fn answer(app: &mut App, press: &Press) {
    app.press(press);
    app.framed(ROOM);
}
