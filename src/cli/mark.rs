//! `scantling mark STATE PATH...`

use super::check::{Telling, sound};
use super::fmt::{STANDARD_INPUT, standard_input};
use super::output::Screen;
use super::projects::only_project;
use super::write::Target;
use super::{Failure, Verdict};
use crate::compile::Compilation;
use crate::diag::nearest;
use crate::format::format;
use crate::parts::{PartGraph, PartId, State};
use crate::progress::{self, as_cut, grooves, matching, near, old, own, place, taken_back};
use crate::quantity::{Length, Marks, some};
use crate::report::printable_line;
use crate::source::{DiskFiles, Sources, read};
use camino::{Utf8Path, Utf8PathBuf};
use clap::ValueEnum;
use clap::builder::PossibleValue;
use std::collections::BTreeMap;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// How far the parts are.
    #[arg(required_unless_present_any = ["from", "adopt"])]
    state: Option<Made>,
    /// Parts by path; a path stands for all parts under it, `*` for any one step.
    #[arg(required_unless_present_any = ["from", "adopt"], value_name = "PATH")]
    paths: Vec<String>,
    /// The project's main file; without it, the only project in this folder.
    #[arg(long)]
    file: Option<Utf8PathBuf>,
    /// The lot that they were cut from; parts that are so far already get it too.
    #[arg(long)]
    lot: Option<String>,
    /// Take back: the parts are not so far any more, but what they were before.
    #[arg(long, conflicts_with = "lot")]
    back: bool,
    /// Read a path and a state a line from a file, or from `-`, the standard input; what stands behind `#` is a remark.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["state", "paths"])]
    from: Option<Utf8PathBuf>,
    /// Say whose the `progress.scant` of a folder with several projects is: it gets the name of this one.
    #[arg(long, conflicts_with_all = ["state", "paths", "lot", "back", "from"])]
    adopt: bool,
}

/// A state as a word of the command line.
#[derive(Clone, Copy, Debug)]
struct Made(State);

impl ValueEnum for Made {
    fn value_variants<'a>() -> &'a [Self] {
        static ALL: [Made; 6] = [
            Made(State::Bought),
            Made(State::Cut),
            Made(State::Grooved),
            Made(State::Glued),
            Made(State::Fixed),
            Made(State::Painted),
        ];
        &ALL
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(PossibleValue::new(self.0.word()))
    }
}

/// Parts that are made alike: their size, and the marks of their grooves.
type Alike = (Option<[Length; 2]>, Vec<Length>);

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let file = match &arguments.file {
        Some(file) => file.clone(),
        None => only_project(Utf8Path::new("."))?,
    };
    read(&DiskFiles, &file)?;
    if arguments.adopt {
        return adopt(&file, screen);
    }
    let lot = arguments.lot.as_deref().map(lot).transpose()?;
    // Read before others have to wait for what a person types.
    let wanted = wanted(arguments)?;
    let path = own(&file);
    let (target, place) = held(&file, screen)?;
    let Some(compilation) = sound(&file, Telling::Errors, screen)? else { return Ok(Verdict::Errors) };
    let asked = asked(&compilation.graph, &wanted, arguments.back)?;
    let before = match &place {
        None => "//! How far the parts are.\n".to_owned(),
        Some(place) => read(&DiskFiles, place)?,
    };
    let (text, told) = if arguments.back {
        back(&before, &asked, &compilation.graph)
    } else {
        marked(&before, &asked, lot.as_ref(), &compilation)
    };
    if let Some(text) = text {
        target.replace(&format(&text).map_or(text, |formatted| formatted.text))?;
    }
    // Whole under the old name before it gets the new one.
    let was = match place {
        Some(place) if place != path => {
            target.rename(&place, &path)?;
            format!("; the file was {place}")
        }
        _ => String::new(),
    };
    screen.out(&format!("{path}: {told}{was}\n"))?;
    Ok(Verdict::Fine)
}

