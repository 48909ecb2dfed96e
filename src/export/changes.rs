//! Changes that make a lesson fit, as text and as JSON.

use serde::Serialize;

use crate::change::{Alteration, Enough, Goal, Item, Offer, Offers};
use crate::check::CheckedPlan;
use crate::model::{ChangeKind, Lesson};
use crate::units::Minute;
use crate::view::rows::verdict_words;
use crate::view::sentence;
use crate::view::words::{capital, clock_in, in_short, list, minutes, number};

#[derive(Serialize)]
struct ChangesJson<'a> {
    lesson: &'a str,
    goal: &'static str,
    enough: &'static str,
    changes: Vec<ChangeJson<'a>>,
    helps: Vec<ChangeJson<'a>>,
    menu: usize,
    tried: usize,
    all_tried: bool,
}

#[derive(Serialize)]
struct ChangeJson<'a> {
    change: String,
    cost: f64,
    served: u32,
    of: usize,
    latest_ready: i32,
    ready: Option<String>,
    verdict: &'static str,
    proved: bool,
    parts: Vec<PartJson<'a>>,
    asks: Vec<&'a str>,
}

#[derive(Serialize)]
struct PartJson<'a> {
    kind: &'static str,
    change: &'a str,
    cost: f64,
    groups: Vec<String>,
}

/// The offers as JSON.
///
/// # Errors
/// If it cannot be written as JSON.
pub fn json(lesson: &Lesson, offers: &Offers) -> Result<String, serde_json::Error> {
    let answer = ChangesJson {
        lesson: &lesson.title,
        goal: match offers.goal {
            Goal::Everyone => "everyone out by the bell",
            Goal::Spare => "everyone with the wanted spare",
            Goal::Nothing => "nothing",
        },
        enough: match offers.enough {
            Enough::AsItIs => "as it is",
            Enough::Offered => "offered",
            Enough::NothingProved => "nothing, proved",
            Enough::NothingFound => "nothing found, not proved",
            Enough::NotYet => "not all tried",
        },
        changes: offers.offers.iter().map(change).collect(),
        helps: offers.helps.iter().map(change).collect(),
        menu: offers.menu,
        tried: offers.tried,
        all_tried: offers.all_tried,
    };
    serde_json::to_string_pretty(&answer)
}

fn change(offer: &Offer) -> ChangeJson<'_> {
    let part = |item: &'_ Item| (item.kind.name(), item.cost);
    let parts = offer.items.iter().map(|item| {
        let (kind, cost) = part(item);
        PartJson { kind, change: &item.words, cost, groups: users(offer, item) }
    });
    ChangeJson {
        change: offer.words(),
        cost: offer.cost,
        served: offer.served(),
        of: offer.of(),
        latest_ready: super::json::latest_ready(&offer.lesson, &offer.plan).get(),
        ready: latest(&offer.lesson, &offer.plan),
        verdict: offer.plan.verdict().name(),
        proved: offer.is_proved(),
        parts: parts.collect(),
        asks: offer.asks(),
    }
}

/// The clock time at which the last group is ready.
pub fn latest(lesson: &Lesson, plan: &CheckedPlan) -> Option<String> {
    let ready = |g: crate::model::GroupId| {
        let at: Minute = plan.group_outcomes()[g.0].ready?;
        Some(clock_in(lesson, lesson.group(g).period, at))
    };
    lesson.attending().filter_map(ready).max().map(|at| at.to_string())
}

/// The groups that use a tin or a method that was added, if not all do.
fn users(offer: &Offer, item: &Item) -> Vec<String> {
    let lesson = &offer.lesson;
    let uses = |g: crate::model::GroupId| {
        let choice = offer.plan.plan().choice(g)?;
        let used = match &item.what {
            Alteration::Tin { tin, recipe, .. } => {
                let label = tin.label.as_deref().unwrap_or(&tin.tin);
                let of = lesson.recipe_of(g).name == *recipe;
                of && choice.tin.is_some_and(|t| lesson.tin_choice_of(g, t).label == label)
            }
            Alteration::Method { method, recipe, .. } => {
                let of = lesson.recipe_of(g).name == *recipe;
                of && lesson.method_of(g, choice.method).name == method.name
            }
            _ => false,
        };
        used.then(|| lesson.group(g).name.clone())
    };
    lesson.attending().filter_map(uses).collect()
}

