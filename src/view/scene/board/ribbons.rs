//! Kit and adults: how much is in use, under a line at what is there.

use super::super::{Colour, Letters, Of, Place, Shape, Stretch, Text, TooLong, sign};
use super::Drawing;
use crate::view::area::{Area, at};
use crate::view::ribbons::Ribbon;

/// From the left edge of the board to a ribbon's name.
const NAME: f32 = 9.0;
/// From the clock to the end of a ribbon's numbers.
const COUNT: f32 = 12.0;
/// Room for these.
const COUNT_WIDTH: f32 = 62.0;

impl Drawing<'_> {
    pub(super) fn ribbons(&mut self) {
        let of = self.of;
        for (i, (ribbon, &place)) in of.board.ribbons.iter().zip(&of.laid.ribbons).enumerate() {
            if of.line(place).meets(&of.seen) {
                self.ribbon(Some(Of::Ribbon(i)), ribbon, place);
            }
        }
    }

    fn ribbon(&mut self, of: Option<Of>, ribbon: &Ribbon, (top, height): (f32, f32)) {
        let beside = Stretch { of, within: None };
        let middle = top + height / 2.0;
        let left = self.of.scale.left;
        let words = [
            (
                ribbon.name.clone(),
                Letters::plain(13.0, Colour::Ink),
                Place::left(at(NAME, middle)),
                left - NAME - COUNT_WIDTH - 10.0,
            ),
            (
                format!("{} of {}", ribbon.most, ribbon.there),
                Letters::plain(13.0, Colour::Soft),
                Place::right(at(left - COUNT, middle)),
                COUNT_WIDTH,
            ),
        ];
        for (words, letters, place, room) in words {
            let room = (room, TooLong::Cut);
            if let Some(text) = Text::fitted(&words, letters, place, room, self.measure) {
                self.scene.add_as(beside, Shape::Text(text));
            }
        }
        let along = self.along(of);
        let (bottom, high) = (top + height, height - 2.0);
        let most = ribbon.there.max(ribbon.most).max(1) as f32;
        for &(from, until, count) in &ribbon.used {
            let h = high * count as f32 / most;
            let (from, until) = (self.of.x(from), self.of.x(until));
            let used = Area::between(at(from, bottom - h), at(until, bottom));
            self.scene.add_as(along, Shape::Rect(sign::ribbon(used)));
        }
        let there = bottom - high * ribbon.there as f32 / most;
        let ends = (at(left, there), at(self.of.clock_end(), there));
        self.scene.add_as(along, sign::there(ends.0, ends.1));
    }
}
