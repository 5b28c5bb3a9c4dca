//! How a tasting under way looks: the bar of stages, the question, its picture, and the notes so far beside.

use crate::domain::Descriptor;
use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Knew;
use crate::domain::Measure;
use crate::domain::Nose;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::rating_words;
use crate::reports::ratings_of;
use crate::reports::stands;
use crate::screens::Action;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::TastingScreen;
use crate::screens::tasting_screen::MATCHES;
use crate::workflow::Home;
use crate::workflow::haze_words;
use crate::workflow::mark_words;
use crate::workflow::seen_through;
use crate::workflow::subject_word;

/// The colours that can be matched, EBC: the ten of the digit keys and one between each two.
pub(super) fn colour_ladder() -> Vec<f64> {
    let steps: Vec<f64> = colour_steps().collect();
    let between = steps
        .windows(2)
        .map(|pair| (pair[0] * pair[1]).sqrt().round());
    let mut ladder: Vec<f64> = steps.iter().copied().chain(between).collect();
    ladder.sort_by(f64::total_cmp);
    ladder
}

fn colour_steps() -> impl Iterator<Item = f64> {
    let colour = Scale::from_id("colour").expect("the colour scale stands in SCALES");
    (0..=9).filter_map(|digit| colour.value_of_digit(digit))
}

/// The everyday word for a beer colour (common practice; bands from memory).
fn colour_word(ebc: f64) -> &'static str {
    match ebc {
        ..4.0 => "pale straw",
        ..6.0 => "straw",
        ..9.0 => "gold",
        ..14.0 => "deep gold",
        ..20.0 => "amber",
        ..28.0 => "copper",
        ..40.0 => "red-brown",
        ..60.0 => "brown",
        ..85.0 => "dark brown",
        _ => "black",
    }
}

/// The page of the question at which the taster stands.
pub(super) fn draw(screen: &TastingScreen, home: &mut Home, room: Room) -> Page {
    let cells = room.text_width();
    let mut page = Page::default();
    page.line(stage_bar(screen, home));
    page.gap();
    if let Some(market) = &screen.market {
        market.draw(
            &mut page,
            home.wheel(),
            cells,
            "* keeps what you know so far",
        );
    } else {
        question(screen, home, &mut page, cells);
    }
    page.side = notes_so_far(screen, home);
    page
}

fn stage_bar(screen: &TastingScreen, home: &mut Home) -> Line {
    let here = screen.field().stage();
    let mut line = Line::blank();
    for &stage in Stage::ALL {
        let ink = if here == Some(stage) {
            Ink::Chosen
        } else {
            Ink::Quiet
        };
        line = line
            .and(ink, format!(" {} ", stage.word()))
            .and(Ink::Quiet, " ");
    }
    let fields = screen.fields();
    let at = fields
        .iter()
        .position(|it| *it == screen.field())
        .unwrap_or(0)
        + 1;
    line = line.and(Ink::Quiet, format!(" {at} of {}", fields.len()));
    let now = home.now();
    for watch in screen
        .tasting
        .notes
        .stopwatches
        .iter()
        .filter(|it| it.stopped_at.is_none())
    {
        let seconds = now.seconds_since(watch.started_at).max(0);
        let name = if watch.scale.id == "length" {
            "length"
        } else {
            "foam"
        };
        line = line.and(
            Ink::Strong,
            format!("   {name} {}:{:02}", seconds / 60, seconds % 60),
        );
    }
    line
}

