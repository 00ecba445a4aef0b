//! A part by itself, with what is cut into it: grooves, mortises, scribes with their widths, cut-outs.

use super::Subject;
use super::pick::Picked;
use super::picture::{Edge, Extent, Filled, Form, Measured, Pane, Picture, Spot};
use super::side::cut_round;
use super::solid::{Group, Solid, about, corners, half, less, middle, plus};
use crate::document::Line;
use crate::parts::{Bounds, Hand, JointKind, Part, Role};
use crate::quantity::Length;

/// The part of a path; `None` where its place is out of range.
pub(super) fn picture(subject: Subject<'_>, picked: &Picked, part: &Part) -> Option<Picture> {
    let groups = picked.groups(subject);
    let group = groups.first()?;
    let bounds = subject.graph.bounds(part)?;
    let solid = Solid { part, bounds };
    let mut picture = Picture::new("side", &part.path, format!("{}: {}", part.path, part.role.word()));
    picture.panes.push(pane(subject, group, &solid));
    let cut = part.cut();
    let sizes =
        [part.size.thickness.value, cut.width.value, cut.length.value].map(|size| subject.figure(size));
    picture.notes.push(format!("It is cut {}, thickness x width x length.", sizes.join(" x ")));
    if subject.graph.cups_of(part.id).next().is_some() {
        picture.notes.push("Seen from the front; the holes for its hinges are in its rear face.".to_owned());
    }
    picture.notes.extend(
        part.blank.map(|_| "It is fitted in the room: what is dashed is cut in the shop.".to_owned()),
    );
    Some(picture)
}

