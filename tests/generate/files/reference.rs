//! The sections of the reference that are made from the program's tables.

use super::library::entries;
use scantling::check::CHECKS;
use scantling::fits::{WINDOWS, WindowRow};
use scantling::parts::RowKind;
use scantling::quantity::System;
use scantling::resolve::{
    FILE, JOINS, KINDS, Known, Naming, Source, Takes, UsualLength, Usually, Without, Written,
};

/// The reference with its sections anew.
pub fn file() -> (&'static str, String) {
    const PATH: &str = "grammar/REFERENCE.md";
    let mut text = super::read(PATH);
    let sections = [
        ("joins", joins()),
        ("places", places()),
        ("windows", windows()),
        ("kinds", kinds()),
        ("library", library()),
        ("checks", checks()),
    ];
    for (name, section) in sections {
        text = filled(&text, name, &section);
    }
    (PATH, text)
}

/// A text with a section anew: what stands between its two marks.
fn filled(text: &str, name: &str, section: &str) -> String {
    let begin = format!("<!-- generated: {name} -->\n");
    let end = format!("<!-- end of {name} -->\n");
    let (before, rest) =
        text.split_once(&begin).unwrap_or_else(|| panic!("the section on {name} has no beginning"));
    let (_, after) = rest.split_once(&end).unwrap_or_else(|| panic!("the section on {name} has no end"));
    format!("{before}{begin}\n{}\n\n{end}{after}", section.trim())
}

/// The section on kinds, as the table of kinds has it.
fn kinds() -> String {
    let code = |words: &[&str]| words.iter().map(|w| format!("`{w}`")).collect::<Vec<_>>().join(", ");
    let mut text = String::new();
    for kind in KINDS {
        let places: Vec<String> = kind
            .within
            .iter()
            .map(|w| if *w == FILE { "a file".to_owned() } else { format!("a `{w}`") })
            .collect();
        let naming = match kind.naming {
            Naming::Needed => "It has a name.".to_owned(),
            Naming::Optional => "It may have a name; without one it is counted.".to_owned(),
            Naming::Perhaps => "One may stand without a name, others have one.".to_owned(),
            Naming::Alone => "It has no name.".to_owned(),
            Naming::OneOf(words) => format!("Its name is one of {}.", code(words)),
        };
        text.push_str(&format!(
            "\n### `{}`\n\n{}. Stands in {}. {naming}\n",
            kind.word,
            kind.doc,
            places.join(", ")
        ));
        if let Some(open) = kind.open {
            text.push_str(&format!("Its properties are names of your own; each takes {}.\n", takes(open)));
        }
        if !kind.properties.is_empty() {
            text.push_str("\n| property | meaning | takes | without it | usually |\n|---|---|---|---|---|\n");
        }
        for property in kind.properties {
            let (takes, without) = (takes(property.takes), without(property.without));
            let usually: Vec<String> = property.usually.iter().map(usually).collect();
            let usually = usually.join("; ");
            let (name, doc) = (property.name, property.doc);
            text.push_str(&format!("| `{name}` | {doc} | {takes} | {without} | {usually} |\n"));
        }
    }
    text
}

fn takes(takes: Takes) -> String {
    let code = |words: &[&str]| words.iter().map(|w| format!("`{w}`")).collect::<Vec<_>>().join(" or ");
    match takes {
        Takes::Quantity(dim) => format!("{dim}, such as `{}`", dim.example().replace(" or ", "` or `")),
        Takes::Count => "a whole number".to_owned(),
        Takes::Share => "a length, or a share of `rest`".to_owned(),
        Takes::Size => "a size, such as `96\" x 48\"`".to_owned(),
        Takes::Text => "a text".to_owned(),
        Takes::Lengths => "a list of lengths; `?` for one that is not read yet".to_owned(),
        Takes::Quantities(dim) => format!("a list; each {dim}, such as `{}`", dim.example()),
        Takes::Price(dims) => {
            let each: Vec<String> =
                dims.iter().map(|dim| format!("{dim}, such as `{}`", dim.example())).collect();
            each.join(", or ")
        }
        Takes::Load => "`books` or `other`, or a weight per length".to_owned(),
        Takes::Members(kind) => format!("a list of names of a `{kind}`"),
        Takes::Date => "a day, such as `2026-03-02` or `2026-03-02 08:00`".to_owned(),
        Takes::Choice(words) => code(words),
        Takes::Choices(words) => format!("{}, or a list of them", code(words)),
        Takes::Member(kind) => format!("the name of a `{kind}`"),
        Takes::Names => "a list of names".to_owned(),
        Takes::Truth => "`true` or `false`".to_owned(),
        Takes::Word | Takes::Any => panic!("only a parameter of a module takes that"),
    }
}

/// What holds where a property is not stated, in words.
fn without(without: Without) -> String {
    match without {
        Without::Nothing => String::new(),
        Without::Follows(words) => words.to_owned(),
        Without::Needed { examples: [inch, metric], when } => {
            let examples =
                if inch == metric { format!("`{inch}`") } else { format!("`{inch}` or `{metric}`") };
            let when = if when.is_empty() { String::new() } else { format!(" {when}") };
            format!("it must be stated{when}: {examples}")
        }
        Without::Length(usual) => usual_length(usual),
        Without::Word(word) => format!("`{word}`"),
        Without::Number(value, unit, source) => {
            format!("{} ({})", Written { value, unit }, known(source))
        }
        Without::Count(count) => count.to_string(),
    }
}

