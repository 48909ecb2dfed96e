//! The steps of a method as bars along a minute line that counts from the
//! recipe's start, on a worktop, in the oven and by themselves: a step carried
//! onto another waits for it.

use std::fmt::Write;
use std::sync::Arc;

use eframe::egui::{
    Align2, Color32, EventFilter, Galley, Id, Key, LayerId, Modifiers, Order, Painter, Pos2, Rect,
    Response, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::chosen::{Chosen, choose, hand_on, tell};
use crate::app::looks::follow::sideways;
use crate::app::looks::fonts;
use crate::app::looks::form::{Form, remark};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{paint, paint_scene};
use crate::file::format::{MethodShape, PaceBand, StepKindShape, StepShape};
use crate::finding::{Path, shortened};
use crate::setup::field;
use crate::setup::steps::{At, arrows, draw};
use crate::units::plain_number;
use crate::view::board::Work;
use crate::view::scene::rehearsal::cabinet;
use crate::view::step_graph::{
    Band, LEGS, Sizes, Step, StepGraph, Wait, lay_out, spoken, tins_way,
};

const SIZES: Sizes =
    Sizes { head: 24.0, height: 28.0, minute: 4.5, air: 2.0, between: 4.0, apart: 16.0 };
/// Air round the picture.
const AIR: f32 = 8.0;
/// Room for the names of bands, on the left.
const NAMES: f32 = 70.0;
/// Minutes drawn where nobody knows them.
const STAND_IN: f64 = 10.0;

/// What is drawn of a method.
struct Picture {
    graph: StepGraph,
    waits: Vec<Wait>,
    names: Vec<String>,
    said: Vec<String>,
    works: Vec<Work>,
    galleys: Vec<Arc<Galley>>,
}

/// Shows it.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, at: At, method: &MethodShape, chosen: Option<usize>) {
    let picture = picture(ui, form, at, method);
    let state = Chosen::of(ui, form, at.recipe);
    let current = state.boxed.min(method.steps.len().saturating_sub(1));
    let (wide, high) = (picture.graph.width, picture.graph.height);
    let size = vec2(NAMES + wide + 2.0 * AIR, high + 2.0 * AIR);
    sideways(ui, &format!("steps {} {}", at.recipe, at.method), |ui| {
        let (area, _) = ui.allocate_exact_size(size, Sense::hover());
        let origin = area.min + vec2(AIR + NAMES, AIR);
        let bars: Vec<Rect> = picture
            .graph
            .bars
            .iter()
            .map(|b| Rect::from_min_size(origin + vec2(b.x, b.y), vec2(b.width, b.height)))
            .collect();
        let palette = Palette::of(ui.ctx());
        minute_line(ui.painter(), &picture.graph, origin, palette);
        room(ui.painter(), &picture.graph, origin, palette);
        let mut responses = Vec::new();
        for (i, &rect) in bars.iter().enumerate() {
            let id = box_id(form, at, &picture.names[i]);
            // The picture is one stop for the Tab key; arrows go from bar to bar.
            let sense =
                if i == current { Sense::click_and_drag() } else { Sense::CLICK | Sense::DRAG };
            let response = ui.interact(rect, id, sense);
            if i == current && state.box_now {
                response.request_focus();
                hand_on(ui, form, at, (i, false));
            }
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, say(&picture.said[i])));
            bar(ui.painter(), &picture, (i, rect), palette);
            responses.push((id, response));
        }
        // What marks steps lies over all of their bars.
        for (i, (id, response)) in responses.into_iter().enumerate() {
            if ring(ui.painter(), &response, bars[i], chosen == Some(i), palette) {
                links(ui.painter(), &picture.waits, i, &bars, palette);
            }
            if response.clicked() {
                choose(ui, form, at, if chosen == Some(i) { None } else { Some(i) });
                hand_on(ui, form, at, (i, false));
            }
            if response.has_focus() {
                arrow_keys(ui, form, at, (i, id), bars.len());
            }
            drag(ui, form, at, (i, &response), &bars, &picture);
            response.on_hover_text(say(&picture.said[i]));
        }
    });
    remark(
        ui,
        "Minutes count from the recipe's start, each step as early as it can be; short ones are \
         drawn wider, for their names. What hands do meanwhile stands above the bake. Carry a \
         step onto the one it waits for; point at one to see what it waits for. The menus below \
         do the same.",
    );
    if let Some(words) = drawn_as(form, at, method) {
        remark(ui, &words);
    }
}

