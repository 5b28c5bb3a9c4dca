//! A practice in words: what to prepare, what was right, and how it went.

use crate::domain::ItemForm;
use crate::domain::Jar;
use crate::domain::PracticeItem;
use crate::domain::PracticeKind;
use crate::domain::Spiked;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::capitalised;
use crate::reports::comparison_report::wrapped;
use crate::reports::stands;
use crate::workflow::JarCard;
use crate::workflow::PracticeRun;
use crate::workflow::WhyAsked;

/// What was in it, and what was said.
#[must_use]
pub fn practice_answer_words(run: &PracticeRun, item: &PracticeItem, wheel: &Wheel) -> String {
    let Some(word) = wheel.descriptor(&item.descriptor) else {
        return String::new();
    };
    let replies = run.replies(item);
    let said = replies
        .word
        .as_ref()
        .and_then(|id| wheel.descriptor(id))
        .map(|it| it.word.clone())
        .or_else(|| {
            replies
                .place
                .as_ref()
                .and_then(|id| wheel.place(id))
                .map(|it| it.name.clone())
        });
    let said = match (item.form, said, replies.presence) {
        (ItemForm::Presence, _, Some(presence)) => format!("; you said {}", presence.word()),
        (_, Some(said), _) if run.right(item, wheel).whole != Some(true) => {
            format!("; you said {said}")
        }
        (_, None, None) => "; you could not tell".to_owned(),
        _ => String::new(),
    };
    let is = match (item.form, item.spiked) {
        (ItemForm::Presence, Some(Spiked::Spiked)) => format!("{} was in there", word.word),
        (ItemForm::Presence, _) => format!("no {} was in there", word.word),
        _ => format!("{} ({})", word.word, stands(wheel, word)),
    };
    let code = item.code.map_or(String::new(), |it| format!("{it}: "));
    format!("{code}{is}{said}.")
}

/// Why words would be asked now, in words.
#[must_use]
pub fn outlook_words(reasons: &[(WhyAsked, usize)]) -> String {
    let told = reasons.iter().map(|(why, count)| {
        let what = match why {
            WhyAsked::New => "new",
            WhyAsked::Needed => "hoped for in your last beers and not named",
            WhyAsked::NotYetFirm => "not firm yet",
            WhyAsked::Fading => "about to fade",
            WhyAsked::RareFault => "a rare fault, long not asked",
            WhyAsked::BesideLookAlike => "beside a look-alike",
        };
        format!("{count} {what}")
    });
    told.collect::<Vec<_>>().join(", ")
}

/// A finished practice, item by item, as lines of at most `cells` cells.
#[must_use]
pub fn practice_lines(run: &PracticeRun, wheel: &Wheel, cells: usize) -> Vec<Line> {
    let rights: Vec<bool> = run
        .items
        .iter()
        .filter_map(|it| run.right(it, wheel).whole)
        .collect();
    let right = rights.iter().filter(|it| **it).count();
    let places = run.items.iter().filter_map(|it| run.right(it, wheel).place);
    let places: Vec<bool> = places.collect();
    let by_place = if run.practice.kind == PracticeKind::Jars && !places.is_empty() {
        let found = places.iter().filter(|it| **it).count();
        format!(", {found} of {} in the right place", places.len())
    } else {
        String::new()
    };
    let head = format!("{right} of {} right{by_place}.", rights.len());
    let mut lines = wrapped(Ink::Strong, &head, cells);
    lines.push(Line::blank());
    for item in &run.items {
        let (sign, ink) = match run.right(item, wheel).whole {
            Some(true) => ("✓", Ink::Good),
            _ => ("·", Ink::Plain),
        };
        let text = format!("  {sign} {}", practice_answer_words(run, item, wheel));
        lines.extend(wrapped(ink, &text, cells));
    }
    lines
}

