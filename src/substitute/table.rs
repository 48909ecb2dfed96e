//! The table of what may stand in for what. Figures are common practice of the trade,
//! from memory, where a row names no other source.

use super::Job;
use crate::file::format::{MeasureShape, RoleShape};
use crate::setup::balance::Family;

/// What goes in instead of an ingredient.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Goes {
    /// The same, this part of it.
    LessOfIt(f64),
    /// Something else.
    In {
        /// Its name.
        name: &'static str,
        /// What it counts as.
        role: RoleShape,
        /// Grams, or millilitres, to a gram of what it stands in for.
        each: f64,
        /// What it is measured in: grams or millilitres.
        unit: MeasureShape,
    },
}

/// A row of the table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swap {
    /// Words, small, one of which the ingredient's name has in it.
    of: &'static [&'static str],
    /// Words none of which it may have in it: they make another thing of it.
    not_of: &'static [&'static str],
    /// Mixtures it is good for; all if empty.
    only_in: &'static [Family],
    /// Mixtures it is no good for.
    not_in: &'static [Family],
    /// What goes in.
    pub goes_in: &'static [Goes],
    /// What the ingredient did and this does not, or hardly.
    pub no_longer: &'static [Job],
    /// What else changes, as the end of a sentence.
    pub changes: &'static str,
    /// Minutes more that somebody or something takes, from and to, and for what.
    pub minutes: Option<(f64, f64, &'static str)>,
    /// Where its figures come from.
    pub source: &'static str,
}

/// Common practice of the trade, from memory.
const TRADE: &str = "common practice of the trade, from memory";
/// The same, and the table of foods that comes with the program.
const FAT: &str = "fat of butter by CoFID 2015, 82 g in 100 g; else common practice of the trade, \
                   from memory";

const fn goes(name: &'static str, role: RoleShape, each: f64) -> Goes {
    Goes::In { name, role, each, unit: MeasureShape::Gram }
}

const fn pours(name: &'static str, each: f64) -> Goes {
    Goes::In { name, role: RoleShape::Liquid, each, unit: MeasureShape::Millilitre }
}

/// A row with nothing said that need not be.
const PLAIN: Swap = Swap {
    of: &[],
    not_of: &[],
    only_in: &[],
    not_in: &[],
    goes_in: &[],
    no_longer: &[],
    changes: "",
    minutes: None,
    source: TRADE,
};

const NO_EGGS: &[&str] = &["white", "yolk", "wash", "replacer", "noodle", "without", "free"];
const NO_MILK: &[&str] = &[
    "powder",
    "soya",
    "soy",
    "oat",
    "almond",
    "coconut",
    "rice",
    "plant",
    "buttermilk",
    "condensed",
    "evaporated",
    "chocolate",
    "without",
    "free",
];
const NO_BUTTER: &[&str] = &["milk", "peanut", "nut", "bean", "cocoa", "dairy", "without", "free"];
const BLOCK: &[&str] = &["butter", "block margarine", "hard margarine"];
const WHEAT: &[&str] =
    &["plain flour", "self-raising flour", "self-rising flour", "strong white flour"];

