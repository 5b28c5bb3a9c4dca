//! Proposals held against the trade and against wishes: what a brewer would do, and what no brewer would want.

use crate::domain::FermentableFamily;
use crate::domain::HopTime;
use crate::domain::Part;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::domain::Scale;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::profile::Aim;
use crate::profile::Caution;
use crate::profile::Familiar;
use crate::profile::FoundRecipes;
use crate::profile::Outlook;
use crate::profile::OutlookLines;
use crate::profile::Search;
use crate::profile::Wishes;
use crate::storage::builtin_demo_files;
use crate::workflow::Home;

pub(super) const KINDS: [&str; 5] = [
    "cold-shelf",
    "garden-chair",
    "hay-loft",
    "open-window",
    "oven-door-1",
];

pub(super) struct Kitchen {
    pub(super) home: Home,
    pub(super) lines: OutlookLines,
}

impl Kitchen {
    pub(super) fn new() -> Self {
        let home = Home::trial();
        let lines = home.outlook_lines();
        Self { home, lines }
    }

    pub(super) fn recipe(&self, name: &str) -> Recipe {
        let mut files = builtin_demo_files().iter();
        let (name, text) = files.find(|it| it.0.starts_with(name)).unwrap();
        self.home.parse_recipe(name, text).unwrap()
    }

    pub(super) fn outlook(&self, recipe: &Recipe) -> Outlook {
        self.home.outlook(recipe, &self.lines).unwrap()
    }

    pub(super) fn search(&self, recipe: &Recipe, aims: &[Aim], wishes: &Wishes) -> FoundRecipes {
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

pub(super) fn aim(line: usize, gap: f64) -> Aim {
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
