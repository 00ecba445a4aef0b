//! `scantling mark STATE PATH...`, `scantling mark STATE sheet NUMBER...` and `scantling mark bought COUNT NAME`.

mod bought;
mod sheets;

use super::check::{Telling, sound};
use super::cut::Work;
use super::fmt::{STANDARD_INPUT, standard_input};
use super::output::Screen;
use super::projects::only_project;
use super::write::Target;
use super::{Failure, Verdict};
use crate::breakdown::SheetWork;
use crate::compile::Compilation;
use crate::diag::nearest;
use crate::eval::literal;
use crate::fits::{Cut, cuts};
use crate::format::format;
use crate::parts::{Part, PartGraph, PartId, State, Stock};
use crate::progress::{self, as_cut, matching, near, old, own, place, spoilt, taken_back};
use crate::quantity::{Dim, Exact, Length, Marks, some};
use crate::report::printable_line;
use crate::source::{DiskFiles, Sources, read};
use bought::Purchase;
use camino::{Utf8Path, Utf8PathBuf};
use clap::ValueEnum;
use clap::builder::PossibleValue;
use num_traits::Signed;
use sheets::Sheets;
use std::collections::{BTreeMap, BTreeSet};

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// How far the parts are.
    #[arg(required_unless_present_any = ["from", "adopt"])]
    state: Option<Made>,
    /// Parts by path; any other path stands for all parts under it, `*` for any one step. Also a sheet of the layouts: `sheet 3`,
    /// `sheet 3 of ply`. After `bought` also how many of what: `6 ply`.
    #[arg(required_unless_present_any = ["from", "adopt"], value_name = "PATH")]
    paths: Vec<String>,
    /// The project's main file; without it, the only project in this folder.
    #[arg(long)]
    file: Option<Utf8PathBuf>,
    /// The lot that they were cut from; parts that are so far already get it too.
    #[arg(long)]
    lot: Option<String>,
    /// How thick the stock was, by caliper; parts that are so far already get it too.
    #[arg(long)]
    thickness: Option<String>,
    /// They are made once more, or cut again: what was noted of them before is forgotten.
    #[arg(long)]
    again: bool,
    /// Of what is bought: how large one is, where it is sold in several sizes: `96"` of a board, `1 gal` of a can.
    #[arg(long, conflicts_with_all = ["from", "back", "again", "thickness"])]
    each: Option<String>,
    /// Of what is bought: what all of it cost, with its currency.
    #[arg(long, num_args = 1..=2, conflicts_with_all = ["from", "back", "again", "thickness"])]
    paid: Vec<String>,
    /// How long that took, for all parts of this call together: `2 h`, `95 min`. The hours that are left are reckoned by it.
    #[arg(long, num_args = 1..=2, conflicts_with_all = ["from", "back"])]
    took: Vec<String>,
    /// Take back: the parts are not so far any more, but what they were before.
    #[arg(long, conflicts_with_all = ["lot", "thickness", "again"])]
    back: bool,
    /// Read a path and a state a line from a file, or from `-`, the standard input; what stands behind `#` is a remark.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["state", "paths"])]
    from: Option<Utf8PathBuf>,
    /// How much work was put into the layouts that a sheet is one of.
    #[arg(long, value_enum, default_value_t = Work::Normal)]
    effort: Work,
    /// Say whose the `progress.scant` of a folder with several projects is: it gets the name of this one.
    #[arg(long, conflicts_with_all = ["state", "paths", "lot", "thickness", "again", "back", "from"])]
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

