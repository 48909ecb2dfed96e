//! The class view as it is painted: black on white, every letter at least
//! 1/25 of the screen's height. What does not fit at that size gives way, the
//! least urgent first; nothing is made smaller.

use std::sync::Arc;

use eframe::egui::text::{LayoutJob, TextFormat};
use eframe::egui::{
    Color32, FontId, Galley, Pos2, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2,
    vec2,
};

use crate::app::looks::fonts;
use crate::view::class_view::{ClassView, Next, On, OvenSlots, Slot, Stage};
use crate::view::words::{list, number};

/// Heights of a letter that go into the screen's.
pub const LETTERS: f32 = 25.0;

/// Height of a capital letter in parts of the size of type (the typeface's
/// own table OS/2: 668 of 1000 units).
pub const CAPITAL: f32 = 0.668;

/// Lines stand this far apart, in sizes of type.
const LINE: f32 = 1.08;

/// Width of an oven's picture at least, in sizes of type.
const OVEN: f32 = 9.4;

/// Width of a line about an oven at least, likewise.
const WORDS: f32 = 14.0;

/// What is on in a line is so much larger.
const LARGE: f32 = 1.3;

/// Lines of calls beside the clock at most.
const CALLS: f32 = 4.0;

/// Paints the class view over all there is.
pub fn show(ui: &mut Ui, view: &ClassView) {
    let sheet = Sheet::of(ui);
    ui.set_clip_rect(sheet.whole);
    ui.painter().rect_filled(sheet.whole, 0.0, Color32::WHITE);
    let below = sheet.head(ui, view);
    let below = match &view.next {
        Some(next) => sheet.next(ui, next, below),
        None => below,
    };
    sheet.ovens(ui, &view.ovens, below);
}

/// Measures of the screen.
struct Sheet {
    whole: Rect,
    inside: Rect,
    /// Size of type: its capitals are 1/25 of the screen's height.
    size: f32,
    /// Air between things.
    air: f32,
}

/// What an oven's picture gives up when there is little room.
#[derive(Clone, Copy)]
struct Level {
    /// Bakes yet to come on each shelf.
    later: usize,
    /// Lines of one bake or heading.
    rows: usize,
    /// Ovens with nothing in them, now or later, have a picture.
    idle: bool,
    form: Form,
}

/// How an oven is drawn.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    /// A cabinet with its shelves.
    Shelves,
    /// A cabinet with all that is in it.
    Together,
    /// A line of words.
    Line,
}

const fn level(later: usize, rows: usize, idle: bool, form: Form) -> Level {
    Level { later, rows, idle, form }
}

/// From all there is to say to the least.
const LEVELS: [Level; 7] = [
    level(9, 2, true, Form::Shelves),
    level(1, 2, true, Form::Shelves),
    level(1, 1, true, Form::Shelves),
    level(0, 1, true, Form::Shelves),
    level(0, 1, false, Form::Shelves),
    level(0, 1, false, Form::Together),
    level(0, 1, false, Form::Line),
];

/// Where the pictures of ovens go.
struct Grid {
    columns: usize,
    width: f32,
    /// Cabinets have a frame, and air about them.
    framed: bool,
}

/// A line of an oven's picture.
struct Row {
    galley: Arc<Galley>,
    /// It is the first of a shelf.
    shelf: bool,
}

/// An oven's picture.
struct Picture<'a> {
    oven: &'a OvenSlots,
    rows: Vec<Row>,
}

impl Sheet {
    fn of(ui: &Ui) -> Self {
        let whole = ui.ctx().content_rect();
        let size = whole.height() / LETTERS / CAPITAL;
        let air = size * 0.2;
        Self { whole, inside: whole.shrink2(vec2(size * 0.4, air)), size, air }
    }

    fn galley(&self, ui: &Ui, text: &str, font: FontId, width: f32, rows: usize) -> Arc<Galley> {
        let mut job = LayoutJob::default();
        self.append(&mut job, text, font);
        Self::laid_out(ui, job, width, rows)
    }

    fn append(&self, job: &mut LayoutJob, text: &str, font: FontId) {
        let line = font.size * LINE;
        let mut format = TextFormat::simple(font, Color32::BLACK);
        format.line_height = Some(line);
        job.append(&crate::app::looks::say::say(text), 0.0, format);
    }

