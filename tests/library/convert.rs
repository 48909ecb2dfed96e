//! Kitchen measures against published factors, and back again.

use ovenbell::convert::density::SUBSTANCES;
use ovenbell::convert::{ConvertError, Converted, Density, Kind, Quantity, Spoons, Unit, convert};
use ovenbell::model::EggSize;
use proptest::prelude::*;

const US: Spoons = Spoons::Us;
const METRIC: Spoons = Spoons::Metric;

fn read(text: &str) -> Quantity {
    Quantity::read(text, US).unwrap()
}

fn unit(name: &str) -> Unit {
    Unit::named(name, US).unwrap()
}

fn to(text: &str, name: &str) -> Converted {
    convert(read(text), Some(unit(name)), None).unwrap()
}

fn exact(text: &str, name: &str) -> f64 {
    read(text).exactly(unit(name), None).unwrap().figure
}

fn kitchen(text: &str, name: &str) -> f64 {
    to(text, name).answers[0].kitchen
}

/// NIST Special Publication 811 (2008), appendix B.8 prints factors to seven
/// digits, exact ones in bold; the exact values behind the others follow from
/// the gallon of 231 cubic inches and the pound of 0.453 592 37 kg.
#[test]
fn factors_are_those_of_nist() {
    let printed = [
        ("1 us cup", "ml", 2.365_882e2),
        ("1 us fl oz", "ml", 2.957_353e1),
        ("1 uk fl oz", "ml", 2.841_306e1),
        ("1 us tbsp", "ml", 1.478_676e1),
        ("1 us tsp", "ml", 4.928_922),
        ("1 oz", "g", 2.834_952e1),
        ("1 lb", "g", 4.535_924e2),
        ("1 in", "mm", 2.54e1),
    ];
    for (one, base, factor) in printed {
        let found = exact(one, base);
        // Half of the seventh digit.
        assert!((found / factor - 1.0).abs() < 5e-7, "{one}: {found} is not {factor}");
    }
    let in_full = [
        ("1 lb", "kg", 0.453_592_37),
        ("1 oz", "g", 28.349_523_125),
        ("1 us cup", "ml", 236.588_236_5),
        ("1 us tbsp", "ml", 14.786_764_781_25),
        ("1 us tsp", "ml", 4.928_921_593_75),
        ("1 in", "cm", 2.54),
        ("1 metric cup", "ml", 250.0),
        ("1 metric tbsp", "ml", 15.0),
        ("1 metric tsp", "ml", 5.0),
    ];
    for (one, base, factor) in in_full {
        let found = exact(one, base);
        assert!((found / factor - 1.0).abs() < 1e-15, "{one}: {found} is not {factor}");
    }
    // Degrees Fahrenheit: (t − 32)/1.8 (the same, appendix B.8).
    assert!((exact("350 F", "C") - 176.666_666_666_666_66).abs() < 1e-12);
    assert_eq!(exact("180 C", "F"), 356.0);
}

/// Customary UK table, from memory, and where tables differ (½ and 3).
#[test]
fn ovens_by_four_scales() {
    for (mark, celsius, fahrenheit, fan) in [
        ("1", 140.0, 275.0, 120.0),
        ("2", 150.0, 300.0, 130.0),
        ("4", 180.0, 350.0, 160.0),
        ("5", 190.0, 375.0, 170.0),
        ("6", 200.0, 400.0, 180.0),
        ("7", 220.0, 425.0, 200.0),
        ("8", 230.0, 450.0, 210.0),
        ("9", 240.0, 475.0, 220.0),
    ] {
        let gas = format!("gas {mark}");
        assert_eq!(kitchen(&gas, "C"), celsius);
        assert_eq!(kitchen(&gas, "F"), fahrenheit);
        assert_eq!(kitchen(&gas, "fan"), fan);
        assert_eq!(kitchen(&format!("{celsius} C"), "gas").to_string(), mark);
        assert_eq!(kitchen(&format!("{fan} fan"), "gas").to_string(), mark);
        assert_eq!(kitchen(&format!("{fahrenheit} F"), "gas").to_string(), mark);
    }
    for (mark, range) in [("gas ½", (120.0, 130.0)), ("gas mark 3", (160.0, 170.0))] {
        let found = to(mark, "C");
        assert_eq!(found.answers[0].range, Some(range));
        assert!(found.to_string().contains("tables differ on it"), "{found}");
    }
    assert_eq!(to("gas 4", "C").answers[0].range, None);
    let fan = to("180 C", "fan");
    assert_eq!(fan.answers[0].exact.figure, 160.0);
    assert_eq!(fan.answers[0].range, Some((155.0, 160.0)));
    assert!(fan.to_string().contains("some tables say 25"), "{fan}");
    // Straight there or by way of °C.
    assert_eq!(exact("gas 3", "fan"), 145.0);
}

