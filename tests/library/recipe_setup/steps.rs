//! Steps put in, taken out, moved and set in order; what the library knows of
//! them. What comes after what is read off the lesson that is built of a file,
//! not off what is tested.

use std::collections::BTreeSet;

use ovenbell::file::format::*;
use ovenbell::file::{lesson_or_findings, library};
use ovenbell::model::{Method, StepId};
use ovenbell::setup::steps::{self, At, Joins, arrows};
use ovenbell::setup::suggest;

use crate::common::generate;

const FIRST: At = At { recipe: 0, method: 0 };

/// Library recipes by themselves, and generated lessons.
fn lessons() -> Vec<LessonFile> {
    let of_library =
        library::recipes().unwrap().into_iter().map(|r| library::lesson_of(r).unwrap());
    let generated = (0..80).map(generate::lesson);
    let all = of_library.chain(generated).map(|mut file| {
        // What is done outside the lesson asks for more of the order than a method does.
        file.beforehand.clear();
        file.collected.clear();
        file
    });
    all.filter(|f| lesson_or_findings(f, &[]).0.is_some()).collect()
}

fn methods(file: &LessonFile) -> Vec<At> {
    let of = |(recipe, r): (usize, &RecipeShape)| {
        (0..r.methods.len()).map(move |method| At { recipe, method }).collect::<Vec<At>>()
    };
    file.recipes.iter().enumerate().flat_map(of).collect()
}

fn shape(file: &LessonFile, at: At) -> &MethodShape {
    &file.recipes[at.recipe].methods[at.method]
}

fn built(file: &LessonFile, at: At) -> Method {
    let (lesson, findings) = lesson_or_findings(file, &[]);
    let lesson = lesson.unwrap_or_else(|| panic!("{findings:?}"));
    lesson.recipes[at.recipe].methods[at.method].clone()
}

type Links = BTreeSet<(String, String, String)>;

/// Links by the names of their steps, with their gaps; and where the tin is
/// held.
fn meaning(file: &LessonFile, at: At) -> (Links, Option<(String, String)>) {
    let method = built(file, at);
    let name = |s: StepId| method.steps[s.0].name.clone();
    let gap = |l: &ovenbell::model::Link| format!("{:?} {:?}", l.least, l.longest);
    let links = method.links.iter().map(|l| (name(l.from), name(l.to), gap(l))).collect();
    (links, method.tin_held.map(|(a, b)| (name(a), name(b))))
}

/// Which step comes before which, by any way.
fn order(file: &LessonFile, at: At) -> BTreeSet<(String, String)> {
    let method = built(file, at);
    let mut order: BTreeSet<(usize, usize)> =
        method.links.iter().map(|l| (l.from.0, l.to.0)).collect();
    loop {
        let more: Vec<(usize, usize)> = order
            .iter()
            .flat_map(|&(a, b)| order.iter().filter(move |c| c.0 == b).map(move |c| (a, c.1)))
            .filter(|pair| !order.contains(pair))
            .collect();
        if more.is_empty() {
            break;
        }
        order.extend(more);
    }
    let name = |s: usize| method.steps[s].name.clone();
    order.into_iter().map(|(a, b)| (name(a), name(b))).collect()
}

fn names(file: &LessonFile, at: At) -> Vec<String> {
    shape(file, at).steps.iter().map(|s| s.name.clone()).collect()
}

fn hand(name: &str) -> StepShape {
    StepShape {
        name: name.into(),
        minutes: Some(StatedMinutes::Usual(2.0)),
        ..StepShape::default()
    }
}

#[test]
fn moving_a_step_changes_nothing_but_the_list() {
    let mut moves = 0;
    for (number, file) in lessons().into_iter().enumerate() {
        for at in methods(&file) {
            let before = meaning(&file, at);
            let count = shape(&file, at).steps.len();
            for from in 0..count {
                let to = (from * 5 + number) % count;
                let mut moved = file.clone();
                let name = names(&file, at)[from].clone();
                steps::move_to(&mut moved, at, from, to).unwrap();
                assert_eq!(names(&moved, at)[to], name);
                assert_eq!(meaning(&moved, at), before, "{name} from {from} to {to}");
                steps::move_to(&mut moved, at, to, from).unwrap();
                assert_eq!(names(&moved, at), names(&file, at));
                assert_eq!(meaning(&moved, at), before, "{name} back to {from}");
                moves += 1;
            }
        }
    }
    assert!(moves > 1000, "{moves}");
}

