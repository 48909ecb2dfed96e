//! How long a tin bakes, from how long another tin of the recipe bakes.

use super::block::{Block, Heat};
use super::cross_check::{self, Disagreement};
use super::fault::{BakeError, positive};
use super::geometry::Shape;
use super::materials;
use crate::units::{Celsius, ExactMinutes, Millilitres, UnitError};

const SECONDS: f64 = 60.0;

/// Properties of a batter in the oven. The defaults are effective values that
/// lump radiation, evaporation and rise; only bake times follow from them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Batter {
    /// Conductivity, W/(m·K).
    pub conductivity: f64,
    /// Heat transfer in an oven without a fan, W/(m²·K).
    pub transfer: f64,
    /// Mean height during the bake over that of the raw batter.
    pub rise: f64,
    /// Density of the raw batter, kg/m³.
    pub density: f64,
    /// Specific heat, J/(kg·K).
    pub specific_heat: f64,
    /// Temperature it goes in with, °C.
    pub start: f64,
    /// Temperature in the middle when it is baked, °C.
    pub end: f64,
}

impl Default for Batter {
    fn default() -> Self {
        Self {
            conductivity: materials::BATTER_CONDUCTIVITY.value,
            transfer: materials::OVEN_TRANSFER.value,
            rise: materials::RISE.value,
            density: materials::BATTER_DENSITY.value,
            specific_heat: materials::BATTER_HEAT.value,
            start: materials::BATTER_START.value,
            end: materials::BATTER_END.value,
        }
    }
}

impl Batter {
    /// The same with its own density: weight over volume of the raw batter.
    ///
    /// # Errors
    /// If either is nought.
    pub fn weighed(
        self,
        weight: crate::units::Grams,
        volume: Millilitres,
    ) -> Result<Self, BakeError> {
        let weight = positive("a weight", weight.get())?;
        let volume = positive("a volume of batter", volume.get())?;
        Ok(Self { density: 1000.0 * weight / volume, ..self })
    }
}

/// One tin in one oven.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bake {
    /// The shape of the tin, or of one hole of a tray.
    pub shape: Shape,
    /// Raw batter in it, or in one hole.
    pub volume: Millilitres,
    /// What the oven really is set to, °C.
    pub oven: Celsius,
    /// Whether its fan runs.
    pub fan: bool,
}

/// θ at which a bake is done: `(T_oven − T_e)/(T_oven − T_0)`.
fn done_share(oven: f64, batter: &Batter) -> Result<f64, BakeError> {
    for (what, value) in [
        ("an oven temperature", oven),
        ("a temperature of raw batter", batter.start),
        ("an end temperature", batter.end),
    ] {
        if !value.is_finite() {
            return Err(UnitError::NotFinite { what, value }.into());
        }
    }
    if oven <= batter.end {
        return Err(BakeError::OvenTooCold { oven, end: batter.end });
    }
    if batter.start >= batter.end {
        return Err(BakeError::StartsBaked { start: batter.start, end: batter.end });
    }
    Ok((oven - batter.end) / (oven - batter.start))
}

/// Minutes of the model by itself, uncalibrated: until the middle of the tin
/// is at the end temperature.
///
/// # Errors
/// If there is no mixture or it would stand too deep, if the oven is no
/// hotter than the end temperature, if a property is no number above nought,
/// or if it takes longer than a day.
pub fn model_minutes(bake: &Bake, batter: &Batter) -> Result<ExactMinutes, BakeError> {
    let theta = done_share(bake.oven.get(), batter)?;
    let rise = positive("a rise", batter.rise)?;
    let conductivity = positive("a conductivity", batter.conductivity)?;
    let density = positive("a density", batter.density)?;
    let specific_heat = positive("a specific heat", batter.specific_heat)?;
    let fan = if bake.fan { materials::FAN_FACTOR.value } else { 1.0 };
    let heat = Heat {
        conductivity,
        diffusivity: conductivity * rise / (density * specific_heat),
        transfer: batter.transfer * fan,
    };
    let height = rise * bake.shape.depth(bake.volume)?;
    let seconds = Block::new(&bake.shape, height, &heat)?.seconds_to(theta)?;
    Ok(ExactMinutes::new(seconds / SECONDS)?)
}

/// How far bakes scatter about the estimate, as factors either way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Four of five bakes lie within `t/eighty … t·eighty`.
    pub eighty: f64,
    /// Nine of ten bakes lie within `t/ninety … t·ninety`.
    pub ninety: f64,
}

impl Default for Spread {
    fn default() -> Self {
        Self { eighty: materials::BAND_80.value, ninety: materials::BAND_90.value }
    }
}

/// Normal deviates that leave a tenth and a twentieth above them.
pub(super) const Z_80: f64 = 1.281_552;
/// See [`Z_80`].
pub(super) const Z_90: f64 = 1.644_854;

