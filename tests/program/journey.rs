//! Whole tastings through the program itself, by keys and by lines, with what stands in the file afterwards.

use crate::kitchen::Kitchen;
use crate::pty::Pty;
use crate::pty::Signal;
use crate::script::Answers;
use crate::script::Kept;
use crate::script::Named;
use crate::script::Step;
use crate::script::Step::CannotTell;
use crate::script::Step::Digit;
use crate::script::Step::Go;
use crate::script::Step::Line;
use crate::script::Step::ShortGlass;
use crate::script::Step::Skip;
use crate::script::Step::Watch;
use crate::script::Step::Word;
use crate::script::kept;
use thirdglass::formats::EXAMPLE;

/// The recipe that `recipe check --example` shows is brewed and bottled as T1.
fn with_a_batch() -> Kitchen {
    let kitchen = Kitchen::new();
    let recipe = kitchen.write("recipe.toml", EXAMPLE);
    kitchen.done(&["batch", "add", &recipe, "--mark", "T1"]);
    kitchen
}

/// Plays steps line by line from the question for the name; gives what was told.
fn plain(kitchen: &Kitchen, steps: &[Step]) -> String {
    let lines: String = steps.iter().map(Step::lines).collect();
    let told = kitchen.fed(&["taste", "--plain"], &lines);
    assert_eq!(told.code, 0, "{told:?}");
    told.out
}

/// The app on a terminal of so many columns and rows.
fn app(kitchen: &Kitchen, columns: u16, rows: u16) -> Player {
    Player {
        pty: kitchen.launch(&[]).size(columns, rows).start(),
        keys: 0,
    }
}

/// The app on a terminal of 80 by 24, at its first screen.
fn opened(kitchen: &Kitchen) -> Player {
    let player = app(kitchen, 80, 24);
    player.pty.wait_for("Taste a beer");
    player
}

/// Somebody at the keyboard, whose keys are counted.
struct Player {
    pty: Pty,
    keys: usize,
}

impl Player {
    fn press(&mut self, keys: &str) {
        self.keys += keys.chars().count();
        self.pty.send(keys);
    }

    fn play(&mut self, steps: &[Step]) {
        let keys: String = steps.iter().map(Step::keys).collect();
        self.press(&keys);
    }
}

/// From the question for the name to the first sniff: nothing is known, and the nose is fine.
fn sits_down(name: &'static str) -> Vec<Step> {
    vec![Line(name), Line("T1"), Go, Digit(1), Go]
}

/// The first half of a tasting of fourteen ratings and six words: as far as the bitter.
fn until_sour() -> Vec<Step> {
    let mut steps = vec![Word("ora", 5), Go];
    steps.extend([Digit(7), Digit(2), Digit(3), Digit(5), Skip]);
    steps.extend([Digit(6), Word("toa", 4), Word("hon", 3), Go]);
    steps.extend([Digit(4), Digit(0), Digit(2)]);
    steps.extend([Word("clo", 2), Word("van", 1), Word("lem", 2), Go]);
    steps.extend([Digit(3), Digit(5)]);
    steps
}

/// The second half, up to the page that locks.
fn from_sour() -> Vec<Step> {
    let mut steps = vec![Digit(1), Skip];
    steps.extend([Digit(5), Digit(4), Skip, Digit(1), CannotTell]);
    steps.extend([Digit(6), Digit(4), Skip]);
    steps.extend([Skip, Skip, Digit(7), Skip, Go]);
    steps
}

fn fourteen() -> Vec<Step> {
    until_sour().into_iter().chain(from_sour()).collect()
}

/// Locks, and opens the plan.
fn reveals() -> [Step; 2] {
    [Go, Go]
}

/// Everything the full form asks, both watches included, up to the page that locks.
fn everything() -> Vec<Step> {
    let mut steps = vec![Word("ora", 5), Watch, Go];
    steps.extend([Digit(7), Digit(2), Digit(3), Digit(5), Go]);
    steps.extend([Digit(6), Word("toa", 4), Word("hon", 3), Go]);
    steps.extend([Digit(4), Digit(0), Digit(2)]);
    steps.extend([Word("clo", 2), Word("van", 1), Word("lem", 2), Go]);
    steps.extend([Digit(3), Digit(5), Digit(1), Digit(0), Watch]);
    steps.extend([Digit(5), Digit(4), Digit(6), Digit(1), Digit(2)]);
    steps.extend([Digit(6), Digit(4), Watch, Watch]);
    steps.extend([Digit(5), Digit(4), Digit(7), Digit(3), Go]);
    steps
}

