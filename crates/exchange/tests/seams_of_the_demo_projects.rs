//! Seams of the demo projects: walked against an independent integration, and found again by their shapes alone.
//!
//! Independent crate: `lyon_geom` 1.0 (its flattening and arc lengths share no code with ours).
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::print_stdout,
    reason = "tests"
)]

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use kurbo::{Affine, Point};
use lyon_geom::CubicBezierSegment;
use petitoile_core::Mm;
use petitoile_core::adapt::adapt;
use petitoile_core::edge::Edge;
use petitoile_core::garment::Garment;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::mates::mates;
use petitoile_core::piece::Piece;
use petitoile_core::project::Project;
use petitoile_core::seams::{Seam, Stretch};
use petitoile_core::walk::{Laid, Pace, Walk};
use petitoile_exchange::project_file;

fn projects() -> Vec<Project> {
    [
        "harbour-jacket.ron",
        "sunday-skirts.ron",
        "net-menders-smock.ron",
    ]
    .iter()
    .map(|file| {
        let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
            .join("../../demo-projects")
            .join(file);
        project_file::read(&std::fs::read(path).unwrap()).unwrap()
    })
    .collect()
}

fn drawn() -> Vec<Garment> {
    projects()
        .iter()
        .flat_map(|project| {
            project
                .garments
                .iter()
                .map(|g| Garment::clone(g))
                .collect::<Vec<_>>()
        })
        .collect()
}

fn fitted() -> Vec<Garment> {
    projects()
        .iter()
        .flat_map(|project| {
            project
                .fittings
                .iter()
                .map(|fitting| {
                    let adapted = adapt(project, &fitting.name).unwrap();
                    Garment {
                        name: fitting.name.clone(),
                        ..Garment::clone(&adapted.made)
                    }
                })
                .collect::<Vec<_>>()
        })
        .collect()
}

/// Arc length of a line up to a fraction of its parameter on one cubic, by the other crate.
fn other_lengths(line: &Line) -> Vec<f64> {
    line.cubics()
        .map(|c| {
            let p = |p: Point| lyon_geom::point(p.x, p.y);
            CubicBezierSegment {
                from: p(c.p0),
                ctrl1: p(c.p1),
                ctrl2: p(c.p2),
                to: p(c.p3),
            }
            .approximate_length(1e-7)
        })
        .collect()
}

fn other_length(line: &Line) -> f64 {
    other_lengths(line).iter().sum()
}

/// Every seam walked in steps: the way from the start to each step, measured by the other crate, is what was walked.
#[test]
fn walked_distances_agree_with_another_crates_integration_on_every_seam() {
    let (mut seams, mut steps, mut worst) = (0, 0, 0.0_f64);
    for garment in drawn().iter().chain(&fitted()) {
        for seam in &garment.seams {
            let walk = Walk::new(seam, &garment.pieces).unwrap();
            for (side, stretches) in [(&walk.a, &seam.a), (&walk.b, &seam.b)] {
                let whole: f64 = stretches
                    .iter()
                    .map(|s| other_length(&s.line(&garment.pieces).unwrap()))
                    .sum();
                worst = worst.max((whole - side.length().0).abs());
                for step in 1..=7 {
                    let along = side.length().0 * f64::from(step) / 7.0;
                    let place = side.place(Mm(along)).unwrap();
                    let mut passed = 0.0;
                    for (number, stretch) in stretches.iter().enumerate().take(place.part + 1) {
                        let to = if number == place.part {
                            place.fraction
                        } else {
                            stretch.to
                        };
                        let piece = garment.piece(&stretch.piece).unwrap();
                        let line = &piece.outline.edge(&stretch.edge).unwrap().line;
                        if let Some(part) = line.between(stretch.from, to) {
                            passed += other_length(&part);
                        }
                    }
                    worst = worst.max((passed - along).abs());
                    steps += 1;
                }
            }
            seams += 1;
        }
    }
    println!("{seams} seams, {steps} places: farthest apart {worst:.2e} mm");
    assert!(seams > 200 && worst < 1e-4, "{seams} seams, {worst:.2e} mm");
}

#[test]
fn the_two_places_of_every_seam_meet_at_every_step() {
    for garment in drawn().iter().chain(&fitted()) {
        for seam in &garment.seams {
            let walk = Walk::new(seam, &garment.pieces).unwrap();
            for step in 0..=20 {
                let walked = Mm(walk.length().0 * f64::from(step) / 20.0);
                for pace in [Pace::Same, Pace::Notches] {
                    let at = walk.at(walked, pace, Laid::Beside).unwrap();
                    let gap = (at.a_from_b * at.b.point - at.a.point).hypot();
                    assert!(gap < 1e-9, "{}, {}: {gap}", garment.name, seam.name);
                }
            }
        }
    }
}

