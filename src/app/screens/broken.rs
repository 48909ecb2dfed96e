//! A file that cannot be planned: what is wrong, and where it stands.

use crate::app::state::Commands;
use crate::session::Command as LessonCommand;
use eframe::egui::{self, RichText, ScrollArea, Sense, Ui, vec2};

use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::Command;
use crate::app::state::ViewState;
use crate::finding::Severity;
use crate::session::Broken;

/// Shows the findings beside the text.
pub fn show(
    ui: &mut Ui,
    broken: &Broken,
    (view, has_lesson): (&ViewState, bool),
    out: &mut Commands,
) {
    let palette = Palette::of(ui.ctx());
    let name = broken.path.file_name().unwrap_or(broken.path.as_os_str()).to_string_lossy();
    let errors = broken.findings.iter().filter(|f| f.severity == Severity::Error).count();
    let words = match errors {
        1 => "one thing to put right".to_owned(),
        n => format!("{} things to put right", crate::view::words::number(n)),
    };
    let words = say(format!("cannot be planned yet: {words}."));
    let picture = broken.findings.iter().find(|f| f.code == "picture");
    let words = picture.map_or(words, |f| say(f.message.clone()));
    let title = format!("{} {words}", crate::finding::shortened(&name, 60));
    ui.add(egui::Label::new(RichText::new(title).font(fonts::bold(22.0))).wrap());
    ui.horizontal_wrapped(|ui| {
        ui.label(say(match picture {
            None => "The file is as it was. Mend it in any text editor, then open it again.",
            Some(_) => "The file is as it was.",
        }));
        if picture.is_none() && ui.button(say("Open it again")).clicked() {
            out.push(LessonCommand::Open(broken.path.clone()));
        }
        if broken.can_be_put_right {
            let put_right = LessonCommand::PutRight(broken.path.clone());
            if ui.button(say(put_right.label())).clicked() {
                out.push(put_right);
            }
        }
        if has_lesson && ui.button(say(LessonCommand::BackToLesson.label())).clicked() {
            out.push(LessonCommand::BackToLesson);
        }
    });
    ui.add_space(6.0);
    let half = (ui.available_height() * 0.5).max(120.0);
    ScrollArea::vertical().id_salt("findings").max_height(half).auto_shrink([false, true]).follow(
        ui,
        |ui| {
            for (i, finding) in broken.findings.iter().enumerate() {
                let place = finding.place.map_or(String::new(), |p| format!("line {}: ", p.line));
                let text = format!("{place}{}", finding.message);
                let text = RichText::new(say(text)).font(fonts::bold(14.0));
                let chosen = view.finding == Some(i);
                let button = egui::Button::selectable(chosen, text).wrap();
                if ui.add(button).clicked() {
                    out.push(Command::ShowFinding(i));
                }
                if !finding.hint.is_empty() {
                    ui.add(egui::Label::new(say(&finding.hint)).wrap());
                }
            }
        },
    );
    ui.separator();
    let chosen = view.finding.and_then(|i| broken.findings.get(i)).and_then(|f| f.place);
    let line_height = 19.0;
    let mut area = ScrollArea::both().id_salt("text").auto_shrink([false, false]);
    if let Some(place) = chosen.filter(|_| view.finding_now) {
        // Rows out of sight have no widget to scroll to: their height is known.
        let row = line_height + ui.spacing().item_spacing.y;
        area = area.vertical_scroll_offset(place.line.saturating_sub(4) as f32 * row);
    }
    area.show_rows(ui, line_height, broken.lines.len(), |ui, range| {
        for i in range {
            let line = crate::finding::shortened(&broken.lines[i], 200);
            let here = chosen.is_some_and(|p| p.line == i + 1);
            let text = RichText::new(format!("{:>5}  {line}", i + 1)).font(fonts::plain(14.0));
            let text = if here { text.background_color(palette.chosen).strong() } else { text };
            let size = vec2(ui.available_width(), line_height);
            ui.allocate_ui(size, |ui| {
                ui.add(egui::Label::new(text).extend().sense(Sense::hover()));
            });
        }
    });
}
