//! Notes held against plan, prediction or another beer: the record that a comparison gives.

use crate::domain::BottleFault;
use crate::domain::DescriptorId;
use crate::domain::Matters;
use crate::domain::Name;
use crate::domain::Scale;
use crate::domain::ShelfId;
use crate::domain::SniffAnswer;
use crate::domain::SniffKind;
use crate::domain::Stage;
use crate::profile::Judged;
use crate::profile::NoiseBasis;
use crate::profile::Unasked;
use crate::statistics::Probability;
use crate::workflow::DatedIntent;
use crate::workflow::FigureLine;
use crate::workflow::Found;
use crate::workflow::Noted;

/// What notes are held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeldAgainst {
    /// What the brewer hoped for.
    Intent,
    /// What recipe and log predict.
    Prediction,
    /// The other beer.
    OtherBeer,
}

/// What can be said of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// More, beyond the noise.
    More,
    /// Less, beyond the noise.
    Less,
    /// Not there, with 95 %.
    NotFound,
    /// Within one digit, with 90 %.
    AsGoodAs,
    /// Named or rated, but not enough to tell.
    CannotTellYet,
    /// Never named, which is not enough to say that it is not there.
    NotMentionedYet,
    /// Not judged, because the brewer does not mind.
    HardlyMatters,
    /// Nobody answered.
    NotRated,
}

impl Outcome {
    /// The verdict in words.
    #[must_use]
    pub const fn words(self, against: HeldAgainst) -> &'static str {
        match (self, against) {
            (Self::More, HeldAgainst::Intent) => "more than meant",
            (Self::Less, HeldAgainst::Intent) => "less than meant",
            (Self::AsGoodAs, HeldAgainst::Intent) => "as meant",
            (Self::More, HeldAgainst::Prediction) => "more than predicted",
            (Self::Less, HeldAgainst::Prediction) => "less than predicted",
            (Self::AsGoodAs, HeldAgainst::Prediction) => "as predicted",
            (Self::More, HeldAgainst::OtherBeer) => "more",
            (Self::Less, HeldAgainst::OtherBeer) => "less",
            (Self::AsGoodAs, HeldAgainst::OtherBeer) => "much the same",
            (Self::NotFound, HeldAgainst::Intent) => "hoped for, not found",
            (Self::NotFound, _) => "not found",
            (Self::CannotTellYet, HeldAgainst::OtherBeer) => "cannot tell",
            (Self::CannotTellYet, _) => "cannot tell yet",
            (Self::NotMentionedYet, _) => "not mentioned yet",
            (Self::HardlyMatters, _) => "hardly matters",
            (Self::NotRated, _) => "not rated",
        }
    }

    /// What silence says where so much was hoped for, in digits: who hoped for none of it has what was
    /// meant once it is not there.
    #[must_use]
    pub fn against_hope(self, hoped: Option<f64>) -> Self {
        match (self, hoped) {
            (Self::NotFound, Some(hoped)) if hoped <= 0.0 => Self::AsGoodAs,
            _ => self,
        }
    }

    /// True for a verdict that says that something differs.
    #[must_use]
    pub const fn differs(self) -> bool {
        matches!(self, Self::More | Self::Less | Self::NotFound)
    }
}

/// What a line is about.
#[derive(Debug, Clone, PartialEq)]
pub enum About {
    /// A scale.
    Scale(&'static Scale),
    /// A shelf at a stage, with the words that were planned on it.
    Shelf {
        /// The shelf.
        shelf: ShelfId,
        /// Aroma or flavour.
        stage: Stage,
        /// The planned words.
        words: Vec<DescriptorId>,
    },
}

impl About {
    /// The shelf and its stage; none for a scale.
    #[must_use]
    pub const fn shelf(&self) -> Option<(&ShelfId, Stage)> {
        match self {
            Self::Scale(_) => None,
            Self::Shelf { shelf, stage, .. } => Some((shelf, *stage)),
        }
    }
}

/// What recipe and log predict of a line, in digits.
#[derive(Debug, Clone, PartialEq)]
pub struct Foreseen {
    /// The chance that it is named; none for a scale.
    pub chance: Option<f64>,
    /// A tenth lies below.
    pub low: f64,
    /// The middle.
    pub middle: f64,
    /// A tenth lies above.
    pub high: f64,
    /// What it comes from: words and how much, the largest first.
    pub why: Vec<(String, f64)>,
}

/// What several tasters say on a line, in digits; each one counts once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelOnLine {
    /// How many gave a number.
    pub tasters: usize,
    /// The mean over them.
    pub mean: f64,
    /// Half of them lie below.
    pub median: f64,
    /// The lowest.
    pub lowest: f64,
    /// The highest.
    pub highest: f64,
}

impl ComparedLine {
    /// Who named it, each once, those included whose notes are only shown.
    #[must_use]
    pub fn named_by<'a>(&self, found: &'a [Found]) -> Vec<&'a Name> {
        let mut names = Vec::new();
        for (found, noted) in found.iter().zip(&self.noted) {
            let is_named = match noted {
                Noted::Value(value) => *value > 0.0,
                Noted::Named => true,
                _ => false,
            };
            if is_named && !names.contains(&&found.taster) {
                names.push(&found.taster);
            }
        }
        names
    }

    /// Keeps what the tasters say together.
    pub(super) fn seen_by(&mut self, panel: Option<PanelOnLine>) {
        self.panel = panel;
        self.mean = panel.map(|it| it.mean);
    }
}

