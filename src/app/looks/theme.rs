//! Colours as tokens, and how they become the toolkit's looks.

use eframe::egui::{self, Color32, Stroke};

/// The colours of a theme.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Palette {
    /// High contrast: lines and patterns are drawn at full strength.
    pub strong: bool,
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

impl Palette {
    /// The palette of the theme in use.
    pub fn of(ctx: &egui::Context) -> &'static Palette {
        let strong = ctx.data(|d| d.get_temp(strong())).unwrap_or(false);
        Self::for_theme(ctx.theme(), strong)
    }

    /// The palette of a theme, in high contrast or not.
    pub fn for_theme(theme: egui::Theme, strong: bool) -> &'static Palette {
        match (theme, strong) {
            (egui::Theme::Light, false) => &Self::LIGHT,
            (egui::Theme::Dark, false) => &Self::DARK,
            (egui::Theme::Light, true) => &Self::LIGHT_STRONG,
            (egui::Theme::Dark, true) => &Self::DARK_STRONG,
        }
    }
}

/// Where the toolkit's memory holds whether high contrast is on.
fn strong() -> egui::Id {
    egui::Id::unique("high contrast")
}

/// Sets both themes, in high contrast or not, and whether anything moves by
/// itself. Nothing is asked of the system: only the user's switches count.
pub fn install(ctx: &egui::Context, contrast: bool, motion: bool) {
    ctx.data_mut(|d| d.insert_temp(strong(), contrast));
    for theme in [egui::Theme::Light, egui::Theme::Dark] {
        let palette = Palette::for_theme(theme, contrast);
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
        visuals.text_cursor.blink = motion;
        ctx.set_visuals_of(theme, visuals);
    }
    ctx.all_styles_mut(|style| {
        style.spacing.item_spacing = egui::vec2(8.0, 5.0);
        style.spacing.button_padding = egui::vec2(9.0, 4.0);
        style.interaction.tooltip_delay = 0.3;
        style.spacing.scroll = egui::style::ScrollStyle::thin();
        let usual = egui::Style::default();
        style.animation_time = if motion { usual.animation_time } else { 0.0 };
        style.scroll_animation =
            if motion { usual.scroll_animation } else { egui::style::ScrollAnimation::none() };
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
    use super::super::palettes::rgb;
    use super::*;

    /// WCAG 2.2, success criteria 1.4.3 (text, 4.5:1) and 1.4.11 (shapes that
    /// carry meaning, 3:1).
    #[test]
    fn every_pair_in_use_has_the_contrast_of_level_aa() {
        for (name, p) in Palette::ALL {
            // High contrast: 1.4.6 (level AAA) for text, that of text for shapes.
            let (of_text, of_shapes) = if p.strong { (7.0, 4.5) } else { (4.5, 3.0) };
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
                assert!(contrast(a, b) >= of_text, "{name}: {pair} is {:.2}", contrast(a, b));
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
                assert!(contrast(a, b) >= of_shapes, "{name}: {pair} is {:.2}", contrast(a, b));
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

    #[test]
    fn reduced_motion_stills_whatever_moves_by_itself() {
        let ctx = egui::Context::default();
        for motion in [true, false, true] {
            install(&ctx, false, motion);
            for theme in [egui::Theme::Light, egui::Theme::Dark] {
                let style = ctx.style_of(theme);
                assert_eq!(style.animation_time > 0.0, motion);
                assert_eq!(style.visuals.text_cursor.blink, motion);
                let scroll = egui::style::ScrollAnimation::none();
                assert_eq!(style.scroll_animation != scroll, motion);
            }
        }
    }

    #[test]
    fn high_contrast_is_found_from_the_context() {
        let ctx = egui::Context::default();
        for (theme, strong) in
            [(egui::Theme::Light, false), (egui::Theme::Dark, true), (egui::Theme::Light, true)]
        {
            ctx.set_theme(theme);
            install(&ctx, strong, true);
            assert_eq!(Palette::of(&ctx), Palette::for_theme(theme, strong));
        }
    }
}
