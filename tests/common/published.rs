//! Published bake times: `tests/data/tins.csv` holds public figures of recipes
//! that state them for two or more tins, collected from recipe leaflets,
//! charts and handbooks.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use ovenbell::bake::{Bake, Batter, Calibration, Shape};
use ovenbell::units::{Celsius, ExactMinutes, Millilitres};

/// Another kind of cake: no tin of it is used to judge the model.
pub const RICH: &str = "rich fruit cake";

/// A tin of a recipe, and the middle of its stated minutes.
pub struct Published {
    pub tin: String,
    pub bake: Bake,
    pub minutes: f64,
}

impl Published {
    /// The model calibrated on this tin.
    pub fn calibration(&self) -> Calibration {
        let minutes = ExactMinutes::new(self.minutes).unwrap();
        Calibration::new(self.bake, minutes, Batter::default()).unwrap()
    }
}

/// Every tin, by recipe.
pub fn published() -> BTreeMap<String, Vec<Published>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/tins.csv");
    let text = fs::read_to_string(path).unwrap();
    let mut recipes: BTreeMap<String, Vec<Published>> = BTreeMap::new();
    for line in text.lines().skip(1) {
        let cell: Vec<&str> = line.split(',').collect();
        let number = |i: usize| cell[i].parse::<f64>().unwrap();
        let shape = match cell[4] {
            "round" => Shape::round(number(5)),
            _ => Shape::rectangular(number(5), number(6)),
        };
        let bake = Bake {
            shape: shape.unwrap(),
            volume: Millilitres::new(number(7)).unwrap(),
            oven: Celsius::new(number(2)).unwrap(),
            fan: false,
        };
        let minutes = f64::midpoint(number(8), number(9));
        let tin = cell[3].to_owned();
        recipes.entry(cell[0].to_owned()).or_default().push(Published { tin, bake, minutes });
    }
    recipes
}

/// The recipes the model is judged by.
pub fn judged() -> BTreeMap<String, Vec<Published>> {
    let mut recipes = published();
    recipes.remove(RICH).expect("rich fruit cake is among them");
    recipes
}

/// Root mean square.
pub fn rms(errors: &[f64]) -> f64 {
    (errors.iter().map(|e| e * e).sum::<f64>() / errors.len() as f64).sqrt()
}

/// The median of |predicted/published − 1|, from ln of the ratio.
pub fn median_error(errors: &[f64]) -> f64 {
    let mut sizes: Vec<f64> = errors.iter().map(|e| (e.exp() - 1.0).abs()).collect();
    sizes.sort_by(f64::total_cmp);
    f64::midpoint(sizes[(sizes.len() - 1) / 2], sizes[sizes.len() / 2])
}

/// The share of predictions within a factor either way.
pub fn held(errors: &[f64], factor: f64) -> f64 {
    let within = errors.iter().filter(|e| e.abs() <= factor.ln() + 1e-12).count();
    within as f64 / errors.len() as f64
}

/// The least factor that holds such a share of them.
pub fn fitted(errors: &[f64], share: f64) -> f64 {
    let mut sizes: Vec<f64> = errors.iter().map(|e| e.abs()).collect();
    sizes.sort_by(f64::total_cmp);
    let at = (share * sizes.len() as f64).ceil() as usize;
    sizes[at.clamp(1, sizes.len()) - 1].exp()
}
