//! Looks for the cheapest changes that are enough: single ones and pairs, in
//! the order of their cost.

use std::ops::ControlFlow;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

use super::item::Item;
use super::menu::menu;
use super::offer::{Enough, Goal, Offer, Offers};
use super::trial::{Trial, Trying, planned};
use crate::check::CheckedPlan;
use crate::file::format::LessonFile;
use crate::model::{Lesson, PastBake};

/// How much to look for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effort {
    /// Plans built to see whether a set of changes is enough.
    pub look: u64,
    /// Plans built to make the plan of an offer better.
    pub polish: u64,
    /// So many offers are enough; more only if they cost no more.
    pub most: usize,
    /// When to leave off, if given.
    pub until: Option<Instant>,
}

impl Default for Effort {
    fn default() -> Self {
        Self { look: 500, polish: 5_000, most: 8, until: None }
    }
}

/// Changes that help without being enough are shown up to so many.
const HELPS: usize = 5;

/// Looks for changes of a lesson that has this plan. Tells what is known so
/// far with every offer; heeds `stop` between plans and within them. Without
/// a time limit the answer is the same in every run.
pub fn changes(
    (file, lesson): (&LessonFile, &Lesson),
    past: &[PastBake],
    plan: &CheckedPlan,
    effort: &Effort,
    stop: &AtomicBool,
    each: impl FnMut(&Offers),
) -> Offers {
    let goal = Goal::of(lesson, plan);
    if goal == Goal::Nothing {
        let (offers, helps) = (Vec::new(), Vec::new());
        let enough = Enough::AsItIs;
        return Offers { goal, offers, helps, enough, menu: 0, tried: 0, all_tried: true };
    }
    if stop.load(Ordering::Relaxed) {
        // The menu of a large lesson takes its time.
        let (offers, helps) = (Vec::new(), Vec::new());
        return Offers {
            goal,
            offers,
            helps,
            enough: Enough::NotYet,
            menu: 0,
            tried: 0,
            all_tried: false,
        };
    }
    let menu = menu((file, lesson), past, plan, goal);
    let trying = Trying { file, past, goal, stop };
    let mut search =
        Search { menu: &menu, lesson, trying, effort, each, open: Vec::new(), tried: 0 };
    search.run(plan)
}

struct Search<'a, F> {
    menu: &'a [Item],
    lesson: &'a Lesson,
    trying: Trying<'a>,
    effort: &'a Effort,
    each: F,
    /// Sets that are neither enough nor ruled out.
    open: Vec<Vec<usize>>,
    tried: usize,
}

