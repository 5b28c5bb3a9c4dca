//! What else can stand in a flow of pages: pictures, two things beside each other, texts moved to the right, and trees.

use crate::drawing::Flow;
use crate::drawing::LINE_PITCH;
use crate::drawing::Outline;
use crate::drawing::Pen;
use crate::drawing::Sheet;
use crate::drawing::TEXT;
use crate::drawing::Type;
use crate::drawing::set_lines;

/// Between two things beside each other, mm.
pub const BESIDE: f64 = 6.0;

/// One row of a tree.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TreeRow {
    /// How many rows stand above it on its way to the root.
    pub depth: usize,
    /// From which row it came, in words; they are printed where it stands too deep for a line to show it.
    pub from: String,
    /// What it is.
    pub head: String,
    /// What is said of it, one paragraph each.
    pub words: Vec<String>,
}

impl Flow {
    /// Lays a picture, whole.
    pub fn picture(&mut self, picture: &Sheet) {
        let at = self.room(picture.size[1]);
        self.sheet().lay(picture, at);
    }

    /// Lays two pictures beside each other, whole.
    pub fn beside(&mut self, left: &Sheet, right: &Sheet) {
        let [x, y] = self.room(left.size[1].max(right.size[1]));
        self.sheet().lay(left, [x, y]);
        self.sheet().lay(right, [x + left.size[0] + BESIDE, y]);
    }

    /// A paragraph that begins so many mm to the right, behind a sign where there is one.
    pub fn inset(&mut self, right: f64, sign: &str, text: &str, set: Type) {
        /// From a sign to its text, mm.
        const BEHIND: f64 = 3.6;
        let behind = if sign.is_empty() { 0.0 } else { BEHIND };
        let room = self.width() - right - behind;
        let pitch = LINE_PITCH * set.size;
        for (index, line) in set_lines(text, set.size, set.weight, room)
            .iter()
            .enumerate()
        {
            let [x, y] = self.room(pitch);
            let base = y + set.size;
            if index == 0 && !sign.is_empty() {
                self.sheet().text([x + right, base], sign, set);
            }
            self.sheet().text([x + right + behind, base], line, set);
        }
    }

    /// A tree, a row each, with lines from every row to those that came from it.
    pub fn tree(&mut self, rows: &[TreeRow]) {
        let depths: Vec<usize> = rows.iter().map(|it| it.depth).collect();
        for (index, row) in rows.iter().enumerate() {
            self.tree_row(row, &rails(&depths, index));
        }
    }

    fn tree_row(&mut self, row: &TreeRow, rails: &[Rail]) {
        let depth = row.depth.min(DEEPEST);
        let left = STEP * (depth as f64 + 1.0);
        let room = self.width() - left;
        let head = TEXT.bold();
        let mut lines: Vec<(String, Type)> = Vec::new();
        let mut add = |text: &str, set: Type| {
            let set_in = set_lines(text, set.size, set.weight, room);
            lines.extend(set_in.into_iter().map(|it| (it, set)));
        };
        add(&row.head, head);
        if row.depth > DEEPEST && !row.from.is_empty() {
            add(&row.from, WORDS);
        }
        row.words.iter().for_each(|it| add(it, WORDS));
        let pitch = |set: Type| LINE_PITCH * set.size;
        let height: f64 = lines.iter().map(|it| pitch(it.1)).sum::<f64>() + BELOW_ROW;
        let [x, y] = self.room(height);
        // The node stands in the middle of the small letters of the first line.
        let node = y + 0.72 * head.size;
        for rail in rails {
            rail.draw(self.sheet(), x, [y, node, y + height]);
        }
        let at = [x + STEP * (depth as f64 + 0.5), node];
        self.sheet().fill(Outline::circle(at, 1.2), [0; 3]);
        let mut down = y;
        for (line, set) in lines {
            self.sheet().text([x + left, down + set.size], &line, set);
            down += pitch(set);
        }
    }
}

/// What is said of a row.
const WORDS: Type = Type::of(3.2);
/// From one depth to the next, mm.
const STEP: f64 = 6.5;
/// Below a row, mm.
const BELOW_ROW: f64 = 2.4;
/// The deepest step: a long line of versions still leaves room for words.
const DEEPEST: usize = 9;

/// A piece of line in a row of a tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Rail {
    /// Down through the whole row at this depth.
    Through(usize),
    /// From the top of the row to its node, from this depth.
    From(usize),
    /// From the node at this depth to the bottom of the row.
    Down(usize),
}