/// The garment with its seams taken out and everything that could give it away: names, order of pieces, where an
/// outline is begun, how a piece lies.
struct Scrambled {
    garment: Garment,
    pieces: BTreeMap<String, String>,
    edges: BTreeMap<(String, String), String>,
}

fn scrambled(garment: &Garment) -> Scrambled {
    let mut pieces = BTreeMap::new();
    let mut edges = BTreeMap::new();
    let count = garment.pieces.len();
    for (number, piece) in garment.pieces.iter().enumerate() {
        let place = (number * 7 + 3) % 101;
        pieces.insert(piece.name.clone(), format!("p{place:03}"));
        for (edge, of) in piece.outline.edges().iter().enumerate() {
            let name = format!("e{:03}", (edge * 31 + number * 17 + 5) % 499);
            edges.insert((piece.name.clone(), of.name.clone()), name);
        }
    }
    let renamed = |piece: &Piece, number: usize| {
        let edge = |name: &str| edges[&(piece.name.clone(), name.to_owned())].clone();
        let turn = Affine::translate((13.0 * number as f64, -40.0))
            * Affine::rotate(0.7 * number as f64 + 0.3);
        let mut list: Vec<Edge> = piece
            .outline
            .edges()
            .iter()
            .map(|e| Edge {
                name: edge(&e.name),
                line: e.line.mapped(|p| turn * p),
                finish: e.finish.clone(),
                allowance: e.allowance,
            })
            .collect();
        let begun = (number + 1) % list.len();
        list.rotate_left(begun);
        let mut next = piece.clone();
        next.name = pieces[&piece.name].clone();
        next.outline = Outline::new(list).unwrap();
        for dart in &mut next.darts {
            dart.leg_in = edge(&dart.leg_in);
            dart.leg_out = edge(&dart.leg_out);
        }
        for notch in &mut next.notches {
            notch.edge = edge(&notch.edge);
        }
        next.body_lines.clear();
        next.marks.clear();
        next.fullness.clear();
        next.grainline = None;
        Arc::new(next)
    };
    let mut list: Vec<Arc<Piece>> = garment
        .pieces
        .iter()
        .enumerate()
        .map(|(number, piece)| renamed(piece, number))
        .collect();
    list.reverse();
    list.rotate_left(1 % count);
    let garment = Garment {
        pieces: list,
        seams: Vec::new(),
        tape_lines: Vec::new(),
        openings: Vec::new(),
        ..garment.clone()
    };
    Scrambled {
        garment,
        pieces,
        edges,
    }
}

impl Scrambled {
    fn side(&self, side: &[Stretch]) -> Vec<Stretch> {
        side.iter()
            .map(|s| Stretch {
                piece: self.pieces[&s.piece].clone(),
                edge: self.edges[&(s.piece.clone(), s.edge.clone())].clone(),
                ..s.clone()
            })
            .collect()
    }
}

/// The same stretches of the same layers, whichever copy of a pair is named and whichever end is walked from.
fn same(x: &[Stretch], y: &[Stretch]) -> bool {
    let one = |a: &Stretch, b: &Stretch, turned: bool| {
        let (from, to) = if turned {
            (b.to, b.from)
        } else {
            (b.from, b.to)
        };
        (&a.piece, &a.edge, a.copy.role) == (&b.piece, &b.edge, b.copy.role)
            && (a.from - from).abs() < 0.01
            && (a.to - to).abs() < 0.01
    };
    let turned: Vec<&Stretch> = y.iter().rev().collect();
    x.len() == y.len()
        && (x.iter().zip(y).all(|(a, b)| one(a, b, false))
            || x.iter().zip(turned).all(|(a, b)| one(a, b, true)))
}

