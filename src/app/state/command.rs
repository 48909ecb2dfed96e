//! Everything the window can be told to do: one list for buttons, keys and
//! tests.

use eframe::egui::{Key, KeyboardShortcut, Modifiers};

use super::{
    DayChoice, Follows, Hint, InPlace, PLACES, Page, PapersChoice, Place, RehearseChoice,
    Selection, WeekChoice,
};
use crate::finding::Path;
use crate::hand::Thing;
use crate::papers::Part;
use crate::play::Cause;
use crate::session::{Command as LessonCommand, WeekCommand};
use crate::speech::English;
use crate::units::Minute;
use crate::view::board::BarId;
use crate::view::help::Topic;

/// Something to do.
#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// Do something to the lesson.
    Lesson(LessonCommand),
    /// Ask for a file to open.
    AskOpen,
    /// Ask for a file to read a recipe from.
    AskRecipe,
    /// Ask for a file to save to.
    AskSaveAs,
    /// Ask for a file to print to.
    AskPrint,
    /// Ask for a file to begin a week in.
    AskWeek,
    /// Ask for a file to begin the week after the one on screen in.
    AskWeekAfter,
    /// Ask for a lesson to put into the week.
    AskLessonOfWeek,
    /// Copy the running order as text.
    CopyOrder,
    /// Choose what is printed, or the page that is looked at.
    Papers(PapersChoice),
    /// Show the packet of an ingredient.
    Ingredient(String),
    /// Go to the papers, with this part to be printed and no other.
    PrintPart(Part),
    /// Choose how the lesson is rehearsed.
    Rehearse(RehearseChoice),
    /// Choose what is looked at while the lesson is taught.
    Day(DayChoice),
    /// Choose what is shown of a week.
    Week(WeekChoice),
    /// Go to the bar of a time on the page, which stands beside these words.
    BarOfTime(String, String),
    /// Go to a place of the lesson.
    Go(Place),
    /// Give the next region of the window the keyboard, or the one before.
    NextRegion(bool),
    /// Show a page of setting up.
    SetUp(Page),
    /// Go to the field that a finding is about.
    GoTo(Path),
    /// Show a finding's place in the text.
    ShowFinding(usize),
    /// Select something beside what is selected, or no longer.
    Mark(Thing),
    /// Edit something in its place; `None` leaves it.
    InPlace(Option<InPlace>),
    /// What was typed in its place.
    TypedInPlace(String),
    /// Give a change's chip the keyboard.
    FocusChip(String),
    /// Show the changes along the bottom, or only their heading.
    ToggleChanges,
    /// Show a card.
    Select(Selection),
    /// Give a bar the keyboard.
    Focus(BarId),
    /// Put the minute line at a minute, or away.
    Minute(Option<i32>),
    /// Move the minute line.
    StepMinute(i32),
    /// Show what has to be true at a minute.
    Look(Minute),
    /// Show of which bars a cause of lateness speaks; of none if `None`.
    ShowCause(Option<Cause>),
    /// Show this stretch of time; all of it if `None`.
    Show(Option<(f32, f32)>),
    /// Show less or more time: factor on the stretch.
    Zoom(f32),
    /// Board or list.
    ToggleList,
    /// Show the class view, or close it.
    ClassView,
    /// The class view follows the clock or the minute line.
    ClassViewFollows(Follows),
    /// The class view shows one room, by its number, or all of them.
    ClassViewRoom(Option<usize>),
    /// Light or dark.
    ToggleTheme,
    /// Larger or smaller text, in hundredths.
    Text(i32),
    /// British, Irish or US words, units and allergen list.
    English(English),
    /// High contrast, or not.
    ToggleContrast,
    /// Nothing moves by itself, or bars glide.
    ToggleMotion,
    /// Show a topic of the help; `None` shows the last one read, or leaves the
    /// help.
    Help(Option<Topic>),
    /// Show the keys over everything, or put them away.
    Shortcuts,
    /// Put a hint of the first start away for good; all of them if `None`.
    PutAwayHint(Option<Hint>),
    /// Show the hints of the first start again.
    ShowHints,
}

const CTRL: Modifiers = Modifiers::COMMAND;
const NONE: Modifiers = Modifiers::NONE;

