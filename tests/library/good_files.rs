//! Every good case is planned by the planner and accepted by the checker,
//! also when it was kept in a file meanwhile.

use std::sync::atomic::AtomicBool;

use crate::common::cases::cases;
use ovenbell::check::check;
use ovenbell::export::text::answer;
use ovenbell::file::{read_lesson, read_plan, write_plan};
use ovenbell::planner::{Budget, plan_lesson};

#[test]
fn good_lessons_are_planned_and_their_plans_keep_every_rule() {
    for (path, text) in cases("good") {
        let path = path.display();
        let lesson = read_lesson(&text).unwrap().lesson;
        for seed in 1..=3 {
            let budget = Budget { within: None, decodings: Some(400), seed };
            let judge = |plan| check(&lesson, plan).map_err(|breaches| format!("{breaches:#?}"));
            let found = plan_lesson(&lesson, &budget, &AtomicBool::new(false), judge, |_| {})
                .unwrap_or_else(|error| panic!("{path}: {error}"));
            let kept = write_plan(&lesson, found.judged.plan());
            let plan = read_plan(&lesson, &kept).unwrap_or_else(|e| panic!("{path}: {e:#?}"));
            let again = check(&lesson, plan).unwrap_or_else(|e| panic!("{path}: {e:#?}"));
            assert_eq!(again.objective(), found.judged.objective(), "{path}");

            for line in answer(&lesson, &again).lines() {
                assert!(line.chars().count() <= 100, "{path}: {line}");
            }

            let served = text.lines().find_map(|l| l.strip_prefix("// served: "));
            if let Some(served) = served.map(|n| n.parse::<u32>().unwrap()) {
                assert_eq!(found.judged.objective().served, served, "{path}");
            }
        }
    }
}
