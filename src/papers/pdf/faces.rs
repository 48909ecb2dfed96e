//! The faces in a PDF: embedded whole, with the widths of their glyphs, and
//! what each glyph that is used stands for.

use std::collections::BTreeMap;

use super::NoPdf;
use super::objects::{Objects, Ref, number};
use crate::papers::typeface::{FACES, Glyph};

/// Names of the faces in a PDF, and of their resources, in their order.
const NAMES: [(&str, &str); 4] = [
    ("AtkinsonHyperlegible-Regular", "F0"),
    ("AtkinsonHyperlegible-Bold", "F1"),
    ("Letters-Regular", "F2"),
    ("Letters-Bold", "F3"),
];
/// Thickness of upright strokes, which files of this kind must tell though
/// nobody goes by it where the face is embedded: about right for text faces.
const STEM: [u32; 2] = [80, 140];
/// So many lines a section of a table of meanings may have.
const MEANINGS: usize = 100;

/// The name under which a page knows a face.
pub(super) fn resource(face: usize) -> &'static str {
    NAMES.get(face).map_or("F0", |(_, resource)| resource)
}

/// All faces.
pub(super) struct Faces(Vec<Face>);

/// A face, as far as it is used.
struct Face {
    font: Ref,
    others: [Ref; 4],
    figures: Figures,
    /// What each glyph stands for.
    means: BTreeMap<u16, String>,
}

/// What a face says of itself, in thousandths of the size of its letters.
struct Figures {
    widths: Vec<f32>,
    bounds: [f32; 4],
    ascent: f32,
    descent: f32,
}

impl Faces {
    pub(super) fn new(file: &mut Objects) -> Result<Self, NoPdf> {
        let face = |bytes: &&[u8]| {
            let figures = Figures::read(bytes);
            let figures = figures.ok_or_else(|| NoPdf("a face cannot be read".to_owned()))?;
            let font = file.next();
            let others = [file.next(), file.next(), file.next(), file.next()];
            Ok(Face { font, others, figures, means: BTreeMap::new() })
        };
        FACES.iter().map(face).collect::<Result<_, _>>().map(Self)
    }

    /// The faces as a page names them.
    pub(super) fn named(&self) -> String {
        let named = self.0.iter().enumerate();
        named.map(|(i, face)| format!("/{} {} ", resource(i), face.font)).collect()
    }

    /// A glyph's own width, in sizes of the letters.
    pub(super) fn width(&self, face: usize, id: u16) -> f32 {
        let widths = self.0.get(face).map(|face| &face.figures.widths);
        widths.and_then(|widths| widths.get(usize::from(id))).map_or(0.0, |wide| wide / 1000.0)
    }

    /// Notes that a glyph is used; whether the face alone says what it means
    /// here.
    pub(super) fn use_glyph(&mut self, face: usize, glyph: &Glyph, means: &str) -> bool {
        let (Some(face), Ok(id)) = (self.0.get_mut(face), u16::try_from(glyph.id)) else {
            return false;
        };
        if glyph.instead || means.is_empty() {
            return false;
        }
        face.means.entry(id).or_insert_with(|| means.to_owned()) == means
    }

    pub(super) fn write(&self, file: &mut Objects) {
        for (i, face) in self.0.iter().enumerate() {
            face.write(file, (NAMES[i].0, STEM[i % 2], FACES[i]));
        }
    }
}

impl Face {
    fn write(&self, file: &mut Objects, (name, stem, bytes): (&str, u32, &[u8])) {
        let [cid, descriptor, program, unicode] = self.others;
        file.dictionary(
            self.font,
            &format!(
                "/Type /Font /Subtype /Type0 /BaseFont /{name} /Encoding /Identity-H \
                 /DescendantFonts [{cid}] /ToUnicode {unicode}"
            ),
        );
        let Figures { widths, bounds, ascent, descent } = &self.figures;
        let numbers = |all: &[f32]| all.iter().map(|n| number(*n)).collect::<Vec<_>>().join(" ");
        file.dictionary(
            cid,
            &format!(
                "/Type /Font /Subtype /CIDFontType2 /BaseFont /{name} /CIDSystemInfo << /Registry \
                 (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor {descriptor} \
                 /CIDToGIDMap /Identity /DW 0 /W [0 [{}]]",
                numbers(widths)
            ),
        );
        let (up, down) = (number(*ascent), number(*descent));
        file.dictionary(
            descriptor,
            &format!(
                "/Type /FontDescriptor /FontName /{name} /Flags 4 /FontBBox [{}] /ItalicAngle 0 \
                 /Ascent {up} /Descent {down} /CapHeight {up} /StemV {stem} /FontFile2 {program}",
                numbers(bounds)
            ),
        );
        file.stream(program, &format!("/Length1 {}", bytes.len()), bytes);
        file.stream(unicode, "", self.meanings().as_bytes());
    }

