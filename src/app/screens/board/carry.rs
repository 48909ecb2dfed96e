//! Dragging and carrying on the board: what is taken hold of, where it may be
//! put, and what the spot it is over would come to.

use crate::app::state::Commands;
use crate::session::Command as LessonCommand;
use eframe::egui::accesskit::{Action, ActionData, CustomAction};
use eframe::egui::{
    self, Color32, Id, Key, Modifiers, Painter, PointerButton, Pos2, Rect, Role, Sense, Shape,
    Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::parts;
use crate::app::looks::fonts;
use crate::app::looks::paint;
use crate::app::looks::say::say;
use crate::app::screens::board::{Canvas, bar_widget};
use crate::app::state::Command;
use crate::app::state::InPlace;
use crate::hand::{Fit, Held, SpotRow, Thing};
use crate::model::{GroupId, Lesson, OvenId, ShelfId};
use crate::session::words::{label, place_words};
use crate::session::{Carried, Landing, step_thing};
use crate::view::board::{Bar, BarId, Work};

/// So near to the edge the board scrolls while something is carried.
const EDGE: f32 = 28.0;

/// What a bar is taken hold of as.
pub fn thing_of(canvas: &Canvas<'_>, id: BarId) -> Option<Thing> {
    match id {
        BarId::Step(g, s) => Some(step_thing(canvas.shown.lesson(), canvas.shown.plan(), g, s)),
        BarId::Tin(g, _) => Some(Thing::Bake(g)),
        BarId::Class(_) => None,
    }
}

/// Where a thing is on screen now.
pub fn home(canvas: &Canvas<'_>, thing: Thing) -> Option<Rect> {
    let all = bars_of(canvas, thing);
    all.iter().map(|(_, rect)| *rect).reduce(Rect::union)
}

/// The bars of a thing, in its row; those of its tins are its as well.
fn bars_of(canvas: &Canvas<'_>, thing: Thing) -> Vec<(BarId, Rect)> {
    let of = |id: &BarId| match (thing, *id) {
        (Thing::Row(g), BarId::Step(of, _)) => g == of,
        (_, id @ BarId::Step(..)) => thing_of(canvas, id) == Some(thing),
        _ => false,
    };
    let bars = canvas.laid.bars.iter().filter(|(id, _)| of(id));
    bars.map(|(id, area)| (*id, canvas.rect(area))).collect()
}

fn group_of(thing: Thing) -> GroupId {
    match thing {
        Thing::Step(g, _) | Thing::Bake(g) | Thing::Row(g) => g,
    }
}

/// What the mouse takes hold of: found from where the button went down, since
/// on a slow frame the pointer is elsewhere by now.
fn under(ui: &Ui, canvas: &Canvas<'_>, at: Pos2) -> Option<(Thing, Id)> {
    if !ui.clip_rect().contains(at) {
        return None;
    }
    let hit = canvas.laid.bars.iter().rev().find(|(_, area)| {
        canvas.across.x_range().contains(at.x) && canvas.rect(area).expand(1.0).contains(at)
    });
    if let Some((id, _)) = hit {
        return Some((thing_of(canvas, *id)?, bar_widget(*id)));
    }
    let name = Rect::from_x_y_ranges(
        ui.max_rect().left()..=canvas.scale.left - 8.0,
        ui.clip_rect().y_range(),
    );
    let row = canvas.board.rows.iter().zip(&canvas.laid.rows).find(|(_, (top, height))| {
        let y = canvas.origin.y + top;
        name.contains(at) && (y..=y + height).contains(&at.y)
    });
    row.map(|(row, _)| (Thing::Row(row.group), Id::unique(("group", row.group))))
}

/// Takes hold, carries and puts down by mouse; whether anything of the board
/// is taken hold of, so that the board itself is not moved.
pub fn by_mouse(ui: &mut Ui, canvas: &Canvas<'_>, out: &mut Commands) -> bool {
    let (origin, now, down, released) = ui.input(|i| {
        let p = &i.pointer;
        let released = p.button_released(PointerButton::Primary);
        (p.press_origin(), p.latest_pos(), p.button_down(PointerButton::Primary), released)
    });
    let carried = canvas.shown.moving.carried.as_ref().filter(|c| c.mouse);
    let hold = origin.and_then(|at| under(ui, canvas, at));
    let Some(carried) = carried else {
        let dragging = ui.input(|i| i.pointer.is_decidedly_dragging());
        let ours = ui.ctx().dragged_id().is_none_or(|id| is_of_board(ui, canvas, id));
        if let Some((thing, _)) = hold
            && dragging
            && down
            && ours
            && ui.ctx().dragged_id().is_some()
        {
            let marked = &canvas.shown.view.marked;
            let things = if marked.contains(&thing) {
                marked.iter().copied().collect()
            } else {
                vec![thing]
            };
            out.push(LessonCommand::TakeUp(things, true));
        }
        return hold.is_some();
    };
    if let (Some(origin), Some(now)) = (origin, now) {
        let minutes = canvas.scale.minute(now.x) - canvas.scale.minute(origin.x);
        #[allow(clippy::cast_possible_truncation)] // minutes of a lesson
        let by = minutes.round() as i32;
        let place = place_under(canvas, carried, now);
        if (by, place) != (carried.by, carried.place) {
            out.push(LessonCommand::CarryTo(by, place));
        }
        scroll(ui, now);
    }
    if ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape)) {
        out.push(LessonCommand::PutBack);
    } else if released || !down {
        out.push(LessonCommand::SetDown);
    }
    true
}