fn named(stage: &str, word: &str, strength: i64, prompting: &str) -> Named {
    let [stage, word, prompting] = [stage, word, prompting].map(str::to_owned);
    (stage, word, Some(strength), prompting)
}

/// The six words that both forms of the script type, and what was carried over from nose to mouth.
fn six_words() -> Vec<Named> {
    vec![
        named("aroma", "orange-peel", 5, "unprompted"),
        named("aroma", "toast", 4, "unprompted"),
        named("aroma", "honey", 3, "unprompted"),
        named("flavour", "orange-peel", 4, "prompted"),
        named("flavour", "toast", 0, "prompted"),
        named("flavour", "honey", 2, "prompted"),
        named("flavour", "clove", 2, "unprompted"),
        named("flavour", "vanilla", 1, "unprompted"),
        named("flavour", "lemon-zest", 2, "unprompted"),
    ]
}

fn rated(answers: &[(&str, f64)]) -> Answers {
    answers
        .iter()
        .map(|(scale, value)| ((*scale).to_owned(), ("rated".to_owned(), Some(*value))))
        .collect()
}

fn unrated(scales: &[&str], state: &str) -> Answers {
    scales
        .iter()
        .map(|scale| ((*scale).to_owned(), (state.to_owned(), None)))
        .collect()
}

/// What fourteen ratings leave. An intensity is its own digit; beside the digits stand 48 EBC at 7 and
/// 15 mm at 3 (the figures the questions show), and the nine-point words of liking count from 1.
fn fourteen_answers() -> Answers {
    let mut answers = rated(&[
        ("colour", 48.0),
        ("haze", 2.0),
        ("head", 15.0),
        ("bubbles", 5.0),
        ("aroma-intensity", 6.0),
        ("sweet", 3.0),
        ("bitter", 5.0),
        ("sour", 1.0),
        ("fullness", 5.0),
        ("carbonation", 4.0),
        ("astringency", 1.0),
        ("dryness", 6.0),
        ("lingering-bitterness", 4.0),
        ("liking", 7.0),
    ]);
    assert_eq!(answers.len(), 14);
    answers.extend(unrated(
        &[
            "head-retention",
            "salty",
            "smoothness",
            "length",
            "lacing",
            "serving-temperature",
            "another-glass",
        ],
        "skipped",
    ));
    answers.extend(unrated(&["alcohol-warmth"], "cannot-tell"));
    answers
}

fn locked(taster: &str, answers: Answers) -> Kept {
    Kept {
        taster: taster.to_owned(),
        form: "full".to_owned(),
        knew: Some("nothing".to_owned()),
        nose: Some("fine".to_owned()),
        field: "lock".to_owned(),
        locked: true,
        answers,
        marks: six_words(),
        watched: std::collections::BTreeMap::new(),
    }
}

#[test]
fn fourteen_ratings_and_six_words_take_at_most_75_keys_from_the_first_screen_to_the_plan() {
    let kitchen = with_a_batch();
    let mut ana = opened(&kitchen);
    ana.press("1");
    ana.play(&sits_down("Ana"));
    ana.play(&fourteen());
    ana.pty.wait_for("That is all.");
    ana.play(&reveals());
    // The recipe hopes for orange peel, aroma 5 (`recipe check --example`).
    ana.pty.wait_for("Hoped for");
    ana.pty.wait_for("orange peel (aroma)");
    ana.pty.wait_for("Harbour dark");
    assert_eq!(kept(&kitchen.home()), [locked("Ana", fourteen_answers())]);
    assert!(ana.keys <= 75, "{} keys", ana.keys);
    // The same comparison as a page to keep.
    let page = kitchen.done(&["compare", "T1", "--markdown"]);
    assert!(page.starts_with("# T1 · Harbour dark, version 2"), "{page}");
    for wanted in [
        "## Hoped for",
        "| orange peel (aroma) | 5 |",
        "## Predicted",
    ] {
        assert!(page.contains(wanted), "{wanted}: {page}");
    }
}

