//! Odds of a lesson that goes on from a minute of it: against what is expected of it, and
//! against the odds of the whole of it on the same luck.

use crate::common::generate;
use crate::common::how_many::how_many_lessons;
use crate::common::planned::planned;
use ovenbell::file::lesson_of_shapes;
use ovenbell::model::Slip;
use ovenbell::play::{Settings, Spread, odds, odds_from_here, outlook};
use ovenbell::units::{Minute, Minutes};

fn settings(spread: Spread) -> Settings {
    Settings { runs: 100, spread, threads: 1, ..Settings::default() }
}

#[test]
fn what_is_known_already_is_no_longer_drawn() {
    let (mut looked, mut surer, mut expected_out, mut out) = (0, 0, 0, 0);
    for seed in 0..how_many_lessons(12) {
        let lesson = lesson_of_shapes(&generate::lesson(seed), &[]).unwrap();
        let plan = planned(&lesson, 150);
        let Some(choice) = plan.plan().choices.first() else { continue };
        let of = (&lesson, &plan);
        let share = |slips: &[Slip], now: i32, spread| {
            odds_from_here(of, slips, Minute::new(now), &settings(spread))
        };
        // Before anything has begun nothing is known.
        let whole = odds(&lesson, &plan, &settings(Spread::LISTED), &[]).unwrap();
        let before = share(&[], -500, Spread::LISTED);
        assert!((before - whole.class.before_closing).abs() < 1e-9, "seed {seed}");
        // Once all is over nothing is left to chance.
        let end = lesson.periods.iter().map(|p| p.end.get()).max().unwrap() + 1;
        assert!((share(&[], end, Spread::LISTED) - 1.0).abs() < 1e-9, "seed {seed}");
        let steps = plan.plan().steps.iter().filter(|s| s.group == choice.group);
        let last = steps.map(|s| s.end.get()).max().unwrap().max(3);
        for now in [last / 3, 2 * last / 3, last] {
            surer += i32::from(before <= share(&[], now, Spread::LISTED));
            looked += 1;
            // Planned minutes are no less than usual ones: what is expected to be out is,
            // where all take their usual minutes, but for mixtures that are ready sooner
            // and then wait longer than they may.
            for late in [0, 3, 9] {
                let (late, from) = (Minutes::new(late), Minute::new(now) - Minutes::new(late));
                let slip = Slip { group: choice.group, from, late };
                let slips = if late.get() == 0 { vec![] } else { vec![slip] };
                let expected = outlook(&lesson, &plan, &slips, Minute::new(now));
                if expected.iter().all(|group| group.is_out()) {
                    let share = share(&slips, now, Spread::NONE);
                    expected_out += 1;
                    out += i32::from((share - 1.0).abs() < 1e-9);
                }
            }
        }
    }
    assert!(expected_out > 20 && 10 * out >= 9 * expected_out, "{out} of {expected_out}");
    assert!(looked > 20 && 3 * surer > 2 * looked, "surer in {surer} of {looked}");
}
