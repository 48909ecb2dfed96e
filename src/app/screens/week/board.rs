//! The week as a picture, and what on it answers to a hand: days, rooms, lessons, what
//! is wanted beyond what is there. One stop for the Tab key; arrows go from thing to
//! thing.

use std::sync::Arc;

use chrono::NaiveDate;
use eframe::egui::{
    Id, Key, Modifiers, Rect, Role, ScrollArea, Sense, Stroke, StrokeKind, Ui, WidgetInfo, vec2,
};

use super::Shown;
use super::drag::{Dragged, can_be_dragged, draw, follow};
use crate::app::looks::kept::{Same, kept};
use crate::app::looks::paint_scene::{self, InWindow};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::screens::board::keep_keys;
use crate::app::state::{Command, Commands, WeekChoice, WeekView};
use crate::session::WeekCommand;
use crate::units::{ClockTime, Minutes};
use crate::view::area::Area;
use crate::view::scene::Scene;
use crate::view::scene::week::{HEAD, NAMES, StandsOut, WeekPicture};
use crate::view::week::words::trouble;
use crate::view::week::{Item, WeekBoard};
use crate::week::{Change, EntryNo, Move, Report, RoomNo, Week};

/// What the week's board is made of.
#[derive(PartialEq)]
struct OfBoard {
    week: Same<Week>,
    report: Option<Same<Report>>,
}

/// What the picture is made of.
#[derive(PartialEq)]
struct OfPicture {
    board: Same<WeekBoard>,
    day: Option<NaiveDate>,
    size: (f32, f32),
    out: StandsOut,
}

impl OfPicture {
    fn picture(&self) -> WeekPicture<'_> {
        let (width, height) = self.size;
        WeekPicture { board: &self.board.0, day: self.day, width, height }
    }

    fn scene(&self, measure: &InWindow<'_>) -> Scene {
        self.picture().scene(&self.out, measure)
    }
}

/// Shows the picture.
pub fn show(ui: &mut Ui, shown: &Shown<'_>, out: &mut Commands) {
    let of = OfBoard {
        week: Same(Arc::clone(shown.week)),
        report: shown.report.map(|report| Same(Arc::clone(report))),
    };
    let board = kept(ui.painter(), "week", of, |of, _| {
        WeekBoard::of(&of.week.0, of.report.as_ref().map(|report| &*report.0))
    });
    let room = ui.available_size();
    let scrolled = ScrollArea::vertical().id_salt("week").auto_shrink(false);
    scrolled.show(ui, |ui| {
        let made_of = OfPicture {
            board: Same(Arc::clone(&board)),
            day: shown.view.day.filter(|day| board.days.iter().any(|c| c.date == *day)),
            size: (ui.available_width(), room.y),
            out: stands_out(shown),
        };
        let picture = made_of.picture();
        let size = vec2(picture.width, picture.whole_height());
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        let on = OnPicture { shown, board: &board, picture, rect };
        // Widgets first: what has the keyboard is drawn over the picture.
        let (focused, dragged) = on.answers(ui, out);
        let palette = Palette::of(ui.ctx());
        let again = OfPicture {
            board: Same(Arc::clone(&board)),
            day: made_of.day,
            size: made_of.size,
            out: made_of.out.clone(),
        };
        let scene = kept(ui.painter(), "picture of the week", again, OfPicture::scene);
        paint_scene::scene(ui.painter(), rect.min, &scene, palette);
        dragged.iter().for_each(|dragged| draw(ui.painter(), dragged, palette));
        if let Some(area) = focused {
            let stroke = Stroke::new(3.0, palette.focus);
            ui.painter().rect_stroke(area.expand(2.0), 3.0, stroke, StrokeKind::Outside);
        }
    });
}

/// What stands out: what is selected with its lessons, and where lessons were before the
/// change that is tried.
fn stands_out(shown: &Shown<'_>) -> StandsOut {
    let item = shown.view.selected;
    let mut entries =
        item.map(|item| item.entries(shown.report.map(|report| &**report))).unwrap_or_default();
    let mut before = Vec::new();
    if let Some(tried) = shown.tried() {
        match &tried.change {
            Change::Move(Move::Swap(one, other)) => entries = vec![*one, *other],
            Change::Move(Move::Elsewhere(entry, _)) => entries = vec![*entry],
            Change::Move(Move::ChangePlaces(one, other)) => entries = vec![*one, *other],
            Change::Move(Move::Lend(_))
            | Change::Out(_)
            | Change::Works(_)
            | Change::Hold(..)
            | Change::Add(_)
            | Change::Remove(_) => {}
        }
        if let Change::Move(Move::Elsewhere(..) | Move::ChangePlaces(..)) = tried.change {
            before = entries.iter().flat_map(|entry| stood(shown.doc.week(), *entry)).collect();
        }
    }
    StandsOut { item, entries, before }
}

