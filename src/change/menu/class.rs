//! Changes of the class's own time and rules: locks let go, ovens on earlier,
//! the demo in the lesson before, sharing, a longer period.

use super::super::alteration::Alteration;
use super::Menu;
use crate::file::format::{LockShape, StatedMinutes};
use crate::finding::shortened;
use crate::model::ChangeKind;
use crate::units::{ClockTime, Minutes, plain_number};

/// Ovens are not switched on earlier than this, in minutes from the bell.
const EARLIEST_ON: i32 = -60;
/// A period is made longer in steps of so many minutes, up to a double.
const STEP: i32 = 5;

/// Whether a step of the class is a demo, by its name.
pub(in crate::change) fn is_demo(name: &str) -> bool {
    let name = name.to_lowercase();
    let word = |w: &str| w == "demo" || w.starts_with("demonstrat");
    name.split(|c: char| !c.is_alphanumeric()).any(word) && !name.starts_with("recap")
}

/// Whether a step of the class looks back on the lesson, by its name.
pub fn is_plenary(name: &str) -> bool {
    name.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|w| w == "plenary")
}

/// A step of the class is not made shorter than this, in usual minutes.
const SHORTEST: f64 = 2.0;

/// Half the minutes, with what was usual and what is then; `None` where that
/// is too little. Those of the middle ages stand for all.
fn halved(minutes: &StatedMinutes) -> Option<(StatedMinutes, String, String)> {
    let (quick, usual, slow) = match *minutes {
        StatedMinutes::Usual(usual) => (0.75 * usual, usual, 1.5 * usual),
        StatedMinutes::Three(quick, usual, slow) => (quick, usual, slow),
        StatedMinutes::ByBand(bands) => bands[1],
    };
    let half = (usual / 2.0).ceil();
    let share = half / usual;
    let then = StatedMinutes::Three(quick * share, half, slow * share);
    (half >= SHORTEST && half < usual).then(|| (then, plain_number(usual), plain_number(half)))
}

impl Menu<'_> {
    pub(super) fn unlock(&mut self) {
        for lock in &self.file.locks {
            let words = format!("let go of what is locked: {}", lock_words(lock));
            self.add(ChangeKind::Unlock, Alteration::Unlock(lock.clone()), words, Vec::new());
        }
    }

    pub(super) fn ovens_earlier(&mut self) {
        for period in self.periods_in_need() {
            let of = &self.lesson.periods[period];
            let hottest = self
                .lesson
                .recipes
                .iter()
                .flat_map(|r| &r.tins)
                .map(|t| t.celsius)
                .reduce(|a, b| if b > a { b } else { a });
            let Some(hottest) = hottest else { continue };
            let working = self.lesson.ovens.iter().filter(|o| !o.out_of_order);
            let slowest = working
                .map(|o| o.change_minutes(None, hottest).rounded_up().get())
                .max()
                .unwrap_or(0);
            let minute = (-slowest).max(EARLIEST_ON);
            if (of.ovens_on_from - of.start).get() <= minute {
                continue;
            }
            let at = of.start_clock.after(Minutes::new(minute));
            let words = format!("ovens on at {at}");
            let asks = vec![format!("Someone switches the ovens on at {at} and stays near them.")];
            self.add(ChangeKind::OvensEarlier, Alteration::OvensOn { period, minute }, words, asks);
        }
    }

    pub(super) fn demo(&mut self) {
        for period in self.periods_in_need() {
            let Some(of) = self.file.period(period) else { continue };
            let steps = of.opening.iter().chain(&of.during).filter(|s| is_demo(&s.name));
            for step in steps {
                let name = &step.name;
                let short = shortened(name, 60);
                let words = format!("{short} in the lesson before, 2 minutes' recap in this one");
                let asks = vec![format!(
                    "The lesson before gives its time to the {short}; nothing is baked there, so \
                     it also suits a classroom."
                )];
                let what = Alteration::Recap { period, step: name.clone() };
                self.add(ChangeKind::Demo, what, words, asks);
            }
        }
    }

    /// A demo or plenary of four minutes or more in half the time.
    pub(super) fn shorten(&mut self) {
        for period in self.periods_in_need() {
            let Some(of) = self.file.period(period) else { continue };
            let steps = of.opening.iter().chain(&of.during).chain(&of.closing);
            for step in steps {
                let asks = if is_demo(&step.name) {
                    "The teacher shows only what goes wrong most; the rest is on the board."
                } else if is_plenary(&step.name) {
                    "The teacher asks one question on the way out; the rest is taken up in the \
                     next lesson."
                } else {
                    continue;
                };
                let Some((minutes, was, is)) = halved(&step.minutes) else { continue };
                let name = shortened(&step.name, 60);
                let words = format!("{name} in {is} minutes instead of {was}");
                let what = Alteration::Shorten { period, step: step.name.clone(), minutes };
                self.add(ChangeKind::Shorten, what, words, vec![asks.to_owned()]);
            }
        }
    }

    pub(super) fn share(&mut self) {
        let apart = |g| !self.lesson.sharing_in(self.lesson.group(g).room);
        if self.groups().any(|g| self.lesson.group(g).unit.is_some() && apart(g)) {
            let words = "units share their ovens and kit".to_owned();
            let asks = vec!["Pupils walk to other units, with hot tins too.".to_owned()];
            self.add(ChangeKind::Share, Alteration::Share, words, asks);
        }
    }

    pub(super) fn longer(&mut self) {
        for period in self.periods_in_need() {
            let Some(of) = self.file.period(period) else { continue };
            let Ok(end) = ClockTime::parse(&of.end) else { continue };
            let length = self.lesson.periods[period].length().get();
            let from = self.items.len();
            let rungs = (1..).map(|step| STEP * step).take_while(|&m| m < length);
            for minutes in rungs.chain([length]) {
                let later = end.after(Minutes::new(minutes));
                let words = if minutes == length {
                    format!("a double, to {later}")
                } else {
                    format!("{minutes} minutes longer, to {later}")
                };
                let asks = vec![format!(
                    "Teacher, pupils and room are wanted until {later}: ask whoever has them then."
                )];
                let times = 1.0 + f64::from(minutes - 5) / 60.0;
                let what = Alteration::Longer { period, minutes };
                self.add_at(ChangeKind::Longer, times, what, words, asks);
            }
            self.ladder(from);
        }
    }
}

fn lock_words(lock: &LockShape) -> String {
    let group = shortened(&lock.group, 40);
    let of = |what: &Option<String>| what.as_deref().map(|w| shortened(w, 40));
    let what = match (of(&lock.step), lock.at) {
        (Some(step), Some(at)) => format!("{step} at minute {}", plain_number(f64::from(at))),
        _ => of(&lock.tin)
            .or(of(&lock.method))
            .or(of(&lock.oven))
            .unwrap_or_else(|| "its place".to_owned()),
    };
    format!("{group}, {what}")
}

#[cfg(test)]
mod tests {
    use super::is_demo;

    #[test]
    fn a_demo_is_told_by_its_name() {
        assert!(is_demo("demo"));
        assert!(is_demo("Demonstration of melting"));
        assert!(!is_demo("recap of the demo"));
        assert!(!is_demo("democracy talk"));
    }
}
