//! What follows from a project, line by line: for tools that compare texts.

use super::Side;
use crate::parts::{Hand, JointKind, Role};
use std::collections::BTreeMap;
use std::fmt::Write;

/// Parts by size, marks by side, openings, hardware and dates: a line each, so that a changed line is a changed fact.
#[must_use]
pub fn following(side: Side<'_>) -> String {
    let marks = side.model.project.marks;
    let mut out = String::from("\nwhat follows from it\n\n");
    let mut parts: BTreeMap<(String, &str, String), usize> = BTreeMap::new();
    for part in &side.graph.parts {
        let cut = part.cut();
        let [width, length] = [cut.width, cut.length].map(|len| marks.print(len.value));
        let key = (side.graph.stock_name(part.stock), part.role.word(), format!("{width} x {length}"));
        *parts.entry(key).or_default() += 1;
    }
    // Writing into a String cannot fail.
    for ((stock, role, size), count) in parts {
        let _ = writeln!(out, "{stock}: {count} {role}, {size}");
    }
    for unit in &side.graph.units {
        let [width, clear] = [unit.width, unit.clear].map(|len| marks.print(len.value));
        let _ = writeln!(out, "{}: {width} wide, {clear} clear", unit.path);
    }
    for joint in side.graph.joints.iter().filter(|joint| !matches!(joint.kind, JointKind::Butt)) {
        let (Some(guest), Some(host)) = (side.graph.part(joint.guest), side.graph.part(joint.host)) else {
            continue;
        };
        // Both sides carry the same marks.
        if host.role == Role::Side(Hand::Left) {
            let _ = writeln!(out, "{}: mark {}", guest.path, marks.print(joint.at.value));
        }
    }
    for opening in &side.graph.openings {
        let [behind, front] = [opening.clear_height, opening.opening_front].map(|len| marks.print(len.value));
        let _ = writeln!(out, "{}: opening {behind} behind, {front} at the front", opening.path);
    }
    // Hardware by its name, as rows of joints count it.
    let mut hardware: BTreeMap<&str, usize> = BTreeMap::new();
    for row in &side.graph.rows {
        if let Some(fastener) = row.fastener.and_then(|index| side.graph.fasteners.get(index)) {
            *hardware.entry(&fastener.name).or_default() += row.count;
        }
    }
    for (name, count) in hardware {
        let _ = writeln!(out, "{name}: {count}");
    }
    out
}
