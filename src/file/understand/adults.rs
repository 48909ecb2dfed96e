//! Adults and their hours.

use super::Builder;
use crate::file::format::AdultShape;
use crate::finding::Path;
use crate::model::{Adult, GroupId, RoomId};
use crate::units::Minute;

impl Builder<'_> {
    pub(super) fn adults(&mut self) {
        let path = Path::root().field("adults");
        let file = self.file;
        for (i, shape) in file.adults.iter().enumerate().take(self.adults.len()) {
            let adult = self.adult(&path.index(i), shape);
            self.parts.adults.push(adult);
        }
    }

    fn adult(&mut self, path: &Path, shape: &AdultShape) -> Adult {
        let room = shape.room.as_ref().and_then(|name| {
            self.rooms.find(&mut self.findings, &path.field("room"), name).map(RoomId)
        });
        let attached_to = shape.only_for.as_ref().and_then(|name| {
            self.groups.find(&mut self.findings, &path.field("only_for"), name).map(GroupId)
        });
        let hours = self.hours(&path.field("hours"), &shape.hours);
        Adult { name: shape.name.clone(), room, hours, attached_to }
    }

    fn hours(&mut self, path: &Path, stated: &[(i32, i32)]) -> Vec<(Minute, Minute)> {
        let (from, until) = AdultShape::ALWAYS;
        if stated.is_empty() {
            return vec![(Minute::new(from), Minute::new(until))];
        }
        if !self.findings.length(path, "stretches", stated.len(), 60) {
            return Vec::new();
        }
        for (i, &(a, b)) in stated.iter().enumerate() {
            if a >= b || a < from || b > until {
                let message = format!("from minute {a} to minute {b} is no stretch of the day");
                let hint = "minutes count from the first start bell; write (from, until)";
                self.findings.error("hours", &path.index(i), message, hint);
            }
        }
        stated.iter().map(|&(a, b)| (Minute::new(a), Minute::new(b))).collect()
    }
}
