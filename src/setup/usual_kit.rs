//! Kit that steps usually use, by their names, as steps of the library do.
//!
//! A step gets it as soon as a room counts it. Until then it is wanting, which
//! is told, unless a room says that there is none of it.

use std::sync::OnceLock;

use crate::file::format::{
    Entries, LessonFile, MethodShape, SourceShape, StepKindShape, StepShape,
};
use crate::file::library::{self, LibraryError};
use crate::speech::{English, say_of_library};

/// Needs in the library's table of minutes that are kit counted in rooms; the
/// others are no kit of a room, or everybody has them.
pub(super) const KIT: [&str; 4] = ["scales", "ring", "electric whisk", "sink"];

/// A step of the library and the kit it uses, by its names in every English.
struct Known {
    names: Vec<String>,
    kind: StepKindShape,
    kit: Vec<(Vec<String>, i64)>,
}

/// Kit that a step usually uses and no room counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wanting {
    /// The kit, as the library calls it.
    pub kit: String,
    /// The steps of the lesson's own recipes that usually use it.
    pub steps: Vec<String>,
}

/// Kit a step usually uses, and how much of each: what the library's step of its
/// name uses, or else what most of those use that begin with the same word
/// ("weigh", "wash"). Capital letters do not count. Kit is called as it is
/// `there`, or else as the library calls it.
pub fn usual_kit(step: &StepShape, there: &[String]) -> Vec<(String, i64)> {
    let name = step.name.trim().to_lowercase();
    let alike = || known().iter().filter(|k| k.kind == step.kind);
    let called = |names: &[String], n: i64| {
        let own = there.iter().find(|t| names.contains(t)).or(names.first());
        own.map(|own| (own.clone(), n))
    };
    if let Some(exactly) = alike().find(|k| k.names.contains(&name)) {
        return exactly.kit.iter().filter_map(|(names, n)| called(names, *n)).collect();
    }
    let first = |name: &str| name.split_whitespace().next().map(str::to_owned);
    let Some(word) = first(&name) else { return Vec::new() };
    let like: Vec<&Known> =
        alike().filter(|k| k.names.iter().any(|n| first(n).as_ref() == Some(&word))).collect();
    let mut found: Vec<(String, i64)> = Vec::new();
    for (names, n) in like.iter().flat_map(|k| &k.kit) {
        let users = like.iter().filter(|k| k.kit.iter().any(|(other, _)| other == names)).count();
        let kit = called(names, *n).filter(|_| 2 * users > like.len());
        if let Some((kit, n)) = kit
            && found.iter().all(|(there, _)| *there != kit)
        {
            found.push((kit, n));
        }
    }
    found
}

/// Kit that rooms count and have at least one of.
pub fn counted(file: &LessonFile) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for (name, count) in all_kit(file) {
        if count > 0 && !names.iter().any(|n| n == name) {
            names.push(name.to_owned());
        }
    }
    names
}

/// Gives a step without kit what it usually uses, as far as that is `there`;
/// what is not there, by name.
pub fn give(step: &mut StepShape, there: &[String]) -> Vec<String> {
    let (given, wanting): (Vec<_>, Vec<_>) =
        usual_kit(step, there).into_iter().partition(|(kit, _)| there.contains(kit));
    if step.kit.0.is_empty() {
        step.kit = Entries(given);
    }
    wanting.into_iter().map(|(kit, _)| kit).collect()
}

/// A step that has another name now uses what is usual by that, unless somebody
/// said otherwise before.
pub fn renamed(before: &StepShape, step: &mut StepShape, there: &[String]) {
    let mut usual = StepShape { kit: Entries::default(), ..before.clone() };
    give(&mut usual, there);
    if before.kit == usual.kit {
        step.kit = Entries::default();
        give(step, there);
    }
}

/// Gives kit that rooms count, and did not `before`, to those steps of the
/// lesson's own recipes that usually use it.
pub fn give_new(file: &mut LessonFile, before: &[String]) {
    let there = counted(file);
    let new: Vec<&String> = there.iter().filter(|kit| !before.contains(kit)).collect();
    let own = file.recipes.iter_mut().filter(|r| r.source == SourceShape::Own);
    for step in own.flat_map(|r| &mut r.methods).flat_map(|m| &mut m.steps) {
        for (kit, n) in usual_kit(step, &there) {
            if new.contains(&&kit) && step.kit.0.iter().all(|(has, _)| *has != kit) {
                step.kit.0.push((kit, n));
            }
        }
    }
}

