//! The work at the saw over all sheets: batches by machine and setting, the fence from wide to narrow, the stop from long to
//! short, so that each is set once.

use super::{Output, SheetSpec, Subject};
use crate::breakdown::{Row, SheetWork, across_of};
use crate::cutting::Pattern;
use crate::document::{Cell, Table, figures, words};
use crate::parts::Part;
use crate::quantity::{JsonLength, Length, some};
use serde::Serialize;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "sawing",
    about: "the work at the saw over all sheets: each setting once, with what it gives and for which units",
    make,
    draw: None,
    of_revision: true,
};

/// The order in which it is sawn.
const ORDER: &str = "All sheets together: first the skims, then whole sheets that are cut across, then the fence from wide to narrow, then the stop \
     from long to short, then trims at the fence. Set once, cut the whole batch, measure its first and its last piece. Write the unit \
     on each piece as it comes.";

/// The whole work at the saw.
#[derive(Clone, Debug, Serialize)]
pub struct Sawing {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// How the steps follow each other.
    pub order: &'static str,
    /// Stock that is not laid out, and why.
    pub problems: Vec<Problem>,
    /// The sheets in the order in which they come to the saw.
    pub sheets: Vec<SheetAt>,
    /// The steps, in order.
    pub steps: Vec<SawStep>,
    /// Settings so near to each other that one would serve.
    pub near: Vec<NearSettings>,
}

/// Two settings of one machine that one would serve, if the sizes of the pieces may change by so little.
#[derive(Clone, Debug, Serialize)]
pub struct NearSettings {
    /// The step with the larger one.
    pub larger: usize,
    /// The step with the smaller one.
    pub smaller: usize,
    /// By how much they differ.
    pub apart: JsonLength,
    /// What it would do, in words.
    pub says: String,
}

/// Stock that is not laid out.
#[derive(Clone, Debug, Serialize)]
pub struct Problem {
    /// The sheet good or lot.
    pub stock: String,
    /// Why.
    pub problem: String,
}

/// One sheet, numbered as `layouts` numbers it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct SheetAt {
    /// The sheet good or lot.
    pub stock: String,
    /// Its number.
    pub number: u64,
}

/// One setting of a machine.
#[derive(Clone, Debug, Serialize)]
pub struct SawStep {
    /// Its number.
    pub number: usize,
    /// `skim`, `across`, `rip`, `crosscut` or `trim`.
    pub cut: &'static str,
    /// `fence`, `stop` or `edge`.
    pub machine: &'static str,
    /// Whether it takes the factory edge off whole sheets.
    #[serde(skip)]
    pub is_skim: bool,
    /// Whether what is set is the width of pieces, and not their length.
    #[serde(skip)]
    pub is_width: bool,
    /// What it is set to.
    pub setting: JsonLength,
    /// How many cuts it makes.
    pub count: usize,
    /// From which sheets.
    pub from: Vec<FromSheet>,
    /// What it gives.
    pub gives: Vec<Gives>,
    /// The sheet of the first piece, which is measured.
    pub first: SheetAt,
    /// The sheet of the last one.
    pub last: SheetAt,
    /// How cuts are finished that go beyond the saw's reach.
    pub finish: Option<String>,
}

/// A sheet that a step cuts.
#[derive(Clone, Debug, Serialize)]
pub struct FromSheet {
    /// The sheet.
    #[serde(flatten)]
    pub sheet: SheetAt,
    /// How many of the cuts are in it.
    pub cuts: usize,
}

/// Equal pieces of one step.
#[derive(Clone, Debug, Serialize)]
pub struct Gives {
    /// What they are: the word of a part; `rip` or `piece` of what is cut on.
    pub what: &'static str,
    /// How many, spares with them.
    pub count: usize,
    /// How many are for which unit; of what is cut on, how many hold something for it.
    pub units: Vec<ForUnit>,
    /// How many of them are spares.
    pub spares: usize,
    /// Whether they are trimmed later.
    pub trim: bool,
}

/// How many pieces are for a unit.
#[derive(Clone, Debug, Serialize)]
pub struct ForUnit {
    /// The unit, or the run.
    pub unit: String,
    /// How many.
    pub count: usize,
}

/// The steps in the order in which they are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Phase {
    Skim,
    Across,
    Rip,
    Crosscut,
    Trim,
}

impl Phase {
    const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Skim => ("skim", "edge"),
            Self::Across => ("across", "stop"),
            Self::Rip => ("rip", "fence"),
            Self::Crosscut => ("crosscut", "stop"),
            Self::Trim => ("trim", "fence"),
        }
    }
}

/// One cut.
#[derive(Clone, Debug)]
struct Cut {
    sheet: SheetAt,
    what: &'static str,
    /// For which units; `None` is a spare.
    units: BTreeSet<Option<String>>,
    trim: bool,
    /// How far the blade goes.
    through: Length,
}

