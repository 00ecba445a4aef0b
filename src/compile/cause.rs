//! One cause, one message: what is told only because of a stated value that a message doubts already is counted under that
//! message.
//!
//! What follows from a value is not guessed: the project is worked out again with what was likely meant in its place, or with
//! a value that harms nothing, and what is gone then followed from it. What stands by itself stays.

use crate::diag::{Diagnostic, Instead, Severity, Sink};
use crate::eval::{Replaced, literal};
use crate::limits;
use crate::quantity::some;
use crate::source::{Sources, Span};
use std::collections::BTreeSet;

/// What comes of a project with other values.
pub(super) struct Probed {
    /// Its messages.
    pub told: Vec<Diagnostic>,
    /// Whether there was nothing that kept the checks from looking.
    pub checked: bool,
}

/// Works a project out with other values; `None` where somebody stopped the work.
pub(super) type Probe<'a> = dyn Fn(&Replaced) -> Option<Probed> + 'a;

/// A message with what it doubts, as several members or uses of one text may tell it.
struct Doubt {
    code: &'static str,
    /// The literals, where they stand in the text.
    places: BTreeSet<Span>,
    /// The messages about them, by their position.
    told: Vec<usize>,
    /// What may stand there, for each message.
    instead: Vec<Vec<Instead>>,
}

/// Counts what follows from doubted values under the messages that doubt them. `checked` says whether the checks looked at
/// the project as it is, `probes` how often it may be worked out.
pub(super) fn gather(sources: &Sources, sink: &mut Sink, checked: bool, probes: usize, probe: &Probe<'_>) {
    let all = sink.all();
    let mut doubts: Vec<Doubt> = Vec::new();
    for (index, diagnostic) in all.iter().enumerate().filter(|(_, told)| !told.instead.is_empty()) {
        let (code, places) = (diagnostic.code.id, places(sources, diagnostic));
        match doubts.iter_mut().find(|doubt| doubt.code == code && doubt.places == places) {
            Some(doubt) => {
                doubt.told.push(index);
                doubt.instead.push(diagnostic.instead.clone());
            }
            None => {
                let instead = vec![diagnostic.instead.clone()];
                doubts.push(Doubt { code, places, told: vec![index], instead });
            }
        }
    }
    if doubts.is_empty() {
        return;
    }
    let mut left: Vec<Option<Diagnostic>> = all.iter().cloned().map(Some).collect();
    let (mut replaced, mut checked, mut probes) = (Replaced::new(), checked, probes);
    for doubt in doubts {
        if doubt.told.iter().all(|index| left.get(*index).is_none_or(Option::is_none)) {
            continue;
        }
        let Some(best) = best(&doubt, &replaced, checked, &mut probes, probe) else {
            // What cannot be tried any more is asked about all the same.
            for index in doubt.told.into_iter().filter(|_| probes == 0) {
                left.get_mut(index).into_iter().flatten().for_each(|told| tell(told, [0; 3]));
            }
            continue;
        };
        // What another phase says of the same values follows too.
        let follows = |told: &Diagnostic| {
            let other = told.code.id != doubt.code && doubt.places.is_superset(&places(sources, told));
            (told.instead.is_empty() || other) && !stands(told, &best.after.told)
        };
        let mut counts = [0_usize; 3];
        for place in &mut left {
            if let Some(told) = place.take_if(|told| follows(told)) {
                let count = match told.severity {
                    Severity::Error => 0,
                    Severity::Warning => 1,
                    Severity::Note => 2,
                };
                counts.get_mut(count).into_iter().for_each(|count| *count += 1);
            }
        }
        for index in doubt.told {
            if let Some(Some(told)) = left.get_mut(index) {
                told.instead.retain(|instead| best.meant.contains(&instead.meant));
                tell(told, counts);
            }
        }
        (replaced, checked) = (best.replaced, best.after.checked);
    }
    sink.replace(left.into_iter().flatten().collect());
}

/// The literals that a message doubts, where they stand in the text.
fn places(sources: &Sources, told: &Diagnostic) -> BTreeSet<Span> {
    let edits = told.instead.iter().flat_map(|instead| &instead.edits);
    edits.map(|edit| sources.settled(edit.span)).collect()
}

