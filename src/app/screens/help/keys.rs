//! Every key of the window and what it does: those of commands, from their own
//! list, and those that parts of the window heed themselves.

use crate::app::state::Commands;
use crate::session::Command as LessonCommand;
use eframe::egui::{self, Key, Modifiers, RichText, Ui, os::OperatingSystem, vec2};

use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, keys};

/// Where a key is heeded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Where {
    /// Anywhere.
    Anywhere,
    /// About the lesson and its file.
    Lesson,
    /// On the board, with the keyboard on a bar.
    Board,
    /// About the minute line.
    MinuteLine,
    /// About the clock of a rehearsal.
    Rehearsal,
    /// About the day on which the lesson is taught.
    Day,
    /// On the picture of a week.
    Week,
    /// About the changes along the bottom.
    Changes,
    /// On the pages of setting up.
    Pages,
    /// In the class view.
    ClassView,
    /// About looks.
    Looks,
}

impl Where {
    /// All, in the order in which they are listed.
    pub const ALL: [Where; 11] = [
        Where::Anywhere,
        Where::Lesson,
        Where::Board,
        Where::MinuteLine,
        Where::Rehearsal,
        Where::Day,
        Where::Week,
        Where::Changes,
        Where::Pages,
        Where::ClassView,
        Where::Looks,
    ];

    /// In words.
    pub fn title(self) -> &'static str {
        match self {
            Where::Anywhere => "Anywhere",
            Where::Lesson => "The lesson",
            Where::Board => "The running order",
            Where::MinuteLine => "The minute line",
            Where::Rehearsal => "The rehearsal",
            Where::Day => "The day",
            Where::Week => "The week",
            Where::Changes => "What would help",
            Where::Pages => "Setting up",
            Where::ClassView => "The class view",
            Where::Looks => "Looks",
        }
    }
}

/// Keys that come to the same, and what that is.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Where they are heeded.
    pub place: Where,
    /// The keys.
    pub keys: Vec<(Modifiers, Key)>,
    /// What they do.
    pub does: &'static str,
}

type Own = (Where, &'static [(Modifiers, Key)], &'static str);

const NONE: Modifiers = Modifiers::NONE;
const ALT: Modifiers = Modifiers::ALT;
const FURTHER: Modifiers = Modifiers::ALT.plus(Modifiers::SHIFT);

/// Keys that no command of the list has: parts of the window heed them while
/// they have the keyboard.
const OWN: &[Own] = &[
    (
        Where::Anywhere,
        &[(NONE, Key::Tab), (Modifiers::SHIFT, Key::Tab)],
        "to the next thing or the one before; the running order is one stop",
    ),
    (Where::Anywhere, &[(NONE, Key::Enter), (NONE, Key::Space)], "press what has the keyboard"),
    (
        Where::Anywhere,
        &[(NONE, Key::Escape)],
        "put away what was put up: a question, a menu, this list, help, a hint, a plan laid over",
    ),
    (
        Where::Board,
        &[
            (NONE, Key::ArrowLeft),
            (NONE, Key::ArrowRight),
            (NONE, Key::ArrowUp),
            (NONE, Key::ArrowDown),
        ],
        "to the next bar that way",
    ),
    (
        Where::Board,
        &[(ALT, Key::ArrowLeft), (ALT, Key::ArrowRight)],
        "carry the step, the bake or the group whose name it is a minute earlier or later",
    ),
    (
        Where::Board,
        &[(FURTHER, Key::ArrowLeft), (FURTHER, Key::ArrowRight)],
        "carry it five minutes",
    ),
    (
        Where::Board,
        &[(ALT, Key::ArrowUp), (ALT, Key::ArrowDown)],
        "carry the bake to the shelf before or after",
    ),
    (
        Where::Board,
        &[(NONE, Key::Enter), (NONE, Key::Escape)],
        "put down what is carried, or leave it where it was",
    ),
    (Where::Board, &[(NONE, Key::L)], "hold it where it is, or let go of it"),
    (Where::Board, &[(NONE, Key::F2)], "edit it in its place: when it starts, or a name"),
    (Where::Board, &[(Modifiers::COMMAND, Key::Space)], "select it beside what is selected"),
    (
        Where::MinuteLine,
        &[(NONE, Key::ArrowLeft), (NONE, Key::ArrowRight)],
        "step it a minute, with the keyboard on the clock",
    ),
    (
        Where::MinuteLine,
        &[(NONE, Key::PageUp), (NONE, Key::PageDown)],
        "step it five minutes, with the keyboard on the clock",
    ),
    (
        Where::Rehearsal,
        &[(NONE, Key::ArrowLeft), (NONE, Key::ArrowRight)],
        "the clock a minute back or on, with the keyboard on it",
    ),
    (
        Where::Rehearsal,
        &[(NONE, Key::PageUp), (NONE, Key::PageDown)],
        "the clock to the call before or to the next, with the keyboard on it",
    ),
    (
        Where::Rehearsal,
        &[(NONE, Key::Space)],
        "show what is said at a call, then play on; with the keyboard on Play, play or stop",
    ),
    (Where::Day, &[(NONE, Key::Num1), (NONE, Key::Num9)], "a digit, or two: to that unit"),
    (Where::Day, &[(NONE, Key::Space)], "tell what its line says, with the keyboard on it"),
    (
        Where::Day,
        &[(NONE, Key::PageDown), (NONE, Key::PageUp)],
        "to the next tile or answer, or the one before; so by a remote",
    ),
    (
        Where::Day,
        &[(NONE, Key::Period), (NONE, Key::B)],
        "tell what the tile says, or press the answer; so by a remote",
    ),
    (
        Where::Day,
        &[(NONE, Key::Equals), (NONE, Key::F5)],
        "the unit is two minutes later, as by +; F5 is on a remote",
    ),
    (Where::Day, &[(NONE, Key::Backspace)], "take the last fact back"),
    (
        Where::Week,
        &[
            (NONE, Key::ArrowLeft),
            (NONE, Key::ArrowRight),
            (NONE, Key::ArrowUp),
            (NONE, Key::ArrowDown),
        ],
        "to the next lesson, room or clash that way",
    ),
    (Where::Week, &[(NONE, Key::Space)], "the card of what has the keyboard"),
    (Where::Week, &[(NONE, Key::Enter)], "open the lesson that has the keyboard"),
    (
        Where::Changes,
        &[(NONE, Key::ArrowLeft), (NONE, Key::ArrowRight)],
        "to the change before or after, with the keyboard on one",
    ),
    (
        Where::Pages,
        &[
            (NONE, Key::ArrowLeft),
            (NONE, Key::ArrowRight),
            (NONE, Key::ArrowUp),
            (NONE, Key::ArrowDown),
        ],
        "from step to step, with the keyboard on a recipe's picture",
    ),
    (
        Where::ClassView,
        &[(NONE, Key::ArrowLeft), (NONE, Key::ArrowRight)],
        "a minute back or on, where it follows the minute line",
    ),
    (Where::ClassView, &[(NONE, Key::F11)], "all of the screen, or a window again"),
    (Where::ClassView, &[(NONE, Key::Escape)], "close it, from within"),
    (
        Where::Pages,
        &[(NONE, Key::Enter)],
        "in the field of a new step: put it in; in a field for a path: take it",
    ),
];

