//! A new recipe from ten plain questions: the answers written down as a recipe file with comments.

use std::fmt;

use crate::formats::answer_text::known;
use crate::formats::problem::shown;
use crate::formats::recipe_paper::Paper;

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

/// A part of an answer that the recipe does not hold; as text, a sentence that names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotKept {
    /// What was asked for.
    pub about: &'static str,
    /// The part, as answered.
    pub said: String,
    /// A line of the file that would do.
    pub example: &'static str,
}

impl fmt::Display for NotKept {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { about, example, .. } = self;
        let said = shown(&self.said);
        write!(
            f,
            "{about}: “{said}” was not understood; in the file it is written like {example}"
        )
    }
}

/// A recipe file made from answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WrittenRecipe {
    /// The file's text.
    pub text: String,
    /// What of the answers it does not hold.
    pub not_kept: Vec<NotKept>,
}

/// Writes the answers down as a recipe file.
///
/// The text is always TOML. It is a whole recipe once volume and grist are known; what could not be
/// taken from the answers stands as a comment that begins with `# Missing` or `# Not kept`, and is
/// told beside the text.
#[must_use]
pub fn write_recipe(answers: &RecipeAnswers) -> WrittenRecipe {
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
    paper.finished()
}

#[cfg(test)]
mod tests {
    use proptest::proptest;

    use super::*;
    use crate::domain::Bottle;
    use crate::domain::HopTime;
    use crate::domain::Minutes;
    use crate::domain::PrimingSugar;
    use crate::domain::Volumes;
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
        let WrittenRecipe { text, not_kept } = write_recipe(&answers(&|it| {
            it.example.replace("crystal malt", "chocolate malt")
        }));
        assert_eq!(not_kept, []);
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
        }))
        .text;
        let recipe = read_recipe("n.toml", &text, &catalogue(), &wheel()).unwrap();
        assert!((recipe.volume.get() - 5.0).abs() < f64::EPSILON);
        assert!((recipe.fermentables[0].amount.get() - 1_100.0).abs() < 1e-9);
        assert_eq!(recipe.yeast, None);
    }

    #[test]
    fn knowing_nothing_leaves_a_form_that_says_what_is_missing() {
        let text = write_recipe(&answers(&|_| "?".to_owned())).text;
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
        let WrittenRecipe { text, not_kept } = write_recipe(&answers(&|it| match it.id {
            "hops" => "some Saaz".to_owned(),
            "volume" => "a bucket".to_owned(),
            _ => String::new(),
        }));
        let told: Vec<String> = not_kept.iter().map(NotKept::to_string).collect();
        assert_eq!(
            told[0],
            "the volume, without which nothing can be reckoned: “a bucket” was not understood; \
             in the file it is written like volume = \"5 L\""
        );
        assert_eq!(told.len(), 3, "volume, amount and time: {told:?}");
        assert!(
            text.contains("# Missing: how much of this hop (your answer: some Saaz)"),
            "{text}"
        );
        assert!(text.contains(
            "# Missing: the volume, without which nothing can be reckoned (your answer: a bucket)"
        ));
    }

    #[test]
    fn everyday_answers_make_a_recipe_and_name_the_one_part_that_does_not_fit() {
        let WrittenRecipe { text, not_kept } = write_recipe(&answers(&|it| {
            match it.id {
                "name" => "Kitchen brown",
                "volume" => "about 5 liters",
                "grist" => "1kg Pale Malt, 100gr chocolate malt",
                "hops" => "10g saaz 60min",
                "yeast" => "clean ale yeast",
                "mash" => "66 for 60 minutes",
                "fermentation" => "19 degrees",
                "packaging" => "crown caps, table sugar, 2.4",
                "hopes" => "Orange Peel: 5, TOAST 3",
                _ => "bitter 4, red",
            }
            .to_owned()
        }));
        let recipe = read_recipe("n.toml", &text, &catalogue(), &wheel()).unwrap();
        assert_eq!(recipe.fermentables.len(), 2);
        let hop = &recipe.hops[0];
        assert_eq!(hop.when, HopTime::Boil(Minutes::new(60.0).unwrap()));
        assert_eq!(recipe.mash.time, Some(Minutes::new(60.0).unwrap()));
        assert_eq!(recipe.packaging.bottle, Bottle::Crown);
        assert_eq!(recipe.packaging.priming, Some(PrimingSugar::Sucrose));
        assert_eq!(
            recipe.packaging.carbonation,
            Some(Volumes::new(2.4).unwrap())
        );
        // Orange peel and toast, each in aroma and flavour, and bitterness.
        assert_eq!(recipe.intent.targets.len(), 5);
        let said: Vec<&str> = not_kept.iter().map(|it| it.said.as_str()).collect();
        assert_eq!(said, ["red"]);
        assert!(text.contains("# Not kept of your answer: red"), "{text}");
    }

    proptest! {
        #[test]
        fn whatever_is_answered_the_file_is_toml(text in "(?s).{0,60}|[0-9a-z ,;\"\\\\#='\n°]{0,80}") {
            let file = write_recipe(&answers(&|_| text.clone())).text;
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
