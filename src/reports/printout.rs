//! A report on paper: its pages as one PDF with the typeface in it, or as one SVG a page.

use std::collections::HashMap;
use std::path::Path;
use std::path::PathBuf;

use krilla::Document;
use krilla::color::rgb;
use krilla::geom::PathBuilder;
use krilla::geom::Point;
use krilla::geom::Size;
use krilla::geom::Transform;
use krilla::image::Image;
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::Fill;
use krilla::paint::FillRule;
use krilla::paint::Stroke;
use krilla::paint::StrokeDash;
use krilla::surface::Surface;
use krilla::text::Font;
use krilla::text::TextDirection;
use thiserror::Error;

use crate::domain::SheetSize;
use crate::drawing::Anchor;
use crate::drawing::Face;
use crate::drawing::Outline;
use crate::drawing::Paper;
use crate::drawing::Pen;
use crate::drawing::Printed;
use crate::drawing::Rgb;
use crate::drawing::Sheet;
use crate::drawing::Step;
use crate::drawing::Type;
use crate::drawing::face_runs;
use crate::drawing::printed_texts;
use crate::drawing::svg;
use crate::drawing::text_width;
use crate::drawing::unprintable;

/// Points in a millimetre: 72 in an inch of 25.4 mm (ISO 32000-1, 8.3.2.3).
const POINTS: f64 = 72.0 / 25.4;

/// A report on paper.
#[derive(Debug, Clone, PartialEq)]
pub struct Printout {
    /// What it is.
    pub title: String,
    /// Its pages.
    pub sheets: Vec<Sheet>,
}

/// The paper of a setting.
#[must_use]
pub const fn paper_of(sheet: SheetSize) -> Paper {
    match sheet {
        SheetSize::A4 => Paper::A4,
        SheetSize::Letter => Paper::Letter,
    }
}

/// Why no PDF could be made.
#[derive(Debug, Error, PartialEq, Eq)]
pub enum PrintError {
    /// The library refused.
    #[error("the pages of “{title}” could not be written as PDF: {found}; SVG may still work")]
    Pdf {
        /// Which printout.
        title: String,
        /// What was found.
        found: String,
    },
    /// The name of the file does not say what it is to be.
    #[error("“{}” was not written: its name says neither .pdf nor .svg; end it with one of them", file.display())]
    Kind {
        /// The file.
        file: PathBuf,
    },
}

impl Printout {
    /// A printout of one page.
    #[must_use]
    pub fn one(sheet: Sheet) -> Self {
        Self {
            title: sheet.title.clone(),
            sheets: vec![sheet],
        }
    }

    /// How many sheets of which paper, such as “3 sheets of A4”.
    #[must_use]
    pub fn sheets_words(&self) -> String {
        let first = self.sheets.first().map(|it| it.size);
        let papers = [Paper::A4, Paper::Letter];
        let of = papers.iter().find(|it| Some(it.size()) == first);
        let of = of.map_or(String::new(), |it| format!(" of {}", it.words()));
        match self.sheets.len() {
            1 => format!("one sheet{of}"),
            several => format!("{several} sheets{of}"),
        }
    }

    /// Which letters are printed as empty boxes, because no typeface here has them; none if there are none.
    #[must_use]
    pub fn boxes_sentence(&self) -> Option<String> {
        let all: String = self.sheets.iter().flat_map(printed_texts).collect();
        let lacking = unprintable(&all);
        let shown: Vec<String> = lacking.iter().map(char::to_string).collect();
        (!shown.is_empty()).then(|| {
            format!(
                "No typeface on this computer has these letters, so they are printed as boxes: {}",
                shown.join(" ")
            )
        })
    }

    /// One SVG document a page.
    #[must_use]
    pub fn svgs(&self) -> Vec<String> {
        self.sheets.iter().map(svg).collect()
    }

    /// Refuses a name that does not say what the file is to be, before anything is made for it.
    ///
    /// # Errors
    /// The name ends with neither .pdf nor .svg.
    pub fn ensure_kind(file: &Path) -> Result<(), PrintError> {
        kind_of(file).map(|_| ())
    }

    /// The files to write for a name: one PDF, or an SVG a page, numbered where there are several.
    ///
    /// # Errors
    /// The name ends with neither .pdf nor .svg, or no PDF can be made.
    pub fn files(&self, file: &Path) -> Result<Vec<(PathBuf, Vec<u8>)>, PrintError> {
        if kind_of(file)? == FileKind::Pdf {
            return Ok(vec![(file.to_owned(), self.pdf()?)]);
        }
        let pages = self.svgs();
        if let [page] = pages.as_slice() {
            return Ok(vec![(file.to_owned(), page.clone().into_bytes())]);
        }
        let pages = pages.into_iter().enumerate();
        Ok(pages
            .map(|(index, it)| (page_place(file, index + 1), it.into_bytes()))
            .collect())
    }

