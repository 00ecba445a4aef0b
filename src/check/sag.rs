//! Shelves stay straight, at the worse of their two long edges.

use super::helpers::dividers::{Carriers, carriers, front_carried, lies, load_on, spans, stretcher_under};
use super::helpers::place::length;
use super::helpers::shelf_load::line_load;
use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, Fix, code};
use crate::eval::{Len, Load, Run};
use crate::mechanics::continuous;
use crate::mechanics::published::{LEAST_STIFF_BOARD, LEAST_STIFF_SHEET};
use crate::mechanics::sag::{
    Board, FIRST_DAY_SPAN_OVER, SEEN_SPAN_OVER, STRICT_SPAN_OVER, YEARS_FACTOR, in_years, limit,
    most_on_one_shelf,
};
use crate::mechanics::shelf::{EdgeSag, OutsideFit, Rear, Shelf, Stiffened, Stiffener};
use crate::mechanics::{NEWTONS_PER_KILOGRAM, Units};
use crate::parts::{Face, Figure, Finding, How, Lacking, Limit, Need, Opening, Part, Role, RunId, Stock};
use crate::quantity::{Dim, Estimate, Length, Rational, Round};
use crate::source::Span;
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
     and the twist between them (a rule of this program, held against a plate model in its tests); the worse one counts. A divider \
     carries the shelf over it where it stands on one that lies on the floor, on a plinth or on stretchers, or right over another divider \
     that does. An estimate.",
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
    clear: Len,
    load: Load,
    /// The cleat that hangs under it, and by how many screws that is held to the wall.
    cleat: Option<(&'a Part, bool)>,
    strip: Option<&'a Part>,
    built: Stiffened,
    /// Whether a stretcher, or a rail that stands on the floor, carries its front edge.
    front_carried: bool,
    /// Whether it is the lowest one, which has no cleat and may lie on stretchers.
    lowest: bool,
    /// Where dividers carry it from below: its spans between them in millimetres, from left to right.
    over: Vec<f64>,
    /// Whether its load is the most that the class has for one shelf.
    at_most: bool,
    /// Span over this is what the eye may see in years, as the project asks.
    seen: f64,
    /// The stiffnesses that nobody states; the least to be expected stand for them.
    lacks: Vec<Need>,
}

