//! A lesson that is over: how it went against its plan, three questions, none of which
//! has to be answered, and a line for next time.

use eframe::egui::{self, Id, RichText, ScrollArea, Sense, TextEdit, Ui, vec2};

use super::heading;
use crate::afterwards::{
    BakeAsked, PartTold, TimeAsked, bakes_of_day, told_of_groups, unlikely_words,
};
use crate::app::looks::button::{button, named};
use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::paint_scene::{self, InWindow};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, Commands, DayChoice};
use crate::model::{GroupId, PastBake};
use crate::session::{Answer, Command as LessonCommand, DayOver, Session};
use crate::units::{ClockTime, ExactMinutes, Minutes};
use crate::view::scene::day::{Bakes, highest};
use crate::view::words::capital;

/// Minutes off the plan that are answered at once.
const OFF: [i32; 4] = [-2, 0, 2, 5];

/// Shows the questions.
pub fn questions(ui: &mut Ui, session: &Session, over: &DayOver, out: &mut Commands) {
    ScrollArea::vertical().id_salt("afterwards").auto_shrink(false).follow(ui, |ui| {
        heading(ui, "Afterwards");
        soft(ui, "Nothing has to be answered. What was told in the lesson counts already.");
        let asked = &over.asked;
        if let Some(at) = asked.set_to_work {
            title(ui, "When did they set to work?");
            time(ui, "set to work", at, &|at| Answer::SetToWork(at), out);
        }
        if let Some((group, at)) = asked.last {
            title(ui, "When was the last group ready, and which?");
            last(ui, over, (group, at), out);
        }
        title(ui, "What held you up?");
        held(ui, session, over, out);
        title(ui, "A line for next time");
        let next = said(over).1;
        words_field(ui, ("next", "For next time, in your words"), next, &Answer::Next, out);
        if !asked.bakes.is_empty() {
            title(ui, "Baked as long as planned?");
            for one in &asked.bakes {
                bake(ui, one, out);
            }
        }
        learned(ui, over, out);
    });
}

/// What is said so far: what held groups up, and a line for next time.
fn said(over: &DayOver) -> (&str, &str) {
    let today = over.told.0.today.as_ref().and_then(|today| today.afterwards.as_ref());
    today.map_or(("", ""), |after| (after.held.as_str(), after.next.as_str()))
}

fn title(ui: &mut Ui, words: &str) {
    ui.add_space(8.0);
    ui.add(egui::Label::new(RichText::new(say(words)).font(fonts::bold(15.0))).wrap());
}

fn soft(ui: &mut Ui, words: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    ui.add(egui::Label::new(RichText::new(say(words)).color(soft)).wrap());
}

/// "2 sooner", "as planned", "5 later".
fn off_words(by: i32) -> String {
    match by {
        0 => "as planned".to_owned(),
        late if late > 0 => format!("{late} later"),
        early => format!("{} sooner", -early),
    }
}

/// "2 shorter", "as planned", "5 longer".
fn length_words(by: i32) -> String {
    match by {
        0 => off_words(0),
        longer if longer > 0 => format!("{longer} longer"),
        shorter => format!("{} shorter", -shorter),
    }
}

/// A button that is heard with what it answers.
fn choice(ui: &mut Ui, (label, spoken): (&str, &str), is_chosen: bool) -> bool {
    let chosen = egui::Button::selectable(is_chosen, say(label)).frame_when_inactive(true);
    let response = ui.add(chosen);
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_label(say(spoken)));
    response.clicked()
}

