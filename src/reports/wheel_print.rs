//! The wheel as a poster, plain or with what was named in a beer or by a taster.

use crate::drawing::Paper;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::wheel_round::wheel_poster;
use crate::workflow::Home;
use crate::workflow::MarksOf;

/// The poster; with a cap mark what was named in that beer, with a taster what they named.
pub(super) fn print(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let of = match (&asked.taster, asked.of.is_empty()) {
        (Some(name), false) => {
            return Err(PrintRefused::TwoWheels {
                beer: asked.name(),
                taster: name.clone(),
            });
        }
        (Some(name), true) => Some(MarksOf::Taster(home.taster(name)?)),
        (None, false) => Some(MarksOf::Notes(home.beer(&asked.name())?.cap_mark)),
        (None, true) => None,
    };
    wheel_printout(home, of.as_ref(), asked.paper)
}

/// The poster with these marks.
///
/// # Errors
/// The beer is being tasted, or nothing was named.
pub fn wheel_printout(
    home: &Home,
    of: Option<&MarksOf>,
    paper: Paper,
) -> Result<Printout, PrintRefused> {
    let marks = of.map(|it| home.word_marks_to_print(it)).transpose()?;
    let poster = wheel_poster(home.wheel(), marks.as_ref(), paper);
    Ok(Printout::one(poster))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wheel_of_a_beer_and_of_a_taster_at_once_is_refused_with_both_ways() {
        let mut home = Home::trial_with_a_batch();
        home.add_taster("Ana").unwrap();
        let mut asked = PrintAsked::of(vec!["T1".to_owned()], Paper::A4);
        asked.taster = Some("Ana".to_owned());
        let told = print(&mut home, &asked).unwrap_err().to_string();
        for way in ["print wheel T1 ", "print wheel --taster Ana "] {
            assert!(told.contains(way), "{told}");
        }
    }
}
