//! The library that comes with the program hangs together.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use ovenbell::file::format::{AdultShape, ClassShape, GroupShape, LessonFile, PeriodShape};
use ovenbell::file::format::{
    FormShape, MethodShape, RecipeShape, SourceShape, StatedMinutes, StepKindShape,
};
use ovenbell::file::{library, read_lesson};
use ron::extensions::Extensions;

/// Cereals with gluten by name, and the other thirteen of Regulation (EU)
/// No 1169/2011, annex II, in short.
const ALLERGENS: [&str; 17] = [
    "wheat",
    "rye",
    "barley",
    "oats",
    "crustaceans",
    "eggs",
    "fish",
    "peanuts",
    "soya",
    "milk",
    "nuts",
    "celery",
    "mustard",
    "sesame",
    "sulphites",
    "lupin",
    "molluscs",
];

fn steps(method: &MethodShape) -> Vec<&str> {
    method.steps.iter().map(|s| s.name.as_str()).collect()
}

fn is_baked(method: &MethodShape) -> bool {
    method.steps.iter().any(|s| s.kind == StepKindShape::Bake)
}

/// The three bands of stated minutes.
fn bands(minutes: StatedMinutes) -> [(f64, f64, f64); 3] {
    match minutes {
        StatedMinutes::ByBand(bands) => bands,
        StatedMinutes::Three(q, u, s) => [(q, u, s); 3],
        StatedMinutes::Usual(_) => panic!("the library states three minutes"),
    }
}

fn recipe(name: &str) -> RecipeShape {
    library::recipe(name).unwrap().expect(name)
}

#[test]
fn every_recipe_file_is_in_the_program() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/library/recipes");
    let files = fs::read_dir(folder).unwrap().count();
    let recipes = library::recipes().unwrap();
    assert_eq!(recipes.len(), files);
    let names: BTreeSet<_> = recipes.iter().map(|r| r.name.clone()).collect();
    assert_eq!(names.len(), files, "names are unique");
    assert!(recipes.iter().all(|r| r.source == SourceShape::Library));
}

#[test]
fn every_name_in_a_recipe_means_something() {
    let tins = library::tins().unwrap();
    for recipe in library::recipes().unwrap() {
        let name = &recipe.name;
        for method in &recipe.methods {
            let here = format!("{name}, {}", method.name);
            let all = steps(method);
            assert_eq!(all.iter().collect::<BTreeSet<_>>().len(), all.len(), "{here}");
            for (at, step) in method.steps.iter().enumerate() {
                for after in step.after.iter().flatten() {
                    assert!(all[..at].contains(&after.as_str()), "{here}: after {after}");
                }
                let is_bake = step.kind == StepKindShape::Bake;
                assert_eq!(step.minutes.is_none(), is_bake, "{here}: {}", step.name);
                assert_eq!(step.done_when.is_empty(), !is_bake, "{here}: {}", step.name);
                assert!(!step.words.is_empty(), "{here}: {}", step.name);
                let of_hands = step.kind == StepKindShape::Hand;
                assert!(!of_hands || !step.pupil_words.is_empty(), "{here}: {}", step.name);
            }
            let place = |step: &str| {
                all.iter().position(|s| *s == step).unwrap_or_else(|| panic!("{here}: {step}"))
            };
            for link in &method.links {
                assert!(place(&link.from) < place(&link.to), "{here}");
            }
            for hold in &method.holds {
                assert!(place(&hold.from) < place(&hold.to), "{here}");
            }
            if let Some((from, to)) = &method.tin_held {
                assert!(place(from) < place(to), "{here}");
            }
        }
        for choice in &recipe.tins {
            assert!(tins.iter().any(|t| t.name == choice.tin), "{name}: {}", choice.tin);
            for method in &choice.methods {
                assert!(recipe.methods.iter().any(|m| m.name == *method), "{name}: {method}");
            }
            for (step, _) in &choice.step_minutes.0 {
                assert!(
                    recipe.methods.iter().any(|m| steps(m).contains(&step.as_str())),
                    "{name}: {step}"
                );
            }
        }
        let labels: BTreeSet<_> =
            recipe.tins.iter().map(|t| t.label.as_ref().unwrap_or(&t.tin)).collect();
        assert_eq!(labels.len(), recipe.tins.len(), "{name}: labels are unique");
        assert_eq!(recipe.tins.is_empty(), !recipe.methods.iter().all(is_baked), "{name}");
    }
}

