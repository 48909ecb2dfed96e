//! Time zones as a calendar tells of them: what the clocks did about the days of
//! its lessons (RFC 5545, 3.6.5), from the IANA's time zone database.

use std::fmt::Write as _;

use chrono::{DateTime, Duration, NaiveDate, NaiveDateTime, Offset, TimeZone, Utc};
use chrono_tz::{OffsetComponents, OffsetName, Tz};

/// Changes of the clocks so many days before the first lesson are told of, and as
/// many after the last: more than a year, so that there is one before each.
const ABOUT: i64 = 400;

/// Whether the zone's clocks show this time on that day.
pub(super) fn is_there(zone: Tz, at: NaiveDateTime) -> bool {
    zone.from_local_datetime(&at).earliest().is_some()
}

/// A calendar's text with what has to be known of its zones before its first
/// event.
pub(super) fn with_zones(text: &str, days: &[(Tz, NaiveDate)]) -> String {
    let mut zones: Vec<(Tz, NaiveDate, NaiveDate)> = Vec::new();
    for &(zone, day) in days {
        match zones.iter_mut().find(|z| z.0 == zone) {
            Some((_, first, last)) => (*first, *last) = ((*first).min(day), (*last).max(day)),
            None => zones.push((zone, day, day)),
        }
    }
    let mut told = String::new();
    for (zone, first, last) in zones {
        tell(&mut told, zone, first, last);
    }
    text.replacen("BEGIN:VEVENT", &(told + "BEGIN:VEVENT"), 1)
}

/// An offset from the clocks of Greenwich, whether it is summer time, its name.
fn offset(zone: Tz, at: DateTime<Utc>) -> (i32, bool, String) {
    let here = zone.offset_from_utc_datetime(&at.naive_utc());
    let seconds = here.fix().local_minus_utc();
    let name = here.abbreviation().unwrap_or_default().to_owned();
    (seconds, !here.dst_offset().is_zero(), name)
}

fn tell(told: &mut String, zone: Tz, first: NaiveDate, last: NaiveDate) {
    let midnight = |day: NaiveDate| day.and_time(chrono::NaiveTime::MIN).and_utc();
    let (from, until) =
        (midnight(first) - Duration::days(ABOUT), midnight(last) + Duration::days(ABOUT));
    let _ = write!(told, "BEGIN:VTIMEZONE\r\nTZID:{}\r\n", zone.name());
    let mut before = offset(zone, from);
    observance(told, from, before.0, &before);
    let mut day = from;
    while day < until {
        let next = day + Duration::days(1);
        let after = offset(zone, next);
        if after != before {
            observance(told, change(zone, day, next), before.0, &after);
        }
        (day, before) = (next, after);
    }
    told.push_str("END:VTIMEZONE\r\n");
}

/// The first minute of the new offset, of a day and a later one with different
/// offsets.
fn change(zone: Tz, mut before: DateTime<Utc>, mut after: DateTime<Utc>) -> DateTime<Utc> {
    let was = offset(zone, before);
    while after - before > Duration::minutes(1) {
        let middle = before + Duration::minutes((after - before).num_minutes() / 2);
        if offset(zone, middle) == was { before = middle } else { after = middle }
    }
    after
}

/// From when an offset holds, by the clock as it was before.
fn observance(
    told: &mut String,
    at: DateTime<Utc>,
    was: i32,
    (is, summer, name): &(i32, bool, String),
) {
    let kind = if *summer { "DAYLIGHT" } else { "STANDARD" };
    let start = (at + Duration::seconds(i64::from(was))).format("%Y%m%dT%H%M%S");
    let _ = write!(
        told,
        "BEGIN:{kind}\r\nDTSTART:{start}\r\nTZOFFSETFROM:{}\r\nTZOFFSETTO:{}\r\n",
        signed(was),
        signed(*is)
    );
    if !name.is_empty() {
        let _ = write!(told, "TZNAME:{name}\r\n");
    }
    let _ = write!(told, "END:{kind}\r\n");
}

/// "+0100", with seconds where there are any.
fn signed(seconds: i32) -> String {
    let sign = if seconds < 0 { '-' } else { '+' };
    let (hours, minutes, rest) =
        (seconds.abs() / 3600, seconds.abs() / 60 % 60, seconds.abs() % 60);
    let rest = if rest == 0 { String::new() } else { format!("{rest:02}") };
    format!("{sign}{hours:02}{minutes:02}{rest}")
}
