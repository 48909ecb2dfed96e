//! A page with everything in its place, in points from its left top.

use crate::model::Language;
use crate::view::area::{Area, Point};
use crate::view::scene::{Scene, Weight};

/// A page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// Width and height.
    pub size: (f32, f32),
    /// What stands on it, in the order in which it is read.
    pub pieces: Vec<Piece>,
}

/// What belongs together for whoever has a page read to them.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// What it is.
    pub role: Role,
    /// What it looks like.
    pub marks: Vec<Mark>,
    /// Its language, if it is another than the sheet's.
    pub language: Option<Language>,
}

/// What a piece is.
#[derive(Debug, Clone, PartialEq)]
pub enum Role {
    /// The title of a sheet.
    Title,
    /// A heading within it.
    Heading,
    /// A paragraph.
    Text,
    /// An item of a list.
    Item,
    /// A cell of a table. Pieces of one cell may stand on two pages.
    Cell {
        /// Which table of the sheet.
        table: usize,
        /// Which row; the first are the headings.
        row: usize,
        /// Which column.
        column: usize,
    },
    /// A picture, and what is said of it.
    Picture(String),
    /// The foot of a sheet, which is read when the sheet is over.
    Foot,
    /// Lines, grounds, and what is repeated on every page.
    Trim,
}

/// Something drawn. Greys are from 0, black, to 255, white.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A line of words.
    Words(Words),
    /// A rectangle: its ground, and its edge with a width.
    Rect(Area, Option<u8>, Option<(f32, u8)>),
    /// A line of a width.
    Line(Point, Point, f32, u8),
    /// A picture with its left top at a point, and its units in points.
    Scene(Point, Scene, f32),
}

/// A line of words in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Words {
    /// What is written.
    pub text: String,
    /// The left end of the foot of its letters.
    pub at: Point,
    /// Size of the letters.
    pub size: f32,
    /// How heavy they are.
    pub weight: Weight,
    /// Their grey.
    pub grey: u8,
    /// What the line takes of the page.
    pub area: Area,
}
