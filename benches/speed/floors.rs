//! What each report has to read: the columns that it uses of the rows that it uses, as the `sqlite3` shell reads them.

// A floor that reads more than its report is kind to the report. So nothing is sorted here that the program may sort
// itself, which rows are wanted is found out once, no column is read that nothing is made of, and the little that a
// report looks up beside these rows (people, what is open, practice and blind tests) is left out.

/// Noise and naming of all tasters: locked first passes over sound bottles under codes, of closed sittings.
const CODED: &str = "CREATE TEMP TABLE coded AS
        SELECT notes.id, seat.sitting, seat.taster, sample.beer, notes.tasted_on, notes.form, notes.knew, notes.nose,
            notes.seal_broken_at
        FROM sitting JOIN seat ON seat.sitting = sitting.id JOIN notes ON notes.seat = seat.id
            JOIN sample ON sample.id = notes.sample
        WHERE sitting.kind = 'two-glasses' AND sitting.closed_at IS NOT NULL AND sitting.removed_at IS NULL
            AND notes.removed_at IS NULL AND notes.locked_at IS NOT NULL AND notes.bottle_fault IS NULL
            AND notes.round = 1 AND sample.beer IS NOT NULL;
    SELECT * FROM coded;
    SELECT notes, scale, value FROM rating WHERE value IS NOT NULL AND notes IN (SELECT id FROM coded);
    SELECT notes, stage, descriptor, shelf FROM mark WHERE prompting = 'unprompted' AND intensity IS NOT 0
        AND (descriptor IS NOT NULL OR shelf IS NOT NULL) AND notes IN (SELECT id FROM coded);";

/// Lines of logs that no later line stands for.
const LOGGED: &str = "FROM batch_entry AS line
    WHERE NOT EXISTS (SELECT 1 FROM batch_entry WHERE replaces = line.id)";

/// Beside what all answered, when and in which order the taster had each glass.
pub(crate) fn taster_page() -> String {
    format!(
        "{CODED}
        SELECT notes.id, notes.typed_on, notes.source, serving.position FROM coded JOIN notes ON notes.id = coded.id
            LEFT JOIN serving ON serving.seat = notes.seat AND serving.sample = notes.sample
            WHERE coded.taster = (SELECT id FROM taster WHERE name = 'Saucer');"
    )
}

/// Beside noise and naming, what those who tasted the batch noted on all batches that teach how far each answers from
/// predictions, with the recipes and logs of these.
pub(crate) fn side_by_side() -> String {
    format!(
        "{CODED}
        CREATE TEMP TABLE teaching AS
            SELECT notes.id, seat.taster, beer.batch, notes.tasted_on, notes.locked_at, notes.form, notes.knew,
                notes.nose, notes.seal_broken_at
            FROM seat JOIN notes ON notes.seat = seat.id JOIN sample ON sample.id = notes.sample
                JOIN beer ON beer.id = sample.beer
            WHERE seat.taster IN (SELECT seat.taster FROM beer JOIN sample ON sample.beer = beer.id
                    JOIN notes ON notes.sample = sample.id JOIN seat ON seat.id = notes.seat
                    WHERE beer.cap_mark = 'B2' AND notes.locked_at IS NOT NULL AND notes.bottle_fault IS NULL
                        AND notes.removed_at IS NULL)
                AND beer.batch IS NOT NULL AND notes.removed_at IS NULL AND notes.locked_at IS NOT NULL
                AND notes.bottle_fault IS NULL AND notes.round = 1;
        SELECT * FROM teaching;
        SELECT notes, scale, value FROM rating WHERE value IS NOT NULL AND notes IN (SELECT id FROM teaching);
        SELECT notes, stage, intensity, descriptor, shelf, place FROM mark WHERE prompting = 'unprompted'
            AND free IS NULL AND notes IN (SELECT id FROM teaching);
        CREATE TEMP TABLE brewed AS
            SELECT id, version, cap_mark FROM batch WHERE id IN (SELECT batch FROM teaching);
        SELECT * FROM brewed;
        SELECT id, document FROM recipe_version WHERE id IN (SELECT version FROM brewed);
        SELECT batch, kind, value {LOGGED} AND batch IN (SELECT id FROM brewed);"
    )
}

