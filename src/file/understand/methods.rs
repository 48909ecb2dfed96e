//! Methods: steps put in order, with the links between them.

use super::Builder;
use super::findings::quoted;
use super::graph::{Order, StepOrder};
use super::names::Names;
use super::recipes::Making;
use crate::file::format::{HoldShape, LinkShape, MethodShape, RecipeShape, StepKindShape};
use crate::finding::Path;
use crate::model::{Figure, Hold, KitId, Link, Method, Recipe, Step, StepId, StepKind};
use crate::units::ExactMinutes;

/// Names of the three steps made from a bake.
pub(super) const LOAD: &str = "load";
/// See [`LOAD`].
pub(super) const BAKE: &str = "bake";
/// See [`LOAD`].
pub(super) const TAKE_OUT: &str = "take out";

/// Whether a method has a bake.
pub(super) fn is_baked(method: &MethodShape) -> bool {
    bake_of(method).is_some()
}

fn bake_of(method: &MethodShape) -> Option<usize> {
    method.steps.iter().position(|s| s.kind == StepKindShape::Bake)
}

/// A method while its steps are put in order.
struct Draft<'a> {
    shape: &'a MethodShape,
    names: Names,
    graph: StepOrder,
    /// Of each step as written: where it begins and ends among the model's.
    entry: Vec<StepId>,
    exit: Vec<StepId>,
}

impl Draft<'_> {
    fn bake(&self) -> Option<usize> {
        bake_of(self.shape)
    }
}