#[test]
fn an_arrow_is_drawn_if_and_only_if_it_makes_no_ring() {
    let (mut drawn, mut refused) = (0, 0);
    for file in lessons().into_iter().step_by(4) {
        for at in methods(&file) {
            let before = order(&file, at);
            let all = names(&file, at);
            let bake = shape(&file, at).steps.iter().position(|s| s.kind == StepKindShape::Bake);
            let ends = |i: usize, out: bool| match bake {
                Some(b) if b == i && out => "take out".to_owned(),
                Some(b) if b == i => "load".to_owned(),
                _ => all[i].clone(),
            };
            for (from, to) in (0..all.len()).flat_map(|a| (0..all.len()).map(move |b| (a, b))) {
                let mut with = file.clone();
                match steps::draw(&mut with, at, from, to) {
                    Ok(()) => {
                        let now = order(&with, at);
                        assert!(now.contains(&(ends(from, true), ends(to, false))));
                        assert!(now.is_superset(&before));
                        drawn += 1;
                    }
                    Err(why) => {
                        let ring =
                            from == to || before.contains(&(ends(to, true), ends(from, false)));
                        assert!(ring, "{} to {}: {why}", all[from], all[to]);
                        assert!(with == file);
                        refused += 1;
                    }
                }
            }
        }
    }
    assert!(drawn > 500 && refused > 500, "{drawn} drawn, {refused} refused");
}

/// weigh → mix → fill → bake → cool, washing up after fill.
fn plain() -> LessonFile {
    let cool = StepShape { kind: StepKindShape::Cool, ..hand("cool") };
    let bake = StepShape { name: "bake".into(), kind: StepKindShape::Bake, ..StepShape::default() };
    let wash = StepShape { after: Some(vec!["fill".into()]), ..hand("wash up") };
    let method = MethodShape {
        name: "way".into(),
        steps: vec![hand("weigh"), hand("mix"), hand("fill"), bake, cool, wash],
        links: vec![LinkShape {
            from: "mix".into(),
            to: "bake".into(),
            least: None,
            longest: Some(15.0),
        }],
        holds: vec![HoldShape {
            kit: "bowl".into(),
            count: None,
            from: "mix".into(),
            to: "wash up".into(),
        }],
        tin_held: None,
    };
    let tin = TinChoiceShape {
        minutes: Some(StatedMinutes::Usual(15.0)),
        step_minutes: Entries(vec![("fill".into(), StatedMinutes::Usual(3.0))]),
        ..TinChoiceShape::new("12-hole bun tray", 180.0)
    };
    let recipe = RecipeShape {
        name: "buns".into(),
        source: SourceShape::Own,
        notes: Vec::new(),
        ingredients: Vec::new(),
        batter_ml: None,
        bake: BakeShape::default(),
        methods: vec![method],
        tins: vec![tin],
        ..RecipeShape::default()
    };
    let mut file = library::lesson_of(recipe).unwrap();
    file.locks.push(LockShape {
        group: "Pair".into(),
        step: Some("mix".into()),
        at: Some(10),
        ..LockShape::default()
    });
    file
}

#[test]
fn a_ring_is_named_step_by_step() {
    let mut file = plain();
    let mut draw = |from, to| steps::draw(&mut file, FIRST, from, to);
    assert_eq!(draw(2, 1).unwrap_err(), "fill waits for mix already");
    assert_eq!(draw(5, 0).unwrap_err(), "wash up waits for weigh already, by way of mix, fill");
    assert_eq!(draw(3, 3).unwrap_err(), "bake cannot wait for itself");
    assert!(draw(0, 17).is_err());
    // A gap alone orders steps as well.
    let method = &mut file.recipes[0].methods[0];
    method.steps[3].after = Some(vec![]);
    assert_eq!(steps::draw(&mut file, FIRST, 3, 1).unwrap_err(), "bake waits for mix already");
}

