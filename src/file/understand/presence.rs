//! Whether the adults whom the lesson asks for are there, and the class's own
//! steps apart where they have no choice.

use std::collections::BTreeSet;

use super::Builder;
use super::findings::quoted;
use crate::file::format::PeriodShape;
use crate::finding::Path;
use crate::model::class_starts::{FloatingStep, class_starts, fewest_that_clash};
use crate::model::{
    AdultId, AdultNeed, AtOvens, ClassStep, Group, GroupId, Method, Phase, StepKind, Timing,
};
use crate::units::{Minute, Minutes};

/// A step of the class with where it stands in the file.
struct Spoken<'a> {
    step: &'a ClassStep,
    path: Path,
    minutes: i32,
    /// Its start, if it has no choice.
    fixed: Option<i32>,
}

impl Spoken<'_> {
    fn span(&self) -> Option<(i32, i32)> {
        self.fixed.map(|start| (start, start + self.minutes))
    }
}

/// A finding before it is told.
type UntoldFinding = (&'static str, Path, String, &'static str);

const MOVE_ONE: &str = "move one of them, or give it a window: `between: (20, 40)`";
const WIDEN: &str = "widen a window, or move, shorten or leave out what is beside it";
/// So many steps that clash are told by name.
const NAMED: usize = 6;
const THERE: &str = "change the adult's `hours`, or leave the adult out of this step";

