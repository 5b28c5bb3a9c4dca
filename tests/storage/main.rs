//! The storage room from outside: its file, its rows, and what it refuses.

mod kitchen_table;
mod notes;
mod opening;
mod rows;
mod together;
