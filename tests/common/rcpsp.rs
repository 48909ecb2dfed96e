//! Reads problems of the standard kind: PSPLIB's `.sm` files (Kolisch and
//! Sprecher 1997; one mode, least gaps only) and Schwindt's `.sch` files (with
//! longest gaps, as lags between starts that may be negative).

use std::path::Path;

use super::scheduling::{Activity, Lag, Resource, Scheduling};

/// Reads a file by its ending.
pub fn read(path: &Path) -> Result<Scheduling, String> {
    let text = std::fs::read_to_string(path).map_err(|e| e.to_string())?;
    let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default();
    let read = match ending.to_ascii_lowercase().as_str() {
        "sm" => sm(&text),
        "sch" => sch(&text),
        _ => return Err("neither .sm nor .sch".into()),
    };
    read.ok_or_else(|| "it does not read as such a file".into())
}

/// The whole numbers of a line; brackets round them are left away.
fn numbers(line: &str) -> Option<Vec<i32>> {
    line.split_whitespace()
        .map(|word| word.trim_matches(|c| c == '[' || c == ']').parse().ok())
        .collect()
}

/// The lines of numbers after a line that begins so and the line of headings
/// (and perhaps a rule) under it.
fn section(text: &str, begins: &str) -> Vec<Vec<i32>> {
    text.lines()
        .skip_while(|l| !l.trim_start().starts_with(begins))
        .skip(2)
        .skip_while(|l| l.starts_with('-'))
        .map_while(numbers)
        .take_while(|row| !row.is_empty())
        .collect()
}

/// A problem from lengths, what each takes of each resource, what there is,
/// and lags; the first activity is the start and lies at 0.
fn problem(minutes: &[i32], takes: &[Vec<i32>], there: &[i32], lags: Vec<Lag>) -> Scheduling {
    let mut activities: Vec<Activity> = minutes.iter().map(|&m| Activity::lasting(m)).collect();
    if let Some(first) = activities.first_mut() {
        first.latest = Some(0);
    }
    let resources = there.iter().enumerate().map(|(r, &capacity)| Resource {
        capacity,
        demands: takes.iter().map(|t| t[r]).enumerate().filter(|&(_, t)| t > 0).collect(),
    });
    Scheduling { activities, lags, resources: resources.collect(), apart: Vec::new() }
}

fn sm(text: &str) -> Option<Scheduling> {
    let order = section(text, "PRECEDENCE RELATIONS");
    let asked = section(text, "REQUESTS/DURATIONS");
    let there = section(text, "RESOURCEAVAILABILITIES").into_iter().next()?;
    let minutes: Vec<i32> = asked.iter().map(|row| row.get(2).copied()).collect::<Option<_>>()?;
    let takes: Vec<Vec<i32>> = asked
        .iter()
        .map(|row| Some(row.get(3..3 + there.len())?.to_vec()))
        .collect::<Option<_>>()?;
    let mut lags = Vec::new();
    for row in &order {
        let from = usize::try_from(row.first()? - 1).ok()?;
        for to in row.get(3..)? {
            let to = usize::try_from(to - 1).ok()?;
            lags.push(Lag { from, to, least: *minutes.get(from)? });
        }
    }
    (order.len() == asked.len() && !asked.is_empty())
        .then(|| problem(&minutes, &takes, &there, lags))
}

fn sch(text: &str) -> Option<Scheduling> {
    let rows: Vec<Vec<i32>> =
        text.lines().filter(|l| !l.trim().is_empty()).map(numbers).collect::<Option<_>>()?;
    let n = usize::try_from(*rows.first()?.first()?).ok()? + 2;
    let (order, rest) = rows.get(1..)?.split_at_checked(n)?;
    let (asked, rest) = rest.split_at_checked(n)?;
    let there = rest.first()?;
    let mut lags = Vec::new();
    for (from, row) in order.iter().enumerate() {
        let count = usize::try_from(*row.get(2)?).ok()?;
        let (to, least) = (row.get(3..3 + count)?, row.get(3 + count..3 + 2 * count)?);
        for (&to, &least) in to.iter().zip(least) {
            lags.push(Lag { from, to: usize::try_from(to).ok()?, least });
        }
    }
    let minutes: Vec<i32> = asked.iter().map(|row| row.get(2).copied()).collect::<Option<_>>()?;
    let takes: Vec<Vec<i32>> = asked
        .iter()
        .map(|row| Some(row.get(3..3 + there.len())?.to_vec()))
        .collect::<Option<_>>()?;
    Some(problem(&minutes, &takes, there, lags))
}
