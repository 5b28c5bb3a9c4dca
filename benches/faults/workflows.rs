//! Every workflow that writes, each with the kitchen it begins in; one more is one more row.

use std::fs;
use std::path::Path;

use thirdglass::formats::EXAMPLE;
use thirdglass::statistics::Dice;

use crate::kitchen::Kitchen;
use crate::script::Script;
use crate::trial::Act;
use crate::typed_line::typed_words;

/// The kitchen in which a workflow begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Base {
    /// A recipe file, and no home yet.
    New,
    /// Two batches and two tasters.
    Brewed,
    /// Both have tasted the first batch.
    Tasted,
    /// The demonstration.
    Demo,
}

/// A workflow.
pub(crate) struct Workflow {
    pub(crate) name: &'static str,
    pub(crate) base: Base,
    /// What is done before, and what is then tried.
    pub(crate) prepare: fn(&mut Kitchen) -> Act,
}

/// The kitchens in which workflows begin.
pub(crate) struct Bases {
    new: Kitchen,
    brewed: Kitchen,
    tasted: Kitchen,
    demo: Kitchen,
}

impl Bases {
    pub(crate) const fn of(&self, base: Base) -> &Kitchen {
        match base {
            Base::New => &self.new,
            Base::Brewed => &self.brewed,
            Base::Tasted => &self.tasted,
            Base::Demo => &self.demo,
        }
    }
}

/// Makes the kitchens.
pub(crate) fn bases(top: &Path, library: &Path) -> Bases {
    let new = Kitchen::new(&top.join("new"), library);
    new.write("r.toml", first_version());
    new.write("r2.toml", EXAMPLE);
    new.write("ratings.csv", RATINGS);
    let mut brewed = new.copied(&top.join("brewed"));
    for line in [
        "batch add r.toml --mark S1",
        "batch add r.toml --mark S2",
        "taster add Ana",
        "taster add Ben",
    ] {
        brewed.done(line);
    }
    let mut tasted = brewed.copied(&top.join("tasted"));
    for name in ["Ana", "Ben"] {
        tasted.told(&format!("taste S1 --taster {name} --plain"), SHORT_TASTING);
    }
    let mut demo = new.copied(&top.join("demo"));
    demo.done("--demo home export kitchen.zip --sealed-too");
    demo.done("home import kitchen.zip");
    fs::remove_file(demo.folder.join("kitchen.zip")).expect("it was just written");
    Bases {
        new,
        brewed,
        tasted,
        demo,
    }
}

/// The short glass, from the checklist to the lock; Enter alone names no word.
const SHORT_TASTING: &str = "/short\n1\n1\n5\n\n4\n5\n4\n3\n6\n\n";

/// Ratings that were kept elsewhere.
const RATINGS: &str = "taster,sitting,sample,replicate,date,line,intensity,low,high
Ana,one,p,1,2026-03-14,bitter,4,0,9
Ana,one,q,1,2026-03-14,bitter,6,0,9
Cleo,one,p,1,2026-03-14,bitter,5,0,9
Cleo,one,q,1,2026-03-14,bitter,7,0,9
";

/// The recipe of which the example is the second version.
fn first_version() -> String {
    let lines = EXAMPLE
        .lines()
        .filter(|it| !it.starts_with("parent") && !it.starts_with("reason"));
    let lines = lines.map(|it| {
        if it.starts_with("version") {
            "version = \"1\""
        } else {
            it
        }
    });
    lines.map(|it| it.to_owned() + "\n").collect()
}

fn command(line: &str) -> Act {
    Act::Command(typed_words(line), String::new())
}

fn lines(line: &str, typed: &str) -> Act {
    Act::Lines(
        typed_words(line),
        typed.lines().map(str::to_owned).collect(),
    )
}

/// A row of one command that needs nothing more than its kitchen and some commands before.
macro_rules! typed {
    ($name:literal, $base:ident, $($before:literal,)* => $line:expr) => {
        Workflow {
            name: $name,
            base: Base::$base,
            prepare: |_kitchen| {
                $(_kitchen.done($before);)*
                $line
            },
        }
    };
}

