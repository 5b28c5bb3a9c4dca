//! Answers of a blind test as typed: kept, changed, and left.

use crate::cli::CliError;
use crate::cli::Streams;
use crate::cli::blind_command::Answer;
use crate::domain::BlindingCode;
use crate::domain::NotesSource;
use crate::domain::Sureness;
use crate::workflow::BlindError;
use crate::workflow::GivenAnswer;
use crate::workflow::GoesOn;
use crate::workflow::Home;
use crate::workflow::PlaceAtTest;
use crate::workflow::SetOfGlasses;
use crate::workflow::TakePlace;
use crate::workflow::WorkflowError;

/// Keeps an answer or leaves, or tells the set that is to be answered; nothing else is told.
pub(super) fn answer(
    given: &Answer,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let code = given.choose.map(BlindingCode::new).transpose();
    let code = code.map_err(WorkflowError::from)?;
    let which = match (given.place, code) {
        (Some(place), _) => TakePlace::Numbered(place),
        (None, Some(code)) => TakePlace::Holding(code),
        (None, None) => TakePlace::NextFree,
    };
    let place = home.sit_down(given.test, &given.taster, which)?;
    let answers = given.sure.is_some() || given.words.is_some() || given.prefers.is_some();
    if code.is_none() && !answers {
        if given.leave {
            return leave(&place, home, streams);
        }
        let question = home.planned_test(given.test)?.question();
        return tell_place(&place, set_meant(given, code, &place), &question, streams);
    }
    let place = keep_answer(given, code, &place, home, streams)?;
    if given.leave {
        return leave(&place, home, streams);
    }
    Ok(())
}

/// The set that is answered: the one named, the one that holds the code, or the first open one.
fn set_meant<'a>(
    given: &Answer,
    code: Option<BlindingCode>,
    place: &'a PlaceAtTest,
) -> Option<&'a SetOfGlasses> {
    let holds = |it: &&SetOfGlasses| code.is_some_and(|code| it.codes.contains(&code));
    match given.set {
        Some(round) => place.sets.iter().find(|it| it.round == round),
        None => place.sets.iter().find(holds).or_else(|| place.open()),
    }
}

fn keep_answer(
    given: &Answer,
    code: Option<BlindingCode>,
    place: &PlaceAtTest,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<PlaceAtTest, CliError> {
    let name = place.taster.name.to_string();
    let last = place.sets.last().map_or(1, |it| it.round);
    let Some(set) = set_meant(given, code, place) else {
        let set = given.set.unwrap_or(last);
        return Err(WorkflowError::from(BlindError::NoChoice { name, set }).into());
    };
    let before = set.answered.clone();
    let chosen = code.or_else(|| before.as_ref().map(|it| it.chosen));
    let Some(chosen) = chosen else {
        let set = set.round;
        return Err(WorkflowError::from(BlindError::NoChoice { name, set }).into());
    };
    let source = if given.paper {
        NotesSource::Document
    } else {
        NotesSource::Plain
    };
    let answer = as_given(given, chosen, before.clone(), home)?;
    let place = home.answer_set(place, set.round, &answer, source)?;
    let said = kept_words(&name, set.round, before.as_ref(), &answer);
    writeln!(streams.output, "{said}")?;
    Ok(place)
}

/// What was kept or changed.
fn kept_words(name: &str, set: u16, before: Option<&GivenAnswer>, now: &GivenAnswer) -> String {
    let chosen = now.chosen;
    let what = match before {
        Some(before) if before.chosen != chosen => {
            format!("Changed: {name}, set {set}: {} → {chosen}", before.chosen)
        }
        Some(_) => format!("Changed: {name}, set {set}: {chosen}"),
        None => format!("Kept: {name}, set {set}: {chosen}"),
    };
    let sure = now.sureness.map(|it| format!(", {}", it.word()));
    format!("{what}{}.", sure.unwrap_or_default())
}

fn leave(place: &PlaceAtTest, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let name = place.taster.name.to_string();
    if let Some(open) = place.open() {
        let set = open.round;
        return Err(WorkflowError::from(BlindError::StillOpen { name, set }).into());
    }
    let said = match home.leave_place(place)? {
        GoesOn::On => "The test goes on.",
        GoesOn::Stop => "The test has all the answers it needs; close it.",
    };
    Ok(writeln!(
        streams.output,
        "{name} has left; nothing of it can be seen or changed now. {said}"
    )?)
}

/// The answer as typed; what is not typed stays as it was.
fn as_given(
    given: &Answer,
    chosen: BlindingCode,
    before: Option<GivenAnswer>,
    home: &Home,
) -> Result<GivenAnswer, WorkflowError> {
    let before = before.unwrap_or(GivenAnswer {
        chosen,
        sureness: None,
        prefers: None,
        words: Vec::new(),
    });
    let sureness = given.sure.as_deref().map(Sureness::from_id).transpose()?;
    let prefers = given.prefers.map(BlindingCode::new).transpose()?;
    Ok(GivenAnswer {
        chosen,
        sureness: sureness.or(before.sureness),
        prefers: prefers.or(before.prefers),
        words: match &given.words {
            Some(words) => home.answer_words(words)?,
            None => before.words,
        },
    })
}

/// What stands before a taster: codes, and the question.
fn tell_place(
    place: &PlaceAtTest,
    set: Option<&SetOfGlasses>,
    question: &str,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let Some(set) = set else {
        writeln!(
            streams.output,
            "{}: every set is answered; --leave ends it, --set corrects one.",
            place.taster.name
        )?;
        return Ok(());
    };
    let mut codes: Vec<String> = set.codes.iter().map(BlindingCode::to_string).collect();
    if set.has_reference {
        codes.insert(0, "R".to_owned());
    }
    writeln!(
        streams.output,
        "{}, place {}, set {} of {}: taste from left to right: {}\n{question}\nAnswer with --choose CODE.",
        place.taster.name,
        place.place,
        set.round,
        place.sets.len(),
        codes.join(" ")
    )?;
    Ok(())
}
