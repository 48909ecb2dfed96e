//! A lesson that touches every rule, and a valid plan of it written by hand.
//!
//! One period of 60 minutes; register and demo until minute 8, a tasting
//! within 20 to 45, a talk at 47, plenary and dismissal from minute 54.
//! Unit 1 bakes a delicate sponge in two tins, Unit 2 (slow: pace 1.5) a tray
//! of buns in the same call, Unit 3 (kept apart, with an assistant of its own)
//! a flapjack afterwards, for which the oven goes from 180 to 200 °C. Unit 4
//! is left out by the teacher, Unit 5 cannot be served with all the others.

use std::collections::BTreeSet;

use ovenbell::model::*;
use ovenbell::plan::why::By;
use ovenbell::plan::*;
use ovenbell::units::*;

pub const SPONGE: GroupId = GroupId(0);
pub const BUNS: GroupId = GroupId(1);
pub const FLAPJACK: GroupId = GroupId(2);
#[allow(dead_code)] // the tests of the window look at the served alone
pub const LEFT_OUT: GroupId = GroupId(3);
pub const REFUSED: GroupId = GroupId(4);

pub const TEACHER: AdultId = AdultId(0);
pub const TECHNICIAN: AdultId = AdultId(1);
pub const ASSISTANT: AdultId = AdultId(2);

pub const WHISKS: PoolId = PoolId(0);
pub const SINK_1: PoolId = PoolId(1);
pub const SINK_2: PoolId = PoolId(2);
pub const SINK_3: PoolId = PoolId(3);
pub const SCALES: PoolId = PoolId(4);
pub const RING_3: PoolId = PoolId(5);
pub const BOWLS: PoolId = PoolId(6);
pub const RACKS: PoolId = PoolId(7);

/// Steps of the sponge.
pub mod sponge {
    pub const BUTTER_OUT: usize = 0;
    pub const MIX: usize = 1;
    pub const GREASE: usize = 2;
    pub const FILL: usize = 3;
    pub const LOAD: usize = 4;
    pub const BAKE: usize = 5;
    pub const TAKE_OUT: usize = 6;
    pub const COOL: usize = 7;
    pub const BOX: usize = 8;
    pub const WASH: usize = 9;
}

/// Steps of the buns.
pub mod buns {
    pub const RUB_IN: usize = 0;
    pub const SHAPE: usize = 1;
    pub const LOAD: usize = 2;
    pub const BAKE: usize = 3;
    pub const TAKE_OUT: usize = 4;
    pub const COOL: usize = 5;
    pub const WASH: usize = 6;
    pub const WIPE: usize = 7;
}

/// Steps of the flapjack.
pub mod flapjack {
    pub const MELT: usize = 0;
    pub const PRESS: usize = 1;
    pub const REST: usize = 2;
    pub const LOAD: usize = 3;
    pub const BAKE: usize = 4;
    pub const TAKE_OUT: usize = 5;
    pub const WASH: usize = 6;
}

pub fn at(minute: i32) -> Minute {
    Minute::new(minute)
}

pub fn exact(minutes: f64) -> ExactMinutes {
    ExactMinutes::new(minutes).unwrap()
}

pub fn usual(minutes: f64) -> ThreePoint {
    ThreePoint::usual_only(minutes, Origin::Entered).unwrap()
}

pub fn mm(millimetres: i32) -> Millimetres {
    Millimetres::whole(millimetres)
}

pub fn celsius(degrees: f64) -> Celsius {
    Celsius::new(degrees).unwrap()
}

pub fn hand(name: &str, minutes: f64, pupils: u32, kit: &[(usize, u32)]) -> Step {
    Step {
        name: name.into(),
        kind: StepKind::Hand,
        words: String::new(),
        pupil_words: String::new(),
        done_when: String::new(),
        home: Vec::new(),
        minutes: Some(usual(minutes)),
        cool_to: None,
        pupils: PupilsNeeded::Count(pupils),
        kit: kit.iter().map(|&(kit, count)| (KitId(kit), count)).collect(),
        adult: AdultNeed::None,
        may_be_beforehand: false,
        may_be_collected: false,
    }
}