fn is_of_board(ui: &Ui, canvas: &Canvas<'_>, id: Id) -> bool {
    let rect = ui.ctx().read_response(id).map(|r| r.rect);
    rect.is_some_and(|r| r.intersects(Rect::everything_right_of(canvas.origin.x)))
        && ui.ctx().read_response(id).is_some_and(|r| r.layer_id == ui.layer_id())
}

/// The shelf under the pointer, if a bake is carried to another.
fn place_under(
    canvas: &Canvas<'_>,
    carried: &Carried,
    at: Pos2,
) -> Option<(OvenId, Option<ShelfId>)> {
    let [(Thing::Bake(group), _)] = carried.things[..] else { return None };
    let lanes = canvas.board.ovens.iter().zip(&canvas.laid.shelves);
    let (oven, shelf) = lanes.into_iter().find_map(|(lane, tops)| {
        let y = at.y - canvas.origin.y;
        let shelf = tops.windows(2).position(|w| (w[0]..w[1]).contains(&y))?;
        Some((lane.oven, ShelfId(shelf)))
    })?;
    let loads = &canvas.shown.plan().plan().loads;
    let home = loads.iter().any(|l| l.group == group && l.oven == oven && l.shelf == shelf);
    (!home).then_some((oven, Some(shelf)))
}

/// Near its upper or lower edge the board scrolls on.
fn scroll(ui: &mut Ui, at: Pos2) {
    let clip = ui.clip_rect();
    let by = if at.y > clip.bottom() - EDGE {
        -8.0
    } else if at.y < clip.top() + EDGE {
        8.0
    } else {
        return;
    };
    ui.scroll_with_delta(vec2(0.0, by));
    ui.ctx().request_repaint();
}

/// The keys by which something with the focus is moved, held and edited.
pub fn by_keys(ui: &Ui, canvas: &Canvas<'_>, thing: Thing, held: (Held, bool), out: &mut Commands) {
    let pressed = |modifiers, key| ui.input_mut(|i| i.consume_key(modifiers, key));
    let marked = &canvas.shown.view.marked;
    let things =
        if marked.contains(&thing) { marked.iter().copied().collect() } else { vec![thing] };
    let more = Modifiers::ALT.plus(Modifiers::SHIFT);
    let ways = [
        (more, Key::ArrowRight, 5, 0),
        (more, Key::ArrowLeft, -5, 0),
        (Modifiers::ALT, Key::ArrowRight, 1, 0),
        (Modifiers::ALT, Key::ArrowLeft, -1, 0),
        (Modifiers::ALT, Key::ArrowDown, 0, 1),
        (Modifiers::ALT, Key::ArrowUp, 0, -1),
    ];
    for (modifiers, key, by, shelves) in ways {
        if pressed(modifiers, key) {
            out.push(LessonCommand::Carry(things.clone(), by, shelves));
        }
    }
    if canvas.shown.moving.carried.as_ref().is_some_and(|c| !c.mouse) {
        if pressed(Modifiers::NONE, Key::Enter) {
            out.push(LessonCommand::SetDown);
        }
        if pressed(Modifiers::NONE, Key::Escape) {
            out.push(LessonCommand::PutBack);
        }
        return;
    }
    if pressed(Modifiers::NONE, Key::L) {
        let (what, is_held) = held;
        let all: Vec<Held> = if marked.contains(&thing) {
            marked.iter().map(|&t| held_as(t)).collect()
        } else {
            vec![what]
        };
        out.push(LessonCommand::Hold(all, !is_held));
    }
    if pressed(Modifiers::NONE, Key::F2) {
        out.push(Command::InPlace(Some(in_place_of(thing))));
    }
    if pressed(Modifiers::COMMAND, Key::Space) {
        out.push(Command::Mark(thing));
    }
}

