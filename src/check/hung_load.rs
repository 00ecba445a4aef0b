//! The screws of a unit that hangs hold it with all that stands on it.

use super::helpers::carried::load_of;
use super::{Check, Report, Subject, one_of};
use crate::diag::{Diagnostic, code};
use crate::eval::{Fastener as Screw, Fixing, Wall};
use crate::mechanics::fastener::{
    Driven, FULL_SCREW_PENETRATION, Fastener, LEAST_GAUGE, LIGHTEST_SOFTWOOD, Wood, lateral_load,
    screw_diameter,
};
use crate::mechanics::{NEWTONS_PER_KILOGRAM, Units};
use crate::parts::{Figure, Finding, HungPart, Lacking, Limit, Member, Need, Row, RowKind, Unit};
use crate::quantity::{Dim, Length, Round, some};

code!(
    Error,
    ROWS,
    "C134",
    "hung_rows",
    "a unit that hangs and is not screwed on at its top and at its bottom",
    "What hangs is screwed to the wall in two rows or more, one near its top and one at its bottom: under one row alone it swings and the \
     row pries. Where both sides are screwed to the units beside it, one row is enough (common practice, no source).",
    with_example
);

code!(
    Error,
    HOLD,
    "C135",
    "hung_screws",
    "a unit that is more than the screws it hangs on hold",
    "All that it weighs and carries pulls its screws down, and pries at the highest row: half its depth before the wall, about its bottom \
     edge. Across the grain a screw carries K D^2 at its proportional limit, full where 7 diameters of it are in the wood; out of it a fifth \
     of what draws it (Wood Handbook, FPL-GTR-282, Eq. 8-13, 8-10 and Table 8-4, in the lightest softwoods; the fifth is common practice, no \
     source). The two shares are added, which is on the safe side. An estimate; the local code decides.",
    with_example
);

/// A fifth of what draws a screw may be asked of it (common practice, no source; the local code decides).
const SAFE_SHARE: f64 = 0.2;

/// The heaviest screw that is offered in place of one (common practice, no source).
const MOST_GAUGE: u32 = 14;

/// More screws than these stand in no row.
const MOST: usize = 40;

/// Every unit that hangs.
pub(super) const CHECK: Check = Check { codes: &[&ROWS, &HOLD], run };

/// What a screw holds across its grain and out of it, in kilograms.
#[derive(Clone, Copy)]
struct Holds {
    across: f64,
    out: f64,
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    for run in &subject.graph.runs {
        let Some(wall) = run.wall.and_then(|wall| subject.model.walls.get(wall)) else { continue };
        for hung in &run.hung {
            let Some(unit) = subject.graph.unit(hung.unit) else { continue };
            let rows: Vec<&Row> = subject.wall_rows(hung.unit).collect();
            let known = !wall.studs.is_empty() || wall.fixing == Fixing::Masonry || !wall.blocking.is_empty();
            // Where no stud is read and nothing else is known behind the wall, `studs` says so.
            if (rows.is_empty() || known) && rows_hold(subject, report, (hung, unit), &rows) {
                screws_hold(subject, report, (hung, unit, wall), &rows);
            }
        }
    }
}

/// The rows from a unit that hangs into the units beside it.
fn beside<'a>(subject: &Subject<'a>, hung: &HungPart) -> Vec<&'a Row> {
    let own = Member::Unit(hung.unit);
    let seams = subject.graph.rows.iter().filter(|row| row.kind == RowKind::Seam);
    seams.filter(|row| row.guest == own || row.host == own).collect()
}

