//! What lies on the table, blob by blob, and the line round each: marching squares, between the small pixels.

use petitoile_core::kurbo::Point;

use super::ground::{GroundField, Small};
use super::level::median;

/// Smallest distance in colour that counts as something else than table.
const LEAST: f32 = 4.0;
/// A blob has at least so many small pixels.
pub(super) const SMALLEST_BLOB: usize = 60;
/// A hole has at least so many.
const SMALLEST_HOLE: f64 = 12.0;
/// Most holes that are traced in one piece.
const MOST_HOLES: usize = 200;
/// How much of a hole must look like table.
const TABLE_IN_HOLE: f64 = 0.6;

/// A joined thing on the table.
pub(super) struct Blob {
    number: u32,
    /// How many small pixels.
    pub size: usize,
    /// Does it reach the rim of what was looked at?
    pub at_rim: bool,
    /// Smallest and greatest place, small pixels.
    from: (usize, usize),
    to: (usize, usize),
}

/// All things on the table.
pub(super) struct Blobs {
    numbers: Vec<u32>,
    pub all: Vec<Blob>,
    limit: f32,
}

/// The lines round a thing, in pixels of the picture.
pub(super) struct Lines {
    pub outer: Vec<Point>,
    /// The largest holes.
    pub holes: Vec<Vec<Point>>,
    /// How many smaller ones there are besides.
    pub more: usize,
}

/// Finds the joined things on the table, thin lines left out.
pub(super) fn blobs_of(
    small: &Small,
    ground: &GroundField,
    is_left_out: impl Fn(Point) -> bool,
) -> Blobs {
    let limit = (4.0 * ground.noise).max(LEAST);
    let mut mask: Vec<bool> = (0..small.pixels.len())
        .map(|i| {
            let is = |of: &[bool]| of.get(i).copied().unwrap_or(false);
            let (x, y) = small.place(i);
            is(&small.within)
                && !is(&ground.reached)
                && ground.off.get(i).is_some_and(|off| *off > limit)
                && !is_left_out(small.in_picture(x as f64, y as f64))
        })
        .collect();
    let thin = if small.by == 1 { 2 } else { 1 };
    for _ in 0..thin {
        mask = shrunk(small, &mask);
    }
    for _ in 0..thin {
        mask = grown(small, &mask);
    }
    let mut numbers = vec![0_u32; mask.len()];
    let mut all = Vec::new();
    for start in 0..mask.len() {
        if mask.get(start) == Some(&true) && numbers.get(start) == Some(&0) {
            all.push(flood(
                small,
                &mask,
                &mut numbers,
                start,
                all.len() as u32 + 1,
            ));
        }
    }
    Blobs {
        numbers,
        all,
        limit,
    }
}

fn shrunk(small: &Small, mask: &[bool]) -> Vec<bool> {
    let stays =
        |(i, on): (usize, &bool)| *on && small.neighbours(i).all(|j| mask.get(j) == Some(&true));
    mask.iter().enumerate().map(stays).collect()
}

fn grown(small: &Small, mask: &[bool]) -> Vec<bool> {
    let comes =
        |(i, on): (usize, &bool)| *on || small.neighbours(i).any(|j| mask.get(j) == Some(&true));
    mask.iter().enumerate().map(comes).collect()
}

fn flood(small: &Small, mask: &[bool], numbers: &mut [u32], start: usize, number: u32) -> Blob {
    let at = small.place(start);
    let mut blob = Blob {
        number,
        size: 0,
        at_rim: false,
        from: at,
        to: at,
    };
    let mut open = vec![start];
    if let Some(own) = numbers.get_mut(start) {
        *own = number;
    }
    while let Some(i) = open.pop() {
        let (x, y) = small.place(i);
        blob.size += 1;
        blob.from = (blob.from.0.min(x), blob.from.1.min(y));
        blob.to = (blob.to.0.max(x), blob.to.1.max(y));
        let mut around = 0;
        for j in small.neighbours(i) {
            around += usize::from(small.within.get(j) == Some(&true));
            if mask.get(j) == Some(&true)
                && let Some(own) = numbers.get_mut(j).filter(|own| **own == 0)
            {
                *own = number;
                open.push(j);
            }
        }
        blob.at_rim |= around < 4;
    }
    blob
}

impl Blobs {
    /// The thing at a point of the picture, or very near it.
    pub fn at(&self, small: &Small, p: Point) -> Option<&Blob> {
        let middle = small.index_at(p)?;
        let (x, y) = small.place(middle);
        let near = (-3_i64..=3).flat_map(|dy| (-3_i64..=3).map(move |dx| (dx, dy)));
        let mut near: Vec<(i64, usize)> = near
            .filter_map(|(dx, dy)| {
                let (x, y) = (x as i64 + dx, y as i64 + dy);
                let inside = x >= 0 && y >= 0 && x < small.width as i64 && y < small.height as i64;
                inside.then(|| (dx * dx + dy * dy, y as usize * small.width + x as usize))
            })
            .collect();
        near.sort_unstable();
        let number = near
            .iter()
            .filter_map(|(_, i)| self.numbers.get(*i))
            .find(|number| **number > 0)?;
        self.all.iter().find(|blob| blob.number == *number)
    }