    /// The places that must be free for a name before it is known how many pages there are: that of the name, and
    /// for SVG that of the first of several pages.
    #[must_use]
    pub fn places(file: &Path) -> Vec<PathBuf> {
        let mut places = vec![file.to_owned()];
        if kind_of(file) == Ok(FileKind::Svg) {
            places.push(page_place(file, 1));
        }
        places
    }

    /// All pages as one PDF. The same pages give the same bytes.
    ///
    /// # Errors
    /// A font or a picture cannot be embedded.
    pub fn pdf(&self) -> Result<Vec<u8>, PrintError> {
        let refused = |found: String| PrintError::Pdf {
            title: self.title.clone(),
            found,
        };
        let mut document = Document::new();
        let about = Metadata::new()
            .title(self.title.clone())
            .creator("thirdglass".to_owned());
        document.set_metadata(about);
        let mut fonts = Fonts::default();
        for sheet in &self.sheets {
            let [width, height] = sheet.size.map(points);
            let settings = PageSettings::from_wh(width, height)
                .ok_or_else(|| refused(format!("a page of {width} by {height} points")))?;
            let mut page = document.start_page_with(settings);
            let mut surface = page.surface();
            for it in &sheet.printed {
                print(&mut surface, &mut fonts, it).map_err(refused)?;
            }
            surface.finish();
            page.finish();
        }
        document.finish().map_err(|it| refused(format!("{it:?}")))
    }
}

/// Where one of several pages goes, counted from 1.
fn page_place(file: &Path, number: usize) -> PathBuf {
    let stem = file.file_stem().unwrap_or_default().to_string_lossy();
    file.with_file_name(format!("{stem}-{number}.svg"))
}

/// What a file is to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum FileKind {
    Pdf,
    Svg,
}

fn kind_of(file: &Path) -> Result<FileKind, PrintError> {
    let ends = |with: &str| {
        file.extension()
            .is_some_and(|it| it.eq_ignore_ascii_case(with))
    };
    match (ends("pdf"), ends("svg")) {
        (true, _) => Ok(FileKind::Pdf),
        (_, true) => Ok(FileKind::Svg),
        _ => Err(PrintError::Kind {
            file: file.to_owned(),
        }),
    }
}

/// Fonts that were opened for this document.
#[derive(Default)]
struct Fonts(HashMap<Face, Font>);

impl Fonts {
    fn of(&mut self, face: Face) -> Result<Font, String> {
        if let Some(font) = self.0.get(&face) {
            return Ok(font.clone());
        }
        let font = Font::new(face.bytes().into(), face.index()).ok_or("a typeface is damaged")?;
        self.0.insert(face, font.clone());
        Ok(font)
    }
}

/// Millimetres in points.
fn points(millimetres: f64) -> f32 {
    single(millimetres * POINTS)
}

/// The library counts in single precision, which holds a tenth of a micrometre on a page.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a page is a few hundred mm wide"
)]
const fn single(value: f64) -> f32 {
    value as f32
}

fn print(surface: &mut Surface<'_>, fonts: &mut Fonts, it: &Printed) -> Result<(), String> {
    match it {
        Printed::Text {
            at,
            text,
            set,
            degrees,
        } => letters(surface, fonts, *at, text, *set, *degrees),
        Printed::Shape { outline, fill, pen } => {
            surface.set_fill(fill.map(filled));
            surface.set_stroke(pen.map(stroked));
            if let Some(path) = drawn_path(outline) {
                surface.draw_path(&path);
            }
            Ok(())
        }
        Printed::Picture {
            at: [x, y],
            size: [width, height],
            bytes,
        } => {
            let image = Image::from_jpeg(bytes.to_vec().into(), true)?;
            let size = Size::from_wh(points(*width), points(*height));
            let size = size.ok_or_else(|| format!("a picture of {width} by {height} mm"))?;
            surface.push_transform(&Transform::from_translate(points(*x), points(*y)));
            surface.draw_image(image, size);
            surface.pop();
            Ok(())
        }
    }
}

