//! The embedded library: its texts, and how they are read, once a process, since they are the same for every project.

use crate::diag::Sink;
use crate::resolve::{Loaded, Parts};
use crate::source::{FileId, Sources};
use crate::syntax::{self, Entry};
use std::sync::{Arc, LazyLock};

/// The files of the library: what every project can name, each value with its source beside it.
pub const LIBRARY: &[(&str, &str)] = &[
    ("library/species.scant", include_str!("../library/species.scant")),
    ("library/boards.scant", include_str!("../library/boards.scant")),
    ("library/sheets.scant", include_str!("../library/sheets.scant")),
    ("library/fasteners.scant", include_str!("../library/fasteners.scant")),
    ("library/glues.scant", include_str!("../library/glues.scant")),
    ("library/coatings.scant", include_str!("../library/coatings.scant")),
    ("library/caulks.scant", include_str!("../library/caulks.scant")),
    ("library/items.scant", include_str!("../library/items.scant")),
    ("library/rooms.scant", include_str!("../library/rooms.scant")),
];

/// The parts of the library that a project names to use: `use std.shelving`.
pub const PARTS: &[(&str, &[(&str, &str)])] = &[(
    "shelving",
    &[
        (
            "library/shelving/fixed_shelf_unit.scant",
            include_str!("../library/shelving/fixed_shelf_unit.scant"),
        ),
        (
            "library/shelving/adjustable_shelf_unit.scant",
            include_str!("../library/shelving/adjustable_shelf_unit.scant"),
        ),
        ("library/shelving/alcove_pair.scant", include_str!("../library/shelving/alcove_pair.scant")),
        (
            "library/shelving/window_seat_base.scant",
            include_str!("../library/shelving/window_seat_base.scant"),
        ),
        ("library/shelving/base_cupboard.scant", include_str!("../library/shelving/base_cupboard.scant")),
        ("library/shelving/desk_bay.scant", include_str!("../library/shelving/desk_bay.scant")),
        ("library/shelving/door_bridge.scant", include_str!("../library/shelving/door_bridge.scant")),
        ("library/shelving/sloped_unit.scant", include_str!("../library/shelving/sloped_unit.scant")),
        ("library/shelving/corner_pair.scant", include_str!("../library/shelving/corner_pair.scant")),
        ("library/shelving/hook_bench.scant", include_str!("../library/shelving/hook_bench.scant")),
        ("library/shelving/record_bay.scant", include_str!("../library/shelving/record_bay.scant")),
        ("library/shelving/plinth_crown.scant", include_str!("../library/shelving/plinth_crown.scant")),
    ],
)];

/// The members of the library as they are read, once a process: they are the same for every project.
pub(super) static READ: LazyLock<Library> = LazyLock::new(|| {
    let (mut sources, mut items) = (Sources::default(), Vec::new());
    for (path, text) in LIBRARY {
        let file = sources.add(*path, (*text).to_owned());
        items.extend(syntax::parse(file, text, &mut Sink::default()).items);
    }
    let mut add = |(path, text): &(&str, &str)| sources.add(*path, (*text).to_owned());
    let parts = PARTS.iter().map(|(_, texts)| texts.iter().map(&mut add).collect()).collect();
    Library { sources, items, parts }
});

/// The parts of the library; they are read when the first project uses one.
pub(super) static READ_PARTS: LazyLock<Parts> = LazyLock::new(|| {
    let mut parts = Parts::new();
    for ((name, texts), files) in PARTS.iter().zip(&READ.parts) {
        let read = |((_, text), file): (&(&str, &str), &FileId)| {
            Arc::new(syntax::parse(*file, text, &mut Sink::default()))
        };
        let parsed = texts.iter().zip(files).map(read).collect();
        let part = Loaded { part: Some((*name).into()), ..Loaded::new(parsed, &READ.sources) };
        parts.insert(name, part);
    }
    parts
});

pub(super) struct Library {
    pub sources: Sources,
    pub items: Vec<Entry>,
    /// The files of each of the [`PARTS`].
    parts: Vec<Vec<FileId>>,
}