/// What is noted of parts that are made alike.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Alike {
    /// The name of what they were cut from.
    stock: Option<String>,
    lot: Option<String>,
    thickness: Option<Length>,
    /// Width and length.
    size: Option<[Length; 2]>,
    /// Their grooves, from the bottom.
    grooves: Vec<Cut>,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let file = match &arguments.file {
        Some(file) => file.clone(),
        None => only_project(Utf8Path::new("."))?,
    };
    read(&DiskFiles, &file)?;
    if arguments.adopt {
        return adopt(&file, screen);
    }
    let of = Of {
        lot: arguments.lot.as_deref().map(lot).transpose()?,
        thickness: arguments.thickness.as_deref().map(thickness).transpose()?,
        again: arguments.again,
    };
    let took = (!arguments.took.is_empty()).then(|| took(&arguments.took.join(" "))).transpose()?;
    // Read before others have to wait for what a person types.
    let wanted = wanted(arguments)?;
    let path = own(&file);
    let (target, place) = held(&file, screen)?;
    let Some(compilation) = sound(&DiskFiles, &file, Telling::Errors, screen)? else {
        return Ok(Verdict::Errors);
    };
    let purchase = purchase(arguments)?;
    if let (Some(_), Some(took)) = (&purchase, &took) {
        let message = format!("`--took '{took}'` says something of what is made, not of what is bought");
        return Err(fail(message, "leave it out"));
    }
    let mut sheets = OfSheets { works: &[], kept: BTreeSet::new(), says: Vec::new() };
    if wanted.iter().any(|wanted| matches!(wanted.what, What::Sheets(_))) {
        sheets.works = compilation.subject(arguments.effort.into()).sheet_works();
    }
    let asked = match purchase {
        Some(_) => BTreeMap::new(),
        None => asked(&compilation, &wanted, arguments.back, &mut sheets)?,
    };
    let before = match &place {
        None => "//! How far the parts are.\n".to_owned(),
        Some(place) => read(&DiskFiles, place)?,
    };
    let (text, mut told) = if let Some(purchase) = &purchase {
        let block = purchase.block(&compilation)?;
        let text = format!("{}\n\n{block}", before.trim_end_matches('\n'));
        (Some(text), format!("{} x {} bought", purchase.count, purchase.of))
    } else if arguments.back {
        back(&before, &asked, &compilation.graph)
    } else {
        let is_cut = asked.values().any(|state| *state >= State::Cut);
        let (mut text, mut told) = marked(before.clone(), &asked, &of, &compilation);
        if let Some((took, state)) = took.zip(arguments.state) {
            let block = hours(state.0, &took, &asked, &compilation.graph);
            text = Some(format!("{}\n\n{block}", text.unwrap_or(before).trim_end_matches('\n')));
            told.push_str(&format!("; took {took}"));
        }
        let keep = |text: String| sheets::keep(&text, &compilation, sheets.works, &sheets.kept);
        (if is_cut { text.map(keep) } else { text }, told)
    };
    if !sheets.says.is_empty() {
        told = format!("{}: {told}", sheets.says.join(", "));
    }
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

/// What is said of the stock of all parts of a call, and whether they are made anew.
struct Of {
    lot: Option<String>,
    thickness: Option<Length>,
    again: bool,
}

/// The text with what is new about parts, where anything is, and what to say of it.
fn marked(
    before: String,
    asked: &BTreeMap<PartId, State>,
    of: &Of,
    compilation: &Compilation,
) -> (Option<String>, String) {
    let (graph, marks) = (&compilation.graph, compilation.model.project.marks);
    let mut groups: BTreeMap<(State, Alike), Vec<&str>> = BTreeMap::new();
    let mut count: BTreeMap<State, usize> = BTreeMap::new();
    let (mut already, mut of_stock, mut again) = (0, 0, BTreeMap::new());
    for (id, state) in asked {
        let Some(part) = graph.part(*id) else { continue };
        let made = graph.made.get(id);
        if of.again && made.is_some() {
            again.insert(*id, State::Bought);
        }
        let was = made.filter(|_| !of.again).map(|made| made.state);
        let alike = if was.is_some_and(|was| was >= *state) {
            let facts = made.map(|made| &made.facts);
            let lot = of.lot.as_ref().filter(|lot| facts.and_then(|facts| facts.lot.as_deref()) != Some(lot));
            let thickness = of.thickness.filter(|new| {
                facts.and_then(|facts| facts.thickness).is_none_or(|(stated, _)| stated != *new)
            });
            if lot.is_none() && thickness.is_none() {
                already += 1;
                continue;
            }
            of_stock += 1;
            let thickness = thickness.or_else(|| of_lot(graph, part, lot?));
            Alike { lot: lot.cloned(), thickness, ..Alike::default() }
        } else {
            *count.entry(*state).or_default() += 1;
            as_made(compilation, part, (was, *state), of)
        };
        groups.entry((*state, alike)).or_default().push(&part.path);
    }
    let before = if again.is_empty() { before } else { anew(&before, graph, &again) };
    let text = (!groups.is_empty()).then(|| {
        let added = groups.iter().map(|((state, alike), parts)| block(*state, alike, parts, marks));
        format!("{}\n\n{}", before.trim_end_matches('\n'), added.collect::<String>())
    });
    let new: Vec<String> =
        count.iter().map(|(state, count)| format!("{} {state}", some(*count, "part"))).collect();
    let mut told = vec![if new.is_empty() { "new parts: none".to_owned() } else { new.join(", ") }];
    if !again.is_empty() {
        told.push(format!("{} of them made anew", again.len()));
    }
    if of_stock > 0 {
        let lot = of.lot.iter().map(|lot| format!("lot {}", name(lot)));
        let thickness = of.thickness.iter().map(|thickness| exact(*thickness, marks));
        let said: Vec<String> = lot.chain(thickness).collect();
        told.push(format!("{} for {} marked before", said.join(", "), some(of_stock, "part")));
    }
    match already {
        0 => {}
        1 => told.push("1 part was already marked".to_owned()),
        _ => told.push(format!("{already} parts were already marked")),
    }
    (text, told.join("; "))
}

