//! A reader of PDF files apart from what writes them: another library finds the
//! objects and unpacks them, and what they mean is read from the standard (ISO
//! 32000-1).

use std::collections::BTreeMap;

use hayro_syntax::Pdf;
use hayro_syntax::object::{Array, Dict, Name, Object, Stream, String as Bytes};
use hayro_syntax::page::Page;

/// A file.
pub struct PdfFile(Pdf);

/// An element of the order in which a file is read.
#[derive(Debug, Clone, PartialEq)]
pub struct Element {
    /// What it is: "H1", "Table".
    pub kind: String,
    /// What is said of it to whoever does not see it.
    pub spoken: Option<String>,
    /// The elements it is made of.
    pub children: Vec<Element>,
}

impl Element {
    /// It and all that is in it.
    pub fn all(&self) -> Vec<&Element> {
        let within = self.children.iter().flat_map(Element::all);
        std::iter::once(self).chain(within).collect()
    }
}

/// A text of a file: UTF-16 behind its mark, else taken letter by letter.
fn text(bytes: &[u8]) -> String {
    let Some(units) = bytes.strip_prefix(&[0xfe, 0xff]) else {
        return bytes.iter().map(|&byte| char::from(byte)).collect();
    };
    let units = units.chunks(2).map(|two| u16::from_be_bytes([two[0], two[1]]));
    String::from_utf16(&units.collect::<Vec<_>>()).unwrap()
}

/// What hexadecimal figures of UTF-16 stand for.
fn utf16(hex: &str) -> String {
    let digits: Vec<char> = hex.chars().collect();
    let unit = |four: &[char]| u16::from_str_radix(&four.iter().collect::<String>(), 16).unwrap();
    String::from_utf16(&digits.chunks(4).map(unit).collect::<Vec<_>>()).unwrap()
}

impl PdfFile {
    /// Reads a file.
    pub fn read(bytes: &[u8]) -> Self {
        assert!(bytes.starts_with(b"%PDF-1.7"));
        Self(Pdf::new(bytes.to_vec()).unwrap_or_else(|fault| panic!("{fault:?}")))
    }

    fn catalog(&self) -> Dict<'_> {
        self.0.xref().get(self.0.xref().root_id()).unwrap()
    }

    /// The language of its words.
    pub fn language(&self) -> String {
        text(&self.catalog().get::<Bytes>("Lang").unwrap())
    }

    /// Its title, which is shown instead of the file's name.
    pub fn title(&self) -> String {
        let shows = self.catalog().get::<Dict>("ViewerPreferences").unwrap();
        assert_eq!(shows.get::<bool>("DisplayDocTitle"), Some(true));
        text(self.0.metadata().title.as_ref().unwrap())
    }

    /// What it says of itself for programs.
    pub fn about(&self) -> String {
        let about = self.catalog().get::<Stream>("Metadata").unwrap();
        String::from_utf8(about.decoded().unwrap().into_owned()).unwrap()
    }

    /// The lines of its list of contents.
    pub fn contents(&self) -> Vec<String> {
        let outlines = self.catalog().get::<Dict>("Outlines").unwrap();
        let mut line = outlines.get::<Dict>("First");
        let mut lines = Vec::new();
        while let Some(of) = line {
            lines.push(text(&of.get::<Bytes>("Title").unwrap()));
            line = of.get("Next");
        }
        lines
    }

    /// The order in which it is read.
    pub fn tags(&self) -> Element {
        let marked = self.catalog().get::<Dict>("MarkInfo").unwrap();
        assert_eq!(marked.get::<bool>("Marked"), Some(true));
        let root = self.catalog().get::<Dict>("StructTreeRoot").unwrap();
        let mut all = elements(&root);
        assert_eq!(all.len(), 1, "there is one document");
        all.remove(0)
    }

    /// The faces of its pages by name, each with the program that draws it.
    pub fn faces(&self) -> BTreeMap<String, Vec<u8>> {
        let mut faces = BTreeMap::new();
        for page in self.0.pages().iter() {
            let fonts = page.resources().fonts.clone();
            for name in fonts.keys() {
                let font = fonts.get::<Dict>(&*name).unwrap();
                let cid = font.get::<Array>("DescendantFonts").unwrap().iter::<Dict>().next();
                let descriptor = cid.unwrap().get::<Dict>("FontDescriptor").unwrap();
                let program = descriptor.get::<Stream>("FontFile2").unwrap();
                let program = program.decoded().unwrap().into_owned();
                faces.insert(font.get::<Name>("BaseFont").unwrap().as_str().to_owned(), program);
            }
        }
        faces
    }

    /// Width and height of each page.
    pub fn sizes(&self) -> Vec<(f64, f64)> {
        let boxes = self.0.pages().iter().map(|page| page.media_box());
        boxes.map(|of| (of.x1 - of.x0, of.y1 - of.y0)).collect()
    }

    /// Each page goes through what is on it in the order in which it is read.
    pub fn is_gone_through_in_order(&self) -> bool {
        let tabs = |page: &Page<'_>| page.raw().get::<Name>("Tabs").is_some_and(|t| &*t == b"S");
        self.0.pages().iter().all(|page| tabs(page) && page.raw().contains_key("StructParents"))
    }

    /// The words of each page in the order in which they are drawn.
    pub fn pages(&self) -> Vec<String> {
        self.0.pages().iter().map(|page| words(page, false)).collect()
    }

    /// The same, with what is meant where it is not what is seen.
    pub fn meant(&self) -> Vec<String> {
        self.0.pages().iter().map(|page| words(page, true)).collect()
    }
}

