//! The shapes of a lesson file, as written and read. They hold what was
//! typed, sensible or not; `file::understand` turns them into a lesson or into
//! findings.

mod class;
mod entries;
mod lesson;
mod minutes;
mod numbered;
mod packet;
mod pointer;
mod recipe;
mod room;
mod teacher;
mod today;
mod together;
mod week;

pub use class::SavedClass;
pub use entries::{Entries, KitCount};
pub use lesson::{
    AdultShape, ChangesShape, ClassShape, ClassStepShape, GroupShape, LessonFile, LockShape,
    PaceBand, PeriodShape, RulesShape,
};
pub use minutes::StatedMinutes;
pub use packet::{FromShape, PacketShape};
pub use pointer::PointerShape;
pub use recipe::{
    AdultShapeNeed, BakeShape, FullnessShape, HoldShape, IngredientShape, LinkShape, MeasureShape,
    MethodShape, RecipeShape, ReviewShape, ReviewedShape, RoleShape, SourceShape, StepKindShape,
    StepShape, TinChoiceShape,
};
pub use room::{FormShape, OvenKindShape, OvenShape, RoomShape, TinShape, UnitShape};
pub use teacher::TeacherNoteShape;
pub use today::{AfterwardsShape, HappenedShape, TodayShape};
pub use together::TogetherShape;
pub use week::{
    DayShape, HoursShape, OutShape, RestShape, Several, WeekAdultShape, WeekDayShape,
    WeekEntryShape, WeekFile,
};

/// The format of lessons this program writes, and the newest it reads. Older
/// ones are brought up to it as they are read.
pub const FORMAT: u32 = 2;
/// The format of plans this program writes and reads.
pub const PLAN_FORMAT: u32 = 1;
/// The format of weeks this program reads.
pub const WEEK_FORMAT: u32 = 1;

/// For `skip_serializing_if`: whether a field holds its default.
fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}
