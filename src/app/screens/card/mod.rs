//! The card on the right: whatever is selected, and what can be done with it.

use crate::app::state::Commands;
use crate::session::Command as LessonCommand;
pub mod day_card;
mod hand_card;
mod note_card;
mod odds_card;
mod offer_card;
pub mod parts;
mod tin_card;

use self::parts::{heading, title};
use eframe::egui::{
    self, Align2, Painter, Rect, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo, vec2,
};

use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::is_low;
use crate::app::looks::paint;
use crate::app::looks::paint_scene::{self, InWindow};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::screens::{OnScreen, sure};
use crate::app::state::Command;
use crate::app::state::Page;
use crate::app::state::Selection;
use crate::check::{CheckedPlan, Verdict};
use crate::edit::Edit;
use crate::model::{AdultId, Attendance, GroupId, Lesson, OvenId};

use crate::session::{Laid, Overlay, Session};
use crate::units::Minute;
use crate::view::at_minute::{Doing, at_minute};
use crate::view::board::Work;
use crate::view::cards::{self, Card, ShelfPicture};
use crate::view::help::Sign;
use crate::view::scene;

/// Shows the card.
pub fn show(ui: &mut Ui, shown: &OnScreen<'_>, session: &Session, out: &mut Commands) {
    let (lesson, plan) = (shown.lesson(), shown.plan());
    // Another card begins at its top.
    let of = ("card", format!("{:?}", shown.view.selection));
    ScrollArea::vertical().id_salt(of).auto_shrink([false, true]).follow(ui, |ui| {
        if shown.view.marked.len() > 1 {
            hand_card::of_several(ui, shown, out);
            return;
        }
        match shown.view.selection {
            Selection::Group(group) if group.0 < lesson.groups.len() => {
                let mut card = cards::group(lesson, plan, group);
                if let Some(words) = session.explained(group) {
                    card.why_not = Some(words.to_owned());
                }
                show_card(ui, &card);
                if lesson.today.is_some() {
                    heading(ui, "Today");
                    day_card::of_group(ui, lesson, group, out);
                } else {
                    today(ui, lesson, group, out);
                }
                hand_card::of_group(ui, (lesson, plan), group, out);
                let tried = (session.tins_tried(group), session.is_trying_choice());
                tin_card::show(ui, shown, tried, group, out);
            }
            Selection::Step(group, step) if group.0 < lesson.groups.len() => {
                match cards::step(lesson, plan, group, step) {
                    Some(card) => {
                        show_card(ui, &card);
                        hand_card::of_step(ui, (lesson, plan), (group, step), out);
                    }
                    None => show_card(ui, &cards::group(lesson, plan, group)),
                }
                let name = format!("Card of {}", lesson.group(group).name);
                if ui.button(say(name)).clicked() {
                    out.push(Command::Select(Selection::Group(group)));
                }
            }
            Selection::Oven(oven) if oven.0 < lesson.ovens.len() => {
                oven_card(ui, shown, (lesson, plan), oven, out);
            }
            Selection::Adults => {
                for adult in 0..lesson.adults.len() {
                    let now = shown.view.minute.map(Minute::new);
                    show_card(ui, &cards::adult(lesson, plan, AdultId(adult), now));
                    ui.add_space(8.0);
                }
                if lesson.adults.is_empty() {
                    title(ui, "Adults", "The lesson names none yet.");
                    if ui.button(say("Add adults")).clicked() {
                        out.push(Command::SetUp(Page::Adults));
                    }
                }
            }
            Selection::Offer if let Some(overlay) = offered(shown) => match &overlay.of {
                Laid::Offer(offer) => offer_card::show(ui, overlay, offer, out),
                Laid::BetterOdds(better) => offer_card::better_odds(ui, overlay, better, out),
                Laid::Before => {}
            },
            Selection::Odds if session.shows_odds() => odds_card::show(ui, shown, session, out),
            Selection::Minute => minute_card(ui, shown, lesson, plan, out),
            _ => key(ui, shown, session, out),
        }
    });
}

/// What is offered and laid over the board.
fn offered<'a>(shown: &OnScreen<'a>) -> Option<&'a Overlay> {
    shown.overlay.filter(|overlay| overlay.is_offered())
}

fn show_card(ui: &mut Ui, card: &Card) {
    match card.verdict {
        Some(verdict) => parts::judged(ui, verdict, (&card.title, &card.under)),
        None => title(ui, &card.title, &card.under),
    }
    for (name, value) in &card.lines {
        line(ui, name, value);
    }
    if let Some(why) = &card.why_not {
        heading(ui, "Why not");
        ui.add(egui::Label::new(say(why)).wrap());
    }
}

