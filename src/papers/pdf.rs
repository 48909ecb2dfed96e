//! Pages as a PDF: tagged in the order in which they are read, faces embedded
//! whole, title and language set. `objects` is the file, `content` what is drawn
//! on a page, `faces` the typeface, `tags` the order of reading.

mod content;
mod faces;
mod objects;
mod scene;
mod tags;

use chrono::NaiveDateTime;
use thiserror::Error;

use super::page::{Mark, Page, Role, Words};
use super::typeface::{Run, Typeface};
use crate::view::area::{Area, Point, at};
use crate::view::scene::Weight;
use content::Content;
use faces::Faces;
use objects::{Objects, Ref, list, number, text};
use tags::Tags;

/// What our PDF files say they were made by; none other is written over.
pub const CREATOR: &str = "ovenbell";

/// Whether the bytes of a file are a PDF that was made here.
pub fn is_ours(bytes: &[u8]) -> bool {
    let creator = CREATOR.as_bytes();
    bytes.starts_with(b"%PDF-") && bytes.windows(creator.len()).any(|part| part == creator)
}

/// Pages that belong together, with their title.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// The title of the sheet.
    pub title: String,
    /// Its pages.
    pub pages: Vec<Page>,
}

/// A PDF could not be made, which would be a fault of the program.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("the PDF could not be made: {0}")]
pub struct NoPdf(pub String);

/// Sheets as the bytes of a PDF.
///
/// # Errors
/// If a face of the typeface cannot be read.
pub fn pdf(
    title: &str,
    (language, issued): (&str, NaiveDateTime),
    sections: &[Section],
    typeface: &Typeface,
) -> Result<Vec<u8>, NoPdf> {
    let mut file = Objects::new();
    let (catalog, tree, info) = (file.next(), file.next(), file.next());
    let mut faces = Faces::new(&mut file)?;
    let mut tags = Tags::default();
    let mut pages: Vec<Ref> = Vec::new();
    let mut tops: Vec<(&str, Ref)> = Vec::new();
    for section in sections {
        for (i, page) in section.pages.iter().enumerate() {
            let (id, content) = (file.next(), file.next());
            if i == 0 {
                tops.push((&section.title, id));
            }
            let ink = Ink { content: Content::default(), typeface, faces: &mut faces };
            file.stream(content, "", &ink.page(page, (&mut tags, pages.len())));
            let (wide, high) = (number(page.size.0), number(page.size.1));
            file.dictionary(
                id,
                &format!(
                    "/Type /Page /Parent {tree} /MediaBox [0 0 {wide} {high}] /Contents {content} \
                     /Resources << /Font << {} >> >> /StructParents {} /Tabs /S",
                    faces.named(),
                    pages.len()
                ),
            );
            pages.push(id);
        }
        tags.end_sheet();
    }
    faces.write(&mut file);
    let root = tags.write(&mut file, &pages);
    let outline = outline(&mut file, &tops);
    let kids = list(&pages);
    file.dictionary(tree, &format!("/Type /Pages /Kids [{kids}] /Count {}", pages.len()));
    let made = issued.format("D:%Y%m%d%H%M%S");
    file.dictionary(
        info,
        &format!(
            "/Title {} /Creator ({CREATOR}) /Producer ({CREATOR}) /CreationDate ({made})",
            text(title)
        ),
    );
    file.dictionary(
        catalog,
        &format!(
            "/Type /Catalog /Pages {tree} /Lang ({language}) /StructTreeRoot {root} \
             /MarkInfo << /Marked true >> /ViewerPreferences << /DisplayDocTitle true >>{outline}"
        ),
    );
    Ok(file.finish(catalog, info))
}

/// A line for each sheet, for whoever looks for one: its entry of the catalog.
fn outline(file: &mut Objects, tops: &[(&str, Ref)]) -> String {
    let items: Vec<Ref> = tops.iter().map(|_| file.next()).collect();
    let (Some(first), Some(last)) = (items.first(), items.last()) else { return String::new() };
    let id = file.next();
    let count = items.len();
    file.dictionary(id, &format!("/Type /Outlines /First {first} /Last {last} /Count {count}"));
    for (i, (title, page)) in tops.iter().enumerate() {
        let beside = |name: &str, item: Option<&Ref>| {
            item.map_or(String::new(), |item| format!(" /{name} {item}"))
        };
        let prev = beside("Prev", i.checked_sub(1).and_then(|i| items.get(i)));
        let next = beside("Next", items.get(i + 1));
        let title = text(title);
        let entries = format!("/Title {title} /Parent {id}{prev}{next} /Dest [{page} /Fit]");
        file.dictionary(items[i], &entries);
    }
    format!(" /Outlines {id}")
}

