//! Everything that remembers: rows, and files as bytes.

mod batches;
mod beers;
mod blind_tests;
mod builtin;
mod courses;
mod file_problem;
mod home_folder;
mod notes;
mod notes_changes;
mod notes_rows;
mod panels;
mod practices;
mod predictions;
mod recipe_versions;
mod row;
mod schema;
mod second_sniff;
mod sittings;
mod storage_error;
mod store;
mod strengths;
mod tasters;
mod temp_folder;
mod test_answers;
mod user_files;

pub use builtin::{
    builtin_demo_files, builtin_hints, builtin_ingredient_files, builtin_wheel_files,
};
pub use file_problem::FileProblem;
pub use home_folder::default_home;
pub use notes_rows::NotesRow;
pub use panels::{PanelSeat, WaitingGlass};
pub use storage_error::StorageError;
pub use store::Store;
pub use temp_folder::TempFolder;
pub use user_files::ensure_free_place;
pub use user_files::read_file;
pub use user_files::user_hint_files;
pub use user_files::user_ingredient_files;
pub use user_files::user_wheel_files;
pub use user_files::write_new_file;
