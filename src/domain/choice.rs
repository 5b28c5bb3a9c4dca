//! Closed lists: enums whose members have one id in files, columns and commands, and one word on screen.

/// Declares an enum over a closed list with its ids and words.
macro_rules! choices {
    ($($(#[$doc:meta])* $name:ident ($what:literal) { $($(#[$vdoc:meta])* $variant:ident = $id:literal, $word:literal;)+ })+) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name { $($(#[$vdoc])* $variant),+ }

        impl $name {
            /// All members, in the order of the list.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The id in files, columns and commands.
            #[must_use]
            pub const fn id(self) -> &'static str {
                match self { $(Self::$variant => $id),+ }
            }

            /// The words on screen.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// Reads an id.
            ///
            /// # Errors
            /// The text is not on the list; the message names the whole list.
            pub fn from_id(text: &str) -> Result<Self, $crate::domain::Invalid> {
                Self::ALL.iter().copied().find(|it| it.id() == text).ok_or_else(|| {
                    $crate::domain::Invalid::NotAChoice {
                        what: $what,
                        found: text.chars().take(60).collect(),
                        choices: Self::ALL.iter().map(|it| it.id()).collect::<Vec<_>>().join(", "),
                    }
                })
            }
        }
    )+};
}
pub(crate) use choices;
