//! The verbs of the job; they hold the clock, the dice and the store.

mod alike_pairs;
mod archive;
mod as_noted;
mod batch_log;
mod batch_rows;
mod batch_warning;
mod batch_weeks;
mod batches;
mod blind_close;
mod blind_draw;
mod blind_error;
mod blind_plan;
mod blind_result;
mod blind_sheet;
mod blind_table;
mod brew_run;
mod change_words;
mod changes;
mod clock;
mod compare;
mod compared_lines;
mod compared_words;
mod comparison;
mod confidence;
mod conversion;
mod conversion_error;
mod copies;
mod counted_notes;
mod course_gain;
mod courses;
mod demo;
mod error;
mod evening;
mod evening_key;
mod exported_notes;
mod figures;
mod foreseen;
mod found;
mod gas;
mod gas_cautions;
mod glass;
mod hints;
mod home;
mod home_check;
mod hope_difference;
mod imports;
mod kept_proposals;
mod kitchen_settings;
mod kitchen_spread;
mod known_names;
mod larder;
mod learning;
mod learnt;
mod levers;
mod library;
mod listener;
mod needed_words;
mod new_files;
mod new_version;
mod next;
mod next_known;
mod next_outlook;
mod next_practice;
mod next_proof;
mod next_recipe;
mod next_split;
mod next_told;
mod next_unmet;
mod next_wishes;
mod noted;
mod panel;
mod panel_cost;
mod panel_draw;
mod panel_error;
mod panel_plan;
mod panel_table;
mod panel_turn;
mod panel_view;
mod panel_voices;
mod paper_answer;
mod paper_sheet;
mod photographs;
mod planned_test;
mod power_grid;
mod practice_history;
mod practice_plan;
mod practice_run;
mod predictions;
mod privacy;
mod promise_kept;
mod proof_pair;
mod recipe_difference;
mod recipe_family;
mod recipe_history;
mod recipes;
mod remedies;
mod remembered;
mod removal_error;
mod removals;
mod running_order;
mod same_pair;
mod seal;
mod seal_words;
mod second_sniff;
mod session_import;
mod session_rows;
mod sniff_words;
mod strength_run;
mod table_catalogue;
mod table_rows;
mod tables;
mod taster_export;
mod taster_naming;
mod taster_noise;
mod taster_page;
mod taster_ratings;
mod taster_series;
mod tasters;
mod tasting;
mod test_record;
mod test_seats;
mod test_sizes;
#[cfg(test)]
mod trial_beerjson;
#[cfg(test)]
mod trial_blind;
#[cfg(test)]
mod trial_blind_seats;
#[cfg(test)]
mod trial_blind_stops;
// Only tests and `cargo bench` play invented brewers; the program itself has no use for them.
mod trial_beginning;
mod trial_brewer;
#[cfg(test)]
mod trial_candidate_faults;
#[cfg(test)]
mod trial_candidates;
#[cfg(test)]
mod trial_fact_brews;
#[cfg(test)]
mod trial_fact_rows;
#[cfg(test)]
mod trial_facts;
#[cfg(test)]
mod trial_figures;
#[cfg(test)]
mod trial_home;
#[cfg(test)]
mod trial_learnt;
#[cfg(test)]
mod trial_measured;
#[doc(hidden)]
pub mod trial_next;
#[cfg(test)]
mod trial_next_record;
#[cfg(test)]
mod trial_pairs;
#[cfg(test)]
mod trial_panel;
#[cfg(test)]
mod trial_panel_told;
#[cfg(test)]
mod trial_promise;
#[cfg(test)]
mod trial_proposals;
mod trial_truth;
#[cfg(test)]
mod trial_worked;
#[cfg(test)]
mod trial_worked_brewed;
#[cfg(test)]
mod trial_worked_dark;
#[cfg(test)]
mod trial_worked_pale;
#[cfg(test)]
mod trial_worked_wheat;
mod two_glasses;
mod typed_place;
mod typed_word;
mod versus;
mod why;
mod wish_text;
mod word_items;
mod word_marks;

