//! The expanded problem as JSON, for solvers that know nothing of baking. The
//! fields are documented in `assets/problem.md`.

use super::problem_json::{
    BakeJson, ClassStepJson, GroupJson, HoldJson, LinkJson, NeedJson, OptionJson, OvenJson,
    PeriodJson, PoolJson, ProblemJson, ShelfJson, TaskJson,
};
use crate::graph::Problem;
use crate::graph::problem::{
    BakeTask, Choice, ClassTask, GroupTask, HoldTask, Need, OvenTask, PeriodTask, Pool, PoolOf,
    Task, WhenDone,
};
use crate::model::{ClassStepId, Lesson, StepKind};

/// The number of the format, raised when a field changes its meaning.
const FORMAT: u32 = 1;

/// The problem of a lesson as one JSON object.
///
/// # Errors
/// Never in practice; `serde_json` reserves the right.
pub fn problem(lesson: &Lesson, problem: &Problem) -> Result<String, serde_json::Error> {
    serde_json::to_string(&ProblemWriter { lesson, problem }.whole())
}

struct ProblemWriter<'a> {
    lesson: &'a Lesson,
    problem: &'a Problem,
}

impl<'a> ProblemWriter<'a> {
    fn whole(&self) -> ProblemJson<'a> {
        let Problem { groups, ovens, pools, periods, fixed, floating, .. } = self.problem;
        let class_steps = fixed.iter().chain(floating).map(|c| self.class_step(c)).collect();
        ProblemJson {
            format: FORMAT,
            lesson: &self.lesson.title,
            horizon: self.problem.horizon,
            wanted_spare: self.problem.wanted_spare,
            call: self.problem.call,
            tins_per_opening: self.problem.tins_per_opening,
            adult_at_doors: self.problem.adult_at_doors,
            heats: self.problem.heats.iter().map(|h| h.get()).collect(),
            periods: periods.iter().map(period).collect(),
            class_steps,
            pools: pools.iter().map(|p| self.pool(p)).collect(),
            adult_near: self.problem.adult_near.iter().map(|n| stretches(n)).collect(),
            ovens: ovens.iter().map(|o| self.oven(o)).collect(),
            groups: groups.iter().map(|g| self.group(g)).collect(),
        }
    }

    fn class_step(&self, of: &ClassTask) -> ClassStepJson<'a> {
        let steps = &self.lesson.class_steps;
        let of_period = |i: &usize| steps[*i].period.0 == of.period;
        let ClassStepId(at) = of.step;
        ClassStepJson {
            number: (0..at).filter(of_period).count() + 1,
            name: &steps[at].name,
            period: of.period,
            minutes: of.minutes,
            earliest: of.earliest,
            latest: of.latest,
            adults: of.adults.clone(),
        }
    }

    fn pool(&self, of: &Pool) -> PoolJson<'a> {
        let lesson = self.lesson;
        let (kind, at, name) = match of.of {
            PoolOf::Kit(p) => ("kit", p.0, &lesson.kit_kinds[lesson.kit_pools[p.0].kit.0].name),
            PoolOf::Tin(t, _) => ("tin", t.0, &lesson.tins[t.0].name),
            PoolOf::Adult(a) => ("adult", a, &lesson.adults[a].name),
        };
        let adult = match of.of {
            PoolOf::Adult(a) => lesson.adults.get(a),
            _ => None,
        };
        let in_room = |o: &usize| {
            let oven = &lesson.ovens[self.problem.ovens[*o].oven.0];
            adult.is_some_and(|a| a.room.is_none_or(|r| r == oven.room))
        };
        let groups = &self.problem.groups;
        let only_for = adult.and_then(|a| a.attached_to).map(|only| {
            let own = (0..groups.len()).filter(|&g| groups[g].group == only);
            own.collect()
        });
        PoolJson {
            kind,
            number: at + 1,
            name,
            count: of.count,
            taken: stretches(&of.taken),
            doors: adult.map(|_| (0..self.problem.ovens.len()).filter(in_room).collect()),
            only_for,
        }
    }

    fn oven(&self, of: &OvenTask) -> OvenJson<'a> {
        OvenJson {
            number: of.oven.0 + 1,
            name: &self.lesson.ovens[of.oven.0].name,
            on_from: of.on_from,
            out_from: of.out_from,
            changes: of.changes.clone(),
            shelves: of
                .shelves
                .iter()
                .map(|s| ShelfJson {
                    width: s.space.width,
                    depth: s.space.depth,
                    gap: s.space.gap,
                    clear: s.clear,
                })
                .collect(),
        }
    }

    fn group(&self, of: &'a GroupTask) -> GroupJson<'a> {
        GroupJson {
            number: of.group.0 + 1,
            name: &self.lesson.group(of.group).name,
            like: of.like,
            period: of.period,
            room: of.room.0,
            pupils: of.pupils,
            keep_apart: of.keep_apart,
            ovens: of.ovens.clone(),
            shelf: of.shelf,
            adults: of.adults.clone(),
            options: of.options.iter().map(|o| self.option(of, o)).collect(),
        }
    }

    fn option(&self, group: &GroupTask, of: &'a Choice) -> OptionJson<'a> {
        let method = self.lesson.method_of(group.group, of.method);
        let period = &self.problem.periods[group.period];
        let task = |t: &Task| self::task(t, &method.steps[t.step.0].name, period);
        OptionJson {
            method: of.method.0 + 1,
            method_name: &method.name,
            tin: of.tin.map(|t| t.0 + 1),
            tin_name: of.tin.map(|t| self.lesson.tin_choice_of(group.group, t).label.as_str()),
            departure: of.departure,
            tasks: of.tasks.iter().map(task).collect(),
            links: links(&of.tasks),
            holds: of.holds.iter().map(hold).collect(),
            bake: of.bake.as_ref().map(bake),
        }
    }
}

fn period(of: &PeriodTask) -> PeriodJson {
    PeriodJson {
        start: of.start,
        end: of.end,
        opening_end: of.opening_end,
        closing_start: of.closing_start,
    }
}

fn need(of: &Need) -> NeedJson {
    NeedJson { pools: of.pools.clone(), count: of.count, kept_apart: of.kept_apart }
}

fn hold(of: &HoldTask) -> HoldJson {
    HoldJson { from: of.from, to: of.to, need: need(&of.need) }
}

fn bake(of: &BakeTask) -> BakeJson<'_> {
    BakeJson {
        load: of.load,
        bake: of.bake,
        take_out: of.out,
        tins: of.tins,
        rim: of.footprint.sides(false).into(),
        round: of.footprint.is_circle(),
        height: of.height,
        heat: of.heat,
        shut: of.shut,
        at_most: &of.at_most,
    }
}

