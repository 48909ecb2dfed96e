//! The program as it is run: what it prints, and its exit status.

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::Duration;

pub(super) fn ovenbell(args: &[&str]) -> Output {
    // Bakes that whoever runs the tests has noted are none of their business.
    let nowhere = Path::new(env!("CARGO_TARGET_TMPDIR")).join("no-data");
    let mut program = Command::new(env!("CARGO_BIN_EXE_ovenbell"));
    program.args(args).env("OVENBELL_DATA", nowhere).output().unwrap()
}

pub(super) fn lesson(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name);
    path.to_str().unwrap().to_owned()
}

pub(super) fn status(output: &Output) -> i32 {
    output.status.code().unwrap()
}

pub(super) fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

pub(super) fn json(output: &Output) -> serde_json::Value {
    serde_json::from_slice(&output.stdout).unwrap()
}

pub(super) fn written(folder: &tempfile::TempDir, name: &str, contents: &str) -> String {
    let path: PathBuf = folder.path().join(name);
    std::fs::write(&path, contents).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn exit_status_tells_how_it_went() {
    let few = ["--decodings", "200"];
    let plan = |name: &str| ovenbell(&[&["plan", &lesson(name)], &few[..]].concat());
    assert_eq!(status(&plan("a-scones-hour.ron")), 0);
    assert_eq!(status(&plan("f-lemon-all-in-one.ron")), 0, "tight is in time");
    assert_eq!(status(&plan("c-rolls-single.ron")), 1);
    assert_eq!(status(&plan("no-such-lesson.ron")), 2);
    assert_eq!(status(&ovenbell(&["plan"])), 2);
    assert_eq!(status(&ovenbell(&["bake"])), 2);
    assert_eq!(status(&ovenbell(&["plan", &lesson("demo.ron"), "--within", "soon"])), 2);
    assert_eq!(status(&ovenbell(&["--help"])), 0);
}

#[test]
fn the_answer_in_json_has_what_it_promises() {
    let output = ovenbell(&["plan", &lesson("demo.ron"), "--json", "--decodings", "2000"]);
    let answer = json(&output);
    for field in [
        "lesson",
        "verdict",
        "served",
        "of",
        "groups",
        "steps",
        "loads",
        "class_steps",
        "objective",
        "proved",
        "assumed",
        "first_plan_ms",
        "elapsed_ms",
    ] {
        assert!(answer.get(field).is_some(), "no {field}");
    }
    assert_eq!(answer["verdict"], "fits");
    assert_eq!(answer["groups"].as_array().unwrap().len(), 8);
    for field in ["name", "verdict", "tin", "method", "departure", "ready", "spare", "by", "reason"]
    {
        assert!(answer["groups"][0].get(field).is_some(), "no {field} of a group");
    }
    for field in ["group", "step", "pupils", "start", "end"] {
        assert!(answer["steps"][0].get(field).is_some(), "no {field} of a step");
    }
    for load in answer["loads"].as_array().unwrap() {
        let round = load["tin"].as_str().unwrap().contains("sandwich");
        let corner: &[&str] = &["x_mm", "y_mm", "turned"];
        let (place, other) = if round {
            (&["centre_x_mm", "centre_y_mm"][..], corner)
        } else {
            (corner, &["centre_x_mm", "centre_y_mm"][..])
        };
        let always = ["oven", "shelf", "group", "tin", "in", "out", "celsius", "dial"];
        for field in always.iter().chain(place) {
            assert!(load.get(field).is_some(), "no {field} of a load");
        }
        assert!(other.iter().all(|field| load.get(field).is_none()), "{load}");
    }
    for field in ["served", "departures", "shortfall", "calls", "latest_ready", "sum_ready", "ends"]
    {
        assert!(answer["objective"].get(field).is_some(), "no {field} of the objective");
    }
    // Two sandwich tins a sponge, one tin for each of the others.
    assert_eq!(answer["loads"].as_array().unwrap().len(), 14);
}

#[test]
fn a_kept_plan_is_judged_again() {
    let folder = tempfile::tempdir().unwrap();
    let kept = folder.path().join("plan.ron");
    let kept = kept.to_str().unwrap();
    let few = ["--decodings", "300", "--save", kept];
    assert_eq!(status(&ovenbell(&[&["plan", &lesson("demo.ron")], &few[..]].concat())), 0);
    let judged = ovenbell(&["check", &lesson("demo.ron"), "--plan", kept]);
    assert_eq!(status(&judged), 0, "{}", text(&judged.stderr));

    let plan = std::fs::read_to_string(kept).unwrap();
    let whisk = plan.lines().find(|l| l.contains("electric whisk")).unwrap();
    let bent = written(&folder, "bent.ron", &plan.replace(whisk, ""));
    let judged = ovenbell(&["check", &lesson("demo.ron"), "--plan", &bent, "--json"]);
    assert_eq!(status(&judged), 1);
    let breaches = json(&judged);
    assert_eq!(breaches["ok"], false);
    assert_eq!(breaches["breaches"][0]["rule"], "kit");

    let other = ovenbell(&["check", &lesson("a-scones-hour.ron"), "--plan", kept]);
    assert_eq!(status(&other), 2, "a plan of another lesson names what is not there");
}

#[test]
fn what_is_wrong_with_a_file_is_said_with_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let demo = std::fs::read_to_string(lesson("demo.ron")).unwrap();
    let broken = demo.replacen("recipe: \"whisked sponge\"", "recipe: \"wisked sponge\"", 1);
    let line = 1 + broken.lines().position(|l| l.contains("wisked")).unwrap();
    let path = written(&folder, "broken.ron", &broken);
    for command in ["plan", "check"] {
        let output = ovenbell(&[command, &path]);
        assert_eq!(status(&output), 2);
        let said = text(&output.stderr);
        assert!(said.contains(&format!("broken.ron:{line}:")), "{said}");
        assert!(said.contains("whisked sponge"), "no suggestion in {said}");
    }
    let output = ovenbell(&["check", &path, "--json"]);
    assert_eq!(json(&output)["findings"][0]["line"], line);
    assert_eq!(std::fs::read_to_string(&path).unwrap(), broken, "the file was touched");
}

