//! Proposals held against the trade and against wishes: what a brewer would do, and what no brewer would want.

use crate::domain::Bottle;
use crate::domain::FermentableFamily;
use crate::domain::HopTime;
use crate::domain::IngredientId;
use crate::domain::Part;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::domain::Scale;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::profile::Aim;
use crate::profile::Bounds;
use crate::profile::Caution;
use crate::profile::Driver;
use crate::profile::Familiar;
use crate::profile::FoundRecipes;
use crate::profile::MostChanges;
use crate::profile::Outlook;
use crate::profile::OutlookLines;
use crate::profile::Search;
use crate::profile::Wishes;
use crate::profile::amounts;
use crate::profile::levers_from;
use crate::profile::levers_within;
use crate::profile::unmet;
use crate::statistics::Dice;
use crate::storage::builtin_demo_files;
use crate::workflow::Home;

const KINDS: [&str; 5] = [
    "cold-shelf",
    "garden-chair",
    "hay-loft",
    "open-window",
    "oven-door-1",
];

struct Kitchen {
    home: Home,
    lines: OutlookLines,
}

impl Kitchen {
    fn new() -> Self {
        let home = Home::trial();
        let lines = home.outlook_lines();
        Self { home, lines }
    }

    fn recipe(&self, name: &str) -> Recipe {
        let mut files = builtin_demo_files().iter();
        let (name, text) = files.find(|it| it.0.starts_with(name)).unwrap();
        self.home.parse_recipe(name, text).unwrap()
    }

    fn outlook(&self, recipe: &Recipe) -> Outlook {
        self.home.outlook(recipe, &self.lines).unwrap()
    }

    fn search(&self, recipe: &Recipe, aims: &[Aim], wishes: &Wishes) -> FoundRecipes {
        let search = Search {
            recipe,
            catalogue: self.home.catalogue(),
            wishes,
            familiar: &Familiar::default(),
            aims,
            caution: Caution::USUAL,
            outlook: |it: &Recipe| self.home.outlook(it, &self.lines),
        };
        search.run().unwrap()
    }

    fn scale(&self, id: &str, gap: f64) -> Aim {
        let line = self.lines.of_scale(Scale::from_id(id).unwrap()).unwrap();
        aim(line, gap)
    }

    fn shelf(&self, id: &str, stage: Stage, gap: f64) -> Aim {
        let line = self
            .lines
            .of_shelf(&ShelfId::new(id).unwrap(), stage)
            .unwrap();
        aim(line, gap)
    }

    /// The best single change for one gap.
    fn best(&self, recipe: &str, aim: Aim) -> RecipeChange {
        let recipe = self.recipe(recipe);
        let found = self.search(&recipe, &[aim], &Wishes::default());
        found.proposals[0].changes[0].change.clone()
    }
}

fn aim(line: usize, gap: f64) -> Aim {
    Aim {
        line,
        weight: 3.0,
        gap,
        variance: 0.5,
    }
}

#[test]
fn more_toast_takes_a_malt_that_was_toasted() {
    // Common practice, and the handbooks: toast, biscuit and crust come of malts kilned dry and hot.
    let kitchen = Kitchen::new();
    let best = kitchen.best("cold-shelf", kitchen.shelf("toasted", Stage::Flavour, -3.0));
    let malt = match &best {
        RecipeChange::AddFermentable(it) => &it.fermentable,
        RecipeChange::SwapFermentable { by, .. } => &by.fermentable,
        other => panic!("{other:?}"),
    };
    assert_eq!(
        malt.family,
        FermentableFamily::Kilned,
        "{}",
        malt.identity.name
    );
}

#[test]
fn less_lingering_bitterness_takes_less_early_hop_and_leaves_the_dry_hop_alone() {
    // Common practice: bitterness comes of hops boiled long.
    let kitchen = Kitchen::new();
    let recipe = kitchen.recipe("open-window");
    let best = kitchen.best("open-window", kitchen.scale("lingering-bitterness", 2.5));
    let at = match &best {
        RecipeChange::Amount {
            part: Part::Hop(at),
            to,
        } => {
            assert!(to.get() < recipe.hops[*at].amount.get());
            *at
        }
        RecipeChange::LeaveOut(Part::Hop(at)) | RecipeChange::HopTime { at, .. } => *at,
        RecipeChange::SwapHop { at, by } => {
            let alpha = |alpha: Option<crate::domain::Percent>, usual: f64| {
                alpha.map_or(usual, crate::domain::Percent::get)
            };
            let was = &recipe.hops[*at];
            let before = was.amount.get() * alpha(was.alpha, was.hop.alpha.usual());
            assert!(by.amount.get() * alpha(by.alpha, by.hop.alpha.usual()) < before);
            *at
        }
        other => panic!("{other:?}"),
    };
    let early = |it: HopTime| matches!(it, HopTime::Boil(time) if time.get() >= 30.0);
    assert!(early(recipe.hops[at].when), "{best:?}");
}

