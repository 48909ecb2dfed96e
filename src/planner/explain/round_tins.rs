//! Why round tins have no room: from middle to middle on a shelf.

use crate::graph::footprint::{Corners, Footprint};
use crate::graph::packing::Space;
use crate::graph::problem::{Choice, GroupTask};
use crate::planner::bounds::Bounder;
use crate::units::plain_number;
use crate::words::{capital, counted, number};

use super::sums::SumTold;

/// The sum that shows that the shelves a group may use do not hold all the round
/// tins of a choice, where all those shelves are alike.
pub(super) fn no_room(bounder: Bounder<'_>, group: &GroupTask, choice: &Choice) -> Option<SumTold> {
    let bake = choice.bake.as_ref()?;
    let Footprint::Circle { across } = bake.footprint else { return None };
    let mut shelves: Vec<(Space, usize)> = Vec::new();
    for &oven in &group.ovens {
        let of = bounder.problem.ovens[oven].shelves.iter().zip(&bake.at_most[oven]).enumerate();
        let usable = of.filter(|(i, (shelf, _))| {
            shelf.clear >= bake.height && group.shelf.is_none_or(|only| only == *i)
        });
        shelves.extend(usable.map(|(_, (shelf, &places))| (shelf.space, places)));
    }
    let &(space, places) = shelves.first()?;
    if shelves.iter().any(|s| s.0 != space) {
        return None;
    }
    let tins = usize::try_from(bake.tins).ok()?;
    let size = format!("a shelf {} cm wide and {} cm deep", cm(space.width), cm(space.depth));
    let (air, rim) = (cm(space.gap), cm(across));
    let all = shelves.len() * places;
    let wanted = format!("{}, {} wanted", counted(all, "shelf place"), number(tins));
    if places == 0 {
        let sentence = format!("The rim is {rim} cm across: none stands on {size}.");
        return Some((wanted, sentence));
    }
    if places > 1 {
        let on = match shelves.len() {
            1 => String::new(),
            n => format!(", and on {} such shelves no more than {}", number(n), number(all)),
        };
        let sentence = format!(
            "The rims are {rim} cm across. With {air} cm of air between them no more than {most} \
             stand on {size}, wherever they are put{on}; {tins} are wanted.",
            most = number(places),
            tins = number(tins),
        );
        return Some((wanted, sentence));
    }
    let corners = Corners::of((across, across), space)?;
    let there = plain_number(corners.there / 10.0);
    let needed = cm(across + space.gap);
    let (w, d) = (cm(space.width - across), cm(space.depth - across));
    let sum = format!(
        "{rim} + air {air} = {needed} cm from middle to middle needed; {} - {rim} = {w}, {} - \
         {rim} = {d}, \u{221a}({w}\u{b2} + {d}\u{b2}) = {there} cm there; {wanted}",
        cm(space.width),
        cm(space.depth),
    );
    let holds = match shelves.len() {
        1 => "It holds one".to_owned(),
        n => format!("{} such shelves hold one each", capital(&number(n))),
    };
    let sentence = format!(
        "Two need {needed} cm from middle to middle, the {rim} cm of a rim and {air} cm of air; \
         from corner to corner of {size} the middles are no more than {there} cm apart. {holds}, \
         and {} are wanted.",
        number(tins)
    );
    Some((sum, sentence))
}

fn cm(millimetres: i32) -> String {
    plain_number(f64::from(millimetres) / 10.0)
}
