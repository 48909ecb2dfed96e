//! What can be done with the board's parts below the bars and what they say:
//! bands of the class, names, ovens, ribbons, links.

use eframe::egui::{
    Id, Key, Modifiers, Painter, Rect, Response, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo,
};

use super::{Canvas, bar_widget, carry};
use crate::app::looks::say::say;
use crate::app::state::{Command, Commands, InPlace, Selection};
use crate::hand::{Held, Thing};
use crate::view::board::BarId;
use crate::view::scene::Of;

/// A painter that keeps to the clock.
pub fn across(ui: &Ui, canvas: &Canvas<'_>) -> Painter {
    ui.painter().with_clip_rect(ui.clip_rect().intersect(canvas.across))
}

/// What the class's own steps say.
pub fn bands(ui: &mut Ui, canvas: &Canvas<'_>) {
    for band in &canvas.board.bands {
        let x = canvas.scale.x(band.from.get() as f32)..=canvas.scale.x(band.until.get() as f32);
        let seen = Rect::from_x_y_ranges(x, canvas.across.y_range()).intersect(ui.clip_rect());
        let id = bar_widget(BarId::Class(band.step));
        let response = ui.interact(seen.intersect(canvas.across), id, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(&band.spoken)));
        if canvas.shown.of_cause().is_some_and(|bars| bars.contains(&BarId::Class(band.step))) {
            let stroke = Stroke::new(2.0, canvas.palette.ink);
            across(ui, canvas).rect_stroke(response.rect, 0.0, stroke, StrokeKind::Inside);
        }
        response.on_hover_text(say(&band.spoken));
    }
}

/// The field behind the name of what is selected.
pub fn chosen(ui: &Ui, canvas: &Canvas<'_>) {
    let (rows, ovens) = (canvas.board.rows.iter(), canvas.board.ovens.iter());
    let place = match canvas.shown.view.selection {
        Selection::Group(group) => {
            rows.zip(&canvas.laid.rows).find(|(row, _)| row.group == group).map(|(_, at)| at)
        }
        Selection::Oven(oven) => {
            ovens.zip(&canvas.laid.ovens).find(|(lane, _)| lane.oven == oven).map(|(_, at)| at)
        }
        _ => None,
    };
    let Some(&place) = place else { return };
    let rect = canvas.rect(&canvas.picture.name_area(place));
    let painter = ui.painter();
    painter.rect_filled(rect, 4.0, canvas.palette.chosen);
    painter.rect_stroke(rect, 4.0, Stroke::new(1.5, canvas.palette.ink), StrokeKind::Inside);
}

/// A name on the left that can be clicked; one that is cut is told in full.
fn name(
    ui: &mut Ui,
    canvas: &Canvas<'_>,
    place: (f32, f32),
    (id, spoken, selection): (Id, &str, Selection),
    is_cut: bool,
    out: &mut Commands,
) {
    let rect = canvas.rect(&canvas.picture.name_area(place));
    let group = match selection {
        Selection::Group(group) => Some(group),
        _ => None,
    };
    let drag = if group.is_some() { Sense::DRAG } else { Sense::empty() };
    let response = ui.interact(rect, id, Sense::click() | drag);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, say(spoken)));
    if response.clicked() {
        // The Tab key goes on from here.
        response.request_focus();
        let beside = ui.input(|i| i.modifiers.command || i.modifiers.shift);
        out.push(match group.filter(|_| beside) {
            Some(group) => Command::Mark(Thing::Row(group)),
            None => Command::Select(selection),
        });
    }
    by_hand(ui, canvas, &response, selection, out);
    if response.gained_focus() {
        ui.scroll_to_rect(rect.expand(20.0), None);
    }
    if !ui.clip_rect().intersects(rect) {
        return;
    }
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    if response.has_focus() {
        let stroke = Stroke::new(3.0, canvas.palette.focus);
        painter.rect_stroke(rect, 5.0, stroke, StrokeKind::Inside);
    } else if response.hovered() {
        let stroke = Stroke::new(1.0, canvas.palette.edge);
        painter.rect_stroke(rect, 4.0, stroke, StrokeKind::Inside);
    }
    let marked = group.is_some_and(|g| canvas.shown.view.marked.contains(&Thing::Row(g)));
    if marked {
        let stroke = Stroke::new(1.5, canvas.palette.ink);
        painter.rect_stroke(rect, 4.0, stroke, StrokeKind::Inside);
    }
    if is_cut {
        response.on_hover_text(say(spoken));
    }
}

/// Moving, holding and renaming what a name stands for.
fn by_hand(
    ui: &Ui,
    canvas: &Canvas<'_>,
    response: &Response,
    selection: Selection,
    out: &mut Commands,
) {
    let edit = match selection {
        Selection::Group(group) => InPlace::Group(group),
        Selection::Oven(oven) => InPlace::Oven(oven),
        _ => return,
    };
    let renames = response.has_focus() && ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::F2));
    if response.double_clicked() || renames {
        out.push(Command::InPlace(Some(edit)));
    }
    let Selection::Group(group) = selection else { return };
    let row = canvas.board.rows.iter().find(|r| r.group == group);
    let Some(row) = row.filter(|r| r.reason.is_none()) else { return };
    let (thing, held) = (Thing::Row(group), (Held::Group(group), row.held.all));
    carry::by_access(ui, response.id, thing, held, out);
    if response.has_focus() {
        if canvas.shown.moving.carried.as_ref().is_some_and(|c| !c.mouse) {
            super::keep_keys(ui, response.id, false, true);
        }
        carry::by_keys(ui, canvas, thing, held, out);
    }
}

