//! An invented taster in an invented kitchen of which the truth is known: batches, predictions and notes.

use crate::domain::Scale;
use crate::profile::Digits;
use crate::profile::Hurdle;
use crate::profile::Named;
use crate::profile::Noise;
use crate::profile::Odour;
use crate::profile::Offset;
use crate::profile::Residual;
use crate::profile::ScaleForecast;
use crate::profile::Shift;
use crate::statistics::Dice;
use crate::statistics::Probability;

/// Scales that are predicted and rated.
pub(in crate::profile) const SCALES: usize = 15;

/// Shelves that are predicted.
pub(in crate::profile) const SHELVES: usize = 12;

/// Scatter of notes about the prediction, in digits: that of prediction and notes together, and of rounding.
pub(in crate::profile) const RESIDUAL_SD: f64 = 1.5;

/// The exponent of intensity where it is another one than the 0.6 of the prediction.
const OTHER_EXPONENT: f64 = 0.35;

/// How the truth differs in form from what is predicted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum World {
    /// Not at all.
    AsPredicted,
    /// The day moves all lines of a tasting together, by as much as it is said to move each.
    DaysMoveAll,
    /// Everything scatters 1.5 times as far.
    WiderErrors,
    /// Errors follow Student's t with 4 degrees of freedom on the scale of the normal ones.
    HeavyTails,
    /// Smells grow with the exponent 0.35 instead of 0.6.
    OtherExponent,
}

/// How the taster differs from what is predicted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bias {
    /// Not at all.
    None,
    /// All answers by the same, with SD 1; the odds of naming by the same, with SD 1.
    Common,
    /// Each line by its own, with SD 1; the odds of each shelf by their own, with SD 1.
    Lines,
    /// Both, with SD 0.5 and 0.866 together 1; the odds with 0.8 and 0.6.
    Both,
}

impl Bias {
    /// The standard deviations: of all, of each line; of all odds, of each shelf's.
    const fn sizes(self) -> [f64; 4] {
        match self {
            Self::None => [0.0; 4],
            Self::Common => [1.0, 0.0, 1.0, 0.0],
            Self::Lines => [0.0, 1.0, 0.0, 1.0],
            Self::Both => [0.5, 0.866_025_403_784_438_6, 0.8, 0.6],
        }
    }
}

/// What is truly the taster's: what no prediction can know and every learning is held against.
#[derive(Debug, Clone)]
pub(in crate::profile) struct Truth {
    world: World,
    /// Digits above the prediction, line by line: scales, then shelves.
    offsets: Vec<f64>,
    /// The same for the odds of naming, shelf by shelf.
    naming: Vec<f64>,
}

/// What was predicted of a line.
#[derive(Debug, Clone)]
pub(in crate::profile) enum Predicted {
    Scale(ScaleForecast),
    Shelf(Odour),
}

/// One line of one batch: what was predicted and what was noted.
#[derive(Debug, Clone)]
pub(in crate::profile) struct Answer {
    pub(in crate::profile) line: usize,
    pub(in crate::profile) predicted: Predicted,
    /// None: not named.
    pub(in crate::profile) noted: Option<u8>,
}

impl Truth {
    pub(in crate::profile) fn draw(world: World, bias: Bias, dice: &mut Dice) -> Self {
        let [common, line, odds, shelf] = bias.sizes();
        let (common, odds) = (common * dice.normal(), odds * dice.normal());
        let offsets = (0..SCALES + SHELVES).map(|_| common + line * dice.normal());
        let offsets = offsets.collect();
        let naming = (0..SHELVES).map(|_| odds + shelf * dice.normal()).collect();
        Self {
            world,
            offsets,
            naming,
        }
    }

    /// What an oracle would have learnt.
    pub(in crate::profile) fn shift(&self, line: usize) -> Shift {
        let naming = line.checked_sub(SCALES).map_or(0.0, |it| self.naming[it]);
        Shift {
            offset: Offset {
                mean: self.offsets[line],
                variance: 0.0,
            },
            factor: 1.0,
            naming,
        }
    }

    /// A batch, tasted once.
    pub(in crate::profile) fn batch(&self, dice: &mut Dice) -> Vec<Answer> {
        let day = match self.world {
            World::DaysMoveAll => {
                Some(Noise::DEFAULT.day_variance().value().sqrt() * dice.normal())
            }
            _ => None,
        };
        let lines = 0..SCALES + SHELVES;
        lines
            .map(|line| {
                if line < SCALES {
                    self.scale(line, day, dice)
                } else {
                    self.shelf(line, day, dice)
                }
            })
            .collect()
    }

    /// An error of this size, as this world scatters.
    fn error(&self, sd: f64, dice: &mut Dice) -> f64 {
        match self.world {
            World::WiderErrors => 1.5 * sd * dice.normal(),
            World::HeavyTails => {
                let squares: f64 = (0..4).map(|_| dice.normal().powi(2)).sum();
                sd * dice.normal() / (squares / 4.0).sqrt()
            }
            _ => sd * dice.normal(),
        }
    }

