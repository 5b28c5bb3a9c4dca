//! What was marked on the wheel and how often: by a taster, in practice, in the notes on a beer, or by its prediction.

use std::collections::HashMap;
use std::collections::HashSet;

use crate::domain::Beer;
use crate::domain::Name;
use crate::domain::PlaceId;
use crate::domain::ShelfId;
use crate::domain::Subject;
use crate::domain::Taster;
use crate::statistics::Count;
use crate::storage::NotesRow;
use crate::workflow::Confidence;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::noted::named;

/// Whose marks a wheel can show.
#[derive(Debug, Clone, PartialEq)]
pub enum MarksOf {
    /// What a taster named, over all glasses.
    Taster(Taster),
    /// How often a taster was right in practice.
    HitRates(Taster),
    /// What was named in the notes on a beer.
    Notes(Name),
    /// What is predicted of a batch.
    Prediction(Name),
}

/// How much of something was marked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Marked {
    /// Named in so many of so many glasses.
    Named(Count),
    /// Named rightly so many of so many times in practice.
    Right(Count),
    /// The chance that it is named.
    Chance(f64),
}

/// Everything that was marked; what is not in it was not named, which is no zero.
#[derive(Debug, Clone, PartialEq)]
pub struct WordMarks {
    /// Whose.
    pub of: MarksOf,
    by_subject: HashMap<Subject, Marked>,
}

/// How often each subject was counted.
type Tally = HashMap<Subject, [u32; 2]>;

impl WordMarks {
    /// What was marked of a word, a shelf or a place.
    #[must_use]
    pub fn marked(&self, subject: &Subject) -> Option<Marked> {
        self.by_subject.get(subject).copied()
    }

    /// How much that is, from 0 to 1: a share or a chance as it is, a number of glasses beside the
    /// largest of its kind.
    #[must_use]
    pub fn heat(&self, subject: &Subject) -> Option<f64> {
        Some(match self.marked(subject)? {
            Marked::Chance(chance) => chance,
            Marked::Right(count) => f64::from(count.hits()) / f64::from(count.tries().max(1)),
            Marked::Named(count) => {
                let alike =
                    |it: &&Subject| std::mem::discriminant(*it) == std::mem::discriminant(subject);
                let times = self.by_subject.keys().filter(alike);
                let most = times.filter_map(|it| match self.marked(it) {
                    Some(Marked::Named(count)) => Some(count.hits()),
                    _ => None,
                });
                f64::from(count.hits()) / f64::from(most.max().unwrap_or(1).max(1))
            }
        })
    }

    /// True if nothing on the wheel was marked.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.by_subject.is_empty()
    }
}

