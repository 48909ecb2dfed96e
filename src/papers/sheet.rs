//! A sheet as a list of blocks, whatever it becomes: pages of a PDF, a preview
//! in a window, plain text to be pasted.

use super::part::Part;
use crate::model::Language;
use crate::view::scene::job::JobSymbol;
use crate::view::scene::{Measure, Scene};

/// A sheet of paper, or several that belong together.
pub struct Sheet<'a> {
    /// What it is.
    pub part: Part,
    /// Whom it is for, if there are several of its kind.
    pub of: Option<String>,
    /// What stands on it, from the top.
    pub blocks: Vec<Block<'a>>,
    /// How it is fitted to paper.
    pub form: Form,
}

impl Sheet<'_> {
    /// "Running order"; "Time plan: Unit 3".
    pub fn title(&self) -> String {
        match &self.of {
            Some(of) => format!("{}: {of}", self.part.title()),
            None => self.part.title().to_owned(),
        }
    }
}

/// How a sheet is fitted to paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// One page, in letters as large as they can be; more pages only if it
    /// does not fit in the smallest.
    Poster,
    /// Letters to be read in the hand, on as many pages as it takes.
    Hand,
    /// Half a sheet, in letters that fit one page if they can; a whole sheet in
    /// large print.
    HalfSheet,
    /// Without a head and a foot: it is cut up.
    CutUp,
}

/// A part of a sheet.
pub enum Block<'a> {
    /// A heading.
    Heading(String),
    /// A line to be read from far away.
    Big(String),
    /// A sentence or more.
    Prose(String),
    /// Lines that follow one another as items.
    List(Vec<String>),
    /// A table.
    Table(Table),
    /// Pictures beside each other.
    Pictures(Vec<Picture<'a>>),
    /// Labels to be cut out, so many across.
    Labels(usize, Vec<Label>),
    /// Ruled lines to write on.
    WriteOn(usize),
}

/// A table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, a cell for each column.
    pub rows: Vec<Row>,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// What stands above it.
    pub heading: String,
    /// How wide it is.
    pub width: Width,
}

/// How wide a column is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Width {
    /// As wide as what is in it.
    Fit,
    /// A share of what the others leave.
    Share(f32),
}

/// A row of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its cells.
    pub cells: Vec<Cell>,
    /// Whether it stands out from the others.
    pub look: Look,
    /// What is drawn beside it, where symbols are wanted.
    pub symbol: Option<JobSymbol>,
    /// Second lines of its job, by language.
    pub home: Vec<(Language, String)>,
}

impl Row {
    /// It stands above the rows it is the heading of: only its first cell says anything.
    pub fn is_heading(&self) -> bool {
        let mut others = self.cells.iter().skip(1);
        self.look == Look::Shaded && others.all(|cell| *cell == Cell::Name(String::new()))
    }

    /// The second line in a language, with the column of the job it is of; none
    /// where the job is left for pupils to find.
    pub fn second_line(&self, language: Option<Language>) -> Option<(usize, &str)> {
        let column = self.cells.iter().position(|cell| matches!(cell, Cell::Prose(_)))?;
        let (_, words) = self.home.iter().find(|(of, _)| Some(*of) == language)?;
        Some((column, words))
    }
}

/// How a row looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// As others.
    Plain,
    /// On grey ground: what concerns the whole class.
    Shaded,
    /// In a frame: what must not be missed.
    Framed,
}

/// A cell of a table.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// A time or a figure, which stands in one line and in bold.
    Time(String),
    /// A name: fitted to its column, and told of where that fails.
    Name(String),
    /// The same in bold.
    Strong(String),
    /// Sentences, which take the lines they take.
    Prose(String),
    /// Left empty to be written in.
    Blank,
    /// An empty box to be ticked.
    Tick,
}

impl Cell {
    /// Its words; none in a cell to write in.
    pub fn words(&self) -> &str {
        match self {
            Cell::Time(words) | Cell::Name(words) | Cell::Strong(words) | Cell::Prose(words) => {
                words
            }
            Cell::Blank | Cell::Tick => "",
        }
    }
}

/// A picture with what is said of it.
pub struct Picture<'a> {
    /// What stands below it.
    pub caption: String,
    /// What is said of it to whoever does not see it.
    pub spoken: String,
    /// Its share of the width there is.
    pub share: f32,
    /// Its own units in points: smaller than one where it is drawn larger than
    /// there is room and shrunk.
    pub zoom: f32,
    /// Draws it, so wide in its own units.
    pub draw: Draw<'a>,
}

/// Draws a picture of a width with somebody's letters.
pub type Draw<'a> = Box<dyn Fn(f32, &dyn Measure) -> Scene + 'a>;

/// A label for a box.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// What is in the box, in bold.
    pub name: String,
    /// Lines below it: the words, and whether they are in bold.
    pub lines: Vec<(String, bool)>,
}

impl Table {
    /// A table of these columns without rows.
    pub fn new(columns: &[(&str, Width)]) -> Self {
        let column =
            |&(heading, width): &(&str, Width)| Column { heading: heading.to_owned(), width };
        Self { columns: columns.iter().map(column).collect(), rows: Vec::new() }
    }

    /// Adds a row.
    pub fn row(&mut self, look: Look, cells: Vec<Cell>) {
        self.rows.push(Row { cells, look, symbol: None, home: Vec::new() });
    }
}
