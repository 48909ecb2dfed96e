//! Minutes a lesson leaves out: worked out, planned with, judged, learned.

use crate::common::planned;
use std::sync::atomic::AtomicBool;

use ovenbell::bake::tin_table::tin_table;
use ovenbell::change::{Care, hangs_on};
use ovenbell::check::{CheckedPlan, Verdict, check};
use ovenbell::file::{read_lesson, read_lesson_knowing};
use ovenbell::model::{Lesson, Origin, PastBake, ThreePoint};
use ovenbell::units::{Celsius, ExactMinutes};
use ovenbell::view::tin_words;

/// Two recipes of one batter each; one oven of two shelves; figures invented.
fn lesson(first: &str, second: &str, groups: &str) -> String {
    let recipe = |name: &str, tins: &str| {
        format!(
            r#"(name: "{name}", batter_ml: 900, bake: (tolerance: 5),
            methods: [(name: "all-in-one", steps: [
              (name: "mix", minutes: (4, 5, 6)), (name: "bake", kind: Bake),
              (name: "cool", kind: Cool, minutes: (4, 5, 6))])],
            tins: [{tins}])"#
        )
    };
    format!(
        r#"(format: 2,
        period: (start: "10:00", end: "11:30", opening: [(name: "register", minutes: 5)],
          closing: [(name: "dismissal", minutes: 5)]),
        room: (ovens: [(name: "Oven", shelves: 2, kind: Conventional)]),
        recipes: [{}, {}],
        tins: [
          (name: "square", form: Rect(long_mm: 200, wide_mm: 200), rim_mm: (215, 215), height_mm: 60,
            capacity_ml: 2100),
          (name: "foil", form: Rect(long_mm: 140, wide_mm: 110), rim_mm: (150, 125), height_mm: 45,
            capacity_ml: 700)],
        groups: [{groups}])"#,
        recipe("plain", first),
        recipe("spiced", second)
    )
}

const ONE: &str = r#"(name: "A", recipe: "plain"), (name: "B", recipe: "spiced")"#;
const STATED: &str = r#"(tin: "square", celsius: 180, minutes: (24, 26, 30))"#;

fn planned(lesson: &Lesson) -> CheckedPlan {
    planned::planned(lesson, 3_000)
}

fn bake(minutes: f64) -> PastBake {
    PastBake {
        date: None,
        recipe: "plain".into(),
        tin: "two foils".into(),
        oven: "Oven".into(),
        celsius: None,
        minutes: ExactMinutes::new(minutes).unwrap(),
        note: String::new(),
    }
}

const FOILS: &str = r#"(tin: "square", celsius: 180, minutes: (24, 26, 30)),
    (tin: "foil", label: "two foils", count: 2, celsius: 180)"#;

#[test]
fn a_tin_without_minutes_gets_the_band_as_its_three_minutes() {
    let lesson = read_lesson(&lesson(FOILS, STATED, ONE)).unwrap().lesson;
    let recipe = &lesson.recipes[0];
    let minutes = recipe.tins[1].minutes.unwrap();
    let row = &tin_table(recipe, &lesson.tins, &[])[1];
    let expected = row.expected.as_ref().unwrap();
    assert_eq!(minutes.origin, Origin::Computed);
    // Proofs count with quick minutes, so with the low end of nine bakes of ten.
    assert_eq!(minutes.quick(), expected.estimate.ninety.0);
    assert_eq!(minutes.usual(), expected.estimate.usual);
    assert_eq!(minutes.slow(), expected.estimate.ninety.1);
    // Half the batter over 0.385 of the area stands deeper, 29 mm and not 22.5.
    assert!((row.depth.unwrap() - 450_000.0 / (140.0 * 110.0)).abs() < 1e-6);
    assert!(minutes.usual() > recipe.tins[0].minutes.unwrap().quick());
    // The recipe's own figure stays as it is.
    assert_eq!(recipe.tins[0].minutes.unwrap().usual().get(), 26.0);
    assert_eq!(recipe.tins[0].minutes.unwrap().origin, Origin::Recipe);
    assert!(lesson.assumed.iter().any(|a| a.text.contains("two foils")));
}

