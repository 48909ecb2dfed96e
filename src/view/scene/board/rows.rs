//! Groups: names, threads of waiting, why not, ready times and verdicts.

use super::super::{
    Colour, Corners, Dash, Letters, Of, Pen, Place, Rect, Shape, Stretch, Text, TooLong, bar, sign,
};
use super::names::{Locked, Name};
use super::{BESIDE, BoardPicture, Drawing, SECOND_LINE, VERDICT};
use crate::check::Verdict;
use crate::finding::shortened;
use crate::view::area::{Area, at};
use crate::view::board::Board;
use crate::view::rows::{COLLECTED_LATER, Row, verdict_words};

/// From the top of a row to the middle of its first lane.
const FIRST_LANE: f32 = 8.5;
/// From the top of a row to the middle of its verdict.
const MARK: f32 = 9.0;
/// From the bottom of a row to the hairline below it.
const RULE: f32 = 2.5;

/// Room for a ready time with other words beside it.
const TIME: f32 = 44.0;
/// More room for a ready time where that is so.
const MORE: f32 = 64.0;

impl BoardPicture<'_> {
    /// What ready times take more of the width where some bakes are collected later: that
    /// has a line of its own, and what there is to give stands beside the time.
    pub fn more_for_ready(board: &Board) -> f32 {
        if board.rows.iter().any(|row| row.collected) { MORE } else { 0.0 }
    }

    /// Where it is said why the group of a row at this height is not served:
    /// where groups have their own steps, between the class's opening and
    /// closing, whose names are to be read; all of the clock if that is narrow.
    pub fn why_not_area(&self, (top, height): (f32, f32)) -> Area {
        let (mut from, mut until) = (self.board.from, self.board.until);
        let all = self.board.bands.iter().filter(|b| !b.during);
        for band in all.clone() {
            if band.from <= from {
                from = from.max(band.until);
            }
        }
        for band in all.rev() {
            if band.until >= until {
                until = until.min(band.from);
            }
        }
        let (left, right) = (self.scale.left, self.clock_end());
        let own = (self.x(from).clamp(left, right), self.x(until).clamp(left, right));
        let (left, right) = if own.1 - own.0 < 0.5 * (right - left) { (left, right) } else { own };
        Area::between(at(left, top), at(right, top + height)).shrunk(2.0)
    }

    /// Why the group of a row is not served, where that is written in its row.
    pub fn why_not(&self, row: usize) -> Option<&str> {
        // Where another plan has bars for a group without, they take the
        // place of the reason, which the card has.
        let ghost = self.over.ghosts.and_then(|g| g.rows.get(row));
        let covered = ghost.is_some_and(|g| !g.bars.is_empty());
        self.board.rows.get(row)?.reason.as_deref().filter(|_| !covered)
    }
}

