//! Reports by disease, and the judgement that runs: the page's side of the judge.
//!
//! Whoever reads a report thereby asks for it: reading is wanting. What is wanted and older than
//! the plot is judged anew when the plot has been still for a moment, but not during a walk.

use language::say;
use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;
use leptos::task::spawn_local;
use proof::Report;

use super::App;
use crate::route::Route;
use judge::link;
use judge::{FromJudge, ToJudge};

pub use judge::Question;

/// How long the plot must have been still before it is judged anew.
const STILL: Duration = Duration::from_millis(800);

/// What the judge said of a disease.
#[derive(Clone, Debug)]
pub struct Judged {
    /// The report, or why there is none, in words.
    pub report: Result<Arc<Report>, String>,
    /// The plot's version that it judged; older than [`App::version`]: scores came since.
    pub version: u64,
}

/// A judgement in the making.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Judging {
    /// What is judged.
    pub question: Question,
    /// Steps done.
    pub done: u64,
    /// Steps in all, as far as is known; 0: not yet known.
    pub of: u64,
}

impl App {
    /// The newest report of a disease over all seasons, if there is one; follows, and asks for it.
    pub fn report(self, disease: &str) -> Option<Arc<Report>> {
        self.judged(disease)?.report.ok()
    }

    /// What the judge said of a disease over all seasons; follows, and asks for it.
    pub fn judged(self, disease: &str) -> Option<Judged> {
        self.judged_of(&Question { disease: disease.to_owned(), seasons: Vec::new() })
    }

    /// What the judge said to a question; follows, and asks it.
    pub fn judged_of(self, question: &Question) -> Option<Judged> {
        self.want(question);
        self.reports.with(|reports| reports.get(question).cloned())
    }

    /// Asks a question again, also after it was stopped.
    pub fn ask(self, question: &Question) {
        self.want(question);
        self.judge_next();
    }

    /// Stops the judgement that runs; it begins again when it is asked for.
    pub fn stop_judging(self) {
        self.tell_judge(&ToJudge::Stop);
        if let Some(judging) = self.judging.get_untracked() {
            self.wanted.update_value(|wanted| wanted.retain(|one| *one != judging.question));
        }
        self.judging.set(None);
    }

    /// Has the judge follow the plot.
    pub(super) fn follow_plot(self) {
        Effect::new(move || {
            self.version.track();
            self.route.track();
            self.soon();
        });
        self.grow_only_while_seen();
    }

    /// Starts the judge, unless that is done.
    pub(super) fn start_judge(self) {
        if self.judge.with_value(Option::is_some) {
            return;
        }
        let address = self.addresses.with_value(|addresses| addresses.judge.clone());
        let broke = move || {
            self.judge_broke(say!(
                "The judge broke off: the proof could not be made. The scores are not touched."
            ));
        };
        match link::start(&address, move |message| self.judge_says(message), broke) {
            Ok(worker) => self.judge.set_value(Some(worker)),
            Err(_) => self.judge_broke(say!(
                "This browser gives no background work: the proof could not be made. The scores \
                 are not touched."
            )),
        }
    }

    /// The next question starts another judge.
    fn judge_broke(self, what: &str) {
        self.end_judge();
        self.judging.set(None);
        self.want_no_growing();
        self.trouble.set(Some(what.to_owned()));
    }

    /// Ends the judge in the midst of whatever it does.
    pub(super) fn end_judge(self) {
        if let Some(Some(judge)) = self.judge.try_update_value(Option::take) {
            judge.terminate();
        }
        self.judge_lost_plot();
    }

    /// What was judged knows the trees by their place in the list, which is another one now; what
    /// is wanted is judged anew.
    pub(super) fn forget_reports(self) {
        self.tell_judge(&ToJudge::Stop);
        self.judging.set(None);
        self.reports.update(std::collections::BTreeMap::clear);
        self.forget_grown();
    }

    /// Whatever was judged is of another plot.
    pub(super) fn forget_judged(self) {
        self.tell_judge(&ToJudge::Stop);
        self.judge_lost_plot();
        self.judging.set(None);
        self.wanted.set_value(Vec::new());
        self.reports.update(std::collections::BTreeMap::clear);
        self.want_no_growing();
    }

    fn want(self, question: &Question) {
        let is_new = self.wanted.try_update_value(|wanted| {
            let is_new = !wanted.contains(question);
            if is_new {
                // Of the choices of seasons only the last one is of interest.
                wanted.retain(|one| one.disease != question.disease || one.seasons.is_empty());
                wanted.push(question.clone());
            }
            is_new
        });
        if is_new == Some(true) {
            self.judge_when_painted();
        }
    }

    /// The judge gets the plot when what asked for it has been painted.
    pub(super) fn judge_when_painted(self) {
        request_animation_frame(move || {
            set_timeout(move || self.judge_next(), Duration::ZERO);
        });
    }

    /// Judges what is wanted once the plot has been still.
    fn soon(self) {
        let version = self.version.get_untracked();
        set_timeout(
            move || {
                let is_still = version == self.version.get_untracked();
                let on_a_walk = self.route.with_untracked(|route| *route == Route::Walk);
                if is_still && !on_a_walk {
                    self.judge_next();
                }
            },
            STILL,
        );
    }

    pub(super) fn judge_next(self) {
        let is_busy = self.judging.with_untracked(Option::is_some)
            || self.growing_now.with_untracked(Option::is_some);
        if is_busy || self.plot_now(|_| ()).is_none() || self.grow_next() {
            return;
        }
        let version = self.version.get_untracked();
        let is_fresh = |question: &Question| {
            self.reports.with_untracked(|reports| {
                reports.get(question).is_some_and(|judged| judged.version == version)
            })
        };
        let next =
            self.wanted.with_value(|wanted| wanted.iter().find(|one| !is_fresh(one)).cloned());
        let Some(question) = next else { return };
        self.start_judge();
        self.judging.set(Some(Judging { question: question.clone(), done: 0, of: 0 }));
        spawn_local(async move {
            if self.hand_plot().await && self.is_judging(&question) {
                let version = self.version.get_untracked();
                self.tell_judge(&ToJudge::Judge { question, version });
            }
        });
    }

    fn is_judging(self, question: &Question) -> bool {
        self.judging.with_untracked(|judging| {
            judging.as_ref().is_some_and(|judging| judging.question == *question)
        })
    }

    fn judge_says(self, message: FromJudge) {
        let (question, version, report) = match message {
            FromJudge::Progress { question, done, of } => {
                self.judging.update(|judging| {
                    if judging.as_ref().is_some_and(|judging| judging.question == question) {
                        *judging = Some(Judging { question, done, of });
                    }
                });
                return;
            }
            FromJudge::Done { question, version, report } => {
                (question, version, Ok(Arc::new(*report)))
            }
            FromJudge::Unusable { question, version, why } => (question, version, Err(why)),
            other => return self.grown_says(other),
        };
        // An answer that comes after a stop, or about an earlier plot, is passed over.
        if self.is_judging(&question) {
            self.judging.set(None);
            self.reports.update(|reports| {
                reports.insert(question, Judged { report, version });
            });
            self.judge_next_when_still();
        }
    }

    fn judge_next_when_still(self) {
        if self.route.with_untracked(|route| *route == Route::Walk) {
            return;
        }
        self.judge_next();
    }

    pub(super) fn tell_judge(self, message: &ToJudge<'_>) {
        self.judge.with_value(|judge| {
            if let Some(judge) = judge {
                link::tell(judge, message);
            }
        });
    }
}
