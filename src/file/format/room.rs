//! Rooms, ovens, kit and tins in a lesson file.

use serde::{Deserialize, Serialize};

use super::{Entries, KitCount, is_default};

/// A room: `(name: "Room 4", ovens: [...], kit: {"sink": 5})`.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct RoomShape {
    /// Its name; "Room" if not said.
    #[serde(skip_serializing_if = "is_default")]
    pub name: String,
    /// Its ovens that belong to no unit.
    #[serde(skip_serializing_if = "is_default")]
    pub ovens: Vec<OvenShape>,
    /// Its kit that belongs to no unit.
    #[serde(skip_serializing_if = "is_default")]
    pub kit: Entries<KitCount>,
    /// Its units.
    #[serde(skip_serializing_if = "is_default")]
    pub units: Vec<UnitShape>,
    /// Tins in stock by kind; a kind not named is assumed to be there in any
    /// number.
    #[serde(skip_serializing_if = "is_default")]
    pub tins: Entries<i64>,
    /// Whether groups may use other units' ovens and kit; yes if not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sharing: Option<bool>,
    /// Names of ovens that do not work.
    #[serde(skip_serializing_if = "is_default")]
    pub out_of_order: Vec<String>,
}

/// A unit (bay) of a room.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnitShape {
    /// Its name.
    pub name: String,
    /// Its ovens.
    #[serde(default, skip_serializing_if = "is_default")]
    pub ovens: Vec<OvenShape>,
    /// Its kit.
    #[serde(default, skip_serializing_if = "is_default")]
    pub kit: Entries<KitCount>,
}

/// The heating of an oven.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum OvenKindShape {
    /// Electric with a fan.
    Fan,
    /// Electric without a fan.
    #[default]
    Conventional,
    /// Gas.
    Gas,
}

/// One oven, or `count` alike.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OvenShape {
    /// Its name; with a `count`, "Oven" gives "Oven 1", "Oven 2" and so on.
    pub name: String,
    /// How many alike; one if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<i64>,
    /// Its heating.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kind: Option<OvenKindShape>,
    /// Usable shelves; two with a fan and one without if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shelves: Option<i64>,
    /// Usable width and depth of a shelf; 420 by 360 if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shelf_mm: Option<(f64, f64)>,
    /// Clear height over each shelf; 120 if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clear_mm: Option<f64>,
    /// Air between tins; 20 if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gap_mm: Option<f64>,
    /// Minutes from cold to 180 °C; 15 if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub warm_up: Option<f64>,
    /// Minutes to cool by 20 °C with the door shut; 10 if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cool_down: Option<f64>,
    /// How many degrees hotter than its dial it is; 0 if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub runs_hot: Option<f64>,
    /// It is borrowed, for this lesson only.
    #[serde(default, skip_serializing_if = "is_default")]
    pub borrowed: bool,
}

/// Inner shape of a tin.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum FormShape {
    /// Round.
    Round {
        /// Inner diameter.
        across_mm: f64,
    },
    /// Square, oblong, loaf, foil.
    Rect {
        /// Inner length.
        long_mm: f64,
        /// Inner width.
        wide_mm: f64,
    },
    /// Round holes.
    Holes {
        /// Number of holes.
        count: i64,
        /// Mean inner diameter of one.
        across_mm: f64,
    },
    /// A flat sheet.
    Sheet,
}

/// A kind of tin.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TinShape {
    /// Its name.
    pub name: String,
    /// Its inner shape.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub form: Option<FormShape>,
    /// Outside of the rim, length and width.
    pub rim_mm: (f64, f64),
    /// Outer height.
    pub height_mm: f64,
    /// Its volume to the brim; of a tray, all holes together.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub capacity_ml: Option<f64>,
}