fn question(screen: &TastingScreen, home: &Home, page: &mut Page, cells: usize) {
    match screen.field() {
        Field::Checklist => checklist(screen, page, cells),
        Field::Knew => {
            page.line(Line::of(
                Ink::Strong,
                "What do you know of this beer beforehand?",
            ));
            page.gap();
            let words: Vec<&str> = Knew::ALL.iter().map(|it| it.word()).collect();
            let given = Knew::ALL
                .iter()
                .position(|it| Some(*it) == screen.tasting.notes.knew);
            choices(page, &words, given.or(Some(screen.chosen_knew())));
        }
        Field::Nose => {
            page.line(Line::of(Ink::Strong, "How is your nose today?"));
            page.gap();
            let words: Vec<&str> = Nose::ALL.iter().map(|it| it.word()).collect();
            let given = Nose::ALL
                .iter()
                .position(|it| Some(*it) == screen.tasting.notes.nose);
            choices(page, &words, given.or(Some(0)));
            page.gap();
            page.text(Ink::Quiet, "Notes from a poor day are kept and stay visible, but are not counted as your best.", cells);
        }
        Field::FirstSniff => {
            page.line(Line::of(
                Ink::Strong,
                "Pour, and take one quick sniff. What comes to mind first?",
            ));
            page.text(Ink::Quiet, "Press . the moment the foam stands, and again when it has sunk to half: the watch runs on while you taste.", cells);
            words_question(screen, home, page, cells);
        }
        Field::Words(Stage::Aroma) => {
            page.line(Line::of(
                Ink::Strong,
                "Now smell in peace: short sniffs, then a pause. What do you smell?",
            ));
            words_question(screen, home, page, cells);
        }
        Field::Words(_) => {
            let asked = match screen.tasting.notes.form {
                Form::Short => "Which three words say it best?",
                Form::Full => "Take a sip and breathe out through the nose. What else is there?",
            };
            page.line(Line::of(Ink::Strong, asked));
            words_question(screen, home, page, cells);
        }
        Field::CarriedOver => carried(screen, home, page, cells),
        Field::Scale(scale) => scale_question(screen, scale, page, cells),
        Field::Remark => {
            page.line(Line::of(
                Ink::Strong,
                "Anything else worth keeping, in your own words?",
            ));
            page.gap();
            page.line(entry_line(screen));
            page.gap();
            page.line(Line::of(
                Ink::Quiet,
                "Enter goes on, with or without a note.",
            ));
        }
        Field::Lock => lock(screen, page, cells),
    }
}

fn checklist(screen: &TastingScreen, page: &mut Page, cells: usize) {
    let holds = &screen.allergens;
    if screen.practised {
        page.text(Ink::Plain, &format!("Clean glass, water, a small pour, no perfume. ! if the bottle is bad. May hold: {holds}."), cells);
    } else {
        page.line(Line::of(Ink::Strong, "Before you open the bottle"));
        for text in CHECKLIST {
            page.text(Ink::Plain, &format!("· {text}"), cells);
        }
        page.text(
            Ink::Alert,
            &format!("· The beers of this table may hold: {holds}."),
            cells,
        );
    }
    page.gap();
    let form = screen.tasting.notes.form;
    page.line(Line::of(
        Ink::Strong,
        format!("Ready? Enter begins ({}).", form.word()),
    ));
    page.line(Line::of(
        Ink::Quiet,
        match form {
            Form::Full => {
                "s takes the short glass instead: five ratings, three words, two minutes."
            }
            Form::Short => "s takes all five stages instead.",
        },
    ));
}

/// The full caution, shown before a taster's first glass.
const CHECKLIST: [&str; 6] = [
    "Cool bottle, opened over a sink and away from faces. Gushing, a film, mould or chipped glass: do not taste, press !",
    "A clean plain glass, rinsed, 100 mL or less; that is about 4 g of alcohol in a beer of 5 %. Water beside it.",
    "No perfume, smoke or strong food within the hour. A plain cracker between sips (it holds gluten).",
    "Sip or spit: a spit cup is never rude, and smelling alone counts. Nobody is pressed; stop whenever you like.",
    "No alcohol for anyone under age, driving, pregnant, or on medicines that forbid it; your local law goes first.",
    "Do not talk about the beer until everybody at the table has locked their notes.",
];

fn choices(page: &mut Page, words: &[&str], chosen: Option<usize>) {
    for (index, word) in words.iter().enumerate() {
        let ink = if chosen == Some(index) {
            Ink::Chosen
        } else {
            Ink::Plain
        };
        page.choice(
            Line::of(Ink::Strong, format!("  {}  ", index + 1)).and(ink, format!(" {word} ")),
            Press::Row(index),
        );
    }
}

fn entry_line(screen: &TastingScreen) -> Line {
    Line::of(Ink::Quiet, "> ")
        .and(Ink::Strong, screen.entry.text())
        .and(Ink::Chosen, " ")
}

