//! What in a picture is table and what lies on it: seen small, the table is what can be reached from the rim without
//! stepping over an edge; a soft shadow has none.

use petitoile_core::kurbo::Point;

use super::level::{Colour, add, apart, dot, median, scale, sub};
use super::picture::Picture;
use super::trace::TraceError;
use crate::bring_in::Pace;

/// The longer side of the small picture is at most so many pixels.
const SMALL: usize = 1300;
/// Side of a square of table whose colour is averaged, small pixels.
const TILE: usize = 16;
/// Smallest step that may be taken for an edge, in coded light (0 to 255).
const LEAST_STEP: f32 = 6.0;

/// The picture made small by a whole number, with the noise taken off.
pub(super) struct Small {
    /// How many pixels of the picture one of its own is wide.
    pub by: usize,
    pub width: usize,
    pub height: usize,
    pub pixels: Vec<Colour>,
    /// What may be looked at: all of the picture or the known sheet.
    pub within: Vec<bool>,
}

impl Small {
    /// Makes a picture small.
    ///
    /// # Errors
    /// Stopped.
    pub fn of(picture: &Picture, pace: &Pace<'_>) -> Result<Self, TraceError> {
        Self::at_most(picture, SMALL, pace)
    }

    /// Makes a picture small, its longer side at most so many pixels.
    ///
    /// # Errors
    /// Stopped.
    pub fn at_most(picture: &Picture, most: usize, pace: &Pace<'_>) -> Result<Self, TraceError> {
        let longest = picture.width.max(picture.height);
        let by = longest.div_ceil(most.max(1)).max(1);
        let (width, height) = (picture.width / by, picture.height / by);
        let mut pixels = Vec::with_capacity(width * height);
        let mut sums: Vec<[u32; 3]> = vec![[0; 3]; width];
        let share = 1.0 / (by * by) as f32;
        let row_bytes = 3 * picture.width;
        for (y, rows) in picture
            .rgb
            .chunks_exact((row_bytes * by).max(1))
            .take(height)
            .enumerate()
        {
            if y.is_multiple_of(32) {
                pace.at(y as f64 / height as f64)?;
            }
            sums.fill([0; 3]);
            for row in rows.chunks_exact(row_bytes) {
                for (sum, block) in sums.iter_mut().zip(row.chunks_exact(3 * by)) {
                    let [r, g, b] = sum;
                    for pixel in block.chunks_exact(3) {
                        if let [x, y, z] = pixel {
                            *r += u32::from(*x);
                            *g += u32::from(*y);
                            *b += u32::from(*z);
                        }
                    }
                }
            }
            pixels.extend(sums.iter().map(|sum| sum.map(|s| s as f32 * share)));
        }
        let within = vec![true; pixels.len()];
        let small = Self {
            by,
            width,
            height,
            pixels,
            within,
        };
        Ok(match by {
            1 => small.blurred().blurred(),
            2 => small.blurred(),
            _ => small,
        })
    }

    /// Each pixel with its neighbours, 1 : 2 : 1 both ways.
    fn blurred(self) -> Self {
        let blur = |pixels: &[Colour], step: usize| -> Vec<Colour> {
            let of = |i: Option<usize>, here: Colour| {
                i.and_then(|i| pixels.get(i)).copied().unwrap_or(here)
            };
            let mix = |(i, here): (usize, &Colour)| {
                let around = add(of(i.checked_sub(step), *here), of(Some(i + step), *here));
                scale(add(around, scale(*here, 2.0)), 0.25)
            };
            pixels.iter().enumerate().map(mix).collect()
        };
        let pixels = blur(&blur(&self.pixels, 1), self.width.max(1));
        Self { pixels, ..self }
    }

    pub fn place(&self, i: usize) -> (usize, usize) {
        (i % self.width.max(1), i / self.width.max(1))
    }

    /// Middle of a small pixel in the picture.
    pub fn in_picture(&self, x: f64, y: f64) -> Point {
        Point::new((x + 0.5) * self.by as f64, (y + 0.5) * self.by as f64)
    }

    /// The small pixel at a point of the picture.
    pub fn index_at(&self, p: Point) -> Option<usize> {
        let (x, y) = (p.x / self.by as f64, p.y / self.by as f64);
        let inside = x >= 0.0 && y >= 0.0 && x < self.width as f64 && y < self.height as f64;
        inside.then(|| y as usize * self.width + x as usize)
    }

    /// The four neighbours of a pixel.
    pub fn neighbours(&self, i: usize) -> impl Iterator<Item = usize> + use<> {
        let (x, y) = self.place(i);
        let (width, height) = (self.width, self.height);
        [
            (x > 0).then(|| i - 1),
            (x + 1 < width).then_some(i + 1),
            (y > 0).then(|| i - width),
            (y + 1 < height).then_some(i + width),
        ]
        .into_iter()
        .flatten()
    }