/// Where a lesson stands in a week, in each of its rooms, from when until when.
fn stood(week: &Week, entry: EntryNo) -> Vec<(NaiveDate, RoomNo, Minutes, Minutes)> {
    let Some(entry) = week.entry(entry) else { return Vec::new() };
    let minute = |at: ClockTime| at.minutes_since(ClockTime::MIDNIGHT);
    let (from, until) = (minute(entry.slot.start()), minute(entry.slot.end()));
    entry.slot.rooms.iter().map(|room| (entry.slot.date, *room, from, until)).collect()
}

/// The picture where it is.
pub(super) struct OnPicture<'a> {
    pub(super) shown: &'a Shown<'a>,
    board: &'a WeekBoard,
    pub(super) picture: WeekPicture<'a>,
    rect: Rect,
}

impl OnPicture<'_> {
    pub(super) fn place(&self, area: &Area) -> Rect {
        paint_scene::rect(area, self.rect.min)
    }

    /// Where an item is; a lesson in several rooms is in several places.
    fn areas(&self, item: Item) -> Vec<Area> {
        match item {
            Item::Room(room) => self.picture.room_head(room).into_iter().collect(),
            Item::Entry(entry) => self.picture.bar(entry),
            Item::Trouble(id) => self.picture.over(id).into_iter().collect(),
        }
    }

    /// What a screen reader says of an item.
    fn spoken(&self, item: Item) -> String {
        match item {
            Item::Room(room) => {
                let row = self.board.rooms.iter().find(|row| row.room == room);
                row.map_or_else(String::new, |row| row.spoken.clone())
            }
            Item::Entry(entry) => {
                self.board.bar(entry).map_or_else(String::new, |(_, bar)| bar.spoken.clone())
            }
            Item::Trouble(id) => {
                let report = self.shown.report.map(|report| &**report);
                let moves = report.and_then(|report| id.among(report));
                match (report, moves) {
                    (Some(report), Some(moves)) => trouble(self.shown.week, report, &moves.trouble),
                    _ => String::new(),
                }
            }
        }
    }

    /// Everything that answers; where what has the keyboard is, and what is dragged.
    fn answers(&self, ui: &Ui, out: &mut Commands) -> (Option<Rect>, Option<Dragged>) {
        self.day_names(ui, out);
        for (number, ribbon) in self.board.ribbons.iter().enumerate() {
            let area = Area { w: NAMES, ..self.picture.ribbon(number) };
            let id = Id::unique(("ribbon of the week", ribbon.thing));
            let response = ui.interact(self.place(&area), id, Sense::hover());
            let spoken = &ribbon.spoken;
            response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(spoken)));
            response.on_hover_text(say(spoken));
        }
        let rows = self.board.items(self.picture.day);
        let view = self.shown.view;
        let is_there = |item: &Item| rows.iter().any(|row| row.contains(item));
        let first = rows.first().and_then(|row| row.first()).copied();
        let current = view.current.filter(is_there).or(first);
        let (mut focused, mut dragged) = (None, None);
        for &item in rows.iter().flatten() {
            for (part, area) in self.areas(item).iter().enumerate() {
                let is_current = current == Some(item) && part == 0;
                let (at, moved) = self.item(ui, (item, part), area, is_current, out);
                focused = focused.or(at);
                dragged = dragged.or(moved);
            }
        }
        (focused, dragged)
    }

    /// An item; where it is if it has the keyboard, and where it goes if it is dragged.
    fn item(
        &self,
        ui: &Ui,
        (item, part): (Item, usize),
        area: &Area,
        is_current: bool,
        out: &mut Commands,
    ) -> (Option<Rect>, Option<Dragged>) {
        let view = self.shown.view;
        let whole = self.place(area);
        // A stretch of a few minutes is still to be hit.
        let rect = whole.expand2(vec2(((12.0 - whole.width()) / 2.0).max(0.0), 0.0));
        let id = Id::unique(("of the week", item, part));
        let had_keyboard = ui.memory(|m| m.has_focus(id));
        let opens = had_keyboard && ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Enter));
        let sense = if is_current { Sense::click() } else { Sense::CLICK };
        let moves = match item {
            Item::Entry(entry) => can_be_dragged(self, entry),
            Item::Room(_) | Item::Trouble(_) => None,
        };
        let sense = if moves.is_some() { sense | Sense::DRAG } else { sense };
        let response = ui.interact(rect, id, sense);
        let dragged = moves.and_then(|entry| follow(ui, self, (entry, &response), out));
        let is_selected = view.selected == Some(item);
        let spoken = self.spoken(item);
        response
            .widget_info(|| WidgetInfo::selected(Role::Button, true, is_selected, say(&spoken)));
        if response.clicked() {
            response.request_focus();
            out.push(Command::Week(WeekChoice::Select(Some(item))));
        }
        if let Item::Entry(entry) = item
            && (response.double_clicked() || opens)
        {
            out.push(crate::session::Command::Week(WeekCommand::OpenLesson(entry)));
        } else if opens {
            out.push(Command::Week(WeekChoice::Select(Some(item))));
        }
        if is_current && view.focus_now {
            response.request_focus();
            ui.scroll_to_rect(rect.expand(6.0), None);
        }
        let has_keyboard = response.has_focus();
        if has_keyboard {
            self.arrows(ui, id, item, out);
        }
        if dragged.is_none() {
            response.on_hover_text(say(spoken));
        }
        (has_keyboard.then_some(whole), dragged)
    }

    fn arrows(&self, ui: &Ui, id: Id, item: Item, out: &mut Commands) {
        // Escape leaves the day or what is tried, not the focus.
        keep_keys(ui, id, true, true);
        // A slow frame may have several in it.
        let pressed = |key| -> i32 {
            let count = ui.input_mut(|i| i.count_and_consume_key(Modifiers::NONE, key));
            i32::try_from(count).unwrap_or(0)
        };
        let on = pressed(Key::ArrowRight) - pressed(Key::ArrowLeft);
        let down = pressed(Key::ArrowDown) - pressed(Key::ArrowUp);
        if (on, down) != (0, 0) {
            let next = self.board.beside(item, self.picture.day, (on, down));
            out.push(Command::Week(WeekChoice::Focus(next)));
        }
    }

    /// The name of a day leads to that day, and back.
    fn day_names(&self, ui: &Ui, out: &mut Commands) {
        for (i, column) in self.board.days.iter().enumerate() {
            let Some(area) = self.picture.day_head(i) else { continue };
            let id = Id::unique(("day of the week", column.date));
            let response = ui.interact(self.place(&Area { h: HEAD, ..area }), id, Sense::click());
            let alone = self.picture.day.is_some();
            let date = column.date.format("%A %-d %B");
            let spoken = if alone {
                format!("{date}: show the whole week")
            } else {
                format!("{date}: show this day")
            };
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, say(&spoken)));
            if response.hovered() {
                let palette = Palette::of(ui.ctx());
                ui.painter().rect_filled(response.rect.shrink(2.0), 4.0, palette.chosen);
            }
            if response.has_focus() {
                let stroke = Stroke::new(3.0, Palette::of(ui.ctx()).focus);
                ui.painter().rect_stroke(response.rect, 4.0, stroke, StrokeKind::Inside);
            }
            if response.clicked() {
                out.push(Command::Week(WeekChoice::Day((!alone).then_some(column.date))));
            }
            response.on_hover_text(say(spoken));
        }
    }
}

/// The day that is shown when one is to be: that of what is selected, or the first with
/// something on.
pub fn day_beside(week: &Week, view: &WeekView) -> Option<NaiveDate> {
    let of_item = |item: Item| match item {
        Item::Entry(entry) => week.entry(entry).map(|e| e.slot.date),
        Item::Trouble(crate::view::week::TroubleId::Clash(_, date, _))
        | Item::Trouble(crate::view::week::TroubleId::SettingUp(date)) => Some(date),
        Item::Trouble(crate::view::week::TroubleId::NotAllOut(entry)) => {
            week.entry(entry).map(|e| e.slot.date)
        }
        Item::Room(_) => None,
    };
    let chosen = view.current.or(view.selected).and_then(of_item);
    chosen.or_else(|| week.entries.iter().map(|e| e.slot.date).min())
}
