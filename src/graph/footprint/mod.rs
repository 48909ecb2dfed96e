//! What a tin takes of its shelf, and which tins stand there together.
//!
//! A round tin takes the circle of its rim, any other the rectangle round it,
//! turned by right angles only. Lengths are hundredths of a millimetre unless
//! a name says otherwise: centres of circles seldom lie at whole millimetres.

mod barrier;
mod equal;
mod refute;
mod settle;
mod together;
mod touching;

pub use barrier::Barrier;
pub use equal::{Pattern, pattern};
pub use together::{Effort, Together, is_refuted, placed, stand, stand_with};
pub use touching::free_spots;

use super::packing::Space;
use crate::model::Tin;

/// Hundredths in a millimetre.
pub const FINE: i32 = 100;

/// Nothing on a shelf is larger, in millimetres.
const LARGEST: i32 = 5000;

/// What a tin takes of its shelf, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Footprint {
    /// The rectangle round a rim: its longer and its shorter side.
    Rect {
        /// Left to right, unless it is turned.
        long: i32,
        /// Front to back, unless it is turned.
        wide: i32,
    },
    /// The circle of a round rim.
    Circle {
        /// Its diameter.
        across: i32,
    },
}

impl Footprint {
    /// Of a tin.
    pub fn of(tin: &Tin) -> Self {
        let within = |mm: i32| mm.clamp(1, LARGEST);
        match tin.round_rim() {
            Some(across) => Self::Circle { across: within(across.get()) },
            None => Self::Rect { long: within(tin.rim.0.get()), wide: within(tin.rim.1.get()) },
        }
    }

    /// Whether it is a circle.
    pub fn is_circle(self) -> bool {
        matches!(self, Self::Circle { .. })
    }

    /// Width and depth as it lies, in millimetres.
    pub fn sides(self, turned: bool) -> (i32, i32) {
        match self {
            Self::Circle { across } => (across, across),
            Self::Rect { long, wide } if turned => (wide, long),
            Self::Rect { long, wide } => (long, wide),
        }
    }

    /// The shorter of its sides, in millimetres.
    pub fn short(self) -> i32 {
        let (long, wide) = self.sides(false);
        long.min(wide)
    }

    /// The same whichever way it is turned at first: the longer side first.
    #[must_use]
    pub fn lying(self) -> Self {
        match self {
            Self::Rect { long, wide } => Self::Rect { long: long.max(wide), wide: long.min(wide) },
            circle @ Self::Circle { .. } => circle,
        }
    }

    /// Whether turning it changes anything.
    pub fn turns(self) -> bool {
        matches!(self, Self::Rect { long, wide } if long != wide)
    }

    /// Whether a tin that stands anywhere could be exchanged for one of this
    /// footprint without coming nearer to any other. A rectangle within a
    /// circle is not meant: two circles may be a gap apart where the rectangles
    /// within them are so neither left to right nor front to back.
    pub fn is_in(self, other: Self) -> bool {
        match (self, other) {
            (Self::Circle { across }, other) => across <= other.short(),
            (Self::Rect { .. }, Self::Rect { .. }) => {
                let (a, b) = (self.lying().sides(false), other.lying().sides(false));
                a.0 <= b.0 && a.1 <= b.1
            }
            (Self::Rect { .. }, Self::Circle { .. }) => false,
        }
    }

    /// The largest that is in all of some; `None` of none.
    pub fn in_all(of: impl Iterator<Item = Self> + Clone) -> Option<Self> {
        if of.clone().any(Self::is_circle) {
            return of.map(Self::short).min().map(|across| Self::Circle { across });
        }
        let long = of.clone().map(|f| f.lying().sides(false).0).min()?;
        let wide = of.map(Self::short).min()?;
        Some(Self::Rect { long, wide })
    }