#[test]
fn the_same_seed_and_decodings_print_the_same_plan() {
    let answer = |seed: &str| {
        let path = lesson("demo.ron");
        let mut answer =
            json(&ovenbell(&["plan", &path, "--json", "--decodings", "700", "--seed", seed]));
        answer.as_object_mut().unwrap().retain(|field, _| !field.ends_with("_ms"));
        answer
    };
    assert_eq!(answer("4"), answer("4"));
}

#[test]
fn where_no_window_can_be_opened_the_plan_is_told_in_words() {
    let output = Command::new(env!("CARGO_BIN_EXE_ovenbell"))
        .arg("--forget")
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .output()
        .unwrap();
    assert_eq!(status(&output), 0, "{}", text(&output.stderr));
    assert!(text(&output.stdout).contains("All eight groups are out by the bell."));
}

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

#[test]
fn why_says_what_stands_in_the_way() {
    let why = |name: &str, more: &[&str]| ovenbell(&[&["why", &lesson(name)], more].concat());
    let few = ["--decodings", "300", "--json"];
    let answer = why("d-sponges-gas.ron", &few);
    assert_eq!(status(&answer), 1);
    let answer = json(&answer);
    let groups = answer["groups"].as_array().unwrap();
    assert!(groups.len() >= 4 && groups.len() < 20);
    assert_eq!(answer["lesson"], "A sponge each in four gas ovens");
    assert_eq!(groups[0]["verdict"], "cannot-all");
    assert_eq!(groups[0]["by"], "turns");
    assert_eq!(groups[0]["proved"], true);
    assert!(groups[0]["sum"].as_str().unwrap().contains("= 65, of 60"));
    for field in ["group", "choice", "rules", "sentence", "assumed", "smallest_set", "tried"] {
        assert!(groups[0].get(field).is_some(), "no {field}");
    }

    let served = why("d-sponges-gas.ron", &["--decodings", "300", "--group", "Pupil 1"]);
    assert_eq!(status(&served), 0);
    assert!(text(&served.stdout).contains("It is out by the bell, "), "{}", text(&served.stdout));
    assert_eq!(status(&why("a-scones-hour.ron", &few)), 0, "nobody is left out");
}

