//! Lists of notes: who tasted what, when, and how far it went.

use std::collections::HashMap;

use rusqlite::Params;
use rusqlite::Row;
use rusqlite::params;

use crate::domain::Beer;
use crate::domain::BeerId;
use crate::domain::BlindingCode;
use crate::domain::BottleFault;
use crate::domain::Day;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::NotesId;
use crate::domain::Sample;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::beers;
use crate::storage::row;
use crate::storage::sittings;

/// One line of a list of notes.
#[derive(Debug, Clone, PartialEq)]
pub struct NotesRow {
    /// The notes.
    pub notes: NotesId,
    /// Whose seat.
    pub seat: SeatId,
    /// What they do in it.
    pub role: SeatRole,
    /// In which sitting.
    pub sitting: SittingId,
    /// What kind of sitting.
    pub kind: SittingKind,
    /// The code of the glass.
    pub code: BlindingCode,
    /// Who tasted.
    pub taster: Taster,
    /// What was in the glass.
    pub beer: Beer,
    /// When typing began.
    pub typed_on: Moment,
    /// The day of tasting.
    pub tasted_on: Day,
    /// When they became final.
    pub locked_at: Option<Moment>,
    /// When the taster left without locking.
    pub left_at: Option<Moment>,
    /// What was wrong with the bottle.
    pub bottle_fault: Option<BottleFault>,
    /// When the seal was broken on purpose.
    pub seal_broken_at: Option<Moment>,
    /// 1 for the first pass, 2 for the pass as it warms.
    pub round: u8,
}

/// How many notes there are on one beer.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct CountedNotes {
    /// Those that are locked.
    pub locked: usize,
    /// Those of them on sound bottles.
    pub sound: usize,
    /// The worst that was seen of a bottle and warns of the others.
    pub worst: Option<BottleFault>,
}

/// The notes of one beer that count.
const COUNTED_OF_BEER: &str = "FROM sample JOIN notes ON notes.sample = sample.id
    JOIN seat ON seat.id = notes.seat
    WHERE notes.removed_at IS NULL";

/// The notes of all beers that count, read as they stand in the file (CROSS keeps that order). Which seats are those of
/// panels that wait is looked up once, not for all notes.
const COUNTED_OF_ALL: &str = "FROM notes CROSS JOIN sample ON sample.id = notes.sample
    WHERE notes.removed_at IS NULL AND notes.seat NOT IN
    (SELECT seat.id FROM panel JOIN seat ON seat.sitting = panel.sitting
        WHERE panel.told_at IS NULL AND panel.removed_at IS NULL)
    AND sample.beer IS NOT NULL GROUP BY sample.beer";

/// Every list asks for the same columns.
pub(super) const COLUMNS: &str =
    "notes.id AS notes, notes.seat, seat.role, seat.sitting, sitting.kind, sample.code,
        taster.id, taster.name, taster.made_at,
        beer.id AS beer, beer.cap_mark, beer.batch, beer.abv,
        notes.typed_on, notes.tasted_on, notes.locked_at, seat.left_at,
        notes.bottle_fault, notes.seal_broken_at, notes.round";

/// How many columns these are.
pub(super) const COLUMNS_COUNT: usize = 20;

/// What every list reads.
pub(super) const LISTED: &str = "FROM notes
    JOIN seat ON seat.id = notes.seat
    JOIN sitting ON sitting.id = seat.sitting
    JOIN taster ON taster.id = seat.taster
    JOIN sample ON sample.id = notes.sample
    JOIN beer ON beer.id = sample.beer
    WHERE notes.removed_at IS NULL";

/// Newest last; a document typed later stands at the day of its tasting.
const NEWEST_LAST: &str = "ORDER BY notes.tasted_on, notes.typed_on, notes.rowid";

/// What makes notes open. Whether their taster left is looked up in the small index of those who did: what was left over
/// the years stays without a lock for ever, and for each of it a page of the seats of earlier years would be read.
const OPEN: &str = "AND notes.locked_at IS NULL
    AND NOT EXISTS (SELECT 1 FROM seat AS vacant INDEXED BY seat_left
        WHERE vacant.id = notes.seat AND vacant.left_at IS NOT NULL)";

