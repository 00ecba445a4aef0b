//! What is stated and rarely so: each value beside the usual range of its property, readings beside their sisters, marks beside
//! their neighbours on the stick.

use super::Reader;
use crate::diag::{Diagnostic, Edit, Instead, Label};
use crate::eval::codes;
use crate::eval::ledger::{Len, Why};
use crate::eval::meant::{literal, lost_space, meant, one_figure};
use crate::eval::measures::path_of;
use crate::eval::value::{Number, Value};
use crate::quantity::{Dim, Exact, Length, Rational, some};
use crate::resolve::kinds::{CARCASS, CEILING, READING, SHEET, SLOPE, Usually, Without, kind};
use crate::resolve::{NodeId, PropertySpec};
use crate::source::Span;
use crate::syntax::{Binary, ExprKind};
use num_traits::Signed;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// How many changes are proposed for one value, each to be tried.
const TRIED: usize = 5;

/// Currencies of which a unit buys about as much, so that a range in one holds for all.
const ALIKE: [[u8; 3]; 6] = [*b"USD", *b"EUR", *b"GBP", *b"CHF", *b"CAD", *b"AUD"];

/// A stated number, and where.
#[derive(Clone, Copy)]
struct Stated {
    exact: Exact,
    span: Span,
}

impl Stated {
    fn rises_to(&self, other: &Self) -> bool {
        self.exact.value < other.exact.value
    }
}

/// The places of marks that are not lower than the next one.
fn falls(marks: &[(String, Stated)]) -> impl Iterator<Item = usize> {
    let falls = |(_, pair): &(usize, &[(String, Stated)])| !matches!(pair, [(_, a), (_, b)] if a.rises_to(b));
    marks.windows(2).enumerate().filter(falls).map(|(place, _)| place)
}

/// The marks without which all the others stand in their order; none where there are too few to tell, or where some are only
/// alike.
fn odd(marks: &[(String, Stated)]) -> Vec<usize> {
    let falls_back = |(_, a): &(String, Stated), (_, b): &(String, Stated)| b.rises_to(a);
    let back = marks.windows(2).any(|pair| matches!(pair, [a, b] if falls_back(a, b)));
    let Some(place) = falls(marks).next().filter(|_| back && marks.len() > 3) else { return Vec::new() };
    // The others leave this pair as it stands.
    let mut odd = vec![place, place + 1];
    odd.retain(|place| {
        let others: Vec<&Stated> =
            marks.iter().enumerate().filter(|(other, _)| other != place).map(|(_, (_, mark))| mark).collect();
        others.windows(2).all(|pair| matches!(pair, [a, b] if a.rises_to(b)))
    });
    odd
}

