//! `scantling lock [FOLDER]`, and what `check` says of changes since.

use super::diff::side;
use super::git;
use super::output::Screen;
use super::projects::no_manifest;
use super::write::Target;
use super::{Failure, Verdict};
use crate::compile::{Compilation, compile};
use crate::diag::{Diagnostic, Sink};
use crate::diff::{Side, diff, summary};
use crate::manifest::{LOCK, Lock, MANIFEST, Manifest, Root, Shared, codes, hash};
use crate::quantity::some;
use crate::source::{DiskFiles, FileError, Files, Sources, plain};
use camino::{Utf8Path, Utf8PathBuf};
use std::collections::{BTreeMap, BTreeSet};

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The folder of `scantling.toml`, or one below it.
    #[arg(default_value = ".")]
    folder: Utf8PathBuf,
}

/// The manifest at or above a folder, which names projects; `None` where it has errors, which are told.
pub(super) fn manifest(folder: &Utf8Path, screen: &mut Screen) -> Result<Option<Manifest>, Failure> {
    let (mut sources, mut sink) = (Sources::default(), Sink::default());
    let Some(root) = root(folder) else { return Err(no_manifest(folder)) };
    let manifest = Manifest::read(&DiskFiles, root, &mut sources, &mut sink);
    let Some(manifest) = manifest.filter(|manifest| manifest.present(&DiskFiles, &mut sink)) else {
        screen.told(&sink.finish(), &sources);
        return Ok(None);
    };
    if manifest.build.is_empty() {
        return Err(Failure::NothingToBuild { path: manifest.root.shown.join(MANIFEST) });
    }
    Ok(Some(manifest))
}

/// The nearest folder with a manifest at or above this one.
pub(super) fn root(folder: &Utf8Path) -> Option<Root> {
    let real = DiskFiles.real(folder).ok()?;
    Root::above(&DiskFiles, &real, &plain(folder))
}

/// What is said of locked files that none of all projects uses any more.
pub(super) fn gone(manifest: &Manifest, all: &[Compilation]) -> (Vec<Diagnostic>, Sources) {
    let (mut sources, mut sink) = (Sources::default(), Sink::default());
    if let Some(lock) = Lock::read(&DiskFiles, &manifest.root, &mut sources, &mut sink) {
        let used: BTreeSet<&Utf8Path> = all.iter().flat_map(used).collect();
        lock.gone(|path| used.contains(path), &mut sink);
    }
    (sink.finish(), sources)
}

fn used(compilation: &Compilation) -> impl Iterator<Item = &Utf8Path> {
    compilation.shared.iter().map(|shared| shared.path.as_path())
}

/// The files on the disk without the lock, which says nothing about what takes its place.
struct Unlocked;

impl Files for Unlocked {
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        if path.file_name() == Some(LOCK) { Err(FileError::Missing) } else { DiskFiles.read(path) }
    }

    fn real(&self, path: &Utf8Path) -> Result<Utf8PathBuf, FileError> {
        DiskFiles.real(path)
    }

    fn names(&self, folder: &Utf8Path) -> Vec<String> {
        DiskFiles.names(folder)
    }
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let Some(manifest) = manifest(&arguments.folder, screen)? else { return Ok(Verdict::Errors) };
    let path = manifest.root.shown.join(LOCK);
    let target = Target::of(&path, screen)?;
    let (mut hashes, mut verdict) = (BTreeMap::new(), Verdict::Fine);
    for file in manifest.files() {
        let compilation = compile(&Unlocked, &file)?;
        if compilation.has_errors() {
            screen.messages(&compilation);
            screen.aside(&format!("{file}: {}; nothing was locked", Screen::summary(&compilation)));
            verdict = Verdict::Errors;
        }
        let own = |shared: &Shared| (shared.path.clone(), shared.hash(&compilation.sources));
        hashes.extend(compilation.shared.iter().map(own));
    }
    if verdict == Verdict::Errors {
        return Ok(verdict);
    }
    let root = &manifest.root;
    let before = Lock::read(&DiskFiles, root, &mut Sources::default(), &mut Sink::default());
    let told = differences(&before.clone().unwrap_or_default(), &hashes);
    let files = some(hashes.len(), "shared file");
    if before.is_some() && told.is_empty() {
        screen.out(&format!("{path}: {files}, none changed\n"))?;
        return Ok(Verdict::Fine);
    }
    let text = Lock::text(&hashes)
        .map_err(|why| Failure::Write { path: path.clone(), why: std::io::Error::other(why) })?;
    target.replace(&text)?;
    screen.out(&format!("{path}: {files}{told}\n"))?;
    Ok(Verdict::Fine)
}