impl Loaded<'_> {
    /// Sag of both long edges on the first day.
    fn sag(&self) -> EdgeSag {
        self.with(&self.built)
    }

    /// What must be known to trust its figures; may be empty.
    fn remark(&self) -> String {
        let mut over = outside(&self.built);
        if !self.over.is_empty() {
            let and = if over.is_empty() { "" } else { "; " };
            over = format!("over dividers{and}{over}");
        }
        match (over.is_empty(), self.at_most) {
            (_, false) => over,
            (true, true) => AT_MOST.to_owned(),
            (false, true) => format!("{over}; {AT_MOST}"),
        }
    }

    /// The sag of the same shelf, built in another way.
    fn with(&self, built: &Stiffened) -> EdgeSag {
        self.over(built, &self.over)
    }

    /// The sag of the same shelf, built in another way and carried from below between these spans. Of one over dividers it is that of a bare
    /// beam over all of them, or of its longest span alone with strip and cleat: both sag more than the shelf does, so the less counts.
    fn over(&self, built: &Stiffened, over: &[f64]) -> EdgeSag {
        let alone = if self.front_carried { built.sag_with_front_carried() } else { built.sag() };
        let line_load = built.shelf.line_load;
        let spans: Vec<_> =
            over.iter().map(|length| continuous::Span { length: *length, line_load }).collect();
        let Some(beam) = continuous::solve(&spans, built.shelf.bending_stiffness()) else { return alone };
        let deepest = beam.spans.iter().map(|span| span.largest_deflection).fold(0.0, f64::max);
        EdgeSag { front: alone.front.min(deepest), rear: alone.rear.min(deepest) }
    }

    /// Whether it is told nothing of, built so.
    fn passes(&self, built: &Stiffened) -> bool {
        self.passes_over(built, &self.over)
    }

    fn passes_over(&self, built: &Stiffened, over: &[f64]) -> bool {
        let worse = self.over(built, over).worse();
        in_years(worse, YEARS_FACTOR) <= limit(built.shelf.span, self.seen)
            && worse <= limit(built.shelf.span, FIRST_DAY_SPAN_OVER)
    }

    /// Whether it is told nothing of with a divider in the middle of each of its longest spans.
    fn passes_divided(&self) -> bool {
        let Stiffened { shelf, strip, .. } = self.built;
        let now = if self.over.is_empty() { vec![shelf.span] } else { self.over.clone() };
        let halves = now.into_iter().flat_map(|span| {
            let half = (span - shelf.thickness) / 2.0;
            if span < shelf.span * (1.0 - 1e-9) { vec![span] } else { vec![half; 2] }
        });
        let over: Vec<f64> = halves.collect();
        let mut built = self.built;
        built.shelf.span = over.iter().copied().fold(0.0, f64::max);
        let front = strip.map_or(0.0, |strip| strip.thickness);
        built.shelf.line_load =
            line_load(self.load, built.shelf.span, shelf.depth, front) * NEWTONS_PER_KILOGRAM;
        // A loose shelf becomes two.
        let over = if self.shelf.role == Role::Loose { Vec::new() } else { over };
        built.shelf.span > 0.0 && self.passes_over(&built, &over)
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
    let carriers = carriers(subject);
    for opening in &subject.graph.openings {
        for loaded in loaded(subject, &carriers, opening) {
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
            let stiffened = stiffened && loaded.over.is_empty();
            for (name, value, rule) in edges.into_iter().chain(bounds.into_iter().filter(|_| stiffened)) {
                report.reckon(path, name, Estimate { value, dim: Dim::LENGTH }, how(subject, &loaded, rule));
            }
            if let Some(bare) = longest_bare(&loaded) {
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
fn loaded<'a>(subject: &Subject<'a>, carriers: &Carriers<'_>, opening: &Opening) -> Vec<Loaded<'a>> {
    let shelf = subject.graph.part(opening.on).filter(|_| opening.used);
    let Some(shelf) = shelf else { return Vec::new() };
    let Some(load) = load_on(subject, opening, shelf.size.width.value.to_mm_f64()) else { return Vec::new() };
    let whole = opening.clear_width.value.to_mm_f64();
    let mut all = Vec::new();
    // The floor of a bay is that of all bays beside it.
    if !opening.lowest && !lies(subject, shelf) {
        let over = spans(subject, carriers, shelf.id);
        let span = over.iter().copied().reduce(f64::max).unwrap_or(whole);
        let strip = subject.graph.fixed_to(shelf.id, Role::Strip);
        let cleat = subject.graph.fixed_to(shelf.id, Role::Cleat);
        let rear = match cleat {
            Some(cleat) => Some((cleat, screwed(subject, cleat))),
            None => stretcher_under(subject, shelf, Face::Rear).map(|stretcher| (stretcher, true)),
        };
        let mut stiff = stiffened(subject, shelf, (opening.clear_width, span), load, (strip, rear));
        // A stretcher carries the edge and stiffens nothing.
        if let (None, Some(stiff)) = (cleat, &mut stiff)
            && let Rear::Screwed(stretcher) = &mut stiff.built.rear
        {
            stretcher.height = 0.0;
        }
        let lowest = subject.openings_of(opening.unit).first().is_some_and(|first| first.on == opening.on);
        let front_carried = front_carried(subject, shelf);
        all.extend(stiff.map(|stiff| Loaded { front_carried, lowest, over, ..stiff }));
    }
    for shelf in subject.loose_in(opening) {
        let strip = subject.graph.fixed_to(shelf.id, Role::LooseStrip);
        all.extend(stiffened(subject, shelf, (opening.clear_width, whole), load, (strip, None)));
    }
    all
}

/// Whether a cleat is screwed to two studs or plugs: only what a join states is driven.
fn screwed(subject: &Subject<'_>, cleat: &Part) -> bool {
    subject.to_wall(cleat.id).is_some_and(|row| row.count >= 2 && row.fastener.is_some())
}

/// The longest bare shelf under its load whose sag in years is not seen; `None` of one that has a strip or a cleat.
fn longest_bare(loaded: &Loaded<'_>) -> Option<f64> {
    let built = &loaded.built;
    let carried = loaded.front_carried || !loaded.over.is_empty();
    if built.strip.is_some() || carried || !matches!(built.rear, Rear::Bare) {
        return None;
    }
    let Shelf { modulus, thickness, line_load, depth, .. } = built.shelf;
    let bare = Board { modulus, thickness }.longest_bare(line_load / depth, YEARS_FACTOR * loaded.seen);
    bare.is_finite().then_some(bare)
}

fn stiffened<'a>(
    subject: &Subject<'a>,
    shelf: &'a Part,
    (clear, span): (Len, f64),
    load: Load,
    (strip, cleat): (Option<&'a Part>, Option<(&'a Part, bool)>),
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
    let line_load = line_load(load, span, depth, front) * NEWTONS_PER_KILOGRAM;
    let rear = match cleat.and_then(|(cleat, screwed)| Some((stiffener(cleat)?, screwed))) {
        Some((cleat, true)) => Rear::Screwed(cleat),
        Some((cleat, false)) => Rear::Cleat(cleat),
        None => Rear::Bare,
    };
    let shelf_of = Shelf { span, depth, thickness, modulus, twist_modulus, line_load };
    let built = Stiffened { shelf: shelf_of, strip: strip.and_then(stiffener), rear };
    lacks.sort();
    lacks.dedup();
    let strip = strip.filter(|_| built.strip.is_some());
    let most = most_on_one_shelf(&units) / span;
    Some(Loaded {
        shelf,
        clear,
        cleat,
        strip,
        built,
        load,
        front_carried: false,
        lowest: false,
        over: Vec::new(),
        at_most: !matches!(load, Load::Line(_)) && line_load >= most * (1.0 - 1e-9),
        seen: seen(subject),
        lacks,
    })
}

/// How the sag of a shelf is reckoned: what goes into it, and where that stands.
fn how(subject: &Subject<'_>, loaded: &Loaded<'_>, rule: &'static str) -> How {
    let shelf = loaded.shelf;
    let class = match loaded.load {
        Load::Books => {
            "books, 50 lb/sq ft (244 kg/m2) of its depth with the strip, 200 lb (90.7 kg) a shelf at most"
        }
        Load::Other => {
            "other things, 40 lb/sq ft (195 kg/m2) of its depth with the strip, 200 lb (90.7 kg) a shelf at most"
        }
        Load::Line(_) => "as stated for the length",
    };
    let line = loaded.built.shelf.line_load / NEWTONS_PER_KILOGRAM;
    let how = How::from(rule);
    let how = if loaded.over.is_empty() {
        how.length("span", loaded.clear)
    } else {
        let spans = loaded.over.iter().filter_map(|span| length(*span)).map(|span| subject.print(span));
        how.words("spans over dividers", spans.collect::<Vec<_>>().join(", ")).assuming(
            "over dividers: the less of what a bare beam sags over all of them (three-moment equations) and of what its longest span sags \
             alone; dividers do not give",
        )
    };
    let mut how = how
        .length("depth of the shelf", shelf.size.width)
        .length("thickness of the shelf", shelf.size.thickness);
    how = elastic(subject, how, shelf);
    how = match twist(subject, shelf) {
        Some((name, value, head)) => how.estimate(&name, value, head),
        None => how.assuming("a twist modulus of 0.075 million psi (0.52 kN/mm2): none is stated, and 0.085 to 0.11 are remembered"),
    };
    how = how.words("load", class).estimate(
        "load on the length",
        Estimate { value: line, dim: Dim::LINE_LOAD },
        None,
    );
    if let Some(strip) = loaded.strip {
        how = how
            .length("thickness of the strip", strip.size.thickness)
            .length("height of the strip", strip.size.width);
        how = elastic(subject, how, strip);
    }
    if let Some((cleat, screwed)) = loaded.cleat {
        let held = if screwed {
            "held to the wall: the rear edge stays where it is"
        } else {
            "not held to the wall by two screws or plugs: it only stiffens the edge"
        };
        how = how
            .length("thickness of the cleat", cleat.size.thickness)
            .length("height of the cleat", cleat.size.width)
            .words("cleat", held);
    }
    how.assuming("housed ends turn as if they lay loose; the load is even")
        .assuming("years: 2.0 times the first day, the factor of NDS 3.5.2 for wood loaded wet, for caution (seasoned 1.5)")
        .by(
            "two edge beams, 5 w L^4 / (384 E I) each, tied by the plate's twist: a rule of this program, on the safe side of a plate model \
             in its tests; loads and span/144 from the Architectural Woodwork Standards 2009, 1.2.21",
        )
}

/// With the stiffness of what a part is cut from.
fn elastic(subject: &Subject<'_>, how: How, part: &Part) -> How {
    let stock = match part.stock {
        Stock::Sheet(id) => subject.graph.sheet(id).map(|sheet| (sheet.stiffness, sheet.head)),
        Stock::Board(index) => subject.graph.boards.get(index).map(|board| (board.stiffness, None)),
    };
    match stock {
        Some((Some(stiffness), head)) => {
            how.estimate(&format!("E of `{}`", subject.graph.stock_name(part.stock)), stiffness, head)
        }
        _ => how,
    }
}

/// The twist modulus that the sheet of a shelf states.
fn twist(subject: &Subject<'_>, shelf: &Part) -> Option<(String, Estimate, Option<Span>)> {
    let Stock::Sheet(id) = shelf.stock else { return None };
    let sheet = subject.graph.sheet(id)?;
    Some((format!("G of `{}`", sheet.name), sheet.twist?, sheet.head))
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
    let sag = first.sag();
    let (code, span_over, when) = if holds {
        (&SEEN, first.seen, "in years")
    } else {
        (&FIRST_DAY, FIRST_DAY_SPAN_OVER, "on the first day")
    };
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
    let remark = outside(&first.built);
    if !remark.is_empty() {
        diagnostic = diagnostic.note(format!("{remark}; the figure is a guess there"));
    }
    let (helps, mends) = ways(subject, (first, shelves), &say);
    let diagnostic = helps.into_iter().fold(diagnostic, Diagnostic::help);
    report.tell_with(diagnostic, mends);
}

/// What keeps a shelf straight, each worked out before it is offered; the changes of text that make it so.
fn ways(
    subject: &Subject<'_>,
    (first, alike): (&Loaded<'_>, &[Loaded<'_>]),
    say: &dyn Fn(f64) -> String,
) -> (Vec<String>, Vec<Fix>) {
    let (mut helps, mut mends) = (Vec::new(), Vec::new());
    if let Some((height, built)) = strip_that_serves(subject, first, &first.built) {
        let then = say(in_years(first.with(&built).worse(), YEARS_FACTOR));
        let how = unstated_strip(subject, first, height);
        helps.push(format!("a strip {} high{how} sags {then} in years", subject.print(height)));
        let title = "make the strip {}";
        mends.extend(first.strip.and_then(|strip| subject.change(strip.size.width, height, title, true)));
    }
    let held = cleat_that_is_screwed(subject, first);
    if let Some((built, words)) = held.as_ref().filter(|(built, _)| first.passes(built)) {
        let then = say(in_years(first.with(built).worse(), YEARS_FACTOR));
        helps.push(format!("{words}: the worse edge then sags {then} in years"));
    }
    if first.lowest && first.shelf.role != Role::Loose {
        helps.push("let it lie on a `stretcher bottom`, front and rear".to_owned());
    }
    if helps.is_empty()
        && let Some((built, words)) = &held
        && let Some((height, built)) = strip_that_serves(subject, first, built)
    {
        let then = say(in_years(first.with(&built).worse(), YEARS_FACTOR));
        let how = unstated_strip(subject, first, height);
        let strip = format!("a strip {} high{how}", subject.print(height));
        helps.push(format!("{words}, and take {strip}: the worse edge then sags {then} in years"));
    }
    if !first.lowest && first.passes_divided() {
        let or = if helps.is_empty() { "" } else { "or " };
        let place =
            if first.over.is_empty() { "at mid-span" } else { "in the middle of each of its longest spans" };
        helps.push(format!("{or}stand a divider {place}{}", down_to_what_carries(subject, alike)));
    }
    if let Some(bare) = longest_bare(first).and_then(length) {
        helps.push(format!("bare, a shelf of this sheet may be {} long under this load", subject.most(bare)));
    }
    if helps.is_empty() {
        helps.push("take a thicker or stiffer sheet, or let lighter things stand there".to_owned());
    }
    (helps, mends)
}

/// What is to stand under a new divider, so that it carries: where the shelf under it sags itself, one more in each opening below.
fn down_to_what_carries(subject: &Subject<'_>, alike: &[Loaded<'_>]) -> &'static str {
    let foot = |loaded: &Loaded<'_>| {
        let openings = subject.openings_of(loaded.shelf.unit?);
        let below = openings.iter().filter(|opening| opening.under == Some(loaded.shelf.id));
        // A loose shelf becomes two, whatever carries the divider between them.
        below.filter(|_| loaded.shelf.role != Role::Loose).find_map(|opening| subject.graph.part(opening.on))
    };
    let carried = |foot: &Part| lies(subject, foot) || alike.iter().any(|loaded| loaded.shelf.id == foot.id);
    if alike.iter().filter_map(foot).all(carried) {
        return "";
    }
    let lowest = alike.iter().filter_map(|loaded| subject.openings_of(loaded.shelf.unit?).first());
    let mut lowest = lowest.filter_map(|opening| subject.graph.part(opening.on));
    if lowest.all(|lowest| lies(subject, lowest)) {
        ", and one under it in each opening below"
    } else {
        ", and one under it in each opening below, down to a bottom shelf that lies on a `stretcher bottom`, front and rear"
    }
}

