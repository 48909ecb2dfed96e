//! How long a cake cools: the same conduction, with the properties of crumb,
//! on a rack with all faces open to the air. Evaporation is left out, so the
//! minutes are about 10 % long.

use super::block::{Block, Heat};
use super::fault::{BakeError, positive};
use super::geometry::Shape;
use super::materials;
use crate::units::{Celsius, ExactMinutes, UnitError};

const SECONDS: f64 = 60.0;
const DEEPEST_CENTIMETRES: f64 = 50.0;

/// A cake's crumb and the air it cools in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cooling {
    /// Conductivity, W/(m·K).
    pub conductivity: f64,
    /// Density, kg/m³.
    pub density: f64,
    /// Specific heat, J/(kg·K).
    pub specific_heat: f64,
    /// Heat transfer, W/(m²·K).
    pub transfer: f64,
    /// Temperature out of the oven, °C.
    pub start: f64,
    /// Air, °C.
    pub air: f64,
}

impl Default for Cooling {
    fn default() -> Self {
        Self {
            conductivity: materials::CRUMB_CONDUCTIVITY.value,
            density: materials::CRUMB_DENSITY.value,
            specific_heat: materials::CRUMB_HEAT.value,
            transfer: materials::RACK_TRANSFER.value,
            start: materials::COOLING_START.value,
            air: materials::COOLING_AIR.value,
        }
    }
}

impl Cooling {
    /// Minutes for the middle of a cake to cool to a temperature: 0 if it is
    /// no hotter to begin with. The cake has the plan of its tin and its
    /// **baked** height, in centimetres.
    ///
    /// # Errors
    /// If the height is not above 0 and at most 50 cm, if the air is no cooler
    /// than the temperature wanted, if a property is no number above nought,
    /// or if it takes longer than a day.
    pub fn minutes(
        &self,
        shape: &Shape,
        baked_height: f64,
        wanted: Celsius,
    ) -> Result<ExactMinutes, BakeError> {
        let height = positive("a baked height", baked_height)?;
        if height > DEEPEST_CENTIMETRES {
            return Err(BakeError::TooDeep { centimetres: height });
        }
        let (air, wanted) = (self.air, wanted.get());
        for (what, value) in [("an air temperature", air), ("a start temperature", self.start)] {
            if !value.is_finite() {
                return Err(UnitError::NotFinite { what, value }.into());
            }
        }
        if wanted <= air {
            return Err(BakeError::AirTooWarm { air, wanted });
        }
        if self.start <= wanted {
            return Ok(ExactMinutes::ZERO);
        }
        let density = positive("a density", self.density)?;
        let specific_heat = positive("a specific heat", self.specific_heat)?;
        let heat = Heat {
            conductivity: self.conductivity,
            diffusivity: self.conductivity / (density * specific_heat),
            transfer: self.transfer,
        };
        let block = Block::new(shape, height / 100.0, &heat)?;
        let seconds = block.seconds_to((wanted - air) / (self.start - air))?;
        Ok(ExactMinutes::new(seconds / SECONDS)?)
    }
}
