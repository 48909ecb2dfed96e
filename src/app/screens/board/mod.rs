//! The board: names on the left, the clock across, ready times on the right.

pub mod carry;
mod ghosts;
mod glide;
mod in_place;
mod odds;
mod parts;
mod pictures;

use eframe::egui::{
    self, EventFilter, Id, Key, Modifiers, Painter, Rect, Response, Role, ScrollArea, Sense,
    Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use crate::app::looks::paint;
use crate::app::looks::paint_scene;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::screens::OnScreen;
use crate::app::state::{Command, Commands, Selection};
use crate::units::Minute;
use crate::view::area::Area;
use crate::view::board::{Bar, BarId, Board};
use crate::view::laid_out::LaidOut;
use crate::view::overlay::Ghosts;
use crate::view::scale::TimeScale;
use crate::view::scene::board::{BoardPicture, CLOCK_HEIGHT, inside};
use crate::view::words::clock;
use pictures::Subject;

/// Everything the parts of the board paint with.
pub struct Canvas<'a> {
    /// What is shown.
    pub shown: &'a OnScreen<'a>,
    /// The board.
    pub board: &'a Board,
    /// Its geometry, from its own left top.
    pub laid: &'a LaidOut,
    /// Another plan laid over it.
    pub ghosts: Option<&'a Ghosts>,
    /// Its picture.
    pub picture: BoardPicture<'a>,
    /// Time across the window.
    pub scale: TimeScale,
    /// Where the clock runs, in the window.
    pub across: Rect,
    /// Where the board's own 0, 0 is on screen.
    pub origin: egui::Pos2,
    /// Colours.
    pub palette: &'static Palette,
}

impl Canvas<'_> {
    /// An area of the board on screen.
    pub fn rect(&self, area: &Area) -> Rect {
        paint_scene::rect(area, self.origin)
    }
}

/// Widths of the names on the left and the ready times on the right.
pub fn margins(width: f32, board: &Board) -> (f32, f32) {
    let (left, right) = if width < 700.0 { (116.0, 100.0) } else { (166.0, 106.0) };
    (left, right + BoardPicture::more_for_ready(board))
}

/// Shows the board.
pub fn show(ui: &mut Ui, shown: &OnScreen<'_>, out: &mut Commands) {
    let board = shown.board();
    let palette = Palette::of(ui.ctx());
    let ghosts = shown.overlay.map(|o| &*o.ghosts);
    let whole = whole(board, ghosts);
    let (left, right) = margins(ui.available_width(), board);
    let area = ui.available_rect_before_wrap();
    let (from, until) = shown.view.shown.unwrap_or(whole);
    let width = (area.width() - left - right - 12.0).max(80.0);
    let scale = TimeScale { from, until, left, width };
    let subject = Subject::new(shown, scale);
    let laid = subject.laid(ui.painter());
    let head = Rect::from_min_size(area.min, vec2(area.width(), CLOCK_HEIGHT));
    ui.allocate_rect(head, Sense::hover());
    let clock = subject.clock(ui.painter(), &laid, area.width(), shown.view.minute);
    paint_scene::scene(ui.painter(), head.min, &clock, palette);
    let in_window = TimeScale { left: area.left() + left, ..scale };
    minute_handle(ui, shown, head, &in_window, out);
    odds::looks(ui, shown, head, &in_window, out);
    let scrolled = ScrollArea::vertical().id_salt("board").auto_shrink([false, false]);
    scrolled.show(ui, |ui| {
        let height = laid.height.max(ui.available_height());
        let (body, background) =
            ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::drag());
        let origin = body.min;
        let seen = paint_scene::area(ui.clip_rect().translate(-origin.to_vec2()));
        let picture = subject.picture(&laid, body.size().into(), seen);
        let bars = glide::on_their_way(ui, shown, &picture);
        let picture = BoardPicture { bars: bars.as_deref().unwrap_or(picture.bars), ..picture };
        let layers = subject.layers(ui.painter(), &laid, &picture, bars.is_some());
        let across = paint_scene::rect(&picture.across(), origin);
        let scale = in_window;
        let canvas =
            Canvas { shown, board, laid: &laid, ghosts, picture, scale, across, origin, palette };
        paint_scene::scene(ui.painter(), origin, &layers.ground, palette);
        carry::tracks(ui, &canvas);
        parts::chosen(ui, &canvas);
        paint_scene::scene(ui.painter(), origin, &layers.front, palette);
        parts::bands(ui, &canvas);
        if let Some(ghosts) = ghosts {
            ghosts::bands(ui, &canvas, ghosts);
        }
        parts::rows(ui, &canvas, &layers.cut, out);
        parts::ovens(ui, &canvas, &layers.cut, out);
        parts::ribbons(ui, &canvas, out);
        odds::lenses(ui, &canvas, out);
        let pointed_at = marks_of_bars(ui, &canvas, out);
        if let Some(ghosts) = ghosts {
            ghosts::bars(ui, &canvas, ghosts);
        }
        parts::links(ui, &canvas, pointed_at);
        minute_line(ui.painter(), &canvas);
        let held = carry::by_mouse(ui, &canvas, out);
        carry::carried(ui, &canvas);
        in_place::show(ui, &canvas, out);
        pan_and_zoom(ui, (&background, held), &scale, whole, out);
    });
}

