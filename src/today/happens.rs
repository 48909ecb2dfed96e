//! What a happening does to the lesson's file.

use super::happening::Happening;
use super::{away, late, reserve};
use crate::edit::{FileChange, methods_of, own_group, retain_that_fix, set_oven_out};
use crate::file::format::{GroupShape, HappenedShape, LessonFile, TodayShape};
use crate::file::lesson_of_shapes;
use crate::finding::{Finding, Path, Segment, Severity};
use crate::model::{Attendance, GroupId, Lesson, Oven, OvenId, PastBake, Today};
use crate::units::ClockTime;
use crate::words::{capital, list, number};

/// The code of what [`no_copy`] says.
pub const NO_COPY: &str = "no-copy";

/// A copy of a lesson for the day on which it is taught, under no id: that is
/// the lesson's. A file that is such a copy stays as it is.
pub fn start_of_day(file: &LessonFile) -> LessonFile {
    let mut copy = file.clone();
    if copy.today.is_none() {
        copy.id = None;
        copy.today = Some(TodayShape::default());
    }
    copy
}

/// The lesson's file once something has happened, as a copy for the day. `at`
/// is when, if that is known.
///
/// # Errors
/// Why it cannot be, and what could be done instead, in plain words. Also if
/// the file is no lesson as it is.
pub fn happens(
    file: &LessonFile,
    what: &Happening,
    at: Option<ClockTime>,
    past: &[PastBake],
) -> Result<LessonFile, Finding> {
    Happens { what, at, during: false, past }.made(file)
}

/// As [`happens`], in the course of the lesson: an oven that fails works until
/// then, and an adult who is called away is there until then.
///
/// # Errors
/// As [`happens`].
pub fn happens_during(
    file: &LessonFile,
    what: &Happening,
    at: ClockTime,
    past: &[PastBake],
) -> Result<LessonFile, Finding> {
    Happens { what, at: Some(at), during: true, past }.made(file)
}

/// Something that happens at some time.
#[derive(Debug, Clone, Copy)]
pub struct Happens<'a> {
    /// What.
    pub what: &'a Happening,
    /// When, if that is known.
    pub at: Option<ClockTime>,
    /// Whether that is in the course of the lesson: what was done before stays
    /// done.
    pub during: bool,
    /// Bakes noted before, by which the lesson's file is read.
    pub past: &'a [PastBake],
}

impl FileChange for Happens<'_> {
    fn label(&self) -> String {
        self.what.label()
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        let past = self.past;
        let lesson = lesson_of_shapes(file, past).map_err(worst)?;
        let mut day = Day { file: start_of_day(file), lesson: &lesson, past, told: Vec::new() };
        match self.what {
            Happening::Absent { group } => day.absent(group)?,
            Happening::Joined { group, with, other_recipe } => {
                day.joined(group, with, *other_recipe)?
            }
            Happening::Forgotten { group } => day.forgotten(group)?,
            Happening::OvenOut { oven } => match self.at.filter(|_| self.during) {
                Some(at) => day.oven_fails(oven, at)?,
                None => day.oven(oven, true)?,
            },
            Happening::OvenWorks { oven } => day.oven(oven, false)?,
            Happening::LateStart { minutes, period } => {
                late::late_start(&mut day, *minutes, period.as_deref())?;
            }
            Happening::AdultAway { adult } => match self.at.filter(|_| self.during) {
                Some(at) => away::from_then_on(&mut day, adult, at)?,
                None => away::all_day(&mut day, adult)?,
            },
            Happening::Reserve { group, recipe } => reserve::reserve(&mut day, group, recipe)?,
        }
        *file = day.finish(self.at)?;
        Ok(())
    }
}

/// A reason why something cannot happen.
pub(super) fn refused(message: impl Into<String>, hint: impl Into<String>) -> Finding {
    Finding::error("not-today", Path::root(), message).hint(hint)
}

/// Said of a lesson where a copy for the day is wanted.
pub fn no_copy() -> Finding {
    Finding::error(NO_COPY, Path::root(), "This is a lesson, not a copy for the day.")
        .hint("begin a copy for the day, and go on there")
}

