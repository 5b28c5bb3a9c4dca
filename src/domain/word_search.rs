//! Finding what was meant by what was typed: beginnings first, then slips of the finger, then loose matches.

use std::collections::HashMap;

use nucleo_matcher::Config;
use nucleo_matcher::Matcher;
use nucleo_matcher::pattern::CaseMatching;
use nucleo_matcher::pattern::Normalization;
use nucleo_matcher::pattern::Pattern;

use crate::domain::Descriptor;
use crate::domain::Wheel;

/// How well a name fits what was typed; smaller is better.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    Whole,
    Beginning,
    InnerBeginning,
    Slip,
}

impl Wheel {
    /// The words that fit `typed`, best first, at most `most`.
    ///
    /// Names, synonyms and known misspellings count; a slip of one letter is forgiven from three
    /// letters on, two from six on.
    #[must_use]
    pub fn search(&self, typed: &str, most: usize) -> Vec<&Descriptor> {
        let typed = plain(typed);
        if typed.is_empty() {
            return Vec::new();
        }
        let mut fits: Vec<(Fit, usize, usize, usize)> = self
            .descriptors()
            .iter()
            .enumerate()
            .filter_map(|(index, it)| {
                best_fit(it, &typed).map(|(fit, rank)| (fit, rank, it.word.len(), index))
            })
            .collect();
        fits.sort_unstable();
        let mut found: Vec<&Descriptor> = fits
            .into_iter()
            .take(most)
            .map(|(.., index)| &self.descriptors()[index])
            .collect();
        if found.len() < most {
            let loose: Vec<&Descriptor> = self
                .loosely(&typed)
                .into_iter()
                .filter(|it| !found.iter().any(|have| have.id == it.id))
                .take(most - found.len())
                .collect();
            found.extend(loose);
        }
        found
    }

    /// The one word that is meant by a whole name or the beginning of one; a slip or a loose match is only offered,
    /// because what hangs on it, such as an allergen, would be that of another word.
    ///
    /// # Errors
    /// None begins so; then the words that could be meant, the nearest first, at most three.
    pub fn meant(&self, typed: &str) -> Result<&Descriptor, Vec<&str>> {
        let asked = plain(typed);
        let found = self.search(typed, 3);
        match found.first() {
            Some(first) if is_named(first, &asked) => Ok(first),
            _ => Err(self.nearest_words(&asked)),
        }
    }

    /// Words near to what was typed, at most three: slips first, then names alike.
    fn nearest_words(&self, asked: &str) -> Vec<&str> {
        if asked.is_empty() {
            return Vec::new();
        }
        let slips = self.search(asked, 3).into_iter();
        let slips = slips.filter(|it| best_fit(it, asked).is_some());
        let mut near: Vec<&str> = slips.map(|it| it.word.as_str()).collect();
        let names = self.descriptors().iter().map(|it| it.word.as_str());
        for name in nearest_names(asked, names, 3) {
            if !near.contains(&name) {
                near.push(name);
            }
        }
        near.truncate(3);
        near
    }

    fn loosely(&self, typed: &str) -> Vec<&Descriptor> {
        let mut matcher = Matcher::new(Config::DEFAULT);
        Pattern::parse(typed, CaseMatching::Ignore, Normalization::Smart)
            .match_list(self.descriptors().iter().map(Loose), &mut matcher)
            .into_iter()
            .map(|(it, _)| it.0)
            .collect()
    }
}

struct Loose<'a>(&'a Descriptor);

impl AsRef<str> for Loose<'_> {
    fn as_ref(&self) -> &str {
        &self.0.word
    }
}