/// Writes a line of text, piece by piece where it takes several faces.
fn letters(
    surface: &mut Surface<'_>,
    fonts: &mut Fonts,
    [x, y]: [f64; 2],
    text: &str,
    set: Type,
    degrees: f64,
) -> Result<(), String> {
    let clean: String = text.chars().filter(|it| !it.is_control()).collect();
    let width = set.size * text_width(&clean, set.weight);
    let mut from = match set.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -width / 2.0,
        Anchor::End => -width,
    };
    let place = Transform::from_translate(points(x), points(y));
    surface.push_transform(&place);
    surface.push_transform(&Transform::from_rotate(single(degrees)));
    surface.set_fill(Some(filled(set.ink)));
    surface.set_stroke(None);
    for run in face_runs(&clean, set.weight) {
        surface.draw_text(
            Point::from_xy(points(from), 0.0),
            fonts.of(run.face)?,
            points(set.size),
            run.text,
            false,
            TextDirection::Auto,
        );
        from += set.size * text_width(run.text, set.weight);
    }
    surface.pop();
    surface.pop();
    Ok(())
}

fn filled([red, green, blue]: Rgb) -> Fill {
    Fill {
        paint: rgb::Color::new(red, green, blue).into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::NonZero,
    }
}

fn stroked(pen: Pen) -> Stroke {
    let [red, green, blue] = pen.ink;
    Stroke {
        paint: rgb::Color::new(red, green, blue).into(),
        width: points(pen.width),
        dash: pen.dashes.map(|it| StrokeDash {
            array: it.map(points).to_vec(),
            offset: 0.0,
        }),
        ..Stroke::default()
    }
}

/// A path as the library wants it; none for an empty one.
fn drawn_path(outline: &Outline) -> Option<krilla::geom::Path> {
    let mut path = PathBuilder::new();
    for step in outline.steps() {
        match *step {
            Step::Move(at) => {
                let [x, y] = at.map(points);
                path.move_to(x, y);
            }
            Step::Line(at) => {
                let [x, y] = at.map(points);
                path.line_to(x, y);
            }
            Step::Curve(curve) => {
                let [one, two, to] = curve.map(|it| it.map(points));
                path.cubic_to(one[0], one[1], two[0], two[1], to[0], to[1]);
            }
            Step::Close => path.close(),
        }
    }
    path.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;

    fn page() -> Printout {
        let mut sheet = Sheet::new("A page", Paper::A4);
        sheet.text([20.0, 20.0], "Größe ≥ 5 ☐", Type::of(4.0).bold());
        sheet.turned([50.0, 50.0], 90.0, "down", Type::of(3.0).centred());
        let dashed = Pen::of(0.2).dashed(1.0, 1.0);
        sheet.shape(
            Outline::circle([80.0, 80.0], 9.0),
            Some([255, 0, 0]),
            Some(dashed),
        );
        Printout {
            title: "A page".to_owned(),
            sheets: vec![sheet.clone(), sheet],
        }
    }

    #[test]
    fn pages_become_a_pdf_that_is_the_same_every_time_and_as_many_svgs() {
        let pdf = page().pdf().unwrap();
        assert!(pdf.starts_with(b"%PDF-"));
        assert_eq!(pdf, page().pdf().unwrap());
        assert_eq!(page().svgs().len(), 2);
    }

    #[test]
    fn the_name_of_a_file_says_what_it_is_to_be() {
        let names = |file: &str| {
            let files = page().files(Path::new(file));
            files.map(|it| {
                it.iter()
                    .map(|it| it.0.display().to_string())
                    .collect::<Vec<_>>()
            })
        };
        assert_eq!(names("a/b.PDF").unwrap(), ["a/b.PDF"]);
        assert_eq!(names("a/b.svg").unwrap(), ["a/b-1.svg", "a/b-2.svg"]);
        let one = Printout {
            sheets: page().sheets[..1].to_vec(),
            ..page()
        };
        assert_eq!(one.files(Path::new("b.svg")).unwrap().len(), 1);
        let places = ["a/b.svg", "a/b-1.svg"].map(PathBuf::from);
        assert_eq!(Printout::places(Path::new("a/b.svg")), places);
        assert_eq!(Printout::places(Path::new("b.pdf")).len(), 1);
        let file = PathBuf::from("b.png");
        assert_eq!(names("b.png"), Err(PrintError::Kind { file }));
    }

    #[test]
    fn letters_that_no_typeface_has_are_named_and_no_others() {
        let mut page = page();
        assert_eq!(page.boxes_sentence(), None);
        page.sheets[0].text([20.0, 60.0], "a\u{fffff}b", Type::of(4.0));
        let told = page.boxes_sentence().unwrap();
        assert!(told.ends_with(": \u{fffff}"), "{told}");
        assert!(page.pdf().is_ok());
    }

    #[test]
    fn a_picture_that_is_none_is_told() {
        let mut page = page();
        let bytes: Arc<[u8]> = Arc::from(b"no picture".as_slice());
        page.sheets[0].picture([0.0, 0.0], [10.0, 10.0], bytes);
        let refused = page.pdf().unwrap_err().to_string();
        assert!(refused.contains("“A page”"), "{refused}");
    }
}
