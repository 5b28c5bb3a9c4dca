//! The running order of an evening: which blocks fit, how long each takes, and what everybody does in it.

use crate::domain::MeetingPart;
use crate::domain::Minutes;

/// Seconds for two sniffs of one jar and a line on the sheet (judgement).
const SNIFF: usize = 60;

/// Glasses of a series.
const SERIES: usize = 5;

/// What happens in a block.
#[derive(Debug, PartialEq, Eq)]
pub struct BlockKind {
    /// What it is called.
    pub title: &'static str,
    /// What is practised in it, where that is so.
    pub part: Option<MeetingPart>,
    /// What everybody does, for the shared screen.
    pub shown: &'static str,
    /// What the one who leads does.
    pub leader: &'static str,
}

/// The welcome.
static WELCOME: BlockKind = BlockKind {
    title: "Welcome",
    part: None,
    shown: "Take water and a spit cup. Say now what you must not smell or taste. You may stop at any time and give no reason.",
    leader: "Read the allergens and cautions aloud, ask everybody, and take away what somebody cannot have. Own cups for all.",
};

/// The check.
static CHECK: BlockKind = BlockKind {
    title: "The check",
    part: Some(MeetingPart::Check),
    shown: "Smell each jar in the order of your sheet: a short sniff, twice, lid on again. Write place, shelf and word, and how sure you are. Nothing goes into the mouth. Nobody talks.",
    leader: "Stand the jars on a table apart; everybody goes there in the order of the own sheet. Say nothing about them, not even afterwards: they come back at later meetings.",
};

/// The warm-up.
static WARM_UP: BlockKind = BlockKind {
    title: "Warm up",
    part: None,
    shown: "One open jar goes round. Say aloud where you have smelled it: the place first, then the shelf, then a word.",
    leader: "Take anything from the kitchen that is not in tonight's jars. Let the quietest speak first.",
};

/// The jars of the evening.
static JARS: BlockKind = BlockKind {
    title: "Jars",
    part: Some(MeetingPart::Jars),
    shown: "Smell each jar in the order of your sheet. Place first, then shelf, then word, and how sure. Sniff at your own sleeve in between. Nothing goes into the mouth. Nobody talks.",
    leader: "Stand them on the table; everybody goes in the order of the own sheet. Who is stuck writes the place alone: that counts too.",
};

/// The pause.
static PAUSE: BlockKind = BlockKind {
    title: "Pause",
    part: None,
    shown: "Water, plain bread and fresh air. Noses tire after about a dozen sniffs.",
    leader: "Open a window. Type in what is on the sheets if somebody helps you.",
};

/// Present or not.
static PRESENCE: BlockKind = BlockKind {
    title: "Present or not",
    part: Some(MeetingPart::Presence),
    shown: "First smell the open jar, so that you know the word. Then each coded jar: is it in there, yes or no, and how sure? Nothing goes into the mouth.",
    leader: "Some jars hold a trace, the others none. Do not say how many.",
};

/// From weak to strong.
static STRENGTH: BlockKind = BlockKind {
    title: "From weak to strong",
    part: Some(MeetingPart::Strength),
    shown: "Taste each glass by itself: a sip, twice; spit if you like. Write a digit from 0 to 9. Then put all five in order.",
    leader: "A mouthful in each glass, all equally warm. Water in between.",
};

/// What was in it.
static TOLD: BlockKind = BlockKind {
    title: "What was in it",
    part: None,
    shown: "Each jar of tonight, not those of the check, goes round once more with its name. Who wrote something near it? What tells the two apart?",
    leader: "Open the jars of the evening one by one. Never those of the check. Read out how a look-alike is told apart.",
};

/// The end.
static CLOSE: BlockKind = BlockKind {
    title: "Close",
    part: None,
    shown: "Five minutes of words a day until the next meeting do more than another evening. Who drank does not drive.",
    leader: "Throw the jars away or label them. Everybody may look at their own record, alone.",
};

/// One block of an evening.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Block {
    /// What happens.
    pub kind: &'static BlockKind,
    /// When it begins, in minutes from the start.
    pub begins: u16,
    /// How long it takes, in minutes.
    pub lasts: u16,
}

