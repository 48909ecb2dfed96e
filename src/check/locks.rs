//! `locked`: a served group is as its locks say.

use super::rule::{Breaches, Rule};
use super::view::{Served, View, shown};
use crate::model::LockedTo;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    for lock in &view.lesson.locks {
        let Some(group) = view.served(lock.group) else {
            continue; // a group not served is nowhere else than its lock says
        };
        if let Some(wrong) = wrong(view, group, &lock.to) {
            let minute = match &lock.to {
                LockedTo::Start(_, minute) => Some(i64::from(minute.get())),
                LockedTo::Tin(_) | LockedTo::Method(_) | LockedTo::Oven(..) => None,
            };
            out.add(Rule::Locked, group.id, minute, format!("{} {wrong}", group.name()));
        }
    }
}

/// What is not as the lock says, if anything.
fn wrong(view: &View<'_>, group: &Served<'_>, to: &LockedTo) -> Option<String> {
    match to {
        LockedTo::Start(name, minute) => {
            let what = shown(name);
            let Some(step) = group.method.step_named(name) else {
                return Some(format!("is to start \"{what}\" at {minute}, but does no such step"));
            };
            let start = group.placed[step.0].start;
            (start != *minute).then(|| format!("starts \"{what}\" at {start}, locked to {minute}"))
        }
        LockedTo::Tin(tin) => (group.choice.tin != Some(*tin)).then(|| {
            let tin = &group.recipe.tins[tin.0];
            format!("does not use \"{}\", to which it is locked", shown(&tin.label))
        }),
        LockedTo::Method(method) => (group.choice.method != *method).then(|| {
            let method = &group.recipe.methods[method.0];
            format!("does not use the method \"{}\", to which it is locked", shown(&method.name))
        }),
        LockedTo::Oven(oven, shelf) => {
            let elsewhere = group
                .loads
                .iter()
                .find(|l| l.oven != *oven || shelf.is_some_and(|shelf| l.shelf != shelf))?;
            let of_shelf = shelf.map_or(String::new(), |s| {
                format!(", shelf {} from the top", s.0.saturating_add(1))
            });
            Some(format!(
                "has tin {} in {}, shelf {}; it is locked to {}{of_shelf}",
                u64::from(elsewhere.number) + 1,
                view.oven_name(elsewhere.oven),
                elsewhere.shelf.0.saturating_add(1),
                view.oven_name(*oven)
            ))
        }
    }
}
