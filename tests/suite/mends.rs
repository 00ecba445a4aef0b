//! What the help of every check offers, done to the letter, takes its message away and brings no other.
//!
//! The table has the example that gives the message, the beginning of one of its helps, the words of that help that are done, and the
//! change of text that does them. A help without a row fails.

use crate::{compiled_text, root};
use scantling::check::CHECKS;
use scantling::compile::{Compilation, compile_with_mends};
use scantling::diag::{Code, Fix, Severity};
use scantling::source::MemoryFiles;
use std::collections::BTreeSet;

const TABLE: &str = "tests/mends.tsv";

/// A row of the table.
struct Row<'a> {
    slug: &'a str,
    help: &'a str,
    done: &'a str,
    /// Whether it is done outside of the text, which only records it.
    action: bool,
    /// Notes that the help itself names.
    then: Vec<&'a str>,
    changes: Vec<Change>,
}

enum Change {
    Replace(String, String),
    Append(String),
}

fn row(line: &str) -> Row<'_> {
    let columns: Vec<&str> = line.split('\t').collect();
    let [slug, help, done, changes] = columns.as_slice() else { panic!("four columns: {line}") };
    let mut row = Row { slug, help, done, action: false, then: Vec::new(), changes: Vec::new() };
    for change in changes.split(" && ") {
        if change == "@action" {
            row.action = true;
        } else if let Some(code) = change.strip_prefix("@then ") {
            row.then.push(code);
        } else if let Some(text) = change.strip_prefix("@append ") {
            row.changes.push(Change::Append(format!("{text}\n")));
        } else {
            let (old, new) = change.split_once(" =>").unwrap_or_else(|| panic!("{line}"));
            let [old, new] = [old, new.trim_start_matches(' ')].map(|text| text.replace("\\n", "\n"));
            row.changes.push(Change::Replace(old, new));
        }
    }
    row
}

fn codes() -> impl Iterator<Item = &'static Code> {
    CHECKS.iter().flat_map(|check| check.codes).copied()
}

fn bad(code: &Code) -> &'static str {
    code.example.as_ref().unwrap().bad
}

/// What is told, but that a fragment has nothing to build.
fn told(compilation: &Compilation) -> Vec<(&'static str, Severity, String)> {
    let told = compilation.diagnostics.iter().filter(|told| told.code.id != "L009");
    told.map(|told| (told.code.id, told.severity, told.message.clone())).collect()
}

