//! The tin table of a group's card: every tin with its minutes and what the
//! planner says of it, tins in section, and bakes as they really went.

use crate::app::state::Commands;
use crate::session::Command as LessonCommand;
use eframe::egui::{
    self, Align2, Rect, RichText, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use super::note_card;
use super::parts::heading;
use crate::app::looks::fitted;
use crate::app::looks::fonts;
use crate::app::looks::paint;
use crate::app::looks::paint_scene::{self, InWindow};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::screens::OnScreen;
use crate::bake::tin_table::TinRow;
use crate::edit::Edit;
use crate::model::{GroupId, Lesson, MethodId};

use crate::session::{ChoiceOutcome, TinsTried};
use crate::view::rows::verdict_words;
use crate::view::scene;
use crate::view::section::{Section, own_row, section};
use crate::view::tin_words::{doubts, filled, sentence, took};
use crate::view::words::clock_in;

/// Letters of a tin that are shown where it is asked why not.
const WHY_NOT_LETTERS: usize = 22;

/// Height of a tin's row in points.
const ROW: f32 = 42.0;

/// Shows the tin table of a group.
pub fn show(
    ui: &mut Ui,
    shown: &OnScreen<'_>,
    (tried, trying): (Option<&TinsTried>, bool),
    id: GroupId,
    out: &mut Commands,
) {
    let lesson = shown.lesson();
    let palette = Palette::of(ui.ctx());
    heading(ui, "Tin and method");
    let Some(probes) = tried else {
        ui.label(RichText::new(say("the planner is looking…")).color(palette.soft));
        return;
    };
    let mut looked_at = None;
    let mut others = false;
    for probe in &probes.all {
        if row_of(probes, probe).is_some_and(|r| r.choice.is_none()) && !others {
            others = true;
            small(ui, "Other tins of the lesson, minutes computed:");
        }
        let choice = Choice { shown, lesson, id, probes, probe };
        if choice.show(ui, out) {
            looked_at = probe.tin;
        }
        choice.why_not(ui);
    }
    for row in probes.table.iter().filter(|r| r.choice.is_some()) {
        if let Err(why) = &row.expected {
            small(ui, &format!("{}: minutes not known: {why}", row.as_choice.label));
        }
    }
    small(
        ui,
        match trying {
            true => "the planner is looking what it would come to…",
            false => "Choosing one shows its plan in outline, to be kept or dropped.",
        },
    );
    let chosen = shown.plan().plan().choice(id).and_then(|c| c.tin);
    let row = looked_at.or(chosen).and_then(|tin| probes.table.get(tin.0));
    let Some(row) = row.or_else(|| own_row(&probes.table)) else { return };
    picture(ui, lesson, id, &probes.table, row);
    note_card::band(ui, row);
    // Only what the plan bakes can be noted: that is what was baked.
    if let Some(row) = chosen.and_then(|tin| probes.table.get(tin.0)) {
        note_card::form(ui, shown, lesson, id, row, out);
    }
}

fn small(ui: &mut Ui, text: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    ui.add(egui::Label::new(RichText::new(say(text)).font(fonts::plain(13.0)).color(soft)).wrap());
}

fn row_of<'a>(probes: &'a TinsTried, probe: &ChoiceOutcome) -> Option<&'a TinRow> {
    probes.table.get(probe.tin?.0)
}

/// A method and a tin as a button.
struct Choice<'a> {
    shown: &'a OnScreen<'a>,
    lesson: &'a Lesson,
    id: GroupId,
    probes: &'a TinsTried,
    probe: &'a ChoiceOutcome,
}

