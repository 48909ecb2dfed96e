//! Questions that must be answered before anything is written over or lost.

use std::path::Path;

use eframe::egui;

use super::App;
use crate::app::looks::follow::Follow as _;
use crate::app::looks::say::say;
use crate::app::state::{Command, Commands};
use crate::file::open_lesson::Over;
use crate::finding::shortened;
use crate::session::{
    Command as LessonCommand, Document, Leaving, Loses, Question, Unsaved, WeekDocument,
};
use crate::setup::again::Pupils;

impl App {
    /// Puts the questions that are open.
    pub(super) fn questions(&mut self, ctx: &egui::Context, out: &mut Commands) {
        if self.session.leaving().is_some() {
            // One question a frame: a click that answers it answers no other.
            self.ask_before_leaving(ctx);
            return;
        }
        let answer = match self.session.question() {
            None => return,
            Some(Question::ChangedOnDisk) => {
                let words = ["Another program has changed the file since it was read."];
                let answers = [
                    ("Save over it", Some(LessonCommand::SaveOver.into())),
                    ("Save as…", Some(Command::AskSaveAs)),
                    ("Read it again", Some(LessonCommand::ReadAgain.into())),
                    ("Back to the lesson", None),
                ];
                ask(ctx, &words, answers)
            }
            Some(Question::Exists(path, problem, over)) => {
                let words = [format!("Not saved: {problem}.")];
                let over = LessonCommand::SaveAsOver(path.clone(), *over == Over::All);
                let answers = [
                    ("Save over it", Some(over.into())),
                    ("Save as…", Some(Command::AskSaveAs)),
                    ("Back to the lesson", None),
                ];
                ask(ctx, &words, answers)
            }
            Some(Question::Clear(goes)) => ask_to_clear(ctx, goes),
            Some(Question::Found(file, shown)) => {
                let words = [format!("The lesson of this day was moved. Found in {shown}.")];
                let used = LessonCommand::UseLesson(file.clone());
                ask(ctx, &words, [(used.label(), Some(used.into())), ("Leave it", None)])
            }
            Some(Question::Again(said)) => ask_whom_again(ctx, said),
            Some(Question::WhichRecipe(path, names)) => ask_which_recipe(ctx, path, names),
        };
        if let Some(command) = answer {
            // Only saving leads on to what was asked before.
            let read_again = Some(LessonCommand::ReadAgain.into());
            self.session.answered(command.is_some() && command != read_again);
            out.extend(command);
        }
    }

    /// Changes are lost only when that is wanted.
    fn ask_before_leaving(&mut self, ctx: &egui::Context) {
        let without = match self.session.leaving() {
            None => return,
            Some(Leaving::Close) => "Close without saving",
            Some(Leaving::Open(_) | Leaving::Demo) => "Open without saving",
            Some(_) => "Go without saving",
        };
        // The lesson may be out of sight behind a week.
        let (what, name) = match self.session.loses() {
            Loses::Lesson => ("lesson", self.session.document().map(Document::name)),
            Loses::Week => ("week", self.session.week().map(WeekDocument::name)),
        };
        let name = name.unwrap_or_default();
        let words = [format!("The {what} {name} has changes that are not saved.")];
        let answers =
            [("Save", Unsaved::Save), (without, Unsaved::Lose), ("Stay here", Unsaved::Stay)];
        let answers = answers.map(|(label, answer)| (label, Some(answer)));
        if let Some(answer) = ask(ctx, &words, answers) {
            self.session.answer_leaving(answer.unwrap_or(Unsaved::Stay));
            self.heed_events();
        }
    }
}

fn ask_to_clear(ctx: &egui::Context, goes: &[String]) -> Option<Option<Command>> {
    let what = match goes {
        [] => "Nothing is said of particular pupils in the lesson as it now is.".to_owned(),
        goes => format!("Out of the lesson go {}.", goes.join("; ")),
    };
    let words = [
        what,
        "With them go all comments in its file, the file as it was before (.bak), copies of \
         unsaved changes, undo, and the class of this name in your own library."
            .to_owned(),
        "Recipes, room, bells, and the names and sizes of groups stay. The file is saved at once; \
         this cannot be taken back."
            .to_owned(),
    ];
    ask(
        ctx,
        &words,
        [
            ("Clear this class", Some(LessonCommand::ClearClassNow.into())),
            ("Keep everything", None),
        ],
    )
}

fn ask_whom_again(ctx: &egui::Context, said: &[String]) -> Option<Option<Command>> {
    let words = [
        "Is it taught again to the same class?".to_owned(),
        format!("The lesson says of its pupils: {}.", said.join("; ")),
        "For another class none of that is taken over, nor the class's name; the lesson itself \
         stays as it is."
            .to_owned(),
    ];
    let to = |pupils| LessonCommand::AgainTo(pupils);
    let answer = |pupils| (to(pupils).label(), Some(to(pupils).into()));
    ask(ctx, &words, [answer(Pupils::Same), answer(Pupils::Others), ("Stay here", None)])
}

/// Most names of recipes that are asked about; who saves a page with more looks for the
/// one that is wanted.
const MOST_ASKED: usize = 200;

fn ask_which_recipe(ctx: &egui::Context, path: &Path, names: &[String]) -> Option<Option<Command>> {
    let file = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
    let words = format!("{file} has {} recipes. Which is to be read?", names.len());
    let mut answer = None;
    let modal = egui::Modal::new(egui::Id::unique("which recipe")).show(ctx, |ui| {
        ui.set_width(420.0);
        ui.add(egui::Label::new(say(words)).wrap());
        let area = egui::ScrollArea::vertical().max_height(0.6 * ctx.content_rect().height());
        area.auto_shrink([false, true]).follow(ui, |ui| {
            for (place, name) in names.iter().enumerate().take(MOST_ASKED) {
                let shown = match name.as_str() {
                    "" => format!("recipe {} without a name", place + 1),
                    name => shortened(name, 60),
                };
                if ui.button(shown).clicked() {
                    let command = LessonCommand::ReadRecipe(path.to_path_buf(), Some(place));
                    answer = Some(Some(command.into()));
                }
            }
        });
        ui.add_space(6.0);
        if ui.button(say("None of them")).clicked() {
            answer = Some(None);
        }
    });
    if answer.is_none() && modal.should_close() { Some(None) } else { answer }
}

/// Puts a question; the answer once there is one. Escape answers as the last
/// button does.
fn ask<T: Clone>(
    ctx: &egui::Context,
    words: &[impl AsRef<str>],
    answers: impl IntoIterator<Item = (&'static str, Option<T>)>,
) -> Option<Option<T>> {
    let mut answer = None;
    let modal = egui::Modal::new(egui::Id::unique("question")).show(ctx, |ui| {
        ui.set_max_width(460.0);
        for line in words {
            ui.label(say(line.as_ref()));
        }
        ui.horizontal_wrapped(|ui| {
            for (label, comes_to) in answers {
                if ui.button(say(label)).clicked() {
                    answer = Some(comes_to);
                }
            }
        });
    });
    if answer.is_none() && modal.should_close() { Some(None) } else { answer }
}
