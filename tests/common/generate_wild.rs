//! A seeded generator of lessons in families, each of which presses on one thing:
//! shelves, heats, kit, adults, doors, groups kept apart, longest gaps, tins in
//! stock, periods, rooms, locks, round tins, and several at once. Every second
//! lesson is tight. All of it is invented.

use std::sync::atomic::AtomicBool;

use ovenbell::check::judge_of;
use ovenbell::file::format::*;
use ovenbell::file::{read_lesson, write_lesson};
use ovenbell::planner::{Budget, plan_lesson};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use super::generate::{lesson_of, make_round};

/// What lessons of a family press on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Family {
    /// Tins of many sizes on shelves of many sizes.
    Shelves,
    /// Recipes that want other temperatures, and ovens slow to change.
    Heats,
    /// Scales, whisks, sinks and rings for a few groups only.
    Kit,
    /// Steps with an adult or one near, and adults who come and go.
    Adults,
    /// An adult at each open door, long loading, few tins at a time.
    Doors,
    /// Groups kept apart.
    Apart,
    /// Short longest gaps, waits, what is done beforehand or collected.
    Gaps,
    /// Few tins in stock, taken from a step before the mixing.
    Stock,
    /// Two periods one after the other, or at one time.
    Periods,
    /// Two rooms with kit and adults that serve both.
    Rooms,
    /// Tins, ovens and minutes held where an earlier plan has them.
    Locks,
    /// Round tins.
    Round,
    /// Three of them at once.
    Several,
}

/// All families, in the order of their seeds.
pub const FAMILIES: [Family; 13] = [
    Family::Shelves,
    Family::Heats,
    Family::Kit,
    Family::Adults,
    Family::Doors,
    Family::Apart,
    Family::Gaps,
    Family::Stock,
    Family::Periods,
    Family::Rooms,
    Family::Locks,
    Family::Round,
    Family::Several,
];

impl Family {
    /// Its name in file names and tables.
    pub fn name(self) -> String {
        format!("{self:?}").to_lowercase()
    }
}

/// A lesson of a family, with 2 to 14 groups; of odd seeds a tight one.
pub fn wild_lesson(family: Family, seed: u64) -> LessonFile {
    let mixed =
        seed.wrapping_mul(0xD134_2543_DE82_EF95) ^ (family as u64).wrapping_mul(0x9E37_79B9);
    let mut press = Press { rng: Pcg64Mcg::seed_from_u64(mixed) };
    let groups = press.pick(2, 14);
    let mut file = lesson_of(mixed, groups);
    file.title = format!("{} {seed}", family.name());
    press.several_tins(&mut file);
    if family == Family::Several {
        for _ in 0..3 {
            let one = FAMILIES[press.pick(0, 9) as usize];
            press.on(one, &mut file, groups);
        }
    } else if family != Family::Locks {
        press.on(family, &mut file, groups);
    }
    if seed % 2 == 1 {
        press.tighten(&mut file);
    }
    if family == Family::Locks || family == Family::Several && press.chance(0.3) {
        press.hold(&mut file);
    }
    file
}

struct Press {
    rng: Pcg64Mcg,
}

impl Press {
    fn chance(&mut self, p: f64) -> bool {
        self.rng.random_bool(p)
    }

    fn pick(&mut self, from: i64, to: i64) -> i64 {
        self.rng.random_range(from..=to)
    }

    fn on(&mut self, family: Family, file: &mut LessonFile, groups: i64) {
        match family {
            Family::Shelves => self.shelves(file),
            Family::Heats => self.heats(file),
            Family::Kit => self.kit(file, groups),
            Family::Adults => self.adults(file),
            Family::Doors => self.doors(file),
            Family::Apart => self.apart(file),
            Family::Gaps => self.gaps(file),
            Family::Stock => self.stock(file),
            Family::Periods => self.periods(file),
            Family::Rooms => self.rooms(file),
            Family::Round => make_round(file, self.rng.random()),
            Family::Locks | Family::Several => {}
        }
    }

    /// Most groups may use any tin of their recipe.
    fn several_tins(&mut self, file: &mut LessonFile) {
        for group in &mut file.groups {
            if self.chance(0.6) {
                group.tins.clear();
            }
        }
    }

