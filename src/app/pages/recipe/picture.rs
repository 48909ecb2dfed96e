//! The steps of a method as a small picture: dragging from one to another sets
//! the second after the first.

use eframe::egui::{
    EventFilter, Id, Key, Modifiers, Pos2, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui,
    WidgetInfo, pos2, vec2,
};

use super::chosen::{Chosen, choose, hand_on, tell};
use crate::app::form::{Form, remark, sideways};
use crate::app::say::say;
use crate::app::theme::Palette;
use crate::app::{fonts, paint};
use crate::file::format::{Band, MethodShape, StepKindShape, StepShape};
use crate::finding::{Path, shortened};
use crate::setup::field;
use crate::setup::steps::{At, arrows, draw};
use crate::view::board::Work;
use crate::view::step_graph::{Arrow, Sizes, lay_out, spoken};

const SIZES: Sizes = Sizes { height: 30.0, across: 30.0, between: 10.0 };
/// Air round the picture.
const AIR: f32 = 8.0;

/// Shows it.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, at: At, method: &MethodShape, chosen: Option<usize>) {
    let palette = Palette::of(ui.ctx());
    let band = form.file.class.band;
    let font = fonts::plain(14.0);
    let galleys: Vec<_> = method
        .steps
        .iter()
        .map(|step| {
            ui.painter().layout_no_wrap(
                say(words(step, band)).into_owned(),
                font.clone(),
                palette.ink,
            )
        })
        .collect();
    let widths: Vec<f32> = galleys.iter().map(|g| g.size().x + 16.0).collect();
    let all: Vec<Arrow> = arrows(method)
        .into_iter()
        .map(|a| Arrow { from: a.from, to: a.to, longest: a.longest })
        .collect();
    let state = Chosen::of(ui, form, at.recipe);
    let current = state.boxed.min(method.steps.len().saturating_sub(1));
    let graph = lay_out(&widths, &all, SIZES);
    let names: Vec<String> = method.steps.iter().map(|s| s.name.clone()).collect();
    let size = vec2(graph.width + 2.0 * AIR, graph.height + 2.0 * AIR);
    sideways(ui, &format!("steps {} {}", at.recipe, at.method), |ui| {
        let (area, _) = ui.allocate_exact_size(size, Sense::hover());
        let origin = area.min + vec2(AIR, AIR);
        let on_screen = |p: (f32, f32)| pos2(origin.x + p.0, origin.y + p.1);
        for arrow in &graph.arrows {
            let points: Vec<Pos2> = arrow.points.iter().map(|&p| on_screen(p)).collect();
            line(ui, &points, arrow.longest, palette);
        }
        let boxes: Vec<Rect> = graph
            .boxes
            .iter()
            .map(|b| Rect::from_min_size(on_screen((b.x, b.y)), vec2(b.width, b.height)))
            .collect();
        for (i, (step, rect)) in method.steps.iter().zip(&boxes).enumerate() {
            let id = box_id(form, at, &step.name);
            // The picture is one stop for the Tab key; arrows go from box to box.
            let sense =
                if i == current { Sense::click_and_drag() } else { Sense::CLICK | Sense::DRAG };
            let response = ui.interact(*rect, id, sense);
            if i == current && state.box_now {
                response.request_focus();
                hand_on(ui, form, at, (i, false));
            }
            let said = spoken(i, &names, &spoken_minutes(step, band), &all);
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, say(&said)));
            paint::bar(ui.painter(), *rect, work(step.kind), palette);
            let fill = paint::colours(work(step.kind), palette).0;
            let corner = rect.center() - 0.5 * galleys[i].size();
            let patch = Rect::from_min_size(corner, galleys[i].size()).expand2(vec2(3.0, -1.0));
            ui.painter().rect_filled(patch, 2.0, fill);
            ui.painter().galley(corner, galleys[i].clone(), palette.ink);
            let ring = if response.has_focus() {
                Some(Stroke::new(2.0, palette.focus))
            } else if chosen == Some(i) {
                Some(Stroke::new(2.0, palette.ink))
            } else {
                response.hovered().then(|| Stroke::new(1.5, palette.ink))
            };
            if let Some(stroke) = ring {
                ui.painter().rect_stroke(rect.expand(1.5), 5.0, stroke, StrokeKind::Outside);
            }
            if response.clicked() {
                choose(ui, form, at, if chosen == Some(i) { None } else { Some(i) });
                hand_on(ui, form, at, (i, false));
            }
            if response.has_focus() {
                arrow_keys(ui, form, at, (i, id), names.len());
            }
            drag(ui, form, at, (i, &response), &boxes, &names);
            response.on_hover_text(say(said));
        }
    });
    remark(
        ui,
        "Drag from a step to another to set it after the first; dashed lines have a longest \
                wait. The menus below do the same.",
    );
}