/// Batches with their logs and recipes (all of them are packaged, so that each may be ready), and how often each was
/// tasted.
pub(crate) fn batches() -> String {
    format!(
        "SELECT batch.id, batch.version, batch.cap_mark, beer.id FROM batch JOIN beer ON beer.batch = batch.id
            WHERE batch.removed_at IS NULL AND beer.removed_at IS NULL;
        SELECT batch, kind, value {LOGGED};
        SELECT id, name, version, document FROM recipe_version WHERE id IN (SELECT version FROM batch);
        SELECT sample.beer, count(notes.locked_at), max(notes.bottle_fault = 'gushing') FROM notes
            JOIN sample ON sample.id = notes.sample
            WHERE notes.removed_at IS NULL AND sample.beer IS NOT NULL GROUP BY sample.beer;"
    )
}

/// The notes as their list has them; their order is read off an index.
pub(crate) fn notes() -> String {
    "SELECT notes.id, notes.seat, seat.role, seat.sitting, sitting.kind, sample.code, taster.id, taster.name,
        taster.made_at, beer.id, beer.cap_mark, beer.batch, beer.abv, notes.typed_on, notes.tasted_on, notes.locked_at,
        seat.left_at, notes.bottle_fault, notes.seal_broken_at, notes.round
    FROM notes JOIN seat ON seat.id = notes.seat JOIN sitting ON sitting.id = seat.sitting
        JOIN taster ON taster.id = seat.taster JOIN sample ON sample.id = notes.sample
        JOIN beer ON beer.id = sample.beer
    WHERE notes.locked_at IS NOT NULL AND notes.removed_at IS NULL ORDER BY notes.tasted_on, notes.typed_on;"
        .to_owned()
}

/// What stands in the tables of everything.
pub(crate) fn tables() -> String {
    format!(
        "SELECT id, name, made_at FROM taster;
        SELECT id, parent, reason, name, version, document, hash, made_at FROM recipe_version;
        SELECT id, version, cap_mark FROM batch;
        SELECT batch, kind, value, at {LOGGED};
        SELECT id, cap_mark, batch FROM beer;
        SELECT id, kind FROM sitting;
        SELECT id, sitting, taster, left_at FROM seat;
        SELECT id, code, beer FROM sample;
        SELECT id, seat, sample, round, form, source, knew, nose, tasted_on, typed_on, seal_broken_at, locked_at,
            bottle_fault, remark FROM notes;
        SELECT notes, position, scale, state, value FROM rating;
        SELECT notes, position, stage, intensity, prompting, descriptor, shelf, place, free FROM mark;
        SELECT * FROM test; SELECT * FROM test_set; SELECT * FROM test_place; SELECT * FROM answer;
        SELECT * FROM practice_item; SELECT * FROM practice_option; SELECT * FROM practice_answer;"
    )
}

/// The sums over all that was imported, and all that anybody answered in the last sittings of the taster: of the charts.
pub(crate) fn page_over_ratings() -> String {
    "SELECT import_line.name, import_taster.taster, summary.document FROM summary
        JOIN import_taster ON import_taster.number = summary.taster
        JOIN import_line ON import_line.number = summary.line;
    SELECT line, taster, sample, digits FROM import_rating WHERE sitting IN (SELECT import_sitting.number FROM taster
        JOIN import_taster ON import_taster.taster = taster.id
        JOIN import_seat ON import_seat.taster = import_taster.number
        JOIN import_sitting ON import_sitting.number = import_seat.sitting
        WHERE taster.name = 'T3' ORDER BY import_sitting.tasted_on DESC LIMIT 100);"
        .to_owned()
}

/// Every row of every table that tells of people, glasses and brews, whole: that is what an archive holds.
pub(crate) fn everything() -> String {
    "SELECT * FROM taster; SELECT * FROM recipe_version; SELECT * FROM batch; SELECT * FROM batch_entry;
    SELECT * FROM beer; SELECT * FROM sitting; SELECT * FROM seat; SELECT * FROM sample; SELECT * FROM serving;
    SELECT * FROM notes; SELECT * FROM rating; SELECT * FROM mark; SELECT * FROM prediction; SELECT * FROM test;
    SELECT * FROM test_set; SELECT * FROM test_place; SELECT * FROM answer; SELECT * FROM practice_item;
    SELECT * FROM practice_option; SELECT * FROM practice_answer;"
        .to_owned()
}