/// What keeps out notes of a panel of which it was not told yet what was in its glasses: a list of them
/// would tell it.
pub(super) const TOLD: &str = "AND NOT EXISTS (SELECT 1 FROM panel
    WHERE panel.sitting = seat.sitting AND panel.told_at IS NULL AND panel.removed_at IS NULL)";

/// The one line of these notes.
const OF_ID: &str = "AND notes.id = ?1";

/// The list of one beer.
pub(super) const OF_BEER: &str = "AND sample.beer = ?1";

/// The list of one sitting.
const OF_SITTING: &str = "AND seat.sitting = ?1";

/// The list of one taster.
pub(super) const OF_TASTER: &str = "AND seat.taster = ?1";

impl Store {
    /// True where at least so many notes are locked.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn has_at_least_locked(&self, count: u32) -> Result<bool, StorageError> {
        let sql = "SELECT 1 FROM notes WHERE locked_at IS NOT NULL LIMIT 1 OFFSET ?1";
        let before = count.saturating_sub(1);
        let found = self.first("count the notes", sql, [before], |_| Ok(()))?;
        Ok(found.is_some())
    }

    /// Notes that nobody locked or left, newest last.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn open_notes(&self) -> Result<Vec<NotesRow>, StorageError> {
        self.listed(&[OPEN], [])
    }

    /// Notes that are locked, newest last; those of a panel only once its glasses were told.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn locked_notes(&self) -> Result<Vec<NotesRow>, StorageError> {
        self.listed(&["AND notes.locked_at IS NOT NULL", TOLD], [])
    }

    /// Notes of a sitting that nobody locked or left, newest last.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn open_notes_of_sitting(
        &self,
        sitting: &SittingId,
    ) -> Result<Vec<NotesRow>, StorageError> {
        self.listed(&[OF_SITTING, OPEN], [sitting.as_str()])
    }

    /// All notes of a sitting, newest last.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn notes_of_sitting(&self, sitting: &SittingId) -> Result<Vec<NotesRow>, StorageError> {
        self.listed(&[OF_SITTING], [sitting.as_str()])
    }

    /// Notes on a beer that nobody locked or left, newest last.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn open_notes_of_beer(&self, beer: &BeerId) -> Result<Vec<NotesRow>, StorageError> {
        self.listed(&[OF_BEER, OPEN], [beer.as_str()])
    }

    /// All notes on a beer, newest last; those of a panel only once its glasses were told.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn notes_of_beer(&self, beer: &BeerId) -> Result<Vec<NotesRow>, StorageError> {
        self.listed(&[OF_BEER, TOLD], [beer.as_str()])
    }

    /// Counts the notes that [`Store::notes_of_beer`] lists.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn counted_notes_of_beer(&self, beer: &BeerId) -> Result<CountedNotes, StorageError> {
        let sql = counted_of_beer();
        let counted = self.first("count notes", &sql, [beer.as_str()], counted)?;
        Ok(counted.unwrap_or_default())
    }

    /// Counts the notes on every beer, as [`Store::counted_notes_of_beer`] does those on one.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn counted_notes(&self) -> Result<HashMap<BeerId, CountedNotes>, StorageError> {
        let sql = format!("SELECT sample.beer, {} {COUNTED_OF_ALL}", counts());
        let all = self.all("count notes", &sql, [], |row| {
            Ok((row::id(row, "beer", BeerId::new)?, counted(row)?))
        })?;
        Ok(all.into_iter().collect())
    }

    /// Locked notes, newest first, so many of them: the newest of all, or those before these. Those of a panel
    /// only once its glasses were told.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn locked_notes_before(
        &self,
        notes: Option<&NotesId>,
        most: usize,
    ) -> Result<Vec<NotesRow>, StorageError> {
        let most = i64::try_from(most).unwrap_or(i64::MAX);
        let before = notes.map(NotesId::as_str);
        self.all(
            "list notes",
            &newest_first(before),
            params![before, most],
            notes_row,
        )
    }

    /// The cap marks of all bottles of which there are locked notes, the one tasted last first; those of a panel
    /// only once its glasses were told.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn tasted_marks(&self) -> Result<Vec<Name>, StorageError> {
        self.all("list what was tasted", &tasted_marks(), [], |row| {
            row::name(row, "cap_mark")
        })
    }

    /// All notes of a taster, newest last; those of a panel only once its glasses were told.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn notes_of_taster(&self, taster: &TasterId) -> Result<Vec<NotesRow>, StorageError> {
        self.listed(&[OF_TASTER, TOLD], [taster.as_str()])
    }

    /// The notes with this id, with their line and their glass.
    ///
    /// # Errors
    /// The notes are not stored or were removed, or the file cannot be read.
    pub fn notes_with_row(&self, id: &NotesId) -> Result<(Notes, NotesRow, Sample), StorageError> {
        let step = "read notes";
        let found = self.as_of_now(|| {
            let Some(line) = self.first(step, &list(&[OF_ID]), [id.as_str()], notes_row)? else {
                return Ok(None);
            };
            let sample = self.first(
                step,
                "SELECT sample.id, sitting, code, beer, duplicate_of
                 FROM notes JOIN sample ON sample.id = notes.sample WHERE notes.id = ?1",
                [id.as_str()],
                sittings::sample,
            )?;
            let notes = self.notes(id)?;
            Ok(notes
                .zip(sample)
                .map(|(notes, sample)| (notes, line, sample)))
        })?;
        found.ok_or_else(|| StorageError::Missing {
            step,
            what: "the tasting",
            id: id.to_string(),
        })
    }

    fn listed(
        &self,
        conditions: &[&str],
        values: impl Params,
    ) -> Result<Vec<NotesRow>, StorageError> {
        self.all("list notes", &list(conditions), values, notes_row)
    }

    /// The taster whose notes were begun last.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn latest_taster(&self) -> Result<Option<Taster>, StorageError> {
        let latest = format!("SELECT {COLUMNS} {LISTED} ORDER BY notes.rowid DESC LIMIT 1");
        let row = self.first("find who tasted last", &latest, [], notes_row)?;
        Ok(row.map(|row| row.taster))
    }
}

