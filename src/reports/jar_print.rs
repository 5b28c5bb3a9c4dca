//! Preparation cards and labels for jars: what to fetch, how it is made, what it holds, what to take care of.

use crate::domain::BlindingCode;
use crate::domain::Jar;
use crate::domain::JarUse;
use crate::domain::Reference;
use crate::domain::Spiked;
use crate::domain::Wheel;
use crate::drawing::Flow;
use crate::drawing::HEADING;
use crate::drawing::LINE_PITCH;
use crate::drawing::Paper;
use crate::drawing::Sheet;
use crate::drawing::TEXT;
use crate::drawing::Type;
use crate::drawing::capitalised;
use crate::drawing::set_lines;
use crate::reports::NoWord;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::evening_report::all_cards;
use crate::reports::evening_title;
use crate::reports::label_print::Beneath;
use crate::reports::label_print::Label;
use crate::reports::label_print::labels;
use crate::reports::practice_report::care_texts;
use crate::workflow::Home;
use crate::workflow::JarCard;

/// A card.
#[derive(Debug, Clone, PartialEq)]
struct Card {
    code: Option<BlindingCode>,
    word: String,
    /// None where the jar holds the plain base alone.
    jar: Option<Jar>,
    /// What else is to be known.
    note: Option<String>,
}

/// White inside a card, mm.
const INSIDE: f64 = 4.0;

/// The cards of the words that are named.
pub(super) fn print_cards(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let cards = cards_of_words(home.wheel(), &asked.of)?;
    Ok(cards_printout("Jars", &cards, asked.paper))
}

/// The cards of all jars of the latest evening of a course, for whoever leads and does not learn.
pub(super) fn print_evening(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let course = home.course(&asked.name())?;
    let evening = home.read_evening(&course, asked.reader.as_deref())?;
    let cards: Vec<Card> = all_cards(&evening).iter().map(coded_card).collect();
    let title = format!("{}: jars", evening_title(&evening));
    Ok(cards_printout(&title, &cards, asked.paper))
}

/// The cards of the jars of one practice.
#[must_use]
pub fn jar_cards_printout(cards: &[JarCard], paper: Paper) -> Printout {
    let cards: Vec<Card> = cards.iter().map(coded_card).collect();
    cards_printout("Jars", &cards, paper)
}

/// Labels for the jars of the words that are named, for a shelf that everybody may read.
pub(super) fn print_labels(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let cards = cards_of_words(home.wheel(), &asked.of)?;
    let all: Vec<Label> = cards
        .iter()
        .map(|it| Label {
            large: it.word.clone(),
            small: it.jar.as_ref().map_or(String::new(), label_care),
        })
        .collect();
    labels("Labels for jars", &all, asked)
}
            beneath: Beneath::Care,

/// What must stand on the lid itself.
fn label_care(jar: &Jar) -> String {
    let mut parts: Vec<String> = Vec::new();
    if jar.met_by == JarUse::SniffOnly {
        parts.push(jar.met_by.word().to_owned());
    }
    let allergens: Vec<&str> = jar.allergens.iter().map(|it| it.word()).collect();
    if !allergens.is_empty() {
        parts.push(format!("holds {}", allergens.join(", ")));
    }
    parts.join(" · ")
}

/// One card for each word, in the order named; words come typed, and a comma parts them.
    parts.extend(jar.cautions.iter().map(|it| it.word().to_owned()));
fn cards_of_words(wheel: &Wheel, typed: &[String]) -> Result<Vec<Card>, PrintRefused> {
    let all = typed.join(" ");
    let typed: Vec<&str> = if all.contains(',') {
        all.split(',').map(str::trim).collect()
    } else {
        typed.iter().map(|it| it.trim()).collect()
    };
    let typed: Vec<&str> = typed.into_iter().filter(|it| !it.is_empty()).collect();
    if typed.is_empty() {
        return Err(PrintRefused::NoWords);
    }
    let cards = typed.into_iter().map(|asked| {
        let word = wheel.meant(asked);
        let word = word.map_err(|near| PrintRefused::NoWord(NoWord::new(asked, &near)))?;
        let (jar, note) = match &word.reference {
            Reference::Jar(jar) => (Some(jar.clone()), None),
            Reference::NoJar { why, instead } => {
                (None, Some(format!("No jar: {why}. Instead: {instead}.")))
            }
        };
        Ok(Card {
            code: None,
            word: word.word.clone(),
            jar,
            note,
        })
    });
    cards.collect()
}