/// The board as a picture, scrolled but not touched: nothing on it answers to a hand.
pub fn picture(ui: &mut Ui, shown: &OnScreen<'_>) {
    let palette = Palette::of(ui.ctx());
    let (from, until) = whole(shown.board(), None);
    let (left, right) = margins(ui.available_width(), shown.board());
    let area = ui.available_rect_before_wrap();
    let width = (area.width() - left - right - 12.0).max(80.0);
    let scale = TimeScale { from, until, left, width };
    let subject = Subject::alone(shown, scale);
    let laid = subject.laid(ui.painter());
    let head = Rect::from_min_size(area.min, vec2(area.width(), CLOCK_HEIGHT));
    ui.allocate_rect(head, Sense::hover());
    let clock = subject.clock(ui.painter(), &laid, area.width(), shown.view.minute);
    paint_scene::scene(ui.painter(), head.min, &clock, palette);
    let scrolled = ScrollArea::vertical().id_salt("board as a picture").auto_shrink(false);
    scrolled.show(ui, |ui| {
        let height = laid.height.max(ui.available_height());
        let size = vec2(ui.available_width(), height);
        let (body, response) = ui.allocate_exact_size(size, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, say("Running order")));
        let seen = paint_scene::area(ui.clip_rect().translate(-body.min.to_vec2()));
        let picture = subject.picture(&laid, body.size().into(), seen);
        let layers = subject.layers(ui.painter(), &laid, &picture, false);
        paint_scene::scene(ui.painter(), body.min, &layers.ground, palette);
        paint_scene::scene(ui.painter(), body.min, &layers.front, palette);
        if let Some(minute) = shown.view.minute {
            let x = body.left() + scale.x(minute as f32);
            ui.painter().vline(x, body.y_range(), Stroke::new(2.0, palette.ink));
        }
    });
}

/// The stretch from a little before the first bell to a little after the last,
/// of the board's plan and of one laid over it.
pub fn whole(board: &Board, ghosts: Option<&Ghosts>) -> (f32, f32) {
    let (from, until) = ghosts.map_or((board.from, board.until), |g| (g.from, g.until));
    let air = ((until - from).get() as f32 / 60.0).max(1.0);
    (from.get() as f32 - air, until.get() as f32 + air)
}

