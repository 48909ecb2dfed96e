//! Another plan laid over a board, on the same clock: what would be with a
//! change, or what was before one. Groups and ovens are matched by name.

use super::board::{Band, Bar, Board};
use super::rows::{Row, verdict_words};
use crate::model::Lesson;
use crate::units::{Minute, Minutes};

/// Which plan is laid over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tense {
    /// What would be.
    Then,
    /// What was.
    Before,
}

impl Tense {
    /// "Then" or "Before".
    pub const fn word(self) -> &'static str {
        match self {
            Tense::Then => "Then",
            Tense::Before => "Before",
        }
    }
}

/// A group in the other plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GhostRow {
    /// Its name.
    pub name: String,
    /// Its tin and method there; empty if it is no group there.
    pub choice: String,
    /// Its steps there; none if they are as now.
    pub bars: Vec<Bar>,
    /// How many lanes they take.
    pub lanes: usize,
    /// "then 10:44", "was 10:58", to stand below the ready time now; empty if
    /// that is the same.
    pub ready: String,
    /// How it stands there; `None` if it is no group there.
    pub verdict: Option<crate::check::Verdict>,
    /// What a screen reader says of both ready times.
    pub spoken: String,
}

/// An oven in the other plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GhostOven {
    /// Its name.
    pub name: String,
    /// How it is set there.
    pub state: String,
    /// Tins on its shelves there; none if they are as now.
    pub shelves: Vec<Vec<Bar>>,
}

/// What is laid over a board.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ghosts {
    /// Which plan it is.
    pub tense: Tense,
    /// One for each row of the board, then those the board has not.
    pub rows: Vec<GhostRow>,
    /// One for each oven of the board, then those the board has not.
    pub ovens: Vec<GhostOven>,
    /// Steps of the class that lie elsewhere there.
    pub bands: Vec<Band>,
    /// Bells there that the board has not.
    pub bells: Vec<Minute>,
    /// First minute of either plan.
    pub from: Minute,
    /// The minute after the last of either.
    pub until: Minute,
}

impl Ghosts {
    /// Lays another plan's board over a board. Times are told by the clock of
    /// the board: `later` is by how much the other lesson begins later.
    pub fn of(board: &Board, other: &Board, later: Minutes, tense: Tense) -> Self {
        let laid = Laying { board, other, later, tense };
        let bells: Vec<Minute> = other.bells.iter().map(|&b| b + later).collect();
        let from = bells.iter().copied().chain([board.from]).min().unwrap_or(board.from);
        let until = bells.iter().copied().chain([board.until]).max().unwrap_or(board.until);
        Self {
            tense,
            rows: laid.rows(),
            ovens: laid.ovens(),
            bands: laid.bands(),
            bells: bells.into_iter().filter(|b| !board.bells.contains(b)).collect(),
            from,
            until,
        }
    }

    /// All bars: of rows, then of ovens.
    pub fn bars(&self) -> impl Iterator<Item = &Bar> {
        let rows = self.rows.iter().flat_map(|r| &r.bars);
        rows.chain(self.ovens.iter().flat_map(|o| o.shelves.iter().flatten()))
    }
}

/// By how much another lesson begins later than this one.
pub fn later(now: &Lesson, other: &Lesson) -> Minutes {
    other.periods[0].start_clock.minutes_since(now.periods[0].start_clock)
}

struct Laying<'a> {
    board: &'a Board,
    other: &'a Board,
    later: Minutes,
    tense: Tense,
}

