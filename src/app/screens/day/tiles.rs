//! A line for each group, in the order of the benches, and ovens below them; under
//! those the bakes along the clock. Letters go by the height of the window, so that a
//! line is read from two metres.

use eframe::egui::{
    self, Align2, FontId, Pos2, Rect, Response, Role, ScrollArea, Sense, Shape, Stroke, StrokeKind,
    Ui, UiBuilder, WidgetInfo, pos2, vec2,
};

use super::{CAPITAL, LETTERS, Taught, id_of};
use crate::app::looks::follow::Follow as _;
use crate::app::looks::paint_scene::{self, InWindow};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fitted, fonts, width_of};
use crate::app::state::{Commands, DayStop};
use crate::model::FactKind;
use crate::session::Command as LessonCommand;
use crate::units::Minutes;
use crate::view::day::{Known, OvenTile, Tile, bakes, fact_words};
use crate::view::scene::day::Bakes;
use crate::view::scene::{self, wrapped};

/// Minutes by which a group is told to be late, each an entry.
const LATE: [i32; 3] = [2, 4, 8];
/// Width of what tells that.
const LATE_WIDE: f32 = 50.0;
/// Air between lines, beside and below one another.
const AIR: (f32, f32) = (12.0, 6.0);
/// Least width of a line.
const NARROW: f32 = 160.0;
/// So many times as wide as its letters are large, a line has a name beside what is done.
const SLIM: f32 = 6.5;
/// Lines stand so many abreast at most, and where there are more groups than so many.
const ABREAST: (usize, usize, usize) = (4, 5, 16);
/// Ovens stand so many abreast at most.
const OVENS: usize = 5;
/// Lines of words beside an oven: its name, who is in it and who comes next, the least and
/// the most.
const OVEN_LINES: (usize, usize) = (3, 6);
/// Lines stand this far apart, in sizes of type.
const LINE: f32 = 1.25;
/// An oven's cabinet is no wider.
const CABINET: f32 = 52.0;
/// Least height of the bakes along the clock.
const BAKES: f32 = 84.0;

/// Measures of lines in a window.
#[derive(Clone, Copy)]
struct Measures {
    /// Size of type of what is read from afar.
    size: f32,
    /// Size of type of the rest.
    small: f32,
    /// Height of the foot.
    foot: f32,
}

impl Measures {
    fn of(ui: &Ui) -> Self {
        let size = ui.ctx().content_rect().height() / LETTERS / CAPITAL;
        Self { size, small: (size * 0.5).clamp(13.0, 17.0), foot: (size * 0.95).max(24.0) }
    }

    fn group(self) -> f32 {
        2.75 * self.size + self.foot + 4.0
    }

    /// With so many lines of words.
    fn oven(self, lines: usize) -> f32 {
        lines as f32 * self.small * LINE + self.foot.min(30.0) + 10.0
    }
}

/// Lines abreast of one another, read downwards.
#[derive(Clone, Copy)]
struct Columns {
    abreast: usize,
    rows: usize,
    height: f32,
}

impl Columns {
    fn of(lines: usize, abreast: usize, height: f32) -> Self {
        let rows = lines.div_ceil(abreast.max(1));
        Self { abreast: lines.div_ceil(rows.max(1)), rows, height }
    }

    fn tall(self) -> f32 {
        self.rows as f32 * (self.height + AIR.1)
    }

    /// Width of each, of so much for all.
    fn wide(self, width: f32) -> f32 {
        (width + AIR.0) / self.abreast.max(1) as f32 - AIR.0
    }

    /// The places of so many lines.
    fn places(self, ui: &mut Ui, width: f32, lines: usize) -> Vec<Rect> {
        let (all, _) = ui.allocate_exact_size(vec2(width, self.tall()), Sense::hover());
        let each = self.wide(width);
        let place = |i: usize| {
            let (x, y) = ((i / self.rows) as f32, (i % self.rows) as f32);
            let from = all.min + vec2(x * (each + AIR.0), y * (self.height + AIR.1));
            Rect::from_min_size(from, vec2(each, self.height))
        };
        (0..lines).map(place).collect()
    }
}

