//! The smallest changes that make a lesson fit: the ones a teacher would think
//! of, and the same as trying everything.

use std::ops::ControlFlow;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::common::generate;
use crate::common::how_many::how_many_lessons;
use ovenbell::change::{
    Care, Effort, Enough, Goal, Item, LessonOutcome, Offer, Offers, apply_all, changes, hangs_on,
    menu,
};
use ovenbell::check::{CheckedPlan, check, judge_of};
use ovenbell::file::format::LessonFile;
use ovenbell::file::{Loaded, lesson_of_shapes, load_lesson, read_lesson, write_lesson};
use ovenbell::model::{ChangeKind, Lesson};
use ovenbell::planner::{Budget, plan_lesson, plan_until};

fn lesson_file(name: &str) -> Loaded {
    load_lesson(&Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name)).unwrap()
}

fn plan(lesson: &Lesson, decodings: u64) -> Arc<CheckedPlan> {
    let budget = Budget { within: None, decodings: Some(decodings), seed: 1 };
    let judge = |plan| judge_of(lesson)(plan).map(Arc::new);
    plan_lesson(lesson, &budget, &AtomicBool::new(false), judge, |_| {}).unwrap().judged
}

/// Without proofs.
fn plan_only(lesson: &Lesson, decodings: u64) -> CheckedPlan {
    let budget = Budget { within: None, decodings: Some(decodings), seed: 1 };
    let judge = |plan| check(lesson, plan).map_err(|b| format!("{b:?}"));
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    plan_until(lesson, &budget, &AtomicBool::new(false), judge, on).unwrap().judged
}

fn look(loaded: &Loaded, effort: &Effort) -> Offers {
    let now = plan(&loaded.lesson, 1_000);
    let lesson = (&loaded.file, &loaded.lesson);
    changes(lesson, &[], &now, effort, &AtomicBool::new(false), |_| {})
}

fn kinds(offer: &Offer) -> Vec<ChangeKind> {
    let mut kinds: Vec<ChangeKind> = offer.items.iter().map(|i| i.kind).collect();
    kinds.sort_unstable();
    kinds
}

fn everyone(offer: &Offer) -> bool {
    usize::try_from(offer.served()).unwrap() == offer.of()
}

/// The square tin takes 51.5 of 50 minutes at the quickest; the trade's rescue
/// is smaller tins (common practice of the trade). Buns alone take 53 as
/// planned here, so something must go with them.
#[test]
fn the_square_tin_gives_way_to_buns() {
    let found = look(&lesson_file("e-ginger-square.ron"), &Effort::default());
    let first = &found.offers[0];
    assert!(first.words().contains("12 buns"), "{}", first.words());
    assert!(first.words().contains("weigh done beforehand"), "{}", first.words());
    assert_eq!(kinds(first), [ChangeKind::Beforehand, ChangeKind::Tin]);
    assert!(everyone(first));
    assert_eq!(found.enough, Enough::Offered);
    // A tin nobody has minutes for costs more than one of the recipe's own.
    let computed = found.offers.iter().find(|o| o.asks().iter().any(|a| a.contains("worked out")));
    assert!(computed.is_none_or(|c| c.cost > first.cost));
}

/// The creamed traybake in a lesson of so many minutes more.
fn creamed(longer: i32, never: &[&str]) -> Loaded {
    let mut loaded = lesson_file("f-lemon-creamed.ron");
    loaded.file.period.end = format!("11:{longer:02}");
    loaded.file.changes.never.extend(never.iter().map(|n| (*n).to_owned()));
    loaded.lesson = lesson_of_shapes(&loaded.file, &[]).unwrap();
    loaded
}