fn task<'a>(of: &Task, name: &'a str, period: &PeriodTask) -> TaskJson<'a> {
    let (earliest, latest) = by_the_bells(of, period);
    TaskJson {
        name,
        kind: match of.kind {
            StepKind::Hand => "hand",
            StepKind::Wait => "wait",
            StepKind::Load => "load",
            StepKind::Bake => "bake",
            StepKind::TakeOut => "take-out",
            StepKind::Cool => "cool",
        },
        hands: of.kind.is_hand(),
        when: match of.when {
            WhenDone::InLesson => "lesson",
            WhenDone::Beforehand => "beforehand",
            WhenDone::Collected => "collected",
        },
        minutes: of.minutes,
        may_last_longer: of.kind == StepKind::Cool,
        earliest,
        latest,
        pupils: of.pupils,
        needs: of.needs.iter().map(need).collect(),
        with_adult: of.with_adult,
        adult_near: of.adult_near,
    }
}

/// Earliest and latest start of a task by the bells and its lock; none where
/// they set no bound.
fn by_the_bells(of: &Task, period: &PeriodTask) -> (Option<i32>, Option<i32>) {
    let (earliest, latest) = match of.when {
        WhenDone::Beforehand => (None, Some(period.start - of.minutes)),
        WhenDone::InLesson => {
            let from = if of.kind.is_hand() { period.opening_end } else { period.start };
            (Some(from), Some(period.closing_start - of.minutes))
        }
        WhenDone::Collected if of.kind.is_hand() => (Some(period.end), None),
        WhenDone::Collected => (Some(period.start), None),
    };
    let Some(at) = of.locked else { return (earliest, latest) };
    let later = earliest.map_or(at, |e| e.max(at));
    let sooner = latest.map_or(at, |l| l.min(at));
    (Some(later), Some(sooner))
}

fn links(tasks: &[Task]) -> Vec<LinkJson> {
    let into = |(to, task): (usize, &Task)| -> Vec<LinkJson> {
        let gaps = task.before.iter();
        gaps.map(|g| LinkJson { from: g.task, to, least: g.least, longest: g.longest }).collect()
    };
    tasks.iter().enumerate().flat_map(into).collect()
}

/// The stretches in which something is so, each from its first minute to the
/// minute after its last.
fn stretches(minutes: &[bool]) -> Vec<[usize; 2]> {
    let mut found: Vec<[usize; 2]> = Vec::new();
    for (minute, _) in minutes.iter().enumerate().filter(|(_, so)| **so) {
        match found.last_mut() {
            Some(last) if last[1] == minute => last[1] = minute + 1,
            _ => found.push([minute, minute + 1]),
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::stretches;

    #[test]
    fn minutes_join_to_stretches() {
        assert_eq!(stretches(&[]), Vec::<[usize; 2]>::new());
        assert_eq!(stretches(&[true, true, false, true]), [[0, 2], [3, 4]]);
        assert_eq!(stretches(&[false, true]), [[1, 2]]);
    }
}
