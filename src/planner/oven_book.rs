//! The ovens over time: tins on shelves, temperatures, doors.

use super::spot_memory::SpotMemory;
use crate::graph::Problem;
use crate::graph::footprint::{OnShelf, Spot};
use crate::graph::problem::{BakeTask, BegunTin, OvenBegun, OvenTask};

/// A stretch in which a group has tins in an oven.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stay {
    /// Position of the group in the problem.
    pub group: usize,
    /// Start of loading.
    pub start: i32,
    /// End of loading.
    pub loaded: i32,
    /// Start of taking out.
    pub taken_out: i32,
    /// End of taking out.
    pub end: i32,
    /// Temperature, as a position in the problem's.
    pub heat: usize,
    /// The group shares no oven.
    pub apart: bool,
    /// Until when the door must stay shut, if the bake is delicate.
    pub shut_until: Option<i32>,
}

/// A tin on a shelf.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StandingTin {
    /// Oven, as a position in the problem.
    pub oven: usize,
    /// Shelf of that oven.
    pub shelf: usize,
    /// Where on it.
    pub spot: Spot,
}

#[derive(Debug, Clone, Copy)]
struct PlacedTin {
    tin: OnShelf,
    start: i32,
    end: i32,
}

#[derive(Debug, Clone, Default)]
struct OvenState {
    stays: Vec<Stay>,
    shelves: Vec<Vec<PlacedTin>>,
    moves: Vec<i32>,
    shut: Vec<i32>,
}

/// All ovens.
#[derive(Debug, Clone)]
pub struct OvenBook {
    ovens: Vec<OvenState>,
    /// Length of a call.
    call: i32,
    /// Tins moved in one opening.
    cap: i32,
    spots: SpotMemory,
    /// Tins on a shelf while one more is wanted there.
    beside: Vec<OnShelf>,
}

fn minutes(from: i32, until: i32, length: usize) -> std::ops::Range<usize> {
    let clip = |m: i32| usize::try_from(m).unwrap_or(0).min(length);
    clip(from)..clip(until)
}

/// Tins moved in each minute of a load or take-out.
fn per_minute(tins: i32, length: i32) -> i32 {
    if length > 0 { (tins + length - 1) / length } else { tins }
}

impl OvenBook {
    /// Empty ovens.
    pub fn new(problem: &Problem) -> Self {
        let length = usize::try_from(problem.horizon).unwrap_or(0);
        let ovens = problem
            .ovens
            .iter()
            .map(|o| OvenState {
                stays: Vec::new(),
                shelves: vec![Vec::new(); o.shelves.len()],
                moves: vec![0; length],
                shut: vec![0; length],
            })
            .collect();
        let (spots, beside) = (SpotMemory::default(), Vec::new());
        Self { ovens, call: problem.call, cap: problem.tins_per_opening, spots, beside }
    }

    /// Everything out.
    pub fn clear(&mut self) {
        for oven in &mut self.ovens {
            oven.stays.clear();
            oven.shelves.iter_mut().for_each(Vec::clear);
            oven.moves.fill(0);
            oven.shut.fill(0);
        }
    }

    /// Stays in an oven.
    pub fn stays(&self, oven: usize) -> &[Stay] {
        &self.ovens[oven].stays
    }

    /// Whether a stay agrees with temperature, door and company in an oven,
    /// the number of tins apart.
    pub fn allows(&self, oven: usize, of: &OvenTask, stay: &Stay) -> bool {
        self.temperature_allows(oven, of, stay) && self.door_allows(oven, stay)
    }

    fn temperature_allows(&self, oven: usize, of: &OvenTask, stay: &Stay) -> bool {
        let mut before: Option<&Stay> = None;
        let mut after: Option<&Stay> = None;
        for other in &self.ovens[oven].stays {
            if other.start < stay.end && stay.start < other.end {
                if other.heat != stay.heat || other.apart || stay.apart {
                    return false;
                }
            } else if other.end <= stay.start {
                if before.is_none_or(|b| b.end < other.end) {
                    before = Some(other);
                }
            } else if after.is_none_or(|a| a.start > other.start) {
                after = Some(other);
            }
        }
        if of.out_from.is_some_and(|out| out < stay.end) {
            return false;
        }
        let idle = |by: i32| by <= stay.start && before.is_none_or(|b| b.end <= by);
        let hot_at = match before {
            _ if of.begun.is_some_and(|begun| idle(begun.by)) => hot_since(of, stay.heat),
            Some(b) if b.heat == stay.heat => b.end,
            Some(b) => b.end + change(of, Some(b.heat), stay.heat),
            None => of.on_from + change(of, None, stay.heat),
        };
        let next_hot = match after {
            Some(a) if a.heat != stay.heat => {
                stay.end + change(of, Some(stay.heat), a.heat) <= a.start
            }
            _ => true,
        };
        hot_at <= stay.start && next_hot
    }

    fn door_allows(&self, oven: usize, stay: &Stay) -> bool {
        let state = &self.ovens[oven];
        let length = state.shut.len();
        let opened = minutes(stay.start, stay.loaded, length).chain(minutes(
            stay.taken_out,
            stay.end,
            length,
        ));
        for minute in opened {
            if state.shut[minute] > 0 || state.moves[minute] >= self.cap {
                return false;
            }
        }
        match self.shut_span(stay) {
            Some((from, until)) => {
                state.moves[minutes(from, until, length)].iter().all(|&m| m == 0)
            }
            None => true,
        }
    }