impl Builder<'_> {
    /// Reports steps of the class that cannot all be, and adults who are
    /// wanted and not there. Asks for parts without errors.
    pub(super) fn check_presence(&mut self) {
        if self.findings.any_error() {
            return;
        }
        let steps = self.spoken();
        let mut told: Vec<UntoldFinding> = Vec::new();
        for (i, step) in steps.iter().enumerate() {
            for before in &steps[..i] {
                together(&self.parts.adults, before, step, &mut told);
            }
            self.absent(step, &mut told);
        }
        if told.is_empty() {
            self.crowded(&steps, &mut told);
        }
        for (code, path, message, hint) in told {
            self.findings.error(code, &path, message, hint);
        }
        self.check_adults_wanted();
    }

    /// The steps of the class in the order of the parts.
    fn spoken(&self) -> Vec<Spoken<'_>> {
        let mut all: Vec<Spoken<'_>> = Vec::new();
        for number in 0..self.file.periods().count() {
            let Some(period) = self.parts.periods.get(number) else { continue };
            let path = PeriodShape::path(number);
            let of_period = |phase: Phase| {
                let steps = self.parts.class_steps.iter();
                steps.filter(move |s| s.period.0 == number && s.phase == phase)
            };
            let minutes = |s: &ClassStep| self.planned(Some(&s.minutes)).get();
            let closing: i32 = of_period(Phase::Closing).map(minutes).sum();
            for (phase, field, from) in [
                (Phase::Opening, "opening", period.start),
                (Phase::During, "during", period.start),
                (Phase::Closing, "closing", period.end - Minutes::new(closing)),
            ] {
                let mut turn = from.get();
                for (i, step) in of_period(phase).enumerate() {
                    let fixed = match step.timing {
                        Timing::InTurn => Some(turn),
                        Timing::At(at) => Some(at.get()),
                        Timing::Between(..) => None,
                    };
                    let minutes = minutes(step);
                    turn += minutes;
                    all.push(Spoken { step, path: path.field(field).index(i), minutes, fixed });
                }
            }
        }
        all
    }

    /// Tells of adults who are not there for a step of the class.
    fn absent(&self, spoken: &Spoken<'_>, told: &mut Vec<UntoldFinding>) {
        let (step, minutes) = (spoken.step, spoken.minutes);
        let there = |adult: AdultId, start: i32| {
            (start..start + minutes).find(|&m| !self.parts.adults[adult.0].is_there(Minute::new(m)))
        };
        match (spoken.fixed, step.timing) {
            (Some(start), _) => {
                for (i, &adult) in step.adults.iter().enumerate() {
                    if let Some(minute) = there(adult, start) {
                        let message = format!(
                            "{} takes {} from minute {start} to {}, but at minute {minute} that \
                             adult is not there",
                            quoted(&step.name),
                            quoted(&self.parts.adults[adult.0].name),
                            start + minutes
                        );
                        let path = spoken.path.field("adults").index(i);
                        told.push(("adult-not-there", path, message, THERE));
                    }
                }
            }
            (None, Timing::Between(from, until)) => {
                let mut starts = from.get()..=until.get() - minutes;
                let all = |start| step.adults.iter().all(|&a| there(a, start).is_none());
                if !starts.any(all) {
                    let message = format!(
                        "at no time between minute {from} and {until} are the adults of {} there \
                         for {minutes} min",
                        quoted(&step.name),
                        from = from.get(),
                        until = until.get()
                    );
                    told.push(("adult-not-there", spoken.path.field("adults"), message, THERE));
                }
            }
            (None, _) => {}
        }
    }

    /// Tells of steps with windows that cannot all lie in them, beside the
    /// class's other steps and with their adults there.
    fn crowded(&self, spoken: &[Spoken<'_>], told: &mut Vec<UntoldFinding>) {
        let (mut places, mut steps) = (Vec::new(), Vec::new());
        for of in spoken {
            if let Timing::Between(from, until) = of.step.timing {
                let latest = until.get() - of.minutes;
                let free = |&start: &i32| self.is_free(spoken, of, start);
                steps.push(FloatingStep {
                    period: of.step.period.0,
                    minutes: of.minutes,
                    starts: (from.get()..=latest).filter(free).collect(),
                    best: from.get() + (latest - from.get()) / 2,
                    adults: of.step.adults.iter().map(|a| a.0).collect(),
                });
                places.push((of, from, until));
            }
        }
        if class_starts(&steps).is_ok() {
            return;
        }
        let clash = fewest_that_clash(&steps);
        let Some((last, ..)) = clash.last().map(|&i| places[i]) else { return };
        let named = clash.iter().take(NAMED).map(|&i| {
            let (of, from, until) = places[i];
            let (name, minutes) = (quoted(&of.step.name), of.minutes);
            format!("{name} ({minutes} min between minute {} and {})", from.get(), until.get())
        });
        let named: Vec<String> = named.collect();
        let (named, more) = (named.join(", "), clash.len().saturating_sub(NAMED));
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        let message = match clash.len() {
            1 => format!(
                "{named} finds no place in its window beside the class's other steps and with \
                 its adults there"
            ),
            _ => format!(
                "{named}{more} do not all find a place in their windows, one after the other, \
                 beside the class's other steps and with their adults there"
            ),
        };
        told.push(("class-steps-crowded", last.path.field("between"), message, WIDEN));
    }

    /// Whether a step with a window may start at a minute beside the steps that
    /// have no choice, with its adults there and not busy with those.
    fn is_free(&self, spoken: &[Spoken<'_>], of: &Spoken<'_>, start: i32) -> bool {
        let end = start + of.minutes;
        let there =
            |a: &AdultId| (start..end).all(|m| self.parts.adults[a.0].is_there(Minute::new(m)));
        let in_the_way = |other: &Spoken<'_>| {
            other.span().is_some_and(|(from, until)| from < end && start < until)
                && (other.step.period == of.step.period
                    || other.step.adults.iter().any(|a| of.step.adults.contains(a)))
        };
        of.step.adults.iter().all(there) && !spoken.iter().any(in_the_way)
    }

    /// Reports groups that need an adult whom the lesson has not.
    fn check_adults_wanted(&mut self) {
        let mut told: BTreeSet<usize> = BTreeSet::new();
        let entries = self.members.iter().enumerate().flat_map(|(i, &n)| vec![i; n]);
        for (id, entry) in entries.collect::<Vec<_>>().into_iter().enumerate() {
            let Some(group) = self.parts.groups.get(id) else { continue };
            if group.attendance == crate::model::Attendance::LeftOut || told.contains(&entry) {
                continue;
            }
            let recipe = &self.parts.recipes[group.recipe.0];
            let methods = group.methods.iter().filter_map(|m| recipe.methods.get(m.0));
            let wants: Vec<Option<String>> =
                methods.map(|method| self.adult_missing(GroupId(id), group, method)).collect();
            if let Some(Some(first)) = wants.iter().find(|w| w.is_some()) {
                let message = format!("{first}, but no adult is there for {}", quoted(&group.name));
                let path = Path::root().field("groups").index(entry);
                let hint = "add one to `adults: [(name: \"teacher\")]`, for this room and not \
                            `only_for` another group";
                told.insert(entry);
                if wants.iter().all(Option::is_some) {
                    self.findings.error("no-adult", &path, message, hint);
                } else {
                    self.findings.warning("no-adult", &path, message, hint);
                }
            }
        }
    }

    /// The first thing that asks for an adult whom the lesson has not.
    fn adult_missing(&self, id: GroupId, group: &Group, method: &Method) -> Option<String> {
        let adults = &self.parts.adults;
        let serves = (0..adults.len()).any(|a| group.may_have(id, AdultId(a), adults));
        let near = adults.iter().any(|a| a.room.is_none_or(|r| r == group.room));
        let inside =
            |name: &String| !group.beforehand.contains(name) && !group.collected.contains(name);
        let step = method.steps.iter().filter(|s| inside(&s.name)).find(|s| match s.adult {
            AdultNeed::None => false,
            AdultNeed::Near => !near,
            AdultNeed::With => !serves,
        });
        if let Some(step) = step {
            let at_oven = matches!(step.kind, StepKind::Load | StepKind::TakeOut);
            if at_oven && self.parts.rules.at_ovens == AtOvens::InRoom {
                return Some("an adult is wanted in the room while ovens are open".to_owned());
            }
            let how = if step.adult == AdultNeed::Near { "near" } else { "with it" };
            return Some(format!("the step {} wants an adult {how}", quoted(&step.name)));
        }
        (self.parts.rules.at_ovens == AtOvens::AtDoor && method.bake_steps().is_some() && !serves)
            .then(|| "an adult is wanted at every open oven door".to_owned())
    }
}

