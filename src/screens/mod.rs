//! What a screen holds and what a key does to it; no toolkit.