#[test]
fn drier_takes_a_cooler_mash_or_sugar_or_sulphate() {
    // Common practice and Palmer & Kaminski 2013: a cool mash and plain sugar ferment further, sulphate dries.
    let kitchen = Kitchen::new();
    let recipe = kitchen.recipe("oven-door-1");
    let best = kitchen.best("oven-door-1", kitchen.scale("dryness", -2.5));
    let dries = match &best {
        RecipeChange::Mash(to) => *to < recipe.mash.temperature.unwrap(),
        RecipeChange::AddFermentable(it) => matches!(
            it.fermentable.family,
            FermentableFamily::Sugar | FermentableFamily::Honey
        ),
        RecipeChange::AddOther(it) => it
            .other
            .ions
            .iter()
            .any(|it| it.ion == crate::domain::Ion::Sulphate),
        RecipeChange::Yeast(it) => {
            it.yeast.attenuation.usual() > recipe.yeast.as_ref().unwrap().yeast.attenuation.usual()
        }
        _ => false,
    };
    assert!(dries, "{best:?}");
    // Without any yeast in question it is one of the three.
    let locked = Wishes {
        locked: vec![recipe.yeast.as_ref().unwrap().yeast.identity.id.clone()],
        ..Wishes::default()
    };
    let found = kitchen.search(&recipe, &[kitchen.scale("dryness", -2.5)], &locked);
    assert!(!matches!(
        found.proposals[0].changes[0].change,
        RecipeChange::Yeast(_)
    ));
}

#[test]
fn the_same_question_has_the_same_answer() {
    let kitchen = Kitchen::new();
    let recipe = kitchen.recipe("open-window");
    let aims = [
        kitchen.scale("bitter", 2.0),
        kitchen.shelf("orange", Stage::Aroma, -2.0),
    ];
    let once = kitchen.search(&recipe, &aims, &Wishes::default());
    assert_eq!(once, kitchen.search(&recipe, &aims, &Wishes::default()));
    assert!(!once.proposals.is_empty());
}

#[test]
fn who_misses_nothing_is_proposed_nothing() {
    let kitchen = Kitchen::new();
    for name in KINDS {
        let recipe = kitchen.recipe(name);
        let aims = [kitchen.scale("bitter", 0.0), kitchen.scale("sweet", 0.0)];
        let found = kitchen.search(&recipe, &aims, &Wishes::default());
        assert!(found.proposals.is_empty(), "{name}: {:?}", found.proposals);
    }
}

/// A recipe some random changes away from one of the demonstration, as far as it can be brewed.
fn random_recipe(kitchen: &Kitchen, dice: &mut Dice) -> Recipe {
    let name = KINDS[dice.whole(0, 4) as usize];
    let mut recipe = kitchen.recipe(name);
    let wishes = Wishes::default();
    for _ in 0..dice.whole(0, 4) {
        let mut levers = levers_within(&recipe, &wishes);
        levers.extend(levers_from(kitchen.home.catalogue(), &recipe, &wishes));
        let last = u32::try_from(levers.len()).unwrap() - 1;
        let lever = &levers[dice.whole(0, last) as usize];
        let last = u32::try_from(lever.steps.len()).unwrap() - 1;
        let changed = lever.steps[dice.whole(0, last) as usize].apply(&recipe);
        if kitchen.home.outlook(&changed, &kitchen.lines).is_some()
            && !changed.fermentables.is_empty()
        {
            recipe = changed;
        }
    }
    recipe
}

fn random_aims(kitchen: &Kitchen, recipe: &Recipe, dice: &mut Dice) -> Vec<Aim> {
    let digits = kitchen.outlook(recipe).digits;
    let there: Vec<usize> = (0..digits.len()).filter(|it| digits[*it] >= 1.0).collect();
    let last = u32::try_from(there.len()).unwrap() - 1;
    (0..dice.whole(1, 6))
        .map(|_| aim(there[dice.whole(0, last) as usize], 3.0 * dice.normal()))
        .collect()
}

/// Wishes around what the recipe is, so that some can be met, some only with changes, and some not at all.
fn random_wishes(kitchen: &Kitchen, recipe: &Recipe, dice: &mut Dice) -> Wishes {
    let outlook = kitchen.outlook(recipe);
    let around = |driver, width: f64, dice: &mut Dice| {
        let middle = outlook.figure(driver) * (1.0 + 0.15 * dice.normal());
        Bounds::new((middle - width).max(0.0), middle + width)
    };
    let mut ids: Vec<IngredientId> = amounts(recipe).map(|it| it.0.clone()).collect();
    dice.shuffle(&mut ids);
    let sometimes = |it: Option<Bounds>, dice: &mut Dice| it.filter(|_| dice.share() < 0.4);
    let strength = around(Driver::Alcohol, 0.4, dice);
    let bitterness = around(Driver::Bitterness, 6.0, dice);
    let colour = around(Driver::Colour, 6.0, dice);
    Wishes {
        strength: sometimes(strength, dice),
        bitterness: sometimes(bitterness, dice),
        colour: sometimes(colour, dice),
        locked: ids
            .iter()
            .take(dice.whole(0, 2) as usize)
            .cloned()
            .collect(),
        forbidden: ids
            .iter()
            .skip(2)
            .take(usize::from(dice.share() < 0.3))
            .cloned()
            .collect(),
        finest: if dice.share() < 0.3 { 1.0 } else { 0.1 },
        most: [MostChanges::One, MostChanges::Two, MostChanges::Three][dice.whole(0, 2) as usize],
        ..Wishes::default()
    }
}

