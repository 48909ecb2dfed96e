//! The card on the right: whatever is selected, and what can be done with it.

use eframe::egui::{
    self, Align2, Color32, Painter, Rect, RichText, Role, ScrollArea, Sense, Stroke, StrokeKind,
    Ui, WidgetInfo, pos2, vec2,
};

use super::command::Command;
use super::edit::Edit;
use super::fonts;
use super::paint;
use super::probe::Probed;
use super::shell::Shown;
use super::state::Selection;
use super::theme::Palette;
use crate::check::{CheckedPlan, Verdict};
use crate::model::{AdultId, Attendance, GroupId, Lesson, OvenId};
use crate::units::Minute;
use crate::view::at_minute::{Doing, at_minute};
use crate::view::board::Work;
use crate::view::cards::{self, Card, ShelfPicture};
use crate::view::rows::verdict_words;
use crate::view::words::clock_in;

/// Shows the card.
pub fn show(ui: &mut Ui, shown: &Shown<'_>, out: &mut Vec<Command>) {
    let (Some(doc), Some(plan)) = (shown.doc, shown.plan) else { return };
    let lesson: &Lesson = &doc.lesson;
    ScrollArea::vertical().id_salt("card").auto_shrink([false, true]).show(ui, |ui| {
        match shown.view.selection {
            Selection::Group(group) if group.0 < lesson.groups.len() => {
                show_card(ui, &cards::group(lesson, plan, group));
                group_choices(ui, shown, lesson, group, out);
            }
            Selection::Step(group, step) if group.0 < lesson.groups.len() => {
                match cards::step(lesson, plan, group, step) {
                    Some(card) => show_card(ui, &card),
                    None => show_card(ui, &cards::group(lesson, plan, group)),
                }
                let name = format!("Card of {}", lesson.group(group).name);
                if ui.button(name).clicked() {
                    out.push(Command::Select(Selection::Group(group)));
                }
            }
            Selection::Oven(oven) if oven.0 < lesson.ovens.len() => {
                oven_card(ui, shown, (lesson, plan), oven, out);
            }
            Selection::Adults => {
                for adult in 0..lesson.adults.len() {
                    show_card(ui, &cards::adult(lesson, plan, AdultId(adult)));
                    ui.add_space(8.0);
                }
                if lesson.adults.is_empty() {
                    title(ui, "Adults", "The lesson names none.");
                }
            }
            Selection::Minute => minute_card(ui, shown, lesson, plan, out),
            _ => key(ui, shown, lesson, plan, out),
        }
    });
}

fn title(ui: &mut Ui, title: &str, under: &str) {
    let palette = Palette::of(ui.ctx());
    let title = RichText::new(crate::finding::shortened(title, 80)).font(fonts::bold(19.0));
    ui.add(egui::Label::new(title).wrap());
    if !under.is_empty() {
        ui.add(egui::Label::new(RichText::new(under).color(palette.soft)).wrap());
    }
    ui.add_space(4.0);
}

fn show_card(ui: &mut Ui, card: &Card) {
    title(ui, &card.title, &card.under);
    for (name, value) in &card.lines {
        line(ui, name, value);
    }
}

/// A name and its value: on one line if both are short, else one under the
/// other.
fn line(ui: &mut Ui, name: &str, value: &str) {
    let palette = Palette::of(ui.ctx());
    let label = RichText::new(name).font(fonts::bold(13.0)).color(palette.soft);
    // Names stand in a column of their own, from the card's left edge.
    let column = 112.0;
    let wide = |text: &str, font| {
        let text = crate::finding::shortened(text, 60);
        ui.painter().layout_no_wrap(text, font, palette.ink).size().x
    };
    let body = egui::TextStyle::Body.resolve(ui.style());
    let short = wide(name, fonts::bold(13.0)) + 6.0 <= column
        && column + wide(value, body) <= ui.available_width();
    if short {
        ui.horizontal(|ui| {
            let start = ui.cursor().left();
            ui.label(label);
            let used = ui.cursor().left() - start;
            ui.add_space((column - used).max(0.0));
            ui.label(value);
        });
    } else {
        ui.label(label);
        ui.add(egui::Label::new(value).wrap());
        ui.add_space(2.0);
    }
}

fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(8.0);
    ui.label(RichText::new(text).font(fonts::bold(15.0)));
}

