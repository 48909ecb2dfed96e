//! Tiles of groups, in the order of the benches, and of ovens below them; under those
//! the bakes along the clock. Letters go by the height of the window, so that a tile is
//! read from two metres.

use eframe::egui::{
    self, Align2, FontId, Pos2, Rect, Response, Role, ScrollArea, Sense, Shape, Stroke, StrokeKind,
    Ui, UiBuilder, WidgetInfo, pos2, vec2,
};

use super::{CAPITAL, LETTERS, Taught, id_of};
use crate::app::looks::paint_scene::{self, InWindow};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fitted, fonts, width_of};
use crate::app::state::{Commands, DayStop};
use crate::model::FactKind;
use crate::session::Command as LessonCommand;
use crate::units::Minutes;
use crate::view::day::{Known, OvenTile, Tile, bakes, fact_words};
use crate::view::scene;
use crate::view::scene::day::Bakes;

/// Minutes by which a group is told to be late, each an entry.
const LATE: [i32; 3] = [2, 4, 8];
/// Air between tiles.
const AIR: f32 = 8.0;
/// Least width of a tile.
const NARROW: f32 = 160.0;
/// More groups than this stand five abreast.
const FOUR_ABREAST: usize = 16;
/// Least height of the bakes along the clock.
const BAKES: f32 = 84.0;

/// Measures of tiles in a window.
#[derive(Clone, Copy)]
struct Measures {
    /// Size of type of what is read from afar.
    size: f32,
    /// Size of type of the rest.
    small: f32,
    /// Height of the foot.
    foot: f32,
    /// There is one line less.
    short: bool,
}

impl Measures {
    fn of(ui: &Ui, short: bool) -> Self {
        let size = ui.ctx().content_rect().height() / LETTERS / CAPITAL;
        Self { size, small: (size * 0.5).clamp(13.0, 17.0), foot: (size * 0.95).max(24.0), short }
    }

    fn tile(self) -> f32 {
        let lines = if self.short { 2.75 } else { 4.0 };
        lines * self.size + self.foot + 8.0
    }

    fn oven(self) -> f32 {
        3.0 * self.small * 1.25 + self.foot.min(30.0) + 10.0
    }
}

/// Shows them.
pub fn show(ui: &mut Ui, of: &Taught<'_>, out: &mut Commands) {
    let (groups, ovens) = (of.day.tiles.len(), of.day.ovens.len());
    let (width, height) = (ui.available_width(), ui.available_height());
    let most = if groups > FOUR_ABREAST { 5 } else { 4 };
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a few
    let fit = ((width + AIR) / (NARROW + AIR)).floor().max(1.0) as usize;
    let abreast = |of: usize, most: usize| fit.min(most).min(of.max(1));
    let rows = |of: usize, most: usize| of.div_ceil(abreast(of, most).max(1));
    let tall = |m: Measures| {
        rows(groups, most) as f32 * (m.tile() + AIR) + rows(ovens, 5) as f32 * (m.oven() + AIR)
    };
    let measures = Some(Measures::of(ui, false)).filter(|m| tall(*m) <= height);
    let measures = measures.unwrap_or_else(|| Measures::of(ui, true));
    let left = height - tall(measures);
    ScrollArea::vertical().id_salt("tiles of the day").auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing = vec2(AIR, AIR);
        for row in of.day.tiles.chunks(abreast(groups, most)) {
            let places = places(ui, width, abreast(groups, most), measures.tile());
            for (tile, rect) in row.iter().zip(places) {
                group(ui, of, (tile, rect), measures, out);
            }
        }
        for row in of.day.ovens.chunks(abreast(ovens, 5)) {
            let places = places(ui, width, abreast(ovens, 5), measures.oven());
            for (tile, rect) in row.iter().zip(places) {
                oven(ui, of, (tile, rect), measures, out);
            }
        }
        if BAKES <= left {
            let high = scene::day::highest(groups);
            along(ui, of, vec2(width, (left - 2.0).min(high)));
        }
    });
}

