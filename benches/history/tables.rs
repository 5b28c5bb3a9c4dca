//! Blind tests and practice of a history, through the verbs that people use.

use std::path::Path;
use std::sync::Arc;
use std::sync::Mutex;
use std::sync::PoisonError;

use thirdglass::domain::Aims;
use thirdglass::domain::Day;
use thirdglass::domain::ItemForm;
use thirdglass::domain::Millilitres;
use thirdglass::domain::Moment;
use thirdglass::domain::NotesSource;
use thirdglass::domain::Pouring;
use thirdglass::domain::PracticeItem;
use thirdglass::domain::PracticeReply;
use thirdglass::domain::Purpose;
use thirdglass::domain::Risk;
use thirdglass::domain::Share;
use thirdglass::domain::Stopping;
use thirdglass::domain::Sureness;
use thirdglass::statistics::Dice;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Closing;
use thirdglass::workflow::GivenAnswer;
use thirdglass::workflow::Home;
use thirdglass::workflow::PlanRequest;
use thirdglass::workflow::TakePlace;

use super::DAYS;
use super::Extent;
use super::Outcome;
use super::Person;
use super::at;
use super::brews::Brewed;
use super::first_day;
use super::one_of;

/// Places and sets of a blind test: twelve answers.
const PLACES: u16 = 4;
const ROUNDS: u16 = 3;

/// Writes blind tests and practices over the whole time of the history.
pub(super) fn write(
    folder: &Path,
    extent: Extent,
    people: &[Person],
    brewed: &[Brewed],
    dice: &mut Dice,
) -> Outcome<()> {
    let now = Arc::new(Mutex::new(at(first_day()?, 0)?));
    let clock = Arc::clone(&now);
    let clock = Clock::from_fn(move || *clock.lock().unwrap_or_else(PoisonError::into_inner));
    let mut home = Home::open(folder, clock, Dice::from_seed(dice.seed()))?;
    let set = |moment: Moment| *now.lock().unwrap_or_else(PoisonError::into_inner) = moment;
    for number in 0..extent.tests {
        set(at(evening(number, extent.tests)?, 400)?);
        blind_test(&mut home, people, brewed, dice)?;
    }
    for number in 0..extent.practices {
        set(at(evening(number, extent.practices)?, 500)?);
        practice(&mut home, one_of(dice, people), dice)?;
    }
    Ok(())
}

/// One evening of so many, evenly over the years.
fn evening(number: u32, of: u32) -> Outcome<Day> {
    let day = u16::try_from(60 + u64::from(number) * u64::from(DAYS) / u64::from(of))?;
    Ok(first_day()?.days_later(day))
}

/// A triangle test of two brews that follow each other, answered a little better than by chance, and closed.
fn blind_test(
    home: &mut Home,
    people: &[Person],
    brewed: &[Brewed],
    dice: &mut Dice,
) -> Outcome<()> {
    let last = u32::try_from(brewed.len() - 2)?;
    let first = dice.whole(0, last) as usize;
    let mark = |index: usize| brewed[index].beer.cap_mark.to_string();
    let planned = home.plan_test(&PlanRequest {
        beers: [mark(first), mark(first + 1)],
        method: "triangle".to_owned(),
        purpose: Purpose::Difference,
        aims: Aims {
            alpha: Risk::new(0.05)?,
            beta: Risk::new(0.2)?,
            pd: Share::new(0.5)?,
        },
        attribute: None,
        expected: None,
        places: PLACES,
        rounds: ROUNDS,
        stopping: Stopping::Fixed,
        pouring: Pouring::One,
        glass: Millilitres::new(30.0)?,
        seed: Some(dice.seed()),
    })?;
    let number = planned.test.number;
    let from = dice.whole(0, u32::try_from(people.len())? - 1) as usize;
    for person in people.iter().cycle().skip(from).take(PLACES.into()) {
        let name = person.taster.name.as_str();
        let mut place = home.sit_down(number, name, TakePlace::NextFree)?;
        while let Some(set) = place.open() {
            let given = GivenAnswer {
                chosen: *one_of(dice, &set.choices),
                sureness: Some(*one_of(
                    dice,
                    &[Sureness::Guess, Sureness::Rather, Sureness::Sure],
                )),
                prefers: None,
                words: Vec::new(),
            };
            let round = set.round;
            place = home.answer_set(&place, round, &given, NotesSource::App)?;
        }
    }
    Ok(home.close_test(number, Closing::Complete)?)
}

/// Five minutes of words, two answers in three of them right.
fn practice(home: &mut Home, person: &Person, dice: &mut Dice) -> Outcome<()> {
    let sitting = home.practise_words(&person.taster)?;
    let mut run = home.practice_run(&sitting, &person.taster)?;
    while let Some(item) = run.open().cloned() {
        let reply = reply(home, &item, dice)?;
        home.answer_practice(&mut run, item.position, reply, None)?;
    }
    let seat = run.seat.clone();
    Ok(home.leave_practice(&sitting, &seat)?)
}

fn reply(home: &Home, item: &PracticeItem, dice: &mut Dice) -> Outcome<PracticeReply> {
    let knows = dice.whole(0, 2) > 0;
    Ok(match (item.form, knows) {
        (ItemForm::Place, true) => {
            let wheel = home.wheel();
            let word = wheel.descriptor(&item.descriptor).ok_or("a word is gone")?;
            let shelf = wheel.shelf(&word.shelf).ok_or("a shelf is gone")?;
            PracticeReply::Place(shelf.place.clone())
        }
        (ItemForm::Place, false) => {
            PracticeReply::Place(one_of(dice, home.wheel().places()).id.clone())
        }
        (_, false) if !item.options.is_empty() => {
            PracticeReply::Word(one_of(dice, &item.options).clone())
        }
        _ => PracticeReply::Word(item.descriptor.clone()),
    })
}