fn picture(ui: &Ui, form: &Form<'_>, at: At, method: &MethodShape) -> Picture {
    let palette = Palette::of(ui.ctx());
    let band = form.file.class.band;
    let font = fonts::plain(14.0);
    let waits: Vec<Wait> = arrows(method)
        .into_iter()
        .map(|a| Wait { from: a.from, to: a.to, least: a.least, longest: a.longest })
        .collect();
    let galleys: Vec<_> = method
        .steps
        .iter()
        .enumerate()
        .map(|(i, step)| words(step, drawn_minutes(form, at, step), longest_wait(i, &waits)))
        .map(|words| {
            ui.painter().layout_no_wrap(say(words).into_owned(), font.clone(), palette.ink)
        })
        .collect();
    let each = method.steps.iter().zip(&galleys);
    let steps: Vec<Step> = each
        .map(|(step, galley)| Step {
            minutes: drawn_minutes(form, at, step).unwrap_or(STAND_IN),
            width: galley.size().x + 12.0,
            band: band_of(step.kind),
        })
        .collect();
    let bake = method.steps.iter().position(|s| s.kind == StepKindShape::Bake);
    let way = tins_way(steps.len(), bake, &waits);
    let names: Vec<String> = method.steps.iter().map(|s| s.name.clone()).collect();
    let said = |(i, step)| spoken(i, &names, &spoken_minutes(step, band), &waits);
    Picture {
        graph: lay_out(&steps, bake, &waits, SIZES),
        said: method.steps.iter().enumerate().map(said).collect(),
        works: method.steps.iter().zip(&way).map(|(step, way)| work(step.kind, *way)).collect(),
        names,
        waits,
        galleys,
    }
}

/// Minutes of the minute line, with hairlines down through the lanes.
fn minute_line(painter: &Painter, graph: &StepGraph, origin: Pos2, palette: &Palette) {
    let middle = origin.y + 0.5 * (SIZES.head - 6.0);
    let mut free = f32::NEG_INFINITY;
    for &(minute, x) in &graph.ticks {
        let x = origin.x + x;
        let line = origin.y + SIZES.head - 4.0..=origin.y + graph.height;
        painter.vline(x, line, Stroke::new(1.0, palette.line));
        let text = match minute {
            0.0 => "0 min".to_owned(),
            minute => plain_number(minute),
        };
        let galley =
            painter.layout_no_wrap(say(text).into_owned(), fonts::plain(13.0), palette.soft);
        let left = (x - 0.5 * galley.size().x).max(origin.x - AIR);
        if left > free {
            free = left + galley.size().x + 6.0;
            painter.galley(pos2(left, middle - 0.5 * galley.size().y), galley, palette.soft);
        }
    }
}

/// What bars stand on and in, and what its bands are called.
fn room(painter: &Painter, graph: &StepGraph, origin: Pos2, palette: &Palette) {
    for &(band, top, bottom) in &graph.bands {
        let middle = origin + vec2(-NAMES, 0.5 * (top + bottom));
        let font = fonts::plain(13.0);
        painter.text(middle, Align2::LEFT_CENTER, say(band.words()), font, palette.soft);
        if band == Band::Hands {
            let worktop = origin.x..=origin.x + graph.width;
            // Below the bars, whose feet stay in sight.
            painter.hline(worktop, origin.y + bottom + 1.0, Stroke::new(2.0, palette.ink));
        }
    }
    for bar in graph.bars.iter().filter(|b| b.band == Band::Oven) {
        let area = bar.cabinet();
        let picture = cabinet(&[false], false, (area.w, area.h));
        paint_scene::scene(painter, origin + vec2(area.x, area.y), &picture, palette);
    }
}

/// The rack under what cools.
fn rack(painter: &Painter, bar: Rect, palette: &Palette) {
    let stroke = Stroke::new(1.2, palette.ink);
    let y = bar.bottom() + 0.6;
    painter.hline(bar.x_range(), y, stroke);
    let mut x = bar.left() + 6.0;
    while x < bar.right() {
        painter.vline(x, y..=bar.bottom() + LEGS, stroke);
        x += 12.0;
    }
}

fn bar(painter: &Painter, picture: &Picture, (i, rect): (usize, Rect), palette: &Palette) {
    let (work, galley) = (picture.works[i], &picture.galleys[i]);
    paint::bar(painter, rect, work, palette);
    if work == Work::Cool {
        rack(painter, rect, palette);
    }
    let corner = rect.center() - 0.5 * galley.size();
    if matches!(work, Work::Cool | Work::Clear) {
        // Dots and hatching are kept off the words.
        let patch = Rect::from_min_size(corner, galley.size()).expand2(vec2(2.0, 0.0));
        let fill = palette.work(work).0;
        painter.rect_filled(patch.intersect(rect.shrink(1.5)), 2.0, fill);
    }
    painter.galley(corner, galley.clone(), palette.ink);
}

