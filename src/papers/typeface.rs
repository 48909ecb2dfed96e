//! The typeface on paper, Atkinson Hyperlegible (`assets/fonts`), with the
//! letters it lacks and other scripts behind it: what is written is shaped once, for
//! measuring and for printing alike, so that both agree. Words of scripts that run from
//! right to left stand in the order in which they are read, by the rules of Unicode
//! (Unicode Standard Annex 9).

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::ops::Range;

use harfrust::{FontRef, ShapeOptions, Shaper, ShaperData, UnicodeBuffer};
use unicode_bidi::BidiInfo;

use crate::view::scene::{Measure, Weight};

/// The faces, by number: plain, bold; behind each the letters it lacks, and behind
/// those other scripts.
pub const FACES: [&[u8]; 6] = [
    include_bytes!("../../assets/fonts/AtkinsonHyperlegible-Regular.ttf"),
    include_bytes!("../../assets/fonts/AtkinsonHyperlegible-Bold.ttf"),
    include_bytes!("../../assets/fonts/Letters-Regular.ttf"),
    include_bytes!("../../assets/fonts/Letters-Bold.ttf"),
    include_bytes!("../../assets/fonts/Scripts-Regular.ttf"),
    include_bytes!("../../assets/fonts/Scripts-Bold.ttf"),
];

/// A line's height in sizes of its letters.
pub const LINE: f32 = 1.26;
/// From the top of a line to the foot of its letters, likewise.
pub const BASE: f32 = 0.93;
/// No letter before this one is of a script that runs from right to left.
const RIGHT_TO_LEFT: char = '\u{590}';
/// Stands for a letter that no face has.
const INSTEAD: char = '?';

/// A glyph with the bytes of the text it stands for; lengths in sizes of the
/// letters.
#[derive(Debug, Clone, PartialEq)]
pub struct Glyph {
    /// Its number in its face.
    pub id: u32,
    /// What it stands for.
    pub of: Range<usize>,
    /// How far it leads on.
    pub advance: f32,
    /// How far it is moved to the right and upwards.
    pub moved: (f32, f32),
    /// It stands in the place of a letter that no face has.
    pub instead: bool,
}

/// Glyphs of one face that follow one another.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Which of [`FACES`].
    pub face: usize,
    /// The glyphs.
    pub glyphs: Vec<Glyph>,
}

/// The typeface.
pub struct Typeface {
    faces: Vec<(FontRef<'static>, ShaperData)>,
    /// Which face has a letter, by the face that was wanted.
    found: RefCell<BTreeMap<(usize, char), Option<usize>>>,
    widths: RefCell<HashMap<(usize, String), f32>>,
}

/// One of the faces cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("face {0} of the typeface cannot be read")]
pub struct NoTypeface(pub usize);

impl Typeface {
    /// The faces, read.
    ///
    /// # Errors
    /// If one cannot be read, which would be a fault of the program.
    pub fn new() -> Result<Self, NoTypeface> {
        let faces = FACES.iter().enumerate().map(|(i, bytes)| {
            let font = FontRef::from_index(bytes, 0).map_err(|_| NoTypeface(i))?;
            let data = ShaperData::new(&font);
            Ok((font, data))
        });
        let faces = faces.collect::<Result<_, NoTypeface>>()?;
        Ok(Self { faces, found: RefCell::default(), widths: RefCell::default() })
    }

    /// A text of one line as glyphs, run by run, from left to right.
    pub fn runs(&self, words: &str, weight: Weight) -> Vec<Run> {
        let wanted = usize::from(weight == Weight::Bold);
        let all = match words.chars().all(|c| c < RIGHT_TO_LEFT) {
            true => vec![(0..words.len(), false)],
            false => in_order(words),
        };
        let faced = |(of, is_back): (Range<usize>, bool)| self.faced(words, of, is_back, wanted);
        all.into_iter().flat_map(faced).collect()
    }

