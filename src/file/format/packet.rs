//! Packets in a lesson file: how ingredients are bought, and what labels name.

use serde::{Deserialize, Serialize};

use super::{MeasureShape, is_default};
use crate::model::Brought;

/// A packet: `(of: "plain flour", holds: 1500, names: ["wheat"], read_by: "JM")`.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PacketShape {
    /// The ingredient, by its name in recipes.
    pub of: String,
    /// Its brand.
    #[serde(default, skip_serializing_if = "is_default")]
    pub brand: String,
    /// How much is in one, in `unit`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub holds: Option<f64>,
    /// Grams if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<MeasureShape>,
    /// Who brings it; the school if not said.
    #[serde(default, skip_serializing_if = "is_default")]
    pub from: FromShape,
    /// Where it is bought.
    #[serde(default, skip_serializing_if = "is_default")]
    pub supplier: String,
    /// Where it stands in the store.
    #[serde(default, skip_serializing_if = "is_default")]
    pub store: String,
    /// What one costs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
    /// The day of that price, as "2026-11-02".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub priced_on: Option<String>,
    /// Allergens that its label names; not said means nobody has looked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub names: Option<Vec<String>>,
    /// Initials of who read the label.
    #[serde(default, skip_serializing_if = "is_default")]
    pub read_by: String,
    /// When, as "2026-11-20".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub read_on: Option<String>,
}

/// Who brings an ingredient, in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[allow(missing_docs)] // as `model::Brought`
pub enum FromShape {
    #[default]
    School,
    Home,
    Either,
}

impl From<FromShape> for Brought {
    fn from(shape: FromShape) -> Self {
        match shape {
            FromShape::School => Brought::BySchool,
            FromShape::Home => Brought::FromHome,
            FromShape::Either => Brought::ByEither,
        }
    }
}
