//! The second sniff: after the lock the glass once more, for words hoped for and as many decoys.

use crate::domain::Batch;
use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::NotesId;
use crate::domain::SecondSniff;
use crate::domain::SniffAnswer;
use crate::domain::SniffKind;
use crate::domain::SniffedWord;
use crate::domain::SniffedWordId;
use crate::storage::StorageError;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::sniff_words::Expected;
use crate::workflow::sniff_words::SniffWords;
use crate::workflow::sniff_words::given;
use crate::workflow::sniff_words::sniff_words;

/// Most words asked for that were hoped for or promised, and most decoys.
const OF_EACH: usize = 3;

/// What a second sniff hangs on, once it may be opened.
struct Sniffable {
    notes: Notes,
    mark: Name,
    batch: Batch,
}

impl Home {
    /// Draws the words of a second sniff after these notes, or goes on with the one that was begun.
    ///
    /// # Errors
    /// Somebody is still tasting, the notes are open or of a bad bottle, the beer has no recipe, or
    /// no word is left to ask for.
    pub fn start_second_sniff(&mut self, id: &NotesId) -> Result<SecondSniff, WorkflowError> {
        let glass = self.sniffable(id)?;
        if let Some(begun) = self.store.second_sniff(id)? {
            return Ok(begun);
        }
        let words = self.words_for(&glass)?;
        let words = self.drawn(words);
        if words.is_empty() {
            return Err(WorkflowError::NothingToSniff {
                mark: glass.mark.to_string(),
            });
        }
        let sniff = SecondSniff {
            notes: id.clone(),
            made_at: self.now(),
            words,
        };
        Ok(self.store.start_second_sniff(&sniff)?)
    }

    /// The second sniff that was begun after these notes.
    ///
    /// # Errors
    /// None was begun, or somebody is tasting this beer by now: its words tell the plan.
    pub fn second_sniff(&self, id: &NotesId) -> Result<SecondSniff, WorkflowError> {
        self.sniffable(id)?;
        let begun = self.store.second_sniff(id)?;
        Ok(begun.ok_or_else(|| StorageError::Missing {
            step: "go on with a second sniff",
            what: "the one after the notes",
            id: id.to_string(),
        })?)
    }

    /// Stores the answer to a word; one that another window gave before stays.
    ///
    /// # Errors
    /// None was begun, somebody is tasting this beer by now, or the store cannot be written.
    pub fn answer_second_sniff(
        &mut self,
        id: &NotesId,
        word: &SniffedWordId,
        answer: SniffAnswer,
    ) -> Result<SecondSniff, WorkflowError> {
        self.sniffable(id)?;
        let now = self.now();
        self.store.answer_sniffed_word(word, answer, now)?;
        self.second_sniff(id)
    }

    /// Takes the last answer back; after the last word none is, because the decoys were told.
    ///
    /// # Errors
    /// None was begun, somebody is tasting this beer by now, or the store cannot be written.
    pub fn take_back_second_sniff(&mut self, id: &NotesId) -> Result<SecondSniff, WorkflowError> {
        let sniff = self.second_sniff(id)?;
        let last = sniff.answered().next_back().map(|it| it.id.clone());
        if let Some(last) = last.filter(|_| sniff.asked().is_some()) {
            self.store.take_back_sniffed_word(&last)?;
        }
        self.second_sniff(id)
    }

    /// The locked notes of a sound bottle of a batch that nobody is tasting. The seal comes first:
    /// whether a bottle was bad is told to nobody who still tastes.
    fn sniffable(&self, id: &NotesId) -> Result<Sniffable, WorkflowError> {
        let (notes, row, _) = self.store.notes_with_row(id)?;
        let mark = || row.beer.cap_mark.to_string();
        if notes.locked_at.is_none() {
            return Err(WorkflowError::NotLocked { mark: mark() });
        }
        self.ensure_plan_unsealed(&row.beer, "the second sniff")?;
        if notes.bottle_fault.is_some() {
            return Err(WorkflowError::BadBottle { mark: mark() });
        }
        let batch = match &row.beer.batch {
            Some(batch) => self.store.batch(batch)?,
            None => None,
        };
        let batch = batch.ok_or_else(|| WorkflowError::NoRecipe { mark: mark() })?;
        Ok(Sniffable {
            notes,
            mark: row.beer.cap_mark,
            batch,
        })
    }

