//! Sheets laid out on pages: blocks from the top, tables row by row, a head and
//! a foot on every page.

use super::fit::{self, Fitted};
use super::head::Head;
use super::page::{Mark, Page, Piece, Role, Words};
use super::paper::{LARGE, Print, USUAL};
use super::sheet::{Block, Form, Label, Picture, Sheet};
use super::typeface::{BASE, LINE, Typeface, printable};
use crate::finding::{Finding, Path, shortened};
use crate::view::area::{Area, Point, at};
use crate::view::scene::{Measure, Weight};

mod table;

/// From the edge of the paper to what is printed: copiers keep 5 mm free at
/// least (common practice), a hole punch more on the left.
const MARGIN: f32 = 40.0;
/// Letters of a poster, the largest first.
const POSTER: [f32; 10] = [22.0, 20.0, 18.0, 16.0, 15.0, 14.0, 13.0, 12.0, 11.0, 10.0];
/// Letters of half a sheet, likewise.
const HALF: [f32; 5] = [USUAL, 10.0, 9.2, 8.5, LEAST];
/// Grey of lines that carry no meaning.
const HAIRLINE: u8 = 150;
const BLACK: u8 = 0;
/// Letters of head and foot, as a share of the others.
const SMALL: f32 = 0.82;
/// No letters are smaller, whatever they are a share of.
const LEAST: f32 = 8.0;
/// So much of a long name is told in a finding.
const TOLD: usize = 40;

/// From the edge of a label to its words.
const LABEL_PAD: f32 = 6.0;

/// Labels beside each other, each with its lines.
struct LabelRow {
    wide: f32,
    high: f32,
    labels: Vec<Vec<(Fitted, Weight)>>,
}

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

