//! Wood is left between two grooves back to back.

use super::{Check, Report, Subject, others};
use crate::diag::{Diagnostic, code};
use crate::eval::Len;
use crate::parts::{Finding, Joint, JointKind, Limit, Part, PartId, Role};
use crate::quantity::{Length, Rational};
use std::collections::BTreeMap;

code!(
    Error,
    CODE,
    "C043",
    "thin_web",
    "too little wood between two grooves back to back",
    "Where both faces of a divider or a shelf are grooved at one place, 1/4 in (6 mm) or more of wood stays between the grooves: 3/16 in \
     on each side of 3/4 in stock (common practice, no source). With less it snaps there.",
    with_example
);

/// Every two grooves that lie back to back.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

/// A groove in a face of a part.
struct Groove {
    /// Where it begins and ends along the part.
    span: [Length; 2],
    depth: Len,
    /// Whether it lies in the right or the upper face.
    far: bool,
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut hosts: BTreeMap<PartId, Vec<Groove>> = BTreeMap::new();
    for joint in &subject.graph.joints {
        let host =
            subject.graph.part(joint.host).filter(|host| matches!(host.role, Role::Divider | Role::Shelf));
        if let Some(groove) = host.and_then(|host| groove(subject, joint, host)) {
            hosts.entry(joint.host).or_default().push(groove);
        }
    }
    let least = subject.usual((1, 4), 60);
    let mut thin: Vec<(Length, Len, &Part)> = Vec::new();
    for (id, grooves) in &hosts {
        let Some(host) = subject.graph.part(*id) else { continue };
        let Some((left, depth)) = web(host, grooves) else { continue };
        let what = "wood between grooves back to back";
        let limit = Limit::AtLeast(least.into());
        if !report.compare(Finding::new(&CODE, host.path.as_str(), what, left, limit)) {
            thin.push((left, depth, host));
        }
    }
    let Some((left, depth, host)) = thin.iter().min_by_key(|(left, ..)| *left).copied() else { return };
    let others = others(thin.len() - 1, "part");
    let message = format!(
        "{} of wood is left between the grooves in both faces of `{}`{others}",
        subject.print(left),
        host.path
    );
    let diagnostic = subject.at(Diagnostic::new(&CODE, message), depth, "the depth of the grooves");
    let diagnostic = subject.at(diagnostic, host.size.thickness, "the thickness of the sheet");
    let diagnostic = thin.iter().fold(diagnostic, |told, (.., host)| told.about(host.path.as_str()));
    let half = host.size.thickness.value.checked_sub(least);
    let most = half.and_then(|both| both.checked_div(Rational::from(2))).unwrap_or_default();
    let step = subject.usual((1, 16), 10);
    let round = most.rounded_to(step, crate::quantity::Round::Down);
    let good = round.filter(|good| good.is_positive()).unwrap_or(most);
    let fix = subject.change(depth, good, "make the grooves {} deep", true);
    let help = format!(
        "make them {} deep or less, or let the shelves meet at different heights and mark each side by itself",
        subject.most(most)
    );
    report.tell_with(diagnostic.help(help), fix.into_iter().collect());
}

fn groove(subject: &Subject<'_>, joint: &Joint, host: &Part) -> Option<Groove> {
    let JointKind::Dado { depth, width, .. } = joint.kind else { return None };
    let guest = subject.graph.part(joint.guest)?;
    let far = if host.role == Role::Divider {
        guest.place.x.value >= host.place.x.value
    } else {
        guest.place.z.value >= host.place.z.value
    };
    Some(Groove { span: [joint.at.value, joint.at.value.checked_add(width.value)?], depth, far })
}

/// The least wood between two grooves of both faces, with the deeper one's depth.
fn web(host: &Part, grooves: &[Groove]) -> Option<(Length, Len)> {
    let near = grooves.iter().filter(|groove| !groove.far);
    let pairs = near.flat_map(|near| grooves.iter().filter(|far| far.far).map(move |far| (near, far)));
    let meet = pairs.filter(|(near, far)| near.span[0] < far.span[1] && far.span[0] < near.span[1]);
    let webs = meet.filter_map(|(near, far)| {
        let both = near.depth.value.checked_add(far.depth.value)?;
        let deeper = if near.depth.value < far.depth.value { far.depth } else { near.depth };
        Some((host.size.thickness.value.checked_sub(both)?, deeper))
    });
    webs.min_by_key(|(left, _)| *left)
}
