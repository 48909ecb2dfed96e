//! The sheets there are, by name.

use std::str::FromStr;

/// A sheet, or sheets of a kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// What is called when, for the wall.
    RunningOrder,
    /// What is in each oven, for beside the ovens.
    OvenSheet,
    /// A unit's own plan, one for each.
    TimePlans,
    /// The same with times and jobs left out by turns, for pupils to find.
    TimePlansWithGaps,
    /// A plan without times or jobs, to be made by a unit itself.
    BlankTimePlan,
    /// What the technician puts out.
    Requisition,
    /// What the technician does by when.
    TechniciansDay,
    /// What is bought.
    OrderList,
    /// What is left clean, for each unit's leader.
    UnitCheck,
    /// Labels for boxes.
    Labels,
    /// All that the teacher goes by.
    LessonSheet,
    /// Where a risk assessment may begin.
    RiskStarter,
    /// For whoever takes the class instead.
    CoverSheet,
    /// What parents are told.
    LetterHome,
}

impl Part {
    /// All of them, in the order in which they are printed.
    pub const ALL: [Part; 14] = [
        Part::RunningOrder,
        Part::OvenSheet,
        Part::LessonSheet,
        Part::TimePlans,
        Part::TimePlansWithGaps,
        Part::BlankTimePlan,
        Part::UnitCheck,
        Part::Requisition,
        Part::TechniciansDay,
        Part::OrderList,
        Part::Labels,
        Part::RiskStarter,
        Part::CoverSheet,
        Part::LetterHome,
    ];

    /// Everyone's two pages, which are printed if nothing else is asked for.
    pub const USUAL: [Part; 2] = [Part::RunningOrder, Part::OvenSheet];

    /// What several lessons have one of in common.
    pub const COMMON: [Part; 2] = [Part::TechniciansDay, Part::OrderList];

    /// As it is written on the command line and in JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Part::RunningOrder => "order",
            Part::OvenSheet => "ovens",
            Part::TimePlans => "time-plans",
            Part::TimePlansWithGaps => "time-plans-gaps",
            Part::BlankTimePlan => "time-plan-blank",
            Part::Requisition => "requisition",
            Part::TechniciansDay => "technician",
            Part::OrderList => "order-list",
            Part::UnitCheck => "unit-check",
            Part::Labels => "labels",
            Part::LessonSheet => "lesson",
            Part::RiskStarter => "risk",
            Part::CoverSheet => "cover",
            Part::LetterHome => "letter",
        }
    }

    /// As it stands at the head of its sheet.
    pub const fn title(self) -> &'static str {
        match self {
            Part::RunningOrder => "Running order",
            Part::OvenSheet => "Oven sheet",
            Part::TimePlans => "Time plan",
            Part::TimePlansWithGaps => "Time plan with gaps",
            Part::BlankTimePlan => "Blank time plan",
            Part::Requisition => "Requisition",
            Part::TechniciansDay => "Technician's day",
            Part::OrderList => "Order list",
            Part::UnitCheck => "Unit check",
            Part::Labels => "Labels",
            Part::LessonSheet => "Teacher's lesson sheet",
            Part::RiskStarter => "Risk sheet starter",
            Part::CoverSheet => "Cover sheet",
            Part::LetterHome => "Letter home",
        }
    }

    /// Its title within a sentence.
    pub fn in_a_sentence(self) -> String {
        let title = self.title();
        let mut letters = title.chars();
        letters.next().map_or(String::new(), |c| c.to_lowercase().chain(letters).collect())
    }

    /// It cannot be without a plan.
    pub const fn wants_plan(self) -> bool {
        matches!(
            self,
            Part::RunningOrder
                | Part::OvenSheet
                | Part::TimePlans
                | Part::TimePlansWithGaps
                | Part::LessonSheet
                | Part::TechniciansDay
        )
    }

    /// Several lessons have one of it in common.
    pub fn is_common(self) -> bool {
        Self::COMMON.contains(&self)
    }

    /// It hangs on a wall, or leaves with a pupil: it tells nothing of a
    /// group's needs, pace or verdict.
    pub const fn is_open(self) -> bool {
        matches!(
            self,
            Part::RunningOrder
                | Part::OvenSheet
                | Part::TimePlans
                | Part::TimePlansWithGaps
                | Part::BlankTimePlan
                | Part::UnitCheck
                | Part::Labels
                | Part::LetterHome
        )
    }
}

impl FromStr for Part {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        let known = Self::ALL.into_iter().find(|part| part.name() == text.trim());
        known.ok_or_else(|| {
            let names: Vec<&str> = Self::ALL.into_iter().map(Part::name).collect();
            format!("there is no part of that name; there are {}", names.join(", "))
        })
    }
}
