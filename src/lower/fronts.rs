//! Doors and drawers at one opening: they are made when what stands before that is there, and hang or run in what bounds it.

use super::carcass::Between;
use super::front::numbered;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Bay, Carcass, Doors, Drawers, Facing, Front, FrontAt, Len};
use crate::parts::{
    Called, Hand, Hole, Hung, MOST_HINGES, Member, Owner, Part, PartId, Place, Role, Row, RowKind, Size,
    Spacing, Stock, UnitId,
};
use crate::quantity::{Length, Rational, Round, to_f64};
use crate::source::Span;
use num_traits::{CheckedMul, ToPrimitive};

/// What doors and drawers are still to be made for: a unit, or a bay of it.
#[derive(Clone)]
pub(super) struct Closing {
    pub owner: Owner,
    pub unit: UnitId,
    pub path: String,
    /// Where it begins, and how wide it is between its uprights.
    pub inside: Len,
    pub clear: Len,
    pub uprights: [PartId; 2],
    /// What bounds its openings, from the bottom: of a bay its floor and its ceiling too.
    pub shelves: Vec<PartId>,
    /// Where the sides end.
    pub height: Len,
    /// From the wall to the front edges, or to the front of the strip on them.
    pub depth: Vec<(i128, Len)>,
    /// What lies at the wall: the back, or where shelves end there, and the cleat before it.
    pub rear: Vec<(i128, Len)>,
    pub doors: Vec<Doors>,
    pub drawers: Vec<Drawers>,
}

/// One opening as it is seen from the front.
pub(super) struct Seen {
    /// Its left and its right edge, from the left face of the unit.
    pub across: [Len; 2],
    /// Its lower and its upper edge, from the bottom end of the unit.
    pub up: [Len; 2],
    /// What doors hang on there.
    pub hosts: [PartId; 2],
    /// From the wall to what stands before it.
    pub front: Len,
}