/// A setting: the phase and its size, the largest first.
type Setting = (Phase, Reverse<Length>);

/// All cuts by setting, as they are gathered.
struct Gathered<'a> {
    subject: Subject<'a>,
    units: BTreeMap<&'a str, String>,
    cuts: BTreeMap<Setting, Vec<Cut>>,
    /// The first cuts of every sheet, by which sheets are put in order.
    firsts: Vec<(Vec<Setting>, SheetAt)>,
    problems: Vec<Problem>,
}

/// Makes the typed list.
pub(crate) fn sawing(subject: Subject<'_>) -> Sawing {
    let units = subject.graph.parts.iter().map(|part| (part.path.as_str(), owner(subject, part))).collect();
    let (cuts, firsts, problems) = (BTreeMap::new(), Vec::new(), Vec::new());
    let mut gathered = Gathered { subject, units, cuts, firsts, problems };
    for work in subject.sheet_works() {
        gathered.work(work);
    }
    let Gathered { cuts, mut firsts, problems, .. } = gathered;
    firsts.sort();
    let sheets: Vec<SheetAt> = firsts.into_iter().map(|(_, sheet)| sheet).collect();
    let what = |cuts: &[Cut]| {
        let words: BTreeSet<&str> = cuts.iter().map(|cut| cut.what).collect();
        format!("{} x {}", cuts.len(), words.into_iter().collect::<Vec<_>>().join(" and "))
    };
    let sizes: Vec<(Phase, Length, String)> =
        cuts.iter().map(|((phase, Reverse(size)), cuts)| (*phase, *size, what(cuts))).collect();
    let steps: Vec<SawStep> = cuts
        .into_iter()
        .enumerate()
        .filter_map(|(place, (setting, cuts))| step(subject, place + 1, setting, cuts, &sheets))
        .collect();
    Sawing {
        project: subject.model.project.title.as_deref().map(str::to_owned),
        revision: subject.model.project.revision.as_deref().map(str::to_owned),
        order: ORDER,
        problems,
        near: near(subject, &sizes),
        steps,
        sheets,
    }
}

/// Sizes no further apart than this are named: 1/16 in or 1 mm (common practice, no source).
fn near(subject: Subject<'_>, sizes: &[(Phase, Length, String)]) -> Vec<NearSettings> {
    let most = subject.model.project.marks.system().length((1, 16), (1, 1));
    let pairs = sizes.iter().enumerate().zip(sizes.iter().skip(1));
    let near = pairs.filter_map(|((place, (phase, larger, what)), (other, smaller, its))| {
        let apart = larger.checked_sub(*smaller)?;
        if phase != other || *phase == Phase::Skim || apart > most {
            return None;
        }
        let [larger, smaller] = [larger, smaller].map(|size| subject.print(*size));
        let (cut, machine) = phase.words();
        let apart = subject.fine(apart);
        let says = format!(
            "{cut} {larger} ({what}) and {smaller} ({its}) are {} apart: made alike, they need one setting of the {machine} less",
            apart.print
        );
        Some(NearSettings { larger: place + 1, smaller: place + 2, apart, says })
    });
    near.collect()
}

/// The unit of a part, or its run.
fn owner(subject: Subject<'_>, part: &Part) -> String {
    let unit = part.unit.and_then(|unit| subject.graph.unit(unit)).map(|unit| unit.path.clone());
    let run = || part.run.and_then(|run| subject.graph.run(run)).map(|run| run.path.clone());
    unit.or_else(run).unwrap_or_default()
}

