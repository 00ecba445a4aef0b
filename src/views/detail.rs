//! Details in their true size, drawn from the joints' own numbers: a groove with the sheet in it, the stile over a seam, strip and
//! shelf, the scribe at a wall, the crown over its rail. Of those that are alike one is drawn.

use super::pick::Picked;
use super::picture::{Edge, Extent, Filled, Form, Measured, Pane, Picture, Spot};
use super::solid::{Group, Solid, about, corners, estimated, less, plus};
use super::{Subject, ViewSpec};
use crate::document::Line;
use crate::eval::ReadingAt;
use crate::eval::Return;
use crate::parts::{Hand, Joint, JointKind, Part, PartId, Role, RunPart};
use crate::quantity::Length;

/// The view.
pub(super) const VIEW: ViewSpec = ViewSpec {
    name: "detail",
    about: "details in true size: grooves with what stands in them, stiles over seams and at walls, strips, cleats, crown",
    of: "a run, a unit, or a part with its joints",
    make,
};

/// A detail, and what it says by which it is like another.
struct Detail {
    pane: Pane,
    like: String,
}

fn make(subject: Subject<'_>, picked: &Picked) -> Vec<Picture> {
    let mut found: Vec<(Detail, usize)> = Vec::new();
    let mut add = |detail: Option<Detail>| {
        let Some(detail) = detail else { return };
        match found.iter_mut().find(|(known, _)| known.like == detail.like) {
            Some((_, count)) => *count += 1,
            None => found.push((detail, 1)),
        }
    };
    for group in picked.groups(subject) {
        let wanted = |part: &Part| {
            picked.part.is_none_or(|picked| picked == part.id)
                && picked.unit.is_none_or(|unit| part.unit.is_none_or(|own| own == unit))
        };
        let solids = group.solids(subject);
        let of_group = |id: PartId| solids.iter().find(|solid| solid.part.id == id);
        let mut own: Vec<&Solid<'_>> = solids.iter().collect();
        own.sort_by_key(|solid| solid.part.id);
        for solid in own {
            for joint in subject.graph.joints_of(solid.part.id) {
                let Some(host) = of_group(joint.host) else { continue };
                if wanted(solid.part) || (picked.part.is_some() && wanted(host.part)) {
                    add(housed(subject, joint, solid, host));
                }
            }
            if wanted(solid.part) {
                add(fixed(subject, &group, &solids, solid));
            }
        }
        if let (Some((_, run)), None) = (group.run, picked.part) {
            add(crown(subject, &group, run, &solids));
        }
    }
    if found.is_empty() {
        return Vec::new();
    }
    let of = match (picked.part, picked.unit, picked.run) {
        (Some(id), ..) => subject.graph.part(id).map(|part| part.path.clone()),
        (None, Some(id), _) => subject.graph.unit(id).map(|unit| unit.path.clone()),
        (None, None, Some(id)) => subject.graph.run(id).map(|run| run.path.clone()),
        (None, None, None) => None,
    };
    let title = of.as_ref().map_or_else(|| "details".to_owned(), |of| format!("{of}: details"));
    let mut picture = Picture::new(VIEW.name, of.as_deref().unwrap_or("all"), title);
    picture.true_size = true;
    picture.legend.push((Line::Cut, "cut"));
    picture.legend.push((Line::Light, "goes on, or seen"));
    if found.iter().any(|(detail, _)| detail.pane.shapes.iter().any(|shape| shape.line == Line::Hidden)) {
        picture.legend.push((Line::Hidden, "blank, or not seen"));
    }
    picture.panes.extend(found.into_iter().map(|(mut detail, count)| {
        if count > 1 {
            detail.pane.name = format!("{}, {count} alike", detail.pane.name);
        }
        detail.pane
    }));
    vec![picture]
}

/// How far parts are drawn on both sides of what matters.
fn around(subject: Subject<'_>) -> Length {
    about(subject, (5, 4), 30)
}

