//! Reads what is bought, and the tools of the shop.

use super::{Reader, Sign};
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Len;
use crate::eval::model::{
    Board, Clamps, Fastener, Glue, Moulding, Offcut, Router, Sheet, SheetId, Shop, Sold, Vehicle,
};
use crate::eval::value::{Number, Value};
use crate::quantity::{Exact, Rational};
use crate::resolve::NodeId;
use num_traits::Signed;
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
                let Some(thickness) = self.length(lot, "thickness", Sign::Positive) else { continue };
                let Some(name) = self.name(lot) else { continue };
                self.sheets.insert(lot, SheetId(sheets.len()));
                let name: Arc<str> = format!("{}.{name}", sheet.name).into();
                sheets.push(Sheet {
                    name,
                    thickness,
                    measured: true,
                    head: Some(self.program.node(lot).head),
                    count: self.count(lot, "count"),
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
        let nominal = self.length(id, "nominal", Sign::Positive);
        let measured = self.length(id, "thickness", Sign::Positive);
        let has_lots = self.program.children(id, "lot").next().is_some();
        if !self.is_stated(id, "nominal") && !self.is_stated(id, "thickness") && !has_lots {
            self.missing(
                id,
                "thickness",
                if self.metric { "thickness = 17.6mm" } else { "thickness = 23/32\"" },
            );
        }
        let size = match self.value(id, "size") {
            Some(Value::Size(length, width)) => self.size(id, length, width),
            _ => None,
        };
        let grain = !matches!(self.value(id, "grain"), Some(Value::Word("none")));
        let skim = self.length(id, "skim", Sign::NotNegative);
        let density = match self.value(id, "density") {
            Some(Value::Number(number)) => Some(number.exact.estimate()),
            _ => None,
        };
        let mut tolerance = self.length(id, "tolerance", Sign::NotNegative);
        if size.is_some() && !self.is_stated(id, "tolerance") {
            let source =
                if self.metric { "EN 315: +-3.5 mm; from memory: verify" } else { "PS 1-19: +0 -1/16 in" };
            tolerance = Some(self.usual("sheet tolerance", (1, 16), (7, 2), source));
        }
        let [stiffness, twist] =
            ["stiffness", "twist"].map(|name| self.amount(id, name).map(|a| a.value.estimate()));
        // A sheet whose lots are measured needs no thickness of its own.
        let lot = self.by_name(id, "lot").into_iter().next();
        let lot = if self.is_stated(id, "thickness") {
            None
        } else {
            lot.and_then(|lot| self.length(lot, "thickness", Sign::Positive))
        };
        let measured = measured.or(lot);
        Some(Sheet {
            name: self.name(id)?,
            text: self.text(id),
            head: Some(node.head),
            size,
            thickness: measured.or(nominal)?,
            measured: measured.is_some(),
            grain,
            skim,
            density,
            tolerance,
            stiffness,
            twist,
            price: self.price(id, "price"),
            on_hand: self.count(id, "on_hand").unwrap_or(0),
            count: None,
            sold: self.sold(id),
            offcuts: self.offcuts(id),
        })
    }

    /// Other sizes in which a sheet is sold.
    fn sold(&mut self, id: NodeId) -> Vec<Sold> {
        let mut sold = Vec::new();
        for id in self.by_name(id, "sold") {
            let (Some(name), Some(size)) = (self.name(id), self.needed_size(id)) else { continue };
            sold.push(Sold { name, size, price: self.price(id, "price") });
        }
        sold
    }

    /// What was left of a sheet or a board.
    fn offcuts(&mut self, id: NodeId) -> Vec<Offcut> {
        let mut offcuts = Vec::new();
        for id in self.by_name(id, "offcut") {
            let (Some(name), Some(size)) = (self.name(id), self.needed_size(id)) else { continue };
            offcuts.push(Offcut { name, size, count: self.count(id, "count").unwrap_or(1) });
        }
        offcuts
    }

    fn needed_size(&mut self, id: NodeId) -> Option<(Len, Len)> {
        match self.value(id, "size") {
            Some(Value::Size(length, width)) => self.size(id, length, width),
            Some(_) => None,
            None => {
                let example = if self.metric { "size = 800mm x 600mm" } else { "size = 30\" x 24\"" };
                self.missing(id, "size", example);
                None
            }
        }
    }

    /// A price; nothing is given away, but what is on hand may be stated as free.
    pub(super) fn price(&mut self, id: NodeId, property: &'static str) -> Option<Rational> {
        self.priced(id, property).map(|price| price.value)
    }

    fn priced(&mut self, id: NodeId, property: &'static str) -> Option<Exact> {
        match self.value(id, property) {
            Some(Value::Number(number)) if !number.exact.value.is_negative() => Some(number.exact),
            Some(Value::Number(_)) => {
                self.eval.sink.push(
                    Diagnostic::new(&codes::RANGE, format!("the {property} must not be less than nothing"))
                        .at(self.span(id, property), ""),
                );
                None
            }
            _ => None,
        }
    }

    /// A count of zero or more.
    pub(super) fn count(&mut self, id: NodeId, property: &'static str) -> Option<usize> {
        let Some(Value::Number(number)) = self.value(id, property) else { return None };
        let count = num_traits::ToPrimitive::to_usize(&number.exact.value.to_integer());
        if count.is_none() {
            self.eval.sink.push(
                Diagnostic::new(&codes::RANGE, format!("the {property} must be zero or more"))
                    .at(self.span(id, property), ""),
            );
        }
        count
    }

    /// A count of one or more; `example` is what to write where it is missing, `help` what to do where it is none.
    pub(super) fn needed_count(&mut self, id: NodeId, [what, example, help]: [&str; 3]) -> Option<usize> {
        if !self.is_stated(id, "count") {
            self.missing(id, "count", example);
            return None;
        }
        let Some(Value::Number(number)) = self.value(id, "count") else { return None };
        let count =
            num_traits::ToPrimitive::to_usize(&number.exact.value.to_integer()).filter(|count| *count > 0);
        if count.is_none() {
            let message = format!("the count of {what} must be one or more");
            let diagnostic = Diagnostic::new(&codes::RANGE, message).at(self.span(id, "count"), "");
            self.eval.sink.push(diagnostic.help(help));
        }
        count
    }

    fn size(&mut self, id: NodeId, length: Number, width: Number) -> Option<(Len, Len)> {
        let (length, width) = (length.len()?, width.len()?);
        if length.value.is_positive() && width.value.is_positive() {
            return Some((length, width));
        }
        self.eval.sink.push(
            Diagnostic::new(&codes::RANGE, "a sheet has a length and a width of more than zero")
                .at(self.span(id, "size"), ""),
        );
        None
    }

    pub(super) fn boards(&mut self) -> Vec<Board> {
        let mut boards = Vec::new();
        for id in self.everywhere("board") {
            let Some(name) = self.name(id) else { continue };
            let [density, stiffness] =
                ["density", "stiffness"].map(|name| self.amount(id, name).map(|a| a.value.estimate()));
            let waste = match self.value(id, "waste") {
                Some(Value::Number(number)) => Some(number.exact.value),
                _ => None,
            };
            let swell = match self.value(id, "swell") {
                Some(Value::Number(number)) => Some(number.exact.value),
                _ => None,
            };
            let thickness = self.length(id, "thickness", Sign::Positive);
            self.positions.insert(id, boards.len());
            let width = self.length(id, "width", Sign::Positive);
            let (lengths, price) = (self.sold_lengths(id), self.priced(id, "price"));
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
        let width =
            self.needed_length(id, "width", if self.metric { "width = 90mm" } else { "width = 3 5/8\"" });
        if !self.is_stated(id, "spring") {
            self.missing(id, "spring", "spring = 38 deg");
        }
        let spring = self.amount(id, "spring").map(|amount| amount.value.estimate());
        let (lengths, price) = (self.sold_lengths(id), self.price(id, "price"));
        let (name, text) = (self.name(id)?, self.text(id));
        Some(Moulding { name, text, width: width?, spring: spring?, lengths, price })
    }

    /// Lengths in which something is sold, the shortest first.
    fn sold_lengths(&mut self, id: NodeId) -> Vec<Len> {
        let mut lengths: Vec<Len> = self.lengths(id, "lengths").into_iter().flatten().collect();
        lengths.retain(|len| len.value.is_positive());
        lengths.sort_by_key(|len| len.value);
        lengths
    }

    pub(super) fn fasteners(&mut self) -> Vec<Fastener> {
        let mut fasteners = Vec::new();
        for kind in ["nail", "screw", "pin"] {
            for id in self.everywhere(kind) {
                let Some(name) = self.name(id) else { continue };
                let length = self.length(id, "length", Sign::Positive);
                let per_box = match self.amount(id, "box") {
                    Some(count) => num_traits::ToPrimitive::to_usize(&count.value.value.to_integer()),
                    None => None,
                };
                let screw = kind == "screw";
                let plug = if screw { self.length(id, "plug", Sign::Positive) } else { None };
                let (text, price) = (self.text(id), self.price(id, "price"));
                self.positions.insert(id, fasteners.len());
                fasteners.push(Fastener { name, text, length, per_box, screw, plug, price });
            }
        }
        fasteners
    }

    pub(super) fn glues(&mut self) -> Vec<Glue> {
        let mut glues = Vec::new();
        for id in self.everywhere("glue") {
            let Some(name) = self.name(id) else { continue };
            let [open, spread] = ["open", "spread"].map(|name| self.amount(id, name));
            let (text, bottles) = (self.text(id), self.cans(id, "bottles"));
            self.positions.insert(id, glues.len());
            glues.push(Glue { name, text, open, spread, bottles });
        }
        glues
    }

    pub(super) fn shop(&mut self) -> Shop {
        let mut shop = Shop::default();
        for id in self.shared("saw") {
            let kerf = self.length(id, "kerf", Sign::NotNegative);
            shop.kerf = shop.kerf.or(kerf);
            let reach = self.length(id, "reach", Sign::Positive);
            shop.reach = shop.reach.into_iter().chain(reach).max_by_key(|reach| reach.value);
            let fence = self.length(id, "fence", Sign::Positive);
            shop.fence = shop.fence.into_iter().chain(fence).max_by_key(|fence| fence.value);
        }
        if let Some(id) = self.shared("router").first().copied() {
            let [base, bit] = ["base", "bit"].map(|name| self.length(id, name, Sign::Positive));
            shop.router = base.zip(bit).map(|(base, bit)| Router { base, bit });
        }
        for id in self.shared("clamp") {
            let opens = self.length(id, "opens", Sign::Positive);
            let count = self.amount(id, "count");
            shop.clamps.extend(count.map(|count| Clamps { count, opens }));
        }
        if let Some(id) = self.shared("person").first().copied() {
            [shop.joint, shop.people] = ["joint", "count"].map(|name| self.amount(id, name));
        }
        if let Some(id) = self.shared("vehicle").first().copied() {
            let example =
                if self.metric { ["length = 2.5m", "width = 1.1m"] } else { ["length = 8'", "width = 44\""] };
            let length = self.needed_length(id, "length", example[0]);
            let width = self.needed_length(id, "width", example[1]);
            shop.vehicle = length.zip(width).map(|(length, width)| Vehicle { length, width });
        }
        shop
    }
}
