//! Moving things of the plan by hand: what is carried, what is known of the
//! spot it is over, and what putting it there comes to.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use super::study::Heard;
use super::words::fit_words;
use super::{Document, Revision, Session};
use crate::check::CheckedPlan;
use crate::file::format::LessonFile;
use crate::hand::words::put_words;
use crate::hand::{self, Contradiction, Fit, Put, Refused, Spot, SpotRow, Thing};
use crate::model::{GroupId, Lesson, OvenId, PastBake, ShelfId, StepId};
use crate::planner::Budget;
use crate::units::{ClockTime, Minute};

/// How long to look for a plan with something put where a hand put it: so that,
/// with what comes before and after, the answer is there within a second.
const FOR_PUTTING: Budget =
    Budget { within: Some(Duration::from_millis(800)), decodings: Some(4_000), seed: 1 };

/// Things of a plan that are moved by hand.
pub(super) struct ToMove {
    pub file: LessonFile,
    /// As it was read.
    pub lesson: Arc<Lesson>,
    /// Bakes noted so far.
    pub past: Arc<[PastBake]>,
    pub plan: Arc<CheckedPlan>,
    /// What goes where.
    pub spots: Vec<(Thing, Spot)>,
    pub budget: Budget,
}

/// What putting things somewhere comes to.
pub(super) type PutOutcome = Result<Box<Put>, Box<Refused>>;

pub(super) fn find_spots(
    of: ToMove,
    stop: &AtomicBool,
    tell: &dyn Fn(SpotRow),
) -> Result<(), String> {
    if let Some(&(thing, _)) = of.spots.first() {
        let from = (&of.file, &*of.lesson, &*of.plan);
        hand::spots(from, thing, stop, |row| tell(row.clone()));
    }
    Ok(())
}

pub(super) fn find_put(
    of: ToMove,
    stop: &AtomicBool,
    tell: &dyn Fn(PutOutcome),
) -> Result<(), String> {
    let from = (&of.file, &*of.lesson, &*of.plan);
    let put = hand::put_all(from, &of.past, &of.spots, &of.budget, stop);
    if let Some(put) = put.transpose()
        && !stop.load(Ordering::Relaxed)
    {
        tell(put.map(Box::new));
    }
    Ok(())
}

/// An oven, and a shelf of it if that matters.
pub type Place = (OvenId, Option<ShelfId>);

/// What is carried, and to where.
#[derive(Debug, Clone)]
pub struct Carried {
    /// The things carried, each with the minute at which it starts in the plan
    /// on screen.
    pub things: Vec<(Thing, Minute)>,
    /// By so many minutes.
    pub by: i32,
    /// To another oven and shelf.
    pub place: Option<Place>,
    /// By the mouse, whose button is down.
    pub mouse: bool,
    /// Where it may be put, as far as that is known.
    pub tracks: Vec<SpotRow>,
    /// What is known of the spot it is over.
    pub told: Option<Landing>,
    /// It is put down as soon as that is known.
    set_down: bool,
}

impl Carried {
    /// The spots of all that is carried.
    pub fn spots(&self) -> Vec<(Thing, Spot)> {
        let spot = |&(thing, start): &(Thing, Minute)| {
            let at = (self.by != 0).then(|| Minute::new(start.get().saturating_add(self.by)));
            // What is moved to another shelf goes in when it suits.
            (thing, Spot { at, place: self.place })
        };
        self.things.iter().map(spot).collect()
    }

    /// It is where it was.
    pub fn is_at_home(&self) -> bool {
        self.by == 0 && self.place.is_none()
    }

    /// The spot is known to be refused.
    pub fn is_refused(&self) -> bool {
        matches!(self.told, Some(Landing::Cannot(_)))
    }
}

/// What is known of a spot.
#[derive(Debug, Clone)]
pub enum Landing {
    /// It can be put there; what that comes to, in words.
    Would(Box<Put>, String),
    /// It cannot, and why.
    Cannot(String),
}

/// Moving by hand.
#[derive(Default)]
pub struct Moving {
    /// What is carried.
    pub carried: Option<Carried>,
    /// Locks that cannot all be kept, by the revision of the lesson.
    pub contradiction: Option<(Revision, Contradiction)>,
    /// The revision whose locks were looked at last.
    pub(super) looked_at: Option<Revision>,
    /// What is put somewhere by name, without being carried.
    putting: Option<Vec<(Thing, Spot)>>,
}

impl Moving {
    /// Whether something waits to be put down.
    pub fn is_busy(&self) -> bool {
        self.putting.is_some() || self.carried.as_ref().is_some_and(|c| c.set_down)
    }
}

