//! A command as it is typed on one line, taken apart as far as examples go.

/// The words of a line: blanks separate, double quotes keep together.
pub(crate) fn typed_words(line: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (at, part) in line.split('"').enumerate() {
        if at % 2 == 1 {
            words.push(part.to_owned());
        } else {
            words.extend(part.split_whitespace().map(str::to_owned));
        }
    }
    words
}