/// A ceiling that slopes is read at a knee wall, which is as low as its slope may end.
fn usual_at_knee(spec: Option<&'static PropertySpec>) -> Option<&'static PropertySpec> {
    let level = || kind("slope")?.properties.iter().find(|spec| spec.name == SLOPE.level.name);
    if spec.is_some_and(|spec| spec.name == CEILING.above.name) { level() } else { spec }
}

impl Reader<'_> {
    /// Tells what is stated outside of its usual range.
    pub(super) fn doubts(&mut self) {
        let ids: Vec<NodeId> = self.program.ids().collect();
        let highest = self.highest();
        // A value is compared with its neighbours before it is compared with what is usual everywhere.
        for id in &ids {
            let id = *id;
            match self.program.node(id).kind.word {
                "wall" => self.sisters(id),
                "stick" => self.stick(id, highest.get(&id).copied().flatten()),
                "ceiling" => {
                    let all = self.lengths(id, CEILING.above).into_iter().flatten().collect();
                    self.apart(id, "ceiling height", all);
                }
                "sheet" => {
                    self.size_turned(id);
                    self.not_nominal(id);
                }
                _ => {}
            }
        }
        for id in ids {
            self.out_of_usual(id);
        }
        self.tell_doubts();
    }

    fn out_of_usual(&mut self, id: NodeId) {
        let node = self.program.node(id);
        for (index, stated) in node.properties.iter().enumerate() {
            let numbers = match self.eval.value(id, index) {
                Value::Number(number) => vec![(number, None)],
                Value::Numbers(all) => {
                    all.into_iter().filter_map(|(number, _)| Some((number?, None))).collect()
                }
                Value::Size(length, width) => {
                    let [along, across] = match &stated.value.kind {
                        ExprKind::Binary(Binary::By, along, across) => [along.span, across.span].map(Some),
                        _ => [None, None],
                    };
                    vec![(length, along), (width, across)]
                }
                _ => Vec::new(),
            };
            let spec = node.kind.properties.iter().find(|spec| *spec.name == *stated.name.text);
            let knee = node.kind.word == "ceiling" && self.program.children(id, "slope").next().is_some();
            let spec = if knee { usual_at_knee(spec) } else { spec };
            for (number, span) in numbers {
                let Some(at) = self.stated(number.why, number.exact) else { continue };
                let at = Stated { span: span.unwrap_or(at.span), ..at };
                let usually = spec.and_then(|spec| {
                    spec.usually.iter().find(|usually| {
                        let ends = usually.doubt(self.system());
                        ends.into_iter().flatten().any(|end| end.dim == number.exact.dim)
                    })
                });
                if let Some((spec, usually)) = spec.zip(usually) {
                    self.beside_usual(id, spec, usually, number.why, at);
                }
                self.without_space(id, at);
            }
        }
    }

    /// `13/4"`, where a tape shows `1 3/4"`.
    fn without_space(&mut self, id: NodeId, stated: Stated) {
        if stated.exact.dim != Dim::LENGTH {
            return;
        }
        let text = self.written(stated);
        let likely = lost_space(&text);
        // What is taken in its place is written otherwise.
        if likely.is_empty() || literal(&text) != Some(stated.exact) {
            return;
        }
        let message = format!("a fraction of more than one, {}, is unusual", self.show(stated));
        let diagnostic = Diagnostic::new(&codes::UNUSUAL, message)
            .at(stated.span, "between a whole number and a fraction stands a space");
        let instead = self.instead(stated, likely, Vec::new());
        self.doubt(id, diagnostic, instead);
    }

    fn beside_usual(
        &mut self,
        id: NodeId,
        spec: &PropertySpec,
        usually: &'static Usually,
        why: Why,
        stated: Stated,
    ) {
        let money = [Dim::MONEY, Dim::LINE_PRICE, Dim::AREA_PRICE, Dim::VOLUME_PRICE];
        let foreign = money.contains(&stated.exact.dim)
            && self.currency.is_none_or(|currency| !ALIKE.contains(&currency));
        let [least, greatest] = usually.doubt(self.system());
        let within = |exact: Exact, [least, greatest]: [Option<Exact>; 2]| {
            least.is_none_or(|least| least.value <= exact.value)
                && greatest.is_none_or(|greatest| exact.value <= greatest.value)
        };
        // Nothing is stated as nothing, and what is below that is told by itself.
        if foreign || !stated.exact.value.is_positive() || within(stated.exact, [least, greatest]) {
            return;
        }
        let narrow = usually.range(self.system()).map(|end| end.and_then(|end| end.exact()));
        let likely = meant(&self.written(stated), self.project_system());
        let fits = |text: &&String, ends| {
            literal(text).is_some_and(|exact| exact.dim == stated.exact.dim && within(exact, ends))
        };
        let mut likely: Vec<String> = [narrow, [least, greatest]]
            .into_iter()
            .flat_map(|ends| likely.iter().filter(move |text| fits(text, ends)).cloned().collect::<Vec<_>>())
            .collect();
        let mut seen = Vec::new();
        likely.retain(|text| {
            !seen.contains(text) && {
                seen.push(text.clone());
                true
            }
        });
        let usual = match spec.without {
            Without::Length(usual) => {
                let [inches, mm] = usual.values;
                Some(in_mm(self.system().length(inches, mm)))
            }
            _ => None,
        };
        let middle = least.zip(greatest).and_then(|(least, greatest)| {
            least.checked_add(greatest)?.checked_mul(Exact::number(Rational::new(1, 2)))?.length().map(in_mm)
        });
        let ends = usually.beyond(self.system()).unwrap_or(usually.range(self.system()));
        let [low, high] = ends.map(|end| end.map(|end| end.to_string()));
        let neutral = [usual, low, middle, high].into_iter().flatten();
        let name = usually.called.map_or_else(|| self.called(spec.name, why), str::to_owned);
        let range = self.in_words(usually);
        let message = format!("{} of {} is unusual", a(&name), self.show(stated));
        let diagnostic = Diagnostic::new(&codes::UNUSUAL, message).at(stated.span, range);
        let source = format!("source of the range: {}", usually.source.text);
        let instead = self.instead(stated, likely, neutral.collect());
        self.doubt(id, diagnostic.note(source), instead);
    }

    /// What a message calls a value: by the name of its property, and by its member too where every kind has such a one.
    fn called(&self, name: &str, why: Why) -> String {
        const EVERYWHERE: [&str; 11] = [
            "box",
            "clear",
            "count",
            "depth",
            "height",
            "length",
            "price",
            "size",
            "spread",
            "thickness",
            "width",
        ];
        match self.eval.ledger.entry(why) {
            Some(entry) if EVERYWHERE.contains(&name) => entry.label.text().replace('_', " "),
            _ => name.replace('_', " "),
        }
    }

    /// The usual range in words.
    fn in_words(&self, usually: &Usually) -> String {
        let range = usually.range(self.system());
        let ends = range.map(|end| end.map(|end| end.to_string()));
        match ends {
            [Some(least), Some(greatest)] if usually.beyond(self.system()) == Some(range) => {
                format!("rarely under {least} or over {greatest}")
            }
            [Some(least), Some(greatest)] => format!("usually {least} to {greatest}"),
            [Some(least), None] => format!("usually at least {least}"),
            [None, Some(greatest)] => format!("usually at most {greatest}"),
            [None, None] => String::new(),
        }
    }

    /// Readings of the width of one wall.
    fn sisters(&mut self, wall: NodeId) {
        let program = self.program;
        let readings: Vec<NodeId> = program.children(wall, "reading").collect();
        let mut all: Vec<Len> = Vec::new();
        for id in readings {
            all.extend(
                [READING.back, READING.front].into_iter().filter_map(|property| self.read(id, property)),
            );
        }
        self.apart(wall, "width", all);
    }

    /// Says which of several readings of one thing stands apart from all others, where those agree.
    fn apart(&mut self, id: NodeId, name: &str, all: Vec<Len>) {
        if all.len() < 3 {
            return;
        }
        let mut sorted: Vec<Length> = all.iter().map(|len| len.value).collect();
        sorted.sort_unstable();
        let (Some([low, lower]), Some([higher, high])) = (sorted.first_chunk(), sorted.last_chunk()) else {
            return;
        };
        for len in &all {
            // The ends of the others.
            let least = if len.value == *low { *lower } else { *low };
            let greatest = if len.value == *high { *higher } else { *high };
            let spread = greatest.checked_sub(least).unwrap_or_default();
            let off = if len.value < least {
                least.checked_sub(len.value)
            } else {
                len.value.checked_sub(greatest)
            };
            let (Some(off), Some(step)) = (off, spread.checked_mul(Rational::from(2))) else { continue };
            let one = self.system().length((1, 1), (25, 1));
            // Where they differ among themselves, none of them stands apart.
            if off <= step.max(one) || spread > self.system().length((3, 1), (75, 1)) {
                continue;
            }
            let Some(stated) = self.stated(len.why, len.value.into()) else { continue };
            let (low, high) = (least.checked_sub(one), greatest.checked_add(one));
            let (Some(low), Some(high)) = (low, high) else { continue };
            let likely = self.between(stated, low, high);
            // Without a slip that explains it, only what no wall and no ceiling does.
            let tenth = greatest.checked_div(Rational::from(10)).unwrap_or_default();
            if likely.is_empty() && off <= tenth.max(self.system().length((3, 1), (75, 1))) {
                continue;
            }
            let (said, from) = (self.show(stated), self.marks.print_fine(least));
            let message = format!("{} of {said} is unusual beside the others", a(name));
            let label = format!("the others are {from} to {}", self.marks.print_fine(greatest));
            let diagnostic = Diagnostic::new(&codes::UNUSUAL, message).at(stated.span, label);
            let instead = self.instead(stated, likely, vec![in_mm(least)]);
            self.doubt(id, diagnostic, instead);
        }
    }

    /// What may be meant by a length, of what lies between two others: the slips of the hand first, then another figure;
    /// the nearest to the middle first.
    fn between(&self, stated: Stated, low: Length, high: Length) -> Vec<String> {
        let text = self.written(stated);
        let middle = low.checked_add(high).and_then(|sum| sum.checked_div(Rational::from(2))).unwrap_or(low);
        let (mut seen, mut near) = (Vec::new(), Vec::new());
        for (class, texts) in [meant(&text, self.project_system()), one_figure(&text)].into_iter().enumerate()
        {
            for (place, text) in texts.into_iter().enumerate() {
                let Some(length) = literal(&text).and_then(Exact::length) else { continue };
                if low <= length && length <= high && !seen.contains(&length) {
                    seen.push(length);
                    // Of the slips of the hand the likeliest comes first, of other figures the nearest.
                    let far = length.apart(middle).filter(|_| class > 0).unwrap_or_default();
                    near.push((class, far, place, text));
                }
            }
        }
        near.sort();
        near.into_iter().map(|(.., text)| text).collect()
    }

    /// Marks in another order than on the stick, or above the ends of the sides.
    fn stick(&mut self, id: NodeId, highest: Option<(NodeId, Number)>) {
        let node = self.program.node(id);
        let mut marks: Vec<(String, Stated)> = Vec::new();
        for (index, stated) in node.properties.iter().enumerate().filter(|(_, mark)| mark.takes.is_some()) {
            let Value::Number(number) = self.eval.value(id, index) else { continue };
            let Some(place) = self.stated(number.why, number.exact) else { return };
            marks.push((stated.name.text.to_string(), place));
        }
        let falls = marks.windows(2).all(|pair| matches!(pair, [(_, a), (_, b)] if b.rises_to(a)));
        let top = highest.and_then(|(_, height)| height.exact.length());
        let above = |mark: &Stated| top.is_some_and(|top| mark.exact.value > top.mm());
        if marks.iter().filter(|(_, mark)| above(mark)).count() > 1 {
            self.sides_too_short(id, &marks, highest);
            return;
        }
        let between: Vec<[Option<Length>; 2]> = (0..marks.len())
            .map(|place| {
                let near =
                    |other: Option<&(String, Stated)>| other.and_then(|(_, other)| other.exact.length());
                let before =
                    place.checked_sub(1).map_or(Some(Length::ZERO), |before| near(marks.get(before)));
                let after = near(marks.get(place + 1)).filter(|after| top.is_none_or(|top| *after <= top));
                [before, after.or(top)]
            })
            .collect();
        if let Some(place) = marks.iter().position(|(_, mark)| above(mark)) {
            return self.mark(id, &marks, &between, (place, top));
        }
        if marks.len() < 3 || falls {
            return;
        }
        let odd = odd(&marks);
        let slipped = |place: &&usize| {
            let (Some((_, mark)), Some([Some(low), Some(high)])) = (marks.get(**place), between.get(**place))
            else {
                return false;
            };
            let all = meant(&self.written(*mark), self.marks.system());
            let lengths = all.iter().filter_map(|text| literal(text).and_then(Exact::length));
            low < high && lengths.into_iter().any(|length| *low <= length && length <= *high)
        };
        let slipped: Vec<usize> = odd.iter().filter(slipped).copied().collect();
        match (slipped.as_slice(), odd.first()) {
            ([only], _) => self.mark(id, &marks, &between, (*only, None)),
            (_, Some(first)) => {
                if !self.swapped(id, &marks, top) {
                    self.mark(id, &marks, &between, (*first, None));
                }
            }
            (_, None) => _ = self.swapped(id, &marks, top),
        }
    }

    /// Doubts one mark: it lies above the ends of the sides, or out of the order of the others.
    fn mark(
        &mut self,
        id: NodeId,
        marks: &[(String, Stated)],
        between: &[[Option<Length>; 2]],
        (place, top): (usize, Option<Length>),
    ) {
        let Some((name, mark)) = marks.get(place) else { return };
        let said = self.show(*mark);
        let (message, label) = match top {
            Some(top) => (
                format!("the mark `{name}` at {said} lies above the ends of the sides"),
                format!("the sides end at {}", self.marks.print_fine(top)),
            ),
            None => (
                format!("the mark `{name}` at {said} stands against the order of its stick"),
                "the others stand in their order".to_owned(),
            ),
        };
        let (mut likely, mut middle) = (Vec::new(), None);
        if let Some([Some(low), Some(high)]) = between.get(place).filter(|[low, high]| low < high) {
            likely = self.between(*mark, *low, *high);
            middle = low.checked_add(*high).and_then(|sum| sum.checked_div(Rational::from(2)));
        }
        let diagnostic = Diagnostic::new(&codes::UNUSUAL, message).at(mark.span, label);
        let instead = self.instead(*mark, likely, middle.map(in_mm).into_iter().collect());
        self.doubt(id, diagnostic, instead);
    }

    /// Two marks that would stand in order if each had the other's height.
    fn swapped(&mut self, id: NodeId, marks: &[(String, Stated)], top: Option<Length>) -> bool {
        // Where two are swapped, the first one is higher than the next and the second one lower than the one before.
        let mut falls = falls(marks);
        let Some(one) = falls.next() else { return false };
        let other = falls.last().unwrap_or(one) + 1;
        let (Some((first, a)), Some((second, b))) = (marks.get(one), marks.get(other)) else { return false };
        let turned = |place: usize| match place {
            place if place == one => Some(b),
            place if place == other => Some(a),
            place => marks.get(place).map(|(_, mark)| mark),
        };
        let rises = |place: usize| turned(place).zip(turned(place + 1)).is_none_or(|(a, b)| a.rises_to(b));
        // What no side has room for is not in another one's place.
        let within = top.is_none_or(|top| a.exact.value <= top.mm());
        if !within || !(0..marks.len()).all(rises) {
            return false;
        }
        let message = format!(
            "the marks `{first}` at {} and `{second}` at {} stand against the order of their stick",
            self.show(*a),
            self.show(*b)
        );
        let diagnostic = Diagnostic::new(&codes::UNUSUAL, message)
            .at(a.span, "higher than the marks after it")
            .and_at(b.span, "lower than the marks before it");
        let edit = |at: &Stated, text: String| Edit { span: at.span, text };
        let edits = vec![edit(a, self.written(*b)), edit(b, self.written(*a))];
        let meant = Some(format!("`{first}` {} and `{second}` {}", self.show(*b), self.show(*a)));
        self.doubt(id, diagnostic, vec![Instead { edits, meant }]);
        true
    }

    /// Several marks lie above the ends of the sides: the one height is doubted, not the marks.
    fn sides_too_short(&mut self, id: NodeId, marks: &[(String, Stated)], highest: Option<(NodeId, Number)>) {
        let Some((member, height)) = highest else { return };
        let Some(stated) = self.stated(height.why, height.exact) else { return };
        let Some(top) = height.exact.length() else { return };
        let above = marks.iter().filter(|(_, mark)| mark.exact.value > top.mm());
        let Some(least) = above.clone().filter_map(|(_, mark)| mark.exact.length()).max() else { return };
        let stick = self.name(id).unwrap_or_default();
        let word = self.program.node(member).kind.word;
        let message = format!(
            "{} height of {} is unusual: {} of `{stick}` lie above it",
            a(word),
            self.show(stated),
            some(above.count(), "mark")
        );
        let label = format!("the highest mark is {}", self.marks.print_fine(least));
        let diagnostic = Diagnostic::new(&codes::UNUSUAL, message).at(stated.span, label);
        let most = least.checked_mul(Rational::new(3, 2)).unwrap_or(least);
        let likely = self.between(stated, least, most);
        let room = least.checked_mul(Rational::new(11, 10)).unwrap_or(least);
        let instead = self.instead(stated, likely, vec![in_mm(room)]);
        self.doubt(member, diagnostic, instead);
    }

    /// The highest member that takes the marks of each stick, and its height; `None` where a height is not known.
    fn highest(&mut self) -> BTreeMap<NodeId, Option<(NodeId, Number)>> {
        let ids: Vec<NodeId> = self.program.ids().collect();
        let mut highest: BTreeMap<NodeId, Option<(NodeId, Number)>> = BTreeMap::new();
        for id in ids {
            if !matches!(self.program.node(id).kind.word, "unit" | "carcass") {
                continue;
            }
            // What is wrong with the stick's name was told when it was read.
            let Some(index) = self.program.property(id, CARCASS.shelves.name) else { continue };
            let Some(stick) = self.eval.value(id, index).member() else { continue };
            let height = self.program.property(id, CARCASS.height.name);
            // What follows the ceiling leaves the marks out that lie over it.
            let height = height.filter(|_| self.program.children(id, "follow").next().is_none());
            let height = height.and_then(|index| match self.eval.value(id, index) {
                Value::Number(number) => Some(number),
                _ => None,
            });
            let Some(known) = highest.entry(stick).or_insert(height.map(|height| (id, height))) else {
                continue;
            };
            match height {
                Some(height) if height.exact.value > known.1.exact.value => *known = (id, height),
                Some(_) => {}
                None => _ = highest.insert(stick, None),
            }
        }
        highest
    }

    /// A sheet that is longer across its grain than along it.
    fn size_turned(&mut self, id: NodeId) {
        let node = self.program.node(id);
        let index = self.program.property(id, SHEET.size.name);
        let Some(stated) = index.and_then(|index| node.properties.get(index)) else { return };
        let ExprKind::Binary(Binary::By, length, width) = &stated.value.kind else { return };
        let Some((along, across)) = self.read(id, SHEET.size) else { return };
        // Only a sheet has a size that stands first by its grain; one without grain is written as one likes.
        if along.value >= across.value || self.is_stated(id, SHEET.grain) {
            return;
        }
        let [first, second] = [length.span, width.span].map(|span| self.eval.sources.text(span).to_owned());
        let message =
            format!("a size of {first} x {second} is unusual: longer across the grain than along it");
        let diagnostic = Diagnostic::new(&codes::UNUSUAL, message)
            .at(stated.value.span, "length along the grain x width")
            .help("if the sheet has its grain across, say `grain = length` beside it");
        let edits = [(length.span, second.clone()), (width.span, first.clone())];
        let edits = edits.map(|(span, text)| Edit { span, text }).to_vec();
        let meant = Some(format!("{second} x {first}"));
        self.doubt(id, diagnostic, vec![Instead { edits, meant }]);
    }

    /// A caliper reading that is far from the thickness by which the sheet is sold.
    fn not_nominal(&mut self, id: NodeId) {
        let Some(nominal) = self.read(id, SHEET.nominal) else { return };
        let Some(thickness) = self.read(id, SHEET.thickness) else { return };
        let most = self.system().length((3, 32), (5, 2));
        if nominal.value.apart(thickness.value).is_none_or(|off| off <= most) {
            return;
        }
        // Of the two the one is doubted that no sheet has.
        let usual = |len: Len| len.value <= self.system().length((5, 4), (32, 1));
        let (said, by_words, of, by) = if usual(thickness) && !usual(nominal) {
            ("nominal thickness", "its caliper reading is", nominal, thickness)
        } else {
            ("thickness", "it is sold as", thickness, nominal)
        };
        let Some(stated) = self.stated(of.why, of.value.into()) else { return };
        let (low, high) = (by.value.checked_sub(most), by.value.checked_add(most));
        let (Some(low), Some(high)) = (low, high) else { return };
        let message = format!("a {said} of {} is unusual of this sheet", self.show(stated));
        let label = format!("{by_words} {}", self.marks.print_fine(by.value));
        let diagnostic = Diagnostic::new(&codes::UNUSUAL, message).at(stated.span, label);
        let likely = self.between(stated, low, high);
        let instead = self.instead(stated, likely, vec![in_mm(by.value)]);
        self.doubt(id, diagnostic, instead);
    }

    /// Where a number is stated: the literal, or the expression that it is worked out from.
    fn stated(&self, why: Why, exact: Exact) -> Option<Stated> {
        let ledger = &self.eval.ledger;
        let span = ledger.literal(why).map(|(span, _)| span).or_else(|| ledger.span(why))?;
        Some(Stated { exact, span })
    }

    /// The text of a literal.
    fn written(&self, stated: Stated) -> String {
        self.eval.sources.text(stated.span).to_owned()
    }

    /// A value as a message shows it: as it is written, or what it comes to.
    fn show(&self, stated: Stated) -> String {
        let text = self.written(stated);
        match (literal(&text), stated.exact.length()) {
            (Some(exact), _) if exact == stated.exact => text,
            (_, Some(length)) => self.marks.print_fine(length).to_string(),
            _ => crate::eval::show(stated.exact, self.marks),
        }
    }

    fn project_system(&self) -> crate::quantity::System {
        self.marks.system()
    }

    /// What may stand in place of a literal: what is likely meant, then what only serves to see what follows.
    fn instead(&self, stated: Stated, likely: Vec<String>, neutral: Vec<String>) -> Vec<Instead> {
        let edit = |text: String| vec![Edit { span: stated.span, text }];
        let likely = likely.into_iter().take(TRIED);
        let likely = likely.map(|text| Instead { meant: Some(text.clone()), edits: edit(text) });
        likely.chain(neutral.into_iter().map(|text| Instead { meant: None, edits: edit(text) })).collect()
    }

    /// Takes a doubt; one place in the text is doubted once.
    fn doubt(&mut self, id: NodeId, diagnostic: Diagnostic, instead: Vec<Instead>) {
        let Some(span) = diagnostic.span().filter(|span| self.doubted.insert(*span)) else { return };
        self.doubted.extend(instead.iter().flat_map(|instead| &instead.edits).map(|edit| edit.span));
        let node = self.program.node(id);
        // Readings of one wall are taken alike; elsewhere only the same value in the next member is the same slip.
        let (of, text) = match node.kind.word {
            "reading" => (node.parent, ""),
            "unit" | "carcass" => (node.parent, self.eval.sources.text(span)),
            _ => (Some(id), ""),
        };
        let property = node.properties.iter().find(|stated| stated.value.span.touches(span));
        let name = match (node.kind.word, property) {
            ("reading", _) => "width".into(),
            (_, Some(stated)) => stated.name.text.clone(),
            (_, None) => diagnostic.message.as_str().into(),
        };
        let path = path_of(self.program, id);
        let diagnostic = if path.is_empty() { diagnostic } else { diagnostic.about(path) };
        let doubt = Diagnostic { instead, ..diagnostic };
        self.doubts.push(((of, name, text.into()), doubt));
    }

    /// Tells the doubts: those of one kind about one thing in one message.
    fn tell_doubts(&mut self) {
        let mut places: BTreeMap<Alike, usize> = BTreeMap::new();
        let mut told: Vec<Vec<Diagnostic>> = Vec::new();
        for (alike, doubt) in std::mem::take(&mut self.doubts) {
            let place = *places.entry(alike).or_insert(told.len());
            match told.get_mut(place) {
                Some(doubts) => doubts.push(doubt),
                None => told.push(vec![doubt]),
            }
        }
        for mut doubts in told {
            doubts.sort_by_key(Diagnostic::span);
            let mut doubts = doubts.into_iter();
            let Some(mut first) = doubts.next() else { continue };
            let others: Vec<Diagnostic> = doubts.collect();
            if !others.is_empty() {
                first.message = format!("{}, like {} here", first.message, some(others.len(), "other"));
            }
            self.eval.sink.push(together(first, others));
        }
    }
}

