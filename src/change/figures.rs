//! Figures of a lesson that nobody has stated for it, with the range in which
//! they may lie, and the lesson with another value of one.

use super::hangs_on::Turns;
use crate::check::CheckedPlan;
use crate::finding::shortened;
use crate::model::{
    Figure, Lesson, LessonParts, Origin, RecipeId, RoomId, ThreePoint, TinId, TinPool,
};
use crate::units::{ExactMinutes, Millimetres, Minutes};

/// From cold to 180 °C takes so long, of ovens of all kinds (published figures
/// for electric ovens with and without a fan and for gas).
const WARM_UP: (f64, f64) = (7.0, 20.0);
/// Air between tins, in millimetres; by judgement.
const GAP: (f64, f64) = (10.0, 30.0);
/// Tins that an opening moves; by judgement.
const TINS_PER_OPENING: (f64, f64) = (2.0, 6.0);
/// Minutes of one oven call; by judgement.
const CALL: (f64, f64) = (2.0, 5.0);

/// Where a figure stands.
#[derive(Debug, Clone, PartialEq)]
enum At {
    /// A step of that name and these minutes, in whatever method.
    Step(RecipeId, String, ThreePoint),
    /// Minutes of a step in one tin.
    TinStep(RecipeId, usize, usize),
    /// Minutes of a bake.
    Bake(RecipeId, usize),
    /// A step of the class.
    Class(usize),
    /// Warm-up of all ovens of which it is assumed.
    WarmUp,
    /// Air between tins, likewise.
    Gap,
    TinsPerOpening,
    Call,
    /// Tins of a kind in a room.
    Stock(TinId, RoomId),
}

/// A figure that may be another.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Known {
    at: At,
    pub(super) name: String,
    pub(super) unit: &'static str,
    pub(super) now: Option<f64>,
    pub(super) origin: Origin,
    pub(super) range: (f64, f64),
    /// Values looked at lie so far apart.
    grid: f64,
    /// It is not told as nearer than this.
    pub(super) least_nearness: f64,
}

impl Known {
    /// Where the way to either end begins.
    pub(super) fn start(&self) -> f64 {
        self.now.unwrap_or(self.range.1)
    }

    /// The ends of its range that lie beyond its value, and on which side of
    /// the turn the value then lies.
    pub(super) fn ends(&self) -> Vec<(f64, Turns)> {
        let mut ends = Vec::new();
        if self.range.1 > self.start() + 1e-9 {
            ends.push((self.range.1, Turns::AtMost));
        }
        if self.range.0 < self.start() - 1e-9 {
            ends.push((self.range.0, Turns::AtLeast));
        }
        ends
    }

    /// Whether more of it takes more time: that never helps, whatever a search
    /// has come upon.
    pub(super) fn only_takes_time(&self) -> bool {
        match self.at {
            At::Step(..) | At::TinStep(..) | At::Bake(..) | At::Class(_) | At::WarmUp => true,
            At::Gap | At::TinsPerOpening | At::Call | At::Stock(..) => false,
        }
    }

    /// Values on the way to an end of the range, that end last.
    pub(super) fn steps(&self, end: f64) -> Vec<f64> {
        let (start, up) = (self.start(), end > self.start());
        let mut steps = Vec::new();
        // What is looked at lies on the grid, wherever it begins.
        let on_grid = start / self.grid;
        let mut value =
            self.grid * if up { (on_grid + 1e-9).floor() } else { (on_grid - 1e-9).ceil() };
        while steps.len() < 400 {
            value += if up { self.grid } else { -self.grid };
            if up && value >= end - 1e-9 || !up && value <= end + 1e-9 {
                break;
            }
            steps.push(value);
        }
        steps.push(end);
        steps
    }

    /// The lesson with another value.
    pub(super) fn with(&self, lesson: &Lesson, value: f64) -> Option<Lesson> {
        let mut parts = lesson.clone().into_parts();
        self.set(&mut parts, value)?;
        Lesson::new(parts).ok()
    }

