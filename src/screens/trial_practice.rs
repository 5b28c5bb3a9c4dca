//! Practice by keys alone: words, jars at a table and alone, present or not, and what may be seen meanwhile.

use crate::domain::PracticeItem;
use crate::domain::Spiked;
use crate::screens::App;
use crate::screens::trial::flat;
use crate::screens::trial::keys;
use crate::screens::trial::picture;
use crate::screens::trial::started;
use crate::workflow::Home;
use crate::workflow::PracticeRun;

/// What a taster is asked in the practice that is open.
fn run_of(app: &mut App, name: &str) -> PracticeRun {
    let home = app.home();
    let taster = home.taster(name).unwrap();
    home.open_practice(&taster).unwrap().unwrap()
}

/// Walks through the market along these names.
fn walk(app: &mut App, names: &[String]) {
    for name in names {
        // A letter jumps to the next name that begins with it.
        let first: String = name.chars().take(1).collect();
        for _ in 0..20 {
            let page = picture(app);
            let mut lines = page.lines().map(str::trim_start);
            let chosen = lines.find(|it| it.starts_with('▸')).unwrap();
            let chosen: String = chosen.chars().skip(3).collect();
            if chosen.starts_with(name.as_str()) {
                break;
            }
            keys(app, &first.to_lowercase());
        }
        keys(app, "⏎");
    }
}

/// Place, shelf and word of what is in a jar.
fn stands(app: &mut App, item: &PracticeItem) -> [String; 3] {
    let wheel = app.home().wheel();
    let word = wheel.descriptor(&item.descriptor).unwrap();
    let shelf = wheel.shelf(&word.shelf).unwrap();
    let place = wheel.place(&shelf.place).unwrap();
    [place.name.clone(), shelf.name.clone(), word.word.clone()]
}

#[test]
fn five_minutes_of_words_are_told_answer_by_answer_and_counted() {
    let mut app = started(Home::trial());
    keys(&mut app, "81Ana⏎");
    let run = run_of(&mut app, "Ana");
    assert_eq!(run.items.len(), 12);
    for (at, item) in run.items.iter().enumerate() {
        let right = item.options.iter().position(|it| *it == item.descriptor);
        match right {
            // The first answer is wrong on purpose.
            Some(row) if at == 0 => {
                let wrong = (row + 1) % item.options.len();
                keys(&mut app, &format!("{}5", wrong + 1));
                assert!(flat(&mut app).contains("Not quite."), "{}", flat(&mut app));
            }
            Some(row) => {
                keys(&mut app, &format!("{}8", row + 1));
                assert!(flat(&mut app).contains("Right."), "{}", flat(&mut app));
            }
            None => {
                let place = stands(&mut app, item)[0].clone();
                walk(&mut app, &[place]);
                keys(&mut app, "9");
            }
        }
        keys(&mut app, "⏎");
    }
    let end = flat(&mut app);
    assert!(end.contains("11 of 12 right."), "{end}");
    keys(&mut app, "⏎6Ana⏎");
    let page = flat(&mut app);
    assert!(
        page.contains("Of 12 questions about words 11 were answered rightly"),
        "{page}"
    );
    // Twelve certainties are too few to be told whether they fit.
    assert!(
        page.contains("12 answers with a certainty so far"),
        "{page}"
    );
}

#[test]
fn what_was_left_open_is_asked_the_next_time() {
    let mut app = started(Home::trial());
    keys(&mut app, "81Ana⏎");
    let first = run_of(&mut app, "Ana");
    keys(&mut app, "15⏎⎋1Ana⏎");
    assert!(picture(&mut app).contains("1 of 12 answered"));
    let again = run_of(&mut app, "Ana");
    assert_eq!(first.items, again.items);
}

#[test]
fn friends_at_a_table_smell_the_same_jars_and_nobody_is_told_before_all_have_answered() {
    let mut app = started(Home::trial());
    keys(&mut app, "82Ana, Ben⏎⌫3⏎⏎");
    let prepared = flat(&mut app);
    let ana = run_of(&mut app, "Ana");
    let ben = run_of(&mut app, "Ben");
    assert_eq!(ana.items.len(), 3);
    for item in &ana.items {
        let code = item.code.unwrap().to_string();
        assert!(prepared.contains(&code), "{prepared}");
        assert!(
            ben.items
                .iter()
                .any(|it| it.code == item.code && it.descriptor == item.descriptor)
        );
    }
    keys(&mut app, "⏎⏎");
    for (name, run) in [("1", &ana), ("2", &ben)] {
        keys(&mut app, name);
        for item in &run.items {
            let page = flat(&mut app);
            assert!(
                page.contains(&format!("Smell jar {}", item.code.unwrap())),
                "{page}"
            );
            let names = stands(&mut app, item);
            walk(&mut app, &names);
            keys(&mut app, "7");
            assert!(!flat(&mut app).contains("Right."));
        }
        let page = flat(&mut app);
        let told = page.contains("3 of 3 right");
        assert_eq!(told, name == "2", "{page}");
        keys(&mut app, "⏎");
    }
    keys(&mut app, "1");
    assert!(
        flat(&mut app).contains("3 of 3 right"),
        "{}",
        flat(&mut app)
    );
}

