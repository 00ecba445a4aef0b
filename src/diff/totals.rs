//! What a revision costs: money, sheets and days first, then what else is bought.

use crate::sheets::{Output, SHEETS};
use serde::Serialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// What a total is about, in the order in which it is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TotalOf {
    /// Sheets and boards.
    Stock,
    /// When a step of the finish ends.
    Days,
    /// Nails and screws.
    Hardware,
    /// Paint, glue, caulk.
    Product,
}

/// A total of both projects.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Total {
    /// What it is about.
    pub of: TotalOf,
    /// Of what.
    pub what: String,
    /// In the old project.
    pub was: Option<String>,
    /// In the new project.
    pub is: Option<String>,
}

impl Total {
    /// Whether it differs.
    #[must_use]
    pub fn differs(&self) -> bool {
        self.was != self.is
    }
}

type Key = (TotalOf, usize, String);

/// All totals of both projects.
pub(super) fn totals(outputs: &[Vec<Output>; 2]) -> Vec<Total> {
    let [old, new] = outputs;
    let (old, new) = (read(old), read(new));
    let mut all: BTreeMap<Key, (Option<String>, Option<String>)> = BTreeMap::new();
    for (key, value) in old {
        all.entry(key).or_default().0 = Some(value);
    }
    for (key, value) in new {
        all.entry(key).or_default().1 = Some(value);
    }
    all.into_iter().map(|((of, _, what), (was, is))| Total { of, what, was, is }).collect()
}

fn read(outputs: &[Output]) -> BTreeMap<Key, String> {
    let mut totals = BTreeMap::new();
    let sheet = |name: &str| {
        SHEETS.iter().zip(outputs).find(|(sheet, _)| sheet.name == name).map(|(_, out)| out.json.value())
    };
    let rows = |name: &str, rows: &str| -> Vec<Value> {
        sheet(name).and_then(|json| json.get(rows)?.as_array().cloned()).unwrap_or_default()
    };
    let text = |row: &Value, key: &str| row.get(key).and_then(Value::as_str).map(str::to_owned);
    for group in rows("cut-list", "groups") {
        let Some(stock) = text(&group, "stock") else { continue };
        let solid = group.get("solid").and_then(|solid| text(solid, "to_buy"));
        let (what, value) = match solid {
            Some(buy) => (format!("{stock}, to buy with waste"), Some(buy)),
            None => (format!("{stock}, area of the parts"), text(&group, "area_print")),
        };
        totals.extend(value.map(|value| ((TotalOf::Stock, 0, what), value)));
    }
    let mut coats = 0;
    for (index, step) in rows("finish", "steps").iter().enumerate() {
        let (Some(name), Some(ends)) = (text(step, "name"), text(step, "ends")) else { continue };
        let what = if name == "coat" {
            coats += 1;
            format!("coat {coats} is on")
        } else {
            name
        };
        totals.insert((TotalOf::Days, index, what), ends);
    }
    for item in rows("hardware", "items") {
        let count = item.get("count").and_then(Value::as_u64).map(|count| count.to_string());
        let what = text(&item, "name").unwrap_or_else(|| "rows without a fastener".to_owned());
        totals.extend(count.map(|count| ((TotalOf::Hardware, 0, what), count)));
    }
    for area in rows("finish", "areas").iter().filter(|row| text(row, "class").as_deref() == Some("all")) {
        let what = format!("paint of {}", text(area, "of").unwrap_or_default());
        totals.extend(text(area, "size").map(|size| ((TotalOf::Product, 0, what), size)));
    }
    for product in rows("finish", "products") {
        if let (Some(name), Some(needed)) = (text(&product, "name"), text(&product, "needed")) {
            let buy = text(&product, "buy").map(|buy| format!("{needed}: {buy}")).unwrap_or(needed);
            totals.insert((TotalOf::Product, 1, name), buy);
        }
    }
    totals
}
