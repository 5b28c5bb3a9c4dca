//! The tty: raw mode, signals, colour depth, safe text, restoring.