fn words_question(screen: &TastingScreen, home: &Home, page: &mut Page, cells: usize) {
    page.gap();
    if let Some(mark) = &screen.pending {
        let word = subject_word(home.wheel(), &mark.subject);
        page.line(Line::of(Ink::Strong, format!("How strong is {word}?")));
        page.line(Line::of(
            Ink::Plain,
            "0 none · 1 only just there · 3 light · 5 clear · 7 strong · 9 cannot be more",
        ));
    } else if let Some(place) = screen
        .sweep
        .and_then(|at| Some((at, home.wheel().places().get(at)?)))
    {
        page.line(Line::of(
            Ink::Strong,
            format!(
                "Place {} of {}: {}. Anything from here?",
                place.0 + 1,
                home.wheel().places().len(),
                place.1.name
            ),
        ));
        page.text(Ink::Plain, &place.1.met, cells);
        page.gap();
        page.line(Line::of(
            Ink::Quiet,
            "Enter: nothing from here. →: look closer. Esc: enough.",
        ));
    } else {
        page.line(entry_line(screen));
        page.gap();
        matches(screen, home, page, cells);
    }
    page.gap();
    named_here(screen, home, page, cells);
}

fn matches(screen: &TastingScreen, home: &Home, page: &mut Page, cells: usize) {
    let typed = screen.entry.text();
    if typed.is_empty() {
        page.text(Ink::Quiet, "Type a word and give it a digit. → walks through the market: place, shelf, word. Enter on an empty line goes on.", cells);
        return;
    }
    let found: Vec<&Descriptor> = home.wheel().search(typed, MATCHES);
    if found.is_empty() {
        page.text(Ink::Plain, &format!("“{typed}” is not on the wheel. Enter keeps it in your own words; * looks for its place."), cells);
    }
    for (index, it) in found.iter().enumerate() {
        let chosen = index == screen.chosen;
        let ink = if chosen { Ink::Chosen } else { Ink::Plain };
        page.choice(
            Line::of(ink, format!(" {:<27}", it.word))
                .and(Ink::Quiet, format!(" {}", stands(home.wheel(), it))),
            Press::Row(index),
        );
    }
    if let Some(it) = found.get(screen.chosen) {
        page.text(Ink::Quiet, &it.definition, cells);
    }
}

fn named_here(screen: &TastingScreen, home: &Home, page: &mut Page, cells: usize) {
    let stage = match screen.field() {
        Field::Words(stage) => stage,
        _ => Stage::Aroma,
    };
    let words: Vec<String> = screen
        .tasting
        .notes
        .marks_at(stage)
        .filter(|mark| mark.intensity != Some(0))
        .map(|mark| mark_words(home.wheel(), mark))
        .collect();
    if !words.is_empty() {
        page.text(Ink::Plain, &format!("Noted: {}", words.join(", ")), cells);
    }
}

fn carried(screen: &TastingScreen, home: &Home, page: &mut Page, cells: usize) {
    page.line(Line::of(Ink::Strong, "Take a sip and breathe out through the nose. What you smelled: how strong is it in the mouth?"));
    page.gap();
    let still = screen.still_carried();
    for (index, subject) in still.iter().enumerate() {
        let ink = if index == 0 { Ink::Chosen } else { Ink::Quiet };
        page.line(Line::of(
            ink,
            format!("  {}  ", subject_word(home.wheel(), subject)),
        ));
    }
    page.gap();
    page.text(Ink::Quiet, "One digit for the word on top, 0 if it is not there. Space leaves it unsaid; Enter leaves all the rest unsaid.", cells);
    page.gap();
    let words: Vec<String> = screen
        .tasting
        .notes
        .marks_at(Stage::Flavour)
        .map(|mark| mark_words(home.wheel(), mark))
        .collect();
    if !words.is_empty() {
        page.text(Ink::Plain, &format!("Noted: {}", words.join(", ")), cells);
    }
}

fn scale_question(screen: &TastingScreen, scale: &'static Scale, page: &mut Page, cells: usize) {
    page.text(Ink::Strong, scale.question, cells);
    page.gap();
    let given = screen.tasting.notes.rating(scale);
    let value = given.and_then(Rating::value);
    match &scale.measure {
        _ if scale.id == "colour" => colours(screen, value, page),
        Measure::Intensity => ladder(scale, value, page),
        Measure::Amount { unit, steps, .. } => {
            for (index, step) in steps.iter().enumerate() {
                let chosen = value.is_some_and(|value| (value - step).abs() < 0.5);
                let ink = if chosen { Ink::Chosen } else { Ink::Plain };
                page.choice(
                    Line::of(Ink::Strong, format!("  {index}  "))
                        .and(ink, format!(" {step:>4.0} {unit} ")),
                    Press::Row(index),
                );
            }
        }
        Measure::Choice { words } => {
            let chosen = value.map(|value| value as usize);
            choices(page, words, chosen.and_then(|it| it.checked_sub(1)));
        }
    }
    if unit_is_seconds(scale) {
        page.gap();
        page.line(Line::of(
            Ink::Quiet,
            "Or let the watch do it: . starts it, . again stops it.",
        ));
    }
    if let Some(rating) = given {
        page.gap();
        page.line(Line::of(
            Ink::Good,
            format!("Answered: {}. Enter keeps it.", rating_words(scale, rating)),
        ));
    }
}

