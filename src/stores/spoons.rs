//! Level spoons beside grams. School scales show whole grams, so that a few
//! grams of baking powder are weighed less well than they are measured in
//! level teaspoons (common practice of the trade).

/// Below this many grams a step of one gram is more than a tenth of what is
/// weighed (a rule of the project).
pub const SPOONS_BELOW_GRAMS: f64 = 10.0;

/// What a level 5 ml spoon holds, in grams, by a word of the ingredient's
/// name: powders only, from memory.
const LEVEL_TEASPOONS: [(&str, f64); 9] = [
    ("baking powder", 4.5),
    ("bicarbonate", 5.0),
    ("cream of tartar", 3.0),
    ("salt", 6.0),
    ("yeast", 3.0),
    ("cinnamon", 2.5),
    ("ginger", 2.0),
    ("mixed spice", 2.0),
    ("nutmeg", 2.0),
];

/// Level teaspoons in quarters, as in "1¼ level tsp"; nothing where
/// scales do better or nobody knows what a spoon holds.
pub fn level_spoons(ingredient: &str, grams: f64) -> Option<String> {
    let name = ingredient.to_lowercase();
    let (_, in_one) = LEVEL_TEASPOONS.into_iter().find(|(word, _)| name.contains(word))?;
    if !(grams > 0.0 && grams < SPOONS_BELOW_GRAMS) {
        return None;
    }
    let quarters = (grams / in_one * 4.0).round();
    if quarters < 1.0 {
        return Some("less than ¼ level tsp".to_owned());
    }
    let whole = (quarters / 4.0).floor();
    let part = ["", "¼", "½", "¾"]
        .into_iter()
        .zip([0.0, 1.0, 2.0, 3.0])
        .find(|(_, left)| (quarters - 4.0 * whole - left).abs() < 0.5)
        .map_or("", |(part, _)| part);
    let whole = if whole > 0.0 { format!("{whole:.0}") } else { String::new() };
    Some(format!("{whole}{part} level tsp"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_amounts_of_powders_are_told_in_spoons() {
        let told = |name, grams| level_spoons(name, grams).unwrap_or_default();
        assert_eq!(told("baking powder", 4.5), "1 level tsp");
        assert_eq!(told("Fast-action yeast", 5.0), "1¾ level tsp");
        assert_eq!(told("salt", 3.0), "½ level tsp");
        assert_eq!(told("ground nutmeg", 0.1), "less than ¼ level tsp");
        assert_eq!(level_spoons("baking powder", 10.0), None, "scales do it");
        assert_eq!(level_spoons("flour", 4.0), None, "nobody knows");
    }
}
