//! Shelves stay straight, at the worse of their two long edges.

use super::helpers::place::length;
use super::helpers::shelf_load::line_load;
use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::eval::Load;
use crate::mechanics::continuous;
use crate::mechanics::published::{LEAST_STIFF_BOARD, LEAST_STIFF_SHEET};
use crate::mechanics::sag::{
    Board, FIRST_DAY_SPAN_OVER, SEEN_SPAN_OVER, STRICT_SPAN_OVER, YEARS_FACTOR, in_years, limit,
    most_on_one_shelf,
};
use crate::mechanics::shelf::{EdgeSag, OutsideFit, Rear, Shelf, Stiffened, Stiffener};
use crate::mechanics::{NEWTONS_PER_KILOGRAM, Units};
use crate::parts::{
    Face, Figure, Finding, Lacking, Limit, Need, Opening, Part, Role, RunId, Stock, StretcherAt,
};
use crate::quantity::{Dim, Estimate, Length, Rational, Round};
use std::collections::BTreeMap;

code!(
    Warning,
    SEEN,
    "C013",
    "sag",
    "a shelf whose sag will be seen",
    "In years a loaded shelf sags about twice as far as on the first day: 2.0 is the factor of NDS 3.5.2 for wood that was loaded \
     unseasoned or wet, taken here for dry sheets too, for caution (seasoned wood has 1.5 there). The eye sees 1/32 in a foot, \
     span/384, along a painted line, and the strict one 0.02 in a foot, span/600 (`sag = strict` of the project; common practice, no source). Each long edge is judged, by the strip before it, the cleat behind \
     and the twist between them (a rule of this program, held against a plate model in its tests); the worse one counts. An \
     estimate.",
    with_example
);

code!(
    Error,
    FIRST_DAY,
    "C014",
    "sag_too_far",
    "a shelf that bends too far on the first day",
    "A shelf may sag span/144 on the first day (Architectural Woodwork Standards 2009, 1.2.21.3.1.1), at the worse of its long edges. \
     The standard says so of shelves that lie loose on supports, and its loads with it; a housed shelf is held to the same, for \
     caution. Here it sags further: it needs a strip, a screwed cleat, or a divider at mid-span. An estimate.",
    with_example
);

/// Every loaded shelf that does not lie on stretchers.
pub(super) const CHECK: Check = Check { codes: &[&SEEN, &FIRST_DAY], run };

/// The twist modulus of plywood of which none is stated: a low value on the safe side (0.085 to 0.11
/// million psi are remembered, not read).
const TWIST_PSI: f64 = 0.075e6;

/// What shelves that are told together have in common: the run, whether the front edge sags more, the span, the sag.
type Alike = (Option<RunId>, bool, u64, u64);

/// A loaded shelf.
struct Loaded<'a> {
    shelf: &'a Part,
    strip: Option<&'a Part>,
    built: Stiffened,
    /// Where dividers carry it from below: its spans between them, from left to right.
    over: Vec<continuous::Span>,
    /// Whether its load is the most that the class has for one shelf.
    at_most: bool,
    /// The stiffnesses that nobody states; the least to be expected stand for them.
    lacks: Vec<Need>,
}

impl Loaded<'_> {
    /// Sag of both long edges on the first day; of a shelf over dividers the deepest of its spans, reckoned as bare.
    fn sag(&self) -> EdgeSag {
        let over = continuous::solve(&self.over, self.built.shelf.bending_stiffness());
        let Some(over) = over else { return self.built.sag() };
        let deepest = over.spans.iter().map(|span| span.largest_deflection).fold(0.0, f64::max);
        EdgeSag { front: deepest, rear: deepest }
    }

    /// What must be known to trust its figures; may be empty.
    fn remark(&self) -> String {
        let over = if self.over.is_empty() {
            outside(&self.built)
        } else {
            "over dividers, reckoned without its strip and cleat".to_owned()
        };
        match (over.is_empty(), self.at_most) {
            (_, false) => over,
            (true, true) => AT_MOST.to_owned(),
            (false, true) => format!("{over}; {AT_MOST}"),
        }
    }
}

