//! The order in which a document is read: headings, paragraphs, lists, tables
//! with their rows, and pictures with what is said of them.

use super::objects::{Objects, Ref, list, text};
use crate::papers::page::Role;

/// Marked that was marked on a page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Marked {
    /// The page, from 0.
    pub(super) page: usize,
    /// Its number on the page.
    pub(super) id: usize,
}

/// Something that is read, and what it consists of.
struct Element {
    kind: &'static str,
    /// What is said of a picture.
    spoken: Option<String>,
    children: Vec<Element>,
    content: Vec<Marked>,
}

impl Element {
    fn holding(kind: &'static str, content: Vec<Marked>) -> Self {
        Self { kind, spoken: None, children: Vec::new(), content }
    }

    fn of(kind: &'static str, children: Vec<Element>) -> Self {
        Self { kind, spoken: None, children, content: Vec::new() }
    }
}

/// What is read, as far as it is drawn.
#[derive(Default)]
pub(super) struct Tags {
    read: Vec<Element>,
    open: Option<Open>,
    /// What is read when a sheet is over.
    feet: Vec<Marked>,
}

/// A list or a table that goes on.
enum Open {
    List(Vec<Marked>),
    Table(usize, Vec<RowTags>),
}

/// Marked of the cells of a row, by column.
struct RowTags {
    row: usize,
    cells: Vec<(usize, Vec<Marked>)>,
}

impl Tags {
    /// A sheet is over.
    pub(super) fn end_sheet(&mut self) {
        self.close();
        for content in std::mem::take(&mut self.feet) {
            self.read.push(Element::holding("P", vec![content]));
        }
    }

    /// Adds content in the role it has.
    pub(super) fn add(&mut self, role: &Role, content: Marked) {
        let kind: &'static str = match role {
            Role::Item => return self.item(content),
            Role::Cell { table, row, column } => {
                return self.cell(*table, (*row, *column), content);
            }
            Role::Trim => return,
            // A table or a list goes on behind the foot of its page.
            Role::Foot => return self.feet.push(content),
            Role::Title => "H1",
            Role::Heading => "H2",
            Role::Text => "P",
            Role::Picture(_) => "Figure",
        };
        self.close();
        let mut element = Element::holding(kind, vec![content]);
        if let Role::Picture(spoken) = role {
            element.spoken = Some(spoken.clone());
        }
        self.read.push(element);
    }

    fn item(&mut self, content: Marked) {
        if let Some(Open::List(items)) = &mut self.open {
            return items.push(content);
        }
        self.close();
        self.open = Some(Open::List(vec![content]));
    }

    fn cell(&mut self, table: usize, (row, column): (usize, usize), content: Marked) {
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
            Some((_, all)) => all.push(content),
            None => last.cells.push((column, vec![content])),
        }
    }

    fn close(&mut self) {
        let closed = match self.open.take() {
            None => return,
            Some(Open::List(items)) => {
                let item =
                    |content| Element::of("LI", vec![Element::holding("LBody", vec![content])]);
                Element::of("L", items.into_iter().map(item).collect())
            }
            Some(Open::Table(_, rows)) => {
                let row = |of: RowTags| {
                    let kind: &'static str = if of.row == 0 { "TH" } else { "TD" };
                    let cells = of.cells.into_iter();
                    Element::of("TR", cells.map(|(_, all)| Element::holding(kind, all)).collect())
                };
                Element::of("Table", rows.into_iter().map(row).collect())
            }
        };
        self.read.push(closed);
    }

    /// Writes the tree; where it begins.
    pub(super) fn write(mut self, file: &mut Objects, pages: &[Ref]) -> Ref {
        self.close();
        let (root, top, parents) = (file.next(), file.next(), file.next());
        let mut tree = Tree { file, pages, holders: vec![Vec::new(); pages.len()] };
        tree.element(&Element::of("Document", self.read), top, root);
        let Tree { file, holders, .. } = tree;
        let mut numbered = String::new();
        for (page, mut of_page) in holders.into_iter().enumerate() {
            of_page.sort_unstable_by_key(|(marked, _)| *marked);
            let of_page: Vec<Ref> = of_page.into_iter().map(|(_, element)| element).collect();
            let id = file.next();
            file.put(id, &format!("[{}]", list(&of_page)));
            numbered.push_str(&format!("{page} {id} "));
        }
        file.dictionary(parents, &format!("/Nums [{numbered}]"));
        let next = pages.len();
        file.dictionary(
            root,
            &format!(
                "/Type /StructTreeRoot /K {top} /ParentTree {parents} /ParentTreeNextKey {next}"
            ),
        );
        root
    }
}

/// The tree while it is written.
struct Tree<'a> {
    file: &'a mut Objects,
    pages: &'a [Ref],
    /// By page: marked content and the element that holds it.
    holders: Vec<Vec<(usize, Ref)>>,
}

impl Tree<'_> {
    fn element(&mut self, element: &Element, id: Ref, parent: Ref) {
        let children: Vec<Ref> = element.children.iter().map(|_| self.file.next()).collect();
        let mut kids = list(&children);
        for Marked { page, id: marked } in &element.content {
            let Some(on) = self.pages.get(*page) else { continue };
            kids.push_str(&format!(" << /Type /MCR /Pg {on} /MCID {marked} >>"));
            self.holders[*page].push((*marked, id));
        }
        let spoken = element.spoken.as_ref();
        let spoken = spoken.map_or(String::new(), |words| format!(" /Alt {}", text(words)));
        let scope = match element.kind {
            "TH" => " /A << /O /Table /Scope /Column >>",
            _ => "",
        };
        let kind = element.kind;
        let entries =
            format!("/Type /StructElem /S /{kind} /P {parent} /K [{kids}]{spoken}{scope}");
        self.file.dictionary(id, &entries);
        for (child, child_id) in element.children.iter().zip(children) {
            self.element(child, child_id, id);
        }
    }
}