impl Session {
    /// The document with its lesson and its plan, if they belong together.
    pub(super) fn at_hand(&self) -> Option<(&Document, &Arc<Lesson>, &Arc<CheckedPlan>)> {
        let doc = self.doc.as_ref()?;
        let lesson = doc.lesson()?;
        let planned = self.planned.as_ref()?;
        let belongs = planned.revision == doc.revision() && !self.is_typing();
        belongs.then_some((doc, lesson, &planned.plan))
    }

    fn to_move(&self, spots: Vec<(Thing, Spot)>) -> Option<(Revision, ToMove)> {
        let (doc, lesson, plan) = self.at_hand()?;
        let what = ToMove {
            file: doc.file().clone(),
            lesson: Arc::clone(lesson),
            past: Arc::clone(&doc.past),
            plan: Arc::clone(plan),
            spots,
            budget: self.budget(FOR_PUTTING),
        };
        Some((doc.revision(), what))
    }

    pub(super) fn may_move(&mut self) -> bool {
        let why = match (&self.doc, self.at_hand()) {
            (Some(doc), _) if doc.care().read_only().is_some() => "the lesson may only be read",
            (_, None) => "the plan is not there yet",
            _ => return true,
        };
        self.tell(format!("Not moved: {why}."));
        false
    }

    /// Takes hold of things.
    pub(super) fn take_up(&mut self, things: &[Thing], mouse: bool) {
        if !self.may_move() {
            return;
        }
        self.put_back();
        let Some((_, lesson, plan)) = self.at_hand() else { return };
        let things: Vec<(Thing, Minute)> =
            things.iter().filter_map(|&t| Some((t, t.start(lesson, plan)?))).collect();
        if things.is_empty() {
            self.tell("Not moved: the group has no place in this plan.");
            return;
        }
        if let [(thing, start)] = things[..] {
            let spot = (thing, Spot { at: Some(start), place: None });
            if let Some((revision, of)) = self.to_move(vec![spot]) {
                self.studies.spots.ask(revision, of);
            }
        }
        let tracks = Vec::new();
        let (by, place, told, set_down) = (0, None, None, false);
        self.moving.carried = Some(Carried { things, by, place, mouse, tracks, told, set_down });
    }

    /// Carries what is taken hold of to a spot, and asks what that comes to.
    pub(super) fn carry_to(&mut self, by: i32, place: Option<Place>) {
        let Some(carried) = &mut self.moving.carried else { return };
        (carried.by, carried.place, carried.told) = (by, place, None);
        carried.set_down = false;
        self.studies.puts.forget();
        if carried.is_at_home() {
            return;
        }
        let spots = carried.spots();
        if let Some((revision, of)) = self.to_move(spots) {
            self.studies.puts.ask(revision, of);
        }
    }

    /// Carries on from the spot it is over.
    pub(super) fn carry(&mut self, things: &[Thing], by: i32, shelves: i32) {
        if self.moving.carried.is_none() {
            self.take_up(things, false);
        }
        let Some(carried) = &self.moving.carried else { return };
        let mut place = carried.place;
        if shelves != 0 {
            let Some((_, lesson, plan)) = self.at_hand() else { return };
            place = next_place(lesson, plan, carried, shelves);
        }
        self.carry_to(carried.by.saturating_add(by), place);
    }

    /// Puts down what is carried.
    pub(super) fn set_down(&mut self) {
        let Some(carried) = &mut self.moving.carried else { return };
        if carried.is_at_home() {
            self.put_back();
            return;
        }
        match carried.told.take() {
            None => carried.set_down = true,
            Some(told) => {
                let spots = carried.spots();
                self.put_back();
                self.land(&spots, told);
            }
        }
    }

    /// Lets go of what is carried; it stays where it was.
    pub(super) fn put_back(&mut self) {
        self.moving.carried = None;
        // What is forgotten gives no answer, so none is waited for.
        self.moving.putting = None;
        self.studies.puts.forget();
        self.studies.spots.forget();
    }

    /// Puts things somewhere by name.
    pub(super) fn put(&mut self, spots: Vec<(Thing, Spot)>) {
        self.put_back();
        if !self.may_move() {
            return;
        }
        if let Some((revision, of)) = self.to_move(spots.clone()) {
            self.moving.putting = Some(spots);
            self.studies.puts.ask(revision, of);
        }
    }

    /// Puts a thing so many minutes and shelves further on.
    pub(super) fn put_by(&mut self, thing: Thing, by: i32, shelves: i32) {
        self.put_back();
        self.carry(&[thing], by, shelves);
        self.set_down();
    }

