//! Tables: columns as wide as they need, rows whole on a page, headings on each.

use super::{BLACK, HAIRLINE, ROOMY, Writer};
use crate::papers::fit::{self, Fitted};
use crate::papers::page::{Mark, Role};
use crate::papers::sheet::{Cell, Column, Look, Row, Table, Width};
use crate::papers::typeface::{LINE, printable};
use crate::view::area::{Area, at};
use crate::view::scene::{Measure, Weight};

/// The ground of rows that concern the whole class.
const GROUND: u8 = 228;
/// A column fits what is in it up to this share of the table.
const WIDEST: f32 = 0.4;
/// Of the width, so much at least is for the other columns.
const OTHERS: f32 = 0.3;

/// Side of a symbol and its share of a row's width, in sizes of the letters.
const SYMBOL: f32 = 1.4;
const SYMBOL_STRIP: f32 = 1.7;

/// A cell laid out.
struct Laid {
    fitted: Fitted,
    weight: Weight,
    tick: bool,
}

/// Widths of columns, and how far in from the left they begin.
type Columns<'a> = (&'a [f32], f32);

/// Where a row of a table goes.
#[derive(Clone, Copy)]
struct At {
    table: usize,
    row: usize,
    /// A second line follows, and no rule below the first.
    goes_on: bool,
}

