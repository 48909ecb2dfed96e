//! The teacher's notes at the minute, to be written and put away; on top those that
//! belong nowhere now.

use eframe::egui::{self, RichText, ScrollArea, Ui};

use super::Rehearsed;
use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::form::{Field, Form, field_id, fixed};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, Commands};
use crate::edit::FileChange;
use crate::file::format::{LessonFile, TeacherNoteShape};
use crate::finding::{Finding, Path};
use crate::session::Session;
use crate::setup::field;
use crate::setup::teacher_notes::NoteChange;
use crate::units::Minute;
use crate::view::rehearsal::{NoteTold, pegs_at};
use crate::view::words::clock;

/// Room for what a note hangs on.
const AT: f32 = 130.0;

/// Shows them, and gives a field the keyboard if one is named.
pub fn show(
    ui: &mut Ui,
    of: &Rehearsed<'_>,
    (session, field_now): (&Session, Option<&Path>),
    out: &mut Commands,
) {
    let Some(doc) = session.document() else { return };
    let findings: Vec<Finding> = Vec::new();
    let mut form = Form::new(doc, &findings, (session.refused(), session.today()), out);
    ui.horizontal(|ui| {
        let title = format!("My notes at {}", of.card.at);
        ui.label(RichText::new(say(title)).font(fonts::bold(14.0)));
        add(ui, of, &mut form);
    });
    let scrolled = ScrollArea::vertical().id_salt("my notes").auto_shrink(false);
    scrolled.min_scrolled_height(30.0).follow(ui, |ui| {
        for note in of.rehearsal.lost_notes() {
            lost(ui, of, note, &mut form);
        }
        for note in of.rehearsal.notes_at(of.minute()) {
            row(ui, note, &mut form);
        }
        if form.file.teacher.is_empty() {
            let soft = Palette::of(ui.ctx()).soft;
            let example = "None yet. For example, at \"load Oven 2\": Gloves on, tin level; nobody \
                           opens this again till I say.";
            ui.add(egui::Label::new(RichText::new(say(example)).color(soft)).wrap());
        }
        for why in &form.notes {
            ui.add(egui::Label::new(RichText::new(say(why)).font(fonts::bold(13.0))).wrap());
        }
    });
    if let Some(at) = field_now {
        ui.memory_mut(|m| m.request_focus(field_id(doc.id(), at)));
    }
}

/// What a note may hang on at the minute, as a menu; the clock goes where it hangs.
fn choose_peg(
    ui: &mut Ui,
    of: &Rehearsed<'_>,
    label: &str,
    mut chosen: impl FnMut(&mut Ui, Minute, String),
) {
    ui.menu_button(say(label), |ui| {
        let (at, pegs) = pegs_at(&of.planned.lesson, &*of.planned.plan, of.minute());
        if pegs.is_empty() {
            ui.label(say("Nothing has begun yet for a note to hang on."));
        }
        ScrollArea::vertical().max_height(260.0).follow(ui, |ui| {
            for words in pegs {
                let label = format!("{}, {words}", clock(of.lesson(), at));
                if ui.button(say(label)).clicked() {
                    chosen(ui, at, words);
                    ui.close();
                }
            }
        });
    });
}

fn add(ui: &mut Ui, of: &Rehearsed<'_>, form: &mut Form<'_>) {
    let field = path(form.file.teacher.len()).field("say");
    choose_peg(ui, of, "Add a note", |_, minute, at| {
        let note = TeacherNoteShape { at, ..TeacherNoteShape::default() };
        form.make(&NoteChange::Add(note));
        form.out.push(Command::Minute(Some(minute.get())));
        form.out.push(Command::GoTo(field.clone()));
    });
}

fn path(number: usize) -> Path {
    Path::root().field("teacher").index(number)
}

/// A note as the file has it; `None` while the plan on screen is of an older file.
fn shape_of(note: &NoteTold, form: &Form<'_>) -> Option<TeacherNoteShape> {
    form.file.teacher.get(note.number).filter(|shape| shape.at == note.at).cloned()
}

/// A note that belongs nowhere now.
fn lost(ui: &mut Ui, of: &Rehearsed<'_>, note: &NoteTold, form: &mut Form<'_>) {
    ui.horizontal_wrapped(|ui| {
        let told = [&note.say, &note.own].into_iter().filter(|words| !words.is_empty());
        let told = told.map(String::as_str).collect::<Vec<_>>().join("; ");
        let words = format!("\"{}\" belongs nowhere now: {told}", note.at);
        ui.add(egui::Label::new(RichText::new(say(words)).font(fonts::bold(14.0))).wrap());
        let Some(shape) = shape_of(note, form) else { return };
        choose_peg(ui, of, "Hang it here", |_, minute, at| {
            let to = TeacherNoteShape { at, ..shape.clone() };
            form.make(&NoteChange::Change { number: note.number, to });
            form.out.push(Command::Minute(Some(minute.get())));
        });
        drop_button(ui, note, form);
    });
}

fn drop_button(ui: &mut Ui, note: &NoteTold, form: &mut Form<'_>) {
    let button = ui.button(say("Drop"));
    let spoken = format!("Drop the note at {}", note.at);
    ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(&spoken)));
    if button.clicked() {
        form.make(&NoteChange::Drop { number: note.number, at: note.at.clone() });
    }
}

/// A note at the minute, in fields.
fn row(ui: &mut Ui, note: &NoteTold, form: &mut Form<'_>) {
    let Some(shape) = shape_of(note, form) else { return };
    let at = path(note.number);
    ui.horizontal(|ui| {
        fixed(ui, AT, &note.at);
        let room = ui.available_width() - 90.0;
        let each = (0.5 * room - 20.0).max(110.0);
        let spoken = |what: &str| format!("{}, {what}", note.at);
        let says = Field::new(at.field("say"), spoken("what I say")).hint("what I say").width(each);
        let (of_say, of_do) = (shape.clone(), shape.clone());
        form.cell(ui, &says, &shape.say, |text, file| {
            change(file, note.number, TeacherNoteShape { say: field::line(text)?, ..of_say })
        });
        let does = Field::new(at.field("do"), spoken("what I do")).hint("what I do").width(each);
        form.cell(ui, &does, &shape.r#do, |text, file| {
            change(file, note.number, TeacherNoteShape { r#do: field::line(text)?, ..of_do })
        });
        drop_button(ui, note, form);
    });
    form.told_of_all(&at);
}

fn change(file: &mut LessonFile, number: usize, to: TeacherNoteShape) -> Result<(), String> {
    NoteChange::Change { number, to }.apply(file).map_err(|why| why.message)
}
