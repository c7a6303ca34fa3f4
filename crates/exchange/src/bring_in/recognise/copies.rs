//! How often each piece is cut, right and left.

use petitoile_core::geometry::curve::Line;
use petitoile_core::piece::{Copy, Role, Side};

use super::corners::Smooth;
use super::draft::corner_turn;
use super::pieces::Work;
use super::told::guess;
use super::types::{Alternative, Correction, Guess, GuessKind};

/// How often each piece is cut: by its words, else once, with a doubt.
pub(super) fn copies(work: &mut Work<'_>) {
    for draft in &mut work.drafts {
        let id = draft.id;
        let is_whole = draft.fold.is_some() || is_mirrored(&draft.edges);
        let mut list = Vec::new();
        let mut certainty: f64 = 0.9;
        for count in &draft.counts {
            let copy = |side| Copy {
                side,
                role: count.role,
            };
            let n = count.number;
            match count.sides {
                Some((left, right)) if left + right <= n => {
                    list.extend(std::iter::repeat_n(copy(Side::Right), right));
                    list.extend(std::iter::repeat_n(copy(Side::Left), left));
                    list.extend(std::iter::repeat_n(copy(Side::Whole), n - left - right));
                }
                _ if is_whole || n % 2 == 1 => {
                    certainty = certainty.min(if n > 1 { 0.75 } else { 0.9 });
                    list.extend(std::iter::repeat_n(copy(Side::Whole), n));
                }
                _ => {
                    certainty = certainty.min(0.8);
                    list.extend(std::iter::repeat_n(copy(Side::Right), n / 2));
                    list.extend(std::iter::repeat_n(copy(Side::Left), n / 2));
                }
            }
        }
        let told = !list.is_empty();
        if told {
            draft.copies = list;
        }
        let n = draft.copies.len();
        let pair = vec![
            Copy {
                side: Side::Right,
                role: Role::Shell,
            },
            Copy {
                side: Side::Left,
                role: Role::Shell,
            },
        ];
        let once = vec![Copy {
            side: Side::Whole,
            role: Role::Shell,
        }];
        let mut others = Vec::new();
        for (words, copies) in [("cut once", once), ("cut as a pair, right and left", pair)] {
            if copies != draft.copies {
                others.push(Alternative {
                    words: words.to_owned(),
                    correction: Correction::Copies { piece: id, copies },
                });
            }
        }
        work.guesses.push(Guess {
            words: if n == 1 {
                "cut once".to_owned()
            } else {
                format!("cut {n} times")
            },
            rests_on: if told {
                "its words say so".to_owned()
            } else {
                "no words tell how often".to_owned()
            },
            certainty: if told { certainty } else { 0.4 },
            alternatives: others,
            ..guess(Some(id), GuessKind::CutCount, "", draft.bounds.center())
        });
    }
}

/// Is an outline its own mirror image? Corners and the middles of edges are compared about its main directions.
fn is_mirrored(edges: &[Smooth]) -> bool {
    let lines: Vec<_> = edges
        .iter()
        .filter_map(|e| Line::from_cubics(&e.cubics))
        .collect();
    let whole: f64 = lines.iter().map(|l| l.length()).sum();
    let n = lines.len();
    if n == 0 || whole <= 0.0 {
        return false;
    }
    // An axis passes through a corner or the middle of an edge: walking both ways from there, edges are alike.
    let shape = |l: &Line, back: bool| {
        let (a, b) = (l.start(), l.end());
        let chord = b - a;
        let off = |f: f64| {
            let p = l.at(f) - a;
            (p.dot(chord), chord.cross(p))
        };
        let (q, m) = if back {
            (off(0.75), off(0.25))
        } else {
            (off(0.25), off(0.75))
        };
        let long = chord.hypot().max(1e-9);
        let along = |v: f64| if back { long - v / long } else { v / long };
        [l.length(), along(q.0), q.1 / long, along(m.0), m.1 / long]
    };
    let close = |a: [f64; 5], b: [f64; 5]| {
        a.iter()
            .zip(b)
            .all(|(x, y)| (x - y).abs() <= 0.3 + 0.002 * whole)
    };
    let turns: Vec<f64> = (0..n).map(|i| corner_turn(edges, i)).collect();
    let at = |i: usize| lines.get(i % n);
    let corner = |i: usize| turns.get(i % n).copied().unwrap_or(0.0);
    (0..2 * n).any(|axis| {
        // Edge `i` faces edge `axis - i`; corner `i` (its start) faces the start of edge `axis - i + 1`.
        (0..n).all(|i| {
            let j = (axis + 2 * n - i) % n;
            let (Some(a), Some(b)) = (at(i), at(j)) else {
                return false;
            };
            close(shape(a, false), shape(b, true)) && (corner(i) - corner(j + 1)).abs() <= 0.05
        })
    })
}
