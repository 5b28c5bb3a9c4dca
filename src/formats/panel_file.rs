//! Ratings of a panel as a table with commas: one row an answer, whatever program kept it.

use std::collections::HashMap;
use std::collections::HashSet;
use std::io;
use std::io::Read;

use csv::Reader;
use csv::ReaderBuilder;
use csv::StringRecord;
use sha2::Digest;
use sha2::Sha256;

use crate::domain::Day;
use crate::domain::Invalid;
use crate::domain::Name;
use crate::domain::PanelRating;
use crate::formats::Problem;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::shown;

/// The columns, in any order; all of them are needed.
pub(super) const PANEL_COLUMNS: [&str; 9] = [
    "taster",
    "sitting",
    "sample",
    "replicate",
    "date",
    "line",
    "intensity",
    "low",
    "high",
];

/// The most problems that are told of one file.
const MOST_PROBLEMS: usize = 50;

/// Digits of the highest answer.
const TOP: f64 = 9.0;

/// A table that was read to its end without a problem.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RatingTable {
    /// How many ratings it holds.
    pub ratings: u32,
    /// The SHA-256 of its bytes, in hexadecimal digits.
    pub hash: String,
}

/// Reads ratings from a table with a head row and gives each to `keep` as soon as it is read; an intensity
/// lies between the ends of its scale, `low` and `high`, and is told on 0 to 9.
///
/// # Errors
/// Every problem by row and column, the first fifty of them; a table without rows is one too. What was kept
/// until then is not to be used.
pub fn read_panel(
    file: &str,
    table: impl Read,
    keep: impl FnMut(PanelRating),
) -> Result<RatingTable, Vec<Problem>> {
    let mut reading = Reading {
        file,
        problems: Vec::new(),
        seen: HashSet::new(),
        names: HashMap::new(),
        keep,
        ratings: 0,
    };
    let mut hashed = Hashed {
        table,
        hash: Sha256::new(),
    };
    reading.table(&mut hashed);
    if reading.problems.is_empty() {
        Ok(RatingTable {
            ratings: reading.ratings,
            hash: format!("{:x}", hashed.hash.finalize()),
        })
    } else {
        Err(reading.problems)
    }
}

/// A table whose bytes are hashed as they are read.
struct Hashed<R> {
    table: R,
    hash: Sha256,
}

impl<R: Read> Read for Hashed<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.table.read(buffer)?;
        self.hash.update(&buffer[..read]);
        Ok(read)
    }
}

/// Taster, sitting, day, sample, replicate and line of a row, by the numbers of their names.
type Answered = (u32, u32, Day, u32, u16, u32);

struct Reading<'a, K> {
    file: &'a str,
    problems: Vec<Problem>,
    /// Every row so far: each is answered once.
    seen: HashSet<Answered>,
    /// Names have numbers, so that a million rows stay small, and the spelling they had first.
    names: HashMap<String, (u32, Name)>,
    keep: K,
    ratings: u32,
}

/// One row with the places of its columns.
struct Row<'a> {
    line: usize,
    record: &'a StringRecord,
    places: [usize; 9],
}

impl Row<'_> {
    fn text(&self, column: usize) -> &str {
        self.record.get(self.places[column]).unwrap_or_default()
    }
}

