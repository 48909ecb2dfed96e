//! Takes a valid plan and bends it, one rule at a time.

use ovenbell::model::lesson::{Lock, LockedTo};
use ovenbell::model::{Lesson, StepKind};
use ovenbell::plan::{Load, Place, Plan, StepPlacement};
use ovenbell::units::{Celsius, FineMillimetres, Minute, Minutes};

/// Rules that some generated lesson must let us bend.
#[allow(dead_code)] // not every program that takes this in wants it
pub const RULES: &[&str] = &[
    "whole-group",
    "order",
    "pupils",
    "class-step",
    "kit",
    "adults",
    "period",
    "one-oven",
    "temperature",
    "warm-up",
    "shelf",
    "door",
    "door-hands",
    "tin",
    "bake-time",
    "cool-enough",
    "bell",
    "keep-apart",
];

/// So many ways there are in [`all`], some of them of one rule.
#[allow(dead_code)] // as above
pub const WAYS: usize = 22;

/// A plan that breaks a rule; others may break with it.
pub struct Bent {
    /// The rule.
    pub rule: &'static str,
    /// Which of the ways it was bent, from 0.
    #[allow(dead_code)] // not every program that takes this in counts them
    pub way: usize,
    /// The plan.
    pub plan: Plan,
}

/// All plans that bend one rule of a valid plan, each in its own way.
pub fn all(lesson: &Lesson, plan: &Plan) -> Vec<Bent> {
    let (mut bent, mut ways) = (Vec::new(), 0);
    let mut bend = |rule: &'static str, how: &dyn Fn(&Lesson, &mut Plan) -> bool| {
        let mut other = plan.clone();
        if how(lesson, &mut other) {
            bent.push(Bent { rule, way: ways, plan: other });
        }
        ways += 1;
    };
    bend("whole-group", &|_, p| p.steps.pop().is_some());
    bend("whole-group", &|_, p| {
        p.steps.first().cloned().is_some_and(|s| {
            p.steps.push(s);
            true
        })
    });
    bend("pupils", &|_, p| {
        let step = p.steps.iter_mut().find(|s| !s.pupils.is_empty());
        step.is_some_and(|s| {
            s.pupils.clear();
            true
        })
    });
    bend("order", &|l, p| shift(l, p, StepKind::Bake, -3));
    bend("class-step", &|_, p| {
        let step = p.class_steps.last_mut();
        step.is_some_and(|s| {
            s.start = s.start - Minutes::new(1);
            s.end = s.end - Minutes::new(1);
            true
        })
    });
    bend("kit", &|_, p| {
        p.uses.iter().position(|u| matches!(u.of, ovenbell::plan::Stock::Kit(_))).is_some_and(|i| {
            p.uses.remove(i);
            true
        })
    });
    bend("kit", &|l, p| {
        let items = p.uses.iter_mut().find_map(|u| match u.of {
            ovenbell::plan::Stock::Kit(pool) => Some((l.kit_pools[pool.0].count, &mut u.items)),
            ovenbell::plan::Stock::Tin(_) => None,
        });
        items.is_some_and(|(count, items)| {
            items[0] = count;
            true
        })
    });
    bend("adults", &|_, p| {
        let step = p.steps.iter_mut().find(|s| s.adult.is_some());
        step.is_some_and(|s| {
            s.adult = None;
            true
        })
    });
    bend("door-hands", &|_, p| p.door_watches.pop().is_some());
    bend("period", &|l, p| {
        first_hand_step(l, p).is_some_and(|s| {
            move_to(s, Minute::BELL);
            true
        })
    });
    bend("one-oven", &|_, p| p.loads.pop().is_some());
    bend("temperature", &|_, p| p.settings.pop().is_some());
    bend("temperature", &|_, p| {
        let load = p.loads.first_mut();
        load.is_some_and(|l| {
            l.celsius = Celsius::new(l.celsius.get() + 40.0).unwrap();
            true
        })
    });
    bend("warm-up", &|_, p| {
        let setting = p.settings.first_mut();
        setting.is_some_and(|s| {
            s.set_at = s.hot_from;
            true
        })
    });
    bend("shelf", &|_, p| {
        let load = p.loads.first_mut();
        load.is_some_and(|l| {
            let (x, y) = (FineMillimetres::whole(4000), FineMillimetres::whole(0));
            l.place = Place::Corner { x, y, turned: false };
            true
        })
    });
    bend("shelf", &|_, p| on_top_of_another(p));
    bend("door", &opened_while_shut);
    bend("tin", &|_, p| {
        let tins = p.uses.iter().position(|u| matches!(u.of, ovenbell::plan::Stock::Tin(_)));
        tins.is_some_and(|i| {
            p.uses.remove(i);
            true
        })
    });
    bend("bake-time", &|l, p| longer(l, p, StepKind::Bake, 1));
    bend("cool-enough", &|l, p| longer(l, p, StepKind::Cool, -1));
    bend("bell", &|l, p| {
        if l.groups.iter().any(|g| !g.collected.is_empty()) {
            return false;
        }
        let far = l.periods[0].end;
        let last = p.steps.iter_mut().filter(|s| s.start < far).max_by_key(|s| s.end);
        last.is_some_and(|s| {
            move_to(s, far - Minutes::new(1));
            true
        })
    });
    bend("keep-apart", &beside_one_kept_apart);
    assert_eq!(ways, WAYS);
    bent
}

