//! Labels on a sheet of labels, or to be cut from plain paper: a code each, as large as there is room for.

use crate::domain::Name;
use crate::domain::SheetKind;
use crate::drawing::Edges;
use crate::drawing::LABEL_SHEETS;
use crate::drawing::LINE_PITCH;
use crate::drawing::LabelSheet;
use crate::drawing::SMALL;
use crate::drawing::Sheet;
use crate::drawing::Type;
use crate::drawing::set_lines;
use crate::drawing::text_width;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::blind_print::number;
use crate::reports::evening_title;
use crate::workflow::EveningPart;
use crate::workflow::Home;
use crate::workflow::Sheet as TestSheet;

/// What stands on a label.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// What is read from across a table.
    pub large: String,
    /// What stands beneath in small letters.
    pub small: String,
    /// What that is.
    pub beneath: Beneath,
}

/// What stands beneath the large letters of a label.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beneath {
    /// Where it belongs; grey.
    Remark,
    /// What somebody must not have or do; black and bold.
    Care,
}

impl Beneath {
    /// How it is set, without its size.
    const fn set(self) -> Type {
        match self {
            Self::Remark => SMALL,
            Self::Care => Type::of(SMALL.size).bold(),
        }
    }
}

/// White on every side inside a label, mm: an eighth of it, because printers and sheets never meet exactly.
fn inside(on: &LabelSheet) -> f64 {
    (on.size[0].min(on.size[1]) / 8.0).clamp(3.0, 5.0)
}

/// The labels of the cups of a test, by number, so that a row of them says nothing about what stands where.
pub(super) fn print_cups(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let sheet = home.sheet(number(asked)?, SheetKind::Labels, None)?;
    let (title, all) = cup_labels(&sheet);
    labels(&title, &all, asked)
}

/// What the labels of a test are called, and what stands on each.
pub(super) fn cup_labels(sheet: &TestSheet) -> (String, Vec<Label>) {
    let number = sheet.planned.test.number;
    let cups = sheet.rows.iter().flat_map(|row| &row.cups);
    let mut codes: Vec<String> = cups.map(|it| it.0.to_string()).collect();
    codes.sort();
    let references = sheet.rows.iter().filter(|row| row.reference.is_some());
    codes.extend(references.map(|_| "R".to_owned()));
    let title = format!("Test {number}: labels for the cups");
    (title, under(codes, &format!("test {number}")))
}

/// The labels of the glasses of a panel: every code once for each taster.
pub(super) fn print_glasses(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let number = number(asked)?;
    let people = home.panel_table(number)?.people;
    let sheet = home.pouring_sheet(number)?;
    let codes = sheet.glasses.iter().flat_map(|it| {
        let each = people.iter().map(|_| it.code.to_string());
        each.collect::<Vec<_>>()
    });
    let title = format!("Panel {number}: labels for the glasses");
    labels(
        &title,
        &under(codes.collect(), &format!("panel {number}")),
        asked,
    )
}

/// The labels of the jars and jugs of the latest evening of a course: codes and nothing else.
pub(super) fn print_evening(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let evening = home.latest_evening(&home.course(&asked.name())?)?;
    let codes = evening.parts.iter().flat_map(EveningPart::codes);
    let mut codes: Vec<String> = codes.map(|it| it.to_string()).collect();
    codes.sort();
    let title = format!("{}: labels for the jars", evening_title(&evening));
    let course: &Name = &evening.course.name;
    labels(&title, &under(codes, course.as_str()), asked)
}

fn under(codes: Vec<String>, small: &str) -> Vec<Label> {
    let label = |large| Label {
        large,
        small: small.to_owned(),
        beneath: Beneath::Remark,
    };
    codes.into_iter().map(label).collect()
}

