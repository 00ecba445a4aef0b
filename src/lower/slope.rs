//! Units that follow the ceiling: their heights, and what a slope takes of their sides, shelves and backs.

use super::carcass::Between;
use super::shelf::Standing;
use super::{Lowering, codes};
use crate::diag::{Code, Diagnostic};
use crate::eval::{BackJoint, Carcass, Len, Profile, Slope};
use crate::parts::{RunId, Slant};
use crate::quantity::{Length, Round, some};
use crate::source::Span;
use std::sync::Arc;

/// Where a unit stands along its wall: its left face, and its width.
type Along = [Len; 2];

/// What a unit stays under: the line at the wall, over the level line, and the slope from there.
#[derive(Clone, Copy)]
pub(super) struct Under {
    low: Len,
    slope: Option<Slope>,
    gap: Len,
    head: Span,
}

impl Lowering<'_> {
    /// The carcass with the height that it has under the ceiling, and what it stays under; `None` where a message was given.
    pub(super) fn under_ceiling(
        &mut self,
        carcass: &Carcass,
        path: &str,
        run: Option<RunId>,
        along: Option<Along>,
    ) -> Option<(Carcass, Option<Under>)> {
        let Some(follow) = carcass.follow else { return Some((carcass.clone(), None)) };
        let model = self.model;
        let wall = run.and_then(|run| model.walls.get(model.runs.get(run.0 as usize)?.wall?));
        let ceiling = wall.zip(along).and_then(|(wall, along)| self.ceiling_over(&wall.ceiling, along));
        let (Some(wall), Some(ceiling)) = (wall, ceiling) else {
            // What is not read yet, the survey says.
            if wall.is_none_or(|wall| wall.unread.is_empty()) {
                let message = format!("no ceiling is read over `{path}`, which follows it");
                let told = Diagnostic::new(&codes::UNDER, message).at(follow.head, "this");
                let help =
                    "read the ceiling of the wall that its run stands `along`: `ceiling { above = .. }`";
                self.sink.push(told.help(help));
                return None;
            }
            return (!follow.height).then(|| (carcass.clone(), None));
        };
        let rule = "so much stays open under the ceiling";
        let low = self.graph.ledger.sum("at the wall", &[(1, ceiling), (-1, follow.gap)], rule);
        let under = Under { low, slope: wall.slope, gap: follow.gap, head: follow.head };
        let most = self.highest(carcass, under);
        if follow.height {
            if most.value.is_positive() {
                return Some((Carcass { height: most, ..carcass.clone() }, Some(under)));
            }
            let message = format!("the ceiling leaves no height for `{path}`");
            let blamed = [(ceiling, "the ceiling there"), (follow.gap, "what stays open under it")];
            let told = self.blame(Diagnostic::new(&codes::UNDER, message), Some(follow.head), "", &blamed);
            self.sink.push(told.help("readings of a ceiling count from the level line"));
            return None;
        }
        // Where a reading is still to be taken, what fits is not known yet.
        if carcass.height.value <= most.value || model.unread {
            return Some((carcass.clone(), Some(under)));
        }
        let fits = self.marks().print_rounded(most.value, Round::Down);
        let message =
            format!("`{path}` is {} high, and under its ceiling fit {fits}", self.print(carcass.height));
        let blamed = [(carcass.height, "its height"), (most, "this decides what fits")];
        let told = self.blame(Diagnostic::new(&codes::UNDER, message), Some(follow.head), "", &blamed);
        let help = format!("make it {fits}, or leave its `height` out: then it is as high as fits");
        self.sink.push(told.help(help));
        None
    }

    /// The lowest ceiling from the left to the right face of a unit.
    fn ceiling_over(&mut self, ceiling: &Profile, [x, width]: Along) -> Option<Len> {
        let right = self.graph.ledger.sum("right face of the unit", &[(1, x), (1, width)], "");
        let within = |at: Length| x.value < at && at < right.value;
        let mut all: Vec<Len> =
            ceiling.points.iter().filter(|(at, _)| within(at.value)).map(|(_, above)| *above).collect();
        for face in [x, right] {
            all.push(self.ceiling_at(ceiling, face)?);
        }
        self.graph.ledger.least("lowest ceiling over the unit", &all, "from its left to its right face")
    }

    /// The ceiling at a place: straight between two readings, held beyond the last.
    fn ceiling_at(&mut self, ceiling: &Profile, place: Len) -> Option<Len> {
        let after = ceiling.points.iter().position(|(at, _)| at.value >= place.value);
        let Some(after) = after else { return ceiling.points.last().map(|(_, above)| *above) };
        let (to, high) = ceiling.points.get(after)?;
        let Some((from, low)) = after.checked_sub(1).and_then(|before| ceiling.points.get(before)) else {
            return Some(*high);
        };
        let ledger = &mut self.graph.ledger;
        let off = ledger.sum("from the reading before", &[(1, place), (-1, *from)], "");
        let apart = ledger.sum("from reading to reading", &[(1, *to), (-1, *from)], "");
        let rise = ledger.sum("rise between the readings", &[(1, *high), (-1, *low)], "");
        let own = ledger.scaled("rise up to the face", off, [rise, apart], "straight between two readings");
        Some(ledger.sum("ceiling at the face", &[(1, *low), (1, own)], "straight between two readings"))
    }

    /// The greatest height under a ceiling: that of the front edges where it rises towards the room, else that at the wall.
    fn highest(&mut self, carcass: &Carcass, under: Under) -> Len {
        let Some(slope) = under.slope.filter(|slope| !slope.falls) else {
            let rule = "the least that the ceiling leaves over its width";
            return self.graph.ledger.sum("height", &[(1, under.low)], rule);
        };
        let mut terms = vec![(1, carcass.depth)];
        terms.extend(carcass.edge.as_ref().and_then(|edge| edge.thickness).map(|edge| (-1, edge)));
        let planted = carcass.back.filter(|back| matches!(back.joint, BackJoint::Planted));
        let planted = planted.and_then(|back| self.model.sheets.get(back.sheet.0));
        terms.extend(planted.map(|sheet| (1, sheet.thickness)));
        let ledger = &mut self.graph.ledger;
        let front = ledger.sum("from the wall to the front edges", &terms, "");
        let rise = ledger.scaled(
            "rise up to the front edges",
            front,
            [slope.by, slope.over],
            "as the ceiling rises",
        );
        let rule = "the ceiling over the front edges";
        let sloped = ledger.sum("height under the slope", &[(1, under.low), (1, rise)], rule);
        let level = slope.level.map(|level| {
            ledger.sum(
                "height under the level ceiling",
                &[(1, level), (-1, under.gap)],
                "where the slope ends",
            )
        });
        let all: Vec<Len> = std::iter::once(sloped).chain(level).collect();
        ledger.least("height", &all, "as high as fits").unwrap_or(sloped)
    }

    /// What a slope takes of the sides of a carcass, which stand so far from the wall on a base so high; `Err` where a message
    /// was given.
    pub(super) fn slant(
        &mut self,
        carcass: &Carcass,
        path: &str,
        under: Option<Under>,
        (rear, stands): (Len, Option<Len>),
    ) -> Result<Option<Slant>, ()> {
        let Some((under, slope)) = under.and_then(|under| Some((under, under.slope?))) else {
            return Ok(None);
        };
        let measure = [slope.by, slope.over];
        let ledger = &mut self.graph.ledger;
        let mut terms = vec![(1, under.low)];
        terms.extend(stands.map(|stands| (-1, stands)));
        let low = ledger.sum("slope at the wall", &terms, "from the bottom end of the sides");
        let front = ledger.sum("front edge", &[(1, rear), (1, carcass.depth)], "");
        let (off, sign) = if slope.falls { (front, -1) } else { (rear, 1) };
        let rise = ledger.scaled("the slope's own", off, measure, "as the ceiling slopes");
        let rule = if slope.falls { "up to the slope at the front" } else { "up to the slope at the rear" };
        let edge = ledger.sum("shorter edge of the sides", &[(1, low), (sign, rise)], rule);
        if edge.value >= carcass.height.value {
            return Ok(None);
        }
        if !edge.value.is_positive() {
            let message = format!("the slope meets the floor under the sides of `{path}`");
            let blamed = [(edge, "it follows from this")];
            let told = Diagnostic::new(&codes::KNEE, message);
            let told = self.blame(told, Some(under.head), "this unit", &blamed);
            self.sink.push(
                told.help("make its plinth lower or the unit less deep, or let it stand before a knee wall"),
            );
            return Err(());
        }
        let mut from = Slant {
            low,
            by: slope.by,
            over: slope.over,
            falls: slope.falls,
            gap: under.gap,
            edge,
            top: edge,
        };
        let begins = self.off_wall(&from, carcass.height);
        let terms = if slope.falls { [(1, begins), (-1, rear)] } else { [(1, front), (-1, begins)] };
        from.top = self.graph.ledger.sum("top ends of the sides", &terms, "what the slope leaves of them");
        Ok(Some(from))
    }

    /// How far from the wall a slope is so high.
    fn off_wall(&mut self, slant: &Slant, height: Len) -> Len {
        let ledger = &mut self.graph.ledger;
        let terms = if slant.falls { [(1, slant.low), (-1, height)] } else { [(1, height), (-1, slant.low)] };
        let rise = ledger.sum("over the slope at the wall", &terms, "");
        ledger.scaled("off the wall", rise, [slant.over, slant.by], "where the slope is so high")
    }

    /// From the wall to the rear edge of a shelf, and its depth: under a slope it ends where its upper edge meets that.
    pub(super) fn deep_at(&mut self, between: &Between<'_>, underside: Len) -> [Len; 2] {
        let whole = [between.rear, between.deep];
        let Some(slant) = between.slant else { return whole };
        let ledger = &mut self.graph.ledger;
        let top = ledger.sum("top of the shelf", &[(1, underside), (1, between.thickness)], "");
        let front = ledger.sum("front edge", &[(1, between.rear), (1, between.deep)], "");
        let off = self.off_wall(&slant, top);
        let ledger = &mut self.graph.ledger;
        let rule = "it ends where its upper edge meets the slope";
        match slant.falls {
            true if off.value < front.value => {
                [between.rear, ledger.sum("width", &[(1, off), (-1, between.rear)], rule)]
            }
            false if off.value > between.rear.value => {
                [off, ledger.sum("width", &[(1, front), (-1, off)], rule)]
            }
            _ => whole,
        }
    }

    /// Whether a shelf reaches the wall behind it.
    pub(super) fn at_wall(&mut self, between: &Between<'_>, underside: Len) -> bool {
        between.slant.is_none() || self.deep_at(between, underside)[0].value == between.rear.value
    }

    /// The rows of a stick that a unit which follows the ceiling has room for; the others are left out, and said.
    pub(super) fn that_fit<'a>(
        &mut self,
        between: &Between<'_>,
        rows: Vec<Standing<'a>>,
    ) -> Option<Vec<Standing<'a>>> {
        let carcass = between.carcass;
        let Some(follow) = carcass.follow.filter(|_| carcass.levels.is_empty()) else { return Some(rows) };
        let (mut fit, mut out): (Vec<Standing<'a>>, Vec<Arc<str>>) = (Vec::new(), Vec::new());
        for row in rows {
            let top = row.mark.height.value.checked_add(between.thickness.value);
            let over =
                (follow.height || self.model.unread) && top.is_some_and(|top| top > carcass.height.value);
            if over || !self.deep_at(between, row.mark.height)[1].value.is_positive() {
                out.push(row.mark.name);
            } else {
                fit.push(row);
            }
        }
        let Some(first) = out.first() else { return Some(fit) };
        let Some(last) = fit.last() else {
            let message = format!("no shelf of `{}` fits under its ceiling", between.path);
            self.slope_told(
                &codes::CUTS_OFF,
                message,
                follow.head,
                "move its lowest mark down, or leave the unit out",
            );
            return None;
        };
        let more = match out.len() {
            1 => String::new(),
            count => format!(" and {}", some(count - 1, "other shelf")),
        };
        let message = format!("`{first}`{more} of `{}` would stand over its ceiling: not made", between.path);
        let help = format!("its last shelf is `{}`, at {}", last.mark.name, self.print(last.mark.height));
        let told = Diagnostic::new(&codes::LEFT_OUT, message).at(follow.head, "it follows the ceiling");
        self.sink.push(told.about(between.path.as_str()).help(help));
        Some(fit)
    }

    /// Says which shelves of a unit have no cleat, since the slope and no wall is behind them.
    pub(super) fn without_cleats(&mut self, between: &Between<'_>, marks: &[Len]) {
        let carcass = between.carcass;
        let (Some(follow), Some(_), Some(_)) = (carcass.follow, between.slant, carcass.cleat) else { return };
        let mut bare = 0;
        for mark in marks {
            bare += usize::from(!self.at_wall(between, *mark));
        }
        if bare == 0 {
            return;
        }
        let (shelves, them) = (some(bare, "shelf"), if bare == 1 { "it" } else { "them" });
        let message =
            format!("no cleat hangs under {shelves} of `{}`: no wall is behind {them}", between.path);
        let told = Diagnostic::new(&codes::LEFT_OUT, message).at(follow.head, "it follows the ceiling");
        let help =
            "glue and nails in the sides hold it; cleats under the shelves below hold the unit to the wall";
        self.sink.push(told.about(between.path.as_str()).help(help));
    }

    /// Says that a slope cuts a shelf off.
    pub(super) fn cut_off(&mut self, between: &Between<'_>, path: &str, underside: Len) {
        let Some(follow) = between.carcass.follow else { return };
        let message = format!("the slope cuts off `{path}`: nothing is left of its depth");
        let blamed = [(underside, "its underside follows from this")];
        let told = self.blame(Diagnostic::new(&codes::CUTS_OFF, message), Some(follow.head), "", &blamed);
        let help = match between.slant.and_then(|slant| self.highest_shelf(between, &slant)) {
            Some(most) => {
                format!("undersides in it lie under {most}: set it lower, or make the unit deeper")
            }
            None => "set it lower, or make the unit deeper".to_owned(),
        };
        self.sink.push(told.help(help));
    }

    /// The highest underside that leaves something of a shelf, as it is printed.
    fn highest_shelf(&self, between: &Between<'_>, slant: &Slant) -> Option<String> {
        let front = between.rear.value.checked_add(between.deep.value)?;
        let edge = slant.at(if slant.falls { between.rear.value } else { front })?;
        let most = edge.checked_sub(between.thickness.value)?;
        Some(self.marks().print_rounded(most, Round::Down).text().to_owned())
    }

    /// The length of a back from the lowest shelf up to a slope that rises from behind it; `None` where that takes nothing of it.
    pub(super) fn back_under(&mut self, between: &Between<'_>, joint: BackJoint, lowest: Len) -> Option<Len> {
        let slant = between.slant.filter(|slant| !slant.falls)?;
        let ledger = &mut self.graph.ledger;
        let mut terms = vec![(1, slant.low), (-1, lowest)];
        if let BackJoint::Groove { set_in, .. } = joint {
            let rule = "as the ceiling rises up to its rear face";
            terms.push((1, ledger.scaled("rise of the slope", set_in, [slant.by, slant.over], rule)));
        }
        Some(ledger.sum("length", &terms, "from the underside of the lowest shelf to the slope"))
    }

    /// Whether a slope leaves room for what stands on, before and over the sides; says what it has none for.
    pub(super) fn stands_under(&mut self, between: &Between<'_>) -> bool {
        let (Some(slant), Some(follow)) = (between.slant, between.carcass.follow) else { return true };
        let carcass = between.carcass;
        let top = carcass.top_stretcher;
        let stretcher = top.is_some_and(|top| if slant.falls { top.front } else { top.rear });
        let (what, help) = if carcass.counter.is_some() {
            ("a counter on its sides", "take it back, or end the unit under the knee of the slope")
        } else if between.crowned {
            ("a crown over its front", "a crown needs a level ceiling over all units of its run")
        } else if slant.falls
            && (between.facing.is_some() || !carcass.doors.is_empty() || !carcass.drawers.is_empty())
        {
            let help = "what stands there would be cut too: leave its front edges bare, or with an `edge`";
            ("a facing or doors before its cut front", help)
        } else if stretcher {
            let help = if slant.falls { "state `at = rear`" } else { "state `at = front`" };
            ("a top stretcher in the corner that is cut off", help)
        } else {
            return true;
        };
        let message = format!("`{}` has {what}, where the slope leaves no room", between.path);
        self.slope_told(&codes::NO_ROOM, message, follow.head, help);
        false
    }

    pub(super) fn slope_told(&mut self, code: &'static Code, message: String, head: Span, help: &str) {
        self.sink.push(Diagnostic::new(code, message).at(head, "it follows the ceiling").help(help));
    }
}