/// The axes of the room along which a part is drawn, to the right and up, with what they count from: what stands across is seen from the
/// left, what lies is seen from above with its front edge near, all else from the front.
fn axes(role: Role) -> ([usize; 2], [&'static str; 2]) {
    match role {
        Role::Side(_) | Role::Divider => ([1, 2], ["the rear edge", "the lower end"]),
        Role::Shelf | Role::Top | Role::Loose | Role::Counter | Role::CeilingPanel | Role::DrawerBottom => {
            ([0, 1], ["the left end", "the front edge"])
        }
        Role::Rib | Role::DrawerSide(_) => ([1, 2], ["the rear end", "the lower edge"]),
        Role::Cleat
        | Role::Stretcher(..)
        | Role::BaseRail(_)
        | Role::LooseStrip
        | Role::DrawerFront
        | Role::DrawerEnd(_)
        | Role::Strip
        | Role::TopRail
        | Role::BottomRail => ([0, 2], ["the left end", "the lower edge"]),
        Role::Stile | Role::Back | Role::Filler | Role::Door => ([0, 2], ["the left edge", "the lower end"]),
    }
}

fn of(bounds: &Bounds, axis: usize) -> [Length; 2] {
    bounds.get(axis).copied().unwrap_or_default()
}

fn pane(subject: Subject<'_>, group: &Group<'_>, solid: &Solid<'_>) -> Pane {
    let (marks, part) = (subject.marks(), solid.part);
    let ([right, up], [right_of, over]) = axes(part.role);
    let mut pane = Pane::new("", right_of, over);
    let [across, along] = [of(&solid.bounds, right), of(&solid.bounds, up)];
    let size = [less(across[1], across[0]), less(along[1], along[0])];
    let whole: Extent = [[Length::ZERO, size[0]], [Length::ZERO, size[1]]];
    let outline = match part.role {
        Role::Stile | Role::Filler | Role::BottomRail => {
            let moved = |[x, z]: [Length; 2]| [less(x, across[0]), less(z, along[0])];
            solid.front_outline(group).into_iter().map(moved).collect()
        }
        // Seen from the left, its rear edge at the left.
        Role::Divider => subject.graph.outline(part).unwrap_or_else(|| corners(whole)),
        _ => corners(whole),
    };
    // What is cut in the shop, where it is fitted in the room.
    if part.blank.is_some() {
        let (cut, upright) = (part.cut(), part.role == Role::Stile || part.role == Role::Filler);
        let (wide, high) =
            if upright { (cut.width.value, cut.length.value) } else { (cut.length.value, cut.width.value) };
        let hand = solid.scribed_edge(group).map(|(hand, _)| hand);
        let left = if hand == Some(Hand::Left) { less(size[0], wide) } else { Length::ZERO };
        let blank = [[left, plus(left, wide)], [less(size[1], high), size[1]]];
        pane.shape(&part.path, "blank", Form::rect(blank), Line::Hidden, Filled::Open);
    }
    pane.shape(&part.path, part.role.word(), Form::Outline(outline), Line::Outline, Filled::Closed);
    let mut lines: Vec<(Length, String)> = Vec::new();
    for joint in subject.graph.joints_in(part.id) {
        let (Some(guest), Some(guest_at)) = (
            subject.graph.part(joint.guest),
            subject.graph.part(joint.guest).and_then(|part| subject.graph.bounds(part)),
        ) else {
            continue;
        };
        let at = joint.at.value;
        let named = guest.name.to_string();
        match joint.kind {
            JointKind::Dado { width, .. } => {
                // Along the grain of the host, which runs to the right or up.
                let flat = matches!(part.role, Role::Shelf | Role::Top);
                let ends = [at, plus(at, width.value)];
                let room = if flat { [ends, whole[1]] } else { [whole[0], ends] };
                let beyond = match flat {
                    true => of(&guest_at, 2)[0] < of(&solid.bounds, 2)[0],
                    false => of(&guest_at, 0)[0] > of(&solid.bounds, 0)[0],
                };
                let line = if beyond { Line::Hidden } else { Line::Outline };
                pane.shape(&guest.path, "groove", Form::rect(room), line, Filled::Open);
                let face = match (flat, beyond) {
                    (true, true) => "underside",
                    (true, false) => "upper face",
                    (false, true) => "right face",
                    (false, false) => "left face",
                };
                lines.push((at, format!("{named}, {face}")));
            }
            JointKind::Mortise { depth } => {
                let ends = [at, plus(at, guest.size.width.value)];
                let at_left = of(&guest_at, 0)[0] < across[0];
                let from =
                    if at_left { [Length::ZERO, depth.value] } else { [less(size[0], depth.value), size[0]] };
                pane.shape(&guest.path, "mortise", Form::rect([from, ends]), Line::Hidden, Filled::Open);
                lines.push((at, named));
            }
            JointKind::Rabbet { .. } | JointKind::Groove { .. } | JointKind::Butt => {}
        }
    }
    for (name, cut) in cut_round(subject, group, part) {
        let along_cut = [cut.along[0], plus(cut.along[0], cut.along[1])];
        let across_cut = [cut.across[0], plus(cut.across[0], cut.across[1])];
        let flat = right == 0 && !matches!(part.role, Role::Back);
        // What lies is drawn with its rear edge at the top.
        let from_front = across_cut.map(|from_rear| less(size[1], from_rear));
        let across_cut = if up == 1 { [from_front[1], from_front[0]] } else { across_cut };
        let room = if flat { [along_cut, across_cut] } else { [across_cut, along_cut] };
        pane.shape(&name, "cut-out", Form::rect(room), Line::Outline, Filled::Open);
        let says = format!("{} for {}", cut.shape.word(), super::room::last(&name));
        pane.point([middle(room[0]), middle(room[1])], vec![says]);
    }
    let mut cups: Vec<Spot> = Vec::new();
    for hole in subject.graph.holes_in(part.id) {
        let Some((axes, _)) = part.measured_from() else { continue };
        let at = |axis: usize| {
            let place = axes.iter().position(|own| *own == axis);
            place.and_then(|place| hole.at.get(place)).map_or(Length::ZERO, |at| at.value)
        };
        let (centre, path) = ([at(right), at(up)], format!("{}.hole.{}", part.path, hole.name));
        let round = |wide| Form::Circle { centre, wide };
        // A cup lies on the face that is not seen.
        let line = if hole.depth.is_some() { Line::Hidden } else { Line::Outline };
        pane.shape(&path, "hole", round(hole.diameter.value), line, Filled::Open);
        if let Some(grommet) = hole.grommet {
            pane.shape(&path, "flange of the grommet", round(grommet.value), Line::Light, Filled::Open);
        }
        pane.point(
            centre,
            vec![hole.name.to_string(), format!("dia. {}", subject.figure(hole.diameter.value))],
        );
        if hole.depth.is_some() {
            cups.push(centre);
            continue;
        }
        let ends = |axis: usize, whole: [Length; 2]| vec![whole[0], at(axis), whole[1]];
        pane.chain(Measured::between(
            "to the middle of a hole",
            Edge::Above,
            ends(right, whole[0]),
            &[],
            marks,
        ));
        pane.chain(Measured::between("to the middle of a hole", Edge::Left, ends(up, whole[1]), &[], marks));
    }
    // The cups of a door lie in one line, which is measured once.
    if let Some([x, _]) = cups.first() {
        let ends = vec![whole[0][0], *x, whole[0][1]];
        pane.chain(Measured::between("to the middle of a hole", Edge::Above, ends, &[], marks));
        let named = cups.iter().map(|[_, up]| (*up, String::new())).collect();
        let what = "middles of holes from the lower end";
        pane.chain(Measured::running(what, Edge::Left, Length::ZERO, named, marks));
    }
    if let Some((hand, edge)) = solid.scribed_edge(group) {
        let named: Vec<(Length, String)> = edge
            .iter()
            .map(|(height, width)| (less(*height, along[0]), format!("{} wide", subject.figure(*width))))
            .collect();
        let side = if hand == Hand::Left { Edge::Left } else { Edge::Right };
        pane.chain(Measured::running("widths at heights", side, Length::ZERO, named, marks));
    }
    let flat = matches!(part.role, Role::Shelf | Role::Top);
    let side = if flat { Edge::Above } else { Edge::Left };
    if !lines.is_empty() {
        pane.chain(Measured::running("what is cut in", side, Length::ZERO, lines, marks));
    }
    pane.chain(Measured::between(right_of, Edge::Below, whole[0].to_vec(), &[], marks));
    pane.chain(Measured::between(over, Edge::Right, whole[1].to_vec(), &[], marks));
    if flat {
        let strip = about(subject, (3, 1), 80).min(half(size[1]));
        pane.say([whole[0], [Length::ZERO, strip]], "front edge");
    }
    pane
}