fn coded_card(it: &JarCard) -> Card {
    let (word, note) = match it.spiked {
        None => (it.word.clone(), None),
        Some(Spiked::Spiked) => (
            it.spiked_words(),
            Some("A tenth of this dose, in lukewarm water or under a paper towel.".to_owned()),
        ),
        Some(Spiked::Plain) => (
            it.spiked_words(),
            Some("The same water or towel alone.".to_owned()),
        ),
    };
    Card {
        code: Some(it.code),
        word,
        jar: (it.spiked != Some(Spiked::Plain)).then(|| it.jar.clone()),
        note,
    }
}

/// Cards two beside each other, to be cut apart.
fn cards_printout(title: &str, cards: &[Card], paper: Paper) -> Printout {
    let mut flow = Flow::new(title, paper, title);
    flow.title(title);
    if cards.iter().any(|it| it.code.is_some()) {
        flow.warned("For whoever prepares: these cards say what is in which jar.");
    }
    for text in care_texts_of(cards) {
        flow.warned(&text);
    }
    flow.gap(2.0);
    let width = flow.width() / 2.0;
    for pair in cards.chunks(2) {
        let high = pair.iter().map(|it| card_height(it, width));
        let height = high.fold(40.0, f64::max);
        let [x, y] = flow.room(height);
        for (index, card) in pair.iter().enumerate() {
            let at = [(index as f64).mul_add(width, x), y];
            flow.sheet().cut_border(at, [width, height]);
            print_card(flow.sheet(), card, at, width);
        }
    }
    Printout {
        title: title.to_owned(),
        sheets: flow.finish(),
    }
}

fn care_texts_of(cards: &[Card]) -> Vec<String> {
    care_texts(cards.iter().filter_map(|it| it.jar.as_ref()))
}

/// The texts of a card with how they are set, and the white above each, mm.
fn card_texts(card: &Card) -> Vec<(String, Type, f64)> {
    let small = Type::of(3.3);
    let mut texts = Vec::new();
    if let Some(code) = card.code {
        texts.push((format!("☐ {code}"), Type::of(6.0).bold(), 0.0));
    }
    texts.push((card.word.clone(), HEADING, 0.5));
    if let Some(jar) = &card.jar {
        texts.push((capitalised(&jar.item), TEXT.bold(), 1.0));
        texts.push((jar.how.clone(), small, 0.8));
        let met = format!("{}. Keeps: {}.", capitalised(jar.met_by.word()), jar.keeps);
        let set = match jar.met_by {
            JarUse::SniffOnly => small.bold(),
            _ => small,
        };
        texts.push((met, set, 0.8));
        let allergens: Vec<&str> = jar.allergens.iter().map(|it| it.word()).collect();
        if !allergens.is_empty() {
            texts.push((
                format!("Holds: {}.", allergens.join(", ")),
                small.bold(),
                0.8,
            ));
        }
        let cautions: Vec<&str> = jar.cautions.iter().map(|it| it.word()).collect();
        if !cautions.is_empty() {
            let care = format!("Take care: {}.", cautions.join("; "));
            texts.push((care, small.bold(), 0.8));
        }
    }
    texts.extend(card.note.clone().map(|it| (it, small, 0.8)));
    texts
}

fn card_height(card: &Card, width: f64) -> f64 {
    let room = 2.0f64.mul_add(-INSIDE, width);
    let heights = card_texts(card).into_iter().map(|(text, set, above)| {
        let lines = set_lines(&text, set.size, set.weight, room).len();
        (lines as f64 * LINE_PITCH).mul_add(set.size, above)
    });
    2.0f64.mul_add(INSIDE, heights.sum())
}

fn print_card(sheet: &mut Sheet, card: &Card, [x, y]: [f64; 2], width: f64) {
    let room = 2.0f64.mul_add(-INSIDE, width);
    let mut down = y + INSIDE;
    for (text, set, above) in card_texts(card) {
        down += above;
        for line in set_lines(&text, set.size, set.weight, room) {
            sheet.text([x + INSIDE, down + set.size], &line, set);
            down += LINE_PITCH * set.size;
        }
    }
}
