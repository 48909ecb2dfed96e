//! Orders: as JSON and text, and as a table of comma-separated values (RFC 4180).

use std::fmt::Write;

use serde::Serialize;

use super::table::harmless;
use crate::model::{Lesson, RecipeId};
use crate::speech::allergens::List;
use crate::stores::labels::{Stands, label, labels, needs, recipe_stands};
use crate::stores::{
    Cost, OrderLine, Stores, by_supplier, cost, is_bought, made_for, order as ordered, told,
};
use crate::view::words::list;

/// The heads of the table's columns.
pub const HEADS: [&str; 12] = [
    "supplier", "store", "what", "brand", "for", "needed", "spare", "in all", "packs", "pack",
    "price", "price of",
];

/// What is ordered for lessons.
#[derive(Debug, Clone, PartialEq)]
pub struct Order<'a> {
    lessons: Vec<&'a Lesson>,
    list: &'static List,
    /// What is bought or brought, by supplier.
    lines: Vec<OrderLine>,
    cost: Cost,
}

#[derive(Serialize)]
struct OrderJson<'a> {
    lines: Vec<LineJson<'a>>,
    cost: f64,
    not_counted: &'a [String],
    pupils: u32,
    allergens: Vec<AllergensJson>,
    matrix: Vec<MatrixJson<'a>>,
    needs: Vec<NeedJson<'a>>,
}

#[derive(Serialize)]
struct LineJson<'a> {
    what: &'a str,
    unit: &'static str,
    needed: f64,
    spare: f64,
    in_all: f64,
    from_home: bool,
    brand: Option<&'a str>,
    supplier: Option<&'a str>,
    store: Option<&'a str>,
    packs: Option<u32>,
    over: Option<f64>,
    price: Option<f64>,
    priced_on: Option<String>,
    r#for: Vec<String>,
}

#[derive(Serialize)]
struct AllergensJson {
    lesson: String,
    ingredient: String,
    named: Vec<String>,
    read_by: Option<String>,
    on: Option<String>,
    known: bool,
}

#[derive(Serialize)]
struct MatrixJson<'a> {
    lesson: &'a str,
    recipe: &'a str,
    allergen: &'static str,
    stands: &'static str,
}

#[derive(Serialize)]
struct NeedJson<'a> {
    lesson: &'a str,
    unit: &'a str,
    need: String,
    stands: Option<&'static str>,
    because: Vec<String>,
}

impl<'a> Order<'a> {
    /// The order for lessons with what each needs, against a law's allergens.
    pub fn of(lessons: &[(&'a Lesson, &Stores)], list: &'static List) -> Self {
        let packets: Vec<_> = lessons.iter().flat_map(|(l, _)| l.packets.clone()).collect();
        let lines: Vec<OrderLine> = ordered(lessons).into_iter().filter(is_bought).collect();
        let lines = by_supplier(lines, &packets);
        let cost = cost(&lines);
        Self { lessons: lessons.iter().map(|(lesson, _)| *lesson).collect(), list, lines, cost }
    }

    fn pupils(&self) -> u32 {
        let of =
            |lesson: &&Lesson| -> u32 { lesson.attending().map(|g| lesson.group(g).pupils).sum() };
        self.lessons.iter().map(of).sum()
    }

    /// The order as JSON.
    ///
    /// # Errors
    /// If the library refuses to write it.
    pub fn json(&self) -> Result<String, serde_json::Error> {
        let mut allergens = Vec::new();
        let mut matrix = Vec::new();
        let mut of_needs = Vec::new();
        for &lesson in &self.lessons {
            let mut made: Vec<RecipeId> =
                lesson.attending().map(|g| lesson.group(g).recipe).collect();
            made.sort_unstable();
            made.dedup();
            let mut seen: Vec<String> = Vec::new();
            for &id in &made {
                let recipe = &lesson.recipes[id.0];
                for ingredient in &recipe.ingredients {
                    if seen.contains(&ingredient.name) {
                        continue;
                    }
                    seen.push(ingredient.name.clone());
                    let label = label(lesson, ingredient);
                    allergens.push(AllergensJson {
                        lesson: lesson.title.clone(),
                        ingredient: label.ingredient,
                        named: label.named,
                        read_by: label.read_by,
                        on: label.read_on.map(|on| on.to_string()),
                        known: label.is_read,
                    });
                }
                let labels = labels(lesson, id);
                matrix.extend(self.list.allergens.iter().map(|allergen| MatrixJson {
                    lesson: &lesson.title,
                    recipe: &recipe.name,
                    allergen: allergen.name,
                    stands: recipe_stands(&labels, allergen).name(),
                }));
            }
            of_needs.extend(needs(lesson, self.list).into_iter().map(|need| NeedJson {
                lesson: &lesson.title,
                unit: &lesson.group(need.group).name,
                need: need.need,
                stands: need.stands.map(Stands::name),
                because: need.because,
            }));
        }
        serde_json::to_string_pretty(&OrderJson {
            lines: self.lines.iter().map(|line| self.line(line)).collect(),
            cost: self.cost.counted,
            not_counted: &self.cost.not_counted,
            pupils: self.pupils(),
            allergens,
            matrix,
            needs: of_needs,
        })
    }

    fn line<'l>(&self, line: &'l OrderLine) -> LineJson<'l> {
        let (packet, packs) = (line.packet.as_ref(), line.packs());
        let said = |text: &'l str| (!text.trim().is_empty()).then(|| text.trim());
        let price = packs.and_then(|packs| packs.cost);
        LineJson {
            what: &line.name,
            unit: told::unit(line.measure),
            needed: line.needed,
            spare: line.spare,
            in_all: line.total(),
            from_home: line.comes_from_home(),
            brand: packet.and_then(|p| said(&p.brand)),
            supplier: packet.and_then(|p| said(&p.supplier)),
            store: packet.and_then(|p| said(&p.store)),
            packs: packs.map(|packs| packs.count),
            over: packs.map(|packs| packs.over),
            price: price.map(|price| price.each),
            priced_on: price.and_then(|price| price.on).map(|on| on.to_string()),
            r#for: made_for(line, &self.lessons),
        }
    }

