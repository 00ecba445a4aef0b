//! Writes files: the one way for all commands that do.
//!
//! **One at a time.** Whoever writes holds the folder, from before it reads what it will replace. The system lets go of a folder
//! whose holder has died. Other runs wait, and say so.
//!
//! **Made beside, then put in place.** New files are written into [`STAGED`] in the same folder and are complete on the disk
//! before any of them takes its name, by renaming. What a dead run left in there, the next one that holds the folder removes.
//!
//! **A set is published as one.** [`LIST`] names what this program made in a folder, with the hash of each file, so that a file
//! that somebody else wrote or changed is neither replaced nor removed unasked. A set is published in steps, each of them
//! a renaming: the list comes to name the old files and the new; old files that differ go; new ones come; the list names
//! the new ones only. So, whenever a run is killed,
//! - the files that stand there are all of the old set or all of the new one, though some may be missing;
//! - the list names every one of them, so that none is taken for somebody else's, and says that the set is not whole;
//! - the next build makes it whole.
//!
//! A full disk, a limit or a refusal stops a run before the first step. Where a step itself fails, those before it are undone, and
//! where not even that is possible, [`Failure::Unfinished`] says it.
//!
//! **Links.** A single file is written through a link, which stays one; a link to nothing is refused. In a set a link is somebody
//! else's file, and nothing is written through it.
//!
//! On Unix the folder itself is what is locked. Elsewhere it is an empty file, `.scantling-lock`, which stays, and a file that another
//! program keeps open may refuse to be renamed: the steps before are undone then. Where a file system cannot lock, that
//! is said, and two runs at once are not kept apart.

use super::Failure;
use super::output::Screen;
use crate::manifest::hash;
use camino::{Utf8Component, Utf8Path, Utf8PathBuf};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File, Permissions, TryLockError};
use std::io::{self, Write};

/// The file that lists what this program made in a folder.
const LIST: &str = ".scantling-made";

/// The folder in which files are made before they take their places.
const STAGED: &str = ".scantling-new";

fn refused(path: &Utf8Path) -> impl Fn(io::Error) -> Failure {
    move |why| Failure::Write { path: path.to_owned(), why }
}

/// Lets a limit of the size of files be an error of the file that reaches it; unasked, the system ends the program.
pub(super) fn outlive_limits() {
    #[cfg(unix)]
    {
        // A signal that is received, and then forgotten.
        let received = std::sync::Arc::default();
        let _ = signal_hook::flag::register(signal_hook::consts::SIGXFSZ, received);
    }
}

/// A folder in which no other run writes.
#[derive(Debug)]
struct Held {
    folder: Utf8PathBuf,
    /// Folders that were made for it, the innermost first.
    made: Vec<Utf8PathBuf>,
    /// Closing it lets go; `None` where the file system cannot lock.
    _lock: Option<File>,
}

impl Held {
    /// Waits until no other run writes in a folder.
    fn folder(folder: &Utf8Path, screen: &mut Screen) -> Result<Self, Failure> {
        let folder = if folder.as_str().is_empty() { Utf8Path::new(".") } else { folder };
        let lock = lock(folder, screen).map_err(refused(folder))?;
        let held = Self { folder: folder.to_owned(), made: Vec::new(), _lock: lock };
        held.clear();
        Ok(held)
    }

    /// The same; the folder is made where it is missing, and goes again where nothing comes into it.
    #[allow(clippy::disallowed_methods, reason = "the one place that makes folders")]
    fn making(folder: &Utf8Path, screen: &mut Screen) -> Result<Self, Failure> {
        let missing = |folder: &&Utf8Path| !folder.as_str().is_empty() && !folder.exists();
        let made: Vec<Utf8PathBuf> = folder.ancestors().take_while(missing).map(Utf8Path::to_owned).collect();
        fs::create_dir_all(folder).map_err(refused(folder))?;
        let mut held = Self::folder(folder, screen)?;
        held.made = made;
        Ok(held)
    }

