//! Pages filled from the top: headings, paragraphs, tables and strips, with a new page where the room ends.

use crate::drawing::Anchor;
use crate::drawing::BLACK_INK;
use crate::drawing::LINE_PITCH;
use crate::drawing::Outline;
use crate::drawing::Paper;
use crate::drawing::Pen;
use crate::drawing::Rgb;
use crate::drawing::Sheet;
use crate::drawing::Type;
use crate::drawing::set_lines;
use crate::drawing::text_width;

/// The letters of a title, mm.
pub const TITLE: Type = Type::of(8.0).bold();
/// The letters of a heading.
pub const HEADING: Type = Type::of(4.5).bold();
/// The letters of a text.
pub const TEXT: Type = Type::of(3.6);
/// Small letters.
pub const SMALL: Type = Type::of(2.9).inked(QUIET_INK);
/// What is printed less loudly; it is read in grey, at more than seven to one on white.
pub const QUIET_INK: Rgb = [0x50, 0x50, 0x50];
/// A line as fine as a hair.
pub const HAIR: Pen = Pen::of(0.15).inked([0x90, 0x90, 0x90]);
/// A line that borders a box for a pen.
pub const BOX_PEN: Pen = Pen::of(0.3);
/// How much a line to cut along takes with the white on both its sides, mm.
pub const CUT: f64 = 8.0;
/// What stays white on every side, mm.
pub const MARGIN: f64 = 15.0;
/// The letters of a title that would else take two lines, mm.
const SMALLEST_TITLE: f64 = 6.0;
/// From the lower edge of the paper to the base line of the foot, mm.
const FOOT: f64 = 11.0;

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// What stands above it.
    pub head: String,
    /// How wide it is, mm.
    pub width: f64,
    /// At which side its texts stand.
    pub anchor: Anchor,
}

impl Column {
    /// A column of texts from the left.
    #[must_use]
    pub fn of(head: &str, width: f64) -> Self {
        Self {
            head: head.to_owned(),
            width,
            anchor: Anchor::Start,
        }
    }

    /// A column of numbers, which end above each other.
    #[must_use]
    pub fn numbers(head: &str, width: f64) -> Self {
        Self {
            anchor: Anchor::End,
            ..Self::of(head, width)
        }
    }
}

/// A document in the making.
#[derive(Debug, Clone)]
pub struct Flow {
    title: String,
    paper: Paper,
    foot: String,
    sheets: Vec<Sheet>,
    now: Sheet,
    down: f64,
}

impl Flow {
    /// An empty document; its title stands in the window of a viewer, its foot under every page.
    #[must_use]
    pub fn new(title: &str, paper: Paper, foot: &str) -> Self {
        Self {
            title: title.to_owned(),
            paper,
            foot: foot.to_owned(),
            sheets: Vec::new(),
            now: Sheet::new(title, paper),
            down: MARGIN,
        }
    }

    /// From the left to the right margin, mm.
    #[must_use]
    pub const fn width(&self) -> f64 {
        self.paper.size()[0] - 2.0 * MARGIN
    }

    /// What is left of the page, mm.
    #[must_use]
    pub fn left(&self) -> f64 {
        self.lowest() - self.down
    }

    /// From the top margin to the lowest place for anything but the foot.
    const fn lowest(&self) -> f64 {
        self.paper.size()[1] - FOOT - 5.0
    }

    /// The page that is being filled.
    pub const fn sheet(&mut self) -> &mut Sheet {
        &mut self.now
    }

    /// Takes a strip as high as this over the whole width, on a new page where it does not fit, and
    /// gives its upper left corner.
    pub fn room(&mut self, height: f64) -> [f64; 2] {
        if height > self.left() && self.down > MARGIN {
            self.turn();
        }
        let at = [MARGIN, self.down];
        self.down += height;
        at
    }

    /// Leaves so much white, unless the page begins or ends here.
    pub fn gap(&mut self, height: f64) {
        if self.down > MARGIN {
            self.down = (self.down + height).min(self.lowest());
        }
    }

    /// Begins a new page where less than so much is left.
    pub fn keep(&mut self, height: f64) {
        if height > self.left() && self.down > MARGIN {
            self.turn();
        }
    }

    /// Begins a new page.
    pub fn turn(&mut self) {
        let fresh = Sheet::new(&self.title, self.paper);
        self.sheets.push(std::mem::replace(&mut self.now, fresh));
        self.down = MARGIN;
    }

