//! The wheel: places, their shelves, and the words that stand on them, checked as a whole.

use std::collections::HashMap;
use std::collections::HashSet;

use thiserror::Error;

use crate::domain::Allergen;
use crate::domain::Caution;
use crate::domain::Descriptor;
use crate::domain::DescriptorId;
use crate::domain::PlaceId;
use crate::domain::Reference;
use crate::domain::ShelfId;
use crate::domain::name::small_letters;

/// A place you know: the innermost ring.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// Its permanent id.
    pub id: PlaceId,
    /// The word on screen.
    pub name: String,
    /// What one meets there, for a beginner.
    pub met: String,
}

/// A shelf in a place.
#[derive(Debug, Clone, PartialEq)]
pub struct Shelf {
    /// Its permanent id.
    pub id: ShelfId,
    /// The place it stands in.
    pub place: PlaceId,
    /// The word on screen.
    pub name: String,
    /// What one meets there.
    pub met: String,
}

/// What is wrong with a wheel as a whole.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum WheelProblem {
    /// Two entries share an id.
    #[error("the id “{id}” is used twice; ids are permanent and unique, rename the newer one")]
    DoubleId {
        /// The id.
        id: String,
    },
    /// Two descriptors answer to the same word.
    #[error(
        "“{word}” stands for both {first} and {second}; a word or synonym leads to one entry only"
    )]
    DoubleWord {
        /// The word or synonym.
        word: String,
        /// The first id.
        first: DescriptorId,
        /// The second id.
        second: DescriptorId,
    },
    /// A descriptor names a shelf that is not there.
    #[error(
        "{descriptor} stands on the shelf “{shelf}”, which no place has; choose one of its place"
    )]
    NoShelf {
        /// The descriptor.
        descriptor: DescriptorId,
        /// The shelf named.
        shelf: ShelfId,
    },
    /// A look-alike that is not there.
    #[error("{descriptor} names the look-alike “{look_alike}”, which is not on the wheel")]
    NoLookAlike {
        /// The descriptor.
        descriptor: DescriptorId,
        /// The id named.
        look_alike: DescriptorId,
    },
    /// A definition that gives its own word away.
    #[error("the definition of {descriptor} contains its word “{word}”; describe it without")]
    WordInDefinition {
        /// The descriptor.
        descriptor: DescriptorId,
        /// The word.
        word: String,
    },
    /// A jar made with beer that does not say what beer holds.
    #[error(
        "the jar of {descriptor} is made with beer; list gluten under its allergens and alcohol under its cautions, or use water"
    )]
    BeerUndeclared {
        /// The descriptor.
        descriptor: DescriptorId,
    },
    /// A jar whose item betrays an allergen that is not listed.
    #[error(
        "the jar of {descriptor} holds “{word}” and does not list {} under its allergens; add it", .allergen.id()
    )]
    AllergenUndeclared {
        /// The descriptor.
        descriptor: DescriptorId,
        /// The word that betrays it.
        word: &'static str,
        /// What it tells of.
        allergen: Allergen,
    },
    /// A jar with something that is no food and may be tasted.
    #[error(
        "the jar of {descriptor} holds “{word}”, which is no food; its use must be \"sniff-only\""
    )]
    NoFood {
        /// The descriptor.
        descriptor: DescriptorId,
        /// The word.
        word: &'static str,
    },
    /// A shelf or a place with too little on it.
    #[error("{what} holds {found}; at least {least} are needed to choose from")]
    TooFew {
        /// Which shelf or place.
        what: String,
        /// How many stand there.
        found: usize,
        /// How many are needed.
        least: usize,
    },
}

/// All words, sorted by place and shelf; look-ups cannot fail for ids taken from it.
#[derive(Debug, Clone)]
pub struct Wheel {
    places: Vec<Place>,
    shelves: Vec<Shelf>,
    descriptors: Vec<Descriptor>,
    by_id: HashMap<DescriptorId, usize>,
    /// Ids, words and synonyms in small letters; where two words share one, it is that of the first.
    by_name: HashMap<String, usize>,
}

impl Wheel {
    /// Puts a wheel together.
    ///
    /// # Errors
    /// Every problem found, not only the first.
    pub fn new(
        places: Vec<Place>,
        shelves: Vec<Shelf>,
        descriptors: Vec<Descriptor>,
    ) -> Result<Self, Vec<WheelProblem>> {
        let by_id = descriptors
            .iter()
            .enumerate()
            .map(|(index, it)| (it.id.clone(), index))
            .collect();
        let mut by_name = HashMap::new();
        for (index, it) in descriptors.iter().enumerate() {
            let names = [it.id.as_str(), &it.word].into_iter();
            for name in names.chain(it.synonyms.iter().map(String::as_str)) {
                by_name
                    .entry(small_letters(name).collect())
                    .or_insert(index);
            }
        }
        let wheel = Self {
            places,
            shelves,
            descriptors,
            by_id,
            by_name,
        };
        let problems = wheel.problems();
        if problems.is_empty() {
            Ok(wheel)
        } else {
            Err(problems)
        }
    }

    /// The places in their order round the wheel.
    #[must_use]
    pub fn places(&self) -> &[Place] {
        &self.places
    }

    /// All shelves, place by place.
    #[must_use]
    pub fn shelves(&self) -> &[Shelf] {
        &self.shelves
    }

    /// All words.
    #[must_use]
    pub fn descriptors(&self) -> &[Descriptor] {
        &self.descriptors
    }