/// Tins and methods with what the planner says of each, and the pupils.
fn group_choices(
    ui: &mut Ui,
    shown: &Shown<'_>,
    lesson: &Lesson,
    id: GroupId,
    out: &mut Vec<Command>,
) {
    let group = lesson.group(id);
    let palette = Palette::of(ui.ctx());
    let probed = shown.probed.filter(|(revision, of, _)| {
        *of == id && shown.doc.is_some_and(|d| d.revision == *revision)
    });
    heading(ui, "Tin and method");
    match probed {
        None => {
            ui.label(RichText::new("the planner is looking…").color(palette.soft));
        }
        Some((_, _, all)) => {
            for probe in all {
                choice(ui, shown, lesson, id, probe, out);
            }
            ui.label(
                RichText::new("Choosing one puts it first in the group's list.")
                    .font(fonts::plain(13.0))
                    .color(palette.soft),
            );
        }
    }
    heading(ui, "Today");
    ui.horizontal_wrapped(|ui| {
        let name = group.name.clone();
        let left_out = group.attendance == Attendance::LeftOut;
        let words = if left_out { "Take in" } else { "Leave out" };
        if ui.button(words).clicked() {
            out.push(Command::Edit(Edit::LeftOut { group: name.clone(), out: !left_out }));
        }
        let pupils = i64::from(group.pupils);
        if ui.add_enabled(pupils > 1, egui::Button::new("Pupil absent")).clicked() {
            let edit = Edit::Pupils { group: name.clone(), pupils: pupils - 1 };
            out.push(Command::Edit(edit));
        }
        if ui.button("Pupil more").clicked() {
            out.push(Command::Edit(Edit::Pupils { group: name, pupils: pupils + 1 }));
        }
    });
}

fn choice(
    ui: &mut Ui,
    shown: &Shown<'_>,
    lesson: &Lesson,
    id: GroupId,
    probe: &Probed,
    out: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    let group = lesson.group(id);
    let recipe = lesson.recipe_of(id);
    let method = &recipe.methods[probe.method.0].name;
    let tin = probe.tin.map(|t| recipe.tins[t.0].label.as_str());
    let several = group.methods.len() > 1;
    let what = match (tin, several) {
        (Some(tin), true) => format!("{tin}, {method}"),
        (Some(tin), false) => tin.to_owned(),
        (None, _) => method.clone(),
    };
    let minutes = probe
        .tin
        .and_then(|t| recipe.tins[t.0].minutes)
        .map_or(String::new(), |m| format!("bakes {} · ", m.usual()));
    let ready = probe.ready.map_or(verdict_words(probe.verdict).to_owned(), |r| {
        format!("ready {}", clock_in(lesson, group.period, r))
    });
    let all = lesson.attending().count();
    let others = if probe.served as usize == all {
        String::new()
    } else {
        format!(" · {} of {all} served", probe.served)
    };
    let now = shown
        .plan
        .and_then(|p| p.plan().choice(id))
        .is_some_and(|c| c.method == probe.method && c.tin == probe.tin);
    let spoken = format!(
        "{what}: {minutes}{ready}, {}{others}{}",
        verdict_words(probe.verdict),
        if now { ", chosen now" } else { "" }
    );
    let width = ui.available_width();
    let (rect, response) = ui.allocate_exact_size(vec2(width, 42.0), Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, now, &spoken));
    let fill = if now || response.hovered() { palette.chosen } else { palette.card };
    ui.painter().rect_filled(rect, 5.0, fill);
    let stroke = match (response.has_focus(), now) {
        (true, _) => Stroke::new(3.0, palette.focus),
        (_, true) => Stroke::new(2.0, palette.ink),
        _ => Stroke::new(1.0, palette.edge),
    };
    ui.painter().rect_stroke(rect, 5.0, stroke, StrokeKind::Inside);
    paint::verdict(
        ui.painter(),
        pos2(rect.right() - 16.0, rect.center().y),
        probe.verdict,
        palette,
    );
    let inside = rect.shrink2(vec2(9.0, 4.0)).with_max_x(rect.right() - 30.0);
    let painter = ui.painter().with_clip_rect(inside.intersect(ui.clip_rect()));
    let fit = |text: &str, font| super::board_parts::fitted(&painter, text, font, inside.width());
    let first = fit(&what, fonts::bold(14.0));
    let second = fit(&format!("{minutes}{ready}{others}"), fonts::plain(13.0));
    painter.text(inside.left_top(), Align2::LEFT_TOP, first, fonts::bold(14.0), palette.ink);
    let at = inside.left_top() + vec2(0.0, 17.0);
    painter.text(at, Align2::LEFT_TOP, second, fonts::plain(13.0), palette.soft);
    let response = match &probe.reason {
        Some(reason) => response.on_hover_text(reason),
        None => response.on_hover_text(&spoken),
    };
    if response.clicked() {
        if let Some(tin) = probe.tin {
            let label = recipe.tins[tin.0].label.clone();
            out.push(Command::Edit(Edit::Tin { group: group.name.clone(), label }));
        }
        if several && group.methods.first() != Some(&probe.method) {
            let method = method.clone();
            out.push(Command::Edit(Edit::Method { group: group.name.clone(), method }));
        }
    }
}

