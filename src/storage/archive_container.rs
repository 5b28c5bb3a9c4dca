//! The packed file of an archive, opened with suspicion: what it says of itself is checked before anything is unpacked.

use std::io::Read;
use std::io::Seek;
use std::io::SeekFrom;

use zip::CompressionMethod;
use zip::ZipArchive;
use zip::read::ZipFile;

use crate::storage::ArchiveProblem;
use crate::storage::archive_form::HEAD;
use crate::storage::archive_form::MOST_FILES;
use crate::storage::archive_form::MOST_IN_ALL;
use crate::storage::archive_form::MOST_LIST;
use crate::storage::archive_form::MOST_OWN;
use crate::storage::archive_form::MOST_OWN_IN_ALL;
use crate::storage::archive_form::MOST_PHOTOGRAPH;
use crate::storage::archive_form::MOST_PROBLEMS;
use crate::storage::archive_form::MOST_RATIO;
use crate::storage::archive_form::MOST_TABLE;
use crate::storage::archive_form::PAGE;
use crate::storage::archive_form::RATIO_FROM;
use crate::storage::archive_form::is_own_file;
use crate::storage::archive_form::is_safe_name;
use crate::storage::archive_form::table_of;
use crate::storage::system_words::system_words;
use crate::storage::system_words::zip_words;

/// Bytes of the record at the end of a ZIP file (APPNOTE 6.3.10, section 4.3.16), without a remark.
const END: usize = 22;

/// How that record begins.
const END_MARK: [u8; 4] = *b"PK\x05\x06";

/// What a file in an archive is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    /// The page for people.
    Page,
    /// The versions.
    Head,
    /// The rows of a table.
    Table,
    /// A photograph.
    Photograph,
    /// A file of the user's own.
    Own,
}

impl Part {
    fn of(name: &str) -> Option<Self> {
        if name == PAGE {
            return Some(Self::Page);
        }
        if name == HEAD {
            return Some(Self::Head);
        }
        if table_of(name).is_some_and(|it| !it.contains('/')) {
            return Some(Self::Table);
        }
        if name
            .strip_prefix("photographs/")
            .is_some_and(|it| !it.contains('/'))
        {
            return Some(Self::Photograph);
        }
        is_own_file(name).then_some(Self::Own)
    }

    /// The most bytes that it unpacks to.
    pub(super) const fn most(self) -> u64 {
        match self {
            Self::Page | Self::Head => 1 << 20,
            Self::Table => MOST_TABLE,
            Self::Photograph => MOST_PHOTOGRAPH,
            Self::Own => MOST_OWN,
        }
    }
}

/// What the files of an archive say that they unpack to.
#[derive(Default)]
struct Sums {
    in_all: u64,
    own: u64,
}

impl Sums {
    const fn add(&mut self, part: Option<Part>, size: u64) {
        self.in_all = self.in_all.saturating_add(size);
        if let Some(Part::Own) = part {
            self.own = self.own.saturating_add(size);
        }
    }

    /// What is more than an archive may hold.
    fn too_much(&self) -> Option<ArchiveProblem> {
        if self.in_all > MOST_IN_ALL {
            return Some(ArchiveProblem::of("", "it unpacks to more than 4 GiB"));
        }
        (self.own > MOST_OWN_IN_ALL).then(|| ArchiveProblem::of("", TOO_MUCH_OWN))
    }
}

/// What is told of an archive with more files of the user's own than fit into memory well.
pub(super) const TOO_MUCH_OWN: &str =
    "the files of one's own in it unpack to more than 64 MiB together";

/// An archive whose list of files was looked through.
pub(super) struct Container<R> {
    archive: ZipArchive<R>,
    /// What is in it, in the order of its list.
    pub(super) files: Vec<(String, Part)>,
}

impl<R: Read + Seek> Container<R> {
    /// Opens an archive and looks through its list; nothing is unpacked yet.
    ///
    /// # Errors
    /// Everything in the list that an archive of a home does not have.
    pub(super) fn open(mut reader: R) -> Result<Self, Vec<ArchiveProblem>> {
        let whole = |found: &str| vec![ArchiveProblem::of("", found)];
        let count = listed(&mut reader).map_err(|found| whole(&found))?;
        let mut archive = ZipArchive::new(reader).map_err(|error| {
            let found = zip_words(&error);
            whole(&format!("it is no ZIP file that can be read: {found}"))
        })?;
        if archive.len() as u64 != count || archive.has_duplicate_names() {
            return Err(whole("a name stands in it twice"));
        }
        if archive.has_overlapping_files().unwrap_or(true) {
            return Err(whole("its files lie over one another"));
        }
        let (mut files, mut problems, mut sums) = (Vec::new(), Vec::new(), Sums::default());
        for index in 0..archive.len() {
            match looked_at(&mut archive, index) {
                Ok((name, part, size)) => {
                    sums.add(part, size);
                    files.extend(part.map(|it| (name, it)));
                }
                Err(problem) => problems.push(problem),
            }
            if problems.len() >= MOST_PROBLEMS {
                break;
            }
        }
        problems.extend(sums.too_much());
        if problems.is_empty() {
            Ok(Self { archive, files })
        } else {
            Err(problems)
        }
    }

