//! Words as they stand at the beginning of a sentence, or inside one.

/// The words with a capital letter in front.
#[must_use]
pub fn capitalised(words: &str) -> String {
    first_letter(words, |it| it.to_uppercase().collect())
}

/// The words with a small letter in front.
#[must_use]
pub fn uncapitalised(words: &str) -> String {
    first_letter(words, |it| it.to_lowercase().collect())
}

fn first_letter(words: &str, change: impl Fn(char) -> String) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(change).unwrap_or_default();
    first + letters.as_str()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_first_letter_changes() {
        assert_eq!(capitalised("more than Meant"), "More than Meant");
        assert_eq!(
            uncapitalised("Lingering bitterness"),
            "lingering bitterness"
        );
        assert_eq!(capitalised("égal"), "Égal");
        assert_eq!(capitalised(""), "");
    }
}
