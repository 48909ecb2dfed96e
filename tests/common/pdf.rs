//! A reader of PDF files, written from the standard (ISO 32000-1) apart from
//! what writes them: enough of it for files without compression.

use std::collections::BTreeMap;

/// A file by its table of objects.
pub struct PdfFile {
    objects: BTreeMap<usize, Vec<u8>>,
    trailer: String,
}

/// The text after a name of a dictionary.
fn after<'a>(dictionary: &'a str, name: &str) -> Option<&'a str> {
    let named = format!("{name} ");
    let at = dictionary.find(&named)?;
    Some(&dictionary[at + named.len()..])
}

fn references(list: &str) -> Vec<usize> {
    let words: Vec<&str> = list.split_whitespace().collect();
    let is_reference = |part: &&[&str]| part[1] == "0" && part[2] == "R";
    words.windows(3).filter(is_reference).map(|part| part[0].parse().unwrap()).collect()
}

/// What hexadecimal figures of UTF-16 stand for.
fn utf16(hex: &str) -> String {
    let digits: Vec<char> = hex.chars().collect();
    let parts = digits
        .chunks(4)
        .map(|part| u16::from_str_radix(&part.iter().collect::<String>(), 16).unwrap());
    String::from_utf16(&parts.collect::<Vec<_>>())
        .unwrap()
        .trim_start_matches('\u{feff}')
        .to_owned()
}

impl PdfFile {
    /// Reads a file by the table at its end.
    pub fn read(bytes: &[u8]) -> Self {
        assert!(bytes.starts_with(b"%PDF-1.7"));
        let text = String::from_utf8_lossy(&bytes[bytes.len().saturating_sub(200)..]).into_owned();
        let table = text.rsplit("startxref\n").next().unwrap().lines().next().unwrap();
        let table: usize = table.parse().unwrap();
        let table = String::from_utf8(bytes[table..].to_vec()).unwrap();
        let rows = table.lines().skip(3).take_while(|line| line.ends_with("n "));
        let mut objects = BTreeMap::new();
        for (i, row) in rows.enumerate() {
            let begins: usize = row[..10].parse().unwrap();
            let head = format!("{} 0 obj\n", i + 1);
            assert!(bytes[begins..].starts_with(head.as_bytes()), "object {} is elsewhere", i + 1);
            objects.insert(i + 1, bytes[begins + head.len()..].to_vec());
        }
        Self { objects, trailer: table }
    }

    /// The dictionary of an object, or whatever it is, as text.
    pub fn dictionary(&self, id: usize) -> String {
        let bytes = &self.objects[&id];
        let ends = |word: &[u8]| bytes.windows(word.len()).position(|part| part == word);
        let stream = ends(b"\nstream\n").unwrap_or(usize::MAX);
        let end = ends(b"\nendobj").unwrap().min(stream);
        String::from_utf8(bytes[..end].to_vec()).unwrap()
    }

    /// The bytes of a stream.
    pub fn stream(&self, id: usize) -> Vec<u8> {
        let bytes = &self.objects[&id];
        let length = after(&self.dictionary(id), "/Length").unwrap().to_owned();
        let length: usize = length.split_whitespace().next().unwrap().parse().unwrap();
        let word = b"stream\n";
        let from = bytes.windows(word.len()).position(|part| part == word).unwrap() + word.len();
        assert!(bytes[from + length..].starts_with(b"\nendstream"), "{id} is of another length");
        bytes[from..from + length].to_vec()
    }

    /// What an entry of a dictionary refers to.
    pub fn refers(&self, dictionary: &str, name: &str) -> usize {
        references(after(dictionary, name).unwrap())[0]
    }

    /// The catalog.
    pub fn catalog(&self) -> String {
        self.dictionary(self.refers(&self.trailer, "/Root"))
    }

    /// A text of the document's own dictionary.
    pub fn info(&self, name: &str) -> String {
        let info = self.dictionary(self.refers(&self.trailer, "/Info"));
        let hex = after(&info, name).unwrap().trim_start_matches('<');
        utf16(hex.split('>').next().unwrap())
    }

    /// Dictionaries of all objects.
    pub fn dictionaries(&self) -> impl Iterator<Item = String> + '_ {
        self.objects.keys().map(|id| self.dictionary(*id))
    }

    fn page_ids(&self) -> Vec<usize> {
        let tree = self.dictionary(self.refers(&self.catalog(), "/Pages"));
        let kids = after(&tree, "/Kids").unwrap();
        references(&kids.split(']').next().unwrap().replace('[', ""))
    }

    /// The words of each page in the order in which they are drawn.
    pub fn pages(&self) -> Vec<String> {
        self.page_ids().into_iter().map(|page| self.words(page, false)).collect()
    }

    /// The same, with what is meant where it is not what is seen.
    pub fn meant(&self) -> Vec<String> {
        self.page_ids().into_iter().map(|page| self.words(page, true)).collect()
    }

    fn words(&self, page: usize, meant: bool) -> String {
        let page = self.dictionary(page);
        let content = self.stream(self.refers(&page, "/Contents"));
        let content = String::from_utf8(content).unwrap();
        let mut faces: BTreeMap<String, BTreeMap<String, String>> = BTreeMap::new();
        let (mut words, mut face, mut within) = (String::new(), String::new(), false);
        for line in content.lines() {
            if line.starts_with("/P ") || line.starts_with("/Artifact ") {
                words.push('\n');
            } else if let Some(span) = line.strip_prefix("/Span << /ActualText <") {
                within = true;
                if meant {
                    words.push_str(&utf16(span.split('>').next().unwrap()));
                }
            } else if line == "EMC" {
                within = false;
            } else if line.ends_with(" Tf") {
                face = line.split(' ').next().unwrap().to_owned();
                let font = self.refers(&page, &face);
                faces.entry(face.clone()).or_insert_with(|| self.meanings(font));
            } else if let Some(hex) = line.strip_suffix("> Tj") {
                let glyphs: Vec<char> = hex.trim_start_matches('<').chars().collect();
                for glyph in glyphs.chunks(4).filter(|_| !(within && meant)) {
                    let glyph: String = glyph.iter().collect();
                    let unknown = || "?".to_owned();
                    words.push_str(&faces[&face].get(&glyph).cloned().unwrap_or_else(unknown));
                }
            }
        }
        words
    }

    /// What each glyph of a face stands for.
    fn meanings(&self, font: usize) -> BTreeMap<String, String> {
        let map = self.stream(self.refers(&self.dictionary(font), "/ToUnicode"));
        let map = String::from_utf8(map).unwrap();
        let pair = |line: &str| {
            let (glyph, means) = line.strip_prefix('<')?.split_once("> <")?;
            Some((glyph.to_owned(), utf16(means.strip_suffix('>')?)))
        };
        let body = map.split("endcodespacerange").nth(1).unwrap();
        body.lines().filter_map(pair).collect()
    }
}
