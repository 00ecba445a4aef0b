//! Codes: one for each kind of message, with a meaning that never changes.

use super::Severity;

/// A kind of message.
///
/// The letter says who found it: `F` files, `S` syntax, `N` names, `V` values, `L` the carcass and its parts, `C`
/// checks, `D` what is made. A number is never used again for something else.
#[derive(Debug, PartialEq, Eq)]
pub struct Code {
    /// The code, such as `S001`.
    pub id: &'static str,
    /// A readable name in `lower_snake`, as `accept` uses it.
    pub slug: &'static str,
    /// How much such a message matters.
    pub severity: Severity,
    /// The rule in one line.
    pub title: &'static str,
    /// What it means, why it matters at the saw, and how to mend it.
    pub explanation: &'static str,
    /// A text that gives exactly this message, and one that gives none.
    pub example: Option<Example>,
}

/// The texts that `explain` shows; a test compiles both.
#[derive(Debug, PartialEq, Eq)]
pub struct Example {
    /// A whole file with the mistake in it, and no other.
    pub bad: &'static str,
    /// The same file mended.
    pub good: &'static str,
}

/// Declares a code as a static: severity, name, number, slug, title, explanation, and whether it has an example.
///
/// The texts of an example stand beside the file that declares the code, as a user would write them:
/// `examples/<slug>.bad.scant` and `examples/<slug>.good.scant`.
macro_rules! code {
    ($severity:ident, $name:ident, $id:literal, $slug:literal, $title:literal, $explanation:literal, $example:ident) => {
        #[doc = $title]
        pub static $name: $crate::diag::Code = $crate::diag::Code {
            id: $id,
            slug: $slug,
            severity: $crate::diag::Severity::$severity,
            title: $title,
            explanation: $explanation,
            example: $crate::diag::example!($example, $slug),
        };
    };
}
pub(crate) use code;

/// The two texts of a code, as they are part of the program.
macro_rules! example {
    (with_example, $slug:literal) => {
        Some($crate::diag::Example {
            bad: include_str!(concat!("examples/", $slug, ".bad.scant")),
            good: include_str!(concat!("examples/", $slug, ".good.scant")),
        })
    };
    (without_example, $slug:literal) => {
        None
    };
}
pub(crate) use example;