/// What holds a thing where it is. A bake is held where it stands.
pub fn held_as(thing: Thing) -> Held {
    match thing {
        Thing::Step(g, s) => Held::Step(g, s),
        Thing::Bake(g) => Held::Oven(g),
        Thing::Row(g) => Held::Group(g),
    }
}

/// Where what is carried may be put: a line along the row or shelf, unbroken
/// where nobody else moves, dashed where others do, dotted where another
/// group loses its place; none where a rule forbids it.
pub fn tracks(ui: &Ui, canvas: &Canvas<'_>) {
    let Some(carried) = &canvas.shown.moving.carried else { return };
    let [(thing, _)] = carried.things[..] else { return };
    let painter = parts::across(ui, canvas);
    for row in &carried.tracks {
        let Some((y, height)) = lane_of(canvas, thing, row) else { continue };
        track(&painter, canvas, row, (y, height));
        // A bake is carried along its group's row as well, where it stands.
        if row.place.is_some() && row.place == stands(canvas, group_of(thing)) {
            let own = SpotRow { place: None, fits: Vec::new() };
            if let Some(lane) = lane_of(canvas, thing, &own) {
                track(&painter, canvas, row, lane);
            }
        }
    }
}

/// The shelf that the first of a group's tins stands on.
fn stands(canvas: &Canvas<'_>, group: GroupId) -> Option<(OvenId, ShelfId)> {
    let loads = &canvas.shown.plan().plan().loads;
    loads.iter().find(|l| l.group == group).map(|l| (l.oven, l.shelf))
}

fn lane_of(canvas: &Canvas<'_>, thing: Thing, row: &SpotRow) -> Option<(f32, f32)> {
    let (top, bottom) = match row.place {
        Some((oven, shelf)) => {
            let at = canvas.board.ovens.iter().position(|l| l.oven == oven)?;
            let tops = canvas.laid.shelves.get(at)?;
            (*tops.get(shelf.0)?, *tops.get(shelf.0 + 1)?)
        }
        None => {
            let group = group_of(thing);
            let at = canvas.board.rows.iter().position(|r| r.group == group)?;
            let &(top, height) = canvas.laid.rows.get(at)?;
            (top, top + height)
        }
    };
    Some((canvas.origin.y + top, bottom - top))
}

fn track(painter: &Painter, canvas: &Canvas<'_>, row: &SpotRow, (y, height): (f32, f32)) {
    let palette = canvas.palette;
    let mut from = 0;
    while from < row.fits.len() {
        let (start, fit) = row.fits[from];
        let mut to = from;
        while row.fits.get(to + 1).is_some_and(|(_, f)| *f == fit) {
            to += 1;
        }
        let until = row.fits[to].0 + crate::units::Minutes::new(1);
        let x = canvas.scale.x(start.get() as f32)..=canvas.scale.x(until.get() as f32);
        from = to + 1;
        let rect = Rect::from_x_y_ranges(x, y..=y + height).shrink2(vec2(0.0, 0.5));
        if matches!(fit, Fit::Refused(_)) {
            continue;
        }
        painter.rect_filled(rect, 2.0, palette.chosen.gamma_multiply(0.8));
        let line = [
            pos2(rect.left() + 0.5, rect.bottom() - 1.5),
            pos2(rect.right() - 0.5, rect.bottom() - 1.5),
        ];
        let stroke = Stroke::new(3.0, palette.focus);
        match fit {
            Fit::Stays => {
                painter.line_segment(line, stroke);
            }
            Fit::OthersMove => {
                painter.extend(Shape::dashed_line(&line, stroke, 7.0, 4.0));
            }
            Fit::AtACost => {
                painter.extend(Shape::dashed_line(&line, stroke, 2.0, 5.0));
            }
            Fit::Refused(_) => {}
        }
    }
}

