//! One legible typeface, Atkinson Hyperlegible (SIL Open Font License, in
//! `assets/fonts/OFL.txt`). Behind it stand letters of Irish and Welsh, and
//! fractions, put together from its own (`assets/fonts/letters.py`), behind those other
//! scripts (`assets/fonts/scripts.py`, licence in `assets/fonts/DEJAVU.txt`), and then the
//! toolkit's own faces for what all lack.

use std::sync::Arc;

use eframe::egui::{self, FontData, FontDefinitions, FontFamily, FontId};

const REGULAR: &[u8] = include_bytes!("../../../assets/fonts/AtkinsonHyperlegible-Regular.ttf");
const BOLD: &[u8] = include_bytes!("../../../assets/fonts/AtkinsonHyperlegible-Bold.ttf");

const MORE_REGULAR: &[u8] = include_bytes!("../../../assets/fonts/Letters-Regular.ttf");
const MORE_BOLD: &[u8] = include_bytes!("../../../assets/fonts/Letters-Bold.ttf");

const SCRIPTS_REGULAR: &[u8] = include_bytes!("../../../assets/fonts/Scripts-Regular.ttf");
const SCRIPTS_BOLD: &[u8] = include_bytes!("../../../assets/fonts/Scripts-Bold.ttf");

/// Installs the typeface and the sizes of the text styles.
pub fn install(ctx: &egui::Context) {
    let mut fonts = FontDefinitions::default();
    let behind = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
    for (name, bytes) in [
        ("hyperlegible", REGULAR),
        ("hyperlegible bold", BOLD),
        ("letters", MORE_REGULAR),
        ("letters bold", MORE_BOLD),
        ("scripts", SCRIPTS_REGULAR),
        ("scripts bold", SCRIPTS_BOLD),
    ] {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    }
    let family = |weight: &str| {
        let own = ["hyperlegible", "letters", "scripts"];
        let mut all: Vec<String> = own.iter().map(|name| format!("{name}{weight}")).collect();
        all.extend(behind.iter().cloned());
        all
    };
    fonts.families.insert(FontFamily::Proportional, family(""));
    fonts.families.insert(FontFamily::Monospace, family(""));
    fonts.families.insert(FontFamily::Name("bold".into()), family(" bold"));
    ctx.set_fonts(fonts);
    ctx.all_styles_mut(|style| {
        use egui::TextStyle::{Body, Button, Heading, Monospace, Small};
        style.text_styles = [
            (Small, plain(13.0)),
            (Body, plain(14.5)),
            (Button, plain(14.0)),
            (Monospace, plain(14.0)),
            (Heading, bold(17.0)),
        ]
        .into();
    });
}

/// The plain face.
pub fn plain(size: f32) -> FontId {
    FontId::new(size, FontFamily::Proportional)
}

/// The bold face.
pub fn bold(size: f32) -> FontId {
    FontId::new(size, FontFamily::Name("bold".into()))
}