/// Sizes: Delegated Regulation (EU) 2023/2465; 89 % eaten, from memory.
#[test]
fn eggs_by_size() {
    let medium = to("3 eggs M", "g").answers[0];
    assert!((medium.exact.figure - 3.0 * 58.0 * 0.89).abs() < 1e-9);
    let (low, high) = medium.range.unwrap();
    assert!((low - 3.0 * 53.0 * 0.89).abs() < 1e-9 && (high - 3.0 * 63.0 * 0.89).abs() < 1e-9);
    assert_eq!(exact("3 eggs", "g"), 150.0);
    assert_eq!(to("2 large eggs", "g").from.unit, Unit::Egg(Some(EggSize::Large)));
    assert_eq!(to("2 eggs XL", "g").answers[0].range, None, "the size has no upper bound");
    // 130 g are 2.6 eggs of 50 g: two and a half, or three whole ones.
    let eggs = to("130 g", "eggs").answers[0];
    assert_eq!((eggs.kitchen, eggs.whole_eggs), (2.5, Some(3.0)));
    assert_eq!(to("100 g", "eggs").answers[0].whole_eggs, None);
}

#[test]
fn volume_becomes_weight_by_a_density_alone() {
    let milk = read("250 ml");
    let bare = convert(milk, Some(Unit::Gram), None).unwrap_err();
    assert!(matches!(bare, ConvertError::NeedsDensity { .. }), "{bare}");
    assert!(bare.to_string().contains("melted batter"), "{bare}");
    let with = |density| convert(milk, Some(Unit::Gram), Some(density)).unwrap();
    let own = with(Density::new(0.9).unwrap());
    assert_eq!(own.answers[0].exact.figure, 225.0);
    assert!(own.notes[0].contains("0.9 g/ml (as given)"), "{own}");
    let water = with(Density::of("Water").unwrap());
    assert_eq!(water.answers[0].exact.figure, 250.0);
    let melted = with(Density::of("melted").unwrap());
    let (low, high) = melted.answers[0].range.unwrap();
    assert!((low - 250.0).abs() < 1e-9 && (high - 275.0).abs() < 1e-9, "{melted}");
    for bad in [0.0, -1.0, 100.0, f64::NAN, f64::INFINITY] {
        assert!(Density::new(bad).is_err(), "{bad}");
    }
    assert!(Density::of("feathers").is_err());
}

/// Source: United States Department of Agriculture, National Nutrient Database
/// for Standard Reference, household weights of a cup in grams; the name says how
/// it is filled where that matters.
#[test]
fn a_cup_of_the_larder_weighs_what_is_published() {
    for (name, published) in [
        ("flour", 125.0),
        ("granulated sugar", 200.0),
        ("icing sugar", 120.0),
        ("brown sugar", 220.0),
        ("butter", 227.0),
        ("oats", 81.0),
        ("cocoa", 86.0),
    ] {
        let density = Density::of(name).unwrap();
        let cup = convert(read("1 us cup"), Some(unit("g")), Some(density)).unwrap();
        let found = cup.answers[0].exact.figure;
        // Densities have two digits.
        assert!((found / published - 1.0).abs() < 0.015, "{name}: {found} g");
        assert!(cup.notes.iter().any(|note| note.contains("USDA")), "{name}: {:?}", cup.notes);
    }
    // Loosely filled or pressed down, sifted or not: the range says so.
    let range = |name: &str| {
        let cup = convert(read("1 us cup"), Some(unit("g")), Density::of(name).ok()).unwrap();
        cup.answers[0].range.unwrap()
    };
    assert!(range("brown").0 < 150.0 && range("icing").0 < 101.0);
    for from_memory in ["caster sugar", "golden syrup"] {
        let of = Density::of(from_memory).unwrap().of.unwrap();
        assert!(of.source.contains("from memory"), "{of:?}");
    }
}

#[test]
fn a_word_that_only_one_has_is_enough() {
    let named = |word: &str| Density::of(word).ok().and_then(|d| d.of).map(|s| s.name);
    assert_eq!(named("Syrup"), Some("golden syrup"));
    assert_eq!(named("caster"), Some("caster sugar"));
    for several in ["sugar", "batter", ""] {
        assert_eq!(named(several), None, "{several}");
    }
    for substance in SUBSTANCES {
        let (low, high) = substance.range;
        assert!(low < high && low <= substance.density && substance.density <= high);
        assert!(!substance.source.is_empty() && named(substance.name) == Some(substance.name));
    }
}

#[test]
fn cups_and_spoons_are_whose_they_are_said_to_be() {
    let ml = |text, spoons| Quantity::read(text, spoons).unwrap();
    assert_eq!(ml("2 cups", US).unit, Unit::Cup(US));
    assert_eq!(ml("2 cups", METRIC).unit, Unit::Cup(METRIC));
    assert_eq!(ml("1 us tbsp", METRIC).unit, Unit::Tablespoon(US));
    let said = to("2 cups", "ml").to_string();
    assert!(said.starts_with("2 US cups = 475 ml (473.176473 exactly)\n"), "{said}");
    assert!(said.contains("1 metric cup is 250 ml"), "{said}");
}

