//! The projects of a folder where no command names one.

use super::Failure;
use super::fmt::files_in;
use crate::manifest::MANIFEST;
use crate::progress::is_progress;
use camino::{Utf8Path, Utf8PathBuf};

/// The only project that stands in a folder itself.
pub(super) fn only_project(folder: &Utf8Path) -> Result<Utf8PathBuf, Failure> {
    let mut files = projects(folder)?;
    match (files.pop(), files.is_empty()) {
        (Some(file), true) => Ok(file),
        (file, _) => Err(Failure::WhichProject { count: files.len() + usize::from(file.is_some()) }),
    }
}

/// A folder in which no manifest says what is built.
pub(super) fn no_manifest(folder: &Utf8Path) -> Failure {
    let name = |file: &Utf8PathBuf| file.file_name().map(|name| format!("\"{name}\""));
    let names: Vec<String> = projects(folder).unwrap_or_default().iter().filter_map(name).collect();
    let build = format!(
        "build = [{}]",
        if names.is_empty() { "\"wall.scant\"".to_owned() } else { names.join(", ") }
    );
    let help = match names.len() {
        0 => format!(
            "give the path of a `.scant` file, or write `{MANIFEST}` with the files to build: `{build}`"
        ),
        _ => {
            format!("write `{MANIFEST}` there with the files to build and not those that they use: `{build}`")
        }
    };
    Failure::NoManifest { folder: folder.to_owned(), help }
}

/// The files that stand in a folder itself and may be projects.
fn projects(folder: &Utf8Path) -> Result<Vec<Utf8PathBuf>, Failure> {
    let own = |path: &Utf8PathBuf| path.parent() == Some(folder) && !is_progress(path);
    let files = files_in(folder)?.into_iter().filter(own);
    Ok(files.map(|file| file.strip_prefix(".").map_or(file.clone(), Utf8Path::to_owned)).collect())
}
