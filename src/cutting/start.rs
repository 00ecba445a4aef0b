//! First plans: strips by falling height, filled first-fit, then stacked first-fit (Coffman, Garey, Johnson, Tarjan 1980),
//! and a sheet-by-sheet filling for jobs with several sizes of stock.

use super::layout::{CutSheet, Item, Layout, Strip, counts, height, repeats, subtract, tidy_up};
use super::model::{At, Mode, Model, Opt};

/// Order in which parts are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Order {
    /// Highest first, then longest.
    Height,
    /// Highest first, then most wanted.
    Number,
    /// Largest area first.
    Area,
}

/// All orders.
pub(super) const ORDERS: [Order; 3] = [Order::Height, Order::Number, Order::Area];

fn sorted(mode: &Mode, residual: &[i64], order: Order) -> Vec<Opt> {
    let mut opts: Vec<Opt> = mode.opts.iter().filter(|o| residual.at(o.kind) > 0).copied().collect();
    match order {
        Order::Height => {
            opts.sort_by(|a, b| b.ht.cmp(&a.ht).then(b.len.cmp(&a.len)).then(a.kind.cmp(&b.kind)))
        }
        Order::Number => {
            let many = |o: &Opt| residual.at(o.kind);
            opts.sort_by(|a, b| {
                b.ht.cmp(&a.ht).then(many(b).cmp(&many(a))).then(b.len.cmp(&a.len)).then(a.kind.cmp(&b.kind))
            });
        }
        Order::Area => {
            let area = |o: &Opt| o.ht.saturating_mul(o.len);
            opts.sort_by(|a, b| area(b).cmp(&area(a)).then(b.ht.cmp(&a.ht)).then(a.kind.cmp(&b.kind)));
        }
    }
    opts
}

/// One strip, opened by the first option that fits and filled first-fit with what is not higher.
fn strip(mode: &Mode, opts: &[Opt], left: &mut [i64], room: i64, exact: bool) -> Strip {
    let mut out = Strip::new();
    let (mut top, mut free) = (room, mode.len);
    for opt in opts {
        let fits = if exact && !out.is_empty() { opt.ht == top } else { opt.ht <= top };
        let n = left.at(opt.kind).min(free / opt.len);
        if !fits || n <= 0 {
            continue;
        }
        if out.is_empty() {
            top = opt.ht;
        }
        free -= n * opt.len;
        if let Some(l) = left.get_mut(opt.kind) {
            *l -= n;
        }
        out.extend(std::iter::repeat_n(
            Item { ht: opt.ht, len: opt.len, kind: opt.kind },
            usize::try_from(n).unwrap_or(0),
        ));
    }
    out
}

/// First-fit decreasing height in one mode of unlimited or sufficient stock.
pub(super) fn shelves(model: &Model, mode_index: usize, demand: &[i64], order: Order) -> Option<Layout> {
    let mode = model.modes.get(mode_index)?;
    let mut residual = demand.to_vec();
    let opts = sorted(mode, &residual, order);
    let mut strips: Vec<(Strip, i64)> = Vec::new();
    while residual.iter().any(|&r| r > 0) {
        let mut left = residual.clone();
        let one = strip(mode, &opts, &mut left, mode.room, model.exact);
        if one.is_empty() {
            return None;
        }
        let used = counts(one.iter(), residual.len());
        let n = repeats(&used, &residual);
        subtract(&mut residual, &used, n);
        strips.push((one, n));
    }
    stack(model, mode_index, strips)
}

/// Stacks strips first-fit by falling height.
pub(super) fn stack(model: &Model, mode_index: usize, mut strips: Vec<(Strip, i64)>) -> Option<Layout> {
    let mode = model.modes.get(mode_index)?;
    strips.sort_by_key(|s| std::cmp::Reverse(height(&s.0)));
    let mut layout = Layout::new();
    let mut stock = model.stocks.at(mode.stock).count;
    while strips.iter().any(|s| s.1 > 0) {
        let mut room = mode.room;
        let mut cut = CutSheet { mode: mode_index, strips: Vec::new() };
        let mut times = i64::MAX;
        for (strip, left) in &mut strips {
            let n = (*left).min(room / height(strip).max(1));
            if n > 0 {
                room -= n * height(strip);
                cut.strips.extend(std::iter::repeat_n(strip.clone(), usize::try_from(n).unwrap_or(0)));
                times = times.min(*left / n);
            }
        }
        if let Some(s) = &mut stock {
            times = times.min(*s);
            *s -= times;
        }
        if times <= 0 || cut.strips.is_empty() {
            return None;
        }
        let mut room = mode.room;
        for (strip, left) in &mut strips {
            let n = (*left).min(room / height(strip).max(1));
            if n > 0 {
                room -= n * height(strip);
                *left -= n * times;
            }
        }
        layout.push((cut, times));
    }
    Some(tidy_up(layout))
}

/// More kinds than this are not laid together.
pub(super) const TOGETHER: usize = 1000;