#[test]
fn nonsense_is_refused() {
    for bad in [
        "",
        "4",
        "gas",
        "two cups",
        "2 elephants",
        "-3 g",
        "NaN g",
        "inf C",
        "1e9 g",
        "2 cups 3",
        "3 eggs blue",
    ] {
        let fault = Quantity::read(bad, US).unwrap_err();
        assert!(matches!(fault, ConvertError::NotUnderstood(_)), "{bad}: {fault}");
        assert!(fault.to_string().contains("\"2 cups\""), "{fault}");
    }
    assert_eq!(Quantity::read("0 g", US), Err(ConvertError::Nothing));
    assert_eq!(Quantity::read("gas 10", US), Err(ConvertError::NotAMark(10.0)));
    assert_eq!(Quantity::read("gas 2.5", US), Err(ConvertError::NotAMark(2.5)));
    for huge in ["1000 kg", "1000 l", "100 m", "90000 in", "9000 C", "99999999999999999999 g"] {
        assert!(Quantity::read(huge, US).is_err(), "{huge}");
    }
    let apart = |text: &str, name| read(text).exactly(unit(name), None).unwrap_err();
    for (text, name) in [("2 cups", "C"), ("180 C", "g"), ("9 in", "ml"), ("1 lb", "cm")] {
        assert!(matches!(apart(text, name), ConvertError::DifferentKinds { .. }));
    }
    assert_eq!(apart("60 C", "gas"), ConvertError::NoMark(60.0));
}

const PROPORTIONAL: [Unit; 20] = [
    Unit::Gram,
    Unit::Kilogram,
    Unit::Ounce,
    Unit::Pound,
    Unit::Egg(None),
    Unit::Egg(Some(EggSize::Small)),
    Unit::Egg(Some(EggSize::ExtraLarge)),
    Unit::Millilitre,
    Unit::Litre,
    Unit::Cup(US),
    Unit::Cup(METRIC),
    Unit::Tablespoon(US),
    Unit::Tablespoon(METRIC),
    Unit::Teaspoon(US),
    Unit::Teaspoon(METRIC),
    Unit::UsFluidOunce,
    Unit::UkFluidOunce,
    Unit::Millimetre,
    Unit::Centimetre,
    Unit::Inch,
];
const OVENS: [Unit; 3] = [Unit::Celsius, Unit::Fahrenheit, Unit::Fan];

fn there_and_back(figure: f64, from: Unit, to: Unit, density: Option<Density>) -> f64 {
    let there = Quantity { figure, unit: from }.exactly(to, density).unwrap();
    there.exactly(from, density).unwrap().figure
}

proptest! {
    #[test]
    fn round_trips_are_exact(
        figure in 1e-3..1e5_f64, from in 0..20_usize, to in 0..20_usize, density in 0.1..2.0_f64,
    ) {
        let (from, to) = (PROPORTIONAL[from], PROPORTIONAL[to]);
        let length = |u: Unit| u.kind() == Kind::Length;
        prop_assume!(length(from) == length(to));
        let back = there_and_back(figure, from, to, Some(Density::new(density).unwrap()));
        prop_assert!((back / figure - 1.0).abs() < 1e-12, "{}", back);
    }

    #[test]
    fn ovens_go_there_and_back(celsius in 40.0..300.0_f64, from in 0..3_usize, to in 0..3_usize) {
        let here = Quantity { figure: celsius, unit: Unit::Celsius };
        let here = here.exactly(OVENS[from], None).unwrap();
        let back = there_and_back(here.figure, here.unit, OVENS[to], None);
        prop_assert!((back / here.figure - 1.0).abs() < 1e-12, "{}", back);
    }

    /// Whatever is written, the answer is a plain number or there is none.
    #[test]
    fn nonsense_is_never_a_number(text in "[0-9a-z ./½°,-]{0,12}( (g|cups|C|eggs M|gas|in))?") {
        if let Ok(quantity) = Quantity::read(&text, US) {
            prop_assert!(quantity.figure.is_finite() && quantity.figure >= 0.0);
            for answer in convert(quantity, None, None).unwrap().answers {
                prop_assert!(answer.exact.figure.is_finite() && answer.kitchen.is_finite());
            }
        }
    }

    /// A kitchen's figure is near the exact one, and what is written can be
    /// read again as it stands.
    #[test]
    fn kitchen_figures_are_near_and_can_be_read(figure in 0.2..95.0_f64, from in 0..20_usize) {
        let from = Quantity { figure, unit: PROPORTIONAL[from] };
        for answer in convert(from, None, None).unwrap().answers {
            let off = (answer.kitchen / answer.exact.figure - 1.0).abs();
            prop_assert!(off <= 0.12 + 1e-9, "{}", answer);
            let kitchen = Quantity { figure: answer.kitchen, ..answer.exact };
            let written = kitchen.to_string();
            let again = Quantity::read(&written, US).unwrap();
            prop_assert_eq!(again.unit, kitchen.unit);
            // Two decimals, or ten digits of what is less.
            prop_assert!((again.figure - kitchen.figure).abs() < 0.005 + 1e-9, "{}", written);
        }
    }
}
