//! What the variables of the process say about the terminal: its colours and its characters.

use std::env;

/// How many colours the terminal shows.
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum ColourDepth {
    /// No colours: bold, dim, reverse and underline carry the meaning.
    Mono,
    /// The sixteen named colours.
    Sixteen,
    /// The xterm palette: sixteen, a 6×6×6 cube and 24 greys.
    Palette256,
    /// Eight bits each of red, green and blue.
    True,
}

/// Which characters the terminal shows.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Charset {
    /// All of Unicode, as far as its font goes.
    Utf8,
    /// The 95 printable ones of ASCII; everything else gets a look-alike.
    Ascii,
}

/// What was read, once, from the variables of the process.
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Environment {
    /// The name in TERM; empty if there is none.
    pub term: String,
    /// From `NO_COLOR`, COLORTERM, TERM and TMUX.
    pub depth: ColourDepth,
    /// From `LC_ALL`, `LC_CTYPE` and LANG.
    pub charset: Charset,
}

/// Words in TERM that promise true colour where COLORTERM was lost on the way (remote logins).
const TRUE_COLOUR_TERMS: [&str; 6] = ["direct", "kitty", "alacritty", "foot", "wezterm", "ghostty"];

/// Terminals without colours, by their terminfo names.
const MONO_TERMS: [&str; 6] = ["", "dumb", "vt52", "vt100", "vt102", "vt220"];

impl Environment {
    /// Reads the variables of this process.
    #[must_use]
    pub fn from_process() -> Self {
        Self::from_lookup(|name| {
            env::var_os(name).map(|value| value.to_string_lossy().into_owned())
        })
    }

    /// Reads variables through `lookup`, which answers None for one that is not set.
    #[must_use]
    pub fn from_lookup(lookup: impl Fn(&str) -> Option<String>) -> Self {
        let read = |name: &str| lookup(name).unwrap_or_default();
        let term = read("TERM");
        let depth = if read("NO_COLOR").is_empty() {
            depth_of(&term, &read("COLORTERM"), &read("TMUX"))
        } else {
            // no-color.org: any value that is not empty counts.
            ColourDepth::Mono
        };
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"]
            .iter()
            .map(|name| read(name))
            .find(|value| !value.is_empty())
            .unwrap_or_default();
        Self {
            term,
            depth,
            charset: charset_of(&locale),
        }
    }

    /// Whether the terminal can place its cursor at all.
    #[must_use]
    pub fn can_place_cursor(&self) -> bool {
        self.term != "dumb"
    }
}

/// The colours of a terminal called `term`.
fn depth_of(term: &str, colorterm: &str, tmux: &str) -> ColourDepth {
    if MONO_TERMS.contains(&term) || term.ends_with("-m") || term.ends_with("-mono") {
        return ColourDepth::Mono;
    }
    if term == "linux" {
        return ColourDepth::Sixteen;
    }
    // A screen inside a true-colour terminal inherits COLORTERM without understanding it; tmux,
    // which uses the same TERM, does understand.
    let inherited = term.starts_with("screen") && tmux.is_empty();
    let promised = matches!(colorterm, "truecolor" | "24bit") && !inherited;
    if promised || TRUE_COLOUR_TERMS.iter().any(|word| term.contains(word)) {
        ColourDepth::True
    } else if term.contains("256color") {
        ColourDepth::Palette256
    } else {
        ColourDepth::Sixteen
    }
}

/// The characters of a locale such as `de_DE.UTF-8`; no locale at all means the C locale (POSIX).
fn charset_of(locale: &str) -> Charset {
    let lower = locale.to_ascii_lowercase();
    if lower.contains("utf-8") || lower.contains("utf8") {
        Charset::Utf8
    } else {
        Charset::Ascii
    }
}

#[cfg(test)]
mod tests {
    use super::Charset;
    use super::ColourDepth;
    use super::Environment;

    fn environment(variables: &[(&str, &str)]) -> Environment {
        Environment::from_lookup(|name| {
            variables
                .iter()
                .find(|(key, _)| *key == name)
                .map(|(_, value)| (*value).to_owned())
        })
    }

    #[test]
    fn the_depth_follows_term_and_colorterm() {
        let cases = [
            ("xterm-256color", "truecolor", ColourDepth::True),
            ("xterm-256color", "24bit", ColourDepth::True),
            ("xterm-256color", "", ColourDepth::Palette256),
            ("xterm-direct", "", ColourDepth::True),
            ("xterm", "", ColourDepth::Sixteen),
            ("linux", "truecolor", ColourDepth::Sixteen),
            ("screen-256color", "truecolor", ColourDepth::Palette256),
            ("vt100", "", ColourDepth::Mono),
            ("xterm-mono", "", ColourDepth::Mono),
            ("", "truecolor", ColourDepth::Mono),
        ];
        for (term, colorterm, expected) in cases {
            let found = environment(&[("TERM", term), ("COLORTERM", colorterm)]);
            assert_eq!(found.depth, expected, "TERM={term} COLORTERM={colorterm}");
        }
    }

    #[test]
    fn tmux_keeps_true_colour_under_the_name_of_screen() {
        let found = environment(&[
            ("TERM", "screen-256color"),
            ("COLORTERM", "truecolor"),
            ("TMUX", "socket,1,0"),
        ]);
        assert_eq!(found.depth, ColourDepth::True);
    }

    #[test]
    fn no_color_wins_unless_it_is_empty() {
        let colourful = ("COLORTERM", "truecolor");
        let term = ("TERM", "xterm-256color");
        assert_eq!(
            environment(&[term, colourful, ("NO_COLOR", "1")]).depth,
            ColourDepth::Mono
        );
        assert_eq!(
            environment(&[term, colourful, ("NO_COLOR", "")]).depth,
            ColourDepth::True
        );
    }

    #[test]
    fn the_first_locale_that_is_set_decides_as_posix_orders_them() {
        let utf8 = "de_DE.UTF-8";
        assert_eq!(environment(&[("LANG", utf8)]).charset, Charset::Utf8);
        assert_eq!(
            environment(&[("LANG", "en_GB.utf8")]).charset,
            Charset::Utf8
        );
        assert_eq!(
            environment(&[("LANG", utf8), ("LC_ALL", "C")]).charset,
            Charset::Ascii
        );
        assert_eq!(
            environment(&[("LANG", "C"), ("LC_CTYPE", utf8)]).charset,
            Charset::Utf8
        );
        assert_eq!(
            environment(&[("LC_ALL", ""), ("LANG", utf8)]).charset,
            Charset::Utf8
        );
        assert_eq!(environment(&[]).charset, Charset::Ascii);
    }

    #[test]
    fn only_a_dumb_terminal_cannot_place_its_cursor() {
        assert!(!environment(&[("TERM", "dumb")]).can_place_cursor());
        assert!(environment(&[("TERM", "xterm")]).can_place_cursor());
    }
}
