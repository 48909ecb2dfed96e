//! What is to be printed, how, and what of it is looked at.

use std::collections::BTreeSet;

use crate::papers::Part;
use crate::papers::paper::Print;

/// What is to be printed, and the page that is looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Papers {
    /// The parts that are printed if nothing else is chosen.
    pub usual: [Part; 2],
    /// The parts that are chosen.
    pub parts: BTreeSet<Part>,
    /// On what, and how large.
    pub print: Print,
    /// Sheets that say the same as before are printed again, too.
    pub again: bool,
    /// The page is as wide as there is room, to be read, not whole.
    pub closer: bool,
    /// The page that is looked at, from 0, of those that are chosen.
    pub page: usize,
    /// The time on it that has the keyboard, from 0.
    pub time: usize,
}

impl Default for Papers {
    fn default() -> Self {
        Self::of(Part::USUAL)
    }
}

impl Papers {
    /// Those of a week: what its lessons have in common.
    pub fn of_week() -> Self {
        Self::of(Part::COMMON)
    }

    fn of(usual: [Part; 2]) -> Self {
        let parts = usual.into_iter().collect();
        Self {
            usual,
            parts,
            print: Print::default(),
            again: false,
            closer: false,
            page: 0,
            time: 0,
        }
    }

    /// Whether the usual parts are chosen and no more.
    pub fn is_usual(&self) -> bool {
        self.parts == self.usual.into_iter().collect()
    }
}

/// A choice of what is printed or looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PapersChoice {
    /// Print a part, or not.
    Part(Part, bool),
    /// Print this part and no more.
    Only(Part),
    /// Print the usual parts and no more.
    Usual,
    /// Print in this way.
    Print(Print),
    /// Print sheets again that say the same as before, or not.
    Again(bool),
    /// Look at pages closer, or at whole ones.
    Closer(bool),
    /// Look at a page.
    Page(usize),
    /// Give a time on the page the keyboard.
    Time(usize),
}

impl Papers {
    /// The parts that are chosen, in the order in which they are printed.
    pub fn wanted(&self) -> Vec<Part> {
        Part::ALL.into_iter().filter(|part| self.parts.contains(part)).collect()
    }

    /// Takes a choice.
    pub fn choose(&mut self, choice: PapersChoice) {
        match choice {
            PapersChoice::Part(part, true) => {
                self.parts.insert(part);
            }
            PapersChoice::Part(part, false) => {
                self.parts.remove(&part);
            }
            PapersChoice::Only(part) => self.parts = BTreeSet::from([part]),
            PapersChoice::Usual => self.parts = self.usual.into_iter().collect(),
            PapersChoice::Print(print) => self.print = print,
            PapersChoice::Again(again) => self.again = again,
            PapersChoice::Closer(closer) => self.closer = closer,
            PapersChoice::Page(page) => self.page = page,
            PapersChoice::Time(time) => self.time = time,
        }
        if matches!(choice, PapersChoice::Time(_) | PapersChoice::Closer(_)) {
            return;
        }
        self.time = 0;
        if !matches!(choice, PapersChoice::Page(_)) {
            self.page = 0;
        }
    }
}
