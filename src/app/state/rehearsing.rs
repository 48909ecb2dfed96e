//! How a lesson is rehearsed: whether its clock runs and how fast, and what of it is
//! looked at. The minute is that of the minute line.

/// So many times as fast as the clock on the wall.
pub const PACES: [u32; 7] = [1, 2, 5, 10, 20, 30, 60];

/// A part of what there is at a minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Column {
    /// What the first of the adults says and does.
    #[default]
    You,
    /// Groups.
    Groups,
    /// Ovens.
    Ovens,
    /// The teacher's notes, where there is no room for them below.
    Notes,
}

impl Column {
    /// All, in their order.
    pub const ALL: [Column; 4] = [Column::You, Column::Groups, Column::Ovens, Column::Notes];

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Column::You => "You",
            Column::Groups => "Groups",
            Column::Ovens => "Ovens",
            Column::Notes => "My notes",
        }
    }
}

/// How a lesson is rehearsed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rehearsing {
    /// The clock runs: since when its minute is shown, in seconds of the window.
    pub since: Option<f64>,
    /// How fast it runs.
    pub pace: u32,
    /// It stops at each call, and what is said is covered until it is asked for.
    pub pauses: bool,
    /// A short tone is heard at each cue.
    pub tone: bool,
    /// No player of tones was found.
    pub is_silent: bool,
    /// What is said now is covered.
    pub covered: bool,
    /// What has just been covered, or shown, is to take the keyboard.
    pub focus_now: bool,
    /// What is looked at, where there is room for one part.
    pub column: Column,
}

impl Default for Rehearsing {
    fn default() -> Self {
        Self {
            since: None,
            pace: 10,
            pauses: false,
            tone: false,
            is_silent: false,
            covered: false,
            focus_now: false,
            column: Column::You,
        }
    }
}

impl Rehearsing {
    /// At a minute with a cue the clock stays for so many seconds at least, however
    /// fast it runs.
    const CUE: f64 = 2.0;

    /// How long a minute is shown, in seconds.
    pub fn stays(&self, is_cue: bool) -> f64 {
        let minute = 60.0 / f64::from(self.pace.max(1));
        if is_cue { minute.max(Self::CUE) } else { minute }
    }

    /// Stops the clock; nothing is covered.
    pub fn stop(&mut self) {
        self.since = None;
        self.covered = false;
    }
}

/// A choice of how to rehearse.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RehearseChoice {
    /// Let the clock run, or stop it.
    Play,
    /// Go to the next call, or to the one before.
    Call(bool),
    /// Run so fast.
    Pace(u32),
    /// Stop at each call, or not.
    Pauses(bool),
    /// A short tone at each cue, or none.
    Tone(bool),
    /// Show what is covered.
    Show,
    /// Look at a part.
    Column(Column),
}
