//! Slips of a tired person, in a table: none that changes a part by more than a mark is silent, and none gets more than two messages.
//!
//! The table has the text that is slipped in, the change, and what is told of it that is not told without it, of these members:
//! codes with the beginnings of their messages. A row whose slip could as well be a decision says so in place of a message.

use crate::root;
use scantling::compile::{Compilation, compile, compile_with_mends};
use scantling::diag::{Diagnostic, Severity};
use scantling::source::MemoryFiles;
use std::collections::{BTreeMap, BTreeSet};

const TABLE: &str = "tests/slips.tsv";
const DECISION: &str = "a decision: ";

/// A row of the table.
struct Slip<'a> {
    file: &'a str,
    old: String,
    new: String,
    told: &'a str,
}

fn rows(table: &str) -> Vec<Slip<'_>> {
    let rows = table.lines().filter(|line| !line.starts_with('#'));
    let of = |line| -> Option<[&str; 4]> { str::split(line, '\t').collect::<Vec<_>>().try_into().ok() };
    rows.map(|line| {
        let [file, old, new, told] = of(line).unwrap_or_else(|| panic!("four columns: {line}"));
        let [old, new] = [old, new].map(|text| text.replace("\\n", "\n"));
        Slip { file, old, new, told }
    })
    .collect()
}

fn compiled(text: &str) -> Compilation {
    compile(&MemoryFiles::single("slip.scant", text), "slip.scant".into()).unwrap()
}

/// What is told and was not told of the same members before, by code and words.
fn new(slipped: &Compilation, base: &Compilation) -> BTreeSet<String> {
    let known = |told: &Diagnostic| {
        base.diagnostics.iter().any(|other| other.code.id == told.code.id && other.about == told.about)
    };
    let new = slipped.diagnostics.iter().filter(|told| !known(told));
    new.map(|told| format!("{} {}", told.code.id, told.message)).collect()
}

/// The sizes of the parts in sixteenths of an inch, by path.
fn sizes(compilation: &Compilation) -> BTreeMap<&str, [i64; 2]> {
    let parts = compilation.graph.parts.iter();
    let marks = |mm: f64| (mm / 25.4 * 16.0).round() as i64;
    parts
        .map(|part| {
            let size = [part.size.length, part.size.width].map(|len| marks(len.value.to_mm_f64()));
            (part.path.as_str(), size)
        })
        .collect()
}

