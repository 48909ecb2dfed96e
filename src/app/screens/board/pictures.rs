//! The board's geometry and its pictures, kept from frame to frame.

use std::sync::Arc;

use eframe::egui::Painter;

use crate::app::looks::kept::{Same, kept};
use crate::app::looks::paint_scene::InWindow;
use crate::app::screens::OnScreen;
use crate::model::Lesson;
use crate::view::area::Area;
use crate::view::board::Board;
use crate::view::laid_out::{LaidOut, Over, Sizes, lay_out_over};
use crate::view::odds::OddsOfBoard;
use crate::view::overlay::Ghosts;
use crate::view::scale::TimeScale;
use crate::view::scene::board::BoardPicture;
use crate::view::scene::{Of, Scene};

/// What geometry and pictures are made of.
#[derive(Clone, PartialEq)]
pub struct Subject {
    lesson: Same<Lesson>,
    board: Same<Board>,
    ghosts: Option<Same<Ghosts>>,
    odds: Option<Same<OddsOfBoard>>,
    scale: TimeScale,
}

/// What pictures are made of, with the size they are drawn for.
#[derive(Clone, PartialEq)]
struct Drawn {
    subject: Subject,
    laid: Same<LaidOut>,
    size: (f32, f32),
    seen: Area,
}

/// What the clock is made of.
#[derive(PartialEq)]
struct Clock {
    drawn: Drawn,
    marked: Option<i32>,
}

/// What is painted below the bars and with them.
pub struct Layers {
    /// What lies below everything else.
    pub ground: Scene,
    /// Names, bars, ovens, ribbons.
    pub front: Scene,
    /// What is told in words that have lost their end.
    pub cut: Vec<Of>,
}

impl Layers {
    fn of(picture: &BoardPicture<'_>, measure: &InWindow<'_>) -> Self {
        let front = picture.front(measure);
        Self { ground: picture.ground(measure), cut: front.cut(), front }
    }
}

impl Subject {
    /// What is on screen, with time across it.
    pub fn new(shown: &OnScreen<'_>, scale: TimeScale) -> Self {
        Self {
            lesson: Same(Arc::clone(&shown.planned.lesson)),
            board: Same(Arc::clone(&shown.planned.board)),
            ghosts: shown.overlay.map(|o| Same(Arc::clone(&o.ghosts))),
            odds: shown.odds.map(|odds| Same(Arc::clone(odds))),
            scale,
        }
    }

    /// The plan on screen with nothing over it.
    pub fn alone(shown: &OnScreen<'_>, scale: TimeScale) -> Self {
        Self { ghosts: None, odds: None, ..Self::new(shown, scale) }
    }

    fn over(&self) -> Over<'_> {
        let ghosts = self.ghosts.as_ref().map(|ghosts| &*ghosts.0);
        Over { ghosts, odds: self.odds.as_ref().map(|odds| &*odds.0) }
    }

    /// Where everything is.
    pub fn laid(&self, painter: &Painter) -> Arc<LaidOut> {
        kept(painter, "board laid out", self.clone(), |of, _| {
            lay_out_over(&of.board.0, of.over(), &of.scale, &Sizes::default())
        })
    }

    /// A picture with its bars at their places.
    pub fn picture<'a>(
        &'a self,
        laid: &'a LaidOut,
        size: (f32, f32),
        seen: Area,
    ) -> BoardPicture<'a> {
        BoardPicture {
            lesson: &self.lesson.0,
            board: &self.board.0,
            over: self.over(),
            laid,
            bars: &laid.bars,
            scale: self.scale,
            size,
            seen,
        }
    }

    fn drawn(&self, laid: &Arc<LaidOut>, size: (f32, f32), seen: Area) -> Drawn {
        Drawn { subject: self.clone(), laid: Same(Arc::clone(laid)), size, seen }
    }

    /// The clock above the board, keeping away from a minute that is marked.
    pub fn clock(
        &self,
        painter: &Painter,
        laid: &Arc<LaidOut>,
        width: f32,
        marked: Option<i32>,
    ) -> Arc<Scene> {
        let size = (width, laid.height);
        let seen = Area { x: 0.0, y: 0.0, w: width, h: laid.height };
        let clock = Clock { drawn: self.drawn(laid, size, seen), marked };
        kept(painter, "board clock", clock, |of, measure| {
            of.drawn.picture().clock(of.marked, measure)
        })
    }

    /// The layers of a picture; drawn anew where bars are on their way.
    pub fn layers(
        &self,
        painter: &Painter,
        laid: &Arc<LaidOut>,
        picture: &BoardPicture<'_>,
        bars_on_their_way: bool,
    ) -> Arc<Layers> {
        if bars_on_their_way {
            return Arc::new(Layers::of(picture, &InWindow(painter)));
        }
        let drawn = self.drawn(laid, picture.size, picture.seen);
        kept(painter, "board", drawn, |of, measure| Layers::of(&of.picture(), measure))
    }
}

impl Drawn {
    fn picture(&self) -> BoardPicture<'_> {
        self.subject.picture(&self.laid.0, self.size, self.seen)
    }
}
