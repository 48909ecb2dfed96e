//! Odds over the board, as numbers: where lenses lie, what is drawn, what the card
//! says, and which bars a cause is about.

use std::path::Path;

use crate::common::planned::planned;
use ovenbell::check::CheckedPlan;
use ovenbell::file::load_lesson;
use ovenbell::model::{Attendance, GroupId, Lesson, Phase};
use ovenbell::play::{Cause, GroupToGive, Odds, Settings, Spread, odds, to_give};
use ovenbell::view::area::Area;
use ovenbell::view::board::{BarId, Board};
use ovenbell::view::laid_out::{Over, Sizes, lay_out, lay_out_over};
use ovenbell::view::odds::words::odds_words;
use ovenbell::view::odds::{OddsCard, OddsOfBoard, SQUARES, WorkedOut};
use ovenbell::view::scale::TimeScale;
use ovenbell::view::scene::board::{BoardPicture, CLOCK_HEIGHT};
use ovenbell::view::scene::squares::squares;
use ovenbell::view::scene::{Measure, Of, Shape, Weight};

const SCALE: TimeScale = TimeScale { from: -1.0, until: 61.0, left: 166.0, width: 620.0 };

/// Words of letters that are all as wide.
struct Even;

impl Measure for Even {
    fn width(&self, words: &str, size: f32, _: Weight) -> f32 {
        0.5 * size * words.chars().count() as f32
    }

    fn height(&self, size: f32, _: Weight) -> f32 {
        1.2 * size
    }
}

/// A lesson with its plan, played.
struct Played {
    lesson: Lesson,
    plan: CheckedPlan,
    played: Vec<(Spread, Odds)>,
    gives: Vec<GroupToGive>,
}

impl Played {
    fn of(lesson: Lesson, spreads: &[Spread]) -> Self {
        let plan = planned(&lesson, 300);
        let gives = to_give(&lesson, &plan);
        let play = |&spread| {
            let settings = Settings { runs: 400, spread, ..Settings::default() };
            (spread, odds(&lesson, &plan, &settings, &gives).unwrap())
        };
        let played = spreads.iter().map(play).collect();
        Self { lesson, plan, played, gives }
    }

    fn worked_out(&self) -> WorkedOut<'_> {
        let (lesson, plan) = (&self.lesson, &self.plan);
        WorkedOut { lesson, plan, played: &self.played, gives: &self.gives }
    }

    fn board(&self) -> (Board, OddsOfBoard) {
        (Board::of(&self.lesson, &self.plan), OddsOfBoard::of(&self.worked_out()))
    }
}

fn demo_lesson() -> Lesson {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    load_lesson(&path).unwrap().lesson
}

fn demo() -> Played {
    Played::of(demo_lesson(), &[Spread::LISTED, Spread::HALF])
}

fn overlap(a: &Area, b: &Area) -> bool {
    let shared = a.shared(b);
    shared.w > 0.01 && shared.h > 0.01
}

#[test]
fn a_lens_lies_from_early_to_late_and_on_no_bar() {
    let played = demo();
    let (board, odds) = played.board();
    let over = Over { odds: Some(&odds), ..Over::default() };
    let laid = lay_out_over(&board, over, &SCALE, &Sizes::default());
    assert_eq!(laid.lenses.len(), board.rows.len());
    for (i, (lens, area)) in odds.rows.iter().zip(&laid.lenses).enumerate() {
        let (lens, area) = (lens.as_ref().unwrap(), area.unwrap());
        let told = played.played[0].1.groups[i].ready;
        assert_eq!(f64::from(lens.early), f64::from(told[0].unwrap() as f32));
        assert!((area.x - SCALE.x(lens.early)).abs() < 0.01);
        assert!((area.right() - SCALE.x(lens.late.unwrap())).abs() < 0.01);
        assert!(lens.early <= lens.middle.unwrap() && lens.middle <= lens.late);
        for (bar, at) in &laid.bars {
            assert!(!overlap(at, &area), "the lens of row {i} lies on {bar:?}");
        }
        let (top, high) = laid.rows[i];
        assert!(area.y > top && area.bottom() <= top + high + 0.01);
        assert!(lens.spoken.contains("; out "), "{}", lens.spoken);
    }
    let (top, high) = laid.class.unwrap();
    let (last, height) = *laid.rows.last().unwrap();
    assert!(top >= last + height && top + high <= laid.gap);
    // Without odds nothing of it is there.
    let bare = lay_out(&board, &SCALE, &Sizes::default());
    assert!(bare.lenses.is_empty() && bare.class.is_none() && bare.height < laid.height);
    // Until they are known the row of the class has its place.
    let unknown = OddsOfBoard::default();
    let over = Over { odds: Some(&unknown), ..Over::default() };
    let waiting = lay_out_over(&board, over, &SCALE, &Sizes::default());
    assert!(waiting.class.is_some() && waiting.lenses.iter().all(Option::is_none));
}

#[test]
fn a_group_that_is_not_served_has_no_lens() {
    let mut parts = demo_lesson().into_parts();
    parts.groups[4].attendance = Attendance::LeftOut;
    let played = Played::of(Lesson::new(parts).unwrap(), &[Spread::LISTED]);
    let odds = OddsOfBoard::of(&played.worked_out());
    assert!(odds.rows[4].is_none());
    assert_eq!(odds.rows.iter().flatten().count(), 7);
}

