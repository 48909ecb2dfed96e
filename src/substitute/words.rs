//! Substitutions in words.

use super::{Goes, Job, Substitution};
use crate::file::format::{IngredientShape, MeasureShape};
use crate::setup::balance::figure;
use crate::units::plain_number;
use crate::words::list;

/// What is said beside all substitutions.
pub const NO_ADVICE: &str = "This is no advice for an allergy: what goes in has a label of its own, \
                             which somebody has to read. Your school's policy and whoever knows \
                             the pupil come first.";

impl Job {
    /// What an ingredient does, as the end of a sentence.
    pub fn words(self) -> &'static str {
        match self {
            Job::Sets => "sets the crumb",
            Job::Binds => "binds",
            Job::HoldsAir => "holds beaten air",
            Job::Raises => "raises",
            Job::Wets => "wets the flour",
            Job::MakesTender => "makes it tender",
            Job::Sweetens => "sweetens",
            Job::KeepsMoist => "keeps it moist",
            Job::Browns => "browns",
            Job::Flavours => "gives taste",
        }
    }

    /// What it did.
    fn was(self) -> &'static str {
        match self {
            Job::Sets => "set",
            Job::Binds => "bind",
            Job::HoldsAir => "hold beaten air",
            Job::Raises => "raise",
            Job::Wets => "wet the flour",
            Job::MakesTender => "make it tender",
            Job::Sweetens => "sweeten",
            Job::KeepsMoist => "keep it moist",
            Job::Browns => "brown as well",
            Job::Flavours => "taste of it",
        }
    }
}

/// What an ingredient does: "It binds, sets to the crumb and browns."
pub fn does(jobs: &[Job]) -> String {
    let all: Vec<String> = jobs.iter().map(|job| job.words().to_owned()).collect();
    format!("It {}.", list(&all))
}

/// What goes in, without amounts: "ground flax and water".
pub(super) fn names(all: &[Goes], old: &str) -> String {
    let name = |goes: &Goes| match goes {
        Goes::LessOfIt(_) => format!("less {old}"),
        Goes::In { name, .. } => (*name).to_owned(),
    };
    list(&all.iter().map(name).collect::<Vec<String>>())
}

fn amount(of: &IngredientShape) -> String {
    let unit = match of.unit.unwrap_or(MeasureShape::Gram) {
        MeasureShape::Gram => " g",
        MeasureShape::Millilitre => " ml",
        MeasureShape::Kilogram => " kg",
        MeasureShape::Litre => " l",
        MeasureShape::Teaspoon => " tsp",
        MeasureShape::Tablespoon => " tbsp",
        MeasureShape::Ounce => " oz",
        MeasureShape::Pound => " lb",
        MeasureShape::UsCup => " US cups",
        MeasureShape::Egg => "",
    };
    format!("{}{unit} {}", plain_number(of.amount), of.name)
}

/// "A", "A or B", "A, B or C".
fn either(items: &[String]) -> String {
    match items {
        [front @ .., last] if !front.is_empty() => format!("{} or {last}", front.join(", ")),
        items => items.concat(),
    }
}

impl Substitution {
    /// What goes in: "14 g ground flax and 90 ml water".
    pub fn goes_in_words(&self) -> String {
        list(&self.goes_in.iter().map(amount).collect::<Vec<String>>())
    }

    /// What changes, a sentence each: in the bake, the balance, the minutes, and what
    /// is known of labels.
    pub fn told(&self) -> Vec<String> {
        let mut told = Vec::new();
        let (swap, of) = (self.swap, &self.comes_to);
        let mut bake = swap.changes.to_owned();
        if !swap.no_longer.is_empty() {
            let lost: Vec<String> = swap.no_longer.iter().map(|j| j.was().to_owned()).collect();
            bake = format!("it does not {}; {bake}", either(&lost));
        }
        told.push(format!("In the bake: {bake}."));
        told.push(self.balance());
        told.push(match swap.minutes {
            None => "Minutes: none more.".to_owned(),
            Some((least, most, what)) if least == most => {
                format!("Minutes: {} more: {what}.", plain_number(least))
            }
            Some((least, most, what)) => {
                let (least, most) = (plain_number(least), plain_number(most));
                format!("Minutes: {least} to {most} more: {what}.")
            }
        });
        if !of.not_read.is_empty() {
            let names = list(&of.not_read);
            let concerns = match of.concerns.as_slice() {
                [] => String::new(),
                groups => format!(", which concerns {}", list(groups)),
            };
            told.push(format!(
                "Labels: nobody has read that of {names}: what the recipe holds is not known \
                 then{concerns}."
            ));
        }
        if !of.steps.is_empty() {
            told.push(format!("Steps that speak of it stay as they are: {}.", list(&of.steps)));
        }
        told.push(format!("Figures: {}.", swap.source));
        told
    }

    fn balance(&self) -> String {
        let of = &self.comes_to;
        let part = |p: &super::Part| {
            format!("{} {} instead of {}", p.what, figure(p.after), figure(p.before))
        };
        let parts: Vec<String> = of.parts.iter().map(part).collect();
        let mut told = match parts.as_slice() {
            [] => "Balance: as it was".to_owned(),
            parts => format!("Balance, to flour 100: {}", list(parts)),
        };
        match of.family {
            (before, Some(family)) if before != Some(family) => {
                told = format!("{told}; nearest to {} then", family.words());
            }
            (Some(_), None) => told = format!("{told}; no rule of ours covers it then"),
            _ => {}
        }
        for unusual in &of.unusual {
            told = format!("{told}; not usual: {unusual}");
        }
        told + "."
    }
}
