//! Fields of a page: each on a part of the lesson's file, named, with its
//! unit, keeping what was typed and saying why it is refused.

use crate::app::state::{Command, Commands};
use crate::session::Command as LessonCommand;
use eframe::egui::text::{CCursor, CCursorRange};
use eframe::egui::{self, Button, ComboBox, Id, Response, RichText, TextEdit, Ui, vec2};

use crate::afterwards::{ClassTook, part_name};
use crate::app::looks::fonts;
use crate::app::looks::say::{english, say};
use crate::app::looks::theme::Palette;
use crate::edit::{Edit, FileChange};
use crate::file::format::LessonFile;
use crate::finding::{Finding, Path, Segment, Severity};
use crate::model::LessonPart;

use crate::session::{Document, DocumentId, Refused};
use crate::speech::{English, Measure};

/// Whether the foot of the page had something to tell.
const TOLD: &str = "told at the foot of the page";

/// Width of the column of names, in points.
const NAMES: f32 = 168.0;

/// What is typed and not (or not yet) what the lesson holds.
#[derive(Debug, Clone, Default)]
struct Typed {
    text: String,
    why_not: Option<String>,
}

/// What stands beside a wide field: the list of pages, its name, margins.
const BESIDE: f32 = 480.0;

/// A field: where it stands in the file and what it is called.
pub struct Field {
    at: Path,
    name: String,
    seen: Option<String>,
    unit: &'static str,
    measure: Measure,
    hint: String,
    width: f32,
}

impl Field {
    /// A field of this name.
    pub fn new(at: Path, name: impl Into<String>) -> Self {
        Self {
            at,
            name: name.into(),
            seen: None,
            unit: "",
            measure: Measure::Plain,
            hint: String::new(),
            width: 220.0,
        }
    }

    /// With a shorter name to be seen than is heard.
    #[must_use]
    pub fn seen(mut self, name: impl Into<String>) -> Self {
        self.seen = Some(name.into());
        self
    }

    /// Of a measure that is not the same everywhere: the file has it in °C,
    /// mm or ml, the field in what is customary. Its unit is heard.
    #[must_use]
    pub fn measure(mut self, measure: Measure) -> Self {
        self.measure = measure;
        self
    }

    /// With its unit to be seen beside it.
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

    fn unit_said(&self) -> std::borrow::Cow<'static, str> {
        let its_own = self.measure.unit(English::British);
        if self.unit.is_empty() || self.unit == its_own {
            self.measure.unit(english()).into()
        } else {
            say(self.unit)
        }
    }
}

/// A page of fields.
pub struct Form<'a> {
    /// The document.
    pub doc: &'a Document,
    /// Its file as it stands.
    pub file: &'a LessonFile,
    /// What is missing, wrong or worth a look.
    pub findings: &'a [Finding],
    /// What was refused.
    pub refused: &'a Refused,
    /// The day it is.
    pub today: chrono::NaiveDate,
    /// What the class took for parts of its lessons.
    pub class_took: &'a [ClassTook],
    /// What fields of this page hold that is not taken, and why.
    pub not_taken: Vec<(Path, String)>,
    /// What is told of its fields, for the foot of the page.
    pub notes: Vec<String>,
    /// Fields shown so far, in their order.
    pub fields: Vec<Id>,
    /// The field to which Enter goes on.
    pub goes_on_to: Option<Id>,
    /// Those shown when the page was last drawn.
    pub fields_before: Vec<Id>,
    /// What is to be done.
    pub out: &'a mut Commands,
}

/// The identity of the field at a place, to give it the keyboard.
pub fn field_id(document: DocumentId, at: &Path) -> Id {
    Id::unique(("field", document, at.to_string()))
}