pub use crate::formats::{Choice, ForeignKind, Mapped, TakenFor};
pub use archive::{ArchiveWritten, Sealed, Unsealed};
pub use as_noted::{AsNoted, AsNotedLine};
pub use batch_log::BatchLog;
pub use batch_rows::{BatchList, BatchPage, BatchRow, Readiness};
pub use batch_warning::BatchWarning;
pub use batch_weeks::{BatchWeeks, Since, UntoldLine, WeekLine};
pub use batches::DatedIntent;
pub use blind_close::Closing;
pub use blind_error::BlindError;
pub use blind_plan::PlanRequest;
pub use blind_result::{OpenedAnswer, Sequence, TasterAnswers, TestResult};
pub use blind_sheet::{FilledFrom, Sheet, SheetRow};
pub use blind_table::{GivenAnswer, GoesOn, PlaceAtTest, SetOfGlasses};
pub use change_words::change_words;
pub use clock::{Clock, local_day};
pub use compare::FigureLine;
pub use comparison::{
    About, ComparedLine, Comparison, Counted, Foreseen, HeldAgainst, NearMiss, Nearby, Outcome,
    PanelOnLine, PromisedLine, SniffedBy, UnplannedWord,
};
pub use confidence::{Confidence, HitRate, HitRates};
pub use conversion::{Conversion, RecipeKind, named_kind};
pub use conversion_error::ConversionError;
pub use copies::{Replacing, Restored, restore};
pub use course_gain::{CheckResult, CourseGain, Gain};
pub use courses::CourseRow;
pub use error::WorkflowError;
pub use evening::{Evening, EveningPart, EveningWish};
pub use evening_key::EveningKeyError;
pub use exported_notes::{ExportedAnswer, ExportedNotes};
pub use figures::{Figure, Figures, Origin, figures};
pub use foreseen::{ForeseenLine, RecipePrediction};
pub use found::{Found, mark_words, stage_words, subject_word};
pub use glass::{haze_words, seen_through};
pub use home::{Home, home_folder};
pub use home_check::HomeCheck;
pub use imports::{ImportTable, Recounted};
pub use kitchen_spread::{KitchenSpread, SpreadBasis};
pub use larder::{AtHome, ItemAtHome};
pub use learnt::{Learnt, LearntBatch, LearntGain, LearntLine, LearntNaming};
pub use levers::Lever;
pub use listener::Listener;
pub use new_files::write_open_documents;
pub use new_version::{VersionDraft, odds_words};
pub use next_proof::{Proof, ProofSide};
pub use next_recipe::{
    FigureMove, HopeGap, HopeStanding, NextChange, NextProposal, NextRecipe, WorthChanging,
};
pub use next_split::{Split, SplitKind};
pub use next_wishes::AskedWishes;
pub use noted::Noted;
pub use panel::{
    LineAgreement, LinePrecision, NoScatter, PanelMeasures, TasterLine, TasterMeasures, TasterReads,
};
pub use panel_cost::PanelCost;
pub use panel_error::PanelError;
pub use panel_plan::{PanelDraft, PanelPourer, PanelRequest};
pub use panel_table::{PanelPerson, PanelPhase, PanelTable, PouredGlass, PouringSheet};
pub use panel_turn::{GlassState, PanelRound, PanelTurn, TurnGlass, TypedFrom};
pub use panel_view::{DoubledPair, OwnPage, PanelResult, PanelTalk, ResultBeer, TalkGlass};
pub use panel_voices::{Apart, PanelLine, PanelWord, Summary};
pub use paper_answer::PaperAnswer;
pub use paper_sheet::PaperRow;
pub use photographs::{PhotographRefused, PhotographRow, WholePhotograph};
pub use planned_test::{PlannedTest, TestOdds, TestRow};
pub use power_grid::{MOST_ROUNDS, PowerGrid, as_far_apart, power_grid};
pub use practice_history::PastItem;
pub use practice_run::{ItemReplies, ItemRight, JarCard, PracticeRun};
pub use predictions::source_words;
pub use privacy::{Bytes, Forgetting, Renamed};
pub use promise_kept::{Cause, PromiseKept, PromiseLine, SinceWritten};
pub use proof_pair::ProofPair;
pub use recipe_difference::recipe_differences;
pub use recipe_history::{
    HistoryBatch, HistoryPromise, HistoryTold, HistoryVersion, HopesMet, RecipeHistory,
};
pub use recipes::ReadRecipe;
pub(crate) use recipes::VersionOf;
pub use remedies::{Remedy, Suspect};
pub use remembered::Remembered;
pub use removal_error::RemovalError;
pub use removals::{Removable, RemovedRow};
pub use running_order::{Block, BlockKind};
pub use same_pair::{SamePair, SameQuestion, TestDay};
pub use session_import::{ImportProblem, Imported};
pub use strength_run::{RatedSeries, StrengthRecord, StrengthRun};
pub use table_catalogue::{Cell, Column, Rows, TABLES, TableKind};
pub use tables::{HomeTable, HomeTables};
pub use taster_export::{ExportedPractice, ExportedTest, TasterExport};
pub use taster_page::{TasterPage, ToPractise};
pub use taster_series::{Circumstances, NoCircumstances, STRAYS};
pub use tasting::{GlassName, Tasting};
pub use test_record::{MethodRecord, TestRecord};
pub use test_seats::{TakePlace, TestProgress};
pub use test_sizes::{Cost, MethodSize, Table, TestSizes, Worth, cost, test_sizes};
#[cfg(test)]
pub(crate) use trial_home::TRIAL_RECIPE;
#[cfg(test)]
pub(crate) use trial_next_record::told_next;
#[cfg(test)]
pub(crate) use trial_promise::told_history;
pub use two_glasses::{Cups, Pourer, TwoGlasses};
pub use typed_place::{recipe_place, shown_place, typed_place};
pub use typed_word::typed_word;
pub use versus::{Tasters, Versus, VersusLine};
pub use why::{Why, WhyPart};
pub use wish_text::{WISH_FORMS, read_amount, read_bounds, read_finest};
pub use word_marks::{Marked, MarksOf, WordMarks};

pub use crate::discrimination::{
    Aim, Alpha, Analysis, Asked, Beta, DPrime, Distance, Effect, Joint, METHODS, MOST_GLASSES,
    Method, Pd, Plan, Reach, Side, Similarity, Sizes, Standing, Verdict, Ways,
};
pub use crate::formats::{DiffLine, LineFate};
pub use crate::profile::Basis;
pub use crate::profile::Changed;
pub use crate::profile::Judged;
pub use crate::profile::Kept;
pub use crate::profile::NoiseBasis;
pub use crate::profile::Unasked;
pub use crate::profile::Untold;
pub use crate::profile::{Bounds, MostChanges, Supply};
pub use crate::storage::ArchiveContents;
pub use crate::storage::BackupCopy;
pub use crate::storage::InCopy;
pub use crate::storage::NotesRow;
pub use crate::storage::OwnSeat;
pub use crate::storage::TempFolder;
pub use crate::storage::Traces;
pub use crate::training::ChartKind;
pub use crate::training::ChartPoint;
pub use crate::training::GapToOthers;
pub use crate::training::NamingRecord;
pub use crate::training::TasterChart;
pub use crate::training::TasterCharts;
pub use crate::training::WhyAsked;
