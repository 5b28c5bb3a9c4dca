//! A panel at one table: eight tasters, six beers of which one stands there two times, on a real terminal, line by line and from sheets.

use std::collections::HashMap;

use crate::kitchen::Kitchen;
use crate::pty::Pty;
use crate::pty::Signal;
use serde_json::Value;

const TASTERS: [&str; 8] = ["Ana", "Ben", "Cleo", "Dot", "Eve", "Finn", "Gil", "Hana"];

/// Marks that are no part of any other word.
const BEERS: [&str; 6] = ["GX1", "BX2", "MX3", "PX4", "HX5", "WX6"];

/// Glasses before each taster.
const GLASSES: usize = 7;

/// What nobody may read before it is told.
const SECRETS: [&str; 10] = [
    "duplicate",
    "doubled",
    "twice",
    "same beer",
    "second time",
    "6 beers",
    "six beers",
    "6 bottles",
    "six bottles",
    "two times",
];

/// The app, with every picture that a taster saw.
struct Table {
    pty: Pty,
    seen: Vec<String>,
}

impl Table {
    fn new(kitchen: &Kitchen) -> Self {
        let pty = kitchen.launch(&[]).size(80, 24).start();
        pty.wait_for("Taste a beer");
        let seen = Vec::new();
        Self { pty, seen }
    }

    /// Presses keys and keeps the picture that answers.
    fn press(&mut self, keys: &str, then: &str) {
        self.pty.forget_raw();
        self.pty.send(keys);
        self.pty.wait_for(then);
        self.seen.push(self.pty.text());
        // The bytes hold what is on no screen: the title of the window, and what was drawn over.
        let bytes = String::from_utf8_lossy(&self.pty.raw()).into_owned();
        self.seen.push(bytes);
    }

    /// Shows what did not fit.
    fn turn_page(&mut self) {
        self.pty.forget_raw();
        self.pty.send("\x1b[6~");
        self.pty.wait_for_picture("");
        self.seen.push(self.pty.text());
    }

    /// Looks for a sentence from the top of a long page on.
    fn find(&mut self, sentence: &str) {
        self.pty.forget_raw();
        self.pty.send("\x1b[5~".repeat(20));
        self.pty.wait_for_picture("");
        while !self.pty.text().contains(sentence) {
            assert!(
                self.pty.text().contains("more lines: PgDn"),
                "{sentence} is on no page"
            );
            self.turn_page();
        }
    }

    /// Opens the next glass and answers it up to the question for dryness.
    fn begin_glass(&mut self, is_first: bool, bitter: u8) {
        if is_first {
            self.press("\r", "Ready? Enter begins");
            self.press("\r", "How is your nose");
            self.press("1", "How strong is the smell");
        } else {
            self.press("\r", "How strong is the smell");
        }
        self.press("5", "Which three words");
        self.press("\r", "How sweet?");
        self.press("4", "How bitter?");
        self.press(&bitter.to_string(), "How full");
        self.press("4", "How dry");
    }

    fn lock_glass(&mut self, locked: usize) {
        self.press("3", "how do you like it");
        self.press("6", "Enter locks your notes");
        let then = if locked == GLASSES {
            "All 7 glasses are locked".to_owned()
        } else {
            format!("{locked} of 7 locked")
        };
        self.press("\r", &then);
    }
}

/// Plans the panel in the app; whoever plans may see the bottles.
fn plan(kitchen: &Kitchen) {
    let mut table = Table::new(kitchen);
    table.press("9", "a plans a panel");
    table.press("a", "Which bottles?");
    table.press(&format!("{}\r", BEERS.join(", ")), "Bottles so far: GX1");
    table.press("\r", "Who tastes?");
    table.press(&format!("{}\r", TASTERS.join(", ")), "Tasters so far: Ana");
    table.press("\r", "How many millilitres");
    table.press("\r", "How much is asked");
    table.press("\x1b[B", "short glass");
    table.press("\r", "How many beers are poured a second time");
    // By hand: 8 glasses of 60 mL are 480 mL, twice 960 mL; 7 of them 3.36 L; 7 · 2.367 g.
    let text = table
        .pty
        .text()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(text.contains("480 mL of each beer and 960 mL of one (3.36 L in all), 16.6 g"));
    table.press("\r", "Who pours?");
    table.press("\r", "Nothing is kept yet");
    table.press(
        "\r",
        "Choose a name: the screen is then for that taster alone",
    );
}

/// What is in the glass with each code, as the pourer knows it, and everybody's order.
struct Key {
    beers: HashMap<u64, String>,
    orders: HashMap<String, Vec<u64>>,
}

impl Key {
    fn read(kitchen: &Kitchen) -> Self {
        let sheet: Value =
            serde_json::from_str(&kitchen.done(&["panel", "sheet", "--reader", "Hob", "--json"]))
                .unwrap();
        let glasses = sheet["glasses"].as_array().unwrap().iter();
        let beers = glasses.map(|it| {
            let code = it["code"].as_u64().unwrap();
            (code, it["beer"].as_str().unwrap().to_owned())
        });
        let orders = sheet["orders"].as_array().unwrap().iter().map(|it| {
            let codes = it["codes"].as_array().unwrap().iter();
            let name = it["taster"].as_str().unwrap().to_owned();
            (name, codes.map(|it| it.as_u64().unwrap()).collect())
        });
        Self {
            beers: beers.collect(),
            orders: orders.collect(),
        }
    }

