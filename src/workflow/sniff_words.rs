//! Which words a second sniff may ask for: what was hoped for and not named, and what could be a decoy.

use std::collections::HashSet;

use crate::domain::Descriptor;
use crate::domain::DescriptorId;
use crate::domain::Gifts;
use crate::domain::Intent;
use crate::domain::Line;
use crate::domain::Notes;
use crate::domain::PlaceId;
use crate::domain::Promise;
use crate::domain::Recipe;
use crate::domain::ShelfId;
use crate::domain::SniffKind;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::domain::Wheel;
use crate::profile::Prediction;
use crate::workflow::noted::named;

/// What a batch should be, for the choice of words.
pub(super) struct Expected<'a> {
    /// What the brewer hopes for.
    pub(super) intent: &'a Intent,
    /// What the packets promise.
    pub(super) promised: &'a [Promise],
    /// Where the recipe brings something.
    pub(super) given: HashSet<ShelfId>,
}

/// The words there are to draw from, each once.
#[derive(Debug, PartialEq)]
pub(super) struct SniffWords {
    /// Hoped for or promised, and not named; smelled, not only tasted.
    pub(super) wanted: Vec<(DescriptorId, SniffKind)>,
    /// Expected by nobody, and near to nothing that is expected or was named.
    pub(super) decoys: Vec<DescriptorId>,
}

/// The words to draw from after these notes.
pub(super) fn sniff_words(wheel: &Wheel, notes: &Notes, expected: &Expected<'_>) -> SniffWords {
    let named = named(notes);
    let is_named = |id: &DescriptorId| named.contains(&&Subject::Descriptor(id.clone()));
    let is_smelled = |id: &DescriptorId| wheel.descriptor(id).is_some_and(smelled);
    let mut wanted = wanted(expected);
    wanted.retain(|(id, _)| !is_named(id) && is_smelled(id));
    let near = Near::of(wheel, notes, expected);
    let decoys = wheel.descriptors().iter();
    let decoys = decoys.filter(|it| smelled(it) && !near.holds(wheel, it));
    SniffWords {
        wanted,
        decoys: decoys.map(|it| it.id.clone()).collect(),
    }
}

/// True for a word that is met in the nose.
fn smelled(it: &Descriptor) -> bool {
    it.stages.contains(&Stage::Aroma)
}

/// The words hoped for or promised; hoping for 0 is hoping that it is not there.
fn wanted(expected: &Expected<'_>) -> Vec<(DescriptorId, SniffKind)> {
    let targets = expected.intent.targets.iter();
    let hoped = targets.filter_map(|target| match &target.line {
        Line::Word { descriptor, .. } if target.value > 0.0 => Some((descriptor, SniffKind::Hoped)),
        _ => None,
    });
    let promised = expected.promised.iter().flat_map(|it| &it.words);
    let promised = promised.map(|word| (word, SniffKind::Promised));
    let mut words: Vec<(DescriptorId, SniffKind)> = Vec::new();
    for (word, kind) in hoped.chain(promised) {
        if words.iter().all(|(known, _)| known != word) {
            words.push((word.clone(), kind));
        }
    }
    words
}

/// The shelves where the ingredients of a recipe bring something, little or much.
pub(super) fn given(recipe: &Recipe, prediction: &Prediction) -> HashSet<ShelfId> {
    let fermentables = recipe.fermentables.iter();
    let hops = recipe.hops.iter();
    let others = recipe.others.iter();
    let known = fermentables
        .map(|it| &it.fermentable.identity)
        .chain(hops.map(|it| &it.hop.identity))
        .chain(recipe.yeast.iter().map(|it| &it.yeast.identity))
        .chain(others.map(|it| &it.other.identity))
        .filter_map(|it| Gifts::known(&it.gifts))
        .flatten();
    // The prediction knows the stand-ins of ingredients that nobody has described.
    let predicted = prediction.shelves.iter().map(|it| &it.shelf);
    let all = known.map(|it| &it.shelf).chain(predicted);
    all.cloned().collect()
}

/// What is expected or was named, and what stands too near to it to be a decoy.
#[derive(Default)]
struct Near {
    /// Expected or named.
    words: HashSet<DescriptorId>,
    /// Their look-alikes, and words that were asked for and denied.
    besides: HashSet<DescriptorId>,
    shelves: HashSet<ShelfId>,
    places: HashSet<PlaceId>,
}

impl Near {
    fn of(wheel: &Wheel, notes: &Notes, expected: &Expected<'_>) -> Self {
        let mut near = Self {
            shelves: expected.given.clone(),
            ..Self::default()
        };
        let marked = notes.marks.iter().filter_map(|it| match &it.subject {
            Subject::Descriptor(id) => Some(id.clone()),
            Subject::Shelf(_) | Subject::Place(_) | Subject::Free(_) => None,
        });
        near.besides.extend(marked);
        for target in &expected.intent.targets {
            match &target.line {
                Line::Word { descriptor, .. } => near.add_word(wheel, descriptor),
                Line::Shelf { shelf, .. } => near.shelves.extend([shelf.clone()]),
                Line::Scale(_) => {}
            }
        }
        for word in expected.promised.iter().flat_map(|it| &it.words) {
            near.add_word(wheel, word);
        }
        for subject in named(notes) {
            match subject {
                Subject::Descriptor(id) => near.add_word(wheel, id),
                Subject::Shelf(id) => near.shelves.extend([id.clone()]),
                Subject::Place(id) => near.places.extend([id.clone()]),
                Subject::Free(_) => {}
            }
        }
        near
    }

    fn add_word(&mut self, wheel: &Wheel, id: &DescriptorId) {
        if let Some(it) = wheel.descriptor(id) {
            let look_alikes = it.look_alikes.iter().map(|other| other.id.clone());
            self.besides.extend(look_alikes);
            self.shelves.insert(it.shelf.clone());
            self.words.insert(id.clone());
        }
    }

    fn holds(&self, wheel: &Wheel, it: &Descriptor) -> bool {
        let place = wheel.shelf(&it.shelf).map(|shelf| &shelf.place);
        let mut look_alikes = it.look_alikes.iter();
        // Every word stands on the shelf of its own, so the shelves cover the words themselves.
        self.shelves.contains(&it.shelf)
            || place.is_some_and(|place| self.places.contains(place))
            || self.besides.contains(&it.id)
            || look_alikes.any(|other| self.words.contains(&other.id))
    }
}
