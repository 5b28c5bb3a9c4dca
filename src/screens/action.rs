//! What a key can do.

/// What a key does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Action {
    /// Accepts, goes on.
    Accept,
    /// Goes back without loss.
    Back,
    /// Takes the last thing back.
    Undo,
    /// Passes a question over.
    Skip,
    /// Says that it cannot be told.
    CannotTell,
    /// Moves up, or to the question before.
    Up,
    /// Moves down, or to the question after.
    Down,
    /// Moves left.
    Left,
    /// Moves right; opens the market.
    Right,
    /// Goes to the next stage.
    NextStage,
    /// Goes to the stage before.
    PreviousStage,
    /// Starts or stops the watch.
    Watch,
    /// Something is smelled that has no name yet.
    Unnameable,
    /// Walks through all places.
    Sweep,
    /// A second pass as the glass warms.
    SecondPass,
    /// Smells the glass once more for words that were hoped for, among decoys.
    SecondSniff,
    /// Something is wrong with the bottle.
    Fault,
    /// The short glass.
    Short,
    /// Yes.
    Yes,
    /// No.
    No,
    /// Shows the market as a round wheel.
    Round,
    /// Turns to the next one whose marks the wheel shows.
    Whose,
    /// Adds something.
    Add,
    /// Shows how many friends and rounds a blind test takes.
    HowMany,
    /// Turns to the next method of testing.
    Method,
    /// Turns to the next difference that is to be noticed.
    Difference,
    /// Opens a taster's record.
    Record,
    /// Holds another beer against this one.
    Against,
    /// Shows why a prediction is what it is.
    Why,
    /// Tells what to brew next.
    NextBrew,
    /// Plans the blind test of a batch against the one it was changed from.
    Prove,
    /// Shows what predictions have learnt of a taster.
    Learnt,
    /// Opens the history of a recipe.
    History,
    /// Prints what is shown.
    Print,
    /// Opens what can be done with everything of this home.
    Everything,
    /// Opens the photographs of a beer.
    Photographs,
    /// Opens the list of tasters.
    Tasters,
    /// Removes what is shown or chosen.
    Remove,
    /// Leaves a tasting for good, without locking.
    Leave,
    /// Scrolls down.
    PageDown,
    /// Scrolls up.
    PageUp,
    /// Goes to the first row or line.
    First,
    /// Goes to the last row or line.
    Last,
    /// Explains the screen.
    Explain,
    /// Ends the app.
    Quit,
}
