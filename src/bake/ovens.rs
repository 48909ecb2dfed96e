//! Warming up an oven, opening its door, and what its dial says.

use super::fault::{BakeError, positive};
use super::materials;
use crate::model::{FAN_KELVINS, GasMark};
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

/// What opening the door costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DoorOpening {
    /// Until the air is back at its temperature.
    pub recovers: ExactMinutes,
    /// Baking lost: to be added to the bake.
    pub costs: ExactMinutes,
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

    /// What it costs when an opened door drops the air by so many kelvins:
    /// the missing degrees, summed over the recovery, over the difference that
    /// bakes (oven less 80 °C, the mean of what bakes).
    ///
    /// # Errors
    /// As [`WarmUp::minutes`]; also if the drop is not above nought, or the
    /// oven no hotter than what bakes.
    pub fn door_opening(&self, oven: Celsius, drop: f64) -> Result<DoorOpening, BakeError> {
        let drop = positive("a drop of temperature", drop)?;
        let constants = self.time_constants(oven.get() - drop, oven.get())?;
        let minutes = self.capacity / self.loss / SECONDS;
        // Missing degrees: ∫ (T_set − T) dt = τ·(drop − headroom·constants),
        // with T = T_end − (T_end − T_start)·exp(−t/τ).
        let headroom = self.reach()? + self.room - oven.get();
        let missing = minutes * (drop - headroom * constants);
        let baking = oven.get() - materials::BAKING_MEAN.value;
        let baking = positive("the difference of temperature that bakes", baking)?;
        Ok(DoorOpening {
            recovers: ExactMinutes::new(minutes * constants)?,
            costs: ExactMinutes::new((missing / baking).max(0.0))?,
        })
    }
}

/// What a fan oven is set to instead of a recipe's temperature: 20 °C lower
/// (common practice).
///
/// # Errors
/// If the result is no plausible temperature.
pub fn with_fan(celsius: Celsius) -> Result<Celsius, BakeError> {
    Ok(Celsius::new(celsius.get() - FAN_KELVINS)?)
}

/// The recipe's temperature that a fan oven's setting stands for.
///
/// # Errors
/// If the result is no plausible temperature.
pub fn without_fan(celsius: Celsius) -> Result<Celsius, BakeError> {
    Ok(Celsius::new(celsius.get() + FAN_KELVINS)?)
}

/// The gas mark nearest to a temperature, and what published tables give for
/// it where they differ.
pub fn gas_mark(celsius: Celsius) -> GasMark {
    GasMark::nearest(celsius.get())
}
