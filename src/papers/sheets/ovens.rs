//! The oven sheet: what is in each oven, from when to when. It hangs beside
//! the ovens.

use super::words::{done_when, names, time, tin};
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, OvenId};
use crate::papers::sheet::{Block, Cell, Form, Look, Picture, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::plan::{Load, OvenSetting};
use crate::units::Minute;
use crate::view::bake_times::bake_times;
use crate::view::cards::{self, ShelfPicture};
use crate::view::ovens::dial_words;
use crate::view::scene::shelf;
use crate::view::technicians_day::set_by;
use crate::view::words::{capital, list, shelf as shelf_name};

/// Names longer than this are letters in a picture, told in the table.
const SHORT: usize = 8;
/// Shelves beside each other.
const ACROSS: f32 = 0.125;

pub(super) fn sheet<'a>(matter: &'a Matter<'a>) -> Option<Sheet<'a>> {
    let (lesson, plan) = (matter.lesson, matter.plan?);
    let mut blocks = Vec::new();
    let mut idle: Vec<String> = Vec::new();
    for id in (0..lesson.ovens.len()).map(OvenId) {
        let oven = &lesson.ovens[id.0];
        let is_used = plan.plan().settings.iter().any(|s| s.oven == id);
        if !is_used {
            let why = if oven.out_of_order { "out of order" } else { "not needed" };
            idle.push(format!("{}: {why}", oven.name));
            continue;
        }
        blocks.extend(of_oven(lesson, plan, id));
    }
    if blocks.is_empty() {
        return None;
    }
    if !idle.is_empty() {
        blocks.push(Block::Prose(capital(&format!("{}.", list(&idle)))));
    }
    Some(Sheet { part: Part::OvenSheet, of: None, blocks, form: Form::Poster })
}

fn of_oven<'a>(lesson: &'a Lesson, plan: &'a CheckedPlan, id: OvenId) -> Vec<Block<'a>> {
    let oven = &lesson.ovens[id.0];
    let mut loads: Vec<&Load> = plan.plan().loads.iter().filter(|l| l.oven == id).collect();
    loads.sort_by_key(|l| (l.start, l.shelf, l.group, l.number));
    let marks = Marks::of(lesson, &loads);
    let settings = plan.plan().settings.iter().filter(|s| s.oven == id);
    let mut told: Vec<String> = settings.map(|s| set(lesson, plan, id, s)).collect();
    let of = oven.shelves.len();
    let is_free = |s: &usize| !loads.iter().any(|l| l.shelf.0 == *s);
    let free: Vec<String> = (0..of).filter(is_free).map(|s| shelf_name(s, of)).collect();
    if !free.is_empty() {
        told.push(capital(&format!("{} free throughout.", list(&free))));
    }
    // What is the same of all of them is said once.
    let mut tests: Vec<String> = loads.iter().map(|l| done_when(lesson, plan, l.group)).collect();
    tests.dedup();
    if let [test] = tests.as_slice() {
        told.push(format!("DONE WHEN: {}.", test.trim_end_matches('.')));
    }
    let table = bakes(lesson, plan, (&loads, tests.len() > 1), &marks);
    vec![
        Block::Heading(oven.name.clone()),
        Block::Prose(told.join(" ")),
        Block::Table(table),
        Block::Pictures(pictures(lesson, plan, id, &loads, &marks)),
    ]
}

/// "Dial 160 °C fan. On at 10:13 (technician), hot for 10:25, off at 10:50."
fn set(lesson: &Lesson, plan: &CheckedPlan, id: OvenId, setting: &OvenSetting) -> String {
    let oven = &lesson.ovens[id.0];
    format!(
        "Dial {}. On at {} ({}), hot for {}, off at {}.",
        dial_words(oven, setting.celsius),
        time(lesson, setting.set_at),
        set_by(lesson, plan, (id, setting.set_at)),
        time(lesson, setting.hot_from),
        time(lesson, setting.until)
    )
}

/// Bakes in an oven; groups with the same bake on the same shelf together.
fn bakes(
    lesson: &Lesson,
    plan: &CheckedPlan,
    (loads, tests_differ): (&[&Load], bool),
    marks: &Marks,
) -> Table {
    let of = loads.first().map_or(1, |l| lesson.ovens[l.oven.0].shelves.len());
    let mut columns = vec![("Who", Width::Share(1.2)), ("Bake", Width::Share(1.8))];
    if of > 1 {
        columns.push(("Shelf", Width::Fit));
    }
    columns
        .extend(["IN", "Door shut until", "CHECK FROM", "OUT expected"].map(|n| (n, Width::Fit)));
    if tests_differ {
        columns.push(("DONE WHEN", Width::Share(1.3)));
    }
    let mut table = Table::new(&columns);
    let mut together: Vec<(Vec<GroupId>, Vec<Cell>)> = Vec::new();
    let mut told: Vec<(GroupId, usize)> = Vec::new();
    for load in loads {
        if told.contains(&(load.group, load.shelf.0)) {
            continue;
        }
        told.push((load.group, load.shelf.0));
        let Some(times) = bake_times(lesson, plan, load.group) else { continue };
        let here = |l: &&&Load| l.group == load.group && l.shelf == load.shelf;
        let tins = loads.iter().filter(here).count();
        let recipe = &lesson.recipe_of(load.group).name;
        let bake = match tin(lesson, plan, load.group) {
            Some(tin) => format!("{recipe}, {tin}"),
            None => recipe.clone(),
        };
        let at = |minute| Cell::Time(time(lesson, minute));
        let bake = if tins > 1 { format!("{bake} ({tins} tins here)") } else { bake };
        let mut cells = vec![Cell::Prose(bake)];
        if of > 1 {
            cells.push(Cell::Name(shelf_name(load.shelf.0, of).replace(" shelf", "")));
        }
        cells.push(at(times.load));
        cells.push(times.shut_until.map_or(Cell::Name("–".to_owned()), at));
        cells.push(at(times.check_from));
        cells.push(at(times.take_out));
        if tests_differ {
            cells.push(Cell::Prose(done_when(lesson, plan, load.group)));
        }
        match together.iter_mut().find(|(_, same)| *same == cells) {
            Some((groups, _)) => groups.push(load.group),
            None => together.push((vec![load.group], cells)),
        }
    }
    for (groups, cells) in together {
        let who = Cell::Strong(marks.in_table(lesson, &groups));
        table.row(Look::Plain, [vec![who], cells].concat());
    }
    table
}

/// How groups are named in pictures: by letters if a name is too long for one.
struct Marks(Option<Vec<GroupId>>);

impl Marks {
    fn of(lesson: &Lesson, loads: &[&Load]) -> Self {
        let mut groups: Vec<GroupId> = Vec::new();
        for load in loads {
            if !groups.contains(&load.group) {
                groups.push(load.group);
            }
        }
        let long = groups.iter().any(|&g| lesson.group(g).name.chars().count() > SHORT);
        Self(long.then_some(groups))
    }

    fn letter(&self, group: GroupId) -> Option<String> {
        let place = self.0.as_ref()?.iter().position(|&g| g == group)?;
        let letter = u32::try_from(place % 26).ok().and_then(|n| char::from_u32('A' as u32 + n))?;
        let round = place / 26;
        Some(if round == 0 { letter.to_string() } else { format!("{letter}{round}") })
    }

    fn in_table(&self, lesson: &Lesson, groups: &[GroupId]) -> String {
        if self.0.is_none() {
            return names(lesson, groups);
        }
        let each = groups.iter().map(|&group| {
            let name = &lesson.group(group).name;
            self.letter(group).map_or_else(|| name.clone(), |letter| format!("{letter} = {name}"))
        });
        list(&each.collect::<Vec<_>>())
    }
}

/// The shelves that are in use, from above, whenever something has gone in.
fn pictures<'a>(
    lesson: &Lesson,
    plan: &CheckedPlan,
    id: OvenId,
    loads: &[&Load],
    marks: &Marks,
) -> Vec<Picture<'a>> {
    let mut minutes: Vec<Minute> = loads.iter().map(|l| l.start).collect();
    minutes.sort_unstable();
    minutes.dedup();
    let of = lesson.ovens[id.0].shelves.len();
    let mut pictures = Vec::new();
    let mut before: Vec<Option<ShelfPicture>> = vec![None; of];
    for minute in minutes {
        let (_, shelves) = cards::oven(lesson, plan, id, Some(minute));
        for (s, picture) in shelves.into_iter().enumerate() {
            if picture.tins.is_empty() || before[s].as_ref() == Some(&picture) {
                continue;
            }
            before[s] = Some(picture.clone());
            let name = capital(shelf_name(s, of).trim_end_matches(" shelf"));
            let caption = format!("{name}, {}", time(lesson, minute));
            pictures.push(one(picture, caption, lesson, marks));
        }
    }
    pictures
}

fn one<'a>(picture: ShelfPicture, caption: String, lesson: &Lesson, marks: &Marks) -> Picture<'a> {
    let spoken = format!("From above, {caption}. {}", picture.spoken);
    let mut picture = picture;
    for tin in &mut picture.tins {
        let group = lesson.groups.iter().position(|g| g.name == tin.group).map(GroupId);
        if let Some(letter) = group.and_then(|g| marks.letter(g)) {
            tin.group = letter;
        }
    }
    Picture {
        caption,
        spoken,
        share: ACROSS,
        zoom: 0.65,
        draw: Box::new(move |width, measure| shelf::shelf(&picture, width, measure)),
    }
}
