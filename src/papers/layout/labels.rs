//! Labels to be cut out.

use super::{BLACK, HAIRLINE, Writer, margin};
use crate::papers::fit::{self, Fitted};
use crate::papers::page::{Mark, Role};
use crate::papers::sheet::Label;
use crate::view::area::{Area, at};
use crate::view::scene::Weight;

/// From the edge of a label to its words.
const LABEL_PAD: f32 = 6.0;

/// Labels beside each other, each with its lines.
struct LabelRow {
    wide: f32,
    high: f32,
    labels: Vec<Vec<(Fitted, Weight)>>,
}

impl Writer<'_> {
    /// Labels in rows with lines to cut along; a row is as high as its highest.
    /// There are fewer across where one would be higher than the page, and one that
    /// is higher even so goes on in another.
    pub(super) fn labels(&mut self, across: usize, labels: &[Label]) {
        let most = self.bottom() - self.head_end;
        let mut rows = Vec::new();
        for across in (1..=across.max(1)).rev() {
            rows = self.label_rows(across, labels);
            if rows.iter().all(|row| row.high <= most) {
                break;
            }
        }
        for (fitted, _) in rows.iter().flat_map(|row| row.labels.iter().flatten()) {
            if fitted.is_long {
                self.tell_long(&fitted.lines.concat(), fitted.lines.len());
            }
        }
        let parts = rows.into_iter().flat_map(|row| self.in_parts(row, most));
        let rows: Vec<LabelRow> = parts.collect();
        for LabelRow { wide, high, labels } in rows {
            self.want(high);
            for (i, lines) in labels.into_iter().enumerate() {
                let area = Area { x: self.left() + i as f32 * wide, y: self.y, w: wide, h: high };
                self.add(Role::Trim, vec![Mark::Rect(area, None, Some((0.5, HAIRLINE)))]);
                let mut y = self.y + LABEL_PAD;
                let mut marks = Vec::new();
                for (fitted, weight) in lines {
                    marks.extend(self.lines(&fitted, weight, at(area.x + LABEL_PAD, y), BLACK));
                    y += fitted.height(self.typeface, weight);
                }
                self.add(Role::Text, marks);
            }
            self.y += high;
        }
    }

    /// A label by itself that is higher than the page, in parts that are not; any
    /// other row as it is.
    fn in_parts(&self, row: LabelRow, most: f32) -> Vec<LabelRow> {
        if row.high <= most || row.labels.len() != 1 {
            return vec![row];
        }
        let mut parts: Vec<LabelRow> = Vec::new();
        for (fitted, weight) in row.labels.into_iter().flatten() {
            for line in &fitted.lines {
                let one = Fitted { lines: vec![line.clone()], ..fitted.clone() };
                let high = one.height(self.typeface, weight);
                match parts.last_mut() {
                    Some(part) if part.high + high <= most => {
                        part.high += high;
                        part.labels.iter_mut().for_each(|of| of.push((one.clone(), weight)));
                    }
                    _ => parts.push(LabelRow {
                        wide: row.wide,
                        high: high + 2.0 * LABEL_PAD,
                        labels: vec![vec![(one, weight)]],
                    }),
                }
            }
        }
        parts
    }

    fn label_rows(&self, across: usize, labels: &[Label]) -> Vec<LabelRow> {
        let wide = self.width() / across as f32;
        let room = wide - 2.0 * LABEL_PAD;
        let least = (self.page.1 - 2.0 * margin(self.page)) / 8.0 - 0.5;
        let laid = |label: &Label| {
            let (name, size) = (self.told(&label.name), (self.size, self.least));
            let name = fit::name(&name, size, Weight::Bold, room, self.typeface);
            let mut lines = vec![(name, Weight::Bold)];
            for (words, bold) in &label.lines {
                let weight = if *bold { Weight::Bold } else { Weight::Plain };
                let words = self.told(words);
                let fitted = fit::prose(&words, self.small(), weight, room, self.typeface);
                lines.push((fitted, weight));
            }
            lines
        };
        let row = |labels: &[Label]| {
            let labels: Vec<_> = labels.iter().map(laid).collect();
            let height = |lines: &Vec<(Fitted, Weight)>| -> f32 {
                lines.iter().map(|(fitted, weight)| fitted.height(self.typeface, *weight)).sum()
            };
            let high = labels.iter().map(height).fold(0.0, f32::max) + 2.0 * LABEL_PAD;
            LabelRow { wide, high: high.max(least), labels }
        };
        labels.chunks(across).map(row).collect()
    }
}