/// Does what the rows of every `of`-th code from the `nth` say.
fn each_help_holds(nth: usize, of: usize) {
    let table = std::fs::read_to_string(root().join(TABLE)).unwrap();
    let rows: Vec<Row<'_>> = table.lines().filter(|line| !line.starts_with('#')).map(row).collect();
    let mut wrong = Vec::new();
    for code in codes().skip(nth).step_by(of) {
        let before = compiled_text(bad(code));
        let rows: Vec<&Row<'_>> = rows.iter().filter(|row| row.slug == code.slug).collect();
        let helps: Vec<&String> = before.diagnostics.iter().flat_map(|told| &told.help).collect();
        let bare = |help: &&&String| !rows.iter().any(|row| help.starts_with(row.help));
        wrong.extend(helps.iter().filter(bare).map(|help| format!("{}: nobody does {help:?}", code.slug)));
        for row in rows {
            let what = format!("{}: {:?}", row.slug, row.done);
            if helps.iter().filter(|help| help.starts_with(row.help) && help.contains(row.done)).count() != 1
            {
                wrong.push(format!("{what} is in none of {helps:?}, or in several"));
                continue;
            }
            let mut text = bad(code).to_owned();
            for change in &row.changes {
                match change {
                    Change::Append(line) => text.push_str(line),
                    Change::Replace(old, new) => {
                        assert_eq!(text.matches(old).count(), 1, "{what}: {old:?} does not stand there once");
                        text = text.replacen(old, new, 1);
                    }
                }
            }
            // What is taken by `accept` was done outside of the text.
            assert!(row.action || !text.contains("\naccept "), "{what} is only accepted");
            let named = |(id, severity, _): &(&str, Severity, String)| {
                *severity == Severity::Note && row.then.contains(id)
            };
            let after: Vec<_> = told(&compiled_text(&text)).into_iter().filter(|told| !named(told)).collect();
            if !after.is_empty() {
                wrong.push(format!("{what} is done, and there is {after:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn each_help_done_to_the_letter_takes_its_message_in_the_first_third_of_the_codes() {
    each_help_holds(0, 3);
}

#[test]
fn each_help_done_to_the_letter_takes_its_message_in_the_second_third_of_the_codes() {
    each_help_holds(1, 3);
}

#[test]
fn each_help_done_to_the_letter_takes_its_message_in_the_last_third_of_the_codes() {
    each_help_holds(2, 3);
}

/// The text with the edits of a change, all of them in this one file.
fn changed(text: &str, fix: &Fix) -> String {
    let mut edits: Vec<_> = fix.edits.iter().collect();
    edits.sort_by_key(|edit| std::cmp::Reverse(edit.span));
    edits.iter().fold(text.to_owned(), |mut text, edit| {
        text.replace_range(edit.span.range(), &edit.text);
        text
    })
}

/// Every change of text that is offered does the same.
#[test]
fn each_change_of_text_takes_its_message() {
    let mut made = 0;
    for code in codes() {
        let text = bad(code);
        let files = MemoryFiles::single("test.scant", text);
        let compilation = compile_with_mends(&files, "test.scant".into()).unwrap();
        for fix in compilation.diagnostics.iter().flat_map(|told| &told.fixes) {
            let after = told(&compiled_text(&changed(text, fix)));
            assert_eq!(after, [], "{}: {}", code.slug, fix.title);
            made += 1;
        }
    }
    assert!(made >= 14, "{made} changes");
}

/// No row is of a check that is not there, and none stands twice.
#[test]
fn the_table_is_of_the_checks() {
    let table = std::fs::read_to_string(root().join(TABLE)).unwrap();
    let slugs: BTreeSet<&str> = codes().map(|code| code.slug).collect();
    let mut seen = BTreeSet::new();
    for row in table.lines().filter(|line| !line.starts_with('#')).map(row) {
        assert!(slugs.contains(row.slug), "{}", row.slug);
        assert!(seen.insert((row.slug, row.done)), "{} {} stands twice", row.slug, row.done);
    }
    let without: Vec<&&str> = slugs.iter().filter(|slug| !seen.iter().any(|(own, _)| own == *slug)).collect();
    assert!(without.is_empty(), "{without:?}");
}

/// The helps of a code on its bad example with changes.
fn helps(slug: &str, changes: &[(&str, &str)]) -> Vec<String> {
    let code = codes().find(|code| code.slug == slug).unwrap();
    let mut text = bad(code).to_owned();
    for (old, new) in changes {
        assert_eq!(text.matches(old).count(), 1, "{old} does not stand there once");
        text = text.replace(old, new);
    }
    let told = compiled_text(&text).diagnostics.into_iter().filter(|told| told.code.id == code.id);
    told.flat_map(|told| told.help).collect()
}

/// Two shelves have four ends; nails leave two clamps of them, stages two of four or one of four.
#[test]
fn clamps_are_replaced_by_what_is_enough() {
    let one = ["glue it up in stages (`stages = 4`), or borrow 3 clamps"];
    assert_eq!(helps("clamps", &[("count = 2", "count = 1")]), one);
    let staged = [("count = 2", "count = 1"), ("depth = 300mm", "depth = 300mm, stages = 2")];
    let nails =
        "glue it up in stages (`stages = 4`), borrow 1 clamp, or nail the joints: nails replace half of them";
    assert_eq!(helps("clamps", &staged), [nails]);
    // None opens as wide as 600.
    assert_eq!(helps("clamps", &[("opens = 1m", "opens = 599mm")]), ["borrow 4 clamps"]);
    // Nailed already, the two do.
    let nailed = [("{ glue = white }", "{ glue = white, nail = brad }\nnail brad { length = 40mm }")];
    assert!(helps("clamps", &nailed).is_empty());
}

/// A screw carries 3360 D^2 lb, of 0.164 in 90.4, full where 7 D of it, 1.148 in, are in the stud. Of 2 in these are
/// 2 - 23/32 - 1/2 = 25/32, and it carries 61.5; 140 lb/ft ask for 83.3 of each of two and 55.5 of three. With 25/32 in the stud
/// 3360 D 25/32 / 7 = 375 D is 83.3 at D = 0.222, and no. 13 is 0.229 thick, no. 12 0.216.
#[test]
fn a_screw_is_longer_or_heavier_where_that_is_enough() {
    let short = [("length = 2 1/2\"", "length = 2\""), ("load = 160 lb/ft", "load = 140 lb/ft")];
    let all = "take a longer screw, take a heavier screw (`gauge = 13` or more), let a stud more stand behind the unit, or load the shelf less";
    assert_eq!(helps("screw_load", &short), [all]);
    // 300 lb/ft ask for 178.5 of each, 119 of three: 3360 D^2 is that at 0.2305, no. 14 (0.242) with 1.28 in the stud carries 148.9.
    assert_eq!(helps("screw_load", &[("load = 160 lb/ft", "load = 300 lb/ft")]), ["load the shelf less"]);
}

/// A seam brings a stud to another unit only where there are units and studs.
#[test]
fn a_seam_is_shifted_where_there_is_one() {
    let blocking = "put `blocking` between the studs behind its cleats before the wall is closed";
    assert_eq!(helps("too_few_studs", &[]), [blocking]);
    let two = [
        ("back = 31\", front = 31\"", "back = 61\", front = 61\""),
        ("[12\"]", "[12\", 40\", 50\", 56\"]"),
        ("unit a {", "each unit {"),
        ("cleat { height = 2 1/2\" } }", "cleat { height = 2 1/2\" } }\n  unit a\n  unit b"),
    ];
    let shift = format!("{blocking}, or shift the seams by other widths");
    assert_eq!(helps("too_few_studs", &two), [shift]);
    let mut shifted = two.to_vec();
    shifted[3].1 = "cleat { height = 2 1/2\" } }\n  unit a { width = 43\" }\n  unit b";
    assert!(helps("too_few_studs", &shifted).is_empty());
}