    /// What the glass and the day add to what is there.
    fn noise(&self, day: Option<f64>, dice: &mut Dice) -> f64 {
        let all = notes_variance();
        match day {
            Some(day) => {
                day + self.error((all - Noise::DEFAULT.day_variance().value()).sqrt(), dice)
            }
            None => self.error(all.sqrt(), dice),
        }
    }

    fn scale(&self, line: usize, day: Option<f64>, dice: &mut Dice) -> Answer {
        let sd = (RESIDUAL_SD * RESIDUAL_SD - notes_variance() - 1.0 / 12.0).sqrt();
        let value = 2.0 + 5.0 * dice.share();
        let found = value + self.offsets[line] + self.error(sd, dice) + self.noise(day, dice);
        Answer {
            line,
            predicted: Predicted::Scale(ScaleForecast {
                scale: Scale::from_id("bitter").expect("it stands in the catalogue"),
                value,
                sd,
                reasons: Vec::new(),
            }),
            noted: Some(digit(found, 0.0)),
        }
    }

    /// Units from a third of the threshold to twenty times it.
    fn shelf(&self, line: usize, day: Option<f64>, dice: &mut Dice) -> Answer {
        let odour = Odour::new(10.0_f64.powf(1.8 * dice.share() - 0.5), 0.3);
        let odour = odour.expect("a power of ten is above 0");
        let chance = odour.named().logit_moved(self.naming[line - SCALES]);
        let share = [dice.share()];
        let noise = self.noise(day, dice);
        let noted = (dice.share() < chance.get()).then(|| {
            let middle = odour.if_named_at([0.5])[0];
            let there = match self.world {
                World::WiderErrors => middle + 1.5 * (odour.if_named_at(share)[0] - middle),
                World::OtherExponent => other_intensity(odour.if_named_at(share)[0]),
                _ => odour.if_named_at(share)[0],
            };
            digit(there + self.offsets[line] + noise, 1.0)
        });
        Answer {
            line,
            predicted: Predicted::Shelf(odour),
            noted,
        }
    }
}

/// What the notes of one glass vary about what is there, before rounding.
fn notes_variance() -> f64 {
    Noise::DEFAULT.unrounded(1.0, 1.0)
}

/// The intensity with another exponent of what has this one with 0.6: 9u/(8 + u) turned round.
fn other_intensity(intensity: f64) -> f64 {
    let u = 8.0 * intensity / (9.0 - intensity);
    let other = u.powf(OTHER_EXPONENT / 0.6);
    9.0 * other / (8.0 + other)
}

fn digit(value: f64, lowest: f64) -> u8 {
    let whole = value.round().clamp(lowest, 9.0);
    (0_u8..9).find(|it| f64::from(*it) >= whole).unwrap_or(9)
}

impl Answer {
    /// What is expected of a scale with what was learnt.
    pub(in crate::profile) fn expected(&self, shift: Shift) -> Expected {
        match &self.predicted {
            Predicted::Scale(it) => Expected::Scale(it.digits_expected(notes_variance(), shift)),
            Predicted::Shelf(it) => Expected::Shelf(it.expected(notes_variance(), shift)),
        }
    }

    /// Notes less prediction; none where nothing was named.
    pub(in crate::profile) fn residual(&self, batch: usize) -> Option<Residual> {
        let expected = self.expected(Shift::NONE);
        let digits = expected.digits();
        Some(Residual {
            batch,
            line: self.line,
            gap: f64::from(self.noted?) - digits.mean(),
            variance: digits.variance(),
        })
    }

    /// Whether a shelf was named; none for a scale.
    pub(in crate::profile) fn named(&self, batch: usize) -> Option<Named> {
        let Predicted::Shelf(odour) = &self.predicted else {
            return None;
        };
        Some(Named {
            batch,
            line: self.line,
            chance: odour.named().get(),
            share: f64::from(u8::from(self.noted.is_some())),
        })
    }
}

/// What is expected of a line.
#[derive(Debug, Clone, Copy)]
pub(in crate::profile) enum Expected {
    Scale(Digits),
    Shelf(Hurdle),
}

impl Expected {
    pub(in crate::profile) const fn digits(&self) -> &Digits {
        match self {
            Self::Scale(digits) => digits,
            Self::Shelf(hurdle) => hurdle.if_named(),
        }
    }

    pub(in crate::profile) fn named(&self) -> Probability {
        match self {
            Self::Scale(_) => Probability::ONE,
            Self::Shelf(hurdle) => hurdle.named(),
        }
    }

    pub(in crate::profile) fn place_of(&self, noted: Option<u8>, share: f64) -> f64 {
        match (self, noted) {
            (Self::Scale(digits), Some(digit)) => digits.place_of(digit, share),
            (Self::Scale(_), None) => share,
            (Self::Shelf(hurdle), noted) => hurdle.place_of(noted, share),
        }
    }
}