impl Writer<'_> {
    pub(super) fn table(&mut self, table: &Table) {
        let (size, widths) = self.fitted(table);
        let number = self.tables;
        self.tables += 1;
        let headings: Vec<Laid> = self.headings(table, &widths);
        let has_headings = table.columns.iter().any(|c| !c.heading.is_empty());
        let mut last = 0;
        for (i, row) in table.rows.iter().enumerate() {
            let laid = self.cells(row, &widths, size);
            let heading = if has_headings { self.height(&headings) } else { 0.0 };
            let second = self.second_line(row, &widths, size);
            let below = second.as_ref().map_or(0.0, |(_, fitted)| {
                fitted.height(self.typeface, Weight::Plain) + self.pad()
            });
            let height = self.height(&laid) + below;
            let begins = last != self.begun;
            // No heading is left behind by what it stands above.
            let next = table.rows.get(i + 1).filter(|_| row.is_heading());
            let next = next.map_or_else(Vec::new, |next| self.cells(next, &widths, size));
            let kept = if next.is_empty() { 0.0 } else { self.height(&next) };
            self.want(height + kept + if begins { heading } else { 0.0 });
            if has_headings && last != self.begun {
                let place = At { table: number, row: 0, goes_on: false };
                let repeated = last != 0;
                let columns = (&*widths, self.strip(table));
                self.draw(&headings, columns, (place, Look::Plain), repeated);
                let right = self.left() + self.width();
                let line = Mark::Line(at(self.left(), self.y), at(right, self.y), 0.9, BLACK);
                self.add(Role::Trim, vec![line]);
            }
            let strip = self.strip(table);
            self.symbol(row, height);
            let place = At { table: number, row: i + 1, goes_on: second.is_some() };
            self.row(laid, (&widths, strip), (place, row.look));
            if let Some((column, fitted)) = second {
                self.below(&fitted, (&widths, strip), (place, column));
            }
            last = self.begun;
        }
        self.y += 0.6 * self.size;
    }

    /// The symbol of a row, beside its first line.
    fn symbol(&mut self, row: &Row, height: f32) {
        let Some(symbol) = row.symbol.filter(|_| self.symbols) else { return };
        let side = SYMBOL * self.size;
        let line = (LINE + 2.0 * ROOMY) * self.size;
        let place = at(self.left(), self.y + (height.min(line) - side) / 2.0);
        self.add(Role::Trim, vec![Mark::Scene(place, symbol.scene(side), 1.0)]);
    }

    /// A row, in parts if a page is too short for it.
    fn row(&mut self, mut laid: Vec<Laid>, columns: Columns<'_>, (place, look): (At, Look)) {
        loop {
            let room = self.bottom() - self.y - 2.0 * self.pad();
            if self.height(&laid) <= room + 2.0 * self.pad() + 0.1 {
                self.draw(&laid, columns, (place, look), false);
                return;
            }
            let mut later = Vec::new();
            for cell in &mut laid {
                let high = LINE * cell.fitted.size;
                let fits = ((room / high).floor().max(1.0)) as usize;
                let rest = cell.fitted.lines.split_off(fits.min(cell.fitted.lines.len()));
                let fitted = Fitted { lines: rest, ..cell.fitted.clone() };
                later.push(Laid { fitted, weight: cell.weight, tick: false });
            }
            self.draw(&laid, columns, (place, look), false);
            if later.iter().all(|cell| cell.fitted.lines.is_empty()) {
                return;
            }
            self.go_on();
            laid = later;
        }
    }

    fn draw(
        &mut self,
        laid: &[Laid],
        (widths, strip): Columns<'_>,
        (place, look): (At, Look),
        repeated: bool,
    ) {
        let height = self.height(laid);
        let (left, top, side, pad) = (self.left(), self.y, self.side(), self.pad());
        let whole = Area { x: left, y: top, w: self.width(), h: height };
        match look {
            Look::Plain => {}
            Look::Shaded => self.add(Role::Trim, vec![Mark::Rect(whole, Some(GROUND), None)]),
            Look::Framed => {
                let frame = whole.grown(-0.8, -0.8);
                self.add(Role::Trim, vec![Mark::Rect(frame, None, Some((1.6, BLACK)))]);
            }
        }
        let mut x = left + strip;
        for (column, (cell, wide)) in laid.iter().zip(widths).enumerate() {
            let mut marks = self.lines(&cell.fitted, cell.weight, at(x + side, top + pad), BLACK);
            if cell.tick {
                let side = 0.95 * self.size;
                let middle = at(x + wide / 2.0, top + height / 2.0);
                let tick = Area::around(middle, (side, side));
                marks.push(Mark::Rect(tick, None, Some((0.9, BLACK))));
            }
            let At { table, row, .. } = place;
            let cell = Role::Cell { table, row, column };
            self.add(if repeated { Role::Trim } else { cell }, marks);
            x += wide;
        }
        self.y += height;
        if !place.goes_on {
            self.rule();
        }
    }

    /// The line below a row.
    fn rule(&mut self) {
        let (left, right) = (self.left(), self.left() + self.width());
        let line = Mark::Line(at(left, self.y), at(right, self.y), 0.5, HAIRLINE);
        self.add(Role::Trim, vec![line]);
    }

    /// The second line of a job, if one is wanted, with its column.
    fn second_line(&self, row: &Row, widths: &[f32], size: f32) -> Option<(usize, Fitted)> {
        let (column, words) = row.second_line(self.home)?;
        let room = widths.get(column)? - 2.0 * self.side();
        // Nobody's spelling but that of whoever entered it.
        let words = printable(words);
        Some((column, fit::prose(&words, size, Weight::Plain, room, self.typeface)))
    }

    /// Draws a second line below its job, line by line: what is in another language
    /// is marked as such, and such a mark spans one line.
    fn below(
        &mut self,
        fitted: &Fitted,
        (widths, strip): Columns<'_>,
        (place, column): (At, usize),
    ) {
        let before: f32 = widths.iter().take(column).sum();
        let high = LINE * fitted.size;
        let At { table, row, .. } = place;
        for (i, line) in fitted.lines.iter().enumerate() {
            if self.y + high > self.bottom() && !self.is_fresh() {
                self.go_on();
            }
            let gap = if i + 1 < fitted.lines.len() { " " } else { "" };
            let one = Fitted { lines: vec![format!("{line}{gap}")], ..fitted.clone() };
            let from = at(self.left() + strip + before + self.side(), self.y);
            let marks = self.lines(&one, Weight::Plain, from, BLACK);
            self.add(Role::Cell { table, row, column }, marks);
            let language = self.home;
            let last = self.pages.last_mut().and_then(|page| page.pieces.last_mut());
            if let Some(piece) = last {
                piece.language = language;
            }
            self.y += high;
        }
        self.y += self.pad();
        self.rule();
    }

    fn headings(&mut self, table: &Table, widths: &[f32]) -> Vec<Laid> {
        let size = self.small();
        let side = self.side();
        let each = table.columns.iter().zip(widths).map(|(column, wide)| {
            let words = self.told(&column.heading);
            let room = wide - 2.0 * side;
            let fitted = fit::prose(&words, size, Weight::Bold, room, self.typeface);
            Laid { fitted, weight: Weight::Bold, tick: false }
        });
        each.collect()
    }

    /// The size of letters that all rows have, and the widths of the columns in it:
    /// the largest in which every name has a line to itself; if there is none, that
    /// in which fewer names are long.
    fn fitted(&self, table: &Table) -> (f32, Vec<f32>) {
        let names = self.names(table);
        let lined = |widths: &[f32], size: f32| {
            names.iter().all(|(column, words, weight)| {
                self.typeface.width(words, size, *weight) <= widths[*column] - 2.0 * self.side()
            })
        };
        for size in fit::sizes((self.size, self.least)) {
            let widths = self.widths(table, size);
            if lined(&widths, size) {
                return (size, widths);
            }
        }
        let broken = |size: f32| {
            let widths = self.widths(table, size);
            let long = names.iter().filter(|(column, words, weight)| {
                let room = widths[*column] - 2.0 * self.side();
                fit::name_at(words, size, *weight, room, self.typeface).is_long
            });
            (long.count(), size, widths)
        };
        let as_it_is = broken(self.size);
        let smaller = broken(fit::smallest((self.size, self.least)));
        let (_, size, widths) = if as_it_is.0 <= smaller.0 { as_it_is } else { smaller };
        (size, widths)
    }

    /// The names of a table, each with its column.
    fn names(&self, table: &Table) -> Vec<(usize, String, Weight)> {
        let cells = table.rows.iter().flat_map(|row| row.cells.iter().enumerate());
        let names = cells
            .filter(|(_, cell)| matches!(cell, Cell::Time(_) | Cell::Name(_) | Cell::Strong(_)));
        let columns = table.columns.len();
        let names = names.filter(|(column, _)| *column < columns);
        names.map(|(column, cell)| (column, self.told(cell.words()), weight_of(cell))).collect()
    }

    fn cells(&mut self, row: &Row, widths: &[f32], size: f32) -> Vec<Laid> {
        let mut all = Vec::new();
        for (cell, wide) in row.cells.iter().zip(widths) {
            let words = self.told(cell.words());
            let room = wide - 2.0 * self.side();
            let weight = weight_of(cell);
            let fitted = match cell {
                Cell::Prose(_) => fit::prose(&words, size, weight, room, self.typeface),
                Cell::Blank | Cell::Tick => Fitted { lines: Vec::new(), size, is_long: false },
                _ => {
                    let fitted = fit::name_at(&words, size, weight, room, self.typeface);
                    self.tell_if_long(&words, &fitted);
                    fitted
                }
            };
            all.push(Laid { fitted, weight, tick: *cell == Cell::Tick });
        }
        all
    }

    /// What a table leaves free on its left for symbols.
    fn strip(&self, table: &Table) -> f32 {
        let has = self.symbols && table.rows.iter().any(|row| row.symbol.is_some());
        if has { SYMBOL_STRIP * self.size } else { 0.0 }
    }

    fn pad(&self) -> f32 {
        self.air * self.size
    }

    /// To the left and right of what stands in a cell.
    fn side(&self) -> f32 {
        ROOMY * self.size
    }

    fn height(&self, laid: &[Laid]) -> f32 {
        let highest = laid.iter().map(|cell| cell.fitted.height(self.typeface, cell.weight));
        let highest = highest.fold(0.0, f32::max);
        let written = laid.iter().any(|cell| cell.fitted.lines.is_empty());
        let least = if written { 1.5 * self.size } else { 0.0 };
        highest.max(least) + 2.0 * self.pad()
    }

    /// Widths of the columns, which together are the table's, for letters of a size.
    fn widths(&self, table: &Table, size: f32) -> Vec<f32> {
        let whole = self.width() - self.strip(table);
        let natural = |column: usize| -> f32 {
            let heading = self.told(&table.columns[column].heading);
            let heading = self.typeface.width(&heading, self.small(), Weight::Bold);
            let cells = table.rows.iter().filter_map(|row| row.cells.get(column)).map(|cell| {
                let words = self.told(cell.words());
                self.typeface.width(&words, size, weight_of(cell))
            });
            let widest = cells.fold(heading, f32::max).max(1.2 * size);
            (widest + 2.0 * self.side() + 0.5).min(WIDEST * whole)
        };
        let longest_word = |words: &str, size: f32, weight: Weight| {
            let each = words.split(' ').map(|word| self.typeface.width(word, size, weight));
            each.fold(0.0, f32::max)
        };
        // A time never breaks, and a heading only between words.
        let least = |column: usize| -> f32 {
            let heading = self.told(&table.columns[column].heading);
            let heading = longest_word(&heading, self.small(), Weight::Bold);
            let cells = table.rows.iter().filter_map(|row| row.cells.get(column)).map(|cell| {
                let words = self.told(cell.words());
                match cell {
                    Cell::Time(_) => self.typeface.width(&words, size, Weight::Bold),
                    _ => longest_word(&words, size, weight_of(cell)),
                }
            });
            let widest = cells.fold(heading, f32::max).max(1.2 * size);
            (widest + 2.0 * self.side() + 0.5).min(natural(column))
        };
        let fits = |c: &Column| c.width == Width::Fit;
        let of: Vec<bool> = table.columns.iter().map(fits).collect();
        let sum = |wide: &dyn Fn(usize) -> f32| -> f32 {
            of.iter().enumerate().filter(|(_, fits)| **fits).map(|(i, _)| wide(i)).sum()
        };
        let (taken, needed) = (sum(&natural), sum(&least));
        let shares: Vec<(f32, f32)> = table
            .columns
            .iter()
            .enumerate()
            .map(|(i, column)| match column.width {
                Width::Fit => (0.0, 0.0),
                Width::Share(_) => (share(column.width), least(i)),
            })
            .collect();
        let has_shares = shares.iter().any(|(share, _)| *share > 0.0);
        let words: f32 = shares.iter().map(|(_, least)| least).sum();
        let others = (1.0 - OTHERS) * whole;
        // So that the words of the others do not break either.
        let most = if has_shares { others.min((whole - words).max(needed)) } else { whole };
        // Columns that fit what is in them give way as far as that goes, or take
        // all there is.
        let give = ((taken - most) / (taken - needed).max(0.001)).clamp(0.0, 1.0);
        let given = |column: usize| natural(column) - give * (natural(column) - least(column));
        let all = sum(&given);
        let squeeze = if all > most || !has_shares { most / all.max(1.0) } else { 1.0 };
        let left = shared_out(whole - all * squeeze, &shares);
        let wide = table.columns.iter().zip(left).enumerate();
        let wide = wide.map(|(i, (column, left))| match column.width {
            Width::Fit => given(i) * squeeze,
            Width::Share(_) => left,
        });
        wide.collect()
    }
}

