//! Derived measures by path: what `why` answers and `require` asks for.

use super::how::How;
use super::{
    Crown, CrownAt, CrownPiece, Hand, JointKind, Opening, Part, PartGraph, RouterPart, Row, RowKind, RunPart,
    Unit,
};
use crate::diag::nearest;
use crate::eval::Len;
use crate::quantity::{Estimate, Rational};
use std::cell::OnceCell;
use std::collections::BTreeMap;

/// A measure of something in the graph.
#[derive(Clone, Debug)]
pub struct Measure {
    /// The last step of its path.
    pub name: &'static str,
    /// Its value and reason.
    pub value: MeasureValue,
}

/// The value of a measure.
#[derive(Clone, Debug)]
pub enum MeasureValue {
    /// An exact length with its reason.
    Length(Len),
    /// An estimate, and how it is reckoned.
    Estimate(Estimate, How),
    /// A count, and what was counted: so many of each.
    Count(usize, Vec<(String, usize)>),
    /// A sum of money, and what it is for: so much for each.
    Money(Rational, Vec<(String, Rational)>),
}

impl Measure {
    /// The length, if it is one.
    #[must_use]
    pub fn length(&self) -> Option<Len> {
        match self.value {
            MeasureValue::Length(len) => Some(len),
            MeasureValue::Estimate(..) | MeasureValue::Count(..) | MeasureValue::Money(..) => None,
        }
    }
}

/// A path that leads to no measure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unknown {
    /// The part of the path that leads somewhere.
    pub known: String,
    /// The step that does not.
    pub step: String,
    /// What the user probably meant, as a whole path.
    pub near: Option<String>,
    /// What could follow the known part.
    pub next: Vec<String>,
    /// Of a name that several parts had before: which they are.
    pub shared: Option<String>,
}

impl PartGraph {
    /// All measures with their paths, in the order of the paths.
    #[must_use]
    pub fn measures(&self) -> BTreeMap<String, Measure> {
        self.measures_of(|_| true)
    }

    /// The measures of everything whose path is wanted; what is not asked for is not worked out.
    fn measures_of(&self, wanted: impl Fn(&str) -> bool) -> BTreeMap<String, Measure> {
        let mut all = BTreeMap::new();
        let mut add = |path: &str, measures: &dyn Fn() -> Vec<Measure>| {
            if wanted(path) {
                let named =
                    measures().into_iter().map(|measure| (format!("{path}.{}", measure.name), measure));
                all.extend(named);
            }
        };
        if let Some(router) = &self.router {
            add("router", &|| of_router(router));
        }
        for (id, run) in self.numbered_runs() {
            add(&run.path, &|| {
                let weight = self.facing_weight(id).filter(|weight| weight.value > 0.0);
                let weight = estimate("facing_weight", weight, "finished volume x density, at mean sizes");
                of_run(run).into_iter().chain(weight).collect()
            });
            if let Some(crown) = &run.crown {
                let parted = crown.pieces.iter().any(|piece| piece.stretch > 0);
                add(&format!("{}.crown", run.path), &|| {
                    let own = if parted { Vec::new() } else { of_pieces(crown.pieces.iter()) };
                    of_crown(crown).into_iter().chain(own).collect()
                });
                for (at, pieces) in crown.stretches().filter(|_| parted) {
                    add(&format!("{}.crown[{}]", run.path, at + 1), &|| of_pieces(pieces.iter().copied()));
                }
            }
            for corner in self
                .corners
                .iter()
                .filter(|corner| self.run(corner.own).is_some_and(|own| own.path == run.path))
            {
                let hand = if corner.end == 0 { Hand::Left } else { Hand::Right };
                add(&format!("{}.corner.{}", run.path, hand.word()), &|| {
                    vec![
                        measure("out", corner.out),
                        measure("covered", corner.covered),
                        measure("open", corner.open),
                    ]
                });
            }
            for space in &run.spaces {
                add(&space.path, &|| vec![measure("width", space.width), measure("x", space.x)]);
            }
            for (end, hand) in run.ends.iter().zip(Hand::BOTH) {
                for reading in &end.readings {
                    let path = format!("{}.end.{}.{}", run.path, hand.word(), reading.at.word());
                    let gaps = [("front", reading.front), ("back", reading.back)];
                    add(&path, &|| {
                        gaps.iter().filter_map(|(name, gap)| gap.map(|gap| measure(name, gap))).collect()
                    });
                }
            }
        }
        let (weights, cut_off) = (OnceCell::new(), OnceCell::new());
        let cut_off = || cut_off.get_or_init(|| self.cut_off());
        for (id, unit) in self.numbered_units() {
            add(&unit.path, &|| {
                let weights: &Vec<Option<Estimate>> = weights.get_or_init(|| self.unit_weights(cut_off()));
                let weight = weights.get(id.0 as usize).copied().flatten();
                let weight = estimate("weight", weight, self.how_unit_weighs(id, cut_off()));
                let square = "of the face: both are equal when it is square";
                let diagonal = estimate("diagonal", self.face_diagonal(id), square);
                of_unit(unit).into_iter().chain(weight).chain(diagonal).collect()
            });
        }
        for (index, fastener) in self.fasteners.iter().enumerate() {
            add(&format!("hardware.{}", fastener.name), &|| self.of_fastener(index));
        }
        for part in &self.parts {
            add(&part.path, &|| {
                let weight = self.part_weight(part, cut_off());
                let weight = estimate("weight", weight, self.how_part_weighs(part, cut_off()));
                of_part(part).into_iter().chain(weight).collect()
            });
        }
        for hole in &self.holes {
            let part = self.part(hole.part).map_or("", |part| part.path.as_str());
            add(&format!("{part}.hole.{}", hole.name), &|| {
                let [along, across] = hole.at;
                vec![measure("along", along), measure("across", across), measure("diameter", hole.diameter)]
            });
        }
        for (path, measure) in &self.reckoned {
            add(path, &|| vec![measure.clone()]);
        }
        for opening in &self.openings {
            add(&opening.path, &|| of_opening(opening));
        }
        for joint in &self.joints {
            if let (Some(guest), JointKind::Dado { depth, width, .. }) = (self.part(joint.guest), joint.kind)
            {
                add(&guest.path, &|| {
                    vec![
                        measure("mark", joint.at),
                        measure("dado_depth", depth),
                        measure("dado_width", width),
                    ]
                });
            }
        }
        all
    }

