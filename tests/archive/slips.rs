//! No slip in an archive and no bytes at all break its reader, or take more memory than there is.

use std::fs;
use std::io::Write;
use std::sync::OnceLock;

use crate::homes::Files;
use crate::homes::exported;
use crate::homes::files_of;
use crate::homes::full_home;
use crate::homes::packed;
use proptest::prelude::*;
use thirdglass::storage::OpenedArchive;

/// Peak memory of this process in bytes, from the kernel.
fn peak() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap();
    let line = status.lines().find(|it| it.starts_with("VmHWM:")).unwrap();
    let kilobytes: u64 = line.split_whitespace().nth(1).unwrap().parse().unwrap();
    kilobytes * 1_024
}

/// What this whole binary of tests may take at its peak, the bombs of `refused.rs` among it: 768 MiB.
const MOST_MEMORY: u64 = 768 << 20;

/// Reads bytes as an archive; whatever is wrong with them is told.
fn read_or_told(bytes: &[u8]) -> Result<(), TestCaseError> {
    let mut file = tempfile::NamedTempFile::new().unwrap();
    file.write_all(bytes).unwrap();
    if let Err(refused) = OpenedArchive::read(file.path()) {
        prop_assert!(!refused.to_string().is_empty());
    }
    prop_assert!(peak() < MOST_MEMORY);
    Ok(())
}

/// One archive for all slips, made once.
fn sound() -> &'static (Vec<u8>, Files) {
    static SOUND: OnceLock<(Vec<u8>, Files)> = OnceLock::new();
    SOUND.get_or_init(|| {
        let archive = exported(full_home().path());
        let files = files_of(&archive);
        (archive, files)
    })
}

proptest! {
    // With the two below 2,000 archives.
    #![proptest_config(ProptestConfig::with_cases(900))]

    #[test]
    fn no_slip_in_the_bytes_of_an_archive_breaks_the_reader(
        slips in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..8),
        from_end in any::<bool>(),
    ) {
        let mut bytes = sound().0.clone();
        let length = bytes.len();
        for (at, byte) in slips {
            // The list of files stands at the end.
            let at = if from_end { length - 1 - at.index(length.min(4_000)) } else { at.index(length) };
            bytes[at] = byte;
        }
        read_or_told(&bytes)?;
    }

    #[test]
    fn no_slip_in_the_text_of_an_archive_breaks_the_reader(
        slips in proptest::collection::vec(
            (any::<prop::sample::Index>(), any::<prop::sample::Index>(), "[\\[\\]{}\":,0-9a-zé\\\\\\n]{0,3}"),
            1..4,
        ),
    ) {
        let mut files = sound().1.clone();
        for (file, at, new) in slips {
            let index = file.index(files.len());
            let bytes = &mut files[index].1;
            let at = at.index(bytes.len().max(1)).min(bytes.len());
            let end = (at + new.len()).min(bytes.len());
            bytes.splice(at..end, new.bytes());
        }
        read_or_told(&packed(&files))?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn arbitrary_bytes_are_no_archive(mut bytes in proptest::collection::vec(any::<u8>(), 0..400), end in any::<bool>()) {
        if end {
            // As if it were an archive: the record at the end of one (APPNOTE 6.3.10, 4.3.16).
            bytes.extend(b"PK\x05\x06\0\0\0\0\x01\0\x01\0");
            bytes.extend(100_u32.to_le_bytes());
            bytes.extend(10_u32.to_le_bytes());
            bytes.extend([0, 0]);
        }
        read_or_told(&bytes)?;
    }
}
