//! The card of the week: what is selected in it, or else what there is to know of it
//! all.

use eframe::egui::{self, Align, Label, Layout, RichText, ScrollArea, Ui};

use super::Shown;
use crate::app::looks::button::{button, named};
use crate::app::looks::follow::Follow as _;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, menu};
use crate::app::screens::card::parts::{heading, judged, title};
use crate::app::state::{Command, Commands, WeekChoice};
use crate::session::{Tried, WeekCommand};
use crate::view::week::card::{self, OvenLine, SumCard};
use crate::view::week::words::{asks, looked, then, trouble_in_short};
use crate::view::week::{Item, TroubleId};
use crate::week::{
    Change, EntryNo, Move, Moves, Out, Report, RoomNo, Stage, free_slots, where_and_when,
};

/// Shows the card.
pub fn show(ui: &mut Ui, shown: &Shown<'_>, out: &mut Commands) {
    let of = ("card of the week", format!("{:?}", shown.view.selected), shown.tried().is_some());
    ScrollArea::vertical().id_salt(of).auto_shrink([false, true]).follow(ui, |ui| {
        if let Some(tried) = shown.tried() {
            of_tried(ui, shown, tried, out);
            return;
        }
        if shown.view.day.is_some() {
            let whole = Command::Week(WeekChoice::Day(None));
            named(ui, true, "Show the whole week", whole, None, out);
            ui.add_space(4.0);
        }
        let report = shown.report.map(|report| &**report);
        match shown.view.selected {
            Some(Item::Entry(entry)) => of_entry(ui, shown, entry, out),
            Some(Item::Room(room)) => of_room(ui, shown, room, out),
            Some(Item::Trouble(id)) => {
                match report.and_then(|report| Some((report, id.among(report)?))) {
                    Some((report, moves)) => of_trouble(ui, shown, report, moves, out),
                    None => of_week(ui, shown, out),
                }
            }
            None => of_week(ui, shown, out),
        }
        if shown.view.selected.is_some() {
            ui.add_space(10.0);
            let whole = Command::Week(WeekChoice::Select(None));
            named(ui, true, "Card of the week", whole, None, out);
        }
    });
}

fn words(ui: &mut Ui, words: &str) {
    ui.add(Label::new(say(words)).wrap());
}

fn soft(ui: &mut Ui, words: &str) {
    let colour = Palette::of(ui.ctx()).soft;
    ui.add(Label::new(RichText::new(say(words)).color(colour)).wrap());
}

/// A name with a figure at the right end of its line; the name is a button that leads
/// somewhere.
fn with_figure(ui: &mut Ui, (name, figure): (&str, &str), to: Option<EntryNo>, out: &mut Commands) {
    ui.horizontal_top(|ui| {
        let bold = RichText::new(say(figure)).font(fonts::bold(14.0));
        let width = crate::app::looks::width_of(ui, figure, fonts::bold(14.0));
        let room = (ui.available_width() - width - 10.0).max(60.0);
        let lines = Layout::top_down(Align::LEFT);
        ui.allocate_ui_with_layout(egui::vec2(room, 0.0), lines, |ui| {
            ui.set_width(room);
            match to {
                Some(entry) => leads(ui, name, Item::Entry(entry), out),
                None => words(ui, name),
            }
        });
        ui.with_layout(Layout::right_to_left(Align::TOP), |ui| ui.label(bold));
    });
}

/// Words that lead to something on the picture.
fn leads(ui: &mut Ui, words: &str, to: Item, out: &mut Commands) {
    let text = RichText::new(say(words)).color(Palette::of(ui.ctx()).focus);
    if ui.add(egui::Link::new(text)).clicked() {
        out.push(Command::Week(WeekChoice::Select(Some(to))));
        // A lesson that is not well has no other place than its own.
        let seen = match to {
            Item::Trouble(TroubleId::NotAllOut(entry)) => Item::Entry(entry),
            other => other,
        };
        out.push(Command::Week(WeekChoice::Focus(seen)));
    }
}

