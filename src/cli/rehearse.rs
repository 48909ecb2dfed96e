//! `ovenbell rehearse`: the lesson minute by minute, before it is taught.

use std::path::PathBuf;

use clap::Args;

use super::say::tell;
use super::shared_args::{Decodings, GoBy, Noted, Search};
use super::today::{clock_time, refused};
use super::told::plan_asked_for;
use super::{CANNOT_READ, WELL, complain, load, print_json, wrong};
use crate::check::CheckedPlan;
use crate::export::rehearsal::{Slipped, json, minute_text, text};
use crate::file::{Loaded, lesson_of_shapes};
use crate::model::{FactKind, PastBake};
use crate::today::{
    AsTold, Standing, helps, minute_of, responses, start_of_day, tell as tell_fact,
};
use crate::units::ClockTime;
use crate::view::rehearsal::Rehearsal;

pub(super) const HELP: &str = "Examples:
  ovenbell rehearse lessons/demo.ron
  ovenbell rehearse my-lesson.ron --at 10:26
  ovenbell rehearse my-lesson.ron --at 10:26 --slip \"Unit 3 behind 4\"
  ovenbell rehearse my-lesson.ron --plan my-plan.ron --json

Who watches what is a question to those who are there: the plan knows nothing of
the school's policy, which comes first.";

#[derive(Debug, Args)]
pub(super) struct RehearseArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    /// One minute in full, as "10:26".
    #[arg(long, value_name = "TIME", value_parser = clock_time)]
    at: Option<ClockTime>,
    /// A slip thrown in at that minute, as "Unit 3 behind 4"; what could be done about
    /// it is told, and nothing is changed.
    #[arg(long, value_name = "SLIP", value_parser = slip, requires = "at")]
    slip: Option<(String, FactKind)>,
    #[command(flatten)]
    go_by: GoBy,
    #[command(flatten)]
    effort: Decodings,
    #[command(flatten)]
    noted: Noted,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

/// "Unit 3 behind 4".
fn slip(text: &str) -> Result<(String, FactKind), String> {
    let wanted = || "a group and minutes are wanted, like \"Unit 3 behind 4\"".to_owned();
    let (group, minutes) = text.rsplit_once(" behind ").ok_or_else(wanted)?;
    let late = format!("late {}", minutes.trim()).parse().map_err(|_| wanted())?;
    Ok((group.trim().to_owned(), late))
}

/// Goes through the plan of a lesson file.
pub(super) fn run(args: &RehearseArgs) -> u8 {
    let (loaded, past) = match load(&args.lesson, args.noted.outcomes.as_deref()) {
        Ok(loaded) => loaded,
        Err(status) => return status,
    };
    let lesson = &loaded.lesson;
    let plan =
        plan_asked_for(&args.lesson, &loaded, &args.go_by, (args.effort.decodings, args.json));
    let plan = match plan {
        Ok(plan) => plan,
        Err(status) => return status,
    };
    let planned = Rehearsal::of(lesson, &plan);
    let slipped = match slipped(args, (&loaded, &plan), &past) {
        Ok(slipped) => slipped,
        Err(status) => return status,
    };
    let with_slip = slipped.as_ref().and_then(|s| s.rehearsal((lesson, &plan), &planned));
    let rehearsal = with_slip.unwrap_or(planned);
    let card = match args.at {
        None => None,
        Some(at) => {
            let Some(card) = rehearsal.minutes.iter().find(|card| card.at == at) else {
                let ends = (rehearsal.minutes.first(), rehearsal.minutes.last());
                let between = match ends {
                    (Some(first), Some(last)) => format!("from {} to {}", first.at, last.at),
                    _ => "at no time".to_owned(),
                };
                wrong(&format!("{}: nothing happens at {at}", args.lesson.display()));
                wrong(&format!("    there is something to go through {between}"));
                return CANNOT_READ;
            };
            Some(card)
        }
    };
    if args.json {
        let answer = json(lesson, &rehearsal, card, slipped.as_ref());
        return print_json(answer).map_or_else(|status| status, |()| WELL);
    }
    tell(&match card {
        Some(card) => minute_text(lesson, &rehearsal, card, slipped.as_ref()),
        None => text(lesson, &rehearsal),
    });
    WELL
}

/// What becomes of the lesson with the slip, on a copy of it in memory.
fn slipped(
    args: &RehearseArgs,
    (loaded, plan): (&Loaded, &CheckedPlan),
    past: &[PastBake],
) -> Result<Option<Slipped>, u8> {
    let (Some((group, what)), Some(at)) = (&args.slip, args.at) else { return Ok(None) };
    let (group, what) = (group.as_str(), *what);
    let day = tell_fact(&start_of_day(&loaded.file), (group, what), at, past);
    let day = day.map_err(|finding| refused(&args.lesson.display().to_string(), &finding))?;
    let lesson = lesson_of_shapes(&day, past).map_err(|findings| {
        complain(&args.lesson, &findings);
        CANNOT_READ
    })?;
    let facts = lesson.today.as_ref().map_or(&[][..], |today| &today.facts);
    let standing = Standing::of(&lesson, plan, facts, minute_of(&lesson, at));
    let search = Search { decodings: args.effort.decodings, ..Search::default() };
    let deadline = search.deadline();
    let of = AsTold { file: &day, lesson: &lesson, plan };
    let budget = search.budget(deadline.left());
    let responses = responses(of, &standing, past, &budget, deadline.stop());
    let help = helps(&lesson, plan, &standing);
    Ok(Some(Slipped { standing, responses, help }))
}
