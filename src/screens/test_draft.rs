//! A blind test while it is being planned: what has been answered so far.

use crate::domain::Aims;
use crate::domain::BeerSide;
use crate::domain::Millilitres;
use crate::domain::Pouring;
use crate::domain::ProposedTest;
use crate::domain::Purpose;
use crate::domain::Risk;
use crate::domain::Share;
use crate::domain::Stopping;
use crate::workflow::Asked;
use crate::workflow::METHODS;
use crate::workflow::Method;
use crate::workflow::PlanRequest;
use crate::workflow::ProofPair;
use crate::workflow::Ways;
use crate::workflow::WorkflowError;

/// A question of the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    /// The one bottle.
    One,
    /// The other.
    Other,
    /// How many taste.
    Friends,
    /// How many sets for each.
    Rounds,
    /// By which method.
    Method,
    /// What one may have more of.
    Attribute,
    /// Which one is expected to.
    Expected,
    /// What it is to show, and when it stops.
    Shows,
    /// At which risks.
    Risks,
    /// Who pours.
    Pourer,
    /// Whether it is to be planned as it stands.
    Agree,
}

/// What a test is to show, and when it stops, as one choice.
pub(super) const SHOWS: [(&str, Purpose, Stopping); 4] = [
    (
        "a difference, after all answers",
        Purpose::Difference,
        Stopping::Fixed,
    ),
    (
        "a difference, and stop as soon as two lines are crossed",
        Purpose::Difference,
        Stopping::Sequential,
    ),
    (
        "a difference, and stop as soon as the evidence is strong",
        Purpose::Difference,
        Stopping::Evidence,
    ),
    (
        "that they are alike enough",
        Purpose::Similarity,
        Stopping::Fixed,
    ),
];

/// A blind test while it is being planned.
#[derive(Debug, Clone, PartialEq)]
pub struct TestDraft {
    pub(super) beers: Vec<String>,
    pub(super) places: Option<u16>,
    pub(super) rounds: Option<u16>,
    pub(super) method: Option<&'static Method>,
    pub(super) attribute: Option<String>,
    pub(super) expected: Option<BeerSide>,
    pub(super) shows: Option<(Purpose, Stopping)>,
    pub(super) risks: Option<[f64; 2]>,
    pub(super) pouring: Option<Pouring>,
    /// The share of people who can tell the two apart that matters.
    pub(super) pd: f64,
    /// The test that was proposed with the change; what it asks for is chosen already.
    pub(super) proposed: Option<ProposedTest>,
}

impl Default for TestDraft {
    fn default() -> Self {
        Self {
            beers: Vec::new(),
            places: None,
            rounds: None,
            method: None,
            attribute: None,
            expected: None,
            shows: None,
            risks: None,
            pouring: None,
            pd: 0.5,
            proposed: None,
        }
    }
}

impl TestDraft {
    /// A batch against the one it was changed from.
    pub(super) fn of_pair(pair: &ProofPair) -> Self {
        Self {
            beers: vec![pair.old.to_string(), pair.new.to_string()],
            proposed: pair.test.clone(),
            ..Self::default()
        }
    }

    /// What was proposed for a question, as it stands in its list.
    pub(super) fn proposed_answer(&self, step: Step) -> Option<String> {
        let test = self.proposed.as_ref()?;
        match step {
            Step::Rounds => {
                let places = u32::from(self.places?.max(1));
                Some(test.answers.div_ceil(places).to_string())
            }
            Step::Method => {
                let method = METHODS.iter().find(|it| it.id == test.method)?;
                Some(method.name.to_owned())
            }
            _ => None,
        }
    }

    /// The first question without an answer.
    pub(super) fn step(&self) -> Step {
        let asks = self.method.filter(|it| it.asked == Asked::Character);
        let direction = asks.filter(|it| it.ways == Ways::One);
        match self.beers.len() {
            0 => Step::One,
            1 => Step::Other,
            _ if self.places.is_none() => Step::Friends,
            _ if self.rounds.is_none() => Step::Rounds,
            _ if self.method.is_none() => Step::Method,
            _ if asks.is_some() && self.attribute.is_none() => Step::Attribute,
            _ if direction.is_some() && self.expected.is_none() => Step::Expected,
            _ if self.shows.is_none() => Step::Shows,
            _ if self.risks.is_none() => Step::Risks,
            _ if self.pouring.is_none() => Step::Pourer,
            _ => Step::Agree,
        }
    }

    /// The three risks as one writes them, in per cent.
    pub(super) fn usual_risks(&self) -> String {
        format!("5 20 {:.0}", 100.0 * self.pd)
    }

    /// The plan as asked for, once everything is answered, with so much in a glass.
    pub(super) fn request(&self, glass: Millilitres) -> Result<PlanRequest, WorkflowError> {
        let beer = |at: usize| self.beers.get(at).cloned().unwrap_or_default();
        let [alpha, beta] = self.risks.unwrap_or([0.05, 0.2]);
        let (purpose, stopping) = self.shows.unwrap_or((SHOWS[0].1, SHOWS[0].2));
        Ok(PlanRequest {
            beers: [beer(0), beer(1)],
            method: self.method.unwrap_or(METHODS[0]).id.to_owned(),
            purpose,
            aims: Aims {
                alpha: Risk::new(alpha)?,
                beta: Risk::new(beta)?,
                pd: Share::new(self.pd)?,
            },
            attribute: self.attribute.clone(),
            expected: self.expected,
            places: self.places.unwrap_or(1),
            rounds: self.rounds.unwrap_or(1),
            stopping,
            pouring: self.pouring.unwrap_or(Pouring::One),
            glass,
            seed: None,
        })
    }
}

/// Three shares written in per cent, such as `5 20 50`; each above 0 and below 100.
pub(super) fn three_shares(typed: &str) -> Option<[f64; 3]> {
    let words = typed.replace(['%', ','], " ");
    let all: Vec<f64> = words
        .split_whitespace()
        .map_while(|it| it.parse().ok())
        .filter(|it| *it > 0.0 && *it < 100.0)
        .collect();
    let three: [f64; 3] = all.try_into().ok()?;
    (words.split_whitespace().count() == 3).then(|| three.map(|it| it / 100.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_shares_are_read_in_per_cent_and_nothing_else_is() {
        assert_eq!(three_shares("5 20 50"), Some([0.05, 0.2, 0.5]));
        assert_eq!(three_shares("1 %, 10 %, 30 %"), Some([0.01, 0.1, 0.3]));
        for wrong in [
            "5 20",
            "5 20 50 1",
            "5 x 50",
            "0 20 50",
            "5 20 100",
            "",
            "5 20 NaN",
        ] {
            assert_eq!(three_shares(wrong), None, "{wrong}");
        }
    }
}
