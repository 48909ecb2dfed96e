//! Sums a teacher can check, and the sentence that goes with each.

use super::paper::choice_name;
use crate::graph::problem::{GroupTask, PoolOf};
use crate::model::{Lesson, Phase, RoomId};
use crate::planner::bounds::{Bounder, ChainBound, Pace, ShareBound, ShareOf, TurnBound};
use crate::units::{Minutes, plain_number};
use crate::words::{capital, counted, list, number, plural};

/// A sum and its sentence.
pub(super) type SumTold = (String, String);

/// "even at the quickest", "at the usual pace".
pub(in crate::planner) fn at_pace(lesson: &Lesson, pace: Pace) -> &'static str {
    match pace {
        Pace::Quick => "even at the quickest",
        Pace::Planned if lesson.rules.caution > 0.0 => "at the planned pace",
        Pace::Planned => "at the usual pace",
    }
}

/// Minutes from a period's start bell by the clock, cut to the minute.
#[allow(clippy::cast_possible_truncation)] // minutes of a day
pub(super) fn clock(lesson: &Lesson, period: usize, minutes: f64) -> String {
    let minutes = Minutes::new((minutes + 1e-6).floor() as i32);
    lesson.periods[period].start_clock.after(minutes).to_string()
}

/// "five minutes", "1.5 minutes", "one minute".
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // minutes of a day
fn in_minutes(minutes: f64) -> String {
    let whole = (minutes - minutes.round()).abs() < 1e-6;
    match minutes.round() as usize {
        1 if whole => "one minute".to_owned(),
        n if whole => format!("{} minutes", number(n)),
        _ => format!("{} minutes", plain_number(minutes)),
    }
}

/// "register 1 + weigh 3 = 4".
fn added(terms: &[(String, f64)], total: f64) -> String {
    let terms: Vec<String> =
        terms.iter().map(|(name, minutes)| format!("{name} {}", plain_number(*minutes))).collect();
    if terms.is_empty() {
        return plain_number(total);
    }
    format!("{} = {}", terms.join(" + "), plain_number(total))
}

/// A group's own steps, one after the other. With the total at the quickest,
/// which is told beside one at planned minutes.
pub(super) fn chain(
    bounder: Bounder<'_>,
    group: &GroupTask,
    bound: &ChainBound,
    (pace, at_best): (Pace, Option<f64>),
) -> SumTold {
    let choice = &group.options[bound.choice];
    let mut terms = Vec::new();
    if bound.opening > 0.0 {
        terms = bounder.class_steps(group.period, Phase::Opening, pace);
    }
    terms.extend(bounder.steps(group, choice, &bound.chain));
    terms.extend(bounder.class_steps(group.period, Phase::Closing, pace));
    let ends = match (terms.first(), terms.last()) {
        (Some((first, _)), Some((last, _))) if first != last => format!(" from {first} to {last}"),
        _ => String::new(),
    };
    let only = match group.options.len() {
        1 => String::new(),
        _ => format!(", with {}, the quickest choice,", choice_name(bounder, group, choice)),
    };
    let beyond = match (pace, at_best) {
        (Pace::Planned, Some(quick)) => format!(
            " At the quickest it would be {}: it could be done only if everything went as fast as \
             it can.",
            plain_number(quick)
        ),
        _ => String::new(),
    };
    let sentence = format!(
        "{pace}{only} the steps{ends} need {total} minutes, and the lesson has {length}. Each \
         waits for the one before, so no other oven, helper or order changes that.{beyond}",
        pace = capital(at_pace(bounder.lesson, pace)),
        total = plain_number(bound.total()),
        length = plain_number(bound.length),
    );
    (added(&terms, bound.total()), sentence)
}

/// " in Room 2" of things all kept there, where the lesson has other rooms.
pub(super) fn in_room(lesson: &Lesson, kept: impl IntoIterator<Item = PoolOf>) -> String {
    let room = |of: PoolOf| -> Option<RoomId> {
        match of {
            PoolOf::Kit(pool) => lesson.kit_pools[pool.0].room,
            PoolOf::Tin(_, room) => Some(room),
            PoolOf::Adult(_) => None,
        }
    };
    let mut rooms = kept.into_iter().map(room);
    match rooms.next().flatten() {
        Some(first) if lesson.rooms.len() > 1 && rooms.all(|r| r == Some(first)) => {
            format!(" in {}", lesson.rooms[first.0].name)
        }
        _ => String::new(),
    }
}

