//! A photograph of a glass, a label or a paper sheet, as it is kept: small, upright, without place and camera.

use crate::domain::Moment;
use crate::domain::NotesId;
use crate::domain::PhotographId;
use crate::domain::choice::choices;

choices! {
    /// What a photograph is of.
    PhotographKind ("what a photograph is of") {
        /// The beer in its glass.
        Glass = "glass", "the glass";
        /// The label of the bottle.
        Label = "label", "the label";
        /// A sheet of paper that was written on.
        Sheet = "sheet", "a paper sheet";
    }
}

/// What is known of one photograph; its bytes are read apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photograph {
    /// The id.
    pub id: PhotographId,
    /// Which of its beer's it is, from 1; the number stays when others are removed.
    pub number: u32,
    /// What it is of.
    pub kind: PhotographKind,
    /// The notes it belongs to, if it belongs to any.
    pub notes: Option<NotesId>,
    /// The kind of file, such as `image/jpeg`.
    pub media_type: String,
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// SHA-256 of the bytes, in hex.
    pub sha256: String,
    /// How many bytes there are.
    pub length: u32,
    /// When it was copied in.
    pub made_at: Moment,
}
