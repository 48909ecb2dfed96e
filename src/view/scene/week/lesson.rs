//! A lesson of a week: between two bells that stand on its room's worktop, the ovens it
//! uses, and above them the class, how it stands and what is baked.

use super::{LETTERS, StandsOut, TOP, WeekPicture, skyline, words, worktop};
use crate::view::area::{Area, at};
use crate::view::board::Work;
use crate::view::scale::TimeScale;
use crate::view::scene::{
    Colour, Corners, Dash, Letters, Measure, Pattern, Pen, Place, Rect, Scene, Shape, Stretch,
    Text, TooLong, Weight, sign,
};
use crate::view::week::{Bar, Contents, Item, RoomRow};

/// In narrower lessons the class stands upright.
const UPRIGHT: f32 = 30.0;
/// Width of the mark of a verdict, its edge with it.
const MARK: f32 = 19.0;
/// Thickness of a bell.
const BELL: f32 = 2.0;
/// The same of what stands out.
pub(super) const CHOSEN: f32 = 3.0;

/// Adds what stands on a worktop: two bells from it upwards, and between them the
/// worktop itself where it is to be seen.
pub(super) fn stand(scene: &mut Scene, stretch: Stretch, area: Area, pen: Pen, with_worktop: bool) {
    let half = pen.width / 2.0;
    let (left, right, top, foot) = (area.x + half, area.right() - half, area.y, area.bottom());
    for x in [left, right] {
        scene.add_as(stretch, Shape::Line(vec![at(x, top), at(x, foot)], pen));
    }
    if with_worktop {
        let ends = vec![at(area.x, foot + half), at(area.right(), foot + half)];
        scene.add_as(stretch, Shape::Line(ends, pen));
    }
}

impl WeekPicture<'_> {
    /// A lesson or a booking in a room's row, all that it has there in this area.
    pub(super) fn lesson(
        &self,
        scene: &mut Scene,
        (of_room, area): (Area, Area),
        (row, bar): (&RoomRow, &Bar),
        scale: &TimeScale,
        out: &StandsOut,
        measure: &dyn Measure,
    ) {
        let stands_out =
            out.item == Some(Item::Entry(bar.entry)) || out.entries.contains(&bar.entry);
        let high = Area { h: worktop(of_room) - area.y, ..area };
        // What is above the ovens, so far down as the bells stand up.
        let names = self.top() - 4.0;
        let low = Area { y: high.y + names, h: high.h - names, ..high };
        let bell = match bar.contents {
            Contents::Lesson(None) | Contents::Unplanned => {
                Pen::new(Colour::Soft, 1.2).dashed(Dash::Edge)
            }
            Contents::Lesson(Some(_)) | Contents::Booking => Pen::new(Colour::Ink, BELL),
        };
        // Names are kept off the hatching of a room that is closed.
        let fill = Rect::filled(high, Corners::Square, Colour::Card);
        let ground = match bar.contents {
            Contents::Booking => Rect { pattern: (Pattern::Band, Colour::ClassEdge), ..fill },
            Contents::Lesson(_) | Contents::Unplanned => {
                Rect { area: Area { h: names, ..high }, ..fill }
            }
        };
        scene.add(Shape::Rect(ground));
        if bar.contents == Contents::Unplanned {
            let pattern = (Pattern::Hatched, Colour::Edge);
            let hatched = Rect { pattern, ..Rect::filled(low, Corners::Square, Colour::Card) };
            scene.add(Shape::Rect(hatched));
        }
        let within = Stretch { of: None, within: Some(area) };
        // What is out of order is seen through a lesson.
        let level = |count| self.ovens(of_room, row, count);
        let look = (Colour::Work(Work::Bake), Colour::WorkEdge(Work::Bake));
        skyline(scene, within, (scale, &bar.ovens), look, level);
        match stands_out {
            // Around it, so that a narrow one is not filled by its bells.
            true => {
                let around = Area { x: high.x - 2.0, w: high.w + 4.0, ..high };
                let pen = Pen { width: CHOSEN, ..bell };
                stand(scene, Stretch::default(), around, pen, true);
            }
            false => {
                let bells = if bar.contents == Contents::Booking { high } else { low };
                stand(scene, Stretch::default(), bells, bell, false);
            }
        }
        named(scene, (high, self.top()), bar, measure);
        if bar.held {
            let beside = area.w >= UPRIGHT;
            let x = if beside { area.right() - 8.0 } else { area.centre().x };
            let y = if beside { area.y + TOP - 7.0 } else { area.y + 17.0 };
            sign::lock(scene, within, at(x, y), 8.0);
        }
    }
}

