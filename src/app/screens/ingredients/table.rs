//! The table: a row an ingredient, by where it stands; below it a row a recipe.

use eframe::egui::{
    self, Align2, Id, Rect, Response, RichText, Role, ScrollArea, Sense, Stroke, StrokeKind, Ui,
    WidgetInfo, pos2, vec2,
};

use crate::app::looks::follow::Follow as _;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fitted, fonts, width_of};
use crate::app::state::{Command, Commands};
use crate::stores::labels::Stands;
use crate::stores::{IngredientRow, IngredientsPage, RecipeRow};

/// Height of a row.
const ROW: f32 = 25.0;
/// Side of a mark.
const MARK: f32 = 12.0;
/// Widths of the columns for the groups, the spare sets, the packs and the reader.
const AMOUNTS: [f32; 4] = [88.0, 68.0, 92.0, 84.0];
/// In less room spare sets and packs are left to the card.
const NARROW: f32 = 560.0;
/// The widest and the narrowest column of an allergen.
const ALLERGEN: (f32, f32) = (58.0, 26.0);

/// Where the columns stand.
struct Columns {
    /// Right edges of the amounts for groups and for spare sets, left edge of packs.
    amounts: [f32; 3],
    /// Middles of the allergens.
    allergens: Vec<f32>,
    /// Left edge of the reader.
    read: f32,
    /// How wide an allergen's column is.
    each: f32,
    /// There is no room for spare sets and packs.
    is_narrow: bool,
}

impl Columns {
    fn of(room: Rect, page: &IngredientsPage) -> Self {
        let count = page.columns.len() + usize::from(page.others > 0);
        let is_narrow = room.width() < NARROW;
        let [needed, spare, packs, read] = AMOUNTS;
        let (spare, packs) = if is_narrow { (0.0, 0.0) } else { (spare, packs) };
        let fixed = needed + spare + packs + read;
        let left = room.width() - fixed;
        #[allow(clippy::cast_precision_loss)] // the law's allergens
        let count_f = count.max(1) as f32;
        let each = (0.62 * left / count_f).clamp(ALLERGEN.1, ALLERGEN.0);
        let read = room.right() - read;
        let first = read - each * count_f;
        let packs = first - packs;
        #[allow(clippy::cast_precision_loss)]
        let allergens = (0..count).map(|i| first + each * (i as f32 + 0.5)).collect();
        Self {
            amounts: [packs - spare - 6.0, packs - 6.0, packs],
            allergens,
            read,
            each,
            is_narrow,
        }
    }
}

/// Shows it.
pub fn show(ui: &mut Ui, page: &IngredientsPage, chosen: Option<&str>, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    key(ui);
    let (room, _) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::hover());
    let columns = Columns::of(room, page);
    headings(ui, room, &columns, page);
    ui.painter().hline(room.x_range(), room.bottom(), Stroke::new(1.0, palette.line));
    ScrollArea::vertical().id_salt("ingredients").auto_shrink(false).follow(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let mut number = 0;
        for (place, rows) in &page.shelves {
            let heading = if place.is_empty() { "no place entered" } else { place };
            ui.add_space(6.0);
            let words = RichText::new(say(heading)).font(fonts::bold(12.0)).color(palette.soft);
            ui.label(words);
            for row in rows {
                let is_chosen = chosen == Some(row.name.as_str());
                ingredient(ui, &columns, (page, row), (number, is_chosen), out);
                number += 1;
            }
        }
        ui.add_space(10.0);
        ui.label(RichText::new(say("Recipe against allergen")).font(fonts::bold(13.0)));
        for (number, row) in page.recipes.iter().enumerate() {
            recipe(ui, &columns, (page, row, number), out);
        }
    });
}

