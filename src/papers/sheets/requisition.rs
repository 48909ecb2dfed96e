//! The requisition: what the technician puts out, and the slip that comes back.

use std::collections::BTreeSet;

use super::needs;
use super::words::{allergens, names, time};
use crate::check::CheckedPlan;
use crate::model::{GroupId, KitId, Lesson, PoolId, Recipe, TinId};
use crate::papers::sheet::{Block, Cell, Form, Look, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::plan::{Load, OvenSetting, Stock};
use crate::stores::labels::label;
use crate::stores::{MadeFor, RecipeStores, Sets, is_bought, order, told};
use crate::units::plain_number;
use crate::view::ovens::dial_words;
use crate::view::technicians_day::first_set;
use crate::view::words::{capital, list};

pub(super) fn sheet<'a>(matter: &'a Matter<'a>) -> Sheet<'a> {
    let lesson = matter.lesson;
    let start = lesson.periods.iter().map(|p| p.start).min().unwrap_or_default();
    let first = matter.plan.and_then(|plan| first_set(lesson, plan));
    let first = first.map(|first| time(lesson, first));
    let laid = matter.set_out.and_then(|set_out| set_out.begins).map(|begins| begins.to_string());
    let fridge = laid.or(first).map_or(String::new(), |by| {
        format!("Out of the fridge and the store by {by}, when the first set is begun. ")
    });
    let mut blocks = vec![Block::Prose(format!(
        "{fridge}Everything on trays by unit by {}. No swap of a brand without asking: another packet may \
         hold other allergens.",
        time(lesson, start)
    ))];
    blocks.extend(apart(matter));
    blocks.extend(taken_out(matter));
    // Trays kept apart are made up before flour of others is about.
    let is_apart = |of: &&RecipeStores| of.sets.iter().any(|set| set.apart);
    let (first, then): (Vec<_>, Vec<_>) = matter.stores.recipes.iter().partition(is_apart);
    for recipe in first.into_iter().chain(then) {
        blocks.extend(of_recipe(lesson, recipe));
    }
    blocks.extend(not_out(matter));
    blocks.extend(needs::blocks(matter));
    blocks.push(Block::Heading("Trays, out and back".to_owned()));
    blocks.push(Block::Table(trays(matter)));
    blocks.extend(things(matter));
    blocks.extend(ovens(matter));
    blocks.extend(afterwards(lesson));
    Sheet { part: Part::Requisition, of: None, blocks, form: Form::Hand }
}

/// Trays that are kept apart, which are put out first.
fn apart<'a>(matter: &Matter<'_>) -> Vec<Block<'a>> {
    let lesson = matter.lesson;
    let apart: Vec<GroupId> = lesson.attending().filter(|&g| lesson.group(g).keep_apart).collect();
    if apart.is_empty() {
        return Vec::new();
    }
    let columns = [
        ("Unit", Width::Fit),
        ("Makes", Width::Share(1.0)),
        ("Keeps to", Width::Share(1.5)),
        ("Covered", Width::Fit),
        ("Own kit", Width::Fit),
        ("Put out by", Width::Share(0.7)),
    ];
    let mut table = Table::new(&columns);
    for id in apart {
        let group = lesson.group(id);
        let needs = match group.needs.as_slice() {
            [] => "nothing that another unit has used".to_owned(),
            needs => list(needs),
        };
        let cells = vec![
            Cell::Strong(group.name.clone()),
            Cell::Name(lesson.recipe_of(id).name.clone()),
            Cell::Prose(needs),
            Cell::Tick,
            Cell::Tick,
            Cell::Blank,
        ];
        table.row(Look::Plain, cells);
    }
    vec![Block::Heading("First: covered trays kept apart".to_owned()), Block::Table(table)]
}

/// Whose sets are counted though the plan does not get them out, and that nobody does
/// anything beforehand for them.
fn not_out<'a>(matter: &Matter<'_>) -> Option<Block<'a>> {
    let (lesson, plan) = (matter.lesson, matter.plan?);
    let left = lesson.attending().filter(|&group| plan.plan().choice(group).is_none());
    let left: Vec<GroupId> = left.collect();
    if left.is_empty() {
        return None;
    }
    let others = match first_set(lesson, plan) {
        Some(_) => "; what the technician's day has done beforehand is for the others",
        None => "",
    };
    Some(Block::Prose(format!(
        "Not out by the plan: {}. Their sets are counted here all the same, as one too many is \
         better than one too few{others}.",
        names(lesson, &left)
    )))
}

