//! The order in which a document is read: sheets with their headings,
//! paragraphs, lists, tables with their rows, and pictures with what is said of
//! them.

use std::num::NonZeroU16;

use krilla::geom::Rect;
use krilla::tagging::{
    BBox, Identifier, ListNumbering, Node, TableHeaderScope, Tag, TagGroup, TagKind, TagTree,
};

use crate::papers::page::{Mark, Piece, Role};

/// What is read, as far as it is drawn.
#[derive(Default)]
pub(super) struct Tags {
    sheets: Vec<TagGroup>,
    /// Of the sheet that is being drawn.
    read: Vec<Node>,
    open: Option<Open>,
    /// What is read when a sheet is over.
    feet: Vec<Identifier>,
}

/// A list or a table that goes on.
enum Open {
    List(Vec<Identifier>),
    Table(usize, Vec<RowTags>),
}

/// What was drawn of the cells of a row, by column.
struct RowTags {
    row: usize,
    cells: Vec<(usize, Vec<Identifier>)>,
}

impl Tags {
    /// A sheet is over.
    pub fn end_sheet(&mut self) {
        self.close();
        for drawn in std::mem::take(&mut self.feet) {
            self.read.push(holding(Tag::P, vec![drawn]).into());
        }
        self.sheets.push(TagGroup::with_children(Tag::Part, std::mem::take(&mut self.read)));
    }

    /// Adds what was drawn of a piece on a page.
    pub fn add(&mut self, piece: &Piece, drawn: Identifier, page: usize) {
        let group = match &piece.role {
            Role::Item => return self.item(drawn),
            Role::Cell { table, row, column } => {
                return self.cell(*table, (*row, *column), drawn);
            }
            Role::Trim => return,
            // A table or a list goes on behind the foot of its page.
            Role::Foot => return self.feet.push(drawn),
            Role::Title => heading(NonZeroU16::MIN, piece, drawn),
            Role::Heading => heading(NonZeroU16::MIN.saturating_add(1), piece, drawn),
            Role::Text => holding(Tag::P, vec![drawn]),
            Role::Picture(spoken) => {
                let place = picture_area(piece).map(|area| BBox::new(page, area));
                holding(Tag::Figure(Some(spoken.clone())).with_bbox(place), vec![drawn])
            }
        };
        self.close();
        self.read.push(group.into());
    }

    fn item(&mut self, drawn: Identifier) {
        if let Some(Open::List(items)) = &mut self.open {
            return items.push(drawn);
        }
        self.close();
        self.open = Some(Open::List(vec![drawn]));
    }

    fn cell(&mut self, table: usize, (row, column): (usize, usize), drawn: Identifier) {
        if !matches!(&self.open, Some(Open::Table(of, _)) if *of == table) {
            self.close();
            self.open = Some(Open::Table(table, Vec::new()));
        }
        let Some(Open::Table(_, rows)) = &mut self.open else { return };
        if rows.last().is_none_or(|last| last.row != row) {
            rows.push(RowTags { row, cells: Vec::new() });
        }
        let Some(last) = rows.last_mut() else { return };
        match last.cells.iter_mut().find(|(c, _)| *c == column) {
            Some((_, all)) => all.push(drawn),
            None => last.cells.push((column, vec![drawn])),
        }
    }

    fn close(&mut self) {
        let group = match self.open.take() {
            None => return,
            // The bullet is one of the words.
            Some(Open::List(items)) => {
                let items = items.into_iter().map(|drawn| {
                    let body = holding(Tag::LBody, vec![drawn]);
                    TagGroup::with_children(Tag::LI, vec![body.into()]).into()
                });
                TagGroup::with_children(Tag::L(ListNumbering::None), items.collect())
            }
            Some(Open::Table(_, rows)) => {
                let rows = rows.into_iter().map(|row| row.group().into());
                TagGroup::with_children(Tag::Table, rows.collect())
            }
        };
        self.read.push(group.into());
    }

    /// All of it.
    pub fn tree(self, language: &str) -> TagTree {
        let mut tree = TagTree::new().with_lang(Some(language.to_owned()));
        self.sheets.into_iter().for_each(|sheet| tree.push(sheet));
        tree
    }
}

impl RowTags {
    fn group(self) -> TagGroup {
        let is_head = self.row == 0;
        let cells = self.cells.into_iter().map(|(_, drawn)| {
            let cell = if is_head {
                holding(Tag::TH(TableHeaderScope::Column), drawn)
            } else {
                holding(Tag::TD, drawn)
            };
            cell.into()
        });
        TagGroup::with_children(Tag::TR, cells.collect())
    }
}

fn holding(tag: impl Into<TagKind>, drawn: Vec<Identifier>) -> TagGroup {
    TagGroup::with_children(tag, drawn.into_iter().map(Node::Leaf).collect())
}

/// A heading, which must have words; without any it is a paragraph.
fn heading(level: NonZeroU16, piece: &Piece, drawn: Identifier) -> TagGroup {
    let words = piece.marks.iter().filter_map(|mark| match mark {
        Mark::Words(words) => Some(words.text.as_str()),
        _ => None,
    });
    let words: String = words.collect();
    if words.trim().is_empty() {
        return holding(Tag::P, vec![drawn]);
    }
    holding(Tag::Hn(level, Some(words.trim().to_owned())), vec![drawn])
}

/// What a picture takes of its page.
fn picture_area(piece: &Piece) -> Option<Rect> {
    piece.marks.iter().find_map(|mark| match mark {
        Mark::Scene(at, scene, zoom) => {
            Rect::from_xywh(at.x, at.y, scene.size.0 * zoom, scene.size.1 * zoom)
        }
        _ => None,
    })
}
