//! The wheel as the sectors of a round, with what is marked on it, and as a poster to print.

use crate::domain::SCALES;
use crate::domain::Shelf;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::domain::Wheel;
use crate::drawing::Paper;
use crate::drawing::Poster;
use crate::drawing::Sector;
use crate::drawing::Sheet;
use crate::drawing::uncapitalised;
use crate::workflow::Marked;
use crate::workflow::MarksOf;
use crate::workflow::WordMarks;

/// The places with their shelves and words as sectors, clockwise; each has its number as its sign.
#[must_use]
pub fn wheel_sectors(wheel: &Wheel, marks: Option<&WordMarks>) -> Vec<Sector> {
    let places = wheel.places().iter().enumerate();
    let places = places.map(|(hue, place)| {
        let shelves = wheel.shelves_of(&place.id).enumerate();
        let shelves = shelves.map(|(at, it)| shelf_sector(wheel, marks, hue, (at, it)));
        Sector {
            label: place.name.clone(),
            sign: (hue + 1).to_string(),
            hue,
            heat: heat(marks, || Subject::Place(place.id.clone())),
            behind: shelves.collect(),
        }
    });
    places.collect()
}

fn shelf_sector(
    wheel: &Wheel,
    marks: Option<&WordMarks>,
    hue: usize,
    (at, shelf): (usize, &Shelf),
) -> Sector {
    let words = wheel
        .words_on(&shelf.id)
        .enumerate()
        .map(|(at, it)| Sector {
            label: it.word.clone(),
            sign: (at + 1).to_string(),
            hue,
            heat: heat(marks, || Subject::Descriptor(it.id.clone())),
            behind: Vec::new(),
        });
    Sector {
        label: shelf.name.clone(),
        sign: (at + 1).to_string(),
        hue,
        heat: heat(marks, || Subject::Shelf(shelf.id.clone())),
        behind: words.collect(),
    }
}

fn heat(marks: Option<&WordMarks>, subject: impl Fn() -> Subject) -> Option<f64> {
    marks.and_then(|it| it.heat(&subject()))
}

/// How much was marked, in a few signs.
#[must_use]
pub fn marked_words(marked: Marked) -> String {
    match marked {
        Marked::Named(count) | Marked::Right(count) => {
            format!("{} of {}", count.hits(), count.tries())
        }
        Marked::Chance(chance) => format!("{:.0} %", 100.0 * chance),
    }
}

/// Whose marks are shown and what they count, in a few words.
#[must_use]
pub fn marks_words(of: &MarksOf) -> String {
    match of {
        MarksOf::Taster(taster) => format!("glasses in which {} named it", taster.name),
        MarksOf::HitRates(taster) => format!("how often {} was right in practice", taster.name),
        MarksOf::Notes(mark) => format!("notes on {mark} that name it"),
        MarksOf::Prediction(mark) => format!("chance that it is named in {mark}"),
    }
}

/// The heading of a poster with marks: of what, or of whom.
fn poster_title(of: &MarksOf) -> String {
    match of {
        MarksOf::Taster(taster) => format!("What {} named", taster.name),
        MarksOf::HitRates(taster) => format!("What {} finds in practice", taster.name),
        MarksOf::Notes(mark) => format!("What was named in {mark}"),
        MarksOf::Prediction(mark) => format!("What is predicted of {mark}"),
    }
}

/// What stands in the hub where there is little room: the stages that have scales, under their heading.
#[must_use]
pub fn hub_stages() -> Vec<String> {
    let stages = Stage::ALL.iter();
    let has_scales = |it: &&Stage| SCALES.iter().any(|scale| scale.stage == Some(**it));
    let stages = stages.filter(has_scales).map(|it| uncapitalised(it.word()));
    std::iter::once("scales".to_owned()).chain(stages).collect()
}

/// The names of the scales, under their heading: what stands in the hub of the poster.
fn hub_scales() -> Vec<String> {
    let scales = SCALES.iter().filter(|it| it.stage.is_some());
    let scales = scales.map(|it| uncapitalised(it.word));
    std::iter::once("Scales".to_owned()).chain(scales).collect()
}

