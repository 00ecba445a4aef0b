//! The rules of the house: which room may know which, and what stands at the top.

use crate::{files_under, root};
use std::collections::BTreeMap;

/// What each room may import, besides itself.
const ROOMS: &[(&str, &[&str])] = &[
    ("limits", &[]),
    ("beside", &[]),
    ("cancel", &[]),
    ("quantity", &[]),
    ("real", &[]),
    ("mechanics", &["real"]),
    ("cutting", &["real"]),
    ("source", &["limits"]),
    ("document", &["quantity", "real"]),
    ("render", &["document", "quantity", "real"]),
    ("diag", &["limits", "source"]),
    ("manifest", &["source", "diag"]),
    ("report", &["limits", "quantity", "source", "diag"]),
    ("syntax", &["limits", "quantity", "source", "diag"]),
    ("format", &["quantity", "source", "diag", "syntax"]),
    ("resolve", &["limits", "quantity", "source", "diag", "manifest", "syntax"]),
    ("eval", &["limits", "quantity", "source", "diag", "syntax", "resolve"]),
    ("parts", &["limits", "quantity", "source", "diag", "eval", "real"]),
    ("lower", &["limits", "quantity", "source", "diag", "eval", "parts", "real"]),
    ("breakdown", &["quantity", "eval", "parts", "cutting"]),
    ("views", &["quantity", "real", "diag", "eval", "parts", "document"]),
    (
        "check",
        &[
            "breakdown",
            "cancel",
            "cutting",
            "limits",
            "mechanics",
            "quantity",
            "real",
            "source",
            "diag",
            "eval",
            "parts",
        ],
    ),
    (
        "sheets",
        &[
            "sequence",
            "breakdown",
            "cutting",
            "limits",
            "quantity",
            "real",
            "source",
            "diag",
            "eval",
            "parts",
            "document",
        ],
    ),
    ("sequence", &["mechanics", "quantity", "real", "eval", "parts"]),
    ("pages", &["quantity", "resolve", "eval", "parts", "fits", "document", "views", "sequence", "sheets"]),
    ("fits", &["limits", "quantity", "source", "eval", "parts"]),
    ("progress", &["breakdown", "limits", "quantity", "source", "diag", "syntax", "eval", "parts", "fits"]),
    (
        "diff",
        &[
            "beside",
            "breakdown",
            "limits",
            "quantity",
            "source",
            "diag",
            "syntax",
            "eval",
            "parts",
            "document",
            "sheets",
            "views",
        ],
    ),
    (
        "compile",
        &[
            "cancel",
            "limits",
            "quantity",
            "source",
            "diag",
            "manifest",
            "syntax",
            "resolve",
            "eval",
            "parts",
            "lower",
            "breakdown",
            "check",
            "progress",
            "sheets",
        ],
    ),
    ("why", &["breakdown", "compile", "document", "eval", "parts", "quantity", "sheets", "source"]),
    (
        "cli",
        &[
            "beside",
            "cancel",
            "cutting",
            "breakdown",
            "format",
            "limits",
            "quantity",
            "source",
            "diag",
            "manifest",
            "eval",
            "parts",
            "sheets",
            "document",
            "compile",
            "render",
            "report",
            "diff",
            "fits",
            "progress",
            "views",
            "pages",
            "why",
        ],
    ),
];

#[test]
fn imports_point_one_way() {
    let rooms: BTreeMap<&str, &[&str]> = ROOMS.iter().copied().collect();
    let mut seen = 0;
    for path in files_under("src", ".rs") {
        let inside = path.strip_prefix(root().join("src")).unwrap();
        let room = inside.as_str().split(['/', '.']).next().unwrap();
        if ["lib", "main"].contains(&room) {
            continue;
        }
        let allowed = rooms.get(room).unwrap_or_else(|| panic!("the room {room} has no line in this test"));
        let text = std::fs::read_to_string(&path).unwrap();
        // Tests inside a room may use what the room may not.
        let code = text.split("#[cfg(test)]").next().unwrap();
        for piece in code.split("crate::").skip(1) {
            let other = piece.split(|c: char| !c.is_ascii_alphanumeric() && c != '_').next().unwrap();
            seen += 1;
            let known = other == room || allowed.contains(&other);
            assert!(known, "{inside} knows `{other}`, which the room {room} may not");
        }
    }
    assert!(seen > 50, "the test has stopped seeing imports");
}