/// The text with what is new about parts, where anything is, and what to say of it.
fn marked(
    before: &str,
    asked: &BTreeMap<PartId, State>,
    lot: Option<&Lot>,
    compilation: &Compilation,
) -> (Option<String>, String) {
    let (graph, marks) = (&compilation.graph, compilation.model.project.marks);
    let mut groups: BTreeMap<(State, Alike), Vec<&str>> = BTreeMap::new();
    let mut count: BTreeMap<State, usize> = BTreeMap::new();
    let (mut already, mut of_lot) = (0, 0);
    for (id, state) in asked {
        let Some(part) = graph.part(*id) else { continue };
        let alike = match graph.made.get(id).filter(|made| made.state >= *state) {
            Some(made) if lot.is_some_and(|lot| made.lot.as_deref() != Some(&*lot.name)) => {
                of_lot += 1;
                (None, Vec::new())
            }
            Some(_) => {
                already += 1;
                continue;
            }
            None => {
                *count.entry(*state).or_default() += 1;
                let size = as_cut(graph, *id, marks).filter(|_| *state >= State::Cut);
                (size, if *state >= State::Grooved { grooves(graph, *id, marks) } else { Vec::new() })
            }
        };
        groups.entry((*state, alike)).or_default().push(&part.path);
    }
    let text = (!groups.is_empty()).then(|| {
        let added = groups.iter().map(|((state, alike), parts)| block(*state, lot, alike, parts, marks));
        format!("{}\n\n{}", before.trim_end_matches('\n'), added.collect::<String>())
    });
    let new: Vec<String> =
        count.iter().map(|(state, count)| format!("{} {state}", some(*count, "part"))).collect();
    let mut told = vec![if new.is_empty() { "new parts: none".to_owned() } else { new.join(", ") }];
    if let Some(lot) = lot.filter(|_| of_lot > 0) {
        told.push(format!("lot {} for {} marked before", lot.written, some(of_lot, "part")));
    }
    match already {
        0 => {}
        1 => told.push("1 part was already marked".to_owned()),
        _ => told.push(format!("{already} parts were already marked")),
    }
    (text, told.join("; "))
}

/// The text without states of parts, where they have them, and what to say of it.
fn back(before: &str, asked: &BTreeMap<PartId, State>, graph: &PartGraph) -> (Option<String>, String) {
    let (mut gone, mut not): (BTreeMap<State, usize>, BTreeMap<State, usize>) = Default::default();
    for (id, state) in asked {
        let is_so = graph.made.get(id).is_some_and(|made| made.state >= *state);
        *if is_so { &mut gone } else { &mut not }.entry(*state).or_default() += 1;
    }
    let text = (!gone.is_empty()).then(|| {
        let file = Sources::default().add(Utf8PathBuf::new(), before.to_owned());
        taken_back(file, before, graph, asked)
    });
    let gone = gone.iter().map(|(state, count)| format!("{} no longer {state}", some(*count, "part")));
    let not = not.iter().map(|(state, count)| match count {
        1 => format!("1 part was not {state}"),
        _ => format!("{count} parts were not {state}"),
    });
    (text, gone.chain(not).collect::<Vec<_>>().join("; "))
}

/// The progress file of a project where there is one, held, and its path; else where it will be. What others mark at the same
/// time waits from here on.
fn held(file: &Utf8Path, screen: &mut Screen) -> Result<(Target, Option<Utf8PathBuf>), Failure> {
    loop {
        let found = place(&DiskFiles, file);
        let target = Target::of(found.as_ref().unwrap_or(&own(file)), screen)?;
        // Another run may have given it its new name meanwhile.
        if place(&DiskFiles, file) == found {
            return Ok((target, found));
        }
    }
}

/// Gives the progress file of a folder the name of one of its projects.
fn adopt(file: &Utf8Path, screen: &mut Screen) -> Result<Verdict, Failure> {
    let (own, old) = (own(file), old(file));
    let target = Target::of(&own, screen)?;
    if target.exists() {
        let message = format!("{own} is there already");
        let help = format!("nothing was changed; move the blocks of {old} into it, and delete that");
        return Err(Failure::Progress { message, help });
    }
    if place(&DiskFiles, file).is_none() {
        let message = format!("there is no {old}");
        let help = format!("nothing was changed; `scantling mark STATE PATH --file {file}` begins {own}");
        return Err(Failure::Progress { message, help });
    }
    target.rename(&old, &own)?;
    screen.out(&format!("{own}: was {old}\n"))?;
    Ok(Verdict::Fine)
}

