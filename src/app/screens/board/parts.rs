//! The board's parts below the bars: bands of the class, grid, names, ovens,
//! ribbons, links.

use crate::app::state::Commands;
use eframe::egui::{
    Align2, Id, Key, Modifiers, Painter, Rangef, Rect, Response, Role, Sense, Shape, Stroke,
    StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use crate::app::looks::fitted;
use crate::app::looks::fonts;
use crate::app::looks::paint;
use crate::app::looks::say::say;
use crate::app::screens::board::carry;
use crate::app::screens::board::{Canvas, bar_widget};
use crate::app::state::Command;
use crate::app::state::InPlace;
use crate::app::state::Selection;
use crate::hand::{Held, Thing};
use crate::view::board::BarId;
use crate::view::ovens::OvenLane;
use crate::view::rows::Row;

/// A painter that keeps to the clock.
pub fn across(ui: &Ui, canvas: &Canvas<'_>) -> Painter {
    ui.painter().with_clip_rect(ui.clip_rect().intersect(canvas.across))
}

/// The class's own steps, through all rows.
pub fn bands(ui: &mut Ui, canvas: &Canvas<'_>) {
    let painter = across(ui, canvas);
    for band in &canvas.board.bands {
        let x = canvas.scale.x(band.from.get() as f32)..=canvas.scale.x(band.until.get() as f32);
        let rect = Rect::from_x_y_ranges(x, canvas.across.y_range());
        painter.rect_filled(rect, 0.0, canvas.palette.class.0);
        let seen = rect.intersect(ui.clip_rect());
        if seen.is_positive() {
            let inside = painter.with_clip_rect(seen);
            // Hatched by screen, so that scrolling costs no more.
            let area = Rect::from_x_y_ranges(rect.x_range(), seen.y_range());
            paint::hatch(
                &inside,
                area,
                paint::weaker(canvas.palette.class.1, 0.35, canvas.palette),
                12.0,
            );
        }
        painter.vline(rect.left(), rect.y_range(), Stroke::new(1.0, canvas.palette.class.1));
        painter.vline(rect.right(), rect.y_range(), Stroke::new(1.0, canvas.palette.class.1));
        let id = bar_widget(BarId::Class(band.step));
        let response = ui.interact(seen.intersect(canvas.across), id, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(&band.spoken)));
        response.on_hover_text(say(&band.spoken));
    }
}

/// Names of the class's own steps, over the lines of the rows.
pub fn band_names(ui: &mut Ui, canvas: &Canvas<'_>) {
    let painter = across(ui, canvas);
    for band in &canvas.board.bands {
        let x = canvas.scale.x(band.from.get() as f32)..=canvas.scale.x(band.until.get() as f32);
        let rect = Rect::from_x_y_ranges(x, canvas.across.y_range());
        if band.during {
            between(&painter, rect, &band.name, canvas);
        } else {
            upright(&painter, rect, &band.name, canvas);
        }
    }
}

/// A name written in the gap between rows and ovens, where no bar covers it.
fn between(painter: &Painter, rect: Rect, name: &str, canvas: &Canvas<'_>) {
    let name = crate::finding::shortened(name, 30);
    let galley =
        painter.layout_no_wrap(say(name).into_owned(), fonts::plain(13.0), canvas.palette.ink);
    let centre = pos2(rect.center().x, canvas.origin.y + canvas.laid.gap + 8.0);
    let patch = Rect::from_center_size(centre, galley.size() + vec2(6.0, 0.0));
    painter.rect_filled(patch, 3.0, canvas.palette.class.0);
    painter.galley(patch.left_top() + vec2(3.0, 0.0), galley, canvas.palette.ink);
}

/// A name written upwards at the top of a band.
fn upright(painter: &Painter, rect: Rect, name: &str, canvas: &Canvas<'_>) {
    let name = crate::finding::shortened(name, 22);
    let galley =
        painter.layout_no_wrap(say(name).into_owned(), fonts::plain(13.0), canvas.palette.ink);
    if galley.size().y > rect.width() + 5.0 {
        return;
    }
    let x = rect.center().x - galley.size().y / 2.0;
    let y = canvas.origin.y + galley.size().x + 8.0;
    // A patch behind the words keeps the hatching off them.
    let patch = Rect::from_min_max(
        pos2(x - 1.0, y - galley.size().x - 3.0),
        pos2(x + galley.size().y + 1.0, y + 3.0),
    );
    painter.rect_filled(patch, 2.0, canvas.palette.class.0);
    let mut text = eframe::egui::epaint::TextShape::new(pos2(x, y), galley, canvas.palette.ink);
    text.angle = -std::f32::consts::FRAC_PI_2;
    painter.add(text);
}

