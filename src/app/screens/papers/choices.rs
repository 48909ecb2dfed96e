//! The sheets there are, each with a box and its pages.

use eframe::egui::{self, RichText, ScrollArea, Ui};

use super::choose;
use crate::app::looks::button::named;
use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::screens::week::choose_told_of;
use crate::app::state::{Commands, Papers, PapersChoice};
use crate::papers::{Part, parts_of};
use crate::session::LaidSheets;
use crate::week::{ToldOf, Week};

/// Shows the list; of a week its lessons come first.
pub fn show(
    ui: &mut Ui,
    laid: Option<&LaidSheets>,
    (papers, of_week): (&Papers, Option<(&Week, ToldOf)>),
    out: &mut Commands,
) {
    let palette = Palette::of(ui.ctx());
    ScrollArea::vertical().id_salt("sheets").auto_shrink([false, true]).follow(ui, |ui| {
        if let Some((week, told_of)) = of_week {
            ui.label(RichText::new(say("Lessons")).font(fonts::bold(16.0)));
            choose_told_of(ui, week, (told_of, true), out);
            ui.add_space(6.0);
        }
        ui.label(RichText::new(say("Sheets")).font(fonts::bold(16.0)));
        let usual = choose(PapersChoice::Usual);
        let label = if of_week.is_some() { "What all share" } else { usual.label() };
        named(ui, !papers.is_usual(), label, usual, None, out);
        ui.add_space(4.0);
        let pages = laid
            .map(|laid| parts_of(laid.sheets.iter().map(|(sheet, _)| sheet)))
            .unwrap_or_default();
        // Of a week what is chosen at first comes first.
        let mut parts = Part::ALL;
        parts.sort_by_key(|part| of_week.is_some() && !part.is_common());
        for part in parts {
            let of = pages.iter().find(|(p, _)| *p == part).map(|(_, pages)| *pages);
            let why = laid.into_iter().flat_map(|laid| &laid.left_out);
            let why = why.filter(|left_out| left_out.part == part);
            let label = match of {
                Some(1) => format!("{}, 1 page", part.title()),
                Some(pages) => format!("{}, {pages} pages", part.title()),
                None => part.title().to_owned(),
            };
            let mut wanted = papers.parts.contains(&part);
            let tick = egui::Checkbox::new(&mut wanted, say(label));
            if ui.add(tick).changed() {
                out.push(choose(PapersChoice::Part(part, wanted)));
            }
            for why in why {
                let words = format!("{} is left out: {}.", part.title(), why.why);
                let words = RichText::new(say(words)).color(palette.soft).font(fonts::plain(13.0));
                ui.add(egui::Label::new(words).wrap());
            }
        }
    });
}