    /// The title of a page, as large as titles are.
    pub fn title(&mut self, text: &str) {
        let wide = text_width(text, TITLE.weight).max(f64::EPSILON);
        let size = (self.width() / wide).clamp(SMALLEST_TITLE, TITLE.size);
        self.paragraph(text, Type { size, ..TITLE });
        self.gap(2.5);
    }

    /// A heading, which never stands alone at the end of a page.
    pub fn heading(&mut self, text: &str) {
        self.gap(4.5);
        self.keep(22.0);
        self.paragraph(text, HEADING);
        self.gap(1.2);
    }

    /// A paragraph over the whole width.
    pub fn paragraph(&mut self, text: &str, set: Type) {
        self.hung("", text, set, 0.0);
    }

    /// A paragraph behind a sign, its lines all beginning so many mm to the right of the sign.
    pub fn hung(&mut self, sign: &str, text: &str, set: Type, indent: f64) {
        let pitch = LINE_PITCH * set.size;
        let lines = set_lines(text, set.size, set.weight, self.width() - indent);
        for (index, line) in lines.iter().enumerate() {
            let [x, y] = self.room(pitch);
            let base = y + set.size;
            if index == 0 && !sign.is_empty() {
                self.now.text([x, base], sign, set);
            }
            self.now.text([x + indent, base], line, set);
        }
    }

    /// A sentence in a list.
    pub fn listed(&mut self, text: &str, set: Type) {
        self.hung("·", text, set, 4.0);
        self.gap(0.5);
    }

    /// A thing to do, behind a box to tick.
    pub fn to_tick(&mut self, text: &str, set: Type) {
        let lines = set_lines(text, set.size, set.weight, self.width() - 6.5).len();
        self.keep(lines as f64 * LINE_PITCH * set.size);
        let side = set.size.min(3.6);
        let at = [MARGIN, self.down + set.size - 0.86 * side];
        self.now.draw(Outline::rectangle(at, [side, side]), BOX_PEN);
        self.hung("", text, set, 6.5);
        self.gap(0.8);
    }

    /// A sentence that must not be passed over: bold, behind a bar at the left.
    pub fn warned(&mut self, text: &str) {
        let set = TEXT.bold();
        let lines = set_lines(text, set.size, set.weight, self.width() - 6.0);
        let pitch = LINE_PITCH * set.size;
        let [x, y] = self.room((lines.len() as f64).mul_add(pitch, 2.0));
        let bar = [1.6, (lines.len() as f64).mul_add(pitch, 0.6)];
        self.now.fill(Outline::rectangle([x, y], bar), BLACK_INK);
        for (index, line) in lines.iter().enumerate() {
            let base = (index as f64).mul_add(pitch, y + set.size);
            self.now.text([x + 5.0, base], line, set);
        }
        self.gap(1.0);
    }

    /// A line to cut along across the page, with white on both sides.
    pub fn cut(&mut self) {
        let width = self.width();
        let [x, y] = self.room(CUT);
        let middle = y + CUT / 2.0;
        self.now.cut_line([x, middle], [x + width, middle]);
    }

    /// A table; its heads are repeated on every page, and no row is torn.
    pub fn table(&mut self, columns: &[Column], rows: &[Vec<String>], set: Type) {
        let heads: Vec<String> = columns.iter().map(|it| it.head.clone()).collect();
        let head_set = SMALL.bold();
        let has_heads = heads.iter().any(|it| !it.is_empty());
        let high = cells_height(columns, &heads, head_set);
        if has_heads {
            self.keep(high + 2.0 * (LINE_PITCH * set.size + 1.6));
            self.table_row(columns, &heads, head_set);
        }
        for row in rows {
            let height = cells_height(columns, row, set);
            if has_heads && height > self.left() {
                self.turn();
                self.table_row(columns, &heads, head_set);
            }
            self.table_row(columns, row, set);
        }
    }