/// Creamed by hand 68 of 60 minutes; buns 57; weighing beforehand takes five
/// off, which is not enough. All-in-one takes 58 or 59, and zesting, which this
/// lesson's own methods leave out and the library's do not, three more.
#[test]
fn the_creamed_traybake_wants_buns_or_another_method() {
    let found = look(&creamed(0, &[]), &Effort::default());
    assert!(found.offers[0].words().contains("12 buns"), "{}", found.offers[0].words());
    for alone in [ChangeKind::Beforehand, ChangeKind::Method] {
        assert!(found.offers.iter().all(|o| kinds(o) != [alone]), "{alone:?}");
    }
    assert!(found.offers.iter().all(everyone));
    let found = look(&creamed(5, &[]), &Effort::default());
    let method = found.offers.iter().find(|o| kinds(o) == [ChangeKind::Method]).unwrap();
    assert!(method.words().contains("all-in-one"), "{}", method.words());
    assert!(method.asks().iter().any(|a| a.contains("baking powder")));
    assert!(found.offers.iter().all(everyone));
}

/// Made dearer than another method, buns come after it.
#[test]
fn costs_are_the_lessons_to_set() {
    let mut loaded = creamed(5, &["demo", "beforehand"]);
    loaded.file.changes.costs.0.push(("tin".into(), 6.0));
    loaded.lesson = lesson_of_shapes(&loaded.file, &[]).unwrap();
    let found = look(&loaded, &Effort::default());
    assert_eq!(kinds(&found.offers[0]), [ChangeKind::Method]);
    assert!(found.offers.iter().flat_map(kinds).all(|k| k != ChangeKind::Demo));
}

/// Ten whisks for eighteen pairs: eight more, or something that takes the six
/// minutes of a second turn elsewhere.
#[test]
fn whisks_are_borrowed_in_the_number_that_is_wanted() {
    let found = look(&lesson_file("g-whisks-ten.ron"), &Effort { most: 12, ..Effort::default() });
    let kit = found.offers.iter().find(|o| kinds(o) == [ChangeKind::Kit]).unwrap();
    assert!(kit.words().contains("8 more"), "{}", kit.words());
    assert_eq!(kinds(&found.offers[0]), [ChangeKind::Beforehand]);
}

/// Twenty sponges in four places: pairs alone end at 61 of 60 as planned, with
/// weighing beforehand they fit.
#[test]
fn pairs_halve_the_load_on_the_ovens() {
    let effort = Effort { most: 1, ..Effort::default() };
    let found = look(&lesson_file("d-sponges-gas.ron"), &effort);
    assert_eq!(kinds(&found.offers[0]), [ChangeKind::Beforehand, ChangeKind::Pairs]);
    assert_eq!(found.offers[0].of(), 10);
    // Ten sets of 4 minutes, not twenty: what is asked goes by the lesson changed.
    assert!(found.offers[0].asks().iter().any(|a| a.contains("10 groups")));
}

/// Rolls from scratch take 55 of 50 minutes at the quickest: two lessons, or a
/// longer one.
#[test]
fn rolls_want_a_second_lesson() {
    let found = look(&lesson_file("c-rolls-single.ron"), &Effort { most: 6, ..Effort::default() });
    let split = found.offers.iter().find(|o| kinds(o) == [ChangeKind::TwoLessons]).unwrap();
    assert_eq!(split.of(), 20, "ten pairs, twice");
    assert!(everyone(split));
    assert_eq!(split.lesson.periods.len(), 2);
    // Each half is a lesson of its own: the first bakes nothing.
    let baked = |r: &ovenbell::model::Recipe| r.methods[0].bake_steps().is_some();
    assert_eq!(split.lesson.recipes.iter().map(baked).collect::<Vec<_>>(), [false, true]);
    assert!(split.asks().iter().any(|a| a.contains("school's policy")));
}

#[test]
fn a_lesson_that_fits_needs_no_change() {
    let found = look(&lesson_file("a-scones-hour.ron"), &Effort::default());
    assert_eq!((found.goal, found.enough), (Goal::Nothing, Enough::AsItIs));
    assert!(found.offers.is_empty());
}

