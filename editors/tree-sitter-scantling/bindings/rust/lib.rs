//! The tree-sitter grammar of scantling.

use tree_sitter_language::LanguageFn;

unsafe extern "C" {
    fn tree_sitter_scantling() -> *const ();
}

/// The language, for `tree_sitter::Parser::set_language`.
// Sound: the generated parser gives the pointer to a static table, as the type wants it.
pub const LANGUAGE: LanguageFn = unsafe { LanguageFn::from_raw(tree_sitter_scantling) };

/// The query that names what is drawn in which colour.
pub const HIGHLIGHTS: &str = include_str!("../../queries/highlights.scm");
