//! The head and the foot of a page.

use super::{BLACK, HAIRLINE, Writer, margin};
use crate::papers::fit::{self, Fitted};
use crate::papers::head::Head;
use crate::papers::page::{Mark, Piece, Role};
use crate::papers::paper::USUAL;
use crate::papers::sheet::Form;
use crate::view::area::at;
use crate::view::scene::Weight;

impl Writer<'_> {
    /// Title, and what lesson this is; on further pages the title alone.
    pub(super) fn page_head(&mut self) {
        if self.pages.len() > 1 {
            let title = self.told(&self.sheet.title());
            let size = self.small();
            let title = fit::prose(&title, size, Weight::Bold, self.whole_width(), self.typeface);
            self.head_line(&title, Weight::Bold, Role::Trim);
        } else {
            let size = self.size.max(USUAL) * 1.35;
            let title = self.told(&self.sheet.title());
            let title = self.name(&title, size, Weight::Bold, self.whole_width());
            self.head_line(&title, Weight::Bold, Role::Title);
            for words in self.head.lines() {
                let words = self.told(&words);
                let small = self.small().max(9.0);
                let fitted = self.name(&words, small, Weight::Plain, self.whole_width());
                self.head_line(&fitted, Weight::Plain, Role::Text);
            }
        }
        self.y += 2.0;
        let (from, to) =
            (at(margin(self.page), self.y), at(margin(self.page) + self.whole_width(), self.y));
        self.add(Role::Trim, vec![Mark::Line(from, to, 1.2, BLACK)]);
        self.y += 0.8 * self.size;
    }

    fn head_line(&mut self, fitted: &Fitted, weight: Weight, role: Role) {
        let marks = self.lines(fitted, weight, at(margin(self.page), self.y), BLACK);
        self.add(role, marks);
        self.y += fitted.height(self.typeface, weight);
    }

    fn foot(&self, page: usize, of: usize) -> Vec<Fitted> {
        if self.sheet.form == Form::CutUp {
            return Vec::new();
        }
        let size = (self.small() * 0.92).max(self.least);
        let words = [Head::CAUTION.to_owned(), self.head.issued(page, of)];
        let fitted = words.map(|words| {
            fit::prose(&self.told(&words), size, Weight::Plain, self.whole_width(), self.typeface)
        });
        fitted.into()
    }

    pub(super) fn foot_height(&self) -> f32 {
        let foot = self.foot(888, 888);
        let lines: f32 = foot.iter().map(|f| f.height(self.typeface, Weight::Plain)).sum();
        if foot.is_empty() { 0.0 } else { lines + 8.0 }
    }

    /// The foot of every page, once it is known how many there are.
    pub(super) fn feet(&mut self) {
        let of = self.pages.len();
        for page in 0..of {
            let foot = self.foot(page + 1, of);
            if foot.is_empty() {
                return;
            }
            let mut y = self.bottom() + 6.0;
            let (from, to) =
                (at(margin(self.page), y), at(margin(self.page) + self.whole_width(), y));
            let line = vec![Mark::Line(from, to, 0.6, HAIRLINE)];
            let mut pieces = vec![Piece { role: Role::Trim, marks: line, language: None }];
            y += 2.0;
            for fitted in foot {
                let marks = self.lines(&fitted, Weight::Plain, at(margin(self.page), y), BLACK);
                y += fitted.height(self.typeface, Weight::Plain);
                let role = if page == 0 { Role::Foot } else { Role::Trim };
                pieces.push(Piece { role, marks, language: None });
            }
            self.pages[page].pieces.extend(pieces);
        }
    }
}
