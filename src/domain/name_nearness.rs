//! How near a name of elsewhere is to things of several names, word by word.

use std::collections::HashMap;

use crate::domain::word_search::plain;
use crate::domain::word_search::same_word;

/// Below this nearness a thing is another thing (judgement).
pub const NEAR: f64 = 0.55;

/// Words as short as this that nothing is called by, such as a country in short, say nothing.
const SHORT: usize = 3;

/// Several things to choose from, each given by all its names, made ready once for many names of elsewhere.
pub struct NearNames {
    words: Vec<String>,
    /// How much it says that a word is shared, word by word.
    weights: Vec<f64>,
    /// The names of each thing, as places of their words.
    things: Vec<Vec<Vec<usize>>>,
}

impl NearNames {
    /// Makes things ready.
    #[must_use]
    pub fn new(things: &[Vec<&str>]) -> Self {
        let mut places: HashMap<String, usize> = HashMap::new();
        let things: Vec<Vec<Vec<usize>>> = things
            .iter()
            .map(|names| {
                let names = names.iter().map(|name| {
                    let words = words(name).into_iter().map(|word| {
                        let next = places.len();
                        *places.entry(word).or_insert(next)
                    });
                    words.collect()
                });
                names.collect()
            })
            .collect();
        let mut in_order: Vec<(String, usize)> = places.into_iter().collect();
        in_order.sort_by_key(|it| it.1);
        let mut near = Self {
            words: in_order.into_iter().map(|it| it.0).collect(),
            weights: Vec::new(),
            things,
        };
        let of = |it: &String| near.weight(&near.likeness(it), it.chars().count());
        near.weights = near.words.iter().map(of).collect();
        near
    }

    /// How near a name is to each thing: 1 for the same words, 0 where none is shared. Letters alone make nothing near:
    /// “Citra” is no “Ultra”. What stands in brackets counts only where the rest says nothing.
    #[must_use]
    pub fn nearness(&self, name: &str) -> Vec<f64> {
        let outside = self.rate(words(&without_brackets(name)));
        if outside.iter().any(|it| *it >= NEAR) {
            outside
        } else {
            self.rate(words(name))
        }
    }

    /// How well a word is found in each word of the names.
    fn likeness(&self, word: &str) -> Vec<f64> {
        self.words.iter().map(|it| same_word(word, it)).collect()
    }

    /// A word's inverse document frequency (Spärck Jones 1972), among the names to choose from.
    fn weight(&self, likeness: &[f64], letters: usize) -> f64 {
        let names = self.things.iter().flatten();
        let having = names.clone().filter(|it| best(likeness, it) > 0.0).count();
        if having == 0 && letters <= SHORT {
            return 0.0;
        }
        (1.0 + names.count() as f64 / having.max(1) as f64).ln()
    }

    fn rate(&self, name: Vec<String>) -> Vec<f64> {
        let name: Vec<(f64, Vec<f64>)> = name
            .into_iter()
            .map(|it| {
                let likeness = self.likeness(&it);
                (self.weight(&likeness, it.chars().count()), likeness)
            })
            .collect();
        let rated = self.things.iter().map(|names| {
            // What one name leaves unsaid, another name of the same thing may say.
            let all = names.concat();
            let given = share(name.iter().map(|it| (it.0, best(&it.1, &all))));
            let covered = names.iter().map(|of| {
                share(of.iter().map(|word| {
                    let found = name.iter().map(|it| it.1[*word]);
                    (self.weights[*word], found.fold(0.0, f64::max))
                }))
            });
            let covered = covered.fold(0.0, f64::max);
            if given + covered > 0.0 {
                2.0 * given * covered / (given + covered)
            } else {
                0.0
            }
        });
        rated.collect()
    }
}

/// How well a word is found among some of the words.
fn best(likeness: &[f64], among: &[usize]) -> f64 {
    among.iter().map(|it| likeness[*it]).fold(0.0, f64::max)
}

/// How much of all weights is found.
fn share(weights: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (found, all) = weights.fold((0.0, 0.0), |sum, (weight, found)| {
        (weight.mul_add(found, sum.0), sum.1 + weight)
    });
    if all > 0.0 { found / all } else { 0.0 }
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
        let near = NearNames::new(things).nearness(name);
        let best = (0..things.len()).max_by(|a, b| near[*a].total_cmp(&near[*b]))?;
        (near[best] >= NEAR).then(|| things[best][0])
    }

    #[test]
    fn no_word_that_is_the_same_but_for_slips_is_turned_away_at_once() {
        // Each pair is two slips apart, of those that change the most letters.
        for (one, other) in [
            ("saazer", "cbazer"),
            ("golden", "goldenxy"),
            ("pilsner", "plisenr"),
            ("abcdef", "xycdef"),
        ] {
            assert!(same_word(one, other) > 0.0, "{one} {other}");
        }
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