/// With everything but weighing beforehand out of the question, nothing is
/// enough for rolls in a single: 55 less 3 minutes at the quickest is 52, and
/// the period has 50.
#[test]
fn nothing_on_the_menu_is_said_to_be_enough_where_nothing_is() {
    let mut loaded = lesson_file("c-rolls-single.ron");
    let kinds = ChangeKind::ALL.into_iter().filter(|k| *k != ChangeKind::Beforehand);
    loaded.file.changes.never = kinds.map(|k| k.name().to_owned()).collect();
    loaded.lesson = lesson_of_shapes(&loaded.file, &[]).unwrap();
    let found = look(&loaded, &Effort::default());
    assert_eq!(found.enough, Enough::NothingProved);
    assert!(found.offers.is_empty());
    assert_eq!(found.menu, 1);
}

/// What a change asks of the technician is set against the hours they have.
#[test]
fn minutes_before_the_bell_are_set_against_the_technicians() {
    let mut loaded = lesson_file("g-whisks-ten.ron");
    let technician = |hours| ovenbell::file::format::AdultShape {
        name: "technician".into(),
        hours,
        ..Default::default()
    };
    loaded.file.adults.push(technician(vec![(-30, 20)]));
    loaded.lesson = lesson_of_shapes(&loaded.file, &[]).unwrap();
    let found = look(&loaded, &Effort { most: 1, ..Effort::default() });
    let asks = found.offers[0].asks().join(" ");
    // Eighteen sets at 4 minutes are 72 (as trade custom has it), with 30 there.
    assert!(
        asks.contains("about 72 minutes") && asks.contains("has 30, which is too little"),
        "{asks}"
    );
}

fn met(goal: Goal, lesson: &Lesson, plan: &CheckedPlan) -> bool {
    let o = plan.objective();
    let all = usize::try_from(o.served).unwrap() == lesson.attending().count();
    all && (goal == Goal::Everyone || o.shortfall == 0)
}

/// Every single change and every pair of a menu, planned one by one; of those
/// that are enough only the ones of which no part, and no less of the same, is
/// enough by itself.
fn by_force(loaded: &Loaded, goal: Goal, menu: &[Item]) -> Vec<(f64, Vec<String>)> {
    let mut sets: Vec<Vec<&Item>> = menu.iter().map(|i| vec![i]).collect();
    for (i, a) in menu.iter().enumerate() {
        for b in menu[i + 1..].iter().filter(|b| a.goes_with(b)) {
            sets.push(vec![a, b]);
        }
    }
    sets.retain(|set| {
        let mut file: LessonFile = loaded.file.clone();
        apply_all(&mut file, set.iter().copied()).is_ok()
            && lesson_of_shapes(&file, &[])
                .is_ok_and(|l| [500, 5_000].iter().all(|&n| met(goal, &l, &plan_only(&l, n))))
    });
    let less = |a: &[&Item], b: &[&Item]| {
        let same = a.len() == b.len() && a.iter().zip(b).all(|(x, y)| x.what == y.what);
        !same && a.iter().all(|x| b.iter().any(|y| y.covers(x)))
    };
    let least = sets.iter().filter(|set| !sets.iter().any(|other| less(other, set)));
    let mut all: Vec<(f64, Vec<String>)> = least
        .map(|set| {
            let words = set.iter().map(|i| i.words.clone()).collect();
            (set.iter().map(|i| i.cost).sum(), words)
        })
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all
}

/// The longest menu of which everything is tried.
const LONGEST: usize = 20;

