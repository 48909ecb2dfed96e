//! A lesson taught again.

use chrono::{Days, NaiveDate};

use crate::file::format::LessonFile;

/// The lesson for the same weekday a week later, or the first such day from
/// `today` on; everybody takes part again, and of the day nothing is known
/// yet. Without a date the copy has none.
#[must_use]
pub fn again(file: &LessonFile, today: NaiveDate) -> LessonFile {
    let mut file = LessonFile { today: None, ..file.clone() };
    for group in &mut file.groups {
        group.left_out = false;
    }
    let day = file.date.as_deref().and_then(|d| NaiveDate::parse_from_str(d, "%Y-%m-%d").ok());
    file.date = day.and_then(|day| next(day, today)).map(|day| day.to_string());
    file
}

fn next(day: NaiveDate, today: NaiveDate) -> Option<NaiveDate> {
    let later = day.checked_add_days(Days::new(7))?;
    let behind = (today - later).num_days();
    let weeks = if behind > 0 { u64::try_from((behind + 6) / 7).ok()? } else { 0 };
    later.checked_add_days(Days::new(7 * weeks))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn it_falls_on_the_same_weekday_and_not_in_the_past() {
        let of = |day: &str, today: &str| {
            let file = LessonFile { date: Some(day.to_owned()), ..LessonFile::default() };
            again(&file, today.parse().unwrap()).date.unwrap()
        };
        assert_eq!(of("2026-11-19", "2026-11-20"), "2026-11-26");
        assert_eq!(of("2026-11-19", "2026-11-26"), "2026-11-26");
        assert_eq!(of("2026-11-19", "2026-11-27"), "2026-12-03");
        assert_eq!(of("2025-11-20", "2026-11-25"), "2026-11-26");
        let day = LessonFile { today: Some(Default::default()), ..LessonFile::default() };
        assert_eq!(again(&day, "2026-11-25".parse().unwrap()).today, None);
        assert_eq!(again(&LessonFile::default(), "2026-11-25".parse().unwrap()).date, None);
    }
}
