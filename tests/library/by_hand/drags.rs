//! Things dragged about in generated lessons: each is kept, or refused for a reason that is true.

use std::collections::BTreeMap;
use std::time::Duration;

use ovenbell::check::check;
use ovenbell::edit::set_oven_out;
use ovenbell::file::lesson_of_shapes;
use ovenbell::hand::{Fit, Held, Spot, Thing, hold};
use ovenbell::model::{OvenId, ShelfId, StepId};
use ovenbell::planner::explain::{ExplainLimits, explain};
use ovenbell::units::{Minute, Minutes};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use super::{Scene, in_lesson, kept, only, wrong};
use crate::common::generate;
use crate::common::how_many::how_many;

/// How many drags a default run makes; `OVENBELL_DRAGS` sets another number.
fn drags(usual: u64) -> u64 {
    how_many("OVENBELL_DRAGS", usual)
}

/// A generated lesson in which now and then an oven is broken and something is
/// held.
fn scene(seed: u64, rng: &mut Pcg64Mcg) -> Scene {
    let mut file = generate::lesson_of(seed, rng.random_range(3..=9));
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    if lesson.ovens.len() > 1 && rng.random_bool(0.25) {
        let oven = &lesson.ovens[rng.random_range(0..lesson.ovens.len())].name;
        let mut broken = file.clone();
        assert!(set_oven_out(&mut broken, oven, true));
        // Where units do not share, one without an oven is no lesson.
        if lesson_of_shapes(&broken, &[]).is_ok() {
            file = broken;
        }
    }
    let mut scene = Scene::of(file, 200);
    if rng.random_bool(0.4) {
        for _ in 0..rng.random_range(1..=3) {
            let served = scene.served();
            if served.is_empty() {
                break;
            }
            let g = served[rng.random_range(0..served.len())];
            let steps = scene.lesson.method_of(g, scene.plan.plan().choice(g).unwrap().method);
            let what = match rng.random_range(0..5) {
                0 => Held::Oven(g),
                1 => Held::Tin(g),
                2 => Held::Group(g),
                _ => Held::Step(g, StepId(rng.random_range(0..steps.steps.len()))),
            };
            let file = hold(&scene.file, &scene.lesson, &scene.plan, what);
            let lesson = lesson_of_shapes(&file, &[]).unwrap();
            let plan = check(&lesson, scene.plan.plan().clone()).unwrap();
            scene = Scene { file, lesson, plan };
        }
    }
    scene
}

fn drag(scene: &Scene, rng: &mut Pcg64Mcg) -> Option<(Thing, Spot)> {
    let served = scene.served();
    if served.is_empty() {
        return None;
    }
    let g = served[rng.random_range(0..served.len())];
    let plan = scene.plan.plan();
    let method = scene.lesson.method_of(g, plan.choice(g)?.method);
    let period = &scene.lesson.periods[scene.lesson.group(g).period.0];
    let mut near = |at: Minute| {
        if rng.random_bool(0.6) {
            at + Minutes::new(rng.random_range(-6..=8))
        } else {
            Minute::new(rng.random_range(period.start.get()..period.end.get()))
        }
    };
    let own = in_lesson(&scene.lesson, plan, g);
    let first = *own.values().min()?;
    let load = plan.loads.iter().find(|l| l.group == g);
    let kind = scene.lesson.groups.len() + g.0 + usize::try_from(first.get()).unwrap_or(0);
    let (step_at, bake_at, row_at) = {
        let names: Vec<&String> = own.keys().collect();
        let name = names[kind % names.len()].clone();
        let step = method.step_named(&name)?;
        ((step, near(own[&name])), load.map(|l| near(l.start)), near(first))
    };
    let place = (load.is_some() && rng.random_bool(0.8)).then(|| {
        let oven = rng.random_range(0..scene.lesson.ovens.len());
        let shelf = rng.random_range(0..scene.lesson.ovens[oven].shelves.len());
        (OvenId(oven), rng.random_bool(0.7).then_some(ShelfId(shelf)))
    });
    Some(match rng.random_range(0..10) {
        0..4 => {
            let (step, at) = step_at;
            (Thing::Step(g, step), Spot { at: Some(at), place: None })
        }
        4..8 if bake_at.is_some() => {
            let at = bake_at.filter(|_| place.is_none() || rng.random_bool(0.7));
            (Thing::Bake(g), Spot { at, place })
        }
        _ => {
            let place = place.filter(|_| rng.random_bool(0.3));
            (Thing::Row(g), Spot { at: Some(row_at), place })
        }
    })
}

