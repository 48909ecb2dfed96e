//! The icon of the program's windows, the same as in `assets/linux`.

use eframe::egui::IconData;

const PNG: &[u8] = include_bytes!("../../../assets/linux/icons/hicolor/128x128/apps/ovenbell.png");

/// The icon; the toolkit's own if it cannot be read.
pub fn icon() -> IconData {
    eframe::icon_data::from_png_bytes(PNG).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_read_and_is_not_blank() {
        let icon = icon();
        assert_eq!((icon.width, icon.height), (128, 128));
        let pixels: Vec<&[u8]> = icon.rgba.chunks(4).collect();
        let ink = pixels.iter().filter(|p| p[..3] == [0x20, 0x24, 0x2C] && p[3] == 255).count();
        let paper = pixels.iter().filter(|p| p[..3] == [0xF8, 0xF4, 0xEA] && p[3] == 255).count();
        assert!(ink > 1_000 && paper > 4_000, "{ink} of ink, {paper} of paper");
    }
}
