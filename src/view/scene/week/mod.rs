//! A week along its clock: rooms as rows, lessons as bars between their bells with the
//! ovens they use against the line of those that work, and below, ribbons of what
//! rooms share, with what is wanted beyond the line.

use chrono::NaiveDate;

use super::{
    Colour, Corners, Dash, Letters, Measure, Pattern, Pen, Place, Rect, Scene, Shape, Stretch,
    Text, TooLong, Weight, sign,
};
use crate::units::{ClockTime, Minutes};
use crate::view::area::{Area, Point, at};
use crate::view::board::Work;
use crate::view::scale::TimeScale;
use crate::view::week::{
    Bar, Column, Contents, Item, RibbonOfDay, RoomOfDay, RoomRow, TroubleId, WeekBoard, WeekRibbon,
};
use crate::week::{EntryNo, RoomNo, Slot, Span};

/// Height of the days' names.
pub const HEAD: f32 = 26.0;
/// Height of the bells' times below them, where one day is shown.
const BELLS: f32 = 20.0;
/// Room for the names of rows.
pub const NAMES: f32 = 132.0;
/// Air between two days.
const NIGHT: f32 = 9.0;
/// Air at the right end.
const RIGHT: f32 = 6.0;
/// Height of a ribbon, and where there is little height.
const RIBBON: (f32, f32) = (46.0, 36.0);
/// Less than this is little.
const LITTLE: f32 = 450.0;
/// Least and greatest height of a room's row.
const ROOM: (f32, f32) = (76.0, 240.0);
/// From this height on a bar has room for what is baked, upright below the class.
const HIGH: f32 = 190.0;
/// Air above and below what is in a row.
const AIR: f32 = 4.0;
/// What a bar has above its ovens: the class, and how it stands.
const TOP: f32 = 50.0;
/// The same where there is room for what is baked.
const HIGH_TOP: f32 = 152.0;
/// In narrower bars the class stands upright.
const UPRIGHT: f32 = 30.0;
/// Width of the mark of a verdict, its edge with it.
const MARK: f32 = 19.0;
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
        let unit = (row.h - 12.0) / ribbon.most.max(1) as f32;
        row.bottom() - 4.0 - unit * count as f32
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

    /// Days, nights, bells.
    fn ground(&self, scene: &mut Scene, measure: &dyn Measure) {
        let bottom = self.whole_height();
        for (i, (day, scale)) in self.days().into_iter().enumerate() {
            let column = &self.board.days[day];
            if i > 0 {
                let night =
                    Area { x: scale.left - NIGHT + 2.0, y: HEAD, w: NIGHT - 4.0, h: bottom - HEAD };
                scene.add(Shape::Rect(Rect::filled(night, Corners::Square, Colour::Line)));
            }
            let middle = at(scale.left + scale.width / 2.0, HEAD / 2.0);
            let letters = Letters::bold(14.0, Colour::Ink);
            let title = match self.day {
                Some(date) => date.format("%A %-d %B").to_string(),
                None => column.title.clone(),
            };
            words(scene, &title, letters, Place::centre(middle), scale.width, measure);
            let mut said = f32::MIN;
            for (from, until, name) in &column.bells {
                for minute in [from, until] {
                    let x = scale.x(minute.get() as f32);
                    let ends = vec![at(x, self.head()), at(x, bottom)];
                    scene.add(Shape::Line(ends, Pen::new(Colour::Line, 1.0)));
                }
                let (x, right) = (scale.x(from.get() as f32), scale.x(until.get() as f32));
                if self.day.is_some() && x >= said {
                    let told = format!("{name} {}", ClockTime::MIDNIGHT.after(*from));
                    let letters = Letters::plain(LETTERS, Colour::Soft);
                    let place = Place::left(at(x + 2.0, HEAD + BELLS / 2.0 - 2.0));
                    words(scene, &told, letters, place, right - x, measure);
                    said = right;
                }
            }
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
        let ends = vec![at(0.0, area.bottom()), at(self.width, area.bottom())];
        scene.add(Shape::Line(ends, Pen::new(Colour::Line, 1.0)));
        if out.item == Some(Item::Room(row.room))
            && let Some(head) = self.room_head(row.room)
        {
            let frame = Rect::outlined(head, Corners::Round(4.0), Pen::new(Colour::Ink, 2.0));
            scene.add(Shape::Rect(frame));
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
                let area = self.of_bar(number, &scale, (bar.from, bar.until));
                self.one_bar(scene, area, (row, bar), &scale, out, measure);
            }
            // Where fewer work than there are, a line through all bars.
            self.line(scene, area, row, of_day, &scale);
            for (date, room, from, until) in &out.before {
                if *date == self.board.days[day].date && *room == row.room {
                    let area = self.of_bar(number, &scale, (*from, *until));
                    let pen = Pen::new(Colour::Ink, 1.5).dashed(Dash::Outline);
                    scene.add(Shape::Rect(Rect::outlined(area, Corners::Square, pen)));
                }
            }
        }
    }

    /// The height of so many ovens of a room.
    fn ovens(&self, row: Area, of: &RoomRow, count: u32) -> f32 {
        let base = row.bottom() - AIR - 2.0;
        base - (row.h - 2.0 * AIR - self.top()) / of.most.max(1) as f32 * count as f32
    }

    /// What a bar has above its ovens.
    fn top(&self) -> f32 {
        if self.room_height() >= HIGH { HIGH_TOP } else { TOP }
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
            let area = Area { x: scale.left, w: scale.width, ..row }.grown(0.0, -AIR);
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

    fn one_bar(
        &self,
        scene: &mut Scene,
        area: Area,
        (row, bar): (&RoomRow, &Bar),
        scale: &TimeScale,
        out: &StandsOut,
        measure: &dyn Measure,
    ) {
        let of_room = Area { x: 0.0, y: area.y - AIR, w: self.width, h: area.h + 2.0 * AIR };
        let stands_out =
            out.item == Some(Item::Entry(bar.entry)) || out.entries.contains(&bar.entry);
        let edge = match bar.contents {
            Contents::Lesson(None) | Contents::Unplanned => {
                Pen::new(Colour::Soft, 1.2).dashed(Dash::Edge)
            }
            Contents::Lesson(Some(_)) | Contents::Booking => Pen::new(Colour::Ink, 1.2),
        };
        let pattern = match bar.contents {
            Contents::Unplanned => (Pattern::Hatched, Colour::Edge),
            Contents::Booking => (Pattern::Band, Colour::ClassEdge),
            Contents::Lesson(_) => (Pattern::Plain, Colour::Card),
        };
        // What is out of order is seen through a lesson.
        let top = Area { h: self.top() - 4.0, ..area };
        let fill = Rect::filled(top, Corners::Square, Colour::Card);
        scene.add(Shape::Rect(fill));
        let frame = Rect { pattern, ..Rect::outlined(area, Corners::Square, edge) };
        let within = Stretch { of: None, within: Some(area) };
        let level = |count| self.ovens(of_room, row, count);
        let look = (Colour::Work(Work::Bake), Colour::WorkEdge(Work::Bake));
        skyline(scene, within, (scale, &bar.ovens), look, level);
        scene.add(Shape::Rect(frame));
        if stands_out {
            // Around it, so that a narrow one is not filled by its edge.
            let pen = Pen::new(Colour::Ink, 3.0);
            scene.add(Shape::Rect(Rect::outlined(area.grown(2.0, 2.0), Corners::Square, pen)));
        }
        named(scene, (area, self.top()), bar, measure);
        if bar.held {
            let beside = area.w >= UPRIGHT;
            let x = if beside { area.right() - 8.0 } else { area.centre().x };
            let y = if beside { area.y + TOP - 7.0 } else { area.y + 19.0 };
            sign::lock(scene, within, at(x, y), 8.0);
        }
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
            self.ribbon_day(scene, (number, ribbon), &ribbon.days[day], &scale, out);
        }
    }

    fn ribbon_day(
        &self,
        scene: &mut Scene,
        (number, ribbon): (usize, &WeekRibbon),
        day: &RibbonOfDay,
        scale: &TimeScale,
        out: &StandsOut,
    ) {
        let base = self.level(number, ribbon, 0);
        let right = scale.left + scale.width;
        let ends = vec![at(scale.left, base), at(right, base)];
        scene.add(Shape::Line(ends, Pen::new(Colour::Line, 1.0)));
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
            let room = (area.w - 8.0, TooLong::Wrap(2));
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
        (_, true) => 25.0,
        (true, false) => 15.0,
        (false, false) => 2.0,
    };
    mark(scene, area.centre().x, area.y + 8.0);
    // A booking has no ovens to keep clear of.
    let foot = if bar.contents == Contents::Booking { area.h - 6.0 } else { top - 4.0 };
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