    fn set(&self, parts: &mut LessonParts, value: f64) -> Option<()> {
        match &self.at {
            At::Step(recipe, name, was) => {
                let new = usual(was, value)?;
                for step in parts.recipes[recipe.0].methods.iter_mut().flat_map(|m| &mut m.steps) {
                    if step.name == *name && step.minutes == Some(*was) {
                        step.minutes = Some(new);
                    }
                }
            }
            At::TinStep(recipe, tin, step) => {
                let minutes = &mut parts.recipes[recipe.0].tins[*tin].step_minutes[*step].1;
                *minutes = usual(minutes, value)?;
            }
            At::Bake(recipe, tin) => {
                let tin = &mut parts.recipes[recipe.0].tins[*tin];
                let was = tin.minutes?;
                tin.minutes = Some(usual(&was, value)?);
                for (_, minutes) in &mut tin.elsewhere {
                    let ratio = minutes.usual().get() / was.usual().get();
                    *minutes = usual(minutes, value * ratio)?;
                }
            }
            At::Class(step) => {
                let minutes = &mut parts.class_steps[*step].minutes;
                *minutes = usual(minutes, value)?;
            }
            At::WarmUp => {
                let value = Figure::assumed(ExactMinutes::new(value).ok()?);
                let all = parts.ovens.iter_mut().map(|o| &mut o.warm_up);
                all.filter(|w| w.origin == Origin::Assumed).for_each(|w| *w = value);
            }
            At::Gap => {
                let value = Figure::assumed(Millimetres::new(value).ok()?);
                let all = parts.ovens.iter_mut().map(|o| &mut o.gap);
                all.filter(|g| g.origin == Origin::Assumed).for_each(|g| *g = value);
            }
            At::TinsPerOpening => parts.rules.tins_per_opening = Figure::assumed(whole(value)),
            At::Call => {
                let minutes = i32::try_from(whole(value)).ok()?;
                parts.rules.call = Figure::assumed(Minutes::new(minutes));
            }
            At::Stock(tin, room) => {
                parts.tin_pools.push(TinPool { tin: *tin, room: *room, count: whole(value) });
            }
        }
        Some(())
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and not negative
fn whole(value: f64) -> u32 {
    value.round().max(0.0) as u32
}

/// Other usual minutes; quick and slow ones give way only where they must.
fn usual(was: &ThreePoint, value: f64) -> Option<ThreePoint> {
    let (quick, slow) = (was.quick().get().min(value), was.slow().get().max(value));
    ThreePoint::new(quick, value, slow, was.origin).ok()
}

/// Whether nobody has stated minutes in full for this lesson.
fn is_open(minutes: &ThreePoint) -> bool {
    matches!(minutes.origin, Origin::Assumed | Origin::Library | Origin::Computed)
        || minutes.spread == Origin::Assumed
}

/// The figures of a lesson that nobody has stated for it and that its groups'
/// plans or the class's own steps go by.
pub(super) fn figures(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Known> {
    let mut all = Vec::new();
    let made: Vec<usize> = (0..lesson.recipes.len())
        .filter(|&r| lesson.attending().any(|g| lesson.group(g).recipe.0 == r))
        .collect();
    for recipe in made {
        of_recipe(lesson, RecipeId(recipe), &mut all);
    }
    for (i, step) in lesson.class_steps.iter().enumerate() {
        if is_open(&step.minutes) {
            all.push(minutes(At::Class(i), shortened(&step.name, 40), &step.minutes));
        }
    }
    of_room(lesson, &mut all);
    stocks(lesson, plan, &mut all);
    all.retain(|known| known.range.1 - known.range.0 > 1e-9);
    all
}

fn minutes(at: At, name: String, of: &ThreePoint) -> Known {
    let usual = of.usual().get();
    // Told in half minutes, and none of them beyond what it may take.
    let range = ((2.0 * of.quick().get()).ceil() / 2.0, (2.0 * of.slow().get()).floor() / 2.0);
    let range = (range.0.min(usual), range.1.max(usual));
    Known {
        at,
        name,
        unit: "min",
        now: Some(usual),
        origin: if of.spread == Origin::Assumed && of.origin != Origin::Assumed {
            of.origin
        } else {
            of.spread
        },
        range,
        grid: 0.5,
        least_nearness: 0.0,
    }
}

fn of_recipe(lesson: &Lesson, id: RecipeId, all: &mut Vec<Known>) {
    let recipe = &lesson.recipes[id.0];
    let several = lesson.recipes.len() > 1;
    let named = |what: &str| {
        let what = shortened(what, 40);
        if several { format!("{what} ({})", shortened(&recipe.name, 40)) } else { what }
    };
    let makers = || lesson.groups.iter().filter(|g| g.recipe == id);
    for (m, method) in recipe.methods.iter().enumerate() {
        if !makers().any(|g| g.methods.iter().any(|x| x.0 == m)) {
            continue;
        }
        for step in &method.steps {
            if let Some(three) = step.minutes.filter(is_open) {
                let at = At::Step(id, step.name.clone(), three);
                if all.iter().all(|known: &Known| known.at != at) {
                    all.push(minutes(at, named(&step.name), &three));
                }
            }
        }
    }
    for (t, tin) in recipe.tins.iter().enumerate() {
        if !makers().any(|g| g.tins.iter().any(|x| x.0 == t)) {
            continue;
        }
        let label = shortened(&tin.label, 40);
        if let Some(three) = tin.minutes.filter(is_open) {
            all.push(minutes(At::Bake(id, t), named(&format!("the bake in {label}")), &three));
        }
        for (s, (step, three)) in tin.step_minutes.iter().enumerate() {
            if is_open(three) {
                let name = named(&format!("{} in {label}", shortened(step, 40)));
                all.push(minutes(At::TinStep(id, t, s), name, three));
            }
        }
    }
}

fn of_room(lesson: &Lesson, all: &mut Vec<Known>) {
    let mut add = |at, name: &str, unit, now: Option<f64>, range: (f64, f64), grid| {
        if let Some(now) = now {
            all.push(Known {
                at,
                name: name.to_owned(),
                unit,
                now: Some(now),
                origin: Origin::Assumed,
                range: (range.0.min(now), range.1.max(now)),
                grid,
                least_nearness: 0.0,
            });
        }
    };
    let working = || lesson.ovens.iter().filter(|o| !o.out_of_order);
    let warm = working().map(|o| o.warm_up).find(|w| w.origin == Origin::Assumed);
    let warm = warm.map(|w| w.value.get());
    add(At::WarmUp, "warming an oven up to 180 °C", "min", warm, WARM_UP, 1.0);
    let gap = working().map(|o| o.gap).find(|g| g.origin == Origin::Assumed);
    let gap = gap.map(|g| f64::from(g.value.get()));
    add(At::Gap, "the air between tins", "mm", gap, GAP, 5.0);
    let per = Some(lesson.rules.tins_per_opening).filter(|t| t.origin == Origin::Assumed);
    let per = per.map(|t| f64::from(t.value));
    let name = "the number of tins that one opening of a door moves";
    add(At::TinsPerOpening, name, "", per, TINS_PER_OPENING, 1.0);
    let call = Some(lesson.rules.call).filter(|c| c.origin == Origin::Assumed);
    let call = call.map(|c| f64::from(c.value.get()));
    add(At::Call, "one oven call", "min", call, CALL, 1.0);
}

/// Tins the plan uses whose number the lesson does not say.
fn stocks(lesson: &Lesson, plan: &CheckedPlan, all: &mut Vec<Known>) {
    let mut used: Vec<(TinId, RoomId, u32, u32)> = Vec::new();
    for choice in &plan.plan().choices {
        let Some(tin) = choice.tin.map(|t| lesson.tin_choice_of(choice.group, t)) else { continue };
        let room = lesson.group(choice.group).room;
        if lesson.tin_pool(room, tin.tin).is_some() {
            continue;
        }
        match used.iter_mut().find(|(t, r, ..)| (*t, *r) == (tin.tin, room)) {
            Some((_, _, count, one)) => {
                *count += tin.count;
                *one = tin.count.max(*one);
            }
            None => used.push((tin.tin, room, tin.count, tin.count)),
        }
    }
    let several = lesson.rooms.len() > 1;
    for (tin, room, count, one) in used {
        let place =
            if several { format!(" in {}", lesson.rooms[room.0].name) } else { String::new() };
        all.push(Known {
            at: At::Stock(tin, room),
            name: format!(
                "the number of tins ({}){place}",
                shortened(&lesson.tins[tin.0].name, 40)
            ),
            unit: "",
            now: None,
            origin: Origin::Assumed,
            // With fewer than one group needs there is nothing to weigh.
            range: (f64::from(one), f64::from(count)),
            grid: 1.0,
            // Any number may be there: half way, for want of a guess.
            least_nearness: 0.5,
        });
    }
}