/// The lesson with a step locked where the plan has it, and the plan with that step a
/// minute later.
#[allow(dead_code)] // not every program that takes this in wants it
pub fn locked(lesson: &Lesson, plan: &Plan) -> Option<(Lesson, Plan)> {
    let step = plan.steps.first()?;
    let name =
        &lesson.method_of(step.group, plan.choice(step.group)?.method).steps[step.step.0].name;
    let mut parts = lesson.clone().into_parts();
    parts.locks.push(Lock { group: step.group, to: LockedTo::Start(name.clone(), step.start) });
    let mut moved = plan.clone();
    move_to(&mut moved.steps[0], step.start + Minutes::new(1));
    Some((Lesson::new(parts).unwrap(), moved))
}

fn kind(lesson: &Lesson, plan: &Plan, step: &StepPlacement) -> StepKind {
    let choice = plan.choice(step.group).unwrap();
    lesson.method_of(step.group, choice.method).steps[step.step.0].kind
}

fn move_to(step: &mut StepPlacement, start: Minute) {
    let length = step.end - step.start;
    step.start = start;
    step.end = start + length;
}

fn shift(lesson: &Lesson, plan: &mut Plan, of: StepKind, by: i32) -> bool {
    let found = plan.steps.iter().position(|s| kind(lesson, plan, s) == of);
    found.is_some_and(|i| {
        let start = plan.steps[i].start;
        move_to(&mut plan.steps[i], start + Minutes::new(by));
        true
    })
}

fn longer(lesson: &Lesson, plan: &mut Plan, of: StepKind, by: i32) -> bool {
    let found = plan.steps.iter().position(|s| kind(lesson, plan, s) == of);
    found.is_some_and(|i| {
        plan.steps[i].end = plan.steps[i].end + Minutes::new(by);
        true
    })
}

/// A hand step placed in the lesson, the opening of which is never empty here.
fn first_hand_step<'a>(lesson: &Lesson, plan: &'a mut Plan) -> Option<&'a mut StepPlacement> {
    let found = plan
        .steps
        .iter()
        .position(|s| kind(lesson, plan, s) == StepKind::Hand && !s.pupils.is_empty())?;
    plan.steps.get_mut(found)
}

/// Puts a tin of a group that is kept apart, or one of another, into the oven of the
/// other in some minute of both.
fn beside_one_kept_apart(lesson: &Lesson, plan: &mut Plan) -> bool {
    let apart = |load: &Load| lesson.group(load.group).keep_apart;
    for i in 0..plan.loads.len() {
        for j in 0..plan.loads.len() {
            let (a, b) = (&plan.loads[i], &plan.loads[j]);
            let together = a.start < b.end && b.start < a.end;
            if a.group != b.group && apart(a) && together {
                plan.loads[i].oven = b.oven;
                return true;
            }
        }
    }
    false
}

fn on_top_of_another(plan: &mut Plan) -> bool {
    for i in 0..plan.loads.len() {
        for j in 0..i {
            let (a, b) = (&plan.loads[i], &plan.loads[j]);
            if (a.oven, a.shelf) == (b.oven, b.shelf) && a.start < b.end && b.start < a.end {
                plan.loads[i].place = b.place;
                return true;
            }
        }
    }
    false
}

/// Moves all of one group so that it loads while another's delicate bake in
/// the same oven wants the door shut.
fn opened_while_shut(lesson: &Lesson, plan: &mut Plan) -> bool {
    for i in 0..plan.loads.len() {
        for j in 0..plan.loads.len() {
            let (a, b) = (plan.loads[i].clone(), plan.loads[j].clone());
            let delicate = lesson.recipe_of(b.group).bake.shut.is_some();
            if a.group == b.group || a.oven != b.oven || !delicate {
                continue;
            }
            let call = lesson.rules.call.value;
            let by = (b.start + call + Minutes::new(2)) - a.start;
            for s in plan.steps.iter_mut().filter(|s| s.group == a.group) {
                s.start = s.start + by;
                s.end = s.end + by;
            }
            for l in plan.loads.iter_mut().filter(|l| l.group == a.group) {
                l.start = l.start + by;
                l.end = l.end + by;
            }
            return true;
        }
    }
    false
}