/// What is said of a load that the standard holds down.
const AT_MOST: &str = "loaded with 200 lb (90 kg) in all, the most that the standard asks of one shelf";

/// Span over this is what the eye may see in years, as the project asks.
fn seen(subject: &Subject<'_>) -> f64 {
    if subject.model.project.strict { STRICT_SPAN_OVER } else { SEEN_SPAN_OVER }
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    let seen = seen(subject);
    let mut bad: Vec<(bool, Alike, Vec<Loaded<'_>>)> = Vec::new();
    for opening in &subject.graph.openings {
        for loaded in loaded(subject, opening) {
            let span = loaded.built.shelf.span;
            let sag = loaded.sag();
            if !loaded.lacks.is_empty() {
                let years = in_years(sag.worse(), YEARS_FACTOR);
                report.lack(Lacking {
                    code: &SEEN,
                    subject: loaded.shelf.path.clone(),
                    many: "shelves",
                    what: "sag in years",
                    measures: &["sag_front", "sag_rear", "sag_years"],
                    needs: loaded.lacks,
                    matters: years > limit(span, seen),
                });
                continue;
            }
            let length = |value: f64| Figure::about(value, Dim::LENGTH);
            let path = loaded.shelf.path.as_str();
            let years = in_years(sag.worse(), YEARS_FACTOR);
            let edges = [
                ("sag_front", sag.front, "of its front edge on the first day, by the two-edge rule"),
                ("sag_rear", sag.rear, "of its rear edge on the first day, by the two-edge rule"),
                ("sag_years", years, "of its worse edge in years: twice the first day"),
            ];
            let bounds = [
                ("sag_bare", loaded.built.shelf.bare_sag(), "of it on the first day without strip and cleat"),
                (
                    "sag_rigid",
                    loaded.built.rigid_bound(),
                    "of it if shelf, strip and cleat were one rigid piece: a bound, too low",
                ),
                (
                    "sag_unglued",
                    loaded.built.unglued_bound(),
                    "of it if strip and cleat were not glued and it sagged evenly: a bound",
                ),
            ];
            let stiffened = loaded.built.strip.is_some() || loaded.built.rear.cleat().is_some();
            for (name, value, how) in edges.into_iter().chain(bounds.into_iter().filter(|_| stiffened)) {
                report.reckon(path, name, Estimate { value, dim: Dim::LENGTH }, how);
            }
            if let Some(bare) = longest_bare(&loaded.built, seen) {
                let how = "of it bare under this load, at the limit of what is seen in years";
                report.reckon(path, "longest_bare", Estimate { value: bare, dim: Dim::LENGTH }, how);
            }
            let first = Limit::AtMost(length(limit(span, FIRST_DAY_SPAN_OVER)));
            let mut finding =
                Finding::new(&FIRST_DAY, path, "sag on the first day", length(sag.worse()), first);
            finding.remark = loaded.remark();
            let remark = finding.remark.clone();
            let holds = report.compare(finding);
            let eye = Limit::AtMost(length(limit(span, seen)));
            let mut finding = Finding::new(&SEEN, path, "sag in years", length(years), eye);
            finding.remark = remark;
            let unseen = report.compare(finding);
            if holds && unseen {
                continue;
            }
            let key = (loaded.shelf.run, sag.front >= sag.rear, span.to_bits(), years.to_bits());
            match bad.iter_mut().find(|(other, known, _)| *other == holds && *known == key) {
                Some((_, _, shelves)) => shelves.push(loaded),
                None => bad.push((holds, key, vec![loaded])),
            }
        }
    }
    for (holds, _, shelves) in &bad {
        tell(subject, report, *holds, shelves);
    }
}

/// The shelf that an opening stands on, and the loose shelves in it, as far as they are loaded and their wood is known.
fn loaded<'a>(subject: &Subject<'a>, opening: &Opening) -> Vec<Loaded<'a>> {
    let Some(load) = opening.load.filter(|_| !opening.divided && opening.under.is_some()) else {
        return Vec::new();
    };
    let mut all = Vec::new();
    let on = subject.graph.part(opening.on);
    let own = on.filter(|shelf| {
        // At the ends of the sides it lies on the floor or on a plinth.
        let lies = shelf.place.z.value.is_zero() || on_stretchers(subject, shelf);
        !opening.lowest && !lies
    });
    if let Some(shelf) = own {
        let over = over_dividers(subject, opening);
        let strip = subject.graph.fixed_to(shelf.id, Role::Strip);
        let cleat = subject.graph.fixed_to(shelf.id, Role::Cleat);
        let rear = cleat.map(|cleat| (cleat, subject.to_wall(cleat.id).map_or(0, |row| row.count)));
        let span = over.iter().copied().max().unwrap_or(opening.clear_width.value);
        let loaded = stiffened(subject, shelf, span, load, (strip, rear));
        all.extend(loaded.map(|loaded| {
            let line_load = loaded.built.shelf.line_load;
            let spans = over.iter().map(|length| continuous::Span { length: length.to_mm_f64(), line_load });
            Loaded { over: spans.collect(), ..loaded }
        }));
    }
    for shelf in subject.loose_in(opening) {
        let strip = subject.graph.fixed_to(shelf.id, Role::LooseStrip);
        all.extend(stiffened(subject, shelf, opening.clear_width.value, load, (strip, None)));
    }
    all
}

