//! What is ordered for lessons: every ingredient once, whatever recipes and
//! lessons it is for, in packets where they are known.

use super::{MadeFor, RecipeStores, Stores};
use crate::model::{Brought, Ingredient, Lesson, Measure, Packet, Price, RecipeId, Role};

/// An ingredient to be ordered. Its total is what is needed and what is spare.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderLine {
    /// Its name.
    pub name: String,
    /// Where it stands in a store: of the first recipe that has it.
    pub role: Role,
    /// What it is counted in.
    pub measure: Measure,
    /// What groups need.
    pub needed: f64,
    /// Demo and spare sets.
    pub spare: f64,
    /// What it is for: lessons by their place in the list, with their recipes.
    pub made: Vec<(usize, RecipeId)>,
    /// How it is bought, of the first lesson that says.
    pub packet: Option<Packet>,
}

/// Whole packets of an ingredient.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Packs {
    /// How many.
    pub count: u32,
    /// What is left over of them, in the line's measure.
    pub over: f64,
    /// What they cost, if there is a price.
    pub cost: Option<Price>,
}

impl OrderLine {
    /// Whether an ingredient is in it: of that name, counted in what it is counted in.
    /// Capitals make no other of it, nor for eggs whether one is named or several.
    pub fn is_of(&self, ingredient: &Ingredient) -> bool {
        let (own, other) = (self.name.trim().to_lowercase(), ingredient.name.trim().to_lowercase());
        let unit = base(self.measure).0;
        let singular = |name: &str| name.strip_suffix('s').unwrap_or(name).to_owned();
        let is_same = own == other || unit == Measure::Egg && singular(&own) == singular(&other);
        is_same && unit == base(ingredient.measure).0
    }

    /// All of it.
    pub fn total(&self) -> f64 {
        self.needed + self.spare
    }

    /// Whether pupils bring it, so that the school does not buy it.
    pub fn comes_from_home(&self) -> bool {
        self.packet.as_ref().is_some_and(|packet| packet.brought == Brought::FromHome)
    }

    /// The packets that are enough, if it is known what one holds in a measure that
    /// this one can be added up with.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // `as` keeps to the range
    pub fn packs(&self) -> Option<Packs> {
        let packet = self.packet.as_ref()?;
        let (holds, measure) = packet.holds?;
        let ((unit, own), (other, of_packet)) = (base(self.measure), base(measure));
        if unit != other {
            return None;
        }
        let each = holds * of_packet / own;
        // Forgives binary dust: 3 packets of 0.1 kg are 0.3 kg.
        let count = (self.total() / each - 1e-9).ceil().max(0.0) as u32;
        let price = packet.price.map(|p| Price { each: p.each * f64::from(count), on: p.on });
        Some(Packs { count, over: (f64::from(count) * each - self.total()).max(0.0), cost: price })
    }
}

/// What an order costs, as far as that is known.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cost {
    /// Sum of all lines whose price has its day.
    pub counted: f64,
    /// Names of lines that are not in it: no packet, no price, or no day of it.
    pub not_counted: Vec<String>,
}

/// Adds up what lines cost. What comes from home costs the school nothing.
pub fn cost(lines: &[OrderLine]) -> Cost {
    let mut cost = Cost::default();
    for line in lines.iter().filter(|line| !line.comes_from_home()) {
        match line.packs().and_then(|packs| packs.cost) {
            Some(Price { each, on: Some(_) }) => cost.counted += each,
            _ => cost.not_counted.push(line.name.clone()),
        }
    }
    cost
}

/// What a line is for: its recipes; of several lessons each with the classes that make
/// it, or the lessons where classes do not tell these apart.
pub fn made_for(line: &OrderLine, lessons: &[&Lesson]) -> Vec<String> {
    let mut all: Vec<(&str, Vec<String>)> = Vec::new();
    let class_of = |lesson: &&Lesson| lesson.class.name.trim().to_owned();
    let are_one_class = lessons.windows(2).all(|pair| class_of(&pair[0]) == class_of(&pair[1]));
    for &(at, recipe) in &line.made {
        let lesson = lessons[at];
        let whose = match class_of(&lesson) {
            class if class.is_empty() || are_one_class => lesson.title.trim().to_owned(),
            class => class,
        };
        let name = lesson.recipes[recipe.0].name.as_str();
        match all.iter_mut().find(|(of, _)| *of == name) {
            Some((_, classes)) if classes.contains(&whose) => {}
            Some((_, classes)) => classes.push(whose),
            None => all.push((name, vec![whose])),
        }
    }
    let told = |(name, classes): (&str, Vec<String>)| match lessons.len() {
        1 => name.to_owned(),
        _ => format!("{name} ({})", classes.join(", ")),
    };
    all.into_iter().map(told).collect()
}

