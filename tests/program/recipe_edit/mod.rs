//! The next version of a recipe as a file: it reads as the changes mean it, and nothing else has changed in it.

mod documents;
mod drawn;
mod read_back;
mod text;
mod untouched;