/// "; at the usual pace, eight" behind what holds at the quickest, where fewer
/// of the same groups are served as planned.
fn as_usual(lesson: &Lesson, pace: Pace, most: usize, as_planned: Option<usize>) -> String {
    match as_planned {
        Some(fewer) if pace == Pace::Quick && fewer < most => {
            format!("; {}, {}", at_pace(lesson, Pace::Planned), number(fewer))
        }
        _ => String::new(),
    }
}

/// Shelf places against turns. With how many of the same groups are served at
/// most as planned, where that is known.
pub(super) fn turns(
    bounder: Bounder<'_>,
    bound: &TurnBound,
    pace: Pace,
    as_planned: Option<usize>,
) -> SumTold {
    let Some(turns) = bound.turns(bound.groups) else {
        let places = counted(bound.places, "shelf place");
        let tins = bound.tins;
        let sentence = if bound.by_batch {
            "Not one whole batch stands in the ovens at one time: none can bake.".to_owned()
        } else {
            format!(
                "There are {places} in all, and a batch wants {tins} at one time: none can bake."
            )
        };
        return (String::new(), sentence);
    };
    let take_out = Some(("take out".to_owned(), bound.doors.1)).filter(|t| t.1 > 0.0);
    let mut after: Vec<(String, f64)> = take_out.into_iter().collect();
    after.extend(bound.after.iter().cloned());
    after.extend(bounder.class_steps(bound.until, Phase::Closing, pace));
    let way = Way::of(bound, turns);
    let sum = turn_sum(bound, turns, &way, &after);
    let lesson = bounder.lesson;
    let names: Vec<String> = after.iter().skip(1).map(|(name, _)| name.clone()).collect();
    let period = bound.from;
    let end = clock(lesson, period, way.total);
    let most = bound.at_most();
    let then = match names.len() {
        0 => String::new(),
        1 => format!("; {} then lasts until {end}", names[0]),
        _ => format!("; {} then last until {end}", list(&names)),
    };
    let sentence = format!(
        "{hold} {paced} the first goes in at about {first} and a turn takes {turn}, in and out \
         included, so the last comes out at about {out}{then}, {late} after the bell. \
         {paced} no more than {most} of them {are} out in time{usual}.",
        hold = hold(bound, turns),
        first = clock(lesson, period, way.loaded),
        turn = in_minutes(bound.turn),
        out = clock(lesson, period, way.out),
        paced = capital(at_pace(lesson, pace)),
        are = if most == 1 { "is" } else { "are" },
        late = in_minutes(way.total - bound.length),
        usual = as_usual(lesson, pace, most, as_planned),
        most = number(most),
    );
    (sum, sentence)
}

/// Minutes from the start bell.
struct Way {
    /// The first is in.
    loaded: f64,
    /// The last is in.
    last_in: f64,
    /// The last is done.
    out: f64,
    total: f64,
}

impl Way {
    #[allow(clippy::cast_precision_loss)] // a few turns
    fn of(bound: &TurnBound, turns: usize) -> Self {
        let loaded = bound.first_in + bound.doors.0;
        Self {
            loaded,
            last_in: loaded + (turns - 1) as f64 * bound.turn,
            out: bound.first_in + turns as f64 * bound.turn - bound.doors.1,
            total: bound.total(bound.groups),
        }
    }
}

