//! The blind test that would show a change: how far apart the two beers should lie, and what it takes to find that.

use crate::discrimination::Aim;
use crate::discrimination::Alpha;
use crate::discrimination::Asked;
use crate::discrimination::Beta;
use crate::discrimination::DPrime;
use crate::discrimination::Effect;
use crate::discrimination::Method;
use crate::domain::Abv;
use crate::domain::Millilitres;
use crate::domain::PromisedChange;
use crate::domain::Purpose;
use crate::domain::Recipe;
use crate::workflow::Cost;
use crate::workflow::Table;
use crate::workflow::cost;
use crate::workflow::test_sizes;

/// The risks of a test of one's own change: of calling different what is the same, and of missing it (usual in ISO
/// 4120 and ASTM E1885 where nothing hangs on it but a batch).
const ALPHA: f64 = 0.05;
const BETA: f64 = 0.2;
/// What goes into a glass, mL (common practice: 30 to 50).
const GLASS: f64 = 30.0;
/// More sets than this in one sitting nobody tastes well (common practice).
const SETS: u32 = 3;
/// The part of a batch that may go into one test (judgement).
const OF_A_BATCH: f64 = 0.25;
/// Beers nearer than this are told apart by no test that friends sit through.
const NEAREST: f64 = 0.4;

/// A blind test of the beer as it was against the beer as proposed.
#[derive(Debug, Clone, PartialEq)]
pub struct Proof {
    /// The method.
    pub method: &'static Method,
    /// The distance d′ that is expected.
    pub distance: f64,
    /// Answers it takes.
    pub answers: u32,
    /// Friends at the table.
    pub friends: u32,
    /// Sets for each.
    pub rounds: u32,
    /// Sittings on different days, with no more sets in each than one tastes well.
    pub sittings: u32,
    /// What is asked, where it is one character, and of which beer there should be more.
    pub direction: Option<(String, ProofSide)>,
    /// Beer and alcohol of all sittings.
    pub cost: Cost,
    /// True if a quarter of the smaller batch is enough for it.
    pub is_affordable: bool,
}

/// One of the two beers of a proof.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProofSide {
    /// The beer as it was.
    Old,
    /// The beer as proposed.
    New,
}

/// Who tastes and what there is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ProofTable {
    pub(super) friends: u32,
    pub(super) abv: f64,
}

/// The tests that would show these changes, the cheapest first: one that asks for any difference, and one that asks
/// for the character that moves farthest. None where the beers lie too near.
///
/// The distance is the farthest move over what one taster scatters on that line, within a sitting: what the other
/// lines add is left out, so that a test is rather too large than too small.
pub(super) fn proofs(
    moves: &[(PromisedChange, f64)],
    recipe: &Recipe,
    table: ProofTable,
) -> Vec<Proof> {
    let apart = |it: &(PromisedChange, f64)| (it.0.expected - it.0.now).abs() / it.1;
    let farthest = moves.iter().max_by(|a, b| apart(a).total_cmp(&apart(b)));
    let Some(farthest) = farthest.filter(|it| apart(it) >= NEAREST) else {
        return Vec::new();
    };
    let Some(mut all) = sized(apart(farthest), recipe, table) else {
        return Vec::new();
    };
    let more = if farthest.0.expected > farthest.0.now {
        ProofSide::New
    } else {
        ProofSide::Old
    };
    for it in &mut all {
        if it.method.asked == Asked::Character {
            it.direction = Some((farthest.0.label.clone(), more));
        }
    }
    all.sort_by(|a, b| beer(a).total_cmp(&beer(b)));
    let mut chosen: Vec<Proof> = Vec::new();
    for it in all {
        let asked = |own: &Proof| own.direction.is_some() == it.direction.is_some();
        if !chosen.iter().any(asked) {
            chosen.push(it);
        }
    }
    // Any difference first: who asks for a character tells what to look for.
    chosen.sort_by_key(|it| it.direction.is_some());
    chosen
}

fn beer(it: &Proof) -> f64 {
    it.cost.of_each[0] + it.cost.of_each[1]
}

/// Every method at this distance.
fn sized(distance: f64, recipe: &Recipe, table: ProofTable) -> Option<Vec<Proof>> {
    let distance = DPrime::new(distance.min(6.0)).ok()?;
    let aim = Aim {
        alpha: Alpha::new(ALPHA).ok()?,
        beta: Beta::new(BETA).ok()?,
        effect: Effect::DPrime(distance),
    };
    let glasses = Table {
        friends: Some(table.friends),
        rounds: 1,
        glass: Millilitres::new(GLASS).ok()?,
        abv: Abv::new(table.abv.clamp(0.0, 20.0)).ok()?,
    };
    let sizes = test_sizes("triangle", Purpose::Difference, aim, glasses).ok()?;
    let all = sizes.methods.into_iter().filter_map(|it| {
        let answers = it.sizes.ok()?.first.trials;
        let rounds = answers.div_ceil(table.friends);
        let cost = cost(it.method, glasses, rounds * table.friends, rounds);
        let most = 1_000.0 * OF_A_BATCH * recipe.volume.get();
        Some(Proof {
            method: it.method,
            distance: distance.get(),
            answers: rounds * table.friends,
            friends: table.friends,
            rounds,
            sittings: rounds.div_ceil(SETS),
            direction: None,
            is_affordable: cost.of_each.iter().all(|it| *it <= most),
            cost,
        })
    });
    Some(all.collect())
}
