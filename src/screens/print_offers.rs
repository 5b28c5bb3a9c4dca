//! What a screen offers on paper: one thing or several, each with its words, a name for its file, and how it is made.

use crate::domain::Descriptor;
use crate::domain::Reference;
use crate::domain::Wheel;
use crate::drawing::LABEL_SHEETS;
use crate::drawing::LabelSheet;
use crate::drawing::Paper;
use crate::reports;
use crate::reports::LooksThrough;
use crate::reports::PrintAsked;
use crate::reports::PrintOption;
use crate::reports::PrintRefused;
use crate::reports::Printable;
use crate::reports::Printout;
use crate::workflow::Home;
use crate::workflow::MarksOf;

/// What the pages are printed on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum PrintedOn {
    /// Plain paper.
    Plain(Paper),
    /// A sheet of labels, which brings its own paper.
    Labels(&'static LabelSheet),
}

impl PrintedOn {
    /// The paper of it.
    pub(super) const fn paper(self) -> Paper {
        match self {
            Self::Plain(paper) => paper,
            Self::Labels(sheet) => sheet.paper,
        }
    }
}

/// Makes the pages for what they are printed on.
type Makes = Box<dyn Fn(&mut Home, PrintedOn) -> Result<Printout, PrintRefused> + Send>;

/// Something that a screen offers on paper.
pub(super) struct Offer {
    /// What it is, in a few words.
    pub(super) words: String,
    /// A name for its file.
    pub(super) file: String,
    /// Makes it.
    pub(super) makes: Makes,
    /// The sheets of labels it can be printed on; none for what is no label.
    pub(super) labels: &'static [LabelSheet],
    /// How much of what was tasted is looked through for it.
    pub(super) looks_through: LooksThrough,
}

impl Offer {
    /// Something in the catalogue, of what is asked for.
    ///
    /// # Errors
    /// Never for what the catalogue names; else that it is not there.
    pub(super) fn listed(id: &str, asked: PrintAsked) -> Result<Self, PrintRefused> {
        let printable = Printable::find(id)?;
        let file = printable.file_name(&asked.of);
        let takes_labels = printable.takes.contains(&PrintOption::Labels);
        let makes = move |home: &mut Home, on: PrintedOn| {
            let labels = match on {
                PrintedOn::Plain(_) => None,
                PrintedOn::Labels(sheet) => Some(sheet.id.to_owned()),
            };
            let asked = PrintAsked {
                paper: on.paper(),
                labels,
                ..asked.clone()
            };
            printable.printed(home, &asked)
        };
        Ok(Self {
            words: printable.words.to_owned(),
            file,
            makes: Box::new(makes),
            labels: if takes_labels { LABEL_SHEETS } else { &[] },
            looks_through: printable.looks_through,
        })
    }

    /// Something in the catalogue of these, with nothing special.
    ///
    /// # Errors
    /// As [`Offer::listed`].
    pub(super) fn of(id: &str, of: &[String]) -> Result<Self, PrintRefused> {
        Self::listed(id, PrintAsked::of(of.to_vec(), Paper::A4))
    }

    /// Pages that are made from what is shown.
    pub(super) fn shown(
        words: &str,
        file: &str,
        makes: impl Fn(Paper) -> Result<Printout, PrintRefused> + Send + 'static,
    ) -> Self {
        Self {
            words: words.to_owned(),
            file: file.to_owned(),
            makes: Box::new(move |_, on| makes(on.paper())),
            labels: &[],
            looks_through: LooksThrough::Little,
        }
    }

    /// The same under other words.
    #[must_use]
    pub(super) fn worded(self, words: String) -> Self {
        Self { words, ..self }
    }

    /// The wheel as a poster, with these marks.
    pub(super) fn marked_wheel(of: MarksOf) -> Self {
        let words = format!("the wheel as a poster: {}", reports::marks_words(&of));
        let makes = move |home: &mut Home, on: PrintedOn| {
            reports::wheel_printout(home, Some(&of), on.paper())
        };
        Self {
            words,
            file: "marked-wheel.pdf".to_owned(),
            makes: Box::new(makes),
            labels: &[],
            looks_through: LooksThrough::Little,
        }
    }
}