/// A part that is cut, as a shape whose outline goes on beyond the drawing: lightly all around, heavily along its own edges.
fn piece(pane: &mut Pane, part: &Part, outline: Vec<Spot>, fill: Filled, edges: &[&[Spot]]) {
    pane.shape(&part.path, part.role.word(), Form::Outline(outline), Line::Light, fill);
    for edge in edges {
        pane.line(&part.path, "edge", Line::Cut, edge.to_vec());
    }
}

/// What is housed in what, from the front: places from the outer face of the host and from its line.
fn housed(subject: Subject<'_>, joint: &Joint, guest: &Solid<'_>, host: &Solid<'_>) -> Option<Detail> {
    let marks = subject.marks();
    let on = around(subject);
    let thick = host.part.size.thickness.value;
    let sheet = guest.part.size.thickness.value;
    let both = |length: Length| marks.print_both(length);
    let (depth, width, open, name) = match joint.kind {
        JointKind::Dado { depth, width, .. } => (depth.value, width.value, false, "groove"),
        JointKind::Rabbet { depth } => (depth.value, sheet, true, "rabbet"),
        JointKind::Groove { depth, width, .. } => (depth.value, width.value, false, "groove along"),
        JointKind::Mortise { depth } => return mortise(subject, depth.value, guest, host),
        JointKind::Butt => return None,
    };
    let web = less(thick, depth);
    // Along the host: from where the groove begins, which for a back is its rear edge.
    let (from, start) = match joint.kind {
        JointKind::Groove { set_in, .. } => (set_in.value, Length::ZERO),
        _ if guest.part.role == Role::Back => (Length::ZERO, Length::ZERO),
        _ => (joint.at.value, less(joint.at.value, on)),
    };
    let to = plus(from, width);
    let back = guest.part.role == Role::Back;
    // A rabbet is open at the end of its host, which for a back is the rear.
    let end = if open && !back { to } else { plus(to, on) };
    let begin = if back { Length::ZERO } else { start };
    let mut profile = vec![[thick, begin]];
    if !(open && back) {
        profile.push([thick, from]);
    }
    let profile: Vec<Spot> = if open && back {
        vec![[web, from], [web, to], [thick, to], [thick, end]]
    } else if open {
        vec![[thick, begin], [thick, from], [web, from], [web, to]]
    } else {
        vec![[thick, begin], [thick, from], [web, from], [web, to], [thick, to], [thick, end]]
    };
    let outer = [[Length::ZERO, end], [Length::ZERO, begin]];
    let outline: Vec<Spot> = profile.iter().copied().chain(outer).collect();
    let turned = matches!(host.part.role, Role::Shelf | Role::Top);
    let (right_of, over) = match (back, turned) {
        (true, _) => ("the outer face of the side", "the rear edge"),
        (false, true) => ("the far face of the host", "the left end of the host"),
        (false, false) => ("the far face of the host", "the bottom end of the host"),
    };
    let whose = format!("{name}: `{}` in `{}`", guest.part.name, host.part.name);
    let mut pane = Pane::new(whose, right_of, over);
    let fill = |solid: &Solid<'_>, thin_to_the_right: bool| match solid.cut(solid.thin()) {
        Filled::LayersUp if !thin_to_the_right => Filled::LayersAcross,
        fill => fill,
    };
    let faces: [&[Spot]; 2] = [&profile, &outer];
    piece(&mut pane, host.part, outline, fill(host, true), &faces);
    let tail = plus(thick, on);
    let top = plus(from, sheet);
    let body = corners([[web, tail], [from, top]]);
    let edge = [[tail, from], [web, from], [web, top], [tail, top]];
    piece(&mut pane, guest.part, body, fill(guest, false), &[&edge]);
    pane.chain(Measured::between(
        "depth and what is left",
        Edge::Below,
        vec![Length::ZERO, web, thick],
        &[],
        marks,
    ));
    let line = if back { "from the rear edge" } else { "line from the end of the host" };
    let mut places = vec![from, to];
    if back {
        places.push(Length::ZERO);
    }
    pane.chain(Measured::between(line, Edge::Left, places, &[], marks));
    let heights = vec![from, top];
    pane.chain(Measured::between("thickness of what stands in it", Edge::Right, heights, &[], marks));
    let line = if back { String::new() } else { format!(" Its line is at {}.", both(from)) };
    let says = format!("{} deep, {} wide, for {}.{line}", both(depth), both(width), both(sheet));
    let like = format!("{name} {} {} {} {} {back} {turned}", depth.mm(), width.mm(), thick.mm(), sheet.mm());
    pane.notes.push(says);
    Some(Detail { pane, like })
}

