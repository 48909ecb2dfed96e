//! One lesson at work, without a window: its document, the plan of it, what is
//! being looked for, and the commands that change it.
//!
//! Whoever shows a session applies a [`Command`], reads what there is, calls
//! [`Session::listen`] when it is woken, and heeds the [`Event`]s.

mod afterwards;
mod at_ovens;
mod bakes;
mod beginning;
mod bell;
mod better_odds;
mod carrying;
mod choosing;
mod command;
mod day;
mod document;
mod event;
mod explaining;
mod holding;
mod ids;
mod kept_plan;
mod laid_over;
mod library;
mod mid_lesson;
mod odds;
mod offers;
mod opening;
mod planned;
mod planning;
mod printing;
mod probing;
mod question;
mod recipe_in;
mod renaming;
mod responding;
mod saving;
mod slipping;
mod start;
mod studies;
mod study;
mod telling;
mod typing;
mod undo;
mod week;
pub mod words;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use chrono::NaiveDate;

pub use afterwards::{Answer, DayOver};
pub use at_ovens::AtOvensOutcome;
pub use better_odds::{BetterPlan, LookedForBetter};
pub use carrying::{Carried, Landing, Moving, Place, places, step_thing};
pub use command::Command;
pub use document::{Document, OpenedDocument, Reading};
pub use event::Event;
pub use ids::{DocumentId, Revision};
pub use laid_over::{Laid, Overlay, PlanBefore};
pub use library::{LibraryShelves, ToKeep};
pub use odds::{ToldOdds, ToldWith};
pub use offers::{Chip, Offering};
pub use opening::Broken;
pub use planned::Planned;
pub use printing::{LaidSheets, WeekSheets};
pub use probing::{ChoiceOutcome, TinsTried};
pub use question::{Leaving, Loses, Question, Unsaved};
pub use recipe_in::RECIPE_ENDINGS;
pub use responding::{Responses, StandingNow};
pub use slipping::{RehearsedSlip, Thrown};
pub use start::{Clock, SessionStart};
pub use study::{Heard, Study, Wake, Work};
pub use typing::{PAUSE, Refused};
pub use week::{OfWeek, Tried, WeekCommand, WeekDocument, WeekNeeds};

use crate::afterwards::ClassTook;
use crate::check::CheckedPlan;
use crate::file::copies::UnsavedCopy;
use crate::file::open_lesson::Over;
use crate::model::{GroupId, PastMinutes};

/// One lesson at work.
pub struct Session {
    doc: Option<Document>,
    planned: Option<Planned>,
    /// What still holds of a plan that was kept with the lesson, until the lesson
    /// is planned around it.
    to_keep: Option<Planned>,
    /// The same, until it is told what became of it.
    replaced: Option<Planned>,
    /// A file that cannot be planned, beside the lesson.
    broken: Option<Broken>,
    last_id: DocumentId,
    clock: Clock,
    /// The table of bakes noted so far.
    outcomes: Option<PathBuf>,
    keeping: saving::Keeping,
    library: LibraryShelves,
    questions: question::Questions,
    typing: typing::Typing,
    day: day::Day,
    responding: responding::Responding,
    day_over: Option<DayOver>,
    /// What parts of lessons took classes, as noted so far.
    past_minutes: Vec<PastMinutes>,
    class_took: Option<(Revision, Vec<ClassTook>)>,
    slip: Option<RehearsedSlip>,
    studies: studies::Studies,
    tried: Option<(Revision, GroupId, TinsTried)>,
    explained: Option<(Revision, GroupId, String)>,
    offering: Offering,
    at_ovens: at_ovens::AtOvensTried,
    odds: odds::OddsAtWork,
    better: better_odds::BetterOdds,
    sheets: printing::Sheets,
    weeks: week::WeekAtWork,
    laid: laid_over::LaidOver,
    /// How many plans of a lesson are built; as many as usual if `None`.
    decodings: Option<u64>,
    moving: Moving,
    message: Option<String>,
    events: Vec<Event>,
}

impl Session {
    /// A session with no lesson yet.
    pub fn new(start: SessionStart) -> Self {
        Self {
            doc: None,
            planned: None,
            to_keep: None,
            replaced: None,
            broken: None,
            last_id: DocumentId::default(),
            clock: start.clock,
            keeping: saving::Keeping::new(&start),
            library: LibraryShelves::at(start.data, start.disk),
            outcomes: start.outcomes,
            questions: question::Questions::default(),
            typing: typing::Typing::default(),
            day: day::Day::default(),
            responding: responding::Responding::default(),
            day_over: None,
            past_minutes: Vec::new(),
            class_took: None,
            slip: None,
            studies: studies::Studies::new(&start.wake),
            tried: None,
            explained: None,
            offering: Offering::default(),
            at_ovens: at_ovens::AtOvensTried::default(),
            odds: odds::OddsAtWork::new(start.runs),
            better: better_odds::BetterOdds::default(),
            sheets: printing::Sheets::default(),
            weeks: week::WeekAtWork::default(),
            laid: laid_over::LaidOver::default(),
            decodings: start.decodings,
            moving: Moving::default(),
            message: None,
            events: Vec::new(),
        }
    }