/// Lines of the clock and the bells.
pub fn grid(ui: &mut Ui, canvas: &Canvas<'_>) {
    let painter = across(ui, canvas);
    let tick = canvas.scale.tick(20.0);
    let mut minute = (canvas.scale.from / tick as f32).ceil() as i32 * tick;
    while (minute as f32) < canvas.scale.until {
        let x = canvas.scale.x(minute as f32);
        painter.vline(x, canvas.across.y_range(), Stroke::new(1.0, canvas.palette.line));
        minute += tick;
    }
    let wide = ui.painter().clone();
    for bell in &canvas.board.bells {
        let x = canvas.scale.x(bell.get() as f32);
        if canvas.across.x_range().expand(1.0).contains(x) {
            wide.vline(x, canvas.across.y_range(), Stroke::new(2.5, canvas.palette.ink));
        }
    }
}

/// A name on the left that can be clicked, with a line under it.
fn name(
    ui: &mut Ui,
    canvas: &Canvas<'_>,
    (top, height): (f32, f32),
    (id, spoken, selection): (Id, &str, Selection),
    (title, under, indent): (&str, &str, f32),
    out: &mut Commands,
) {
    let left = ui.max_rect().left() + 4.0;
    let rect = Rect::from_min_max(
        pos2(left, canvas.origin.y + top),
        pos2(canvas.scale.left - 8.0, canvas.origin.y + top + height),
    );
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
    if canvas.shown.view.selection == selection {
        painter.rect_filled(rect, 4.0, canvas.palette.chosen);
        painter.rect_stroke(rect, 4.0, Stroke::new(1.5, canvas.palette.ink), StrokeKind::Inside);
    }
    if response.has_focus() {
        let stroke = Stroke::new(3.0, canvas.palette.focus);
        painter.rect_stroke(rect, 5.0, stroke, StrokeKind::Inside);
    } else if response.hovered() {
        let stroke = Stroke::new(1.0, canvas.palette.edge);
        painter.rect_stroke(rect, 4.0, stroke, StrokeKind::Inside);
    }
    let width = rect.width() - 8.0 - indent;
    let (all, some) = held_here(canvas, selection);
    let mark = if all || some { 13.0 } else { 0.0 };
    let size = if all { 9.0 } else { 7.0 };
    if mark > 0.0 {
        let y = if all { 9.0 } else { 25.0 };
        let at = pos2(rect.right() - 8.0, rect.top() + y);
        paint::lock(&painter, at, size, canvas.palette.ink);
    }
    let marked = group.is_some_and(|g| canvas.shown.view.marked.contains(&Thing::Row(g)));
    if marked {
        let stroke = Stroke::new(1.5, canvas.palette.ink);
        painter.rect_stroke(rect, 4.0, stroke, StrokeKind::Inside);
    }
    let width = width - mark;
    let title = fitted(&painter, title, fonts::bold(14.0), width);
    let under = fitted(&painter, under, fonts::plain(13.0), width);
    let at = rect.left_top() + vec2(5.0 + indent, 1.0);
    painter.text(at, Align2::LEFT_TOP, say(&title), fonts::bold(14.0), canvas.palette.ink);
    let at = at + vec2(0.0, 16.0);
    painter.text(at, Align2::LEFT_TOP, say(&under), fonts::plain(13.0), canvas.palette.soft);
    if title.ends_with('…') || under.ends_with('…') {
        response.on_hover_text(say(spoken));
    }
}

/// Whether all of a group is held, or something of it beside times.
fn held_here(canvas: &Canvas<'_>, selection: Selection) -> (bool, bool) {
    let Selection::Group(group) = selection else { return (false, false) };
    let row = canvas.board.rows.iter().find(|r| r.group == group);
    let held = row.map(|r| r.held).unwrap_or_default();
    (held.all, !held.all && (held.tin || held.method || held.oven))
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
            crate::app::screens::board::keep_keys(ui, response.id, false, true);
        }
        carry::by_keys(ui, canvas, thing, held, out);
    }
}