/// What is noted of a part that comes from one state to another, so that a later change of the text cannot change it.
fn as_made(compilation: &Compilation, part: &Part, (was, state): (Option<State>, State), of: &Of) -> Alike {
    let (graph, marks) = (&compilation.graph, compilation.model.project.marks);
    let new = |reached: State| state >= reached && was.is_none_or(|was| was < reached);
    let mut alike = Alike { lot: of.lot.clone(), thickness: of.thickness, ..Alike::default() };
    if new(State::Cut) {
        alike.stock = Some(graph.sold_as(part.stock).to_string());
        alike.lot = alike.lot.or_else(|| graph.lot(part.stock).map(str::to_owned));
        let stated = match part.stock {
            Stock::Sheet(id) => {
                graph.sheet(id).filter(|sheet| sheet.measured).map(|sheet| sheet.thickness.value)
            }
            Stock::Board(_) => Some(part.size.thickness.value),
        };
        let lot = of.lot.as_ref().and_then(|lot| of_lot(graph, part, lot));
        alike.thickness = alike.thickness.or(lot).or(stated);
        alike.size = as_cut(graph, part.id, marks);
    }
    if new(State::Grooved) {
        alike.grooves = cuts(graph, part.id, marks);
    }
    alike
}

/// The thickness of a lot of the sheet that a part is cut from.
fn of_lot(graph: &PartGraph, part: &Part, lot: &str) -> Option<Length> {
    let name = graph.sold_as(part.stock);
    let lots = graph.sheets.iter().filter(|sheet| *sheet.sold_as() == name);
    lots.into_iter().find(|sheet| sheet.lot() == Some(lot)).map(|sheet| sheet.thickness.value)
}

/// The text without states of parts, where they have them, and what to say of it.
fn back(before: &str, asked: &BTreeMap<PartId, State>, graph: &PartGraph) -> (Option<String>, String) {
    let (mut gone, mut not): (BTreeMap<State, usize>, BTreeMap<State, usize>) = Default::default();
    for (id, state) in asked {
        let is_so = graph.made.get(id).is_some_and(|made| made.state >= *state);
        *if is_so { &mut gone } else { &mut not }.entry(*state).or_default() += 1;
    }
    let text = (!gone.is_empty()).then(|| {
        let stays = |path: &str| {
            let id = graph.named(path);
            let made = id.and_then(|id| graph.made.get(&id)).is_some_and(|made| made.state >= State::Cut);
            made && id.and_then(|id| asked.get(&id)).is_none_or(|back| *back > State::Cut)
        };
        without(&sheets::dropped(before, graph, stays), graph, asked)
    });
    let gone = gone.iter().map(|(state, count)| format!("{} no longer {state}", some(*count, "part")));
    let not = not.iter().map(|(state, count)| match count {
        1 => format!("1 part was not {state}"),
        _ => format!("{count} parts were not {state}"),
    });
    (text, gone.chain(not).collect::<Vec<_>>().join("; "))
}

fn without(before: &str, graph: &PartGraph, back: &BTreeMap<PartId, State>) -> String {
    let file = Sources::default().add(Utf8PathBuf::new(), before.to_owned());
    taken_back(file, before, graph, back)
}

/// The text in which parts are made once more: what was cut of them before is spoilt.
fn anew(before: &str, graph: &PartGraph, again: &BTreeMap<PartId, State>) -> String {
    let text = without(before, graph, again);
    let is_cut = |id: &PartId| graph.made.get(id).is_some_and(|made| made.state >= State::Cut);
    let parts = again.keys().filter(|id| is_cut(id)).filter_map(|id| graph.part(*id));
    let parts = parts.map(|part| part.path.as_str()).collect();
    let file = Sources::default().add(Utf8PathBuf::new(), text.clone());
    spoilt(file, &text, &parts)
}

