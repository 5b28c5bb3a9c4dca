//! Rust text as the tests of the house see it: code, comments and strings apart, tests apart, functions measured.

/// What a character belongs to.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
enum Kind {
    Code,
    Comment,
    Text,
}

/// One file, taken apart.
pub(crate) struct Source {
    /// Where it lies, from the top of the project.
    pub(crate) path: String,
    /// Its lines as written.
    pub(crate) lines: Vec<String>,
    /// Its lines with comments and strings blanked out.
    pub(crate) code: Vec<String>,
    /// Its lines with everything but strings blanked out.
    pub(crate) strings: Vec<String>,
    /// Whether each line belongs to a part that only tests see.
    pub(crate) tested: Vec<bool>,
}

/// A function that stands in a file.
pub(crate) struct Function {
    /// Its name.
    pub(crate) name: String,
    /// The line of its `fn`, from 1.
    pub(crate) line: usize,
    /// Lines from `fn` to its closing brace, both counted, comments and blanks too.
    pub(crate) length: usize,
}

/// A path that starts at a crate, such as `crate::domain::Wheel` or `chrono::Utc`.
#[derive(Debug, Eq, PartialEq)]
pub(crate) struct PathUse {
    /// Its line, from 1.
    pub(crate) line: usize,
    /// Its segments.
    pub(crate) segments: Vec<String>,
}

/// A `use` statement.
pub(crate) struct Import {
    /// Its line, from 1.
    pub(crate) line: usize,
    /// Its text on one line, from `use` or `pub` to before the semicolon.
    pub(crate) text: String,
}

impl Source {
    /// Takes `text` apart.
    pub(crate) fn new(path: &str, text: &str) -> Self {
        let kinds = kinds(text);
        let code = only(text, &kinds, Kind::Code);
        let strings = only(text, &kinds, Kind::Text);
        let tested = tested(&code);
        let lines = |text: &str| text.lines().map(str::to_owned).collect();
        Self {
            path: path.to_owned(),
            lines: lines(text),
            code: lines(&code),
            strings: lines(&strings),
            tested,
        }
    }

    /// Lines that are not tests; tests stand at the end.
    pub(crate) fn length(&self) -> usize {
        self.tested.iter().filter(|it| !**it).count()
    }

    /// Modules of other files that only tests see: `#[cfg(test)] mod name;`.
    pub(crate) fn test_modules(&self) -> Vec<String> {
        self.code
            .windows(2)
            .filter(|pair| pair[0].trim() == "#[cfg(test)]")
            .filter_map(|pair| pair[1].trim().strip_prefix("mod ")?.strip_suffix(';'))
            .map(str::to_owned)
            .collect()
    }

    /// Its functions outside tests.
    pub(crate) fn functions(&self) -> Vec<Function> {
        let chars: Vec<char> = self.code.join("\n").chars().collect();
        words(&chars)
            .filter(|(_, word)| word == "fn")
            .filter_map(|(start, _)| function(&chars, start))
            .filter(|it| !self.tested[it.line - 1])
            .collect()
    }

    /// Every path of two segments or more that starts at a crate, wherever it stands.
    pub(crate) fn paths(&self) -> Vec<PathUse> {
        let mut found = Vec::new();
        for (index, line) in self.code.iter().enumerate() {
            let chars: Vec<char> = line.chars().collect();
            for (start, word) in words(&chars) {
                if !continues(&chars, start) {
                    let segments = segments(&chars, start, word);
                    if segments.len() > 1 {
                        found.push(PathUse {
                            line: index + 1,
                            segments,
                        });
                    }
                }
            }
        }
        found
    }

    /// Its `use` statements.
    pub(crate) fn imports(&self) -> Vec<Import> {
        let mut found = Vec::new();
        for (index, line) in self.code.iter().enumerate() {
            let opened = line.trim();
            let visible = opened
                .strip_prefix("pub(crate) ")
                .or_else(|| opened.strip_prefix("pub "));
            if visible.unwrap_or(opened).starts_with("use ") {
                let whole = self.code[index..].join(" ");
                let end = whole.find(';').unwrap_or(whole.len());
                found.push(Import {
                    line: index + 1,
                    text: whole[..end].trim().to_owned(),
                });
            }
        }
        found
    }

    /// Names of modules and types declared here, with their lines.
    pub(crate) fn declared(&self) -> Vec<(usize, String)> {
        let mut found = Vec::new();
        for (index, line) in self.code.iter().enumerate() {
            let chars: Vec<char> = line.chars().collect();
            let words: Vec<String> = words(&chars).map(|(_, word)| word).collect();
            for pair in words.windows(2) {
                let kinds = ["mod", "struct", "enum", "trait", "type", "union"];
                if kinds.contains(&pair[0].as_str()) {
                    found.push((index + 1, pair[1].clone()));
                }
            }
        }
        found
    }
}

