//! Blind tests with their drawn orders, and who sits where.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::Aims;
use crate::domain::BeerId;
use crate::domain::BeerSide;
use crate::domain::BlindTest;
use crate::domain::Direction;
use crate::domain::Millilitres;
use crate::domain::Moment;
use crate::domain::Pouring;
use crate::domain::Purpose;
use crate::domain::Risk;
use crate::domain::Sample;
use crate::domain::SampleId;
use crate::domain::Seat;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::Share;
use crate::domain::Sitting;
use crate::domain::SittingId;
use crate::domain::Stopping;
use crate::domain::TakenPlace;
use crate::domain::TasterId;
use crate::domain::TestId;
use crate::domain::TestSet;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;
use crate::storage::sittings;

/// Every read of a test asks for the same columns.
const SELECT: &str = "SELECT test.*, sitting.seed, sitting.closed_at
    FROM test JOIN sitting ON sitting.id = test.sitting
    WHERE test.removed_at IS NULL";

impl Store {
    /// Adds a planned test with its sitting, its glasses and its drawn order.
    ///
    /// # Errors
    /// A beer is not stored, the number is taken, or the file refuses; nothing is stored then.
    pub fn add_test(
        &mut self,
        test: &BlindTest,
        sitting: &Sitting,
        samples: &[Sample],
        sets: &[TestSet],
    ) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            store.add_sitting(sitting, samples)?;
            store.add_test_row(test)?;
            for set in sets {
                if let Some(side) = set.reference {
                    store.run(
                        "keep the references of a test",
                        "INSERT INTO test_reference (test, place, round, side)
                         VALUES (?1, ?2, ?3, ?4)",
                        params![test.id.as_str(), set.place, set.round, side.id()],
                    )?;
                }
                for (position, sample) in (1_i64..).zip(&set.samples) {
                    store.run(
                        "keep the drawn order of a test",
                        "INSERT INTO test_set (test, place, round, position, sample)
                         VALUES (?1, ?2, ?3, ?4, ?5)",
                        params![
                            test.id.as_str(),
                            set.place,
                            set.round,
                            position,
                            sample.as_str()
                        ],
                    )?;
                }
            }
            Ok(())
        })
    }

    fn add_test_row(&self, test: &BlindTest) -> Result<(), StorageError> {
        let direction = test.direction.as_ref();
        let expected = direction.and_then(|it| it.expected);
        self.run(
            "plan a test",
            "INSERT INTO test (id, number, sitting, beer_a, beer_b, method, purpose, alpha, beta,
                 pd, attribute, expected, stopping, pouring, places, rounds, glass_ml, salt,
                 commitment, made_at)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17,
                 ?18, ?19, ?20)",
            params![
                test.id.as_str(),
                test.number,
                test.sitting.as_str(),
                test.beers[0].as_str(),
                test.beers[1].as_str(),
                test.method,
                test.purpose.id(),
                test.aims.alpha.get(),
                test.aims.beta.get(),
                test.aims.pd.get(),
                direction.map(|it| it.attribute.as_str()),
                expected.map(BeerSide::id),
                test.stopping.id(),
                test.pouring.id(),
                test.places,
                test.rounds,
                test.glass.get(),
                test.salt,
                test.commitment,
                test.made_at.to_string(),
            ],
        )?;
        Ok(())
    }

    /// The test with this number.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn test_numbered(&self, number: u32) -> Result<Option<BlindTest>, StorageError> {
        let query = format!("{SELECT} AND test.number = ?1");
        self.first("read a test", &query, [number], test)
    }

    /// All tests, by their numbers.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn tests(&self) -> Result<Vec<BlindTest>, StorageError> {
        let query = format!("{SELECT} ORDER BY test.number");
        self.all("list tests", &query, [], test)
    }

    /// The tests at which a taster has a seat, by number.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn tests_of_taster(&self, taster: &TasterId) -> Result<Vec<BlindTest>, StorageError> {
        let query = format!(
            "{SELECT} AND test.sitting IN (SELECT sitting FROM seat WHERE taster = ?1)
             ORDER BY test.number"
        );
        self.all(
            "list the tests of a taster",
            &query,
            [taster.as_str()],
            test,
        )
    }

    /// The sets of a test, by place and round.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn test_sets(&self, id: &TestId) -> Result<Vec<TestSet>, StorageError> {
        let rows = self.all(
            "read the drawn order of a test",
            "SELECT place, round, sample, side
             FROM test_set LEFT JOIN test_reference USING (test, place, round)
             WHERE test = ?1 ORDER BY place, round, position",
            [id.as_str()],
            |row| {
                let sample = row::id(row, "sample", SampleId::new)?;
                let side = row::text_or_none(row, "side", BeerSide::from_id)?;
                Ok((row.get("place")?, row.get("round")?, side, sample))
            },
        )?;
        let mut sets: Vec<TestSet> = Vec::new();
        for (place, round, reference, sample) in rows {
            match sets.last_mut() {
                Some(set) if (set.place, set.round) == (place, round) => set.samples.push(sample),
                _ => sets.push(TestSet {
                    place,
                    round,
                    reference,
                    samples: vec![sample],
                }),
            }
        }
        Ok(sets)
    }

    /// Gives a place of a test to a new seat.
    ///
    /// # Errors
    /// The place is taken, the test is closed, or the file refuses; nothing is stored then.
    pub fn take_test_place(
        &mut self,
        test: &TestId,
        place: u16,
        seat: &Seat,
    ) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            store.add_seat(seat)?;
            store.run(
                "take a place in a test",
                "INSERT INTO test_place (seat, test, place) VALUES (?1, ?2, ?3)",
                params![seat.id.as_str(), test.as_str(), place],
            )?;
            Ok(())
        })
    }

    /// The places of a test that are taken, with who sits there, by place.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn taken_places(&self, test: &TestId) -> Result<Vec<(TakenPlace, TasterId)>, StorageError> {
        self.all(
            "read who sits where in a test",
            "SELECT test_place.place, seat.id, seat.taster, seat.left_at
             FROM test_place JOIN seat ON seat.id = test_place.seat
             WHERE test_place.test = ?1 ORDER BY test_place.place",
            [test.as_str()],
            |row| {
                let taken = TakenPlace {
                    place: row.get("place")?,
                    seat: row::id(row, "id", SeatId::new)?,
                    left_at: row::moment_or_none(row, "left_at")?,
                };
                Ok((taken, row::id(row, "taster", TasterId::new)?))
            },
        )
    }

    /// Keeps that somebody saw the key of a sitting, in a seat of their own; the first time counts.
    ///
    /// # Errors
    /// The sitting or the taster is not stored, or the file refuses.
    pub fn see_key(&mut self, seat: &Seat, at: Moment) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            if store.key_seen(&seat.sitting, &seat.taster)? {
                return Ok(());
            }
            store.add_seat(seat)?;
            store.run(
                "keep who saw a key",
                "UPDATE seat SET key_seen_at = ?2 WHERE id = ?1",
                params![seat.id.as_str(), at.to_string()],
            )?;
            Ok(())
        })
    }

    /// True if somebody saw the key of a sitting.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn key_seen(&self, sitting: &SittingId, taster: &TasterId) -> Result<bool, StorageError> {
        let seen = self.first(
            "read who saw a key",
            "SELECT 1 FROM seat WHERE sitting = ?1 AND taster = ?2 AND key_seen_at IS NOT NULL",
            [sitting.as_str(), taster.as_str()],
            |_| Ok(()),
        )?;
        Ok(seen.is_some())
    }

    /// Who saw the key of a sitting, and as what.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn key_holders(
        &self,
        sitting: &SittingId,
    ) -> Result<Vec<(TasterId, SeatRole)>, StorageError> {
        self.all(
            "read who saw a key",
            "SELECT taster, role FROM seat WHERE sitting = ?1 AND key_seen_at IS NOT NULL
             ORDER BY key_seen_at",
            [sitting.as_str()],
            |row| {
                let role = row::text(row, "role", SeatRole::from_id)?;
                Ok((row::id(row, "taster", TasterId::new)?, role))
            },
        )
    }
}