    /// Does what it is told.
    pub fn apply(&mut self, command: Command) {
        let Some(command) = self.apply_to_week(command) else { return };
        match command {
            Command::Week(command) => self.week_command(&command),
            Command::Open(path) if recipe_in::is_recipe(&path) => self.read_recipe(&path, None),
            Command::Open(path) => self.leave(Leaving::Open(path)),
            Command::ReadRecipe(path, which) => self.read_recipe(&path, which),
            Command::OpenDemo => self.leave(Leaving::Demo),
            Command::New => self.leave(Leaving::New),
            Command::Again => self.ask_whom_again(),
            Command::AgainTo(pupils) => self.leave(Leaving::Again(pupils)),
            Command::PutRight(path) => self.put_right(&path),
            Command::BackToLesson => self.back_to_lesson(),
            Command::Save => self.save(Over::Nothing),
            Command::SaveOver => self.save(Over::File),
            Command::SaveAs(path) => self.save_as(&path, Over::Nothing),
            Command::SaveAsOver(path, all) => {
                self.save_as(&path, if all { Over::All } else { Over::File });
            }
            Command::ReadAgain => self.read_again(),
            Command::ClearClass => self.ask_to_clear(),
            Command::ClearClassNow => self.clear_class(),
            Command::Edit(edit) => self.edit(&edit),
            Command::Typed => self.field_left(),
            Command::Untype(at) => self.untype(&at),
            Command::KeepInLibrary(what) => self.keep_in_library(what),
            Command::RemoveFromLibrary(shelf, name) => self.remove_from_library(shelf, &name),
            Command::Today => self.show_today(),
            Command::ToLesson => self.go_to_lesson(),
            Command::UseLesson(file) => self.use_lesson(&file),
            Command::Happened(what) => self.happened(&what),
            Command::TeachToday => self.teach_today(),
            Command::Tell(groups, what) => self.tell_facts(&groups, what),
            Command::TakeBack => self.take_back_fact(),
            Command::KeepResponse(words) => self.keep_response(&words),
            Command::LeaveAsItWas => self.leave_as_it_was(),
            Command::RespondAgain => self.respond_again(),
            Command::Answer(answer) => self.answer(&answer),
            Command::NoteTheDay => self.note_the_day(),
            Command::ThrowIn(what, at) => self.throw_in_slip(what, at),
            Command::TakeSlipOut => self.take_slip_out(),
            Command::BellNow => self.bell_now(),
            Command::BellAsComputer => self.bell_as_computer(),
            Command::Note(bake) => self.note(&bake),
            Command::Unnote(bake) => self.take_bake_back(&bake),
            Command::TakeUp(things, mouse) => self.take_up(&things, mouse),
            Command::CarryTo(by, place) => self.carry_to(by, place),
            Command::Carry(things, by, shelves) => self.carry(&things, by, shelves),
            Command::SetDown => self.set_down(),
            Command::PutBack => self.put_back(),
            Command::Put(spots) => self.put(spots),
            Command::PutBy(thing, by, shelves) => self.put_by(thing, by, shelves),
            Command::PutAt(thing, time) => self.put_at(thing, &time),
            Command::Hold(what, on) => self.hold(&what, on),
            Command::LetGo(lock) => self.let_go_of(&lock),
            Command::PlanAnew => self.plan_anew(),
            Command::RenameGroup(group, to) => self.rename_group(group, &to),
            Command::RenameOven(oven, to) => self.rename_oven(oven, &to),
            Command::Undo => self.undo(),
            Command::Redo => self.redo(),
            Command::CompareAtOvens => self.compare_at_ovens(),
            Command::ToggleOdds => self.toggle_odds(),
            Command::OddsWith(with) => self.tell_odds_with(with),
            Command::BetterOdds => self.look_for_better_odds(),
            Command::Stop => self.stop_looking(),
            Command::PrintSheets(to, parts, again) => self.print_sheets(&to, &parts, again),
            Command::Ghost(words) => self.ghost(words.as_deref()),
            Command::TryChoice(choices) => self.try_choice(choices),
            Command::Keep => self.keep_offer(),
            Command::Drop => self.drop_offer(),
            Command::ToggleBefore => self.toggle_before(),
            Command::Dismiss => self.message = None,
        }
    }

    /// Takes in what the studies have to say, and asks what follows from it.
    /// `selected` is the group that is looked at closely, if one is.
    pub fn listen(&mut self, selected: Option<GroupId>) {
        self.plan_when_due();
        self.hear_plans();
        self.look_at_the_day();
        self.look_at_the_day_over();
        self.look_at_the_class();
        self.hear_responses();
        self.hear_of_slip();
        self.hear_tins_tried();
        self.hear_of_choices();
        self.hear_explanations();
        self.hear_offers();
        self.hear_hangs_on();
        self.hear_at_ovens();
        self.hear_sheets();
        self.try_tins_of(selected);
        self.look_for_changes();
        self.hear_odds();
        self.hear_better_odds();
        self.hear_of_moves();
        self.hear_of_contradictions();
        self.hear_of_week();
        self.hear_of_week_needs();
        self.hear_of_copies();
    }