/// Places side by side, of the same width.
fn places(ui: &mut Ui, width: f32, abreast: usize, height: f32) -> Vec<Rect> {
    let (row, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    let each = (width + AIR) / abreast as f32 - AIR;
    let place = |i: usize| {
        Rect::from_min_size(row.min + vec2(i as f32 * (each + AIR), 0.0), vec2(each, height))
    };
    (0..abreast).map(place).collect()
}

/// Words cut to their room.
fn words(ui: &Ui, at: Pos2, text: &str, font: FontId, colour: egui::Color32, room: f32) {
    let text = fitted(ui.painter(), text, font.clone(), room);
    ui.painter().text(at, Align2::LEFT_TOP, text, font, colour);
}

/// A tile as a button: its ground, its frame, and its foot with what a tap tells.
fn tile(
    ui: &Ui,
    of: &Taught<'_>,
    (stop, rect): (DayStop, Rect),
    (label, tap, frame, is_told): (String, Option<String>, f32, bool),
    m: Measures,
) -> Response {
    let palette = Palette::of(ui.ctx());
    let sense = if tap.is_some() { Sense::click() } else { Sense::hover() };
    let response = ui.interact(rect, id_of(stop), sense);
    response.widget_info(|| match tap {
        Some(_) => WidgetInfo::labeled(Role::Button, true, say(&label)),
        None => WidgetInfo::labeled(Role::Label, true, say(&label)),
    });
    of.heed(stop, &response);
    let is_behind = frame > 2.0;
    let ground = if is_behind || response.hovered() && tap.is_some() {
        palette.chosen
    } else {
        palette.card
    };
    ui.painter().rect_filled(rect, 7.0, ground);
    let ink = if is_told || is_behind { palette.ink } else { palette.edge };
    ui.painter().rect_stroke(rect, 7.0, Stroke::new(frame, ink), StrokeKind::Inside);
    let y = rect.bottom() - m.foot;
    let ends = [pos2(rect.left() + 6.0, y), pos2(rect.right() - 6.0, y)];
    let line = Stroke::new(1.0, ink);
    if is_told {
        ui.painter().line_segment(ends, line);
    } else {
        ui.painter().extend(Shape::dashed_line(&ends, line, 4.0, 3.0));
    }
    if let Some(tap) = tap {
        let font = fonts::bold(m.small);
        let tap = fitted(ui.painter(), &format!("tap: {tap}"), font.clone(), rect.width() - 16.0);
        let at = pos2(rect.left() + 10.0, y + m.foot / 2.0);
        ui.painter().text(at, Align2::LEFT_CENTER, tap, font, palette.ink);
    }
    if response.has_focus() {
        let stroke = Stroke::new(3.0, palette.focus);
        ui.painter().rect_stroke(rect.expand(2.0), 8.0, stroke, StrokeKind::Inside);
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
    let is_told = matches!(shown.known, Known::Told | Known::Behind(_));
    let frame = match shown.known {
        Known::Behind(_) => 3.0,
        Known::Told => 2.0,
        Known::Presumed | Known::NotServed => 1.0,
    };
    let label = match shown.tell {
        Some(what) => format!("{}: {}", shown.name, fact_words(what)),
        None => format!("{}: nothing more to tell", shown.name),
    };
    let tap = shown.tell.map(fact_words);
    let stop = DayStop::Group(shown.group);
    let response = tile(ui, of, (stop, rect), (label, tap, frame, is_told), m);
    if let Some(what) = shown.tell.filter(|_| response.clicked()) {
        out.push(LessonCommand::Tell(vec![shown.name.clone()], what));
    }
    let (left, width) = (rect.left() + 10.0, rect.width() - 20.0);
    let (small, soft) = (fonts::plain(m.small), palette.soft);
    let known_font = match shown.known {
        Known::Behind(_) => fonts::bold(m.small),
        _ => small.clone(),
    };
    let known = shown.known.words();
    let fits = width_of(ui, &shown.doing, fonts::bold(m.size)) <= width;
    let doing = if fits { &shown.doing } else { &shown.brief };
    // What stands in a line of its own elsewhere is beside what it does, or else in place
    // of the words before the number.
    let next = &shown.next;
    let (does, wide) =
        (width_of(ui, doing, fonts::bold(m.size)), width_of(ui, next, fonts::plain(m.size)));
    let is_beside = does + 0.4 * m.size + wide <= width;
    let takes_turn = m.short && !is_beside && !next.is_empty();
    let mut y = rect.top() + 4.0;
    let beside = match &shown.number {
        Some((stem, number)) => {
            let font = fonts::bold(m.size * 1.35);
            let drawn =
                ui.painter().text(pos2(left, y), Align2::LEFT_TOP, number, font, palette.ink);
            let x = drawn.right() + 0.4 * m.size;
            let room = rect.right() - 8.0 - x;
            let (first, colour) = if takes_turn { (next, palette.ink) } else { (stem, soft) };
            words(ui, pos2(x, y + 2.0), first, small, colour, room);
            x
        }
        None => {
            let wide = 0.62 * width;
            words(ui, pos2(left, y + 2.0), &shown.name, fonts::bold(m.size), palette.ink, wide);
            left + wide + 8.0
        }
    };
    let room = rect.right() - 8.0 - beside;
    let below = y + 2.0 + m.small * 1.15;
    words(ui, pos2(beside, below), &known, known_font, palette.ink, room);
    y += 1.5 * m.size;
    words(ui, pos2(left, y), doing, fonts::bold(m.size), palette.ink, width);
    let plain = fonts::plain(m.size);
    if !m.short {
        words(ui, pos2(left, y + 1.2 * m.size), next, plain, palette.ink, width);
    } else if is_beside {
        words(ui, pos2(left + width - wide, y), next, plain, palette.ink, wide + 1.0);
    }
    heard(
        ui,
        ("tile", stop),
        Rect::from_min_max(rect.min, pos2(rect.right(), rect.bottom() - m.foot)),
        &shown.spoken(),
    );
    late(ui, (shown, rect), m, out);
}

/// What a tile says, for those who hear; it takes no click.
fn heard(ui: &Ui, of: (&str, DayStop), rect: Rect, words: &str) {
    let response = ui.interact(rect.shrink(2.0), egui::Id::unique(("heard", of)), Sense::empty());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(words)));
}

