//! A collector of findings, with the checks of single figures.

use chrono::NaiveDate;

use crate::file::load::any_error;
use crate::finding::{Finding, Path, shortened};
use crate::model::figure::MinutesError;
use crate::model::{Origin, ThreePoint};
use crate::units::{ExactMinutes, UnitError, plain_number};

use crate::file::format::{PaceBand, StatedMinutes};

/// More findings than this help nobody.
const MOST: usize = 500;

/// How a name is quoted in a message.
pub(in crate::file) fn quoted(name: &str) -> String {
    format!("\"{}\"", shortened(name, 60))
}

/// Several names in a row, cut short where there are many.
pub(in crate::file) fn listed<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let names: Vec<&str> = names.into_iter().collect();
    let mut shown: Vec<String> = names.iter().take(12).map(|n| shortened(n, 40)).collect();
    if names.len() > 12 {
        shown.push(format!("and {} more", names.len() - 12));
    }
    if shown.is_empty() { "none".into() } else { shown.join(", ") }
}

/// The findings so far.
#[derive(Debug, Default)]
pub(in crate::file) struct Findings(Vec<Finding>);

impl Findings {
    /// Reports a fault that stops the lesson from being used.
    pub fn error(
        &mut self,
        code: &'static str,
        path: &Path,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) {
        self.push(Finding::error(code, path.clone(), message).hint(hint));
    }

    /// Reports a figure that asks for a look.
    pub fn warning(
        &mut self,
        code: &'static str,
        path: &Path,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) {
        self.push(Finding::warning(code, path.clone(), message).hint(hint));
    }

    fn push(&mut self, finding: Finding) {
        if self.0.len() < MOST && !self.0.contains(&finding) {
            self.0.push(finding);
        }
    }

    /// Whether any of them is an error.
    pub fn any_error(&self) -> bool {
        any_error(&self.0)
    }

    /// The findings in the order in which they came up.
    pub fn into_list(self) -> Vec<Finding> {
        self.0
    }

    /// The figure if it is a number in range.
    pub fn range(&mut self, path: &Path, what: &str, value: f64, range: (f64, f64)) -> Option<f64> {
        let (low, high) = range;
        if !value.is_finite() {
            self.error("not-a-number", path, format!("{what} must be a plain number"), "");
            return None;
        }
        if value < low || value > high {
            let (low, high) = (plain_number(low), plain_number(high));
            let message =
                format!("{what} is {}; it must lie between {low} and {high}", readable(value));
            self.error("out-of-range", path, message, "");
            return None;
        }
        Some(value)
    }

    /// The count if it is in range.
    pub fn count(&mut self, path: &Path, what: &str, value: i64, range: (u32, u32)) -> Option<u32> {
        let (low, high) = range;
        match u32::try_from(value) {
            Ok(n) if low <= n && n <= high => Some(n),
            _ => {
                let message = format!("{what} is {value}; it must lie between {low} and {high}");
                self.error("count", path, message, "");
                None
            }
        }
    }

    /// Whole minutes if they are in range.
    pub fn whole(&mut self, path: &Path, what: &str, value: i32, range: (i32, i32)) -> Option<i32> {
        let (low, high) = range;
        if low <= value && value <= high {
            return Some(value);
        }
        let message = format!("{what} is {value}; it must lie between {low} and {high}");
        self.error("out-of-range", path, message, "");
        None
    }

    /// A day as "2026-11-24".
    pub fn day(&mut self, path: &Path, text: &str) -> Option<NaiveDate> {
        let day = NaiveDate::parse_from_str(text, "%Y-%m-%d").ok();
        if day.is_none() {
            let message = format!("{} is not a day", quoted(text));
            self.error("date", path, message, "write year, month and day like \"2026-11-24\"");
        }
        day
    }

    /// Whether a list is no longer than is plausible.
    pub fn length(&mut self, path: &Path, what: &str, length: usize, most: usize) -> bool {
        if length > most {
            let message = format!("there are {length} {what}; {most} at most can be handled");
            self.error("too-many", path, message, "");
        }
        length <= most
    }

    /// A length of time such as a gap.
    pub fn gap(&mut self, path: &Path, what: &str, minutes: f64) -> Option<ExactMinutes> {
        let minutes = self.range(path, what, minutes, (0.0, ExactMinutes::LONGEST))?;
        ExactMinutes::new(minutes).ok()
    }

    /// The minutes stated for the class's band; those of other bands are
    /// checked too.
    pub fn minutes(
        &mut self,
        path: &Path,
        stated: StatedMinutes,
        band: PaceBand,
        origin: Origin,
    ) -> Option<ThreePoint> {
        match stated {
            StatedMinutes::Usual(usual) => {
                // Checked as stated, before quick and slow are derived.
                let minutes = ThreePoint::new(usual, usual, usual, origin)
                    .and_then(|_| ThreePoint::usual_only(usual, origin));
                self.three_point(path, minutes)
            }
            StatedMinutes::Three(quick, usual, slow) => {
                self.three_point(path, ThreePoint::new(quick, usual, slow, origin))
            }
            StatedMinutes::ByBand(bands) => {
                let checked: Vec<Option<ThreePoint>> = bands
                    .iter()
                    .enumerate()
                    .map(|(i, &(q, u, s))| {
                        self.three_point(&path.index(i), ThreePoint::new(q, u, s, origin))
                    })
                    .collect();
                checked.get(band as usize).copied().flatten()
            }
        }
    }

    fn three_point(
        &mut self,
        path: &Path,
        minutes: Result<ThreePoint, MinutesError>,
    ) -> Option<ThreePoint> {
        let error = match minutes {
            Ok(minutes) => return Some(minutes),
            Err(error) => error,
        };
        let longest = plain_number(ThreePoint::LONGEST_STEP);
        match error {
            MinutesError::Unit(UnitError::NotFinite { .. }) => {
                self.error("not-a-number", path, "minutes must be plain numbers", "");
            }
            MinutesError::OutOfOrder { .. } => {
                self.error("minutes-order", path, error.to_string(), "write (quick, usual, slow)");
            }
            MinutesError::Unit(UnitError::OutOfRange { value, .. }) => {
                let message = format!(
                    "{} minutes cannot be; a step takes more than 0 and at most {longest} minutes",
                    readable(value)
                );
                self.error("minutes", path, message, "");
            }
            MinutesError::Unit(_) | MinutesError::Zero => {
                self.error("minutes", path, error.to_string(), "");
            }
        }
        None
    }
}

/// A figure that may be absurdly large, readable.
fn readable(value: f64) -> String {
    if value.abs() < 1e7 { plain_number(value) } else { format!("{value:e}") }
}