/// Whether the bottom shelf lies on a stretcher.
fn on_stretchers(subject: &Subject<'_>, shelf: &Part) -> bool {
    let Some(unit) = shelf.unit else { return false };
    subject.graph.parts_of(unit).any(|part| {
        part.role == Role::Stretcher(StretcherAt::Bottom, Face::Front)
            && part.place.z.value.checked_add(part.size.width.value) == Some(shelf.place.z.value)
    })
}

/// The clear widths of the bays whose dividers carry the shelf from below, from left to right; none where none do.
fn over_dividers(subject: &Subject<'_>, opening: &Opening) -> Vec<Length> {
    let below = subject.graph.divided.iter().find(|divided| {
        let own = subject.graph.openings.get(divided.opening.0 as usize);
        divided.unit == opening.unit && own.is_some_and(|own| own.under == Some(opening.on))
    });
    below.map(|below| below.bays.iter().map(|bay| bay.clear.value).collect()).unwrap_or_default()
}

/// The longest bare shelf under its load whose sag in years stays under span over `seen`; `None` of one that has a strip or a cleat.
fn longest_bare(built: &Stiffened, seen: f64) -> Option<f64> {
    if built.strip.is_some() || !matches!(built.rear, Rear::Bare) {
        return None;
    }
    let Shelf { modulus, thickness, line_load, depth, .. } = built.shelf;
    let bare = Board { modulus, thickness }.longest_bare(line_load / depth, YEARS_FACTOR * seen);
    bare.is_finite().then_some(bare)
}

