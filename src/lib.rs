//! thirdglass: taste what you brewed in good order, and carry what is really different into the next recipe.

pub mod brewing;
pub mod cli;
pub mod discrimination;
pub mod domain;
pub mod drawing;
pub mod formats;
pub mod profile;
pub mod reports;
pub mod screens;
pub mod statistics;
pub mod storage;
pub mod terminal;
pub mod training;
pub mod tui;
pub mod workflow;