/// The elements directly in one.
fn elements(of: &Dict<'_>) -> Vec<Element> {
    let kids = match of.get::<Object>("K") {
        Some(Object::Array(kids)) => kids.iter::<Object>().collect(),
        Some(one) => vec![one],
        None => Vec::new(),
    };
    let kids = kids.into_iter().filter_map(Object::into_dict);
    let element = |kid: Dict<'_>| {
        let kind = kid.get::<Name>("S")?.as_str().to_owned();
        let spoken = kid.get::<Bytes>("Alt").map(|words| text(&words));
        Some(Element { kind, spoken, children: elements(&kid) })
    };
    kids.filter_map(element).collect()
}

fn words(page: &Page<'_>, meant: bool) -> String {
    let mut words = String::new();
    let mut faces: BTreeMap<String, BTreeMap<u16, String>> = BTreeMap::new();
    let mut face = String::new();
    // Of what is marked and still open, whether it means other words.
    let mut open: Vec<bool> = Vec::new();
    let mut operations = page.operations();
    while let Some(operation) = operations.next() {
        let operands: Vec<Object<'_>> = operation.operands().cloned().collect();
        match &**operation.operator {
            b"BMC" | b"BDC" => {
                if open.is_empty() {
                    words.push('\n');
                }
                let about = operands.into_iter().nth(1).and_then(|about| match about {
                    Object::Name(name) => page.resources().properties.get::<Dict>(&*name),
                    other => other.into_dict(),
                });
                let means = about.and_then(|about| about.get::<Bytes>("ActualText"));
                open.push(means.is_some());
                if meant && let Some(means) = means {
                    words.push_str(&text(&means));
                }
            }
            b"EMC" => {
                open.pop().expect("nothing is open that could end");
            }
            b"Tf" => {
                let name = operands.into_iter().next().and_then(Object::into_name).unwrap();
                face = name.as_str().to_owned();
                let font = || page.resources().fonts.get::<Dict>(&*name).unwrap();
                faces.entry(face.clone()).or_insert_with(|| meanings(&font()));
            }
            b"Tj" | b"TJ" => {
                let told = operands.into_iter().flat_map(|operand| match operand {
                    Object::Array(all) => all.iter::<Object>().collect(),
                    one => vec![one],
                });
                for glyphs in told.filter_map(Object::into_string) {
                    for glyph in glyphs.as_bytes().chunks(2) {
                        if !(meant && open.contains(&true)) {
                            let glyph = u16::from_be_bytes([glyph[0], glyph[1]]);
                            words.push_str(faces[&face].get(&glyph).map_or("?", String::as_str));
                        }
                    }
                }
            }
            _ => {}
        }
    }
    assert!(open.is_empty(), "what was marked does not end");
    words
}

/// What each glyph of a face stands for.
fn meanings(font: &Dict<'_>) -> BTreeMap<u16, String> {
    let map = font.get::<Stream>("ToUnicode").unwrap();
    let map = String::from_utf8(map.decoded().unwrap().into_owned()).unwrap();
    assert!(!map.contains("beginbfrange"), "ranges of glyphs are not read");
    let pair = |line: &str| {
        let (glyph, means) = line.strip_prefix('<')?.split_once("> <")?;
        Some((u16::from_str_radix(glyph, 16).unwrap(), utf16(means.strip_suffix('>')?)))
    };
    let body = map.split("endcodespacerange").nth(1).unwrap();
    body.lines().filter_map(pair).collect()
}