impl Spread {
    /// Of single bakes about minutes that are known.
    pub fn of_one_bake() -> Self {
        let sigma = materials::OUTCOME_SIGMA.value;
        Self { eighty: (Z_80 * sigma).exp(), ninety: (Z_90 * sigma).exp() }
    }
}

/// κ lies outside what cakes give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KappaWarning {
    /// The calibration factor.
    pub kappa: f64,
}

impl std::fmt::Display for KappaWarning {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "the recipe's minutes are {:.2} times what a cake of this size takes: tin, depth or \
             minutes may be mistyped (a depth that is the baked height, say), or the cake is of \
             another kind",
            self.kappa
        )
    }
}

/// Present where κ lies outside 0.55 to 1.6.
pub fn suspicious(kappa: f64) -> Option<KappaWarning> {
    let usual = materials::LEAST_KAPPA.value..=materials::GREATEST_KAPPA.value;
    (!usual.contains(&kappa)).then_some(KappaWarning { kappa })
}

/// The model set right by the recipe's own figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Calibration {
    kappa: f64,
    recipe: Bake,
    /// The model's minutes for the recipe's own bake, uncalibrated.
    recipe_model: f64,
    batter: Batter,
    /// The spread its estimates are given with.
    pub spread: Spread,
}

/// What is expected of a tin, in minutes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// Most likely.
    pub usual: ExactMinutes,
    /// Four of five bakes are done between these.
    pub eighty: (ExactMinutes, ExactMinutes),
    /// Nine of ten bakes are done between these.
    pub ninety: (ExactMinutes, ExactMinutes),
    /// What the rule of thumb says.
    pub cross_check: f64,
    /// Present where model and rule of thumb differ by more than the 80 %
    /// band of published recipes, however much a band has narrowed.
    pub disagreement: Option<Disagreement>,
}

impl std::fmt::Display for Estimate {
    /// In a teacher's terms, by the 80 % band, whose ends are rounded outwards.
    /// Time alone never says done.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "check from {:.0}, expect {:.0}, at latest {:.0}, and by the done test",
            self.eighty.0.get().floor(),
            self.usual.get(),
            self.eighty.1.get().ceil()
        )
    }
}

impl Calibration {
    /// From what the recipe states: its own tin, temperature and minutes.
    ///
    /// # Errors
    /// As [`model_minutes`]; also for minutes of nought.
    pub fn new(recipe: Bake, minutes: ExactMinutes, batter: Batter) -> Result<Self, BakeError> {
        let stated = positive("the recipe's minutes", minutes.get())?;
        let recipe_model = positive("the model's minutes", model_minutes(&recipe, &batter)?.get())?;
        let kappa = positive("κ", stated / recipe_model)?;
        Ok(Self { kappa, recipe, recipe_model, batter, spread: Spread::default() })
    }

    /// The model's minutes, uncalibrated.
    pub(super) fn model(&self, bake: &Bake) -> Result<f64, BakeError> {
        positive("the model's minutes", model_minutes(bake, &self.batter)?.get())
    }

    /// The bake it was set right by.
    pub(super) fn own(&self) -> &Bake {
        &self.recipe
    }

    /// With κ times a factor, and another spread.
    pub(super) fn moved(&self, factor: f64, spread: Spread) -> Self {
        Self { kappa: self.kappa * factor, spread, ..*self }
    }
    /// Stated minutes over the model's.
    pub fn kappa(&self) -> f64 {
        self.kappa
    }

    /// Present where κ is suspicious.
    pub fn warning(&self) -> Option<KappaWarning> {
        suspicious(self.kappa)
    }

    /// What to expect of another tin, temperature or oven.
    ///
    /// # Errors
    /// As [`model_minutes`].
    pub fn estimate(&self, bake: &Bake) -> Result<Estimate, BakeError> {
        let minutes =
            |oven_of: &Bake| -> Result<f64, BakeError> { Ok(self.kappa * self.model(oven_of)?) };
        let usual = minutes(bake)?;
        let band = |factor: f64| -> Result<_, BakeError> {
            let factor = positive("the factor of a band", factor)?;
            Ok((ExactMinutes::new(usual / factor)?, ExactMinutes::new(usual * factor)?))
        };
        // The rule of thumb knows no temperature: it starts from the recipe's
        // tin in the oven asked for.
        let moved = Bake { oven: bake.oven, fan: bake.fan, ..self.recipe };
        let same_oven =
            if moved == self.recipe { self.kappa * self.recipe_model } else { minutes(&moved)? };
        let ratio = cross_check::measure(bake, &self.batter)?
            / cross_check::measure(&self.recipe, &self.batter)?;
        let rule = same_oven * ratio;
        Ok(Estimate {
            usual: ExactMinutes::new(usual)?,
            eighty: band(self.spread.eighty)?,
            ninety: band(self.spread.ninety)?,
            cross_check: rule,
            disagreement: cross_check::compare(usual, rule, materials::BAND_80.value),
        })
    }
}
