//! What the words of steps say of the bake, its oven and tin, and of minutes:
//! put into a recipe as suggestions, each marked for review.

use super::LONGEST_TEXT;
use super::instructions::Told;
use super::lasts;
use super::oven_words::{Heat, heats, lengths, stated, tins, told};
use super::review::is_without_minutes;
use crate::file::format::{
    RecipeShape, ReviewShape, ReviewedShape as About, StatedMinutes, StepKindShape, StepShape,
    TinChoiceShape, TinShape,
};
use crate::finding::shortened;
use crate::units::plain_number;
use crate::words::list;

/// Longest words that are quoted for review.
const QUOTED: usize = 300;
/// Minutes above which a step is not believed: a day.
const LONGEST: f64 = 1440.0;

/// Words as they are quoted for review.
pub(super) fn quoted(text: &str) -> String {
    shortened(text, QUOTED)
}

/// Marks a part of a recipe for review.
pub(super) fn mark(
    review: &mut Vec<ReviewShape>,
    about: About,
    text: &str,
    why: impl Into<String>,
) {
    let entry = ReviewShape { about, text: quoted(text), why: why.into() };
    if !review.contains(&entry) {
        review.push(entry);
    }
}

/// The words with which steps begin that happen by themselves.
const BY_ITSELF: [&str; 16] = [
    "leave to rise",
    "leave to prove",
    "leave to rest",
    "leave to stand",
    "let rise",
    "let rest",
    "let stand",
    "prove",
    "proof",
    "rest",
    "chill",
    "refrigerate",
    "leave in the fridge",
    "freeze",
    "set aside",
    "allow to",
];
/// The words with which steps of cooling begin.
const COOLS: [&str; 7] = [
    "cool",
    "leave to cool",
    "let cool",
    "allow to cool",
    "let it cool",
    "let them cool",
    "leave in the tin",
];

/// Puts into a recipe's steps and tins what their words say.
pub(super) fn suggest(
    recipe: &mut RecipeShape,
    of: &[Told],
    (cook_minutes, known, tools): (Option<f64>, &[TinShape], &str),
) {
    let RecipeShape { methods, tins, review, .. } = recipe;
    for told in of.iter().filter(|told| told.text.len() > LONGEST_TEXT) {
        mark(
            review,
            About::Step,
            &told.text,
            "too long to be looked through for minutes and temperatures",
        );
    }
    let Some(method) = methods.first_mut() else { return };
    let bake = bake_among(of, cook_minutes, review);
    if let Some((at, _)) = bake
        && let Some(step) = method.steps.get_mut(at)
    {
        step.kind = StepKindShape::Bake;
        "bake".clone_into(&mut step.name);
    }
    for (i, (step, told)) in method.steps.iter_mut().zip(of).enumerate() {
        if bake.is_none_or(|(at, _)| at != i) {
            by_hand(step, told, review);
        }
    }
    let without: Vec<&str> =
        method.steps.iter().filter(|s| is_without_minutes(s)).map(|s| s.name.as_str()).collect();
    if !without.is_empty() {
        let few: Vec<String> = without.iter().take(8).map(|n| (*n).to_owned()).collect();
        let few = if few.len() < without.len() { few.join(", ") + " …" } else { few.join(", ") };
        let why = match without.len() {
            1 => "one step has no minutes: give it some".to_owned(),
            n => format!("{n} steps have no minutes: give each its own"),
        };
        mark(review, About::Minutes, &few, why);
    }
    let words: Vec<&str> = of.iter().map(|t| t.text.as_str()).chain([tools]).collect();
    tins.extend(tin(&words, bake.map(|(_, minutes)| minutes), known, review));
}

fn speaks_of_baking(text: &str) -> bool {
    let lower = text.to_lowercase();
    lower
        .split(|c: char| !c.is_alphabetic())
        .any(|w| matches!(w, "bake" | "bakes" | "baking" | "baked"))
}

/// The step that is the bake, and its minutes, as far as there is only one.
fn bake_among(
    of: &[Told],
    cook_minutes: Option<f64>,
    review: &mut Vec<ReviewShape>,
) -> Option<(usize, Option<(f64, f64)>)> {
    let timed = |t: &Told| !lengths(&t.text).is_empty() || t.minutes.is_some();
    let all: Vec<usize> = (0..of.len()).filter(|i| speaks_of_baking(&of[*i].text)).collect();
    let with_minutes: Vec<usize> = all.iter().copied().filter(|i| timed(&of[*i])).collect();
    let at = match (with_minutes.as_slice(), all.as_slice()) {
        ([only], _) => *only,
        ([], [only]) if cook_minutes.is_some() => *only,
        ([], []) => return None,
        ([], _) => {
            mark(
                review,
                About::Step,
                "",
                "steps speak of baking, but of no minutes: say which is the bake",
            );
            return None;
        }
        (several, _) => {
            for i in several {
                let why = "several steps speak of baking: say which is the bake";
                mark(review, About::Step, &of[*i].text, why);
            }
            return None;
        }
    };
    let text = &of[at].text;
    mark(review, About::Step, text, "taken for the bake, as it speaks of baking");
    let minutes = match (lengths(text).as_slice(), of[at].minutes) {
        ([only], _) => Some(*only),
        ([], Some(beside)) => Some((beside, beside)),
        ([], None) => cook_minutes.map(|minutes| (minutes, minutes)).inspect(|minutes| {
            mark(
                review,
                About::Tin,
                text,
                format!("its minutes are taken from cookTime: {}", told(*minutes)),
            );
        }),
        (several, _) => {
            let several: Vec<String> = several.iter().map(|m| told(*m)).collect();
            mark(
                review,
                About::Tin,
                text,
                format!("which are the bake's minutes: {}?", several.join(", ")),
            );
            None
        }
    };
    let believed = minutes.filter(|(low, high)| *low > 0.0 && *high <= LONGEST);
    Some((at, believed))
}

