//! Rows of nails and screws, from the joints that they hold.

use super::Lowering;
use super::run::Stand;
use crate::eval::{Carcass, Fixing, Join, Len};
use crate::parts::{JointKind, Part, Role, Row, RowKind, RunPart, Spacing, Unit, UnitId, in_a_row};
use std::collections::BTreeMap;

/// The source of ends and pitches that nobody states.
const LAYOUT: &str = "common practice, no source: nail layout";

/// A row before it is counted.
struct Planned {
    kind: RowKind,
    guest: String,
    host: String,
    length: Len,
}

impl Lowering<'_> {
    fn usual_length(
        &mut self,
        label: &'static str,
        inches: (i128, i128),
        mm: i128,
        source: &'static str,
    ) -> Len {
        let value = self.marks().system().length(inches, (mm, 1));
        self.graph.ledger.usual(label, value, source)
    }

    fn row(&mut self, planned: Planned, join: Join, close: bool) {
        let Planned { kind, guest, host, length } = planned;
        let ends = match join.ends {
            Some(ends) => ends,
            None => self.usual_length("from the ends", (3, 2), 40, LAYOUT),
        };
        let pitch = match (join.pitch, close) {
            (Some(pitch), _) => pitch,
            (None, true) => self.usual_length("pitch in a joint", (9, 2), 115, LAYOUT),
            (None, false) => self.usual_length("pitch along an edge", (8, 1), 200, LAYOUT),
        };
        let count = in_a_row(length.value, ends.value, pitch.value);
        let spacing = Spacing::Pitch { ends, pitch };
        self.graph.rows.push(Row { kind, guest, host, length, fastener: join.fastener, spacing, count });
    }

    /// A row between two parts: `close` together in an end, else along an edge.
    pub(super) fn row_between(
        &mut self,
        (kind, guest, host): (RowKind, String, String),
        length: Len,
        join: Join,
        close: bool,
    ) {
        self.row(Planned { kind, guest, host, length }, join, close);
    }

    /// The rows inside one carcass.
    pub(super) fn carcass_rows(&mut self, carcass: &Carcass, unit: UnitId) {
        let joints: Vec<_> = self
            .graph
            .joints
            .iter()
            .filter_map(|joint| {
                let (guest, host) = (self.graph.part(joint.guest)?, self.graph.part(joint.host)?);
                (guest.unit == Some(unit))
                    .then(|| (guest.clone(), (host.path.clone(), host.role), joint.kind))
            })
            .collect();
        for (guest, (host, host_role), kind) in joints {
            if guest.role == Role::Back {
                // A back in grooves is held by them.
                if !matches!(kind, JointKind::Groove { .. }) {
                    let planned =
                        Planned { kind: RowKind::Back, guest: guest.path, host, length: guest.size.length };
                    let join = self.join_at(
                        (&planned.guest, "back"),
                        (&planned.host, host_role.word()),
                        carcass.joins.back_to_side,
                    );
                    self.row(planned, join, false);
                }
                continue;
            }
            let (row, length, join) = match (kind, guest.role) {
                (JointKind::Dado { .. }, Role::Divider) => {
                    (RowKind::DividerEnd, guest.size.width, carcass.joins.divider_to_shelf)
                }
                (JointKind::Dado { .. }, _) if host_role == Role::Divider => {
                    (RowKind::ShelfEnd, guest.size.width, carcass.joins.shelf_to_divider)
                }
                (JointKind::Dado { .. }, _) => {
                    (RowKind::ShelfEnd, guest.size.width, carcass.joins.shelf_to_side)
                }
                (JointKind::Rabbet { .. } | JointKind::Groove { .. }, _) => {
                    (RowKind::ShelfEnd, guest.size.width, carcass.joins.top_to_side)
                }
                (JointKind::Butt, Role::Rib) => {
                    (RowKind::RibEnd, guest.size.width, carcass.joins.rib_to_rail)
                }
                (JointKind::Butt, Role::Cleat) => {
                    (RowKind::CleatEnd, guest.size.width, carcass.joins.cleat_to_side)
                }
                (JointKind::Butt | JointKind::Mortise { .. }, _) => {
                    (RowKind::StretcherEnd, guest.size.width, carcass.joins.stretcher_to_side)
                }
            };
            let join = self.join_at((&guest.path, guest.role.word()), (&host, host_role.word()), join);
            self.row(Planned { kind: row, guest: guest.path, host, length }, join, true);
        }
        if let Some(unit) = self.graph.unit(unit).cloned() {
            self.base_rows(carcass, &unit);
            self.counter_rows(carcass, &unit);
        }
        for (cleat, shelf) in std::mem::take(&mut self.cleats) {
            let (Some(cleat), Some(shelf)) = (self.graph.part(cleat), self.graph.part(shelf)) else {
                continue;
            };
            let (guest, length, host) = (cleat.path.clone(), cleat.size.length, shelf.path.clone());
            let usual = carcass.joins.cleat_to_shelf;
            let join = self.join_at((&guest, "cleat"), (&host, shelf.role.word()), usual);
            let planned = Planned { kind: RowKind::AlongCleat, guest, host, length };
            self.row(planned, join, false);
        }
    }

    /// The rows of a run: facing, seams, wall.
    pub(super) fn run_rows(&mut self, stand: &Stand<'_>, run: &RunPart) {
        let facing = stand.run.facing_join;
        let prefix = format!("{}.", run.path);
        let parts: Vec<Part> = self
            .graph
            .parts
            .iter()
            .filter(|part| part.role.is_facing() && part.path.starts_with(&prefix))
            .cloned()
            .collect();
        let units: Vec<(UnitId, Unit)> =
            run.units.iter().filter_map(|id| self.graph.unit(*id).map(|unit| (*id, unit.clone()))).collect();
        let last = units.len();
        let seams: BTreeMap<String, Vec<(usize, &str)>> =
            std::mem::take(&mut self.stiles).into_iter().collect();
        for part in parts {
            let kind = match part.role {
                Role::Strip => RowKind::Strip,
                Role::Stile => RowKind::Stile,
                Role::Filler => RowKind::Filler,
                _ => RowKind::Rail,
            };
            // One row into each side that a stile covers, as long as the unit is high.
            let hosts: Vec<(String, Len)> = match (kind, part.path.rsplit('.').next()) {
                (RowKind::Stile, _) if seams.contains_key(&part.path) => {
                    let hosts = seams.get(&part.path).into_iter().flatten();
                    hosts.filter_map(|(index, hand)| side(&units, *index, hand)).collect()
                }
                (RowKind::Filler | RowKind::Stile, Some("left")) => {
                    side(&units, 0, "left").into_iter().collect()
                }
                (RowKind::Filler | RowKind::Stile, Some("right")) => {
                    side(&units, last.wrapping_sub(1), "right").into_iter().collect()
                }
                (RowKind::Stile, _) if part.unit.is_some() => {
                    vec![(part.path.replace(".stile.", ".divider."), part.size.length)]
                }
                _ => vec![(part.path.replace(".strip.", ".shelf."), part.size.length)],
            };
            for (host, length) in hosts {
                self.row(Planned { kind, guest: part.path.clone(), host, length }, facing, false);
            }
        }
        for ((_, left), (_, right)) in units.iter().zip(units.iter().skip(1)) {
            // Common practice, no source: two screws at each of four heights.
            let (heights, each) = (4, 2);
            self.graph.rows.push(Row {
                kind: RowKind::Seam,
                guest: left.path.clone(),
                host: right.path.clone(),
                length: left.height,
                fastener: stand.run.seam_join.fastener,
                spacing: Spacing::Heights { heights, each },
                count: heights * each,
            });
        }
        for ((id, unit), carcass) in units.iter().zip(&stand.run.units) {
            self.wall_rows(stand, (*id, unit), carcass);
        }
    }

    /// A row of screws through each cleat and each rear stretcher: one in each stud that can be reached, or in plugs.
    fn wall_rows(&mut self, stand: &Stand<'_>, (id, unit): (UnitId, &Unit), carcass: &Carcass) {
        let Some(wall) = stand.wall else { return };
        let held: Vec<Part> = self
            .graph
            .parts_of(id)
            .filter(|part| {
                part.role == Role::Cleat || matches!(part.role, Role::Stretcher(_, crate::parts::Face::Rear))
            })
            .cloned()
            .collect();
        let studs = self.reachable_studs(wall.studs.as_slice(), unit);
        for part in held {
            let planned = Planned {
                kind: RowKind::Wall,
                guest: part.path,
                host: wall.name.to_string(),
                length: part.size.length,
            };
            if wall.fixing == Fixing::Masonry {
                self.row(planned, carcass.joins.cleat_to_wall, false);
            } else {
                let Planned { kind, guest, host, length } = planned;
                let (fastener, count) = (carcass.joins.cleat_to_wall.fastener, studs.len());
                let spacing = Spacing::Studs(studs.clone());
                self.graph.rows.push(Row { kind, guest, host, length, fastener, spacing, count });
            }
        }
        if let Some(unit) = self.graph.units.get_mut(id.0 as usize) {
            unit.studs = studs;
        }
    }

    /// The studs that a driver reaches between the sides of a unit: at least 3/4 in (20 mm) off their inner faces.
    fn reachable_studs(&mut self, studs: &[Len], unit: &Unit) -> Vec<Len> {
        let Some((x, thickness)) = unit.x.zip(self.graph.sheet(unit.sheet).map(|sheet| sheet.thickness))
        else {
            return Vec::new();
        };
        let room = self.usual_length("driver room", (3, 4), 20, "common practice, no source: driver room");
        let ledger = &mut self.graph.ledger;
        let rule = "a driver needs room beside the side";
        let from = ledger.sum("first place for a screw", &[(1, x), (1, thickness), (1, room)], rule);
        let to = [(1, x), (1, unit.width), (-1, thickness), (-1, room)];
        let to = ledger.sum("last place for a screw", &to, rule);
        if let Some(unit) = self.graph.units.iter_mut().find(|other| other.path == unit.path) {
            unit.screw_window = Some([from, to]);
        }
        studs.iter().filter(|stud| from.value <= stud.value && stud.value <= to.value).copied().collect()
    }
}

/// A side of a unit: its path, and how long a row along it is.
fn side(units: &[(UnitId, Unit)], index: usize, hand: &str) -> Option<(String, Len)> {
    units.get(index).map(|(_, unit)| (format!("{}.side.{hand}", unit.path), unit.height))
}
