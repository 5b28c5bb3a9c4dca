//! Moving about in a list that may be longer than any screen.

use crate::screens::Act;
use crate::screens::Action;

/// Which of `count` entries is chosen after an act; none if the act does not move about.
pub(super) fn moved(chosen: usize, act: Act, count: usize) -> Option<usize> {
    let wanted = match act {
        Act::Do(Action::Up) => chosen.saturating_sub(1),
        Act::Do(Action::Down) => chosen + 1,
        _ => return None,
    };
    Some(wanted.min(count.saturating_sub(1)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_moves_beyond_the_ends() {
        assert_eq!(moved(0, Act::Do(Action::Up), 5), Some(0));
        assert_eq!(moved(4, Act::Do(Action::Down), 5), Some(4));
        assert_eq!(moved(0, Act::Do(Action::Down), 0), Some(0));
        assert_eq!(moved(0, Act::Do(Action::Accept), 5), None);
    }
}