/// A row of a file of an earlier schema that is opened.
macro_rules! earlier {
    ($name:literal, $file:literal) => {
        Workflow {
            name: $name,
            base: Base::New,
            prepare: |kitchen| {
                let file = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/fixtures/", $file);
                kitchen.write(
                    "home/thirdglass.db",
                    fs::read(file).expect("it is a file of the project"),
                );
                command("taster list")
            },
        }
    };
}

/// All workflows that write.
pub(crate) static WORKFLOWS: &[Workflow] = &[
    typed!("first start", New, => command("taster add Ana")),
    typed!("taster add", Brewed, => command("taster add Cleo")),
    typed!("taster rename", Tasted, => command("taster rename Ana Fox")),
    typed!("taster forget", Tasted, => command("taster forget Ana --yes")),
    typed!("taster export", Tasted, => command("taster export Ana ana.txt")),
    typed!("recipe new", New, => Act::Command(typed_words("recipe new n.toml"), "Dusk\n".repeat(10))),
    typed!("recipe convert", New, => command("recipe convert r.toml r.json")),
    typed!("batch add", Brewed, => command("batch add r.toml --mark S3")),
    typed!("new version", Brewed, => command("batch add r2.toml --mark S3")),
    typed!("batch log", Brewed, => command("batch log S1 original-gravity 1.052")),
    typed!("intent", Brewed, => command("batch log S1 intent r2.toml")),
    typed!("prediction kept", Tasted, => command("compare S1")),
    Workflow {
        name: "taste",
        base: Base::Brewed,
        prepare: taste,
    },
    // What is predicted is kept in a step of its own, after the seal.
    typed!("seal broken", Tasted, "compare S1", "taste S1 --taster Ana --plain", => command("compare S1 --break-seal")),
    Workflow {
        name: "lock and second sniff",
        base: Base::Brewed,
        prepare: second_sniff,
    },
    typed!("two glasses", Brewed, => lines("taste S1 S2 --taster Ana --plain", TWO_GLASSES)),
    typed!("blind plan", Brewed, => command("blind plan S1 S2 --tasters 3")),
    typed!("blind sheet", Brewed, "blind plan S1 S2 --tasters 3", => command("blind sheet 1 --for pourer --as Ben")),
    Workflow {
        name: "blind answer",
        base: Base::Brewed,
        prepare: |kitchen| command(&answer(kitchen)),
    },
    Workflow {
        name: "blind leave",
        base: Base::Brewed,
        prepare: |kitchen| {
            answered(kitchen);
            command("blind answer 1 --taster Ana --leave")
        },
    },
    Workflow {
        name: "blind close",
        base: Base::Brewed,
        prepare: |kitchen| {
            answered(kitchen);
            command("blind close 1 --early")
        },
    },
    typed!("practice words", Brewed, => lines("practice words --taster Ana --plain", WORDS)),
    typed!("course", Brewed, => command("practice course Winter --people Ana,Ben --meetings 3")),
    typed!("evening", Brewed, "practice course Winter --people Ana,Ben --meetings 3",
        => lines("practice evening Winter --minutes 60 --plain", EVENING)),
    typed!("panel plan", Brewed, => command("panel plan S1 S2 --tasters Ana,Ben --doubled 1 --form short")),
    typed!("panel taste", Brewed, "panel plan S1 S2 --tasters Ana,Ben --form short",
        => lines("panel taste --taster Ana --plain", PANEL)),
    typed!("panel sheet", Brewed, "panel plan S1 S2 --tasters Ana,Ben --form short",
        => command("panel sheet --reader Ana --yes")),
    typed!("panel tell", Brewed, "panel plan S1 S2 --tasters Ana,Ben --form short", => command("panel tell --early")),
    typed!("ratings read in", Brewed, => command("taster import ratings.csv")),
    typed!("ratings removed", Brewed, "taster import ratings.csv", => command("remove import 1")),
    Workflow {
        name: "photo add",
        base: Base::Tasted,
        prepare: |kitchen| {
            picture(kitchen);
            command("photo add S1 glass.png --of glass --taster Ana")
        },
    },
    Workflow {
        name: "photo show",
        base: Base::Tasted,
        prepare: |kitchen| {
            picture(kitchen);
            kitchen.done("photo add S1 glass.png --of glass");
            command("photo show S1 1 out.jpg")
        },
    },
    Workflow {
        name: "photo remove",
        base: Base::Tasted,
        prepare: |kitchen| {
            picture(kitchen);
            kitchen.done("photo add S1 glass.png --of glass");
            command("remove photo S1 1")
        },
    },
    typed!("next, proposal kept", Demo, "next OD1", => command("next OD1 --write next.toml")),
    typed!("batch removed", Brewed, => command("remove batch S2")),
    typed!("batch brought back", Brewed, "remove batch S2", => command("removed --bring-back 1")),
    typed!("batch thrown out", Brewed, "remove batch S2", => command("removed --for-good 1")),
    typed!("home backup", Tasted, => command("home backup copy.db")),
    typed!("settings", Brewed, => command("settings --write")),
    typed!("wheel drawn", Tasted, => command("wheel draw --svg wheel.svg")),
    typed!("printed", Tasted, => command("print tasting-sheet S1 tasting.pdf")),
    typed!("home export", Tasted, => command("home export all.zip")),
    typed!("home tables", Tasted, => command("home tables tables")),
    Workflow {
        name: "home import",
        base: Base::Tasted,
        prepare: |kitchen| {
            kitchen.done("settings --write");
            kitchen.done("home export all.zip");
            fs::remove_dir_all(kitchen.folder.join("home")).expect("it is ours");
            command("home import all.zip")
        },
    },
    earlier!("schema 1 opened", "schema-1.db"),
    earlier!("schema 2 opened", "schema-2.db"),
    earlier!("schema 3 opened", "schema-3.db"),
    earlier!("schema 4 opened", "schema-4.db"),
    earlier!("schema 5 opened", "schema-5.db"),
    earlier!("schema 6 opened", "schema-6.db"),
    earlier!("schema 7 opened", "schema-7.db"),
];