    fn words_for(&self, glass: &Sniffable) -> Result<SniffWords, WorkflowError> {
        let recipe = self.recipe_of(&glass.batch)?;
        let log = self.log_of(&glass.batch.id)?;
        let dated = self.intent_of(&glass.batch, &recipe, &log)?;
        let expected = Expected {
            intent: &dated.intent,
            promised: &recipe.promised,
            given: given(&recipe, &self.profile_of(&recipe, &log, None)),
        };
        Ok(sniff_words(self.wheel(), &glass.notes, &expected))
    }

    /// Draws as many decoys as words that were hoped for, in an order that tells nothing.
    fn drawn(&mut self, words: SniffWords) -> Vec<SniffedWord> {
        let SniffWords { mut wanted, decoys } = words;
        let decoys = decoys.into_iter().map(|it| (it, SniffKind::Decoy));
        let mut decoys: Vec<_> = decoys.collect();
        let of_each = OF_EACH.min(wanted.len()).min(decoys.len());
        for pool in [&mut wanted, &mut decoys] {
            self.dice.shuffle(pool);
            pool.truncate(of_each);
        }
        let mut all = wanted;
        all.append(&mut decoys);
        self.dice.shuffle(&mut all);
        let word = |(descriptor, kind)| SniffedWord {
            id: SniffedWordId::new(self.draw_id()),
            descriptor,
            kind,
            answered: None,
        };
        all.into_iter().map(word).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::BottleFault;
    use crate::domain::DescriptorId;
    use crate::domain::Mark;
    use crate::domain::NotesChange;
    use crate::domain::NotesSource;
    use crate::domain::Prompting;
    use crate::domain::Stage;
    use crate::domain::Subject;
    use crate::formats::EXAMPLE;
    use crate::statistics::Dice;
    use crate::workflow::ReadRecipe;
    use crate::workflow::Tasting;

    fn word(id: &str) -> DescriptorId {
        DescriptorId::new(id).unwrap()
    }

    /// A home where a recipe is brewed as T1; Ana is tasting it, and has named these words so far.
    fn tasted(document: &str, words: &[(&str, u8)]) -> (Home, Tasting) {
        let mut home = Home::trial();
        let read = ReadRecipe {
            document: document.to_owned(),
            recipe: home.parse_recipe("trial", document).unwrap(),
        };
        home.add_batch_of(&read, Some("T1")).unwrap();
        let ana = home.add_taster("Ana").unwrap();
        let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        for (id, intensity) in words {
            let mark = Mark {
                id: home.new_mark(),
                stage: Stage::Aroma,
                subject: Subject::Descriptor(word(id)),
                intensity: Some(*intensity),
                prompting: Prompting::Unprompted,
            };
            home.change(&mut tasting, &[NotesChange::Marked(mark)])
                .unwrap();
        }
        (home, tasting)
    }

    /// The same, locked.
    fn locked(document: &str, words: &[(&str, u8)]) -> (Home, NotesId) {
        let (mut home, mut tasting) = tasted(document, words);
        home.lock(&mut tasting).unwrap();
        (home, tasting.notes.id)
    }

    /// The words there are to draw from.
    fn words_after(document: &str, words: &[(&str, u8)]) -> SniffWords {
        let (home, notes) = locked(document, words);
        home.words_for(&home.sniffable(&notes).unwrap()).unwrap()
    }

    fn wanted_after(document: &str, words: &[(&str, u8)]) -> Vec<(String, SniffKind)> {
        let wanted = words_after(document, words).wanted.into_iter();
        wanted.map(|(id, kind)| (id.to_string(), kind)).collect()
    }

    fn hoped(id: &str) -> (String, SniffKind) {
        (id.to_owned(), SniffKind::Hoped)
    }

    fn promised(id: &str) -> (String, SniffKind) {
        (id.to_owned(), SniffKind::Promised)
    }

    #[test]
    fn asked_for_is_what_the_recipe_hopes_for_and_promises_unless_it_was_named() {
        let all = [
            hoped("orange-peel"),
            promised("cut-grass"),
            promised("black-pepper"),
        ];
        assert_eq!(wanted_after(EXAMPLE, &[]), all);
        // Looked for and denied is not named; the hint may help.
        assert_eq!(wanted_after(EXAMPLE, &[("orange-peel", 0)]), all);
        assert_eq!(wanted_after(EXAMPLE, &[("orange-peel", 3)]), all[1..]);
    }

    #[test]
    fn what_is_hoped_to_be_absent_or_is_only_tasted_is_not_smelled_for() {
        let absent = EXAMPLE.replace("{ aroma = 5, flavour = 4, matters = 3 }", "{ aroma = 0 }");
        assert_ne!(absent, EXAMPLE);
        let promises = [promised("cut-grass"), promised("black-pepper")];
        assert_eq!(wanted_after(&absent, &[]), promises);
        assert!(
            !words_after(&absent, &[])
                .decoys
                .contains(&word("orange-peel"))
        );
        // Liquorice is met in the mouth and in the finish, by the wheel.
        let tasted = EXAMPLE.replace("\"orange peel\"", "\"liquorice\"");
        assert_eq!(wanted_after(&tasted, &[]), promises);
    }

    #[test]
    fn a_word_that_is_hoped_for_and_promised_is_asked_for_once() {
        let both = EXAMPLE.replace("[\"cut grass\", \"pepper\"]", "[\"orange peel\"]");
        assert_eq!(wanted_after(&both, &[]), [hoped("orange-peel")]);
    }

    #[test]
    fn a_decoy_is_expected_by_nobody_and_near_to_nothing_that_is() {
        let decoys = words_after(EXAMPLE, &[("clove", 4)]).decoys;
        for far in ["coconut", "wood-smoke", "honey"] {
            assert!(decoys.contains(&word(far)), "{far} is no decoy");
        }
        for (near, why) in [
            ("orange-peel", "hoped for"),
            ("black-pepper", "promised"),
            ("orange-juice", "on the shelf of a hoped word"),
            ("green-leaf", "on the shelf of a promised word"),
            ("toast", "on a hoped shelf"),
            ("grapefruit-zest", "takes orange peel for its look-alike"),
            ("tinned-asparagus", "takes cut grass for its look-alike"),
            ("cedar-pencil", "takes black pepper for its look-alike"),
            ("ripe-apple", "given by the clean ale yeast"),
            ("ground-coffee", "given by the chocolate malt"),
            ("soap", "given by the coriander seed"),
            ("clove", "named"),
            ("nutmeg", "on the shelf of a named word"),
            ("sticking-plaster", "a look-alike of a named word"),
            ("liquorice", "tasted only"),
        ] {
            assert!(!decoys.contains(&word(near)), "{near}: {why}");
        }
    }

    #[test]
    fn three_of_each_are_drawn_and_every_place_is_as_likely_for_a_decoy() {
        let (mut home, notes) = locked(EXAMPLE, &[]);
        let glass = home.sniffable(&notes).unwrap();
        let mut decoys = [0_u32; 6];
        // 400 draws: a decoy at each place half of the time, 200 with SD 10 (binomial); 5 SD.
        for seed in 0..400 {
            home.dice = Dice::from_seed(seed);
            let drawn = home.words_for(&glass).unwrap();
            let drawn = home.drawn(drawn);
            assert_eq!(drawn.len(), 6);
            for (count, word) in decoys.iter_mut().zip(&drawn) {
                *count += u32::from(word.kind == SniffKind::Decoy);
            }
            let of_kind = |kind| drawn.iter().filter(|it| it.kind == kind).count();
            assert_eq!(of_kind(SniffKind::Decoy), 3);
        }
        assert!(
            decoys.iter().all(|it| (150..=250).contains(it)),
            "{decoys:?}"
        );
    }

    #[test]
    fn no_more_than_three_words_are_asked_for_and_fewer_where_there_are_fewer() {
        let many = EXAMPLE.replace(
            "[\"cut grass\", \"pepper\"]",
            "[\"cut grass\", \"pepper\", \"coconut\", \"honey\"]",
        );
        let drawn = |document: &str, words: &[(&str, u8)]| {
            let (mut home, notes) = locked(document, words);
            let sniff = home.start_second_sniff(&notes).unwrap();
            (sniff.wanted().of, sniff.decoys().of)
        };
        assert_eq!(drawn(&many, &[]), (3, 3));
        let named = [("orange-peel", 5), ("black-pepper", 2)];
        assert_eq!(drawn(EXAMPLE, &named), (1, 1));
    }

    #[test]
    fn a_second_sniff_goes_on_where_it_was_left_and_takes_back_until_the_last_word() {
        let (mut home, notes) = locked(EXAMPLE, &[]);
        let before = home.tasting(&notes).unwrap();
        let begun = home.start_second_sniff(&notes).unwrap();
        let first = begun.words[0].id.clone();
        home.answer_second_sniff(&notes, &first, SniffAnswer::There)
            .unwrap();
        // Another window starts it again, and answers the word that it still shows.
        let again = home.start_second_sniff(&notes).unwrap();
        assert_eq!(again.made_at, begun.made_at);
        assert_eq!(again.asked().unwrap().id, begun.words[1].id);
        let kept = home.answer_second_sniff(&notes, &first, SniffAnswer::NotThere);
        assert_eq!(kept.unwrap(), again);
        assert_eq!(home.take_back_second_sniff(&notes).unwrap(), begun);
        for word in &begun.words {
            home.answer_second_sniff(&notes, &word.id, SniffAnswer::CannotTell)
                .unwrap();
        }
        let finished = home.second_sniff(&notes).unwrap();
        assert_eq!(finished.asked(), None);
        assert_eq!(home.take_back_second_sniff(&notes).unwrap(), finished);
        assert_eq!(home.tasting(&notes).unwrap(), before);
    }

    #[test]
    fn while_anybody_tastes_the_same_recipe_it_is_sealed_before_and_after_it_was_begun() {
        let (mut home, notes) = locked(EXAMPLE, &[]);
        let begun = home.start_second_sniff(&notes).unwrap();
        let read = ReadRecipe {
            document: EXAMPLE.to_owned(),
            recipe: home.parse_recipe("trial", EXAMPLE).unwrap(),
        };
        home.add_batch_of(&read, Some("T2")).unwrap();
        let ben = home.add_taster("Ben").unwrap();
        let mut open = home.start_tasting(&ben, "T2", NotesSource::App).unwrap();
        let asked = begun.words[0].id.clone();
        let refusals = [
            home.start_second_sniff(&notes),
            home.second_sniff(&notes),
            home.answer_second_sniff(&notes, &asked, SniffAnswer::There),
            home.take_back_second_sniff(&notes),
        ];
        for refused in refusals {
            let told = refused.unwrap_err().to_string();
            let sentence = "the second sniff of “T1” is sealed until Ben locks their notes";
            assert!(told.starts_with(sentence), "{told}");
        }
        home.lock(&mut open).unwrap();
        assert_eq!(home.second_sniff(&notes).unwrap(), begun);
    }

    #[test]
    fn before_the_lock_for_a_bad_bottle_or_without_a_recipe_there_is_none() {
        let (mut home, mut tasting) = tasted(EXAMPLE, &[]);
        let id = tasting.notes.id.clone();
        let early = home.start_second_sniff(&id);
        assert!(matches!(early, Err(WorkflowError::NotLocked { .. })));
        home.lock_faulty(&mut tasting, BottleFault::Mould).unwrap();
        let bad = home.start_second_sniff(&id);
        assert!(matches!(bad, Err(WorkflowError::BadBottle { .. })));
        let ana = home.taster("Ana").unwrap();
        let mut free = home.start_tasting(&ana, "7", NotesSource::App).unwrap();
        home.lock(&mut free).unwrap();
        let unknown = home.start_second_sniff(&free.notes.id);
        assert!(matches!(unknown, Err(WorkflowError::NoRecipe { .. })));
    }

    #[test]
    fn where_everything_was_named_there_is_nothing_to_smell_for() {
        let all = [("orange-peel", 5), ("cut-grass", 1), ("black-pepper", 2)];
        let (mut home, notes) = locked(EXAMPLE, &all);
        let refused = home.start_second_sniff(&notes);
        assert!(
            matches!(refused, Err(WorkflowError::NothingToSniff { .. })),
            "{refused:?}"
        );
    }

    #[test]
    fn a_finished_second_sniff_stands_in_the_comparison_and_changes_no_line_of_it() {
        let (mut home, id) = locked(EXAMPLE, &[]);
        let before = home.compare("T1", None).unwrap();
        let sniff = home.start_second_sniff(&id).unwrap();
        for word in &sniff.words {
            let so_far = home.compare("T1", None).unwrap();
            assert!(so_far.second_sniffs.is_empty());
            home.answer_second_sniff(&id, &word.id, SniffAnswer::There)
                .unwrap();
        }
        let after = home.compare("T1", None).unwrap();
        assert_eq!(after.second_sniffs[0].words.len(), sniff.words.len());
        assert_eq!(
            (after.lines, after.promised),
            (before.lines, before.promised)
        );
    }
}
