//! A batch on paper: what it is and was meant to be, how it came out, what was named in it, and its log.

use std::sync::Arc;

use crate::domain::Name;
use crate::domain::PhotographKind;
use crate::domain::Subject;
use crate::domain::Wheel;
use crate::drawing::BESIDE;
use crate::drawing::ColourStrips;
use crate::drawing::Column;
use crate::drawing::Flow;
use crate::drawing::HEADING;
use crate::drawing::Ink;
use crate::drawing::LINE_PITCH;
use crate::drawing::Paper;
use crate::drawing::Picture;
use crate::drawing::SMALL;
use crate::drawing::Sheet;
use crate::drawing::TEXT;
use crate::drawing::Type;
use crate::drawing::round_sheet;
use crate::drawing::set_lines;
use crate::drawing::stacked;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::batch_report::entry_words;
use crate::reports::batch_report::state_words;
use crate::reports::colour_picture::colour_strip;
use crate::reports::comparison_picture::colour_picture;
use crate::reports::comparison_picture::comparison_picture;
use crate::reports::comparison_picture::told_lines;
use crate::reports::figure_words;
use crate::reports::noise_words::basis_sentences;
use crate::reports::verdict_words::next_step;
use crate::reports::verdict_words::summary;
use crate::reports::wheel_round::wheel_sectors;
use crate::workflow::BatchPage;
use crate::workflow::ComparedLine;
use crate::workflow::Comparison;
use crate::workflow::Home;
use crate::workflow::Marked;
use crate::workflow::MarksOf;
use crate::workflow::Outcome;
use crate::workflow::WordMarks;
use crate::workflow::WorkflowError;

/// All that the pages of a batch are made of.
#[derive(Debug, Clone, PartialEq)]
struct BatchOnPaper {
    /// The batch with its log and figures.
    page: BatchPage,
    /// The plan beside the notes; none before it was tasted.
    both: Option<Comparison>,
    /// What was named in it; none before anything was.
    marks: Option<WordMarks>,
    /// A photograph of it, if there is one.
    photograph: Option<PrintedPhotograph>,
}

/// A photograph as it is printed.
#[derive(Debug, Clone, PartialEq)]
struct PrintedPhotograph {
    /// The JPEG file.
    bytes: Arc<[u8]>,
    /// Pixels across and down.
    size: [u32; 2],
}

/// The pages of a batch.
pub(super) fn print(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let mark = asked.name();
    let page = home.batch_page(&mark)?;
    let of = MarksOf::Notes(page.batch.cap_mark.clone());
    let batch = BatchOnPaper {
        both: if_tasted(home.compare(page.batch.cap_mark.as_str(), None))?,
        marks: if_tasted(home.word_marks_to_print(&of))?,
        photograph: photograph_of(home, &mark)?,
        page,
    };
    Ok(batch_printout(&batch, home.wheel(), asked.paper))
}

/// The picture that shows most of a beer: of the glass, else of the label; a sheet of paper is no picture of it.
fn photograph_of(home: &Home, mark: &str) -> Result<Option<PrintedPhotograph>, PrintRefused> {
    let all = home.photographs_of(mark)?;
    let of = |kind: PhotographKind| all.iter().find(|it| it.photograph.kind == kind);
    let found = of(PhotographKind::Glass).or_else(|| of(PhotographKind::Label));
    Ok(found.map(|it| PrintedPhotograph {
        bytes: Arc::from(it.bytes.as_slice()),
        size: [it.photograph.width, it.photograph.height],
    }))
}

/// What a verb tells of a beer; none where nobody has tasted it yet.
fn if_tasted<T>(told: Result<T, WorkflowError>) -> Result<Option<T>, WorkflowError> {
    match told {
        Ok(told) => Ok(Some(told)),
        Err(WorkflowError::NothingTasted { .. }) => Ok(None),
        Err(refused) => Err(refused),
    }
}