/// Sides of a garment that can be told apart only by their names: a band's two long edges when the band lies on itself
/// turned half round or over.
fn alike(garment: &Garment, x: &[Stretch], y: &[Stretch]) -> bool {
    let ([x], [y]) = (x, y) else {
        return false;
    };
    if x.piece != y.piece || x.copy.role != y.copy.role {
        return false;
    }
    let piece = garment.piece(&x.piece).unwrap();
    let centre = piece.outline.bounds().center().to_vec2();
    let edge = |name: &str| &piece.outline.edge(name).unwrap().line;
    // The axes of the piece: along and across the edge asked about.
    let along = edge(&x.edge).end() - edge(&x.edge).start();
    let frame = Affine::translate(centre) * Affine::rotate(along.atan2());
    [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0)]
        .iter()
        .any(|(a, b)| {
            let image = frame * Affine::scale_non_uniform(*a, *b) * frame.inverse();
            let lies = |from: &Line, to: &Line| {
                (0..=8).map(|i| f64::from(i) / 8.0).all(|at| {
                    let p = image * from.at(at);
                    (p - to.at(at)).hypot() < 0.05 || (p - to.at(1.0 - at)).hypot() < 0.05
                })
            };
            let whole = piece
                .outline
                .edges()
                .iter()
                .all(|e| piece.outline.edges().iter().any(|f| lies(&e.line, &f.line)));
            whole && lies(edge(&x.edge), edge(&y.edge))
        })
}

struct Count {
    right: usize,
    all: usize,
    by_likeness: usize,
}

/// Asks about the first side of every seam (the second where the first lies on several pieces). Right is the seam's own
/// other side in the first place; where the side is sewn in k seams, in the first k places; where a band lies on itself
/// when it is turned, either of its like edges.
fn ask(garments: &[Garment], told: bool) -> Count {
    let mut count = Count {
        right: 0,
        all: 0,
        by_likeness: 0,
    };
    for garment in garments {
        let hidden = scrambled(garment);
        for seam in &garment.seams {
            let one_piece = |side: &[Stretch]| side.iter().all(|s| s.piece == side[0].piece);
            let (asked, wanted): (&[Stretch], &[Stretch]) = if one_piece(&seam.a) {
                (&seam.a, &seam.b)
            } else {
                (&seam.b, &seam.a)
            };
            let places = seams_of(garment, asked);
            let found = mates(&hidden.garment, &hidden.side(asked)).unwrap();
            let wanted = hidden.side(wanted);
            let first = found.iter().take(places);
            let exact = first.clone().any(|mate| same(&mate.stretches, &wanted));
            let like = first
                .clone()
                .any(|mate| alike(&hidden.garment, &mate.stretches, &wanted));
            count.all += 1;
            if exact || like {
                count.right += 1;
                count.by_likeness += usize::from(!exact);
            } else if told {
                println!("{}, {}: asked {}", garment.name, seam.name, show(asked));
                for mate in found.iter().take(4) {
                    println!(
                        "   {:.3} {} ({})",
                        mate.score,
                        show(&back(&hidden, &mate.stretches)),
                        mate.reason
                    );
                }
            }
        }
    }
    count
}

/// In how many seams is this very side sewn?
fn seams_of(garment: &Garment, side: &[Stretch]) -> usize {
    garment
        .seams
        .iter()
        .filter(|seam: &&Seam| same(&seam.a, side) || same(&seam.b, side))
        .count()
}

fn show(side: &[Stretch]) -> String {
    let names: Vec<String> = side
        .iter()
        .map(|s| format!("{}.{}[{:.2}..{:.2}]", s.piece, s.edge, s.from, s.to))
        .collect();
    names.join(" + ")
}

fn back(hidden: &Scrambled, side: &[Stretch]) -> Vec<Stretch> {
    side.iter()
        .map(|s| {
            let piece = hidden.pieces.iter().find(|(_, n)| **n == s.piece).unwrap();
            let edge = hidden
                .edges
                .iter()
                .find(|((p, _), n)| p == piece.0 && **n == s.edge)
                .unwrap();
            Stretch {
                piece: piece.0.clone(),
                edge: edge.0.1.clone(),
                ..s.clone()
            }
        })
        .collect()
}

#[test]
fn the_true_mate_comes_first_for_nineteen_seams_in_twenty() {
    let drawn = ask(&drawn(), true);
    println!(
        "as drawn: {} of {} right, {} of them by likeness",
        drawn.right, drawn.all, drawn.by_likeness
    );
    let fitted = ask(&fitted(), true);
    println!(
        "on the dolls: {} of {} right, {} of them by likeness",
        fitted.right, fitted.all, fitted.by_likeness
    );
    for count in [&drawn, &fitted] {
        assert!(
            count.right * 100 >= count.all * 95,
            "{} of {}",
            count.right,
            count.all
        );
    }
}