/// How late a group is, or something else of it.
fn late(ui: &mut Ui, (shown, rect): (&Tile, Rect), m: Measures, out: &mut Commands) {
    if shown.known == Known::NotServed {
        return;
    }
    let width = 52.0;
    let place = Rect::from_min_max(
        pos2(rect.right() - width - 6.0, rect.bottom() - m.foot + 2.0),
        pos2(rect.right() - 6.0, rect.bottom() - 3.0),
    );
    let mut inside = ui.new_child(UiBuilder::new().max_rect(place).id_salt(("late", shown.group)));
    inside.spacing_mut().button_padding = vec2(4.0, 0.0);
    inside.spacing_mut().interact_size.y = place.height();
    let menu = inside.menu_button(say("late…"), |ui| {
        ui.label(say(&shown.name));
        let late = LATE.into_iter().map(|late| FactKind::Late(Minutes::new(late)));
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
    let response = tile(ui, of, (stop, rect), (label, tap, 1.0, false), low);
    if let Some((what, groups)) = shown.tell.as_ref().filter(|_| response.clicked()) {
        out.push(LessonCommand::Tell(groups.clone(), *what));
    }
    let high = rect.height() - low.foot - 14.0;
    let cabinet = vec2(0.62 * high, high);
    let picture = scene::rehearsal::cabinet(&shown.shelves, false, cabinet.into());
    paint_scene::scene(ui.painter(), rect.min + vec2(9.0, 7.0), &picture, palette);
    let x = rect.left() + 18.0 + cabinet.x;
    let room = rect.right() - 8.0 - x;
    let line = m.small * 1.25;
    let y = rect.top() + 6.0;
    words(ui, pos2(x, y), &shown.name, fonts::bold(m.small), palette.ink, room);
    words(ui, pos2(x, y + line), &shown.who, fonts::plain(m.small), palette.ink, room);
    words(ui, pos2(x, y + 2.0 * line), &shown.next, fonts::plain(m.small), palette.soft, room);
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