/// What can be done with groups, and what they say.
pub fn rows(ui: &mut Ui, canvas: &Canvas<'_>, cut: &[Of], out: &mut Commands) {
    for (i, (row, &place)) in canvas.board.rows.iter().zip(&canvas.laid.rows).enumerate() {
        let id = Id::unique(("group", row.group));
        let said = (id, row.spoken.as_str(), Selection::Group(row.group));
        // Its name stays in reach of the keyboard and of screen readers.
        name(ui, canvas, place, said, cut.contains(&Of::Group(row.group)), out);
        if !is_seen(ui, canvas, place) {
            continue;
        }
        if let Some(reason) = canvas.picture.why_not(i) {
            let rect = canvas.rect(&canvas.picture.why_not_area(place));
            let id = Id::unique(("why not", row.group));
            let response = ui.interact(rect.intersect(ui.clip_rect()), id, Sense::hover());
            response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(reason)));
            response.on_hover_text(say(reason));
        }
        if let Some(ghost) = canvas.ghosts.and_then(|g| g.rows.get(i)) {
            super::ghosts::ready(ui, canvas, ghost, place.0);
        }
    }
    let more = canvas.ghosts.map(|g| g.rows.iter().zip(&canvas.laid.rows));
    for (ghost, &place) in more.into_iter().flatten().skip(canvas.board.rows.len()) {
        super::ghosts::only_there(ui, canvas, place, (&ghost.name, &ghost.choice));
        super::ghosts::ready(ui, canvas, ghost, place.0);
    }
}

/// Something of a row or an oven is within the window.
fn is_seen(ui: &Ui, canvas: &Canvas<'_>, (top, height): (f32, f32)) -> bool {
    let y = canvas.origin.y + top;
    ui.clip_rect().intersects(Rect::from_x_y_ranges(ui.max_rect().x_range(), y..=y + height))
}

/// What can be done with ovens, and what they say.
pub fn ovens(ui: &mut Ui, canvas: &Canvas<'_>, cut: &[Of], out: &mut Commands) {
    for (lane, &place) in canvas.board.ovens.iter().zip(&canvas.laid.ovens) {
        let id = Id::unique(("oven", lane.oven));
        let said = (id, lane.spoken.as_str(), Selection::Oven(lane.oven));
        name(ui, canvas, place, said, cut.contains(&Of::Oven(lane.oven)), out);
    }
    let more = canvas.ghosts.map(|g| g.ovens.iter().zip(&canvas.laid.ovens));
    for (oven, &place) in more.into_iter().flatten().skip(canvas.board.ovens.len()) {
        super::ghosts::only_there(ui, canvas, place, (&oven.name, &oven.state));
    }
}

/// What kit and adults say.
pub fn ribbons(ui: &mut Ui, canvas: &Canvas<'_>, out: &mut Commands) {
    for (ribbon, &(top, height)) in canvas.board.ribbons.iter().zip(&canvas.laid.ribbons) {
        let y = canvas.origin.y + top;
        let whole = Rect::from_x_y_ranges(ui.max_rect().x_range(), y..=y + height);
        if !ui.clip_rect().intersects(whole) {
            continue;
        }
        let response = ui.interact(whole, Id::unique(("ribbon", &ribbon.name)), Sense::CLICK);
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(&ribbon.spoken)));
        if response.clicked() && ribbon.name == "adults" {
            out.push(Command::Select(Selection::Adults));
        }
        response.on_hover_text(say(&ribbon.spoken));
    }
}

/// What the bar that is pointed at waits for, by a thick end, and what waits for it, by a
/// thick beginning.
pub fn links(ui: &Ui, canvas: &Canvas<'_>, pointed_at: Option<BarId>) {
    let Some(BarId::Step(group, step)) = pointed_at else { return };
    let painter = across(ui, canvas);
    let row = canvas.board.rows.iter().find(|r| r.group == group);
    let links = row.map(|r| r.links.as_slice()).unwrap_or_default();
    let area = |s| canvas.laid.area(BarId::Step(group, s)).map(|a| canvas.rect(&a));
    let stroke = Stroke::new(3.0, canvas.palette.ink);
    for &(from, to) in links {
        let edge = match (from == step, to == step) {
            (_, true) => area(from).map(|bar| (bar.right(), bar.y_range())),
            (true, _) => area(to).map(|bar| (bar.left(), bar.y_range())),
            _ => None,
        };
        if let Some((x, along)) = edge {
            painter.vline(x, along.expand(3.0), stroke);
        }
    }
}
