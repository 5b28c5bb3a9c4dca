//! Everything that remembers: rows, and files as bytes.
