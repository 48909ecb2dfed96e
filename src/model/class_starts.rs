//! Where the class's own steps that have a window can lie all together.

/// Looks at no more places than this, each way of looking, before giving up.
const TRIES: u32 = 200_000;
/// The same for each question about fewer steps.
const TRIES_OF_FEWER: u32 = 10_000;

/// A step of the class that has a window, in plain numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FloatingStep {
    /// Its period.
    pub period: usize,
    /// Its whole minutes.
    pub minutes: i32,
    /// The minutes at which it may start, beside all that has no choice,
    /// ascending.
    pub starts: Vec<i32>,
    /// The minute at which it had best start.
    pub best: i32,
    /// The adults it takes, by number.
    pub adults: Vec<usize>,
}

/// A start for every step, near its best, so that none overlaps another of its
/// period or takes an adult who is busy; else the step that was hardest to
/// place.
///
/// # Errors
/// If no such starts were found: mostly there are none, but where there are
/// very many ways to lay them the search gives up.
pub fn class_starts(steps: &[FloatingStep]) -> Result<Vec<i32>, usize> {
    let all: Vec<usize> = (0..steps.len()).collect();
    match look(steps, &all, TRIES) {
        Looked::Found(starts) => Ok(starts),
        Looked::None(hardest) | Looked::GaveUp(hardest) => Err(hardest),
    }
}

/// Of steps that cannot lie all together, as few as cannot: each is needed, as
/// far as could be seen.
pub fn fewest_that_clash(steps: &[FloatingStep]) -> Vec<usize> {
    let mut left: Vec<usize> = (0..steps.len()).collect();
    for step in 0..steps.len() {
        let fewer: Vec<usize> = left.iter().copied().filter(|&s| s != step).collect();
        if let Looked::None(_) = look(steps, &fewer, TRIES_OF_FEWER) {
            left = fewer;
        }
    }
    left
}

/// What came of looking for starts.
enum Looked {
    Found(Vec<i32>),
    /// There are none; the step that was hardest to place.
    None(usize),
    /// Not all was looked at; likewise.
    GaveUp(usize),
}

/// Looks for starts of some steps, first near the best, then one after another
/// in the order in which their windows end.
fn look(steps: &[FloatingStep], of: &[usize], tries: u32) -> Looked {
    let mut order = of.to_vec();
    order.sort_by_key(|&i| (steps[i].starts.len(), i));
    let near_best = |step: &FloatingStep| {
        let mut starts = step.starts.clone();
        starts.sort_by_key(|start| (start - step.best).abs());
        starts
    };
    let first = StartSearch::run(steps, (order, near_best), tries);
    let Looked::GaveUp(hardest) = first else { return first };
    let mut order = of.to_vec();
    order.sort_by_key(|&i| (steps[i].starts.last().map(|last| last + steps[i].minutes), i));
    match StartSearch::run(steps, (order, |step: &FloatingStep| step.starts.clone()), tries) {
        Looked::GaveUp(_) => Looked::GaveUp(hardest),
        looked => looked,
    }
}

struct StartSearch<'s, F> {
    steps: &'s [FloatingStep],
    order: Vec<usize>,
    in_turn: F,
    starts: Vec<Option<i32>>,
    deepest: usize,
    tries_left: u32,
}

impl<'s, F: Fn(&FloatingStep) -> Vec<i32>> StartSearch<'s, F> {
    fn run(steps: &'s [FloatingStep], (order, in_turn): (Vec<usize>, F), tries: u32) -> Looked {
        let starts = vec![None; steps.len()];
        let mut search = Self { steps, order, in_turn, starts, deepest: 0, tries_left: tries };
        if search.place(0) {
            return Looked::Found(search.starts.into_iter().flatten().collect());
        }
        let hardest = search.order.get(search.deepest).copied().unwrap_or(0);
        if search.tries_left == 0 { Looked::GaveUp(hardest) } else { Looked::None(hardest) }
    }

    fn place(&mut self, depth: usize) -> bool {
        let Some(&step) = self.order.get(depth) else { return true };
        self.deepest = self.deepest.max(depth);
        for start in (self.in_turn)(&self.steps[step]) {
            if self.tries_left == 0 {
                return false;
            }
            self.tries_left -= 1;
            if self.clashes(step, start) {
                continue;
            }
            self.starts[step] = Some(start);
            if self.place(depth + 1) {
                return true;
            }
            self.starts[step] = None;
        }
        false
    }

    fn clashes(&self, step: usize, start: i32) -> bool {
        let of = &self.steps[step];
        self.starts.iter().zip(self.steps).any(|(placed, other)| {
            placed.is_some_and(|at| at < start + of.minutes && start < at + other.minutes)
                && (other.period == of.period || other.adults.iter().any(|a| of.adults.contains(a)))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(minutes: i32, (from, until): (i32, i32)) -> FloatingStep {
        let starts = (from..=until - minutes).collect();
        let best = from + (until - minutes - from) / 2;
        FloatingStep { period: 0, minutes, starts, best, adults: Vec::new() }
    }

    #[test]
    fn two_steps_lie_one_after_the_other() {
        let mut starts = class_starts(&[step(8, (20, 36)), step(8, (20, 36))]).unwrap();
        starts.sort_unstable();
        assert_eq!(starts, [20, 28]);
    }

    #[test]
    fn those_that_clash_are_named_without_the_others() {
        let steps = [step(3, (0, 60)), step(10, (20, 36)), step(2, (40, 50)), step(10, (20, 36))];
        assert!(class_starts(&steps).is_err());
        assert_eq!(fewest_that_clash(&steps), [1, 3]);
    }

    #[test]
    fn many_steps_that_just_fit_are_laid_one_after_another() {
        let steps = vec![step(3, (0, 180)); 60];
        let mut starts = class_starts(&steps).unwrap();
        starts.sort_unstable();
        assert!(starts.iter().zip((0..).step_by(3)).all(|(found, wanted)| *found == wanted));
    }
}
