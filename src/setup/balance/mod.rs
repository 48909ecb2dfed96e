//! Baker's percentages of a mixture, and how its balance stands by the rules
//! of the trade, in words. Nothing is forbidden: a mixture no rule covers is
//! as good a mixture, and is told so.

mod families;
mod raising;
mod rules;

use crate::file::format::IngredientShape;
use crate::model::{Balance, EggSize, Measure, Role, egg_grams};

/// Where the rules come from, to be told beside them.
pub const SOURCE: &str = "common practice of the trade, from memory";

/// No ingredient of one batch weighs more than this, in grams.
const HEAVIEST: f64 = 100_000.0;

/// What one ingredient comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Its weight in grams; `None` if its amount is none.
    pub grams: Option<f64>,
    /// Parts by weight to 100 of flour; `None` without flour.
    pub percent: Option<f64>,
}

/// What a mixture may be near to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Family {
    /// Creamed or all-in-one, no more sugar than flour.
    LowSugarCake,
    /// More sugar than flour.
    RichCake,
    /// Eggs and sugar whisked, hardly any fat.
    WhiskedSponge,
    /// Fat, sugar and syrup melted.
    Melted,
    /// Two bowls, barely mixed.
    Muffin,
    /// Rubbed in, soft.
    Scone,
    /// Rubbed in, without liquid.
    Shortbread,
    /// A topping, rubbed in.
    Crumble,
    /// Raised by yeast.
    Bread,
}

impl Family {
    /// With its article: "a low-sugar cake".
    pub fn words(self) -> &'static str {
        match self {
            Family::LowSugarCake => "a low-sugar cake",
            Family::RichCake => "a rich cake",
            Family::WhiskedSponge => "a whisked sponge",
            Family::Melted => "a melted mixture",
            Family::Muffin => "a muffin mixture",
            Family::Scone => "a scone dough",
            Family::Shortbread => "a shortbread",
            Family::Crumble => "a crumble",
            Family::Bread => "a bread dough",
        }
    }
}

/// How a figure stands to what is usual.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HowUsual {
    /// As the trade has it.
    Usual,
    /// Not so; it may be meant.
    Unusual,
    /// Good to know.
    Note,
}

/// A rule with its figures, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RuleTold {
    /// How the figure stands.
    pub standing: HowUsual,
    /// In words: "sugar 120 to flour 100: more sugar than flour; …".
    pub words: String,
}

impl RuleTold {
    fn usual(words: String) -> Self {
        Self { standing: HowUsual::Usual, words }
    }

    fn unusual(words: String) -> Self {
        Self { standing: HowUsual::Unusual, words }
    }

    fn note(words: String) -> Self {
        Self { standing: HowUsual::Note, words }
    }
}

/// A mixture weighed up.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// Of each ingredient, in the same order.
    pub rows: Vec<Row>,
    /// Baker's percentages by what ingredients do; `None` without flour.
    pub parts: Option<Balance>,
    /// What it is nearest to; `None` if no rule covers it.
    pub family: Option<Family>,
    /// The verdict in a sentence.
    pub sentence: String,
    /// The rules of its family, each with its figures.
    pub rules: Vec<RuleTold>,
}

/// Weighs up the ingredients of one batch, its eggs of that size or as school
/// recipes are written where none is given. A volume weighs what water does,
/// as everywhere in a lesson.
pub fn weigh(ingredients: &[IngredientShape], eggs: Option<EggSize>) -> Weighed {
    let grams: Vec<Option<f64>> = ingredients.iter().map(|i| grams(i, eggs)).collect();
    let mixture = Mixture::new(ingredients, &grams);
    // Hardly any flour makes shares that no figure holds.
    let share = |g: f64| 100.0 * g / mixture.flour;
    let percent = |g: f64| Some(share(g)).filter(|s| mixture.flour > 0.0 && s.is_finite());
    let rows: Vec<Row> =
        grams.iter().map(|&grams| Row { grams, percent: grams.and_then(percent) }).collect();
    let mut rules: Vec<RuleTold> = ingredients
        .iter()
        .zip(&grams)
        .filter(|(_, grams)| grams.is_none())
        .map(|(i, _)| RuleTold::note(format!("{} has no amount yet: not counted", named(i))))
        .collect();
    let (parts, family, sentence) = if mixture.flour > 0.0 {
        let family = families::nearest(&mixture);
        if let Some(family) = family {
            rules.extend(rules::of(family, &mixture));
        }
        rules.extend(raising::of(family, &mixture));
        (Some(mixture.parts), family, verdict(family, &mixture, &rules))
    } else {
        (None, None, without_flour(ingredients))
    };
    Weighed { rows, parts, family, sentence, rules }
}

