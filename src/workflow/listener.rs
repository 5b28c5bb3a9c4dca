//! Who hears how far a long verb has come.

use std::io;
use std::io::Read;
use std::sync::Arc;

/// Hears how far a long verb has come, from 0 to 1; the silent one does not care.
#[derive(Clone)]
pub struct Listener(Arc<dyn Fn(f64) + Send + Sync>);

impl Default for Listener {
    fn default() -> Self {
        Self::new(|_| ())
    }
}

impl Listener {
    /// One that does this with what it hears.
    pub fn new(hear: impl Fn(f64) + Send + Sync + 'static) -> Self {
        Self(Arc::new(hear))
    }

    /// A file of so many bytes that tells how much of it was read.
    pub(super) fn reading<R: Read>(&self, file: R, bytes: u64) -> impl Read {
        Heard {
            file,
            read: 0,
            bytes: bytes.max(1),
            by: self.clone(),
        }
    }
}

struct Heard<R> {
    file: R,
    read: u64,
    bytes: u64,
    by: Listener,
}

impl<R: Read> Read for Heard<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let count = self.file.read(into)?;
        self.read += count as u64;
        (self.by.0)((self.read as f64 / self.bytes as f64).min(1.0));
        Ok(count)
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Mutex;

    use super::*;

    #[test]
    fn the_share_that_was_read_is_heard_and_never_exceeds_the_whole() {
        let heard = Arc::new(Mutex::new(Vec::new()));
        let by = Arc::clone(&heard);
        let listener = Listener::new(move |it| by.lock().unwrap().push(it));
        let mut text = String::new();
        // A file that grew after it was measured.
        let mut file = listener.reading(&b"twelve bytes"[..], 6);
        file.read_to_string(&mut text).unwrap();
        assert_eq!(text, "twelve bytes");
        assert_eq!(heard.lock().unwrap().last(), Some(&1.0));
        assert!(
            heard
                .lock()
                .unwrap()
                .iter()
                .all(|it| (0.0..=1.0).contains(it))
        );
    }
}