/// A path of parts and what to note of them, with the place of the list where it comes from one.
struct Wanted {
    path: String,
    state: State,
    at: String,
}

/// What is asked for, by its words or in a list.
fn wanted(arguments: &Arguments) -> Result<Vec<Wanted>, Failure> {
    let Some(list) = &arguments.from else {
        let Some(Made(state)) = arguments.state else { return Ok(Vec::new()) };
        let paths = arguments.paths.iter();
        return Ok(paths.map(|path| Wanted { path: path.clone(), state, at: String::new() }).collect());
    };
    let text = if list == STANDARD_INPUT { standard_input()? } else { read(&DiskFiles, list)? };
    let mut wanted = Vec::new();
    for (line, number) in text.lines().zip(1..) {
        let entry = line.split('#').next().unwrap_or_default().trim();
        if entry.is_empty() {
            continue;
        }
        let at = format!("{list}:{number}: ");
        let fail = |message: String, help: String| {
            Err(Failure::Progress {
                message: format!("{at}{message}"),
                help: format!("{help}; nothing was written"),
            })
        };
        let words: Vec<&str> = entry.split_whitespace().collect();
        let &[path, word] = words.as_slice() else {
            return fail("a line has a path and a state".to_owned(), "write `wall.side.left cut`".to_owned());
        };
        let Some(state) = State::of(word) else {
            let known = State::ALL.map(State::word);
            let help = match nearest(word, known) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("there are {}", known.join(", ")),
            };
            return fail(format!("unknown state `{word}`"), help);
        };
        wanted.push(Wanted { path: path.to_owned(), state, at });
    }
    Ok(wanted)
}

/// The parts that are meant, each once: with the furthest state that is asked for, or the first one that is taken back.
fn asked(graph: &PartGraph, wanted: &[Wanted], back: bool) -> Result<BTreeMap<PartId, State>, Failure> {
    let by_path = graph.by_path();
    let mut found = BTreeMap::new();
    for Wanted { path, state, at } in wanted {
        let ids = matching(path, graph, &by_path);
        if ids.is_empty() {
            let help = graph.shared_before(path).unwrap_or_else(|| match near(path, &by_path) {
                Some(near) => format!("did you mean `{near}`?"),
                None => "`scantling show parts FILE` lists all".to_owned(),
            });
            let message = format!("{at}unknown part `{path}`");
            return Err(if at.is_empty() {
                Failure::Path { message, help }
            } else {
                Failure::Progress { message, help: format!("{help}; nothing was written") }
            });
        }
        for id in ids {
            let entry = found.entry(id).or_insert(*state);
            *entry = if back { (*entry).min(*state) } else { (*entry).max(*state) };
        }
    }
    Ok(found)
}

/// A lot, and how it stands in the file.
struct Lot {
    name: String,
    written: String,
}

fn lot(name: &str) -> Result<Lot, Failure> {
    let file = Sources::default().add(Utf8PathBuf::new(), String::new());
    let written = progress::lot(file, name).ok_or_else(|| Failure::Progress {
        message: format!("`{}` cannot be the name of a lot", printable_line(name)),
        help: "nothing was written; name it as in the project, such as `--lot second`: letters, digits, `_`, and no word of the \
               language"
            .to_owned(),
    })?;
    Ok(Lot { name: name.to_owned(), written })
}

fn block(state: State, lot: Option<&Lot>, (size, grooves): &Alike, parts: &[&str], marks: Marks) -> String {
    // A unit of metres or millimetres stands against its number in the language.
    let print = |length: &Length| marks.print(*length).text().replace(" mm", "mm");
    let mut text = String::from("made {\n");
    if let Some(lot) = lot {
        text.push_str(&format!("  lot = {}\n", lot.written));
    }
    if let Some([width, length]) = size {
        text.push_str(&format!("  size = {} x {}\n", print(width), print(length)));
    }
    if !grooves.is_empty() {
        text.push_str(&format!("  marks = [{}]\n", grooves.iter().map(print).collect::<Vec<_>>().join(", ")));
    }
    text.push_str(&format!("  {state} = [\n    {}\n  ]\n}}\n", parts.join(",\n    ")));
    text
}
