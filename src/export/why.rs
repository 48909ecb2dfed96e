//! Why groups are not served, as text and as JSON. The fields are documented
//! in the README.

use std::fmt::Write as _;

use serde::Serialize;

use super::text::{hanging, heading, wrapped};
use crate::change::HangsOn;
use crate::check::{CheckedPlan, Verdict};
use crate::model::{GroupId, Lesson};
use crate::plan::why::{By, Explanation, Pace};
use crate::plan::{Refusal, Rule};
use crate::view::assumed::assumed_of;
use crate::view::rows::verdict_words;
use crate::view::sentence;
use crate::view::words::{capital, clock_in, in_short, list, minutes};

/// The groups asked about, and the reasons found.
#[derive(Debug, Clone, Copy)]
pub struct WhyReport<'a> {
    /// The lesson as it was planned.
    pub lesson: &'a Lesson,
    /// Its plan.
    pub plan: &'a CheckedPlan,
    /// The groups asked about.
    pub groups: &'a [GroupId],
    /// Name of the only tin they may use, if one was asked about.
    pub tin: Option<&'a str>,
    /// An explanation for each of them that the plan does not serve.
    pub explained: &'a [Explanation],
    /// Assumed figures that would turn the lesson's verdict.
    pub hangs_on: &'a [HangsOn],
    /// Time ran out before everything was looked at.
    pub time_ran_out: bool,
}

#[derive(Serialize)]
struct WhyJson<'a> {
    lesson: &'a str,
    verdict: &'static str,
    groups: Vec<GroupJson<'a>>,
    hangs_on: Vec<HangsOnJson<'a>>,
    time_ran_out: bool,
}

/// A figure that would turn the verdict.
#[derive(Serialize)]
struct HangsOnJson<'a> {
    figure: &'a str,
    unit: &'a str,
    now: Option<f64>,
    origin: String,
    low: f64,
    high: f64,
    holds: f64,
    turns: f64,
    is: &'static str,
    then: &'static str,
    proved: bool,
    sentence: String,
}

impl<'a> From<&'a HangsOn> for HangsOnJson<'a> {
    fn from(of: &'a HangsOn) -> Self {
        Self {
            figure: &of.figure,
            unit: of.unit,
            now: of.now,
            origin: of.origin.to_string(),
            low: of.range.0,
            high: of.range.1,
            holds: of.holds,
            turns: of.turns,
            is: of.is.word(),
            then: of.then.word(),
            proved: of.proved,
            sentence: of.sentence(),
        }
    }
}

#[derive(Serialize)]
struct GroupJson<'a> {
    group: &'a str,
    choice: Option<&'a str>,
    verdict: &'static str,
    rules: Vec<&'static str>,
    sum: Option<&'a str>,
    sentence: String,
    assumed: Vec<String>,
    proved: bool,
    by: Option<&'static str>,
    pace: Option<&'static str>,
    smallest_set: Option<SmallestJson<'a>>,
    tried: Option<&'a str>,
}

#[derive(Serialize)]
struct SmallestJson<'a> {
    groups: Vec<&'a str>,
    rules: Vec<&'static str>,
    things: Vec<&'a str>,
    smallest: bool,
}

/// The verdict on one group, with its reason.
struct GroupReason<'a> {
    id: GroupId,
    verdict: Verdict,
    rules: Vec<Rule>,
    sentence: String,
    proved: bool,
    by: Option<(By, Option<Pace>)>,
    explained: Option<&'a Explanation>,
}

impl<'a> WhyReport<'a> {
    /// The stronger of the explanation and the plan's own word, which counts where it is the
    /// stronger one.
    fn said(&self, id: GroupId) -> GroupReason<'a> {
        let outcome = self.plan.group_outcomes()[id.0];
        let refused = self.plan.plan().not_served.iter().find(|n| n.group == id);
        let explained = self.explained.iter().find(|e| e.group == id);
        // Of two that are as strong the one that is proved.
        let plan_proves = refused.is_some_and(|r| r.by != By::Nothing);
        let explained = explained.filter(|e| {
            let verdict = Verdict::from(e.refusal);
            verdict > outcome.verdict
                || verdict == outcome.verdict && (e.is_proved() || !plan_proves)
        });
        match (explained, refused) {
            (Some(e), _) => GroupReason {
                id,
                verdict: Verdict::from(e.refusal),
                rules: e.rules.clone(),
                sentence: e.sentence.clone(),
                proved: e.is_proved(),
                by: Some((e.by, e.pace)),
                explained: Some(e),
            },
            (None, Some(refused)) => GroupReason {
                id,
                verdict: outcome.verdict,
                rules: refused.rules.clone(),
                sentence: capital(&refused.reason),
                proved: refused.by != By::Nothing,
                by: (refused.refusal != Refusal::LeftOut).then(|| {
                    let pace = match refused.refusal {
                        Refusal::Cannot | Refusal::CannotAll => Pace::Quick,
                        Refusal::NotFound | Refusal::LeftOut => Pace::Planned,
                    };
                    (refused.by, (refused.by != By::Nothing).then_some(pace))
                }),
                explained: None,
            },
            (None, None) => GroupReason {
                id,
                verdict: outcome.verdict,
                rules: Vec::new(),
                sentence: self.served(id),
                proved: true,
                by: None,
                explained: None,
            },
        }
    }

    fn served(&self, id: GroupId) -> String {
        let outcome = self.plan.group_outcomes()[id.0];
        let (Some(ready), Some(spare)) = (outcome.ready, outcome.spare) else {
            return String::new();
        };
        let tin = self.plan.plan().choice(id).and_then(|c| c.tin);
        let tin =
            tin.map_or(String::new(), |t| format!(", {}", self.lesson.tin_choice_of(id, t).label));
        let ready = clock_in(self.lesson, self.lesson.group(id).period, ready);
        format!("It is out by the bell{tin}: ready at {ready}, {} to spare.", minutes(spare.get()))
    }

    fn assumed(&self, said: &GroupReason<'_>) -> Vec<String> {
        let Some(e) = said.explained else {
            return assumed_of(self.lesson, &[said.id], &said.rules, said.proved);
        };
        let quick = e.pace == Some(Pace::Quick);
        let mut groups = e.set.as_ref().map_or(Vec::new(), |set| set.groups.clone());
        if !groups.contains(&said.id) {
            groups.push(said.id);
        }
        assumed_of(self.lesson, &groups, &e.rules, quick)
    }
}