    fn shut_span(&self, stay: &Stay) -> Option<(i32, i32)> {
        let from = (stay.start + self.call).max(stay.loaded);
        stay.shut_until.filter(|&until| from < until).map(|until| (from, until))
    }

    /// Whether that many more tins may be moved at the stay's doors.
    pub fn hands_allow(&self, oven: usize, stay: &Stay, tins: i32) -> bool {
        let state = &self.ovens[oven];
        let fits = |from: i32, until: i32| {
            let more = per_minute(tins, until - from);
            state.moves[minutes(from, until, state.moves.len())]
                .iter()
                .all(|&m| m + more <= self.cap)
        };
        fits(stay.start, stay.loaded) && fits(stay.taken_out, stay.end)
    }

    /// Stands up to `wanted` tins in an oven, onto `only` that shelf if given;
    /// says how many stand.
    #[allow(clippy::too_many_arguments)] // one call site, all of it needed
    pub fn stand(
        &mut self,
        problem: &Problem,
        oven: usize,
        only: Option<usize>,
        bake: &BakeTask,
        stay: &Stay,
        wanted: i32,
        standing: &mut Vec<StandingTin>,
    ) -> i32 {
        let mut stood = 0;
        for shelf in 0..self.ovens[oven].shelves.len() {
            if only.is_some_and(|only| only != shelf) {
                continue;
            }
            let of = problem.ovens[oven].shelves[shelf];
            if bake.height > of.clear {
                continue;
            }
            while stood < wanted {
                let there = self.ovens[oven].shelves[shelf].iter();
                let there = there.filter(|i| i.start < stay.end && stay.start < i.end);
                self.beside.clear();
                self.beside.extend(there.map(|i| i.tin));
                let place = (oven, shelf);
                let Some(spot) = self.spots.free(bake, place, of.space, &mut self.beside) else {
                    break;
                };
                let tin = OnShelf { footprint: bake.footprint, spot };
                let item = PlacedTin { tin, start: stay.start, end: stay.end };
                self.ovens[oven].shelves[shelf].push(item);
                standing.push(StandingTin { oven, shelf, spot });
                stood += 1;
            }
        }
        stood
    }

    /// Stands a tin at a place; `false` if another is in its way.
    pub fn stand_at(
        &mut self,
        tin: BegunTin,
        bake: &BakeTask,
        stay: &Stay,
        gap: i32,
        standing: &mut Vec<StandingTin>,
    ) -> bool {
        let BegunTin { oven, shelf, spot } = tin;
        let items = &mut self.ovens[oven].shelves[shelf];
        let on_shelf = OnShelf { footprint: bake.footprint, spot };
        let there = |i: &&PlacedTin| i.start < stay.end && stay.start < i.end;
        if !items.iter().filter(there).all(|i| on_shelf.is_clear_of(&i.tin, gap)) {
            return false;
        }
        items.push(PlacedTin { tin: on_shelf, start: stay.start, end: stay.end });
        standing.push(StandingTin { oven, shelf, spot });
        true
    }

    /// Takes back the tins stood last.
    pub fn unstand(&mut self, standing: &mut Vec<StandingTin>, keep: usize) {
        while standing.len() > keep {
            if let Some(last) = standing.pop() {
                self.ovens[last.oven].shelves[last.shelf].pop();
            }
        }
    }

    /// Enters a stay with its doors.
    pub fn enter(&mut self, oven: usize, stay: Stay, tins: i32) {
        self.apply(oven, &stay, tins, 1);
        self.ovens[oven].stays.push(stay);
    }

    /// Takes back the stay entered last in that oven.
    pub fn leave(&mut self, oven: usize, tins: i32) {
        if let Some(stay) = self.ovens[oven].stays.pop() {
            self.apply(oven, &stay, tins, -1);
        }
    }

    fn apply(&mut self, oven: usize, stay: &Stay, tins: i32, sign: i32) {
        let shut = self.shut_span(stay);
        let state = &mut self.ovens[oven];
        let length = state.moves.len();
        for (from, until) in [(stay.start, stay.loaded), (stay.taken_out, stay.end)] {
            let moved = per_minute(tins, until - from);
            for m in &mut state.moves[minutes(from, until, length)] {
                *m += sign * moved;
            }
        }
        if let Some((from, until)) = shut {
            for m in &mut state.shut[minutes(from, until, length)] {
                *m += sign;
            }
        }
    }
}

/// Whole minutes an oven takes to another temperature, or from cold.
pub fn change(oven: &OvenTask, from: Option<usize>, to: usize) -> i32 {
    let from = from.map_or(oven.changes.last(), |from| oven.changes.get(from));
    from.and_then(|row| row.get(to)).copied().unwrap_or(0)
}

/// When an oven that is empty by the minute from which plans are looked for is at
/// a temperature, at the soonest.
fn hot_since(of: &OvenTask, heat: usize) -> i32 {
    let Some(OvenBegun { by, set }) = of.begun else { return of.on_from };
    match set {
        Some((is, hot)) if is == heat => hot,
        Some((is, _)) => by + change(of, Some(is), heat),
        None => by.max(of.on_from) + change(of, None, heat),
    }
}