    /// Its area with half of the air round it, in square millimetres, rounded
    /// down: no two tins take the same of a shelf that is larger by the air.
    /// Rectangles alone are apart left to right or front to back, which keeps
    /// their corners free; beside circles only what is nearer is kept free.
    pub fn area_with_air(self, gap: i32, beside_circles: bool) -> i64 {
        // A little less than a quarter of π.
        let quarter = |square: i64| square * 78_539 / 100_000;
        let (w, d) = self.sides(false);
        let (w, d, gap) = (i64::from(w), i64::from(d), i64::from(gap));
        match self {
            Self::Circle { .. } => quarter((w + gap) * (w + gap)),
            Self::Rect { .. } if beside_circles => w * d + gap * (w + d) + quarter(gap * gap),
            Self::Rect { .. } => (w + gap) * (d + gap),
        }
    }

    /// Half of width and depth as it lies.
    fn half(self, turned: bool) -> (i64, i64) {
        let half = |mm: i32| i64::from(mm) * i64::from(FINE / 2);
        let (w, d) = self.sides(turned);
        (half(w), half(d))
    }
}

/// Where a tin stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spot {
    /// Left edge of the rectangle round its rim, from the shelf's left.
    pub x: i32,
    /// Front edge of it, from the shelf's front.
    pub y: i32,
    /// Turned by a right angle.
    pub turned: bool,
}

/// A tin on a shelf: what it takes and where.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OnShelf {
    /// What it takes.
    pub footprint: Footprint,
    /// Where.
    pub spot: Spot,
}

impl OnShelf {
    /// With its centre there; `None` beyond what a shelf can be.
    fn centred(footprint: Footprint, turned: bool, centre: (i64, i64)) -> Option<Self> {
        let half = footprint.half(turned);
        let x = i32::try_from(centre.0 - half.0).ok()?;
        let y = i32::try_from(centre.1 - half.1).ok()?;
        Some(Self { footprint, spot: Spot { x, y, turned } })
    }

    /// Its centre.
    fn centre(&self) -> (i64, i64) {
        let half = self.footprint.half(self.spot.turned);
        (i64::from(self.spot.x) + half.0, i64::from(self.spot.y) + half.1)
    }

    /// Whether all of it is on the shelf.
    pub fn is_inside(&self, space: Space) -> bool {
        let (half, (x, y)) = (self.footprint.half(self.spot.turned), self.centre());
        let room = (fine(space.width), fine(space.depth));
        half.0 <= x && x + half.0 <= room.0 && half.1 <= y && y + half.1 <= room.1
    }

    /// Whether it is far enough from another, with so many millimetres of air
    /// wanted between them.
    pub fn is_clear_of(&self, other: &Self, gap: i32) -> bool {
        let barrier = Barrier::between(
            (self.footprint, self.spot.turned),
            (other.footprint, other.spot.turned),
            gap,
        );
        let (a, b) = (self.centre(), other.centre());
        !barrier.forbids(a.0 - b.0, a.1 - b.1)
    }
}

/// Two circles in opposite corners of a shelf: no two places are further apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corners {
    /// Millimetres from middle to middle that rims and air take.
    pub needed: f64,
    /// Millimetres from middle to middle that there are, rounded up to tenths,
    /// or more finely where that would hide that it is too little.
    pub there: f64,
}

impl Corners {
    /// Of two diameters; `None` if one of them is wider than the shelf.
    pub fn of((a, b): (i32, i32), space: Space) -> Option<Self> {
        let rims = f64::from(a + b) / 2.0;
        let (w, d) = (f64::from(space.width) - rims, f64::from(space.depth) - rims);
        let fits = a.max(b) <= space.width.min(space.depth);
        let (exact, needed) = (w.hypot(d), rims + f64::from(space.gap));
        let rounded = |to: f64| (exact * to - 1e-6).ceil() / to;
        let fine = [10.0, 100.0, 1000.0].map(rounded).into_iter().find(|there| *there < needed);
        fits.then(|| Self { needed, there: fine.unwrap_or_else(|| rounded(10.0)) })
    }
}

fn fine(mm: i32) -> i64 {
    i64::from(mm) * i64::from(FINE)
}