/// A tenon in a stile, from the front.
fn mortise(subject: Subject<'_>, depth: Length, guest: &Solid<'_>, host: &Solid<'_>) -> Option<Detail> {
    let (marks, on) = (subject.marks(), around(subject));
    let wide = guest.part.size.width.value;
    let stile = host.part.size.width.value;
    if host.part.role != Role::Stile {
        return None;
    }
    let mut pane = Pane::new(
        format!("tenon: `{}` in `{}`", guest.part.name, host.part.name),
        "the far edge of the stile",
        "the lower edge of the rail",
    );
    let [low, high] = [less(Length::ZERO, on), plus(wide, on)];
    let edges: [&[Spot]; 2] = [&[[Length::ZERO, low], [Length::ZERO, high]], &[[stile, low], [stile, high]]];
    piece(&mut pane, host.part, corners([[Length::ZERO, stile], [low, high]]), Filled::Closed, &edges);
    let tail = plus(stile, on);
    let edge = [[tail, Length::ZERO], [stile, Length::ZERO], [stile, wide], [tail, wide]];
    piece(&mut pane, guest.part, corners([[stile, tail], [Length::ZERO, wide]]), Filled::Closed, &[&edge]);
    let tenon = [[less(stile, depth), stile], [Length::ZERO, wide]];
    pane.shape(&guest.part.path, "tenon", Form::rect(tenon), Line::Hidden, Filled::Open);
    let places = vec![Length::ZERO, less(stile, depth), stile];
    pane.chain(Measured::between("tenon in the stile", Edge::Below, places, &[], marks));
    pane.chain(Measured::between("width of the rail", Edge::Right, vec![Length::ZERO, wide], &[], marks));
    // However wide rails and stiles are, all are cut alike.
    let like = format!("tenon {} {}", depth.mm(), guest.part.size.thickness.value.mm());
    Some(Detail { pane, like })
}

