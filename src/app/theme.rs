//! Colours as tokens: ink on warm paper, and a dark theme of its own.

use eframe::egui::{self, Color32, Stroke};

/// The colours of a theme.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Palette {
    /// Behind everything.
    pub paper: Color32,
    /// Cards and the board.
    pub card: Color32,
    /// Text.
    pub ink: Color32,
    /// Text of less weight.
    pub soft: Color32,
    /// Hairlines, which carry no meaning.
    pub line: Color32,
    /// Edges that do.
    pub edge: Color32,
    /// Bench work, and its edge.
    pub bench: (Color32, Color32),
    /// Loading and taking out.
    pub door: (Color32, Color32),
    /// Baking.
    pub bake: (Color32, Color32),
    /// Cooling.
    pub cool: (Color32, Color32),
    /// Waiting.
    pub wait: (Color32, Color32),
    /// Clearing away.
    pub clear: (Color32, Color32),
    /// The class's own steps.
    pub class: (Color32, Color32),
    /// Ribbons of kit and adults.
    pub ribbon: (Color32, Color32),
    /// Within the outlines of a plan that is laid over.
    pub ghost: Color32,
    /// The temperature line.
    pub heat: Color32,
    /// What breaks a rule, and nothing else.
    pub red: Color32,
    /// Focus and selection.
    pub focus: Color32,
    /// The fill of what is selected.
    pub chosen: Color32,
}

const fn rgb(hex: u32) -> Color32 {
    Color32::from_rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

impl Palette {
    /// Ink on warm paper.
    pub const LIGHT: Palette = Palette {
        paper: rgb(0xF8F4EA),
        card: rgb(0xFFFDF8),
        ink: rgb(0x20242C),
        soft: rgb(0x4E5662),
        line: rgb(0xE4DED0),
        edge: rgb(0x857C6B),
        bench: (rgb(0xCFDDEA), rgb(0x48678A)),
        door: (rgb(0x9DBBD6), rgb(0x35526F)),
        bake: (rgb(0xF2B469), rgb(0x8A5212)),
        cool: (rgb(0xE3F2F4), rgb(0x2F7682)),
        wait: (rgb(0xFFFDF8), rgb(0x6B6456)),
        clear: (rgb(0xE9E4D8), rgb(0x6B6456)),
        class: (rgb(0xF0E9F6), rgb(0x7C6497)),
        ribbon: (rgb(0xB9CCDE), rgb(0x48678A)),
        ghost: rgb(0xFFFDF8),
        heat: rgb(0xA4560B),
        red: rgb(0xB3261E),
        focus: rgb(0x1F5FBF),
        chosen: rgb(0xF1EBDC),
    };

    /// Chalk on slate.
    pub const DARK: Palette = Palette {
        paper: rgb(0x181A1D),
        card: rgb(0x212428),
        ink: rgb(0xF1ECE0),
        soft: rgb(0xBEB8AA),
        line: rgb(0x34383D),
        edge: rgb(0x8F8A7E),
        bench: (rgb(0x31475C), rgb(0x9CBBD8)),
        door: (rgb(0x446788), rgb(0xBAD4EC)),
        bake: (rgb(0x77480F), rgb(0xF0AE5C)),
        cool: (rgb(0x1C3A41), rgb(0x7CC4D1)),
        wait: (rgb(0x212428), rgb(0xA9A294)),
        clear: (rgb(0x38352F), rgb(0xB0A794)),
        class: (rgb(0x2C2737), rgb(0xA48FC0)),
        ribbon: (rgb(0x3A556F), rgb(0x9CBBD8)),
        ghost: rgb(0x212428),
        heat: rgb(0xF0AE5C),
        red: rgb(0xFF8A7D),
        focus: rgb(0x8FBCFF),
        chosen: rgb(0x2E3136),
    };

    /// The palette of the theme in use.
    pub fn of(ctx: &egui::Context) -> &'static Palette {
        match ctx.theme() {
            egui::Theme::Dark => &Self::DARK,
            egui::Theme::Light => &Self::LIGHT,
        }
    }
}

