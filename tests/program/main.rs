//! The program from outside: its commands, its screens on a terminal, the files it ships and the pages that describe it.

// A test stops at the first surprise.
#![allow(clippy::unwrap_used)]

#[path = "../kitchen/mod.rs"]
mod kitchen;
#[path = "../pty/mod.rs"]
mod pty;
#[path = "../rooms/mod.rs"]
mod rooms;
#[path = "../typed_line/mod.rs"]
mod typed_line;

mod blind;
mod blind_table;
mod copies;
mod demo_analysis;
mod documents;
mod evening;
mod hostile;
mod interchange;
mod journey;
mod measure;
mod network;
mod next;
mod nonsense;
mod panel;
mod photographs;
mod practice_jars;
mod privacy;
mod recipe_edit;
mod script;
mod shapes;
mod shell;
mod shipped_files;
mod tables;
mod wheel_poster;
