//! Bake times, cooling and warming up, worked out from the physics of heat.
//!
//! A teacher knows one figure: this recipe, in this tin, at this temperature,
//! takes so long. [`estimate`] is calibrated on that figure and asked only for
//! the change to another tin or temperature, and says how sure it is.
//!
//! Quantities are in SI units inside (metres, seconds, kelvins); minutes,
//! centimetres, millilitres and °C come in and go out.

pub mod anchor;
pub mod block;
pub mod compromise;
pub mod conduction;
pub mod cooling;
pub mod cools;
pub mod cross_check;
pub mod estimate;
pub mod fault;
pub mod fill_in;
pub mod filling;
pub mod geometry;
pub mod learn;
pub mod materials;
pub mod mixture;
pub mod outlook;
pub mod ovens;
mod root;
pub mod spec;
pub mod tin_table;

pub use compromise::{Compromise, share_oven};
pub use cooling::Cooling;
pub use estimate::{Bake, Batter, Calibration, Estimate, Spread};
pub use fault::BakeError;
pub use filling::Filling;
pub use geometry::Shape;
pub use learn::Outcome;
pub use outlook::Outlook;
pub use ovens::WarmUp;
pub use spec::TinSpec;
