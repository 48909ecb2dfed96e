//! Reading what is typed into a field, and showing what it holds. What cannot
//! be read is refused with a reason and an example.

use chrono::{Datelike, NaiveDate};

use crate::convert::{ConvertError, Kind, Quantity, Spoons, Unit, dial};
use crate::file::format::{PaceBand, StatedMinutes};
use crate::units::{ClockTime, Minutes, plain_number};

/// The longest text a field takes, in characters.
const LONGEST: usize = 200;
/// Between what an oven's temperature lies, °C.
const OVENS: (f64, f64) = (50.0, 300.0);

/// A name, in one line.
///
/// # Errors
/// If it is empty or too long.
pub fn name(text: &str) -> Result<String, String> {
    let text = line(text)?;
    if text.is_empty() { Err("it needs a name".to_owned()) } else { Ok(text) }
}

/// A line of text, which may be empty.
///
/// # Errors
/// If it is too long.
pub fn line(text: &str) -> Result<String, String> {
    let text: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().count() > LONGEST {
        return Err(format!("a line of at most {LONGEST} letters has room here"));
    }
    Ok(text.trim().to_owned())
}

/// A number between two others, a comma or a point before its decimals.
///
/// # Errors
/// If it is none, or out of bounds; `unit` is for the reason.
pub fn number(text: &str, (least, most): (f64, f64), unit: &str) -> Result<f64, String> {
    let bare = text.trim();
    let bare = bare.strip_suffix(unit).unwrap_or(bare).trim_end();
    let bare = bare.replace(',', ".").replace('−', "-");
    let space = if unit.is_empty() || unit == "%" { "" } else { " " };
    let told = |n: f64| format!("{}{space}{unit}", plain_number(n));
    match bare.parse::<f64>() {
        Ok(n) if n.is_finite() && (least..=most).contains(&n) => Ok(n),
        Ok(_) => Err(format!("it lies between {} and {}", plain_number(least), told(most))),
        Err(_) if bare.is_empty() => {
            Err(format!("write a number between {} and {}", plain_number(least), told(most)))
        }
        Err(_) => Err(format!(
            "that is no number; write one between {} and {}",
            plain_number(least),
            told(most)
        )),
    }
}

/// A whole number between two others.
///
/// # Errors
/// As [`number`], and if it has decimals.
#[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)] // small bounds
pub fn whole(text: &str, (least, most): (i64, i64), unit: &str) -> Result<i64, String> {
    let n = number(text, (least as f64, most as f64), unit)?;
    if n.fract() == 0.0 { Ok(n as i64) } else { Err("write a whole number".to_owned()) }
}

/// What may be left empty: then it is not said.
///
/// # Errors
/// As the reader of what is not empty.
pub fn optional<T>(
    text: &str,
    read: impl FnOnce(&str) -> Result<T, String>,
) -> Result<Option<T>, String> {
    if text.trim().is_empty() { Ok(None) } else { read(text).map(Some) }
}

/// A time zone by its name in the IANA's database.
///
/// # Errors
/// If there is none of that name.
pub fn zone(text: &str) -> Result<String, String> {
    let known = text.trim().parse::<chrono_tz::Tz>();
    known.map(|zone| zone.name().to_owned()).map_err(|_| {
        "no time zone of that name; write one like Europe/London, or nothing".to_owned()
    })
}

/// A time of the day: "10:05", "10.05", "1005" or "9", as the file writes it.
///
/// # Errors
/// If it is none.
pub fn clock(text: &str) -> Result<String, String> {
    let text = text.trim().replace(['.', 'h', ' '], ":");
    let digits = text.chars().all(|c| c.is_ascii_digit());
    let spelt = match text.len() {
        1 | 2 if digits => format!("{text}:00"),
        3 | 4 if digits => format!("{}:{}", &text[..text.len() - 2], &text[text.len() - 2..]),
        _ => text,
    };
    ClockTime::parse(&spelt)
        .map(|time| time.to_string())
        .map_err(|_| "that is no time of the day; write one like 10:05".to_owned())
}

