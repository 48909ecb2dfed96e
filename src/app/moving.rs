//! Moving things of the plan by hand: what is carried, what is known of the
//! spot it is over, and what putting it there comes to.

use std::sync::Arc;

use super::document::Document;
use super::moving_words::fit_words;
use super::shell::App;
use super::state::Selection;
use super::worker::{Answer, Job, ToMove};
use crate::check::{CheckedPlan, check};
use crate::edit::FileChange;
use crate::file::format::LessonFile;
use crate::hand::words::put_words;
use crate::hand::{
    self, ByHand, Contradiction, Does, Fit, Held, Put, Refused, Spot, SpotRow, Thing,
};
use crate::model::{GroupId, Lesson, Lock, OvenId, ShelfId, StepId};
use crate::units::Minute;
use crate::view::board::Board;

/// Plans that are shown again when the lesson is as it was.
const REMEMBERED: usize = 24;

/// An oven, and a shelf of it if that matters.
pub type Place = (OvenId, Option<ShelfId>);

/// What is carried, and to where.
#[derive(Debug, Clone)]
pub struct Carried {
    /// What, each with its start now.
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
    pub told: Option<Told>,
    /// It is put down as soon as that is known.
    set_down: bool,
    /// The question that is open.
    asked: u64,
    /// The question where it may be put.
    taken: u64,
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
        matches!(self.told, Some(Told::Cannot(_)))
    }
}

/// What is known of a spot.
#[derive(Debug, Clone)]
pub enum Told {
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
    pub contradiction: Option<(u64, Contradiction)>,
    /// The revision whose locks were looked at last.
    looked_at: Option<u64>,
    /// Questions are numbered.
    asked: u64,
    /// A thing that is put somewhere by name, without being carried: question
    /// and words.
    putting: Option<(u64, Vec<(Thing, Spot)>)>,
    /// Plans of lessons that were or are on screen.
    remembered: Vec<(LessonFile, Arc<CheckedPlan>)>,
}

impl Moving {
    /// Whether something waits to be put down.
    pub fn is_busy(&self) -> bool {
        self.putting.is_some() || self.carried.as_ref().is_some_and(|c| c.set_down)
    }

    /// The plan of a lesson's file, if it was on screen.
    fn remembered(&self, file: &LessonFile) -> Option<Arc<CheckedPlan>> {
        let known = self.remembered.iter().rev().find(|(f, _)| f == file);
        known.map(|(_, plan)| Arc::clone(plan))
    }

    fn remember(&mut self, file: LessonFile, plan: Arc<CheckedPlan>) {
        self.remembered.retain(|(f, _)| *f != file);
        self.remembered.push((file, plan));
        if self.remembered.len() > REMEMBERED {
            self.remembered.remove(0);
        }
    }

    /// Another document is on screen.
    pub fn forget(&mut self) {
        *self = Self { asked: self.asked, ..Self::default() };
    }
}

impl App {
    /// The lesson, its file and its plan, if they belong together.
    fn at_hand(&self) -> Option<(&Document, &Arc<Lesson>, &Arc<CheckedPlan>)> {
        let doc = self.doc.as_ref()?;
        let lesson = doc.lesson()?;
        let (revision, plan) = self.plan.as_ref()?;
        (*revision == doc.revision && !self.is_typing()).then_some((doc, lesson, plan))
    }

    fn to_move(&self, number: u64, spots: Vec<(Thing, Spot)>) -> Option<Box<ToMove>> {
        let (doc, lesson, plan) = self.at_hand()?;
        Some(Box::new(ToMove {
            number,
            file: doc.file().clone(),
            lesson: Arc::clone(lesson),
            past: Arc::clone(&doc.past),
            plan: Arc::clone(plan),
            spots,
        }))
    }