fn of_entry(ui: &mut Ui, shown: &Shown<'_>, entry: EntryNo, out: &mut Commands) {
    let report = shown.report.map(|report| &**report);
    let Some(card) = card::entry(shown.week, report, entry) else { return };
    match card.verdict {
        Some(verdict) => judged(ui, verdict, (&card.title, &card.under)),
        None => title(ui, &card.title, &card.under),
    }
    for (name, value) in &card.lines {
        let soft = Palette::of(ui.ctx()).soft;
        ui.label(RichText::new(say(*name)).font(fonts::bold(13.0)).color(soft));
        words(ui, value);
        ui.add_space(2.0);
    }
    ui.horizontal_wrapped(|ui| {
        if card.opens {
            let open = WeekCommand::OpenLesson(entry);
            let hint = "its own file; the week stays open beside it".to_owned();
            let command = crate::session::Command::Week(open);
            named(ui, true, "Open the lesson", command, Some(hint), out);
        }
        if let Some(held) = card.held {
            let hold = WeekCommand::Make(Change::Hold(entry, !held));
            let label = hold.label();
            let hint = if held { "moves may be tried with it" } else { "no move is tried with it" };
            let command = crate::session::Command::Week(hold);
            named(ui, true, label, command, Some(hint.to_owned()), out);
        }
    });
    elsewhere(ui, shown, entry, out);
    let remove = WeekCommand::Make(Change::Remove(entry));
    let label = remove.label();
    if ui.button(say(label)).on_hover_text(say("its own file stays as it is")).clicked() {
        out.push(Command::Week(WeekChoice::Select(None)));
        out.push(crate::session::Command::Week(remove));
    }
    let Some(report) = report else { return };
    let mut of_it = report.moves.iter().filter(|m| m.trouble.entries().contains(&entry)).peekable();
    let mut twice = shown.week.twice(None);
    twice.retain(|of| of.one == entry || of.other == entry);
    if of_it.peek().is_some() || !twice.is_empty() {
        heading(ui, "Does not go well");
    }
    for of in &twice {
        words(ui, &of.words);
        ui.add_space(2.0);
    }
    for moves in of_it {
        let item = Item::Trouble(TroubleId::of(&moves.trouble));
        leads(ui, &trouble_in_short(shown.week, report, &moves.trouble), item, out);
    }
}

/// Where else a lesson could be: what a hand drags it to is chosen here by name.
fn elsewhere(ui: &mut Ui, shown: &Shown<'_>, number: EntryNo, out: &mut Commands) {
    let Some(entry) = shown.week.entry(number).filter(|e| !e.held && e.lesson().is_some()) else {
        return;
    };
    let (response, _) = menu::staying(egui::Button::new(say("Move to…"))).ui(ui, |ui| {
        ScrollArea::vertical().max_height(320.0).follow(ui, |ui| {
            let slots = free_slots(shown.week, entry);
            if slots.is_empty() {
                words(ui, "No other room and period is free for it.");
            }
            for slot in slots {
                if ui.button(say(where_and_when(shown.week, &slot))).clicked() {
                    let change = Change::Move(Move::Elsewhere(number, slot));
                    out.push(crate::session::Command::Week(WeekCommand::Try(change)));
                    ui.close();
                }
            }
        });
    });
    response.labelled("Move to another room or period…");
}

fn of_trouble(ui: &mut Ui, shown: &Shown<'_>, report: &Report, moves: &Moves, out: &mut Commands) {
    let SumCard { title: name, when, terms, total, more } = card::sum(shown.week, report, moves);
    title(ui, &name, &when);
    for (entry, who, count) in &terms {
        with_figure(ui, (who, count), Some(*entry), out);
    }
    if !total.is_empty() {
        ui.separator();
        ui.add(Label::new(RichText::new(say(&total)).font(fonts::bold(15.0))).wrap());
    }
    ui.add_space(4.0);
    for paragraph in &more {
        words(ui, paragraph);
    }
    if report.stage == Stage::Whole {
        ui.add_space(4.0);
        soft(ui, &looked(moves));
    }
}

/// A room: its ovens, and which are out of order until when.
fn of_room(ui: &mut Ui, shown: &Shown<'_>, room: RoomNo, out: &mut Commands) {
    let Some(card) = card::room(shown.week, room) else { return };
    title(ui, &card.title, &card.under);
    for line in &card.ovens {
        oven(ui, shown, line, out);
    }
    if !card.ovens.is_empty() {
        ui.add_space(4.0);
        soft(ui, "Out until… first shows which lessons it breaks; only then is it kept.");
    }
    broken(ui, shown, out);
}

fn oven(ui: &mut Ui, shown: &Shown<'_>, line: &OvenLine, out: &mut Commands) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(say(&line.name)).font(fonts::bold(14.0)));
        if line.for_good {
            ui.label(say("out of order, as its room says"));
            return;
        }
        for (what, told) in &line.out {
            ui.label(say(told));
            let works =
                crate::session::Command::Week(WeekCommand::Try(Change::Works(what.clone())));
            let label = format!("Works again: {}", line.name);
            if ui.button(say("Works again")).labelled(&label).clicked() {
                out.push(works);
            }
        }
        if line.out.is_empty() {
            until(ui, shown, line, out);
        }
    });
}

/// The days until which something may be out of order.
fn until(ui: &mut Ui, shown: &Shown<'_>, line: &OvenLine, out: &mut Commands) {
    let days = || shown.week.days.iter().filter(|day| shown.week.on(day.date).next().is_some());
    let Some(first) = days().next().map(|day| day.date) else { return };
    // What is looked at by itself goes out from that day on.
    let from = shown.view.day.unwrap_or(first);
    let button = menu::staying(egui::Button::new(say("Out until…")));
    let label = format!("{} out until…", line.name);
    let (response, _) = button.ui(ui, |ui| {
        for day in days().map(|day| day.date).filter(|day| *day >= from) {
            let words = if day == from {
                format!("{} only", day.format("%A"))
            } else {
                format!("{} to {}", from.format("%A"), day.format("%A"))
            };
            if ui.button(say(words)).clicked() {
                let what = Out { what: line.place.clone(), count: 1, from, until: day };
                let change = WeekCommand::Try(Change::Out(what));
                out.push(crate::session::Command::Week(change));
                ui.close();
            }
        }
    });
    response.labelled(&label);
}

