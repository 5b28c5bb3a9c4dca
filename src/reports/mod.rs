//! One report a file: its text and its JSON.

mod archive_report;
mod ballot_print;
mod batch_print;
mod batch_report;
mod blind_print;
mod blind_words;
mod colour_picture;
mod comparison_json;
mod comparison_markdown;
mod comparison_picture;
mod comparison_report;
mod comparison_words;
mod confidence_report;
mod conversion_report;
mod course_report;
mod draft_report;
mod evening_print;
mod evening_report;
mod export_report;
mod figures_report;
mod found_report;
mod gain_report;
mod glass_form;
mod history_json;
mod history_markdown;
mod history_print;
mod history_report;
mod home_check_report;
mod import_report;
mod jar_print;
mod label_print;
mod larder_report;
mod learnt_report;
mod next_json;
mod next_proposal_report;
mod next_report;
mod no_word;
mod noise_words;
mod pair_report;
mod panel_plan_report;
mod panel_print;
mod panel_report;
mod panel_sheet_report;
mod panel_talk_report;
mod paper_print;
mod paper_report;
mod photograph_report;
mod plan_report;
mod power_picture;
mod practice_report;
mod prediction_report;
mod print_asked;
mod printables;
mod printout;
mod privacy_report;
mod promise_words;
mod record_report;
mod removed_report;
mod scale_report;
mod settings_report;
mod shapes;
mod sheet_report;
mod size_report;
mod strength_report;
mod tables_report;
mod taster_beside_report;
mod taster_json;
mod taster_line_report;
mod taster_picture;
mod taster_print;
mod taster_report;
mod test_figures;
mod test_picture;
mod test_pieces;
mod test_report;
#[cfg(test)]
mod trial_printouts;
mod verdict_words;
mod versus_report;
mod weeks_report;
mod wheel_print;
mod wheel_round;
mod why_report;
mod word_report;

pub use archive_report::{archive_read_lines, archive_written_lines};
pub use batch_report::{
    batch_list_json, batch_list_lines, batch_page_json, batch_page_lines, batch_rows_lines,
    entry_words, readiness_words,
};
pub use blind_print::sheet_printout;
pub use colour_picture::colour_strip;
pub use comparison_json::comparison_json;
pub use comparison_markdown::comparison_markdown;
pub use comparison_picture::{colour_picture, comparison_picture};
pub use comparison_report::{Extent, comparison_lines};
pub use confidence_report::{confidence_json, confidence_lines, confidence_sentence};
pub use conversion_report::conversion_lines;
pub use course_report::{courses_json, courses_lines};
pub use draft_report::{draft_lines, written_lines};
pub use evening_print::evening_printout;
pub use evening_report::{evening_json, evening_lines, evening_title, shared_lines};
pub use export_report::{ExportKind, WrittenExport, written_export};
pub use figures_report::{figure_words, figures_json, figures_lines, indented};
pub use found_report::{found_lines, rating_words, ratings_of};
pub use gain_report::{gain_json, gain_lines};
pub use history_json::history_json;
pub use history_markdown::history_markdown;
pub use history_report::{history_lines, history_title};
pub use home_check_report::{copied_lines, home_check_json, home_check_lines, restored_lines};
pub use import_report::{
    ReadIn, import_json, import_lines, imports_json, imports_lines, recounted_lines,
};
pub use jar_print::{evening_cards_printout, jar_cards_printout};
pub use label_print::{Label, label_sheets_words, labels_printout};
pub use larder_report::{larder_json, larder_lines};
pub use learnt_report::{learnt_json, learnt_lines};
pub use next_json::next_json;
pub use next_report::{NextDetail, next_lines};
pub use no_word::NoWord;
pub use pair_report::{pair_json, pair_lines};
pub use panel_plan_report::{
    panel_care, panel_cost_sentence, panel_draft_json, panel_draft_lines, panel_next_lines,
    panel_people_words, panel_person_words, panel_sentence, panel_state, panels_json, panels_lines,
};
pub use panel_print::{panel_ballots_printout, pouring_printout};
pub use panel_report::{panel_json, panel_lines};
pub use panel_sheet_report::{panel_ballot_lines, pouring_json, pouring_lines};
pub use panel_talk_report::{
    TalkNames, panel_own_json, panel_own_lines, panel_result_json, panel_result_lines,
    panel_talk_json, panel_talk_lines,
};
pub use paper_report::paper_lines;
pub use photograph_report::{photograph_words, photographs_json, photographs_lines};
pub use plan_report::{
    odds_sentence, plan_json, plan_lines, plan_sentence, short_commitment, tests_json, tests_lines,
    unknown_bottles,
};
pub use power_picture::{power_picture, power_picture_of};
pub use practice_report::{jar_card_lines, outlook_words, practice_answer_words, practice_lines};
pub use prediction_report::{prediction_json, prediction_lines};
pub use print_asked::{PrintAsked, PrintOption, PrintRefused};
pub use printables::{LooksThrough, PRINTABLES, Printable};
pub use printout::{PrintError, Printout, paper_of};
pub use privacy_report::{forgetting_lines, held_back_lines, renamed_lines};
pub use promise_words::{kitchen_words, promise_sentence};
pub use record_report::{record_json, record_lines};
pub use removed_report::{
    brought_back_lines, kept_words, remove_lines, remove_lines_in_app, removed_json, removed_lines,
    removed_words, thrown_out_lines,
};
pub use scale_report::{scales_json, scales_lines};
pub use settings_report::{settings_json, settings_lines, unread_settings};
pub use shapes::{SHAPES, shape, shapes_of};
pub use sheet_report::{sheet_json, sheet_lines};
pub use size_report::{friends_sentence, size_json, size_lines};
pub use strength_report::{series_key_lines, strength_lines};
pub use tables_report::{TableFile, TableFiles, table_files, tables_help, tables_written_lines};
pub use taster_json::taster_json;
pub use taster_picture::{certainty_picture, taster_charts_picture};
pub use taster_report::{taster_detail_lines, taster_lines};
pub use test_figures::result_json;
pub use test_report::{result_lines, result_sentence};
pub use versus_report::{versus_json, versus_lines, versus_picture};
pub use weeks_report::{weeks_json, weeks_lines};
pub use wheel_print::wheel_printout;
pub use wheel_round::{hub_stages, marked_words, marks_words, wheel_poster, wheel_sectors};
pub use why_report::{predicted_words, why_json, why_lines};
pub use word_report::{stands, wheel_json, wheel_lines, word_json, word_lines};
