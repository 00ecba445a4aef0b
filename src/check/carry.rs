//! How many people carry a unit.

use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, Example, code};
use crate::mechanics::lifting;
use crate::parts::{Figure, Finding, Limit};
use crate::quantity::{Dim, Estimate, System, to_f64, unit};

code!(
    Warning,
    CODE,
    "C010",
    "carry",
    "a unit that more people carry than there are",
    "One person carries 50 lb (23 kg), two carry 100 lb (45 kg); what is longer than 7 ft two people carry, whatever it \
     weighs (common practice, no source). The weight is an estimate: finished volume x density, grooves off, without facing.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm, density = 750 kg/m3 }\nperson { count = 1 }\nstick s { floor = 80mm, high = 900mm }\ncarcass a { shelves = s, width = 900mm, height = 2100mm, depth = 300mm }\n",
        good: "sheet ply { thickness = 18mm, density = 750 kg/m3 }\nperson { count = 2 }\nstick s { floor = 80mm, high = 900mm }\ncarcass a { shelves = s, width = 900mm, height = 2100mm, depth = 300mm }\n",
    })
);

/// Every unit against the people there are.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let people = subject.model.shop.people;
    let hands = people.map(|people| to_f64(people.value.value));
    let pound = unit("lb").map_or(1.0, |pound| to_f64(pound.factor));
    let mut heavy: Vec<(String, Vec<&str>)> = Vec::new();
    for standing in subject.units() {
        let (unit, length) = (standing.unit, standing.unit.height.value.to_mm_f64());
        let Some(weight) = subject.weight(standing.id) else { continue };
        let weigh = "weight of a unit as it is carried";
        let Some(hands) = hands else {
            report.compare(Finding::new(&CODE, unit.path.as_str(), weigh, weight, Limit::Unknown));
            continue;
        };
        let most = if hands < 2.0 { lifting::ONE_PERSON_POUNDS } else { lifting::ONE_PERSON_POUNDS * hands };
        let limit = Limit::AtMost(Figure::about(most * pound, Dim::WEIGHT));
        let carried = report.compare(Finding::new(&CODE, unit.path.as_str(), weigh, weight, limit));
        let most = Figure::about(lifting::TWO_PEOPLE_LENGTH_FEET * 304.8, Dim::LENGTH);
        let long = Finding::new(
            &CODE,
            unit.path.as_str(),
            "length that one person carries",
            Figure::about(length, Dim::LENGTH),
            Limit::AtMost(most),
        );
        let handled = hands >= 2.0 || report.compare(long);
        if !carried || !handled {
            let said = Figure::Estimate(weight).print(subject.marks(), crate::quantity::Round::Nearest);
            let key = format!("{said} and {} long", subject.print(unit.height.value));
            match heavy.iter_mut().find(|(other, _)| *other == key) {
                Some((_, units)) => units.push(&unit.path),
                None => heavy.push((key, vec![&unit.path])),
            }
        }
    }
    let (Some((_, units)), Some(hands)) = (heavy.first(), hands) else { return };
    let who = if hands < 2.0 { "one person carries".to_owned() } else { format!("{hands} people carry") };
    let count: usize = heavy.iter().map(|(_, units)| units.len()).sum();
    let what = match (count, units.first()) {
        (1, Some(unit)) => format!("`{unit}` is"),
        _ => format!("{count} units are"),
    };
    let weights: Vec<&str> = heavy.iter().filter_map(|(key, _)| key.split(" and ").next()).collect();
    let message = format!("{what} more than {who}: {}", weights.join(", "));
    let all = heavy.iter().flat_map(|(_, units)| units.iter().copied());
    let mut diagnostic = Diagnostic::new(&CODE, message);
    let by_path = |path: &str| subject.units().iter().find(|standing| standing.unit.path == path);
    for path in all {
        diagnostic = diagnostic.about(path);
        diagnostic = subject.at_head(diagnostic, by_path(path).and_then(|s| s.unit.head), "");
    }
    if let Some(people) = people {
        let span = subject.graph.ledger.span(people.why);
        diagnostic = subject.at_head(diagnostic, span, "the people there are");
    }
    for (key, units) in &heavy {
        diagnostic = diagnostic.note(format!("{key}: {}", names(units)));
    }
    let weights = Estimate { value: 100.0 * pound, dim: Dim::WEIGHT };
    let two = match subject.marks().system() {
        System::Metric => "45 kg".to_owned(),
        System::Inch => format!("{:.0} lb", weights.value / pound),
    };
    report.tell(
        diagnostic.help(format!("two people carry up to {two}; above that use wheels, straps or more hands")),
    );
}
