//! The facing: stiles over the sides, strips and rails between them, each with its blank where it is fitted on site.

use super::opening::{RailBefore, rail_before};
use super::run::Stand;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Facing, Len, Return};
use crate::parts::{
    Blank, Called, EndPart, Face, Fitted, Hand, Owner, Part, PartId, Place, Role, RunPart, Size, Stock,
    StretcherAt, Unit, UnitId,
};
use crate::quantity::{Length, Rational, Round, some};
use std::sync::Arc;

impl Lowering<'_> {
    pub(super) fn facing(&mut self, stand: &Stand<'_>, part: &mut RunPart) {
        let Some(facing) = &stand.run.facing else { return };
        let units: Vec<(UnitId, Unit)> =
            part.all().filter_map(|id| self.graph.unit(id).map(|unit| (id, unit.clone()))).collect();
        let fit = self.stiles_fit(&units, facing) && self.laps_agree(part, facing);
        if !fit || !self.openings_stay(part, facing) {
            return;
        }
        self.top_edges_hidden(part, facing, &units);
        if !self.toes_open(part, facing, &units) {
            return;
        }
        let stand_there: Vec<(UnitId, Unit)> = units.iter().filter(|(_, unit)| !unit.hung).cloned().collect();
        self.stiles(stand, part, facing, &stand_there);
        self.hung_stiles(stand, part, facing);
        for (index, (id, unit)) in units.iter().enumerate() {
            self.rails_and_strips(stand, part, facing, (*id, unit), index);
            self.bay_facing(stand, facing, (*id, unit));
        }
    }

    /// Whether stiles cover their sides and leave an opening, and are as wide as the laps that are stated.
    fn stiles_fit(&mut self, units: &[(UnitId, Unit)], facing: &Facing) -> bool {
        let twice = |lap: Len| lap.value.checked_mul(Rational::from(2)).unwrap_or_default();
        let less = |from: Length, lap: &Len| from.checked_sub(lap.value).unwrap_or_default();
        let left = |unit: &Unit| unit.laps.iter().fold(unit.clear.value, less);
        let units = || units.iter().map(|(_, unit)| unit);
        let narrow = |unit: &&Unit| {
            !unit.lap.value.is_negative() && unit.laps.iter().any(|lap| lap.value.is_negative())
        };
        if let Some(unit) = units().find(narrow) {
            let lap = unit.laps.into_iter().find(|lap| lap.value.is_negative()).unwrap_or(unit.lap);
            let message =
                format!("the stile at an end of `{}` is narrower than the side it covers", unit.path);
            let blamed = [(lap, "the stile, or the side")];
            let told =
                self.blame(Diagnostic::new(&codes::STILE, message), facing.head, "this facing", &blamed);
            let side = self.graph.sheet(unit.sheet).map_or(Length::ZERO, |sheet| sheet.thickness.value);
            let least = self.marks().print_rounded(side, Round::Up);
            self.sink.push(told.help(format!("make it {} or more", least.text())));
            return false;
        }
        let least = units().min_by_key(|unit| unit.lap.value);
        let closed = units().filter(|unit| !left(unit).is_positive()).min_by_key(|unit| left(unit));
        let (lap, message, help) = if let Some(unit) = least.filter(|unit| unit.lap.value.is_negative()) {
            let stile = facing.stile.map_or(Length::ZERO, |stile| stile.value);
            let two = stile.checked_sub(twice(unit.lap)).unwrap_or_default();
            let least = self.marks().print_rounded(two, Round::Up);
            let message = if units().count() > 1 {
                "the stile over a seam is narrower than the two sides it covers".to_owned()
            } else {
                format!(
                    "a `stile` is as wide as one over a seam, and {} is less than two sides",
                    self.marks().print(stile)
                )
            };
            (unit.lap, message, format!("make it {} or more", least.text()))
        } else if let Some(unit) = closed {
            let [one, other] = unit.laps;
            let laps = if one.value == other.value {
                format!("two laps of {}", self.print(one))
            } else {
                format!("laps of {} and {}", self.print(one), self.print(other))
            };
            let message = format!("{laps} leave no opening in `{}`", unit.path);
            let help = format!("the opening between the sides is {}", self.print(unit.clear));
            (if one.value < other.value { other } else { one }, message, help)
        } else {
            return true;
        };
        let blamed = [(lap, "the lap follows from this")];
        let diagnostic =
            self.blame(Diagnostic::new(&codes::STILE, message), facing.head, "this facing", &blamed);
        self.sink.push(diagnostic.help(help));
        false
    }

    /// Whether the stile over every seam is as wide as two sides and two laps, where both are stated.
    fn laps_agree(&mut self, part: &RunPart, facing: &Facing) -> bool {
        let (Some(stile), Some(lap)) = (facing.stile, facing.lap) else { return true };
        for seam in part.seams() {
            let [Some(left), Some(right)] = seam.map(|id| self.graph.unit(id).cloned()) else { continue };
            let (left, right) = (&left, &right);
            let [Some(a), Some(b)] =
                [left, right].map(|unit| self.graph.sheet(unit.sheet).map(|sheet| sheet.thickness))
            else {
                continue;
            };
            let needed = self.over_two_sides(left, a, right, b);
            if left.depth.value != right.depth.value || needed.value == stile.value {
                continue;
            }
            let message = format!(
                "the stile over the seam of `{}` and `{}` is {} wide, and two sides with two laps of {} are {}",
                left.path,
                right.path,
                self.print(stile),
                self.print(lap),
                self.print(needed)
            );
            let blamed = [(stile, "the stile"), (lap, "the lap"), (a, "the thickness of a side")];
            let diagnostic =
                self.blame(Diagnostic::new(&codes::LAP, message), facing.head, "this facing", &blamed);
            self.sink
                .push(diagnostic.help(
                    "state one of them: the `lap` follows from the `stile`, or the stile from the lap",
                ));
            return false;
        }
        true
    }

    /// Whether every opening stays open at the front.
    fn openings_stay(&mut self, part: &RunPart, facing: &Facing) -> bool {
        let mut openings = part.all().flat_map(|unit| self.graph.openings_of(unit));
        let closed = openings.find(|opening| !opening.opening_front.value.is_positive());
        let Some(opening) = closed.cloned() else { return true };
        let path = self.graph.part(opening.on).map_or_else(String::new, |shelf| shelf.path.clone());
        let message = format!("nothing is left at the front of the opening over `{path}`");
        let blamed = [(opening.opening_front, "it follows from this")];
        let diagnostic =
            self.blame(Diagnostic::new(&codes::STRIP, message), facing.head, "this facing", &blamed);
        let room = self.print(opening.clear_height);
        self.sink.push(
            diagnostic.help(format!("behind the front edge it is {room} high: make the strip or rail lower")),
        );
        false
    }

    /// Whether no rail closes a toe space.
    fn toes_open(&mut self, part: &RunPart, facing: &Facing, units: &[(UnitId, Unit)]) -> bool {
        let closed = units.iter().find_map(|(_, unit)| Some((unit, unit.toe?)));
        let (Some((unit, [height, _])), true) = (closed, facing.bottom_rail) else { return true };
        let message = format!("the bottom rail of `{}` closes the toe space of `{}`", part.path, unit.path);
        let blamed = [(height, "the toe space")];
        let diagnostic =
            self.blame(Diagnostic::new(&codes::TOE, message), facing.head, "this facing", &blamed);
        self.sink.push(diagnostic.help("delete the `bottom_rail`: the bottom shelf then has a strip"));
        false
    }

    /// Says where a top rail leaves some of the edge of a topmost shelf to be seen under it.
    fn top_edges_hidden(&mut self, part: &RunPart, facing: &Facing, units: &[(UnitId, Unit)]) {
        let Some(rail) = facing.top_rail else { return };
        let mut seen: Vec<(&str, Len)> = Vec::new();
        for (id, unit) in units {
            let in_bays = self.graph.in_bays(*id);
            let shelves = self.graph.parts_of(*id);
            let shelves = shelves.filter(|part| matches!(part.role, Role::Shelf | Role::Top));
            let topmost = shelves.filter(|part| !in_bays.contains(&part.id)).last();
            let Some(topmost) = topmost else { continue };
            let (mark, thickness) = (topmost.place.z, topmost.size.thickness);
            if rail_before(unit.height, rail, mark, thickness) == RailBefore::Edge {
                seen.push((&unit.path, self.graph.ledger.sum("rail", &[(1, unit.height), (-1, mark)], "")));
            }
        }
        let Some((path, least)) = seen.iter().max_by_key(|(_, least)| least.value).copied() else { return };
        let bare = least.value.checked_sub(rail.value).unwrap_or_default();
        let others = match seen.len() {
            1 => String::new(),
            count => format!(" and {}", some(count - 1, "other unit")),
        };
        let message = format!(
            "the top rail of `{}` leaves {} of the edge of the topmost shelf seen, in `{path}`{others}",
            part.path,
            self.marks().print(bare)
        );
        let blamed = [(rail, "the rail"), (least, "from here to the ends of the sides")];
        let diagnostic =
            self.blame(Diagnostic::new(&codes::RAIL, message), facing.head, "this facing", &blamed);
        let least = self.marks().print_rounded(least.value, Round::Up);
        self.sink.push(
            diagnostic.help(format!("make it {} or more, down to the shelf's underside", least.text())),
        );
    }

    pub(super) fn facing_part(
        &mut self,
        (called, owner): (Called, Owner),
        (role, backing): (Role, Vec<PartId>),
        facing: &Facing,
        made: Made,
    ) -> Option<PartId> {
        let size = Size { thickness: facing.thickness, width: made.width, length: made.length };
        let Made { scribed, blank, place, .. } = made;
        let part = Part::new(called, owner, role, Stock::Board(facing.board), size, place);
        self.add(Part { scribed, blank, backing, ..part })
    }

    /// The side of a unit at a hand.
    pub(super) fn side(&self, unit: UnitId, hand: Hand) -> Vec<PartId> {
        let is_side = |part: &&Part| part.role == Role::Side(hand);
        self.graph.parts_of(unit).filter(is_side).map(|part| part.id).collect()
    }

    fn stiles(&mut self, stand: &Stand<'_>, part: &mut RunPart, facing: &Facing, units: &[(UnitId, Unit)]) {
        let (Some(first), Some(last)) = (units.first(), units.last()) else { return };
        let deepest = self.deepest_floor(stand, part);
        let thickness =
            |lowering: &Self, unit: &Unit| lowering.graph.sheet(unit.sheet).map(|sheet| sheet.thickness);
        let owner = Owner { unit: None, run: Some(stand.id) };
        let mut ends = [None; 2];
        for (index, (hand, (id, unit))) in Hand::BOTH.into_iter().zip([first, last]).enumerate() {
            let Some(thickness) = thickness(self, unit) else { continue };
            let made = self.end_stile(stand, part.ends.get(index), facing, (unit, thickness, deepest), hand);
            let (called, side) = (Called::new(&part.path, "stile", hand.word()), self.side(*id, hand));
            let stile = self.facing_part((called, owner), (Role::Stile, side), facing, made);
            if let Some(end) = ends.get_mut(index) {
                *end = stile;
            }
        }
        part.end_stiles = ends;
        let seams: Vec<[UnitId; 2]> = part.seams().collect();
        for ((left_id, left), (right_id, right)) in units.iter().zip(units.iter().skip(1)) {
            let together = seams.contains(&[*left_id, *right_id]);
            let (Some(a), Some(b)) = (thickness(self, left), thickness(self, right)) else { continue };
            let sides = [self.side(*left_id, Hand::Right), self.side(*right_id, Hand::Left)];
            if !together || left.depth.value != right.depth.value {
                // A space lies between them, or their fronts are not in one plane: each unit has its own stile, flush with its outer
                // face.
                let hands = [(left, a, Hand::Right), (right, b, Hand::Left)];
                for ((unit, thickness, hand), side) in hands.into_iter().zip(sides) {
                    // It covers the side at this hand, as the stile at that end of a run does.
                    let made = self.end_stile(stand, None, facing, (unit, thickness, deepest), hand);
                    let seam = format!("{}.{}", left.name, right.name);
                    let former = Called::between(&part.path, "stile", [&unit.name, hand.word()]).former;
                    let called = Called {
                        former,
                        ..Called::new(&part.path, "stile", &format!("{seam}.{}", hand.other().word()))
                    };
                    self.facing_part((called, owner), (Role::Stile, side), facing, made);
                }
                continue;
            }
            let width = match facing.stile {
                Some(stile) => stile,
                None => self.over_two_sides(left, a, right, b),
            };
            let x = right.x.unwrap_or(right.width);
            let edge = if a.value == b.value || facing.lap.is_none() {
                let half = self.graph.ledger.divide("half the stile", width, Rational::from(2), "");
                let rule = "centred on the seam";
                self.graph.ledger.sum("left edge of the stile", &[(1, x), (-1, half)], rule)
            } else {
                let terms = [(1, x), (-1, a), (-1, left.lap)];
                self.graph.ledger.sum("left edge of the stile", &terms, "each opening is lapped equally")
            };
            let taller = if right.top() > left.top() { right } else { left };
            let made = self.stile(stand, facing, (taller, width, edge, x.value), deepest);
            let called = Called::between(&part.path, "stile", [&left.name, &right.name]);
            self.facing_part((called, owner), (Role::Stile, sides.concat()), facing, made);
        }
    }

    /// The stiles at both sides of what hangs: flush with its outer faces; at an end of the run that meets a wall, scribed to that.
    fn hung_stiles(&mut self, stand: &Stand<'_>, part: &RunPart, facing: &Facing) {
        let owner = Owner { unit: None, run: Some(stand.id) };
        for hung in &part.hung {
            let Some(unit) = self.graph.unit(hung.unit).cloned() else { continue };
            let Some(thickness) = self.graph.sheet(unit.sheet).map(|sheet| sheet.thickness) else { continue };
            for (end, hand) in Hand::BOTH.into_iter().enumerate() {
                let at_end = hung.at_ends.get(end) == Some(&true);
                let at_wall = part.ends.get(end).filter(|_| at_end);
                let made = self.end_stile(stand, at_wall, facing, (&unit, thickness, None), hand);
                let called = Called::new(&part.path, "stile", &format!("{}.{}", unit.name, hand.word()));
                self.facing_part((called, owner), (Role::Stile, self.side(hung.unit, hand)), facing, made);
            }
        }
    }

    /// What a stile over a seam covers: two sides, and a lap over each opening.
    fn over_two_sides(&mut self, left: &Unit, a: Len, right: &Unit, b: Len) -> Len {
        let laps: &[_] = if left.lap.value == right.lap.value {
            &[(2, left.lap)]
        } else {
            &[(1, left.lap), (1, right.lap)]
        };
        let terms = [&[(1, a), (1, b)], laps].concat();
        self.graph.ledger.sum("stile width", &terms, "over two sides, and both laps")
    }

    /// A stile whose width does not change: its length reaches the floor as it lies under `x`.
    fn stile(
        &mut self,
        stand: &Stand<'_>,
        facing: &Facing,
        (unit, width, edge, x): (&Unit, Len, Len, Length),
        deepest: Option<Len>,
    ) -> Made {
        let (top, y) = (self.top_of(unit), unit.depth);
        if let Some(foot) = unit.stands.filter(|_| unit.hung) {
            let rule = "as high as the sides that hang";
            let length = self.graph.ledger.sum("length", &[(1, unit.height)], rule);
            return Made::plain(width, length, Place { x: edge, y, z: foot });
        }
        if let Some([foot, _]) = unit.toe {
            let rule = "from over the toe space to the top of the unit";
            let length = self.graph.ledger.sum("length", &[(1, top), (-1, foot)], rule);
            return Made::plain(width, length, Place { x: edge, y, z: foot });
        }
        let below = stand.wall.and_then(|wall| self.at(&wall.floor.below, x, "floor below the level line"));
        let ledger = &mut self.graph.ledger;
        let rule = "a stile reaches from the floor to the top of the unit";
        let mut terms = vec![(1, top)];
        terms.extend(below.map(|below| (1, below)));
        let length = ledger.sum("length", &terms, rule);
        let zero = ledger.usual("level line", Length::ZERO, "heights count from the level line");
        let z = match below {
            Some(below) => ledger.sum("lower end", &[(1, zero), (-1, below)], "down to the floor"),
            None => zero,
        };
        let blank = deepest.map(|deepest| {
            let length = self.blank("length of the blank", &[(1, top), (1, deepest)], facing.scribe);
            Blank { width, length }
        });
        Made { width, length, scribed: Vec::new(), blank, place: Place { x: edge, y, z } }
    }

    /// The stile at an end: as wide as the gap there, the side and the lap; at a wall it is scribed.
    fn end_stile(
        &mut self,
        stand: &Stand<'_>,
        end: Option<&EndPart>,
        facing: &Facing,
        (unit, thickness, deepest): (&Unit, Len, Option<Len>),
        hand: Hand,
    ) -> Made {
        let left = hand == Hand::Left;
        let cover = [(1, thickness), (1, unit.lap_at(hand))];
        let cover = self.graph.ledger.sum("over side and opening", &cover, "the side and the lap");
        let face = unit.x.unwrap_or(unit.width);
        let inner = if left {
            self.graph.ledger.sum("inner edge of the stile", &[(1, face), (1, cover)], "")
        } else {
            self.graph.ledger.sum("inner edge of the stile", &[(1, face), (1, unit.width), (-1, cover)], "")
        };
        let x = if left { face.value } else { face.value.checked_add(unit.width.value).unwrap_or_default() };
        let rule = "the gap at the front there, the side and the lap";
        let gap = end.filter(|end| end.meets != Return::Open);
        let scribed =
            gap.map(|end| self.scribed(end, Some(cover), ("stile width", rule))).unwrap_or_default();
        if scribed.is_empty() {
            let terms: Vec<(i128, Len)> =
                std::iter::once((1, cover)).chain(gap.map(|end| (1, end.gap))).collect();
            let width = self.graph.ledger.sum("stile width", &terms, "flush with the outer face of the side");
            let edge = self.edge(left, inner, width);
            let mut made = self.stile(stand, facing, (unit, width, edge, x), deepest);
            if gap.is_some() {
                let width = self.blank("width of the blank", &[(1, width)], facing.scribe);
                let length = made.blank.map_or(made.length, |blank| blank.length);
                made.blank = Some(Blank { width, length });
            }
            return made;
        }
        let mean = self.mean("mean stile width", &scribed);
        let edge = self.edge(left, inner, mean);
        let mut made = self.stile(stand, facing, (unit, mean, edge, x), deepest);
        if let Some(width) = self.widest_blank(&scribed, facing.scribe) {
            let length = made.blank.map_or(made.length, |blank| blank.length);
            made.blank = Some(Blank { width, length });
        }
        made.scribed = scribed;
        made
    }

    fn edge(&mut self, left: bool, inner: Len, width: Len) -> Len {
        if left {
            self.graph.ledger.sum("left edge of the stile", &[(1, inner), (-1, width)], "")
        } else {
            inner
        }
    }

    fn rails_and_strips(
        &mut self,
        stand: &Stand<'_>,
        part: &RunPart,
        facing: &Facing,
        (id, unit): (UnitId, &Unit),
        index: usize,
    ) {
        let Some(thickness) = self.graph.sheet(unit.sheet).map(|sheet| sheet.thickness) else { return };
        let ledger = &mut self.graph.ledger;
        let [left, right] = unit.laps;
        let mut terms = vec![(1, unit.clear)];
        terms.extend(if left.value == right.value {
            vec![(-2, left)]
        } else {
            vec![(-1, left), (-1, right)]
        });
        let length = ledger.sum("length", &terms, "strips and rails stand between stiles");
        let x = ledger.sum("left end", &[(1, thickness), (1, left)], "where the stile ends");
        let y = unit.depth;
        // The shelves of bays have their strips between the stiles before the dividers.
        let in_bays = self.graph.in_bays(id);
        let of_unit = self.graph.parts_of(id);
        let shelves: Vec<(PartId, Arc<str>, Len)> = of_unit
            .filter(|part| matches!(part.role, Role::Shelf | Role::Top) && !in_bays.contains(&part.id))
            .map(|shelf| (shelf.id, shelf.name.clone(), shelf.place.z))
            .collect();
        let owner = Owner { unit: Some(id), run: Some(stand.id) };
        let last = shelves.len().saturating_sub(1);
        for (position, (shelf, name, mark)) in shelves.iter().enumerate() {
            let rail = facing.top_rail.filter(|_| position == last);
            let before = rail.map(|rail| rail_before(unit.height, rail, *mark, thickness));
            let railed = (position == 0 && facing.bottom_rail)
                || matches!(before, Some(RailBefore::Shelf | RailBefore::Edge));
            if let (false, Some(strip)) = (railed, facing.strip) {
                let terms = [(1, *mark), (1, thickness), (-1, strip)];
                let z = self.graph.ledger.sum("lower edge", &terms, "its top is flush with the shelf's");
                let made = Made::plain(strip, length, Place { x, y, z });
                let called = Called::new(&unit.path, "strip", name);
                self.facing_part((called, owner), (Role::Strip, vec![*shelf]), facing, made);
            }
        }
        if let Some(rail) = facing.top_rail {
            let z = self.graph.ledger.sum(
                "lower edge",
                &[(1, unit.height), (-1, rail)],
                "flush with the ends of the sides",
            );
            let made = Made::plain(rail, length, Place { x, y, z });
            // Behind it is the stretcher on the top shelf, where there is one, else that shelf.
            let stretcher = |part: &&Part| part.role == Role::Stretcher(StretcherAt::Top, Face::Front);
            let stretcher = self.graph.parts_of(id).find(stretcher).map(|part| part.id);
            let before = |mark: Len| rail_before(unit.height, rail, mark, thickness);
            let low = |mark: Len| matches!(before(mark), RailBefore::Shelf | RailBefore::Edge);
            let shelf = shelves.last().filter(|(.., mark)| low(*mark)).map(|(shelf, ..)| *shelf);
            let behind = stretcher.or(shelf);
            let (called, backing) = (Called::new(&unit.path, "rail", "top"), behind.into_iter().collect());
            self.facing_part((called, owner), (Role::TopRail, backing), facing, made);
        }
        if let (true, Some((shelf, _, mark))) = (facing.bottom_rail, shelves.first()) {
            let made = if unit.hung {
                let ledger = &mut self.graph.ledger;
                let rule = "from the bottom ends of the sides to the top of the bottom shelf";
                let width = ledger.sum("rail height", &[(1, *mark), (1, thickness)], rule);
                let z = ledger.usual("lower edge", Length::ZERO, "flush with the bottom ends of the sides");
                Made::plain(width, length, Place { x, y, z })
            } else {
                self.bottom_rail(stand, part, facing, (unit, *mark, thickness), index, (x, y, length))
            };
            let called = Called::new(&unit.path, "rail", "bottom");
            self.facing_part((called, owner), (Role::BottomRail, vec![*shelf]), facing, made);
        }
    }

    /// The rail from the floor to the top of the bottom shelf; it is fitted to the floor.
    fn bottom_rail(
        &mut self,
        stand: &Stand<'_>,
        part: &RunPart,
        facing: &Facing,
        (unit, mark, thickness): (&Unit, Len, Len),
        index: usize,
        (x, y, length): (Len, Len, Len),
    ) -> Made {
        let deepest = self.deepest_floor(stand, part);
        let mut top = vec![(1, mark), (1, thickness)];
        top.extend(unit.stands.map(|stands| (1, stands)));
        let top = self.graph.ledger.sum("top of the bottom shelf", &top, "");
        let middle = unit.width.value.checked_div(Rational::from(2)).unwrap_or_default();
        let middle = unit.x.and_then(|x| x.value.checked_add(middle)).unwrap_or_default();
        let below =
            stand.wall.and_then(|wall| self.at(&wall.floor.below, middle, "floor below the level line"));
        let mut height = |below: Option<Len>| {
            let terms: Vec<(i128, Len)> =
                std::iter::once((1, top)).chain(below.map(|below| (1, below))).collect();
            self.graph.ledger.sum("rail height", &terms, "from the floor to the top of the bottom shelf")
        };
        let width = height(below);
        let scribed = match part.floor_at_faces.get(index) {
            Some(faces) => Hand::BOTH
                .into_iter()
                .zip(*faces)
                .map(|(hand, below)| (Fitted::End(hand), height(Some(below))))
                .collect(),
            None => Vec::new(),
        };
        let blank = deepest.map(|deepest| {
            let width = self.blank("width of the blank", &[(1, top), (1, deepest)], facing.scribe);
            Blank { width, length }
        });
        let ledger = &mut self.graph.ledger;
        let zero = ledger.usual("level line", Length::ZERO, "heights count from the level line");
        let mut terms = vec![(1, zero)];
        terms.extend([below, unit.stands].into_iter().flatten().map(|length| (-1, length)));
        let z = if terms.len() == 1 { zero } else { ledger.sum("lower edge", &terms, "down to the floor") };
        Made { width, length, scribed, blank, place: Place { x, y, z } }
    }
}

/// A part of the facing before it has a name.
pub(super) struct Made {
    width: Len,
    length: Len,
    scribed: Vec<(Fitted, Len)>,
    blank: Option<Blank>,
    place: Place,
}

impl Made {
    pub(super) fn plain(width: Len, length: Len, place: Place) -> Self {
        Self { width, length, scribed: Vec::new(), blank: None, place }
    }
}