/// The run that a shelf belongs to.
fn run_of<'a>(subject: &Subject<'a>, shelf: &Part) -> Option<&'a Run> {
    subject.model.runs.get(shelf.run?.0 as usize)
}

/// What is to be stated for a strip where there is none yet.
fn unstated_strip(subject: &Subject<'_>, first: &Loaded<'_>, height: Length) -> String {
    if first.strip.is_some() {
        return String::new();
    }
    let stated = format!("`strip = {}`", subject.write(height));
    let thick = subject.print(subject.usual((3, 4), 190));
    let facing = run_of(subject, first.shelf).map(|run| run.facing.is_some());
    match (first.shelf.role == Role::Loose, facing) {
        (true, Some(true)) => format!(" along it ({stated} in its `adjustable`)"),
        (false, Some(true)) => format!(" before it ({stated} in the facing)"),
        (true, _) => {
            format!(
                " and {thick} thick along it ({stated} in its `adjustable`, from the board of a `facing`)"
            )
        }
        (false, Some(false)) => format!(" and {thick} thick before it (a `facing` with {stated})"),
        (false, None) => {
            format!(" and {thick} thick before it (as unit of a `run` that has a `facing` with {stated})")
        }
    }
}

/// The least strip that serves, higher than the one that is there, and the shelf with it.
fn strip_that_serves(
    subject: &Subject<'_>,
    first: &Loaded<'_>,
    built: &Stiffened,
) -> Option<(Length, Stiffened)> {
    if first.front_carried {
        return None;
    }
    let mut with = *built;
    if with.strip.is_none() {
        let facing = run_of(subject, first.shelf).and_then(|run| run.facing.as_ref());
        let board = facing.and_then(|facing| subject.graph.boards.get(facing.board));
        let stiffness = board.and_then(|board| board.stiffness);
        let modulus = stiffness.map_or(LEAST_STIFF_BOARD, |stiffness| stiffness.value * NEWTONS_PER_KILOGRAM);
        let usual = subject.usual((3, 4), 190);
        let thickness = facing.map_or(usual, |facing| facing.thickness.value).to_mm_f64();
        // A loose shelf is narrower by its strip; a fixed one bears what stands on that.
        if first.shelf.role == Role::Loose {
            with.shelf.depth -= thickness;
        }
        let Shelf { span, depth, .. } = with.shelf;
        with.shelf.line_load = line_load(first.load, span, depth, thickness) * NEWTONS_PER_KILOGRAM;
        with.strip = Some(Stiffener { thickness, height: 0.0, modulus });
    }
    let height = least_strip(subject, &with, &|built| first.passes(built))?;
    Some((height, higher(&with, height.to_mm_f64())))
}