/// Shows them.
pub fn show(ui: &mut Ui, of: &Taught<'_>, out: &mut Commands) {
    let (groups, ovens) = (of.day.tiles.len(), of.day.ovens.len());
    let (width, height) = (ui.available_width(), ui.available_height());
    let m = Measures::of(ui);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a few
    let fit = ((width + AIR.0) / (NARROW + AIR.0)).floor().max(1.0) as usize;
    let most = if groups > ABREAST.2 { ABREAST.1 } else { ABREAST.0 };
    let of_ovens = |lines: usize| Columns::of(ovens, fit.min(OVENS), m.oven(lines));
    let room = room_beside(of_ovens(OVEN_LINES.0).wide(width));
    let lines = of.day.ovens.iter().map(|oven| OvenWords::of(ui, oven, (m, room)).lines());
    let lines = lines.max().unwrap_or(0).clamp(OVEN_LINES.0, OVEN_LINES.1);
    // As long as they can be, with the bakes below them, named, if there is room for all;
    // ovens say all there is to say, if there is room for it.
    let of_groups = |abreast: usize| Columns::of(groups, abreast.min(fit), m.group());
    let left = |columns: Columns, lines| height - columns.tall() - AIR.1 - of_ovens(lines).tall();
    let with = |least: f32, lines: usize| {
        let mut all = (2..=most).map(of_groups);
        all.find(|columns| least <= left(*columns, lines)).map(|columns| (columns, lines))
    };
    let columns = [scene::day::least(groups), BAKES].into_iter().find_map(|l| with(l, lines));
    let columns = columns.or_else(|| (OVEN_LINES.0..=lines).rev().find_map(|n| with(0.0, n)));
    let (columns, lines) = columns.unwrap_or_else(|| (of_groups(most), OVEN_LINES.0));
    let (left, oven_columns) = (left(columns, lines), of_ovens(lines));
    ScrollArea::vertical().id_salt("lines of the day").auto_shrink(false).follow(ui, |ui| {
        ui.spacing_mut().item_spacing = vec2(0.0, 0.0);
        let places = columns.places(ui, width, groups);
        for (tile, rect) in of.day.tiles.iter().zip(places) {
            group(ui, of, (tile, rect), m, out);
        }
        ui.add_space(AIR.1);
        let places = oven_columns.places(ui, width, ovens);
        for (tile, rect) in of.day.ovens.iter().zip(places) {
            oven(ui, of, (tile, rect), m, out);
        }
        if BAKES <= left {
            let high = scene::day::highest(groups);
            along(ui, of, vec2(width, (left - 2.0).min(high)));
        }
    });
}

/// Words cut to their room.
fn words(ui: &Ui, at: Pos2, text: &str, font: FontId, colour: egui::Color32, room: f32) {
    let text = fitted(ui.painter(), text, font.clone(), room);
    ui.painter().text(at, Align2::LEFT_TOP, text, font, colour);
}

fn tap_words(tap: &str) -> String {
    format!("tap: {tap}")
}

/// How a line is drawn beside its words.
struct Look {
    /// What a tap tells, if anything, and the room for it.
    tap: Option<(String, f32)>,
    /// Where these words stand.
    tap_at: Pos2,
    /// Thickness of what it stands on; broken where nothing was told.
    stands_on: Option<f32>,
    /// It is told apart from the others.
    is_marked: bool,
}

