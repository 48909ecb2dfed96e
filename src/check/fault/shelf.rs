//! What is wrong by the rule `shelf`. Lengths that a plan may make as large as
//! it likes are plain numbers, of hundredths of a millimetre.

use super::{TinOf, Words};
use crate::model::{GroupId, OvenId, ShelfId};
use crate::units::Millimetres;

/// What is wrong with how tins stand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ShelfFault {
    /// One reaches over the edge.
    OverEdge {
        /// The tin.
        tin: TinOf,
        /// The shelf.
        shelf: (OvenId, ShelfId),
        /// Its left and right edge, hundredths from the shelf's left.
        across: (i64, i64),
        /// Its front and back edge, hundredths from the shelf's front.
        deep: (i64, i64),
        /// Width and depth of the shelf, hundredths.
        room: (i64, i64),
    },
    /// One is too high.
    TooHigh {
        /// The tin.
        tin: TinOf,
        /// The shelf.
        shelf: (OvenId, ShelfId),
        /// Its height.
        height: Millimetres,
        /// The clear height above the shelf.
        clear: Millimetres,
    },
    /// Two are too near to each other.
    TooNear {
        /// Whose.
        first: GroupId,
        /// And whose.
        second: GroupId,
        /// The shelf.
        shelf: (OvenId, ShelfId),
        /// Hundredths between them; below nought if they overlap.
        air: i64,
        /// Hundredths that are wanted.
        wanted: i64,
    },
}

impl ShelfFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        match *self {
            Self::OverEdge { tin, shelf, across, deep, room } => format!(
                "{} reaches from {} to {} mm and {} to {} mm, over the {} by {} mm of {}",
                words.tin_of(tin),
                mm(across.0),
                mm(across.1),
                mm(deep.0),
                mm(deep.1),
                mm(room.0),
                mm(room.1),
                words.shelf(shelf)
            ),
            Self::TooHigh { tin, shelf, height, clear } => format!(
                "{} is {height} high, too high for the {clear} clear above {}",
                words.tin_of(tin),
                words.shelf(shelf)
            ),
            Self::TooNear { first, second, shelf, air, wanted } => {
                let who = if first == second {
                    format!("two tins of {}", words.group(first))
                } else {
                    format!("{} and {}", words.group(first), words.group(second))
                };
                let stand = if air < 0 {
                    "overlap".to_owned()
                } else {
                    format!("stand {} mm apart", mm(air))
                };
                let wanted = mm(wanted);
                format!("{who} {stand} on {}; {wanted} mm of air is wanted", words.shelf(shelf))
            }
        }
    }
}

/// Millimetres of hundredths, with as many digits as there are.
fn mm(hundredths: i64) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    let (whole, part) = (hundredths.unsigned_abs() / 100, hundredths.unsigned_abs() % 100);
    match part {
        0 => format!("{sign}{whole}"),
        _ if part % 10 == 0 => format!("{sign}{whole}.{}", part / 10),
        _ => format!("{sign}{whole}.{part:02}"),
    }
}