impl<'a> Form<'a> {
    /// A page of this document on which no field has been shown yet.
    pub fn new(
        doc: &'a Document,
        findings: &'a [Finding],
        (refused, today): (&'a Refused, chrono::NaiveDate),
        out: &'a mut Commands,
    ) -> Self {
        Self {
            doc,
            file: doc.file(),
            findings,
            refused,
            today,
            class_took: &[],
            not_taken: Vec::new(),
            notes: Vec::new(),
            fields: Vec::new(),
            goes_on_to: None,
            fields_before: Vec::new(),
            out,
        }
    }
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
            self.bare(ui, &field, value, put);
        });
        self.told(ui, &field.at);
    }

    /// A field of a table: its name is heard and not seen.
    pub fn cell(
        &mut self,
        ui: &mut Ui,
        field: &Field,
        value: &str,
        put: impl FnOnce(&str, &mut LessonFile) -> Result<(), String>,
    ) -> Response {
        self.bare(ui, field, value, put)
    }

    /// Enter goes on: to the same field of the next line, or else to the next
    /// field of the page.
    fn go_on(&mut self, ui: &Ui, response: &Response, at: &Path) {
        let id = field_id(self.doc.id(), at);
        let entered = response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
        let below = in_next_line(at).map(|next| field_id(self.doc.id(), &next));
        let is_shown = |id: &Id| self.fields_before.contains(id);
        let further = || {
            let here = self.fields_before.iter().position(|before| *before == id)?;
            self.fields_before.get(here + 1).copied()
        };
        if let Some(next) = below.filter(is_shown).or_else(further).filter(|_| entered) {
            // Once the page is drawn: the next field would heed the same Enter.
            self.goes_on_to = Some(next);
        }
        self.fields.push(id);
    }

    fn bare(
        &mut self,
        ui: &mut Ui,
        field: &Field,
        value: &str,
        put: impl FnOnce(&str, &mut LessonFile) -> Result<(), String>,
    ) -> Response {
        let id = field_id(self.doc.id(), &field.at);
        let typed: Option<Typed> = ui.data(|d| d.get_temp(id));
        let shown = || field.measure.shown(value, english());
        let mut text = typed.as_ref().map_or_else(shown, |t| t.text.clone());
        let why_not = self.why_not(ui, &field.at);
        let wrong = why_not.is_some();
        if let Some(why) = &why_not {
            self.not_taken.push((field.at.clone(), format!("{}: {why}", field.name)));
        }
        let soft = Palette::of(ui.ctx()).soft;
        // Beside its name it is to be seen whole in a narrow window.
        let width = field.width.min((ui.ctx().content_rect().width() - BESIDE).max(120.0));
        let mut edit = TextEdit::singleline(&mut text)
            .id(id)
            .desired_width(width)
            // A table would squeeze it.
            .min_size(vec2(width + 2.0 * ui.spacing().button_padding.x, 0.0));
        if !field.hint.is_empty() {
            let hint = field.measure.shown(&field.hint, english());
            edit = edit.hint_text(RichText::new(say(hint)).color(soft));
        }
        let response = ui.add(edit);
        if wrong {
            let stroke = egui::Stroke::new(2.0, Palette::of(ui.ctx()).red);
            ui.painter().rect_stroke(response.rect, 3.0, stroke, egui::StrokeKind::Outside);
        }
        select_all_by_key(ui, &response, &text);
        self.go_on(ui, &response, &field.at);
        let unit = field.unit_said();
        let comma = if unit.is_empty() { "" } else { ", " };
        let spoken = format!("{}{comma}{unit}", say(&field.name));
        ui.ctx().accesskit_node_builder(id, |node| {
            node.set_label(spoken);
            if let Some(why) = why_not {
                node.set_invalid(egui::accesskit::Invalid::True);
                node.set_description(say(why));
            }
        });
        if !field.unit.is_empty() {
            ui.label(RichText::new(unit).color(soft));
        }
        if response.changed() {
            // What is typed replaces what was there before the typing began,
            // whatever the letters so far came to.
            let before = self.doc.before_typing(&field.at);
            let mut file = before.unwrap_or_else(|| self.file.clone());
            let read = put(&field.measure.read(&text, english()), &mut file);
            let why_not = read.as_ref().err().cloned();
            match read {
                Ok(()) => self.out.push(LessonCommand::Edit(Edit::Enter {
                    what: format!("{}: {}", field.name, crate::finding::shortened(&text, 40)),
                    at: field.at.clone(),
                    typing: true,
                    file: Box::new(file),
                })),
                Err(_) => self.out.push(LessonCommand::Untype(field.at.clone())),
            }
            ui.data_mut(|d| d.insert_temp(id, Typed { text, why_not }));
        } else if response.lost_focus() || (!response.has_focus() && typed.is_some() && !wrong) {
            if response.lost_focus() {
                self.out.push(LessonCommand::Typed);
            }
            if !wrong {
                ui.data_mut(|d| d.remove_temp::<Typed>(id));
            }
        }
        response
    }

    /// Why what was typed in a field is refused.
    fn why_not(&self, ui: &Ui, at: &Path) -> Option<String> {
        let typed: Option<Typed> = ui.data(|d| d.get_temp(field_id(self.doc.id(), at)));
        let why_not = typed?.why_not;
        why_not.or_else(|| self.refused.get(&at.to_string()).cloned())
    }

    /// Says why a field is refused, or what is wrong with what it holds.
    pub fn told(&mut self, ui: &Ui, at: &Path) {
        if self.why_not(ui, at).is_some() {
            self.tell_not_taken(|path| path == at);
            return;
        }
        self.tell_findings(|path| path == at);
    }

    /// Says what is wrong with a thing and all its parts, and what was typed
    /// in cells of a table and is not taken.
    pub fn told_of_all(&mut self, at: &Path) {
        self.tell_not_taken(|path| path.0.starts_with(&at.0));
        self.tell_findings(|path| path.0.starts_with(&at.0));
    }

    fn tell_not_taken(&mut self, of: impl Fn(&Path) -> bool) {
        for (_, why) in self.not_taken.iter().filter(|(path, _)| of(path)) {
            let note = format!("Not taken: {why}.").replace("..", ".");
            if !self.notes.contains(&note) {
                self.notes.push(note);
            }
        }
    }

    fn tell_findings(&mut self, of: impl Fn(&Path) -> bool) {
        for finding in self.findings.iter().filter(|f| of(&f.path)) {
            let note = in_words(finding);
            if !self.notes.contains(&note) {
                self.notes.push(note);
            }
        }
    }

    /// How high the foot of a page is: three lines where there is something to tell and room
    /// for it, else one. The page above begins where it began.
    pub fn foot_height(ui: &Ui) -> f32 {
        let is_told = ui.data(|d| d.get_temp(Id::unique(TOLD))).unwrap_or(false);
        if is_told && ui.available_height() > 420.0 { 76.0 } else { 30.0 }
    }

    /// What is told of the fields of the page, in the place it has at the foot of it.
    pub fn foot(&self, ui: &mut Ui) {
        ui.separator();
        let left = ui.available_height();
        ui.data_mut(|d| d.insert_temp(Id::unique(TOLD), !self.notes.is_empty()));
        egui::ScrollArea::vertical()
            .id_salt("notes of the page")
            .auto_shrink(false)
            .max_height(left)
            // Or it would hang over the edge of the sheet.
            .min_scrolled_height(left)
            .show(ui, |ui| {
                for note in &self.notes {
                    let text = RichText::new(say(note.as_str())).font(fonts::bold(13.0));
                    let label = ui.add(egui::Label::new(text).wrap());
                    let live = egui::accesskit::Live::Polite;
                    ui.ctx().accesskit_node_builder(label.id, |node| node.set_live(live));
                }
            });
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
        self.tick_seen(ui, at, (label, label), ticked, set);
    }

    /// A box to tick with a shorter name to be seen than is heard.
    pub fn tick_seen(
        &mut self,
        ui: &mut Ui,
        at: &Path,
        (seen, label): (&str, &str),
        ticked: bool,
        set: impl FnOnce(&mut LessonFile, bool),
    ) {
        let mut now = ticked;
        let response = ui.checkbox(&mut now, say(seen));
        if seen != label {
            ui.ctx().accesskit_node_builder(response.id, |node| node.set_label(say(label)));
        }
        if response.changed() {
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
        self.told(ui, &field.at);
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
        let made = ComboBox::from_id_salt(field_id(self.doc.id(), &field.at))
            .width(field.width)
            .selected_text(say(shown))
            .truncate()
            .show_ui(ui, |ui| {
                for (i, (words, is)) in options.iter().enumerate() {
                    if ui.selectable_label(*is, say(words)).clicked() && !is {
                        picked = Some(i);
                    }
                }
            });
        let spoken = format!("{}: {shown}", field.name);
        let spoken = say(spoken).into_owned();
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
        if once(&ui.button(say(label))) {
            self.enter(Path::root(), what.into(), set);
        }
    }

    /// A button that adds a line, in whose field at a place the cursor stands
    /// then.
    pub fn add(
        &mut self,
        ui: &mut Ui,
        label: &str,
        what: impl Into<String>,
        field: Path,
        set: impl FnOnce(&mut LessonFile),
    ) {
        if once(&ui.button(say(label))) {
            self.enter(Path::root(), what.into(), set);
            self.out.push(Command::GoTo(field));
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
        let button = ui.add_enabled(enabled, Button::new(say(sign)).min_size(vec2(22.0, 22.0)));
        ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(spoken)));
        if button.on_hover_text(say(spoken)).clicked() {
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
        self.out.push(LessonCommand::Edit(Edit::Enter {
            what,
            at,
            typing: false,
            file: Box::new(file),
        }));
        Ok(made)
    }

    /// Makes a change of the lesson, if it can be made.
    pub fn make(&mut self, change: &dyn FileChange) {
        let Ok(file) = change.made(self.file) else { return };
        let (what, at) = (change.label(), Path::root());
        let (typing, file) = (false, Box::new(file));
        self.out.push(LessonCommand::Edit(Edit::Enter { what, at, typing, file }));
    }

    /// What the class took for parts of its lessons, and what of it may be used.
    pub fn took(&mut self, ui: &mut Ui, is_asked: impl Fn(&LessonPart) -> bool) {
        for took in self.class_took.iter().filter(|took| is_asked(&took.part)) {
            remark(ui, &took.words);
            let Some((words, change)) = &took.offer else { continue };
            ui.horizontal_wrapped(|ui| {
                remark(ui, words);
                let button = ui.button(say("Use it"));
                let spoken = format!("Use it: {}, {words}", part_name(&took.part));
                ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(spoken)));
                if button.clicked() {
                    self.make(change);
                }
            });
        }
    }

    /// Changes the lesson.
    pub fn enter(&mut self, at: Path, what: String, set: impl FnOnce(&mut LessonFile)) {
        let mut file = self.file.clone();
        set(&mut file);
        self.out.push(LessonCommand::Edit(Edit::Enter {
            what,
            at,
            typing: false,
            file: Box::new(file),
        }));
    }
}

