//! The log of a batch as one record: what was measured, each thing once.

use std::ops::RangeInclusive;

use crate::brewing::SpecificGravity;
use crate::brewing::real_extract;
use crate::domain::BatchEntry;
use crate::domain::Day;
use crate::domain::EntryKind;
use crate::domain::EntryValue;
use crate::domain::Invalid;
use crate::workflow::WorkflowError;

/// What can be logged at all under a kind: water to boiling wort for mash and sparge, beer from freezing
/// to a car in the sun, gravities that have an extract (judgement). What was logged before stays.
const REASON: [(&str, RangeInclusive<f64>, &str); 7] = [
    ("mash-temperature", 20.0..=105.0, " °C"),
    ("sparge-temperature", 0.0..=105.0, " °C"),
    ("pitching-temperature", -3.0..=60.0, " °C"),
    ("fermentation-temperature", -3.0..=60.0, " °C"),
    ("storage-temperature", -3.0..=60.0, " °C"),
    ("original-gravity", 1.0..=1.16, ""),
    ("final-gravity", 0.98..=1.16, ""),
];

/// What the log says today; a later entry of a kind counts instead of an earlier one.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BatchLog {
    entries: Vec<BatchEntry>,
}

impl BatchLog {
    /// The log made of its current entries.
    #[must_use]
    pub const fn new(entries: Vec<BatchEntry>) -> Self {
        Self { entries }
    }

    /// All entries, in the order of writing.
    #[must_use]
    pub fn entries(&self) -> &[BatchEntry] {
        &self.entries
    }

    fn latest(&self, kind: &str) -> Option<&EntryValue> {
        self.entries
            .iter()
            .rev()
            .find(|entry| entry.kind.id == kind)
            .map(|entry| &entry.value)
    }

    /// The number logged under a kind, in its unit.
    #[must_use]
    pub fn number(&self, kind: &str) -> Option<f64> {
        self.latest(kind)?.number()
    }

    /// The day logged under a kind.
    #[must_use]
    pub fn day(&self, kind: &str) -> Option<Day> {
        match self.latest(kind)? {
            EntryValue::Date(day) => Some(*day),
            _ => None,
        }
    }

    /// The latest document logged under a kind, with the entry it stands in.
    #[must_use]
    pub fn document(&self, kind: &str) -> Option<(&BatchEntry, &str)> {
        self.entries
            .iter()
            .rev()
            .find_map(|entry| match &entry.value {
                EntryValue::Document(text) if entry.kind.id == kind => Some((entry, text.as_str())),
                _ => None,
            })
    }

    /// Lets pass only what can be true together with this log on the day `today`.
    ///
    /// # Errors
    /// [`WorkflowError::FutureDay`] for a day to come; [`WorkflowError::GravityRises`] for a final
    /// gravity above the original one, unless the two are in that order already: who puts both right
    /// has to begin with one of them; [`WorkflowError::GravityTooLow`] for a final gravity below what
    /// is left when everything has fermented; [`Invalid::OutOfRange`] for what no brew can have.
    pub(crate) fn ensure_fits(
        &self,
        kind: &'static EntryKind,
        value: &EntryValue,
        today: Day,
    ) -> Result<(), WorkflowError> {
        if let EntryValue::Date(day) = value
            && *day > today
        {
            return Err(WorkflowError::FutureDay {
                what: kind.word,
                day: *day,
                today,
            });
        }
        within_reason(kind, value)?;
        let EntryValue::Gravity(logged) = value else {
            return Ok(());
        };
        let (before, after) = (
            self.number("original-gravity"),
            self.number("final-gravity"),
        );
        let (original, end) = match kind.id {
            "original-gravity" => (Some(logged.get()), after),
            "final-gravity" => (before, Some(logged.get())),
            _ => return Ok(()),
        };
        let rises = |original: Option<f64>, end: Option<f64>| {
            Some((original?, end?)).filter(|it| it.1 > it.0)
        };
        match rises(original, end) {
            Some((original, end)) if rises(before, after).is_none() => {
                Err(WorkflowError::GravityRises { original, end })
            }
            Some(_) => Ok(()),
            None => fermentable(original, end),
        }
    }
}

/// Lets pass only a number that some brew can have.
fn within_reason(kind: &'static EntryKind, value: &EntryValue) -> Result<(), Invalid> {
    let Some(found) = value.number() else {
        return Ok(());
    };
    match REASON.iter().find(|it| it.0 == kind.id) {
        Some((_, range, unit)) if !range.contains(&found) => Err(Invalid::OutOfRange {
            what: kind.word,
            found,
            low: *range.start(),
            high: *range.end(),
            unit,
        }),
        _ => Ok(()),
    }
}

