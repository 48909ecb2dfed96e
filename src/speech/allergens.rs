//! The allergens that law names, by country. They are offered where a group's
//! needs are entered and where labels stand against them; nothing here judges a
//! recipe by them.
//!
//! The categories are the law's, told in our own words; they were compared with
//! lists that councils and trade papers print of it, the notes are from memory.
//! Who relies on them reads the live text.

use super::English;

/// What is said beside every list.
pub const FIRST: &str = "Your school's policy and risk assessment come first.";
/// What is said of what nobody has looked up.
pub const UNKNOWN: &str = "Where nobody has read the label, never take an ingredient to be free of anything: read every label, every time.";

/// One category of the law.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Allergen {
    /// What it is called there.
    pub name: &'static str,
    /// The need that a group has, as it is entered.
    pub need: &'static str,
    /// What it takes in, or what to know of it; empty where its name says it.
    pub note: &'static str,
    /// Words by which labels and needs name it, in small letters.
    words: &'static [&'static str],
}

impl Allergen {
    /// A short word for it, at the head of a column.
    pub fn short(&self) -> &'static str {
        self.words.first().copied().unwrap_or(self.name)
    }

    /// Whether words of a label, or of a need, name it: "wheat" is a cereal that
    /// contains gluten. Better once too often than once too seldom.
    pub fn is_named_by(&self, text: &str) -> bool {
        let text = text.to_lowercase();
        let mut words = text.split(|c: char| !c.is_alphanumeric());
        text.trim() == self.name || words.any(|word| self.words.contains(&word))
    }
}

/// The categories of a country.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct List {
    /// What the list is, in a few words.
    pub title: &'static str,
    /// The categories, in the law's order.
    pub allergens: &'static [Allergen],
    /// The law.
    pub source: &'static str,
    /// How it differs from others.
    pub note: &'static str,
}

const fn allergen(
    name: &'static str,
    need: &'static str,
    note: &'static str,
    words: &'static [&'static str],
) -> Allergen {
    Allergen { name, need, note, words }
}

const SHELLFISH: &str = "prawns, crabs, lobsters, crayfish";

const CRUSTACEANS: &[&str] = &[
    "crustacean",
    "crustaceans",
    "shellfish",
    "prawn",
    "prawns",
    "shrimp",
    "shrimps",
    "crab",
    "crabs",
    "lobster",
    "lobsters",
    "crayfish",
];
const EGGS: &[&str] = &["egg", "eggs"];
const SOY: &[&str] = &["soy", "soya", "soybean", "soybeans", "soyabeans"];
const MILK: &[&str] = &["milk", "lactose", "dairy", "whey", "casein"];
const NUTS: &[&str] = &[
    "nut",
    "nuts",
    "almond",
    "almonds",
    "hazelnut",
    "hazelnuts",
    "walnut",
    "walnuts",
    "cashew",
    "cashews",
    "pecan",
    "pecans",
    "brazil",
    "pistachio",
    "pistachios",
    "macadamia",
    "macadamias",
];
const SESAME: &[&str] = &["sesame"];

/// Annex II of the Regulation; the same fourteen in both countries.
const FOURTEEN: [Allergen; 14] = [
    allergen(
        "cereals containing gluten",
        "made without gluten ingredients",
        "wheat (spelt and khorasan too), rye, barley, oats",
        &["gluten", "wheat", "spelt", "khorasan", "rye", "barley", "oat", "oats"],
    ),
    allergen("crustaceans", "made without crustaceans", SHELLFISH, CRUSTACEANS),
    allergen("eggs", "made without egg", "", EGGS),
    allergen("fish", "made without fish", "", &["fish"]),
    allergen("peanuts", "made without peanuts", "", &["peanut", "peanuts"]),
    allergen("soybeans", "made without soya", "soya drink, flour and lecithin", SOY),
    allergen("milk", "made without milk", "lactose too; butter, cheese, many spreads", MILK),
    allergen(
        "nuts",
        "made without tree nuts",
        "almonds, hazelnuts, walnuts, cashews, pecans, Brazil nuts, pistachios, macadamias",
        NUTS,
    ),
    allergen("celery", "made without celery", "celeriac too; stocks", &["celery", "celeriac"]),
    allergen("mustard", "made without mustard", "", &["mustard"]),
    allergen("sesame seeds", "made without sesame", "", SESAME),
    allergen(
        "sulphur dioxide and sulphites",
        "made without sulphites",
        "above 10 mg/kg or 10 mg/litre, counted as sulphur dioxide; dried fruit, treacle",
        &["sulphite", "sulphites", "sulphur"],
    ),
    allergen("lupin", "made without lupin", "lupin flour in blends", &["lupin"]),
    allergen(
        "molluscs",
        "made without molluscs",
        "mussels, oysters, squid, snails",
        &["mollusc", "molluscs", "mussel", "mussels", "oyster", "oysters", "squid", "snails"],
    ),
];