/// Whether a button is pressed; the second press of a double click is none, since
/// what it was meant for is done.
pub fn once(button: &Response) -> bool {
    button.clicked() && !button.double_clicked() && !button.triple_clicked()
}

/// What is in a field is selected when the keyboard comes to it by a key, so
/// that typing replaces it.
fn select_all_by_key(ui: &Ui, response: &Response, text: &str) {
    // Asked for and not told by the toolkit: it is quiet about a focus that was
    // given between two frames.
    let key = Id::unique("field with the keyboard");
    let before: Option<Id> = ui.data(|d| d.get_temp(key));
    let had_it = before == Some(response.id);
    if !response.has_focus() {
        if had_it {
            ui.data_mut(|d| d.remove::<Id>(key));
        }
        return;
    }
    ui.data_mut(|d| d.insert_temp(key, response.id));
    if had_it || ui.input(|i| i.pointer.any_down() || i.pointer.any_released()) {
        return;
    }
    if let Some(mut state) = TextEdit::load_state(ui.ctx(), response.id) {
        let all = CCursorRange::two(CCursor::new(0), CCursor::new(text.chars().count()));
        state.cursor.set_char_range(Some(all));
        state.store(ui.ctx(), response.id);
    }
}

/// The same place in the next line of a table: the last number one further.
fn in_next_line(at: &Path) -> Option<Path> {
    let mut next = at.clone();
    let last = next.0.iter_mut().rev().find_map(|segment| match segment {
        Segment::Index(i) => Some(i),
        _ => None,
    })?;
    *last += 1;
    Some(next)
}

