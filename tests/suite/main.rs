//! Integration tests: the examples worked by hand, the corpus of mistakes, the command line, the rules of the repository.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::disallowed_methods,
    reason = "a test that cannot go on fails"
)]

mod analysis;
mod back_hall;
mod book;
mod browser;
mod cautions;
mod checks;
mod command_line;
mod corners;
mod corpus;
mod counters;
mod depth;
mod doors;
mod drawings;
mod earlier;
mod edges;
mod editors;
mod example_a;
mod example_a_by_hand;
mod example_b;
mod explained;
mod feet;
mod figures;
mod finishing;
mod fits;
mod followed;
mod format;
mod frame;
#[path = "../generate/files/mod.rs"]
mod generated;
mod held;
mod helpers;
mod hostile_repository;
mod house;
mod hung;
mod judged;
mod kinds;
mod layouts;
mod left;
mod library;
mod made;
mod made_revisions;
mod marked;
mod mechanics;
mod mends;
mod message_output;
mod messages;
mod mid_wall;
mod modules;
mod money;
mod more_checks;
mod names;
mod obstacles;
mod openings;
mod packing;
mod packing_input;
mod pages;
mod printing;
mod properties;
mod publishing;
mod raised;
mod recovery;
mod revisions;
mod rules;
mod sawn;
mod shared;
mod sizes;
mod slips;
mod slopes;
mod spaces;
mod surfaces;
mod there;
mod tree;
mod true_scale;
mod twelve;
mod unknown;
mod version_control;
mod views;
mod written;

use camino::{Utf8Path, Utf8PathBuf};
use scantling::compile::{Compilation, compile};
use scantling::quantity::Length;
use scantling::source::{DiskFiles, MemoryFiles};

/// The folder of the project.
fn root() -> &'static Utf8Path {
    Utf8Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// All files under a folder whose name ends so, sorted.
fn files_under(folder: &str, suffix: &str) -> Vec<Utf8PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![root().join(folder)];
    while let Some(folder) = open.pop() {
        for entry in folder.read_dir_utf8().unwrap() {
            let path = entry.unwrap().into_path();
            if path.is_dir() {
                open.push(path);
            } else if path.as_str().ends_with(suffix) {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

/// Compiles a file of the repository.
fn compiled(path: &str) -> Compilation {
    compile(&DiskFiles, &root().join(path)).unwrap()
}

/// Compiles a text.
fn compiled_text(text: &str) -> Compilation {
    compile(&MemoryFiles::single("test.scant", text), "test.scant".into()).unwrap()
}

/// The codes of all messages, in their order.
fn codes(of: &Compilation) -> Vec<&'static str> {
    of.diagnostics.iter().map(|told| told.code.id).collect()
}

/// Inches as the tape shows them: `inch("31 5/16")`.
fn inch(text: &str) -> Length {
    Length::from_inches(scantling::quantity::number(text).unwrap()).unwrap()
}
