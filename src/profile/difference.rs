//! What one line of a tasting says: the gap between notes and what they are held against, and its variance.

use crate::domain::Day;
use crate::profile::Noise;
use crate::profile::NoiseBasis;
use crate::profile::UncertainVariance;
use crate::statistics::Probability;
use crate::statistics::StudentT;

/// The standard deviations between the tenth and the ninetieth part of a normal distribution.
const TENTHS_APART: f64 = 2.563;

/// One answer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glass {
    /// The day on which it was tasted.
    pub day: Day,
    /// The answer, in digits 0 to 9.
    pub digits: f64,
}

/// How much a taster is known to answer above what is there, in digits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Offset {
    /// Its estimate.
    pub mean: f64,
    /// The variance of the estimate.
    pub variance: f64,
}

impl Offset {
    /// For a taster who wrote the intent, and between two batches: the same person answers on both sides.
    pub const NONE: Self = Self {
        mean: 0.0,
        variance: 0.0,
    };
}

/// What one taster answered on one line about one batch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tasted {
    mean: f64,
    glasses: u32,
    /// Sum over the days of the squared number of glasses.
    day_squares: u32,
    noise: Noise,
    offset: Offset,
}

impl Tasted {
    /// The answers of a taster; `None` without an answer, or when one is no number.
    #[must_use]
    pub fn new(answers: &[Glass], noise: Noise, offset: Offset) -> Option<Self> {
        let glasses = u32::try_from(answers.len()).ok().filter(|it| *it > 0)?;
        let sum: f64 = answers.iter().map(|it| it.digits).sum();
        let sound = [sum, offset.mean, offset.variance];
        if sound.iter().any(|it| !it.is_finite()) {
            return None;
        }
        let same_day = |glass: &Glass| answers.iter().filter(|it| it.day == glass.day).count();
        let day_squares = u32::try_from(answers.iter().map(same_day).sum::<usize>()).ok()?;
        Some(Self {
            mean: sum / f64::from(glasses),
            glasses,
            day_squares,
            noise,
            offset,
        })
    }

    /// How many answers.
    #[must_use]
    pub const fn glasses(&self) -> u32 {
        self.glasses
    }

    /// The mean of the answers, in digits.
    #[must_use]
    pub const fn mean(&self) -> f64 {
        self.mean
    }

    fn gap(&self) -> f64 {
        self.mean - self.offset.mean
    }

    /// σ²/R + ω²/D + Var(offset) with R glasses on D days.
    ///
    /// D = R²/Σr² with r glasses on each day: the number of days when they have equally many, and
    /// less otherwise, because the mean then hangs on the fullest day.
    fn variance(&self) -> UncertainVariance {
        let glasses = f64::from(self.glasses);
        let days = glasses * glasses / f64::from(self.day_squares);
        self.noise
            .glass_variance()
            .times(1.0 / glasses)
            .plus(self.noise.day_variance().times(1.0 / days))
            .plus(UncertainVariance::known(self.offset.variance))
    }

    /// As it would be after `more` glasses, each on a day of its own.
    const fn after(self, more: u32) -> Self {
        Self {
            glasses: self.glasses.saturating_add(more),
            day_squares: self.day_squares.saturating_add(more),
            ..self
        }
    }
}

/// A prediction in digits, with the values that a tenth of it lies below and above.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Forecast {
    /// A tenth lies below.
    pub tenth: f64,
    /// Half lies below.
    pub middle: f64,
    /// A tenth lies above.
    pub ninetieth: f64,
}

impl Forecast {
    /// ((q90 − q10)/2.563)²: the variance of a normal distribution with these tenths.
    fn variance(&self) -> UncertainVariance {
        let sd = (self.ninetieth - self.tenth) / TENTHS_APART;
        UncertainVariance::known(sd * sd)
    }
}