impl Gathered<'_> {
    fn work(&mut self, work: &SheetWork) {
        let Some(sheet) = self.subject.graph.sheet(work.sheet) else { return };
        let stock = sheet.name.to_string();
        let plan = match &work.plan {
            Ok(plan) => plan,
            Err(error) => {
                let problem = work.problem(sheet, error);
                self.problems.push(Problem { stock, problem });
                return;
            }
        };
        // Which of its parts are cut already.
        let mut taken = vec![0_usize; work.rows.len()];
        for (place, pattern) in plan.patterns.iter().enumerate() {
            for number in work.numbers(place) {
                self.sheet(work, pattern, &SheetAt { stock: stock.clone(), number }, &mut taken);
            }
        }
    }

    fn sheet(&mut self, work: &SheetWork, pattern: &Pattern, at: &SheetAt, taken: &mut [usize]) {
        let Some(sheet) = work.job.sheets.get(pattern.sheet) else { return };
        let ripped = work.is_ripped(pattern);
        let length = |units: i64| work.scale.length(units);
        let (along, across) = sheet.reach(pattern.first);
        if sheet.trim.bottom > 0 {
            let skim = Cut {
                sheet: at.clone(),
                what: "sheet",
                units: BTreeSet::new(),
                trim: false,
                through: Length::ZERO,
            };
            self.add((Phase::Skim, Reverse(length(sheet.trim.bottom))), skim);
        }
        let mut firsts = Vec::new();
        for rip in &pattern.rips {
            let mut units = BTreeSet::new();
            for cut in &rip.crosscuts {
                for part in &cut.parts {
                    let Some(row) = work.rows.get(part.part) else { continue };
                    let unit = self.next(row, taken.get_mut(part.part));
                    units.insert(unit.clone());
                    let own = across_of(part, pattern.first);
                    let trim = own < rip.width;
                    let piece = |trim, through| Cut {
                        sheet: at.clone(),
                        what: row.what,
                        units: BTreeSet::from([unit.clone()]),
                        trim,
                        through: length(through),
                    };
                    let second = if ripped { Phase::Crosscut } else { Phase::Rip };
                    self.add((second, Reverse(length(cut.length))), piece(trim, rip.width));
                    if trim {
                        let third = if ripped { Phase::Trim } else { Phase::Crosscut };
                        self.add((third, Reverse(length(own))), piece(false, cut.length));
                    }
                }
            }
            let (phase, what) = if ripped { (Phase::Rip, "rip") } else { (Phase::Across, "piece") };
            let setting = (phase, Reverse(length(rip.width)));
            firsts.push(setting);
            let through = length(if ripped { along } else { across.min(along) });
            self.add(setting, Cut { sheet: at.clone(), what, units, trim: false, through });
        }
        firsts.sort();
        self.firsts.push((firsts, at.clone()));
    }

    /// For whom the next piece of a row is; `None` where it is a spare.
    fn next(&self, row: &Row, taken: Option<&mut usize>) -> Option<String> {
        let taken = taken?;
        *taken += 1;
        let path = row.names.get(*taken - 1)?;
        Some(self.units.get(path.as_str()).cloned().unwrap_or_default())
    }

    fn add(&mut self, setting: Setting, cut: Cut) {
        self.cuts.entry(setting).or_default().push(cut);
    }
}

/// Where a unit stands among those of the project; behind them what belongs to a run.
fn place(subject: Subject<'_>, unit: &str) -> (usize, String) {
    let known = subject.graph.units.iter().position(|known| known.path == unit);
    (known.unwrap_or(usize::MAX), unit.to_owned())
}

/// A step of all cuts with one setting, from the sheets as they come.
fn step(
    subject: Subject<'_>,
    number: usize,
    (phase, Reverse(setting)): Setting,
    cuts: Vec<Cut>,
    sheets: &[SheetAt],
) -> Option<SawStep> {
    let (cut, machine) = phase.words();
    let mut gives: Vec<Gives> = Vec::new();
    let mut from: BTreeMap<&SheetAt, usize> = BTreeMap::new();
    for cut in &cuts {
        *from.entry(&cut.sheet).or_default() += 1;
        let place = match gives.iter().position(|given| (given.what, given.trim) == (cut.what, cut.trim)) {
            Some(place) => place,
            None => {
                let (what, trim) = (cut.what, cut.trim);
                gives.push(Gives { what, count: 0, units: Vec::new(), spares: 0, trim });
                gives.len() - 1
            }
        };
        let Some(given) = gives.get_mut(place) else { continue };
        given.count += 1;
        for unit in &cut.units {
            match unit {
                None => given.spares += 1,
                Some(unit) => match given.units.iter_mut().find(|known| known.unit == *unit) {
                    Some(known) => known.count += 1,
                    None => given.units.push(ForUnit { unit: unit.clone(), count: 1 }),
                },
            }
        }
    }
    for given in &mut gives {
        given.units.sort_by_cached_key(|known| place(subject, &known.unit));
    }
    let mut own = sheets.iter().filter(|sheet| from.contains_key(sheet));
    let first = own.next()?.clone();
    let last = own.next_back().unwrap_or(&first).clone();
    let from = from.iter().map(|(sheet, cuts)| FromSheet { sheet: SheetAt::clone(sheet), cuts: *cuts });
    let crosscuts = matches!(phase, Phase::Across | Phase::Crosscut);
    let reach = subject.model.shop.reach.filter(|_| crosscuts).map(|reach| reach.value);
    let finish = reach.and_then(|reach| {
        let beyond = cuts.iter().filter(|cut| cut.through > reach).count();
        let reach = subject.print(reach);
        match (beyond, phase) {
            (0, _) => None,
            (_, Phase::Across) => {
                Some(format!("beyond the saw's reach of {reach}: cut with a hand-held saw along a straight edge"))
            }
            (beyond, _) => Some(format!(
                "{} beyond the saw's reach of {reach}: turn the piece over against the same stop and finish from the \
                 other face, or by hand",
                some(beyond, "cut")
            )),
        }
    });
    Some(SawStep {
        number,
        cut,
        machine,
        is_skim: phase == Phase::Skim,
        is_width: matches!(phase, Phase::Rip | Phase::Trim),
        setting: subject.json(setting),
        count: cuts.len(),
        from: from.collect(),
        gives,
        first,
        last,
        finish,
    })
}