    /// A file in it, to be read; what it says of its size is not believed by whoever reads.
    ///
    /// # Errors
    /// It is not there, or cannot be unpacked.
    pub(super) fn file(&mut self, name: &str) -> Result<ZipFile<'_, R>, ArchiveProblem> {
        self.archive
            .by_name(name)
            .map_err(|error| ArchiveProblem::of(name, zip_words(&error)))
    }

    /// The bytes of a short file in it.
    ///
    /// # Errors
    /// It is not there, is damaged, or longer than its kind may be.
    pub(super) fn bytes(&mut self, name: &str, part: Part) -> Result<Vec<u8>, ArchiveProblem> {
        let mut bytes = Vec::new();
        let file = self.file(name)?;
        file.take(part.most() + 1)
            .read_to_end(&mut bytes)
            .map_err(|error| ArchiveProblem::of(name, system_words(&error)))?;
        if bytes.len() as u64 > part.most() {
            return Err(ArchiveProblem::of(name, "it is longer than it says"));
        }
        Ok(bytes)
    }
}

/// How many files the record at the end counts. Only a record at the very end, without a remark behind it, is taken:
/// then everybody who reads the file sees the same list.
fn listed(reader: &mut (impl Read + Seek)) -> Result<u64, String> {
    let broken = |_| "it cannot be read".to_owned();
    let length = reader.seek(SeekFrom::End(0)).map_err(broken)?;
    let mut end = [0; END];
    if length >= END as u64 {
        let back = i64::try_from(END).unwrap_or(i64::MAX);
        reader.seek(SeekFrom::End(-back)).map_err(broken)?;
        reader.read_exact(&mut end).map_err(broken)?;
    }
    let short = |at: usize| u64::from(u16::from_le_bytes([end[at], end[at + 1]]));
    let long = |at: usize| short(at) + (short(at + 2) << 16);
    if end[..4] != END_MARK || short(20) != 0 {
        return Err(
            "it does not end as a ZIP file does; it is another kind of file, or was cut off"
                .to_owned(),
        );
    }
    if short(4) != 0 || short(6) != 0 || short(8) != short(10) {
        return Err("it is one part of several".to_owned());
    }
    if short(10) > MOST_FILES || long(12) > MOST_LIST {
        return Err(format!("it holds more than {MOST_FILES} files"));
    }
    reader.seek(SeekFrom::Start(0)).map_err(broken)?;
    Ok(short(10))
}

/// The name of a file with what it is and its unpacked size; a folder is nothing by itself.
fn looked_at<R: Read + Seek>(
    archive: &mut ZipArchive<R>,
    index: usize,
) -> Result<(String, Option<Part>, u64), ArchiveProblem> {
    let file = archive
        .by_index_raw(index)
        .map_err(|error| ArchiveProblem::of("", zip_words(&error)))?;
    let raw = file.name_raw();
    let Ok(name) = std::str::from_utf8(raw) else {
        let name = String::from_utf8_lossy(raw);
        return Err(ArchiveProblem::of(&name, "the name is not UTF-8"));
    };
    let refused = |found: &str| Err(ArchiveProblem::of(name, found));
    if let Some(found) = wrong_kind(&file, name) {
        return refused(found);
    }
    if file.is_dir() {
        return Ok((name.to_owned(), None, 0));
    }
    let Some(part) = Part::of(name) else {
        return refused("no archive of a home holds such a file");
    };
    let (size, packed) = (file.size(), file.compressed_size());
    if size > part.most() {
        return refused("it unpacks to more than such a file may hold");
    }
    if size > RATIO_FROM && size / packed.max(1) > MOST_RATIO {
        return refused("it unpacks to more than 400 times its size");
    }
    Ok((name.to_owned(), Some(part), size))
}

/// What a file in an archive of a home never is.
fn wrong_kind<R: Read>(file: &ZipFile<'_, R>, name: &str) -> Option<&'static str> {
    let packed = file.compression();
    if !is_safe_name(name.strip_suffix('/').unwrap_or(name)) {
        Some("a name that leads out of the archive")
    } else if file.is_symlink() {
        Some("a link to another file")
    } else if file.encrypted() {
        Some("it is locked with a password")
    } else if packed != CompressionMethod::Stored && packed != CompressionMethod::Deflated {
        Some("it is packed in a way that is not read; pack it with Deflate")
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;
    use std::io::Write;

    use zip::ZipWriter;
    use zip::write::SimpleFileOptions;

    use super::*;

    /// What is refused in an archive of so many own files of as many bytes.
    fn refused(files: usize, bytes: usize, packing: CompressionMethod) -> Vec<String> {
        let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
        let options = SimpleFileOptions::default().compression_method(packing);
        let text = vec![b'#'; bytes];
        for number in 0..files {
            let name = format!("descriptors/{number}.toml");
            zip.start_file(name, options).unwrap();
            zip.write_all(&text).unwrap();
        }
        let problems = Container::open(zip.finish().unwrap()).err();
        let problems = problems.into_iter().flatten();
        problems.map(|it| it.to_string()).collect()
    }

    #[test]
    fn files_of_ones_own_are_limited_together() {
        let most = usize::try_from(MOST_OWN).unwrap();
        let none: [&str; 0] = [];
        assert_eq!(refused(16, most, CompressionMethod::Stored), none);
        let found = refused(17, most, CompressionMethod::Stored);
        assert_eq!(found, [TOO_MUCH_OWN]);
    }

    #[test]
    fn a_file_above_one_mebibyte_may_not_unpack_to_400_times_its_size() {
        // Deflate makes at most some 1032 of one (the zlib manual), and one letter again and again comes near to that.
        let none: [&str; 0] = [];
        assert_eq!(refused(1, 1 << 20, CompressionMethod::Deflated), none);
        let found = refused(1, (1 << 20) + 1, CompressionMethod::Deflated);
        assert!(found[0].contains("400 times"), "{found:?}");
    }
}
