//! A home with planted words, what it tells by commands, and which of the words were told.

use crate::heard::Heard;
use crate::kitchen::Kitchen;
use crate::walls;

/// Words that no wheel has: the recipe's name, version, packet and log, and the notes of others.
const PLANTED: [&str; 7] = [
    "Lantern heron",
    "7-vole",
    "with the fox",
    "mottled ferret",
    "kelpstring",
    "otterglove",
    "Cleo, bad bottle",
];

/// Words of the plan that are on the wheel too: there, and in a search, they betray nothing.
const PLANTED_FROM_THE_WHEEL: [&str; 3] = ["liquorice", "passion fruit", "gooseberry"];

/// What stands in the recipe and is shown on no page so far, sealed or not.
const NEVER_SHOWN: [&str; 2] = ["wolfram", "Badgerhop"];

/// The figures that would give the beer away, by their names on the page of a batch.
const FIGURES: [&str; 8] = [
    "Original gravity",
    "Final gravity",
    "Alcohol",
    "Real extract",
    "Apparent attenuation",
    "Energy",
    "Bitterness",
    "Colour",
];

/// A recipe with planted words and with figures far from any usual beer.
pub(crate) const RECIPE: &str = r#"
name = "Lantern heron"
version = "7-vole"
reason = "less wolfram"
volume = "5 L"

[boil]
time = "60 min"

[[fermentable]]
name = "Pale ale malt"
amount = "1.9 kg"

[[fermentable]]
name = "Chocolate malt"
amount = "160 g"

[[hop]]
name = "Badgerhop"
amount = "80 g"
boil = "60 min"

[yeast]
name = "Clean ale yeast"

[intent.words]
"liquorice" = { aroma = 6, flavour = 7, matters = 3 }
"passion fruit" = { aroma = 5, flavour = 4 }

[intent.scales]
bitter = { value = 8, matters = 3 }

[[promised]]
packet = "Packet with the fox"
words = ["gooseberry"]

[[declare.hop]]
name = "Badgerhop"
alpha = "7.9 %"
"#;

/// A home with a planted batch, the locked notes of Ben and a bad bottle of Cleo's.
pub(crate) struct Planted {
    pub(crate) kitchen: Kitchen,
    pub(crate) recipe: String,
    figures: Vec<String>,
}

impl Planted {
    pub(crate) fn new() -> Self {
        let kitchen = Kitchen::new();
        let recipe = kitchen.write("r1.toml", RECIPE);
        kitchen.done(&["batch", "add", &recipe, "--mark", "T1"]);
        kitchen.done(&["batch", "log", "T1", "original-gravity", "1.0874"]);
        kitchen.done(&["batch", "log", "T1", "note", "mottled", "ferret"]);
        let figures = figures(&kitchen.done(&["batch", "show", "T1"]));
        assert_eq!(figures.len(), FIGURES.len(), "{figures:?}");
        let to_the_lock = "/next-stage\n".repeat(12);
        let ben = format!("\n4\n1\nkelpstring\n6\n{to_the_lock}/up\notterglove\n\n");
        let planted = Self {
            kitchen,
            recipe,
            figures,
        };
        planted.tastes("Ben", &ben);
        planted.tastes("Cleo", "/bad-bottle\n4\n");
        planted
    }

    /// Lets someone taste T1 line by line.
    pub(crate) fn tastes(&self, name: &str, lines: &str) -> String {
        let told = self
            .kitchen
            .fed(&["taste", "T1", "--taster", name, "--plain"], lines);
        assert_eq!(told.code, 0, "{}", told.err);
        told.out
    }

    /// Locks the notes of someone who has begun.
    pub(crate) fn locks(&self, name: &str) {
        let out = self.tastes(name, &format!("{}/yes\n", "/next-stage\n".repeat(12)));
        assert!(
            out.contains("locked") || out.contains("found in T1"),
            "{out}"
        );
    }

