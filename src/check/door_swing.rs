//! A door swings clear of the work.

use super::helpers::place::{Against, against, at_least, length};
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, DoorLeaf, InWall, RoomOpening};
use crate::parts::Bounds;
use crate::quantity::Length;
use crate::real::Real;

code!(
    Error,
    CODE,
    "C066",
    "door_swing",
    "a door whose leaf hits the work",
    "A leaf swings through a quarter of a circle about its hinges. What stands in that quarter is hit before the door is open \
     at a right angle. Plane geometry, an estimate: knobs and stops need room of their own.",
    with_example
);

/// Each door of a room that swings in, against the runs of the wall.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for against in against(subject) {
        let Some(reach) = against.reach(subject) else { continue };
        let mut boxes = against.boxes(subject);
        boxes.extend(against.hung(subject));
        boxes.extend(against.things().into_iter().map(|(.., bounds)| bounds));
        for opening in against.wall.openings.iter().filter(|opening| opening.decided != Decided::Remove) {
            let Some(leaf) = opening.leaf else { continue };
            let Some(swing) = Swing::of(&against, opening, leaf, &reach) else { continue };
            // Units may differ in depth: each is met by itself, and what hangs over the leaf is not.
            let top = opening.up[1].value;
            let met = boxes
                .iter()
                .filter(|bounds| bounds[2][0] < top)
                .filter_map(|bounds| Some((swing.nearest(bounds).and_then(length)?, bounds)));
            let Some((near, hit)) = met.min_by_key(|(near, _)| *near) else { continue };
            let told =
                (near < leaf.width.value).then(|| told(subject, &against, opening, (leaf, &swing, hit)));
            let what = "from a door's hinges to the work in its swing";
            report.take(at_least(&CODE, &opening.name, what, [near, leaf.width.value], told));
        }
    }
}

/// The quarter that a leaf sweeps, in millimetres: the hinge, and which way the quarter opens from it.
struct Swing {
    hinge: [f64; 2],
    /// Towards greater or lesser x, and y.
    way: [f64; 2],
    leaf: f64,
}

impl Swing {
    fn of(against: &Against<'_>, opening: &RoomOpening, leaf: DoorLeaf, reach: &Bounds) -> Option<Self> {
        let [near, far] = opening.along.map(|len| len.value.to_mm_f64());
        let (at, way) = if leaf.far { (far, -1.0) } else { (near, 1.0) };
        let width = leaf.width.value.to_mm_f64();
        let (hinge, way) = match opening.wall {
            InWall::This => ([at, 0.0], [way, 1.0]),
            InWall::Opposite => ([at, opening.off?.value.to_mm_f64()], [way, -1.0]),
            InWall::Return { right: false } => ([0.0, at], [1.0, way]),
            InWall::Return { right: true } => {
                let widths = against.wall.readings.iter().filter_map(|reading| reading.back);
                let wall = widths.map(|width| width.value).max().unwrap_or(reach[0][1]);
                ([wall.to_mm_f64(), at], [-1.0, way])
            }
        };
        Some(Self { hinge, way, leaf: width })
    }

    /// How far the nearest point of the work in the quarter is from the hinge; `None` where none lies in it.
    fn nearest(&self, reach: &Bounds) -> Option<f64> {
        let mut square = 0.0;
        for ((hinge, way), work) in self.hinge.iter().zip(self.way).zip(reach) {
            let [low, high] = work.map(Length::to_mm_f64);
            // From the hinge into the quarter.
            let (from, to) =
                if way > 0.0 { (low - hinge, high - hinge) } else { (hinge - high, hinge - low) };
            if to <= 0.0 {
                return None;
            }
            square += from.max(0.0).squared();
        }
        Some(square.sqrt())
    }

    /// The deepest work along this wall that the leaf passes.
    fn deepest(&self, reach: &Bounds) -> Option<f64> {
        let [low, high] = reach[0].map(Length::to_mm_f64);
        let aside = if self.way[0] > 0.0 { low - self.hinge[0] } else { self.hinge[0] - high };
        let swept = (self.leaf.squared() - aside.max(0.0).squared()).max(0.0).sqrt();
        // Towards this wall the leaf reaches that far from its hinge; away from it, it is nowhere nearer than the hinge.
        let clear = if self.way[1] < 0.0 { self.hinge[1] - swept } else { self.hinge[1] };
        (clear > 0.0).then_some(clear)
    }
}

fn told(
    subject: &Subject<'_>,
    against: &Against<'_>,
    opening: &RoomOpening,
    (leaf, swing, hit): (DoorLeaf, &Swing, &Bounds),
) -> Diagnostic {
    let message = format!("the leaf of the {} hits `{}` as it opens", opening.word, against.run.path);
    let at = format!("its leaf of {} swings into the room", subject.print(leaf.width.value));
    let mut diagnostic =
        Diagnostic::new(&CODE, message).at(opening.head, at).about(against.run.path.as_str());
    if let Some(head) = against.stated.head {
        let deep = subject.print(hit[1][1]);
        diagnostic = diagnostic.and_at(head, format!("its front is {deep} from the wall"));
    }
    if let Some(deepest) = swing.deepest(hit).and_then(length) {
        let said = subject.most(deepest);
        diagnostic = diagnostic.help(format!("the leaf passes a front {said} from the wall, no deeper"));
    }
    if opening.wall == InWall::This {
        let [low, high] = opening.along.map(|len| len.value);
        diagnostic = diagnostic.help(format!(
            "keep out of its swing: a unit left of it ends at {} or less, one right of it begins at {} or more",
            subject.most(low),
            subject.least(high)
        ));
    }
    diagnostic.help("or let it swing out of the room: `swing = out`")
}
