//! A dumbbell: one line from 0 to 9 with a wish, a range and a finding on it.

/// What stands on the line, each from 0 to 9.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Dumbbell {
    /// The wish.
    pub wished: Option<f64>,
    /// The range of the forecast.
    pub range: Option<(f64, f64)>,
    /// The finding.
    pub found: Option<f64>,
    /// How far the finding strays to either side.
    pub strays: Option<f64>,
}

/// The sign of a wish.
const WISHED: char = '◇';
/// The sign of a finding.
const FOUND: char = '●';
/// The sign of a finding that stands on the wish.
const BOTH: char = '◆';
/// The sign of where the finding may stray.
const STRAY: char = '~';

impl Dumbbell {
    /// Draws it in so many cells; shape alone carries it, so that it needs no colour.
    #[must_use]
    pub fn cells(&self, cells: usize) -> String {
        let mut signs = vec!['·'; cells];
        // The cell whose middle lies nearest: a search over few cells needs no cast.
        let place = |value: f64| {
            let apart = |cell: &usize| {
                let there = 9.0 * *cell as f64 / cells.saturating_sub(1).max(1) as f64;
                (there - value).abs()
            };
            let nearest = (0..cells).min_by(|a, b| apart(a).total_cmp(&apart(b)));
            nearest.unwrap_or(0)
        };
        let mut put = |from: usize, to: usize, sign: char| {
            for at in signs.iter_mut().take(to + 1).skip(from) {
                *at = sign;
            }
        };
        let ends = self.range.map(|(low, high)| (place(low), place(high)));
        if let Some((from, to)) = ends {
            put(from, to, '─');
        }
        if let (Some(found), Some(strays)) = (self.found, self.strays) {
            put(place(found - strays), place(found + strays), STRAY);
        }
        // The ends of a range are seen through the noise, so that none looks broken.
        if let Some((from, to)) = ends {
            put(from, from, '├');
            put(to, to, '┤');
        }
        if let Some(wished) = self.wished {
            put(place(wished), place(wished), WISHED);
        }
        if let Some(found) = self.found {
            let same = self.wished.is_some_and(|it| place(it) == place(found));
            put(place(found), place(found), if same { BOTH } else { FOUND });
        }
        signs.into_iter().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wish_range_and_finding_stand_where_they_belong() {
        let it = Dumbbell {
            wished: Some(2.0),
            range: Some((1.0, 4.0)),
            found: Some(7.0),
            strays: Some(1.0),
        };
        assert_eq!(it.cells(10), "·├◇─┤·~●~·");
    }

    #[test]
    fn a_finding_on_the_wish_has_its_own_sign_and_nothing_leaves_the_line() {
        let it = Dumbbell {
            wished: Some(9.0),
            range: None,
            found: Some(12.0),
            strays: Some(50.0),
        };
        assert_eq!(it.cells(5), "~~~~◆");
        assert_eq!(Dumbbell::default().cells(3), "···");
        assert_eq!(it.cells(0), "");
    }
}
