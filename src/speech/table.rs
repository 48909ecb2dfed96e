//! The words that differ, and where each pair comes from.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::English;
use crate::words::plural;

/// Where a pair of words comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// Common practice of the trade: what food teachers and bakers there say.
    Trade,
    /// Common usage in schools there.
    Schools,
    /// The usual spelling there, as any dictionary has it.
    Spelling,
}

/// A word of this program and what it is elsewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Word {
    /// As the program is written, in small letters.
    pub british: &'static str,
    /// As it is said there.
    pub said: &'static str,
    /// Where the pair comes from.
    pub source: Source,
    /// The word said there is also a British one, of another sense or a wider
    /// one, so that it is no sign of the other English.
    pub also_british: bool,
}

use Source::{Schools, Spelling, Trade};

const fn word(british: &'static str, said: &'static str, source: Source) -> Word {
    Word { british, said, source, also_british: false }
}

/// Whose other word is British too.
const fn wide(british: &'static str, said: &'static str, source: Source) -> Word {
    Word { british, said, source, also_british: true }
}

/// Nouns, whose plurals are made as ever.
const AMERICAN_THINGS: &[Word] = &[
    wide("tin", "pan", Trade),
    word("sandwich tin", "layer pan", Trade),
    word("swiss roll tin", "jelly roll pan", Trade),
    word("bun tray", "cupcake pan", Trade),
    word("mini tray", "mini cupcake pan", Trade),
    word("muffin tray", "muffin pan", Trade),
    word("foil tray", "foil pan", Trade),
    word("foil cup", "foil baking cup", Trade),
    word("baking sheet", "cookie sheet", Trade),
    word("tray of holes", "pan of cups", Trade),
    word("rack place", "cooling rack place", Trade),
    word("shelf place", "rack space", Trade),
    word("hob ring", "burner", Trade),
    word("ring", "burner", Trade),
    word("hob", "cooktop", Trade),
    word("trolley", "cart", Trade),
    word("electric whisk", "hand mixer", Trade),
    word("traybake", "sheet cake", Trade),
    wide("bay", "station", Schools),
    wide("pupil", "student", Schools),
    wide("technician", "lab aide", Schools),
    wide("demo", "demonstration", Schools),
    wide("practical", "lab", Schools),
];

/// Words of one form, and verbs in each of theirs.
const AMERICAN_WORDS: &[Word] = &[
    wide("shelf", "rack", Trade),
    wide("shelves", "racks", Trade),
    wide("bell rings", "bell rings", Schools),
    wide("a double", "a double period", Schools),
    wide("proves or cools", "proofs or cools", Trade),
    wide("fold in, prove", "fold in, proof", Trade),
    wide("register", "attendance", Schools),
    word("plenary", "wrap-up", Schools),
    word("wash up", "wash dishes", Trade),
    wide("a fan", "a fan", Trade),
    wide("a fan oven", "a convection oven", Trade),
    wide("no fan", "no fan", Trade),
    wide("fan", "convection", Trade),
    word("bicarbonate of soda", "baking soda", Trade),
    word("bicarbonate", "baking soda", Trade),
    word("self-raising", "self-rising", Trade),
    word("plain flour", "all-purpose flour", Trade),
    word("strong white flour", "bread flour", Trade),
    word("caster sugar", "superfine sugar", Trade),
    wide("soft brown sugar", "light brown sugar", Trade),
    word("black treacle", "molasses", Trade),
    word("treacle", "molasses", Trade),
    word("block margarine", "stick margarine", Trade),
    word("soft baking spread", "soft tub margarine", Trade),
    wide("cooking apples", "baking apples", Trade),
    word("fast-action yeast", "instant yeast", Trade),
    word("porridge oats", "rolled oats", Trade),
    word("soya", "soy", Trade),
    word("sweetcorn", "corn", Trade),
    word("rubbing-in", "cutting-in", Trade),
    word("rub in", "cut in", Trade),
    word("whisked sponge", "foam sponge", Trade),
    wide("sieve", "sift", Trade),
    wide("sieves", "sifts", Trade),
    wide("sieved", "sifted", Trade),
    word("grey", "gray", Spelling),
    word("yoghurt", "yogurt", Spelling),
    word("labelled", "labeled", Spelling),
    word("standardised", "standardized", Spelling),
    word("sulphites", "sulfites", Spelling),
    word("sulphur", "sulfur", Spelling),
    word("molluscs", "mollusks", Spelling),
    word("centre", "center", Spelling),
];