    /// How bitter a taster finds their glasses, in their order: as many as the place of the beer in the
    /// list; only Hana finds the first beer at 9.
    fn bitter(&self, name: &str) -> Vec<u8> {
        let glasses = self.orders[name].iter();
        let bitter = glasses.map(|code| {
            let place = BEERS.iter().position(|it| *it == self.beers[code]).unwrap();
            match (place, name) {
                (0, "Hana") => 9,
                (place, _) => u8::try_from(place + 1).unwrap(),
            }
        });
        bitter.collect()
    }

    /// The lines that answer all glasses of a taster.
    fn lines(&self, name: &str) -> String {
        let bitter = self.bitter(name).into_iter().enumerate();
        let lines = bitter.map(|(at, bitter)| {
            let begin = if at == 0 { "\n\n1" } else { "" };
            format!("{begin}\n5\n\n4\n{bitter}\n4\n3\n6\n\n")
        });
        lines.collect::<String>() + "\n"
    }
}

#[test]
fn eight_tasters_find_six_beers_and_nobody_learns_what_was_in_the_glasses_before_it_is_told() {
    let kitchen = Kitchen::new();
    kitchen.done(&["taster", "add", "Hob"]);
    plan(&kitchen);
    let key = Key::read(&kitchen);
    assert_eq!(key.beers.len(), GLASSES);
    let mut seen = on_screen(&kitchen, &key);
    seen.extend(line_by_line(&kitchen, &key));
    seen.extend(from_sheets(&kitchen, &key));
    let mut table = Table::new(&kitchen);
    table.press("\r", "All are done. Talk");
    table.press("\r", "Nobody has to agree");
    while table.pty.text().contains("more lines: PgDn") {
        table.turn_page();
    }
    assert!(
        table
            .seen
            .iter()
            .any(|it| it.contains("Somebody found something else on bitter"))
    );
    table.press("#", "no names");
    table.find("Hana found something else on bitter");
    table.press("\r", "All are done. Talk");
    table.press("\x1b[B", "Tell what was");
    table.press("\r", "Everybody is done. Enter once more");
    seen.append(&mut table.seen);
    assert_silent(&seen);
    table.press("\r", "What panel 1 found");
    drop(table);
    assert_result(&kitchen, &key);
}

/// Ana and Ben at the terminal, which dies while Ana has her third glass.
fn on_screen(kitchen: &Kitchen, key: &Key) -> Vec<String> {
    let mut seen = Vec::new();
    let mut table = Table::new(kitchen);
    table.press("\r", "0 of 7 locked");
    for (at, name) in TASTERS[..2].iter().enumerate() {
        table.press(&(at + 1).to_string(), &format!("{name}, take the screen"));
        table.press("\r", "0 of 7 locked");
        for (glass, bitter) in key.bitter(name).into_iter().enumerate() {
            table.begin_glass(glass == 0, bitter);
            if at == 0 && glass == 2 {
                table.pty.signal(Signal::KILL);
                table.pty.exit_code();
                seen.append(&mut table.seen);
                table = Table::new(kitchen);
                table.press("\r", "2 of 7 locked");
                table.press("1", "Ana, take the screen");
                table.press("\r", "begun");
                table.press("\r", "How dry");
            }
            table.lock_glass(glass + 1);
        }
        table.press("\r", "Pass the screen");
        table.press("\r", "7 of 7 locked");
    }
    assert!(table.pty.text().contains("0 of 7 locked"));
    seen.append(&mut table.seen);
    let early = kitchen.run(&["panel", "talk"]);
    assert!(early.code == 1 && early.err.contains("still waits for Cleo"));
    seen
}

/// Four more, line by line.
fn line_by_line(kitchen: &Kitchen, key: &Key) -> Vec<String> {
    let told = TASTERS[2..6].iter().map(|name| {
        let command = ["panel", "taste", "1", "--taster", name, "--plain"];
        // The first line takes the screen.
        let told = kitchen.fed(&command, &format!("\n{}", key.lines(name)));
        assert!(
            told.out.contains("All 7 glasses are locked"),
            "{}",
            told.out
        );
        told.out
    });
    told.collect()
}