/// What a command of the list of keys does, and where it belongs.
fn told(command: &Command) -> Option<(Where, &'static str)> {
    Some(match command {
        Command::Lesson(command) => return told_of_lesson(command),
        Command::Help(_) => (Where::Anywhere, "help; again to leave it"),
        Command::Shortcuts => (Where::Anywhere, "these keys; again to put them away"),
        Command::ToggleList => (Where::Anywhere, "the running order as a list or as a picture"),
        Command::ClassView => (Where::Anywhere, "the class view for a projector, or close it"),
        Command::AskOpen => (Where::Lesson, "open a lesson"),
        Command::AskSaveAs => (Where::Lesson, "save it to another file"),
        Command::Go(place) => (Where::Anywhere, place.what()),
        Command::NextRegion(true) => {
            (Where::Anywhere, "to the next part: bar, running order, card, what would help")
        }
        Command::NextRegion(false) => (Where::Anywhere, "to the part before"),
        Command::Zoom(factor) if *factor < 1.0 => {
            (Where::Board, "show less time, larger; of a week, one day")
        }
        Command::Zoom(_) => (Where::Board, "show more time; of a week, all days"),
        Command::Show(_) => (Where::Board, "show the whole lesson, or the whole week"),
        Command::Minute(_) => (Where::MinuteLine, "show the minute line, or hide it"),
        Command::StepMinute(by) if *by < 0 => (Where::MinuteLine, "step it back a minute"),
        Command::StepMinute(_) => (Where::MinuteLine, "step it on a minute"),
        Command::ToggleChanges => (Where::Changes, "the changes, or only their heading"),
        Command::ToggleTheme => (Where::Looks, "light or dark"),
        Command::Text(by) if *by < 0 => (Where::Looks, "smaller text"),
        Command::Text(_) => (Where::Looks, "larger text"),
        _ => return None,
    })
}

fn told_of_lesson(command: &LessonCommand) -> Option<(Where, &'static str)> {
    Some(match command {
        LessonCommand::Stop => (Where::Anywhere, "stop looking for better plans and for changes"),
        LessonCommand::New => (Where::Lesson, "a new lesson"),
        LessonCommand::Save => (Where::Lesson, "save it"),
        LessonCommand::Undo => (Where::Lesson, "take the last change back"),
        LessonCommand::Redo => (Where::Lesson, "do it once more"),
        LessonCommand::Again => (Where::Lesson, "teach it again: the same lesson for another day"),
        LessonCommand::Today => (Where::Lesson, "today: a copy for what happens on the day"),
        LessonCommand::Week(_) => (Where::Anywhere, "to the week that is open"),
        LessonCommand::Keep => (Where::Changes, "keep the change that is shown"),
        LessonCommand::ToggleOdds => (Where::Board, "the odds by the bell, or none"),
        LessonCommand::ToggleBefore => {
            (Where::Changes, "lay the plan before the last change over this")
        }
        _ => return None,
    })
}

