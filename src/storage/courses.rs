//! Courses of evenings: their people, the words held back, and their meetings.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::Course;
use crate::domain::CourseId;
use crate::domain::DescriptorId;
use crate::domain::Meeting;
use crate::domain::MeetingCount;
use crate::domain::MeetingId;
use crate::domain::MeetingPart;
use crate::domain::Minutes;
use crate::domain::SittingId;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

impl Store {
    /// Adds a course with its people and the words held back.
    ///
    /// # Errors
    /// The name is taken, a taster is not stored, or the file refuses; nothing is stored then.
    pub fn add_course(&mut self, course: &Course) -> Result<(), StorageError> {
        let step = "add a course";
        self.in_one_go(|store| {
            if store
                .courses()?
                .iter()
                .any(|it| row::folded(&it.name) == row::folded(&course.name))
            {
                return Err(StorageError::Taken {
                    what: "the name",
                    found: course.name.to_string(),
                });
            }
            store.run(
                step,
                "INSERT INTO course (id, name, folded_name, meetings, made_at)
                 VALUES (?1, ?2, ?3, ?4, ?5)",
                params![
                    course.id.as_str(),
                    course.name.as_str(),
                    row::folded(&course.name),
                    course.meetings.get(),
                    course.made_at.to_string(),
                ],
            )?;
            for (place, word) in (1_i64..).zip(&course.check) {
                store.run(
                    step,
                    "INSERT INTO course_word (course, place, descriptor) VALUES (?1, ?2, ?3)",
                    params![course.id.as_str(), place, word.as_str()],
                )?;
            }
            for person in &course.people {
                store.join_course(&course.id, person)?;
            }
            Ok(())
        })
    }

    /// Adds somebody to a course, behind the others; who is in it already stays where they are.
    ///
    /// # Errors
    /// The taster or the course is not stored, or the file refuses.
    pub fn join_course(&mut self, course: &CourseId, who: &TasterId) -> Result<(), StorageError> {
        self.run(
            "add somebody to a course",
            "INSERT INTO course_person (course, place, taster)
             SELECT ?1, 1 + coalesce(max(place), 0), ?2 FROM course_person WHERE course = ?1
             ON CONFLICT (course, taster) DO NOTHING",
            params![course.as_str(), who.as_str()],
        )?;
        Ok(())
    }

    /// Every course, the newest first.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn courses(&self) -> Result<Vec<Course>, StorageError> {
        let step = "read the courses";
        let mut courses = self.all(
            step,
            "SELECT * FROM course WHERE removed_at IS NULL ORDER BY made_at DESC, rowid DESC",
            [],
            course,
        )?;
        for it in &mut courses {
            it.people = self.all(
                step,
                "SELECT taster FROM course_person WHERE course = ?1 ORDER BY place",
                [it.id.as_str()],
                |row| row::id(row, "taster", TasterId::new),
            )?;
            it.check = self.all(
                step,
                "SELECT descriptor FROM course_word WHERE course = ?1 ORDER BY place",
                [it.id.as_str()],
                |row| row::text(row, "descriptor", DescriptorId::new),
            )?;
        }
        Ok(courses)
    }

    /// Adds a meeting with what is practised at it.
    ///
    /// # Errors
    /// The course already has a meeting of this number, a practice is not stored, or the file refuses;
    /// nothing is stored then.
    pub fn add_meeting(&mut self, meeting: &Meeting) -> Result<(), StorageError> {
        let step = "add a meeting";
        self.in_one_go(|store| {
            store.run(
                step,
                "INSERT INTO meeting (id, course, number, minutes, made_at)
                 VALUES (?1, ?2, ?3, ?4, ?5)",
                params![
                    meeting.id.as_str(),
                    meeting.course.as_str(),
                    meeting.number,
                    meeting.length.get(),
                    meeting.made_at.to_string(),
                ],
            )?;
            for (place, (part, sitting)) in (1_i64..).zip(&meeting.practices) {
                store.run(
                    step,
                    "INSERT INTO meeting_practice (meeting, place, part, sitting)
                     VALUES (?1, ?2, ?3, ?4)",
                    params![meeting.id.as_str(), place, part.id(), sitting.as_str()],
                )?;
            }
            Ok(())
        })
    }

    /// The meetings of a course, the first in front.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn meetings(&self, course: &CourseId) -> Result<Vec<Meeting>, StorageError> {
        let step = "read the meetings of a course";
        let mut meetings = self.all(
            step,
            "SELECT * FROM meeting WHERE course = ?1 AND removed_at IS NULL ORDER BY number",
            [course.as_str()],
            meeting,
        )?;
        for it in &mut meetings {
            it.practices = self.all(
                step,
                "SELECT * FROM meeting_practice WHERE meeting = ?1 ORDER BY place",
                [it.id.as_str()],
                |row| {
                    Ok((
                        row::text(row, "part", MeetingPart::from_id)?,
                        row::id(row, "sitting", SittingId::new)?,
                    ))
                },
            )?;
        }
        Ok(meetings)
    }
}

fn course(row: &Row<'_>) -> rusqlite::Result<Course> {
    let meetings = MeetingCount::new(row.get("meetings")?);
    Ok(Course {
        id: row::id(row, "id", CourseId::new)?,
        name: row::name(row, "name")?,
        meetings: meetings.map_err(|invalid| row::unreadable("meetings", &invalid))?,
        people: Vec::new(),
        check: Vec::new(),
        made_at: row::moment(row, "made_at")?,
    })
}

fn meeting(row: &Row<'_>) -> rusqlite::Result<Meeting> {
    let length = Minutes::new(row.get("minutes")?);
    Ok(Meeting {
        id: row::id(row, "id", MeetingId::new)?,
        course: row::id(row, "course", CourseId::new)?,
        number: row.get("number")?,
        length: length.map_err(|invalid| row::unreadable("minutes", &invalid))?,
        made_at: row::moment(row, "made_at")?,
        practices: Vec::new(),
    })
}
