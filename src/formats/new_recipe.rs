//! A new recipe from ten plain questions: the answers written down as a recipe file with comments.

use std::collections::HashSet;

use crate::domain::SCALES;
use crate::domain::Scale;
use crate::formats::answer_text::HopAnswer;
use crate::formats::answer_text::amount_in;
use crate::formats::answer_text::known;
use crate::formats::answer_text::packaging_lines;
use crate::formats::answer_text::pieces;
use crate::formats::answer_text::quoted;
use crate::formats::answer_text::take_amount;
use crate::formats::quantity_text::COLOUR;
use crate::formats::quantity_text::MASS;
use crate::formats::quantity_text::Measured;
use crate::formats::quantity_text::TEMPERATURE;
use crate::formats::quantity_text::VOLUME;

/// One question; the whole knowledge about it.
#[derive(Debug)]
pub struct Question {
    /// Its id in commands.
    pub id: &'static str,
    /// The question put to the brewer.
    pub ask: &'static str,
    /// An answer that would do.
    pub example: &'static str,
    /// Where the answer is kept.
    answer: fn(&mut RecipeAnswers) -> &mut Option<String>,
}

/// The answers; none where the brewer does not know.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct RecipeAnswers {
    /// What the beer is to be called.
    pub name: Option<String>,
    /// How much goes into the fermenter.
    pub volume: Option<String>,
    /// Malts and sugars with their amounts.
    pub grist: Option<String>,
    /// Hops with amounts and times.
    pub hops: Option<String>,
    /// The yeast.
    pub yeast: Option<String>,
    /// The temperature of the mash.
    pub mash: Option<String>,
    /// The temperature of the fermentation.
    pub fermentation: Option<String>,
    /// Bottle kind, priming sugar and carbonation.
    pub packaging: Option<String>,
    /// What to smell and taste, with strengths.
    pub hopes: Option<String>,
    /// How bitter, and which colour.
    pub bitterness_and_colour: Option<String>,
}

/// Every question, in the order in which it is asked; each takes "don't know".
pub static NEW_RECIPE_QUESTIONS: &[Question] = &[
    Question {
        id: "name",
        ask: "What is the beer to be called?",
        example: "Harbour dark",
        answer: |it| &mut it.name,
    },
    Question {
        id: "volume",
        ask: "How much goes into the fermenter?",
        example: "5 L",
        answer: |it| &mut it.volume,
    },
    Question {
        id: "grist",
        ask: "Which malts and sugars, and how much of each?",
        example: "1 kg pale malt, 100 g crystal malt",
        answer: |it| &mut it.grist,
    },
    Question {
        id: "hops",
        ask: "Which hops, how much, and how many minutes before the end of the boil?",
        example: "10 g Saaz at 60 min, 5 g Saaz at 5 min, 10 g Saaz dry for 3 days",
        answer: |it| &mut it.hops,
    },
    Question {
        id: "yeast",
        ask: "Which yeast?",
        example: "clean ale yeast",
        answer: |it| &mut it.yeast,
    },
    Question {
        id: "mash",
        ask: "How warm is the mash?",
        example: "66 °C",
        answer: |it| &mut it.mash,
    },
    Question {
        id: "fermentation",
        ask: "How warm does it ferment?",
        example: "19 °C",
        answer: |it| &mut it.fermentation,
    },
    Question {
        id: "packaging",
        ask: "Into which bottles, with which sugar, and how fizzy?",
        example: "crown bottles, table sugar, 2.4 vol",
        answer: |it| &mut it.packaging,
    },
    Question {
        id: "hopes",
        ask: "What do you hope to smell and taste, and how strongly from 0 to 9?",
        example: "orange peel 5, toast 3",
        answer: |it| &mut it.hopes,
    },
    Question {
        id: "bitterness-and-colour",
        ask: "How bitter from 0 to 9, and which colour?",
        example: "bitter 5, colour 25 EBC",
        answer: |it| &mut it.bitterness_and_colour,
    },
];

impl RecipeAnswers {
    /// These answers with one more; "don't know", "?" and nothing at all leave it out.
    #[must_use]
    pub fn answered(mut self, question: &Question, answer: &str) -> Self {
        *(question.answer)(&mut self) = known(answer);
        self
    }
}