fn stiffened<'a>(
    subject: &Subject<'a>,
    shelf: &'a Part,
    span: Length,
    load: Load,
    (strip, cleat): (Option<&'a Part>, Option<(&'a Part, usize)>),
) -> Option<Loaded<'a>> {
    let Stock::Sheet(id) = shelf.stock else { return None };
    let sheet = subject.graph.sheet(id)?;
    let units = Units::MILLIMETRE_NEWTON;
    let mut lacks = Vec::new();
    let modulus = sheet.stiffness.map_or_else(
        || {
            lacks.push(Need::of("stiffness", &sheet.name));
            LEAST_STIFF_SHEET
        },
        |stiffness| stiffness.value * NEWTONS_PER_KILOGRAM,
    );
    let twist_modulus =
        sheet.twist.map_or(TWIST_PSI * units.psi(), |twist| twist.value * NEWTONS_PER_KILOGRAM);
    let [depth, thickness] = [shelf.size.width, shelf.size.thickness].map(|len| len.value.to_mm_f64());
    let mut stiffener = |part: &Part| {
        let [thickness, height] = [part.size.thickness, part.size.width].map(|len| len.value.to_mm_f64());
        let (name, stiffness, least) = match part.stock {
            Stock::Board(board) => {
                let board = subject.graph.boards.get(board)?;
                (&board.name, board.stiffness, LEAST_STIFF_BOARD)
            }
            Stock::Sheet(id) => {
                let sheet = subject.graph.sheet(id)?;
                (&sheet.name, sheet.stiffness, LEAST_STIFF_SHEET)
            }
        };
        let modulus = stiffness.map_or(least, |stiffness| stiffness.value * NEWTONS_PER_KILOGRAM);
        lacks.extend(stiffness.is_none().then(|| Need::of("stiffness", name)));
        Some(Stiffener { thickness, height, modulus })
    };
    let front = strip.map_or(0.0, |strip| strip.size.thickness.value.to_mm_f64());
    let span = span.to_mm_f64();
    let line_load = line_load(load, span, depth, front) * NEWTONS_PER_KILOGRAM;
    let rear = match cleat.and_then(|(cleat, screws)| Some((stiffener(cleat)?, screws))) {
        Some((cleat, screws)) if screws >= 2 => Rear::Screwed(cleat),
        Some((cleat, _)) => Rear::Cleat(cleat),
        None => Rear::Bare,
    };
    let shelf_of = Shelf { span, depth, thickness, modulus, twist_modulus, line_load };
    let built = Stiffened { shelf: shelf_of, strip: strip.and_then(stiffener), rear };
    lacks.sort();
    lacks.dedup();
    let most = most_on_one_shelf(&units) / span;
    let at_most = !matches!(load, Load::Line(_)) && line_load >= most * (1.0 - 1e-9);
    Some(Loaded {
        shelf,
        strip: strip.filter(|_| built.strip.is_some()),
        built,
        over: Vec::new(),
        at_most,
        lacks,
    })
}

/// What lies outside the range in which the rule was fitted; empty where nothing does.
fn outside(built: &Stiffened) -> String {
    let bare = built.strip.is_none() && matches!(built.rear, Rear::Bare);
    let words =
        built.outside_fit(&Units::MILLIMETRE_NEWTON).into_iter().filter(|_| !bare).map(|what| match what {
            OutsideFit::Span => "span",
            OutsideFit::Depth => "depth",
            OutsideFit::Strip => "strip",
            OutsideFit::Cleat => "cleat",
            OutsideFit::Modulus => "stiffness",
            OutsideFit::TwistModulus => "twist",
        });
    let words: Vec<&str> = words.collect();
    if words.is_empty() { String::new() } else { format!("outside the rule's range: {}", words.join(", ")) }
}