/// The last two from sheets that were written on another day.
fn from_sheets(kitchen: &Kitchen, key: &Key) -> Vec<String> {
    let mut seen = Vec::new();
    for (at, name) in TASTERS.iter().enumerate().skip(6) {
        // Down from the first name that waits to the line below the sheets and the labels.
        let down = "/down\n".repeat(TASTERS.len() + 3 - at);
        let lines = format!("{down}\n\n2026-01-15\n{}", key.lines(name));
        let told = kitchen.fed(&["panel", "taste", "--plain"], &lines);
        assert!(
            told.out.contains("All 7 glasses are locked"),
            "{}",
            told.out
        );
        seen.push(told.out);
    }
    let file = rusqlite::Connection::open(kitchen.file()).unwrap();
    let sheets = "SELECT count(*) FROM notes
        WHERE source = 'paper' AND tasted_on = '2026-01-15' AND typed_on > '2026-01-16'";
    let count: i64 = file.query_row(sheets, [], |row| row.get(0)).unwrap();
    assert_eq!(count, 2 * 7, "seven glasses of two tasters");
    seen
}

fn assert_silent(seen: &[String]) {
    assert!(seen.len() > 100, "something was looked at");
    for text in seen {
        let flat = text
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
            .to_lowercase();
        for secret in SECRETS.iter().chain(&BEERS) {
            assert!(
                !flat.contains(&secret.to_lowercase()),
                "{secret} is told in:\n{text}"
            );
        }
    }
}

fn assert_result(kitchen: &Kitchen, key: &Key) {
    let result: Value =
        serde_json::from_str(&kitchen.done(&["panel", "result", "--json"])).unwrap();
    let beers = result["beers"].as_array().unwrap();
    assert_eq!(beers.len(), BEERS.len());
    let mut again = 0;
    for beer in beers {
        let mark = beer["beer"].as_str().unwrap();
        let place = BEERS.iter().position(|it| *it == mark).unwrap();
        let codes: Vec<u64> = key
            .beers
            .iter()
            .filter(|it| it.1 == mark)
            .map(|it| *it.0)
            .collect();
        assert_eq!(beer["codes"].as_array().unwrap().len(), codes.len());
        again += codes.len() - 1;
        let scales = beer["scales"].as_array().unwrap();
        let bitter = scales.iter().find(|it| it["scale"] == "bitter").unwrap();
        // By hand: all eight give the place of the beer in the list, but for Hana's 9 on the first.
        assert_eq!(bitter["alone"]["median"], (place + 1) as f64);
        assert_eq!(bitter["alone"]["tasters"], TASTERS.len());
        let highest = if place == 0 { 9.0 } else { (place + 1) as f64 };
        assert_eq!(bitter["alone"]["highest"], highest);
        // By hand: the others all say the same of each beer, so that t is far beyond 8/√(1.3833·(1 + π/14)) = 6.1;
        // all other gaps are 0.
        let apart = beer["apart"].as_array().unwrap();
        assert_eq!(apart.len(), usize::from(place == 0), "{apart:?}");
    }
    assert_eq!(again, 1, "one beer stood there two times");
    // Once it is told, every glass counts for how far the notes can be trusted.
    let page: Value =
        serde_json::from_str(&kitchen.done(&["taster", "show", "Cleo", "--json"])).unwrap();
    assert_eq!(
        (&page["glasses"], &page["off_form"]),
        (&7.into(), &0.into())
    );
    let measured = kitchen.done(&["taster", "measure"]);
    assert!(
        measured.contains("280 ratings by 8 tasters on 5 lines"),
        "{measured}"
    );
    let own = kitchen.done(&["panel", "result", "--taster", "Ana"]);
    assert!(own.contains("On 5 of 5 scales"), "{own}");
    assert!(
        kitchen
            .done(&["compare", "GX1", "BX2"])
            .contains("GX1 against BX2")
    );
    let late = kitchen.run(&["panel", "taste", "--taster", "Ana", "--plain"]);
    assert!(late.err.contains("nothing can be tasted at it any more"));
}

/// How many blind tests know of a taster, by what is exported of them.
fn tests_of(kitchen: &Kitchen, name: &str, file: &str) -> usize {
    let file = kitchen.folder().join(file);
    kitchen.done(&["taster", "export", name, file.to_str().unwrap()]);
    let text = std::fs::read_to_string(file).unwrap();
    let all: Value = serde_json::from_str(&text).unwrap();
    all["tests"].as_array().unwrap().len()
}

#[test]
fn nobody_is_marked_for_a_key_whose_pages_had_no_room_on_the_disk() {
    let kitchen = Kitchen::new();
    kitchen.done(&["taster", "add", "Ana"]);
    let plan = ["blind", "plan", "Gate", "Barn", "--tasters", "28"];
    kitchen.done(&[&plan[..], &["--similarity"]].concat());
    let taken = kitchen.write("pour-1.svg", "of an earlier day");
    let file = taken.replace("pour-1.svg", "pour.svg");
    let print = |file: &str| {
        let print = ["print", "pouring-sheet", "1", "--reader", "Ana", file];
        kitchen.run(&print)
    };
    let told = print(&file);
    assert!(
        told.code == 1 && told.err.contains("pour-1.svg"),
        "{told:?}"
    );
    assert_eq!(tests_of(&kitchen, "Ana", "before.json"), 0);
    let told = print(&file.replace("pour.svg", "free.svg"));
    assert!(told.code == 0 && told.out.contains("free"), "{told:?}");
    assert_eq!(tests_of(&kitchen, "Ana", "after.json"), 1);
}