/// What an ingredient weighs; `None` if its amount is none.
fn grams(ingredient: &IngredientShape, eggs: Option<EggSize>) -> Option<f64> {
    let measure = ingredient.unit.map_or(Measure::Gram, Measure::from);
    let grams = match measure {
        Measure::Egg => ingredient.amount * egg_grams(eggs),
        _ => measure.grams(ingredient.amount),
    };
    (grams > 0.0 && grams <= HEAVIEST).then_some(grams)
}

fn named(ingredient: &IngredientShape) -> String {
    match ingredient.name.trim() {
        "" => "an ingredient without a name".to_owned(),
        name => crate::finding::shortened(name, 60),
    }
}

/// The ingredients that count, and their sums.
struct Mixture {
    /// Grams of all flour.
    flour: f64,
    /// To 100 of flour; of no use without flour.
    parts: Balance,
    /// Of those that have an amount: name in small letters, grams, role.
    has: Vec<(String, f64, Role)>,
}

impl Mixture {
    fn new(ingredients: &[IngredientShape], grams: &[Option<f64>]) -> Self {
        let with_grams = |(i, g): (&IngredientShape, &Option<f64>)| {
            let role = i.role.map_or(Role::Other, Role::from);
            g.map(|g| (i.name.to_lowercase(), g, role))
        };
        let has: Vec<(String, f64, Role)> =
            ingredients.iter().zip(grams).filter_map(with_grams).collect();
        let sum = |role| has.iter().filter(|(_, _, r)| *r == role).map(|(_, g, _)| g).sum::<f64>();
        let flour = sum(Role::Flour);
        // Rounded, so that no binary dust makes 100 more than 100.
        let to_flour = |grams: f64| (1e8 * grams / flour).round() / 1e6;
        let part = |role| if flour > 0.0 { to_flour(sum(role)) } else { 0.0 };
        let parts = Balance {
            fat: part(Role::Fat),
            sugar: part(Role::Sugar),
            syrup: part(Role::Syrup),
            egg: part(Role::Egg),
            liquid: part(Role::Liquid),
            raising: part(Role::Raising),
        };
        Self { flour, parts, has }
    }

    /// Parts to 100 of flour of all that are so named.
    fn part_of(&self, is_it: impl Fn(&str, Role) -> bool) -> f64 {
        100.0 * self.grams_of(is_it) / self.flour
    }

    /// Grams of all that are so named.
    fn grams_of(&self, is_it: impl Fn(&str, Role) -> bool) -> f64 {
        self.has.iter().filter(|(name, _, role)| is_it(name, *role)).map(|(_, g, _)| g).sum()
    }

    /// Whether its flour is said to be without gluten, in part at least.
    fn gluten_free(&self) -> bool {
        self.part_of(|name, role| {
            role == Role::Flour && (name.contains("gluten-free") || name.contains("gluten free"))
        }) > 0.0
    }
}

fn verdict(family: Option<Family>, mixture: &Mixture, rules: &[RuleTold]) -> String {
    let Some(family) = family else {
        let p = mixture.parts;
        let all = [
            ("fat", p.fat),
            ("sugar", p.sugar),
            ("syrup", p.syrup),
            ("egg", p.egg),
            ("liquid", p.liquid),
        ];
        let there: Vec<String> = all
            .into_iter()
            .filter(|(_, part)| *part > 0.0)
            .map(|(what, part)| format!("{what} {}", figure(part)))
            .collect();
        let parts =
            if there.is_empty() { "nothing".to_owned() } else { crate::words::list(&there) };
        return format!("No rule of ours covers this mixture: {parts} to flour 100.");
    };
    match rules.iter().filter(|r| r.standing == HowUsual::Unusual).count() {
        0 => format!("In balance, as {} goes.", family.words()),
        1 => format!("Nearest to {}, with one figure that is not usual.", family.words()),
        n => {
            let n = crate::words::number(n);
            format!("Nearest to {}, with {n} figures that are not usual.", family.words())
        }
    }
}

fn without_flour(ingredients: &[IngredientShape]) -> String {
    if ingredients.is_empty() {
        return "Enter the flour first: all else is told as its share of that weight.".to_owned();
    }
    "No percentages: no ingredient with an amount is marked as flour, which is their 100. No \
     rule of ours covers this mixture."
        .to_owned()
}

/// A percentage as a recipe writes it: 12.5, 63, 100.
pub fn figure(part: f64) -> String {
    // Nothing at all sums up to -0.
    let tenth = (10.0 * part).round() / 10.0 + 0.0;
    if tenth < 20.0 { crate::units::plain_number(tenth) } else { format!("{:.0}", part.round()) }
}