/// Sets both themes.
pub fn install(ctx: &egui::Context) {
    for (theme, palette) in
        [(egui::Theme::Light, &Palette::LIGHT), (egui::Theme::Dark, &Palette::DARK)]
    {
        let mut visuals = theme.default_visuals();
        visuals.panel_fill = palette.paper;
        visuals.window_fill = palette.card;
        visuals.extreme_bg_color = palette.card;
        visuals.faint_bg_color = palette.chosen;
        visuals.override_text_color = Some(palette.ink);
        visuals.weak_text_color = Some(palette.soft);
        visuals.hyperlink_color = palette.focus;
        visuals.error_fg_color = palette.red;
        visuals.warn_fg_color = palette.ink;
        visuals.selection.bg_fill = palette.chosen;
        visuals.selection.stroke = Stroke::new(2.0, palette.focus);
        let widgets = &mut visuals.widgets;
        for style in [
            &mut widgets.noninteractive,
            &mut widgets.inactive,
            &mut widgets.hovered,
            &mut widgets.active,
            &mut widgets.open,
        ] {
            style.bg_fill = palette.card;
            style.weak_bg_fill = palette.card;
            style.fg_stroke = Stroke::new(1.0, palette.ink);
            style.bg_stroke = Stroke::new(1.0, palette.edge);
            style.corner_radius = 5.into();
            style.expansion = 0.0;
        }
        widgets.noninteractive.bg_stroke = Stroke::new(1.0, palette.line);
        widgets.hovered.weak_bg_fill = palette.chosen;
        widgets.hovered.bg_stroke = Stroke::new(1.0, palette.ink);
        widgets.active.weak_bg_fill = palette.chosen;
        widgets.active.bg_stroke = Stroke::new(2.0, palette.focus);
        ctx.set_visuals_of(theme, visuals);
    }
    ctx.all_styles_mut(|style| {
        style.spacing.item_spacing = egui::vec2(8.0, 5.0);
        style.spacing.button_padding = egui::vec2(9.0, 4.0);
        style.interaction.tooltip_delay = 0.3;
        style.spacing.scroll = egui::style::ScrollStyle::thin();
    });
}

/// Contrast of two colours by WCAG 2.2, from 1 to 21.
pub fn contrast(a: Color32, b: Color32) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

fn luminance(colour: Color32) -> f64 {
    let part = |c: u8| {
        let c = f64::from(c) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * part(colour.r()) + 0.7152 * part(colour.g()) + 0.0722 * part(colour.b())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// WCAG 2.2, success criteria 1.4.3 (text, 4.5:1) and 1.4.11 (shapes that
    /// carry meaning, 3:1).
    #[test]
    fn every_pair_in_use_has_the_contrast_of_level_aa() {
        for (name, p) in [("light", Palette::LIGHT), ("dark", Palette::DARK)] {
            let text = [
                ("ink on paper", p.ink, p.paper),
                ("ink on card", p.ink, p.card),
                ("soft on paper", p.soft, p.paper),
                ("soft on card", p.soft, p.card),
                ("soft on chosen", p.soft, p.chosen),
                ("ink on chosen", p.ink, p.chosen),
                ("red on card", p.red, p.card),
                ("red on paper", p.red, p.paper),
                ("ink on bench", p.ink, p.bench.0),
                ("ink on door", p.ink, p.door.0),
                ("ink on bake", p.ink, p.bake.0),
                ("ink on cool", p.ink, p.cool.0),
                ("ink on wait", p.ink, p.wait.0),
                ("ink on clear", p.ink, p.clear.0),
                ("ink on class", p.ink, p.class.0),
                ("ink on ribbon", p.ink, p.ribbon.0),
                ("ink in an outline", p.ink, p.ghost),
            ];
            for (pair, a, b) in text {
                assert!(contrast(a, b) >= 4.5, "{name}: {pair} is {:.2}", contrast(a, b));
            }
            let shapes = [
                ("bench edge", p.bench.1, p.card),
                ("door edge", p.door.1, p.card),
                ("bake edge", p.bake.1, p.card),
                ("cool edge", p.cool.1, p.card),
                ("wait edge", p.wait.1, p.card),
                ("clear edge", p.clear.1, p.card),
                ("class edge", p.class.1, p.class.0),
                ("ribbon edge", p.ribbon.1, p.card),
                ("heat on card", p.heat, p.card),
                ("edge on card", p.edge, p.card),
                ("edge on paper", p.edge, p.paper),
                ("focus on card", p.focus, p.card),
                ("focus on paper", p.focus, p.paper),
            ];
            // Outlines lie on the board and on the bands of the class.
            let works = [p.bench, p.door, p.bake, p.cool, p.wait, p.clear];
            let outlines = works.iter().flat_map(|work| {
                [p.ghost, p.card, p.class.0].map(|under| ("outline", work.1, under))
            });
            for (pair, a, b) in shapes.into_iter().chain(outlines) {
                assert!(contrast(a, b) >= 3.0, "{name}: {pair} is {:.2}", contrast(a, b));
            }
        }
    }

    #[test]
    fn contrast_is_that_of_the_standard() {
        // WCAG 2.2: black on white is 21:1; #767676 on white is the well-known
        // lightest grey that passes 4.5:1.
        assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1e-9);
        assert!(contrast(rgb(0x767676), Color32::WHITE) >= 4.5);
        assert!(contrast(rgb(0x777777), Color32::WHITE) < 4.5);
    }
}
