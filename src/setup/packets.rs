//! How ingredients are bought and who read which label, as changes of the lesson's
//! file.

use crate::edit::FileChange;
use crate::file::format::{LessonFile, PacketShape};
use crate::finding::Finding;

/// What somebody read on the label of an ingredient's packet, or that it is another
/// packet, which nobody has read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabelRead {
    /// The ingredient.
    pub of: String,
    /// Allergens it names, who read it and when; `None` of another packet.
    pub read: Option<(Vec<String>, String, Option<String>)>,
}

impl FileChange for LabelRead {
    fn label(&self) -> String {
        match &self.read {
            Some((_, by, _)) => format!("the label of {}, read by {by}", self.of),
            None => format!("another packet of {}", self.of),
        }
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        let packet = packet_mut(file, &self.of);
        match &self.read {
            Some((names, by, on)) => {
                packet.names = Some(names.clone());
                packet.read_by.clone_from(by);
                packet.read_on.clone_from(on);
            }
            None => not_read(packet),
        }
        Ok(())
    }
}

/// Where the packet of an ingredient stands in the file, or would stand.
pub fn place_of(file: &LessonFile, ingredient: &str) -> usize {
    let same = |p: &PacketShape| folded(&p.of) == folded(ingredient);
    file.packets.iter().position(same).unwrap_or(file.packets.len())
}

/// The packet of an ingredient, which is made if there is none.
pub fn packet_mut<'f>(file: &'f mut LessonFile, ingredient: &str) -> &'f mut PacketShape {
    let at = place_of(file, ingredient);
    if at == file.packets.len() {
        file.packets
            .push(PacketShape { of: ingredient.trim().to_owned(), ..PacketShape::default() });
    }
    &mut file.packets[at]
}

/// A packet of another brand: nobody has read its label.
pub fn swap(packet: &mut PacketShape, brand: String) {
    if packet.brand != brand {
        not_read(packet);
    }
    packet.brand = brand;
}

fn not_read(packet: &mut PacketShape) {
    packet.names = None;
    packet.read_by = String::new();
    packet.read_on = None;
}

fn folded(name: &str) -> String {
    name.trim().to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn another_brand_is_another_label() -> Result<(), Finding> {
        let read = LabelRead {
            of: "Flour".into(),
            read: Some((vec!["wheat".into()], "KT".into(), Some("2026-11-20".into()))),
        };
        let file = read.made(&LessonFile::default())?;
        assert_eq!((file.packets.len(), file.packets[0].read_by.as_str()), (1, "KT"));
        let mut file = LabelRead { of: " flour".into(), ..read }.made(&file)?;
        assert_eq!(file.packets.len(), 1);
        swap(packet_mut(&mut file, "flour"), String::new());
        assert!(file.packets[0].names.is_some(), "it is the same");
        swap(packet_mut(&mut file, "flour"), "Miller's own".into());
        let packet = &file.packets[0];
        assert!(packet.names.is_none() && packet.read_by.is_empty() && packet.read_on.is_none());
        let gone = LabelRead { of: "flour".into(), read: None }.made(&file)?;
        assert_eq!(gone, file);
        Ok(())
    }
}