/// For very many kinds: about so many at a time, of all sizes, sheet by sheet. All together would take time with the square
/// of their number. Gives the layout and what found no place.
pub(super) fn in_turns(model: &Model, demand: &[i64], order: Order) -> (Layout, Vec<i64>) {
    let turns = demand.len().div_ceil(TOGETHER);
    let mut stock: Vec<Option<i64>> = model.stocks.iter().map(|s| s.count).collect();
    let mut layout = Layout::new();
    let mut left = vec![0; demand.len()];
    for turn in 0..turns {
        let part = model.part(turn, turns, &stock);
        let (sheets, rest) = by_sheet(&part, &part.demand(), order);
        for (to, rest) in left.iter_mut().skip(turn).step_by(turns).zip(rest) {
            *to = rest;
        }
        for (mut cut, times) in sheets {
            for item in cut.strips.iter_mut().flatten() {
                item.kind = item.kind * turns + turn;
            }
            let place = model.modes.get(cut.mode).map_or(0, |m| m.stock);
            if let Some(Some(n)) = stock.get_mut(place) {
                *n -= times;
            }
            layout.push((cut, times));
        }
    }
    (tidy_up(layout), left)
}

/// One sheet filled with strips, each opened by the first option that fits.
fn filled((index, mode): (usize, &Mode), opts: &[Opt], residual: &[i64], exact: bool) -> CutSheet {
    let mut left = residual.to_vec();
    let mut cut = CutSheet { mode: index, strips: Vec::new() };
    let mut room = mode.room;
    loop {
        let one = strip(mode, opts, &mut left, room, exact);
        if one.is_empty() {
            return cut;
        }
        room -= height(&one);
        cut.strips.push(one);
    }
}

/// Parts from sheets that cost something are laid on those that lie idle and cost nothing, the largest first. Nothing where no part
/// fits on any.
pub(super) fn at_hand(model: &Model, sheets: &[CutSheet]) -> Option<Vec<CutSheet>> {
    let mut sheets = sheets.to_vec();
    let mut idle: Vec<i64> =
        model.stocks.iter().map(|s| if s.cost == 0 { s.count.unwrap_or(0) } else { 0 }).collect();
    for cut in sheets.iter().filter(|cut| model.cost(cut.mode) == 0) {
        let stock = model.modes.get(cut.mode).map_or(usize::MAX, |mode| mode.stock);
        if let Some(n) = idle.get_mut(stock) {
            *n -= 1;
        }
    }
    let mut laid = false;
    for (index, mode) in model.modes.iter().enumerate() {
        while idle.at(mode.stock) > 0 {
            let bought = sheets.iter().filter(|cut| model.cost(cut.mode) > 0);
            let there = counts(bought.flat_map(CutSheet::items), model.kinds.len());
            let cut = filled((index, mode), &sorted(mode, &there, Order::Area), &there, model.exact);
            if cut.strips.is_empty() {
                break;
            }
            for item in cut.items() {
                take(model, &mut sheets, item.kind);
            }
            sheets.push(cut);
            laid = true;
            if let Some(n) = idle.get_mut(mode.stock) {
                *n -= 1;
            }
        }
    }
    laid.then_some(sheets)
}

/// Takes a part from the sheet of those that cost something which holds least.
fn take(model: &Model, sheets: &mut Vec<CutSheet>, kind: usize) {
    let holds = |cut: &&mut CutSheet| model.cost(cut.mode) > 0 && cut.items().any(|item| item.kind == kind);
    let Some(cut) = sheets.iter_mut().filter(holds).min_by_key(|cut| cut.area()) else { return };
    for strip in &mut cut.strips {
        if let Some(place) = strip.iter().position(|item| item.kind == kind) {
            strip.remove(place);
            break;
        }
    }
    cut.strips.retain(|strip| !strip.is_empty());
    sheets.retain(|cut| !cut.strips.is_empty());
}

/// Sheet by sheet, each of the mode that costs least for the area it holds; stock that costs nothing goes first.
/// Gives the layout and what found no place.
pub(super) fn by_sheet(model: &Model, demand: &[i64], order: Order) -> (Layout, Vec<i64>) {
    let mut residual = demand.to_vec();
    let mut stock: Vec<Option<i64>> = model.stocks.iter().map(|s| s.count).collect();
    let mut layout = Layout::new();
    let mut orders: Vec<Vec<Opt>> = model.modes.iter().map(|mode| sorted(mode, &residual, order)).collect();
    while residual.iter().any(|&r| r > 0) {
        let mut best: Option<(i128, i128, CutSheet)> = None;
        for (index, (mode, opts)) in model.modes.iter().zip(&mut orders).enumerate() {
            if stock.at(mode.stock).is_some_and(|n| n <= 0) {
                continue;
            }
            opts.retain(|o| residual.at(o.kind) > 0);
            let cut = filled((index, mode), opts, &residual, model.exact);
            let (area, price) = (i128::from(cut.area()), i128::from(model.cost(index)));
            let better = match &best {
                None => true,
                Some((a, p, _)) => price * a < p * area || price * a == p * area && area > *a,
            };
            if area > 0 && better {
                best = Some((area, price, cut));
            }
        }
        let Some((_, _, cut)) = best else { break };
        let used = cut.counts(residual.len());
        let mut times = repeats(&used, &residual);
        let place = model.modes.get(cut.mode).map_or(0, |m| m.stock);
        if let Some(Some(s)) = stock.get_mut(place) {
            times = times.min(*s);
            *s -= times;
        }
        subtract(&mut residual, &used, times);
        layout.push((cut, times));
    }
    (tidy_up(layout), residual)
}