/// The first error of several findings.
pub(super) fn worst(findings: Vec<Finding>) -> Finding {
    let error = findings.into_iter().find(|f| f.severity == Severity::Error);
    error.unwrap_or_else(|| refused("the lesson cannot be read", ""))
}

/// A day in the making.
pub(super) struct Day<'a> {
    /// The file as it is by now.
    pub(super) file: LessonFile,
    /// The lesson before it happened.
    pub(super) lesson: &'a Lesson,
    pub(super) past: &'a [PastBake],
    /// What there is to tell, in sentences.
    pub(super) told: Vec<String>,
}

impl Day<'_> {
    pub(super) fn tell(&mut self, sentence: impl Into<String>) {
        self.told.push(sentence.into());
    }

    fn today(&mut self) -> &mut TodayShape {
        self.file.today.get_or_insert_with(TodayShape::default)
    }

    /// The entry of a group that takes part.
    pub(super) fn group(&mut self, name: &str) -> Result<usize, Finding> {
        let Some(id) = self.lesson.groups.iter().position(|g| g.name == name) else {
            let all: Vec<String> = self.lesson.groups.iter().map(|g| g.name.clone()).collect();
            let hint = format!("there are: {}", list(&all));
            return Err(refused(format!("There is no group \"{name}\"."), hint));
        };
        if self.lesson.groups[id].attendance == Attendance::LeftOut {
            let joined = self.file.today.iter().flat_map(|t| &t.joined.0);
            let with = joined.filter(|(who, _)| who == name).map(|(_, with)| with.clone()).next();
            return Err(match with {
                Some(with) => refused(
                    format!("The pupils of {name} work with {with}."),
                    format!("say it of {with}"),
                ),
                None => refused(format!("{name} takes no part."), "take it in first"),
            });
        }
        own_group(&mut self.file, name).ok_or_else(|| refused(format!("There is no {name}."), ""))
    }

    fn absent(&mut self, name: &str) -> Result<(), Finding> {
        let index = self.group(name)?;
        let group = &mut self.file.groups[index];
        let pupils = group.pupils.unwrap_or(2) - 1;
        if pupils < 1 {
            group.left_out = true;
            self.tell(format!("{name} takes no part: its pupil is absent."));
            return Ok(());
        }
        group.pupils = Some(pupils);
        let goes_on = if pupils == 1 { "goes" } else { "go" };
        let left = number(usize::try_from(pupils).unwrap_or(1));
        self.tell(format!("A pupil of {name} is absent: {left} {goes_on} on."));
        self.drop_methods_for_more(index)
    }

    /// Methods that take more pupils than there are now are out of the
    /// question, as long as another is left.
    fn drop_methods_for_more(&mut self, index: usize) -> Result<(), Finding> {
        let group = &self.file.groups[index];
        let Some(recipe) = self.file.recipes.iter().find(|r| r.name == group.recipe) else {
            return Ok(());
        };
        let most = group.pupils.unwrap_or(2);
        let named = methods_of(group, recipe);
        let takes_more = |name: &String| {
            let steps = recipe.methods.iter().filter(|m| m.name == *name).flat_map(|m| &m.steps);
            steps.filter_map(|s| s.pupils).any(|n| n > most)
        };
        let (gone, left): (Vec<String>, Vec<String>) = named.into_iter().partition(takes_more);
        if gone.is_empty() {
            return Ok(());
        }
        let (name, gone) = (group.name.clone(), list(&gone));
        if left.is_empty() {
            let message = format!("{name} cannot make {} with so few pupils.", recipe.name);
            let hint = format!("let {name} join another group, or make another recipe");
            return Err(refused(message, hint));
        }
        self.file.groups[index].methods = left;
        self.tell(format!("They are too few for {gone}."));
        Ok(())
    }

    fn joined(&mut self, name: &str, with: &str, other_recipe: bool) -> Result<(), Finding> {
        if name == with {
            return Err(refused("A group cannot join itself.", ""));
        }
        self.group(name)?;
        let into = self.group(with)?;
        // Writing out the one's entry may have moved the other's.
        let from = self.group(name)?;
        let groups = &self.file.groups;
        self.may_join(&groups[from], &groups[into], other_recipe)?;
        let pupils =
            groups[from].pupils.unwrap_or(2).saturating_add(groups[into].pupils.unwrap_or(2));
        self.file.groups[into].pupils = Some(pupils);
        self.file.groups[from].left_out = true;
        // Who came with them stays with them.
        for adult in &mut self.file.adults {
            if adult.only_for.as_deref() == Some(name) {
                adult.only_for = Some(with.to_owned());
            }
        }
        let today = self.today();
        for (_, other) in today.joined.0.iter_mut().filter(|(_, other)| other == name) {
            with.clone_into(other);
        }
        today.joined.0.push((name.to_owned(), with.to_owned()));
        let pupils = number(usize::try_from(pupils).unwrap_or(usize::MAX));
        self.tell(format!("{name} joins {with}: {pupils} pupils make one batch."));
        Ok(())
    }

    fn may_join(&self, a: &GroupShape, b: &GroupShape, other_recipe: bool) -> Result<(), Finding> {
        for group in [a, b] {
            if group.keep_apart {
                let message = format!("{} is kept apart, and stays by itself.", group.name);
                return Err(refused(message, "join two other groups"));
            }
        }
        // One batch for both would have to keep to what either needs.
        if a.needs != b.needs {
            let which = if a.needs.is_empty() { b } else { a };
            let needs = which.needs.join(", ");
            let message = format!("{} has needs that the other has not: {needs}.", which.name);
            return Err(refused(message, "join groups with the same needs"));
        }
        let of = |name: &str| self.lesson.groups.iter().find(|g| g.name == name);
        if let (Some(one), Some(other)) = (of(&a.name), of(&b.name)) {
            let (names, lesson) = (format!("{} and {}", a.name, b.name), self.lesson);
            if one.period != other.period {
                return Err(refused(format!("{names} are there at different times."), ""));
            }
            if one.room != other.room {
                return Err(refused(format!("{names} are in different rooms."), ""));
            }
            let makes = |g: &crate::model::Group| lesson.recipes[g.recipe.0].name.clone();
            if one.recipe != other.recipe && !other_recipe {
                let (a_makes, b_makes) = (makes(one), makes(other));
                let message = format!("{} makes {a_makes}, {} makes {b_makes}.", a.name, b.name);
                let hint =
                    format!("join groups with one recipe, or say that {} gives up its own", a.name);
                return Err(refused(message, hint));
            }
        }
        Ok(())
    }

    fn forgotten(&mut self, name: &str) -> Result<(), Finding> {
        self.group(name)?;
        let today = self.today();
        let left = today.spare_sets.unwrap_or(i64::from(Today::SPARE_SETS));
        if left < 1 {
            let hint = format!("let {name} join another group, or make a reserve recipe");
            return Err(refused(format!("No spare set is left for {name}."), hint));
        }
        today.spare_sets = Some(left - 1);
        let left = match left - 1 {
            0 => "none is left".to_owned(),
            1 => "one is left".to_owned(),
            n => format!("{} are left", number(usize::try_from(n).unwrap_or(usize::MAX))),
        };
        self.tell(format!("{name} has no ingredients, and takes a spare set; {left}."));
        Ok(())
    }

    /// The oven of that name, which works or does not.
    fn oven_that(&self, name: &str, works: bool) -> Result<OvenId, Finding> {
        let Some(id) = self.lesson.ovens.iter().position(|o| o.name == name) else {
            let all: Vec<String> = self.lesson.ovens.iter().map(|o| o.name.clone()).collect();
            let hint = format!("there are: {}", list(&all));
            return Err(refused(format!("There is no oven \"{name}\"."), hint));
        };
        if works_to_the_end(&self.lesson.ovens[id]) != works {
            let is = if works { "is out of order already" } else { "works" };
            return Err(refused(format!("{name} {is}."), ""));
        }
        Ok(OvenId(id))
    }

    fn one_works_beside(&self, name: &str) -> Result<(), Finding> {
        if self.lesson.ovens.iter().any(|o| works_to_the_end(o) && o.name != name) {
            return Ok(());
        }
        let hint = "bake in another room, or keep the mixtures for the next lesson";
        Err(refused("No oven is left that works.", hint))
    }

    fn oven(&mut self, name: &str, out: bool) -> Result<(), Finding> {
        self.oven_that(name, out)?;
        self.today().out_from.0.retain(|(oven, _)| oven != name);
        if !set_oven_out(&mut self.file, name, out) {
            return Err(refused(format!("There is no oven \"{name}\"."), ""));
        }
        let is = if out { "is out of order" } else { "works again" };
        self.tell(format!("{name} {is}."));
        if out {
            self.one_works_beside(name)?;
        }
        if out && self.why_no_lesson().is_some() {
            self.share_ovens();
        }
        Ok(())
    }

    /// An oven that worked until then is out of order from then on.
    fn oven_fails(&mut self, name: &str, at: ClockTime) -> Result<(), Finding> {
        let oven = self.oven_that(name, true)?;
        self.one_works_beside(name)?;
        self.today().out_from.0.push((name.to_owned(), at.to_string()));
        self.tell(format!("{name} is out of order."));
        let mut held: Vec<String> = Vec::new();
        for lock in self.file.locks.iter_mut().filter(|l| l.oven.as_deref() == Some(name)) {
            (lock.oven, lock.shelf) = (None, None);
            held.push(lock.group.clone());
        }
        retain_that_fix(&mut self.file.locks);
        if !held.is_empty() {
            held.sort();
            self.tell(format!("What was fixed for {} is let go.", list(&held)));
        }
        let lesson = self.lesson;
        let others = (0..lesson.ovens.len()).map(OvenId).filter(|&o| o != oven);
        let others: Vec<OvenId> = others.filter(|o| works_to_the_end(&lesson.ovens[o.0])).collect();
        let has_none = |g: GroupId| !others.iter().any(|&o| lesson.may_use_oven(g, o));
        if lesson.attending().any(|g| lesson.may_use_oven(g, oven) && has_none(g)) {
            self.share_ovens();
        }
        Ok(())
    }

    /// Who worked with the oven of its own unit goes to another.
    fn share_ovens(&mut self) {
        if self.file.rules.sharing != Some(true) {
            self.file.rules.sharing = Some(true);
            self.tell("Units share their ovens and kit.");
        }
    }

    /// What but a lock keeps the file from being a lesson, if something does.
    pub(super) fn why_no_lesson(&self) -> Option<Finding> {
        let mut file = self.file.clone();
        file.locks.clear();
        lesson_of_shapes(&file, self.past).err().map(worst)
    }

    /// Lets go of what was fixed and can no longer be, and notes what has
    /// happened.
    fn finish(mut self, at: Option<ClockTime>) -> Result<LessonFile, Finding> {
        let mut let_go: Vec<String> = Vec::new();
        while let Err(findings) = lesson_of_shapes(&self.file, self.past) {
            let locks = findings.iter().filter(|f| f.severity == Severity::Error).map(lock_of);
            let mut locks: Vec<usize> = locks.flatten().collect();
            locks.sort_unstable();
            locks.dedup();
            locks.retain(|&i| i < self.file.locks.len());
            if locks.is_empty() {
                return Err(worst(findings));
            }
            for i in locks.into_iter().rev() {
                let group = self.file.locks.remove(i).group;
                if !let_go.contains(&group) {
                    let_go.push(group);
                }
            }
        }
        if !let_go.is_empty() {
            let_go.sort();
            self.tell(format!("What was fixed for {} is let go.", list(&let_go)));
        }
        let what = capital(&self.told.join(" "));
        let at = at.map(|at| at.to_string());
        self.today().happened.push(HappenedShape { at, who: None, what });
        Ok(self.file)
    }
}

fn works_to_the_end(oven: &Oven) -> bool {
    !oven.out_of_order && oven.out_from.is_none()
}

/// The lock a finding is about.
fn lock_of(finding: &Finding) -> Option<usize> {
    match finding.path.0.as_slice() {
        [Segment::Field(field), Segment::Index(i), ..] if field == "locks" => Some(*i),
        _ => None,
    }
}
