//! Physics and chemistry of wort and beer: plain numbers in and out.