/// What is carried, over everything else, and what its spot would come to.
pub fn carried(ui: &mut Ui, canvas: &Canvas<'_>) {
    let Some(carried) = &canvas.shown.moving.carried else { return };
    let (lesson, plan) = (canvas.shown.lesson(), canvas.shown.plan());
    let minute = |by: i32| canvas.scale.x(by as f32) - canvas.scale.x(0.0);
    let shift = vec2(minute(carried.by), 0.0);
    let painter = parts::across(ui, canvas);
    let edge = if carried.is_refused() { canvas.palette.red } else { canvas.palette.ink };
    let mut last: Option<Rect> = None;
    for &(thing, _) in &carried.things {
        let mut all = bars_of(canvas, thing);
        if let Some(rect) = on_shelf(canvas, carried, thing) {
            all.truncate(1);
            all.iter_mut().for_each(|(_, at)| *at = rect.translate(-shift));
        }
        let on_shelf = carried.place.is_some() && matches!(thing, Thing::Bake(_));
        for (id, rect) in all {
            let rect = rect.translate(shift);
            let Some(bar) = canvas.board.bar(id) else { continue };
            let work = if on_shelf { Work::Bake } else { bar.work };
            paint::bar(&painter, rect, work, canvas.palette);
            outline(&painter, rect.expand(1.0), edge, carried.is_refused());
            last = Some(last.map_or(rect, |l| l.union(rect)));
        }
    }
    let spots = carried.spots();
    let words = match (&carried.told, carried.is_at_home()) {
        (_, true) => "where it was; move it along its row or to another shelf".to_owned(),
        (Some(Landing::Would(_, words)), _) => words.clone(),
        (Some(Landing::Cannot(why)), _) => format!("cannot be put here: {why}"),
        (None, _) => "looking…".to_owned(),
    };
    let title = label(lesson, plan, &spots);
    let at = last.map_or(canvas.across.left_top(), |r| r.left_bottom());
    let keys = (!carried.mouse).then_some("Enter puts it here, Esc leaves it where it was");
    flag(ui, canvas, at, (&title, &words, keys), carried.is_refused());
}

fn on_shelf(canvas: &Canvas<'_>, carried: &Carried, thing: Thing) -> Option<Rect> {
    let (oven, shelf) = carried.place?;
    let fits = Vec::new();
    let row = SpotRow { place: Some((oven, shelf.unwrap_or(ShelfId(0)))), fits };
    let (y, height) = lane_of(canvas, thing, &row)?;
    let home = home(canvas, thing)?;
    let by = canvas.scale.x(carried.by as f32) - canvas.scale.x(0.0);
    let x = home.left() + by..=home.right() + by;
    Some(Rect::from_x_y_ranges(x, y + 1.0..=y + height - 1.0))
}

fn outline(painter: &Painter, rect: Rect, edge: Color32, broken: bool) {
    if broken {
        let c = [rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom()];
        let round = [c[0], c[1], c[2], c[3], c[0]];
        painter.extend(Shape::dashed_line(&round, Stroke::new(2.0, edge), 4.0, 3.0));
    } else {
        painter.rect_stroke(rect, 4.0, Stroke::new(2.0, edge), StrokeKind::Outside);
    }
}

