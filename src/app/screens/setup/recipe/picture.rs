//! The steps of a method as bars along a minute line that counts from the
//! recipe's start: dragging from a step's end to another lets that one wait for
//! it.

use std::sync::Arc;

use eframe::egui::{
    Align2, EventFilter, Galley, Id, Key, Modifiers, Painter, Pos2, Rect, Response, Role, Sense,
    Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::chosen::{Chosen, choose, hand_on, tell};
use crate::app::looks::fonts;
use crate::app::looks::form::{Form, remark, sideways};
use crate::app::looks::paint;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::file::format::{MethodShape, PaceBand, StepKindShape, StepShape};
use crate::finding::{Path, shortened};
use crate::setup::field;
use crate::setup::steps::{At, arrows, draw};
use crate::units::plain_number;
use crate::view::board::Work;
use crate::view::step_graph::{Sizes, Step, StepGraph, Wait, lay_out, spoken, tins_way};
use crate::view::step_threads::Thread;

const SIZES: Sizes = Sizes {
    head: 24.0,
    height: 28.0,
    minute: 4.5,
    air: 11.0,
    told: 40.0,
    between: 11.0,
    track: 4.0,
};
/// Air round the picture.
const AIR: f32 = 8.0;
/// Minutes drawn where nobody knows them.
const STAND_IN: f64 = 10.0;

/// What is drawn of a method.
struct Picture {
    graph: StepGraph,
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
    let size = vec2(picture.graph.width + 2.0 * AIR, picture.graph.height + 2.0 * AIR);
    sideways(ui, &format!("steps {} {}", at.recipe, at.method), |ui| {
        let (area, _) = ui.allocate_exact_size(size, Sense::hover());
        let origin = area.min + vec2(AIR, AIR);
        let bars: Vec<Rect> = picture
            .graph
            .bars
            .iter()
            .map(|b| Rect::from_min_size(origin + vec2(b.x, b.y), vec2(b.width, b.height)))
            .collect();
        let palette = Palette::of(ui.ctx());
        minute_line(ui.painter(), &picture.graph, origin, palette);
        for thread in &picture.graph.threads {
            paint_thread(ui.painter(), thread, origin, palette);
        }
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
            ring(ui.painter(), &response, rect, chosen == Some(i), palette);
            if response.clicked() {
                choose(ui, form, at, if chosen == Some(i) { None } else { Some(i) });
                hand_on(ui, form, at, (i, false));
            }
            if response.has_focus() {
                arrow_keys(ui, form, at, (i, id), bars.len());
            }
            drag(ui, form, at, (i, &response), &bars, &picture.names);
            response.on_hover_text(say(&picture.said[i]));
        }
    });
    remark(
        ui,
        "Minutes count from the recipe's start, each step as early as it can be; short ones are \
         drawn wider, for their names. Drag from the end of a step to another that waits for it; \
         dashed threads have a longest wait. The menus below do the same.",
    );
    if let Some(words) = drawn_as(form, at, method) {
        remark(ui, &words);
    }
}

