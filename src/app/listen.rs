//! What the threads are asked and what they answer.

use std::sync::Arc;

use super::shell::App;
use super::state::Selection;
use super::worker::{Answer, Job, ToProbe};
use crate::view::board::Board;

impl App {
    /// Plans the lesson as it now is; nothing else is looked for until then.
    pub(super) fn replan(&mut self) {
        self.put_back();
        if self.shows_remembered() {
            self.prober.stop();
            self.changer.stop();
            self.probing = None;
            return;
        }
        let Some(doc) = &self.doc else { return };
        if doc.lesson().is_some() && self.keeps_to_plan() {
            self.prober.stop();
            self.changer.stop();
            self.probing = None;
            return;
        }
        let Some(doc) = &self.doc else { return };
        match doc.lesson() {
            Some(lesson) => self.planner.begin(Job::Plan(doc.revision, Arc::clone(lesson))),
            None => self.planner.stop(),
        }
        self.planning = doc.lesson().is_some();
        self.prober.stop();
        self.changer.stop();
        self.probing = None;
    }

    /// Takes in what the threads have to say.
    pub(super) fn listen(&mut self) {
        let now = self.doc.as_ref().map(|d| d.revision);
        let answers = self.planner.answers().into_iter().chain(self.prober.answers());
        let answers = answers.chain(self.changer.answers());
        for answer in answers.collect::<Vec<_>>() {
            match answer {
                Answer::Plan(revision, plan) if Some(revision) == now => {
                    if let Some(lesson) = self.doc.as_ref().and_then(|d| d.lesson()) {
                        self.board = Some(Arc::new(Board::of(lesson, &plan)));
                        self.planned = Some(Arc::clone(lesson));
                    }
                    self.plan = Some((revision, plan));
                    self.heard_of_day();
                    self.lay_again();
                }
                Answer::Done(revision) if Some(revision) == now => self.planning = false,
                Answer::Probed(revision, group, probed) if Some(revision) == now => {
                    if self.probing == Some((revision, group)) {
                        self.probing = None;
                    }
                    self.probed = Some((revision, group, probed));
                }
                Answer::Explained(revision, group, words) if Some(revision) == now => {
                    self.explained = Some((revision, group, words));
                }
                Answer::Offers(revision, offers, ended) if Some(revision) == now => {
                    self.heard_offers(offers, ended);
                }
                Answer::HangsOn(revision, sentences) if Some(revision) == now => {
                    self.changes.hangs_on = sentences;
                    self.changes.weighing = false;
                }
                Answer::Fault(revision, fault) if Some(revision) == now => {
                    self.planning = false;
                    (self.changes.looking, self.changes.weighing) = (false, false);
                    self.probing = None;
                    self.message =
                        Some(format!("{fault}. The plan shown is the last one that was checked."));
                }
                // Answers for an older lesson say nothing of this one.
                _ => {}
            }
        }
        self.probe_selected();
        self.look_for_changes();
    }

    /// Asks what the choices of the selected group come to, once its plan is
    /// there.
    fn probe_selected(&mut self) {
        let Selection::Group(group) = self.view.selection else { return };
        let Some(doc) = &self.doc else { return };
        let Some(lesson) = doc.lesson() else { return };
        let wanted = (doc.revision, group);
        let known = self.probed.as_ref().is_some_and(|(r, g, _)| (*r, *g) == wanted);
        let planned = self.plan.as_ref().filter(|(r, _)| *r == doc.revision);
        if let Some((_, plan)) = planned
            && !known
            && self.probing != Some(wanted)
            && group.0 < lesson.groups.len()
        {
            self.probing = Some(wanted);
            self.prober.begin(Job::Probe(Box::new(ToProbe {
                revision: doc.revision,
                lesson: Arc::clone(lesson),
                past: Arc::clone(&doc.past),
                plan: Arc::clone(plan),
                group,
            })));
        }
    }
}