#[test]
fn why_not_in_that_tin() {
    let why = |more: &[&str]| {
        ovenbell(&[&["why", &lesson("demo.ron"), "--decodings", "2000"], more].concat())
    };
    let tin = ["--group", "Unit 5", "--tin", "20 cm square tin"];
    let answer = why(&[&tin[..], &["--json"]].concat());
    assert_eq!(status(&answer), 1, "{}", text(&answer.stderr));
    let answer = json(&answer);
    let groups = answer["groups"].as_array().unwrap();
    assert_eq!(groups.len(), 1);
    assert_eq!((&groups[0]["group"], &groups[0]["choice"]), (&tin[1].into(), &tin[3].into()));
    assert!(!groups[0]["sentence"].as_str().unwrap().is_empty());
    assert_eq!(status(&why(&["--group", "Unit 5", "--tin", "12 buns"])), 0);

    let unknown = why(&["--group", "Unit 99"]);
    assert_eq!(status(&unknown), 2);
    assert!(text(&unknown.stderr).contains("Unit 1, Unit 2"), "{}", text(&unknown.stderr));
    let unknown = why(&["--tin", "bucket"]);
    assert_eq!(status(&unknown), 2);
    assert!(text(&unknown.stderr).contains("12 buns"), "{}", text(&unknown.stderr));
}

#[test]
fn changes_are_told_with_what_they_cost_and_ask() {
    let changes = |name: &str, more: &[&str]| {
        ovenbell(&[&["changes", &lesson(name), "--most", "2"], more].concat())
    };
    let answer = changes("e-ginger-square.ron", &["--json"]);
    assert_eq!(status(&answer), 0);
    let answer = json(&answer);
    assert_eq!(answer["enough"], "offered");
    let first = &answer["changes"][0];
    for field in ["change", "cost", "served", "of", "latest_ready", "proved", "asks", "parts"] {
        assert!(first.get(field).is_some(), "no {field}");
    }
    assert_eq!(first["served"], 10);
    assert!(first["change"].as_str().unwrap().contains("12 buns"));
    assert_eq!(first["parts"].as_array().unwrap().len(), 2);

    let told = changes("f-lemon-creamed.ron", &[]);
    assert!(text(&told.stdout).contains("1. Lemon traybake in 12 buns"), "{}", text(&told.stdout));
    let fits = changes("a-scones-hour.ron", &[]);
    assert_eq!(status(&fits), 0);
    assert!(text(&fits.stdout).contains("nothing need change"));
}