    /// Pixels at the rim of what may be looked at.
    fn rim(&self) -> Vec<usize> {
        let is_in = |i: usize| self.within.get(i).copied().unwrap_or(false);
        (0..self.pixels.len())
            .filter(|i| {
                let around = self.neighbours(*i).filter(|j| is_in(*j)).count();
                is_in(*i) && around < 4
            })
            .collect()
    }

    fn colour(&self, i: usize) -> Colour {
        self.pixels.get(i).copied().unwrap_or_default()
    }

    /// How much the colour changes over four pixels round a place, both ways.
    fn change_at(&self, i: usize) -> f32 {
        let (x, y) = self.place(i);
        let here = self.colour(i);
        let of = |is_in: bool, j: usize| if is_in { self.colour(j) } else { here };
        let row = 2 * self.width;
        let across = apart(
            of(x + 2 < self.width, i + 2),
            of(x >= 2, i.saturating_sub(2)),
        );
        let down = apart(
            of(y + 2 < self.height, i + row),
            of(y >= 2, i.saturating_sub(row)),
        );
        across.hypot(down)
    }

    /// How much pixels three steps apart differ by chance or by the grain of the table.
    fn noise_among(&self, places: &[usize]) -> f32 {
        let mut steps: Vec<f64> = places
            .iter()
            .filter_map(|i| {
                let (x, _) = self.place(*i);
                let other = if x + 3 < self.width {
                    i + 3
                } else {
                    i.checked_sub(3)?
                };
                Some(f64::from(apart(self.colour(*i), self.colour(other))))
            })
            .collect();
        // The median of the distance of two colours with three equally noisy samples is 1.25 times the noise of one.
        (median(&mut steps) / 1.25) as f32
    }
}

/// The table and everything's distance from it.
pub(super) struct GroundField {
    /// How far each small pixel is in colour from the table below it.
    pub off: Vec<f32>,
    /// Was it reached from the rim?
    pub reached: Vec<bool>,
    /// Usual distance of the table from itself.
    pub noise: f32,
}

/// Finds the table; where something lies on it, its colour is carried on from around.
///
/// # Errors
/// Stopped.
pub(super) fn ground_of(small: &Small, pace: &Pace<'_>) -> Result<GroundField, TraceError> {
    let rim = small.rim();
    let usual = usual_colour(small, &rim);
    let seeds: Vec<usize> = rim
        .iter()
        .copied()
        .filter(|i| apart_but_for_shadow(small.colour(*i), usual) < 14.0)
        .collect();
    let noise = small.noise_among(&seeds);
    let step = (5.0 * noise).max(LEAST_STEP);
    pace.at(0.1)?;
    let reached = reach(small, &seeds, step, usual);
    pace.at(0.5)?;
    let tiles = Tiles::of(small, &reached, usual);
    pace.at(0.7)?;
    let off: Vec<f32> = (0..small.pixels.len())
        .map(|i| {
            let (x, y) = small.place(i);
            apart(small.colour(i), tiles.at(x, y))
        })
        .collect();
    let mut own: Vec<f64> = off
        .iter()
        .zip(&reached)
        .step_by(7)
        .filter(|(_, reached)| **reached)
        .map(|(off, _)| f64::from(*off))
        .collect();
    pace.at(1.0)?;
    Ok(GroundField {
        noise: (median(&mut own) as f32).max(noise).max(0.5),
        off,
        reached,
    })
}

/// The colour that most of the rim has: the fullest box of colours and what lies near it.
fn usual_colour(small: &Small, rim: &[usize]) -> Colour {
    const BOXES: usize = 12;
    let box_of = |sample: f32| ((sample / 256.0 * BOXES as f32) as usize).min(BOXES - 1);
    let mut counts = vec![0_u32; BOXES * BOXES * BOXES];
    for i in rim {
        let [r, g, b] = small.colour(*i).map(box_of);
        if let Some(count) = counts.get_mut((r * BOXES + g) * BOXES + b) {
            *count += 1;
        }
    }
    let fullest = counts
        .iter()
        .enumerate()
        .max_by_key(|(_, count)| **count)
        .map_or(0, |(i, _)| i);
    let middle = |n: usize| (n as f32 + 0.5) * 256.0 / BOXES as f32;
    let mut usual = [
        middle(fullest / (BOXES * BOXES)),
        middle(fullest / BOXES % BOXES),
        middle(fullest % BOXES),
    ];
    for _ in 0..4 {
        let near = rim
            .iter()
            .map(|i| small.colour(*i))
            .filter(|c| apart(*c, usual) < 24.0);
        let (sum, count) = near.fold(([0.0; 3], 0.0), |(sum, n), c| (add(sum, c), n + 1.0));
        if count > 0.0 {
            usual = scale(sum, 1.0 / count);
        }
    }
    usual
}

