//! Damaged pictures: each is read and traced, or refused; none does harm.

use petitoile_core::Mm;
use petitoile_core::kurbo::Point;
use petitoile_exchange::bring_in::{Limits, Watch, traced_drawing};
use petitoile_exchange::photo::straighten::by_two_points;
use petitoile_exchange::photo::{self, Wanted, read_full, trace};

use super::{PICTURES, Watched, whole_way};

/// A linear congruential generator (multiplier by Knuth): the same numbers everywhere.
struct Chance(u64);

impl Chance {
    fn uniform(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 40) as f64 / (1_u64 << 24) as f64
    }
}

#[test]
fn damaged_pictures_are_traced_or_refused() {
    let mut watched = Watched::new("picture");
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
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/samples/photo/");
    let mut whole: Vec<Vec<u8>> = names
        .iter()
        .map(|name| std::fs::read(format!("{folder}{name}")).unwrap())
        .collect();
    whole.push(offcut());
    let mut chance = Chance(2_500);
    let (mut read, mut refused) = (0, 0);
    for n in 0..PICTURES {
        let mut bytes = whole[n % whole.len()].clone();
        damage(&mut bytes, &mut chance);
        let picture = watched.one(|| {
            let picture = read_full(&bytes, "damaged", &Limits::default(), &Watch::default());
            picture.iter().for_each(traced);
            picture
        });
        match picture {
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
    watched.ends(PICTURES);
}

/// A picture straightened, everything in it traced and recognised.
fn traced(picture: &photo::Picture) {
    let end = Point::new(picture.width as f64, picture.height as f64);
    let Ok(straight) = by_two_points(picture, Point::ZERO, end, Mm(50.0)) else {
        return;
    };
    let wanted = Wanted::all(&straight);
    if let Ok(traced) = trace(picture, &straight, &wanted, &Watch::default()) {
        whole_way(&traced_drawing(&traced, "damaged"));
    }
}

/// A dark offcut with a hole on a pale table, a little noisy.
fn offcut() -> Vec<u8> {
    let mut chance = Chance(6);
    let image = image::RgbImage::from_fn(180, 140, |x, y| {
        let (x, y) = (f64::from(x) - 90.0, f64::from(y) - 70.0);
        let is_cloth = x.abs() < 60.0 && y.abs() < 45.0 + 0.1 * x && x.hypot(y) > 15.0;
        let grey = if is_cloth { 60.0 } else { 200.0 } + 8.0 * chance.uniform();
        image::Rgb([grey as u8; 3])
    });
    let mut png = std::io::Cursor::new(Vec::new());
    image.write_to(&mut png, image::ImageFormat::Png).unwrap();
    png.into_inner()
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
