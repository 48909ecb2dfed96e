//! `ovenbell today COPY --tell`: facts of the day, and how the lesson stands.

use std::path::Path;

use chrono::Timelike;

use super::say::{said, tell};
use super::today::{TodayArgs, kept_plan, refused};
use super::told::{keep_with, plan_gone_by};
use super::{CANNOT_READ, DOES_NOT_FIT, WELL, load, print_json, wrong};
use crate::check::CheckedPlan;
use crate::export::standing::{Told, json, text};
use crate::file::{Loaded, NotRewritten, rewrite};
use crate::finding::Finding;
use crate::model::{FactKind, NoFact, PastBake};
use crate::today::{AsTold, Standing, helps, minute_of, responses, tell as tell_fact};
use crate::units::{ClockTime, Minutes, local_now};

/// What is doubted of facts, by the codes of findings.
const DOUBTS: [&str; 2] = ["clock-set-back", "out-before-in"];

/// Writes facts into a copy for the day, and says how the lesson stands.
pub(super) fn run(args: &TodayArgs) -> u8 {
    match told(args) {
        Ok(status) | Err(status) => status,
    }
}

fn told(args: &TodayArgs) -> Result<u8, u8> {
    let (path, outcomes) = (&args.lesson, args.noted.outcomes.as_deref());
    let (_, past) = load(path, outcomes)?;
    let at = args.at.unwrap_or_else(now);
    write_facts(path, &facts(&args.tell)?, (at, &past))?;
    // From here on it is in the file, whatever becomes of the answer.
    let (loaded, _) = load(path, outcomes)?;
    let (plan, kept) = plan_of_day(args, &loaded)?;
    let lesson = &loaded.lesson;
    let told = lesson.today.as_ref().map_or(&[][..], |today| &today.facts);
    let standing = Standing::of(lesson, &plan, told, minute_of(lesson, at));
    let of = AsTold { file: &loaded.file, lesson, plan: &plan };
    let deadline = args.search.deadline();
    let budget = args.search.budget(deadline.left());
    let responses = responses(of, &standing, &past, &budget, deadline.stop());
    let doubts = loaded.warnings.iter().filter(|f| DOUBTS.contains(&f.code));
    let doubts: Vec<String> = doubts.map(doubt_words).collect();
    let answer = Told {
        day: (lesson, &plan),
        standing: &standing,
        responses: &responses,
        help: &helps(lesson, &plan, &standing),
        doubts: &doubts,
        kept,
    };
    if args.json {
        print_json(json(&answer))?;
    } else {
        tell(&text(&answer));
    }
    Ok(if standing.all_out() { WELL } else { DOES_NOT_FIT })
}

fn now() -> ClockTime {
    let now = local_now().time();
    let minutes = i32::try_from(now.num_seconds_from_midnight() / 60).unwrap_or(0);
    ClockTime::MIDNIGHT.after(Minutes::new(minutes))
}

fn facts(told: &[(String, String)]) -> Result<Vec<(&str, FactKind)>, u8> {
    let fact = |(group, what): &'_ (String, String)| {
        what.parse().map_err(|error: NoFact| {
            wrong(&format!("{group}={what}: {error}"));
            CANNOT_READ
        })
    };
    told.iter().map(|told| Ok((told.0.as_str(), fact(told)?))).collect()
}

fn write_facts(
    path: &Path,
    facts: &[(&str, FactKind)],
    (at, past): (ClockTime, &[PastBake]),
) -> Result<(), u8> {
    let written = rewrite(path, |file| {
        facts.iter().try_fold(file.clone(), |file, &fact| tell_fact(&file, fact, at, past))
    });
    written.map_err(|error| match error {
        NotRewritten::Refused(finding) => refused(&path.display().to_string(), &finding),
        NotRewritten::Disk(why) => {
            wrong(&format!("{}: it is not told: {}", path.display(), said(&why)));
            CANNOT_READ
        }
    })
}

/// The plan that groups were told, and whether it is the one kept with the copy. A
/// copy that keeps none keeps the one that is found: it is gone by from then on.
fn plan_of_day(args: &TodayArgs, loaded: &Loaded) -> Result<(CheckedPlan, bool), u8> {
    if let Some(path) = &args.go_by.plan {
        return Ok((kept_plan(path, &loaded.lesson)?, false));
    }
    let (deadline, how) = (args.search.deadline(), (args.go_by.anew.anew, args.json));
    let budget = args.search.budget(deadline.left());
    let plan = plan_gone_by(&args.lesson, loaded, how, &budget, &deadline)?;
    let kept = loaded.told.is_some() && !args.go_by.anew.anew;
    if loaded.told.is_none() {
        keep_with(&args.lesson, loaded, &plan)?;
    }
    Ok((plan, kept))
}

/// "Unit 3 was not told to be in: tell it in".
fn doubt_words(finding: &Finding) -> String {
    match finding.hint.as_str() {
        "" => finding.message.clone(),
        hint => format!("{}: {hint}", finding.message),
    }
}
