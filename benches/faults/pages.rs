//! A conversation line by line: a page is told, a line is typed, and what was told is what was acknowledged.

use std::io::BufRead;
use std::io::BufReader;
use std::io::Read;
use std::io::Write;
use std::process::ExitStatus;
use std::process::Stdio;

use crate::disk::Fault;
use crate::kitchen::Kitchen;

/// How a page ends.
const PAGE_ENDS: &str = "/explain]\n";

/// What a page says when something could not be done.
pub(crate) const REFUSED: &str = "could not ";

/// What came of a conversation.
#[derive(Debug)]
pub(crate) struct Talk {
    pub(crate) status: ExitStatus,
    /// Pages that were told without a refusal.
    pub(crate) pages: usize,
    /// The page that told of a refusal.
    pub(crate) refused: Option<String>,
    /// What the page after it said, where the line was typed once more.
    pub(crate) again: Option<String>,
    pub(crate) errors: String,
}

/// Types the lines one by one, each once the page before it is there; `look` sees each page that was not refused. After
/// a refusal the line is typed once more if only one call fails, and then it ends.
pub(crate) fn talk(
    kitchen: &Kitchen,
    arguments: &[String],
    lines: &[String],
    fault: Fault,
    mut look: impl FnMut(usize),
) -> Talk {
    let mut command = kitchen.command(arguments, fault);
    let mut child = command
        .stdin(Stdio::piped())
        .spawn()
        .expect("the program runs");
    let mut input = child.stdin.take().expect("it has an input");
    let mut output = BufReader::new(child.stdout.take().expect("it has an output"));
    let (mut pages, mut refused, mut again) = (0, None, None);
    let mut typed = lines.iter();
    let mut last = "";
    while let Some(page) = page(&mut output) {
        if refused.is_some() {
            again = Some(page);
            break;
        }
        let mut line = None;
        if page.contains(REFUSED) {
            refused = Some(page);
            if fault.how.is_once() {
                line = Some(last);
            }
        } else {
            look(pages);
            pages += 1;
            line = typed.next().map(String::as_str);
        }
        let Some(line) = line else { break };
        last = line;
        // Who was killed reads no more, which is for the status to tell.
        writeln!(input, "{line}").unwrap_or_default();
    }
    drop(input);
    output
        .read_to_string(&mut String::new())
        .expect("it tells text");
    let told = child.wait_with_output().expect("it ends");
    Talk {
        status: told.status,
        pages,
        refused,
        again,
        errors: String::from_utf8_lossy(&told.stderr).into_owned(),
    }
}

/// The next whole page; none at the end.
fn page(output: &mut impl BufRead) -> Option<String> {
    let mut page = String::new();
    while !page.ends_with(PAGE_ENDS) {
        if output.read_line(&mut page).expect("it tells text") == 0 {
            return None;
        }
    }
    Some(page)
}
