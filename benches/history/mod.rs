//! Large plausible histories: a home with years of brews, glasses, blind tests and practice, drawn from a seed.

mod brews;
mod glasses;
mod tables;

use std::error::Error;
use std::path::Path;

use thirdglass::domain::Day;
use thirdglass::domain::Moment;
use thirdglass::domain::Name;
use thirdglass::domain::Taster;
use thirdglass::domain::TasterId;
use thirdglass::statistics::Dice;
use thirdglass::storage::Store;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;

/// Letters of an id, as many as the program draws.
const ID_LETTERS: usize = 20;

/// The first day of every history; it ends before any clock that runs this.
const FIRST_DAY: &str = "2013-01-05";

/// Days over which the batches are brewed; the last glass is had within a year of the last brew.
const DAYS: u32 = 3_900;

/// Tastings for each batch, and the most batches there are.
const GLASSES_A_BATCH: u32 = 7;
const MOST_BATCHES: u32 = 4_000;

/// Fewest and most tasters, and how many tastings bring one more.
const TASTERS: (u32, u32) = (5, 40);
const TASTINGS_A_TASTER: u32 = 400;

/// What goes wrong here goes wrong with the bench.
pub(crate) type Outcome<T> = Result<T, Box<dyn Error>>;

/// How much there is in a history.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Extent {
    /// Tastings, nearly all of them locked.
    pub(crate) tastings: u32,
    /// Batches.
    pub(crate) batches: u32,
    /// People.
    pub(crate) tasters: u32,
    /// Closed blind tests.
    pub(crate) tests: u32,
    /// Closed practices.
    pub(crate) practices: u32,
}

impl Extent {
    /// What goes with so many tastings.
    pub(crate) fn of(tastings: u32) -> Self {
        Self {
            tastings,
            batches: (tastings / GLASSES_A_BATCH).clamp(2, MOST_BATCHES),
            tasters: (tastings / TASTINGS_A_TASTER).clamp(TASTERS.0, TASTERS.1),
            tests: (tastings / 100).clamp(1, 60),
            practices: (tastings / 50).clamp(2, 120),
        }
    }
}

/// Makes a home in `folder`, which must not hold one yet; the same seed gives the same history.
///
/// # Errors
/// The folder cannot be written, or the program refuses something.
pub(crate) fn write_history(folder: &Path, tastings: u32, seed: u64) -> Outcome<Extent> {
    let extent = Extent::of(tastings);
    let mut dice = Dice::from_seed(seed);
    // The first opening makes the file; the wheel of this home gives the words.
    let home = Home::open(folder, Clock::system(), Dice::from_seed(seed))?;
    if !home.is_new()? {
        return Err(format!("{} holds a home already", folder.display()).into());
    }
    let mut store = Store::open(folder, &at(first_day()?, 0)?)?;
    let (tasters, brewed) = store.in_one_go(|store| -> Outcome<_> {
        let tasters = people(store, extent.tasters, &mut dice)?;
        let brewed = brews::write(store, &home, extent.batches, &mut dice)?;
        glasses::write(store, &home, extent.tastings, &tasters, &brewed, &mut dice)?;
        Ok((tasters, brewed))
    })?;
    drop((store, home));
    tables::write(folder, extent, &tasters, &brewed, &mut dice)?;
    Ok(extent)
}

/// The people, with how far each rates above the others and how much they scatter.
pub(crate) struct Person {
    taster: Taster,
    bias: f64,
    scatter: f64,
}

const NAMES: [&str; 10] = [
    "Saucer", "Ladle", "Thimble", "Button", "Kettle", "Ribbon", "Pebble", "Candle", "Basket",
    "Needle",
];

fn people(store: &mut Store, count: u32, dice: &mut Dice) -> Outcome<Vec<Person>> {
    let mut people = Vec::new();
    for number in 0..count as usize {
        let round = number / NAMES.len();
        let name = match round {
            0 => NAMES[number].to_owned(),
            _ => format!("{} {}", NAMES[number % NAMES.len()], round + 1),
        };
        let taster = Taster {
            id: TasterId::new(dice.letters(ID_LETTERS)),
            name: Name::new("a name", &name)?,
            made_at: at(first_day()?, 18)?,
        };
        store.add_taster(&taster)?;
        people.push(Person {
            taster,
            bias: 0.5 * dice.normal(),
            scatter: 0.6 + 0.6 * dice.share(),
        });
    }
    Ok(people)
}

fn first_day() -> Outcome<Day> {
    Ok(Day::parse(FIRST_DAY)?)
}

/// A moment on a day, so many minutes after noon.
fn at(day: Day, minutes: u32) -> Outcome<Moment> {
    let (hour, minute) = (12 + minutes / 60 % 12, minutes % 60);
    Ok(Moment::parse(&format!("{day}T{hour:02}:{minute:02}:00Z"))?)
}

/// One of several, each as likely.
fn one_of<'a, T>(dice: &mut Dice, among: &'a [T]) -> &'a T {
    let last = u32::try_from(among.len() - 1).expect("these lists are short");
    &among[dice.whole(0, last) as usize]
}
