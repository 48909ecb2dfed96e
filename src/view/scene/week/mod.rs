//! A week along its clock: a row for each room with a length of its worktop for each
//! day, on which lessons stand between their bells with the ovens they use against the
//! line of those that work; below, ribbons of what rooms share, with what is wanted
//! beyond the line.

mod lesson;

use chrono::NaiveDate;

use self::lesson::stand;
use super::{
    Colour, Corners, Dash, Letters, Measure, Pattern, Pen, Place, Rect, Scene, Shape, Stretch,
    Text, TooLong, rehearsal, sign,
};
use crate::units::{ClockTime, Minutes};
use crate::view::area::{Area, Point, at};
use crate::view::scale::TimeScale;
use crate::view::week::{
    Column, Item, RibbonOfDay, RoomOfDay, RoomRow, TroubleId, WeekBoard, WeekRibbon,
};
use crate::week::{EntryNo, RoomNo, Slot, Span};

/// Height of the days' names.
pub const HEAD: f32 = 26.0;
/// Height of the bells' times below them, where one day is shown.
const BELLS: f32 = 20.0;
/// Room for the names of rows.
pub const NAMES: f32 = 132.0;
/// Air between two days, by which they are told apart.
const NIGHT: f32 = 20.0;
/// Air at the right end.
const RIGHT: f32 = 6.0;
/// Height of a ribbon, and where there is little height.
const RIBBON: (f32, f32) = (46.0, 36.0);
/// Less than this is little.
const LITTLE: f32 = 450.0;
/// Least and greatest height of a room's row.
const ROOM: (f32, f32) = (76.0, 240.0);
/// From this height on a lesson has room for what is baked, upright below the class.
const HIGH: f32 = 190.0;
/// Air above and below what is in a row.
const AIR: f32 = 4.0;
/// What a lesson has above its ovens: the class, and how it stands.
const TOP: f32 = 48.0;
/// From what height on a row of one day has two lines for what is baked, and what a
/// lesson then has above its ovens.
const TWO_LINES: (f32, f32) = (96.0, 62.0);
/// The same where there is room for what is baked upright.
const HIGH_TOP: f32 = 152.0;
/// What is below a worktop: its thickness, and the notches of its bells.
pub const BELOW: f32 = 5.0;
/// Thickness of a worktop.
const WORKTOP: f32 = 2.0;
/// Length of the notch of a bell, below a worktop and below a ribbon.
const NOTCH: f32 = 3.0;
/// Width and height of a room's ovens on its worktop, and the air between two.
const OVEN: (f32, f32, f32) = (12.0, 17.0, 2.2);
/// Size of letters.
const LETTERS: f32 = 13.0;
/// Least width of a stretch of a ribbon, so that it is seen.
const LEAST: f32 = 2.0;
/// Least width of what is too many.
const OVER: f32 = 5.0;

/// A week as it is painted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeekPicture<'a> {
    /// The week.
    pub board: &'a WeekBoard,
    /// The one day that is shown; all of them if `None`.
    pub day: Option<NaiveDate>,
    /// Width of the picture.
    pub width: f32,
    /// The height there is for it.
    pub height: f32,
}

/// What stands out in the picture.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StandsOut {
    /// What is selected.
    pub item: Option<Item>,
    /// Lessons that are in it.
    pub entries: Vec<EntryNo>,
    /// Where lessons were before the change that is tried: the day, the room, from and
    /// until.
    pub before: Vec<(NaiveDate, RoomNo, Minutes, Minutes)>,
}