fn in_words(finding: &Finding) -> String {
    let message = crate::view::tin_words::sentence(&finding.message);
    let mark = if finding.severity == Severity::Error { "To do: " } else { "Worth a look: " };
    // Hints on how to write it in a file are no help in a field.
    if finding.hint.is_empty() || finding.hint.contains('`') {
        format!("{mark}{message}")
    } else {
        format!("{mark}{message} {}", crate::view::tin_words::sentence(&finding.hint))
    }
}

/// Painted only: its field has the same name and is not to be heard twice.
fn name(ui: &mut Ui, name: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    let (rect, _) = ui.allocate_exact_size(vec2(NAMES, 26.0), egui::Sense::hover());
    let font = egui::TextStyle::Body.resolve(ui.style());
    let text = crate::app::looks::fitted(ui.painter(), name, font.clone(), rect.width() - 4.0);
    ui.painter().text(rect.left_center(), egui::Align2::LEFT_CENTER, text, font, soft);
}

/// The title of a page and a line under it.
pub fn page_title(ui: &mut Ui, title: &str, under: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    ui.label(RichText::new(say(title)).font(fonts::bold(21.0)));
    if !under.is_empty() {
        ui.add(egui::Label::new(RichText::new(say(under)).color(soft)).wrap());
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
            ui.label(RichText::new(say(title)).font(fonts::bold(15.0)));
            ui.add_space(2.0);
            inside(ui);
        });
}

