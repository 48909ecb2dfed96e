//! Figures of the library and the model against sources outside the project:
//! hand-worked values of the trade, EU egg grades, NIST factors, gas marks.

use std::f64::consts::PI;

use ovenbell::file::format::{FormShape, MeasureShape, RecipeShape, RoleShape};
use ovenbell::file::library;
use ovenbell::model::{Amount, EGG_EDIBLE_SHARE, GasMark, MEDIUM_EGG_GRAMS, Measure};

fn recipe(name: &str) -> RecipeShape {
    library::recipe(name).unwrap().expect(name)
}

/// Grams of a role, with a millilitre weighing `density` grams.
fn grams(recipe: &RecipeShape, role: RoleShape, density: f64) -> f64 {
    recipe
        .ingredients
        .iter()
        .filter(|i| i.role == Some(role))
        .map(|i| match i.unit {
            Some(MeasureShape::Millilitre) => density * i.amount,
            Some(unit) => Measure::from(unit).grams(i.amount),
            None => i.amount,
        })
        .sum()
}

/// Source: common practice of the trade, own recipes; percentages worked out by
/// hand when the recipes were written, rounded to whole ones. Liquids were
/// weighed there as water in some recipes and as milk (1.03 g/ml) in others, so
/// a percentage of liquid lies between the two.
#[test]
fn recipes_balance_as_worked_out_by_hand() {
    use RoleShape::{Egg, Fat, Flour, Liquid, Raising, Sugar, Syrup};
    let table = [
        // name, fat, sugar, syrup, egg, liquid, raising
        ("Dockside ginger traybake", [40.0, 40.0, 60.0, 25.0, 52.0, 2.5]),
        ("Skylight sponge", [0.0, 100.0, 0.0, 200.0, 0.0, 0.0]),
        ("Harbour lemon traybake", [100.0, 100.0, 0.0, 100.0, 15.0, 4.0]),
        ("Market savoury muffins", [28.0, 0.0, 0.0, 25.0, 92.0, 2.0]),
        ("Tower scones", [25.0, 12.5, 0.0, 0.0, 62.0, 0.0]),
        ("Harbour rolls", [4.0, 0.0, 0.0, 0.0, 62.0, 2.0]),
        ("Shoreline shortbread", [67.0, 33.0, 0.0, 0.0, 0.0, 0.0]),
        ("Orchard crumble", [50.0, 50.0, 0.0, 0.0, 0.0, 0.0]),
        ("Quayside pizza", [23.0, 0.0, 0.0, 0.0, 59.0, 0.0]),
        ("Quayside calzone", [5.0, 0.0, 0.0, 0.0, 62.0, 2.0]),
        ("Clear-day buns", [40.0, 80.0, 0.0, 0.0, 130.0, 4.7]),
    ];
    for (name, stated) in table {
        let recipe = recipe(name);
        for (role, stated) in [Fat, Sugar, Syrup, Egg, Liquid, Raising].into_iter().zip(stated) {
            let percent =
                |density| 100.0 * grams(&recipe, role, density) / grams(&recipe, Flour, density);
            let (least, most) = (percent(1.0) - 0.51, percent(1.03) + 0.51);
            assert!(least <= stated && stated <= most, "{name}: {role:?} {least} to {most}");
        }
    }
}

/// Source: common practice of the trade; depths measured up by hand as volume
/// over area for each recipe's tins, to 0.1 cm. Densities about 1.1 g/ml melted,
/// 0.92 all-in-one, 1.16 pressed shortbread; a three-egg foam 790 ml.
#[test]
fn mixtures_stand_as_deep_as_stated() {
    let depths = [
        ("Dockside ginger traybake", "20 cm square tin", 1.5),
        ("Dockside ginger traybake", "18 cm square tin", 1.8),
        ("Dockside ginger traybake", "450 ml foil tray", 1.7),
        ("Dockside ginger traybake", "1 lb loaf tin", 4.6),
        ("Skylight sponge", "18 cm sandwich tin", 1.6),
        ("Skylight sponge", "Swiss roll tin", 1.6),
        ("Skylight sponge", "20 cm deep round tin", 2.5),
        ("Harbour lemon traybake", "18 cm square tin", 1.4),
        ("Harbour lemon traybake", "450 ml foil tray", 1.3),
        ("Harbour lemon traybake", "20 cm square tin", 1.7),
        ("Harbour lemon traybake", "18 cm sandwich tin", 1.3),
        ("Shoreline shortbread", "18 cm square tin", 0.8),
        ("Shoreline shortbread", "18 cm sandwich tin", 1.0),
    ];
    for (name, tin, stated) in depths {
        let recipe = recipe(name);
        let choice = recipe.tins.iter().find(|t| t.tin == tin).unwrap();
        let square_mm = match library::tin(tin).unwrap().unwrap().form.unwrap() {
            FormShape::Round { across_mm } => PI / 4.0 * across_mm * across_mm,
            FormShape::Rect { long_mm, wide_mm } => long_mm * wide_mm,
            form => panic!("{tin} is {form:?}"),
        };
        let tins = f64::from(i32::try_from(choice.count.unwrap_or(1)).unwrap());
        let batch_ml = recipe.batter_ml.unwrap() * choice.batch.unwrap_or(1.0);
        let depth_cm = 100.0 * batch_ml / (square_mm * tins);
        assert!((depth_cm - stated).abs() <= 0.05 + 1e-9, "{name}, {tin}: {depth_cm} cm");
    }
}

