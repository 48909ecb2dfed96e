//! The tins of a group into ovens and onto their shelves.

use super::construct::{Constructor, Scene};
use super::genome::StandsAt;
use super::oven_book::Stay;
use super::wish::Wish;
use crate::graph::problem::{BakeTask, BegunTin};

impl Constructor<'_> {
    /// All tins into the ovens that are wished for, else into one if one can take
    /// them, else into several.
    pub(super) fn stand_tins(
        &mut self,
        scene: Scene<'_>,
        bake: &BakeTask,
        stay: Stay,
        wish: Wish<'_>,
    ) -> bool {
        if !scene.group.begun.is_empty() {
            return self.stand_at(scene, bake, stay, &scene.group.begun);
        }
        if let Some(stand) = wish.stand {
            if self.stand_as_wished(scene, bake, stay, stand) {
                return true;
            }
            if wish.only {
                return false;
            }
        }
        let turn = wish.turn;
        let ovens = &scene.group.ovens;
        let turned = |i: usize| ovens[(i + turn) % ovens.len()];
        for i in 0..ovens.len() {
            if self.stand_in(scene, bake, stay, turned(i), bake.tins) == bake.tins {
                return true;
            }
        }
        if bake.tins < 2 {
            return false;
        }
        let mut left = bake.tins;
        for i in 0..ovens.len() {
            // Down to as many as the oven's doors and shelves allow.
            let stood =
                (1..=left).rev().find(|&n| self.stand_in(scene, bake, stay, turned(i), n) == n);
            left -= stood.unwrap_or(0);
            if left == 0 {
                return true;
            }
        }
        false
    }

    /// Each tin to its place, else into its oven, or none into any.
    fn stand_as_wished(
        &mut self,
        scene: Scene<'_>,
        bake: &BakeTask,
        stay: Stay,
        stand: &[StandsAt],
    ) -> bool {
        if i32::try_from(stand.len()) != Ok(bake.tins) {
            return false;
        }
        let place = |at: &StandsAt| {
            let (oven, (shelf, spot)) = (at.oven, at.place?);
            Some(BegunTin { oven, shelf, spot })
        };
        let places: Option<Vec<BegunTin>> = stand.iter().map(place).collect();
        if places.is_some_and(|places| self.stand_at(scene, bake, stay, &places)) {
            return true;
        }
        self.take_out(scene.index);
        let done = (0..self.problem.ovens.len()).all(|oven| {
            let tins = stand.iter().map(|at| i32::from(at.oven == oven)).sum();
            tins == 0 || self.stand_in(scene, bake, stay, oven, tins) == tins
        });
        if !done {
            self.take_out(scene.index);
        }
        done
    }

    /// Takes a group's tins back out of the ovens.
    pub(super) fn take_out(&mut self, g: usize) {
        let schedule = &mut self.schedule[g];
        self.ovens.unstand(&mut schedule.standing, 0);
        while let Some((oven, _, tins)) = schedule.stays.pop() {
            self.ovens.leave(oven, tins);
        }
    }

    /// All tins of a group to places, as far as they are free.
    fn stand_at(
        &mut self,
        scene: Scene<'_>,
        bake: &BakeTask,
        stay: Stay,
        places: &[BegunTin],
    ) -> bool {
        let tins: Vec<i32> = (0..self.problem.ovens.len())
            .map(|oven| places.iter().map(|tin| i32::from(tin.oven == oven)).sum())
            .collect();
        for (oven, &tins) in tins.iter().enumerate().filter(|(_, tins)| **tins > 0) {
            let of = &self.problem.ovens[oven];
            if !self.ovens.allows(oven, of, &stay) || !self.ovens.hands_allow(oven, &stay, tins) {
                return false;
            }
            let standing = &mut self.schedule[scene.index].standing;
            for &tin in places.iter().filter(|tin| tin.oven == oven) {
                let gap = of.shelves[tin.shelf].space.gap;
                if !self.ovens.stand_at(tin, bake, &stay, gap, standing) {
                    return false;
                }
            }
            self.ovens.enter(oven, stay, tins);
            self.schedule[scene.index].stays.push((oven, stay, tins));
        }
        tins.iter().sum::<i32>() == bake.tins
    }

    /// Exactly `tins` tins into an oven, or none.
    fn stand_in(
        &mut self,
        scene: Scene<'_>,
        bake: &BakeTask,
        stay: Stay,
        oven: usize,
        tins: i32,
    ) -> i32 {
        let of = &self.problem.ovens[oven];
        if !self.ovens.allows(oven, of, &stay) || !self.ovens.hands_allow(oven, &stay, tins) {
            return 0;
        }
        let schedule = &mut self.schedule[scene.index];
        let keep = schedule.standing.len();
        let stood = self.ovens.stand(
            self.problem,
            oven,
            scene.group.shelf,
            bake,
            &stay,
            tins,
            &mut schedule.standing,
        );
        if stood < tins {
            self.ovens.unstand(&mut schedule.standing, keep);
            return 0;
        }
        self.ovens.enter(oven, stay, tins);
        schedule.stays.push((oven, stay, tins));
        tins
    }
}