impl Laying<'_> {
    fn rows(&self) -> Vec<GhostRow> {
        let named = |rows: &[Row], name: &str| rows.iter().position(|r| r.name == name);
        let mut all: Vec<GhostRow> = Vec::new();
        for now in &self.board.rows {
            all.push(match named(&self.other.rows, &now.name) {
                Some(there) => self.both(now, &self.other.rows[there]),
                None => self.only_now(now),
            });
        }
        for row in &self.other.rows {
            if named(&self.board.rows, &row.name).is_none() {
                all.push(self.only_there(row));
            }
        }
        all
    }

    fn both(&self, now: &Row, there: &Row) -> GhostRow {
        let bars: Vec<Bar> = there.bars.iter().map(|b| self.moved(b)).collect();
        let as_now = same(&now.bars, &bars) && now.choice == there.choice;
        let (stands, stood) = (standing(now), standing(there));
        let spoken = match self.tense {
            Tense::Then if as_now && stands == stood => {
                format!("{}: {stands}, then as now", now.name)
            }
            Tense::Before if as_now && stands == stood => {
                format!("{}: {stands}, now as before", now.name)
            }
            Tense::Then => format!("{}: {stands} now; then {stood}", now.name),
            Tense::Before => format!("{}: {stands} now; before {stood}", now.name),
        };
        let ready = if now.ready == there.ready && now.verdict == there.verdict {
            String::new()
        } else {
            self.column(&there.ready)
        };
        GhostRow {
            name: now.name.clone(),
            choice: there.choice.clone(),
            lanes: there.lanes,
            bars: if as_now { Vec::new() } else { bars },
            ready,
            verdict: Some(there.verdict),
            spoken,
        }
    }

    /// Groups of one pupil may work in twos with a change: then some are no
    /// groups of their own.
    fn only_now(&self, now: &Row) -> GhostRow {
        let (ready, told) = match self.tense {
            Tense::Then => ("then joined", "then joined with others"),
            Tense::Before => ("new", "before no group of its own"),
        };
        GhostRow {
            name: now.name.clone(),
            choice: String::new(),
            bars: Vec::new(),
            lanes: 0,
            ready: ready.to_owned(),
            verdict: None,
            spoken: format!("{}: {} now; {told}", now.name, standing(now)),
        }
    }

    fn only_there(&self, row: &Row) -> GhostRow {
        let told = match self.tense {
            Tense::Then => "then",
            Tense::Before => "before",
        };
        GhostRow {
            name: row.name.clone(),
            choice: row.choice.clone(),
            bars: row.bars.iter().map(|b| self.moved(b)).collect(),
            lanes: row.lanes,
            ready: self.column(&row.ready),
            verdict: Some(row.verdict),
            spoken: format!("{}: no group of its own now; {told} {}", row.name, standing(row)),
        }
    }

    fn column(&self, ready: &str) -> String {
        match self.tense {
            Tense::Then => format!("then {ready}"),
            Tense::Before => format!("was {ready}"),
        }
    }

    fn ovens(&self) -> Vec<GhostOven> {
        let there = |name: &str| self.other.ovens.iter().find(|o| o.name == name);
        let ghost = |oven: &super::ovens::OvenLane| GhostOven {
            name: oven.name.clone(),
            state: oven.state.clone(),
            shelves: oven
                .shelves
                .iter()
                .map(|shelf| shelf.iter().map(|b| self.moved(b)).collect())
                .collect(),
        };
        let mut all = Vec::new();
        for now in &self.board.ovens {
            let mut oven = match there(&now.name) {
                Some(oven) => ghost(oven),
                None => GhostOven {
                    name: now.name.clone(),
                    state: "not there".to_owned(),
                    shelves: Vec::new(),
                },
            };
            oven.shelves.resize(now.shelves.len(), Vec::new());
            let pairs = now.shelves.iter().zip(&oven.shelves);
            if pairs.clone().all(|(now, then)| same(now, then)) {
                oven.shelves.iter_mut().for_each(Vec::clear);
            }
            all.push(oven);
        }
        let has = |name: &str| self.board.ovens.iter().any(|o| o.name == name);
        all.extend(self.other.ovens.iter().filter(|o| !has(&o.name)).map(ghost));
        all
    }

    fn bands(&self) -> Vec<Band> {
        let moved = |band: &Band| Band {
            from: band.from + self.later,
            until: band.until + self.later,
            spoken: format!("{}: {}", self.tense.word(), band.spoken),
            ..band.clone()
        };
        let is_here = |band: &Band| {
            self.board
                .bands
                .iter()
                .any(|b| (b.from, b.until, &b.name) == (band.from, band.until, &band.name))
        };
        self.other.bands.iter().map(moved).filter(|band| !is_here(band)).collect()
    }

    fn moved(&self, bar: &Bar) -> Bar {
        Bar {
            from: bar.from + self.later,
            until: bar.until + self.later,
            spoken: format!("{}: {}", self.tense.word(), bar.spoken),
            ..bar.clone()
        }
    }
}

/// "ready 10:44, fits", "cannot".
fn standing(row: &Row) -> String {
    let words = verdict_words(row.verdict);
    if row.ready == words { words.to_owned() } else { format!("ready {}, {words}", row.ready) }
}

/// Whether bars say the same at the same time, whatever their numbers.
fn same(a: &[Bar], b: &[Bar]) -> bool {
    let alike = |a: &Bar, b: &Bar| {
        (&a.label, a.work, a.from, a.until) == (&b.label, b.work, b.from, b.until)
    };
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| alike(a, b))
}
