//! Checks: one file each, in the order of the work. Each compares what is with what may be, and says so also where all
//! is well; a message is one view of its findings, the table of limits another.

mod carry;
mod casing;
mod contents;
mod crown;
mod dado_depth;
mod dado_fit;
mod door_swing;
mod ends;
mod floor_load;
mod glue_time;
mod groove_end;
mod heater;
mod light;
mod lines;
mod old_house;
mod opening_covered;
mod outlet;
mod place;
mod plinth;
mod receptacles;
mod register;
mod route;
mod route_carry;
mod router;
mod sag;
mod saw_reach;
mod screws;
mod scribe;
mod sheet_measured;
mod sheet_size;
mod sheets;
mod shelf_load;
mod stand_up;
mod studs;
mod subject;
mod survey;
mod trim;

pub use subject::Subject;
use subject::names;

use crate::diag::{Code, Diagnostic, Fix};
use crate::parts::Finding;

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

    /// Takes a message.
    pub fn tell(&mut self, diagnostic: Diagnostic) {
        self.tell_with(diagnostic, Vec::new());
    }

    /// Takes a message that changes of text may mend.
    pub fn tell_with(&mut self, diagnostic: Diagnostic, mends: Vec<Fix>) {
        self.messages.push(Message { diagnostic, mends });
    }
}

/// All checks, in the order of the work.
pub static CHECKS: &[Check] = &[
    outlet::CHECK,
    register::CHECK,
    heater::CHECK,
    trim::CHECK,
    opening_covered::CHECK,
    casing::CHECK,
    door_swing::CHECK,
    receptacles::CHECK,
    route::CHECK,
    route_carry::CHECK,
    light::CHECK,
    survey::CHECK,
    ends::CHECK,
    scribe::CHECK,
    plinth::CHECK,
    floor_load::CHECK,
    stand_up::CHECK,
    carry::CHECK,
    studs::CHECK,
    screws::CHECK,
    sheet_measured::CHECK,
    dado_depth::CHECK,
    dado_fit::CHECK,
    groove_end::CHECK,
    router::CHECK,
    sheet_size::CHECK,
    saw_reach::CHECK,
    glue_time::CHECK,
    sag::CHECK,
    contents::CHECK,
    lines::CHECK,
    crown::CHECK,
    old_house::CHECK,
    sheets::CHECK,
];

/// What all checks find.
#[must_use]
pub fn check(subject: &Subject<'_>) -> Report {
    let mut report = Report::default();
    for check in CHECKS {
        (check.run)(subject, &mut report);
    }
    report
}