fn picture(ui: &Ui, form: &Form<'_>, at: At, method: &MethodShape) -> Picture {
    let palette = Palette::of(ui.ctx());
    let band = form.file.class.band;
    let font = fonts::plain(14.0);
    let galleys: Vec<_> = method
        .steps
        .iter()
        .map(|step| words(step, drawn_minutes(form, at, step)))
        .map(|words| {
            ui.painter().layout_no_wrap(say(words).into_owned(), font.clone(), palette.ink)
        })
        .collect();
    let each = method.steps.iter().zip(&galleys);
    let steps: Vec<Step> = each
        .map(|(step, galley)| Step {
            minutes: drawn_minutes(form, at, step).unwrap_or(STAND_IN),
            width: galley.size().x + 12.0,
        })
        .collect();
    let waits: Vec<Wait> = arrows(method)
        .into_iter()
        .map(|a| Wait { from: a.from, to: a.to, least: a.least, longest: a.longest })
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

/// A thread, dashed where what waits may not wait for ever.
fn paint_thread(painter: &Painter, thread: &Thread, origin: Pos2, palette: &Palette) {
    for piece in &thread.pieces {
        let points: Vec<Pos2> = piece.iter().map(|&(x, y)| origin + vec2(x, y)).collect();
        match thread.longest {
            Some(_) => {
                let stroke = Stroke::new(1.6, palette.ink);
                painter.extend(Shape::dashed_line(&points, stroke, 4.0, 3.0));
            }
            None => {
                painter.add(Shape::line(points, Stroke::new(1.2, palette.edge)));
            }
        }
    }
    let Some(&(x, y)) = thread.pieces.last().and_then(|piece| piece.last()) else { return };
    let end = origin + vec2(x, y);
    painter.circle_filled(end - vec2(1.0, 0.0), 2.5, palette.ink);
    if let Some(longest) = thread.longest {
        let text = format!("≤{}", plain_number(longest));
        let at = end - vec2(4.0, 2.0);
        painter.text(at, Align2::RIGHT_BOTTOM, say(text), fonts::plain(13.0), palette.ink);
    }
}

fn bar(painter: &Painter, picture: &Picture, (i, rect): (usize, Rect), palette: &Palette) {
    let (work, galley) = (picture.works[i], &picture.galleys[i]);
    paint::bar(painter, rect, work, palette);
    let corner = rect.center() - 0.5 * galley.size();
    if matches!(work, Work::Cool | Work::Clear) {
        // Dots and hatching are kept off the words.
        let patch = Rect::from_min_size(corner, galley.size()).expand2(vec2(2.0, 0.0));
        let fill = paint::colours(work, palette).0;
        painter.rect_filled(patch.intersect(rect.shrink(1.5)), 2.0, fill);
    }
    painter.galley(corner, galley.clone(), palette.ink);
}

/// The edge of what has the keyboard, is chosen or pointed at; and at its end
/// the knot from which a thread is drawn.
fn ring(painter: &Painter, response: &Response, rect: Rect, chosen: bool, palette: &Palette) {
    let stroke = if response.has_focus() {
        Stroke::new(2.0, palette.focus)
    } else if chosen {
        Stroke::new(2.0, palette.ink)
    } else if response.hovered() {
        Stroke::new(1.5, palette.ink)
    } else {
        return;
    };
    painter.rect_stroke(rect.expand(1.5), 5.0, stroke, StrokeKind::Outside);
    let knot = Stroke::new(1.5, stroke.color);
    painter.circle(rect.right_center() + vec2(1.5, 0.0), 4.0, palette.card, knot);
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

fn words(step: &StepShape, minutes: Option<f64>) -> String {
    let name = shortened(&step.name, 28);
    match minutes {
        Some(minutes) => format!("{name} {}", plain_number((10.0 * minutes).round() / 10.0)),
        None => name,
    }
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

fn work(kind: StepKindShape, on_way: bool) -> Work {
    match kind {
        StepKindShape::Hand if on_way => Work::Bench,
        StepKindShape::Hand => Work::Clear,
        StepKindShape::Wait => Work::Wait,
        StepKindShape::Bake => Work::Bake,
        StepKindShape::Cool => Work::Cool,
    }
}

/// Drags a thread from a step's end, and lets it go over another.
fn drag(
    ui: &Ui,
    form: &mut Form<'_>,
    at: At,
    (from, response): (usize, &Response),
    bars: &[Rect],
    names: &[String],
) {
    if !response.dragged() && !response.drag_stopped() {
        return;
    }
    let Some(pointer) = response.interact_pointer_pos() else { return };
    let over = bars.iter().position(|b| b.contains(pointer)).filter(|&to| to != from);
    let palette = Palette::of(ui.ctx());
    if let Some(to) = over.filter(|_| response.drag_stopped()) {
        let path = step_path(at, to).field("after");
        let what =
            format!("{} waits for {}", shortened(&names[to], 40), shortened(&names[from], 40));
        let made = form.attempt(path, what, |file| draw(file, at, from, to));
        tell(ui, form, at, made.map(|()| Vec::new()));
        return;
    }
    let painter = ui.painter();
    painter.line_segment([bars[from].right_center(), pointer], Stroke::new(2.0, palette.focus));
    if let Some(to) = over {
        let refused = draw(&mut form.file.clone(), at, from, to).err();
        let colour = if refused.is_some() { palette.red } else { palette.focus };
        let stroke = Stroke::new(2.0, colour);
        painter.rect_stroke(bars[to].expand(2.0), 5.0, stroke, StrokeKind::Outside);
        if let Some(why) = refused {
            let text = painter.layout(why, fonts::plain(13.5), palette.ink, 260.0);
            let corner = pointer + vec2(14.0, 12.0);
            let patch = Rect::from_min_size(corner, text.size()).expand(5.0);
            painter.rect_filled(patch, 4.0, palette.card);
            painter.rect_stroke(patch, 4.0, Stroke::new(1.0, palette.red), StrokeKind::Inside);
            painter.galley(corner, text, palette.ink);
        }
    }
}

/// Where a step stands in the file.
pub fn step_path(at: At, step: usize) -> Path {
    let recipe = Path::root().field("recipes").index(at.recipe);
    recipe.field("methods").index(at.method).field("steps").index(step)
}