    /// The lines round a thing and its holes, where the colour is half way from the table to it.
    pub fn lines(&self, small: &Small, ground: &GroundField, blob: &Blob) -> Option<Lines> {
        let window = Window::of(self, small, ground, blob)?;
        let mut loops = window.loops();
        loops.sort_by(|a, b| area(b).abs().total_cmp(&area(a).abs()));
        let mut loops = loops.into_iter();
        let outer = loops.next()?;
        let is_left = area(&outer) > 0.0;
        let mut holes: Vec<Vec<Point>> = loops
            .filter(|hole| (area(hole) > 0.0) != is_left)
            .filter(|hole| area(hole).abs() >= SMALLEST_HOLE)
            .filter(|hole| window.looks_like_table(hole))
            .map(|hole| in_picture(small, &hole))
            .collect();
        let more = holes.len().saturating_sub(MOST_HOLES);
        holes.truncate(MOST_HOLES);
        Some(Lines {
            outer: in_picture(small, &outer),
            holes,
            more,
        })
    }
}

fn in_picture(small: &Small, line: &[Point]) -> Vec<Point> {
    line.iter().map(|p| small.in_picture(p.x, p.y)).collect()
}

/// Area inside a closed line, by its turning sense.
pub(super) fn area(line: &[Point]) -> f64 {
    let next = line.iter().cycle().skip(1);
    line.iter()
        .zip(next)
        .map(|(a, b)| a.to_vec2().cross(b.to_vec2()))
        .sum::<f64>()
        / 2.0
}

/// Is the point inside the line? By the crossings of a ray to the right.
pub(super) fn is_inside(line: &[Point], p: Point) -> bool {
    let next = line.iter().cycle().skip(1);
    let crosses = |(a, b): &(&Point, &Point)| {
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)
    };
    line.iter().zip(next).filter(crosses).count() % 2 == 1
}

/// The field round one thing: its distance from the table, nothing where another thing lies.
struct Window {
    left: i64,
    top: i64,
    width: usize,
    height: usize,
    off: Vec<f32>,
    level: f32,
    table: f32,
}

impl Window {
    fn of(blobs: &Blobs, small: &Small, ground: &GroundField, blob: &Blob) -> Option<Self> {
        const AROUND: i64 = 3;
        let (left, top) = (blob.from.0 as i64 - AROUND, blob.from.1 as i64 - AROUND);
        let width = blob.to.0 - blob.from.0 + 1 + 2 * AROUND as usize;
        let height = blob.to.1 - blob.from.1 + 1 + 2 * AROUND as usize;
        let index = |x: usize, y: usize| {
            let (x, y) = (x as i64 + left, y as i64 + top);
            let inside = x >= 0 && y >= 0 && x < small.width as i64 && y < small.height as i64;
            inside.then(|| y as usize * small.width + x as usize)
        };
        let number = |i: usize| blobs.numbers.get(i).copied().unwrap_or_default();
        let own_at = |x: usize, y: usize| index(x, y).is_some_and(|i| number(i) == blob.number);
        let mut near: Vec<bool> = (0..width * height)
            .map(|i| own_at(i % width, i / width))
            .collect();
        let mut values: Vec<f64> = Vec::new();
        for (i, own) in near.iter().enumerate().step_by(3) {
            if *own && let Some(off) = index(i % width, i / width).and_then(|i| ground.off.get(i)) {
                values.push(f64::from(*off));
            }
        }
        // The paler quarter of it, so that a pale stripe does not become a bay.
        values.sort_by(f64::total_cmp);
        let pale = values.get(values.len() / 4).copied()?;
        let usual = median(&mut values) as f32;
        for _ in 0..2 {
            let grow = |i: usize| {
                let (x, y) = (i % width, i / width);
                let at = |x: usize, y: usize| near.get(y * width + x) == Some(&true);
                let sides = [x > 0 && at(x - 1, y), x + 1 < width && at(x + 1, y)];
                let ends = [y > 0 && at(x, y - 1), y + 1 < height && at(x, y + 1)];
                at(x, y) || sides.contains(&true) || ends.contains(&true)
            };
            near = (0..width * height).map(grow).collect();
        }
        let off = near
            .iter()
            .enumerate()
            .map(|(i, near)| {
                let at = index(i % width, i / width).filter(|_| *near);
                let at = at.filter(|at| [0, blob.number].contains(&number(*at)));
                at.and_then(|at| ground.off.get(at)).copied().unwrap_or(0.0)
            })
            .collect();
        Some(Self {
            left,
            top,
            width,
            height,
            off,
            level: (0.5 * pale as f32).max(blobs.limit),
            table: (0.35 * usual).max(2.0 * blobs.limit),
        })
    }

