//! Rows of nails and screws, from the joints that they hold.

use super::Lowering;
use super::around::{Around, pieces};
use super::run::Stand;
use crate::eval::{Blocking, Carcass, Fixing, Join, Len, Wall};
use crate::parts::{
    Bounds, HungPart, Joint, JointKind, Member, Part, PartId, Role, Row, RowKind, RunPart, Spacing, Unit,
    UnitId, in_a_row,
};
use crate::quantity::{Length, Rational};

/// The source of ends and pitches that nobody states.
const LAYOUT: &str = "common practice, no source: nail layout";

/// A row before it is counted.
struct Planned {
    kind: RowKind,
    guest: Member,
    host: Member,
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
        self.graph.rows.push(Row {
            kind,
            guest,
            host,
            length,
            fastener: join.fastener,
            glued: join.glue.is_some(),
            spacing,
            count,
        });
    }

    /// A row between two parts: `close` together in an end, else along an edge.
    pub(super) fn row_between(
        &mut self,
        (kind, guest, host): (RowKind, PartId, impl Into<Member>),
        length: Len,
        join: Join,
        close: bool,
    ) {
        self.row(Planned { kind, guest: guest.into(), host: host.into(), length }, join, close);
    }

    /// The rows inside one carcass, whose joints are those from `first` on.
    pub(super) fn carcass_rows(&mut self, carcass: &Carcass, unit: UnitId, first: usize) {
        let joints: Vec<Joint> = self.graph.joints.iter().skip(first).copied().collect();
        for joint in joints {
            let (Some(guest), Some(host)) = (self.graph.part(joint.guest), self.graph.part(joint.host))
            else {
                continue;
            };
            let (size, joins) = (guest.size, carcass.joins);
            let (kind, length, usual, close) = match (guest.role, joint.kind) {
                // A back in grooves is held by them.
                (Role::Back, JointKind::Groove { .. }) => continue,
                (Role::Back, _) => (RowKind::Back, size.length, joins.back_to_side, false),
                (Role::Divider, JointKind::Dado { .. }) => {
                    (RowKind::DividerEnd, size.width, joins.divider_to_shelf, true)
                }
                (_, JointKind::Dado { .. }) if host.role == Role::Divider => {
                    (RowKind::ShelfEnd, size.width, joins.shelf_to_divider, true)
                }
                (_, JointKind::Dado { .. }) => (RowKind::ShelfEnd, size.width, joins.shelf_to_side, true),
                (_, JointKind::Rabbet { .. } | JointKind::Groove { .. }) => {
                    (RowKind::ShelfEnd, size.width, joins.top_to_side, true)
                }
                (Role::Rib, JointKind::Butt) => (RowKind::RibEnd, size.width, joins.rib_to_rail, true),
                (Role::Cleat, JointKind::Butt) => (RowKind::CleatEnd, size.width, joins.cleat_to_side, true),
                (_, JointKind::Butt | JointKind::Mortise { .. }) => {
                    (RowKind::StretcherEnd, size.width, joins.stretcher_to_side, true)
                }
            };
            let join = self.join_at(joint.guest, joint.host, usual);
            self.row_between((kind, joint.guest, joint.host), length, join, close);
        }
        self.base_rows(carcass, unit);
        self.counter_rows(carcass, unit);
        let cleats = self.graph.parts_of(unit).filter(|part| part.role == Role::Cleat);
        let cleats: Vec<_> = cleats.map(|part| (part.id, part.size.length, part.backing.clone())).collect();
        for (cleat, length, shelves) in cleats {
            for shelf in shelves {
                let join = self.join_at(cleat, shelf, carcass.joins.cleat_to_shelf);
                self.row_between((RowKind::AlongCleat, cleat, shelf), length, join, false);
            }
        }
    }

    /// The rows of a run: facing, seams, wall.
    pub(super) fn run_rows(&mut self, stand: &Stand<'_>, run: &RunPart, around: &Around<'_>) {
        self.facing_rows(stand, run);
        let units: Vec<(UnitId, Unit)> =
            run.units.iter().filter_map(|id| self.graph.unit(*id).map(|unit| (*id, unit.clone()))).collect();
        for [one, other] in run.seams() {
            let [Some(left), Some(right)] = [one, other].map(|id| self.graph.unit(id).cloned()) else {
                continue;
            };
            // Common practice, no source: two screws at each of four heights.
            let (heights, each) = (4, 2);
            self.graph.rows.push(Row {
                kind: RowKind::Seam,
                guest: Member::Unit(one),
                host: Member::Unit(other),
                // A seam is as high as the lower of the two.
                length: if right.height.value < left.height.value { right.height } else { left.height },
                fastener: stand.run.seam_join.fastener,
                glued: stand.run.seam_join.glue.is_some(),
                spacing: Spacing::Heights { heights, each },
                count: heights * each,
            });
        }
        for ((id, unit), carcass) in units.iter().zip(&stand.run.units) {
            self.wall_rows(stand, (*id, unit), carcass, around);
        }
        for (hung, carcass) in run.hung.iter().zip(&stand.run.hung) {
            let Some(unit) = self.graph.unit(hung.unit).cloned() else { continue };
            self.hung_seams(stand, hung, &unit);
            self.wall_rows(stand, (hung.unit, &unit), carcass, around);
        }
    }

    /// What hangs between two units is screwed through its sides into theirs, where the run states how units are held to each other.
    fn hung_seams(&mut self, stand: &Stand<'_>, hung: &HungPart, unit: &Unit) {
        let join = stand.run.seam_join;
        let Some(fastener) = join.fastener else { return };
        let [left, right] = hung.beside;
        let pairs = [(left, Some(hung.unit)), (Some(hung.unit), right)];
        for (one, other) in pairs.into_iter().filter_map(|(one, other)| one.zip(other)) {
            // Common practice, no source: two screws near its top and two near its bottom.
            let (heights, each) = (2, 2);
            self.graph.rows.push(Row {
                kind: RowKind::Seam,
                guest: Member::Unit(one),
                host: Member::Unit(other),
                length: unit.height,
                fastener: Some(fastener),
                glued: join.glue.is_some(),
                spacing: Spacing::Heights { heights, each },
                count: heights * each,
            });
        }
    }

    /// A row from each piece of the facing into everything that it is fixed to.
    fn facing_rows(&mut self, stand: &Stand<'_>, run: &RunPart) {
        let facing: Vec<Part> = self.graph.facing_of(stand.id, run).cloned().collect();
        for part in facing {
            let Some(kind) = part.role.facing_row() else { continue };
            for host in &part.backing {
                let Some(behind) = self.graph.part(*host) else { continue };
                // A row into a side is as long as the unit is high.
                let beside = matches!(behind.role, Role::Side(_));
                let length = if beside { behind.size.length } else { part.size.length };
                self.row_between((kind, part.id, *host), length, stand.run.facing_join, false);
            }
        }
    }

    /// A row of screws through each cleat and each rear stretcher: one in each stud that can be reached, or in plugs.
    fn wall_rows(
        &mut self,
        stand: &Stand<'_>,
        (id, unit): (UnitId, &Unit),
        carcass: &Carcass,
        around: &Around<'_>,
    ) {
        let (Some(wall), Some(position)) = (stand.wall, stand.run.wall) else { return };
        let held = |part: &&Part| {
            part.role == Role::Cleat || matches!(part.role, Role::Stretcher(_, crate::parts::Face::Rear))
        };
        let held: Vec<Part> = self.graph.parts_of(id).filter(held).cloned().collect();
        let host = Member::Wall(position);
        for part in held {
            let length = part.size.length;
            let gaps = self.gaps_of(&part, around);
            if wall.fixing == Fixing::Masonry {
                self.pitched_row(&part, (host, length), carcass.joins.cleat_to_wall, None, &gaps);
                continue;
            }
            let (_, mut studs) = self.reachable_studs(&wall.studs, unit, [part.place.x, length]);
            studs.retain(|stud| !gaps.iter().any(|[from, to]| *from <= stud.value && stud.value <= *to));
            if let Some(wood) = self.wood_behind(&part, wall) {
                self.pitched_row(&part, (host, length), carcass.joins.cleat_to_wall, Some(wood), &gaps);
                if self.graph.rows.last().is_some_and(|row| row.count >= studs.len()) {
                    continue;
                }
                self.graph.rows.pop();
            }
            let (fastener, count) = (carcass.joins.cleat_to_wall.fastener, studs.len());
            let (kind, guest) = (RowKind::Wall, Member::Part(part.id));
            let glued = carcass.joins.cleat_to_wall.glue.is_some();
            let spacing = Spacing::Studs(studs);
            self.graph.rows.push(Row { kind, guest, host, length, fastener, glued, spacing, count });
        }
        let thickness = self.graph.sheet(unit.sheet).map_or(unit.width, |sheet| sheet.thickness);
        let (window, studs) = self.reachable_studs(&wall.studs, unit, [thickness, unit.clear]);
        if let Some(unit) = self.graph.units.get_mut(id.0 as usize) {
            (unit.screw_window, unit.studs) = (window, studs);
        }
    }

    /// A row in plugs, or in wood that lies behind a stretch of the wall: where the part is split, each piece has its own.
    fn pitched_row(
        &mut self,
        part: &Part,
        (host, length): (Member, Len),
        join: Join,
        wood: Option<[Length; 2]>,
        gaps: &[[Length; 2]],
    ) {
        self.row_between((RowKind::Wall, part.id, host), length, join, false);
        let Some([along, ..]) = self.graph.bounds(part) else { return };
        let Some(row) = self.graph.rows.last_mut() else { return };
        let Spacing::Pitch { ends, pitch } = &row.spacing else { return };
        let (ends, pitch) = (ends.value, pitch.value);
        let one = |piece: Length| match piece.checked_sub(ends) {
            // Too short for a screw so far from either end, and for two.
            Some(rest) if rest.is_negative() => 0,
            Some(rest) if rest < ends => 1,
            _ => in_a_row(piece, ends, pitch),
        };
        if wood.is_some() || !gaps.is_empty() {
            row.count = pieces(wood.unwrap_or(along), gaps).map(one).sum();
        }
    }

    /// The stretch of blocking that lies behind the middle of a part at the wall.
    fn wood_behind(&self, part: &Part, wall: &Wall) -> Option<[Length; 2]> {
        let [along, _, [low, high]] = self.graph.bounds(part)?;
        let middle = low.checked_add(high)?.checked_div(Rational::from(2))?;
        let level = |wood: &&Blocking| wood.up[0].value < middle && middle < wood.up[1].value;
        wall.blocking
            .iter()
            .filter(level)
            .filter_map(|wood| wood.within(along))
            .max_by_key(|[from, to]| to.checked_sub(*from))
    }

    /// Where along the wall a part at it is cut through or split, so that no screw can stand there.
    fn gaps_of(&self, part: &Part, around: &Around<'_>) -> Vec<[Length; 2]> {
        let Some(bounds) = self.graph.bounds(part) else { return Vec::new() };
        let bars = |place: &&Bounds| part.cut_round(&bounds, place).is_some_and(|cut| cut.bars_screws);
        around.places().filter(bars).map(|place| place[0]).collect()
    }

    /// The studs that a driver reaches between two uprights: at least 3/4 in (20 mm) off their inner faces. `between`: from the
    /// left face of the unit to the left one, and the clear width.
    fn reachable_studs(
        &mut self,
        studs: &[Len],
        unit: &Unit,
        [inside, clear]: [Len; 2],
    ) -> (Option<[Len; 2]>, Vec<Len>) {
        let Some(x) = unit.x else { return (None, Vec::new()) };
        let room = self.usual_length("driver room", (3, 4), 20, "common practice, no source: driver room");
        let ledger = &mut self.graph.ledger;
        let rule = "a driver needs room beside the side";
        let from = ledger.sum("first place for a screw", &[(1, x), (1, inside), (1, room)], rule);
        let to = [(1, x), (1, inside), (1, clear), (-1, room)];
        let to = ledger.sum("last place for a screw", &to, rule);
        let within = |stud: &&Len| from.value <= stud.value && stud.value <= to.value;
        (Some([from, to]), studs.iter().filter(within).copied().collect())
    }
}