#[test]
fn arrows_go_and_come() {
    let mut file = plain();
    steps::erase(&mut file, FIRST, 1, 2).unwrap();
    assert_eq!(shape(&file, FIRST).steps[2].after, Some(vec![]));
    assert!(!order(&file, FIRST).contains(&("mix".into(), "fill".into())));
    steps::draw(&mut file, FIRST, 1, 2).unwrap();
    assert_eq!(shape(&file, FIRST).steps[2].after, Some(vec!["mix".into()]));
    // Drawn twice is drawn once.
    let once = file.clone();
    steps::draw(&mut file, FIRST, 1, 2).unwrap();
    assert!(file == once);
    let why = steps::erase(&mut file, FIRST, 1, 3).unwrap_err();
    assert_eq!(why, "how long bake may wait after mix is set; take that away first");
}

#[test]
fn a_gap_is_set_changed_and_taken_away() {
    let mut file = plain();
    let links = |file: &LessonFile| shape(file, FIRST).links.clone();
    steps::set_gap(&mut file, FIRST, (1, 3), (Some(2.0), Some(10.0))).unwrap();
    assert_eq!(links(&file).len(), 1);
    assert_eq!((links(&file)[0].least, links(&file)[0].longest), (Some(2.0), Some(10.0)));
    steps::set_gap(&mut file, FIRST, (4, 5), (None, Some(5.0))).unwrap();
    assert_eq!(links(&file).len(), 2);
    let before = order(&file, FIRST);
    steps::set_gap(&mut file, FIRST, (4, 5), (None, None)).unwrap();
    assert_eq!(links(&file).len(), 1);
    assert_eq!(order(&file, FIRST), before, "it still comes after");
    for gap in [(Some(5.0), Some(2.0)), (Some(-1.0), None), (None, Some(f64::NAN))] {
        assert!(steps::set_gap(&mut file, FIRST, (1, 3), gap).is_err(), "{gap:?}");
    }
    assert!(steps::set_gap(&mut file, FIRST, (3, 1), (None, Some(5.0))).is_err());
}

#[test]
fn a_step_put_into_a_chain_parts_the_two_beside_it() {
    let mut file = plain();
    steps::add(&mut file, FIRST, 2, hand("beat"), Joins::Chain).unwrap();
    let now = order(&file, FIRST);
    let before = |a: &str, b: &str| now.contains(&(a.to_owned(), b.to_owned()));
    assert!(before("mix", "beat") && before("beat", "fill"));
    // Nothing had to be written out.
    assert!(shape(&file, FIRST).steps[..5].iter().all(|s| s.after.is_none()));
    // The tin is held from the step it was held from.
    let mut file = plain();
    let held = meaning(&file, FIRST).1;
    steps::add(&mut file, FIRST, 3, hand("level"), Joins::Chain).unwrap();
    assert!(order(&file, FIRST).contains(&("level".into(), "load".into())));
    assert_eq!(meaning(&file, FIRST).1, held);
}

#[test]
fn a_step_put_beside_the_others_changes_none_of_them() {
    for file in lessons().into_iter().step_by(7) {
        for at in methods(&file) {
            let before = meaning(&file, at);
            for place in 0..=shape(&file, at).steps.len() {
                let mut with = file.clone();
                steps::add(&mut with, at, place, hand("hum"), Joins::Beside).unwrap();
                let (mut links, held) = meaning(&with, at);
                links.retain(|(a, b, _)| a != "hum" && b != "hum");
                assert_eq!((links, held), before, "at {place}");
            }
        }
    }
}

#[test]
fn a_step_that_cannot_be_is_refused() {
    let mut file = plain();
    let mut add = |name: &str, kind| {
        let step = StepShape { kind, ..hand(name) };
        steps::add(&mut file, FIRST, 1, step, Joins::Chain).unwrap_err()
    };
    assert!(add("mix", StepKindShape::Hand).contains("another step in this method called mix"));
    assert!(add("second bake", StepKindShape::Bake).contains("bakes once"));
    assert!(add("take out", StepKindShape::Hand).contains("a step take out of its own"));
    assert!(add(" ", StepKindShape::Hand).contains("needs a name"));
    assert!(steps::copy(&mut file, FIRST, 3).unwrap_err().contains("bakes once"));
    assert!(steps::remove(&mut file, FIRST, 9).is_err());
}

