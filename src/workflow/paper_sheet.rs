//! The sheets of an evening as they are typed in: what stands on each, and when the answers are closed.

use crate::domain::BlindingCode;
use crate::domain::MeetingPart;
use crate::domain::SeriesStep;
use crate::domain::Spiked;
use crate::domain::StrengthReply;
use crate::domain::Taster;
use crate::workflow::Evening;
use crate::workflow::EveningPart;
use crate::workflow::Home;
use crate::workflow::PaperAnswer;
use crate::workflow::WorkflowError;

/// One line of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaperRow {
    /// The part of the evening.
    pub part: MeetingPart,
    /// The code of the jar or glass.
    pub code: BlindingCode,
    /// What stands there so far, in words; none while it is open.
    pub answer: Option<String>,
    /// Where a glass of a series stands in the row, once that is answered.
    pub placed: Option<SeriesStep>,
}

impl Home {
    /// The sheet of one taster at an evening: every code in their own order, with what stands there.
    ///
    /// # Errors
    /// The taster is not there, or the store cannot be read.
    pub fn paper_rows(
        &self,
        evening: &Evening,
        taster: &Taster,
    ) -> Result<Vec<PaperRow>, WorkflowError> {
        let mut rows = Vec::new();
        for part in &evening.parts {
            if part.part == MeetingPart::Strength {
                rows.extend(self.series_rows(part, taster)?);
            } else {
                rows.extend(self.jar_rows(part, taster)?);
            }
        }
        Ok(rows)
    }

    fn series_rows(
        &self,
        part: &EveningPart,
        taster: &Taster,
    ) -> Result<Vec<PaperRow>, WorkflowError> {
        let series = self.strength_run(&part.sitting, taster)?.series;
        let row = |glass| {
            let answer = PaperAnswer::Strength {
                rated: series.rated(glass)?,
                placed: series.placed(glass)?,
            };
            Some(answer.words())
        };
        let rows = series.glasses.iter().map(|glass| PaperRow {
            part: part.part,
            code: glass.code,
            answer: row(glass),
            placed: series.placed(glass),
        });
        Ok(rows.collect())
    }

    fn jar_rows(
        &self,
        part: &EveningPart,
        taster: &Taster,
    ) -> Result<Vec<PaperRow>, WorkflowError> {
        let run = self.practice_run(&part.sitting, taster)?;
        let rows = run.items.iter().filter_map(|item| {
            let replies = run.replies(item);
            let wheel = self.wheel();
            let word = replies.word.as_ref().and_then(|id| wheel.descriptor(id));
            let place = replies.place.as_ref().and_then(|id| wheel.place(id));
            let said = match (word, replies.presence, place) {
                (Some(word), ..) => word.word.clone(),
                (_, Some(Spiked::Spiked), _) => "it is in there".to_owned(),
                (_, Some(Spiked::Plain), _) => "it is not".to_owned(),
                (_, _, Some(place)) => format!("{}, no word", place.name),
                _ => "cannot tell".to_owned(),
            };
            let sure = replies
                .certainty
                .map_or(String::new(), |it| format!(", {} %", it.percent()));
            Some(PaperRow {
                part: part.part,
                code: item.code?,
                answer: run.is_answered(item).then(|| format!("{said}{sure}")),
                placed: None,
            })
        });
        Ok(rows.collect())
    }

    /// Keeps what was written for one code; a later answer to the same code corrects it. Who has
    /// answered everything of a part leaves it.
    ///
    /// # Errors
    /// The taster is not there, the code is not theirs, or the store cannot be written.
    pub fn answer_from_paper(
        &mut self,
        part: &EveningPart,
        taster: &Taster,
        code: BlindingCode,
        answer: &PaperAnswer,
    ) -> Result<(), WorkflowError> {
        match answer {
            PaperAnswer::Strength { rated, placed } => {
                let mut run = self.strength_run(&part.sitting, taster)?;
                let Some(position) = run.series.coded(code).map(|it| it.position) else {
                    return Ok(());
                };
                self.answer_strength(&mut run, position, StrengthReply::Rated(*rated))?;
                self.answer_strength(&mut run, position, StrengthReply::Placed(*placed))
            }
            PaperAnswer::Jar {
                replies, certainty, ..
            } => {
                let mut run = self.practice_run(&part.sitting, taster)?;
                let Some(position) = run.coded(code).map(|it| it.position) else {
                    return Ok(());
                };
                let last = replies.len().saturating_sub(1);
                for (at, reply) in replies.iter().enumerate() {
                    let sure = certainty.filter(|_| at == last);
                    self.answer_practice(&mut run, position, reply.clone(), sure)?;
                }
                Ok(())
            }
        }
    }

    /// Who has not answered everything of an evening.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn unfinished(&self, evening: &Evening) -> Result<Vec<Taster>, WorkflowError> {
        let mut unfinished = Vec::new();
        for taster in &evening.present {
            let (answered, parts) = self.parts_answered(evening, taster)?;
            if answered < parts {
                unfinished.push(taster.clone());
            }
        }
        Ok(unfinished)
    }

    /// Closes the answers of an evening: everybody leaves it, nothing can be answered any more, and the
    /// jars of the evening may be told.
    ///
    /// # Errors
    /// The store cannot be written.
    pub fn close_answers(&mut self, evening: &Evening) -> Result<(), WorkflowError> {
        for part in &evening.parts {
            for taster in &evening.present {
                let (_, seat) = self.seat_in_practice(&part.sitting, taster)?;
                self.leave_practice(&part.sitting, &seat.id)?;
            }
        }
        Ok(())
    }

    /// Whether the answers of an evening are closed.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn is_closed(&self, evening: &Evening) -> Result<bool, WorkflowError> {
        for part in &evening.parts {
            if self.practice_waits(&part.sitting)? {
                return Ok(false);
            }
        }
        Ok(true)
    }
}
