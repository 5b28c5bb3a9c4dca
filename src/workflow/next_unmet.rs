//! Wishes that cannot be met together, in words.

use crate::domain::IngredientId;
use crate::profile::Unmet;
use crate::profile::Wishes;
use crate::workflow::Home;

/// Each wish that stays unmet by as few changes as are allowed, as a sentence, and what stands against it.
pub(super) fn unmet_words(home: &Home, unmet: &[Unmet], wishes: &Wishes) -> Vec<String> {
    let name = |id: &IngredientId| {
        let catalogue = home.catalogue();
        let all = catalogue.fermentables().iter().map(|it| &it.identity);
        let all = all.chain(catalogue.hops().iter().map(|it| &it.identity));
        let all = all.chain(catalogue.others().iter().map(|it| &it.identity));
        let mut all = all.chain(catalogue.yeasts().iter().map(|it| &it.identity));
        let found = all.find(|it| it.id == *id);
        found.map_or_else(|| id.to_string(), |it| it.name.clone())
    };
    let mut words: Vec<String> = unmet.iter().map(|it| sentence(it, &name)).collect();
    if !words.is_empty() {
        words.push(against(wishes, &name));
    }
    words
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
        all.push(format!("{} stays as it is", names(&wishes.locked)));
    }
    if !wishes.forbidden.is_empty() {
        all.push(format!("{} is not to be in it", names(&wishes.forbidden)));
    }
    let figures = [
        ("alcohol", wishes.strength),
        ("bitterness", wishes.bitterness),
        ("colour", wishes.colour),
    ];
    let kept = figures.iter().filter(|it| it.1.is_some()).map(|it| it.0);
    let kept: Vec<&str> = kept.collect();
    if kept.len() > 1 {
        all.push(format!(
            "{} are to lie in their ranges together",
            kept.join(" and ")
        ));
    }
    all.push(match wishes.most.number() {
        1 => "only one change is allowed".to_owned(),
        number => format!("only {number} changes are allowed"),
    });
    format!("In the way: {}.", all.join("; "))
}
