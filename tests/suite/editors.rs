//! The files for editors: their lists of words are those of the program, and they colour and read real texts.

mod textmate;
mod tree;

use crate::root;
use scantling::quantity::all_words;
use scantling::resolve::{KINDS, LOADS, Naming, Takes};
use std::collections::BTreeSet;

/// What is coloured like a kind: `module` declares, as the kinds do.
const LIKE_A_KIND: &str = "module";

fn read(path: &str) -> String {
    std::fs::read_to_string(root().join(path)).unwrap()
}

/// The words between quotes in a piece of the grammar.
fn quoted(piece: &str) -> impl Iterator<Item = String> {
    piece.split('"').skip(1).step_by(2).map(str::to_owned)
}

/// The words that cannot be names, as the grammar has them.
fn reserved() -> BTreeSet<String> {
    let grammar = read("grammar/scantling.pest");
    let line = grammar.lines().find(|line| line.starts_with("reserved ")).unwrap();
    quoted(line).collect()
}

/// The words that begin a statement or a part of one, as the grammar has them: what stands before `!word_char`.
fn statements() -> BTreeSet<String> {
    let grammar = read("grammar/scantling.pest");
    let words = grammar.lines().filter(|line| line.starts_with("word_") && line.ends_with("~ !word_char }"));
    let words: BTreeSet<String> = words.flat_map(quoted).collect();
    words.difference(&reserved()).filter(|word| *word != LIKE_A_KIND).cloned().collect()
}

/// A list of words by its name in the files.
fn words(list: &str) -> BTreeSet<String> {
    let owned = |words: &[&str]| words.iter().map(|&word| word.to_owned()).collect::<Vec<_>>();
    let properties = || KINDS.iter().flat_map(|kind| kind.properties);
    match list {
        "kinds" => KINDS.iter().map(|kind| kind.word).chain([LIKE_A_KIND]).map(str::to_owned).collect(),
        "properties" => properties().map(|property| property.name.to_owned()).collect(),
        "choices" => {
            let taken = properties().flat_map(|property| match property.takes {
                Takes::Choice(words) | Takes::Choices(words) => owned(words),
                Takes::Load => owned(LOADS),
                _ => Vec::new(),
            });
            let names = KINDS.iter().flat_map(|kind| match kind.naming {
                Naming::OneOf(words) => owned(words),
                _ => Vec::new(),
            });
            taken.chain(names).collect()
        }
        "units" => all_words().map(str::to_owned).collect(),
        "statements" => statements(),
        "constants" => owned(&["false", "rest", "true"]).into_iter().collect(),
        "conditionals" => owned(&["else", "if", "then"]).into_iter().collect(),
        "operators" => reserved()
            .into_iter()
            .filter(|w| !words("constants").contains(w) && !words("conditionals").contains(w))
            .collect(),
        _ => panic!("there is no list of {list}"),
    }
}

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

#[test]
fn the_words_in_the_editors_files_are_those_of_the_program() {
    type Writer = fn(&str) -> Vec<String>;
    const ALL: [&str; 8] =
        ["choices", "conditionals", "constants", "kinds", "operators", "properties", "statements", "units"];
    let files: [(&str, &[&str], Writer, &[&str]); 3] = [
        ("editors/vscode/syntaxes/scantling.tmLanguage.json", &["\"name\"", "\"captures\""], textmate, &[]),
        ("editors/vim/syntax/scantling.vim", &["\" end of words"], vim, &[]),
        ("editors/tree-sitter-scantling/queries/highlights.scm", &["; end of words"], query, &["constants"]),
    ];
    for (path, ends, write, without) in files {
        let text = read(path);
        let (right, lists) = filled(&text, ends, write);
        let expected: BTreeSet<String> =
            ALL.iter().filter(|list| !without.contains(list)).map(|&list| list.to_owned()).collect();
        assert_eq!(lists, expected, "{path}");
        if std::env::var_os("UPDATE_REFERENCE").is_some() {
            std::fs::write(root().join(path), &right).unwrap();
        }
        assert!(read(path) == right, "{path} is stale: run `UPDATE_REFERENCE=1 cargo test editors`");
    }
}

#[test]
fn every_list_holds_what_it_should() {
    let has = |list: &str, word: &str| assert!(words(list).contains(word), "{word} is not in {list}");
    has("kinds", "carcass");
    has("kinds", "ceiling_panel");
    has("properties", "bottom_rail");
    has("choices", "to_floor");
    has("choices", "middle");
    has("choices", "books");
    has("units", "ft2");
    has("statements", "because");
    has("operators", "of");
    assert_eq!(
        statements().into_iter().collect::<Vec<_>>(),
        ["accept", "as", "because", "each", "join", "let", "measured", "param", "require", "use", "with"],
        "the grammar has another statement: give it its colour and its rule in `editors`"
    );
}

#[test]
fn the_package_names_files_that_exist() {
    let package: serde_json::Value = serde_json::from_str(&read("editors/vscode/package.json")).unwrap();
    let contributes = &package["contributes"];
    assert_eq!(contributes["languages"][0]["extensions"], serde_json::json!([".scant"]));
    assert_eq!(contributes["grammars"][0]["language"], contributes["languages"][0]["id"]);
    for path in [&contributes["languages"][0]["configuration"], &contributes["grammars"][0]["path"]] {
        let text = read(&format!("editors/vscode/{}", path.as_str().unwrap()));
        assert!(serde_json::from_str::<serde_json::Value>(&text).unwrap().is_object());
    }
}

/// The pattern with which the editor finds messages finds them in what the program prints.
#[test]
fn the_problem_matcher_reads_the_short_form() {
    let package: serde_json::Value = serde_json::from_str(&read("editors/vscode/package.json")).unwrap();
    let pattern = package["contributes"]["problemMatchers"][0]["pattern"]["regexp"].as_str().unwrap();
    let pattern = fancy_regex::Regex::new(pattern).unwrap();
    let compilation = crate::compiled("tests/corpus/units.scant");
    let told = crate::corpus::drawn(&compilation, scantling::report::Form::Short);
    let found: Vec<_> = told.lines().filter_map(|line| pattern.captures(line).unwrap()).collect();
    assert_eq!(found.len(), 5, "{told}");
    assert_eq!((&found[0][2], &found[0][3], &found[0][4], &found[0][5]), ("1", "11", "error", "S008"));
    assert_eq!(&found[0][6], "`inch` is not a unit");
}
