//! How a tasting under way looks: the bar of stages, the question, and the notes so far beside.

use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Knew;
use crate::domain::Nose;
use crate::domain::Notes;
use crate::domain::SCALES;
use crate::domain::Stage;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::rating_words;
use crate::reports::ratings_of;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::TastingScreen;
use crate::screens::tasting_scale_page::scale_question;
use crate::screens::tasting_words_page::carried;
use crate::screens::tasting_words_page::entry_line;
use crate::screens::tasting_words_page::words_question;
use crate::workflow::Home;
use crate::workflow::stage_words;

/// The page of the question at which the taster stands.
pub(super) fn draw(screen: &TastingScreen, home: &mut Home, room: Room) -> Page {
    let cells = room.text_width();
    let mut page = Page::default();
    page.line(stage_bar(screen, home));
    if let Some(line) = glass_bar(screen) {
        page.line(line);
    }
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

/// Which of two glasses is in hand, and which one waits.
fn glass_bar(screen: &TastingScreen) -> Option<Line> {
    let two = screen.two()?;
    if screen.field() == Field::Lock {
        return None;
    }
    let mut line = Line::of(Ink::Quiet, " In hand: ");
    for tasting in &two.tastings {
        let here = tasting.notes.id == screen.tasting.notes.id;
        let ink = if here { Ink::Chosen } else { Ink::Quiet };
        line = line
            .and(ink, format!(" {} ", tasting.glass))
            .and(Ink::Plain, "  ");
    }
    Some(line)
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
        line = line.and(ink, format!(" {} ", stage.word()));
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
            choices(page, &words, Some(screen.chosen_knew()));
        }
        Field::Nose => {
            page.line(Line::of(Ink::Strong, "How is your nose today?"));
            page.gap();
            let words: Vec<&str> = Nose::ALL.iter().map(|it| it.word()).collect();
            choices(page, &words, Some(screen.chosen_nose()));
            page.gap();
            page.text(Ink::Quiet, "Notes from a poor day are kept and stay visible, but are not counted as your best.", cells);
        }
        Field::FirstSniff | Field::Words(_) => named(screen, home, page, cells),
        Field::CarriedOver => carried(screen, home, page, cells),
        Field::Scale(scale) => scale_question(screen, scale, page, cells),
        Field::Remark => {
            let asked = "Anything else worth keeping, in your own words?";
            page.line(Line::of(Ink::Strong, asked));
            page.gap();
            page.line(entry_line(screen));
            page.gap();
            let free = "Enter goes on, with or without a note.";
            page.line(Line::of(Ink::Quiet, free));
        }
        Field::Lock => lock(screen, home, page, cells),
    }
}

/// A question for words, with what to do before answering it.
fn named(screen: &TastingScreen, home: &Home, page: &mut Page, cells: usize) {
    let notes = &screen.tasting.notes;
    let asked = match (screen.field(), notes.form) {
        (Field::Words(Stage::Aroma), _) => {
            "Now smell in peace: short sniffs, then a pause. What do you smell?"
        }
        (Field::Words(_), Form::Short) => "Which three words say it best?",
        (Field::Words(_), Form::Full) => {
            "Take a sip and breathe out through the nose. What else is there?"
        }
        _ => "Take one quick sniff right after pouring. What comes to mind first?",
    };
    page.line(Line::of(Ink::Strong, asked));
    if screen.field() == Field::FirstSniff
        && notes.round == 1
        && screen.other.is_none()
        && !screen.is_at_panel()
    {
        page.text(Ink::Quiet, "Press . the moment the foam stands, and again when it has sunk to half: the watch runs on while you taste.", cells);
    }
    words_question(screen, home, page, cells);
}