    /// A part of a text that runs one way as glyphs, face by face.
    fn faced(&self, words: &str, of: Range<usize>, is_back: bool, wanted: usize) -> Vec<Run> {
        let mut runs: Vec<Run> = Vec::new();
        let mut from = of.start;
        let mut face = None;
        for (at, letter) in words[of.clone()].char_indices() {
            let (at, has) = (of.start + at, self.face_of(letter, wanted));
            if at > from && face != Some(has) {
                runs.extend(face.map(|face| self.run(words, from..at, is_back, face, wanted)));
                from = at;
            }
            face = Some(has);
        }
        runs.extend(face.map(|face| self.run(words, from..of.end, is_back, face, wanted)));
        if is_back {
            runs.reverse();
        }
        runs
    }

    /// Letters of a text that no face has.
    pub fn lacking(&self, words: &str) -> BTreeSet<char> {
        words.chars().filter(|&c| self.face_of(c, 0).is_none()).collect()
    }

    /// The face that has a letter.
    fn face_of(&self, letter: char, wanted: usize) -> Option<usize> {
        *self.found.borrow_mut().entry((wanted, letter)).or_insert_with(|| {
            let mut text = [0; 4];
            let text: &str = letter.encode_utf8(&mut text);
            [wanted, wanted + 2, wanted + 4].into_iter().find(|&face| {
                let shaped = self.shaped(text, face, false);
                !shaped.is_empty() && shaped.iter().all(|glyph| glyph.id != 0)
            })
        })
    }

    fn run(
        &self,
        words: &str,
        of: Range<usize>,
        is_back: bool,
        face: Option<usize>,
        wanted: usize,
    ) -> Run {
        let text = &words[of.clone()];
        let Some(face) = face else {
            // Each letter by itself, standing for what was meant.
            let mut instead = [0; 4];
            let shaped = self.shaped(INSTEAD.encode_utf8(&mut instead), wanted, false);
            let each = text.char_indices().flat_map(|(at, letter)| {
                let range = of.start + at..of.start + at + letter.len_utf8();
                shaped.iter().map(move |glyph| Glyph {
                    of: range.clone(),
                    instead: true,
                    ..glyph.clone()
                })
            });
            let mut glyphs: Vec<Glyph> = each.collect();
            if is_back {
                glyphs.reverse();
            }
            return Run { face: wanted, glyphs };
        };
        let mut glyphs = self.shaped(text, face, is_back);
        for glyph in &mut glyphs {
            glyph.of = glyph.of.start + of.start..glyph.of.end + of.start;
        }
        Run { face, glyphs }
    }

    fn shaped(&self, text: &str, face: usize, is_back: bool) -> Vec<Glyph> {
        let Some((font, data)) = self.faces.get(face) else { return Vec::new() };
        let shaper: Shaper<'_> = data.shaper(font).build();
        let per_em = shaper.units_per_em() as f32;
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        buffer.set_direction(match is_back {
            true => harfrust::Direction::RightToLeft,
            false => harfrust::Direction::LeftToRight,
        });
        buffer.guess_segment_properties();
        let shaped = shaper.shape(buffer, ShapeOptions::new());
        let infos = shaped.glyph_infos();
        let starts: BTreeSet<usize> = infos.iter().map(|info| info.cluster as usize).collect();
        let glyphs = infos.iter().zip(shaped.glyph_positions()).map(|(info, position)| {
            let start = info.cluster as usize;
            let end = starts.range(start + 1..).next().copied().unwrap_or(text.len());
            Glyph {
                id: info.glyph_id,
                of: start..end,
                advance: position.x_advance as f32 / per_em,
                moved: (position.x_offset as f32 / per_em, position.y_offset as f32 / per_em),
                instead: false,
            }
        });
        glyphs.collect()
    }
}

impl Measure for Typeface {
    fn width(&self, words: &str, size: f32, weight: Weight) -> f32 {
        let key = (usize::from(weight == Weight::Bold), words.to_owned());
        let known = self.widths.borrow().get(&key).copied();
        let wide = known.unwrap_or_else(|| {
            let runs = self.runs(words, weight);
            let wide = runs.iter().flat_map(|run| &run.glyphs).map(|glyph| glyph.advance).sum();
            self.widths.borrow_mut().insert(key, wide);
            wide
        });
        wide * size
    }