/// Makes each slip of the table in one file.
fn each_slip_in(file: &str) {
    let table = std::fs::read_to_string(root().join(TABLE)).unwrap();
    let text = std::fs::read_to_string(root().join(file)).unwrap();
    let base = &compiled(&text);
    assert_eq!(base.count(Severity::Error), 0, "{file} has errors as it is");
    let mut wrong = Vec::new();
    for Slip { old, new, told: expected, .. } in rows(&table).into_iter().filter(|row| row.file == file) {
        let what = format!("{file}: {old:?} -> {new:?}");
        assert_eq!(text.matches(&old).count(), 1, "{what} does not stand there once");
        let slipped = compiled(&text.replacen(&old, &new, 1));
        let new = self::new(&slipped, base);
        if new.len() > 2 {
            wrong.push(format!("{what} gets {} messages", new.len()));
        }
        if expected.starts_with(DECISION) {
            if !new.is_empty() {
                wrong.push(format!("{what} is told: {new:?}"));
            }
            continue;
        }
        if new.is_empty() {
            let changed = sizes(base) != sizes(&slipped);
            wrong.push(format!("{what} is silent{}", if changed { " and changes parts" } else { "" }));
            continue;
        }
        let expected: Vec<&str> = expected.split(" | ").collect();
        let fits = |(said, begins): (&String, &&str)| said.starts_with(*begins);
        if new.len() != expected.len() || !new.iter().zip(&expected).all(fits) {
            wrong.push(format!("{what} is told: {new:#?}, not {expected:#?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The codes and severities that are told of a text with changes.
fn codes(file: &str, changes: &[(&str, &str)]) -> Vec<(&'static str, Severity)> {
    let mut text = std::fs::read_to_string(root().join(file)).unwrap();
    for (old, new) in changes {
        assert_eq!(text.matches(old).count(), 1, "{old} does not stand there once");
        text = text.replace(old, new);
    }
    let compilation = compiled(&text);
    compilation.diagnostics.iter().map(|told| (told.code.id, told.severity)).collect()
}

/// What follows from a doubted value is counted, and is there again where the value is accepted.
#[test]
fn an_accepted_value_hides_nothing() {
    let file = FILES[0];
    let deep = ("depth = 10 1/2\"", "depth = 101\"");
    assert_eq!(codes(file, &[deep]), [("V054", Severity::Error)]);
    let accepted = ("load = books", "load = books\n    accept unusual_value because \"a bed stands in it\"");
    let told = codes(file, &[deep, accepted]);
    assert!(told.iter().all(|(code, _)| *code != "V054" && *code != "V041"), "{told:?}");
    assert!(told.contains(&("C003", Severity::Error)), "{told:?}");
}

/// A doubted value from which nothing follows is a warning; what stands by itself stays, also beside it.
#[test]
fn what_stands_by_itself_is_told() {
    let file = FILES[1];
    assert_eq!(codes(file, &[("kerf = 3mm", "kerf = 30mm")]), [("V054", Severity::Warning)]);
    // A dado of 10 mm takes more than half of 17.7 mm, whatever the blade takes.
    let both = [("kerf = 3mm", "kerf = 30mm"), ("depth = 6mm, fit", "depth = 10mm, fit")];
    assert_eq!(codes(file, &both), [("V054", Severity::Warning), ("C001", Severity::Error)]);
    // With the bit that was likely meant, 12 mm, the base of 7 mm is still none.
    let both = [("bit = 12mm", "bit = 120mm"), ("base = 75mm", "base = 7mm")];
    let told = codes(file, &both);
    assert_eq!(told.iter().filter(|(code, _)| *code == "V054").count(), 2, "{told:?}");
    // A shelf 5 in up leaves 5 - 3 1/2 - 23/32 = 25/32 in over the one below it, no room for a cleat of 2 1/2 in, wherever the
    // lid is; that the lid at 65 in stands above the sides of 60 in follows from its mark.
    let both = [("albums = 16\"", "albums = 5\""), ("lid = 56\"", "lid = 65\"")];
    assert_eq!(codes(FILES[0], &both), [("V054", Severity::Error), ("L006", Severity::Error)]);
}

/// One slip of the hand in six readings, in the sizes of a list, is one message.
#[test]
fn what_is_alike_is_doubted_once() {
    let mut text = std::fs::read_to_string(root().join(FILES[0])).unwrap();
    for (was, is) in [
        ("back = 61 1/4\"", "back = 612 1/2\""),
        ("front = 61 3/8\"", "front = 613 3/4\""),
        ("back = 61 1/8\"", "back = 611 1/4\""),
        ("front = 61 1/4\"", "front = 612 1/2\""),
        ("back = 61\"", "back = 610\""),
        ("front = 61 1/8\"", "front = 611 1/4\""),
    ] {
        assert_eq!(text.matches(was).count(), 1);
        text = text.replace(was, is);
    }
    let told = compiled(&text).diagnostics;
    let said: Vec<&str> = told.iter().map(|told| &*told.message).collect();
    assert_eq!(said, ["a width of 612 1/2\" is unusual, like 5 others here; 61 1/4\" meant?"]);
    assert_eq!(told[0].labels.len(), 6);
}

/// The change that is offered is proven: it takes the message away and brings no other.
/// A stick of many marks and a ceiling of many readings are judged in one walk: if each mark were tried in each place, neither of
/// these would end. 2,000 marks 20 mm apart, two of them swapped, or in no order at all; 6,000 readings, one of them with a
/// figure more than the others.
#[test]
fn many_marks_and_readings_are_judged_in_one_walk() {
    let stick = |marks: &[usize]| {
        let marks: String = marks.iter().enumerate().map(|(i, at)| format!("  m{i} = {at}mm\n")).collect();
        let text = format!(
            "sheet ply {{ thickness = 18mm }}\nstick s {{\n{marks}}}\ncarcass a {{ shelves = s, width = 600mm, height = 40100mm, depth = 300mm }}\n"
        );
        let told = compiled(&text).diagnostics;
        told.into_iter().map(|told| told.message).filter(|told| told.contains("order")).collect::<Vec<_>>()
    };
    let marks: Vec<usize> = (0..2_000).map(|i| 80 + 20 * i).collect();
    assert_eq!(stick(&marks), Vec::<String>::new());
    let mut swapped = marks.clone();
    swapped.swap(5, 20);
    assert_eq!(
        stick(&swapped),
        [
            "the marks `m5` at 480mm and `m20` at 180mm stand against the order of their stick; `m5` 180mm and `m20` 480mm meant?"
        ]
    );
    // 7 and 2,000 have no factor in common: each mark stands once, and hardly one beside its neighbour.
    let mixed: Vec<usize> = (0..2_000).map(|i| 80 + 20 * (i * 7 % 2_000)).collect();
    assert_eq!(stick(&mixed), Vec::<String>::new());
    let at = (0..6_000).map(|i| format!("{i}mm")).collect::<Vec<_>>().join(", ");
    let above =
        (0..6_000).map(|i| if i == 4_000 { "24040mm".into() } else { format!("{}mm", 2_400 + i % 7) });
    let above = above.collect::<Vec<_>>().join(", ");
    let told = compiled(&format!(
        "sheet ply {{ thickness = 18mm }}\nroom r {{ ceiling {{ at = [{at}], above = [{above}] }} }}\n"
    ));
    let told = told.diagnostics.iter().filter(|told| told.code.id == "V054");
    let told: Vec<_> = told.map(|told| (told.message.as_str(), told.labels[0].text.as_str())).collect();
    assert_eq!(
        told,
        [(
            "a ceiling height of 24040mm is unusual beside the others; 2404mm meant?",
            "the others are 2400 mm to 2406 mm"
        )]
    );
}

#[test]
fn what_was_meant_is_offered_as_a_change() {
    let text =
        std::fs::read_to_string(root().join(FILES[0])).unwrap().replace("albums = 16\"", "albums = 61\"");
    let files = MemoryFiles::single("slip.scant", text.as_str());
    let compilation = compile_with_mends(&files, "slip.scant".into()).unwrap();
    let [told] = compilation.diagnostics.as_slice() else { panic!("{:?}", compilation.diagnostics) };
    assert_eq!(told.fixes.len(), 1, "{told:?}");
    assert_eq!((told.fixes[0].title.as_str(), told.fixes[0].edits[0].text.as_str()), ("write 16\"", "16\""));
    assert!(!told.fixes[0].safe);
}

const FILES: [&str; 4] = [
    "tests/slips/reading_corner.scant",
    "tests/slips/toy_niche.scant",
    "examples/sewing-room/sewing_room.scant",
    "examples/alcove-pair/alcove_pair.scant",
];

#[test]
fn each_slip_in_a_run_is_told_as_the_slip_it_is() {
    each_slip_in(FILES[0]);
}

#[test]
fn each_slip_in_a_carcass_is_told_as_the_slip_it_is() {
    each_slip_in(FILES[1]);
}

#[test]
fn each_slip_in_example_a_is_told_as_the_slip_it_is() {
    each_slip_in(FILES[2]);
}

#[test]
fn each_slip_in_example_b_is_told_as_the_slip_it_is() {
    each_slip_in(FILES[3]);
}

/// The table is long enough, every row of it is tried, and few of them could be decisions.
#[test]
fn the_table_has_slips_and_few_decisions() {
    let table = std::fs::read_to_string(root().join(TABLE)).unwrap();
    let rows = rows(&table);
    assert!(rows.len() >= 60, "only {} slips", rows.len());
    assert!(rows.iter().all(|row| FILES.contains(&row.file)), "a row that no test tries");
    let decisions = rows.iter().filter(|row| row.told.starts_with(DECISION)).count();
    assert!(decisions * 10 <= rows.len(), "{decisions} of {}", rows.len());
}
