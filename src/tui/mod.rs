//! The screens on cursive, through our own backend over the terminal room.

mod backend;
mod event;
mod run;

pub use event::pasted;
pub use run::Ended;
pub use run::run;
