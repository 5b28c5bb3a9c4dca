//! The pen on a document: keys, lines and whole tables put in, changed and taken out, with all else as it is.

use std::ops::Range;

use toml_edit::Array;
use toml_edit::Item;
use toml_edit::TableLike;

use crate::formats::answer_text::quoted;
use crate::formats::document_page::Form;
use crate::formats::document_page::Line;
use crate::formats::document_page::Mend;
use crate::formats::document_page::Page;
use crate::formats::document_page::Spot;
use crate::formats::document_page::span;

impl<'d> Page<'d> {
    /// The text with every mend.
    pub(crate) fn finished(mut self) -> String {
        // Stable: what is put in at one place stays in the order in which it was put in, before what is cut there.
        self.mends.sort_by_key(|it| (it.range.start, it.range.end));
        let mut text = String::with_capacity(self.text.len());
        let mut at = 0;
        for mend in self.mends {
            text.push_str(&self.text[at..mend.range.start.max(at)]);
            text.push_str(&mend.text);
            at = mend.range.end.max(at);
        }
        text.push_str(&self.text[at..]);
        text
    }

    /// Other texts under the keys of a table, each in its place with its comment: a key with nothing goes with its
    /// line, a new one comes last.
    pub(crate) fn change(&mut self, spot: &Spot<'_>, lines: &[Line]) {
        let Form::Inline(braces) = &spot.form else {
            for line in lines {
                self.change_line(spot, line);
            }
            return;
        };
        let in_place = |it: &Line| it.text.is_some() == spot.entry(it.key).is_some();
        if lines.iter().all(in_place) {
            for line in lines {
                self.change_line(spot, line);
            }
        } else {
            let text = self.inline(spot, lines);
            self.mend(braces.clone(), text);
        }
    }

    fn change_line(&mut self, spot: &Spot<'_>, Line { key, text }: &Line) {
        match (spot.entry(key), text) {
            (None, None) => {}
            (Some((_, item)), Some(text)) => {
                if item.as_str() != Some(text) {
                    self.mend(span(item.span()), quoted(text));
                }
            }
            (Some((found, item)), None) => {
                let (start, end) = (span(found.span()).start, span(item.span()).end);
                let line = self.line_start(start)..self.end_of_line(end);
                self.mend(line, String::new());
            }
            (None, Some(text)) => {
                let line = format!("{key} = {}", quoted(text));
                match &spot.form {
                    Form::Headed(header) => {
                        let end = last_end(spot.table).max(header.end);
                        self.line_after(end, &line);
                    }
                    Form::Dotted(name) => {
                        self.line_after(last_end(spot.table), &format!("{name}.{line}"));
                    }
                    Form::Inline(_) => {}
                }
            }
        }
    }

    /// A table in braces with other lines.
    fn inline(&self, spot: &Spot<'_>, lines: &[Line]) -> String {
        let of = |key: &str| lines.iter().find(|it| it.key == key);
        let kept = spot.table.iter().filter_map(|(key, item)| {
            let text = match of(key) {
                Some(line) => quoted(line.text.as_ref()?),
                None => self.text[span(item.span())].to_owned(),
            };
            let key = &self.text[span(spot.entry(key)?.0.span())];
            Some(format!("{key} = {text}"))
        });
        let added = lines.iter().filter(|it| spot.entry(it.key).is_none());
        let added = added.filter_map(Line::written);
        let all: Vec<String> = kept.chain(added).collect();
        format!("{{ {} }}", all.join(", "))
    }

    /// Another key with another text in the place of a key, with its comment.
    pub(crate) fn set_key(&mut self, spot: &Spot<'_>, old: &str, (key, text): (&str, &str)) {
        if let Some((found, item)) = spot.entry(old) {
            self.mend(span(found.span()), key.to_owned());
            self.mend(span(item.span()), quoted(text));
        }
    }

    /// A key with its text in a line of its own below the line of another of the head.
    pub(crate) fn set_below(&mut self, above: &str, key: &str, text: &str) {
        let line = format!("{key} = {}", quoted(text));
        self.comment_below(above, &line);
    }

    /// A line below the line of a key of the head; above all where there is no such key.
    pub(crate) fn comment_below(&mut self, above: &str, line: &str) {
        match self.root.get(above) {
            Some(item) => self.line_after(span(item.span()).end, line),
            None => self.mend(0..0, format!("{line}{}", self.line_end)),
        }
    }

    /// Takes comment lines out of the head that begin with `opening`.
    pub(crate) fn cut_comments(&mut self, opening: &str) {
        let head_end = self.first_header().unwrap_or(self.text.len());
        let mut at = 0;
        while at < head_end {
            let end = self.end_of_line(at);
            let inside = self.taken.iter().any(|it| it.contains(&at));
            if !inside && self.text[at..end].trim_start().starts_with(opening) {
                self.mend(at..end, String::new());
            }
            at = end;
        }
    }

    /// Another header over a table.
    pub(crate) fn set_header(&mut self, header: &Range<usize>, name: &str) {
        self.mend(header.clone(), format!("[[{name}]]"));
    }

