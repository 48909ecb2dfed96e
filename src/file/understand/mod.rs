//! From the shapes of a lesson file to a lesson, or to all that is wrong.
//!
//! Every part is built even where something in it is wrong, so that ids stay
//! those of the file and one slip is not reported as many. Whether a lesson
//! comes out is decided at the end, by the findings.

mod adults;
mod changes;
pub(in crate::file) mod findings;
mod fitting;
mod graph;
mod groups;
mod kit;
mod locks;
mod locksteps;
mod methods;
pub(in crate::file) mod names;
mod outside;
mod ovens;
mod packets;
mod periods;
mod playing;
mod pointer;
mod presence;
mod recipes;
mod rooms;
mod steps;
mod teacher;
mod tins;
mod today;
mod ways;
mod worked_out;

pub use self::kit::touches_food_by_name;
pub use self::playing::dropped_by_name;

use self::findings::Findings;
use self::names::Names;
use self::recipes::RecipeNames;
use super::format::{LessonFile, RulesShape};
use crate::finding::{Finding, Path};
use crate::model::{
    About, Assumption, AtOvens, ChangeCosts, Class, Figure, Lesson, LessonParts, PastBake, Rules,
    Together,
};
use crate::units::Minutes;

/// The lesson of a file, with what earlier bakes took. Findings carry paths but
/// no places yet.
pub(super) fn understood(file: &LessonFile, past: &[PastBake]) -> (Option<Lesson>, Vec<Finding>) {
    let mut builder = Builder::new(file, past);
    builder.head();
    builder.rules();
    builder.together();
    builder.change_costs();
    builder.name_adults_and_groups();
    builder.tins();
    builder.rooms();
    builder.recipes();
    builder.check_ways_as_written();
    builder.work_out();
    builder.periods();
    builder.groups();
    builder.work_out_elsewhere();
    builder.adults();
    builder.locks();
    builder.check_ways();
    builder.today();
    builder.teacher();
    builder.packets();
    builder.check_presence();
    builder.finish()
}

/// A lesson in the making.
struct Builder<'a> {
    file: &'a LessonFile,
    past: &'a [PastBake],
    /// Minutes nobody stated were worked out, as far as they can be.
    worked_out: bool,
    findings: Findings,
    parts: LessonParts,
    rooms: Names,
    /// Units of each room.
    units: Vec<Names>,
    ovens: Names,
    kit: Names,
    tins: Names,
    adults: Names,
    periods: Names,
    recipes: Names,
    groups: Names,
    /// How many groups each entry makes.
    members: Vec<usize>,
    /// Whether the recipe of each group is known.
    sound: Vec<bool>,
    /// Names within each recipe.
    inside: Vec<RecipeNames>,
}

impl<'a> Builder<'a> {
    fn new(file: &'a LessonFile, past: &'a [PastBake]) -> Self {
        Self {
            file,
            past,
            worked_out: false,
            findings: Findings::default(),
            parts: empty_parts(),
            rooms: Names::new("room"),
            units: Vec::new(),
            ovens: Names::new("oven"),
            kit: Names::new("kit"),
            tins: Names::new("tin"),
            adults: Names::new("adult"),
            periods: Names::new("period"),
            recipes: Names::new("recipe"),
            groups: Names::new("group"),
            members: Vec::new(),
            sound: Vec::new(),
            inside: Vec::new(),
        }
    }

    fn assume(&mut self, about: About, at: Path, text: impl Into<String>) {
        self.parts.assumed.push(Assumption { about, at, text: text.into() });
    }

    /// Id, title, day and class.
    fn head(&mut self) {
        let root = Path::root();
        if let Some(id) = &self.file.id {
            self.lesson_id(&root.field("id"), id);
        }
        self.parts.title.clone_from(&self.file.title);
        self.parts.class = Class { name: self.file.class.name.clone() };
        for (path, what, text) in [
            (root.field("title"), "lesson", &self.file.title),
            (root.field("class").field("name"), "class", &self.file.class.name),
        ] {
            if !text.is_empty() {
                names::check_name(&mut self.findings, &path, what, text);
            }
        }
        if let Some(date) = &self.file.date {
            self.parts.date = self.findings.day(&root.field("date"), date);
        }
        if let Some(zone) = &self.file.zone {
            self.parts.zone = zone.parse().ok();
            if self.parts.zone.is_none() {
                let message = format!("{} is no time zone", findings::quoted(zone));
                let hint = "write its name in the IANA's database like \"Europe/London\"";
                self.findings.error("zone", &root.field("zone"), message, hint);
            }
        }
    }

