//! A path on a page: straight and curved steps, in mm.

use std::f64::consts::FRAC_PI_2;

/// A step of a path; coordinates in mm from the top left of the page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step {
    /// Begins a new piece there.
    Move([f64; 2]),
    /// A straight line to there.
    Line([f64; 2]),
    /// A cubic curve over two handles to the last point (Bézier).
    Curve([[f64; 2]; 3]),
    /// Back to where the piece began.
    Close,
}

/// A path.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Outline(Vec<Step>);

impl Outline {
    /// An empty path that begins there.
    #[must_use]
    pub fn from([x, y]: [f64; 2]) -> Self {
        Self(vec![Step::Move([x, y])])
    }

    /// A straight line on to there.
    #[must_use]
    pub fn line(mut self, to: [f64; 2]) -> Self {
        self.0.push(Step::Line(to));
        self
    }

    /// A quadratic curve over one handle, raised to a cubic one.
    #[must_use]
    pub fn bend(mut self, handle: [f64; 2], to: [f64; 2]) -> Self {
        let from = self.end();
        let two_thirds = |it: [f64; 2]| {
            let on = |axis: usize| (handle[axis] - it[axis]).mul_add(2.0 / 3.0, it[axis]);
            [on(0), on(1)]
        };
        self.0
            .push(Step::Curve([two_thirds(from), two_thirds(to), to]));
        self
    }

    /// Along a circle round `middle`, from one angle to another, in radians clockwise from the top;
    /// backwards where the second is the smaller one. The path must stand at its beginning.
    #[must_use]
    pub fn arc(mut self, middle: [f64; 2], radius: f64, [from, to]: [f64; 2]) -> Self {
        let quarters = ((to - from).abs() / FRAC_PI_2).ceil().max(1.0);
        let turn = (to - from) / quarters;
        // The handles of a cubic that touches the circle in the middle of its arc: 4/3 · tan(turn/4) (plane geometry).
        let reach = 4.0 / 3.0 * (turn / 4.0).tan() * radius;
        let mut angle = from;
        let mut left = quarters;
        while left > 0.5 {
            let next = angle + turn;
            let [begins, ends] = [angle, next].map(|it| on_circle(middle, radius, it));
            let handles = [
                [
                    reach.mul_add(angle.cos(), begins[0]),
                    reach.mul_add(angle.sin(), begins[1]),
                ],
                [
                    (-reach).mul_add(next.cos(), ends[0]),
                    (-reach).mul_add(next.sin(), ends[1]),
                ],
            ];
            self.0.push(Step::Curve([handles[0], handles[1], ends]));
            angle = next;
            left -= 1.0;
        }
        self
    }

    /// Back to the beginning of this piece.
    #[must_use]
    pub fn close(mut self) -> Self {
        self.0.push(Step::Close);
        self
    }

    /// This path, and then another.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.0.extend(other.0);
        self
    }

    /// A rectangle by its upper left corner and its width and height.
    #[must_use]
    pub fn rectangle([x, y]: [f64; 2], [width, height]: [f64; 2]) -> Self {
        Self::from([x, y])
            .line([x + width, y])
            .line([x + width, y + height])
            .line([x, y + height])
            .close()
    }

    /// A whole circle.
    #[must_use]
    pub fn circle(middle: [f64; 2], radius: f64) -> Self {
        Self::from(on_circle(middle, radius, 0.0))
            .arc(middle, radius, [0.0, 4.0 * FRAC_PI_2])
            .close()
    }

    /// A straight stroke.
    #[must_use]
    pub fn stroke(from: [f64; 2], to: [f64; 2]) -> Self {
        Self::from(from).line(to)
    }

    /// The same path, moved to the right and down.
    #[must_use]
    pub fn moved(&self, [right, down]: [f64; 2]) -> Self {
        let moved = |[x, y]: [f64; 2]| [x + right, y + down];
        let step = |it: &Step| match *it {
            Step::Move(at) => Step::Move(moved(at)),
            Step::Line(at) => Step::Line(moved(at)),
            Step::Curve(points) => Step::Curve(points.map(moved)),
            Step::Close => Step::Close,
        };
        Self(self.0.iter().map(step).collect())
    }

    /// The steps.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.0
    }

    /// The points at which steps meet, in their order; the handles of a curve lie outside of it, never inside.
    #[cfg(test)]
    pub(crate) fn corners(&self) -> Vec<[f64; 2]> {
        let ends = self.0.iter().filter_map(|it| match it {
            Step::Move(at) | Step::Line(at) | Step::Curve([_, _, at]) => Some(*at),
            Step::Close => None,
        });
        ends.collect()
    }

    /// Where the path stands.
    fn end(&self) -> [f64; 2] {
        let ends = self.0.iter().rev().find_map(|it| match it {
            Step::Move(at) | Step::Line(at) | Step::Curve([_, _, at]) => Some(*at),
            Step::Close => None,
        });
        ends.unwrap_or_default()
    }
}

/// A point on a circle, by its angle clockwise from the top.
#[must_use]
pub fn on_circle([x, y]: [f64; 2], radius: f64, angle: f64) -> [f64; 2] {
    [
        radius.mul_add(angle.sin(), x),
        (-radius).mul_add(angle.cos(), y),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// A point on a cubic (de Casteljau).
    fn along(from: [f64; 2], [one, two, to]: [[f64; 2]; 3], t: f64) -> [f64; 2] {
        let axis = |it: usize| {
            let back = 1.0 - t;
            back.powi(3) * from[it]
                + 3.0 * back * back * t * one[it]
                + 3.0 * back * t * t * two[it]
                + t.powi(3) * to[it]
        };
        [axis(0), axis(1)]
    }

    #[test]
    fn an_arc_stays_on_its_circle_in_both_directions() {
        for [from, to] in [[0.0, 2.0 * PI], [1.0, 2.2], [3.0, -1.0]] {
            let middle = [50.0, 60.0];
            let path = Outline::from(on_circle(middle, 10.0, from)).arc(middle, 10.0, [from, to]);
            let mut at = on_circle(middle, 10.0, from);
            for step in &path.steps()[1..] {
                let Step::Curve(curve) = *step else {
                    panic!("{step:?}")
                };
                for tenth in 0..=10 {
                    let [x, y] = along(at, curve, f64::from(tenth) / 10.0);
                    let far = f64::hypot(x - middle[0], y - middle[1]);
                    // A quarter drawn so strays by 0.027 % of the radius at most (from memory).
                    assert!((far - 10.0).abs() < 0.003, "{far}");
                }
                at = curve[2];
            }
            let end = on_circle(middle, 10.0, to);
            assert!(f64::hypot(at[0] - end[0], at[1] - end[1]) < 1e-9);
        }
    }
}
