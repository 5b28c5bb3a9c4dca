//! What every command prints as JSON is what its written shape promises.

mod bench;
mod catalogue;
mod held;