/// A line as a button: its ground, what it stands on, and what a tap tells.
fn pressed(
    ui: &Ui,
    of: &Taught<'_>,
    (stop, rect): (DayStop, Rect),
    (label, look): (String, Look),
    m: Measures,
) -> Response {
    let palette = Palette::of(ui.ctx());
    let sense = if look.tap.is_some() { Sense::click() } else { Sense::hover() };
    let response = ui.interact(rect, id_of(stop), sense);
    response.widget_info(|| match look.tap {
        Some(_) => WidgetInfo::labeled(Role::Button, true, say(&label)),
        None => WidgetInfo::labeled(Role::Label, true, say(&label)),
    });
    of.heed(stop, &response);
    if look.is_marked || response.hovered() && look.tap.is_some() {
        ui.painter().rect_filled(rect, 0.0, palette.chosen);
    }
    match look.stands_on {
        Some(thick) => {
            let stroke = Stroke::new(thick, palette.ink);
            ui.painter().hline(rect.x_range(), rect.bottom() - thick / 2.0, stroke);
        }
        None => {
            let ends = [rect.left_bottom() - vec2(0.0, 0.5), rect.right_bottom() - vec2(0.0, 0.5)];
            let stroke = Stroke::new(1.0, palette.edge);
            ui.painter().extend(Shape::dashed_line(&ends, stroke, 4.0, 3.0));
        }
    }
    if let Some((tap, room)) = &look.tap {
        let (font, at) = (fonts::bold(m.small), look.tap_at);
        let tap = fitted(ui.painter(), &tap_words(tap), font.clone(), *room);
        ui.painter().text(at, Align2::LEFT_CENTER, tap, font, palette.ink);
    }
    if response.has_focus() {
        let stroke = Stroke::new(3.0, palette.focus);
        let above = rect.bottom() - look.stands_on.unwrap_or(1.0);
        let around = Rect::from_min_max(rect.min, pos2(rect.right(), above));
        ui.painter().rect_stroke(around, 0.0, stroke, StrokeKind::Inside);
    }
    response
}

fn group(
    ui: &mut Ui,
    of: &Taught<'_>,
    (shown, rect): (&Tile, Rect),
    m: Measures,
    out: &mut Commands,
) {
    let palette = Palette::of(ui.ctx());
    let label = match shown.tell {
        Some(what) => format!("{}: {}", shown.name, fact_words(what)),
        None => format!("{}: nothing more to tell", shown.name),
    };
    let stop = DayStop::Group(shown.group);
    let (small, large) = (fonts::plain(m.small), fonts::bold(m.size));
    let known = shown.known.words();
    let known_font = match shown.known {
        Known::Behind(_) => fonts::bold(m.small),
        _ => small.clone(),
    };
    let (left, right) = (rect.left() + 5.0, rect.right() - 5.0);
    let foot = rect.bottom() - 0.5 * m.foot - 2.0;
    let (stem, name, name_font) = match &shown.number {
        Some((stem, number)) => (stem.as_str(), number, fonts::bold(m.size * 1.35)),
        None => ("", &shown.name, large.clone()),
    };
    let wide = |words: &str, font: &FontId| width_of(ui, words, font.clone());
    let name_wide = wide(name, &name_font).min(0.4 * rect.width());
    let stem_wide = wide(stem, &small).min(0.2 * rect.width());
    let air = 0.4 * m.size;
    let known_wide = wide(&known, &known_font);
    let between = 0.6 * m.small;
    let tap = shown.tell.map(fact_words);
    let tap_wide = tap.as_ref().map_or(0.0, |tap| wide(&tap_words(tap), &fonts::bold(m.small)));
    let both = known_wide + between + tap_wide <= right - LATE_WIDE - left;
    // What is as planned is seen by what its line is drawn with.
    let says_known = both || shown.known != Known::Presumed;
    // Where there is no room beside the name, what it does is below, and what stands below
    // it elsewhere is in place of the words before the number.
    let has_room = wide(&shown.brief, &large) <= right - left - air - name_wide.max(stem_wide);
    let is_narrow = rect.width() < SLIM * m.size || !has_room || says_known && !both;
    let beside = left + air + if is_narrow { name_wide } else { name_wide.max(stem_wide) };
    let doing_at = if is_narrow { left } else { beside };
    let tap_left = match says_known && !is_narrow {
        true => (left + known_wide + between).max(beside.min(right - LATE_WIDE - tap_wide)),
        false => left,
    };
    let look = Look {
        tap: tap.map(|tap| (tap, right - LATE_WIDE - tap_left)),
        tap_at: pos2(tap_left, foot),
        stands_on: match shown.known {
            Known::Behind(_) => Some(4.0),
            Known::Told => Some(2.0),
            Known::Presumed | Known::NotServed => None,
        },
        is_marked: matches!(shown.known, Known::Behind(_)),
    };
    let response = pressed(ui, of, (stop, rect), (label, look), m);
    if let Some(what) = shown.tell.filter(|_| response.clicked()) {
        out.push(LessonCommand::Tell(vec![shown.name.clone()], what));
    }
    let ink = palette.ink;
    let top = rect.top() + 2.0;
    let is_whole = wide(&shown.doing, &large) <= right - doing_at;
    let doing = if is_whole { &shown.doing } else { &shown.brief };
    if is_narrow {
        words(ui, pos2(left, top), name, name_font, ink, name_wide + 1.0);
        words(ui, pos2(beside, top + 2.0), &shown.next, small, ink, right - beside);
        let below = top + 2.0 + m.small * 1.2;
        words(ui, pos2(beside, below), &known, known_font, ink, right - beside);
        words(ui, pos2(left, top + 1.5 * m.size), doing, large, ink, right - left);
    } else {
        words(ui, pos2(left, top + 0.2 * m.size), stem, small, palette.soft, stem_wide + 1.0);
        let y = top + if stem.is_empty() { 0.2 * m.size } else { 0.8 * m.size };
        words(ui, pos2(left, y), name, name_font, ink, name_wide + 1.0);
        words(ui, pos2(beside, top + 0.2 * m.size), doing, large, ink, right - beside);
        let is_short = wide(&shown.next, &fonts::plain(m.size)) <= right - beside;
        let next_font = fonts::plain(if is_short { m.size } else { m.small * 1.2 });
        words(ui, pos2(beside, top + 1.4 * m.size), &shown.next, next_font, ink, right - beside);
        if says_known {
            let y = foot - 0.6 * m.small;
            words(ui, pos2(left, y), &known, known_font, ink, known_wide + 1.0);
        }
    }
    heard(
        ui,
        ("tile", stop),
        Rect::from_min_max(rect.min, pos2(rect.right(), rect.bottom() - m.foot)),
        &shown.spoken(),
    );
    late(ui, (shown, rect), (m, of.session.is_being_taught()), out);
}

