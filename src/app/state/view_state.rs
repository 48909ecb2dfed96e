//! What the window shows of the plan: what is selected, which stretch of
//! time, which minute.

use std::collections::BTreeSet;

use super::{InPlace, OnTheDay, Page, Papers, Place, Region, Rehearsing, WeekView};
use crate::finding::Path;
use crate::hand::Thing;
use crate::model::{GroupId, OvenId, StepId};
use crate::play::Cause;
use crate::units::Minute;
use crate::view::board::BarId;
use crate::view::help::Topic;

/// What the card is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Selection {
    /// Nothing: the key to the board and what is assumed.
    #[default]
    Nothing,
    /// A group.
    Group(GroupId),
    /// A group's step.
    Step(GroupId, StepId),
    /// An oven.
    Oven(OvenId),
    /// All adults.
    Adults,
    /// The minute line.
    Minute,
    /// The change laid over the board.
    Offer,
    /// The odds by the bell.
    Odds,
}

/// What the window shows of the plan.
#[derive(Debug, Clone, Default)]
pub struct ViewState {
    /// What the card is about.
    pub selection: Selection,
    /// The minute line, if it is shown.
    pub minute: Option<i32>,
    /// The minute of which the card says what has to be true; the first if
    /// `None`.
    pub look: Option<Minute>,
    /// The cause of lateness whose bars are shown.
    pub cause: Option<Cause>,
    /// First and last minute shown; the whole board if `None`.
    pub shown: Option<(f32, f32)>,
    /// The bar that takes the keyboard when the board does.
    pub current: Option<BarId>,
    /// The bar that must take the keyboard now.
    pub focus_now: Option<BarId>,
    /// Things selected together, to be moved or held together.
    pub marked: BTreeSet<Thing>,
    /// What is being edited in its place on the board.
    pub in_place: Option<InPlace>,
    /// The place of the lesson that is shown.
    pub place: Place,
    /// The page of setting up that was shown last.
    pub page: Page,
    /// The ingredient whose packet is shown.
    pub ingredient: Option<String>,
    /// What is to be printed, and the page of it that is looked at.
    pub papers: Papers,
    /// How the lesson is rehearsed.
    pub rehearsing: Rehearsing,
    /// What is looked at while the lesson is taught.
    pub day: OnTheDay,
    /// What is shown of a week.
    pub week: WeekView,
    /// The region that must take the keyboard now.
    pub region_now: Option<Region>,
    /// The topic of the help that is shown instead of a place.
    pub help: Option<Topic>,
    /// The topic read last.
    pub read: Topic,
    /// The keys are shown over everything.
    pub keys: bool,
    /// A list instead of the board.
    pub as_list: bool,
    /// The change whose chip takes the keyboard when the strip does.
    pub chip: Option<String>,
    /// What the card was about before a choice made on it was laid over.
    pub chosen_on: Option<Selection>,
    /// Its chip must take the keyboard now.
    pub chip_now: bool,
    /// Of the changes along the bottom only the heading is shown.
    pub folded: bool,
    /// The field to give the keyboard to.
    pub field_now: Option<Path>,
    /// The finding of a broken file that is shown in its text.
    pub finding: Option<usize>,
    /// It has just been chosen.
    pub finding_now: bool,
}

impl ViewState {
    /// What is shown of another document: the same kind of view, nothing
    /// selected.
    #[must_use]
    pub fn of_another_document(&self) -> Self {
        let papers = Papers { page: 0, time: 0, ..self.papers.clone() };
        let (as_list, folded, week) = (self.as_list, self.folded, self.week.clone());
        Self { as_list, folded, papers, week, ..Self::default() }
    }

    /// The finding of this number is shown in the text of a broken file.
    pub fn show_finding(&mut self, number: Option<usize>) {
        self.finding = number;
        self.finding_now = true;
    }

    /// Clears what holds for one frame: what was to take the keyboard or to be
    /// scrolled to.
    pub fn was_shown(&mut self) {
        self.focus_now = None;
        self.chip_now = false;
        self.finding_now = false;
        self.region_now = None;
        self.rehearsing.focus_now = false;
        self.day.focus_now = None;
        self.week.focus_now = false;
    }
}
