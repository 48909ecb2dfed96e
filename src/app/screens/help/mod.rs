//! The pages of the help: topics along the left, words and painted samples on
//! the sheet, and what is true of the lesson on screen.

use crate::app::state::Commands;
pub mod keys;

use std::path::Path;

use eframe::egui::{
    self, CentralPanel, CollapsingHeader, Frame, Margin, Painter, Panel, Rect, RichText,
    ScrollArea, Sense, Ui, vec2,
};

use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::form::{page_title, remark};
use crate::app::looks::say::say;
use crate::app::looks::sheet::sheet;
use crate::app::looks::theme::Palette;
use crate::app::state::Command;
use crate::app::state::Prefs;
use crate::session::{Command as LessonCommand, Session};

use crate::app::looks::paint;
use crate::view::assumed::where_stated;
use crate::view::cautions::Caution;
use crate::view::help::{Live, Part, Sign, Topic};
use crate::view::licences::licences;
use crate::view::remarks::remarks;
use crate::view::rows::verdict_words;
use crate::view::words::capital;

/// Longest lines, in points.
const WIDTH: f32 = 720.0;

/// Shows a topic.
pub fn show(ui: &mut Ui, topic: Topic, (session, prefs): (&Session, &Prefs), out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    let left = Frame::new().inner_margin(Margin { left: 14, right: 10, top: 0, bottom: 8 });
    Panel::left("topics")
        .exact_size(206.0)
        .resizable(false)
        .frame(left)
        .show_separator_line(false)
        .show(ui, |ui| topics(ui, topic, out));
    let sheet = sheet(palette).inner_margin(Margin::same(12)).outer_margin(Margin {
        left: 0,
        right: 14,
        top: 0,
        bottom: 12,
    });
    CentralPanel::default().frame(sheet).show(ui, |ui| {
        ScrollArea::vertical().id_salt(("help", topic)).auto_shrink(false).follow(ui, |ui| {
            page_title(ui, topic.title(), "");
            if topic != Topic::Keys {
                ui.set_max_width(ui.available_width().min(WIDTH));
            }
            for part in topic.parts() {
                show_part(ui, part, (session, prefs), out);
            }
            ui.add_space(16.0);
        });
    });
}

fn topics(ui: &mut Ui, now: Topic, out: &mut Commands) {
    ui.label(RichText::new(say("Help")).font(fonts::bold(19.0)));
    ui.add_space(4.0);
    ScrollArea::vertical().id_salt("topics").auto_shrink([false, true]).follow(ui, |ui| {
        for topic in Topic::ALL {
            let size = [ui.available_width(), 26.0];
            let button = egui::Button::selectable(topic == now, say(topic.title()));
            if ui.add(button.min_size(size.into())).clicked() {
                out.push(Command::Help(Some(topic)));
            }
        }
        ui.add_space(8.0);
        if ui.button(say("Leave help")).on_hover_text("Esc").clicked() {
            out.push(Command::Help(None));
        }
    });
}

fn show_part(ui: &mut Ui, part: Part, (session, prefs): (&Session, &Prefs), out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    match part {
        Part::Heading(text) => {
            ui.add_space(10.0);
            ui.label(RichText::new(say(text)).font(fonts::bold(16.0)));
        }
        Part::Words(text) => {
            paragraph(ui, text);
            ui.add_space(4.0);
        }
        Part::Term(name, words) => {
            ui.add_space(2.0);
            ui.label(RichText::new(say(name)).font(fonts::bold(14.5)));
            paragraph(ui, words);
        }
        Part::Verdict(verdict, words) => {
            let paint = |painter: &Painter, rect: Rect| {
                paint::verdict(painter, rect.center(), verdict, palette);
            };
            sample(ui, 22.0, &paint, &capital(verdict_words(verdict)), words);
        }
        Part::Work(work, words) => {
            let paint = |painter: &Painter, rect: Rect| paint::bar(painter, rect, work, palette);
            sample(ui, 52.0, &paint, &capital(work.word()), words);
        }
        Part::Sign(sign, words) => {
            let paint = |painter: &Painter, rect: Rect| paint::sign(painter, rect, sign, palette);
            sample(ui, 52.0, &paint, name_of(sign), words);
        }
        Part::Caution(caution) => told_caution(ui, caution),
        Part::Live(live) => show_live(ui, live, (session, prefs), out),
    }
}

fn paragraph(ui: &mut Ui, text: &str) {
    ui.add(egui::Label::new(say(text)).wrap());
}

