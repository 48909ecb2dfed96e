//! Plans raced on the same luck: the more runs, the fewer are left.

use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::play::{OddsError, Outs, Settings, Spread, outs};

/// Runs after which a plan must not be behind.
const FIRST: u32 = 100;
/// Runs after which it must be ahead.
const SECOND: u32 = 1_000;
/// How many standard errors apart two plans are told to be apart.
const APART: f64 = 2.0;

/// A race: of plans of a lesson, with these spreads.
pub(super) struct Race<'a> {
    pub lesson: &'a Lesson,
    /// On which luck the odds are told, and in how many runs.
    pub settings: &'a Settings,
    /// The widest first.
    pub spreads: &'a [Spread],
}

/// A plan with how it fared in the first runs.
pub(super) struct Runner {
    pub plan: CheckedPlan,
    outs: Outs,
}

impl Race<'_> {
    /// Settings on luck that the odds are not told on, with the widest spread:
    /// there plans differ most.
    fn on_other_luck(&self) -> Settings {
        let spread = self.spreads.first().copied().unwrap_or(Spread::LISTED);
        Settings { seed: !self.settings.seed, spread, ..*self.settings }
    }

    /// The plan that all others are raced against first.
    pub fn begin(&self, plan: CheckedPlan) -> Result<Runner, OddsError> {
        let outs = outs(self.lesson, &plan, &self.on_other_luck(), 0..SECOND)?;
        Ok(Runner { plan, outs })
    }

    /// The challenger, if it wins.
    pub fn against(
        &self,
        here: &Runner,
        challenger: CheckedPlan,
    ) -> Result<Option<Runner>, OddsError> {
        let settings = self.on_other_luck();
        let mut fared = outs(self.lesson, &challenger, &settings, 0..FIRST)?;
        let (ahead, error) = fared.more_than(&here.outs);
        // One that fares the same in all runs, or is clearly behind, is out.
        if error == 0.0 && ahead <= 0.0 || ahead < -error {
            return Ok(None);
        }
        let more = outs(self.lesson, &challenger, &settings, FIRST..SECOND)?;
        fared.by_run.extend(more.by_run);
        Ok(is_ahead(&fared, &here.outs).then_some(Runner { plan: challenger, outs: fared }))
    }

    /// A plan played in all runs the odds are told of, by spread.
    pub fn to_the_end(&self, plan: &CheckedPlan) -> Result<Vec<Outs>, OddsError> {
        let each = self.spreads.iter().map(|&spread| {
            let settings = Settings { spread, ..*self.settings };
            outs(self.lesson, plan, &settings, 0..settings.runs)
        });
        each.collect()
    }
}

/// More groups are out on average, or as many and all of them more often.
fn is_ahead(this: &Outs, other: &Outs) -> bool {
    let more = this.more_than(other).0;
    more > 0.0 || more == 0.0 && this.all() > other.all()
}

/// Whether a plan is better on luck on which it was not chosen: with no spread
/// are fewer groups out, or all of them less often, and with one of them more
/// groups are out by more than chance makes of nothing.
pub(super) fn is_better(this: &[Outs], other: &[Outs]) -> bool {
    let pairs = || this.iter().zip(other);
    let never_lower = pairs().all(|(a, b)| a.more_than(b).0 >= 0.0 && a.all() >= b.all());
    never_lower
        && pairs().any(|(a, b)| {
            let (more, error) = a.more_than(b);
            more > APART * error
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn outs(by_run: &[u32]) -> Outs {
        Outs { groups: 3, by_run: by_run.to_vec() }
    }

    #[test]
    fn a_plan_is_better_where_it_is_nowhere_lower_and_somewhere_clearly_higher() {
        let before = [outs(&[2; 100]), outs(&[3; 100])];
        let same = before.clone();
        assert!(!is_better(&same, &before));
        let higher = [outs(&[3; 100]), outs(&[3; 100])];
        assert!(is_better(&higher, &before));
        assert!(!is_better(&before, &higher));
        let mut once_lower = [3; 100];
        once_lower[7] = 2;
        assert!(!is_better(&[outs(&[3; 100]), outs(&once_lower)], &before));
        // One run in a hundred is chance.
        let mut once_higher = [2; 100];
        once_higher[7] = 3;
        assert!(!is_better(&[outs(&once_higher), outs(&[3; 100])], &before));
    }

    #[test]
    fn as_many_groups_out_and_all_of_them_more_often_is_ahead() {
        assert!(is_ahead(&outs(&[3, 1]), &outs(&[2, 2])));
        assert!(!is_ahead(&outs(&[2, 2]), &outs(&[3, 1])));
        assert!(!is_ahead(&outs(&[2, 2]), &outs(&[2, 2])));
    }
}
