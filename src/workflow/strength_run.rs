//! Practice with strength: one series of five glasses, rated one by one and then put in order.

use crate::discrimination::shuffled_codes;
use crate::domain::BlindingCode;
use crate::domain::Digit;
use crate::domain::Practice;
use crate::domain::PracticeAnswerId;
use crate::domain::PracticeKind;
use crate::domain::Scale;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::SeriesStep;
use crate::domain::SittingId;
use crate::domain::StrengthAnswer;
use crate::domain::StrengthGlass;
use crate::domain::StrengthReply;
use crate::domain::Taster;
use crate::statistics::Dice;
use crate::statistics::OrderedPairs;
use crate::workflow::Home;
use crate::workflow::Pourer;
use crate::workflow::WorkflowError;
use crate::workflow::practice_plan::DrawnPractice;
use crate::workflow::practice_plan::PracticeTable;

/// The series of one taster with the answers so far.
#[derive(Debug, Clone, PartialEq)]
pub struct StrengthRun {
    /// The practice.
    pub practice: Practice,
    /// Who.
    pub taster: Taster,
    /// Their seat.
    pub seat: SeatId,
    /// Whether they mixed the glasses themselves.
    pub role: SeatRole,
    /// The glasses with the answers so far.
    pub series: RatedSeries,
}

/// A series as one taster rated and ordered it.
#[derive(Debug, Clone, PartialEq)]
pub struct RatedSeries {
    /// The glasses, in their order.
    pub glasses: Vec<StrengthGlass>,
    /// What was answered, in the order given.
    pub answers: Vec<StrengthAnswer>,
}

impl RatedSeries {
    /// The scale that the glasses are a series of; none for a practice without glasses.
    #[must_use]
    pub fn scale(&self) -> Option<&'static Scale> {
        self.glasses.first().map(|it| it.scale)
    }

    /// The glass with this code.
    #[must_use]
    pub fn coded(&self, code: BlindingCode) -> Option<&StrengthGlass> {
        self.glasses.iter().find(|it| it.code == code)
    }

    /// How strong a glass was rated; the last rating counts.
    #[must_use]
    pub fn rated(&self, glass: &StrengthGlass) -> Option<Digit> {
        self.of(glass).find_map(|it| match it.reply {
            StrengthReply::Rated(digit) => Some(digit),
            StrengthReply::Placed(_) => None,
        })
    }

    /// Which step a glass was taken for; the last answer counts.
    #[must_use]
    pub fn placed(&self, glass: &StrengthGlass) -> Option<SeriesStep> {
        self.of(glass).find_map(|it| match it.reply {
            StrengthReply::Placed(step) => Some(step),
            StrengthReply::Rated(_) => None,
        })
    }

    /// The answers to a glass, the latest in front.
    fn of(&self, glass: &StrengthGlass) -> impl Iterator<Item = &StrengthAnswer> {
        let position = glass.position;
        let latest = self.answers.iter().rev();
        latest.filter(move |it| it.position == position)
    }

    /// The first glass without a rating.
    #[must_use]
    pub fn unrated(&self) -> Option<&StrengthGlass> {
        self.glasses.iter().find(|it| self.rated(it).is_none())
    }

    /// The first step for which no glass was taken yet; none once all are in order.
    #[must_use]
    pub fn open_step(&self) -> Option<SeriesStep> {
        let taken =
            |step: &SeriesStep| self.glasses.iter().any(|it| self.placed(it) == Some(*step));
        let steps = SeriesStep::all().take(self.glasses.len());
        steps.into_iter().find(|it| !taken(it))
    }

    /// Whether every glass has its rating and its place.
    #[must_use]
    pub fn is_answered(&self) -> bool {
        self.unrated().is_none() && self.open_step().is_none()
    }

    /// The pairs that were put in the right order; none before all are in order.
    #[must_use]
    pub fn pairs(&self) -> Option<OrderedPairs> {
        if self.open_step().is_some() {
            return None;
        }
        let mut glasses: Vec<&StrengthGlass> = self.glasses.iter().collect();
        glasses.sort_by_key(|it| self.placed(it));
        let steps = glasses.iter().map(|it| u32::from(it.step.get()));
        OrderedPairs::of(&steps.collect::<Vec<_>>())
    }
}

impl Home {
    /// Draws a series for everybody at the table: the same glasses under the same codes, in an order of
    /// their own for each.
    ///
    /// # Errors
    /// Nobody practises, the scale has no series to mix, or the store cannot be written.
    pub fn practise_strength(
        &mut self,
        tasters: &[Taster],
        scale: &'static Scale,
        pourer: Pourer,
    ) -> Result<SittingId, WorkflowError> {
        let mut dice = Dice::from_seed(self.dice.seed());
        let codes = shuffled_codes(&mut dice);
        let table = PracticeTable::new(PracticeKind::Strength, pourer, tasters);
        let drawn = self.draw_series(&table, scale, codes, &mut dice)?;
        self.keep_practice(&drawn)
    }

