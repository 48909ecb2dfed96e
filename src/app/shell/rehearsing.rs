//! The clock of a rehearsal: it runs while somebody looks, and wakes the window when
//! its minute changes and not before.

use std::time::Duration;

use eframe::egui;

use super::App;
use crate::app::state::{Place, RehearseChoice};
use crate::units::{Minute, Minutes};
use crate::view::rehearsal::Rehearsal;

impl App {
    /// Whether a rehearsal is on screen.
    pub(super) fn is_rehearsing(&self) -> bool {
        self.view.place == Place::Rehearse && self.view.help.is_none()
    }

    fn rehearsal(&self) -> Option<&Rehearsal> {
        self.session.rehearsal().map(|rehearsal| &**rehearsal)
    }

    /// The minute of the rehearsal: that of the minute line, or else the first bell.
    fn rehearsed_minute(&self) -> Option<Minute> {
        let planned = self.session.planned()?;
        let (first, last) = self.rehearsal()?.ends()?;
        let minute = self.view.minute.map_or(planned.lesson.periods[0].start, Minute::new);
        Some(minute.clamp(first, last))
    }

    /// Takes a choice of how to rehearse.
    pub(super) fn rehearse(&mut self, choice: RehearseChoice) {
        let now = self.wake.input(|i| i.time);
        let of = &mut self.view.rehearsing;
        match choice {
            RehearseChoice::Play if of.since.is_some() => of.stop(),
            RehearseChoice::Play => {
                of.covered = false;
                of.since = Some(now);
                self.begin_again_at_the_end();
            }
            RehearseChoice::Pace(pace) => {
                of.pace = pace;
                of.since = of.since.map(|_| now);
            }
            RehearseChoice::Pauses(pauses) => {
                of.pauses = pauses;
                of.covered &= pauses;
            }
            RehearseChoice::Tone(on) => {
                of.tone = on;
                if on {
                    self.tone.play();
                }
            }
            RehearseChoice::Show => {
                of.covered = false;
                of.focus_now = true;
            }
            RehearseChoice::Column(column) => of.column = column,
            RehearseChoice::Call(next) => {
                let minute = self.rehearsed_minute();
                let to = minute.and_then(|m| self.rehearsal()?.call_beside(m, next));
                if let Some(to) = to {
                    self.go_to_rehearsed(to);
                }
            }
        }
    }

    /// Played from its last minute, the lesson begins again.
    fn begin_again_at_the_end(&mut self) {
        let last = self.rehearsal().and_then(Rehearsal::ends).map(|(_, last)| last);
        if last.is_some() && self.rehearsed_minute() == last {
            self.view.minute = None;
        }
    }

    /// Goes to a minute of the rehearsal; the clock goes on from there if it runs.
    pub(super) fn go_to_rehearsed(&mut self, minute: Minute) {
        let Some((first, last)) = self.rehearsal().and_then(Rehearsal::ends) else { return };
        self.view.minute = Some(minute.clamp(first, last).get());
        let now = self.wake.input(|i| i.time);
        let of = &mut self.view.rehearsing;
        of.since = of.since.map(|_| now);
        of.covered = false;
    }

    /// Goes so many minutes on from the minute of the rehearsal.
    pub(super) fn step_rehearsed(&mut self, by: i32) {
        if let Some(minute) = self.rehearsed_minute() {
            self.go_to_rehearsed(minute + Minutes::new(by));
        }
    }

    /// Lets the clock run on: one minute at most, so that none is missed however long
    /// the window slept.
    pub(super) fn play_on(&mut self, ctx: &egui::Context) {
        self.view.rehearsing.is_silent = self.tone.is_silent();
        let Some(since) = self.view.rehearsing.since else { return };
        let (minute, ends) = (self.rehearsed_minute(), self.rehearsal().and_then(Rehearsal::ends));
        let (Some(minute), Some((_, last)), true) = (minute, ends, self.is_rehearsing()) else {
            self.view.rehearsing.stop();
            return;
        };
        let is_cue = |minute| self.rehearsal().is_some_and(|of| of.is_cue(minute));
        let is_call = |minute| self.rehearsal().is_some_and(|of| of.is_call(minute));
        let now = ctx.input(|i| i.time);
        let left = since + self.view.rehearsing.stays(is_cue(minute)) - now;
        if left > 0.0 {
            ctx.request_repaint_after(Duration::from_secs_f64(left));
            return;
        }
        if minute >= last {
            self.view.rehearsing.stop();
            return;
        }
        let next = minute + Minutes::new(1);
        let covers = self.view.rehearsing.pauses && is_call(next);
        let has_cue = is_cue(next);
        let stays = self.view.rehearsing.stays(has_cue);
        if has_cue && self.view.rehearsing.tone {
            self.tone.play();
        }
        self.view.minute = Some(next.get());
        let of = &mut self.view.rehearsing;
        if covers {
            (of.since, of.covered, of.focus_now) = (None, true, true);
        } else {
            of.since = Some(now);
            ctx.request_repaint_after(Duration::from_secs_f64(stays));
        }
    }
}
