//! The catalogue of what can be printed.

use std::ops::RangeInclusive;

use crate::reports::PrintAsked;
use crate::reports::PrintOption;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::ballot_print;
use crate::reports::batch_print;
use crate::reports::blind_print;
use crate::reports::evening_print;
use crate::reports::history_print;
use crate::reports::jar_print;
use crate::reports::label_print;
use crate::reports::panel_print;
use crate::reports::paper_print;
use crate::reports::taster_print;
use crate::reports::wheel_print;
use crate::workflow::Home;

/// Something that can be printed.
pub struct Printable {
    /// What it is called when typed.
    pub id: &'static str,
    /// What it is, in a few words.
    pub words: &'static str,
    /// Of what it is printed, in words.
    pub of: &'static str,
    /// How many words say of what.
    pub count: RangeInclusive<usize>,
    /// The options it takes.
    pub takes: &'static [PrintOption],
    /// What follows the id in an example, up to the file.
    pub example: &'static str,
    /// How much of what was tasted is looked through for it.
    pub looks_through: LooksThrough,
    /// Makes it.
    pub print: fn(&mut Home, &PrintAsked) -> Result<Printout, PrintRefused>,
}

/// How much of what was tasted is looked through for something on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LooksThrough {
    /// All of it, to tell a difference from noise.
    Everything,
    /// Nothing, or the notes it tells.
    Little,
}

/// Everything that can be printed.
pub static PRINTABLES: &[Printable] = &[
    Printable {
        id: "batch",
        words: "a batch: figures, colours, how it came out line by line, the words named, its log",
        of: "a cap mark",
        count: 1..=NAMES,
        takes: &[],
        example: "OD2 OD2.pdf",
        looks_through: LooksThrough::Everything,
        print: batch_print::print,
    },
    Printable {
        id: "taster",
        words: "a taster's page: what is solid, what is borrowed, charts, what to practise next",
        of: "the name of a taster",
        count: 1..=NAMES,
        takes: &[],
        example: "Crumb Crumb.pdf",
        looks_through: LooksThrough::Everything,
        print: taster_print::print,
    },
    Printable {
        id: "history",
        words: "the history of a recipe: its versions as a tree, what was promised and what came of it",
        of: "the name of a recipe",
        count: 1..=NAMES,
        takes: &[],
        example: "Oven door history.pdf",
        looks_through: LooksThrough::Everything,
        print: history_print::print,
    },
    Printable {
        id: "wheel",
        words: "the wheel as a poster; with a cap mark, or --taster, what was named is dark",
        of: "nothing, or a cap mark",
        count: 0..=NAMES,
        takes: &[PrintOption::Taster],
        example: "wheel.pdf",
        looks_through: LooksThrough::Little,
        print: wheel_print::print,
    },
    Printable {
        id: "pouring-sheet",
        words: "what is poured in a blind test; not for tasters",
        of: "the number of a blind test",
        count: 1..=1,
        takes: &[PrintOption::Reader],
        example: "1 --reader Ben pour.pdf",
        looks_through: LooksThrough::Little,
        print: blind_print::print_pouring,
    },
    Printable {
        id: "serving-sheet",
        words: "which jug goes where in a blind test, where one pours and another serves; not for tasters",
        of: "the number of a blind test",
        count: 1..=1,
        takes: &[PrintOption::Reader],
        example: "1 --reader Cleo serve.pdf",
        looks_through: LooksThrough::Little,
        print: blind_print::print_serving,
    },
    Printable {
        id: "ballots",
        words: "the ballots of a blind test, to be cut apart",
        of: "the number of a blind test",
        count: 1..=1,
        takes: &[],
        example: "1 ballots.pdf",
        looks_through: LooksThrough::Little,
        print: ballot_print::print,
    },
    Printable {
        id: "cup-labels",
        words: "labels for the cups of a blind test",
        of: "the number of a blind test",
        count: 1..=1,
        takes: &[PrintOption::Labels, PrintOption::First],
        example: "1 --labels 3x8 --first 5 cups.pdf",
        looks_through: LooksThrough::Little,
        print: label_print::print_cups,
    },
    Printable {
        id: "panel-pouring",
        words: "what is poured for a panel; not for tasters",
        of: "the number of a panel",
        count: 1..=1,
        takes: &[PrintOption::Reader, PrintOption::TasterReads],
        example: "1 --reader Ben pour.pdf",
        looks_through: LooksThrough::Little,
        print: panel_print::print_pouring,
    },
    Printable {
        id: "panel-ballots",
        words: "the ballots of a panel, a page and more for each taster",
        of: "the number of a panel",
        count: 1..=1,
        takes: &[PrintOption::Taster],
        example: "1 --taster Ana ballots.pdf",
        looks_through: LooksThrough::Little,
        print: panel_print::print_ballots,
    },
    Printable {
        id: "panel-labels",
        words: "labels for the glasses of a panel",
        of: "the number of a panel",
        count: 1..=1,
        takes: &[PrintOption::Labels, PrintOption::First],
        example: "1 --labels 3x10 glasses.pdf",
        looks_through: LooksThrough::Little,
        print: label_print::print_glasses,
    },
    Printable {
        id: "tasting-sheet",
        words: "a sheet to taste a glass by hand, one for each cap mark",
        of: "cap marks, or of nothing for a glass without one",
        count: 0..=NAMES,
        takes: &[PrintOption::Taster],
        example: "S1 tasting.pdf",
        looks_through: LooksThrough::Little,
        print: panel_print::print_tasting,
    },
    Printable {
        id: "evening",
        words: "an evening for the one who leads: shopping, running order, what is in which jar",
        of: "the name of a course",
        count: 1..=NAMES,
        takes: &[PrintOption::Reader],
        example: "Winter --reader Hob evening.pdf",
        looks_through: LooksThrough::Little,
        print: evening_print::print,
    },
    Printable {
        id: "answer-sheets",
        words: "the answer sheets of an evening, everybody's codes in their own order",
        of: "the name of a course",
        count: 1..=NAMES,
        takes: &[PrintOption::Taster],
        example: "Winter sheets.pdf",
        looks_through: LooksThrough::Little,
        print: paper_print::print,
    },
    Printable {
        id: "evening-cards",
        words: "the jars of an evening as preparation cards; not for those who smell them",
        of: "the name of a course",
        count: 1..=NAMES,
        takes: &[PrintOption::Reader],
        example: "Winter --reader Hob cards.pdf",
        looks_through: LooksThrough::Little,
        print: jar_print::print_evening,
    },
    Printable {
        id: "evening-labels",
        words: "labels for the jars of an evening: codes alone",
        of: "the name of a course",
        count: 1..=NAMES,
        takes: &[PrintOption::Labels, PrintOption::First],
        example: "Winter --labels 4x10 jars.pdf",
        looks_through: LooksThrough::Little,
        print: label_print::print_evening,
    },
    Printable {
        id: "jar-cards",
        words: "the jars of some words as preparation cards, with cautions and allergens",
        of: "words of the wheel, with commas between",
        count: 1..=NAMES,
        takes: &[],
        example: "\"bread crust, vanilla\" cards.pdf",
        looks_through: LooksThrough::Little,
        print: jar_print::print_cards,
    },
    Printable {
        id: "jar-labels",
        words: "labels for the jars of some words, with allergens",
        of: "words of the wheel, with commas between",
        count: 1..=NAMES,
        takes: &[PrintOption::Labels, PrintOption::First],
        example: "\"bread crust, vanilla\" --labels 3x7 jars.pdf",
        looks_through: LooksThrough::Little,
        print: jar_print::print_labels,
    },
];

