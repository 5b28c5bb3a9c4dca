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
use crate::workflow::Evening;
use crate::workflow::Home;
use crate::workflow::JarCard;

/// A card.
#[derive(Debug, Clone, PartialEq)]
struct Card {
    code: Option<BlindingCode>,
    word: String,
    /// None where the jar holds the plain base alone.
    jar: Option<Jar>,
    /// How it is met, as the beginning of a sentence.
    met: String,
    /// What else is to be known.
    note: Option<String>,
    /// True where water is taken instead of beer.
    takes_water: bool,
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
    Ok(evening_cards_printout(&evening, asked.paper))
}

/// The cards of all jars of an evening, for whoever leads.
#[must_use]
pub fn evening_cards_printout(evening: &Evening, paper: Paper) -> Printout {
    let cards: Vec<Card> = all_cards(evening).iter().map(coded_card).collect();
    let title = format!("{}: jars", evening_title(evening));
    cards_printout(&title, &cards, paper)
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
            beneath: Beneath::Care,
        })
        .collect();
    labels("Labels for jars", &all, asked)
}

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
    parts.extend(jar.cautions.iter().map(|it| it.word().to_owned()));
    parts.join(" · ")
}

/// One card for each word, in the order named; words come typed, and a comma parts them.
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
        let met = jar.as_ref().map(|it| capitalised(it.met_by.word()));
        Ok(Card {
            code: None,
            word: word.word.clone(),
            met: met.unwrap_or_default(),
            jar,
            note,
            takes_water: false,
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
        met: it.met_words(),
        note,
        takes_water: it.takes_water(),
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
        let met = format!("{}. Keeps: {}.", card.met, jar.keeps);
        let set = match jar.met_by {
            JarUse::Taste | JarUse::Sniff if !card.met.contains("mouth") => small,
            _ => small.bold(),
        };
        texts.push((met, set, 0.8));
        let care = card_care(card, jar).into_iter();
        texts.extend(care.map(|it| (it, small.bold(), 0.8)));
    }
    texts.extend(card.note.clone().map(|it| (it, small, 0.8)));
    texts
}

/// What it holds and what to take care of. Where beer may be in it elsewhere and water is taken here, it is not known
/// which of it the beer would bring, so nothing is left out.
fn card_care(card: &Card, jar: &Jar) -> Vec<String> {
    let allergens: Vec<&str> = jar.allergens.iter().map(|it| it.word()).collect();
    let cautions: Vec<&str> = jar.cautions.iter().map(|it| it.word()).collect();
    if card.takes_water {
        let all = [allergens, cautions].concat().join("; ");
        return vec![format!(
            "Take water, not beer. Mixed with beer, or of its own: {all}."
        )];
    }
    let mut texts = Vec::new();
    if !allergens.is_empty() {
        texts.push(format!("Holds: {}.", allergens.join(", ")));
    }
    if !cautions.is_empty() {
        texts.push(format!("Take care: {}.", cautions.join("; ")));
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_card_is_printed_of_the_word_that_was_typed_and_never_of_one_that_is_only_like_it() {
        let home = Home::trial();
        let cards = |typed: &str| cards_of_words(home.wheel(), &[typed.to_owned()]);
        let words = |typed: &str| -> Vec<String> {
            let cards = cards(typed).unwrap();
            cards.into_iter().map(|it| it.word).collect()
        };
        assert_eq!(words("vanilla, bread crust"), ["vanilla", "bread crust"]);
        assert_eq!(words("vanil"), ["vanilla"]);
        for (typed, told) in [
            ("foo", "“foo” is no word of the wheel"),
            ("vanilla, foo", "“foo” is no word"),
            ("vsnilla", "did you mean “vanilla”"),
            ("", "no word was named"),
            (" , ", "no word was named"),
        ] {
            let refused = cards(typed).unwrap_err().to_string();
            assert!(refused.contains(told), "{typed}: {refused}");
        }
    }

    /// A jar that is tasted elsewhere, mixed with beer or water.
    fn lemon(spiked: Option<Spiked>) -> JarCard {
        let home = Home::trial();
        let word = home.wheel().meant("lemon juice").unwrap();
        let Reference::Jar(jar) = &word.reference else {
            panic!("lemon juice has a jar");
        };
        assert_eq!(jar.met_by, JarUse::Taste);
        assert!(jar.how.contains("beer or water"), "{}", jar.how);
        JarCard {
            code: BlindingCode::new(314).unwrap(),
            word: word.word.clone(),
            jar: jar.clone(),
            spiked,
        }
    }

    #[test]
    fn a_jar_in_which_a_trace_is_looked_for_is_never_said_to_be_tasted_nor_to_be_beer() {
        let texts = |spiked| -> String {
            let texts = card_texts(&coded_card(&lemon(spiked)));
            texts.into_iter().map(|it| it.0 + "\n").collect()
        };
        let trace = texts(Some(Spiked::Spiked));
        assert!(!trace.contains("Sniff and taste"), "{trace}");
        assert!(trace.contains("nothing goes into the mouth"), "{trace}");
        assert!(!trace.contains("Holds: gluten"), "{trace}");
        assert!(trace.contains("Take water, not beer"), "{trace}");
        assert!(trace.contains("gluten"), "the dose may hold it: {trace}");
        let plain = texts(Some(Spiked::Plain));
        assert!(!plain.contains("gluten"), "{plain}");
        // Where it is learnt, it is tasted, and the beer counts.
        let learnt = texts(None);
        assert!(learnt.contains("Sniff and taste"), "{learnt}");
        assert!(learnt.contains("Holds: gluten"), "{learnt}");
    }

    #[test]
    fn a_label_says_everything_to_take_care_of_that_the_card_says() {
        let home = Home::trial();
        for it in home.wheel().descriptors() {
            let Reference::Jar(jar) = &it.reference else {
                continue;
            };
            let care = label_care(jar);
            let allergens = jar.allergens.iter().map(|it| it.word());
            for said in jar.cautions.iter().map(|it| it.word()).chain(allergens) {
                assert!(care.contains(said), "{}: {care}", it.word);
            }
        }
    }
}