#[test]
fn a_copy_stands_where_its_model_does() {
    for file in lessons().into_iter().step_by(5) {
        for at in methods(&file) {
            for step in 0..shape(&file, at).steps.len() {
                if shape(&file, at).steps[step].kind == StepKindShape::Bake {
                    continue;
                }
                let before = order(&file, at);
                let name = names(&file, at)[step].clone();
                let mut with = file.clone();
                let copy = steps::copy(&mut with, at, step).unwrap();
                let now = order(&with, at);
                let mut wanted = before.clone();
                // Gaps are not copied: a step that only they put in order is not.
                let listed: BTreeSet<(String, String)> = arrows(shape(&with, at))
                    .iter()
                    .filter(|a| a.listed)
                    .map(|a| (names(&with, at)[a.from].clone(), names(&with, at)[a.to].clone()))
                    .collect();
                wanted.extend(now.iter().filter(|(a, b)| *a == copy || *b == copy).cloned());
                assert_eq!(now, wanted, "{name}");
                for (a, b) in listed.iter().filter(|(a, b)| *a == name || *b == name) {
                    let other = |n: &String| if *n == name { copy.clone() } else { n.clone() };
                    assert!(listed.contains(&(other(a), other(b))), "{a} {b}");
                }
            }
        }
    }
    let mut file = plain();
    assert_eq!(steps::copy(&mut file, FIRST, 1).unwrap(), "mix 2");
    assert_eq!(steps::copy(&mut file, FIRST, 2).unwrap(), "mix 3");
    assert_eq!(steps::copy(&mut file, FIRST, 1).unwrap(), "mix 4");
}

#[test]
fn what_is_left_keeps_its_order_when_a_step_goes() {
    let mut removed = 0;
    for file in lessons().into_iter().step_by(2) {
        for at in methods(&file) {
            let before = order(&file, at);
            for step in 0..shape(&file, at).steps.len() {
                let name = names(&file, at)[step].clone();
                if shape(&file, at).steps[step].kind == StepKindShape::Bake {
                    continue;
                }
                let mut without = file.clone();
                steps::remove(&mut without, at, step).unwrap();
                let left: BTreeSet<(String, String)> =
                    before.iter().filter(|(a, b)| *a != name && *b != name).cloned().collect();
                assert_eq!(order(&without, at), left, "{name}");
                removed += 1;
            }
        }
    }
    assert!(removed > 300, "{removed}");
}

#[test]
fn what_spoke_of_a_step_is_seen_to_when_it_goes() {
    let mut file = plain();
    let told = steps::remove(&mut file, FIRST, 1).unwrap();
    assert!(lesson_or_findings(&file, &[]).0.is_some());
    assert_eq!(file.recipes[0].methods[0].holds[0].from, "fill");
    assert!(file.locks.is_empty() && shape(&file, FIRST).links.is_empty());
    assert!(shape(&file, FIRST).steps[1].after.is_none(), "the list says it");
    let told = told.join("; ");
    for words in [
        "bowl is now held from fill to wash up",
        "how long mix may wait no longer matters",
        "the start of mix is no longer fixed",
    ] {
        assert!(told.contains(words), "{told}");
    }
    steps::remove(&mut file, FIRST, 1).unwrap();
    assert!(file.recipes[0].tins[0].step_minutes.0.is_empty());
    // Without its bake the recipe has tins too many, and that is said.
    let bake = names(&file, FIRST).iter().position(|n| n == "bake").unwrap();
    steps::remove(&mut file, FIRST, bake).unwrap();
    let (_, findings) = lesson_or_findings(&file, &[]);
    assert!(findings.iter().all(|f| f.code == "no-bake"), "{findings:?}");
}

#[test]
fn steps_done_outside_the_lesson_are_taken_off_its_lists_once_nobody_has_them() {
    let mut file = plain();
    file.recipes[0].methods[0].steps[0].may_be_beforehand = true;
    let other = MethodShape { name: "other".into(), ..shape(&file, FIRST).clone() };
    file.recipes[0].methods.push(other);
    file.beforehand = vec!["weigh".into()];
    file.groups[0].beforehand = vec!["weigh".into()];
    steps::remove(&mut file, FIRST, 0).unwrap();
    assert_eq!((file.beforehand.len(), file.groups[0].beforehand.len()), (1, 1));
    steps::remove(&mut file, At { recipe: 0, method: 1 }, 0).unwrap();
    assert_eq!((file.beforehand.len(), file.groups[0].beforehand.len()), (0, 0));
}

