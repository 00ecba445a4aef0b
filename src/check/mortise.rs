//! Wood is left around the tenons of a frame.

use super::{Check, Report, Subject, others};
use crate::diag::{Diagnostic, code};
use crate::eval::Len;
use crate::parts::{Bounds, Finding, JointKind, Limit, Part, PartId, Role};
use crate::quantity::{Length, Rational, Round};
use std::collections::BTreeMap;

code!(
    Error,
    CODE,
    "C057",
    "mortise",
    "tenons that leave too little of a stile",
    "Beyond a mortise, or between two from both edges, 1/4 in (6 mm) or more of the stile stays (common practice, no source). A stile that \
     is scribed counts where it is narrowest.",
    with_example
);

/// Every mortise, with those that lie opposite.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

/// A mortise in an edge of a part.
struct Mortise {
    /// Where it begins and ends along the part.
    span: [Length; 2],
    depth: Len,
    /// Whether it lies in the right or the upper edge.
    far: bool,
}

/// A part that is mortised, its narrowest width, what is left of it, the depth that is to blame and how many edges have it.
struct Thin<'a> {
    host: &'a Part,
    width: Length,
    left: Length,
    depth: Len,
    edges: i128,
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut hosts: BTreeMap<PartId, Vec<Mortise>> = BTreeMap::new();
    for joint in &subject.graph.joints {
        let JointKind::Mortise { depth } = joint.kind else { continue };
        let part = |id: PartId| subject.graph.part(id);
        let Some((guest, host)) = part(joint.guest).zip(part(joint.host)) else { continue };
        let bounds = |part: &Part| subject.graph.bounds(part);
        if let Some((guest, own)) = bounds(guest).zip(bounds(host)) {
            hosts.entry(joint.host).or_default().push(mortise(host.role, depth, [guest, own]));
        }
    }
    let least = subject.usual((1, 4), 60);
    let mut thin: Vec<Thin<'_>> = Vec::new();
    for (id, mortises) in &hosts {
        let Some(found) = subject.graph.part(*id).and_then(|host| thinnest(host, mortises)) else { continue };
        let what = "wood left beyond a mortise";
        let limit = Limit::AtLeast(least.into());
        if !report.compare(Finding::new(&CODE, found.host.path.as_str(), what, found.left, limit)) {
            thin.push(found);
        }
    }
    let Some(worst) = thin.iter().min_by_key(|thin| thin.left) else { return };
    let left = if worst.left.is_positive() { subject.print(worst.left) } else { "nothing".to_owned() };
    let edges = if worst.edges == 2 { " from both edges" } else { "" };
    let message = format!(
        "tenons of {}{edges} leave {left} of `{}`{}, {} wide",
        subject.print(worst.depth.value),
        worst.host.path,
        others(thin.len() - 1, "part"),
        subject.print(worst.width)
    );
    let diagnostic = subject.at(Diagnostic::new(&CODE, message), worst.depth, "how long they are");
    let diagnostic = subject.at(diagnostic, worst.host.size.width, "its width follows from this");
    let diagnostic = thin.iter().fold(diagnostic, |told, thin| told.about(thin.host.path.as_str()));
    // As long as the narrowest of them bears.
    let most = |thin: &Thin<'_>| thin.width.checked_sub(least)?.checked_div(Rational::from(thin.edges));
    let most = thin.iter().filter_map(most).min();
    let good = most.and_then(|most| most.rounded_to(subject.usual((1, 16), 10), Round::Down));
    match good.filter(|good| good.is_positive()) {
        Some(good) => {
            let fix = subject.change(worst.depth, good, "make them {} long", true);
            let help = format!("make them {} long or shorter, or the stile wider", subject.print(good));
            report.tell_with(diagnostic.help(help), fix.into_iter().collect());
        }
        None => report.tell(diagnostic.help("make the stile wider, or butt the rails and screw them")),
    }
}

fn mortise(host: Role, depth: Len, [guest, own]: [Bounds; 2]) -> Mortise {
    let side = |bounds: Bounds, axis: usize| bounds.get(axis).copied().unwrap_or_default();
    let (along, across) = if host == Role::Stile { (2, 0) } else { (0, 2) };
    Mortise { span: side(guest, along), depth, far: side(guest, across)[1] > side(own, across)[1] }
}

/// Where least is left of a part.
fn thinnest<'a>(host: &'a Part, mortises: &[Mortise]) -> Option<Thin<'a>> {
    let width = host.scribed.iter().map(|(_, width)| width.value).min().unwrap_or(host.size.width.value);
    let left = |mortise: &Mortise| {
        let meets = |other: &&Mortise| {
            other.far != mortise.far && other.span[0] < mortise.span[1] && mortise.span[0] < other.span[1]
        };
        let opposite = mortises.iter().filter(meets).map(|other| other.depth.value).max();
        let left = width.checked_sub(mortise.depth.value)?.checked_sub(opposite.unwrap_or_default())?;
        let edges = if opposite.is_some() { 2 } else { 1 };
        Some(Thin { host, width, left, depth: mortise.depth, edges })
    };
    mortises.iter().filter_map(left).min_by_key(|thin| thin.left)
}
