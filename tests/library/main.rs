//! Tests of the library below the window: a file for each thing that is held to
//! account.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

#[path = "../common"]
mod common {
    pub mod bend;
    pub mod cases;
    pub mod collecting;
    pub mod customary;
    pub mod edits;
    pub mod faulty;
    pub mod generate;
    pub mod generate_week;
    pub mod generate_wild;
    pub mod how_many;
    pub mod pdf;
    pub mod planned;
    pub mod psplib;
    pub mod published;
    pub mod rcpsp;
    pub mod rich;
    pub mod scheduling;
    pub mod skipped;
}

mod afterwards;
mod around_the_bells;
mod at_ovens;
mod bake;
mod board_geometry;
mod borrowed;
mod broken_files;
mod by_hand;
mod calendar;
mod carried_library;
mod changes;
mod checked_outcome;
mod checker_on_nonsense;
mod checker_rules;
mod collected_later;
mod convert;
mod day_tiles;
mod edits;
mod example_lessons;
mod example_plans;
mod facts;
mod footprints;
mod generated_lessons;
mod good_files;
mod groups_of_a_kind;
#[cfg(unix)]
mod held_until_the_bell;
mod help;
mod in_the_way;
mod interchange;
mod keep;
mod kept_plan;
mod layers;
mod levers;
mod licences;
mod links;
mod mid_lesson;
mod minutes_left_out;
mod nutrition;
mod odds_on_board;
mod outside_optima;
mod overlay;
mod own_library;
mod pages;
mod papers;
mod plan_table;
mod planner_on_psplib;
mod play;
mod pointers;
mod printing;
mod proofs;
mod recipe_read;
mod recipe_setup;
mod rehearsal;
mod round_tins;
mod rule_names;
mod scene;
mod scheduling;
mod session;
mod slip_rehearsed;
mod slips;
mod small_minutes;
mod stores;
mod substitute;
mod taught;
mod teacher_notes;
mod today;
mod trade_figures;
mod week;
mod week_at_work;
mod week_generated;
mod week_of_lessons;
mod week_together;
mod why;
mod written_and_read;
