//! Who may read what is in the jars of an evening before it is told.

use thiserror::Error;

use crate::domain::Course;
use crate::domain::is_same_name;
use crate::domain::nearest_names;
use crate::workflow::Evening;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::typed_word;

/// Why the key of an evening is not shown.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum EveningKeyError {
    /// Nobody says who reads.
    #[error(
        "these pages of “{course}” say what is in which jar, so say who reads them: --reader NAME; nobody who learns in the course may"
    )]
    WhoReads {
        /// The course.
        course: String,
    },
    /// Somebody who is to smell what they would read.
    #[error(
        "nothing was shown of “{course}”: {name} learns in it, and who knows the jars cannot learn them. Let somebody else prepare; the parts of an evening are told when all have answered, the check after the last meeting"
    )]
    Learns {
        /// The course.
        course: String,
        /// Who.
        name: String,
    },
    /// Somebody whose name is nearly that of a learner.
    #[error(
        "nothing was shown of “{course}”: nobody is called “{name}”; did you mean {}? Somebody else of nearly the same name is made known first: thirdglass taster add {}", .near.iter().map(|it| format!("“{it}”")).collect::<Vec<_>>().join(" or "), typed_word(.name)
    )]
    Near {
        /// The course.
        course: String,
        /// Who says they read.
        name: String,
        /// Which learners are called nearly so, the nearest first.
        near: Vec<String>,
    },
}

impl Home {
    /// The latest evening of a course with its key, for the eyes of `reader`. Until every part of it was told, nobody
    /// who learns in the course reads it: what they missed tonight comes back at another meeting.
    ///
    /// # Errors
    /// It was not told yet and nobody says who reads, or they learn in the course or are called nearly as somebody
    /// who does; no evening is planned yet, or the store cannot be read.
    pub fn read_evening(
        &self,
        course: &Course,
        reader: Option<&str>,
    ) -> Result<Evening, WorkflowError> {
        let evening = self.latest_evening(course)?;
        if !self.is_all_told(&evening)? {
            self.ensure_leads(course, reader)?;
        }
        Ok(evening)
    }

    fn is_all_told(&self, evening: &Evening) -> Result<bool, WorkflowError> {
        for part in &evening.parts {
            if let Some(practice) = self.store.practice(&part.sitting)?
                && !self.may_tell(&practice)?
            {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// Lets pass who learns nothing in a course: it is not kept who leads, only who learns.
    fn ensure_leads(&self, of: &Course, reader: Option<&str>) -> Result<(), WorkflowError> {
        let course = of.name.to_string();
        let reader = reader.map(str::trim).filter(|it| !it.is_empty());
        let Some(reader) = reader else {
            return Err(EveningKeyError::WhoReads { course }.into());
        };
        let shown: String = reader.chars().take(60).collect();
        let is_reader = |name: &str| is_same_name(name, reader);
        let people = self.people_of(of)?;
        if people.iter().any(|it| is_reader(it.name.as_str())) {
            let name = shown;
            return Err(EveningKeyError::Learns { course, name }.into());
        }
        let known = self.tasters()?;
        let names = people.iter().map(|it| it.name.as_str());
        let near = nearest_names(reader, names, people.len());
        if near.is_empty() || known.iter().any(|it| is_reader(it.name.as_str())) {
            return Ok(());
        }
        Err(EveningKeyError::Near {
            course,
            name: shown,
            near: near.into_iter().map(str::to_owned).collect(),
        }
        .into())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::MeetingCount;
    use crate::domain::Minutes;
    use crate::workflow::EveningWish;

    #[test]
    fn whoever_learns_reads_no_key_of_an_evening_until_it_is_told_and_an_outsider_does() {
        let mut home = Home::trial();
        let people = ["Ana", "Ben"]
            .map(|it| home.add_taster(it).unwrap())
            .to_vec();
        let count = MeetingCount::new(3).unwrap();
        let course = home.add_course("Winter", &people, count).unwrap();
        let wish = EveningWish {
            present: people[..1].to_vec(),
            length: Minutes::new(60.0).unwrap(),
            jars: 3,
        };
        let first = home.plan_evening(&course, &wish).unwrap();
        let read = |home: &Home, reader: Option<&str>| {
            let read = home.read_evening(&course, reader);
            read.map_err(|it| it.to_string())
        };
        for nobody in [None, Some(" ")] {
            let told = read(&home, nobody).unwrap_err();
            assert!(told.contains("--reader NAME"), "{told}");
        }
        // Ben is not there tonight, but the check comes back.
        for learner in ["Ana", " ana ", "Ben"] {
            let told = read(&home, Some(learner)).unwrap_err();
            assert!(told.contains("learns in it"), "{told}");
        }
        let told = read(&home, Some("Anna")).unwrap_err();
        assert!(told.contains("did you mean “Ana”?"), "{told}");
        assert_eq!(read(&home, Some("Hob")).as_ref(), Ok(&first));
        home.close_answers(&first).unwrap();
        assert!(read(&home, Some("Ana")).is_err(), "the check is not over");
        let mut held = Vec::new();
        for _ in 0..2 {
            held.push(home.plan_evening(&course, &wish).unwrap());
            home.close_answers(&held[held.len() - 1]).unwrap();
        }
        assert_eq!(read(&home, None).ok(), held.pop());
    }
}
