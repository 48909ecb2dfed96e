//! Bakes of a tin as they really went: points on the band, and a form to note
//! another.

use crate::app::state::Commands;
use crate::session::Command as LessonCommand;
use eframe::egui::{
    self, Rect, RichText, Role, Sense, Stroke, StrokeKind, TextEdit, Ui, WidgetInfo, pos2, vec2,
};

use super::parts::heading;
use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::screens::OnScreen;
use crate::bake::tin_table::TinRow;
use crate::file::outcomes::bake_minutes;
use crate::model::{GroupId, Lesson, PastBake};
use crate::view::tin_words::took;

/// What is typed, kept while the window is open.
#[derive(Debug, Clone, Default, PartialEq)]
struct Typed {
    minutes: String,
    note: String,
}

/// The form to note a bake in the tin of the plan.
pub fn form(
    ui: &mut Ui,
    shown: &OnScreen<'_>,
    lesson: &Lesson,
    id: GroupId,
    row: &TinRow,
    out: &mut Commands,
) {
    let label = &row.as_choice.label;
    heading(ui, "What it really took");
    let key = egui::Id::unique(("note", lesson.group(id).name.as_str(), label.as_str()));
    let mut typed: Typed = ui.data(|d| d.get_temp(key)).unwrap_or_default();
    let minutes = typed
        .minutes
        .trim()
        .replace(',', ".")
        .parse::<f64>()
        .map_or_else(|_| Err("minutes are a number, such as 15.5".to_owned()), bake_minutes);
    ui.horizontal_wrapped(|ui| {
        let label = ui.label(say("Minutes"));
        ui.add(TextEdit::singleline(&mut typed.minutes).desired_width(48.0)).labelled_by(label.id);
        let label = ui.label(say("Note"));
        ui.add(TextEdit::singleline(&mut typed.note).desired_width(120.0)).labelled_by(label.id);
    });
    let soft = Palette::of(ui.ctx()).soft;
    let remark = |ui: &mut Ui, text: &str| {
        let text = RichText::new(say(text)).font(fonts::plain(13.0)).color(soft);
        ui.add(egui::Label::new(text).wrap());
    };
    if ui.add_enabled(minutes.is_ok(), egui::Button::new(say("Note this bake"))).clicked()
        && let Ok(minutes) = &minutes
    {
        let loads = shown.plan().plan().loads.as_slice();
        let load = loads.iter().find(|l| l.group == id);
        out.push(LessonCommand::Note(PastBake {
            date: lesson.date,
            recipe: lesson.recipe_of(id).name.clone(),
            tin: label.clone(),
            oven: load.map_or(String::new(), |l| lesson.ovens[l.oven.0].name.clone()),
            celsius: load.map(|l| l.celsius).filter(|c| *c != row.as_choice.celsius),
            minutes: *minutes,
            note: typed.note.trim().to_owned(),
        }));
        typed = Typed::default();
    }
    if let (Err(why), false) = (&minutes, typed.minutes.trim().is_empty()) {
        remark(ui, &crate::view::tin_words::sentence(why));
    }
    remark(ui, "From the end of loading until the done test was passed. Kept in your own table.");
    ui.data_mut(|d| d.insert_temp(key, typed));
}

/// The band of a tin with its bakes on it.
pub fn band(ui: &mut Ui, row: &TinRow) {
    let Ok(expected) = &row.expected else { return };
    let e = &expected.estimate;
    let all = row.took.iter().map(|m| m.get());
    let least = all.clone().fold(e.ninety.0.get(), f64::min) - 1.0;
    let most = all.clone().fold(e.ninety.1.get(), f64::max) + 1.0;
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 34.0), Sense::hover());
    let noted = took(row);
    let spoken = format!(
        "Minutes: four bakes of five between {:.0} and {:.0}, nine of ten between {:.0} and \
         {:.0}{}{noted}",
        e.eighty.0.get(),
        e.eighty.1.get(),
        e.ninety.0.get(),
        e.ninety.1.get(),
        if noted.is_empty() { "" } else { "; " }
    );
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, say(&spoken)));
    let rect = rect.shrink2(vec2(8.0, 2.0));
    let x = |minutes: f64| rect.left() + ((minutes - least) / (most - least)) as f32 * rect.width();
    let palette = Palette::of(ui.ctx());
    let painter = ui.painter();
    let middle = rect.top() + 8.0;
    let stripe = |(low, high): (f64, f64), half: f32| {
        Rect::from_min_max(pos2(x(low), middle - half), pos2(x(high), middle + half))
    };
    let of = |pair: (crate::units::ExactMinutes, crate::units::ExactMinutes)| {
        (pair.0.get(), pair.1.get())
    };
    painter.rect_filled(stripe(of(e.ninety), 3.0), 2.0, palette.chosen);
    painter.rect_stroke(
        stripe(of(e.ninety), 3.0),
        2.0,
        Stroke::new(1.0, palette.edge),
        StrokeKind::Inside,
    );
    painter.rect_filled(stripe(of(e.eighty), 5.0), 2.0, palette.bake.0);
    painter.rect_stroke(
        stripe(of(e.eighty), 5.0),
        2.0,
        Stroke::new(1.0, palette.bake.1),
        StrokeKind::Inside,
    );
    painter.vline(x(e.usual.get()), middle - 8.0..=middle + 8.0, Stroke::new(2.0, palette.ink));
    for minutes in all {
        painter.circle(pos2(x(minutes), middle), 4.0, palette.card, Stroke::new(2.0, palette.ink));
    }
    for (minutes, told) in [
        (e.eighty.0.get(), e.eighty.0.get().floor()),
        (e.usual.get(), e.usual.get()),
        (e.eighty.1.get(), e.eighty.1.get().ceil()),
    ] {
        painter.text(
            pos2(x(minutes), rect.bottom()),
            egui::Align2::CENTER_BOTTOM,
            format!("{told:.0}"),
            fonts::plain(12.0),
            palette.soft,
        );
    }
}
