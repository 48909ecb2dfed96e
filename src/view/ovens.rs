//! Ovens along the clock: shelves as lanes, temperature as a line, and how
//! full they are.

use super::board::{Bar, BarId, Work};
use super::held::held_of;
use super::words::{clock, shelf};
use crate::check::CheckedPlan;
use crate::model::{GasMark, Lesson, Oven, OvenId, OvenKind, ShelfId};
use crate::plan::{Load, OvenSetting};
use crate::units::Minute;

/// An oven on the board.
#[derive(Debug, Clone, PartialEq)]
pub struct OvenLane {
    /// Which.
    pub oven: OvenId,
    /// Its name.
    pub name: String,
    /// "160 °C fan", "not needed", "out of order".
    pub state: String,
    /// It is out of order.
    pub out_of_order: bool,
    /// Tins on each shelf, from the top.
    pub shelves: Vec<Vec<Bar>>,
    /// Corners of the temperature line: minute and share of the highest
    /// temperature any oven has, from 0 to 1.
    pub temperature: Vec<(Minute, f32)>,
    /// When it is fullest: from, until, how many tins.
    pub fullest: Option<(Minute, Minute, usize)>,
    /// What a screen reader says.
    pub spoken: String,
}

/// The lanes of all ovens.
pub fn oven_lanes(lesson: &Lesson, plan: &CheckedPlan) -> Vec<OvenLane> {
    let highest = plan.plan().settings.iter().map(|s| s.celsius.get()).fold(1.0, f64::max);
    (0..lesson.ovens.len()).map(|o| lane(lesson, plan, OvenId(o), highest)).collect()
}

/// "160 °C fan", "gas mark 5".
pub fn dial_words(oven: &Oven, celsius: crate::units::Celsius) -> String {
    let dial = oven.dial(celsius);
    match oven.kind {
        OvenKind::Gas => format!("gas mark {}", GasMark::nearest(dial)),
        OvenKind::Fan => format!("{dial:.0} °C fan"),
        OvenKind::Conventional => format!("{dial:.0} °C"),
    }
}

fn lane(lesson: &Lesson, plan: &CheckedPlan, id: OvenId, highest: f64) -> OvenLane {
    let oven = &lesson.ovens[id.0];
    let settings: Vec<&OvenSetting> =
        plan.plan().settings.iter().filter(|s| s.oven == id).collect();
    let state = if oven.out_of_order {
        "out of order".to_owned()
    } else if let Some(from) = oven.out_from {
        format!("out of order from {}", clock(lesson, from))
    } else if settings.is_empty() {
        "not needed".to_owned()
    } else {
        let dials: Vec<String> = settings.iter().map(|s| dial_words(oven, s.celsius)).collect();
        dials.join(", then ")
    };
    let shelves =
        (0..oven.shelves.len()).map(|s| tins(lesson, plan, id, ShelfId(s))).collect::<Vec<_>>();
    let fullest = fullest(plan, id);
    let full = fullest.map_or(String::new(), |(from, until, tins)| {
        let tins = if tins == 1 { "1 tin".to_owned() } else { format!("{tins} tins") };
        format!(", fullest {} to {}: {tins}", clock(lesson, from), clock(lesson, until))
    });
    OvenLane {
        oven: id,
        name: oven.name.clone(),
        spoken: format!("{}, {state}{full}", oven.name),
        state,
        out_of_order: oven.out_of_order,
        shelves,
        temperature: line(&settings, highest),
        fullest,
    }
}

fn tins(lesson: &Lesson, plan: &CheckedPlan, oven: OvenId, shelf_id: ShelfId) -> Vec<Bar> {
    let of = lesson.ovens[oven.0].shelves.len();
    let on_shelf = |l: &&Load| l.oven == oven && l.shelf == shelf_id;
    let mut loads: Vec<&Load> = plan.plan().loads.iter().filter(on_shelf).collect();
    loads.sort_by_key(|l| (l.start, l.place));
    // A group's tins on one shelf are one bar.
    let mut together: Vec<(&Load, usize)> = Vec::new();
    for load in loads {
        match together.iter_mut().find(|(first, _)| first.group == load.group) {
            Some((_, tins)) => *tins += 1,
            None => together.push((load, 1)),
        }
    }
    let mut lanes = super::lanes::Lanes::default();
    together
        .into_iter()
        .map(|(l, tins)| {
            let group = &lesson.group(l.group).name;
            let several = if tins > 1 { format!(", {tins} tins") } else { String::new() };
            let held = held_of(lesson, plan, l.group).oven;
            let spoken = format!(
                "{}, {}, {group}{several}, {} to {}{}",
                lesson.ovens[oven.0].name,
                shelf(shelf_id.0, of),
                clock(lesson, l.start),
                clock(lesson, l.end),
                if held { ", held" } else { "" }
            );
            Bar {
                id: BarId::Tin(l.group, l.number),
                work: Work::Bake,
                from: l.start,
                until: l.end,
                lane: lanes.take(0, l.start, l.end),
                held,
                label: if tins > 1 { format!("{group} ×{tins}") } else { group.clone() },
                spoken,
            }
        })
        .collect()
}

/// Climbs from cold while it warms up, level while it is kept hot.
#[allow(clippy::cast_possible_truncation)] // a share from 0 to 1
fn line(settings: &[&OvenSetting], highest: f64) -> Vec<(Minute, f32)> {
    let share = |s: &OvenSetting| (s.celsius.get() / highest) as f32;
    let mut corners = Vec::new();
    let mut level = 0.0;
    for s in settings {
        corners.push((s.set_at, level));
        level = share(s);
        corners.push((s.hot_from, level));
        corners.push((s.until, level));
    }
    corners
}

/// The first stretch in which most tins stand in it.
fn fullest(plan: &CheckedPlan, oven: OvenId) -> Option<(Minute, Minute, usize)> {
    let loads: Vec<&Load> = plan.plan().loads.iter().filter(|l| l.oven == oven).collect();
    let tins_at =
        |minute: Minute| loads.iter().filter(|l| l.start <= minute && minute < l.end).count();
    let mut changes: Vec<Minute> = loads.iter().flat_map(|l| [l.start, l.end]).collect();
    changes.sort_unstable();
    changes.dedup();
    let most = changes.iter().map(|&m| tins_at(m)).max().filter(|&n| n > 0)?;
    let first = changes.iter().position(|&m| tins_at(m) == most)?;
    let until = changes[first..].iter().find(|&&m| tins_at(m) < most)?;
    Some((changes[first], *until, most))
}

/// The oven with most tin minutes, and those minutes.
pub fn fullest_oven(plan: &CheckedPlan) -> Option<(OvenId, i64)> {
    let mut minutes: std::collections::BTreeMap<OvenId, i64> = std::collections::BTreeMap::new();
    for load in &plan.plan().loads {
        *minutes.entry(load.oven).or_insert(0) += i64::from((load.end - load.start).get());
    }
    minutes.into_iter().rev().max_by_key(|&(_, m)| m)
}
