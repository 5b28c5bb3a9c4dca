//! The commands of blind tests as typed.

use std::path::PathBuf;

use clap::Args;
use clap::Subcommand;

use crate::domain::Purpose;

/// What to do with blind tests.
#[derive(Debug, Subcommand)]
pub enum BlindCommand {
    /// How many answers a test takes, what your friends are worth, and what it costs in beer.
    #[command(
        after_help = "Examples:\n  thirdglass blind size --friends 7\n  thirdglass blind size --friends 7 --svg power.svg\n  thirdglass blind size --pd 0.3 --alpha 0.05 --beta 0.1 --method tetrad --json"
    )]
    Size(Size),
    /// Plan a test of two beers: everything is drawn and kept.
    #[command(
        after_help = "Examples:\n  thirdglass blind plan S1 S2 --tasters 7\n  thirdglass blind plan S1 S2 --tasters 6 --rounds 2 --method 2-afc --more bitter --expect S2"
    )]
    Plan(Plan),
    /// List all tests.
    #[command(after_help = "Example:\n  thirdglass blind list")]
    List {
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// What goes into which cup, labels, and ballots.
    #[command(
        after_help = "Examples:\n  thirdglass blind sheet 1 --for pourer --as Hob\n  thirdglass blind sheet 1 --for ballots"
    )]
    Sheet(Sheet),
    /// Keep one answer, from paper or typed.
    #[command(
        after_help = "Example:\n  thirdglass blind answer 1 --taster Ana --choose 318 --sure rather --leave"
    )]
    Answer(Answer),
    /// Close a test: no more answers, and the key may be seen.
    #[command(after_help = "Example:\n  thirdglass blind close 1")]
    Close(Close),
    /// One taster's answers over all closed tests, beside the others at the same tests.
    #[command(after_help = "Example:\n  thirdglass blind record Ana")]
    Record {
        /// Who.
        name: String,
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// What a closed test says, and all tests of the same two beers together.
    #[command(
        after_help = "Examples:\n  thirdglass blind result 1\n  thirdglass blind result 1 --all"
    )]
    Result(Outcome),
}

/// The end of a test.
#[derive(Debug, Args)]
pub struct Close {
    /// The number of the test.
    pub test: u32,
    /// Although answers are missing; the result says so.
    #[arg(long)]
    pub early: bool,
}

/// What a test says.
#[derive(Debug, Args)]
pub struct Outcome {
    /// The number of the test.
    pub test: u32,
    /// Every figure, who was right, and the plan with its commitment.
    #[arg(long)]
    pub all: bool,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// A sheet.
#[derive(Debug, Args)]
pub struct Sheet {
    /// The number of the test.
    pub test: u32,
    /// Which sheet: pourer, server, labels or ballots.
    #[arg(long = "for", value_name = "SHEET")]
    pub kind: String,
    /// Who looks at what is in the cups, and cannot taste in this test any more.
    #[arg(long = "as", value_name = "NAME")]
    pub viewer: Option<String>,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// The risks of a test and the difference that matters.
#[derive(Debug, Args)]
pub struct Risks {
    /// The method: triangle, tetrad, duo-trio, 2-afc, 2-afc-either or 3-afc.
    #[arg(long, default_value = "triangle")]
    pub method: String,
    /// The risk of seeing a difference that is not there.
    #[arg(long, default_value_t = 0.05)]
    pub alpha: f64,
    /// The risk of missing one that is.
    #[arg(long, default_value_t = 0.2)]
    pub beta: f64,
    /// The share of people who can tell the two apart that matters.
    #[arg(long, default_value_t = 0.5)]
    pub pd: f64,
    /// Millilitres in one glass; what the settings say if left out, 30 unless changed.
    #[arg(long)]
    pub ml: Option<f64>,
}

/// What a test is to show.
#[derive(Debug, Args)]
pub struct Shows {
    /// To show that the two are alike enough, instead of a difference.
    #[arg(long)]
    similarity: bool,
}

impl Shows {
    /// What was asked for.
    #[must_use]
    pub const fn purpose(&self) -> Purpose {
        if self.similarity {
            Purpose::Similarity
        } else {
            Purpose::Difference
        }
    }
}

/// How many answers.
#[derive(Debug, Args)]
pub struct Size {
    /// Method, risks and glass.
    #[command(flatten)]
    pub risks: Risks,
    /// The distance d′ that matters, instead of a share.
    #[arg(long, value_name = "D", conflicts_with = "pd")]
    pub dprime: Option<f64>,
    /// How many friends there are.
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=1_000))]
    pub friends: Option<u32>,
    /// Sets for each of them.
    #[arg(long, default_value_t = 1, requires = "friends", value_parser = clap::value_parser!(u32).range(1..=20))]
    pub rounds: u32,
    /// How strong the beers are, % vol.
    #[arg(long, default_value_t = 5.0)]
    pub abv: f64,
    /// What it is to show.
    #[command(flatten)]
    pub shows: Shows,
    /// The picture alone into this file, as SVG; it must not exist yet.
    #[arg(long, value_name = "FILE", conflicts_with = "json")]
    pub svg: Option<PathBuf>,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// A plan.
