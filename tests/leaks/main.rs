//! Notes before numbers: from the opening of a tasting to its lock nothing of the plan and of the others is told anywhere.

mod broken_seal;
mod heard;
mod journeys;
#[path = "../kitchen/mod.rs"]
mod kitchen;
mod planted;
#[path = "../pty/mod.rs"]
mod pty;
mod sealed;
mod walk;
mod walls;
