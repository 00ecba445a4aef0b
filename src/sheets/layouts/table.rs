//! Layouts as tables: how each stock stands, and the work on each way to cut a sheet.

use super::{LayoutGroup, Pattern, left_words, which};
use crate::breakdown::spared;
use crate::document::{Cell, Table, figures, words};
use crate::quantity::some;

/// How a stock stands: what to buy and how good that is, settings, room for spare shelves.
pub(super) fn summary(group: &LayoutGroup) -> Table {
    let text = group.text.as_deref().map(|text| format!(", {text}")).unwrap_or_default();
    let row = |what: &str, says: String| vec![Cell::Words(what.to_owned()), Cell::Words(says)];
    let mut rows = Vec::new();
    match &group.problem {
        Some(problem) => rows.push(row("no layout", problem.clone())),
        None => {
            rows.push(row("to buy", group.proof.clone()));
            rows.extend(group.saving.iter().map(|saving| row("saving", saving.clone())));
            if group.on_hand > 0 {
                rows.push(row("on hand", format!("{} cut of what is there already", group.on_hand)));
            }
            rows.extend(group.cost.iter().map(|cost| row("price", cost.clone())));
            rows.push(row("yield", format!("{} of the area becomes parts", group.yielded)));
            rows.push(row(
                "settings",
                format!(
                    "{} of the fence, {} of the stop; {} sheet by sheet",
                    group.fence_settings,
                    group.stop_settings,
                    some(group.moves, "set-up")
                ),
            ));
            rows.extend(group.near_misses.iter().map(|near| row("near miss", near.says.clone())));
            for spare in &group.spares {
                let says = match (spare.in_rips, spare.beside) {
                    (0, 0) => "no room".to_owned(),
                    (rips, 0) => format!("room for {rips} in the rips as they are"),
                    (0, beside) => format!("room for {beside} beside the last rips"),
                    (rips, beside) => {
                        format!("room for {rips} in the rips as they are, {beside} beside the last ones")
                    }
                };
                rows.push(row("spare shelves", format!("{} long: {says}", spare.length.print)));
            }
        }
    }
    Table {
        caption: format!("{}{text}: {}", group.stock, spared(group.parts, "part", group.spare_parts)),
        columns: vec![words("what"), words("how it stands")],
        rows,
        foot: None,
    }
}

/// The work on sheets that are cut alike.
pub(super) fn table(pattern: &Pattern, group: &LayoutGroup) -> Table {
    let mut rows: Vec<Vec<Cell>> = pattern
        .steps
        .iter()
        .map(|step| {
            vec![
                Cell::Figure(step.number.to_string()),
                Cell::Words(step.cut.to_owned()),
                Cell::Figure(step.setting.print.clone()),
                Cell::Words(step.gives.clone()),
            ]
        })
        .collect();
    rows.extend(pattern.left.iter().map(|left| {
        vec![
            Cell::Figure(String::new()),
            Cell::Words("left".to_owned()),
            Cell::Figure(String::new()),
            Cell::Words(left_words(left)),
        ]
    }));
    Table {
        caption: format!(
            "{}: {}, {} x {}",
            pattern.stock,
            which(pattern, group),
            pattern.size[0].print,
            pattern.size[1].print
        ),
        columns: vec![figures("step"), words("cut"), figures("set to"), words("gives")],
        rows,
        foot: (!pattern.ride.is_empty()).then(|| pattern.ride.clone()),
    }
}
