//! Reads stated values by the handles that the kinds declare for their properties.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Len;
use crate::eval::model::{Amount, Fill, Load, Share};
use crate::eval::value::{Number, Value};
use crate::quantity::{Exact, Rational, unit};
use crate::resolve::NodeId;
use crate::resolve::kinds::read::{self, Marker, Words};
use crate::resolve::kinds::{LoadClass, Needed, Property, Usual, UsualLength};
use crate::source::Span;
use jiff::civil::DateTime;
use num_traits::{Signed, ToPrimitive};
use std::sync::Arc;

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

    fn place(&self, id: NodeId, name: &str) -> Span {
        let node = self.program.node(id);
        let stated = self.program.property(id, name).and_then(|index| node.properties.get(index));
        stated.map_or(node.head, |stated| stated.value.span)
    }

    fn value(&mut self, id: NodeId, name: &str) -> Option<Value> {
        let index = self.program.property(id, name)?;
        Some(self.eval.value(id, index))
    }

    fn number(&mut self, id: NodeId, name: &str) -> Option<Number> {
        match self.value(id, name)? {
            Value::Number(number) => Some(number),
            _ => None,
        }
    }

    /// Says that a value must be something else.
    fn out_of_range(&mut self, id: NodeId, name: &str, needed: &str, help: Option<&str>) {
        let diagnostic = Diagnostic::new(&codes::RANGE, format!("the {name} must {needed}"));
        let diagnostic = diagnostic.at(self.place(id, name), "");
        self.eval.sink.push(match help {
            Some(help) => diagnostic.help(help),
            None => diagnostic,
        });
    }
}

/// What to do about a length that cannot be.
const MEASURED: Option<&str> = Some("state the size as it is measured");

impl Read for read::Positive {
    type Value = Len;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Len> {
        let len = reader.number(id, name)?.len()?;
        if !len.value.is_positive() {
            reader.out_of_range(id, name, "be more than zero", MEASURED);
            return None;
        }
        Some(len)
    }
}

impl OrUsual for read::Positive {
    fn usual(reader: &mut Reader<'_>, usual: UsualLength) -> Len {
        reader.usual_length(usual)
    }
}

impl Read for read::NotNegative {
    type Value = Len;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Len> {
        let len = reader.number(id, name)?.len()?;
        if len.value.is_negative() {
            reader.out_of_range(id, name, "be zero or more", MEASURED);
            return None;
        }
        Some(len)
    }
}

impl OrUsual for read::NotNegative {
    fn usual(reader: &mut Reader<'_>, usual: UsualLength) -> Len {
        reader.usual_length(usual)
    }
}

impl Read for read::Amount {
    type Value = Amount;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Amount> {
        let number = reader.number(id, name)?;
        if !number.exact.value.is_positive() {
            reader.out_of_range(id, name, "be more than zero", None);
            return None;
        }
        Some(Amount { value: number.exact, why: number.why })
    }
}

impl Read for read::Number {
    type Value = Exact;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Exact> {
        reader.number(id, name).map(|number| number.exact)
    }
}

impl OrUsual for read::Number {
    fn usual(_: &mut Reader<'_>, ((over, under), word): Self::Usual) -> Exact {
        let value = Rational::new(over, under.max(1));
        unit(word).map_or(Exact::number(value), |unit| Exact { value: value * unit.factor, dim: unit.dim })
    }
}

impl Read for read::Whole {
    type Value = i128;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<i128> {
        reader.number(id, name).map(|number| number.exact.value.to_integer())
    }
}

impl Read for read::Count {
    type Value = usize;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<usize> {
        let count = reader.number(id, name)?.exact.value.to_integer().to_usize();
        if count.is_none() {
            reader.out_of_range(id, name, "be zero or more", None);
        }
        count
    }
}

impl OrUsual for read::Count {
    fn usual(_: &mut Reader<'_>, usual: usize) -> usize {
        usual
    }
}

impl Read for read::Share {
    type Value = Fill;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Fill> {
        match reader.value(id, name)? {
            Value::Share(linear, round, span) => Some(Fill::Share(Share { linear, round, span: Some(span) })),
            _ => read::Positive::read(reader, id, name).map(Fill::Fixed),
        }
    }
}

impl Read for read::Numbers {
    type Value = Vec<(Option<Number>, Span)>;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Self::Value> {
        match reader.value(id, name)? {
            Value::Numbers(numbers) => Some(numbers),
            _ => None,
        }
    }
}

impl Read for read::Price {
    type Value = Exact;

    /// Nothing is given away, but what is on hand may be stated as free.
    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Exact> {
        let price = reader.number(id, name)?.exact;
        if price.value.is_negative() {
            reader.out_of_range(id, name, "be zero or more", None);
            return None;
        }
        Some(price)
    }
}

impl Read for read::Size {
    type Value = (Len, Len);

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<(Len, Len)> {
        let Value::Size(length, width) = reader.value(id, name)? else { return None };
        let (length, width) = (length.len()?, width.len()?);
        if length.value.is_positive() && width.value.is_positive() {
            return Some((length, width));
        }
        reader.eval.sink.push(
            Diagnostic::new(&codes::RANGE, "a sheet has a length and a width of more than zero")
                .at(reader.place(id, name), ""),
        );
        None
    }
}

impl Read for read::Text {
    type Value = Arc<str>;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Arc<str>> {
        match reader.value(id, name)? {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }
}

impl Read for read::Date {
    type Value = DateTime;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<DateTime> {
        match reader.value(id, name)? {
            Value::Date(date) => Some(date),
            _ => None,
        }
    }
}

impl<W: Words> Read for read::Choice<W> {
    type Value = W;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<W> {
        match reader.value(id, name)? {
            Value::Word(word) => W::of(word),
            _ => None,
        }
    }
}

impl<W: Words> OrUsual for read::Choice<W> {
    fn usual(_: &mut Reader<'_>, usual: W) -> W {
        usual
    }
}

impl<W: Words> Read for read::Choices<W> {
    type Value = Vec<W>;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Vec<W>> {
        match reader.value(id, name)? {
            Value::Words(words) => Some(words.into_iter().filter_map(|(word, _)| W::of(word)).collect()),
            _ => None,
        }
    }
}

impl Read for read::Member {
    type Value = NodeId;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<NodeId> {
        match reader.value(id, name)? {
            Value::Member(member) => Some(member),
            _ => None,
        }
    }
}

impl Read for read::Members {
    type Value = Vec<NodeId>;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Vec<NodeId>> {
        match reader.value(id, name)? {
            Value::Members(members) => Some(members),
            _ => None,
        }
    }
}

impl Read for read::Names {
    type Value = Vec<(Arc<str>, Span)>;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Self::Value> {
        match reader.value(id, name)? {
            Value::Names(names) => Some(names),
            _ => None,
        }
    }
}

impl Read for read::Load {
    type Value = Load;

    fn read(reader: &mut Reader<'_>, id: NodeId, name: &'static str) -> Option<Load> {
        match reader.value(id, name)? {
            Value::Word(word) => LoadClass::of(word).map(|class| match class {
                LoadClass::Books => Load::Books,
                LoadClass::Other => Load::Other,
            }),
            Value::Number(number) => Some(Load::Line(number.exact.estimate())),
            _ => None,
        }
    }
}