/// Labels on the sheet that is asked for.
pub(super) fn labels(
    title: &str,
    all: &[Label],
    asked: &PrintAsked,
) -> Result<Printout, PrintRefused> {
    let on = match &asked.labels {
        Some(id) => label_sheet(id)?,
        None => LabelSheet::to_cut(asked.paper),
    };
    let first = asked.first.unwrap_or(1);
    if first == 0 || usize::from(first) > on.labels() {
        return Err(PrintRefused::NoSuchLabel {
            labels: on.words,
            first,
            most: on.labels(),
        });
    }
    labels_printout(title, all, &on, usize::from(first) - 1)
}

fn label_sheet(id: &str) -> Result<LabelSheet, PrintRefused> {
    let found = LABEL_SHEETS.iter().find(|it| it.id == id);
    found.copied().ok_or_else(|| PrintRefused::NoLabels {
        asked: id.chars().take(60).collect(),
        known: label_sheets_words(),
    })
}

/// Every sheet of labels with its measures.
#[must_use]
pub fn label_sheets_words() -> String {
    let sheets = LABEL_SHEETS.iter();
    let sheets = sheets.map(|it| format!("{} ({})", it.id, it.words));
    sheets.collect::<Vec<_>>().join(", ")
}

/// Labels one after the other, beginning behind `used` labels of the first sheet.
///
/// # Errors
/// What stands on a label has no room on it.
pub fn labels_printout(
    title: &str,
    all: &[Label],
    on: &LabelSheet,
    used: usize,
) -> Result<Printout, PrintRefused> {
    let count = (used + all.len()).div_ceil(on.labels()).max(1);
    let mut sheets = vec![Sheet::new(title, on.paper); count];
    let mut smalls = Vec::new();
    for label in all {
        smalls.push(fitted_small(label, on).ok_or_else(|| PrintRefused::NoRoom {
            label: label.large.clone(),
            labels: on.words,
            others: label_sheets_words(),
        })?);
    }
    // Sizes that jump from label to label look as if some words meant more.
    let each = all.iter().zip(&smalls);
    let size = each.map(|(label, small)| large_size(label, small, on));
    let size = size.fold(LARGEST, f64::min);
    for (index, (label, small)) in all.iter().zip(&smalls).enumerate() {
        let at = used + index;
        let corner = on.corner(at % on.labels());
        print_label(
            &mut sheets[at / on.labels()],
            (label, small),
            size,
            on,
            corner,
        );
    }
    Ok(Printout {
        title: title.to_owned(),
        sheets,
    })
}

/// The letters of the small text, and its lines.
struct Small {
    size: f64,
    lines: Vec<String>,
}

/// The smallest letters that are still read on a lid, mm.
const LEAST: f64 = 2.4;
/// What a line of large letters takes, in heights of its letters.
const LARGE_PITCH: f64 = 1.15;

/// The small text in the largest letters with which the whole of a label has room; none if it has not even in the
/// smallest. Nothing of it is ever left out: it may be what somebody must not have.
fn fitted_small(label: &Label, on: &LabelSheet) -> Option<Small> {
    let inside = inside(on);
    let [width, height] = on.size.map(|it| 2.0f64.mul_add(-inside, it));
    let least = set_lines(&label.large, LEAST, Type::of(LEAST).bold().weight, width);
    let least = least.len() as f64 * LARGE_PITCH * LEAST;
    // Three lines leave the code large; where there is more, it is the code that gives way.
    let room = height - least;
    let sizes = [SMALL.size, 2.7, 2.55, LEAST];
    let set = sizes.map(|size| Small {
        size,
        lines: set_lines(&label.small, size, label.beneath.set().weight, width),
    });
    let mut fits: Vec<Small> = set.into_iter().filter(|it| it.height() <= room).collect();
    let airy = fits.iter().position(|it| it.lines.len() <= 3);
    (!fits.is_empty()).then(|| fits.swap_remove(airy.unwrap_or(0)))
}

impl Small {
    fn height(&self) -> f64 {
        self.lines.len() as f64 * LINE_PITCH * self.size
    }
}

