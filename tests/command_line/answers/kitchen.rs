//! Measures, tins and bakes.

use std::path::Path;

use super::{json, lesson, ovenbell, status, text, written};

#[test]
fn measures_are_converted() {
    let said = |args: &[&str]| text(&ovenbell(&[&["convert"], args].concat()).stdout);
    assert!(said(&["gas 4"]).contains("180 °C"));
    assert!(said(&["180 C", "--to", "fan"]).starts_with("180 °C = 160 °C fan"));
    assert!(said(&["1 tbsp", "--metric", "--to", "ml"]).starts_with("1 metric tbsp = 15 ml"));
    let answer = json(&ovenbell(&["convert", "2 cups", "--to", "ml", "--json"]));
    assert_eq!(answer["from"]["figure"], 2.0);
    assert_eq!(answer["answers"][0]["exact"], 473.176473);
    assert_eq!(answer["answers"][0]["kitchen"], 475.0);
    let weighed =
        json(&ovenbell(&["convert", "100 ml", "--density", "0.8", "--to", "g", "--json"]));
    assert_eq!(weighed["answers"][0]["exact"], 80.0);
    for (args, why) in [
        (&["2 elephants"][..], "is not understood"),
        (&["2 cups", "--to", "elephants"], "is no measure"),
        (&["2 cups", "--to", "g"], "--density"),
        (&["2 cups", "--to", "C"], "does not become"),
        (&["2 cups", "--to", "g", "--density", "nan"], "g/ml"),
        (&["gas 11"], "gas marks are"),
        (&["2 cups", "--to", "g", "--density", "1", "--of", "water"], "cannot be used"),
    ] {
        let output = ovenbell(&[&["convert"], args].concat());
        assert_eq!(status(&output), 2, "{args:?}");
        assert!(output.stdout.is_empty(), "{args:?}");
        assert!(text(&output.stderr).contains(why), "{}", text(&output.stderr));
    }
}

/// The recipe's own tin and the one asked about are two of the regression
/// values of the model (an independent implementation on SciPy roots):
/// 52.537260 and 41.801298 min, so 50 min become 50·41.801298/52.537260.
#[test]
fn a_tin_is_worked_out_from_another() {
    let known = ["tins", "--celsius", "180", "--own", "round:20cm", "--own-ml", "1000"];
    let asked = |more: &[&str]| ovenbell(&[&known, more].concat());
    let fifteen =
        ["--own-minutes", "50", "--tin", "round:15cm", "--ml", "500", "--height", "5cm", "--json"];
    let answer = json(&asked(&fifteen));
    let figure = |name: &str| answer[name].as_f64().unwrap();
    let minutes = 50.0 * 41.801298 / 52.537260;
    let near = |name: &str, wanted: f64| {
        assert!((figure(name) - wanted).abs() < 0.001, "{name}: {}", figure(name));
    };
    near("minutes", minutes);
    near("kappa", 50.0 / 52.537260);
    near("low80", minutes / 1.36);
    near("high80", minutes * 1.36);
    near("low90", minutes / 1.45);
    near("high90", minutes * 1.45);
    near("depth_mm", 500.0 / (std::f64::consts::PI * 7.5 * 7.5) * 10.0);
    near("fill", 500.0 / (std::f64::consts::PI * 7.5 * 7.5 * 5.0));
    assert!(figure("cool_minutes") > 30.0 && figure("cool_minutes") < 90.0);
    assert_eq!((&answer["tin"], &answer["count"]), (&"round:15cm".into(), &1.into()));
    assert_eq!(answer["source"], "computed");
    assert_eq!(answer["warnings"], serde_json::json!([]));

    let words = text(&asked(&fifteen[..6]).stdout);
    assert!(words.contains("check from 29, expect 40, at latest 55, and by the done test"));
    // Without a height nothing is said of filling; with a fan it is quicker.
    let fan = json(&asked(&[&fifteen[..6], &["--fan", "--json"]].concat()));
    assert!(fan["fill"].is_null());
    assert!(fan["minutes"].as_f64().unwrap() != figure("minutes"));
    // Minutes that are not those of such a cake, and a tin that runs over.
    let odd = ["--own-minutes", "150", "--tin", "round:15cm", "--ml", "900", "--height", "2in"];
    let odd = json(&asked(&[&odd[..], &["--json"]].concat()));
    let warnings = odd["warnings"].to_string();
    assert!(warnings.contains("2.86 times") && warnings.contains("runs over"), "{warnings}");
}