    /// What is asked of whoever shows the session, since the last look.
    pub fn events(&mut self) -> Vec<Event> {
        std::mem::take(&mut self.events)
    }

    /// The lesson's document.
    pub fn document(&self) -> Option<&Document> {
        self.doc.as_ref()
    }

    /// The plan, with all that belongs to it.
    pub fn planned(&self) -> Option<&Planned> {
        self.planned.as_ref()
    }

    /// The plan, if it is of the lesson as it now stands.
    pub fn current_plan(&self) -> Option<&CheckedPlan> {
        let now = self.revision()?;
        self.planned.as_ref().filter(|p| p.revision == now).map(|p| &*p.plan)
    }

    /// Whether the plan on screen is of the lesson as it was: as it now stands
    /// it cannot be planned.
    pub fn shows_old_plan(&self) -> bool {
        self.planned.is_some() && self.doc.as_ref().is_some_and(|d| d.lesson().is_none())
    }

    /// A file that cannot be planned, if one was opened.
    pub fn broken(&self) -> Option<&Broken> {
        self.broken.as_ref()
    }

    /// What can be taken into a lesson.
    pub fn library(&self) -> &LibraryShelves {
        &self.library
    }

    /// What can be taken into a lesson, to be told whose words to use.
    pub fn library_mut(&mut self) -> &mut LibraryShelves {
        &mut self.library
    }

    /// What there is to tell, if anything.
    pub fn message(&self) -> Option<&str> {
        self.message.as_deref()
    }

    /// What is moved by hand.
    pub fn moving(&self) -> &Moving {
        &self.moving
    }

    /// Changes that would help.
    pub fn offering(&self) -> &Offering {
        &self.offering
    }

    /// Another plan laid over the board, if one is.
    pub fn overlay(&self) -> Option<&Overlay> {
        self.laid.overlay.as_ref()
    }

    /// The plan before the last change, if there is one.
    pub fn before(&self) -> Option<&PlanBefore> {
        self.laid.before.as_ref()
    }

    /// What the tins and methods of a group come to, if that is known.
    pub fn tins_tried(&self, group: GroupId) -> Option<&TinsTried> {
        let (revision, of, tried) = self.tried.as_ref()?;
        (*of == group && Some(*revision) == self.revision()).then_some(tried)
    }

    /// Why a group is not served, at length, if that is known.
    pub fn explained(&self, group: GroupId) -> Option<&str> {
        let (revision, of, words) = self.explained.as_ref()?;
        (*of == group && Some(*revision) == self.revision()).then_some(words.as_str())
    }

    /// Lessons of runs that ended without saving them.
    pub fn left_behind(&self) -> &[UnsavedCopy] {
        &self.keeping.left
    }

    /// The folder of the user's data, if there is one.
    pub fn data_folder(&self) -> Option<&Path> {
        self.keeping.safe.data.as_deref()
    }

    /// The day it is.
    pub fn today(&self) -> NaiveDate {
        self.clock.today()
    }

    /// Goes by another clock.
    pub fn go_by(&mut self, clock: Clock) {
        self.clock = clock;
    }

    /// By which clock it goes.
    pub fn clock(&self) -> &Clock {
        &self.clock
    }

    /// Whether something is under way that will change what is shown.
    pub fn is_busy(&self) -> bool {
        self.is_planning()
            || self.studies.tins.is_busy()
            || self.studies.odds.is_busy()
            || self.studies.better.is_busy()
            || self.studies.choice.is_busy()
            || self.studies.responses.is_busy()
            || self.studies.slip.is_busy()
            || self.studies.sheets.is_busy()
            || self.studies.week_needs.is_busy()
            || self.is_planning_week()
            || self.is_typing()
            || self.moving.is_busy()
    }

    fn revision(&self) -> Option<Revision> {
        self.doc.as_ref().map(Document::revision)
    }

    fn next_id(&mut self) -> DocumentId {
        self.last_id = self.last_id.next();
        self.last_id
    }

    fn tell(&mut self, words: impl Into<String>) {
        self.message = Some(words.into());
    }

    /// Adds to what is told.
    fn tell_more(&mut self, more: impl IntoIterator<Item = String>) {
        let told: Vec<String> = self.message.take().into_iter().chain(more).collect();
        self.message = (!told.is_empty()).then(|| told.join(" "));
    }

    /// The plan comes on screen: the only place that writes it.
    fn show_plan(&mut self, planned: Option<Planned>) {
        if let (Some(doc), Some(planned)) = (&mut self.doc, &planned)
            && doc.revision() == planned.revision
        {
            doc.has_plan(Arc::clone(&planned.plan));
        }
        self.planned = planned;
        self.lay_again();
    }
}

/// What is wrong, by the first of several findings.
fn first_of(findings: &[crate::finding::Finding]) -> String {
    findings.first().map(|f| f.message.clone()).unwrap_or_default()
}