/// Tells of two steps of the class that have no choice and are at one time,
/// where they share their pupils or an adult.
fn together(
    adults: &[crate::model::Adult],
    a: &Spoken<'_>,
    b: &Spoken<'_>,
    told: &mut Vec<UntoldFinding>,
) {
    let (Some((start_a, end_a)), Some((start_b, end_b))) = (a.span(), b.span()) else { return };
    if start_a >= end_b || start_b >= end_a {
        return;
    }
    let names = (quoted(&a.step.name), quoted(&b.step.name));
    let when = format!(
        "{}, from minute {start_a} to {end_a}, and {}, from minute {start_b} to {end_b}",
        names.0, names.1
    );
    if a.step.period == b.step.period {
        // An opening and a closing that meet are told of with the period.
        let during = [b, a].into_iter().find(|s| s.step.phase == Phase::During);
        if let Some(during) = during {
            let message = format!("{when}, are at one time; the class can only be at one of them");
            told.push(("class-steps-overlap", during.path.field("at"), message, MOVE_ONE));
        }
        return;
    }
    for (i, adult) in b.step.adults.iter().enumerate() {
        if a.step.adults.contains(adult) {
            let name = quoted(&adults[adult.0].name);
            let message = format!("{when}, both take {name} at one time");
            let hint = "leave the adult out of one of them";
            told.push(("adult-busy", b.path.field("adults").index(i), message, hint));
        }
    }
}
