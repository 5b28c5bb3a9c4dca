//! Wishes as they are typed, one or several: `lock Saaz; alcohol 4.5-5.5; at home`.

use crate::profile::Bounds;
use crate::profile::MostChanges;
use crate::profile::Supply;
use crate::workflow::AskedWishes;

/// The largest number in a wish.
const MOST: f64 = 100_000.0;

/// The coarsest scale that hops can be weighed on at all, grams (judgement).
const COARSEST: f64 = 10.0;

/// Every wish as it can be typed, with what it does.
pub const WISH_FORMS: [(&str, &str); 11] = [
    ("lock NAME", "stays as it is"),
    ("forbid NAME", "is not to be in it"),
    ("at home", "only what larder.toml says is there"),
    ("alcohol 4.5-5.5", "% vol, from and to"),
    ("bitterness 20-30", "IBU"),
    ("colour 40-60", "EBC"),
    ("cost 8", "at most, by the larder's prices"),
    ("litres 8", "another volume"),
    ("scale 1", "the finest grams your scale weighs"),
    ("changes 1", "how many at most, 1 to 3"),
    ("anything", "takes all wishes back"),
];

/// From one number to another, such as `4.5-5.5`.
///
/// # Errors
/// A sentence: it is no range.
pub fn read_bounds(text: &str) -> Result<Bounds, String> {
    let told = || format!("“{text}” is no range; write the least and the most, such as 4.5-5.5");
    let ends = text.split_once("..").or_else(|| text.split_once('-'));
    let (from, to) = ends.ok_or_else(told)?;
    let number = |it: &str| {
        it.trim()
            .parse::<f64>()
            .ok()
            .filter(|it| (0.0..=MOST).contains(it))
    };
    let (Some(from), Some(to)) = (number(from), number(to)) else {
        return Err(told());
    };
    Bounds::new(from, to).ok_or_else(|| format!("“{text}” falls; the least stands first"))
}

/// A number above 0.
///
/// # Errors
/// A sentence: it is none.
pub fn read_amount(text: &str) -> Result<f64, String> {
    let number = text.trim().parse::<f64>().ok();
    let number = number.filter(|it| *it > 0.0 && *it <= MOST);
    number.ok_or_else(|| format!("“{text}” is no number above 0"))
}

/// The finest step of a scale, grams.
///
/// # Errors
/// A sentence: it is no number above 0, or no scale that small brews are weighed on.
pub fn read_finest(text: &str) -> Result<f64, String> {
    let finest = read_amount(text)?;
    if finest > COARSEST {
        return Err(format!(
            "a scale that weighs in steps of {finest} g weighs no hops; the finest step is asked for, such as 1 or 0.1"
        ));
    }
    Ok(finest)
}

impl AskedWishes {
    /// These wishes with more of them, as typed; several stand apart by semicolons.
    ///
    /// # Errors
    /// Every part that is no wish, each with what it should be.
    pub fn with(&self, text: &str) -> Result<Self, Vec<String>> {
        let mut wishes = self.clone();
        let mut problems = Vec::new();
        for part in text.split(';').map(str::trim).filter(|it| !it.is_empty()) {
            if let Err(problem) = wishes.take(part) {
                problems.push(problem);
            }
        }
        if problems.is_empty() {
            Ok(wishes)
        } else {
            Err(problems)
        }
    }

    fn take(&mut self, part: &str) -> Result<(), String> {
        let (word, rest) = part.split_once(' ').unwrap_or((part, ""));
        let rest = rest.trim();
        match (word.to_lowercase().as_str(), rest) {
            ("anything", "") => *self = Self::default(),
            ("at", home) if home.eq_ignore_ascii_case("home") => self.supply = Supply::AtHome,
            ("lock", name) if !name.is_empty() => self.locked.push(name.to_owned()),
            ("forbid", name) if !name.is_empty() => self.forbidden.push(name.to_owned()),
            ("alcohol", text) => self.strength = Some(read_bounds(text)?),
            ("bitterness", text) => self.bitterness = Some(read_bounds(text)?),
            ("colour", text) => self.colour = Some(read_bounds(text)?),
            ("cost", text) => self.cost = Some(read_amount(text)?),
            ("litres", text) => self.litres = Some(read_amount(text)?),
            ("scale", text) => self.finest = read_finest(text)?,
            ("changes", text) => {
                let number = text.parse().ok().and_then(MostChanges::new);
                self.most =
                    number.ok_or_else(|| format!("“{text}” changes cannot be; 1, 2 or 3 can"))?;
            }
            _ => {
                let forms: Vec<&str> = WISH_FORMS.iter().map(|it| it.0).collect();
                return Err(format!(
                    "“{part}” is no wish; wishes are written {}",
                    forms.join(", ")
                ));
            }
        }
        Ok(())
    }

    /// The wishes as they could be typed, each once; empty where there is none.
    #[must_use]
    pub fn words(&self) -> Vec<String> {
        let usual = Self::default();
        let range = |word: &str, it: Option<Bounds>| {
            it.map(|it| format!("{word} {}-{}", it.low(), it.high()))
        };
        let number = |word: &str, it: Option<f64>| it.map(|it| format!("{word} {it}"));
        let locked = self.locked.iter().map(|it| format!("lock {it}"));
        let forbidden = self.forbidden.iter().map(|it| format!("forbid {it}"));
        let home = (self.supply == Supply::AtHome).then(|| "at home".to_owned());
        let scale = ((self.finest - usual.finest).abs() > 1e-9).then_some(self.finest);
        let most = (self.most != usual.most).then(|| format!("changes {}", self.most.number()));
        locked
            .chain(forbidden)
            .chain(home)
            .chain(range("alcohol", self.strength))
            .chain(range("bitterness", self.bitterness))
            .chain(range("colour", self.colour))
            .chain(number("cost", self.cost))
            .chain(number("litres", self.litres))
            .chain(number("scale", scale))
            .chain(most)
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wishes_that_were_typed_are_shown_as_they_could_be_typed_again() {
        let typed = "lock Saaz; forbid Roasted barley; at home; alcohol 4.5-5.5; colour 40-60; litres 8; changes 1";
        let wishes = AskedWishes::default().with(typed).unwrap();
        assert_eq!(wishes.words().join("; "), typed);
        assert_eq!(
            AskedWishes::default()
                .with(&wishes.words().join(";"))
                .unwrap(),
            wishes
        );
        assert_eq!(wishes.with("anything").unwrap(), AskedWishes::default());
    }

    #[test]
    fn everything_that_is_no_wish_is_told_at_once() {
        let wrong = AskedWishes::default().with("alcohol 6-5; changes 4; more hops; cost 0");
        let problems = wrong.unwrap_err();
        assert_eq!(problems.len(), 4, "{problems:?}");
        assert!(problems[0].contains("falls") && problems[2].contains("lock NAME"));
    }
}