/// Lets pass only a final gravity that something is left at.
fn fermentable(original: Option<f64>, end: Option<f64>) -> Result<(), WorkflowError> {
    let (Some(original), Some(end)) = (original, end) else {
        return Ok(());
    };
    let plato = |gravity| SpecificGravity::new(gravity).plato();
    let (Some(start), Some(shown)) = (plato(original), plato(end)) else {
        return Ok(());
    };
    // Next to water nothing can be reckoned, and nothing is wrong with it.
    if start.degrees() < 1.0 || real_extract(start, shown).is_some() {
        return Ok(());
    }
    Err(WorkflowError::GravityTooLow { original, end })
}

#[cfg(test)]
mod tests {
    use crate::domain::NotesSource;
    use crate::workflow::Home;
    use crate::workflow::WorkflowError;

    fn logged(home: &mut Home, kind: &str, value: &str) -> Result<(), WorkflowError> {
        home.log_entry("T1", kind, value).map(|_| ())
    }

    #[test]
    fn a_final_gravity_above_the_original_one_is_refused_whichever_comes_second() {
        let mut home = Home::trial_with_a_batch();
        logged(&mut home, "original-gravity", "1.050").unwrap();
        let refused = logged(&mut home, "final-gravity", "1.100").unwrap_err();
        assert_eq!(
            refused.to_string(),
            "the final gravity 1.1000 lies above the original gravity 1.0500, and gravity only falls \
             while beer ferments; read both again, and log the wrong one first"
        );
        logged(&mut home, "final-gravity", "1.050").unwrap();
        logged(&mut home, "final-gravity", "1.012").unwrap();
        assert!(matches!(
            logged(&mut home, "original-gravity", "1.005"),
            Err(WorkflowError::GravityRises { original, end }) if original < end
        ));
        assert_eq!(home.batch_page("T1").unwrap().log.entries().len(), 2);
    }

    #[test]
    fn what_no_brew_can_have_is_refused_under_its_own_name() {
        let mut home = Home::trial_with_a_batch();
        for (kind, value, says) in [
            (
                "storage-temperature",
                "110",
                "Storage temperature: found 110 °C; it must lie",
            ),
            (
                "fermentation-temperature",
                "80",
                "Fermentation temperature: found 80 °C",
            ),
            ("mash-temperature", "-5", "Mash temperature: found -5 °C"),
            ("original-gravity", "1.18", "Original gravity: found 1.18;"),
            ("volume-packaged", "-4", "Volume packaged: found -4 L"),
            (
                "priming-sugar",
                "NaN",
                "Priming sugar, whole batch: found NaN g",
            ),
        ] {
            let refused = logged(&mut home, kind, value).unwrap_err().to_string();
            assert!(refused.starts_with(says), "{refused}");
        }
        // By Balling's yields 10 °P of sugar end at -2.3 °P, a gravity of 0.991; 0.985 is below that.
        logged(&mut home, "original-gravity", "1.040").unwrap();
        let refused = logged(&mut home, "final-gravity", "0.985").unwrap_err();
        assert_eq!(
            refused.to_string(),
            "the final gravity 0.9850 lies below what is left of the original gravity 1.0400 when all of \
             it has fermented; read both again, without gas and at 20 °C"
        );
        logged(&mut home, "final-gravity", "0.995").unwrap();
    }

    #[test]
    fn while_the_batch_is_tasted_no_refusal_tells_what_the_log_holds() {
        let mut home = Home::trial_with_a_batch();
        logged(&mut home, "original-gravity", "1.050").unwrap();
        let ana = home.add_taster("Ana").unwrap();
        home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        logged(&mut home, "final-gravity", "1.100").unwrap();
    }

    #[test]
    fn a_day_to_come_is_refused_and_today_is_not() {
        // The clock of the trial home stands on 1 November 2026 in universal time.
        let mut home = Home::trial_with_a_batch();
        let today = home.today().to_string();
        for kind in ["brewed", "dry-hopped", "packaged"] {
            let refused = logged(&mut home, kind, "2026-11-03")
                .unwrap_err()
                .to_string();
            assert!(refused.contains("2026-11-03 is still to come"), "{refused}");
            assert!(refused.contains(&format!("today is {today}")), "{refused}");
            logged(&mut home, kind, &today).unwrap();
        }
    }
}