pub fn by_itself(name: &str, kind: StepKind, minutes: Option<f64>) -> Step {
    Step {
        kind,
        minutes: minutes.map(usual),
        pupils: PupilsNeeded::Count(0),
        ..hand(name, 1.0, 0, &[])
    }
}

pub fn baked() -> [Step; 3] {
    [
        Step { kind: StepKind::Load, ..hand("load", 1.0, 1, &[]) },
        by_itself("bake", StepKind::Bake, None),
        Step { kind: StepKind::TakeOut, ..hand("take out", 1.0, 1, &[]) },
    ]
}

pub fn link(from: usize, to: usize, least: f64, longest: Option<f64>) -> Link {
    Link {
        from: StepId(from),
        to: StepId(to),
        least: exact(least),
        longest: longest.map(|l| Figure::entered(exact(l))),
    }
}

fn hold(kit: usize, from: usize, to: usize) -> Hold {
    Hold { kit: KitId(kit), count: 1, from: StepId(from), to: StepId(to) }
}

fn tin_choice(label: &str, tin: usize, count: u32, degrees: f64, minutes: f64) -> TinChoice {
    TinChoice {
        label: label.into(),
        tin: TinId(tin),
        count,
        batch: 1.0,
        methods: vec![],
        celsius: celsius(degrees),
        minutes: Some(usual(minutes)),
        elsewhere: Vec::new(),
        about_full: None,
        step_minutes: vec![],
    }
}

fn recipe(name: &str, method: Method, tins: Vec<TinChoice>) -> Recipe {
    Recipe {
        name: name.into(),
        ingredients: vec![],
        batter: None,
        bake: BakeRules {
            tolerance: Kelvins::new(10.0).unwrap(),
            shut: None,
            shut_share: 0.75,
            fill_limit: Figure::entered(0.6),
        },
        methods: vec![method],
        tins,
    }
}

fn sponge_recipe() -> Recipe {
    let [load, bake, take_out] = baked();
    let method = Method {
        name: "creaming".into(),
        steps: vec![
            Step { may_be_beforehand: true, ..hand("butter out", 5.0, 1, &[(2, 1)]) },
            hand("mix", 6.0, 1, &[(0, 1)]),
            hand("grease the tins", 3.0, 1, &[]),
            hand("fill", 2.0, 1, &[]),
            load,
            bake,
            take_out,
            by_itself("cool", StepKind::Cool, Some(4.0)),
            Step { adult: AdultNeed::With, ..hand("box", 2.0, 1, &[]) },
            hand("wash up", 4.0, 1, &[(1, 1)]),
        ],
        links: vec![
            link(0, 1, 0.0, None),
            link(1, 3, 0.0, Some(3.0)),
            link(2, 3, 0.0, None),
            link(3, 4, 0.0, Some(5.0)),
            link(4, 5, 0.0, Some(0.0)),
            link(5, 6, 0.0, Some(0.0)),
            link(6, 7, 0.0, Some(2.0)),
            link(7, 8, 0.0, None),
            link(3, 9, 0.0, None),
        ],
        holds: vec![hold(4, 0, 1), hold(4, 1, 3), hold(5, 6, 8)],
        tin_held: Some((StepId(2), StepId(8))),
    };
    let mut other = method.clone();
    other.name = "all-in-one".into();
    let mut two = tin_choice("two sandwich tins", 0, 2, 180.0, 12.0);
    two.step_minutes = vec![("cool".into(), usual(6.0))];
    let mut recipe = recipe("sponge", method, vec![two, tin_choice("deep", 1, 1, 180.0, 15.0)]);
    recipe.methods.push(other);
    recipe.bake.shut = Some(Figure::entered(exact(10.0)));
    // 900 ml in two tins of 800 ml: 450 of at most 480 ml each.
    recipe.batter = Some(Figure::entered(Millilitres::new(900.0).unwrap()));
    recipe
}

