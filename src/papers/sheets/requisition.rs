//! The requisition: what the technician puts out, and the slip that comes back.

use super::needs;
use super::words::{allergens, names, time};
use crate::model::{GroupId, Lesson, Recipe, TinId};
use crate::papers::sheet::{Block, Cell, Form, Look, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::stores::labels::label;
use crate::stores::{MadeFor, RecipeStores, Sets, told};
use crate::units::plain_number;
use crate::view::ovens::dial_words;
use crate::view::technicians_day::first_set;
use crate::view::words::{capital, list};

pub(super) fn sheet<'a>(matter: &'a Matter<'a>) -> Sheet<'a> {
    let lesson = matter.lesson;
    let start = lesson.periods.iter().map(|p| p.start).min().unwrap_or_default();
    let first = matter.plan.and_then(|plan| first_set(lesson, plan));
    let fridge = first.map_or(String::new(), |first| {
        let by = time(lesson, first);
        format!("Out of the fridge and the store by {by}, when the first set is begun. ")
    });
    let mut blocks = vec![Block::Prose(format!(
        "{fridge}Everything on trays by unit by {}. No swap of a brand without asking: another packet may \
         hold other allergens.",
        time(lesson, start)
    ))];
    blocks.extend(apart(matter));
    for recipe in &matter.stores.recipes {
        blocks.extend(of_recipe(lesson, recipe));
    }
    blocks.extend(needs::blocks(matter));
    blocks.push(Block::Heading("Trays".to_owned()));
    blocks.push(Block::Table(trays(matter)));
    blocks.extend(things(matter));
    blocks.extend(ovens(matter));
    blocks.extend(afterwards(lesson));
    blocks.push(Block::Heading("Comes back with the trays".to_owned()));
    let columns = [
        ("Left over", Width::Share(1.0)),
        ("Broken", Width::Share(1.0)),
        ("Swapped", Width::Share(1.0)),
        ("Initials", Width::Share(0.5)),
    ];
    let mut slip = Table::new(&columns);
    for _ in 0..3 {
        slip.row(Look::Plain, vec![Cell::Blank; columns.len()]);
    }
    blocks.push(Block::Table(slip));
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
        ("Covered, own kit, put out by", Width::Share(1.0)),
    ];
    let mut table = Table::new(&columns);
    for id in apart {
        let group = lesson.group(id);
        let needs = match group.needs.as_slice() {
            [] => "kept apart from the others".to_owned(),
            needs => list(needs),
        };
        let cells = vec![
            Cell::Strong(group.name.clone()),
            Cell::Name(lesson.recipe_of(id).name.clone()),
            Cell::Prose(needs),
            Cell::Blank,
        ];
        table.row(Look::Plain, cells);
    }
    vec![Block::Heading("First: covered trays kept apart".to_owned()), Block::Table(table)]
}

fn of_recipe<'a>(lesson: &Lesson, stores: &RecipeStores) -> Vec<Block<'a>> {
    let recipe = &lesson.recipes[stores.recipe.0];
    let mut blocks = vec![Block::Heading(capital(&recipe.name))];
    if recipe.ingredients.is_empty() {
        let words = "No ingredients are entered for this recipe: the list is still to be made.";
        blocks.push(Block::Prose(words.to_owned()));
        return blocks;
    }
    let headings: Vec<String> = stores.sets.iter().map(|set| of_set(recipe, set)).collect();
    let mut columns = vec![("Ingredient", Width::Share(1.4))];
    columns.extend(headings.iter().map(|h| (h.as_str(), Width::Share(1.0))));
    columns.push(("In all", Width::Fit));
    columns.push(("Label read", Width::Fit));
    let mut table = Table::new(&columns);
    for amount in &stores.amounts {
        let ingredient = &recipe.ingredients[amount.ingredient];
        let mut cells = vec![Cell::Name(ingredient.name.clone())];
        let each = amount.each.iter().map(|&each| told::for_a_set(ingredient, each));
        cells.extend(each.map(Cell::Prose));
        cells.push(Cell::Time(told::in_all(ingredient, amount.total)));
        let label = label(lesson, ingredient);
        cells.push(label.read_by.map_or(Cell::Blank, |by| {
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
        MadeFor::Demo => format!("{} × demo", set.count),
        MadeFor::Spare => format!("{} × spare", set.count),
        MadeFor::Groups(tin) => {
            let tin = tin.and_then(|tin| recipe.tins.get(tin.0));
            let tin = tin.map_or(String::new(), |tin| format!(", {}", tin.label));
            format!("{apart}{} × {} batch{tin}", set.count, plain_number(set.factor))
        }
    }
}

/// A tray for each group, in the lesson's order.
fn trays(matter: &Matter<'_>) -> Table {
    let lesson = matter.lesson;
    let columns = [
        ("Tray", Width::Fit),
        ("Makes", Width::Share(1.0)),
        ("Tin", Width::Share(1.0)),
        ("Batch", Width::Fit),
        ("Out", Width::Fit),
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
            Cell::Time(plain_number(set.factor)),
            Cell::Tick,
        ];
        table.row(Look::Plain, cells);
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
        let there = lesson.kit_pools.iter().filter(|p| p.kit.0 == i).map(|p| p.count).sum();
        if there > 0 {
            items.push(counted(there, &kind.name));
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
    ];
    let mut table = Table::new(&columns);
    for s in settings {
        let oven = &lesson.ovens[s.oven.0];
        let cells = vec![
            Cell::Strong(oven.name.clone()),
            Cell::Name(dial_words(oven, s.celsius)),
            Cell::Time(time(lesson, s.set_at)),
            Cell::Time(time(lesson, s.hot_from)),
        ];
        table.row(Look::Plain, cells);
    }
    vec![Block::Heading("Ovens on".to_owned()), Block::Table(table)]
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
    lines.push("Collected by: ………………………  kept where: ………………………".to_owned());
    vec![Block::Heading("Done for the groups".to_owned()), Block::List(lines)]
}
