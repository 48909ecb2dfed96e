//! What is drawn on a page, operator by operator (ISO 32000-1, chapters 8, 9
//! and 14).

use super::objects::{number, text};
use crate::view::area::{Area, Point};

/// The content of a page while it is written.
#[derive(Default)]
pub(super) struct Content(String);

impl Content {
    pub(super) fn finish(self) -> Vec<u8> {
        self.0.into_bytes()
    }

    fn op(&mut self, operands: &[f32], operator: &str) {
        for operand in operands {
            self.0.push_str(&number(*operand));
            self.0.push(' ');
        }
        self.raw(operator);
    }

    fn raw(&mut self, line: &str) {
        self.0.push_str(line);
        self.0.push('\n');
    }

    pub(super) fn save(&mut self) {
        self.raw("q");
    }

    pub(super) fn restore(&mut self) {
        self.raw("Q");
    }

    pub(super) fn transform(&mut self, matrix: [f32; 6]) {
        self.op(&matrix, "cm");
    }

    /// Clips to an area until the state before is restored.
    pub(super) fn clip(&mut self, area: &Area) {
        self.op(&[area.x, area.y, area.w.max(0.0), area.h.max(0.0)], "re W n");
    }

    /// Greys are shares of white.
    pub(super) fn ground(&mut self, grey: f32) {
        self.op(&[grey], "g");
    }

    pub(super) fn pen(&mut self, grey: f32, width: f32, dash: Option<(f32, f32)>) {
        self.op(&[grey], "G");
        self.op(&[width], "w");
        match dash {
            Some((on, off)) => self.raw(&format!("[{} {}] 0 d", number(on), number(off))),
            None => self.raw("[] 0 d"),
        }
    }

    pub(super) fn path(&mut self, points: &[Point]) {
        for (i, point) in points.iter().enumerate() {
            self.op(&[point.x, point.y], if i == 0 { "m" } else { "l" });
        }
    }

    pub(super) fn curve(&mut self, one: Point, two: Point, to: Point) {
        self.op(&[one.x, one.y, two.x, two.y, to.x, to.y], "c");
    }

    pub(super) fn close(&mut self) {
        self.raw("h");
    }

    /// Fills the path there is, draws its line, or both; or forgets it.
    pub(super) fn paint(&mut self, fills: bool, draws: bool) {
        self.raw(match (fills, draws) {
            (true, true) => "B",
            (true, false) => "f",
            (false, true) => "S",
            (false, false) => "n",
        });
    }

    pub(super) fn begin_text(&mut self, face: &str, size: f32) {
        self.raw("BT");
        self.raw(&format!("/{face} {} Tf", number(size)));
    }

    pub(super) fn end_text(&mut self) {
        self.raw("ET");
    }

    /// Where the next glyph stands, upright where down is down.
    pub(super) fn stand(&mut self, x: f32, y: f32) {
        self.op(&[1.0, 0.0, 0.0, -1.0, x, y], "Tm");
    }

    /// Glyphs one after another, each as wide as its face says.
    pub(super) fn show(&mut self, glyphs: &[u16]) {
        let hex: String = glyphs.iter().map(|glyph| format!("{glyph:04X}")).collect();
        self.raw(&format!("<{hex}> Tj"));
    }

    /// What follows is read, under a number of its page.
    pub(super) fn begin_read(&mut self, number: usize) {
        self.raw(&format!("/P << /MCID {number} >> BDC"));
    }

    /// What follows is not read.
    pub(super) fn begin_trim(&mut self) {
        self.raw("/Artifact BMC");
    }

    /// What follows means these words.
    pub(super) fn begin_meaning(&mut self, words: &str) {
        self.raw(&format!("/Span << /ActualText {} >> BDC", text(words)));
    }

    pub(super) fn end_marked(&mut self) {
        self.raw("EMC");
    }
}