/// A day as the file writes it: "2026-11-26", "26/11/2026" (day first),
/// "26 November 2026"; without a year the next such day from `today` on.
///
/// # Errors
/// If it is none.
pub fn date(text: &str, today: NaiveDate) -> Result<String, String> {
    let text = text.trim();
    let no_day = || "that is no day; write one like 26 November or 2026-11-26".to_owned();
    for form in ["%Y-%m-%d", "%d/%m/%Y", "%d.%m.%Y", "%d %B %Y", "%d %b %Y", "%a %d %b %Y"] {
        if let Ok(day) = NaiveDate::parse_from_str(text, form)
            && (1990..=2200).contains(&day.year())
        {
            return Ok(day.to_string());
        }
    }
    for form in ["%d %B %Y", "%d %b %Y", "%d/%m %Y"] {
        for year in [today.year(), today.year() + 1] {
            let with_year = format!("{text} {year}");
            if let Ok(day) = NaiveDate::parse_from_str(&with_year, form)
                && day >= today
            {
                return Ok(day.to_string());
            }
        }
    }
    Err(no_day())
}

/// Three kinds of minutes: "4 5 8" is quick, usual and slow; "5" is usual,
/// and the others are assumed.
///
/// # Errors
/// If they are none, or not in order.
pub fn minutes(text: &str) -> Result<StatedMinutes, String> {
    let shaped = "write the usual minutes, or quick, usual and slow ones like 4 5 8";
    let text = text.trim().trim_start_matches('(').trim_end_matches(')');
    let text = text.trim_end_matches("minutes").trim_end_matches("min");
    // A comma with a space after it, or two of them, stand between numbers.
    let between = if text.matches(',').count() >= 2 || text.contains(", ") {
        text.replace(',', " ")
    } else {
        text.replace(',', ".")
    };
    let parts: Vec<&str> =
        between.split(|c: char| c.is_whitespace() || c == '/').filter(|p| !p.is_empty()).collect();
    let of = |part: &str| number(part, (0.0, 1440.0), "min");
    match parts.as_slice() {
        [usual] => Ok(StatedMinutes::Usual(of(usual)?)),
        [quick, usual, slow] => {
            let (quick, usual, slow) = (of(quick)?, of(usual)?, of(slow)?);
            if quick <= usual && usual <= slow {
                Ok(StatedMinutes::Three(quick, usual, slow))
            } else {
                Err("quick minutes come first, then usual, then slow ones".to_owned())
            }
        }
        [] => Err(shaped.to_owned()),
        _ => Err(format!("one or three numbers: {shaped}")),
    }
}

/// Minutes as [`minutes`] reads them, for a class of these ages.
pub fn minutes_text(minutes: &StatedMinutes, band: PaceBand) -> String {
    let three = |(q, u, s): (f64, f64, f64)| {
        format!("{} {} {}", plain_number(q), plain_number(u), plain_number(s))
    };
    match minutes {
        StatedMinutes::Usual(usual) => plain_number(*usual),
        StatedMinutes::Three(q, u, s) => three((*q, *u, *s)),
        StatedMinutes::ByBand(bands) => three(bands[of_band(band)]),
    }
}

/// The usual ones of some minutes, for a class of these ages.
pub fn usual(minutes: &StatedMinutes, band: PaceBand) -> f64 {
    match minutes {
        StatedMinutes::Usual(usual) | StatedMinutes::Three(_, usual, _) => *usual,
        StatedMinutes::ByBand(bands) => bands[of_band(band)].1,
    }
}

/// Minutes typed over those of a class of these ages: the other ages keep
/// theirs where all three kinds were typed.
pub fn typed_over(
    old: Option<&StatedMinutes>,
    band: PaceBand,
    typed: StatedMinutes,
) -> StatedMinutes {
    match (old, typed) {
        (Some(StatedMinutes::ByBand(bands)), StatedMinutes::Three(q, u, s)) => {
            let mut bands = *bands;
            bands[of_band(band)] = (q, u, s);
            StatedMinutes::ByBand(bands)
        }
        _ => typed,
    }
}

/// Where minutes by age have those of these ages.
pub fn of_band(band: PaceBand) -> usize {
    match band {
        PaceBand::Ages11To12 => 0,
        PaceBand::Ages12To14 => 1,
        PaceBand::Ages14To16 => 2,
    }
}