#[test]
fn only_two_files_touch_the_disk() {
    for path in files_under("src", ".rs") {
        let inside = path.strip_prefix(root().join("src")).unwrap().as_str();
        let text = std::fs::read_to_string(&path).unwrap();
        if text.contains("std::fs") {
            assert!(["source/files.rs", "cli/write.rs"].contains(&inside), "{inside} touches the disk");
        }
    }
}

/// What a page of the web does not have compiles there all the same, and stops the program when it is called.
#[test]
fn the_library_asks_nothing_of_the_machine() {
    for path in files_under("src", ".rs") {
        let inside = path.strip_prefix(root().join("src")).unwrap().as_str();
        if inside.starts_with("cli/") || inside == "main.rs" {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        for machine in ["std::thread", "std::time", "std::env", "std::process", "std::net"] {
            let allowed = machine == "std::thread" && inside == "beside.rs";
            assert!(allowed || !text.contains(machine), "{inside} uses {machine}");
        }
    }
}

#[test]
fn the_top_is_as_it_was_fixed() {
    let allowed = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE-MIT",
        "LICENSE-APACHE",
        "grammar",
        "src",
        "examples",
        "tests",
        "editors",
        "target",
    ];
    for entry in root().read_dir_utf8().unwrap() {
        let name = entry.unwrap().file_name().to_owned();
        assert!(
            name.starts_with('.') || allowed.contains(&name.as_str()),
            "{name} does not belong at the top"
        );
    }
}

/// What points at a text that a stranger with nothing but the repository does not have, or names no document.
const ELSEWHERE: [&str; 12] = [
    r"(?i)worked examples? [AB]\b",
    r"(?i)the (project's |two )?worked examples\b",
    r"(?i)\brules? [1-9]\d?\b",
    r"(?i)\btrade('s own)? (sheet|notes|rule|table)",
    r"(?i)\btrade\.md\b|/work/shared",
    r"(?i)\breference (groups?|pack|ids?)\b",
    r"(?i)\bsecond(, independent)? route\b",
    r#"(//|") ?[AB]\.\d+\b"#,
    r"(?i)\bmakers?'s?,? data sheets?|\bdata sheets of makers",
    r"(?i)\b(public|published) (nail )?(table|page|collection|transcription)\b",
    r"(?i)\b(university|textbook|encyclopedia's) (problem|example)",
    r"(?i)\bquoted by\b|\bindustry guidance\b",
];

/// Values are checked against published documents, or against working that stands in the repository.
#[test]
fn no_text_points_outside_of_the_repository() {
    let patterns: Vec<fancy_regex::Regex> =
        ELSEWHERE.iter().map(|pattern| fancy_regex::Regex::new(pattern).unwrap()).collect();
    let folders = ["src", "tests", "examples", "grammar"];
    let endings = [".rs", ".scant", ".md", ".py", ".pest", ".json", ".csv"];
    let mut found = Vec::new();
    for path in folders.iter().flat_map(|folder| endings.iter().flat_map(|end| files_under(folder, end))) {
        let path = path.strip_prefix(root()).unwrap().to_owned();
        // This list.
        if path == "tests/suite/house.rs" {
            continue;
        }
        let text = std::fs::read(root().join(&path)).unwrap();
        for (number, line) in String::from_utf8_lossy(&text).lines().enumerate() {
            if patterns.iter().any(|pattern| pattern.is_match(line).unwrap()) {
                found.push(format!("{path}:{}: {}", number + 1, line.trim()));
            }
        }
    }
    assert_eq!(found, [""; 0]);
}

/// Each pattern catches what it is there for; a published example and a table stay allowed.
#[test]
fn what_points_outside_is_seen() {
    let seen = |text: &str| {
        ELSEWHERE.iter().any(|pattern| fancy_regex::Regex::new(pattern).unwrap().is_match(text).unwrap())
    };
    let bad = [
        "worked example A, step 9",
        "the worked examples",
        "rule 69",
        "the trade sheet",
        "see trade.md",
        "reference group `beams`",
        "by a second, independent route",
        "// A.11: 0.042",
        "a maker's data sheet",
        "from a public nail table",
        "a university problem",
        "as quoted by a council",
    ];
    assert!(
        bad.iter()
            .zip(ELSEWHERE)
            .all(|(text, pattern)| { fancy_regex::Regex::new(pattern).unwrap().is_match(text).unwrap() })
    );
    assert!(!seen("FPL-GTR-190 (2010), Eq. 13-2 and its worked example, by the rule of footnote a"));
    assert!(!seen("// NIST SP 811, appendix B.6: the inch rule 0.060 + 0.013 N"));
}
