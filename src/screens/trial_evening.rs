//! An evening by keys alone: planned, shown to all, answered on screen and from paper, and what it says of each.

use crate::domain::MeetingPart;
use crate::domain::Spiked;
use crate::screens::App;
use crate::screens::press_line;
use crate::screens::trial::flat;
use crate::screens::trial::keys;
use crate::screens::trial::started;
use crate::workflow::Evening;
use crate::workflow::EveningPart;
use crate::workflow::Home;

fn evening(app: &mut App, course: &str) -> Evening {
    let home = app.home();
    let course = home.course(course).unwrap();
    home.latest_evening(&course).unwrap()
}

/// A course of three people and three meetings, with its first evening planned.
fn planned() -> App {
    let mut app = started(Home::trial());
    keys(&mut app, "85Winter⏎Ana, Ben, Cleo⏎3⏎⏎150⏎4⏎");
    assert!(
        flat(&mut app).contains("Winter, meeting 1 of 3"),
        "{}",
        flat(&mut app)
    );
    app
}

/// What is to be written on a sheet so that all is right, in the order of the sheet.
fn right_answers(home: &Home, evening: &Evening, name: &str) -> Vec<String> {
    let taster = home.taster(name).unwrap();
    let mut answers = Vec::new();
    for part in &evening.parts {
        if part.part == MeetingPart::Strength {
            let glasses = home
                .strength_run(&part.sitting, &taster)
                .unwrap()
                .series
                .glasses;
            answers.extend(
                glasses
                    .iter()
                    .map(|it| format!("{} {}", it.step.digit(), it.step.get())),
            );
            continue;
        }
        let run = home.practice_run(&part.sitting, &taster).unwrap();
        answers.extend(run.items.iter().map(|it| match it.spiked {
            Some(Spiked::Spiked) => "y 90".to_owned(),
            Some(Spiked::Plain) => "n 90".to_owned(),
            None => format!(
                "{} 70",
                home.wheel().descriptor(&it.descriptor).unwrap().word
            ),
        }));
    }
    answers
}

#[test]
fn labels_are_printed_from_the_evening_and_cards_only_by_who_does_not_learn() {
    let mut app = planned();
    keys(&mut app, "o");
    assert!(flat(&mut app).contains("Winter-answer-sheets.pdf"));
    keys(&mut app, "↓");
    let page = flat(&mut app);
    assert!(
        page.contains("labels for the jars") && page.contains("Winter-evening-labels.pdf"),
        "{page}"
    );
    keys(&mut app, "⎋1Ana⏎");
    let page = flat(&mut app);
    assert!(!page.contains("For the one who leads"), "{page}");
    keys(&mut app, "⌫⌫⌫Hob⏎o");
    assert!(flat(&mut app).contains("evening.pdf"));
    keys(&mut app, "↓");
    let page = flat(&mut app);
    assert!(
        page.contains("Winter, meeting 1 of 3: jars") && page.contains("evening-cards.pdf"),
        "{page}"
    );
    keys(&mut app, "↓");
    assert!(flat(&mut app).contains("Winter-evening-labels.pdf"));
}

#[test]
fn an_evening_is_planned_with_check_jars_trace_and_series_under_codes_of_their_own() {
    let mut app = planned();
    let evening = evening(&mut app, "winter");
    let parts: Vec<MeetingPart> = evening.parts.iter().map(|it| it.part).collect();
    assert_eq!(parts, MeetingPart::ALL);
    let codes: Vec<_> = evening.parts.iter().flat_map(EveningPart::codes).collect();
    let mut once = codes.clone();
    once.sort_unstable();
    once.dedup();
    assert_eq!((codes.len(), once.len()), (8 + 4 + 8 + 5, 25));
    keys(&mut app, "1");
    press_line(&mut app, "Hob");
    let leader = flat(&mut app);
    assert!(leader.contains("Fetch [ ]"), "{leader}");
    let lines = crate::reports::evening_lines(&evening, 79);
    let whole: String = lines.iter().map(|it| it.text() + "\n").collect();
    assert!(whole.contains("Running order"), "{whole}");
    assert!(whole.contains("spit cup"), "{whole}");
}