#[test]
fn a_day_is_planned_and_gone_on_with() {
    let folder = tempfile::tempdir().unwrap();
    let [day, plan] = ["day.ron", "plan.ron"].map(|name| folder.path().join(name));
    let [day, plan] = [day.to_str().unwrap(), plan.to_str().unwrap()];
    let few = ["--decodings", "500"];
    let keep = ["--save", day, "--save-plan", plan, "--at", "10:09"];
    let absent = ["today", &lesson("demo.ron"), "--absent", "Unit 3"];
    let output = ovenbell(&[&absent[..], &few, &keep].concat());
    assert_eq!(status(&output), 0, "{}", text(&output.stderr));
    let told = text(&output.stdout);
    for said in [
        "10:09 A pupil of Unit 3 is absent: one goes on.",
        "All eight groups are out by the bell.",
        "All others keep their times.",
    ] {
        assert!(told.contains(said), "{said} is missing from\n{told}");
    }
    assert!(told.lines().all(|l| l.chars().count() <= 100));
    let kept = std::fs::read_to_string(day).unwrap();
    assert!(kept.contains("// Lemon bakes"), "comments stay");

    let on = ["today", day, "--plan", plan, "--joined", "Unit 1+Unit 2", "--json"];
    let output = ovenbell(&[&on[..], &few].concat());
    assert_eq!(status(&output), 0, "{}", text(&output.stderr));
    let answer = json(&output);
    for field in ["lesson", "outcome", "next", "verdict", "served", "of", "ready", "others", "kept"]
    {
        assert!(answer.get(field).is_some(), "no {field}");
    }
    assert_eq!(answer["happened"][0]["at"], "10:09");
    assert_eq!(answer["happened"][1]["at"], serde_json::Value::Null);
    assert_eq!(answer["spare_sets"], 1);
    assert_eq!(answer["changes"][0]["group"], "Unit 1");
    assert_eq!(answer["changes"][0]["change"], "Unit 1 works with Unit 2.");
    assert_eq!(answer["kept"]["all"], answer["kept"]["others"]);
}

#[test]
fn what_cannot_happen_is_refused_with_its_reason() {
    let today = |what: &[&str]| ovenbell(&[&["today", &lesson("demo.ron")], what].concat());
    for (what, reason) in [
        (&["--absent", "Unit 9"][..], "There is no group \"Unit 9\"."),
        (&["--joined", "Unit 8+Unit 1"], "Unit 8 is kept apart"),
        (&["--joined", "Unit 6+Unit 1"], "Unit 6 makes whisked sponge"),
        (&["--oven-out", "Oven 9"], "There is no oven \"Oven 9\"."),
        (&["--late", "55"], "no time is left to bake"),
        (&["--reserve", "Unit 1=trifle"], "There is no recipe \"trifle\"."),
        (&["--adult-away", "caretaker"], "There is no adult \"caretaker\"."),
        (&["--adult-away", "caretaker", "--at", "10:20"], "There is no adult \"caretaker\"."),
        (&["--adult-away", "teacher"], "The teacher is named for \"demo\""),
        (
            &["--adult-away", "teacher", "--at", "10:20"],
            "The teacher is named for \"stop and look\"",
        ),
        (&["--forgotten", "Unit 1", "--forgotten", "Unit 2"], "No spare set is left for Unit 2."),
    ] {
        let output = today(what);
        let told = text(&output.stderr);
        assert_eq!(status(&output), 2, "{what:?}");
        assert!(told.contains(reason), "{what:?}: {told}");
        assert!(output.stdout.is_empty());
    }
    // Of the demo's groups the first begin at 10:15.
    let at =
        |time: &str, what: &[&str]| today(&[what, &["--at", time, "--decodings", "500"]].concat());
    for (time, refused) in [("09:30", false), ("10:16", false), ("12:00", true)] {
        let output = at(time, &["--absent", "Unit 3"]);
        assert_eq!(status(&output) == 2, refused, "{time}");
        let told = text(&output.stderr);
        assert_eq!(told.contains("The lesson is over by 12:00."), refused, "{time}: {told}");
    }
    let late = at("10:16", &["--late", "5"]);
    assert!(status(&late) < 2, "five minutes late nobody has begun: {}", text(&late.stderr));
    let late = at("10:22", &["--late", "5"]);
    let told = text(&late.stderr);
    assert_eq!(status(&late), 2);
    assert!(told.contains("the first at 10:15") && told.contains("which steps are done"), "{told}");
    let spoiled = at("10:30", &["--forgotten", "Unit 1"]);
    assert_eq!(status(&spoiled), 2);
    assert!(text(&spoiled.stderr).contains("Unit 1 has begun by 10:30"));
    assert_eq!(status(&today(&["--joined", "Unit 1"])), 2, "two names are wanted");
    assert_eq!(status(&today(&["--at", "noon"])), 2);
}

