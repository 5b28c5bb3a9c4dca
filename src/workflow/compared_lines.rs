//! The lines of a comparison: hopes and predictions held against the notes that count, each family judged as one.

use crate::domain::DescriptorId;
use crate::domain::Form;
use crate::domain::Intent;
use crate::domain::Line;
use crate::domain::Matters;
use crate::domain::Name;
use crate::domain::Recipe;
use crate::domain::Scale;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::Wheel;
use crate::profile::Against;
use crate::profile::Evidence;
use crate::profile::FalseAlarmRate;
use crate::profile::Forecast;
use crate::profile::HitRate;
use crate::profile::Hoped;
use crate::profile::Offset;
use crate::profile::Prediction;
use crate::profile::Verdict;
use crate::profile::Word;
use crate::profile::hoped;
use crate::profile::judge;
use crate::profile::posterior_present;
use crate::profile::tastings_needed;
use crate::statistics::Probability;
use crate::workflow::About;
use crate::workflow::ComparedLine;
use crate::workflow::Found;
use crate::workflow::HeldAgainst;
use crate::workflow::Noted;
use crate::workflow::Outcome;
use crate::workflow::counted_notes::on_scale;
use crate::workflow::counted_notes::on_shelf;
use crate::workflow::counted_notes::panel_on;
use crate::workflow::counted_notes::tasted_by;
use crate::workflow::foreseen::scale_foreseen;
use crate::workflow::foreseen::shelf_foreseen;
use crate::workflow::learnt::KnownOfTasters;

/// The chance that a hoped-for word is there, before it is looked for (judgement).
const HOPED_CHANCE: f64 = 0.7;
/// The prediction moves that chance no further than this: one silent tasting never suffices.
const CHANCES: [f64; 2] = [0.3, 0.95];

/// What the lines are made from.
pub(super) struct Bench<'a> {
    pub(super) wheel: &'a Wheel,
    pub(super) recipe: &'a Recipe,
    pub(super) prediction: &'a Prediction,
    pub(super) tasters: &'a KnownOfTasters,
    pub(super) found: &'a [Found],
    pub(super) counting: usize,
}

