//! The plan that is kept with a lesson, in the lesson's own file: what groups
//! have been told. It is a plan file within the file.
//!
//! It stays a text until it is read against its lesson, so that a slip in it,
//! or an older way of writing plans, never keeps the lesson from being opened.

use std::sync::Arc;

use ron::value::RawValue;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::format::LessonFile;
use super::layout::laid_out;
use super::locate::Locator;
use super::plan_file::{read_what_is_known, write_plan};
use super::syntax;
use crate::finding::{Finding, Path, Severity};
use crate::model::{Attendance, GroupId, Lesson};
use crate::plan::why::By;
use crate::plan::{NotServed, Plan, Refusal};
use crate::units::Minute;

/// The field of a lesson's file that holds it.
const FIELD: &str = "told";

/// The text of a plan that is kept with its lesson, laid out in one way
/// whatever it was read from, and without comments.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ToldText(String);

impl ToldText {
    fn of(text: &str) -> Self {
        Self(laid_out(text).trim_end().to_owned())
    }

    /// Writes one that is there without the `Some` that the library writes round
    /// a text that stands for itself.
    pub(super) fn serialize_some<S: Serializer>(
        told: &Option<Self>,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        match told {
            Some(told) => told.serialize(to),
            None => to.serialize_none(),
        }
    }
}

impl<'de> Deserialize<'de> for ToldText {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        Ok(Self::of(Box::<RawValue>::deserialize(from)?.get_ron()))
    }
}

impl Serialize for ToldText {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let raw = RawValue::from_ron(&self.0).map_err(serde::ser::Error::custom)?;
        raw.serialize(to)
    }
}

/// A plan of a lesson, to be kept with it. Reasons are no part of it: they may
/// speak of pupils' pace, and are worked out anew from the lesson.
pub fn write_told(lesson: &Lesson, plan: &Plan) -> ToldText {
    let is_left_out = |group: GroupId| {
        lesson.groups.get(group.0).is_some_and(|g| g.attendance == Attendance::LeftOut)
    };
    let bare = |n: &NotServed| NotServed {
        group: n.group,
        refusal: Refusal::NotFound,
        by: By::Nothing,
        rules: Vec::new(),
        reason: String::new(),
    };
    let not_served = plan.not_served.iter().filter(|n| !is_left_out(n.group)).map(bare).collect();
    ToldText::of(&write_plan(lesson, &Plan { not_served, bounds: None, ..plan.clone() }))
}

/// The plan that is kept with a lesson, as its file has it.
#[derive(Debug, Clone)]
pub struct Told {
    plan: ToldText,
    /// The text of the lesson's file.
    file: Arc<str>,
}

/// Two are the same plan wherever it stands in a file.
impl PartialEq for Told {
    fn eq(&self, other: &Self) -> bool {
        self.plan == other.plan
    }
}

impl Told {
    /// Takes it out of a lesson's shapes, which were read from `text`.
    pub fn taken_from(shapes: &mut LessonFile, text: &str) -> Option<Self> {
        let plan = shapes.told.take()?;
        Some(Self { plan, file: Arc::from(syntax::without_mark(text)) })
    }

    /// As it is written.
    pub fn text(&self) -> &ToldText {
        &self.plan
    }

    /// The plan it says, unchecked, as far as the lesson knows what it speaks of;
    /// and all that it does not know, placed in the lesson's file. The lesson is
    /// none the worse for it.
    ///
    /// # Errors
    /// If it is no plan of this format.
    pub fn read(&self, lesson: &Lesson) -> Result<(Plan, Vec<Finding>), Finding> {
        let locator = Locator::new(&self.file);
        let placed = |mut finding: Finding| {
            finding.severity = Severity::Warning;
            finding.path.0.splice(0..0, Path::root().field(FIELD).0);
            finding.place = Some(locator.place(&finding.path));
            finding
        };
        let (plan, findings) = read_what_is_known(lesson, &self.plan.0).map_err(placed)?;
        Ok((plan, findings.into_iter().map(placed).collect()))
    }

    /// A finding at what the plan says of a group at a minute, or of the group
    /// at all.
    pub fn finding(
        &self,
        plan: &Plan,
        (group, minute): (Option<GroupId>, Option<Minute>),
        message: String,
    ) -> Finding {
        let told = Path::root().field(FIELD);
        let own = |of: GroupId| Some(of) == group;
        let within = |from: Minute, until: Minute| minute.is_some_and(|m| from <= m && m <= until);
        let load = plan.loads.iter().position(|l| own(l.group) && minute == Some(l.start));
        let begins = plan.steps.iter().position(|s| own(s.group) && minute == Some(s.start));
        let goes_on = || plan.steps.iter().position(|s| own(s.group) && within(s.start, s.end));
        let step = begins.or_else(goes_on);
        let choice = plan.choices.iter().position(|c| own(c.group));
        let path = match (load, step, choice) {
            (Some(i), ..) => told.field("loads").index(i),
            (None, Some(i), _) => told.field("steps").index(i),
            (None, None, Some(i)) => told.field("choices").index(i),
            (None, None, None) => told,
        };
        let place = Locator::new(&self.file).place(&path);
        Finding::warning("kept-plan", path, message).at(place)
    }
}