/// The names nearest to `typed`, best first, at most `most`; none that is quite different, and none
/// far behind the best.
///
/// Names are compared word by word, and a word counts the more the fewer names have it: "ale" tells
/// more about "us ale yeast" than "yeast" does.
#[must_use]
pub fn nearest_names<'a>(
    typed: &str,
    names: impl Iterator<Item = &'a str>,
    most: usize,
) -> Vec<&'a str> {
    /// Below this likeness a suggestion confuses more than it helps (judgement).
    const LIKE_ENOUGH: f64 = 0.4;
    /// What share of the best likeness another suggestion has at least (judgement).
    const NEAR_THE_BEST: f64 = 0.7;
    let typed = plain(typed);
    let names: Vec<(String, &str)> = names.map(|name| (plain(name), name)).collect();
    let mut weights = Weights::of(&names);
    let mut rated: Vec<(f64, &str, &str)> = names
        .iter()
        .map(|(plain, name)| (likeness(&typed, plain, &mut weights), plain.as_str(), *name))
        .filter(|(likeness, ..)| *likeness >= LIKE_ENOUGH)
        .collect();
    rated.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    rated.dedup_by_key(|it| it.1);
    let best = rated.first().map_or(0.0, |it| it.0);
    rated
        .into_iter()
        .take_while(|it| it.0 >= best * NEAR_THE_BEST)
        .take(most)
        .map(|(.., name)| name)
        .collect()
}

/// 1 for the same name, 0 for one that has nothing in common with what was typed.
fn likeness<'a>(typed: &'a str, name: &'a str, weights: &mut Weights<'a>) -> f64 {
    /// So many slips, in so much of the same letters, leave a name the same (judgement).
    const SLIPS: usize = 2;
    const SAME_LETTERS: f64 = 0.6;
    let whole = strsim::normalized_damerau_levenshtein(typed, name);
    let slip = whole >= SAME_LETTERS && strsim::osa_distance(typed, name) <= SLIPS;
    by_words(typed, name, weights).max(if slip { whole } else { 0.0 })
}

/// How much of either is found in the other, the harmonic mean of both shares.
fn by_words<'a>(typed: &'a str, name: &'a str, weights: &mut Weights<'a>) -> f64 {
    let same = |it: &str| typed.split(' ').any(|word| same_word(word, it) > 0.0);
    if !name.split(' ').any(same) {
        // Nothing is found of either, whatever its words weigh.
        return 0.0;
    }
    let mut share = |of: &'a str, within: &str| {
        let (mut found, mut all) = (0.0, 0.0);
        for word in of.split(' ') {
            let weight = weights.weight(word);
            all += weight;
            found += weight
                * within
                    .split(' ')
                    .map(|it| same_word(word, it))
                    .fold(0.0, f64::max);
        }
        if all > 0.0 { found / all } else { 0.0 }
    };
    let (given, covered) = (share(typed, name), share(name, typed));
    if given + covered > 0.0 {
        2.0 * given * covered / (given + covered)
    } else {
        0.0
    }
}

/// What words weigh among the names to choose from, each weighed once.
struct Weights<'a> {
    names: &'a [(String, &'a str)],
    known: HashMap<&'a str, f64>,
}

impl<'a> Weights<'a> {
    fn of(names: &'a [(String, &'a str)]) -> Self {
        Self {
            names,
            known: HashMap::new(),
        }
    }

    /// A word's inverse document frequency (Spärck Jones 1972).
    fn weight(&mut self, word: &'a str) -> f64 {
        let names = self.names;
        *self.known.entry(word).or_insert_with(|| {
            let having =
                |(name, _): &&(String, &str)| name.split(' ').any(|it| same_word(word, it) > 0.0);
            let count = names.iter().filter(having).count().max(1);
            (1.0 + names.len() as f64 / count as f64).ln()
        })
    }
}

/// 1 for the same word, less for one slip (from three letters on) or two (from six on), else 0.
pub(super) fn same_word(one: &str, other: &str) -> f64 {
    // Two slips change four kinds of letters at most, two that go and two that come: most words are told apart so.
    if (letters_of(one) ^ letters_of(other)).count_ones() > 4 {
        return 0.0;
    }
    let (long, other_long) = (one.chars().count(), other.chars().count());
    let shorter = long.min(other_long);
    let allowed = match shorter {
        0..=2 => 0,
        3..=5 => 1,
        _ => 2,
    };
    // Each letter more is a slip more.
    if long.abs_diff(other_long) <= allowed && strsim::osa_distance(one, other) <= allowed {
        strsim::normalized_damerau_levenshtein(one, other)
    } else {
        0.0
    }
}

/// A bit for each letter in a word, however often it stands there; several letters may share one.
fn letters_of(word: &str) -> u32 {
    word.chars()
        .fold(0, |all, it| all | 1 << (u32::from(it) % 32))
}

