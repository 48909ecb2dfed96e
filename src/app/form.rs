//! Fields of a page: each on a part of the lesson's file, named, with its
//! unit, keeping what was typed and saying why it is refused.

use std::collections::BTreeMap;
use std::sync::Arc;

use eframe::egui::{self, Button, ComboBox, Id, Response, RichText, TextEdit, Ui, vec2};

use super::command::Command;
use super::edit::Edit;
use super::fonts;
use super::theme::Palette;
use crate::file::format::LessonFile;
use crate::finding::{Finding, Path, Severity};
use crate::model::Lesson;
use crate::setup::rename::{Named, rename};

/// What the document refused, by field.
pub type Refused = BTreeMap<String, String>;

/// Width of the column of names, in points.
const NAMES: f32 = 168.0;

/// What is typed and not (or not yet) what the lesson holds.
#[derive(Debug, Clone, Default)]
struct Typed {
    text: String,
    why_not: Option<String>,
}

/// A field: where it stands in the file and what it is called.
pub struct Field {
    at: Path,
    name: String,
    seen: Option<String>,
    unit: &'static str,
    hint: String,
    width: f32,
}

impl Field {
    /// A field of this name.
    pub fn new(at: Path, name: impl Into<String>) -> Self {
        Self { at, name: name.into(), seen: None, unit: "", hint: String::new(), width: 220.0 }
    }

    /// With a shorter name to be seen than is heard.
    #[must_use]
    pub fn seen(mut self, name: impl Into<String>) -> Self {
        self.seen = Some(name.into());
        self
    }

    /// With its unit.
    #[must_use]
    pub fn unit(mut self, unit: &'static str) -> Self {
        self.unit = unit;
        self
    }

    /// With what is assumed, or an example, while it is empty.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = hint.into();
        self
    }

    /// So wide, in points.
    #[must_use]
    pub fn width(mut self, width: f32) -> Self {
        self.width = width;
        self
    }
}

/// How narrow a field may be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Least {
    /// As narrow as there is room.
    Room,
    /// Not at all.
    Full,
}

/// A page of fields.
pub struct Form<'a> {
    /// The lesson's file as it stands.
    pub file: &'a LessonFile,
    /// What it comes to, if it can be planned.
    pub lesson: Option<&'a Lesson>,
    /// What is missing, wrong or worth a look.
    pub findings: &'a [Finding],
    /// What was refused.
    pub refused: &'a Refused,
    /// The day it is.
    pub today: chrono::NaiveDate,
    /// Tells fields of one lesson from those of another.
    pub era: u64,
    /// What fields of this page hold that is not taken, and why.
    pub not_taken: Vec<(Path, String)>,
    /// What is to be done.
    pub out: &'a mut Vec<Command>,
}

/// The identity of the field at a place, to give it the keyboard.
pub fn field_id(era: u64, at: &Path) -> Id {
    Id::unique(("field", era, at.to_string()))
}