/// The same offers at the same costs as trying everything.
#[test]
fn the_ranking_is_that_of_trying_everything() {
    let mut compared = 0;
    for seed in 0..how_many_lessons(3) * 20 {
        if compared == how_many_lessons(3) {
            break;
        }
        let file = generate::lesson_of(seed, 4);
        let loaded = read_lesson(&write_lesson(&file).unwrap()).unwrap();
        let now = plan(&loaded.lesson, 500);
        let goal = Goal::of(&loaded.lesson, &now);
        if goal == Goal::Nothing {
            continue;
        }
        let menu = menu((&loaded.file, &loaded.lesson), &[], &now, goal);
        // All pairs of a long menu take their time.
        if menu.len() > LONGEST {
            continue;
        }
        compared += 1;
        let expected = by_force(&loaded, goal, &menu);
        let effort = Effort { most: 5, ..Effort::default() };
        let lesson = (&loaded.file, &loaded.lesson);
        let found = changes(lesson, &[], &now, &effort, &AtomicBool::new(false), |_| {});
        let dearest = found.offers.last().map_or(f64::INFINITY, |o| o.cost);
        let within = |e: &&(f64, Vec<String>)| e.0 <= dearest + 1e-9;
        let mut expected: Vec<String> = expected
            .iter()
            .filter(within)
            .map(|(cost, words)| format!("{cost:.3} {}", words.join("; ")))
            .collect();
        let costs: Vec<f64> = found.offers.iter().map(|o| o.cost).collect();
        assert!(costs.windows(2).all(|w| w[0] <= w[1] + 1e-9), "seed {seed}");
        let mut offered: Vec<String> =
            found.offers.iter().map(|o| format!("{:.3} {}", o.cost, o.words())).collect();
        expected.sort();
        offered.sort();
        assert_eq!(offered, expected, "seed {seed}");
        assert_eq!(found.offers.is_empty(), found.enough != Enough::Offered, "seed {seed}");
    }
    assert!(compared >= 3, "only {compared} lessons had something to change");
}

/// A change kept is a lesson file like any other.
#[test]
fn every_offer_can_be_written_read_and_planned() {
    for name in ["e-ginger-square.ron", "f-lemon-creamed.ron", "c-rolls-single.ron"] {
        let found = look(&lesson_file(name), &Effort { most: 5, ..Effort::default() });
        for offer in &found.offers {
            let text = write_lesson(&offer.file).unwrap();
            let again = read_lesson(&text).unwrap_or_else(|f| panic!("{name}: {f:?}\n{text}"));
            assert_eq!(again.file, offer.file);
            assert!(check(&again.lesson, offer.plan.plan().clone()).is_ok(), "{name}");
        }
    }
}

/// On both sides of where a figure turns the verdict, and a step further, the
/// lesson planned as it always is says so; what is proved holds of more plans
/// too.
#[test]
fn figures_turn_the_verdict_where_they_are_said_to() {
    let stop = AtomicBool::new(false);
    let usual = Budget::default().decodings.unwrap();
    let (mut lessons, mut figures) = (0, 0);
    for seed in 0..1_000 {
        if lessons == how_many_lessons(1) {
            break;
        }
        let file = generate::lesson(seed);
        let lesson = lesson_of_shapes(&file, &[]).unwrap();
        let now = plan_only(&lesson, usual);
        let found = hangs_on(&lesson, &now, Care { look: 200, ..Care::default() }, &stop);
        lessons += u64::from(!found.is_empty());
        for hangs in &found {
            figures += 1;
            let with = |value| {
                let changed = hangs.with(&lesson, value).unwrap();
                LessonOutcome::of(&plan_only(&changed, usual))
            };
            let told = format!("seed {seed}: {}", hangs.sentence());
            assert_eq!(hangs.is, LessonOutcome::of(&now));
            assert_ne!(hangs.is, hangs.then);
            assert_eq!(with(hangs.holds), hangs.is, "{told}");
            assert_eq!(with(hangs.turns), hangs.then, "{told}");
            let (low, high) = hangs.range;
            assert!(low - 1e-9 <= hangs.turns && hangs.turns <= high + 1e-9);
            let further = 2.0 * hangs.turns - hangs.holds;
            if low <= further && further <= high {
                assert_ne!(with(further), hangs.is, "{told}, and further");
            }
            assert_eq!(hangs.proved, !told.contains("at least as far as was tried"), "{told}");
            let (worse, stands) = match hangs.then > hangs.is {
                true => (hangs.turns, hangs.then),
                false => (hangs.holds, hangs.is),
            };
            if hangs.proved {
                let longer = hangs.with(&lesson, worse).unwrap();
                let better = LessonOutcome::of(&plan_only(&longer, 2 * usual)) < stands;
                assert!(!better, "{told}");
            }
        }
        assert!(found.len() <= 2);
    }
    assert!(figures >= lessons, "only {figures} figures");
}

