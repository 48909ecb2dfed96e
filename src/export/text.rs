//! A checked plan as a teacher reads it in a terminal.

use std::fmt::Write as _;

use crate::check::{CheckedPlan, Verdict};
use crate::model::{GasMark, GroupId, Lesson, OvenId, OvenKind};
use crate::plan::{Load, OvenSetting};
use crate::units::Minute;
use crate::view::rows::verdict_words;
use crate::view::words::{capital, clock, clock_in, list, minutes, shelf};
use crate::view::{assumed::assumed, sentence};

/// The sentence, a line a group, the ovens by shelf, what is assumed.
pub fn answer(lesson: &Lesson, plan: &CheckedPlan) -> String {
    let mut text = String::new();
    heading(&mut text, lesson);
    let _ = writeln!(text, "{}", sentence::outcome(lesson, plan));
    let next = sentence::next(lesson, plan);
    if !next.is_empty() {
        let _ = writeln!(text, "{}", wrapped(&next, 0));
    }
    let _ = writeln!(text, "{}", standing(plan));
    class_steps(&mut text, lesson, plan);
    groups(&mut text, lesson, plan);
    ovens(&mut text, lesson, plan);
    let assumed = assumed(lesson, plan);
    if !assumed.is_empty() {
        let _ = writeln!(text, "\nAssumed, as the lesson does not say:");
        for figure in assumed {
            let _ = writeln!(text, "  {figure}");
        }
    }
    let _ = writeln!(
        text,
        "\nTimes are for planning: a bake is done by its done test, never by the clock alone.\n\
         Your school's policy and risk assessment come first."
    );
    text
}

fn heading(text: &mut String, lesson: &Lesson) {
    let period = &lesson.periods[0];
    let end = period.start_clock.after(period.length());
    let title = if lesson.title.is_empty() { "Lesson" } else { &lesson.title };
    let mut parts = vec![title.to_owned()];
    if !lesson.class.name.is_empty() {
        parts.push(lesson.class.name.clone());
    }
    if let Some(date) = lesson.date {
        parts.push(date.format("%A %-d %B %Y").to_string());
    }
    parts.push(format!("{} to {end}", period.start_clock));
    let _ = writeln!(text, "{}\n", parts.join(" · "));
}

fn standing(plan: &CheckedPlan) -> String {
    let Some(bounds) = plan.plan().bounds else { return String::new() };
    let objective = plan.objective();
    let departures = objective.departures == bounds.departures_at_least;
    if bounds.served_at_most > objective.served {
        format!("Best found; that no more than {} can be served is proved.", bounds.served_at_most)
    } else if departures && bounds.shortfall_at_least == objective.shortfall {
        "Checked: with these figures no arrangement serves more, departs less or leaves more of \
         the wanted spare."
            .to_owned()
    } else {
        "Checked: with these figures no arrangement serves more.".to_owned()
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
        let _ =
            writeln!(text, "  {start}  {} ({} min)", step.name, (placed.end - placed.start).get());
    }
}

fn groups(text: &mut String, lesson: &Lesson, plan: &CheckedPlan) {
    let name_width =
        lesson.groups.iter().map(|g| g.name.chars().count()).max().unwrap_or(0).min(24);
    let _ = writeln!(text, "\nGroups");
    for id in (0..lesson.groups.len()).map(GroupId) {
        let group = lesson.group(id);
        let name = crate::finding::shortened(&group.name, 24);
        let outcome = plan.group_outcomes()[id.0];
        let verdict = verdict_words(outcome.verdict);
        let _ = write!(text, "  {name:name_width$}  {verdict:<24}");
        let (Some(ready), Some(spare)) = (outcome.ready, outcome.spare) else {
            let _ = writeln!(text);
            if let Some(refused) = plan.plan().not_served.iter().find(|n| n.group == id)
                && outcome.verdict != Verdict::LeftOut
            {
                let _ = writeln!(text, "{}", wrapped(&refused.reason, name_width + 4));
            }
            continue;
        };
        let what = choice(lesson, plan, id);
        let bake = plan.plan().loads.iter().find(|l| l.group == id);
        let times = bake.map_or(String::new(), |l| {
            format!("in {} out {}  ", clock(lesson, l.start), clock(lesson, l.end))
        });
        let ready = clock_in(lesson, group.period, ready);
        let _ = writeln!(text, "{times}ready {ready}, {} to spare  {what}", minutes(spare.get()));
    }
}

fn choice(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> String {
    let Some(choice) = plan.plan().choice(id) else { return String::new() };
    let method = &lesson.method_of(id, choice.method).name;
    match choice.tin {
        Some(tin) => format!("{}, {method}", lesson.tin_choice_of(id, tin).label),
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
        let settings: Vec<&OvenSetting> =
            plan.plan().settings.iter().filter(|s| s.oven == id).collect();
        if settings.is_empty() {
            let _ = writeln!(text, "  {}: not needed", oven.name);
            continue;
        }
        for setting in settings {
            let dial = oven.dial(setting.celsius);
            let mark = match oven.kind {
                OvenKind::Gas => format!(", gas mark {}", GasMark::nearest(dial)),
                OvenKind::Fan => " fan".to_owned(),
                OvenKind::Conventional => String::new(),
            };
            let on = clock(lesson, setting.set_at);
            let _ = writeln!(text, "  {}: set to {dial:.0} °C{mark} by {on}", oven.name);
        }
        for s in 0..oven.shelves.len() {
            let tins = shelf_words(lesson, plan, id, s);
            if !tins.is_empty() {
                let name = capital(&shelf(s, oven.shelves.len()));
                let _ = writeln!(text, "    {name}: {}", tins.join("; "));
            }
        }
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
        let (start, end) = (load.start, load.end);
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
        format!("{} {} to {}", list(&names), clock(lesson, b.start), clock(lesson, b.end))
    });
    words.collect()
}

/// Broken into lines of at most 96 characters, each indented.
fn wrapped(text: &str, indent: usize) -> String {
    const WIDTH: usize = 96;
    let margin = " ".repeat(indent);
    let mut lines = vec![margin.clone()];
    for word in text.split_whitespace() {
        let line = lines.last_mut();
        match line {
            Some(line) if line.chars().count() + word.chars().count() < WIDTH => {
                if line.len() > margin.len() {
                    line.push(' ');
                }
                line.push_str(word);
            }
            _ => lines.push(format!("{margin}{word}")),
        }
    }
    lines.join("\n")
}
