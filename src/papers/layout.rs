//! Sheets laid out on pages: blocks from the top, tables row by row, a head and
//! a foot on every page.

use super::fit::{self, Fitted};
use super::head::Head;
use super::page::{Mark, Page, Piece, Role, Words};
use super::paper::{LARGE, Print, USUAL};
use super::sheet::{Block, Form, Sheet};
use super::typeface::{BASE, LINE, Typeface, printable};
use crate::finding::{Finding, Path, shortened};
use crate::model::Language;
use crate::view::area::{Area, Point, at};
use crate::view::scene::{Measure, Weight};

mod edges;
mod labels;
mod pictures;
mod table;

/// From the edge of the paper to what is printed: copiers keep 5 mm free at
/// least (common practice), a hole punch more on the left.
const MARGIN: f32 = 40.0;
/// Letters of a poster, the largest first.
const POSTER: [f32; 12] = [22.0, 20.0, 18.0, 16.0, 15.0, 14.0, 13.0, 12.0, 11.0, 10.0, 9.0, LEAST];
/// Letters of half a sheet, likewise.
const HALF: [f32; 5] = [USUAL, 10.0, 9.2, 8.5, LEAST];
/// Air above and below what stands in a table, in sizes of its letters: as it
/// usually is, and where rows must be tight to fit one page.
const ROOMY: f32 = 0.3;
const TIGHT: f32 = 0.12;
/// In larger letters half a page is too narrow for names, and is no column.
const MOST_IN_COLUMNS: f32 = 16.0;
/// Columns of a table that half a page has room for.
const NARROW: usize = 4;
/// Between two columns.
const GUTTER: f32 = 18.0;
/// Grey of lines that carry no meaning.
const HAIRLINE: u8 = 150;
const BLACK: u8 = 0;
/// Letters of head, foot and captions, as a share of the others.
const SMALL: f32 = 0.82;
/// No letters are smaller, whatever they are a share of.
const LEAST: f32 = 8.0;
/// So much of a long name is told in a finding.
const TOLD: usize = 40;

/// What is said in the English that is spoken.
pub type Said<'a> = &'a dyn Fn(&str) -> String;

/// A sheet laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidOut {
    /// Its pages.
    pub pages: Vec<Page>,
    /// What did not fit as it should, or lacks a letter.
    pub findings: Vec<Finding>,
}

/// How a sheet is tried.
#[derive(Debug, Clone, Copy)]
struct Way {
    /// Size of the letters.
    size: f32,
    /// Air above and below what stands in a table, in sizes of the letters.
    air: f32,
    columns: usize,
}

impl Way {
    const fn usual(size: f32) -> Self {
        Self { size, air: ROOMY, columns: 1 }
    }

    /// The ways to be tried before the letters are made smaller.
    fn of(sheet: &Sheet<'_>, size: f32) -> Vec<Self> {
        let tight = Self { air: TIGHT, ..Self::usual(size) };
        let mut ways = vec![Self::usual(size), tight];
        // Tables of more columns would break times and names in half a page.
        let is_narrow = sheet.blocks.iter().all(|block| match block {
            Block::Table(table) => table.columns.len() <= NARROW,
            _ => true,
        });
        if sheet.form == Form::Poster && is_narrow && size <= MOST_IN_COLUMNS {
            ways.push(Self { columns: 2, ..tight });
        }
        ways
    }
}

/// Lays out a sheet. What should fit one page is tried in tight rows and in
/// columns before its letters are made smaller; what does not fit one in any
/// way takes as few as it can.
pub fn lay_out(
    sheet: &Sheet<'_>,
    head: &Head,
    print: Print,
    (typeface, said): (&Typeface, Said<'_>),
) -> LaidOut {
    let least = if print.large { LARGE } else { 0.0 };
    let with = |way: Way| Writer::new(sheet, head, print, way, (typeface, said)).written();
    let sizes: &[f32] = match sheet.form {
        Form::Poster => &POSTER,
        Form::HalfSheet => &HALF,
        Form::Hand | Form::CutUp => &[],
    };
    let sizes = sizes.iter().copied().filter(|&size| size >= least);
    let mut best: Option<LaidOut> = None;
    for way in sizes.flat_map(|size| Way::of(sheet, size)) {
        let tried = with(way);
        let fits = |laid: &LaidOut| (laid.pages.len(), laid.findings.len());
        if best.as_ref().is_none_or(|best| fits(&tried) < fits(best)) {
            best = Some(tried);
        }
        if best.as_ref().is_some_and(|best| fits(best) == (1, 0)) {
            break;
        }
    }
    best.unwrap_or_else(|| with(Way::usual(USUAL.max(least))))
}

/// A sheet while it is laid out.
struct Writer<'a> {
    sheet: &'a Sheet<'a>,
    head: &'a Head,
    typeface: &'a Typeface,
    said: Said<'a>,
    /// Size of the letters.
    size: f32,
    /// Air above and below what stands in a table, in sizes of the letters.
    air: f32,
    /// No letters are smaller.
    least: f32,
    /// Symbols are drawn beside jobs.
    symbols: bool,
    /// The language of a second line.
    home: Option<Language>,
    page: (f32, f32),
    pages: Vec<Page>,
    /// Columns of a page, and the one that is filled.
    columns: usize,
    column: usize,
    /// Columns begun on all pages.
    begun: usize,
    /// Where the next block goes.
    y: f32,
    /// Where the columns of the page begin.
    head_end: f32,
    /// Tables begun.
    tables: usize,
    findings: Vec<Finding>,
}

