//! Reads stated values by the handles that the kinds declare for their properties.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Len;
use crate::eval::value::{Number, Value};
use crate::resolve::NodeId;
use crate::resolve::kinds::read::{self, Marker};
use crate::resolve::kinds::{Needed, Property, Usual, UsualLength};
use crate::source::Span;

/// A way to read a property.
pub(super) trait Read: Marker {
    /// What it gives.
    type Value;

    /// The stated value; `None` where it is not stated or a message was given.
    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Self::Value>;
}

/// A way to read a property that has a usual value.
pub(super) trait OrUsual: Read {
    /// The value where none is stated.
    fn usual(reader: &mut Reader<'_>, usual: Self::Usual) -> Self::Value;
}

impl Reader<'_> {
    /// The stated value; `None` where it is not stated or a message was given.
    pub(super) fn read<T: Read, W>(&mut self, id: NodeId, property: Property<T, W>) -> Option<T::Value> {
        T::read(self, id, property.name)
    }

    /// The stated value; where it is not stated, that is noted as missing.
    pub(super) fn needed<T: Read>(&mut self, id: NodeId, property: Property<T, Needed>) -> Option<T::Value> {
        if !self.is_stated(id, property) {
            self.missing(id, property);
        }
        self.read(id, property)
    }

    /// The stated value, or the usual one where it is not stated or a message was given.
    pub(super) fn usual<T: OrUsual>(
        &mut self,
        id: NodeId,
        property: Property<T, Usual<T::Usual>>,
    ) -> T::Value {
        match self.read(id, property) {
            Some(value) => value,
            None => T::usual(self, property.without.0),
        }
    }

    /// The stated value, or the usual one where it is not stated; `None` where a message was given.
    pub(super) fn or_usual<T: OrUsual>(
        &mut self,
        id: NodeId,
        property: Property<T, Usual<T::Usual>>,
    ) -> Option<T::Value> {
        if self.is_stated(id, property) { self.read(id, property) } else { Some(self.unstated(property)) }
    }

    /// A length that may be zero elsewhere, and not here.
    pub(super) fn more_than_zero<W>(
        &mut self,
        id: NodeId,
        property: Property<read::NotNegative, W>,
        len: Len,
    ) -> Option<Len> {
        if len.value.is_zero() {
            self.out_of_range(id, property.name, "be more than zero", MEASURED);
            return None;
        }
        Some(len)
    }

    /// The usual value of a property whose member is not there.
    pub(super) fn unstated<T: OrUsual>(&mut self, property: Property<T, Usual<T::Usual>>) -> T::Value {
        T::usual(self, property.without.0)
    }

    /// A usual length in inches or millimetres, by the project's marks.
    pub(super) fn usual_length(&mut self, usual: UsualLength) -> Len {
        let [inches, mm] = usual.values;
        let [inch, metric] = usual.sources;
        let source = if self.metric { metric } else { inch };
        let value = self.system().length(inches, mm);
        self.eval.ledger.usual(usual.label, value, source.text)
    }

    /// A count of one or more; `what` is counted, `help` what to do where it is none.
    pub(super) fn needed_count(
        &mut self,
        id: NodeId,
        count: Property<read::Whole, Needed>,
        [what, help]: [&str; 2],
    ) -> Option<usize> {
        let stated = self.needed(id, count)?;
        let whole = usize::try_from(stated).ok().filter(|count| *count > 0);
        if whole.is_none() {
            let message = format!("the count of {what} must be one or more");
            let diagnostic = Diagnostic::new(&codes::RANGE, message).at(self.span(id, count), "");
            self.eval.sink.push(diagnostic.help(help));
        }
        whole
    }

    /// Whether a property is stated.
    pub(super) fn is_stated<T, W>(&self, id: NodeId, property: Property<T, W>) -> bool {
        self.program.property(id, property.name).is_some()
    }

    /// Where a property is stated; where it is not, the head of its member.
    pub(super) fn span<T, W>(&self, id: NodeId, property: Property<T, W>) -> Span {
        self.place(id, property.name)
    }

    /// Where a value stands that is a reading not taken yet.
    pub(super) fn unread<T, W>(&mut self, id: NodeId, property: Property<T, W>) -> Option<Span> {
        match self.value(id, property.name) {
            Some(Value::Unread(span)) => Some(span),
            _ => None,
        }
    }

    pub(super) fn place(&self, id: NodeId, name: &str) -> Span {
        let node = self.program.node(id);
        let stated = self.program.property(id, name).and_then(|index| node.properties.get(index));
        stated.map_or(node.head, |stated| stated.value.span)
    }

    pub(super) fn value(&mut self, id: NodeId, name: &str) -> Option<Value> {
        let index = self.program.property(id, name)?;
        Some(self.eval.value(id, index))
    }

    pub(super) fn number(&mut self, id: NodeId, name: &str) -> Option<Number> {
        match self.value(id, name)? {
            Value::Number(number) => Some(number),
            _ => None,
        }
    }

    /// Says that a value must be something else.
    pub(super) fn out_of_range(&mut self, id: NodeId, name: &str, needed: &str, help: Option<&str>) {
        let diagnostic = Diagnostic::new(&codes::RANGE, format!("the {name} must {needed}"));
        let diagnostic = diagnostic.at(self.place(id, name), "");
        self.eval.sink.push(match help {
            Some(help) => diagnostic.help(help),
            None => diagnostic,
        });
    }
}

/// What to do about a length that cannot be.
pub(super) const MEASURED: Option<&str> = Some("state the size as it is measured");
