//! A checked plan as a teacher reads it in a terminal.

use std::fmt::Write as _;

use super::jobs::jobs_words;
use crate::check::CheckedPlan;
use crate::model::{GasMark, GroupId, Lesson, Oven, OvenId, OvenKind};
use crate::plan::{Load, OvenSetting};
use crate::play::{groups_to_give, jobs};
use crate::units::{Minute, Minutes};
use crate::view::bake_times::bake_times;
use crate::view::proof::{self, HowProved};
use crate::view::remarks;
use crate::view::rows::verdict_words;
use crate::view::words::{capital, clock, clock_in, in_short, list, number, shelf};
use crate::view::{assumed::assumed, sentence};

/// The longest line, in characters.
const WIDTH: usize = 96;
/// The longest line of a table.
const ROW: usize = 100;
/// The longest name of a group, in characters.
const NAME: usize = 24;

/// The sentence, a line a group, the ovens by shelf, what is assumed.
pub fn answer(lesson: &Lesson, plan: &CheckedPlan) -> String {
    let mut text = String::new();
    heading(&mut text, lesson);
    for said in
        [sentence::outcome(lesson, plan), sentence::next(lesson, plan), standing(lesson, plan)]
    {
        if !said.is_empty() {
            let _ = writeln!(text, "{}", wrapped(&said, 0));
        }
    }
    class_steps(&mut text, lesson, plan);
    groups(&mut text, lesson, plan);
    ovens(&mut text, lesson, plan);
    adults(&mut text, lesson, plan);
    remarks(&mut text, lesson, plan);
    nobody_named(&mut text, lesson, plan);
    let assumed = assumed(lesson, plan);
    if !assumed.is_empty() {
        let _ = writeln!(text, "\nAssumed, as the lesson does not say:");
        for figure in assumed {
            let _ = writeln!(text, "{}", hanging(&figure, 2, 4));
        }
    }
    text.push_str(CAUTION);
    text
}

/// The caution below every plan.
pub(super) const CAUTION: &str = "\nTimes are for planning: a bake is done by its done test, never \
     by the clock alone.\nYour school's policy and risk assessment come first.\n";

pub(super) fn heading(text: &mut String, lesson: &Lesson) {
    let title = if lesson.title.is_empty() { "Lesson" } else { &lesson.title };
    let mut parts = vec![title.to_owned()];
    if !lesson.class.name.is_empty() {
        parts.push(lesson.class.name.clone());
    }
    if let Some(date) = lesson.date {
        parts.push(date.format("%A %-d %B %Y").to_string());
    }
    for period in &lesson.periods {
        let end = period.start_clock.after(period.length());
        let name = if lesson.periods.len() > 1 { &*period.name } else { "" };
        parts.push(format!("{name} {} to {end}", period.start_clock).trim_start().to_owned());
    }
    let _ = writeln!(text, "{}\n", wrapped(&parts.join(" · "), 0));
}

/// The proofs about the plan.
fn standing(lesson: &Lesson, plan: &CheckedPlan) -> String {
    let of = lesson.attending().count();
    if of == 0 {
        return String::new();
    }
    match proof::standing(plan) {
        HowProved::Unknown => String::new(),
        HowProved::Served { at_most, .. } => {
            let most = usize::try_from(at_most).unwrap_or(usize::MAX);
            if most >= of {
                return "Best found; whether more can be out by the bell is not proved.".to_owned();
            }
            format!("Best found; it is proved that {} is the most that can be out.", number(most))
        }
        HowProved::Departures { best, at_least } => format!(
            "Checked: with these figures no arrangement gets more groups out. Departures from the first \
             choices: {best} is the best found, at least {at_least} is proved."
        ),
        HowProved::Shortfall { best, at_least } => format!(
            "Checked: with these figures no arrangement gets more groups out or keeps more first \
             choices. Minutes short of the wanted spare: {best} is the best found, at least {at_least} is proved."
        ),
        HowProved::Best => {
            "Checked: with these figures no arrangement gets more groups out, keeps \
                           more first choices or leaves more time."
                .to_owned()
        }
    }
}

