//! Pictures beside each other, with what stands below them.

use super::{BLACK, Writer};
use crate::papers::fit::{self, Fitted};
use crate::papers::page::{Mark, Role};
use crate::papers::paper::LARGE;
use crate::papers::sheet::Picture;
use crate::view::area::at;
use crate::view::scene::Weight;

impl Writer<'_> {
    /// Pictures in rows, each row as high as its highest.
    pub(super) fn pictures(&mut self, pictures: &[Picture<'_>]) {
        let gap = self.size;
        let mut rest = pictures;
        while let Some(first) = rest.first() {
            let mut share = self.share(first);
            let mut n = 1;
            while let Some(next) = rest.get(n)
                && share + self.share(next) <= 1.001
            {
                share += self.share(next);
                n += 1;
            }
            let (now, later) = rest.split_at(n);
            self.picture_row(now, gap);
            rest = later;
        }
    }

    /// The share of a column a picture has: twice its own in large print.
    fn share(&self, picture: &Picture<'_>) -> f32 {
        let times = if self.least >= LARGE { 2.0 } else { 1.0 };
        (times * self.columns as f32 * picture.share).min(1.0)
    }

    fn picture_row(&mut self, pictures: &[Picture<'_>], gap: f32) {
        let size = self.small();
        let room = self.width() + gap;
        let typeface = self.typeface;
        let below = |fitted: &Fitted| fitted.height(typeface, Weight::Plain);
        let drawn: Vec<_> = pictures
            .iter()
            .map(|picture| {
                let wide = (room * self.share(picture) - gap).max(40.0);
                let scene = (picture.draw)(wide / picture.zoom, self.typeface);
                let words = self.told(&picture.caption);
                let caption = fit::prose(&words, size, Weight::Plain, wide, self.typeface);
                // What is higher than a page is shrunk to one.
                let most = self.bottom() - self.head_end - below(&caption) - 6.0;
                let zoom = picture.zoom.min((most / scene.size.1.max(1.0)).max(0.05));
                (picture, (wide, zoom), scene, caption)
            })
            .collect();
        let tallest =
            drawn.iter().map(|(_, (_, zoom), scene, caption)| scene.size.1 * zoom + below(caption));
        let tallest = tallest.fold(0.0, f32::max) + 4.0;
        self.want(tallest);
        let mut x = self.left();
        for (picture, (wide, zoom), scene, caption) in drawn {
            let under = at(x, self.y + scene.size.1 * zoom + 2.0);
            let marks = self.lines(&caption, Weight::Plain, under, BLACK);
            let spoken = self.told(&picture.spoken);
            let scene = Mark::Scene(at(x, self.y), scene, zoom);
            self.add(Role::Picture(spoken), vec![scene]);
            if !picture.caption.is_empty() {
                self.add(Role::Text, marks);
            }
            x += wide + gap;
        }
        self.y += tallest + 0.3 * self.size;
    }
}