#[test]
fn minutes_do_not_decrease() {
    let check = |here: &str, minutes: StatedMinutes| {
        for (quick, usual, slow) in bands(minutes) {
            assert!(0.0 < quick && quick <= usual && usual <= slow, "{here}");
        }
    };
    for row in library::minutes().unwrap() {
        check(&row.step, row.minutes);
    }
    for recipe in library::recipes().unwrap() {
        for step in recipe.methods.iter().flat_map(|m| &m.steps) {
            if let Some(minutes) = step.minutes {
                check(&step.name, minutes);
            }
        }
        for choice in &recipe.tins {
            check(&choice.tin, choice.minutes.unwrap());
            for (step, minutes) in &choice.step_minutes.0 {
                check(step, *minutes);
            }
        }
    }
}

#[test]
fn allergens_are_named_as_the_law_names_them() {
    for recipe in library::recipes().unwrap() {
        for ingredient in &recipe.ingredients {
            for allergen in ingredient.allergens.iter().flatten() {
                assert!(ALLERGENS.contains(&allergen.as_str()), "{}: {allergen}", recipe.name);
            }
        }
    }
}

/// What depends on the packet says nothing, so that nobody takes it for looked
/// at.
#[test]
fn packets_that_differ_state_no_allergens() {
    for name in ["margarine", "spread", "treacle", "baking powder", "yeast", "plant drink", "blend"]
    {
        let packets: Vec<_> = library::recipes()
            .unwrap()
            .into_iter()
            .flat_map(|r| r.ingredients)
            .filter(|i| i.name.contains(name))
            .collect();
        assert!(!packets.is_empty() && packets.iter().all(|i| i.allergens.is_none()), "{name}");
    }
}

/// A room of the library has every kind of kit that a recipe asks for.
#[test]
fn rooms_have_the_kit_of_the_recipes() {
    let mut asked = BTreeSet::new();
    for method in library::recipes().unwrap().iter().flat_map(|r| &r.methods) {
        asked.extend(method.steps.iter().flat_map(|s| &s.kit.0).map(|(kit, _)| kit.clone()));
        asked.extend(method.holds.iter().map(|h| h.kit.clone()));
    }
    let rooms = library::rooms().unwrap();
    let ovens: Vec<i64> = rooms
        .iter()
        .map(|r| r.ovens.iter().chain(r.units.iter().flat_map(|u| &u.ovens)))
        .map(|ovens| ovens.map(|o| o.count.unwrap_or(1)).sum())
        .collect();
    assert_eq!(ovens, [5, 8, 12, 6]);
    for room in &rooms {
        let there: BTreeSet<_> = room
            .kit
            .0
            .iter()
            .chain(room.units.iter().flat_map(|u| &u.kit.0))
            .map(|(kit, _)| kit.clone())
            .collect();
        assert!(asked.is_subset(&there), "{}: {asked:?}", room.name);
        assert!(library::room(&room.name).unwrap().is_some());
    }
}

/// Which row of the table of minutes a recipe's step stands for.
#[test]
fn steps_take_the_minutes_of_the_table() {
    let row = |step: &str| bands(library::step_minutes(step).unwrap().expect(step));
    let always = [
        ("weigh", "weigh"),
        ("melt", "melt"),
        ("rub in", "rub in"),
        ("set out cases", "set out cases"),
        ("grate cheese", "grate cheese"),
        ("chop vegetables", "chop vegetables"),
        ("zest and juice", "zest and juice"),
        ("peel and slice apples", "peel and slice apples"),
        ("knead", "knead"),
        ("shape", "shape rolls"),
        ("mix, shape and cut", "roll and cut scones"),
        ("roll and cut", "roll and cut biscuits"),
        ("whisk", "whisk to the trail"),
        ("fold in", "fold in"),
        ("add eggs", "add eggs"),
        ("wash up", "wash up"),
        ("dry and put away", "dry and put away"),
        ("wipe down", "wipe down"),
        ("wash tins", "wash tins"),
        ("box and label", "box and label"),
    ];
    let by_method = [
        ("all-in-one", "beat", "beat with electric whisk"),
        ("all-in-one by spoon", "beat", "beat by spoon"),
        ("creaming by hand", "cream", "cream by hand"),
        ("creaming with electric whisk", "cream", "cream with electric whisk"),
        ("muffin", "stir in dry", "muffin stir"),
        ("muffin", "fill", "fill 12 cases"),
        ("melting", "fill", "fill one tin"),
    ];
    let mut met = BTreeSet::new();
    for method in library::recipes().unwrap().iter().flat_map(|r| &r.methods) {
        for step in &method.steps {
            let general = always.iter().find(|(name, _)| *name == step.name).map(|(_, row)| *row);
            let special = by_method
                .iter()
                .find(|(of, name, _)| *of == method.name && *name == step.name)
                .map(|(_, _, row)| *row);
            if let Some(of_table) = special.or(general) {
                assert_eq!(bands(step.minutes.unwrap()), row(of_table), "{}", step.name);
                met.insert(of_table);
            }
        }
    }
    let claimed: BTreeSet<_> =
        always.iter().map(|(_, r)| *r).chain(by_method.iter().map(|(_, _, r)| *r)).collect();
    assert_eq!(met, claimed);
}

