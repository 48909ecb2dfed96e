//! The shapes of the exported problem. Numbers are minutes from the first
//! start bell and millimetres; positions count from 0 in the exported lists,
//! numbers from 1 in the lesson, as plan files count them.

use serde::Serialize;

#[derive(Serialize)]
pub(super) struct ProblemJson<'a> {
    pub format: u32,
    pub lesson: &'a str,
    pub horizon: i32,
    pub wanted_spare: i32,
    pub call: i32,
    pub tins_per_opening: i32,
    pub adult_at_doors: bool,
    pub heats: Vec<f64>,
    pub periods: Vec<PeriodJson>,
    pub class_steps: Vec<ClassStepJson<'a>>,
    pub pools: Vec<PoolJson<'a>>,
    pub adult_near: Vec<Vec<[usize; 2]>>,
    pub ovens: Vec<OvenJson<'a>>,
    pub groups: Vec<GroupJson<'a>>,
}

#[derive(Serialize)]
pub(super) struct PeriodJson {
    pub start: i32,
    pub end: i32,
    pub opening_end: i32,
    pub closing_start: i32,
}

#[derive(Serialize)]
pub(super) struct ClassStepJson<'a> {
    pub number: usize,
    pub name: &'a str,
    pub period: usize,
    pub minutes: i32,
    pub earliest: i32,
    pub latest: i32,
    pub adults: Vec<usize>,
}

#[derive(Serialize)]
pub(super) struct PoolJson<'a> {
    pub kind: &'static str,
    pub number: usize,
    pub name: &'a str,
    pub count: i32,
    pub taken: Vec<[usize; 2]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub doors: Option<Vec<usize>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub only_for: Option<Vec<usize>>,
}

#[derive(Serialize)]
pub(super) struct OvenJson<'a> {
    pub number: usize,
    pub name: &'a str,
    pub on_from: i32,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub out_from: Option<i32>,
    pub changes: Vec<Vec<i32>>,
    pub shelves: Vec<ShelfJson>,
}

#[derive(Serialize)]
pub(super) struct ShelfJson {
    pub width: i32,
    pub depth: i32,
    pub gap: i32,
    pub clear: i32,
}

#[derive(Serialize)]
pub(super) struct GroupJson<'a> {
    pub number: usize,
    pub name: &'a str,
    pub like: usize,
    pub period: usize,
    pub room: usize,
    pub pupils: i32,
    pub keep_apart: bool,
    pub ovens: Vec<usize>,
    pub shelf: Option<usize>,
    pub adults: Vec<usize>,
    pub options: Vec<OptionJson<'a>>,
}

#[derive(Serialize)]
pub(super) struct OptionJson<'a> {
    pub method: usize,
    pub method_name: &'a str,
    pub tin: Option<usize>,
    pub tin_name: Option<&'a str>,
    pub departure: u64,
    pub tasks: Vec<TaskJson<'a>>,
    pub links: Vec<LinkJson>,
    pub holds: Vec<HoldJson>,
    pub bake: Option<BakeJson<'a>>,
}

#[derive(Serialize)]
pub(super) struct TaskJson<'a> {
    pub name: &'a str,
    pub kind: &'static str,
    pub hands: bool,
    pub when: &'static str,
    pub minutes: i32,
    pub may_last_longer: bool,
    pub earliest: Option<i32>,
    pub latest: Option<i32>,
    pub pupils: i32,
    pub needs: Vec<NeedJson>,
    pub with_adult: bool,
    pub adult_near: bool,
}

#[derive(Serialize)]
pub(super) struct LinkJson {
    pub from: usize,
    pub to: usize,
    pub least: i32,
    pub longest: Option<i32>,
}

#[derive(Serialize)]
pub(super) struct NeedJson {
    pub pools: Vec<usize>,
    pub count: i32,
    pub kept_apart: bool,
}

#[derive(Serialize)]
pub(super) struct HoldJson {
    pub from: usize,
    pub to: usize,
    #[serde(flatten)]
    pub need: NeedJson,
}

#[derive(Serialize)]
pub(super) struct BakeJson<'a> {
    pub load: usize,
    pub bake: usize,
    pub take_out: usize,
    pub tins: i32,
    pub rim: [i32; 2],
    /// The rim is a circle.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub round: bool,
    pub height: i32,
    pub heat: usize,
    pub shut: Option<i32>,
    pub at_most: &'a [Vec<usize>],
}
