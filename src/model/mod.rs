//! The lesson as everything above reads it: room, period, recipes, groups.
//! Values here are valid by construction; how they are written in a file is
//! the business of `file`.

pub mod at_ovens;
pub mod begun;
pub mod change_kind;
pub mod class_starts;
pub mod eggs;
pub mod equipment;
pub mod figure;
pub mod group_kind;
pub mod ids;
pub mod language;
pub mod lesson;
pub mod measure;
pub mod outcome;
pub mod packet;
pub mod past_minutes;
pub mod people;
pub mod period;
pub mod recipe;
pub mod teacher_note;
pub mod today;
pub mod together;

pub use at_ovens::AtOvens;
pub use begun::{Begun, BegunBake, StandingTin};
pub use change_kind::{ChangeCosts, ChangeKind};
pub use eggs::{
    EGG_EDIBLE_SHARE, EggScaling, EggSize, EggStep, MEDIUM_EGG_GRAMS, egg_grams,
    nearest_egg_scaling, nearest_eggs,
};
pub use equipment::{
    FAN_KELVINS, KitKind, KitPool, Oven, OvenKind, Room, Shelf, Tin, TinForm, TinPool, UnitBay,
};
pub use figure::{Figure, Origin, ThreePoint};
pub use ids::{
    AdultId, ClassStepId, GroupId, KitId, MethodId, OvenId, PeriodId, PoolId, RecipeId, RoomId,
    ShelfId, StepId, TinChoiceId, TinId, TinPoolId, UnitId,
};
pub use language::{Language, NoLanguage};
pub use lesson::{
    About, Assumption, Class, InvalidLesson, Lesson, LessonParts, Lock, LockedTo, Rules,
};
pub use measure::{Amount, GasMark, Measure};
pub use outcome::PastBake;
pub use packet::{Brought, Label, Packet, Price};
pub use past_minutes::{LessonPart, PastMinutes};
pub use people::{Adult, Attendance, Group, technician};
pub use period::{ClassStep, Period, Phase, Timing};
pub use recipe::{
    AdultNeed, BakeRules, Balance, Hold, Ingredient, Link, Method, PupilsNeeded, Recipe, Role,
    Step, StepKind, TinChoice,
};
pub use teacher_note::{Peg, TeacherNote};
pub use today::{Afterwards, Fact, FactKind, Happened, NoFact, Slip, Today};
pub use together::Together;
