//! Three short hints on the first start, one at a time, each beside what it
//! speaks of. They have a place of their own in the layout, so that they cover
//! nothing, and go for good once put away or once what they say is done.

use eframe::egui::accesskit::Live;
use eframe::egui::{self, Margin, RichText, Shape, Stroke, Ui, pos2, vec2};
use serde::{Deserialize, Serialize};

use super::command::Command;
use super::fonts;
use super::say::say;
use super::shell::{App, Shown};
use super::state::Selection;
use super::theme::Palette;

/// A hint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Hint {
    /// The sentence at the top.
    Sentence,
    /// The board.
    Board,
    /// The way to a lesson of one's own.
    SetUp,
}

impl Hint {
    /// All, in the order in which they are shown.
    pub const ALL: [Hint; 3] = [Hint::Sentence, Hint::Board, Hint::SetUp];

    fn words(self) -> &'static str {
        match self {
            Hint::Sentence => {
                "This sentence says how the lesson ends. Change something, and it follows."
            }
            Hint::Board => {
                "Time runs between the bells; every group is a row. Choose a bar, or drag one."
            }
            Hint::SetUp => "Set up is where your own class goes in.",
        }
    }

    /// Whether this is what it invites to.
    fn is_done_by(self, command: &Command) -> bool {
        match self {
            Hint::Sentence => matches!(command, Command::Edit(_) | Command::Keep),
            Hint::Board => match command {
                Command::Select(selection) => *selection != Selection::Nothing,
                Command::Focus(_) => true,
                _ => false,
            },
            Hint::SetUp => {
                matches!(command, Command::SetUp(Some(_)) | Command::GoTo(_) | Command::New)
            }
        }
    }
}

/// Whether hints are shown at all.
#[derive(Debug, Clone, Copy, Default)]
pub struct Hinting {
    /// The window remembers which were put away.
    pub wanted: bool,
    /// The demo lesson has been opened, or somebody has asked for them.
    pub on: bool,
}

impl App {
    /// The hint to show now, if any.
    pub(super) fn hint(&self) -> Option<Hint> {
        let busy = self.view.help.is_some() || self.view.page.is_some() || self.broken.is_some();
        if !self.hinting.on || busy || self.plan.is_none() {
            return None;
        }
        let open = |hint: &Hint| !self.prefs.hints_gone.contains(hint);
        let here = |hint: &Hint| *hint != Hint::Board || !self.view.as_list;
        Hint::ALL.into_iter().find(|hint| open(hint) && here(hint))
    }

    /// Puts a hint away for good, or all of them.
    pub(super) fn put_away_hints(&mut self, which: Option<Hint>) {
        let go = Hint::ALL.into_iter().filter(|hint| which.is_none_or(|w| w == *hint));
        for hint in go {
            if !self.prefs.hints_gone.contains(&hint) {
                self.prefs.hints_gone.push(hint);
            }
        }
        self.prefs.keep();
    }

    /// Shows them again, from the first.
    pub(super) fn show_hints(&mut self) {
        self.prefs.hints_gone.clear();
        self.prefs.keep();
        self.hinting.on = true;
        self.view.help = None;
        self.view.page = None;
    }

    /// Hints whose matter is done need not be read.
    pub(super) fn hints_followed(&mut self, command: &Command) {
        if !self.hinting.on {
            return;
        }
        for hint in Hint::ALL {
            if hint.is_done_by(command) && !self.prefs.hints_gone.contains(&hint) {
                self.put_away_hints(Some(hint));
            }
        }
    }
}

/// Which edge of a hint points at what it speaks of, and where along it.
#[derive(Debug, Clone, Copy)]
pub enum Points {
    /// Up, at this place from the left of the window.
    Up(f32),
    /// Down, likewise.
    Down(f32),
}

/// Room for the words and buttons of a short hint, in points.
const ROOM: f32 = 460.0;

/// Shows a hint, if it is the one to show.
pub fn show(ui: &mut Ui, shown: &Shown<'_>, hint: Hint, points: Points, out: &mut Vec<Command>) {
    if shown.hint != Some(hint) {
        return;
    }
    let palette = Palette::of(ui.ctx());
    let tip = 7.0;
    let up = matches!(points, Points::Up(_));
    ui.add_space(if up { tip } else { 0.0 });
    let stroke = Stroke::new(1.5, palette.focus);
    let frame = egui::Frame::new()
        .fill(palette.card)
        .stroke(stroke)
        .corner_radius(6)
        .inner_margin(Margin::symmetric(10, 4));
    let drawn = ui.horizontal_top(|ui| {
        if let Points::Up(x) = points {
            // Below what it points at, as far as there is room for its words.
            let room = (ui.available_width() - ROOM).max(0.0);
            ui.add_space((x - ui.cursor().left() - 60.0).clamp(0.0, room));
        }
        frame.show(ui, |ui| inside(ui, shown, hint, out)).response.rect
    });
    let drawn = drawn.inner;
    let (at, y, way) = match points {
        Points::Up(x) => (x, drawn.top(), -tip),
        Points::Down(x) => (x, drawn.bottom(), tip),
    };
    let x = at.clamp(drawn.left() + 14.0, drawn.right() - 14.0);
    let corners = vec![pos2(x - tip, y), pos2(x, y + way), pos2(x + tip, y)];
    ui.painter().add(Shape::convex_polygon(corners.clone(), palette.card, Stroke::NONE));
    ui.painter().add(Shape::line(corners, stroke));
    // The edge behind the tip is open.
    let open = [pos2(x - tip + 1.0, y), pos2(x + tip - 1.0, y)];
    ui.painter().line_segment(open, Stroke::new(2.5, palette.card));
    ui.add_space(if up { 4.0 } else { tip + 3.0 });
}

fn inside(ui: &mut Ui, shown: &Shown<'_>, hint: Hint, out: &mut Vec<Command>) {
    let place = Hint::ALL.iter().position(|h| *h == hint).unwrap_or(0) + 1;
    let left =
        Hint::ALL.iter().filter(|h| **h != hint && !shown.prefs.hints_gone.contains(h)).count();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().button_padding = vec2(7.0, 1.0);
        let number = format!("Hint {place} of {}:", Hint::ALL.len());
        let heard = format!("{number} {}", hint.words());
        let number = RichText::new(say(number)).font(fonts::bold(14.0));
        ui.label(number);
        let words = ui.label(RichText::new(say(hint.words())).font(fonts::plain(14.5)));
        // Told when it appears, without taking the keyboard.
        ui.ctx().accesskit_node_builder(words.id, |node| {
            node.set_value(say(heard));
            node.set_live(Live::Polite);
        });
        if ui.button(say("Put away")).on_hover_text("Esc").clicked() {
            out.push(Command::PutAwayHint(Some(hint)));
        }
        if left > 0 && ui.button(say("Put all away")).clicked() {
            out.push(Command::PutAwayHint(None));
        }
    });
}
