//! British, Irish and American English: everything the program says is
//! written in British words, and [`say`] turns a finished sentence into the
//! English that was chosen, word by word, with the customary units. Names that
//! the user gave are never touched.

pub mod allergens;
mod dates;
pub mod fields;
mod kept;
mod measures;
mod scan;
pub mod table;

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

pub use fields::Measure;
pub use kept::{KeptNames, names_in};
use table::Text;

/// Whose words, units and allergen list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum English {
    /// As everything is written; °C, centimetres and grams; the 14 allergens
    /// of the United Kingdom.
    #[default]
    British,
    /// The words of Irish schools; units as in Britain; the 14 allergens of
    /// the European Union.
    Irish,
    /// American words and spelling; °F, inches and ounces; the 9 allergens of
    /// the United States.
    American,
}

impl English {
    /// All of them, in the order in which they are offered.
    pub const ALL: [English; 3] = [English::British, English::Irish, English::American];

    /// As it is written on the command line.
    pub fn name(self) -> &'static str {
        match self {
            English::British => "british",
            English::Irish => "irish",
            English::American => "american",
        }
    }

    /// Its language tag (BCP 47).
    pub fn language(self) -> &'static str {
        match self {
            English::British => "en-GB",
            English::Irish => "en-IE",
            English::American => "en-US",
        }
    }

    /// As a menu has it. These words are the same in every English.
    pub fn label(self) -> &'static str {
        match self {
            English::British => "British words",
            English::Irish => "Irish words",
            English::American => "US words",
        }
    }

    /// What it comes with, in its own words.
    pub fn what(self) -> &'static str {
        match self {
            English::British => "°C, cm and g; the 14 allergens of the United Kingdom",
            English::Irish => "°C, cm and g; the 14 allergens of the European Union",
            English::American => "°F, inches and ounces; the 9 allergens of the United States",
        }
    }

    /// Whether temperatures are in °F, lengths in inches and weights in ounces.
    pub fn is_customary(self) -> bool {
        self == English::American
    }
}

impl fmt::Display for English {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl FromStr for English {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let named = |e: &English| e.name() == text;
        let found = English::ALL.into_iter().find(named);
        found.ok_or_else(|| "it is british, irish or american".to_owned())
    }
}

/// A British sentence in the chosen English. British sentences, and others in
/// which nothing differs, are handed back as they are. What stands between
/// double quotation marks or backticks is quoted and not touched.
pub fn say<'a>(text: &'a str, english: English, names: &KeptNames) -> Cow<'a, str> {
    match english {
        English::British => Cow::Borrowed(text),
        _ => scan::scan(text, (english, Text::Sentence), names),
    }
}

