//! The nouns of the trade and what makes each of them valid.

mod batch;
mod beer;
mod blind_test;
mod blinding_code;
pub(crate) mod choice;
mod condition;
mod course;
mod descriptor;
mod field;
mod gift;
mod hint;
mod hop_oil;
mod id;
mod ingredient;
mod intent;
mod invalid;
mod jar_content;
mod kept_prediction;
mod larder;
mod moment;
mod name;
mod name_nearness;
mod notes;
mod notes_change;
mod origin;
mod panel;
mod panel_rating;
mod photograph;
mod practice;
mod proposal;
mod quantity;
mod recipe;
mod recipe_change;
mod removal;
mod scale;
mod scales;
mod second_sniff;
mod settings;
mod sitting;
mod stage;
mod strength;
mod taster;
mod wheel;
mod word_search;

pub use batch::{Batch, BatchEntry, ENTRY_KINDS, EntryKind, EntryMeasure, EntryValue};
pub use beer::Beer;
pub use blind_test::{
    Aims, BeerSide, BlindTest, Direction, Pouring, Purpose, SheetKind, Stopping, Sureness,
    TakenPlace, TestAnswer, TestSet,
};
pub use blinding_code::BlindingCode;
pub use condition::{Condition, ConditionKind};
pub use course::{Course, Meeting, MeetingCount, MeetingPart};
pub use descriptor::{Allergen, Caution, Descriptor, Jar, JarUse, LookAlike, Reference};
pub use field::{Field, Form};
pub use gift::{Fate, FlavourUnits, Gift, Gifts, Grain, GramsPerLitre, Holds, HopPart};
pub use hint::{Beyond, Hint, HintCondition, HintMeasure, HintOdds};
pub use hop_oil::HopOil;
pub use id::{
    BatchEntryId, BatchId, BeerId, CourseId, DescriptorId, IngredientId, MarkId, MeetingId,
    NotesId, PhotographId, PlaceId, PracticeAnswerId, PredictionId, ProposalId, RecipeVersionId,
    SampleId, SeatId, ShelfId, SittingId, SniffedWordId, TasterId, TestAnswerId, TestId,
};
pub use ingredient::{
    Catalogue, Diastatic, DoubleIngredient, Fermentable, FermentableFamily, Ferments, Goes, Hop,
    Identity, Ion, IonContent, Other, OtherKind, Yeast,
};
pub use intent::{Intent, Line, Matters, Promise, Target};
pub use invalid::Invalid;
pub use kept_prediction::{KeptPrediction, PredictedLine};
pub use larder::{Larder, LarderItem};
pub use moment::{Day, Moment};
pub use name::{Name, Remark, hides, is_same_name};
pub use name_nearness::{NEAR, NearNames};
pub use notes::{
    BottleFault, Knew, Mark, Nose, Notes, NotesSource, Prompting, Rating, Stopwatch, Subject,
};
pub use notes_change::NotesChange;
pub use origin::{BeerKind, Cause, CauseWeight, Compound, Origin, Standing};
pub use panel::Panel;
pub use panel_rating::{Import, PanelRating};
pub use photograph::{Photograph, PhotographKind};
pub use practice::{
    Certainty, ItemForm, Practice, PracticeAnswer, PracticeItem, PracticeKind, PracticeReply,
    Reveal, Spiked,
};
pub use proposal::{KeptProposal, PromisedChange, Proposed, ProposedTest};
pub use quantity::{
    Abv, Acidity, CellDensity, Celsius, Days, Ebc, Grams, Gravity, Litres, MilligramsPerGram,
    MilligramsPerLitre, Millilitres, Minutes, Percent, PricePerKilogram, Risk, Share, Spread,
    Volumes,
};
pub use recipe::{
    Bottle, FermentableUse, HopStorage, HopTime, HopUse, Mash, OtherUse, Packaging, PrimingSugar,
    Recipe, RecipeVersion, Water, YeastUse,
};
pub use recipe_change::{Part, RecipeChange};
pub use removal::{Removal, RemovedKind};
pub use scale::{Anchors, Measure, Scale, Series};
pub use scales::SCALES;
pub use second_sniff::{FoundOf, SecondSniff, SniffAnswer, SniffKind, SniffedWord};
pub use settings::{Colours, Settings, SheetSize, Signs};
pub use sitting::{Sample, Seat, SeatRole, Sitting, SittingKind};
pub use stage::Stage;
pub use strength::{Digit, SeriesStep, StrengthAnswer, StrengthGlass, StrengthReply};
pub use taster::Taster;
pub use wheel::{Place, Shelf, Wheel, WheelProblem};
pub use word_search::nearest_names;
