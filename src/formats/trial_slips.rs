//! Slips in texts that have no such walk in their own file: whatever is typed, a reader answers with a value or with
//! problems.

use proptest::prelude::ProptestConfig;
use proptest::proptest;

use crate::formats::SETTINGS_EXAMPLE;
use crate::formats::panel_file::read_panel;
use crate::formats::proposal_file::read_proposal;
use crate::formats::read_catalogue;
use crate::formats::read_hints;
use crate::formats::settings_file::read_settings;
use crate::formats::trial_catalogue::CATALOGUE;
use crate::formats::trial_catalogue::wheel;
use crate::formats::trial_catalogue::with_a_slip;

const HINTS: &str = include_str!("../../descriptors/hints/process.toml");
const RATINGS: &str = "taster,sitting,sample,replicate,date,line,intensity,low,high\n\
    Ana,first,stout,1,2026-03-14,bitter,5,0,15\nBen,first,\"pale, dry\",2,2026-03-14,tin,0.2,0,1\n";

/// A reader never answers with no problem at all.
fn told<T, P>(read: Result<T, Vec<P>>) {
    if let Err(problems) = read {
        assert!(!problems.is_empty());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn no_slip_in_settings_makes_it_panic(text in with_a_slip(SETTINGS_EXAMPLE.to_owned())) {
        told(read_settings("s.toml", &text));
    }

    #[test]
    fn no_slip_in_a_catalogue_makes_it_panic(text in with_a_slip(CATALOGUE.to_owned())) {
        told(read_catalogue(&[("c.toml", &text)], &[], &wheel()));
    }

    #[test]
    fn no_slip_in_hints_makes_it_panic(text in with_a_slip(HINTS.to_owned())) {
        told(read_hints(&[("h.toml", &text)], &wheel()));
    }

    #[test]
    fn no_slip_in_a_table_of_ratings_makes_it_panic(text in with_a_slip(RATINGS.to_owned())) {
        told(read_panel("p.csv", text.as_bytes(), |_| ()));
    }

    #[test]
    fn no_text_makes_the_reader_of_proposals_panic(text in "(?s)\\{?.{0,200}|[ -~\n]{0,200}") {
        told(read_proposal("p", &text));
    }
}
