//! Wishes that cannot be met together, in words.

use crate::domain::IngredientId;
use crate::profile::Unmet;
use crate::profile::Wishes;
use crate::workflow::Home;

/// Each wish that stays unmet by as few changes as are allowed, as a sentence, and what stands against it.
pub(super) fn unmet_words(home: &Home, unmet: &[Unmet], wishes: &Wishes) -> Vec<String> {
    let name = |id: &IngredientId| home.ingredient_name(id);
    let mut words: Vec<String> = unmet.iter().map(|it| sentence(it, &name)).collect();
    if !words.is_empty() {
        words.push(against(wishes, &name));
    }
    words
}

/// Wishes that something would meet, but only farther from the hopes than the beer is now.
pub(super) fn away_from_hopes(home: &Home, unmet: &[Unmet]) -> Vec<String> {
    let told = format!(
        "Your wish for {} could be met, but no change that meets it brings the beer nearer to your hopes.",
        named(home, unmet)
    );
    (!unmet.is_empty()).then_some(told).into_iter().collect()
}

/// Wishes that the recipe as it is does not meet, where no hope is missed and so nothing is changed.
pub(super) fn kept_for_later(home: &Home, unmet: &[Unmet]) -> Vec<String> {
    let told = format!(
        "Your wish for {} is not met by the recipe as it is. Wishes guide a change, and no missed hope asks for one: change that by hand.",
        named(home, unmet)
    );
    (!unmet.is_empty()).then_some(told).into_iter().collect()
}

fn named(home: &Home, unmet: &[Unmet]) -> String {
    let name = |id: &IngredientId| home.ingredient_name(id);
    let wishes = unmet.iter().map(|it| match it {
        Unmet::Strength(is, _) => format!("alcohol, now {is:.1} % vol"),
        Unmet::Bitterness(is, _) => format!("bitterness, now {is:.0} IBU"),
        Unmet::Colour(is, _) => format!("colour, now {is:.0} EBC"),
        Unmet::Cost(is, _) => format!("cost, now {is:.2}"),
        Unmet::Forbidden(id) => format!("{} left out", name(id)),
        Unmet::NoPrice(id) => format!("a price of {}", name(id)),
        Unmet::NotAtHome(id, ..) => format!("{} replaced by what is at home", name(id)),
    });
    wishes.collect::<Vec<String>>().join(" and ")
}

fn sentence(it: &Unmet, name: &impl Fn(&IngredientId) -> String) -> String {
    match it {
        Unmet::Strength(is, wanted) => format!(
            "Alcohol from {:.1} to {:.1} % vol is not reached; the nearest is {is:.1}.",
            wanted.low(),
            wanted.high()
        ),
        Unmet::Bitterness(is, wanted) => format!(
            "Bitterness from {:.0} to {:.0} IBU is not reached; the nearest is {is:.0}.",
            wanted.low(),
            wanted.high()
        ),
        Unmet::Colour(is, wanted) => format!(
            "A colour from {:.0} to {:.0} EBC is not reached; the nearest is {is:.0}.",
            wanted.low(),
            wanted.high()
        ),
        Unmet::Cost(is, most) => {
            format!("It costs {is:.2} at the least that was found, more than {most:.2}.")
        }
        Unmet::Forbidden(id) => format!("{} cannot be left out.", name(id)),
        Unmet::NoPrice(id) => format!("Nobody knows what {} costs.", name(id)),
        Unmet::NotAtHome(id, takes, there) if *there > 0.0 => format!(
            "It takes {takes:.1} g of {}, and {there:.1} g are at home.",
            name(id)
        ),
        Unmet::NotAtHome(id, ..) => {
            format!(
                "{} is not at home, and nothing there stands in for it.",
                name(id)
            )
        }
    }
}

/// What else was wished for, and so stands in the way.
fn against(wishes: &Wishes, name: &impl Fn(&IngredientId) -> String) -> String {
    let mut all: Vec<String> = Vec::new();
    let names = |ids: &[IngredientId]| ids.iter().map(name).collect::<Vec<_>>().join(", ");
    if !wishes.locked.is_empty() {
        all.push(format!("what is locked: {}", names(&wishes.locked)));
    }
    if !wishes.forbidden.is_empty() {
        all.push(format!("what is forbidden: {}", names(&wishes.forbidden)));
    }
    let figures = [
        ("alcohol", wishes.strength),
        ("bitterness", wishes.bitterness),
        ("colour", wishes.colour),
    ];
    let kept = figures.iter().filter(|it| it.1.is_some()).map(|it| it.0);
    let kept: Vec<&str> = kept.collect();
    if kept.len() > 1 {
        all.push(format!("the ranges of {} together", kept.join(", ")));
    }
    all.push(match wishes.most.number() {
        1 => "only one change is allowed".to_owned(),
        2 => "only two changes are allowed".to_owned(),
        _ => "three changes are the most that is tried".to_owned(),
    });
    format!("In the way: {}.", all.join("; "))
}