/// How far a colour is from another that may lie in half shade or in some more light.
fn apart_but_for_shadow(colour: Colour, usual: Colour) -> f32 {
    let full = dot(usual, usual).max(1.0);
    let light = (dot(colour, usual) / full).clamp(0.4, 1.3);
    apart(colour, scale(usual, light))
}

/// What can be reached from the seeds without stepping on an edge. (Carrying a colour from step to step does not do: it
/// creeps over an edge by walking along it.)
fn reach(small: &Small, seeds: &[usize], step: f32, usual: Colour) -> Vec<bool> {
    let mut reached = vec![false; small.pixels.len()];
    let mut open: Vec<usize> = Vec::with_capacity(seeds.len() * 2);
    for i in seeds {
        if let Some(done) = reached.get_mut(*i) {
            *done = true;
            open.push(*i);
        }
    }
    while let Some(i) = open.pop() {
        for j in small.neighbours(i) {
            let Some(done) = reached.get_mut(j).filter(|done| !**done) else {
                continue;
            };
            let free = small.within.get(j) == Some(&true)
                && small.change_at(j) < step
                && apart_but_for_shadow(small.colour(j), usual) < 24.0_f32.max(step * 1.5);
            if free {
                *done = true;
                open.push(j);
            }
        }
    }
    reached
}

/// Colour of the table, square by square.
struct Tiles {
    across: usize,
    down: usize,
    colours: Vec<Colour>,
}

impl Tiles {
    fn of(small: &Small, reached: &[bool], usual: Colour) -> Self {
        let (across, down) = (small.width / TILE + 1, small.height / TILE + 1);
        let mut sums = vec![([0.0_f32; 3], 0.0_f32); across * down];
        for (i, colour) in small.pixels.iter().enumerate() {
            let (x, y) = small.place(i);
            // The rim of what was reached is half something else.
            let deep = small.neighbours(i).all(|j| reached.get(j) == Some(&true));
            if deep
                && reached.get(i) == Some(&true)
                && let Some((sum, count)) = sums.get_mut(y / TILE * across + x / TILE)
            {
                *sum = add(*sum, *colour);
                *count += 1.0;
            }
        }
        let known: Vec<Option<Colour>> = sums
            .iter()
            .map(|(sum, count)| {
                ((TILE * TILE / 8) as f32 <= *count).then(|| scale(*sum, 1.0 / count))
            })
            .collect();
        Self {
            across,
            down,
            colours: carried_on(&known, across, down, usual),
        }
    }

    /// The colour at a small pixel, straight between the middles of the squares.
    fn at(&self, x: usize, y: usize) -> Colour {
        let place = |n: usize, most: usize| {
            let at = (n as f32 + 0.5) / TILE as f32 - 0.5;
            at.clamp(0.0, most.saturating_sub(1) as f32)
        };
        let (x, y) = (place(x, self.across), place(y, self.down));
        let (left, top) = (x as usize, y as usize);
        let of = |x: usize, y: usize| {
            let (x, y) = (x.min(self.across - 1), y.min(self.down - 1));
            self.colours
                .get(y * self.across + x)
                .copied()
                .unwrap_or_default()
        };
        let mix = |a: Colour, b: Colour, share: f32| add(a, scale(sub(b, a), share));
        let (right, low) = (x - left as f32, y - top as f32);
        mix(
            mix(of(left, top), of(left + 1, top), right),
            mix(of(left, top + 1), of(left + 1, top + 1), right),
            low,
        )
    }
}

/// Fills what is not known with the mean of its neighbours, over and over, as a skin of soap is drawn over a frame.
fn carried_on(known: &[Option<Colour>], across: usize, down: usize, usual: Colour) -> Vec<Colour> {
    let mut colours: Vec<Colour> = known.iter().map(|c| c.unwrap_or(usual)).collect();
    if known.iter().all(Option::is_none) {
        return colours;
    }
    for _ in 0..3 * across.max(down) {
        for (i, fixed) in known.iter().enumerate() {
            if fixed.is_some() {
                continue;
            }
            let (x, y) = (i % across, i / across);
            let around = [
                (x > 0).then(|| i - 1),
                (x + 1 < across).then_some(i + 1),
                (y > 0).then(|| i - across),
                (y + 1 < down).then_some(i + across),
            ];
            let (sum, count) = around
                .into_iter()
                .flatten()
                .filter_map(|j| colours.get(j))
                .fold(([0.0; 3], 0.0), |(sum, n), c| (add(sum, *c), n + 1.0));
            if let (Some(own), true) = (colours.get_mut(i), count > 0.0) {
                // Over-relaxed: four times as quick.
                *own = add(*own, scale(sub(scale(sum, 1.0 / count), *own), 1.6));
            }
        }
    }
    colours
}
