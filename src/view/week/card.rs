//! What the cards of a week say.

use super::words::{
    day, how_many_out, lost, out, ovens, setting_up_in_short, together, trouble, who,
};
use chrono::NaiveDate;

use crate::check::Verdict;
use crate::view::rows::verdict_words;
use crate::week::{
    Change, Clash, EntryNo, Moves, Out, Place, Report, RoomNo, Thing, Told, Trouble, Week, What,
    ovens_of, where_and_when,
};
use crate::words::{capital, counted};

/// So many of the lessons that are tightest in ovens are told.
const TIGHTEST: usize = 5;

/// A clash or another trouble as a sum.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SumCard {
    /// "Electric whisk".
    pub title: String,
    /// "Thursday 3 December, 11:36 to 11:45".
    pub when: String,
    /// The terms: who, and how many.
    pub terms: Vec<(EntryNo, String, String)>,
    /// "wanted 18, there 10".
    pub total: String,
    /// What else there is to say, a paragraph each.
    pub more: Vec<String>,
}

/// The card of a trouble.
pub fn sum(week: &Week, report: &Report, moves: &Moves) -> SumCard {
    let more: Vec<String> = moves.together.iter().map(|found| together(week, found)).collect();
    match &moves.trouble {
        Trouble::Clash(clash) => {
            SumCard { more: and_alone(more, report, clash), ..of_clash(week, clash) }
        }
        Trouble::NotAllOut { entry, .. } => SumCard {
            title: "Not all are out".to_owned(),
            when: week.entry(*entry).map_or_else(String::new, |e| where_and_when(week, &e.slot)),
            terms: vec![(*entry, who(week, *entry), String::new())],
            total: report
                .lessons
                .iter()
                .find(|told| told.entry == *entry)
                .map_or_else(String::new, how_many_out),
            more: vec![
                "That is so even if no other lesson wants anything: its own card tells what it \
                 needs, and its own file why."
                    .to_owned(),
            ],
        },
        Trouble::SettingUp { date, .. } => {
            let setup = report.setting_up.iter().find(|setup| setup.date == *date);
            let lacking = setup.and_then(|setup| setup.lacking.as_ref());
            let adult = week.who_sets_up().map_or("", |adult| adult.name.as_str());
            let terms = lacking.into_iter().flat_map(|l| &l.by);
            SumCard {
                title: capital(adult),
                when: match lacking {
                    Some(l) => format!("{}, before {}", day(*date), l.before),
                    None => day(*date),
                },
                terms: terms
                    .map(|(entry, m)| (*entry, who(week, *entry), format!("{} min", m.get())))
                    .collect(),
                total: lacking.map_or_else(String::new, |l| {
                    format!("wanted {} min, there {}", l.wanted.get(), l.there.get())
                }),
                more: vec![
                    "What is set out before a bell, one group's after another's, at the minutes \
                     of the plan. Whoever is quicker has more time."
                        .to_owned(),
                ],
            }
        }
    }
}

fn of_clash(week: &Week, clash: &Clash) -> SumCard {
    let title = match clash.what {
        Thing::Ovens(room) => format!("Ovens of {}", week.room_name(room)),
        Thing::Moving(_) | Thing::Adult(_) => capital(&clash.what.name(week)),
    };
    let term = |(entry, count): &(EntryNo, u32)| (*entry, who(week, *entry), count.to_string());
    SumCard {
        title,
        when: format!(
            "{}, {} to {}",
            day(clash.date),
            clash.span.from_clock(),
            clash.span.until_clock()
        ),
        terms: clash.by.iter().map(term).collect(),
        total: format!("wanted {}, there {}", clash.span.count, clash.there),
        more: Vec::new(),
    }
}

/// Whether each of a clash fits by itself.
fn and_alone(mut more: Vec<String>, report: &Report, clash: &Clash) -> Vec<String> {
    let alone = |(entry, _): &(EntryNo, u32)| {
        report.lessons.iter().any(|told| {
            told.entry == *entry && told.alone.as_ref().is_none_or(|alone| alone.not_out() == 0)
        })
    };
    if clash.by.len() > 1 && clash.by.iter().all(alone) {
        more.push("Each alone fits.".to_owned());
    }
    more
}

