//! A cap mark or a file as it is typed in a command: in quotes where a shell would tear it apart.

use std::borrow::Cow;

/// The text as one word of a command that a message suggests.
#[must_use]
pub fn typed_word(text: &str) -> Cow<'_, str> {
    let plain = |c: char| c.is_alphanumeric() || "-_./:,+@%".contains(c);
    if !text.is_empty() && text.chars().all(plain) {
        Cow::Borrowed(text)
    } else if text.contains(['"', '$', '`', '\\', '!']) {
        Cow::Owned(format!("'{}'", text.replace('\'', r"'\''")))
    } else {
        Cow::Owned(format!("\"{text}\""))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_a_shell_would_tear_apart_stands_in_quotes() {
        for (text, typed) in [
            ("HD1", "HD1"),
            ("stout.toml", "stout.toml"),
            ("Žatec-2", "Žatec-2"),
            ("Green dot", "\"Green dot\""),
            ("Ana's", "\"Ana's\""),
            ("a;b", "\"a;b\""),
            ("$1 \"x\"", "'$1 \"x\"'"),
            ("it's $1", r"'it'\''s $1'"),
            ("", "\"\""),
        ] {
            assert_eq!(typed_word(text), typed, "{text}");
        }
    }
}
