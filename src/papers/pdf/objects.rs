//! The objects of a PDF file, its table of them and its end (ISO 32000-1,
//! chapter 7), as far as sheets want them.

use std::fmt::Write as _;

/// The number of an object.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Ref(usize);

impl std::fmt::Display for Ref {
    /// As one object names another.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} 0 R", self.0)
    }
}

/// A file while it is written.
pub(super) struct Objects {
    bytes: Vec<u8>,
    /// By number, from 1: where each begins; 0 if it is not written yet.
    begins: Vec<usize>,
}

impl Objects {
    pub(super) fn new() -> Self {
        // The second line tells whoever copies files that this one is binary.
        Self { bytes: b"%PDF-1.7\n%\xE2\xE3\xCF\xD3\n".to_vec(), begins: Vec::new() }
    }

    /// A number for an object that is written later.
    pub(super) fn next(&mut self) -> Ref {
        self.begins.push(0);
        Ref(self.begins.len())
    }

    /// Writes an object.
    pub(super) fn put(&mut self, id: Ref, body: &str) {
        self.begin(id);
        self.bytes.extend(body.as_bytes());
        self.bytes.extend(b"\nendobj\n");
    }

    /// Writes a dictionary of these entries.
    pub(super) fn dictionary(&mut self, id: Ref, entries: &str) {
        self.put(id, &format!("<< {entries} >>"));
    }

    /// Writes a stream of bytes, with entries beside its length.
    pub(super) fn stream(&mut self, id: Ref, entries: &str, data: &[u8]) {
        self.begin(id);
        let head = format!("<< /Length {} {entries} >>\nstream\n", data.len());
        self.bytes.extend(head.as_bytes());
        self.bytes.extend(data);
        self.bytes.extend(b"\nendstream\nendobj\n");
    }

    fn begin(&mut self, id: Ref) {
        if let Some(begins) = self.begins.get_mut(id.0 - 1) {
            *begins = self.bytes.len();
        }
        self.bytes.extend(format!("{} 0 obj\n", id.0).as_bytes());
    }

    /// The whole file.
    pub(super) fn finish(mut self, root: Ref, info: Ref) -> Vec<u8> {
        let table = self.bytes.len();
        let count = self.begins.len() + 1;
        let mut end = format!("xref\n0 {count}\n0000000000 65535 f \n");
        for begins in &self.begins {
            // Writing to a string does not fail.
            let _ = writeln!(end, "{begins:010} 00000 n ");
        }
        let _ = write!(
            end,
            "trailer\n<< /Size {count} /Root {root} /Info {info} >>\nstartxref\n{table}\n%%EOF\n"
        );
        self.bytes.extend(end.as_bytes());
        self.bytes
    }
}

/// References one after another.
pub(super) fn list(refs: &[Ref]) -> String {
    refs.iter().map(Ref::to_string).collect::<Vec<_>>().join(" ")
}

/// A text for people, in whatever letters.
pub(super) fn text(words: &str) -> String {
    let mut hex = "<FEFF".to_owned();
    for part in words.encode_utf16() {
        let _ = write!(hex, "{part:04X}");
    }
    hex + ">"
}

/// A number as a PDF has it: never with an exponent.
pub(super) fn number(value: f32) -> String {
    let value = if value.is_finite() { value } else { 0.0 };
    let told = format!("{value:.3}");
    let told = told.trim_end_matches('0').trim_end_matches('.');
    if told == "-0" { "0".to_owned() } else { told.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_no_exponent() {
        let told = [1.0, -0.0001, 0.5, 1e-9, 595.276, f32::NAN].map(number);
        assert_eq!(told, ["1", "0", "0.5", "0", "595.276", "0"]);
    }

    #[test]
    fn texts_are_told_in_any_letters() {
        assert_eq!(text("a🍋"), "<FEFF0061D83CDF4B>");
    }

    #[test]
    fn the_table_tells_where_objects_begin() {
        let mut objects = Objects::new();
        let (one, two) = (objects.next(), objects.next());
        objects.stream(two, "", b"0 0 m");
        objects.dictionary(one, "/Type /Catalog");
        let file = objects.finish(one, two);
        let text = String::from_utf8_lossy(&file);
        let table: usize = text
            .rsplit("startxref\n")
            .next()
            .unwrap_or_default()
            .lines()
            .next()
            .and_then(|n| n.parse().ok())
            .unwrap_or(0);
        assert!(file[table..].starts_with(b"xref\n0 3\n"));
        let row =
            String::from_utf8_lossy(&file[table..]).lines().nth(3).unwrap_or_default().to_owned();
        let begins: usize = row[..10].parse().unwrap_or(0);
        assert!(file[begins..].starts_with(b"1 0 obj\n<< /Type /Catalog >>"));
        assert_eq!(row.len(), 19, "a row is twenty bytes with its end");
    }
}