impl Form<'_> {
    /// A field with its name before it; `put` reads the text into the file.
    pub fn text(
        &mut self,
        ui: &mut Ui,
        field: Field,
        value: &str,
        put: impl FnOnce(&str, &mut LessonFile) -> Result<(), String>,
    ) {
        ui.horizontal(|ui| {
            name(ui, field.seen.as_deref().unwrap_or(&field.name));
            self.bare(ui, &field, value, Least::Room, put);
        });
        self.told_beside(ui, &field.at, NAMES + 8.0);
    }

    /// A field of a table: its name is heard and not seen.
    pub fn cell(
        &mut self,
        ui: &mut Ui,
        field: &Field,
        value: &str,
        put: impl FnOnce(&str, &mut LessonFile) -> Result<(), String>,
    ) -> Response {
        self.bare(ui, field, value, Least::Full, put)
    }

    /// A field for a name that other parts of the file refer to, with its own
    /// name before it; see [`Form::naming`].
    pub fn name(&mut self, ui: &mut Ui, field: Field, value: &str, what: &Named) {
        ui.horizontal(|ui| {
            name(ui, field.seen.as_deref().unwrap_or(&field.name));
            self.naming(ui, &field, value, what, |_| {});
        });
        self.told_beside(ui, &field.at, NAMES + 8.0);
    }

    /// A field of a table that holds a name other parts of the file refer to:
    /// they follow. What is typed is read against the file as it was before
    /// the typing began, so that names passed on the way leave no trace.
    /// `then` may fill in what goes with the name.
    pub fn naming(
        &mut self,
        ui: &mut Ui,
        field: &Field,
        value: &str,
        what: &Named,
        then: impl FnOnce(&mut LessonFile),
    ) -> Response {
        type Kept = (Arc<LessonFile>, Arc<LessonFile>);
        let id = field_id(self.era, &field.at).with("before");
        let ctx = ui.ctx().clone();
        let response = self.bare(ui, field, value, Least::Full, |text, file| {
            let kept: Option<Kept> = ctx.data(|d| d.get_temp(id));
            let going_on = kept.filter(|(_, last)| **last == *file).map(|(before, _)| before);
            let before = going_on.unwrap_or_else(|| Arc::new(file.clone()));
            let mut now = (*before).clone();
            rename(&mut now, what, text)?;
            then(&mut now);
            file.clone_from(&now);
            ctx.data_mut(|d| d.insert_temp::<Kept>(id, (before, Arc::new(now))));
            Ok(())
        });
        if response.lost_focus() {
            ui.data_mut(|d| d.remove_temp::<Kept>(id));
        }
        response
    }

    fn bare(
        &mut self,
        ui: &mut Ui,
        field: &Field,
        value: &str,
        least: Least,
        put: impl FnOnce(&str, &mut LessonFile) -> Result<(), String>,
    ) -> Response {
        let id = field_id(self.era, &field.at);
        let typed: Option<Typed> = ui.data(|d| d.get_temp(id));
        let mut text = typed.as_ref().map_or_else(|| value.to_owned(), |t| t.text.clone());
        let why_not = self.why_not(ui, &field.at);
        let wrong = why_not.is_some();
        if let Some(why) = why_not {
            self.not_taken.push((field.at.clone(), format!("{}: {why}", field.name)));
        }
        let soft = Palette::of(ui.ctx()).soft;
        let mut edit = TextEdit::singleline(&mut text).id(id).desired_width(field.width);
        if least == Least::Full {
            // A table's column starts narrow and would keep the field so.
            edit = edit.min_size(vec2(field.width, 0.0));
        }
        if !field.hint.is_empty() {
            edit = edit.hint_text(RichText::new(&field.hint).color(soft));
        }
        let response = ui.add(edit);
        let unit = if field.unit.is_empty() { String::new() } else { format!(", {}", field.unit) };
        let spoken = format!("{}{unit}", field.name);
        ui.ctx().accesskit_node_builder(id, |node| node.set_label(spoken));
        if !field.unit.is_empty() {
            ui.label(RichText::new(field.unit).color(soft));
        }
        if response.changed() {
            let mut file = self.file.clone();
            let read = put(&text, &mut file);
            let why_not = read.as_ref().err().cloned();
            match read {
                Ok(()) => self.out.push(Command::Edit(Edit::Enter {
                    what: format!("{}: {}", field.name, crate::finding::shortened(&text, 40)),
                    at: field.at.clone(),
                    typing: true,
                    file: Box::new(file),
                })),
                Err(_) => self.out.push(Command::Untype(field.at.clone())),
            }
            ui.data_mut(|d| d.insert_temp(id, Typed { text, why_not }));
        } else if response.lost_focus() || (!response.has_focus() && typed.is_some() && !wrong) {
            if response.lost_focus() {
                self.out.push(Command::Typed);
            }
            if !wrong {
                ui.data_mut(|d| d.remove_temp::<Typed>(id));
            }
        }
        response
    }

    /// Why what was typed in a field is refused.
    fn why_not(&self, ui: &Ui, at: &Path) -> Option<String> {
        let typed: Option<Typed> = ui.data(|d| d.get_temp(field_id(self.era, at)));
        let why_not = typed?.why_not;
        why_not.or_else(|| self.refused.get(&at.to_string()).cloned())
    }

    /// Says why a field is refused, or what is wrong with what it holds.
    pub fn told(&self, ui: &mut Ui, at: &Path) {
        self.told_beside(ui, at, 0.0);
    }

    fn told_beside(&self, ui: &mut Ui, at: &Path, indent: f32) {
        if let Some(why) = self.why_not(ui, at) {
            let text = format!("Not taken: {why}.");
            say(ui, indent, &text.replace("..", "."));
            return;
        }
        for finding in self.findings.iter().filter(|f| f.path == *at) {
            say(ui, indent, &in_words(finding));
        }
    }

    /// Says what is wrong with a thing and all its parts, and what was typed
    /// in cells of a table and is not taken.
    pub fn told_of_all(&self, ui: &mut Ui, at: &Path) {
        for (_, why) in self.not_taken.iter().filter(|(path, _)| path.0.starts_with(&at.0)) {
            say(ui, 0.0, &format!("Not taken: {why}.").replace("..", "."));
        }
        let under = |f: &&Finding| f.path.0.starts_with(&at.0);
        for finding in self.findings.iter().filter(under) {
            say(ui, 0.0, &in_words(finding));
        }
    }

    /// A box to tick.
    pub fn tick(
        &mut self,
        ui: &mut Ui,
        at: &Path,
        label: &str,
        ticked: bool,
        set: impl FnOnce(&mut LessonFile, bool),
    ) {
        let mut now = ticked;
        if ui.checkbox(&mut now, label).changed() {
            let what = if now { label.to_owned() } else { format!("not: {label}") };
            self.enter(at.clone(), what, |file| set(file, now));
        }
    }

    /// One of several, its name before it.
    pub fn choice(
        &mut self,
        ui: &mut Ui,
        field: &Field,
        options: &[(String, bool)],
        set: impl FnOnce(&mut LessonFile, usize),
    ) {
        ui.horizontal(|ui| {
            name(ui, field.seen.as_deref().unwrap_or(&field.name));
            self.choose(ui, field, options, set);
        });
        self.told_beside(ui, &field.at, NAMES + 8.0);
    }

    /// One of several, in a table: words, and whether it is the one.
    pub fn choose(
        &mut self,
        ui: &mut Ui,
        field: &Field,
        options: &[(String, bool)],
        set: impl FnOnce(&mut LessonFile, usize),
    ) {
        let chosen = options.iter().find(|(_, is)| *is).map_or("", |(words, _)| words.as_str());
        let mut picked = None;
        let shown = if chosen.is_empty() { field.hint.as_str() } else { chosen };
        let made = ComboBox::from_id_salt(field_id(self.era, &field.at))
            .width(field.width)
            .selected_text(shown)
            .truncate()
            .show_ui(ui, |ui| {
                for (i, (words, is)) in options.iter().enumerate() {
                    if ui.selectable_label(*is, words).clicked() && !is {
                        picked = Some(i);
                    }
                }
            });
        let spoken = format!("{}: {shown}", field.name);
        ui.ctx().accesskit_node_builder(made.response.id, |node| node.set_label(spoken));
        if let Some(i) = picked {
            let what = format!("{}: {}", field.name, options[i].0);
            self.enter(field.at.clone(), what, |file| set(file, i));
        }
    }

    /// A button that changes the lesson.
    pub fn button(
        &mut self,
        ui: &mut Ui,
        label: &str,
        what: impl Into<String>,
        set: impl FnOnce(&mut LessonFile),
    ) {
        if ui.button(label).clicked() {
            self.enter(Path::root(), what.into(), set);
        }
    }

    /// A small button at the end of a row; `spoken` says what it is for.
    pub fn small(
        &mut self,
        ui: &mut Ui,
        (sign, spoken): (&str, &str),
        enabled: bool,
        set: impl FnOnce(&mut LessonFile),
    ) {
        let button = ui.add_enabled(enabled, Button::new(sign).min_size(vec2(22.0, 22.0)));
        ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(spoken));
        if button.on_hover_text(spoken).clicked() {
            self.enter(Path::root(), spoken.to_owned(), set);
        }
    }

    /// Changes the lesson, unless it cannot be done.
    ///
    /// # Errors
    /// Why not, in words.
    pub fn attempt<T>(
        &mut self,
        at: Path,
        what: String,
        set: impl FnOnce(&mut LessonFile) -> Result<T, String>,
    ) -> Result<T, String> {
        let mut file = self.file.clone();
        let made = set(&mut file)?;
        self.out.push(Command::Edit(Edit::Enter { what, at, typing: false, file: Box::new(file) }));
        Ok(made)
    }

    /// Changes the lesson.
    pub fn enter(&mut self, at: Path, what: String, set: impl FnOnce(&mut LessonFile)) {
        let mut file = self.file.clone();
        set(&mut file);
        self.out.push(Command::Edit(Edit::Enter { what, at, typing: false, file: Box::new(file) }));
    }
}