/// What is bought, where that is noted and no state of parts.
fn purchase(arguments: &Arguments) -> Result<Option<Purchase<'_>>, Failure> {
    let is_bought = matches!(arguments.state, Some(Made(State::Bought))) && !arguments.back;
    let Some((count, of)) = bought::counted(&arguments.paths).filter(|_| is_bought) else {
        if arguments.each.is_some() || !arguments.paid.is_empty() {
            let help = "write how many of what: `scantling mark bought 6 ply --paid '402 USD'`";
            return Err(fail("`--each` and `--paid` say something of what is bought", help));
        }
        return Ok(None);
    };
    let (lot, each) = (arguments.lot.as_deref(), arguments.each.as_deref());
    let paid = (!arguments.paid.is_empty()).then(|| arguments.paid.join(" "));
    Ok(Some(Purchase { count: bought::count(count)?, of, lot, each, paid }))
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

/// Parts and what to note of them, with the place of the list where it comes from one.
struct Wanted {
    what: What,
    state: State,
    at: String,
}

/// Which parts are meant.
enum What {
    /// Those of a path.
    Path(String),
    /// Those that are cut from sheets of the layouts.
    Sheets(Sheets),
}

/// What is found of the sheets that are asked for.
struct OfSheets<'a> {
    works: &'a [SheetWork],
    /// The works whose layouts are followed from now on.
    kept: BTreeSet<usize>,
    says: Vec<String>,
}

/// What is asked for, by its words or in a list.
fn wanted(arguments: &Arguments) -> Result<Vec<Wanted>, Failure> {
    let Some(list) = &arguments.from else {
        let Some(Made(state)) = arguments.state else { return Ok(Vec::new()) };
        let words: Vec<&str> = arguments.paths.iter().map(String::as_str).collect();
        if let Some(sheets) = sheets::read(&words) {
            return Ok(vec![Wanted { what: What::Sheets(sheets?), state, at: String::new() }]);
        }
        let paths = arguments.paths.iter();
        let wanted = |path: &String| Wanted { what: What::Path(path.clone()), state, at: String::new() };
        return Ok(paths.map(wanted).collect());
    };
    let text = if list == STANDARD_INPUT { standard_input()? } else { read(&DiskFiles, list)? };
    let text = text.trim_start_matches('\u{feff}');
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
        let [before @ .., word] = words.as_slice() else { continue };
        let what = match (before, sheets::read(before)) {
            (_, Some(Ok(sheets))) => What::Sheets(sheets),
            ([path], None) => What::Path((*path).to_owned()),
            _ => {
                let help = "write `wall.side.left cut` or `sheet 3 of ply cut`".to_owned();
                return fail("a line has a path or a sheet, and a state".to_owned(), help);
            }
        };
        let Some(state) = State::of(word) else {
            let known = State::ALL.map(State::word);
            let help = match nearest(word, known) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("there are {}", known.join(", ")),
            };
            return fail(format!("unknown state `{word}`"), help);
        };
        wanted.push(Wanted { what, state, at });
    }
    if wanted.is_empty() {
        let help = "write a path and a state a line, such as `wall.side.left cut`";
        return Err(fail(format!("{list} names no part"), help));
    }
    Ok(wanted)
}

/// The parts that are meant, each once: with the furthest state that is asked for, or the first one that is taken back.
fn asked(
    compilation: &Compilation,
    wanted: &[Wanted],
    back: bool,
    sheets: &mut OfSheets<'_>,
) -> Result<BTreeMap<PartId, State>, Failure> {
    let graph = &compilation.graph;
    let by_path = graph.by_path();
    let mut found = BTreeMap::new();
    for Wanted { what, state, at } in wanted {
        let mut add = |id: PartId| {
            let entry = found.entry(id).or_insert(*state);
            *entry = if back { (*entry).min(*state) } else { (*entry).max(*state) };
        };
        let path = match what {
            What::Path(path) => path,
            What::Sheets(asked) => {
                let own = sheets::find(asked, at, compilation, sheets.works)?;
                own.parts.iter().filter_map(|path| graph.named(path)).for_each(add);
                sheets.kept.extend(own.kept);
                sheets.says.push(own.says);
                continue;
            }
        };
        let ids = matching(path, graph, &by_path);
        if ids.is_empty() {
            let help = graph.shared_before(path).unwrap_or_else(|| match near(path, &by_path) {
                Some(near) => format!("did you mean `{near}`?"),
                None => "`scantling show parts FILE` lists all".to_owned(),
            });
            let message = format!("{at}unknown part `{path}`");
            return Err(if at.is_empty() { Failure::Path { message, help } } else { fail(message, &help) });
        }
        ids.into_iter().for_each(&mut add);
    }
    Ok(found)
}

