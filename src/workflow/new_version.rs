//! A proposal made into the next version of its recipe: drafted, shown beside its parent, and written into a new file.

use std::path::Path;

use crate::domain::KeptProposal;
use crate::domain::Name;
use crate::domain::PromisedChange;
use crate::domain::ProposalId;
use crate::domain::Proposed;
use crate::domain::ProposedTest;
use crate::domain::RecipeChange;
use crate::domain::RecipeVersion;
use crate::formats::DiffLine;
use crate::formats::NewVersion;
use crate::formats::changed_document;
use crate::formats::document_hash;
use crate::formats::line_diff;
use crate::storage::is_written;
use crate::storage::take_back_new_file;
use crate::storage::write_new_file;
use crate::workflow::Home;
use crate::workflow::NextProposal;
use crate::workflow::NextRecipe;
use crate::workflow::WorkflowError;

/// The largest chance that is told as a number (judgement).
const SUREST: f64 = 0.95;
/// So many versions are counted through for a free one.
const MOST_VERSIONS: u32 = 10_000;
/// A new version before it is written.
#[derive(Debug, Clone, PartialEq)]
pub struct VersionDraft {
    /// The recipe.
    pub name: Name,
    /// The version it comes from.
    pub parent: Name,
    /// Its own version.
    pub version: Name,
    /// Why.
    pub reason: Name,
    /// What is changed, each in words.
    pub changes: Vec<String>,
    /// The whole document.
    pub document: String,
    /// The document beside its parent's.
    pub diff: Vec<DiffLine>,
    /// A name for the file.
    pub file_name: String,
    proposed: Proposed,
}

impl Home {
    /// The new version of a proposal by its number, counted from 1.
    ///
    /// # Errors
    /// There is no such proposal, or as for `draft_version`.
    pub fn draft_numbered(
        &self,
        next: &NextRecipe,
        number: usize,
    ) -> Result<VersionDraft, WorkflowError> {
        let at = number.checked_sub(1);
        let proposal = at.and_then(|at| next.proposals.get(at));
        let proposal = proposal.ok_or(WorkflowError::NoProposal {
            asked: number,
            there: next.proposals.len(),
        })?;
        self.draft_version(next, proposal)
    }

    /// The document of a proposal, with the order and the comments of the old one; nothing is written.
    ///
    /// # Errors
    /// The batch has no recipe, the document is written so that it cannot be changed, or what comes out would not be
    /// what was proposed.
    fn draft_version(
        &self,
        next: &NextRecipe,
        proposal: &NextProposal,
    ) -> Result<VersionDraft, WorkflowError> {
        let parent = self.version_of(next)?;
        let changes = changes_of(next, proposal);
        let version = self.free_version(&parent)?;
        let reason = reason(next, proposal)?;
        let head = NewVersion {
            version: version.clone(),
            parent: parent.version.clone(),
            reason: reason.clone(),
            expected: expected_lines(next, proposal),
        };
        let document = changed_document(&parent.document, &changes, &head)?;
        self.ensure_as_proposed(&document, proposal, &head)?;
        Ok(VersionDraft {
            diff: line_diff(&parent.document, &document),
            file_name: format!("{}-{version}.toml", slug(parent.name.as_str())),
            name: parent.name,
            parent: parent.version,
            version,
            reason,
            changes: proposal.changes.iter().map(|it| it.words.clone()).collect(),
            document,
            proposed: proposed(proposal),
        })
    }

    /// Writes a drafted version into a new file and keeps what was promised of it; nothing is overwritten.
    ///
    /// # Errors
    /// Somebody tastes a batch, something else has this file name already, or the disk or the store refuses: then
    /// neither is there.
    pub fn write_version(
        &mut self,
        next: &NextRecipe,
        draft: &VersionDraft,
        file: &Path,
    ) -> Result<(), WorkflowError> {
        // Since it was drafted somebody may have begun to taste, in another window.
        self.ensure_no_batch_is_tasted()?;
        let batch = self.batch(next.cap_mark.as_str())?;
        let kept = KeptProposal {
            id: ProposalId::new(self.draw_id()),
            batch: batch.id.clone(),
            parent: batch.version,
            name: draft.name.clone(),
            version: draft.version.clone(),
            hash: document_hash(&draft.document),
            proposed: draft.proposed.clone(),
            made_at: self.now(),
        };
        if is_written(file, &draft.document) {
            // By an earlier try that was cut short before the proposal was kept.
            return self.keep_proposal(&kept);
        }
        write_new_file(file, &draft.document)?;
        self.keep_proposal(&kept).inspect_err(|_| {
            // What is kept of it is told with it or not at all; the message is that of the store.
            take_back_new_file(file);
        })
    }

    fn version_of(&self, next: &NextRecipe) -> Result<RecipeVersion, WorkflowError> {
        let batch = self.batch(next.cap_mark.as_str())?;
        let version = self.store.recipe_version(&batch.version)?;
        version.ok_or_else(|| WorkflowError::NoRecipe {
            mark: next.cap_mark.to_string(),
        })
    }