#[test]
fn what_is_in_the_jars_is_shown_to_nobody_before_it_is_said_who_reads_and_never_to_a_learner() {
    let mut app = planned();
    let evening = evening(&mut app, "winter");
    let tells = |seen: &str| {
        let mut cards = evening.parts.iter().flat_map(|it| &it.cards);
        cards.any(|it| seen.contains(&it.jar.item) || seen.contains("Fetch [ ]"))
    };
    // Enter by habit is for what all may see.
    press_line(&mut app, "");
    let seen = flat(&mut app);
    assert!(!tells(&seen), "{seen}");
    press_line(&mut app, "/back");
    keys(&mut app, "1");
    let asked = flat(&mut app);
    assert!(
        asked.contains("Who looks at what is in the jars?"),
        "{asked}"
    );
    assert!(!tells(&asked), "{asked}");
    for (typed, told) in [("", "Nothing was typed"), (" ana", "learns in it")] {
        press_line(&mut app, typed);
        let seen = flat(&mut app);
        assert!(seen.contains(told) && !tells(&seen), "{seen}");
        for _ in typed.chars() {
            press_line(&mut app, "/undo");
        }
    }
    press_line(&mut app, "Hob");
    let leader = flat(&mut app);
    assert!(tells(&leader), "{leader}");
}

#[test]
fn the_page_for_all_says_nothing_of_what_is_in_a_jar() {
    let mut app = planned();
    let evening = evening(&mut app, "winter");
    keys(&mut app, "2");
    let mut seen = String::new();
    for _ in &evening.blocks {
        seen += &flat(&mut app);
        keys(&mut app, "→");
    }
    assert!(
        seen.contains("THE CHECK") && seen.contains("Next, at minute"),
        "{seen}"
    );
    for part in &evening.parts {
        for card in &part.cards {
            assert!(seen.contains(&card.code.to_string()), "{}", card.code);
            assert!(!seen.contains(&card.jar.item), "{}", card.jar.item);
            assert!(!seen.contains(&format!("{} {}", card.code, card.word)));
        }
    }
}

#[test]
fn sheets_are_typed_in_corrected_and_told_when_all_are_in_but_never_the_check() {
    let mut app = planned();
    let evening = evening(&mut app, "winter");
    keys(&mut app, "7");
    for name in ["Ana", "Ben", "Cleo"] {
        assert!(
            flat(&mut app).contains("0 of 25 answers"),
            "{}",
            flat(&mut app)
        );
        // The next sheet stands out by itself.
        keys(&mut app, "⏎");
        assert!(flat(&mut app).contains(&format!("The sheet of {name}")));
        let answers = right_answers(app.home(), &evening, name);
        // The first line is typed wrongly, found, and typed again.
        keys(&mut app, "- 10⏎↑");
        for answer in answers {
            keys(&mut app, &format!("{answer}⏎"));
        }
        let page = flat(&mut app);
        assert!(page.contains("is complete"), "{page}");
        keys(&mut app, "⏎");
    }
    keys(&mut app, "⎋");
    let page = flat(&mut app);
    assert!(page.contains("3 of 3 have answered everything"), "{page}");
    // Nothing of it is told or counted before the answers are closed.
    let ana = app.home().taster("Ana").unwrap();
    assert!(app.home().confidence(&ana).unwrap().jars.all.is_none());
    keys(&mut app, "88");
    let page = flat(&mut app);
    assert!(page.contains("Closed. 3 people were there."), "{page}");
    // The jars are told.
    keys(&mut app, "41");
    assert!(
        flat(&mut app).contains("4 of 4 right"),
        "{}",
        flat(&mut app)
    );
    keys(&mut app, "⏎⎋");
    // The check is not.
    keys(&mut app, "31");
    let page = flat(&mut app);
    assert!(page.contains("told after the last meeting"), "{page}");
    assert!(!page.contains("of 8 right"), "{page}");
    keys(&mut app, "⏎⎋91");
    let page = flat(&mut app);
    assert!(
        page.contains("At meeting 1: 8 of 8 words and 8 of 8 places"),
        "{page}"
    );
    let held_back = &evening.course.check;
    let home = app.home();
    for id in held_back {
        let word = &home.wheel().descriptor(id).unwrap().word;
        assert!(!page.contains(word.as_str()), "{word}");
    }
    let ana = home.taster("Ana").unwrap();
    let confidence = home.confidence(&ana).unwrap();
    assert_eq!(confidence.jars.all.unwrap().count.tries(), 4);
    assert_eq!(confidence.strength[0].right, 10);
}

