//! Odds over the board: a lens on each row, the row of the class, and where along
//! the clock it pays to look.

use super::super::{Colour, Letters, Of, Pen, Place, Scene, Shape, Stretch, Text, TooLong, sign};
use super::names::{Locked, Name};
use super::{BESIDE, BoardPicture, Drawing, SECOND_LINE, VERDICT, clock};
use crate::view::area::{Area, at};
use crate::view::odds::{LensOfRow, OddsOfBoard};

/// Height of the class's lens.
const OF_CLASS: f32 = 17.0;
/// Width of the bell in the class's row.
const BELL: f32 = 5.0;
/// From the bottom of the class's row to the hairline below it.
const RULE: f32 = 2.5;

impl BoardPicture<'_> {
    /// The lens of the class, if it is known.
    pub fn class_lens(&self) -> Option<Area> {
        let (top, height) = self.laid.class?;
        let lens = self.over.odds?.class.as_ref()?;
        let late = lens.late.map_or(self.clock_end(), |late| self.scale.x(late));
        let early = self.scale.x(lens.early);
        let y = top + (height - OF_CLASS) / 2.0;
        Some(Area { x: early, y, w: (late - early).max(0.0), h: OF_CLASS })
    }
}

impl Drawing<'_> {
    pub(super) fn odds(&mut self, odds: &OddsOfBoard) {
        let of = self.of;
        for (i, (lens, area)) in odds.rows.iter().zip(&of.laid.lenses).enumerate() {
            let (Some(lens), Some(area)) = (lens, area) else { continue };
            if area.meets(&of.seen) {
                let group = of.board.rows.get(i).map(|row| Of::Lens(row.group));
                self.lens(group, lens, *area);
            }
        }
        if let Some(place) = of.laid.class.filter(|&place| of.line(place).meets(&of.seen)) {
            self.class(odds, place);
        }
    }

    fn lens(&mut self, of: Option<Of>, lens: &LensOfRow, area: Area) {
        let stretch = self.along(of);
        let middle = lens.middle.map(|m| self.of.scale.x(m));
        sign::lens(&mut self.scene, stretch, area, middle, lens.late.is_some());
    }

    /// The row of the class: when the last one is ready, against a thick bell.
    fn class(&mut self, odds: &OddsOfBoard, place: (f32, f32)) {
        let of = self.of;
        let (top, height) = place;
        let under = if odds.class.is_some() { "last one ready" } else { "odds are worked out…" };
        let (title, colour) = ("The class", Colour::Ink);
        let name = Name { title, under, indent: 0.0, locked: Locked::No, colour };
        self.name(Some(Of::Class), place, &name);
        let x = of.x(of.board.until);
        let bell = vec![at(x, top), at(x, top + height)];
        let stretch = Stretch { of: Some(Of::Class), within: Some(self.ends().grown(BELL, 0.0)) };
        self.scene.add_as(stretch, Shape::Line(bell, Pen::new(Colour::Ink, BELL)));
        if let (Some(lens), Some(area)) = (&odds.class, of.class_lens()) {
            self.lens(Some(Of::Class), lens, area);
            self.ready_of_class(&lens.ready, top);
        }
        let rule = top + height + RULE;
        let ends = vec![at(0.0, rule), at(of.size.0, rule)];
        self.scene.add(Shape::Line(ends, Pen::new(Colour::Line, 1.0)));
    }

    fn ready_of_class(&mut self, words: &[String; 2], top: f32) {
        let x = self.of.clock_end() + VERDICT + BESIDE;
        let stretch = Stretch { of: Some(Of::Class), within: None };
        let lines = [
            (Letters::bold(14.0, Colour::Ink), 0.0),
            (Letters::plain(13.0, Colour::Soft), SECOND_LINE),
        ];
        for (words, (letters, down)) in words.iter().zip(lines) {
            let place = Place::left_top(at(x, top + down));
            let room = (self.of.size.0 - x - 1.0, TooLong::Cut);
            if let Some(text) = Text::fitted(words, letters, place, room, self.measure) {
                self.scene.add_as(stretch, Shape::Text(text));
            }
        }
    }
}

/// Half-discs at the bottom of the clock where it pays to look.
pub(super) fn looks(scene: &mut Scene, of: &BoardPicture<'_>) {
    for look in of.over.odds.map(|odds| odds.looks.as_slice()).unwrap_or_default() {
        let x = of.x(look.at);
        if !(of.scale.left..=of.clock_end()).contains(&x) {
            continue;
        }
        let stretch = Stretch { of: Some(Of::Look(look.at)), within: None };
        scene.add_as(stretch, sign::look(at(x, clock::HEIGHT)));
    }
}