#[test]
fn in_mid_lesson_the_answer_says_what_is_presumed_and_what_a_failing_oven_loses() {
    let folder = tempfile::tempdir().unwrap();
    let day = folder.path().join("day.ron").to_str().unwrap().to_owned();
    let few = ["--decodings", "500"];
    let demo = lesson("demo.ron");
    let told = folder.path().join("told.ron").to_str().unwrap().to_owned();
    let plan = ["plan", demo.as_str(), "--save", told.as_str(), "--json"];
    let plan = json(&ovenbell(&[&plan[..], &few].concat()));
    let minute = |of: &serde_json::Value, field: &str| of[field].as_i64().unwrap();
    let loads = plan["loads"].as_array().unwrap();
    let first = loads.iter().min_by_key(|l| minute(l, "in")).unwrap();
    let (oven, now) = (first["oven"].as_str().unwrap(), minute(first, "in") + 5);
    let at = format!("{:02}:{:02}", 10 + (5 + now) / 60, (5 + now) % 60);
    let inside = loads
        .iter()
        .filter(|l| l["oven"] == first["oven"] && minute(l, "in") < now && now < minute(l, "out"));
    let mut inside: Vec<&str> = inside.map(|l| l["group"].as_str().unwrap()).collect();
    inside.dedup();
    let asked = ["today", &demo, "--oven-out", oven, "--at", &at, "--save", &day, "--json"];
    let output = ovenbell(&[&asked[..], &["--plan", &told], &few].concat());
    assert_eq!(status(&output), 1, "{}", text(&output.stderr));
    let answer = json(&output);
    assert_eq!(answer["presumed"], at.as_str());
    for group in inside {
        let change = answer["changes"].as_array().unwrap().iter().find(|c| c["group"] == group);
        let told = change.unwrap()["change"].as_str().unwrap();
        let expected =
            format!("{group} loses its bake: its tins are in {oven}, which failed at {at}.");
        assert_eq!(told, expected);
    }
    // Kept, it is gone on with, and says so in words.
    let later = format!("{:02}:{:02}", 10 + (6 + now) / 60, (6 + now) % 60);
    let asked = ["today", &day, "--oven-works", oven, "--at", &later];
    let output = ovenbell(&[&asked[..], &few].concat());
    let told = text(&output.stdout);
    assert!(told.contains("is presumed by the plan"), "{told}{}", text(&output.stderr));
    assert!(!told.contains("goes in at"), "{told}");
}

#[test]
fn an_adult_who_is_called_away_is_planned_around() {
    let folder = tempfile::tempdir().unwrap();
    let demo = std::fs::read_to_string(lesson("demo.ron")).unwrap();
    let doors = demo.replace("rules: (call: 3,", "rules: (adult_at_doors: true, call: 3,");
    assert_ne!(demo, doors);
    let file = written(&folder, "lesson.ron", &doors);
    let day = folder.path().join("day.ron").to_str().unwrap().to_owned();
    let few = ["--decodings", "300"];
    let away = ["today", &file, "--adult-away", "technician", "--save", &day, "--json"];
    let output = ovenbell(&[&away[..], &["--at", "10:20"], &few].concat());
    assert!(status(&output) < 2, "{}", text(&output.stderr));
    let answer = json(&output);
    assert_eq!(answer["presumed"], "10:20");
    let log = serde_json::json!({"at": "10:20", "what": "The technician is away from 10:20 on."});
    assert_eq!(answer["happened"][0], log);
    assert!(std::fs::read_to_string(&day).unwrap().contains("(-60, 15)"));
    let plan = json(&ovenbell(&["plan", &day, "--json"]));
    let jobs = plan["jobs"].as_array().unwrap();
    let theirs = |who: &str| jobs.iter().filter(|j| j["adult"] == who).collect::<Vec<_>>();
    assert!(!theirs("teacher").is_empty());
    for job in theirs("technician") {
        assert!(job["until"].as_i64().unwrap() <= 15, "{job}");
    }
    let again = ["today", &day, "--adult-away", "technician", "--at", "10:25"];
    let output = ovenbell(&[&again[..], &few].concat());
    assert_eq!(status(&output), 2);
    let told = text(&output.stderr);
    assert!(told.contains("The technician is not there from 10:25 on as it is."), "{told}");
    // Before anybody has begun: not at all.
    let away = ["today", &file, "--adult-away", "technician", "--json"];
    let answer = json(&ovenbell(&[&away[..], &few].concat()));
    assert_eq!(answer["happened"][0]["what"], "The technician is away.");
}

