//! A week in sentences: what is wanted twice, and the moves that clear it.

use chrono::NaiveDate;

use crate::units::Minutes;
use crate::week::{
    Clash, EntryNo, Move, Moves, Offer, Place, Report, Setup, Stretch, Thing, Together, Told,
    TooLittleTime, Trouble, Week, where_and_when,
};
use crate::words::{counted, list, minutes};

/// "Thursday 3 December".
pub(super) fn day(date: NaiveDate) -> String {
    date.format("%A %-d %B").to_string()
}

/// "8A, Room 1, whisked sponge": who is meant by an entry.
pub(super) fn who(week: &Week, entry: EntryNo) -> String {
    let Some(entry) = week.entry(entry) else { return String::new() };
    let rooms: Vec<String> =
        entry.slot.rooms.iter().map(|room| week.room_name(*room).to_owned()).collect();
    let mut parts = vec![list(&rooms), entry.title().to_owned()];
    if !entry.class.is_empty() {
        parts.insert(0, entry.class.clone());
    }
    parts.join(", ")
}

/// The class of an entry, or what is in its slot.
fn class(week: &Week, entry: EntryNo) -> String {
    week.entry(entry).map_or_else(String::new, |entry| {
        let of = if entry.class.is_empty() { entry.title() } else { &entry.class };
        of.to_owned()
    })
}

/// "10 + 8 = 18 electric whisks wanted, 10 there"; of one term without the sum.
pub(super) fn sum(week: &Week, clash: &Clash) -> String {
    let terms: Vec<String> = clash.by.iter().map(|(_, count)| count.to_string()).collect();
    let sum = if terms.len() > 1 { format!("{} = ", terms.join(" + ")) } else { String::new() };
    let wanted = clash.span.count as usize;
    let wanted = match clash.what {
        Thing::Moving(_) => so_many(wanted, &clash.what.name(week)),
        Thing::Ovens(room) => format!("{} of {}", counted(wanted, "oven"), week.room_name(room)),
        Thing::Adult(_) => format!("{wanted} × {}", clash.what.name(week)),
    };
    format!("{sum}{wanted} wanted, {} there", clash.there)
}

/// "8 electric whisks"; "40 × 18 cm sandwich tin", where figures would meet.
fn so_many(n: usize, name: &str) -> String {
    if name.starts_with(|c: char| c.is_ascii_digit()) {
        format!("{n} × {name}")
    } else {
        counted(n, name)
    }
}

/// What is not well, in a sentence.
pub(super) fn trouble(week: &Week, report: &Report, trouble: &Trouble) -> String {
    match trouble {
        Trouble::Clash(clash) => {
            let by = |(entry, count): &(EntryNo, u32)| format!("{} {count}", who(week, *entry));
            let by: Vec<String> = clash.by.iter().map(by).collect();
            format!(
                "{} {} to {}: {} ({})",
                clash.date.format("%A"),
                clash.span.from_clock(),
                clash.span.until_clock(),
                sum(week, clash),
                by.join("; ")
            )
        }
        Trouble::NotAllOut { entry, .. } => {
            let told = report.lessons.iter().find(|told| told.entry == *entry);
            let slot = week.entry(*entry).map_or_else(String::new, |e| {
                format!("{} {}", e.slot.date.format("%A"), e.slot.period())
            });
            let how = told.map_or_else(String::new, how_many_out);
            format!("{slot}: {}: {how}, even alone", who(week, *entry))
        }
        Trouble::SettingUp { date, .. } => {
            let setup = report.setting_up.iter().find(|setup| setup.date == *date);
            let lacking = setup.and_then(|setup| setup.lacking.as_ref());
            let lacking = lacking.map_or_else(String::new, |l| too_little(week, l));
            format!("{}{lacking}", date.format("%A"))
        }
    }
}

fn too_little(week: &Week, lacking: &TooLittleTime) -> String {
    let term = |(_, m): &(EntryNo, Minutes)| m.get().to_string();
    let terms: Vec<String> = lacking.by.iter().map(term).collect();
    let by = |(entry, m): &(EntryNo, Minutes)| format!("{} {}", who(week, *entry), m.get());
    let by: Vec<String> = lacking.by.iter().map(by).collect();
    let adult = week.who_sets_up().map_or("", |adult| adult.name.as_str());
    format!(
        " before {}: {} = {} of the {adult} wanted, {} there ({})",
        lacking.before,
        terms.join(" + "),
        minutes(lacking.wanted.get()),
        minutes(lacking.there.get()),
        by.join("; ")
    )
}

/// "all 10 groups out", "6 of 10 groups out".
pub(super) fn how_many_out(told: &Told) -> String {
    match &told.alone {
        None => "not planned".to_owned(),
        Some(alone) if alone.not_out() == 0 => {
            format!("all {} out", counted(alone.of() as usize, "group"))
        }
        Some(alone) => {
            format!("{} of {} out", alone.served(), counted(alone.of() as usize, "group"))
        }
    }
}

