//! The catalogue of what can be printed.

use std::ops::RangeInclusive;

use crate::reports::PrintAsked;
use crate::reports::PrintOption;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::batch_print;
use crate::reports::evening_print;
use crate::reports::history_print;
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
    /// Makes it.
    pub print: fn(&mut Home, &PrintAsked) -> Result<Printout, PrintRefused>,
}

/// Everything that can be printed.
pub static PRINTABLES: &[Printable] = &[
    Printable {
        id: "batch",
        words: "a batch: figures, colours, how it came out line by line, the words named, its log",
        of: "a cap mark",
        count: 1..=NAMES,
        takes: &[],
        example: "S1 S1-batch.pdf",
        print: batch_print::print,
    },
    Printable {
        id: "taster",
        words: "a taster's page: what is solid, what is borrowed, charts, what to practise next",
        of: "the name of a taster",
        count: 1..=NAMES,
        takes: &[],
        example: "Ana Ana.pdf",
        print: taster_print::print,
    },
    Printable {
        id: "history",
        words: "the history of a recipe: its versions as a tree, what was promised and what came of it",
        of: "the name of a recipe",
        count: 1..=NAMES,
        takes: &[],
        example: "Harbour dark history.pdf",
        print: history_print::print,
    },
    Printable {
        id: "wheel",
        words: "the wheel as a poster; with a cap mark, or --taster, what was named is dark",
        of: "nothing, or a cap mark",
        count: 0..=NAMES,
        takes: &[PrintOption::Taster],
        example: "wheel.pdf",
        print: wheel_print::print,
    },
    Printable {
        id: "evening",
        words: "an evening for the one who leads: shopping, running order, what is in which jar",
        of: "the name of a course",
        count: 1..=NAMES,
        takes: &[],
        example: "Winter evening.pdf",
        print: evening_print::print,
    },
];

/// As many words as a name may have.
const NAMES: usize = 40;

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
