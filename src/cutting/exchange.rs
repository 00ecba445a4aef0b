//! The benchmark formats: instances `cutbench/1` in, layouts `cutlayout/1` out, both JSON.

use serde::{Deserialize, Serialize};

use super::error::Error;
use super::job::{Axis, Bar, BarJob, BarPiece, Effort, First, Grain, Job, Part, Rules, Sheet, Stages, Trim};
use super::plan::{BarPlan, Plan, Proof};
use super::verify::{verify, verify_bars};

#[derive(Deserialize)]
struct Instance {
    id: String,
    #[serde(default = "two")]
    dim: u32,
    #[serde(default)]
    objective: Option<String>,
    #[serde(default)]
    kerf: i64,
    #[serde(default)]
    trim: Vec<i64>,
    #[serde(default)]
    rip: Option<char>,
    stock: Vec<Stock>,
    items: Vec<Item>,
    #[serde(default)]
    variants: Vec<Variant>,
}

const fn two() -> u32 {
    2
}

#[derive(Deserialize)]
struct Stock {
    id: String,
    #[serde(default)]
    w: i64,
    #[serde(default)]
    h: i64,
    #[serde(default)]
    len: i64,
    #[serde(default)]
    count: Option<u64>,
    #[serde(default = "one")]
    cost: i64,
    #[serde(default)]
    trim: Option<Vec<i64>>,
}

const fn one() -> i64 {
    1
}

#[derive(Deserialize)]
struct Item {
    id: String,
    #[serde(default)]
    w: i64,
    #[serde(default)]
    h: i64,
    #[serde(default)]
    len: i64,
    demand: u64,
    #[serde(default)]
    rotate: bool,
    #[serde(default)]
    group: Option<String>,
}

#[derive(Clone, Deserialize)]
struct Variant {
    id: String,
    #[serde(default)]
    stages: Option<u32>,
    #[serde(default)]
    first: Option<String>,
    #[serde(default)]
    exact: bool,
    #[serde(default)]
    rotate: Option<String>,
    #[serde(default)]
    best: Option<i64>,
    #[serde(default)]
    bound: Option<i64>,
}

/// What a run came to, for one line of a benchmark.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Summary {
    /// The instance.
    pub instance: String,
    /// The variant.
    pub variant: String,
    /// Sheets or bars used.
    pub sheets: u64,
    /// What the instance asks to be small: sheets, or their price.
    pub objective: i64,
    /// The bound on that.
    pub bound: i64,
    /// What proves the bound: `area`, `dual feasible functions` or `linear program`.
    pub proof: &'static str,
    /// Distinct fence settings.
    pub settings: usize,
    /// Distinct fence settings summed sheet by sheet.
    pub moves: u64,
    /// Faults that the verifier found; none is right.
    pub faults: Vec<String>,
    /// Best value known, as the instance says.
    pub best_known: Option<i64>,
    /// Best bound known, as the instance says.
    pub bound_known: Option<i64>,
}

#[derive(Serialize)]
struct LayoutOut<'a> {
    format: &'static str,
    instance: &'a str,
    variant: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    sheets: Option<Vec<SheetOut<'a>>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bars: Option<Vec<BarOut<'a>>>,
}

#[derive(Serialize)]
struct SheetOut<'a> {
    stock: &'a str,
    parts: Vec<PartOut<'a>>,
}

#[derive(Serialize)]
struct PartOut<'a> {
    item: &'a str,
    x: i64,
    y: i64,
    w: i64,
    h: i64,
    rotated: bool,
}

#[derive(Serialize)]
struct BarOut<'a> {
    stock: &'a str,
    cuts: Vec<CutOut<'a>>,
}

#[derive(Serialize)]
struct CutOut<'a> {
    item: &'a str,
    len: i64,
}

/// Plans one variant of an instance and gives the layout as JSON with a summary.
///
/// # Errors
/// If the text is no instance, has no such variant, or cannot be planned.
pub fn run(instance: &str, variant: &str, effort: Effort) -> Result<(String, Summary), Error> {
    let read: Instance = serde_json::from_str(instance).map_err(|e| Error::Format(e.to_string()))?;
    let chosen = read
        .variants
        .iter()
        .find(|v| v.id == variant)
        .cloned()
        .ok_or_else(|| Error::Format(format!("there is no variant `{variant}`")))?;
    if read.dim == 1 { run_bars(&read, &chosen, effort) } else { run_sheets(&read, &chosen, effort) }
}

/// The names of the variants of an instance.
///
/// # Errors
/// If the text is no instance.
pub fn variants(instance: &str) -> Result<Vec<String>, Error> {
    let read: Instance = serde_json::from_str(instance).map_err(|e| Error::Format(e.to_string()))?;
    Ok(read.variants.into_iter().map(|v| v.id).collect())
}

fn axis(letter: &str) -> Option<Axis> {
    match letter {
        "h" => Some(Axis::Horizontal),
        "v" => Some(Axis::Vertical),
        _ => None,
    }
}

fn price(read: &Instance, cost: i64) -> i64 {
    if read.objective.as_deref() == Some("cost") { cost } else { 1 }
}