impl<'a> Writer<'a> {
    fn new(
        sheet: &'a Sheet<'a>,
        head: &'a Head,
        print: Print,
        Way { size, air, columns }: Way,
        (typeface, said): (&'a Typeface, Said<'a>),
    ) -> Self {
        let half = sheet.form == Form::HalfSheet && !print.large;
        let page = if half { print.paper.half() } else { print.paper.size() };
        let least = if print.large { LARGE } else { LEAST };
        let (pages, findings, tables) = (Vec::new(), Vec::new(), 0);
        let (column, begun) = (0, 0);
        let (y, head_end) = (0.0, 0.0);
        Self {
            sheet,
            head,
            typeface,
            said,
            size,
            air,
            least,
            symbols: print.symbols,
            home: print.home,
            page,
            pages,
            columns,
            column,
            begun,
            y,
            head_end,
            tables,
            findings,
        }
    }

    fn written(mut self) -> LaidOut {
        self.begin_page();
        for block in &self.sheet.blocks {
            self.block(block);
        }
        self.feet();
        self.lacking();
        LaidOut { pages: self.pages, findings: self.findings }
    }

    fn block(&mut self, block: &Block<'_>) {
        match block {
            Block::Heading(words) => self.heading(words),
            Block::Big(words) => self.big(words),
            Block::Prose(words) => {
                self.paragraph(words, &Role::Text);
                self.y += 0.35 * self.size;
            }
            Block::List(items) => {
                for item in items {
                    let words = format!("• {item}");
                    self.paragraph(&words, &Role::Item);
                }
                self.y += 0.4 * self.size;
            }
            Block::Table(table) => self.table(table),
            Block::Pictures(pictures) => self.pictures(pictures),
            Block::Labels(across, labels) => self.labels(*across, labels),
            Block::WriteOn(lines) => self.write_on(*lines),
        }
    }

    /// Words as they are printed.
    fn told(&self, words: &str) -> String {
        printable(&(self.said)(words))
    }

    /// Where the column begins that is filled.
    fn left(&self) -> f32 {
        margin(self.page) + self.column as f32 * (self.width() + GUTTER)
    }

    /// The width of a column.
    fn width(&self) -> f32 {
        (self.whole_width() + GUTTER) / self.columns as f32 - GUTTER
    }

    /// What of the width of a page is printed on.
    fn whole_width(&self) -> f32 {
        self.page.0 - 2.0 * margin(self.page)
    }

    /// Where the foot begins.
    fn bottom(&self) -> f32 {
        self.page.1 - margin(self.page) - self.foot_height()
    }

    fn small(&self) -> f32 {
        (self.size.min(USUAL.max(self.least)) * SMALL).max(self.least)
    }

    fn begin_page(&mut self) {
        self.pages.push(Page { size: self.page, pieces: Vec::new() });
        self.column = 0;
        self.begun += 1;
        self.y = margin(self.page);
        if self.sheet.form != Form::CutUp {
            self.page_head();
        }
        self.head_end = self.y;
    }

    /// Goes on in the next column, or on a new page.
    fn go_on(&mut self) {
        if self.column + 1 < self.columns {
            self.column += 1;
            self.begun += 1;
            self.y = self.head_end;
        } else {
            self.begin_page();
        }
    }

    /// Goes on, unless there is room for so much here. Further pages have a small
    /// head, so that after a first one with a large head there is more room; on
    /// one of them nothing is gained by going on.
    fn want(&mut self, height: f32) {
        let first = self.pages.len() == 1 && self.sheet.form != Form::CutUp;
        if self.y + height > self.bottom() && (first || !self.is_fresh()) {
            self.go_on();
        }
    }

    /// Nothing stands in the column yet.
    fn is_fresh(&self) -> bool {
        self.y <= self.head_end
    }

    fn add(&mut self, role: Role, marks: Vec<Mark>) {
        if let Some(page) = self.pages.last_mut() {
            page.pieces.push(Piece { role, marks, language: None });
        }
    }

    /// Lines of words from a point on; a gap ends each but the last, so that
    /// what is read aloud or copied does not run together.
    fn lines(&self, fitted: &Fitted, weight: Weight, from: Point, grey: u8) -> Vec<Mark> {
        let high = LINE * fitted.size;
        let last = fitted.lines.len().saturating_sub(1);
        let each = fitted.lines.iter().enumerate().map(|(i, line)| {
            let top = from.y + i as f32 * high;
            let w = self.typeface.width(line, fitted.size, weight);
            let text = if i < last { format!("{line} ") } else { line.clone() };
            Mark::Words(Words {
                text,
                at: at(from.x, top + BASE * fitted.size),
                size: fitted.size,
                weight,
                grey,
                area: Area { x: from.x, y: top, w, h: high },
            })
        });
        each.collect()
    }