/// One line of a comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparedLine {
    /// The key in JSON, such as `bitter` or `aroma:shelf:toasted`.
    pub id: String,
    /// The words on screen.
    pub label: String,
    /// What it is about.
    pub about: About,
    /// What it is held against.
    pub against: HeldAgainst,
    /// How much the brewer minds, where it was hoped for.
    pub matters: Option<Matters>,
    /// What was hoped for, in digits.
    pub hoped: Option<f64>,
    /// What was predicted.
    pub foreseen: Option<Foreseen>,
    /// What each set of notes says, in the order of [`Comparison::found`].
    pub noted: Vec<Noted>,
    /// The mean over tasters of what counts, in digits.
    pub mean: Option<f64>,
    /// What the tasters who count say together.
    pub panel: Option<PanelOnLine>,
    /// The standard deviation of that mean that is noise, in digits.
    pub noise: Option<f64>,
    /// What can be said.
    pub outcome: Outcome,
    /// The judgement behind it, where there was something to judge.
    pub judged: Option<Judged>,
    /// How far the tasters are known to answer above predictions on this line, in digits: taken off before it
    /// was judged. Learnt from other batches; none where nothing was, or against a hope.
    pub learnt_offset: Option<f64>,
    /// With `NotMentionedYet`: how many silent tastings it takes to say that it is not there.
    pub silent_tastings: Option<u32>,
    /// Of a shelf that nobody named: the chance that it is there all the same.
    pub present: Option<Probability>,
}

/// One promised word and who found it.
#[derive(Debug, Clone, PartialEq)]
pub struct PromisedLine {
    /// Which packet.
    pub packet: Name,
    /// The word.
    pub word: String,
    /// Who named it, or its shelf.
    pub found_by: Vec<String>,
    /// What can be said where nobody did.
    pub outcome: Outcome,
}

/// A word that nobody planned.
#[derive(Debug, Clone, PartialEq)]
pub struct UnplannedWord {
    /// What was named.
    pub word: String,
    /// By whom.
    pub found_by: Vec<String>,
    /// In how many of the tastings that count its shelf was named.
    pub named_in: u32,
    /// Whether that is more than slips make; none for what stands on no shelf.
    pub judged: Option<Unasked>,
    /// The chance that recipe and log gave it, where they do.
    pub foreseen: Option<f64>,
}

/// How a found word stands to a planned one that was not named.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Nearby {
    /// On the same shelf.
    Neighbour,
    /// Easily taken for it.
    LookAlike,
}

/// A planned word that was not named while one near it was.
#[derive(Debug, Clone, PartialEq)]
pub struct NearMiss {
    /// The planned word.
    pub planned: String,
    /// What was named instead.
    pub found: String,
    /// How they stand to each other.
    pub nearby: Nearby,
    /// How to tell the two apart, where the wheel says.
    pub tell: Option<String>,
    /// Who named it.
    pub by: Vec<String>,
}

/// Which notes count for verdicts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Counted {
    /// All there are.
    All,
    /// Those of a good nose that did not know the recipe; the others are shown.
    TheUnled,
    /// There is none of these: all were led, by the recipe or by a poor nose.
    OnlyLed,
}

/// Plan, prediction and notes of one beer.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The bottle.
    pub cap_mark: Name,
    /// Name and version of the recipe.
    pub recipe: String,
    /// The hopes with their dates.
    pub intent: DatedIntent,
    /// The sets of notes: those that count first, each part oldest first.
    pub found: Vec<Found>,
    /// How many of them count.
    pub counting: usize,
    /// Which ones those are.
    pub counted: Counted,
    /// The lines: hopes first, those that matter most and differ most in front, then the predictions.
    pub lines: Vec<ComparedLine>,
    /// What the packets promised.
    pub promised: Vec<PromisedLine>,
    /// Planned words that were missed by a hair.
    pub near_misses: Vec<NearMiss>,
    /// Words that nobody planned, most often found first.
    pub unplanned: Vec<UnplannedWord>,
    /// Shelves that recipe and log give and nobody hoped for, the likeliest first.
    pub also_foreseen: Vec<ComparedLine>,
    /// Finished second sniffs, apart from everything else.
    pub second_sniffs: Vec<SniffedBy>,
    /// Figures beside the scales.
    pub figures: Vec<FigureLine>,
    /// Cautions that hang on the figures.
    pub cautions: Vec<String>,
    /// What was wrong with the bottles whose notes were left out, one a bottle.
    pub faulty: Vec<BottleFault>,
    /// The version of the rules and of wheel and ingredients.
    pub versions: (String, String),
}

/// What one taster said when the glass was smelled once more, in the order asked.
#[derive(Debug, Clone, PartialEq)]
pub struct SniffedBy {
    /// Who.
    pub taster: Name,
    /// Each word with why it was asked for and what was said.
    pub words: Vec<(String, SniffKind, SniffAnswer)>,
}

impl Comparison {
    /// The lines that were hoped for.
    pub fn hopes(&self) -> impl Iterator<Item = &ComparedLine> {
        self.lines.iter().filter(|it| it.hoped.is_some())
    }

    /// The sets of notes that count.
    #[must_use]
    pub fn counting_notes(&self) -> &[Found] {
        self.found.get(..self.counting).unwrap_or_default()
    }

    /// What the noise of the verdicts rests on, the weakest of all; none without a verdict.
    #[must_use]
    pub fn noise_basis(&self) -> Option<NoiseBasis> {
        let judged = self.lines.iter().filter_map(|it| it.judged);
        judged.map(|it| it.basis).reduce(NoiseBasis::with)
    }
}