#[test]
fn facts_are_written_into_the_copy_at_once_and_answered() {
    let folder = tempfile::tempdir().unwrap();
    let day = folder.path().join("day.ron").to_str().unwrap().to_owned();
    let few = ["--decodings", "300"];
    let begin = ["today", &lesson("demo.ron"), "--oven-out", "Oven 4", "--at", "09:50"];
    let begun = ovenbell(&[&begin[..], &["--save", &day], &few].concat());
    assert!(status(&begun) < 2, "{}", text(&begun.stderr));
    let tell = |more: &[&str]| ovenbell(&[&["today", day.as_str()], more, &few].concat());
    let answer = json(&tell(&["--tell", "Unit 3=late 30", "--at", "10:20", "--json"]));
    let kept = std::fs::read_to_string(&day).unwrap();
    assert!(kept.contains("who: \"Unit 3\"") && kept.contains("late 30"), "{kept}");
    assert!(kept.contains("// Lemon bakes"), "comments stay");
    assert_eq!(answer["now"], "10:20");
    assert_eq!(answer["told"][0]["what"], "late 30");
    assert_eq!(answer["behind"][0]["minutes"], 30);
    assert_eq!(answer["kept"], true);
    assert!(answer["question"]["if_nothing"].as_array().is_some_and(|all| !all.is_empty()));
    let presumed = answer["presumed"].as_array().unwrap();
    assert!(presumed.iter().all(|p| p["group"] != "Unit 3") && !presumed.is_empty());

    let output = tell(&["--tell", "Unit 3=late 0", "--tell", "Unit 1=out", "--at", "10:21"]);
    let words = text(&output.stdout);
    assert!(words.contains("Presumed by the plan: nothing was told"), "{words}");
    assert!(words.contains("\"Unit 1\" was not told to be in"), "{words}");
    assert!(!words.contains("If nothing is done"), "{words}");
    assert_eq!(status(&output), 0, "{words}");

    let before = std::fs::read_to_string(&day).unwrap();
    for (told, says) in
        [("Unit 3=soon", "go, in, out, ready"), ("Unit 30=go", "There is no group \"Unit 30\".")]
    {
        let output = tell(&["--tell", told]);
        assert_eq!(status(&output), 2);
        assert!(text(&output.stderr).contains(says), "{}", text(&output.stderr));
    }
    let lesson_itself = written(&folder, "lesson.ron", &demo_text());
    let output = ovenbell(&["today", &lesson_itself, "--tell", "Unit 3=go"]);
    assert_eq!(status(&output), 2);
    assert!(text(&output.stderr).contains("not a copy for the day"));
    assert_eq!(std::fs::read_to_string(&lesson_itself).unwrap(), demo_text());
    assert_eq!(std::fs::read_to_string(&day).unwrap(), before);
}

fn demo_text() -> String {
    std::fs::read_to_string(lesson("demo.ron")).unwrap()
}

