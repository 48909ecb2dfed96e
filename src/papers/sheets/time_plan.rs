//! A unit's own plan: its jobs by the clock, one action a line. It leaves with
//! a pupil.

use super::words::{done_when, places, time, tin};
use crate::check::CheckedPlan;
use crate::model::{AdultNeed, GroupId, Lesson, Step, StepKind};
use crate::papers::sheet::{Block, Cell, Form, Look, Row, Sheet, Table, Width};
use crate::papers::{Matter, Part};
use crate::plan::{ClassPlacement, StepPlacement};
use crate::units::Minute;
use crate::view::bake_times::bake_times;
use crate::view::rows::COLLECTED_LATER;
use crate::view::scene::job::JobSymbol;
use crate::view::words::{capital, list};

/// Asked of pupils at the end.
const HOW_WAS_IT: &str = "How did it come out? What would you do otherwise?";
/// Pupils for whom there is a column each; more are named in one.
const COLUMNS: u32 = 3;

/// Rows of a plan that a unit makes itself: more than a double period has jobs.
const ROWS: usize = 16;

/// A plan for each unit that is served: in full, or with gaps.
pub(super) fn sheets<'a>(matter: &'a Matter<'a>, part: Part) -> Vec<Sheet<'a>> {
    let Some(plan) = matter.plan else { return Vec::new() };
    let ids = (0..matter.lesson.groups.len()).map(GroupId);
    ids.filter_map(|id| sheet(matter.lesson, plan, (id, part))).collect()
}

/// A plan that any unit makes itself.
pub(super) fn blank<'a>(matter: &'a Matter<'a>) -> Sheet<'a> {
    let ends = matter.lesson.periods.iter().map(|p| time(matter.lesson, p.end));
    let columns = [
        ("Clock", Width::Share(1.0)),
        ("Job", Width::Share(4.0)),
        ("Who", Width::Share(1.0)),
        ("Really at", Width::Share(1.0)),
    ];
    let mut table = Table::new(&columns);
    for _ in 0..ROWS {
        table.row(Look::Plain, vec![Cell::Blank; columns.len()]);
    }
    let blocks = vec![
        Block::Prose("Unit: ………………………  Dish: ………………………".to_owned()),
        Block::Prose(format!("Out by {}.", list(&ends.collect::<Vec<_>>()))),
        Block::Prose("IN: …………  CHECK FROM: …………  OUT expected: …………".to_owned()),
        Block::Table(table),
        Block::Prose(HOW_WAS_IT.to_owned()),
        Block::WriteOn(1),
    ];
    Sheet { part: Part::BlankTimePlan, of: None, blocks, form: Form::HalfSheet }
}

fn sheet<'a>(
    lesson: &Lesson,
    plan: &CheckedPlan,
    (id, part): (GroupId, Part),
) -> Option<Sheet<'a>> {
    plan.plan().choice(id)?;
    let group = lesson.group(id);
    let recipe = &lesson.recipe_of(id).name;
    let dish = match tin(lesson, plan, id) {
        Some(tin) => format!("{}, {tin}", capital(recipe)),
        None => capital(recipe),
    };
    let end = time(lesson, lesson.periods[group.period.0].end);
    let mut blocks = vec![Block::Big(dish), Block::Prose(format!("Out by {end}."))];
    if let Some(times) = bake_times(lesson, plan, id) {
        let at = |minute| time(lesson, minute);
        let shut = times
            .shut_until
            .map_or(String::new(), |until| format!(" Keep the door shut until {}.", at(until)));
        blocks.push(Block::Prose(format!(
            "{}: IN {}, CHECK FROM {}, OUT expected {}.{shut} Done when: {}.",
            places(lesson, plan, id),
            at(times.load),
            at(times.check_from),
            at(times.take_out),
            done_when(lesson, plan, id).trim_end_matches('.')
        )));
    }
    let done: Vec<String> = group.beforehand.iter().cloned().collect();
    if !done.is_empty() {
        blocks.push(Block::Prose(format!("Done for you before the bell: {}.", list(&done))));
    }
    let mut table = jobs(lesson, plan, id);
    if part == Part::TimePlansWithGaps {
        leave_gaps(&mut table);
    }
    blocks.push(Block::Table(table));
    blocks.push(Block::Prose(HOW_WAS_IT.to_owned()));
    blocks.push(Block::WriteOn(1));
    let of = Some(group.name.clone());
    Some(Sheet { part, of, blocks, form: Form::HalfSheet })
}

/// Leaves out a time and a job by turns. What the whole class does stays, so that
/// there is something to count from.
fn leave_gaps(table: &mut Table) {
    let own = table.rows.iter_mut().filter(|row| row.look == Look::Plain);
    for (i, row) in own.enumerate() {
        if let Some(cell) = row.cells.get_mut(i % 2) {
            *cell = Cell::Blank;
        }
        // It would give the job away.
        row.symbol = row.symbol.filter(|_| i % 2 == 0);
    }
}

