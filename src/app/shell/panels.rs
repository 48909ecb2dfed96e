//! The panels of the window: head, board or list, card; or the findings of a
//! broken file.

use eframe::egui::{self, Align, CentralPanel, Frame, Layout, Margin, Panel, RichText, vec2};

use super::App;
use super::regions::Regions;
use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::sheet::{card_beside, sheet};
use crate::app::looks::theme::Palette;
use crate::app::looks::{is_low, landmark};
use crate::app::screens::head::hints::{self, Hints, Points};
use crate::app::screens::head::{self, Head};
use crate::app::screens::strip::{self, Strip};
use crate::app::screens::{
    OnScreen, board, broken, card, corner, day, foot, help, ingredients, list, nothing_open,
    papers, rehearse, setup, week,
};
use crate::app::state::{Commands, Hint, Place, Region, WeekPlace};
use crate::view::scene::board::CLOCK_HEIGHT;

/// How much is left of the ink of a plan that no longer holds.
const OLD: f32 = 0.45;

impl App {
    fn head(&self) -> Head<'_> {
        Head {
            session: &self.session,
            view: &self.view,
            prefs: &self.prefs,
            class_view: self.class_view(),
            class_view_room: self.projector.room,
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
            odds: self.session.odds_of_board(),
            told_odds: self.session.told_odds().map(|told| &**told),
            glide: self.prefs.glide,
        })
    }

    /// Shows the panels.
    pub(super) fn panels(&mut self, ui: &mut egui::Ui, out: &mut Commands) {
        let palette = Palette::of(ui.ctx());
        ui.painter().rect_filled(ui.max_rect(), 0.0, palette.paper);
        let field_now = self.view.field_now.take();
        let paper = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(14, 8));
        let low = is_low(ui.ctx());
        let around = if low { paper.inner_margin(Margin::symmetric(14, 4)) } else { paper };
        let head = Panel::top("head").frame(around).show_separator_line(false).show(ui, |ui| {
            if low {
                ui.spacing_mut().item_spacing.y = 3.0;
            }
            head::show(ui, &self.head(), out);
        });
        let middle = ui.available_rect_before_wrap();
        let mut regions = vec![(Region::Bar, head.response.rect)];
        let now = self.view.region_now;
        if let Some(topic) = self.view.help {
            landmark(ui, Region::Middle, now, "Help");
            help::show(ui, topic, (&self.session, &self.prefs), out);
            regions.push((Region::Middle, middle));
        } else if let Some(of) = self.session.broken() {
            CentralPanel::default().frame(paper).show(ui, |ui| {
                landmark(ui, Region::Middle, now, "Findings");
                broken::show(ui, of, (&self.view, self.session.document().is_some()), out);
            });
            regions.push((Region::Middle, middle));
        } else if self.session.week_on_screen().is_some() {
            regions.extend(match self.view.week.place {
                WeekPlace::Week => week::show(ui, &self.session, (&self.view.week, now), out),
                WeekPlace::Ingredients => {
                    ingredients::show_week(ui, &self.session, &self.view, out)
                }
                WeekPlace::Papers => papers::show(ui, &self.session, &self.view, out),
            });
        } else if self.session.document().is_none() {
            CentralPanel::default().frame(paper).show(ui, |ui| {
                landmark(ui, Region::Middle, now, "No lesson");
                nothing_open::show(ui, &self.session, &self.prefs, out);
            });
            regions.push((Region::Middle, middle));
        } else {
            match self.view.place {
                Place::SetUp => {
                    landmark(ui, Region::Middle, now, "Page");
                    let page = self.view.page;
                    setup::show(ui, &self.session, page, field_now.as_ref(), out);
                    regions.push((Region::Middle, middle));
                }
                Place::Plan => regions.extend(self.plan_panels(ui, out)),
                Place::Rehearse => {
                    let on_screen = self.on_screen();
                    let shown = (&self.view, on_screen.as_ref());
                    let field = field_now.as_ref();
                    regions.extend(rehearse::show(ui, &self.session, shown, field, out));
                }
                Place::Ingredients => {
                    let shown = (&self.view, field_now.as_ref());
                    regions.extend(ingredients::show(ui, &self.session, shown, out));
                }
                Place::Day => regions.extend(day::show(ui, &self.session, &self.view, out)),
                Place::Papers => {
                    regions.extend(papers::show(ui, &self.session, &self.view, out));
                }
            }
        }
        let over = regions.iter().find(|(region, _)| *region == Region::Middle);
        foot::show(ui, over.map_or(middle, |(_, rect)| *rect), &self.session, out);
        self.regions = regions;
    }

    /// The card on the right, changes along the bottom, board or list.
    fn plan_panels(&self, ui: &mut egui::Ui, out: &mut Commands) -> Regions {
        let palette = Palette::of(ui.ctx());
        let on_screen = self.on_screen();
        let now = self.view.region_now;
        let sheet = sheet(palette);
        let width = (ui.available_width() * 0.26).clamp(250.0, 360.0);
        let card = card_beside(ui, width, ("Card", now), |ui| {
            if let Some(on_screen) = &on_screen {
                card::show(ui, on_screen, &self.session, out);
            }
        });
        let mut regions = vec![(Region::Card, card)];
        let chips = self.session.chips();
        let strip = Strip {
            offering: self.session.offering(),
            chips: &chips,
            better: self.session.looked_for_better_odds(),
            overlay: self.session.overlay(),
            view: &self.view,
            planning: self.session.is_planning(),
        };
        if let Some(height) = strip::height(ui.ctx(), &strip).filter(|_| on_screen.is_some()) {
            #[allow(clippy::cast_possible_truncation)] // a few points
            let bottom = strip::BELOW as i8;
            let inset = Margin { left: 14, right: 10, top: 0, bottom };
            let changes = Panel::bottom("changes")
                .exact_size(height)
                .resizable(false)
                .frame(Frame::new().outer_margin(inset))
                .show_separator_line(false)
                .show(ui, |ui| {
                    landmark(ui, Region::Offers, now, "What would help");
                    strip::show(ui, &strip, out);
                });
            regions.push((Region::Offers, changes.response.rect));
        }
        let inset = Margin { left: 14, right: 10, top: 0, bottom: 12 };
        let middle = CentralPanel::default().frame(sheet.outer_margin(inset)).show(ui, |ui| {
            landmark(ui, Region::Middle, now, "Running order");
            if self.session.shows_old_plan() {
                let words = "An old plan: of the lesson as it was before it could not be planned.";
                ui.add(egui::Label::new(RichText::new(say(words)).font(fonts::bold(15.0))).wrap());
                ui.multiply_opacity(OLD);
            }
            if !self.view.as_list {
                let middle = ui.available_rect_before_wrap().center().x;
                hints::show(ui, &self.hints(), Hint::Board, Points::Down(middle), out);
            }
            let Some(on_screen) = &on_screen else { return };
            let room = ui.available_rect_before_wrap();
            let corner = egui::Rect::from_min_size(room.min, vec2(room.width(), CLOCK_HEIGHT));
            let layout = Layout::left_to_right(Align::Center);
            let mut corner = ui.new_child(egui::UiBuilder::new().max_rect(corner).layout(layout));
            corner::show(&mut corner, (&self.session, &self.view), out);
            if self.view.as_list {
                ui.add_space(CLOCK_HEIGHT);
                list::show(ui, on_screen, out);
            } else {
                board::show(ui, on_screen, out);
            }
        });
        regions.push((Region::Middle, middle.response.rect));
        regions
    }
}
