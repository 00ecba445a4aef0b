//! What the text means for parts that are made, in words: one message for all parts with the same fate.

use super::codes;
use crate::diag::{Code, Diagnostic, Sink};
use crate::fits::Bench;
use crate::limits::REUSED;
use crate::parts::{Part, PartId, State, Verdict};
use crate::quantity::some;
use crate::source::{FileId, Span};
use std::collections::BTreeMap;

/// Parts of one fate: where they are stated, and what is said of them.
type Fates<'a> = BTreeMap<(Span, String, String), Vec<&'a Part>>;

/// Tells of paths that lead to no part, each with what its piece can become.
pub(super) fn unknown(bench: Bench<'_>, all: &[(String, Diagnostic)], sink: &mut Sink) {
    for (path, diagnostic) in all {
        let serves = serves(bench, path).map(|serves| format!("the piece is there: {serves}"));
        let diagnostic = diagnostic.clone();
        sink.push(match serves {
            Some(serves) => diagnostic.note(serves),
            None => diagnostic,
        });
    }
}

/// Tells of parts that two blocks state otherwise.
pub(super) fn twice(bench: Bench<'_>, all: &BTreeMap<(Span, &'static str), Vec<PartId>>, sink: &mut Sink) {
    for ((span, what), ids) in all {
        let parts: Vec<&Part> = ids.iter().filter_map(|id| bench.graph.part(*id)).collect();
        let message = format!("{}: a block before states {what}", some(parts.len(), "made part"));
        let diagnostic = Diagnostic::new(&codes::STATED_TWICE, message).at(*span, "this one holds");
        let diagnostic = parts.iter().fold(diagnostic, |told, part| told.about(part.path.as_str()));
        sink.push(diagnostic.note(named(&parts)).help("delete the one that is not true"));
    }
}

/// Tells that not all pieces were given to parts.
pub(super) fn too_many(count: usize, file: FileId, sink: &mut Sink) {
    let message = format!(
        "{count} of the made pieces and of the parts to be cut are too many to be given to each other"
    );
    let help = format!(
        "of one stock the {REUSED} largest are; cut the others down by the cut list, and mark what they became"
    );
    sink.push(Diagnostic::new(&codes::MANY_PIECES, message).at(Span::new(file, 0, 0), "").help(help));
}

/// What a piece is cut down for, in words.
fn serves(bench: Bench<'_>, piece: &str) -> Option<String> {
    let part = bench.graph.serves(piece)?;
    let [width, length] = [part.cut().width, part.cut().length].map(|size| bench.marks.print(size.value));
    Some(format!("cut it down to {width} x {length} for `{}`", part.path))
}

/// Tells the fates of all parts that are not as the text has them, and of lots that are not those that were asked for.
pub(super) fn tell(bench: Bench<'_>, sink: &mut Sink) {
    let (mut changed, mut hold) = (Fates::new(), Fates::new());
    for (id, verdict) in &bench.graph.verdicts {
        let (Some(part), Some(made)) = (bench.graph.part(*id), bench.graph.made.get(id)) else { continue };
        let facts = &made.facts;
        let span = [facts.size.as_ref().map(|(_, at)| *at), facts.thickness.map(|(_, at)| at)];
        let span = match &facts.marks {
            Some((_, at)) if !(verdict.groove.is_empty() && verdict.plug.is_empty()) => *at,
            _ => span.into_iter().flatten().next().unwrap_or(made.span),
        };
        if verdict.stays() {
            hold.entry((span, verdict.holds.join("; "), String::new())).or_default().push(part);
        } else {
            let (what, help) = fate(bench, part, verdict, made.state);
            changed.entry((span, what, help)).or_default().push(part);
        }
    }
    for (fates, code) in [(changed, &codes::CHANGED), (hold, &codes::HOLDS)] {
        for ((span, what, help), parts) in fates {
            message(code, span, (&what, &help), &parts, sink);
        }
    }
    lots(bench, sink);
}

fn message(code: &'static Code, span: Span, (what, help): (&str, &str), parts: &[&Part], sink: &mut Sink) {
    let all = some(parts.len(), "made part");
    let message = match (std::ptr::eq(code, &codes::HOLDS), parts.len()) {
        (true, 1) => format!("{all} holds as it is: {what}"),
        (true, _) => format!("{all} hold as they are: {what}"),
        (false, _) => format!("{all}: {what}"),
    };
    let diagnostic =
        parts.iter().fold(Diagnostic::new(code, message), |told, part| told.about(part.path.as_str()));
    let diagnostic = diagnostic.at(span, "as made").note(named(parts));
    sink.push(if help.is_empty() { diagnostic } else { diagnostic.help(help) });
}

/// The first of some parts, by their paths.
fn named(parts: &[&Part]) -> String {
    let first: Vec<&str> = parts.iter().take(4).map(|part| part.path.as_str()).collect();
    let more = parts.len().saturating_sub(first.len());
    if more > 0 { format!("{} and {more} more", first.join(", ")) } else { first.join(", ") }
}

/// What becomes of a part that does not stay as it is, and what helps.
fn fate(bench: Bench<'_>, part: &Part, verdict: &Verdict, state: State) -> (String, String) {
    let marks = bench.marks;
    if let Some(lost) = &verdict.lost {
        let cut = part.cut();
        let size = format!("{} x {}", marks.print(cut.width.value), marks.print(cut.length.value));
        let help = if state >= State::Glued {
            "make its unit anew, take back the change of the text, or say with `found` what it measures"
                .to_owned()
        } else {
            let this = serves(bench, &part.path).map(|serves| format!("; of this one: {serves}"));
            format!(
                "make it anew, {size}, then `scantling mark cut PATH --again`; or take back the change of the text{}",
                this.unwrap_or_default()
            )
        };
        return (lost.clone(), help);
    }
    let help = "it is good then: note in the progress file what it is; or take back the change of the text";
    (verdict.steps(marks).join("; "), help.to_owned())
}

/// Parts that were cut from another lot than their unit asks for.
fn lots(bench: Bench<'_>, sink: &mut Sink) {
    let mut others: BTreeMap<(Span, String, String), Vec<&Part>> = BTreeMap::new();
    for (id, made) in &bench.graph.made {
        let Some(part) = bench.graph.part(*id) else { continue };
        let (Some(asked), Some(lot)) = (bench.graph.lot(part.stock), &made.facts.lot) else { continue };
        if made.state >= State::Cut && **lot != *asked {
            others.entry((made.span, lot.to_string(), asked.to_owned())).or_default().push(part);
        }
    }
    for ((span, lot, asked), parts) in others {
        let of = if parts.len() == 1 { "its unit asks" } else { "their units ask" };
        let message = format!("{} of lot `{lot}`, and {of} for `{asked}`", some(parts.len(), "made part"));
        let diagnostic = Diagnostic::new(&codes::OTHER_LOT, message).at(span, "").note(named(&parts));
        let diagnostic = parts.iter().fold(diagnostic, |told, part| told.about(part.path.as_str()));
        sink.push(diagnostic.help(format!("state `lot = {lot}` in the unit, or correct the lot here")));
    }
}