/// What happens to a group, by the clock: its own steps and the class's.
fn jobs(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> Table {
    let pupils = lesson.group(id).pupils;
    let partners: Vec<String> = (1..=pupils).map(|p| format!("Pupil {p}")).collect();
    let mut columns = vec![("Clock", Width::Fit), ("Job", Width::Share(3.0))];
    match pupils {
        1 => {}
        2..=COLUMNS => columns.extend(partners.iter().map(|p| (p.as_str(), Width::Fit))),
        _ => columns.push(("Pupils", Width::Fit)),
    }
    columns.push(("Really at", Width::Fit));
    let mut table = Table::new(&columns);
    let mut rows: Vec<((Minute, Minute), Row)> = Vec::new();
    for placed in plan.plan().steps.iter().filter(|s| s.group == id) {
        rows.extend(own(lesson, plan, placed));
    }
    let period = lesson.group(id).period;
    let class = plan.plan().class_steps.iter();
    for placed in class.filter(|c| lesson.class_steps[c.step.0].period == period) {
        rows.push(of_class(lesson, placed, columns.len()));
    }
    rows.sort_by_key(|(span, _)| *span);
    table.rows.extend(rows.into_iter().map(|(_, row)| row));
    table
}

fn of_class(lesson: &Lesson, placed: &ClassPlacement, columns: usize) -> ((Minute, Minute), Row) {
    let name = capital(&lesson.class_steps[placed.step.0].name);
    let words = format!("{name}, until {}", time(lesson, placed.end));
    let mut cells = vec![Cell::Time(time(lesson, placed.start)), Cell::Prose(words)];
    cells.resize(columns, Cell::Blank);
    let row = Row { cells, look: Look::Shaded, symbol: None, home: Vec::new() };
    ((placed.start, placed.end), row)
}

/// A step of the group's own; none of one done before or after the lesson.
fn own(
    lesson: &Lesson,
    plan: &CheckedPlan,
    placed: &StepPlacement,
) -> Option<((Minute, Minute), Row)> {
    let (id, group) = (placed.group, lesson.group(placed.group));
    let choice = plan.plan().choice(id)?;
    let step = lesson.method_of(id, choice.method).steps.get(placed.step.0)?;
    if group.beforehand.contains(&step.name) {
        return None;
    }
    let is_over = lesson.periods[group.period.0].end <= placed.start;
    let words = match group.collected.contains(&step.name) {
        true if is_over => format!("After the bell, done for you: {}", step.name),
        // What goes by itself begins while the class is there.
        true => format!("{} {}.", job(lesson, plan, placed, step), capital(COLLECTED_LATER)),
        false => job(lesson, plan, placed, step),
    };
    let mut cells = vec![Cell::Time(time(lesson, placed.start)), Cell::Prose(words)];
    let hands = |p: u32| placed.pupils.contains(&p);
    match group.pupils {
        1 => {}
        of @ 2..=COLUMNS => {
            let dot = |p| if hands(p) { Cell::Name("•".to_owned()) } else { Cell::Blank };
            cells.extend((0..of).map(dot));
        }
        of => {
            let who: Vec<String> =
                (0..of).filter(|&p| hands(p)).map(|p| (p + 1).to_string()).collect();
            cells.push(Cell::Name(if placed.pupils.len() == of as usize {
                "all".to_owned()
            } else {
                list(&who)
            }));
        }
    }
    cells.push(Cell::Blank);
    let (symbol, home) = (JobSymbol::of(step), step.home.clone());
    Some(((placed.start, placed.end), Row { cells, look: Look::Plain, symbol, home }))
}

/// A job in everyday words, with the kit it wants and who must be near.
fn job(lesson: &Lesson, plan: &CheckedPlan, placed: &StepPlacement, step: &Step) -> String {
    let until = time(lesson, placed.end);
    let mut words = match step.kind {
        StepKind::Load => format!("Into {}", places(lesson, plan, placed.group)),
        StepKind::TakeOut => "Test it. Done: take it out".to_owned(),
        StepKind::Bake => format!("It bakes, about until {until}"),
        StepKind::Cool => format!("It cools until {until}"),
        _ if !step.pupil_words.is_empty() => step.pupil_words.clone(),
        StepKind::Wait => format!("{} until {until}", capital(&step.name)),
        StepKind::Hand => capital(&step.name),
    };
    if !words.ends_with(['.', '!', '?']) {
        words.push('.');
    }
    let kit = step.kit.iter().map(|&(kit, n)| {
        let n = usize::try_from(n).unwrap_or(usize::MAX);
        crate::words::counted(n, &lesson.kit_kinds[kit.0].name)
    });
    let kit: Vec<String> = kit.collect();
    if !kit.is_empty() {
        words.push_str(&format!(" Kit: {}.", list(&kit)));
    }
    match step.adult {
        AdultNeed::None => {}
        AdultNeed::Near => words.push_str(" An adult is in the room."),
        AdultNeed::With => words.push_str(" An adult is beside you: wait for them."),
    }
    words
}