#[test]
fn a_fact_that_was_shown_as_told_is_in_the_copy_though_the_command_is_killed() {
    use std::io::{BufRead as _, BufReader};
    let folder = tempfile::tempdir().unwrap();
    let day = folder.path().join("day.ron").to_str().unwrap().to_owned();
    let begin = ["today", &lesson("demo.ron"), "--oven-out", "Oven 4", "--at", "09:50"];
    let begun = ovenbell(&[&begin[..], &["--save", &day, "--decodings", "200"]].concat());
    assert!(status(&begun) < 2, "{}", text(&begun.stderr));
    let nowhere = Path::new(env!("CARGO_TARGET_TMPDIR")).join("no-data");
    let mut shown = 0;
    for number in 1..=4_u64 {
        let fact = format!("Unit {}=late {number}", 1 + number % 8);
        let args = ["today", &day, "--tell", &fact, "--at", "10:20", "--decodings", "1"];
        let mut program = Command::new(env!("CARGO_BIN_EXE_ovenbell"));
        program.args(args).env("OVENBELL_DATA", &nowhere).stderr(Stdio::null());
        let mut child = program.stdout(Stdio::piped()).spawn().unwrap();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        // Half of them as soon as they have shown it, the others whenever.
        let told = if number % 2 == 0 {
            lines.map_while(Result::ok).any(|l| l.contains(&format!("late {number} at 10:20")))
        } else {
            std::thread::sleep(Duration::from_millis(20 * number));
            false
        };
        child.kill().unwrap();
        child.wait().unwrap();
        let kept = std::fs::read_to_string(&day).unwrap();
        ovenbell::file::read_lesson(&kept).unwrap();
        assert!(!told || kept.contains(&format!("what: \"late {number}\"")), "{kept}");
        shown += usize::from(told);
    }
    assert_eq!(shown, 2);
    let answer = json(&ovenbell(&[
        "today",
        &day,
        "--tell",
        "Unit 8=go",
        "--at",
        "10:20",
        "--json",
        "--decodings",
        "200",
    ]));
    assert!(answer["told"].as_array().unwrap().iter().any(|t| t["group"] == "Unit 8"));
}

#[test]
fn sentences_are_in_the_english_asked_for_and_json_never_changes() {
    let demo = lesson("demo.ron");
    let plan = |more: &[&str]| {
        let args = [&["plan", demo.as_str(), "--decodings", "300"], more].concat();
        text(&ovenbell(&args).stdout)
    };
    let british = plan(&[]);
    assert!(british.contains("160 °C fan") && british.contains("Top shelf"), "{british}");
    assert_eq!(plan(&["--english", "british"]), british);
    let american = plan(&["--english", "american"]);
    assert!(american.contains("325 °F convection") && american.contains("Top rack"), "{american}");
    assert!(!american.contains("°C") && !american.contains("shelf"), "{american}");
    // Names are the lesson's own.
    assert!(american.contains("two 18 cm sandwich tins"));
    let answer = |english: &str| {
        let args = ["tins", demo.as_str(), "--json", "--english", english];
        text(&ovenbell(&args).stdout)
    };
    assert_eq!(answer("american"), answer("british"));
    assert_eq!(status(&ovenbell(&["plan", &demo, "--english", "french"])), 2);
}

#[test]
fn where_time_runs_out_the_answer_says_so() {
    let few = lesson("c-rolls-single.ron");
    let output = ovenbell(&["why", &few, "--within", "0"]);
    assert_eq!(status(&output), 1);
    assert!(text(&output.stdout).contains("Time ran out"), "{}", text(&output.stdout));
    let answer = json(&ovenbell(&["why", &few, "--within", "0", "--json"]));
    assert_eq!(answer["time_ran_out"], true);
    let answer = json(&ovenbell(&["changes", &few, "--within", "0", "--json"]));
    assert_eq!(answer["enough"], "not all tried");
    for command in ["plan", "today"] {
        assert_eq!(status(&ovenbell(&[command, &few, "--within", "0"])), 1, "{command}");
    }
}