/// Two glasses stage by stage, the short way, to the lock; the cups were shuffled, and the left one was the first beer.
const TWO_GLASSES: &str = "2\n\n/short\n1\n1\n5\n6\n\n4\n5\n\n4\n5\n4\n5\n3\n3\n6\n7\n\n1\n";

/// Some answers about words, each with how sure.
const WORDS: &str = "1\n5\n\n2\n7\n\n3\n8\n\n1\n9\n\n";

/// Present or not, by one who learns.
const EVENING: &str = "5\n1\n1\n5\n2\n7\n1\n5\n1\n9\n";

/// A glass of a panel, the short way.
const PANEL: &str = "\n\n1\n5\n\n4\n3\n4\n3\n6\n\n";

/// A whole tasting in the full form.
fn taste(_: &mut Kitchen) -> Act {
    let script = Script::draw(&mut Dice::from_seed(1));
    let typed = script.steps.iter().map(|it| it.line.clone()).collect();
    Act::Lines(typed_words("taste S1 --taster Ana --plain"), typed)
}

/// All but the lock is done; then the lock, and six words that are asked for.
fn second_sniff(kitchen: &mut Kitchen) -> Act {
    let open = SHORT_TASTING
        .strip_suffix('\n')
        .expect("the lock comes last");
    kitchen.told("taste S1 --taster Ana --plain", open);
    lines(
        "taste S1 --taster Ana --plain",
        "\n/second-sniff\ny\nn\ny\nn\ny\nn\n",
    )
}

/// A blind test with one answer.
fn answered(kitchen: &mut Kitchen) {
    let line = answer(kitchen);
    kitchen.done(&line);
}

/// The answer with the first code of the set that a taster is told.
fn answer(kitchen: &mut Kitchen) -> String {
    kitchen.done("blind plan S1 S2 --tasters 3");
    let told = kitchen.done("blind answer 1 --taster Ana");
    let codes = told.split_once("right: ").expect("it tells the codes").1;
    let code = codes.split_whitespace().next().expect("there are three");
    format!("blind answer 1 --taster Ana --choose {code} --sure rather --words honey")
}

/// A picture of a beer, of one colour.
fn picture(kitchen: &Kitchen) {
    let picture = image::RgbImage::from_pixel(400, 300, image::Rgb([180, 90, 20]));
    picture
        .save(kitchen.folder.join("glass.png"))
        .expect("a picture can be written");
}