impl<F: FnMut(&Offers)> Search<'_, F> {
    fn run(&mut self, plan: &CheckedPlan) -> Offers {
        let mut offers: Vec<Offer> = Vec::new();
        let mut over = false;
        for set in candidates(self.menu) {
            let items: Vec<&Item> = set.iter().map(|&i| &self.menu[i]).collect();
            let cost: f64 = items.iter().map(|i| i.cost).sum();
            let dearest = offers.last().map(|o| o.cost);
            if offers.len() >= self.effort.most && dearest.is_some_and(|d| cost > d) {
                break;
            }
            over = self.is_over();
            if over {
                break;
            }
            if offers.iter().any(|offer| is_less(offer, &items)) {
                continue;
            }
            self.tried += 1;
            let Trial::Planned(offer) = self.trying.attempt(&items, self.effort.look, false) else {
                continue;
            };
            let goal = self.trying.goal;
            let unsure = goal == Goal::Spare || !offer.leaves_some_out();
            match self.polished(*offer) {
                Some(offer) => {
                    offers.push(offer);
                    rank(&mut offers);
                    let so_far = self.offers((offers.clone(), Vec::new()), Enough::NotYet, false);
                    (self.each)(&so_far);
                }
                None if unsure => self.open.push(set),
                None => {}
            }
        }
        let over = over || self.is_over();
        let enough = if !offers.is_empty() {
            Enough::Offered
        } else if over {
            Enough::NotYet
        } else if self.are_all_ruled_out() {
            Enough::NothingProved
        } else {
            Enough::NothingFound
        };
        let helps = if offers.is_empty() { self.helps(plan) } else { Vec::new() };
        let all = self.offers((offers, helps), enough, !over);
        (self.each)(&all);
        all
    }

    fn offers(
        &self,
        (offers, helps): (Vec<Offer>, Vec<Offer>),
        enough: Enough,
        all_tried: bool,
    ) -> Offers {
        let (goal, menu, tried) = (self.trying.goal, self.menu.len(), self.tried);
        Offers { goal, offers, helps, enough, menu, tried, all_tried }
    }

    fn is_over(&self) -> bool {
        self.trying.stop.load(Ordering::Relaxed)
            || self.effort.until.is_some_and(|until| Instant::now() >= until)
    }

    /// Whether the longer proofs rule out what short sums leave open.
    fn are_all_ruled_out(&self) -> bool {
        // That all are served is proved or not; the wanted spare is no proof's
        // business where other tins would do.
        self.trying.goal == Goal::Everyone
            && self.open.iter().all(|set| {
                let items: Vec<&Item> = set.iter().map(|&i| &self.menu[i]).collect();
                !self.is_over() && self.trying.is_ruled_out(&items, self.effort.look)
            })
    }

    /// What is enough, planned better; `None` if it is not enough. Less
    /// departure from first choices may cost the spare minutes again.
    fn polished(&self, mut offer: Offer) -> Option<Offer> {
        let goal = self.trying.goal;
        if !goal.is_met(&offer.lesson, &offer.plan) {
            return None;
        }
        let on = |_: &Arc<CheckedPlan>| ControlFlow::Continue(());
        let better = planned(&offer.lesson, self.effort.polish, self.trying.stop, on);
        if let Some(plan) = better.filter(|_| !self.is_over()) {
            offer.plan = plan;
        }
        goal.is_met(&offer.lesson, &offer.plan).then_some(offer)
    }

    /// Single changes by which fewer pupils are left behind, or the last group
    /// has more of the wanted spare.
    fn helps(&self, plan: &CheckedPlan) -> Vec<Offer> {
        let now = wanting(self.lesson, plan);
        let mut helps: Vec<Offer> = Vec::new();
        for item in self.menu {
            if self.is_over() {
                break;
            }
            if let Trial::Planned(offer) = self.trying.attempt(&[item], self.effort.look, true)
                && wanting(&offer.lesson, &offer.plan) < now
            {
                helps.push(*offer);
            }
        }
        let behind = |o: &Offer| wanting(&o.lesson, &o.plan);
        helps.sort_by(|a, b| behind(a).cmp(&behind(b)).then(a.cost.total_cmp(&b.cost)));
        let mut kept: Vec<Offer> = Vec::new();
        for help in helps {
            // The same by more that does no better.
            let lower = |k: &Offer| help.items[0].covers(&k.items[0]) && behind(k) <= behind(&help);
            if kept.len() < HELPS && !kept.iter().any(lower) {
                kept.push(help);
            }
        }
        kept
    }
}

/// The cheapest first; of those that cost the same the better one.
fn rank(offers: &mut [Offer]) {
    offers.sort_by(|a, b| {
        a.cost.total_cmp(&b.cost).then_with(|| quality(&a.plan).cmp(&quality(&b.plan)))
    });
}

/// Pupils who are not out by the bell, since groups may be joined by a change,
/// and the minutes the last group lacks.
fn wanting(lesson: &Lesson, plan: &CheckedPlan) -> (u32, i32) {
    let unserved = |g: &crate::model::GroupId| plan.group_outcomes()[g.0].ready.is_none();
    let behind = lesson.attending().filter(unserved).map(|g| lesson.group(g).pupils).sum();
    (behind, plan.objective().shortfall)
}

/// Shortfall, departures, latest ready and their sum: the less the better.
fn quality(plan: &CheckedPlan) -> (i32, i32, u64, i64) {
    let o = plan.objective();
    (o.shortfall, o.latest_ready, o.departures, o.sum_ready)
}

/// Whether an offer does with less than these items.
fn is_less(offer: &Offer, items: &[&Item]) -> bool {
    offer.items.iter().all(|less| items.iter().any(|more| more.covers(less)))
}

/// Single changes and pairs, the cheapest first.
pub(super) fn candidates(menu: &[Item]) -> Vec<Vec<usize>> {
    let mut all: Vec<Vec<usize>> = (0..menu.len()).map(|i| vec![i]).collect();
    for i in 0..menu.len() {
        let after = i + 1..menu.len();
        all.extend(after.filter(|&j| menu[i].goes_with(&menu[j])).map(|j| vec![i, j]));
    }
    let cost = |set: &[usize]| set.iter().map(|&i| menu[i].cost).sum::<f64>();
    all.sort_by(|a, b| cost(a).total_cmp(&cost(b)).then(a.len().cmp(&b.len())));
    all
}