/// The offers as text.
pub fn text(lesson: &Lesson, plan: &CheckedPlan, offers: &Offers) -> String {
    let mut lines = vec![sentence::outcome(lesson, plan)];
    lines.push(verdict(offers));
    for (i, offer) in (1..).zip(&offers.offers) {
        lines.push(String::new());
        lines.extend(lines_of(i, offer));
    }
    if !offers.helps.is_empty() {
        lines.push(String::new());
        lines.push("What helps, though it is not enough:".to_owned());
        for (i, offer) in (1..).zip(&offers.helps) {
            lines.push(String::new());
            lines.extend(lines_of(i, offer));
        }
    }
    if !offers.all_tried && offers.enough != Enough::AsItIs {
        lines.push(String::new());
        lines.push(
            "Not all of the menu was tried before time ran out: something smaller or better may \
             be missing here. `--within SECONDS` gives it longer."
                .to_owned(),
        );
    }
    let spare = minutes(lesson.rules.wanted_spare.value.get());
    lines.push(String::new());
    lines.push(format!(
        "All at the usual pace. Fits: at least {spare} to spare before the closing steps; tight: \
         less. How large a change is goes by what the lesson says changes cost."
    ));
    lines.join("\n")
}

/// The search's result, in a sentence.
pub fn verdict(offers: &Offers) -> String {
    match (offers.enough, offers.goal) {
        (Enough::AsItIs, _) => "Every group fits as it is; nothing need change.".to_owned(),
        (Enough::Offered, Goal::Spare) => {
            "Ways to give every group the wanted spare, the smallest change first:".to_owned()
        }
        (Enough::Offered, _) => {
            "Ways to get everyone out by the bell, the smallest change first:".to_owned()
        }
        (Enough::NothingProved, _) => format!(
            "Nothing on the menu is enough: none of its {} changes, nor any two of them together. \
             That is proved, with these figures.",
            offers.menu
        ),
        (Enough::NothingFound, _) => format!(
            "Nothing on the menu was found to be enough, of its {} changes and any two of them \
             together. That none is, is not proved.",
            offers.menu
        ),
        (Enough::NotYet, _) => {
            "Nothing was found that is enough, and not all of the menu has been tried yet."
                .to_owned()
        }
    }
}

fn lines_of(place: usize, offer: &Offer) -> Vec<String> {
    let mut lines = vec![format!("{place:>3}. {}", capital(&offer.words()))];
    lines.push(format!("     {}; {}", outcome(offer), cost(offer)));
    for item in &offer.items {
        let users = users(offer, item);
        if !users.is_empty() && users.len() < offer.of() {
            let few = number(users.len());
            lines.push(format!("     for {few} of the groups: {}", list(&in_short(&users))));
        }
    }
    for ask in offer.asks() {
        lines.push(format!("     {ask}"));
    }
    lines
}

/// The search's result where there is little room; a proof is called one.
pub fn heading(offers: &Offers) -> String {
    let menu = offers.menu;
    match (offers.enough, offers.goal) {
        (Enough::AsItIs, _) => "Every group fits as it is.".to_owned(),
        (Enough::Offered, _) if !offers.all_tried => {
            "Any of these is enough; not all of the menu was tried.".to_owned()
        }
        (Enough::Offered, Goal::Spare) => {
            "With any of these every group has the wanted spare; the least first.".to_owned()
        }
        (Enough::Offered, _) => {
            "With any of these everyone is out by the bell; the least first.".to_owned()
        }
        (Enough::NothingProved, _) => format!(
            "None of the menu's {menu} changes is enough, nor any two of them: proved, with these \
             figures."
        ),
        (Enough::NothingFound, _) => format!(
            "None of the menu's {menu} changes was found to be enough, nor any two of them; that \
             is not proved."
        ),
        (Enough::NotYet, _) if offers.offers.is_empty() => {
            "None found yet; not all of the menu is tried.".to_owned()
        }
        (Enough::NotYet, _) => "Enough so far; not all of the menu is tried.".to_owned(),
    }
}