/// Groups: names, threads of waiting, ready times and verdicts.
pub fn rows(ui: &mut Ui, canvas: &Canvas<'_>, out: &mut Commands) {
    let mut above: Option<&Row> = None;
    for (i, (row, &(top, height))) in canvas.board.rows.iter().zip(&canvas.laid.rows).enumerate() {
        let ghost = canvas.ghosts.and_then(|g| g.rows.get(i));
        // The same reason is written once, on the first of those it holds for.
        let first = above.filter(|a| a.reason.is_some() && a.reason == row.reason);
        above = first.or(Some(row));
        let y = canvas.origin.y + top;
        let whole = Rect::from_x_y_ranges(ui.max_rect().x_range(), y..=y + height);
        let id = Id::unique(("group", row.group));
        let selection = Selection::Group(row.group);
        name(
            ui,
            canvas,
            (top, height),
            (id, &row.spoken, selection),
            (&row.name, &row.choice, 0.0),
            out,
        );
        // Its name stays in reach of the keyboard and of screen readers.
        if !ui.clip_rect().intersects(whole) {
            continue;
        }
        let painter = across(ui, canvas);
        for &(from, until) in &row.waits {
            let x = (canvas.scale.x(from.get() as f32), canvas.scale.x(until.get() as f32));
            let y = y + 8.5;
            paint::thread(&painter, pos2(x.0, y), pos2(x.1, y), canvas.palette.wait.1);
        }
        // Where another plan has bars for a group without, they take the
        // place of the reason, which the card has.
        let covered = ghost.is_some_and(|g| !g.bars.is_empty());
        if let Some(reason) = row.reason.as_ref().filter(|_| !covered) {
            let words =
                first.map(|first| format!("as for {}", crate::finding::shortened(&first.name, 60)));
            let words = words.unwrap_or_else(|| crate::finding::shortened(reason, 260));
            unserved(ui, canvas, row, (y, height), (words, reason));
        }
        ready(ui, canvas, row, ghost.is_some_and(|g| !g.ready.is_empty()), y);
        if let Some(ghost) = ghost {
            crate::app::screens::board::ghosts::ready(ui, canvas, ghost, y);
        }
        let rule = y + height + 2.5;
        ui.painter().hline(ui.max_rect().x_range(), rule, Stroke::new(1.0, canvas.palette.line));
    }
    let more = canvas.ghosts.map(|g| g.rows.iter().zip(&canvas.laid.rows));
    for (ghost, &place) in more.into_iter().flatten().skip(canvas.board.rows.len()) {
        crate::app::screens::board::ghosts::only_there(
            ui,
            canvas,
            place,
            (&ghost.name, &ghost.choice),
        );
        crate::app::screens::board::ghosts::ready(ui, canvas, ghost, canvas.origin.y + place.0);
    }
}

/// Where groups have their own steps, between the class's opening and
/// closing, whose names are to be read; all of the clock if that is narrow.
fn own_work(canvas: &Canvas<'_>) -> Rangef {
    let (mut from, mut until) = (canvas.board.from, canvas.board.until);
    let all = canvas.board.bands.iter().filter(|b| !b.during);
    for band in all.clone() {
        if band.from <= from {
            from = from.max(band.until);
        }
    }
    for band in all.rev() {
        if band.until >= until {
            until = until.min(band.from);
        }
    }
    let across = canvas.across.x_range();
    let x = |m: crate::units::Minute| across.clamp(canvas.scale.x(m.get() as f32));
    let own = Rangef::new(x(from), x(until));
    if own.span() < 0.5 * across.span() { across } else { own }
}

/// Why a group is not served, in the place of its steps.
fn unserved(
    ui: &Ui,
    canvas: &Canvas<'_>,
    row: &Row,
    (y, height): (f32, f32),
    (words, reason): (String, &str),
) {
    let painter = across(ui, canvas);
    let rect = Rect::from_x_y_ranges(own_work(canvas), y..=y + height).shrink(2.0);
    painter.rect_filled(rect, 4.0, canvas.palette.card);
    paint::dashed(&painter, rect, canvas.palette.red);
    let font = fonts::plain(13.0);
    let mut job = eframe::egui::text::LayoutJob::simple(
        say(words).into_owned(),
        font,
        canvas.palette.ink,
        rect.width() - 16.0,
    );
    job.wrap.max_rows = 2;
    let galley = painter.layout_job(job);
    let at = pos2(rect.left() + 8.0, rect.center().y - galley.size().y / 2.0);
    painter.galley(at, galley, canvas.palette.ink);
    let id = Id::unique(("why not", row.group));
    let response = ui.interact(rect.intersect(ui.clip_rect()), id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(reason)));
    response.on_hover_text(say(reason));
}