    fn value(&self, x: usize, y: usize) -> f32 {
        self.off.get(y * self.width + x).copied().unwrap_or(0.0)
    }

    fn looks_like_table(&self, hole: &[Point]) -> bool {
        let low = hole.iter().fold(Point::new(f64::MAX, f64::MAX), |m, p| {
            Point::new(m.x.min(p.x), m.y.min(p.y))
        });
        let high = hole.iter().fold(Point::new(f64::MIN, f64::MIN), |m, p| {
            Point::new(m.x.max(p.x), m.y.max(p.y))
        });
        let (mut inside, mut table) = (0.0, 0.0);
        const GRID: i32 = 16;
        for i in 0..GRID * GRID {
            let share = |n: i32| (f64::from(n) + 0.5) / f64::from(GRID);
            let p = Point::new(
                low.x + (high.x - low.x) * share(i % GRID),
                low.y + (high.y - low.y) * share(i / GRID),
            );
            if is_inside(hole, p) {
                let at = |p: f64, from: i64| (p.round() as i64 - from).max(0) as usize;
                inside += 1.0;
                if self.value(at(p.x, self.left), at(p.y, self.top)) < self.table {
                    table += 1.0;
                }
            }
        }
        inside > 0.0 && table >= TABLE_IN_HOLE * inside
    }

    /// All closed lines at the level, in small pixels: as one walks them the thing is always on the same hand.
    fn loops(&self) -> Vec<Vec<Point>> {
        // Crossings lie on the sides of the cells: number 2 i to the right of pixel i, 2 i + 1 below it.
        let mut next: Vec<u32> = vec![u32::MAX; 2 * self.width * self.height];
        for y in 0..self.height.saturating_sub(1) {
            for x in 0..self.width.saturating_sub(1) {
                for (from, to) in self.strokes(x, y) {
                    if let Some(own) = next.get_mut(from) {
                        *own = to as u32;
                    }
                }
            }
        }
        let mut loops = Vec::new();
        for start in 0..next.len() {
            let mut line = Vec::new();
            let mut at = start;
            while let Some(after) = next.get_mut(at).filter(|after| **after != u32::MAX) {
                line.push(self.crossing(at));
                at = std::mem::replace(after, u32::MAX) as usize;
            }
            if line.len() >= 4 {
                loops.push(line);
            }
        }
        loops
    }

    /// The strokes of one cell, from side to side.
    fn strokes(&self, x: usize, y: usize) -> impl Iterator<Item = (usize, usize)> {
        let corner = [(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)];
        let values = corner.map(|(x, y)| self.value(x, y));
        let [a, b, c, d] = values.map(|value| value >= self.level);
        let at = |x: usize, y: usize| y * self.width + x;
        let (top, left) = (2 * at(x, y), 2 * at(x, y) + 1);
        let (low, right) = (2 * at(x, y + 1), 2 * at(x + 1, y) + 1);
        let full = values.iter().sum::<f32>() >= 4.0 * self.level;
        let (one, two) = match (a, b, c, d) {
            (true, false, false, false) => (Some((left, top)), None),
            (false, true, false, false) => (Some((top, right)), None),
            (false, false, true, false) => (Some((right, low)), None),
            (false, false, false, true) => (Some((low, left)), None),
            (true, true, false, false) => (Some((left, right)), None),
            (false, true, true, false) => (Some((top, low)), None),
            (false, false, true, true) => (Some((right, left)), None),
            (true, false, false, true) => (Some((low, top)), None),
            (true, true, true, false) => (Some((left, low)), None),
            (true, true, false, true) => (Some((low, right)), None),
            (true, false, true, true) => (Some((right, top)), None),
            (false, true, true, true) => (Some((top, left)), None),
            (true, false, true, false) if full => (Some((left, low)), Some((right, top))),
            (true, false, true, false) => (Some((left, top)), Some((right, low))),
            (false, true, false, true) if full => (Some((top, left)), Some((low, right))),
            (false, true, false, true) => (Some((top, right)), Some((low, left))),
            _ => (None, None),
        };
        one.into_iter().chain(two)
    }

    fn crossing(&self, number: usize) -> Point {
        let (x, y) = (number / 2 % self.width, number / 2 / self.width);
        let (dx, dy) = if number.is_multiple_of(2) {
            (1, 0)
        } else {
            (0, 1)
        };
        let (from, to) = (self.value(x, y), self.value(x + dx, y + dy));
        let share = if (to - from).abs() > f32::EPSILON {
            f64::from(((self.level - from) / (to - from)).clamp(0.0, 1.0))
        } else {
            0.5
        };
        Point::new(
            (x as i64 + self.left) as f64 + share * dx as f64,
            (y as i64 + self.top) as f64 + share * dy as f64,
        )
    }
}
