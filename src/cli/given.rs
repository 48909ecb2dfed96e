//! Lessons that a command is given: by files of their own, or by the file of the week
//! in which they are taught.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use super::say::keep_names;
use super::{CANNOT_READ, complain, load, past_bakes, wrong};
use crate::check::CheckedPlan;
use crate::deadline::Deadline;
use crate::export::calendar::plain;
use crate::file::{Loaded, is_week};
use crate::finding::Severity;
use crate::view::technicians_day::ForLesson;
use crate::view::week::set_outs;
use crate::week::{
    Alone, EntryNo, InSlot, LoadedWeek, Planner, ToldOf, USUAL_DECODINGS, Week, What, alone_in,
    goes_by, in_slots, own_words, where_and_when,
};

/// How long a week's lessons are planned where the user says nothing of time.
pub(super) const USUAL_TIME_OF_WEEK: Duration = Duration::from_secs(30);

/// A lesson that a command is given.
pub(super) struct Given {
    /// Its own file.
    pub path: PathBuf,
    /// What it is called where something is told of it.
    pub name: String,
    /// The lesson; of a week's, where the week has it.
    pub loaded: Loaded,
    /// Of a week: what it is known by, as one file may be taught several times.
    pub key: Option<String>,
    /// Of a week: which week that is given, and which entry of it.
    pub entry: Option<(usize, EntryNo)>,
    plan: Plan,
}

/// Which plan a lesson has before the command looks for one.
enum Plan {
    /// It is not of a week, or a week's plans are not asked for.
    Own,
    /// As if it were alone; `None` if time was up.
    OfWeek(Option<Arc<Alone>>),
}

/// The plan of a lesson of a week.
pub(super) enum InWeek {
    /// It is not of a week.
    Own,
    /// The plan.
    Plan(Box<CheckedPlan>),
    /// Time was up before it was planned.
    NoTime,
}

impl Given {
    /// The lesson's id in a calendar.
    pub fn key(&self) -> Option<&str> {
        self.key.as_deref().or(self.loaded.file.id.as_deref())
    }

    /// The plan of a lesson of a week: the one kept with it if it holds there and the
    /// best is not asked for anew, else that of the lesson as if it were alone.
    pub fn in_week(&self, anew: bool) -> InWeek {
        let Plan::OfWeek(alone) = &self.plan else { return InWeek::Own };
        let kept = self.loaded.told.as_ref().filter(|_| !anew);
        match goes_by(&self.loaded.lesson, kept, alone.as_deref()) {
            Some(plan) => InWeek::Plan(Box::new(plan)),
            None => InWeek::NoTime,
        }
    }
}

/// How the lessons of a week are planned.
pub(super) struct Effort {
    /// So many plans of each; as many as usual if `None`.
    pub decodings: Option<u64>,
    /// Within so much time.
    pub within: Option<Duration>,
}

/// All lessons that a command is given.
pub(super) struct AllGiven {
    /// The lessons, those of a week in the order of time.
    pub lessons: Vec<Given>,
    /// The weeks, in the order in which they are given.
    pub weeks: Vec<Week>,
    /// No lesson of a week had to be left aside.
    pub is_whole: bool,
}

/// Reads lessons, and weeks with all their lessons, which are planned where that is
/// asked for.
///
/// # Errors
/// The exit status, once it is told what is wrong.
pub(super) fn given(
    paths: &[PathBuf],
    outcomes: Option<&Path>,
    effort: Option<&Effort>,
) -> Result<AllGiven, u8> {
    let mut all = AllGiven { lessons: Vec::new(), weeks: Vec::new(), is_whole: true };
    for path in paths {
        if is_file_of_week(path) {
            of_week(path, outcomes, effort, &mut all)?;
        } else {
            let (loaded, _) = load(path, outcomes)?;
            let name = path.display().to_string();
            all.lessons.push(Given {
                path: path.clone(),
                name,
                loaded,
                key: None,
                entry: None,
                plan: Plan::Own,
            });
        }
    }
    if all.lessons.is_empty() {
        wrong("no lesson can be planned: there is nothing to tell of");
        return Err(CANNOT_READ);
    }
    Ok(all)
}

/// Whether a file is that of a week.
pub(super) fn is_file_of_week(path: &Path) -> bool {
    std::fs::read(path).is_ok_and(|text| is_week(&String::from_utf8_lossy(&text)))
}

fn of_week(
    path: &Path,
    outcomes: Option<&Path>,
    effort: Option<&Effort>,
    all: &mut AllGiven,
) -> Result<(), u8> {
    let past = past_bakes(outcomes);
    let read = crate::week::load(path, &past).map_err(|findings| {
        complain(path, &findings);
        CANNOT_READ
    })?;
    let LoadedWeek { week, findings } = read;
    complain(path, &findings);
    all.is_whole &= findings.iter().all(|f| f.severity != Severity::Error);
    all.is_whole &= week.entries.iter().all(|e| !matches!(e.what, What::Unplanned(_)));
    let mut planned: HashMap<EntryNo, Arc<Alone>> = HashMap::new();
    if let Some(effort) = effort {
        let usual = effort.decodings.is_none().then_some(USUAL_TIME_OF_WEEK);
        let deadline = Deadline::within(effort.within.or(usual));
        let decodings = effort.decodings.unwrap_or(USUAL_DECODINGS);
        planned.extend(alone_in(&week, &Planner::new(&past, decodings, deadline.stop())));
    }
    let folder = path.parent().unwrap_or(Path::new("."));
    for InSlot { entry: number, lesson, file, told } in in_slots(&week, ToldOf::default(), &past) {
        let Some(entry) = week.entry(number) else { continue };
        let Some(taught) = entry.lesson() else { continue };
        let when = where_and_when(&week, &entry.slot);
        let of = taught.id.clone().unwrap_or_else(|| taught.title().to_owned());
        let (date, start) = (entry.slot.date, entry.slot.start());
        all.lessons.push(Given {
            name: format!("{}: {when}", path.display()),
            path: folder.join(&taught.file),
            loaded: Loaded { lesson, file, told, warnings: Vec::new() },
            entry: Some((all.weeks.len(), number)),
            key: Some(plain(&format!("{of} {} {date} {start}", entry.class))),
            plan: match effort {
                Some(_) => Plan::OfWeek(planned.remove(&number)),
                None => Plan::Own,
            },
        });
    }
    keep_names(|| own_words(&week));
    all.weeks.push(week);
    Ok(())
}

/// Lessons with the plans they go by, and when each of a week is set out beside the
/// others of it.
pub(super) fn for_lessons<'a>(
    planned: &[(&'a Given, &'a CheckedPlan)],
    weeks: &[Week],
) -> Vec<ForLesson<'a>> {
    let of = |&(given, plan): &(&'a Given, &'a CheckedPlan)| ForLesson {
        lesson: &given.loaded.lesson,
        plan,
        set_out: None,
    };
    let mut all: Vec<ForLesson<'a>> = planned.iter().map(of).collect();
    for (number, week) in weeks.iter().enumerate() {
        let entry = |given: &Given| given.entry.filter(|(of, _)| *of == number).map(|(_, e)| e);
        let of_week = planned.iter().enumerate();
        let of_week = of_week.filter_map(|(i, &(given, plan))| {
            Some((i, (entry(given)?, &given.loaded.lesson, plan)))
        });
        let (places, of_week): (Vec<usize>, Vec<_>) = of_week.unzip();
        for (place, found) in places.into_iter().zip(set_outs(week, &of_week)) {
            all[place].set_out = found;
        }
    }
    all
}