fn checklist(screen: &TastingScreen, page: &mut Page, cells: usize) {
    let holds = &screen.allergens;
    if screen.practised {
        page.text(Ink::Plain, &format!("Clean glass, water, a small pour, no perfume. ! if the bottle is bad. May hold: {holds}."), cells);
    } else {
        full_caution(screen, page, cells);
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
    if screen.is_at_panel() {
        let alone = "Taste it by yourself; what was in the glasses is told at the end.";
        page.line(Line::of(Ink::Quiet, alone));
        return;
    }
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

/// The whole caution, as it fits to a bottle or to a glass that somebody else has poured.
fn full_caution(screen: &TastingScreen, page: &mut Page, cells: usize) {
    let (heading, first) = if screen.is_at_panel() {
        ("Before the first glass", AT_PANEL)
    } else {
        ("Before you open the bottle", CHECKLIST[0])
    };
    page.line(Line::of(Ink::Strong, heading));
    for text in [first].iter().chain(&CHECKLIST[1..]) {
        page.text(Ink::Plain, &format!("· {text}"), cells);
    }
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

/// What stands first in it where somebody else has poured.
const AT_PANEL: &str =
    "A film, mould, a chipped glass or a smell that is wrong: do not taste, press ! and say so.";

/// Draws numbered choices.
pub(super) fn choices(page: &mut Page, words: &[&str], chosen: Option<usize>) {
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

fn lock(screen: &TastingScreen, home: &Home, page: &mut Page, cells: usize) {
    let ends = if screen.turns_cups() {
        "That is all. Enter asks which cup was which, and locks your notes for good."
    } else {
        "That is all. Enter locks your notes for good."
    };
    page.text(Ink::Strong, ends, cells);
    let after = if screen.is_at_panel() {
        "Locked notes stay as they are for ever; what is in the glass is told when everybody is done. ↑ goes back, Tab walks the stages."
    } else {
        "Locked notes stay as they are for ever; only then is the plan opened. ↑ goes back, Tab walks the stages."
    };
    page.text(Ink::Quiet, after, cells);
    if let Some(two) = screen.two() {
        for tasting in &two.tastings {
            page.gap();
            page.line(Line::of(Ink::Strong, tasting.glass.to_string()));
            look_back(screen, &tasting.notes, home, page, cells);
        }
        return;
    }
    let notes = &screen.tasting.notes;
    page.gap();
    look_back(screen, notes, home, page, cells);
    if notes.form == Form::Full && !screen.is_at_panel() {
        let again = "= locks these and asks again as the glass warms.";
        page.text(Ink::Quiet, again, cells);
    }
}

/// What stands in the notes on a glass, and what is open in them.
fn look_back(screen: &TastingScreen, notes: &Notes, home: &Home, page: &mut Page, cells: usize) {
    let open = unanswered(screen, notes);
    if !open.is_empty() {
        let open = format!("Not answered: {open}. These stay open; they never count as 0.");
        page.text(Ink::Plain, &open, cells);
        page.gap();
    }
    for &stage in Stage::ALL {
        let mut all = stage_words(home.wheel(), notes, stage);
        let ratings = ratings_of(notes, Some(stage));
        all.extend((!ratings.is_empty()).then_some(ratings));
        if !all.is_empty() {
            let told = format!("{}: {}", stage.word(), all.join(" · "));
            page.text(Ink::Plain, &told, cells);
        }
    }
    page.text(Ink::Plain, &ratings_of(notes, None), cells);
    if let Some(remark) = &notes.remark {
        page.text(Ink::Plain, &format!("“{}”", remark.as_str()), cells);
    }
}

/// The scales of this form that have no answer, as a list in a sentence.
fn unanswered(screen: &TastingScreen, notes: &Notes) -> String {
    let open: Vec<String> = screen
        .fields()
        .iter()
        .filter_map(|field| match field {
            Field::Scale(scale) if notes.rating(scale).is_none() => Some(scale.word.to_lowercase()),
            _ => None,
        })
        .collect();
    open.join(", ")
}

fn notes_so_far(screen: &TastingScreen, home: &Home) -> Vec<Line> {
    let notes = &screen.tasting.notes;
    let title = match &screen.other {
        Some(_) => format!("Your notes on {}", screen.tasting.glass),
        None => "Your notes so far".to_owned(),
    };
    let mut lines = vec![Line::of(Ink::Title, title), Line::blank()];
    for &stage in Stage::ALL {
        let words = stage_words(home.wheel(), notes, stage).into_iter();
        let ratings = SCALES
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
