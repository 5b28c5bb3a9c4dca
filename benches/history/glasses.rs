//! Tastings: sittings of a few people with a bottle or two glasses, their ratings, words, colds and remarks.

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
    for number in 0..brewed.len() {
        let more = u32::from(u32::try_from(number)? < tastings % batches);
        let mut left = tastings / batches + more;
        while left > 0 {
            let poured = poured(number, brewed, left, dice);
            let glasses = u32::try_from(poured.len())?;
            let seats = dice.whole(1, ROUND_A_BOTTLE).min(left / glasses);
            sitting(store, home.wheel(), &poured, people, seats, dice)?;
            left -= seats * glasses;
        }
    }
    Ok(())
}

/// What is poured together: a bottle alone, or every fourth time two glasses under codes, of the batch and the one before,
/// or of one bottle twice.
fn poured<'a>(number: usize, brewed: &'a [Brewed], left: u32, dice: &mut Dice) -> Vec<&'a Brewed> {
    let of = &brewed[number];
    if left < 2 || dice.whole(0, 3) > 0 {
        return vec![of];
    }
    let other = match dice.whole(0, 2) {
        0 => of,
        _ => &brewed[number.saturating_sub(1)],
    };
    vec![of, other]
}

/// A bottle, or two glasses, and the people round them.
fn sitting(
    store: &mut Store,
    wheel: &Wheel,
    poured: &[&Brewed],
    people: &[Person],
    seats: u32,
    dice: &mut Dice,
) -> Outcome<()> {
    let days = u16::try_from(dice.whole(0, DAYS_OF_BOTTLES))?;
    let day = poured[0].ready.days_later(days);
    let sitting = Sitting {
        id: SittingId::new(dice.letters(ID_LETTERS)),
        kind: match poured {
            [_] => SittingKind::Tasting,
            _ => SittingKind::TwoGlasses,
        },
        seed: dice.seed(),
        made_at: at(day, 360)?,
        closed_at: Some(at(day, 410)?),
    };
    let samples = samples(&sitting, poured, dice)?;
    store.add_sitting(&sitting, &samples)?;
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
        let all = samples
            .iter()
            .zip(poured)
            .map(|(sample, of)| glass.notes(wheel, of, person, &seat, sample, dice));
        let all = all.collect::<Outcome<Vec<Notes>>>()?;
        sit_down(store, &seat, &all, dice)?;
    }
    Ok(())
}

/// The glasses under codes that differ; the same bottle twice is told by the second of them.
fn samples(sitting: &Sitting, poured: &[&Brewed], dice: &mut Dice) -> Outcome<Vec<Sample>> {
    let first = dice.whole(100, 998);
    let mut samples: Vec<Sample> = Vec::new();
    for (number, of) in (0..).zip(poured) {
        let same = samples.iter().find(|it| it.beer == of.beer.id);
        samples.push(Sample {
            duplicate_of: same.map(|it| it.id.clone()),
            id: SampleId::new(dice.letters(ID_LETTERS)),
            sitting: sitting.id.clone(),
            code: BlindingCode::new(u16::try_from(first + number)?)?,
            beer: of.beer.id.clone(),
        });
    }
    Ok(samples)
}

/// One person with their notes, two glasses in an order that is kept.
fn sit_down(store: &mut Store, seat: &Seat, all: &[Notes], dice: &mut Dice) -> Outcome<()> {
    store.join_sitting(seat, &all[0])?;
    for notes in &all[1..] {
        store.add_notes(notes)?;
        let mut order = [all[0].sample.clone(), notes.sample.clone()];
        if dice.whole(0, 1) == 0 {
            order.reverse();
        }
        store.add_serving(&seat.id, &order)?;
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