/// The lines in one row; none to what stands too deep, whose words say what it came from.
fn rails(depths: &[usize], index: usize) -> Vec<Rail> {
    let depth = depths[index];
    let later = &depths[index + 1..];
    // A row at `of` still comes before anything nearer to the root.
    let comes = |of: usize| {
        let mut before = later.iter().take_while(|it| **it >= of);
        before.any(|it| *it == of)
    };
    let mut rails = Vec::new();
    for of in 1..depth {
        rails.extend(comes(of).then_some(Rail::Through(of - 1)));
    }
    if depth > 0 {
        rails.push(Rail::From(depth - 1));
        rails.extend(comes(depth).then_some(Rail::Through(depth - 1)));
    }
    rails.extend((later.first() == Some(&(depth + 1))).then_some(Rail::Down(depth)));
    rails.retain(|it| it.depth() < DEEPEST);
    rails
}

impl Rail {
    /// The depth from which it comes.
    const fn depth(self) -> usize {
        match self {
            Self::Through(depth) | Self::From(depth) | Self::Down(depth) => depth,
        }
    }

    /// Draws it in a row that begins at `x` and has its top, its node and its bottom there.
    fn draw(self, sheet: &mut Sheet, x: f64, [top, node, bottom]: [f64; 3]) {
        let at = |depth: usize| x + STEP * (depth as f64 + 0.5);
        let pen = Pen::of(0.3);
        let line = match self {
            Self::Through(depth) => Outline::stroke([at(depth), top], [at(depth), bottom]),
            Self::Down(depth) => Outline::stroke([at(depth), node], [at(depth), bottom]),
            Self::From(depth) => Outline::from([at(depth), top])
                .line([at(depth), node])
                .line([at(depth + 1), node]),
        };
        sheet.draw(line, pen);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Paper;
    use crate::drawing::beyond_margins;
    use crate::drawing::printed_texts;

    #[test]
    fn a_line_runs_on_where_a_sister_still_comes_and_ends_at_the_last_one() {
        // 0 ─ 1 ─ 2, and a second 1 below the first.
        let depths = [0, 1, 2, 1];
        let all: Vec<Vec<Rail>> = (0..4).map(|it| rails(&depths, it)).collect();
        assert_eq!(all[0], [Rail::Down(0)]);
        assert_eq!(all[1], [Rail::From(0), Rail::Through(0), Rail::Down(1)]);
        assert_eq!(all[2], [Rail::Through(0), Rail::From(1)]);
        assert_eq!(all[3], [Rail::From(0)]);
    }

    #[test]
    fn what_stands_too_deep_for_a_line_says_what_it_came_from_and_hangs_beside_nothing() {
        let depths: Vec<usize> = (0..=DEEPEST + 2).collect();
        let deep = |it: usize| rails(&depths, it);
        assert_eq!(
            deep(DEEPEST - 1),
            [Rail::From(DEEPEST - 2), Rail::Down(DEEPEST - 1)]
        );
        assert_eq!(deep(DEEPEST), [Rail::From(DEEPEST - 1)]);
        assert_eq!(deep(DEEPEST + 1), []);
        let row = |depth: usize| TreeRow {
            depth,
            from: format!("from version {depth}"),
            head: format!("Barn, version {}", depth + 1),
            words: Vec::new(),
        };
        let rows: Vec<TreeRow> = depths.iter().map(|it| row(*it)).collect();
        let mut flow = Flow::new("Tree", Paper::A4, "");
        flow.tree(&rows);
        let sheets = flow.finish();
        let texts = sheets.iter().flat_map(printed_texts);
        let from: Vec<&str> = texts.filter(|it| it.starts_with("from ")).collect();
        assert_eq!(from, ["from version 10", "from version 11"]);
    }

    #[test]
    fn sixty_versions_with_long_names_keep_to_the_margins_and_none_is_left_out() {
        let row = |number: usize| TreeRow {
            depth: number,
            from: format!("from version {}", number.saturating_sub(1)),
            head: format!("Überraschungshopfenmischungsvariationen, version {number}"),
            words: vec!["1 of 12 hopes as meant, 3 differ ".repeat(6)],
        };
        let rows: Vec<TreeRow> = (0..60).map(row).collect();
        for paper in [Paper::A4, Paper::Letter] {
            let mut flow = Flow::new("Tree", paper, "");
            flow.tree(&rows);
            let sheets = flow.finish();
            let mut heads = 0;
            for sheet in &sheets {
                assert_eq!(beyond_margins(sheet, 10.0), Vec::<String>::new());
                let texts = printed_texts(sheet);
                heads += texts.iter().filter(|it| it.contains(", version")).count();
            }
            assert_eq!(heads, 60);
        }
    }
}