/// What is to be prepared, cautions and allergens first, then what to fetch and how.
#[must_use]
pub fn jar_card_lines(cards: &[JarCard], kind: PracticeKind, cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    for text in care_texts(cards.iter().map(|it| &it.jar)) {
        lines.extend(wrapped(Ink::Alert, &text, cells));
    }
    let mut items: Vec<&str> = cards.iter().map(|it| it.jar.item.as_str()).collect();
    items.sort_unstable();
    items.dedup();
    let fetch = format!("Fetch: {}.", items.join("; "));
    lines.extend(wrapped(Ink::Strong, &fetch, cells));
    lines.extend(jar_rows(cards, kind, cells));
    lines
}

/// What is in which jar and how it is made.
pub(super) fn jar_rows(cards: &[JarCard], kind: PracticeKind, cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    if kind == PracticeKind::Presence {
        lines.extend(spiked_rows(cards, cells));
        return lines;
    }
    for card in cards {
        lines.push(Line::blank());
        let what = format!("  [ ] {}  {}", card.code, card.word);
        lines.push(Line::of(Ink::Strong, what));
        lines.extend(wrapped(
            Ink::Plain,
            &format!("      {}", how_to_make(card)),
            cells,
        ));
    }
    lines
}

/// What is in a jar, how it is made and how it is met.
pub(super) fn how_to_make(card: &JarCard) -> String {
    let met = card.met_words();
    format!("{}. {} {met}.", card.jar.item, card.jar.how)
}

/// How spiked jars are prepared.
pub(super) const SPIKED_HOW: &str = "One jar as below, open and strong, shows what is looked for. For the coded jars put a tenth of the dose into a spoon of lukewarm water or under a paper towel; those without hold the same water or towel alone. All closed alike. Where beer or water may be taken, take water. Everything here is smelled, not tasted.";

/// How the spiked ones are made, once, and which they are.
fn spiked_rows(cards: &[JarCard], cells: usize) -> Vec<Line> {
    let mut lines = wrapped(Ink::Plain, SPIKED_HOW, cells);
    if let Some(card) = cards.first() {
        lines.extend(wrapped(
            Ink::Plain,
            &format!("      {}", how_to_make(card)),
            cells,
        ));
    }
    lines.push(Line::blank());
    for card in cards {
        let ink = match card.spiked {
            Some(Spiked::Spiked) => Ink::Strong,
            _ => Ink::Plain,
        };
        let line = Line::of(Ink::Strong, format!("  [ ] {}  ", card.code));
        lines.push(line.and(ink, card.spiked_words()));
    }
    lines
}

/// How a jar is met in which a trace is looked for, whatever it is for elsewhere.
const TRACE_MET: &str =
    "Here it is only smelled: leave out any sip or taste; nothing goes into the mouth";

impl JarCard {
    /// How it is met, as the beginning of a sentence.
    pub(super) fn met_words(&self) -> String {
        match self.spiked {
            Some(_) => TRACE_MET.to_owned(),
            None => capitalised(self.jar.met_by.word()),
        }
    }

    /// True where the jar may be mixed with beer elsewhere, and here with water alone.
    pub(super) fn takes_water(&self) -> bool {
        self.spiked.is_some() && self.jar.how.contains("beer")
    }

    /// Whether the word is in there, in words.
    pub(super) fn spiked_words(&self) -> String {
        match self.spiked {
            Some(Spiked::Spiked) => format!("with {}", self.word),
            _ => "without".to_owned(),
        }
    }
}

/// What anybody must know before a lid is opened.
pub(super) fn care_texts<'a>(jars: impl Iterator<Item = &'a Jar> + Clone) -> Vec<String> {
    let allergens = jars.clone().flat_map(|it| &it.allergens);
    let mut allergens: Vec<&str> = allergens.map(|it| it.word()).collect();
    allergens.sort_unstable();
    allergens.dedup();
    let cautions = jars.flat_map(|it| &it.cautions);
    let mut cautions: Vec<&str> = cautions.map(|it| it.word()).collect();
    cautions.sort_unstable();
    cautions.dedup();
    let mut texts = Vec::new();
    if !allergens.is_empty() {
        texts.push(format!(
            "These jars hold: {}. Ask everybody first.",
            allergens.join(", ")
        ));
    }
    if !cautions.is_empty() {
        texts.push(format!("Take care: {}.", cautions.join("; ")));
    }
    texts
}