impl Choice<'_> {
    fn name(&self) -> String {
        let group = self.lesson.group(self.id);
        let method = &self.lesson.recipe_of(self.id).methods[self.probe.method.0].name;
        let tin = row_of(self.probes, self.probe).map(|r| self.lesson.tin_in_words(&r.as_choice));
        match (tin, group.methods.len() > 1) {
            (Some(tin), true) => format!("{tin}, {method}"),
            (Some(tin), false) => tin,
            (None, _) => method.clone(),
        }
    }

    fn is_now(&self) -> bool {
        let of = |c: &crate::plan::Choice| c.method == self.probe.method && c.tin == self.probe.tin;
        self.shown.plan().plan().choice(self.id).is_some_and(of)
    }

    /// "ready 10:48" or the verdict, and how many others would be left out.
    fn comes_to(&self) -> (String, String) {
        let ready =
            self.probe.ready.map_or(verdict_words(self.probe.verdict).to_owned(), |ready| {
                let period = self.lesson.group(self.id).period;
                format!("ready {}", clock_in(self.lesson, period, ready))
            });
        let all = self.lesson.attending().count();
        let served = self.probe.served as usize;
        // That it is not served itself is said already.
        let itself = usize::from(self.probe.ready.is_none());
        let others = if served + itself >= all {
            String::new()
        } else {
            format!("{served} of {all} out by the bell")
        };
        (ready, others)
    }

    /// Paints it and hears it; whether it is looked at.
    fn show(&self, ui: &mut Ui, out: &mut Commands) -> bool {
        let (ready, others) = self.comes_to();
        let row = row_of(self.probes, self.probe);
        let expected = row.and_then(|r| r.expected.as_ref().ok());
        let spoken = self.spoken(&ready, &others);
        let (rect, response) =
            ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::click());
        let now = self.is_now();
        response.widget_info(|| WidgetInfo::selected(Role::Button, true, now, say(&spoken)));
        let lit = now || response.hovered();
        frame(ui, rect, lit, response.has_focus(), now);
        let palette = Palette::of(ui.ctx());
        let mark = pos2(rect.right() - 16.0, rect.center().y);
        paint::verdict(ui.painter(), mark, self.probe.verdict, palette);
        let inside = rect.shrink2(vec2(9.0, 4.0)).with_max_x(rect.right() - 30.0);
        let painter = ui.painter().with_clip_rect(inside.intersect(ui.clip_rect()));
        let lower = inside.left_top() + vec2(0.0, 17.0);
        let ready_at = pos2(inside.right(), inside.top());
        let known = self.probe.ready.map_or(String::new(), |_| ready.clone());
        let used = painter
            .text(ready_at, Align2::RIGHT_TOP, say(known), fonts::plain(13.0), palette.ink)
            .width();
        let name = self.name();
        let room = (inside.width() - used - 8.0).max(40.0);
        let name = fitted(&painter, &name, fonts::bold(14.0), room);
        painter.text(
            inside.left_top(),
            Align2::LEFT_TOP,
            say(name),
            fonts::bold(14.0),
            palette.ink,
        );
        let mut parts = Vec::new();
        if self.probe.ready.is_none() {
            parts.push(ready);
        }
        if let Some(expected) = expected {
            let e = &expected.estimate;
            parts.push(format!("{:.0} min", e.usual.get()));
            parts.push(crate::view::tin_words::band(e));
            parts.push(expected.origin.to_string());
        }
        if !others.is_empty() {
            parts.push(others);
        }
        let second = fitted(&painter, &parts.join(" · "), fonts::plain(13.0), inside.width());
        painter.text(lower, Align2::LEFT_TOP, say(second), fonts::plain(13.0), palette.soft);
        let looked_at = response.hovered() || response.has_focus();
        let response = match &self.probe.reason {
            Some(reason) => response.on_hover_text(say(reason)),
            None => response.on_hover_text(say(&spoken)),
        };
        if response.clicked() {
            self.choose(row, out);
        }
        looked_at
    }

    /// Why the group would not be out by the bell with it, when asked.
    fn why_not(&self, ui: &mut Ui) {
        if self.probe.ready.is_some() {
            return;
        }
        let why = self.probe.reason.as_deref().unwrap_or("No plan with it was found.");
        // What folds does not wrap.
        let name = self.name();
        let name = match name.char_indices().nth(WHY_NOT_LETTERS) {
            Some((end, _)) => format!("{}…", name[..end].trim_end()),
            None => name,
        };
        let title = RichText::new(say(format!("Why not {name}?"))).font(fonts::plain(13.0));
        egui::CollapsingHeader::new(title)
            .id_salt(("why not", self.id, self.probe.method, self.probe.tin))
            .show(ui, |ui| small(ui, why));
    }

    fn spoken(&self, ready: &str, others: &str) -> String {
        let row = row_of(self.probes, self.probe);
        let expected = row.and_then(|r| r.expected.as_ref().ok());
        let minutes = expected.map_or(String::new(), |e| {
            let usual = e.estimate.usual.get();
            format!("bakes {usual:.0}, {}, {}; ", e.estimate, e.origin)
        });
        let others = if others.is_empty() { String::new() } else { format!(", {others}") };
        let verdict = verdict_words(self.probe.verdict);
        let now = if self.is_now() { ", chosen now" } else { "" };
        let ready = if ready == verdict { String::new() } else { format!("{ready}, ") };
        format!("{}: {minutes}{ready}{verdict}{others}{now}", self.name())
    }

    fn method_names(&self, methods: &[MethodId]) -> Vec<String> {
        let recipe = self.lesson.recipe_of(self.id);
        methods.iter().filter_map(|m| recipe.methods.get(m.0)).map(|m| m.name.clone()).collect()
    }

    fn choose(&self, row: Option<&TinRow>, out: &mut Commands) {
        let group = self.lesson.group(self.id);
        let mut choices = Vec::new();
        if let Some(row) = row {
            let name = group.name.clone();
            let label = row.as_choice.label.clone();
            choices.push(match row.choice {
                Some(_) => Edit::Tin { group: name, label },
                None => Edit::NewTin {
                    group: name,
                    tin: label,
                    methods: self.method_names(&row.as_choice.methods),
                    count: i64::from(row.as_choice.count),
                    #[allow(clippy::cast_possible_truncation)] // an oven temperature
                    celsius: row.as_choice.celsius.get().round() as i32,
                },
            });
        }
        if group.methods.len() > 1 && group.methods.first() != Some(&self.probe.method) {
            let method = &self.lesson.recipe_of(self.id).methods[self.probe.method.0].name;
            let (group, method) = (group.name.clone(), method.clone());
            choices.push(Edit::Method { group, method });
        }
        if self.is_now() {
            out.extend(choices.into_iter().map(LessonCommand::Edit));
        } else {
            out.push(LessonCommand::TryChoice(choices));
        }
    }
}