fn tell(subject: &Subject<'_>, report: &mut Report, holds: bool, shelves: &[Loaded<'_>]) {
    let Some(first) = shelves.first() else { return };
    let (sag, seen) = (first.sag(), seen(subject));
    let (code, span_over, when) =
        if holds { (&SEEN, seen, "in years") } else { (&FIRST_DAY, FIRST_DAY_SPAN_OVER, "on the first day") };
    let worse = if holds { in_years(sag.worse(), YEARS_FACTOR) } else { sag.worse() };
    let most = limit(first.built.shelf.span, span_over);
    let say = |value: f64| Figure::about(value, Dim::LENGTH).print(subject.marks(), Round::Nearest);
    let front = sag.front >= sag.rear;
    let edge = if (sag.front - sag.rear).abs() <= 1e-9 * sag.worse() {
        "shelf"
    } else if front {
        "front edge"
    } else {
        "rear edge"
    };
    let of = match shelves {
        [one] => format!("`{}`", one.shelf.path),
        [_, _] => format!("`{}` and 1 more shelf", first.shelf.path),
        many => format!("`{}` and {} more shelves", first.shelf.path, many.len() - 1),
    };
    let what = if edge == "shelf" { of } else { format!("the {edge} of {of}") };
    let sags = if edge == "shelf" && shelves.len() > 1 { "sag" } else { "sags" };
    let message = format!("{what} {sags} {} {when}, over span/{span_over} = {}", say(worse), say(most));
    let mut diagnostic = Diagnostic::new(code, message);
    if let Some(strip) = first.strip.filter(|_| front) {
        diagnostic = subject.at(diagnostic, strip.size.width, "the strip");
    }
    let heads: BTreeMap<&str, _> = shelves
        .iter()
        .filter_map(|loaded| {
            let standing = subject.units().get(loaded.shelf.unit?.0 as usize)?;
            Some((standing.unit.path.as_str(), standing.unit.head))
        })
        .collect();
    for head in heads.values() {
        diagnostic = subject.at_head(diagnostic, *head, "");
    }
    for loaded in shelves {
        diagnostic = diagnostic.about(loaded.shelf.path.as_str());
    }
    let units: Vec<&str> = heads.keys().copied().collect();
    if shelves.len() > 1 {
        diagnostic = diagnostic.note(format!("of {}", names(&units)));
    }
    let remark = if first.over.is_empty() { outside(&first.built) } else { String::new() };
    if !remark.is_empty() {
        diagnostic = diagnostic.note(format!("{remark}; the figure is a guess there"));
    }
    let mut helps = Vec::new();
    let passes =
        |built: &Stiffened| in_years(built.sag().worse(), YEARS_FACTOR) <= limit(built.shelf.span, seen);
    if let (Some(strip), Some(height)) =
        (first.strip, first.strip.and_then(|_| least_strip(subject, &first.built, &passes)))
    {
        let built = higher(&first.built, height.to_mm_f64());
        let then = say(in_years(built.sag().worse(), YEARS_FACTOR));
        let fix = subject.change(strip.size.width, height, "make the strip {}", true);
        helps.push((format!("a strip {} high sags {then} in years", subject.print(height)), fix));
    }
    if sag.rear >= sag.front && first.shelf.role != Role::Loose {
        let help = match first.built.rear {
            Rear::Bare => Some("hang a cleat under its rear edge and screw it to two studs or plugs"),
            Rear::Cleat(_) => {
                Some("screw its cleat to two studs or plugs: then the rear edge stays where it is")
            }
            Rear::Screwed(_) => None,
        };
        helps.extend(help.map(|help| (help.to_owned(), None)));
    }
    let mut narrower = first.built;
    narrower.shelf.span /= 2.0;
    if passes(&narrower) {
        let or = if helps.is_empty() { "" } else { "or " };
        helps.push((format!("{or}stand a divider at mid-span"), None));
    }
    if let Some(bare) = longest_bare(&first.built, seen).and_then(length) {
        helps.push((
            format!("bare, a shelf of this sheet may be {} long under this load", subject.most(bare)),
            None,
        ));
    }
    if helps.is_empty() {
        helps.push(("take a thicker or stiffer sheet, or let lighter things stand there".to_owned(), None));
    }
    let mut mends = Vec::new();
    for (help, fix) in helps {
        diagnostic = diagnostic.help(help);
        mends.extend(fix);
    }
    report.tell_with(diagnostic, mends);
}

fn higher(built: &Stiffened, height: f64) -> Stiffened {
    Stiffened { strip: built.strip.map(|strip| Stiffener { height, ..strip }), ..*built }
}

/// The least strip, in steps of the trade, with which the worse edge stays under what is seen; `None` up to 2 1/2 in.
fn least_strip(
    subject: &Subject<'_>,
    built: &Stiffened,
    passes: &dyn Fn(&Stiffened) -> bool,
) -> Option<Length> {
    let step = subject.step();
    let strips = (1..=20_i128).filter_map(|times| step.checked_mul(Rational::from(times)));
    let now = built.strip?.height;
    strips
        .filter(|height| height.to_mm_f64() > now && height.to_mm_f64() <= 63.5)
        .find(|height| passes(&higher(built, height.to_mm_f64())))
}