    fn may_move(&mut self) -> bool {
        let why = match (&self.doc, self.at_hand()) {
            (Some(doc), _) if doc.care().read_only().is_some() => "the lesson may only be read",
            (_, None) => "the plan is not there yet",
            _ => return true,
        };
        self.message = Some(format!("Not moved: {why}."));
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
            self.message = Some("Not moved: the group has no place in this plan.".to_owned());
            return;
        }
        self.moving.asked += 1;
        if let [(thing, start)] = things[..] {
            let spot = (thing, Spot { at: Some(start), place: None });
            if let Some(of) = self.to_move(self.moving.asked, vec![spot]) {
                self.lighter.begin(Job::Spots(of));
            }
        }
        self.moving.carried = Some(Carried {
            things,
            by: 0,
            place: None,
            mouse,
            tracks: Vec::new(),
            told: None,
            set_down: false,
            asked: self.moving.asked,
            taken: self.moving.asked,
        });
    }

    /// Carries what is taken hold of to a spot, and asks what that comes to.
    pub(super) fn carry_to(&mut self, by: i32, place: Option<Place>) {
        self.moving.asked += 1;
        let asked = self.moving.asked;
        let Some(carried) = &mut self.moving.carried else { return };
        (carried.by, carried.place, carried.told) = (by, place, None);
        carried.set_down = false;
        self.mover.stop();
        if carried.is_at_home() {
            return;
        }
        carried.asked = asked;
        let spots = carried.spots();
        if let Some(of) = self.to_move(asked, spots) {
            self.mover.begin(Job::Put(of));
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
        // What is stopped gives no answer, so none is waited for.
        self.moving.putting = None;
        self.mover.stop();
        self.lighter.stop();
    }

    /// Puts things somewhere by name.
    pub(super) fn put(&mut self, spots: Vec<(Thing, Spot)>) {
        self.put_back();
        if !self.may_move() {
            return;
        }
        self.moving.asked += 1;
        let number = self.moving.asked;
        if let Some(of) = self.to_move(number, spots.clone()) {
            self.moving.putting = Some((number, spots));
            self.mover.begin(Job::Put(of));
        }
    }

    /// Puts a thing so many minutes and shelves further on.
    pub(super) fn put_by(&mut self, thing: Thing, by: i32, shelves: i32) {
        self.put_back();
        self.carry(&[thing], by, shelves);
        self.set_down();
    }

    /// Takes in what is known of spots.
    pub(super) fn hear_of_moves(&mut self) {
        let answers: Vec<Answer> =
            self.lighter.answers().into_iter().chain(self.mover.answers()).collect();
        for answer in answers {
            match answer {
                Answer::Spot(number, row) => {
                    let carried = self.moving.carried.as_mut();
                    if let Some(carried) = carried.filter(|c| c.taken == number) {
                        carried.tracks.retain(|t| t.place != row.place);
                        carried.tracks.push(row);
                    }
                }
                Answer::Put(number, put) => self.hear_of_put(number, put),
                Answer::Contradiction(revision, found) => {
                    self.moving.contradiction = found.map(|found| (revision, found));
                }
                Answer::Fault(_, fault) => {
                    self.moving.putting = None;
                    self.put_back();
                    self.message = Some(format!("Not moved: {fault}."));
                }
                _ => {}
            }
        }
        self.look_at_locks();
    }

    fn hear_of_put(&mut self, number: u64, put: Result<Box<Put>, Box<Refused>>) {
        let Some((_, lesson, _)) = self.at_hand() else { return };
        let told = match put {
            Ok(put) => {
                let words = fit_words(lesson, &put);
                Told::Would(put, words)
            }
            Err(refused) => Told::Cannot(refused.sentence),
        };
        if let Some((asked, spots)) = self.moving.putting.take_if(|(asked, _)| *asked == number) {
            debug_assert_eq!(asked, number);
            self.land(&spots, told);
            return;
        }
        let Some(carried) = &mut self.moving.carried else { return };
        if carried.asked != number {
            return;
        }
        carried.told = Some(told);
        if carried.set_down {
            self.set_down();
        }
    }

    /// Things are put where they were carried, or stay where they were.
    fn land(&mut self, spots: &[(Thing, Spot)], told: Told) {
        let Some((doc, lesson, plan)) = self.at_hand() else { return };
        let label = put_words(lesson, plan, spots);
        match told {
            Told::Cannot(why) => self.message = Some(format!("Not put there: {why}")),
            Told::Would(put, words) => {
                let before = (doc.file().clone(), Arc::clone(plan));
                let Put { file, plan, fit, .. } = *put;
                self.moving.remember(before.0, before.1);
                self.moving.remember(file.clone(), Arc::new(plan));
                self.become_held(&label, file);
                self.message = (fit != Fit::Stays).then(|| format!("{label}: {words}."));
            }
        }
    }

    /// Holds something where it is, or lets go of it.
    pub(super) fn hold(&mut self, what: &[Held], on: bool) {
        if !self.may_move() {
            return;
        }
        let Some((doc, lesson, plan)) = self.at_hand() else { return };
        let plan = Arc::clone(plan);
        if what.is_empty() {
            return;
        }
        let what = if on { Does::Hold(what) } else { Does::LetGo(what) };
        let change = ByHand { lesson, plan: &plan, what };
        let (label, file) = (change.label(), change.made(doc.file()));
        let file = file.unwrap_or_else(|_| doc.file().clone());
        self.becomes_with_same_plan(&label, file);
    }

    /// Lets go of one lock, whether its group is served or not.
    pub(super) fn let_go_of(&mut self, lock: &Lock) {
        let Some(doc) = &self.doc else { return };
        let Some(lesson) = doc.lesson() else { return };
        let label = format!("let go: {}", hand::words::lock_words(lesson, lock));
        let file = hand::let_go_lock(doc.file(), lesson, lock);
        self.become_held(&label, file);
    }

    /// Becomes another file, for which the plan on screen is one as well.
    pub(super) fn becomes_with_same_plan(&mut self, label: &str, file: LessonFile) {
        if let Some((doc, _, plan)) = self.at_hand() {
            let (now, plan) = (doc.file().clone(), Arc::clone(plan));
            self.moving.remember(now, Arc::clone(&plan));
            self.moving.remember(file.clone(), plan);
        }
        self.become_held(label, file);
    }

    /// Selects a thing beside those selected, or no longer.
    pub(super) fn mark(&mut self, thing: Thing) {
        let Some((_, lesson, plan)) = self.at_hand() else { return };
        let first = selected(self.view.selection, lesson, plan);
        let marked = &mut self.view.marked;
        if marked.is_empty() {
            marked.extend(first);
        }
        if !marked.remove(&thing) {
            marked.insert(thing);
        }
    }

    fn become_held(&mut self, label: &str, file: LessonFile) {
        let Some(doc) = &mut self.doc else { return };
        if *doc.file() == file {
            return;
        }
        match doc.change_to(label.to_owned(), file) {
            Ok(()) => self.changed(label),
            Err(findings) => {
                let why = findings.first().map(|f| f.message.clone()).unwrap_or_default();
                self.message = Some(format!("Cannot: {label}. {why}"));
            }
        }
    }

    /// Shows the plan that a lesson had when it was on screen, if it was; it
    /// is checked anew.
    pub(super) fn shows_remembered(&mut self) -> bool {
        let Some(doc) = &self.doc else { return false };
        let Some(lesson) = doc.lesson() else { return false };
        let Some(plan) = self.moving.remembered(doc.file()) else { return false };
        let Ok(plan) = check(lesson, plan.plan().clone()) else { return false };
        self.planner.stop();
        self.planning = false;
        self.board = Some(Arc::new(Board::of(lesson, &plan)));
        self.planned = Some(Arc::clone(lesson));
        self.plan = Some((doc.revision, Arc::new(plan)));
        self.lay_again();
        true
    }

    /// Plans the lesson anew: what is held stays, all else goes where it is
    /// best.
    pub(super) fn plan_anew(&mut self) {
        self.moving.remembered.clear();
        let Some(doc) = &mut self.doc else { return };
        // The lesson is the same, its plan is another.
        doc.revision += 1;
        self.changed("all but what is held planned anew");
    }

    /// Once a plan stands, sees whether what is held contradicts itself.
    fn look_at_locks(&mut self) {
        if self.planning || self.moving.is_busy() || self.moving.carried.is_some() {
            return;
        }
        let Some((doc, lesson, plan)) = self.at_hand() else { return };
        let revision = doc.revision;
        if self.moving.looked_at == Some(revision) {
            return;
        }
        let left_out = lesson.attending().any(|g| plan.plan().choice(g).is_none());
        let of = (left_out && !lesson.locks.is_empty()).then(|| Arc::clone(lesson));
        self.moving.looked_at = Some(revision);
        self.moving.contradiction = None;
        if let Some(lesson) = of {
            self.mover.begin(Job::Contradiction(revision, lesson));
        }
    }
}

/// What is selected, if it is something that can be moved.
fn selected(selection: Selection, lesson: &Lesson, plan: &CheckedPlan) -> Option<Thing> {
    match selection {
        Selection::Group(g) => Some(Thing::Row(g)),
        Selection::Step(g, s) => Some(step_thing(lesson, plan, g, s)),
        _ => None,
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
