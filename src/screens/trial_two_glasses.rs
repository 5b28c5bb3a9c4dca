//! What two glasses side by side look like from the first key to the opened codes.

use crate::domain::Notes;
use crate::domain::NotesSource;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::screens::App;
use crate::screens::StartScreen;
use crate::screens::press_line;
use crate::screens::told;
use crate::screens::trial::keys;
use crate::screens::trial::picture;
use crate::screens::trial::started;
use crate::workflow::Home;

/// Ana before two glasses that Ben poured.
fn poured() -> App {
    let mut app = started(Home::trial());
    keys(&mut app, "2Ana⏎Gate⏎Barn⏎1⏎");
    app
}

/// The code in which a beer was poured, as the page for the pourer says.
fn code_of(app: &mut App, mark: &str) -> String {
    let page = picture(app);
    let line = page
        .lines()
        .find(|it| it.trim_end().ends_with(mark))
        .unwrap();
    line.trim().split(' ').next().unwrap().to_owned()
}

fn title(app: &mut App) -> String {
    picture(app).lines().next().unwrap().trim().to_owned()
}

/// The locked notes on a beer.
fn notes_on(app: &mut App, mark: &str) -> Vec<Notes> {
    let home = app.home();
    let rows = home.locked_notes().unwrap();
    let rows = rows
        .into_iter()
        .filter(|it| it.beer.cap_mark.as_str() == mark);
    rows.map(|it| home.found(&it.notes).unwrap().notes)
        .collect()
}

fn sweet(notes: &Notes) -> Option<Rating> {
    notes.rating(Scale::from_id("sweet").unwrap())
}

#[test]
fn whoever_pours_sees_the_key_once_and_the_taster_codes_alone_until_the_lock() {
    let mut app = poured();
    let (gate, barn) = (code_of(&mut app, "Gate"), code_of(&mut app, "Barn"));
    assert_ne!(gate, barn);
    keys(&mut app, "⏎");
    let mut seen = vec![picture(&mut app)];
    keys(&mut app, "s");
    // The short glass: what is known, the nose, then stage by stage from glass to glass.
    for sign in "11".chars() {
        keys(&mut app, &sign.to_string());
        seen.push(picture(&mut app));
    }
    let mut titles = vec![title(&mut app)];
    for answer in ["5", "6", "⏎23", "⏎78", "4", "5", "3", "2", "6", "7"] {
        keys(&mut app, answer);
        seen.push(picture(&mut app));
        titles.push(title(&mut app));
    }
    for page in &seen {
        assert!(!page.contains("Gate") && !page.contains("Barn"), "{page}");
    }
    titles.dedup();
    let last = titles.pop().unwrap();
    assert_eq!(last, "Ana has tasted both glasses");
    let (one, other) = (&titles[0], &titles[1]);
    assert!(titles.iter().step_by(2).all(|it| it == one), "{titles:?}");
    assert!(
        titles.iter().skip(1).step_by(2).all(|it| it == other),
        "{titles:?}"
    );
    // Five stretches of the short glass: aroma, flavour, body, finish, liking; two glasses each.
    assert_eq!(titles.len(), 10, "{titles:?}");
    keys(&mut app, "⏎");
    let opened = picture(&mut app);
    assert!(opened.contains(&format!("{gate} was Gate")), "{opened}");
    assert!(opened.contains(&format!("{barn} was Barn")), "{opened}");
    assert!(opened.contains("side by side under codes"), "{opened}");
    let first = if one.contains(&gate) { "Gate" } else { "Barn" };
    let value = |app: &mut App, mark: &str| sweet(&notes_on(app, mark)[0]);
    let (here, there) = if first == "Gate" {
        ("Gate", "Barn")
    } else {
        ("Barn", "Gate")
    };
    assert_eq!(value(&mut app, here), Some(Rating::Rated(2.0)));
    assert_eq!(value(&mut app, there), Some(Rating::Rated(7.0)));
}

#[test]
fn cups_that_were_shuffled_are_named_left_and_right_and_the_notes_follow_the_code_beneath() {
    for left in ["Gate", "Barn"] {
        let mut app = started(Home::trial());
        keys(&mut app, "2Ana⏎Gate⏎Barn⏎2");
        let code = code_of(&mut app, left);
        keys(&mut app, "⏎s11");
        assert_eq!(title(&mut app), "Ana tastes the left cup");
        keys(&mut app, "56⏎23⏎78453267");
        assert!(picture(&mut app).contains("Enter asks which cup was which"));
        keys(&mut app, "⏎");
        let page = picture(&mut app);
        let row = page.lines().find(|it| it.contains(&code)).unwrap();
        let digit = row.trim().chars().next().unwrap();
        keys(&mut app, &digit.to_string());
        let right = if left == "Gate" { "Barn" } else { "Gate" };
        assert_eq!(
            sweet(&notes_on(&mut app, left)[0]),
            Some(Rating::Rated(2.0))
        );
        assert_eq!(
            sweet(&notes_on(&mut app, right)[0]),
            Some(Rating::Rated(7.0))
        );
    }
}

