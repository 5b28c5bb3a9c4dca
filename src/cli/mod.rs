//! Typed commands into verbs, reports onto stdout.
