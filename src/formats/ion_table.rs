//! The ions of a salt: how many milligrams of each come from one gram.

use crate::domain::Ion;
use crate::domain::IonContent;
use crate::domain::MilligramsPerGram;
use crate::domain::OtherKind;
use crate::formats::problem::ProblemKind;
use crate::formats::section::Section;

/// One gram of a salt holds no more than itself, mg.
const WHOLE_GRAM: f64 = 1_000.0;

/// Reads `ions = { calcium = 233, sulphate = 558 }` of a salt; empty where it is not stated.
pub(crate) fn ions(section: &Section<'_>, kind: Option<OtherKind>) -> Vec<IonContent> {
    let Some(entry) = section.entry("ions") else {
        return Vec::new();
    };
    if let Some(kind) = kind.filter(|it| *it != OtherKind::Salt) {
        entry.mark(ProblemKind::Together {
            found: format!("the ions of {}", kind.word()),
            advice: "only a salt states its ions, leave them out",
        });
        return Vec::new();
    }
    let Some(table) = entry.section() else {
        return Vec::new();
    };
    let named = table.named_entries("an ion content").into_iter();
    let ions: Vec<IonContent> = named
        .filter_map(|(name, entry)| {
            let ion = Ion::from_id(name).map_err(|it| entry.mark_key(it)).ok();
            let content = entry.settle(MilligramsPerGram::new(entry.number()?));
            Some(IonContent {
                ion: ion?,
                content: content?,
            })
        })
        .collect();
    let sum: f64 = ions.iter().map(|it| it.content.get()).sum();
    if sum > WHOLE_GRAM {
        entry.mark(ProblemKind::Together {
            found: format!("{sum:.0} mg of ions in a gram"),
            advice: "write how many milligrams of each come from one gram of the salt",
        });
    }
    ions
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::proof::Proof;

    fn read(text: &str, kind: OtherKind) -> (Vec<IonContent>, Vec<String>) {
        let proof = Proof::new("i.toml", text);
        let table = proof.parse();
        let section = Section::new(&proof, &table, 0);
        let ions = ions(&section, Some(kind));
        section.close();
        let problems = proof.problems();
        (ions, problems.iter().map(ToString::to_string).collect())
    }

    #[test]
    fn a_salt_states_its_ions_by_name() {
        let (ions, problems) = read("ions = { calcium = 233, sulphate = 558 }", OtherKind::Salt);
        assert_eq!(problems, Vec::<String>::new());
        let told: Vec<(Ion, f64)> = ions.iter().map(|it| (it.ion, it.content.get())).collect();
        assert_eq!(told, [(Ion::Calcium, 233.0), (Ion::Sulphate, 558.0)]);
        assert_eq!(read("", OtherKind::Salt), (Vec::new(), Vec::new()));
    }

    #[test]
    fn every_slip_is_told_at_once_with_its_place() {
        let text = "ions = { calcum = 233, sulphate = -1, sodium = \"1\", chloride = 1001 }";
        let (_, problems) = read(text, OtherKind::Salt);
        let wanted = [
            "i.toml:1:10: an ion: “calcum” is not known; did you mean “calcium”? All choices: calcium, magnesium, sodium",
            "i.toml:1:35: an ion content: found -1 mg/g; it must lie between 0 mg/g and 1000 mg/g",
            "i.toml:1:48: an ion content is a text; write a number",
            "i.toml:1:64: an ion content: found 1001 mg/g",
        ];
        assert_eq!(problems.len(), wanted.len(), "{problems:#?}");
        for (found, wanted) in problems.iter().zip(wanted) {
            assert!(found.starts_with(wanted), "{found}\n{wanted}");
        }
    }

    #[test]
    fn a_gram_holds_no_more_than_a_gram_and_a_spice_states_no_ions() {
        let (_, problems) = read("ions = { sodium = 600, chloride = 600 }", OtherKind::Salt);
        let wanted = "i.toml:1:8: 1200 mg of ions in a gram; write how many";
        assert!(problems[0].starts_with(wanted), "{problems:?}");
        let (ions, problems) = read("ions = { sodium = 600 }", OtherKind::Spice);
        let wanted = "i.toml:1:8: the ions of spice; only a salt states its ions";
        assert!(problems[0].starts_with(wanted), "{problems:?}");
        assert_eq!(ions, []);
        assert_eq!(read("ions = 5", OtherKind::Salt).1.len(), 1);
    }
}
