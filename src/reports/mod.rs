//! One report a file: its text and its JSON.
