//! Every tin a recipe could be baked in, with what is to be expected of it.

use super::anchor::{Anchor, anchors, bake_of, is_worked_out, outcomes, pooled};
use super::cools::{self, CoolsFor};
use super::estimate::{Calibration, Estimate, Spread, Z_80, Z_90};
use super::fault::BakeError;
use super::filling::Filling;
use super::geometry::Shape;
use super::mixture;
use crate::model::{
    Figure, Origin, PastBake, Recipe, ThreePoint, Tin, TinChoice, TinChoiceId, TinForm, TinId,
};
use crate::units::{ExactMinutes, Millilitres};

/// A batch in more tins than this is no way of baking it.
const MOST_TINS: u32 = 24;

/// What is to be expected of a bake, and where that comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected {
    /// Minutes with their bands.
    pub estimate: Estimate,
    /// Stated, computed or learned.
    pub origin: Origin,
    /// Minutes over those of the bare model; `None` where the model cannot
    /// work the tin out.
    pub kappa: Option<f64>,
    /// For stated minutes: what the recipe's other tins say of this one.
    pub by_others: Option<Estimate>,
    /// For stated minutes: what they come to with the bakes noted so far.
    pub by_bakes: Option<(u32, Estimate)>,
}

/// A tin of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct TinRow {
    /// The recipe's own way of baking; `None` for another tin of the lesson,
    /// with a whole batch.
    pub choice: Option<TinChoiceId>,
    /// As the lesson has it, with the minutes and temperature of the row.
    pub as_choice: TinChoice,
    /// Mixture in one tin, or in one hole.
    pub each: Option<Figure<Millilitres>>,
    /// Depth of the raw mixture, mm.
    pub depth: Option<f64>,
    /// Share of what the tin holds.
    pub fill: Option<Figure<f64>>,
    /// Minutes, or why there are none.
    pub expected: Result<Expected, BakeError>,
    /// Until it may be handled.
    pub cools: Option<CoolsFor>,
    /// Bakes noted of this tin.
    pub took: Vec<ExactMinutes>,
}

impl TinRow {
    /// The kind of tin.
    pub fn tin(&self) -> TinId {
        self.as_choice.tin
    }

    /// Stated minutes lie outside nine of ten bakes that the recipe's other
    /// tins let expect.
    pub fn is_odd(&self) -> Option<Estimate> {
        let expected = self.expected.as_ref().ok()?;
        let others = expected.by_others?;
        let stated = expected.estimate.usual;
        (stated < others.ninety.0 || stated > others.ninety.1).then_some(others)
    }
}

/// The table of a recipe: its own tins in its order, then the other tins of
/// the lesson that a batch could go in.
pub fn tin_table(recipe: &Recipe, tins: &[Tin], past: &[PastBake]) -> Vec<TinRow> {
    let anchors = anchors(recipe, tins, past);
    let table = Table { recipe, tins, past, anchors: &anchors };
    let own = (0..recipe.tins.len()).filter_map(|i| table.own(TinChoiceId(i)));
    let known = |tin: usize| recipe.tins.iter().any(|c| c.tin.0 == tin);
    let other = (0..tins.len()).filter(|&t| !known(t)).filter_map(|t| table.other(TinId(t)));
    own.chain(other).collect()
}

/// A tin goes by so many others at most: more of them tell nothing new.
const MOST_ANCHORS: usize = 12;

struct Table<'a> {
    recipe: &'a Recipe,
    tins: &'a [Tin],
    past: &'a [PastBake],
    anchors: &'a [Anchor],
}

