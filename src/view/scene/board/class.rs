//! The class's own steps through all rows, the lines of the clock, the bells.

use super::super::{
    Colour, Corners, Letters, Of, Pen, Place, Rect, Shape, Stretch, Text, TooLong, sign,
};
use super::Drawing;
use crate::finding::shortened;
use crate::view::area::{Area, at};
use crate::view::board::{Band, BarId};

/// Size of the names of the class's own steps.
const NAME: f32 = 13.0;
/// From the top of the board to the end of a name that is written upwards.
const ABOVE: f32 = 8.0;

impl Drawing<'_> {
    /// The class's own steps.
    pub(super) fn bands(&mut self) {
        for band in &self.of.board.bands {
            let area = self.band(band);
            let stretch = self.along(Some(Of::Bar(BarId::Class(band.step))));
            // Hatched where it is seen, so that scrolling costs no more.
            let seen = Area { x: area.x, w: area.w, ..area.shared(&self.of.seen) };
            self.scene.add_as(stretch, Shape::Rect(sign::class_band(seen)));
            let edges = self.along(None);
            for x in [area.x, area.right()] {
                let pen = Pen::new(Colour::ClassEdge, 1.0);
                let ends = vec![at(x, area.y), at(x, area.bottom())];
                self.scene.add_as(edges, Shape::Line(ends, pen));
            }
        }
    }

    fn band(&self, band: &Band) -> Area {
        let (from, until) = (self.of.x(band.from), self.of.x(band.until));
        Area { x: from, y: 0.0, w: until - from, h: self.of.size.1 }
    }

    /// Their names, over the lines of the rows.
    pub(super) fn band_names(&mut self) {
        for band in &self.of.board.bands {
            let area = self.band(band);
            let stretch = self.along(Some(Of::Bar(BarId::Class(band.step))));
            if band.during {
                self.between(stretch, area, &band.name);
            } else {
                self.upwards(stretch, area, &band.name);
            }
        }
    }

    /// A name written in the gap between rows and ovens, where no bar covers it.
    fn between(&mut self, stretch: Stretch, band: Area, name: &str) {
        let place = Place::centre(at(band.centre().x, self.of.laid.gap + ABOVE));
        let room = (self.of.scale.width, TooLong::Cut);
        let letters = Letters::plain(NAME, Colour::Ink);
        let text = Text::fitted(&shortened(name, 30), letters, place, room, self.measure);
        let Some(text) = text else { return };
        let patch = text.area(self.measure).grown(3.0, 0.0);
        let patch = Rect::filled(patch, Corners::Round(3.0), Colour::Class);
        self.scene.add_as(stretch, Shape::Rect(patch));
        self.scene.add_as(stretch, Shape::Text(text));
    }

    /// A name written upwards at the top of a band.
    fn upwards(&mut self, stretch: Stretch, band: Area, name: &str) {
        let letters = Letters::plain(NAME, Colour::Ink);
        let height = self.measure.height(NAME, letters.weight);
        if height > band.w + 5.0 {
            return;
        }
        let top = self.top_of_name(&band);
        let room = (self.of.size.1 - top, TooLong::Cut);
        let place = Place::left_top(at(band.centre().x - height / 2.0, top));
        let text = Text::fitted(&shortened(name, 22), letters, place, room, self.measure);
        let Some(mut text) = text else { return };
        text.upwards = true;
        text.place.at.y += text.size(self.measure).0;
        // A patch behind the words keeps the hatching off them.
        let patch = text.area(self.measure).grown(1.0, 3.0);
        let patch = Rect::filled(patch, Corners::Round(2.0), Colour::Class);
        self.scene.add_as(stretch, Shape::Rect(patch));
        self.scene.add_as(stretch, Shape::Text(text));
    }

    /// Where a name that is written upwards ends: at the top of the board, or
    /// below the rows where lenses lie in its band.
    fn top_of_name(&self, band: &Area) -> f32 {
        let laid = self.of.laid;
        let crossed = laid.lenses.iter().flatten().any(|lens| {
            let shared = lens.shared(band);
            shared.w > 0.0 && shared.h > 0.0
        });
        if crossed { laid.gap + ABOVE } else { ABOVE }
    }

    /// Lines of the clock and the bells.
    pub(super) fn grid(&mut self) {
        let scale = self.of.scale;
        let bottom = self.of.size.1;
        let tick = scale.tick(20.0);
        let mut minute = (scale.from / tick as f32).ceil() as i32 * tick;
        let along = self.along(None);
        while (minute as f32) < scale.until {
            let x = scale.x(minute as f32);
            let ends = vec![at(x, 0.0), at(x, bottom)];
            self.scene.add_as(along, Shape::Line(ends, Pen::new(Colour::Line, 1.0)));
            minute += tick;
        }
        for &bell in &self.of.board.bells {
            let x = self.of.x(bell);
            if (scale.left - 1.0..=self.of.clock_end() + 1.0).contains(&x) {
                let stretch = Stretch { of: Some(Of::Bell(bell)), within: None };
                let ends = vec![at(x, 0.0), at(x, bottom)];
                self.scene.add_as(stretch, Shape::Line(ends, Pen::new(Colour::Ink, 2.5)));
            }
        }
    }
}
