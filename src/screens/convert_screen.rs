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

/// What is answered where nothing in the catalogue stands for an ingredient.
const OWN: &str = "none of these: an ingredient of its own";

/// What is asked now.
#[derive(Debug, Clone, PartialEq)]
enum Step {
    /// Which recipe of the file.
    Recipe(Vec<String>),
    /// What an ingredient is that was only guessed.
    Ingredient(Mapped, String),
    /// Which file to write.
    Place,
}

/// The screen of one conversion.
pub(super) struct ConvertScreen {
    file: PathBuf,
    number: usize,
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
            step: Step::Recipe(names.clone()),
            conversion: None,
            asking: Asking::among(names.clone()),
        };
        if names.len() == 1 {
            screen.ask_next(home)?;
        }
        Ok(screen)
    }

    /// Asks for the next guess, or where to write once there is none.
    fn ask_next(&mut self, home: &Home) -> Result<(), WorkflowError> {
        let found = home.converted(&self.file, self.number, &self.said)?;
        let guess = found.guesses().next().cloned();
        self.conversion = Some(found);
        let taken = guess.map(|it| (it.taken.clone(), it));
        if let Some((TakenFor::Guess(nearest), it)) = taken {
            let known = home.names_of_kind(it.kind).into_iter();
            let mut names = vec![nearest.clone(), OWN.to_owned()];
            names.extend(known.filter(|it| *it != nearest));
            self.asking = Asking::among(names).choosing(&nearest);
            self.step = Step::Ingredient(it, nearest);
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
            Step::Recipe(names) => vec![format!("The file holds {} recipes.", names.len())],
            Step::Ingredient(it, nearest) => {
                vec![format!(
                    "{} stands in the file. The nearest here: {nearest}.",
                    it.name
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
            Step::Recipe(_) => "Which one?",
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

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        match &self.step {
            Step::Recipe(names) => {
                let at = names.iter().position(|it| it == answer);
                let Some(at) = at else {
                    return Ok(Next::Stay);
                };
                self.number = at + 1;
                self.ask_next(home)?;
            }
            Step::Ingredient(it, _) => {
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
                let file = PathBuf::from(answer.trim());
                home.write_conversion(found, &file)?;
                let marks = home.marks_without_batch()?;
                return Ok(Next::Replace(Box::new(NewBatchScreen::of(file, marks))));
            }
        }
        Ok(Next::Stay)
    }

    fn back(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        if self.said.pop().is_none() {
            return Ok(Next::Close);
        }
        self.ask_next(home)?;
        Ok(Next::Stay)
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
        keys(&mut app, "⏎");
        assert!(folder.path().join("pale.toml").exists());
        let caps = picture(&mut app);
        assert!(caps.contains("written on the caps"), "{caps}");
    }
}