/// Kind and minutes of a step that is no bake.
fn by_hand(step: &mut StepShape, of: &Told, review: &mut Vec<ReviewShape>) {
    let lower = of.text.to_lowercase();
    let begins = |words: &[&str]| {
        words.iter().any(|w| {
            lower.strip_prefix(w).is_some_and(|rest| !rest.starts_with(char::is_alphabetic))
        })
    };
    if begins(&COOLS) {
        step.kind = StepKindShape::Cool;
        mark(review, About::Step, &of.text, "taken for cooling, by its first words");
    } else if begins(&BY_ITSELF) {
        step.kind = StepKindShape::Wait;
        mark(review, About::Step, &of.text, "taken for what happens by itself, by its first words");
    }
    if let Some(minutes) = of.minutes.filter(|m| *m <= LONGEST) {
        step.minutes = Some(StatedMinutes::Usual(minutes));
        return;
    }
    match lengths(&of.text).as_slice() {
        [] => {}
        [only] if only.0 > 0.0 && only.1 <= LONGEST => {
            step.minutes = Some(stated(*only));
            mark(
                review,
                About::Step,
                &of.text,
                format!("its minutes are taken from its words: {}", told(*only)),
            );
        }
        several => {
            let several: Vec<String> = several.iter().map(|m| told(*m)).collect();
            mark(
                review,
                About::Step,
                &of.text,
                format!("which are its minutes: {}?", several.join(", ")),
            );
        }
    }
}

/// The way of baking that the words tell, where they tell of one only. `bake`
/// is `None` where no step was taken for the bake.
fn tin(
    words: &[&str],
    bake: Option<Option<(f64, f64)>>,
    known: &[TinShape],
    review: &mut Vec<ReviewShape>,
) -> Option<TinChoiceShape> {
    let mut all_heats: Vec<(Heat, &str)> = Vec::new();
    let mut all_tins: Vec<(&TinShape, i64, &str)> = Vec::new();
    for text in words {
        for heat in heats(text) {
            if !all_heats.iter().any(|(h, _)| (h.celsius - heat.celsius).abs() < 1e-6) {
                all_heats.push((heat, text));
            }
        }
        for (tin, count) in tins(text, known) {
            if !all_tins.iter().any(|(t, _, _)| t.name == tin.name) {
                all_tins.push((tin, count, text));
            }
        }
    }
    let celsius = match all_heats.as_slice() {
        [(heat, text)] => {
            let why =
                format!("read as {} °C without a fan, {}", plain_number(heat.celsius), heat.how);
            mark(review, About::Tin, text, why);
            Some(heat.celsius)
        }
        several => {
            for (heat, text) in several {
                let why = format!(
                    "one of several temperatures: {} °C; say which",
                    plain_number(heat.celsius)
                );
                mark(review, About::Tin, text, why);
            }
            None
        }
    };
    let minutes = bake.flatten();
    match (all_tins.as_slice(), bake) {
        ([(tin, count, text)], Some(_)) => {
            let count = (*count > 1).then_some(*count);
            mark(
                review,
                About::Tin,
                text,
                format!("taken for the library's \"{}\": measure your own", tin.name),
            );
            Some(TinChoiceShape {
                count,
                minutes: minutes.map(stated),
                ..TinChoiceShape::new(&tin.name, celsius)
            })
        }
        ([], None) => None,
        (several, _) => {
            let names: Vec<String> =
                several.iter().map(|(t, _, _)| format!("\"{}\"", t.name)).collect();
            let found = match (celsius, minutes) {
                (Some(c), Some(m)) => format!("it bakes at {} °C for {}", plain_number(c), told(m)),
                (Some(c), None) => format!("it bakes at {} °C", plain_number(c)),
                (None, Some(m)) => format!("it bakes for {}", told(m)),
                (None, None) => "neither temperature nor minutes are sure".to_owned(),
            };
            let which = match names.len() {
                0 => "no tin is named that the library knows".to_owned(),
                1 => format!("{} is named, but no bake", names[0]),
                _ => format!("several tins are named, {}", list(&names)),
            };
            mark(review, About::Tin, "", format!("{which}; {found}: add its tin"));
            None
        }
    }
}

/// The minutes of a length of time that is stated in text; marks one that is none.
pub(super) fn minutes_stated(
    field: &str,
    text: &str,
    review: &mut Vec<ReviewShape>,
) -> Option<f64> {
    let minutes = lasts::minutes(text);
    if minutes.is_none() {
        mark(
            review,
            About::Recipe,
            text,
            format!("{field} is no length of time such as PT25M, and is not gone by"),
        );
    }
    minutes
}
