//! Why a blind test cannot be planned or read as asked.

/// Why a blind test cannot be planned or read as asked.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum Refused {
    /// A figure outside what it can be.
    #[error("{what} was given as {found}; it lies from {low} to {high}")]
    OutOfRange {
        /// Which figure.
        what: &'static str,
        /// What was given.
        found: f64,
        /// The least it can be.
        low: f64,
        /// The most it can be.
        high: f64,
    },
    /// An effect so small that no test of a sensible length finds it.
    #[error("to find so small a difference takes more than {most} answers; ask for a larger one")]
    TooSmallAnEffect {
        /// The longest test that is looked for.
        most: u32,
    },
    /// More glasses than there are codes that tell nothing.
    #[error(
        "{asked} glasses need a code each, and there are {most}; split the test over several days"
    )]
    TooManyGlasses {
        /// How many glasses.
        asked: u64,
        /// How many codes.
        most: u64,
    },
    /// A test without a direction cannot be put together with others.
    #[error("{method} fixed no direction beforehand, so it cannot be counted together with others")]
    NoDirection {
        /// The name of the method.
        method: &'static str,
    },
}