/// What there is on paper of a batch.
///
/// # Errors
/// As [`Offer::listed`].
pub(super) fn batch_offers(mark: &str) -> Result<Vec<Offer>, PrintRefused> {
    let words = format!("batch {mark}: figures, how it came out, the words named, its log");
    let mut offers = vec![Offer::of("batch", &[mark.to_owned()])?.worded(words)];
    offers.extend(beer_offers(mark)?);
    Ok(offers)
}

/// What there is on paper of any beer, with a recipe or without.
///
/// # Errors
/// As [`Offer::listed`].
pub(super) fn beer_offers(mark: &str) -> Result<Vec<Offer>, PrintRefused> {
    let of = [mark.to_owned()];
    let wheel = format!("the wheel as a poster, with what was named in {mark}");
    Ok(vec![
        Offer::of("tasting-sheet", &of)?.worded(format!("a sheet to taste {mark} by hand")),
        Offer::of("wheel", &of)?.worded(wheel),
    ])
}

/// What there is on paper of a taster.
///
/// # Errors
/// As [`Offer::listed`].
pub(super) fn taster_offers(name: &str) -> Result<Vec<Offer>, PrintRefused> {
    let for_them = PrintAsked {
        taster: Some(name.to_owned()),
        ..PrintAsked::of(Vec::new(), Paper::A4)
    };
    let page = format!("the page of {name}: what is solid, what is borrowed, charts");
    let wheel = format!("the wheel as a poster, with what {name} named");
    let sheet = format!("a sheet for {name} to taste a glass by hand");
    Ok(vec![
        Offer::of("taster", &[name.to_owned()])?.worded(page),
        Offer::listed("wheel", for_them.clone())?.worded(wheel),
        Offer::listed("tasting-sheet", for_them)?.worded(sheet),
    ])
}

/// What there is on paper that belongs to no beer and to nobody.
///
/// # Errors
/// As [`Offer::listed`].
pub(super) fn bare_offers() -> Result<Vec<Offer>, PrintRefused> {
    let sheet = "a sheet to taste a glass by hand, for any beer";
    Ok(vec![
        Offer::of("tasting-sheet", &[])?.worded(sheet.to_owned()),
        bare_wheel()?,
    ])
}

/// The wheel as a poster, with nothing marked on it.
///
/// # Errors
/// As [`Offer::listed`].
pub(super) fn bare_wheel() -> Result<Offer, PrintRefused> {
    Ok(Offer::of("wheel", &[])?.worded("the wheel as a poster".to_owned()))
}

/// What there is on paper of a word: its jar, the jars of its shelf, and the wheel it stands on.
///
/// # Errors
/// As [`Offer::listed`].
pub(super) fn word_offers(wheel: &Wheel, word: &Descriptor) -> Result<Vec<Offer>, PrintRefused> {
    let own = [word.word.clone()];
    let card = format!("the jar of “{}” as a preparation card", word.word);
    let mut offers = vec![Offer::of("jar-cards", &own)?.worded(card)];
    if has_jar(word) {
        let label = format!("a label for the jar of “{}”, with allergens", word.word);
        offers.push(Offer::of("jar-labels", &own)?.worded(label));
    }
    if let Some(shelf) = wheel.shelf(&word.shelf) {
        let jars = wheel.words_on(&shelf.id).filter(|it| has_jar(it));
        let jars: Vec<&str> = jars.map(|it| it.word.as_str()).collect();
        if jars.len() > 1 {
            let name = &shelf.name;
            let cards = format!("all jars of the shelf {name} as preparation cards");
            let labels = format!("labels for all jars of the shelf {name}, with allergens");
            let of_shelf = |id: &str| -> Result<Offer, PrintRefused> {
                let offer = Offer::of(id, &[jars.join(", ")])?;
                let file = Printable::find(id)?.file_name(std::slice::from_ref(name));
                Ok(Offer { file, ..offer })
            };
            offers.push(of_shelf("jar-cards")?.worded(cards));
            offers.push(of_shelf("jar-labels")?.worded(labels));
        }
    }
    offers.push(bare_wheel()?);
    Ok(offers)
}

const fn has_jar(word: &Descriptor) -> bool {
    matches!(word.reference, Reference::Jar(_))
}
