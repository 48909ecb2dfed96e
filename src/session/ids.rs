//! Which document, and which state of it.

/// One lesson for as long as it is on screen. A lesson opened again is another
/// document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct DocumentId(u64);

impl DocumentId {
    /// The document that comes on screen after this one.
    #[must_use]
    pub const fn next(self) -> Self {
        Self(self.0 + 1)
    }
}

/// A state of a document. Every change makes another one, so that answers for
/// an older lesson can be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Revision {
    document: DocumentId,
    changes: u64,
}

impl Revision {
    /// A document as it comes on screen.
    pub const fn first(document: DocumentId) -> Self {
        Self { document, changes: 0 }
    }

    /// The same document after one more change.
    #[must_use]
    pub const fn next(self) -> Self {
        Self { document: self.document, changes: self.changes + 1 }
    }

    /// Of which document.
    pub const fn document(self) -> DocumentId {
        self.document
    }
}