fn list(conditions: &[&str]) -> String {
    format!(
        "SELECT {COLUMNS} {LISTED} {} {NEWEST_LAST}",
        conditions.join(" ")
    )
}

fn tasted_marks() -> String {
    format!(
        "SELECT beer.cap_mark FROM notes
         JOIN seat ON seat.id = notes.seat
         JOIN sample ON sample.id = notes.sample
         JOIN beer ON beer.id = sample.beer
         WHERE notes.removed_at IS NULL AND notes.locked_at IS NOT NULL {TOLD}
         GROUP BY beer.id
         ORDER BY max(notes.tasted_on || ' ' || notes.typed_on) DESC, max(notes.rowid) DESC"
    )
}

/// What is counted of notes: those that are locked, those of sound bottles, and which warning is the worst, by its place.
fn counts() -> String {
    let places = BottleFault::WARNING.iter().enumerate();
    let places = places.map(|(place, it)| format!("WHEN '{}' THEN {place}", it.id()));
    let places = places.collect::<Vec<_>>().join(" ");
    format!(
        "count(notes.locked_at) AS locked,
         count(CASE WHEN notes.bottle_fault IS NULL THEN notes.locked_at END) AS sound,
         min(CASE notes.bottle_fault {places} END) AS worst"
    )
}

fn counted_of_beer() -> String {
    format!("SELECT {} {COUNTED_OF_BEER} {OF_BEER} {TOLD}", counts())
}

