//! What is wrong with a plan, in ids and figures: an enum for each family of
//! rules, and how it is told.

mod adults;
mod bake;
mod class_steps;
mod door;
mod door_hands;
mod keep_apart;
mod locks;
mod nowhere;
mod oven;
mod pupils;
mod shelf;
mod stock;
mod time;
mod tin;
mod whole;
mod words;

pub use adults::{AdultFault, Duty};
pub use bake::BakeFault;
pub use class_steps::{ClassStepFault, ClassStepPlace};
pub use door::DoorFault;
pub use door_hands::{DoorHandsFault, Unfit};
pub use keep_apart::KeepApartFault;
pub use locks::LockFault;
pub use nowhere::{Missing, Names, Nowhere};
pub use oven::{OneOvenFault, TemperatureFault, WarmUpFault};
pub use pupils::PupilsFault;
pub use shelf::ShelfFault;
pub use stock::{Heap, Kind, StockFault};
pub use time::{BellFault, Bound, Gap, OrderFault, PeriodFault};
pub use tin::TinFault;
pub use whole::WholeGroupFault;
pub(super) use words::Words;

use crate::model::{GroupId, MethodId, StepId};

/// A step of a served group.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct StepOf {
    /// Whose.
    pub group: GroupId,
    /// By which method.
    pub method: MethodId,
    /// The step of that method.
    pub step: StepId,
}

/// One of the tins of a group.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TinOf {
    /// Whose.
    pub group: GroupId,
    /// Which, from 0.
    pub number: u32,
}

macro_rules! faults {
    ($($(#[$doc:meta])* $name:ident($fault:ty)),+ $(,)?) => {
        /// What is wrong with a plan.
        #[derive(Debug, Clone, PartialEq)]
        pub enum Fault {
            $($(#[$doc])* $name($fault)),+
        }

        impl Fault {
            /// The sentence.
            pub(super) fn told(&self, words: &Words<'_>) -> String {
                match self {
                    $(Fault::$name(fault) => fault.told(words)),+
                }
            }
        }

        $(impl From<$fault> for Fault {
            fn from(fault: $fault) -> Self {
                Fault::$name(fault)
            }
        })+
    };
}

faults!(
    /// It names what the lesson does not have.
    Nowhere(Nowhere),
    /// Of `whole-group`.
    WholeGroup(WholeGroupFault),
    /// Of `order`.
    Order(OrderFault),
    /// Of `pupils`.
    Pupils(PupilsFault),
    /// Of `class-step`.
    ClassStep(ClassStepFault),
    /// Of `kit`, or of `tin` where tins are counted.
    Stock(StockFault),
    /// Of `adults`.
    Adults(AdultFault),
    /// Of `period`.
    Period(PeriodFault),
    /// Of `one-oven`.
    OneOven(OneOvenFault),
    /// Of `temperature`.
    Temperature(TemperatureFault),
    /// Of `warm-up`.
    WarmUp(WarmUpFault),
    /// Of `shelf`.
    Shelf(ShelfFault),
    /// Of `door`.
    Door(DoorFault),
    /// Of `door-hands`.
    DoorHands(DoorHandsFault),
    /// Of `tin`.
    Tin(TinFault),
    /// Of `bake-time` or `cool-enough`.
    Bake(BakeFault),
    /// Of `keep-apart`.
    KeepApart(KeepApartFault),
    /// Of `locked`.
    Locked(LockFault),
    /// Of `bell`.
    Bell(BellFault),
);