fn box_id(form: &Form<'_>, at: At, step: &str) -> Id {
    Id::unique(("step box", form.era, at.recipe, at.method, step))
}

/// Arrow keys hand the keyboard to the next box or the one before.
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

fn words(step: &StepShape, band: Band) -> String {
    let usual = step.minutes.map(|m| field::usual_text(&m, band)).unwrap_or_default();
    let name = shortened(&step.name, 28);
    if usual.is_empty() { name } else { format!("{name} {usual}") }
}

fn spoken_minutes(step: &StepShape, band: Band) -> String {
    match step.minutes.map(|m| field::usual_text(&m, band)) {
        Some(one) if one == "1" => "1 minute".to_owned(),
        Some(usual) => format!("{usual} minutes"),
        None if step.kind == StepKindShape::Bake => "minutes of its tin".to_owned(),
        None => "no minutes yet".to_owned(),
    }
}

fn work(kind: StepKindShape) -> Work {
    match kind {
        StepKindShape::Hand => Work::Bench,
        StepKindShape::Wait => Work::Wait,
        StepKindShape::Bake => Work::Bake,
        StepKindShape::Cool => Work::Cool,
    }
}

/// An arrow, dashed where it may not wait for ever.
fn line(ui: &Ui, points: &[Pos2], longest: Option<f64>, palette: &Palette) {
    let stroke = Stroke::new(1.4, palette.edge);
    match longest {
        Some(longest) => {
            let dashed = Stroke::new(1.6, palette.ink);
            ui.painter().extend(Shape::dashed_line(points, dashed, 5.0, 4.0));
            if let Some(end) = points.last() {
                let text = format!("≤{}", crate::units::plain_number(longest));
                let at = *end + vec2(-8.0, -2.0);
                let font = fonts::plain(13.0);
                ui.painter().text(at, eframe::egui::Align2::RIGHT_BOTTOM, text, font, palette.ink);
            }
        }
        None => {
            ui.painter().add(Shape::line(points.to_vec(), stroke));
        }
    }
    if let [.., before, end] = points {
        let along = (*end - *before).normalized();
        let across = along.rot90();
        let back = *end - 7.0 * along;
        let head = vec![*end, back + 3.5 * across, back - 3.5 * across];
        ui.painter().add(Shape::convex_polygon(head, palette.ink, Stroke::NONE));
    }
}

/// Drags a line from a box, and lets it go over another.
fn drag(
    ui: &Ui,
    form: &mut Form<'_>,
    at: At,
    (from, response): (usize, &eframe::egui::Response),
    boxes: &[Rect],
    names: &[String],
) {
    if !response.dragged() && !response.drag_stopped() {
        return;
    }
    let Some(pointer) = response.interact_pointer_pos() else { return };
    let over = boxes.iter().position(|b| b.contains(pointer)).filter(|&to| to != from);
    let palette = Palette::of(ui.ctx());
    if let Some(to) = over.filter(|_| response.drag_stopped()) {
        let path = step_path(at, to).field("after");
        let what = format!("{} after {}", shortened(&names[to], 40), shortened(&names[from], 40));
        let made = form.attempt(path, what, |file| draw(file, at, from, to));
        tell(ui, form, at, made.map(|()| Vec::new()));
        return;
    }
    let painter = ui.painter();
    painter.line_segment([boxes[from].center(), pointer], Stroke::new(2.0, palette.focus));
    if let Some(to) = over {
        let refused = draw(&mut form.file.clone(), at, from, to).err();
        let colour = if refused.is_some() { palette.red } else { palette.focus };
        let stroke = Stroke::new(2.0, colour);
        painter.rect_stroke(boxes[to].expand(2.0), 5.0, stroke, StrokeKind::Outside);
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
