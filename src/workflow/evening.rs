//! One evening of a course: what is drawn for it, what is to be prepared, and who has answered.

use crate::discrimination::shuffled_codes;
use crate::domain::BlindingCode;
use crate::domain::Course;
use crate::domain::Meeting;
use crate::domain::MeetingId;
use crate::domain::MeetingPart;
use crate::domain::Minutes;
use crate::domain::PracticeKind;
use crate::domain::Reveal;
use crate::domain::SCALES;
use crate::domain::Scale;
use crate::domain::SittingId;
use crate::domain::StrengthGlass;
use crate::domain::Taster;
use crate::statistics::Dice;
use crate::workflow::Block;
use crate::workflow::Home;
use crate::workflow::JarCard;
use crate::workflow::Pourer;
use crate::workflow::WorkflowError;
use crate::workflow::practice_plan::DrawnPractice;
use crate::workflow::practice_plan::GLASSES;
use crate::workflow::practice_plan::PracticeTable;
use crate::workflow::practice_plan::coded_jars;
use crate::workflow::practice_plan::coded_presence;
use crate::workflow::running_order::Wanted;
use crate::workflow::running_order::running_order;

/// What an evening is to be like.
#[derive(Debug, Clone, PartialEq)]
pub struct EveningWish {
    /// Who comes.
    pub present: Vec<Taster>,
    /// How long it is meant to last.
    pub length: Minutes,
    /// Jars of the evening, besides those of the check.
    pub jars: usize,
}

/// One evening with everything that is needed for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Evening {
    /// The course.
    pub course: Course,
    /// The meeting.
    pub meeting: Meeting,
    /// Who takes part.
    pub present: Vec<Taster>,
    /// The running order.
    pub blocks: Vec<Block>,
    /// What is prepared, part by part. Whoever reads it knows the key.
    pub parts: Vec<EveningPart>,
}

/// What is practised in one part of an evening.
#[derive(Debug, Clone, PartialEq)]
pub struct EveningPart {
    /// Which part.
    pub part: MeetingPart,
    /// Its practice.
    pub sitting: SittingId,
    /// The jars; none for a series.
    pub cards: Vec<JarCard>,
    /// The glasses of a series; none for jars.
    pub series: Vec<StrengthGlass>,
}

impl EveningPart {
    /// The codes in play, in the order of the numbers, so that they tell nothing.
    #[must_use]
    pub fn codes(&self) -> Vec<BlindingCode> {
        let jars = self.cards.iter().map(|it| it.code);
        let mut codes: Vec<BlindingCode> =
            jars.chain(self.series.iter().map(|it| it.code)).collect();
        codes.sort_unstable();
        codes
    }
}

impl Evening {
    /// The part of a block, where something is practised in it.
    #[must_use]
    pub fn part_of(&self, block: &Block) -> Option<&EveningPart> {
        self.parts
            .iter()
            .find(|it| Some(it.part) == block.kind.part)
    }

    /// Minutes that all blocks take.
    #[must_use]
    pub fn lasts(&self) -> u16 {
        self.blocks.iter().map(|it| it.lasts).sum()
    }
}

impl Home {
    /// Plans the next meeting of a course and draws everything for it: one set of codes, and for each
    /// person an order of their own.
    ///
    /// # Errors
    /// All meetings were held, nobody comes, or the store cannot be written; nothing is stored then.
    pub fn plan_evening(
        &mut self,
        course: &Course,
        wish: &EveningWish,
    ) -> Result<Evening, WorkflowError> {
        let number = self.next_number(course)?;
        if wish.present.is_empty() {
            return Err(WorkflowError::NothingToPractise);
        }
        let parts = parts_that_fit(course, wish, number);
        let drawn = self.draw_parts(course, wish, number, &parts)?;
        let meeting = Meeting {
            id: MeetingId::new(self.draw_id()),
            course: course.id.clone(),
            number,
            length: wish.length,
            made_at: self.now(),
            practices: drawn
                .iter()
                .map(|(part, it)| (*part, it.sitting().clone()))
                .collect(),
        };
        self.store.in_one_go(|store| {
            for taster in &wish.present {
                store.join_course(&course.id, &taster.id)?;
            }
            for (_, practice) in &drawn {
                practice.write(store)?;
            }
            store.add_meeting(&meeting)
        })?;
        self.evening(course, &meeting)
    }

    /// The number of the next meeting.
    fn next_number(&self, course: &Course) -> Result<u8, WorkflowError> {
        let planned = self.meetings_of(course)?.len();
        let number = u8::try_from(planned + 1).unwrap_or(u8::MAX);
        if number > course.meetings.get() {
            return Err(WorkflowError::CourseOver {
                name: course.name.to_string(),
                meetings: course.meetings.get(),
            });
        }
        Ok(number)
    }