/// What a tile says, for those who hear; it takes no click.
fn heard(ui: &Ui, of: (&str, DayStop), rect: Rect, words: &str) {
    let response = ui.interact(rect.shrink(2.0), egui::Id::unique(("heard", of)), Sense::empty());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(words)));
}

/// How late a group is, once somebody has begun, or something else of it.
fn late(
    ui: &mut Ui,
    (shown, rect): (&Tile, Rect),
    (m, has_begun): (Measures, bool),
    out: &mut Commands,
) {
    if shown.known == Known::NotServed {
        return;
    }
    let place = Rect::from_min_max(
        pos2(rect.right() - LATE_WIDE, rect.bottom() - m.foot),
        pos2(rect.right() - 2.0, rect.bottom() - 5.0),
    );
    let mut inside = ui.new_child(UiBuilder::new().max_rect(place).id_salt(("late", shown.group)));
    inside.spacing_mut().button_padding = vec2(4.0, 0.0);
    inside.spacing_mut().interact_size.y = place.height();
    let menu = inside.menu_button(say("late…"), |ui| {
        ui.label(say(&shown.name));
        let late = LATE.into_iter().filter(|_| has_begun);
        let late = late.map(|late| FactKind::Late(Minutes::new(late)));
        if !has_begun {
            ui.label(say("Nobody has begun yet: a late start is entered under Today."));
        }
        let others = [FactKind::Late(Minutes::ZERO)].into_iter().chain(crate::play::IN_ORDER);
        for what in late.chain(others) {
            if ui.button(say(fact_words(what))).clicked() {
                out.push(LessonCommand::Tell(vec![shown.name.clone()], what));
                ui.close();
            }
        }
    });
    let spoken = format!("{}: late, or something else", shown.name);
    ui.ctx().accesskit_node_builder(menu.response.id, |node| node.set_label(say(spoken)));
}

/// Room for words beside an oven's cabinet, of its whole width.
fn room_beside(width: f32) -> f32 {
    width - 12.0 - CABINET - 8.0
}

/// Who is in an oven and who comes next, in lines that fit their room.
struct OvenWords {
    who: String,
    next: String,
}

