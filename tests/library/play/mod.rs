//! Plans played: what is to give and the odds, against sums done another way.

mod as_the_lesson_says;
mod better;
mod closed_forms;
mod from_here;
mod generated;
mod jobs;
mod lessons;
mod queue;
mod same_luck;
mod to_give;