/// What the notes on a line are held against.
#[derive(Debug, Clone, PartialEq)]
pub enum Against {
    /// What was hoped for, in digits.
    Intent(f64),
    /// What was to be expected.
    Prediction(Forecast),
    /// Another batch, tasted by the same people.
    Batch(Vec<Tasted>),
    /// Another batch from which a change was expected.
    Moved {
        /// The other batch.
        from: Vec<Tasted>,
        /// The change that was expected.
        by: Forecast,
    },
}

/// The evidence of one line.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    tasted: Vec<Tasted>,
    against: Against,
    gap: f64,
    variance: UncertainVariance,
}

impl Evidence {
    /// The evidence of what each taster answered; `None` when nobody did, on either side, or when what
    /// it is held against is no number.
    ///
    /// The gap is the mean over tasters of each one's mean, less what it is held against. Its variance
    /// is Σvₜ/n², plus that of the prediction or of the other batch.
    #[must_use]
    pub fn new(tasted: Vec<Tasted>, against: Against) -> Option<Self> {
        let (here, here_variance) = panel(&tasted)?;
        let (target, variance) = match &against {
            Against::Intent(target) => (*target, here_variance),
            Against::Prediction(forecast) => {
                (forecast.middle, here_variance.plus(forecast.variance()))
            }
            // The same people with the same noise on both sides: the estimates err together.
            Against::Batch(there) => {
                let (there, there_variance) = panel(there)?;
                (there, here_variance.plus_in_step(there_variance))
            }
            Against::Moved { from, by } => {
                let (there, there_variance) = panel(from)?;
                let noise = here_variance.plus_in_step(there_variance);
                (there + by.middle, noise.plus(by.variance()))
            }
        };
        let gap = here - target;
        // Squares of absurdly large spreads leave the numbers.
        let sound = gap.is_finite() && variance.freedom() > 0.0;
        sound.then_some(Self {
            tasted,
            against,
            gap,
            variance,
        })
    }

    /// Notes less what they are held against, in digits: above 0 when there is more in the glass.
    #[must_use]
    pub const fn gap(&self) -> f64 {
        self.gap
    }

    /// The variance of the gap when nothing differs.
    #[must_use]
    pub const fn variance(&self) -> UncertainVariance {
        self.variance
    }

    /// Default as soon as the noise of one taster is.
    #[must_use]
    pub fn basis(&self) -> NoiseBasis {
        let each = self.all().map(|it| it.noise.basis());
        each.reduce(NoiseBasis::with)
            .unwrap_or(Noise::DEFAULT.basis())
    }

    /// P(|T| ≥ |gap|/√v): how often noise alone makes such a gap.
    #[must_use]
    pub fn p_value(&self) -> Probability {
        self.student()
            .two_sided_p(self.gap / self.variance.value().sqrt())
    }

    /// The distribution of gap/√v when nothing differs.
    pub(in crate::profile) fn student(&self) -> StudentT {
        StudentT::new(self.variance.freedom()).expect("no evidence is made without freedom")
    }

    /// The most glasses that one taster has had of one batch.
    pub(in crate::profile) fn most_glasses(&self) -> u32 {
        self.all().map(Tasted::glasses).max().unwrap_or(0)
    }

    /// What was tasted on either side.
    fn all(&self) -> impl Iterator<Item = &Tasted> {
        let other: &[Tasted] = match &self.against {
            Against::Batch(other) | Against::Moved { from: other, .. } => other,
            Against::Intent(_) | Against::Prediction(_) => &[],
        };
        self.tasted.iter().chain(other)
    }

    /// The same gap after `more` glasses of each batch for every taster, each on a day of its own.
    pub(in crate::profile) fn after(&self, more: u32) -> Option<Self> {
        let later = |all: &[Tasted]| all.iter().map(|it| it.after(more)).collect();
        let against = match &self.against {
            Against::Batch(other) => Against::Batch(later(other)),
            Against::Moved { from, by } => Against::Moved {
                from: later(from),
                by: *by,
            },
            other @ (Against::Intent(_) | Against::Prediction(_)) => other.clone(),
        };
        Self::new(later(&self.tasted), against)
    }
}

