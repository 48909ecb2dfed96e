//! `one-oven`, `temperature` and `warm-up`: where tins bake and how hot.

use super::breach::Breaches;
use super::fault::{OneOvenFault, TemperatureFault, WarmUpFault};
use super::span::{Span, to_minutes, wide};
use super::view::{Served, View, tin_of};
use crate::model::OvenId;
use crate::plan::{Load, OvenSetting, Rule};
use crate::units::Minute;

/// What a difference of temperatures is forgiven, in kelvins.
const DUST: f64 = 1e-6;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    for group in &view.served {
        one_oven(view, group, out);
        for load in &group.loads {
            tolerance(group, load, out);
        }
    }
    let settings = by_oven(view);
    for (i, settings) in settings.iter().enumerate() {
        warm_up(view, OvenId(i), settings, out);
    }
    for load in &view.plan.loads {
        hot_enough(load, &settings[load.oven.0], out);
    }
}

fn span(load: &Load) -> Span {
    Span::of(load.start, load.end)
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
    let mut add = |minute: Option<i64>, fault| out.add(Rule::OneOven, group.id, minute, fault);
    if numbers.len() != listed {
        add(None, OneOvenFault::LoadedTwice { group: group.id });
    }
    numbers.retain(|&n| n < tins);
    if u32::try_from(numbers.len()).is_ok_and(|n| n < tins) {
        let loaded = numbers.len();
        add(None, OneOvenFault::NotLoaded { group: group.id, loaded, of: tins });
    }
    for load in &group.loads {
        let (tin, oven, start) = (tin_of(load), load.oven, wide(load.start));
        if load.number >= tins {
            add(Some(start), OneOvenFault::NoSuchTin { tin, oven, of: tins });
        }
        let works = view.lesson.ovens[load.oven.0].works_until(load.end);
        if !works || !view.lesson.may_use_oven(group.id, load.oven) {
            add(Some(start), OneOvenFault::NotItsOven { tin, oven });
        }
        if let Some((first, _, last)) = steps {
            let bake = Span { start: group.span(first).start, end: group.span(last).end };
            let span = span(load);
            if span != bake {
                add(Some(start), OneOvenFault::OtherTime { tin, oven, span, bake });
            }
        }
    }
}

/// The temperature is near enough to the tin's own.
fn tolerance(group: &Served<'_>, load: &Load, out: &mut Breaches) {
    let Some(tin) = group.tin else {
        return;
    };
    let tolerance = group.recipe.bake.tolerance;
    if (load.celsius - tin.celsius).get().abs() > tolerance.get() + DUST {
        let (of, at, wants) = (tin_of(load), load.celsius, tin.celsius);
        let fault = TemperatureFault::OffRecipe { tin: of, at, wants, tolerance };
        out.add(Rule::Temperature, group.id, wide(load.start), fault);
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
fn hot_enough(load: &Load, settings: &[&OvenSetting], out: &mut Breaches) {
    let (tin, oven, span) = (tin_of(load), load.oven, span(load));
    let kept = settings
        .iter()
        .any(|s| s.celsius == load.celsius && span.within(Span::of(s.set_at, s.until)));
    if !kept {
        let fault = TemperatureFault::NotKept { tin, span, at: load.celsius, oven };
        out.add(Rule::Temperature, load.group, span.start, fault);
    }
    for setting in settings {
        let change = Span::of(setting.set_at, setting.hot_from);
        if change.meets(span) {
            let to = setting.celsius;
            let fault = WarmUpFault::TinMeanwhile { tin, oven, span, to, change };
            out.add(Rule::WarmUp, load.group, span.start.max(change.start), fault);
        }
    }
}

/// Stretches of one oven do not overlap, and each change has its minutes.
fn warm_up(view: &View<'_>, oven: OvenId, settings: &[&OvenSetting], out: &mut Breaches) {
    let mut add = |minute: Minute, fault| out.add(Rule::WarmUp, None, wide(minute), fault);
    let of_periods = view.lesson.periods.iter().map(|p| p.ovens_on_from).min().unwrap_or_default();
    let allowed = view.lesson.ovens[oven.0].on_from.unwrap_or(of_periods);
    if let Some(first) = settings.first().filter(|s| s.set_at < allowed) {
        let set_at = first.set_at;
        add(set_at, WarmUpFault::OnTooEarly { oven, set_at, allowed });
    }
    let mut before: Option<&OvenSetting> = None;
    for setting in settings {
        let OvenSetting { celsius: to, set_at, hot_from, until, .. } = **setting;
        if let Some(before) = before.filter(|b| b.until > set_at) {
            let (kept, until) = (before.celsius, before.until);
            add(set_at, WarmUpFault::TwoAtOnce { oven, kept, until, to, set_at });
        }
        let change = view.lesson.ovens[oven.0].change_minutes(before.map(|b| b.celsius), to);
        let change = i64::from(change.rounded_up().get());
        let given = wide(hot_from) - wide(set_at);
        if given < change {
            let (given, takes) = (to_minutes(given), to_minutes(change));
            add(set_at, WarmUpFault::TooShort { oven, given, set_at, to, takes });
        }
        // Else a change could be cut short and the next one counted from there.
        if until < hot_from {
            add(set_at, WarmUpFault::CutShort { oven, to, hot_from, until });
        }
        before = Some(*setting);
    }
}