    /// Writes a file beside the others, whole and on the disk.
    fn stage(&self, name: &str, content: &[u8], like: Option<Permissions>) -> io::Result<Utf8PathBuf> {
        let folder = self.folder.join(STAGED);
        match fs::create_dir(&folder) {
            Err(why) if why.kind() == io::ErrorKind::AlreadyExists && !folder.is_symlink() => {}
            made => made?,
        }
        let path = folder.join(name);
        let mut file = File::options().write(true).create_new(true).open(&path)?;
        file.write_all(content)?;
        if let Some(permissions) = like {
            file.set_permissions(permissions)?;
        }
        file.sync_all()?;
        Ok(path)
    }

    /// Makes the names on the disk those of the moment, as far as the system knows how to.
    fn settle(&self) {
        #[cfg(unix)]
        let _ = File::open(&self.folder).and_then(|folder| folder.sync_all());
    }

    /// Removes what a run left that made files here; what cannot be removed is met again where files are made.
    fn clear(&self) {
        let _ = fs::remove_dir_all(self.folder.join(STAGED));
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        self.clear();
        for folder in &self.made {
            // Only an empty one goes.
            let _ = fs::remove_dir(folder);
        }
    }
}

fn lock(folder: &Utf8Path, screen: &mut Screen) -> io::Result<Option<File>> {
    #[cfg(unix)]
    let place = File::open(folder)?;
    #[cfg(not(unix))]
    let place =
        File::options().write(true).create(true).truncate(false).open(folder.join(".scantling-lock"))?;
    match place.try_lock() {
        Ok(()) => Ok(Some(place)),
        Err(TryLockError::WouldBlock) => {
            screen.aside(&format!("{folder}: another run of scantling writes there; waiting for it"));
            place.lock()?;
            Ok(Some(place))
        }
        Err(TryLockError::Error(why)) => {
            screen.remark(&format!(
                "{folder} cannot be locked ({why}); let no other run of scantling write there now"
            ));
            Ok(None)
        }
    }
}

/// A single file to be replaced, which no other run replaces meanwhile: read it after this is made.
#[derive(Debug)]
pub(super) struct Target {
    /// The file itself, where a link was named.
    path: Utf8PathBuf,
    held: Held,
}

impl Target {
    /// A file in a folder that is there.
    ///
    /// # Errors
    /// [`Failure::Write`] where the folder cannot be held, or the path is a link to nothing.
    pub fn of(path: &Utf8Path, screen: &mut Screen) -> Result<Self, Failure> {
        let path = if path.is_symlink() {
            path.canonicalize_utf8().map_err(|why| {
                let why = io::Error::new(
                    why.kind(),
                    format!("it is a link, and what it leads to is not there: {why}"),
                );
                Failure::Write { path: path.to_owned(), why }
            })?
        } else {
            path.to_owned()
        };
        let held = Held::folder(path.parent().unwrap_or(Utf8Path::new("")), screen)?;
        Ok(Self { path, held })
    }

    /// A file in a folder that is made where it is missing.
    ///
    /// # Errors
    /// [`Failure::Write`] where the folder cannot be made or held, or the path is a link to nothing.
    pub fn making(path: &Utf8Path, screen: &mut Screen) -> Result<Self, Failure> {
        let folder = path.parent().unwrap_or(Utf8Path::new(""));
        if folder.as_str().is_empty() || folder.exists() {
            return Self::of(path, screen);
        }
        Ok(Self { held: Held::making(folder, screen)?, path: path.to_owned() })
    }

    /// Whether something stands there.
    pub fn exists(&self) -> bool {
        self.path.is_symlink() || self.path.exists()
    }

    /// Puts a text in the place of what stands there; who may read it and write it stays.
    ///
    /// # Errors
    /// [`Failure::Write`] where the system refuses, or the file is marked as one to be read only. It was not changed.
    pub fn replace(&self, text: &str) -> Result<(), Failure> {
        let permissions = match self.path.metadata() {
            Ok(before) => {
                Some(replaceable(&before).map(|()| before.permissions()).map_err(refused(&self.path))?)
            }
            Err(_) => None,
        };
        self.put(text, permissions)
    }

    /// The same with a file that the system may run.
    ///
    /// # Errors
    /// [`Failure::Write`] where the system refuses. Nothing was changed.
    pub fn write_program(&self, text: &str) -> Result<(), Failure> {
        #[cfg(unix)]
        let permissions = Some(std::os::unix::fs::PermissionsExt::from_mode(0o755));
        #[cfg(not(unix))]
        let permissions = None;
        self.put(text, permissions)
    }