/// Clicking or dragging in the clock puts the minute line there; with the
/// keyboard, arrows step it.
fn minute_handle(
    ui: &mut Ui,
    shown: &OnScreen<'_>,
    head: Rect,
    scale: &TimeScale,
    out: &mut Commands,
) {
    let palette = Palette::of(ui.ctx());
    let across = Rect::from_x_y_ranges(scale.left..=scale.left + scale.width, head.y_range());
    let (board, lesson) = (shown.board(), shown.lesson());
    let id = Id::unique("minute line");
    let response = ui.interact(across, id, Sense::click_and_drag());
    let spoken = match shown.view.minute {
        Some(m) => format!("Minute line at {}, minute {m}", clock(lesson, Minute::new(m))),
        None => "Minute line, hidden; arrow keys show it".to_owned(),
    };
    response.widget_info(|| WidgetInfo::labeled(Role::Slider, true, say(&spoken)));
    if (response.dragged() || response.clicked())
        && let Some(pointer) = response.interact_pointer_pos()
    {
        let minute = scale.minute(pointer.x).floor() as i32;
        out.push(Command::Minute(Some(within(board, minute))));
    }
    if response.has_focus() {
        keep_arrows(ui, id, false);
        let step = |ui: &Ui, key, by| {
            if ui.input_mut(|i| i.consume_key(Modifiers::NONE, key)) { by } else { 0 }
        };
        let by = step(ui, Key::ArrowRight, 1) - step(ui, Key::ArrowLeft, 1)
            + step(ui, Key::PageDown, 5)
            - step(ui, Key::PageUp, 5);
        if by != 0 {
            out.push(Command::StepMinute(by));
        }
        ui.painter().rect_stroke(
            across.shrink(1.0),
            4.0,
            Stroke::new(2.0, palette.focus),
            StrokeKind::Inside,
        );
    }
    if let Some(minute) = shown.view.minute {
        let x = scale.x(minute as f32);
        if across.x_range().contains(x) {
            // The line's own time, over whatever the clock says there.
            let time = clock(lesson, Minute::new(minute)).to_string();
            let middle = pos2(x, across.center().y - 1.0);
            paint::time_of_line(ui.painter(), middle, time, palette);
        }
    }
}

/// A minute within the bells.
pub fn within(board: &Board, minute: i32) -> i32 {
    minute.clamp(board.from.get(), board.until.get())
}

fn keep_arrows(ui: &Ui, id: Id, vertical: bool) {
    keep_keys(ui, id, vertical, false);
}

/// While something is carried, Escape leaves it, not the focus.
pub fn keep_keys(ui: &Ui, id: Id, vertical: bool, escape: bool) {
    let filter =
        EventFilter { tab: false, horizontal_arrows: true, vertical_arrows: vertical, escape };
    ui.memory_mut(|m| m.set_focus_lock_filter(id, filter));
}

/// The identity of a bar's widget: from the lesson, never from its place.
pub fn bar_widget(id: BarId) -> Id {
    Id::unique(("bar", id))
}

/// What a bar stands for, for the card.
pub fn selection_of(canvas: &Canvas<'_>, id: BarId) -> Selection {
    match id {
        BarId::Step(group, step) => Selection::Step(group, step),
        BarId::Tin(group, number) => {
            let has = |bars: &[Bar]| bars.iter().any(|b| b.id == BarId::Tin(group, number));
            let oven = canvas.board.ovens.iter().find(|o| o.shelves.iter().any(|s| has(s)));
            oven.map_or(Selection::Group(group), |o| Selection::Oven(o.oven))
        }
        BarId::Class(_) => Selection::Nothing,
    }
}

/// What can be done with bars, and the marks of what has been done; the first
/// bar that is under the pointer or has the keyboard.
fn marks_of_bars(ui: &mut Ui, canvas: &Canvas<'_>, out: &mut Commands) -> Option<BarId> {
    let mut pointed_at = None;
    let clip = ui.clip_rect().intersect(canvas.across.expand(1.0));
    let painter = ui.painter().with_clip_rect(clip);
    let first = canvas.board.bars().next().map(|b| b.id);
    let current = canvas.shown.view.current.filter(|&c| canvas.board.bar(c).is_some()).or(first);
    for (bar, (_, area)) in canvas.board.bars().zip(canvas.picture.bars) {
        let rect = canvas.rect(&inside(area));
        let is_current = current == Some(bar.id);
        if !clip.intersects(rect) && !is_current {
            continue;
        }
        // The board is one stop for the Tab key: only one bar takes it.
        let sense = if is_current { Sense::click() } else { Sense::CLICK } | Sense::DRAG;
        let response = ui.interact(rect.intersect(clip), bar_widget(bar.id), sense);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, say(&bar.spoken)));
        let thing = carry::thing_of(canvas, bar.id);
        let marked = thing.is_some_and(|t| canvas.shown.view.marked.contains(&t));
        let selected = selection_of(canvas, bar.id) == canvas.shown.view.selection
            && !matches!(bar.id, BarId::Tin(..))
            || marked
            || canvas.shown.of_cause().is_some_and(|bars| bars.contains(&bar.id));
        if selected || response.hovered() {
            let width = if selected { 2.0 } else { 1.5 };
            let stroke = Stroke::new(width, canvas.palette.ink);
            painter.rect_stroke(rect.expand(1.0), 4.0, stroke, StrokeKind::Outside);
        }
        let response = response.on_hover_text(say(&bar.spoken));
        if pointed_at.is_none() && (response.hovered() || response.has_focus()) {
            pointed_at = Some(bar.id);
        }
        if response.clicked() {
            out.push(Command::Focus(bar.id));
            let beside = ui.input(|i| i.modifiers.command || i.modifiers.shift);
            match thing.filter(|_| beside) {
                Some(thing) => out.push(Command::Mark(thing)),
                None => out.push(Command::Select(selection_of(canvas, bar.id))),
            }
        }
        if let Some(thing) = thing {
            if response.double_clicked() {
                out.push(Command::InPlace(Some(carry::in_place_of(thing))));
            }
            carry::by_access(ui, response.id, thing, carry::hold_of(bar, thing), out);
        }
        if is_current {
            keyboard(ui, canvas, bar, &response, rect, out);
        }
    }
    pointed_at
}

