//! Time along a width: minutes to units of length and back, zoom and pan.

/// A stretch of time shown over a width. Units are whatever the painter uses;
/// minutes may be fractions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TimeScale {
    /// First minute shown.
    pub from: f32,
    /// Last minute shown.
    pub until: f32,
    /// Left edge.
    pub left: f32,
    /// Width.
    pub width: f32,
}

/// No less than this many minutes are shown.
const CLOSEST: f32 = 5.0;

impl TimeScale {
    /// Where a minute is.
    pub fn x(&self, minute: f32) -> f32 {
        self.left + (minute - self.from) / (self.until - self.from).max(0.1) * self.width
    }

    /// Which minute is there.
    pub fn minute(&self, x: f32) -> f32 {
        self.from + (x - self.left) / self.width.max(1.0) * (self.until - self.from)
    }

    /// Shows a stretch `factor` times as long, keeping the minute at `x` where
    /// it is, within `whole`.
    #[must_use]
    pub fn zoomed(&self, factor: f32, x: f32, whole: (f32, f32)) -> Self {
        let at = self.minute(x);
        let most = (whole.1 - whole.0).max(CLOSEST);
        let length = ((self.until - self.from) * factor).clamp(CLOSEST.min(most), most);
        let share = (x - self.left) / self.width.max(1.0);
        let from = at - share * length;
        Self { from, until: from + length, ..*self }.within(whole)
    }

    /// Moved by so many minutes, within `whole`.
    #[must_use]
    pub fn moved(&self, minutes: f32, whole: (f32, f32)) -> Self {
        Self { from: self.from + minutes, until: self.until + minutes, ..*self }.within(whole)
    }

    fn within(self, whole: (f32, f32)) -> Self {
        let length = self.until - self.from;
        let from = self.from.clamp(whole.0, (whole.1 - length).max(whole.0));
        Self { from, until: from + length, ..self }
    }

    /// Minutes between two labelled ticks, so that labels `least` wide do not
    /// touch.
    pub fn tick(&self, least: f32) -> i32 {
        let per_minute = self.width / (self.until - self.from).max(0.1);
        [1, 2, 5, 10, 15, 30, 60]
            .into_iter()
            .find(|&t| t as f32 * per_minute >= least)
            .unwrap_or(120)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SCALE: TimeScale = TimeScale { from: -10.0, until: 60.0, left: 100.0, width: 700.0 };

    #[test]
    fn minutes_and_places_answer_each_other() {
        assert_eq!(SCALE.x(0.0), 200.0);
        assert_eq!(SCALE.minute(SCALE.x(37.0)).round(), 37.0);
    }

    #[test]
    fn zoom_keeps_the_minute_under_the_pointer_and_stays_inside() {
        let whole = (-10.0, 60.0);
        let near = SCALE.zoomed(0.5, 400.0, whole);
        assert!((near.minute(400.0) - SCALE.minute(400.0)).abs() < 0.01);
        assert_eq!(near.until - near.from, 35.0);
        assert_eq!(near.zoomed(100.0, 400.0, whole), SCALE);
        let end = near.moved(1000.0, whole);
        assert_eq!(end.until, 60.0);
        assert!(SCALE.zoomed(0.0, 300.0, whole).until > SCALE.zoomed(0.0, 300.0, whole).from);
    }

    #[test]
    fn ticks_leave_room_for_their_labels() {
        assert_eq!(SCALE.tick(45.0), 5);
        assert_eq!(SCALE.tick(120.0), 15);
    }
}