#[test]
fn the_words_of_a_check_are_never_practised_before_the_course_is_over() {
    let mut app = planned();
    let evening = evening(&mut app, "winter");
    let home = app.home();
    let ana = home.taster("Ana").unwrap();
    let words = home.wheel().descriptors().len();
    let drawn = home.jars_to_practise(&[ana], words).unwrap();
    assert!(!drawn.is_empty());
    for word in &evening.course.check {
        assert!(!drawn.contains(word), "{word}");
    }
    // Somebody who is not in the course may practise them.
    let dora = home.taster_or_new("Dora").unwrap();
    let drawn = home.jars_to_practise(&[dora], words).unwrap();
    assert!(evening.course.check.iter().all(|it| drawn.contains(it)));
}

#[test]
fn what_was_gained_is_told_with_its_range_from_the_second_check_on() {
    let mut app = planned();
    for (meeting, right) in [(1, 2), (2, 7)] {
        let evening = evening(&mut app, "winter");
        assert_eq!(evening.meeting.number, meeting);
        let home = app.home();
        for name in ["Ana", "Ben", "Cleo"] {
            let taster = home.taster(name).unwrap();
            let answers = right_answers(home, &evening, name);
            let rows = home.paper_rows(&evening, &taster).unwrap();
            // The check comes first on the sheet, in an order of its own: right are those that come
            // first among the words held back.
            for (row, answer) in rows.iter().zip(answers) {
                let part = evening.parts.iter().find(|it| it.part == row.part).unwrap();
                let card = part.cards.iter().find(|it| it.code == row.code);
                let place = card.and_then(|card| {
                    let word = |id: &&crate::domain::DescriptorId| {
                        home.wheel().descriptor(id).unwrap().word == card.word
                    };
                    evening.course.check.iter().position(|id| word(&id))
                });
                let answer = match (row.part, place) {
                    (MeetingPart::Check, Some(place)) if place >= right => "- 50".to_owned(),
                    _ => answer,
                };
                let read = crate::workflow::PaperAnswer::read(row.part, &answer, home.wheel());
                home.answer_from_paper(part, &taster, row.code, &read.unwrap())
                    .unwrap();
            }
        }
        home.close_answers(&evening).unwrap();
        if meeting == 1 {
            keys(&mut app, "⎋5⏎⏎⏎150⏎4⏎");
            assert!(
                flat(&mut app).contains("meeting 2 of 3"),
                "{}",
                flat(&mut app)
            );
        }
    }
    let home = app.home();
    let course = home.course("Winter").unwrap();
    let gain = home
        .course_gain(&course, &home.taster("Ben").unwrap())
        .unwrap();
    let words = gain.gain.unwrap().words;
    // 5 of 8 words were wrong first and right later: 5/8; (6 − 1)/10 ± 1.96·√((0.7 − 0.25)/10) is
    // 0.0842 to 0.9158 (Bonett & Price 2012, by hand).
    assert!((words.difference - 0.625).abs() < 1e-12);
    assert!(
        (words.low - 0.0842).abs() < 5e-4 && (words.high - 0.9158).abs() < 5e-4,
        "{words:?}"
    );
    keys(&mut app, "92");
    let page = flat(&mut app);
    assert!(page.contains("+62 in a hundred"), "{page}");
    assert!(
        page.contains("between +8 and +92: a gain beyond chance"),
        "{page}"
    );
}

#[test]
fn no_page_of_an_evening_breaks_in_a_small_room() {
    let mut app = planned();
    let small = crate::screens::Room {
        width: 30,
        height: 6,
    };
    for sign in "1⎋2→→⎋31⎋⎋71cardb 70⏎⎋⎋91⏎⎋⎋".chars() {
        app.framed(small);
        keys(&mut app, &sign.to_string());
    }
}
