//! The files for editors with their lists of words.

use super::words::words;
use std::collections::BTreeSet;

/// The words as one alternative of a regular expression; longer ones first, since some engines take the first that fits.
fn either(list: &str, or: &str) -> String {
    let mut words: Vec<String> = words(list).into_iter().collect();
    words.sort_by_key(|word| (std::cmp::Reverse(word.len()), word.clone()));
    words.join(or)
}

/// Words in lines of at most 110 columns, each line between `open` and `close`.
fn lines(words: impl Iterator<Item = String>, open: &str, close: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words {
        match lines.last_mut() {
            Some(line) if line.len() + 1 + word.len() + close.len() <= 110 => {
                line.push(' ');
                line.push_str(&word);
            }
            _ => lines.push(format!("{open}{word}")),
        }
    }
    lines.into_iter().map(|line| line + close).collect()
}

const NUMBER: &str = r"(?:\d+[ \t]+)?\d+/\d+|\d+(?:\.\d+)?(?:[eE][+-]?\d+)?";

/// The rule of the TextMate grammar for a list.
fn textmate(list: &str) -> Vec<String> {
    let any = either(list, "|");
    let rule = match list {
        "kinds" => format!(r"(?:^|(?<=[{{,]))\s*({any})\b(?!\s*[=.\[(])(?:\s+([A-Za-z_]\w*))?"),
        "properties" => format!(r"(?<![.\w])(?:{any})(?=\s*=(?!=))"),
        "units" => {
            format!(r"(?<!\w)({NUMBER})[ \t]*((?:{any})(?:/(?:{any}))?|[A-Z]{{3}}(?:/(?:{any}))?)(?![\w/])")
        }
        "choices" | "statements" => format!(r"(?<![.\w])(?:{any})\b(?!\s*[=.\[(])"),
        _ => format!(r"(?<![.\w])(?:{any})\b"),
    };
    vec![format!("      \"match\": {},", serde_json::to_string(&rule).unwrap())]
}

/// The commands of Vim for a list.
fn vim(list: &str) -> Vec<String> {
    let any = either(list, r"\|").replace('/', r"\/");
    let keywords = |group: &str| lines(words(list).into_iter(), &format!("syntax keyword {group} "), "");
    match list {
        "kinds" => keywords("scantlingKind contained"),
        "properties" => keywords("scantlingProperty contained"),
        "statements" => keywords("scantlingStatement contained"),
        "constants" => keywords("scantlingConstant"),
        "conditionals" => keywords("scantlingConditional"),
        "operators" => keywords("scantlingOperator"),
        "choices" => vec![format!(r"syntax match scantlingChoice /\.\@1<!\<\%({any}\)\>\%(\s*[.(\[=]\)\@!/")],
        "units" => vec![format!(
            r"syntax match scantlingUnit contained /\%({any}\|\u\{{3}}\)\%(\/\%({any}\)\)\=\%(\w\|\/\)\@!/"
        )],
        _ => panic!("there is no list of {list}"),
    }
}

/// The queries of tree-sitter for a list.
fn query(list: &str) -> Vec<String> {
    let quoted = || words(list).into_iter().map(|word| format!("\"{word}\""));
    let tokens = |capture: &str| {
        let mut lines = lines(quoted(), "  ", "");
        lines.insert(0, "[".to_owned());
        lines.push(format!("] {capture}"));
        lines
    };
    let any_of = |pattern: &str, capture: &str| {
        let mut lines = lines(quoted(), "    ", "");
        lines.splice(0..0, [format!("({pattern}"), format!("  (#any-of? {capture}")]);
        lines.push("  ))".to_owned());
        lines
    };
    match list {
        "operators" => tokens("@keyword.operator"),
        "conditionals" => tokens("@keyword.conditional"),
        "statements" => tokens("@keyword"),
        "kinds" => {
            let declared = any_of("(declaration kind: (identifier) @type.builtin)", "@type.builtin");
            let each = any_of("(each_statement kind: (identifier) @type.builtin)", "@type.builtin");
            [declared, each].concat()
        }
        "properties" => any_of("(property name: (identifier) @property)", "@property"),
        "choices" => any_of("(path . (identifier) @constant.builtin .)", "@constant.builtin"),
        "units" => {
            let any = either(list, "|");
            vec![format!("((unit) @type (#match? @type \"^({any}|[A-Z]{{3}})(/({any}))?$\"))")]
        }
        _ => panic!("there is no list of {list}"),
    }
}

/// A file with its lists written anew: what stands between a line with `words: LIST` and one that begins with one of `ends`.
fn filled(text: &str, ends: &[&str], write: fn(&str) -> Vec<String>) -> (String, BTreeSet<String>) {
    let (mut out, mut lists) = (String::new(), BTreeSet::new());
    let mut inside = false;
    for line in text.lines() {
        inside = inside && !ends.iter().any(|end| line.trim_start().starts_with(end));
        if !inside {
            out.push_str(line);
            out.push('\n');
        }
        if let Some((_, list)) = line.split_once("words: ") {
            let list = list.trim_end_matches(['"', ',']);
            write(list).iter().for_each(|line| out.push_str(&format!("{line}\n")));
            lists.insert(list.to_owned());
            inside = true;
        }
    }
    assert!(!inside, "the last list of words has no end");
    (out, lists)
}

/// How the lines of a list are written in a file.
type Writer = fn(&str) -> Vec<String>;

const ALL: [&str; 8] =
    ["choices", "conditionals", "constants", "kinds", "operators", "properties", "statements", "units"];

/// A file for editors with its lists anew; every list but those of `without` has its place in it.
fn file(path: &'static str, ends: &[&str], write: Writer, without: &[&str]) -> (&'static str, String) {
    let (text, lists) = filled(&super::read(path), ends, write);
    let expected: BTreeSet<String> =
        ALL.iter().filter(|list| !without.contains(list)).map(|&list| list.to_owned()).collect();
    assert_eq!(lists, expected, "{path} has other lists of words");
    (path, text)
}

/// The files with their texts.
pub fn files() -> Vec<(&'static str, String)> {
    let constants = ["constants"];
    vec![
        file(
            "editors/vscode/syntaxes/scantling.tmLanguage.json",
            &["\"name\"", "\"captures\""],
            textmate,
            &[],
        ),
        file("editors/vim/syntax/scantling.vim", &["\" end of words"], vim, &[]),
        file("editors/tree-sitter-scantling/queries/highlights.scm", &["; end of words"], query, &constants),
    ]
}
