//! Bakes that are collected after the bell: wherever a plan says who is out, it says so too.

use chrono::NaiveDate;

use crate::common::collecting::{collecting, one_collects};
use crate::common::planned::planned;
use ovenbell::check::CheckedPlan;
use ovenbell::model::{GroupId, Lesson};
use ovenbell::papers::head::Head;
use ovenbell::papers::plain_text::plain_text;
use ovenbell::papers::{self, Matter, Part};
use ovenbell::speech::English;
use ovenbell::speech::allergens::list;
use ovenbell::stores::{Extra, Stores};
use ovenbell::units::Minute;
use ovenbell::view::board::Board;
use ovenbell::view::{cards, sentence};

fn told(lesson: &Lesson, plan: &CheckedPlan, part: Part) -> String {
    let matter = Matter {
        lesson,
        plan: Some(plan),
        stores: Stores::of(lesson, Some(plan), Extra::usual(lesson)),
        allergens: list(English::British),
        set_out: None,
    };
    let (sheets, _) = papers::sheets(&matter, &[part], "no plan");
    let issued = NaiveDate::from_ymd_opt(2026, 11, 20).unwrap().and_hms_opt(3, 33, 0).unwrap();
    let (head, said) = (Head::of(lesson, issued), |words: &str| words.to_owned());
    sheets.iter().map(|sheet| plain_text(sheet, &head, &said)).collect()
}

fn clock(lesson: &Lesson, minute: Minute) -> String {
    lesson.periods[0].start_clock.after(minute - Minute::BELL).to_string()
}

#[test]
fn a_bake_that_is_collected_is_told_in_headline_row_card_and_running_order() {
    let lesson = collecting();
    let plan = planned(&lesson, 100);
    let outcome = sentence::outcome(&lesson, &plan);
    assert!(outcome.ends_with(" out by the bell, bakes collected later."), "{outcome}");
    for row in Board::of(&lesson, &plan).rows {
        assert!(row.collected && row.spoken.contains("collected later"), "{}", row.spoken);
        let cools = row.bars.iter().filter(|bar| bar.label == "cool");
        assert!(cools.into_iter().all(|bar| bar.spoken.ends_with(", collected later")));
    }
    for group in lesson.attending() {
        let card = cards::group(&lesson, &plan, group);
        let line = card.lines.iter().find(|(name, _)| name == "Collected later").unwrap();
        assert_eq!(line.1, "after the bell, done for it: cool and box and label");
    }
    let order = told(&lesson, &plan, Part::RunningOrder);
    let bell = clock(&lesson, lesson.periods[0].end);
    let line = order.lines().find(|line| line.contains("Collected later: cool and box"));
    assert!(line.is_some_and(|line| line.contains(&bell)), "{order}");
}

#[test]
fn one_group_that_collects_is_named_and_the_others_are_not() {
    let lesson = one_collects();
    let plan = planned(&lesson, 100);
    let outcome = sentence::outcome(&lesson, &plan);
    assert!(outcome.ends_with(", Unit 1's bake collected later."), "{outcome}");
    let rows = Board::of(&lesson, &plan).rows;
    let said = rows.iter().map(|row| row.spoken.contains("collected later"));
    assert!(said.eq((0..rows.len()).map(|i| i == 0)));
    let card = cards::group(&lesson, &plan, GroupId(1));
    assert!(card.lines.iter().all(|(name, _)| name != "Collected later"));
}

#[test]
fn a_time_plan_has_nothing_after_the_bell_that_begins_before_it() {
    let lesson = collecting();
    let plan = planned(&lesson, 100);
    let text = told(&lesson, &plan, Part::TimePlans);
    let bell = clock(&lesson, lesson.periods[0].end);
    let after: Vec<&str> = text.lines().filter(|line| line.contains("After the bell")).collect();
    assert!(!after.is_empty() && after.iter().all(|line| line.contains(&bell)), "{after:?}");
    let cools = plan.plan().steps.iter().filter(|placed| {
        let choice = plan.plan().choice(placed.group).unwrap();
        let step = &lesson.method_of(placed.group, choice.method).steps[placed.step.0];
        step.name == "cool" && placed.start < lesson.periods[0].end
    });
    for placed in cools {
        let until = clock(&lesson, placed.end);
        let line = format!("It cools until {until}. Collected later.");
        assert!(text.contains(&line), "{line}: {text}");
    }
}