fn frame(ui: &Ui, rect: Rect, lit: bool, focused: bool, now: bool) {
    let palette = Palette::of(ui.ctx());
    let fill = if lit { palette.chosen } else { palette.card };
    ui.painter().rect_filled(rect, 5.0, fill);
    let stroke = match (focused, now) {
        (true, _) => Stroke::new(3.0, palette.focus),
        (_, true) => Stroke::new(2.0, palette.ink),
        _ => Stroke::new(1.0, palette.edge),
    };
    ui.painter().rect_stroke(rect, 5.0, stroke, StrokeKind::Inside);
}

/// The tin looked at beside the recipe's own, in section and to one scale.
fn picture(ui: &mut Ui, lesson: &Lesson, id: GroupId, table: &[TinRow], row: &TinRow) {
    let recipe = lesson.recipe_of(id);
    heading(ui, &lesson.tin_in_words(&row.as_choice));
    if let Ok(expected) = &row.expected {
        let words = format!("{} ({})", expected.estimate, expected.origin);
        ui.add(egui::Label::new(say(sentence(&words))).wrap());
    }
    let full = filled(recipe, row);
    if !full.is_empty() {
        small(ui, &sentence(&full));
    }
    let own = own_row(table).filter(|own| own.as_choice.label != row.as_choice.label);
    let mut sections: Vec<Section> =
        [own, Some(row)].into_iter().flatten().filter_map(|r| section(lesson, recipe, r)).collect();
    if sections.len() == 1 && own.is_some() {
        sections.retain(|s| s.name == row.as_choice.label);
    }
    if sections.is_empty() {
        return;
    }
    let width = ui.available_width();
    let scene = scene::tins::in_section(&sections, width, &InWindow(ui.painter()));
    let (rect, response) = ui.allocate_exact_size(scene.size.into(), Sense::hover());
    let spoken: Vec<&str> = sections.iter().map(|s| s.spoken.as_str()).collect();
    let spoken = format!("In section, to scale: {}", spoken.join("; "));
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, say(&spoken)));
    response.on_hover_text(say(&spoken));
    paint_scene::scene(ui.painter(), rect.min, &scene, Palette::of(ui.ctx()));
    for doubt in doubts(row) {
        small(ui, &sentence(&doubt));
    }
    let noted = took(row);
    if !noted.is_empty() {
        small(ui, &sentence(&noted));
    }
}
