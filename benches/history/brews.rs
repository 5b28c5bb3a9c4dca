//! Recipes that go from version to version, and the batches brewed of them, with logs, hopes and predictions.

use std::fmt::Write as _;

use thirdglass::domain::Batch;
use thirdglass::domain::BatchEntry;
use thirdglass::domain::BatchEntryId;
use thirdglass::domain::BatchId;
use thirdglass::domain::Beer;
use thirdglass::domain::BeerId;
use thirdglass::domain::Day;
use thirdglass::domain::EntryKind;
use thirdglass::domain::KeptPrediction;
use thirdglass::domain::Name;
use thirdglass::domain::PredictedLine;
use thirdglass::domain::PredictionId;
use thirdglass::domain::RecipeVersion;
use thirdglass::domain::RecipeVersionId;
use thirdglass::formats::document_hash;
use thirdglass::formats::read_recipe;
use thirdglass::formats::write_prediction;
use thirdglass::profile::MODEL_VERSION;
use thirdglass::statistics::Dice;
use thirdglass::storage::Store;
use thirdglass::workflow::Home;

use super::DAYS;
use super::ID_LETTERS;
use super::Outcome;
use super::at;
use super::first_day;
use super::one_of;

/// A kind of beer: what goes in, what is hoped for, and what is usually found.
pub(super) struct Kind {
    names: [&'static str; 4],
    grist: [(&'static str, u32); 3],
    bittering: &'static str,
    late: (&'static str, &'static str),
    yeast: &'static str,
    hoped: [&'static str; 3],
    /// Words that people find in it.
    pub(super) found: [&'static str; 8],
    /// Levels of bitter, sweet, fullness and the colour in EBC.
    pub(super) levels: [f64; 4],
}

pub(super) static KINDS: [Kind; 3] = [
    Kind {
        names: ["Oven door", "Coal bucket", "Long evening", "Black kettle"],
        grist: [
            ("Pale ale malt", 900),
            ("Munich malt, dark", 200),
            ("Chocolate malt", 70),
        ],
        bittering: "Northern Brewer",
        late: ("Mandarina Bavaria", "whirlpool = \"80 °C for 20 min\""),
        yeast: "Clean ale yeast",
        hoped: ["dark rye bread", "cocoa powder", "orange peel"],
        found: [
            "dark rye bread",
            "cocoa powder",
            "orange peel",
            "cold ash",
            "roasted hazelnut",
            "tangerine",
            "honey",
            "raw grain",
        ],
        levels: [4.5, 3.5, 6.0, 48.0],
    },
    Kind {
        names: ["Open window", "First swim", "Tall grass", "Loud morning"],
        grist: [
            ("Pale malt", 1_250),
            ("Vienna malt", 100),
            ("Wheat malt, pale", 80),
        ],
        bittering: "Magnum",
        late: ("Cascade", "dry = \"3 days at 18 °C\""),
        yeast: "Dry ale yeast",
        hoped: ["grapefruit zest", "pine", "cracker"],
        found: [
            "grapefruit zest",
            "pine",
            "cracker",
            "lemon zest",
            "rose",
            "tangerine",
            "bread dough",
            "honey",
        ],
        levels: [6.5, 2.5, 3.5, 9.0],
    },
    Kind {
        names: ["Garden chair", "Straw hat", "Wet sand", "Slow river"],
        grist: [
            ("Pale malt", 600),
            ("Wheat malt, pale", 550),
            ("Munich malt, dark", 60),
        ],
        bittering: "Magnum",
        late: ("Cascade", "whirlpool = \"80 °C for 20 min\""),
        yeast: "Dry ale yeast",
        hoped: ["lemon zest", "bread dough", "orange peel"],
        found: [
            "lemon zest",
            "bread dough",
            "orange peel",
            "coriander seed",
            "clove",
            "raw grain",
            "honey",
            "orange juice",
        ],
        levels: [2.5, 4.0, 4.5, 6.5],
    },
];

/// A batch as the rest of a history needs it.
pub(super) struct Brewed {
    pub(super) beer: Beer,
    pub(super) kind: &'static Kind,
    /// The first day on which it is ready.
    pub(super) ready: Day,
    /// How far this brew lies from its kind, in digits.
    pub(super) shift: f64,
}

/// Writes recipes and batches, the oldest first.
pub(super) fn write(
    store: &mut Store,
    home: &Home,
    batches: u32,
    dice: &mut Dice,
) -> Outcome<Vec<Brewed>> {
    let mut brewed = Vec::new();
    let mut line: Option<Line> = None;
    for number in 0..batches {
        let day = u16::try_from(u64::from(number) * u64::from(DAYS) / u64::from(batches))?;
        let day = first_day()?.days_later(day);
        // A recipe is brewed until it has five versions; every third brew repeats a version.
        let open = line.take().filter(|it| it.version < 5);
        let mut now = open.unwrap_or_else(|| Line::new(number, dice));
        if now.kept.is_none() || dice.whole(0, 2) > 0 {
            now.brew_again(store, home, day, dice)?;
        }
        brewed.push(batch(store, &now, number, day, dice)?);
        line = Some(now);
    }
    Ok(brewed)
}

/// A recipe with the version it has come to.
struct Line {
    name: String,
    kind: &'static Kind,
    version: u32,
    kept: Option<RecipeVersionId>,
}

impl Line {
    fn new(number: u32, dice: &mut Dice) -> Self {
        let kind = one_of(dice, &KINDS);
        Self {
            name: format!("{} {}", one_of(dice, &kind.names), number + 1),
            kind,
            version: 0,
            kept: None,
        }
    }

    fn brew_again(
        &mut self,
        store: &mut Store,
        home: &Home,
        day: Day,
        dice: &mut Dice,
    ) -> Outcome<()> {
        self.version += 1;
        let document = self.document(dice)?;
        let reason = (self.version > 1).then_some("a little more of what was missing");
        let version = RecipeVersion {
            id: RecipeVersionId::new(dice.letters(ID_LETTERS)),
            parent: self.kept.clone(),
            reason: reason.map(|it| Name::new("a reason", it)).transpose()?,
            name: Name::new("a name", &self.name)?,
            version: Name::new("a version", &self.version.to_string())?,
            hash: document_hash(&document),
            made_at: at(day, 0)?,
            document,
        };
        // Nothing is kept that the program would not read.
        if self.version == 1 {
            read_recipe(
                &self.name,
                &version.document,
                home.catalogue(),
                home.wheel(),
            )
            .map_err(|them| format!("{them:?}"))?;
        }
        store.add_recipe_version(&version)?;
        self.kept = Some(version.id);
        Ok(())
    }

    fn document(&self, dice: &mut Dice) -> Outcome<String> {
        let Kind {
            bittering,
            late,
            yeast,
            ..
        } = *self.kind;
        let mut text = format!("name = \"{}\"\nversion = \"{}\"\n", self.name, self.version);
        if self.version > 1 {
            writeln!(text, "parent = \"{}\"", self.version - 1)?;
            writeln!(text, "reason = \"a little more of what was missing\"")?;
        }
        text += "volume = \"5 L\"\nefficiency = \"70 %\"\n[mash]\ntemperature = \"66 °C\"\ntime = \"60 min\"\n[boil]\ntime = \"60 min\"\n";
        for (malt, grams) in self.kind.grist {
            let grams = grams + 5 * dice.whole(0, 12);
            writeln!(
                text,
                "[[fermentable]]\nname = \"{malt}\"\namount = \"{grams} g\""
            )?;
        }
        let (first, last) = (dice.whole(4, 9), dice.whole(10, 30));
        writeln!(
            text,
            "[[hop]]\nname = \"{bittering}\"\namount = \"{first} g\"\nalpha = \"9 %\"\nboil = \"60 min\""
        )?;
        writeln!(
            text,
            "[[hop]]\nname = \"{}\"\namount = \"{last} g\"\nalpha = \"7 %\"\n{}",
            late.0, late.1
        )?;
        writeln!(text, "[yeast]\nname = \"{yeast}\"\ntemperature = \"19 °C\"")?;
        writeln!(
            text,
            "[carbonation]\ntarget = \"2.3 vol\"\npriming = \"sucrose\"\nbottle = \"crown\"\n[intent.words]"
        )?;
        for word in self.kind.hoped {
            let digit = dice.whole(2, 6);
            writeln!(
                text,
                "\"{word}\" = {{ aroma = {digit}, flavour = {digit}, matters = 2 }}"
            )?;
        }
        let [bitter, _, fullness, _] = self.kind.levels;
        writeln!(
            text,
            "[intent.scales]\nbitter = {{ value = {bitter:.0}, matters = 2 }}\nfullness = {{ value = {fullness:.0}, matters = 2 }}"
        )?;
        writeln!(
            text,
            "[[promised]]\npacket = \"{}\"\nwords = [\"{}\"]",
            late.0, self.kind.found[5]
        )?;
        Ok(text)
    }
}

fn batch(
    store: &mut Store,
    line: &Line,
    number: u32,
    day: Day,
    dice: &mut Dice,
) -> Outcome<Brewed> {
    let version = line
        .kept
        .clone()
        .expect("a recipe is kept before it is brewed");
    let batch = Batch {
        id: BatchId::new(dice.letters(ID_LETTERS)),
        version,
        cap_mark: Name::new("a cap mark", &format!("B{}", number + 1))?,
        made_at: at(day, 0)?,
    };
    let beer = Beer {
        id: BeerId::new(dice.letters(ID_LETTERS)),
        cap_mark: batch.cap_mark.clone(),
        batch: Some(batch.id.clone()),
        abv: None,
    };
    store.add_batch(&batch, &beer)?;
    let packaged = day.days_later(15);
    let original = 1.044 + 0.012 * dice.share();
    let logged = [
        ("brewed", day.to_string(), 0),
        (
            "volume-fermenter",
            format!("{:.1}", 4.6 + 0.5 * dice.share()),
            0,
        ),
        ("original-gravity", format!("{original:.3}"), 0),
        ("pitching-temperature", "19".to_owned(), 0),
        (
            "fermentation-temperature",
            format!("{}", dice.whole(18, 21)),
            15,
        ),
        (
            "final-gravity",
            format!("{:.3}", 1.008 + 0.005 * dice.share()),
            15,
        ),
        ("packaged", packaged.to_string(), 15),
        ("volume-packaged", "4.2".to_owned(), 15),
        ("priming-sugar", format!("{}", dice.whole(20, 28)), 15),
        ("storage-temperature", "18".to_owned(), 15),
        ("bottles-left", format!("{}", dice.whole(0, 9)), 60),
    ];
    for (kind, value, later) in logged {
        let kind = EntryKind::from_id(kind)?;
        let entry = BatchEntry {
            id: BatchEntryId::new(dice.letters(ID_LETTERS)),
            kind,
            value: kind.read(&value)?,
            at: at(day.days_later(later), 300)?,
        };
        store.add_entry(&batch.id, &entry)?;
    }
    let shift = dice.normal();
    store.add_prediction(&prediction(&batch, line.kind, day, dice)?)?;
    Ok(Brewed {
        beer,
        kind: line.kind,
        ready: day.days_later(36),
        shift,
    })
}

/// What was predicted on the day of the brew: the scales that the kind is known by.
fn prediction(batch: &Batch, kind: &Kind, day: Day, dice: &mut Dice) -> Outcome<KeptPrediction> {
    let scales = ["bitter", "sweet", "fullness"].into_iter().zip(kind.levels);
    let lines: Vec<PredictedLine> = scales
        .map(|(id, level)| {
            let middle = (level + 0.4 * dice.normal()).clamp(1.0, 8.0);
            PredictedLine {
                id: id.to_owned(),
                chance: None,
                low: middle - 1.0,
                middle,
                high: middle + 1.0,
            }
        })
        .collect();
    Ok(KeptPrediction {
        id: PredictionId::new(dice.letters(ID_LETTERS)),
        version: batch.version.clone(),
        batch: batch.id.clone(),
        model_version: MODEL_VERSION.to_owned(),
        catalogue_version: "invented".to_owned(),
        document: write_prediction(&lines),
        made_at: at(day, 10)?,
    })
}
