//! Parts as they were built: a measured size takes the place of the derived one, which is kept beside it.

use super::Lowering;
use crate::diag::{Diagnostic, nearest};
use crate::eval::{Found, codes};
use crate::parts::{AsBuilt, Part, Sized};

impl Lowering<'_> {
    pub(super) fn as_built(&mut self) {
        for found in &self.model.found {
            let (path, dimension) = found.path.rsplit_once('.').unwrap_or(("", &found.path));
            let id = self.graph.named(path);
            let Some(part) = id.and_then(|id| self.graph.parts.get_mut(id.0 as usize)) else {
                self.no_such_part(found, path);
                continue;
            };
            if !measured(part, dimension, found) {
                let message = format!("`{path}` has no `{dimension}` that could be measured");
                let diagnostic = Diagnostic::new(&codes::NO_SUCH_PART, message).at(found.span, "");
                self.sink.push(diagnostic.help("a part has `length`, `width` and `thickness`"));
            }
        }
    }

    fn no_such_part(&mut self, found: &Found, path: &str) {
        // Where parts are missing because of an error, that error has been told.
        if self.sink.has_errors() {
            return;
        }
        let diagnostic =
            Diagnostic::new(&codes::NO_SUCH_PART, format!("unknown part `{path}`")).at(found.span, "");
        let known = self.graph.parts.iter().map(|part| part.path.as_str());
        self.sink.push(match (self.graph.shared_before(path), nearest(path, known)) {
            (Some(shared), _) => diagnostic.help(shared),
            (None, Some(near)) => diagnostic.help(format!("did you mean `{near}`?")),
            (None, None) => diagnostic.help("`scantling show parts FILE` lists all parts"),
        });
    }
}

/// Puts a measured size in the place of the derived one; `false` where the part has no such size.
fn measured(part: &mut Part, dimension: &str, found: &Found) -> bool {
    let Some(size) = Sized::ALL.into_iter().find(|size| size.word() == dimension) else { return false };
    let now = match size {
        Sized::Length => &mut part.size.length,
        Sized::Width => &mut part.size.width,
        Sized::Thickness => &mut part.size.thickness,
    };
    let derived = std::mem::replace(now, found.value);
    part.as_built.push(AsBuilt { size, derived, because: found.because.clone() });
    true
}
