//! The minutes everything takes in a run.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

use super::luck::{Luck, named};
use super::network::{Minutes, Network, Node, What, Work};
use super::shape::{Drawn, Shape, Tables};
use crate::model::{ClassStepId, GroupId, StepKind, Together};

/// How much of their listed spread minutes are played with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread(f64);

/// A spread that cannot be played with.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("a spread is `listed`, `half` or a factor from 0 to {most}", most = Spread::MOST)]
pub struct SpreadError;

impl Spread {
    /// The widest spread, as a factor.
    pub const MOST: f64 = 3.0;
    /// As listed.
    pub const LISTED: Spread = Spread(1.0);
    /// All spreads halved.
    pub const HALF: Spread = Spread(0.5);
    /// No spread: everything takes its usual minutes.
    pub const NONE: Spread = Spread(0.0);

    /// A factor on all spreads.
    ///
    /// # Errors
    /// If it is not from 0 to [`Self::MOST`].
    pub fn new(factor: f64) -> Result<Self, SpreadError> {
        let plausible = (0.0..=Self::MOST).contains(&factor);
        if plausible { Ok(Self(factor)) } else { Err(SpreadError) }
    }

    /// The factor.
    pub fn factor(self) -> f64 {
        self.0
    }
}

impl FromStr for Spread {
    type Err = SpreadError;
    fn from_str(text: &str) -> Result<Self, SpreadError> {
        match text {
            "listed" => Ok(Self::LISTED),
            "half" => Ok(Self::HALF),
            _ => text.parse().map_err(|_| SpreadError).and_then(Self::new),
        }
    }
}

impl fmt::Display for Spread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            1.0 => f.write_str("listed"),
            0.5 => f.write_str("half"),
            factor => f.write_str(&crate::units::plain_number(factor)),
        }
    }
}

/// One quantity: how it is spread and what moves it.
#[derive(Debug, Clone, PartialEq)]
struct Quantity {
    drawn: Drawn,
    least: f64,
    /// Shared normals by position, with their weights.
    shared: Vec<(usize, f64)>,
    own: (u64, f64),
}

/// Deals out minutes, run by run.
#[derive(Debug, Clone, PartialEq)]
pub struct Dealer {
    luck: Luck,
    tables: Tables,
    /// Names of the normals that several quantities share.
    shared: Vec<u64>,
    nodes: Vec<Quantity>,
    /// By period: its start bell and what opens it.
    opening: Vec<(f64, Vec<Quantity>)>,
    /// By period: its end bell and what closes it, with whether it can be
    /// dropped.
    closing: Vec<(f64, Vec<(Quantity, bool)>)>,
}

impl Dealer {
    /// A dealer for a network.
    pub fn new(network: &Network<'_>, luck: Luck, spread: Spread, together: &Together) -> Self {
        let mut make =
            Making { network, spread, together, tables: Tables::default(), shared: vec![] };
        let nodes = network.nodes.iter().map(|n| make.node(n)).collect();
        let mut dealer = Self {
            luck,
            tables: Tables::default(),
            shared: Vec::new(),
            nodes,
            opening: Vec::new(),
            closing: Vec::new(),
        };
        for period in &network.periods {
            let opening = period.opening.iter().map(|&s| make.class_step(s)).collect();
            dealer.opening.push((period.start, opening));
            let may = |s| network.may_be_dropped(s);
            let closing = period.closing.iter().map(|&s| (make.class_step(s), may(s))).collect();
            dealer.closing.push((period.end, closing));
        }
        dealer.tables = make.tables;
        dealer.shared = make.shared;
        dealer
    }

    /// The minutes of a run; `normals` is room to work in.
    pub fn deal(&self, run: u64, normals: &mut Vec<f64>, minutes: &mut Minutes) {
        normals.clear();
        normals.extend(self.shared.iter().map(|&name| self.luck.normal(run, name)));
        let of = |q: &Quantity| {
            let own = if q.own.1 > 0.0 { q.own.1 * self.luck.normal(run, q.own.0) } else { 0.0 };
            let shared = q.shared.iter().map(|&(i, weight)| weight * normals[i]).sum::<f64>();
            self.tables.minutes(q.drawn, own + shared).max(q.least)
        };
        minutes.nodes.clear();
        minutes.nodes.extend(self.nodes.iter().map(of));
        minutes.opened.clear();
        let total = |steps: &[Quantity]| steps.iter().map(of).sum::<f64>();
        minutes.opened.extend(self.opening.iter().map(|(bell, steps)| bell + total(steps)));
        minutes.closing.clear();
        minutes.closing_needed.clear();
        for (bell, steps) in &self.closing {
            let (mut all, mut needed) = (*bell, *bell);
            for (step, may_be_dropped) in steps {
                let takes = of(step);
                all -= takes;
                needed -= if *may_be_dropped { 0.0 } else { takes };
            }
            minutes.closing.push(all);
            minutes.closing_needed.push(needed);
        }
    }
}

