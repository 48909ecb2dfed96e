//! Changes as a user makes them, at random.

use ovenbell::edit::Edit;
use ovenbell::file::format::LessonFile;
use rand::RngExt;
use rand_pcg::Pcg64Mcg;

/// A change of a group or an oven, at random.
pub fn random(rng: &mut Pcg64Mcg, file: &LessonFile) -> Edit {
    let group = &file.groups[rng.random_range(0..file.groups.len())];
    let name = match group.count {
        None => group.name.clone(),
        Some(n) => format!("{} {}", group.name, rng.random_range(1..=n)),
    };
    let recipe = file.recipes.iter().find(|r| r.name == group.recipe).unwrap();
    match rng.random_range(0..6) {
        0 | 1 => Edit::Pupils { group: name, pupils: rng.random_range(1..5) },
        2 => Edit::LeftOut { group: name, out: rng.random_bool(0.3) },
        3 => {
            let tin = &recipe.tins[rng.random_range(0..recipe.tins.len())];
            Edit::Tin { group: name, label: tin.label.clone().unwrap_or(tin.tin.clone()) }
        }
        4 => {
            let method = &recipe.methods[rng.random_range(0..recipe.methods.len())];
            Edit::Method { group: name, method: method.name.clone() }
        }
        _ => Edit::OvenOut {
            oven: format!("Oven {}", rng.random_range(1..=5)),
            out: rng.random_bool(0.3),
        },
    }
}
