//! How the window starts.

use std::path::PathBuf;
use std::sync::Arc;

use eframe::egui;

use super::App;
use crate::app::looks::icon::icon;
use crate::app::state::Prefs;
use crate::file::{RealDisk, data_folders};
use crate::session::{Clock, SessionStart};
use crate::speech::English;
use crate::units::ClockTime;

/// How the window starts.
#[derive(Debug, Clone, Default)]
pub struct Start {
    /// The lesson to open; the demo if `None`.
    pub file: Option<PathBuf>,
    /// Width and height in points.
    pub size: Option<(f32, f32)>,
    /// Dark or light; as last time if `None`.
    pub dark: Option<bool>,
    /// High contrast; as last time if `false`.
    pub contrast: bool,
    /// Size of everything in hundredths; as last time if `None`.
    pub text: Option<u32>,
    /// Whose words; as last time if `None`.
    pub english: Option<English>,
    /// Remember looks and recent files.
    pub remember: bool,
    /// The table of bakes noted so far; none is kept if `None`.
    pub outcomes: Option<PathBuf>,
    /// The folder of the user's own library and of lessons not saved yet; if
    /// `None`, where such data belong, or nowhere if nothing is remembered.
    pub data: Option<PathBuf>,
    /// The folder of the window's settings; if `None`, where such belong, or
    /// nowhere if nothing is remembered.
    pub settings: Option<PathBuf>,
    /// Ask for paths in a field of the window, not by the system's dialog.
    pub paths_by_field: bool,
    /// The day it is; the computer's if `None`.
    pub day: Option<chrono::NaiveDate>,
    /// The time of day it is and stays; the computer's if `None`.
    pub time: Option<ClockTime>,
    /// How often a plan is played for its odds; as often as usual if `None`.
    pub runs: Option<u32>,
    /// How many plans of a lesson are built where one is looked for, however long that
    /// takes; as many and as long as usual if `None`.
    pub decodings: Option<u64>,
}

impl Start {
    /// The settings it starts with.
    pub(super) fn prefs(&self) -> Prefs {
        let of_system = || self.remember.then(data_folders::settings_folder).flatten();
        let mut prefs = Prefs::load(self.settings.clone().or_else(of_system));
        if let Some(dark) = self.dark {
            prefs.dark = dark;
        }
        prefs.contrast |= self.contrast;
        if let Some(text) = self.text {
            prefs.text = text.clamp(Prefs::TEXT.0, Prefs::TEXT.1);
        }
        prefs.english = self.english.unwrap_or(prefs.english);
        prefs
    }

    /// What the session is given.
    pub(super) fn session(self, ctx: &egui::Context) -> SessionStart {
        let of_system = || self.remember.then(data_folders::data_folder).flatten();
        let data = self.data.clone().or_else(of_system);
        let documents = if self.remember { data_folders::documents_folder() } else { self.data };
        let ctx = ctx.clone();
        SessionStart {
            wake: Arc::new(move || ctx.request_repaint()),
            disk: Arc::new(RealDisk),
            clock: Clock { day: self.day, time: self.time, ..Clock::default() },
            outcomes: self.outcomes,
            data,
            documents,
            runs: self.runs,
            decodings: self.decodings,
        }
    }
}

/// Why there is no window, or none any more.
#[derive(Debug)]
pub enum NoWindow {
    /// None can be opened here.
    Here(eframe::Error),
    /// It was open, and its display is gone.
    AnyMore(eframe::Error),
}

/// Opens the window and returns when it is closed.
///
/// # Errors
/// If no window can be opened here, or its display goes.
pub fn run(start: Start) -> Result<(), NoWindow> {
    let (width, height) = start.size.unwrap_or((1280.0, 800.0));
    let viewport = egui::ViewportBuilder::default()
        .with_title("ovenbell")
        .with_app_id("ovenbell")
        .with_icon(icon())
        .with_inner_size([width, height])
        .with_min_inner_size([800.0, 520.0]);
    let options = eframe::NativeOptions {
        viewport,
        persist_window: start.remember && start.size.is_none(),
        ..Default::default()
    };
    let mut was_open = false;
    let creator: eframe::AppCreator<'_> = Box::new(|cc| {
        was_open = true;
        Ok(Box::new(App::new(&cc.egui_ctx, start)))
    });
    super::ended::keep_unsaved_first();
    let ended = eframe::run_native("ovenbell", options, creator);
    ended.map_err(|error| if was_open { NoWindow::AnyMore(error) } else { NoWindow::Here(error) })
}