/// Writes the answers down as a recipe file.
///
/// The text is always TOML. It is a whole recipe once volume and grist are known; what could not be
/// taken from the answers stands as a comment that begins with `# Missing` and shows how to write it.
#[must_use]
pub fn write_recipe(answers: &RecipeAnswers) -> String {
    let of = |answer: &Option<String>| answer.as_deref().and_then(known);
    let mut paper = Paper::default();
    paper.head(of(&answers.name).as_deref(), of(&answers.volume).as_deref());
    paper.mash(of(&answers.mash).as_deref());
    paper.grist(of(&answers.grist).as_deref());
    paper.hops(of(&answers.hops).as_deref());
    paper.yeast(
        of(&answers.yeast).as_deref(),
        of(&answers.fermentation).as_deref(),
    );
    paper.packaging(of(&answers.packaging).as_deref());
    paper.hopes(of(&answers.hopes).as_deref());
    paper.scales(of(&answers.bitterness_and_colour).as_deref());
    paper.text
}

/// The file as far as it is written.
#[derive(Default)]
struct Paper {
    text: String,
}

impl Paper {
    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    /// A comment line; answers in it are free of line breaks since [`known`] took them out.
    fn note(&mut self, note: &str) {
        self.line(&format!("# {note}"));
    }

    /// What is missing, with a line that would do and the answer that could not be used.
    fn missing(&mut self, what: &str, example: &str, answer: Option<&str>) {
        let from = answer.map_or_else(String::new, |it| format!(" (your answer: {it})"));
        self.note(&format!(
            "Missing: {what}{from}. Write it like this, without the #:"
        ));
        self.note(example);
    }

    /// A line with an amount, or what is missing.
    fn amount(
        &mut self,
        (key, what): (&str, &str),
        (measured, unit): (&Measured, &str),
        example: &str,
        answer: Option<&str>,
    ) {
        match answer.and_then(|it| amount_in(measured, unit, it)) {
            Some(amount) => self.line(&format!("{key} = {}", quoted(&amount))),
            None => self.missing(what, example, answer),
        }
    }

    fn head(&mut self, name: Option<&str>, volume: Option<&str>) {
        self.note("A recipe. What is not known stays out; the prediction only gets wider.");
        self.line("");
        let name = name.unwrap_or("New recipe");
        self.line(&format!("name = {}", quoted(name)));
        self.line("version = \"1\"");
        self.note("Volume into the fermenter.");
        let what = (
            "volume",
            "the volume, without which nothing can be reckoned",
        );
        self.amount(what, (&VOLUME, "L"), "volume = \"5 L\"", volume);
    }

    fn mash(&mut self, answer: Option<&str>) {
        self.line("\n[mash]");
        let what = ("temperature", "the mash temperature");
        let measured = (&TEMPERATURE, "°C");
        self.amount(what, measured, "temperature = \"66 °C\"", answer);
    }

    fn grist(&mut self, answer: Option<&str>) {
        self.line("");
        self.note("Malt, grain, sugar, honey, extract: one table each.");
        let parts = answer.map(pieces).unwrap_or_default();
        if parts.is_empty() {
            self.missing(
                "the malts, without which there is no beer",
                "[[fermentable]]",
                None,
            );
            self.note("name = \"Pale malt\"");
            self.note("amount = \"1 kg\"");
        }
        for part in parts {
            let (amount, name) = take_amount(&MASS, &part);
            if name.is_empty() {
                self.missing("what this is", "name = \"Pale malt\"", Some(&part));
                continue;
            }
            self.line("[[fermentable]]");
            self.line(&format!("name = {}", quoted(&name)));
            match amount {
                Some(amount) => self.line(&format!("amount = {}", quoted(&amount))),
                None => self.missing("how much of it", "amount = \"1 kg\"", Some(&part)),
            }
        }
    }