/// What is not bought: water comes from the tap.
pub fn is_bought(line: &OrderLine) -> bool {
    line.name.to_lowercase() != "water"
}

/// Lines by supplier, and of one supplier as packets stand in the lesson, which is
/// the user's own order; those nobody sells come last, in the order they had.
pub fn by_supplier(mut lines: Vec<OrderLine>, packets: &[Packet]) -> Vec<OrderLine> {
    let supplier = |packet: &Packet| packet.supplier.trim().to_lowercase();
    let place = |line: &OrderLine| {
        let packet = line.packet.as_ref()?;
        let own = packets.iter().position(|p| p.is_of(&packet.of))?;
        let first = packets.iter().position(|p| supplier(p) == supplier(packet))?;
        (!packet.supplier.trim().is_empty()).then_some((first, own))
    };
    lines.sort_by_key(|line| place(line).map_or((1, 0, 0), |(first, own)| (0, first, own)));
    lines
}

/// All that lessons need, in the order in which it is first needed. What is one
/// ingredient is said by [`OrderLine::is_of`]; one that is weighed here and measured
/// there has a line for each.
pub fn order(lessons: &[(&Lesson, &Stores)]) -> Vec<OrderLine> {
    let mut lines: Vec<OrderLine> = Vec::new();
    for (at, (lesson, stores)) in lessons.iter().enumerate() {
        for of in &stores.recipes {
            let ingredients = &lesson.recipes[of.recipe.0].ingredients;
            for amount in &of.amounts {
                let ingredient = &ingredients[amount.ingredient];
                let spare = spare(of, &amount.each);
                let (needed, made) = (amount.total - spare, (at, of.recipe));
                let line = add(&mut lines, ingredient, (needed, spare), made);
                if line.packet.is_none() {
                    let packet = lesson.packets.iter().find(|p| p.is_of(&ingredient.name));
                    line.packet = packet.cloned();
                }
            }
        }
    }
    lines
}

/// What of an ingredient is for demo and spare sets.
fn spare(of: &RecipeStores, each: &[f64]) -> f64 {
    let beside = |made_for| matches!(made_for, MadeFor::Demo | MadeFor::Spare);
    let sets = of.sets.iter().zip(each).filter(|(set, _)| beside(set.made_for));
    sets.map(|(set, each)| each * f64::from(set.count)).sum()
}

fn add<'l>(
    lines: &'l mut Vec<OrderLine>,
    ingredient: &Ingredient,
    (needed, spare): (f64, f64),
    made: (usize, RecipeId),
) -> &'l mut OrderLine {
    let at = lines.iter().position(|line| line.is_of(ingredient)).unwrap_or_else(|| {
        lines.push(OrderLine {
            name: ingredient.name.trim().to_owned(),
            role: ingredient.role,
            measure: ingredient.measure,
            needed: 0.0,
            spare: 0.0,
            made: Vec::new(),
            packet: None,
        });
        lines.len() - 1
    });
    let line = &mut lines[at];
    let (mut needed, mut spare) = (needed, spare);
    if line.measure != ingredient.measure {
        let (unit, own) = base(line.measure);
        let (_, other) = base(ingredient.measure);
        line.measure = unit;
        (line.needed, line.spare) = (line.needed * own, line.spare * own);
        (needed, spare) = (needed * other, spare * other);
    }
    line.needed += needed;
    line.spare += spare;
    if !line.made.contains(&made) {
        line.made.push(made);
    }
    line
}

/// What amounts in a measure can be added up in, and how many of it one is.
fn base(measure: Measure) -> (Measure, f64) {
    match measure {
        Measure::Egg => (Measure::Egg, 1.0),
        _ => match measure.one() {
            crate::model::Amount::Grams(one) => (Measure::Gram, one),
            crate::model::Amount::Millilitres(one) => (Measure::Millilitre, one),
        },
    }
}