fn oven_card(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (lesson, plan): (&Lesson, &CheckedPlan),
    id: OvenId,
    out: &mut Vec<Command>,
) {
    let minute = shown.view.minute.map(Minute::new);
    let (card, shelves) = cards::oven(lesson, plan, id, minute);
    show_card(ui, &card);
    let oven = &lesson.ovens[id.0];
    let words = if oven.out_of_order { "Works again" } else { "Out of order" };
    if ui.button(words).clicked() {
        let edit = Edit::OvenOut { oven: oven.name.clone(), out: !oven.out_of_order };
        out.push(Command::Edit(edit));
    }
    heading(ui, "Shelves from above, to scale, door below");
    for picture in &shelves {
        shelf(ui, picture);
    }
}

/// A shelf from above, its back at the top.
fn shelf(ui: &mut Ui, picture: &ShelfPicture) {
    let palette = Palette::of(ui.ctx());
    ui.add(egui::Label::new(RichText::new(&picture.spoken).font(fonts::plain(13.0))).wrap());
    let width = ui.available_width().min(300.0);
    let scale = width / picture.size.0.max(1.0);
    let (rect, response) =
        ui.allocate_exact_size(vec2(width, picture.size.1 * scale), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &picture.spoken));
    let painter = ui.painter();
    painter.rect_filled(rect, 2.0, palette.chosen);
    painter.rect_stroke(rect, 2.0, Stroke::new(1.5, palette.ink), StrokeKind::Inside);
    for tin in &picture.tins {
        let (x, y, w, d) = tin.rim;
        let at = Rect::from_min_size(
            pos2(rect.left() + x * scale, rect.bottom() - (y + d) * scale),
            vec2(w * scale, d * scale),
        );
        let edge = Stroke::new(1.0, palette.bake.1);
        if tin.round {
            painter.circle(at.center(), at.width() / 2.0, palette.bake.0, edge);
        } else {
            painter.rect(at, 2.0, palette.bake.0, edge, StrokeKind::Inside);
        }
        centred(painter, at, &tin.group, palette.ink);
    }
    ui.add_space(6.0);
}

fn centred(painter: &Painter, rect: Rect, text: &str, ink: Color32) {
    let font = fonts::plain(13.0);
    let text = super::board_parts::fitted(painter, text, font.clone(), rect.width() - 4.0);
    painter.text(rect.center(), Align2::CENTER_CENTER, text, font, ink);
}

fn minute_card(
    ui: &mut Ui,
    shown: &Shown<'_>,
    lesson: &Lesson,
    plan: &CheckedPlan,
    out: &mut Vec<Command>,
) {
    let Some(minute) = shown.view.minute else {
        title(ui, "Minute line", "Click the clock, or press the arrow keys on it.");
        return;
    };
    let now = at_minute(lesson, plan, Minute::new(minute));
    title(ui, &now.title, now.class.as_deref().unwrap_or(""));
    ui.horizontal(|ui| {
        for (label, by) in [("−5", -5), ("−1", -1), ("+1", 1), ("+5", 5)] {
            let spoken = format!("{by:+} minutes");
            let button = ui.button(label);
            button.widget_info(|| WidgetInfo::labeled(Role::Button, true, &spoken));
            if button.clicked() {
                out.push(Command::StepMinute(by));
            }
        }
    });
    for (name, doing) in [("Groups", &now.groups), ("Ovens", &now.ovens), ("Adults", &now.adults)] {
        if doing.is_empty() {
            continue;
        }
        heading(ui, name);
        for Doing { who, what } in doing {
            let text = format!("{}: {what}", crate::finding::shortened(who, 60));
            ui.add(egui::Label::new(text).wrap());
        }
    }
}

