//! Two lists beside each other: which items are the same thing, and which stand in one list alone.

/// Two lists beside each other; items that stand alone come with their place.
pub(super) struct Pairs<'a, T> {
    /// The same thing in both, in the order of the old list.
    pub(super) both: Vec<(&'a T, &'a T)>,
    /// In the old list alone.
    pub(super) left_out: Vec<(usize, &'a T)>,
    /// In the new list alone.
    pub(super) added: Vec<(usize, &'a T)>,
}

/// Finds for each old item a new one that is like it, by the first likeness that finds one; each item is used
/// once. Closer likenesses come first, so that they are served before looser ones.
pub(super) fn paired<'a, T>(
    old: &'a [T],
    new: &'a [T],
    likenesses: &[fn(&T, &T) -> bool],
) -> Pairs<'a, T> {
    let mut partners: Vec<Option<usize>> = vec![None; old.len()];
    for is_like in likenesses {
        for (at, item) in old.iter().enumerate() {
            if partners[at].is_some() {
                continue;
            }
            let free = |it: &usize| !partners.contains(&Some(*it));
            let mut found = (0..new.len()).filter(|it| is_like(item, &new[*it]));
            partners[at] = found.find(free);
        }
    }
    let old = || old.iter().enumerate();
    let both = old().zip(&partners);
    let both = both.filter_map(|((_, it), partner)| Some((it, new.get((*partner)?)?)));
    let left_out = old().filter(|it| partners[it.0].is_none());
    let added = new.iter().enumerate();
    let added = added.filter(|it| !partners.contains(&Some(it.0)));
    Pairs {
        both: both.collect(),
        left_out: left_out.collect(),
        added: added.collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_closer_likeness_is_served_first_and_nothing_is_used_twice() {
        let same = |a: &u32, b: &u32| a == b;
        let same_ten = |a: &u32, b: &u32| a / 10 == b / 10;
        let pairs = paired(&[11, 12, 35, 40], &[12, 19, 41, 42, 70], &[same, same_ten]);
        // By hand: 12 has its equal, so that 11 takes 19; 40 takes the first of two; 35 and 42, 70 stand alone.
        assert_eq!(pairs.both, [(&11, &19), (&12, &12), (&40, &41)]);
        assert_eq!(pairs.left_out, [(2, &35)]);
        assert_eq!(pairs.added, [(3, &42), (4, &70)]);
    }
}
