//! The tty: raw mode, keys, signals, colour depth, one write a frame, and restoring whatever happens.

mod ascii;
mod colour;
mod decoder;
mod environment;
mod error;
mod frame;
mod input;
mod mouse;
mod opened;
mod restore;
mod signals;
mod tty;

pub use ascii::ascii;
pub use colour::Colour;
pub use decoder::decoded;
pub use environment::Charset;
pub use environment::ColourDepth;
pub use environment::Environment;
pub use error::{TerminalError, said_by_system};
pub use frame::Effect;
pub use frame::Frame;
pub use input::Input;
pub use input::Key;
pub use input::KeyPress;
pub use input::Modifiers;
pub use mouse::Button;
pub use mouse::MouseAct;
pub use mouse::MouseReport;
pub use opened::Terminal;
pub use opened::Wake;
pub use restore::install_panic_hook;
pub use tty::Size;