    fn laid_out(ui: &Ui, mut job: LayoutJob, width: f32, rows: usize) -> Arc<Galley> {
        job.wrap.max_width = width.max(1.0);
        job.wrap.max_rows = rows;
        job.break_on_newline = false;
        ui.painter().layout_job(job)
    }

    /// The clock, and beside it what is on. Gives the height below it.
    fn head(&self, ui: &mut Ui, view: &ClassView) -> f32 {
        let (top, left) = (self.inside.top(), self.inside.left());
        let clock = view.clock.to_string();
        let face = self.galley(ui, &clock, fonts::bold(self.size * 2.0), self.inside.width(), 1);
        let beside = left + face.size().x + self.size;
        let height = face.size().y;
        paint(ui, pos2(left, top), &face);
        say(ui, "clock", Rect::from_min_size(pos2(left, top), face.size()), &clock);
        let on = self.on(ui, &view.on, self.inside.right() - beside);
        let tall: f32 = on.iter().map(|g| g.size().y).sum();
        let mut y = top + ((height - tall) / 2.0).max(0.0);
        let from = y;
        for galley in &on {
            paint(ui, pos2(beside, y), galley);
            y += galley.size().y;
        }
        let place = Rect::from_min_max(pos2(beside, from), pos2(self.inside.right(), y));
        say(ui, "on", place, &view.on.lines().join("; "));
        let y = y.max(top + height) + self.air;
        let right = pos2(self.inside.right(), y);
        ui.painter().line_segment([pos2(left, y), right], Stroke::new(self.size * 0.08, INK));
        y + self.air
    }

    /// What is on: large if one line holds it, then call by call, then in brief.
    fn on(&self, ui: &Ui, on: &On, width: f32) -> Vec<Arc<Galley>> {
        let lay = |lines: &[String], size: f32, rows: usize| -> Vec<Arc<Galley>> {
            let font = fonts::bold(size);
            lines.iter().map(|l| self.galley(ui, l, font.clone(), width, rows)).collect()
        };
        let whole = |all: &[Arc<Galley>], most: f32| {
            all.iter().all(|g| !g.elided) && all.iter().map(|g| g.size().y).sum::<f32>() <= most
        };
        let most = self.size * LINE * (CALLS + 0.1);
        let (lines, brief) = (on.lines(), on.brief());
        for (lines, size, most) in [
            (&lines, self.size * LARGE, self.size * LARGE * LINE * 1.1),
            (&lines, self.size, most),
            (&brief, self.size, most),
        ] {
            let all = lay(lines, size, 4);
            if whole(&all, most) {
                return all;
            }
        }
        let rows = if brief.len() > 1 { 2 } else { 4 };
        let mut all = lay(&brief, self.size, rows);
        while all.len() > 1 && all.iter().map(|g| g.size().y).sum::<f32>() > most {
            all.pop();
        }
        all
    }

    /// The next call. Gives the height below it.
    fn next(&self, ui: &mut Ui, next: &Next, top: f32) -> f32 {
        let width = self.inside.width();
        let lay = |what: String, rows: usize| {
            let mut job = LayoutJob::default();
            self.append(&mut job, &next.when(), fonts::bold(self.size));
            self.append(&mut job, &format!(" · {what}"), fonts::plain(self.size));
            Self::laid_out(ui, job, width, rows)
        };
        let mut galley = lay(next.what(false), 2);
        if galley.elided {
            galley = lay(next.what(true), 2);
        }
        let at = pos2(self.inside.left(), top);
        paint(ui, at, &galley);
        let words = format!("{}: {}", next.when(), next.what(false));
        say(ui, "next", Rect::from_min_size(at, vec2(width, galley.size().y)), &words);
        let y = top + galley.size().y + self.air;
        let line = [pos2(self.inside.left(), y), pos2(self.inside.right(), y)];
        ui.painter().line_segment(line, Stroke::new(self.size * 0.04, INK));
        y + self.air
    }

