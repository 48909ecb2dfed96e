//! The card of the odds by the bell: how often all are out, what has to be true
//! by when, what makes it late, and what all that rests on.

use eframe::egui::{self, DragValue, RichText, Role, Sense, Ui, WidgetInfo, vec2};

use super::parts::{heading, title};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, paint, width_of};
use crate::app::screens::OnScreen;
use crate::app::state::{Command, Commands};
use crate::export::odds::how;
use crate::play::{Settings, Spread};
use crate::session::{Command as LessonCommand, LookedForBetter, Session, ToldOdds, ToldWith};
use crate::view::odds::{CauseLine, Look, OddsLine};

/// Side of a square.
const SQUARE: f32 = 13.0;
/// Height of the bar of a cause.
const BAR: f32 = 6.0;
/// The factor with which one's own spread begins.
const OWN: f64 = 0.75;

/// Shows the card.
pub fn show(ui: &mut Ui, shown: &OnScreen<'_>, session: &Session, out: &mut Commands) {
    title(ui, "Odds by the bell", "");
    let Some(told) = shown.told_odds else {
        let served = shown.plan().objective().served > 0;
        soft(
            ui,
            if served {
                "Being worked out…"
            } else {
                "No group is out by the bell: nothing to play."
            },
        );
        return;
    };
    for line in &told.card.lines {
        odds_line(ui, line);
    }
    soft(ui, &said_of(told));
    spread(ui, session.odds_told_with(), out);
    if let Some(look) = look_shown(shown, told) {
        look_at(ui, &told.card.looks, look, out);
    }
    if !told.card.causes.is_empty() {
        heading(ui, "What makes it late");
        soft(
            ui,
            "Beside it: in how many of the late lessons. Its bar: the minutes it costs them, of all \
             causes the longest the most.",
        );
        for cause in &told.card.causes {
            cause_line(ui, shown, cause, out);
        }
    }
    better(ui, session, out);
    heading(ui, "What this rests on");
    soft(ui, &how(shown.lesson(), Settings::default().runs));
    soft(ui, "Odds stand beside the verdict and never turn it: spare minutes can be proved.");
}

fn soft(ui: &mut Ui, words: &str) {
    let colour = Palette::of(ui.ctx()).soft;
    ui.add(
        egui::Label::new(RichText::new(say(words)).font(fonts::plain(13.0)).color(colour)).wrap(),
    );
}

/// What the figures are.
fn said_of(told: &ToldOdds) -> String {
    if told.played.len() > 1 {
        "The low figure takes each step's quick and slow minutes as listed, the high one half \
         that spread; nobody has timed this class yet."
            .to_owned()
    } else {
        format!("One figure: {}; nobody has timed this class yet.", told.card.basis)
    }
}

fn odds_line(ui: &mut Ui, line: &OddsLine) {
    soft(ui, line.what);
    // Longer words go to another line.
    ui.horizontal_wrapped(|ui| {
        paint::squares(ui, line.squares, SQUARE);
        let words = ui.label(RichText::new(say(&line.words)).font(fonts::bold(14.5)));
        let heard = say(format!("{}: {}", line.what, line.words)).into_owned();
        ui.ctx().accesskit_node_builder(words.id, |node| node.set_value(heard));
    });
    ui.add_space(2.0);
}

/// With which spread odds are told.
fn spread(ui: &mut Ui, now: ToldWith, out: &mut Commands) {
    let own = match now {
        ToldWith::One(spread) if ![Spread::LISTED, Spread::HALF].contains(&spread) => {
            Some(spread.factor())
        }
        _ => None,
    };
    ui.horizontal_wrapped(|ui| {
        ui.label(say("Spread:"));
        let choices = [
            ("both", ToldWith::Range),
            ("as listed", ToldWith::One(Spread::LISTED)),
            ("half", ToldWith::One(Spread::HALF)),
        ];
        for (label, with) in choices {
            if ui.radio(now == with, say(label)).clicked() {
                out.push(LessonCommand::OddsWith(with));
            }
        }
        let mut factor = own.unwrap_or(OWN);
        let mut tell = |factor: f64| {
            if let Ok(spread) = Spread::new(factor) {
                out.push(LessonCommand::OddsWith(ToldWith::One(spread)));
            }
        };
        if ui.radio(own.is_some(), say("own factor")).clicked() {
            tell(factor);
        }
        if own.is_some() {
            let field = DragValue::new(&mut factor).range(0.0..=Spread::MOST).speed(0.02);
            let field = ui.add(field.max_decimals(2));
            ui.ctx().accesskit_node_builder(field.id, |node| node.set_label(say("Own factor")));
            if field.changed() {
                tell(factor);
            }
        }
    });
}