/// The least minutes each node may take with a spread.
pub(super) fn quick_minutes(network: &Network<'_>, spread: Spread) -> Vec<f64> {
    let quick = |n: &Node| shape(network, n, spread).quick().max(n.least);
    network.nodes.iter().map(quick).collect()
}

fn is_bake(network: &Network<'_>, node: &Node) -> bool {
    let What::Step(group, step) = node.what else { return false };
    let choice = network.plan.plan().choice(group);
    let method = choice.map(|c| network.lesson.method_of(group, c.method));
    method.is_some_and(|m| m.steps[step.0].kind == StepKind::Bake)
}

fn shape(network: &Network<'_>, node: &Node, spread: Spread) -> Shape {
    Shape::of(&node.listed, spread.factor(), is_bake(network, node))
}

struct Making<'m> {
    network: &'m Network<'m>,
    spread: Spread,
    together: &'m Together,
    tables: Tables,
    shared: Vec<u64>,
}

impl Making<'_> {
    fn shared(&mut self, parts: &[&str], rho: f64) -> Option<(usize, f64)> {
        if rho <= 0.0 {
            return None;
        }
        let name = named(parts);
        let known = self.shared.iter().position(|&n| n == name);
        let at = known.unwrap_or_else(|| {
            self.shared.push(name);
            self.shared.len() - 1
        });
        Some((at, rho.sqrt()))
    }

    fn quantity(
        &mut self,
        shape: Shape,
        least: f64,
        name: &[&str],
        shared: &[(&[&str], f64)],
    ) -> Quantity {
        let rest = 1.0 - shared.iter().map(|(_, rho)| rho.max(0.0)).sum::<f64>();
        let constant = matches!(shape, Shape::Constant(_));
        Quantity {
            drawn: self.tables.prepare(shape),
            least,
            shared: shared
                .iter()
                .filter(|_| !constant)
                .filter_map(|(parts, rho)| self.shared(parts, *rho))
                .collect(),
            own: (named(name), if constant { 0.0 } else { rest.max(0.0).sqrt() }),
        }
    }

    fn class_step(&mut self, id: ClassStepId) -> Quantity {
        let step = &self.network.lesson.class_steps[id.0];
        let period = &self.network.lesson.periods[step.period.0].name;
        let shape = Shape::of(&step.minutes, self.spread.factor(), false);
        let shared: [(&[&str], f64); 1] = [(&["class"], self.together.class_steps)];
        self.quantity(shape, 0.0, &["class step", period, &step.name], &shared)
    }

    fn node(&mut self, node: &Node) -> Quantity {
        match node.what {
            What::Class(id) => self.class_step(id),
            What::Step(group, step) => self.step(node, group, step.0),
        }
    }

    fn step(&mut self, node: &Node, id: GroupId, step: usize) -> Quantity {
        let (lesson, plan) = (self.network.lesson, self.network.plan.plan());
        let group = lesson.group(id);
        let recipe = lesson.recipe_of(id);
        let method = plan.choice(id).map_or(&recipe.methods[0], |c| lesson.method_of(id, c.method));
        let name = ["step", &group.name, &method.steps[step].name];
        let shape = shape(self.network, node, self.spread);
        let Together { class, group: of_group, oven, mixture, .. } = *self.together;
        if method.steps[step].kind == StepKind::Bake {
            let load = plan.loads.iter().find(|l| l.group == id);
            let stands = load.map_or("", |l| &lesson.ovens[l.oven.0].name);
            let shared: [(&[&str], f64); 2] =
                [(&["oven", stands], oven), (&["mixture", &recipe.name], mixture)];
            self.quantity(shape, node.least, &name, &shared)
        } else if node.work == Work::Alone {
            self.quantity(shape, node.least, &name, &[])
        } else {
            let shared: [(&[&str], f64); 2] =
                [(&["class"], class), (&["group", &group.name], of_group)];
            self.quantity(shape, node.least, &name, &shared)
        }
    }
}
