//! A unit that hangs is lifted to its foot.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::mechanics::lifting::{Coupling, Form, Lift};
use crate::parts::{Figure, Finding, Lacking, Limit, Need, Unit};
use crate::quantity::{Dim, Round, to_f64, unit as unit_of};

code!(
    Warning,
    CODE,
    "C136",
    "hung_lift",
    "a unit that is too heavy to be lifted to where it hangs",
    "What hangs is held at its foot until two screws are in. Each of those who lift it should lift no more than is recommended for that height \
     and reach: from knuckle height, 30 in, to its foot, or to 70 in from a platform where that is higher, 8 in and half its depth before the \
     ankles (Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110, which speaks of one person; shares of several \
     are common practice, no source). An estimate, not medical advice.",
    with_example
);

/// What is compared, in words.
const EACH: &str = "what each lifts of a unit, to where it hangs";

/// The highest that hands lift to, in inches, as the manual has it; what is higher is lifted from a platform.
const HIGHEST: f64 = 70.0;

/// Every unit that hangs.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let people = subject.model.shop.people.map(|people| to_f64(people.value.value));
    let pound = unit_of("lb").map_or(1.0, |pound| to_f64(pound.factor));
    for standing in subject.units().iter().filter(|standing| standing.unit.hung) {
        let (unit, weight) = (standing.unit, subject.weight(standing.id));
        let (Some(people), Some(weight)) = (people, weight) else {
            let mut needs =
                if weight.is_some() { Vec::new() } else { subject.graph.unit_weight_lacks(standing.id) };
            needs.extend(people.is_none().then(|| Need::kind("person")));
            report.lack(Lacking {
                code: &CODE,
                subject: unit.path.clone(),
                many: "units that hang",
                what: EACH,
                measures: &[],
                needs,
                matters: true,
            });
            continue;
        };
        let most = recommended(unit) * pound;
        let value = Figure::about(weight.value / people.max(1.0), Dim::WEIGHT);
        let limit = Limit::AtMost(Figure::about(most, Dim::WEIGHT));
        if report.compare(Finding::new(&CODE, unit.path.as_str(), EACH, value, limit)) {
            continue;
        }
        let print =
            |kilograms: f64| Figure::about(kilograms, Dim::WEIGHT).print(subject.marks(), Round::Nearest);
        let foot = unit.stands.map(|stands| subject.print(stands.value)).unwrap_or_default();
        let who = if people < 2.0 { "one person lifts".to_owned() } else { format!("{people} people lift") };
        let message = format!(
            "`{}` weighs {}, and {who} {} to its foot at {foot}",
            unit.path,
            print(weight.value),
            print(most * people.max(1.0))
        );
        let needed = (weight.value / most.max(0.1)).ceil();
        let mut told =
            subject.at_head(Diagnostic::new(&CODE, message), unit.head, "").about(unit.path.as_str());
        told = match subject.model.shop.people {
            Some(people) => subject.at_amount(told, people, "the people there are"),
            None => told,
        };
        // At a box more than four do not stand.
        let hands = if needed <= 4.0 { format!("let {needed} lift it, or ") } else { String::new() };
        report.tell(told.help(format!(
            "{hands}hang it in two units, or raise it on a lift or on props in steps, and prop it until two screws are in"
        )));
    }
}

/// What is recommended for such a lift, in pounds.
fn recommended(unit: &Unit) -> f64 {
    let foot = unit.stands.map_or(0.0, |stands| stands.value.to_mm_f64() / 25.4);
    let vertical = foot.min(HIGHEST);
    let lift = Lift {
        horizontal: 8.0 + unit.depth.value.to_mm_f64() / 25.4 / 2.0,
        vertical,
        travel: vertical - 30.0,
        asymmetry_degrees: 0.0,
        coupling: Coupling::Fair,
        frequency: 1.0,
    };
    Form::InchPound.recommended_limit(&lift)
}
