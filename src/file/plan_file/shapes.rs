//! The shapes of a plan file: a plan with names instead of numbers.

use serde::{Deserialize, Serialize};

use crate::plan::why::By;

use crate::units::FineMillimetres;

/// A plan file.
#[derive(Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PlanFile {
    /// The format's number, first in the file.
    pub format: u32,
    #[serde(default)]
    pub choices: Vec<ChoiceShape>,
    #[serde(default)]
    pub class_steps: Vec<ClassPlacementShape>,
    #[serde(default)]
    pub steps: Vec<StepPlacementShape>,
    #[serde(default)]
    pub settings: Vec<SettingShape>,
    #[serde(default)]
    pub loads: Vec<LoadShape>,
    #[serde(default)]
    pub uses: Vec<UseShape>,
    #[serde(default)]
    pub door_watches: Vec<WatchShape>,
    #[serde(default)]
    pub not_served: Vec<NotServedShape>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bounds: Option<BoundsShape>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ChoiceShape {
    pub group: String,
    pub method: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tin: Option<String>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ClassPlacementShape {
    pub period: String,
    pub step: String,
    pub start: i32,
    pub end: i32,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct StepPlacementShape {
    pub group: String,
    pub step: String,
    pub start: i32,
    pub end: i32,
    /// Pupils of the group, 1 the first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pupils: Vec<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub adult: Option<String>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SettingShape {
    pub oven: String,
    pub celsius: f64,
    pub set_at: i32,
    pub hot_from: i32,
    pub until: i32,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LoadShape {
    pub group: String,
    /// Which of the group's tins, 1 the first.
    pub number: u32,
    pub oven: String,
    /// The shelf, 1 at the top.
    pub shelf: u32,
    pub start: i32,
    pub end: i32,
    pub celsius: f64,
    /// The left front corner of the rectangle round its rim; or else
    /// `centre_mm` is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub x_mm: Option<MmShape>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub y_mm: Option<MmShape>,
    /// The middle of a round rim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub centre_mm: Option<(MmShape, MmShape)>,
    #[serde(default, skip_serializing_if = "is_false")]
    pub turned: bool,
}

/// Millimetres, with a point only if they are not whole.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(untagged)]
pub(super) enum MmShape {
    Whole(i32),
    Part(f64),
}

impl MmShape {
    pub(super) fn of(place: FineMillimetres) -> Self {
        place.whole_mm().map_or(Self::Part(place.in_mm()), Self::Whole)
    }

    pub(super) fn get(self) -> f64 {
        match self {
            Self::Whole(mm) => f64::from(mm),
            Self::Part(mm) => mm,
        }
    }
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct UseShape {
    pub group: String,
    /// A kind of kit; or else `tin` is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kit: Option<String>,
    /// The room the kit is in; shared by the rooms if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
    /// The unit the kit belongs to, if any.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tin: Option<String>,
    /// Which ones, 1 the first.
    pub items: Vec<u32>,
    pub start: i32,
    pub end: i32,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WatchShape {
    pub oven: String,
    pub minute: i32,
    pub adult: String,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(super) enum RefusalShape {
    Cannot,
    CannotAll,
    NotFound,
    LeftOut,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NotServedShape {
    pub group: String,
    pub refusal: RefusalShape,
    #[serde(default, skip_serializing_if = "ByShape::is_nothing")]
    pub by: ByShape,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rules: Vec<String>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub reason: String,
}

/// What shows that a group is not served; nothing if it is not said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub(super) enum ByShape {
    Chain,
    Turns,
    Share,
    NoPlace,
    Set,
    Orders,
    #[default]
    Nothing,
}

impl ByShape {
    #[allow(clippy::trivially_copy_pass_by_ref)] // the signature serde asks for
    fn is_nothing(&self) -> bool {
        *self == ByShape::Nothing
    }
}

impl From<By> for ByShape {
    fn from(by: By) -> Self {
        match by {
            By::Chain => ByShape::Chain,
            By::Turns => ByShape::Turns,
            By::Share => ByShape::Share,
            By::NoPlace => ByShape::NoPlace,
            By::Set => ByShape::Set,
            By::Orders => ByShape::Orders,
            By::Nothing => ByShape::Nothing,
        }
    }
}

impl From<ByShape> for By {
    fn from(by: ByShape) -> Self {
        match by {
            ByShape::Chain => By::Chain,
            ByShape::Turns => By::Turns,
            ByShape::Share => By::Share,
            ByShape::NoPlace => By::NoPlace,
            ByShape::Set => By::Set,
            ByShape::Orders => By::Orders,
            ByShape::Nothing => By::Nothing,
        }
    }
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BoundsShape {
    pub served_at_most: u32,
    pub departures_at_least: u64,
    pub shortfall_at_least: i32,
}

#[allow(clippy::trivially_copy_pass_by_ref)] // the signature serde asks for
fn is_false(value: &bool) -> bool {
    !value
}
