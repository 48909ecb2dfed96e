//! The colours of pictures as paper has them, whatever the theme.

use eframe::egui::Color32;

use super::theme::Palette;
use crate::papers::grey::grey;
use crate::view::board::Work;
use crate::view::scene::Colour;

/// Greys, as a copier has them.
pub fn on_paper() -> Palette {
    let of = |colour| Color32::from_gray(grey(colour));
    let work = |work| (of(Colour::Work(work)), of(Colour::WorkEdge(work)));
    Palette {
        strong: true,
        paper: of(Colour::Card),
        card: of(Colour::Card),
        ink: of(Colour::Ink),
        soft: of(Colour::Soft),
        line: of(Colour::Line),
        edge: of(Colour::Edge),
        bench: work(Work::Bench),
        door: work(Work::Door),
        bake: work(Work::Bake),
        cool: work(Work::Cool),
        wait: work(Work::Wait),
        clear: work(Work::Clear),
        class: (of(Colour::Class), of(Colour::ClassEdge)),
        ribbon: (of(Colour::Ribbon), of(Colour::RibbonEdge)),
        ghost: of(Colour::Other),
        heat: of(Colour::Heat),
        red: of(Colour::Wrong),
        focus: of(Colour::Ink),
        chosen: of(Colour::Shelf),
    }
}
