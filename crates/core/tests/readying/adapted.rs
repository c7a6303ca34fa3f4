//! Readied garments adapted to dolls, against the garments they came from.

use std::sync::Arc;

use petitoile_core::adapt::adapt_garment;
use petitoile_core::body::Body;
use petitoile_core::drafts::DraftMeasures;
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::kurbo::{Affine, Point, Vec2};
use petitoile_core::piece::Piece;
use petitoile_core::readying::{Answers, accept_all, is_ready, propose, readied};
use petitoile_core::redraft::CASES;

use super::bare::{AS_A_DRAWING, Bare, SHUFFLED, bare};
use super::bodies::{body, known};

/// The loose bodice with its flat sleeves as a garment that is ready: the named case.
pub fn bodice_with_sleeves() -> Garment {
    drafted("loose bodice and flat sleeve")
}

fn drafted(case: &str) -> Garment {
    let woman = body("woman-92");
    let case = CASES.iter().find(|own| own.name == case).unwrap();
    let garment = (case.garment)(&DraftMeasures::of(&woman)).unwrap();
    Garment {
        made_for: woman,
        ..garment
    }
}

pub fn demos() -> Vec<Garment> {
    use petitoile_core::drafts::wardrobe::{
        gored_sunday_skirt, half_circle_sunday_skirt, harbour_jacket, net_menders_smock,
    };
    let woman = body("woman-92");
    vec![
        bodice_with_sleeves(),
        drafted("fitted bodice"),
        harbour_jacket(&woman).unwrap(),
        net_menders_smock(&woman).unwrap(),
        gored_sunday_skirt(&woman).unwrap(),
        half_circle_sunday_skirt(&woman).unwrap(),
    ]
}

pub fn accepted(bare: &Bare) -> (Garment, usize) {
    let proposal = propose(&bare.garment, &known(), &Answers::default());
    assert_eq!(proposal.lacking, Vec::<String>::new());
    let (answers, confirmations) = accept_all(&proposal);
    (readied(&bare.garment, &known(), &answers), confirmations)
}

fn on(garment: &Garment, doll: &Arc<Body>) -> Vec<Arc<Piece>> {
    let fitting = Fitting::new("on the doll", garment.name.clone(), doll.clone());
    adapt_garment(&Arc::new(garment.clone()), &Arc::new(fitting))
        .unwrap()
        .pieces
}

const POINTS: usize = 200;

/// Points at even steps round an outline.
fn points(outline: &Outline) -> Vec<Point> {
    let length: f64 = outline.edges().iter().map(|e| e.line.length()).sum();
    let mut points = Vec::new();
    for edge in outline.edges() {
        let own = edge.line.length();
        let count = (own / length * POINTS as f64).ceil().max(2.0) as usize;
        points.extend((0..count).map(|k| edge.line.at(k as f64 / count as f64)));
    }
    points
}

fn nearest(p: Point, all: &[Point]) -> (f64, Point) {
    let mut best = (f64::INFINITY, p);
    for (k, a) in all.iter().enumerate() {
        let d = all[(k + 1) % all.len()] - *a;
        let t = ((p - *a).dot(d) / d.hypot2().max(1e-18)).clamp(0.0, 1.0);
        let q = *a + d * t;
        if (q - p).hypot() < best.0 {
            best = ((q - p).hypot(), q);
        }
    }
    best
}

/// Largest distance between two outlines, the first moved (not turned over) as near to the second as it comes.
fn apart(a: &Outline, b: &Outline) -> f64 {
    let (mut p, q) = (points(a), points(b));
    let middle =
        |list: &[Point]| list.iter().fold(Vec2::ZERO, |s, p| s + p.to_vec2()) / list.len() as f64;
    let (from, to) = (a.bounds().center(), b.bounds().center());
    p.iter_mut().for_each(|point| *point += to - from);
    for _ in 0..6 {
        let mates: Vec<Point> = p.iter().map(|x| nearest(*x, &q).1).collect();
        let (mp, mq) = (middle(&p), middle(&mates));
        let (mut cosine, mut sine) = (0.0, 0.0);
        for (x, y) in p.iter().zip(&mates) {
            let (x, y) = (x.to_vec2() - mp, y.to_vec2() - mq);
            cosine += x.dot(y);
            sine += x.cross(y);
        }
        let lay =
            Affine::translate(mq) * Affine::rotate(sine.atan2(cosine)) * Affine::translate(-mp);
        p.iter_mut().for_each(|point| *point = lay * *point);
    }
    let one = p.iter().map(|x| nearest(*x, &q).0).fold(0.0, f64::max);
    q.iter().map(|x| nearest(*x, &p).0).fold(one, f64::max)
}

/// The piece that is farthest from the original's, in mm and by name, on a doll.
fn worst(original: &Garment, bare: &Bare, ready: &Garment, doll: &Arc<Body>) -> (f64, String) {
    let (own, wanted) = (on(ready, doll), on(original, doll));
    let mut worst = (0.0, String::new());
    for (piece, came) in own.iter().zip(&bare.garment.pieces) {
        let name = &bare.pieces[&came.name];
        let like = wanted.iter().find(|piece| piece.name == *name).unwrap();
        let off = apart(&piece.outline, &like.outline);
        if off > worst.0 {
            worst = (off, name.clone());
        }
    }
    worst
}

const DOLLS: [&str; 3] = ["play-45", "fashion-29-slim", "jointed-60"];

#[test]
fn the_bodice_with_sleeves_is_ready_after_at_most_fifteen_confirmations() {
    for garment in [bodice_with_sleeves(), demos().swap_remove(2)] {
        for (coming, seed) in [(SHUFFLED, 11), (AS_A_DRAWING, 12)] {
            let bare = bare(&garment, coming, seed);
            let (ready, confirmations) = accepted(&bare);
            assert!(confirmations <= 15, "{}: {confirmations}", garment.name);
            assert_eq!(is_ready(&ready), Ok(()), "{}", garment.name);
            assert_eq!(ready.made_for.key, "woman-92");
        }
    }
}

#[test]
fn a_readied_garment_comes_out_on_dolls_as_the_one_it_came_from() {
    let mut table = String::new();
    for garment in demos() {
        let bare = bare(&garment, SHUFFLED, 7);
        let (ready, confirmations) = accepted(&bare);
        table += &format!(
            "{}, {confirmations} confirmations, {}\n",
            garment.name, ready.made_for.name
        );
        for key in DOLLS {
            let doll = body(key);
            let (off, piece) = worst(&garment, &bare, &ready, &doll);
            let bust = doll.mm(petitoile_core::measure::Measure::BustGirth).0;
            table += &format!(
                "  {key:<16} {:>4.1} % of the bust ({piece})\n",
                100.0 * off / bust
            );
        }
    }
    insta::assert_snapshot!(table);
}
