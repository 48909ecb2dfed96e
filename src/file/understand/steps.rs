//! Single steps of a method.

use super::Builder;
use super::findings::quoted;
use super::methods::{BAKE, LOAD, TAKE_OUT};
use super::names::Names;
use super::recipes::Making;
use crate::bake::materials;
use crate::file::format::{AdultShapeNeed, RecipeShape, StatedMinutes, StepKindShape, StepShape};
use crate::finding::{Path, Segment};
use crate::model::{AdultNeed, KitId, Language, Origin, PupilsNeeded, Step, StepKind, ThreePoint};
use crate::units::Celsius;

/// Minutes to load, and to take out, if not said.
const AT_THE_OVEN: StatedMinutes = StatedMinutes::Three(0.5, 1.0, 2.0);
/// Coldest and hottest a recipe may want its cake before it is handled, °C.
const COOLED: (f64, f64) = (22.0, 90.0);
/// Most pupils of a group.
pub(super) const MOST_PUPILS: u32 = 60;

impl Builder<'_> {
    /// A step that is not a bake.
    pub(super) fn step(&mut self, path: &Path, shape: &StepShape, making: &mut Making) -> Step {
        let kind = match shape.kind {
            StepKindShape::Hand => StepKind::Hand,
            StepKindShape::Cool => StepKind::Cool,
            // A second bake is reported; no lesson comes of it.
            StepKindShape::Wait | StepKindShape::Bake => StepKind::Wait,
        };
        let minutes = match shape.minutes {
            Some(stated) => {
                making.note(stated, &shape.name);
                let band = self.file.class.band;
                self.findings.minutes(&path.field("minutes"), stated, band, making.origin)
            }
            None => {
                // Cooling can be worked out once the tins are known.
                if matches!(shape.kind, StepKindShape::Hand | StepKindShape::Wait) {
                    let message = format!("the step {} has no minutes", quoted(&shape.name));
                    let hint = "add `minutes: 5` or `minutes: (4, 5, 7)`";
                    self.findings.error("no-minutes", path, message, hint);
                }
                None
            }
        };
        if !shape.done_when.is_empty() {
            let message = "only a bake is tested";
            let hint = "move `done_when` to the step that bakes, or put it into `words`";
            self.findings.error("done-when", &path.field("done_when"), message, hint);
        }
        Step {
            name: shape.name.clone(),
            kind,
            words: shape.words.clone(),
            pupil_words: shape.pupil_words.clone(),
            done_when: String::new(),
            home: self.home(path, shape),
            minutes,
            cool_to: self.cool_to(path, shape),
            pupils: self.pupils_needed(path, shape, u32::from(kind == StepKind::Hand)),
            kit: self.step_kit(path, shape),
            adult: adult_need(shape.adult),
            may_be_beforehand: shape.may_be_beforehand,
            may_be_collected: shape.may_be_collected,
        }
    }

    /// To what a step without minutes cools.
    fn cool_to(&mut self, path: &Path, shape: &StepShape) -> Option<Celsius> {
        let path = path.field("cool_to");
        let unstated = shape.kind == StepKindShape::Cool && shape.minutes.is_none();
        if !unstated {
            if shape.cool_to.is_some() {
                let message = "`cool_to` is for a step that cools and states no minutes";
                let hint = "leave it out, or leave `minutes` out";
                self.findings.error("cool-to", &path, message, hint);
            }
            return None;
        }
        let to = shape.cool_to.unwrap_or(materials::HAND_WARM.value);
        let to = self.findings.range(&path, "the temperature to cool to in °C", to, COOLED)?;
        Celsius::new(to).ok()
    }

    /// Loading, baking and taking out.
    pub(super) fn bake_steps(
        &mut self,
        path: &Path,
        shape: &StepShape,
        recipe: &RecipeShape,
        making: &mut Making,
    ) -> [Step; 3] {
        if shape.minutes.is_some() {
            let message = "the minutes of a bake are those of its tin";
            let hint =
                "move them to the recipe's `tins`; `bake: (load: …, take_out: …)` has the rest";
            self.findings.error("bake-minutes", &path.field("minutes"), message, hint);
        }
        for (field, stated) in [
            ("may_be_beforehand", shape.may_be_beforehand),
            ("may_be_collected", shape.may_be_collected),
        ] {
            if stated {
                let message = "a bake is never done outside the period";
                self.findings.error("bake-outside", &path.field(field), message, "");
            }
        }
        let pupils = self.pupils_needed(path, shape, 1);
        let at_oven = match adult_need(recipe.bake.adult) {
            AdultNeed::None if self.file.rules.adult_near_ovens => AdultNeed::Near,
            stated => stated,
        };
        // The recipe: a bake stands in its methods, in their steps.
        let depth = path.0.len().saturating_sub(4);
        let bake = Path(path.0.iter().take(depth).cloned().collect::<Vec<Segment>>()).field("bake");
        let load = self.at_oven(&bake, LOAD, "load", recipe.bake.load, making);
        let out = self.at_oven(&bake, TAKE_OUT, "take_out", recipe.bake.take_out, making);
        let step = |name: &str, kind, minutes, pupils, adult| Step {
            name: name.to_owned(),
            kind,
            words: String::new(),
            pupil_words: String::new(),
            done_when: String::new(),
            home: Vec::new(),
            minutes,
            cool_to: None,
            pupils,
            kit: Vec::new(),
            adult,
            may_be_beforehand: false,
            may_be_collected: false,
        };
        let kit = self.step_kit(path, shape);
        let home = self.home(path, shape);
        let none = PupilsNeeded::Count(0);
        [
            step(LOAD, StepKind::Load, load, pupils, at_oven),
            Step {
                kit,
                words: shape.words.clone(),
                pupil_words: shape.pupil_words.clone(),
                done_when: shape.done_when.clone(),
                home,
                ..step(BAKE, StepKind::Bake, None, none, adult_need(shape.adult))
            },
            step(TAKE_OUT, StepKind::TakeOut, out, pupils, at_oven),
        ]
    }

    fn at_oven(
        &mut self,
        path: &Path,
        name: &str,
        field: &str,
        stated: Option<StatedMinutes>,
        making: &mut Making,
    ) -> Option<ThreePoint> {
        let band = self.file.class.band;
        let path = path.field(field);
        let Some(stated) = stated else {
            let text = format!("minutes to {name}: 0.5, 1, 2");
            if making.assumed.iter().all(|(_, known)| *known != text) {
                making.assumed.push((path.clone(), text));
            }
            return self.findings.minutes(&path, AT_THE_OVEN, band, Origin::Assumed);
        };
        making.note(stated, name);
        self.findings.minutes(&path, stated, band, making.origin)
    }

    fn pupils_needed(&mut self, path: &Path, shape: &StepShape, usual: u32) -> PupilsNeeded {
        if shape.everyone && shape.pupils.is_some() {
            let message = "both `pupils` and `everyone` are given";
            self.findings.error("pupils", &path.field("pupils"), message, "leave one of them out");
        }
        let by_itself = matches!(shape.kind, StepKindShape::Wait | StepKindShape::Cool);
        if by_itself && (shape.everyone || shape.pupils.is_some_and(|n| n != 0)) {
            let message = "waiting and cooling take no pupils";
            let hint = "make it work of hands: leave out `kind`";
            self.findings.error("pupils", path, message, hint);
        }
        if shape.everyone {
            return PupilsNeeded::All;
        }
        let stated = shape.pupils.unwrap_or(i64::from(usual));
        let range = (0, MOST_PUPILS);
        let count =
            self.findings.count(&path.field("pupils"), "the number of pupils", stated, range);
        PupilsNeeded::Count(count.unwrap_or(usual))
    }

    /// Words for pupils in other languages.
    fn home(&mut self, path: &Path, shape: &StepShape) -> Vec<(Language, String)> {
        let path = path.field("home");
        let mut seen = Names::new("line for the language");
        let mut home = Vec::new();
        for (code, words) in &shape.home.0 {
            let path = path.key(code);
            seen.add(&mut self.findings, &path, code);
            match code.parse::<Language>() {
                Err(no) => {
                    let message = format!("{} is no code of a language", quoted(code));
                    self.findings.error("no-language", &path, message, no.to_string());
                }
                Ok(_) if words.trim().is_empty() => {
                    let message = "this line for a language is empty";
                    self.findings.error("empty-line", &path, message, "write it, or leave it out");
                }
                Ok(language) => home.push((language, words.trim().to_owned())),
            }
        }
        home
    }

    fn step_kit(&mut self, path: &Path, shape: &StepShape) -> Vec<(KitId, u32)> {
        let path = path.field("kit");
        let mut seen = Names::new("entry for the kit");
        let mut kit = Vec::new();
        for (name, count) in &shape.kit.0 {
            let path = path.key(name);
            seen.add(&mut self.findings, &path, name);
            let found = self.kit.find(&mut self.findings, &path, name);
            let count = self.findings.count(&path, "the number in use", *count, (1, 500));
            if let (Some(found), Some(count)) = (found, count) {
                kit.push((KitId(found), count));
            }
        }
        kit
    }
}

fn adult_need(shape: AdultShapeNeed) -> AdultNeed {
    match shape {
        AdultShapeNeed::None => AdultNeed::None,
        AdultShapeNeed::Near => AdultNeed::Near,
        AdultShapeNeed::With => AdultNeed::With,
    }
}
