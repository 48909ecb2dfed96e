//! Positions in the lists of a [`Lesson`](super::Lesson), as types of their own.

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub usize);
    )+};
}

ids!(
    /// A room in `Lesson::rooms`.
    RoomId,
    /// A unit (bay) in `Lesson::units`.
    UnitId,
    /// An oven in `Lesson::ovens`.
    OvenId,
    /// A shelf within its oven, from the top.
    ShelfId,
    /// A kind of counted kit in `Lesson::kit_kinds`.
    KitId,
    /// A stock of one kind of kit in one place, in `Lesson::kit_pools`.
    PoolId,
    /// A kind of tin in `Lesson::tins`.
    TinId,
    /// A stock of one kind of tin in one room, in `Lesson::tin_pools`.
    TinPoolId,
    /// An adult in `Lesson::adults`.
    AdultId,
    /// A period in `Lesson::periods`.
    PeriodId,
    /// A step of the class in `Lesson::class_steps`.
    ClassStepId,
    /// A recipe in `Lesson::recipes`.
    RecipeId,
    /// A method in `Recipe::methods`.
    MethodId,
    /// A step in `Method::steps`.
    StepId,
    /// A way of filling tins in `Recipe::tins`.
    TinChoiceId,
    /// A group in `Lesson::groups`.
    GroupId,
);
