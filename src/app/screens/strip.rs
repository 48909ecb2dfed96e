//! The strip along the bottom: changes that would help, the least first. One
//! stop for the Tab key; arrows go from chip to chip.

use crate::app::state::Commands;
use crate::session::Command as LessonCommand;
use eframe::egui::{
    self, Align, Align2, Context, EventFilter, Id, Key, Layout, Modifiers, Rect, RichText, Role,
    ScrollArea, Sense, Stroke, Ui, WidgetInfo, pos2, vec2,
};

use crate::app::looks::patterns::cut_corners;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fitted, fonts, is_low};
use crate::app::state::Command;
use crate::app::state::ViewState;
use crate::session::{Chip, LookedForBetter, Offering, Overlay};
use crate::view::words::capital;

const TITLE: &str = "What would help";
/// Height of the heading's line.
const HEAD: f32 = 26.0;
/// Size of a chip, and where there is little height.
pub const CHIP: (f32, f32) = (268.0, 62.0);
const LOW: (f32, f32) = (262.0, 28.0);

/// Air between the heading and the chips.
const GAP: f32 = 5.0;
/// Air below it all, to the edge of the window.
pub const BELOW: f32 = 10.0;

/// What it shows.
#[derive(Clone, Copy)]
pub struct Strip<'a> {
    /// Changes that would help.
    pub offering: &'a Offering,
    /// All chips: those of changes, and of a plan with better odds.
    pub chips: &'a [Chip],
    /// How far the search for that is.
    pub better: LookedForBetter,
    /// What is laid over the board.
    pub overlay: Option<&'a Overlay>,
    /// Which chip is chosen, and whether all are folded away.
    pub view: &'a ViewState,
    /// The plan is still being looked for.
    pub planning: bool,
}

/// How high it is; `None` where every group fits, or where nothing is known.
pub fn height(ctx: &Context, strip: &Strip<'_>) -> Option<f32> {
    let changes = strip.offering;
    let asked = strip.better != LookedForBetter::NotAsked;
    if !changes.wanted && !asked {
        return None;
    }
    let nothing = strip.chips.is_empty()
        && strip.better != LookedForBetter::Looking
        && (!changes.wanted || !changes.looking && !strip.planning);
    Some(if strip.view.folded || nothing {
        HEAD + BELOW
    } else if is_low(ctx) {
        LOW.1 + BELOW
    } else {
        HEAD + GAP + CHIP.1 + BELOW
    })
}

/// Shows the strip of changes.
pub fn show(ui: &mut Ui, strip: &Strip<'_>, out: &mut Commands) {
    let low = is_low(ui.ctx());
    if low && !strip.view.folded && !strip.chips.is_empty() {
        // One row: the chips alone, and the way to fold them.
        ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
            fold(ui, strip, out);
            ui.with_layout(Layout::left_to_right(Align::Min), |ui| chips(ui, strip, LOW, out));
        });
        return;
    }
    head(ui, strip, out);
    if !strip.view.folded && !low {
        chips(ui, strip, CHIP, out);
    }
}

fn fold(ui: &mut Ui, strip: &Strip<'_>, out: &mut Commands) {
    let (words, spoken) =
        if strip.view.folded { ("Show", "Show the changes") } else { ("Hide", "Hide the changes") };
    let keys = Command::ToggleChanges.keys().map(|keys| ui.ctx().format_shortcut(&keys));
    let button = ui.button(say(words));
    button.widget_info(|| WidgetInfo::labeled(Role::Button, true, say(spoken)));
    if button.on_hover_text(say(keys.unwrap_or_default())).clicked() {
        out.push(Command::ToggleChanges);
    }
}

fn head(ui: &mut Ui, strip: &Strip<'_>, out: &mut Commands) {
    let soft = Palette::of(ui.ctx()).soft;
    let changes = strip.offering;
    ui.allocate_ui_with_layout(
        vec2(ui.available_width(), HEAD),
        Layout::right_to_left(Align::Center),
        |ui| {
            ui.spacing_mut().button_padding = vec2(7.0, 1.0);
            if strip.view.folded || !strip.chips.is_empty() {
                fold(ui, strip, out);
            }
            let looking = changes.looking || strip.better == LookedForBetter::Looking;
            if looking && ui.button(say(LessonCommand::Stop.label())).clicked() {
                out.push(LessonCommand::Stop);
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.label(RichText::new(say(TITLE)).font(fonts::bold(15.0)));
                let words = heading(strip);
                let label = RichText::new(say(&words)).color(soft);
                let label = egui::Label::new(label).truncate().show_tooltip_when_elided(false);
                ui.add(label).on_hover_text(say(&words));
            });
        },
    );
}

/// What is said beside the title.
fn heading(strip: &Strip<'_>) -> String {
    let changes = strip.offering;
    let of_changes = if !changes.wanted {
        String::new()
    } else if strip.planning {
        "looked for once the plan stands".to_owned()
    } else if changes.looking && !changes.chips.is_empty() {
        format!("{} Looking for more…", changes.heading())
    } else {
        changes.heading()
    };
    let of_odds = match strip.better {
        LookedForBetter::NotAsked => "",
        LookedForBetter::Looking => "Looking for a plan with better odds…",
        LookedForBetter::Found => "The same groups, tins and methods, placed for better odds.",
        LookedForBetter::Nothing => {
            "Better odds: nothing is gained by other calls, orders or places."
        }
    };
    let all = [of_changes.as_str(), of_odds];
    all.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(" ")
}