/// The mean over tasters of each one's mean, and its variance; none without a taster.
fn panel(tasted: &[Tasted]) -> Option<(f64, UncertainVariance)> {
    let number = tasted.len() as f64;
    let mean = tasted.iter().map(Tasted::gap).sum::<f64>() / number;
    let sum = tasted
        .iter()
        .map(Tasted::variance)
        .reduce(UncertainVariance::plus)?;
    Some((mean, sum.times(1.0 / (number * number))))
}

#[cfg(test)]
mod tests {
    use crate::profile::SpreadEstimate;
    use crate::statistics::Sd;

    use super::*;
    use crate::profile::Basis;

    fn glass(day: &str, digits: f64) -> Glass {
        let day = Day::parse(day).unwrap();
        Glass { day, digits }
    }

    fn default(glasses: &[Glass]) -> Tasted {
        Tasted::new(glasses, Noise::DEFAULT, Offset::NONE).unwrap()
    }

    fn close(found: f64, expected: f64) -> bool {
        (found - expected).abs() < 1e-9
    }

    /// The gap, its variance, the degrees of freedom and p, against values of scipy 1.17.1 (t.sf) at
    /// variances and freedoms worked out there from the defaults: σ 0.9 and ω 0.7, Var(ln σ) 0.13 own
    /// and 0.2225 shared, Var(ln ω) 0.16.
    fn is(evidence: &Evidence, [gap, variance, freedom, p]: [f64; 4]) {
        assert!(close(evidence.gap(), gap), "{evidence:?}");
        assert!(close(evidence.variance().value(), variance), "{evidence:?}");
        assert!(
            close(evidence.variance().freedom(), freedom),
            "{evidence:?}"
        );
        assert!(close(evidence.p_value().get(), p), "{evidence:?}");
    }

    #[test]
    fn glasses_on_different_days_halve_both_noises() {
        let two = default(&[glass("2026-01-01", 6.0), glass("2026-01-02", 7.0)]);
        let evidence = Evidence::new(vec![two], Against::Intent(5.0)).unwrap();
        let expected = [
            1.5,
            0.691_666_666_666_666_7,
            3.547_781_233_375_407,
            0.154_696_362_847_507_43,
        ];
        is(&evidence, expected);
        assert_eq!(evidence.basis().weakest(), Basis::Default);
    }

    #[test]
    fn glasses_of_one_evening_do_not_average_the_day_away() {
        let day = "2026-01-01";
        let same = default(&[glass(day, 6.0), glass(day, 7.0)]);
        // By hand: 0.893333/2 + 0.49.
        assert!(close(same.variance().value(), 0.936_666_666_666_666_7));
        // Three on one day and one on another: 16/10 days; scipy as above.
        let lopsided = default(&[
            glass(day, 6.0),
            glass(day, 7.0),
            glass(day, 6.0),
            glass("2026-01-09", 7.0),
        ]);
        assert!(close(lopsided.variance().value(), 0.529_583_333_333_333_3));
        assert!(close(lopsided.variance().freedom(), 4.759_834_241_521_071));
    }

    #[test]
    fn the_width_of_a_prediction_counts_as_known_noise() {
        let one = default(&[glass("2026-01-01", 6.5)]);
        let forecast = Forecast {
            tenth: 3.0,
            middle: 4.5,
            ninetieth: 6.0,
        };
        let evidence = Evidence::new(vec![one], Against::Prediction(forecast)).unwrap();
        let expected = [
            2.0,
            2.753_411_347_097_746,
            14.055_469_071_255_784,
            0.247_989_066_187_151_55,
        ];
        is(&evidence, expected);
    }

    #[test]
    fn three_tasters_average_their_own_noise_but_not_what_they_share() {
        let tasters = [6.0, 8.0, 7.0].map(|it| default(&[glass("2026-01-01", it)]));
        let evidence = Evidence::new(tasters.to_vec(), Against::Intent(5.0)).unwrap();
        let expected = [
            2.0,
            0.461_111_111_111_111_1,
            5.110_633_455_932_154,
            0.031_220_306_271_566_44,
        ];
        is(&evidence, expected);
    }

