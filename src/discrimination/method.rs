//! What a test method is: a record that says how glasses stand, what is asked, and what guessing gives.

use crate::discrimination::DPrime;
use crate::discrimination::Effect;
use crate::discrimination::effect::FARTHEST;
use crate::statistics::Probability;
use crate::statistics::root;

/// One of the two beers of a test. Where a direction is fixed, `B` is the one expected to be stronger.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Side {
    /// The one.
    A,
    /// The other.
    B,
}

/// How the glasses of one set stand before a taster.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Presentation {
    /// What is in the glass marked as the reference, if there is one; it bears no code.
    pub reference: Option<Side>,
    /// What is in the coded glasses, in the order in which they are tasted.
    pub glasses: &'static [Side],
}

impl Presentation {
    /// How many glasses of one beer a set takes, the reference counted.
    #[must_use]
    pub fn glasses_of(&self, side: Side) -> usize {
        let all = self.reference.iter().chain(self.glasses);
        all.filter(|it| **it == side).count()
    }
}

/// A chance in whole numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Chance {
    /// So many.
    pub right: u32,
    /// Of so many.
    pub of: u32,
}

/// Whether the direction of the difference is fixed before the test.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ways {
    /// There is a right answer for each set: only many right answers speak for a difference.
    One,
    /// No answer is right: the count is of those who chose `Side::B`, and many or few speak for a
    /// difference.
    Either,
}

/// What a taster has to find.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asked {
    /// Which glass is the other beer, by whatever difference.
    Difference,
    /// Which glass has more of a character that is named beforehand.
    Character,
}

/// A test method; the whole knowledge about it.
#[derive(Debug)]
pub struct Method {
    /// Its permanent name in files and commands.
    pub id: &'static str,
    /// Its name in the standard.
    pub name: &'static str,
    /// The standard.
    pub standard: &'static str,
    /// What a taster is asked, in plain words.
    pub question: &'static str,
    /// Whether a character has to be named.
    pub asked: Asked,
    /// Whether the direction is fixed.
    pub ways: Ways,
    /// Every way the glasses can stand; all are served equally often.
    pub presentations: &'static [Presentation],
    /// The coded glasses that can be chosen, counted from 0.
    pub choices: &'static [usize],
    /// Which of the choices is right; where no direction is fixed, which is counted.
    pub right: fn(&Presentation) -> usize,
    /// How often a guess is right.
    pub chance: Chance,
    /// The share of right answers at a distance d′.
    pub correct: fn(f64) -> f64,
}

impl PartialEq for Method {
    fn eq(&self, other: &Self) -> bool {
        self.id == other.id
    }
}

impl Method {
    /// How often a guess is right.
    #[must_use]
    pub fn guess(&self) -> Probability {
        let Chance { right, of } = self.chance;
        // A part is no more than the whole.
        Probability::new(f64::from(right) / f64::from(of)).unwrap_or(Probability::ONE)
    }

    /// The share of right answers where this share tells the beers apart: p0 + (1 − p0)·pd.
    #[must_use]
    pub fn correct_with(&self, pd: Probability) -> Probability {
        let guess = self.guess().get();
        rounded(guess + (1.0 - guess) * pd.get())
    }

    /// The share that tells the beers apart, below 0 where fewer are right than guess right.
    #[must_use]
    pub fn pd_at(&self, correct: Probability) -> f64 {
        let guess = self.guess().get();
        (correct.get() - guess) / (1.0 - guess)
    }

    /// The share of right answers at an effect.
    #[must_use]
    pub fn correct_at(&self, effect: Effect) -> Probability {
        match effect {
            Effect::Pd(pd) => self.correct_with(pd.share()),
            Effect::DPrime(distance) => rounded((self.correct)(distance.get())),
        }
    }

    /// The distance at which this share is right: 0 where no more are right than by guessing, none where
    /// all are, because every distance is too short for that.
    #[must_use]
    pub fn distance_at(&self, correct: Probability) -> Option<DPrime> {
        if correct.get() >= 1.0 {
            return None;
        }
        if correct <= self.guess() {
            return Some(DPrime::NONE);
        }
        let off = |distance: f64| (self.correct)(distance) - correct.get();
        DPrime::new(root(0.0, FARTHEST, off)).ok()
    }

    /// How many coded glasses a set has.
    #[must_use]
    pub fn coded_glasses(&self) -> usize {
        self.presentations.first().map_or(0, |it| it.glasses.len())
    }
}

fn rounded(share: f64) -> Probability {
    Probability::new(share.clamp(0.0, 1.0)).expect("it was brought between 0 and 1")
}
