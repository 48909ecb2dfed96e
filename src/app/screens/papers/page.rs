//! A page as it will be printed: white, in greys, at its true proportion. Times
//! on it lead to their bars.

use eframe::egui::{
    self, Color32, EventFilter, Id, Key, Painter, Pos2, Rect, Role, ScrollArea, Sense, Stroke,
    StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::{Shown, choose};
use crate::app::looks::fonts;
use crate::app::looks::on_paper::on_paper;
use crate::app::looks::paint_scene;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, Commands, PapersChoice};
use crate::papers::page::{Mark, Page, Piece, Role as PieceRole, Words};
use crate::view::area::Area;
use crate::view::scene::Weight;

/// How large a page is made at most, of its size on paper.
const NEAREST: f32 = 2.5;
/// How far a key goes down a page that is not whole in sight.
const LINE: f32 = 60.0;

/// A time on a page, and the words that stand in its row.
struct Time<'a> {
    words: &'a Words,
    beside: String,
}

impl Time<'_> {
    fn text(&self) -> &str {
        self.words.text.trim()
    }

    fn command(&self) -> Command {
        Command::BarOfTime(self.text().to_owned(), self.beside.clone())
    }
}

/// Shows a page of several, whole or `closer`, and gives it the keyboard if it is asked
/// for. `current` is the time that has the keyboard; `None` where times lead nowhere.
pub fn show(
    ui: &mut Ui,
    (shown, now): (&[Shown<'_>], usize),
    (current, closer): (Option<usize>, bool),
    out: &mut Commands,
) {
    let page = shown[now].page;
    let room = ui.available_rect_before_wrap().shrink2(vec2(4.0, 6.0));
    let whole = (room.width() / page.size.0).min(room.height() / page.size.1).max(0.05);
    let size = |zoom: f32| zoom * vec2(page.size.0, page.size.1);
    let bar = ui.spacing().scroll.allocated_width();
    let near = ((room.width() - bar - 8.0) / page.size.0).min(NEAREST);
    if !closer || near <= whole {
        let rect = Rect::from_center_size(room.center(), size(whole));
        page_at(ui, (rect, whole), (shown, now), current, out);
        return;
    }
    ScrollArea::vertical()
        .id_salt(("page on paper", now, &shown[now].sheet.title))
        .auto_shrink(false)
        .show(ui, |ui| {
            let high = size(near).y + 12.0;
            let (room, _) = ui.allocate_exact_size(vec2(room.width() - bar, high), Sense::hover());
            let rect = Rect::from_center_size(room.center(), size(near));
            page_at(ui, (rect, near), (shown, now), current, out);
        });
}

/// The page where it is, so large.
fn page_at(
    ui: &mut Ui,
    (rect, zoom): (Rect, f32),
    (shown, now): (&[Shown<'_>], usize),
    current: Option<usize>,
    out: &mut Commands,
) {
    let palette = Palette::of(ui.ctx());
    let Shown { page, .. } = shown[now];
    let times = if current.is_some() { times(page) } else { Vec::new() };
    let current = current.unwrap_or(0).min(times.len().saturating_sub(1));
    let response = ui.interact(rect, Id::unique("page on paper"), Sense::click());
    let words = format!("Page {} of {}: {}", now + 1, shown.len(), shown[now].name());
    response.widget_info(|| WidgetInfo::labeled(Role::Document, true, say(&words)));
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_value(read(page));
        let keys = match times.len() {
            0 => "arrows left and right turn pages",
            _ => {
                "arrows left and right turn pages, up and down go from time to time, Enter shows \
                 one on the running order"
            }
        };
        node.set_description(say(keys));
    });
    if response.clicked() {
        response.request_focus();
    }
    let at = |time: &Time<'_>| placed(&time.words.area, rect.min, zoom);
    if response.has_focus() {
        let next = by_keys(ui, &response, (shown.len(), now), (&times, current), out);
        match (next, times.get(current.saturating_add_signed(next))) {
            (0, _) => {}
            (_, Some(time)) => ui.scroll_to_rect(at(time).expand(40.0), None),
            (by, None) => ui.scroll_with_delta(vec2(0.0, if by > 0 { -LINE } else { LINE })),
        }
    }
    paint(ui.painter(), rect.min, page, zoom);
    let edge = Stroke::new(1.0, palette.edge);
    ui.painter().rect_stroke(rect, 0.0, edge, StrokeKind::Outside);
    if response.has_focus() {
        let stroke = Stroke::new(3.0, palette.focus);
        ui.painter().rect_stroke(rect.expand(2.0), 2.0, stroke, StrokeKind::Outside);
    }
    for (i, time) in times.iter().enumerate() {
        let at = at(time);
        let way = ui.interact(at.expand(1.0), response.id.with(("time", i)), Sense::CLICK);
        let spoken = format!("{}: {}, show on the running order", time.text(), time.beside);
        way.widget_info(|| WidgetInfo::labeled(Role::Link, true, &spoken));
        let is_current = response.has_focus() && i == current;
        if way.hovered() || is_current {
            let stroke = Stroke::new(2.0, Palette::LIGHT.focus);
            ui.painter().rect_stroke(at.expand(1.5), 2.0, stroke, StrokeKind::Outside);
        }
        if way.clicked() {
            out.push(time.command());
        }
        way.on_hover_text(say("Show on the running order"));
    }
}

/// Heeds the keys of a page; whether they lead down it (1), up (-1) or neither (0).
fn by_keys(
    ui: &Ui,
    response: &egui::Response,
    (pages, now): (usize, usize),
    (times, current): (&[Time<'_>], usize),
    out: &mut Commands,
) -> isize {
    let arrows =
        EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|m| m.set_focus_lock_filter(response.id, arrows));
    let pressed = |key| ui.input(|i| i.key_pressed(key));
    if pressed(Key::ArrowRight) || pressed(Key::PageDown) {
        out.push(choose(PapersChoice::Page((now + 1).min(pages - 1))));
    }
    if pressed(Key::ArrowLeft) || pressed(Key::PageUp) {
        out.push(choose(PapersChoice::Page(now.saturating_sub(1))));
    }
    let (down, up) = (pressed(Key::ArrowDown), pressed(Key::ArrowUp));
    if down && current + 1 < times.len() {
        out.push(choose(PapersChoice::Time(current + 1)));
    }
    if up {
        out.push(choose(PapersChoice::Time(current.saturating_sub(1))));
    }
    if pressed(Key::Enter)
        && let Some(time) = times.get(current)
    {
        out.push(time.command());
    }
    isize::from(down) - isize::from(up)
}

/// Times of day that stand in a table by themselves.
fn times(page: &Page) -> Vec<Time<'_>> {
    let mut times = Vec::new();
    for piece in &page.pieces {
        let PieceRole::Cell { table, row, .. } = piece.role else { continue };
        for words in words_of(piece).filter(|words| is_time(words.text.trim())) {
            let same = |other: &&Piece| {
                let of = (table, row);
                matches!(other.role, PieceRole::Cell { table, row, .. } if (table, row) == of)
            };
            let beside = page.pieces.iter().filter(same).flat_map(words_of);
            let beside = beside.map(|w| w.text.trim()).filter(|text| !is_time(text));
            let beside = beside.collect::<Vec<_>>().join(" ");
            times.push(Time { words, beside });
        }
    }
    times
}

fn is_time(text: &str) -> bool {
    text.len() == 5 && crate::units::ClockTime::parse(text).is_ok()
}

fn words_of(piece: &Piece) -> impl Iterator<Item = &Words> {
    piece.marks.iter().filter_map(|mark| match mark {
        Mark::Words(words) => Some(words),
        _ => None,
    })
}

/// A page as it is read aloud.
fn read(page: &Page) -> String {
    let pieces = page.pieces.iter().filter(|piece| piece.role != PieceRole::Trim);
    let lines = pieces.map(|piece| match &piece.role {
        PieceRole::Picture(spoken) => spoken.clone(),
        _ => words_of(piece).map(|words| words.text.as_str()).collect(),
    });
    lines.filter(|line| !line.is_empty()).collect::<Vec<_>>().join("\n")
}

/// Where an area of a page is in the window.
fn placed(area: &Area, origin: Pos2, zoom: f32) -> Rect {
    paint_scene::rect(&area.scaled(zoom), origin)
}

/// Paints a page with its left top at a point.
fn paint(painter: &Painter, origin: Pos2, page: &Page, zoom: f32) {
    let whole = Rect::from_min_size(origin, zoom * vec2(page.size.0, page.size.1));
    let painter = painter.with_clip_rect(painter.clip_rect().intersect(whole));
    painter.rect_filled(whole, 0.0, Color32::WHITE);
    let greys = on_paper();
    for mark in page.pieces.iter().flat_map(|piece| &piece.marks) {
        match mark {
            Mark::Words(words) => {
                let font = match words.weight {
                    Weight::Plain => fonts::plain(zoom * words.size),
                    Weight::Bold => fonts::bold(zoom * words.size),
                };
                let at = placed(&words.area, origin, zoom).min;
                let colour = Color32::from_gray(words.grey);
                painter.text(at, egui::Align2::LEFT_TOP, &words.text, font, colour);
            }
            Mark::Rect(area, ground, edge) => {
                let rect = placed(area, origin, zoom);
                if let Some(ground) = ground {
                    painter.rect_filled(rect, 0.0, Color32::from_gray(*ground));
                }
                if let Some((width, grey)) = edge {
                    let stroke = Stroke::new(zoom * width, Color32::from_gray(*grey));
                    painter.rect_stroke(rect, 0.0, stroke, StrokeKind::Inside);
                }
            }
            Mark::Line(from, to, width, grey) => {
                let point = |p: &crate::view::area::Point| origin + zoom * pos2(p.x, p.y).to_vec2();
                let stroke = Stroke::new(zoom * width, Color32::from_gray(*grey));
                painter.line_segment([point(from), point(to)], stroke);
            }
            Mark::Scene(at, scene, own) => {
                let at = origin + zoom * vec2(at.x, at.y);
                paint_scene::scene(&painter, at, &scene.scaled(zoom * own), &greys);
            }
        }
    }
}