#[test]
fn every_question_of_the_full_form_takes_at_most_95_keys_with_both_watches() {
    let kitchen = with_a_batch();
    let mut ana = opened(&kitchen);
    ana.press("1");
    ana.play(&sits_down("Ana"));
    let everything = everything();
    let (before_sip, after) = everything.split_at(8);
    ana.play(before_sip);
    // The watch is seen running while the taster is at other questions.
    ana.pty.wait_for("foam 0:01");
    ana.play(after);
    ana.pty.wait_for("That is all.");
    ana.play(&reveals());
    ana.pty.wait_for("Hoped for");
    let [notes] = kept(&kitchen.home()).try_into().expect("one set of notes");
    assert!(notes.watched["head-retention"] >= 1.0);
    assert!(notes.watched.contains_key("length"));
    assert_eq!(notes.answers.len(), 22, "every scale is rated");
    let mut answers = fourteen_answers();
    answers.remove("head-retention");
    answers.remove("length");
    // Digit 4 of the temperature is 10 degrees on its question; yes is the third of three.
    answers.extend(rated(&[
        ("salty", 0.0),
        ("smoothness", 6.0),
        ("alcohol-warmth", 2.0),
        ("lacing", 5.0),
        ("serving-temperature", 10.0),
        ("another-glass", 3.0),
    ]));
    assert_eq!(notes.without_watched(), locked("Ana", answers));
    assert!(ana.keys <= 95, "{} keys", ana.keys);
}

#[test]
fn the_short_glass_takes_at_most_35_keys() {
    let kitchen = with_a_batch();
    let mut ana = opened(&kitchen);
    ana.press("1");
    ana.play(&[Line("Ana"), Line("T1"), ShortGlass, Digit(1), Go]);
    ana.play(&[Digit(6), Word("ora", 5), Word("toa", 4), Word("lem", 2)]);
    ana.play(&[Digit(3), Digit(5), Digit(5), Digit(6), Digit(7)]);
    ana.pty.wait_for("That is all.");
    ana.play(&reveals());
    ana.pty.wait_for("Hoped for");
    let expected = Kept {
        form: "short".to_owned(),
        marks: vec![
            named("flavour", "orange-peel", 5, "unprompted"),
            named("flavour", "toast", 4, "unprompted"),
            named("flavour", "lemon-zest", 2, "unprompted"),
        ],
        ..locked(
            "Ana",
            rated(&[
                ("aroma-intensity", 6.0),
                ("sweet", 3.0),
                ("bitter", 5.0),
                ("fullness", 5.0),
                ("dryness", 6.0),
                ("liking", 7.0),
            ]),
        )
    };
    assert_eq!(kept(&kitchen.home()), [expected]);
    assert!(ana.keys <= 35, "{} keys", ana.keys);
}

#[test]
fn a_first_start_with_a_glass_is_five_keys_after_the_name_at_the_first_sniff() {
    let kitchen = Kitchen::new();
    let mut ana = app(&kitchen, 80, 24);
    ana.pty
        .wait_for("Is there a glass of beer in front of you?");
    ana.press("y");
    ana.pty.wait_for("Who is tasting?");
    ana.play(&[Line("Ana")]);
    ana.pty.wait_for("what is written on the bottle?");
    let before = ana.keys;
    ana.play(&[Line("7"), Go, Go, Go]);
    ana.pty.wait_for("What comes to mind first?");
    assert!(ana.keys - before <= 5, "{} keys", ana.keys - before);
    let [notes] = kept(&kitchen.home()).try_into().expect("one set of notes");
    assert_eq!(notes.field, "first-sniff");
    assert!(!notes.locked);
}

#[test]
fn a_first_start_without_a_glass_walks_three_things_from_the_cupboard_to_the_end() {
    let kitchen = Kitchen::new();
    let mut ana = app(&kitchen, 80, 24);
    ana.pty
        .wait_for("Is there a glass of beer in front of you?");
    ana.press("n");
    ana.pty.wait_for("Fetch three of these");
    ana.press("123\r");
    // Each thing is walked to by the first letters of its place, its shelf and its name.
    for (walk, thing) in [
        ("h\r\r\r", "ground coffee"),
        ("c\r\r\r", "lemon zest"),
        ("ss\r\rc\r", "cinnamon"),
    ] {
        ana.pty.wait_for("Where have you smelled this?");
        ana.press(walk);
        ana.pty.wait_for("Now look: which one was it?");
        ana.press("1");
        ana.pty.wait_for(&format!("Found: {thing}."));
        ana.press("\r");
    }
    ana.pty
        .wait_for("3 of 3 at the right place, 3 by the very word.");
    ana.press("\r");
    ana.pty.wait_for("Taste a beer");
    ana.press("q");
    assert_eq!(ana.pty.exit_code(), 0);
}