/// The same of a text of the library that comes with the program, whose words
/// are of the kitchen alone.
pub fn say_of_library(text: &str, english: English) -> Cow<'_, str> {
    match english {
        English::British => Cow::Borrowed(text),
        _ => scan::scan(text, (english, Text::Library), &KeptNames::default()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn us(text: &str) -> String {
        say(text, English::American, &KeptNames::default()).into_owned()
    }

    #[test]
    fn british_is_not_even_copied() {
        let text = "2 tins at 180 °C on the top shelf";
        assert!(matches!(say(text, English::British, &KeptNames::default()), Cow::Borrowed(_)));
        let plain = "Seven of eight groups are out by the bell.";
        assert!(matches!(say(plain, English::American, &KeptNames::default()), Cow::Borrowed(_)));
    }

    #[test]
    fn whole_words_change_and_keep_plurals_and_capitals() {
        assert_eq!(us("Tins per opening"), "Pans per opening");
        assert_eq!(us("the tin's rim; TIN; 1 tin."), "the pan's rim; PAN; 1 pan.");
        assert_eq!(
            us("settings, satin, tinsel, tin-method"),
            "settings, satin, tinsel, tin-method"
        );
        assert_eq!(us("top shelf, 2 shelves, shelving"), "top rack, 2 racks, shelving");
        assert_eq!(us("it is not said when the bell rings"), "it is not said when the bell rings");
        assert_eq!(us("2 hob rings"), "2 burners");
        assert_eq!(us("Pupils\nhere"), "Students\nhere");
    }

    #[test]
    fn names_are_kept_the_longest_first_with_plurals_and_capitals() {
        let names =
            KeptNames::new(["tin", "lemon tin", "hob ring", "20 cm square tin", "tray bake"]);
        let said = |text| say(text, English::American, &names).into_owned();
        assert_eq!(said("a lemon tin on the shelf"), "a lemon tin on the rack");
        assert_eq!(said("Lemon tin: 2 hob rings, pupils"), "Lemon tin: 2 hob rings, students");
        assert_eq!(said("20 cm square tin at 180 °C"), "20 cm square tin at 350 °F");
        assert_eq!(said("20 cm squ… and 3 pupils"), "20 cm squ… and 3 students");
        assert_eq!(said("a tin of \"my tins\", `tins`"), "a tin of \"my tins\", `tins`");
        // A name of figures alone has nothing to keep.
        let names = KeptNames::new(["180", ""]);
        assert_eq!(say("180 °C", English::American, &names), "350 °F");
    }

    #[test]
    fn saying_twice_is_saying_once() {
        let mut sentences: Vec<String> = vec![
            "Oven A, 180 °C fan by 13:05, cools 20 °C in 10 min; 170 to 185 °C".to_owned(),
            "6 tins, 420 × 360 mm, 25 g each, 600 ml, 5 ml, 20 cm, 00:10 on 26 November 2026"
                .to_owned(),
        ];
        let words = |e| table::words(e, Text::Library).map(|w| w.british.to_owned());
        sentences.extend(words(English::American).chain(words(English::Irish)));
        for english in [English::Irish, English::American] {
            for text in &sentences {
                let once = say(text, english, &KeptNames::default()).into_owned();
                let twice = say(&once, english, &KeptNames::default()).into_owned();
                assert_eq!(twice, once, "{english}");
                let once = say_of_library(text, english).into_owned();
                assert_eq!(say_of_library(&once, english), once, "{english}");
            }
        }
    }

    #[test]
    fn the_irish_keep_their_units() {
        let irish = |text| say(text, English::Irish, &KeptNames::default()).into_owned();
        assert_eq!(irish("20 pupils, 180 °C, 13:05"), "20 students, 180 °C, 13:05");
        assert_eq!(irish("bicarbonate of soda"), "bread soda");
        assert_eq!(irish("a tin"), "a tin");
    }

    #[test]
    fn paths_and_names_of_rules_are_no_words() {
        for text in ["/home/a/tins/tin.ron", "C:\\tins\\tin", "tins.ron", "look at [tin]: x"] {
            assert_eq!(us(text), text);
        }
        assert_eq!(us("Tins. Shelves"), "Pans. Racks");
    }

    #[test]
    fn measures_stop_at_names() {
        let names =
            KeptNames::new(["20 cm tin", "K beater", "g cup", "May Bakers", "and 5 ml pot"]);
        let said = |text| say(text, English::American, &names).into_owned();
        for text in [
            "Unit 1 needs 2 × 20 cm tin",
            "from 18 to 20 cm tins",
            "2 K beaters, 3 g cups",
            "5 May Bakers",
            "2 and 5 ml pots",
        ] {
            assert_eq!(said(text), text);
        }
        assert_eq!(said("18 to 20 cm tin 20 cm wide"), "18 to 20 cm tin 8 in wide");
        assert_eq!(said("20 K too hot, 28 g of 5 May"), "36 °F too hot, 1 oz of May 5");
    }

    proptest::proptest! {
        #[test]
        fn names_with_measures_in_them_are_kept_wherever_they_stand(
            name in "[1-9][0-9]{0,2} ?(g|cm|mm|ml|kg|l|K|°C)( (tin|pot|[a-z]{2,5}))?",
            before in "([0-9]{1,3}( to | × |×| by | and | or | )|at 10:05 |180 °C, |a |12 g of ){0,3}",
            after in "(|, 12 g| to 25 cm| by 10:30| on 5 May|…)",
        ) {
            let kept = KeptNames::new([&name]);
            for english in English::ALL {
                let said = say(&format!("{before}{name}{after}"), english, &kept).into_owned();
                proptest::prop_assert!(said.contains(&name), "{}", said);
            }
        }
    }

    proptest::proptest! {
        #[test]
        fn any_text_can_be_said(
            text in "([0-9]{1,3}[:. ]|[a-zé½…°\"` ]|tins?|°C| mm| cm|Novembre?r?|shelf|to ){0,20}",
            name in "[a-z0-9 é…]{0,6}",
            other in ".{0,30}",
        ) {
            for english in English::ALL {
                for text in [&text, &other] {
                    let kept = KeptNames::new([&name]);
                    let once = say(text, english, &kept).into_owned();
                    say(&once, english, &kept);
                    say_of_library(&once, english);
                    for of in [Measure::Clock, Measure::Date, Measure::Celsius] {
                        of.read(&of.shown(text, english), english);
                    }
                }
            }
        }
    }

    #[test]
    fn englishes_are_read_by_name() {
        for english in English::ALL {
            assert_eq!(english.to_string().parse(), Ok(english));
        }
        assert!("French".parse::<English>().is_err());
    }
}
