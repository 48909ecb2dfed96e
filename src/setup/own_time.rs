//! How much of a period is the class's own, in a sentence: what a new lesson
//! takes for granted.

use super::field;
use crate::file::format::LessonFile;
use crate::units::{ClockTime, plain_number};

/// "Of the 60 minutes 18 are the class's own: register 2, …; 42 are left for
/// the practical." With usual minutes; `None` where the first period has no
/// such steps.
pub fn own_time(file: &LessonFile) -> Option<String> {
    let period = &file.period;
    let steps: Vec<(&str, f64)> = period
        .opening
        .iter()
        .chain(&period.during)
        .chain(&period.closing)
        .map(|step| (step.name.as_str(), field::usual(&step.minutes, file.class.band)))
        .collect();
    let own: f64 = steps.iter().map(|(_, minutes)| minutes).sum();
    if steps.is_empty() {
        return None;
    }
    let each: Vec<String> =
        steps.iter().map(|(name, minutes)| format!("{name} {}", plain_number(*minutes))).collect();
    let bells = ClockTime::parse(&period.start).ok().zip(ClockTime::parse(&period.end).ok());
    let length = bells.map(|(start, end)| f64::from(end.minutes_since(start).get()));
    let (before, after) = match length.filter(|length| *length > own) {
        None => (String::new(), String::new()),
        Some(length) => (
            format!("Of the {} minutes ", plain_number(length)),
            format!("; {} are left for the practical", plain_number(length - own)),
        ),
    };
    let own = plain_number(own);
    let are = if before.is_empty() { format!("{own} minutes are") } else { format!("{own} are") };
    Some(format!("{before}{are} the class's own: {}{after}.", each.join(", ")))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::file::format::PaceBand;
    use crate::setup::starter::new_lesson;

    #[test]
    fn a_new_lesson_says_what_it_takes_for_granted() {
        let mut file = new_lesson().unwrap();
        let words = own_time(&file).unwrap();
        let steps = ["register", "aprons and hands", "demo", "plenary", "dismissal"];
        assert!(steps.iter().all(|step| words.contains(step)), "{words}");
        assert!(words.contains("minutes are the class's own"), "{words}");
        (file.period.start, file.period.end) = ("10:00".into(), "10:50".into());
        file.class.band = PaceBand::Ages11To12;
        let steps = file.period.opening.iter().chain(&file.period.during);
        let steps = steps.chain(&file.period.closing);
        let own: f64 = steps.map(|s| field::usual(&s.minutes, file.class.band)).sum();
        let words = own_time(&file).unwrap();
        let begin = format!("Of the 50 minutes {own} are the class's own: register ");
        assert!(words.starts_with(&begin), "{words}");
        let end = format!("; {} are left for the practical.", 50.0 - own);
        assert!(words.ends_with(&end), "{words}");
        file.period.opening.clear();
        file.period.during.clear();
        file.period.closing.clear();
        assert_eq!(own_time(&file), None);
    }
}
