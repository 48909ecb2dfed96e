//! What the card says of a step, a group, an oven, an adult.

use super::adult_near::wanted_near;
use super::board::BarId;
use super::collected::collected;
use super::jobs_together::together;
use super::own_cost;
use super::rows::{choice_words, verdict_words};
use super::words::{clock, list, minutes, when_there};
use crate::check::{CheckedPlan, Verdict};
use crate::model::{
    AdultId, AdultNeed, AtOvens, GroupId, Lesson, Link, OvenId, ShelfId, StepId, StepKind,
    ThreePoint,
};
use crate::play::{Job, Task, jobs};
use crate::units::{Celsius, Minute, halves, plain_number};

/// A card: a title, a line under it, and named lines.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Card {
    /// What it is about.
    pub title: String,
    /// The line under the title.
    pub under: String,
    /// The verdict of the group it is about.
    pub verdict: Option<Verdict>,
    /// Name and value.
    pub lines: Vec<(String, String)>,
    /// Why a group is not served.
    pub why_not: Option<String>,
}

impl Card {
    fn line(&mut self, name: &str, value: impl Into<String>) {
        self.lines.push((name.to_owned(), value.into()));
    }
}

/// The card of a group.
pub fn group(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> Card {
    let group = lesson.group(id);
    let outcome = plan.group_outcomes()[id.0];
    let pupils =
        if group.pupils == 1 { "1 pupil".to_owned() } else { format!("{} pupils", group.pupils) };
    let mut card = Card {
        title: group.name.clone(),
        under: format!("{} · {pupils}", lesson.recipe_of(id).name),
        verdict: Some(outcome.verdict),
        ..Card::default()
    };
    card.line("Verdict", verdict_words(outcome.verdict));
    if let (Some(ready), Some(spare)) = (outcome.ready, outcome.spare) {
        let at = lesson.periods[group.period.0].start_clock.after(ready - Minute::BELL);
        card.line("Ready", format!("{at}, {} to spare", minutes(spare.get())));
    }
    if let Some(choice) = choice_words(lesson, plan, id) {
        card.line("Bakes", choice);
    }
    if let Some(refused) = plan.plan().not_served.iter().find(|n| n.group == id) {
        card.why_not = Some(refused.reason.clone());
    }
    if let Some(cost) = own_cost::alone(lesson, plan, id) {
        card.line("Alone", cost);
    }
    if group.keep_apart {
        card.line("Kept apart", "shares no oven, and no kit that others have used before it");
        if let Some(cost) = own_cost::apart(lesson, plan, id) {
            card.line("What that takes", cost);
        }
    }
    if !group.needs.is_empty() {
        card.line("Keeps to", list(&group.needs));
    }
    if !group.beforehand.is_empty() {
        let steps: Vec<String> = group.beforehand.iter().cloned().collect();
        card.line("Done beforehand", list(&steps));
    }
    let later = collected(lesson, plan, id);
    if !later.is_empty() {
        card.line("Collected later", format!("after the bell, done for it: {}", list(&later)));
    }
    card
}

/// The card of a step.
pub fn step(lesson: &Lesson, plan: &CheckedPlan, id: GroupId, step_id: StepId) -> Option<Card> {
    let choice = plan.plan().choice(id)?;
    let method = lesson.method_of(id, choice.method);
    let step = method.steps.get(step_id.0)?;
    let placed = plan.plan().steps.iter().find(|s| s.group == id && s.step == step_id)?;
    let tin = choice.tin.map(|t| lesson.tin_choice_of(id, t));
    let mut card = Card {
        title: format!("{}: {}", lesson.group(id).name, step.name),
        under: format!(
            "{} to {} · {}",
            clock(lesson, placed.start),
            clock(lesson, placed.end),
            minutes((placed.end - placed.start).get())
        ),
        ..Card::default()
    };
    if !step.words.is_empty() {
        card.line("Teacher", step.words.clone());
    }
    if !step.pupil_words.is_empty() {
        card.line("Pupils read", step.pupil_words.clone());
    }
    if !step.done_when.is_empty() {
        card.line("Done when", step.done_when.clone());
    }
    let load = plan.plan().loads.iter().find(|l| l.group == id);
    let celsius = load.map(|l| l.celsius).or(tin.map(|t| t.celsius)).unwrap_or(Celsius::BAKING);
    if let Some(three) = lesson.minutes_at(step, tin, celsius) {
        // Those of hands are as they were stated, or a quarter of it less.
        let told = if step.kind == StepKind::Bake { halves } else { plain_number };
        card.line("Minutes", three_words(&three, told));
    }
    if !placed.pupils.is_empty() {
        let pupils: Vec<String> = placed.pupils.iter().map(|p| (p + 1).to_string()).collect();
        card.line("Pupils", list(&pupils));
    }
    let kit: Vec<String> = step
        .kit
        .iter()
        .map(|&(kit, n)| format!("{n} × {}", lesson.kit_kinds[kit.0].name))
        .collect();
    if !kit.is_empty() {
        card.line("Kit", list(&kit));
    }
    match step.adult {
        AdultNeed::None => {}
        AdultNeed::Near => card.line("Adult", "one in the room"),
        AdultNeed::With => {
            let who = placed.adult.map_or("one", |a| lesson.adults[a.0].name.as_str());
            card.line("Adult", format!("{who}, for all of it"));
        }
    }
    let name = |s: StepId| method.steps[s.0].name.clone();
    let after: Vec<String> = method
        .links
        .iter()
        .filter(|l| l.to == step_id)
        .map(|l| format!("{}{}", name(l.from), gap_words(l)))
        .collect();
    if !after.is_empty() {
        card.line("After", list(&after));
    }
    let before: Vec<String> = method
        .links
        .iter()
        .filter(|l| l.from == step_id)
        .map(|l| format!("{}{}", name(l.to), gap_words(l)))
        .collect();
    if !before.is_empty() {
        card.line("Before", list(&before));
    }
    Some(card)
}

/// "4 quick, 5 usual, 8 slow, from the recipe".
fn three_words(three: &ThreePoint, told: fn(f64) -> String) -> String {
    let figures = format!(
        "{} quick, {} usual, {} slow",
        told(three.quick().get()),
        told(three.usual().get()),
        told(three.slow().get())
    );
    if three.spread == three.origin {
        format!("{figures}, {}", three.origin)
    } else {
        format!("{figures}; usual {}, the others {}", three.origin, three.spread)
    }
}

fn gap_words(link: &Link) -> String {
    let least = link.least.get();
    let longest = link.longest.map(|l| plain_number(l.value.get()));
    match (least > 0.0, longest) {
        (false, None) => String::new(),
        (false, Some(longest)) if longest == "0" => " (at once)".to_owned(),
        (false, Some(longest)) => format!(" (within {longest} min)"),
        (true, None) => format!(" (after {} min)", plain_number(least)),
        (true, Some(longest)) => format!(" (after {} to {longest} min)", plain_number(least)),
    }
}

/// A tin on a shelf, to scale.
#[derive(Debug, Clone, PartialEq)]
pub struct TinOnShelf {
    /// Which of the group's tins.
    pub bar: BarId,
    /// Whose.
    pub group: String,
    /// The kind of tin.
    pub tin: String,
    /// Left edge, front edge, width, depth in millimetres.
    pub rim: (f32, f32, f32, f32),
    /// It is round.
    pub round: bool,
}

/// A shelf from above, to scale.
#[derive(Debug, Clone, PartialEq)]
pub struct ShelfPicture {
    /// Width and depth in millimetres.
    pub size: (f32, f32),
    /// Tins on it.
    pub tins: Vec<TinOnShelf>,
    /// What a screen reader says.
    pub spoken: String,
}

/// The card of an oven, and its shelves from above at a minute (when it is
/// fullest, if none is given).
pub fn oven(
    lesson: &Lesson,
    plan: &CheckedPlan,
    id: OvenId,
    minute: Option<Minute>,
) -> (Card, Vec<ShelfPicture>) {
    let oven = &lesson.ovens[id.0];
    let lane = super::ovens::oven_lanes(lesson, plan).swap_remove(id.0);
    let mut card = Card { title: lane.name.clone(), under: lane.state.clone(), ..Card::default() };
    if let Some((from, until, tins)) = lane.fullest {
        let tins = if tins == 1 { "1 tin".to_owned() } else { format!("{tins} tins") };
        card.line(
            "Fullest",
            format!("{} to {}: {tins}", clock(lesson, from), clock(lesson, until)),
        );
    }
    for s in plan.plan().settings.iter().filter(|s| s.oven == id) {
        let words = super::ovens::dial_words(oven, s.celsius);
        card.line(
            "Set",
            format!(
                "{words} at {}, hot at {}, until {}",
                clock(lesson, s.set_at),
                clock(lesson, s.hot_from),
                clock(lesson, s.until)
            ),
        );
    }
    if let Some(by) = super::remarks::switched_on_by(lesson, plan, id) {
        card.line("Switched on by", by);
    }
    card.line("Air between tins", format!("{} ({})", oven.gap.value, oven.gap.origin));
    let at = minute.or(lane.fullest.map(|f| f.0));
    if let Some(at) = at {
        card.line("Shelves shown at", clock(lesson, at).to_string());
    }
    let shelves =
        (0..oven.shelves.len()).map(|s| shelf_picture(lesson, plan, id, ShelfId(s), at)).collect();
    (card, shelves)
}

fn shelf_picture(
    lesson: &Lesson,
    plan: &CheckedPlan,
    oven: OvenId,
    shelf: ShelfId,
    at: Option<Minute>,
) -> ShelfPicture {
    let of = &lesson.ovens[oven.0].shelves[shelf.0];
    let mm = |m: crate::units::Millimetres| m.get() as f32;
    let there = plan.plan().loads.iter().filter(|l| {
        l.oven == oven && l.shelf == shelf && at.is_some_and(|at| l.start <= at && at < l.end)
    });
    let tins: Vec<TinOnShelf> = there
        .filter_map(|l| {
            let choice = plan.plan().choice(l.group)?.tin?;
            let tin = &lesson.tins[lesson.tin_choice_of(l.group, choice).tin.0];
            let rim = (f64::from(tin.rim.0.get()), f64::from(tin.rim.1.get()));
            let (x, y, w, d) = l.place.around(rim);
            Some(TinOnShelf {
                bar: BarId::Tin(l.group, l.number),
                group: lesson.group(l.group).name.clone(),
                tin: tin.name.clone(),
                rim: (x as f32, y as f32, w as f32, d as f32),
                round: tin.round_rim().is_some(),
            })
        })
        .collect();
    let names: Vec<String> = tins.iter().map(|t| format!("{}, {}", t.group, t.tin)).collect();
    let name = super::words::shelf(shelf.0, lesson.ovens[oven.0].shelves.len());
    let inside = if names.is_empty() { "empty".to_owned() } else { names.join("; ") };
    ShelfPicture { size: (mm(of.width), mm(of.depth)), tins, spoken: format!("{name}: {inside}") }
}

/// The card of an adult: what comes next for them after a minute (the first
/// thing of all, if none is given), then what they do in order of time.
pub fn adult(lesson: &Lesson, plan: &CheckedPlan, id: AdultId, now: Option<Minute>) -> Card {
    let adult = &lesson.adults[id.0];
    let first = lesson.periods.iter().map(|p| p.start).min().unwrap_or_default();
    let last = lesson.periods.iter().map(|p| p.end).max().unwrap_or_default();
    let throughout = adult.hours.iter().any(|&(from, until)| from <= first && last <= until);
    let mut duties: Vec<(Minute, Minute, String)> = Vec::new();
    for c in &plan.plan().class_steps {
        let step = &lesson.class_steps[c.step.0];
        if step.adults.contains(&id) {
            duties.push((c.start, c.end, step.name.clone()));
        }
    }
    for s in plan.plan().steps.iter().filter(|s| s.adult == Some(id)) {
        duties.push((s.start, s.end, format!("with {}", lesson.group(s.group).name)));
    }
    for w in plan.plan().door_watches.iter().filter(|w| w.adult == id) {
        let until = w.minute + crate::units::Minutes::new(1);
        duties.push((w.minute, until, format!("door of {}", lesson.ovens[w.oven.0].name)));
    }
    duties.extend(setting_up(lesson, plan, id));
    for (from, until) in wanted_near(lesson, plan, adult) {
        duties.push((from, until, "in the room, as a step asks".to_owned()));
    }
    duties.sort();
    let at_ovens = match lesson.rules.at_ovens {
        AtOvens::Nobody => String::new(),
        asked => format!("; wanted while ovens are open: {}", asked.words()),
    };
    let mut card = Card {
        title: adult.name.clone(),
        under: if throughout {
            format!("there throughout{at_ovens}")
        } else {
            format!("{}{at_ovens}", when_there(lesson, adult))
        },
        ..Card::default()
    };
    let next = duties.iter().find(|(from, ..)| now.is_none_or(|now| *from > now));
    // The first of the adults is the teacher who reads this.
    let name = if id == AdultId(0) { "Next for you" } else { "Next" };
    match next {
        Some((from, _, what)) => card.line(name, format!("{}, {what}", clock(lesson, *from))),
        None if duties.is_empty() => {}
        None => card.line(name, "nothing more in this plan"),
    }
    for (from, until, what) in duties {
        let when = match from == until {
            true => clock(lesson, from).to_string(),
            false => format!("{} to {}", clock(lesson, from), clock(lesson, until)),
        };
        card.line(&when, what);
    }
    let watched = plan.plan().door_watches.iter().filter(|w| w.adult == id).count();
    if let Some(cost) = own_cost::at_doors(watched) {
        card.line("In all", cost);
    }
    if card.lines.is_empty() {
        card.line("Wanted", "for nothing in this plan");
    }
    card
}

/// Ovens that an adult switches on, and steps they do beforehand.
fn setting_up(lesson: &Lesson, plan: &CheckedPlan, id: AdultId) -> Vec<(Minute, Minute, String)> {
    let of_them = |job: &Job| {
        job.adult == Some(id) && matches!(job.task, Task::Set(_) | Task::Beforehand(..))
    };
    let jobs: Vec<Job> = jobs(lesson, plan).jobs.into_iter().filter(of_them).collect();
    let told = together(lesson, plan, &jobs).into_iter();
    told.map(|of| (of.start_by(), of.until(), of.what(lesson, plan))).collect()
}