/// A width shared out by shares, none narrower than its least if there is room
/// for that.
fn shared_out(width: f32, columns: &[(f32, f32)]) -> Vec<f32> {
    let sum = |of: &dyn Fn(&(f32, f32)) -> f32| columns.iter().map(of).sum::<f32>();
    let all = sum(&|(share, _)| *share).max(0.001);
    if sum(&|(_, least)| *least) > width {
        return columns.iter().map(|(share, _)| width * share / all).collect();
    }
    // Whoever would be too narrow has its least, and the others the rest.
    let (mut rest, mut shares) = (width, all);
    let mut is_least = vec![false; columns.len()];
    while let Some(narrow) = (0..columns.len())
        .find(|&i| !is_least[i] && rest * columns[i].0 / shares.max(0.001) < columns[i].1)
    {
        is_least[narrow] = true;
        rest -= columns[narrow].1;
        shares -= columns[narrow].0;
    }
    let each = columns.iter().zip(is_least).map(|((share, least), is_least)| {
        if is_least { *least } else { rest * share / shares.max(0.001) }
    });
    each.collect()
}

fn share(width: Width) -> f32 {
    match width {
        Width::Fit => 0.0,
        Width::Share(share) => share.max(0.01),
    }
}

fn weight_of(cell: &Cell) -> Weight {
    match cell {
        Cell::Time(_) | Cell::Strong(_) => Weight::Bold,
        _ => Weight::Plain,
    }
}

#[cfg(test)]
mod tests {
    use super::shared_out;

    #[test]
    fn a_width_is_shared_out_so_that_words_have_room() {
        assert_eq!(shared_out(100.0, &[(1.0, 10.0), (0.0, 0.0), (3.0, 20.0)]), [25.0, 0.0, 75.0]);
        // The first has what its word needs, and the others share the rest.
        assert_eq!(shared_out(100.0, &[(1.0, 40.0), (1.0, 0.0), (2.0, 0.0)]), [40.0, 20.0, 40.0]);
        // There is no room for both words: shares as they are.
        assert_eq!(shared_out(100.0, &[(1.0, 90.0), (3.0, 90.0)]), [25.0, 75.0]);
    }
}
