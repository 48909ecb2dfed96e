//! Words in a picture, fitted to the room there is for them.

use std::borrow::Cow;

use super::Colour;
use crate::finding::shortened;
use crate::view::area::{Area, Point};

/// How heavy letters are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Weight {
    /// As in running text.
    Plain,
    /// Bold.
    Bold,
}

/// What letters look like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Letters {
    /// Size of the letters.
    pub size: f32,
    /// How heavy they are.
    pub weight: Weight,
    /// Their colour.
    pub colour: Colour,
}

impl Letters {
    /// Letters as in running text.
    pub const fn plain(size: f32, colour: Colour) -> Self {
        Self { size, weight: Weight::Plain, colour }
    }

    /// Bold letters.
    pub const fn bold(size: f32, colour: Colour) -> Self {
        Self { size, weight: Weight::Bold, colour }
    }
}

/// Which part of a line of words lies at their point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Across {
    /// Its beginning.
    Left,
    /// Its middle.
    Centre,
    /// Its end.
    Right,
}

/// Which height of words lies at their point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Down {
    /// Their top.
    Top,
    /// Half their height.
    Middle,
}

/// Where words are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// The point they are at.
    pub at: Point,
    /// How they lie beside it.
    pub across: Across,
    /// How they lie above and below it.
    pub down: Down,
}

impl Place {
    /// Words that begin at a point, their tops at its height.
    pub const fn left_top(at: Point) -> Self {
        Self { at, across: Across::Left, down: Down::Top }
    }

    /// Words that begin at a point, half of them above it.
    pub const fn left(at: Point) -> Self {
        Self { at, across: Across::Left, down: Down::Middle }
    }

    /// Words with their middle at a point.
    pub const fn centre(at: Point) -> Self {
        Self { at, across: Across::Centre, down: Down::Middle }
    }

    /// Words that end at a point, half of them above it.
    pub const fn right(at: Point) -> Self {
        Self { at, across: Across::Right, down: Down::Middle }
    }
}

/// What becomes of words that are longer than their room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TooLong {
    /// An ellipsis takes the place of their end.
    Cut,
    /// They are left out.
    LeaveOut,
    /// They go on in further lines, so many in all; the last is cut.
    Wrap(usize),
}

/// How wide and how high words come out with whoever paints them.
pub trait Measure {
    /// Width of a line of words.
    fn width(&self, words: &str, size: f32, weight: Weight) -> f32;

    /// Height of a line.
    fn height(&self, size: f32, weight: Weight) -> f32;

    /// The words in the English of whoever reads them; as they are, if
    /// nothing else is said.
    fn said<'a>(&self, words: &'a str) -> Cow<'a, str> {
        Cow::Borrowed(words)
    }
}

/// Words that fit their room.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// What is written, a line break between lines.
    pub words: String,
    /// The words were too long and have lost their end.
    pub is_cut: bool,
    /// Where they are.
    pub place: Place,
    /// What their letters look like.
    pub letters: Letters,
    /// How wide a line may be.
    pub room: f32,
    /// They are written upwards: their beginning lies at the point, and they
    /// go on above it.
    pub upwards: bool,
}

impl Text {
    /// Words fitted to a room; `None` if they are left out, or there are none.
    pub fn fitted(
        words: &str,
        letters: Letters,
        place: Place,
        (room, too_long): (f32, TooLong),
        measure: &dyn Measure,
    ) -> Option<Self> {
        let wide = |words: &str| measure.width(words, letters.size, letters.weight);
        let said = measure.said(words);
        if said.is_empty() {
            return None;
        }
        let (words, is_cut) = match too_long {
            TooLong::Cut => {
                let words = cut(&said, room, wide);
                let is_cut = words.ends_with('…');
                (words, is_cut)
            }
            TooLong::LeaveOut if wide(&said) <= room => (said.into_owned(), false),
            TooLong::LeaveOut => return None,
            TooLong::Wrap(lines) => {
                let words = wrapped(&said, room, lines, wide);
                let is_cut = words.ends_with('…');
                (words, is_cut)
            }
        };
        Some(Self { words, is_cut, place, letters, room, upwards: false })
    }