impl<K: FnMut(PanelRating)> Reading<'_, K> {
    fn mark(&mut self, line: usize, column: usize, kind: impl Into<ProblemKind>) {
        if self.problems.len() < MOST_PROBLEMS {
            self.problems.push(Problem {
                file: self.file.to_owned(),
                line,
                column,
                kind: kind.into(),
            });
        }
    }

    fn table(&mut self, table: &mut impl Read) {
        let mut reader = ReaderBuilder::new()
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(table);
        let head = match reader.headers() {
            Ok(head) => head.clone(),
            Err(error) => {
                let found = error.to_string();
                return self.mark(1, 1, ProblemKind::Syntax { found });
            }
        };
        let Some(places) = self.places(&head) else {
            return;
        };
        self.rows(&mut reader, places);
        if self.ratings == 0 && self.problems.is_empty() {
            let found = "there is no row below the head".to_owned();
            let advice = "write one row for each answer";
            self.mark(1, 1, ProblemKind::Together { found, advice });
        }
    }

    /// Every row below the head.
    fn rows<R: Read>(&mut self, reader: &mut Reader<R>, places: [usize; 9]) {
        let mut record = StringRecord::new();
        let mut line = 1;
        loop {
            match reader.read_record(&mut record) {
                Ok(false) => break,
                Ok(true) => {
                    line = record.position().map_or(line + 1, line_of);
                    let row = Row {
                        line,
                        record: &record,
                        places,
                    };
                    self.rating(&row);
                }
                Err(error) => {
                    line = error.position().map_or(line + 1, line_of);
                    let found = error.to_string();
                    self.mark(line, 1, ProblemKind::Syntax { found });
                    if matches!(error.kind(), csv::ErrorKind::Io(_)) {
                        break;
                    }
                }
            }
        }
    }

    /// The number of a name, and the name as it was first spelt: capitals make no other name, as they make no other
    /// taster.
    fn known(&mut self, column: usize, name: &Name) -> (u32, Name) {
        let folded = format!("{column} {}", name.as_str().to_lowercase());
        let next = u32::try_from(self.names.len()).unwrap_or(u32::MAX);
        let known = self.names.entry(folded).or_insert((next, name.clone()));
        known.clone()
    }

    /// Where each column stands; those that are missing are marked.
    fn places(&mut self, head: &StringRecord) -> Option<[usize; 9]> {
        if let (1, Some(all)) = (head.len(), head.get(0))
            && all.contains([';', '\t'])
        {
            let found = "the head row has no commas".to_owned();
            let advice = "keep the table with commas between its columns";
            self.mark(1, 1, ProblemKind::Together { found, advice });
            return None;
        }
        let place = |name: &str| head.iter().position(|it| it.eq_ignore_ascii_case(name));
        let found = PANEL_COLUMNS.map(place);
        for (name, place) in PANEL_COLUMNS.into_iter().zip(found) {
            if place.is_none() {
                self.mark(
                    1,
                    1,
                    ProblemKind::Together {
                        found: format!("the column “{name}” is missing"),
                        advice: "the head row names taster, sitting, sample, replicate, date, line, intensity, low, high",
                    },
                );
            }
        }
        let places: Option<Vec<usize>> = found.into_iter().collect();
        places?.try_into().ok()
    }

    fn rating(&mut self, row: &Row<'_>) {
        let Some(rating) = self.read(row) else {
            return;
        };
        let (taster, sitting) = (
            self.known(0, &rating.taster),
            self.known(1, &rating.sitting),
        );
        let (sample, line) = (self.known(2, &rating.sample), self.known(5, &rating.line));
        let (day, replicate) = (rating.tasted_on, rating.replicate);
        let answered = (taster.0, sitting.0, day, sample.0, replicate, line.0);
        if self.seen.insert(answered) {
            self.ratings = self.ratings.saturating_add(1);
            (self.keep)(PanelRating {
                taster: taster.1,
                sitting: sitting.1,
                sample: sample.1,
                line: line.1,
                ..rating
            });
            return;
        }
        let found = "this taster answered this line for this glass in an earlier row".to_owned();
        let advice = "count the glasses of one beer in the column replicate";
        self.mark(row.line, 1, ProblemKind::Together { found, advice });
    }

    /// What a row says; all of its problems are marked.
    fn read(&mut self, row: &Row<'_>) -> Option<PanelRating> {
        let name = |what, column: usize| Name::new(what, row.text(column));
        let taster = self.settle(row, 0, name("a taster's name", 0));
        let sitting = self.settle(row, 1, name("a sitting", 1));
        let sample = self.settle(row, 2, name("a sample", 2));
        let replicate = row.text(3).parse::<u16>().ok().filter(|it| *it > 0);
        let replicate = replicate.ok_or_else(|| unreadable("replicate", row.text(3), "1"));
        let replicate = self.settle(row, 3, replicate);
        let tasted_on = self.settle(row, 4, Day::parse(row.text(4)));
        let line = self.settle(row, 5, name("a line", 5));
        let digits = self.digits(row);
        Some(PanelRating {
            taster: taster?,
            sitting: sitting?,
            sample: sample?,
            replicate: replicate?,
            tasted_on: tasted_on?,
            line: line?,
            digits: digits?,
        })
    }

    fn settle<T>(&mut self, row: &Row<'_>, column: usize, read: Result<T, Invalid>) -> Option<T> {
        match read {
            Ok(value) => Some(value),
            Err(invalid) => {
                self.mark(row.line, row.places[column] + 1, invalid);
                None
            }
        }
    }

    /// The intensity on 0 to 9.
    fn digits(&mut self, row: &Row<'_>) -> Option<f64> {
        let number = |column: usize, what| {
            let number = row.text(column).parse::<f64>().ok();
            let number = number.filter(|it| it.is_finite());
            number.ok_or_else(|| unreadable(what, row.text(column), "3.5"))
        };
        let intensity = self.settle(row, 6, number(6, "intensity"));
        let low = self.settle(row, 7, number(7, "low"));
        let high = self.settle(row, 8, number(8, "high"));
        let (intensity, low, high) = (intensity?, low?, high?);
        let width = high - low;
        if width > 0.0 && width.is_finite() && (low..=high).contains(&intensity) {
            return Some((TOP * ((intensity - low) / (high - low))).clamp(0.0, TOP));
        }
        self.mark(
            row.line,
            row.places[6] + 1,
            ProblemKind::Together {
                found: format!("the intensity {intensity} does not lie between {low} and {high}"),
                advice: "low and high are the ends of the scale that was used",
            },
        );
        None
    }
}

