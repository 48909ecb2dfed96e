//! Fixed starts of one group against each other.

use super::Builder;
use super::findings::quoted;
use super::locks::Fixed;
use crate::finding::Path;
use crate::model::{Group, GroupId, MethodId, StepId};
use crate::units::Minute;

impl Builder<'_> {
    /// Reports fixed starts that no method can keep: a step before the end of
    /// what leads up to it, even at quick minutes.
    pub(super) fn check_starts(&mut self, id: GroupId, fixed: &Fixed) {
        let group = self.parts.groups[id.0].clone();
        let methods = match &fixed.method {
            Some((method, _)) => vec![*method],
            None => group.methods.clone(),
        };
        for (i, (first, start, _)) in fixed.starts.iter().enumerate() {
            for (second, other, other_path) in &fixed.starts[i + 1..] {
                let wrong = |a: (&str, Minute), b: (&str, Minute)| {
                    !methods.is_empty()
                        && methods.iter().all(|&m| self.breaks_order(&group, m, a, b))
                };
                let (a, b) = ((first.as_str(), *start), (second.as_str(), *other));
                if wrong(a, b) {
                    self.report_order(other_path, a, b);
                } else if wrong(b, a) {
                    self.report_order(other_path, b, a);
                }
            }
        }
    }

    fn report_order(&mut self, path: &Path, a: (&str, Minute), b: (&str, Minute)) {
        let message = format!(
            "{} is fixed to {}, too soon after {}, which leads up to it and starts at {}",
            quoted(b.0),
            b.1,
            quoted(a.0),
            a.1
        );
        self.findings.error("lock-order", path, message, "fix only one of them");
    }

    /// Whether `a` leads up to `b` and takes too long for both starts.
    fn breaks_order(
        &self,
        group: &Group,
        method: MethodId,
        a: (&str, Minute),
        b: (&str, Minute),
    ) -> bool {
        let Some(shape) = self.parts.recipes[group.recipe.0].methods.get(method.0) else {
            return false;
        };
        let (Some(from), Some(to)) = (shape.step_named(a.0), shape.step_named(b.0)) else {
            return false;
        };
        // Links run forward, so one pass finds the earliest starts.
        let mut earliest: Vec<Option<Minute>> = vec![None; shape.steps.len()];
        earliest[from.0] = Some(a.1);
        let mut links = shape.links.clone();
        links.sort_by_key(|l| l.from);
        for link in &links {
            let Some(start) = earliest.get(link.from.0).copied().flatten() else { continue };
            let minutes = self.least_minutes(group, method, StepId(link.from.0));
            let after = start + minutes + link.least.rounded_up();
            if let Some(there) = earliest.get_mut(link.to.0) {
                *there = Some(there.map_or(after, |t| t.max(after)));
            }
        }
        earliest[to.0].is_some_and(|soonest| from != to && b.1 < soonest)
    }
}
