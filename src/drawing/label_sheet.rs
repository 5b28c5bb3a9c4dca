//! Sheets of labels as they are sold everywhere, by their measures alone, and one to be cut from plain paper.

use crate::drawing::Paper;

/// A sheet of labels, all alike, in rows and columns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LabelSheet {
    /// How it is named when typed.
    pub id: &'static str,
    /// Its measures in words.
    pub words: &'static str,
    /// The paper.
    pub paper: Paper,
    /// Columns and rows.
    pub count: [usize; 2],
    /// Width and height of one label, mm.
    pub size: [f64; 2],
    /// The upper left corner of the first label, mm.
    pub first: [f64; 2],
    /// From one label to the next, to the right and down, mm.
    pub pitch: [f64; 2],
    /// Whether borders are printed to cut along.
    pub edges: Edges,
}

/// What is printed around a label.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edges {
    /// Nothing: the label is cut already.
    Die,
    /// A border to cut along.
    Scissors,
}

const fn sold(
    [id, words]: [&'static str; 2],
    paper: Paper,
    count: [usize; 2],
    size: [f64; 2],
    [first, pitch]: [[f64; 2]; 2],
) -> LabelSheet {
    LabelSheet {
        id,
        words,
        paper,
        count,
        size,
        first,
        pitch,
        edges: Edges::Die,
    }
}

/// Every sheet of labels: columns and rows that fill the paper, in the middle of it. Measures are common
/// practice; a test print on plain paper, held against the light, shows whether a printer keeps them.
pub static LABEL_SHEETS: &[LabelSheet] = &[
    sold(
        ["3x7", "21 of 70 × 42.3 mm on A4"],
        Paper::A4,
        [3, 7],
        [70.0, 42.3],
        [[0.0, 0.45], [70.0, 42.3]],
    ),
    sold(
        ["3x8", "24 of 70 × 37 mm on A4"],
        Paper::A4,
        [3, 8],
        [70.0, 37.0],
        [[0.0, 0.5], [70.0, 37.0]],
    ),
    sold(
        ["3x7-gap", "21 of 63.5 × 38.1 mm on A4"],
        Paper::A4,
        [3, 7],
        [63.5, 38.1],
        [[7.25, 15.15], [66.0, 38.1]],
    ),
    sold(
        ["2x7", "14 of 99.1 × 38.1 mm on A4"],
        Paper::A4,
        [2, 7],
        [99.1, 38.1],
        [[4.65, 15.15], [101.6, 38.1]],
    ),
    sold(
        ["4x10", "40 of 48.5 × 25.4 mm on A4"],
        Paper::A4,
        [4, 10],
        [48.5, 25.4],
        [[8.0, 21.5], [48.5, 25.4]],
    ),
    sold(
        ["3x10", "30 of 66.7 × 25.4 mm on US letter"],
        Paper::Letter,
        [3, 10],
        [66.675, 25.4],
        [[4.7625, 12.7], [69.85, 25.4]],
    ),
    sold(
        ["2x5", "10 of 101.6 × 50.8 mm on US letter"],
        Paper::Letter,
        [2, 5],
        [101.6, 50.8],
        [[3.96875, 12.7], [106.3625, 50.8]],
    ),
];

impl LabelSheet {
    /// Labels to be cut from plain paper.
    #[must_use]
    pub const fn to_cut(paper: Paper) -> Self {
        let [width, height] = paper.size();
        let count = match paper {
            Paper::A4 => [4, 10],
            Paper::Letter => [4, 9],
        };
        let size = [46.0, 26.0];
        let first = [
            (width - 4.0 * size[0]) / 2.0,
            (height - count[1] as f64 * size[1]) / 2.0,
        ];
        Self {
            id: "cut",
            words: "46 × 26 mm to be cut from plain paper",
            paper,
            count,
            size,
            first,
            pitch: size,
            edges: Edges::Scissors,
        }
    }

    /// Labels on one sheet.
    #[must_use]
    pub const fn labels(&self) -> usize {
        self.count[0] * self.count[1]
    }

    /// The upper left corner of a label, counted from 0 row by row.
    #[must_use]
    pub fn corner(&self, at: usize) -> [f64; 2] {
        let [column, row] = [at % self.count[0], at / self.count[0]];
        [
            (column as f64).mul_add(self.pitch[0], self.first[0]),
            (row as f64).mul_add(self.pitch[1], self.first[1]),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_lie_on_their_paper_in_its_middle_and_none_on_another() {
        let cut = [Paper::A4, Paper::Letter].map(LabelSheet::to_cut);
        for it in LABEL_SHEETS.iter().chain(&cut) {
            let last = it.corner(it.labels() - 1);
            for axis in [0, 1] {
                let end = it.paper.size()[axis] - last[axis] - it.size[axis];
                let name = it.words;
                assert!((it.first[axis] - end).abs() < 0.02, "{name}: {end}");
                assert!(it.first[axis] >= 0.0, "{name}");
                assert!(it.pitch[axis] >= it.size[axis], "{name}");
            }
        }
    }

    #[test]
    fn scissors_leave_a_margin_that_every_printer_can_print_in() {
        for paper in [Paper::A4, Paper::Letter] {
            assert!(LabelSheet::to_cut(paper).first.iter().all(|it| *it >= 10.0));
        }
    }
}