/// A bake is no pupil who may be quick: one bake lies within 1.18 times its
/// usual minutes nine times in ten (`OUTCOME_SIGMA`), and is tested from then on.
#[test]
fn a_bake_stated_by_its_usual_minutes_has_one_band_wherever_it_is_told() {
    let stated = r#"(tin: "square", celsius: 180, minutes: 18)"#;
    let one = r#"(name: "A", recipe: "plain")"#;
    let text = lesson(stated, STATED, one);
    let lesson = read_lesson(&text).unwrap().lesson;
    let recipe = &lesson.recipes[0];
    let minutes = recipe.tins[0].minutes.unwrap();
    let three = [minutes.quick(), minutes.usual(), minutes.slow()].map(ExactMinutes::get);
    assert_eq!(three, [15.0, 18.0, 21.5]);
    assert_eq!((minutes.origin, minutes.spread), (Origin::Recipe, Origin::Assumed));
    let table = tin_table(recipe, &lesson.tins, &[]);
    let expected = table[0].expected.as_ref().unwrap();
    assert_eq!(tin_words::band(&expected.estimate), "15 to 21");
    assert_eq!(expected.estimate.ninety, (minutes.quick(), minutes.slow()));
    assert!(lesson.assumed.iter().any(|a| a.text.starts_with("bake in square: 15 to 21½ min")));
    // Stated in full, its ends are those of the band.
    let full = read_lesson(&self::lesson(STATED, STATED, one)).unwrap().lesson;
    let table = tin_table(&full.recipes[0], &full.tins, &[]);
    let (low, high) = table[0].expected.as_ref().unwrap().estimate.ninety;
    assert_eq!((low.get(), high.get()), (24.0, 30.0));
}