/// The minute of which is told what has to be true.
fn look_shown<'a>(shown: &OnScreen<'_>, told: &'a ToldOdds) -> Option<&'a Look> {
    let wanted = told.card.looks.iter().find(|look| Some(look.at) == shown.view.look);
    wanted.or(told.card.looks.first())
}

fn look_at(ui: &mut Ui, all: &[Look], look: &Look, out: &mut Commands) {
    heading(ui, &format!("Done by {} where all come out (minute {})", look.by, look.at.get()));
    for (what, odds) in &look.points {
        ui.add(egui::Label::new(say(what)).wrap());
        soft(ui, odds);
    }
    for (who, what) in &look.truths {
        ui.add(egui::Label::new(say(format!("{who}: {what}"))).wrap());
    }
    let at = all.iter().position(|l| l.at == look.at).unwrap_or(0);
    let before = at.checked_sub(1).and_then(|i| all.get(i));
    ui.horizontal_wrapped(|ui| {
        for (sign, near) in [("earlier", before), ("later", all.get(at + 1))] {
            let Some(near) = near else { continue };
            if ui.link(say(format!("{sign}: minute {}", near.at.get()))).clicked() {
                out.push(Command::Look(near.at));
            }
        }
    });
}

/// A cause: its words, how often, and a bar of its minutes. Pressed, its bars get
/// an edge.
fn cause_line(ui: &mut Ui, shown: &OnScreen<'_>, cause: &CauseLine, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    let is_shown = shown.view.cause.as_ref() == Some(&cause.cause);
    let spoken = format!("{}, {} of the late lessons", cause.words, cause.often);
    let told = ui.scope(|ui| {
        let width = ui.available_width();
        ui.horizontal_top(|ui| {
            let often = width_of(ui, &cause.often, fonts::plain(13.0)) + 2.0;
            let room = (width - often - ui.spacing().item_spacing.x).max(40.0);
            ui.allocate_ui(vec2(room, 0.0), |ui| {
                ui.set_width(room);
                let font = if is_shown { fonts::bold(14.0) } else { fonts::plain(14.0) };
                let words = RichText::new(say(&cause.words)).font(font);
                ui.add(egui::Label::new(words).wrap().selectable(false));
            });
            let often = RichText::new(say(&cause.often)).font(fonts::plain(13.0));
            ui.add(egui::Label::new(often.color(palette.soft)).extend().selectable(false));
        });
        let (bar, _) = ui.allocate_exact_size(vec2(width, BAR), Sense::hover());
        let width = bar.width() * cause.share.clamp(0.0, 1.0);
        let bar = egui::Rect::from_min_size(bar.min, vec2(width.max(1.0), BAR));
        ui.painter().rect_filled(bar, 0.0, palette.ribbon.0);
        let edge = egui::Stroke::new(1.0, palette.ribbon.1);
        ui.painter().rect_stroke(bar, 0.0, edge, egui::StrokeKind::Inside);
    });
    let id = egui::Id::unique(("cause", cause.words.as_str()));
    let response = ui.interact(told.response.rect, id, Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_shown, say(&spoken)));
    let rect = response.rect.expand2(vec2(4.0, 2.0));
    if response.has_focus() {
        let stroke = egui::Stroke::new(2.5, palette.focus);
        ui.painter().rect_stroke(rect, 4.0, stroke, egui::StrokeKind::Inside);
    } else if is_shown || response.hovered() {
        let stroke = egui::Stroke::new(if is_shown { 1.5 } else { 1.0 }, palette.ink);
        ui.painter().rect_stroke(rect, 4.0, stroke, egui::StrokeKind::Inside);
    }
    if response.clicked() {
        out.push(Command::ShowCause((!is_shown).then(|| cause.cause.clone())));
    }
    ui.add_space(2.0);
}

/// What would help these odds: asked for, it stands along the bottom.
fn better(ui: &mut Ui, session: &Session, out: &mut Commands) {
    ui.add_space(6.0);
    match session.looked_for_better_odds() {
        LookedForBetter::NotAsked => {
            let words = LessonCommand::BetterOdds.label();
            let hint = "look for a plan of the same groups, tins and methods with better odds";
            if ui.link(say(words)).on_hover_text(say(hint)).clicked() {
                out.push(LessonCommand::BetterOdds);
            }
        }
        LookedForBetter::Looking => soft(ui, "Looking for a plan with better odds…"),
        LookedForBetter::Found => soft(ui, "A plan with better odds stands below."),
        LookedForBetter::Nothing => {
            soft(ui, "Nothing is gained by other calls, orders or places.");
        }
    }
}