fn unit_is_seconds(scale: &Scale) -> bool {
    matches!(scale.measure, Measure::Amount { unit: "s", .. })
}

fn ladder(scale: &Scale, value: Option<f64>, page: &mut Page) {
    let mut line = Line::plain("  ");
    for digit in 0..=9_u8 {
        let chosen = value.is_some_and(|value| (value - f64::from(digit)).abs() < 0.5);
        let ink = if chosen { Ink::Chosen } else { Ink::Strong };
        line = line.and(ink, format!("  {digit}  "));
    }
    page.line(line);
    page.line(Line::of(
        Ink::Quiet,
        "  none just there  light     clear     strong    most",
    ));
    page.gap();
    page.line(Line::of(
        Ink::Plain,
        format!("  0 {}   …   9 {}", scale.low, scale.high),
    ));
    if scale.id == "haze" {
        page.gap();
        for (digit, words) in haze_words() {
            page.line(Line::of(Ink::Quiet, format!("  {digit} {words}")));
        }
    }
}

fn colours(screen: &TastingScreen, value: Option<f64>, page: &mut Page) {
    const FOAM: [u8; 3] = [245, 240, 225];
    let fine = screen
        .chosen
        .checked_sub(1)
        .and_then(|index| colour_ladder().get(index).copied());
    page.line(Line::plain("       1 cm    3 cm     5 cm deep"));
    page.line(
        Line::plain("      ")
            .and(Ink::Patch(FOAM), " ".repeat(24))
            .and(Ink::Quiet, "  foam"),
    );
    for (digit, ebc) in colour_steps().enumerate() {
        let chosen = fine
            .or(value)
            .is_some_and(|value| (value - ebc).abs() < 0.5);
        let ink = if chosen { Ink::Chosen } else { Ink::Plain };
        page.choice(strip(&format!("  {digit}   "), ebc, ink), Press::Row(digit));
    }
    page.gap();
    let between = fine
        .or(value)
        .filter(|value| colour_steps().all(|step| (step - value).abs() >= 0.5));
    match between {
        Some(ebc) => page.line(strip("  Enter", ebc, Ink::Chosen)),
        None => page.line(Line::of(
            Ink::Quiet,
            "  ← and → look for one between two; Enter takes it.",
        )),
    }
}

fn strip(label: &str, ebc: f64, ink: Ink) -> Line {
    let mut line = Line::of(Ink::Strong, format!("{label:<6}"));
    for (colour, wide) in seen_through(ebc).into_iter().zip([7, 8, 9]) {
        line = line.and(Ink::Patch(colour), " ".repeat(wide));
    }
    line.and(Ink::Plain, "  ")
        .and(ink, format!(" {:<10} {ebc:>3.0} EBC ", colour_word(ebc)))
}

fn lock(screen: &TastingScreen, page: &mut Page, cells: usize) {
    let notes = &screen.tasting.notes;
    page.line(Line::of(
        Ink::Strong,
        "That is all. Enter locks your notes for good.",
    ));
    page.text(Ink::Quiet, "Locked notes stay as they are for ever; only then is the plan opened. ↑ goes back, Tab walks the stages.", cells);
    let open: Vec<String> = screen
        .fields()
        .iter()
        .filter_map(|field| match field {
            Field::Scale(scale) if notes.rating(scale).is_none() => Some(scale.word.to_lowercase()),
            _ => None,
        })
        .collect();
    if !open.is_empty() {
        page.gap();
        page.text(
            Ink::Plain,
            &format!(
                "Not answered: {}. That is kept as silence.",
                open.join(", ")
            ),
            cells,
        );
    }
    page.gap();
    for &stage in Stage::ALL {
        let ratings = ratings_of(notes, Some(stage));
        if !ratings.is_empty() {
            page.text(Ink::Plain, &format!("{}: {ratings}", stage.word()), cells);
        }
    }
    let after = ratings_of(notes, None);
    page.text(Ink::Plain, &after, cells);
    if notes.form == Form::Full {
        page.text(
            Ink::Quiet,
            "= locks these and asks again as the glass warms.",
            cells,
        );
    }
}