fn headings(ui: &Ui, room: Rect, columns: &Columns, page: &IngredientsPage) {
    let palette = Palette::of(ui.ctx());
    let (y, font) = (room.center().y, fonts::bold(11.5));
    let text = |x: f32, align: Align2, words: &str, most: f32| {
        let words = say(words);
        let words = fitted(ui.painter(), &words, font.clone(), most);
        ui.painter().text(pos2(x, y), align, words, font.clone(), palette.soft);
    };
    text(
        room.left(),
        Align2::LEFT_CENTER,
        "ingredient",
        (columns.amounts[0] - room.left() - 60.0).max(60.0),
    );
    text(columns.amounts[0], Align2::RIGHT_CENTER, "groups", 66.0);
    if !columns.is_narrow {
        text(columns.amounts[1], Align2::RIGHT_CENTER, "+ spare", 58.0);
        text(columns.amounts[2] + 4.0, Align2::LEFT_CENTER, "packs", 80.0);
    }
    let names = page.columns.iter().map(|a| a.short());
    let others = format!("{} more", page.others);
    let names = names.chain((page.others > 0).then_some(others.as_str()));
    for (x, name) in columns.allergens.iter().zip(names) {
        text(*x, Align2::CENTER_CENTER, name, columns.each - 2.0);
    }
    text(columns.read, Align2::LEFT_CENTER, "label read", 82.0);
}

fn ingredient(
    ui: &mut Ui,
    columns: &Columns,
    (page, row): (&IngredientsPage, &IngredientRow),
    (number, is_chosen): (usize, bool),
    out: &mut Commands,
) {
    let palette = Palette::of(ui.ctx());
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::hover());
    let response = ui.interact(rect, Id::unique(("ingredient", number, &row.name)), Sense::click());
    let spoken = say(row.told(&page.columns)).into_owned();
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_chosen, &spoken));
    if is_chosen {
        ui.painter().rect_filled(rect.expand2(vec2(4.0, 0.0)), 3.0, palette.chosen);
    }
    edge(ui, rect, &response);
    let y = rect.center().y;
    let bold = !row.is_read;
    let font = if bold { fonts::bold(13.5) } else { fonts::plain(13.5) };
    let text = |x: f32, align: Align2, words: &str, most: f32, soft: bool| {
        let words = fitted(ui.painter(), words, font.clone(), most);
        let colour = if soft { palette.soft } else { palette.ink };
        ui.painter().text(pos2(x, y), align, words, font.clone(), colour);
    };
    let name_room = columns.amounts[0] - rect.left() - AMOUNTS[0] + 6.0;
    text(rect.left(), Align2::LEFT_CENTER, &row.name, name_room, false);
    text(columns.amounts[0], Align2::RIGHT_CENTER, &say(&row.needed), AMOUNTS[0] - 8.0, false);
    if !columns.is_narrow {
        text(columns.amounts[1], Align2::RIGHT_CENTER, &say(&row.spare), AMOUNTS[1] - 4.0, true);
        text(columns.amounts[2] + 4.0, Align2::LEFT_CENTER, &say(&row.packs), 86.0, true);
    }
    text(columns.read, Align2::LEFT_CENTER, &say(&row.read), 82.0, !bold);
    marks(ui, columns, (&row.stands, &row.entered), y);
    ui.painter().hline(rect.x_range(), rect.bottom(), Stroke::new(0.5, palette.line));
    if response.clicked() {
        out.push(Command::Ingredient(row.name.clone()));
    }
}

/// A press shows the first of its labels that nobody has read.
fn recipe(
    ui: &mut Ui,
    columns: &Columns,
    (page, row, number): (&IngredientsPage, &RecipeRow, usize),
    out: &mut Commands,
) {
    let palette = Palette::of(ui.ctx());
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::hover());
    let response = ui.interact(rect, Id::unique(("recipe", number, &row.name)), Sense::click());
    let spoken = say(row.told(&page.columns)).into_owned();
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &spoken));
    edge(ui, rect, &response);
    let y = rect.center().y;
    let text = |x: f32, words: &str, most: f32, font: egui::FontId| {
        let words = fitted(ui.painter(), words, font.clone(), most);
        ui.painter().text(pos2(x, y), Align2::LEFT_CENTER, words, font, palette.ink);
    };
    let is_unread = !row.unread.is_empty();
    let font = if is_unread { fonts::bold(13.5) } else { fonts::plain(13.5) };
    text(rect.left(), &row.name, columns.amounts[2] - rect.left(), font.clone());
    text(columns.read, &say(row.labels()), 82.0, font);
    marks(ui, columns, (&row.stands, &row.as_entered), y);
    ui.painter().hline(rect.x_range(), rect.bottom(), Stroke::new(0.5, palette.line));
    if let Some(first) = row.unread.first().filter(|_| response.clicked()) {
        out.push(Command::Ingredient(first.clone()));
    }
    if is_unread {
        response.on_hover_text(say(format!("not read: {}", row.unread.join(", "))));
    }
}

