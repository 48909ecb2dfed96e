//! Where the program keeps what belongs to its user rather than to a lesson.

use std::path::{Path, PathBuf};

/// A folder of this name beside the program keeps everything with it: for a
/// stick, or where nothing may be installed.
const BESIDE: &str = "ovenbell-data";
/// Names the folder to use instead of any other.
const NAMED_BY: &str = "OVENBELL_DATA";

/// The folder of the user's own data: the one named by `OVENBELL_DATA`, else
/// `ovenbell-data` beside the program if there is one, else where this system
/// keeps such data. `None` if the user has no home.
pub fn data_folder() -> Option<PathBuf> {
    carried().or_else(|| of_system().map(|f| f.data_dir().to_path_buf()))
}

/// The folder of the window's settings, likewise.
pub fn settings_folder() -> Option<PathBuf> {
    carried().or_else(|| of_system().map(|f| f.config_dir().to_path_buf()))
}

/// Where this system keeps what its user writes, or the user's home.
pub fn documents_folder() -> Option<PathBuf> {
    let user = directories::UserDirs::new()?;
    Some(user.document_dir().unwrap_or_else(|| user.home_dir()).to_path_buf())
}

/// The file of bakes as they really went.
pub fn outcomes_file() -> Option<PathBuf> {
    data_folder().map(|folder| folder.join("outcomes.csv"))
}

/// The file of what parts of lessons took classes, beside the one of bakes.
pub fn minutes_beside(outcomes: &Path) -> PathBuf {
    outcomes.with_file_name("minutes.csv")
}

fn carried() -> Option<PathBuf> {
    if let Some(named) = std::env::var_os(NAMED_BY).filter(|n| !n.is_empty()) {
        return Some(PathBuf::from(named));
    }
    let program = std::env::current_exe().ok()?;
    let beside = program.parent()?.join(BESIDE);
    beside.is_dir().then_some(beside)
}

fn of_system() -> Option<directories::ProjectDirs> {
    directories::ProjectDirs::from("", "", "ovenbell")
}