#[test]
fn every_drag_is_kept_or_refused_for_a_true_reason() {
    let mut told: BTreeMap<String, usize> = BTreeMap::new();
    let mut faults = Vec::new();
    let (mut kept, mut refused, mut open) = (0_u64, 0_u64, 0_u64);
    let (mut asked, mut explained) = (0, 0);
    let all = drags(200);
    let begun = std::time::Instant::now();
    let mut slowest = Duration::ZERO;
    for i in 0.. {
        if kept + refused >= all {
            break;
        }
        let mut rng = Pcg64Mcg::seed_from_u64(7_000 + i);
        let scene = scene(i, &mut rng);
        for n in 0..8 {
            let Some((thing, spot)) = drag(&scene, &mut rng) else { continue };
            let then = std::time::Instant::now();
            let said = scene.put(thing, spot);
            slowest = slowest.max(then.elapsed());
            let key = match &said {
                Ok(put) => format!("{:?}", put.fit),
                Err(r) => format!("refused: {}{}", r.rule, if r.proved { "" } else { " (open)" }),
            };
            *told.entry(key).or_default() += 1;
            match &said {
                Ok(_) => kept += 1,
                Err(r) => {
                    refused += 1;
                    open += u64::from(!r.proved);
                    if std::env::var("OVENBELL_TELL").is_ok() {
                        println!("{i}.{n} {:?} {spot:?}\n    [{}] {}", thing, r.rule, r.sentence);
                    }
                }
            }
            if let Err(r) = &said
                && refused % 10 == 0
            {
                asked += 1;
                let groups = self::kept(&scene, thing.group());
                let alone = only(&r.lesson, &groups);
                let limits = ExplainLimits { within: Duration::from_secs(1), ..Default::default() };
                let why = explain(&alone, &[thing.group()], limits);
                explained += u32::from(why.iter().all(|w| w.is_proved()));
            }
            for what in wrong(&scene, thing, spot, &said) {
                let told = said.as_ref().err().map(|r| r.sentence.clone());
                faults.push(format!("{i}.{n} {thing:?} {spot:?}: {what} {told:?}"));
            }
        }
    }
    println!("{kept} kept, {refused} refused ({open} not proved), {:?}", begun.elapsed());
    println!("slowest {slowest:?}; {told:#?}");
    println!("{explained} of {asked} refusals asked about are explained otherwise too");
    assert!(explained * 10 >= asked * 8, "{explained} of {asked} explained otherwise too");
    assert!(faults.is_empty(), "{} of {all}\n{}", faults.len(), faults.join("\n"));
    assert!(kept * 5 > all && refused * 5 > all, "both in a decent share: {kept}, {refused}");
    assert!(open * 20 <= all, "few are left open: {open}");
}

#[test]
fn what_lights_up_is_what_a_drop_comes_to() {
    let (mut asked, mut same_rule, mut refused) = (0, 0, 0);
    let mut faults = Vec::new();
    let mut told: BTreeMap<String, usize> = BTreeMap::new();
    let mut slowest = Duration::ZERO;
    for i in 0..drags(200).div_ceil(20) {
        let mut rng = Pcg64Mcg::seed_from_u64(90_000 + i);
        let scene = scene(50 + i, &mut rng);
        let Some((thing, _)) = drag(&scene, &mut rng) else { continue };
        let then = std::time::Instant::now();
        let rows = scene.spots(thing);
        slowest = slowest.max(then.elapsed());
        let period = &scene.lesson.periods[scene.lesson.group(thing.group()).period.0];
        for row in &rows {
            let minutes: Vec<i32> = row.fits.iter().map(|(at, _)| at.get()).collect();
            let all: Vec<i32> = (period.start.get()..period.end.get()).collect();
            assert_eq!(minutes, all, "every minute of the period");
            assert_eq!(row.place.is_some(), matches!(thing, Thing::Bake(_)));
        }
        let shelves: usize = scene.lesson.ovens.iter().map(|o| o.shelves.len()).sum();
        let bake = matches!(thing, Thing::Bake(_));
        assert_eq!(rows.len(), if bake { shelves } else { 1 });
        let lit: Vec<_> =
            rows.iter().flat_map(|r| r.fits.iter().map(move |f| (r.place, *f))).collect();
        for _ in 0..12 {
            let (place, (at, fit)) = lit[rng.random_range(0..lit.len())];
            let place = place.map(|(oven, shelf)| (oven, Some(shelf)));
            let spot = Spot { at: Some(at), place };
            let said = scene.put(thing, spot);
            asked += 1;
            let fault = match (fit, &said) {
                (Fit::Stays, Ok(put)) => put.fit != Fit::Stays,
                (Fit::Stays, Err(_)) | (Fit::Refused(_), Ok(_)) => true,
                (Fit::OthersMove | Fit::AtACost, said) => said.is_err(),
                (Fit::Refused(rule), Err(said)) => {
                    refused += 1;
                    same_rule += u32::from(said.rule == rule);
                    if said.rule != rule && std::env::var("OVENBELL_TELL").is_ok() {
                        println!(
                            "{i} {thing:?} {spot:?} lit {rule}: [{}] {}",
                            said.rule, said.sentence
                        );
                    }
                    false
                }
            };
            let came = match &said {
                Ok(put) => format!("{:?}", put.fit),
                Err(r) => format!("refused {}", r.rule),
            };
            let lit = match fit {
                Fit::Refused(rule) => format!("refused {rule}"),
                fit => format!("{fit:?}"),
            };
            if fault {
                faults.push(format!("{i} {thing:?} {spot:?}: lit {lit}, put {came}"));
            }
            *told.entry(format!("lit {lit}, put {came}")).or_default() += 1;
        }
    }
    println!("{asked} asked, {refused} refused, {same_rule} by the same rule, slowest {slowest:?}");
    println!("{told:#?}");
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(same_rule * 10 >= refused * 8, "{same_rule} of {refused} by the same rule");
}
