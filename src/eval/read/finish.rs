//! Reads how the work is painted.

use super::{Reader, Sign};
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::model::{Can, Caulk, Coating, Finish, FinishWork};
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
        let loaded = match self.value(id, "loaded") {
            Some(Value::Date(date)) => Some((date, self.span(id, "loaded"))),
            _ => None,
        };
        Some(Finish { coats, loss, caulk, filler, work, loaded })
    }

    fn coating(&mut self, id: NodeId) -> Option<Coating> {
        Some(Coating {
            name: self.name(id)?,
            text: self.text(id),
            spread: self.amount(id, "spread"),
            work: self.amount(id, "work"),
            wait: self.amount(id, "wait"),
            light_load: self.amount(id, "light_load"),
            full_load: self.amount(id, "full_load"),
            cans: self.cans(id, "cans"),
        })
    }

    /// Sizes in which a liquid is sold, with their prices where those are stated; the smallest first.
    pub(super) fn cans(&mut self, id: NodeId, property: &'static str) -> Vec<Can> {
        let Some(Value::Numbers(sizes)) = self.value(id, property) else { return Vec::new() };
        let prices = match self.value(id, "prices") {
            Some(Value::Numbers(prices)) => prices,
            _ => Vec::new(),
        };
        if !prices.is_empty() && prices.len() != sizes.len() {
            let message = format!("{} prices stand for {} {property}", prices.len(), sizes.len());
            self.eval.sink.push(
                Diagnostic::new(&codes::PRICES, message)
                    .at(self.span(id, "prices"), "")
                    .and_at(self.span(id, property), "the sizes")
                    .help("state one price for each size, in the same order"),
            );
        }
        let mut cans = Vec::new();
        for (place, (size, _)) in sizes.into_iter().enumerate() {
            let Some(size) = size.filter(|size| size.exact.value > Rational::from(0)) else { continue };
            let price = prices.get(place).and_then(|(price, _)| *price).map(|price| price.exact.value);
            cans.push(Can { holds: size.exact, price });
        }
        cans.sort_by_key(|can| can.holds.value);
        cans
    }

    fn caulk(&mut self, id: NodeId) -> Option<Caulk> {
        Some(Caulk {
            name: self.name(id)?,
            text: self.text(id),
            bead: self.length(id, "bead", Sign::Positive),
            cartridge: self.amount(id, "cartridge"),
            price: self.price(id, "price"),
        })
    }
}
