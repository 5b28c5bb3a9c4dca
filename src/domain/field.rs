//! The guided order of a tasting: which question follows which, in the full form and in the short glass.

use crate::domain::Invalid;
use crate::domain::SCALES;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::domain::choice::choices;

choices! {
    /// How much is asked.
    Form ("a form") {
        /// All five stages.
        Full = "full", "five stages";
        /// Five ratings, three words, liking: two minutes.
        Short = "short", "short glass";
    }
}

/// One question of a tasting.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Field {
    /// The check list before the glass, and which form to take.
    Checklist,
    /// What the taster knows beforehand.
    Knew,
    /// How the nose is.
    Nose,
    /// One quick sniff right after pouring: a word or two that come by themselves.
    FirstSniff,
    /// A scale.
    Scale(&'static Scale),
    /// Words of a stage, typed or walked to.
    Words(Stage),
    /// The aroma words again, now in the mouth.
    CarriedOver,
    /// Free notes.
    Remark,
    /// Everything is asked: look back, then lock.
    Lock,
}

/// The scales of the short glass besides liking.
const SHORT: [&str; 5] = ["aroma-intensity", "sweet", "bitter", "fullness", "dryness"];

impl Field {
    /// The text kept as the place where a taster stands.
    #[must_use]
    pub fn id(self) -> String {
        match self {
            Self::Checklist => "checklist".to_owned(),
            Self::Knew => "knew".to_owned(),
            Self::Nose => "nose".to_owned(),
            Self::FirstSniff => "first-sniff".to_owned(),
            Self::Scale(scale) => format!("scale:{}", scale.id),
            Self::Words(stage) => format!("words:{}", stage.id()),
            Self::CarriedOver => "carried-over".to_owned(),
            Self::Remark => "remark".to_owned(),
            Self::Lock => "lock".to_owned(),
        }
    }

    /// Reads [`Field::id`].
    ///
    /// # Errors
    /// No field has this text.
    pub fn from_id(text: &str) -> Result<Self, Invalid> {
        let unknown = || Invalid::Unreadable {
            what: "a place in a tasting",
            found: text.chars().take(60).collect(),
            example: "scale:bitter",
        };
        match text.split_once(':') {
            Some(("scale", id)) => Scale::from_id(id).map(Self::Scale),
            Some(("words", id)) => Stage::from_id(id).map(Self::Words),
            Some(_) => Err(unknown()),
            None => [
                Self::Checklist,
                Self::Knew,
                Self::Nose,
                Self::FirstSniff,
                Self::CarriedOver,
                Self::Remark,
                Self::Lock,
            ]
            .into_iter()
            .find(|field| field.id() == text)
            .ok_or_else(unknown),
        }
    }

    /// The heading under which a field stands.
    #[must_use]
    pub fn stage(self) -> Option<Stage> {
        match self {
            // Lacing is a look at the glass, but asked last: it belongs to no stage of the way.
            Self::Scale(scale) if scale.id == "lacing" => None,
            Self::Scale(scale) => scale.stage,
            Self::Words(stage) => Some(stage),
            Self::CarriedOver => Some(Stage::Flavour),
            Self::FirstSniff => Some(Stage::Aroma),
            Self::Checklist | Self::Knew | Self::Nose | Self::Remark | Self::Lock => None,
        }
    }
}

impl Form {
    /// The questions in their order.
    #[must_use]
    pub fn fields(self) -> Vec<Field> {
        let before = [Field::Checklist, Field::Knew, Field::Nose];
        let scales = |wanted: &dyn Fn(&Scale) -> bool| {
            SCALES
                .iter()
                .filter(|scale| wanted(scale))
                .map(Field::Scale)
                .collect::<Vec<_>>()
        };
        let mut fields = before.to_vec();
        match self {
            Self::Full => {
                let of = |stage: Stage| {
                    scales(&move |it: &Scale| it.stage == Some(stage) && it.id != "lacing")
                };
                fields.push(Field::FirstSniff);
                fields.extend(of(Stage::Appearance));
                fields.extend(of(Stage::Aroma));
                fields.push(Field::Words(Stage::Aroma));
                fields.push(Field::CarriedOver);
                fields.push(Field::Words(Stage::Flavour));
                fields.extend(of(Stage::Flavour));
                fields.extend(of(Stage::Body));
                fields.extend(of(Stage::Finish));
                fields.extend(scales(&|it| it.id == "lacing" || it.stage.is_none()));
                fields.push(Field::Remark);
            }
            Self::Short => {
                fields.extend(scales(&|it| it.id == SHORT[0]));
                fields.push(Field::Words(Stage::Flavour));
                fields.extend(scales(&|it| SHORT[1..].contains(&it.id)));
                fields.extend(scales(&|it| it.id == "liking"));
            }
        }
        fields.push(Field::Lock);
        fields
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_survives_its_text_form_and_stands_once() {
        for form in [Form::Full, Form::Short] {
            let fields = form.fields();
            for (index, field) in fields.iter().enumerate() {
                assert_eq!(Field::from_id(&field.id()), Ok(*field));
                assert!(!fields[index + 1..].contains(field), "{}", field.id());
            }
        }
    }

    #[test]
    fn the_full_form_asks_every_scale_and_the_short_glass_five_and_liking() {
        let asked = |form: Form| {
            form.fields()
                .iter()
                .filter(|field| matches!(field, Field::Scale(_)))
                .count()
        };
        assert_eq!(asked(Form::Full), SCALES.len());
        assert_eq!(asked(Form::Short), 6);
    }
}