/// Lays out a sheet.
pub fn lay_out(
    sheet: &Sheet<'_>,
    head: &Head,
    print: Print,
    (typeface, said): (&Typeface, Said<'_>),
) -> LaidOut {
    let least = if print.large { LARGE } else { 0.0 };
    let with = |size: f32| Writer::new(sheet, head, print, size, (typeface, said)).written();
    let sizes: &[f32] = match sheet.form {
        Form::Poster => &POSTER,
        Form::HalfSheet => &HALF,
        Form::Hand | Form::CutUp => &[],
    };
    let sizes = sizes.iter().copied().filter(|&size| size >= least);
    let mut laid = None;
    for size in sizes {
        let tried = with(size);
        let fits = tried.pages.len() == 1 && tried.findings.is_empty();
        laid = Some(tried);
        if fits {
            break;
        }
    }
    laid.unwrap_or_else(|| with(USUAL.max(least)))
}

/// A sheet while it is laid out.
struct Writer<'a> {
    sheet: &'a Sheet<'a>,
    head: &'a Head,
    typeface: &'a Typeface,
    said: Said<'a>,
    /// Size of the letters.
    size: f32,
    /// No letters are smaller.
    least: f32,
    page: (f32, f32),
    pages: Vec<Page>,
    /// Where the next block goes.
    y: f32,
    /// Where the head of the page ends.
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
        size: f32,
        (typeface, said): (&'a Typeface, Said<'a>),
    ) -> Self {
        let half = sheet.form == Form::HalfSheet && !print.large;
        let page = if half { print.paper.half() } else { print.paper.size() };
        let least = if print.large { LARGE } else { LEAST };
        let (pages, findings, tables) = (Vec::new(), Vec::new(), 0);
        let (y, head_end) = (0.0, 0.0);
        Self {
            sheet,
            head,
            typeface,
            said,
            size,
            least,
            page,
            pages,
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

    fn left(&self) -> f32 {
        margin(self.page)
    }

    fn width(&self) -> f32 {
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
        self.y = margin(self.page);
        if self.sheet.form != Form::CutUp {
            self.page_head();
        }
        self.head_end = self.y;
    }

    /// A new page, unless there is room for so much on this one. Further pages
    /// have a small head, so that after a first one with a large head there is
    /// more room; on one of them nothing is gained by going on.
    fn want(&mut self, height: f32) {
        let first = self.pages.len() == 1 && self.sheet.form != Form::CutUp;
        if self.y + height > self.bottom() && (first || !self.is_fresh()) {
            self.begin_page();
        }
    }

    /// Nothing but the head stands on the page.
    fn is_fresh(&self) -> bool {
        self.y <= self.head_end
    }

    fn add(&mut self, role: Role, marks: Vec<Mark>) {
        if let Some(page) = self.pages.last_mut() {
            page.pieces.push(Piece { role, marks });
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
        if fitted.is_long {
            self.tell_long(words, fitted.lines.len());
        }
        fitted
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
        let fitted = self.name(&words, size, Weight::Bold, self.width());
        self.flow(&fitted, Weight::Bold, &Role::Text);
        self.y += 0.3 * self.size;
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

    /// Pictures in rows, each row as high as its highest.
    fn pictures(&mut self, pictures: &[Picture<'_>]) {
        let gap = self.size;
        let mut rest = pictures;
        while let Some(first) = rest.first() {
            let mut share = self.share(first);
            let mut n = 1;
            while let Some(next) = rest.get(n)
                && share + self.share(next) <= 1.001
            {
                share += self.share(next);
                n += 1;
            }
            let (now, later) = rest.split_at(n);
            self.picture_row(now, gap);
            rest = later;
        }
    }

    /// The share of the width a picture has: twice its own in large print.
    fn share(&self, picture: &Picture<'_>) -> f32 {
        let times = if self.least >= LARGE { 2.0 } else { 1.0 };
        (times * picture.share).min(1.0)
    }

    fn picture_row(&mut self, pictures: &[Picture<'_>], gap: f32) {
        let size = self.small();
        let room = self.width() + gap;
        let typeface = self.typeface;
        let below = |fitted: &Fitted| fitted.height(typeface, Weight::Plain);
        let drawn: Vec<_> = pictures
            .iter()
            .map(|picture| {
                let wide = (room * self.share(picture) - gap).max(40.0);
                let scene = (picture.draw)(wide / picture.zoom, self.typeface);
                let words = self.told(&picture.caption);
                let caption = fit::prose(&words, size, Weight::Plain, wide, self.typeface);
                // What is higher than a page is shrunk to one.
                let most = self.bottom() - self.head_end - below(&caption) - 6.0;
                let zoom = picture.zoom.min((most / scene.size.1.max(1.0)).max(0.05));
                (picture, (wide, zoom), scene, caption)
            })
            .collect();
        let tallest =
            drawn.iter().map(|(_, (_, zoom), scene, caption)| scene.size.1 * zoom + below(caption));
        let tallest = tallest.fold(0.0, f32::max) + 4.0;
        self.want(tallest);
        let mut x = self.left();
        for (picture, (wide, zoom), scene, caption) in drawn {
            let under = at(x, self.y + scene.size.1 * zoom + 2.0);
            let marks = self.lines(&caption, Weight::Plain, under, BLACK);
            let spoken = self.told(&picture.spoken);
            let scene = Mark::Scene(at(x, self.y), scene, zoom);
            self.add(Role::Picture(spoken), vec![scene]);
            if !picture.caption.is_empty() {
                self.add(Role::Text, marks);
            }
            x += wide + gap;
        }
        self.y += tallest + 0.3 * self.size;
    }

    /// Labels in rows with lines to cut along; a row is as high as its highest.
    /// There are fewer across where one would be higher than the page.
    fn labels(&mut self, across: usize, labels: &[Label]) {
        let most = self.bottom() - self.head_end;
        let mut rows = Vec::new();
        for across in (1..=across.max(1)).rev() {
            rows = self.label_rows(across, labels);
            if rows.iter().all(|row| row.high <= most) {
                break;
            }
        }
        for LabelRow { wide, high, labels } in rows {
            self.want(high);
            for (i, lines) in labels.into_iter().enumerate() {
                let area = Area { x: self.left() + i as f32 * wide, y: self.y, w: wide, h: high };
                self.add(Role::Trim, vec![Mark::Rect(area, None, Some((0.5, HAIRLINE)))]);
                let mut y = self.y + LABEL_PAD;
                let mut marks = Vec::new();
                for (fitted, weight) in lines {
                    if fitted.is_long {
                        self.tell_long(&fitted.lines.concat(), fitted.lines.len());
                    }
                    marks.extend(self.lines(&fitted, weight, at(area.x + LABEL_PAD, y), BLACK));
                    y += fitted.height(self.typeface, weight);
                }
                self.add(Role::Text, marks);
            }
            self.y += high;
        }
    }

    fn label_rows(&self, across: usize, labels: &[Label]) -> Vec<LabelRow> {
        let wide = self.width() / across as f32;
        let room = wide - 2.0 * LABEL_PAD;
        let least = (self.page.1 - 2.0 * margin(self.page)) / 8.0 - 0.5;
        let laid = |label: &Label| {
            let (name, size) = (self.told(&label.name), (self.size, self.least));
            let name = fit::name(&name, size, Weight::Bold, room, self.typeface);
            let mut lines = vec![(name, Weight::Bold)];
            for (words, bold) in &label.lines {
                let weight = if *bold { Weight::Bold } else { Weight::Plain };
                let words = self.told(words);
                let fitted = fit::prose(&words, self.small(), weight, room, self.typeface);
                lines.push((fitted, weight));
            }
            lines
        };
        let row = |labels: &[Label]| {
            let labels: Vec<_> = labels.iter().map(laid).collect();
            let height = |lines: &Vec<(Fitted, Weight)>| -> f32 {
                lines.iter().map(|(fitted, weight)| fitted.height(self.typeface, *weight)).sum()
            };
            let high = labels.iter().map(height).fold(0.0, f32::max) + 2.0 * LABEL_PAD;
            LabelRow { wide, high: high.max(least), labels }
        };
        labels.chunks(across).map(row).collect()
    }

    /// Title, and what lesson this is; on further pages the title alone.
    fn page_head(&mut self) {
        if self.pages.len() > 1 {
            let title = self.told(&self.sheet.title());
            let size = self.small();
            let title = fit::prose(&title, size, Weight::Bold, self.width(), self.typeface);
            self.head_line(&title, Weight::Bold, Role::Trim);
        } else {
            let size = self.size.max(USUAL) * 1.35;
            let title = self.told(&self.sheet.title());
            let title = self.name(&title, size, Weight::Bold, self.width());
            self.head_line(&title, Weight::Bold, Role::Title);
            for words in self.head.lines() {
                let words = self.told(&words);
                let small = self.small().max(9.0);
                let fitted = self.name(&words, small, Weight::Plain, self.width());
                self.head_line(&fitted, Weight::Plain, Role::Text);
            }
        }
        self.y += 2.0;
        let (from, to) = (at(self.left(), self.y), at(self.left() + self.width(), self.y));
        self.add(Role::Trim, vec![Mark::Line(from, to, 1.2, BLACK)]);
        self.y += 0.8 * self.size;
    }

    fn head_line(&mut self, fitted: &Fitted, weight: Weight, role: Role) {
        let marks = self.lines(fitted, weight, at(self.left(), self.y), BLACK);
        self.add(role, marks);
        self.y += fitted.height(self.typeface, weight);
    }

    fn foot(&self, page: usize, of: usize) -> Vec<Fitted> {
        if self.sheet.form == Form::CutUp {
            return Vec::new();
        }
        let size = (self.small() * 0.92).max(self.least);
        let words = [Head::CAUTION.to_owned(), self.head.issued(page, of)];
        let fitted = words.map(|words| {
            fit::prose(&self.told(&words), size, Weight::Plain, self.width(), self.typeface)
        });
        fitted.into()
    }

    fn foot_height(&self) -> f32 {
        let foot = self.foot(888, 888);
        let lines: f32 = foot.iter().map(|f| f.height(self.typeface, Weight::Plain)).sum();
        if foot.is_empty() { 0.0 } else { lines + 8.0 }
    }

    /// The foot of every page, once it is known how many there are.
    fn feet(&mut self) {
        let of = self.pages.len();
        for page in 0..of {
            let foot = self.foot(page + 1, of);
            if foot.is_empty() {
                return;
            }
            let mut y = self.bottom() + 6.0;
            let (from, to) = (at(self.left(), y), at(self.left() + self.width(), y));
            let mut pieces =
                vec![Piece { role: Role::Trim, marks: vec![Mark::Line(from, to, 0.6, HAIRLINE)] }];
            y += 2.0;
            for fitted in foot {
                let marks = self.lines(&fitted, Weight::Plain, at(self.left(), y), BLACK);
                y += fitted.height(self.typeface, Weight::Plain);
                let role = if page == 0 { Role::Foot } else { Role::Trim };
                pieces.push(Piece { role, marks });
            }
            self.pages[page].pieces.extend(pieces);
        }
    }
}

/// The margin of a page: narrower on half a sheet.
fn margin(page: (f32, f32)) -> f32 {
    if page.0 < 450.0 { 0.7 * MARGIN } else { MARGIN }
}