/// A time: as planned, a little off, or a minute more or less than is answered.
fn time(
    ui: &mut Ui,
    what: &str,
    at: TimeAsked,
    answer: &dyn Fn(ClockTime) -> Answer,
    out: &mut Commands,
) {
    let words = match at.answer {
        Some(told) => format!("{} planned, {told} as it was", at.planned),
        None => format!("{} planned", at.planned),
    };
    soft(ui, &words);
    let mut push = |at: ClockTime| out.push(LessonCommand::Answer(answer(at)));
    ui.horizontal_wrapped(|ui| {
        for by in OFF {
            let then = at.planned.after(Minutes::new(by));
            let label = off_words(by);
            let spoken = format!("{what}: {label}");
            if choice(ui, (&label, &spoken), at.answer == Some(then)) {
                push(then);
            }
        }
        for (label, by) in [("−1", -1), ("+1", 1)] {
            let from = at.answer.unwrap_or(at.planned);
            let spoken = format!("{what}: a minute {}", if by < 0 { "sooner" } else { "later" });
            if choice(ui, (label, &spoken), false) {
                push(from.after(Minutes::new(by)));
            }
        }
    });
}

fn last(ui: &mut Ui, over: &DayOver, (group, at): (GroupId, TimeAsked), out: &mut Commands) {
    let lesson = &over.told.0;
    let name = lesson.group(group).name.clone();
    let others = ui.menu_button(say(&name), |ui| {
        soft(ui, "The last group that was ready");
        ScrollArea::vertical().max_height(260.0).follow(ui, |ui| {
            for day in &over.observed.groups {
                let other = &lesson.group(day.group).name;
                if ui.button(say(other)).clicked() {
                    let at = at.answer.unwrap_or(at.planned);
                    out.push(LessonCommand::Answer(Answer::Last(other.clone(), at)));
                    ui.close();
                }
            }
        });
    });
    let spoken = format!("The last group: {name}");
    ui.ctx().accesskit_node_builder(others.response.id, |node| node.set_label(say(spoken)));
    time(ui, "last ready", at, &|at| Answer::Last(name.clone(), at), out);
}

fn held(ui: &mut Ui, session: &Session, over: &DayOver, out: &mut Commands) {
    let now = said(over).0;
    let likely = session.likeliest_causes().into_iter().take(3).map(str::to_owned);
    ui.horizontal_wrapped(|ui| {
        for words in likely.chain(["nothing".to_owned()]) {
            let spoken = format!("held up: {words}");
            if choice(ui, (&words, &spoken), now == words) {
                out.push(LessonCommand::Answer(Answer::Held(words)));
            }
        }
    });
    words_field(ui, ("held", "Something else that held us up"), now, &Answer::Held, out);
}

/// A line of words, answered when it is left.
fn words_field(
    ui: &mut Ui,
    (key, label): (&str, &str),
    now: &str,
    answer: &dyn Fn(String) -> Answer,
    out: &mut Commands,
) {
    let key = Id::unique(("afterwards", key));
    let typed: Option<String> = ui.data(|data| data.get_temp(key));
    let mut text = typed.unwrap_or_else(|| now.to_owned());
    let edit = TextEdit::singleline(&mut text).desired_width(f32::INFINITY);
    let field = ui.add(edit.hint_text(say("in your words")));
    ui.ctx().accesskit_node_builder(field.id, |node| node.set_label(say(label)));
    if field.has_focus() || field.changed() {
        ui.data_mut(|data| data.insert_temp(key, text.clone()));
    }
    // Words that come from a screen reader are not typed, and never left.
    if field.lost_focus() || field.changed() && !field.has_focus() {
        ui.data_mut(|data| data.remove::<String>(key));
        if text.trim() != now {
            out.push(LessonCommand::Answer(answer(text)));
        }
    }
}