/// Source: Commission Regulation (EC) No 589/2008, article 4: small under 53 g,
/// medium 53 g and under 63 g, large 63 g and under 73 g, in the shell. The
/// edible share, about 0.89, is from memory.
#[test]
fn a_medium_egg_lies_in_the_medium_grade() {
    let edible = |in_shell: f64| EGG_EDIBLE_SHARE * in_shell;
    assert!(edible(53.0) <= MEDIUM_EGG_GRAMS && MEDIUM_EGG_GRAMS < edible(63.0));
    assert!(MEDIUM_EGG_GRAMS < edible(63.0) && edible(63.0) < edible(73.0));
    assert_eq!(Measure::Egg.one(), Amount::Grams(MEDIUM_EGG_GRAMS));
}

/// Source: NIST Special Publication 811 (2008), appendix B: exact factors of the
/// pound, the ounce (1/16 pound) and the US cup (1/16 US gallon of 231 cubic
/// inches of 2.54 cm).
#[test]
fn units_are_those_of_nist() {
    let pound = 453.592_37;
    let cup = 231.0 * 2.54_f64.powi(3) / 16.0;
    assert_eq!(Measure::Pound.one(), Amount::Grams(pound));
    assert_eq!(Measure::Ounce.one(), Amount::Grams(pound / 16.0));
    let Amount::Millilitres(ours) = Measure::UsCup.one() else { panic!("a cup is a volume") };
    assert!((ours - cup).abs() < 1e-9);
    assert_eq!(Measure::Kilogram.one(), Amount::Grams(1000.0));
    assert_eq!(Measure::Litre.one(), Amount::Millilitres(1000.0));
}

/// Source: customary UK oven tables, from memory; they agree on these.
#[test]
fn gas_marks_are_the_customary_ones() {
    for (mark, celsius) in
        [(1, 140.0), (2, 150.0), (4, 180.0), (5, 190.0), (6, 200.0), (7, 220.0), (8, 230.0)]
    {
        let nearest = GasMark::nearest(celsius);
        assert_eq!((nearest.mark, nearest.celsius), (f64::from(mark), celsius));
    }
    // Mark 3 is 160 to 170 by table; recipes for 170 °C call it 3.
    let three = GasMark::nearest(170.0);
    assert_eq!(three.mark, 3.0);
    assert_eq!(three.range, (160.0, 170.0));
}

/// Source: places on a shelf worked out by hand from rims and 2 cm of air,
/// shelves of 42 x 36, 38 x 32 and 45 x 38 cm. Only tins for which rows and
/// columns are best: seven loaf tins stand in no such grid, nor do round ones.
#[test]
fn shelves_take_as_many_tins_as_worked_out_by_hand() {
    let shelves = [(420, 360), (380, 320), (450, 380)];
    for (tin, stated) in [
        ("20 cm square tin", [1, 1, 2]),
        ("18 cm square tin", [2, 1, 2]),
        ("12-hole bun tray", [1, 1, 1]),
        ("6-hole muffin tray", [2, 2, 2]),
        ("Swiss roll tin", [2, 1, 2]),
        ("450 ml foil tray", [6, 4, 6]),
        ("baking sheet", [1, 1, 1]),
    ] {
        let rim = library::tin(tin).unwrap().unwrap().rim_mm;
        let (long, wide) = (rim.0 as i32, rim.1 as i32);
        let grid =
            |(w, d): (i32, i32), a: i32, b: i32| ((w + 20) / (a + 20)) * ((d + 20) / (b + 20));
        let places = shelves.map(|s| grid(s, long, wide).max(grid(s, wide, long)));
        assert_eq!(places, stated, "{tin}");
    }
}
