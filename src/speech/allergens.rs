//! The allergens that law names, by country. They are offered where a group's
//! needs are entered; nothing here judges a recipe by them.
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

const fn allergen(name: &'static str, need: &'static str, note: &'static str) -> Allergen {
    Allergen { name, need, note }
}

const SHELLFISH: &str = "prawns, crabs, lobsters, crayfish";

/// Annex II of the Regulation; the same fourteen in both countries.
const FOURTEEN: [Allergen; 14] = [
    allergen(
        "cereals containing gluten",
        "made without gluten ingredients",
        "wheat (spelt and khorasan too), rye, barley, oats",
    ),
    allergen("crustaceans", "made without crustaceans", SHELLFISH),
    allergen("eggs", "made without egg", ""),
    allergen("fish", "made without fish", ""),
    allergen("peanuts", "made without peanuts", ""),
    allergen("soybeans", "made without soya", "soya drink, flour and lecithin"),
    allergen("milk", "made without milk", "lactose too; butter, cheese, many spreads"),
    allergen(
        "nuts",
        "made without tree nuts",
        "almonds, hazelnuts, walnuts, cashews, pecans, Brazil nuts, pistachios, macadamias",
    ),
    allergen("celery", "made without celery", "celeriac too; stocks"),
    allergen("mustard", "made without mustard", ""),
    allergen("sesame seeds", "made without sesame", ""),
    allergen(
        "sulphur dioxide and sulphites",
        "made without sulphites",
        "above 10 mg/kg or 10 mg/litre, counted as sulphur dioxide; dried fruit, treacle",
    ),
    allergen("lupin", "made without lupin", "lupin flour in blends"),
    allergen("molluscs", "made without molluscs", "mussels, oysters, squid, snails"),
];

/// The Food Allergen Labeling and Consumer Protection Act of 2004, and sesame.
const NINE: [Allergen; 9] = [
    allergen("milk", "made without milk", "butter, cheese, many margarines"),
    allergen("eggs", "made without egg", ""),
    allergen("fish", "made without fish", "the kind is to be named"),
    allergen("crustacean shellfish", "made without crustacean shellfish", SHELLFISH),
    allergen(
        "tree nuts",
        "made without tree nuts",
        "the kind is to be named; guidance of 2025 has a shorter list, without coconut",
    ),
    allergen("peanuts", "made without peanuts", ""),
    allergen(
        "wheat",
        "made without wheat",
        "wheat alone: rye, barley and oats hold gluten and are not on this list",
    ),
    allergen("soybeans", "made without soy", "soy drink, flour and lecithin"),
    allergen("sesame", "made without sesame", "since January 1, 2023"),
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
    fn a_list_is_written_in_the_words_of_its_country() {
        for allergen in list(English::American).allergens {
            for text in [allergen.name, allergen.need, allergen.note] {
                assert_eq!(say(text, English::American, &KeptNames::default()), text);
            }
        }
    }
}
