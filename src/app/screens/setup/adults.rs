//! Adults, and what the teacher or the school has laid down.

use eframe::egui::{Grid, RichText, Ui};

use crate::app::looks::follow::sideways;
use crate::app::looks::form::{Field, Form, fixed, page_title, part, remark};
use crate::app::looks::say::{self, say};
use crate::app::looks::theme::Palette;
use crate::file::format::{AdultShape, LessonFile, RulesShape, TogetherShape};
use crate::finding::Path;
use crate::model::{AtOvens, Together};
use crate::session::{Command as LessonCommand, Session};
use crate::setup::at_ovens::{ask, asked};
use crate::setup::field;
use crate::setup::rename::{Named, rename};
use crate::units::{ClockTime, plain_number};

/// Shows the page.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, session: &Session) {
    page_title(ui, "Adults and rules", "Adults are named by their post, never by their own name.");
    part(ui, "Adults", |ui| adults(ui, form));
    part(ui, "While ovens are open", |ui| at_ovens(ui, form, session));
    part(ui, "Rules", |ui| rules(ui, form));
    part(ui, "How minutes go together", |ui| together(ui, form));
    remark(
        ui,
        "Your school's policy and risk assessment come first; these rules only shape the plan.",
    );
}

fn adults(ui: &mut Ui, form: &mut Form<'_>) {
    let soft = Palette::of(ui.ctx()).soft;
    let list = form.file.adults.clone();
    let all = Path::root().field("adults");
    let bell = ClockTime::parse(&form.file.period.start).ok();
    if list.is_empty() {
        remark(ui, "Nobody yet: add the teacher.");
    }
    let groups: Vec<String> = form.file.groups.iter().map(|g| g.name.clone()).collect();
    let rooms: Vec<String> =
        form.file.rooms().map(|r| r.name.clone()).filter(|n| !n.is_empty()).collect();
    sideways(ui, "adults", |ui| {
        Grid::new("adults").spacing([8.0, 4.0]).show(ui, |ui| {
            if !list.is_empty() {
                let present = "Present: 9:35 to 10:25, or minutes from the start bell";
                for heading in ["Post", present, "By the clock", "Only for", "Room", ""] {
                    ui.label(RichText::new(say(heading)).color(soft));
                }
                ui.end_row();
            }
            for (i, adult) in list.iter().enumerate() {
                let at = all.index(i);
                let spoken = |part: &str| format!("Adult {}, {part}", i + 1);
                let post = Field::new(at.field("name"), spoken("post")).width(140.0);
                form.cell(ui, &post, &adult.name, |text, file| {
                    rename(file, &Named::Adult(i), text)
                });
                let hours =
                    Field::new(at.field("hours"), spoken("hours")).hint("always").width(150.0);
                form.cell(ui, &hours, &field::stretches_text(&adult.hours), |text, file| {
                    let hours = field::hours(text, bell)?;
                    if let Some(adult) = file.adults.get_mut(i) {
                        adult.hours = hours;
                    }
                    Ok(())
                });
                let by_clock = bell.map(|bell| field::hours_by_clock(&adult.hours, bell));
                fixed(ui, 170.0, &by_clock.unwrap_or_default());
                let only = adult.only_for.clone();
                one_of(
                    ui,
                    form,
                    (at.field("only_for"), spoken("only for")),
                    "any group",
                    &groups,
                    only,
                    {
                        move |file, group| {
                            if let Some(adult) = file.adults.get_mut(i) {
                                adult.only_for = group;
                            }
                        }
                    },
                );
                let room = adult.room.clone();
                one_of(ui, form, (at.field("room"), spoken("room")), "all rooms", &rooms, room, {
                    move |file, room| {
                        if let Some(adult) = file.adults.get_mut(i) {
                            adult.room = room;
                        }
                    }
                });
                let gone = format!("Take {} out", adult.name);
                form.small(ui, ("×", &gone), true, |file| file.take_adult_out(i));
                ui.end_row();
            }
        });
    });
    form.told_of_all(&all);
    ui.horizontal(|ui| {
        for (label, name) in [
            ("Add a teacher", "teacher"),
            ("Add a technician", "technician"),
            ("Add an assistant", "assistant"),
        ] {
            form.add(ui, label, label, all.index(list.len()).field("name"), |file| {
                let name = say::name(name);
                let taken = |n: &String| file.adults.iter().any(|a| a.name == *n);
                let more = (2..).map(|i| format!("{name} {i}"));
                let name = std::iter::once(name.clone()).chain(more).find(|n| !taken(n));
                let name = name.unwrap_or_default();
                file.adults.push(AdultShape { name, ..AdultShape::default() });
            });
        }
    });
}