/// "Four shelf places and twenty batches make five turns." "Six batches stand in
/// the ovens at one time, so twenty batches make four turns."
fn hold(bound: &TurnBound, turns: usize) -> String {
    let named = |n: usize, thing: &str| format!("{} {}", number(n), plural(n, thing));
    let batches = named(bound.groups, "batch");
    let turns = named(turns, "turn");
    if bound.by_batch {
        let stand = if bound.places == 1 { "stands" } else { "stand" };
        let places = capital(&named(bound.places, "batch"));
        return format!("{places} {stand} in the ovens at one time, so {batches} make {turns}.");
    }
    let places = capital(&named(bound.places, "shelf place"));
    if bound.tins == 1 {
        return format!("{places} and {batches} make {turns}.");
    }
    let at_once = named(bound.per_turn(), "batch");
    format!(
        "{places} hold {at_once} of {tins} tins at one time, so {batches} make {turns}.",
        tins = number(bound.tins)
    )
}

fn turn_sum(bound: &TurnBound, turns: usize, way: &Way, after: &[(String, f64)]) -> String {
    let mut before = bound.before.clone();
    before.extend(Some(("load".to_owned(), bound.doors.0)).filter(|t| t.1 > 0.0));
    let places = if bound.by_batch {
        format!(", {} at one time", bound.places)
    } else {
        format!(" in {}", counted(bound.places, "shelf place"))
    };
    format!(
        "{batches}{places}: {in_turns}; {first}; {loaded} + {more} x {turn} = {last_in}; \
         {last_in} + bake {bake} = {out}; {out} + {rest}, of {length}",
        batches = counted(bound.groups, "batch"),
        in_turns = counted(turns, "turn"),
        first = added(&before, way.loaded),
        loaded = plain_number(way.loaded),
        more = turns - 1,
        turn = plain_number(bound.turn),
        last_in = plain_number(way.last_in),
        bake = plain_number(way.out - way.last_in),
        out = plain_number(way.out),
        rest = added(after, way.total),
        length = plain_number(bound.length),
    )
}

/// Something counted against the time in which it is of use.
#[allow(clippy::cast_precision_loss)] // a few hundred
pub(super) fn share(
    bounder: Bounder<'_>,
    bound: &ShareBound,
    pace: Pace,
    as_planned: Option<usize>,
) -> SumTold {
    let lesson = bounder.lesson;
    let there = match bound.of {
        ShareOf::Kit(kit) => {
            let kept = bound.kept.iter().map(|&p| bounder.problem.pools[p].of);
            let name = &lesson.kit_kinds[kit.0].name;
            format!("{}{}", counted(bound.there, name), in_room(lesson, kept))
        }
        ShareOf::Adults => counted(bound.there, "adult"),
        ShareOf::Places => counted(bound.there, "shelf place"),
        ShareOf::Batches => {
            let places = counted(bound.there, "batch");
            format!("ovens that hold {places} at one time")
        }
    };
    let wanted: usize = bound.meets.iter().sum();
    let groups = bound.groups.len();
    let each = bound.room() / bound.there.max(1);
    // Whole stretches of such a length fit into uses and into the time there
    // is; of a minute or a half they are minutes.
    let (sum, room, needed) = if bound.spacing <= 1.0 {
        let minutes = |n: usize| plain_number(n as f64 * bound.spacing);
        (
            format!(
                "{there} x {} minutes = {}, {} needed",
                minutes(each),
                minutes(bound.room()),
                minutes(wanted)
            ),
            format!("{} minutes of use", minutes(bound.room())),
            minutes(wanted),
        )
    } else {
        let spacing = plain_number(bound.spacing);
        (
            format!(
                "{there} x {} = {} of {spacing} minutes, {wanted} needed",
                counted(each, "stretch"),
                bound.room()
            ),
            format!("{} of {spacing} minutes", counted(bound.room(), "stretch")),
            wanted.to_string(),
        )
    };
    let sentence = format!(
        "{pace} {there} can be used only between {first}, when the first group comes to it, and \
         {last}, if the rest is to be done by the bell: room for {room}, and the {groups} groups \
         need {needed}. That is enough for {most} of them{usual}.",
        pace = capital(at_pace(lesson, pace)),
        first = clock(lesson, bound.from, bound.first),
        last = clock(lesson, bound.from, bound.last),
        groups = number(groups),
        usual = as_usual(lesson, pace, bound.at_most(), as_planned),
        most = number(bound.at_most()),
    );
    (sum, sentence)
}