fn chips(ui: &mut Ui, strip: &Strip<'_>, size: (f32, f32), out: &mut Commands) {
    let all = strip.chips;
    let has = |words: &String| all.iter().any(|c| c.words == *words);
    let first = all.first().map(|c| c.words.as_str());
    let current = strip.view.chip.as_ref().filter(|w| has(w)).map(String::as_str).or(first);
    let laid = strip.overlay.filter(|o| o.is_offered()).map(|o| o.name.as_str());
    ScrollArea::horizontal().id_salt("changes").auto_shrink([false, false]).show(ui, |ui| {
        ui.horizontal(|ui| {
            if size == LOW {
                let title = egui::Label::new(RichText::new(say(TITLE)).font(fonts::bold(14.0)));
                ui.add_sized(vec2(112.0, LOW.1), title);
            }
            for (i, of) in all.iter().enumerate() {
                let state = State {
                    current: current == Some(of.words.as_str()),
                    laid: laid == Some(of.words.as_str()),
                };
                let response = chip(ui, of, state, size);
                if response.clicked() {
                    out.push(Command::FocusChip(of.words.clone()));
                    out.push(LessonCommand::Ghost(Some(of.words.clone())));
                }
                if !state.current {
                    continue;
                }
                if strip.view.chip_now {
                    response.request_focus();
                    ui.scroll_to_rect(response.rect.expand(2.0), None);
                }
                if response.has_focus() {
                    arrows(ui, response.id, all, i, out);
                }
            }
        });
    });
}

/// What a chip is like now.
#[derive(Clone, Copy)]
pub struct State {
    /// It takes the keyboard when the strip does.
    pub current: bool,
    /// Its plan is laid over the board.
    pub laid: bool,
}

fn arrows(ui: &Ui, id: Id, all: &[Chip], at: usize, out: &mut Commands) {
    let filter = EventFilter {
        tab: false,
        horizontal_arrows: true,
        vertical_arrows: false,
        // Escape puts the plan away; the chip keeps the keyboard.
        escape: true,
    };
    ui.memory_mut(|m| m.set_focus_lock_filter(id, filter));
    // A slow frame may have several in it.
    let pressed = |key| ui.input_mut(|i| i.count_and_consume_key(Modifiers::NONE, key));
    let (right, left) = (pressed(Key::ArrowRight), pressed(Key::ArrowLeft));
    let next = (at + right).saturating_sub(left).min(all.len().saturating_sub(1));
    if next != at {
        out.push(Command::FocusChip(all[next].words.clone()));
    }
}

/// Shows a chip.
pub fn chip(ui: &mut Ui, of: &Chip, state: State, (width, height): (f32, f32)) -> egui::Response {
    let palette = Palette::of(ui.ctx());
    let sense = if state.current { Sense::click() } else { Sense::CLICK };
    let (_, rect) = ui.allocate_space(vec2(width, height));
    let response = ui.interact(rect, Id::unique(("chip", of.words.as_str())), sense);
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, state.laid, say(&of.spoken)));
    let shape = rect.shrink(2.0);
    let fill = if state.laid { palette.chosen } else { palette.card };
    let edge = if state.laid || response.hovered() { palette.ink } else { palette.edge };
    let stroke = Stroke::new(if state.laid { 2.0 } else { 1.0 }, edge);
    let corners = cut_corners(shape, 7.0);
    ui.painter().add(egui::Shape::convex_polygon(corners, fill, stroke));
    if response.has_focus() {
        let stroke = Stroke::new(3.0, palette.focus);
        let corners = cut_corners(rect.shrink(1.5), 8.0);
        ui.painter().add(egui::Shape::closed_line(corners, stroke));
    }
    words(ui, of, shape.shrink2(vec2(9.0, 3.0)));
    response.on_hover_text(say(&of.whole))
}

fn words(ui: &Ui, of: &Chip, inside: Rect) {
    let palette = Palette::of(ui.ctx());
    let painter = ui.painter().with_clip_rect(inside.expand(4.0).intersect(ui.clip_rect()));
    let font = fonts::plain(13.0);
    let bold = fonts::bold(13.0);
    let number = painter.layout_no_wrap(of.place.to_string(), fonts::bold(14.0), palette.ink);
    let left = inside.left() + 17.0;
    let one_row = inside.height() < 40.0;
    let cost =
        painter.layout_no_wrap(say(of.cost.clone()).into_owned(), font.clone(), palette.soft);
    // The outcome gives way to what it asks; all of it is said where it is pointed at.
    let beside = if one_row { inside.width() * 0.6 } else { inside.right() - left - cost.size().x };
    let outcome = fitted(&painter, &of.outcome, bold.clone(), (beside - 8.0).max(40.0));
    let outcome = painter.layout_no_wrap(outcome, bold, palette.ink);
    if one_row {
        let middle = inside.center().y;
        let y = |galley: &egui::Galley| middle - galley.size().y / 2.0;
        let right = inside.right() - outcome.size().x;
        let room = (right - left - 8.0).max(10.0);
        let told = fitted(&painter, &capital(&of.words), font.clone(), room);
        painter.text(pos2(left, middle), Align2::LEFT_CENTER, say(told), font, palette.ink);
        let at = [pos2(inside.left(), y(&number)), pos2(right, y(&outcome))];
        painter.galley(at[0], number, palette.ink);
        painter.galley(at[1], outcome, palette.ink);
        return;
    }
    painter.galley(inside.left_top(), number, palette.ink);
    let mut job = egui::text::LayoutJob::simple(
        say(capital(&of.words)).into_owned(),
        font.clone(),
        palette.ink,
        inside.right() - left,
    );
    job.wrap.max_rows = 2;
    painter.galley(pos2(left, inside.top()), painter.layout_job(job), palette.ink);
    let bottom = inside.bottom() - outcome.size().y;
    painter.galley(pos2(left, bottom), outcome, palette.ink);
    painter.galley(pos2(inside.right() - cost.size().x, bottom), cost, palette.soft);
}