#[test]
fn alone_the_code_is_read_after_the_answer() {
    let mut app = started(Home::trial());
    keys(&mut app, "82Ana⏎⌫3⏎↓⏎");
    let run = run_of(&mut app, "Ana");
    assert!(flat(&mut app).contains("shuffle"), "{}", flat(&mut app));
    keys(&mut app, "⏎⏎");
    // The jar that stands last in the drawn order is smelled first, and no code is named.
    let item = run.items.last().unwrap().clone();
    for it in &run.items {
        assert!(!flat(&mut app).contains(&it.code.unwrap().to_string()));
    }
    let names = stands(&mut app, &item);
    walk(&mut app, &names);
    keys(&mut app, "6");
    assert!(
        flat(&mut app).contains("which code stands there"),
        "{}",
        flat(&mut app)
    );
    keys(&mut app, "100");
    assert!(flat(&mut app).contains("No jar is called 100"));
    keys(&mut app, &item.code.unwrap().to_string());
    assert!(flat(&mut app).contains("Right."), "{}", flat(&mut app));
    let run = run_of(&mut app, "Ana");
    assert!(run.is_answered(&item));
    assert_eq!(run.replies(&item).certainty.unwrap().percent(), 60);
}

#[test]
fn a_trace_is_found_or_not_and_false_alarms_are_counted() {
    let mut app = started(Home::trial());
    keys(&mut app, "83Ana⏎honey⏎⏎⏎⏎");
    let run = run_of(&mut app, "Ana");
    let spiked = run
        .items
        .iter()
        .filter(|it| it.spiked == Some(Spiked::Spiked));
    assert_eq!((run.items.len(), spiked.count()), (8, 4));
    // Everything is said to be in there.
    for _ in &run.items {
        keys(&mut app, "15⏎");
    }
    assert!(
        flat(&mut app).contains("4 of 8 right."),
        "{}",
        flat(&mut app)
    );
    keys(&mut app, "⏎6Ana⏎");
    let page = flat(&mut app);
    assert!(
        page.contains("Found in 4 of 4 spiked glasses, and in 4 of 4 plain ones"),
        "{page}"
    );
    assert!(page.contains("too readily"), "{page}");
}

#[test]
fn no_screen_of_practice_breaks_in_a_small_room() {
    let mut app = started(Home::trial());
    let small = crate::screens::Room {
        width: 30,
        height: 6,
    };
    for sign in "81Ana⏎15⏎⎋2Ana⏎⌫3⏎⏎⏎⏎⏎⏎⏎5⏎⎋6Ana⏎→".chars() {
        app.framed(small);
        keys(&mut app, &sign.to_string());
    }
}

#[test]
fn a_series_is_rated_put_in_order_and_told() {
    let mut app = started(Home::trial());
    keys(&mut app, "84Ana⏎sweet⏎⏎");
    let prepared = flat(&mut app);
    assert!(
        prepared.contains("table sugar in a litre of water"),
        "{prepared}"
    );
    let home = app.home();
    let taster = home.taster("Ana").unwrap();
    let sitting = home.practices_of(&taster).unwrap().remove(0);
    let glasses = home.strength_run(&sitting, &taster).unwrap().series.glasses;
    assert_eq!(glasses.len(), 5);
    keys(&mut app, "⏎⏎");
    for glass in &glasses {
        let page = flat(&mut app);
        assert!(page.contains(&format!("Glass {}", glass.code)), "{page}");
        assert!(!page.contains("table sugar"), "{page}");
        keys(&mut app, &glass.step.digit().to_string());
    }
    // The two weakest are confused, all others stand right: 9 of 10 pairs.
    let mut codes: Vec<_> = glasses.iter().map(|it| (it.step, it.code)).collect();
    codes.sort_unstable();
    codes.swap(0, 1);
    let mut left: Vec<_> = codes.iter().map(|it| it.1).collect();
    left.sort_unstable();
    for (_, code) in codes.iter().take(4) {
        let row = left.iter().position(|it| it == code).unwrap();
        left.remove(row);
        keys(&mut app, &(row + 1).to_string());
    }
    assert!(
        flat(&mut app).contains("So they stand"),
        "{}",
        flat(&mut app)
    );
    keys(&mut app, "⏎");
    let page = flat(&mut app);
    assert!(
        page.contains("of 10 pairs 9 stand in the right order"),
        "{page}"
    );
    // 5 of 120 orders have at most one pair the wrong way round.
    assert!(page.contains("does as well 4 times in a hundred"), "{page}");
    keys(&mut app, "⏎6Ana⏎");
    let page = flat(&mut app);
    assert!(page.contains("9 of 10 pairs in the right order"), "{page}");
}

#[test]
fn a_table_that_was_left_open_goes_on_where_it_was() {
    let mut app = started(Home::trial());
    keys(&mut app, "82Ana, Ben⏎⌫3⏎⏎⏎⏎");
    assert!(
        flat(&mut app).contains("Pass the screen round"),
        "{}",
        flat(&mut app)
    );
    let run = run_of(&mut app, "Ben");
    // The screen is left, as after a power cut, and the table asked for again.
    keys(&mut app, "⎋2Ana⏎");
    assert!(flat(&mut app).contains("left open"), "{}", flat(&mut app));
    keys(&mut app, "⏎");
    assert!(
        flat(&mut app).contains("Pass the screen round"),
        "{}",
        flat(&mut app)
    );
    assert_eq!(run_of(&mut app, "Ben").items, run.items);
    // Or another one is begun.
    keys(&mut app, "⎋2Ana⏎↓⏎");
    assert!(
        flat(&mut app).contains("How many jars?"),
        "{}",
        flat(&mut app)
    );
}
