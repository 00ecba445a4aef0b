//! Drawers: boxes of four sides on slides, with a bottom in grooves and a front before them.

use super::front::numbered;
use super::fronts::{Closing, Seen};
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{BoxOf, Drawers, Facing, Len};
use crate::parts::{
    Called, Drawer, Face, Hand, Joint, JointKind, Member, Part, PartId, Place, Role, Row, RowKind, Size,
    Spacing, Stock,
};
use crate::quantity::{Rational, Round};

/// What all drawers of one opening have in common.
struct Boxes<'a> {
    closing: &'a Closing,
    drawers: &'a Drawers,
    seen: &'a Seen,
    /// Thickness of fronts, sides and bottoms.
    thick: [Len; 3],
    /// The length of the slides, and what is counted of them.
    slide: (Len, usize),
    /// Over the sides of a box.
    width: Len,
    height: Len,
    /// Width of a front, its height, and the place of its left edge.
    front: [Len; 3],
    /// From the wall to the rear faces of the fronts.
    y: Len,
}

impl Lowering<'_> {
    pub(super) fn drawers_at(&mut self, closing: &Closing, drawers: &Drawers, facing: Option<&Facing>) {
        let sheet = |id: crate::eval::SheetId| self.model.sheets.get(id.0).map(|sheet| sheet.thickness);
        let front = &drawers.front;
        let side = match drawers.sides {
            BoxOf::Sheet(id) => sheet(id),
            BoxOf::Board(_, thickness) => Some(thickness),
        };
        let (Some(board), Some(side), Some(bottom)) = (sheet(front.sheet), side, sheet(drawers.bottom))
        else {
            return;
        };
        let overlay = drawers.at.overlay;
        let Some(seen) = self.seen(closing, (&drawers.at, front.head), facing) else { return };
        let Some((high, under)) = self.share_front((front, overlay), seen.up, ["for fronts", "width"]) else {
            return;
        };
        let one = crate::eval::Front { count: 1, ..front.clone() };
        let Some((wide, left)) = self.share_front((&one, overlay), seen.across, ["for a front", "length"])
        else {
            return;
        };
        let y = self.rear_of_front((front, overlay), board, seen.front);
        let Some(slide) = self.slide_for(closing, drawers, (y, seen.front)) else { return };
        let ledger = &mut self.graph.ledger;
        let [from, to] = seen.across;
        let terms = [(1, to), (-1, from), (-2, drawers.slide.play)];
        let width = ledger.sum("width of the box", &terms, "the opening, less the slides at both sides");
        let [below, above] = seen.up;
        let room = ledger.sum("height of the opening", &[(1, above), (-1, below)], "");
        let count = i128::try_from(front.count).unwrap_or(i128::MAX);
        let each = ledger.divide("room of a drawer", room, Rational::from(count), "all of one height");
        let [low, over] = drawers.room;
        let height = match drawers.height {
            Some(height) => height,
            None => {
                let rule = "what is open behind the front, less the room under and over the box";
                ledger.sum("height of the box", &[(1, each), (-1, low), (-1, over)], rule)
            }
        };
        let left = ledger.sum("left edge", &left, "at the edge of the opening");
        // The bottom, the groove under it, and something over it.
        let terms = [(1, drawers.set_in), (1, bottom)];
        let least = ledger.sum("least height of a box", &terms, "the bottom and what is under it");
        let inner = ledger.sum("between the sides of the box", &[(1, width), (-2, side)], "");
        if height.value <= least.value || !inner.value.is_positive() || slide.0.value <= side.value {
            self.no_box(closing, drawers, (each, width));
            return;
        }
        if !self.has_room(front.count.saturating_mul(6)) {
            return;
        }
        let thick = [board, side, bottom];
        let front = [wide, high, left];
        let boxes = Boxes { closing, drawers, seen: &seen, thick, slide, width, height, front, y };
        for number in 1..=drawers.front.count {
            let mut terms = under.clone();
            let below = i128::try_from(number - 1).unwrap_or(i128::MAX);
            terms.extend([(below, high), (below, drawers.front.reveal)]);
            let z = self.graph.ledger.sum("lower edge", &terms, "after the fronts and reveals under it");
            let terms = [(1, seen.up[0]), (below, each), (1, low)];
            let up = self.graph.ledger.sum("lower edge of the box", &terms, "over the room under it");
            self.drawer(&boxes, number, (z, up, each));
        }
    }

    fn no_box(&mut self, closing: &Closing, drawers: &Drawers, (each, width): (Len, Len)) {
        let message = format!("nothing is left of the boxes of the drawers of `{}`", closing.path);
        let blamed = [(each, "the room of a drawer follows from this"), (width, "its width from this")];
        let told = Diagnostic::new(&codes::CLOSED, message);
        let told = self.blame(told, Some(drawers.front.head), "these drawers", &blamed);
        self.sink.push(told.help("ask for fewer drawers, or for a larger opening"));
    }

    /// The longest slide that a drawer has room for behind its front.
    fn slide_for(
        &mut self,
        closing: &Closing,
        drawers: &Drawers,
        (y, plane): (Len, Len),
    ) -> Option<(Len, usize)> {
        // Where the front lies over the edges, slides begin at these.
        let from = if y.value < plane.value { y } else { plane };
        let mut terms = vec![(1, from)];
        terms.extend(closing.rear.iter().map(|(times, len)| (-times, *len)));
        let rule = "from the wall, the back or the cleat to the front";
        let room = self.graph.ledger.sum("room for slides", &terms, rule);
        let lengths = &drawers.slide.lengths;
        let fit: Vec<(Len, usize)> =
            lengths.iter().filter(|(length, _)| length.value <= room.value).copied().collect();
        if let Some((longest, fastener)) = fit.last() {
            let lengths: Vec<Len> = fit.iter().map(|(length, _)| *length).collect();
            let rule = "the longest slide that there is room for";
            let length = self.graph.ledger.greatest("length of the slides", &lengths, rule);
            return Some((length.unwrap_or(*longest), *fastener));
        }
        let has = self.marks().print_rounded(room.value, Round::Down).to_string();
        let message = format!(
            "no slide `{}` is short enough for the drawers of `{}`",
            drawers.slide.name, closing.path
        );
        let mut blamed = vec![(room, "the room for it follows from this")];
        blamed.extend(lengths.first().map(|(shortest, _)| (*shortest, "the shortest one")));
        let told = Diagnostic::new(&codes::SLIDE, message);
        let told = self.blame(told, Some(drawers.front.head), "these drawers", &blamed);
        self.sink.push(
            told.help(format!("there is room for {has}: name a shorter slide, or make the unit deeper")),
        );
        None
    }

    fn drawer(&mut self, boxes: &Boxes<'_>, number: usize, (z, up, room): (Len, Len, Len)) {
        let Boxes { closing, drawers, seen, slide: (long, slide), .. } = *boxes;
        let [board, thick, bottom] = boxes.thick;
        let [wide, high, left] = boxes.front;
        let called = numbered(&closing.path, "drawer", drawers.front.name.as_deref(), number);
        let path = called.path;
        let ledger = &mut self.graph.ledger;
        let play = drawers.slide.play;
        let x = ledger.sum("left face of the box", &[(1, seen.across[0]), (1, play)], "beside the slide");
        let rear = ledger.sum("rear of the box", &[(1, boxes.y), (-1, long)], "behind the front");
        let within = ledger.sum("left face", &[(1, x), (1, thick)], "between the sides of the box");
        let far = [(1, x), (1, boxes.width), (-1, thick)];
        let far = ledger.sum("left face of the right side", &far, "of the box");
        let inner = ledger.sum("length", &[(1, boxes.width), (-2, thick)], "between the sides of the box");
        let near = [(1, boxes.y), (-1, thick)];
        let near = ledger.sum("rear face of the front end", &near, "behind the front");
        let (groove, edge) = (drawers.groove, drawers.bottom_play);
        let rule = "it stands in grooves of the sides, less the play there";
        let terms = [(1, boxes.width), (-2, thick), (2, groove), (-2, edge)];
        let across = ledger.sum("length", &terms, rule);
        let rule = "it stands in grooves of both ends, less the play there";
        let terms = [(1, long), (-2, thick), (2, groove), (-2, edge)];
        let deep = ledger.sum("width", &terms, rule);
        let terms = [(1, within), (-1, groove), (1, edge)];
        let bottom_x = ledger.sum("left end", &terms, "in the groove");
        let terms = [(1, rear), (1, thick), (-1, groove), (1, edge)];
        let bottom_y = ledger.sum("rear edge", &terms, "in the groove");
        let bottom_z =
            ledger.sum("underside", &[(1, up), (1, drawers.set_in)], "over the lower edge of the box");
        let side = Size { thickness: thick, width: boxes.height, length: long };
        let end = Size { thickness: thick, width: boxes.height, length: inner };
        let stock = match drawers.sides {
            BoxOf::Sheet(id) => Stock::Sheet(id),
            BoxOf::Board(position, _) => Stock::Board(position),
        };
        let size = Size { thickness: board, width: high, length: wide };
        let at = (size, Place { x: left, y: boxes.y, z });
        let called = Called::alone(&path, "front");
        let front = self.add_front((called, closing.owner), Role::DrawerFront, &drawers.front, at);
        let mut add = |called: Called, role: Role, stock: Stock, size: Size, place: Place| {
            self.add(Part::new(called, closing.owner, role, stock, size, place))
        };
        let of = |kind: &str, word: &str| Called::new(&path, kind, word);
        let at = |x: Len, y: Len| Place { x, y, z: up };
        let sides = [(Hand::Left, x), (Hand::Right, far)]
            .map(|(hand, x)| add(of("side", hand.word()), Role::DrawerSide(hand), stock, side, at(x, rear)));
        let ends = [(Face::Front, near, "front"), (Face::Rear, rear, "rear")]
            .map(|(face, y, word)| add(of("end", word), Role::DrawerEnd(face), stock, end, at(within, y)));
        let size = Size { thickness: bottom, width: deep, length: across };
        let place = Place { x: bottom_x, y: bottom_y, z: bottom_z };
        let called = Called::alone(&path, "bottom");
        let bottom = add(called, Role::DrawerBottom, Stock::Sheet(drawers.bottom), size, place);
        let (Some(front), [Some(left), Some(right)], [Some(near), Some(back)], Some(bottom)) =
            (front, sides, ends, bottom)
        else {
            return;
        };
        self.box_joints(drawers, ([left, right], [near, back], bottom), boxes.thick[2]);
        let row = self.graph.part(near).map_or(inner, |near| near.size.length);
        self.row_between((RowKind::DrawerFront, front, near), row, drawers.front_join, false);
        let single = |kind: RowKind, guest: PartId, host: Member, fastener: usize, length: Len| Row {
            kind,
            guest: guest.into(),
            host,
            length,
            fastener: Some(fastener),
            glued: false,
            spacing: Spacing::Single,
            count: 1,
        };
        self.graph.rows.push(single(RowKind::Slide, left, closing.uprights[0].into(), slide, long));
        if let Some(pull) = drawers.front.pull {
            let unit = Member::Unit(closing.unit);
            self.graph.rows.push(single(RowKind::Pull, front, unit, pull.fastener, wide));
        }
        let ledger = &mut self.graph.ledger;
        let packed = "as far as the stile laps the opening";
        let face = [(1, seen.across[0]), (-1, closing.inside)];
        let one = ledger.sum("packing behind the slide", &face, packed);
        let face = [(1, closing.inside), (1, closing.clear), (-1, seen.across[1])];
        let other = ledger.sum("packing behind the slide", &face, packed);
        let clear = [(1, seen.across[1]), (-1, seen.across[0])];
        let clear = ledger.sum("width of the opening", &clear, "");
        self.graph.drawers.push(Drawer {
            path,
            unit: closing.owner.unit,
            front,
            sides: [left, right],
            ends: [near, back],
            bottom,
            slide: long,
            play,
            packing: [one, other],
            up,
            room: [clear, room],
            head: drawers.front.head,
        });
    }

    /// The corners of a box, and the grooves for its bottom.
    fn box_joints(
        &mut self,
        drawers: &Drawers,
        (sides, ends, bottom): ([PartId; 2], [PartId; 2], PartId),
        thick: Len,
    ) {
        let zero =
            self.graph.ledger.usual("lower edge", crate::quantity::Length::ZERO, "flush with the sides");
        for end in ends {
            for side in sides {
                self.graph.join(Joint { guest: end, host: side, kind: JointKind::Butt, at: zero });
                let high = self.graph.part(end).map_or(thick, |end| end.size.width);
                self.row_between((RowKind::BoxCorner, end, side), high, drawers.corner, true);
            }
        }
        let rule = "as the bottom is thick";
        let width = self.graph.ledger.sum("width of the groove", &[(1, thick)], rule);
        for host in sides.into_iter().chain(ends) {
            let kind = JointKind::Groove { depth: drawers.groove, width, set_in: drawers.set_in };
            self.graph.join(Joint { guest: bottom, host, kind, at: drawers.set_in });
        }
    }
}
