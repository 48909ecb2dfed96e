//! The costs of changes.

use super::Builder;
use super::findings::quoted;
use crate::finding::Path;
use crate::model::ChangeKind;

/// The dearest a change may be.
const DEAREST: f64 = 1000.0;

impl Builder<'_> {
    /// Costs of changes, and those that are never to be offered.
    pub(super) fn change_costs(&mut self) {
        let path = Path::root().field("changes");
        let costs = path.field("costs");
        let mut seen: Vec<ChangeKind> = Vec::new();
        for (name, cost) in &self.file.changes.costs.0 {
            let at = costs.key(name);
            let Some(kind) = self.change_kind(&at, name) else { continue };
            if seen.contains(&kind) {
                let message = format!("the cost of {} is given twice", quoted(name));
                self.findings.error("duplicate-name", &at, message, "leave one of them out");
                continue;
            }
            seen.push(kind);
            let what = format!("the cost of {}", quoted(name));
            if let Some(cost) = self.findings.range(&at, &what, *cost, (0.0, DEAREST)) {
                self.parts.change_costs.costs.push((kind, cost));
            }
        }
        for (i, name) in self.file.changes.never.iter().enumerate() {
            let kind = self.change_kind(&path.field("never").index(i), name);
            self.parts.change_costs.never.extend(kind);
        }
    }

    fn change_kind(&mut self, at: &Path, name: &str) -> Option<ChangeKind> {
        let kind = ChangeKind::named(name);
        if kind.is_none() {
            let message = format!("{} is no kind of change", quoted(name));
            let known = ChangeKind::ALL.map(ChangeKind::name).join(", ");
            self.findings.error("change-kind", at, message, format!("there are: {known}"));
        }
        kind
    }
}