/// The words inside a name, in lower case: `HomeFolder` and `home_folder` are home and folder.
pub(crate) fn words_of_name(name: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    for letter in name.chars() {
        if letter == '_' || letter.is_uppercase() {
            words.push(String::new());
        }
        if letter != '_' {
            let last = words.last_mut().expect("it starts with one");
            last.extend(letter.to_lowercase());
        }
    }
    words.retain(|it| !it.is_empty());
    words
}

/// What every character of `text` belongs to; quotes belong to their string.
fn kinds(text: &str) -> Vec<Kind> {
    let chars: Vec<char> = text.chars().collect();
    let mut kinds = Vec::with_capacity(chars.len());
    while kinds.len() < chars.len() {
        let at = kinds.len();
        let (kind, end) = piece(&chars, at);
        kinds.resize(end.clamp(at + 1, chars.len()), kind);
    }
    kinds
}

/// The kind of what starts at `at`, and where it ends.
fn piece(chars: &[char], at: usize) -> (Kind, usize) {
    let rest = &chars[at..];
    let starts = |text: &str| text.chars().eq(rest.iter().copied().take(text.len()));
    if starts("//") {
        let end = rest.iter().position(|it| *it == '\n');
        return (Kind::Comment, at + end.unwrap_or(rest.len()));
    }
    if starts("/*") {
        return (Kind::Comment, at + block_comment(rest));
    }
    if rest[0] == '"' {
        return (Kind::Text, at + quoted(rest, '"'));
    }
    if rest[0] == 'r' && !follows_letter(chars, at) {
        let hashes = rest[1..].iter().take_while(|it| **it == '#').count();
        if rest.get(1 + hashes) == Some(&'"') {
            return (Kind::Text, at + raw_string(rest, hashes));
        }
    }
    if rest[0] == '\'' && (rest.get(1) == Some(&'\\') || rest.get(2) == Some(&'\'')) {
        return (Kind::Text, at + quoted(rest, '\''));
    }
    (Kind::Code, at + 1)
}

/// A raw string may follow a `b` or `c`, any other letter makes its `r` part of a name.
fn follows_letter(chars: &[char], at: usize) -> bool {
    at > 0 && is_name(chars[at - 1]) && !matches!(chars[at - 1], 'b' | 'c')
}

fn block_comment(rest: &[char]) -> usize {
    let mut depth = 0_usize;
    let mut at = 0;
    while at < rest.len() {
        match (rest[at], rest.get(at + 1)) {
            ('/', Some('*')) => (depth, at) = (depth + 1, at + 2),
            ('*', Some('/')) => (depth, at) = (depth - 1, at + 2),
            _ => at += 1,
        }
        if depth == 0 {
            return at;
        }
    }
    rest.len()
}

fn quoted(rest: &[char], quote: char) -> usize {
    let mut at = 1;
    while at < rest.len() && rest[at] != quote {
        at += if rest[at] == '\\' { 2 } else { 1 };
    }
    at + 1
}

fn raw_string(rest: &[char], hashes: usize) -> usize {
    let start = hashes + 2;
    let closes = |at: &usize| {
        rest[*at] == '"'
            && rest[at + 1..]
                .iter()
                .take(hashes)
                .filter(|it| **it == '#')
                .count()
                == hashes
    };
    (start..rest.len())
        .find(closes)
        .map_or(rest.len(), |end| end + 1 + hashes)
}

/// `text` with everything but one kind, and the ends of lines, blanked out.
fn only(text: &str, kinds: &[Kind], wanted: Kind) -> String {
    text.chars()
        .zip(kinds)
        .map(|(it, kind)| {
            if it == '\n' || *kind == wanted {
                it
            } else {
                ' '
            }
        })
        .collect()
}

/// Which lines of `code` stand in an item after `#[cfg(test)]`.
fn tested(code: &str) -> Vec<bool> {
    let mut tested = vec![false; code.lines().count()];
    let chars: Vec<char> = code.chars().collect();
    let line_of = |at: usize| chars[..at].iter().filter(|it| **it == '\n').count();
    for (bytes, mark) in code.match_indices("#[cfg(test)]") {
        let start = code[..bytes].chars().count();
        let after = start + mark.len();
        let Some(opened) = body(&chars, after) else {
            continue;
        };
        let end = if chars[opened] == '{' {
            closing(&chars, opened)
        } else {
            opened
        };
        tested[line_of(start)..=line_of(end)].fill(true);
    }
    tested
}

/// The brace that opens the body of the item at `start`, or the semicolon it does without.
fn body(chars: &[char], start: usize) -> Option<usize> {
    let mut depth = 0_i32;
    (start..chars.len()).find(|at| {
        depth += match chars[*at] {
            '(' | '[' => 1,
            ')' | ']' => -1,
            _ => 0,
        };
        depth == 0 && matches!(chars[*at], '{' | ';')
    })
}