/// What comes out of which place of the store, over all recipes, where packets tell
/// where they stand.
fn taken_out<'a>(matter: &Matter<'_>) -> Vec<Block<'a>> {
    let mut places: Vec<(String, Vec<String>)> = Vec::new();
    let lines = order(&[(matter.lesson, &matter.stores)]).into_iter().filter(is_bought);
    for line in lines {
        let place = line.packet.as_ref().map_or("", |packet| packet.store.trim()).to_owned();
        let what = format!("{} {}", line.name, told::in_all_of(line.measure, line.total()));
        match places.iter_mut().find(|(of, _)| *of == place) {
            Some((_, all)) => all.push(what),
            None => places.push((place, vec![what])),
        }
    }
    if places.iter().all(|(place, _)| place.is_empty()) {
        return Vec::new();
    }
    places.sort_by_key(|(place, _)| place.is_empty());
    let line = |(place, all): (String, Vec<String>)| match place.as_str() {
        "" => format!("No place entered: {}", list(&all)),
        place => format!("{}: {}", capital(place), list(&all)),
    };
    let lines = places.into_iter().map(line).collect();
    vec![Block::Heading("Take out, for all trays".to_owned()), Block::List(lines)]
}

fn of_recipe<'a>(lesson: &Lesson, stores: &RecipeStores) -> Vec<Block<'a>> {
    let recipe = &lesson.recipes[stores.recipe.0];
    let mut blocks = vec![Block::Heading(capital(&recipe.name))];
    if recipe.ingredients.is_empty() {
        let words = "No ingredients are entered for this recipe: the list is still to be made.";
        blocks.push(Block::Prose(words.to_owned()));
        return blocks;
    }
    // Sets that hold the same have one column.
    let alike = stores.sets.windows(2).all(|pair| pair[0].factor == pair[1].factor);
    let of_sets: Vec<String> = stores.sets.iter().map(|set| of_set(recipe, set)).collect();
    let count: u32 = stores.sets.iter().map(|set| set.count).sum();
    let headings = match stores.sets.as_slice() {
        [_, _, ..] if alike => {
            blocks.push(Block::Prose(format!("{count} sets alike: {}.", of_sets.join("; "))));
            vec![format!("Each of {count} sets")]
        }
        _ => of_sets,
    };
    let mut columns = vec![("Ingredient", Width::Share(1.4))];
    columns.extend(headings.iter().map(|h| (h.as_str(), Width::Share(1.0))));
    columns.push(("In all", Width::Fit));
    columns.push(("Label read", Width::Fit));
    let mut table = Table::new(&columns);
    for amount in &stores.amounts {
        let ingredient = &recipe.ingredients[amount.ingredient];
        let packet = lesson.packets.iter().find(|packet| packet.is_of(&ingredient.name));
        let name = match packet.map_or("", |packet| packet.brand.trim()) {
            "" => ingredient.name.clone(),
            brand => format!("{} ({brand})", ingredient.name),
        };
        let mut cells = vec![Cell::Name(name)];
        let each = amount.each.iter().take(headings.len());
        let each = each.map(|&each| told::for_a_set(ingredient, each));
        cells.extend(each.map(Cell::Prose));
        cells.push(Cell::Time(told::in_all(ingredient, amount.total)));
        let label = label(lesson, ingredient);
        // Room for initials, in a row no higher than others.
        cells.push(label.read_by.map_or(Cell::Name(String::new()), |by| {
            let on = label.read_on.map_or(String::new(), |on| format!(", {}", on.format("%-d %b")));
            Cell::Name(format!("{by}{on}"))
        }));
        table.row(Look::Plain, cells);
    }
    blocks.push(Block::Table(table));
    let (entered, unread) = allergens(lesson, stores.recipe);
    let mut words = match entered.as_slice() {
        [] => "No allergens are entered.".to_owned(),
        entered => format!("Allergens as entered: {}.", list(entered)),
    };
    if !unread.is_empty() {
        words.push_str(&format!(" Not known, no label read: {}.", list(&unread)));
    }
    blocks.push(Block::Prose(words));
    blocks
}

