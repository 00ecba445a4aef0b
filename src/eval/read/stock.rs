//! Reads what is bought, and the tools of the shop.

use super::{Reader, Sign};
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Len;
use crate::eval::model::{Board, Fastener, Glue, Moulding, Router, Sheet, SheetId, Shop};
use crate::eval::value::{Number, Value};
use crate::resolve::NodeId;
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
        let tolerance = self.length(id, "tolerance", Sign::NotNegative);
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
        })
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
            let thickness = self.length(id, "thickness", Sign::Positive);
            self.positions.insert(id, boards.len());
            boards.push(Board { name, text: self.text(id), thickness, density, stiffness, waste });
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
        let mut lengths: Vec<Len> = self.lengths(id, "lengths").into_iter().flatten().collect();
        lengths.sort_by_key(|len| len.value);
        Some(Moulding { name: self.name(id)?, text: self.text(id), width: width?, spring: spring?, lengths })
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
                self.positions.insert(id, fasteners.len());
                fasteners.push(Fastener { name, text: self.text(id), length, per_box, screw, plug });
            }
        }
        fasteners
    }

    pub(super) fn glues(&mut self) -> Vec<Glue> {
        let mut glues = Vec::new();
        for id in self.everywhere("glue") {
            let Some(name) = self.name(id) else { continue };
            let [open, spread] = ["open", "spread"].map(|name| self.amount(id, name));
            self.positions.insert(id, glues.len());
            glues.push(Glue { name, text: self.text(id), open, spread });
        }
        glues
    }

    pub(super) fn shop(&mut self) -> Shop {
        let mut shop = Shop::default();
        for id in self.shared("saw") {
            let kerf = self.length(id, "kerf", Sign::NotNegative);
            shop.kerf = shop.kerf.or(kerf);
        }
        if let Some(id) = self.shared("router").first().copied() {
            let [base, bit] = ["base", "bit"].map(|name| self.length(id, name, Sign::Positive));
            shop.router = base.zip(bit).map(|(base, bit)| Router { base, bit });
        }
        if let Some(id) = self.shared("person").first().copied() {
            [shop.joint, shop.people] = ["joint", "count"].map(|name| self.amount(id, name));
        }
        shop
    }
}
