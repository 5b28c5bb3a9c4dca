//! A whole home in one file: the same home gives the same bytes, comes back to the last answer, and no archive does harm.
//!
//! A binary of its own, because the memory of its process is measured.

// A test stops at the first surprise.
#![allow(clippy::unwrap_used)]

mod damage;
mod homes;
#[path = "../kitchen/mod.rs"]
mod kitchen;
#[path = "../pty/mod.rs"]
mod pty;
mod refused;
mod removed;
mod slips;
mod whole;