/// The name of a lot, where it can stand in the file.
fn lot(name: &str) -> Result<String, Failure> {
    let file = Sources::default().add(Utf8PathBuf::new(), String::new());
    progress::written(file, name).map(|_| name.to_owned()).ok_or_else(|| Failure::Progress {
        message: format!("`{}` cannot be the name of a lot", printable_line(name)),
        help: "nothing was written; name it as in the project, such as `--lot second`: letters, digits, `_`, and no word of the \
               language"
            .to_owned(),
    })
}

fn thickness(text: &str) -> Result<Length, Failure> {
    let length = literal(text).and_then(Exact::length).filter(|length| *length > Length::ZERO);
    length.ok_or_else(|| Failure::Progress {
        message: format!("`{}` cannot be a thickness", printable_line(text)),
        help: "nothing was written; write it as in the project, such as `--thickness '23/32\"'` or `--thickness 17.6mm`".to_owned(),
    })
}

/// What cannot be noted, and what helps.
fn fail(message: impl Into<String>, help: &str) -> Failure {
    Failure::Progress { message: message.into(), help: format!("{help}; nothing was written") }
}

/// A time as it stands in the file.
fn took(text: &str) -> Result<String, Failure> {
    let time = literal(text.trim()).filter(|took| took.dim == Dim::TIME && took.value.is_positive());
    time.map(|_| text.trim().to_owned()).ok_or_else(|| Failure::Progress {
        message: format!("`{}` is no time", printable_line(text)),
        help: "nothing was written; write it with its unit, such as `--took '2 h'` or `--took '95 min'`"
            .to_owned(),
    })
}

/// What it took to bring parts to a state.
fn hours(state: State, took: &str, asked: &BTreeMap<PartId, State>, graph: &PartGraph) -> String {
    let parts = asked.keys().filter_map(|id| graph.part(*id)).map(|part| part.path.as_str());
    let parts = parts.collect::<Vec<_>>().join(",\n    ");
    format!("hours {{\n  took = {took}\n  {state} = [\n    {parts}\n  ]\n}}\n")
}

/// A name as it stands in the file.
fn name(name: &str) -> String {
    let file = Sources::default().add(Utf8PathBuf::new(), String::new());
    progress::written(file, name).unwrap_or_else(|| name.to_owned())
}

/// A length as it stands in the file, exactly.
fn exact(length: Length, marks: Marks) -> String {
    let print = marks.print_fine(length);
    // A unit of metres or millimetres stands against its number in the language.
    if print.is_exact() {
        return print.text().replace(" mm", "mm");
    }
    format!("{}/{}mm", length.mm().numer(), length.mm().denom())
}

fn block(state: State, alike: &Alike, parts: &[&str], marks: Marks) -> String {
    let print = |length: &Length| exact(*length, marks);
    let mut text = String::from("made {\n");
    let mut line = |what: &str, value: String| text.push_str(&format!("  {what} = {value}\n"));
    if let Some(stock) = &alike.stock {
        line("stock", name(stock));
    }
    if let Some(lot) = &alike.lot {
        line("lot", name(lot));
    }
    if let Some(thickness) = &alike.thickness {
        line("thickness", print(thickness));
    }
    if let Some([width, length]) = &alike.size {
        line("size", format!("{} x {}", print(width), print(length)));
    }
    if !alike.grooves.is_empty() {
        let marks: Vec<String> = alike.grooves.iter().map(|cut| print(&cut.at)).collect();
        line("marks", format!("[{}]", marks.join(", ")));
        let mut sizes: Vec<String> = alike
            .grooves
            .iter()
            .map(|cut| format!("{} x {}", print(&cut.width), print(&cut.depth)))
            .collect();
        match sizes.iter().all(|size| sizes.first() == Some(size)) {
            true => line("grooves", sizes.swap_remove(0)),
            false => line("grooves", format!("[{}]", sizes.join(", "))),
        }
    }
    text.push_str(&format!("  {state} = [\n    {}\n  ]\n}}\n", parts.join(",\n    ")));
    text
}