impl Home {
    /// Whose marks can be shown now: nothing of a beer that is being tasted is among them.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn marks_on_offer(&self) -> Result<Vec<MarksOf>, WorkflowError> {
        let rows = self.to_count(self.store.locked_notes()?)?;
        let glasses = self.poured_glasses()?;
        let tasters = self.tasters()?;
        let mut offer = Vec::new();
        let has_tasted = |it: &&Taster| rows.iter().any(|row| row.taster.id == it.id);
        offer.extend(
            tasters
                .iter()
                .filter(has_tasted)
                .cloned()
                .map(MarksOf::Taster),
        );
        for taster in &tasters {
            let hits = hits(&self.confidence(taster)?);
            offer.extend((!hits.is_empty()).then(|| MarksOf::HitRates(taster.clone())));
        }
        let mut seen = HashSet::new();
        for row in rows.iter().filter(|row| seen.insert(row.beer.id.clone())) {
            offer.push(MarksOf::Notes(row.beer.cap_mark.clone()));
        }
        for batch in self.store.batches()? {
            let beer = self.store.beer_of_batch(&batch.id)?;
            if let Some(beer) = beer
                && !glasses.seal_plan_of(&beer, &batch.version)
            {
                offer.push(MarksOf::Prediction(batch.cap_mark));
            }
        }
        Ok(offer)
    }

    /// What is marked, by whomever it is asked for.
    ///
    /// # Errors
    /// The beer is being tasted, it is not there, or the store cannot be read.
    pub fn word_marks(&self, of: &MarksOf) -> Result<WordMarks, WorkflowError> {
        let by_subject = match of {
            MarksOf::Taster(taster) => self.counted(self.store.notes_of_taster(&taster.id)?)?,
            MarksOf::HitRates(taster) => hits(&self.confidence(taster)?),
            MarksOf::Notes(mark) => {
                let beer = self.open_beer(mark, "every set of notes")?;
                self.counted(self.store.notes_of_beer(&beer.id)?)?
            }
            MarksOf::Prediction(mark) => {
                self.open_beer(mark, "the prediction")?;
                self.chances(mark)?
            }
        };
        Ok(WordMarks {
            of: of.clone(),
            by_subject,
        })
    }

    /// What is marked, for a poster that is to show it.
    ///
    /// # Errors
    /// As [`Home::word_marks`], or there is nothing to show.
    pub fn word_marks_to_print(&self, of: &MarksOf) -> Result<WordMarks, WorkflowError> {
        let marks = self.word_marks(of)?;
        if !marks.is_empty() {
            return Ok(marks);
        }
        Err(match of {
            MarksOf::Notes(mark) | MarksOf::Prediction(mark) => WorkflowError::NothingTasted {
                mark: mark.to_string(),
            },
            MarksOf::Taster(taster) | MarksOf::HitRates(taster) => WorkflowError::NothingNamed {
                name: taster.name.to_string(),
            },
        })
    }

    /// The beer with this mark, if its plan is not sealed.
    fn open_beer(&self, mark: &Name, what: &'static str) -> Result<Beer, WorkflowError> {
        let beer = self.beer(mark.as_str())?;
        self.ensure_plan_unsealed(&beer, what)?;
        Ok(beer)
    }

    /// The notes that count: locked, the first pass over a sound bottle of a beer whose plan is not
    /// sealed. What others found in a glass that is being tasted is nobody's business yet.
    fn to_count(&self, rows: Vec<NotesRow>) -> Result<Vec<NotesRow>, WorkflowError> {
        let glasses = self.poured_glasses()?;
        let mut counting = Vec::new();
        for row in rows {
            let sound = row.round == 1 && row.bottle_fault.is_none();
            if sound && row.locked_at.is_some() && !self.is_sealed_by(&glasses, &row.beer)? {
                counting.push(row);
            }
        }
        Ok(counting)
    }

    /// In how many glasses each word, shelf and place was named.
    fn counted(&self, rows: Vec<NotesRow>) -> Result<HashMap<Subject, Marked>, WorkflowError> {
        let mut tally = Tally::new();
        let mut glasses = 0;
        for row in self.to_count(rows)? {
            glasses += 1;
            let (notes, _, _) = self.store.notes_with_row(&row.notes)?;
            let subjects = named(&notes).into_iter();
            // Words of one's own stand nowhere on the wheel.
            let subjects = subjects.filter(|it| !matches!(it, Subject::Free(_)));
            let all: HashSet<Subject> =
                subjects.flat_map(|it| self.with_those_around(it)).collect();
            for subject in all {
                tally.entry(subject).or_default()[0] += 1;
            }
        }
        let marks = tally.into_iter().filter_map(|(subject, [times, _])| {
            Some((subject, Marked::Named(Count::new(times, glasses)?)))
        });
        Ok(marks.collect())
    }

    /// A subject with its shelf and its place.
    fn with_those_around(&self, subject: &Subject) -> Vec<Subject> {
        let wheel = self.wheel();
        let shelf: Option<ShelfId> = match subject {
            Subject::Descriptor(id) => wheel.descriptor(id).map(|it| it.shelf.clone()),
            Subject::Shelf(id) => Some(id.clone()),
            Subject::Place(_) | Subject::Free(_) => None,
        };
        let place = shelf.as_ref().and_then(|it| wheel.shelf(it));
        let place = place.map(|it| Subject::Place(it.place.clone()));
        let around = shelf.map(Subject::Shelf).into_iter().chain(place);
        let mut all = vec![subject.clone()];
        all.extend(around.filter(|it| it != subject));
        all
    }

    /// The chance of each shelf to be named, and of each place by its likeliest shelf.
    fn chances(&self, mark: &Name) -> Result<HashMap<Subject, Marked>, WorkflowError> {
        let batch = self.batch(mark.as_str())?;
        let recipe = self.recipe_of(&batch)?;
        let prediction = self.profile_of(&recipe, &self.log_of(&batch.id)?, None);
        let mut best: HashMap<Subject, f64> = HashMap::new();
        for it in &prediction.shelves {
            let chance = it.odour.named().get();
            let shelf = Subject::Shelf(it.shelf.clone());
            for subject in self.with_those_around(&shelf) {
                let known = best.entry(subject).or_insert(chance);
                *known = known.max(chance);
            }
        }
        let chances = best.into_iter();
        Ok(chances
            .map(|(it, chance)| (it, Marked::Chance(chance)))
            .collect())
    }
}

