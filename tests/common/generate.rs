//! A seeded generator of lessons: four to twenty groups, loose and tight,
//! mixed recipes, tins and temperatures, with everything the rules speak of.
//! All of it is invented.

use ovenbell::file::format::*;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// A lesson that differs with every seed and is the same for the same seed.
#[allow(dead_code)] // not every test wants it
pub fn lesson(seed: u64) -> LessonFile {
    let rng = Pcg64Mcg::seed_from_u64(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
    let mut make = Generator { rng };
    make.lesson(None)
}

/// The same with that many groups.
#[allow(dead_code)] // not every test wants it
pub fn lesson_of(seed: u64, groups: i64) -> LessonFile {
    let rng = Pcg64Mcg::seed_from_u64(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
    let mut make = Generator { rng };
    make.lesson(Some(groups))
}

/// A lesson with round tins among the others, on shelves and with air of many
/// sizes.
#[allow(dead_code)] // not every test wants it
pub fn round_lesson(seed: u64) -> LessonFile {
    let mut file = lesson(seed);
    make_round(&mut file, seed);
    file
}

/// Makes some tins of a lesson round, on shelves and with air of many sizes.
#[allow(dead_code)] // as above
pub fn make_round(file: &mut LessonFile, seed: u64) {
    let mut make = Generator { rng: Pcg64Mcg::seed_from_u64(seed) };
    for tin in &mut file.tins {
        let across = match tin.name.as_str() {
            "18 cm sandwich" => [195.0, 215.0][make.pick(0, 1) as usize],
            "18 cm square" if make.chance(0.5) => 195.0,
            "loaf" => 165.0,
            "450 ml foil" if make.chance(0.5) => 135.0,
            _ => continue,
        };
        tin.rim_mm = (across, across);
        tin.form = Some(FormShape::Round { across_mm: across - 15.0 });
    }
    for oven in &mut file.room.ovens {
        let sizes = [(420.0, 360.0), (380.0, 320.0), (450.0, 380.0), (600.0, 400.0)];
        oven.shelf_mm = Some(sizes[make.pick(0, 3) as usize]);
        oven.gap_mm = Some(make.pick(0, 40) as f64);
    }
}

/// A lesson of which a plan can be bent in most ways that there are: with adults at
/// steps and doors, delicate bakes, tins in stock and a group that is kept apart.
#[allow(dead_code)] // as above
pub fn lesson_with_all(seed: u64) -> LessonFile {
    let mut file = lesson(seed);
    let mut make = Generator { rng: Pcg64Mcg::seed_from_u64(seed) };
    file.rules.adult_at_doors = Some(true);
    let groups = file.groups.len() as i64;
    let apart = make.pick(0, groups - 1) as usize;
    file.groups[apart].keep_apart = true;
    for recipe in &mut file.recipes {
        recipe.bake.shut.get_or_insert(make.pick(8, 15) as f64);
        for method in &mut recipe.methods {
            for step in method.steps.iter_mut().filter(|step| step.name == "line") {
                step.adult = AdultShapeNeed::With;
            }
        }
        for tin in &recipe.tins {
            if !file.room.tins.0.iter().any(|(of, _)| *of == tin.tin) {
                file.room.tins.0.push((tin.tin.clone(), 2 * groups));
            }
        }
    }
    file
}

struct Generator {
    rng: Pcg64Mcg,
}

const TINS: [(&str, f64, f64, f64); 6] = [
    ("bun tray", 350.0, 270.0, 40.0),
    ("18 cm square", 195.0, 195.0, 50.0),
    ("18 cm sandwich", 195.0, 195.0, 45.0),
    ("450 ml foil", 150.0, 125.0, 50.0),
    ("loaf", 170.0, 100.0, 75.0),
    ("baking sheet", 350.0, 250.0, 20.0),
];

impl Generator {
    fn chance(&mut self, p: f64) -> bool {
        self.rng.random_bool(p)
    }

    fn pick(&mut self, from: i64, to: i64) -> i64 {
        self.rng.random_range(from..=to)
    }

    /// Minutes about a usual figure; halves now and then.
    fn minutes(&mut self, low: i64, high: i64) -> StatedMinutes {
        let usual = self.pick(low, high) as f64 + if self.chance(0.2) { 0.5 } else { 0.0 };
        if self.chance(0.3) {
            return StatedMinutes::Usual(usual);
        }
        let quick = (usual * 0.7 * 2.0).floor() / 2.0;
        StatedMinutes::Three(quick.max(0.5).min(usual), usual, usual + self.pick(0, 4) as f64)
    }

    fn lesson(&mut self, groups: Option<i64>) -> LessonFile {
        let groups = groups.unwrap_or_else(|| self.pick(4, 20));
        let length = [50, 60, 75, 100][self.pick(0, 3) as usize];
        let recipes: Vec<RecipeShape> = (0..self.pick(1, 3)).map(|i| self.recipe(i)).collect();
        let units = self.chance(0.25);
        let mut file = LessonFile {
            format: FORMAT,
            title: "Generated".into(),
            period: self.period(length),
            room: self.room(groups, units),
            adults: self.adults(length),
            recipes,
            tins: TINS.iter().map(tin).collect(),
            ..LessonFile::default()
        };
        if self.chance(0.2) {
            file.shared_kit = Entries(vec![("whisk".into(), count(self.pick(1, 4)))]);
        }
        file.rules = RulesShape {
            wanted_spare: Some(if self.chance(0.3) { self.pick(0, 8) as i32 } else { 3 }),
            call: self.chance(0.3).then(|| self.pick(1, 4) as i32),
            tins_per_opening: self.chance(0.2).then(|| self.pick(2, 6)),
            adult_near_ovens: false,
            adult_at_doors: Some(self.chance(0.25)),
            caution: if self.chance(0.1) { 0.3 } else { 0.0 },
            washed_is_unused: self.chance(0.3),
            call_waits: false,
            sharing: self.chance(0.2).then(|| self.chance(0.5)),
            class_limit: None,
        };
        if self.chance(0.3) {
            file.beforehand = vec!["weigh".into()];
        }
        if self.chance(0.15) {
            file.collected = vec!["cool".into(), "box".into()];
        }
        self.groups(&mut file, groups, units);
        file
    }

    fn period(&mut self, length: i32) -> PeriodShape {
        let step = |name: &str, minutes| ClassStepShape {
            name: name.into(),
            minutes,
            adults: Vec::new(),
            at: None,
            between: None,
            before_closing: None,
            may_be_dropped: None,
        };
        let mut opening =
            vec![step("register", self.minutes(2, 3)), step("hands", self.minutes(3, 4))];
        if self.chance(0.6) {
            let mut demo = step("demo", self.minutes(3, 5));
            demo.adults = vec!["teacher".into()];
            opening.push(demo);
        }
        let mut during = Vec::new();
        if self.chance(0.3) {
            let mut stop = step("stop and look", StatedMinutes::Usual(1.0));
            if self.chance(0.5) {
                stop.at = Some(length / 2);
            } else {
                stop.between = Some((length / 3, 2 * length / 3));
                stop.adults = vec!["teacher".into()];
            }
            during.push(stop);
        }
        PeriodShape {
            start: "10:00".into(),
            end: format!("{:02}:{:02}", 10 + length / 60, length % 60),
            opening,
            during,
            closing: vec![step("plenary and dismissal", self.minutes(2, 5))],
            ovens_on_from: self.chance(0.3).then(|| -(self.pick(0, 20) as i32)),
            ..PeriodShape::default()
        }
    }

    fn oven(&mut self, name: &str, count: Option<i64>) -> OvenShape {
        let kind = [OvenKindShape::Fan, OvenKindShape::Conventional, OvenKindShape::Gas]
            [self.pick(0, 2) as usize];
        let sizes = [(420.0, 360.0), (380.0, 320.0), (450.0, 380.0)];
        OvenShape {
            name: name.into(),
            count,
            kind: Some(kind),
            shelves: self.chance(0.6).then(|| self.pick(1, 3)),
            shelf_mm: Some(sizes[self.pick(0, 2) as usize]),
            clear_mm: (name == "Old oven" && self.chance(0.4)).then_some(60.0),
            gap_mm: self.chance(0.2).then_some(10.0),
            warm_up: self.chance(0.5).then(|| self.pick(8, 20) as f64),
            cool_down: None,
            runs_hot: self.chance(0.1).then_some(10.0),
            borrowed: false,
        }
    }

    fn room(&mut self, groups: i64, units: bool) -> RoomShape {
        let tight = self.chance(0.5);
        let share = |n: i64, of: i64| (n + of - 1) / of;
        let scarce = if tight { 3 } else { 1 };
        let kit = vec![
            ("sink".into(), count(share(groups, scarce))),
            ("scales".into(), count(share(groups, scarce))),
            ("whisk".into(), count(share(groups, scarce))),
            ("ring".into(), count(groups)),
            ("bowl".into(), count(2 * groups)),
            ("rack place".into(), count(groups)),
        ];
        let mut room = RoomShape {
            name: "Room 4".into(),
            kit: Entries(kit),
            sharing: self.chance(0.2).then_some(false),
            ..RoomShape::default()
        };
        let ovens = share(groups, self.pick(2, 3)).max(1);
        if units {
            for i in 1..=ovens {
                let oven = self.oven(&format!("Oven {i}"), None);
                let kit = Entries(vec![("sink".into(), count(1))]);
                room.units.push(UnitShape { name: format!("Bay {i}"), ovens: vec![oven], kit });
            }
        } else {
            let first = (ovens + 1) / 2;
            room.ovens.push(self.oven("Oven", Some(first)));
            if ovens > first {
                room.ovens.push(self.oven("Old oven", Some(ovens - first)));
            }
        }
        if self.chance(0.3) {
            room.tins =
                Entries(vec![("bun tray".into(), self.pick(2, groups)), ("loaf".into(), groups)]);
        }
        room
    }

    fn adults(&mut self, length: i32) -> Vec<AdultShape> {
        let mut adults = vec![AdultShape { name: "teacher".into(), ..AdultShape::default() }];
        if self.chance(0.6) {
            let hours = if self.chance(0.4) { vec![(0, length / 2)] } else { Vec::new() };
            adults.push(AdultShape { name: "technician".into(), hours, ..AdultShape::default() });
        }
        if self.chance(0.15) {
            adults.push(AdultShape {
                name: "assistant".into(),
                only_for: Some("Unit 1".into()),
                ..AdultShape::default()
            });
        }
        adults
    }

    fn recipe(&mut self, number: i64) -> RecipeShape {
        let delicate = self.chance(0.5);
        let mut recipe = RecipeShape {
            name: format!("Bake {number}"),
            source: SourceShape::Own,
            notes: Vec::new(),
            ingredients: Vec::new(),
            batter_ml: None,
            bake: BakeShape {
                shut: delicate.then(|| self.pick(8, 15) as f64),
                load: self.chance(0.3).then(|| self.minutes(1, 2)),
                take_out: None,
                ..BakeShape::default()
            },
            methods: vec![self.method("first way", delicate)],
            ..RecipeShape::default()
        };
        if self.chance(0.3) {
            recipe.methods.push(self.method("second way", delicate));
        }
        let celsius = [160.0, 180.0, 180.0, 190.0, 200.0][self.pick(0, 4) as usize];
        let mut bake = self.pick(18, 28);
        for _ in 0..self.pick(1, 4) {
            let tin = TINS[self.pick(0, 5) as usize].0;
            if recipe.tins.iter().any(|t| t.tin == tin) {
                continue;
            }
            let bun = tin == "bun tray" || tin == "baking sheet";
            let mut step_minutes = Vec::new();
            if self.chance(0.4) {
                step_minutes.push(("fill".to_owned(), self.minutes(2, 4)));
            }
            if self.chance(0.4) {
                step_minutes.push(("cool".to_owned(), self.minutes(4, 10)));
            }
            recipe.tins.push(TinChoiceShape {
                tin: tin.into(),
                label: self.chance(0.2).then(|| format!("{tin}, for {number}")),
                count: (!bun).then(|| self.pick(1, 2)),
                batch: None,
                methods: Vec::new(),
                celsius: Some(celsius),
                about_full: None,
                minutes: Some(StatedMinutes::Three(
                    bake as f64 - 2.0,
                    bake as f64,
                    bake as f64 + 4.0,
                )),
                step_minutes: Entries(step_minutes),
            });
            bake = (bake - self.pick(2, 6)).max(8);
        }
        recipe
    }

    fn method(&mut self, name: &str, delicate: bool) -> MethodShape {
        let after = |names: &[&str]| Some(names.iter().map(|n| (*n).to_owned()).collect());
        let kit = |name: &str, n: i64| Entries(vec![(name.to_owned(), n)]);
        let hand = |name: &str, minutes| StepShape {
            name: name.into(),
            minutes: Some(minutes),
            ..StepShape::default()
        };
        let weigh = StepShape {
            kit: kit("scales", 1),
            may_be_beforehand: true,
            ..hand("weigh", self.minutes(3, 7))
        };
        let line = StepShape { after: after(&[]), ..hand("line", self.minutes(1, 3)) };
        let mut steps = vec![weigh, line];
        let mut last = "weigh";
        if self.chance(0.3) {
            steps.push(StepShape {
                after: after(&["weigh"]),
                kit: kit("ring", 1),
                adult: AdultShapeNeed::Near,
                ..hand("melt", self.minutes(3, 4))
            });
            last = "melt";
        }
        let mut mix = StepShape { after: after(&[last]), ..hand("mix", self.minutes(3, 7)) };
        if delicate || self.chance(0.3) {
            mix.kit = kit("whisk", 1);
        }
        if self.chance(0.1) {
            mix.adult = AdultShapeNeed::With;
        }
        mix.everyone = self.chance(0.15);
        steps.push(mix);
        let mut links = Vec::new();
        let mut before_fill = "mix";
        if self.chance(0.2) {
            steps.push(StepShape {
                kind: StepKindShape::Wait,
                after: after(&["mix"]),
                ..hand("rest", self.minutes(5, 15))
            });
            before_fill = "rest";
        }
        steps.push(StepShape {
            after: after(&[before_fill, "line"]),
            ..hand("fill", self.minutes(1, 3))
        });
        steps.push(StepShape {
            name: "bake".into(),
            kind: StepKindShape::Bake,
            after: after(&["fill"]),
            ..StepShape::default()
        });
        steps.push(StepShape {
            kind: StepKindShape::Cool,
            after: after(&["bake"]),
            may_be_collected: true,
            ..hand("cool", self.minutes(4, 10))
        });
        steps.push(StepShape {
            after: after(&["cool"]),
            may_be_collected: true,
            ..hand("box", self.minutes(1, 2))
        });
        steps.push(StepShape {
            after: after(&["fill"]),
            kit: kit("sink", 1),
            ..hand("wash up", self.minutes(4, 8))
        });
        steps.push(StepShape { after: after(&["wash up"]), ..hand("dry", self.minutes(2, 4)) });
        if self.chance(0.8) {
            links.push(LinkShape {
                from: "mix".into(),
                to: "bake".into(),
                least: None,
                longest: (before_fill == "mix").then(|| self.pick(5, 15) as f64).or(Some(30.0)),
            });
        }
        let hold = |kit: &str, from: &str, to: &str| HoldShape {
            kit: kit.into(),
            count: None,
            from: from.into(),
            to: to.into(),
        };
        let mut holds = vec![hold("bowl", "weigh", "wash up")];
        if self.chance(0.5) {
            holds.push(hold("rack place", "cool", "box"));
        }
        MethodShape { name: name.into(), steps, links, holds, tin_held: None }
    }

    fn groups(&mut self, file: &mut LessonFile, groups: i64, units: bool) {
        let together = self.chance(0.3);
        let apart = self.chance(0.2).then(|| self.pick(1, groups));
        let bays = file.room.units.len() as i64;
        for i in 1..=groups {
            let recipe = self.pick(0, file.recipes.len() as i64 - 1) as usize;
            let recipe = &file.recipes[if together { 0 } else { recipe }];
            let all: Vec<String> = recipe
                .tins
                .iter()
                .map(|t| t.label.clone().unwrap_or_else(|| t.tin.clone()))
                .collect();
            let from = self.rng.random_range(0..all.len());
            let name = recipe.name.clone();
            file.groups.push(GroupShape {
                name: format!("Unit {i}"),
                pupils: Some(self.pick(1, 3)),
                unit: (units && self.chance(0.8)).then(|| format!("Bay {}", (i - 1) % bays + 1)),
                recipe: name,
                tins: if self.chance(0.4) { all[from..].to_vec() } else { Vec::new() },
                pace: self.chance(0.2).then_some(1.25),
                keep_apart: apart == Some(i),
                left_out: self.chance(0.03),
                ..GroupShape::default()
            });
        }
    }
}

fn count(n: i64) -> KitCount {
    KitCount::of(n)
}

fn tin(of: &(&str, f64, f64, f64)) -> TinShape {
    TinShape {
        name: of.0.into(),
        form: None,
        rim_mm: (of.1, of.2),
        height_mm: of.3,
        capacity_ml: None,
    }
}