fn test(row: &Row<'_>) -> rusqlite::Result<BlindTest> {
    let alpha: f64 = row.get("alpha")?;
    let beta: f64 = row.get("beta")?;
    let pd: f64 = row.get("pd")?;
    let glass: f64 = row.get("glass_ml")?;
    let attribute: Option<String> = row.get("attribute")?;
    let expected = row::text_or_none(row, "expected", BeerSide::from_id)?;
    Ok(BlindTest {
        id: row::id(row, "id", TestId::new)?,
        number: row.get("number")?,
        sitting: row::id(row, "sitting", SittingId::new)?,
        beers: [
            row::id(row, "beer_a", BeerId::new)?,
            row::id(row, "beer_b", BeerId::new)?,
        ],
        method: row.get("method")?,
        purpose: row::text(row, "purpose", Purpose::from_id)?,
        aims: Aims {
            alpha: Risk::new(alpha).map_err(|it| row::unreadable("alpha", &it))?,
            beta: Risk::new(beta).map_err(|it| row::unreadable("beta", &it))?,
            pd: Share::new(pd).map_err(|it| row::unreadable("pd", &it))?,
        },
        direction: attribute.map(|attribute| Direction {
            expected,
            attribute,
        }),
        stopping: row::text(row, "stopping", Stopping::from_id)?,
        pouring: row::text(row, "pouring", Pouring::from_id)?,
        places: row.get("places")?,
        rounds: row.get("rounds")?,
        glass: Millilitres::new(glass).map_err(|it| row::unreadable("glass_ml", &it))?,
        seed: row::text(row, "seed", sittings::seed)?,
        salt: row.get("salt")?,
        commitment: row.get("commitment")?,
        made_at: row::moment(row, "made_at")?,
        closed_at: row::moment_or_none(row, "closed_at")?,
    })
}
