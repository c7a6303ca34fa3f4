//! Pages rendered by poppler, where it is installed: ink measured in dots. With PETITOILE_CI=1 it must be installed.

use super::*;

/// Pixels of a grey picture in the binary form of the portable pixmap tools.
struct Picture {
    width: usize,
    pixels: Vec<u8>,
}

fn poppler(bytes: &[u8], dots: u32) -> Option<Picture> {
    let folder = std::env::temp_dir().join(format!(
        "petitoile-true-scale-{}-{dots}",
        std::process::id()
    ));
    std::fs::create_dir_all(&folder).unwrap();
    let (file, out) = (folder.join("print.pdf"), folder.join("page"));
    std::fs::write(&file, bytes).unwrap();
    let ran = std::process::Command::new("pdftoppm")
        .args([
            "-r",
            &dots.to_string(),
            "-f",
            "1",
            "-l",
            "1",
            "-gray",
            "-singlefile",
        ])
        .args([&file, &out])
        .status();
    let picture = match ran {
        Ok(status) => {
            assert!(status.success(), "pdftoppm reads the file");
            let bytes = std::fs::read(out.with_extension("pgm")).unwrap();
            let mut parts = bytes.splitn(4, |b| b.is_ascii_whitespace());
            assert_eq!(parts.next(), Some(b"P5".as_slice()));
            let figure = |part: Option<&[u8]>| {
                std::str::from_utf8(part.unwrap())
                    .unwrap()
                    .parse::<usize>()
                    .unwrap()
            };
            let width = figure(parts.next());
            let _height = figure(parts.next());
            let rest = parts.next().unwrap();
            Some(Picture {
                width,
                pixels: rest[4..].to_vec(),
            }) // after "255\n"
        }
        Err(error) => {
            // Where everything is checked before a change is taken, a check left out would look like one that held.
            assert!(
                std::env::var_os("PETITOILE_CI").is_none_or(|value| value != "1"),
                "poppler's pdftoppm cannot be run ({error}), so true scale was not checked from the outside; \
                 PETITOILE_CI=1 allows no check to be left out: install poppler-utils"
            );
            println!("skipped: poppler's pdftoppm cannot be run here ({error})");
            None
        }
    };
    std::fs::remove_dir_all(&folder).unwrap();
    picture
}

/// Distance between the two darkest places of a row or column near its expected ends, in pixels.
fn between(line: impl Fn(usize) -> f64, from: f64, to: f64) -> f64 {
    let middle = |around: f64| {
        let (mut sum, mut weight) = (0.0, 0.0);
        for i in (around - 6.0) as usize..=(around + 6.0) as usize {
            let ink = 255.0 - line(i);
            sum += ink * (i as f64 + 0.5);
            weight += ink;
        }
        assert!(weight > 50.0, "there is a line near {around}");
        sum / weight
    };
    middle(to) - middle(from)
}

#[test]
fn poppler_renders_the_test_square_at_50_mm() {
    for paper in every_paper() {
        let (pages, bytes) = print(&common::doll_jacket(), &paper);
        let Some(picture) = poppler(&bytes, 300) else {
            return;
        };
        let square = *rectangles(&pdf(&bytes), 0)
            .iter()
            .find(|r| (r.width() - 50.0).abs() < 0.01 && (r.height() - 50.0).abs() < 0.01)
            .unwrap();
        let dots = 300.0 / 25.4;
        let (left, right) = (square.x0 * dots, square.x1 * dots);
        let (top, bottom) = (
            (pages.size.1 - square.y1) * dots,
            (pages.size.1 - square.y0) * dots,
        );
        // Where the square holds no words: three quarters down, one twentieth from the left.
        let row = (top + 0.75 * (bottom - top)) as usize;
        let column = (left + 0.03 * (right - left)) as usize;
        let across = between(
            |x| f64::from(picture.pixels[row * picture.width + x]),
            left,
            right,
        ) / dots;
        let up = between(
            |y| f64::from(picture.pixels[y * picture.width + column]),
            top,
            bottom,
        ) / dots;
        println!("{paper:?}: {across:.3} x {up:.3} mm");
        assert!(
            (across - 50.0).abs() <= 0.1 && (up - 50.0).abs() <= 0.1,
            "{across} x {up}"
        );
    }
}

#[test]
fn the_ink_of_every_page_stays_inside_the_margins() {
    for paper in every_paper() {
        let (pages, bytes) = print(&common::adult_dress(), &paper);
        let read = pdf(&bytes);
        let (width, height) = pages.size;
        let printable = Rect::new(0.0, 0.0, width, height)
            .inset(-paper.margin.0)
            .inflate(0.3, 0.3);
        for shown in &read.paths {
            let bounds = shown.path.bounding_box();
            let bounds = shown.clip.map_or(bounds, |clip| bounds.intersect(clip));
            assert_eq!(
                bounds.intersect(printable),
                bounds,
                "page {}, {}",
                shown.page + 1,
                shown.layer
            );
        }
        for page in &pages.pages {
            for item in page
                .items
                .iter()
                .filter(|item| matches!(item.ink, Ink::Text { .. }))
            {
                let bounds = item.bounds();
                assert_eq!(
                    bounds.intersect(printable.inflate(0.3, 0.3)),
                    bounds,
                    "{item:?}"
                );
            }
        }
    }
}