/// A name and its value: on one line if both are short, else one under the
/// other.
fn line(ui: &mut Ui, name: &str, value: &str) {
    let palette = Palette::of(ui.ctx());
    let label = RichText::new(say(name)).font(fonts::bold(13.0)).color(palette.soft);
    // Names stand in a column of their own, from the card's left edge.
    let column = 112.0;
    let wide = |text: &str, font| {
        let text = crate::finding::shortened(&say(text), 60);
        ui.painter().layout_no_wrap(text, font, palette.ink).size().x
    };
    let body = egui::TextStyle::Body.resolve(ui.style());
    let short = wide(name, fonts::bold(13.0)) + 6.0 <= column
        && column + wide(value, body) <= ui.available_width();
    if short {
        ui.horizontal(|ui| {
            let start = ui.cursor().left();
            ui.label(label);
            let used = ui.cursor().left() - start;
            ui.add_space((column - used).max(0.0));
            ui.label(say(value));
        });
    } else {
        ui.label(label);
        ui.add(egui::Label::new(say(value)).wrap());
        ui.add_space(2.0);
    }
}

/// Who takes part, and how many they are.
fn today(ui: &mut Ui, lesson: &Lesson, id: GroupId, out: &mut Commands) {
    let group = lesson.group(id);
    ui.add_space(6.0);
    ui.horizontal_wrapped(|ui| {
        let name = group.name.clone();
        let left_out = group.attendance == Attendance::LeftOut;
        let words = if left_out { "Take in" } else { "Leave out" };
        if ui.button(say(words)).clicked() {
            out.push(LessonCommand::Edit(Edit::LeftOut { group: name.clone(), out: !left_out }));
        }
        let pupils = i64::from(group.pupils);
        if ui.add_enabled(pupils > 1, egui::Button::new(say("Pupil absent"))).clicked() {
            let edit = Edit::Pupils { group: name.clone(), pupils: pupils - 1 };
            out.push(LessonCommand::Edit(edit));
        }
        if ui.button(say("One pupil more")).clicked() {
            out.push(LessonCommand::Edit(Edit::Pupils { group: name, pupils: pupils + 1 }));
        }
    });
}

fn oven_card(
    ui: &mut Ui,
    shown: &OnScreen<'_>,
    (lesson, plan): (&Lesson, &CheckedPlan),
    id: OvenId,
    out: &mut Commands,
) {
    let minute = shown.view.minute.map(Minute::new);
    let (card, shelves) = cards::oven(lesson, plan, id, minute);
    show_card(ui, &card);
    let oven = &lesson.ovens[id.0];
    let words = if oven.out_of_order { "Works again" } else { "Out of order" };
    if ui.button(say(words)).clicked() {
        let edit = Edit::OvenOut { oven: oven.name.clone(), out: !oven.out_of_order };
        out.push(LessonCommand::Edit(edit));
    }
    heading(ui, "Shelves from above, to scale, door below");
    for picture in &shelves {
        shelf(ui, picture);
    }
}

/// A shelf from above, its back at the top.
fn shelf(ui: &mut Ui, picture: &ShelfPicture) {
    ui.add(egui::Label::new(RichText::new(say(&picture.spoken)).font(fonts::plain(13.0))).wrap());
    let width = ui.available_width().min(300.0);
    let scene = scene::shelf::shelf(picture, width, &InWindow(ui.painter()));
    let (rect, response) = ui.allocate_exact_size(scene.size.into(), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, say(&picture.spoken)));
    paint_scene::scene(ui.painter(), rect.min, &scene, Palette::of(ui.ctx()));
    ui.add_space(6.0);
}

fn minute_card(
    ui: &mut Ui,
    shown: &OnScreen<'_>,
    lesson: &Lesson,
    plan: &CheckedPlan,
    out: &mut Commands,
) {
    let Some(minute) = shown.view.minute else {
        title(ui, "Minute line", "Click the clock, or press the arrow keys on it.");
        return;
    };
    let now = at_minute(lesson, plan, Minute::new(minute));
    title(ui, &now.title, now.class.as_deref().unwrap_or(""));
    ui.horizontal(|ui| {
        for (label, by) in [("−5", -5), ("−1", -1), ("+1", 1), ("+5", 5)] {
            let spoken = format!("{by:+} minutes");
            let button = ui.button(say(label));
            button.widget_info(|| WidgetInfo::labeled(Role::Button, true, say(&spoken)));
            if button.clicked() {
                out.push(Command::StepMinute(by));
            }
        }
    });
    for (name, doing) in [("Groups", &now.groups), ("Ovens", &now.ovens), ("Adults", &now.adults)] {
        if doing.is_empty() {
            continue;
        }
        heading(ui, name);
        for Doing { who, what, .. } in doing {
            let text = format!("{}: {what}", crate::finding::shortened(who, 60));
            ui.add(egui::Label::new(say(text)).wrap());
        }
    }
}