/// The card of a lesson or a booking.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EntryCard {
    /// The class, or what is in it.
    pub title: String,
    /// What is baked, when and where.
    pub under: String,
    /// Its verdict alone, once it is planned.
    pub verdict: Option<Verdict>,
    /// Names and what they hold.
    pub lines: Vec<(&'static str, String)>,
    /// It is a lesson whose file can be opened.
    pub opens: bool,
    /// It stays where it is; `None` of a booking.
    pub held: Option<bool>,
}

/// The card of an entry.
pub fn entry(week: &Week, report: Option<&Report>, number: EntryNo) -> Option<EntryCard> {
    let of = week.entry(number)?;
    let told: Option<&Told> =
        report.and_then(|report| report.lessons.iter().find(|told| told.entry == number));
    let slot = &of.slot;
    let mut lines = vec![
        ("When", format!("{}, {}", day(slot.date), slot.period())),
        ("Bells", format!("{} to {}", slot.start(), slot.end())),
        ("Where", where_only(week, of)),
    ];
    if let Some(adult) = &of.adult {
        lines.push(("Taught by", adult.clone()));
    }
    let verdict = told.and_then(Told::verdict);
    match (&of.what, told, verdict) {
        (What::Booking { .. }, _, _) => {}
        (What::Unplanned(_), _, _) => {
            lines.push(("Plan", "it cannot be planned: see what is wrong in the file".to_owned()));
        }
        (What::Lesson(_), Some(told), Some(verdict)) => {
            let alone = format!("{}, {}", verdict_words(verdict), how_many_out(told));
            lines.push(("Alone", alone));
            lines.extend(ovens(told).map(|words| ("Ovens", words)));
        }
        (What::Lesson(_), _, _) => lines.push(("Alone", "not planned yet".to_owned())),
    }
    let is_lesson = of.lesson().is_some();
    let title = if of.class.is_empty() { of.title() } else { &of.class };
    Some(EntryCard {
        title: title.to_owned(),
        under: if of.class.is_empty() { String::new() } else { of.title().to_owned() },
        verdict,
        lines,
        opens: is_lesson,
        held: is_lesson.then_some(of.held),
    })
}

fn where_only(week: &Week, of: &crate::week::Entry) -> String {
    let rooms: Vec<String> =
        of.slot.rooms.iter().map(|room| week.room_name(*room).to_owned()).collect();
    crate::words::list(&rooms)
}

/// An oven on the card of its room.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OvenLine {
    /// Its name.
    pub name: String,
    /// What it is.
    pub place: Place,
    /// What is out of order of it in the week's file, and that in words.
    pub out: Vec<(Out, String)>,
    /// The room itself says that it does not work.
    pub for_good: bool,
}

/// The card of a room.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RoomCard {
    /// Its name.
    pub title: String,
    /// "5 ovens".
    pub under: String,
    /// Its ovens.
    pub ovens: Vec<OvenLine>,
}

/// The card of a room.
pub fn room(week: &Week, number: RoomNo) -> Option<RoomCard> {
    let shape = week.rooms.get(number.0)?;
    let names = ovens_of(week, number);
    let line = |name: &String| {
        let place = Place::Oven(number, name.clone());
        let of_it = week.out.iter().filter(|o| o.what == place);
        OvenLine {
            name: name.clone(),
            out: of_it.map(|o| (o.clone(), stretch(o))).collect(),
            for_good: shape.out_of_order.contains(name),
            place,
        }
    };
    Some(RoomCard {
        title: week.room_name(number).to_owned(),
        under: match names.len() {
            0 => "The week does not say which ovens it has.".to_owned(),
            n => counted(n, "oven"),
        },
        ovens: names.iter().map(line).collect(),
    })
}

/// "out until Wednesday", "out on Monday".
fn stretch(out: &Out) -> String {
    if out.from == out.until {
        format!("out on {}", out.from.format("%A"))
    } else {
        format!("out {} to {}", out.from.format("%A"), out.until.format("%A"))
    }
}

