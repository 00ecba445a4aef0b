//! Bounds that need no linear program: area with kerf, and dual feasible functions.
//!
//! Fekete, Schepers 2001; Martello, Vigo 1998; Carlier, Clautiaux, Moukrim 2007 for the functions. All in whole numbers.

use std::collections::BTreeSet;

use super::model::{Kind, Model};

/// The least price of stock whose area holds all parts, each enlarged by one kerf; cheap area is used first.
pub(super) fn area(model: &Model) -> i64 {
    let mut left: i128 = model.kinds.iter().map(|k| i128::from(k.area) * i128::from(k.demand)).sum();
    let mut order: Vec<_> = model.stocks.iter().collect();
    order.sort_by(|a, b| {
        (i128::from(a.cost) * i128::from(b.area)).cmp(&(i128::from(b.cost) * i128::from(a.area)))
    });
    let mut price = 0_i128;
    for s in order {
        let (one, cost) = (i128::from(s.area), i128::from(s.cost));
        let all = s.count.map_or(i128::MAX, |n| i128::from(n).saturating_mul(one));
        if left <= all {
            price += (left * cost + one - 1) / one.max(1);
            break;
        }
        price += cost * i128::from(s.count.unwrap_or(0));
        left -= all;
    }
    model.next_price(i64::try_from(price).unwrap_or(i64::MAX))
}

/// A dual feasible function on sizes 0..=room as values for listed sizes: those that fit one room sum to at most `unit`.
struct Function {
    values: Vec<i64>,
    unit: i64,
}

/// The functions for a room, for the sizes given; the step functions at no more than `most` places.
fn family(sizes: &[i64], room: i64, most: usize) -> Vec<Function> {
    let mut out = vec![Function { values: sizes.to_vec(), unit: room }];
    let mut places: BTreeSet<i64> = BTreeSet::new();
    for &s in sizes {
        if s > 0 && 2 * s <= room {
            places.insert(s);
        } else if s < room {
            places.insert(room - s);
        }
    }
    let places: Vec<i64> = places.into_iter().filter(|&p| p > 0).collect();
    let skip = places.len() / most.max(1) + 1;
    for &p in places.iter().step_by(skip) {
        // Sizes above room - p leave room only for sizes below p, which count nothing.
        let step = |s: i64, strict: bool| {
            if s > room - p || strict && s == room - p {
                room
            } else if s > p || s == p && !strict {
                s
            } else {
                0
            }
        };
        out.push(Function { values: sizes.iter().map(|&s| step(s, false)).collect(), unit: room });
        if 2 * p < room {
            out.push(Function { values: sizes.iter().map(|&s| step(s, true)).collect(), unit: room });
        }
        let q = room / p;
        let halves = |s: i64| match (2 * s).cmp(&room) {
            std::cmp::Ordering::Greater => 2 * (q - (room - s).max(0) / p),
            std::cmp::Ordering::Equal => q,
            std::cmp::Ordering::Less => 2 * (s / p),
        };
        out.push(Function { values: sizes.iter().map(|&s| halves(s)).collect(), unit: 2 * q });
    }
    for k in 1..=12_i64 {
        let rounded = |s: i64| {
            let t = (k + 1) * s;
            if t % room == 0 { s * k } else { t / room * room }
        };
        out.push(Function { values: sizes.iter().map(|&s| rounded(s)).collect(), unit: k * room });
    }
    out
}

/// For more kinds than this the area alone is reckoned with.
const MANY: usize = 5000;

/// The best product of dual feasible functions, in money. Only for one size of stock. It is worked out no further than to `enough`.
pub(super) fn functions(model: &Model, enough: i64) -> i64 {
    let [stock] = model.stocks.as_slice() else { return 0 };
    let (w, h) = stock.size;
    let n = model.kinds.len();
    if n > MANY {
        return 0;
    }
    let most = match n {
        0..=60 => 60,
        61..=200 => 30,
        _ => 12,
    };
    let first: Vec<i64> = model.kinds.iter().map(|k| k.size.0).collect();
    let second: Vec<i64> = model.kinds.iter().map(|k| k.size.1).collect();
    let across: Vec<i64> = first.iter().chain(&second).copied().collect();
    let upward: Vec<i64> = second.iter().chain(&first).copied().collect();
    let fit = |a: i64, b: i64| a <= w && b <= h;
    let way = |k: &Kind| {
        let demand = i128::from(k.demand);
        match (fit(k.size.0, k.size.1), k.free && fit(k.size.1, k.size.0)) {
            (true, true) => (Way::Either, demand),
            (false, true) => (Way::Turned, demand),
            _ => (Way::Given, demand),
        }
    };
    let ways: Vec<(Way, i128)> = model.kinds.iter().map(way).collect();
    let up = if model.bars {
        vec![Function { values: vec![1; 2 * n], unit: 1 }]
    } else {
        family(&upward, h, most)
    };
    let most = if model.bars { 200 } else { most };
    let mut sheets = 0_i64;
    for f in family(&across, w, most) {
        for g in &up {
            sheets = sheets.max(product(&f, g, &ways));
        }
        if sheets.saturating_mul(stock.cost) >= enough {
            break;
        }
    }
    sheets.saturating_mul(stock.cost)
}

/// How a kind lies on the sheet.
#[derive(Clone, Copy, Debug)]
enum Way {
    Given,
    Turned,
    Either,
}

/// How many sheets two functions prove, one in each direction.
fn product(f: &Function, g: &Function, ways: &[(Way, i128)]) -> i64 {
    let (given, turned) = (f.values.iter().zip(&g.values), f.values.iter().zip(&g.values).skip(ways.len()));
    let area = |(a, b): (&i64, &i64)| i128::from(*a) * i128::from(*b);
    let sum = given.zip(turned).zip(ways).map(|((given, turned), (way, demand))| {
        let value = match way {
            Way::Either => area(given).min(area(turned)),
            Way::Turned => area(turned),
            Way::Given => area(given),
        };
        value * demand
    });
    let (sum, unit) = (sum.sum::<i128>(), i128::from(f.unit) * i128::from(g.unit));
    if unit > 0 { i64::try_from((sum + unit - 1) / unit).unwrap_or(0) } else { 0 }
}