/// The Food Allergen Labeling and Consumer Protection Act of 2004, and sesame.
const NINE: [Allergen; 9] = [
    allergen("milk", "made without milk", "butter, cheese, many margarines", MILK),
    allergen("eggs", "made without egg", "", EGGS),
    allergen("fish", "made without fish", "the kind is to be named", &["fish"]),
    allergen("crustacean shellfish", "made without crustacean shellfish", SHELLFISH, CRUSTACEANS),
    allergen(
        "tree nuts",
        "made without tree nuts",
        "the kind is to be named; guidance of 2025 has a shorter list, without coconut",
        NUTS,
    ),
    allergen("peanuts", "made without peanuts", "", &["peanut", "peanuts"]),
    allergen(
        "wheat",
        "made without wheat",
        "wheat alone: rye, barley and oats hold gluten and are not on this list",
        &["wheat", "spelt", "khorasan"],
    ),
    allergen("soybeans", "made without soy", "soy drink, flour and lecithin", SOY),
    allergen("sesame", "made without sesame", "since January 1, 2023", SESAME),
];

const BRITISH: List = List {
    title: "The 14 allergens of the United Kingdom",
    allergens: &FOURTEEN,
    source: "Food Information Regulations 2014; Regulation (EU) No 1169/2011, Annex II, as retained",
    note: "Cereals and nuts are named one by one on labels.",
};

const IRISH: List = List {
    title: "The 14 allergens of Ireland and the European Union",
    allergens: &FOURTEEN,
    source: "Regulation (EU) No 1169/2011, Annex II",
    note: "Cereals and nuts are named one by one on labels.",
};

const AMERICAN: List = List {
    title: "The 9 major allergens of the United States",
    allergens: &NINE,
    source: "Food Allergen Labeling and Consumer Protection Act of 2004; FASTER Act of 2021 (sesame)",
    note: "Wheat, not gluten. Mollusks, celery, mustard, lupin and sulfites are not on this list; \
           someone may need to avoid them all the same.",
};

/// The list of a country.
pub fn list(english: English) -> &'static List {
    match english {
        English::British => &BRITISH,
        English::Irish => &IRISH,
        English::American => &AMERICAN,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::speech::{KeptNames, say};

    #[test]
    fn lists_are_as_long_as_the_law_has_them_and_name_nothing_twice() {
        for (english, count) in
            [(English::British, 14), (English::Irish, 14), (English::American, 9)]
        {
            let list = list(english);
            assert_eq!(list.allergens.len(), count, "{english}");
            let mut needs: Vec<&str> = list.allergens.iter().map(|a| a.need).collect();
            needs.sort_unstable();
            needs.dedup();
            assert_eq!(needs.len(), count);
            assert!(!list.source.is_empty());
        }
        let has = |e, name: &str| list(e).allergens.iter().any(|a| a.name == name);
        assert!(has(English::American, "wheat") && !has(English::American, "molluscs"));
        assert!(has(English::British, "molluscs") && !has(English::British, "wheat"));
    }

    #[test]
    fn nothing_is_called_free_of_anything() {
        for english in English::ALL {
            let list = list(english);
            for allergen in list.allergens {
                assert!(allergen.need.starts_with("made without "), "{}", allergen.need);
                for text in [allergen.name, allergen.need, allergen.note, list.note, list.title] {
                    assert!(!text.contains("free"), "{text}");
                }
            }
        }
    }

    #[test]
    fn words_of_labels_and_needs_name_what_the_law_names() {
        let named = |english, text: &str| -> Vec<&str> {
            let all = list(english).allergens.iter();
            all.filter(|a| a.is_named_by(text)).map(|a| a.name).collect()
        };
        for english in English::ALL {
            for allergen in list(english).allergens {
                assert_eq!(named(english, allergen.need), [allergen.name], "{}", allergen.need);
                assert_eq!(named(english, allergen.name), [allergen.name], "{}", allergen.name);
            }
        }
        assert_eq!(named(English::British, "Wheat flour"), ["cereals containing gluten"]);
        assert_eq!(named(English::British, "roast peanuts"), ["peanuts"]);
        assert_eq!(named(English::American, "barley"), [""; 0]);
        assert_eq!(named(English::British, "halal"), [""; 0]);
    }

    #[test]
    fn a_list_is_written_in_the_words_of_its_country() {
        for allergen in list(English::American).allergens {
            for text in [allergen.name, allergen.need, allergen.note] {
                assert_eq!(say(text, English::American, &KeptNames::default()), text);
            }
        }
    }
}
