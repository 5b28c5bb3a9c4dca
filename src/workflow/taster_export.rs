//! Everything that the file holds of one person, gathered for them to take away.

use crate::domain::Course;
use crate::domain::Moment;
use crate::domain::Notes;
use crate::domain::PanelRating;
use crate::domain::Practice;
use crate::domain::PracticeItem;
use crate::domain::SittingKind;
use crate::domain::Taster;
use crate::storage::NotesRow;
use crate::storage::OwnSeat;
use crate::workflow::ExportedAnswer;
use crate::workflow::ExportedNotes;
use crate::workflow::Home;
use crate::workflow::PlannedTest;
use crate::workflow::PracticeRun;
use crate::workflow::RatedSeries;
use crate::workflow::WorkflowError;
use crate::workflow::exported_notes::ServedPlaces;
use crate::workflow::seal::PouredGlasses;

/// Everything of one person.
#[derive(Debug, Clone, PartialEq)]
pub struct TasterExport {
    /// Who.
    pub taster: Taster,
    /// When it was gathered.
    pub exported_at: Moment,
    /// Their notes, the oldest first.
    pub notes: Vec<ExportedNotes>,
    /// What they practised.
    pub practices: Vec<ExportedPractice>,
    /// The blind tests they sat at, poured or served.
    pub tests: Vec<ExportedTest>,
    /// The courses they belong to.
    pub courses: Vec<Course>,
    /// The panels they poured.
    pub poured_panels: Vec<u32>,
    /// Ratings that were kept elsewhere and read in.
    pub imported: Vec<PanelRating>,
    /// What is left out for now, each with the reason, as sentences.
    pub held_back: Vec<String>,
}

/// One practice of one person; what was asked is told only once it may be.
#[derive(Debug, Clone, PartialEq)]
pub struct ExportedPractice {
    /// The practice.
    pub practice: Practice,
    /// When it was begun.
    pub begun_at: Moment,
    /// When they left it.
    pub left_at: Option<Moment>,
    /// The items with their answers.
    pub run: PracticeRun,
    /// The series from weak to strong with its answers; without glasses where there was none.
    pub series: RatedSeries,
}

/// One seat at a blind test.
#[derive(Debug, Clone, PartialEq)]
pub struct ExportedTest {
    /// The number of the test.
    pub number: u32,
    /// The seat.
    pub seat: OwnSeat,
    /// When the test was closed; before that no code is told.
    pub closed_at: Option<Moment>,
    /// Every answer, corrected ones too.
    pub answers: Vec<ExportedAnswer>,
}

impl Home {
    /// Gathers everything of a taster. Their own locked notes are always in it. Left out for now, with a
    /// sentence each, are notes that are still open, the codes of tests and tables that are not closed,
    /// practice of which the answers may not be told yet, and second sniffs whose words tell a plan that
    /// is sealed.
    ///
    /// # Errors
    /// Nobody has the name, or the store cannot be read.
    pub fn taster_export(&mut self, name: &str) -> Result<TasterExport, WorkflowError> {
        let taster = self.taster(name)?;
        let notes = self.store.own_whole_notes(&taster.id)?;
        let tests = self.store.tests_of_taster(&taster.id)?.into_iter();
        let tests: Result<Vec<_>, _> = tests.map(|it| self.planned_test_of(it)).collect();
        let glasses = self.poured_glasses()?;
        self.export_of(taster, notes, &tests?, (&glasses, ServedPlaces::Told))
    }

    /// Every blind test with its key, read once for all tasters.
    pub(super) fn every_planned_test(&self) -> Result<Vec<PlannedTest>, WorkflowError> {
        let tests = self.store.tests()?.into_iter();
        tests.map(|it| self.planned_test_of(it)).collect()
    }