impl WeekPicture<'_> {
    /// The height the picture takes.
    pub fn whole_height(&self) -> f32 {
        self.ribbons_top() + self.ribbon_height() * self.board.ribbons.len() as f32 + AIR
    }

    fn ribbon_height(&self) -> f32 {
        if self.height < LITTLE { RIBBON.1 } else { RIBBON.0 }
    }

    /// Height of the days' names, and of bells where they are shown.
    pub fn head(&self) -> f32 {
        if self.day.is_some() { HEAD + BELLS } else { HEAD }
    }

    fn room_height(&self) -> f32 {
        let ribbons = self.ribbon_height() * self.board.ribbons.len() as f32 + AIR;
        let rooms = self.board.rooms.len().max(1) as f32;
        ((self.height - self.head() - ribbons) / rooms).clamp(ROOM.0, ROOM.1)
    }

    fn ribbons_top(&self) -> f32 {
        self.head() + self.room_height() * self.board.rooms.len() as f32
    }

    fn shown(&self) -> impl Iterator<Item = (usize, &Column)> {
        let day = self.day;
        let all = self.board.days.iter().enumerate();
        all.filter(move |(_, column)| day.is_none_or(|day| column.date == day))
    }

    /// Each day that is shown with its stretch of the width, as long as its day is.
    pub fn days(&self) -> Vec<(usize, TimeScale)> {
        let long = |c: &Column| (c.until - c.from).get().max(1) as f32;
        let all: f32 = self.shown().map(|(_, c)| long(c)).sum();
        let nights = NIGHT * self.shown().count().saturating_sub(1) as f32;
        let room = (self.width - NAMES - RIGHT - nights).max(60.0);
        let mut left = NAMES;
        let mut scales = Vec::new();
        for (i, column) in self.shown() {
            let width = room * long(column) / all.max(1.0);
            let (from, until) = (column.from.get() as f32, column.until.get() as f32);
            scales.push((i, TimeScale { from, until, left, width }));
            left += width + NIGHT;
        }
        scales
    }

    fn scale(&self, day: usize) -> Option<TimeScale> {
        self.days().into_iter().find(|(i, _)| *i == day).map(|(_, scale)| scale)
    }

    /// Where the name of a day is.
    pub fn day_head(&self, day: usize) -> Option<Area> {
        let scale = self.scale(day)?;
        Some(Area { x: scale.left, y: 0.0, w: scale.width, h: HEAD })
    }

    /// A room's row.
    fn row(&self, number: usize) -> Area {
        let h = self.room_height();
        Area { x: 0.0, y: self.head() + h * number as f32, w: self.width, h }
    }

    /// Where the name of a room is.
    pub fn room_head(&self, room: RoomNo) -> Option<Area> {
        let number = self.board.rooms.iter().position(|row| row.room == room)?;
        let row = self.row(number);
        Some(Area { w: NAMES - 6.0, ..row }.grown(0.0, -AIR))
    }

    /// Where a lesson is, in each of its rooms.
    pub fn bar(&self, entry: EntryNo) -> Vec<Area> {
        let mut all = Vec::new();
        for (number, row) in self.board.rooms.iter().enumerate() {
            for (day, scale) in self.days() {
                let bars = row.days[day].bars.iter().filter(|bar| bar.entry == entry);
                all.extend(bars.map(|bar| self.of_bar(number, &scale, (bar.from, bar.until))));
            }
        }
        all
    }

    /// Where a lesson would be in a slot, in each of its rooms; nothing on a day that is
    /// not shown.
    pub fn of_slot(&self, slot: &Slot) -> Vec<Area> {
        let midnight = crate::units::ClockTime::MIDNIGHT;
        let of_day = |time: crate::units::ClockTime| time.minutes_since(midnight);
        let span = (of_day(slot.start()), of_day(slot.end()));
        let days = self.days();
        let is_it = |(day, _): &&(usize, TimeScale)| self.board.days[*day].date == slot.date;
        let Some((_, scale)) = days.iter().find(is_it) else { return Vec::new() };
        let row = |room: &RoomNo| self.board.rooms.iter().position(|row| row.room == *room);
        slot.rooms.iter().filter_map(row).map(|row| self.of_bar(row, scale, span)).collect()
    }

    fn of_bar(&self, row: usize, scale: &TimeScale, (from, until): (Minutes, Minutes)) -> Area {
        let row = self.row(row);
        let (x, right) = (scale.x(from.get() as f32), scale.x(until.get() as f32));
        Area { x: x + 0.5, y: row.y + AIR, w: (right - x - 1.0).max(3.0), h: row.h - 2.0 * AIR }
    }

    /// The ribbon of this number.
    pub fn ribbon(&self, number: usize) -> Area {
        let h = self.ribbon_height();
        Area { x: 0.0, y: self.ribbons_top() + h * number as f32, w: self.width, h }
    }

    /// Where what is too many is, on its ribbon.
    pub fn over(&self, id: TroubleId) -> Option<Area> {
        let (ribbon, day, span) = self.board.over(id)?;
        let (of, scale) = (&self.board.ribbons[ribbon], self.scale(day)?);
        Some(self.of_over((ribbon, of), &of.days[day], &scale, span))
    }

    fn of_over(
        &self,
        (number, ribbon): (usize, &WeekRibbon),
        day: &RibbonOfDay,
        scale: &TimeScale,
        span: &Span,
    ) -> Area {
        let (top, bottom) =
            (self.level(number, ribbon, span.count), self.level(number, ribbon, day.there));
        let (x, w) = stretch(scale, span, OVER);
        Area { x, y: top, w, h: (bottom - top).max(4.0) }
    }

    /// The height of so many on a ribbon.
    fn level(&self, number: usize, ribbon: &WeekRibbon, count: u32) -> f32 {
        let row = self.ribbon(number);
        let unit = (row.h - 8.0 - BELOW) / ribbon.most.max(1) as f32;
        row.bottom() - BELOW - unit * count as f32
    }

    /// Its picture.
    pub fn scene(&self, out: &StandsOut, measure: &dyn Measure) -> Scene {
        let mut scene = Scene::new((self.width, self.whole_height()));
        self.ground(&mut scene, measure);
        for (number, row) in self.board.rooms.iter().enumerate() {
            self.room(&mut scene, (number, row), out, measure);
        }
        for (number, ribbon) in self.board.ribbons.iter().enumerate() {
            self.one_ribbon(&mut scene, (number, ribbon), out, measure);
        }
        scene
    }

    /// Names of days, and of bells where one day is shown.
    fn ground(&self, scene: &mut Scene, measure: &dyn Measure) {
        for (day, scale) in self.days() {
            let column = &self.board.days[day];
            let letters = Letters::bold(14.0, Colour::Ink);
            let title = match self.day {
                Some(date) => date.format("%A %-d %B").to_string(),
                None => column.title.clone(),
            };
            let place = Place::left(at(scale.left, HEAD / 2.0));
            words(scene, &title, letters, place, scale.width, measure);
            if self.day.is_none() {
                continue;
            }
            let mut said = f32::MIN;
            for (from, until, name) in &column.bells {
                let (x, right) = (scale.x(from.get() as f32), scale.x(until.get() as f32));
                if said <= x {
                    let bell = vec![at(x, HEAD), at(x, self.head() - AIR)];
                    scene.add(Shape::Line(bell, Pen::new(Colour::Ink, 2.0)));
                    let told = format!("{name} {}", ClockTime::MIDNIGHT.after(*from));
                    let letters = Letters::plain(LETTERS, Colour::Soft);
                    let place = Place::left(at(x + 5.0, HEAD + BELLS / 2.0 - 2.0));
                    words(scene, &told, letters, place, right - x - 8.0, measure);
                    said = right;
                }
            }
        }
    }

    /// A line as long as a day, with a notch below it for each bell.
    fn notched(&self, scene: &mut Scene, (day, scale): (usize, &TimeScale), y: f32, pen: Pen) {
        let ends = vec![at(scale.left, y), at(scale.left + scale.width, y)];
        scene.add(Shape::Line(ends, pen));
        let bells = self.board.days[day].bells.iter().flat_map(|(from, until, _)| [from, until]);
        let mut minutes: Vec<&Minutes> = bells.collect();
        minutes.dedup();
        for minute in minutes {
            let x = scale.x(minute.get() as f32);
            let notch = vec![at(x, y), at(x, y + pen.width / 2.0 + NOTCH)];
            scene.add(Shape::Line(notch, Pen { width: 1.0, ..pen }));
        }
    }

    fn room(
        &self,
        scene: &mut Scene,
        (number, row): (usize, &RoomRow),
        out: &StandsOut,
        measure: &dyn Measure,
    ) {
        let area = self.row(number);
        self.at_its_worktop(scene, area, row);
        if out.item == Some(Item::Room(row.room)) {
            let head = Area { x: 1.0, y: area.y + AIR, w: NAMES - 14.0, h: 0.0 };
            let head = Area { h: worktop(area) - head.y, ..head };
            stand(scene, Stretch::default(), head, Pen::new(Colour::Ink, lesson::CHOSEN), true);
        }
        let room = NAMES - 16.0;
        let place = Place::left(at(8.0, area.y + AIR + 14.0));
        words(scene, &row.name, Letters::bold(14.0, Colour::Ink), place, room, measure);
        let place = Place::left(at(8.0, area.y + AIR + 32.0));
        words(scene, &row.ovens, Letters::plain(LETTERS, Colour::Soft), place, room, measure);
        for (day, scale) in self.days() {
            let of_day = &row.days[day];
            self.working((scene, area), row, of_day, &scale, measure);
            for bar in &of_day.bars {
                let place = self.of_bar(number, &scale, (bar.from, bar.until));
                self.lesson(scene, (area, place), (row, bar), &scale, out, measure);
            }
            // Where fewer work than there are, a line through all lessons.
            self.line(scene, area, row, of_day, &scale);
            let pen = Pen::new(Colour::Ink, WORKTOP);
            self.notched(scene, (day, &scale), worktop(area) + WORKTOP / 2.0, pen);
            for (date, room, from, until) in &out.before {
                if *date == self.board.days[day].date && *room == row.room {
                    let stood = self.of_bar(number, &scale, (*from, *until));
                    let stood = Area { h: worktop(area) - stood.y, ..stood };
                    let pen = Pen::new(Colour::Ink, 1.5).dashed(Dash::Outline);
                    stand(scene, Stretch::default(), stood, pen, true);
                }
            }
        }
    }

    /// The ovens a room has, as far as the week says, on its worktop.
    fn at_its_worktop(&self, scene: &mut Scene, row: Area, of: &RoomRow) {
        let y = worktop(row) + WORKTOP / 2.0;
        let (left, right) = (8.0, NAMES - 20.0);
        scene.add(Shape::Line(vec![at(left, y), at(right, y)], Pen::new(Colour::Ink, WORKTOP)));
        let said = of.days.iter().filter(|day| day.there.is_some());
        let ovens = said.map(|day| day.all).max().unwrap_or(0);
        let (w, h, gap) = OVEN;
        let step = (w + gap).min((right - left - w) / ovens.saturating_sub(1).max(1) as f32);
        // Where they would lie over one another their number is said in words alone.
        if ovens == 0 || step < w {
            return;
        }
        for oven in 0..ovens {
            let mut cabinet = rehearsal::cabinet(&[], false, (w, h));
            // Its door begins below its knobs.
            let door = vec![at(0.0, 0.3 * h), at(w, 0.3 * h)];
            cabinet.add(Shape::Line(door, Pen::new(Colour::Ink, 1.2)));
            scene.put(cabinet, at(left + step * oven as f32, worktop(row) - h));
        }
    }

    /// The height of so many ovens of a room.
    fn ovens(&self, row: Area, of: &RoomRow, count: u32) -> f32 {
        let high = row.h - 2.0 * AIR - BELOW - self.top();
        worktop(row) - high / of.most.max(1) as f32 * count as f32
    }

    /// What a lesson has above its ovens.
    fn top(&self) -> f32 {
        match self.room_height() {
            high if self.day.is_some() && TWO_LINES.0 <= high => TWO_LINES.1,
            high if self.day.is_none() && HIGH <= high => HIGH_TOP,
            _ => TOP,
        }
    }

    /// Ovens that do not work, and that the room is closed.
    fn working(
        &self,
        (scene, row): (&mut Scene, Area),
        of: &RoomRow,
        day: &RoomOfDay,
        scale: &TimeScale,
        measure: &dyn Measure,
    ) {
        if let Some(why) = &day.closed {
            let (top, bottom) = (row.y + AIR, worktop(row));
            let area = Area { x: scale.left, y: top, w: scale.width, h: bottom - top };
            scene.add(Shape::Rect(sign::class_band(area)));
            let letters = Letters::plain(LETTERS, Colour::Ink);
            let room = (area.w - 10.0, TooLong::Wrap(3));
            let place = Place::centre(area.centre());
            if let Some(text) = Text::fitted(why, letters, place, room, measure) {
                scene.add(Shape::Text(text));
            }
            return;
        }
        let Some(there) = day.there.filter(|there| *there < day.all) else { return };
        let (top, bottom) = (self.ovens(row, of, day.all), self.ovens(row, of, there));
        let area = Area { x: scale.left, y: top, w: scale.width, h: (bottom - top).max(3.0) };
        let pattern = (Pattern::Hatched, Colour::Edge);
        let strip = Rect { pattern, ..Rect::filled(area, Corners::Square, Colour::Card) };
        scene.add(Shape::Rect(strip));
    }

    fn line(&self, scene: &mut Scene, row: Area, of: &RoomRow, day: &RoomOfDay, scale: &TimeScale) {
        let Some(there) = day.there.filter(|_| day.closed.is_none()) else { return };
        let y = self.ovens(row, of, there);
        scene.add(sign::there(at(scale.left, y), at(scale.left + scale.width, y)));
    }

    fn one_ribbon(
        &self,
        scene: &mut Scene,
        (number, ribbon): (usize, &WeekRibbon),
        out: &StandsOut,
        measure: &dyn Measure,
    ) {
        let row = self.ribbon(number);
        let place = Place::left(at(8.0, row.centre().y));
        let letters = Letters::plain(LETTERS, Colour::Ink);
        let room = (NAMES - 40.0, TooLong::Wrap(2));
        if let Some(text) = Text::fitted(&ribbon.name, letters, place, room, measure) {
            scene.add(Shape::Text(text));
        }
        let y = self.level(number, ribbon, ribbon.there);
        let place = Place::right(at(NAMES - 5.0, y));
        let letters = Letters::plain(LETTERS, Colour::Soft);
        words(scene, &ribbon.there.to_string(), letters, place, 34.0, measure);
        for (day, scale) in self.days() {
            self.ribbon_day(scene, (number, ribbon), day, &scale, out);
        }
    }

    fn ribbon_day(
        &self,
        scene: &mut Scene,
        (number, ribbon): (usize, &WeekRibbon),
        number_of_day: usize,
        scale: &TimeScale,
        out: &StandsOut,
    ) {
        let day = &ribbon.days[number_of_day];
        let base = self.level(number, ribbon, 0);
        let right = scale.left + scale.width;
        self.notched(scene, (number_of_day, scale), base, Pen::new(Colour::Edge, 1.0));
        let there: Vec<Span> = day
            .wanted
            .iter()
            .map(|span| Span { count: span.count.min(day.there), ..*span })
            .collect();
        let level = |count| self.level(number, ribbon, count);
        let look = (Colour::Ribbon, Colour::RibbonEdge);
        skyline(scene, Stretch::default(), (scale, &there), look, level);
        for &(from, until) in &day.setting_out {
            let (x, w) = stretch(scale, &Span { from, until, count: 1 }, LEAST);
            let y = self.level(number, ribbon, day.there);
            let area = Area { x, y, w, h: base - y };
            let pen = Pen::new(Colour::RibbonEdge, 1.2).dashed(Dash::Edge);
            scene.add(Shape::Rect(Rect::outlined(area, Corners::Square, pen)));
        }
        let y = self.level(number, ribbon, day.there);
        match &day.hours {
            None => scene.add(sign::there(at(scale.left, y), at(right, y))),
            Some(hours) => {
                let within = |m: Minutes| scale.x(m.get() as f32).clamp(scale.left, right);
                for &(from, until) in hours {
                    scene.add(sign::there(at(within(from), y), at(within(until), y)));
                }
            }
        }
        for (id, span) in &day.over {
            let area = self.of_over((number, ribbon), day, scale, span);
            let pattern = (Pattern::Hatched, Colour::Wrong);
            let rect = Rect { pattern, ..Rect::filled(area, Corners::Square, Colour::Card) };
            scene.add(Shape::Rect(rect.edged(Pen::new(Colour::Wrong, 1.6))));
            if out.item == Some(Item::Trouble(*id)) {
                let around = area.grown(3.5, 3.5);
                let frame = Rect::outlined(around, Corners::Square, Pen::new(Colour::Ink, 2.0));
                scene.add(Shape::Rect(frame));
            }
        }
    }
}

