//! Words that begin an item, for the scanner and for all that comes after it.

/// A word that begins a statement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Statement {
    /// The word.
    pub word: &'static str,
    /// Whether it begins an item where it stands at the left margin: then an open bracket before it was forgotten.
    pub begins_item: bool,
}

const fn statement(word: &'static str, begins_item: bool) -> Statement {
    Statement { word, begins_item }
}

/// The words of statements.
pub const STATEMENTS: &[Statement] = &[
    statement("let", true),
    statement("each", true),
    statement("join", true),
    statement("require", false),
    statement("accept", false),
    statement("measured", false),
    statement("use", true),
    statement("module", true),
    statement("param", false),
];

/// The kinds that stand at the top of a file. `resolve` does not compile where they are not those whose members may stand there.
pub const TOP_KINDS: &[&str] = &[
    "project", "sheet", "board", "moulding", "tape", "nail", "screw", "pin", "hinge", "slide", "pull",
    "glue", "coating", "caulk", "filler", "saw", "router", "borer", "clamp", "person", "vehicle", "room",
    "stick", "run", "carcass", "item", "join", "fits", "rates", "finish",
];

/// Whether an item begins with this word where it stands at the left margin, with this behind it: a name, a text or a block.
pub(super) fn begins_item(word: &str, behind: &str) -> bool {
    let known = TOP_KINDS.contains(&word)
        || STATEMENTS.iter().any(|statement| statement.begins_item && statement.word == word);
    known
        && behind.trim_start().starts_with(|c: char| c.is_ascii_alphabetic() || matches!(c, '_' | '"' | '{'))
}
