//! The few things a lesson needs: when, who, what and where.

use eframe::egui::{Button, RichText, Stroke, Ui, vec2};

use crate::app::looks::button::button;
use crate::app::looks::fonts;
use crate::app::looks::form::{Field, Form, page_title, part, remark};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::screens::setup::at_home;
use crate::app::state::Command;
use crate::file::format::{PaceBand, RecipeShape, RoomShape};
use crate::finding::Path;
use crate::session::LibraryShelves;
use crate::setup::own_time::own_time;
use crate::setup::{SetUp, field, groups, starter};
use crate::speech::Measure;

/// Ages of a class, as they are offered.
pub const AGES: [(&str, PaceBand); 3] = [
    ("ages 11 to 12", PaceBand::Ages11To12),
    ("ages 12 to 14", PaceBand::Ages12To14),
    ("ages 14 to 16", PaceBand::Ages14To16),
];

/// Shows the page.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, shelves: &LibraryShelves) {
    page_title(
        ui,
        "A lesson in short",
        "These are enough for a plan. What is filled in for you is marked assumed until you say \
         otherwise; everything can be changed on the other pages.",
    );
    for words in shelves.unreadable() {
        remark(ui, &words);
    }
    part(ui, "What they bake", |ui| recipes(ui, form, shelves));
    part(ui, "Where", |ui| rooms(ui, form, shelves));
    if ui.available_width() > 760.0 {
        ui.columns(2, |columns| {
            part(&mut columns[0], "Who", |ui| class(ui, form, shelves));
            // Columns spread what wraps to both margins.
            part(&mut columns[1], "When", |ui| ui.vertical(|ui| when(ui, form)).inner);
        });
    } else {
        part(ui, "Who", |ui| class(ui, form, shelves));
        part(ui, "When", |ui| when(ui, form));
    }
    ui.add_space(10.0);
    let ready = form.findings.iter().all(|f| f.severity < crate::finding::Severity::Error);
    let words = RichText::new(say("See the plan")).font(fonts::bold(15.0));
    if ui.add_enabled(ready, Button::new(words)).clicked() {
        form.out.push(Command::Go(crate::app::state::Place::Plan));
    }
}

/// Date and bells.
pub fn when(ui: &mut Ui, form: &mut Form<'_>) {
    let root = Path::root();
    let today = form.today;
    let date = form.file.date.clone().unwrap_or_default();
    let day =
        Field::new(root.field("date"), "Date").measure(Measure::Date).hint("not said").width(150.0);
    form.text(ui, day, &date, |text, file| {
        file.date = field::optional(text, |text| field::date(text, today))?;
        Ok(())
    });
    let period = root.field("period");
    for (name, at, end) in [("Start bell", "start", false), ("End bell", "end", true)] {
        let value = if end { &form.file.period.end } else { &form.file.period.start };
        let bell =
            Field::new(period.field(at), name).measure(Measure::Clock).hint("10:05").width(70.0);
        let value = value.clone();
        form.text(ui, bell, &value, move |text, file| {
            let time = field::clock(text)?;
            *(if end { &mut file.period.end } else { &mut file.period.start }) = time;
            Ok(())
        });
    }
    if let Some(words) = own_time(form.file) {
        remark(ui, &words);
    }
    form.told(ui, &period);
}

/// Name, ages, and groups at once.
pub fn class(ui: &mut Ui, form: &mut Form<'_>, shelves: &LibraryShelves) {
    if !shelves.classes().is_empty() {
        ui.horizontal_wrapped(|ui| {
            for saved in shelves.classes() {
                let there = form.file.class == saved.class;
                let hint = "replaces groups, class steps and bells by this class's";
                if ui.add(tile(ui, there, &saved.class.name)).on_hover_text(say(hint)).clicked() {
                    form.make(&SetUp::Class(saved));
                }
            }
        });
    }
    let at = Path::root().field("class");
    let name = form.file.class.name.clone();
    form.text(ui, Field::new(at.field("name"), "Class"), &name, |text, file| {
        file.class.name = field::line(text)?;
        Ok(())
    });
    let ages = AGES.map(|(words, band)| (words.to_owned(), form.file.class.band == band));
    let choice = Field::new(at.field("band"), "Ages").width(140.0);
    form.choice(ui, &choice, &ages, |file, i| file.class.band = AGES[i].1);
    let at = Path::root().field("groups");
    let (pupils, size) = (groups::pupils(form.file), groups::size(form.file));
    let shown = if pupils == 0 { String::new() } else { pupils.to_string() };
    let all = Field::new(at.field("pupils"), "Pupils").hint("20").width(50.0);
    form.text(ui, all, &shown, |text, file| {
        let size = groups::size(file);
        groups::make(file, field::whole(text, (1, groups::MOST_PUPILS), "")?, size);
        Ok(())
    });
    let each = Field::new(at.field("size"), "In groups of").width(50.0);
    form.text(ui, each, &size.to_string(), move |text, file| {
        let size = field::whole(text, (1, 12), "")?;
        let now = groups::pupils(file);
        groups::make(file, if now == 0 { 20 } else { now }, size);
        Ok(())
    });
    let made = groups::count(form.file);
    if made > 0 {
        let makes = match made {
            1 => "That makes 1 group.".to_owned(),
            n => format!("That makes {n} groups."),
        };
        let over =
            if size > 0 && pupils % size != 0 { " A pupil left over joins another." } else { "" };
        remark(ui, &format!("{makes}{over}"));
        remark(
            ui,
            "With fewer pupils the last groups go, and with them what was entered for them.",
        );
    }
    form.told(ui, &at);
}