fn sheet_job(read: &Instance, variant: &Variant) -> Job {
    let edge = |trim: &[i64]| {
        let mut edges = trim.iter().copied().chain(std::iter::repeat(0));
        let mut next = || edges.next().unwrap_or(0);
        Trim { left: next(), right: next(), bottom: next(), top: next() }
    };
    let sheets = read
        .stock
        .iter()
        .map(|s| Sheet {
            id: s.id.clone(),
            width: s.w,
            height: s.h,
            count: s.count,
            cost: price(read, s.cost),
            trim: edge(s.trim.as_deref().unwrap_or(&read.trim)),
            rip: read.rip.and_then(|c| axis(&c.to_string())),
        })
        .collect();
    let parts = read
        .items
        .iter()
        .map(|i| {
            let free = match variant.rotate.as_deref() {
                Some("all") => true,
                Some("none") => false,
                _ => i.rotate,
            };
            Part {
                id: i.id.clone(),
                width: i.w,
                height: i.h,
                demand: i.demand,
                grain: if free { Grain::Free } else { Grain::Along },
                group: i.group.clone(),
            }
        })
        .collect();
    let rules = Rules {
        kerf: read.kerf,
        stages: match variant.stages {
            Some(2) => Stages::Two,
            Some(3) => Stages::Three,
            _ => Stages::Free,
        },
        first: variant.first.as_deref().and_then(axis).map_or(First::Any, First::Only),
        trimming: !variant.exact,
        plain: false,
    };
    Job { sheets, parts, rules }
}

const fn proof(proof: Proof) -> &'static str {
    match proof {
        Proof::Area => "area",
        Proof::DualFeasibleFunctions => "dual feasible functions",
        Proof::LinearProgram => "linear program",
    }
}

fn write(layout: &LayoutOut<'_>) -> Result<String, Error> {
    let mut text = serde_json::to_string(layout).map_err(|e| Error::Format(e.to_string()))?;
    text.push('\n');
    Ok(text)
}

fn run_sheets(read: &Instance, variant: &Variant, effort: Effort) -> Result<(String, Summary), Error> {
    let job = sheet_job(read, variant);
    let plan: Plan = super::plan(&job, effort)?;
    let name = |part: usize| job.parts.get(part).map_or("", |p| p.id.as_str());
    let sheets = plan
        .expanded()
        .map(|p| SheetOut {
            stock: job.sheets.get(p.sheet).map_or("", |s| s.id.as_str()),
            parts: p
                .placements()
                .map(|q| PartOut { item: name(q.part), x: q.x, y: q.y, w: q.w, h: q.h, rotated: q.rotated })
                .collect(),
        })
        .collect();
    let text = write(&LayoutOut {
        format: "cutlayout/1",
        instance: &read.id,
        variant: &variant.id,
        sheets: Some(sheets),
        bars: None,
    })?;
    let summary = Summary {
        instance: read.id.clone(),
        variant: variant.id.clone(),
        sheets: plan.sheets,
        objective: plan.cost,
        bound: plan.bound.cost,
        proof: proof(plan.bound.proof),
        settings: plan.settings(),
        moves: plan.fence_moves,
        faults: verify(&job, &plan).iter().map(ToString::to_string).collect(),
        best_known: variant.best,
        bound_known: variant.bound,
    };
    Ok((text, summary))
}

fn run_bars(read: &Instance, variant: &Variant, effort: Effort) -> Result<(String, Summary), Error> {
    let bars = read
        .stock
        .iter()
        .map(|s| Bar {
            id: s.id.clone(),
            length: s.len,
            count: s.count,
            cost: price(read, s.cost),
            trim: s.trim.as_deref().unwrap_or(&read.trim).iter().take(2).sum(),
        })
        .collect();
    let pieces =
        read.items.iter().map(|i| BarPiece { id: i.id.clone(), length: i.len, demand: i.demand }).collect();
    let job = BarJob { bars, pieces, kerf: read.kerf };
    let plan: BarPlan = super::plan_bars(&job, effort)?;
    let mut out = Vec::new();
    let mut lengths = std::collections::BTreeSet::new();
    let mut moves = 0_u64;
    for p in &plan.patterns {
        let mut own = std::collections::BTreeSet::new();
        for piece in p.pieces.iter().filter_map(|&i| job.pieces.get(i)) {
            own.insert(piece.length);
        }
        moves += u64::try_from(own.len()).unwrap_or(0) * p.count;
        lengths.extend(own);
        for _ in 0..p.count {
            out.push(BarOut {
                stock: job.bars.get(p.bar).map_or("", |b| b.id.as_str()),
                cuts: p
                    .pieces
                    .iter()
                    .filter_map(|&i| job.pieces.get(i))
                    .map(|piece| CutOut { item: &piece.id, len: piece.length })
                    .collect(),
            });
        }
    }
    let text = write(&LayoutOut {
        format: "cutlayout/1",
        instance: &read.id,
        variant: &variant.id,
        sheets: None,
        bars: Some(out),
    })?;
    let summary = Summary {
        instance: read.id.clone(),
        variant: variant.id.clone(),
        sheets: plan.bars,
        objective: plan.cost,
        bound: plan.bound.cost,
        proof: proof(plan.bound.proof),
        settings: lengths.len(),
        moves,
        faults: verify_bars(&job, &plan).iter().map(ToString::to_string).collect(),
        best_known: variant.best,
        bound_known: variant.bound,
    };
    Ok((text, summary))
}
