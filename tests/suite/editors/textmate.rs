//! The TextMate grammar colours real texts. What an editor does with such a grammar is done here by a small reader: of the
//! patterns in force, the one that fits first on the line holds; `begin` and `end` put patterns in force and take them off.

use crate::generated::{read, words::words};
use fancy_regex::Regex;
use serde_json::Value;
use std::cell::RefCell;
use std::collections::BTreeMap;

struct Grammar {
    root: Value,
    compiled: RefCell<BTreeMap<String, Regex>>,
}

impl Grammar {
    fn new() -> Self {
        let root = serde_json::from_str(&read("editors/vscode/syntaxes/scantling.tmLanguage.json")).unwrap();
        Self { root, compiled: RefCell::default() }
    }

    fn regex(&self, pattern: &Value) -> Regex {
        let pattern = pattern.as_str().unwrap();
        let mut compiled = self.compiled.borrow_mut();
        let new = || Regex::new(pattern).unwrap_or_else(|error| panic!("{pattern}: {error}"));
        compiled.entry(pattern.to_owned()).or_insert_with(new).clone()
    }

    /// The rules behind `patterns`, with what they include.
    fn rules<'a>(&'a self, patterns: &'a Value, rules: &mut Vec<&'a Value>) {
        for pattern in patterns.as_array().into_iter().flatten() {
            let rule = pattern["include"].as_str().map_or(pattern, |name| {
                let rule = &self.root["repository"][name.trim_start_matches('#')];
                assert!(rule.is_object(), "{name} is included and does not exist");
                rule
            });
            if rule.get("match").is_some() || rule.get("begin").is_some() {
                rules.push(rule);
            } else {
                self.rules(&rule["patterns"], rules);
            }
        }
    }

    /// The innermost scope of each byte, line by line, and how many blocks, lists and texts are open at the end.
    fn paint(&self, text: &str) -> (Vec<Vec<String>>, usize) {
        let mut open: Vec<&Value> = vec![&self.root];
        let mut painted = Vec::new();
        for line in text.lines() {
            let around = |open: &[&Value]| open.last().unwrap()["name"].as_str().unwrap_or("").to_owned();
            let mut scopes = Vec::new();
            let mut at = 0;
            loop {
                let top = *open.last().unwrap();
                let mut rules = Vec::new();
                self.rules(&top["patterns"], &mut rules);
                let end = top.get("end").map(|end| (end, None));
                let begins =
                    rules.iter().map(|rule| (rule.get("match").unwrap_or(&rule["begin"]), Some(*rule)));
                let fits = end.into_iter().chain(begins).filter_map(|(pattern, rule)| {
                    Some((self.regex(pattern).captures_from_pos(line, at).unwrap()?, rule))
                });
                // `min_by_key` takes the first of equals, as an editor does.
                let first = fits.min_by_key(|(captures, _)| captures.get(0).unwrap().start());
                let inside = if open.len() > 1 { around(&open) } else { String::new() };
                let Some((captures, rule)) = first else {
                    scopes.resize(line.len(), inside);
                    break;
                };
                let found = captures.get(0).unwrap();
                scopes.resize(found.start(), inside.clone());
                let (name, inner) = match rule {
                    None => (inside, &top["endCaptures"]),
                    Some(rule) => {
                        let name = rule["name"].as_str().map_or(inside, str::to_owned);
                        (name, rule.get("captures").unwrap_or(&rule["beginCaptures"]))
                    }
                };
                scopes.resize(found.end(), name);
                for (group, capture) in inner.as_object().into_iter().flatten() {
                    if let Some(piece) = captures.get(group.parse().unwrap()) {
                        scopes[piece.range()].fill(capture["name"].as_str().unwrap().to_owned());
                    }
                }
                match rule {
                    None => drop(open.pop()),
                    Some(rule) if rule.get("begin").is_some() => open.push(rule),
                    Some(_) => assert!(!found.as_str().is_empty(), "an empty match in {line}"),
                }
                at = found.end();
            }
            painted.push(scopes);
        }
        (painted, open.len() - 1)
    }

    /// The scope of a piece of the last line of a text, without the `.scantling` at its end.
    fn scope(&self, text: &str, piece: &str) -> String {
        let (painted, _) = self.paint(text);
        let line = text.lines().last().unwrap();
        let at = line.find(piece).unwrap();
        let scopes = &painted.last().unwrap()[at..at + piece.len()];
        assert!(scopes.iter().all(|scope| *scope == scopes[0]), "{piece} has several colours: {scopes:?}");
        scopes[0].trim_end_matches(".scantling").to_owned()
    }
}

