//! What keeps two tins apart: where the centre of the one may not be, seen
//! from the centre of the other.

use super::{FINE, Footprint, fine};

/// A rectangle with rounded corners, or a circle if the rectangle is a point:
/// all that is nearer to a rectangle round the origin than `around`. Without
/// `around` it is the inside of the rectangle.
///
/// It is convex, so of a box of differences all are forbidden if its corners
/// are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Barrier {
    half: (i64, i64),
    around: i64,
}

impl Barrier {
    /// Between two tins, each turned or not, with a gap in millimetres.
    pub fn between(a: (Footprint, bool), b: (Footprint, bool), gap: i32) -> Self {
        let gap = fine(gap);
        let ((w, d), (v, e)) = (a.0.half(a.1), b.0.half(b.1));
        match (a.0.is_circle(), b.0.is_circle()) {
            (true, true) => Self { half: (0, 0), around: w + v + gap },
            (true, false) => Self { half: (v, e), around: w + gap },
            (false, true) => Self { half: (w, d), around: v + gap },
            // Rectangles are apart left to right or front to back.
            (false, false) => Self { half: (w + v + gap, d + e + gap), around: 0 },
        }
    }

    /// Whether one centre may not lie so far right of and behind the other.
    pub fn forbids(self, right: i64, behind: i64) -> bool {
        let (x, y) = (right.abs() - self.half.0, behind.abs() - self.half.1);
        if self.around == 0 {
            return x < 0 && y < 0;
        }
        let (x, y) = (x.max(0), y.max(0));
        x * x + y * y < self.around * self.around
    }

    /// How far left and right it reaches where the other coordinate is so far
    /// from its middle: no nearer than that, rounded down, may a centre be.
    pub(super) fn across(self, behind: i64) -> Option<i64> {
        Self::reach(self.around, self.half.0, behind.abs() - self.half.1)
    }

    /// The same front to back.
    pub(super) fn along(self, right: i64) -> Option<i64> {
        Self::reach(self.around, self.half.1, right.abs() - self.half.0)
    }

    fn reach(around: i64, half: i64, off: i64) -> Option<i64> {
        if around == 0 {
            return (off < 0).then_some(half);
        }
        let off = off.max(0);
        (off < around).then(|| half + (around * around - off * off).isqrt())
    }

    /// By how much two centres are too near, in millimetres, and which way the
    /// first is pushed out soonest; `None` if they are not.
    /// So many millimetres more air are wanted.
    pub(super) fn push(self, (right, behind): (f64, f64), more: f64) -> Option<(f64, (f64, f64))> {
        let mm = |n: i64| exact(n) / f64::from(FINE);
        let (mut a, mut b, mut around) = (mm(self.half.0), mm(self.half.1), mm(self.around));
        if self.around == 0 {
            a += more;
            b += more;
        } else {
            around += more;
        }
        let (x, y) = (right.abs() - a, behind.abs() - b);
        let (sx, sy) = (1.0_f64.copysign(right), 1.0_f64.copysign(behind));
        if x <= 0.0 && y <= 0.0 && (self.around == 0 || (a > 0.0 && b > 0.0)) {
            let by = around - x.max(y);
            return (by > 0.0).then_some((by, if x > y { (sx, 0.0) } else { (0.0, sy) }));
        }
        if self.around == 0 {
            return None;
        }
        let (x, y) = (x.max(0.0), y.max(0.0));
        let far = (x * x + y * y).sqrt();
        if far >= around {
            return None;
        }
        let way = if far > 1e-9 { (sx * x / far, sy * y / far) } else { (sx, 0.0) };
        Some((around - far, way))
    }

    /// Corners of the rectangle and the radius round each, for tangents.
    pub(super) fn arcs(self) -> impl Iterator<Item = ((i64, i64), i64)> {
        let (a, b) = self.half;
        let all = [(a, b), (-a, b), (a, -b), (-a, -b)];
        let n = match (self.around, a, b) {
            (0, ..) => 0,
            (_, 0, 0) => 1,
            _ => 4,
        };
        all.into_iter().take(n).map(move |corner| (corner, self.around))
    }

    /// How far its straight sides are from the middle, left to right and front
    /// to back.
    pub(super) fn straight(self) -> (i64, i64) {
        (self.half.0 + self.around, self.half.1 + self.around)
    }
}

/// Exact: lengths on a shelf are far below 2⁵³ hundredths.
#[allow(clippy::cast_precision_loss)]
pub(super) fn exact(n: i64) -> f64 {
    n as f64
}