    /// The planted words that were told, with the place.
    pub(crate) fn leaks(&self, heard: &[Heard]) -> Vec<String> {
        let mut leaks = Vec::new();
        for it in heard {
            let figures = self.figures.iter().map(String::as_str);
            let words = PLANTED.into_iter().chain(NEVER_SHOWN).chain(figures);
            let from_the_wheel = PLANTED_FROM_THE_WHEEL
                .into_iter()
                .filter(|_| !it.on_the_wheel);
            for word in words.chain(from_the_wheel) {
                if it.text.to_lowercase().contains(&word.to_lowercase()) {
                    leaks.push(format!("{word}, in {}", it.place));
                }
            }
        }
        leaks
    }

    /// The poster that a command draws, and what it complains.
    pub(crate) fn poster(&self, of: [&str; 2], name: &str) -> (Option<String>, String) {
        let file = self.kitchen.folder().join(name);
        let shown = file.to_string_lossy();
        let told = self
            .kitchen
            .run(&["wheel", "draw", of[0], of[1], "--svg", &shown]);
        (std::fs::read_to_string(&file).ok(), told.err)
    }

    pub(crate) fn assert_silent(&self, heard: &[Heard]) {
        assert!(heard.len() > 10, "something was looked at");
        assert_eq!(self.leaks(heard), Vec::<String>::new());
    }

    /// Asserts that every planted word that has a page is told.
    pub(crate) fn assert_told(&self, heard: &[Heard]) {
        let leaks = self.leaks(heard).join("\n");
        let figures = self.figures.iter().map(String::as_str);
        for word in PLANTED
            .into_iter()
            .chain(PLANTED_FROM_THE_WHEEL)
            .chain(figures)
        {
            assert!(
                leaks.contains(&format!("{word}, in ")),
                "{word} is not told"
            );
        }
    }

    /// Every command that has to do with the batch, its recipe, the tasters or the wheel.
    pub(crate) fn commands(&self) -> Vec<Heard> {
        let copy = self
            .kitchen
            .write("r2.toml", format!("# A copy.\n{RECIPE}"));
        let commands: &[&[&str]] = &[
            &["batch", "list"],
            &["batch", "list", "--json"],
            &["batch", "show", "T1"],
            &["batch", "show", "T1", "--json"],
            &["batch", "show", "T9"],
            &["batch", "log", "T1", "bottles-left", "9"],
            &["batch", "log", "T1", "colour", "9"],
            &["batch", "log", "T1", "original-gravity", "9"],
            &["compare", "T1"],
            &["compare", "T1", "--json"],
            &["compare", "T1", "--taster", "Ben"],
            &["compare", "T1", "--taster", "Ben", "--json"],
            &["compare", "T9"],
            &["recipe", "history", "Lantern", "heron"],
            &["recipe", "history", "Lantern", "heron", "--json"],
            &["recipe", "history", "Lintern"],
            &["recipe", "history", "--help"],
            &["recipe", "predict", &self.recipe],
            &["recipe", "predict", &self.recipe, "--json"],
            &["recipe", "predict", &copy],
            &["recipe", "predict", &copy, "--json"],
            &["recipe", "predict", &self.recipe, "--taster", "Ben"],
            &["taster", "learnt", "Ben"],
            &["taster", "learnt", "Ben", "--json"],
            &["taster", "list"],
            &["taster", "list", "--json"],
            &["taster", "add", "Ben"],
            &["--help"],
            &["batch", "--help"],
            &["batch", "show", "--help"],
            &["compare", "--help"],
            &["recipe", "--help"],
            &["taste", "--help"],
        ];
        let poster = self.kitchen.folder().join("poster.svg");
        let poster = poster.to_string_lossy();
        let on_the_wheel: &[&[&str]] = &[
            &["wheel", "list"],
            &["wheel", "list", "--json"],
            &["wheel", "show", "liquorice"],
            &["wheel", "show", "liquorice", "--json"],
            &["wheel", "check"],
            &["wheel", "draw", "--batch", "T1", "--svg", &poster],
            &["wheel", "draw", "--taster", "Ben", "--svg", &poster],
        ];
        let mut heard: Vec<Heard> = commands.iter().flat_map(|it| self.asked(it)).collect();
        for command in on_the_wheel {
            heard.extend(self.asked(command).map(|it| Heard {
                on_the_wheel: true,
                ..it
            }));
        }
        heard.extend(self.writing_commands());
        heard.extend(walls::folders(&self.kitchen));
        heard
    }