    /// Takes a table out with the comment lines that belong to it.
    pub(crate) fn cut_table(&mut self, spot: &Spot<'_>) {
        let Form::Headed(header) = &spot.form else {
            return;
        };
        let mut start = self.block_start(header);
        let mut end = self.block_end(header, spot);
        while end < self.text.len() && self.is_blank(end) {
            end = self.end_of_line(end);
        }
        if end == self.text.len() {
            while start > 0 && self.is_blank(self.line_start(start - 1)) {
                start = self.line_start(start - 1);
            }
        }
        self.mend(start..end, String::new());
    }

    /// A new table below another.
    pub(crate) fn table_below(&mut self, spot: &Spot<'_>, table: &[String]) {
        let at = match &spot.form {
            Form::Headed(header) => self.block_end(header, spot),
            Form::Dotted(_) | Form::Inline(_) => self.text.len(),
        };
        let text = format!("{}{}", self.line_end, self.lines(table));
        self.mend(at..at, text);
    }

    /// A new table above all others.
    pub(crate) fn table_first(&mut self, table: &[String]) {
        let first = self.taken.iter().find(|it| self.is_header(it)).cloned();
        let Some(first) = first else {
            self.table_last(table);
            return;
        };
        let at = self.block_start(&first);
        let text = format!("{}{}", self.lines(table), self.line_end);
        self.mend(at..at, text);
    }

    /// A new table below all others.
    pub(crate) fn table_last(&mut self, table: &[String]) {
        let end = self.text.len();
        let text = format!("{}{}", self.line_end, self.lines(table));
        self.mend(end..end, text);
    }

    /// Keeps some tables of a list in brackets and adds others, each without its braces.
    pub(crate) fn change_list(&mut self, list: &Array, is_kept: &[bool], added: &[String]) {
        let all: Vec<Range<usize>> = list.iter().map(|it| span(it.span())).collect();
        let added: Vec<String> = added.iter().map(|it| format!("{{ {it} }}")).collect();
        if !is_kept.contains(&true) {
            self.mend(span(list.span()), format!("[{}]", added.join(", ")));
            return;
        }
        let first = is_kept.iter().position(|it| *it).unwrap_or(0);
        for (index, is_kept) in is_kept.iter().enumerate() {
            if *is_kept {
                continue;
            }
            let range = if index < first {
                all[index].start..all[index + 1].start
            } else {
                all[index - 1].end..all[index].end
            };
            self.mend(range, String::new());
        }
        if let (Some(last), false) = (all.last(), added.is_empty()) {
            self.mend(last.end..last.end, format!(", {}", added.join(", ")));
        }
    }

    fn mend(&mut self, range: Range<usize>, text: String) {
        self.mends.push(Mend { range, text });
    }

    fn line_after(&mut self, at: usize, line: &str) {
        let end = self.end_of_line(at);
        self.mend(end..end, format!("{line}{}", self.line_end));
    }

    fn lines(&self, table: &[String]) -> String {
        let lines = table.iter().flat_map(|it| [it.as_str(), self.line_end]);
        lines.collect()
    }

    fn line_start(&self, at: usize) -> usize {
        self.text[..at].rfind('\n').map_or(0, |it| it + 1)
    }

    fn end_of_line(&self, at: usize) -> usize {
        self.text[at..]
            .find('\n')
            .map_or(self.text.len(), |it| at + it + 1)
    }

    fn line(&self, at: usize) -> &'d str {
        self.text[at..self.end_of_line(at)].trim()
    }

    fn is_blank(&self, at: usize) -> bool {
        self.line(at).is_empty()
    }

    fn is_header(&self, range: &Range<usize>) -> bool {
        let before = &self.text[self.line_start(range.start)..range.start];
        self.text[range.start..].starts_with('[') && before.trim().is_empty()
    }

    fn first_header(&self) -> Option<usize> {
        let header = self.taken.iter().find(|it| self.is_header(it));
        header.map(|it| self.line_start(it.start))
    }

    /// Where the comment lines directly above a header begin, or its own line.
    fn block_start(&self, header: &Range<usize>) -> usize {
        let before = self.taken.iter().filter(|it| it.end <= header.start);
        let floor = before.map(|it| self.end_of_line(it.end)).max().unwrap_or(0);
        let mut start = self.line_start(header.start);
        while start > floor && self.line(self.line_start(start - 1)).starts_with('#') {
            start = self.line_start(start - 1);
        }
        start
    }

    /// Where a table ends: behind its last key, and behind comment lines directly below that which do not lead
    /// over to what comes next.
    fn block_end(&self, header: &Range<usize>, spot: &Spot<'_>) -> usize {
        let end = self.end_of_line(last_end(spot.table).max(header.end));
        let mut after = end;
        while after < self.text.len() && self.line(after).starts_with('#') {
            after = self.end_of_line(after);
        }
        let leads_over = after < self.text.len() && !self.is_blank(after);
        if leads_over { end } else { after }
    }
}

/// Where the last value of a table ends.
fn last_end(table: &dyn TableLike) -> usize {
    let ends = table.iter().map(|(_, item)| match item {
        Item::Value(it) => span(it.span()).end,
        Item::Table(it) if it.is_dotted() => last_end(it),
        _ => 0,
    });
    ends.max().unwrap_or(0)
}