    /// Draws a series under codes of which five are used.
    pub(super) fn draw_series(
        &mut self,
        table: &PracticeTable,
        scale: &'static Scale,
        codes: impl IntoIterator<Item = BlindingCode>,
        dice: &mut Dice,
    ) -> Result<DrawnPractice, WorkflowError> {
        if scale.anchors.and_then(|it| it.series).is_none() {
            return Err(WorkflowError::NothingToPractise);
        }
        let steps: Vec<(SeriesStep, BlindingCode)> = SeriesStep::all().zip(codes).collect();
        let mut seats = Vec::new();
        let mut glasses = Vec::new();
        for taster in &table.tasters {
            let seat = self.table_seat(table, taster);
            let mut order = steps.clone();
            dice.shuffle(&mut order);
            let drawn = order.into_iter().zip(1_u16..);
            glasses.extend(drawn.map(|((step, code), position)| StrengthGlass {
                seat: seat.id.clone(),
                position,
                scale,
                step,
                code,
            }));
            seats.push(seat);
        }
        self.draw_table(table, seats, Vec::new(), glasses)
    }

    /// The series of one taster with the answers so far.
    ///
    /// # Errors
    /// The taster does not take part, or the store cannot be read.
    pub fn strength_run(
        &self,
        sitting: &SittingId,
        taster: &Taster,
    ) -> Result<StrengthRun, WorkflowError> {
        let (practice, seat) = self.seat_in_practice(sitting, taster)?;
        Ok(StrengthRun {
            series: self.rated_series(&seat.id)?,
            seat: seat.id,
            role: seat.role,
            taster: taster.clone(),
            practice,
        })
    }

    fn rated_series(&self, seat: &SeatId) -> Result<RatedSeries, WorkflowError> {
        Ok(RatedSeries {
            glasses: self.store.strength_glasses(seat)?,
            answers: self.store.strength_answers(seat)?,
        })
    }

    /// Which code is which step, the weakest first. Whoever reads it knows the key.
    ///
    /// # Errors
    /// There is no such practice, or the store cannot be read.
    pub fn series_key(&self, sitting: &SittingId) -> Result<Vec<StrengthGlass>, WorkflowError> {
        let Some(seat) = self.store.seats_of(sitting)?.into_iter().next() else {
            return Err(WorkflowError::NothingToPractise);
        };
        let mut glasses = self.store.strength_glasses(&seat.id)?;
        glasses.sort_by_key(|it| it.step);
        Ok(glasses)
    }

    /// Keeps an answer to a glass; a later one of the same kind corrects it.
    ///
    /// # Errors
    /// The store cannot be written; `run` is unchanged then.
    pub fn answer_strength(
        &mut self,
        run: &mut StrengthRun,
        position: u16,
        reply: StrengthReply,
    ) -> Result<(), WorkflowError> {
        let answer = StrengthAnswer {
            id: PracticeAnswerId::new(self.draw_id()),
            seat: run.seat.clone(),
            position,
            reply,
            given_at: self.now(),
        };
        self.store.add_strength_answer(&answer)?;
        run.series.answers.push(answer);
        Ok(())
    }

    /// How well a taster put series in order so far: each scale with its pairs in the right order, all
    /// pairs, and how many series; scales in the order in which they were first practised.
    pub(super) fn strength_record(
        &self,
        taster: &Taster,
    ) -> Result<Vec<StrengthRecord>, WorkflowError> {
        let mut records: Vec<StrengthRecord> = Vec::new();
        for seat in self.store.strength_seats(&taster.id)? {
            let run = self.rated_series(&seat)?;
            let (Some(scale), Some(pairs)) = (run.scale(), run.pairs()) else {
                continue;
            };
            let known = records.iter().position(|it| it.scale == scale);
            let at = known.unwrap_or_else(|| {
                records.push(StrengthRecord {
                    scale,
                    right: 0,
                    pairs: 0,
                    series: 0,
                });
                records.len() - 1
            });
            records[at].right += pairs.right;
            records[at].pairs += pairs.all;
            records[at].series += 1;
        }
        Ok(records)
    }
}

/// How well series of one scale were put in order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrengthRecord {
    /// The scale.
    pub scale: &'static Scale,
    /// Pairs in the right order.
    pub right: u32,
    /// All pairs.
    pub pairs: u32,
    /// How many series.
    pub series: u32,
}