#[test]
fn the_same_tasting_line_by_line_leaves_the_same_rows() {
    for glass in [fourteen(), everything()] {
        let (typed, told) = (with_a_batch(), with_a_batch());
        let mut ana = opened(&typed);
        ana.press("1");
        ana.play(&sits_down("Ana"));
        ana.play(&glass);
        ana.play(&reveals());
        ana.pty.wait_for("Hoped for");
        let steps: Vec<Step> = sits_down("Ana").into_iter().chain(glass).collect();
        let steps: Vec<Step> = steps.into_iter().chain(reveals()).collect();
        let pages = plain(&told, &steps);
        assert!(pages.contains("Hoped for"), "{pages}");
        let rows = |kitchen: &Kitchen| -> Vec<Kept> {
            let kept = kept(&kitchen.home()).into_iter();
            kept.map(Kept::without_watched).collect()
        };
        assert_eq!(rows(&typed), rows(&told));
        assert!(kept(&typed.home())[0].locked);
    }
}

#[test]
fn a_tasting_goes_on_where_it_was_when_the_program_was_killed() {
    let kitchen = with_a_batch();
    let mut ana = opened(&kitchen);
    ana.press("1");
    ana.play(&sits_down("Ana"));
    ana.play(&until_sour());
    ana.pty.wait_for("How sour?");
    ana.pty.signal(Signal::KILL);
    ana.pty.exit_code();
    let [before] = kept(&kitchen.home()).try_into().expect("one set of notes");
    assert_eq!(before.field, "scale:sour");
    assert_eq!(before.marks, six_words());

    let mut again = app(&kitchen, 160, 50);
    again.pty.wait_for("Go on: Ana tastes T1");
    again.press("\r");
    again.pty.wait_for("How sour?");
    for answer in ["colour 48 EBC", "head retention skipped", "bitter 5"] {
        again.pty.wait_for(answer);
    }
    assert_eq!(kept(&kitchen.home()), [before]);
    again.play(&from_sour());
    again.pty.wait_for("That is all.");
    again.play(&reveals());
    again.pty.wait_for("Hoped for");
    assert_eq!(kept(&kitchen.home()), [locked("Ana", fourteen_answers())]);
}

#[test]
fn two_at_one_table_taste_the_same_beer_and_the_plan_waits_for_both() {
    let kitchen = with_a_batch();
    let mut ana = opened(&kitchen);
    ana.press("1");
    ana.play(&sits_down("Ana"));
    ana.play(&until_sour());
    ana.pty.wait_for("How sour?");
    assert_sealed_for(&kitchen, "Ana");

    let mut ben = app(&kitchen, 80, 24);
    ben.pty.wait_for("Go on: Ana tastes T1");
    ben.press("1");
    ben.play(&sits_down("Ben"));
    ben.play(&fourteen());
    ben.pty.wait_for("That is all.");
    ben.play(&[Go]);
    ben.pty.wait_for("Your notes are locked.");
    ben.pty.wait_for("is sealed until Ana");
    // Asking again does not open it.
    ben.play(&[Go]);
    assert_sealed_for(&kitchen, "Ana");

    ana.play(&from_sour());
    ana.pty.wait_for("That is all.");
    ana.play(&reveals());
    ana.pty.wait_for("Hoped for");
    ben.play(&[Go]);
    ben.pty.wait_for("lingering bitterness 4");
    ben.play(&[Go]);
    ben.pty.wait_for("Hoped for");
    let both = ["Ana", "Ben"].map(|name| locked(name, fourteen_answers()));
    assert_eq!(kept(&kitchen.home()), both);
    kitchen.done(&["compare", "T1"]);
}

/// The commands beside a tasting work, but none gives the plan away.
#[test]
fn what_takes_long_says_so_before_it_is_done_and_its_page_comes_by_itself() {
    let kitchen = with_a_batch();
    let mut player = opened(&kitchen);
    player.press("e");
    player.pty.wait_for("Look through it all");
    player.pty.forget_raw();
    player.press("5");
    player.pty.wait_for_raw(b"moment");
    player.pty.wait_for("Looked through");
}

fn assert_sealed_for(kitchen: &Kitchen, taster: &str) {
    let listed = kitchen.done(&["batch", "list"]);
    assert!(listed.contains("T1"), "{listed}");
    assert!(!listed.contains("Harbour"), "{listed}");
    let compare = kitchen.run(&["compare", "T1"]);
    assert_eq!((compare.code, compare.out.as_str()), (1, ""));
    let sentence = format!(
        "the plan of “T1” is sealed until {taster} locks their notes or leaves. To break the seal"
    );
    assert!(compare.err.contains(&sentence), "{}", compare.err);
    kitchen.done(&["batch", "log", "T1", "note", "opened in the kitchen"]);
}