/// The ready time and the verdict; one line where another follows.
fn ready(ui: &Ui, canvas: &Canvas<'_>, row: &Row, one_line: bool, y: f32) {
    let x = canvas.across.right() + 18.0;
    paint::verdict(ui.painter(), pos2(x, y + 9.0), row.verdict, canvas.palette);
    let served = row.reason.is_none() && row.ready.contains(':');
    let width = ui.max_rect().right() - x - 12.0;
    if served {
        let font = fonts::bold(14.0);
        ui.painter().text(
            pos2(x + 11.0, y),
            Align2::LEFT_TOP,
            say(&row.ready),
            font,
            canvas.palette.ink,
        );
        if one_line {
            return;
        }
        let words = crate::view::rows::verdict_words(row.verdict);
        ui.painter().text(
            pos2(x + 11.0, y + 16.0),
            Align2::LEFT_TOP,
            say(words),
            fonts::plain(13.0),
            canvas.palette.soft,
        );
        return;
    }
    let mut job = eframe::egui::text::LayoutJob::simple(
        say(row.ready.clone()).into_owned(),
        fonts::bold(13.0),
        canvas.palette.ink,
        width,
    );
    job.wrap.max_rows = if one_line { 1 } else { 2 };
    let galley = ui.painter().layout_job(job);
    ui.painter().galley(pos2(x + 11.0, y + 1.0), galley, canvas.palette.ink);
}

/// Ovens: cabinets, shelves as lanes, the temperature that climbs first.
pub fn ovens(ui: &mut Ui, canvas: &Canvas<'_>, out: &mut Commands) {
    let laid = canvas.laid.ovens.iter().zip(&canvas.laid.shelves);
    for (lane, (&(top, height), tops)) in canvas.board.ovens.iter().zip(laid) {
        let y = canvas.origin.y + top;
        let whole = Rect::from_x_y_ranges(ui.max_rect().x_range(), y..=y + height);
        let selection = Selection::Oven(lane.oven);
        let id = Id::unique(("oven", lane.oven));
        name(
            ui,
            canvas,
            (top, height),
            (id, &lane.spoken, selection),
            (&lane.name, &lane.state, 30.0),
            out,
        );
        if !ui.clip_rect().intersects(whole) {
            continue;
        }
        cabinet(ui, canvas, lane, y, height);
        shelves(ui, canvas, lane, tops);
        fullest(ui, canvas, lane, y);
    }
    let places = canvas.laid.ovens.iter().zip(&canvas.laid.shelves);
    let more = canvas.ghosts.map(|g| g.ovens.iter().zip(places));
    for (oven, (&place, tops)) in more.into_iter().flatten().skip(canvas.board.ovens.len()) {
        crate::app::screens::board::ghosts::only_there(
            ui,
            canvas,
            place,
            (&oven.name, &oven.state),
        );
        let painter = across(ui, canvas);
        for top in tops {
            let line = canvas.origin.y + top;
            painter.hline(canvas.across.x_range(), line, Stroke::new(1.0, canvas.palette.line));
        }
    }
}

fn cabinet(ui: &Ui, canvas: &Canvas<'_>, lane: &OvenLane, y: f32, height: f32) {
    let left = ui.max_rect().left() + 9.0;
    let rect = Rect::from_min_size(pos2(left, y + 2.0), vec2(22.0, (height - 4.0).min(44.0)));
    let stroke = Stroke::new(1.5, canvas.palette.ink);
    let painter = ui.painter();
    painter.rect_stroke(rect, 3.0, stroke, StrokeKind::Inside);
    let count = lane.shelves.len().max(1);
    for i in 0..count {
        let y = rect.top() + rect.height() * (i as f32 + 1.0) / (count as f32 + 1.0);
        painter.hline(rect.left() + 4.0..=rect.right() - 4.0, y, stroke);
    }
    if lane.out_of_order {
        let red = Stroke::new(2.0, canvas.palette.red);
        painter.line_segment([rect.left_top(), rect.right_bottom()], red);
    }
}