/// As many words as may say of what.
const NAMES: usize = 80;

impl Printable {
    /// The one of this name.
    ///
    /// # Errors
    /// There is none.
    pub fn find(id: &str) -> Result<&'static Self, PrintRefused> {
        let found = PRINTABLES.iter().find(|it| it.id == id);
        found.ok_or_else(|| {
            let known: Vec<&str> = PRINTABLES.iter().map(|it| it.id).collect();
            PrintRefused::Unknown {
                asked: id.chars().take(60).collect(),
                known: known.join(", "),
            }
        })
    }

    /// How it may be typed.
    #[must_use]
    pub fn typed(&self) -> String {
        format!("thirdglass print {} {}", self.id, self.example)
    }

    /// A good name for its file.
    #[must_use]
    pub fn file_name(&self, of: &[String]) -> String {
        let parts = of.iter().map(String::as_str).chain([self.id]);
        let joined = parts.collect::<Vec<_>>().join("-");
        let plain = |it: char| {
            if it.is_alphanumeric() || it == '.' {
                it
            } else {
                '-'
            }
        };
        let name: String = joined.chars().map(plain).take(80).collect();
        format!("{name}.pdf")
    }

    /// Makes the printout that is asked for.
    ///
    /// # Errors
    /// It is not said of what, an option means nothing here, or the verb behind it refuses.
    pub fn printed(&self, home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
        if !self.count.contains(&asked.of.len()) {
            return Err(PrintRefused::Of {
                id: self.id,
                of: self.of,
                example: self.typed(),
            });
        }
        let given = asked.options().into_iter();
        let mut useless = given.filter(|it| !self.takes.contains(&it.0));
        if let Some((_, option)) = useless.next() {
            return Err(PrintRefused::NoUse {
                id: self.id,
                option,
            });
        }
        (self.print)(home, asked)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Paper;
    use std::path::Path;

    #[test]
    fn no_name_stands_twice_and_every_example_ends_with_a_file_and_says_of_what() {
        for (index, it) in PRINTABLES.iter().enumerate() {
            assert!(
                PRINTABLES[index + 1..]
                    .iter()
                    .all(|other| other.id != it.id)
            );
            let words: Vec<&str> = it.example.split_whitespace().collect();
            let file = words.last().unwrap();
            assert_eq!(Printout::ensure_kind(Path::new(file)), Ok(()));
        }
    }

    #[test]
    fn what_is_asked_for_wrongly_is_told_with_what_there_is() {
        let mut home = Home::trial();
        let refused = Printable::find("labels").err().unwrap().to_string();
        for it in PRINTABLES {
            assert!(refused.contains(it.id), "{refused}");
            let mut asked = PrintAsked::of(vec![String::new(); NAMES + 1], Paper::A4);
            let told = it.printed(&mut home, &asked).unwrap_err().to_string();
            assert!(told.contains(&it.typed()), "{told}");
            asked.of.truncate(*it.count.start());
            asked.taster = Some("Ana".to_owned());
            asked.reader = Some("Ana".to_owned());
            asked.labels = Some("none".to_owned());
            let told = it.printed(&mut home, &asked).unwrap_err().to_string();
            assert!(told.contains("has no use for --"), "{told}");
        }
    }

    #[test]
    fn the_name_of_a_file_holds_no_sign_that_a_disk_minds() {
        let printable = &PRINTABLES[0];
        let of = ["Жаркий/вечер".to_owned(), "2".to_owned()];
        let name = format!("Жаркий-вечер-2-{}.pdf", printable.id);
        assert_eq!(printable.file_name(&of), name);
    }
}