    fn height(&self, size: f32, _weight: Weight) -> f32 {
        LINE * size
    }
}

/// Parts of a line from left to right, and whether each runs from right to left.
fn in_order(words: &str) -> Vec<(Range<usize>, bool)> {
    let bidi = BidiInfo::new(words, None);
    let Some(line) = bidi.paragraphs.first() else { return Vec::new() };
    let (levels, runs) = bidi.visual_runs(line, 0..words.len());
    let is_back = |of: &Range<usize>| levels.get(of.start).is_some_and(|level| level.is_rtl());
    runs.into_iter().map(|of| (of.clone(), is_back(&of))).collect()
}

/// A text fit to be printed: in one line, without marks that nobody sees.
pub fn printable(words: &str) -> String {
    let seen = words.chars().filter(|&c| !is_unseen(c));
    let seen: String = seen.map(|c| if c.is_control() { ' ' } else { c }).collect();
    seen.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Joiners, marks of direction and variants of what is before them.
fn is_unseen(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{fffe}' | '\u{ffff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_come_from_the_face_that_has_them() -> Result<(), NoTypeface> {
        let typeface = Typeface::new()?;
        let faces = |words: &str| -> Vec<usize> {
            typeface.runs(words, Weight::Bold).iter().map(|run| run.face).collect()
        };
        assert_eq!(faces("Lemon bakes"), [1]);
        assert_eq!(faces("ŵy a ⅓"), [1, 3]);
        assert!(typeface.lacking("180 °C fan · ½ – “bun” ’ × …").is_empty());
        for words in ["Замісіть тісто", "Ζυμώστε", "اعجن العجين", "לוש את הבצק", "Nhào bột"]
        {
            assert!(typeface.lacking(words).is_empty(), "{words}");
        }
        assert_eq!(typeface.lacking("रोटी"), "रोटी".chars().collect());
        Ok(())
    }

    #[test]
    fn words_that_run_from_right_to_left_are_joined_and_stand_in_order() -> Result<(), NoTypeface> {
        let typeface = Typeface::new()?;
        let starts = |words: &str| -> Vec<usize> {
            let runs = typeface.runs(words, Weight::Plain);
            runs.iter().flat_map(|run| &run.glyphs).map(|glyph| glyph.of.start).collect()
        };
        // Two bytes a letter; what is read first stands rightmost.
        assert_eq!(starts("בצק"), [4, 2, 0]);
        assert_eq!(starts("a בצק 12"), [0, 1, 9, 10, 8, 6, 4, 2]);
        let glyphs = |words: &str| -> Vec<u32> {
            let runs = typeface.runs(words, Weight::Plain);
            runs.iter().flat_map(|run| &run.glyphs).map(|glyph| glyph.id).collect()
        };
        // A letter in the midst of a word is another than by itself.
        let [last, middle, first] = glyphs("ععع")[..] else { return Err(NoTypeface(4)) };
        let alone = glyphs("ع")[0];
        assert!(first != alone && middle != alone && last != alone && first != last);
        // What is printed can be copied as it was written.
        for words in ["اعجن 200 g", "mix بسرعة now", "🍋 كعك"] {
            let runs = typeface.runs(words, Weight::Bold);
            let mut of: Vec<_> =
                runs.iter().flat_map(|r| &r.glyphs).map(|g| g.of.clone()).collect();
            of.sort_by_key(|of| of.start);
            of.dedup();
            let written: String = of.into_iter().map(|of| &words[of]).collect();
            assert_eq!(written, words);
        }
        Ok(())
    }

    #[test]
    fn a_letter_no_face_has_keeps_its_place() -> Result<(), NoTypeface> {
        let typeface = Typeface::new()?;
        let runs = typeface.runs("a🍋b", Weight::Plain);
        let of: Vec<Range<usize>> =
            runs.iter().flat_map(|run| &run.glyphs).map(|glyph| glyph.of.clone()).collect();
        assert_eq!(of, [0..1, 1..5, 5..6]);
        let (one, more) =
            (typeface.width("a", 10.0, Weight::Plain), typeface.width("a🍋", 10.0, Weight::Plain));
        assert!(more > one);
        Ok(())
    }

    #[test]
    fn what_nobody_sees_is_not_printed() {
        assert_eq!(printable(" Unit\u{202e} 1\n\tand \u{200d}2\u{fe0f} "), "Unit 1 and 2");
    }
}
