//! Problems made up by chance.

use kurbo::Point;
use petitoile_lay::search::{Grain, Item, Mirror, Part, Problem, Room, Way, Zone};

/// Numbers from a seed.
pub struct Dice(pub u64);

impl Dice {
    pub fn unit(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    pub fn below(&mut self, count: usize) -> usize {
        (self.unit() * count as f64) as usize
    }
}

/// A star-shaped outline: some corners at random distances around a middle, hollow ones among them.
pub fn outline(dice: &mut Dice, middle: Point, radius: f64) -> Vec<Point> {
    let corners = 4 + dice.below(7);
    (0..corners)
        .map(|corner| {
            let angle =
                (corner as f64 + dice.between(0.1, 0.9)) / corners as f64 * std::f64::consts::TAU;
            let far = radius * dice.between(0.45, 1.0);
            Point::new(middle.x + far * angle.cos(), middle.y + far * angle.sin())
        })
        .collect()
}

fn part(dice: &mut Dice, radius: f64) -> Part {
    let middle = Point::new(dice.between(-50.0, 50.0), dice.between(-50.0, 50.0));
    let turns = [vec![0.0], vec![0.0, 180.0], vec![0.0, 90.0, 180.0, 270.0]][dice.below(3)].clone();
    Part {
        outline: outline(dice, middle, radius),
        turns,
        tolerance_deg: [0.0, 2.0, 5.0, 180.0][dice.below(4)],
        mirror: [Mirror::Never, Mirror::Always, Mirror::Either][dice.below(3)],
        min_quality: [None, Some(1), Some(3)][dice.below(3)],
        rooms: None,
    }
}

/// Two rooms with holes and zones, up to nine items, some in several ways.
pub fn problem(seed: u64) -> Problem {
    let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9).wrapping_add(77));
    let rooms = (0..2)
        .map(|_| {
            let size = dice.between(60.0, 110.0);
            let middle = Point::new(dice.between(-200.0, 200.0), dice.between(-200.0, 200.0));
            let near = |dice: &mut Dice| {
                middle + kurbo::Vec2::new(dice.between(-20.0, 20.0), dice.between(-20.0, 20.0))
            };
            let hole_at = near(&mut dice);
            let zone_at = near(&mut dice);
            Room {
                outline: outline(&mut dice, middle, size),
                holes: if dice.unit() < 0.5 {
                    vec![outline(&mut dice, hole_at, 6.0)]
                } else {
                    vec![]
                },
                zones: vec![Zone {
                    quality: dice.below(4) as u8,
                    polygon: outline(&mut dice, zone_at, 12.0),
                }],
                already_open: dice.unit() < 0.5,
                margin: [0.0, 3.0][dice.below(2)],
                grain: Grain {
                    angle_deg: [0.0, 17.0][dice.below(2)],
                    doubt_deg: [0.0, 1.0][dice.below(2)],
                },
            }
        })
        .collect();
    let items = (0..3 + dice.below(7))
        .map(|_| {
            let radius = dice.between(8.0, 30.0);
            let mut ways = vec![Way {
                parts: vec![part(&mut dice, radius)],
                cost: 0,
            }];
            if dice.unit() < 0.4 {
                ways.push(Way {
                    parts: vec![part(&mut dice, radius * 0.6), part(&mut dice, radius * 0.6)],
                    cost: 1,
                });
            }
            Item {
                ways,
                priority: dice.below(3) as u32,
            }
        })
        .collect();
    Problem {
        rooms,
        items,
        gap: [0.0, 1.0][dice.below(2)],
        fixed: vec![],
    }
}