/// The class, how it stands and what is baked, as far as there is room: along the bar,
/// or upwards in a narrow one.
fn named(scene: &mut Scene, (area, top): (Area, f32), bar: &Bar, measure: &dyn Measure) {
    let letters = Letters::bold(LETTERS, Colour::Ink);
    let wide = measure.width(&measure.said(&bar.class), LETTERS, Weight::Bold);
    let within = Stretch { of: None, within: Some(area) };
    let verdict = match bar.contents {
        Contents::Lesson(verdict) => verdict,
        Contents::Unplanned | Contents::Booking => None,
    };
    let mark = |scene: &mut Scene, x: f32, y: f32| {
        if let Some(verdict) = verdict {
            // As large as the bar allows.
            let mut alone = Scene::new((MARK, MARK));
            let middle = MARK / 2.0;
            sign::verdict(&mut alone, Stretch::default(), at(middle, middle), verdict);
            let by = ((area.w - 3.0) / MARK).min(1.0);
            scene.put(alone.scaled(by), at(x - by * middle, y - by * middle));
        }
    };
    if area.w >= 64.0 && bar.contents == Contents::Booking {
        let place = Place::left_top(at(area.x + 5.0, area.y + 3.0));
        let room = (area.w - 8.0, TooLong::Wrap(3));
        if let Some(text) = Text::fitted(&bar.class, letters, place, room, measure) {
            scene.add_as(within, Shape::Text(text));
        }
        return;
    }
    if area.w >= 64.0 {
        // Room for the class, its mark beside it, and what is baked below.
        let place = Place::left_top(at(area.x + 5.0, area.y + 3.0));
        words(scene, &bar.class, letters, place, area.w - 30.0, measure);
        mark(scene, area.right() - 14.0, area.y + 12.0);
        let place = Place::left_top(at(area.x + 5.0, area.y + 20.0));
        if bar.bake != bar.class {
            let letters = Letters::plain(LETTERS, Colour::Ink);
            let has_two = 2.0 * measure.height(LETTERS, Weight::Plain) <= top - 24.0;
            let too_long = if has_two { TooLong::Wrap(2) } else { TooLong::Cut };
            let room = (area.w - 8.0, too_long);
            if let Some(text) = Text::fitted(&bar.bake, letters, place, room, measure) {
                scene.add_as(within, Shape::Text(text));
            }
        }
        return;
    }
    if area.w >= UPRIGHT && wide <= area.w - 4.0 {
        let place = Place::centre(at(area.centre().x, area.y + 12.0));
        words(scene, &bar.class, letters, place, area.w, measure);
        mark(scene, area.centre().x, area.y + 30.0);
        if top > TOP && bar.bake != bar.class {
            let letters = Letters::plain(LETTERS, Colour::Ink);
            upright(scene, within, (area, top - 4.0), (&bar.bake, letters), top - TOP, measure);
        }
        return;
    }
    // Upright, below the mark and the padlock; its foot keeps clear of the ovens.
    let above = match (verdict.is_some(), bar.held) {
        (_, true) => 23.0,
        (true, false) => 13.0,
        (false, false) => 1.0,
    };
    mark(scene, area.centre().x, area.y + 6.5);
    // A booking has no ovens to keep clear of.
    let foot = if bar.contents == Contents::Booking { area.h - 3.0 } else { top - 4.0 };
    let name = match top > TOP && bar.bake != bar.class {
        true => format!("{} {}", bar.class, bar.bake),
        false => bar.class.clone(),
    };
    upright(scene, within, (area, foot), (&name, letters), foot - above, measure);
}

/// Words that stand upright in the middle of a bar, so far below its top, as long as
/// their room.
fn upright(
    scene: &mut Scene,
    within: Stretch,
    (area, foot): (Area, f32),
    (words, letters): (&str, Letters),
    room: f32,
    measure: &dyn Measure,
) {
    let high = measure.height(letters.size, letters.weight);
    let place = Place::left_top(at(area.centre().x - high / 2.0, area.y + foot));
    if let Some(text) = Text::fitted(words, letters, place, (room, TooLong::Cut), measure) {
        scene.add_as(within, Shape::Text(Text { upwards: true, ..text }));
    }
}
