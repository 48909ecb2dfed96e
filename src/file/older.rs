//! Lessons of older formats, brought up to the format of now: what an older
//! format took for granted otherwise is stated in them, so that they mean what
//! they meant.

use super::format::{
    FORMAT, LessonFile, MethodShape, PaceBand, RecipeShape, StatedMinutes, StepKindShape,
};
use crate::finding::{Finding, Path};

/// The wanted spare that format 1 took for granted, in minutes.
const WANTED_SPARE: i32 = 3;

/// Brings a lesson up to the format of now; what of it should be looked at, if
/// it is of an older one. As the format is saved with it, that is told until
/// the lesson is saved, and never again.
pub(super) fn brought_up(file: &mut LessonFile) -> Option<Finding> {
    if file.format >= FORMAT {
        return None;
    }
    let older = file.format;
    file.format = FORMAT;
    let mut kept = Vec::new();
    if file.rules.wanted_spare.is_none() {
        file.rules.wanted_spare = Some(WANTED_SPARE);
        kept.push(format!("{WANTED_SPARE} min of wanted spare, where 5 are usual now"));
    }
    let youngest = file.class.band == PaceBand::Ages11To12;
    if youngest && file.rules.adult_at_doors.is_none() {
        file.rules.adult_at_doors = Some(false);
        kept.push("no adult at open doors, where one is usual now for ages 11 to 12".to_owned());
    }
    if cool_as_stated(&mut file.recipes) {
        let kept_so = "cooling as the recipe states it in tins whose bake is worked out, where it \
                       is worked out too now";
        kept.push(kept_so.to_owned());
    }
    let kept = match kept.as_slice() {
        [] => String::new(),
        all => format!(" It keeps what that took for granted: {}.", all.join("; ")),
    };
    let message = format!(
        "this lesson is of format {older}.{kept} Its plans now switch ovens on before the bell, \
         where it lets them"
    );
    let hint = format!("nothing need be done; save it, and it is of format {FORMAT} and says so");
    Some(Finding::warning("older-format", Path::root().field("format"), message).hint(hint))
}

/// States the cooling of tins without minutes as their methods have it; whether
/// there was any.
fn cool_as_stated(recipes: &mut [RecipeShape]) -> bool {
    let mut any = false;
    for recipe in recipes {
        for tin in recipe.tins.iter_mut().filter(|t| t.minutes.is_none()) {
            let goes_with =
                |m: &&MethodShape| tin.methods.is_empty() || tin.methods.contains(&m.name);
            let steps = recipe.methods.iter().filter(goes_with).flat_map(|m| &m.steps);
            let stated: Vec<(String, StatedMinutes)> = steps
                .filter(|s| s.kind == StepKindShape::Cool)
                .filter_map(|s| Some((s.name.clone(), s.minutes?)))
                .collect();
            for (name, minutes) in stated {
                if tin.step_minutes.0.iter().all(|(n, _)| *n != name) {
                    tin.step_minutes.0.push((name, minutes));
                    any = true;
                }
            }
        }
    }
    any
}

#[cfg(test)]
mod tests {
    use super::super::format::{ClassShape, RulesShape};
    use super::*;

    fn of(band: PaceBand, rules: RulesShape) -> LessonFile {
        let class = ClassShape { band, ..ClassShape::default() };
        LessonFile { format: 1, class, rules, ..LessonFile::default() }
    }

    #[test]
    fn a_lesson_of_format_1_keeps_what_it_took_for_granted_and_is_told_of_once() {
        let mut file = of(PaceBand::Ages11To12, RulesShape::default());
        let told = brought_up(&mut file).map(|f| f.message).unwrap_or_default();
        assert!(told.contains("3 min of wanted spare") && told.contains("open doors"), "{told}");
        let rules = &file.rules;
        assert_eq!((rules.wanted_spare, rules.adult_at_doors), (Some(3), Some(false)));
        assert_eq!((file.format, brought_up(&mut file)), (FORMAT, None));

        let mut file = of(PaceBand::Ages12To14, RulesShape::default());
        let told = brought_up(&mut file).map(|f| f.message).unwrap_or_default();
        assert!(!told.contains("open doors"), "{told}");
        assert_eq!(file.rules.adult_at_doors, None);
    }

    #[test]
    fn what_a_lesson_states_stays() {
        let rules = RulesShape {
            wanted_spare: Some(4),
            adult_at_doors: Some(true),
            ..RulesShape::default()
        };
        let mut file = of(PaceBand::Ages11To12, rules.clone());
        let told = brought_up(&mut file).map(|f| f.message).unwrap_or_default();
        assert!(!told.contains("granted"), "{told}");
        assert_eq!(file.rules, rules);
    }
}
