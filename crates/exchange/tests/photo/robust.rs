//! Pictures with nothing in them: each is traced or refused, none does harm. Damaged files: `tests/mutants`.

use petitoile_core::Mm;
use petitoile_core::kurbo::Point;
use petitoile_exchange::bring_in::Watch;
use petitoile_exchange::photo::straighten::by_two_points;
use petitoile_exchange::photo::{self, Wanted, trace};

use super::scene::Chance;

#[test]
fn pictures_of_nothing_and_of_noise_are_traced_without_harm() {
    let mut chance = Chance(77);
    for (width, height) in [(1, 1), (3, 900), (24, 24), (60, 41), (200, 150)] {
        for grain in [0.0, 255.0] {
            let rgb =
                (0..3 * width * height).map(|_| (128.0 + (chance.uniform() - 0.5) * grain) as u8);
            let picture = photo::Picture {
                file: "noise.png".to_owned(),
                width,
                height,
                rgb: rgb.collect(),
                density: None,
                words: Vec::new(),
            };
            let end = Point::new(width as f64, height as f64);
            let scaled = by_two_points(&picture, Point::ZERO, end, Mm(50.0));
            let Ok(straight) = scaled else { continue };
            for wanted in [
                Wanted::all(&straight),
                Wanted::at(end.midpoint(Point::ZERO), &straight),
            ] {
                if let Ok(traced) = trace(&picture, &straight, &wanted, &Watch::default()) {
                    assert!(traced.iter().all(|piece| piece.outline.is_finite()));
                }
            }
        }
    }
}
