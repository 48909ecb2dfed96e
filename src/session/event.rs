//! What a session asks of whoever shows it.

use std::path::PathBuf;

use crate::finding::Path;

/// Something that whoever shows the lesson should do or show.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// Another document is on screen: nothing of the one before is selected.
    AnotherDocument,
    /// A week was opened: nothing of the one before is selected.
    AnotherWeek,
    /// The sample lesson was opened.
    Demo,
    /// A file that cannot be planned was opened.
    Broken,
    /// A file was opened or saved, and is to be remembered as the last one.
    FileUsed(PathBuf),
    /// A path to save to is wanted.
    WhereToSave,
    /// A lesson with nothing in it yet is to be set up.
    SetUpNew,
    /// A lesson taught again is to be set up: its day first.
    SetUpAgain,
    /// A broken file is to be put right, beginning at this field.
    PutRight(Option<Path>),
    /// A recipe was read from elsewhere, and is to be looked through: its place in the
    /// lesson.
    RecipeRead(usize),
    /// The day is to be shown.
    ShowDay,
    /// By so many seconds the school's bell is ahead of the computer's clock.
    BellAhead(i32),
    /// Odds were switched on, or off.
    Odds(bool),
    /// A change of these words is laid over the board.
    OfferLaid(String),
    /// A choice made on a card is laid over the board.
    ChoiceLaid,
    /// The change laid over the board was put away.
    OfferPutAway,
    /// The change that was shown is dropped; this one follows it, if any does.
    OfferDropped(Option<String>),
    /// Nothing keeps the program from ending.
    Close,
}
