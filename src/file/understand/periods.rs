//! Periods and the class's own steps.

use super::Builder;
use super::findings::{listed, quoted};
use super::names::Names;
use crate::file::format::{ClassStepShape, PeriodShape, StatedMinutes};
use crate::finding::{Path, Segment};
use crate::model::{
    About, AdultId, ClassStep, Origin, Period, PeriodId, Phase, ThreePoint, Timing,
};
use crate::units::{ClockTime, Minute, Minutes};

/// No school period is longer, in minutes.
const LONGEST_PERIOD: i32 = 480;
/// When ovens may be switched on if not said, in minutes from the bell.
const OVENS_ON_FROM: i32 = -20;

impl Builder<'_> {
    pub(super) fn periods(&mut self) {
        let file = self.file;
        let day_starts = ClockTime::parse(&file.period.start).ok();
        let mut assumed = Vec::new();
        let (others, count) = (Path::root().field("other_periods"), file.other_periods.len());
        for (number, period) in file.periods().enumerate() {
            if number == 1 && !self.findings.length(&others, "periods", count, 20) {
                break;
            }
            self.period(&PeriodShape::path(number), period, day_starts, &mut assumed);
        }
        if !assumed.is_empty() {
            let names = listed(assumed.iter().map(String::as_str));
            let text = format!("quick and slow minutes of {names}: ¾ and 1½ of the usual");
            self.assume(About::ClassQuickMinutes, PeriodShape::path(0), text);
        }
    }

    fn period(
        &mut self,
        path: &Path,
        shape: &PeriodShape,
        day_starts: Option<ClockTime>,
        assumed: &mut Vec<String>,
    ) {
        let name = shape.name();
        self.periods.add(&mut self.findings, &path.field("name"), name);
        let start = self.clock_time(&path.field("start"), &shape.start);
        let end = self.clock_time(&path.field("end"), &shape.end);
        let length = start.zip(end).and_then(|(start, end)| self.length_of(path, start, end));
        let start_clock = start.or(day_starts).unwrap_or(ClockTime::MIDNIGHT);
        let first = Minute::BELL + start_clock.minutes_since(day_starts.unwrap_or(start_clock));
        if first < Minute::BELL {
            let earlier = &self.file.period.start;
            let message = format!("{} starts before the first period, at {earlier}", quoted(name));
            let hint = "write the earliest period as `period`, the later ones in `other_periods`";
            self.findings.error("period-order", &path.field("start"), message, hint);
        }
        let known = length.unwrap_or(Minutes::new(LONGEST_PERIOD));
        let at = path.field("ovens_on_from");
        if shape.ovens_on_from.is_none() {
            let text = format!("ovens may be switched on {} min before the bell", -OVENS_ON_FROM);
            self.assume(About::Everything, at.clone(), format!("{text} ({name})"));
        }
        let on_from = shape.ovens_on_from.unwrap_or(OVENS_ON_FROM);
        let on_from =
            self.findings.whole(&at, "when ovens may be switched on", on_from, (-240, known.get()));
        let by = shape.ovens_on_by.as_ref().and_then(|name| {
            self.adults.find(&mut self.findings, &path.field("ovens_on_by"), name).map(AdultId)
        });
        let id = PeriodId(self.parts.periods.len());
        self.parts.periods.push(Period {
            name: name.to_owned(),
            start_clock,
            start: first,
            end: first + known,
            ovens_on_from: first + Minutes::new(on_from.unwrap_or(OVENS_ON_FROM)),
            ovens_on_by: by,
        });
        self.class_steps(path, shape, id, assumed);
        self.windows_before_closing(path, shape, id);
        if length.is_some() {
            self.check_class_time(path, id);
        }
    }

    fn clock_time(&mut self, path: &Path, text: &str) -> Option<ClockTime> {
        match ClockTime::parse(text) {
            Ok(time) => Some(time),
            Err(_) if text.trim().is_empty() => {
                let which = match path.0.last() {
                    Some(Segment::Field(name)) => name.as_str(),
                    _ => "other",
                };
                let message = format!("it is not said when the {which} bell rings");
                self.findings.error("clock-time", path, message, "write a time like \"10:05\"");
                None
            }
            Err(error) => {
                self.findings.error("clock-time", path, error.to_string(), "");
                None
            }
        }
    }

    fn length_of(&mut self, path: &Path, start: ClockTime, end: ClockTime) -> Option<Minutes> {
        let length = end.minutes_since(start);
        let path = path.field("end");
        if length <= Minutes::ZERO {
            let message = format!("the end bell, {end}, is not after the start bell, {start}");
            self.findings.error("bells", &path, message, "");
            return None;
        }
        if length.get() > LONGEST_PERIOD {
            let message =
                format!("from {start} to {end} is {length}; a period has {LONGEST_PERIOD} at most");
            self.findings.error("period-length", &path, message, "");
            return None;
        }
        Some(length)
    }

    fn class_steps(
        &mut self,
        path: &Path,
        shape: &PeriodShape,
        period: PeriodId,
        assumed: &mut Vec<String>,
    ) {
        let mut names = Names::new("class step");
        for (field, phase, steps) in [
            ("opening", Phase::Opening, &shape.opening),
            ("during", Phase::During, &shape.during),
            ("closing", Phase::Closing, &shape.closing),
        ] {
            let path = path.field(field);
            if !self.findings.length(&path, "class steps", steps.len(), 60) {
                continue;
            }
            for (i, step) in steps.iter().enumerate() {
                let path = path.index(i);
                names.add(&mut self.findings, &path.field("name"), &step.name);
                self.class_step(&path, step, period, phase);
                if matches!(step.minutes, StatedMinutes::Usual(_)) && !assumed.contains(&step.name)
                {
                    assumed.push(step.name.clone());
                }
            }
        }
    }

    fn class_step(&mut self, path: &Path, step: &ClassStepShape, period: PeriodId, phase: Phase) {
        let band = self.file.class.band;
        let at = path.field("minutes");
        let minutes = self.findings.minutes(&at, step.minutes, band, Origin::Entered);
        let timing = self.timing(path, step, phase, period, minutes.as_ref());
        let mut adults = Vec::new();
        for (i, name) in step.adults.iter().enumerate() {
            let path = path.field("adults").index(i);
            if let Some(adult) = self.adults.find(&mut self.findings, &path, name) {
                adults.push(AdultId(adult));
            }
        }
        let may_be_dropped = self.may_be_dropped(path, step, phase);
        // Without minutes there is a finding, and no lesson comes of it.
        if let Some(minutes) = minutes {
            let name = step.name.clone();
            self.parts.class_steps.push(ClassStep {
                name,
                period,
                phase,
                timing,
                minutes,
                adults,
                may_be_dropped,
            });
        }
    }

    fn timing(
        &mut self,
        path: &Path,
        step: &ClassStepShape,
        phase: Phase,
        period: PeriodId,
        minutes: Option<&ThreePoint>,
    ) -> Timing {
        if phase != Phase::During {
            for (field, stated) in [
                ("at", step.at.is_some()),
                ("between", step.between.is_some()),
                ("before_closing", step.before_closing.is_some()),
            ] {
                if stated {
                    let message = format!("a step of the opening or closing has no `{field}`");
                    let hint = "it follows in its turn; or move the step to `during`";
                    self.findings.error("class-step-timing", &path.field(field), message, hint);
                }
            }
            return Timing::InTurn;
        }
        let (from, until, exact) = match (step.at, step.between, step.before_closing) {
            (Some(at), None, None) => (at, at.saturating_add(self.planned(minutes).get()), true),
            (None, Some((from, until)), None) => (from, until, false),
            // Until the closing is known: `windows_before_closing`.
            (None, None, Some(_)) => return Timing::At(Minute::BELL),
            (at, between, before_closing) => {
                let message = match (at, between, before_closing) {
                    (None, None, None) => "it is not said when this step is",
                    (Some(_), Some(_), None) => "both `at` and `between` are given",
                    _ => "`before_closing` is given and another time beside it",
                };
                let hint = "say `at: 20`, `between: (20, 40)` or `before_closing: 20`";
                self.findings.error("class-step-timing", path, message, hint);
                return Timing::At(Minute::BELL);
            }
        };
        self.check_window(path, period, (from, until, exact), minutes);
        let Period { start, .. } = self.parts.periods[period.0];
        let absolute = |m: i32| start + Minutes::new(m.clamp(-1440, 1440));
        if exact {
            Timing::At(absolute(from))
        } else {
            Timing::Between(absolute(from), absolute(until))
        }
    }

    /// Gives steps that lie in the last minutes before the closing of a period
    /// their windows. Asks for its steps.
    fn windows_before_closing(&mut self, path: &Path, shape: &PeriodShape, period: PeriodId) {
        let of = |phase: Phase| move |s: &&ClassStep| s.period == period && s.phase == phase;
        let sum = |phase| -> i32 {
            let steps = self.parts.class_steps.iter().filter(of(phase));
            steps.map(|s| self.planned(Some(&s.minutes)).get()).sum()
        };
        let length = self.parts.periods[period.0].length().get();
        let (opening, until) = (sum(Phase::Opening), length - sum(Phase::Closing));
        for (i, step) in shape.during.iter().enumerate() {
            let (None, None, Some(last)) = (step.at, step.between, step.before_closing) else {
                continue;
            };
            let path = path.field("during").index(i).field("before_closing");
            let Some(last) =
                self.findings.whole(&path, "minutes before the closing", last, (1, LONGEST_PERIOD))
            else {
                continue;
            };
            let from = opening.max(until - last);
            let start = self.parts.periods[period.0].start;
            let mut steps = self.parts.class_steps.iter();
            let Some(at) = steps.position(|s| {
                s.period == period && s.phase == Phase::During && s.name == step.name
            }) else {
                continue;
            };
            let takes = self.planned(Some(&self.parts.class_steps[at].minutes));
            if until - from < takes.get() {
                let message = format!(
                    "in the last {last} min before the closing there is no time for {takes}"
                );
                self.findings.error("window", &path, message, "");
                continue;
            }
            let absolute = |m: i32| start + Minutes::new(m);
            self.parts.class_steps[at].timing = Timing::Between(absolute(from), absolute(until));
        }
    }

    /// Reports a window that lies outside the period or is too short.
    fn check_window(
        &mut self,
        path: &Path,
        period: PeriodId,
        (from, until, exact): (i32, i32, bool),
        minutes: Option<&ThreePoint>,
    ) {
        let length = self.parts.periods[period.0].length().get();
        let path = path.field(if exact { "at" } else { "between" });
        if from < 0 || until > length {
            let message =
                format!("from minute {from} to {until} is not within the period of {length} min");
            let hint = "minutes count from the period's start bell";
            self.findings.error("outside-period", &path, message, hint);
        } else if !exact && until.saturating_sub(from) < self.planned(minutes).get() {
            let message = format!(
                "between minute {from} and {until} there is no time for {}",
                self.planned(minutes)
            );
            self.findings.error("window", &path, message, "");
        }
    }

    /// Planned minutes of a class step; none if they are not known.
    pub(super) fn planned(&self, minutes: Option<&ThreePoint>) -> Minutes {
        let caution = self.parts.rules.caution;
        minutes.map_or(Minutes::ZERO, |m| m.with_caution(caution).rounded_up())
    }

    /// Reports an opening and closing that leave no time between them.
    fn check_class_time(&mut self, path: &Path, period: PeriodId) {
        let mut taken = Minutes::ZERO;
        for step in self.parts.class_steps.iter().filter(|s| s.period == period) {
            if step.phase != Phase::During {
                taken += self.planned(Some(&step.minutes));
            }
        }
        let length = self.parts.periods[period.0].length();
        if taken >= length {
            let message = format!(
                "opening and closing take {taken} of a period of {length}: no time is left to bake"
            );
            self.findings.error("class-time", path, message, "shorten or leave out some of them");
        }
    }
}