impl Bench<'_> {
    fn counting_notes(&self) -> &[Found] {
        self.found.get(..self.counting).unwrap_or_default()
    }

    /// How many tastings could have named a word: the short glass asks for three words only.
    pub(super) fn tastings(&self) -> u32 {
        let all = self.counting_notes().iter();
        u32::try_from(all.filter(|it| it.notes.form == Form::Full).count()).unwrap_or(u32::MAX)
    }

    /// A word that was planned, with the chance that the prediction gives it and the rates of those who could
    /// have named it.
    pub(super) fn word_like(&self, chance: Option<f64>, shelf: Option<(&ShelfId, Stage)>) -> Word {
        let [least, most] = CHANCES;
        let chance = chance.map_or(HOPED_CHANCE, |it| it.clamp(least, most));
        let all = self.counting_notes().iter();
        let rates: Vec<(HitRate, FalseAlarmRate)> = all
            .filter(|it| it.notes.form == Form::Full)
            .map(|it| {
                let hit = shelf.map_or(HitRate::DEFAULT, |(shelf, stage)| {
                    self.tasters.naming.hit(&it.taster, shelf, stage)
                });
                (hit, self.tasters.naming.false_alarm(&it.taster))
            })
            .collect();
        Word::heard_by(Probability::new(chance).unwrap_or(Probability::ONE), &rates)
    }

    /// The line of a scale, not yet judged.
    fn scale_line(&self, scale: &'static Scale, against: HeldAgainst) -> ComparedLine {
        ComparedLine {
            label: scale.word.to_owned(),
            foreseen: self.prediction.scale(scale).map(scale_foreseen),
            noted: on_scale(self.found, scale),
            ..unjudged(scale.id.to_owned(), About::Scale(scale), against)
        }
    }

    /// The line of a shelf with the words planned on it, not yet judged.
    fn shelf_line(
        &self,
        (shelf, stage): (&ShelfId, Stage),
        words: Vec<DescriptorId>,
        against: HeldAgainst,
    ) -> ComparedLine {
        let foreseen = self.prediction.shelf(shelf, stage);
        let label = shelf_label(self.wheel, shelf, stage, &words);
        let id = format!("{}:shelf:{shelf}", stage.id());
        let about = About::Shelf {
            shelf: shelf.clone(),
            stage,
            words,
        };
        ComparedLine {
            label,
            foreseen: foreseen.map(|it| shelf_foreseen(self.recipe, it)),
            noted: on_shelf(self.wheel, self.found, shelf, stage),
            ..unjudged(id, about, against)
        }
    }

    /// The evidence of a line against a target; none where nobody gave a number, or a shelf was only
    /// ever denied.
    fn evidence(&self, line: &ComparedLine, against: Against) -> Option<Evidence> {
        let noted = line.noted.get(..self.counting)?;
        let is_there = |it: &Noted| matches!(it, Noted::Value(value) if *value > 0.0);
        match &line.about {
            About::Scale(scale) => {
                let digits = |value| scale.digits(value);
                let own = |name: &Name| {
                    let noise = self.tasters.noise.on_scale(name, scale);
                    (noise, self.tasters.learnt.of(name, scale, &against))
                };
                let tasted = tasted_by(self.counting_notes(), noted, digits, own);
                Evidence::new(tasted, against)
            }
            About::Shelf { .. } if noted.iter().any(is_there) => {
                let own = |name: &Name| (self.tasters.noise.on_shelf(name), Offset::NONE);
                let tasted = tasted_by(self.counting_notes(), noted, |value| value, own);
                Evidence::new(tasted, against)
            }
            About::Shelf { .. } => None,
        }
    }

    /// What can be said of a line without evidence.
    fn without_evidence(&self, line: &mut ComparedLine) {
        let named = line.noted.get(..self.counting).unwrap_or_default();
        line.outcome = match &line.about {
            About::Scale(_) => Outcome::NotRated,
            About::Shelf { .. } if named.contains(&Noted::Named) => Outcome::CannotTellYet,
            About::Shelf { .. } => {
                let chance = line.foreseen.as_ref().and_then(|it| it.chance);
                let word = self.word_like(chance, line.about.shelf());
                let tastings = self.tastings();
                let (outcome, needed) = silence(word, tastings);
                line.silent_tastings = needed;
                line.present = (tastings > 0).then(|| posterior_present(word, tastings));
                outcome.against_hope(line.hoped)
            }
        };
    }

    /// Judges lines as one family; each comes with what it is held against.
    fn judge(&self, lines: Vec<(ComparedLine, Against)>) -> Vec<ComparedLine> {
        let mut evidence = Vec::new();
        let mut judged_lines = Vec::new();
        for (mut line, against) in lines {
            let found = self.evidence(&line, against);
            if found.is_none() {
                self.without_evidence(&mut line);
            }
            judged_lines.push((line, found.is_some()));
            evidence.extend(found);
        }
        let mut judged = judge(&evidence).into_iter().zip(evidence);
        let mut settled = Vec::new();
        for (mut line, has_evidence) in judged_lines {
            if has_evidence && let Some((judged, evidence)) = judged.next() {
                let noted = line.noted.get(..self.counting).unwrap_or_default();
                line.seen_by(panel_on(&line.about, self.counting_notes(), noted));
                line.noise = Some(evidence.variance().value().sqrt());
                line.outcome = outcome(judged.verdict);
                line.judged = Some(judged);
                line.learnt_offset = self.tasters.learnt.leaning(&line, self.counting_notes());
            }
            settled.push(line);
        }
        settled
    }

    /// The hopes and after them the predictions, and apart what else the recipe gives.
    pub(super) fn lines(&self, intent: &Intent) -> (Vec<ComparedLine>, Vec<ComparedLine>) {
        let mut lines = self.hopes(intent);
        let also_foreseen = self.also_foreseen(&lines);
        lines.extend(self.predictions());
        (lines, also_foreseen)
    }

    /// The hopes, those that matter most and differ most in front.
    fn hopes(&self, intent: &Intent) -> Vec<ComparedLine> {
        let mut wanted: Vec<(ComparedLine, Against)> = Vec::new();
        let mut unweighed = Vec::new();
        for line in self.hoped_lines(intent) {
            if line.matters == Some(Matters::Little) {
                unweighed.push(self.unweighed(line));
            } else {
                let target = Against::Intent(line.hoped.unwrap_or(0.0));
                wanted.push((line, target));
            }
        }
        let mut lines = self.judge(wanted);
        // What is settled as different stands in front of every guess, however large.
        lines.sort_by(|a, b| {
            let by_weight = weight(b).total_cmp(&weight(a));
            b.outcome
                .differs()
                .cmp(&a.outcome.differs())
                .then(by_weight)
        });
        lines.extend(unweighed);
        lines
    }

    /// A line that is shown and not judged.
    fn unweighed(&self, mut line: ComparedLine) -> ComparedLine {
        let noted = line.noted.get(..self.counting).unwrap_or_default();
        line.seen_by(panel_on(&line.about, self.counting_notes(), noted));
        line.outcome = Outcome::HardlyMatters;
        line
    }

    /// The targets as lines: words roll up to their shelf by the maximum.
    fn hoped_lines(&self, intent: &Intent) -> Vec<ComparedLine> {
        let mut lines: Vec<ComparedLine> = Vec::new();
        for target in &intent.targets {
            let (fresh, hoped) = match &target.line {
                Line::Scale(scale) => (
                    self.scale_line(scale, HeldAgainst::Intent),
                    scale.digits(target.value),
                ),
                Line::Shelf { shelf, stage } => (
                    self.shelf_line((shelf, *stage), Vec::new(), HeldAgainst::Intent),
                    target.value,
                ),
                Line::Word { descriptor, stage } => {
                    let Some(word) = self.wheel.descriptor(descriptor) else {
                        continue;
                    };
                    let words = vec![descriptor.clone()];
                    let at = (&word.shelf, *stage);
                    (
                        self.shelf_line(at, words, HeldAgainst::Intent),
                        target.value,
                    )
                }
            };
            match lines.iter_mut().find(|it| it.id == fresh.id) {
                Some(line) => self.join(line, fresh, hoped, target.matters),
                None => lines.push(ComparedLine {
                    hoped: Some(hoped),
                    matters: Some(target.matters),
                    ..fresh
                }),
            }
        }
        lines
    }

    fn join(&self, line: &mut ComparedLine, fresh: ComparedLine, hoped: f64, matters: Matters) {
        line.hoped = line.hoped.map(|it| it.max(hoped));
        line.matters = line.matters.max(Some(matters));
        if let (
            About::Shelf {
                shelf,
                stage,
                words,
            },
            About::Shelf { words: more, .. },
        ) = (&mut line.about, fresh.about)
        {
            words.extend(more);
            line.label = shelf_label(self.wheel, shelf, *stage, words);
        }
    }

    /// The predicted scales that were rated, what differs most in front.
    fn predictions(&self) -> Vec<ComparedLine> {
        let lines = self.prediction.scales.iter().map(|it| {
            let (tenth, ninetieth) = it.digits_range();
            let forecast = Forecast {
                tenth,
                middle: it.digits(),
                ninetieth,
            };
            let line = self.scale_line(it.scale, HeldAgainst::Prediction);
            (line, Against::Prediction(forecast))
        });
        let mut lines = self.judge(lines.collect());
        lines.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
        lines
    }

    /// Shelves that the prediction gives a good chance and nobody hoped for, the likeliest first.
    fn also_foreseen(&self, hopes: &[ComparedLine]) -> Vec<ComparedLine> {
        const GOOD_CHANCE: f64 = 0.5;
        let foreseen = self.prediction.shelves.iter();
        let likely = foreseen.filter(|it| it.odour.named().get() >= GOOD_CHANCE);
        let mut lines: Vec<ComparedLine> = likely
            .map(|it| {
                let at = (&it.shelf, it.stage);
                let mut line = self.shelf_line(at, it.words.clone(), HeldAgainst::Prediction);
                let noted = line.noted.get(..self.counting).unwrap_or_default();
                line.seen_by(panel_on(&line.about, self.counting_notes(), noted));
                if line.mean.is_none_or(|it| it <= 0.0) {
                    self.without_evidence(&mut line);
                } else {
                    line.outcome = Outcome::CannotTellYet;
                }
                line
            })
            .collect();
        lines.retain(|line| hopes.iter().all(|hope| hope.id != line.id));
        lines
    }
}

