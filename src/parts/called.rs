//! How parts are called.

use std::fmt;
use std::sync::Arc;

/// How a part is called.
#[derive(Clone, Debug)]
pub struct Called {
    /// Its path of names.
    pub path: String,
    /// Its own name.
    pub name: Arc<str>,
    /// The path by which it was called before, which texts may still use.
    pub former: Option<String>,
}

impl Called {
    /// What stands under `within` as the one of a kind of parts that has this name: `one.shelf` and `binders`.
    #[must_use]
    pub fn new(within: &str, kind: &str, name: &str) -> Self {
        Self { path: format!("{within}.{kind}.{name}"), name: name.into(), former: None }
    }

    /// What stands under `within` alone of its kind: `one` and `counter`.
    #[must_use]
    pub fn alone(within: &str, kind: &str) -> Self {
        Self { path: format!("{within}.{kind}"), name: kind.into(), former: None }
    }

    /// What stands between two members that have names of their own: `one.stile.a.b`. Until names were joined by a dot, which
    /// no name may hold, it was called `one.stile.a_b`.
    #[must_use]
    pub fn between(within: &str, kind: &str, [left, right]: [&str; 2]) -> Self {
        let former = format!("{within}.{kind}.{}_{}", left.replace('.', "_"), right.replace('.', "_"));
        Self { former: Some(former), ..Self::new(within, kind, &format!("{left}.{right}")) }
    }

    /// What is only counted: `one` and `door`, the second one.
    #[must_use]
    pub fn counted(within: &str, kind: &str, number: impl fmt::Display) -> Self {
        Self { path: format!("{within}.{kind}[{number}]"), name: kind.into(), former: None }
    }
}
