//! Points and rectangles of a picture: x grows to the right, y downwards.

/// A point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// From the left.
    pub x: f32,
    /// From the top.
    pub y: f32,
}

/// The point so far from the left and from the top.
pub const fn at(x: f32, y: f32) -> Point {
    Point { x, y }
}

/// A rectangle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Area {
    /// Left edge.
    pub x: f32,
    /// Top edge.
    pub y: f32,
    /// Width.
    pub w: f32,
    /// Height.
    pub h: f32,
}

impl Area {
    /// The area between two points, each the nearest to its corner.
    pub fn between(left_top: Point, right_bottom: Point) -> Self {
        let (w, h) = (right_bottom.x - left_top.x, right_bottom.y - left_top.y);
        Self { x: left_top.x, y: left_top.y, w, h }
    }

    /// An area of a size around a point.
    pub fn around(centre: Point, (w, h): (f32, f32)) -> Self {
        Self { x: centre.x - w / 2.0, y: centre.y - h / 2.0, w, h }
    }

    /// Right edge.
    pub fn right(&self) -> f32 {
        self.x + self.w
    }

    /// Bottom edge.
    pub fn bottom(&self) -> f32 {
        self.y + self.h
    }

    /// The point in the middle.
    pub fn centre(&self) -> Point {
        at(self.x + self.w / 2.0, self.y + self.h / 2.0)
    }

    /// Larger by so much on the left and right, and above and below.
    #[must_use]
    pub fn grown(&self, x: f32, y: f32) -> Self {
        Self { x: self.x - x, y: self.y - y, w: self.w + 2.0 * x, h: self.h + 2.0 * y }
    }

    /// So many times as large and as far from the left top.
    #[must_use]
    pub fn scaled(&self, by: f32) -> Self {
        Self { x: by * self.x, y: by * self.y, w: by * self.w, h: by * self.h }
    }

    /// Smaller by so much on every side.
    #[must_use]
    pub fn shrunk(&self, by: f32) -> Self {
        self.grown(-by, -by)
    }

    /// Moved.
    #[must_use]
    pub fn moved(&self, x: f32, y: f32) -> Self {
        Self { x: self.x + x, y: self.y + y, ..*self }
    }

    /// What both areas share; of no width or height if they are apart.
    #[must_use]
    pub fn shared(&self, other: &Area) -> Self {
        let (x, y) = (self.x.max(other.x), self.y.max(other.y));
        let w = (self.right().min(other.right()) - x).max(0.0);
        let h = (self.bottom().min(other.bottom()) - y).max(0.0);
        Self { x, y, w, h }
    }

    /// The areas touch or overlap.
    pub fn meets(&self, other: &Area) -> bool {
        self.x <= other.right()
            && other.x <= self.right()
            && self.y <= other.bottom()
            && other.y <= self.bottom()
    }

    /// The smallest area that holds both.
    #[must_use]
    pub fn joined(&self, other: &Area) -> Self {
        let left_top = at(self.x.min(other.x), self.y.min(other.y));
        let right = self.right().max(other.right());
        Self::between(left_top, at(right, self.bottom().max(other.bottom())))
    }
}
