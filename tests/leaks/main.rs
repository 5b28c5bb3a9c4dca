//! Notes before numbers: from the opening of a tasting to its lock nothing of the plan and of the others is told anywhere.

mod journeys;
#[path = "../kitchen/mod.rs"]
mod kitchen;
#[path = "../pty/mod.rs"]
mod pty;
mod walls;

use kitchen::Kitchen;
use pty::Pty;

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
const RECIPE: &str = r#"
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

/// Something that was told, and where.
struct Heard {
    place: String,
    text: String,
    /// Whether the words of the wheel are looked at there.
    on_the_wheel: bool,
}

impl Heard {
    /// The text with every run of blanks and line breaks as one blank, so that a wrapped word is found.
    fn new(place: impl Into<String>, text: &str) -> Self {
        Self {
            place: place.into(),
            text: text.split_whitespace().collect::<Vec<_>>().join(" "),
            on_the_wheel: false,
        }
    }
}

/// A home with a planted batch, the locked notes of Ben and a bad bottle of Cleo's.
struct Planted {
    kitchen: Kitchen,
    recipe: String,
    figures: Vec<String>,
}

impl Planted {
    fn new() -> Self {
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
    fn tastes(&self, name: &str, lines: &str) -> String {
        let told = self
            .kitchen
            .fed(&["taste", "T1", "--taster", name, "--plain"], lines);
        assert_eq!(told.code, 0, "{}", told.err);
        told.out
    }

    /// Locks the notes of someone who has begun.
    fn locks(&self, name: &str) {
        let out = self.tastes(name, &format!("{}/yes\n", "/next-stage\n".repeat(12)));
        assert!(
            out.contains("locked") || out.contains("found in T1"),
            "{out}"
        );
    }

    /// The planted words that were told, with the place.
    fn leaks(&self, heard: &[Heard]) -> Vec<String> {
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
    fn poster(&self, of: [&str; 2], name: &str) -> (Option<String>, String) {
        let file = self.kitchen.folder().join(name);
        let shown = file.to_string_lossy();
        let told = self
            .kitchen
            .run(&["wheel", "draw", of[0], of[1], "--svg", &shown]);
        (std::fs::read_to_string(&file).ok(), told.err)
    }

    fn assert_silent(&self, heard: &[Heard]) {
        assert!(heard.len() > 10, "something was looked at");
        assert_eq!(self.leaks(heard), Vec::<String>::new());
    }

    /// Asserts that every planted word that has a page is told.
    fn assert_told(&self, heard: &[Heard]) {
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
    fn commands(&self) -> Vec<Heard> {
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
    fn asked(&self, command: &[&str]) -> [Heard; 3] {
        asked(&self.kitchen, command)
    }
}

/// What a command says on its two outputs, and what of it people are to type.
fn asked(kitchen: &Kitchen, command: &[&str]) -> [Heard; 3] {
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

/// A walk through the app, in which every picture is kept.
struct Walk {
    pty: Pty,
    heard: Vec<Heard>,
    on_the_wheel: bool,
}

impl Walk {
    fn start(kitchen: &Kitchen, arguments: &[&str], first: &str) -> Self {
        let pty = walls::launch(kitchen, arguments).start();
        let mut walk = Self {
            pty,
            heard: Vec::new(),
            on_the_wheel: false,
        };
        walk.look(first);
        walk
    }

    /// Presses a key and keeps the picture that answers; `text` must be in it.
    fn press(&mut self, key: &str, text: &str) {
        self.pty.forget_raw();
        self.pty.send(key);
        self.look(text);
    }

    fn look(&mut self, text: &str) {
        self.pty.wait_for_picture(text);
        // The bytes hold what is on no screen: the title of the window, and what was drawn over.
        let bytes = String::from_utf8_lossy(&self.pty.raw()).into_owned();
        for text in [self.pty.text(), bytes] {
            self.heard.push(Heard {
                on_the_wheel: self.on_the_wheel,
                ..Heard::new(
                    format!("the picture with “{}”:\n{text}", first_line(&text)),
                    &text,
                )
            });
        }
        self.heard.extend(walls::process(&self.pty));
    }

    /// Opens a line of the first screen by its name.
    /// Chooses a line by its digit, or by a click where it has none.
    fn choose(&mut self, line: &str, text: &str) {
        let screen = self.pty.text();
        let found = screen.lines().enumerate().find(|(_, it)| it.contains(line));
        let (row, found) = found.expect("the line is on the screen");
        match found.trim().chars().next().filter(char::is_ascii_digit) {
            Some(digit) => self.press(&digit.to_string(), text),
            None => self.press(&format!("\x1b[<0;10;{}M", row + 1), text),
        }
    }

    fn explain(&mut self, text: &str) {
        self.press(HELP, "");
        self.scroll("");
        assert!(self.pty.text().contains("Any key goes on."));
        self.press(ESC, text);
    }

    /// Every page that shows something of a batch or of notes, from the first screen and back.
    fn pages(&mut self) {
        self.choose("Batches", "T1");
        self.explain("T1");
        self.press("\r", "Batch T1");
        self.explain("Batch T1");
        self.press("a", "Log of T1");
        self.press(ESC, "Batch T1");
        self.press("\r", "side by side");
        self.explain("side by side");
        self.scroll("side by side");
        self.press(ESC, "Batch T1");
        self.press(ESC, "Batches");
        self.press(ESC, "Taste what you brewed");
        self.choose("Notes", "Cleo");
        self.explain("Cleo");
        let rows = self.pty.text().matches(" T1 ").count();
        for row in 0..rows {
            if row > 0 {
                self.press(DOWN, "Cleo");
            }
            self.notes();
        }
        self.press("p", "Ben");
        self.everything();
        self.press(ESC, "Cleo");
        self.press(ESC, "Taste what you brewed");
    }

    /// The page of everything of this home, and what was removed; from the list of tasters and back.
    fn everything(&mut self) {
        self.press("e", "What was removed");
        self.explain("What was removed");
        self.choose("What was removed", "What was removed");
        self.explain("What was removed");
        self.press(ESC, "What was removed");
        self.press(ESC, "Ben");
    }

    /// The chosen notes, the second sniff after them, and the plan beside them.
    fn notes(&mut self) {
        self.press("\r", "found in T1");
        self.explain("found in T1");
        self.second_sniff();
        self.scroll("found in T1");
        if self.pty.text().contains("Enter opens the plan") {
            self.press("\r", "side by side");
            self.press(ESC, "found in T1");
        } else {
            // While the plan is sealed the same key tells no more than before.
            self.pty.send("\r");
        }
        self.press(ESC, "Cleo");
    }

    /// A second sniff asks for words of the plan: while that is sealed, its key refuses and no more.
    fn second_sniff(&mut self) {
        let found = self.pty.text();
        if found.contains("Your notes are locked.") {
            self.press("r", "the second sniff of “T1” is sealed until");
            // The next key takes the sentence away.
            self.explain("found in T1");
        } else if found.contains("r second sniff") {
            self.press("r", "Word 1 of ");
            self.explain("Word 1 of ");
            self.press(ESC, "found in T1");
        }
    }

    /// To the end of a page that may be longer than the screen.
    fn scroll(&mut self, text: &str) {
        while self.pty.text().contains("more lines: PgDn") {
            self.press("\x1b[6~", text);
        }
    }

    fn end(self) -> Vec<Heard> {
        self.heard
    }
}

fn first_line(text: &str) -> &str {
    text.lines().next().unwrap_or_default().trim()
}

const ESC: &str = "\x1b";
/// F1, which explains where letters are typed too.
const HELP: &str = "\x1bOP";
const DOWN: &str = "\x1b[B";
const RIGHT: &str = "\x1b[C";

/// How many questions the full form asks, as the bar above them says.
fn questions(screen: &str) -> usize {
    let number = screen.split(" of ").nth(1).expect("the bar is there");
    let digits: String = number.chars().take_while(char::is_ascii_digit).collect();
    digits.parse().expect("a number stands there")
}

/// Ana opens T1 and walks through every question of the full form and everything around it.
fn tasting(planted: &Planted) -> Vec<Heard> {
    let mut walk = Walk::start(
        &planted.kitchen,
        &["taste", "T1", "--taster", "Ana"],
        "Ready? Enter begins",
    );
    walk.explain("Ready?");
    let all = questions(&walk.pty.text());
    for at in 2..=all {
        walk.press(DOWN, &format!(" {at} of {all}"));
        walk.explain(&format!(" {at} of {all}"));
        if walk.pty.text().contains("What do you smell?") {
            words(&mut walk);
        }
    }
    walk.pty.forget_raw();
    walk.pty.resize(120, 40);
    walk.look("Enter locks");
    walk.pty.forget_raw();
    walk.pty.resize(80, 24);
    walk.look("Enter locks");
    walk.press("!", "What is it?");
    walk.explain("What is it?");
    walk.press(ESC, "Enter locks");
    walk.press(ESC, "Ana tastes T1");
    walk.explain("Ana tastes T1");
    walk.pages();
    walk.end()
}

/// The market, the sweep and the search at the question for words.
fn words(walk: &mut Walk) {
    walk.on_the_wheel = true;
    walk.press("l", "> l");
    walk.press(ESC, "Type a word");
    walk.press(RIGHT, "Sweet shop");
    walk.press(RIGHT, "* keeps");
    walk.press(ESC, "Sweet shop");
    walk.press(ESC, "Type a word");
    walk.press("+", "Place 1 of 13");
    walk.press(ESC, "Type a word");
    walk.on_the_wheel = false;
    // The last picture of the wheel is gone from the screen now.
    walk.explain("Type a word");
}

#[test]
fn while_a_glass_is_open_nothing_planted_is_told_and_after_the_lock_all_of_it_is() {
    let planted = Planted::new();
    let mut open = tasting(&planted);
    let mut window = Walk::start(&planted.kitchen, &[], "Ana tastes T1");
    window.pages();
    window.choose("Go on: Ana tastes T1", "Enter locks");
    open.extend(window.end());
    open.extend(planted.commands());
    open.push(Heard::new(
        "line by line",
        &planted.tastes("Ana", "/up\n/explain\n/back\n"),
    ));
    planted.assert_silent(&open);

    planted.locks("Ana");
    let mut after = Walk::start(&planted.kitchen, &[], "Taste what you brewed");
    after.pages();
    let mut after = after.end();
    assert!(after.iter().any(|it| it.text.contains("Word 1 of ")));
    after.extend(planted.commands());
    planted.assert_told(&after);
    assert_ne!(planted.leaks(&after), Vec::<String>::new());
}

#[test]
fn no_wheel_shows_marks_of_a_glass_that_is_being_tasted() {
    let planted = Planted::new();
    let to_the_lock = "/next-stage\n".repeat(12);
    planted.tastes("Dov", &format!("\n4\n1\ntoast\n6\n{to_the_lock}\n"));
    let of_dov = ["--taster", "Dov"];
    let of_beer = ["--batch", "T1"];
    assert!(planted.poster(of_dov, "before.svg").0.is_some());

    planted.tastes("Ana", "\n");
    let (drawn, complaint) = planted.poster(of_dov, "dov.svg");
    assert!(drawn.is_none() && complaint.contains("nothing on the wheel that Dov named"));
    let (drawn, complaint) = planted.poster(of_beer, "beer.svg");
    assert!(drawn.is_none() && complaint.contains("is sealed until Ana"));
    let mut walk = Walk::start(&planted.kitchen, &[], "Ana tastes T1");
    walk.choose("Words and jars", "Where have you smelled");
    walk.press("@", "The wheel of words");
    walk.press("#", "No marks can be shown");
    let heard = walk.end();
    assert!(!heard.iter().any(|it| it.text.contains("1 of 1")));

    planted.locks("Ana");
    let (marked, _) = planted.poster(of_dov, "dov.svg");
    let (plain, _) = planted.poster(["--paper", "a4"], "plain.svg");
    assert!(marked.is_some() && marked != plain);
    assert!(planted.poster(of_beer, "beer.svg").0.is_some());
    let mut walk = Walk::start(&planted.kitchen, &[], "Taste what you brewed");
    walk.choose("Words and jars", "Where have you smelled");
    walk.press("@", "The wheel of words");
    // Ana named nothing and Ben a word of his own; Dov is the only one with a word of the wheel.
    walk.press("#", "in which Dov named it");
    assert!(walk.pty.text().contains("1 of 1"));
}

#[test]
fn while_one_of_two_tasters_has_not_locked_both_are_told_nothing() {
    let planted = Planted::new();
    planted.tastes("Ana", "\n");
    planted.tastes("Dov", "\n");
    planted.locks("Dov");
    let mut walk = Walk::start(&planted.kitchen, &[], "Ana tastes T1");
    walk.pages();
    let mut heard = walk.end();
    heard.extend(planted.commands());
    planted.assert_silent(&heard);
}

#[test]
fn a_batch_of_the_same_recipe_does_not_tell_the_plan_of_the_open_one() {
    let planted = Planted::new();
    planted
        .kitchen
        .done(&["batch", "add", &planted.recipe, "--mark", "T2"]);
    let tasted = ["taste", "T2", "--taster", "Ben", "--plain"];
    let lines = format!("{}/yes\n", "/next-stage\n".repeat(12));
    planted.kitchen.fed(&tasted, &lines);
    let asked: [&[&str]; 6] = [
        &["batch", "list"],
        &["batch", "show", "T2"],
        &["batch", "show", "T2", "--json"],
        &["compare", "T2"],
        &["compare", "T2", "--json"],
        &["recipe", "history", "Lantern", "heron"],
    ];
    let heard = || {
        asked
            .iter()
            .flat_map(|it| planted.asked(it))
            .collect::<Vec<_>>()
    };
    assert_ne!(
        planted.leaks(&heard()),
        Vec::<String>::new(),
        "nobody tastes"
    );
    planted.tastes("Ana", "\n");
    assert_eq!(planted.leaks(&heard()), Vec::<String>::new());
}

#[test]
fn while_a_panel_waits_nothing_of_its_beers_is_told_though_nobody_has_begun() {
    let planted = Planted::new();
    let plan = [
        "panel",
        "plan",
        "T1",
        "B7",
        "--tasters",
        "Ana, Dov",
        "--doubled",
        "1",
    ];
    planted.kitchen.done(&plan);
    let mut walk = Walk::start(
        &planted.kitchen,
        &[],
        "Go on: panel 1, none of two are done",
    );
    walk.pages();
    let mut heard = walk.end();
    heard.extend(planted.commands());
    heard.extend(planted.asked(&["panel", "list"]));
    heard.extend(planted.asked(&["panel", "result"]));
    planted.assert_silent(&heard);
    planted.kitchen.done(&["panel", "tell", "--early"]);
    assert_ne!(planted.leaks(&planted.commands()), Vec::<String>::new());
}

#[test]
fn a_broken_seal_opens_the_plan_and_stays_in_the_notes_for_ever() {
    let planted = Planted::new();
    planted.tastes("Ana", "\n");
    let told = planted.kitchen.done(&["compare", "T1", "--break-seal"]);
    assert!(
        told.contains("The open notes of Ana carry that mark for ever."),
        "{told}"
    );
    assert!(told.contains("Lantern heron"), "{told}");
    assert!(
        !told.contains("SEAL BROKEN"),
        "Ana has locked nothing yet: {told}"
    );
    planted.locks("Ana");
    let told = planted.kitchen.done(&["compare", "T1"]);
    let line = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(line.matches("SEAL BROKEN").count(), 1, "{told}");
    let ana = line.split("Ana on ").nth(1).expect("she is named");
    assert!(
        ana.split(';')
            .next()
            .is_some_and(|it| it.contains("SEAL BROKEN")),
        "{told}"
    );
    let file = rusqlite::Connection::open(planted.kitchen.file()).unwrap();
    let marked = "SELECT count(*) FROM notes JOIN seat ON seat.id = notes.seat
        JOIN taster ON taster.id = seat.taster
        WHERE seal_broken_at IS NOT NULL AND name = 'Ana'";
    let count: i64 = file.query_row(marked, [], |row| row.get(0)).unwrap();
    assert_eq!(count, 1);
}

#[test]
fn a_tasting_left_in_one_window_takes_no_answer_in_another() {
    let planted = Planted::new();
    let mut first = Walk::start(
        &planted.kitchen,
        &["taste", "T1", "--taster", "Ana"],
        "Ready?",
    );
    let mut second = Walk::start(&planted.kitchen, &[], "Ana tastes T1");
    second.press("x", "for good");
    second.press("x", "Ana left");
    let plan = planted.kitchen.done(&["compare", "T1"]);
    assert!(plan.contains("Lantern heron"), "{plan}");
    first.press("\r", "was left without locking");
    let notes = planted.kitchen.done(&["compare", "T1", "--json"]);
    assert!(!notes.contains("Ana"), "{notes}");
}

#[test]
fn who_removes_open_notes_reads_the_plan_and_brings_them_back_carries_the_mark_of_a_broken_seal() {
    let planted = Planted::new();
    planted.tastes("Ana", "\n");
    planted.kitchen.done(&["remove", "tasting", "T1", "Ana"]);
    let plan = planted.kitchen.done(&["compare", "T1"]);
    assert!(plan.contains("Lantern heron"), "{plan}");
    let back = planted.kitchen.done(&["removed", "--bring-back", "1"]);
    let back = back.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        back.contains("what Ana noted and has not locked carries the mark"),
        "{back}"
    );
    planted.locks("Ana");
    let told = planted.kitchen.done(&["compare", "T1"]);
    assert_eq!(told.matches("SEAL BROKEN").count(), 1, "{told}");
}

#[test]
fn locked_notes_come_back_without_a_mark() {
    let planted = Planted::new();
    planted.tastes("Ana", "\n");
    planted.locks("Ana");
    planted.kitchen.done(&["remove", "tasting", "T1", "Ana"]);
    let back = planted.kitchen.done(&["removed", "--bring-back", "1"]);
    assert!(!back.contains("mark of a broken seal"), "{back}");
    let told = planted.kitchen.done(&["compare", "T1"]);
    assert!(
        told.contains("Ana") && !told.contains("SEAL BROKEN"),
        "{told}"
    );
}

#[test]
fn while_a_batch_is_tasted_no_recipe_is_named_by_what_was_removed_of_it() {
    let planted = Planted::new();
    let other = RECIPE.replace("7-vole", "8-vole");
    let other = planted.kitchen.write("r8.toml", other);
    planted
        .kitchen
        .done(&["batch", "add", &other, "--mark", "T8"]);
    planted.kitchen.done(&["remove", "batch", "T8"]);
    planted
        .kitchen
        .done(&["remove", "recipe", "Lantern heron", "8-vole"]);
    let list = planted.kitchen.done(&["removed"]);
    assert!(list.contains("Lantern heron 8-vole"), "{list}");
    planted.tastes("Ana", "\n");
    let mut walk = Walk::start(&planted.kitchen, &[], "Ana tastes T1");
    walk.choose("Notes", "Cleo");
    walk.press("p", "Ben");
    walk.everything();
    let mut heard = walk.end();
    heard.extend(planted.asked(&["removed"]));
    heard.extend(planted.asked(&["removed", "--json"]));
    heard.extend(planted.asked(&["remove", "recipe", "Nothing", "1"]));
    planted.assert_silent(&heard);
}