    fn shelves(&mut self, file: &mut LessonFile) {
        let sizes =
            [(300.0, 280.0), (380.0, 320.0), (420.0, 360.0), (450.0, 380.0), (360.0, 400.0)];
        for oven in ovens(file) {
            oven.shelf_mm = Some(sizes[self.pick(0, 4) as usize]);
            oven.shelves = Some(self.pick(1, 3));
            oven.clear_mm = self.chance(0.3).then(|| self.pick(50, 90) as f64);
            oven.gap_mm = self.chance(0.3).then(|| self.pick(5, 30) as f64);
        }
        for recipe in &mut file.recipes {
            for tin in &mut recipe.tins {
                if tin.count.is_some() {
                    tin.count = Some(self.pick(1, 4));
                }
            }
        }
    }

    fn heats(&mut self, file: &mut LessonFile) {
        let heats = [150.0, 170.0, 180.0, 200.0, 220.0];
        for recipe in &mut file.recipes {
            let celsius = heats[self.pick(0, 4) as usize];
            recipe.tins.iter_mut().for_each(|tin| tin.celsius = Some(celsius));
        }
        for oven in ovens(file) {
            oven.warm_up = Some(self.pick(10, 25) as f64);
            oven.cool_down = self.chance(0.5).then(|| self.pick(5, 15) as f64);
        }
        file.period.ovens_on_from = Some(-(self.pick(0, 10) as i32));
    }

    fn kit(&mut self, file: &mut LessonFile, groups: i64) {
        let of = self.pick(3, 5);
        for (name, count) in &mut file.room.kit.0 {
            if ["sink", "scales", "whisk", "ring", "rack place"].contains(&name.as_str()) {
                count.count = ((groups + of - 1) / of).max(1);
            }
        }
    }

    fn adults(&mut self, file: &mut LessonFile) {
        let length = length(&file.period);
        for recipe in &mut file.recipes {
            for method in &mut recipe.methods {
                for step in &mut method.steps {
                    if ["mix", "melt", "fill"].contains(&step.name.as_str()) && self.chance(0.4) {
                        let near = self.chance(0.5);
                        step.adult = if near { AdultShapeNeed::Near } else { AdultShapeNeed::With };
                    }
                }
            }
            if self.chance(0.3) {
                recipe.bake.adult = AdultShapeNeed::Near;
            }
        }
        let technician = || AdultShape { name: "technician".into(), ..AdultShape::default() };
        if file.adults.len() < 2 {
            file.adults.push(technician());
        }
        let from = self.pick(0, 15) as i32;
        file.adults[1].hours = vec![(from, length / 2), (length / 2 + 5, length)];
    }

    fn doors(&mut self, file: &mut LessonFile) {
        file.rules.adult_at_doors = Some(true);
        file.rules.tins_per_opening = Some(self.pick(2, 4));
        for recipe in &mut file.recipes {
            recipe.bake.load = Some(StatedMinutes::Three(1.0, 1.5, 2.0));
            recipe.bake.shut = self.chance(0.6).then(|| self.pick(6, 15) as f64);
        }
    }

    fn apart(&mut self, file: &mut LessonFile) {
        for _ in 0..self.pick(1, 3) {
            let g = self.pick(0, file.groups.len() as i64 - 1) as usize;
            file.groups[g].keep_apart = true;
        }
    }

    fn gaps(&mut self, file: &mut LessonFile) {
        let longest = self.pick(2, 6) as f64;
        for recipe in &mut file.recipes {
            for method in &mut recipe.methods {
                method.links.retain(|link| link.to != "bake");
                method.links.push(LinkShape {
                    from: "fill".into(),
                    to: "bake".into(),
                    least: None,
                    longest: Some(longest),
                });
                if self.chance(0.3) {
                    let (from, to) = ("weigh".into(), "mix".into());
                    method.links.push(LinkShape { from, to, least: None, longest: Some(10.0) });
                }
            }
        }
        if self.chance(0.5) {
            file.beforehand = vec!["weigh".into()];
        }
        if self.chance(0.4) {
            file.collected = vec!["cool".into(), "box".into()];
        }
    }

    fn stock(&mut self, file: &mut LessonFile) {
        let used: Vec<String> =
            file.recipes.iter().flat_map(|r| r.tins.iter().map(|t| t.tin.clone())).collect();
        let groups = file.groups.len() as i64;
        let mut stock: Vec<(String, i64)> = Vec::new();
        for name in used {
            if !stock.iter().any(|(of, _)| *of == name) {
                stock.push((name, self.pick(1, (groups / 2).max(2))));
            }
        }
        file.room.tins = Entries(stock);
        for recipe in &mut file.recipes {
            for method in &mut recipe.methods {
                method.tin_held =
                    Some((if self.chance(0.5) { "line" } else { "fill" }.into(), "box".into()));
            }
        }
    }

