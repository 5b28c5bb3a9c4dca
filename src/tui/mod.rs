//! The screens on cursive, through our own backend over the terminal room.

mod app_view;
mod backend;
mod event;
mod run;
mod show;

pub use app_view::{AppView, Pulse};
pub use event::pasted;
pub use run::Ended;
pub use run::run;
pub use show::show;
