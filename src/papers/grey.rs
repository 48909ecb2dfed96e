//! Pictures in greys.

use crate::view::board::Work;
use crate::view::scene::Colour;

/// What each colour is on a copier that knows only greys, from 0, black, to 255,
/// white.
pub fn grey(colour: Colour) -> u8 {
    match colour {
        Colour::Card | Colour::Other | Colour::Shelf => 255,
        Colour::Ink | Colour::Wrong => 0,
        Colour::Soft => 60,
        Colour::Line => 205,
        Colour::Edge | Colour::Heat => 90,
        Colour::Work(Work::Bench) => 225,
        Colour::Work(Work::Door) => 205,
        Colour::Work(Work::Bake) => 190,
        Colour::Work(Work::Cool | Work::Wait) => 250,
        Colour::Work(Work::Clear) => 238,
        Colour::WorkEdge(_) | Colour::ClassEdge | Colour::RibbonEdge => 70,
        Colour::Class => 240,
        Colour::Ribbon => 215,
    }
}
