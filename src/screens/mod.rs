//! What a screen holds and what a key does to it; no toolkit.

mod answer_page;
mod answer_screen;
mod app;
mod asking;
mod batches_screen;
mod blind_tests_screen;
mod cupboard_screen;
mod cups_screen;
mod fault_screen;
mod found_screen;
mod frame;
mod key;
mod line_mode;
mod market;
mod nearness;
mod notes_screen;
mod one_test_screen;
mod page;
mod pass_on_screen;
mod plan_test_screen;
mod pouring_screen;
mod press;
mod question;
mod screen;
mod second_sniff_screen;
mod sheet_screen;
mod side_by_side_screen;
mod start_screen;
mod taster_screen;
mod tasting_answers;
mod tasting_glasses;
mod tasting_keys;
mod tasting_moves;
mod tasting_page;
mod tasting_scale_page;
mod tasting_screen;
mod tasting_words;
mod tasting_words_page;
mod test_draft;
mod test_name_screen;
mod test_record_screen;
mod test_sizes_screen;
mod text_entry;
#[cfg(test)]
mod trial;
#[cfg(test)]
mod trial_blind_tests;
#[cfg(test)]
mod trial_pages;
#[cfg(test)]
mod trial_second_sniff;
#[cfg(test)]
mod trial_tasting;
#[cfg(test)]
mod trial_two_glasses;
mod two_bottles_screen;
mod versus_screen;
mod welcome_screen;
mod words_screen;

pub use answer_screen::AnswerScreen;
pub use app::{App, Framed, Running};
pub use asking::Asking;
pub use batches_screen::BatchesScreen;
pub use blind_tests_screen::BlindTestsScreen;
pub use cupboard_screen::CupboardScreen;
pub use cups_screen::CupsScreen;
pub use fault_screen::FaultScreen;
pub use found_screen::FoundScreen;
pub use key::{Action, KEYS, Key};
pub use line_mode::{press_line, told};
pub use market::{Market, Stroll, cut};
pub use notes_screen::NotesScreen;
pub use one_test_screen::OneTestScreen;
pub use page::{Page, Room, Row};
pub use pass_on_screen::PassOnScreen;
pub use plan_test_screen::PlanTestScreen;
pub use pouring_screen::PouringScreen;
pub use press::Press;
pub use question::Question;
pub use screen::{Act, Input, Next, Screen};
pub use second_sniff_screen::SecondSniffScreen;
pub use sheet_screen::{SheetScreen, TestResultScreen};
pub use side_by_side_screen::SideBySideScreen;
pub use start_screen::StartScreen;
pub use taster_screen::{MarkScreen, TasterScreen};
pub use tasting_screen::TastingScreen;
pub use test_draft::TestDraft;
pub use test_name_screen::TestNameScreen;
pub use test_record_screen::{TestRecordNameScreen, TestRecordScreen};
pub use test_sizes_screen::TestSizesScreen;
pub use text_entry::TextEntry;
pub use two_bottles_screen::{PourerScreen, TwoBottlesScreen};
pub use versus_screen::VersusScreen;
pub use welcome_screen::WelcomeScreen;
pub use words_screen::WordsScreen;
