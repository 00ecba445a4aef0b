//! How many people carry a unit, or a frame.

use super::helpers::carried::{Carried, Kind};
use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::mechanics::lifting;
use crate::parts::{Figure, Finding, Lacking, Limit, Need};
use crate::quantity::{Dim, Estimate, System, estimate, to_f64, unit};

code!(
    Warning,
    CODE,
    "C010",
    "carry",
    "a unit that more people carry than there are",
    "One person carries 50 lb (23 kg), two carry 100 lb (45 kg), unless `carries` of the `person` states another figure; what is longer than 7 ft two people carry, whatever it \
     weighs (common practice, no source). The weight is an estimate: finished volume x density, grooves off, without facing; a facing that is joined on the bench is carried by itself.",
    with_example
);

/// Every unit against the people there are.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

/// A weight, where it is known, and a length, as they are printed.
type Said = (Option<String>, String);

fn run(subject: &Subject<'_>, report: &mut Report) {
    let people = subject.model.shop.people;
    let hands = people.map(|people| to_f64(people.value.value));
    let pound = unit("lb").map_or(1.0, |pound| to_f64(pound.factor));
    let carries = subject.model.shop.carries;
    let each = carries.map_or(lifting::ONE_PERSON_POUNDS * pound, |each| to_f64(each.value.value));
    let mut heavy: Vec<(Said, Vec<&Carried<'_>>)> = Vec::new();
    let carried = subject.carried();
    for thing in &carried {
        let (path, length) = (thing.path.as_str(), thing.height.max(thing.width));
        let weigh = match thing.kind {
            Kind::Unit => "weight of a unit as it is carried",
            Kind::Frame => "weight of a frame as it is carried",
        };
        let long_most = Figure::about(lifting::TWO_PEOPLE_LENGTH_FEET * 304.8, Dim::LENGTH);
        let most = hands.map_or(each, |hands| if hands < 2.0 { each } else { each * hands });
        if thing.weight.is_none() || hands.is_none() {
            let (mut needs, at_most) = thing.unknown.clone().unwrap_or_default();
            needs.extend(hands.is_none().then(|| Need::kind("person")));
            let long = hands.is_none() && Figure::from(length).exceeds(long_most);
            let heavy = thing.weight.map_or(at_most, |weight| weight.value) > most;
            let lacking = Lacking {
                code: &CODE,
                subject: path.to_owned(),
                many: "units and frames",
                what: weigh,
                measures: if thing.weight.is_none() { &["weight"] } else { &[] },
                needs,
                matters: heavy || long,
            };
            report.lack(lacking);
        }
        let Some(hands) = hands else {
            if let Some(weight) = thing.weight {
                report.compare(Finding::new(&CODE, path, weigh, weight, Limit::Unknown));
            }
            continue;
        };
        let limit = Limit::AtMost(Figure::about(most, Dim::WEIGHT));
        let borne =
            thing.weight.is_none_or(|weight| report.compare(Finding::new(&CODE, path, weigh, weight, limit)));
        if let (Some(weight), Kind::Unit) = (thing.weight, thing.kind) {
            report.compare(lifted(path, weight.value / hands.max(1.0), thing.depth.to_mm_f64(), pound));
        }
        let long =
            Finding::new(&CODE, path, "length that one person carries", length, Limit::AtMost(long_most));
        let handled = hands >= 2.0 || report.compare(long);
        if !borne || !handled {
            let said = thing.weight.map(|weight| {
                Figure::Estimate(weight).print(subject.marks(), crate::quantity::Round::Nearest)
            });
            let key = (said, subject.print(length));
            match heavy.iter_mut().find(|(other, _)| *other == key) {
                Some((_, things)) => things.push(thing),
                None => heavy.push((key, vec![thing])),
            }
        }
    }
    let (Some((_, first)), Some(hands)) = (heavy.first(), hands) else { return };
    let who = if hands < 2.0 { "one person carries".to_owned() } else { format!("{hands} people carry") };
    let count: usize = heavy.iter().map(|(_, things)| things.len()).sum();
    let frames = heavy.iter().flat_map(|(_, things)| things).any(|thing| thing.kind == Kind::Frame);
    let what = match (count, first.first()) {
        (1, Some(only)) => format!("`{}` is", only.path),
        _ if frames => format!("{count} units and frames are"),
        _ => format!("{count} units are"),
    };
    let weights: Vec<String> = heavy
        .iter()
        .map(|((weight, long), _)| weight.clone().unwrap_or_else(|| format!("{long} long")))
        .collect();
    let message = format!("{what} more than {who}: {}", weights.join(", "));
    let mut diagnostic = Diagnostic::new(&CODE, message);
    for thing in heavy.iter().flat_map(|(_, things)| things) {
        diagnostic = diagnostic.about(thing.path.as_str());
        diagnostic = subject.at_head(diagnostic, thing.head, "");
    }
    if let Some(people) = people {
        let span = subject.graph.ledger.span(people.why);
        diagnostic = subject.at_head(diagnostic, span, "the people there are");
    }
    if let Some(carries) = carries {
        let span = subject.graph.ledger.span(carries.why);
        diagnostic = subject.at_head(diagnostic, span, "what one person carries");
    }
    for ((weight, long), things) in &heavy {
        let paths: Vec<&str> = things.iter().map(|thing| thing.path.as_str()).collect();
        let weight = weight.as_ref().map_or_else(String::new, |weight| format!("{weight} and "));
        diagnostic = diagnostic.note(format!("{weight}{long} long: {}", names(&paths)));
    }
    let two = match (carries, subject.marks().system()) {
        (Some(_), system) => estimate(Estimate { value: 2.0 * each, dim: Dim::WEIGHT }, system),
        (None, System::Metric) => "45 kg".to_owned(),
        (None, System::Inch) => format!("{:.0} lb", lifting::TWO_PEOPLE_POUNDS),
    };
    let help = if hands < 2.0 {
        format!("two people carry up to {two}; above that use wheels, straps or more hands")
    } else {
        "use wheels, straps or more hands".to_owned()
    };
    report.tell(diagnostic.help(help));
}

/// What each of those who lift a unit lying on the floor lifts, told beside what is recommended for such a lift: hands at the
/// floor and 10 in and half the depth before the ankles, up to 30 in, held under an edge (Applications Manual for the Revised NIOSH
/// Lifting Equation, DHHS (NIOSH) 94-110).
fn lifted(path: &str, kilograms: f64, depth: f64, pound: f64) -> Finding {
    let lift = lifting::Lift {
        horizontal: 10.0 + depth / 25.4 / 2.0,
        vertical: 0.0,
        travel: 30.0,
        asymmetry_degrees: 0.0,
        coupling: lifting::Coupling::Fair,
        frequency: 1.0,
    };
    let recommended = lifting::Form::InchPound.recommended_limit(&lift);
    let share = Figure::about(kilograms, Dim::WEIGHT);
    let mut finding =
        Finding::new(&CODE, path, "what each lifts of a unit that lies on the floor", share, Limit::Unknown);
    let index = lifting::lifting_index(kilograms / pound, recommended);
    finding.remark = format!(
        "{index:.1} times what is recommended for such a lift, {recommended:.0} lb ({:.0} kg; NIOSH 94-110): lift with straps, or tip it over an edge",
        recommended * pound
    );
    finding
}
