//! Who must be where while ovens are open, as a lesson's file says it.

use crate::file::format::{LessonFile, RulesShape};
use crate::model::AtOvens;

/// What the rules of a file ask for, or what goes without saying.
pub fn asked(file: &LessonFile) -> AtOvens {
    AtOvens::of(file.rules.adult_near_ovens, file.adult_at_doors())
}

/// The rules ask for this.
pub fn ask(rules: &mut RulesShape, at_ovens: AtOvens) {
    rules.adult_near_ovens = at_ovens == AtOvens::InRoom;
    rules.adult_at_doors = Some(at_ovens == AtOvens::AtDoor);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_answer_is_read_as_it_was_given() {
        for answer in AtOvens::ALL {
            let mut file = LessonFile::default();
            file.rules.adult_near_ovens = true;
            ask(&mut file.rules, answer);
            assert_eq!(asked(&file), answer);
        }
        let mut both = LessonFile::default();
        (both.rules.adult_near_ovens, both.rules.adult_at_doors) = (true, Some(true));
        assert_eq!(asked(&both), AtOvens::AtDoor);
    }
}