/// How often a taster was right, with jars and with words together.
fn hits(confidence: &Confidence) -> HashMap<Subject, Marked> {
    let mut tally = Tally::new();
    let mut add = |subject: Subject, count: Count| {
        let sums = tally.entry(subject).or_default();
        sums[0] += count.hits();
        sums[1] += count.tries();
    };
    for rates in [&confidence.jars, &confidence.words] {
        for (word, rate) in &rates.words {
            add(Subject::Descriptor(word.clone()), rate.count);
        }
        for (shelf, rate) in &rates.shelves {
            add(Subject::Shelf(shelf.clone()), rate.count);
        }
        for (place, rate) in &rates.places {
            let place: &PlaceId = place;
            add(Subject::Place(place.clone()), rate.count);
        }
    }
    let marks = tally.into_iter().filter_map(|(subject, [hits, tries])| {
        Some((subject, Marked::Right(Count::new(hits, tries)?)))
    });
    marks.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::DescriptorId;
    use crate::domain::Field;
    use crate::domain::Mark;
    use crate::domain::MarkId;
    use crate::domain::NotesChange;
    use crate::domain::NotesSource;
    use crate::domain::Prompting;
    use crate::domain::Stage;

    fn word(id: &str) -> Subject {
        Subject::Descriptor(DescriptorId::new(id).unwrap())
    }

    fn shelf(id: &str) -> Subject {
        Subject::Shelf(ShelfId::new(id).unwrap())
    }

    fn place(id: &str) -> Subject {
        Subject::Place(PlaceId::new(id).unwrap())
    }

    /// Someone tastes T1 and names these; the notes stay open.
    fn tastes(
        home: &mut Home,
        name: &str,
        named: &[(Subject, Option<u8>)],
    ) -> crate::workflow::Tasting {
        let taster = home.taster_or_new(name).unwrap();
        let mut tasting = home.start_tasting(&taster, "T1", NotesSource::App).unwrap();
        let marks = named
            .iter()
            .enumerate()
            .map(|(index, (subject, intensity))| Mark {
                id: MarkId::new(format!("{}{index}", tasting.notes.id.as_str())),
                stage: Stage::Aroma,
                subject: subject.clone(),
                intensity: *intensity,
                prompting: Prompting::Unprompted,
            });
        let mut changes: Vec<NotesChange> = marks.map(NotesChange::Marked).collect();
        changes.push(NotesChange::Moved(Field::Lock));
        home.change(&mut tasting, &changes).unwrap();
        tasting
    }

    fn marks_of(home: &Home, name: &str) -> WordMarks {
        let taster = home.taster(name).unwrap();
        home.word_marks(&MarksOf::Taster(taster)).unwrap()
    }

    fn times(marks: &WordMarks, subject: &Subject) -> Option<[u32; 2]> {
        match marks.marked(subject)? {
            Marked::Named(count) => Some([count.hits(), count.tries()]),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn glasses_are_counted_once_for_a_word_its_shelf_and_its_place_and_a_denial_is_no_mark() {
        let mut home = Home::trial_with_a_batch();
        let named = [
            [
                (word("toast"), Some(4)),
                (word("cracker"), Some(2)),
                (place("garden"), Some(0)),
            ],
            [
                (word("toast"), None),
                (shelf("coffee"), Some(3)),
                (place("dairy"), Some(1)),
            ],
        ];
        for it in named {
            let mut tasting = tastes(&mut home, "Ana", &it);
            home.lock(&mut tasting).unwrap();
        }
        let marks = marks_of(&home, "Ana");
        // By hand: two glasses, toast in both, cracker in the first only, coffee and the dairy in the second.
        assert_eq!(times(&marks, &word("toast")), Some([2, 2]));
        assert_eq!(times(&marks, &word("cracker")), Some([1, 2]));
        assert_eq!(times(&marks, &shelf("toasted")), Some([2, 2]));
        assert_eq!(times(&marks, &place("bakery")), Some([2, 2]));
        assert_eq!(times(&marks, &place("hearth-and-coffee-bar")), Some([1, 2]));
        assert_eq!(times(&marks, &place("dairy")), Some([1, 2]));
        assert_eq!(times(&marks, &place("garden")), None);
        assert_eq!(marks.heat(&word("cracker")), Some(0.5));
        assert_eq!(marks.heat(&word("rusk")), None);
    }

    #[test]
    fn nothing_of_a_beer_is_offered_or_counted_while_somebody_tastes_it() {
        let mut home = Home::trial_with_a_batch();
        let mut ben = tastes(&mut home, "Ben", &[(word("toast"), Some(4))]);
        home.lock(&mut ben).unwrap();
        let mark = home.batch("T1").unwrap().cap_mark;
        let of_beer = [MarksOf::Notes(mark.clone()), MarksOf::Prediction(mark)];
        let offered = |home: &Home| {
            let offer = home.marks_on_offer().unwrap();
            of_beer.iter().filter(|it| offer.contains(it)).count()
        };
        assert_eq!(offered(&home), 2);
        assert!(!marks_of(&home, "Ben").is_empty());

        let mut ana = tastes(&mut home, "Ana", &[]);
        assert_eq!(home.marks_on_offer().unwrap(), []);
        for it in &of_beer {
            assert!(matches!(
                home.word_marks(it),
                Err(WorkflowError::Sealed { .. })
            ));
        }
        assert!(marks_of(&home, "Ben").is_empty());

        home.lock(&mut ana).unwrap();
        assert_eq!(offered(&home), 2);
        assert!(!marks_of(&home, "Ben").is_empty());
    }

    #[test]
    fn a_prediction_marks_shelves_and_their_places_with_chances_and_no_word() {
        let home = Home::trial_with_a_batch();
        let mark = home.batch("T1").unwrap().cap_mark;
        let marks = home.word_marks(&MarksOf::Prediction(mark)).unwrap();
        let mut seen = 0;
        for it in home.wheel().shelves() {
            let own = marks.heat(&Subject::Shelf(it.id.clone()));
            let around = marks.heat(&Subject::Place(it.place.clone()));
            if let Some(own) = own {
                seen += 1;
                assert!((0.0..=1.0).contains(&own) && around >= Some(own));
            }
        }
        assert!(seen > 3, "{seen}");
        let words = home.wheel().descriptors().iter();
        let mut words = words.filter_map(|it| marks.marked(&word(it.id.as_str())));
        assert_eq!(words.next(), None);
    }
}
