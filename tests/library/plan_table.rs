//! A plan as a table: every step of it once, and no cell that a spreadsheet
//! would work out.

use std::path::Path;

use ovenbell::export::table::{HEADS, harmless, is_ours, table};
use ovenbell::file::load_lesson;
use ovenbell::model::Lesson;

use crate::common::planned::planned;

#[test]
fn every_step_of_the_plan_has_its_line_with_its_times() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let mut parts = load_lesson(&path).unwrap().lesson.into_parts();
    // A name with all that a table could stumble over.
    parts.groups[0].name = "=1+1, \"Unit\"\n1".into();
    let lesson = Lesson::new(parts).unwrap();
    let plan = planned(&lesson, 200);
    let bytes = table(&lesson, &plan).unwrap();
    assert!(is_ours(std::str::from_utf8(&bytes).unwrap()));
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    assert_eq!(reader.headers().unwrap().iter().collect::<Vec<_>>(), HEADS);
    let lines: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let told = plan.plan();
    assert_eq!(lines.len(), told.steps.len() + told.class_steps.len() + told.settings.len());
    assert!(lines.windows(2).all(|pair| pair[0][0] <= pair[1][0]), "not in the order of time");
    let bell = lesson.periods[0].start_clock;
    for step in &told.steps {
        let choice = told.choice(step.group).unwrap();
        let name = &lesson.method_of(step.group, choice.method).steps[step.step.0].name;
        let at = |minute| bell.after(minute - ovenbell::units::Minute::BELL).to_string();
        let who = harmless(&lesson.group(step.group).name);
        let wanted = [at(step.start), at(step.end), who, name.clone()];
        let is = |line: &&csv::StringRecord| (0..4).all(|i| line[i] == wanted[i]);
        assert_eq!(lines.iter().filter(is).count(), 1, "{wanted:?}");
    }
    for load in &told.loads {
        let oven = &lesson.ovens[load.oven.0].name;
        let who = harmless(&lesson.group(load.group).name);
        let bakes = lines.iter().any(|l| l[2] == *who && l[3] == *"bake" && l[6] == **oven);
        assert!(bakes, "{who} bakes in no {oven}");
    }
    // The cells of a formula begin with these (OWASP, CSV injection).
    let formula = |cell: &str| cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
    assert!(lines.iter().flat_map(csv::StringRecord::iter).all(|cell| !formula(cell)));
}