/// Commands with keys of their own, beside those that go to places.
const KEYS: &[(Modifiers, Key, Command)] = &[
    (CTRL, Key::N, Command::Lesson(LessonCommand::New)),
    (CTRL, Key::R, Command::Lesson(LessonCommand::Again)),
    (CTRL, Key::T, Command::Lesson(LessonCommand::Today)),
    (CTRL, Key::O, Command::AskOpen),
    (Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::S, Command::AskSaveAs),
    (CTRL, Key::S, Command::Lesson(LessonCommand::Save)),
    (Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z, Command::Lesson(LessonCommand::Redo)),
    (CTRL, Key::Z, Command::Lesson(LessonCommand::Undo)),
    (CTRL, Key::Y, Command::Lesson(LessonCommand::Redo)),
    (CTRL, Key::Num7, Command::Lesson(LessonCommand::Week(WeekCommand::Show))),
    (CTRL, Key::L, Command::ToggleList),
    (CTRL, Key::J, Command::ClassView),
    (CTRL, Key::D, Command::ToggleTheme),
    (CTRL, Key::ArrowLeft, Command::StepMinute(-1)),
    (CTRL, Key::ArrowRight, Command::StepMinute(1)),
    (CTRL, Key::M, Command::Minute(None)),
    (CTRL, Key::Plus, Command::Text(10)),
    (CTRL, Key::Equals, Command::Text(10)),
    (CTRL, Key::Minus, Command::Text(-10)),
    (CTRL, Key::Period, Command::Lesson(LessonCommand::Stop)),
    (CTRL, Key::K, Command::Lesson(LessonCommand::Keep)),
    (CTRL, Key::B, Command::Lesson(LessonCommand::ToggleBefore)),
    (CTRL, Key::E, Command::ToggleChanges),
    (CTRL, Key::G, Command::Lesson(LessonCommand::ToggleOdds)),
    (NONE, Key::Plus, Command::Zoom(0.8)),
    (NONE, Key::Minus, Command::Zoom(1.25)),
    (NONE, Key::Num0, Command::Show(None)),
    (NONE, Key::F1, Command::Help(None)),
    // The toolkit takes a key without Shift for the same key with it.
    (Modifiers::SHIFT, Key::F6, Command::NextRegion(false)),
    (NONE, Key::F6, Command::NextRegion(true)),
    (CTRL, Key::Slash, Command::Shortcuts),
    (NONE, Key::Questionmark, Command::Shortcuts),
];

/// Keys and the commands they give. Those without a modifier that write are
/// heeded only while no field is being typed in.
pub fn keys() -> impl Iterator<Item = (Modifiers, Key, Command)> {
    let places = PLACES.iter().map(|stop| (CTRL, stop.key, Command::Go(stop.place)));
    KEYS.iter().cloned().chain(places)
}

impl From<LessonCommand> for Command {
    fn from(command: LessonCommand) -> Self {
        Command::Lesson(command)
    }
}

impl Command {
    /// What a button for it says.
    pub fn label(&self) -> &'static str {
        match self {
            Command::Lesson(command) => command.label(),
            Command::AskOpen => "Open…",
            Command::AskRecipe => "A recipe from a file or saved page…",
            Command::AskSaveAs => "Save as…",
            Command::AskPrint => "Print to a file…",
            Command::AskWeek => "A new week…",
            Command::AskWeekAfter => "The week after…",
            Command::AskLessonOfWeek => "Put a lesson in…",
            Command::CopyOrder => "Copy running order",
            Command::Papers(PapersChoice::Usual) => "Everyone's two pages",
            Command::Papers(PapersChoice::Closer(true)) => "Closer",
            Command::Papers(PapersChoice::Closer(false)) => "Whole page",
            Command::Papers(_) => "Papers",
            Command::Ingredient(_) => "Show",
            Command::PrintPart(_) => "Papers",
            Command::Rehearse(RehearseChoice::Play) => "Let it run",
            Command::Rehearse(RehearseChoice::Call(true)) => "Next call",
            Command::Rehearse(RehearseChoice::Call(false)) => "Call before",
            Command::Rehearse(RehearseChoice::Show) => "Show it",
            Command::Rehearse(_) => "Rehearse",
            Command::Day(DayChoice::Slips(true)) => "Slip…",
            Command::Day(DayChoice::Slips(false)) => "Back",
            Command::Day(DayChoice::Units(true)) => "Tell more",
            Command::Day(DayChoice::Units(false)) => "Afterwards",
            Command::Day(_) => "Choose",
            Command::Week(WeekChoice::Day(_)) => "Show the day",
            Command::Week(WeekChoice::Go(_)) => "Go to",
            Command::Week(_) => "Show",
            Command::BarOfTime(..) => "Show on the running order",
            Command::Go(place) => place.name(),
            Command::NextRegion(_) => "Next part of the window",
            Command::SetUp(_) => "Set up",
            Command::GoTo(_) => "Go to",
            Command::ShowFinding(_) => "Show in the text",
            Command::Mark(_) => "Select beside",
            Command::InPlace(_) | Command::TypedInPlace(_) => "Edit here",
            Command::FocusChip(_) => "Go to",
            Command::ToggleChanges => "Changes",
            Command::Select(_) => "Show",
            Command::Focus(_) => "Go to",
            Command::Minute(_) => "Minute line",
            Command::StepMinute(_) => "Step a minute",
            Command::Look(_) => "What has to be true then",
            Command::ShowCause(_) => "Show its bars",
            Command::Show(_) => "Whole lesson",
            Command::Zoom(_) => "Zoom",
            Command::ToggleList => "As a list",
            Command::ClassView => "Show it to the class",
            Command::ClassViewFollows(Follows::Clock) => "It follows the clock",
            Command::ClassViewFollows(Follows::Line) => "It follows the minute line",
            Command::ClassViewRoom(_) => "It shows this room",
            Command::ToggleTheme => "Light or dark",
            Command::Text(_) => "Text size",
            Command::English(english) => english.label(),
            Command::ToggleContrast => "High contrast",
            Command::ToggleMotion => "Reduced motion",
            Command::Help(_) => "Help",
            Command::Shortcuts => "Keys",
            Command::PutAwayHint(Some(_)) => "Put away",
            Command::PutAwayHint(None) => "Put all away",
            Command::ShowHints => "Show the hints of the first start again",
        }
    }

    /// Its keys, for tooltips.
    pub fn keys(&self) -> Option<KeyboardShortcut> {
        keys()
            .find(|(_, _, command)| command == self)
            .map(|(modifiers, key, _)| KeyboardShortcut::new(modifiers, key))
    }
}