/// The outcome of an offer, in few words: "ready 10:44, fits"; of one that is
/// not enough, how many are out by the bell.
pub fn short_outcome(offer: &Offer) -> String {
    let served = usize::try_from(offer.served()).unwrap_or(usize::MAX);
    match latest(&offer.lesson, &offer.plan) {
        Some(at) if served == offer.of() => {
            format!("ready {at}, {}", verdict_words(offer.plan.verdict()))
        }
        _ => format!("{} of {} out by the bell", capital(&number(served)), number(offer.of())),
    }
}

/// Up to this cost a change is small: something borrowed, two things done
/// beforehand, another tin (by judgement, as the usual costs are).
const SMALL: f64 = 4.5;
/// Up to this cost it is middling; a longer period or two lessons are beyond.
const MIDDLING: f64 = 10.5;

/// "small".
pub fn size(offer: &Offer) -> &'static str {
    match offer.cost {
        cost if cost <= SMALL => "small",
        cost if cost <= MIDDLING => "middling",
        _ => "large",
    }
}

/// "a small change".
pub fn cost(offer: &Offer) -> String {
    format!("a {} change", size(offer))
}

/// An offer as it is spoken: its place, what it is, what comes of it, its
/// cost.
pub fn spoken(place: usize, offer: &Offer, is_enough: bool) -> String {
    let kind = if is_enough { "Change" } else { "Helps, not enough" };
    let (words, outcome) = (offer.words(), outcome(offer));
    format!("{kind} {place}: {words}. {outcome}. {}", capital(&cost(offer)))
}

/// For whom a part of an offer is, where it is not for all: "ginger traybake
/// in 12 buns: Pair 1 to Pair 4".
pub fn for_whom(offer: &Offer) -> Vec<String> {
    let parts = offer.items.iter().map(|item| (item, users(offer, item)));
    parts
        .filter(|(_, users)| !users.is_empty() && users.len() < offer.of())
        .map(|(item, users)| format!("{}: {}", item.words, list(&in_short(&users))))
        .collect()
}

/// "All ten groups are out by the bell, the last ready at 10:44 with 4 minutes
/// to spare: fits".
pub fn outcome(offer: &Offer) -> String {
    let (served, of) = (usize::try_from(offer.served()).unwrap_or(usize::MAX), offer.of());
    let split = offer.items.iter().any(|i| i.kind == ChangeKind::TwoLessons);
    let who = match (served, of) {
        (served, of) if split && served == of => "All are out by the bell of both lessons".into(),
        (1, 1) => "The one group is out by the bell".to_owned(),
        (served, of) if served == of => format!("All {} groups are out by the bell", number(of)),
        (served, of) => {
            let are = if served == 1 { "is" } else { "are" };
            format!("{} of {} groups {are} out by the bell", capital(&number(served)), number(of))
        }
    };
    let ready = latest(&offer.lesson, &offer.plan);
    let spare = offer.lesson.attending().filter_map(|g| {
        let outcome = offer.plan.group_outcomes()[g.0];
        outcome.spare.map(|spare| spare.get())
    });
    let spare = spare.min().map_or_else(String::new, |m| format!(" with {} to spare", minutes(m)));
    let ready = ready.map(|at| format!(", the last ready at {at}{spare}")).unwrap_or_default();
    format!("{who}{ready}: {}", verdict_words(offer.plan.verdict()))
}