/// Lessons that are tightest in ovens, the tightest first: which, its name, how many
/// ovens it needs of how many, and what one fewer comes to.
pub fn tightest(
    week: &Week,
    report: &Report,
    day: Option<NaiveDate>,
) -> Vec<(EntryNo, String, String, String)> {
    let line = |told: &&Told| {
        let of = week.entry(told.entry).filter(|of| day.is_none_or(|day| of.slot.date == day))?;
        let needs = told.needs?;
        let name = format!(
            "{} {} {} {}",
            of.slot.date.format("%a"),
            of.slot.period(),
            of.class,
            of.title()
        );
        let of = told.ovens.map_or_else(String::new, |there| format!(" of {there}"));
        let figure = format!("{}{of}", needs.ovens);
        let fewer = match (needs.late, needs.proved) {
            _ if needs.ovens == 0 => String::new(),
            (Some(late), _) => format!("one fewer: {} min over", late.get()),
            (None, true) => "one fewer: not all are out".to_owned(),
            (None, false) => "one fewer: no plan was found".to_owned(),
        };
        Some((told.entry, name, figure, fewer))
    };
    report.tightest().iter().filter_map(line).take(TIGHTEST).collect()
}

/// What comes of what is out of order, a paragraph each: what it is, and which lessons
/// lose by it.
pub fn broken(week: &Week, report: &Report) -> Vec<(String, Vec<(EntryNo, String)>)> {
    let one = |of: &crate::week::Consequence| {
        let lines = of.breaks.iter().map(|t| (t.entry, lost(week, t)));
        (out(week, &of.out), lines.collect())
    };
    report.broken.iter().map(one).collect()
}

/// When setting out begins, day by day.
pub fn setting_out(week: &Week, report: &Report, day: Option<NaiveDate>) -> Vec<String> {
    let all = report.setting_up.iter().filter(|setup| day.is_none_or(|day| setup.date == day));
    all.map(|setup| setting_up_in_short(week, setup)).collect()
}

/// What a tried change comes to beside the week as it stands: what is cleared, what is
/// left, what is new; a sentence each.
pub fn comes_to(
    (week, before): (&Week, &Report),
    (then, after): (&Week, &Report),
    change: &Change,
) -> Vec<String> {
    let ids = |report: &Report| -> Vec<super::TroubleId> {
        report.moves.iter().map(|moves| super::TroubleId::of(&moves.trouble)).collect()
    };
    let (old, new) = (ids(before), ids(after));
    let told = |week: &Week, report: &Report, id: super::TroubleId| {
        id.among(report).map(|moves| trouble(week, report, &moves.trouble))
    };
    let mut all = Vec::new();
    if let Change::Out(what) | Change::Works(what) = change {
        let of = after.broken.iter().find(|of| of.out == *what);
        if let Some(of) = of {
            all.extend(of.breaks.iter().map(|t| format!("Breaks {}.", lost(then, t))));
            if of.breaks.is_empty() {
                all.push("Breaks no lesson.".to_owned());
            }
        }
    }
    for id in old.iter().filter(|id| !new.contains(id)) {
        all.extend(told(week, before, *id).map(|words| format!("Cleared: {words}.")));
    }
    for id in new.iter().filter(|id| !old.contains(id)) {
        // What breaks is told already.
        let is_told = matches!((change, id), (Change::Out(_), super::TroubleId::NotAllOut(_)));
        let told = told(then, after, *id).filter(|_| !is_told);
        all.extend(told.map(|words| format!("New: {words}.")));
    }
    let left = new.iter().filter(|id| old.contains(id)).count();
    all.push(match (left, new.len()) {
        (_, 0) => "Then nothing is wanted twice and all are out.".to_owned(),
        (0, _) => "Of what did not go well nothing is left.".to_owned(),
        (1, _) => "One thing that did not go well is left as it was.".to_owned(),
        (n, _) => format!(
            "{} things that did not go well are left as they were.",
            capital(&crate::words::number(n))
        ),
    });
    all
}