fn rows_hold(
    subject: &Subject<'_>,
    report: &mut Report,
    (hung, unit): (&HungPart, &Unit),
    rows: &[&Row],
) -> bool {
    let driven = rows.iter().filter(|row| row.count > 0).count();
    let sides = beside(subject, hung).len();
    // One row holds where both sides are held too.
    let counted = driven.saturating_add(usize::from(driven > 0 && sides == 2));
    let what = "rows of screws that hold a unit that hangs";
    let limit = Limit::AtLeast(2_usize.into());
    if report.compare(Finding::new(&ROWS, unit.path.as_str(), what, counted, limit)) {
        return true;
    }
    let message = match driven {
        0 => format!("nothing holds `{}` to the wall that it hangs on", unit.path),
        _ => format!("`{}` hangs on one row of screws", unit.path),
    };
    let told = subject.at_head(Diagnostic::new(&ROWS, message), unit.head, "").about(unit.path.as_str());
    let ways = [
        Some("give it a `cleat` under its shelves and a `stretcher bottom` with `at = [rear]`, before studs or `blocking`".to_owned()),
        (driven > 0 && hung.beside.iter().all(Option::is_some))
            .then(|| "screw its sides to the units beside it: `join unit to unit with butt { screw = .. }`".to_owned()),
    ];
    report.tell(told.help(one_of(ways)));
    false
}

fn holds(gauge: u32, grip: Length) -> Option<Holds> {
    let units = Units::MILLIMETRE_NEWTON;
    let diameter = screw_diameter(gauge, &units);
    let penetration = grip.to_mm_f64().max(0.0);
    let held = (penetration / (FULL_SCREW_PENETRATION * diameter)).min(1.0);
    let full = lateral_load(Wood::Softwood, Fastener::WoodScrew, LIGHTEST_SOFTWOOD, diameter, &units)?;
    let driven = Driven { specific_gravity: LIGHTEST_SOFTWOOD, diameter, penetration };
    let out = SAFE_SHARE * driven.screw_withdrawal(&units);
    Some(Holds { across: held * full / NEWTONS_PER_KILOGRAM, out: out / NEWTONS_PER_KILOGRAM })
}

fn gauge(screw: Option<&Screw>) -> u32 {
    screw.and_then(|screw| screw.gauge).unwrap_or(LEAST_GAUGE)
}

/// What the screws into the units beside it carry across their grain, in kilograms: as deep as they stand in the other side.
fn sides_carry(subject: &Subject<'_>, hung: &HungPart) -> f64 {
    let side = |member: Member| match member {
        Member::Unit(id) => Some(subject.graph.sheet(subject.graph.unit(id)?.sheet)?.thickness.value),
        Member::Part(_) | Member::Wall(_) => None,
    };
    let rows = beside(subject, hung);
    let carry = rows.iter().filter_map(|row| {
        let screw = subject.graph.fasteners.get(row.fastener?)?;
        let grip = screw.length?.value.checked_sub(side(row.guest)?)?.min(side(row.host)?);
        Some(row.count as f64 * holds(gauge(Some(screw)), grip)?.across)
    });
    carry.sum()
}

/// A row of screws into the wall.
struct Held {
    /// Its middle over the foot of the unit, in millimetres.
    lever: f64,
    count: usize,
    gauge: u32,
    /// How deep its screws stand in the wood.
    grip: Length,
}

/// What a unit hangs on.
struct Hangs {
    rows: Vec<Held>,
    /// What the screws into the units beside it carry, in kilograms.
    sides: f64,
    /// Half its depth, in millimetres.
    arm: f64,
}

impl Hangs {
    /// The most that it may weigh, in kilograms, where its rows have such counts and gauges.
    fn most(&self, as_if: impl Fn(&Held) -> (usize, u32)) -> f64 {
        let holds = |row: &Held| {
            let (count, gauge) = as_if(row);
            let one = holds(gauge, row.grip)?;
            Some(Holds { across: one.across * count as f64, out: one.out * count as f64 })
        };
        let across = self.sides + self.rows.iter().filter_map(holds).map(|row| row.across).sum::<f64>();
        // About the bottom edge, half of the depth before the wall: the highest row takes all of that.
        let highest = self.rows.iter().max_by(|a, b| a.lever.total_cmp(&b.lever));
        let Some((lever, out)) = highest.and_then(|row| Some((row.lever.max(1.0), holds(row)?.out))) else {
            return 0.0;
        };
        if across > 0.0 && out > 0.0 { 1.0 / (1.0 / across + self.arm / lever / out) } else { 0.0 }
    }
}

