//! A TOML document as written, with the places of its tables and the pieces of text that change in it.

use std::ops::Range;

use toml_edit::Array;
use toml_edit::Document;
use toml_edit::Item;
use toml_edit::Key;
use toml_edit::Table;
use toml_edit::TableLike;
use toml_edit::Value;

use crate::formats::answer_text::quoted;
use crate::formats::edit_problem::EditProblem;

/// How a table is written.
#[derive(Clone)]
pub(crate) enum Form {
    /// Under a header of its own; where that stands.
    Headed(Range<usize>),
    /// By keys with a dot; the part before it.
    Dotted(&'static str),
    /// In braces; where they stand.
    Inline(Range<usize>),
}

/// A table of the document and how it is written.
#[derive(Clone)]
pub(crate) struct Spot<'d> {
    pub(crate) table: &'d dyn TableLike,
    pub(crate) form: Form,
}

impl Spot<'_> {
    /// The text under a key.
    pub(crate) fn text(&self, key: &str) -> Option<&str> {
        self.table.get(key)?.as_str()
    }

    /// The number under a key.
    pub(crate) fn number(&self, key: &str) -> Option<f64> {
        let item = self.table.get(key)?;
        #[expect(clippy::cast_precision_loss, reason = "shares are small numbers")]
        let whole = item.as_integer().map(|it| it as f64);
        item.as_float().or(whole)
    }

    /// Whether something stands under a key.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// What stands under a key, and the key itself.
    pub(crate) fn entry(&self, key: &str) -> Option<(&Key, &Item)> {
        self.table.get_key_value(key)
    }
}

/// A key and what is to stand under it; nothing where it goes.
#[derive(Clone)]
pub(crate) struct Line {
    pub(crate) key: &'static str,
    pub(crate) text: Option<String>,
}

impl Line {
    /// The line as written, unless it goes.
    pub(crate) fn written(&self) -> Option<String> {
        let text = self.text.as_ref()?;
        Some(format!("{} = {}", self.key, quoted(text)))
    }
}

/// One piece of text that another takes the place of.
pub(crate) struct Mend {
    pub(crate) range: Range<usize>,
    pub(crate) text: String,
}

/// The document under the pen. Whatever no mend touches stays byte for byte.
pub(crate) struct Page<'d> {
    pub(crate) text: &'d str,
    pub(crate) root: &'d Table,
    /// Where headers and values stand, in the order of the text.
    pub(crate) taken: Vec<Range<usize>>,
    pub(crate) line_end: &'static str,
    pub(crate) mends: Vec<Mend>,
}

/// Parses a document for a [`Page`].
///
/// # Errors
/// It is not TOML.
pub(crate) fn parsed(text: &str) -> Result<Document<&str>, EditProblem> {
    Document::parse(text).map_err(|error| EditProblem::NotRead {
        found: error.message().chars().take(160).collect(),
    })
}

/// The place of what the parser found.
pub(crate) fn span(of: Option<Range<usize>>) -> Range<usize> {
    of.expect("whatever the parser found has its place")
}

impl<'d> Page<'d> {
    /// Takes up a document; its text must end in a line break.
    pub(crate) fn new(document: &'d Document<&'d str>) -> Self {
        let root = document.as_table();
        let mut taken = Vec::new();
        collect(root, &mut taken);
        taken.sort_by_key(|it| it.start);
        let text = document.raw();
        let crlf = text.find('\n').is_some_and(|at| text[..at].ends_with('\r'));
        Self {
            text,
            root,
            taken,
            line_end: if crlf { "\r\n" } else { "\n" },
            mends: Vec::new(),
        }
    }

    /// What stands above all tables.
    pub(crate) fn head(&self) -> Spot<'d> {
        Spot {
            table: self.root,
            form: Form::Headed(0..0),
        }
    }

    /// The table of that name, if there is one.
    ///
    /// # Errors
    /// Something else has the name.
    pub(crate) fn spot(&self, name: &'static str) -> Result<Option<Spot<'d>>, EditProblem> {
        let spot = match self.root.get(name) {
            None => return Ok(None),
            Some(Item::Table(it)) if it.is_dotted() => Spot {
                table: it,
                form: Form::Dotted(name),
            },
            Some(Item::Table(it)) if !it.is_implicit() => Spot {
                table: it,
                form: Form::Headed(span(it.span())),
            },
            Some(Item::Value(Value::InlineTable(it))) => Spot {
                table: it,
                form: Form::Inline(span(it.span())),
            },
            Some(_) => return Err(not_a(name, "no table")),
        };
        Ok(Some(spot))
    }

    /// The tables of that name, in their order.
    ///
    /// # Errors
    /// Something else has the name.
    pub(crate) fn spots(&self, name: &'static str) -> Result<Vec<Spot<'d>>, EditProblem> {
        match self.root.get(name) {
            None => Ok(Vec::new()),
            Some(Item::ArrayOfTables(all)) => Ok(all
                .iter()
                .map(|it| Spot {
                    table: it,
                    form: Form::Headed(span(it.span())),
                })
                .collect()),
            Some(Item::Value(Value::Array(all))) => all
                .iter()
                .map(|it| {
                    let table = it.as_inline_table();
                    let table = table.ok_or_else(|| not_a(name, "no list of tables"))?;
                    Ok(Spot {
                        table,
                        form: Form::Inline(span(table.span())),
                    })
                })
                .collect(),
            Some(_) => Err(not_a(name, "no list of tables")),
        }
    }

    /// The last table of that name that has a header.
    ///
    /// # Errors
    /// Something else has the name.
    pub(crate) fn last_headed(&self, name: &'static str) -> Result<Option<Spot<'d>>, EditProblem> {
        let spot = match self.root.get(name) {
            Some(Item::Table(_) | Item::Value(Value::InlineTable(_))) => self.spot(name)?,
            _ => self.spots(name)?.pop(),
        };
        Ok(spot.filter(|it| matches!(it.form, Form::Headed(_))))
    }

    /// The list in brackets of that name, if it is written so.
    pub(crate) fn list(&self, name: &str) -> Option<&'d Array> {
        self.root.get(name)?.as_array()
    }
}

fn not_a(name: &str, what: &str) -> EditProblem {
    EditProblem::NotRead {
        found: format!("“{name}” is {what}"),
    }
}

/// Every header and every value below a table.
fn collect(table: &Table, taken: &mut Vec<Range<usize>>) {
    for (_, item) in table {
        match item {
            Item::None => {}
            Item::Value(it) => taken.push(span(it.span())),
            Item::Table(it) => {
                if !it.is_dotted() && !it.is_implicit() {
                    taken.push(span(it.span()));
                }
                collect(it, taken);
            }
            Item::ArrayOfTables(all) => {
                for it in all {
                    taken.push(span(it.span()));
                    collect(it, taken);
                }
            }
        }
    }
}
