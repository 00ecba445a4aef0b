//! A carcass: two sides that run through; shelves, cleats and stretchers between them.

use super::around::Around;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Carcass, Dado, Facing, Foot, Len, Stretcher, Width};
use crate::parts::{
    Called, Face, Hand, Joint, JointKind, Owner, Part, PartId, Place, Role, RunId, Size, Slant, Stock,
    StretcherAt, Unit, UnitId,
};
use crate::quantity::Length;

/// What holds the ends of shelves: a side, or a divider.
#[derive(Clone, Copy)]
pub(super) struct Upright {
    pub part: PartId,
    /// How a shelf is held in it.
    pub dado: Dado,
    /// Where its lower end stands; `None` for a side, which stands on the bottom end of the unit.
    pub foot: Option<Len>,
}

/// What all parts between two uprights have in common.
#[derive(Clone)]
pub(super) struct Between<'a> {
    pub carcass: &'a Carcass,
    pub unit: UnitId,
    pub run: Option<RunId>,
    pub path: String,
    pub thickness: Len,
    pub clear: Len,
    pub zero: Len,
    /// Where what stands between the sides begins: at the inner face of the left one.
    pub inside: Len,
    pub sides: [Upright; 2],
    /// Whether it is a bay, and not the whole carcass.
    pub bay: bool,
    /// Where shelves end at the rear: at the wall, or at the back.
    pub rear: Len,
    /// How deep shelves and dividers are.
    pub deep: Len,
    /// What stands before its front edges.
    pub facing: Option<&'a Facing>,
    /// Whether a crown closes the room over its top shelf.
    pub crowned: bool,
    /// What its parts are cut round.
    pub around: &'a Around<'a>,
    /// The slope that its parts stay under.
    pub slant: Option<Slant>,
}

/// What stands before the front edges of a unit.
#[derive(Clone, Copy)]
pub(super) struct Front<'a> {
    pub facing: &'a Facing,
    /// How far a stile over a seam reaches over the opening.
    pub lap: Len,
    /// How far those at its sides do.
    pub laps: [Len; 2],
    /// Whether a crown stands on the top rails.
    pub crowned: bool,
}

impl Between<'_> {
    /// Whose its parts are.
    pub fn owner(&self) -> Owner {
        Owner { unit: Some(self.unit), run: self.run }
    }
}