/// Where the brace opened at `opened` closes.
fn closing(chars: &[char], opened: usize) -> usize {
    let mut depth = 0_usize;
    for (at, letter) in chars.iter().enumerate().skip(opened) {
        match letter {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return at;
        }
    }
    chars.len() - 1
}

/// The function whose `fn` stands at `start`; None for a type, or a function without a body.
fn function(chars: &[char], start: usize) -> Option<Function> {
    let name: String = chars[start + 2..]
        .iter()
        .skip_while(|it| it.is_whitespace())
        .take_while(|it| is_name(**it))
        .collect();
    let opened = body(chars, start)?;
    if name.is_empty() || chars[opened] == ';' {
        return None;
    }
    let lines = |part: &[char]| part.iter().filter(|it| **it == '\n').count() + 1;
    Some(Function {
        name,
        line: lines(&chars[..start]),
        length: lines(&chars[start..=closing(chars, opened)]),
    })
}

fn is_name(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_'
}

/// Every word of `chars` with where it starts.
fn words(chars: &[char]) -> impl Iterator<Item = (usize, String)> {
    (0..chars.len())
        .filter(|at| is_name(chars[*at]) && (*at == 0 || !is_name(chars[at - 1])))
        .map(|at| {
            let word = chars[at..].iter().take_while(|it| is_name(**it)).collect();
            (at, word)
        })
}

/// True when the word at `start` goes on with a path that began before it, such as `b` in `a::b`.
fn continues(chars: &[char], start: usize) -> bool {
    match &chars[..start] {
        [.., before, ':', ':'] => is_name(*before) || *before == '>',
        [.., '.'] => true,
        _ => false,
    }
}

fn segments(chars: &[char], start: usize, first: String) -> Vec<String> {
    let mut at = start + first.chars().count();
    let mut segments = vec![first];
    while let [':', ':', next, ..] = &chars[at..] {
        if !is_name(*next) {
            break;
        }
        let segment: String = chars[at + 2..]
            .iter()
            .take_while(|it| is_name(**it))
            .collect();
        at += 2 + segment.chars().count();
        segments.push(segment);
    }
    segments
}

fn read(text: &str) -> Source {
    Source::new("src/domain/planted.rs", text)
}

#[test]
fn comments_and_strings_are_not_code() {
    let file = read(
        r##"let a = "crate::one"; // crate::two
/* crate::three /* crate::four */ crate::five */ let b = r#"crate::six "seven" "#;
let c = '"'; let d = crate::eight::Nine; let e: &'a str = b"\"crate::ten";
"##,
    );
    let paths: Vec<String> = file
        .paths()
        .iter()
        .map(|it| it.segments.join("::"))
        .collect();
    assert_eq!(paths, ["crate::eight::Nine"]);
    assert!(file.strings[0].contains("crate::one"));
    assert!(!file.strings[0].contains("crate::two"));
    assert!(file.strings[1].contains("crate::six \"seven\""));
}

#[test]
fn a_path_is_found_wherever_it_stands_and_only_where_it_begins() {
    let file = read(
        "fn a(b: &crate::one::Two) -> c::crate_three { $crate::four::Five.x::<toml::Value>() }",
    );
    let paths: Vec<String> = file
        .paths()
        .iter()
        .map(|it| it.segments.join("::"))
        .collect();
    assert_eq!(
        paths,
        [
            "crate::one::Two",
            "c::crate_three",
            "crate::four::Five",
            "toml::Value"
        ]
    );
}

#[test]
fn a_part_for_tests_ends_where_its_brace_closes() {
    let file = read("fn a() {}\n#[cfg(test)]\nmod tests {\n    fn b() { \"}\" }\n}\nfn c() {}\n");
    assert_eq!(file.tested, [false, true, true, true, true, false]);
    assert_eq!(file.length(), 2);
    assert_eq!(
        read("#[cfg(test)]\nmod trial;\nmod b;\n").test_modules(),
        ["trial"]
    );
}

#[test]
fn a_function_is_measured_from_its_first_line_to_its_last() {
    let file = read(
        "trait A {\n    fn none(&self);\n}\nfn three(a: [u8; 2]) -> u8 {\n    // why\n    '}'\n}\n",
    );
    let measured: Vec<(String, usize, usize)> = file
        .functions()
        .into_iter()
        .map(|it| (it.name, it.line, it.length))
        .collect();
    assert_eq!(measured, [("three".to_owned(), 4, 4)]);
}

#[test]
fn an_import_is_read_to_its_semicolon_and_a_name_to_its_words() {
    let file = read("pub use a::{\n    B,\n    C,\n};\n");
    let imports: Vec<String> = file.imports().into_iter().map(|it| it.text).collect();
    assert_eq!(imports, ["pub use a::{     B,     C, }"]);
    assert_eq!(words_of_name("HomeFolder"), words_of_name("home_folder"));
    assert_eq!(
        read("pub struct FileInfo;").declared(),
        [(1, "FileInfo".to_owned())]
    );
}
