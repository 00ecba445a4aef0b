//! Messages as they are told: at their places in the text of modules, without those that the project accepts.

use super::codes;
use crate::diag::{Diagnostic, Label, Severity, Sink, nearest};
use crate::eval::{self, Accept, Model};
use crate::quantity::some;
use crate::source::{Sources, Span};
use std::collections::{BTreeMap, BTreeSet};

/// Moves what is about a body at the place of its use to the text of the body, and says where that is used; several
/// uses with the same trouble give one message.
pub(super) fn settle(sources: &Sources, sink: &mut Sink) {
    const SHOWN: usize = 3;
    let mut first: BTreeMap<(Span, &'static str, String), usize> = BTreeMap::new();
    let mut further: Vec<usize> = Vec::new();
    sink.retain(|diagnostic| {
        let Some(span) = diagnostic.span().filter(|span| !sources.uses(*span).is_empty()) else {
            return true;
        };
        let key = (sources.settled(span), diagnostic.code.id, diagnostic.message.clone());
        let index = *first.entry(key).or_insert(further.len());
        match further.get_mut(index) {
            Some(count) => *count += 1,
            None => further.push(0),
        }
        further.get(index) == Some(&0)
    });
    let mut further = further.into_iter();
    sink.amend(0, |diagnostic| {
        let uses = diagnostic.span().map(|span| sources.uses(span)).unwrap_or_default();
        for (depth, used) in uses.iter().enumerate().filter(|(i, _)| *i < SHOWN || i + 1 == uses.len()) {
            let text = if depth == 0 { "the module is used here" } else { "which is used here" };
            diagnostic.labels.push(Label { span: *used, text: text.to_owned(), primary: false });
        }
        if !uses.is_empty()
            && let Some(count @ 1..) = further.next()
        {
            let them = if count == 1 { "one further use gives" } else { "further uses give" };
            let count = if count == 1 { String::new() } else { format!("{count} ") };
            diagnostic.notes.push(format!("{count}{them} the same message"));
        }
        for label in &mut diagnostic.labels {
            label.span = sources.settled(label.span);
        }
        for edit in diagnostic.fixes.iter_mut().flat_map(|fix| &mut fix.edits) {
            edit.span = sources.settled(edit.span);
        }
    });
}

/// One slip that is repeated, such as a name spelled wrong in each unit, is told at its first place, which marks the others.
pub(super) fn once(sink: &mut Sink) {
    const MARKED: usize = 4;
    let mut all = sink.all().to_vec();
    all.sort_by_key(Diagnostic::span);
    // Each message with the places where it is told again.
    let mut told: Vec<(Diagnostic, Vec<Span>)> = Vec::new();
    let mut first: BTreeMap<(&'static str, String), usize> = BTreeMap::new();
    for diagnostic in all {
        // Names are what is copied from block to block; two values that are wrong alike are two slips.
        let span = diagnostic.span().filter(|_| diagnostic.code.id.starts_with('N'));
        let key = (diagnostic.code.id, diagnostic.message.clone());
        let known = first.get(&key).and_then(|at| told.get_mut(*at));
        let (Some(span), Some((known, again))) = (span, known) else {
            if span.is_some() {
                first.insert(key, told.len());
            }
            told.push((diagnostic, Vec::new()));
            continue;
        };
        if known.labels.iter().any(|label| label.span == span) || again.contains(&span) {
            continue;
        }
        again.push(span);
        for (fix, other) in known.fixes.iter_mut().zip(diagnostic.fixes) {
            if fix.title == other.title {
                fix.edits.extend(other.edits);
            }
        }
    }
    let told = told.into_iter().map(|(mut told, again)| {
        for span in again.iter().take(MARKED) {
            told.labels.push(Label { span: *span, text: "and here".to_owned(), primary: false });
        }
        if let Some(more @ 1..) = again.len().checked_sub(MARKED) {
            told.notes.push(format!("and at {}", some(more, "more place")));
        }
        told
    });
    sink.replace(told.collect());
}

/// Errors of one code that come from the same stated values in several members are told of the first of these, which marks the
/// others.
pub(super) fn alike(model: &Model, sink: &mut Sink) {
    let heads: BTreeSet<Span> = model.all_carcasses().filter_map(|carcass| carcass.head).collect();
    let mut told: Vec<(Diagnostic, usize)> = Vec::new();
    let mut first: BTreeMap<(&'static str, BTreeSet<Span>), usize> = BTreeMap::new();
    for diagnostic in sink.all().to_vec() {
        let places = diagnostic.labels.iter().map(|label| label.span).filter(|span| !heads.contains(span));
        let places: BTreeSet<Span> = places.collect();
        let key = (diagnostic.code.id, places);
        let one = diagnostic.severity == Severity::Error && diagnostic.code.id.starts_with('L');
        let known = first.get(&key).filter(|_| one).and_then(|at| told.get_mut(*at));
        let Some((known, more)) = known else {
            if one && !key.1.is_empty() {
                first.insert(key, told.len());
            }
            told.push((diagnostic, 0));
            continue;
        };
        for label in diagnostic.labels {
            if !known.labels.iter().any(|other| other.span == label.span) {
                known.labels.push(Label { primary: false, ..label });
            }
        }
        known.about.extend(diagnostic.about);
        *more += 1;
    }
    let told = told.into_iter().map(|(mut told, more)| {
        if more > 0 {
            told.notes.push(format!("and {more} more like it"));
        }
        told
    });
    sink.replace(told.collect());
}

/// Takes the warnings that the project accepts; an `accept` that nothing needs is a warning itself.
pub(super) fn accept(model: &Model, sink: &mut Sink) {
    for accept in &model.accepts {
        let known = codes().find(|code| code.slug == &*accept.slug);
        if known.is_some_and(|code| code.severity != Severity::Error) {
            continue;
        }
        let message = match known {
            Some(_) => format!("`{}` is an error, which cannot be silenced", accept.slug),
            None => format!("unknown warning `{}`", accept.slug),
        };
        let slugs = codes().filter(|code| code.severity != Severity::Error).map(|code| code.slug);
        let diagnostic = Diagnostic::new(&eval::codes::UNKNOWN_SLUG, message).at(accept.span, "");
        sink.push(match nearest(&accept.slug, slugs).filter(|_| known.is_none()) {
            Some(near) => diagnostic.fix(accept.span, near, format!("did you mean `{near}`?")),
            None => diagnostic.help("`scantling explain` lists all warnings by code and slug"),
        });
    }
    let within = |about: &str, path: &str| {
        path.is_empty() || about == path || about.strip_prefix(path).is_some_and(|rest| rest.starts_with('.'))
    };
    let mut needed = vec![false; model.accepts.len()];
    sink.retain(|diagnostic| {
        let fits =
            |accept: &Accept| diagnostic.code.slug == &*accept.slug && diagnostic.severity != Severity::Error;
        let taken =
            |about: &str| model.accepts.iter().any(|accept| fits(accept) && within(about, &accept.path));
        let all = match diagnostic.about.as_slice() {
            [] => taken(""),
            about => about.iter().all(|about| taken(about)),
        };
        for (accept, needed) in model.accepts.iter().zip(&mut needed) {
            let about = diagnostic.about.iter().any(|about| within(about, &accept.path));
            *needed |= fits(accept) && (about || accept.path.is_empty());
        }
        !all
    });
    if sink.has_errors() {
        return;
    }
    for (accept, _) in model.accepts.iter().zip(needed).filter(|(_, needed)| !needed) {
        let message = format!("nothing gives the warning `{}` here", accept.slug);
        sink.push(
            Diagnostic::new(&eval::codes::NEEDLESS, message)
                .at(accept.span, "")
                .help("delete the `accept`, so that it does not hide the next such warning"),
        );
    }
}