/// The key to the board, what is assumed, and cautions.
fn key(
    ui: &mut Ui,
    shown: &Shown<'_>,
    lesson: &Lesson,
    plan: &CheckedPlan,
    out: &mut Vec<Command>,
) {
    let palette = Palette::of(ui.ctx());
    if super::top::is_low(ui.ctx()) {
        super::top::sure(ui, shown, out);
        ui.add_space(4.0);
    }
    title(ui, "The board", "Select a group, a step or an oven to see its card.");
    fills(ui);
    let verdicts = [
        Verdict::Fits,
        Verdict::Tight,
        Verdict::NotRealistically,
        Verdict::Cannot,
        Verdict::CannotAll,
    ];
    ui.add_space(4.0);
    for verdict in verdicts {
        ui.horizontal(|ui| {
            let (rect, _) = ui.allocate_exact_size(vec2(18.0, 16.0), Sense::hover());
            paint::verdict(ui.painter(), rect.center(), verdict, palette);
            ui.label(meaning(verdict));
        });
    }
    let warnings = shown.doc.map(|d| d.warnings.as_slice()).unwrap_or_default();
    if !warnings.is_empty() {
        heading(ui, "Worth a look");
        for warning in warnings {
            ui.add(egui::Label::new(&warning.message).wrap());
        }
    }
    let assumed = crate::view::assumed::assumed(lesson, plan);
    if !assumed.is_empty() {
        heading(ui, "Assumed, as the lesson does not say");
        for figure in assumed {
            ui.add(egui::Label::new(figure).wrap());
        }
    }
    heading(ui, "Caution");
    ui.add(
        egui::Label::new(
            "A bake is done by its done test, never by the clock alone. Your school's policy and \
             risk assessment come first.",
        )
        .wrap(),
    );
}

/// Words, and how their sample is painted.
type Sample<'a> = (&'a str, &'a dyn Fn(&Painter, Rect));

/// What the fills and lines of the board stand for, in as many columns as
/// there is room for.
fn fills(ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    let works = [Work::Bench, Work::Door, Work::Bake, Work::Cool, Work::Wait, Work::Clear];
    let (sample, word) = (vec2(30.0, 14.0), vec2(92.0, 16.0));
    let pair = 2.0 * (sample.x + word.x) + 3.0 * ui.spacing().item_spacing.x;
    let columns = if ui.available_width() >= pair { 2 } else { 1 };
    let entry = |ui: &mut Ui, words: &str, paint: &dyn Fn(&Painter, Rect)| {
        let (rect, _) = ui.allocate_exact_size(sample, Sense::hover());
        paint(ui.painter(), rect);
        let (place, response) = ui.allocate_exact_size(word, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, words));
        let font = fonts::plain(14.0);
        ui.painter().text(place.left_center(), Align2::LEFT_CENTER, words, font, palette.ink);
    };
    let class = |painter: &Painter, rect: Rect| {
        let (fill, edge) = palette.class;
        painter.rect_filled(rect, 0.0, fill);
        paint::hatch(&painter.with_clip_rect(rect), rect, edge.gamma_multiply(0.35), 8.0);
        painter.rect_stroke(rect, 0.0, Stroke::new(1.0, edge), StrokeKind::Inside);
    };
    let heat = |painter: &Painter, rect: Rect| {
        let points =
            [rect.left_bottom(), pos2(rect.center().x + 4.0, rect.top()), rect.right_top()];
        let stroke = Stroke::new(1.5, palette.heat);
        painter.extend(egui::Shape::dashed_line(&points, stroke, 2.5, 2.5));
    };
    for pair in works.chunks(columns) {
        ui.horizontal(|ui| {
            for &work in pair {
                entry(ui, work.word(), &|painter, rect| paint::bar(painter, rect, work, palette));
            }
        });
    }
    let rest: [Sample<'_>; 2] = [("whole class", &class), ("oven's heat", &heat)];
    for pair in rest.chunks(columns) {
        ui.horizontal(|ui| {
            for (words, paint) in pair {
                entry(ui, words, paint);
            }
        });
    }
}

fn meaning(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fits => "fits: with the wanted spare",
        Verdict::Tight => "tight: in time, little to spare",
        Verdict::NotRealistically => "not realistically: no plan found",
        Verdict::Cannot => "cannot: proved impossible",
        Verdict::CannotAll => "cannot, with all the others",
        Verdict::LeftOut => "left out",
    }
}