impl Drawing<'_> {
    pub(super) fn rows(&mut self) {
        let of = self.of;
        let mut above: Option<&Row> = None;
        for (i, (row, &place)) in of.board.rows.iter().zip(&of.laid.rows).enumerate() {
            // The same reason is written once, on the first of those it holds for.
            let first = above.filter(|a| a.reason.is_some() && a.reason == row.reason);
            above = first.or(Some(row));
            if of.line(place).meets(&of.seen) {
                self.row(i, row, first, place);
            }
        }
        let more = of.over.ghosts.map(|g| g.rows.iter().zip(&of.laid.rows));
        for (ghost, &place) in more.into_iter().flatten().skip(of.board.rows.len()) {
            if of.line(place).meets(&of.seen) {
                self.only_there(place, (&ghost.name, &ghost.choice));
                self.ready_there(ghost, place.0);
            }
        }
    }

    fn row(&mut self, i: usize, row: &Row, first: Option<&Row>, place: (f32, f32)) {
        let of = self.of;
        let (top, height) = place;
        let group = Some(Of::Group(row.group));
        let locked = match row.held {
            held if held.all => Locked::All,
            held if held.tin || held.method || held.oven => Locked::Some,
            _ => Locked::No,
        };
        let (title, under) = (row.name.as_str(), row.choice.as_str());
        self.name(group, place, &Name { title, under, indent: 0.0, locked, colour: Colour::Ink });
        let along = self.along(group);
        for &(from, until) in &row.waits {
            let y = top + FIRST_LANE;
            self.scene.add_as(along, bar::thread(at(of.x(from), y), at(of.x(until), y)));
        }
        if let Some(reason) = of.why_not(i) {
            let words = first.map_or_else(
                || shortened(reason, 260),
                |first| format!("as for {}", shortened(&first.name, 60)),
            );
            self.why_not(row, of.why_not_area(place), &words);
        }
        let ghost = of.over.ghosts.and_then(|g| g.rows.get(i));
        self.ready(row, ghost.is_some_and(|g| !g.ready.is_empty()), top);
        if let Some(ghost) = ghost {
            self.ready_there(ghost, top);
        }
        let rule = top + height + RULE;
        let ends = vec![at(0.0, rule), at(of.size.0, rule)];
        self.scene.add(Shape::Line(ends, Pen::new(Colour::Line, 1.0)));
    }

    /// Why a group is not served, in the place of its steps.
    fn why_not(&mut self, row: &Row, area: Area, words: &str) {
        let stretch = self.along(Some(Of::WhyNot(row.group)));
        let edge = Pen::new(Colour::Wrong, 1.0).dashed(Dash::Edge);
        let ground = Rect::filled(area, Corners::Round(4.0), Colour::Card);
        self.scene.add_as(stretch, Shape::Rect(ground.edged(edge)));
        let place = Place::left(at(area.x + 8.0, area.centre().y));
        let letters = Letters::plain(13.0, Colour::Ink);
        let room = (area.w - 16.0, TooLong::Wrap(2));
        if let Some(text) = Text::fitted(words, letters, place, room, self.measure) {
            self.scene.add_as(stretch, Shape::Text(text));
        }
    }

    /// The ready time, the verdict's mark and what there is to give; one line
    /// where another follows.
    fn ready(&mut self, row: &Row, one_line: bool, top: f32) {
        let x = self.of.clock_end() + VERDICT;
        let stretch = Stretch { of: Some(Of::Group(row.group)), within: None };
        sign::verdict(&mut self.scene, stretch, at(x, top + MARK), row.verdict);
        let served = matches!(row.verdict, Verdict::Fits | Verdict::Tight);
        let room = self.of.size.0 - x - BESIDE - 1.0;
        let soft = Letters::plain(13.0, Colour::Soft);
        if row.collected && served && !one_line {
            let give = row.to_give.as_deref().unwrap_or(verdict_words(row.verdict));
            let place = Place::left_top(at(x + BESIDE + TIME, top + 1.0));
            let room = (room - TIME, TooLong::Cut);
            if let Some(text) = Text::fitted(give, soft, place, room, self.measure) {
                self.scene.add_as(stretch, Shape::Text(text));
            }
        }
        let mut write = |words: &str, letters: Letters, down: f32, too_long: TooLong| {
            let place = Place::left_top(at(x + BESIDE, top + down));
            let text = Text::fitted(words, letters, place, (room, too_long), self.measure);
            if let Some(text) = text {
                self.scene.add_as(stretch, Shape::Text(text));
            }
        };
        if served {
            write(&row.ready, Letters::bold(14.0, Colour::Ink), 0.0, TooLong::Cut);
            if !one_line {
                let words = row.to_give.as_deref().unwrap_or(verdict_words(row.verdict));
                let words = if row.collected { COLLECTED_LATER } else { words };
                write(words, soft, SECOND_LINE, TooLong::Cut);
            }
            return;
        }
        let lines = if one_line { 1 } else { 2 };
        write(&row.ready, Letters::bold(13.0, Colour::Ink), 1.0, TooLong::Wrap(lines));
    }
}