    /// A name fitted to a width; what is long is told of.
    fn name(&mut self, words: &str, size: f32, weight: Weight, width: f32) -> Fitted {
        let fitted = fit::name(words, (size, self.least), weight, width, self.typeface);
        self.tell_if_long(words, &fitted);
        fitted
    }

    fn tell_if_long(&mut self, words: &str, fitted: &Fitted) {
        if fitted.is_long {
            self.tell_long(words, fitted.lines.len());
        }
    }

    fn tell_long(&mut self, words: &str, lines: usize) {
        let message = format!(
            "{}: \"{}\" takes {lines} lines where one or two are meant",
            self.sheet.title(),
            shortened(words, TOLD)
        );
        let finding = Finding::warning("long-text", Path::root(), message);
        self.tell(finding.hint("it is printed in full; a shorter name reads better from afar"));
    }

    fn tell(&mut self, finding: Finding) {
        if !self.findings.contains(&finding) {
            self.findings.push(finding);
        }
    }

    /// Tells of letters that are printed as "?".
    fn lacking(&mut self) {
        let words = self.pages.iter().flat_map(|page| &page.pieces).flat_map(|piece| &piece.marks);
        let lacking = words.filter_map(|mark| match mark {
            Mark::Words(words) => Some(self.typeface.lacking(&words.text)),
            _ => None,
        });
        let lacking: std::collections::BTreeSet<char> = lacking.flatten().collect();
        if lacking.is_empty() {
            return;
        }
        let letters: String = lacking.iter().take(TOLD).collect();
        let message = format!(
            "{}: the typeface has no letters for {letters}; a question mark stands for each",
            self.sheet.title()
        );
        let finding = Finding::warning("letter-missing", Path::root(), message);
        self.tell(finding.hint("write such a name in other letters, or add it by hand"));
    }

    fn heading(&mut self, words: &str) {
        let size = 1.15 * self.size;
        let words = self.told(words);
        let fitted = fit::prose(&words, size, Weight::Bold, self.width(), self.typeface);
        let height = fitted.height(self.typeface, Weight::Bold);
        // Never the last on its page.
        self.want(height + 4.0 * LINE * self.size);
        if !self.is_fresh() {
            self.y += 0.5 * self.size;
        }
        self.flow(&fitted, Weight::Bold, &Role::Heading);
        self.y += 0.2 * self.size;
    }

    fn big(&mut self, words: &str) {
        let words = self.told(words);
        let size = 2.0 * self.size;
        // On top of a page it goes over all columns.
        let on_top = self.column == 0 && self.is_fresh();
        let width = if on_top { self.whole_width() } else { self.width() };
        let fitted = self.name(&words, size, Weight::Bold, width);
        self.flow(&fitted, Weight::Bold, &Role::Text);
        self.y += 0.3 * self.size;
        if on_top && self.column == 0 {
            self.head_end = self.y;
        }
    }

    /// Sentences, in lines as long as the page is wide.
    fn paragraph(&mut self, words: &str, role: &Role) {
        let words = self.told(words);
        let fitted = fit::prose(&words, self.size, Weight::Plain, self.width(), self.typeface);
        self.flow(&fitted, Weight::Plain, role);
    }

    /// Lines one below another, broken between pages where they must be.
    fn flow(&mut self, fitted: &Fitted, weight: Weight, role: &Role) {
        let high = LINE * fitted.size;
        let mut lines = fitted.lines.as_slice();
        while !lines.is_empty() {
            self.want(high * lines.len().min(2) as f32);
            let room = (((self.bottom() - self.y) / high).floor().max(1.0)) as usize;
            let (now, later) = lines.split_at(room.min(lines.len()));
            let part = Fitted { lines: now.to_vec(), ..fitted.clone() };
            let marks = self.lines(&part, weight, at(self.left(), self.y), BLACK);
            self.add(role.clone(), marks);
            self.y += high * now.len() as f32;
            lines = later;
        }
    }

    fn write_on(&mut self, lines: usize) {
        let high = 2.0 * self.size;
        for _ in 0..lines {
            self.want(high);
            let y = self.y + high - 2.0;
            let (from, to) = (at(self.left(), y), at(self.left() + self.width(), y));
            self.add(Role::Trim, vec![Mark::Line(from, to, 0.6, HAIRLINE)]);
            self.y += high;
        }
        self.y += 0.4 * self.size;
    }
}

/// The margin of a page: narrower on half a sheet.
fn margin(page: (f32, f32)) -> f32 {
    if page.0 < 450.0 { 0.7 * MARGIN } else { MARGIN }
}
