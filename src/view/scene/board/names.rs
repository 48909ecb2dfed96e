//! Names on the left, each with a line under it.

use super::super::{Colour, Letters, Of, Place, Shape, Stretch, Text, TooLong, sign};
use super::{BoardPicture, Drawing, SECOND_LINE};
use crate::view::area::{Area, at};

/// From the left edge of the board to a name's field.
const LEFT: f32 = 4.0;
/// From a name's field to the clock.
const RIGHT: f32 = 8.0;
/// From the edges of a name's field to its words.
const INSIDE: (f32, f32) = (5.0, 1.0);

/// The padlock beside a name.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Locked {
    /// None.
    No,
    /// A small one, for some of the group.
    Some,
    /// A large one, for all of it.
    All,
}

/// A name and what stands beside and under it.
pub(super) struct Name<'a> {
    /// The name.
    pub title: &'a str,
    /// The line under it.
    pub under: &'a str,
    /// Room for a picture before it.
    pub indent: f32,
    /// Its padlock.
    pub locked: Locked,
    /// The colour of the name.
    pub colour: Colour,
}

impl BoardPicture<'_> {
    /// The field of the name of a row or an oven at this height.
    pub fn name_area(&self, (top, height): (f32, f32)) -> Area {
        Area { x: LEFT, y: top, w: self.scale.left - RIGHT - LEFT, h: height }
    }
}

impl Drawing<'_> {
    pub(super) fn name(&mut self, of: Option<Of>, place: (f32, f32), name: &Name<'_>) {
        let field = self.of.name_area(place);
        let stretch = Stretch { of, within: Some(field) };
        let mut room = field.w - 8.0 - name.indent;
        let lock = match name.locked {
            Locked::No => None,
            Locked::Some => Some((7.0, 25.0)),
            Locked::All => Some((9.0, 9.0)),
        };
        if let Some((size, y)) = lock {
            room -= 13.0;
            let middle = at(field.right() - 8.0, field.y + y);
            sign::lock(&mut self.scene, stretch, middle, size);
        }
        let lines = [
            (name.title, Letters::bold(14.0, name.colour), 0.0),
            (name.under, Letters::plain(13.0, Colour::Soft), SECOND_LINE),
        ];
        for (words, letters, down) in lines {
            let (x, y) = (field.x + INSIDE.0 + name.indent, field.y + INSIDE.1 + down);
            let place = Place::left_top(at(x, y));
            let room = (room, TooLong::Cut);
            if let Some(text) = Text::fitted(words, letters, place, room, self.measure) {
                self.scene.add_as(stretch, Shape::Text(text));
            }
        }
    }
}
