//! What a person is shown, as words and plain geometry, for screen, terminal
//! and paper alike.

pub mod adult_near;
pub mod area;
pub mod assumed;
pub mod at_minute;
pub mod bake_times;
pub mod bar_of_time;
pub mod board;
pub mod cards;
pub mod cautions;
pub mod class_view;
pub mod held;
pub mod help;
pub mod if_it_slips;
pub mod jobs_together;
pub mod laid_out;
pub mod lanes;
pub mod odds;
pub mod ovens;
pub mod overlay;
pub mod own_cost;
pub mod proof;
pub mod rehearsal;
pub mod remarks;
pub mod ribbons;
pub mod rows;
pub mod scale;
pub mod scene;
pub mod section;
pub mod sentence;
pub mod step_graph;
pub mod step_threads;
pub mod technicians_day;
pub mod tin_words;
pub mod washing_up;
pub mod words;