/// The whole table, in groups: commands before what parts heed themselves. A
/// command of which nothing is told is left out.
pub fn lines() -> Vec<Line> {
    let mut all: Vec<(Command, Line)> = Vec::new();
    for (modifiers, key, command) in keys() {
        match all.iter_mut().find(|(known, _)| *known == command) {
            Some((_, line)) => line.keys.push((modifiers, key)),
            None => {
                if let Some((place, does)) = told(&command) {
                    let keys = vec![(modifiers, key)];
                    all.push((command, Line { place, keys, does }));
                }
            }
        }
    }
    let own = OWN.iter().map(|&(place, keys, does)| Line { place, keys: keys.to_vec(), does });
    let all: Vec<Line> = all.into_iter().map(|(_, line)| line).chain(own).collect();
    let of = |place: Where| all.iter().filter(move |l| l.place == place).cloned();
    Where::ALL.into_iter().flat_map(of).collect()
}

/// A key as it is written: "Ctrl S".
pub fn written(modifiers: Modifiers, key: Key, mac: bool) -> String {
    let mut words: Vec<&str> = Vec::new();
    if modifiers.command || modifiers.ctrl {
        words.push(if mac { "Cmd" } else { "Ctrl" });
    }
    if modifiers.alt {
        words.push(if mac { "Option" } else { "Alt" });
    }
    if modifiers.shift {
        words.push("Shift");
    }
    words.push(match key {
        // The typeface has no arrows, and words are heard better.
        Key::ArrowLeft | Key::ArrowRight | Key::ArrowUp | Key::ArrowDown => key.name(),
        Key::Escape => "Esc",
        Key::PageUp => "Page Up",
        Key::PageDown => "Page Down",
        other => other.symbol_or_name(),
    });
    words.join(" ")
}

/// The keys of a line, one after the other.
pub fn written_all(line: &Line, mac: bool) -> String {
    let keys: Vec<String> = line.keys.iter().map(|&(m, k)| written(m, k, mac)).collect();
    keys.join("   ")
}

/// Shows the table, in as many columns as there is room for.
pub fn sheet(ui: &mut Ui) {
    let all = lines();
    let columns = if ui.available_width() > 720.0 { 2 } else { 1 };
    // Groups stay whole; the first column has about half of the lines.
    let half = all.len().div_ceil(columns);
    let mut sides: Vec<Vec<Where>> = vec![Vec::new(); columns];
    let mut before = 0;
    for place in Where::ALL {
        sides[(before / half.max(1)).min(columns - 1)].push(place);
        before += all.iter().filter(|l| l.place == place).count();
    }
    ui.columns(columns, |uis| {
        for (ui, places) in uis.iter_mut().zip(sides) {
            for place in places {
                group(ui, place, &all);
            }
        }
    });
}

fn group(ui: &mut Ui, place: Where, all: &[Line]) {
    let palette = Palette::of(ui.ctx());
    let mac = matches!(ui.ctx().os(), OperatingSystem::Mac | OperatingSystem::IOS);
    ui.add_space(6.0);
    ui.label(RichText::new(say(place.title())).font(fonts::bold(15.0)));
    for line in all.iter().filter(|l| l.place == place) {
        ui.horizontal_top(|ui| {
            let keys = written_all(line, mac);
            let heard = format!("{keys}: {}", line.does);
            let (column, left) = (146.0, ui.cursor().left());
            let label = ui.add(egui::Label::new(RichText::new(keys).font(fonts::bold(14.0))));
            ui.ctx().accesskit_node_builder(label.id, |node| node.set_value(say(heard)));
            ui.add_space((left + column - ui.cursor().left()).max(0.0));
            let room = vec2(ui.available_width(), 0.0);
            ui.allocate_ui(room, |ui| {
                let does = RichText::new(say(line.does)).color(palette.ink);
                ui.add(egui::Label::new(does).wrap());
            });
        });
    }
}

/// Shows the table over everything else, until it is put away.
pub fn overlay(ctx: &egui::Context, out: &mut Commands) {
    let frame = egui::Frame::popup(&ctx.global_style()).inner_margin(egui::Margin::same(16));
    let modal = egui::Modal::new(egui::Id::unique("keys")).frame(frame).show(ctx, |ui| {
        let room = ctx.content_rect().size() - vec2(80.0, 130.0);
        ui.set_width(room.x.min(880.0));
        ui.horizontal(|ui| {
            ui.label(RichText::new(say("Keys")).font(fonts::bold(21.0)));
            let right = egui::Layout::right_to_left(egui::Align::Center);
            ui.with_layout(right, |ui| {
                if ui.button(say("Close the keys")).on_hover_text("Esc").clicked() {
                    out.push(Command::Shortcuts);
                }
            });
        });
        let scrolled = egui::ScrollArea::vertical().max_height(room.y);
        scrolled.min_scrolled_height(room.y).show(ui, sheet);
    });
    if modal.should_close() {
        out.push(Command::Shortcuts);
    }
}