/// `ply 1 to 4: 4 each, 5: 2`; of crosscuts only `ply 1 to 5`.
pub(crate) fn from_words(step: &SawStep) -> String {
    let counted = matches!(step.cut, "rip" | "across");
    // Sheets one after another, with as many cuts each.
    let mut runs: Vec<(&str, u64, u64, usize)> = Vec::new();
    for FromSheet { sheet, cuts } in &step.from {
        match runs.last_mut() {
            Some((stock, _, last, own))
                if *stock == sheet.stock && *last + 1 == sheet.number && (!counted || own == cuts) =>
            {
                *last = sheet.number;
            }
            _ => runs.push((&sheet.stock, sheet.number, sheet.number, *cuts)),
        }
    }
    let mut said = Vec::new();
    let mut before = "";
    for (stock, first, last, cuts) in runs {
        let name = if stock == before { String::new() } else { format!("{stock} ") };
        before = stock;
        let (numbers, each) = match last - first {
            0 => (first.to_string(), ""),
            1 => (format!("{first} and {last}"), " each"),
            _ => (format!("{first} to {last}"), " each"),
        };
        said.push(if counted {
            format!("{name}{numbers}: {cuts}{each}")
        } else {
            format!("{name}{numbers}")
        });
    }
    said.join(", ")
}

fn make(subject: Subject<'_>) -> Output {
    let sawing = sawing(subject);
    let mut document = subject.document("Sawing");
    document.facts.push(ORDER.to_owned());
    for Problem { stock, problem } in &sawing.problems {
        document.facts.push(format!("{stock} is not laid out: {problem}"));
    }
    document.facts.extend(in_order(&sawing));
    if !sawing.steps.is_empty() {
        document.tables.push(table(&sawing));
    }
    document.notes.extend(sawing.near.iter().map(|near| near.says.clone()));
    Output::new(sawing, document, &[])
}

/// In which order the sheets come; nothing where none is cut.
pub(crate) fn in_order(sawing: &Sawing) -> Option<String> {
    // One after another of one stock, as they come.
    let runs = sawing.sheets.chunk_by(|one, next| one.stock == next.stock);
    let says = runs.filter_map(|run| {
        let stock = &run.first()?.stock;
        let numbers: Vec<String> = run.iter().map(|sheet| sheet.number.to_string()).collect();
        Some(format!("{stock} {}", numbers.join(", ")))
    });
    let says: Vec<String> = says.collect();
    (!says.is_empty()).then(|| format!("Sheets in the order in which they come: {}.", says.join("; ")))
}

fn table(sawing: &Sawing) -> Table {
    let row = |step: &SawStep| {
        let mut gives: Vec<String> = step.gives.iter().map(|given| given_words(step, given)).collect();
        gives.extend(step.finish.clone());
        let [first, last] = [&step.first, &step.last].map(|at| format!("{} {}", at.stock, at.number));
        let measured = if first == last { first } else { format!("{first}, {last}") };
        vec![
            Cell::Figure(step.number.to_string()),
            Cell::Words(step.cut.to_owned()),
            Cell::Figure(step.setting.print.clone()),
            Cell::Figure(step.count.to_string()),
            Cell::Words(from_words(step)),
            Cell::Lines(gives),
            Cell::Words(measured),
        ]
    };
    let columns = vec![
        figures("step"),
        words("cut"),
        figures("set to"),
        figures("cuts"),
        words("from"),
        words("gives, for"),
        words("first, last measured"),
    ];
    let caption = format!("At the saw: {}", some(sawing.steps.len(), "setting"));
    Table { caption, columns, rows: sawing.steps.iter().map(row).collect(), foot: None }
}

/// `28 x shelf: one 8, two 6, three 6, four 8`; of rips, for which units.
pub(crate) fn given_words(step: &SawStep, given: &Gives) -> String {
    if step.is_skim {
        return "one long edge and one end of each: mark them".to_owned();
    }
    let whole = matches!(given.what, "rip" | "piece");
    let mut units: Vec<String> = given
        .units
        .iter()
        .map(|known| if whole { known.unit.clone() } else { format!("{} {}", known.unit, known.count) })
        .collect();
    units.extend(
        (given.spares > 0).then(|| if whole { "spares".to_owned() } else { some(given.spares, "spare") }),
    );
    let later = if given.trim { ", to be trimmed" } else { "" };
    format!("{} x {}{later}: {}", given.count, given.what, units.join(", "))
}