/// What doubts have in common that one slip explains: the member that they are about, the property, the text.
pub(super) type Alike = (Option<NodeId>, Arc<str>, Arc<str>);

/// Doubts as one, whose changes are made all at once.
fn together(mut first: Diagnostic, others: Vec<Diagnostic>) -> Diagnostic {
    let most = others.iter().chain([&first]).map(|doubt| doubt.instead.len()).max().unwrap_or(0);
    let nth = |place: usize| {
        let all = others.iter().map(|other| &other.instead);
        let chosen: Option<Vec<&Instead>> = [&first.instead]
            .into_iter()
            .chain(all)
            .map(|instead| instead.get(place).or(instead.last()))
            .collect();
        let chosen = chosen?;
        let meant = chosen.iter().all(|instead| instead.meant.is_some());
        let edits = chosen.iter().flat_map(|instead| &instead.edits).cloned().collect();
        let said = chosen.first().and_then(|instead| instead.meant.clone());
        Some(Instead { edits, meant: said.filter(|_| meant) })
    };
    let instead = (0..most).filter_map(nth).collect();
    let mut about: BTreeSet<String> = first.about.iter().cloned().collect();
    for other in others {
        first.labels.extend(other.labels.into_iter().map(|label| Label { primary: false, ..label }));
        first.about.extend(other.about.into_iter().filter(|path| about.insert(path.clone())));
    }
    first.instead = instead;
    first
}

/// A length in millimetres, exactly.
fn in_mm(length: Length) -> String {
    format!("{}mm", ratio(length.mm()))
}

/// A number as a fraction.
fn ratio(value: Rational) -> String {
    format!("{}/{}", value.numer(), value.denom())
}

/// The name with its article.
fn a(name: &str) -> String {
    let vowel = name.starts_with(['a', 'e', 'i', 'o']);
    format!("{} {name}", if vowel { "an" } else { "a" })
}

/// What is taken in place of expressions, by their places.
pub type Replaced = BTreeMap<Span, Exact>;
