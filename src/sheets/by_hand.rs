//! What is held by hand: tolerances of the bench and of the room that no check can measure, each with its source.

use super::Subject;
use crate::eval::Glue;
use crate::parts::{Role, duration};
use crate::quantity::{Length, System};
use serde::Serialize;
use std::collections::BTreeSet;

/// One thing to hold by hand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ByHand {
    /// Where it is held: `saw`, `router`, `glue-up`, `room`.
    pub place: &'static str,
    /// What is held.
    pub what: String,
    /// How closely.
    pub within: String,
    /// Who says so.
    pub source: &'static str,
}

/// Common practice.
const COMMON: &str = "common practice, no source";

/// The woodwork standard.
const WOODWORK: &str = "Architectural Woodwork Standards 2009";

/// The panel standard.
const PANELS: &str = "PS 1-19";

/// What stands on glue, as it is remembered.
const GLUES: &str = "adhesive makers' sheets, from memory";

/// All of it, in the order of the work.
pub(super) fn by_hand(subject: Subject<'_>) -> Vec<ByHand> {
    let mut rows = Vec::new();
    let mut add = |place, what: &str, within: String, source| {
        rows.push(ByHand { place, what: what.to_owned(), within, source });
    };
    let fine = |inches: (i128, i128), hundredths: i128| fine(subject, inches, hundredths);
    let graph = subject.graph;
    if graph.parts.iter().any(|part| matches!(part.role, Role::Side(_))) {
        add("saw", "the reference edge of a sheet, straight", fine((1, 16), 160), PANELS);
        add("saw", "a sheet out of square, in a foot (300 mm)", fine((1, 64), 40), PANELS);
        add("saw", "the first and the last piece of a stop", fine((1, 64), 40), COMMON);
        add("saw", "pieces by a pencil line", fine((1, 32), 80), COMMON);
        let too_deep = format!(
            "{} too deep on both sides makes a unit {} narrower",
            fine((1, 64), 40),
            fine((1, 32), 80)
        );
        add("router", "the depth of a dado", too_deep, "arithmetic");
        add("router", "a shelf in its dado", "goes in by hand, and does not drop out".to_owned(), COMMON);
    }
    let mut small = BTreeSet::new();
    for (_, unit) in graph.numbered_units() {
        small.insert(unit.height.value <= usual(subject, (48, 1), 120_000));
    }
    for small in small {
        let (what, within) = if small {
            ("the two diagonals of a unit up to 4 ft (1.2 m) high, alike", fine((1, 16), 160))
        } else {
            ("the two diagonals of a higher unit, alike", fine((1, 8), 320))
        };
        add("glue-up", what, within, COMMON);
    }
    let glues = glues(subject);
    for glue in &glues {
        let within = glue.in_clamps.map_or_else(
            || "as its maker says".to_owned(),
            |time| format!("{} at least, full strength after a day", duration(time.value.value)),
        );
        add("glue-up", &format!("`{}` in clamps", glue.name), within, GLUES);
    }
    if !glues.is_empty() {
        add("glue-up", "wood, glue and room while it sets", "50 F (10 C) or warmer".to_owned(), GLUES);
    }
    if graph.parts.iter().any(|part| part.role == Role::Strip) {
        let under = format!("flush, up to {} under it, never proud", fine((1, 64), 40));
        add("room", "a strip at its shelf's top", under, COMMON);
        let pitch = if is_metric(subject) { "200 to 300 mm" } else { "8 to 12 in" };
        add(
            "room",
            "clamps along a strip that is not nailed",
            format!("every {pitch}; brads replace half"),
            COMMON,
        );
    }
    if graph.parts.iter().any(|part| part.role.is_facing()) {
        let flush = if is_metric(subject) { "0.64 mm, at best 0.3 mm" } else { "0.025 in, at best 0.012 in" };
        add("room", "faces of facing that meet, flush", flush.to_owned(), WOODWORK);
        let flat = if is_metric(subject) { "0.69 mm in 305 mm" } else { "0.027 in in 12 in" };
        add("room", "sides and panels, flat", flat.to_owned(), WOODWORK);
    }
    rows
}

/// The glues of the joints that carcasses are closed with.
fn glues(subject: Subject<'_>) -> Vec<&Glue> {
    let all = subject.model.all_carcasses();
    let used: BTreeSet<usize> = all.filter_map(|carcass| carcass.joins.shelf_to_side.glue).collect();
    used.into_iter().filter_map(|glue| subject.model.glues.get(glue)).collect()
}

fn is_metric(subject: Subject<'_>) -> bool {
    subject.model.project.marks.system() == System::Metric
}

/// So many inches where the project prints inches, so many hundredths of a millimetre where it prints those.
fn usual(subject: Subject<'_>, inches: (i128, i128), hundredths: i128) -> Length {
    subject.model.project.marks.system().length(inches, (hundredths, 100))
}

/// The same, printed to the last fraction.
fn fine(subject: Subject<'_>, inches: (i128, i128), hundredths: i128) -> String {
    subject.model.project.marks.print_fine(usual(subject, inches, hundredths)).text().to_owned()
}