/// What is told with another value in the place of a doubted one.
struct Tried {
    replaced: Replaced,
    after: Probed,
    /// What may be meant, the best first.
    meant: Vec<Option<String>>,
}

/// The value with which the least is told; `None` where the doubt stays with each of them.
fn best(
    doubt: &Doubt,
    replaced: &Replaced,
    checked: bool,
    probes: &mut usize,
    probe: &Probe<'_>,
) -> Option<Tried> {
    let mut tried: Vec<([usize; 2], Tried)> = Vec::new();
    let most = doubt.instead.iter().map(Vec::len).max().unwrap_or(0);
    for place in 0..most {
        let instead: Vec<&Instead> = doubt.instead.iter().filter_map(|all| all.get(place)).collect();
        let meant = instead.first().and_then(|instead| instead.meant.clone());
        // What only serves to see what follows is needed only where what was meant did not show it.
        let clear = tried.iter().any(|([errors, _], _)| *errors == 0);
        let best = tried.iter().any(|(counts, _)| *counts == [0, 0]);
        if *probes == 0 || best || (clear && meant.is_none()) {
            break;
        }
        let mut replaced = replaced.clone();
        for edit in instead.iter().flat_map(|instead| &instead.edits) {
            replaced.extend(literal(&edit.text).map(|exact| (edit.span, exact)));
        }
        *probes -= 1;
        let after = probe(&replaced)?;
        let count = |severity: Severity| after.told.iter().filter(|told| told.severity == severity).count();
        let counts = [Severity::Error, Severity::Warning].map(count);
        let doubted = after.told.iter().flat_map(|told| &told.instead).flat_map(|instead| &instead.edits);
        let still = doubted.into_iter().any(|edit| replaced.contains_key(&edit.span));
        // Where the checks look no more, nothing can be said of what they told.
        if !still && (after.checked || !checked) {
            tried.push((counts, Tried { replaced, after, meant: vec![meant] }));
        }
    }
    // The first of those with the fewest errors, and among these with the fewest warnings.
    let least = tried.iter().map(|(counts, _)| *counts).min()?;
    let all: Vec<Option<String>> = tried
        .iter()
        .filter(|([errors, _], tried)| *errors == least[0] && tried.meant.iter().any(Option::is_some))
        .flat_map(|(_, tried)| tried.meant.clone())
        .take(limits::MENDS)
        .collect();
    let position = tried.iter().position(|(counts, _)| *counts == least)?;
    let (_, best) = tried.swap_remove(position);
    Some(Tried { meant: all, ..best })
}

/// Whether a message is told with the other value too: in the same words, or an error about the same place or member.
fn stands(told: &Diagnostic, after: &[Diagnostic]) -> bool {
    after.iter().filter(|other| other.code.id == told.code.id).any(|other| {
        let place = other.span() == told.span() || other.about.iter().any(|about| told.about.contains(about));
        other.message == told.message || (place && told.severity == Severity::Error)
    })
}

/// Adds to a doubt what was likely meant, and how much follows; it is an error where an error follows.
fn tell(told: &mut Diagnostic, [errors, warnings, notes]: [usize; 3]) {
    if let Some(meant) = told.instead.iter().find_map(|instead| instead.meant.as_deref()) {
        told.message = format!("{}; {meant} meant?", told.message);
    }
    if errors > 0 {
        told.severity = Severity::Error;
    }
    let counts = [(errors, Severity::Error), (warnings, Severity::Warning), (notes, Severity::Note)];
    let counts = counts.iter().filter(|(count, _)| *count > 0);
    let counts: Vec<String> = counts.map(|(count, severity)| some(*count, severity.word())).collect();
    if !counts.is_empty() {
        let verb = if errors + warnings + notes == 1 { "follows" } else { "follow" };
        told.notes.push(format!("{} {verb} from it", counts.join(", ")));
        told.help.push(format!(
            "where it is right, `accept {} because \"..\"` and what follows is told",
            told.code.slug
        ));
    }
}
