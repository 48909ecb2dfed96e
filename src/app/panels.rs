//! The panels of the window: head, board or list, card; or the findings of a
//! broken file.

use eframe::egui::{self, CentralPanel, Frame, Margin, Panel};

use super::command::Command;
use super::hints::{Hint, Points};
use super::shell::{App, Shown};
use super::theme::Palette;
use super::{board, card, findings, help, hints, list, strip, top};

impl App {
    pub(super) fn panels(&mut self, ui: &mut egui::Ui, out: &mut Vec<Command>) {
        let palette = Palette::of(ui.ctx());
        ui.painter().rect_filled(ui.max_rect(), 0.0, palette.paper);
        let shown = Shown {
            doc: self.doc.as_ref(),
            lesson: self.planned.as_deref(),
            plan: self.plan.as_ref().map(|(_, plan)| &**plan),
            board: self.board.as_deref(),
            view: &self.view,
            prefs: &self.prefs,
            planning: self.planning,
            probed: self.probed.as_ref(),
            changes: &self.changes,
            overlay: self.overlay.as_ref(),
            moving: &self.moving,
            has_before: self.before.is_some(),
            explained: self.explained.as_ref(),
            changed_today: &self.the_day.changed,
            class_view: self.class_view(),
            message: self.message.as_deref(),
            hint: self.hint(),
            left: &self.caring.left,
        };
        let paper = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(14, 8));
        Panel::top("head").frame(paper).show_separator_line(false).show(ui, |ui| {
            let set_up = top::buttons(ui, &shown, out);
            if let Some(button) = set_up {
                hints::show(ui, &shown, Hint::SetUp, Points::Up(button.center().x), out);
            }
            if self.broken.is_none() {
                top::outcome(ui, &shown, out);
            }
        });
        if let Some(topic) = self.view.help {
            let data = self.caring.keeping.data.as_deref();
            help::show(ui, topic, &shown, data, out);
            return;
        }
        if let Some(broken) = &self.broken {
            CentralPanel::default().frame(paper).show(ui, |ui| {
                findings::show(ui, broken, self.doc.is_some(), out);
            });
            return;
        }
        if let Some(page) = self.view.page {
            self.pages(ui, page, out);
            return;
        }
        let sheet = Frame::new()
            .fill(palette.card)
            .stroke(egui::Stroke::new(1.0, palette.line))
            .corner_radius(8)
            .inner_margin(Margin::same(10));
        let width = (ui.available_width() * 0.26).clamp(250.0, 360.0);
        Panel::right("card")
            .exact_size(width)
            .resizable(false)
            .frame(sheet.outer_margin(Margin { left: 0, right: 14, top: 0, bottom: 12 }))
            .show_separator_line(false)
            .show(ui, |ui| {
                // What is too wide for the card must not widen it: the board
                // would be drawn over it.
                let place = ui.available_rect_before_wrap();
                let mut inside = ui.new_child(egui::UiBuilder::new().max_rect(place));
                inside.shrink_clip_rect(place.expand(4.0));
                card::show(&mut inside, &shown, out);
                ui.advance_cursor_after_rect(place);
            });
        if let Some(height) = strip::height(ui.ctx(), &shown) {
            #[allow(clippy::cast_possible_truncation)] // a few points
            let bottom = strip::BELOW as i8;
            let inset = Margin { left: 14, right: 10, top: 0, bottom };
            Panel::bottom("changes")
                .exact_size(height)
                .resizable(false)
                .frame(Frame::new().outer_margin(inset))
                .show_separator_line(false)
                .show(ui, |ui| strip::show(ui, &shown, out));
        }
        let inset = Margin { left: 14, right: 10, top: 0, bottom: 12 };
        CentralPanel::default().frame(sheet.outer_margin(inset)).show(ui, |ui| {
            if self.view.as_list {
                list::show(ui, &shown, out);
            } else {
                let middle = ui.available_rect_before_wrap().center().x;
                hints::show(ui, &shown, Hint::Board, Points::Down(middle), out);
                board::show(ui, &shown, out);
            }
        });
    }
}
