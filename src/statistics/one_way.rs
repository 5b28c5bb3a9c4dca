//! Values in groups: how far they scatter within a group and how far the groups lie apart.

use thiserror::Error;

use crate::statistics::squares::beyond_rounding;
use crate::statistics::squares::largest;
use crate::statistics::squares::mean;
use crate::statistics::squares::squares;
use crate::statistics::squares::usable;

/// Why groups cannot be compared. Places count from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum GroupsRefused {
    /// There are fewer than two groups with a value.
    #[error("{0} of the groups have a value, and at least 2 are needed")]
    TooFewGroups(usize),
    /// No group has two values.
    #[error("nothing was repeated, so nothing says how far repeats scatter")]
    NothingRepeated,
    /// Groups have different numbers of values where the method asks for equal ones.
    #[error("group {group} has another number of values than the first")]
    Uneven {
        /// The group.
        group: usize,
    },
    /// A value is no number, or larger than 10⁶⁰.
    #[error("value {place} of group {group} is no number, or too large")]
    OutOfRange {
        /// The group.
        group: usize,
        /// The value's place in it.
        place: usize,
    },
}

/// How far values scatter within their groups.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WithinGroups {
    /// The pooled standard deviation, √(Σ(nᵢ − 1)sᵢ²/Σ(nᵢ − 1)); 0 where every repeat is the same.
    pub sd: f64,
    /// Its degrees of freedom, Σ(nᵢ − 1).
    pub freedom: usize,
}

/// Analysis of variance of values in groups, which may differ in size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OneWay {
    /// The mean of all values.
    pub mean: f64,
    /// Groups with a value.
    pub groups: usize,
    /// All values.
    pub values: usize,
    /// Mean square between groups, Σnᵢ(ȳᵢ − ȳ)²/(p − 1).
    pub between: f64,
    /// Within groups.
    pub within: WithinGroups,
    /// Values of a group, averaged so that the mean square between groups is expected to be
    /// `σ² + n̄σ_L²`: n̄ = (Σnᵢ − Σnᵢ²/Σnᵢ)/(p − 1).
    pub mean_size: f64,
}

/// How far values scatter within their groups; one group is enough, and one without a value counts as
/// none.
///
/// # Errors
/// No group has two values, or a value is no number.
fn within_groups(groups: &[Vec<f64>]) -> Result<WithinGroups, GroupsRefused> {
    for (group, values) in groups.iter().enumerate() {
        if let Some(place) = values.iter().position(|it| !usable(*it)) {
            return Err(GroupsRefused::OutOfRange { group, place });
        }
    }
    let freedom: usize = groups.iter().map(|it| it.len().saturating_sub(1)).sum();
    if freedom == 0 {
        return Err(GroupsRefused::NothingRepeated);
    }
    let sum: f64 = groups.iter().map(|it| squares(it)).sum();
    Ok(WithinGroups {
        sd: (sum / freedom as f64).sqrt(),
        freedom,
    })
}

impl OneWay {
    /// The analysis of these groups; one without a value counts as none.
    ///
    /// # Errors
    /// Fewer than two groups have a value, or no group has two, or a value is no number.
    pub fn of(groups: &[Vec<f64>]) -> Result<Self, GroupsRefused> {
        let filled: Vec<&Vec<f64>> = groups.iter().filter(|it| !it.is_empty()).collect();
        if filled.len() < 2 {
            return Err(GroupsRefused::TooFewGroups(filled.len()));
        }
        let within = within_groups(groups)?;
        let all: Vec<f64> = groups.concat();
        let middle = mean(&all);
        let apart = filled
            .iter()
            .map(|it| it.len() as f64 * (mean(it) - middle).powi(2))
            .sum();
        let apart = beyond_rounding(apart, all.len(), largest(&all));
        let size_squares: f64 = filled.iter().map(|it| (it.len() as f64).powi(2)).sum();
        let values = all.len() as f64;
        let freedom = (filled.len() - 1) as f64;
        Ok(Self {
            mean: middle,
            groups: filled.len(),
            values: all.len(),
            between: apart / freedom,
            within,
            mean_size: (values - size_squares / values) / freedom,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_groups_have_the_squares_of_the_hand() {
        // By hand: means 2 and 5, grand mean 3.2; 3·1.2² + 2·1.8² = 10.8; within 2 and 2 on 3
        // degrees; n̄ = 5 − 13/5.
        let found = OneWay::of(&[vec![1.0, 2.0, 3.0], vec![4.0, 6.0]]).unwrap();
        assert!((found.mean - 3.2).abs() < 1e-12);
        assert!((found.between - 10.8).abs() < 1e-12);
        assert!((found.within.sd.powi(2) - 4.0 / 3.0).abs() < 1e-12);
        assert!((found.mean_size - 2.4).abs() < 1e-12);
        assert_eq!(
            (found.groups, found.values, found.within.freedom),
            (2, 5, 3)
        );
    }

    #[test]
    fn groups_that_say_nothing_are_refused_with_the_reason() {
        let refused = |groups: &[Vec<f64>]| OneWay::of(groups).unwrap_err();
        assert_eq!(refused(&[]), GroupsRefused::TooFewGroups(0));
        assert_eq!(refused(&[vec![], vec![]]), GroupsRefused::TooFewGroups(0));
        assert_eq!(
            refused(&[vec![1.0, 2.0], vec![]]),
            GroupsRefused::TooFewGroups(1)
        );
        assert_eq!(
            refused(&[vec![1.0], vec![2.0]]),
            GroupsRefused::NothingRepeated
        );
        let bad = GroupsRefused::OutOfRange { group: 1, place: 1 };
        assert_eq!(refused(&[vec![1.0], vec![2.0, f64::NAN]]), bad);
    }

    #[test]
    fn one_group_still_tells_how_far_repeats_scatter() {
        let found = within_groups(&[vec![1.0, 2.0, 3.0], vec![]]).unwrap();
        assert_eq!((found.sd, found.freedom), (1.0, 2));
    }

    #[test]
    fn equal_values_have_no_squares_at_all() {
        let found = OneWay::of(&[vec![0.1; 3], vec![0.1; 4]]).unwrap();
        assert_eq!((found.between, found.within.sd), (0.0, 0.0));
    }
}
