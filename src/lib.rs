//! ovenbell fits a class's baking practical into a school period.
//!
//! Its layers, from the ground up. Which may know which is laid down in
//! `tests/library/layers.rs`:
//!
//! - [`words`]: numbers and lists in words
//! - [`units`]: minutes, clock times, temperatures, lengths, weights
//! - [`finding`]: what every layer reports in
//! - [`model`]: the lesson: room, period, recipes, groups
//! - [`plan`]: what is where and when, unchecked
//! - [`mod@file`]: lessons and plans, read and written
//! - [`bake`]: bake times, cooling and ovens, from the physics of heat
//! - [`convert`]: kitchen measures in other measures
//! - [`speech`]: British, Irish and American words, units and allergen lists
//! - [`graph`]: a lesson as a graph of steps and as whole-minute tasks
//! - [`planner`]: looks for plans
//! - [`check`]: judges plans by every rule, calling no planner
//! - [`play`]: checked plans played with other minutes than planned
//! - [`better`]: a plan with better odds than another
//! - [`edit`]: the one door through which a lesson's file is changed
//! - [`change`]: the smallest changes that make a lesson fit
//! - [`setup`]: what a teacher enters, as changes of a lesson's file
//! - [`interchange`]: recipes in and out, as others read and write them
//! - [`keep`]: how much of a plan stays from one lesson to another
//! - [`today`]: the day on which a lesson is taught
//! - [`week`]: a department's week: what lessons want of what they share
//! - [`hand`]: things of a plan moved and held by hand
//! - [`view`]: what a person is shown, as words and plain geometry
//! - [`export`]: a checked plan as text and as JSON
//! - [`stores`]: amounts of ingredients for a class
//! - [`nutrition`]: what a recipe holds, by a table of foods
//! - [`substitute`]: what may stand in for an ingredient, and what comes of it
//! - [`papers`]: sheets that are printed
//! - [`session`]: one lesson at work, without a window
//! - [`cli`]: the command line
//! - `app`: the window (feature `gui`)
//!
//! # A lesson planned
//!
//! Nothing but the checker makes a plan that may be shown, so the planner is
//! handed it as a judge.
//!
//! ```
//! # use std::path::Path;
//! use std::sync::atomic::AtomicBool;
//!
//! use ovenbell::planner::{Budget, plan_lesson};
//! use ovenbell::{check, file, view};
//!
//! # let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
//! let lesson = file::load_lesson(&path).expect("a lesson").lesson;
//! let budget = Budget { within: None, decodings: Some(300), seed: 1 };
//! let (judge, stop) = (check::judge_of(&lesson), AtomicBool::new(false));
//! let found = plan_lesson(&lesson, &budget, &stop, judge, |_| {}).expect("a plan");
//! assert!(found.judged.objective().served > 0);
//! println!("{}", view::sentence::outcome(&lesson, &found.judged));
//! ```
//!
//! # A lesson changed
//!
//! Every change of a lesson's file goes through one door and says what it is
//! called, or why it cannot be made.
//!
//! ```
//! # use std::path::Path;
//! use ovenbell::edit::{Edit, FileChange};
//! use ovenbell::file;
//!
//! # let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
//! let before = file::load_lesson(&path).expect("a lesson").file;
//! let oven = "Oven 77".to_owned();
//! let why = Edit::OvenOut { oven, out: true }.made(&before).expect_err("there is no such oven");
//! assert_eq!(why.code, "no-such-entry");
//! ```

pub mod afterwards;
#[cfg(feature = "gui")]
pub mod app;
pub mod bake;
pub mod better;
pub mod change;
pub mod check;
pub mod cli;
pub mod convert;
pub mod deadline;
pub mod edit;
pub mod export;
pub mod file;
pub mod finding;
pub mod graph;
pub mod hand;
pub mod interchange;
pub mod keep;
pub mod model;
pub mod nutrition;
pub mod papers;
pub mod plan;
pub mod planner;
pub mod play;
pub mod session;
pub mod setup;
pub mod speech;
pub mod stores;
pub mod substitute;
pub mod today;
pub mod units;
pub mod view;
pub mod week;
pub mod words;
