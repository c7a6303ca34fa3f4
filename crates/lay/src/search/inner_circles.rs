//! Inner circles: how much two shapes overlap, without cutting them.

use jagua_rs::geometry::Transformation;
use jagua_rs::geometry::primitives::Circle;

/// Columns are filled up to a multiple of this with circles of no size, so that they are summed several at once in a fixed order.
const LANES: usize = 8;

/// Circles inside a shape, as columns.
#[derive(Clone, Debug, Default)]
pub(crate) struct InnerCircles {
    xs: Vec<[f32; LANES]>,
    ys: Vec<[f32; LANES]>,
    radii: Vec<[f32; LANES]>,
}

impl InnerCircles {
    /// The circles, each grown by `by`.
    pub(crate) fn of(circles: &[Circle], by: f32) -> Self {
        let column = |value: &dyn Fn(&Circle) -> f32, none: f32| {
            circles
                .chunks(LANES)
                .map(|chunk| std::array::from_fn(|lane| chunk.get(lane).map_or(none, value)))
                .collect()
        };
        // What fills up lies on the first circle, so that no number grows out of hand.
        let first = circles
            .first()
            .map_or((0.0, 0.0), |circle| (circle.center.0, circle.center.1));
        Self {
            xs: column(&|circle| circle.center.0, first.0),
            ys: column(&|circle| circle.center.1, first.1),
            radii: column(&|circle| circle.radius + by, 0.0),
        }
    }

    /// The circles of `from`, moved.
    pub(crate) fn moved_from(&mut self, from: &Self, move_by: &Transformation) {
        let [[a, b, x], [c, d, y], _] = move_by.matrix().map(|row| row.map(f32::from));
        self.xs.clear();
        self.ys.clear();
        self.radii.clone_from(&from.radii);
        for (px, py) in from.xs.iter().zip(&from.ys) {
            let lanes = || px.iter().zip(py);
            let mut moved = [[0.0; LANES]; 2];
            let [xs, ys] = &mut moved;
            for ((&px, &py), (to_x, to_y)) in lanes().zip(xs.iter_mut().zip(ys)) {
                *to_x = a * px + b * py + x;
                *to_y = c * px + d * py + y;
            }
            let [xs, ys] = moved;
            self.xs.push(xs);
            self.ys.push(ys);
        }
    }

    /// Whether some circle reaches deeper than `by` mm into one of these.
    pub(crate) fn reach_into(&self, asking: &[Circle], by: f32) -> bool {
        asking.iter().any(|circle| {
            let (x, y, r) = (circle.center.0, circle.center.1, circle.radius - by);
            let mut met = [false; LANES];
            for ((xs, ys), radii) in self.xs.iter().zip(&self.ys).zip(&self.radii) {
                for (met, ((&other_x, &other_y), &other_r)) in
                    met.iter_mut().zip(xs.iter().zip(ys).zip(radii))
                {
                    let (dx, dy, reach) = (x - other_x, y - other_y, (r + other_r).max(0.0));
                    *met |= dx * dx + dy * dy < reach * reach;
                }
            }
            met.contains(&true)
        })
    }

    /// Something like the area common to two shapes, mm2: for every pair of circles the depth to which they reach into each other
    /// times the smaller radius. Depths are bent smoothly into 0 over `soft` mm, so that pairs that just stay clear still say
    /// which way is out: `(d + sqrt(d^2 + 4 soft^2)) / 2`. Stops counting as soon as it is `enough`.
    pub(crate) fn common(&self, asking: &[Circle], soft: f32, enough: f32) -> f32 {
        let bend = 4.0 * soft * soft;
        let mut sums = [0.0_f32; LANES];
        for circle in asking {
            let (x, y, r) = (circle.center.0, circle.center.1, circle.radius);
            for ((xs, ys), radii) in self.xs.iter().zip(&self.ys).zip(&self.radii) {
                for (sum, ((&other_x, &other_y), &other_r)) in
                    sums.iter_mut().zip(xs.iter().zip(ys).zip(radii))
                {
                    let (dx, dy) = (x - other_x, y - other_y);
                    let depth = r + other_r - (dx * dx + dy * dy).sqrt();
                    *sum += (depth + (depth * depth + bend).sqrt()) * r.min(other_r);
                }
            }
            if sums.iter().sum::<f32>() * 0.5 >= enough {
                break;
            }
        }
        sums.iter().sum::<f32>() * 0.5
    }
}

#[cfg(test)]
mod tests {
    use jagua_rs::geometry::primitives::Point;

    use super::super::chance::Chance;
    use super::*;

    fn circles(chance: &mut Chance, count: usize, from: f32) -> Vec<Circle> {
        (0..count)
            .map(|_| Circle {
                center: Point(chance.between(from, from + 40.0), chance.between(0.0, 40.0)),
                radius: chance.between(0.1, 6.0),
            })
            .collect()
    }

    /// Every pair by itself, in f64.
    fn by_pairs(asking: &[Circle], lying: &[Circle], soft: f64) -> (f64, f64) {
        let (mut sum, mut deepest) = (0.0, f64::NEG_INFINITY);
        for a in asking {
            for b in lying {
                let apart = |a: f32, b: f32| f64::from(a) - f64::from(b);
                let (dx, dy) = (apart(a.center.0, b.center.0), apart(a.center.1, b.center.1));
                let depth = f64::from(a.radius + b.radius) - (dx * dx + dy * dy).sqrt();
                let smooth = (depth + (depth * depth + 4.0 * soft * soft).sqrt()) / 2.0;
                sum += smooth * f64::from(a.radius.min(b.radius));
                deepest = f64::max(deepest, depth);
            }
        }
        (sum, deepest)
    }

    #[test]
    fn circles_are_counted_as_pair_by_pair() {
        let mut chance = Chance::new(11);
        let (mut reached, mut clear) = (0, 0);
        for round in 0..400 {
            // From lying over each other to well apart, and any number of circles over the last full row.
            let from = round as f32 * 0.2;
            let (few, many) = (1 + round % 9, 3 + round % 27);
            let asking = circles(&mut chance, few, 0.0);
            let lying = circles(&mut chance, many, from);
            let inner = InnerCircles::of(&lying, 0.0);
            let (sum, deepest) = by_pairs(&asking, &lying, 0.5);
            let all = inner.common(&asking, 0.5, f32::INFINITY);
            assert!(
                (f64::from(all) - sum).abs() <= 1e-3 * (1.0 + sum),
                "{all} {sum}"
            );
            let enough = all * 0.4;
            assert!((enough..=all).contains(&inner.common(&asking, 0.5, enough)));
            if (deepest - 0.01).abs() > 1e-3 {
                assert_eq!(inner.reach_into(&asking, 0.01), deepest > 0.01, "{round}");
            }
            *(if deepest > 0.01 {
                &mut reached
            } else {
                &mut clear
            }) += 1;
        }
        assert!(reached > 50 && clear > 50, "{reached} {clear}");
    }
}
