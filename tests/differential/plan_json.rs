//! A plan and what the checker says of it, as a line of JSON. Things are called by the
//! numbers that the exported problem gives them, from 1; pupils and items count from 0;
//! places on shelves are hundredths of a millimetre.

use ovenbell::check::{Breach, CheckedPlan};
use ovenbell::model::Lesson;
use ovenbell::plan::{Place, Plan, Stock};
use serde_json::{Value, json};

/// The plan made in that way of the lesson of that seed.
pub fn line(
    lesson: &Lesson,
    (seed, how): (u64, &str),
    plan: &Plan,
    verdict: &Result<CheckedPlan, Vec<Breach>>,
) -> String {
    let choices = plan.choices.iter().map(|c| {
        json!({"group": c.group.0 + 1, "method": c.method.0 + 1, "tin": c.tin.map(|t| t.0 + 1)})
    });
    let steps = plan.steps.iter().map(|s| {
        json!({"group": s.group.0 + 1, "step": s.step.0 + 1, "start": s.start.get(),
            "end": s.end.get(), "pupils": s.pupils, "adult": s.adult.map(|a| a.0 + 1)})
    });
    let loads = plan.loads.iter().map(|l| {
        json!({"group": l.group.0 + 1, "number": l.number, "oven": l.oven.0 + 1,
            "shelf": l.shelf.0 + 1, "start": l.start.get(), "end": l.end.get(),
            "celsius": l.celsius.get(), "place": place(l.place)})
    });
    let uses = plan.uses.iter().map(|u| {
        let (kind, number) = match u.of {
            Stock::Kit(pool) => ("kit", pool.0 + 1),
            Stock::Tin(tin) => ("tin", tin.0 + 1),
        };
        json!({"group": u.group.0 + 1, "kind": kind, "number": number, "items": u.items,
            "start": u.start.get(), "end": u.end.get()})
    });
    let class_steps = plan.class_steps.iter().map(|c| {
        let period = lesson.class_steps[c.step.0].period;
        let before = &lesson.class_steps[..c.step.0];
        let number = before.iter().filter(|s| s.period == period).count() + 1;
        json!({"period": period.0, "number": number, "start": c.start.get(), "end": c.end.get()})
    });
    let settings = plan.settings.iter().map(|s| {
        json!({"oven": s.oven.0 + 1, "celsius": s.celsius.get(), "set_at": s.set_at.get(),
            "hot_from": s.hot_from.get(), "until": s.until.get()})
    });
    let door_watches = plan
        .door_watches
        .iter()
        .map(|w| json!({"oven": w.oven.0 + 1, "minute": w.minute.get(), "adult": w.adult.0 + 1}));
    let not_served = plan.not_served.iter().map(|n| n.group.0 + 1);
    let rules = verdict.as_ref().err().map(|all| {
        let mut names: Vec<&str> = all.iter().map(|b| b.rule.name()).collect();
        names.dedup();
        names
    });
    let aims = verdict.as_ref().ok().map(|plan| {
        let o = plan.objective();
        json!([o.served, o.departures, o.shortfall, o.calls, o.latest_ready, o.sum_ready])
    });
    let list = |all: &mut dyn Iterator<Item = Value>| Value::Array(all.collect());
    json!({
        "seed": seed, "how": how, "breaks": rules, "aims": aims,
        "choices": list(&mut choices.into_iter()), "steps": list(&mut steps.into_iter()),
        "loads": list(&mut loads.into_iter()), "uses": list(&mut uses.into_iter()),
        "class_steps": list(&mut class_steps.into_iter()),
        "settings": list(&mut settings.into_iter()),
        "door_watches": list(&mut door_watches.into_iter()),
        "not_served": list(&mut not_served.map(Value::from)),
    })
    .to_string()
}

fn place(place: Place) -> Value {
    match place {
        Place::Corner { x, y, turned } => json!({"corner": [x.get(), y.get()], "turned": turned}),
        Place::Centre { x, y } => json!({"centre": [x.get(), y.get()]}),
    }
}