/// The upper side of the worktop of a room's row.
fn worktop(row: Area) -> f32 {
    row.bottom() - AIR - BELOW
}

fn stretch(scale: &TimeScale, span: &Span, least: f32) -> (f32, f32) {
    let right = scale.left + scale.width;
    let x = scale.x(span.from.get() as f32).clamp(scale.left, right);
    let until = scale.x(span.until.get() as f32).clamp(scale.left, right);
    (x, (until - x).max(least))
}

/// What is used from minute to minute: filled, with one edge around what follows on one
/// another.
fn skyline(
    scene: &mut Scene,
    stretch_of: Stretch,
    (scale, spans): (&TimeScale, &[Span]),
    (fill, edge): (Colour, Colour),
    level: impl Fn(u32) -> f32,
) {
    let base = level(0);
    let mut around: Vec<Point> = Vec::new();
    let mut until = None;
    let close = |scene: &mut Scene, around: &mut Vec<Point>| {
        if let (Some(first), Some(last)) = (around.first(), around.last()) {
            let (first, last) = (at(first.x, base), at(last.x, base));
            let whole = [&[first], around.as_slice(), &[last, first]].concat();
            scene.add_as(stretch_of, Shape::Line(whole, Pen::new(edge, 1.0)));
        }
        around.clear();
    };
    for span in spans {
        if until.is_some_and(|until| until != span.from) {
            close(scene, &mut around);
        }
        until = Some(span.until);
        let (x, w) = stretch(scale, span, LEAST);
        let y = level(span.count);
        let area = Area { x, y, w, h: base - y };
        scene.add_as(stretch_of, Shape::Rect(Rect::filled(area, Corners::Square, fill)));
        around.extend([at(x, y), at(x + w, y)]);
    }
    close(scene, &mut around);
}

fn words(
    scene: &mut Scene,
    words: &str,
    letters: Letters,
    place: Place,
    room: f32,
    measure: &dyn Measure,
) {
    if let Some(text) = Text::fitted(words, letters, place, (room, TooLong::Cut), measure) {
        scene.add(Shape::Text(text));
    }
}
