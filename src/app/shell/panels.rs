//! The panels of the window: head, board or list, card; or the findings of a
//! broken file.

use eframe::egui::{self, CentralPanel, Frame, Margin, Panel};

use super::App;
use crate::app::looks::theme::Palette;
use crate::app::screens::head::hints::{self, Hints, Points};
use crate::app::screens::head::{self, Head};
use crate::app::screens::strip::{self, Strip};
use crate::app::screens::{OnScreen, board, broken, card, help, list, setup};
use crate::app::state::{Commands, Hint};

impl App {
    fn head(&self) -> Head<'_> {
        Head {
            session: &self.session,
            view: &self.view,
            prefs: &self.prefs,
            class_view: self.class_view(),
            hints: self.hints(),
        }
    }

    fn hints(&self) -> Hints<'_> {
        Hints { now: self.hint(), gone: &self.prefs.hints_gone }
    }

    fn on_screen(&self) -> Option<OnScreen<'_>> {
        Some(OnScreen {
            planned: self.session.planned()?,
            view: &self.view,
            moving: self.session.moving(),
            overlay: self.session.overlay(),
            glide: self.prefs.glide,
        })
    }

    /// Shows the panels.
    pub(super) fn panels(&mut self, ui: &mut egui::Ui, out: &mut Commands) {
        let palette = Palette::of(ui.ctx());
        ui.painter().rect_filled(ui.max_rect(), 0.0, palette.paper);
        let field_now = self.view.field_now.take();
        let paper = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(14, 8));
        Panel::top("head").frame(paper).show_separator_line(false).show(ui, |ui| {
            head::show(ui, &self.head(), out);
        });
        if let Some(topic) = self.view.help {
            help::show(ui, topic, (&self.session, &self.prefs), out);
            return;
        }
        if let Some(of) = self.session.broken() {
            CentralPanel::default().frame(paper).show(ui, |ui| {
                broken::show(ui, of, (&self.view, self.session.document().is_some()), out);
            });
            return;
        }
        if let Some(page) = self.view.page {
            setup::show(ui, &self.session, page, field_now.as_ref(), out);
            return;
        }
        self.plan_panels(ui, out);
    }

    /// The card on the right, changes along the bottom, board or list.
    fn plan_panels(&self, ui: &mut egui::Ui, out: &mut Commands) {
        let palette = Palette::of(ui.ctx());
        let on_screen = self.on_screen();
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
                if let Some(on_screen) = &on_screen {
                    card::show(&mut inside, on_screen, &self.session, out);
                }
                ui.advance_cursor_after_rect(place);
            });
        let strip = Strip {
            offering: self.session.offering(),
            overlay: self.session.overlay(),
            view: &self.view,
            planning: self.session.is_planning(),
        };
        if let Some(height) = strip::height(ui.ctx(), &strip).filter(|_| on_screen.is_some()) {
            #[allow(clippy::cast_possible_truncation)] // a few points
            let bottom = strip::BELOW as i8;
            let inset = Margin { left: 14, right: 10, top: 0, bottom };
            Panel::bottom("changes")
                .exact_size(height)
                .resizable(false)
                .frame(Frame::new().outer_margin(inset))
                .show_separator_line(false)
                .show(ui, |ui| strip::show(ui, &strip, out));
        }
        let inset = Margin { left: 14, right: 10, top: 0, bottom: 12 };
        CentralPanel::default().frame(sheet.outer_margin(inset)).show(ui, |ui| {
            if self.view.as_list {
                if let Some(on_screen) = &on_screen {
                    list::show(ui, on_screen, out);
                }
                return;
            }
            let middle = ui.available_rect_before_wrap().center().x;
            hints::show(ui, &self.hints(), Hint::Board, Points::Down(middle), out);
            if let Some(on_screen) = &on_screen {
                board::show(ui, on_screen, out);
            }
        });
    }
}
