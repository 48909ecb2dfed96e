//! What there is to tell, over the foot of what fills the window: it comes and
//! goes without moving anything.

use eframe::egui::accesskit::Live;
use eframe::egui::{self, Align2, Area, Id, Margin, Order, Rect, RichText, Stroke, Ui, vec2};

use crate::app::looks::button::button;
use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::Commands;
use crate::hand::words;
use crate::session::{Command as LessonCommand, Session};

/// Shows it over the foot of a part of the window.
pub fn show(ui: &Ui, over: Rect, session: &Session, out: &mut Commands) {
    let contradiction = contradiction(session);
    if session.message().is_none() && contradiction.is_none() {
        return;
    }
    let palette = Palette::of(ui.ctx());
    let air = 22.0;
    let width = (over.width() - 2.0 * air).max(120.0);
    let area = Area::new(Id::unique("foot")).order(Order::Middle).pivot(Align2::LEFT_BOTTOM);
    area.fixed_pos(over.left_bottom() + vec2(air, -air)).show(ui.ctx(), |ui| {
        let frame = egui::Frame::new()
            .fill(palette.card)
            .stroke(Stroke::new(2.0, palette.ink))
            .corner_radius(6)
            .inner_margin(Margin::symmetric(10, 6));
        frame.show(ui, |ui| {
            ui.set_max_width(width - 24.0);
            if let Some(message) = session.message() {
                ui.horizontal_wrapped(|ui| {
                    told(ui, message);
                    button(ui, true, LessonCommand::Dismiss, None, out);
                });
            }
            if let Some(found) = contradiction {
                told(ui, &found.0);
                ui.horizontal_wrapped(|ui| {
                    for (words, command) in found.1 {
                        if ui.button(say(words)).clicked() {
                            out.push(command);
                        }
                    }
                });
            }
        });
    });
}

/// Words that are heard when they come.
fn told(ui: &mut Ui, words: &str) {
    let text = RichText::new(say(words)).font(fonts::bold(14.5));
    let label = ui.add(egui::Label::new(text).wrap());
    ui.ctx().accesskit_node_builder(label.id, |node| node.set_live(Live::Polite));
}

/// What is said of locks that cannot all be kept, and the way to let go of each.
type Contradiction = (String, Vec<(String, LessonCommand)>);

fn contradiction(session: &Session) -> Option<Contradiction> {
    let doc = session.document()?;
    let (revision, found) = session.moving().contradiction.as_ref()?;
    let lesson = doc.lesson().filter(|_| doc.revision() == *revision)?;
    let sentence = format!("What is held contradicts itself: {}", found.sentence);
    let locks = found.locks.iter().filter_map(|&i| lesson.locks.get(i));
    let let_go = locks.map(|lock| {
        let words = format!("Let go: {}", words::lock_words(lesson, lock));
        (words, LessonCommand::LetGo(lock.clone()))
    });
    Some((sentence, let_go.collect()))
}
