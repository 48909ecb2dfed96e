//! Ovens that are still on, or were until lately, when a lesson wants them: they are
//! left on, or their dial is turned.

use super::super::ovens::dial_words;
use super::super::words::{in_short, list};
use super::ForLesson;
use crate::model::{Lesson, OvenId};
use crate::plan::OvenSetting;
use crate::play::Job;
use crate::units::{ClockTime, Minute};

/// An oven that is on already.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct StillOn {
    oven: OvenId,
    /// What its dial is to show.
    dial: String,
    /// It shows that.
    is_left: bool,
    /// Until then something else bakes in it, by the lesson that wants it.
    until: Minute,
}

impl StillOn {
    /// An oven that a lesson sets at a minute, if what was last done with it that day
    /// leaves it on, or it would be off for no longer than it takes to warm up.
    pub(super) fn before(
        lessons: &[ForLesson<'_>],
        number: usize,
        (oven, set_at): (OvenId, Minute),
    ) -> Option<Self> {
        let of = lessons.get(number)?;
        let set = settings(of, oven).find(|setting| setting.set_at == set_at)?;
        let at = of_day(of.lesson, set_at);
        let earlier = lessons.iter().filter(|other| other.lesson.date == of.lesson.date);
        let earlier = earlier.flat_map(|other| {
            let same = same_oven(of.lesson, oven, other.lesson);
            let all = same.into_iter().flat_map(|id| settings(other, id).map(move |s| (id, s)));
            all.map(|(id, setting)| (other.lesson, id, setting))
        });
        let (lesson, id, last) = earlier
            .filter(|(lesson, _, setting)| of_day(lesson, setting.set_at) < at)
            .max_by_key(|(lesson, _, setting)| of_day(lesson, setting.set_at))?;
        let until = of_day(lesson, last.until);
        if at - until > (set.hot_from - set_at).get() {
            return None;
        }
        let dial = dial_words(&of.lesson.ovens[oven.0], set.celsius);
        Some(Self {
            oven,
            is_left: dial_words(&lesson.ovens[id.0], last.celsius) == dial,
            dial,
            until: set_at + crate::units::Minutes::new(until - at),
        })
    }
}

fn settings<'a>(
    of: &ForLesson<'a>,
    oven: OvenId,
) -> impl Iterator<Item = &'a OvenSetting> + use<'a> {
    of.plan.plan().settings.iter().filter(move |setting| setting.oven == oven)
}

/// A minute of a lesson in minutes since midnight.
fn of_day(lesson: &Lesson, minute: Minute) -> i32 {
    let bell = lesson.periods[0].start_clock.minutes_since(ClockTime::MIDNIGHT);
    (bell + (minute - Minute::BELL)).get()
}

/// The oven in another lesson, by its name and its room's; in the same lesson itself.
fn same_oven(lesson: &Lesson, id: OvenId, other: &Lesson) -> Option<OvenId> {
    if std::ptr::eq(lesson, other) {
        return Some(id);
    }
    let named = |lesson: &Lesson, id: usize| {
        let oven = &lesson.ovens[id];
        (lesson.rooms[oven.room.0].name.clone(), oven.name.clone())
    };
    let wanted = named(lesson, id.0);
    let found = (0..other.ovens.len()).find(|&i| named(other, i) == wanted);
    // Rooms without a name may be any.
    found.filter(|_| !wanted.0.is_empty()).map(OvenId)
}

/// Ovens of a lesson that are on already, those alike together: the first one's job,
/// when it is done, and what: "leave Oven 1 to Oven 4 on at 180 °C fan".
pub(super) fn told_of(lesson: &Lesson, all: &[(Job, StillOn)]) -> Vec<(Job, OvenId, String)> {
    let mut alike: Vec<(Job, &StillOn, Vec<String>)> = Vec::new();
    for (job, on) in all {
        // A dial is turned once nothing of the other temperature bakes any more.
        let start_by = if on.is_left { job.start_by } else { job.start_by.max(on.until) };
        let job = Job { start_by, until: start_by, ..*job };
        let name = lesson.ovens[on.oven.0].name.clone();
        let same = |(other, of, _): &&mut (Job, &StillOn, Vec<String>)| {
            (other.start_by, other.adult, of.is_left, &of.dial)
                == (start_by, job.adult, on.is_left, &on.dial)
        };
        match alike.iter_mut().find(same) {
            Some((.., names)) => names.push(name),
            None => alike.push((job, on, vec![name])),
        }
    }
    let told = alike.into_iter().map(|(job, on, names)| {
        let names = list(&in_short(&names));
        let what = match on.is_left {
            true => format!("leave {names} on at {}", on.dial),
            false => format!("turn {names} to {}", on.dial),
        };
        (job, on.oven, what)
    });
    told.collect()
}
