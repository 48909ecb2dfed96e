//! Ovens: cabinets, shelves as lanes, the temperature that climbs first.

use super::super::{
    Colour, Corners, Letters, Of, Pen, Place, Rect, Shape, Stretch, Text, TooLong, sign,
};
use super::Drawing;
use super::names::{Locked, Name};
use crate::view::area::{Area, at};
use crate::view::ovens::OvenLane;

/// From the left edge of the board to a cabinet.
const CABINET: f32 = 9.0;
/// Width of a cabinet, and its height at most.
const CABINET_SIZE: (f32, f32) = (22.0, 44.0);
/// Room for a cabinet beside its name.
const INDENT: f32 = 30.0;
/// From the right end of the clock to how many tins an oven has.
const TINS: f32 = 14.0;

impl Drawing<'_> {
    pub(super) fn ovens(&mut self) {
        let of = self.of;
        let places = of.laid.ovens.iter().zip(&of.laid.shelves);
        for (lane, (&place, tops)) in of.board.ovens.iter().zip(places.clone()) {
            if !of.line(place).meets(&of.seen) {
                continue;
            }
            let (title, under) = (lane.name.as_str(), lane.state.as_str());
            let name =
                Name { title, under, indent: INDENT, locked: Locked::No, colour: Colour::Ink };
            self.name(Some(Of::Oven(lane.oven)), place, &name);
            self.cabinet(lane, place);
            self.shelves(Some(Of::Oven(lane.oven)), tops);
            self.temperature(lane, tops);
            self.fullest(lane, place.0);
        }
        let more = of.over.ghosts.map(|g| g.ovens.iter().zip(places));
        for (oven, (&place, tops)) in more.into_iter().flatten().skip(of.board.ovens.len()) {
            if of.line(place).meets(&of.seen) {
                self.only_there(place, (&oven.name, &oven.state));
                self.shelves(None, tops);
            }
        }
    }

    fn cabinet(&mut self, lane: &OvenLane, (top, height): (f32, f32)) {
        let stretch = Stretch { of: Some(Of::Oven(lane.oven)), within: None };
        let (w, most) = CABINET_SIZE;
        let area = Area { x: CABINET, y: top + 2.0, w, h: (height - 4.0).min(most) };
        let pen = Pen::new(Colour::Ink, 1.5);
        let cabinet = Rect::outlined(area, Corners::Round(3.0), pen);
        self.scene.add_as(stretch, Shape::Rect(cabinet));
        let count = lane.shelves.len().max(1);
        for i in 0..count {
            let y = area.y + area.h * (i as f32 + 1.0) / (count as f32 + 1.0);
            let ends = vec![at(area.x + 4.0, y), at(area.right() - 4.0, y)];
            self.scene.add_as(stretch, Shape::Line(ends, pen));
        }
        if lane.out_of_order {
            let ends = vec![at(area.x, area.y), at(area.right(), area.bottom())];
            let pen = Pen::new(Colour::Wrong, 2.0);
            self.scene.add_as(stretch, Shape::Line(ends, pen));
        }
    }

    fn shelves(&mut self, of: Option<Of>, tops: &[f32]) {
        let along = self.along(of);
        let (left, right) = (self.of.scale.left, self.of.clock_end());
        for &top in tops {
            let ends = vec![at(left, top), at(right, top)];
            self.scene.add_as(along, Shape::Line(ends, Pen::new(Colour::Line, 1.0)));
        }
    }

    fn temperature(&mut self, lane: &OvenLane, tops: &[f32]) {
        let (Some(first), Some(last)) = (tops.first(), tops.last()) else { return };
        let height = last - first;
        let y = |share: f32| first + height - 1.0 - share * (height - 2.0);
        let corners = lane.temperature.iter();
        let points: Vec<_> =
            corners.map(|&(minute, share)| at(self.of.x(minute), y(share))).collect();
        if points.len() > 1 {
            let along = self.along(Some(Of::Oven(lane.oven)));
            self.scene.add_as(along, sign::heat(points));
        }
    }

    /// How many tins it has when it is fullest, on the right.
    fn fullest(&mut self, lane: &OvenLane, top: f32) {
        let Some((_, _, tins)) = lane.fullest else { return };
        let x = self.of.clock_end() + TINS;
        let words = if tins == 1 { "1 tin".to_owned() } else { format!("{tins} tins") };
        let letters = Letters::plain(13.0, Colour::Soft);
        let place = Place::left_top(at(x, top + 1.0));
        let room = (self.of.size.0 - x, TooLong::Cut);
        let stretch = Stretch { of: Some(Of::Oven(lane.oven)), within: None };
        if let Some(text) = Text::fitted(&words, letters, place, room, self.measure) {
            self.scene.add_as(stretch, Shape::Text(text));
        }
    }
}