fn buns_recipe() -> Recipe {
    let [load, bake, take_out] = baked();
    let method = Method {
        name: "rubbing in".into(),
        steps: vec![
            Step { adult: AdultNeed::Near, ..hand("rub in", 2.0, 1, &[(2, 1)]) },
            hand("shape", 2.0, 1, &[]),
            load,
            bake,
            take_out,
            by_itself("cool", StepKind::Cool, Some(3.0)),
            hand("wash up", 4.0, 1, &[(1, 1)]),
            Step { may_be_collected: true, ..hand("wipe the trays", 3.0, 1, &[(1, 1)]) },
        ],
        links: vec![
            link(0, 1, 0.0, None),
            link(1, 2, 0.0, Some(4.0)),
            link(4, 5, 0.0, None),
            link(5, 7, 0.0, None),
        ],
        holds: vec![hold(5, 4, 7)],
        tin_held: Some((StepId(1), StepId(4))),
    };
    recipe("buns", method, vec![tin_choice("12 buns", 2, 1, 180.0, 12.0)])
}

fn flapjack_recipe() -> Recipe {
    let [load, bake, take_out] = baked();
    let method = Method {
        name: "melting".into(),
        steps: vec![
            Step { adult: AdultNeed::With, ..hand("melt", 4.0, 1, &[(3, 1)]) },
            hand("press", 2.0, 2, &[(0, 1)]),
            by_itself("rest", StepKind::Wait, Some(3.0)),
            load,
            bake,
            take_out,
            Step { pupils: PupilsNeeded::All, ..hand("wash up", 3.0, 0, &[(1, 1)]) },
        ],
        links: vec![
            link(0, 1, 0.0, Some(2.0)),
            link(1, 2, 0.0, Some(0.0)),
            link(1, 3, 0.0, Some(10.0)),
            link(2, 3, 0.0, None),
            link(5, 6, 0.0, None),
        ],
        holds: vec![],
        tin_held: Some((StepId(1), StepId(5))),
    };
    recipe("flapjack", method, vec![tin_choice("a foil tray", 3, 1, 200.0, 10.0)])
}

fn oven(name: &str, unit: Option<usize>, shelves: usize) -> Oven {
    Oven {
        name: name.into(),
        room: RoomId(0),
        unit: unit.map(UnitId),
        kind: OvenKind::Fan,
        shelves: vec![Shelf { width: mm(450), depth: mm(360), clear: mm(120) }; shelves],
        gap: Figure::entered(mm(20)),
        warm_up: Figure::entered(exact(10.0)),
        cool_down: Figure::entered(exact(5.0)),
        correction: Kelvins::new(0.0).unwrap(),
        out_of_order: false,
        out_from: None,
        on_from: None,
    }
}

fn pool(kit: usize, room: Option<usize>, unit: Option<usize>, count: u32) -> KitPool {
    KitPool { kit: KitId(kit), room: room.map(RoomId), unit: unit.map(UnitId), count }
}

fn tin(name: &str, rim: (i32, i32), height: i32, capacity: Option<f64>) -> Tin {
    Tin {
        name: name.into(),
        form: None,
        rim: (mm(rim.0), mm(rim.1)),
        height: mm(height),
        capacity: capacity.map(|c| Figure::entered(Millilitres::new(c).unwrap())),
    }
}

pub fn group(name: &str, unit: Option<usize>, recipe: usize) -> Group {
    Group {
        name: name.into(),
        pupils: 2,
        room: RoomId(0),
        unit: unit.map(UnitId),
        period: PeriodId(0),
        recipe: RecipeId(recipe),
        methods: vec![MethodId(0)],
        tins: vec![TinChoiceId(0)],
        pace: 1.0,
        keep_apart: false,
        needs: Vec::new(),
        beforehand: BTreeSet::new(),
        collected: BTreeSet::new(),
        attendance: Attendance::TakesPart,
        baked_for: None,
    }
}

fn groups() -> Vec<Group> {
    let names = |name: &str| BTreeSet::from([name.to_owned()]);
    vec![
        Group {
            methods: vec![MethodId(0), MethodId(1)],
            tins: vec![TinChoiceId(0), TinChoiceId(1)],
            beforehand: names("butter out"),
            ..group("Unit 1", Some(0), 0)
        },
        Group { pace: 1.5, collected: names("wipe the trays"), ..group("Unit 2", Some(1), 1) },
        Group { pupils: 3, keep_apart: true, ..group("Unit 3", Some(2), 2) },
        Group { attendance: Attendance::LeftOut, ..group("Unit 4", None, 2) },
        group("Unit 5", None, 2),
    ]
}