/// Everything that must hold of a recipe that is proposed, worked out anew.
fn ensure_sound(
    kitchen: &Kitchen,
    parent: &Recipe,
    wishes: &Wishes,
    changes: &[RecipeChange],
    recipe: &Recipe,
) {
    let outlook = kitchen.outlook(recipe);
    let within = |bounds: Option<Bounds>, driver, what: &str| {
        if let Some(bounds) = bounds {
            let is = outlook.figure(driver);
            assert!(
                is >= bounds.low() - 0.051 && is <= bounds.high() + 0.051,
                "{what} {is} {bounds:?}"
            );
        }
    };
    within(wishes.strength, Driver::Alcohol, "alcohol");
    within(wishes.bitterness, Driver::Bitterness, "bitterness");
    within(wishes.colour, Driver::Colour, "colour");
    assert!(changes.len() <= wishes.most.number());
    // What is locked stands there with the same amounts and times.
    for id in &wishes.locked {
        let of = |recipe: &Recipe| {
            let malts = recipe
                .fermentables
                .iter()
                .filter(|it| it.fermentable.identity.id == *id);
            let malts: Vec<f64> = malts.map(|it| it.amount.get()).collect();
            let hops = recipe.hops.iter().filter(|it| it.hop.identity.id == *id);
            let hops: Vec<(f64, HopTime)> = hops.map(|it| (it.amount.get(), it.when)).collect();
            let others = recipe
                .others
                .iter()
                .filter(|it| it.other.identity.id == *id);
            (
                malts,
                hops,
                others.map(|it| it.amount.get()).collect::<Vec<f64>>(),
            )
        };
        assert_eq!(of(recipe), of(parent), "{id} was locked");
    }
    for id in &wishes.forbidden {
        assert!(amounts(recipe).all(|it| it.0 != id), "{id} was forbidden");
    }
    // Nobody who could drink the old one is kept from the new one.
    let old: Vec<_> = parent.allergens().collect();
    assert!(recipe.allergens().all(|it| old.contains(&it)));
    // A scale that weighs no finer is not asked to.
    for change in changes {
        let grams = match change {
            RecipeChange::Amount { to, .. } => to.get(),
            RecipeChange::AddFermentable(it) => it.amount.get(),
            RecipeChange::AddHop(it) => it.amount.get(),
            RecipeChange::AddOther(it) => it.amount.get(),
            _ => continue,
        };
        let steps = grams / wishes.finest;
        assert!(
            (steps - steps.round()).abs() < 1e-6,
            "{grams} g on a scale of {}",
            wishes.finest
        );
    }
    // Common practice: above 3 volumes a crown-cap bottle can burst.
    let light = matches!(
        recipe.packaging.bottle,
        Bottle::Crown | Bottle::OneWay | Bottle::Unknown
    );
    let gas = |it: &Recipe| {
        it.packaging
            .carbonation
            .map_or(0.0, crate::domain::Volumes::get)
    };
    assert!(!light || gas(recipe) <= gas(parent).max(3.0));
    assert!(
        outlook.figure(Driver::Alcohol)
            <= kitchen.outlook(parent).figure(Driver::Alcohol).max(12.0) + 1e-6
    );
}

#[test]
fn searches_on_random_recipes_keep_every_wish_and_propose_nothing_that_hurts() {
    let kitchen = Kitchen::new();
    let (mut proposed, mut named) = (0, 0);
    for seed in 0..300 {
        let mut dice = Dice::from_seed(seed);
        let recipe = random_recipe(&kitchen, &mut dice);
        let aims = random_aims(&kitchen, &recipe, &mut dice);
        let wishes = random_wishes(&kitchen, &recipe, &mut dice);
        let found = kitchen.search(&recipe, &aims, &wishes);
        for proposal in &found.proposals {
            let changes: Vec<RecipeChange> = proposal
                .changes
                .iter()
                .map(|it| it.change.clone())
                .collect();
            ensure_sound(&kitchen, &recipe, &wishes, &changes, &proposal.recipe);
            assert!(proposal.loss < found.loss, "{seed}");
            proposed += 1;
        }
        // Where a wish is unmet as it is, either a proposal meets it, or what stands in the way is named.
        let before = kitchen.outlook(&recipe);
        let is_unmet = !unmet(&recipe, &before, &wishes).is_empty();
        assert!(
            !is_unmet || !found.proposals.is_empty() || !found.unmet.is_empty(),
            "{seed}"
        );
        named += usize::from(!found.unmet.is_empty());
    }
    assert!(proposed > 100 && named > 5, "{proposed} {named}");
}