/// An oven's temperature without a fan, °C, as recipes say it: "180", "160 fan",
/// "gas 4", "350 F".
///
/// # Errors
/// If it is none of them, or no oven is as hot.
pub fn oven(text: &str) -> Result<f64, String> {
    if text.trim().replace(',', ".").parse::<f64>().is_ok() {
        return number(text, OVENS, "°C");
    }
    let shaped = || "write it as the recipe does: 180, 160 fan, gas 4 or 350 F".to_owned();
    let said = match Quantity::read(text, Spoons::Metric) {
        Ok(said) if said.unit.kind() == Kind::Oven => said,
        Err(why @ ConvertError::NotAMark(_)) => return Err(why.to_string()),
        _ => return Err(shaped()),
    };
    let celsius = match said.unit {
        // As it is told: 350 °F is the customary figure for 180 °C.
        Unit::Fahrenheit => dial::to_celsius(said.figure),
        _ => said.exactly(Unit::Celsius, None).map_err(|why| why.to_string())?.figure,
    };
    number(&plain_number(celsius), OVENS, "°C")
}

/// The same oven by other settings: "160 °C fan, gas 4".
pub fn other_settings(celsius: f64) -> String {
    let own = Quantity { figure: celsius, unit: Unit::Celsius };
    let as_hot = |unit| own.exactly(unit, None).ok();
    let is_it = |mark: &Quantity| mark.exactly(Unit::Celsius, None).is_ok_and(|back| back == own);
    let all = as_hot(Unit::Fan).into_iter().chain(as_hot(Unit::Gas).filter(is_it));
    all.map(|setting| setting.to_string()).collect::<Vec<String>>().join(", ")
}

/// Stretches of minutes, "-30 to 20, 45 to 60".
///
/// # Errors
/// If they are none.
pub fn stretches(text: &str) -> Result<Vec<(i32, i32)>, String> {
    let of = |part: &str| {
        let n = whole(part, (-600, 1440), "min")?;
        i32::try_from(n).map_err(|_| "that is too large".to_owned())
    };
    let mut all = Vec::new();
    for part in text.split(',').map(str::trim).filter(|p| !p.is_empty()) {
        let Some((from, until)) = part.split_once("to") else {
            return Err("write minutes from the start bell like -30 to 20, 45 to 60".to_owned());
        };
        let (from, until) = (of(from)?, of(until)?);
        if from >= until {
            return Err(format!("{from} to {until} goes backwards"));
        }
        all.push((from, until));
    }
    Ok(all)
}

/// When somebody is there: stretches of minutes from the start bell, or of
/// times of the day, "9:35 to 10:25", where `bell` is the start bell.
///
/// # Errors
/// If they are neither, or go backwards.
pub fn hours(text: &str, bell: Option<ClockTime>) -> Result<Vec<(i32, i32)>, String> {
    let minute = |time: &str| match (time.contains(':'), bell) {
        (false, _) => Ok(time.trim().to_owned()),
        (true, None) => Err("say when the lesson starts before times of the day".to_owned()),
        (true, Some(bell)) => {
            let time = ClockTime::parse(&clock(time)?).map_err(|e| e.to_string())?;
            Ok(time.minutes_since(bell).get().to_string())
        }
    };
    let stretch = |part: &str| match part.split_once("to") {
        Some((from, until)) => Ok(format!("{} to {}", minute(from)?, minute(until)?)),
        None => {
            Err("write times like 9:35 to 10:25, or minutes from the start bell like -30 to 20"
                .to_owned())
        }
    };
    let parts = text.split(',').filter(|part| !part.trim().is_empty());
    stretches(&parts.map(stretch).collect::<Result<Vec<String>, String>>()?.join(","))
}

/// The same stretches as times of the day, "09:35 to 10:25".
pub fn hours_by_clock(hours: &[(i32, i32)], bell: ClockTime) -> String {
    let time = |minute: i32| bell.after(Minutes::new(minute));
    let each: Vec<String> =
        hours.iter().map(|&(from, until)| format!("{} to {}", time(from), time(until))).collect();
    each.join(", ")
}

/// Stretches as [`stretches`] reads them.
pub fn stretches_text(stretches: &[(i32, i32)]) -> String {
    let each: Vec<String> = stretches.iter().map(|(a, b)| format!("{a} to {b}")).collect();
    each.join(", ")
}

