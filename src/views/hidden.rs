//! What of a line is seen: what stands later, and is closed, hides what lies behind it.

use super::picture::{Filled, Form, Shape};
use crate::document::Point;

/// An outline as it hides: rectangles between its corners, along which all of it can be cut.
struct Cover {
    /// Left, lower, right and upper end.
    around: [f64; 4],
    /// Its corners.
    corners: Vec<Point>,
}

/// A stretch of a line from one place to another.
pub(super) type Stretch = [Point; 2];

/// What is seen of the outlines of shapes, each as stretches, in the order of the shapes; all in one measure, to the right and up.
/// Equal lengths stay equal in floating point, so that edges that lie on each other are no riddle.
pub(super) fn seen(shapes: &[(&Shape, Vec<Point>)]) -> Vec<Vec<Stretch>> {
    let covers: Vec<Option<Cover>> = shapes.iter().map(|(shape, points)| cover(shape, points)).collect();
    let mut all = Vec::new();
    for (place, (shape, points)) in shapes.iter().enumerate() {
        let closed = matches!(shape.form, Form::Outline(_));
        let back = points.first().copied().filter(|_| closed);
        let ends = points.iter().copied().chain(back);
        let stretches = ends.clone().zip(ends.skip(1)).filter(|(from, to)| !same(*from, *to));
        let mut left: Vec<Stretch> = stretches.map(|(from, to)| [from, to]).collect();
        // A line that shows what is behind is meant to be seen.
        if shape.line.shows_through() {
            all.push(left);
            continue;
        }
        for cover in covers.iter().skip(place + 1).flatten() {
            if left.iter().any(|stretch| cover.meets(*stretch)) {
                left = left.into_iter().flat_map(|stretch| cover.uncovered(stretch)).collect();
            }
        }
        all.push(left);
    }
    all
}

fn same([ax, ay]: Point, [bx, by]: Point) -> bool {
    (ax - bx).abs() < 1e-9 && (ay - by).abs() < 1e-9
}

fn cover(shape: &Shape, points: &[Point]) -> Option<Cover> {
    if shape.fill == Filled::Open || !matches!(shape.form, Form::Outline(_)) {
        return None;
    }
    let of = |axis: fn(&Point) -> f64, pick: fn(f64, f64) -> f64| points.iter().map(axis).reduce(pick);
    let around = [
        of(|[x, _]| *x, f64::min)?,
        of(|[_, y]| *y, f64::min)?,
        of(|[x, _]| *x, f64::max)?,
        of(|[_, y]| *y, f64::max)?,
    ];
    Some(Cover { around, corners: points.to_vec() })
}

impl Cover {
    fn meets(&self, [[ax, ay], [bx, by]]: Stretch) -> bool {
        let [left, low, right, high] = self.around;
        ax.max(bx) > left && ax.min(bx) < right && ay.max(by) > low && ay.min(by) < high
    }

    /// What of a stretch lies outside, or on the edge.
    fn uncovered(&self, stretch: Stretch) -> Vec<Stretch> {
        if !self.meets(stretch) {
            return vec![stretch];
        }
        let [[ax, ay], [bx, by]] = stretch;
        let (dx, dy) = (bx - ax, by - ay);
        let at = |share: f64| [ax + dx * share, ay + dy * share];
        // Where it crosses an edge, as a share of its way.
        let mut cuts = vec![0.0, 1.0];
        let edges = self.corners.iter().zip(self.corners.iter().cycle().skip(1));
        for ([px, py], [qx, qy]) in edges {
            let (ex, ey) = (qx - px, qy - py);
            let cross = dx * ey - dy * ex;
            if cross.abs() < 1e-12 {
                // Along it: its ends are where something may begin.
                let long = dx * dx + dy * dy;
                cuts.push(((px - ax) * dx + (py - ay) * dy) / long);
                continue;
            }
            let along = ((px - ax) * ey - (py - ay) * ex) / cross;
            let over = ((px - ax) * dy - (py - ay) * dx) / cross;
            if (-1e-9..=1.0 + 1e-9).contains(&over) {
                cuts.push(along);
            }
        }
        cuts.retain(|share| (0.0..=1.0).contains(share));
        cuts.sort_by(f64::total_cmp);
        let mut left: Vec<Stretch> = Vec::new();
        for (from, to) in cuts.iter().zip(cuts.iter().skip(1)).filter(|(from, to)| *to - *from > 1e-9) {
            if !self.holds(at((from + to) / 2.0)) {
                match left.last_mut().filter(|[_, end]| same(*end, at(*from))) {
                    Some([_, end]) => *end = at(*to),
                    None => left.push([at(*from), at(*to)]),
                }
            }
        }
        left
    }

    /// Whether a place lies inside, and not on the edge.
    fn holds(&self, [x, y]: Point) -> bool {
        let mut inside = false;
        for ([px, py], [qx, qy]) in self.corners.iter().zip(self.corners.iter().cycle().skip(1)) {
            let (ex, ey) = (qx - px, qy - py);
            let long = (ex * ex + ey * ey).sqrt();
            let away = (ex * (y - py) - ey * (x - px)) / long.max(1e-12);
            let along = (ex * (x - px) + ey * (y - py)) / long.max(1e-12);
            if away.abs() < 1e-7 && (-1e-7..=long + 1e-7).contains(&along) {
                return false;
            }
            if (py > &y) != (qy > &y) && x < ex * (y - py) / ey + px {
                inside = !inside;
            }
        }
        inside
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Line;
    use crate::quantity::{Length, Rational};

    fn shape(corners: [[i128; 2]; 4], fill: Filled) -> Shape {
        let mm = |mm: i128| Length::from_mm(Rational::from(mm));
        let form = Form::Outline(corners.iter().map(|spot| spot.map(mm)).collect());
        Shape { of: String::new(), what: "side", form, line: Line::Outline, fill }
    }

    fn points(shape: &Shape) -> Vec<Point> {
        shape.form.spots().iter().map(|spot| spot.map(Length::to_mm_f64)).collect()
    }

    fn long(stretches: &[Stretch]) -> f64 {
        stretches.iter().map(|[[ax, ay], [bx, by]]| (bx - ax).abs() + (by - ay).abs()).sum()
    }

    /// A square of 100 behind one of 50 that lies over its corner: 400 less 2 x 50, and no more than that.
    #[test]
    fn what_stands_before_hides_what_lies_behind() {
        let rear = shape([[0, 0], [100, 0], [100, 100], [0, 100]], Filled::Closed);
        let over = |fill| shape([[50, 50], [150, 50], [150, 150], [50, 150]], fill);
        let both = |fill| {
            let front = over(fill);
            let all = [(&rear, points(&rear)), (&front, points(&front))];
            seen(&all).iter().map(|stretches| long(stretches)).collect::<Vec<_>>()
        };
        assert_eq!(both(Filled::Closed), [300.0, 400.0]);
        assert_eq!(both(Filled::Open), [400.0, 400.0]);
        // One beside it with a common edge hides nothing.
        let beside = shape([[100, 0], [150, 0], [150, 100], [100, 100]], Filled::Closed);
        let all = [(&rear, points(&rear)), (&beside, points(&beside))];
        assert!((long(&seen(&all)[0]) - 400.0).abs() < 1e-9);
    }
}
