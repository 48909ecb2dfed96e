//! The clock above the board.

use super::super::{Colour, Letters, Measure, Of, Place, Scene, Shape, Stretch, Text, TooLong};
use super::{BoardPicture, odds, other};
use crate::units::Minute;
use crate::view::area::at;
use crate::view::words::clock as time;

/// Height of the clock.
pub const HEIGHT: f32 = 30.0;
/// Height of the middle of its words.
const WORDS: f32 = HEIGHT / 2.0 - 2.0;
/// Least distance of two times that are named.
const TICK: f32 = 58.0;
/// Least distance from a bell and from a time that is marked.
const APART: f32 = 50.0;
/// From the right end of the clock to the word above the ready times.
const READY: f32 = 31.0;

pub(super) fn clock(of: &BoardPicture<'_>, marked: Option<i32>, measure: &dyn Measure) -> Scene {
    let mut scene = Scene::new((of.size.0, HEIGHT));
    let scale = &of.scale;
    let mut named = |stretch, minute: Minute, letters: Letters, room: f32| {
        let place = Place::centre(at(scale.x(minute.get() as f32), WORDS));
        let words = time(of.lesson, minute).to_string();
        let text = Text::fitted(&words, letters, place, (room, TooLong::Cut), measure);
        if let Some(text) = text {
            scene.add_as(stretch, Shape::Text(text));
        }
    };
    let there = of.over.ghosts.map(|g| g.bells.as_slice()).unwrap_or_default();
    let own = of.board.bells.iter().map(|&b| (b, Letters::bold(14.0, Colour::Ink)));
    let others = there.iter().map(|&b| (b, Letters::plain(14.0, Colour::Ink)));
    let mut bells = Vec::new();
    for (bell, letters) in own.chain(others) {
        bells.push(bell.get());
        let x = of.x(bell);
        if (scale.left - 1.0..=of.clock_end() + 1.0).contains(&x) {
            let stretch = Stretch { of: Some(Of::Bell(bell)), within: None };
            named(stretch, bell, letters, 2.0 * APART);
        }
    }
    let tick = scale.tick(TICK);
    let mut minute = (scale.from / tick as f32).ceil() as i32 * tick;
    while (minute as f32) < scale.until {
        let x = scale.x(minute as f32);
        // Bells and the time that is marked have their place.
        let mut others = bells.iter().copied().chain(marked);
        let near = others.any(|m| (scale.x(m as f32) - x).abs() < APART);
        if !near && (scale.left..=of.clock_end()).contains(&x) {
            let letters = Letters::plain(13.0, Colour::Soft);
            named(Stretch::default(), Minute::new(minute), letters, 2.0 * APART);
        }
        minute += tick;
    }
    let x = of.clock_end() + READY;
    let room = (of.size.0 - x, TooLong::Cut);
    let place = Place::left(at(x, WORDS));
    let letters = Letters::bold(13.0, Colour::Soft);
    if let Some(text) = Text::fitted("ready", letters, place, room, measure) {
        scene.add(Shape::Text(text));
    }
    if let Some(ghosts) = of.over.ghosts {
        other::legend(&mut scene, WORDS, scale.left, ghosts, measure);
    }
    odds::looks(&mut scene, of);
    scene
}