/// A frame around a row that has the keyboard or the pointer.
fn edge(ui: &Ui, rect: Rect, response: &Response) {
    let palette = Palette::of(ui.ctx());
    let edge = if response.has_focus() {
        Stroke::new(2.5, palette.focus)
    } else if response.hovered() {
        Stroke::new(1.0, palette.ink)
    } else {
        return;
    };
    ui.painter().rect_stroke(rect.expand2(vec2(4.0, 0.0)), 3.0, edge, StrokeKind::Inside);
}

fn marks(ui: &Ui, columns: &Columns, (stands, entered): (&[Stands], &[bool]), y: f32) {
    for ((x, stands), entered) in columns.allergens.iter().zip(stands).zip(entered) {
        mark(ui, pos2(*x, y), *stands, *entered);
    }
}

/// A filled square, a dash, or a question in a box: told apart without colours. Where
/// nobody is named who read a label the square is an empty one, the dash two dots.
fn mark(ui: &Ui, at: egui::Pos2, stands: Stands, as_entered: bool) {
    let palette = Palette::of(ui.ctx());
    let square = Rect::from_center_size(at, vec2(MARK, MARK));
    match stands {
        Stands::Named if as_entered => {
            let edge = Stroke::new(2.4, palette.ink);
            ui.painter().rect_stroke(square, 1.0, edge, StrokeKind::Inside);
        }
        Stands::NotNamed if as_entered => {
            for x in [at.x - 0.24 * MARK, at.x + 0.24 * MARK] {
                ui.painter().circle_filled(pos2(x, at.y), 1.1, palette.soft);
            }
        }
        Stands::Named => {
            ui.painter().rect_filled(square, 1.0, palette.ink);
        }
        Stands::NotNamed => {
            let half = 0.3 * MARK;
            let ends = [pos2(at.x - half, at.y), pos2(at.x + half, at.y)];
            ui.painter().line_segment(ends, Stroke::new(1.2, palette.soft));
        }
        Stands::NotKnown => {
            let edge = Stroke::new(1.2, palette.ink);
            ui.painter().rect_stroke(square, 1.0, edge, StrokeKind::Inside);
            let font = fonts::bold(10.0);
            ui.painter().text(at, Align2::CENTER_CENTER, "?", font, palette.ink);
        }
    }
}

fn key(ui: &mut Ui) {
    let soft = Palette::of(ui.ctx()).soft;
    ui.horizontal_wrapped(|ui| {
        for (stands, as_entered, words) in [
            (Stands::Named, false, "named on the label"),
            (Stands::NotNamed, false, "not named on the label that was read"),
            (Stands::NotKnown, false, "not known: nobody has read it"),
            (Stands::Named, true, "named, as entered"),
            (Stands::NotNamed, true, "not named, as entered: no reader is known"),
        ] {
            // A mark and its words stay together.
            let wide = MARK + 4.0 + 8.0 + width_of(ui, words, fonts::plain(12.5));
            if ui.available_size_before_wrap().x < wide {
                ui.end_row();
            }
            let (rect, _) = ui.allocate_exact_size(vec2(MARK + 4.0, MARK + 4.0), Sense::hover());
            mark(ui, rect.center(), stands, as_entered);
            ui.label(RichText::new(say(words)).font(fonts::plain(12.5)).color(soft));
            ui.add_space(10.0);
        }
    });
}
