//! Finding what was meant by what was typed: beginnings first, then slips of the finger, then loose matches.

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

/// The names nearest to `typed`, best first, at most `most`; none that is quite different.
#[must_use]
pub fn nearest_names<'a>(
    typed: &str,
    names: impl Iterator<Item = &'a str>,
    most: usize,
) -> Vec<&'a str> {
    /// Below this likeness a suggestion confuses more than it helps (judgement).
    const LIKE_ENOUGH: f64 = 0.8;
    let typed = plain(typed);
    let mut rated: Vec<(f64, &str)> = names
        .map(|name| (likeness(&typed, &plain(name)), name))
        .filter(|(likeness, _)| *likeness >= LIKE_ENOUGH)
        .collect();
    rated.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    rated.dedup_by_key(|it| it.1);
    rated.into_iter().take(most).map(|(_, name)| name).collect()
}

fn likeness(typed: &str, name: &str) -> f64 {
    let whole = strsim::jaro_winkler(typed, name);
    let shares_a_word = typed
        .split(' ')
        .any(|part| part.len() > 3 && name.split(' ').any(|other| other == part));
    if shares_a_word { whole.max(0.8) } else { whole }
}

/// Small letters without accents' company: what is compared.
fn plain(text: &str) -> String {
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
