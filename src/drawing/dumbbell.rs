//! A dumbbell: one line from 0 to 9 with a wish, a range and a finding on it.

use crate::drawing::Outline;
use crate::drawing::Pen;
use crate::drawing::Sheet;
use crate::drawing::picture::AREA_INK;
use crate::drawing::picture::HAIR_INK;

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

/// A mark on the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum DumbbellMark {
    /// From where to where the forecast reaches.
    Range,
    /// From where to where the finding may stray.
    Stray,
    /// The ends of the forecast, which are seen through the noise, so that none looks broken.
    Ends,
    /// The wish.
    Wish,
    /// The finding.
    Finding,
    /// The finding on the wish.
    Both,
}

/// The last digit of the line.
const LAST: f64 = 9.0;

impl Dumbbell {
    /// What stands where, from below to above: each mark with its two ends, from 0 to 9. Two values stand
    /// on one spot where `same` says so.
    fn marks(&self, same: impl Fn(f64, f64) -> bool) -> Vec<(DumbbellMark, [f64; 2])> {
        let at = |value: f64| value.clamp(0.0, LAST);
        let both = |low: f64, high: f64| [at(low), at(high)];
        let mut marks = Vec::new();
        let range = self.range.map(|(low, high)| both(low, high));
        marks.extend(range.map(|it| (DumbbellMark::Range, it)));
        if let (Some(found), Some(strays)) = (self.found, self.strays) {
            marks.push((DumbbellMark::Stray, both(found - strays, found + strays)));
        }
        marks.extend(range.map(|it| (DumbbellMark::Ends, it)));
        let wished = self.wished.map(at);
        let found = self.found.map(at);
        marks.extend(wished.map(|it| (DumbbellMark::Wish, [it; 2])));
        marks.extend(found.map(|it| {
            let is_both = wished.is_some_and(|wished| same(wished, it));
            let mark = [DumbbellMark::Finding, DumbbellMark::Both][usize::from(is_both)];
            (mark, [it; 2])
        }));
        marks
    }

    /// Draws it in so many cells; shape alone carries it, so that it needs no colour.
    #[must_use]
    pub fn cells(&self, cells: usize) -> String {
        let mut signs = vec!['·'; cells];
        // The cell whose middle lies nearest: a search over few cells needs no cast.
        let place = |value: f64| {
            let apart = |cell: &usize| {
                let there = LAST * *cell as f64 / cells.saturating_sub(1).max(1) as f64;
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
        for (mark, ends) in self.marks(|one, other| place(one) == place(other)) {
            let [from, to] = ends.map(place);
            match mark {
                DumbbellMark::Range => put(from, to, '─'),
                DumbbellMark::Stray => put(from, to, '~'),
                DumbbellMark::Ends => {
                    put(from, from, '├');
                    put(to, to, '┤');
                }
                DumbbellMark::Wish => put(from, to, '◇'),
                DumbbellMark::Finding => put(from, to, '●'),
                DumbbellMark::Both => put(from, to, '◆'),
            }
        }
        signs.into_iter().collect()
    }

    /// Draws it on paper, its line from `[x, y]` so many mm to the right; marks reach 1.6 mm beyond it.
    pub fn draw(&self, sheet: &mut Sheet, [x, y]: [f64; 2], width: f64) {
        let place = |value: f64| x + width * value / LAST;
        sheet.draw(
            Outline::stroke([x, y], [x + width, y]),
            Pen::of(0.15).inked(HAIR_INK),
        );
        for digit in 0..=9_u8 {
            let at = place(f64::from(digit));
            let tick = Outline::stroke([at, y - 0.6], [at, y + 0.6]);
            sheet.draw(tick, Pen::of(0.12).inked(HAIR_INK));
        }
        // On one spot to the eye: nearer than half a sign.
        let same = |one: f64, other: f64| (place(one) - place(other)).abs() < SIGN / 2.0;
        for (mark, ends) in self.marks(same) {
            print_mark(sheet, mark, ends.map(place), y);
        }
    }
}

/// From the middle of a sign to its edge, mm.
const SIGN: f64 = 1.3;

/// Prints a mark between two places at this height.
pub(super) fn print_mark(sheet: &mut Sheet, mark: DumbbellMark, [from, to]: [f64; 2], y: f64) {
    let white = Some([0xff; 3]);
    let black = Some([0; 3]);
    match mark {
        DumbbellMark::Range => {
            sheet.fill(
                Outline::rectangle([from, y - 1.1], [to - from, 2.2]),
                AREA_INK,
            );
        }
        DumbbellMark::Stray => {
            let wave = Outline::stroke([from, y], [to, y]);
            sheet.draw(wave, Pen::of(0.7).dashed(0.7, 0.5));
        }
        DumbbellMark::Ends => {
            for at in [from, to] {
                sheet.draw(Outline::stroke([at, y - 1.4], [at, y + 1.4]), Pen::of(0.35));
            }
        }
        DumbbellMark::Wish => sheet.shape(diamond([from, y]), white, Some(Pen::of(0.35))),
        DumbbellMark::Finding => {
            sheet.shape(Outline::circle([from, y], 0.85 * SIGN), black, None);
        }
        DumbbellMark::Both => {
            sheet.shape(diamond([from, y]), black, Some(Pen::of(0.35)));
        }
    }
}

/// A square on its corner.
fn diamond([x, y]: [f64; 2]) -> Outline {
    let reach = 1.2 * SIGN;
    Outline::from([x, y - reach])
        .line([x + reach, y])
        .line([x, y + reach])
        .line([x - reach, y])
        .close()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Printed;

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

    /// The corners of all that is drawn.
    fn corners(sheet: &Sheet) -> Vec<[f64; 2]> {
        let shapes = sheet.printed.iter().filter_map(|it| match it {
            Printed::Shape { outline, .. } => Some(outline.corners()),
            _ => None,
        });
        shapes.flatten().collect()
    }

    #[test]
    fn on_paper_the_same_marks_stand_at_the_same_places_and_none_beyond_the_ends() {
        let it = Dumbbell {
            wished: Some(0.0),
            range: Some((-3.0, 4.5)),
            found: Some(99.0),
            strays: Some(50.0),
        };
        let mut sheet = Sheet::sized("", [100.0, 10.0]);
        it.draw(&mut sheet, [5.0, 5.0], 90.0);
        let corners = corners(&sheet);
        assert!(corners.iter().all(|it| it[0] >= 3.4 && it[0] <= 96.6));
        // 4.5 of 9 is the middle of the line: an end of the forecast stands there.
        let middle = corners.iter().filter(|it| (it[0] - 50.0).abs() < 1e-9);
        assert!(middle.count() >= 2, "{corners:?}");
    }
}
