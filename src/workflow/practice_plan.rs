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
use crate::domain::StrengthGlass;
use crate::domain::Taster;
use crate::statistics::Dice;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::workflow::Home;
use crate::workflow::Pourer;
use crate::workflow::WorkflowError;
use crate::workflow::word_items::word_items;

/// Questions in five minutes.
pub(super) const FIVE_MINUTES: usize = 12;

/// Glasses of one evening of present or not.
pub(super) const GLASSES: usize = 8;

/// What is drawn once for everybody at the table.
pub(super) struct PracticeTable {
    /// Who practises.
    pub(super) tasters: Vec<Taster>,
    /// What.
    pub(super) kind: PracticeKind,
    /// When it is told what was right.
    pub(super) reveal: Reveal,
    /// Who prepares the jars.
    pub(super) pourer: Pourer,
}

impl PracticeTable {
    /// A table that is told as soon as it can be without helping anybody: alone one may be told after
    /// each jar; at a table it would help those who still smell.
    pub(super) fn new(kind: PracticeKind, pourer: Pourer, tasters: &[Taster]) -> Self {
        Self {
            tasters: tasters.to_vec(),
            kind,
            reveal: match tasters.len() {
                1 => Reveal::Each,
                _ => Reveal::End,
            },
            pourer,
        }
    }

    /// What everybody at it does.
    pub(super) const fn role(&self) -> SeatRole {
        match self.pourer {
            Pourer::Taster => SeatRole::PouringTaster,
            Pourer::SomebodyElse => SeatRole::Taster,
        }
    }
}

/// A practice with everything drawn for it, before it is kept.
pub(super) struct DrawnPractice {
    practice: Practice,
    sitting: Sitting,
    seats: Vec<Seat>,
    items: Vec<PracticeItem>,
    glasses: Vec<StrengthGlass>,
}

impl DrawnPractice {
    /// The sitting.
    pub(super) const fn sitting(&self) -> &SittingId {
        &self.sitting.id
    }

    /// Writes it, all or nothing.
    pub(super) fn write(&self, store: &mut Store) -> Result<(), StorageError> {
        store.in_one_go(|store| {
            store.add_practice(&self.practice, &self.sitting, &self.seats, &self.items)?;
            store.add_strength_glasses(&self.glasses)
        })
    }
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
        let one = std::slice::from_ref(taster);
        let words = self.words_to_practise(one, PracticeKind::Words, FIVE_MINUTES)?;
        let table = PracticeTable::new(PracticeKind::Words, Pourer::SomebodyElse, one);
        let seat = self.new_seat(taster, &SittingId::new(String::new()));
        let items = word_items(self.wheel(), &words, &history, &seat.id, &mut dice);
        let drawn = self.draw_table(&table, vec![seat], items, Vec::new())?;
        self.keep_practice(&drawn)
    }

    /// Draws a practice with jars for everybody at the table: the same jars under the same codes, in
    /// an order of their own for each.
    ///
    /// # Errors
    /// Nobody practises, a word has no jar, or the store cannot be read or written.
    pub fn practise_jars(
        &mut self,
        tasters: &[Taster],
        words: &[DescriptorId],
        pourer: Pourer,
    ) -> Result<SittingId, WorkflowError> {
        let mut dice = Dice::from_seed(self.dice.seed());
        let codes = shuffled_codes(&mut dice);
        let table = PracticeTable::new(PracticeKind::Jars, pourer, tasters);
        let drawn = self.draw_coded(&table, &coded_jars(words, codes), &mut dice)?;
        self.keep_practice(&drawn)
    }

    /// The jars that the people at a table need most, so many of them; each person's own come in turn.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn jars_to_practise(
        &mut self,
        tasters: &[Taster],
        count: usize,
    ) -> Result<Vec<DescriptorId>, WorkflowError> {
        self.words_to_practise(tasters, PracticeKind::Jars, count)
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
        let table = PracticeTable::new(PracticeKind::Presence, pourer, tasters);
        let drawn = self.draw_coded(&table, &coded_presence(word, codes), &mut dice)?;
        self.keep_practice(&drawn)
    }

    /// Draws a practice in which everybody is asked the same under codes, in an order of their own.
    pub(super) fn draw_coded(
        &mut self,
        table: &PracticeTable,
        all: &[Asked],
        dice: &mut Dice,
    ) -> Result<DrawnPractice, WorkflowError> {
        let mut seats = Vec::new();
        let mut items = Vec::new();
        for taster in &table.tasters {
            let seat = self.table_seat(table, taster);
            let mut order: Vec<&Asked> = all.iter().collect();
            dice.shuffle(&mut order);
            let own = order.into_iter().zip(1_u16..);
            items.extend(own.map(|(it, position)| it.item(&seat.id, position)));
            seats.push(seat);
        }
        self.draw_table(table, seats, items, Vec::new())
    }

    /// A seat at a table whose sitting is not drawn yet.
    pub(super) fn table_seat(&mut self, table: &PracticeTable, taster: &Taster) -> Seat {
        Seat {
            role: table.role(),
            ..self.new_seat(taster, &SittingId::new(String::new()))
        }
    }

    /// Draws the sitting of a practice around what is asked in it.
    pub(super) fn draw_table(
        &mut self,
        table: &PracticeTable,
        mut seats: Vec<Seat>,
        items: Vec<PracticeItem>,
        glasses: Vec<StrengthGlass>,
    ) -> Result<DrawnPractice, WorkflowError> {
        if table.tasters.is_empty() || (items.is_empty() && glasses.is_empty()) {
            return Err(WorkflowError::NothingToPractise);
        }
        let sitting = Sitting {
            id: SittingId::new(self.draw_id()),
            kind: SittingKind::Practice,
            seed: self.dice.seed(),
            made_at: self.now(),
            closed_at: None,
        };
        for seat in &mut seats {
            seat.sitting = sitting.id.clone();
        }
        let practice = Practice {
            sitting: sitting.id.clone(),
            kind: table.kind,
            reveal: table.reveal,
        };
        Ok(DrawnPractice {
            practice,
            sitting,
            seats,
            items,
            glasses,
        })
    }

    /// Keeps a practice that was drawn.
    pub(super) fn keep_practice(
        &mut self,
        drawn: &DrawnPractice,
    ) -> Result<SittingId, WorkflowError> {
        drawn.write(&mut self.store)?;
        Ok(drawn.sitting().clone())
    }
}

/// Jars with these words under codes, one each.
pub(super) fn coded_jars(
    words: &[DescriptorId],
    codes: impl IntoIterator<Item = BlindingCode>,
) -> Vec<Asked> {
    let jars = words.iter().zip(codes);
    jars.map(|(word, code)| Asked {
        form: ItemForm::Jar,
        word: word.clone(),
        code,
        spiked: None,
    })
    .collect()
}

/// Glasses of which every other one is spiked with a word.
pub(super) fn coded_presence(
    word: &DescriptorId,
    codes: impl IntoIterator<Item = BlindingCode>,
) -> Vec<Asked> {
    let glasses = codes.into_iter().take(GLASSES).enumerate();
    glasses
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
        .collect()
}

/// What everybody at the table is asked.
pub(super) struct Asked {
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