/// "needs 5 of 5 ovens; with one fewer 11 minutes late".
pub(super) fn ovens(told: &Told) -> Option<String> {
    let needs = told.needs?;
    let of = told.ovens.map_or_else(String::new, |there| format!(" of {there}"));
    let fewer = match (needs.late, needs.proved) {
        _ if needs.ovens == 0 => String::new(),
        (Some(late), true) => format!("; with one fewer {} late", minutes(late.get())),
        (Some(late), false) => {
            format!("; with one fewer no plan was found, the best {} late", minutes(late.get()))
        }
        (None, true) => "; with one fewer not all can be out".to_owned(),
        (None, false) => "; with one fewer no plan was found".to_owned(),
    };
    Some(format!("needs {}{of} ovens{fewer}", needs.ovens))
}

/// A move in a sentence.
pub(super) fn a_move(week: &Week, what: &Move) -> String {
    match what {
        Move::Swap(one, other) => {
            let (Some(a), Some(b)) = (week.entry(*one), week.entry(*other)) else {
                return String::new();
            };
            format!(
                "{} swaps what it bakes: {} on {}, {} on {}",
                class(week, *one),
                b.title(),
                day(a.slot.date),
                a.title(),
                day(b.slot.date)
            )
        }
        Move::Lend(lent) => {
            let name = Thing::Moving(lent.moving).name(week);
            let by = week.room_name(lent.by);
            format!("{by} lends {} for {}", so_many(lent.count as usize, &name), day(lent.on))
        }
        Move::Elsewhere(entry, to) => {
            let from =
                week.entry(*entry).map_or_else(String::new, |e| where_and_when(week, &e.slot));
            format!("{} moves to {} (from {from})", class(week, *entry), where_and_when(week, to))
        }
    }
}

/// What a move asks of others.
pub(super) fn asks(week: &Week, what: &Move) -> String {
    match what {
        Move::Swap(one, _) => format!("{} only; its orders change", class(week, *one)),
        Move::Lend(lent) => {
            format!("somebody carries them from {} and back", week.room_name(lent.by))
        }
        Move::Elsewhere(entry, _) => {
            format!("{}, who teaches it, and whoever makes the timetable", class(week, *entry))
        }
    }
}

/// What a move leaves that is not well on its days.
pub(super) fn then(week: &Week, offer: &Offer) -> String {
    if offer.not_all_out.is_empty() {
        return "all are out then".to_owned();
    }
    let left: Vec<String> = offer.not_all_out.iter().map(|e| class(week, *e)).collect();
    let are = if left.len() == 1 { "is" } else { "are" };
    format!("only {} {are} still not all out, as without it", list(&left))
}

/// What came of planning the lessons of a clash together.
pub(super) fn together(week: &Week, found: &Together) -> String {
    let of = counted(found.of as usize, "group");
    if found.is_enough {
        let when = |(entry, (from, until)): &(EntryNo, Stretch)| {
            format!("{} from {from} to {until}", class(week, *entry))
        };
        let when: Vec<String> = found.when.iter().map(when).collect();
        format!(
            "Planned together, with what is there, all {of} are out, if these are used by {}.",
            list(&when)
        )
    } else if found.at_most < found.of {
        format!("Planned together no plan gets more than {} of {of} out: proved.", found.at_most)
    } else {
        format!("Planned together the best plan found gets {} of {of} out.", found.served)
    }
}

/// How far was looked where no move, or few, were found.
pub(super) fn looked(moves: &Moves) -> String {
    let all = moves.tried == moves.of;
    let tried = match (moves.of, all) {
        (0, _) => "there was none to try".to_owned(),
        (of, true) => format!("all {} tried", counted(of, "move")),
        (of, false) => format!("{} of {} tried", moves.tried, counted(of, "move")),
    };
    match moves.offers.len() {
        0 => format!("No move was found that clears it: {tried}."),
        _ => format!("({tried})"),
    }
}

/// What is out of order and when.
pub(super) fn out(week: &Week, out: &crate::week::Out) -> String {
    let count = match out.what {
        Place::Oven(..) => String::new(),
        Place::Kit(..) | Place::Moving(_) => format!("{} × ", out.count),
    };
    let name = crate::week::name_of(week, &out.what);
    let when = if out.from == out.until {
        day(out.from)
    } else {
        format!("{} to {}", day(out.from), day(out.until))
    };
    format!("{count}{name} out of order, {when}")
}

/// When setting out must begin on a day.
pub(super) fn setting_up(week: &Week, setup: &Setup) -> String {
    let adult = week.who_sets_up().map_or("", |adult| adult.name.as_str());
    match (&setup.start_by, &setup.lacking) {
        (Some(start), _) => format!("{}: the {adult} starts by {start}", day(setup.date)),
        (None, Some(lacking)) => format!("{}{}", day(setup.date), too_little(week, lacking)),
        (None, None) => format!("{}: nothing to set out", day(setup.date)),
    }
}