    /// How many of a fastener are used, by what for, and in all; nothing of one that is not.
    fn of_fastener(&self, index: usize) -> Vec<Measure> {
        let rows: Vec<&Row> = self.rows.iter().filter(|row| row.fastener == Some(index)).collect();
        let counted = |rows: &[&Row]| {
            let joins = |row: &&Row| format!("{} to {}", self.called(row.guest), self.called(row.host));
            MeasureValue::Count(
                rows.iter().map(|row| row.count).sum(),
                rows.iter().map(|row| (joins(row), row.count)).collect(),
            )
        };
        let mut measures = Vec::new();
        for kind in RowKind::ALL {
            let of_kind: Vec<&Row> = rows.iter().copied().filter(|row| row.kind == *kind).collect();
            if !of_kind.is_empty() {
                measures.push(Measure { name: kind.step(), value: counted(&of_kind) });
            }
        }
        if !measures.is_empty() {
            measures.push(Measure { name: "count", value: counted(&rows) });
        }
        measures
    }

    /// A path of a measure as it is called now, where a text may use the path that its part had before.
    #[must_use]
    pub fn present(&self, path: &str) -> String {
        let part = |path: &str| Some(self.part(self.named(path)?)?.path.clone());
        let measure = || path.rsplit_once('.').and_then(|(of, name)| Some(format!("{}.{name}", part(of)?)));
        part(path).or_else(measure).unwrap_or_else(|| path.to_owned())
    }

    /// The measures that `path` leads to: the one of that path, or all that lie under it.
    ///
    /// # Errors
    /// [`Unknown`] where no measure has that path or lies under it.
    pub fn find(&self, path: &str) -> Result<Vec<(String, Measure)>, Unknown> {
        let path = &self.present(path);
        let leads = |owner: &str| {
            path.strip_prefix(owner).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
        };
        let all = self.measures_of(leads);
        if let Some(measure) = all.get(path) {
            return Ok(vec![(path.to_owned(), measure.clone())]);
        }
        let under = format!("{path}.");
        let direct = |full: &&String| full.strip_prefix(&under).is_some_and(|rest| !rest.contains('.'));
        let found: Vec<_> =
            all.iter().filter(|(full, _)| direct(full)).map(|(p, m)| (p.clone(), m.clone())).collect();
        if found.is_empty() {
            Err(Unknown { shared: self.shared_before(path), ..unknown(path, &self.measures()) })
        } else {
            Ok(found)
        }
    }
}

fn unknown(path: &str, all: &BTreeMap<String, Measure>) -> Unknown {
    let mut known = String::new();
    let mut step = String::new();
    for next in path.split('.') {
        let longer = if known.is_empty() { next.to_owned() } else { format!("{known}.{next}") };
        let under = format!("{longer}.");
        if all.keys().any(|full| full.starts_with(&under)) {
            known = longer;
        } else {
            step = next.to_owned();
            break;
        }
    }
    let under = if known.is_empty() { String::new() } else { format!("{known}.") };
    let mut next: Vec<String> = all
        .keys()
        .filter_map(|full| {
            full.strip_prefix(&under).and_then(|rest| rest.split('.').next()).map(str::to_owned)
        })
        .collect();
    next.dedup();
    next.sort();
    next.dedup();
    let near = nearest(&step, next.iter().map(String::as_str)).map(|near| {
        let rest = path.strip_prefix(&format!("{under}{step}")).unwrap_or("");
        format!("{under}{near}{rest}")
    });
    Unknown { known, step, near, next, shared: None }
}

