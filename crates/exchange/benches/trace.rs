//! Speed of tracing: a drawn photograph of 12 megapixels with an offcut and its hole. The bar is 1.5 s on one core.
#![allow(
    missing_docs,
    dead_code,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a benchmark"
)]

#[path = "../tests/photo/camera.rs"]
mod camera;
#[path = "../tests/photo/scene.rs"]
mod scene;

use camera::Camera;
use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::kurbo::Point;
use petitoile_exchange::bring_in::{Limits, Watch};
use petitoile_exchange::photo::straighten::{Bottom, by_rectangle};
use petitoile_exchange::photo::{KnownRectangle, Wanted, find_sheet, read_full, trace};
use scene::{Scene, circle, offcut, rectangle};

fn trace_a_photo(c: &mut Criterion) {
    let table = [150.0, 143.0, 132.0];
    let scene = Scene {
        camera: Camera {
            over: Point::new(168.0, 148.0),
            away: 1100.0,
            tilt: 9.0,
            roll: 2.0,
            focal: 10.0 * 1100.0,
            size: (4000, 3000),
        },
        table,
        things: vec![
            (
                rectangle((30.0, 20.0), (148.0, 210.0)),
                [238.0, 238.0, 234.0],
            ),
            (offcut((200.0, 70.0)), [44.0, 48.0, 70.0]),
            (circle((234.0, 130.0), 9.0), table),
        ],
        shadow: Some((0.7, 300.0)),
        blur: 1.2,
        noise: 3.0,
        seed: 4,
    };
    let picture = scene.photograph();
    let image = image::RgbImage::from_raw(4000, 3000, picture.rgb.clone()).unwrap();
    let mut png = std::io::Cursor::new(Vec::new());
    image.write_to(&mut png, image::ImageFormat::Png).unwrap();
    let png = png.into_inner();
    let a5 = KnownRectangle::sheet("A5", petitoile_core::Mm(148.0), petitoile_core::Mm(210.0));
    let corners = [(30.0, 20.0), (178.0, 20.0), (178.0, 230.0), (30.0, 230.0)];
    let clicks = corners.map(|mm| scene.camera.px(Point::from(mm)));
    let straight = by_rectangle(&picture, clicks, &a5, Bottom::AsItLooks).unwrap();
    let wanted = Wanted::at(scene.camera.px(Point::new(262.0, 100.0)), &straight);
    let watch = Watch::default();

    let mut group = c.benchmark_group("a photo of 12 megapixels");
    group.sample_size(10);
    group.bench_function("read as PNG", |b| {
        b.iter(|| read_full(&png, "photo.png", &Limits::default(), &watch).unwrap());
    });
    group.bench_function("its sheet found", |b| {
        b.iter(|| find_sheet(&picture, &a5, &watch).unwrap());
    });
    group.bench_function("straightened", |b| {
        b.iter(|| by_rectangle(&picture, clicks, &a5, Bottom::AsItLooks).unwrap());
    });
    group.bench_function("traced", |b| {
        b.iter(|| trace(&picture, &straight, &wanted, &watch).unwrap());
    });
    group.finish();
}

criterion_group!(benches, trace_a_photo);
criterion_main!(benches);
