//! Parts of sheet that are wider than a machine reaches: compared once for each width and kind, told once.

use crate::check::{Report, Subject};
use crate::diag::{Code, Diagnostic};
use crate::eval::Len;
use crate::parts::{Finding, Limit, Part, Stock};
use crate::quantity::Length;
use std::collections::BTreeMap;

/// Parts that are too wide, at least one.
pub(in crate::check) struct Wide<'a> {
    /// The greatest of their widths.
    pub widest: Len,
    /// The least of them.
    pub narrowest: Length,
    /// How many there are.
    pub count: usize,
    /// By width and kind, the widest last.
    kinds: Vec<(&'static str, Vec<&'a Part>)>,
}

/// Compares the widths of all parts of sheet with what a machine reaches; `None` where none is wider.
pub(in crate::check) fn wide<'a>(
    subject: &Subject<'a>,
    report: &mut Report,
    (code, what): (&'static Code, &'static str),
    reach: Len,
) -> Option<Wide<'a>> {
    let mut widths: BTreeMap<(Length, &'static str), Vec<&Part>> = BTreeMap::new();
    for part in subject.graph.parts.iter().filter(|part| matches!(part.stock, Stock::Sheet(_))) {
        widths.entry((part.cut().width.value, part.role.word())).or_default().push(part);
    }
    widths.retain(|(width, role), _| {
        !report.compare(Finding::new(code, *role, what, *width, Limit::AtMost(reach.value.into())))
    });
    let narrowest = widths.keys().next()?.0;
    let kinds: Vec<_> = widths.into_iter().map(|((_, role), parts)| (role, parts)).collect();
    let widest = kinds.last()?.1.first()?.cut().width;
    let count = kinds.iter().map(|(_, parts)| parts.len()).sum();
    Some(Wide { widest, narrowest, count, kinds })
}

impl Wide<'_> {
    /// What lists call them, where all are of one kind.
    pub fn kind(&self) -> Option<&'static str> {
        let (first, _) = self.kinds.first()?;
        self.kinds.iter().all(|(kind, _)| kind == first).then_some(first)
    }

    /// The message about them, with the places that make them as wide, and the machine's.
    pub fn told(
        &self,
        subject: &Subject<'_>,
        (code, message): (&'static Code, String),
        (reach, machine): (Len, &str),
    ) -> Diagnostic {
        let told = subject.at(Diagnostic::new(code, message), self.widest, "this makes them as wide");
        let told = subject.at(told, reach, machine);
        let kinds: Vec<String> =
            self.kinds.iter().map(|(kind, parts)| format!("{} x {kind}", parts.len())).collect();
        let parts = self.kinds.iter().flat_map(|(_, parts)| parts);
        parts.fold(told.note(kinds.join(", ")), |told, part| told.about(part.path.as_str()))
    }
}
