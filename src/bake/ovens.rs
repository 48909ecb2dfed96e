//! Warming up an oven.

use super::fault::{BakeError, positive};
use super::materials;
use crate::units::{Celsius, ExactMinutes, UnitError};

const SECONDS: f64 = 60.0;

/// An oven that warms up by `C·dT/dt = P − U·(T − T_room)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WarmUp {
    /// Power, W.
    pub power: f64,
    /// Heat capacity, J/K.
    pub capacity: f64,
    /// Losses, W/K.
    pub loss: f64,
    /// The room, °C.
    pub room: f64,
}

impl Default for WarmUp {
    fn default() -> Self {
        Self {
            power: materials::OVEN_POWER.value,
            capacity: materials::OVEN_CAPACITY.value,
            loss: materials::OVEN_LOSS.value,
            room: materials::ROOM.value,
        }
    }
}

impl WarmUp {
    /// This oven with its heat capacity set so that it takes the room's own
    /// measured minutes from cold to a temperature.
    ///
    /// # Errors
    /// If the minutes are nought or the oven cannot reach the temperature.
    pub fn measured(self, minutes: ExactMinutes, to: Celsius) -> Result<Self, BakeError> {
        let seconds = SECONDS * positive("measured warm-up minutes", minutes.get())?;
        let constants = self.time_constants(self.room, to.get())?;
        let constants = positive("the rise of the warm-up", constants)?;
        Ok(Self { capacity: seconds * self.loss / constants, ..self })
    }

    /// How much hotter than the room it gets in the end, K.
    fn reach(&self) -> Result<f64, BakeError> {
        positive("a heat capacity", self.capacity)?;
        Ok(positive("a power", self.power)? / positive("losses", self.loss)?)
    }

    /// Time constants `C/U` from one temperature up to another; 0 if it is
    /// hot enough.
    fn time_constants(&self, from: f64, to: f64) -> Result<f64, BakeError> {
        let reach = self.reach()?;
        if !self.room.is_finite() {
            return Err(
                UnitError::NotFinite { what: "a room temperature", value: self.room }.into()
            );
        }
        let (from, to) = (from - self.room, to - self.room);
        if to >= reach {
            return Err(BakeError::Unreachable {
                reach: reach + self.room,
                wanted: to + self.room,
            });
        }
        if to <= from {
            return Ok(0.0);
        }
        Ok(((reach - from) / (reach - to)).ln())
    }

    /// Minutes from one temperature up to another; 0 if it is hot enough.
    ///
    /// # Errors
    /// If its losses keep it from that temperature, if a property is no number
    /// above nought, or if it takes longer than a day.
    pub fn minutes(&self, from: Celsius, to: Celsius) -> Result<ExactMinutes, BakeError> {
        let constants = self.time_constants(from.get(), to.get())?;
        Ok(ExactMinutes::new(constants * self.capacity / self.loss / SECONDS)?)
    }
}