/// The key to the board, what is assumed, and cautions.
fn key(ui: &mut Ui, shown: &OnScreen<'_>, session: &Session, out: &mut Commands) {
    let (lesson, plan) = (shown.lesson(), shown.plan());
    let palette = Palette::of(ui.ctx());
    if is_low(ui.ctx()) {
        sure::in_lines(ui, session, out);
        ui.add_space(4.0);
    }
    title(ui, "The running order", "Select a group, a step or an oven to see its card.");
    if let Some(overlay) = shown.overlay {
        offer_card::legend(ui, &overlay.name);
    }
    fills(ui);
    let verdicts = [
        Verdict::Fits,
        Verdict::Tight,
        Verdict::NotRealistically,
        Verdict::Cannot,
        Verdict::CannotAll,
    ];
    ui.add_space(4.0);
    for verdict in verdicts {
        ui.horizontal(|ui| {
            let (rect, _) = ui.allocate_exact_size(vec2(18.0, 16.0), Sense::hover());
            paint::verdict(ui.painter(), rect.center(), verdict, palette);
            ui.label(say(meaning(verdict)));
        });
    }
    let warnings = session.document().map(|d| d.warnings.as_slice()).unwrap_or_default();
    if !warnings.is_empty() {
        heading(ui, "Worth a look");
        for warning in warnings {
            ui.add(egui::Label::new(say(&warning.message)).wrap());
        }
    }
    let assumed = crate::view::assumed::assumed(lesson, plan);
    if !assumed.is_empty() {
        heading(ui, "Assumed, as the lesson does not say");
        for figure in assumed {
            ui.add(egui::Label::new(say(figure)).wrap());
        }
    }
    let hangs_on = &session.offering().hangs_on;
    if !hangs_on.is_empty() {
        heading(ui, "What the answer hangs on");
        for sentence in hangs_on {
            ui.add(egui::Label::new(say(sentence)).wrap());
        }
    }
    heading(ui, "Caution");
    ui.add(
        egui::Label::new(say(
            "A bake is done by its done test, never by the clock alone. Your school's policy and \
             risk assessment come first.",
        ))
        .wrap(),
    );
}

/// Words, and how their sample is painted.
type Sample<'a> = (&'a str, &'a dyn Fn(&Painter, Rect));

/// What the fills and lines of the board stand for, in as many columns as
/// there is room for.
fn fills(ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    let works = [Work::Bench, Work::Door, Work::Bake, Work::Cool, Work::Wait, Work::Clear];
    let (sample, word) = (vec2(30.0, 14.0), vec2(92.0, 16.0));
    let pair = 2.0 * (sample.x + word.x) + 3.0 * ui.spacing().item_spacing.x;
    let columns = if ui.available_width() >= pair { 2 } else { 1 };
    let entry = |ui: &mut Ui, words: &str, paint: &dyn Fn(&Painter, Rect)| {
        let (rect, _) = ui.allocate_exact_size(sample, Sense::hover());
        paint(ui.painter(), rect);
        let (place, response) = ui.allocate_exact_size(word, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, say(words)));
        let font = fonts::plain(14.0);
        ui.painter().text(place.left_center(), Align2::LEFT_CENTER, say(words), font, palette.ink);
    };
    let class = |painter: &Painter, rect: Rect| paint::sign(painter, rect, Sign::Class, palette);
    let heat = |painter: &Painter, rect: Rect| paint::sign(painter, rect, Sign::Heat, palette);
    for pair in works.chunks(columns) {
        ui.horizontal(|ui| {
            for &work in pair {
                entry(ui, work.word(), &|painter, rect| paint::bar(painter, rect, work, palette));
            }
        });
    }
    let rest: [Sample<'_>; 2] = [("whole class", &class), ("oven's heat", &heat)];
    for pair in rest.chunks(columns) {
        ui.horizontal(|ui| {
            for (words, paint) in pair {
                entry(ui, words, paint);
            }
        });
    }
}

fn meaning(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fits => "fits: with the wanted spare",
        Verdict::Tight => "tight: in time, little to spare",
        Verdict::NotRealistically => "no plan found at usual minutes",
        Verdict::Cannot => "cannot: proved impossible",
        Verdict::CannotAll => "no room for all: proved",
        Verdict::LeftOut => "left out",
    }
}
