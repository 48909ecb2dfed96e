//! Tins against the shelf they were put on, in centimetres.

use crate::graph::footprint::{Corners, Footprint, Together, pattern, stand};
use crate::graph::packing::Space;
use crate::model::{GroupId, Lesson, OvenId, ShelfId, Tin, TinChoice};
use crate::plan::Plan;
use crate::units::{Minute, plain_number};
use crate::view::words::{clock, number, shelf};
use crate::words::plural;

fn cm(millimetres: i32) -> String {
    plain_number(f64::from(millimetres) / 10.0)
}

/// "the top shelf of Oven 2".
pub(super) fn place(lesson: &Lesson, oven: OvenId, on: Option<ShelfId>) -> String {
    let of = &lesson.ovens[oven.0];
    match on {
        Some(on) => format!("the {} of {}", shelf(on.0, of.shelves.len()), of.name),
        None => of.name.clone(),
    }
}

/// Why the tins of a choice do not go onto a shelf even when it is empty; `None`
/// if they do.
pub(super) fn too_small(
    lesson: &Lesson,
    choice: &TinChoice,
    (oven, on): (OvenId, ShelfId),
) -> Option<String> {
    let tin = &lesson.tins[choice.tin.0];
    let of = lesson.ovens[oven.0].shelves.get(on.0)?;
    let where_ = place(lesson, oven, Some(on));
    let name = format!("the {}", tin.name);
    if tin.height > of.clear {
        return Some(format!(
            "{name} is {} cm high, and {where_} has {} cm above it",
            cm(tin.height.get()),
            cm(of.clear.get())
        ));
    }
    let gap = lesson.ovens[oven.0].gap.value.get();
    let (width, depth) = (of.width.get(), of.depth.get());
    let (long, wide) = (tin.rim.0.get(), tin.rim.1.get());
    let space = Space { width, depth, gap };
    let room = pattern(Footprint::of(tin), space);
    let tins = usize::try_from(choice.count.max(1)).unwrap_or(1);
    if room.at_most >= tins {
        return None;
    }
    let size = format!("{} cm wide and {} cm deep", cm(width), cm(depth));
    if room.at_most == 0 {
        return Some(format!("{name} is {}, and {where_} is {size}", rim_words(tin)));
    }
    if let Footprint::Circle { across } = Footprint::of(tin) {
        let rim = cm(across);
        return Some(match Corners::of((across, across), space).filter(|_| tins == 2) {
            Some(Corners { needed, there }) => format!(
                "two {}, {rim} cm across, and {} cm of air take {} cm from middle to middle, and \
                 on {where_}, {size}, middles are no more than {} cm apart",
                plural(2, &tin.name),
                cm(gap),
                plain_number(needed / 10.0),
                plain_number(there / 10.0),
            ),
            None => format!(
                "{} {}, {rim} cm across, are wanted with {} cm of air, and {where_}, {size}, \
                 holds {}",
                number(tins),
                plural(tins, &tin.name),
                cm(gap),
                number(room.at_most)
            ),
        });
    }
    if tins == 2 {
        // Neither side by side nor one behind the other, turned or not.
        let across = 2 * long.min(wide) + gap;
        return Some(format!(
            "two {} of {} by {} cm and {} cm of air take at least {} cm one way, and {where_} is {size}",
            plural(2, &tin.name),
            cm(long),
            cm(wide),
            cm(gap),
            cm(across)
        ));
    }
    Some(format!(
        "{} {} of {} by {} cm are wanted with {} cm of air, and {where_}, {size}, holds {}",
        number(tins),
        plural(tins, &tin.name),
        cm(long),
        cm(wide),
        cm(gap),
        number(room.at_most)
    ))
}

