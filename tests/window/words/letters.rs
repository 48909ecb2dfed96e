//! Every letter of Irish, Welsh and Polish has a glyph, in both faces and of
//! their own weight.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::common::hands::{Hands, How};
use egui::{FontFamily, FontId};

/// Whether a face has a glyph of its own for a letter.
fn has_glyph(face: &[u8], letter: char) -> bool {
    let mut fonts = egui::FontDefinitions::empty();
    fonts.font_data.insert("it".to_owned(), Arc::new(egui::FontData::from_owned(face.to_vec())));
    for family in [FontFamily::Proportional, FontFamily::Monospace] {
        fonts.families.insert(family, vec!["it".to_owned()]);
    }
    let font = FontId::new(14.0, FontFamily::Proportional);
    egui::epaint::text::Fonts::new(egui::epaint::TextOptions::default(), fonts)
        .with_pixels_per_point(1.0)
        .has_glyph(&font, letter)
}

fn letters() -> BTreeSet<char> {
    let small = [
        // Irish, the older letters with dots too.
        "áéíóúḃċḋḟġṁṗṡṫ",
        // Welsh.
        "âêîôûŵŷàèìòùẁỳẃýäëïöüẅÿ",
        // Polish.
        "ąćęłńóśźż",
    ];
    let small = small.concat();
    let capitals = small.chars().flat_map(char::to_uppercase);
    let signs = "°×–—…·½¼¾⅓⅔⅛⅜⅝⅞−≤‘’“”";
    small.chars().chain(capitals).chain(signs.chars()).collect()
}

#[test]
fn every_letter_has_a_glyph_of_its_own_weight() {
    for weight in ["Regular", "Bold"] {
        let read = |name: &str| {
            let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
            std::fs::read(root.join(format!("assets/fonts/{name}-{weight}.ttf"))).unwrap()
        };
        let faces = [read("AtkinsonHyperlegible"), read("Letters")];
        let missing: String =
            letters().into_iter().filter(|c| !faces.iter().any(|f| has_glyph(f, *c))).collect();
        assert!(missing.is_empty(), "{weight} lacks {missing}");
        // The question itself can be answered with no.
        assert!(!has_glyph(&faces[0], 'ḃ') && !has_glyph(&faces[0], 'ŵ'));
    }
}

#[test]
fn the_window_finds_a_glyph_for_each_in_both_of_its_faces() {
    let hands = Hands::new(How::Mouse, |_| {});
    let ctx = &hands.window().ctx;
    for family in [FontFamily::Proportional, FontFamily::Name("bold".into())] {
        let font = FontId::new(14.0, family);
        let lacks = |c: &char| !ctx.fonts_mut(|f| f.has_glyphs(&font, &c.to_string()));
        let missing: String = letters().into_iter().filter(lacks).collect();
        assert!(missing.is_empty(), "{font:?} lacks {missing}");
        assert!(lacks(&'\u{13000}'), "every sign is there, even of ancient Egypt");
    }
}