pub fn class_step(name: &str, phase: Phase, timing: Timing, minutes: f64) -> ClassStep {
    ClassStep {
        name: name.into(),
        period: PeriodId(0),
        phase,
        timing,
        minutes: usual(minutes),
        adults: vec![TEACHER],
        may_be_dropped: name == "plenary",
    }
}

fn class_steps() -> Vec<ClassStep> {
    vec![
        class_step("register", Phase::Opening, Timing::InTurn, 2.5),
        class_step("demo", Phase::Opening, Timing::InTurn, 5.0),
        class_step("tasting", Phase::During, Timing::Between(at(20), at(45)), 2.0),
        class_step("talk", Phase::During, Timing::At(at(47)), 1.0),
        class_step("plenary", Phase::Closing, Timing::InTurn, 4.0),
        class_step("dismissal", Phase::Closing, Timing::InTurn, 2.0),
    ]
}

fn adults() -> Vec<Adult> {
    let adult = |name: &str, room: Option<usize>, hours: &[(i32, i32)]| Adult {
        name: name.into(),
        room: room.map(RoomId),
        hours: hours.iter().map(|&(from, until)| (at(from), at(until))).collect(),
        attached_to: None,
    };
    vec![
        adult("teacher", Some(0), &[(-10, 60)]),
        adult("technician", None, &[(30, 70), (-30, 30)]),
        Adult { attached_to: Some(FLAPJACK), ..adult("assistant", Some(0), &[(0, 60)]) },
    ]
}

pub fn period(start: i32, end: i32) -> Period {
    Period {
        name: format!("period from {start}"),
        start_clock: ClockTime::parse("10:00").unwrap(),
        start: at(start),
        end: at(end),
        ovens_on_from: at(start - 20),
        ovens_on_by: None,
    }
}

fn kit_kinds() -> Vec<KitKind> {
    let kinds = [
        ("whisk", true),
        ("sink", false),
        ("scales", true),
        ("ring", false),
        ("bowl", true),
        ("rack place", true),
    ];
    kinds.map(|(name, touches_food)| KitKind { name: name.into(), touches_food }).to_vec()
}

fn kit_pools() -> Vec<KitPool> {
    vec![
        pool(0, Some(0), None, 2),
        pool(1, Some(0), Some(0), 1),
        pool(1, Some(0), Some(1), 1),
        pool(1, Some(0), Some(2), 1),
        pool(2, None, None, 1),
        pool(3, Some(0), Some(2), 1),
        pool(4, Some(0), None, 2),
        pool(5, Some(0), None, 2),
    ]
}

pub fn parts() -> LessonParts {
    let room = |name: &str| Room { name: name.into(), sharing: false };
    let unit = |name: &str| UnitBay { name: name.into(), room: RoomId(0) };
    let stock = |tin, count| TinPool { tin: TinId(tin), room: RoomId(0), count };
    LessonParts {
        title: "Baking".into(),
        date: None,
        zone: None,
        class: Class { name: "2B".into() },
        rules: Rules {
            wanted_spare: Figure::entered(Minutes::new(5)),
            call: Figure::entered(Minutes::new(3)),
            tins_per_opening: Figure::entered(4),
            at_ovens: AtOvens::AtDoor,
            caution: 0.0,
            washed_is_unused: false,
            call_waits: false,
            sharing: None,
            class_limit: Figure::entered(20),
        },
        periods: vec![period(0, 60)],
        class_steps: class_steps(),
        rooms: vec![room("F1"), room("F2")],
        units: vec![unit("Unit 1"), unit("Unit 2"), unit("Unit 3")],
        ovens: vec![oven("Oven 1", None, 2), oven("Oven 2", None, 1), oven("Oven 3", Some(1), 2)],
        kit_kinds: kit_kinds(),
        kit_pools: kit_pools(),
        tins: vec![
            tin("sandwich tin", (200, 200), 40, Some(800.0)),
            tin("deep tin", (180, 180), 80, Some(1600.0)),
            tin("bun tray", (350, 260), 30, None),
            tin("foil tray", (300, 200), 40, None),
        ],
        tin_pools: vec![stock(0, 2), stock(2, 1)],
        adults: adults(),
        recipes: vec![sponge_recipe(), buns_recipe(), flapjack_recipe()],
        groups: groups(),
        locks: vec![
            Lock { group: SPONGE, to: LockedTo::Method(MethodId(0)) },
            Lock { group: SPONGE, to: LockedTo::Oven(OvenId(0), Some(ShelfId(0))) },
            Lock { group: BUNS, to: LockedTo::Tin(TinChoiceId(0)) },
            Lock { group: BUNS, to: LockedTo::Start("load".into(), at(16)) },
            Lock { group: FLAPJACK, to: LockedTo::Oven(OvenId(0), None) },
            // Holds of a group only if it is served.
            Lock { group: REFUSED, to: LockedTo::Start("melt".into(), at(9)) },
        ],
        together: Together::USUAL,
        change_costs: ChangeCosts::default(),
        assumed: vec![],
        today: None,
        begun: None,
        teacher_notes: Vec::new(),
        packets: Vec::new(),
    }
}

