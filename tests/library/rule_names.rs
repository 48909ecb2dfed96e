//! One vocabulary of rules: each has a name of its own, is laid down in
//! `src/check/rules.md`, and explanations either lift it or always keep it.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use ovenbell::model::{KitId, TinId};
use ovenbell::plan::Rule;
use ovenbell::plan::why::Family;

/// Rules of no family: no explanation lifts them.
const ALWAYS_KEPT: [Rule; 5] =
    [Rule::WholeGroup, Rule::Period, Rule::OneOven, Rule::BakeTime, Rule::CoolEnough];

/// Every family; one that is missing here does not compile in `seen`.
fn families() -> Vec<Family> {
    let all = vec![
        Family::Locked,
        Family::KeepApart,
        Family::ClassStep,
        Family::DoorHands,
        Family::Door,
        Family::Temperature,
        Family::Adults,
        Family::Tin(TinId(0)),
        Family::Kit(KitId(0)),
        Family::Pupils,
        Family::Shelf,
        Family::Order,
        Family::Bell,
    ];
    for (place, family) in all.iter().enumerate() {
        assert_eq!(seen(*family), place, "{family:?}");
    }
    all
}

fn seen(family: Family) -> usize {
    match family {
        Family::Locked => 0,
        Family::KeepApart => 1,
        Family::ClassStep => 2,
        Family::DoorHands => 3,
        Family::Door => 4,
        Family::Temperature => 5,
        Family::Adults => 6,
        Family::Tin(_) => 7,
        Family::Kit(_) => 8,
        Family::Pupils => 9,
        Family::Shelf => 10,
        Family::Order => 11,
        Family::Bell => 12,
    }
}

#[test]
fn names_lead_back_to_their_rules() {
    for &rule in Rule::ALL {
        assert_eq!(Rule::named(rule.name()), Some(rule));
        assert_eq!(rule.to_string(), rule.name());
        let plain = rule.name().chars().all(|c| c.is_ascii_lowercase() || c == '-');
        assert!(plain && !rule.name().is_empty(), "{rule}");
    }
    assert_eq!(Rule::named("belle"), None);
}

#[test]
fn the_table_for_contributors_has_every_rule_in_order() {
    let page = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/check/rules.md");
    let page = fs::read_to_string(page).unwrap();
    let table = page.split("| rule | reading |").nth(1).expect("the table of rules");
    let rows = table.lines().skip(1).take_while(|line| line.starts_with('|'));
    let named: Vec<&str> = rows
        .filter_map(|line| line.strip_prefix("| `")?.split_once('`'))
        .map(|(name, _)| name)
        .collect();
    let rules: Vec<&str> = Rule::ALL.iter().map(|rule| rule.name()).collect();
    assert_eq!(named, rules);
}

#[test]
fn every_rule_is_of_a_family_or_always_kept() {
    let lifted: BTreeSet<Rule> = families().iter().flat_map(|f| f.rules()).copied().collect();
    let kept: BTreeSet<Rule> = ALWAYS_KEPT.into_iter().collect();
    assert!(lifted.is_disjoint(&kept));
    let all: BTreeSet<Rule> = lifted.union(&kept).copied().collect();
    assert_eq!(all, Rule::ALL.iter().copied().collect());
    assert!(families().iter().all(|f| !f.rules().is_empty()));
}