#[test]
fn the_library_fills_in_steps_it_knows() {
    let kit = ["scales", "ring", "electric whisk"].map(str::to_owned);
    let filled = |name: &str| {
        let mut step = StepShape { name: name.into(), ..StepShape::default() };
        let known = suggest::step(name).unwrap().expect(name);
        let missing = suggest::fill(&mut step, &known, &kit);
        (step, missing)
    };
    for row in library::minutes().unwrap() {
        let (step, _) = filled(&row.step);
        assert_eq!(step.minutes, Some(row.minutes), "{}", row.step);
        assert!(matches!(step.minutes, Some(StatedMinutes::ByBand(_))));
    }
    let (melt, _) = filled("Melt");
    assert_eq!(melt.name, "Melt", "as it was typed");
    assert_eq!(melt.kit, Entries(vec![("ring".into(), 1)]));
    assert_eq!(melt.adult, AdultShapeNeed::Near);
    let (beat, _) = filled("beat with electric whisk");
    assert_eq!(beat.kit, Entries(vec![("electric whisk".into(), 1)]));
    let (wash, missing) = filled("wash up");
    assert!(wash.kit.0.is_empty());
    assert_eq!(missing, ["sink"]);
    let (bake, _) = filled("bake");
    assert_eq!((bake.kind, bake.minutes), (StepKindShape::Bake, None));
    let (prove, _) = filled("prove");
    let proving = StatedMinutes::Three(22.0, 25.0, 30.0);
    assert_eq!((prove.kind, prove.minutes), (StepKindShape::Wait, Some(proving)));
    let (cool, _) = filled("cool");
    assert_eq!(cool.kind, StepKindShape::Cool);
    assert!(cool.may_be_collected && cool.minutes.is_some());
    assert!(suggest::step("sing").unwrap().is_none());
    let names = suggest::names().unwrap();
    for name in ["weigh", "prove", "bake"] {
        assert_eq!(names.iter().filter(|n| *n == name).count(), 1, "{name}");
    }
}

#[test]
fn what_the_teacher_said_is_not_overwritten() {
    let known = suggest::step("melt").unwrap().unwrap();
    let mut step = StepShape {
        minutes: Some(StatedMinutes::Usual(9.0)),
        kit: Entries(vec![("bowl".into(), 1)]),
        words: "slowly".into(),
        adult: AdultShapeNeed::With,
        ..hand("melt")
    };
    let before = step.clone();
    suggest::fill(&mut step, &known, &["ring".to_owned()]);
    step.pupil_words.clear();
    assert_eq!(step, before);
}

#[test]
fn a_recipe_to_begin_with_wants_nothing_but_its_bake_minutes() {
    let mut file = library::lesson_of(library::recipe("Tower scones").unwrap().unwrap()).unwrap();
    let recipe = suggest::new_recipe(&mut file, "our own").unwrap();
    assert_eq!(recipe.source, SourceShape::Own);
    file.recipes.push(recipe);
    let (lesson, findings) = lesson_or_findings(&file, &[]);
    assert!(lesson.is_some(), "{findings:?}");
    let codes: Vec<&str> = findings.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["tin-without-minutes"]);
    file.recipes[1].tins[0].minutes = Some(StatedMinutes::Usual(20.0));
    file.groups[0].recipe = "our own".into();
    let (lesson, findings) = lesson_or_findings(&file, &[]);
    assert!(lesson.is_some() && findings.is_empty(), "{findings:?}");
    // In an empty lesson it brings its tin, and wants no kit.
    let mut empty = LessonFile::default();
    let recipe = suggest::new_recipe(&mut empty, "our own").unwrap();
    assert_eq!(empty.tins.len(), 1);
    assert!(recipe.methods[0].steps.iter().all(|s| s.kit.0.is_empty()));
}
