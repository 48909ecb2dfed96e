//! Pupils who bake by themselves, put in pairs.

use super::super::alteration::Alteration;
use super::Menu;
use crate::change::alter::may_pair;
use crate::model::ChangeKind;

impl Menu<'_> {
    pub(super) fn pairs(&mut self) {
        let single = self.file.groups.iter().filter(|g| may_pair(self.file, g));
        let pupils: i64 = single.map(|g| g.count.unwrap_or(1)).sum();
        if pupils < 2 {
            return;
        }
        let words = "pupils who bake by themselves bake in pairs".to_owned();
        let asks = vec![
            "One full batch to a pair: the class wants half as much of everything, and each pupil \
             does half the steps."
                .to_owned(),
        ];
        self.add(ChangeKind::Pairs, Alteration::Pairs, words, asks);
    }
}
