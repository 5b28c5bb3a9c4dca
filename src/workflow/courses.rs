//! Courses of evenings: who learns together, which words are held back, and when a check may be told.

use std::collections::HashSet;

use crate::domain::Course;
use crate::domain::CourseId;
use crate::domain::Descriptor;
use crate::domain::DescriptorId;
use crate::domain::Meeting;
use crate::domain::MeetingCount;
use crate::domain::MeetingPart;
use crate::domain::Name;
use crate::domain::Practice;
use crate::domain::Reference;
use crate::domain::Reveal;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::domain::is_same_name;
use crate::statistics::Dice;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// Words held back for a check, one of a place at most (judgement: as many as a nose bears at once).
const CHECK_WORDS: usize = 8;

/// A course at a glance.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CourseRow {
    /// The course.
    pub course: Course,
    /// Its people, in the order named.
    pub people: Vec<Taster>,
    /// Meetings planned so far.
    pub planned: usize,
}

impl Home {
    /// A course at a glance.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn course_row(&self, course: Course) -> Result<CourseRow, WorkflowError> {
        Ok(CourseRow {
            people: self.people_of(&course)?,
            planned: self.meetings_of(&course)?.len(),
            course,
        })
    }

    /// Adds a course and draws the words that are held back for its check: each of another place, with
    /// a jar that holds no allergen.
    ///
    /// # Errors
    /// Nobody is named, the name is refused or taken, or the store cannot be written.
    pub fn add_course(
        &mut self,
        name: &str,
        people: &[Taster],
        meetings: MeetingCount,
    ) -> Result<Course, WorkflowError> {
        let name = Name::new("the name of a course", name)?;
        if people.is_empty() {
            return Err(WorkflowError::NothingToPractise);
        }
        let mut dice = Dice::from_seed(self.dice.seed());
        let course = Course {
            id: CourseId::new(self.draw_id()),
            name,
            meetings,
            people: people.iter().map(|it| it.id.clone()).collect(),
            check: self.check_words(&mut dice),
            made_at: self.now(),
        };
        self.store.add_course(&course)?;
        Ok(course)
    }

    fn check_words(&self, dice: &mut Dice) -> Vec<DescriptorId> {
        let fit = |it: &&Descriptor| match &it.reference {
            Reference::Jar(jar) => jar.allergens.is_empty() && jar.cautions.is_empty(),
            Reference::NoJar { .. } => false,
        };
        let mut words: Vec<&Descriptor> = self.wheel().descriptors().iter().filter(fit).collect();
        dice.shuffle(&mut words);
        let mut places = HashSet::new();
        words
            .into_iter()
            .filter(|it| {
                let shelf = self.wheel().shelf(&it.shelf);
                shelf.is_some_and(|it| places.insert(it.place.clone()))
            })
            .take(CHECK_WORDS)
            .map(|it| it.id.clone())
            .collect()
    }

    /// Every course, the newest first.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn courses(&self) -> Result<Vec<Course>, WorkflowError> {
        Ok(self.store.courses()?)
    }

    /// The course of this name.
    ///
    /// # Errors
    /// There is none; the message names those that exist.
    pub fn course(&self, name: &str) -> Result<Course, WorkflowError> {
        let asked = Name::new("the name of a course", name)?;
        let courses = self.courses()?;
        let known = courses.iter().map(|it| it.name.to_string()).collect();
        let same = |it: &Course| is_same_name(it.name.as_str(), asked.as_str());
        courses
            .into_iter()
            .find(same)
            .ok_or_else(|| WorkflowError::NoCourse {
                asked: asked.to_string(),
                known,
            })
    }

    /// The people of a course, in the order named.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn people_of(&self, course: &Course) -> Result<Vec<Taster>, WorkflowError> {
        let tasters = self.tasters()?;
        let person = |id: &TasterId| tasters.iter().find(|it| it.id == *id).cloned();
        Ok(course.people.iter().filter_map(person).collect())
    }

    /// The meetings of a course, the first in front.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn meetings_of(&self, course: &Course) -> Result<Vec<Meeting>, WorkflowError> {
        Ok(self.store.meetings(&course.id)?)
    }

    /// Whether the last meeting of a course was held and its check answered by all who were there.
    pub(super) fn is_over(&self, course: &Course) -> Result<bool, WorkflowError> {
        let meetings = self.meetings_of(course)?;
        let last = meetings
            .iter()
            .find(|it| it.number == course.meetings.get());
        let check = last.and_then(|it| it.practices.iter().find(|it| it.0 == MeetingPart::Check));
        match check {
            Some((_, sitting)) => Ok(!self.practice_waits(sitting)?),
            None => Ok(false),
        }
    }

    /// The words that must not be practised with these people, because a course of theirs holds them back.
    pub(super) fn held_back(
        &self,
        tasters: &[Taster],
    ) -> Result<HashSet<DescriptorId>, WorkflowError> {
        let mut words = HashSet::new();
        for course in self.courses()? {
            let theirs = tasters.iter().any(|it| course.people.contains(&it.id));
            if theirs && !self.is_over(&course)? {
                words.extend(course.check);
            }
        }
        Ok(words)
    }

    /// The words with a jar that these people may practise, in the order of the wheel.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn words_with_jars(&self, tasters: &[Taster]) -> Result<Vec<&Descriptor>, WorkflowError> {
        let held_back = self.held_back(tasters)?;
        let words = self.wheel().descriptors().iter();
        Ok(words
            .filter(|it| matches!(it.reference, Reference::Jar(_)))
            .filter(|it| !held_back.contains(&it.id))
            .collect())
    }

    /// Whether it may be told what was right: nobody still smells what would be told.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn may_tell(&self, practice: &Practice) -> Result<bool, WorkflowError> {
        match practice.reveal {
            Reveal::Each => Ok(true),
            Reveal::End => Ok(!self.practice_waits(&practice.sitting)?),
            Reveal::Course => {
                for course in self.courses()? {
                    let meetings = self.meetings_of(&course)?;
                    let mut all = meetings.iter().flat_map(|it| &it.practices);
                    if all.any(|it| it.1 == practice.sitting) {
                        return self.is_over(&course);
                    }
                }
                Ok(false)
            }
        }
    }
}