    /// Draws the practices of a meeting.
    fn draw_parts(
        &mut self,
        course: &Course,
        wish: &EveningWish,
        number: u8,
        parts: &[MeetingPart],
    ) -> Result<Vec<(MeetingPart, DrawnPractice)>, WorkflowError> {
        let mut dice = Dice::from_seed(self.dice.seed());
        // One set of codes for the whole evening, so that no two jars share one.
        let mut codes = shuffled_codes(&mut dice).into_iter();
        let words = self.jars_to_practise(&wish.present, wish.jars + 1)?;
        let (tonight, spike) = words.split_at(wish.jars.min(words.len()));
        let mut drawn = Vec::new();
        for part in parts {
            let table = PracticeTable {
                reveal: match part {
                    MeetingPart::Check => Reveal::Course,
                    _ => Reveal::End,
                },
                ..PracticeTable::new(kind_of(*part), Pourer::SomebodyElse, &wish.present)
            };
            let asked = match part {
                MeetingPart::Check => coded_jars(&course.check, codes.by_ref()),
                MeetingPart::Jars => coded_jars(tonight, codes.by_ref()),
                MeetingPart::Presence => spike
                    .first()
                    .map_or(Vec::new(), |word| coded_presence(word, codes.by_ref())),
                MeetingPart::Strength => Vec::new(),
            };
            let practice = match (part, series_of(number)) {
                (MeetingPart::Strength, Some(scale)) => {
                    self.draw_series(&table, scale, codes.by_ref(), &mut dice)?
                }
                _ => self.draw_coded(&table, &asked, &mut dice)?,
            };
            drawn.push((*part, practice));
        }
        Ok(drawn)
    }

    /// An evening as it was planned.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn evening(&self, course: &Course, meeting: &Meeting) -> Result<Evening, WorkflowError> {
        let tasters = self.tasters()?;
        let mut present = Vec::new();
        let mut parts = Vec::new();
        for (part, sitting) in &meeting.practices {
            let seats = self.store.seats_of(sitting)?;
            present = seats
                .iter()
                .filter_map(|seat| tasters.iter().find(|it| it.id == seat.taster).cloned())
                .collect();
            parts.push(EveningPart {
                part: *part,
                sitting: sitting.clone(),
                cards: self.jar_cards(sitting)?,
                series: self.series_key(sitting)?,
            });
        }
        Ok(Evening {
            course: course.clone(),
            meeting: meeting.clone(),
            blocks: blocks_of(meeting, present.len(), &parts),
            present,
            parts,
        })
    }

    /// The latest evening of a course, while somebody has not answered everything or sheets are open.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn open_evening(&self, course: &Course) -> Result<Option<Evening>, WorkflowError> {
        let Some(meeting) = self.meetings_of(course)?.pop() else {
            return Ok(None);
        };
        for (_, sitting) in &meeting.practices {
            if self.practice_waits(sitting)? {
                return Ok(Some(self.evening(course, &meeting)?));
            }
        }
        Ok(None)
    }

    /// The latest evening of a course, open or not.
    ///
    /// # Errors
    /// None is planned yet, or the store cannot be read.
    pub fn latest_evening(&self, course: &Course) -> Result<Evening, WorkflowError> {
        match self.meetings_of(course)?.pop() {
            Some(meeting) => self.evening(course, &meeting),
            None => Err(WorkflowError::NoEvening {
                name: course.name.to_string(),
            }),
        }
    }

    /// How many of the parts of an evening a taster has answered, of how many.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn parts_answered(
        &self,
        evening: &Evening,
        taster: &Taster,
    ) -> Result<(usize, usize), WorkflowError> {
        let mut answered = 0;
        for part in &evening.parts {
            let done = if part.part == MeetingPart::Strength {
                self.strength_run(&part.sitting, taster)?
                    .series
                    .is_answered()
            } else {
                self.practice_run(&part.sitting, taster)?.open().is_none()
            };
            answered += usize::from(done);
        }
        Ok((answered, evening.parts.len()))
    }
}

/// The parts for which a meeting has time, in the order in which they are drawn.
fn parts_that_fit(course: &Course, wish: &EveningWish, number: u8) -> Vec<MeetingPart> {
    let order = running_order(Wanted {
        people: wish.present.len(),
        jars: wish.jars,
        check: check_words(course, number),
        glasses: GLASSES,
        length: wish.length,
    });
    let mut parts: Vec<MeetingPart> = order.iter().filter_map(|it| it.kind.part).collect();
    parts.sort_unstable();
    parts
}

/// Words of the check at a meeting; none where it has no check.
fn check_words(course: &Course, number: u8) -> usize {
    let has_check = course.meetings.checks().contains(&number);
    if has_check { course.check.len() } else { 0 }
}

/// The running order of a meeting as it was drawn.
fn blocks_of(meeting: &Meeting, people: usize, parts: &[EveningPart]) -> Vec<Block> {
    let own = |part| parts.iter().find(|it| it.part == part);
    let jars = |part| own(part).map_or(0, |it| it.cards.len());
    let mut blocks = running_order(Wanted {
        people,
        jars: jars(MeetingPart::Jars),
        check: jars(MeetingPart::Check),
        glasses: GLASSES,
        length: meeting.length,
    });
    // What was drawn stays, even where a later version would find another order.
    blocks.retain(|it| it.kind.part.is_none_or(|part| own(part).is_some()));
    blocks
}

const fn kind_of(part: MeetingPart) -> PracticeKind {
    match part {
        MeetingPart::Check | MeetingPart::Jars => PracticeKind::Jars,
        MeetingPart::Presence => PracticeKind::Presence,
        MeetingPart::Strength => PracticeKind::Strength,
    }
}

/// The series of a meeting: another scale each time, among those that are tasted.
fn series_of(number: u8) -> Option<&'static Scale> {
    let has_series = |it: &&Scale| {
        it.anchors.is_some_and(|it| it.series.is_some())
            && it.stage != Some(crate::domain::Stage::Appearance)
    };
    let mut scales = SCALES.iter().filter(has_series).cycle();
    scales.nth(usize::from(number.saturating_sub(1)))
}
