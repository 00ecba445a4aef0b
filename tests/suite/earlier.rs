//! Projects as they were written with earlier versions: each still compiles, or `check --fix` brings it up.

use crate::files_under;
use scantling::compile::{compile, mended};
use scantling::source::DiskFiles;

#[test]
fn projects_of_earlier_versions_compile() {
    let mut projects = 0;
    for path in files_under("tests/earlier", ".scant") {
        // What is beside a project, and what only others use, is read with them.
        if scantling::progress::is_progress(&path) {
            continue;
        }
        let mut compilation = compile(&DiskFiles, &path).unwrap();
        if compilation.has_errors() {
            compilation = mended(&DiskFiles, &path).unwrap().compilation;
        }
        let errors = compilation.diagnostics.iter().filter(|told| told.severity.word() == "error");
        assert_eq!(errors.map(|told| &told.message).collect::<Vec<_>>(), [""; 0], "{path}");
        projects += usize::from(!compilation.graph.units.is_empty());
        let made = scantling::progress::place(&DiskFiles, &path);
        assert_eq!(made.is_some(), !compilation.graph.made.is_empty(), "{path}");
    }
    assert!(projects >= 6, "only {projects} projects");
}
