//! What is wrong by the rule `kit`, and by `tin` where tins are counted.

use super::Words;
use super::words::from_one;
use crate::check::span::Span;
use crate::model::{GroupId, KitId, Lesson, PoolId, RoomId, TinId};

/// A kind of thing that is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Kit.
    Kit(KitId),
    /// Tins.
    Tin(TinId),
}

/// A heap of one kind, whose items are numbered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Heap {
    /// Kit of one stock.
    Kit(PoolId),
    /// Tins of one room.
    Tin(RoomId, TinId),
}

impl Heap {
    /// What it is a heap of.
    pub fn kind(self, lesson: &Lesson) -> Kind {
        match self {
            Heap::Kit(pool) => Kind::Kit(lesson.kit_pools[pool.0].kit),
            Heap::Tin(_, tin) => Kind::Tin(tin),
        }
    }
}

/// What is wrong with kit or tins in use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StockFault {
    /// They belong to another unit or room.
    NotTheirs {
        /// Who uses them.
        group: GroupId,
        /// When.
        span: Span,
        /// What they are.
        kind: Kind,
    },
    /// One is named twice over.
    NamedTwice {
        /// Who uses it.
        group: GroupId,
        /// When.
        span: Span,
        /// What it is.
        kind: Kind,
    },
    /// One is named that is not there.
    NoSuchItem {
        /// Who uses it.
        group: GroupId,
        /// When.
        span: Span,
        /// What it is.
        kind: Kind,
        /// Its number, from 0.
        item: u32,
        /// How many there are.
        there: u32,
    },
    /// More or fewer are named than are needed.
    OtherNumber {
        /// Who needs them.
        group: GroupId,
        /// When.
        span: Span,
        /// What they are.
        kind: Kind,
        /// How many are needed.
        needed: u64,
        /// How many are named.
        named: u64,
    },
    /// One is in use twice in one minute.
    Shared {
        /// Of what.
        heap: Heap,
        /// Its number, from 0.
        item: u32,
        /// By whom, and when.
        first: (GroupId, Span),
        /// By whom else, and when.
        second: (GroupId, Span),
    },
}

impl StockFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        let of = |group, span, kind| {
            format!("{}, {}: {}", words.group(group), words.span(span), words.kind(kind))
        };
        match *self {
            Self::NotTheirs { group, span, kind } => {
                format!("{} belongs to another unit or room", of(group, span, kind))
            }
            Self::NamedTwice { group, span, kind } => {
                format!("{} is named twice over", of(group, span, kind))
            }
            Self::NoSuchItem { group, span, kind, item, there } => format!(
                "{} number {} is named; there are {there}",
                of(group, span, kind),
                from_one(item)
            ),
            Self::OtherNumber { group, span, kind, needed, named } => format!(
                "{} needs {needed} × {} {}; the plan names {named}",
                words.group(group),
                words.kind(kind),
                words.span(span)
            ),
            Self::Shared { heap, item, first, second } => format!(
                "{} number {} is with {} {} and with {} {}",
                words.heap(heap),
                from_one(item),
                words.group(first.0),
                words.span(first.1),
                words.group(second.0),
                words.span(second.1)
            ),
        }
    }
}
