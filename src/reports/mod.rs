//! One report a file: its text and its JSON.

mod batch_report;
mod figures_report;
mod found_report;
mod side_by_side_json;
mod side_by_side_report;
mod word_report;

pub use batch_report::{
    batch_list_json, batch_list_lines, batch_page_json, batch_page_lines, batch_rows_lines,
    entry_words, readiness_words,
};
pub use figures_report::{
    figure_words, figures_json, figures_lines, indented, prediction_json, prediction_lines,
};
pub use found_report::{found_lines, rating_words, ratings_of};
pub use side_by_side_json::side_by_side_json;
pub use side_by_side_report::side_by_side_lines;
pub use word_report::{stands, wheel_json, wheel_lines, word_json, word_lines};