fn bake(ui: &mut Ui, bake: &BakeAsked, out: &mut Commands) {
    let name = bake.name();
    ui.add(egui::Label::new(say(capital(&name))).wrap());
    soft(ui, &bake.words());
    if let Some(last) = bake.noted.last() {
        soft(ui, "It stands in outcomes.csv of your own data folder, which Undo leaves alone.");
        let command = LessonCommand::Unnote(last.clone());
        if choice(ui, (command.label(), &format!("{name}: take it back")), false) {
            out.push(command);
        }
    }
    if !bake.took.is_empty() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        for by in OFF {
            let (label, planned) = (length_words(by), bake.planned.minutes.get());
            let Ok(took) = ExactMinutes::new(planned + f64::from(by)) else { continue };
            let spoken = format!("{name}: {label}");
            if took.get() > 0.0 && choice(ui, (&label, &spoken), false) {
                let took = PastBake { minutes: took, ..bake.planned.clone() };
                out.push(LessonCommand::Note(took));
            }
        }
    });
}

/// What parts took, and what the class's lessons teach.
fn learned(ui: &mut Ui, over: &DayOver, out: &mut Commands) {
    title(ui, "What it took");
    let told: Vec<String> =
        over.learned.iter().map(|part| capital(&PartTold::of(part).words())).collect();
    let class = &over.told.0.class.name;
    match (told.is_empty(), class.trim().is_empty()) {
        (_, true) => {
            soft(ui, "The class has no name, so no minutes are noted of it. Set up has its field.");
        }
        (true, false) => soft(ui, "Nothing was told by which a part could be timed."),
        (false, false) => {}
    }
    for words in told {
        ui.add(egui::Label::new(say(words)).wrap());
    }
    for unlikely in &over.observed.unlikely {
        soft(ui, &unlikely_words(unlikely));
    }
    if over.observed.parts.is_empty() && over.observed.bakes.is_empty() {
        return;
    }
    ui.add_space(4.0);
    if over.noted {
        soft(
            ui,
            "All of it is noted in your own tables, minutes.csv and outcomes.csv. Undo leaves \
             them alone: a line that is deleted there is forgotten.",
        );
    } else {
        let hint = "Into minutes.csv and outcomes.csv of your own data folder".to_owned();
        button(ui, true, LessonCommand::NoteTheDay, Some(hint), out);
    }
}

/// Shows the bakes of the day over those of the plan, and what was told.
pub fn against_plan(ui: &mut Ui, session: &Session, over: &DayOver, out: &mut Commands) {
    let (lesson, _) = &over.told;
    ScrollArea::vertical().id_salt("day against plan").auto_shrink(false).follow(ui, |ui| {
        ui.horizontal_wrapped(|ui| {
            let date = lesson.date.map_or(String::new(), |d| d.format(", %A %-d %B").to_string());
            heading(ui, &format!("{} is over{date}", lesson.title));
            if session.standing_now().is_some() {
                let tell = Command::Day(DayChoice::Units(true));
                named(ui, true, "Tell more", tell, None, out);
            }
        });
        let Some(planned) = session.planned() else { return };
        let bakes = bakes_of_day(&over.observed);
        let told = bakes.iter().filter(|bake| bake.real).count();
        let size = vec2(ui.available_width(), highest(bakes.len()));
        let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
        let spoken = format!("Bakes of the day: {told} told, {} as planned", bakes.len() - told);
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, say(&spoken)));
        let picture = Bakes {
            lesson,
            board: &planned.board,
            bakes: &bakes,
            now: crate::units::Minute::new(i32::MAX),
            size: size.into(),
        };
        let scene = picture.scene(&InWindow(ui.painter()));
        paint_scene::scene(ui.painter(), rect.min, &scene, Palette::of(ui.ctx()));
        soft(ui, "Filled: as it was told. In ink: as it was planned. Dashed: nobody told.");
        ui.add_space(6.0);
        let all = told_of_groups(lesson, &over.observed);
        if all.is_empty() {
            soft(ui, "Nothing was told of any group, so only what is answered is known.");
        }
        for sentence in all {
            ui.add(egui::Label::new(say(sentence)).wrap());
        }
        let behind = over.observed.groups.len().saturating_sub(told);
        if told > 0 && behind > 0 {
            let words = format!("Of {behind} more nothing was told of their bakes.");
            soft(ui, &words);
        }
    });
}