    fn ovens(&self, ui: &mut Ui, ovens: &[OvenSlots], top: f32) {
        let note = self.size * LINE + self.air;
        let space = self.inside.bottom() + self.air - top;
        let room = |of: usize| space - if of < ovens.len() { note } else { 0.0 };
        let taken: Vec<&OvenSlots> = ovens.iter().filter(|o| o.is_taken()).collect();
        let all: Vec<&OvenSlots> = ovens.iter().collect();
        for level in LEVELS {
            let drawn = if level.idle { &all } else { &taken };
            let grid = self.grid(drawn.len(), level.form);
            let mut shown = self.pictures(ui, drawn, level, &grid);
            let room = room(drawn.len());
            let fits = |shown: &[Picture<'_>]| self.height(shown, &grid) <= room;
            if fits(&shown) {
                self.written_out(ui, &mut shown, level, &grid, fits);
                self.cabinets(ui, &shown, &grid, top);
                self.others(ui, ovens, &shown);
                return;
            }
        }
        // The least of each is still too much: those with the nearest call stay.
        let last = LEVELS[LEVELS.len() - 1];
        let grid = self.grid(taken.len(), last.form);
        let mut shown = self.pictures(ui, &taken, last, &grid);
        while !shown.is_empty() && self.height(&shown, &grid) > space - note {
            let latest = (0..shown.len()).max_by_key(|&i| urgency(shown[i].oven));
            shown.remove(latest.unwrap_or(0));
        }
        self.cabinets(ui, &shown, &grid, top);
        self.others(ui, ovens, &shown);
    }

    /// As many columns as there is width for, all lines of them alike in length.
    fn grid(&self, of: usize, form: Form) -> Grid {
        let least = if form == Form::Line { WORDS } else { OVEN };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a few
        let fit = (self.inside.width() / (least * self.size)).floor().max(1.0) as usize;
        let columns = of.div_ceil(of.div_ceil(fit).max(1)).max(1);
        let width = (self.inside.width() + self.air) / columns as f32 - self.air;
        Grid { columns, width, framed: form != Form::Line }
    }

    /// What was cut in some of them gets a second line, where there is room.
    fn written_out<'a>(
        &self,
        ui: &Ui,
        shown: &mut [Picture<'a>],
        level: Level,
        grid: &Grid,
        fits: impl Fn(&[Picture<'a>]) -> bool,
    ) {
        let longer = Level { rows: level.rows + 1, ..level };
        for i in 0..shown.len() {
            if shown[i].rows.iter().any(|r| r.galley.elided) {
                let more = self.picture(ui, shown[i].oven, longer, grid);
                let before = std::mem::replace(&mut shown[i], more);
                if !fits(shown) {
                    shown[i] = before;
                }
            }
        }
    }

    fn pictures<'a>(
        &self,
        ui: &Ui,
        ovens: &[&'a OvenSlots],
        level: Level,
        grid: &Grid,
    ) -> Vec<Picture<'a>> {
        ovens.iter().map(|oven| self.picture(ui, oven, level, grid)).collect()
    }

    fn picture<'a>(&self, ui: &Ui, oven: &'a OvenSlots, level: Level, grid: &Grid) -> Picture<'a> {
        let width = grid.width - 2.0 * self.air;
        let together = oven.together();
        let (beside, lines) = match (level.form, together.as_slice()) {
            (Form::Shelves, _) => (oven.set.clone(), on_shelves(oven, level.later)),
            (Form::Together, [one]) => (one.when(), vec![(one.who(), true)]),
            (Form::Together, all) => {
                let words = all.iter().enumerate().map(|(i, s)| (s.words(), i == 0));
                (String::new(), words.collect())
            }
            (Form::Line, all) => {
                let words: Vec<String> = all.iter().map(Slot::words).collect();
                (words.join("; "), Vec::new())
            }
        };
        let mut heading = LayoutJob::default();
        self.append(&mut heading, &oven.name, fonts::bold(self.size));
        self.append(&mut heading, &format!("  {beside}"), fonts::plain(self.size));
        let mut rows =
            vec![Row { galley: Self::laid_out(ui, heading, width, level.rows), shelf: false }];
        rows.extend(lines.into_iter().map(|(words, shelf)| {
            let galley = self.galley(ui, &words, fonts::plain(self.size), width, level.rows);
            Row { galley, shelf }
        }));
        Picture { oven, rows }
    }