fn keyboard(
    ui: &Ui,
    canvas: &Canvas<'_>,
    bar: &Bar,
    response: &Response,
    rect: Rect,
    out: &mut Commands,
) {
    if canvas.shown.view.focus_now == Some(bar.id) {
        response.request_focus();
        ui.scroll_to_rect(rect.expand(30.0), None);
    }
    if !response.has_focus() {
        return;
    }
    let carries = canvas.shown.moving.carried.as_ref().is_some_and(|c| !c.mouse);
    keep_keys(ui, response.id, true, carries);
    if let Some(thing) = carry::thing_of(canvas, bar.id) {
        carry::by_keys(ui, canvas, thing, carry::hold_of(bar, thing), out);
    }
    let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    let way = [
        (Key::ArrowRight, 1, 0),
        (Key::ArrowLeft, -1, 0),
        (Key::ArrowDown, 0, 1),
        (Key::ArrowUp, 0, -1),
    ];
    for (key, right, down) in way {
        if pressed(key)
            && let Some(next) = canvas.laid.next(bar.id, right, down)
        {
            out.push(Command::Focus(next));
            out.push(Command::Select(selection_of(canvas, next)));
        }
    }
    let stroke = Stroke::new(3.0, canvas.palette.focus);
    ui.painter().rect_stroke(rect.expand(2.5), 5.0, stroke, StrokeKind::Outside);
}

fn minute_line(painter: &Painter, canvas: &Canvas<'_>) {
    let Some(minute) = canvas.shown.view.minute else { return };
    let x = canvas.scale.x(minute as f32);
    if canvas.across.x_range().contains(x) {
        painter.vline(x, canvas.across.y_range(), Stroke::new(2.0, canvas.palette.ink));
    }
}

fn pan_and_zoom(
    ui: &Ui,
    (background, held): (&Response, bool),
    scale: &TimeScale,
    whole: (f32, f32),
    out: &mut Commands,
) {
    let show = |s: TimeScale| {
        let all = s.until - s.from >= whole.1 - whole.0 - 0.01;
        Command::Show((!all).then_some((s.from, s.until)))
    };
    // What is taken hold of moves; the board does not.
    if !held && background.dragged() && background.drag_delta().x != 0.0 {
        let minutes = -background.drag_delta().x / scale.width * (scale.until - scale.from);
        out.push(show(scale.moved(minutes, whole)));
    }
    let (zoom, pointer, sideways) =
        ui.input(|i| (i.zoom_delta(), i.pointer.hover_pos(), i.smooth_scroll_delta().x));
    let Some(pointer) = pointer.filter(|p| background.rect.contains(*p)) else { return };
    if zoom != 1.0 {
        out.push(show(scale.zoomed(1.0 / zoom, pointer.x, whole)));
    } else if sideways != 0.0 {
        let minutes = -sideways / scale.width * (scale.until - scale.from);
        out.push(show(scale.moved(minutes, whole)));
    }
}