/// The melting method's two stirs share the table's one row.
#[test]
fn melted_mixing_adds_up_to_the_table() {
    let row = bands(library::step_minutes("mix melted").unwrap().unwrap());
    let ginger = recipe("Dockside ginger traybake");
    let of = |name: &str| {
        let step = ginger.methods[0].steps.iter().find(|s| s.name == name).unwrap();
        bands(step.minutes.unwrap())
    };
    let (first, second) = (of("add milk and egg"), of("stir in dry"));
    for band in 0..3 {
        let (a, b) = (first[band], second[band]);
        assert_eq!((a.0 + b.0, a.1 + b.1, a.2 + b.2), row[band]);
    }
}

/// No recipe's own tins are over its fill limit.
#[test]
fn own_tins_are_not_too_full() {
    for recipe in library::recipes().unwrap() {
        let Some(batter) = recipe.batter_ml else { continue };
        let limit = recipe.bake.fill_limit.unwrap_or(2.0 / 3.0);
        for choice in &recipe.tins {
            let tin = library::tin(&choice.tin).unwrap().unwrap();
            if let Some(capacity) = tin.capacity_ml {
                let count = u32::try_from(choice.count.unwrap_or(1)).unwrap();
                let full = batter * choice.batch.unwrap_or(1.0) / (capacity * f64::from(count));
                assert!(full <= limit, "{}: {} is {full:.2} full", recipe.name, choice.tin);
            }
        }
    }
}

/// What straight-sided tins hold follows from their inner size; the height
/// outside is at least that inside.
#[test]
fn tins_hold_what_their_size_allows() {
    for tin in library::tins().unwrap() {
        let area = match tin.form {
            Some(FormShape::Round { across_mm }) => std::f64::consts::PI / 4.0 * across_mm.powi(2),
            Some(FormShape::Rect { long_mm, wide_mm }) => {
                assert!(long_mm < tin.rim_mm.0 && wide_mm < tin.rim_mm.1, "{}", tin.name);
                long_mm * wide_mm
            }
            Some(FormShape::Holes { count, across_mm }) => {
                let holes = f64::from(i32::try_from(count).unwrap());
                holes * std::f64::consts::PI / 4.0 * across_mm.powi(2)
            }
            Some(FormShape::Sheet) | None => continue,
        };
        let most = area * tin.height_mm / 1000.0;
        let holds = tin.capacity_ml.unwrap();
        assert!(holds <= most + 1.0, "{}: {holds} of {most:.0} ml", tin.name);
    }
}

/// A lesson put together from the library alone, in each of its rooms, for each
/// of its recipes, passes all that is checked when a file is opened.
#[test]
fn every_recipe_makes_a_lesson_in_every_room() {
    let options = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    for room in library::rooms().unwrap() {
        for recipe in library::recipes().unwrap() {
            let here = format!("{} in {}", recipe.name, room.name);
            let pair = GroupShape {
                name: "Pair".into(),
                recipe: recipe.name.clone(),
                unit: room.units.first().map(|u| u.name.clone()),
                ..GroupShape::default()
            };
            let lesson = LessonFile {
                format: 2,
                class: ClassShape::default(),
                period: PeriodShape {
                    start: "09:00".into(),
                    end: "10:40".into(),
                    ..PeriodShape::default()
                },
                tins: library::tins()
                    .unwrap()
                    .into_iter()
                    .filter(|t| recipe.tins.iter().any(|c| c.tin == t.name))
                    .collect(),
                room: room.clone(),
                adults: vec![AdultShape { name: "teacher".into(), ..AdultShape::default() }],
                recipes: vec![recipe],
                groups: vec![pair],
                ..LessonFile::default()
            };
            let text = options.to_string_pretty(&lesson, ron::ser::PrettyConfig::default());
            let loaded = read_lesson(&text.unwrap())
                .unwrap_or_else(|findings| panic!("{here}: {findings:#?}"));
            assert!(loaded.warnings.is_empty(), "{here}: {:#?}", loaded.warnings);
        }
    }
}