fn line_of(position: &csv::Position) -> usize {
    usize::try_from(position.line()).unwrap_or(usize::MAX)
}

fn unreadable(what: &'static str, text: &str, example: &'static str) -> Invalid {
    Invalid::Unreadable {
        what,
        found: shown(text),
        example,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "taster,sitting,sample,replicate,date,line,intensity,low,high\n";

    fn read(text: &str) -> Result<Vec<PanelRating>, Vec<Problem>> {
        let mut ratings = Vec::new();
        read_panel("p.csv", text.as_bytes(), |it| ratings.push(it))?;
        Ok(ratings)
    }

    fn problems(rows: &str) -> Vec<String> {
        let text = [HEAD, rows].concat();
        let problems = read(&text).unwrap_err();
        problems.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_rating_is_read_on_the_scale_of_this_program_in_any_order_of_columns() {
        let text = "Line, low, high, intensity, taster, sitting, sample, replicate, date\n\
                    bitter, 0, 15, 5, Ana, first, stout, 2, 2026-03-14\n";
        let read = read(text).unwrap();
        // A third of the way is 3 of 9.
        assert!((read[0].digits - 3.0).abs() < 1e-12);
        assert_eq!((read[0].replicate, read[0].line.as_str()), (2, "bitter"));
    }

    #[test]
    fn capitals_make_no_other_name_and_the_ends_of_a_scale_no_other_digits() {
        let rows = "Ana,one,Pale,1,2026-03-14,bitter,0.96,0,0.96\n\
                    ana,One,pale,2,2026-03-14,Bitter,0.01,0.01,0.25\n";
        let read = read(&[HEAD, rows].concat()).unwrap();
        assert_eq!(read[0].taster, read[1].taster);
        assert_eq!(
            (&read[0].sample, &read[0].line),
            (&read[1].sample, &read[1].line)
        );
        assert!(read[0].digits <= 9.0 && read[0].digits > 8.99);
        let wide = problems("Ana,one,p,1,2026-03-14,bitter,1e308,-1e308,1e308\n");
        assert!(wide[0].contains("does not lie between"), "{wide:?}");
    }

    #[test]
    fn all_problems_of_all_rows_are_told_at_once_with_their_place() {
        let found = problems(
            "Ana,one,stout,1,2026-03-14,bitter,5,0,9\n\
             Ana,one,stout,1,2026-03-14,bitter,6,0,9\n\
             ,one,stout,0,yesterday,bitter,12,0,9\n\
             Ben,one,stout,1,2026-03-14,bitter,NaN,9,0\n",
        );
        let all = found.join("\n");
        for wanted in [
            "p.csv:3:1: this taster answered this line for this glass in an earlier row",
            "p.csv:4:1: a taster's name is empty",
            "p.csv:4:4: replicate: “0” cannot be read",
            "p.csv:4:5:",
            "p.csv:4:7: the intensity 12 does not lie between 0 and 9",
            "p.csv:5:7: intensity: “NaN” cannot be read",
        ] {
            assert!(all.contains(wanted), "{wanted}\n{all}");
        }
        assert_eq!(
            problems("")[0],
            "p.csv:1:1: there is no row below the head; write one row for each answer"
        );
    }

    #[test]
    fn a_table_with_semicolons_is_told_so_once() {
        let found = read("taster;sitting;sample\nAna;one;stout\n").unwrap_err();
        let [one] = found.as_slice() else {
            panic!("{found:?}");
        };
        assert!(one.to_string().contains("no commas"), "{one}");
    }

    #[test]
    fn a_column_that_is_missing_is_named_and_no_file_tells_more_than_fifty_problems() {
        let problems = read("taster,sample\nAna,stout\n").unwrap_err();
        assert_eq!(problems.len(), 7);
        let rows = "x,x,x,x,x,x,x,x,x\n".repeat(100);
        let text = [HEAD, &rows].concat();
        assert_eq!(read(&text).unwrap_err().len(), 50);
    }
}
