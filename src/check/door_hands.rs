//! `door-hands`: few enough tins in one opening, and an adult standing by.

use super::rule::{Breaches, Rule};
use super::span::{Span, wide};
use super::view::{Opening, View, shown};
use crate::model::OvenId;
use crate::plan::DoorWatch;

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
        if view.lesson.rules.adult_at_doors {
            attended(view, oven, openings, watches, out);
        }
        for (n, watch) in watches.iter().enumerate() {
            suitable(view, watch, openings, out);
            if n > 0 && watches[n - 1] == *watch {
                let message = format!(
                    "{} is named twice at the door of {} at {}",
                    shown(&view.lesson.adults[watch.adult.0].name),
                    view.oven_name(oven),
                    watch.minute
                );
                out.add(Rule::DoorHands, None, wide(watch.minute), message);
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
            let message = format!(
                "{tins} tins go through the door of {} in minute {minute}; one opening moves {most}",
                view.oven_name(oven)
            );
            out.add(Rule::DoorHands, None, minute, message);
        }
    }
}

/// Every minute of every opening has an adult.
fn attended(
    view: &View<'_>,
    oven: OvenId,
    openings: &[&Opening],
    watches: &[&DoorWatch],
    out: &mut Breaches,
) {
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
            let message = format!(
                "{} opens the door of {} in minute {minute} and no adult is at it",
                view.group_name(opening.group),
                view.oven_name(oven)
            );
            out.add(Rule::DoorHands, opening.group, minute, message);
        }
    }
}

/// Whether that adult can be at that door in that minute, and has cause to.
fn suitable(view: &View<'_>, watch: &DoorWatch, openings: &[&Opening], out: &mut Breaches) {
    let adult = &view.lesson.adults[watch.adult.0];
    let minute = Span { start: wide(watch.minute), end: wide(watch.minute) + 1 };
    let mut add = |what: String| {
        let message = format!(
            "{} is to be at the door of {} at {}, but {what}",
            shown(&adult.name),
            view.oven_name(watch.oven),
            watch.minute
        );
        out.add(Rule::DoorHands, None, minute.start, message);
    };
    if !adult.is_there(watch.minute) {
        add("is not there then".into());
    }
    if adult.room.is_some_and(|r| r != view.lesson.ovens[watch.oven.0].room) {
        add("is in another room".into());
    }
    // Of groups that are not whole the openings are not known.
    if !view.complete {
        return;
    }
    let mut moving = openings.iter().filter(|o| o.span.meets(minute)).peekable();
    if moving.peek().is_none() {
        add("nobody opens it".into());
    } else if let Some(own) = adult.attached_to
        && !moving.any(|o| o.group == own)
    {
        add(format!("serves {} alone", view.group_name(own)));
    }
}
