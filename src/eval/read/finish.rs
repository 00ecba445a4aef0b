//! Reads how the work is painted.

use super::{Reader, Sign};
use crate::eval::model::{Amount, Caulk, Coating, Finish, FinishWork};
use crate::eval::value::Value;
use crate::quantity::Rational;
use crate::resolve::NodeId;

impl Reader<'_> {
    pub(super) fn finish(&mut self) -> Option<Finish> {
        let id = self.shared("finish").first().copied()?;
        let coats = match self.value(id, "coats") {
            Some(Value::Members(coats)) => coats.into_iter().filter_map(|coat| self.coating(coat)).collect(),
            Some(_) => return None,
            None => {
                self.missing(id, "coats", "coats = [primer, enamel, enamel]");
                return None;
            }
        };
        let loss = match self.value(id, "loss") {
            Some(Value::Number(number)) => number.exact.value,
            // Common practice, no source: a tenth stays in tray and brush.
            _ => Rational::new(1, 10),
        };
        let caulk = match self.value(id, "caulk") {
            Some(Value::Member(caulk)) => self.caulk(caulk),
            _ => None,
        };
        let filler = match self.value(id, "filler") {
            Some(Value::Member(filler)) => self.name(filler),
            _ => None,
        };
        let [easing, filling, sanding, caulking, sanding_between] =
            ["easing", "filling", "sanding", "caulking", "sanding_between"].map(|name| self.amount(id, name));
        let work = FinishWork { easing, filling, sanding, caulking, sanding_between };
        Some(Finish { coats, loss, caulk, filler, work })
    }

    fn coating(&mut self, id: NodeId) -> Option<Coating> {
        let mut cans: Vec<Amount> = match self.value(id, "cans") {
            Some(Value::Numbers(cans)) => cans
                .into_iter()
                .filter_map(|(can, _)| can.map(|can| Amount { value: can.exact, why: can.why }))
                .collect(),
            _ => Vec::new(),
        };
        cans.sort_by_key(|can| can.value.value);
        Some(Coating {
            name: self.name(id)?,
            text: self.text(id),
            spread: self.amount(id, "spread"),
            work: self.amount(id, "work"),
            wait: self.amount(id, "wait"),
            light_load: self.amount(id, "light_load"),
            full_load: self.amount(id, "full_load"),
            cans,
        })
    }

    fn caulk(&mut self, id: NodeId) -> Option<Caulk> {
        Some(Caulk {
            name: self.name(id)?,
            text: self.text(id),
            bead: self.length(id, "bead", Sign::Positive),
            cartridge: self.amount(id, "cartridge"),
        })
    }
}