/// Kit that steps of the lesson's own recipes usually use and no room says
/// anything of.
pub fn wanting(file: &LessonFile) -> Vec<Wanting> {
    let said: Vec<String> = all_kit(file).map(|(name, _)| name.to_owned()).collect();
    let own = file.recipes.iter().filter(|r| r.source == SourceShape::Own);
    let mut all: Vec<Wanting> = Vec::new();
    for step in own.flat_map(|r| &r.methods).flat_map(|m| &m.steps) {
        for (kit, _) in usual_kit(step, &said) {
            let has = said.contains(&kit) || step.kit.0.iter().any(|(has, _)| *has == kit);
            match all.iter_mut().find(|w| w.kit == kit) {
                _ if has => {}
                Some(one) if one.steps.contains(&step.name) => {}
                Some(one) => one.steps.push(step.name.clone()),
                None => all.push(Wanting { kit, steps: vec![step.name.clone()] }),
            }
        }
    }
    all
}

/// The steps of all recipes that use some kit, or hold it.
pub fn users(file: &LessonFile, kit: &str) -> Vec<String> {
    let methods = file.recipes.iter().flat_map(|r| &r.methods);
    let of = |method: &MethodShape| -> Vec<String> {
        let steps = method.steps.iter().filter(|s| s.kit.0.iter().any(|(name, _)| name == kit));
        let holds = method.holds.iter().filter(|h| h.kit == kit).map(|h| h.from.clone());
        steps.map(|s| s.name.clone()).chain(holds).collect()
    };
    let mut all: Vec<String> = Vec::new();
    for name in methods.flat_map(of) {
        if !all.contains(&name) {
            all.push(name);
        }
    }
    all
}

/// All kit by name with how much of it there is, place by place.
fn all_kit(file: &LessonFile) -> impl Iterator<Item = (&str, i64)> {
    let of_rooms = file.rooms().flat_map(|r| r.units.iter().map(|u| &u.kit).chain([&r.kit]));
    let all = of_rooms.chain([&file.shared_kit]).flat_map(|kit| &kit.0);
    all.map(|(name, kit)| (name.as_str(), kit.count + kit.borrowed))
}

fn known() -> &'static [Known] {
    static KNOWN: OnceLock<Vec<Known>> = OnceLock::new();
    // The library is read whole by the tests; one that is broken knows nothing.
    KNOWN.get_or_init(|| read().unwrap_or_default())
}

/// A step's name and kind, and the kit it uses.
type StepWithKit = (String, StepKindShape, Vec<(String, i64)>);

fn read() -> Result<Vec<Known>, LibraryError> {
    let mut all: Vec<StepWithKit> = Vec::new();
    for recipe in library::recipes()? {
        for step in recipe.methods.into_iter().flat_map(|m| m.steps) {
            if all.iter().all(|(name, ..)| *name != step.name) {
                all.push((step.name, step.kind, step.kit.0));
            }
        }
    }
    for row in library::minutes()? {
        let at = all.iter().position(|(name, ..)| *name == row.step).unwrap_or(all.len());
        if at == all.len() {
            all.push((row.step, StepKindShape::Hand, Vec::new()));
        }
        let kit = &mut all[at].2;
        for need in KIT.iter().filter(|kit| row.needs.iter().any(|n| n == *kit)) {
            if kit.iter().all(|(name, _)| name != need) {
                kit.push(((*need).to_owned(), 1));
            }
        }
    }
    let everywhere = |name: &str| -> Vec<String> {
        let mut names = vec![name.to_owned()];
        names.extend(English::ALL.into_iter().map(|e| say_of_library(name, e).into_owned()));
        names.dedup();
        names
    };
    let lower = |name: &String| name.to_lowercase();
    let made = all.into_iter().map(|(name, kind, kit)| Known {
        names: everywhere(&name).iter().map(lower).collect(),
        kind,
        kit: kit.iter().map(|(kit, n)| (everywhere(kit), *n)).collect(),
    });
    Ok(made.collect())
}