/// What the running order follows from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wanted {
    /// How many take part.
    pub(super) people: usize,
    /// Jars of the evening.
    pub(super) jars: usize,
    /// Jars of the check; none at a meeting without one.
    pub(super) check: usize,
    /// Glasses of present or not.
    pub(super) glasses: usize,
    /// How long the evening is meant to be.
    pub(super) length: Minutes,
}

/// The blocks that fit, in their order.
///
/// Welcome, check, jars, pause, telling and close are always there. Present or not, the warm-up and a
/// series join while they fit. Times are judgement: every jar takes a minute, as many people smell
/// at once as there are jars.
pub(super) fn running_order(wanted: Wanted) -> Vec<Block> {
    let mut kinds: Vec<(&'static BlockKind, u16)> = all_blocks(wanted);
    for spare in [&STRENGTH, &WARM_UP, &PRESENCE] {
        let sum: u16 = kinds.iter().map(|it| it.1).sum();
        if f64::from(sum) > wanted.length.get() {
            kinds.retain(|it| it.0 != spare);
        }
    }
    let mut begins = 0;
    kinds
        .into_iter()
        .map(|(kind, lasts)| {
            let block = Block {
                kind,
                begins,
                lasts,
            };
            begins += lasts;
            block
        })
        .collect()
}

fn all_blocks(wanted: Wanted) -> Vec<(&'static BlockKind, u16)> {
    let whole = |minutes: usize| u16::try_from(minutes).unwrap_or(u16::MAX / 8);
    let round = |jars: usize| whole(1 + (jars.max(wanted.people) * SNIFF).div_ceil(60));
    let check = (wanted.check > 0).then(|| (&CHECK, round(wanted.check)));
    let mut blocks: Vec<(&'static BlockKind, u16)> = vec![(&WELCOME, 5)];
    blocks.extend(check);
    blocks.extend([
        (&WARM_UP, 8),
        (&PAUSE, 10),
        (&JARS, round(wanted.jars) + 2),
        (&PRESENCE, round(wanted.glasses)),
        (&STRENGTH, round(SERIES) + 4),
        (
            &TOLD,
            3 + 2 * u16::try_from(wanted.jars).unwrap_or(u16::MAX / 4),
        ),
        (&CLOSE, 5),
    ]);
    blocks
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wanted(minutes: f64) -> Wanted {
        Wanted {
            people: 6,
            jars: 6,
            check: 8,
            glasses: 8,
            length: Minutes::new(minutes).unwrap(),
        }
    }

    fn titles(order: &[Block]) -> Vec<&'static str> {
        order.iter().map(|it| it.kind.title).collect()
    }

    #[test]
    fn a_long_evening_has_every_block_without_a_gap_between() {
        let order = running_order(wanted(120.0));
        let [.., last] = order.as_slice() else {
            panic!("no blocks");
        };
        assert_eq!(order.len(), 9);
        assert!(last.begins + last.lasts <= 120);
        for pair in order.windows(2) {
            assert_eq!(pair[0].begins + pair[0].lasts, pair[1].begins);
        }
    }

    #[test]
    fn a_short_evening_keeps_what_it_is_for() {
        let order = running_order(wanted(45.0));
        assert_eq!(
            titles(&order),
            [
                "Welcome",
                "The check",
                "Pause",
                "Jars",
                "What was in it",
                "Close"
            ]
        );
    }

    #[test]
    fn the_check_comes_before_anything_is_taught() {
        let order = titles(&running_order(wanted(120.0)));
        let at = |title: &str| order.iter().position(|it| *it == title).unwrap();
        assert!(at("The check") < at("Warm up"));
        assert!(at("Warm up") < at("Jars"));
        let without = running_order(Wanted {
            check: 0,
            ..wanted(120.0)
        });
        assert!(!titles(&without).contains(&"The check"));
    }

    #[test]
    fn twelve_people_take_longer_than_three() {
        let lasts = |people| {
            let order = running_order(Wanted {
                people,
                ..wanted(240.0)
            });
            order.iter().map(|it| it.lasts).sum::<u16>()
        };
        assert!(lasts(12) > lasts(3));
    }
}
