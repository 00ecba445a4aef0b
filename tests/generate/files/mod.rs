//! The texts of all generated files, made from the program's tables.
//!
//! The program beside them writes the files; the suite compares them.

pub mod editors;
pub mod library;
mod reference;
pub mod words;

use camino::{Utf8Path, Utf8PathBuf};

/// The command that writes the files.
pub const COMMAND: &str = "cargo run --example generate";

/// Where a file of the repository is.
pub fn at(path: &str) -> Utf8PathBuf {
    Utf8Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// A file of the repository.
pub fn read(path: &str) -> String {
    std::fs::read_to_string(at(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// Every generated file by its path, as it should be.
pub fn all() -> Vec<(&'static str, String)> {
    let mut files = vec![reference::file(), schema()];
    files.extend(editors::files());
    files
}

/// The schema of `show parts --format json`, from the types.
fn schema() -> (&'static str, String) {
    let schema = schemars::schema_for!(scantling::document::Cautioned<'_, scantling::sheets::PartList>);
    ("grammar/parts.schema.json", format!("{:#}\n", schema.to_value()))
}

/// The first difference between two texts, for a person; `None` where they are equal.
pub fn difference(is: &str, should: &str) -> Option<String> {
    let mut lines = is.lines().zip(should.lines()).take_while(|(is, should)| is == should);
    let same = lines.by_ref().count();
    let line = |text: &str| text.lines().nth(same).unwrap_or("the end of the file").to_owned();
    match (line(is), line(should)) {
        (a, b) if a == b => (is != should).then(|| "the line ends differ".to_owned()),
        (a, b) => Some(format!("line {} is\n  {a}\nand should be\n  {b}", same + 1)),
    }
}