fn measure(name: &'static str, len: Len) -> Measure {
    Measure { name, value: MeasureValue::Length(len) }
}

fn estimate(name: &'static str, value: Option<Estimate>, how: impl Into<How>) -> Option<Measure> {
    value.map(|value| Measure { name, value: MeasureValue::Estimate(value, how.into()) })
}

fn of_router(router: &RouterPart) -> Vec<Measure> {
    let mut measures = vec![
        measure("spacer_1", router.spacer_1),
        measure("spacer_2", router.spacer_2),
        measure("overlap", router.overlap),
    ];
    measures.extend(router.lowest.map(|lowest| measure("board", lowest.board)));
    if let Some(above) = router.above {
        measures.extend([measure("above_1", above.board_1), measure("above_2", above.board_2)]);
    }
    measures
}

fn of_run(run: &RunPart) -> Vec<Measure> {
    let mut measures = vec![measure("total_width", run.total_width)];
    if let Some([left, right]) = run.gaps {
        measures.extend([measure("gap_left", left), measure("gap_right", right)]);
    }
    if let Some(frame) = run.frame {
        measures.extend([measure("frame_width", frame.width), measure("frame_height", frame.height)]);
    }
    measures
}

fn of_crown(crown: &Crown) -> Vec<Measure> {
    let mut measures = vec![measure("face_width", crown.width)];
    measures.extend(estimate("drop", Some(crown.drop), "face width x cos of the spring angle"));
    measures.extend(estimate("projection", Some(crown.projection), "face width x sin of the spring angle"));
    if crown.turns() {
        let how = "tan of the mitre = sin of the spring angle x tan 45 deg, for a square outer corner, laid flat on the saw";
        measures.extend(estimate("mitre", Some(crown.mitre), how));
        let how = "sin of the bevel = cos of the spring angle x sin 45 deg, for a square outer corner, laid flat on the saw";
        measures.extend(estimate("bevel", Some(crown.bevel), how));
    }
    let how = "pieces at their long edge, 1/2 in (12.7 mm) of trim, a kerf each";
    measures.extend(estimate("stick", Some(crown.stick), how));
    if let Some([least, greatest]) = crown.gap {
        measures.extend([measure("gap_least", least), measure("gap_greatest", greatest)]);
    }
    measures.extend(crown.buy.map(|buy| measure("buy", buy)));
    measures
}

fn of_pieces<'a>(pieces: impl Iterator<Item = &'a CrownPiece>) -> Vec<Measure> {
    let mut measures = Vec::new();
    for piece in pieces {
        let names = match piece.at {
            CrownAt::Front => ("front_foot", "front_top"),
            CrownAt::Return(Hand::Left) => ("left_foot", "left_top"),
            CrownAt::Return(Hand::Right) => ("right_foot", "right_top"),
        };
        measures.push(measure(names.0, piece.foot));
        measures.extend(estimate(
            names.1,
            Some(piece.top),
            "its foot, and the projection at each outer corner",
        ));
    }
    measures
}

fn of_unit(unit: &Unit) -> Vec<Measure> {
    let mut measures = vec![
        measure("width", unit.width),
        measure("clear", unit.clear),
        measure("height", unit.height),
        measure("depth", unit.depth),
    ];
    let foot = if unit.hung { "foot" } else { "stands" };
    measures.extend(unit.stands.map(|stands| measure(foot, stands)));
    measures.extend(unit.x.map(|x| measure("x", x)));
    if let Some([from, to]) = unit.screw_window {
        measures.extend([measure("screw_from", from), measure("screw_to", to)]);
    }
    measures
}

fn of_part(part: &Part) -> Vec<Measure> {
    let mut measures: Vec<Measure> =
        part.scribed.iter().map(|(at, width)| measure(at.measure(), *width)).collect();
    if let Some(blank) = part.blank {
        measures.extend([measure("blank_width", blank.width), measure("blank_length", blank.length)]);
    }
    measures.extend([
        measure("thickness", part.size.thickness),
        measure("width", part.size.width),
        measure("length", part.size.length),
        measure("x", part.place.x),
        measure("y", part.place.y),
        measure("z", part.place.z),
    ]);
    measures
}

fn of_opening(opening: &Opening) -> Vec<Measure> {
    vec![
        measure("clear_width", opening.clear_width),
        measure("clear_height", opening.clear_height),
        measure("opening_front", opening.opening_front),
        measure("opening_rear", opening.opening_rear),
        measure("opening_depth", opening.depth),
    ]
}