/// The pages of a batch.
fn batch_printout(it: &BatchOnPaper, wheel: &Wheel, paper: Paper) -> Printout {
    let recipe = &it.page.recipe;
    let mark = &it.page.batch.cap_mark;
    let title = format!("{mark} · {}, version {}", recipe.name, recipe.version);
    let mut flow = Flow::new(&title, paper, &title);
    flow.title(&title);
    flow.paragraph(&dates(&it.page), TEXT);
    let cautions = it.both.iter().flat_map(|both| &both.cautions);
    let mut cautions: Vec<&String> = it.page.cautions.iter().chain(cautions).collect();
    cautions.dedup();
    for caution in cautions {
        flow.gap(1.5);
        flow.warned(caution);
    }
    flow.gap(4.0);
    top(&mut flow, it);
    if let Some(both) = &it.both {
        verdicts(&mut flow, both);
    } else {
        flow.gap(3.0);
        flow.paragraph("Nobody has tasted it yet.", TEXT.bold());
    }
    if let Some(marks) = &it.marks {
        words(&mut flow, marks, mark, wheel);
    }
    log(&mut flow, &it.page);
    Printout {
        title,
        sheets: flow.finish(),
    }
}

/// When it was brewed and packaged, and how far it has come.
fn dates(page: &BatchPage) -> String {
    let day = |kind: &str, word: &str| page.log.day(kind).map(|it| format!("{word} {it}"));
    let brewed = day("brewed", "brewed");
    let packaged = day("packaged", "packaged");
    let parts = brewed.into_iter().chain(packaged);
    let parts = parts.chain([state_words(page)]);
    parts.collect::<Vec<_>>().join(" · ")
}

/// Figures at the left; colours and the photograph at the right.
fn top(flow: &mut Flow, it: &BatchOnPaper) {
    let half = (flow.width() - BESIDE) / 2.0;
    let figures = figures_sheet(&it.page, half);
    let colours = strips(it).map(|strips| strips.sheet(half));
    let photograph = it.photograph.as_ref();
    let photograph = photograph.map(|it| photograph_sheet(it, half));
    let right: Vec<Sheet> = photograph.into_iter().chain(colours).collect();
    flow.beside(&figures, &stacked(&right, 3.0));
}

/// The colours of glass and recipe, or of the recipe alone.
fn strips(it: &BatchOnPaper) -> Option<ColourStrips> {
    let both = it.both.as_ref().and_then(colour_picture);
    both.or_else(|| {
        let ebc = it.page.figures.get("colour")?.value;
        Some(ColourStrips {
            strips: vec![colour_strip("the recipe", ebc, Ink::Plain)],
        })
    })
}

/// Every figure with what it comes from.
fn figures_sheet(page: &BatchPage, width: f64) -> Sheet {
    let mut sheet = Sheet::sized("", [width, 0.0]);
    sheet.text([0.0, HEADING.size], "Figures", HEADING);
    let mut down = HEADING.size + 2.5;
    let value = 0.4 * width;
    for figure in &page.figures.figures {
        let words = format!("{} · {}", figure_words(figure), figure.origin.word());
        let names = set_lines(figure.word, TEXT.size, TEXT.weight, value - 2.0);
        let words = set_lines(&words, SMALL.size, SMALL.weight, width - value);
        let pitch = TEXT.size * LINE_PITCH;
        for (row, line) in names.iter().enumerate() {
            sheet.text([0.0, down + TEXT.size + pitch * row as f64], line, TEXT);
        }
        for (row, line) in words.iter().enumerate() {
            let y = down + TEXT.size + pitch * row as f64;
            sheet.text([value, y], line, SMALL.inked([0; 3]));
        }
        down += pitch * names.len().max(words.len()) as f64 + 0.6;
    }
    sheet.size[1] = down;
    sheet
}

/// The highest a photograph is printed, mm.
const PHOTOGRAPH: f64 = 62.0;

/// A photograph in its own shape, as large as there is room.
fn photograph_sheet(it: &PrintedPhotograph, width: f64) -> Sheet {
    let [wide, high] = it.size.map(f64::from);
    let scale = (width / wide).min(PHOTOGRAPH / high);
    let size = [wide * scale, high * scale];
    let mut sheet = Sheet::sized("", [width, size[1]]);
    sheet.picture([0.0, 0.0], size, Arc::clone(&it.bytes));
    sheet
}

/// The sentences over the hopes, and every line as a dumbbell.
fn verdicts(flow: &mut Flow, both: &Comparison) {
    flow.heading("How it came out");
    if both.found.is_empty() {
        flow.paragraph("No sound bottle of it has been tasted yet.", TEXT);
        return;
    }
    flow.paragraph(&summary(both), TEXT.bold());
    flow.gap(1.0);
    flow.paragraph(&next_step(both), TEXT);
    flow.gap(3.0);
    comparison_picture(both).onto(flow);
    let is_guess = |it: &&ComparedLine| it.outcome == Outcome::CannotTellYet && it.judged.is_some();
    let guesses = told_lines(both).iter().any(is_guess);
    let guess = guesses.then(|| GUESS.to_owned());
    let legend: Vec<String> = guess.into_iter().chain(basis_sentences(both)).collect();
    if !legend.is_empty() {
        flow.gap(2.0);
        flow.paragraph(&legend.join(" "), SMALL);
    }
}

