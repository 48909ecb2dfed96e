//! Bars that glide to where a new plan has them.

use std::sync::Arc;

use eframe::egui::{Id, Ui};

use super::bar_widget;
use crate::app::looks::kept::Same;
use crate::app::screens::OnScreen;
use crate::units::Minute;
use crate::view::area::Area;
use crate::view::board::{Bar, BarId};
use crate::view::scene::board::BoardPicture;

/// Seconds a bar glides.
const GLIDE: f32 = 0.25;

/// Where bars are while some are on their way; `None` when all have come to
/// their places.
pub fn on_their_way(
    ui: &Ui,
    shown: &OnScreen<'_>,
    picture: &BoardPicture<'_>,
) -> Option<Vec<(BarId, Area)>> {
    if !shown.glide {
        return None;
    }
    let board = Same(Arc::clone(&shown.planned.board));
    let arrived = Id::unique("the board whose bars have come to their places");
    if ui.data(|data| data.get_temp(arrived) == Some(Some(board.clone()))) {
        return None;
    }
    let glide = |(bar, &(_, area)): (&Bar, &(BarId, Area))| {
        let id = bar_widget(bar.id);
        let animate = |salt: &str, minute: Minute| {
            ui.ctx().animate_value_with_time(id.with(salt), minute.get() as f32, GLIDE)
        };
        let from = picture.scale.x(animate("from", bar.from));
        let until = picture.scale.x(animate("until", bar.until));
        (bar.id, Area { x: from, w: (until - from).max(1.0), ..area })
    };
    let bars: Vec<_> = picture.board.bars().zip(picture.bars).map(glide).collect();
    let all = bars == picture.bars;
    ui.data_mut(|data| data.insert_temp(arrived, all.then_some(board)));
    (!all).then_some(bars)
}
