//! A writer for those who cannot bear an error: it goes on as if all were well, and the error is told by its side.

use std::cell::RefCell;
use std::io;
use std::io::Seek;
use std::io::SeekFrom;
use std::io::Write;
use std::rc::Rc;

use crate::storage::system_words::system_words;

/// What went wrong first, once something has; shared with who asks.
pub(super) type FirstError = Rc<RefCell<Option<String>>>;

/// Writes on to another writer until that fails, and then swallows what comes. The packer of archives panics when it
/// puts the end to an archive that broke off.
pub(super) struct SteadyWriter<W> {
    inner: W,
    failed: FirstError,
    at: u64,
    end: u64,
}

impl<W: Write + Seek> SteadyWriter<W> {
    /// A writer onto an empty one.
    pub(super) fn new(inner: W) -> Self {
        Self {
            inner,
            failed: FirstError::default(),
            at: 0,
            end: 0,
        }
    }

    /// Where the first error will be told.
    pub(super) fn failed(&self) -> FirstError {
        Rc::clone(&self.failed)
    }

    fn go_on(&mut self, work: impl FnOnce(&mut W) -> io::Result<()>) {
        let mut failed = self.failed.borrow_mut();
        if failed.is_none() {
            *failed = work(&mut self.inner).err().map(|it| system_words(&it));
        }
    }
}

impl<W: Write + Seek> Write for SteadyWriter<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.go_on(|inner| inner.write_all(bytes));
        self.at = self.at.saturating_add(bytes.len() as u64);
        self.end = self.end.max(self.at);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.go_on(Write::flush);
        Ok(())
    }
}

impl<W: Write + Seek> Seek for SteadyWriter<W> {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        let there = match to {
            SeekFrom::Start(at) => Some(at),
            SeekFrom::Current(by) => self.at.checked_add_signed(by),
            SeekFrom::End(by) => self.end.checked_add_signed(by),
        };
        let before_all = || io::Error::from(io::ErrorKind::InvalidInput);
        self.at = there.ok_or_else(before_all)?;
        let at = self.at;
        self.go_on(|inner| inner.seek(SeekFrom::Start(at)).map(drop));
        Ok(at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Cursor;
    use zip::ZipWriter;
    use zip::write::SimpleFileOptions;

    /// A disk with so many bytes of room; with `once`, one write fails and the next ones go well.
    struct Full {
        disk: Cursor<Vec<u8>>,
        room: usize,
        once: bool,
    }

    impl Write for Full {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            if self.disk.get_ref().len() + bytes.len() > self.room {
                self.room = if self.once { usize::MAX } else { self.room };
                return Err(io::ErrorKind::StorageFull.into());
            }
            self.disk.write(bytes)
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    impl Seek for Full {
        fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
            self.disk.seek(to)
        }
    }

    /// Packs two files onto a disk; gives the first error and the bytes.
    fn packed(room: usize, once: bool) -> (Option<String>, Vec<u8>) {
        let disk = Cursor::new(Vec::new());
        let writer = SteadyWriter::new(Full { disk, room, once });
        let failed = writer.failed();
        let mut zip = ZipWriter::new(writer);
        for name in ["a.txt", "b.txt"] {
            zip.start_file(name, SimpleFileOptions::default()).unwrap();
            zip.write_all(b"a line of some length\n").unwrap();
        }
        let bytes = zip.finish().unwrap().inner.disk.into_inner();
        (failed.take(), bytes)
    }

    #[test]
    fn wherever_the_disk_is_full_the_packing_goes_on_and_the_error_is_told() {
        let (failed, whole) = packed(usize::MAX, false);
        assert_eq!(failed, None);
        assert_eq!(zip::ZipArchive::new(Cursor::new(&whole)).unwrap().len(), 2);
        for room in 0..whole.len() {
            for once in [false, true] {
                let (failed, some) = packed(room, once);
                assert!(failed.is_some(), "{room}");
                assert!(some.len() <= room, "{room}");
            }
        }
    }
}
