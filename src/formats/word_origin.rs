//! Where a word of the wheel may come from in a beer, as its tables say it.

use crate::domain::BeerKind;
use crate::domain::Cause;
use crate::domain::CauseWeight;
use crate::domain::Compound;
use crate::domain::Origin;
use crate::domain::Standing;
use crate::formats::problem::ProblemKind;
use crate::formats::section::Section;

/// The longest texts, in characters.
const MOST_NAME: usize = 60;
const MOST_WHEN: usize = 80;

/// What smells of a word; none where nobody knows.
pub(super) fn read_compounds(section: &Section<'_>) -> Vec<Compound> {
    let all = section.sections("compound").into_iter();
    all.filter_map(read_compound).collect()
}

fn read_compound(section: Section<'_>) -> Option<Compound> {
    let name = section.required("name", "name = \"diacetyl\"");
    let name = name.and_then(|it| it.line(MOST_NAME));
    let line = |key| section.entry(key).and_then(|it| it.line(MOST_NAME));
    let (threshold, source) = (line("threshold"), line("source"));
    if threshold.is_some() != source.is_some() {
        section.mark(ProblemKind::Together {
            found: "a threshold and its source belong together, and one of them is missing"
                .to_owned(),
            advice: "say who published it, or that it is from memory, or leave both out",
        });
    }
    section.close();
    Some(Compound {
        name: name?,
        threshold: threshold.zip(source),
    })
}

/// Where a word may come from, the usual cause first.
pub(super) fn read_causes(section: &Section<'_>) -> Vec<Cause> {
    let all = section.sections("cause").into_iter();
    let mut causes: Vec<Cause> = all.filter_map(read_cause).collect();
    causes.sort_by_key(|it| std::cmp::Reverse(it.weight));
    causes
}

fn read_cause(section: Section<'_>) -> Option<Cause> {
    let origin = section.required("from", "from = \"malt\"");
    let origin = origin.and_then(|it| it.read(Origin::from_id));
    let what = section.required("what", "what = \"crystal malt, dark\"");
    let what = what.and_then(|it| it.line(MOST_NAME));
    let weight = section.required("weight", "weight = 3");
    let number = weight
        .as_ref()
        .and_then(crate::formats::entry::Entry::number);
    let known = number.and_then(weight_of);
    if let (Some(_), None, Some(entry)) = (number, known, &weight) {
        entry.mark(ProblemKind::Together {
            found: "the weight of a cause is none of 1, 2 and 3".to_owned(),
            advice: "write 3 for the usual cause, 2 for a frequent one, 1 for a rare one",
        });
    }
    let when = section.entry("when").and_then(|it| it.line(MOST_WHEN));
    section.close();
    Some(Cause {
        origin: origin?,
        what: what?,
        weight: known?,
        when,
    })
}

/// The weight behind its number.
fn weight_of(number: f64) -> Option<CauseWeight> {
    let all = [
        (1.0, CauseWeight::Rare),
        (2.0, CauseWeight::Frequent),
        (3.0, CauseWeight::Usual),
    ];
    let mut fitting = all.iter().filter(|it| (it.0 - number).abs() < 1e-9);
    fitting.next().map(|it| it.1)
}

/// In which beers a word is welcome, tolerated or a fault; empty where nothing is said.
pub(super) fn read_standing(section: &Section<'_>) -> Standing {
    let Some(section) = section.entry("standing").and_then(|it| it.section()) else {
        return Standing::default();
    };
    let kinds = |key| {
        let entry = section.entry(key);
        entry.map_or_else(Vec::new, |it| it.choices(BeerKind::from_id))
    };
    let standing = Standing {
        welcome: kinds("welcome"),
        tolerated: kinds("tolerated"),
        fault: kinds("fault"),
    };
    if let Some(kind) = standing.double() {
        section.mark(ProblemKind::Together {
            found: format!("“{}” stands in two lists", kind.id()),
            advice: "name a kind of beer once",
        });
    }
    section.close();
    standing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::read_wheel;
    use crate::formats::trial_catalogue::wheel_text;

    /// The trial wheel with these tables after its last word.
    fn with(tables: &str) -> String {
        wheel_text() + tables
    }

    const TABLES: &str = r#"
[[descriptor.compound]]
name = "2-acetylpyrroline"
[[descriptor.cause]]
from = "malt"
what = "toasted malt"
weight = 2
when = "above 5 % of the grist"
[[descriptor.cause]]
from = "process"
what = "a long boil"
weight = 3
[descriptor.standing]
welcome = ["brown-ale", "stout"]
fault = ["pale-lager"]
"#;

    #[test]
    fn compounds_causes_and_standing_are_read_the_usual_cause_first() {
        let wheel = read_wheel(&[("w.toml", &with(TABLES))]).unwrap();
        let word = wheel.descriptors().last().unwrap();
        assert_eq!(word.compounds[0].name, "2-acetylpyrroline");
        let origins: Vec<Origin> = word.causes.iter().map(|it| it.origin).collect();
        assert_eq!(origins, [Origin::Process, Origin::Malt]);
        assert_eq!(word.standing.welcome, [BeerKind::BrownAle, BeerKind::Stout]);
        assert!(word.standing.tolerated.is_empty());
    }

    #[test]
    fn what_cannot_be_is_told_with_what_to_do() {
        for (from, to, told) in [
            ("weight = 2", "weight = 4", "none of 1, 2 and 3"),
            (
                "fault = [\"pale-lager\"]",
                "fault = [\"stout\"]",
                "stands in two lists",
            ),
            (
                "from = \"malt\"",
                "from = \"moon\"",
                "where a flavour comes from",
            ),
            (
                "name = \"2-acetylpyrroline\"",
                "name = \"x\"\nthreshold = \"1 mg/L\"",
                "belong together",
            ),
        ] {
            let problems = read_wheel(&[("w.toml", &with(&TABLES.replacen(from, to, 1)))]);
            let problems = problems.unwrap_err();
            let all: String = problems.iter().map(ToString::to_string).collect();
            assert!(all.contains(told), "{from}: {all}");
        }
    }
}
