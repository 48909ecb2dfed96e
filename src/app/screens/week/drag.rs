//! A lesson dragged along its row, to another room or to another day: tracks show
//! where it could be, and what it is let go on is tried on the picture.

use eframe::egui::{Key, Painter, Rect, Response, Stroke, Ui, pos2};

use super::board::OnPicture;
use crate::app::looks::theme::Palette;
use crate::app::state::Commands;
use crate::session::WeekCommand;
use crate::view::scene::week::BELOW;
use crate::week::{Change, Entry, EntryNo, Move, Slot, free_slots};

/// How far the bells stand up of a place that it is not over.
const LOW: f32 = 14.0;

/// A lesson that is dragged.
pub(super) struct Dragged {
    /// Where it could be: places on the picture, one in each room.
    tracks: Vec<(Vec<Rect>, Slot)>,
    /// The number of the track it is over.
    over: Option<usize>,
}

/// Whether a lesson can be dragged: what is held cannot, and nothing while a change is
/// tried.
pub(super) fn can_be_dragged<'a>(on: &OnPicture<'a>, entry: EntryNo) -> Option<&'a Entry> {
    let entry = on.shown.week.entry(entry)?;
    (!entry.held && entry.lesson().is_some() && on.shown.tried().is_none()).then_some(entry)
}

/// Follows the hand; what is let go on a track is tried.
pub(super) fn follow(
    ui: &Ui,
    on: &OnPicture<'_>,
    (entry, response): (&Entry, &Response),
    out: &mut Commands,
) -> Option<Dragged> {
    let is_let_go = response.drag_stopped();
    if !response.dragged() && !is_let_go {
        return None;
    }
    if ui.input(|i| i.key_pressed(Key::Escape)) {
        ui.ctx().stop_dragging();
        return None;
    }
    let tracks: Vec<(Vec<Rect>, Slot)> = free_slots(on.shown.week, entry)
        .into_iter()
        .map(|slot| (on.picture.of_slot(&slot).iter().map(|area| on.place(area)).collect(), slot))
        .collect();
    let pointer = response.interact_pointer_pos();
    let over = pointer.and_then(|at| {
        tracks.iter().position(|(places, _)| places.iter().any(|place| place.contains(at)))
    });
    if is_let_go {
        let slot = over.map(|number| tracks[number].1.clone());
        out.extend(slot.map(|slot| {
            let change = Change::Move(Move::Elsewhere(entry.number, slot));
            crate::session::Command::Week(WeekCommand::Try(change))
        }));
        return None;
    }
    Some(Dragged { tracks, over })
}

/// Draws where it could be: bells on the worktop, as a lesson there would have them.
pub(super) fn draw(painter: &Painter, dragged: &Dragged, palette: &Palette) {
    for (number, (places, _)) in dragged.tracks.iter().enumerate() {
        let is_over = dragged.over == Some(number);
        for place in places {
            let width = if is_over { 4.0 } else { 2.0 };
            let foot = place.bottom() - BELOW + width / 2.0;
            let top = if is_over { place.top() } else { foot - LOW };
            let between = Rect::from_x_y_ranges(place.x_range(), top..=foot);
            if is_over {
                painter.rect_filled(between, 0.0, palette.chosen.gamma_multiply(0.6));
            }
            let (left, right) = (between.left() + width / 2.0, between.right() - width / 2.0);
            let ends = [pos2(left, top), pos2(left, foot), pos2(right, foot), pos2(right, top)];
            painter.line(ends.to_vec(), Stroke::new(width, palette.focus));
        }
    }
}
