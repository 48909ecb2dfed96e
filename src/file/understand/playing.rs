//! What a lesson says of how its plan is played: how far minutes go together,
//! and which closing steps can be dropped.

use super::Builder;
use super::findings::quoted;
use crate::file::format::ClassStepShape;
use crate::finding::Path;
use crate::model::{Phase, Together};
use crate::units::plain_number;

/// Words in the names of closing steps that can be dropped where the file does
/// not say (common practice of the trade; judgement, not measured).
const DROPPED: [&str; 5] = ["plenary", "wrap-up", "recap", "reflection", "exit ticket"];
/// Words in the names of those that never can: units are seen to be clean and
/// off, and the class is let go (common practice of the trade).
const NEVER_DROPPED: [&str; 3] = ["unit check", "check of the units", "dismiss"];

/// A name holds one of these words.
fn has_any(name: &str, words: &[&str]) -> bool {
    let name = name.to_lowercase();
    words.iter().any(|word| name.contains(word))
}

/// Whether a closing step of this name can be dropped where the file does not
/// say; nothing for one that never can be.
pub fn dropped_by_name(name: &str) -> Option<bool> {
    (!has_any(name, &NEVER_DROPPED)).then(|| has_any(name, &DROPPED))
}

impl Builder<'_> {
    pub(super) fn together(&mut self) {
        let (path, shape) = (Path::root().field("together"), self.file.together);
        let usual = Together::USUAL;
        let mut share = |field: &str, stated: Option<f64>, usual: f64| {
            let share = stated.unwrap_or(usual);
            self.findings.range(&path.field(field), "a share", share, (0.0, 1.0)).unwrap_or(usual)
        };
        let (class, group) =
            (share("class", shape.class, usual.class), share("group", shape.group, usual.group));
        let (oven, mixture) =
            (share("oven", shape.oven, usual.oven), share("mixture", shape.mixture, usual.mixture));
        for (what, [one, two], all) in [
            ("hand steps", ["class", "group"], class + group),
            ("bakes", ["oven", "mixture"], oven + mixture),
        ] {
            // What a sum of decimals is off by is forgiven.
            if all > 1.0 + 1e-9 {
                let message = format!(
                    "of {what}, `{one}` and `{two}` share {} of the variance; there is no more \
                     than 1",
                    plain_number(all)
                );
                self.findings.error("together", &path, message, "make one of them smaller");
            }
        }
        let class_steps = if shape.class.is_some() { class } else { usual.class_steps };
        self.parts.together = Together { class, group, oven, mixture, class_steps };
    }

    /// Whether a step of the class can be dropped when time runs out.
    pub(super) fn may_be_dropped(
        &mut self,
        path: &Path,
        step: &ClassStepShape,
        phase: Phase,
    ) -> bool {
        let path = path.field("may_be_dropped");
        match step.may_be_dropped {
            Some(_) if phase != Phase::Closing => {
                let message = "only a closing step can be dropped, and says so";
                self.findings.error("dropped", &path, message, "take this out");
                false
            }
            Some(true) if dropped_by_name(&step.name).is_none() => {
                let message = format!("{} can never be dropped", quoted(&step.name));
                let hint = "units are checked and the class is let go in every lesson";
                self.findings.error("dropped", &path, message, hint);
                false
            }
            stated => {
                let by_name = || dropped_by_name(&step.name).unwrap_or(false);
                phase == Phase::Closing && stated.unwrap_or_else(by_name)
            }
        }
    }
}