/// What is fixed to something: a stile over its sides, a strip before its shelf, a cleat under it.
fn fixed(subject: Subject<'_>, group: &Group<'_>, solids: &[Solid<'_>], solid: &Solid<'_>) -> Option<Detail> {
    match solid.part.role {
        Role::Stile => stile(subject, group, solids, solid),
        Role::Strip | Role::LooseStrip => strip(subject, solids, solid),
        Role::Cleat => cleat(subject, solids, solid),
        Role::Side(_)
        | Role::Shelf
        | Role::Stretcher(..)
        | Role::Top
        | Role::Divider
        | Role::Loose
        | Role::Back
        | Role::Counter
        | Role::Door
        | Role::DrawerFront
        | Role::DrawerSide(_)
        | Role::DrawerEnd(_)
        | Role::DrawerBottom
        | Role::BaseRail(_)
        | Role::Rib
        | Role::Filler
        | Role::TopRail
        | Role::BottomRail
        | Role::CeilingPanel => None,
    }
}

fn behind<'a>(solids: &'a [Solid<'a>], solid: &Solid<'_>) -> Vec<&'a Solid<'a>> {
    let mut hosts: Vec<&Solid<'_>> =
        solids.iter().filter(|other| solid.part.backing.contains(&other.part.id)).collect();
    hosts.sort_by_key(|host| host.bounds[0][0]);
    hosts
}

/// A stile over the front edges of what stands behind it, from above; at a wall with the wall at each reading, and its blank.
fn stile(subject: Subject<'_>, group: &Group<'_>, solids: &[Solid<'_>], solid: &Solid<'_>) -> Option<Detail> {
    let (marks, on) = (subject.marks(), around(subject));
    let hosts = behind(solids, solid);
    let front = hosts.first()?.bounds[1][1];
    let down = |y: Length| less(front, y);
    let [across, [rear, face], _] = solid.bounds;
    let names: Vec<&str> = solid.part.path.rsplit("stile.").take(1).collect();
    let mut pane = Pane::new(
        format!("stile `{}`", names.concat()),
        "the left corner of the wall",
        "the front edges; away from the wall counts down",
    );
    let scribed = solid.scribed_edge(group);
    let mut reach = across;
    let end = match &scribed {
        Some((hand, _)) => {
            let (_, run) = group.run?;
            let end = run.ends.get(usize::from(*hand == Hand::Right))?;
            let face = hosts
                .first()
                .map(|host| if *hand == Hand::Left { host.bounds[0][0] } else { host.bounds[0][1] })?;
            let at = |gap: Length| if *hand == Hand::Left { less(face, gap) } else { plus(face, gap) };
            let inner = if *hand == Hand::Left { across[1] } else { across[0] };
            let outer =
                |width: Length| if *hand == Hand::Left { less(inner, width) } else { plus(inner, width) };
            let gaps: Vec<(Length, ReadingAt)> =
                end.readings.iter().filter_map(|gap| Some((at(gap.front?.value), gap.at))).collect();
            Some((gaps, outer(solid.part.cut().width.value)))
        }
        None => None,
    };
    for host in &hosts {
        let [x, ..] = host.bounds;
        let body = [x, [Length::ZERO, on]];
        let edge = [[x[0], on], [x[0], Length::ZERO], [x[1], Length::ZERO], [x[1], on]];
        let fill = if host.thin() == 0 { Filled::LayersUp } else { Filled::LayersAcross };
        piece(&mut pane, host.part, corners(body), fill, &[&edge]);
    }
    if let Some((gaps, blank)) = &end {
        let blank = [[across[0].min(*blank), across[1].max(*blank)], [down(face), down(rear)]];
        reach = blank[0];
        pane.shape(&solid.part.path, "blank", Form::rect(blank), Line::Hidden, Filled::Open);
        for (at, reading) in gaps {
            let path = vec![[*at, plus(on, on)], [*at, less(down(face), on)]];
            let line = if *reading == ReadingAt::Middle { Line::Cut } else { Line::Outline };
            pane.line(&solid.part.path, "wall", line, path);
        }
    }
    // At a wall it is drawn as wide as at the middle reading.
    let middle = end.as_ref().and_then(|(gaps, _)| {
        gaps.iter().find(|(_, reading)| *reading == ReadingAt::Middle).or(gaps.first()).map(|(at, _)| *at)
    });
    let drawn = match (&scribed, middle) {
        (Some((Hand::Left, _)), Some(at)) => [at, across[1]],
        (Some((Hand::Right, _)), Some(at)) => [across[0], at],
        _ => across,
    };
    let body = Form::rect([drawn, [down(face), down(rear)]]);
    pane.shape(&solid.part.path, "stile", body, Line::Cut, Filled::Wood);
    let edges = hosts.iter().flat_map(|host| host.bounds[0]);
    let mut places: Vec<Length> = edges.chain(drawn).collect();
    places.sort_unstable();
    pane.chain(Measured::between("laps and what is covered", Edge::Below, places, &[], marks));
    if scribed.is_some() {
        pane.chain(Measured::between("blank", Edge::Below, reach.to_vec(), &[], marks));
        let widths: Vec<String> = solid
            .part
            .scribed
            .iter()
            .map(|(at, width)| format!("{} {}", at.word(), subject.figure(width.value)))
            .collect();
        pane.notes
            .push(format!("Width {}; drawn at the middle, the wall at each reading.", widths.join(", ")));
    }
    let depths = vec![down(face), down(rear)];
    pane.chain(Measured::between("thickness of the facing", Edge::Right, depths, &[], marks));
    let offsets: Vec<String> =
        hosts.iter().flat_map(|host| host.bounds[0]).map(|at| less(at, across[0]).mm().to_string()).collect();
    let like = format!(
        "stile {} {} {} {}",
        offsets.join(" "),
        less(across[1], across[0]).mm(),
        less(face, rear).mm(),
        scribed.is_some()
    );
    Some(Detail { pane, like })
}

/// A strip before the edge of its shelf, seen from the right: its top flush with the shelf's, so that it hangs below.
fn strip(subject: Subject<'_>, solids: &[Solid<'_>], solid: &Solid<'_>) -> Option<Detail> {
    let (marks, on) = (subject.marks(), around(subject));
    let hosts = behind(solids, solid);
    let shelf = hosts.first()?;
    let [_, [rear, front], [low, high]] = solid.bounds;
    let [_, _, [under, top]] = shelf.bounds;
    let up = |z: Length| less(z, under);
    let from = less(rear, on);
    let mut pane = Pane::new(
        format!("{}: `{}` before its shelf", solid.part.role.word(), solid.part.name),
        "the wall",
        "the underside of the shelf",
    );
    let edge = [[from, up(under)], [rear, up(under)], [rear, up(top)], [from, up(top)]];
    piece(
        &mut pane,
        shelf.part,
        corners([[from, rear], [up(under), up(top)]]),
        Filled::LayersAcross,
        &[&edge],
    );
    let body = Form::rect([[rear, front], [up(low), up(high)]]);
    pane.shape(&solid.part.path, "strip", body, Line::Cut, Filled::Wood);
    let places = vec![up(low), up(under), up(high)];
    pane.chain(Measured::between("height, and what hangs", Edge::Left, places, &[], marks));
    pane.chain(Measured::between("height of the strip", Edge::Right, vec![up(low), up(high)], &[], marks));
    pane.chain(Measured::between("thickness", Edge::Below, vec![rear, front], &[], marks));
    let like = format!(
        "strip {} {} {} {}",
        less(high, low).mm(),
        less(front, rear).mm(),
        less(top, under).mm(),
        less(high, top).mm()
    );
    Some(Detail { pane, like })
}

/// A cleat under the rear edge of its shelf, with the wall behind it.
fn cleat(subject: Subject<'_>, solids: &[Solid<'_>], solid: &Solid<'_>) -> Option<Detail> {
    let (marks, on) = (subject.marks(), around(subject));
    let hosts = behind(solids, solid);
    let shelf = hosts.first()?;
    let [_, [rear, front], [low, _]] = solid.bounds;
    let [_, [from, _], [under, top]] = shelf.bounds;
    let up = |z: Length| less(z, under);
    let to = plus(front, on);
    let name = format!("cleat: `{}` under its shelf", solid.part.name);
    let mut pane = Pane::new(name, "the wall", "the underside of the shelf");
    let wall = solid.part.run.and_then(|run| subject.model.walls.get(subject.graph.run(run)?.wall?));
    if let Some(wall) = wall {
        let lining = wall.lining.map_or_else(|| about(subject, (1, 2), 12), |lining| lining.value);
        let lined: Extent =
            [[less(Length::ZERO, lining), Length::ZERO], [less(up(low), on), plus(up(top), on)]];
        pane.shape(&wall.name, "wall", Form::rect(lined), Line::Light, Filled::Wall);
        pane.line(&wall.name, "wall", Line::Cut, lined[1].map(|z| [Length::ZERO, z]).to_vec());
    }
    let edge = [[to, up(under)], [from, up(under)], [from, up(top)], [to, up(top)]];
    piece(&mut pane, shelf.part, corners([[from, to], [up(under), up(top)]]), Filled::LayersAcross, &[&edge]);
    let body = Form::rect([[rear, front], [up(low), up(under)]]);
    pane.shape(&solid.part.path, "cleat", body, Line::Cut, solid.cut(1));
    pane.chain(Measured::between(
        "height of the cleat",
        Edge::Right,
        vec![up(low), up(under), up(top)],
        &[],
        marks,
    ));
    pane.chain(Measured::between("thickness", Edge::Below, vec![rear, front], &[], marks));
    let sizes = [less(under, low), less(front, rear), less(top, under), rear];
    let like = format!("cleat {} {}", sizes.map(|size| size.mm().to_string()).join(" "), wall.is_some());
    Some(Detail { pane, like })
}

