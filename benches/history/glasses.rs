//! Tastings: sittings of a few people with one beer each, their ratings, words, colds and remarks.

use thirdglass::domain::BlindingCode;
use thirdglass::domain::BottleFault;
use thirdglass::domain::Day;
use thirdglass::domain::DescriptorId;
use thirdglass::domain::Field;
use thirdglass::domain::Form;
use thirdglass::domain::Knew;
use thirdglass::domain::Mark;
use thirdglass::domain::MarkId;
use thirdglass::domain::Moment;
use thirdglass::domain::Nose;
use thirdglass::domain::Notes;
use thirdglass::domain::NotesId;
use thirdglass::domain::NotesSource;
use thirdglass::domain::Prompting;
use thirdglass::domain::Rating;
use thirdglass::domain::Remark;
use thirdglass::domain::SCALES;
use thirdglass::domain::Sample;
use thirdglass::domain::SampleId;
use thirdglass::domain::Scale;
use thirdglass::domain::Seat;
use thirdglass::domain::SeatId;
use thirdglass::domain::SeatRole;
use thirdglass::domain::Sitting;
use thirdglass::domain::SittingId;
use thirdglass::domain::SittingKind;
use thirdglass::domain::Stage;
use thirdglass::domain::Subject;
use thirdglass::domain::Wheel;
use thirdglass::statistics::Dice;
use thirdglass::storage::Store;
use thirdglass::workflow::Home;

use super::ID_LETTERS;
use super::Outcome;
use super::Person;
use super::at;
use super::brews::Brewed;
use super::one_of;

/// Days over which the bottles of a batch are opened.
const DAYS_OF_BOTTLES: u32 = 300;

/// Most people round one bottle.
const ROUND_A_BOTTLE: u32 = 4;

/// Writes the tastings, batch after batch, nearly as many for each.
pub(super) fn write(
    store: &mut Store,
    home: &Home,
    tastings: u32,
    people: &[Person],
    brewed: &[Brewed],
    dice: &mut Dice,
) -> Outcome<()> {
    let batches = u32::try_from(brewed.len())?;
    for (number, of) in (0..).zip(brewed) {
        let mut left = tastings / batches + u32::from(number < tastings % batches);
        while left > 0 {
            let seats = dice.whole(1, ROUND_A_BOTTLE).min(left);
            sitting(store, home.wheel(), of, people, seats, dice)?;
            left -= seats;
        }
    }
    Ok(())
}

/// One bottle and the people round it.
fn sitting(
    store: &mut Store,
    wheel: &Wheel,
    of: &Brewed,
    people: &[Person],
    seats: u32,
    dice: &mut Dice,
) -> Outcome<()> {
    let days = u16::try_from(dice.whole(0, DAYS_OF_BOTTLES))?;
    let day = of.ready.days_later(days);
    let begun = at(day, 360)?;
    let sitting = Sitting {
        id: SittingId::new(dice.letters(ID_LETTERS)),
        kind: SittingKind::Tasting,
        seed: dice.seed(),
        made_at: begun,
        closed_at: Some(at(day, 410)?),
    };
    let sample = Sample {
        id: SampleId::new(dice.letters(ID_LETTERS)),
        sitting: sitting.id.clone(),
        code: BlindingCode::new(u16::try_from(dice.whole(100, 999))?)?,
        beer: of.beer.id.clone(),
        duplicate_of: None,
    };
    store.add_sitting(&sitting, std::slice::from_ref(&sample))?;
    // Neighbours sit together, so that nobody sits twice.
    let last = u32::try_from(people.len())? - 1;
    let first = dice.whole(0, last);
    for (place, person) in (0..seats).zip(people.iter().cycle().skip(first as usize)) {
        let typed = at(day, 361 + 5 * place)?;
        let leaves = dice.whole(0, 199) == 0;
        let seat = Seat {
            id: SeatId::new(dice.letters(ID_LETTERS)),
            sitting: sitting.id.clone(),
            taster: person.taster.id.clone(),
            role: SeatRole::Taster,
            left_at: leaves.then_some(typed),
        };
        let locked = if leaves {
            None
        } else {
            Some(at(day, 380 + place)?)
        };
        let glass = Glass { day, typed, locked };
        let notes = glass.notes(wheel, of, person, &seat, &sample, dice)?;
        store.join_sitting(&seat, &notes)?;
    }
    Ok(())
}