impl Table<'_> {
    fn own(&self, id: TinChoiceId) -> Option<TinRow> {
        self.row(Some(id), self.recipe.tins[id.0].clone())
    }

    /// Another tin of the lesson, filled as far as it may be; `None` if its
    /// size does not say how many a batch takes.
    fn other(&self, id: TinId) -> Option<TinRow> {
        let tin = &self.tins[id.0];
        if matches!(tin.form, None | Some(TinForm::Sheet)) {
            return None;
        }
        let first = self.recipe.tins.first()?;
        let batch = mixture::of_batch(self.recipe).ok()?.value;
        let holds = mixture::capacity(tin)?.value.get() * mixture::holes(tin);
        let limit = self.recipe.bake.fill_limit.value.min(1.0);
        let filled = Filling::of_fewest(batch, Millilitres::new(holds).ok()?, limit).ok()?;
        if filled.count > MOST_TINS {
            return None;
        }
        let choice = TinChoice {
            label: tin.name.clone(),
            tin: id,
            count: filled.count,
            batch: 1.0,
            // Its minutes go by tins of the same methods.
            methods: first.methods.clone(),
            celsius: first.celsius,
            minutes: None,
            elsewhere: Vec::new(),
            about_full: None,
            step_minutes: Vec::new(),
        };
        self.row(None, choice).filter(|row| row.expected.is_ok())
    }

    /// `None` for a tin that is not there.
    fn row(&self, choice: Option<TinChoiceId>, mut of: TinChoice) -> Option<TinRow> {
        let tin = self.tins.get(of.tin.0)?;
        let each = mixture::in_each(self.recipe, &of, tin).ok();
        let shape = tin.form.and_then(|form| Shape::of(&form).ok());
        let filled = self.filled(&of);
        let depth = filled.map(|(_, depth)| depth);
        let fill = each.zip(mixture::capacity(tin)).map(|(each, holds)| {
            let assumed = [each.origin, holds.origin].contains(&Origin::Assumed);
            let origin = if assumed { Origin::Assumed } else { each.origin };
            Figure { value: each.value.get() / holds.value.get(), origin }
        });
        let expected = self.expected(choice, &of, tin);
        if let Ok(expected) = &expected
            && of.minutes.is_none()
        {
            of.minutes = expected.estimate.three_point(expected.origin).ok();
        }
        cools::work_out(self.recipe, &mut of, filled.as_ref(), |tin| self.filled(tin));
        let cools = cools::cools(self.recipe, &of, shape.as_ref(), depth);
        let took = self.past.iter().filter(|p| p.is_of(&self.recipe.name, &of.label));
        let took = took.map(|p| p.minutes).collect();
        Some(TinRow { choice, as_choice: of, each, depth, fill, expected, cools, took })
    }

    /// The shape of a tin and how deep the mixture is in it, where known.
    fn filled(&self, choice: &TinChoice) -> Option<cools::Filled> {
        let tin = self.tins.get(choice.tin.0)?;
        let shape = tin.form.and_then(|form| Shape::of(&form).ok())?;
        let each = mixture::in_each(self.recipe, choice, tin).ok()?;
        Some((shape, 1000.0 * shape.depth(each.value).ok()?))
    }

    fn expected(
        &self,
        id: Option<TinChoiceId>,
        choice: &TinChoice,
        tin: &Tin,
    ) -> Result<Expected, BakeError> {
        let bake = bake_of(self.recipe, choice, tin, choice.celsius);
        let shares = |a: &&Anchor| alike(choice, &self.recipe.tins[a.choice.0]);
        let others: Vec<&Anchor> = self
            .anchors
            .iter()
            .filter(|a| Some(a.choice) != id)
            .filter(shares)
            .take(MOST_ANCHORS)
            .collect();
        let outcomes = outcomes(self.recipe, choice, tin, self.past);
        let count = u32::try_from(outcomes.len()).unwrap_or(u32::MAX);
        let own = self.anchors.iter().find(|a| Some(a.choice) == id);
        if let Some(stated) = choice.minutes.filter(|m| !is_worked_out(m.origin)) {
            let others: Vec<&Anchor> = others.into_iter().filter(|a| a.stated).collect();
            let by_others = bake.as_ref().ok().filter(|_| !others.is_empty());
            // A figure is not doubted for less than the scatter of a single
            // tin about another, however many there are.
            let by_others = by_others.and_then(|bake| {
                let calibration = pooled(&others, bake).ok()?.moved(1.0, Spread::default());
                calibration.estimate(bake).ok()
            });
            let sharpened = own.zip(bake.as_ref().ok()).filter(|_| count > 0);
            let by_bakes = sharpened
                .and_then(|(own, bake)| Some((count, own.calibration.estimate(bake).ok()?)));
            let batter = mixture::batter(self.recipe);
            let kappa = bake
                .as_ref()
                .ok()
                .and_then(|bake| Calibration::new(*bake, stated.usual(), batter).ok())
                .map(|c| c.kappa());
            let estimate = Estimate::of_stated(&stated)?;
            return Ok(Expected { estimate, origin: stated.origin, kappa, by_others, by_bakes });
        }
        let bake = bake?;
        let all = self.anchors.iter().filter(|a| Some(a.choice) != id);
        let all: Vec<&Anchor> = all.take(MOST_ANCHORS).collect();
        let going_by = if others.is_empty() { all } else { others };
        let calibration = match (pooled(&going_by, &bake), own) {
            (Ok(pooled), _) => pooled.learned(&outcomes).unwrap_or(pooled),
            (Err(_), Some(own)) => own.calibration,
            (Err(nothing), None) => return Err(nothing),
        };
        let origin = if count > 0 { Origin::Learned(count) } else { Origin::Computed };
        Ok(Expected {
            estimate: calibration.estimate(&bake)?,
            origin,
            kappa: Some(calibration.kappa()),
            by_others: None,
            by_bakes: None,
        })
    }
}

/// Whether two ways of baking have a method in common.
fn alike(a: &TinChoice, b: &TinChoice) -> bool {
    a.methods.is_empty() || b.methods.is_empty() || a.methods.iter().any(|m| b.methods.contains(m))
}

impl Estimate {
    /// What stated minutes let expect of one bake: quick and slow ones are the
    /// ends of the 90 % band, and the 80 % band lies within it.
    ///
    /// # Errors
    /// If a band would be longer than a day.
    pub fn of_stated(stated: &ThreePoint) -> Result<Self, BakeError> {
        let usual = stated.usual();
        let narrower = |end: ExactMinutes| {
            ExactMinutes::new(usual.get() * (end.get() / usual.get()).powf(Z_80 / Z_90))
        };
        Ok(Self {
            usual,
            eighty: (narrower(stated.quick())?, narrower(stated.slow())?),
            ninety: (stated.quick(), stated.slow()),
            cross_check: usual.get(),
            disagreement: None,
        })
    }
}