/// All rows, those of one ingredient together, the nearest first.
pub const TABLE: &[Swap] = &[
    Swap {
        of: &["egg"],
        not_of: NO_EGGS,
        not_in: &[Family::WhiskedSponge],
        // To an egg of 50 g a tablespoon of ground flax, 7 g, and three of water.
        goes_in: &[goes("ground flax", RoleShape::Other, 0.14), pours("water", 0.9)],
        no_longer: &[Job::Sets, Job::HoldsAir, Job::Browns],
        changes: "a closer crumb that rises less",
        minutes: Some((5.0, 10.0, "the flax stands in its water until it thickens")),
        ..PLAIN
    },
    Swap {
        of: &["egg"],
        not_of: NO_EGGS,
        not_in: &[Family::WhiskedSponge],
        goes_in: &[goes("plain yoghurt", RoleShape::Liquid, 1.0)],
        no_longer: &[Job::Sets, Job::HoldsAir],
        changes: "a moist crumb that rises less; it is sour, and sets bicarbonate going",
        ..PLAIN
    },
    Swap {
        of: &["egg"],
        not_of: NO_EGGS,
        not_in: &[Family::WhiskedSponge],
        goes_in: &[goes("apple purée", RoleShape::Liquid, 1.0)],
        no_longer: &[Job::Sets, Job::HoldsAir, Job::Browns],
        changes: "a moist, close and sweeter crumb that rises less",
        minutes: Some((2.0, 5.0, "it bakes so much longer; go by the done test")),
        ..PLAIN
    },
    Swap {
        of: &["milk"],
        not_of: NO_MILK,
        goes_in: &[pours("plant drink", 1.0)],
        changes: "it browns less where the drink has little sugar",
        ..PLAIN
    },
    Swap {
        of: &["milk"],
        not_of: NO_MILK,
        goes_in: &[pours("water", 1.0)],
        no_longer: &[Job::Browns],
        changes: "a paler bake that is less tender and dries sooner",
        ..PLAIN
    },
    Swap {
        of: &["buttermilk"],
        goes_in: &[pours("milk", 0.94), pours("lemon juice", 0.06)],
        changes: "as sour, and thinner",
        minutes: Some((5.0, 10.0, "the milk stands with the juice until it thickens")),
        ..PLAIN
    },
    Swap {
        of: BLOCK,
        not_of: NO_BUTTER,
        goes_in: &[goes("plant-based baking block", RoleShape::Fat, 1.0)],
        no_longer: &[Job::Flavours],
        changes: "one of 75 % fat or more: a low-fat spread holds too much water",
        ..PLAIN
    },
    Swap {
        of: BLOCK,
        not_of: NO_BUTTER,
        only_in: &[Family::LowSugarCake, Family::RichCake],
        goes_in: &[goes("soft baking spread", RoleShape::Fat, 1.0)],
        no_longer: &[Job::Flavours],
        changes: "it creams at once, straight from the fridge",
        ..PLAIN
    },
    Swap {
        of: BLOCK,
        not_of: NO_BUTTER,
        only_in: &[Family::Melted, Family::Muffin],
        goes_in: &[goes("sunflower oil", RoleShape::Fat, 0.82), pours("water", 0.16)],
        no_longer: &[Job::HoldsAir, Job::Flavours],
        changes: "nothing to melt; a moister, plainer crumb",
        source: FAT,
        ..PLAIN
    },
    Swap {
        of: &["soft baking spread", "soft spread", "soft margarine"],
        not_of: &["dairy", "plant", "without", "free"],
        goes_in: &[goes("butter", RoleShape::Fat, 1.0)],
        changes: "a fuller taste; beaten from the fridge it stays in lumps",
        minutes: Some((30.0, 60.0, "the butter stands in the warm before it is beaten")),
        ..PLAIN
    },
    Swap {
        of: &["self-raising flour", "self raising flour", "self-rising flour"],
        not_of: &["gluten", "wholemeal", "without"],
        goes_in: &[
            goes("plain flour", RoleShape::Flour, 0.95),
            goes("baking powder", RoleShape::Raising, 0.05),
        ],
        changes: "nothing, if they are sieved together",
        ..PLAIN
    },
    Swap {
        of: WHEAT,
        not_of: &["gluten", "wholemeal", "without"],
        not_in: &[Family::WhiskedSponge],
        goes_in: &[Goes::LessOfIt(0.5), goes("wholemeal flour", RoleShape::Flour, 0.5)],
        changes: "a closer, darker crumb; it takes up about a tenth more liquid",
        ..PLAIN
    },
    Swap {
        of: WHEAT,
        not_of: &["gluten", "wholemeal", "without"],
        not_in: &[Family::Bread],
        // Half a gram of gum to 100 g, if the blend has none.
        goes_in: &[
            goes("flour blend without gluten", RoleShape::Flour, 1.0),
            goes("xanthan gum", RoleShape::Other, 0.005),
        ],
        no_longer: &[Job::Raises],
        changes: "a shorter, drier crumb; no gum where the blend has it, and raising agents as its \
                  packet says",
        minutes: Some((2.0, 2.0, "the mixture rests before it is filled: its starch drinks")),
        ..PLAIN
    },
    Swap {
        of: &["caster sugar", "granulated sugar"],
        not_in: &[Family::WhiskedSponge, Family::Shortbread, Family::Bread],
        goes_in: &[Goes::LessOfIt(0.75)],
        changes: "up to a quarter less does: paler, less moist, dry sooner",
        ..PLAIN
    },
    Swap {
        of: &["caster sugar"],
        goes_in: &[goes("granulated sugar", RoleShape::Sugar, 1.0)],
        changes: "it dissolves more slowly, and the top is coarser",
        minutes: Some((1.0, 3.0, "creaming or whisking takes so much longer")),
        ..PLAIN
    },
    Swap {
        of: &["caster sugar", "granulated sugar"],
        not_in: &[Family::WhiskedSponge],
        goes_in: &[goes("soft light brown sugar", RoleShape::Sugar, 1.0)],
        changes: "moister and darker, tasting of toffee; it looks done before it is",
        ..PLAIN
    },
    Swap {
        of: &["golden syrup"],
        goes_in: &[goes("honey", RoleShape::Syrup, 1.0)],
        changes: "it browns sooner, and tastes of its flowers",
        ..PLAIN
    },
    Swap {
        of: &["treacle"],
        goes_in: &[goes("golden syrup", RoleShape::Syrup, 1.0)],
        changes: "milder and paler; treacle is sour, syrup is not: bicarbonate then wants acid",
        ..PLAIN
    },
    Swap {
        of: &["baking powder"],
        not_of: &["without", "gluten"],
        goes_in: &[
            goes("bicarbonate of soda", RoleShape::Raising, 0.33),
            goes("cream of tartar", RoleShape::Raising, 0.67),
        ],
        changes: "it works as soon as it is wet: fill and bake at once",
        ..PLAIN
    },
    Swap {
        of: &["fast-action yeast", "fast action yeast", "instant yeast"],
        goes_in: &[goes("fresh yeast", RoleShape::Raising, 2.0)],
        changes: "the same rise, if it is fresh",
        minutes: Some((1.0, 2.0, "it is stirred into the warm liquid first")),
        ..PLAIN
    },
    Swap {
        of: &["walnuts", "hazelnuts", "pecans", "almonds", "chopped nuts", "mixed nuts"],
        not_of: &["ground"],
        goes_in: &[goes("sunflower seeds", RoleShape::Other, 1.0)],
        changes: "the bite stays, the taste does not",
        ..PLAIN
    },
    Swap {
        of: &["sultanas", "raisins", "currants"],
        not_of: &["black", "red"],
        goes_in: &[goes("chopped dried apricots", RoleShape::Other, 1.0)],
        changes: "softer and sourer; dried apricots often hold sulphites",
        ..PLAIN
    },
    Swap {
        of: &["lemon zest"],
        goes_in: &[goes("orange zest", RoleShape::Other, 1.0)],
        changes: "milder",
        ..PLAIN
    },
];

impl Swap {
    /// Whether it stands in for an ingredient of that name, whatever its capitals.
    pub fn is_of(&self, name: &str) -> bool {
        let name = name.to_lowercase();
        let has = |words: &[&str]| words.iter().any(|word| name.contains(word));
        has(self.of) && !has(self.not_of)
    }

    /// Whether it is good for such a mixture. Where nobody knows what it is, only what
    /// is good for all is.
    pub fn is_for(&self, family: Option<Family>) -> bool {
        match family {
            Some(family) => {
                (self.only_in.is_empty() || self.only_in.contains(&family))
                    && !self.not_in.contains(&family)
            }
            None => self.only_in.is_empty() && self.not_in.is_empty(),
        }
    }
}
