//! Reads what is bought, and the tools of the shop.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Len;
use crate::eval::model::{
    Board, Clamps, Cuts, Fastener, Glue, Moulding, Offcut, Router, Sheet, SheetId, Shop, Sold, Vehicle,
};
use crate::quantity::Exact;
use crate::resolve::NodeId;
use crate::resolve::kinds::read;
use crate::resolve::kinds::{
    BOARD, BORER, CLAMP, GLUE, Grain, GuidedFrom, HINGE, LOT, MOULDING, MoreCuts, NAIL, OFFCUT, Optional,
    PERSON, PIN, PULL, Property, ROUTER, SAW, SCREW, SHEET, SLIDE, SOLD, VEHICLE,
};
use num_traits::ToPrimitive;
use std::sync::Arc;

impl Reader<'_> {
    /// All sheets of the file and of the library, and their lots as sheets of their own.
    pub(super) fn all_sheets(&mut self) -> Vec<Sheet> {
        let mut sheets = Vec::new();
        for id in self.everywhere("sheet") {
            let Some(sheet) = self.sheet(id) else { continue };
            self.sheets.insert(id, SheetId(sheets.len()));
            sheets.push(sheet.clone());
            for lot in self.by_name(id, "lot") {
                let Some(thickness) = self.read(lot, LOT.thickness) else { continue };
                let Some(name) = self.name(lot) else { continue };
                self.sheets.insert(lot, SheetId(sheets.len()));
                let name: Arc<str> = format!("{}.{name}", sheet.name).into();
                sheets.push(Sheet {
                    name,
                    lot_of: Some(sheet.name.clone()),
                    thickness,
                    measured: true,
                    head: Some(self.program.node(lot).head),
                    count: self.read(lot, LOT.count),
                    // What is on hand of the sheet itself belongs to no lot.
                    on_hand: 0,
                    sold: Vec::new(),
                    offcuts: self.offcuts(lot),
                    ..sheet.clone()
                });
            }
        }
        sheets
    }

    fn sheet(&mut self, id: NodeId) -> Option<Sheet> {
        let node = self.program.node(id);
        let nominal = self.read(id, SHEET.nominal);
        let measured = self.read(id, SHEET.thickness);
        let has_lots = self.program.children(id, "lot").next().is_some();
        if !self.is_stated(id, SHEET.nominal) && !self.is_stated(id, SHEET.thickness) && !has_lots {
            self.missing(id, SHEET.thickness);
        }
        let size = self.read(id, SHEET.size);
        let grain = self.usual(id, SHEET.grain) == Grain::Length;
        let skim = self.read(id, SHEET.skim);
        let density = self.read(id, SHEET.density).map(Exact::estimate);
        // Of a sheet without a size there is nothing to be smaller.
        let tolerance = if size.is_some() {
            Some(self.usual(id, SHEET.tolerance))
        } else {
            self.read(id, SHEET.tolerance)
        };
        let [stiffness, twist] = [SHEET.stiffness, SHEET.twist]
            .map(|property| self.read(id, property).map(|amount| amount.value.estimate()));
        // A sheet whose lots are measured needs no thickness of its own.
        let lot = self.by_name(id, "lot").into_iter().next();
        let lot = if self.is_stated(id, SHEET.thickness) {
            None
        } else {
            lot.and_then(|lot| self.read(lot, LOT.thickness))
        };
        let measured = measured.or(lot);
        Some(Sheet {
            name: self.name(id)?,
            text: self.text(id),
            lot_of: None,
            head: Some(node.head),
            size,
            thickness: measured.or(nominal)?,
            nominal,
            measured: measured.is_some(),
            grain,
            skim,
            density,
            tolerance,
            stiffness,
            twist,
            price: self.read(id, SHEET.price).map(|price| price.value),
            on_hand: self.usual(id, SHEET.on_hand),
            count: None,
            sold: self.sold(id),
            offcuts: self.offcuts(id),
        })
    }

    /// Other sizes in which a sheet is sold.
    fn sold(&mut self, id: NodeId) -> Vec<Sold> {
        let mut sold = Vec::new();
        for id in self.by_name(id, "sold") {
            let (Some(name), Some(size)) = (self.name(id), self.needed(id, SOLD.size)) else { continue };
            sold.push(Sold { name, size, price: self.read(id, SOLD.price).map(|price| price.value) });
        }
        sold
    }

    /// What was left of a sheet or a board.
    fn offcuts(&mut self, id: NodeId) -> Vec<Offcut> {
        let mut offcuts = Vec::new();
        for id in self.by_name(id, "offcut") {
            self.idle(id, OFFCUT.length.name, "only what is left of a moulding has a length alone");
            let (Some(name), Some((length, width))) = (self.name(id), self.needed(id, OFFCUT.size)) else {
                continue;
            };
            let Some(length) = self.of_use(id, length) else { continue };
            offcuts.push(Offcut { name, size: (length, width), count: self.usual(id, OFFCUT.count) });
        }
        offcuts
    }

    /// Sticks of a moulding that are there: what is of use of each, and how many.
    fn there(&mut self, id: NodeId) -> Vec<(Len, usize)> {
        let mut there = Vec::new();
        for id in self.by_name(id, "offcut") {
            self.idle(id, OFFCUT.size.name, "a moulding is as wide as it is: state its `length`");
            let Some(length) = self.needed(id, OFFCUT.length) else { continue };
            let Some(length) = self.of_use(id, length) else { continue };
            there.push((length, self.usual(id, OFFCUT.count)));
        }
        there
    }

    /// What is left of a length without what is spoilt of it.
    fn of_use(&mut self, id: NodeId, length: Len) -> Option<Len> {
        let Some(spoilt) = self.read(id, OFFCUT.spoilt) else { return Some(length) };
        let rule = "old mitres and the damage of nails are cut off it";
        let of_use = self.eval.ledger.sum("of use", &[(1, length), (-1, spoilt)], rule);
        if of_use.value.is_positive() {
            return Some(of_use);
        }
        let message = "nothing of it is of use: all of its length is spoilt".to_owned();
        let told = Diagnostic::new(&codes::RANGE, message).at(self.span(id, OFFCUT.spoilt), "");
        self.eval.sink.push(told.help("state what is cut off both ends together, or leave the piece out"));
        None
    }

    /// Says where a size is stated that changes nothing.
    pub(super) fn idle(&mut self, id: NodeId, name: &'static str, why: &str) {
        if self.program.property(id, name).is_none() {
            return;
        }
        let told = Diagnostic::new(&codes::IDLE, format!("`{name}` changes nothing here: {why}"));
        self.eval.sink.push(told.at(self.place(id, name), "").help("delete it"));
    }

    pub(super) fn boards(&mut self) -> Vec<Board> {
        let mut boards = Vec::new();
        for id in self.everywhere("board") {
            let Some(name) = self.name(id) else { continue };
            let [density, stiffness] = [BOARD.density, BOARD.stiffness]
                .map(|property| self.read(id, property).map(|amount| amount.value.estimate()));
            let [waste, swell] =
                [BOARD.waste, BOARD.swell].map(|property| self.read(id, property).map(|ratio| ratio.value));
            let thickness = self.read(id, BOARD.thickness);
            self.positions.insert(id, boards.len());
            let width = self.read(id, BOARD.width);
            let (lengths, price) = (self.sold_lengths(id, BOARD.lengths), self.read(id, BOARD.price));
            let (text, offcuts) = (self.text(id), self.offcuts(id));
            boards.push(Board {
                name,
                text,
                thickness,
                density,
                stiffness,
                swell,
                waste,
                width,
                lengths,
                price,
                offcuts,
            });
        }
        boards
    }

    pub(super) fn moulding(&mut self, id: NodeId) -> Option<Moulding> {
        let width = self.needed(id, MOULDING.width);
        let spring = self.needed(id, MOULDING.spring).map(|amount| amount.value.estimate());
        let lengths = self.sold_lengths(id, MOULDING.lengths);
        let price = self.read(id, MOULDING.price).map(|price| price.value);
        let (name, text) = (self.name(id)?, self.text(id));
        let there = self.there(id);
        Some(Moulding { name, text, width: width?, spring: spring?, lengths, price, there })
    }

    /// Lengths in which something is sold, the shortest first.
    pub(super) fn sold_lengths<W>(&mut self, id: NodeId, lengths: Property<read::Numbers, W>) -> Vec<Len> {
        let mut lengths: Vec<Len> = self.lengths(id, lengths).into_iter().flatten().collect();
        lengths.retain(|len| len.value.is_positive());
        lengths.sort_by_key(|len| len.value);
        lengths
    }

    pub(super) fn fasteners(&mut self) -> Vec<Fastener> {
        let mut fasteners = Vec::new();
        for id in self.everywhere("nail") {
            let (length, price) = (self.read(id, NAIL.length), self.read(id, NAIL.price));
            let nail = self.fastener(id, NAIL.r#box, price);
            self.add_fastener(id, nail.map(|nail| Fastener { length, ..nail }), &mut fasteners);
        }
        for id in self.everywhere("screw") {
            let (length, price) = (self.read(id, SCREW.length), self.read(id, SCREW.price));
            let plug = self.read(id, SCREW.plug);
            let screw = self.fastener(id, SCREW.r#box, price);
            let gauge = self.read(id, SCREW.gauge).and_then(|gauge| gauge.value.value.to_integer().to_u32());
            let screw = screw.map(|screw| Fastener { length, screw: true, plug, gauge, ..screw });
            self.add_fastener(id, screw, &mut fasteners);
        }
        for id in self.everywhere("pin") {
            let (diameter, price) = (self.read(id, PIN.diameter), self.read(id, PIN.price));
            let pin = self.fastener(id, PIN.r#box, price);
            self.add_fastener(id, pin.map(|pin| Fastener { diameter, ..pin }), &mut fasteners);
        }
        for (kind, price) in [("hinge", HINGE.price), ("pull", PULL.price)] {
            for id in self.everywhere(kind) {
                let piece = self.piece(id, price);
                self.add_fastener(id, piece, &mut fasteners);
            }
        }
        for id in self.everywhere("slide") {
            let (lengths, piece) = (self.sold_lengths(id, SLIDE.lengths), self.piece(id, SLIDE.price));
            // Each length is something else to buy; they stand together, the shortest first.
            self.positions.insert(id, fasteners.len());
            for (at, length) in lengths.iter().enumerate() {
                let name = |name: Arc<str>| match lengths.len() {
                    1 => name,
                    _ => format!("{name}[{}]", at + 1).into(),
                };
                let of_length = |piece: Fastener| Fastener {
                    name: name(piece.name.clone()),
                    length: Some(*length),
                    ..piece
                };
                fasteners.extend(piece.clone().map(of_length));
            }
        }
        fasteners
    }

    /// What is bought by the piece.
    fn piece(&mut self, id: NodeId, price: Property<read::Price, Optional>) -> Option<Fastener> {
        let price = self.read(id, price).map(|price| price.value);
        let (name, text) = (self.name(id)?, self.text(id));
        Some(Fastener { price, text, by_piece: true, ..Fastener::new(name) })
    }

    /// What nails, screws and pins have in common.
    fn fastener(
        &mut self,
        id: NodeId,
        per_box: Property<read::Amount, Optional>,
        price: Option<Exact>,
    ) -> Option<Fastener> {
        let per_box = self.read(id, per_box).and_then(|count| count.value.value.to_integer().to_usize());
        let (name, text, price) = (self.name(id)?, self.text(id), price.map(|price| price.value));
        Some(Fastener { text, per_box, price, ..Fastener::new(name) })
    }

    fn add_fastener(&mut self, id: NodeId, fastener: Option<Fastener>, fasteners: &mut Vec<Fastener>) {
        let Some(fastener) = fastener else { return };
        self.positions.insert(id, fasteners.len());
        fasteners.push(fastener);
    }

    pub(super) fn glues(&mut self) -> Vec<Glue> {
        let mut glues = Vec::new();
        for id in self.everywhere("glue") {
            let Some(name) = self.name(id) else { continue };
            let [open, in_clamps, spread] =
                [GLUE.open, GLUE.in_clamps, GLUE.spread].map(|property| self.read(id, property));
            let (text, bottles) = (self.text(id), self.cans(id, GLUE.bottles, GLUE.prices));
            self.positions.insert(id, glues.len());
            glues.push(Glue { name, text, open, in_clamps, spread, bottles });
        }
        glues
    }

    pub(super) fn shop(&mut self) -> Shop {
        let mut shop = Shop::default();
        let mut cuts: Option<Cuts> = None;
        for id in self.shared("saw") {
            let own = self.read(id, SAW.cuts).map_or_else(Cuts::default, |cuts| Cuts {
                trim: cuts.contains(&MoreCuts::Trim),
                across: cuts.contains(&MoreCuts::Across),
            });
            cuts =
                Some(cuts.map_or(own, |cuts| Cuts {
                    trim: cuts.trim || own.trim,
                    across: cuts.across || own.across,
                }));
            let kerf = self.read(id, SAW.kerf);
            shop.kerf = shop.kerf.or(kerf);
            let reach = self.read(id, SAW.reach);
            shop.reach = shop.reach.into_iter().chain(reach).max_by_key(|reach| reach.value);
            let fence = self.read(id, SAW.fence);
            shop.fence = shop.fence.into_iter().chain(fence).max_by_key(|fence| fence.value);
        }
        shop.cuts = cuts.unwrap_or_default();
        if let Some(id) = self.shared("router").first().copied() {
            let [base, bit] = [ROUTER.base, ROUTER.bit].map(|property| self.needed(id, property));
            let step = self.read(id, ROUTER.step);
            let above = self.usual(id, ROUTER.guide) == GuidedFrom::Above;
            shop.router = base.zip(bit).map(|(base, bit)| Router { base, bit, step, above });
        }
        if let Some(id) = self.shared("borer").first().copied() {
            shop.grid = self.read(id, BORER.pitch);
        }
        for id in self.shared("clamp") {
            let opens = self.read(id, CLAMP.opens);
            let count = self.read(id, CLAMP.count);
            shop.clamps.extend(count.map(|count| Clamps { count, opens }));
        }
        if let Some(id) = self.shared("person").first().copied() {
            [shop.joint, shop.people, shop.carries] =
                [PERSON.joint, PERSON.count, PERSON.carries].map(|property| self.read(id, property));
        }
        if let Some(id) = self.shared("vehicle").first().copied() {
            let [length, width] = [VEHICLE.length, VEHICLE.width].map(|property| self.needed(id, property));
            shop.vehicle = length.zip(width).map(|(length, width)| Vehicle { length, width });
        }
        shop
    }
}