/// The edge of what has the keyboard, is chosen or pointed at; whether it is any
/// of these.
fn ring(
    painter: &Painter,
    response: &Response,
    rect: Rect,
    chosen: bool,
    palette: &Palette,
) -> bool {
    let stroke = if response.has_focus() {
        Stroke::new(2.0, palette.focus)
    } else if chosen {
        Stroke::new(2.0, palette.ink)
    } else if response.hovered() {
        Stroke::new(1.5, palette.ink)
    } else {
        return false;
    };
    painter.rect_stroke(rect.expand(1.5), 5.0, stroke, StrokeKind::Outside);
    true
}

/// What a step waits for, by a thick end, and what waits for it, by a thick
/// beginning.
fn links(painter: &Painter, waits: &[Wait], step: usize, bars: &[Rect], palette: &Palette) {
    for wait in waits {
        if wait.to == step {
            thick_end(painter, bars[wait.from], palette.ink);
        } else if wait.from == step {
            let bar = bars[wait.to];
            thick(painter, bar, bar.left() + 0.5 * THICK, palette.ink);
        }
    }
}

/// Width of a thick end. It lies within its bar, since the next may begin close by.
const THICK: f32 = 3.0;

fn thick_end(painter: &Painter, bar: Rect, colour: Color32) {
    thick(painter, bar, bar.right() - 0.5 * THICK, colour);
}

fn thick(painter: &Painter, bar: Rect, x: f32, colour: Color32) {
    painter.vline(x, bar.y_range().expand(3.0), Stroke::new(THICK, colour));
}

fn box_id(form: &Form<'_>, at: At, step: &str) -> Id {
    Id::unique(("step box", form.doc.id(), at.recipe, at.method, step))
}

/// Arrow keys hand the keyboard to the next bar or the one before.
fn arrow_keys(ui: &Ui, form: &Form<'_>, at: At, (now, id): (usize, Id), steps: usize) {
    let filter =
        EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|m| m.set_focus_lock_filter(id, filter));
    let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    let next = if pressed(Key::ArrowRight) || pressed(Key::ArrowDown) {
        now + 1
    } else if pressed(Key::ArrowLeft) || pressed(Key::ArrowUp) {
        now.wrapping_sub(1)
    } else {
        return;
    };
    if next < steps {
        hand_on(ui, form, at, (next, true));
    }
}

/// "bake 26, within 15".
fn words(step: &StepShape, minutes: Option<f64>, longest: Option<f64>) -> String {
    let mut text = shortened(&step.name, 28);
    if let Some(minutes) = minutes {
        let _ = write!(text, " {}", plain_number((10.0 * minutes).round() / 10.0));
    }
    match longest {
        Some(longest) if longest <= 0.0 => text.push_str(", at once"),
        Some(longest) => {
            let _ = write!(text, ", within {}", plain_number(longest));
        }
        None => {}
    }
    text
}

/// The least of what a step may wait at the longest.
fn longest_wait(step: usize, waits: &[Wait]) -> Option<f64> {
    waits.iter().filter(|w| w.to == step).filter_map(|w| w.longest).min_by(f64::total_cmp)
}

fn spoken_minutes(step: &StepShape, band: PaceBand) -> String {
    match step.minutes.map(|m| field::usual(&m, band)) {
        Some(1.0) => "1 minute".to_owned(),
        Some(usual) => format!("{} minutes", plain_number(usual)),
        None if step.kind == StepKindShape::Bake => "minutes of its tin".to_owned(),
        None => "no minutes yet".to_owned(),
    }
}

/// How long a step is drawn: its own minutes, or those in the first tin.
fn drawn_minutes(form: &Form<'_>, at: At, step: &StepShape) -> Option<f64> {
    let band = form.file.class.band;
    if let Some(minutes) = step.minutes {
        return Some(field::usual(&minutes, band));
    }
    let stated = form.file.recipes.get(at.recipe).and_then(|r| r.tins.first());
    let known = form.doc.lesson().and_then(|l| l.recipes.get(at.recipe)?.tins.first());
    match step.kind {
        StepKindShape::Bake => {
            let stated = stated.and_then(|t| t.minutes).map(|m| field::usual(&m, band));
            stated.or_else(|| known?.minutes.map(|m| m.usual().get()))
        }
        StepKindShape::Cool => {
            let of = known?.step_minutes.iter().find(|(name, _)| *name == step.name)?;
            Some(of.1.usual().get())
        }
        _ => None,
    }
}