    fn height(&self, shown: &[Picture<'_>], grid: &Grid) -> f32 {
        shown.chunks(grid.columns).map(|line| self.tallest(line, grid)).sum()
    }

    /// Height of a line of pictures, with the air below it.
    fn tallest(&self, line: &[Picture<'_>], grid: &Grid) -> f32 {
        let tall = |p: &Picture<'_>| p.rows.iter().map(|r| r.galley.size().y).sum::<f32>();
        let air = if grid.framed { 2.0 * self.air } else { 0.0 };
        line.iter().map(tall).fold(0.0, f32::max) + air
    }

    fn cabinets(&self, ui: &mut Ui, shown: &[Picture<'_>], grid: &Grid, top: f32) {
        let stroke = Stroke::new(self.size * 0.05, INK);
        let mut y = top;
        for line in shown.chunks(grid.columns) {
            let height = self.tallest(line, grid);
            for (i, picture) in line.iter().enumerate() {
                let left = self.inside.left() + i as f32 * (grid.width + self.air);
                let air = if grid.framed { self.air } else { 0.0 };
                let rect = Rect::from_min_size(pos2(left, y), vec2(grid.width, height - air));
                let mut at = rect.min;
                if grid.framed {
                    ui.painter().rect_stroke(rect, self.size * 0.12, stroke, StrokeKind::Inside);
                    at += vec2(self.air, self.air / 2.0);
                }
                for row in &picture.rows {
                    if row.shelf {
                        let thin = Stroke::new(self.size * 0.03, INK);
                        ui.painter().hline(rect.x_range(), at.y, thin);
                    }
                    paint(ui, at, &row.galley);
                    at.y += row.galley.size().y;
                }
                say(ui, &picture.oven.name, rect, &picture.oven.spoken());
            }
            y += height;
        }
    }

    /// How many ovens have no picture, along the bottom.
    fn others(&self, ui: &mut Ui, ovens: &[OvenSlots], shown: &[Picture<'_>]) {
        let is_shown = |o: &&OvenSlots| shown.iter().any(|p| std::ptr::eq(p.oven, *o));
        let others: Vec<&OvenSlots> = ovens.iter().filter(|o| !is_shown(o)).collect();
        if others.is_empty() {
            return;
        }
        let more = if shown.is_empty() { "" } else { " more" };
        let ovens = if others.len() == 1 { "oven" } else { "ovens" };
        let used: Vec<String> =
            others.iter().filter(|o| o.in_use()).map(|o| o.name.clone()).collect();
        let words = match used.len() {
            0 => format!("{}{more} {ovens} with nothing in", number(others.len())),
            n => format!("{}{more} in use: {}", number(n), list(&used)),
        };
        let words = crate::view::words::capital(&words);
        let galley = self.galley(ui, &words, fonts::plain(self.size), self.inside.width(), 1);
        let at = pos2(self.inside.left(), self.inside.bottom() - galley.size().y);
        paint(ui, at, &galley);
        let all: Vec<String> = others.iter().map(|o| o.spoken()).collect();
        let spoken = format!("{words}. {}", all.join(". "));
        say(ui, "others", Rect::from_min_size(at, galley.size()), &spoken);
    }
}

const INK: Color32 = Color32::BLACK;

/// A line for each bake on each shelf, with so many of those yet to come, and
/// whether it is the first of its shelf.
fn on_shelves(oven: &OvenSlots, most_later: usize) -> Vec<(String, bool)> {
    let mut lines = Vec::new();
    for shelf in &oven.shelves {
        let (later, here): (Vec<&Slot>, Vec<&Slot>) =
            shelf.slots.iter().partition(|s| s.stage == Stage::Later);
        let mut words: Vec<String> = here.iter().map(|s| s.words()).collect();
        words.extend(later.iter().take(most_later).map(|s| s.words()));
        if words.is_empty() {
            words.push("–".to_owned());
        }
        lines.extend(words.into_iter().enumerate().map(|(i, w)| (w, i == 0)));
    }
    lines
}

/// Smaller the sooner the class has to do with an oven.
fn urgency(oven: &OvenSlots) -> (u8, String) {
    let slots = oven.shelves.iter().flat_map(|s| &s.slots);
    let of = |slot: &Slot| match slot.stage {
        Stage::ComesOut | Stage::GoesIn => (0, String::new()),
        Stage::Inside => (1, slot.out_at.to_string()),
        Stage::Later => (2, slot.in_at.to_string()),
    };
    slots.map(of).min().unwrap_or((3, String::new()))
}

fn paint(ui: &Ui, at: Pos2, galley: &Arc<Galley>) {
    ui.painter().galley(at, Arc::clone(galley), INK);
}

/// Names a part of the screen for a screen reader.
fn say(ui: &mut Ui, part: &str, rect: Rect, words: &str) {
    let response = ui.interact(rect, ui.scope_id().with(("class view", part)), Sense::hover());
    response
        .widget_info(|| WidgetInfo::labeled(Role::Label, true, crate::app::looks::say::say(words)));
}