/// When one glass was had.
struct Glass {
    day: Day,
    typed: Moment,
    locked: Option<Moment>,
}

impl Glass {
    fn notes(
        &self,
        wheel: &Wheel,
        of: &Brewed,
        person: &Person,
        seat: &Seat,
        sample: &Sample,
        dice: &mut Dice,
    ) -> Outcome<Notes> {
        let fault = (dice.whole(0, 149) == 0).then_some(BottleFault::Flat);
        let remark = (dice.whole(0, 9) == 0).then_some("drier than the last one, I think");
        let nose = [Nose::Fine, Nose::Fine, Nose::Fine, Nose::Tired, Nose::Cold];
        Ok(Notes {
            id: NotesId::new(dice.letters(ID_LETTERS)),
            seat: seat.id.clone(),
            sample: sample.id.clone(),
            round: 1,
            form: Form::Full,
            source: NotesSource::App,
            knew: Some(*one_of(
                dice,
                &[Knew::Nothing, Knew::WhichBeer, Knew::Recipe],
            )),
            nose: Some(*one_of(dice, &nose)),
            tasted_on: self.day,
            typed_on: self.typed,
            current_field: Field::Lock.id(),
            seal_broken_at: None,
            locked_at: self.locked,
            bottle_fault: fault,
            remark: remark.map(|it| Remark::new("a remark", it)).transpose()?,
            ratings: ratings(of, person, dice),
            marks: marks(wheel, of, dice)?,
            stopwatches: Vec::new(),
        })
    }
}

/// An answer on every scale; a few are passed over, a few cannot be told.
fn ratings(of: &Brewed, person: &Person, dice: &mut Dice) -> Vec<(&'static Scale, Rating)> {
    let answers = SCALES.iter().map(|scale| {
        let rating = match dice.whole(0, 39) {
            0 => Rating::Skipped,
            1 => Rating::CannotTell,
            _ => {
                let digits = level(scale, of) + person.bias + person.scatter * dice.normal();
                Rating::Rated(scale.value_at(digits.round().clamp(0.0, 9.0)))
            }
        };
        (scale, rating)
    });
    answers.collect()
}

/// How strong it is in this beer, in digits.
fn level(scale: &Scale, of: &Brewed) -> f64 {
    let [bitter, sweet, fullness, colour] = of.kind.levels;
    let level = match scale.id {
        "bitter" | "lingering-bitterness" => bitter,
        "sweet" => sweet,
        "fullness" => fullness,
        "colour" => return scale.digits(colour),
        _ => 4.0,
    };
    level + 0.5 * of.shift
}

/// What was named: mostly what the kind is known for, now and then anything on the wheel.
fn marks(wheel: &Wheel, of: &Brewed, dice: &mut Dice) -> Outcome<Vec<Mark>> {
    let mut marks = Vec::new();
    for stage in [Stage::Aroma, Stage::Flavour, Stage::Finish] {
        let most = if stage == Stage::Finish { 1 } else { 4 };
        let mut named = Vec::new();
        for _ in 0..dice.whole(0, most) {
            let subject = subject(wheel, of, dice)?;
            if named.contains(&subject) {
                continue;
            }
            named.push(subject.clone());
            marks.push(Mark {
                id: MarkId::new(dice.letters(ID_LETTERS)),
                stage,
                subject,
                intensity: Some(u8::try_from(dice.whole(2, 7))?),
                prompting: Prompting::Unprompted,
            });
        }
    }
    Ok(marks)
}

fn subject(wheel: &Wheel, of: &Brewed, dice: &mut Dice) -> Outcome<Subject> {
    Ok(match dice.whole(0, 19) {
        0 => Subject::Free(Remark::new("a free word", "something green")?),
        1 => Subject::Place(one_of(dice, wheel.places()).id.clone()),
        2 | 3 => Subject::Shelf(one_of(dice, wheel.shelves()).id.clone()),
        4 | 5 => Subject::Descriptor(one_of(dice, wheel.descriptors()).id.clone()),
        _ => {
            let found: &&str = one_of(dice, &of.kind.found);
            Subject::Descriptor(word(wheel, found)?)
        }
    })
}

fn word(wheel: &Wheel, word: &str) -> Outcome<DescriptorId> {
    let found = wheel.descriptors().iter().find(|it| it.word == word);
    Ok(found.ok_or_else(|| format!("no word {word}"))?.id.clone())
}