    fn hops(&mut self, answer: Option<&str>) {
        self.line("");
        self.note("Hops: one table a charge; each with one of boil, whirlpool and dry.");
        let parts = answer.map(pieces).unwrap_or_default();
        if parts.is_empty() {
            self.missing("the hops, if there are any", "[[hop]]", None);
            for line in ["name = \"Saaz\"", "amount = \"10 g\"", "boil = \"60 min\""] {
                self.note(line);
            }
        }
        let mut before: Option<String> = None;
        for part in parts {
            let hop = HopAnswer::read(&part);
            let Some(name) = hop.name.or_else(|| before.clone()) else {
                self.missing("which hop this is", "name = \"Saaz\"", Some(&part));
                continue;
            };
            self.line("[[hop]]");
            self.line(&format!("name = {}", quoted(&name)));
            match hop.amount {
                Some(amount) => self.line(&format!("amount = {}", quoted(&amount))),
                None => self.missing("how much of it", "amount = \"10 g\"", Some(&part)),
            }
            match hop.when {
                Some(when) => self.line(&when),
                None => self.missing("when it goes in", "boil = \"60 min\"", Some(&part)),
            }
            before = Some(name);
        }
    }

    fn yeast(&mut self, name: Option<&str>, temperature: Option<&str>) {
        self.line("");
        let Some(name) = name else {
            self.missing("the yeast", "[yeast]", temperature);
            self.note("name = \"Clean ale yeast\"");
            self.note("temperature = \"19 °C\"");
            return;
        };
        self.line("[yeast]");
        self.line(&format!("name = {}", quoted(name)));
        let what = ("temperature", "the fermentation temperature");
        let measured = (&TEMPERATURE, "°C");
        let example = "temperature = \"19 °C\"";
        self.amount(what, measured, example, temperature);
    }

    fn packaging(&mut self, answer: Option<&str>) {
        self.line("\n[carbonation]");
        let lines = answer.map(packaging_lines).unwrap_or_default();
        for line in &lines {
            self.line(line);
        }
        for (key, what, example) in [
            ("target", "how fizzy", "target = \"2.4 vol\""),
            ("priming", "the priming sugar", "priming = \"sucrose\""),
            (
                "bottle",
                "the kind of bottle, which decides what pressure is safe",
                "bottle = \"crown\"",
            ),
        ] {
            if !lines.iter().any(|it| it.starts_with(key)) {
                self.missing(what, example, answer);
            }
        }
    }

    fn hopes(&mut self, answer: Option<&str>) {
        self.line("");
        self.note("What you hope for: words of the wheel, 0 (none) to 9 (cannot be stronger).");
        self.line("[intent.words]");
        let example = "\"orange peel\" = { aroma = 5, flavour = 4 }";
        let parts = answer.map(pieces).unwrap_or_default();
        if parts.is_empty() {
            self.missing("what you hope to smell and taste", example, None);
        }
        let mut written = HashSet::new();
        for part in parts {
            let stated = part.rsplit_once(' ').and_then(|(word, digit)| {
                let digit = digit.parse::<u8>().ok().filter(|it| *it <= 9)?;
                Some((word.trim(), digit))
            });
            match stated {
                Some((word, digit)) if written.insert(quoted(word)) => self.line(&format!(
                    "{} = {{ aroma = {digit}, flavour = {digit} }}",
                    quoted(word)
                )),
                Some(_) => self.note(&format!("Given twice: {part}")),
                None => self.missing("how strong, from 0 to 9", example, Some(&part)),
            }
        }
    }

    fn scales(&mut self, answer: Option<&str>) {
        self.line("\n[intent.scales]");
        let parts = answer.map(pieces).unwrap_or_default();
        if parts.is_empty() {
            self.missing("how bitter", "bitter = 5", None);
            self.missing("the colour", "colour = \"25 EBC\"", None);
        }
        let mut written = HashSet::new();
        for part in parts {
            match scale_line(&part) {
                Some((scale, line)) if written.insert(scale.id) => self.line(&line),
                Some(_) => self.note(&format!("Given twice: {part}")),
                None => self.missing("how strong", "bitter = 5", Some(&part)),
            }
        }
    }
}