    /// Puts a thing so that it starts at a time of day, as typed.
    pub(super) fn put_at(&mut self, thing: Thing, time: &str) {
        match self.minute_of(time) {
            Ok(at) => self.put(vec![(thing, Spot { at: Some(at), place: None })]),
            Err(why) => self.tell(format!("Not moved: {why}.")),
        }
    }

    fn minute_of(&self, text: &str) -> Result<Minute, String> {
        let planned = self.planned.as_ref().ok_or("the plan is not there yet")?;
        let time = ClockTime::parse(text.trim()).map_err(|e| e.to_string())?;
        let since = time.minutes_since(planned.lesson.periods[0].start_clock);
        Ok(Minute::BELL + since)
    }

    /// Takes in what is known of spots.
    pub(super) fn hear_of_moves(&mut self) {
        let now = self.revision();
        for heard in self.studies.spots.hear(now) {
            match (heard, &mut self.moving.carried) {
                (Heard::Answer(row), Some(carried)) => {
                    carried.tracks.retain(|t| t.place != row.place);
                    carried.tracks.push(row);
                }
                (Heard::Fault(fault), _) => self.moving_failed(&fault),
                _ => {}
            }
        }
        for heard in self.studies.puts.hear(now) {
            match heard {
                Heard::Answer(put) => self.hear_of_put(put),
                Heard::Ended => {}
                Heard::Fault(fault) => self.moving_failed(&fault),
            }
        }
    }

    fn moving_failed(&mut self, fault: &str) {
        self.put_back();
        self.tell(format!("Not moved: {fault}."));
    }

    fn hear_of_put(&mut self, put: PutOutcome) {
        let Some((_, lesson, before)) = self.at_hand() else { return };
        let told = match put {
            Ok(put) => {
                let words = fit_words((lesson, before), &put);
                Landing::Would(put, words)
            }
            Err(refused) => Landing::Cannot(refused.sentence),
        };
        if let Some(spots) = self.moving.putting.take() {
            self.land(&spots, told);
            return;
        }
        let Some(carried) = &mut self.moving.carried else { return };
        carried.told = Some(told);
        if carried.set_down {
            self.set_down();
        }
    }

    /// Things are put where they were carried, or stay where they were.
    fn land(&mut self, spots: &[(Thing, Spot)], told: Landing) {
        let Some((_, lesson, plan)) = self.at_hand() else { return };
        let label = put_words(lesson, plan, spots);
        match told {
            Landing::Cannot(why) => self.tell(format!("Not put there: {why}")),
            Landing::Would(put, words) => {
                let Put { file, plan, fit, .. } = *put;
                self.become_file(&label, file, Some(Arc::new(plan)));
                self.message = (fit != Fit::Stays).then(|| format!("{label}: {words}."));
            }
        }
    }
}

/// What a step is taken hold of as: loading, baking and taking out go together.
pub fn step_thing(lesson: &Lesson, plan: &CheckedPlan, group: GroupId, step: StepId) -> Thing {
    let choice = plan.plan().choice(group);
    let bake = choice.and_then(|c| lesson.method_of(group, c.method).bake_steps());
    match bake {
        Some((load, bake, out)) if [load, bake, out].contains(&step) => Thing::Bake(group),
        _ => Thing::Step(group, step),
    }
}

/// Every shelf of every oven that works, in the board's order.
pub fn places(lesson: &Lesson) -> Vec<(OvenId, ShelfId)> {
    let ovens = lesson.ovens.iter().enumerate().filter(|(_, o)| !o.out_of_order);
    ovens
        .flat_map(|(o, oven)| (0..oven.shelves.len()).map(move |s| (OvenId(o), ShelfId(s))))
        .collect()
}

/// The shelf so many further on from where a bake is carried.
fn next_place(lesson: &Lesson, plan: &CheckedPlan, carried: &Carried, by: i32) -> Option<Place> {
    let &(Thing::Bake(group), _) = carried.things.first()? else { return carried.place };
    let home = plan.plan().loads.iter().find(|l| l.group == group).map(|l| (l.oven, l.shelf))?;
    let all = places(lesson);
    let now = carried.place.map_or(home, |(oven, shelf)| (oven, shelf.unwrap_or(ShelfId(0))));
    let at = all.iter().position(|&p| p == now)?;
    let to = i64::try_from(at).ok()? + i64::from(by);
    let last = i64::try_from(all.len()).ok()? - 1;
    let (oven, shelf) = *all.get(usize::try_from(to.clamp(0, last)).ok()?)?;
    ((oven, shelf) != home).then_some((oven, Some(shelf)))
}
