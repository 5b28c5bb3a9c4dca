//! Text in, a domain value and all problems out, and back; it opens no file.

mod answer_text;
mod beerjson_names;
mod beerjson_reader;
mod beerjson_writer;
mod beerxml_reader;
mod beyond;
mod beyond_document;
mod catalogue_file;
mod declared;
mod document_mends;
mod document_page;
mod edit_problem;
mod edited_table;
mod entry;
mod exact_text;
mod foreign_document;
mod foreign_error;
mod foreign_file;
mod foreign_recipe;
mod foreign_units;
mod gift_table;
mod grist_answer;
mod hint_file;
mod hop_answer;
mod hop_text;
mod hope_answer;
mod ingredient_names;
mod ingredient_use;
mod intent_table;
mod ion_table;
mod kitchen_amounts;
mod larder_file;
mod line_diff;
mod new_recipe;
mod packaging_answer;
mod panel_file;
mod panel_table;
mod photograph;
mod plain_table;
mod prediction_file;
mod problem;
mod proof;
mod proposal_file;
mod quantity_text;
mod recipe_checks;
mod recipe_edit;
mod recipe_file;
mod recipe_paper;
mod scale_answer;
mod section;
mod session_file;
mod session_tasting;
mod settings_file;
mod table_order;
#[cfg(test)]
mod trial_catalogue;
#[cfg(test)]
mod trial_slips;
mod wheel_file;
mod word_origin;
mod xml_tree;

pub use beerjson_writer::{StatedFigures, beerjson};
pub use catalogue_file::read_catalogue;
pub use edit_problem::EditProblem;
pub use foreign_document::{
    Choice, Mapped, TakenFor, foreign_document, mapped, names_by_nearness, unknown_choices,
};
pub use foreign_error::ForeignError;
pub use foreign_file::read_foreign;
pub use foreign_recipe::{ForeignFigures, ForeignKind, ForeignRecipe};
pub use hint_file::read_hints;
pub use intent_table::read_intent;
pub use larder_file::{LARDER_EXAMPLE, read_larder};
pub use line_diff::{DiffLine, LineFate, line_diff};
pub use new_recipe::{
    NEW_RECIPE_QUESTIONS, NotKept, Question, RecipeAnswers, WrittenRecipe, write_recipe,
};
pub use panel_file::RatingTable;
pub use panel_file::read_panel;
pub use panel_table::{PanelRow, write_panel};
pub use photograph::{CleanPhotograph, PhotographError, bytes_hash, read_photograph};
pub use plain_table::{TableWriter, defused};
pub use prediction_file::write_prediction;
pub use problem::{Problem, ProblemKind};
pub use proposal_file::{read_proposal, write_proposal};
pub use recipe_edit::{NewVersion, changed_document};
pub use recipe_file::{EXAMPLE, document_hash, read_recipe};
pub use session_file::{
    Session, SessionBatch, SessionBeer, SessionEntry, SessionMark, SessionTasting, read_session,
};
pub use settings_file::{SETTINGS_EXAMPLE, readable_settings};
pub use wheel_file::read_wheel;
