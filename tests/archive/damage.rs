//! A look through a home finds what is damaged in it.

use crate::homes::full_home;
use crate::homes::open;
use rusqlite::Connection;

#[test]
fn a_look_through_finds_what_is_damaged_orphaned_or_not_what_was_kept() {
    let home = full_home();
    let damage = |sql: &str| {
        let file = Connection::open(home.path().join("thirdglass.db")).unwrap();
        file.execute_batch(
            "PRAGMA foreign_keys = OFF; DROP TRIGGER IF EXISTS removed_photograph_stays;",
        )
        .unwrap_or_default();
        file.execute_batch(sql).unwrap();
    };
    let problems = || open(home.path()).check().unwrap().problems;
    // The fixture's own photographs and documents are no true ones.
    let before = problems();
    damage("UPDATE batch_entry SET batch = 'gone' WHERE written = 1");
    let found = problems();
    let orphans: Vec<&String> = found.iter().filter(|it| !before.contains(it)).collect();
    assert!(
        orphans[0].contains("a row of batch_entry points at a row of batch that is not there"),
        "{found:?}"
    );
    assert!(
        orphans[0].contains("thirdglass home restore FILE"),
        "{found:?}"
    );
    damage("UPDATE batch_entry SET batch = 'batch-1' WHERE written = 1");
    assert_eq!(problems(), before);
    damage("UPDATE photograph SET bytes = x'00' WHERE number = 1");
    let found = problems();
    let pictures: Vec<&String> = found.iter().filter(|it| !before.contains(it)).collect();
    assert!(
        pictures[0].contains("its bytes are not those that were kept"),
        "{found:?}"
    );
    let sums = before
        .iter()
        .find(|it| it.contains("sums over imports"))
        .unwrap();
    assert!(
        sums.contains("thirdglass taster imports --recount"),
        "{sums}"
    );
    open(home.path()).recount_imports().unwrap();
    assert!(!problems().contains(sums));
}
