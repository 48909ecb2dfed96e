//! The strip of pages: each small, with grey for its lines of words.

use eframe::egui::{
    Color32, Id, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::{Shown, choose};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Commands, PapersChoice};
use crate::papers::page::Mark;

/// Air above and below a page.
const AIR: f32 = 8.0;
/// How dark lines of words are.
const WORDS: u8 = 120;

/// Shows the strip, so high.
pub fn show(ui: &mut Ui, (shown, now): (&[Shown<'_>], usize), height: f32, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    let high = (height - 2.0 * AIR - ui.spacing().scroll.allocated_width()).max(20.0);
    let key = Id::unique("page whose thumbnail was in sight");
    let last = ui.data_mut(|data| data.get_temp::<(usize, usize)>(key));
    ui.data_mut(|data| data.insert_temp(key, (now, shown.len())));
    for (i, of) in shown.iter().enumerate() {
        let zoom = high / of.page.size.1;
        let size = zoom * vec2(of.page.size.0, of.page.size.1);
        let (rect, response) = ui.allocate_exact_size(size, Sense::click());
        let name = format!("Page {}, {}", i + 1, of.name());
        response.widget_info(|| WidgetInfo::selected(Role::Button, true, i == now, say(&name)));
        // Once another page is looked at its thumbnail comes into sight.
        if i == now && last != Some((now, shown.len())) {
            response.scroll_to_me(None);
        }
        if response.clicked() {
            out.push(choose(PapersChoice::Page(i)));
        }
        if ui.is_rect_visible(rect) {
            ui.painter().rect_filled(rect, 0.0, Color32::WHITE);
            for mark in of.page.pieces.iter().flat_map(|piece| &piece.marks) {
                if let Mark::Words(words) = mark {
                    let area = words.area.scaled(zoom);
                    let line = Rect::from_min_size(
                        rect.min + vec2(area.x, area.y + 0.3 * area.h),
                        vec2(area.w, 0.4 * area.h),
                    );
                    ui.painter().rect_filled(line, 0.0, Color32::from_gray(WORDS));
                } else if let Mark::Scene(at, scene, own) = mark {
                    let own = zoom * own;
                    let min = rect.min + zoom * pos2(at.x, at.y).to_vec2();
                    let picture = Rect::from_min_size(min, own * vec2(scene.size.0, scene.size.1));
                    let stroke = Stroke::new(0.5, Color32::from_gray(WORDS));
                    ui.painter().rect_stroke(picture, 0.0, stroke, StrokeKind::Inside);
                }
            }
            let edge = match (response.has_focus(), i == now) {
                (true, _) => Stroke::new(3.0, palette.focus),
                (false, true) => Stroke::new(2.5, palette.ink),
                (false, false) => Stroke::new(1.0, palette.edge),
            };
            ui.painter().rect_stroke(rect, 0.0, edge, StrokeKind::Outside);
        }
        response.on_hover_text(say(name));
    }
}