#[test]
fn nonsense_about_tins_is_a_finding_and_no_number() {
    let usual = [
        ("--celsius", "180"),
        ("--own", "round:20cm"),
        ("--own-ml", "1000"),
        ("--own-minutes", "50"),
        ("--tin", "round:15cm"),
        ("--ml", "500"),
        ("--height", "5cm"),
    ];
    let run = |flag: &str, value: &str| {
        let mut args = vec!["tins", "--json"];
        for (name, figure) in usual {
            args.extend([name, if name == flag { value } else { figure }]);
        }
        ovenbell(&args)
    };
    assert_eq!(status(&run("", "")), 0);
    for (flag, values) in [
        ("--celsius", &["96", "20", "-5", "401", "NaN", "inf", "hot"][..]),
        ("--own", &["round:0cm", "round:-1cm", "rect:20x", "tin", "round:nan", "round:9999cm"]),
        ("--tin", &["round:0cm", "round:-1cm", "rect:20x", "tin", "round:inf", "round:9999cm"]),
        ("--own-ml", &["0", "-1", "NaN", "inf", "1e9", "90000"]),
        ("--ml", &["0", "-1", "NaN", "inf", "1e9", "90000"]),
        ("--own-minutes", &["0", "-1", "NaN", "inf", "1441", "1e9"]),
        ("--height", &["0cm", "-1cm", "nan", "deep", "9999cm"]),
    ] {
        for value in values {
            let output = run(flag, value);
            assert_eq!(status(&output), 2, "{flag} {value}: {}", text(&output.stdout));
            assert!(output.stdout.is_empty(), "{flag} {value}");
            assert!(!output.stderr.is_empty(), "{flag} {value}");
        }
    }
    let said = text(&run("--ml", "0").stderr);
    assert!(said.contains("round:15cm") && said.contains("no depth"), "{said}");
    assert_eq!(status(&ovenbell(&["tins"])), 2);
}

#[test]
fn the_tin_table_in_json_has_what_it_promises() {
    let output = ovenbell(&["tins", &lesson("demo.ron"), "--recipe", "Lemon Bake", "--json"]);
    assert_eq!(status(&output), 0);
    let answer = json(&output);
    let tins = answer["tins"].as_array().unwrap();
    assert!(tins.len() > 3 && tins.iter().all(|t| t["recipe"] == "lemon bake"));
    for tin in tins {
        let figure = |name: &str| tin[name].as_f64().unwrap();
        assert!(figure("count") >= 1.0 && figure("depth_mm") > 5.0 && figure("fill") > 0.1);
        let ladder = ["low90", "low80", "minutes", "high80", "high90"].map(figure);
        assert!(ladder.is_sorted(), "{ladder:?}");
        assert!(figure("cool_minutes") > 0.0 && figure("kappa") > 0.0);
        let of_recipe = tin["of_recipe"].as_bool().unwrap();
        let source = if of_recipe { "from the library" } else { "computed" };
        assert_eq!(tin["source"], source);
    }
    let words = text(&ovenbell(&["tins", &lesson("demo.ron")]).stdout);
    assert!(words.contains("expect 26") && words.contains("by the done test"));
}

#[test]
fn tin_tables_of_the_library_and_of_a_recipe_by_itself() {
    let by_name = json(&ovenbell(&["tins", "--recipe", "skylight sponge", "--json"]));
    let file =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/library/recipes/skylight-sponge.ron");
    let by_file = json(&ovenbell(&["tins", file.to_str().unwrap(), "--json"]));
    assert_eq!(by_name, by_file);
    assert!(by_name["tins"].as_array().unwrap().len() > 5);
    assert_eq!(status(&ovenbell(&["tins"])), 2);
    assert_eq!(status(&ovenbell(&["tins", "--recipe", "no such cake"])), 2);
    assert_eq!(status(&ovenbell(&["tins", &lesson("demo.ron"), "--recipe", "no such cake"])), 2);
    assert_eq!(status(&ovenbell(&["tins", &lesson("demo.ron"), "--celsius", "180"])), 2);
}

#[test]
fn bakes_are_noted_and_gone_by() {
    let folder = tempfile::tempdir().unwrap();
    let table = folder.path().join("bakes.csv");
    let table = table.to_str().unwrap();
    let demo = std::fs::read_to_string(lesson("demo.ron")).unwrap();
    let unstated = demo.replacen("celsius: 180, minutes: (13, 14, 16)", "celsius: 180", 1);
    assert_ne!(demo, unstated);
    let path = written(&folder, "unstated.ron", &unstated);
    let row = || {
        let answer = json(&ovenbell(&[
            "tins",
            &path,
            "--recipe",
            "lemon bake",
            "--outcomes",
            table,
            "--json",
        ]));
        let tins = answer["tins"].as_array().unwrap().clone();
        tins.into_iter().find(|t| t["tin"] == "12 buns").unwrap()
    };
    assert_eq!(row()["source"], "computed");
    let took = |minutes: &str| {
        let args = ["took", &path, "--recipe", "Lemon bake", "--tin", "12 BUNS", "--minutes"];
        ovenbell(&[&args[..], &[minutes, "--oven", "Oven 2", "--outcomes", table]].concat())
    };
    for minutes in ["17", "17.5"] {
        assert_eq!(status(&took(minutes)), 0);
    }
    assert_eq!(row()["source"], "learned from 2 bakes");
    assert_eq!(row()["took"], serde_json::json!([17.0, 17.5]));
    for nonsense in ["0", "-3", "NaN", "soon", "9999"] {
        assert_eq!(status(&took(nonsense)), 2, "{nonsense}");
    }
    assert_eq!(std::fs::read_to_string(table).unwrap().lines().count(), 3);
    let args = ["took", &path, "--recipe", "lemon bake", "--tin", "a bucket", "--minutes", "17"];
    assert_eq!(status(&ovenbell(&args)), 2);
}
