//! Minutes that a class's lessons have taught, put into a lesson.

use super::told::{half, part_name};
use crate::edit::FileChange;
use crate::file::format::{LessonFile, MethodShape, PaceBand, StatedMinutes, StepKindShape};
use crate::finding::Finding;
use crate::model::LessonPart;
use crate::setup::field::of_band;

/// No step is made shorter than this, minutes.
const SHORTEST: f64 = 0.5;

/// The steps of a part take as much longer, or less long, as lessons have taught.
#[derive(Debug, Clone, PartialEq)]
pub struct LearnedMinutes {
    /// Which part.
    pub part: LessonPart,
    /// By which factor its minutes change.
    pub factor: f64,
}

impl LearnedMinutes {
    /// Of minutes that differ by age only those of the class's change.
    fn scale(&self, minutes: &mut StatedMinutes, band: PaceBand) {
        let to = |minutes: f64| half(minutes * self.factor).max(SHORTEST.min(minutes));
        let all = |(quick, usual, slow): (f64, f64, f64)| (to(quick), to(usual), to(slow));
        *minutes = match *minutes {
            StatedMinutes::Usual(usual) => StatedMinutes::Usual(to(usual)),
            StatedMinutes::Three(quick, usual, slow) => {
                let (quick, usual, slow) = all((quick, usual, slow));
                StatedMinutes::Three(quick, usual, slow)
            }
            StatedMinutes::ByBand(mut bands) => {
                let own = &mut bands[of_band(band)];
                *own = all(*own);
                StatedMinutes::ByBand(bands)
            }
        };
    }

    /// Scales what hands do before the bake, or after it.
    fn scale_hands(&self, method: &mut MethodShape, before: bool, band: PaceBand) {
        let bake = method.steps.iter().position(|step| step.kind == StepKindShape::Bake);
        let (made, finished) = match bake {
            Some(bake) => method.steps.split_at_mut(bake),
            None => (&mut method.steps[..], &mut [][..]),
        };
        for step in if before { made } else { finished } {
            if let (StepKindShape::Hand, Some(minutes)) = (step.kind, &mut step.minutes) {
                self.scale(minutes, band);
            }
        }
    }
}

impl FileChange for LearnedMinutes {
    fn label(&self) -> String {
        format!("{} as it was", part_name(&self.part))
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        let band = file.class.band;
        match &self.part {
            LessonPart::Opening => {
                for step in file.periods_mut().flat_map(|period| &mut period.opening) {
                    self.scale(&mut step.minutes, band);
                }
            }
            LessonPart::MakingUp(recipe, method) | LessonPart::Finishing(recipe, method) => {
                let recipe = file.recipes.iter_mut().find(|r| r.name == *recipe);
                let methods = recipe.into_iter().flat_map(|recipe| &mut recipe.methods);
                let mut methods = methods.filter(|m| m.name == *method).peekable();
                if methods.peek().is_none() {
                    return Err(self.no_such_entry());
                }
                let before = matches!(self.part, LessonPart::MakingUp(..));
                methods.for_each(|method| self.scale_hands(method, before, band));
            }
        }
        Ok(())
    }
}
