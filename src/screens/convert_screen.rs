//! A recipe of another standard on its way in: which of the file, what its ingredients are here, and where ours goes.

use std::path::Path;
use std::path::PathBuf;

use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Question;
use crate::screens::batches_screen::NewBatchScreen;
use crate::workflow::Choice;
use crate::workflow::Conversion;
use crate::workflow::Home;
use crate::workflow::Mapped;
use crate::workflow::TakenFor;
use crate::workflow::WorkflowError;
use crate::workflow::recipe_place;
use crate::workflow::typed_place;

/// What is answered where nothing in the catalogue stands for an ingredient.
const OWN: &str = "none of these: an ingredient of its own";

/// What is asked now.
#[derive(Debug, Clone, PartialEq)]
enum Step {
    /// Which recipe of the file.
    Recipe,
    /// What an ingredient is of which nobody has said it.
    Ingredient(Mapped),
    /// Which file to write.
    Place,
}

/// The screen of one conversion.
pub(super) struct ConvertScreen {
    file: PathBuf,
    number: usize,
    /// The recipes of the file.
    names: Vec<String>,
    said: Vec<(String, Choice)>,
    step: Step,
    /// What the file comes to by what was said so far.
    conversion: Option<Conversion>,
    asking: Asking,
}

impl ConvertScreen {
    /// The screen at its first question.
    ///
    /// # Errors
    /// The file is no recipe of a known standard.
    pub(super) fn new(file: &Path, home: &Home) -> Result<Self, WorkflowError> {
        let names = home.foreign_names(file)?;
        let mut screen = Self {
            file: file.to_owned(),
            number: 1,
            said: Vec::new(),
            step: Step::Recipe,
            conversion: None,
            asking: Asking::only(names.clone()),
            names,
        };
        if screen.names.len() == 1 {
            screen.ask_next(home)?;
        }
        Ok(screen)
    }

    /// Asks for the next ingredient of which nobody has said what it is, or where to write once there is none.
    fn ask_next(&mut self, home: &Home) -> Result<(), WorkflowError> {
        let found = home.converted(&self.file, self.number, &self.said)?;
        let next = found.unsaid().next().cloned();
        self.conversion = Some(found);
        if let Some(it) = next {
            let mut names = home.names_near(it.kind, &it.name);
            let (own, chosen) = match &it.taken {
                TakenFor::Guess(nearest) => (1, nearest.as_str()),
                _ => (0, OWN),
            };
            names.insert(own.min(names.len()), OWN.to_owned());
            self.asking = Asking::only(names).choosing(chosen);
            self.step = Step::Ingredient(it);
        } else {
            let beside = self.file.with_extension("toml").display().to_string();
            self.asking = Asking::among(vec![beside.clone()]).choosing(&beside);
            self.step = Step::Place;
        }
        Ok(())
    }
}

impl Question for ConvertScreen {
    fn heading(&self) -> String {
        match &self.conversion {
            Some(it) => format!("{}, from another standard", it.recipe.name),
            None => "A recipe from another standard".to_owned(),
        }
    }

    fn told(&self) -> Vec<String> {
        match &self.step {
            Step::Recipe => vec![format!("The file holds {} recipes.", self.names.len())],
            Step::Ingredient(it) => {
                let open = self.conversion.as_ref().map_or(1, |it| it.unsaid().count());
                let number = self.said.len() + 1;
                let all = self.said.len() + open;
                let nearest = match &it.taken {
                    TakenFor::Guess(nearest) => format!("The nearest here: {nearest}."),
                    _ => "Nothing here is near to it.".to_owned(),
                };
                let name = &it.name;
                vec![format!(
                    "{number} of {all}: {name} stands in the file. {nearest}"
                )]
            }
            Step::Place => {
                let Some(it) = &self.conversion else {
                    return Vec::new();
                };
                let contradictions = it.contradictions.iter();
                let contradictions =
                    contradictions.map(|it| format!("The file contradicts itself: {it}."));
                let remarks = it.remarks.iter().map(|it| format!("{it}."));
                contradictions.chain(remarks).collect()
            }
        }
    }

