//! Kinds of tins.

use super::Builder;
use crate::file::format::{FormShape, TinShape};
use crate::finding::Path;
use crate::model::{Figure, Tin, TinForm};
use crate::units::Millilitres;

impl Builder<'_> {
    pub(super) fn tins(&mut self) {
        let path = Path::root().field("tins");
        let file = self.file;
        if !self.findings.length(&path, "tins", file.tins.len(), 500) {
            return;
        }
        for (i, shape) in file.tins.iter().enumerate() {
            let path = path.index(i);
            self.tins.add(&mut self.findings, &path.field("name"), &shape.name);
            let tin = self.tin(&path, shape);
            self.parts.tins.push(tin);
        }
    }

    fn tin(&mut self, path: &Path, shape: &TinShape) -> Tin {
        let rim = path.field("rim_mm");
        let (long, wide) = shape.rim_mm;
        let rim = (
            self.length(&rim.index(0), "the length of a tin's rim", long, 10.0),
            self.length(&rim.index(1), "the width of a tin's rim", wide, 10.0),
        );
        let height = self.length(&path.field("height_mm"), "a tin's height", shape.height_mm, 1.0);
        let form = shape.form.map(|form| self.form(&path.field("form"), form));
        let capacity = shape.capacity_ml.and_then(|ml| {
            let path = path.field("capacity_ml");
            let ml = self.findings.range(&path, "what it holds in ml", ml, (5.0, 50_000.0))?;
            Millilitres::new(ml).ok().map(Figure::entered)
        });
        Tin { name: shape.name.clone(), form, rim, height, capacity }
    }

    fn form(&mut self, path: &Path, form: FormShape) -> TinForm {
        let across = "the inner diameter";
        match form {
            FormShape::Round { across_mm } => TinForm::Round {
                across: self.length(&path.field("across_mm"), across, across_mm, 10.0),
            },
            FormShape::Rect { long_mm, wide_mm } => TinForm::Rect {
                long: self.length(&path.field("long_mm"), "the inner length", long_mm, 10.0),
                wide: self.length(&path.field("wide_mm"), "the inner width", wide_mm, 10.0),
            },
            FormShape::Holes { count, across_mm } => {
                let at = path.field("count");
                let count = self.findings.count(&at, "the number of holes", count, (1, 200));
                TinForm::Holes {
                    count: count.unwrap_or(1),
                    across: self.length(&path.field("across_mm"), across, across_mm, 5.0),
                }
            }
            FormShape::Sheet => TinForm::Sheet,
        }
    }
}
