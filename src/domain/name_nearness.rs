//! How near a name of elsewhere is to things of several names, word by word.

use crate::domain::word_search::plain;
use crate::domain::word_search::same_word;

/// Below this nearness a thing is another thing (judgement).
pub const NEAR: f64 = 0.55;

/// Words as short as this that nothing is called by, such as a country in short, say nothing.
const SHORT: usize = 3;

/// How near a name is to each of several things that are given by all their names: 1 for the same words, 0 where none is
/// shared. Letters alone make nothing near: “Citra” is no “Ultra”. What stands in brackets counts only where the rest
/// says nothing.
#[must_use]
pub fn nearness(name: &str, things: &[Vec<&str>]) -> Vec<f64> {
    let things: Vec<Vec<Vec<String>>> = things
        .iter()
        .map(|names| names.iter().map(|it| words(it)).collect())
        .collect();
    let outside = rate(&words(&without_brackets(name)), &things);
    if outside.iter().any(|it| *it >= NEAR) {
        outside
    } else {
        rate(&words(name), &things)
    }
}

fn rate(name: &[String], things: &[Vec<Vec<String>>]) -> Vec<f64> {
    let all: Vec<&Vec<String>> = things.iter().flatten().collect();
    // A word's inverse document frequency (Spärck Jones 1972), among the names to choose from.
    let weight = |word: &str| {
        let having = all.iter().filter(|it| best(word, it) > 0.0).count();
        if having == 0 && word.chars().count() <= SHORT {
            return 0.0;
        }
        (1.0 + all.len() as f64 / having.max(1) as f64).ln()
    };
    let share = |of: &[String], within: &[String]| {
        let weights = of.iter().map(|it| (weight(it), best(it, within)));
        let (found, all) = weights.fold((0.0, 0.0), |sum, (weight, found)| {
            (weight.mul_add(found, sum.0), sum.1 + weight)
        });
        if all > 0.0 { found / all } else { 0.0 }
    };
    let rated = things.iter().map(|names| {
        // What one name leaves unsaid, another name of the same thing may say.
        let given = share(name, &names.concat());
        let covered = names.iter().map(|it| share(it, name)).fold(0.0, f64::max);
        if given + covered > 0.0 {
            2.0 * given * covered / (given + covered)
        } else {
            0.0
        }
    });
    rated.collect()
}

/// How well a word is found among others.
fn best(word: &str, within: &[String]) -> f64 {
    within
        .iter()
        .map(|it| same_word(word, it))
        .fold(0.0, f64::max)
}

/// The words of a name; a number of rows is written in letters or as a digit.
fn words(name: &str) -> Vec<String> {
    let name = name.replace(['(', ')', '[', ']', ',', '/', '.'], " ");
    let plain = plain(&name);
    let words = plain.split(' ').filter(|it| !it.is_empty());
    let words = words.map(|it| match it {
        "2" => "two".to_owned(),
        "6" => "six".to_owned(),
        other => other.to_owned(),
    });
    words.collect()
}

fn without_brackets(name: &str) -> String {
    let mut depth = 0_usize;
    let mut kept = String::new();
    for sign in name.chars() {
        match sign {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            _ if depth == 0 => kept.push(sign),
            _ => {}
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The nearest thing, by its first name; none where nothing is near.
    fn nearest<'a>(name: &str, things: &[Vec<&'a str>]) -> Option<&'a str> {
        let near = nearness(name, things);
        let best = (0..things.len()).max_by(|a, b| near[*a].total_cmp(&near[*b]))?;
        (near[best] >= NEAR).then(|| things[best][0])
    }

    #[test]
    fn words_make_things_near_and_letters_alone_do_not() {
        let malts = [
            vec!["Pilsner malt", "pils malt", "lager malt", "pilsener malt"],
            vec!["Pale malt", "two-row malt"],
            vec!["Pale ale malt", "ale malt"],
            vec!["Six-row malt", "six-row barley malt"],
            vec!["Crystal malt, medium", "crystal malt"],
            vec!["Chocolate malt", "dark chocolate malt"],
            vec!["Pale chocolate malt"],
            vec!["Wheat malt, pale", "wheat malt"],
        ];
        for (name, is) in [
            ("Pale Malt (2 row) UK", Some("Pale malt")),
            ("Pilsner (2 Row) Ger", Some("Pilsner malt")),
            ("Crystal Malt 40", Some("Crystal malt, medium")),
            ("Chocolate Malt (UK)", Some("Chocolate malt")),
            ("Quinoa", None),
            ("Maize", None),
        ] {
            assert_eq!(nearest(name, &malts), is, "{name}");
        }
        let hops = [vec!["Ultra"], vec!["Saaz", "saazer"], vec!["Cascade"]];
        assert_eq!(nearest("Citra", &hops), None);
        assert_eq!(nearest("Sazz", &hops), Some("Saaz"));
        let yeasts = [
            vec!["Strong golden ale yeast", "golden blend"],
            vec!["Clean ale yeast", "us ale yeast"],
            vec!["Lager yeast, crisp"],
        ];
        assert_eq!(nearest("Lacto Blend", &yeasts), None);
    }
}