fn names(rules: &[Rule]) -> Vec<&'static str> {
    rules.iter().map(|r| r.name()).collect()
}

/// The answer to `why` as one JSON object.
///
/// # Errors
/// Never in practice; `serde_json` reserves the right.
pub fn json(found: WhyReport<'_>) -> Result<String, serde_json::Error> {
    let lesson = found.lesson;
    let name = |g: &GroupId| lesson.group(*g).name.as_str();
    let group = |&id: &GroupId| {
        let said = found.said(id);
        let explained = said.explained;
        let text = |of: fn(&Explanation) -> &String| {
            explained.map(|e| of(e).as_str()).filter(|text| !text.is_empty())
        };
        let set = explained.and_then(|e| e.set.as_ref().map(|set| (e, set)));
        GroupJson {
            group: &lesson.group(id).name,
            choice: found.tin,
            verdict: said.verdict.name(),
            assumed: found.assumed(&said),
            rules: names(&said.rules),
            sum: text(|e| &e.sum),
            sentence: said.sentence,
            proved: said.proved,
            by: said.by.map(|(by, _)| by.name()),
            pace: said.by.and_then(|(_, pace)| pace).map(Pace::name),
            smallest_set: set.map(|(e, set)| SmallestJson {
                groups: set.groups.iter().map(name).collect(),
                rules: names(&e.rules),
                things: set.things(lesson),
                smallest: set.smallest,
            }),
            tried: text(|e| &e.tried),
        }
    };
    let answer = WhyJson {
        lesson: &lesson.title,
        verdict: found.plan.verdict().name(),
        groups: found.groups.iter().map(group).collect(),
        hangs_on: found.hangs_on.iter().map(HangsOnJson::from).collect(),
        time_ran_out: found.time_ran_out,
    };
    serde_json::to_string_pretty(&answer)
}

/// The answer to `why` for people: groups that share an answer once.
pub fn text(found: WhyReport<'_>) -> String {
    let lesson = found.lesson;
    let mut text = String::new();
    heading(&mut text, lesson);
    let _ = writeln!(text, "{}", wrapped(&sentence::outcome(lesson, found.plan), 0));
    let mut answers: Vec<(GroupReason<'_>, Vec<String>)> = Vec::new();
    for said in found.groups.iter().map(|&id| found.said(id)) {
        let name = lesson.group(said.id).name.clone();
        let same = |a: &GroupReason<'_>| (a.verdict, &a.sentence) == (said.verdict, &said.sentence);
        match answers.iter_mut().find(|(a, _)| same(a)) {
            Some((_, names)) => names.push(name),
            None => answers.push((said, vec![name])),
        }
    }
    let mut assumed: Vec<String> = Vec::new();
    for (said, names) in &answers {
        let tin = found.tin.map_or(String::new(), |tin| format!(", {tin}"));
        let names = list(&in_short(names));
        let head = format!("{names}{tin}: {}", verdict_words(said.verdict));
        let _ = writeln!(text, "\n{}", hanging(&head, 0, 2));
        let _ = writeln!(text, "{}", wrapped(&said.sentence, 2));
        if let Some(e) = said.explained {
            if !e.sum.is_empty() {
                let _ = writeln!(text, "{}", hanging(&format!("The sum: {}", e.sum), 2, 4));
            }
            if !e.tried.is_empty() {
                let _ = writeln!(text, "{}", hanging(&e.tried, 2, 4));
            }
            for figure in found.assumed(said) {
                if !assumed.contains(&figure) {
                    assumed.push(figure);
                }
            }
        }
    }
    for hangs in found.hangs_on {
        let _ = writeln!(text, "\n{}", wrapped(&hangs.sentence(), 0));
    }
    if found.time_ran_out {
        let told = "Time ran out: not every reason was looked for, and not every figure that might \
                    turn the answer was tried. `--within SECONDS` gives it longer.";
        let _ = writeln!(text, "\n{}", wrapped(told, 0));
    }
    if !assumed.is_empty() {
        let _ = writeln!(text, "\nWith these figures assumed, as the lesson does not say:");
        for figure in assumed {
            let _ = writeln!(text, "{}", hanging(&figure, 2, 4));
        }
    }
    text
}