/// A stock below what one group needs by itself is nothing to weigh: two
/// sandwich tins to a pair.
#[test]
fn no_stock_is_weighed_that_is_too_little_for_one_group() {
    let loaded = lesson_file("g-whisks-eighteen.ron");
    let now = plan_only(&loaded.lesson, 300);
    let stop = AtomicBool::new(false);
    for hangs in hangs_on(&loaded.lesson, &now, Care { look: 100, ..Care::default() }, &stop) {
        if hangs.figure.contains("number of tins") {
            assert!(hangs.range.0 >= 2.0 && hangs.turns >= 2.0, "{}", hangs.sentence());
        }
    }
}

/// Ten pairs, nine tins: the tenth is borrowed, as a whisk would be.
#[test]
fn a_tin_of_which_there_are_too_few_is_borrowed() {
    let mut loaded = lesson_file("e-ginger-buns.ron");
    let tin = loaded.lesson.tins[loaded.lesson.recipes[0].tins[0].tin.0].name.clone();
    let groups = i64::try_from(loaded.lesson.attending().count()).unwrap();
    loaded.file.room.tins.0 = vec![(tin.clone(), groups - 1)];
    loaded.lesson = lesson_of_shapes(&loaded.file, &[]).unwrap();
    let now = plan(&loaded.lesson, 300);
    let all = menu((&loaded.file, &loaded.lesson), &[], &now, Goal::Everyone);
    let borrowed: Vec<&Item> =
        all.iter().filter(|i| i.words == format!("1 more borrowed: {tin}")).collect();
    assert_eq!(borrowed.len(), 1, "{:?}", all.iter().map(|i| &i.words).collect::<Vec<_>>());
    let mut file = loaded.file.clone();
    apply_all(&mut file, borrowed).unwrap();
    assert_eq!(file.room.tins.0[0].1, groups);
}

/// Every five minutes more, up to a double.
#[test]
fn a_period_is_made_longer_by_the_least_step() {
    let loaded = lesson_file("g-whisks-ten.ron");
    let now = plan(&loaded.lesson, 300);
    let all = menu((&loaded.file, &loaded.lesson), &[], &now, Goal::Everyone);
    let longer: Vec<&str> =
        (all.iter()).filter(|i| i.kind == ChangeKind::Longer).map(|i| i.words.as_str()).collect();
    assert_eq!(longer.len(), 12, "{longer:?}");
    assert_eq!(longer[4], "25 minutes longer, to 11:25");
    assert_eq!(longer[11], "a double, to 12:00");
}

/// What was cut short is not told as if the whole menu had been tried.
#[test]
fn offers_cut_short_say_so() {
    let loaded = lesson_file("d-sponges-gas.ron");
    let found = look(&loaded, &Effort { most: 1, ..Effort::default() });
    assert!(found.all_tried, "no time limit");
    let now = plan(&loaded.lesson, 300);
    let stop = AtomicBool::new(false);
    let until = |offers: &Offers| {
        if !offers.offers.is_empty() {
            stop.store(true, std::sync::atomic::Ordering::Relaxed);
        }
    };
    let lesson = (&loaded.file, &loaded.lesson);
    let cut = changes(lesson, &[], &now, &Effort::default(), &stop, until);
    assert_eq!((cut.enough, cut.all_tried), (Enough::Offered, false));
    let told = ovenbell::export::changes::text(&loaded.lesson, &now, &cut);
    assert!(told.contains("Not all of the menu was tried"), "{told}");
    assert!(!told.contains("effort"), "{told}");
    assert!(
        [" small change", " middling change", " large change"].iter().any(|w| told.contains(w))
    );
}
