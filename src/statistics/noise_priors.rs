//! What is believed of how far answers scatter before anybody was measured.

use crate::statistics::Sd;

/// The scatter of a rater nobody has measured, in digits (judgement), as ln 0.9.
const LOG_DEFAULT: f64 = -0.105_360_515_657_826_3;

/// What is believed of scatter before the first pair: ln σ = μ + a(rater) + b(line) + c(both), all normal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NoisePriors {
    /// The mean of μ.
    pub middle: f64,
    /// The standard deviation of μ.
    pub overall: Sd,
    /// That of a, with mean 0.
    pub rater: Sd,
    /// That of b, with mean 0.
    pub line: Sd,
    /// That of c, with mean 0.
    pub own: Sd,
}

impl NoisePriors {
    /// What is believed before anybody was measured (judgement): ln 0.9 ± 0.4 for all, 0.3 for a rater,
    /// 0.25 for a line, 0.2 for a rater on a line.
    pub const DEFAULT: Self = Self {
        middle: LOG_DEFAULT,
        overall: Sd::new(0.4).expect("0.4 is above 0"),
        rater: Sd::new(0.3).expect("0.3 is above 0"),
        line: Sd::new(0.25).expect("0.25 is above 0"),
        own: Sd::new(0.2).expect("0.2 is above 0"),
    };

    /// Whether answers in digits can scatter so: the middle is from −10 to 10, each spread from 0.01 to 10.
    pub(in crate::statistics) fn fit_digits(&self) -> bool {
        let Self {
            middle,
            overall,
            rater,
            line,
            own,
        } = self;
        let spreads = [overall, rater, line, own];
        let good = spreads.iter().all(|it| (0.01..=10.0).contains(&it.get()));
        good && (-10.0..=10.0).contains(middle)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_is_nine_tenths_of_a_digit() {
        assert!((NoisePriors::DEFAULT.middle - 0.9_f64.ln()).abs() < 1e-15);
        assert!(NoisePriors::DEFAULT.fit_digits());
    }

    #[test]
    fn beliefs_that_no_answers_in_digits_fit_are_found() {
        let wide = NoisePriors {
            line: Sd::new(11.0).unwrap(),
            ..NoisePriors::DEFAULT
        };
        let far = NoisePriors {
            middle: f64::NAN,
            ..NoisePriors::DEFAULT
        };
        assert!(!wide.fit_digits() && !far.fit_digits());
    }
}