#[test]
fn of_very_many_findings_a_screenful_is_told_and_the_rest_counted() {
    let folder = tempfile::tempdir().unwrap();
    let good = std::fs::read_to_string(lesson("a-scones-hour.ron")).unwrap();
    let slips: String =
        (0..60).map(|n| format!("(name: \"U{n}\", recipe: \"none {n}\"),")).collect();
    let at = good.find("groups: [").unwrap() + "groups: [".len();
    let path = written(&folder, "slips.ron", &format!("{}{slips}{}", &good[..at], &good[at..]));
    let output = ovenbell(&["check", &path]);
    assert_eq!(status(&output), 2);
    let told = text(&output.stderr);
    assert_eq!(told.lines().filter(|l| l.contains("wrong [")).count(), 20, "{told}");
    assert!(told.lines().last().unwrap().contains("more"), "{told}");
    let all = json(&ovenbell(&["check", &path, "--json"]));
    assert!(all["findings"].as_array().unwrap().len() > 20);
}

#[test]
fn demanding_lessons_are_answered_or_refused_with_a_place() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/demanding");
    for (name, wanted) in [
        ("twenty_groups_of_three_recipes.ron", 1),
        ("sixty_groups_of_twenty_recipes.ron", 1),
        ("sixty_tins_in_sixty_ovens.ron", 1),
        ("a_hundred_steps_each.ron", 2),
        ("a_step_of_next_to_no_minutes.ron", 0),
    ] {
        let path = folder.join(name).to_str().unwrap().to_owned();
        let output = ovenbell(&["plan", &path, "--decodings", "20"]);
        assert_eq!(status(&output), wanted, "{name}: {}", text(&output.stderr));
        if wanted == 2 {
            assert!(text(&output.stderr).contains("too-many-ways"), "{}", text(&output.stderr));
        }
    }
}

#[test]
fn a_day_that_is_over_is_noted_once_and_only_as_it_was_told() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (day, outcomes, few) = (at("day.ron"), at("outcomes.csv"), ["--decodings", "100"]);
    let begin = ["today", &lesson("demo.ron"), "--forgotten", "Unit 2", "--at", "09:50"];
    let begun = ovenbell(&[&begin[..], &["--save", &day], &few].concat());
    assert!(status(&begun) < 2, "{}", text(&begun.stderr));
    for (at, told) in [("10:13", "Unit 1=go"), ("10:31", "Unit 1=in"), ("10:49", "Unit 1=out")] {
        let tell = ["today", &day, "--tell", told, "--at", at];
        assert!(status(&ovenbell(&[&tell[..], &few].concat())) < 2);
    }
    let asked = |more: &[&str]| {
        ovenbell(&[&["afterwards", day.as_str(), "--outcomes", &outcomes], more].concat())
    };
    let answer = json(&asked(&["--last", "Unit 1", "11:01", "--next", "Demo shorter.", "--json"]));
    assert_eq!(answer["told"], 4);
    assert_eq!(answer["next"], "Demo shorter.");
    assert_eq!(answer["bakes"][0]["minutes"], 18.0);
    let learned = answer["learned"].as_array().unwrap();
    assert!(learned.iter().any(|l| l["what"] == "making up lemon bake (all-in-one)"), "{answer}");
    assert!(
        learned.iter().all(|l| l["lessons"] == 1) && answer["offered"] == serde_json::json!([])
    );
    let lines = |name: &str| std::fs::read_to_string(at(name)).unwrap().lines().count();
    let before = (lines("minutes.csv"), lines("outcomes.csv"));
    assert_eq!(before.1, 2);
    let again = asked(&[]);
    assert_eq!(status(&again), 0, "{}", text(&again.stderr));
    assert!(text(&again.stdout).contains("Next time: Demo shorter."));
    assert_eq!((lines("minutes.csv"), lines("outcomes.csv")), before, "noted once");
    let of_lesson = ovenbell(&["afterwards", &lesson("demo.ron"), "--outcomes", &outcomes]);
    assert_eq!(status(&of_lesson), 2);
}