    /// The version after this one that nothing has yet: 3 after 2, and 2a-2 after 2a.
    fn free_version(&self, parent: &RecipeVersion) -> Result<Name, WorkflowError> {
        let now = parent.version.as_str();
        let (stem, first) = match now.parse::<u32>() {
            Ok(number) => (String::new(), number.saturating_add(1)),
            Err(_) => (format!("{now}-"), 2),
        };
        for number in first..first.saturating_add(MOST_VERSIONS) {
            let version = Name::new("a version", &format!("{stem}{number}"))?;
            let kept = self.store.recipe_version_named(&parent.name, &version)?;
            if kept.is_none() && self.kept_proposal_for(&parent.name, &version)?.is_none() {
                return Ok(version);
            }
        }
        Ok(Name::new("a version", &format!("{stem}{first}-next"))?)
    }

    /// Lets pass only a document that says what was proposed, and is sound.
    fn ensure_as_proposed(
        &self,
        document: &str,
        proposal: &NextProposal,
        head: &NewVersion,
    ) -> Result<(), WorkflowError> {
        let mut read = self.parse_recipe("the new version", document)?;
        let wanted = &proposal.recipe;
        let is_headed = read.version == head.version && read.parent.as_ref() == Some(&head.parent);
        read.version = wanted.version.clone();
        read.parent.clone_from(&wanted.parent);
        read.reason.clone_from(&wanted.reason);
        if is_headed && read == *wanted {
            Ok(())
        } else {
            Err(WorkflowError::NotAsProposed)
        }
    }
}

/// The changes as the document takes them: the volume first, because every amount is told for it.
fn changes_of(next: &NextRecipe, proposal: &NextProposal) -> Vec<RecipeChange> {
    let changes = proposal.changes.iter().map(|it| it.change.clone());
    next.rescaling.iter().cloned().chain(changes).collect()
}

/// Why: the hopes that were missed, and what is done about them.
fn reason(next: &NextRecipe, proposal: &NextProposal) -> Result<Name, WorkflowError> {
    let wanted = proposal
        .hopes
        .iter()
        .filter(|it| (it.expected - it.now).abs() >= 0.5);
    let wanted: Vec<String> = wanted
        .take(2)
        .map(|it| {
            let way = if it.expected > it.now { "more" } else { "less" };
            format!("{way} {}", it.label.to_lowercase())
        })
        .collect();
    let done: Vec<&str> = proposal
        .changes
        .iter()
        .map(|it| it.words.as_str())
        .collect();
    let why = if wanted.is_empty() {
        format!("after {}", next.cap_mark)
    } else {
        format!("after {}: {}", next.cap_mark, wanted.join(" and "))
    };
    let whole = format!("{why}; {}", done.join(", "));
    // What is done stands in the lines on what is expected too; half a sentence helps nobody.
    let fitting = if whole.chars().count() <= Name::MOST {
        whole
    } else {
        why
    };
    let short: String = fitting.chars().take(Name::MOST).collect();
    Ok(Name::new("a reason", &short)?)
}

/// What is expected, for the file: a line each.
fn expected_lines(next: &NextRecipe, proposal: &NextProposal) -> Vec<String> {
    let moving = proposal.hopes.iter().chain(&proposal.besides);
    let moving = moving.filter(|it| (it.expected - it.now).abs() >= 0.5);
    // Who tasted stays at home: a recipe is passed on.
    let head = format!(
        "after {} of {} by {}",
        plural(next.glasses.0, "glass", "glasses"),
        next.cap_mark,
        plural(next.tasters.len(), "taster", "tasters")
    );
    let changes = proposal.changes.iter().map(|it| it.words.clone());
    let lines = moving.map(|it| {
        let it = it.in_digits();
        let hoped = it
            .hoped
            .map_or_else(String::new, |it| format!(", hoped for {it:.0}"));
        format!(
            "{} {:.1} to {:.1} ({:.0} to {:.0} eight times in ten{hoped})",
            it.label, it.now, it.expected, it.low, it.high
        )
    });
    let chance = format!(
        "on the whole nearer to the hopes with {}",
        odds_words(proposal.chance)
    );
    [head]
        .into_iter()
        .chain(changes)
        .chain(lines)
        .chain([chance])
        .collect()
}

fn plural(count: usize, one: &str, many: &str) -> String {
    if count == 1 {
        format!("1 {one}")
    } else {
        format!("{count} {many}")
    }
}

fn proposed(proposal: &NextProposal) -> Proposed {
    let moving = |it: &&PromisedChange| it.hoped.is_some() || (it.expected - it.now).abs() >= 0.5;
    let lines = proposal.hopes.iter().chain(&proposal.besides);
    Proposed {
        changes: proposal.changes.iter().map(|it| it.words.clone()).collect(),
        lines: lines.filter(moving).cloned().collect(),
        chance: proposal.chance,
        test: proposal.proofs.first().map(|it| ProposedTest {
            method: it.method.id.to_owned(),
            distance: it.distance,
            answers: it.answers,
        }),
    }
}

/// A chance in words; nobody knows a kitchen so well that more than 95 in 100 can be said.
#[must_use]
pub fn odds_words(chance: f64) -> String {
    if chance > SUREST {
        "more than 95 chances in 100".to_owned()
    } else {
        format!("{:.0} chances in 100", 100.0 * chance)
    }
}

/// A name as a file may be called: small letters, digits, and hyphens.
fn slug(name: &str) -> String {
    let letters = name
        .chars()
        .map(|it| if it.is_alphanumeric() { it } else { '-' });
    let joined: String = letters.collect::<String>().to_lowercase();
    let parts: Vec<&str> = joined.split('-').filter(|it| !it.is_empty()).collect();
    if parts.is_empty() {
        "recipe".to_owned()
    } else {
        parts.join("-")
    }
}
