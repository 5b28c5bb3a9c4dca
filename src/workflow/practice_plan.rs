//! A practice drawn: which words, in which order, with what to choose from, under which codes.

use crate::discrimination::shuffled_codes;
use crate::domain::BlindingCode;
use crate::domain::DescriptorId;
use crate::domain::ItemForm;
use crate::domain::Practice;
use crate::domain::PracticeItem;
use crate::domain::PracticeKind;
use crate::domain::Reveal;
use crate::domain::Seat;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::Sitting;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::domain::Spiked;
use crate::domain::Taster;
use crate::statistics::Dice;
use crate::workflow::Home;
use crate::workflow::Pourer;
use crate::workflow::WorkflowError;
use crate::workflow::word_items::word_items;

/// Questions in five minutes.
const FIVE_MINUTES: usize = 12;

/// Glasses of one evening of present or not.
const GLASSES: usize = 8;

/// What is drawn once for everybody at the table.
struct Table {
    tasters: Vec<Taster>,
    kind: PracticeKind,
    reveal: Reveal,
}

impl Home {
    /// Draws five minutes of words for one taster, or goes on with what they left open.
    ///
    /// # Errors
    /// The store cannot be read or written.
    pub fn practise_words(&mut self, taster: &Taster) -> Result<SittingId, WorkflowError> {
        if let Some(open) = self.open_practice(taster)?
            && open.practice.kind == PracticeKind::Words
        {
            return Ok(open.practice.sitting);
        }
        let history = self.practice_history(taster)?;
        let mut dice = Dice::from_seed(self.dice.seed());
        let words = self.words_to_practise(&history, PracticeKind::Words, FIVE_MINUTES, &mut dice);
        let table = Table {
            tasters: vec![taster.clone()],
            kind: PracticeKind::Words,
            reveal: Reveal::Each,
        };
        let seat = self.new_seat(taster, &SittingId::new(String::new()));
        let items = word_items(self.wheel(), &words, &history, &seat.id, &mut dice);
        self.open_table(&table, vec![(seat, items)])
    }

    /// Draws a practice with jars for everybody at the table: the same jars under the same codes, in
    /// an order of their own for each.
    ///
    /// # Errors
    /// Nobody practises, a word has no jar, or the store cannot be read or written.
    pub fn practise_jars(
        &mut self,
        tasters: &[Taster],
        words: Vec<DescriptorId>,
        pourer: Pourer,
    ) -> Result<SittingId, WorkflowError> {
        let mut dice = Dice::from_seed(self.dice.seed());
        let codes = shuffled_codes(&mut dice);
        let jars: Vec<(DescriptorId, BlindingCode)> = words.into_iter().zip(codes).collect();
        let asked = |(word, code): &(DescriptorId, BlindingCode)| Asked {
            form: ItemForm::Jar,
            word: word.clone(),
            code: *code,
            spiked: None,
        };
        let all: Vec<Asked> = jars.iter().map(asked).collect();
        self.open_coded(PracticeKind::Jars, pourer, tasters, &all, &mut dice)
    }

    /// The jars that a taster needs most, so many of them.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn jars_to_practise(
        &mut self,
        taster: &Taster,
        count: usize,
    ) -> Result<Vec<DescriptorId>, WorkflowError> {
        let history = self.practice_history(taster)?;
        let mut dice = Dice::from_seed(self.dice.seed());
        Ok(self.words_to_practise(&history, PracticeKind::Jars, count, &mut dice))
    }

    /// Draws a practice of present or not: glasses of one beer or of water, half of them spiked.
    ///
    /// # Errors
    /// Nobody practises, or the store cannot be written.
    pub fn practise_presence(
        &mut self,
        tasters: &[Taster],
        word: &DescriptorId,
        pourer: Pourer,
    ) -> Result<SittingId, WorkflowError> {
        let mut dice = Dice::from_seed(self.dice.seed());
        let codes = shuffled_codes(&mut dice);
        let all: Vec<Asked> = codes
            .into_iter()
            .take(GLASSES)
            .enumerate()
            .map(|(at, code)| Asked {
                form: ItemForm::Presence,
                word: word.clone(),
                code,
                spiked: Some(if at % 2 == 0 {
                    Spiked::Spiked
                } else {
                    Spiked::Plain
                }),
            })
            .collect();
        self.open_coded(PracticeKind::Presence, pourer, tasters, &all, &mut dice)
    }

    /// Opens a practice in which everybody is asked the same under codes, in an order of their own.
    fn open_coded(
        &mut self,
        kind: PracticeKind,
        pourer: Pourer,
        tasters: &[Taster],
        all: &[Asked],
        dice: &mut Dice,
    ) -> Result<SittingId, WorkflowError> {
        let mut drawn = Vec::new();
        // Alone one may be told after each jar; at a table it would help those who still smell.
        let reveal = match tasters.len() {
            1 => Reveal::Each,
            _ => Reveal::End,
        };
        let role = match pourer {
            Pourer::Taster => SeatRole::PouringTaster,
            Pourer::SomebodyElse => SeatRole::Taster,
        };
        for taster in tasters {
            let seat = Seat {
                role,
                ..self.new_seat(taster, &SittingId::new(String::new()))
            };
            let mut order: Vec<&Asked> = all.iter().collect();
            dice.shuffle(&mut order);
            let items = order.into_iter().zip(1_u16..);
            let items = items
                .map(|(it, position)| it.item(&seat.id, position))
                .collect();
            drawn.push((seat, items));
        }
        let table = Table {
            tasters: tasters.to_vec(),
            kind,
            reveal,
        };
        self.open_table(&table, drawn)
    }

    /// Keeps a practice with its people and all that was drawn for them.
    fn open_table(
        &mut self,
        table: &Table,
        drawn: Vec<(Seat, Vec<PracticeItem>)>,
    ) -> Result<SittingId, WorkflowError> {
        if table.tasters.is_empty() || drawn.iter().all(|it| it.1.is_empty()) {
            return Err(WorkflowError::NothingToPractise);
        }
        let sitting = Sitting {
            id: SittingId::new(self.draw_id()),
            kind: SittingKind::Practice,
            seed: self.dice.seed(),
            made_at: self.now(),
            closed_at: None,
        };
        let practice = Practice {
            sitting: sitting.id.clone(),
            kind: table.kind,
            reveal: table.reveal,
        };
        let mut seats = Vec::new();
        let mut items = Vec::new();
        for (seat, own) in drawn {
            seats.push(Seat {
                sitting: sitting.id.clone(),
                ..seat
            });
            items.extend(own);
        }
        self.store
            .add_practice(&practice, &sitting, &seats, &items)?;
        Ok(sitting.id)
    }
}

/// What everybody at the table is asked.
struct Asked {
    form: ItemForm,
    word: DescriptorId,
    code: BlindingCode,
    spiked: Option<Spiked>,
}

impl Asked {
    fn item(&self, seat: &SeatId, position: u16) -> PracticeItem {
        PracticeItem {
            seat: seat.clone(),
            position,
            form: self.form,
            descriptor: self.word.clone(),
            options: Vec::new(),
            code: Some(self.code),
            spiked: self.spiked,
        }
    }
}
