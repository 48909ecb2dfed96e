//! A week in sentences: how it stands, what is wanted twice, the moves that clear it.

use chrono::NaiveDate;

use crate::units::Minutes;
use crate::week::{
    Change, Clash, Entry, EntryNo, Move, Moves, Offer, Out, Place, Report, RoomNo, Setup, Slot,
    Stretch, Thing, Together, Told, ToldOf, TooLittleTime, Touched, Trouble, Week, What, name_of,
    where_and_when,
};
use crate::words::{capital, counted, list, minutes, number};

/// "Week of 30 November 2026", or the one day that is told of.
pub fn heading(week: &Week, day: Option<NaiveDate>) -> String {
    match (day, week.days.first()) {
        (Some(date), _) => date.format("%A %-d %B %Y").to_string(),
        (None, Some(first)) => format!("Week of {}", first.date.format("%-d %B %Y")),
        (None, None) => "Week".to_owned(),
    }
}

/// The title of what some lessons of a week have in common, and what there is to know of
/// them: how many they are, in which rooms.
pub fn title_of(week: &Week, of: ToldOf) -> (String, Vec<String>) {
    let here = week.entries.iter().filter(|e| of.is_of(e) && e.lesson().is_some());
    let here: Vec<&Entry> = here.collect();
    let title = match (of.entry, here.as_slice()) {
        (Some(_), [only]) => format!("{} {}", only.class, only.title()).trim().to_owned(),
        _ => heading(week, of.day),
    };
    let mut rooms: Vec<RoomNo> = here.iter().flat_map(|e| e.slot.rooms.clone()).collect();
    rooms.sort_unstable();
    rooms.dedup();
    let mut facts = vec![counted(here.len(), "lesson")];
    facts.extend(rooms.into_iter().map(|room| week.room_name(room).to_owned()));
    (title, facts)
}

/// How the week stands, in a sentence.
pub fn sentence(week: &Week, report: &Report) -> String {
    let is_lesson = |told: &&Told| {
        week.entry(told.entry).is_some_and(|e| !matches!(e.what, What::Booking { .. }))
    };
    let lessons: Vec<&Told> = report.lessons.iter().filter(is_lesson).collect();
    let well = lessons.iter().filter(|told| told.is_well(week)).count();
    let unread = week.left_aside_on(report.day);
    let fit = match lessons.len() + unread {
        0 => "there is no lesson".to_owned(),
        1 if well == 1 => "the one lesson fits".to_owned(),
        1 => "the one lesson does not fit".to_owned(),
        2 if well == 2 => "both lessons fit, each as if it were alone".to_owned(),
        n if well == n => format!("all {} fit, each as if it were alone", counted(n, "lesson")),
        n => format!("{well} of {} fit, each as if it were alone", counted(n, "lesson")),
    };
    let unread = match unread {
        0 => String::new(),
        1 => ", one could not be read".to_owned(),
        n => format!(", {} could not be read", number(n)),
    };
    let not_well = match report.moves.len() + week.twice(report.day).len() {
        0 => "nothing is wanted twice".to_owned(),
        1 => "one thing does not go well".to_owned(),
        n => format!("{} things do not go well", number(n)),
    };
    format!("{}{unread}; {not_well}.", capital(&fit))
}

/// "Thursday P3, 8A, Room 1, whisked sponge".
pub fn at(week: &Week, entry: EntryNo) -> String {
    week.entry(entry).map_or_else(String::new, |of| {
        format!("{} {}, {}", of.slot.date.format("%A"), of.slot.period(), who(week, entry))
    })
}

/// "Monday P4, 8B, Room 1, whisked sponge, 8 out instead of 10".
pub fn lost(week: &Week, of: &Touched) -> String {
    format!("{}, {} out instead of {}", at(week, of.entry), of.now, of.before)
}