    /// Gives a file another name, which nothing has, while this one is held.
    ///
    /// # Errors
    /// [`Failure::Write`] where the system refuses. Nothing was changed.
    pub fn rename(&self, from: &Utf8Path, to: &Utf8Path) -> Result<(), Failure> {
        fs::rename(from, to).map_err(refused(to))?;
        self.held.settle();
        Ok(())
    }

    fn put(&self, text: &str, permissions: Option<Permissions>) -> Result<(), Failure> {
        let name = self.path.file_name().unwrap_or_default();
        let put = || fs::rename(self.held.stage(name, text.as_bytes(), permissions)?, &self.path);
        put().map_err(refused(&self.path))?;
        self.held.settle();
        Ok(())
    }
}

fn replaceable(before: &fs::Metadata) -> io::Result<()> {
    if !before.is_file() {
        return Err(io::Error::new(io::ErrorKind::InvalidInput, "it is no plain file"));
    }
    if before.permissions().readonly() {
        return Err(io::Error::new(io::ErrorKind::PermissionDenied, "the file is marked read-only"));
    }
    Ok(())
}

/// What stands at a path.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Stands {
    Nothing,
    /// A file, by its hash.
    File(String),
    Folder,
    /// A link or another thing.
    Other,
}

#[allow(clippy::disallowed_methods, reason = "the one place that replaces files, and looks at them first")]
fn stands(path: &Utf8Path) -> Result<Stands, Failure> {
    let look = || -> io::Result<Stands> {
        let kind = path.symlink_metadata()?.file_type();
        Ok(match (kind.is_file(), kind.is_dir()) {
            (true, _) => Stands::File(hash(&fs::read(path)?)),
            (_, true) => Stands::Folder,
            _ => Stands::Other,
        })
    };
    match look() {
        Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(Stands::Nothing),
        stands => stands.map_err(refused(path)),
    }
}

/// The files that this program made in a folder; one name may have had several texts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct List {
    made: BTreeSet<(String, String)>,
    unfinished: bool,
}

/// What stands at the top of the list.
const HEAD: &str = "# What scantling made here, each file with the hash that git gives it; it replaces and removes no others.";

/// What stands below it while a set is published.
const UNFINISHED: &str = "# The set is not whole while this line stands here; `scantling build` makes it so.";

impl List {
    /// The list of a folder. A line that cannot be read makes no file ours.
    #[allow(clippy::disallowed_methods, reason = "the one place that writes this file")]
    fn read(folder: &Utf8Path) -> Result<Self, Failure> {
        let path = folder.join(LIST);
        let text = match stands(&path)? {
            Stands::Nothing => return Ok(Self::default()),
            Stands::File(_) => fs::read(&path).map_err(refused(&path))?,
            Stands::Folder | Stands::Other => return Err(Failure::NotOurs { path, changed: false }),
        };
        let text = String::from_utf8_lossy(&text);
        let entries =
            text.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(' '));
        // A list may come from anywhere; it names files in its own folder only.
        let own = |name: &str| {
            let mut parts = Utf8Path::new(name).components();
            let plain = matches!((parts.next(), parts.next()), (Some(Utf8Component::Normal(only)), None) if only == name);
            plain && !name.chars().any(char::is_control)
        };
        let made =
            entries.filter(|(_, name)| own(name)).map(|(hash, name)| (name.to_owned(), hash.to_owned()));
        Ok(Self { made: made.collect(), unfinished: text.lines().any(|line| line == UNFINISHED) })
    }

    fn text(&self) -> String {
        let unfinished = if self.unfinished { format!("{UNFINISHED}\n") } else { String::new() };
        let entries: String = self.made.iter().map(|(name, hash)| format!("{hash} {name}\n")).collect();
        format!("{HEAD}\n{unfinished}{entries}")
    }

    fn names(&self, name: &str) -> bool {
        self.made.iter().any(|(made, _)| made == name)
    }

    /// Whether a file is as it was made.
    fn has(&self, name: &str, stands: &Stands) -> bool {
        matches!(stands, Stands::File(hash) if self.made.contains(&(name.to_owned(), hash.clone())))
    }
}