/// Two groups whose tins want one shelf at one time.
pub(super) fn together(lesson: &Lesson, plan: &Plan, first: GroupId) -> Option<String> {
    let own: Vec<_> = plan.loads.iter().filter(|l| l.group == first).collect();
    let beside = plan.loads.iter().find(|l| {
        l.group != first
            && own.iter().any(|o| {
                (o.oven, o.shelf) == (l.oven, l.shelf) && o.start < l.end && l.start < o.end
            })
    })?;
    let at = |m: Minute| clock(lesson, m).to_string();
    let oven = &lesson.ovens[beside.oven.0];
    let of = oven.shelves.get(beside.shelf.0)?;
    let tins = |g: GroupId| {
        let choice = plan.choice(g)?.tin?;
        let choice = lesson.tin_choice_of(g, choice);
        let on = |l: &&crate::plan::Load| {
            l.group == g && (l.oven, l.shelf) == (beside.oven, beside.shelf)
        };
        let n = plan.loads.iter().filter(on).count();
        Some((n, &lesson.tins[choice.tin.0]))
    };
    let ((n, mine), (m, theirs)) = (tins(first)?, tins(beside.group)?);
    let all = i32::try_from(n + m).ok()?;
    let gap = oven.gap.value.get();
    let short = |t: &Tin| t.rim.0.get().min(t.rim.1.get());
    let (n, m) = (i32::try_from(n).ok()?, i32::try_from(m).ok()?);
    let sum = n * short(mine) + m * short(theirs) + (all - 1) * gap;
    let named = |n: i32, t: &Tin| {
        let n = usize::try_from(n).unwrap_or(0);
        let size = format!("of {}", rim_words(t));
        match n {
            1 => format!("{} {size}", one(&t.name)),
            n => format!("{} {} {size}", number(n), plural(n, &t.name)),
        }
    };
    let same = mine.name == theirs.name;
    let what = if same {
        named(all, mine)
    } else {
        format!("{} and {}", named(n, mine), named(m, theirs))
    };
    let stands = format!(
        "{} {} is on {} from {} to {}",
        possessive(&lesson.group(beside.group).name),
        theirs.name,
        place(lesson, beside.oven, Some(beside.shelf)),
        at(beside.start),
        at(beside.end),
    );
    let space = Space { width: of.width.get(), depth: of.depth.get(), gap };
    let both = [Footprint::of(mine), Footprint::of(theirs)];
    let round = both.iter().any(|f| f.is_circle());
    let refuted = all == 2 && round && stand(&both, space) == Together::Refuted;
    if let (true, [Footprint::Circle { across: a }, Footprint::Circle { across: b }]) =
        (refuted, both)
        && let Some(Corners { needed, there }) = Corners::of((a, b), space)
    {
        return Some(format!(
            "{stands}; {what}, with {} cm of air between, take {} cm from middle to middle, and on \
             the shelf, {} cm wide and {} cm deep, middles are no more than {} cm apart",
            cm(gap),
            plain_number(needed / 10.0),
            cm(of.width.get()),
            cm(of.depth.get()),
            plain_number(there / 10.0),
        ));
    }
    if refuted {
        return Some(format!(
            "{stands}; {what} do not stand beside each other with {} cm of air on a shelf {} cm \
             wide and {} cm deep, wherever they are put",
            cm(gap),
            cm(of.width.get()),
            cm(of.depth.get()),
        ));
    }
    // Of two it is plain; more might stand in two rows, or on other shelves.
    if all != 2 || round || sum <= of.width.get() || sum <= of.depth.get() {
        return Some(format!(
            "{stands}, and no room was found in {} for all that would stand in it",
            oven.name
        ));
    }
    Some(format!(
        "{stands}; {what}, with {} cm of air between, take {} cm side by side, and the shelf is {} \
         cm wide and {} cm deep",
        cm(gap),
        cm(sum),
        cm(of.width.get()),
        cm(of.depth.get()),
    ))
}

/// "21.5 cm across", "35 by 27 cm".
fn rim_words(tin: &Tin) -> String {
    match tin.round_rim() {
        Some(across) => format!("{} cm across", cm(across.get())),
        None => format!("{} by {} cm", cm(tin.rim.0.get()), cm(tin.rim.1.get())),
    }
}

/// With its article: "a loaf tin", "an 18 cm tin".
fn one(name: &str) -> String {
    let vowel = ["a", "e", "i", "o", "u", "8", "11 ", "18 "].iter().any(|v| name.starts_with(v));
    format!("{} {name}", if vowel { "an" } else { "a" })
}

/// "Unit 3's".
pub(super) fn possessive(name: &str) -> String {
    if name.ends_with('s') { format!("{name}'") } else { format!("{name}'s") }
}
