//! The terminal room on a real pseudo-terminal: whatever happens, it draws right and puts back.

mod ends;
mod input;
mod pictures;
mod program;
#[path = "../pty/mod.rs"]
mod pty;