fn in_words(finding: &Finding) -> String {
    let message = super::tin_card::sentence(&finding.message);
    let mark = if finding.severity == Severity::Error { "To do: " } else { "Worth a look: " };
    if finding.hint.is_empty() {
        format!("{mark}{message}")
    } else {
        format!("{mark}{message} {}", super::tin_card::sentence(&finding.hint))
    }
}

fn name(ui: &mut Ui, name: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    let size = vec2(NAMES, 26.0);
    ui.allocate_ui_with_layout(size, egui::Layout::left_to_right(egui::Align::Center), |ui| {
        ui.set_min_size(size);
        // Its field has the same name: it is not to be heard twice.
        let text = RichText::new(name).color(soft);
        ui.add(egui::Label::new(text).truncate().selectable(false));
    });
}

fn say(ui: &mut Ui, indent: f32, text: &str) {
    ui.horizontal(|ui| {
        ui.add_space(indent);
        let text = RichText::new(text).font(fonts::bold(13.0));
        ui.add(egui::Label::new(text).wrap());
    });
}

/// The title of a page and a line under it.
pub fn page_title(ui: &mut Ui, title: &str, under: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    ui.label(RichText::new(title).font(fonts::bold(21.0)));
    if !under.is_empty() {
        ui.add(egui::Label::new(RichText::new(under).color(soft)).wrap());
    }
    ui.add_space(4.0);
}

/// A part of a page under a heading of its own.
pub fn part(ui: &mut Ui, title: &str, inside: impl FnOnce(&mut Ui)) {
    let palette = Palette::of(ui.ctx());
    ui.add_space(6.0);
    egui::Frame::new()
        .stroke(egui::Stroke::new(1.0, palette.line))
        .corner_radius(6)
        .inner_margin(egui::Margin::symmetric(10, 8))
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.label(RichText::new(title).font(fonts::bold(15.0)));
            ui.add_space(2.0);
            inside(ui);
        });
}

/// Softer words: a remark on a page.
pub fn remark(ui: &mut Ui, text: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    let text = RichText::new(text).font(fonts::plain(13.5)).color(soft);
    ui.add(egui::Label::new(text).wrap());
}
