//! Which family of mixture some percentages are nearest to.

use super::{Family, Mixture};
use crate::model::Role;

/// Fat, sugar, syrup, egg and liquid to 100 of flour between which a mixture
/// may well be of a family. They take in the rules of [`super::rules`] and the
/// usual spread of recipes about them: common practice of the trade, the
/// widths chosen.
struct Pattern {
    family: Family,
    parts: [(f64, f64); 5],
}

const fn pattern(family: Family, parts: [(f64, f64); 5]) -> Pattern {
    Pattern { family, parts }
}

#[rustfmt::skip]
const PATTERNS: [Pattern; 9] = [
    //                              fat            sugar          syrup          egg            liquid
    pattern(Family::LowSugarCake,  [(40.0, 110.0), (40.0, 100.0), (0.0, 20.0),   (30.0, 120.0), (0.0, 60.0)]),
    pattern(Family::RichCake,      [(40.0, 110.0), (105.0, 150.0), (0.0, 20.0),  (50.0, 150.0), (30.0, 110.0)]),
    pattern(Family::WhiskedSponge, [(0.0, 20.0),   (80.0, 200.0), (0.0, 10.0),   (140.0, 220.0), (0.0, 30.0)]),
    pattern(Family::Melted,        [(25.0, 60.0),  (0.0, 80.0),   (25.0, 100.0), (0.0, 60.0),   (20.0, 80.0)]),
    pattern(Family::Muffin,        [(20.0, 60.0),  (0.0, 80.0),   (0.0, 20.0),   (10.0, 60.0),  (70.0, 120.0)]),
    pattern(Family::Scone,         [(12.0, 35.0),  (0.0, 30.0),   (0.0, 10.0),   (0.0, 25.0),   (45.0, 75.0)]),
    pattern(Family::Shortbread,    [(55.0, 85.0),  (20.0, 50.0),  (0.0, 5.0),    (0.0, 10.0),   (0.0, 5.0)]),
    pattern(Family::Crumble,       [(40.0, 60.0),  (35.0, 100.0), (0.0, 10.0),   (0.0, 0.0),    (0.0, 5.0)]),
    pattern(Family::Bread,         [(0.0, 15.0),   (0.0, 12.0),   (0.0, 5.0),    (0.0, 15.0),   (50.0, 75.0)]),
];

/// So many parts outside a pattern, all told, are as far off as a mixture may
/// be (chosen).
const FARTHEST: f64 = 25.0;

/// The family a mixture is nearest to; `None` if it is near to none. Yeast
/// makes it bread or nothing we know, and nothing but syrup tells a melted
/// mixture by its figures.
pub(super) fn nearest(mixture: &Mixture) -> Option<Family> {
    let p = mixture.parts;
    let parts = [p.fat, p.sugar, p.syrup, p.egg, p.liquid];
    let yeast = mixture.part_of(|name, role| role == Role::Raising && name.contains("yeast")) > 0.0;
    let off = |pattern: &Pattern| {
        let outside = |(part, (low, high)): (&f64, &(f64, f64))| {
            (low - part).max(part - high).max(0.0).powi(2)
        };
        parts.iter().zip(&pattern.parts).map(outside).sum::<f64>().sqrt()
    };
    let middle = |pattern: &Pattern| {
        let away = |(part, (low, high)): (&f64, &(f64, f64))| (part - 0.5 * (low + high)).powi(2);
        parts.iter().zip(&pattern.parts).map(away).sum::<f64>()
    };
    PATTERNS
        .iter()
        .filter(|pattern| (pattern.family == Family::Bread) == yeast)
        .filter(|pattern| pattern.family != Family::Melted || p.syrup > 0.0)
        .filter(|pattern| off(pattern) <= FARTHEST)
        .min_by(|a, b| off(a).total_cmp(&off(b)).then(middle(a).total_cmp(&middle(b))))
        .map(|pattern| pattern.family)
}