    /// The word with this id, name or synonym, whatever its capitals and the blanks around it.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<&Descriptor> {
        let name: String = small_letters(name).collect();
        self.descriptors.get(*self.by_name.get(&name)?)
    }

    /// The word with this id.
    #[must_use]
    pub fn descriptor(&self, id: &DescriptorId) -> Option<&Descriptor> {
        self.by_id.get(id).map(|&index| &self.descriptors[index])
    }

    /// The shelf with this id.
    #[must_use]
    pub fn shelf(&self, id: &ShelfId) -> Option<&Shelf> {
        self.shelves.iter().find(|shelf| shelf.id == *id)
    }

    /// The place with this id.
    #[must_use]
    pub fn place(&self, id: &PlaceId) -> Option<&Place> {
        self.places.iter().find(|place| place.id == *id)
    }

    /// The shelves of a place.
    pub fn shelves_of<'a>(&'a self, place: &'a PlaceId) -> impl Iterator<Item = &'a Shelf> {
        self.shelves
            .iter()
            .filter(move |shelf| shelf.place == *place)
    }

    /// The words on a shelf.
    pub fn words_on<'a>(&'a self, on: &'a ShelfId) -> impl Iterator<Item = &'a Descriptor> {
        self.descriptors.iter().filter(move |it| it.shelf == *on)
    }

    fn problems(&self) -> Vec<WheelProblem> {
        let mut found = self.double_ids();
        found.extend(self.double_words());
        found.extend(self.dangling());
        found.extend(self.descriptors.iter().filter_map(word_in_definition));
        found.extend(self.descriptors.iter().filter_map(beer_undeclared));
        found.extend(self.descriptors.iter().flat_map(careless));
        found.extend(self.too_few());
        found
    }

    fn double_ids(&self) -> Vec<WheelProblem> {
        let places = self.places.iter().map(|it| format!("place {}", it.id));
        let shelves = self.shelves.iter().map(|it| format!("shelf {}", it.id));
        let words = self.descriptors.iter().map(|it| it.id.to_string());
        let mut seen = HashSet::new();
        places
            .chain(shelves)
            .chain(words)
            .filter(|id| !seen.insert(id.clone()))
            .map(|id| WheelProblem::DoubleId { id })
            .collect()
    }

    fn double_words(&self) -> Vec<WheelProblem> {
        let mut owner: HashMap<String, &DescriptorId> = HashMap::new();
        let mut found = Vec::new();
        for it in &self.descriptors {
            for word in std::iter::once(&it.word).chain(&it.synonyms) {
                let previous = owner.insert(word.to_lowercase(), &it.id);
                if let Some(first) = previous.filter(|first| **first != it.id) {
                    found.push(WheelProblem::DoubleWord {
                        word: word.clone(),
                        first: first.clone(),
                        second: it.id.clone(),
                    });
                }
            }
        }
        found
    }

    fn dangling(&self) -> Vec<WheelProblem> {
        let mut found = Vec::new();
        for it in &self.descriptors {
            if self.shelf(&it.shelf).is_none() {
                found.push(WheelProblem::NoShelf {
                    descriptor: it.id.clone(),
                    shelf: it.shelf.clone(),
                });
            }
            for look_alike in &it.look_alikes {
                if look_alike.id == it.id || !self.by_id.contains_key(&look_alike.id) {
                    found.push(WheelProblem::NoLookAlike {
                        descriptor: it.id.clone(),
                        look_alike: look_alike.id.clone(),
                    });
                }
            }
        }
        found
    }

    fn too_few(&self) -> Vec<WheelProblem> {
        const LEAST: usize = 3;
        let shelves = self.shelves.iter().map(|it| {
            (
                format!("the shelf {}", it.id),
                self.words_on(&it.id).count(),
            )
        });
        let places = self.places.iter().map(|it| {
            (
                format!("the place {}", it.id),
                self.shelves_of(&it.id).count(),
            )
        });
        shelves
            .chain(places)
            .filter(|(_, found)| *found < LEAST)
            .map(|(what, found)| WheelProblem::TooFew {
                what,
                found,
                least: LEAST,
            })
            .collect()
    }
}

fn beer_undeclared(it: &Descriptor) -> Option<WheelProblem> {
    let Reference::Jar(jar) = &it.reference else {
        return None;
    };
    let text = format!("{} {}", jar.item, jar.how).to_lowercase();
    let holds_beer = text
        .split(|c: char| !c.is_alphabetic())
        .any(|word| word == "beer");
    let declares =
        jar.allergens.contains(&Allergen::Gluten) && jar.cautions.contains(&Caution::Alcohol);
    (holds_beer && !declares).then(|| WheelProblem::BeerUndeclared {
        descriptor: it.id.clone(),
    })
}

/// What the name of a jar's item betrays and the jar does not say.
fn careless(it: &Descriptor) -> Vec<WheelProblem> {
    let Reference::Jar(jar) = &it.reference else {
        return Vec::new();
    };
    let undeclared = jar.undeclared().into_iter();
    let mut found: Vec<WheelProblem> = undeclared
        .map(|(allergen, word)| WheelProblem::AllergenUndeclared {
            descriptor: it.id.clone(),
            word,
            allergen,
        })
        .collect();
    found.extend(jar.no_food().map(|word| WheelProblem::NoFood {
        descriptor: it.id.clone(),
        word,
    }));
    found
}

fn word_in_definition(it: &Descriptor) -> Option<WheelProblem> {
    let definition = format!(" {} ", it.definition.to_lowercase());
    definition
        .contains(&it.word.to_lowercase())
        .then(|| WheelProblem::WordInDefinition {
            descriptor: it.id.clone(),
            word: it.word.clone(),
        })
}