    /// What is told by commands that write something, print, remove, or look through everything.
    fn writing_commands(&self) -> Vec<Heard> {
        let picture = self.kitchen.folder().join("picture.png");
        let white = image::RgbImage::from_pixel(4, 3, image::Rgb([255; 3]));
        white.save(&picture).expect("there is room for a picture");
        let picture = picture.to_string_lossy();
        let add = ["photo", "add", "T1", &picture, "--of", "label"];
        let mut heard = Vec::from(self.asked(&add));
        for line in WRITING {
            let words: Vec<&str> = line.split(' ').collect();
            heard.extend(self.asked(&words));
        }
        heard
    }

    /// What a command says on its two outputs.
    pub(crate) fn asked(&self, command: &[&str]) -> [Heard; 3] {
        asked(&self.kitchen, command)
    }
}

/// What a command says on its two outputs, and what of it people are to type.
pub(crate) fn asked(kitchen: &Kitchen, command: &[&str]) -> [Heard; 3] {
    let told = walls::run(kitchen, command);
    let typed = walls::to_be_typed(&format!("{} {}", told.out, told.err));
    [
        Heard::new(format!("{command:?}"), &told.out),
        Heard::new(format!("complaint of {command:?}"), &told.err),
        Heard::new(format!("what {command:?} tells people to type"), &typed),
    ]
}

/// Commands that write something, print, remove, or look through everything.
const WRITING: [&str; 48] = [
    "batch weeks T1",
    "batch weeks T1 --json",
    "next T1",
    "next T1 --all",
    "next T1 --json",
    "next T1 --write next.toml",
    "compare T1 --markdown",
    "compare T1 --svg t1.svg",
    "recipe history Nothing",
    "remove recipe Nothing 1",
    "remove recipe Lantern 1",
    "remove beer T1",
    "remove batch T1",
    "remove tasting T1 Dov",
    "remove photo T1 9",
    "removed",
    "removed --json",
    "removed --bring-back 77",
    "photo list T1",
    "photo list T1 --json",
    "photo show T1 1 label.jpg",
    "home check",
    "home check --json",
    "home backup asked-for-copy.db",
    "home export all.zip",
    "home tables tables",
    "home tables tables-with-commas --csv",
    "taster show Ben",
    "taster show Ben --all --json",
    "taster export Ben own-ben.json",
    "taster export Ben own-ben-tables --csv",
    "taster export Cleo own-cleo.json",
    "taster measure",
    "taster measure --json",
    "taster imports",
    "practice record Ben",
    "print --help",
    "print batch T1 batch.svg",
    "print taster Ben taster.svg",
    "print history Nothing history.svg",
    "print wheel T1 wheel.svg",
    "print wheel --taster Ben ben.svg",
    "print tasting-sheet T1 sheet.svg",
    "blind list",
    "panel list",
    "larder",
    "settings",
    "blind plan T1 T1 --tasters 7",
];

/// The values on the page of a batch, as they are written: after the name, before the range.
fn figures(page: &str) -> Vec<String> {
    let value = |line: &str| {
        let name = FIGURES.iter().find(|name| line.contains(**name))?;
        let rest = line.split(name).nth(1)?.trim();
        let told = line.contains("from the recipe") || line.contains("measure");
        let end = rest.find(" (").or_else(|| rest.find("  "))?;
        told.then(|| rest[..end].to_owned())
    };
    page.lines().filter_map(value).collect()
}