    /// Width and height of the words, as if written along the line.
    pub fn size(&self, measure: &dyn Measure) -> (f32, f32) {
        let Letters { size, weight, .. } = self.letters;
        let lines = self.words.split('\n');
        let widths = lines.clone().map(|line| measure.width(line, size, weight));
        let height = measure.height(size, weight) * lines.count() as f32;
        (widths.fold(0.0, f32::max), height)
    }

    /// What they take of the picture.
    pub fn area(&self, measure: &dyn Measure) -> Area {
        let (w, h) = self.size(measure);
        let Place { at, across, down } = self.place;
        if self.upwards {
            return Area { x: at.x, y: at.y - w, w: h, h: w };
        }
        let x = match across {
            Across::Left => at.x,
            Across::Centre => at.x - w / 2.0,
            Across::Right => at.x - w,
        };
        let y = match down {
            Down::Top => at.y,
            Down::Middle => at.y - h / 2.0,
        };
        Area { x, y, w, h }
    }
}

/// As much of a text as fits a room, with an ellipsis if it is cut.
pub fn cut(text: &str, room: f32, wide: impl Fn(&str) -> f32) -> String {
    // A name of thousands of letters is not measured to find that it is long.
    let short = shortened(text, 60);
    if wide(&short) <= room {
        return short;
    }
    let letters: Vec<char> = short.chars().collect();
    let with_end = |n: usize| letters[..n].iter().chain(&['…']).collect::<String>();
    with_end(most(letters.len(), |n| wide(&with_end(n)) <= room))
}

/// A text in lines that fit a room, broken between words where there is a gap;
/// what does not fit the last line is cut with an ellipsis.
pub fn wrapped(text: &str, room: f32, lines: usize, wide: impl Fn(&str) -> f32) -> String {
    let letters: Vec<char> = text.chars().collect();
    let part = |from: usize, to: usize| letters[from..to].iter().collect::<String>();
    let mut all: Vec<String> = Vec::new();
    let mut from = 0;
    while from < letters.len() && all.len() < lines {
        let left = letters.len() - from;
        if wide(&part(from, letters.len())) <= room {
            all.push(part(from, letters.len()));
            break;
        }
        if all.len() + 1 == lines {
            let with_end = |n: usize| part(from, from + n) + "…";
            all.push(with_end(most(left, |n| wide(&with_end(n)) <= room)));
            break;
        }
        // At least one letter a line, however narrow it is.
        let fits = most(left, |n| wide(&part(from, from + n)) <= room).max(1);
        if fits == left {
            all.push(part(from, letters.len()));
            break;
        }
        let gap = letters[from..from + fits + 1].iter().rposition(|&c| c == ' ');
        let to = from + gap.filter(|&gap| gap > 0).unwrap_or(fits);
        all.push(part(from, to));
        from = if letters[to] == ' ' { to + 1 } else { to };
    }
    all.join("\n")
}

/// The largest number up to `of` for which something holds that holds for all
/// smaller ones; 0 if it never does.
fn most(of: usize, holds: impl Fn(usize) -> bool) -> usize {
    let (mut low, mut high) = (0, of);
    while low < high {
        let mid = (low + high).div_ceil(2);
        if holds(mid) { low = mid } else { high = mid - 1 }
    }
    low
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Letters all of one width.
    fn wide(words: &str) -> f32 {
        words.chars().count() as f32
    }

    #[test]
    fn what_is_too_long_ends_in_an_ellipsis_and_fits() {
        assert_eq!(cut("lemon bake", 10.0, wide), "lemon bake");
        assert_eq!(cut("lemon bake", 9.0, wide), "lemon ba…");
        assert_eq!(cut("lemon bake", 0.0, wide), "…");
    }

    #[test]
    fn lines_break_between_words_and_the_last_is_cut() {
        assert_eq!(wrapped("a square takes longer", 10.0, 3, wide), "a square\ntakes\nlonger");
        assert_eq!(wrapped("a square takes longer", 8.0, 2, wide), "a square\ntakes l…");
        assert_eq!(wrapped("unbroken", 3.0, 9, wide), "unb\nrok\nen");
        assert_eq!(wrapped("ab", 0.0, 9, wide), "a\nb");
        assert_eq!(wrapped("", 5.0, 2, wide), "");
    }
}