#[test]
fn going_back_leads_from_glass_to_glass_and_an_answer_is_taken_back_in_its_own() {
    let mut app = poured();
    keys(&mut app, "⏎s11");
    let first = title(&mut app);
    keys(&mut app, "5");
    let second = title(&mut app);
    assert_ne!(first, second);
    keys(&mut app, "↑");
    assert_eq!(title(&mut app), first);
    assert!(picture(&mut app).contains("Aroma"));
    keys(&mut app, "↓");
    assert_eq!(title(&mut app), second);
    keys(&mut app, "6");
    assert_eq!(title(&mut app), first);
    keys(&mut app, "⌫");
    assert_eq!(title(&mut app), second);
    // Two steps without an answer, and the answer in the first glass.
    keys(&mut app, "⌫⌫");
    assert_eq!(title(&mut app), second);
    keys(&mut app, "⌫");
    assert_eq!(title(&mut app), first);
    let open = app.home().open_tastings().unwrap();
    for row in open {
        let notes = app.home().tasting(&row.notes).unwrap().notes;
        assert!(notes.ratings.is_empty());
    }
}

#[test]
fn two_glasses_are_one_open_tasting_and_go_on_where_they_stood() {
    let mut app = poured();
    keys(&mut app, "⏎s115");
    let second = title(&mut app);
    keys(&mut app, "⎋");
    let page = picture(&mut app);
    assert_eq!(
        page.matches("Go on: Ana tastes two glasses").count(),
        1,
        "{page}"
    );
    assert!(!page.contains("Gate") && !page.contains("Barn"), "{page}");
    keys(&mut app, "↑⏎");
    let back = title(&mut app);
    assert_eq!(back, second);
}

#[test]
fn glasses_that_were_not_poured_yet_show_their_key_again_to_whoever_pours() {
    let mut app = poured();
    let code = code_of(&mut app, "Gate");
    keys(&mut app, "⎋");
    let mut again = App::new(
        std::mem::replace(app.home(), Home::trial()),
        vec![Box::new(StartScreen::new(NotesSource::App))],
    );
    picture(&mut again);
    keys(&mut again, "⏎");
    assert!(title(&mut again).starts_with("Two glasses for Ana"));
    keys(&mut again, "⏎");
    assert_eq!(code_of(&mut again, "Gate"), code);
}

#[test]
fn a_second_taster_gets_the_same_codes_the_other_way_round_and_nothing_opens_before_both_locked() {
    let mut app = poured();
    keys(&mut app, "⏎s11");
    let first = title(&mut app).replace("Ana", "Ben");
    keys(&mut app, "⎋2Ben⏎Barn⏎Gate⏎1⏎⏎s11");
    assert_ne!(title(&mut app), first);
    keys(&mut app, "5");
    assert_eq!(title(&mut app), first);
    keys(&mut app, "6⏎23⏎78453267⏎");
    let page = picture(&mut app);
    assert!(page.contains("sealed until Ana"), "{page}");
    assert!(!page.contains(" was "), "{page}");
}

#[test]
fn a_bad_bottle_of_two_ends_both_and_counts_nowhere() {
    let mut app = poured();
    keys(&mut app, "⏎s115!");
    assert!(title(&mut app).starts_with("Something is wrong with glass"));
    keys(&mut app, "1");
    assert!(picture(&mut app).contains("gusher"));
    keys(&mut app, "⏎");
    assert_eq!(title(&mut app), "thirdglass");
    assert!(app.home().open_tastings().unwrap().is_empty());
    assert!(app.home().versus("Gate", "Barn").is_err());
}

#[test]
fn line_by_line_the_cups_are_shuffled_because_a_key_would_stay_readable() {
    let mut app = App::new(
        Home::trial(),
        vec![Box::new(StartScreen::new(NotesSource::Plain))],
    );
    for line in ["2", "Ana", "Gate", "Barn"] {
        press_line(&mut app, line);
    }
    assert!(told(&mut app).contains("Write each code under its cup"));
    press_line(&mut app, "");
    assert!(told(&mut app).contains("Ana tastes the left cup"));
}
