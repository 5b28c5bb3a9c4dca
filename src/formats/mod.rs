//! Text in, a domain value and all problems out, and back; it opens no file.