    /// What each glyph stands for, as a CMap (ISO 32000-1, 9.10.3).
    fn meanings(&self) -> String {
        let mut map = "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n\
             /CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n\
             /CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n\
             1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n"
            .to_owned();
        let all: Vec<(&u16, &String)> = self.means.iter().collect();
        for part in all.chunks(MEANINGS) {
            map.push_str(&format!("{} beginbfchar\n", part.len()));
            for (id, means) in part {
                let hex: String = means.encode_utf16().map(|u| format!("{u:04X}")).collect();
                map.push_str(&format!("<{id:04X}> <{hex}>\n"));
            }
            map.push_str("endbfchar\n");
        }
        map.push_str("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
        map
    }
}

impl Figures {
    /// Reads the tables `head`, `hhea` and `hmtx` of a TrueType file (ISO/IEC
    /// 14496-22, the Open Font Format).
    fn read(bytes: &[u8]) -> Option<Self> {
        let (head, hhea) = (table(bytes, *b"head")?, table(bytes, *b"hhea")?);
        let hmtx = table(bytes, *b"hmtx")?;
        let glyphs = usize::from(unsigned(table(bytes, *b"maxp")?, 4)?);
        let scale = 1000.0 / f32::from(unsigned(head, 18)?);
        let signed = |table: &[u8], at| Some(scale * f32::from(unsigned(table, at)?.cast_signed()));
        let told = usize::from(unsigned(hhea, 34)?).max(1);
        let width = |glyph: usize| {
            // The last width told is that of all glyphs after it.
            let wide = unsigned(hmtx, 4 * glyph.min(told - 1))?;
            Some(scale * f32::from(wide))
        };
        Some(Self {
            widths: (0..glyphs).map(width).collect::<Option<_>>()?,
            bounds: [signed(head, 36)?, signed(head, 38)?, signed(head, 40)?, signed(head, 42)?],
            ascent: signed(hhea, 4)?,
            descent: signed(hhea, 6)?,
        })
    }
}

/// A table of a TrueType file.
fn table(bytes: &[u8], tag: [u8; 4]) -> Option<&[u8]> {
    let tables = usize::from(unsigned(bytes, 4)?);
    let record =
        (0..tables).map(|i| 12 + 16 * i).find(|&at| bytes.get(at..at + 4) == Some(&tag))?;
    let long = |at: usize| -> Option<usize> {
        Some(usize::from(unsigned(bytes, at)?) << 16 | usize::from(unsigned(bytes, at + 2)?))
    };
    let (from, length) = (long(record + 8)?, long(record + 12)?);
    bytes.get(from..from.checked_add(length)?)
}

fn unsigned(bytes: &[u8], at: usize) -> Option<u16> {
    let two = bytes.get(at..at + 2)?;
    Some(u16::from_be_bytes([two[0], two[1]]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::papers::typeface::Typeface;
    use crate::view::scene::{Measure, Weight};

    #[test]
    fn widths_are_those_that_are_measured() -> Result<(), NoPdf> {
        let faces = Faces::new(&mut Objects::new())?;
        let typeface = Typeface::new().map_err(|error| NoPdf(error.to_string()))?;
        for letter in ["a", "W", "8", "°"] {
            let runs = typeface.runs(letter, Weight::Plain);
            let id = u16::try_from(runs[0].glyphs[0].id).unwrap_or(0);
            let measured = typeface.width(letter, 1.0, Weight::Plain);
            assert!((faces.width(0, id) - measured).abs() < 1e-3, "{letter}");
        }
        Ok(())
    }
}
