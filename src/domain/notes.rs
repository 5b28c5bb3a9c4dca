//! What one taster recorded of one glass.

use crate::domain::Day;
use crate::domain::DescriptorId;
use crate::domain::Form;
use crate::domain::MarkId;
use crate::domain::Moment;
use crate::domain::NotesId;
use crate::domain::PlaceId;
use crate::domain::Remark;
use crate::domain::SampleId;
use crate::domain::Scale;
use crate::domain::SeatId;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::choice::choices;

choices! {
    /// What the taster knew of the beer beforehand.
    Knew ("what was known beforehand") {
        /// Nothing at all.
        Nothing = "nothing", "nothing";
        /// Which beer it is.
        WhichBeer = "which-beer", "which beer it is";
        /// The recipe.
        Recipe = "recipe", "the recipe";
        /// An earlier reveal of the same batch.
        EarlierReveal = "earlier-reveal", "an earlier reveal of this batch";
    }

    /// The state of the nose.
    Nose ("the state of the nose") {
        /// As good as usual.
        Fine = "fine", "as good as usual";
        /// A cold.
        Cold = "cold", "I have a cold";
        /// After a meal or strong food.
        Meal = "meal", "I have just eaten";
        /// Tired.
        Tired = "tired", "I am tired";
    }

    /// Where the notes came from.
    NotesSource ("where notes came from") {
        /// Typed in the app while tasting.
        App = "app", "in the app";
        /// Typed line by line while tasting.
        Plain = "plain", "line by line";
        /// Read from a document.
        Document = "document", "from a document";
        /// Typed in from a sheet on which the taster wrote.
        Paper = "paper", "from paper";
    }

    /// Whether a word came by itself.
    Prompting ("whether a word was asked for") {
        /// The taster named it unasked.
        Unprompted = "unprompted", "named";
        /// The app asked for it.
        Prompted = "prompted", "asked for";
    }

    /// What can be wrong with a bottle.
    BottleFault ("what is wrong with a bottle") {
        /// It gushes.
        Gushing = "gushing", "it gushes";
        /// It is flat.
        Flat = "flat", "it is flat";
        /// It has gone sour though it should not be.
        Sour = "sour", "it has turned sour";
        /// Mould or a film.
        Mould = "mould", "mould or a film on top";
        /// Chipped or broken glass.
        Glass = "glass", "chipped or broken glass";
    }
}

impl BottleFault {
    /// Those that warn of every other bottle of the batch, the worst first.
    pub const WARNING: [Self; 3] = [Self::Gushing, Self::Mould, Self::Glass];
}

/// One answer on a scale; silence is the absence of a rating, never 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Rating {
    /// A value in the unit of the scale.
    Rated(f64),
    /// Asked and passed over.
    Skipped,
    /// Asked, and the taster cannot tell.
    CannotTell,
}

impl Rating {
    /// The value in the unit of its scale, if one was given.
    #[must_use]
    pub const fn value(self) -> Option<f64> {
        match self {
            Self::Rated(value) => Some(value),
            Self::Skipped | Self::CannotTell => None,
        }
    }

    /// The id of what kind of answer it is, in files and columns.
    #[must_use]
    pub const fn state(self) -> &'static str {
        match self {
            Self::Rated(_) => "rated",
            Self::Skipped => "skipped",
            Self::CannotTell => "cannot-tell",
        }
    }
}

/// What a mark names.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Subject {
    /// A word of the wheel.
    Descriptor(DescriptorId),
    /// A shelf, where the word would not come.
    Shelf(ShelfId),
    /// A place, where not even the shelf would come.
    Place(PlaceId),
    /// The taster's own words.
    Free(Remark),
}

/// One thing named at a stage.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// The id.
    pub id: MarkId,
    /// At which stage.
    pub stage: Stage,
    /// What.
    pub subject: Subject,
    /// How strong, 0 to 9; none while not yet said.
    pub intensity: Option<u8>,
    /// Whether the app asked for it.
    pub prompting: Prompting,
}

/// A running or stopped watch on a scale in seconds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stopwatch {
    /// Which scale it times.
    pub scale: &'static Scale,
    /// When it was started.
    pub started_at: Moment,
    /// When it was stopped.
    pub stopped_at: Option<Moment>,
}

/// The notes as stored, with all that hangs on them.
#[derive(Debug, Clone, PartialEq)]
pub struct Notes {
    /// The id.
    pub id: NotesId,
    /// Whose.
    pub seat: SeatId,
    /// Of which glass.
    pub sample: SampleId,
    /// 1 for the first pass, 2 for the pass as it warms.
    pub round: u8,
    /// Which form.
    pub form: Form,
    /// How they were typed.
    pub source: NotesSource,
    /// What the taster knew.
    pub knew: Option<Knew>,
    /// How the nose was.
    pub nose: Option<Nose>,
    /// The day of tasting.
    pub tasted_on: Day,
    /// When typing began.
    pub typed_on: Moment,
    /// Where the taster stands; the text form of a field.
    pub current_field: String,
    /// When the seal was broken on purpose, if it was.
    pub seal_broken_at: Option<Moment>,
    /// When the notes became final.
    pub locked_at: Option<Moment>,
    /// What was wrong with the bottle, if anything; such notes carry no ratings into comparisons.
    pub bottle_fault: Option<BottleFault>,
    /// Free notes at the end.
    pub remark: Option<Remark>,
    /// The answers on scales, one a scale.
    pub ratings: Vec<(&'static Scale, Rating)>,
    /// The words, in the order in which they were named.
    pub marks: Vec<Mark>,
    /// The watches.
    pub stopwatches: Vec<Stopwatch>,
}

impl Notes {
    /// The answer on a scale, if it was asked and answered.
    #[must_use]
    pub fn rating(&self, scale: &Scale) -> Option<Rating> {
        self.ratings
            .iter()
            .find(|(it, _)| it.id == scale.id)
            .map(|(_, rating)| *rating)
    }

    /// The marks of a stage, in order.
    pub fn marks_at(&self, stage: Stage) -> impl Iterator<Item = &Mark> {
        self.marks.iter().filter(move |mark| mark.stage == stage)
    }

    /// The watch on a scale, if one was started.
    #[must_use]
    pub fn stopwatch(&self, scale: &Scale) -> Option<Stopwatch> {
        self.stopwatches
            .iter()
            .copied()
            .find(|it| it.scale.id == scale.id)
    }
}