fn class_steps(text: &mut String, lesson: &Lesson, plan: &CheckedPlan) {
    if plan.plan().class_steps.is_empty() {
        return;
    }
    let _ = writeln!(text, "\nThe class together");
    for placed in &plan.plan().class_steps {
        let step = &lesson.class_steps[placed.step.0];
        let start = clock(lesson, placed.start);
        let of = match lesson.periods.len() {
            1 => String::new(),
            _ => format!(", {}", lesson.periods[step.period.0].name),
        };
        let minutes = (placed.end - placed.start).get();
        let _ = writeln!(text, "  {start}  {} ({minutes} min{of})", step.name);
    }
}

/// A line a group; lines too long are broken before the tin.
fn groups(text: &mut String, lesson: &Lesson, plan: &CheckedPlan) {
    let ids = || (0..lesson.groups.len()).map(GroupId);
    let name = |id: GroupId| short_name(&lesson.group(id).name);
    let verdict = |id: GroupId| verdict_words(plan.group_outcomes()[id.0].verdict);
    let widest = |width: &dyn Fn(GroupId) -> usize| ids().map(width).max().unwrap_or(0);
    let names = widest(&|id| name(id).chars().count());
    let verdicts = widest(&|id| verdict(id).chars().count());
    let spare = |id: GroupId| plan.group_outcomes()[id.0].spare.map_or(0, |s| s.get());
    let spares = widest(&|id| spare(id).to_string().len());
    let any_bake = !plan.plan().loads.is_empty();
    let gives = groups_to_give(lesson, plan);
    let _ = writeln!(text, "\nGroups");
    for id in ids() {
        let line = format!("  {:names$}  {:verdicts$}", name(id), verdict(id));
        let outcome = plan.group_outcomes()[id.0];
        let (Some(ready), Some(spare)) = (outcome.ready, outcome.spare) else {
            let _ = writeln!(text, "{}", line.trim_end());
            continue;
        };
        let times = match bake_times(lesson, plan, id) {
            Some(b) => format!("in {} out {}", clock(lesson, b.load), clock(lesson, b.take_out)),
            None if any_bake => " ".repeat("in 10:00 out 10:00".len()),
            None => String::new(),
        };
        let times = if any_bake { format!("  {times}") } else { times };
        let ready = clock_in(lesson, lesson.group(id).period, ready);
        let what = choice(lesson, plan, id);
        let give = gives.iter().find(|(g, _)| *g == id).map_or(0, |(_, give)| *give);
        let spare = format!("{:>spares$} min spare, {give:>spares$} to give", spare.get());
        let line = format!("{line}{times}  ready {ready}, {spare}");
        if line.chars().count() + 2 + what.chars().count() <= ROW {
            let _ = writeln!(text, "{line}  {what}");
        } else {
            let _ = writeln!(text, "{line}");
            let _ = writeln!(text, "{}", wrapped(&what, names + verdicts + 6));
        }
    }
    reasons(text, lesson, plan);
}

/// A name cut to fit a table, without losing the number at its end.
fn short_name(name: &str) -> String {
    if name.chars().count() <= NAME {
        return crate::finding::shortened(name, NAME);
    }
    let number = name.rsplit(' ').next().filter(|n| n.len() < 4 && n.parse::<u32>().is_ok());
    let end = number.map_or(String::new(), |n| format!(" {n}"));
    crate::finding::shortened(name, NAME - 1 - end.len()) + &end
}

/// Why groups are not served, beside the reason told first; each reason once.
fn reasons(text: &mut String, lesson: &Lesson, plan: &CheckedPlan) {
    for (i, (reason, names)) in sentence::reasons(lesson, plan).iter().enumerate().skip(1) {
        if i == 1 {
            let _ = writeln!(text, "\nOther reasons");
        }
        let names = list(&in_short(names));
        let _ = writeln!(text, "{}", hanging(&format!("{names}: {reason}"), 2, 4));
    }
}