/// Small letters without accents' company: what is compared.
pub(super) fn plain(text: &str) -> String {
    let folded: String = text
        .trim()
        .chars()
        .take(60)
        .flat_map(char::to_lowercase)
        .map(|c| match c {
            'é' | 'è' | 'ê' | 'ë' => 'e',
            'á' | 'à' | 'â' | 'ä' => 'a',
            'í' | 'ì' | 'î' | 'ï' => 'i',
            'ó' | 'ò' | 'ô' | 'ö' => 'o',
            'ú' | 'ù' | 'û' | 'ü' => 'u',
            'ç' => 'c',
            'ñ' => 'n',
            '-' | '_' | '\'' | '’' => ' ',
            other => other,
        })
        .collect();
    folded.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The best fit over a word's names, with the rank of the name (word, synonym, misspelling).
fn best_fit(it: &Descriptor, typed: &str) -> Option<(Fit, usize)> {
    let own = std::iter::once((0, &it.word));
    let synonyms = it.synonyms.iter().map(|name| (1, name));
    let misspellings = it.misspellings.iter().map(|name| (2, name));
    own.chain(synonyms)
        .chain(misspellings)
        .filter_map(|(rank, name)| fit(&plain(name), typed).map(|fit| (fit, rank)))
        .min()
}

/// True where a name begins with what was typed, or holds it as a whole word.
fn is_named(it: &Descriptor, typed: &str) -> bool {
    let own = std::iter::once(&it.word).chain(&it.synonyms);
    let mut names = own.chain(&it.misspellings).map(|it| plain(it));
    names.any(|it| it.starts_with(typed) || it.split(' ').any(|part| part == typed))
}

fn fit(name: &str, typed: &str) -> Option<Fit> {
    if name == typed {
        Some(Fit::Whole)
    } else if name.starts_with(typed) {
        Some(Fit::Beginning)
    } else if name.split(' ').any(|part| part.starts_with(typed)) {
        Some(Fit::InnerBeginning)
    } else {
        slipped(name, typed).then_some(Fit::Slip)
    }
}

/// True when `typed` is the beginning of `name` but for a slip or two.
fn slipped(name: &str, typed: &str) -> bool {
    let letters = typed.chars().count();
    let allowed = match letters {
        0..=2 => return false,
        3..=5 => 1,
        _ => 2,
    };
    // A slip hardly ever hits the first letter, and asking for it keeps the list quiet.
    if name.chars().next() != typed.chars().next() {
        return false;
    }
    let beginning: String = name.chars().take(letters).collect();
    strsim::osa_distance(&beginning, typed) <= allowed
        || strsim::osa_distance(name, typed) <= allowed
}

#[cfg(test)]
mod tests {
    use super::*;

    const NAMES: [&str; 12] = [
        "Clean ale yeast",
        "Dry ale yeast",
        "Lager yeast, crisp",
        "Bread yeast",
        "baker's yeast",
        "Cider yeast",
        "Saaz",
        "Aramis",
        "Cascade",
        "munich malt",
        "chocolate malt",
        "table sugar",
    ];

    fn near(typed: &str) -> Vec<&'static str> {
        nearest_names(typed, NAMES.into_iter(), 3)
    }

    #[test]
    fn a_slip_finds_its_name_alone() {
        for (typed, name) in [
            ("saz", "Saaz"),
            ("cascad", "Cascade"),
            ("munnich malt", "munich malt"),
            ("clean ale yest", "Clean ale yeast"),
            ("tabel suger", "table sugar"),
        ] {
            assert_eq!(near(typed), [name], "{typed}");
        }
    }

    #[test]
    fn the_word_that_tells_most_decides() {
        assert_eq!(near("us ale yeast"), ["Clean ale yeast", "Dry ale yeast"]);
        assert_eq!(near("chocolate"), ["chocolate malt"]);
        assert_eq!(near("munich"), ["munich malt"]);
        assert_eq!(near("lager"), ["Lager yeast, crisp"]);
    }

    #[test]
    fn what_is_like_none_of_them_offers_none() {
        for typed in ["amarilo", "xyz", "citra", ""] {
            assert_eq!(near(typed), [""; 0], "{typed}");
        }
    }
}