    fn asked(&self) -> &'static str {
        match self.step {
            Step::Recipe => "Which one?",
            Step::Ingredient(..) => "What is it here?",
            Step::Place => {
                "Where shall the recipe file of thirdglass stand? It becomes a new file."
            }
        }
    }

    fn purpose(&self) -> &'static str {
        "A recipe of BeerXML or BeerJSON becomes a recipe file of thirdglass. Names that are not known here are guessed, and every guess is asked for, because a malt taken for another makes another beer. What the other standard does not say stays open."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn needs(&self) -> Option<&'static str> {
        Some(match self.step {
            Step::Place => "the name of a file is needed",
            _ => "one of the names is needed",
        })
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        match &self.step {
            Step::Recipe => {
                let at = self.names.iter().position(|it| it == answer);
                let Some(at) = at else {
                    return Ok(Next::Stay);
                };
                self.number = at + 1;
                self.ask_next(home)?;
            }
            Step::Ingredient(it) => {
                let choice = match answer {
                    OWN => Choice::Own,
                    name => Choice::Take(name.to_owned()),
                };
                let said = (it.name.clone(), choice);
                self.said.push(said);
                if let Err(refused) = self.ask_next(home) {
                    self.said.pop();
                    return Err(refused);
                }
            }
            Step::Place => {
                let Some(found) = &self.conversion else {
                    return Ok(Next::Stay);
                };
                let file = recipe_place(&typed_place(answer));
                home.write_conversion(found, &file)?;
                let marks = home.marks_without_batch()?;
                return Ok(Next::Replace(Box::new(NewBatchScreen::of(file, marks))));
            }
        }
        Ok(Next::Stay)
    }

    fn back(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        if self.said.pop().is_some() {
            self.ask_next(home)?;
            return Ok(Next::Stay);
        }
        if self.step != Step::Recipe && self.names.len() > 1 {
            self.step = Step::Recipe;
            self.conversion = None;
            self.asking = Asking::only(self.names.clone());
            return Ok(Next::Stay);
        }
        let typed = self.file.display().to_string();
        Ok(Next::Replace(Box::new(NewBatchScreen::typed(&typed))))
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use crate::screens::trial::keys;
    use crate::screens::trial::picture;
    use crate::screens::trial::started;
    use crate::workflow::Home;

    /// Malts that the catalogue knows, and one that it has to guess.
    const XML: &str = include_str!("../../tests/standards/evening-pale.xml");

    #[test]
    fn one_step_back_from_the_first_question_the_file_that_was_typed_still_stands() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("pale.xml");
        fs::write(
            &file,
            XML.replace("<NAME>Saaz</NAME>", "<NAME>Citra</NAME>"),
        )
        .unwrap();
        let mut app = started(Home::trial());
        keys(&mut app, "4a");
        keys(&mut app, &file.display().to_string());
        keys(&mut app, "⏎");
        let first = picture(&mut app);
        assert!(first.contains("1 of 2: Crystal Malt 40"), "{first}");
        assert!(first.contains(" more; type"), "the list is longer: {first}");
        keys(&mut app, "⏎");
        let second = picture(&mut app);
        assert!(second.contains("2 of 2: Citra"), "{second}");
        assert!(second.contains("▸  none of these"), "{second}");
        keys(&mut app, "xqz");
        let none = picture(&mut app);
        assert!(none.contains("None of them begins so"), "{none}");
        keys(&mut app, "⎋⎋");
        let asked = picture(&mut app);
        assert!(asked.contains("Which recipe file?"), "{asked}");
        assert!(asked.contains("pale.xml"), "{asked}");
    }

    #[test]
    fn a_recipe_of_another_standard_is_asked_through_and_becomes_a_batch() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("pale.xml");
        fs::write(&file, XML).unwrap();
        let mut app = started(Home::trial());
        keys(&mut app, "4a");
        keys(&mut app, &file.display().to_string());
        keys(&mut app, "⏎");
        let guess = picture(&mut app);
        assert!(guess.contains("What is it here?"), "{guess}");
        for _ in 0..6 {
            if picture(&mut app).contains("What is it here?") {
                keys(&mut app, "⏎");
            }
        }
        let place = picture(&mut app);
        assert!(place.contains("Where shall the recipe file"), "{place}");
        assert!(place.contains("contradicts itself"), "{place}");
        keys(&mut app, &folder.path().join("EP2").display().to_string());
        keys(&mut app, "⏎");
        assert!(folder.path().join("EP2.toml").exists());
        let caps = picture(&mut app);
        assert!(caps.contains("written on the caps"), "{caps}");
    }
}
