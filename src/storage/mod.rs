//! Everything that remembers: rows, and files as bytes.

mod backup_copies;
mod batches;
mod beers;
mod blind_tests;
mod builtin;
mod courses;
mod file_problem;
mod forgetting;
mod home_folder;
mod notes;
mod notes_changes;
mod notes_rows;
mod own_rows;
mod practices;
mod predictions;
mod recipe_versions;
mod row;
mod rubbing_out;
mod schema;
mod second_sniff;
mod sittings;
mod storage_error;
mod store;
mod strengths;
mod tasters;
mod temp_folder;
mod test_answers;
mod traces;
mod user_files;

pub use backup_copies::BackupCopy;
pub use backup_copies::InCopy;
pub use builtin::{
    builtin_demo_files, builtin_hints, builtin_ingredient_files, builtin_wheel_files,
};
pub use file_problem::FileProblem;
pub use home_folder::default_home;
pub use notes_rows::NotesRow;
pub use own_rows::OwnSeat;
pub use storage_error::StorageError;
pub use store::Store;
pub use temp_folder::TempFolder;
pub use traces::Traces;
pub use user_files::ensure_free_place;
pub use user_files::read_file;
pub use user_files::user_hint_files;
pub use user_files::user_ingredient_files;
pub use user_files::user_wheel_files;
pub use user_files::write_new_file;
pub use user_files::write_new_private_file;