/// What a difference in brackets is.
const GUESS: &str = "A number in brackets with a question mark, such as (+2.4?), is a careful guess of the difference, as long as nothing can be told.";

/// How wide the round is, mm.
const ROUND: f64 = 110.0;

/// The round of places and shelves, and beside it the words that were named.
fn words(flow: &mut Flow, marks: &WordMarks, mark: &Name, wheel: &Wheel) {
    flow.keep(ROUND + 20.0);
    flow.heading("What was named in it");
    let how = format!(
        "The darker a shelf, the more of the notes on {mark} name it. Beside each word: in how many glasses it was named."
    );
    flow.paragraph(&how, SMALL);
    flow.gap(2.0);
    let round = round_sheet(&wheel_sectors(wheel, Some(marks)), ROUND);
    let named = named(marks, wheel);
    let (list, left_over) = words_sheet(&named, flow.width() - ROUND - BESIDE);
    flow.beside(&round, &list);
    if !left_over.is_empty() {
        flow.gap(2.0);
        let rest: Vec<String> = left_over
            .iter()
            .map(|(word, times)| format!("{word} {times}"))
            .collect();
        flow.paragraph(&format!("And: {}.", rest.join(", ")), TEXT);
    }
}

/// Every word that was named and in how many glasses, the most frequent first.
fn named(marks: &WordMarks, wheel: &Wheel) -> Vec<(String, String)> {
    let words = wheel.descriptors().iter().filter_map(|it| {
        match marks.marked(&Subject::Descriptor(it.id.clone()))? {
            Marked::Named(count) => Some((it.word.clone(), count)),
            Marked::Right(_) | Marked::Chance(_) => None,
        }
    });
    let mut words: Vec<_> = words.collect();
    words.sort_by_key(|it| std::cmp::Reverse(it.1.hits()));
    let told = words.into_iter();
    told.map(|(word, count)| (word, format!("{} of {}", count.hits(), count.tries())))
        .collect()
}

/// The words in a column as high as the round, and those that it has no room for.
fn words_sheet(named: &[(String, String)], width: f64) -> (Sheet, &[(String, String)]) {
    let mut sheet = Sheet::sized("", [width, ROUND]);
    let pitch = TEXT.size * LINE_PITCH;
    let mut down = 0.0;
    for (index, (word, times)) in named.iter().enumerate() {
        let lines = set_lines(word, TEXT.size, TEXT.weight, width - 16.0);
        let height = pitch * lines.len() as f64 + 0.8;
        if down + height > ROUND {
            return (sheet, &named[index..]);
        }
        for (row, line) in lines.iter().enumerate() {
            sheet.text([0.0, down + TEXT.size + pitch * row as f64], line, TEXT);
        }
        sheet.text([width, down + TEXT.size], times, TEXT.to_the_right());
        down += height;
    }
    (sheet, &[])
}

/// The letters of the log.
const LOG: Type = Type::of(3.2);

/// A longer entry, in letters, has a paragraph of its own.
const SHORT_ENTRY: usize = 16;

