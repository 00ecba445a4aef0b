//! `scantling mark STATE PATH...`

use super::check::{Telling, sound};
use super::output::Screen;
use super::projects::only_project;
use super::write::Target;
use super::{Failure, Verdict};
use crate::compile::{PROGRESS, read};
use crate::format::format;
use crate::parts::{PartGraph, PartId, State};
use crate::progress::{as_cut, grooves, matching};
use crate::quantity::{Length, Marks, some};
use crate::source::{DiskFiles, FileError, Files};
use camino::{Utf8Path, Utf8PathBuf};
use clap::ValueEnum;
use clap::builder::PossibleValue;
use std::collections::BTreeMap;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// How far the parts are.
    state: Made,
    /// Parts by path; a path stands for all parts under it, `*` for any one step.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<String>,
    /// The project's main file; without it, the only project in this folder.
    #[arg(long)]
    file: Option<Utf8PathBuf>,
    /// The lot that they were cut from.
    #[arg(long)]
    lot: Option<String>,
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
    let Made(state) = arguments.state;
    let file = match &arguments.file {
        Some(file) => file.clone(),
        None => only_project(Utf8Path::new("."))?,
    };
    read(&DiskFiles, &file)?;
    let path = file.with_file_name(PROGRESS);
    // What others mark at the same time waits from here on.
    let target = Target::of(&path, screen)?;
    let Some(compilation) = sound(&file, Telling::Errors, screen)? else { return Ok(Verdict::Errors) };
    let (graph, marks) = (&compilation.graph, compilation.model.project.marks);
    let mut groups: BTreeMap<Alike, Vec<&str>> = BTreeMap::new();
    let mut already = 0;
    for id in asked(graph, &arguments.paths)? {
        if graph.made.get(&id).is_some_and(|made| made.state >= state) {
            already += 1;
            continue;
        }
        let Some(part) = graph.part(id) else { continue };
        let size = as_cut(graph, id, marks).filter(|_| state >= State::Cut);
        let grooves = if state >= State::Grooved { grooves(graph, id, marks) } else { Vec::new() };
        groups.entry((size, grooves)).or_default().push(&part.path);
    }
    let count: usize = groups.values().map(Vec::len).sum();
    if count > 0 {
        let before = match DiskFiles.read(&path) {
            Err(FileError::Missing) => "//! How far the parts are.\n".to_owned(),
            _ => read(&DiskFiles, &path)?,
        };
        let added: String = groups
            .iter()
            .map(|(alike, parts)| block(state, arguments.lot.as_deref(), alike, parts, marks))
            .collect();
        let text = format!("{}\n{added}", before.trim_end_matches('\n').to_owned() + "\n");
        let text = format(&text).map_or(text, |formatted| formatted.text);
        target.replace(&text)?;
    }
    let new =
        if count > 0 { format!("{} {state}", some(count, "part")) } else { "new parts: none".to_owned() };
    let before = match already {
        0 => String::new(),
        1 => "; 1 part was already marked".to_owned(),
        _ => format!("; {already} parts were already marked"),
    };
    screen.out(&format!("{path}: {new}{before}\n"))?;
    Ok(Verdict::Fine)
}

fn asked(graph: &PartGraph, paths: &[String]) -> Result<Vec<PartId>, Failure> {
    let by_path = graph.by_path();
    let mut found = Vec::new();
    for path in paths {
        let ids = matching(path, graph, &by_path);
        if ids.is_empty() {
            let near = crate::diag::nearest(path, by_path.keys().copied());
            let help = graph.shared_before(path).unwrap_or_else(|| match near {
                Some(near) => format!("did you mean `{near}`?"),
                None => "`scantling show parts FILE` lists all".to_owned(),
            });
            return Err(Failure::Path { message: format!("unknown part `{path}`"), help });
        }
        found.extend(ids);
    }
    found.sort_unstable();
    found.dedup();
    Ok(found)
}

fn block(state: State, lot: Option<&str>, (size, grooves): &Alike, parts: &[&str], marks: Marks) -> String {
    // A unit of metres or millimetres stands against its number in the language.
    let print = |length: &Length| marks.print(*length).text().replace(" mm", "mm");
    let mut text = String::from("made {\n");
    if let Some(lot) = lot {
        let plain = lot.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
        let lot = if plain { lot.to_owned() } else { format!("\"{}\"", lot.replace(['"', '\\', '\n'], "")) };
        text.push_str(&format!("  lot = {lot}\n"));
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