impl Lowering<'_> {
    /// The parts of one carcass, `width` over its sides, `x` from the left end of its run.
    pub(super) fn carcass(
        &mut self,
        carcass: &Carcass,
        (Called { path, name, .. }, run): (Called, Option<RunId>),
        width: Len,
        (x, around): (Option<Len>, &Around<'_>),
        front: Option<Front<'_>>,
    ) {
        let Some(sheet) = self.model.sheets.get(carcass.sheet.0) else { return };
        let thickness = sheet.thickness;
        let along = x.map(|x| [x, width]);
        let Some((carcass, under)) = self.under_ceiling(carcass, &path, run, along) else { return };
        let Some(carcass) = self.over_base(&carcass, &path) else { return };
        let carcass = &self.behind_edge(carcass, &path, front.map(|front| front.facing));
        if !self.has_room(6 + 2 * (carcass.marks.len() + carcass.levels.len())) {
            return;
        }
        let ledger = &mut self.graph.ledger;
        let clear = match carcass.width {
            Width::Clear(clear) => clear,
            Width::Over(_) | Width::Share(_) | Width::AsUnder => ledger.sum(
                "clear width",
                &[(1, width), (-2, thickness)],
                "the sides run through; clear is what is between",
            ),
        };
        let zero = ledger.usual(
            "outer face",
            Length::ZERO,
            "places in a unit count from its left, rear, bottom corner",
        );
        if !clear.value.is_positive() {
            let message = format!("nothing is left between the sides of `{path}`");
            let blamed = [(width, "its width"), (thickness, "the thickness of a side")];
            let diagnostic =
                self.blame(Diagnostic::new(&codes::NO_CLEAR, message), carcass.head, "this carcass", &blamed);
            let least = thickness.value.checked_mul(crate::quantity::Rational::from(2)).unwrap_or_default();
            let help = format!("two sides take {}; make it wider", self.marks().print(least));
            self.sink.push(diagnostic.help(help));
            return;
        }
        let title = match (&carcass.text, &carcass.name) {
            (Some(text), _) => text.to_string(),
            (None, Some(name)) => name.to_string(),
            (None, None) => name.to_string(),
        };
        let back = self.back_room(carcass, zero);
        let depth = back.as_ref().map_or(carcass.depth, |back| back.depth);
        let y = back.as_ref().map_or(zero, |back| back.sides);
        let stands = match (&carcass.hung, carcass.foot) {
            (Some(hung), _) => Some(hung.foot),
            (None, Foot::Base(base)) => Some(base.height),
            (None, Foot::Sides | Foot::Notched(_)) => None,
        };
        let Ok(slant) = self.slant(carcass, &path, under, (y, stands)) else { return };
        let unit = self.next_unit();
        let first_joint = self.graph.joints.len();
        self.graph.units.push(Unit {
            path: path.clone(),
            run,
            name,
            title,
            head: carcass.head,
            notes: carcass.notes.clone(),
            sheet: carcass.sheet,
            width,
            clear,
            height: carcass.height,
            stands,
            hung: carcass.hung.is_some(),
            toe: Self::toe_space(carcass.foot),
            depth,
            slant,
            edged: carcass.edge.as_ref().and_then(|edge| edge.thickness),
            lap: front.map_or(zero, |front| front.lap),
            laps: front.map_or([zero; 2], |front| front.laps),
            x,
            screw_window: None,
            studs: Vec::new(),
        });
        if carcass.edge.is_some() {
            self.graph.taped.insert(unit);
        }
        let far = self.graph.ledger.sum("left face of the right side", &[(1, width), (-1, thickness)], "");
        let size = Size { thickness, width: carcass.depth, length: carcass.height };
        let between = Between {
            carcass,
            unit,
            run,
            path,
            thickness,
            clear,
            zero,
            inside: thickness,
            sides: [Upright { part: PartId(0), dado: carcass.dado, foot: None }; 2],
            bay: false,
            rear: back.as_ref().map_or(zero, |back| back.rear),
            deep: back.as_ref().map_or(carcass.depth, |back| back.deep),
            facing: front.map(|front| front.facing),
            crowned: front.is_some_and(|front| front.crowned),
            around,
            slant,
        };
        if !self.stands_under(&between) {
            return;
        }
        let mut side = |hand: Hand, x: Len| {
            let called = Called::new(&between.path, "side", hand.word());
            self.part(&between, called, Role::Side(hand), size, Place { x, y, z: zero })
        };
        let (Some(left), Some(right)) = (side(Hand::Left, zero), side(Hand::Right, far)) else { return };
        let sides = [left, right].map(|part| Upright { part, dado: carcass.dado, foot: None });
        let between = Between { sides, ..between };
        if let Some(marks) = self.shelves(&between) {
            let marks = marks.map(|mark| mark.height);
            if self.toe_fits(&between, marks[0]) {
                self.stretchers(&between, marks);
                self.base(&between, width);
                self.counter(&between, width, depth);
                self.doors(&between, (width, depth, marks[0]));
                self.closes(&between, depth);
            }
            if let Some(back) = &back {
                self.back(&between, back, marks[0]);
            }
        }
        self.holes(carcass, unit);
        self.carcass_rows(carcass, unit, first_joint);
    }

    pub(super) fn part(
        &mut self,
        between: &Between<'_>,
        called: Called,
        role: Role,
        size: Size,
        place: Place,
    ) -> Option<PartId> {
        let stock = Stock::Sheet(between.carcass.sheet);
        self.add(Part::new(called, between.owner(), role, stock, size, place))
    }

    /// Joins a part to both uprights.
    pub(super) fn between(&mut self, between: &Between<'_>, guest: PartId, kind: JointKind, height: Len) {
        for upright in between.sides {
            let at = self.on_host(upright.foot, height);
            self.graph.join(Joint { guest, host: upright.part, kind, at });
        }
    }

    /// A height of the unit as it is measured on a part that stands on `foot`.
    pub(super) fn on_host(&mut self, foot: Option<Len>, height: Len) -> Len {
        match foot {
            Some(foot) => {
                self.graph.ledger.sum("mark", &[(1, height), (-1, foot)], "from the lower end of the divider")
            }
            None => height,
        }
    }

    fn stretchers(&mut self, between: &Between<'_>, [bottom_mark, top_mark]: [Len; 2]) {
        if let Some(stretcher) = between.carcass.bottom_stretcher {
            let height = match stretcher.height {
                Some(height) => height,
                None => {
                    let rule = if between.carcass.hung.is_some() {
                        "from the bottom ends of the sides to the bottom shelf"
                    } else {
                        "it stands on the floor and carries the bottom shelf"
                    };
                    self.graph.ledger.sum("stretcher height", &[(1, bottom_mark)], rule)
                }
            };
            let room = bottom_mark;
            if self.fits(between, "bottom", height, room) {
                let z = self.graph.ledger.sum(
                    "bottom edge",
                    &[(1, bottom_mark), (-1, height)],
                    "under the bottom shelf",
                );
                self.stretcher(between, StretcherAt::Bottom, stretcher, height, z);
            }
        }
        if let Some(stretcher) = between.carcass.top_stretcher {
            // A top in rabbets takes its thickness of that.
            let boards = if between.carcass.top { -2 } else { -1 };
            let over = [(1, between.carcass.height), (-1, top_mark), (boards, between.thickness)];
            let room = self.graph.ledger.sum("room over the top shelf", &over, "");
            let height = stretcher.height.unwrap_or(room);
            if self.fits(between, "top", height, room) {
                let z = self.graph.ledger.sum(
                    "bottom edge",
                    &[(1, top_mark), (1, between.thickness)],
                    "on the top shelf",
                );
                self.stretcher(between, StretcherAt::Top, stretcher, height, z);
            }
        }
    }

    fn fits(&mut self, between: &Between<'_>, place: &str, height: Len, room: Len) -> bool {
        if height.value <= room.value && height.value.is_positive() {
            return true;
        }
        let (has, needs) =
            (self.marks().print_rounded(room.value, crate::quantity::Round::Down), self.print(height));
        let (message, help) = if room.value.is_positive() {
            let message =
                format!("the {place} stretcher of `{}` is {needs} high in a place of {has}", between.path);
            (message, format!("make it {has} or less, or move the shelf"))
        } else {
            let message = format!("the {place} stretcher of `{}` has no place", between.path);
            (message, "move the shelf, or leave the stretcher out".to_owned())
        };
        let diagnostic = Diagnostic::new(&codes::STRETCHER, message);
        let blamed = [(height, "its height"), (room, "its place follows from this")];
        let diagnostic = self.blame(diagnostic, between.carcass.head, "this carcass", &blamed);
        self.sink.push(diagnostic.help(help));
        false
    }

    fn stretcher(&mut self, between: &Between<'_>, at: StretcherAt, stated: Stretcher, height: Len, z: Len) {
        let rule = "a stretcher stands between the sides";
        let length = self.graph.ledger.sum("length", &[(1, between.clear)], rule);
        let size = Size { thickness: between.thickness, width: height, length };
        let mut front = vec![(1, between.rear), (1, between.deep), (-1, between.thickness)];
        let rule = match (between.carcass.foot, at) {
            (Foot::Notched(toe), StretcherAt::Bottom) => {
                front.push((-1, toe.depth));
                "behind the toe space"
            }
            _ => "flush with the front edges",
        };
        let front = self.graph.ledger.sum("rear face of the front stretcher", &front, rule);
        let place = match at {
            StretcherAt::Bottom => "bottom",
            StretcherAt::Top => "top",
        };
        let both =
            [(stated.front, Face::Front, front, "front"), (stated.rear, Face::Rear, between.rear, "rear")];
        for (_, face, y, word) in both.into_iter().filter(|(stands, ..)| *stands) {
            let called = Called::new(&between.path, &format!("stretcher.{place}"), word);
            let place = Place { x: between.inside, y, z };
            let stock = Stock::Sheet(between.carcass.sheet);
            let part =
                Part::new(called.clone(), between.owner(), Role::Stretcher(at, face), stock, size, place);
            if self.cut_away(between.around, &part) {
                continue;
            }
            if let Some(id) = self.part(between, called, Role::Stretcher(at, face), size, place) {
                self.between(between, id, JointKind::Butt, z);
            }
        }
    }
}