/// Soft words of a width of their own, cut where they are longer: what stands
/// beside them stays.
pub fn fixed(ui: &mut Ui, width: f32, words: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    let (rect, response) = ui.allocate_exact_size(vec2(width, 22.0), egui::Sense::hover());
    let font = egui::TextStyle::Body.resolve(ui.style());
    let said = say(words);
    let shown = crate::app::looks::fitted(ui.painter(), words, font.clone(), width);
    ui.painter().text(rect.left_center(), egui::Align2::LEFT_CENTER, shown, font, soft);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &*said));
    response.on_hover_text(&*said);
}

/// A part of so much height and no more: what stands below it stays.
pub fn steady(ui: &mut Ui, name: &str, height: f32, inside: impl FnOnce(&mut Ui)) {
    let width = ui.available_width();
    ui.allocate_ui(vec2(width, height), |ui| {
        egui::ScrollArea::vertical()
            .id_salt(Id::unique(name))
            .max_height(height)
            .min_scrolled_height(height)
            .auto_shrink(false)
            .show(ui, inside);
    });
}

/// Says in which measures fields are, where those are not the file's.
pub fn measures(ui: &mut Ui) {
    if english().is_customary() {
        remark(
            ui,
            "Temperatures are in °F here, lengths in inches and volumes in fluid ounces; the file \
             itself is kept in °C, in mm and in ml. What goes into a mixture keeps the measure \
             chosen for it.",
        );
    }
}

/// Softer words: a remark on a page.
pub fn remark(ui: &mut Ui, text: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    let text = RichText::new(say(text)).font(fonts::plain(13.5)).color(soft);
    ui.add(egui::Label::new(text).wrap());
}
