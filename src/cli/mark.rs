//! `scantling mark STATE PATH...`

use super::check::{Telling, sound};
use super::output::Screen;
use super::projects::only_project;
use super::write::Target;
use super::{Failure, Verdict};
use crate::format::format;
use crate::parts::{PartGraph, PartId, State};
use crate::progress::{as_cut, grooves, matching, old, own, place};
use crate::quantity::{Length, Marks, some};
use crate::source::{DiskFiles, read};
use camino::{Utf8Path, Utf8PathBuf};
use clap::ValueEnum;
use clap::builder::PossibleValue;
use std::collections::BTreeMap;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// How far the parts are.
    #[arg(required_unless_present = "adopt")]
    state: Option<Made>,
    /// Parts by path; a path stands for all parts under it, `*` for any one step.
    #[arg(required_unless_present = "adopt", value_name = "PATH")]
    paths: Vec<String>,
    /// The project's main file; without it, the only project in this folder.
    #[arg(long)]
    file: Option<Utf8PathBuf>,
    /// The lot that they were cut from.
    #[arg(long)]
    lot: Option<String>,
    /// Say whose the `progress.scant` of a folder with several projects is: it gets the name of this one.
    #[arg(long, conflicts_with_all = ["state", "paths", "lot"])]
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
    let Some(Made(state)) = arguments.state else { return adopt(&file, screen) };
    let path = own(&file);
    let (target, place) = held(&file, screen)?;
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
        let before = match &place {
            None => "//! How far the parts are.\n".to_owned(),
            Some(place) => read(&DiskFiles, place)?,
        };
        let added: String = groups
            .iter()
            .map(|(alike, parts)| block(state, arguments.lot.as_deref(), alike, parts, marks))
            .collect();
        let text = format!("{}\n{added}", before.trim_end_matches('\n').to_owned() + "\n");
        let text = format(&text).map_or(text, |formatted| formatted.text);
        target.replace(&text)?;
    }
    // Whole under the old name before it gets the new one.
    let was = match place {
        Some(place) if place != path => {
            target.rename(&place, &path)?;
            format!("; the file was {place}")
        }
        _ => String::new(),
    };
    let new =
        if count > 0 { format!("{} {state}", some(count, "part")) } else { "new parts: none".to_owned() };
    let before = match already {
        0 => String::new(),
        1 => "; 1 part was already marked".to_owned(),
        _ => format!("; {already} parts were already marked"),
    };
    screen.out(&format!("{path}: {new}{before}{was}\n"))?;
    Ok(Verdict::Fine)
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