/// The largest letters in which the large text of a label has room beside the small one.
fn large_size(label: &Label, small: &Small, on: &LabelSheet) -> f64 {
    let inside = 2.0 * inside(on);
    let [width, height] = on.size;
    fitting(
        &label.large,
        width - inside,
        height - inside - small.height(),
    )
}

fn print_label(
    sheet: &mut Sheet,
    (label, small): (&Label, &Small),
    size: f64,
    on: &LabelSheet,
    [x, y]: [f64; 2],
) {
    let [width, height] = on.size;
    if on.edges == Edges::Scissors {
        sheet.cut_border([x, y], on.size);
    }
    let inside = inside(on);
    let room = 2.0f64.mul_add(-inside, width);
    let below = small.height();
    let free = 2.0f64.mul_add(-inside, height) - below;
    let set = Type::of(size).bold().centred();
    let lines = set_lines(&label.large, size, set.weight, room);
    let high = lines.len() as f64 * size * LARGE_PITCH;
    let top = y + inside + (free - high).max(0.0) / 2.0;
    let middle = x + width / 2.0;
    for (index, line) in lines.iter().enumerate() {
        let base = (index as f64 * LARGE_PITCH).mul_add(size, top + 0.9 * size);
        sheet.text([middle, base], line, set);
    }
    let from = y + height - inside - below + small.size;
    let set = Type {
        size: small.size,
        ..label.beneath.set()
    }
    .centred();
    for (index, line) in small.lines.iter().enumerate() {
        let base = (index as f64).mul_add(LINE_PITCH * small.size, from);
        sheet.text([middle, base], line, set);
    }
}

/// The largest letters of a label, mm.
const LARGEST: f64 = 16.0;

