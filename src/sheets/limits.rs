//! Limits: everything that the checks compared, and how close it is.

use super::by_hand::{ByHand, by_hand};
use super::{Output, SheetSpec, Subject};
use crate::document::{Cell, Table, figures, words};
use crate::parts::{Figure, Finding, Lacking, Limit, Needs};
use crate::quantity::Round;
use indexmap::IndexMap;
use serde::Serialize;

/// The name of the sheet, which can also be made of a project with errors.
pub const LIMITS: &str = "limits";

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: LIMITS,
    about: "what the checks compared, how close it is, and what came of it",
    make,
    draw: None,
    of_revision: true,
};

/// All that was compared.
#[derive(Clone, Debug, Serialize)]
pub struct Limits {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// In the order of the checks.
    pub limits: Vec<LimitRow>,
    /// What no check can measure, in the order of the work.
    pub by_hand: Vec<ByHand>,
}

/// What was compared on one thing.
#[derive(Clone, Debug, Serialize)]
pub struct LimitRow {
    /// The check's code.
    pub code: &'static str,
    /// The check's name.
    pub slug: &'static str,
    /// The member.
    pub subject: String,
    /// What was compared.
    pub what: &'static str,
    /// The value as printed; `None` where it is not known.
    pub value: Option<String>,
    /// The limit as printed, to the safe side; `None` where nothing known limits it.
    pub limit: Option<String>,
    /// `at most` or `at least`.
    pub bound: Option<&'static str>,
    /// What is left as printed, to the safe side; negative where the limit is not kept.
    pub margin: Option<String>,
    /// Whether value and margin are estimates.
    pub estimate: bool,
    /// Value, limit and margin in millimetres, kilograms, seconds or pieces.
    pub base: [Option<f64>; 3],
    /// `holds`, `told`, `not checked`, or how much it matters that the limit is not kept.
    pub verdict: &'static str,
    /// What must be known to trust the figure; may be empty.
    pub remark: String,
}

fn row(subject: Subject<'_>, finding: &Finding) -> LimitRow {
    let marks = subject.model.project.marks;
    let (bound, safe) = match finding.limit {
        Limit::AtMost(_) => (Some("at most"), Round::Down),
        Limit::AtLeast(_) => (Some("at least"), Round::Up),
        Limit::Unknown => (None, Round::Nearest),
    };
    let (limit, margin) = (finding.limit.figure(), finding.margin());
    let verdict = match (finding.verdict(), limit) {
        (Some(severity), _) => severity.word(),
        (None, Some(_)) => "holds",
        (None, None) => "told",
    };
    LimitRow {
        code: finding.code.id,
        slug: finding.code.slug,
        subject: finding.subject.clone(),
        what: finding.what,
        value: Some(finding.value.print(marks, Round::Nearest)),
        limit: limit.map(|limit| limit.print(marks, safe)),
        bound,
        margin: margin.map(|margin| margin.print(marks, Round::Down)),
        estimate: matches!(finding.value, Figure::Estimate(_)),
        base: [Some(finding.value), limit, margin].map(|figure| figure.map(Figure::value)),
        verdict,
        remark: finding.remark.clone(),
    }
}

fn left_unchecked(lacking: &Lacking) -> LimitRow {
    LimitRow {
        code: lacking.code.id,
        slug: lacking.code.slug,
        subject: lacking.subject.clone(),
        what: lacking.what,
        value: None,
        limit: None,
        bound: None,
        margin: None,
        base: [None; 3],
        estimate: false,
        verdict: "not checked",
        remark: format!("for want of {}{}", Needs(&lacking.needs), rule_of_thumb(lacking)),
    }
}

/// What the trade goes by where a sag cannot be reckoned.
fn rule_of_thumb(lacking: &Lacking) -> &'static str {
    if lacking.measures.contains(&"sag_years") {
        "; under books 3/4 in (18 mm) plywood is comfortable to 30 in (760 mm) bare, to 36 in (910 mm) with a strip and a screwed cleat \
         (common practice, no source)"
    } else {
        ""
    }
}

/// What rows of one line have in common: only the member differs.
fn alike(row: &LimitRow) -> (&str, &Option<String>, &Option<String>, &str) {
    (row.what, &row.value, &row.limit, &row.remark)
}

fn make(subject: Subject<'_>) -> Output {
    let unchecked = subject.graph.lacking.iter().filter(|lacking| lacking.matters).map(left_unchecked);
    let rows: Vec<LimitRow> =
        subject.findings.iter().map(|finding| row(subject, finding)).chain(unchecked).collect();
    // Rows that say the same of several members are one line; lines that compare the same are one table.
    let mut lines: IndexMap<_, (&LimitRow, usize)> = IndexMap::new();
    for row in &rows {
        let line = lines.entry((row.code, alike(row))).or_insert((row, 0));
        line.1 += 1;
    }
    let mut tables: IndexMap<(&str, &str), Vec<Vec<Cell>>> = IndexMap::new();
    for (row, count) in lines.values() {
        let of = match count {
            1 => row.subject.clone(),
            more => format!("{} and {} more", row.subject, more - 1),
        };
        let limit = row.limit.as_ref().map(|limit| format!("{} {limit}", row.bound.unwrap_or_default()));
        tables.entry((row.slug, row.what)).or_default().push(vec![
            Cell::Words(of),
            Cell::Figure(row.value.clone().unwrap_or_default()),
            Cell::Figure(limit.unwrap_or_default()),
            Cell::Figure(row.margin.clone().unwrap_or_default()),
            Cell::Words(row.verdict.to_owned()),
            Cell::Words(row.remark.clone()),
        ]);
    }
    let mut document = subject.document("Limits");
    document.facts.push(
        "What the checks compared, in the order of the work; a margin with a minus is what is missing. Figures with a ~ are \
         estimates, or sizes that are rounded."
            .to_owned(),
    );
    for ((slug, what), rows) in tables {
        document.tables.push(Table {
            caption: format!("{slug}: {what}"),
            columns: vec![
                words("of"),
                figures("value"),
                figures("limit"),
                figures("margin"),
                words("verdict"),
                words("remark"),
            ],
            rows,
            foot: None,
        });
    }
    let by_hand = by_hand(subject);
    if !by_hand.is_empty() {
        let row = |row: &ByHand| {
            vec![
                Cell::Words(row.place.to_owned()),
                Cell::Words(row.what.clone()),
                Cell::Words(row.within.clone()),
                Cell::Words(row.source.to_owned()),
            ]
        };
        document.tables.push(Table {
            caption: "Held by hand: what no check can measure".to_owned(),
            columns: vec![words("where"), words("what"), words("within"), words("who says so")],
            rows: by_hand.iter().map(row).collect(),
            foot: None,
        });
    }
    let project = &subject.model.project;
    let list = Limits {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        limits: rows,
        by_hand,
    };
    Output::new(list, document, &["limits.value", "limits.margin"])
}