/// The line for `bitter 5` or `colour 25 EBC`.
fn scale_line(part: &str) -> Option<(&'static Scale, String)> {
    let (first, value) = part.split_once(' ')?;
    let first = first.to_lowercase();
    let wanted = match first.as_str() {
        "bitterness" => "bitter",
        "color" => "colour",
        other => other,
    };
    let scale = SCALES
        .iter()
        .find(|it| it.stage.is_some() && it.id == wanted)?;
    let line = match value.trim().parse::<u8>() {
        Ok(digit) if scale.allows(f64::from(digit)) => format!("{} = {digit}", scale.id),
        _ if scale.id == "colour" => {
            let colour = amount_in(&COLOUR, "EBC", value)?;
            format!("{} = {}", scale.id, quoted(&colour))
        }
        _ => return None,
    };
    Some((scale, line))
}

#[cfg(test)]
mod tests {
    use proptest::proptest;

    use super::*;
    use crate::domain::HopTime;
    use crate::formats::problem::ProblemKind;
    use crate::formats::read_recipe;
    use crate::formats::trial_catalogue::catalogue;
    use crate::formats::trial_catalogue::wheel;

    fn answers(of: &dyn Fn(&Question) -> String) -> RecipeAnswers {
        NEW_RECIPE_QUESTIONS
            .iter()
            .fold(RecipeAnswers::default(), |all, it| {
                all.answered(it, &of(it))
            })
    }

    #[test]
    fn the_examples_of_all_questions_make_a_recipe() {
        let text = write_recipe(&answers(&|it| {
            it.example.replace("crystal malt", "chocolate malt")
        }));
        let recipe = read_recipe("n.toml", &text, &catalogue(), &wheel()).unwrap();
        assert_eq!(recipe.name.as_str(), "Harbour dark");
        assert_eq!(recipe.fermentables.len(), 2);
        assert_eq!(recipe.hops.len(), 3);
        assert!(matches!(recipe.hops[2].when, HopTime::Dry { .. }));
        assert_eq!(recipe.intent.targets.len(), 6);
        assert!(!text.contains("Missing"), "{text}");
    }

    #[test]
    fn volume_and_grist_are_enough() {
        let text = write_recipe(&answers(&|it| match it.id {
            "volume" => "5".to_owned(),
            "grist" => "pale malt 1,1 kg".to_owned(),
            _ => "don't know".to_owned(),
        }));
        let recipe = read_recipe("n.toml", &text, &catalogue(), &wheel()).unwrap();
        assert!((recipe.volume.get() - 5.0).abs() < f64::EPSILON);
        assert!((recipe.fermentables[0].amount.get() - 1_100.0).abs() < 1e-9);
        assert_eq!(recipe.yeast, None);
    }

    #[test]
    fn knowing_nothing_leaves_a_form_that_says_what_is_missing() {
        let text = write_recipe(&answers(&|_| "?".to_owned()));
        assert!(text.contains("# Missing: the volume"), "{text}");
        let problems = read_recipe("n.toml", &text, &catalogue(), &wheel()).unwrap_err();
        let missing = |key| {
            problems
                .iter()
                .any(|it| matches!(it.kind, ProblemKind::Missing { key: it, .. } if it == key))
        };
        assert!(missing("volume") && missing("fermentable"), "{problems:?}");
        assert_eq!(problems.len(), 2);
    }

    #[test]
    fn an_answer_that_cannot_be_used_is_kept_beside_what_is_missing() {
        let text = write_recipe(&answers(&|it| match it.id {
            "hops" => "some Saaz".to_owned(),
            "volume" => "a bucket".to_owned(),
            _ => String::new(),
        }));
        assert!(
            text.contains("# Missing: how much of it (your answer: some Saaz)"),
            "{text}"
        );
        assert!(text.contains(
            "# Missing: the volume, without which nothing can be reckoned (your answer: a bucket)"
        ));
    }

    proptest! {
        #[test]
        fn whatever_is_answered_the_file_is_toml(text in "(?s).{0,60}|[0-9a-z ,;\"\\\\#='\n°]{0,80}") {
            let file = write_recipe(&answers(&|_| text.clone()));
            let problems = read_recipe("n.toml", &file, &catalogue(), &wheel()).err().unwrap_or_default();
            for problem in problems {
                let broken = matches!(
                    problem.kind,
                    ProblemKind::Syntax { .. } | ProblemKind::DoubleKey { .. } | ProblemKind::Hidden { .. }
                );
                assert!(!broken, "{problem}\n{file}");
            }
        }
    }
}
