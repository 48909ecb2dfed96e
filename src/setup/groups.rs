//! Groups made at once, and groups one by one.

use crate::file::format::{GroupShape, LessonFile};

/// Most pupils of a class that are made into groups at once.
pub const MOST_PUPILS: i64 = 60;

/// How many pupils there are in all, an entry for several groups counted in
/// full.
pub fn pupils(file: &LessonFile) -> i64 {
    let of = |g: &GroupShape| g.count.unwrap_or(1).max(0) * g.pupils.unwrap_or(2).max(0);
    file.groups.iter().map(of).sum()
}

/// How many groups there are.
pub fn count(file: &LessonFile) -> i64 {
    file.groups.iter().map(|g| g.count.unwrap_or(1).max(0)).sum()
}

/// The size that most groups have; 2 if there are none.
pub fn size(file: &LessonFile) -> i64 {
    let sizes = file.groups.iter().map(|g| (g.pupils.unwrap_or(2), g.count.unwrap_or(1)));
    let mut tally = std::collections::BTreeMap::new();
    for (size, count) in sizes {
        *tally.entry(size).or_insert(0) += count;
    }
    tally.into_iter().max_by_key(|&(size, count)| (count, size)).map_or(2, |(size, _)| size)
}

/// Writes out entries that stand for several groups.
pub fn write_out(file: &mut LessonFile) {
    let groups = std::mem::take(&mut file.groups);
    for shape in groups {
        match shape.count {
            None => file.groups.push(shape),
            Some(count) => {
                for i in 1..=count.clamp(0, MOST_PUPILS) {
                    let name = format!("{} {i}", shape.name);
                    file.groups.push(GroupShape { name, count: None, ..shape.clone() });
                }
            }
        }
    }
}

/// Makes a class of so many pupils into groups of a size. A remainder joins
/// the last groups, one pupil each: a pupil left over makes a pair a three.
/// Groups that were there keep their names and all that is said of them.
pub fn make(file: &mut LessonFile, pupils: i64, size: i64) {
    let pupils = pupils.clamp(1, MOST_PUPILS);
    let size = size.clamp(1, pupils);
    let wanted = (pupils / size).max(1);
    let (each, more) = (pupils / wanted, pupils % wanted);
    write_out(file);
    while i64::try_from(file.groups.len()).is_ok_and(|n| n > wanted) {
        if let Some(gone) = file.groups.pop() {
            forget(file, &gone.name);
        }
    }
    while i64::try_from(file.groups.len()).is_ok_and(|n| n < wanted) {
        add(file);
    }
    for (i, group) in (1..).zip(&mut file.groups) {
        group.pupils = Some(if i > wanted - more { each + 1 } else { each });
    }
}

/// Adds a group like the one before it, under a name that is free.
pub fn add(file: &mut LessonFile) {
    write_out(file);
    let like = file.groups.last().cloned();
    let free = |name: &String| file.groups.iter().all(|g| g.name != *name);
    let from = file.groups.len() + 1;
    let name = (from..).map(|i| format!("Unit {i}")).find(free).unwrap_or_default();
    let place = file.groups.len();
    let unit = match file.room.units.len() {
        0 => None,
        n => Some(file.room.units[place % n].name.clone()),
    };
    let like = like.unwrap_or_else(|| GroupShape {
        recipe: file.recipes.first().map(|r| r.name.clone()).unwrap_or_default(),
        ..GroupShape::default()
    });
    file.groups.push(GroupShape {
        name,
        pupils: Some(like.pupils.unwrap_or(2)),
        unit,
        recipe: like.recipe,
        methods: like.methods,
        tins: like.tins,
        period: like.period,
        room: like.room,
        ..GroupShape::default()
    });
}

/// Takes a group away, and what is fixed or said of it elsewhere.
pub fn remove(file: &mut LessonFile, index: usize) {
    if index < file.groups.len() {
        let gone = file.groups.remove(index);
        forget(file, &gone.name);
    }
}

/// Nothing is fixed or said of a group of this name any more.
pub(super) fn forget(file: &mut LessonFile, group: &str) {
    file.locks.retain(|lock| lock.group != group);
    for adult in &mut file.adults {
        if adult.only_for.as_deref() == Some(group) {
            adult.only_for = None;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sizes(file: &LessonFile) -> Vec<i64> {
        file.groups.iter().filter_map(|g| g.pupils).collect()
    }

    #[test]
    fn twenty_pupils_make_ten_pairs_and_one_more_makes_a_three() {
        let mut file = LessonFile::default();
        make(&mut file, 20, 2);
        assert_eq!(sizes(&file), vec![2; 10]);
        assert_eq!(file.groups[0].name, "Unit 1");
        assert_eq!(file.groups[9].name, "Unit 10");
        file.groups[3].pace = Some(1.3);
        make(&mut file, 21, 2);
        assert_eq!(sizes(&file), [vec![2; 9], vec![3]].concat());
        assert_eq!(file.groups[3].pace, Some(1.3), "what was said of a group stays");
        make(&mut file, 7, 4);
        assert_eq!(sizes(&file), vec![7]);
        make(&mut file, 1, 2);
        assert_eq!(sizes(&file), vec![1]);
    }

    #[test]
    fn every_pupil_is_in_a_group_whatever_the_size() {
        for pupils in 1..=30 {
            for size in 1..=6 {
                let mut file = LessonFile::default();
                make(&mut file, pupils, size);
                assert_eq!(super::pupils(&file), pupils, "{pupils} in groups of {size}");
                let least = sizes(&file).into_iter().min().unwrap_or_default();
                assert!(least >= size.min(pupils), "{pupils} in groups of {size}");
            }
        }
    }
}
