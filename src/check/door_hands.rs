//! `door-hands`: few enough tins in one opening, and an adult standing by.

use super::breach::Breaches;
use super::fault::{DoorHandsFault, Unfit};
use super::span::{Span, to_minute, wide};
use super::view::{Opening, View};
use crate::model::{AtOvens, OvenId};
use crate::plan::{DoorWatch, Rule};

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    let mut openings: Vec<Vec<&Opening>> = vec![Vec::new(); view.lesson.ovens.len()];
    for opening in view.openings.iter().filter(|o| !o.span.is_empty()) {
        openings[opening.oven.0].push(opening);
    }
    let mut watches: Vec<Vec<&DoorWatch>> = vec![Vec::new(); view.lesson.ovens.len()];
    for watch in &view.plan.door_watches {
        watches[watch.oven.0].push(watch);
    }
    for (i, (openings, watches)) in openings.iter_mut().zip(&mut watches).enumerate() {
        openings.sort_by_key(|o| o.span);
        watches.sort_by_key(|w| (w.minute, w.adult));
        let oven = OvenId(i);
        moved(view, oven, openings, out);
        if view.lesson.rules.at_ovens == AtOvens::AtDoor {
            attended(oven, openings, watches, out);
        }
        for (n, watch) in watches.iter().enumerate() {
            suitable(view, watch, openings, out);
            if n > 0 && watches[n - 1] == *watch {
                let (adult, minute) = (watch.adult, watch.minute);
                let fault = DoorHandsFault::NamedTwice { adult, oven, minute };
                out.add(Rule::DoorHands, None, wide(watch.minute), fault);
            }
        }
    }
}

/// All groups together move no more tins in a minute than they may. Reports
/// the first minute of every run of minutes that has too many.
fn moved(view: &View<'_>, oven: OvenId, openings: &[&Opening], out: &mut Breaches) {
    let most = i64::from(view.lesson.rules.tins_per_opening.value);
    let mut changes: Vec<(i64, i64)> = Vec::new();
    for opening in openings {
        let minutes = opening.span.length();
        let tins = (opening.tins + minutes - 1) / minutes;
        changes.push((opening.span.start, tins));
        changes.push((opening.span.end, -tins));
    }
    changes.sort_unstable(); // at one minute, what ends comes first
    let (mut tins, mut next) = (0, 0);
    while next < changes.len() {
        let (minute, before) = (changes[next].0, tins);
        while next < changes.len() && changes[next].0 == minute {
            tins += changes[next].1;
            next += 1;
        }
        if tins > most && before <= most {
            let at = to_minute(minute);
            let fault = DoorHandsFault::TooManyTins { tins, oven, minute: at, most };
            out.add(Rule::DoorHands, None, minute, fault);
        }
    }
}

/// Every minute of every opening has an adult.
fn attended(oven: OvenId, openings: &[&Opening], watches: &[&DoorWatch], out: &mut Breaches) {
    let mut seen_to = i64::MIN;
    for opening in openings {
        let Span { start, end } = opening.span;
        let mut minute = start.max(seen_to);
        seen_to = seen_to.max(end);
        let from = watches.partition_point(|w| wide(w.minute) < minute);
        for watch in &watches[from..] {
            if wide(watch.minute) > minute {
                break;
            }
            if wide(watch.minute) == minute {
                minute += 1;
            }
        }
        if minute < end {
            let (group, at) = (opening.group, to_minute(minute));
            let fault = DoorHandsFault::NobodyThere { group, oven, minute: at };
            out.add(Rule::DoorHands, group, minute, fault);
        }
    }
}

/// Whether that adult can be at that door in that minute, and has cause to.
fn suitable(view: &View<'_>, watch: &DoorWatch, openings: &[&Opening], out: &mut Breaches) {
    let adult = &view.lesson.adults[watch.adult.0];
    let minute = Span { start: wide(watch.minute), end: wide(watch.minute) + 1 };
    let mut add = |why: Unfit| {
        let DoorWatch { oven, minute: at, adult } = *watch;
        let fault = DoorHandsFault::Unfit { adult, oven, minute: at, why };
        out.add(Rule::DoorHands, None, minute.start, fault);
    };
    if !adult.is_there(watch.minute) {
        add(Unfit::Away);
    }
    if adult.room.is_some_and(|r| r != view.lesson.ovens[watch.oven.0].room) {
        add(Unfit::OtherRoom);
    }
    // Of groups that are not whole the openings are not known.
    if !view.complete {
        return;
    }
    let mut moving = openings.iter().filter(|o| o.span.meets(minute)).peekable();
    if moving.peek().is_none() {
        add(Unfit::NobodyOpens);
    } else if let Some(own) = adult.attached_to
        && !moving.any(|o| o.group == own)
    {
        add(Unfit::ServesAlone(own));
    }
}