impl Lowering<'_> {
    /// Notes the doors and drawers of a carcass that stand at one opening.
    pub(super) fn closes(&mut self, between: &Between<'_>, depth: Len) {
        let carcass = between.carcass;
        let doors: Vec<Doors> = carcass.doors.iter().filter(|doors| doors.at.is_some()).cloned().collect();
        if doors.is_empty() && carcass.drawers.is_empty() {
            return;
        }
        let in_bays = self.graph.in_bays(between.unit);
        let shelves = self
            .graph
            .parts_of(between.unit)
            .filter(|part| matches!(part.role, Role::Shelf | Role::Top) && !in_bays.contains(&part.id));
        let shelves: Vec<PartId> = shelves.map(|part| part.id).collect();
        self.note_closing(between, depth, (shelves, doors, carcass.drawers.clone()));
    }

    /// The same of a bay, over its floor and under what closes it.
    pub(super) fn bay_closes(&mut self, between: &Between<'_>, bay: &Bay, shelves: Vec<PartId>) {
        if bay.doors.is_empty() && bay.drawers.is_empty() {
            return;
        }
        // The front edges of the sides, which a back behind them sets forward.
        let terms = [(1, between.rear), (1, between.deep)];
        let depth = self.graph.ledger.sum("front edges", &terms, "from the wall");
        self.note_closing(between, depth, (shelves, bay.doors.clone(), bay.drawers.clone()));
    }

    fn note_closing(
        &mut self,
        between: &Between<'_>,
        depth: Len,
        (shelves, doors, drawers): (Vec<PartId>, Vec<Doors>, Vec<Drawers>),
    ) {
        let carcass: &Carcass = between.carcass;
        let mut front = vec![(1, depth)];
        front.extend(carcass.edge.as_ref().and_then(|edge| edge.thickness).map(|edge| (1, edge)));
        let mut rear = vec![(1, between.rear)];
        rear.extend(carcass.cleat.map(|_| (1, between.thickness)));
        self.closings.push(Closing {
            owner: between.owner(),
            unit: between.unit,
            path: between.path.clone(),
            inside: between.inside,
            clear: between.clear,
            uprights: between.sides.map(|side| side.part),
            shelves,
            height: carcass.height,
            depth: front,
            rear,
            doors,
            drawers,
        });
    }

    /// Makes all doors and drawers that wait for what stands before them.
    pub(super) fn close_openings(&mut self, facing: Option<&Facing>) {
        for closing in std::mem::take(&mut self.closings) {
            for doors in &closing.doors {
                self.doors_at(&closing, doors, facing);
            }
            for drawers in &closing.drawers {
                self.drawers_at(&closing, drawers, facing);
            }
        }
    }

    /// The opening that doors or drawers close; `None` after a message.
    pub(super) fn seen(
        &mut self,
        closing: &Closing,
        (at, head): (&FrontAt, Span),
        facing: Option<&Facing>,
    ) -> Option<Seen> {
        let (low, high) = self.bounded(closing, at, head)?;
        let thickness = low.size.thickness;
        let ledger = &mut self.graph.ledger;
        let below =
            ledger.sum("lower edge of the opening", &[(1, low.place.z), (1, thickness)], "on its shelf");
        let rail = |lowering: &Self| {
            let rails = lowering.graph.parts_of(closing.unit).find(|part| part.role == Role::TopRail);
            rails.map(|rail| rail.place.z)
        };
        let hangs = match &high {
            Some(high) => {
                let strip = self.graph.fixed_to(high.id, Role::Strip).map(|strip| strip.place.z);
                strip.or_else(|| rail(self).filter(|rail| rail.value < high.place.z.value))
            }
            None => rail(self),
        };
        let above = match (facing.and(hangs), &high) {
            (Some(edge), _) => (edge, "under what hangs before the shelf"),
            (None, Some(high)) => (high.place.z, "under the shelf over it"),
            (None, None) => (closing.height, "up to the ends of the sides"),
        };
        let above = self.graph.ledger.sum("upper edge of the opening", &[(1, above.0)], above.1);
        let mut front = closing.depth.clone();
        front.extend(facing.map(|facing| (1, facing.thickness)));
        let front = self.graph.ledger.sum("front of the opening", &front, "from the wall");
        let far = [(1, closing.inside), (1, closing.clear)];
        let far =
            self.graph.ledger.sum("right edge of the opening", &far, "at the inner face of what bounds it");
        let (mut across, mut hosts) = ([closing.inside, far], closing.uprights);
        if facing.is_some() {
            let laps = self.graph.unit(closing.unit)?.laps;
            for (edge, hand) in Hand::BOTH.into_iter().enumerate() {
                let Some(upright) = closing.uprights.get(edge).and_then(|id| self.graph.part(*id)).cloned()
                else {
                    continue;
                };
                let stile = self.stile_before(&upright);
                let divided = upright.role == Role::Divider;
                let (own, rule) = (across.get(edge).copied()?, "where the stile ends");
                let edged = match (&stile, hand, divided) {
                    (Some(stile), Hand::Left, true) => {
                        let terms = [(1, stile.place.x), (1, stile.size.width)];
                        self.graph.ledger.sum("left edge of the opening", &terms, rule)
                    }
                    (Some(stile), Hand::Right, true) => {
                        self.graph.ledger.sum("right edge of the opening", &[(1, stile.place.x)], rule)
                    }
                    (_, Hand::Left, _) => {
                        self.graph.ledger.sum("left edge of the opening", &[(1, own), (1, laps[0])], rule)
                    }
                    (_, Hand::Right, _) => {
                        self.graph.ledger.sum("right edge of the opening", &[(1, own), (-1, laps[1])], rule)
                    }
                };
                if let Some(across) = across.get_mut(edge) {
                    *across = edged;
                }
                if let (Some(host), Some(stile)) = (hosts.get_mut(edge), stile) {
                    *host = stile.id;
                }
            }
        }
        Some(Seen { across, up: [below, above], hosts, front })
    }

    /// The stile before a side or a divider.
    fn stile_before(&self, upright: &Part) -> Option<Part> {
        self.graph.fixed_to(upright.id, Role::Stile).cloned()
    }

    /// The shelf on which an opening begins and the one under which it ends, which is `None` at the ends of the sides.
    fn bounded(&mut self, closing: &Closing, at: &FrontAt, head: Span) -> Option<(Part, Option<Part>)> {
        let parts: Vec<Part> =
            closing.shelves.iter().filter_map(|id| self.graph.part(*id)).cloned().collect();
        let names = || {
            let names = parts.iter().map(|part| format!("`{}`", part.name));
            names.chain(Some("`top`".to_owned())).collect::<Vec<_>>().join(", ")
        };
        let mut found: Vec<Option<&Part>> = Vec::new();
        for (name, span) in at.between.iter().flatten() {
            let part = parts.iter().find(|part| part.name == *name);
            if part.is_none() && &**name != "top" {
                let message =
                    format!("`{}` has no shelf `{name}` at which an opening begins or ends", closing.path);
                let told = Diagnostic::new(&codes::CLOSED, message).at(*span, "");
                let help = format!("it has {}", names());
                self.sink.push(told.help(help));
                return None;
            }
            found.push(part);
        }
        let (low, high) = match found.as_slice() {
            [low, high] => (*low, *high),
            _ => {
                let last = parts.last().filter(|part| part.role == Role::Top || self.is_in_bay(closing));
                (parts.first(), last)
            }
        };
        let under = high.map_or(closing.height.value, |high| high.place.z.value);
        let Some(low) = low.filter(|low| low.place.z.value < under) else {
            let told =
                Diagnostic::new(&codes::CLOSED, format!("no opening of `{}` lies there", closing.path));
            let told = told.at(at.between.iter().flatten().next().map_or(head, |(_, span)| *span), "");
            self.sink.push(told.help("name the lower shelf first, and the one over it or `top` after it"));
            return None;
        };
        Some((low.clone(), high.cloned()))
    }

    /// Whether what is closed is a bay, whose last shelf is what lies over it.
    fn is_in_bay(&self, closing: &Closing) -> bool {
        let path = self.graph.unit(closing.unit).map(|unit| unit.path.as_str());
        path != Some(closing.path.as_str())
    }

    /// Widths or heights of several fronts in one stretch: what each takes, and what lies before the first; `None` after a message.
    pub(super) fn share_front(
        &mut self,
        (front, overlay): (&Front, Option<Len>),
        [from, to]: [Len; 2],
        words: [&'static str; 2],
    ) -> Option<(Len, Vec<(i128, Len)>)> {
        let count = i128::try_from(front.count).unwrap_or(i128::MAX);
        let (mut all, mut before) = (vec![(1, to), (-1, from)], vec![(1, from)]);
        let rule = match overlay {
            Some(overlay) => {
                all.extend([(2, overlay), (-(count - 1), front.reveal)]);
                before.push((-1, overlay));
                "the opening and what they lie over at both edges, less a reveal between each two"
            }
            None => {
                all.push((-(count.saturating_add(1)), front.reveal));
                before.push((1, front.reveal));
                "the opening less a reveal at each edge of a front"
            }
        };
        let [sum, each] = words;
        let all = self.graph.ledger.sum(sum, &all, rule);
        let own = self.graph.ledger.divide(each, all, Rational::from(count), "all of one size");
        if own.value.is_positive() {
            return Some((own, before));
        }
        let message = "the reveals leave nothing of what closes the opening";
        let blamed = [(front.reveal, "the reveal"), (to, "the opening follows from this")];
        let told = self.blame(Diagnostic::new(&codes::CLOSED, message), Some(front.head), "these", &blamed);
        self.sink.push(told.help("ask for fewer, or make the reveal less"));
        None
    }

    fn doors_at(&mut self, closing: &Closing, doors: &Doors, facing: Option<&Facing>) {
        let front = &doors.front;
        let (Some(at), Some(thickness)) =
            (&doors.at, self.model.sheets.get(front.sheet.0).map(|sheet| sheet.thickness))
        else {
            return;
        };
        let Some(seen) = self.seen(closing, (at, front.head), facing) else { return };
        let shared = self.share_front((front, at.overlay), seen.across, ["for doors", "width"]);
        let Some((width, before)) = shared else { return };
        let one = Front { count: 1, ..front.clone() };
        let Some((length, under)) = self.share_front((&one, at.overlay), seen.up, ["height", "length"])
        else {
            return;
        };
        if !self.has_room(front.count) {
            return;
        }
        let z = self.graph.ledger.sum("lower end", &under, "at the lower edge of the opening");
        let y = self.rear_of_front((front, at.overlay), thickness, seen.front);
        let size = Size { thickness, width, length };
        for number in 1..=front.count {
            let left = i128::try_from(number - 1).unwrap_or(i128::MAX);
            let mut terms = before.clone();
            terms.extend([(left, width), (left, front.reveal)]);
            let x = self.graph.ledger.sum("left edge", &terms, "after the doors and reveals left of it");
            let called = numbered(&closing.path, "door", front.name.as_deref(), number);
            let at = (size, Place { x, y, z });
            if let Some(part) = self.add_front((called, closing.owner), Role::Door, front, at) {
                self.hinge(part, doors, number, seen.hosts);
            }
        }
    }

    /// A front without the strip round its edges: the part is as much smaller, and its corner as much farther in.
    pub(super) fn within_edge(&mut self, front: &Front, size: Size, place: Place) -> Option<(Size, Place)> {
        let Some(edge) = front.edge.as_ref().and_then(|edge| edge.thickness) else {
            return Some((size, place));
        };
        let ledger = &mut self.graph.ledger;
        let mut less = |label: &'static str, length: Len| {
            ledger.sum(label, &[(1, length), (-2, edge)], "less the strip at both edges")
        };
        let (width, length) = (less("width", size.width), less("length", size.length));
        let mut more =
            |label: &'static str, at: Len| ledger.sum(label, &[(1, at), (1, edge)], "behind the strip");
        let (x, z) = (more("left edge", place.x), more("lower edge", place.z));
        if width.value.is_positive() && length.value.is_positive() {
            return Some((Size { width, length, ..size }, Place { x, z, ..place }));
        }
        let told = Diagnostic::new(&codes::CLOSED, "the strip round its edges leaves nothing of a front");
        let told = self.blame(told, Some(front.head), "", &[(edge, "the strip")]);
        self.sink.push(told.help("state how thick the strip is, not how wide"));
        None
    }

    /// Adds a door or the front of a drawer, with its strip.
    pub(super) fn add_front(
        &mut self,
        (called, owner): (Called, Owner),
        role: Role,
        front: &Front,
        (size, place): (Size, Place),
    ) -> Option<PartId> {
        let (size, place) = self.within_edge(front, size, place)?;
        let part = self.add(Part::new(called, owner, role, Stock::Sheet(front.sheet), size, place))?;
        if let Some(edge) = &front.edge {
            self.graph.banded.insert(part, edge.clone());
        }
        Some(part)
    }

    /// Where the rear face of a front lies: it is flush with what is before it, or stands off that.
    pub(super) fn rear_of_front(
        &mut self,
        (front, overlay): (&Front, Option<Len>),
        thickness: Len,
        plane: Len,
    ) -> Len {
        let ledger = &mut self.graph.ledger;
        match overlay {
            Some(_) => {
                let terms = [(1, plane), (1, front.stand_off)];
                ledger.sum("rear face", &terms, "clear of what it lies over")
            }
            None => {
                let terms = [(1, plane), (-1, thickness)];
                ledger.sum("rear face", &terms, "its front is flush with that of the opening")
            }
        }
    }

    /// Hangs a door: the first and every second one after it on its left edge, the others on the right one.
    pub(super) fn hinge(&mut self, door: PartId, doors: &Doors, number: usize, hosts: [PartId; 2]) {
        let front = &doors.front;
        let right = if front.count == 1 { doors.on_right } else { number.is_multiple_of(2) };
        let (hand, on) = if right { (Hand::Right, hosts[1]) } else { (Hand::Left, hosts[0]) };
        let Some(part) = self.graph.part(door).cloned() else { return };
        let single = |kind: RowKind, fastener: usize, host: Member| Row {
            kind,
            guest: door.into(),
            host,
            length: part.size.length,
            fastener: Some(fastener),
            glued: false,
            spacing: Spacing::Single,
            count: 1,
        };
        let mut hung = Hung {
            door,
            hand,
            on,
            hinge: None,
            hinges: Vec::new(),
            up: Vec::new(),
            wanted: (0, None),
            pull: front.pull.map(|pull| pull.out),
            head: front.head,
        };
        if let Some(hinge) = &doors.hinge {
            hung.hinge = Some(hinge.fastener);
            let carries = hinge.carries.map_or(CARRIES_POUNDS * POUND, |each| to_f64(each.value.value));
            let heavy = self.door_weighs(&part).map(|weight| hinges_for(weight, carries));
            let tall = hinges_high(part.size.length.value);
            hung.wanted = (tall, heavy);
            let count = tall.max(heavy.unwrap_or(0)).min(MOST_HINGES);
            let spaces = i128::try_from(count - 1).unwrap_or(1);
            // Distances of a hinge count from the edge of the door, its strip included.
            let strip = front.edge.as_ref().and_then(|edge| edge.thickness);
            let mut terms = vec![(1, part.size.length), (-2, hinge.ends)];
            terms.extend(strip.map(|strip| (2, strip)));
            let ledger = &mut self.graph.ledger;
            let from_to =
                ledger.sum("from the first hinge to the last", &terms, "both as far from their ends");
            let each = ledger.divide("from hinge to hinge", from_to, Rational::from(spaces), "evenly");
            let set_back = match strip {
                Some(strip) => {
                    let terms = [(1, hinge.set_back), (-1, strip)];
                    self.graph.ledger.sum("from the wood's edge to the cup", &terms, "without the strip")
                }
                None => hinge.set_back,
            };
            for place in 0..count {
                let times = i128::try_from(place).unwrap_or(0);
                let mut terms = vec![(1, part.place.z), (1, hinge.ends), (times, each)];
                terms.extend(strip.map(|strip| (-1, strip)));
                let ledger = &mut self.graph.ledger;
                let mut up = ledger.sum("middle of the hinge", &terms, "from the bottom end of the unit");
                if let Some(grid) = self.model.shop.grid {
                    let rule = "on the grid of the borer, from the bottom end of the unit";
                    up = ledger.rounded("middle of the hinge", up, grid.value, Round::Nearest, rule);
                }
                let on_door =
                    ledger.sum("middle of the hinge", &[(1, up), (-1, part.place.z)], "on the door");
                hung.up.push(up);
                hung.hinges.push(on_door);
                self.cup(
                    &part,
                    (hand, hinge.cup.map(|cup| [cup, hinge.depth, set_back])),
                    (place, on_door),
                    front.head,
                );
            }
            let spacing = Spacing::Heights { heights: count, each: 1 };
            self.graph.rows.push(Row { spacing, count, ..single(RowKind::Hinge, hinge.fastener, on.into()) });
        }
        if let (Some(pull), Some(unit)) = (front.pull, part.unit) {
            self.graph.rows.push(single(RowKind::Pull, pull.fastener, Member::Unit(unit)));
        }
        self.graph.doors.push(hung);
    }

    fn cup(
        &mut self,
        door: &Part,
        (hand, cup): (Hand, Option<[Len; 3]>),
        (place, along): (usize, Len),
        head: Span,
    ) {
        let Some([diameter, depth, set_back]) = cup else { return };
        let terms = match hand {
            Hand::Left => vec![(1, set_back)],
            Hand::Right => vec![(1, door.size.width), (-1, set_back)],
        };
        let across = self.graph.ledger.sum("middle of the cup", &terms, "from the left edge of the door");
        let name = format!("hinge[{}]", place + 1).into();
        let (part, at, depth) = (door.id, [along, across], Some(depth));
        self.graph.add_hole(Hole { part, name, at, diameter, depth, grommet: None, head });
    }

    /// What a door weighs; `None` where its sheet states no density.
    fn door_weighs(&self, door: &Part) -> Option<f64> {
        let Stock::Sheet(sheet) = door.stock else { return None };
        let density = self.graph.sheet(sheet)?.density?;
        let [t, w, l] = [door.size.thickness, door.size.width, door.size.length].map(|len| len.value.mm());
        Some(to_f64(t.checked_mul(&w)?.checked_mul(&l)?) * density.value)
    }
}

/// What one hinge carries of a door where that is not stated (common practice, no source).
const CARRIES_POUNDS: f64 = 13.0;
/// A pound in kilograms.
const POUND: f64 = 0.453_592_37;

/// How many hinges a door needs for its height: two up to 36 in, one more for each 24 in over that (common practice, no source).
fn hinges_high(height: Length) -> usize {
    let inches = |n: i128| Length::from_inches(Rational::from(n)).unwrap_or_default();
    let over = height.checked_sub(inches(36)).filter(|over| over.is_positive());
    let more =
        over.and_then(|over| over.ratio(inches(24))).and_then(|ratio| ratio.ceil().to_integer().to_usize());
    more.unwrap_or(0_usize).saturating_add(2)
}

/// How many it needs for its weight.
fn hinges_for(weight: f64, each: f64) -> usize {
    let many = (weight / each - 1e-9).ceil();
    if many > 1e6 { usize::MAX } else { many.max(0.0) as usize }
}