/// "4 × 1 batch, 18 cm square tin"; "1 × spare".
fn of_set(recipe: &Recipe, set: &Sets) -> String {
    let apart = if set.apart { "kept apart, " } else { "" };
    match set.made_for {
        MadeFor::Demo => format!("{apart}{} × demo", set.count),
        MadeFor::Spare => format!("{apart}{} × spare", set.count),
        MadeFor::Groups(tin) => {
            let tin = tin.and_then(|tin| recipe.tins.get(tin.0));
            let tin = tin.map_or(String::new(), |tin| format!(", {}", tin.label));
            format!("{apart}{} × {}{tin}", set.count, batches(set.factor))
        }
    }
}

/// "1 batch", "1½ batches".
fn batches(factor: f64) -> String {
    let many = if factor > 1.0 { "es" } else { "" };
    format!("{} batch{many}", plain_number(factor))
}

/// A tray for each group, in the lesson's order, then those beside; each with room
/// for what comes back on it.
fn trays(matter: &Matter<'_>) -> Table {
    let lesson = matter.lesson;
    let columns = [
        ("Tray", Width::Fit),
        ("Makes", Width::Share(0.8)),
        ("Tin", Width::Share(0.8)),
        ("Holds", Width::Fit),
        ("Out", Width::Fit),
        ("Left over, broken, swapped", Width::Share(1.3)),
        ("Back", Width::Fit),
    ];
    let mut table = Table::new(&columns);
    for id in lesson.attending() {
        let found = matter.stores.recipes.iter().flat_map(|r| &r.sets);
        let Some(set) = found.into_iter().find(|s| s.groups.contains(&id)) else { continue };
        let tin = match set.made_for {
            MadeFor::Groups(Some(tin)) => lesson.tin_choice_of(id, tin).label.clone(),
            _ => "–".to_owned(),
        };
        let cells = vec![
            Cell::Strong(lesson.group(id).name.clone()),
            Cell::Name(lesson.recipe_of(id).name.clone()),
            Cell::Name(tin),
            Cell::Name(batches(set.factor)),
            Cell::Tick,
            Cell::Blank,
            Cell::Tick,
        ];
        table.row(Look::Plain, cells);
    }
    for of in &matter.stores.recipes {
        for set in &of.sets {
            let beside = match set.made_for {
                MadeFor::Groups(_) => continue,
                MadeFor::Demo => "Demo",
                MadeFor::Spare => "Spare",
            };
            let beside = if set.apart { format!("{beside}, covered") } else { beside.to_owned() };
            let cells = vec![
                Cell::Strong(beside),
                Cell::Name(lesson.recipes[of.recipe.0].name.clone()),
                Cell::Name("–".to_owned()),
                Cell::Name(match set.count {
                    1 => batches(set.factor),
                    more => format!("{more} × {}", batches(set.factor)),
                }),
                Cell::Tick,
                Cell::Blank,
                Cell::Tick,
            ];
            table.row(Look::Plain, cells);
        }
    }
    table
}

/// Tins that are filled, and counted kit that steps use.
fn things<'a>(matter: &Matter<'_>) -> Vec<Block<'a>> {
    let lesson = matter.lesson;
    let mut tins: Vec<(TinId, u32)> = Vec::new();
    for set in matter.stores.recipes.iter().flat_map(|r| &r.sets) {
        let MadeFor::Groups(Some(choice)) = set.made_for else { continue };
        let Some(&group) = set.groups.first() else { continue };
        let choice = lesson.tin_choice_of(group, choice);
        let count = choice.count * set.count;
        match tins.iter_mut().find(|(tin, _)| *tin == choice.tin) {
            Some((_, all)) => *all += count,
            None => tins.push((choice.tin, count)),
        }
    }
    let counted = |n: u32, name: &str| format!("{n} × {name}");
    let mut items: Vec<String> =
        tins.iter().map(|(tin, n)| counted(*n, &lesson.tins[tin.0].name)).collect();
    for (i, kind) in lesson.kit_kinds.iter().enumerate() {
        let used = kit_used(matter, KitId(i));
        if used > 0 {
            items.push(counted(used, &kind.name));
        }
    }
    if items.is_empty() {
        return Vec::new();
    }
    vec![
        Block::Heading("Tins and kit".to_owned()),
        Block::Prose(format!("{}; towels, aprons, cloths.", list(&items))),
    ]
}

