//! Kinds of changes that may make a lesson fit, and what each costs a teacher.

/// A kind of change.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ChangeKind {
    /// Let go of something that is locked.
    Unlock,
    /// Ovens are switched on earlier.
    OvensEarlier,
    /// A step done before the bell: weighed, lined, set out.
    Beforehand,
    /// The demo is taught in the lesson before, with a recap in this one.
    Demo,
    /// Units share their ovens and kit.
    Share,
    /// Some kit borrowed.
    Kit,
    /// Another tin.
    Tin,
    /// Another method.
    Method,
    /// Pupils who bake by themselves bake in pairs.
    Pairs,
    /// Cooling and boxing after the bell.
    Collect,
    /// An oven borrowed.
    Oven,
    /// A longer period.
    Longer,
    /// Two lessons in place of one.
    TwoLessons,
}

impl ChangeKind {
    /// Every kind, in the order in which changes are made: who bakes what,
    /// before with what and when.
    pub const ALL: [ChangeKind; 13] = [
        ChangeKind::Unlock,
        ChangeKind::OvensEarlier,
        ChangeKind::Beforehand,
        ChangeKind::Demo,
        ChangeKind::Share,
        ChangeKind::Kit,
        ChangeKind::Tin,
        ChangeKind::Method,
        ChangeKind::Pairs,
        ChangeKind::Collect,
        ChangeKind::Oven,
        ChangeKind::Longer,
        ChangeKind::TwoLessons,
    ];

    /// Its name in lesson files and answers.
    pub const fn name(self) -> &'static str {
        match self {
            ChangeKind::Unlock => "unlock",
            ChangeKind::OvensEarlier => "ovens earlier",
            ChangeKind::Beforehand => "beforehand",
            ChangeKind::Demo => "demo",
            ChangeKind::Share => "share",
            ChangeKind::Kit => "kit",
            ChangeKind::Tin => "tin",
            ChangeKind::Method => "method",
            ChangeKind::Pairs => "pairs",
            ChangeKind::Collect => "collect",
            ChangeKind::Oven => "oven",
            ChangeKind::Longer => "longer",
            ChangeKind::TwoLessons => "two lessons",
        }
    }

    /// The kind of that name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }

    /// Its cost unless the lesson says otherwise: no unit, only an order
    /// among them. Common practice of the trade has weighing beforehand first,
    /// then the demo, tins, the method, pairs, collecting, and two lessons
    /// last; the others are set among these by judgement.
    pub const fn usual_cost(self) -> f64 {
        match self {
            ChangeKind::Unlock | ChangeKind::OvensEarlier => 1.0,
            ChangeKind::Beforehand => 2.0,
            ChangeKind::Demo | ChangeKind::Share | ChangeKind::Kit => 3.0,
            ChangeKind::Tin => 4.0,
            ChangeKind::Method => 5.0,
            ChangeKind::Oven => 7.0,
            ChangeKind::Pairs => 8.0,
            ChangeKind::Collect => 9.0,
            ChangeKind::Longer => 12.0,
            ChangeKind::TwoLessons => 24.0,
        }
    }
}

/// The costs of changes in a lesson, and the kinds out of the question.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ChangeCosts {
    /// Costs that differ from the usual ones.
    pub costs: Vec<(ChangeKind, f64)>,
    /// Never to be offered.
    pub never: Vec<ChangeKind>,
}

impl ChangeCosts {
    /// The cost of the least change of a kind; `None` if it is never offered.
    pub fn of(&self, kind: ChangeKind) -> Option<f64> {
        let stated = self.costs.iter().find(|(k, _)| *k == kind).map(|(_, cost)| *cost);
        (!self.never.contains(&kind)).then(|| stated.unwrap_or(kind.usual_cost()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_tell_kinds_apart() {
        for kind in ChangeKind::ALL {
            assert_eq!(ChangeKind::named(kind.name()), Some(kind));
        }
        assert_eq!(ChangeKind::named("larger oven"), None);
    }

    #[test]
    fn the_order_of_the_trade() {
        use ChangeKind::*;
        let levers = [Beforehand, Demo, Tin, Method, Pairs, Collect, TwoLessons];
        assert!(levers.windows(2).all(|w| w[0].usual_cost() < w[1].usual_cost()));
    }

    #[test]
    fn a_lesson_has_costs_of_its_own() {
        let costs =
            ChangeCosts { costs: vec![(ChangeKind::Tin, 0.5)], never: vec![ChangeKind::Longer] };
        assert_eq!(costs.of(ChangeKind::Tin), Some(0.5));
        assert_eq!(costs.of(ChangeKind::Method), Some(5.0));
        assert_eq!(costs.of(ChangeKind::Longer), None);
    }
}
