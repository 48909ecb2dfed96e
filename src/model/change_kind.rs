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
    /// A demo or plenary kept shorter.
    Shorten,
    /// Partners do half of a step each, side by side.
    SideBySide,
    /// Some kit borrowed.
    Kit,
    /// Another tin.
    Tin,
    /// Another method.
    Method,
    /// Pupils who bake by themselves bake in pairs.
    Pairs,
    /// The one pupil who bakes alone joins a pair.
    Join,
    /// Cooling and boxing after the bell.
    Collect,
    /// An oven borrowed.
    Oven,
    /// Another recipe by which the same is learned.
    Recipe,
    /// A longer period.
    Longer,
    /// Two lessons in place of one.
    TwoLessons,
}

impl ChangeKind {
    /// Every kind, in the order in which changes are made: who bakes what,
    /// before with what and when.
    pub const ALL: [ChangeKind; 17] = [
        ChangeKind::Unlock,
        ChangeKind::OvensEarlier,
        ChangeKind::Beforehand,
        ChangeKind::Demo,
        ChangeKind::Share,
        ChangeKind::Shorten,
        ChangeKind::SideBySide,
        ChangeKind::Kit,
        ChangeKind::Tin,
        ChangeKind::Method,
        ChangeKind::Join,
        ChangeKind::Pairs,
        ChangeKind::Collect,
        ChangeKind::Oven,
        ChangeKind::Recipe,
        ChangeKind::Longer,
        ChangeKind::TwoLessons,
    ];

    /// Whether it is still possible once the day has come: what wanted doing
    /// in the lesson before or before the bell, another recipe's ingredients and
    /// other bells are not.
    pub const fn is_of_the_day(self) -> bool {
        match self {
            ChangeKind::OvensEarlier
            | ChangeKind::Beforehand
            | ChangeKind::Demo
            | ChangeKind::Recipe
            | ChangeKind::Longer
            | ChangeKind::TwoLessons => false,
            ChangeKind::Unlock
            | ChangeKind::Share
            | ChangeKind::Shorten
            | ChangeKind::SideBySide
            | ChangeKind::Kit
            | ChangeKind::Tin
            | ChangeKind::Method
            | ChangeKind::Join
            | ChangeKind::Pairs
            | ChangeKind::Collect
            | ChangeKind::Oven => true,
        }
    }

    /// Its name in lesson files and answers.
    pub const fn name(self) -> &'static str {
        match self {
            ChangeKind::Unlock => "unlock",
            ChangeKind::OvensEarlier => "ovens earlier",
            ChangeKind::Beforehand => "beforehand",
            ChangeKind::Demo => "demo",
            ChangeKind::Share => "share",
            ChangeKind::Shorten => "shorten",
            ChangeKind::SideBySide => "side by side",
            ChangeKind::Kit => "kit",
            ChangeKind::Tin => "tin",
            ChangeKind::Method => "method",
            ChangeKind::Join => "join",
            ChangeKind::Pairs => "pairs",
            ChangeKind::Collect => "collect",
            ChangeKind::Oven => "oven",
            ChangeKind::Recipe => "recipe",
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
    /// last; the others are set among these by judgement. What moves a bell
    /// costs more than most pairs of changes within the bells.
    pub const fn usual_cost(self) -> f64 {
        match self {
            ChangeKind::Unlock | ChangeKind::OvensEarlier => 1.0,
            ChangeKind::Beforehand => 2.0,
            ChangeKind::Demo | ChangeKind::Share | ChangeKind::Kit => 3.0,
            ChangeKind::Shorten | ChangeKind::SideBySide | ChangeKind::Tin => 4.0,
            ChangeKind::Method => 5.0,
            ChangeKind::Join => 6.0,
            ChangeKind::Oven => 7.0,
            ChangeKind::Pairs => 8.0,
            ChangeKind::Collect => 9.0,
            ChangeKind::Recipe => 14.0,
            ChangeKind::Longer => 24.0,
            ChangeKind::TwoLessons => 30.0,
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
        let levers = [Beforehand, Demo, Tin, Method, Pairs, Collect, Recipe, Longer, TwoLessons];
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