/// What else came of publishing a set.
#[derive(Debug, Default)]
pub(super) struct Published {
    /// The run before did not finish.
    pub mended: bool,
    /// Files of an earlier set that went.
    pub removed: usize,
    /// Files of an earlier set that were changed since, and stay.
    pub kept: Vec<Utf8PathBuf>,
}

/// Publishes a set of files by their names in a folder, which is made where it is missing. What an earlier set had there and this one
/// does not goes.
///
/// # Errors
/// [`Failure::NotOurs`] where a file of the same name was not made by this program, or changed since, and `force` is not
/// given; [`Failure::Write`] where the system refuses. In both cases nothing was changed. [`Failure::Unfinished`] where it
/// refuses in the midst of it, and also to undo what was done.
pub(super) fn publish(
    folder: &Utf8Path,
    files: &BTreeMap<String, impl AsRef<[u8]>>,
    force: bool,
    screen: &mut Screen,
) -> Result<Published, Failure> {
    let held = Held::making(folder, screen)?;
    let before = List::read(folder)?;
    let mut published = Published { mended: before.unfinished, ..Published::default() };
    // What is true of the list, then of both sets.
    let (mut both, mut after) = (List { unfinished: true, ..List::default() }, List::default());
    let (mut going, mut coming) = (Vec::new(), Vec::new());
    for (name, content) in files {
        let content = content.as_ref();
        let (path, hash) = (folder.join(name), hash(content));
        let stands = stands(&path)?;
        let ours = before.has(name, &stands);
        match stands {
            Stands::Nothing => coming.push((name, content)),
            Stands::File(stands) if stands == hash => {}
            Stands::Folder => return Err(refused(&path)(io::ErrorKind::IsADirectory.into())),
            _ if !ours && !force => return Err(Failure::NotOurs { path, changed: before.names(name) }),
            Stands::File(_) | Stands::Other => {
                going.push(name);
                coming.push((name, content));
            }
        }
        after.made.insert((name.clone(), hash));
    }
    for (name, hash) in &before.made {
        let path = folder.join(name);
        let stands = stands(&path)?;
        if stands == Stands::File(hash.clone()) {
            both.made.insert((name.clone(), hash.clone()));
            if !files.contains_key(name) {
                going.push(name);
                published.removed += 1;
            }
        } else if !files.contains_key(name) && stands != Stands::Nothing && !before.has(name, &stands) {
            published.kept.push(path);
        }
    }
    if going.is_empty() && coming.is_empty() && before == after {
        return Ok(published);
    }
    both.made.extend(after.made.iter().cloned());
    let list = folder.join(LIST);
    let stage =
        |name: &str, content: &[u8]| held.stage(name, content, None).map_err(refused(&folder.join(name)));
    let mut placed = Vec::new();
    for (name, content) in coming {
        let path = folder.join(name);
        placed.push(Step { from: stage(name, content)?, to: path.clone(), path });
    }
    let [begun, whole] = [("made.begun", both.text()), ("made.whole", after.text())]
        .map(|(name, text)| stage(name, text.as_bytes()));
    let (begun, whole) = (begun?, whole?);
    fs::rename(&begun, &list).map_err(refused(&list))?;
    held.settle();
    let mut steps = Steps::default();
    steps.take(going.into_iter().map(|name| {
        let path = folder.join(name);
        Step { from: path.clone(), to: folder.join(STAGED).join(format!("{name}.gone")), path }
    }))?;
    held.settle();
    steps.take(placed)?;
    held.settle();
    steps.take([Step { from: whole, to: list.clone(), path: list }])?;
    held.settle();
    published.kept.dedup();
    Ok(published)
}

/// A renaming.
struct Step {
    from: Utf8PathBuf,
    to: Utf8PathBuf,
    /// Which of them people know.
    path: Utf8PathBuf,
}

/// Renamings that were done; all are undone where one fails.
#[derive(Default)]
struct Steps(Vec<Step>);

impl Steps {
    fn take(&mut self, steps: impl IntoIterator<Item = Step>) -> Result<(), Failure> {
        for step in steps {
            if let Err(why) = fs::rename(&step.from, &step.to) {
                let path = step.path;
                let undone = self.0.iter().rev().all(|step| fs::rename(&step.to, &step.from).is_ok());
                return Err(if undone {
                    Failure::Write { path, why }
                } else {
                    Failure::Unfinished { path, why }
                });
            }
            self.0.push(step);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests;