/// How many of some kit are used: by the plan, or all that are there of what a step of a group
/// may ask for.
fn kit_used(matter: &Matter<'_>, kit: KitId) -> u32 {
    let lesson = matter.lesson;
    let is_it = |pool: &PoolId| lesson.kit_pools[pool.0].kit == kit;
    let Some(plan) = matter.plan else {
        let asks = |group| {
            let methods = lesson.recipe_of(group).methods.iter();
            methods.flat_map(|m| &m.steps).any(|s| s.kit.iter().any(|(of, _)| *of == kit))
        };
        let is_asked_for = lesson.attending().any(asks);
        let there = lesson.kit_pools.iter().filter(|p| p.kit == kit).map(|p| p.count).sum();
        return if is_asked_for { there } else { 0 };
    };
    let mut items: BTreeSet<(PoolId, u32)> = BTreeSet::new();
    for used in &plan.plan().uses {
        if let Stock::Kit(pool) = used.of
            && is_it(&pool)
        {
            items.extend(used.items.iter().map(|&item| (pool, item)));
        }
    }
    u32::try_from(items.len()).unwrap_or(u32::MAX)
}

/// When ovens go on, if there is a plan.
fn ovens<'a>(matter: &Matter<'_>) -> Vec<Block<'a>> {
    let (lesson, Some(plan)) = (matter.lesson, matter.plan) else { return Vec::new() };
    let mut settings: Vec<_> = plan.plan().settings.iter().collect();
    if settings.is_empty() {
        return Vec::new();
    }
    settings.sort_by_key(|s| (s.set_at, s.oven));
    let columns = [
        ("Oven", Width::Share(1.0)),
        ("Dial", Width::Share(1.0)),
        ("On at", Width::Fit),
        ("Hot for", Width::Fit),
        ("First in", Width::Share(1.4)),
    ];
    let mut table = Table::new(&columns);
    for s in settings {
        let oven = &lesson.ovens[s.oven.0];
        let cells = vec![
            Cell::Strong(oven.name.clone()),
            Cell::Name(dial_words(oven, s.celsius)),
            Cell::Time(time(lesson, s.set_at)),
            Cell::Time(time(lesson, s.hot_from)),
            Cell::Prose(first_in(lesson, plan, s)),
        ];
        table.row(Look::Plain, cells);
    }
    vec![Block::Heading("Ovens on".to_owned()), Block::Table(table)]
}

/// When something first goes into an oven as it is set, and whose.
fn first_in(lesson: &Lesson, plan: &CheckedPlan, setting: &OvenSetting) -> String {
    let within =
        |l: &&Load| l.oven == setting.oven && setting.set_at <= l.start && l.end <= setting.until;
    let loads = || plan.plan().loads.iter().filter(within);
    let Some(first) = loads().map(|load| load.start).min() else { return "nothing".to_owned() };
    let mut groups: Vec<GroupId> =
        loads().filter(|load| load.start == first).map(|load| load.group).collect();
    groups.sort_unstable();
    groups.dedup();
    format!("{}, {}", time(lesson, first), names(lesson, &groups))
}

/// What is done before the bell, and finished after it.
fn afterwards<'a>(lesson: &Lesson) -> Vec<Block<'a>> {
    let mut lines = Vec::new();
    let alike = |what: &dyn Fn(GroupId) -> Vec<String>, words: &str, lines: &mut Vec<String>| {
        let mut together: Vec<(Vec<String>, Vec<GroupId>)> = Vec::new();
        for id in lesson.attending() {
            let steps = what(id);
            match together.iter_mut().find(|(same, _)| *same == steps) {
                _ if steps.is_empty() => {}
                Some((_, groups)) => groups.push(id),
                None => together.push((steps, vec![id])),
            }
        }
        for (steps, groups) in together {
            lines.push(format!("{words}: {} for {}", list(&steps), names(lesson, &groups)));
        }
    };
    let before = |g: GroupId| lesson.group(g).beforehand.iter().cloned().collect();
    alike(&before, "Before the bell", &mut lines);
    let after = |g: GroupId| lesson.group(g).collected.iter().cloned().collect();
    alike(&after, "After the bell", &mut lines);
    if lines.is_empty() {
        return Vec::new();
    }
    lines.push("Bakes that stay: kept at ………………………  collected by ………………………".to_owned());
    vec![Block::Heading("Done for the groups".to_owned()), Block::List(lines)]
}