/// One of some names, or none of them.
pub fn one_of(
    ui: &mut Ui,
    form: &mut Form<'_>,
    (at, spoken): (Path, String),
    none: &str,
    names: &[String],
    now: Option<String>,
    set: impl FnOnce(&mut LessonFile, Option<String>),
) {
    let mut options = vec![(none.to_owned(), now.is_none())];
    options.extend(names.iter().map(|n| (n.clone(), now.as_ref() == Some(n))));
    let field = Field::new(at, spoken).width(110.0);
    form.choose(ui, &field, &options, |file, i| {
        set(file, i.checked_sub(1).and_then(|i| names.get(i)).cloned());
    });
}

/// Who must be where while ovens are open, and what each answer would come to.
fn at_ovens(ui: &mut Ui, form: &mut Form<'_>, session: &Session) {
    let soft = Palette::of(ui.ctx()).soft;
    let now = asked(form.file);
    let at = Path::root().field("rules").field("adult_at_doors");
    if session.may_compare_at_ovens() {
        form.out.push(LessonCommand::CompareAtOvens);
    }
    let tried = session.at_ovens_tried();
    ui.label(say("Who must be where while ovens are open?"));
    for answer in AtOvens::ALL {
        let comes_to = tried
            .and_then(|all| all.iter().find(|(of, _)| *of == answer))
            .map(|(_, outcome)| outcome.words());
        ui.horizontal_wrapped(|ui| {
            if ui.radio(now == answer, say(answer.words())).clicked() && now != answer {
                let what = format!("while ovens are open: {}", answer.words());
                form.enter(at.clone(), what, |file| ask(&mut file.rules, answer));
            }
            if let Some(comes_to) = comes_to {
                ui.label(RichText::new(say(comes_to)).color(soft));
            }
        });
    }
    let working = tried.is_none() && session.current_plan().is_some();
    // The line stays, that nothing moves as answers come.
    remark(
        ui,
        if working { "Working out what each answer comes to for this lesson…" } else { " " },
    );
    form.told(ui, &at);
}

/// A rule in whole numbers: key in the file, name, unit, what is assumed,
/// bounds, and how it is read and set.
struct Rule {
    key: &'static str,
    name: &'static str,
    unit: &'static str,
    usual: &'static str,
    bounds: (i64, i64),
    get: fn(&RulesShape) -> Option<i64>,
    set: fn(&mut RulesShape, Option<i64>),
}

const RULES: [Rule; 4] = [
    Rule {
        key: "wanted_spare",
        name: "Wanted spare time",
        unit: "min",
        usual: "5",
        bounds: (0, 480),
        get: |rules| rules.wanted_spare.map(i64::from),
        set: |rules, n| rules.wanted_spare = n.and_then(|n| i32::try_from(n).ok()),
    },
    Rule {
        key: "call",
        name: "One oven call lasts",
        unit: "min",
        usual: "3",
        bounds: (1, 60),
        get: |rules| rules.call.map(i64::from),
        set: |rules, n| rules.call = n.and_then(|n| i32::try_from(n).ok()),
    },
    Rule {
        key: "tins_per_opening",
        name: "One opening moves",
        unit: "tins",
        usual: "4",
        bounds: (1, 60),
        get: |rules| rules.tins_per_opening,
        set: |rules, n| rules.tins_per_opening = n,
    },
    Rule {
        key: "class_limit",
        name: "Class limit",
        unit: "pupils",
        usual: "20",
        bounds: (1, 500),
        get: |rules| rules.class_limit,
        set: |rules, n| rules.class_limit = n,
    },
];