/// What a change does, in a sentence.
pub fn a_change(week: &Week, change: &Change) -> String {
    let class_of = |entry| capital(&class(week, entry));
    match change {
        Change::Move(what) => a_move(week, what),
        Change::Out(what) => out(week, what),
        Change::Works(what) => format!("{} works again", name_of(week, &what.what)),
        Change::Hold(entry, true) => format!("{} stays where it is", class_of(*entry)),
        Change::Hold(entry, false) => format!("{} may move", class_of(*entry)),
        Change::Add(added) => format!("{} is put in", added.1.file),
        Change::Remove(entry) => format!("{} is taken out", class_of(*entry)),
    }
}

/// "Thursday 3 December".
pub fn day(date: NaiveDate) -> String {
    date.format("%A %-d %B").to_string()
}

/// "8A, Room 1, whisked sponge": who is meant by an entry.
pub fn who(week: &Week, entry: EntryNo) -> String {
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
pub fn sum(week: &Week, clash: &Clash) -> String {
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
pub fn trouble(week: &Week, report: &Report, trouble: &Trouble) -> String {
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

/// The same in a few words, without who is in it: "Thu 11:32 to 11:38: 18 electric
/// whisks wanted, 10 there".
pub fn trouble_in_short(week: &Week, report: &Report, trouble: &Trouble) -> String {
    match trouble {
        Trouble::Clash(clash) => {
            let sum = sum(week, clash);
            let sum = sum.split_once(" = ").map_or(sum.as_str(), |(_, sum)| sum);
            let (from, until) = (clash.span.from_clock(), clash.span.until_clock());
            format!("{} {from} to {until}: {sum}", clash.date.format("%a"))
        }
        Trouble::NotAllOut { entry, .. } => {
            let told = report.lessons.iter().find(|told| told.entry == *entry);
            let how = told.map_or_else(String::new, how_many_out);
            let when = week.entry(*entry).map_or_else(String::new, |e| {
                format!("{} {}", e.slot.date.format("%a"), e.slot.period())
            });
            format!("{when} {}: {how}, even alone", class(week, *entry))
        }
        Trouble::SettingUp { date, .. } => {
            let setup = report.setting_up.iter().find(|setup| setup.date == *date);
            let day = date.format("%a");
            match setup.and_then(|setup| setup.lacking.as_ref()) {
                Some(lacking) => format!("{day} {}", lacks(week, lacking)),
                None => day.to_string(),
            }
        }
    }
}

/// "before 09:00: 90 minutes of the technician wanted, 60 there".
fn lacks(week: &Week, lacking: &TooLittleTime) -> String {
    let adult = week.who_sets_up().map_or("", |adult| adult.name.as_str());
    format!(
        "before {}: {} of the {adult} wanted, {} there",
        lacking.before,
        minutes(lacking.wanted.get()),
        minutes(lacking.there.get())
    )
}

/// When setting out must begin on a day, in a few words.
pub fn setting_up_in_short(week: &Week, setup: &Setup) -> String {
    let adult = week.who_sets_up().map_or("", |adult| adult.name.as_str());
    let day = setup.date.format("%a");
    match (&setup.start_by, &setup.lacking) {
        (Some(start), _) => format!("{day}: the {adult} starts by {start}"),
        (None, Some(lacking)) => format!("{day} {}", lacks(week, lacking)),
        (None, None) => format!("{day}: nothing to set out"),
    }
}

fn too_little(week: &Week, lacking: &TooLittleTime) -> String {
    let term = |(_, m): &(EntryNo, Minutes)| m.get().to_string();
    let terms: Vec<String> = lacking.by.iter().map(term).collect();
    let sum = if terms.len() > 1 { format!("{} = ", terms.join(" + ")) } else { String::new() };
    let by = |(entry, m): &(EntryNo, Minutes)| format!("{} {}", who(week, *entry), m.get());
    let by: Vec<String> = lacking.by.iter().map(by).collect();
    let adult = week.who_sets_up().map_or("", |adult| adult.name.as_str());
    format!(
        " before {}: {sum}{} of the {adult} wanted, {} there ({})",
        lacking.before,
        minutes(lacking.wanted.get()),
        minutes(lacking.there.get()),
        by.join("; ")
    )
}

/// "all 10 groups out", "6 of 10 groups out".
pub fn how_many_out(told: &Told) -> String {
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
pub fn ovens(told: &Told) -> Option<String> {
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
pub fn a_move(week: &Week, what: &Move) -> String {
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
        Move::ChangePlaces(one, other) => {
            let (Some(a), Some(b)) = (week.entry(*one), week.entry(*other)) else {
                return String::new();
            };
            let to = |slot: &Slot| match a.slot.is_at_the_time_of(&b.slot) {
                true => rooms(week, slot),
                false => where_and_when(week, slot),
            };
            let (first, second) = (class(week, *one), class(week, *other));
            let what = change_what(week, what);
            format!(
                "{first} and {second} change {what}: {first} to {}, {second} to {}",
                to(&b.slot),
                to(&a.slot)
            )
        }
    }
}

/// What two lessons change: "rooms on Thursday P3", or "periods".
fn change_what(week: &Week, what: &Move) -> String {
    match what {
        Move::ChangePlaces(one, other) => match (week.entry(*one), week.entry(*other)) {
            (Some(a), Some(b)) if a.slot.is_at_the_time_of(&b.slot) => {
                format!("rooms on {} {}", a.slot.date.format("%A"), a.slot.period())
            }
            _ => "periods".to_owned(),
        },
        _ => String::new(),
    }
}

fn rooms(week: &Week, slot: &Slot) -> String {
    list(&slot.rooms.iter().map(|room| week.room_name(*room).to_owned()).collect::<Vec<_>>())
}

/// A move in a few words: what is new.
pub fn a_move_in_short(week: &Week, what: &Move) -> String {
    let on = |entry: EntryNo| {
        week.entry(entry).map_or_else(String::new, |e| e.slot.date.format("%a").to_string())
    };
    match what {
        Move::Swap(one, other) => {
            let bake = |entry: EntryNo| week.entry(entry).map_or("", |e| e.title());
            let (first, second) = (bake(*other), bake(*one));
            let class = class(week, *one);
            format!("{class} bakes {first} on {}, {second} on {}", on(*one), on(*other))
        }
        Move::Lend(lent) => {
            let name = so_many(lent.count as usize, &Thing::Moving(lent.moving).name(week));
            format!("{} lends {name} on {}", week.room_name(lent.by), lent.on.format("%a"))
        }
        Move::Elsewhere(entry, to) => {
            let (day, period) = (to.date.format("%a"), to.period());
            format!("{} moves to {day} {period}, {}", class(week, *entry), rooms(week, to))
        }
        Move::ChangePlaces(one, other) => {
            let (first, second) = (class(week, *one), class(week, *other));
            format!("{first} and {second} change {}", change_what(week, what))
        }
    }
}

/// What a move asks of others, in a few words.
pub fn asks_in_short(week: &Week, what: &Move) -> String {
    match what {
        Move::Swap(one, _) => format!("{} only", class(week, *one)),
        Move::Lend(_) => "carried".to_owned(),
        Move::Elsewhere(..) => match what.effort(week) {
            3 => "another period",
            4 => "another room",
            _ => "another day",
        }
        .to_owned(),
        Move::ChangePlaces(..) => match what.effort(week) {
            4 => "two rooms",
            _ => "two periods",
        }
        .to_owned(),
    }
}

/// What a move leaves in the week that is not well, in a few words.
pub fn then_in_short(week: &Week, offer: &Offer) -> String {
    match left(week, offer, "%a").as_slice() {
        [] => "all are out then".to_owned(),
        [one] => format!("{one} still not all out"),
        several => format!("{} still not all out", several.len()),
    }
}

/// Lessons that a move leaves with groups that are not out: a class may have several, so the
/// day is told, that to which it is moved.
fn left(week: &Week, offer: &Offer, day: &str) -> Vec<String> {
    let then = offer.what.made(week);
    let named = |&entry: &EntryNo| {
        let slot = then.as_ref().and_then(|then| then.entry(entry)).map(|e| &e.slot);
        let day = slot.map_or_else(String::new, |slot| format!(" {}", slot.date.format(day)));
        format!("{}{day}", class(week, entry))
    };
    offer.not_all_out.iter().map(named).collect()
}

/// What a move asks of others.
pub fn asks(week: &Week, what: &Move) -> String {
    match what {
        Move::Swap(one, _) => format!("{} only; its orders change", class(week, *one)),
        Move::Lend(lent) => {
            format!("somebody carries them from {} and back", week.room_name(lent.by))
        }
        Move::Elsewhere(entry, _) => {
            format!("{}, who teaches it, and whoever makes the timetable", class(week, *entry))
        }
        Move::ChangePlaces(one, other) => {
            let (first, second) = (class(week, *one), class(week, *other));
            format!("{first}, {second}, who teaches them, and whoever makes the timetable")
        }
    }
}

/// What a move leaves in the week that is not well.
pub fn then(week: &Week, offer: &Offer) -> String {
    let left = left(week, offer, "on %A");
    if left.is_empty() {
        return "all are out then".to_owned();
    }
    let are = if left.len() == 1 { "is" } else { "are" };
    format!("only {} {are} still not all out, as without it", list(&left))
}

/// What came of planning the lessons of a clash together.
pub fn together(week: &Week, found: &Together) -> String {
    let of = counted(found.of as usize, "group");
    if found.is_enough {
        let when = |(entry, (from, until)): &(EntryNo, Stretch)| {
            format!("{} from {from} to {until}", class(week, *entry))
        };
        let when: Vec<String> = found.when.iter().map(when).collect();
        format!(
            "Planned together, with what is there, all {of} are out: it is wanted then by {}.",
            list(&when)
        )
    } else if found.at_most < found.of {
        format!("Planned together no plan gets more than {} of {of} out: proved.", found.at_most)
    } else {
        format!("Planned together the best plan found gets {} of {of} out.", found.served)
    }
}

/// How far was looked where no move, or few, were found.
pub fn looked(moves: &Moves) -> String {
    let all = moves.tried == moves.of;
    let tried = match (moves.of, all) {
        (0, _) => "there was none to try".to_owned(),
        (of, true) => format!("all {} tried", counted(of, "move")),
        (of, false) => format!("{} of {} tried", moves.tried, counted(of, "move")),
    };
    match (moves.offers.len(), &moves.trouble) {
        (0, Trouble::NotAllOut { .. }) => format!(
            "No move was found that clears it: {tried}. Smaller tins or another method are looked \
             for in the lesson itself."
        ),
        (0, _) => format!("No move was found that clears it: {tried}."),
        _ => format!("({tried})"),
    }
}

/// What is out of order and when.
pub fn out(week: &Week, out: &Out) -> String {
    let count = match out.what {
        Place::Oven(..) => String::new(),
        Place::Kit(..) | Place::Moving(_) => format!("{} × ", out.count),
    };
    let name = name_of(week, &out.what);
    let when = if out.from == out.until {
        day(out.from)
    } else {
        format!("{} to {}", day(out.from), day(out.until))
    };
    format!("{count}{name} out of order, {when}")
}

/// When setting out must begin on a day.
pub fn setting_up(week: &Week, setup: &Setup) -> String {
    let adult = week.who_sets_up().map_or("", |adult| adult.name.as_str());
    match (&setup.start_by, &setup.lacking) {
        (Some(start), _) => format!("{}: the {adult} starts by {start}", day(setup.date)),
        (None, Some(lacking)) => format!("{}{}", day(setup.date), too_little(week, lacking)),
        (None, None) => format!("{}: nothing to set out", day(setup.date)),
    }
}