fn screws_hold(
    subject: &Subject<'_>,
    report: &mut Report,
    (hung, unit, wall): (&HungPart, &Unit, &Wall),
    rows: &[&Row],
) {
    let what = "weight of a unit that hangs, with what stands on it";
    let path = unit.path.as_str();
    let (weight, mut needs) = load_of(subject, hung.unit);
    let screw = |row: &Row| row.fastener.and_then(|index| subject.graph.fasteners.get(index));
    let rows: Vec<&&Row> = rows.iter().filter(|row| row.count > 0).collect();
    needs.extend(wall.lining.is_none().then(|| Need::of("lining", &wall.name)));
    for row in &rows {
        match screw(row) {
            Some(screw) => needs.extend(screw.length.is_none().then(|| Need::of("length", &screw.name))),
            None => needs.push(Need::kind("screw")),
        }
    }
    needs.sort();
    needs.dedup();
    let Some(weight) = weight.filter(|_| needs.is_empty()) else {
        report.lack(Lacking {
            code: &HOLD,
            subject: path.to_owned(),
            many: "units that hang",
            what,
            measures: &[],
            needs,
            matters: true,
        });
        return;
    };
    let value = Figure::about(weight, Dim::WEIGHT);
    if wall.fixing == Fixing::Masonry {
        let mut finding = Finding::new(&HOLD, path, what, value, Limit::Unknown);
        finding.remark = "in masonry the maker of the plugs says what each holds".to_owned();
        report.compare(finding);
        return;
    }
    let foot = unit.stands.map_or(Length::ZERO, |stands| stands.value);
    let held = |row: &&&Row| {
        let [low, high] = subject.graph.bounds(subject.graph.part(row.guest.part()?)?)?[2];
        let lever = low.checked_add(high)?.to_mm_f64() / 2.0 - foot.to_mm_f64();
        let grip = subject.graph.grip(row, wall)?;
        Some(Held { lever, count: row.count, gauge: gauge(screw(row)), grip })
    };
    let hangs = Hangs {
        rows: rows.iter().filter_map(held).collect(),
        sides: sides_carry(subject, hung),
        arm: unit.depth.value.to_mm_f64() / 2.0,
    };
    let limit = Figure::about(hangs.most(|row| (row.count, row.gauge)), Dim::WEIGHT);
    let least = (2..=MOST).find(|each| weight <= hangs.most(|row| (*each, row.gauge)));
    let in_rows = some(hangs.rows.len(), "row");
    let needed = least.map(|each| format!("{} in each of its {in_rows}", some(each, "screw")));
    let mut finding = Finding::new(&HOLD, path, what, value, Limit::AtMost(limit));
    finding.remark = match &needed {
        Some(needed) => format!("{needed} hold it"),
        None => "no number of such screws holds it".to_owned(),
    };
    if report.compare(finding) {
        return;
    }
    let [value, limit] = [value, limit].map(|figure| figure.print(subject.marks(), Round::Nearest));
    let all: usize = hangs.rows.iter().map(|row| row.count).sum();
    let message = format!("`{path}` pulls with {value} at its {}, and they hold {limit}", some(all, "screw"));
    let told = subject.at_head(Diagnostic::new(&HOLD, message), unit.head, "").about(path);
    let heavier = (LEAST_GAUGE..=MOST_GAUGE)
        .find(|gauge| weight <= hangs.most(|row| (row.count, row.gauge.max(*gauge))));
    let ways = [
        needed.map(|needed| format!("let {needed} hold it, in `blocking` behind them")),
        heavier.map(|gauge| format!("take heavier screws (`gauge = {gauge}` or more)")),
        Some("load it less".to_owned()),
    ];
    report.tell(told.help(one_of(ways)));
}
