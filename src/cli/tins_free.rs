//! `ovenbell tins` without a file: one tin from the figures of another.

use clap::Args;

use super::numbers::figure;
use crate::bake::spec::{TinSpec, centimetres};
use crate::bake::{Bake, BakeError, Batter, Calibration, Outlook};
use crate::export::tins;
use crate::units::{Celsius, ExactMinutes, Millilitres, plain_number};

/// Two tins and what is known of the first.
#[derive(Debug, Args)]
pub(super) struct FreeArgs {
    /// What the oven is set to, °C.
    #[arg(long, value_name = "T", value_parser = figure("a temperature", "180"), allow_negative_numbers = true)]
    celsius: f64,
    /// The recipe's own tin: round:20cm, rect:33x22.9cm, hole:7x5cm.
    #[arg(long, value_name = "SPEC")]
    own: TinSpec,
    /// Raw batter in that tin, or in one hole, ml.
    #[arg(long, value_name = "ML", value_parser = figure("a volume in ml", "700"), allow_negative_numbers = true)]
    own_ml: f64,
    /// Minutes the recipe states for it.
    #[arg(long, value_name = "M", value_parser = figure("a time in minutes", "45"), allow_negative_numbers = true)]
    own_minutes: f64,
    /// The tin asked about, written the same way.
    #[arg(long, value_name = "SPEC")]
    tin: TinSpec,
    /// Raw batter in it, or in one hole, ml.
    #[arg(long, value_name = "ML", value_parser = figure("a volume in ml", "700"), allow_negative_numbers = true)]
    ml: f64,
    /// Both bake in an oven whose fan runs, set to that temperature.
    #[arg(long)]
    fan: bool,
    /// Inner height of the tin asked about, to say how full it is: 5cm, 2in.
    #[arg(long, value_name = "LENGTH", value_parser = height, allow_negative_numbers = true)]
    height: Option<f64>,
}

fn height(text: &str) -> Result<f64, String> {
    centimetres(&text.to_lowercase())
        .ok_or_else(|| "a height reads like 5cm, 50mm or 2in".to_owned())
}

/// What is said of the tin asked about.
pub(super) struct TinAnswer<'a> {
    args: &'a FreeArgs,
    kappa: f64,
    outlook: Outlook,
}

/// Works it out.
///
/// # Errors
/// With which of the two tins cannot be, and why.
pub(super) fn answer(args: &FreeArgs) -> Result<TinAnswer<'_>, String> {
    let of = |tin: &TinSpec, ml: f64| -> Result<Bake, BakeError> {
        let (oven, volume) = (Celsius::new(args.celsius)?, Millilitres::new(ml)?);
        Ok(Bake { shape: tin.shape(), volume, oven, fan: args.fan })
    };
    let calibration = of(&args.own, args.own_ml)
        .and_then(|own| {
            let minutes = ExactMinutes::new(args.own_minutes)?;
            Calibration::new(own, minutes, Batter::default())
        })
        .map_err(|fault| format!("the recipe's own tin, {}: {fault}", args.own))?;
    let outlook = of(&args.tin, args.ml)
        .and_then(|bake| {
            let capacity = args.height.map(|height| args.tin.capacity(height)).transpose()?;
            calibration.outlook(&bake, capacity)
        })
        .map_err(|fault| format!("the tin asked about, {}: {fault}", args.tin))?;
    Ok(TinAnswer { args, kappa: calibration.kappa(), outlook })
}

impl TinAnswer<'_> {
    /// For programs.
    ///
    /// # Errors
    /// If the library refuses to write it.
    pub(super) fn json(&self) -> Result<String, serde_json::Error> {
        tins::one_json(&self.args.tin.to_string(), self.kappa, &self.outlook)
    }

    /// For people.
    pub(super) fn text(&self) -> String {
        let Self { args, kappa, outlook } = self;
        let fan = if args.fan { " with a fan" } else { "" };
        let fill = outlook.fill.map_or_else(String::new, |f| format!(", {:.0} % full", 100.0 * f));
        let mut lines = vec![
            format!(
                "{} with {} ml ({:.0} mm deep{fill}) at {} °C{fan}:",
                args.tin,
                plain_number(args.ml),
                outlook.depth_mm,
                plain_number(args.celsius)
            ),
            format!("  {}", outlook.estimate),
            format!(
                "  nine of ten such bakes are done between {:.0} and {:.0} min",
                outlook.estimate.ninety.0.get().floor(),
                outlook.estimate.ninety.1.get().ceil()
            ),
            format!(
                "  hand-warm about {:.0} min after it comes out, probably a little sooner",
                outlook.hand_warm.get()
            ),
            format!(
                "Reckoned from {} min for {} ml in {}, which is {kappa:.2} times what the physics \
                 of heat alone would say.",
                plain_number(args.own_minutes),
                plain_number(args.own_ml),
                args.own
            ),
        ];
        lines.extend(outlook.warnings.iter().map(|w| format!("Look at this: {w}.")));
        lines.join("\n")
    }
}