pub fn choice(group: GroupId, tin: Option<usize>) -> Choice {
    Choice { group, method: MethodId(0), tin: tin.map(TinChoiceId) }
}

pub fn placed(group: GroupId, step: usize, start: i32, end: i32, pupils: &[u32]) -> StepPlacement {
    StepPlacement {
        group,
        step: StepId(step),
        start: at(start),
        end: at(end),
        pupils: pupils.to_vec(),
        adult: None,
    }
}

fn steps() -> Vec<StepPlacement> {
    let with = |adult, step: StepPlacement| StepPlacement { adult: Some(adult), ..step };
    vec![
        placed(SPONGE, sponge::BUTTER_OUT, -8, -3, &[]),
        placed(SPONGE, sponge::MIX, 8, 14, &[0]),
        placed(SPONGE, sponge::GREASE, 8, 11, &[1]),
        placed(SPONGE, sponge::FILL, 14, 16, &[0]),
        placed(SPONGE, sponge::LOAD, 16, 17, &[0]),
        placed(SPONGE, sponge::BAKE, 17, 29, &[]),
        placed(SPONGE, sponge::TAKE_OUT, 29, 30, &[0]),
        placed(SPONGE, sponge::COOL, 30, 36, &[]),
        with(TEACHER, placed(SPONGE, sponge::BOX, 36, 38, &[0])),
        placed(SPONGE, sponge::WASH, 17, 21, &[1]),
        placed(BUNS, buns::RUB_IN, 8, 11, &[0]),
        placed(BUNS, buns::SHAPE, 11, 14, &[0]),
        placed(BUNS, buns::LOAD, 16, 18, &[0]),
        placed(BUNS, buns::BAKE, 18, 30, &[]),
        placed(BUNS, buns::TAKE_OUT, 30, 32, &[0]),
        placed(BUNS, buns::COOL, 32, 35, &[]),
        placed(BUNS, buns::WASH, 20, 26, &[1]),
        placed(BUNS, buns::WIPE, 60, 65, &[]),
        with(ASSISTANT, placed(FLAPJACK, flapjack::MELT, 20, 24, &[0])),
        placed(FLAPJACK, flapjack::PRESS, 24, 26, &[0, 1]),
        placed(FLAPJACK, flapjack::REST, 26, 29, &[]),
        placed(FLAPJACK, flapjack::LOAD, 34, 35, &[2]),
        placed(FLAPJACK, flapjack::BAKE, 35, 45, &[]),
        placed(FLAPJACK, flapjack::TAKE_OUT, 45, 46, &[2]),
        placed(FLAPJACK, flapjack::WASH, 48, 51, &[0, 1, 2]),
    ]
}

pub fn in_use(group: GroupId, of: Stock, items: &[u32], start: i32, end: i32) -> KitUse {
    KitUse { group, of, items: items.to_vec(), start: at(start), end: at(end) }
}

