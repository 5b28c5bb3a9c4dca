//! A converted recipe: what each name was taken for, what was assumed, and what contradicts itself.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::workflow::Conversion;
use crate::workflow::TakenFor;

/// Cells of a name of the file.
const NAME: usize = 34;

/// A conversion as lines of at most `cells` cells.
#[must_use]
pub fn conversion_lines(it: &Conversion, cells: usize) -> Vec<Line> {
    let title = match it.place {
        (_, 1) => it.recipe.name.to_string(),
        (number, all) => format!("{}, recipe {number} of {all}", it.recipe.name),
    };
    let mut lines = vec![Line::of(Ink::Title, title)];
    for mapped in &it.mapped {
        let (ink, taken) = match &mapped.taken {
            TakenFor::Known(name) => (Ink::Quiet, name.clone()),
            TakenFor::Guess(name) => (Ink::Strong, format!("{name}   a guess")),
            TakenFor::NoneNear => (
                Ink::Strong,
                "nothing is near: an ingredient of its own, declared".to_owned(),
            ),
            TakenFor::Own => (Ink::Plain, "an ingredient of its own, declared".to_owned()),
        };
        lines.push(Line::of(ink, format!("  {:<NAME$} {taken}", mapped.name)));
    }
    let told = [
        ("Assumed, mended or left out", &it.remarks, Ink::Plain),
        (
            "The file contradicts itself",
            &it.contradictions,
            Ink::Alert,
        ),
    ];
    for (head, texts, ink) in told {
        if !texts.is_empty() {
            lines.push(Line::of(Ink::Strong, head));
        }
        for text in texts {
            lines.extend(wrapped(ink, &format!("  {text}"), cells));
        }
    }
    lines
}