impl OvenWords {
    fn of(ui: &Ui, oven: &OvenTile, (m, room): (Measures, f32)) -> Self {
        let wide = |words: &str| width_of(ui, words, fonts::plain(m.small));
        let most = OVEN_LINES.1 / 2;
        let who = wrapped(&oven.who, room, most - 1, wide);
        Self { next: wrapped(&oven.next, room, most, wide), who }
    }

    /// Lines of all of it, with the oven's name.
    fn lines(&self) -> usize {
        1 + self.who.lines().count().max(1) + self.next.lines().count()
    }
}

fn oven(
    ui: &mut Ui,
    of: &Taught<'_>,
    (shown, rect): (&OvenTile, Rect),
    m: Measures,
    out: &mut Commands,
) {
    let palette = Palette::of(ui.ctx());
    let stop = DayStop::Oven(shown.oven);
    let tap = shown.tell.as_ref().map(|(what, groups)| match groups.as_slice() {
        [one] => format!("{one} {}", fact_words(*what)),
        _ => format!("all {}", fact_words(*what)),
    });
    let label = match &tap {
        Some(tap) => format!("{}: {tap}", shown.name),
        None => format!("{}: nothing more to tell", shown.name),
    };
    let low = Measures { foot: m.foot.min(30.0), ..m };
    let high = rect.height() - 8.0;
    let cabinet = vec2((0.62 * high).min(CABINET), high.min(CABINET / 0.62));
    let x = rect.left() + 12.0 + cabinet.x;
    let tap_at = pos2(x, rect.bottom() - 0.5 * low.foot - 2.0);
    let tap = tap.map(|tap| (tap, rect.right() - 4.0 - x));
    let look = Look { tap, tap_at, stands_on: Some(1.0), is_marked: false };
    let response = pressed(ui, of, (stop, rect), (label, look), low);
    if let Some((what, groups)) = shown.tell.as_ref().filter(|_| response.clicked()) {
        out.push(LessonCommand::Tell(groups.clone(), *what));
    }
    let picture = scene::rehearsal::cabinet(&shown.shelves, false, cabinet.into());
    paint_scene::scene(ui.painter(), rect.min + vec2(2.0, 8.0), &picture, palette);
    let room = rect.right() - 8.0 - x;
    let line = m.small * LINE;
    let y = rect.top() + 6.0;
    words(ui, pos2(x, y), &shown.name, fonts::bold(m.small), palette.ink, room);
    // Who is in it comes first where there is no room for all.
    let told = OvenWords::of(ui, shown, (m, room_beside(rect.width())));
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a few
    let most = ((tap_at.y - 0.5 * line - y) / line).round().max(1.0) as usize - 1;
    let who = told.who.lines().map(|words| (words, palette.ink));
    let all = who.chain(told.next.lines().map(|words| (words, palette.soft)));
    for (i, (text, colour)) in all.take(most).enumerate() {
        let at = pos2(x, y + (i + 1) as f32 * line);
        words(ui, at, text, fonts::plain(m.small), colour, room);
    }
    heard(
        ui,
        ("oven", stop),
        Rect::from_min_max(rect.min, pos2(rect.right(), rect.bottom() - low.foot)),
        &shown.spoken(),
    );
}

/// The bakes along the clock, with those of the response that is looked at.
fn along(ui: &mut Ui, of: &Taught<'_>, size: egui::Vec2) {
    let (lesson, plan) = (&of.now.told.0, &of.now.told.1);
    let looked_at = of.question().and_then(|r| r.found.get(of.view.day.response));
    let other = looked_at.map(|r| (&*r.after.lesson, &r.after.plan));
    let bakes = bakes((lesson, plan), &of.now.standing, other);
    let Some(planned) = of.session.planned() else { return };
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let real = bakes.iter().filter(|b| b.real).count();
    let spoken = format!("Bakes along the clock: {real} told, {} as planned", bakes.len() - real);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, say(&spoken)));
    let picture = Bakes {
        lesson,
        board: &planned.board,
        bakes: &bakes,
        now: of.now.standing.now,
        size: size.into(),
    };
    let scene = picture.scene(&InWindow(ui.painter()));
    paint_scene::scene(ui.painter(), rect.min, &scene, Palette::of(ui.ctx()));
}
