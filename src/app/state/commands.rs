//! What is to be done after a frame has been shown.

use super::Command;

/// Commands in the order in which they are to be done.
#[derive(Debug, Default)]
pub struct Commands(Vec<Command>);

impl Commands {
    /// Adds one to do to the window or to the lesson.
    pub fn push(&mut self, command: impl Into<Command>) {
        self.0.push(command.into());
    }

    /// Adds several, in order.
    pub fn extend<C: Into<Command>>(&mut self, commands: impl IntoIterator<Item = C>) {
        self.0.extend(commands.into_iter().map(Into::into));
    }

    /// What is to be done so far.
    pub fn iter(&self) -> impl Iterator<Item = &Command> {
        self.0.iter()
    }
}

impl IntoIterator for Commands {
    type Item = Command;
    type IntoIter = std::vec::IntoIter<Command>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}
