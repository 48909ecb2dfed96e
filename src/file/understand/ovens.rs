//! Ovens, with what is assumed where nothing is said.

use super::Builder;
use super::names::expand;
use crate::file::format::{OvenKindShape, OvenShape};
use crate::finding::Path;
use crate::model::{About, Figure, Oven, OvenId, OvenKind, RoomId, Shelf, UnitId};
use crate::units::{ExactMinutes, Kelvins, Millimetres};

/// Most ovens of a lesson.
pub(super) const MOST_OVENS: u32 = 60;

impl Builder<'_> {
    pub(super) fn ovens(
        &mut self,
        path: &Path,
        shapes: &[OvenShape],
        room: RoomId,
        unit: Option<UnitId>,
    ) {
        if !self.findings.length(path, "ovens", shapes.len(), MOST_OVENS as usize) {
            return;
        }
        for (i, shape) in shapes.iter().enumerate() {
            self.oven(&path.index(i), shape, room, unit);
        }
    }

    fn oven(&mut self, path: &Path, shape: &OvenShape, room: RoomId, unit: Option<UnitId>) {
        let count = shape.count.map(|count| {
            let path = path.field("count");
            self.findings.count(&path, "the number of ovens", count, (1, MOST_OVENS)).unwrap_or(1)
        });
        let mut assumed = Vec::new();
        let oven = self.one_oven(path, shape, &mut assumed);
        for name in expand(&shape.name, count) {
            self.ovens.add(&mut self.findings, &path.field("name"), &name);
            let id = OvenId(self.parts.ovens.len());
            for (field, text) in &assumed {
                let at = path.field(field);
                self.assume(About::Oven(id), at, format!("{text} ({name})"));
            }
            self.parts.ovens.push(Oven { name, room, unit, ..oven.clone() });
        }
        let total = self.ovens.len();
        let message = format!("that makes {total} ovens; {MOST_OVENS} at most");
        if total > MOST_OVENS as usize {
            self.findings.error("count", path, message, "");
        }
    }

    /// The oven an entry describes, and which of its fields it leaves to be
    /// assumed.
    fn one_oven(
        &mut self,
        path: &Path,
        shape: &OvenShape,
        assumed: &mut Vec<(&'static str, String)>,
    ) -> Oven {
        let kind = match shape.kind.unwrap_or_default() {
            OvenKindShape::Fan => OvenKind::Fan,
            OvenKindShape::Conventional => OvenKind::Conventional,
            OvenKindShape::Gas => OvenKind::Gas,
        };
        let warm_up = self.oven_minutes(path, "warm_up", shape.warm_up, 15.0);
        if shape.warm_up.is_none() {
            assumed.push(("warm_up", "oven warm-up to 180 °C: 15 min".into()));
        }
        let cool_down = self.oven_minutes(path, "cool_down", shape.cool_down, 10.0);
        if shape.cool_down.is_none() {
            assumed.push(("cool_down", "oven cool-down by 20 °C: 10 min".into()));
        }
        let gap = match shape.gap_mm {
            Some(gap) => Figure::entered(self.length(&path.field("gap_mm"), "the gap", gap, 0.0)),
            None => {
                assumed.push(("gap_mm", "air gap between tins: 20 mm".into()));
                Figure::assumed(Millimetres::whole(20))
            }
        };
        let runs_hot = shape.runs_hot.unwrap_or(0.0);
        let at = path.field("runs_hot");
        let hot = self.findings.range(&at, "how much it runs hot", runs_hot, (-60.0, 60.0));
        Oven {
            name: String::new(),
            room: RoomId(0),
            unit: None,
            kind,
            shelves: self.shelves(path, shape, kind, assumed),
            gap,
            warm_up,
            cool_down,
            correction: Kelvins::new(hot.unwrap_or(0.0)).unwrap_or(Kelvins::ZERO),
            out_of_order: false,
            out_from: None,
            on_from: None,
        }
    }

    fn shelves(
        &mut self,
        path: &Path,
        shape: &OvenShape,
        kind: OvenKind,
        assumed: &mut Vec<(&'static str, String)>,
    ) -> Vec<Shelf> {
        let usual = if kind == OvenKind::Fan { 2 } else { 1 };
        let count = match shape.shelves {
            Some(count) => {
                let path = path.field("shelves");
                self.findings.count(&path, "the number of shelves", count, (1, 10)).unwrap_or(1)
            }
            None => {
                assumed.push(("shelves", format!("usable oven shelves: {usual}")));
                usual
            }
        };
        let (width, depth) = match shape.shelf_mm {
            Some((width, depth)) => {
                let path = path.field("shelf_mm");
                (
                    self.length(&path.index(0), "the width of a shelf", width, 50.0),
                    self.length(&path.index(1), "the depth of a shelf", depth, 50.0),
                )
            }
            None => {
                assumed.push(("shelf_mm", "usable oven shelf: 420 × 360 mm".into()));
                (Millimetres::whole(420), Millimetres::whole(360))
            }
        };
        let clear = match shape.clear_mm {
            Some(clear) => self.length(&path.field("clear_mm"), "the clear height", clear, 10.0),
            None => {
                assumed.push(("clear_mm", "clear height over an oven shelf: 120 mm".into()));
                Millimetres::whole(120)
            }
        };
        (0..count).map(|_| Shelf { width, depth, clear }).collect()
    }

    fn oven_minutes(
        &mut self,
        path: &Path,
        field: &str,
        stated: Option<f64>,
        usual: f64,
    ) -> Figure<ExactMinutes> {
        let what = if field == "warm_up" { "the warm-up" } else { "the cool-down" };
        let wrap = |minutes| ExactMinutes::new(minutes).unwrap_or_default();
        match stated {
            None => Figure::assumed(wrap(usual)),
            Some(minutes) => {
                let path = path.field(field);
                let minutes = self.findings.range(&path, what, minutes, (0.0, 240.0));
                Figure::entered(wrap(minutes.unwrap_or(usual)))
            }
        }
    }

    /// A length in millimetres from `least` to two metres.
    pub(super) fn length(&mut self, path: &Path, what: &str, mm: f64, least: f64) -> Millimetres {
        let mm = self.findings.range(path, &format!("{what} in mm"), mm, (least, 2000.0));
        mm.and_then(|mm| Millimetres::new(mm).ok()).unwrap_or_default()
    }
}