const IRISH_THINGS: &[Word] =
    &[wide("pupil", "student", Schools), wide("bay", "work station", Schools)];

const IRISH_WORDS: &[Word] = &[
    wide("a double", "a double class", Schools),
    word("register", "roll call", Schools),
    word("bicarbonate of soda", "bread soda", Trade),
    word("bicarbonate", "bread soda", Trade),
    word("plain flour", "cream flour", Trade),
];

/// Words of the recipes that come with the program which mean something else
/// in its own sentences: a dough is proved and so is a sum, a period is single
/// and so is a tin.
const AMERICAN_RECIPES: &[Word] = &[
    wide("bun", "cupcake", Trade),
    wide("buns", "cupcakes", Trade),
    wide("biscuits", "cookies", Trade),
    wide("prove", "proof", Trade),
    wide("proves", "proofs", Trade),
    wide("proving", "proofing", Trade),
    wide("over-proved", "over-proofed", Trade),
    wide("the spread", "the margarine", Trade),
    wide("spread and sugar", "margarine and sugar", Trade),
    wide("soft spread", "soft margarine", Trade),
    wide("towel", "dish towel", Trade),
    wide("towels", "dish towels", Trade),
    wide("packets", "packages", Trade),
    wide("a single", "a single period", Schools),
];

const IRISH_RECIPES: &[Word] = &[wide("a single", "a single class", Schools)];

/// What words stand in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Text {
    /// A sentence of the program's.
    Sentence,
    /// A recipe, a room or a tin that comes with it.
    Library,
}

type Lists = [&'static [Word]; 3];

/// Things, words and words of recipes.
fn lists(english: English) -> Lists {
    match english {
        English::British => [&[], &[], &[]],
        English::Irish => [IRISH_THINGS, IRISH_WORDS, IRISH_RECIPES],
        English::American => [AMERICAN_THINGS, AMERICAN_WORDS, AMERICAN_RECIPES],
    }
}

/// The words of an English that differ, without their plurals.
pub fn words(english: English, of: Text) -> impl Iterator<Item = &'static Word> {
    let [things, words, recipes] = lists(english);
    let recipes = if of == Text::Library { recipes } else { &[] };
    things.iter().chain(words).chain(recipes)
}

/// British words and what is said for them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Row {
    pub from: String,
    pub to: String,
}

/// Rows by the first of their words, the longest first.
type Rows = HashMap<String, Vec<Row>>;

fn rows(english: English, of: Text) -> Option<&'static Rows> {
    static ROWS: [OnceLock<Rows>; 4] = [const { OnceLock::new() }; 4];
    let place = match english {
        English::British => return None,
        English::Irish => 0,
        English::American => 2,
    };
    let cell = ROWS.get(place + usize::from(of == Text::Library))?;
    Some(cell.get_or_init(|| made(english, of)))
}

fn made(english: English, of: Text) -> Rows {
    let row = |from: &str, to: &str| Row { from: from.to_owned(), to: to.to_owned() };
    let one = words(english, of).map(|w| row(w.british, w.said));
    let [things, ..] = lists(english);
    let many = things.iter().map(|w| row(&plural(2, w.british), &plural(2, w.said)));
    let all: Vec<Row> = one.chain(many).collect();
    // What is said already is not said again: "dish towel" holds "towel".
    let said = all.iter().filter(|r| r.to != r.from && r.to.contains(r.from.as_str()));
    let said: Vec<Row> = said.map(|r| row(&r.to, &r.to)).collect();
    let mut rows = Rows::new();
    for row in all.into_iter().chain(said) {
        let first = row.from.split(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
        rows.entry(first.to_owned()).or_default().push(row);
    }
    for list in rows.values_mut() {
        list.sort_by_key(|row| std::cmp::Reverse(row.from.len()));
    }
    rows
}

/// Rows that begin with a word, the longest first.
pub(super) fn beginning_with(
    english: English,
    of: Text,
    word: &str,
) -> impl Iterator<Item = &'static Row> {
    rows(english, of).and_then(|r| r.get(&word.to_ascii_lowercase())).into_iter().flatten()
}