/// What has to be said of lengths that are not the step's own.
fn drawn_as(form: &Form<'_>, at: At, method: &MethodShape) -> Option<String> {
    let mut open = method.steps.iter().filter(|s| s.minutes.is_none()).peekable();
    open.peek()?;
    let (known, unknown): (Vec<&StepShape>, Vec<&StepShape>) =
        open.partition(|s| drawn_minutes(form, at, s).is_some());
    let names = |of: &[&StepShape]| {
        let names: Vec<String> = of.iter().map(|s| shortened(&s.name, 40)).collect();
        crate::view::words::list(&names)
    };
    let tin = form.file.recipes.get(at.recipe).and_then(|r| r.tins.first());
    let tin = tin.map(|t| t.label.as_deref().unwrap_or(&t.tin)).unwrap_or_default();
    let mut words = Vec::new();
    if !known.is_empty() {
        words.push(format!("drawn as in {}: {}", shortened(tin, 40), names(&known)));
    }
    if !unknown.is_empty() {
        let minutes = plain_number(STAND_IN);
        words.push(format!("drawn as {minutes} min, not known yet: {}", names(&unknown)));
    }
    Some(crate::view::tin_words::sentence(&words.join("; ")))
}

fn band_of(kind: StepKindShape) -> Band {
    match kind {
        StepKindShape::Hand => Band::Hands,
        StepKindShape::Bake => Band::Oven,
        StepKindShape::Wait | StepKindShape::Cool => Band::ByItself,
    }
}

fn work(kind: StepKindShape, on_way: bool) -> Work {
    match kind {
        StepKindShape::Hand if on_way => Work::Bench,
        StepKindShape::Hand => Work::Clear,
        StepKindShape::Wait => Work::Wait,
        StepKindShape::Bake => Work::Bake,
        StepKindShape::Cool => Work::Cool,
    }
}

/// Carries a step, and lets it go over the one it waits for.
fn drag(
    ui: &Ui,
    form: &mut Form<'_>,
    at: At,
    (dragged, response): (usize, &Response),
    bars: &[Rect],
    picture: &Picture,
) {
    if !response.dragged() && !response.drag_stopped() {
        return;
    }
    let Some(pointer) = response.interact_pointer_pos() else { return };
    let over = bars.iter().position(|b| b.contains(pointer)).filter(|&over| over != dragged);
    let palette = Palette::of(ui.ctx());
    if let Some(over) = over.filter(|_| response.drag_stopped()) {
        let name = |step: usize| shortened(&picture.names[step], 40);
        let path = step_path(at, dragged).field("after");
        let what = format!("{} waits for {}", name(dragged), name(over));
        let made = form.attempt(path, what, |file| draw(file, at, over, dragged));
        tell(ui, form, at, made.map(|()| Vec::new()));
        return;
    }
    // Beside the pointer, that the bar under it is seen, and over all that is drawn yet.
    let layer = LayerId::new(Order::Tooltip, Id::unique("carried step"));
    let painter = ui.ctx().layer_painter(layer);
    let ghost = Rect::from_min_size(pointer + vec2(10.0, 8.0), bars[dragged].size());
    paint::ghost(&painter, ghost, picture.works[dragged], palette);
    let words = &picture.galleys[dragged];
    painter.galley(ghost.center() - 0.5 * words.size(), words.clone(), palette.ink);
    let Some(over) = over else { return };
    let refused = draw(&mut form.file.clone(), at, over, dragged).err();
    let colour = if refused.is_some() { palette.red } else { palette.ink };
    thick_end(ui.painter(), bars[over], colour);
    if let Some(why) = refused {
        let text = painter.layout(say(why).into_owned(), fonts::plain(13.5), palette.ink, 260.0);
        let corner = ghost.left_bottom() + vec2(5.0, 10.0);
        let patch = Rect::from_min_size(corner, text.size()).expand(5.0);
        painter.rect_filled(patch, 4.0, palette.card);
        painter.rect_stroke(patch, 4.0, Stroke::new(1.0, palette.red), StrokeKind::Inside);
        painter.galley(corner, text, palette.ink);
    }
}

/// Where a step stands in the file.
pub fn step_path(at: At, step: usize) -> Path {
    let recipe = Path::root().field("recipes").index(at.recipe);
    recipe.field("methods").index(at.method).field("steps").index(step)
}
