//! `one-oven`, `temperature` and `warm-up`: where tins bake and how hot.

use super::rule::{Breaches, Rule};
use super::span::{Span, wide};
use super::view::{Served, View};
use crate::model::OvenId;
use crate::plan::{Load, OvenSetting};
use crate::units::Minute;

/// What a difference of temperatures is forgiven, in kelvins.
const DUST: f64 = 1e-6;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    for group in &view.served {
        one_oven(view, group, out);
        for load in &group.loads {
            tolerance(view, group, load, out);
        }
    }
    let settings = by_oven(view);
    for (i, settings) in settings.iter().enumerate() {
        warm_up(view, OvenId(i), settings, out);
    }
    for load in &view.plan.loads {
        hot_enough(view, load, &settings[load.oven.0], out);
    }
}

fn span(load: &Load) -> Span {
    Span::of(load.start, load.end)
}

/// "Unit 3's tin 2".
fn whose(view: &View<'_>, load: &Load) -> String {
    format!("tin {} of {}", u64::from(load.number) + 1, view.group_name(load.group))
}

/// Each tin is loaded once, in an oven the group may use, from the start of
/// loading to the end of taking out.
fn one_oven(view: &View<'_>, group: &Served<'_>, out: &mut Breaches) {
    let steps = group.method.bake_steps();
    let tins = steps.and(group.tin).map_or(0, |t| t.count);
    let mut numbers: Vec<u32> = group.loads.iter().map(|l| l.number).collect();
    numbers.sort_unstable();
    let listed = numbers.len();
    numbers.dedup();
    let mut add = |minute: Option<i64>, message: String| {
        out.add(Rule::OneOven, group.id, minute, message);
    };
    if numbers.len() != listed {
        add(None, format!("{}: a tin is loaded more than once", group.name()));
    }
    numbers.retain(|&n| n < tins);
    if u32::try_from(numbers.len()).is_ok_and(|n| n < tins) {
        let placed = numbers.len();
        add(None, format!("{}: {placed} of its {tins} tins are loaded", group.name()));
    }
    for load in &group.loads {
        let (whose, oven) = (whose(view, load), view.oven_name(load.oven));
        let start = wide(load.start);
        if load.number >= tins {
            add(Some(start), format!("{whose} is in {oven}; the group has {tins} tins"));
        }
        if !view.lesson.may_use_oven(group.id, load.oven) {
            add(Some(start), format!("{whose} is in {oven}, which is not its to use or broken"));
        }
        if let Some((first, _, last)) = steps {
            let wanted = Span { start: group.span(first).start, end: group.span(last).end };
            if span(load) != wanted {
                let is = span(load);
                add(
                    Some(start),
                    format!(
                        "{whose} stands in {oven} {is}; from loading to taking out is {wanted}"
                    ),
                );
            }
        }
    }
}

/// The temperature is near enough to the tin's own.
fn tolerance(view: &View<'_>, group: &Served<'_>, load: &Load, out: &mut Breaches) {
    let Some(tin) = group.tin else {
        return;
    };
    let tolerance = group.recipe.bake.tolerance;
    if (load.celsius - tin.celsius).get().abs() > tolerance.get() + DUST {
        let message = format!(
            "{} bakes at {}; its recipe wants {}, give or take {tolerance}",
            whose(view, load),
            load.celsius,
            tin.celsius
        );
        out.add(Rule::Temperature, group.id, wide(load.start), message);
    }
}

fn by_oven<'a>(view: &View<'a>) -> Vec<Vec<&'a OvenSetting>> {
    let mut settings: Vec<Vec<&OvenSetting>> = vec![Vec::new(); view.lesson.ovens.len()];
    for setting in &view.plan.settings {
        settings[setting.oven.0].push(setting);
    }
    for of_one in &mut settings {
        of_one.sort_by_key(|s| (s.set_at, s.until));
    }
    settings
}

/// `temperature` and the part of `warm-up` that speaks of tins.
fn hot_enough(view: &View<'_>, load: &Load, settings: &[&OvenSetting], out: &mut Breaches) {
    let (whose, oven, span) = (whose(view, load), view.oven_name(load.oven), span(load));
    let kept = settings
        .iter()
        .any(|s| s.celsius == load.celsius && span.within(Span::of(s.set_at, s.until)));
    if !kept {
        let message =
            format!("{whose} bakes {span} at {}; {oven} is not kept at that", load.celsius);
        out.add(Rule::Temperature, load.group, span.start, message);
    }
    for setting in settings {
        let heating = Span::of(setting.set_at, setting.hot_from);
        if heating.meets(span) {
            let message = format!(
                "{whose} is in {oven} {span}, while it goes to {} {heating}",
                setting.celsius
            );
            out.add(Rule::WarmUp, load.group, span.start.max(heating.start), message);
        }
    }
}

/// Stretches of one oven do not overlap, and each change has its minutes.
fn warm_up(view: &View<'_>, oven: OvenId, settings: &[&OvenSetting], out: &mut Breaches) {
    let name = view.oven_name(oven);
    let mut add = |minute: Minute, message| out.add(Rule::WarmUp, None, wide(minute), message);
    let on_from = view.lesson.periods.iter().map(|p| p.ovens_on_from).min().unwrap_or_default();
    if let Some(first) = settings.first().filter(|s| s.set_at < on_from) {
        let set_at = first.set_at;
        add(set_at, format!("{name} is switched on at {set_at}, allowed from {on_from}"));
    }
    let mut before: Option<&OvenSetting> = None;
    for setting in settings {
        let OvenSetting { celsius, set_at, hot_from, until, .. } = **setting;
        if let Some(before) = before.filter(|b| b.until > set_at) {
            let message = format!(
                "{name} is kept at {} until {} and set to {celsius} at {set_at}",
                before.celsius, before.until
            );
            add(set_at, message);
        }
        let change = view.lesson.ovens[oven.0].change_minutes(before.map(|b| b.celsius), celsius);
        let change = i64::from(change.rounded_up().get());
        let given = wide(hot_from) - wide(set_at);
        if given < change {
            let message = format!(
                "{name} is given {given} min from {set_at} to reach {celsius}; it takes {change}"
            );
            add(set_at, message);
        }
        // Else a change could be cut short and the next one counted from there.
        if until < hot_from {
            let message =
                format!("{name} is set to {celsius} for {hot_from}, but kept only until {until}");
            add(set_at, message);
        }
        before = Some(*setting);
    }
}
