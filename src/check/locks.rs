//! `locked`: a served group is as its locks say.

use super::breach::Breaches;
use super::fault::LockFault;
use super::view::{Served, View, tin_of};
use crate::model::LockedTo;
use crate::plan::Rule;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    for lock in &view.lesson.locks {
        let Some(group) = view.served(lock.group) else {
            continue; // a group not served is nowhere else than its lock says
        };
        if let Some(fault) = wrong(group, &lock.to) {
            let minute = match &lock.to {
                LockedTo::Start(_, minute) => Some(i64::from(minute.get())),
                LockedTo::Tin(_) | LockedTo::Method(_) | LockedTo::Oven(..) => None,
            };
            out.add(Rule::Locked, group.id, minute, fault);
        }
    }
}

/// What is not as the lock says, if anything.
fn wrong(served: &Served<'_>, to: &LockedTo) -> Option<LockFault> {
    let group = served.id;
    match to {
        LockedTo::Start(name, locked) => {
            let (step, locked) = (name.clone(), *locked);
            let Some(found) = served.method.step_named(name) else {
                return Some(LockFault::NoSuchStep { group, step, locked });
            };
            let start = served.placed[found.0].start;
            (start != locked).then_some(LockFault::OtherStart { group, step, start, locked })
        }
        LockedTo::Tin(tin) => {
            (served.choice.tin != Some(*tin)).then_some(LockFault::OtherTin { group, locked: *tin })
        }
        LockedTo::Method(method) => (served.choice.method != *method)
            .then_some(LockFault::OtherMethod { group, locked: *method }),
        LockedTo::Oven(oven, shelf) => {
            let elsewhere = served
                .loads
                .iter()
                .find(|l| l.oven != *oven || shelf.is_some_and(|shelf| l.shelf != shelf))?;
            Some(LockFault::OtherPlace {
                tin: tin_of(elsewhere),
                place: (elsewhere.oven, elsewhere.shelf),
                locked: (*oven, *shelf),
            })
        }
    }
}