/// Names for those who hear, where what is seen says less.
trait Labelled {
    /// The same with another name.
    fn labelled(self, name: &str) -> Self;
}

impl Labelled for egui::Response {
    fn labelled(self, name: &str) -> Self {
        self.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, say(name)));
        self
    }
}

/// A change that is tried: what it comes to, and whether it is kept.
fn of_tried(ui: &mut Ui, shown: &Shown<'_>, tried: &Tried, out: &mut Commands) {
    title(ui, "Tried on the picture", "Nothing is changed until it is kept.");
    words(ui, &format!("{}.", tried.words));
    let week = shown.doc.week();
    if let Some(offer) = &tried.offer {
        ui.add_space(4.0);
        words(ui, &format!("It asks: {}.", asks(week, &offer.what)));
        words(ui, &crate::view::words::capital(&format!("{}.", then(week, offer))));
    }
    ui.add_space(4.0);
    match (shown.doc.report(), &tried.report) {
        (Some(before), Some(after)) if after.stage == Stage::Whole => {
            let both = ((&**week, &**before), (&*tried.week, &**after));
            for told in card::comes_to(both.0, both.1, &tried.change) {
                words(ui, &told);
                ui.add_space(2.0);
            }
        }
        _ => soft(ui, "The lessons it touches are planned…"),
    }
    if let Some(why) = tried.not_kept {
        ui.add_space(4.0);
        let text =
            RichText::new(say(format!("It cannot be kept here: {why}."))).font(fonts::bold(14.0));
        ui.add(Label::new(text).wrap());
    }
    ui.add_space(6.0);
    ui.horizontal_wrapped(|ui| {
        for (may, command) in
            [(tried.not_kept.is_none(), WeekCommand::Keep), (true, WeekCommand::Drop)]
        {
            let label = command.label();
            named(ui, may, label, crate::session::Command::Week(command), None, out);
        }
    });
}

/// What there is to know of the whole week.
fn of_week(ui: &mut Ui, shown: &Shown<'_>, out: &mut Commands) {
    findings(ui, shown);
    let Some(report) = shown.report.map(|report| &**report) else {
        soft(ui, "Its lessons are planned, each as if it were alone…");
        return;
    };
    let week = shown.week;
    let twice = week.twice(shown.view.day.or(report.day));
    let troubles: Vec<&Moves> =
        report.moves.iter().filter(|moves| shown.is_of(moves.trouble.date())).collect();
    if !troubles.is_empty() || !twice.is_empty() {
        heading(ui, "Does not go well");
        for of in twice {
            leads(ui, &of.words, Item::Entry(of.one), out);
            ui.add_space(2.0);
        }
        for moves in troubles {
            let item = Item::Trouble(TroubleId::of(&moves.trouble));
            leads(ui, &trouble_in_short(week, report, &moves.trouble), item, out);
            ui.add_space(2.0);
        }
    }
    let tightest = card::tightest(week, report, shown.view.day);
    if !tightest.is_empty() {
        heading(ui, "Tightest in ovens");
        ui.spacing_mut().item_spacing.y = 2.0;
        for (entry, name, figure, fewer) in &tightest {
            with_figure(ui, (name, figure), Some(*entry), out);
            if !fewer.is_empty() {
                soft(ui, fewer);
            }
            ui.add_space(3.0);
        }
    }
    broken(ui, shown, out);
    let setting_out = card::setting_out(week, report, shown.view.day);
    if !setting_out.is_empty() {
        heading(ui, "Setting out");
        setting_out.iter().for_each(|line| words(ui, line));
    }
    if report.lessons.is_empty() {
        words(
            ui,
            "The week has no lesson yet. Drop lesson files on the window: each comes between its \
             own bells, in its own room, on the day of its date or the first that is free.",
        );
        let hint = Some("or drop its file on the window".to_owned());
        button(ui, true, Command::AskLessonOfWeek, hint, out);
    }
}

fn broken(ui: &mut Ui, shown: &Shown<'_>, out: &mut Commands) {
    let Some(report) = shown.report else { return };
    let all = card::broken(shown.week, report);
    if !all.is_empty() {
        heading(ui, "Out of order");
    }
    for (what, lessons) in &all {
        words(ui, what);
        if lessons.is_empty() && report.stage >= Stage::Moves {
            soft(ui, "breaks no lesson");
        }
        for (entry, told) in lessons {
            leads(ui, &format!("breaks {told}"), Item::Entry(*entry), out);
        }
    }
}

/// What is wrong in the week's file, each with its line.
fn findings(ui: &mut Ui, shown: &Shown<'_>) {
    let all = shown.doc.findings();
    if all.is_empty() {
        return;
    }
    heading(ui, "To look at in its file");
    for finding in all {
        let place = finding.place.map_or(String::new(), |p| format!("line {}: ", p.line));
        let text = RichText::new(say(format!("{place}{}", finding.message)));
        ui.add(Label::new(text).wrap());
        if !finding.hint.is_empty() {
            soft(ui, &finding.hint);
        }
    }
}
