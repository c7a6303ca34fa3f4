//! Pictures are read with all their pixels, upright, whatever their kind. The files are Pillow's (samples/photo/make.py).

use std::sync::atomic::AtomicBool;

use petitoile_exchange::bring_in::{BringInError, Limits, Watch};
use petitoile_exchange::photo::straighten::by_density;
use petitoile_exchange::photo::{self, Picture, read_full};

pub fn sample(name: &str) -> Vec<u8> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/samples/photo/");
    std::fs::read(format!("{folder}{name}")).unwrap()
}

fn read(name: &str) -> Picture {
    read_full(&sample(name), name, &Limits::default(), &Watch::default()).unwrap()
}

/// Red, green, blue, white, from the upper left corner on; JPEG may be off by a few levels.
fn check_quarters(picture: &Picture, off: i32) {
    assert_eq!(
        (picture.width, picture.height),
        (48, 32),
        "{}",
        picture.file
    );
    let quarters = [
        ((5, 5), [220, 30, 30]),
        ((40, 5), [30, 200, 30]),
        ((5, 28), [30, 30, 220]),
        ((40, 28), [240, 240, 240]),
    ];
    for ((x, y), colour) in quarters {
        let own = picture.pixel(x, y);
        let near = own
            .iter()
            .zip(colour)
            .all(|(a, b): (&u8, i32)| (i32::from(*a) - b).abs() <= off);
        assert!(near, "{} at {x}, {y}: {own:?}", picture.file);
    }
}

#[test]
fn however_the_camera_was_held_the_picture_stands_upright() {
    for held in 1..=8 {
        let name = format!("held-{held}.jpg");
        check_quarters(&read(&name), 3);
        let shown = photo::read(&sample(&name)).unwrap();
        assert_eq!((shown.width, shown.height), (48, 32));
    }
}

#[test]
fn pictures_of_every_kind_are_read() {
    check_quarters(&read("progressive.jpg"), 3);
    check_quarters(&read("cmyk.jpg"), 6);
    check_quarters(&read("dpi.png"), 0);
    check_quarters(&read("palette.png"), 0);
    assert_eq!(read("grey.jpg").pixel(5, 5), [87; 3]);
    assert_eq!(read("grey16.png").pixel(5, 5), [0x80; 3]);
    // Half clear red lies on white.
    let [r, g, _] = read("alpha.png").pixel(5, 5);
    assert_eq!((r, g), (237, 142));
}

#[test]
fn a_scan_says_its_scale() {
    let scan = read("dpi.png");
    assert_eq!(scan.density.unwrap().words(), "the file says 600 dpi");
    let straight = by_density(&scan).unwrap();
    // 48 pixels at 600 dpi.
    let right = straight.mm_from_px.apply((48.0, 32.0).into()).unwrap();
    assert!(
        (right.x - 2.032).abs() < 1e-5 && right.y.abs() < 1e-9,
        "{right:?}"
    );
    let words = straight.words(petitoile_core::LengthUnit::Millimetre);
    assert!(
        words[0].starts_with("the file says 600 dpi; check it"),
        "{words:?}"
    );
    let jpeg = read("progressive.jpg").density.unwrap();
    assert_eq!((jpeg.across, jpeg.down), (300.0, 300.0));
    assert_eq!(by_density(&read("alpha.png")), None);
}

#[test]
fn a_picture_of_too_many_pixels_is_refused_by_its_head_alone() {
    // 60,000 x 60,000: nothing but the head is there.
    let mut png = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
    png.extend([0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60, 8, 2, 0, 0, 0]);
    let crc = png[12..].iter().fold(!0_u32, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |c, _| {
            if c & 1 == 1 {
                0xedb8_8320 ^ (c >> 1)
            } else {
                c >> 1
            }
        })
    });
    png.extend((!crc).to_be_bytes());
    png.extend([0, 0, 0, 0]);
    png.extend(b"IDAT");
    let refused = read_full(&png, "wide.png", &Limits::default(), &Watch::default()).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "wide.png: more than 100000000 pixels; that is the limit here: bring in a part of it"
    );
    // Within the limit, but far more than so few bytes can hold: no memory is taken for it.
    png[17..20].copy_from_slice(&[0, 0x20, 0]);
    png[21..24].copy_from_slice(&[0, 0x20, 0]);
    let short = read_full(&png, "wide.png", &Limits::default(), &Watch::default());
    assert!(
        matches!(short, Err(BringInError::Broken { .. })),
        "{short:?}"
    );
    let mut jpeg = sample("held-1.jpg");
    let frame = jpeg.windows(2).position(|w| w == [0xff, 0xc0]).unwrap();
    jpeg[frame + 5..frame + 9].fill(0xff);
    let short = read_full(&jpeg, "wide.jpg", &Limits::default(), &Watch::default()).unwrap_err();
    assert!(
        short.to_string().contains("more than 100000000 pixels"),
        "{short}"
    );
    let few = Limits {
        pixels: 1000,
        ..Limits::default()
    };
    let refused = read_full(&sample("dpi.png"), "scan.png", &few, &Watch::default()).unwrap_err();
    assert!(
        refused.to_string().contains("more than 1000 pixels"),
        "{refused}"
    );
    let refused =
        read_full(&sample("progressive.jpg"), "p.jpg", &few, &Watch::default()).unwrap_err();
    assert!(
        refused
            .to_string()
            .contains("more than 500 pixels in a progressive JPEG"),
        "{refused}"
    );
}

#[test]
fn reading_can_be_stopped_and_what_is_cut_short_is_told() {
    let stop = AtomicBool::new(true);
    let watch = Watch {
        stop: Some(&stop),
        done: None,
    };
    let stopped = read_full(&sample("dpi.png"), "scan.png", &Limits::default(), &watch);
    assert!(matches!(stopped, Err(BringInError::Stopped { .. })));
    let whole = sample("held-1.jpg");
    let cut = read_full(
        &whole[..whole.len() - 60],
        "cut.jpg",
        &Limits::default(),
        &Watch::default(),
    );
    if let Ok(cut) = cut {
        assert!(cut.words[0].contains("cut short"), "{:?}", cut.words);
    }
    let none = read_full(b"chalk", "chalk.txt", &Limits::default(), &Watch::default());
    assert!(matches!(none, Err(BringInError::UnknownKind { .. })));
}