    fn periods(&mut self, file: &mut LessonFile) {
        let mut other = file.period.clone();
        file.period.name = "first".into();
        other.name = "second".into();
        let length = length(&file.period);
        // One after the other, or overlapping by half.
        let starts = if self.chance(0.5) { 600 + length } else { 600 + length / 2 };
        (other.start, other.end) = (clock(starts), clock(starts + length));
        for step in &mut other.during {
            // Of the second period's own minutes.
            step.adults.clear();
        }
        file.other_periods = vec![other];
        for (g, group) in file.groups.iter_mut().enumerate() {
            group.period = Some(if g % 2 == 0 { "first" } else { "second" }.into());
        }
    }

    fn rooms(&mut self, file: &mut LessonFile) {
        let mut other = file.room.clone();
        other.name = "Room 5".into();
        for unit in &mut other.units {
            unit.name = format!("{} of room 5", unit.name);
            unit.ovens.iter_mut().for_each(|o| o.name = format!("{} of room 5", o.name));
        }
        other.ovens.iter_mut().for_each(|o| o.name = format!("{} of room 5", o.name));
        // What goes from room to room stands in no room.
        file.room.kit.0.retain(|(name, _)| name != "whisk");
        other.kit.0.retain(|(name, _)| name != "whisk");
        let whisks = self.pick(1, 3);
        file.shared_kit = Entries(vec![("whisk".into(), KitCount::of(whisks))]);
        for (g, group) in file.groups.iter_mut().enumerate() {
            if g % 2 == 1 {
                group.room = Some("Room 5".into());
                group.unit = group.unit.take().map(|unit| format!("{unit} of room 5"));
            } else {
                group.room = Some(file.room.name.clone());
            }
        }
        file.other_rooms = vec![other];
    }

    /// An earlier bell, and now and then an oven less.
    fn tighten(&mut self, file: &mut LessonFile) {
        let most = length(&file.period) / 5;
        let by = self.pick(3, i64::from(most.max(4))) as i32;
        let last = minutes_of(&file.period.end) - by;
        file.period.end = clock(last);
        if self.chance(0.5)
            && let Some(oven) = file.room.ovens.first_mut()
            && let Some(count @ 2..) = oven.count
        {
            oven.count = Some(count - 1);
        }
    }

    /// Holds some of a quick plan.
    fn hold(&mut self, file: &mut LessonFile) {
        let Ok(read) = write_lesson(file).map_err(drop).and_then(|t| read_lesson(&t).map_err(drop))
        else {
            return;
        };
        let lesson = read.lesson;
        let budget = Budget { within: None, decodings: Some(50), seed: 3 };

        let Ok(best) =
            plan_lesson(&lesson, &budget, &AtomicBool::new(false), judge_of(&lesson), |_| {})
        else {
            return;
        };
        let plan = best.judged.plan().clone();
        for choice in &plan.choices {
            let group = lesson.groups[choice.group.0].name.clone();
            if self.chance(0.3)
                && let Some(tin) = choice.tin
            {
                let tin = lesson.recipes[lesson.groups[choice.group.0].recipe.0].tins[tin.0]
                    .label
                    .clone();
                file.locks.push(LockShape {
                    group: group.clone(),
                    tin: Some(tin),
                    ..LockShape::default()
                });
            }
            if self.chance(0.25)
                && let Some(load) = plan.loads.iter().find(|l| l.group == choice.group)
            {
                let oven = Some(lesson.ovens[load.oven.0].name.clone());
                file.locks.push(LockShape { group: group.clone(), oven, ..LockShape::default() });
            }
        }
    }
}

/// All ovens of the first room.
fn ovens(file: &mut LessonFile) -> impl Iterator<Item = &mut OvenShape> {
    let room = &mut file.room;
    room.ovens.iter_mut().chain(room.units.iter_mut().flat_map(|unit| &mut unit.ovens))
}

fn minutes_of(clock: &str) -> i32 {
    let (hours, minutes) = clock.split_once(':').expect("a clock time");
    hours.parse::<i32>().expect("hours") * 60 + minutes.parse::<i32>().expect("minutes")
}

fn clock(minutes: i32) -> String {
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

fn length(period: &PeriodShape) -> i32 {
    minutes_of(&period.end) - minutes_of(&period.start)
}
