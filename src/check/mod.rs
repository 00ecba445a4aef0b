//! Checks: one file each, in the order of the work. Each compares what is with what may be, and says so also where all
//! is well; a message is one view of its findings, the table of limits another.

#![warn(clippy::wildcard_enum_match_arm)]

mod anchors;
mod as_built;
mod board_size;
mod box_set_back;
mod brush;
mod carry;
mod casing;
mod clamps;
mod contents;
mod corner;
mod counter;
mod crown;
mod cure;
mod dado_depth;
mod dado_fit;
mod door_hangs;
mod door_opens;
mod door_swing;
mod ends;
mod floor_falls;
mod floor_load;
mod front_meets;
mod glue_time;
mod groove_end;
mod handed;
mod heater;
mod helpers;
mod hole;
mod hung_lift;
mod hung_load;
mod hung_room;
mod light;
mod lines;
mod loose_play;
mod loose_shelf;
mod low_drawer;
mod mortise;
mod movement;
mod near_miss;
mod old_house;
mod one_place;
mod opening_covered;
mod outlet;
mod pin_hole;
mod plinth;
mod reach;
mod readings;
mod receptacles;
mod register;
mod rip_fence;
mod route;
mod route_carry;
mod router;
mod running_length;
mod sag;
mod saw_reach;
mod screw_load;
mod screws;
mod scribe;
mod sheet_measured;
mod sheet_size;
mod sheet_thickness;
mod sheets;
mod short_nail;
mod slope;
mod space;
mod stand_up;
mod studs;
mod subject;
mod survey;
mod tape;
mod thin_web;
mod tips;
mod trim;

pub use subject::Subject;
use subject::{names, one_of, others};

use crate::cancel::{Cancel, Cancelled};
use crate::diag::{Code, Diagnostic, Fix};
use crate::parts::{Finding, How, Lacking, Measure, MeasureValue};
use crate::quantity::{Estimate, Round, System, safe};

/// A check: its codes, and what it does.
#[derive(Clone, Copy, Debug)]
pub struct Check {
    /// What it can tell, each with its explanation and its examples.
    pub codes: &'static [&'static Code],
    /// Looks at everything that the check is about.
    pub run: fn(&Subject<'_>, &mut Report),
}

/// What the checks found, and what is to be told about it.
#[derive(Clone, Debug, Default)]
pub struct Report {
    /// Everything that was compared.
    pub findings: Vec<Finding>,
    /// One message for each cause.
    pub messages: Vec<Message>,
    /// What was estimated, by the path of what it is of.
    pub reckoned: Vec<(String, Measure)>,
    /// What could not be compared, and what is missing for it.
    pub lacking: Vec<Lacking>,
}

/// A message, and changes of text that may mend the matter.
#[derive(Clone, Debug)]
pub struct Message {
    /// The message.
    pub diagnostic: Diagnostic,
    /// The best first; each is still to be proven by working the project out again with it.
    pub mends: Vec<Fix>,
}

impl Report {
    /// Takes a finding; gives back whether its limit is kept.
    pub fn compare(&mut self, finding: Finding) -> bool {
        let holds = finding.holds();
        self.findings.push(finding);
        holds
    }

    /// Takes a finding, and the message about it where its limit is not kept.
    pub fn take(&mut self, (finding, diagnostic): (Finding, Option<Diagnostic>)) {
        self.findings.push(finding);
        if let Some(diagnostic) = diagnostic {
            self.tell(diagnostic);
        }
    }

    /// Takes what cannot be compared for want of values that nobody states.
    pub fn lack(&mut self, lacking: Lacking) {
        self.lacking.push(lacking);
    }

    /// Takes an estimate of a member, with how it is reckoned.
    pub fn reckon(&mut self, path: &str, name: &'static str, value: Estimate, how: impl Into<How>) {
        let how = how.into();
        self.reckoned.push((path.to_owned(), Measure { name, value: MeasureValue::Estimate(value, how) }));
    }

    /// Takes an estimate that is a limit: it is kept as it is printed, on the safe side.
    pub fn reckon_limit(
        &mut self,
        path: &str,
        name: &'static str,
        (value, round, system): (Estimate, Round, System),
        how: &'static str,
    ) {
        self.reckon(path, name, safe(value, system, round), how);
    }

    /// Takes a message.
    pub fn tell(&mut self, diagnostic: Diagnostic) {
        self.tell_with(diagnostic, Vec::new());
    }

    /// Takes a message that changes of text may mend.
    pub fn tell_with(&mut self, diagnostic: Diagnostic, mends: Vec<Fix>) {
        self.messages.push(Message { diagnostic, mends });
    }
}

/// What hurts people and houses: under a message on one of these `check` says its caution.
pub static HAZARDS: &[&Check] = &[
    &carry::CHECK,
    &floor_load::CHECK,
    &hung_lift::CHECK,
    &hung_load::CHECK,
    &heater::CHECK,
    &old_house::CHECK,
    &outlet::CHECK,
    &receptacles::CHECK,
    &register::CHECK,
    &route::CHECK,
    &tips::CHECK,
];

/// All checks, in the order of the work.
pub static CHECKS: &[Check] = &[
    outlet::CHECK,
    box_set_back::CHECK,
    register::CHECK,
    heater::CHECK,
    trim::CHECK,
    opening_covered::CHECK,
    casing::CHECK,
    door_swing::CHECK,
    receptacles::CHECK,
    one_place::CHECK,
    route::CHECK,
    light::CHECK,
    survey::CHECK,
    floor_falls::CHECK,
    readings::CHECK,
    ends::CHECK,
    space::CHECK,
    corner::CHECK,
    counter::CHECK,
    scribe::CHECK,
    plinth::CHECK,
    floor_load::CHECK,
    stand_up::CHECK,
    slope::CHECK,
    carry::CHECK,
    studs::CHECK,
    hung_room::CHECK,
    hung_load::CHECK,
    hung_lift::CHECK,
    anchors::CHECK,
    tips::CHECK,
    screws::CHECK,
    screw_load::CHECK,
    short_nail::CHECK,
    sheet_measured::CHECK,
    sheet_thickness::CHECK,
    dado_depth::CHECK,
    thin_web::CHECK,
    mortise::CHECK,
    dado_fit::CHECK,
    groove_end::CHECK,
    hole::CHECK,
    front_meets::CHECK,
    door_opens::CHECK,
    door_hangs::CHECK,
    low_drawer::CHECK,
    tape::CHECK,
    pin_hole::CHECK,
    router::CHECK,
    handed::CHECK,
    as_built::CHECK,
    sheet_size::CHECK,
    board_size::CHECK,
    rip_fence::CHECK,
    saw_reach::CHECK,
    glue_time::CHECK,
    clamps::CHECK,
    sag::CHECK,
    contents::CHECK,
    reach::CHECK,
    running_length::CHECK,
    loose_shelf::CHECK,
    loose_play::CHECK,
    lines::CHECK,
    crown::CHECK,
    movement::CHECK,
    brush::CHECK,
    cure::CHECK,
    old_house::CHECK,
    sheets::CHECK,
    near_miss::CHECK,
];

/// What all checks find.
///
/// # Errors
/// [`Cancelled`] where somebody stopped the work.
pub fn check(subject: &Subject<'_>, cancel: &Cancel) -> Result<Report, Cancelled> {
    let mut report = Report::default();
    for check in CHECKS {
        cancel.go_on()?;
        (check.run)(subject, &mut report);
    }
    Ok(report)
}