#[derive(Debug, Args)]
pub struct Plan {
    /// The cap mark of one bottle.
    pub one: String,
    /// The cap mark of the other.
    pub other: String,
    /// How many people taste.
    #[arg(long, value_parser = people)]
    pub tasters: u16,
    /// Sets for each of them.
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=20))]
    pub rounds: u16,
    /// Method, risks and glass.
    #[command(flatten)]
    pub risks: Risks,
    /// What it is to show.
    #[command(flatten)]
    pub shows: Shows,
    /// What one may have more of, for 2-afc and 3-afc.
    #[arg(long, value_name = "WORD")]
    pub more: Option<String>,
    /// The bottle that is expected to have more of it.
    #[arg(long, value_name = "MARK")]
    pub expect: Option<String>,
    /// When it stops: fixed, sequential or evidence.
    #[arg(long, default_value = "fixed")]
    pub stop: String,
    /// Who pours: two, one or alone.
    #[arg(long, default_value = "one")]
    pub pour: String,
    /// The seed of everything drawn; the same seed gives the same plan.
    #[arg(long)]
    pub seed: Option<u64>,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// One answer.
#[derive(Debug, Args)]
pub struct Answer {
    /// The number of the test.
    pub test: u32,
    /// Who answers.
    #[arg(long, value_name = "NAME")]
    pub taster: String,
    /// The place on the sheet before which this taster's cups stand; found by the code if left out.
    #[arg(long)]
    pub place: Option<u16>,
    /// Which of the taster's sets; the first one without an answer if left out.
    #[arg(long)]
    pub set: Option<u16>,
    /// The code of the glass chosen; without it the set is told.
    #[arg(long, value_name = "CODE")]
    pub choose: Option<u16>,
    /// How sure: guess, rather or sure.
    #[arg(long)]
    pub sure: Option<String>,
    /// What differed, words with commas between.
    #[arg(long)]
    pub words: Option<String>,
    /// The code of the glass liked better.
    #[arg(long, value_name = "CODE")]
    pub prefers: Option<u16>,
    /// Typed from a ballot on paper.
    #[arg(long)]
    pub paper: bool,
    /// Leave for good: after this nothing of the taster's answers can be seen or changed.
    #[arg(long)]
    pub leave: bool,
}

/// How many people; names are no number yet.
fn people(text: &str) -> Result<u16, String> {
    let count = text.trim().parse().ok();
    count.filter(|it| (1..=1_000).contains(it)).ok_or_else(|| {
        "a number of people from 1 to 1000 is wanted here; their names are asked when they sit down"
            .to_owned()
    })
}