fn rules(ui: &mut Ui, form: &mut Form<'_>) {
    let rules = form.file.rules.clone();
    let at = Path::root().field("rules");
    for rule in RULES {
        let shown = (rule.get)(&rules).map(|n| n.to_string()).unwrap_or_default();
        let field =
            Field::new(at.field(rule.key), rule.name).unit(rule.unit).hint(rule.usual).width(50.0);
        form.text(ui, field, &shown, |text, file| {
            let n = field::optional(text, |text| field::whole(text, rule.bounds, rule.unit))?;
            (rule.set)(&mut file.rules, n);
            Ok(())
        });
    }
    let caution = Field::new(at.field("caution"), "Caution").unit("%").width(50.0);
    let shown = plain_number((rules.caution * 100.0).round());
    form.text(ui, caution, &shown, |text, file| {
        file.rules.caution = field::number(text, (0.0, 100.0), "%")? / 100.0;
        Ok(())
    });
    remark(ui, "Caution 0 plans with usual minutes, 100 with slow ones.");
    remark(
        ui,
        "The class limit is your school's: 20 in the UK by rule or guidance, 24 in Irish grant \
         rules. A larger class is remarked on, never refused.",
    );
    let sharing = [
        ("as each room says".to_owned(), rules.sharing.is_none()),
        ("all bays share".to_owned(), rules.sharing == Some(true)),
        ("no bay shares".to_owned(), rules.sharing == Some(false)),
    ];
    let field = Field::new(at.field("sharing"), "Ovens and kit").width(150.0);
    form.choice(ui, &field, &sharing, |file, i| {
        file.rules.sharing = [None, Some(true), Some(false)].get(i).copied().flatten();
    });
    ui.horizontal_wrapped(|ui| {
        form.tick(
            ui,
            &at.field("washed_is_unused"),
            "Washed kit counts as unused for groups kept apart, if your risk assessment allows it",
            rules.washed_is_unused,
            |file, now| file.rules.washed_is_unused = now,
        );
        form.tick(
            ui,
            &at.field("call_waits"),
            "An oven call waits for its slowest group, for the minutes of a call at most",
            rules.call_waits,
            |file, now| file.rules.call_waits = now,
        );
    });
}

/// A share of variance: key in the file, name, what is assumed, how it is read
/// and set.
struct Share {
    key: &'static str,
    name: &'static str,
    usual: f64,
    get: fn(&TogetherShape) -> Option<f64>,
    set: fn(&mut TogetherShape, Option<f64>),
}

const SHARES: [Share; 4] = [
    Share {
        key: "class",
        name: "The whole class",
        usual: Together::USUAL.class,
        get: |shape| shape.class,
        set: |shape, share| shape.class = share,
    },
    Share {
        key: "group",
        name: "All steps of a group",
        usual: Together::USUAL.group,
        get: |shape| shape.group,
        set: |shape, share| shape.group = share,
    },
    Share {
        key: "oven",
        name: "All bakes of an oven",
        usual: Together::USUAL.oven,
        get: |shape| shape.oven,
        set: |shape, share| shape.oven = share,
    },
    Share {
        key: "mixture",
        name: "All bakes of a recipe",
        usual: Together::USUAL.mixture,
        get: |shape| shape.mixture,
        set: |shape, share| shape.mixture = share,
    },
];

/// What moves alike when the odds are worked out.
fn together(ui: &mut Ui, form: &mut Form<'_>) {
    remark(
        ui,
        "A slow class is slow all over. How much of what minutes differ by is shared, for the odds: \
         judgement, not measured; 0 everywhere lets each step go its own way.",
    );
    let at = Path::root().field("together");
    for share in SHARES {
        let percent = |share: f64| plain_number((share * 100.0).round());
        let shown = (share.get)(&form.file.together).map(percent).unwrap_or_default();
        let usual = percent(share.usual);
        let field = Field::new(at.field(share.key), share.name).unit("%").hint(&*usual).width(50.0);
        form.text(ui, field, &shown, |text, file| {
            let n = field::optional(text, |text| field::number(text, (0.0, 100.0), "%"))?;
            (share.set)(&mut file.together, n.map(|n| n / 100.0));
            Ok(())
        });
    }
}