/// A line about which nothing is known yet.
const fn unjudged(id: String, about: About, against: HeldAgainst) -> ComparedLine {
    ComparedLine {
        id,
        label: String::new(),
        about,
        against,
        matters: None,
        hoped: None,
        foreseen: None,
        noted: Vec::new(),
        mean: None,
        panel: None,
        noise: None,
        outcome: Outcome::NotRated,
        judged: None,
        learnt_offset: None,
        silent_tastings: None,
        present: None,
    }
}

/// What silence in so many tastings says, and how many it takes.
pub(super) fn silence(word: Word, tastings: u32) -> (Outcome, Option<u32>) {
    match hoped(word, tastings) {
        Hoped::NotFound => (Outcome::NotFound, None),
        Hoped::NotMentionedYet => (Outcome::NotMentionedYet, tastings_needed(word)),
    }
}

pub(super) const fn outcome(verdict: Verdict) -> Outcome {
    match verdict {
        Verdict::AsMeant => Outcome::AsGoodAs,
        Verdict::More => Outcome::More,
        Verdict::Less => Outcome::Less,
        Verdict::CannotTell => Outcome::CannotTellYet,
    }
}

/// How far in front a line stands: first how much it matters, then whether it differs, then how much.
fn weight(line: &ComparedLine) -> f64 {
    let matters = line.matters.map_or(0.0, |it| f64::from(it as u8));
    let differs = f64::from(u8::from(line.outcome.differs()));
    100.0 * matters + 10.0 * differs + line.judged.map_or(0.0, |it| it.size.abs().min(9.0))
}

/// The planned words of a shelf, or its name, with the stage.
pub(super) fn shelf_label(
    wheel: &Wheel,
    shelf: &ShelfId,
    stage: Stage,
    words: &[DescriptorId],
) -> String {
    let words = words.iter().filter_map(|id| wheel.descriptor(id));
    let words: Vec<&str> = words.map(|it| it.word.as_str()).collect();
    let name = match (words.is_empty(), wheel.shelf(shelf)) {
        (false, _) => words.join(", "),
        (true, Some(it)) => it.name.clone(),
        (true, None) => shelf.to_string(),
    };
    format!("{name} ({})", stage.id())
}