/// The largest letters, up to the largest of all, in which a text has room.
fn fitting(text: &str, width: f64, height: f64) -> f64 {
    let mut size = LARGEST;
    while size > LEAST {
        let lines = set_lines(text, size, Type::of(size).bold().weight, width);
        let torn = text.split_whitespace().any(|word| {
            size * text_width(word, Type::of(size).bold().weight) > width && size > 4.0
        });
        if !torn && lines.len() as f64 * size * LARGE_PITCH <= height {
            break;
        }
        size -= 0.4;
    }
    size.max(LEAST)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Paper;
    use crate::drawing::Printed;
    use crate::drawing::beyond_margins;
    use crate::drawing::printed_texts;

    fn codes(count: u16) -> Vec<Label> {
        under(
            (0..count).map(|it| (100 + it).to_string()).collect(),
            "test 1",
        )
    }

    #[test]
    fn every_label_keeps_its_white_on_every_sheet_of_labels() {
        let long = Label {
            large: "Überraschungshopfenmischung aus vierzig Buchstaben".to_owned(),
            small: "sniff only, never in the mouth · gluten, milk, nuts, sulphite".to_owned(),
            beneath: Beneath::Care,
        };
        let cut = [Paper::A4, Paper::Letter].map(LabelSheet::to_cut);
        for on in LABEL_SHEETS.iter().chain(&cut) {
            for label in [&codes(1)[0], &long] {
                let mut alone = Sheet::sized("", on.size);
                let bare = LabelSheet {
                    edges: Edges::Die,
                    ..*on
                };
                let small = fitted_small(label, &bare).unwrap();
                let size = large_size(label, &small, &bare);
                print_label(&mut alone, (label, &small), size, &bare, [0.0, 0.0]);
                let out = beyond_margins(&alone, inside(on) - 0.7);
                assert_eq!(out, Vec::<String>::new(), "{}", on.words);
            }
        }
    }

    #[test]
    fn labels_begin_at_the_next_free_one_and_go_on_on_another_sheet() {
        let on = &LABEL_SHEETS[0];
        let printout = labels_printout("t", &codes(5), on, on.labels() - 2).unwrap();
        assert_eq!(printout.sheets.len(), 2);
        let on_each = printout.sheets.iter().map(|it| printed_texts(it).len());
        // A code and a small line on each of 2 and 3 labels.
        assert_eq!(on_each.collect::<Vec<_>>(), [4, 6]);
    }

    /// The letters of a text without the blanks, which the ends of lines swallow.
    fn letters(text: &str) -> String {
        text.split_whitespace().collect()
    }

    #[test]
    fn everything_that_somebody_must_not_have_stands_on_a_label_of_every_sheet() {
        let care = "sniff only, never in the mouth · holds gluten, milk, nuts, peanut, soy, egg, \
                    sulphite, celery, mustard, sesame";
        let label = Label {
            large: "bread crust".to_owned(),
            small: care.to_owned(),
            beneath: Beneath::Care,
        };
        let cut = [Paper::A4, Paper::Letter].map(LabelSheet::to_cut);
        for on in LABEL_SHEETS.iter().chain(&cut) {
            let printout = labels_printout("t", std::slice::from_ref(&label), on, 0).unwrap();
            let texts: String = printed_texts(&printout.sheets[0]).concat();
            let texts = letters(&texts);
            assert!(texts.contains(&letters(care)), "{}: {texts}", on.words);
        }
    }

    #[test]
    fn all_words_of_a_sheet_stand_in_letters_of_one_size_and_what_to_take_care_of_is_bold_and_black()
     {
        let label = |large: &str, small: &str| Label {
            large: large.to_owned(),
            small: small.to_owned(),
            beneath: Beneath::Care,
        };
        let all = [
            label("hay", ""),
            label("caramelised bread crust", "holds gluten"),
            label("vanilla", "holds alcohol: count it"),
        ];
        for on in LABEL_SHEETS {
            let printout = labels_printout("t", &all, on, 0).unwrap();
            let types: Vec<(&str, Type)> = printout.sheets[0]
                .printed
                .iter()
                .filter_map(|it| match it {
                    Printed::Text { text, set, .. } => Some((text.as_str(), *set)),
                    _ => None,
                })
                .collect();
            let is_large = |text: &str| all.iter().any(|it| it.large.contains(text));
            let large = types.iter().filter(|it| is_large(it.0));
            let mut sizes: Vec<f64> = large.map(|it| it.1.size).collect();
            sizes.dedup();
            assert_eq!(sizes.len(), 1, "{}: {sizes:?}", on.words);
            let care = types.iter().find(|it| it.0.contains("alcohol")).unwrap();
            assert_eq!(care.1, Type::of(care.1.size).bold().centred());
        }
    }

    #[test]
    fn a_label_without_room_for_all_of_it_is_refused_with_its_sheet_and_the_others() {
        let on = LabelSheet::to_cut(Paper::A4);
        let label = Label {
            large: "hay".to_owned(),
            small: "holds gluten, milk ".repeat(20),
            beneath: Beneath::Care,
        };
        let refused = labels_printout("t", &[label], &on, 0).unwrap_err();
        let told = refused.to_string();
        assert!(told.contains("“hay”") && told.contains(on.words), "{told}");
        assert!(told.contains("2x5"), "{told}");
    }

    #[test]
    fn a_label_sheet_that_is_not_there_is_told_with_those_that_are() {
        let mut asked = PrintAsked::of(vec!["1".to_owned()], Paper::A4);
        asked.labels = Some("9x9".to_owned());
        let told = labels("t", &codes(1), &asked).unwrap_err().to_string();
        assert!(
            told.contains("3x10 (30 of 66.7 × 25.4 mm on US letter)"),
            "{told}"
        );
        asked.labels = Some("3x8".to_owned());
        asked.first = Some(25);
        let told = labels("t", &codes(1), &asked).unwrap_err().to_string();
        assert!(told.contains("labels 1 to 24"), "{told}");
    }
}
