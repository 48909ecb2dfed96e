//! What every layer reports in: what is wrong, where, and what would be right.

use std::fmt;

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The lesson can be planned, but someone should look at this.
    Warning,
    /// The lesson cannot be used until this is put right.
    Error,
}

/// A place in a text file. Both numbers start at 1; columns count characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.line, self.column)
    }
}

/// One step of a path into a lesson, as in `groups[3].tins[0]`.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Segment {
    /// A named field.
    Field(String),
    /// The n-th entry of a list, from 0.
    Index(usize),
    /// The entry of a map with this key.
    Key(String),
}

/// Where in a lesson something stands, for a person and for the locator.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Path(pub Vec<Segment>);

impl Path {
    /// The lesson itself.
    pub fn root() -> Self {
        Self::default()
    }

    /// This path and then a field.
    #[must_use]
    pub fn field(&self, name: &str) -> Self {
        self.then(Segment::Field(name.to_owned()))
    }

    /// This path and then an entry of a list, from 0.
    #[must_use]
    pub fn index(&self, index: usize) -> Self {
        self.then(Segment::Index(index))
    }

    /// This path and then an entry of a map.
    #[must_use]
    pub fn key(&self, key: &str) -> Self {
        self.then(Segment::Key(key.to_owned()))
    }

    fn then(&self, segment: Segment) -> Self {
        let mut segments = self.0.clone();
        segments.push(segment);
        Self(segments)
    }
}

impl fmt::Display for Path {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, segment) in self.0.iter().enumerate() {
            match segment {
                Segment::Field(name) if i == 0 => write!(f, "{name}")?,
                Segment::Field(name) => write!(f, ".{name}")?,
                Segment::Index(index) => write!(f, "[{index}]")?,
                Segment::Key(key) => write!(f, "[\"{}\"]", shortened(key, 40))?,
            }
        }
        Ok(())
    }
}

/// Something found wrong or doubtful in what was given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// How much it matters.
    pub severity: Severity,
    /// A short fixed name for the kind of finding, such as `duplicate-name`.
    pub code: &'static str,
    /// Where in the lesson.
    pub path: Path,
    /// Where in the file, once located.
    pub place: Option<Place>,
    /// What is wrong, in a sentence.
    pub message: String,
    /// What to do, in a sentence; empty where the message says it all.
    pub hint: String,
}

impl Finding {
    /// A finding that stops the lesson from being used.
    pub fn error(code: &'static str, path: Path, message: impl Into<String>) -> Self {
        Self {
            severity: Severity::Error,
            code,
            path,
            place: None,
            message: message.into(),
            hint: String::new(),
        }
    }

    /// A finding that only asks for a look.
    pub fn warning(code: &'static str, path: Path, message: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, path, message) }
    }

    /// The same finding with what to do about it.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = hint.into();
        self
    }

    /// The same finding at a place of the file.
    #[must_use]
    pub fn at(mut self, place: Place) -> Self {
        self.place = Some(place);
        self
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(place) = self.place {
            write!(f, "{place}: ")?;
        }
        let word = match self.severity {
            Severity::Warning => "look at",
            Severity::Error => "wrong",
        };
        write!(f, "{word} [{}]", self.code)?;
        if !self.path.0.is_empty() {
            write!(f, " {}", self.path)?;
        }
        write!(f, ": {}", self.message)?;
        if !self.hint.is_empty() {
            write!(f, "\n    {}", self.hint)?;
        }
        Ok(())
    }
}

/// A name fit to be shown: cut to `most` characters, with an ellipsis if cut,
/// and without control characters.
pub fn shortened(name: &str, most: usize) -> String {
    let clean = |c: char| if c.is_control() { ' ' } else { c };
    let mut short: String = name.chars().take(most).map(clean).collect();
    if name.chars().nth(most).is_some() {
        short.push('…');
    }
    short
}