fn notes_so_far(screen: &TastingScreen, home: &Home) -> Vec<Line> {
    let notes = &screen.tasting.notes;
    let mut lines = vec![Line::of(Ink::Title, "Your notes so far"), Line::blank()];
    for &stage in Stage::ALL {
        let words = notes
            .marks_at(stage)
            .map(|mark| mark_words(home.wheel(), mark));
        let ratings = crate::domain::SCALES
            .iter()
            .filter(|scale| scale.stage == Some(stage))
            .filter_map(|scale| Some(rating_words(scale, notes.rating(scale)?)));
        let all: Vec<String> = words.chain(ratings).collect();
        if !all.is_empty() {
            lines.push(Line::of(Ink::Strong, stage.word()));
            lines.extend(
                all.into_iter()
                    .map(|text| Line::plain(format!("  {}", crate::screens::cut(&text, 60)))),
            );
        }
    }
    lines
}

/// The keys that work on a question.
pub(super) fn actions(screen: &TastingScreen) -> Vec<Action> {
    use Action::{
        Accept, Back, CannotTell, Down, Fault, Left, NextStage, PreviousStage, Right, SecondPass,
        Short, Skip, Sweep, Undo, Unnameable, Up, Watch,
    };
    if screen.market.is_some() {
        return vec![Accept, Unnameable, Left, Right, Up, Down, Undo, Fault, Back];
    }
    if screen.sweep.is_some() {
        return vec![Accept, Right, Undo, Watch, Fault, Back];
    }
    let own: &[Action] = match screen.field() {
        Field::Checklist => &[Short],
        Field::Knew | Field::Nose => &[],
        Field::FirstSniff | Field::Words(_) => &[Right, Unnameable, Sweep, Watch],
        Field::Scale(scale) if scale.id == "colour" => &[Left, Right, Skip, CannotTell, Watch],
        Field::Scale(_) => &[Skip, CannotTell, Watch],
        Field::CarriedOver => &[Skip, Watch],
        Field::Remark => &[],
        Field::Lock if screen.tasting.notes.form == Form::Full => &[SecondPass, Watch],
        Field::Lock => &[],
    };
    let mut actions = vec![Accept];
    actions.extend(own);
    actions.extend([Undo, Fault, NextStage, PreviousStage, Up, Down, Back]);
    actions
}

/// What a question is for.
pub(super) const fn explanation(field: Field) -> &'static str {
    match field {
        Field::Checklist => {
            "Once before the first glass: what helps the nose and keeps everybody safe. From now until you lock, nothing of the recipe, of the brewer's hopes or of anybody else's notes is shown anywhere."
        }
        Field::Knew => {
            "Who knows the recipe finds it in the glass. Whatever you answer is fine; it is kept with your notes so that they can be read rightly later."
        }
        Field::Nose => {
            "A cold or a meal changes everything you smell. Say so and go on; these notes are kept, but not counted as your best."
        }
        Field::FirstSniff => {
            "The first sniff is the most honest one: the nose tires within seconds. A word or two that come by themselves are enough."
        }
        Field::Words(_) => {
            "Type the first letters of a word; misspelt is fine. The list shows what is meant. Enter or a digit takes the chosen one; the digit says how strong it is. If no word comes, → walks through the market: where have you smelled this? * keeps a smell without a name."
        }
        Field::CarriedOver => {
            "What the nose found is asked again in the mouth, with one digit each. 0 means that you looked for it and it is not there."
        }
        Field::Scale(_) => {
            "One digit answers and goes on. Backspace takes it back. Space passes the question over, - says that you cannot tell; both are better than a guess."
        }
        Field::Remark => {
            "Whatever the questions did not ask. It is shown with your notes after the lock."
        }
        Field::Lock => {
            "Look back once: ↑ and Tab go to any question. Enter locks. After that the notes are final and the plan may be opened."
        }
    }
}