    #[test]
    fn two_batches_bring_both_noises_and_no_more_freedom_than_one() {
        let [this, that] = [8.0, 5.0].map(|it| vec![default(&[glass("2026-01-01", it)])]);
        let evidence = Evidence::new(this, Against::Batch(that)).unwrap();
        let expected = [
            3.0,
            2.766_666_666_666_666_6,
            3.547_781_233_375_407,
            0.154_696_362_847_507_43,
        ];
        is(&evidence, expected);
    }

    #[test]
    fn an_expected_change_moves_the_target_and_its_width_is_known_noise() {
        let [this, that] = [8.0, 5.0].map(|it| vec![default(&[glass("2026-01-01", it)])]);
        let by = Forecast {
            tenth: 0.5,
            middle: 2.0,
            ninetieth: 3.5,
        };
        let from = that.clone();
        let moved = Evidence::new(this.clone(), Against::Moved { from, by }).unwrap();
        let batch = Evidence::new(this, Against::Batch(that)).unwrap();
        assert!(close(moved.gap(), 1.0));
        // By hand: 3 digits lie between the tenths, and a normal distribution has 2·1.2816 SD there.
        let width = (3.0_f64 / 2.563).powi(2);
        let expected = batch.variance().value() + width;
        assert!(close(moved.variance().value(), expected));
        // What is known adds no error of its own: ν = 2v²/Var(v̂), with the same Var(v̂).
        let grown = (expected / batch.variance().value()).powi(2);
        let freedom = grown * batch.variance().freedom();
        assert!(close(moved.variance().freedom(), freedom));
        let later = moved.after(1).unwrap();
        assert!(later.variance().value() < expected && later.variance().value() > width);
    }

    #[test]
    fn a_known_offset_is_taken_off_and_its_doubt_added() {
        let offset = Offset {
            mean: 0.5,
            variance: 0.25,
        };
        let measured = SpreadEstimate::measured(Sd::new(0.5).unwrap(), 0.0).unwrap();
        let noise = Noise::DEFAULT.within(measured).between_days(measured);
        let one = Tasted::new(&[glass("2026-01-01", 6.0)], noise, offset).unwrap();
        let evidence = Evidence::new(vec![one], Against::Intent(5.0)).unwrap();
        // By hand: 6 − 0.5 − 5; 0.25 + 1/12 + 0.25 + 0.25.
        assert!(close(evidence.gap(), 0.5));
        assert!(close(evidence.variance().value(), 0.833_333_333_333_333_3));
        assert!(evidence.variance().freedom().is_infinite());
        assert_eq!(evidence.basis().weakest(), Basis::Measured);
    }

    #[test]
    fn a_glass_more_on_another_day_is_what_a_plan_counts_with() {
        let one = default(&[glass("2026-01-01", 6.0)]);
        let two = default(&[glass("2026-01-01", 6.0), glass("2026-01-02", 6.0)]);
        let evidence = |it| Evidence::new(vec![it], Against::Intent(5.0)).unwrap();
        let planned = evidence(one).after(1).unwrap();
        assert_eq!(planned.variance(), evidence(two).variance());
        assert_eq!(planned.most_glasses(), 2);
    }

    #[test]
    fn silence_is_no_evidence() {
        assert_eq!(Tasted::new(&[], Noise::DEFAULT, Offset::NONE), None);
        let nonsense = [glass("2026-01-01", f64::NAN)];
        assert_eq!(Tasted::new(&nonsense, Noise::DEFAULT, Offset::NONE), None);
        assert_eq!(Evidence::new(vec![], Against::Intent(5.0)), None);
        let one = default(&[glass("2026-01-01", 6.0)]);
        assert_eq!(Evidence::new(vec![one], Against::Batch(vec![])), None);
        assert_eq!(Evidence::new(vec![one], Against::Intent(f64::NAN)), None);
    }
}
