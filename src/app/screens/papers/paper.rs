//! On what is printed and how large, and what does not fit as it should.

use eframe::egui::{self, RichText, ScrollArea, Ui};

use super::choose;
use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Commands, Papers, PapersChoice};
use crate::papers::paper::{Paper, Print};
use crate::papers::reissue::when;
use crate::session::LaidSheets;
use crate::view::words::capital;

/// Shows the card.
pub fn show(ui: &mut Ui, laid: Option<&LaidSheets>, papers: &Papers, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    ScrollArea::vertical().id_salt("paper").auto_shrink([false, true]).follow(ui, |ui| {
        ui.label(RichText::new(say("Paper")).font(fonts::bold(16.0)));
        for (paper, name) in [(Paper::A4, "A4"), (Paper::Letter, "Letter")] {
            let is_chosen = papers.print.paper == paper;
            if ui.radio(is_chosen, say(name)).clicked() {
                let print = Print { paper, ..papers.print };
                out.push(choose(PapersChoice::Print(print)));
            }
        }
        let mut large = papers.print.large;
        if ui.checkbox(&mut large, say("Large print")).changed() {
            let print = Print { large, ..papers.print };
            out.push(choose(PapersChoice::Print(print)));
        }
        let soft = |words: &str| {
            RichText::new(say(words.to_owned())).color(palette.soft).font(fonts::plain(13.0))
        };
        ui.add(egui::Label::new(soft("No letters below 16 points, but in pictures.")).wrap());
        let mut symbols = papers.print.symbols;
        if ui.checkbox(&mut symbols, say("Symbols on time plans")).changed() {
            let print = Print { symbols, ..papers.print };
            out.push(choose(PapersChoice::Print(print)));
        }
        home(ui, laid, papers, out);
        let Some(laid) = laid else { return };
        if let Some(since) = laid.since.filter(|_| laid.is_reissue()) {
            ui.add_space(8.0);
            let words = format!("Changed since {}", when(since));
            ui.label(RichText::new(say(words)).font(fonts::bold(14.0)));
            let words = "Sheets that have changed list what is new on top. The others are not \
                         printed again unless you want them.";
            ui.add(egui::Label::new(soft(words)).wrap());
            let mut again = papers.again;
            if ui.checkbox(&mut again, say("Unchanged sheets too")).changed() {
                out.push(choose(PapersChoice::Again(again)));
            }
        }
        let mut told = Vec::new();
        let chosen = laid.chosen(&papers.wanted(), papers.again);
        for finding in chosen.into_iter().flat_map(|sheet| &sheet.findings) {
            if told.contains(&finding) {
                continue;
            }
            if told.is_empty() {
                ui.add_space(8.0);
                ui.label(RichText::new(say("Look at these")).font(fonts::bold(14.0)));
            }
            ui.add(egui::Label::new(say(format!("{}.", capital(&finding.message)))).wrap());
            ui.add(egui::Label::new(soft(&format!("{}.", capital(&finding.hint)))).wrap());
            told.push(finding);
        }
    });
}

/// A second line on time plans, in a language that the lesson has lines in.
fn home(ui: &mut Ui, laid: Option<&LaidSheets>, papers: &Papers, out: &mut Commands) {
    let Some(laid) = laid.filter(|laid| !laid.languages.is_empty()) else { return };
    ui.add_space(6.0);
    ui.label(RichText::new(say("Second line on time plans")).font(fonts::bold(14.0)));
    let none = (None, "None".to_owned());
    let languages = laid.languages.iter().map(|&of| (Some(of), format!("In {of}")));
    for (home, name) in std::iter::once(none).chain(languages) {
        if ui.radio(papers.print.home == home, say(name)).clicked() {
            let print = Print { home, ..papers.print };
            out.push(choose(PapersChoice::Print(print)));
        }
    }
    ui.add_space(6.0);
}