#[test]
fn pieces_of_real_text_have_their_scopes() {
    let grammar = Grammar::new();
    let lines: &[(&str, &[(&str, &str)])] = &[
        (
            "sheet ply \"birch \\\" plywood\" { thickness = 23/32\" } // by caliper",
            &[
                ("sheet", "storage.type.kind"),
                ("ply", "entity.name.member"),
                ("birch", "string.quoted.double"),
                ("\\\"", "constant.character.escape"),
                ("thickness", "support.type.property-name"),
                ("23/32\"", "constant.numeric.length"),
                ("// by caliper", "comment.line.double-slash"),
            ],
        ),
        (
            "join shelf to side with dado { depth = 1/4\", nail = finish_nail }",
            &[
                ("join", "keyword.control"),
                ("shelf", "variable.other.part"),
                ("to", "keyword.control"),
                ("dado", "support.constant"),
                ("nail", "support.type.property-name"),
                ("finish_nail", ""),
            ],
        ),
        (
            "  stretcher top { height = 7' 5 1/2\", at = [front, rear] }",
            &[
                ("stretcher", "storage.type.kind"),
                ("top", "entity.name.member"),
                ("7' 5 1/2\"", "constant.numeric.length"),
                ("front", "support.constant"),
                ("[", "punctuation.section.brackets.begin"),
            ],
        ),
        ("  cleat", &[("cleat", "storage.type.kind")]),
        ("  left = wall", &[("left", "support.type.property-name"), ("wall", "support.constant")]),
        (
            "  atlas = 18 1/4\"",
            &[("atlas", "variable.other.property"), ("18 1/4\"", "constant.numeric.length")],
        ),
        (
            "  width = rest to 1/8\"",
            &[
                ("width", "support.type.property-name"),
                ("rest", "constant.language"),
                ("to", "keyword.operator.word"),
            ],
        ),
        ("  size = 96\" x 48\"", &[("x", "keyword.operator.word"), ("48\"", "constant.numeric.length")]),
        (
            "  density = 36 lb/ft3, stiffness = 0.95e6 psi, price = 6.20 USD/bdft, loss = 8 %",
            &[
                ("36", "constant.numeric"),
                ("lb/ft3", "keyword.other.unit"),
                ("0.95e6", "constant.numeric"),
                ("psi", "keyword.other.unit"),
                ("USD/bdft", "keyword.other.unit"),
                ("%", "keyword.other.unit"),
            ],
        ),
        ("  size = 96\"x48\"", &[("x", "keyword.operator.word"), ("48\"", "constant.numeric.length")]),
        ("  start = 2026-03-02 08:00", &[("2026-03-02 08:00", "constant.numeric.date")]),
        ("  high = ?", &[("?", "constant.language.unread")]),
        ("  height = 6-1/2\"", &[("6-1/2\"", "invalid.illegal.hyphenated")]),
        (
            "require low.shelf.floor.clear_height >= 15\" because \"folios\"",
            &[
                ("require", "keyword.control"),
                ("low", ""),
                ("shelf", "variable.other.member"),
                (">=", "keyword.operator.comparison"),
                ("15\"", "constant.numeric.length"),
                ("because", "keyword.control"),
                ("folios", "string.quoted.double"),
            ],
        ),
        ("accept glue_time because \"two of us\"", &[("glue_time", "constant.other.slug")]),
        (
            "let wide = if unit > 32\" then max(1\", 2mm) else rest",
            &[
                ("let", "keyword.control"),
                ("wide", "variable.other.constant"),
                ("if", "keyword.control.conditional"),
                ("unit", ""),
                ("max", "support.function"),
            ],
        ),
        ("each unit { load = books }", &[("unit", "storage.type.kind"), ("books", "support.constant")]),
        (
            "use \"bench.scant\" { window_bench as bench }",
            &[("use", "keyword.control"), ("as", "keyword.control")],
        ),
        ("module window_bench {", &[("module", "keyword.control"), ("window_bench", "entity.name.type.own")]),
        (
            "  param depth: length(>= 9\") = 11 3/4\"",
            &[
                ("param", "keyword.control"),
                ("depth", "variable.parameter"),
                ("length", "support.type"),
                ("9\"", "constant.numeric.length"),
                ("11 3/4\"", "constant.numeric.length"),
            ],
        ),
        (
            "  bench seat { depth = 12\" }",
            &[("bench", "entity.name.type.own"), ("seat", "entity.name.member")],
        ),
        ("/// Undersides.", &[("/// Undersides.", "comment.line.documentation")]),
        ("//! A file.", &[("//! A file.", "comment.line.documentation.file")]),
        ("let a = [\n  front,\n  1\" // two\n] + 3\"", &[("3\"", "constant.numeric.length")]),
    ];
    for (line, pieces) in lines {
        for (piece, scope) in *pieces {
            assert_eq!(grammar.scope(line, piece), *scope, "`{piece}` in `{line}`");
        }
    }
}

#[test]
fn every_word_of_the_program_has_its_scope() {
    let grammar = Grammar::new();
    for kind in words("kinds").iter().filter(|word| !["join", "module"].contains(&word.as_str())) {
        assert_eq!(grammar.scope(&format!("{kind} its_name {{"), kind), "storage.type.kind", "{kind}");
    }
    for property in words("properties") {
        assert_eq!(grammar.scope(&format!("{property} = 3"), &property), "support.type.property-name");
    }
    for choice in words("choices") {
        assert_eq!(grammar.scope(&format!("its = {choice}"), &choice), "support.constant");
    }
    for unit in words("units") {
        assert_eq!(grammar.scope(&format!("Q = 3 {unit}"), &unit), "keyword.other.unit");
    }
    for word in words("operators") {
        assert_eq!(grammar.scope(&format!("its = 3 {word} 4"), &word), "keyword.operator.word");
    }
}

/// Every bracket that a sound text opens is closed again, and nothing in it is coloured as a mistake.
#[test]
fn sound_texts_end_with_nothing_open() {
    let grammar = Grammar::new();
    for (name, text) in super::tree::sound_texts() {
        let (painted, open) = grammar.paint(&text);
        assert_eq!(open, 0, "{name}");
        let mistaken = painted.iter().position(|line| line.iter().any(|scope| scope.starts_with("invalid")));
        assert_eq!(mistaken, None, "{name}");
    }
}