fn uses() -> Vec<KitUse> {
    let kit = Stock::Kit;
    let tin = |tin| Stock::Tin(TinId(tin));
    vec![
        in_use(SPONGE, kit(WHISKS), &[0], 8, 14),
        in_use(SPONGE, kit(SINK_1), &[0], 17, 21),
        // From a step done beforehand: from the start bell.
        in_use(SPONGE, kit(BOWLS), &[0], 0, 14),
        in_use(SPONGE, kit(BOWLS), &[1], 8, 16),
        in_use(SPONGE, kit(RACKS), &[0], 29, 38),
        in_use(SPONGE, tin(0), &[0, 1], 8, 38),
        in_use(BUNS, kit(SCALES), &[0], 8, 11),
        in_use(BUNS, kit(SINK_2), &[0], 20, 26),
        // To a step that is collected: to the end bell.
        in_use(BUNS, kit(RACKS), &[1], 30, 60),
        in_use(BUNS, tin(2), &[0], 11, 32),
        in_use(FLAPJACK, kit(RING_3), &[0], 20, 24),
        in_use(FLAPJACK, kit(WHISKS), &[1], 24, 26),
        in_use(FLAPJACK, kit(SINK_3), &[0], 48, 51),
    ]
}

pub fn load(group: GroupId, number: u32, start: i32, end: i32, degrees: f64) -> Load {
    Load {
        group,
        number,
        oven: OvenId(0),
        shelf: ShelfId(0),
        start: at(start),
        end: at(end),
        celsius: celsius(degrees),
        place: Place::FIRST,
    }
}

/// By its left front corner, not turned.
pub fn corner(x: i32, y: i32) -> Place {
    let (x, y) = (FineMillimetres::whole(x), FineMillimetres::whole(y));
    Place::Corner { x, y, turned: false }
}

pub fn turned(place: Place) -> Place {
    match place {
        Place::Corner { x, y, turned } => Place::Corner { x, y, turned: !turned },
        centre @ Place::Centre { .. } => centre,
    }
}

pub fn setting(oven: usize, degrees: f64, set_at: i32, hot_from: i32, until: i32) -> OvenSetting {
    OvenSetting {
        oven: OvenId(oven),
        celsius: celsius(degrees),
        set_at: at(set_at),
        hot_from: at(hot_from),
        until: at(until),
    }
}

pub fn watch(oven: usize, minute: i32, adult: AdultId) -> DoorWatch {
    DoorWatch { oven: OvenId(oven), minute: at(minute), adult }
}

pub fn class_placed(step: usize, start: i32, end: i32) -> ClassPlacement {
    ClassPlacement { step: ClassStepId(step), start: at(start), end: at(end) }
}

pub fn refused(group: GroupId, refusal: Refusal) -> NotServed {
    let (by, reason) = (By::Nothing, "no oven is free".into());
    NotServed { group, refusal, by, rules: vec![Rule::OneOven], reason }
}

pub fn plan() -> Plan {
    Plan {
        choices: [SPONGE, BUNS, FLAPJACK].map(|g| choice(g, Some(0))).to_vec(),
        steps: steps(),
        loads: vec![
            load(SPONGE, 0, 16, 30, 180.0),
            Load { place: corner(220, 0), ..load(SPONGE, 1, 16, 30, 180.0) },
            Load { shelf: ShelfId(1), ..load(BUNS, 0, 16, 32, 180.0) },
            Load { place: turned(Place::FIRST), ..load(FLAPJACK, 0, 34, 46, 200.0) },
        ],
        uses: uses(),
        class_steps: vec![
            class_placed(0, 0, 3),
            class_placed(1, 3, 8),
            class_placed(2, 38, 40),
            class_placed(3, 47, 48),
            class_placed(4, 54, 58),
            class_placed(5, 58, 60),
        ],
        settings: vec![
            // 160 K in 10 min, then 20 K more in 1 ¼, so 2 min.
            setting(0, 180.0, -12, -2, 32),
            setting(0, 200.0, 32, 34, 46),
            setting(1, 180.0, -12, -2, 60),
        ],
        door_watches: vec![
            watch(0, 16, TEACHER),
            watch(0, 17, TEACHER),
            watch(0, 29, TEACHER),
            watch(0, 30, TECHNICIAN),
            watch(0, 31, TECHNICIAN),
            watch(0, 34, ASSISTANT),
            watch(0, 45, ASSISTANT),
        ],
        not_served: vec![refused(REFUSED, Refusal::CannotAll)],
        bounds: None,
    }
}