/// The tin, and the method where there is a choice of them.
fn choice(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> String {
    let Some(choice) = plan.plan().choice(id) else { return String::new() };
    let method = &lesson.method_of(id, choice.method).name;
    let only = lesson.group(id).methods.len() == 1;
    match choice.tin.map(|tin| &lesson.tin_choice_of(id, tin).label) {
        Some(tin) if only => tin.clone(),
        Some(tin) => format!("{tin}, {method}"),
        None => method.clone(),
    }
}

fn ovens(text: &mut String, lesson: &Lesson, plan: &CheckedPlan) {
    if plan.plan().loads.is_empty() {
        return;
    }
    let _ = writeln!(text, "\nOvens");
    for (i, oven) in lesson.ovens.iter().enumerate() {
        let id = OvenId(i);
        if oven.out_of_order {
            let _ = writeln!(text, "  {}: out of order", oven.name);
            continue;
        }
        if let Some(from) = oven.out_from {
            let _ = writeln!(text, "  {}: out of order from {}", oven.name, clock(lesson, from));
        }
        let settings: Vec<&OvenSetting> =
            plan.plan().settings.iter().filter(|s| s.oven == id).collect();
        if settings.is_empty() {
            let _ = writeln!(text, "  {}: not needed", oven.name);
            continue;
        }
        let set: Vec<String> = settings.iter().map(|s| set_to(lesson, oven, s)).collect();
        let set = format!("{}: on {}", oven.name, set.join(", then "));
        let _ = writeln!(text, "{}", hanging(&set, 2, 4));
        for s in 0..oven.shelves.len() {
            let tins = shelf_words(lesson, plan, id, s);
            if !tins.is_empty() {
                let name = capital(&shelf(s, oven.shelves.len()));
                let tins = format!("{name}: {}", tins.join("; "));
                let _ = writeln!(text, "{}", hanging(&tins, 4, 6));
            }
        }
    }
}

/// "at 10:13 at 170 °C fan, hot for 10:25".
fn set_to(lesson: &Lesson, oven: &Oven, setting: &OvenSetting) -> String {
    let dial = oven.dial(setting.celsius);
    let mark = match oven.kind {
        OvenKind::Gas => format!(", gas mark {},", GasMark::nearest(dial)),
        OvenKind::Fan => " fan,".to_owned(),
        OvenKind::Conventional => ",".to_owned(),
    };
    let (on, hot) = (clock(lesson, setting.set_at), clock(lesson, setting.hot_from));
    format!("at {on} at {dial:.0} °C{mark} hot for {hot}")
}

/// What occupies each adult beside the class's own steps: open doors, and
/// steps that want one with them.
fn adults(text: &mut String, lesson: &Lesson, plan: &CheckedPlan) {
    let mut title = "\nAdults\n";
    for (i, adult) in lesson.adults.iter().enumerate() {
        let mut duties: Vec<(Minute, Minute, String)> = Vec::new();
        let doors = plan.plan().door_watches.iter().filter(|w| w.adult.0 == i);
        for watch in doors {
            let at = format!("at {}", lesson.ovens[watch.oven.0].name);
            duties.push((watch.minute, watch.minute + Minutes::new(1), at));
        }
        for placed in plan.plan().steps.iter().filter(|s| s.adult.is_some_and(|a| a.0 == i)) {
            let Some(choice) = plan.plan().choice(placed.group) else { continue };
            let step = &lesson.method_of(placed.group, choice.method).steps[placed.step.0].name;
            let with = format!("with {}, {step}", lesson.group(placed.group).name);
            duties.push((placed.start, placed.end, with));
        }
        duties.sort();
        let mut told: Vec<(Minute, Minute, String)> = Vec::new();
        for duty in duties {
            match told.iter_mut().rev().find(|t| t.2 == duty.2) {
                Some(last) if last.1 == duty.0 => last.1 = duty.1,
                _ => told.push(duty),
            }
        }
        if told.is_empty() {
            continue;
        }
        let say = |(start, end, what): &(Minute, Minute, String)| {
            format!("{} to {} {what}", clock(lesson, *start), clock(lesson, *end))
        };
        let told: Vec<String> = told.iter().map(say).collect();
        let line = format!("{}: {}", adult.name, told.join("; "));
        let _ = writeln!(text, "{title}{}", hanging(&line, 2, 4));
        title = "";
    }
}

/// What the school has to see to.
fn remarks(text: &mut String, lesson: &Lesson, plan: &CheckedPlan) {
    for (i, remark) in remarks::remarks(lesson, plan).iter().enumerate() {
        let _ = writeln!(text, "{}{}", if i == 0 { "\n" } else { "" }, wrapped(remark, 0));
    }
}

/// Whose job it is where the lesson names nobody, and when an oven is on while
/// no adult is free.
fn nobody_named(text: &mut String, lesson: &Lesson, plan: &CheckedPlan) {
    let jobs = jobs(lesson, plan);
    let told = jobs_words(lesson, plan, &jobs);
    if told.is_empty() {
        return;
    }
    let _ = writeln!(text, "\nWhose job, as the lesson names nobody");
    for line in told {
        let _ = writeln!(text, "{}", hanging(&line, 2, 4));
    }
}

/// Groups whose tins go in and come out together, with how many tins each.
struct Batch {
    start: Minute,
    end: Minute,
    groups: Vec<(GroupId, usize)>,
}

/// "Unit 1 and Unit 2 10:27 to 10:48", in order of time.
fn shelf_words(lesson: &Lesson, plan: &CheckedPlan, oven: OvenId, shelf: usize) -> Vec<String> {
    let on_shelf = |l: &&Load| l.oven == oven && l.shelf.0 == shelf;
    let mut loads: Vec<&Load> = plan.plan().loads.iter().filter(on_shelf).collect();
    loads.sort_by_key(|l| (l.start, l.end, l.group, l.number));
    let mut batches: Vec<Batch> = Vec::new();
    for load in loads {
        let out = bake_times(lesson, plan, load.group).map_or(load.end, |times| times.take_out);
        let (start, end) = (load.start, out);
        match batches.last_mut() {
            Some(last) if (last.start, last.end) == (start, end) => match last.groups.last_mut() {
                Some((group, tins)) if *group == load.group => *tins += 1,
                _ => last.groups.push((load.group, 1)),
            },
            _ => batches.push(Batch { start, end, groups: vec![(load.group, 1)] }),
        }
    }
    let named = |&(group, tins): &(GroupId, usize)| {
        let name = &lesson.group(group).name;
        if tins > 1 { format!("{name} ({tins} tins)") } else { name.clone() }
    };
    let words = batches.iter().map(|b| {
        let names: Vec<String> = b.groups.iter().map(named).collect();
        format!("{} in {} out {}", list(&names), clock(lesson, b.start), clock(lesson, b.end))
    });
    words.collect()
}

/// Broken into lines, each indented.
pub(super) fn wrapped(text: &str, indent: usize) -> String {
    hanging(text, indent, indent)
}

/// Broken into lines, the first indented otherwise than the rest.
pub(super) fn hanging(text: &str, first: usize, rest: usize) -> String {
    let margin = " ".repeat(rest);
    let mut lines = vec![" ".repeat(first)];
    let mut bare = true;
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if bare || line.chars().count() + word.chars().count() < WIDTH => {
                if !bare {
                    line.push(' ');
                }
                line.push_str(word);
            }
            _ => lines.push(format!("{margin}{word}")),
        }
        bare = false;
    }
    lines.join("\n")
}