/// A usual length in inches and in millimetres, with its sources.
fn usual_length(usual: UsualLength) -> String {
    let [inch, mm] = usual.values;
    let [inch, mm] = [Written { value: inch, unit: "in" }, Written { value: mm, unit: "mm" }];
    let [of_inch, of_mm] = usual.sources.map(known);
    if of_inch == of_mm {
        format!("{inch} or {mm} ({of_inch})")
    } else {
        format!("{inch} ({of_inch}) or {mm} ({of_mm})")
    }
}

/// A usual range in both systems, with its source, and the one outside of which a value is doubted.
fn usually(usually: &Usually) -> String {
    let said =
        |[inch, metric]: [String; 2]| if inch == metric { inch } else { format!("{inch}, or {metric}") };
    let systems = [System::Inch, System::Metric];
    let source = known(usually.source);
    let beyond = systems.map(|system| usually.beyond(system));
    let doubted = beyond.map(|range| range.map(range_in_words));
    if systems.map(|system| Some(usually.range(system))) == beyond {
        let [Some(inch), Some(metric)] = doubted else { panic!("a range in one system") };
        return format!("*{}* ({source})", said([inch, metric]));
    }
    let usual = said(systems.map(|system| range_in_words(usually.range(system))));
    match doubted {
        [Some(inch), Some(metric)] => format!("{usual} ({source}); *{}*", said([inch, metric])),
        _ => format!("{usual} ({source})"),
    }
}

fn range_in_words(range: [Option<Written>; 2]) -> String {
    match range {
        [Some(least), Some(greatest)] => format!("{least} to {greatest}"),
        [Some(least), None] => format!("at least {least}"),
        [None, Some(greatest)] => format!("at most {greatest}"),
        [None, None] => panic!("a range without an end"),
    }
}

/// How a value is known, in words; a rule of the language needs no source.
fn known(source: Source) -> String {
    match source.known {
        Known::Published => source.text.to_owned(),
        Known::Common => "common practice".to_owned(),
        Known::Memory => "from memory".to_owned(),
        Known::Rule => "by definition".to_owned(),
    }
}

/// The table of what can be joined to what.
fn joins() -> String {
    let mut text = String::from("| join | joint | depth | fit | what is counted |\n|---|---|---|---|---|\n");
    for join in JOINS {
        let joints: Vec<String> = join.joints.iter().map(|joint| format!("`{joint}`")).collect();
        let [depth, fit] = [join.depth, join.fit].map(|usual| usual.map(usual_length).unwrap_or_default());
        let (guest, host, joints, doc) = (join.guest, join.host, joints.join(", "), join.doc);
        text.push_str(&format!("| `{guest} to {host}` | {joints} | {depth} | {fit} | {doc} |\n"));
    }
    text
}

/// The windows of parts that are made.
fn windows() -> String {
    let mut text = String::from("| what is held | joins | at least | at most |\n|---|---|---|---|\n");
    for WindowRow { held, joins, least, most } in WINDOWS {
        let joins: Vec<String> = joins
            .split(", ")
            .map(|join| match join {
                "none" => join.to_owned(),
                join => format!("`{join}`"),
            })
            .collect();
        text.push_str(&format!("| {held} | {} | {least} | {most} |\n", joins.join(", ")));
    }
    text
}

/// The places of fasteners, by which they are counted.
fn places() -> String {
    let mut text = String::from("| place | fasteners |\n|---|---|\n");
    for kind in RowKind::ALL {
        let about = kind.about().trim_end_matches('.');
        text.push_str(&format!("| `hardware.NAME.{}` | {about} |\n", kind.step()));
    }
    text
}

/// The section on the library, as its files have it.
fn library() -> String {
    let entries = entries();
    let mut kinds: Vec<&str> = Vec::new();
    for entry in &entries {
        if !kinds.contains(&entry.kind) {
            kinds.push(entry.kind);
        }
    }
    let code = |values: &[&str]| values.iter().map(|v| format!("`{v}`")).collect::<Vec<_>>().join(", ");
    let mut text = String::new();
    for kind in kinds {
        let of_kind = entries.iter().filter(|entry| entry.kind == kind);
        if kind == "let" {
            let sizes: Vec<&str> = of_kind.flat_map(|entry| entry.values.clone()).collect();
            text.push_str(&format!("\nDressed sizes of boards: {}.\n", code(&sizes)));
            continue;
        }
        text.push_str(&format!("\n| `{kind}` | is | states |\n|---|---|---|\n"));
        for entry in of_kind {
            let values = code(&entry.values);
            text.push_str(&format!("| `{}` | {}: {} | {values} |\n", entry.name, entry.text, entry.doc));
        }
    }
    text
}

/// The index of what is checked.
fn checks() -> String {
    let mut index = String::from("| code | is | name | what is told |\n|---|---|---|---|\n");
    for code in CHECKS.iter().flat_map(|check| check.codes) {
        let severity = code.severity.word();
        index.push_str(&format!("| {} | {severity} | `{}` | {} |\n", code.id, code.slug, code.title));
    }
    index
}