/// The crown over the top rail, where the gap to the ceiling is least and where it is greatest.
fn crown(subject: Subject<'_>, group: &Group<'_>, run: &RunPart, solids: &[Solid<'_>]) -> Option<Detail> {
    let (marks, on) = (subject.marks(), around(subject));
    let crown = run.crown.as_ref()?;
    let rail = solids.iter().find(|solid| solid.part.role == Role::TopRail)?;
    let [_, [rear, front], [_, end]] = rail.bounds;
    let (drop, out) = (estimated(crown.drop.value), estimated(crown.projection.value));
    let up = |z: Length| less(z, end);
    let path = format!("{}.crown", run.path);
    let mut pane = Pane::new("crown over the top rail".to_owned(), "the wall", "the ends of the sides");
    let gaps = crown.gap.map(|gaps| gaps.map(|gap| gap.value));
    let lap = about(subject, (3, 8), 10);
    let [least, greatest] = gaps.unwrap_or([less(drop, lap); 2]);
    let foot = less(least, drop);
    let low = foot.min(Length::ZERO);
    let low = less(low, on);
    let edge = [[rear, low], [rear, up(end)], [front, up(end)], [front, low]];
    piece(&mut pane, rail.part, corners([[rear, front], [low, up(end)]]), Filled::Wood, &[&edge]);
    let outline = super::section::moulding(subject, [front, least], [out, drop]);
    pane.shape(&path, "crown", Form::Outline(outline), Line::Cut, Filled::Wood);
    let far = plus(plus(front, out), about(subject, (1, 2), 12));
    pane.line(&path, "ceiling", Line::Cut, vec![[rear, least], [far, least]]);
    if greatest != least {
        pane.line(
            &path,
            "ceiling where it is highest",
            Line::Hidden,
            vec![[rear, greatest], [far, greatest]],
        );
    }
    let heights = vec![foot, Length::ZERO, least];
    pane.chain(Measured::between("lap on the rail, and the least gap", Edge::Left, heights, &[], marks));
    pane.chain(Measured::between("drop", Edge::Right, vec![foot, least], &[], marks));
    pane.chain(Measured::between(
        "facing and projection",
        Edge::Below,
        vec![rear, front, plus(front, out)],
        &[],
        marks,
    ));
    let laps = [less(drop, least), less(drop, greatest)].map(|lap| marks.print(lap).to_string());
    pane.notes
        .push(format!("Its lap on the rail runs from {} to {}, its gap with the ceiling.", laps[0], laps[1]));
    pane.notes.push("Its profile is that of the moulding; only drop and projection are drawn.".to_owned());
    let open = run.ends.iter().filter(|end| end.meets == Return::Open).count();
    let like = format!("crown {} {} {} {open}", drop.mm(), out.mm(), group.reach()[1].mm());
    Some(Detail { pane, like })
}
