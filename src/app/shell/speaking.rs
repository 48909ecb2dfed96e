//! In whose words the window speaks, and names that are said as they are.

use std::path::PathBuf;
use std::sync::Arc;

use super::App;
use crate::app::looks::say::speak;
use crate::file::own_words;
use crate::model::Lesson;
use crate::session::{Document, PlanBefore, Revision, WeekDocument};
use crate::speech::{English, KeptNames, names_in};
use crate::week::own_words as own_words_of_week;

/// The user's own names, gathered anew when what they stand in changes.
#[derive(Default)]
pub struct Names {
    of: Option<Of>,
    kept: Arc<KeptNames>,
}

/// What names were gathered from.
#[derive(PartialEq, Eq)]
struct Of {
    revision: Option<Revision>,
    path: Option<PathBuf>,
    /// Lessons and the week, by where they are: the one planned, the one before.
    lessons: [usize; 3],
    /// Entries of the user's own library.
    own: u64,
    /// Files in the list of recent ones.
    recent: usize,
}

impl App {
    /// Speaks as the settings say, keeping the names on screen.
    pub(super) fn speak(&mut self) {
        if self.prefs.english != English::British {
            self.gather();
        }
        self.session.library_mut().speak(self.prefs.english);
        speak(self.prefs.english, &self.names.kept);
    }

    fn gather(&mut self) {
        let doc = self.session.document();
        let planned = self.session.planned().map(|p| &p.lesson);
        let before = self.session.before().map(PlanBefore::lesson);
        let week = self.session.week().map(WeekDocument::week);
        let place = |lesson: Option<&Arc<Lesson>>| lesson.map_or(0, |l| Arc::as_ptr(l) as usize);
        let of = Of {
            revision: doc.map(Document::revision),
            path: doc.and_then(|d| d.path.clone()),
            lessons: [place(planned), place(before), week.map_or(0, |w| Arc::as_ptr(w) as usize)],
            own: self.session.library().changes(),
            recent: self.prefs.recent.len() + self.session.left_behind().len(),
        };
        if self.names.of.as_ref() == Some(&of) {
            return;
        }
        let mut names: Vec<String> = self.session.library().own_words();
        names.extend(doc.iter().flat_map(|doc| own_words::of_lesson(doc.file())));
        for lesson in planned.into_iter().chain(before) {
            names.extend(names_in(lesson).into_iter().map(str::to_owned));
        }
        names.extend(week.iter().flat_map(|week| own_words_of_week(week)));
        let own = doc.and_then(|d| d.path.as_ref());
        let left = self.session.left_behind().iter().map(|copy| &copy.path);
        for path in self.prefs.recent.iter().chain(left).chain(own) {
            names.push(path.to_string_lossy().into_owned());
            names.extend(path.file_name().map(|name| name.to_string_lossy().into_owned()));
        }
        self.names = Names { of: Some(of), kept: Arc::new(KeptNames::new(names)) };
    }
}