/// Words beside what is carried, also for a screen reader, which is told of
/// each change.
fn flag(
    ui: &mut Ui,
    canvas: &Canvas<'_>,
    at: Pos2,
    (title, words, keys): (&str, &str, Option<&str>),
    refused: bool,
) {
    let palette = canvas.palette;
    let screen = ui.ctx().content_rect();
    let layer = egui::LayerId::new(egui::Order::Tooltip, Id::unique("carried"));
    let painter = ui.ctx().layer_painter(layer);
    let width = 330.0_f32.min(screen.width() - 24.0);
    let mut job = egui::text::LayoutJob::default();
    job.wrap.max_width = width - 18.0;
    let part = |font, color| egui::TextFormat { font_id: font, color, ..Default::default() };
    job.append(&say(title), 0.0, part(fonts::bold(14.0), palette.ink));
    let ink = if refused { palette.red } else { palette.ink };
    job.append(&say(format!("\n{words}")), 0.0, part(fonts::plain(14.0), ink));
    if let Some(keys) = keys {
        job.append(&say(format!("\n{keys}")), 0.0, part(fonts::plain(13.0), palette.soft));
    }
    let galley = painter.layout_job(job);
    let size = galley.size() + vec2(18.0, 12.0);
    let mut min = at + vec2(0.0, 10.0);
    min.x = min.x.min(screen.right() - size.x - 8.0).max(screen.left() + 8.0);
    if min.y + size.y > screen.bottom() - 8.0 {
        min.y = (at.y - size.y - 34.0).max(screen.top() + 8.0);
    }
    let rect = Rect::from_min_size(min, size);
    painter.rect_filled(rect, 6.0, palette.card);
    painter.rect_stroke(rect, 6.0, Stroke::new(1.5, ink), StrokeKind::Inside);
    painter.galley(rect.min + vec2(9.0, 6.0), galley, palette.ink);
    let id = Id::unique("carried words");
    let response = ui.interact(rect.intersect(ui.clip_rect()), id, Sense::hover());
    let keys = keys.map(|keys| format!(". {keys}")).unwrap_or_default();
    let spoken = format!("{title}: {words}{keys}");
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(&spoken)));
    ui.ctx().accesskit_node_builder(id, |node| {
        node.set_live(egui::accesskit::Live::Polite);
    });
}

/// Names of shelves for the card, each with its words.
pub fn shelves_by_name(lesson: &Lesson) -> Vec<((OvenId, ShelfId), String)> {
    let all = crate::session::places(lesson).into_iter();
    all.map(|(oven, shelf)| ((oven, shelf), place_words(lesson, oven, Some(shelf)))).collect()
}

/// What a screen reader or a switch can do with a bar or a group's name beside
/// pressing it: its number and what it is called.
const ACTIONS: [(i32, &str); 8] = [
    (1, "a minute later"),
    (2, "a minute earlier"),
    (3, "five minutes later"),
    (4, "five minutes earlier"),
    (5, "to the next shelf"),
    (6, "to the shelf before"),
    (7, "hold it here, or let go of it"),
    (8, "edit it here"),
];

/// Offers the same moves as actions of the accessibility tree, and does those
/// that were asked for.
pub fn by_access(ui: &Ui, id: Id, thing: Thing, held: (Held, bool), out: &mut Commands) {
    let bakes = matches!(thing, Thing::Bake(_));
    ui.ctx().accesskit_node_builder(id, |node| {
        node.add_action(Action::Increment);
        node.add_action(Action::Decrement);
        node.add_action(Action::CustomAction);
        let offered = ACTIONS.iter().filter(|(n, _)| bakes || ![5, 6].contains(n));
        node.set_custom_actions(
            offered
                .map(|&(id, words)| CustomAction { id, description: say(words).into() })
                .collect::<Vec<_>>(),
        );
    });
    let asked: Vec<i32> = ui.input(|i| {
        let later = i.accesskit_action_requests(id, Action::Increment).map(|_| Some(1));
        let earlier = i.accesskit_action_requests(id, Action::Decrement).map(|_| Some(2));
        let named = i.accesskit_action_requests(id, Action::CustomAction).map(|r| match r.data {
            Some(ActionData::CustomAction(n)) => Some(n),
            _ => None,
        });
        later.chain(earlier).chain(named).flatten().collect()
    });
    for number in asked {
        out.push(match number {
            1..=4 => {
                let by = [1, -1, 5, -5].get(number as usize - 1).copied().unwrap_or(0);
                LessonCommand::PutBy(thing, by, 0).into()
            }
            5 => LessonCommand::PutBy(thing, 0, 1).into(),
            6 => LessonCommand::PutBy(thing, 0, -1).into(),
            7 => LessonCommand::Hold(vec![held.0], !held.1).into(),
            _ => Command::InPlace(Some(in_place_of(thing))),
        });
    }
}

/// What is edited of a thing in its place.
pub fn in_place_of(thing: Thing) -> InPlace {
    match thing {
        Thing::Row(group) => InPlace::Group(group),
        thing => InPlace::Start(thing),
    }
}

/// What holds a bar, and whether it is held.
pub fn hold_of(bar: &Bar, thing: Thing) -> (Held, bool) {
    match (bar.id, thing) {
        (BarId::Step(g, s), Thing::Bake(_)) => (Held::Step(g, s), bar.held),
        (_, thing) => (held_as(thing), bar.held),
    }
}
