//! A comparison as a picture: each line as a dumbbell with its verdict, and the colours of glass and recipe.

use crate::drawing::ColourStrips;
use crate::drawing::DumbbellGroup;
use crate::drawing::DumbbellRow;
use crate::drawing::DumbbellSigns;
use crate::drawing::Dumbbells;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::colour_picture::colour_strip;
use crate::reports::verdict_words::dumbbell;
use crate::reports::verdict_words::held;
use crate::reports::verdict_words::said_words;
use crate::reports::verdict_words::value_words;
use crate::workflow::About;
use crate::workflow::ComparedLine;
use crate::workflow::Comparison;
use crate::workflow::Found;
use crate::workflow::HeldAgainst;
use crate::workflow::Outcome;
use crate::workflow::seen_through;

/// Cells of a value.
const VALUE: usize = 4;

/// All lines of a comparison as dumbbells.
#[must_use]
pub fn comparison_picture(it: &Comparison) -> Dumbbells {
    let mut groups: Vec<DumbbellGroup> = Vec::new();
    let mut against = None;
    for line in told_lines(it) {
        if against != Some(line.against) {
            against = Some(line.against);
            groups.push(group_of(line.against));
        }
        if let Some(group) = groups.last_mut() {
            group.rows.push(comparison_row(line, &it.found));
        }
    }
    Dumbbells {
        signs: DumbbellSigns {
            wished: "hoped".to_owned(),
            found: "glass".to_owned(),
            strays: "how far the glass may be off by chance".to_owned(),
            range: "where the recipe puts it, 8 times in 10".to_owned(),
        },
        groups,
    }
}

/// The lines that say anything: those that were rated or hoped for.
pub(super) fn told_lines(it: &Comparison) -> Vec<&ComparedLine> {
    let is_told = |line: &&ComparedLine| line.outcome != Outcome::NotRated || line.hoped.is_some();
    it.lines.iter().filter(is_told).collect()
}

/// The heading over lines that are held against the same.
pub(super) fn group_of(against: HeldAgainst) -> DumbbellGroup {
    let (words, held) = match against {
        HeldAgainst::Intent => ("Hoped for", "hope"),
        HeldAgainst::Prediction => ("Predicted from recipe and log", "rec."),
        HeldAgainst::OtherBeer => ("Beer against beer", "beer"),
    };
    DumbbellGroup {
        head: words.to_owned(),
        columns: [held, "glass"].map(str::to_owned),
        value_cells: VALUE,
        rows: Vec::new(),
    }
}

/// A line as a dumbbell with its values and its verdict.
pub(super) fn comparison_row(line: &ComparedLine, found: &[Found]) -> DumbbellRow {
    let ink = if line.outcome.differs() {
        Ink::Alert
    } else if line.outcome == Outcome::AsGoodAs {
        Ink::Good
    } else {
        Ink::Plain
    };
    DumbbellRow {
        label: line.label.clone(),
        dumbbell: dumbbell(line),
        values: [held(line), line.mean].map(|it| value_words(line, it)),
        said: said_words(line, found),
        ink,
    }
}

/// The colour that was noted and the one that was predicted, in EBC; none of another line.
fn two_colours(line: &ComparedLine) -> Option<[f64; 2]> {
    let About::Scale(scale) = line.about else {
        return None;
    };
    let (found, foreseen) = (line.mean?, line.foreseen.as_ref()?);
    (scale.id == "colour").then(|| [found, foreseen.middle].map(|it| scale.value_at(it)))
}

/// The colour in the glass beside the predicted one, seen through 1, 3 and 5 cm, on one line.
pub(super) fn glass_colour(line: &ComparedLine) -> Option<Line> {
    let [glass, recipe] = two_colours(line)?;
    let patches = |mut text: Line, ebc: f64| {
        for colour in seen_through(ebc) {
            text = text.and(Ink::Patch(colour), "    ");
        }
        text
    };
    let text = patches(Line::of(Ink::Quiet, "    the glass "), glass);
    let text = patches(text.and(Ink::Quiet, "  the recipe "), recipe);
    Some(text.and(Ink::Quiet, format!("  {glass:.0} and {recipe:.0} EBC")))
}

/// The colours of the glass and of the recipe, as strips; none where either is not known.
#[must_use]
pub fn colour_picture(it: &Comparison) -> Option<ColourStrips> {
    let [glass, recipe] = it.lines.iter().find_map(two_colours)?;
    Some(ColourStrips {
        strips: vec![
            colour_strip("the glass", glass, Ink::Plain),
            colour_strip("the recipe", recipe, Ink::Plain),
        ],
    })
}