/// The shelf with its cleat, or one that it may have, screwed to the wall, and what is to be done for that.
fn cleat_that_is_screwed(subject: &Subject<'_>, first: &Loaded<'_>) -> Option<(Stiffened, String)> {
    let walled = run_of(subject, first.shelf).is_some_and(|run| run.wall.is_some());
    if !walled || first.lowest || first.shelf.role == Role::Loose {
        return None;
    }
    let unit = subject.units().get(first.shelf.unit?.0 as usize)?;
    let unstated = unit.carcass.joins.cleat_to_wall.fastener.is_none();
    let how = if unstated { ", with a screw stated in `join cleat to wall`" } else { "" };
    let (cleat, words) = match first.built.rear {
        Rear::Screwed(_) => return None,
        Rear::Cleat(cleat) => (cleat, format!("screw its cleat to two studs or plugs{how}")),
        Rear::Bare => {
            let Shelf { thickness, modulus, .. } = first.built.shelf;
            let height = subject.usual((5, 2), 600).to_mm_f64();
            let words = format!("hang a cleat under its rear edge and screw it to two studs or plugs{how}");
            (Stiffener { thickness, height, modulus }, words)
        }
    };
    Some((Stiffened { rear: Rear::Screwed(cleat), ..first.built }, words))
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