fn shelves(ui: &Ui, canvas: &Canvas<'_>, lane: &OvenLane, tops: &[f32]) {
    let painter = across(ui, canvas);
    for top in tops {
        let line = canvas.origin.y + top;
        painter.hline(canvas.across.x_range(), line, Stroke::new(1.0, canvas.palette.line));
    }
    let (Some(first), Some(last)) = (tops.first(), tops.last()) else { return };
    let (y, height) = (canvas.origin.y + first, last - first);
    let points: Vec<_> = lane
        .temperature
        .iter()
        .map(|&(minute, share)| {
            pos2(canvas.scale.x(minute.get() as f32), y + height - 1.0 - share * (height - 2.0))
        })
        .collect();
    if points.len() > 1 {
        painter.extend(Shape::dashed_line(
            &points,
            Stroke::new(1.5, canvas.palette.heat),
            2.5,
            2.5,
        ));
    }
}

/// How many tins it has when it is fullest, on the right.
fn fullest(ui: &Ui, canvas: &Canvas<'_>, lane: &OvenLane, y: f32) {
    let Some((_, _, tins)) = lane.fullest else { return };
    let x = canvas.across.right() + 14.0;
    let words = if tins == 1 { "1 tin".to_owned() } else { format!("{tins} tins") };
    let font = fonts::plain(13.0);
    ui.painter().text(pos2(x, y + 1.0), Align2::LEFT_TOP, say(words), font, canvas.palette.soft);
}

/// Kit and adults.
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
        let left = ui.max_rect().left() + 9.0;
        let font = fonts::plain(13.0);
        let count = format!("{} of {}", ribbon.most, ribbon.there);
        let count_width = 62.0;
        let width = canvas.scale.left - left - count_width - 10.0;
        let name = fitted(ui.painter(), &ribbon.name, font.clone(), width);
        let at = pos2(left, y + height / 2.0);
        ui.painter().text(at, Align2::LEFT_CENTER, say(name), font.clone(), canvas.palette.ink);
        let at = pos2(canvas.scale.left - 12.0, y + height / 2.0);
        ui.painter().text(at, Align2::RIGHT_CENTER, say(count), font, canvas.palette.soft);
        let painter = across(ui, canvas);
        let top_of = ribbon.there.max(ribbon.most).max(1) as f32;
        for &(from, until, count) in &ribbon.used {
            let x = canvas.scale.x(from.get() as f32)..=canvas.scale.x(until.get() as f32);
            let h = (height - 2.0) * count as f32 / top_of;
            let rect = Rect::from_x_y_ranges(x, y + height - h..=y + height);
            painter.rect_filled(rect, 0.0, canvas.palette.ribbon.0);
            let stroke = Stroke::new(1.0, canvas.palette.ribbon.1);
            painter.rect_stroke(rect, 0.0, stroke, StrokeKind::Inside);
        }
        let there = y + height - (height - 2.0) * ribbon.there as f32 / top_of;
        let line = [pos2(canvas.across.left(), there), pos2(canvas.across.right(), there)];
        painter.extend(Shape::dashed_line(&line, Stroke::new(1.0, canvas.palette.edge), 2.0, 3.0));
    }
}

/// What the bar under the pointer waits for, and what waits for it.
pub fn links(ui: &mut Ui, canvas: &Canvas<'_>) {
    let hovered = canvas.board.bars().find(|b| {
        matches!(b.id, BarId::Step(..))
            && ui
                .ctx()
                .read_response(bar_widget(b.id))
                .is_some_and(|r| r.hovered() || r.has_focus())
    });
    let Some(BarId::Step(group, step)) = hovered.map(|b| b.id) else { return };
    let painter = across(ui, canvas);
    let row = canvas.board.rows.iter().find(|r| r.group == group);
    let links = row.map(|r| r.links.as_slice()).unwrap_or_default();
    for &(from, to) in links.iter().filter(|l| l.0 == step || l.1 == step) {
        let area = |s| canvas.laid.area(BarId::Step(group, s)).map(|a| canvas.rect(&a));
        let (Some(from), Some(to)) = (area(from), area(to)) else { continue };
        let (a, b) = (from.right_center(), to.left_center());
        let bend = ((b.x - a.x).abs() / 2.0).max(8.0);
        let curve = eframe::egui::epaint::CubicBezierShape::from_points_stroke(
            [a, a + vec2(bend, 0.0), b - vec2(bend, 0.0), b],
            false,
            eframe::egui::Color32::TRANSPARENT,
            Stroke::new(2.0, canvas.palette.ink),
        );
        painter.add(curve);
        painter.circle_filled(b, 3.5, canvas.palette.ink);
    }
}
