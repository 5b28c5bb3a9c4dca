//! The sheets of paper that things are printed on.

/// A sheet of paper, upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 mm by 297 mm (ISO 216).
    A4,
    /// 8½ by 11 inches (ANSI/ASME Y14.1).
    Letter,
}

impl Paper {
    /// Width and height, mm.
    #[must_use]
    pub const fn size(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
        }
    }

    /// What it is called.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "US letter",
        }
    }
}
