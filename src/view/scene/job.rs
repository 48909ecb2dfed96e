//! Small line drawings of what a step is, beside its words on a time plan: for
//! whoever reads pictures sooner than words.

use super::{Circle, Colour, Corners, Pen, Rect, Scene, Shape};
use crate::model::{Step, StepKind};
use crate::view::area::{Area, Point, at};

/// What is drawn of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum JobSymbol {
    /// Scales.
    Weigh,
    /// A bowl with a spoon.
    Mix,
    /// Something goes into a tin.
    Fill,
    /// A tin that goes into an oven.
    Load,
    /// An oven.
    Bake,
    /// A tin that comes out of an oven.
    TakeOut,
    /// A bake that steams on a rack.
    Cool,
    /// A clock.
    Wait,
    /// A basin with drops.
    Wash,
    /// A box with its lid ajar.
    Box,
}

/// Words of a step's name by which its symbol is found, in this order: the first
/// that is there counts. The usual names of a kitchen, from memory.
const WORDS: [(&str, JobSymbol); 22] = [
    ("weigh", JobSymbol::Weigh),
    ("measure", JobSymbol::Weigh),
    ("wash", JobSymbol::Wash),
    ("dry", JobSymbol::Wash),
    ("clear", JobSymbol::Wash),
    ("box", JobSymbol::Box),
    ("label", JobSymbol::Box),
    ("pack", JobSymbol::Box),
    ("fill", JobSymbol::Fill),
    ("pour", JobSymbol::Fill),
    ("shape", JobSymbol::Fill),
    ("pipe", JobSymbol::Fill),
    ("mix", JobSymbol::Mix),
    ("beat", JobSymbol::Mix),
    ("whisk", JobSymbol::Mix),
    ("cream", JobSymbol::Mix),
    ("stir", JobSymbol::Mix),
    ("fold", JobSymbol::Mix),
    ("rub", JobSymbol::Mix),
    ("knead", JobSymbol::Mix),
    ("melt", JobSymbol::Mix),
    ("prove", JobSymbol::Wait),
];

/// Width and height in the symbol's own units.
const SIDE: f32 = 24.0;
const PEN: f32 = 1.8;

impl JobSymbol {
    /// All of them.
    pub const ALL: [JobSymbol; 10] = [
        JobSymbol::Weigh,
        JobSymbol::Mix,
        JobSymbol::Fill,
        JobSymbol::Load,
        JobSymbol::Bake,
        JobSymbol::TakeOut,
        JobSymbol::Cool,
        JobSymbol::Wait,
        JobSymbol::Wash,
        JobSymbol::Box,
    ];

    /// Of a step, by its kind or its name; none for what nobody has drawn.
    pub fn of(step: &Step) -> Option<Self> {
        match step.kind {
            StepKind::Load => Some(JobSymbol::Load),
            StepKind::Bake => Some(JobSymbol::Bake),
            StepKind::TakeOut => Some(JobSymbol::TakeOut),
            StepKind::Cool => Some(JobSymbol::Cool),
            StepKind::Wait => Some(JobSymbol::Wait),
            StepKind::Hand => {
                let name = step.name.to_lowercase();
                let mut words = name.split(|c: char| !c.is_alphanumeric());
                let found = |word: &str| {
                    WORDS.iter().find(|(known, _)| word.starts_with(known)).map(|(_, of)| *of)
                };
                words.find_map(found)
            }
        }
    }

