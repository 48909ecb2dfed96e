//! `ovenbell why`: why groups are not served.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use clap::Args;

use super::numbers::{plans, seconds, seed};
use super::plan::why_none;
use super::say::{said, tell};
use super::shared_args::{Anew, Noted};
use super::told::{self, KeptPlan, kept_plan};
use super::{CANNOT_READ, DOES_NOT_FIT, WELL, load, print_json, wrong};
use crate::change::{Care, hangs_on};
use crate::check::{CheckedPlan, Verdict, judge_of};
use crate::deadline::Deadline;
use crate::export::why::{self, WhyReport};
use crate::model::lesson::LockedTo;
use crate::model::{Attendance, GroupId, Lesson, TinChoiceId};
use crate::planner::explain::{ExplainLimits, explain_some};
use crate::planner::{Budget, PlanError, plan_lesson};

pub(super) const HELP: &str = "Examples:
  ovenbell why lessons/d-sponges-gas.ron
  ovenbell why my-lesson.ron --group \"Unit 5\" --tin \"20 cm square tin\"
  ovenbell why my-lesson.ron --json --within 20

It goes by the plan kept with the lesson, if there is one and it holds. With
--tin the groups are planned with that tin alone, and a group that it does
not suit is told with the reason.";

#[derive(Debug, Args)]
pub(super) struct WhyArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    /// Only this group, served or not.
    #[arg(long, value_name = "NAME")]
    group: Option<String>,
    /// Why not in this tin: what its recipe calls it.
    #[arg(long, value_name = "TIN")]
    tin: Option<String>,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
    /// Answer within so many seconds, planning and all.
    #[arg(long, value_name = "SECONDS", value_parser = seconds, default_value = "4", allow_negative_numbers = true)]
    within: Duration,
    /// Stop planning after building so many plans [default: 20000, or a part of
    /// the seconds above].
    #[arg(long, value_name = "N", value_parser = plans, allow_negative_numbers = true)]
    decodings: Option<u64>,
    /// Where chance begins.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = seed, allow_negative_numbers = true)]
    seed: u64,
    #[command(flatten)]
    anew: Anew,
    #[command(flatten)]
    noted: Noted,
}

/// Explains a lesson file.
pub(super) fn run(args: &WhyArgs) -> u8 {
    let deadline = Deadline::within(Some(args.within));
    let loaded = match load(&args.lesson, args.noted.outcomes.as_deref()) {
        Ok((loaded, _)) => loaded,
        Err(status) => return status,
    };
    // With another tin it is another lesson, of which no plan is kept.
    let anew = args.anew.anew || args.tin.is_some();
    let kept = kept_plan(&args.lesson, &loaded, anew, args.json);
    match asked(loaded.lesson, args) {
        Ok((lesson, groups)) => answer((&lesson, kept), groups.as_deref(), args, &deadline),
        Err(error) => {
            wrong(&format!("{}: {}", args.lesson.display(), said(&error.to_string())));
            CANNOT_READ
        }
    }
}

/// The lesson to plan and the groups asked about; `None` for all that are not
/// served.
fn asked(lesson: Lesson, args: &WhyArgs) -> Result<(Lesson, Option<Vec<GroupId>>), String> {
    let group = args.group.as_deref().map(|name| named(&lesson, name)).transpose()?;
    let Some(tin) = &args.tin else { return Ok((lesson, group.map(|g| vec![g]))) };
    let groups: Vec<GroupId> = match group {
        Some(group) => vec![group],
        None => lesson.attending().collect(),
    };
    let choice = |g: &GroupId| {
        let mut tins = lesson.recipe_of(*g).tins.iter();
        tins.position(|t| t.label == *tin).map(|t| (*g, TinChoiceId(t)))
    };
    let chosen: Vec<(GroupId, TinChoiceId)> = groups.iter().filter_map(choice).collect();
    if chosen.is_empty() {
        let labels = groups.iter().flat_map(|&g| &lesson.recipe_of(g).tins).map(|t| &*t.label);
        return Err(format!("no tin is called \"{tin}\"; there are {}", names(labels)));
    }
    let only = chosen.iter().map(|c| c.0).collect();
    Ok((in_tin(lesson, &chosen)?, Some(only)))
}

