//! What draws on a page, in points from its left top: words, lines and grounds,
//! in greys.

use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Point as PdfPoint};
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ContentTag, SpanTag};
use krilla::text::{Font, GlyphId, KrillaGlyph};

use super::tags::Tags;
use crate::model::Language;
use crate::papers::page::{Mark, Page, Role, Words};
use crate::papers::typeface::{Run, Typeface};
use crate::view::area::{Area, Point, at};
use crate::view::scene::Weight;

/// How a line is drawn: its width, its grey, and dash and gap if it is broken.
pub(super) type Line = (f32, u8, Option<(f32, f32)>);

/// What draws on a page.
pub(super) struct Ink<'a, 'page> {
    pub surface: Surface<'page>,
    pub typeface: &'a Typeface,
    /// The faces, by number.
    pub fonts: &'a [Font],
}

impl Ink<'_, '_> {
    /// Draws a page and notes what of it is read; `number` is that of the page.
    pub fn page(&mut self, page: &Page, (tags, number): (&mut Tags, usize)) {
        for piece in &page.pieces {
            let is_read = piece.role != Role::Trim;
            let tag = match piece.language.as_ref().map(Language::code) {
                _ if !is_read => ContentTag::Artifact(Artifact::default()),
                Some(code) => ContentTag::Span(SpanTag::empty().with_lang(Some(code))),
                None => ContentTag::Other,
            };
            let drawn = self.surface.start_tagged(tag);
            piece.marks.iter().for_each(|mark| self.mark(mark));
            self.surface.end_tagged();
            if is_read {
                tags.add(piece, drawn, number);
            }
        }
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
    pub fn text(&mut self, text: &str, foot: Point, (size, weight, grey): (f32, Weight, u8)) {
        self.surface.set_fill(Some(fill(grey)));
        self.surface.set_stroke(None);
        let mut x = foot.x;
        for Run { face, glyphs } in self.typeface.runs(text, weight) {
            let Some(font) = self.fonts.get(face).cloned() else { continue };
            let wide: f32 = glyphs.iter().map(|glyph| glyph.advance).sum();
            let glyphs = glyphs.into_iter().map(|glyph| {
                let ((right, up), of) = (glyph.moved, glyph.of);
                let id = GlyphId::new(glyph.id);
                KrillaGlyph::new(id, glyph.advance, right, up, 0.0, of, None)
            });
            let glyphs: Vec<KrillaGlyph> = glyphs.collect();
            self.surface.draw_glyphs(point(at(x, foot.y)), &glyphs, font, text, size, false);
            x += size * wide;
        }
    }

    pub fn closed(&mut self, corners: &[Point], ground: Option<u8>, edge: Option<Line>) {
        let mut path = PathBuilder::new();
        follow(&mut path, corners);
        path.close();
        self.path(path, ground, edge);
    }

    pub fn line(&mut self, points: &[Point], pen: Line) {
        let mut path = PathBuilder::new();
        follow(&mut path, points);
        self.path(path, None, Some(pen));
    }

    /// Fills a path, draws its line, or both.
    pub fn path(&mut self, path: PathBuilder, ground: Option<u8>, edge: Option<Line>) {
        let Some(path) = path.finish() else { return };
        // With neither the library would fill it with black.
        if ground.is_none() && edge.is_none() {
            return;
        }
        self.surface.set_fill(ground.map(fill));
        self.surface.set_stroke(edge.map(stroke));
        self.surface.draw_path(&path);
    }

    /// What is drawn is seen within an area alone.
    pub fn within(&mut self, area: &Area, draw: impl FnOnce(&mut Self)) {
        let Some(area) = enclosing(area) else { return };
        self.surface.push_clip_path(&area, &FillRule::NonZero);
        draw(self);
        self.surface.pop();
    }
}

/// The path round an area; none if nothing would be seen within it.
fn enclosing(area: &Area) -> Option<Path> {
    if area.w <= 0.0 || area.h <= 0.0 {
        return None;
    }
    let mut path = PathBuilder::new();
    follow(&mut path, &corners(area));
    path.close();
    path.finish()
}

fn follow(path: &mut PathBuilder, points: &[Point]) {
    for (i, point) in points.iter().enumerate() {
        match i {
            0 => path.move_to(point.x, point.y),
            _ => path.line_to(point.x, point.y),
        }
    }
}

pub(super) fn corners(area: &Area) -> [Point; 4] {
    let (l, t, r, b) = (area.x, area.y, area.right(), area.bottom());
    [at(l, t), at(r, t), at(r, b), at(l, b)]
}

fn point(of: Point) -> PdfPoint {
    PdfPoint::from_xy(of.x, of.y)
}

fn fill(grey: u8) -> Fill {
    let paint = luma::Color::new(grey).into();
    Fill { paint, opacity: NormalizedF32::ONE, rule: FillRule::NonZero }
}

fn stroke((width, grey, dash): Line) -> Stroke {
    let dash = dash.map(|(on, off)| StrokeDash { array: vec![on, off], offset: 0.0 });
    Stroke { paint: luma::Color::new(grey).into(), width, dash, ..Stroke::default() }
}
