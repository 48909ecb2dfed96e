//! Packets of ingredients, once recipes are known.

use std::collections::HashSet;

use super::Builder;
use super::findings::{Findings, quoted};
use super::names::check_name;
use crate::file::format::PacketShape;
use crate::finding::Path;
use crate::model::{Brought, Label, Measure, Packet, Price};

/// More than a store of a school has.
const MOST_PACKETS: usize = 500;
/// The allergens of any law are fewer.
const MOST_ALLERGENS: usize = 40;

impl Builder<'_> {
    pub(super) fn packets(&mut self) {
        let list = Path::root().field("packets");
        if !self.findings.length(&list, "packets", self.file.packets.len(), MOST_PACKETS) {
            return;
        }
        let ingredients = self.file.recipes.iter().flat_map(|r| &r.ingredients);
        let known: HashSet<String> = ingredients.map(|i| folded(&i.name)).collect();
        let mut seen = HashSet::new();
        for (i, shape) in self.file.packets.iter().enumerate() {
            let path = list.index(i);
            let f = &mut self.findings;
            check_name(f, &path.field("of"), "ingredient", &shape.of);
            if !seen.insert(folded(&shape.of)) {
                let message = format!("{} has a packet already", quoted(&shape.of));
                let hint = "one ingredient has one packet: where two brands are used, give the \
                            ingredients two names";
                f.error("packet-twice", &path.field("of"), message, hint);
            }
            if !known.contains(&folded(&shape.of)) {
                let message = format!("no recipe has the ingredient {}", quoted(&shape.of));
                let hint = "write it as in the recipe, or leave the packet out";
                f.warning("packet-of-nothing", &path.field("of"), message, hint);
            }
            self.parts.packets.push(packet(f, &path, shape));
        }
    }
}

fn folded(name: &str) -> String {
    name.trim().to_lowercase()
}

fn packet(f: &mut Findings, path: &Path, shape: &PacketShape) -> Packet {
    for (field, words) in [
        ("brand", &shape.brand),
        ("supplier", &shape.supplier),
        ("store", &shape.store),
        ("read_by", &shape.read_by),
    ] {
        if !words.is_empty() {
            check_name(f, &path.field(field), field, words);
        }
    }
    let measure = shape.unit.map_or(Measure::Gram, Measure::from);
    let holds = shape.holds.and_then(|holds| {
        f.range(&path.field("holds"), "what a packet holds", holds, (0.01, 100_000.0))
    });
    let price = shape.price.and_then(|price| {
        let each = f.range(&path.field("price"), "the price", price, (0.0, 100_000.0))?;
        let on = shape.priced_on.as_ref().and_then(|on| f.day(&path.field("priced_on"), on));
        if shape.priced_on.is_none() {
            let message = format!("the price of {} has no day", quoted(&shape.of));
            let hint = "say as of when, `priced_on: \"2026-11-02\"`: without it the price is shown \
                        and not counted";
            f.warning("price-undated", &path.field("price"), message, hint);
        }
        Some(Price { each, on })
    });
    Packet {
        of: shape.of.clone(),
        brand: shape.brand.clone(),
        holds: holds.map(|holds| (holds, measure)),
        brought: Brought::from(shape.from),
        supplier: shape.supplier.clone(),
        store: shape.store.clone(),
        price,
        label: label(f, path, shape),
    }
}

/// A label counts as read once somebody puts initials to it.
fn label(f: &mut Findings, path: &Path, shape: &PacketShape) -> Option<Label> {
    let read_on = shape.read_on.as_ref().and_then(|on| f.day(&path.field("read_on"), on));
    let names = shape.names.as_ref()?;
    let at = path.field("names");
    f.length(&at, "allergens of one label", names.len(), MOST_ALLERGENS);
    for (i, name) in names.iter().enumerate().take(MOST_ALLERGENS) {
        check_name(f, &at.index(i), "allergen", name);
    }
    if shape.read_by.trim().is_empty() {
        let message = format!("nobody has put initials to the label of {}", quoted(&shape.of));
        let hint =
            "who has read it says so, `read_by: \"JM\"`; where nobody has, leave `names` out";
        f.error("label-unsigned", &at, message, hint);
        return None;
    }
    Some(Label { names: names.clone(), read_by: shape.read_by.trim().to_owned(), read_on })
}