/// A list of words with commas between them.
///
/// # Errors
/// If one of them is too long.
pub fn words(text: &str) -> Result<Vec<String>, String> {
    let all = text.split([',', ';']).map(line).collect::<Result<Vec<String>, String>>()?;
    Ok(all.into_iter().filter(|w| !w.is_empty()).collect())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn today() -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
    }

    #[test]
    fn days_and_times_are_read_as_people_write_them() {
        for text in ["2026-11-26", "26/11/2026", "26.11.2026", "26 November", "26 Nov 2026"] {
            assert_eq!(date(text, today()).unwrap(), "2026-11-26", "{text}");
        }
        assert_eq!(date("3 February", today()).unwrap(), "2027-02-03");
        assert!(date("31 February 2027", today()).is_err());
        assert!(date("soon", today()).is_err());
        for text in ["10:05", "10.05", "1005", " 10:05 "] {
            assert_eq!(clock(text).unwrap(), "10:05", "{text}");
        }
        assert_eq!(clock("9").unwrap(), "09:00");
        assert_eq!(clock("905").unwrap(), "09:05");
        assert!(clock("25:00").is_err());
        assert!(clock("ä").is_err());
    }

    #[test]
    fn minutes_are_one_number_or_three_in_order() {
        assert_eq!(minutes("5").unwrap(), StatedMinutes::Usual(5.0));
        assert_eq!(minutes("4,5").unwrap(), StatedMinutes::Usual(4.5));
        for text in ["4 5 8", "4/5/8", "(4, 5, 8)", "4,5,8", "4 5 8 min"] {
            assert_eq!(minutes(text).unwrap(), StatedMinutes::Three(4.0, 5.0, 8.0), "{text}");
        }
        for text in ["", "4 5", "8 5 4", "-1", "five", "NaN", "1e9", "4 5 8 9"] {
            assert!(minutes(text).is_err(), "{text}");
        }
    }

    #[test]
    fn an_oven_is_as_hot_as_the_recipe_says_it() {
        for (text, celsius) in [
            ("180", 180.0),
            ("187,5", 187.5),
            ("160 fan", 180.0),
            ("160°C fan", 180.0),
            ("gas 4", 180.0),
            ("Gas Mark 4", 180.0),
            ("350 F", 180.0),
            ("350°F", 180.0),
            ("180 C", 180.0),
        ] {
            assert_eq!(oven(text), Ok(celsius), "{text}");
        }
        for text in ["", "hot", "fan", "180 fan 160", "gas 12", "180 g", "20", "900 F", "NaN"] {
            assert!(oven(text).is_err(), "{text}");
        }
        assert!(oven("gas 12").unwrap_err().contains("gas"));
        assert_eq!(other_settings(180.0), "160 °C fan, gas 4");
        assert_eq!(other_settings(187.0), "167 °C fan");
    }

    #[test]
    fn only_the_ages_typed_for_change() {
        let bands = StatedMinutes::ByBand([(5.0, 7.0, 11.0), (4.0, 5.0, 8.0), (3.0, 4.0, 6.0)]);
        assert_eq!(minutes_text(&bands, PaceBand::Ages12To14), "4 5 8");
        let typed = minutes("4 6 9").unwrap();
        let StatedMinutes::ByBand(now) = typed_over(Some(&bands), PaceBand::Ages12To14, typed)
        else {
            panic!("the other ages are lost");
        };
        assert_eq!(now, [(5.0, 7.0, 11.0), (4.0, 6.0, 9.0), (3.0, 4.0, 6.0)]);
    }

    #[test]
    fn numbers_out_of_bounds_say_the_bounds() {
        assert_eq!(number("12,5 mm", (1.0, 20.0), "mm").unwrap(), 12.5);
        let why = number("25", (1.0, 20.0), "mm").unwrap_err();
        assert!(why.contains("between 1 and 20 mm"), "{why}");
        assert!(whole("2.5", (1, 9), "").is_err());
        assert!(number("inf", (0.0, 9.0), "").is_err());
        assert_eq!(stretches("-30 to 20, 45 to 60").unwrap(), vec![(-30, 20), (45, 60)]);
        assert!(stretches("20 to -30").is_err());
        let bell = ClockTime::parse("10:05").ok();
        let hours = |text| hours(text, bell);
        assert_eq!(hours("9:35 to 10:25, 45 to 60").unwrap(), vec![(-30, 20), (45, 60)]);
        assert_eq!(hours("").unwrap(), Vec::new());
        assert!(hours("10:25 to 9:35").is_err() && hours("9:35").is_err());
        assert!(super::hours("9:35 to 10:25", None).is_err());
        assert_eq!(hours_by_clock(&[(-30, 20)], bell.unwrap()), "09:35 to 10:25");
        assert_eq!(stretches_text(&[(-30, 20)]), "-30 to 20");
    }
}
