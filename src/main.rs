//! The door: arguments in, exit code out.

fn main() {}
