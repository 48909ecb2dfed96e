//! What stands on each sheet: a file for each part.

mod cover;
mod labels;
mod lesson;
mod letter;
mod needs;
mod order_list;
mod ovens;
mod requisition;
mod risk;
mod running_order;
mod technician;
mod time_plan;
mod unit_check;
mod words;

use super::sheet::Sheet;
use super::{Matter, Part};

/// The sheet of a part that several lessons have in common; none of any other.
pub(super) fn of_several(matters: &[Matter<'_>], part: Part) -> Option<Sheet<'static>> {
    match part {
        Part::TechniciansDay => technician::sheet(matters),
        Part::OrderList => order_list::sheet(matters),
        _ => None,
    }
}

/// The sheets of a part; none if there is nothing to go by.
pub(super) fn of<'a>(matter: &'a Matter<'a>, part: Part) -> Vec<Sheet<'a>> {
    match part {
        Part::RunningOrder => running_order::sheet(matter).into_iter().collect(),
        Part::OvenSheet => ovens::sheet(matter).into_iter().collect(),
        Part::TimePlans => time_plan::sheets(matter, part),
        Part::TimePlansWithGaps => time_plan::sheets(matter, part),
        Part::BlankTimePlan => vec![time_plan::blank(matter)],
        Part::Requisition => vec![requisition::sheet(matter)],
        Part::TechniciansDay | Part::OrderList => {
            of_several(std::slice::from_ref(matter), part).into_iter().collect()
        }
        Part::UnitCheck => vec![unit_check::sheet(matter)],
        Part::Labels => labels::sheet(matter).into_iter().collect(),
        Part::LessonSheet => lesson::sheet(matter).into_iter().collect(),
        Part::RiskStarter => vec![risk::sheet(matter)],
        Part::CoverSheet => vec![cover::sheet(matter)],
        Part::LetterHome => vec![letter::sheet(matter)],
    }
}