    fn table_row(&mut self, columns: &[Column], cells: &[String], set: Type) {
        let height = cells_height(columns, cells, set);
        let [mut x, y] = self.room(height);
        for (column, cell) in columns.iter().zip(cells) {
            let room = column.width - GUTTER;
            let (from, anchored) = match column.anchor {
                Anchor::Start => (x, set),
                Anchor::Middle => (x + room / 2.0, set.centred()),
                Anchor::End => (x + room, set.to_the_right()),
            };
            let lines = set_lines(cell, set.size, set.weight, room);
            for (index, line) in lines.iter().enumerate() {
                let base = (index as f64 * LINE_PITCH).mul_add(set.size, y + 0.8 + set.size);
                self.now.text([from, base], line, anchored);
            }
            x += column.width;
        }
        let below = y + height;
        self.now
            .draw(Outline::stroke([MARGIN, below], [x - GUTTER, below]), HAIR);
    }

    /// The pages, each with its foot and its number.
    #[must_use]
    pub fn finish(mut self) -> Vec<Sheet> {
        self.sheets.push(self.now);
        let count = self.sheets.len();
        let [width, height] = self.paper.size();
        for (index, sheet) in self.sheets.iter_mut().enumerate() {
            let base = height - FOOT;
            let number = format!("page {} of {count}", index + 1);
            let room = 2.0f64.mul_add(-MARGIN, width) - 28.0;
            let foot = set_lines(&self.foot, SMALL.size, SMALL.weight, room);
            let foot = foot.first().map_or("", String::as_str);
            sheet.text([MARGIN, base], foot, SMALL);
            sheet.text([width - MARGIN, base], &number, SMALL.to_the_right());
        }
        self.sheets
    }
}

/// Between two columns, mm.
const GUTTER: f64 = 3.0;

/// How high a row is with the lines of its highest cell.
fn cells_height(columns: &[Column], cells: &[String], set: Type) -> f64 {
    let lines = columns.iter().zip(cells).map(|(column, cell)| {
        set_lines(cell, set.size, set.weight, column.width - GUTTER)
            .len()
            .max(1)
    });
    let most = lines.max().unwrap_or(1);
    (most as f64 * LINE_PITCH).mul_add(set.size, 1.6)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::beyond_margins;
    use crate::drawing::printed_texts;

    const LONG: &str =
        "Жёлтый-и-очень-длинный-хмель-сорок-букв-x Überraschungshopfenmischungsvariationen 日本";

    fn long_document(paper: Paper) -> Vec<Sheet> {
        let mut flow = Flow::new("Long", paper, &LONG.repeat(4));
        flow.title(LONG);
        for number in 0..40 {
            flow.heading(&format!("{number} {LONG}"));
            flow.paragraph(&LONG.repeat(3), TEXT);
            flow.to_tick(LONG, TEXT);
        }
        let columns = [Column::of("Name", 60.0), Column::numbers("mL", 30.0)];
        let rows = vec![vec![LONG.to_owned(), "1000".to_owned()]; 60];
        flow.table(&columns, &rows, TEXT);
        flow.finish()
    }

    #[test]
    fn nothing_stands_outside_the_margins_however_long_names_and_lists_are() {
        for paper in [Paper::A4, Paper::Letter] {
            let sheets = long_document(paper);
            assert!(sheets.len() > 5);
            for sheet in &sheets {
                assert_eq!(beyond_margins(sheet, 10.0), Vec::<String>::new());
            }
        }
    }

    #[test]
    fn the_heads_of_a_table_stand_on_every_page_of_it_and_pages_are_counted() {
        let mut flow = Flow::new("Table", Paper::A4, "foot");
        let columns = [Column::of("Code", 40.0)];
        flow.table(&columns, &vec![vec!["318".to_owned()]; 100], TEXT);
        let sheets = flow.finish();
        assert!(sheets.len() > 1);
        for (index, sheet) in sheets.iter().enumerate() {
            let texts = printed_texts(sheet);
            assert_eq!(texts[0], "Code");
            let number = format!("page {} of {}", index + 1, sheets.len());
            assert!(texts.contains(&number.as_str()), "{texts:?}");
        }
    }

    #[test]
    fn a_heading_is_never_the_last_thing_on_a_page() {
        for before in 0..90 {
            let mut flow = Flow::new("Heads", Paper::Letter, "");
            flow.room(f64::from(before) * 3.0);
            flow.heading("A heading");
            flow.paragraph("and its text", TEXT);
            let sheets = flow.finish();
            let with_heading = sheets
                .iter()
                .find(|it| printed_texts(it).contains(&"A heading"));
            let texts = printed_texts(with_heading.unwrap());
            assert!(texts.contains(&"and its text"), "after {before}");
        }
    }
}