impl Builder<'_> {
    pub(super) fn methods(
        &mut self,
        path: &Path,
        shape: &RecipeShape,
        recipe: &mut Recipe,
        making: &mut Making,
    ) {
        let at = path.field("methods");
        if shape.methods.is_empty() {
            let message = format!("{} has no method", quoted(&shape.name));
            self.findings.error("no-method", &at, message, "add at least one, with its steps");
        }
        if !self.findings.length(&at, "methods", shape.methods.len(), 20) {
            return;
        }
        for (i, method) in shape.methods.iter().enumerate() {
            let path = at.index(i);
            making.names.methods.add(&mut self.findings, &path.field("name"), &method.name);
            making.names.bakes.push(bake_of(method).map(|b| method.steps[b].name.clone()));
            let method = self.method(&path, method, shape, making);
            recipe.methods.push(method);
        }
    }

    fn method(
        &mut self,
        path: &Path,
        shape: &MethodShape,
        recipe: &RecipeShape,
        making: &mut Making,
    ) -> Method {
        let empty = Method {
            name: shape.name.clone(),
            steps: Vec::new(),
            links: Vec::new(),
            holds: Vec::new(),
            tin_held: None,
        };
        let at = path.field("steps");
        if shape.steps.is_empty() {
            let message = format!("the method {} has no steps", quoted(&shape.name));
            self.findings.error("no-steps", &at, message, "");
            return empty;
        }
        if !self.findings.length(&at, "steps", shape.steps.len(), 200) {
            return empty;
        }
        let names = self.step_names(&at, shape);
        let graph = StepOrder::new(shape.steps.len());
        let mut draft = Draft { shape, names, graph, entry: Vec::new(), exit: Vec::new() };
        self.afters(&at, &mut draft);
        let order = match draft.graph.order() {
            Order::Runs(_) => {
                self.links(path, &mut draft);
                draft.graph.order()
            }
            cyclic => cyclic,
        };
        let order = match order {
            Order::Runs(order) => order,
            Order::Cycles(cycles) => {
                self.report_cycles(&at, &draft, &cycles);
                (0..shape.steps.len()).collect()
            }
        };
        let steps = self.place_steps(&at, &order, &mut draft, recipe, making);
        let links = model_links(&draft, making);
        let holds = self.holds(path, &draft);
        let tin_held = self.tin_held(path, &draft);
        Method { steps, links, holds, tin_held, ..empty }
    }

    /// Names of the steps; a baked method has three of its own.
    fn step_names(&mut self, path: &Path, shape: &MethodShape) -> Names {
        let mut names = Names::new("step");
        let bake = bake_of(shape);
        for (i, step) in shape.steps.iter().enumerate() {
            let path = path.index(i);
            names.add(&mut self.findings, &path.field("name"), &step.name);
            let own = [LOAD, BAKE, TAKE_OUT].contains(&step.name.as_str());
            if own && bake.is_some_and(|b| b != i) {
                let message =
                    format!("a method with a bake has a step {} of its own", quoted(&step.name));
                let hint = "give this step another name";
                self.findings.error("duplicate-name", &path.field("name"), message, hint);
            }
            if step.kind == StepKindShape::Bake && bake.is_some_and(|b| b != i) {
                let message = "there is more than one bake in this method";
                let hint = "a method bakes once; make the other a second recipe";
                self.findings.error("two-bakes", &path, message, hint);
            }
        }
        names
    }

    /// What each step comes after: as stated, or the one before it.
    fn afters(&mut self, path: &Path, draft: &mut Draft<'_>) {
        for (i, step) in draft.shape.steps.iter().enumerate() {
            match &step.after {
                None if i > 0 => draft.graph.add(i - 1, i),
                None => {}
                Some(after) => {
                    let path = path.index(i).field("after");
                    for (n, name) in after.iter().enumerate() {
                        let found = draft.names.find(&mut self.findings, &path.index(n), name);
                        if let Some(from) = found {
                            draft.graph.add(from, i);
                        }
                    }
                }
            }
        }
    }

    fn links(&mut self, path: &Path, draft: &mut Draft<'_>) {
        let at = path.field("links");
        if !self.findings.length(&at, "links", draft.shape.links.len(), 500) {
            return;
        }
        for (i, link) in draft.shape.links.iter().enumerate() {
            self.link(&at.index(i), link, draft);
        }
    }

    fn link(&mut self, path: &Path, shape: &LinkShape, draft: &mut Draft<'_>) {
        let f = &mut self.findings;
        let from = draft.names.find(f, &path.field("from"), &shape.from);
        let to = draft.names.find(f, &path.field("to"), &shape.to);
        let least = shape.least.unwrap_or(0.0);
        let least = f.gap(&path.field("least"), "the least gap", least);
        let longest =
            shape.longest.map(|gap| f.gap(&path.field("longest"), "the longest gap", gap));
        if let (Some(least), Some(Some(longest))) = (least, longest)
            && longest < least
        {
            let message =
                format!("the longest gap, {longest} min, is less than the least, {least} min");
            f.error("link-order", path, message, "");
        }
        let (Some(from), Some(to)) = (from, to) else { return };
        if draft.graph.reaches(to, from) {
            let (from, to) = (quoted(&shape.from), quoted(&shape.to));
            let message = if from == to {
                format!("a link leads from {from} to itself")
            } else {
                format!("this link puts {from} before {to}, but {from} comes after {to}")
            };
            f.error("link-contradicts", path, message, "turn it round, or change `after`");
            return;
        }
        draft.graph.set(from, to, least.unwrap_or_default(), longest.flatten());
    }

    fn report_cycles(&mut self, path: &Path, draft: &Draft<'_>, cycles: &[Vec<usize>]) {
        for cycle in cycles {
            let name = |&i: &usize| crate::finding::shortened(&draft.shape.steps[i].name, 40);
            let mut round: Vec<String> = cycle.iter().take(10).map(name).collect();
            if cycle.len() > 10 {
                round.push("…".into());
            }
            round.extend(cycle.first().map(name));
            let message = format!("these steps wait for each other: {}", round.join(" → "));
            let first = cycle.iter().min().copied().unwrap_or(0);
            self.findings.error(
                "cycle",
                &path.index(first),
                message,
                "change `after` of one of them",
            );
        }
    }

    /// The model's steps in order, and where each written step went.
    fn place_steps(
        &mut self,
        path: &Path,
        order: &[usize],
        draft: &mut Draft<'_>,
        recipe: &RecipeShape,
        making: &mut Making,
    ) -> Vec<Step> {
        let count = draft.shape.steps.len();
        draft.entry = vec![StepId(0); count];
        draft.exit = vec![StepId(0); count];
        let mut placed = Vec::new();
        for &i in order {
            let shape = &draft.shape.steps[i];
            let path = path.index(i);
            draft.entry[i] = StepId(placed.len());
            if draft.bake() == Some(i) {
                placed.extend(self.bake_steps(&path, shape, recipe, making));
            } else {
                placed.push(self.step(&path, shape, making));
            }
            draft.exit[i] = StepId(placed.len() - 1);
        }
        placed
    }

    fn holds(&mut self, path: &Path, draft: &Draft<'_>) -> Vec<Hold> {
        let at = path.field("holds");
        if !self.findings.length(&at, "holds", draft.shape.holds.len(), 200) {
            return Vec::new();
        }
        let build = |(i, hold): (usize, &HoldShape)| self.hold(&at.index(i), hold, draft);
        draft.shape.holds.iter().enumerate().filter_map(build).collect()
    }

    fn hold(&mut self, path: &Path, shape: &HoldShape, draft: &Draft<'_>) -> Option<Hold> {
        let kit = self.kit.find(&mut self.findings, &path.field("kit"), &shape.kit);
        let count = shape.count.unwrap_or(1);
        let count = self.findings.count(&path.field("count"), "the number held", count, (1, 500));
        let from = self.span_end(&path.field("from"), &shape.from, draft, &draft.entry);
        let to = self.span_end(&path.field("to"), &shape.to, draft, &draft.exit);
        self.check_span(path, (from, to), draft);
        Some(Hold { kit: KitId(kit?), count: count?, from: from?, to: to? })
    }

    /// The step at one end of a span over steps.
    fn span_end(
        &mut self,
        path: &Path,
        name: &str,
        draft: &Draft<'_>,
        of_written: &[StepId],
    ) -> Option<StepId> {
        if let Some(bake) = draft.bake() {
            // The steps made from a bake may be named as well.
            match name {
                LOAD => return Some(draft.entry[bake]),
                TAKE_OUT => return Some(draft.exit[bake]),
                _ => {}
            }
        }
        let found = draft.names.find(&mut self.findings, path, name)?;
        of_written.get(found).copied()
    }

    /// Reports a span that ends before it begins.
    fn check_span(
        &mut self,
        path: &Path,
        span: (Option<StepId>, Option<StepId>),
        draft: &Draft<'_>,
    ) {
        let (Some(from), Some(to)) = span else { return };
        let written = |step: StepId| {
            (0..draft.entry.len()).find(|&i| draft.entry[i] <= step && step <= draft.exit[i])
        };
        if let (Some(a), Some(b)) = (written(from), written(to))
            && (from > to && (a == b || draft.graph.reaches(b, a)))
        {
            let message = "this ends with a step that comes before the one it begins with";
            self.findings.error("span-order", path, message, "turn it round");
        }
    }

    /// From and to which step the tin is occupied.
    fn tin_held(&mut self, path: &Path, draft: &Draft<'_>) -> Option<(StepId, StepId)> {
        let at = path.field("tin_held");
        let Some(bake) = draft.bake() else {
            if draft.shape.tin_held.is_some() {
                let message = "a tin is held, but nothing is baked in this method";
                self.findings.error("no-bake", &at, message, "leave out `tin_held`");
            }
            return None;
        };
        if let Some((from, to)) = &draft.shape.tin_held {
            let from = self.span_end(&at.index(0), from, draft, &draft.entry)?;
            let to = self.span_end(&at.index(1), to, draft, &draft.exit)?;
            self.check_span(&at, (Some(from), Some(to)), draft);
            return Some((from, to));
        }
        let before = (0..draft.shape.steps.len()).rev().find(|&i| draft.graph.has(i, bake));
        let from = before.map_or(draft.entry[bake], |i| draft.entry[i]);
        let cool = (bake + 1..draft.shape.steps.len())
            .find(|&i| draft.shape.steps[i].kind == StepKindShape::Cool);
        let to = cool.map_or(draft.exit[bake], |i| draft.exit[i]);
        Some((from, to))
    }
}

fn model_links(draft: &Draft<'_>, making: &Making) -> Vec<Link> {
    let figure = |value| Figure { value, origin: making.origin };
    let mut links: Vec<Link> = draft
        .graph
        .edges()
        .filter(|e| e.from != e.to)
        .map(|e| Link {
            from: draft.exit[e.from],
            to: draft.entry[e.to],
            least: e.least,
            longest: e.longest.map(figure),
        })
        .collect();
    if let Some(bake) = draft.bake() {
        let load = draft.entry[bake];
        for n in 0..2 {
            links.push(Link {
                from: StepId(load.0 + n),
                to: StepId(load.0 + n + 1),
                least: ExactMinutes::ZERO,
                longest: Some(figure(ExactMinutes::ZERO)),
            });
        }
    }
    links.sort_by_key(|l| (l.from, l.to));
    links
}

/// Whether a kind is one of the three made from a bake.
pub(super) fn is_of_bake(kind: StepKind) -> bool {
    matches!(kind, StepKind::Load | StepKind::Bake | StepKind::TakeOut)
}
