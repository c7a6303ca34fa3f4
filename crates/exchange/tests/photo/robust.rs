//! 2,500 damaged pictures: each is read or refused, none does harm.

use petitoile_core::Mm;
use petitoile_core::kurbo::Point;
use petitoile_exchange::bring_in::{Limits, Watch};
use petitoile_exchange::photo::straighten::by_two_points;
use petitoile_exchange::photo::{self, Wanted, read_full, trace};

use super::pictures::sample;
use super::scene::Chance;

#[test]
fn damaged_pictures_are_read_or_refused() {
    let names = [
        "held-1.jpg",
        "held-6.jpg",
        "grey.jpg",
        "cmyk.jpg",
        "progressive.jpg",
        "dpi.png",
        "grey16.png",
        "alpha.png",
        "palette.png",
    ];
    let whole: Vec<Vec<u8>> = names.iter().map(|name| sample(name)).collect();
    let mut chance = Chance(2_500);
    let (mut read, mut refused) = (0, 0);
    for n in 0..2_500 {
        let mut bytes = whole[n % whole.len()].clone();
        damage(&mut bytes, &mut chance);
        match read_full(&bytes, "damaged", &Limits::default(), &Watch::default()) {
            Ok(picture) => {
                assert_eq!(picture.rgb.len(), 3 * picture.width * picture.height);
                // So few bytes hold so few pixels: nothing was made of a claimed size.
                assert!(
                    picture.rgb.len() <= 3 * 2100 * bytes.len(),
                    "{}",
                    picture.rgb.len()
                );
                read += 1;
            }
            Err(_) => refused += 1,
        }
        if n % 10 == 0 {
            photo::read(&bytes).ok();
        }
    }
    assert!(
        read > 300 && refused > 300,
        "{read} read, {refused} refused"
    );
}

fn damage(bytes: &mut Vec<u8>, chance: &mut Chance) {
    let times = 1 + (chance.uniform() * 6.0) as usize;
    for _ in 0..times {
        let at = (chance.uniform() * bytes.len() as f64) as usize;
        let byte = (chance.uniform() * 256.0) as u8;
        match (chance.uniform() * 6.0) as u8 {
            0 => bytes.truncate(at.max(8)),
            1 => bytes.insert(at, byte),
            2 if at > 4 => drop(bytes.remove(at)),
            3 => bytes[at..].iter_mut().take(4).for_each(|b| *b = 0xff),
            4 => bytes[at] ^= 1 << (byte % 8),
            _ => bytes[at] = byte,
        }
    }
}

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