/// The whole wheel as a poster on one sheet.
#[must_use]
pub fn wheel_poster(wheel: &Wheel, marks: Option<&WordMarks>, paper: Paper) -> Sheet {
    let hub = hub_scales();
    let hub: Vec<&str> = hub.iter().map(String::as_str).collect();
    let title = marks.map_or("The market of words".to_owned(), |it| poster_title(&it.of));
    let of = marks
        .map(|it| marks_words(&it.of) + ":")
        .unwrap_or_default();
    let [nothing, least, most] = match marks.map(|it| &it.of) {
        Some(MarksOf::HitRates(_)) => ["not asked", "seldom", "always"],
        Some(MarksOf::Prediction(_)) => ["next to none", "small", "certain"],
        _ => ["none", "few", "most"],
    };
    Poster {
        paper,
        title: &title,
        how: "Begin in the middle and walk outwards: the place where you have met the smell, then the nearest shelf, then the word. Stop where you are sure; a place alone is a good answer.",
        rings: [
            ["Places", "Where have you smelled this before?"],
            ["Shelves", "Which shelf of that place is nearest?"],
            ["Words", "Which word of that shelf fits, if any?"],
        ],
        hub: &hub,
        stalls: &wheel_sectors(wheel, marks),
        heat: marks.map(|_| [of.as_str(), nothing, least, most]),
    }
    .sheet()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Name;
    use crate::drawing::beyond_margins;
    use crate::drawing::svg;
    use crate::workflow::Home;

    /// The texts of a document with their letter sizes; panics where tags do not close one another.
    fn texts(svg: &str) -> Vec<(f64, String)> {
        let mut open: Vec<&str> = Vec::new();
        let mut texts = Vec::new();
        let mut size = 0.0;
        for part in svg.split('<').skip(1) {
            let (tag, text) = part.split_once('>').unwrap();
            let name = tag.split([' ', '/']).find(|it| !it.is_empty()).unwrap();
            if let Some(closed) = tag.strip_prefix('/') {
                assert_eq!(open.pop(), Some(closed), "{tag}");
                continue;
            }
            assert_eq!(tag.matches('"').count() % 2, 0, "{tag}");
            if !tag.ends_with('/') {
                open.push(name);
            }
            if name == "text" {
                let (_, rest) = tag.split_once("font-size=\"").unwrap();
                size = rest.split('"').next().unwrap().parse().unwrap();
                texts.push((size, text.to_owned()));
            }
        }
        assert!(open.is_empty() && size > 0.0, "{open:?}");
        texts
    }

    fn plain(text: &str) -> String {
        text.replace("&apos;", "'").replace("&amp;", "&")
    }

    #[test]
    fn the_poster_is_whole_xml_and_names_every_place_shelf_and_word_in_letters_to_be_read() {
        let home = Home::trial();
        let wheel = home.wheel();
        for paper in [Paper::A4, Paper::Letter] {
            let svg = svg(&wheel_poster(wheel, None, paper));
            let texts = texts(&svg);
            let joined: Vec<String> = texts.iter().map(|it| plain(&it.1)).collect();
            let words = wheel.descriptors().iter().map(|it| it.word.as_str());
            for word in words {
                assert!(joined.iter().any(|it| it == word), "{word}");
            }
            let all = joined.join(" ");
            let shelves = wheel.shelves().iter().map(|it| it.name.as_str());
            let places = wheel.places().iter().map(|it| it.name.as_str());
            let scales = hub_scales();
            let scales = scales.iter().map(String::as_str);
            for name in shelves.chain(places).chain(scales) {
                assert!(all.contains(name), "{name}");
            }
            for (size, text) in &texts {
                assert!(*size >= 1.5, "{text} has {size} mm");
            }
        }
    }

    #[test]
    fn a_word_of_the_user_with_signs_of_xml_does_not_break_the_poster() {
        let home = Home::trial();
        let mut sectors = wheel_sectors(home.wheel(), None);
        "salt & <vinegar>".clone_into(&mut sectors[0].behind[0].behind[0].label);
        let poster = Poster {
            paper: Paper::A4,
            title: "\"Q\" & A",
            how: "",
            rings: [["", ""]; 3],
            hub: &["a"],
            stalls: &sectors,
            heat: None,
        };
        let svg = svg(&poster.sheet());
        assert!(svg.contains("salt &amp; &lt;vinegar&gt;"));
        assert!(texts(&svg).len() > 298);
    }

    #[test]
    fn marks_darken_the_poster_and_its_legend_says_whose_they_are() {
        let home = Home::trial_with_a_batch();
        let of = MarksOf::Prediction(home.batch("T1").unwrap().cap_mark);
        let marks = home.word_marks(&of).unwrap();
        let poster = wheel_poster(home.wheel(), Some(&marks), Paper::A4);
        let texts = texts(&svg(&poster));
        let legend = "chance that it is named in T1:";
        assert!(texts.iter().any(|it| it.1 == legend));
        assert!(texts.iter().any(|it| it.1 == "What is predicted of T1"));
        assert_ne!(poster, wheel_poster(home.wheel(), None, Paper::A4));
    }

    #[test]
    fn the_longest_name_has_room_in_the_heading_of_a_poster() {
        let mut home = Home::trial();
        let longest: String = "Hopfendarre-".chars().cycle().take(Name::MOST).collect();
        let of = MarksOf::Taster(home.add_taster(&longest).unwrap());
        let marks = home.word_marks(&of).unwrap();
        for paper in [Paper::A4, Paper::Letter] {
            let poster = wheel_poster(home.wheel(), Some(&marks), paper);
            assert_eq!(poster.title, format!("What {longest} named"));
            // The margin of the poster is 8 mm; its round comes nearer on purpose.
            let mut heading = poster.clone();
            heading.printed.truncate(1);
            assert_eq!(beyond_margins(&heading, 8.0), Vec::<String>::new());
        }
    }
}