    /// The order as a table for spreadsheets.
    ///
    /// # Errors
    /// If a line cannot be written.
    pub fn table(&self) -> csv::Result<Vec<u8>> {
        let mut writer =
            csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        writer.write_record(HEADS)?;
        for line in &self.lines {
            let of = self.line(line);
            let holds = line.packet.as_ref().and_then(|p| p.holds);
            let optional = |text: Option<&str>| text.unwrap_or_default().to_owned();
            let cells = [
                optional(of.supplier),
                optional(of.store),
                line.name.clone(),
                optional(of.brand),
                list(&of.r#for),
                told::measured(line.measure, line.needed),
                told::measured(line.measure, line.spare),
                told::in_all_of(line.measure, line.total()),
                of.packs.map_or(String::new(), |packs| packs.to_string()),
                holds.map_or(String::new(), |(holds, measure)| told::measured(measure, holds)),
                of.price.map_or(String::new(), |price| format!("{price:.2}")),
                of.priced_on.unwrap_or_default(),
            ];
            writer.write_record(cells.iter().map(|cell| harmless(cell)))?;
        }
        writer.into_inner().map_err(|fault| fault.into_error().into())
    }

    /// The order for people: a line for each ingredient, what it costs, needs
    /// against labels, and what nobody has read.
    pub fn text(&self) -> String {
        let mut text = String::new();
        for line in &self.lines {
            let of = self.line(line);
            let _ = write!(text, "{}: ", line.name);
            text.push_str(&told::in_all_of(line.measure, line.total()));
            if line.spare > 0.0 {
                let _ = write!(text, ", {} of it spare", told::measured(line.measure, line.spare));
            }
            if of.from_home {
                text.push_str("; pupils bring it");
            } else if let Some(packs) = of.packs {
                let _ = write!(text, "; {packs} {}", if packs == 1 { "pack" } else { "packs" });
            }
            if let Some(supplier) = of.supplier {
                let _ = write!(text, "; {supplier}");
            }
            if let Some(price) = of.price {
                let _ = write!(text, "; {price:.2}");
            }
            text.push('\n');
        }
        if self.cost.counted > 0.0 {
            let _ = writeln!(text, "\nWhole packs cost {:.2}.", self.cost.counted);
        }
        for &lesson in &self.lessons {
            for need in needs(lesson, self.list) {
                let group = lesson.group(need.group);
                let recipe = &lesson.recipe_of(need.group).name;
                let (name, told) = (&group.name, need.told());
                let _ = writeln!(text, "{name}, {}, makes {recipe}: {told}.", need.need);
            }
        }
        text.push_str(
            "\nA label that does not name something is no proof that none of it is there: read every \
             label, every time. The school's policy comes first.",
        );
        text
    }
}

/// Whether a text is a table of an order that was made here.
pub fn is_ours(text: &str) -> bool {
    text.trim_start_matches('\u{feff}').lines().next() == Some(&HEADS.join(","))
}
