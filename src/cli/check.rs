//! `ovenbell check`: what is wrong with a lesson file or a kept plan.

use std::path::{Path, PathBuf};

use clap::Args;

use super::say::tell;
use super::shared_args::Noted;
use super::{
    CANNOT_READ, DOES_NOT_FIT, SCREENFUL, WELL, complain, findings_json, more_than_told,
    past_bakes, print,
};
use crate::check::{Breach, check};
use crate::file::{self, Loaded};
use crate::finding::Finding;
use crate::keep::told;
use crate::model::Lesson;

pub(super) const HELP: &str = "Examples:
  ovenbell check my-lesson.ron
  ovenbell check my-lesson.ron --plan my-plan.ron";

#[derive(Debug, Args)]
pub(super) struct CheckArgs {
    /// The lesson file (RON).
    lesson: PathBuf,
    /// A plan kept by `plan --save`.
    #[arg(long, value_name = "PLAN")]
    plan: Option<PathBuf>,
    #[command(flatten)]
    noted: Noted,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
}

/// Checks what the arguments name.
pub(super) fn run(args: &CheckArgs) -> u8 {
    let past = past_bakes(args.noted.outcomes.as_deref());
    let loaded = match file::load_lesson_knowing(&args.lesson, &past) {
        Ok(loaded) => loaded,
        Err(findings) => return report_findings(args, &args.lesson, &findings),
    };
    let Some(path) = &args.plan else {
        if args.json {
            let kept = loaded.told.as_ref().and_then(|kept| told(&loaded.lesson, kept).err());
            let gone = kept.as_ref().map_or(&[][..], |gone| &gone.findings);
            let all: Vec<Finding> = loaded.warnings.iter().chain(gone).cloned().collect();
            print(&findings_json(&all));
        } else {
            complain(&args.lesson, &loaded.warnings);
            tell("The lesson can be planned.");
        }
        return kept_with_it(args, &loaded);
    };
    let plan = match file::load_plan(path, &loaded.lesson) {
        Ok(plan) => plan,
        Err(findings) => return report_findings(args, path, &findings),
    };
    let breaches = check(&loaded.lesson, plan).err().unwrap_or_default();
    if args.json {
        print(&breaches_json(&loaded.lesson, &breaches));
    } else if breaches.is_empty() {
        tell("The plan keeps every rule.");
    } else {
        for breach in breaches.iter().take(SCREENFUL) {
            tell(&breach.told(&loaded.lesson).to_string());
        }
        if let Some(more) = more_than_told(breaches.len()) {
            tell(&more);
        }
    }
    if breaches.is_empty() { WELL } else { DOES_NOT_FIT }
}

/// Says whether the plan kept with the lesson holds, if there is one.
fn kept_with_it(args: &CheckArgs, loaded: &Loaded) -> u8 {
    let Some(kept) = &loaded.told else { return WELL };
    match told(&loaded.lesson, kept) {
        Ok(_) => {
            if !args.json {
                tell("The plan kept with it keeps every rule.");
            }
            WELL
        }
        Err(gone) => {
            if !args.json {
                complain(&args.lesson, &gone.findings);
                tell("The plan kept with it no longer holds.");
            }
            DOES_NOT_FIT
        }
    }
}

fn report_findings(args: &CheckArgs, of: &Path, findings: &[Finding]) -> u8 {
    if args.json {
        print(&findings_json(findings));
    } else {
        complain(of, findings);
    }
    CANNOT_READ
}

fn breaches_json(lesson: &Lesson, breaches: &[Breach]) -> String {
    let all: Vec<serde_json::Value> = breaches
        .iter()
        .map(|b| {
            serde_json::json!({
                "rule": b.rule.name(),
                "group": b.group.and_then(|g| lesson.groups.get(g.0)).map(|g| g.name.clone()),
                "minute": b.minute.map(crate::units::Minute::get),
                "message": b.sentence(lesson),
            })
        })
        .collect();
    format!("{:#}", serde_json::json!({ "ok": breaches.is_empty(), "breaches": all }))
}
