//! The four palettes: ink on warm paper and chalk on slate, and each again in
//! high contrast. What they are held to is tested in `theme` and in
//! `colour_vision`.

use eframe::egui::Color32;

use crate::app::looks::theme::Palette;

pub(super) const fn rgb(hex: u32) -> Color32 {
    Color32::from_rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

impl Palette {
    /// Ink on warm paper.
    pub const LIGHT: Palette = Palette {
        strong: false,
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
        heat: rgb(0xA85F00),
        red: rgb(0xB3261E),
        focus: rgb(0x1F5FBF),
        chosen: rgb(0xF1EBDC),
    };

    /// Chalk on slate.
    pub const DARK: Palette = Palette {
        strong: false,
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

    /// Black on white, for those who need the strongest contrast.
    pub const LIGHT_STRONG: Palette = Palette {
        strong: true,
        paper: rgb(0xFFFFFF),
        card: rgb(0xFFFFFF),
        ink: rgb(0x000000),
        soft: rgb(0x262626),
        line: rgb(0x9A9A9A),
        edge: rgb(0x000000),
        bench: (rgb(0xDCE9F7), rgb(0x0B3468)),
        door: (rgb(0xA9C9EA), rgb(0x001B3D)),
        bake: (rgb(0xFFCF8A), rgb(0x6B3A00)),
        cool: (rgb(0xE2FAFC), rgb(0x00585F)),
        wait: (rgb(0xFFFFFF), rgb(0x2E2E2E)),
        clear: (rgb(0xE3E3E3), rgb(0x2E2E2E)),
        class: (rgb(0xF3ECFB), rgb(0x472478)),
        ribbon: (rgb(0xC3DAF2), rgb(0x0B3468)),
        ghost: rgb(0xFFFFFF),
        heat: rgb(0x7A4400),
        red: rgb(0xB00038),
        focus: rgb(0x0038C8),
        chosen: rgb(0xEDEDED),
    };

    /// White on black.
    pub const DARK_STRONG: Palette = Palette {
        strong: true,
        paper: rgb(0x000000),
        card: rgb(0x000000),
        ink: rgb(0xFFFFFF),
        soft: rgb(0xE2E2E2),
        line: rgb(0x5E5E5E),
        edge: rgb(0xFFFFFF),
        bench: (rgb(0x0F2C4A), rgb(0x8FC2FF)),
        door: (rgb(0x2A5580), rgb(0xCDE5FF)),
        bake: (rgb(0x5C3500), rgb(0xFFBC5E)),
        cool: (rgb(0x003A40), rgb(0x6FF0EE)),
        wait: (rgb(0x000000), rgb(0xDADADA)),
        clear: (rgb(0x303030), rgb(0xB4B4B4)),
        class: (rgb(0x20143A), rgb(0xD2BBFA)),
        ribbon: (rgb(0x1B3F66), rgb(0x8FC2FF)),
        ghost: rgb(0x000000),
        heat: rgb(0xFFC56E),
        red: rgb(0xFF9A8F),
        focus: rgb(0x7CC0FF),
        chosen: rgb(0x2C2C2C),
    };

    /// All of them, with their names.
    pub const ALL: [(&str, &Palette); 4] = [
        ("light", &Self::LIGHT),
        ("dark", &Self::DARK),
        ("light, high contrast", &Self::LIGHT_STRONG),
        ("dark, high contrast", &Self::DARK_STRONG),
    ];
}
