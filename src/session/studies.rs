//! All that a session has worked on beside it: a study a question.

use std::sync::Arc;

use super::ids::Revision;
use super::planning::{ToPlan, plan};
use super::study::{Study, Wake};
use super::{
    at_ovens, better_odds, carrying, choosing, explaining, holding, odds, offers, printing,
    probing, responding, slipping, week,
};
use crate::better::Search;
use crate::change::{Offer, Offers};
use crate::check::CheckedPlan;
use crate::hand::{Contradiction, SpotRow};
use crate::model::{AtOvens, GroupId, Lesson};
use crate::today::Response;
use crate::week::Report;

/// The studies of a session.
pub(super) struct Studies {
    /// The best plan.
    pub plans: Study<ToPlan, Arc<CheckedPlan>>,
    /// What the tins and methods of a group would come to.
    pub tins: Study<probing::ToTry, (GroupId, probing::TinsTried)>,
    /// Of which group that was asked last, and when.
    pub tins_of: Option<(Revision, GroupId)>,
    /// What a choice on a group's card would come to.
    pub choice: Study<choosing::ToChoose, Offer>,
    /// Why a group is not served.
    pub reasons: Study<explaining::ToExplain, (GroupId, String)>,
    /// Which changes would help.
    pub offers: Study<offers::ToChange, Arc<Offers>>,
    /// What the verdict hangs on, in sentences.
    pub hangs_on: Study<offers::ToWeigh, Vec<String>>,
    /// What each answer to who must be where while ovens are open comes to.
    pub at_ovens: Study<at_ovens::ToCompare, Vec<(AtOvens, at_ovens::AtOvensOutcome)>>,
    /// What can be done about who will not be out, on the day.
    pub responses: Study<responding::ToRespond, Vec<Response>>,
    /// What becomes of a slip thrown into the rehearsal.
    pub slip: Study<slipping::ToSlip, Vec<Response>>,
    /// The odds of the plan.
    pub odds: Study<odds::ToPlay, Arc<odds::ToldOdds>>,
    /// A plan with better odds.
    pub better: Study<better_odds::ToBetter, Search>,
    /// The sheets, laid out.
    pub sheets: Study<printing::ToPrint, Arc<printing::LaidSheets>>,
    /// The week.
    pub week: Study<week::ToPlanWeek, Arc<Report>>,
    /// The week with a change that is tried.
    pub week_tried: Study<week::ToPlanWeek, Arc<Report>>,
    /// What the week's lessons need.
    pub week_needs: Study<week::ToNeed, Arc<week::WeekNeeds>>,
    /// Where something taken hold of may be put.
    pub spots: Study<carrying::ToMove, SpotRow>,
    /// What putting things somewhere comes to.
    pub puts: Study<carrying::ToMove, carrying::PutOutcome>,
    /// Locks that cannot all be kept.
    pub contradictions: Study<Arc<Lesson>, Option<Contradiction>>,
}

impl Studies {
    pub fn new(wake: &Wake) -> Self {
        Self {
            plans: Study::new(wake, plan),
            tins: Study::new(wake, probing::try_tins),
            tins_of: None,
            choice: Study::new(wake, choosing::choose),
            reasons: Study::new(wake, explaining::explain),
            offers: Study::new(wake, offers::look),
            hangs_on: Study::new(wake, offers::weigh),
            at_ovens: Study::new(wake, at_ovens::compare),
            responses: Study::new(wake, responding::respond),
            slip: Study::new(wake, slipping::become_of),
            odds: Study::new(wake, odds::play),
            better: Study::new(wake, better_odds::look),
            sheets: Study::new(wake, printing::lay_out),
            week: Study::new(wake, week::plan),
            week_tried: Study::new(wake, week::plan),
            week_needs: Study::new(wake, week::work_out),
            spots: Study::new(wake, carrying::find_spots),
            puts: Study::new(wake, carrying::find_put),
            contradictions: Study::new(wake, holding::find_contradiction),
        }
    }

    /// Forgets what is asked of the plan on screen, as another comes.
    pub fn forget_about_plan(&mut self) {
        self.tins.forget();
        self.tins_of = None;
        self.choice.forget();
        self.reasons.forget();
        self.offers.forget();
        self.hangs_on.forget();
        self.at_ovens.forget();
        self.responses.forget();
        self.slip.forget();
        self.odds.forget();
        self.better.forget();
        self.contradictions.forget();
    }
}