/// How a line is drawn: its width, its grey, and dash and gap if it is broken.
type Line = (f32, u8, Option<(f32, f32)>);

/// What draws on a page, in points from its left top.
struct Ink<'a> {
    content: Content,
    typeface: &'a Typeface,
    faces: &'a mut Faces,
}

impl Ink<'_> {
    /// The content of a page.
    fn page(mut self, page: &Page, (tags, number): (&mut Tags, usize)) -> Vec<u8> {
        // Down is down.
        self.content.transform([1.0, 0.0, 0.0, -1.0, 0.0, page.size.1]);
        let mut marked = 0;
        for piece in &page.pieces {
            if piece.role == Role::Trim {
                self.content.begin_trim();
            } else {
                self.content.begin_read(marked);
                tags.add(&piece.role, tags::Marked { page: number, id: marked });
                marked += 1;
            }
            piece.marks.iter().for_each(|mark| self.mark(mark));
            self.content.end_marked();
        }
        self.content.finish()
    }

    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Words(Words { text, at, size, weight, grey, .. }) => {
                self.text(text, *at, (*size, *weight, *grey));
            }
            Mark::Rect(area, ground, edge) => {
                let inset = edge.map_or(0.0, |(width, _)| width / 2.0);
                let edge = edge.map(|(width, grey)| (width, grey, None));
                self.closed(&corners(&area.grown(-inset, -inset)), *ground, edge);
            }
            Mark::Line(from, to, width, grey) => self.line(&[*from, *to], (*width, *grey, None)),
            Mark::Scene(at, scene, zoom) => self.scene((*at, *zoom), scene),
        }
    }

    /// Words whose letters stand on a point.
    fn text(&mut self, text: &str, foot: Point, (size, weight, grey): (f32, Weight, u8)) {
        self.content.ground(share(grey));
        let mut x = foot.x;
        for run in self.typeface.runs(text, weight) {
            x += size * self.run(text, &run, at(x, foot.y), size);
        }
    }

    /// Glyphs of one face; how far they lead on, in sizes of the letters.
    fn run(&mut self, text: &str, run: &Run, from: Point, size: f32) -> f32 {
        let mut wide = 0.0;
        self.content.begin_text(faces::resource(run.face), size);
        // Glyphs that follow one another as their face has it, and where the
        // next would stand.
        let mut together: Vec<u16> = Vec::new();
        let mut pen = f32::NAN;
        for glyph in &run.glyphs {
            let means = text.get(glyph.of.clone()).unwrap_or_default();
            let is_plain = self.faces.use_glyph(run.face, glyph, means);
            let id = u16::try_from(glyph.id).unwrap_or(0);
            let (right, up) = glyph.moved;
            let leads_on = up == 0.0 && (pen - wide - right).abs() < 1e-4;
            if !leads_on || !is_plain {
                self.show(&mut together);
                self.content.stand(from.x + size * (wide + right), from.y - size * up);
            }
            together.push(id);
            pen = if up == 0.0 { wide + right + self.faces.width(run.face, id) } else { f32::NAN };
            if !is_plain {
                self.content.begin_meaning(means);
                self.show(&mut together);
                self.content.end_marked();
                pen = f32::NAN;
            }
            wide += glyph.advance;
        }
        self.show(&mut together);
        self.content.end_text();
        wide
    }

    fn show(&mut self, together: &mut Vec<u16>) {
        if !together.is_empty() {
            self.content.show(together);
            together.clear();
        }
    }

    fn closed(&mut self, corners: &[Point], ground: Option<u8>, edge: Option<Line>) {
        self.set(ground, edge);
        self.content.path(corners);
        self.content.close();
        self.content.paint(ground.is_some(), edge.is_some());
    }

    fn line(&mut self, points: &[Point], pen: Line) {
        self.set(None, Some(pen));
        self.content.path(points);
        self.content.paint(false, true);
    }

    /// Sets greys, width and dash of the path that begins next.
    fn set(&mut self, ground: Option<u8>, edge: Option<Line>) {
        if let Some(grey) = ground {
            self.content.ground(share(grey));
        }
        if let Some((width, grey, dash)) = edge {
            self.content.pen(share(grey), width, dash);
        }
    }
}

fn corners(area: &Area) -> [Point; 4] {
    let (l, t, r, b) = (area.x, area.y, area.right(), area.bottom());
    [at(l, t), at(r, t), at(r, b), at(l, b)]
}

/// A grey as a share of white.
fn share(grey: u8) -> f32 {
    f32::from(grey) / 255.0
}