/// `; new: shop.scant; changed: modules/bench.scant`
fn differences(before: &Lock, now: &BTreeMap<Utf8PathBuf, String>) -> String {
    let names = |paths: Vec<&Utf8Path>| paths.iter().map(|path| path.as_str()).collect::<Vec<_>>().join(", ");
    let known = now.iter().map(|(path, hash)| (path.as_path(), before.hash(path), hash));
    let new = known.clone().filter(|(_, was, _)| was.is_none()).map(|(path, ..)| path);
    let changed = known.filter(|(_, was, is)| was.is_some_and(|was| was != *is)).map(|(path, ..)| path);
    let gone = before.hashes().map(|(path, _)| path).filter(|path| !now.contains_key(*path));
    [("new", names(new.collect())), ("changed", names(changed.collect())), ("gone", names(gone.collect()))]
        .into_iter()
        .filter(|(_, names)| !names.is_empty())
        .map(|(word, names)| format!("; {word}: {names}"))
        .collect()
}

/// The files on the disk, but those that changed or went since as they were locked.
struct Locked {
    then: BTreeMap<Utf8PathBuf, Vec<u8>>,
}

impl Files for Locked {
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        self.then.get(path).map_or_else(|| DiskFiles.read(path), |bytes| Ok(bytes.clone()))
    }

    fn real(&self, path: &Utf8Path) -> Result<Utf8PathBuf, FileError> {
        if self.then.contains_key(path) { Ok(path.to_owned()) } else { DiskFiles.real(path) }
    }

    fn names(&self, folder: &Utf8Path) -> Vec<String> {
        DiskFiles.names(folder)
    }
}

/// Where shared files changed since they were locked, adds to that message what it did to the parts.
pub(super) fn tell_effect(compilation: &mut Compilation) -> Result<(), Failure> {
    let is_change = |diagnostic: &Diagnostic| diagnostic.code.id == codes::CHANGED.id;
    let Some(at) = compilation.diagnostics.iter().position(is_change) else { return Ok(()) };
    let effect = effect(compilation)?;
    if let Some(diagnostic) = compilation.diagnostics.get_mut(at) {
        diagnostic.notes.push(effect);
    }
    Ok(())
}

fn effect(now: &Compilation) -> Result<String, Failure> {
    let folder = now.entry.parent().unwrap_or(Utf8Path::new(""));
    let Some(root) = root(folder) else { return Ok(String::new()) };
    let lock = Lock::read(&DiskFiles, &root, &mut Sources::default(), &mut Sink::default());
    let used: BTreeSet<&Utf8Path> = used(now).collect();
    let (mut then, mut unknown) = (BTreeMap::new(), Vec::new());
    for (path, locked) in lock.iter().flat_map(Lock::hashes) {
        let here = root.real.join(path);
        if DiskFiles.read(&here).is_ok_and(|bytes| hash(&bytes) == locked) {
            continue;
        }
        match git::blob(&root.real, locked) {
            Ok(Some(text)) => _ = then.insert(here, text),
            Ok(None) | Err(Failure::NoGit) if !used.contains(path) => {}
            Ok(None) | Err(Failure::NoGit) => unknown.push(format!("`{path}`")),
            Err(failure) => return Err(failure),
        }
    }
    if !unknown.is_empty() {
        return Ok(format!(
            "git does not have the locked text of {}; commit shared files, and it is said what a change does to the parts",
            unknown.join(", ")
        ));
    }
    let was = compile(&Locked { then }, &now.entry)?;
    Ok(match (was.has_errors(), now.has_errors()) {
        (true, _) => format!("with the locked text the project has errors: {}", Screen::summary(&was)),
        (false, true) => format!(
            "with the locked text it compiles: {}, {}",
            some(was.graph.units.len(), "unit"),
            some(was.graph.parts.len(), "part")
        ),
        (false, false) => {
            // That a file changed is no difference of the parts.
            let lasting = now.diagnostics.iter().filter(|diagnostic| !codes::ALL.contains(&diagnostic.code));
            let lasting: Vec<Diagnostic> = lasting.cloned().collect();
            let is = Side { diagnostics: &lasting, ..side(now, "") };
            format!("by that: {}", summary(&diff(side(&was, ""), is)))
        }
    })
}
