//! When to switch ovens on, which is the fullest, and how sure the outcome is:
//! checked how far, and with how many figures assumed.

use eframe::egui::{self, RichText, Ui, vec2};

use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, paint, width_of};
use crate::app::state::{Command, Commands, Selection};
use crate::finding::shortened;
use crate::model::OvenId;
use crate::session::{Command as LessonCommand, Planned, Session};
use crate::view::assumed::assumed;
use crate::view::odds::Squares;
use crate::view::proof::{self, HowProved};
use crate::view::{ovens, sentence};

/// Size of the words on how sure it is.
const STANDING: f32 = 14.0;
/// Letters of an oven's name at most.
const LONGEST: usize = 24;
/// Room for the times at which ovens go on at least.
const LEAST: f32 = 60.0;
/// The same beside odds, which may take the place of what stands elsewhere too.
const BESIDE_ODDS: f32 = 190.0;
/// Words before the name of the fullest oven.
const FULLEST: &str = "fullest oven:";
/// Words before the squares.
const TEN: &str = "Ten such lessons:";
/// Side of a square.
const SQUARE: f32 = 11.0;

/// Shows it in one line: what there is no room for of the ovens' times is cut.
pub fn in_a_line(ui: &mut Ui, session: &Session, out: &mut Commands) {
    let Some(planned) = session.planned() else { return };
    let mut rest = Rest::of(session, planned);
    let least = if rest.odds.is_some() { BESIDE_ODDS } else { LEAST };
    if rest.width(ui) + least > ui.available_width() {
        // The running order has it too.
        rest.fullest = None;
    }
    if rest.odds.is_some() && rest.width(ui) + least > ui.available_width() {
        // The card has it too.
        rest.assumed = None;
    }
    let on = sentence::ovens_on(&planned.lesson, &planned.plan);
    if !on.is_empty() {
        let room = ui.available_width() - rest.width(ui);
        let label = egui::Label::new(say(&on)).truncate().show_tooltip_when_elided(false);
        let (height, layout) = (ui.available_height(), *ui.layout());
        let told =
            ui.allocate_ui_with_layout(vec2(room.max(LEAST), height), layout, |ui| ui.add(label));
        told.inner.on_hover_text(say(&on));
    }
    rest.show(ui, out);
}

/// Shows it in as many lines as it takes.
pub fn in_lines(ui: &mut Ui, session: &Session, out: &mut Commands) {
    let Some(planned) = session.planned() else { return };
    let on = sentence::ovens_on(&planned.lesson, &planned.plan);
    if !on.is_empty() {
        ui.add(egui::Label::new(say(on)).wrap());
    }
    ui.horizontal_wrapped(|ui| Rest::of(session, planned).show(ui, out));
}

/// The fullest oven, and how sure the outcome is.
struct Rest {
    fullest: Option<(OvenId, String)>,
    standing: String,
    /// It can be stopped.
    looking: bool,
    /// How many figures are assumed, if any.
    assumed: Option<String>,
    /// In how many of ten lessons all are out, if odds are shown and known.
    odds: Option<(Squares, String)>,
}

impl Rest {
    fn of(session: &Session, planned: &Planned) -> Self {
        let (lesson, plan) = (&*planned.lesson, &*planned.plan);
        let fullest = ovens::fullest_oven(plan);
        Self {
            fullest: fullest
                .map(|(oven, _)| (oven, shortened(&lesson.ovens[oven.0].name, LONGEST))),
            standing: standing(session, planned),
            looking: session.is_planning(),
            assumed: match assumed(lesson, plan).len() {
                0 => None,
                1 => Some("1 figure assumed".to_owned()),
                n => Some(format!("{n} figures assumed")),
            },
            odds: session.told_odds().and_then(|told| {
                let first = told.card.lines.first()?;
                Some((first.squares, format!("{}; {}", first.words, told.card.basis)))
            }),
        }
    }

    /// Its width in one line, with air around all of it.
    fn width(&self, ui: &Ui) -> f32 {
        let body = egui::TextStyle::Body.resolve(ui.style());
        let fullest = self.fullest.as_ref().map(|(_, name)| [FULLEST, name]);
        let words = fullest.iter().flatten().copied();
        let words = words.chain(self.looking.then(|| LessonCommand::Stop.label()));
        let words = words.chain(self.assumed.as_deref()).map(|words| (words, body.clone()));
        let all = words.chain([(self.standing.as_str(), fonts::bold(STANDING))]);
        let odds = self.odds.iter().flat_map(|(_, words)| [TEN, words]);
        let all = all.chain(odds.map(|words| (words, body.clone())));
        let gap = ui.spacing().item_spacing.x;
        let squares = if self.odds.is_some() { paint::squares_width(SQUARE) + gap } else { 0.0 };
        gap + squares + all.map(|(words, font)| width_of(ui, words, font) + gap).sum::<f32>()
    }

    fn show(&self, ui: &mut Ui, out: &mut Commands) {
        let palette = Palette::of(ui.ctx());
        if let Some((oven, name)) = &self.fullest {
            ui.label(RichText::new(say(FULLEST)).color(palette.soft));
            if ui.link(say(name)).clicked() {
                out.push(Command::Select(Selection::Oven(*oven)));
            }
        }
        ui.label(RichText::new(say(&self.standing)).font(fonts::bold(STANDING)));
        if self.looking && ui.link(say(LessonCommand::Stop.label())).clicked() {
            out.push(LessonCommand::Stop);
        }
        if let Some(figures) = &self.assumed
            && ui.link(say(figures)).clicked()
        {
            out.push(Command::Select(Selection::Nothing));
        }
        if let Some((squares, words)) = &self.odds {
            ui.label(RichText::new(say(TEN)).color(palette.soft));
            paint::squares(ui, *squares, SQUARE);
            let what = "all ready before the closing steps";
            if ui.link(say(words)).on_hover_text(say(what)).clicked() {
                out.push(Command::Select(Selection::Odds));
            }
        }
    }
}

fn standing(session: &Session, planned: &Planned) -> String {
    if session.is_planning() {
        return "best so far; looking for better".to_owned();
    }
    match proof::standing(&planned.plan) {
        HowProved::Unknown => "best found".to_owned(),
        HowProved::Served { at_most, .. } => {
            format!("best found; at most {at_most} could be out by the bell")
        }
        HowProved::Departures { best, at_least } => {
            format!("no arrangement gets more groups out; {best} departures, at least {at_least}")
        }
        HowProved::Shortfall { best, at_least } => {
            format!("no arrangement gets more groups out; {best} min short, at least {at_least}")
        }
        HowProved::Best => "checked: no better arrangement with these figures".to_owned(),
    }
}