fn recipes(ui: &mut Ui, form: &mut Form<'_>, shelves: &LibraryShelves) {
    form.told(ui, &Path::root().field("recipes"));
    // What is chosen keeps its place: nothing else slides under the pointer.
    let library: Vec<&RecipeShape> = shelves.recipes().map(|(r, _)| r).collect();
    let own = |name: &str| form.file.recipes.iter().find(|r| r.name == name);
    let of_our_own = form.file.recipes.iter().filter(|r| library.iter().all(|l| l.name != r.name));
    let kept = library.iter().map(|r| own(&r.name).unwrap_or(r));
    let all: Vec<RecipeShape> = of_our_own.chain(kept).cloned().collect();
    ui.horizontal_wrapped(|ui| {
        for recipe in all {
            let there = starter::has_recipe(form.file, &recipe.name);
            let tile = tile(ui, there, &recipe.name);
            let hint = if there {
                format!("{}\nPress to take it out, with your changes to it.", about(&recipe))
            } else {
                about(&recipe)
            };
            if ui.add(tile).on_hover_text(say(hint)).clicked() {
                if there {
                    form.make(&SetUp::WithoutRecipe(&recipe.name));
                } else {
                    let recipe = at_home::recipe(form.file, &recipe);
                    form.make(&SetUp::Recipe { recipe: &recipe, tins: &shelves.all_tins() });
                }
            }
        }
    });
    if ui.button(say("A recipe of our own")).clicked() {
        let next = form.file.recipes.len();
        if super::recipe::own(form).is_some() {
            form.out.push(Command::SetUp(super::Page::Recipe(next)));
        }
    }
    button(ui, true, Command::AskRecipe, None, form.out);
    remark(ui, "Choose one or more. Each brings its steps, minutes and tins.");
}

/// Something to choose, its edge drawn whether it is chosen or not, and heavier if it is.
fn tile<'a>(ui: &Ui, chosen: bool, words: &'a str) -> Button<'a> {
    let tile = Button::selectable(chosen, say(words)).frame_when_inactive(true);
    let tile = tile.min_size(vec2(0.0, 28.0));
    if chosen { tile.stroke(Stroke::new(2.0, Palette::of(ui.ctx()).ink)) } else { tile }
}

/// "melting · 12 buns, ¾ batch; 2 foil trays; …"
fn about(recipe: &RecipeShape) -> String {
    let methods: Vec<&str> = recipe.methods.iter().map(|m| m.name.as_str()).collect();
    let tins: Vec<&str> =
        recipe.tins.iter().map(|t| t.label.as_deref().unwrap_or(t.tin.as_str())).collect();
    format!("{}\n{}", methods.join(", "), tins.join("; "))
}

fn rooms(ui: &mut Ui, form: &mut Form<'_>, shelves: &LibraryShelves) {
    ui.horizontal_wrapped(|ui| {
        for (room, _) in shelves.rooms() {
            let there = form.file.room.name == room.name;
            let tile = tile(ui, there, &room.name);
            if ui.add(tile).on_hover_text(say(room_in_words(room))).clicked() && !there {
                form.make(&SetUp::Room(&at_home::room(form.file, room)));
            }
        }
    });
    let now = &form.file.room;
    if ovens(now) == 0 {
        remark(ui, "Choose one to start from, or enter your own on the room's page.");
    } else {
        let name = now.name();
        remark(ui, &format!("{name}: {}", room_in_words(now)));
    }
    form.told(ui, &Path::root().field("room"));
}

fn ovens(room: &RoomShape) -> i64 {
    let all = room.ovens.iter().chain(room.units.iter().flat_map(|u| &u.ovens));
    all.map(|o| o.count.unwrap_or(1)).sum()
}

/// "5 ovens, sinks 5, scales 10".
pub fn room_in_words(room: &RoomShape) -> String {
    let n = ovens(room);
    let mut parts = vec![if n == 1 { "1 oven".to_owned() } else { format!("{n} ovens") }];
    if !room.units.is_empty() {
        parts.push(format!("{} units", room.units.len()));
    }
    parts.extend(
        room.kit.0.iter().map(|(name, kit)| format!("{name} {}", kit.count + kit.borrowed)),
    );
    parts.join(", ")
}
