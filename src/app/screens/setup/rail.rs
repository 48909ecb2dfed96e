//! The list of pages along the left, and what is still to do.

use eframe::egui::{self, RichText, ScrollArea, Ui};

use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::form::Form;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::Command;
use crate::app::state::Page;
use crate::file::format::RoomShape;
use crate::finding::{Severity, shortened};
use crate::setup::usual_kit::{self, Wanting};
use crate::view::words::{capital, list};

/// Shows the list of pages.
pub fn rail(ui: &mut Ui, now: Page, form: &mut Form<'_>) {
    let palette = Palette::of(ui.ctx());
    ScrollArea::vertical().id_salt("rail").auto_shrink([false, true]).follow(ui, |ui| {
        let file = form.file;
        let mut pages = vec![
            ("In short".to_owned(), Page::Start),
            ("Lesson and bells".to_owned(), Page::Lesson),
        ];
        for (i, recipe) in file.recipes.iter().enumerate() {
            pages.push((shortened(&recipe.name, 22), Page::Recipe(i)));
            // A page that is being looked at does not go while it is.
            if !recipe.review.is_empty() || now == Page::Review(i) {
                pages.push((format!("   to review: {}", recipe.review.len()), Page::Review(i)));
            }
        }
        pages.push(("Groups".to_owned(), Page::Groups));
        for (i, room) in file.rooms().enumerate() {
            pages.push((shortened(room.name(), 22), Page::Room(i)));
        }
        pages.push(("Tins".to_owned(), Page::Tins));
        pages.push(("Adults and rules".to_owned(), Page::Adults));
        for (name, page) in pages {
            let width = ui.available_width();
            let button =
                egui::Button::selectable(page == now, say(&name)).min_size([width, 26.0].into());
            let button = ui.add(button);
            if matches!(page, Page::Recipe(_) | Page::Review(_)) {
                // The recipe's tile has its bare name.
                let spoken = format!("Page of {}", name.trim());
                ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(spoken)));
            }
            if button.clicked() {
                form.out.push(Command::SetUp(page));
            }
        }
        let to_do: Vec<_> =
            form.findings.iter().filter(|f| f.severity == Severity::Error).collect();
        ui.add_space(8.0);
        let to_do_is_empty = to_do.is_empty();
        if to_do_is_empty {
            ui.label(RichText::new(say("It can be planned.")).color(palette.soft));
        } else {
            ui.label(RichText::new(say("Still to do")).font(fonts::bold(14.0)));
            let more = to_do.len().saturating_sub(8);
            for finding in to_do.into_iter().take(8) {
                let words = capital(&finding.message);
                let link = egui::Link::new(RichText::new(say(words)).font(fonts::plain(13.5)));
                if ui.add(link).clicked() {
                    form.out.push(Command::GoTo(finding.path.clone()));
                }
            }
            if more > 0 {
                ui.label(RichText::new(say(format!("and {more} more"))).color(palette.soft));
            }
        }
        wanting_kit(ui, form, to_do_is_empty);
    });
}

/// Kit that steps usually use and no room says anything of.
fn wanting_kit(ui: &mut Ui, form: &mut Form<'_>, is_first: bool) {
    let wanting = usual_kit::wanting(form.file);
    if is_first && !wanting.is_empty() {
        ui.add_space(4.0);
        ui.label(RichText::new(say("Still to do")).font(fonts::bold(14.0)));
    }
    for Wanting { kit, steps } in wanting {
        let words = format!(
            "{}: {} usually {} it, but no room says how many there are. Say 0 if there are none.",
            capital(&kit),
            list(&steps),
            if steps.len() == 1 { "uses" } else { "use" }
        );
        let link = egui::Link::new(RichText::new(say(words)).font(fonts::plain(13.5)));
        if ui.add(link).clicked() {
            form.out.push(Command::GoTo(RoomShape::path(0).field("kit")));
        }
    }
}
