//! What the window remembers between starts: looks and recent files. Kept
//! apart from any lesson; losing it loses nothing of the user's work.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::Hint;
use crate::file::{Disk, RealDisk};
use crate::speech::English;

/// Larger settings, in bytes, are none of ours.
const LARGEST: u64 = 200_000;

/// Recent files remembered.
const RECENT: usize = 8;

/// The window's own settings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Prefs {
    /// The dark theme.
    pub dark: bool,
    /// Size of everything, in hundredths.
    pub text: u32,
    /// Whose words, units and allergen list.
    pub english: English,
    /// Black on white or white on black, and stronger lines.
    pub contrast: bool,
    /// Bars glide to new places, and whatever else moves by itself does.
    pub glide: bool,
    /// By so many seconds the school's bell is ahead of this computer's clock.
    pub bell_ahead: i32,
    /// Recent files, the last one first.
    pub recent: Vec<PathBuf>,
    /// Hints of the first start that were put away.
    pub hints_gone: Vec<Hint>,
    /// Where this is kept; nowhere if `None`.
    #[serde(skip)]
    pub kept_in: Option<PathBuf>,
}

impl Default for Prefs {
    fn default() -> Self {
        Self {
            dark: false,
            text: 100,
            hints_gone: Vec::new(),
            english: English::British,
            contrast: false,
            glide: true,
            bell_ahead: 0,
            recent: Vec::new(),
            kept_in: None,
        }
    }
}

impl Prefs {
    /// Least and greatest size, and the step between sizes.
    pub const TEXT: (u32, u32, u32) = (80, 200, 10);

    /// As kept in a folder, or the defaults.
    pub fn load(folder: Option<PathBuf>) -> Self {
        let Some(path) = folder.map(|f| f.join("window.ron")) else {
            return Self::default();
        };
        let read = RealDisk.read(&RealDisk.resolved(&path), LARGEST).ok();
        let prefs: Option<Prefs> = read.and_then(|bytes| ron::de::from_bytes(&bytes).ok());
        let mut prefs = prefs.unwrap_or_default();
        prefs.text = prefs.text.clamp(Self::TEXT.0, Self::TEXT.1);
        prefs.kept_in = Some(path);
        prefs
    }

    /// Keeps them; a failure costs only the memory of looks.
    pub fn keep(&self) {
        let Some(path) = &self.kept_in else { return };
        let Ok(text) = ron::ser::to_string_pretty(self, ron::ser::PrettyConfig::default()) else {
            return;
        };
        if let Some(folder) = path.parent() {
            let _ = std::fs::create_dir_all(folder);
        }
        let _ = crate::file::write_atomically(path, text.as_bytes(), crate::file::Backup::None);
    }

    /// Makes everything larger or smaller by so many hundredths.
    pub fn resize(&mut self, by: i32) {
        let text = i64::from(self.text) + i64::from(by);
        let text = text.clamp(i64::from(Self::TEXT.0), i64::from(Self::TEXT.1));
        self.text = u32::try_from(text).unwrap_or(100);
    }

    /// Puts a file first among the recent ones.
    pub fn opened(&mut self, path: &Path) {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
        self.recent.retain(|p| *p != path);
        self.recent.insert(0, path);
        self.recent.truncate(RECENT);
        self.keep();
    }
}
