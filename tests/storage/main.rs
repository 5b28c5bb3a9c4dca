//! The storage room from outside: its file, its rows, and what it refuses.

// A test stops at the first surprise.
#![allow(clippy::unwrap_used)]

mod blind_test;
mod course;
mod import;
mod kitchen_table;
mod notes;
mod opening;
mod photograph;
mod practice;
mod privacy;
mod proposal;
mod removal;
mod rows;
mod second_sniff;
mod together;
