//! A recipe file of an open standard, whichever it is.

use crate::formats::beerjson_reader::read_beerjson;
use crate::formats::beerxml_reader::read_beerxml;
use crate::formats::foreign_error::ForeignError;
use crate::formats::foreign_recipe::ForeignRecipe;

/// The recipes of a BeerJSON or BeerXML text, told apart by its first sign.
///
/// # Errors
/// It is neither, is broken at a line, or has no recipe.
pub fn read_foreign(text: &str) -> Result<Vec<ForeignRecipe>, ForeignError> {
    let text = text.trim_start_matches('\u{feff}');
    match text.trim_start().chars().next() {
        Some('{') => read_beerjson(text),
        Some('<') => read_beerxml(text),
        _ => Err(ForeignError::NoStandard),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::ProptestConfig;
    use proptest::proptest;

    use super::*;
    use crate::formats::foreign_document::foreign_document;
    use crate::formats::foreign_document::mapped;
    use crate::formats::trial_catalogue::catalogue;
    use crate::formats::trial_catalogue::with_a_slip;

    const XML: &str = include_str!("../../tests/standards/evening-pale.xml");
    const JSON: &str = include_str!("../../tests/standards/evening-pale.json");

    /// Reads and writes whatever can be read.
    fn goes_through(text: &str) {
        let catalogue = catalogue();
        for recipe in read_foreign(text).unwrap_or_default() {
            let mapped = mapped(&recipe, &catalogue, &[]);
            let written = foreign_document(&recipe, &mapped, &catalogue);
            assert!(written.contains("version = \"1\""));
        }
    }

    #[test]
    fn a_tag_of_odd_signs_or_of_two_lines_stays_in_its_comment() {
        let text = "<RECIPE>\n<NAME>Cellar</NAME>\n<OG>1</G\nvolume = \"9 L\"\u{1b}>\n</RECIPE>";
        let recipes = read_foreign(text).unwrap();
        assert_eq!(recipes[0].remarks.len(), 1);
        let catalogue = catalogue();
        let mapped = mapped(&recipes[0], &catalogue, &[]);
        let written = foreign_document(&recipes[0], &mapped, &catalogue);
        let table: toml::Table = written.parse().unwrap();
        assert!(table.get("volume").is_none(), "{written}");
    }

    #[test]
    fn a_tag_closed_by_a_wrong_name_is_mended_and_told_with_its_line() {
        let text = "<RECIPE>\n<NAME>Cellar</NMAE>\n<BATCH_SIZE>5</BATCH_SIZE>\n</RECIPE>";
        let recipes = read_foreign(text).unwrap();
        assert_eq!(recipes[0].name, "Cellar");
        assert_eq!(recipes[0].litres, Some(5.0));
        assert_eq!(recipes[0].remarks, ["line 2: NMAE closed NAME"]);
    }

    #[test]
    fn an_entity_of_the_file_is_never_expanded() {
        let text =
            "<!DOCTYPE r [<!ENTITY a \"boom\">]><RECIPE><NAME>&a; &amp; &#246;</NAME></RECIPE>";
        assert_eq!(read_foreign(text).unwrap()[0].name, "&a; & ö");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]
        #[test]
        fn no_slip_in_a_beerxml_file_makes_it_panic(text in with_a_slip(XML.to_owned())) {
            goes_through(&text);
        }

        #[test]
        fn no_slip_in_a_beerjson_file_makes_it_panic(text in with_a_slip(JSON.to_owned())) {
            goes_through(&text);
        }
    }
}
