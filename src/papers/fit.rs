//! Words fitted to a width: smaller by a fifth at most, then in two lines, then
//! in as many as it takes, which is told. Nothing is ever cut. Names that stand
//! below each other have one size.

use crate::view::scene::{Measure, Weight, wrapped};

/// The smallest letters a text may be shrunk to, as a share of its own.
pub const SMALLEST: f32 = 0.8;
/// Steps between its own size and the smallest.
const STEPS: u8 = 4;

/// Words in lines, and their size.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The lines.
    pub lines: Vec<String>,
    /// Size of the letters.
    pub size: f32,
    /// It took more than two lines.
    pub is_long: bool,
}

impl Fitted {
    /// How high it is.
    pub fn height(&self, measure: &dyn Measure, weight: Weight) -> f32 {
        self.lines.len() as f32 * measure.height(self.size, weight)
    }
}

/// A name, which should stand in one line; no smaller than `least`.
pub fn name(
    words: &str,
    (size, least): (f32, f32),
    weight: Weight,
    width: f32,
    measure: &dyn Measure,
) -> Fitted {
    for size in sizes((size, least)) {
        if measure.width(words, size, weight) <= width {
            return Fitted { lines: vec![words.to_owned()], size, is_long: false };
        }
    }
    let smallest = smallest((size, least));
    let as_it_is = name_at(words, size, weight, width, measure);
    if as_it_is.is_long { name_at(words, smallest, weight, width, measure) } else { as_it_is }
}

/// A name in letters of this size; it is long if two lines are too few.
pub fn name_at(
    words: &str,
    size: f32,
    weight: Weight,
    width: f32,
    measure: &dyn Measure,
) -> Fitted {
    let fitted = prose(words, size, weight, width, measure);
    Fitted { is_long: fitted.lines.len() > 2, ..fitted }
}

/// Sizes of letters that are tried for one line, the largest first.
pub fn sizes((size, least): (f32, f32)) -> impl Iterator<Item = f32> {
    let smallest = smallest((size, least));
    (0..=STEPS).map(move |step| size - (size - smallest) * f32::from(step) / f32::from(STEPS))
}

/// The smallest that letters of a size may be shrunk to; no smaller than `least`.
pub fn smallest((size, least): (f32, f32)) -> f32 {
    (size * SMALLEST).max(least.min(size))
}

/// Sentences, which take the lines they take.
pub fn prose(words: &str, size: f32, weight: Weight, width: f32, measure: &dyn Measure) -> Fitted {
    let wide = |part: &str| measure.width(part, size, weight);
    let lines = wrapped(words, width, usize::MAX, wide);
    let lines = lines.split('\n').map(str::to_owned).collect();
    Fitted { lines, size, is_long: false }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Letters as wide as they are high.
    struct Square;

    impl Measure for Square {
        fn width(&self, words: &str, size: f32, _: Weight) -> f32 {
            words.chars().count() as f32 * size
        }
        fn height(&self, size: f32, _: Weight) -> f32 {
            size
        }
    }

    #[test]
    fn a_name_shrinks_then_breaks_then_is_told_of() {
        let fit = |words: &str| name(words, (10.0, 0.0), Weight::Plain, 100.0, &Square);
        assert_eq!(
            fit("ten signs!"),
            Fitted { lines: vec!["ten signs!".into()], size: 10.0, is_long: false }
        );
        assert_eq!(fit("twelve signs").size, 8.0);
        let two = fit("thirteen sign");
        assert_eq!((two.lines, two.size), (vec!["thirteen".to_owned(), "sign".to_owned()], 10.0));
        let long = fit("a name that goes on and on and on");
        assert!(long.is_long && long.lines.len() > 2 && long.size >= 8.0);
        assert_eq!(long.lines.join(" "), "a name that goes on and on and on", "nothing is cut");
    }

    #[test]
    fn a_word_without_a_gap_breaks_within() {
        let fitted = prose(&"n".repeat(300), 10.0, Weight::Plain, 100.0, &Square);
        assert_eq!(fitted.lines.len(), 30);
        assert_eq!(fitted.lines.concat().len(), 300);
    }
}