fn name_of(sign: Sign) -> &'static str {
    match sign {
        Sign::Class => "The whole class",
        Sign::Heat => "An oven's heat",
        Sign::Thread => "A thread",
        Sign::Ribbon => "Kit and adults",
        Sign::Outline => "Another plan",
        Sign::Minute => "The minute line",
        Sign::Held => "A lock",
        Sign::Lens => "A lens",
        Sign::Look => "A half-disc on the clock",
    }
}

/// A painted sample with its name and what it means.
fn sample(ui: &mut Ui, width: f32, paint: &dyn Fn(&Painter, Rect), name: &str, words: &str) {
    ui.add_space(3.0);
    ui.horizontal_top(|ui| {
        let (rect, _) = ui.allocate_exact_size(vec2(width, 18.0), Sense::hover());
        paint(ui.painter(), rect);
        ui.vertical(|ui| {
            ui.label(RichText::new(say(name)).font(fonts::bold(14.5)));
            paragraph(ui, words);
        });
    });
}

fn told_caution(ui: &mut Ui, caution: Caution) {
    ui.add_space(6.0);
    ui.label(RichText::new(say(caution.about)).font(fonts::bold(15.0)));
    paragraph(ui, caution.words);
    remark(ui, &format!("Source: {}.", caution.source));
}

fn show_live(ui: &mut Ui, live: Live, (session, prefs): (&Session, &Prefs), out: &mut Commands) {
    match live {
        Live::Keys => keys::sheet(ui),
        Live::Sample => {
            ui.add_space(4.0);
            let command = LessonCommand::OpenDemo;
            if ui.button(say(command.label())).clicked() {
                out.push(command);
            }
        }
        Live::Hints => {
            ui.add_space(4.0);
            if ui.button(say(Command::ShowHints.label())).clicked() {
                out.push(Command::ShowHints);
            }
        }
        Live::Figures => figures(ui, session, out),
        Live::HangsOn if session.offering().hangs_on.is_empty() => {
            remark(ui, "For the lesson on screen no such figure is known.");
        }
        Live::HangsOn => {
            for sentence in &session.offering().hangs_on {
                paragraph(ui, sentence);
            }
        }
        Live::Folders => folders(ui, session, prefs),
        Live::Licences => all_licences(ui),
    }
}

/// Every licence under its title. Names and texts are as those wrote them who grant it.
fn all_licences(ui: &mut Ui) {
    for (number, licence) in licences().iter().enumerate() {
        CollapsingHeader::new(licence.title()).id_salt(("licence", number)).show(ui, |ui| {
            if !licence.packages.is_empty() {
                ui.add(egui::Label::new(licence.packages.join(", ")).wrap());
                ui.add_space(4.0);
            }
            for text in &licence.texts {
                ui.add(egui::Label::new(RichText::new(*text).small()).wrap());
                ui.add_space(8.0);
            }
        });
    }
}

/// The assumed figures of the lesson on screen, each a way to its field.
fn figures(ui: &mut Ui, session: &Session, out: &mut Commands) {
    let Some(planned) = session.planned() else {
        remark(ui, "There is no plan on screen to list them of.");
        return;
    };
    for remarked in remarks(&planned.lesson, &planned.plan) {
        paragraph(ui, &remarked);
    }
    let figures = where_stated(&planned.lesson, &planned.plan);
    if figures.is_empty() {
        remark(ui, "None: everything that this plan rests on has been stated.");
    }
    for (figure, at) in figures {
        let figure = capital(&figure);
        match at {
            Some(at) => {
                let link = ui.add(egui::Link::new(RichText::new(say(&figure))));
                if link.on_hover_text(say("Go to its field")).clicked() {
                    out.push(Command::GoTo(at));
                }
            }
            None => paragraph(ui, &figure),
        }
    }
}

fn folders(ui: &mut Ui, session: &Session, prefs: &Prefs) {
    let lesson = session.document().and_then(|d| d.path.as_deref());
    let settings = prefs.kept_in.as_deref().and_then(Path::parent);
    for (name, path, without) in [
        ("This lesson", lesson, "not saved to a file yet"),
        ("Your data", session.data_folder(), "nothing is kept in this session"),
        ("Settings", settings, "nothing is kept in this session"),
    ] {
        ui.label(RichText::new(say(name)).font(fonts::bold(14.5)));
        let words = path.map_or_else(|| without.to_owned(), |p| p.display().to_string());
        paragraph(ui, &words);
    }
    ui.add_space(4.0);
}