/// Steps and bells take 22 minutes beside the bake of 18: what is wished for is
/// never a bake that ends before it can be tested.
#[test]
fn no_bake_is_wished_shorter_than_its_done_test_allows() {
    let stated = r#"(tin: "square", celsius: 180, minutes: 18)"#;
    let mut told = 0;
    for end in ["10:34", "10:36", "10:38", "10:40", "10:42"] {
        let text = lesson(stated, STATED, r#"(name: "A", recipe: "plain")"#)
            .replace("end: \"11:30\"", &format!("end: \"{end}\""));
        let lesson = read_lesson(&text).unwrap().lesson;
        let plan = planned(&lesson);
        for hangs in
            hangs_on(&lesson, &plan, Care { look: 50, ..Care::default() }, &AtomicBool::new(false))
        {
            let values = [hangs.holds, hangs.turns];
            if hangs.figure.starts_with("the bake") {
                told += 1;
                assert!(values.iter().all(|v| *v >= 15.0), "{end}: {}", hangs.sentence());
            }
            if hangs.unit == "min" {
                let halves = values.iter().all(|v| (2.0 * v).fract() == 0.0);
                assert!(halves, "{end}: {}", hangs.sentence());
            }
        }
    }
    assert!(told > 0, "nothing hangs on the bake");
}

#[test]
fn the_planner_plans_with_computed_minutes_and_the_checker_holds_it_to_them() {
    let groups = r#"(name: "A", recipe: "plain", tins: ["two foils"])"#;
    let lesson = read_lesson(&lesson(FOILS, STATED, groups)).unwrap().lesson;
    let plan = planned(&lesson);
    assert_eq!(plan.objective().served, 1);
    let mut parts = lesson.clone().into_parts();
    let other = parts.recipes[0].tins[1].minutes.unwrap().usual().get() + 5.0;
    parts.recipes[0].tins[1].minutes = ThreePoint::usual_only(other, Origin::Computed).ok();
    let breaches = check(&Lesson::new(parts).unwrap(), plan.plan().clone()).unwrap_err();
    assert_eq!(breaches.iter().map(|b| b.rule.name()).collect::<Vec<_>>(), ["bake-time"]);
}

#[test]
fn two_recipes_share_an_oven_at_a_temperature_between_theirs() {
    let second = r#"(tin: "square", celsius: 190, minutes: (22, 24, 28))"#;
    let text = lesson(STATED, second, ONE);
    let lesson = read_lesson(&text).unwrap().lesson;
    let at = |recipe: usize, celsius: f64| {
        lesson.recipes[recipe].tins[0].minutes_at(Celsius::new(celsius).unwrap())
    };
    // 185 °C is half of both tolerances; neither bears the other's own.
    let (cooler, hotter) = (at(0, 185.0).unwrap(), at(1, 185.0).unwrap());
    assert!(cooler.usual() < at(0, 180.0).unwrap().usual());
    assert!(hotter.usual() > at(1, 190.0).unwrap().usual());
    assert!(at(0, 190.0).is_none() && at(1, 180.0).is_none());
    assert_eq!(cooler.origin, Origin::Computed);
    // Both bake at once in the one oven, and each for its own minutes there.
    let plan = planned(&lesson);
    assert_eq!(plan.objective().served, 2);
    let loads = &plan.plan().loads;
    assert!(loads.iter().all(|l| l.celsius.get() == 185.0), "{loads:?}");
    assert!(loads[0].start < loads[1].end && loads[1].start < loads[0].end);
    // Without tolerance one waits for the other and for the oven.
    let strict = read_lesson(&text.replace("tolerance: 5", "tolerance: 0")).unwrap().lesson;
    let apart = planned(&strict);
    assert!(apart.objective().latest_ready > plan.objective().latest_ready);
    // Which temperature it is, and that its minutes are computed, is said.
    let told = ovenbell::view::assumed::assumed(&lesson, &plan);
    assert!(told.iter().any(|t| t.contains("A bakes at 185 °C instead of 180 °C")), "{told:?}");
    // A plan made with other minutes for 185 °C does not hold.
    let mut parts = lesson.clone().into_parts();
    let other = at(0, 185.0).unwrap().usual().get() + 3.0;
    parts.recipes[0].tins[0].elsewhere[0].1 =
        ThreePoint::usual_only(other, Origin::Computed).unwrap();
    let other = Lesson::new(parts).unwrap();
    let longer = planned(&other).plan().clone();
    assert!(longer.loads.iter().all(|l| l.celsius.get() == 185.0));
    let names = |plan| -> Vec<&str> {
        check(&lesson, plan).unwrap_err().iter().map(|b| b.rule.name()).collect()
    };
    assert_eq!(names(longer), ["bake-time"]);
    // A hair off a temperature its minutes are known at is another one.
    let mut plan = plan.plan().clone();
    let hair = Celsius::new(185.000_000_5).unwrap();
    plan.loads.iter_mut().for_each(|l| l.celsius = hair);
    plan.settings.iter_mut().for_each(|s| s.celsius = hair);
    assert!(names(plan).contains(&"bake-time"));
}

#[test]
fn bakes_that_were_noted_move_the_minutes_and_narrow_the_band() {
    let text = lesson(FOILS, STATED, ONE);
    let of = |past: &[PastBake]| {
        let lesson = read_lesson_knowing(&text, past).unwrap().lesson;
        lesson.recipes[0].tins[1].minutes.unwrap()
    };
    let before = of(&[]);
    let long = before.usual().get() * 1.3;
    let one = of(&[bake(long)]);
    let four = of(&[bake(long), bake(long * 1.03), bake(long * 0.97), bake(long)]);
    assert_eq!((one.origin, four.origin), (Origin::Learned(1), Origin::Learned(4)));
    assert_eq!(four.origin.to_string(), "learned from 4 bakes");
    let width = |m: &ThreePoint| (m.slow().get() / m.quick().get()).ln();
    assert!(width(&before) > width(&one) && width(&one) > width(&four));
    assert!(before.usual() < one.usual() && one.usual() < four.usual());
    assert!((four.usual().get() / long).ln().abs() < 0.05);
    // Names are matched whatever their letter case; other tins teach nothing
    // of this one by themselves.
    let shouted = PastBake { recipe: " PLAIN".into(), tin: "Two Foils".into(), ..bake(long) };
    assert_eq!(of(&[shouted]).usual(), one.usual());
    let strange = PastBake { tin: "a tin that is not there".into(), ..bake(long) };
    assert_eq!(of(&[strange]).usual(), before.usual());
}

#[test]
fn bakes_in_a_stated_tin_teach_the_others_but_do_not_overrule_it() {
    let text = lesson(FOILS, STATED, ONE);
    let slow = |n: usize| vec![PastBake { tin: "square".into(), ..bake(36.0) }; n];
    let of = |past: &[PastBake]| read_lesson_knowing(&text, past).unwrap().lesson;
    let (before, after) = (of(&[]), of(&slow(4)));
    let minutes = |l: &Lesson, tin: usize| l.recipes[0].tins[tin].minutes.unwrap().usual().get();
    assert_eq!(minutes(&after, 0), 26.0);
    assert!(minutes(&after, 1) > minutes(&before, 1) * 1.2);
    let row = &tin_table(&after.recipes[0], &after.tins, &slow(4))[0];
    let (bakes, learned) = row.expected.as_ref().unwrap().by_bakes.unwrap();
    assert_eq!(bakes, 4);
    assert!(learned.usual.get() > 32.0);
}

#[test]
fn how_full_a_tin_looks_will_do_where_nothing_else_is_known() {
    let tins = r#"(tin: "square", celsius: 180, minutes: (24, 26, 30), about_full: Half),
        (tin: "foil", celsius: 180, about_full: Third)"#;
    let text = lesson(tins, STATED, ONE).replace("batter_ml: 900, ", "");
    let lesson = read_lesson(&text).unwrap().lesson;
    let row = &tin_table(&lesson.recipes[0], &lesson.tins, &[])[1];
    assert!((row.each.unwrap().value.get() - 700.0 / 3.0).abs() < 1e-9);
    assert_eq!(row.each.unwrap().origin, Origin::Assumed);
    assert!(lesson.recipes[0].tins[1].minutes.is_some());
    assert!(lesson.assumed.iter().any(|a| a.text.contains("how full \"foil\" is")));
    // Where the volume is known it counts, whatever the tin looks like.
    let known = text.replace("name: \"plain\",", "name: \"plain\", batter_ml: 900,");
    let known = read_lesson(&known).unwrap().lesson;
    let row = &tin_table(&known.recipes[0], &known.tins, &[])[1];
    assert!((row.each.unwrap().value.get() - 900.0).abs() < 1e-9);
}

#[test]
fn cooling_without_minutes_goes_on_until_the_middle_is_cold_enough() {
    let cool = |field: &str| {
        let text = lesson(STATED, STATED, ONE).replace(
            "(name: \"cool\", kind: Cool, minutes: (4, 5, 6))",
            &format!("(name: \"cool\", kind: Cool{field})"),
        );
        let lesson = read_lesson(&text).unwrap().lesson;
        let step = lesson.recipes[0].methods[0].steps.last().unwrap().clone();
        let minutes = lesson.minutes_of(&step, Some(&lesson.recipes[0].tins[0])).unwrap();
        assert_eq!(minutes.origin, Origin::Computed);
        minutes.usual().get()
    };
    // A square of 36 mm baked height; the reference for a 20 cm layer of 35 mm
    // is 52 min to 45 °C and 91 min to 30 °C.
    let (hand_warm, icing) = (cool(""), cool(", cool_to: 30"));
    assert!((50.0..58.0).contains(&hand_warm), "{hand_warm}");
    assert!((88.0..100.0).contains(&icing), "{icing}");
}

#[test]
fn a_computed_bake_proves_a_cannot_only_at_the_low_end_of_its_band() {
    // Register 5, mix 4 (quick), bake, take out and load 0.5 each, cool 4,
    // dismissal 5: the period is short by what the bake takes over 33 min.
    let tins = r#"(tin: "square", celsius: 180, minutes: (24, 26, 30)),
        (tin: "foil", label: "deep foil", count: 1, batch: 0.5, celsius: 180)"#;
    let groups = r#"(name: "A", recipe: "plain", tins: ["deep foil"])"#;
    let text = lesson(tins, STATED, groups);
    let lesson_of = |end: &str| read_lesson(&text.replace("11:30", end)).unwrap().lesson;
    let lesson = lesson_of("11:30");
    let quick = lesson.recipes[0].tins[1].minutes.unwrap().quick().get();
    let chain = 3.75 + 4.0 + 0.5 + quick + 0.5 + 4.0 + 3.75;
    let clock = |minutes: f64| format!("10:{:02}", minutes as u32);
    assert!(chain.ceil() < 60.0, "{chain}");
    let verdict = |end: &str| planned(&lesson_of(end)).verdict();
    assert_eq!(verdict(&clock(chain.floor())), Verdict::Cannot);
    // One minute over the quick chain is enough for there to be no proof.
    assert_eq!(verdict(&clock(chain.ceil() + 1.0)), Verdict::NotRealistically);
}

#[test]
fn one_senseless_line_among_the_noted_bakes_does_no_harm() {
    let text = lesson(FOILS, STATED, ONE);
    let minutes = |past: &[PastBake]| {
        let lesson = read_lesson_knowing(&text, past).unwrap().lesson;
        lesson.recipes[0].tins[1].minutes.unwrap().usual().get()
    };
    let cold = PastBake { tin: "square".into(), celsius: Celsius::new(90.0).ok(), ..bake(30.0) };
    assert_eq!(minutes(&[cold]), minutes(&[]));
    // A slip of the pen moves a tin, but not as if the recipe had said so.
    let slip = minutes(&[bake(10.0 * minutes(&[]))]);
    assert!(slip < 8.0 * minutes(&[]), "{slip}");
}

#[test]
fn stated_cooling_of_one_method_is_not_overruled_by_another() {
    let two = |first: &str, second: &str| {
        let text = lesson(STATED, STATED, ONE);
        let method = |name: &str, cool: &str| {
            format!(
                r#"(name: "{name}", steps: [(name: "mix", minutes: 5), (name: "bake", kind: Bake),
                (name: "cool", kind: Cool{cool})])"#
            )
        };
        let at = text.find("(name: \"all-in-one\"").unwrap();
        let end = at + text[at..].find("])]").unwrap() + 2;
        let methods = format!("{}, {}", method("one", first), method("two", second));
        read_lesson(&format!("{}{methods}{}", &text[..at], &text[end..]))
    };
    let codes = |first: &str, second: &str| -> Vec<&'static str> {
        two(first, second).err().unwrap_or_default().iter().map(|f| f.code).collect()
    };
    assert_eq!(codes("", ", minutes: (4, 5, 6)"), ["no-minutes"]);
    assert_eq!(codes(", cool_to: 30", ", cool_to: 45"), ["no-minutes", "no-minutes"]);
    assert!(two("", "").is_ok() && two(", minutes: 5", ", minutes: 9").is_ok());
}

