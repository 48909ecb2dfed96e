//! Tables written in one line.

use ovenbell::file::format::{Entries, PaceBand, StatedMinutes};
use ovenbell::file::library;
use ovenbell::setup::written::*;

#[test]
fn what_the_library_says_reads_back_as_it_was() {
    for recipe in library::recipes().unwrap() {
        for ingredient in &recipe.ingredients {
            let text = allergens_text(&ingredient.allergens);
            assert_eq!(allergens(&text).unwrap(), ingredient.allergens, "{text}");
        }
        for step in recipe.methods.iter().flat_map(|m| &m.steps) {
            assert_eq!(kit(&kit_text(&step.kit)).unwrap(), step.kit);
        }
        for tin in &recipe.tins {
            for band in [PaceBand::Ages11To12, PaceBand::Ages12To14, PaceBand::Ages14To16] {
                let text = step_minutes_text(&tin.step_minutes, band);
                let read = step_minutes(&text, &tin.step_minutes, band).unwrap();
                assert_eq!(read, tin.step_minutes, "{text}");
            }
        }
    }
}

#[test]
fn lines_are_read_as_people_write_them() {
    let of = |text| kit(text).unwrap().0;
    assert_eq!(of("ring"), [("ring".to_owned(), 1)]);
    assert_eq!(
        of(" electric whisk 2 ; bowl"),
        [("electric whisk".to_owned(), 2), ("bowl".to_owned(), 1)]
    );
    assert!(of("").is_empty());
    assert!(kit("ring 0").unwrap_err().contains("between 1 and 500"));
    assert!(kit("ring, ring 2").unwrap_err().contains("named twice"));
    let none = Entries::default();
    let read = |text| step_minutes(text, &none, PaceBand::Ages12To14);
    assert_eq!(
        read("fill 2 3 5; cool 5").unwrap().0,
        [
            ("fill".to_owned(), StatedMinutes::Three(2.0, 3.0, 5.0)),
            ("cool".to_owned(), StatedMinutes::Usual(5.0)),
        ]
    );
    assert_eq!(read("mix 2 5").unwrap().0, [("mix 2".to_owned(), StatedMinutes::Usual(5.0))]);
    for wrong in ["fill", "5", "fill 5 3 2", "fill 5; fill 6"] {
        assert!(read(wrong).is_err(), "{wrong}");
    }
    assert_eq!(allergens("None").unwrap(), Some(vec![]));
    assert_eq!(allergens("milk, eggs").unwrap(), Some(vec!["milk".into(), "eggs".into()]));
}