/// The log, and what it hints at.
fn log(flow: &mut Flow, page: &BatchPage) {
    if !page.log.entries().is_empty() {
        flow.heading("Log");
    }
    let entries = page.log.entries().iter();
    let entries = entries.map(|it| [it.kind.word.to_owned(), entry_words(it)]);
    let (short, long): (Vec<_>, Vec<_>) =
        entries.partition(|it| it[1].chars().count() <= SHORT_ENTRY);
    let quarters = [0.29, 0.21, 0.29, 0.21].map(|it| Column::of("", it * flow.width()));
    // Read down the left half first, and then down the right one.
    let half = short.len().div_ceil(2);
    let rows: Vec<Vec<String>> = (0..half)
        .map(|row| [row, row + half].map(|it| short.get(it).cloned().unwrap_or_default()))
        .map(|both| both.concat())
        .collect();
    flow.table(&quarters, &rows, LOG);
    for [kind, value] in long {
        flow.gap(1.5);
        flow.paragraph(&format!("{kind}: {value}"), LOG);
    }
    if !page.hints.is_empty() {
        flow.heading("What the log hints at");
    }
    for hint in &page.hints {
        flow.listed(&hint.says, TEXT.bold());
        flow.inset(4.0, "", &format!("To tell: {}", hint.look), TEXT);
        flow.inset(4.0, "", &format!("Next time: {}", hint.remedy), TEXT);
        flow.gap(1.5);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::NotesSource;
    use crate::drawing::beyond_margins;
    use crate::drawing::printed_texts;
    use crate::workflow::HeldAgainst;

    fn on_paper(home: &mut Home, mark: &str, paper: Paper) -> Printout {
        let asked = PrintAsked::of(vec![mark.to_owned()], paper);
        print(home, &asked).unwrap()
    }

    /// All texts, as words with one blank between them.
    fn flat(printout: &Printout) -> String {
        let texts = printout.sheets.iter().flat_map(printed_texts);
        texts.collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn every_batch_of_the_demonstration_keeps_to_the_margins_and_shows_what_was_found() {
        let mut home = Home::trial_demo();
        for paper in [Paper::A4, Paper::Letter] {
            for row in home.batch_rows().unwrap() {
                let printout = on_paper(&mut home, row.mark.as_str(), paper);
                for sheet in &printout.sheets {
                    assert_eq!(beyond_margins(sheet, 10.0), Vec::<String>::new());
                }
                let text = flat(&printout);
                let untasted = text.contains("Nobody has tasted it yet.");
                assert_eq!(untasted, row.tasted == 0, "{}", row.mark);
                for part in ["Figures", "Log", "brewed"] {
                    assert!(text.contains(part), "{part}: {text}");
                }
            }
        }
        let text = flat(&on_paper(&mut home, "OD2", Paper::A4));
        for part in ["dark rye bread (flavour)", "Hoped for", "the glass", "of 3"] {
            assert!(text.contains(part), "{part}: {text}");
        }
    }

    #[test]
    fn a_careful_guess_and_what_was_learnt_are_explained_where_they_occur_and_nowhere_else() {
        let mut home = Home::trial_demo();
        let mut it = BatchOnPaper {
            page: home.batch_page("OD2").unwrap(),
            both: Some(home.compare("OD2", None).unwrap()),
            marks: None,
            photograph: None,
        };
        let told = |it: &BatchOnPaper| flat(&batch_printout(it, home.wheel(), Paper::A4));
        let text = told(&it);
        assert!(
            text.contains("?)") && text.contains("careful guess"),
            "{text}"
        );
        assert!(!text.contains("taken off"), "{text}");
        let both = it.both.as_mut().unwrap();
        let predicted = |it: &&mut ComparedLine| it.against == HeldAgainst::Prediction;
        let line = both.lines.iter_mut().find(predicted).unwrap();
        line.learnt_offset = Some(-1.5);
        let label = line.label.clone();
        both.lines.iter_mut().for_each(|it| it.judged = None);
        let text = told(&it);
        assert!(!text.contains("careful guess"), "{text}");
        let learnt = format!("most of all {label} (-1.5 taken off)");
        assert!(text.contains(&learnt), "{text}");
    }

    #[test]
    fn a_photograph_keeps_its_shape() {
        let it = |size| PrintedPhotograph {
            bytes: Arc::from(b"any".as_slice()),
            size,
        };
        // 800 by 600 in a column of 80 mm; 600 by 1,200 no higher than 62 mm.
        let [wide, high] = photograph_sheet(&it([800, 600]), 80.0).size;
        assert!((wide - 80.0).abs() < 1e-9 && (high - 60.0).abs() < 1e-9);
        let [_, high] = photograph_sheet(&it([600, 1_200]), 80.0).size;
        assert!((high - 62.0).abs() < 1e-9);
    }

    #[test]
    fn a_batch_that_somebody_tastes_is_not_printed() {
        let mut home = Home::trial_with_a_batch();
        let ana = home.add_taster("Ana").unwrap();
        home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let asked = PrintAsked::of(vec!["T1".to_owned()], Paper::A4);
        let refused = print(&mut home, &asked).unwrap_err();
        assert!(matches!(
            refused,
            PrintRefused::Workflow(WorkflowError::Sealed { .. })
        ));
    }
}