fn named(lesson: &Lesson, name: &str) -> Result<GroupId, String> {
    let found = lesson.groups.iter().position(|g| g.name == *name).map(GroupId);
    found.ok_or_else(|| {
        let all = names(lesson.groups.iter().map(|g| &*g.name));
        format!("no group is called \"{name}\"; there are {all}")
    })
}

fn names<'a>(all: impl Iterator<Item = &'a str>) -> String {
    let mut names: Vec<String> = Vec::new();
    for name in all {
        if !names.iter().any(|known| known == name) {
            names.push(name.to_owned());
        }
    }
    if names.is_empty() { "none".to_owned() } else { names.join(", ") }
}

/// The lesson with these tins as the only ones of their groups, which take
/// part.
fn in_tin(lesson: Lesson, chosen: &[(GroupId, TinChoiceId)]) -> Result<Lesson, String> {
    let mut parts = lesson.into_parts();
    for &(group, tin) in chosen {
        parts.locks.retain(|l| l.group != group || !matches!(l.to, LockedTo::Tin(_)));
        parts.groups[group.0].tins = vec![tin];
        parts.groups[group.0].attendance = Attendance::TakesPart;
    }
    Lesson::new(parts).map_err(|error| error.to_string())
}

/// Of the time that is left, the part for planning, and of the rest the part for
/// reasons; what is left then goes to the figures the answer hangs on.
const FOR_PLANNING: f64 = 0.4;
const FOR_REASONS: f64 = 0.7;

fn answer(
    (lesson, kept): (&Lesson, Option<KeptPlan>),
    groups: Option<&[GroupId]>,
    args: &WhyArgs,
    deadline: &Deadline,
) -> u8 {
    let plan = match planned((lesson, kept), args, deadline) {
        Ok(plan) => plan,
        Err(error) => return why_none(&args.lesson, &error),
    };
    let not_served: Vec<GroupId> =
        lesson.attending().filter(|&g| plan.plan().choice(g).is_none()).collect();
    let groups = groups.unwrap_or(&not_served);
    let asked: Vec<GroupId> = groups.iter().copied().filter(|g| not_served.contains(g)).collect();
    let stop = deadline.stop();
    let within = deadline.part_of_left(FOR_REASONS).unwrap_or(args.within);
    let limits = ExplainLimits { within, stop: Some(stop), ..ExplainLimits::default() };
    let begun = Instant::now();
    let explained = explain_some(lesson, &asked, &not_served, limits);
    let is_cut = begun.elapsed() >= within;
    let tin = args.tin.as_deref();
    let hangs_on = hangs_on(lesson, &plan, Care::default(), stop);
    let (explained, hangs_on) = (&explained, &hangs_on);
    let time_ran_out = is_cut || deadline.is_over();
    let found = WhyReport { lesson, plan: &plan, groups, tin, explained, hangs_on, time_ran_out };
    if args.json {
        if let Err(status) = print_json(why::json(found)) {
            return status;
        }
    } else {
        tell(&why::text(found));
    }
    let fits = |g: &GroupId| {
        matches!(
            plan.group_outcomes()[g.0].verdict,
            Verdict::Fits | Verdict::Tight | Verdict::LeftOut
        )
    };
    if groups.iter().all(fits) { WELL } else { DOES_NOT_FIT }
}

fn planned(
    (lesson, kept): (&Lesson, Option<KeptPlan>),
    args: &WhyArgs,
    deadline: &Deadline,
) -> Result<CheckedPlan, PlanError> {
    let within = deadline.part_of_left(FOR_PLANNING).filter(|_| args.decodings.is_none());
    let decodings = args.decodings.or(Budget::default().decodings);
    let budget = Budget { within, decodings, seed: args.seed };
    if let Some(kept) = kept {
        return Ok(told::planned(kept, lesson, &budget, deadline)?.judged);
    }
    let judge = judge_of(lesson);
    let found = plan_lesson(lesson, &budget, deadline.stop(), judge, |_| {})?;
    Ok(found.judged)
}
