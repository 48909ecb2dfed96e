//! Bars that overlap go into lanes one below the other.

use crate::units::Minute;

/// Finds the lane for each stretch, given in any order with the lane it would
/// like: that one if it is free, else the next one below that is.
#[derive(Debug, Default)]
pub struct Lanes {
    taken: Vec<Vec<(Minute, Minute)>>,
}

impl Lanes {
    /// Takes a stretch and says its lane.
    pub fn take(&mut self, wanted: usize, from: Minute, until: Minute) -> usize {
        let mut lane = wanted;
        loop {
            if self.taken.len() <= lane {
                self.taken.resize(lane + 1, Vec::new());
            }
            if self.taken[lane].iter().all(|&(f, u)| until <= f || u <= from) {
                self.taken[lane].push((from, until));
                return lane;
            }
            lane += 1;
        }
    }

    /// How many lanes there are.
    pub fn count(&self) -> usize {
        self.taken.len()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_stretches_of_a_lane_overlap() {
        let at = Minute::new;
        let mut lanes = Lanes::default();
        assert_eq!(lanes.take(0, at(5), at(10)), 0);
        assert_eq!(lanes.take(0, at(10), at(12)), 0);
        assert_eq!(lanes.take(0, at(9), at(11)), 1);
        assert_eq!(lanes.take(1, at(0), at(3)), 1);
        assert_eq!(lanes.take(0, at(8), at(10)), 2);
        assert_eq!(lanes.count(), 3);
    }
}
