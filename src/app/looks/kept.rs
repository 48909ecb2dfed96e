//! What is made to be painted, kept from frame to frame while all that it is
//! made of is the same.

use std::any::Any;
use std::sync::Arc;

use eframe::egui::{Id, Painter};

use super::paint_scene::InWindow;
use super::say::{Voice, voice};

/// A thing that is compared by where it is: it never changes while it is held.
#[derive(Debug)]
pub struct Same<T>(pub Arc<T>);

impl<T> Clone for Same<T> {
    fn clone(&self) -> Self {
        Self(Arc::clone(&self.0))
    }
}

impl<T> PartialEq for Same<T> {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

/// What decides how words come out. The typeface is the same for as long as
/// the window is there.
#[derive(PartialEq)]
struct Words {
    voice: Voice,
    /// Pixels of the screen a point of the window.
    pixels: f32,
}

/// A thing with what it was made of.
struct Made<K, T> {
    of: K,
    words: Words,
    thing: Arc<T>,
}

/// What `make` makes of something in this window: as it was made before under
/// the same name, if that was of the same and words come out as they did.
///
/// `make` is a function without surroundings, so that it can know nothing that
/// is not compared.
pub fn kept<K, T>(
    painter: &Painter,
    name: &'static str,
    of: K,
    make: fn(&K, &InWindow<'_>) -> T,
) -> Arc<T>
where
    K: PartialEq + Any + Send + Sync,
    T: Any + Send + Sync,
{
    let ctx = painter.ctx();
    let id = Id::unique(("kept", name));
    let words = Words { voice: voice(), pixels: ctx.pixels_per_point() };
    let before: Option<Arc<Made<K, T>>> = ctx.data(|data| data.get_temp(id));
    if let Some(made) = before.filter(|made| made.of == of && made.words == words) {
        return Arc::clone(&made.thing);
    }
    let thing = Arc::new(make(&of, &InWindow(painter)));
    let made = Arc::new(Made { of, words, thing: Arc::clone(&thing) });
    ctx.data_mut(|data| data.insert_temp(id, made));
    thing
}