#[test]
fn lenses_the_class_and_checkpoints_are_drawn() {
    let played = demo();
    let (board, odds) = played.board();
    let over = Over { odds: Some(&odds), ..Over::default() };
    let laid = lay_out_over(&board, over, &SCALE, &Sizes::default());
    let size = (900.0, laid.height);
    let seen = Area { x: 0.0, y: 0.0, w: size.0, h: size.1 };
    let (lesson, bars) = (&played.lesson, laid.bars.as_slice());
    let picture =
        BoardPicture { lesson, board: &board, over, laid: &laid, bars, scale: SCALE, size, seen };
    let scene = picture.whole(&Even);
    let lines = |of: Of| {
        let drawn = scene.items.iter().filter(move |item| item.of == Some(of));
        drawn.filter(|item| matches!(item.shape, Shape::Line(..))).count()
    };
    for row in &board.rows {
        assert_eq!(lines(Of::Lens(row.group)), 2, "an outline and a stroke");
    }
    assert_eq!(lines(Of::Class), 3, "the bell, an outline and a stroke");
    assert!(!odds.looks.is_empty());
    for look in &odds.looks {
        let disc = scene.items.iter().find(|item| item.of == Some(Of::Look(look.at)));
        let Shape::Polygon(disc) = &disc.unwrap().shape else { panic!("no half-disc") };
        let tip = disc.points[disc.points.len() / 2];
        assert!((tip.x - SCALE.x(look.at.get() as f32)).abs() < 0.01);
        assert_eq!(tip.y, CLOCK_HEIGHT);
    }
    let times: Vec<_> = odds.looks.iter().map(|look| look.at).collect();
    assert!(times.windows(2).all(|w| w[0] < w[1]), "{times:?}");
}

#[test]
fn ten_squares_are_drawn_however_many_are_filled() {
    let card = OddsCard::of(&demo().worked_out());
    for line in &card.lines {
        let scene = squares(line.squares, 12.0);
        assert_eq!(scene.items.len(), usize::from(SQUARES));
        assert!(line.squares.filled + line.squares.hatched <= SQUARES);
    }
}

#[test]
fn the_card_says_how_often_by_when_and_why() {
    let played = demo();
    let card = OddsCard::of(&played.worked_out());
    let share = |i: usize| played.played[i].1.class.before_closing;
    assert_eq!(card.lines.len(), 1, "nothing of its closing can be left out");
    assert_eq!(card.lines[0].words, odds_words(&[share(0), share(1)]));
    assert_eq!(card.basis, "nobody has timed this class yet");
    assert!(!card.looks.is_empty() && card.looks.len() <= 4);
    assert!(card.looks.windows(2).all(|w| w[0].at < w[1].at));
    let points: usize = card.looks.iter().map(|look| look.points.len()).sum();
    assert_eq!(points, played.played[0].1.checkpoints.len());
    assert!(card.looks.iter().any(|look| !look.truths.is_empty()));
    assert!(!card.causes.is_empty());
    assert!((card.causes[0].share - 1.0).abs() < 1e-6);
    assert!(card.causes.windows(2).all(|w| w[0].share >= w[1].share));
    let half = Played::of(demo_lesson(), &[Spread::HALF]);
    let card = OddsCard::of(&half.worked_out());
    assert_eq!(card.basis, "minutes spread half as far as listed");
    assert_eq!(card.lines[0].squares.hatched, 0, "one figure has nothing hatched");
}

#[test]
fn the_bars_of_a_cause_are_on_the_board() {
    let mut played = demo();
    // Whatever the runs came to, each kind of cause once.
    let (lesson, plan) = (&played.lesson, &played.plan);
    let kit = lesson.kit_kinds.iter().position(|k| k.name.contains("whisk")).unwrap();
    let load = &plan.plan().loads[0];
    let during = lesson.class_steps.iter().position(|s| s.phase == Phase::During);
    let all = vec![
        Cause::Bake(lesson.recipe_of(GroupId(0)).name.clone()),
        Cause::Opening,
        Cause::Closing,
        Cause::Kit(ovenbell::model::KitId(kit)),
        Cause::Place(load.oven),
        Cause::Door(load.oven),
        Cause::Looking,
    ];
    let stops = during.map(|_| Cause::Stop);
    let first = played.played[0].1.causes[0].clone();
    for cause in all.into_iter().chain(stops) {
        played.played[0].1.causes =
            vec![ovenbell::play::CauseOfLateness { what: cause.clone(), ..first.clone() }];
        let card = OddsCard::of(&played.worked_out());
        let (board, line) = (Board::of(&played.lesson, &played.plan), &card.causes[0]);
        assert!(!line.bars.is_empty(), "{cause:?} has no bars");
        for bar in &line.bars {
            let is_there = match bar {
                BarId::Class(step) => board.bands.iter().any(|band| band.step == *step),
                id => board.bar(*id).is_some(),
            };
            assert!(is_there, "{cause:?}: {bar:?} is not on the board");
        }
        if let Cause::Place(oven) | Cause::Door(oven) = cause {
            for bar in &line.bars {
                let BarId::Step(group, _) = bar else { panic!("{bar:?}") };
                let mut loads = played.plan.plan().loads.iter();
                assert!(loads.any(|l| l.group == *group && l.oven == oven), "{bar:?}");
            }
        }
    }
}
