//! A test that may be watched at any time: it stops once the evidence is strong enough.

use crate::discrimination::Alpha;
use crate::discrimination::Effect;
use crate::discrimination::Method;
use crate::discrimination::analysis::reading;
use crate::statistics::Count;
use crate::statistics::Course;
use crate::statistics::Stand;
use crate::statistics::course;

/// What becomes of a test that stops once its e-value is 1/α or more and is cut after `cut` answers:
/// where the two beers are the same, and where they differ by the effect. By exact recursion.
#[must_use]
pub fn evidence_courses(method: &Method, alpha: Alpha, effect: Effect, cut: u32) -> [Course; 2] {
    let enough = enough_after(method, alpha, cut);
    let stand = |count: Count| match enough.get(count.tries() as usize) {
        Some(least) if count.hits() >= *least => Stand::Other,
        _ => Stand::GoOn,
    };
    [method.guess(), method.correct_at(effect)].map(|chance| course(stand, chance, cut))
}

/// The fewest right answers that suffice after 0, 1, 2 … answers; more than all where none do. With an
/// answer more that number stays or grows by one, because a right answer adds evidence and a wrong one
/// takes some away.
fn enough_after(method: &Method, alpha: Alpha, cut: u32) -> Vec<u32> {
    let suffices = |hits, tries| {
        let count = Count::new(hits, tries);
        count.is_some_and(|it| reading(method, it).e_value() >= 1.0 / alpha.get())
    };
    let mut least = 1;
    let mut all = vec![least];
    for tries in 1..=cut {
        if least <= tries && !suffices(least, tries) {
            least += 1;
        }
        all.push(least);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::discrimination::Pd;

    fn courses(cut: u32) -> [Course; 2] {
        let triangle = Method::from_id("triangle").unwrap();
        let half = Effect::Pd(Pd::new(0.5).unwrap());
        evidence_courses(triangle, Alpha::new(0.05).unwrap(), half, cut)
    }

    #[test]
    fn it_calls_two_same_beers_different_less_often_than_its_risk() {
        // The project's model of evidence from small panels: .023 by 70 triangles, by simulation.
        let [same, _] = courses(70);
        assert!((same.other.get() - 0.023).abs() < 0.001, "{same:?}");
    }

    #[test]
    fn it_finds_a_difference_that_half_can_taste_in_seven_of_ten_short_tests() {
        // The same source: 72 % within 21 triangles, by simulation.
        let [_, different] = courses(21);
        assert!((different.other.get() - 0.72).abs() < 0.01, "{different:?}");
    }

    #[test]
    fn the_fewest_that_suffice_are_those_found_by_trying_all() {
        let triangle = Method::from_id("triangle").unwrap();
        let alpha = Alpha::new(0.05).unwrap();
        let enough = enough_after(triangle, alpha, 30);
        for tries in 1..=30_u32 {
            let suffices =
                |hits: &u32| reading(triangle, Count::new(*hits, tries).unwrap()).e_value() >= 20.0;
            let tried = (0..=tries).find(suffices);
            let found = Some(enough[tries as usize]).filter(|it| *it <= tries);
            assert_eq!(found, tried, "{tries} answers");
        }
    }
}
