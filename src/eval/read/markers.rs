//! How each marker of a property is read, and what stands for it where it is not stated.

use super::Reader;
use super::property::{MEASURED, OrUsual, Read};
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Len;
use crate::eval::model::{Amount, Fill, Load, Share};
use crate::eval::value::{Number, Value};
use crate::quantity::{Exact, Rational, unit};
use crate::resolve::NodeId;
use crate::resolve::kinds::read::{self, Words};
use crate::resolve::kinds::{LoadClass, UsualLength};
use crate::source::Span;
use jiff::civil::DateTime;
use num_traits::{Signed, ToPrimitive};
use std::sync::Arc;

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