/// So many locked notes from the newest on, or from those before the notes with this id.
fn newest_first(before: Option<&str>) -> String {
    let before = before.map_or("", |_| {
        "AND (notes.tasted_on, notes.typed_on, notes.rowid)
            < (SELECT tasted_on, typed_on, rowid FROM notes WHERE id = ?1)"
    });
    format!(
        "SELECT {COLUMNS} {LISTED} AND notes.locked_at IS NOT NULL {TOLD} {before}
         ORDER BY notes.tasted_on DESC, notes.typed_on DESC, notes.rowid DESC LIMIT ?2"
    )
}

fn counted(row: &Row<'_>) -> rusqlite::Result<CountedNotes> {
    let [locked, sound]: [u32; 2] = [row.get("locked")?, row.get("sound")?];
    let worst: Option<u8> = row.get("worst")?;
    Ok(CountedNotes {
        locked: locked as usize,
        sound: sound as usize,
        worst: worst.and_then(|it| BottleFault::WARNING.get(usize::from(it)).copied()),
    })
}

/// Reads [`COLUMNS`], by place: lists are long, and looking for twenty names in each row takes as long as reading it.
pub(super) fn notes_row(row: &Row<'_>) -> rusqlite::Result<NotesRow> {
    Ok(NotesRow {
        notes: row::id(row, 0, NotesId::new)?,
        seat: row::id(row, 1, SeatId::new)?,
        role: row::text(row, 2, SeatRole::from_id)?,
        sitting: row::id(row, 3, SittingId::new)?,
        kind: row::text(row, 4, SittingKind::from_id)?,
        code: sittings::code(row, 5)?,
        taster: Taster {
            id: row::id(row, 6, TasterId::new)?,
            name: row::name(row, 7)?,
            made_at: row::moment(row, 8)?,
        },
        beer: beers::beer_at(row, [9, 10, 11, 12])?,
        typed_on: row::moment(row, 13)?,
        tasted_on: row::text(row, 14, Day::parse)?,
        locked_at: row::moment_or_none(row, 15)?,
        left_at: row::moment_or_none(row, 16)?,
        bottle_fault: row::text_or_none(row, 17, BottleFault::from_id)?,
        seal_broken_at: row::moment_or_none(row, 18)?,
        round: row.get(19)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Moment;

    /// 10,000 notes of 100 sittings by 20 tasters on 50 beers; every hundredth is open.
    const TEN_THOUSAND: &str = "
        CREATE TEMP TABLE n (n INTEGER PRIMARY KEY) STRICT;
        WITH RECURSIVE count (n) AS (SELECT 0 UNION ALL SELECT n + 1 FROM count WHERE n < 9999)
        INSERT INTO n SELECT n FROM count;
        INSERT INTO taster SELECT 't' || n, 'T' || n, 't' || n, '2026-03-14T18:30:00.000Z', NULL
            FROM n WHERE n < 20;
        INSERT INTO beer SELECT 'b' || n, 'B' || n, 'b' || n, NULL, NULL, NULL FROM n WHERE n < 50;
        INSERT INTO sitting SELECT 's' || n, 'tasting', '1', '2026-03-14T18:30:00.000Z', NULL, NULL
            FROM n WHERE n < 100;
        INSERT INTO sample SELECT 'g' || n, 's' || n, 100, 'b' || (n % 50), NULL, NULL
            FROM n WHERE n < 100;
        INSERT INTO seat SELECT 'e' || n, 's' || (n % 100), 't' || (n % 20), 'taster', NULL, NULL
            FROM n;
        INSERT INTO notes (id, seat, sample, round, form, source, tasted_on, typed_on,
                current_field, locked_at)
            SELECT 'n' || n, 'e' || n, 'g' || (n % 100), 1, 'full', 'app', '2026-03-14',
                '2026-03-14T18:30:00.000Z', 'lock',
                CASE WHEN n % 100 THEN '2026-03-14T19:00:00.000Z' END
            FROM n;
        DROP TABLE n;";

    fn full() -> (tempfile::TempDir, Store) {
        let home = tempfile::tempdir().unwrap();
        let stamp = Moment::parse("2026-03-14T18:30:00Z").unwrap();
        let store = Store::open(home.path(), &stamp).unwrap();
        let raw = rusqlite::Connection::open(home.path().join("thirdglass.db")).unwrap();
        raw.execute_batch(TEN_THOUSAND).unwrap();
        (home, store)
    }

    #[test]
    fn among_ten_thousand_notes_every_list_walks_an_index_and_no_whole_table() {
        let (_home, store) = full();
        let queries = [
            (list(&[OPEN]), "notes_open", 0),
            (list(&[OPEN]), "seat_left", 0),
            (list(&[OF_ID]), "autoindex_notes_1", 1),
            (list(&[OF_BEER, OPEN]), "sample_by_beer", 1),
            (list(&[OF_BEER, TOLD]), "sample_by_beer", 1),
            (list(&[OF_SITTING, OPEN]), "seat_by_sitting", 1),
            (list(&[OF_TASTER, TOLD]), "seat_by_taster", 1),
            (counted_of_beer(), "sample_by_beer", 1),
            (newest_first(None), "notes_locked", 2),
            (newest_first(Some("x")), "notes_locked", 2),
        ];
        for (query, index, values) in queries {
            let values = vec!["x"; values];
            let plan = store
                .all(
                    "explain",
                    &format!("EXPLAIN QUERY PLAN {query}"),
                    rusqlite::params_from_iter(values),
                    |row| row.get::<_, String>("detail"),
                )
                .unwrap();
            assert!(plan.iter().any(|line| line.contains(index)), "{plan:#?}");
            for line in plan.iter().filter(|line| line.starts_with("SCAN")) {
                let walked = ["INDEX notes_open", "INDEX notes_locked"];
                assert!(walked.iter().any(|it| line.contains(it)), "{plan:#?}");
            }
            // What is read newest first stops when it has enough, so nothing may be sorted before.
            let sorts = plan.iter().any(|line| line.contains("TEMP B-TREE"));
            assert!(index != "notes_locked" || !sorts, "{plan:#?}");
        }
    }

    #[test]
    fn notes_read_piece_by_piece_are_those_of_the_whole_list() {
        let (_home, store) = full();
        let mut whole = store.locked_notes().unwrap();
        whole.reverse();
        assert_eq!(whole.len(), 9_900);
        let mut pieces: Vec<NotesRow> = Vec::new();
        while pieces.len() < whole.len() {
            let last = pieces.last().map(|it| it.notes.clone());
            let piece = store.locked_notes_before(last.as_ref(), 1_000).unwrap();
            assert!(!piece.is_empty());
            pieces.extend(piece);
        }
        assert_eq!(pieces, whole);
        let last = &whole[whole.len() - 1].notes;
        assert!(store.locked_notes_before(Some(last), 5).unwrap().is_empty());
    }

    #[test]
    fn notes_are_counted_as_they_are_listed() {
        let (_home, store) = full();
        // 200 notes on each beer; of beer 0 every other sitting is open, and no bottle was bad.
        let counted = |beer: &str| store.counted_notes_of_beer(&BeerId::new(beer)).unwrap();
        assert_eq!((counted("b0").locked, counted("b0").worst), (100, None));
        assert_eq!((counted("b7").locked, counted("b7").sound), (200, 200));
        assert_eq!(counted("nowhere").locked, 0);
        let all = store.counted_notes().unwrap();
        assert_eq!(all.len(), 50);
        for (beer, of_all) in all {
            assert_eq!(of_all, counted(beer.as_str()), "{beer}");
        }
    }

    #[test]
    fn among_ten_thousand_notes_the_lists_are_complete() {
        let (_home, store) = full();
        // 10,000 notes: one in 100 open, on beers 0 of 50; 200 a beer; 500 a taster.
        assert_eq!(store.open_notes().unwrap().len(), 100);
        let beer = BeerId::new("b0");
        assert_eq!(store.open_notes_of_beer(&beer).unwrap().len(), 100);
        assert_eq!(store.notes_of_beer(&beer).unwrap().len(), 200);
        assert_eq!(
            store.notes_of_taster(&TasterId::new("t3")).unwrap().len(),
            500
        );
    }
}