    /// Everything of a taster, from all that they noted, the blind tests at which they sat, with or without others,
    /// and what stands before somebody now; with the places at which glasses were served, where these are asked for.
    pub(super) fn export_of(
        &mut self,
        taster: Taster,
        notes: Vec<(NotesRow, Notes)>,
        tests: &[PlannedTest],
        glasses: (&PouredGlasses, ServedPlaces),
    ) -> Result<TasterExport, WorkflowError> {
        let mut export = TasterExport {
            exported_at: self.now(),
            notes: Vec::new(),
            practices: Vec::new(),
            tests: Vec::new(),
            courses: self.courses()?,
            poured_panels: self.store.panels_poured_by(&taster.id)?,
            imported: self.store.imported_ratings_of(&taster)?,
            held_back: Vec::new(),
            taster,
        };
        let of = export.taster.id.clone();
        export.courses.retain(|it| it.people.contains(&of));
        self.export_notes(notes, glasses, &mut export)?;
        let photographs = self.store.photographs_of_taster(&of)?;
        if photographs > 0 {
            export.held_back.push(format!(
                "photographs with these notes, {photographs} in all: write each out as a picture with thirdglass photo show"
            ));
        }
        for seat in self.store.test_and_practice_seats(&of)? {
            match seat.kind {
                SittingKind::Practice => self.export_practice(&seat, &mut export)?,
                SittingKind::Test => self.export_test(seat, tests, &mut export)?,
                SittingKind::Tasting | SittingKind::TwoGlasses | SittingKind::Panel => {}
            }
        }
        Ok(export)
    }

    fn export_practice(
        &self,
        seat: &OwnSeat,
        export: &mut TasterExport,
    ) -> Result<(), WorkflowError> {
        let Some(practice) = self.store.practice(&seat.sitting)? else {
            return Ok(());
        };
        let mut run = self.practice_run(&seat.sitting, &export.taster)?;
        let mut series = RatedSeries {
            glasses: self.store.strength_glasses(&seat.seat)?,
            answers: self.store.strength_answers(&seat.seat)?,
        };
        let begun = seat.made_at.day();
        if !self.may_tell(&practice)? {
            export.held_back.push(format!(
                "what was practised on {begun}: somebody still smells what it would tell"
            ));
            return Ok(());
        }
        if seat.left_at.is_none() && leave_out_what_is_open(&mut run, &mut series) > 0 {
            export.held_back.push(format!(
                "what is not answered yet of the practice of {begun}: it is still open"
            ));
        }
        export.practices.push(ExportedPractice {
            practice,
            begun_at: seat.made_at,
            left_at: seat.left_at,
            run,
            series,
        });
        Ok(())
    }

    fn export_test(
        &self,
        seat: OwnSeat,
        tests: &[PlannedTest],
        export: &mut TasterExport,
    ) -> Result<(), WorkflowError> {
        let Some(planned) = tests.iter().find(|it| it.test.sitting == seat.sitting) else {
            return Ok(());
        };
        let test = &planned.test;
        let given = self.store.answers_from(&seat.seat)?;
        if test.closed_at.is_none() && !given.is_empty() {
            export.held_back.push(format!(
                "the codes chosen in test {}, and what was right: it is not closed yet",
                test.number
            ));
        }
        let closed = test.closed_at.map(|_| planned);
        let answers = given.iter().map(|it| ExportedAnswer {
            corrected: given
                .iter()
                .any(|later| later.replaces.as_ref() == Some(&it.id)),
            ..self.exported_answer(it, closed)
        });
        export.tests.push(ExportedTest {
            number: test.number,
            closed_at: test.closed_at,
            answers: answers.collect(),
            seat,
        });
        Ok(())
    }
}

/// Takes what has not its whole answer out of a practice that goes on, because it would tell the answer;
/// gives how much that is.
fn leave_out_what_is_open(run: &mut PracticeRun, series: &mut RatedSeries) -> usize {
    let whole = |it: &PracticeItem| run.is_answered(it);
    let (answered, open): (Vec<_>, Vec<_>) = run.items.iter().cloned().partition(whole);
    run.items = answered;
    // The steps of a series tell one another, so it is told whole or not at all.
    let glasses = std::mem::take(&mut series.glasses);
    open.len() + glasses.len()
}