    /// Drawn so many units wide and high.
    pub fn scene(self, side: f32) -> Scene {
        let mut drawn = Drawn(Scene::new((SIDE, SIDE)));
        match self {
            JobSymbol::Weigh => {
                drawn.line(&[(4.0, 5.0), (20.0, 5.0)]);
                drawn.line(&[(12.0, 5.0), (12.0, 10.0)]);
                drawn.line(&[(8.0, 10.0), (16.0, 10.0), (19.0, 21.0), (5.0, 21.0), (8.0, 10.0)]);
                drawn.circle((12.0, 15.5), 2.6);
            }
            JobSymbol::Mix => {
                drawn.line(&[(2.0, 11.0), (22.0, 11.0)]);
                drawn.line(&[
                    (3.5, 11.0),
                    (5.5, 17.5),
                    (9.0, 21.0),
                    (15.0, 21.0),
                    (18.5, 17.5),
                    (20.5, 11.0),
                ]);
                drawn.line(&[(11.0, 11.0), (18.0, 2.0)]);
            }
            JobSymbol::Fill => {
                drawn.tin();
                drawn.line(&[(12.0, 2.0), (12.0, 11.5)]);
                drawn.line(&[(8.5, 8.0), (12.0, 11.5), (15.5, 8.0)]);
            }
            JobSymbol::Load => {
                drawn.line(&[(9.0, 3.0), (22.0, 3.0), (22.0, 21.0), (9.0, 21.0)]);
                drawn.line(&[(2.0, 9.0), (3.5, 16.0), (11.5, 16.0), (13.0, 9.0)]);
                drawn.line(&[(15.5, 9.5), (18.5, 12.5), (15.5, 15.5)]);
            }
            JobSymbol::Bake => {
                drawn.rect((3.0, 3.0), (18.0, 18.0));
                drawn.line(&[(3.0, 8.0), (21.0, 8.0)]);
                drawn.circle((7.0, 5.5), 0.9);
                drawn.circle((12.0, 5.5), 0.9);
                drawn.circle((17.0, 5.5), 0.9);
                drawn.rect((6.5, 11.0), (11.0, 7.0));
            }
            JobSymbol::TakeOut => {
                drawn.line(&[(15.0, 3.0), (2.0, 3.0), (2.0, 21.0), (15.0, 21.0)]);
                drawn.line(&[(6.5, 9.0), (8.0, 16.0), (16.0, 16.0), (17.5, 9.0)]);
                drawn.line(&[(19.0, 9.5), (22.0, 12.5), (19.0, 15.5)]);
            }
            JobSymbol::Cool => {
                drawn.line(&[(2.0, 19.0), (22.0, 19.0)]);
                drawn.line(&[(5.0, 19.0), (5.0, 22.0)]);
                drawn.line(&[(19.0, 19.0), (19.0, 22.0)]);
                drawn.rect((6.0, 12.5), (12.0, 6.5));
                for x in [9.0, 14.0] {
                    drawn.line(&[(x, 3.0), (x + 1.5, 5.5), (x, 8.0), (x + 1.5, 10.5)]);
                }
            }
            JobSymbol::Wait => {
                drawn.circle((12.0, 12.0), 9.5);
                drawn.line(&[(12.0, 6.0), (12.0, 12.0), (16.5, 14.5)]);
            }
            JobSymbol::Wash => {
                drawn.line(&[(2.5, 11.5), (5.0, 21.0), (19.0, 21.0), (21.5, 11.5)]);
                drawn.line(&[(4.0, 15.5), (8.0, 14.0), (12.0, 15.5), (16.0, 14.0), (20.0, 15.5)]);
                drawn.circle((7.5, 7.0), 1.6);
                drawn.circle((12.5, 3.5), 1.6);
                drawn.circle((16.5, 8.0), 1.6);
            }
            JobSymbol::Box => {
                drawn.rect((4.0, 10.0), (16.0, 11.0));
                drawn.line(&[(2.0, 10.0), (22.0, 4.0)]);
                drawn.rect((9.0, 13.5), (6.0, 4.0));
            }
        }
        drawn.0.scaled(side / SIDE)
    }
}

/// A symbol while it is drawn, in its own units.
struct Drawn(Scene);

impl Drawn {
    const INK: Pen = Pen::new(Colour::Ink, PEN);

    fn line(&mut self, points: &[(f32, f32)]) {
        let points: Vec<Point> = points.iter().map(|&(x, y)| at(x, y)).collect();
        self.0.add(Shape::Line(points, Self::INK));
    }

    fn rect(&mut self, (x, y): (f32, f32), (w, h): (f32, f32)) {
        let area = Area { x, y, w, h };
        self.0.add(Shape::Rect(Rect::outlined(area, Corners::Square, Self::INK)));
    }

    fn circle(&mut self, (x, y): (f32, f32), radius: f32) {
        let edge = Some(Self::INK);
        self.0.add(Shape::Circle(Circle { centre: at(x, y), radius, fill: None, edge }));
    }

    fn tin(&mut self) {
        self.line(&[(3.0, 13.0), (5.5, 21.0), (18.5, 21.0), (21.0, 13.0)]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::scene::{Measure, Weight};

    struct NoWords;

    impl Measure for NoWords {
        fn width(&self, _: &str, _: f32, _: Weight) -> f32 {
            0.0
        }
        fn height(&self, _: f32, _: Weight) -> f32 {
            0.0
        }
    }

    #[test]
    fn symbols_lie_within_their_square_and_differ() {
        let mut seen = Vec::new();
        for symbol in JobSymbol::ALL {
            let scene = symbol.scene(12.0);
            for item in &scene.items {
                let area = item.seen(&NoWords);
                let is_in = area.x >= 0.0 && area.y >= 0.0;
                assert!(is_in && area.right() <= 12.0 && area.bottom() <= 12.0, "{symbol:?}");
            }
            assert!(!scene.items.is_empty() && !seen.contains(&scene), "{symbol:?}");
            seen.push(scene);
        }
    }
}