    fn rules(&mut self) {
        let path = Path::root().field("rules");
        let shape: &RulesShape = &self.file.rules;
        let spare =
            self.rule(&path, "wanted_spare", "wanted spare", shape.wanted_spare, (5, 0, 480));
        let call = self.rule(&path, "call", "one oven call", shape.call, (3, 1, 60));
        let tins = match shape.tins_per_opening {
            Some(tins) => {
                let path = path.field("tins_per_opening");
                let range = (1, 60);
                Figure::entered(
                    self.findings.count(&path, "tins per opening", tins, range).unwrap_or(4),
                )
            }
            None => {
                let at = path.field("tins_per_opening");
                self.assume(About::Everything, at, "tins one opening of an oven door moves: 4");
                Figure::assumed(4)
            }
        };
        let adult_at_doors = self.adult_at_doors(&path);
        let class_limit = match shape.class_limit {
            Some(limit) => {
                let path = path.field("class_limit");
                let limit = self.findings.count(&path, "the class limit", limit, (1, 500));
                Figure::entered(limit.unwrap_or(Rules::CLASS_LIMIT))
            }
            None => Figure::assumed(Rules::CLASS_LIMIT),
        };
        let at = path.field("caution");
        let caution = self.findings.range(&at, "caution", shape.caution, (0.0, 1.0));
        self.parts.rules = Rules {
            wanted_spare: spare,
            call,
            tins_per_opening: tins,
            at_ovens: AtOvens::of(shape.adult_near_ovens, adult_at_doors),
            caution: caution.unwrap_or(0.0),
            washed_is_unused: shape.washed_is_unused,
            call_waits: shape.call_waits,
            sharing: shape.sharing,
            class_limit,
        };
    }

    /// Whether an adult stands at open doors, told as assumed where the lesson does
    /// not say.
    fn adult_at_doors(&mut self, path: &Path) -> bool {
        let stands = self.file.adult_at_doors();
        if stands && self.file.rules.adult_at_doors.is_none() {
            let text = "an adult stands at every open oven door, for ages 11 to 12";
            self.assume(About::Everything, path.field("adult_at_doors"), text);
        }
        stands
    }

    /// A rule in whole minutes: its default, least and greatest value.
    fn rule(
        &mut self,
        path: &Path,
        field: &str,
        what: &str,
        stated: Option<i32>,
        (default, low, high): (i32, i32, i32),
    ) -> Figure<Minutes> {
        let Some(minutes) = stated else {
            self.assume(About::Everything, path.field(field), format!("{what}: {default} min"));
            return Figure::assumed(Minutes::new(default));
        };
        let minutes = self.findings.whole(&path.field(field), what, minutes, (low, high));
        Figure::entered(Minutes::new(minutes.unwrap_or(default)))
    }

    fn finish(mut self) -> (Option<Lesson>, Vec<Finding>) {
        if self.findings.any_error() {
            return (None, self.findings.into_list());
        }
        match Lesson::new(self.parts) {
            Ok(lesson) => (Some(lesson), self.findings.into_list()),
            Err(invalid) => {
                let hint = "this should have been found earlier: please report it";
                self.findings.error("not-a-lesson", &Path::root(), invalid.to_string(), hint);
                (None, self.findings.into_list())
            }
        }
    }
}

fn empty_parts() -> LessonParts {
    LessonParts {
        title: String::new(),
        date: None,
        zone: None,
        class: Class::default(),
        rules: Rules {
            wanted_spare: Figure::assumed(Minutes::ZERO),
            call: Figure::assumed(Minutes::ZERO),
            tins_per_opening: Figure::assumed(1),
            at_ovens: AtOvens::Nobody,
            caution: 0.0,
            washed_is_unused: false,
            call_waits: false,
            sharing: None,
            class_limit: Figure::assumed(Rules::CLASS_LIMIT),
        },
        periods: Vec::new(),
        class_steps: Vec::new(),
        rooms: Vec::new(),
        units: Vec::new(),
        ovens: Vec::new(),
        kit_kinds: Vec::new(),
        kit_pools: Vec::new(),
        tins: Vec::new(),
        tin_pools: Vec::new(),
        adults: Vec::new(),
        recipes: Vec::new(),
        groups: Vec::new(),
        locks: Vec::new(),
        together: Together::USUAL,
        change_costs: ChangeCosts::default(),
        assumed: Vec::new(),
        today: None,
        begun: None,
        teacher_notes: Vec::new(),
        packets: Vec::new(),
    }
}
