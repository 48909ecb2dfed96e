//! A lesson taught again.

use chrono::{Days, NaiveDate};

use super::borrowed::give_back_all;
use crate::file::clear::{cleared, what_goes};
use crate::file::format::LessonFile;

/// Whom a lesson is taught to again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pupils {
    /// The same class: what is said of its pupils holds.
    Same,
    /// Another class: of its pupils nothing is known.
    Others,
}

/// What a lesson says of its pupils, a short phrase each; the class's name is
/// not among it. Empty where it does not matter who is taught.
pub fn said_of_pupils(file: &LessonFile) -> Vec<String> {
    let mut nameless = file.clone();
    nameless.class.name.clear();
    what_goes(&nameless)
}

/// The lesson for the same weekday a week later, or the first such day from
/// `today` on; everybody takes part again, and of the day nothing is known
/// yet. Without a date the copy has none. What was borrowed went back, and
/// what is said of pupils stays with them. It is another lesson, so the id
/// stays with the one before.
#[must_use]
pub fn again(file: &LessonFile, pupils: Pupils, today: NaiveDate) -> LessonFile {
    let file = match pupils {
        Pupils::Same => file.clone(),
        Pupils::Others => cleared(file),
    };
    let mut file = LessonFile { id: None, today: None, ..file };
    give_back_all(&mut file);
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
    use crate::file::format::GroupShape;

    #[test]
    fn it_falls_on_the_same_weekday_and_not_in_the_past() {
        let of = |day: &str, today: &str| {
            let file = LessonFile { date: Some(day.to_owned()), ..LessonFile::default() };
            again(&file, Pupils::Same, today.parse().unwrap()).date.unwrap()
        };
        assert_eq!(of("2026-11-19", "2026-11-20"), "2026-11-26");
        assert_eq!(of("2026-11-19", "2026-11-26"), "2026-11-26");
        assert_eq!(of("2026-11-19", "2026-11-27"), "2026-12-03");
        assert_eq!(of("2025-11-20", "2026-11-25"), "2026-11-26");
        let day = LessonFile { today: Some(Default::default()), ..LessonFile::default() };
        assert_eq!(again(&day, Pupils::Same, "2026-11-25".parse().unwrap()).today, None);
        let known = LessonFile { id: Some("heron-4c2f".into()), ..LessonFile::default() };
        assert_eq!(again(&known, Pupils::Same, "2026-11-25".parse().unwrap()).id, None);
        let none = again(&LessonFile::default(), Pupils::Same, "2026-11-25".parse().unwrap());
        assert_eq!(none.date, None);
    }

    #[test]
    fn what_is_said_of_a_class_does_not_go_to_another() {
        let mut file = LessonFile::default();
        file.class.name = "8 Harbour".into();
        assert!(said_of_pupils(&file).is_empty(), "a name says nothing of pupils");
        file.groups = vec![GroupShape {
            name: "Unit 3".into(),
            needs: vec!["made without egg".into()],
            pace: Some(1.3),
            ..GroupShape::default()
        }];
        assert_eq!(said_of_pupils(&file).len(), 2);
        let day = "2026-11-25".parse().unwrap();
        assert_eq!(again(&file, Pupils::Same, day).groups, file.groups);
        let other = again(&file, Pupils::Others, day);
        assert!(said_of_pupils(&other).is_empty() && other.class.name.is_empty());
        assert_eq!(other.groups[0].name, "Unit 3");
    }
}