/// A bake twice as deep in a tin the recipe does not state does not cool in the
/// minutes of its own tin; a proof does not rest on that.
#[test]
fn stated_cooling_is_worked_out_for_a_tin_that_the_recipe_does_not_state() {
    let deep = r#"(tin: "square", celsius: 180, minutes: (24, 26, 30)),
        (tin: "square", label: "twice as deep", batch: 2, celsius: 180),
        (tin: "square", label: "stated", batch: 2, celsius: 180, minutes: (50, 60, 70)),
        (tin: "square", label: "own cooling", batch: 2, celsius: 180, step_minutes: {"cool": (7, 8, 9)})"#;
    let cools = |text: &str, tin: usize| {
        let lesson = read_lesson(text).unwrap().lesson;
        let recipe = &lesson.recipes[0];
        let step = recipe.methods[0].steps.last().unwrap();
        lesson.minutes_of(step, Some(&recipe.tins[tin])).unwrap()
    };
    let text = lesson(deep, STATED, ONE)
        .replace("height_mm: 60", "height_mm: 110")
        .replace("capacity_ml: 2100", "capacity_ml: 4000");
    let (own, other) = (cools(&text, 0), cools(&text, 1));
    assert_eq!((own.usual().get(), other.origin), (5.0, Origin::Computed));
    assert!(other.usual().get() > 1.5 * own.usual().get(), "{}", other.usual().get());
    assert_eq!(other.quick(), own.quick());
    assert_eq!(cools(&text, 2), own, "a stated tin is the recipe's own");
    assert_eq!(cools(&text, 3).usual().get(), 8.0);
    // A lesson of format 1 keeps what it had.
    let older = text.replace("format: 2", "format: 1");
    assert_eq!(cools(&older, 1).usual(), own.usual());
}

#[test]
fn a_tin_of_the_cupboard_cools_for_itself() {
    let text = lesson(STATED, STATED, ONE).replace("kind: Cool, minutes: (4, 5, 6)", "kind: Cool");
    let lesson = read_lesson(&text).unwrap().lesson;
    let table = tin_table(&lesson.recipes[0], &lesson.tins, &[]);
    let of = |row: usize| table[row].cools.unwrap().minutes.get();
    assert_eq!((table[0].choice.is_some(), table[1].choice.is_some()), (true, false));
    assert!((of(0) - of(1)).abs() > 1.0, "{} {}", of(0), of(1));
}
