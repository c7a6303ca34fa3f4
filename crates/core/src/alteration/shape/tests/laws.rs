//! Laws on the published drafts and the demo garments.

use proptest::prelude::*;

use super::*;
use crate::alteration::Altered;
use crate::garment::Garment;
use crate::geometry::simple::crosses_itself;

fn chosen(
    garment: &Garment,
    piece: &str,
    change: &ShapeChange,
) -> Result<Altered, AlterationError> {
    let altered = change.applied(garment, piece)?;
    let new = altered.garment.piece(piece).unwrap();
    assert_eq!(altered.garment.check_references(), Ok(()));
    assert!(crosses_itself(&new.outline).is_none());
    assert!(Outline::new(new.outline.edges().to_vec()).is_ok());
    if let Some(fold) = new.fold_edge() {
        assert!(fold.line.is_straight(), "the fold stays straight");
    }
    Ok(altered)
}

fn edge_of(piece: &Piece, number: usize) -> String {
    let edges = piece.outline.edges();
    edges[number % edges.len()].name.clone()
}

fn outline<'a>(altered: &'a Altered, piece: &str) -> &'a Outline {
    &altered.garment.piece(piece).unwrap().outline
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn slash_and_spread_by_d_widens_by_exactly_d(
        n in 0..1000_usize, a in 0..30_usize, b in 0..30_usize,
        (from, to) in (0.05..0.95, 0.05..0.95), d in 0.5..20.0, how in 0..3_usize,
    ) {
        let (garment, piece) = nth_piece(n);
        let (from_edge, to_edge) = (edge_of(piece, a), edge_of(piece, b));
        prop_assume!(from_edge != to_edge);
        let how = [Spreading::Even, Spreading::Hinged(HingeEnd::From), Spreading::Hinged(HingeEnd::To)][how];
        let change = ShapeChange::Spread {
            from: place(&from_edge, from),
            to: place(&to_edge, to),
            by: Mm(d),
            how,
        };
        let Ok(altered) = chosen(garment, &piece.name, &change) else { return Ok(()) };
        let new = altered.garment.piece(&piece.name).unwrap();
        for edge in piece.outline.edges() {
            let grows = length(new, &edge.name) - edge.line.length();
            let opens = (edge.name == from_edge && how != Spreading::Hinged(HingeEnd::From))
                || (edge.name == to_edge && how != Spreading::Hinged(HingeEnd::To));
            let wanted = if opens { d } else { 0.0 };
            prop_assert!((grows - wanted).abs() < 1e-6, "{} grows by {grows}", edge.name);
        }
    }

    #[test]
    fn an_edge_split_and_joined_again_is_the_edge_before(n in 0..1000_usize, e in 0..30_usize, at in 0.01..0.99) {
        let (garment, piece) = nth_piece(n);
        let edge = edge_of(piece, e);
        let split = ShapeChange::SplitEdge { at: place(&edge, at), name: "second part".to_owned() };
        let Ok(two) = chosen(garment, &piece.name, &split) else { return Ok(()) };
        prop_assert_eq!(outline(&two, &piece.name).edges().len(), piece.outline.edges().len() + 1);
        let join = ShapeChange::JoinEdges { edge };
        let one = chosen(&two.garment, &piece.name, &join).unwrap();
        prop_assert!(apart(&piece.outline, outline(&one, &piece.name)) < 1e-6);
        let both = two.carried.then(&one.carried);
        for edge in piece.outline.edges() {
            let own = crate::edge::EdgeRef::new(&piece.name, &edge.name);
            prop_assert_eq!(both.whole_edge(&own), Some((own, false)));
        }
        for (old, new) in garment.seams.iter().zip(&one.garment.seams) {
            prop_assert_eq!((old.a.len(), old.b.len()), (new.a.len(), new.b.len()));
            let off = (old.difference(&garment.pieces).unwrap() - new.difference(&one.garment.pieces).unwrap()).0;
            prop_assert!(off.abs() < 1e-6);
        }
    }

    #[test]
    fn a_point_put_in_and_taken_out_leaves_the_edge_as_it_was(n in 0..1000_usize, e in 0..30_usize, at in 0.02..0.98) {
        let (garment, piece) = nth_piece(n);
        let edge = edge_of(piece, e);
        let add = ShapeChange::AddPoint { at: place(&edge, at) };
        let Ok(more) = chosen(garment, &piece.name, &add) else { return Ok(()) };
        let line = &outline(&more, &piece.name).edge(&edge).unwrap().line;
        let old = &piece.outline.edge(&edge).unwrap().line;
        prop_assert!((line.length() - old.length()).abs() < 1e-6);
        let spot = old.at(at);
        let number = line.points().iter().step_by(3).position(|p| (*p - spot).hypot() < 1e-6).unwrap() * 3;
        let take = ShapeChange::RemovePoint { point: PointRef::new(&edge, number) };
        let less = chosen(&more.garment, &piece.name, &take).unwrap();
        prop_assert!(apart(&piece.outline, outline(&less, &piece.name)) < 1e-6);
    }

    #[test]
    fn mirrored_twice_or_turned_and_turned_back_a_piece_lies_as_before(n in 0..1000_usize, by in -180.0..180.0, upright: bool) {
        let (garment, piece) = nth_piece(n);
        let axis = if upright { Axis::Upright } else { Axis::Level };
        let mirror = ShapeChange::Mirror { axis };
        let once = chosen(garment, &piece.name, &mirror).unwrap();
        let twice = chosen(&once.garment, &piece.name, &mirror).unwrap();
        prop_assert!(apart(&piece.outline, outline(&twice, &piece.name)) < 1e-9);
        let before = garment.piece(&piece.name).unwrap();
        let after = twice.garment.piece(&piece.name).unwrap();
        prop_assert_eq!(&before.darts, &after.darts);
        for (old, new) in before.notches.iter().zip(&after.notches) {
            prop_assert!(old.edge == new.edge && (old.fraction - new.fraction).abs() < 1e-12);
        }
        for (old, new) in garment.seams.iter().zip(&once.garment.seams) {
            let off = (old.difference(&garment.pieces).unwrap() - new.difference(&once.garment.pieces).unwrap()).0;
            prop_assert!(off.abs() < 1e-6);
        }
        let turned = ShapeChange::Turn { by: Degrees(by) }.applied(garment, &piece.name).unwrap();
        let back = ShapeChange::Turn { by: Degrees(-by) }.applied(&turned.garment, &piece.name).unwrap();
        let moved = piece.outline.edges()[0].line.start() - outline(&back, &piece.name).edges()[0].line.start();
        for (a, b) in piece.outline.edges().iter().zip(outline(&back, &piece.name).edges()) {
            for (p, q) in a.line.points().iter().zip(b.line.points()) {
                prop_assert!((*p - *q - moved).hypot() < 1e-6);
            }
        }
    }

    #[test]
    fn a_turned_piece_keeps_its_size_and_its_grain(n in 0..1000_usize, by in -180.0..180.0) {
        let (garment, piece) = nth_piece(n);
        let turned = ShapeChange::Turn { by: Degrees(by) }.applied(garment, &piece.name).unwrap();
        let new = turned.garment.piece(&piece.name).unwrap();
        prop_assert!((new.outline.area() / piece.outline.area() - 1.0).abs() < 1e-9);
        let upright = ShapeChange::TurnToGrain.applied(&turned.garment, &piece.name);
        if let Ok(upright) = upright {
            let (a, b) = upright.garment.piece(&piece.name).unwrap().grainline.unwrap();
            prop_assert!((a.x - b.x).abs() < 1e-6);
        }
    }

    #[test]
    fn points_moved_by_hand_keep_straight_edges_straight_and_smooth_joins_smooth(
        n in 0..1000_usize, picks in prop::collection::vec((0..30_usize, 0..30_usize), 1..4),
        right in -30.0..30.0_f64, up in -30.0..30.0_f64,
    ) {
        let (garment, piece) = nth_piece(n);
        let points: Vec<PointRef> = picks.iter().map(|(e, k)| {
            let edge = edge_of(piece, *e);
            let count = piece.outline.edge(&edge).unwrap().line.points().len();
            PointRef::new(edge, 3 * (k % count.div_ceil(3)))
        }).collect();
        let change = ShapeChange::MovePoints { points, right: Mm(right), up: Mm(up), keep_smooth: true };
        let Ok(altered) = chosen(garment, &piece.name, &change) else { return Ok(()) };
        let new = outline(&altered, &piece.name);
        for (old, new) in piece.outline.edges().iter().zip(new.edges()) {
            if old.line.is_straight() {
                prop_assert!(new.line.is_straight() || old.line.points().len() > 4, "{}", old.name);
            }
            for i in (3..old.line.points().len() - 1).step_by(3) {
                let bend = |line: &Line| {
                    let p = line.points();
                    let (a, b) = (p[i] - p[i - 1], p[i + 1] - p[i]);
                    a.cross(b) / (a.hypot() * b.hypot())
                };
                if bend(&old.line).abs() < 1e-6 && !old.line.is_straight() {
                    prop_assert!(bend(&new.line).abs() < 1e-4, "{} {}", old.name, bend(&new.line));
                }
            }
        }
    }

    #[test]
    fn whatever_is_done_to_an_edge_the_outline_stays_closed_and_simple(
        n in 0..1000_usize, e in 0..30_usize, f in 0..30_usize,
        (a, b) in (-0.1..1.1, -0.1..1.1), by in -60.0..60.0, kind in 0..10_usize,
    ) {
        let (garment, piece) = nth_piece(n);
        let (edge, other) = (edge_of(piece, e), edge_of(piece, f));
        let (at, to) = (place(&edge, a), place(&other, b));
        let change = match kind {
            0 => ShapeChange::MoveStretch { from: at, to, right: Mm(by), up: Mm(by / 2.0) },
            1 => ShapeChange::Lengthen { from: at, to, by: Mm(by) },
            2 => ShapeChange::Spread { from: at, to, by: Mm(by), how: Spreading::Even },
            3 => ShapeChange::Spread { from: at, to, by: Mm(by), how: Spreading::Hinged(HingeEnd::To) },
            4 => ShapeChange::Widen { edge, at_start: Mm(by), at_end: Mm(-by / 3.0) },
            5 => ShapeChange::SetLength { edge, length: Mm(by * 4.0) },
            6 => ShapeChange::Straighten { edge },
            7 => ShapeChange::JoinEdges { edge },
            8 => ShapeChange::Raise { edge, by: vec![Mm(by), Mm(0.0), Mm(by / 2.0)] },
            _ => ShapeChange::Smooth { point: PointRef::new(edge, 0) },
        };
        chosen(garment, &piece.name, &change).ok();
    }
}

/// The laws above hold for what is applied; this one counts that most of what a maker asks for is.
#[test]
fn most_slashes_across_real_pieces_are_spread_and_most_edges_let_out() {
    let (mut asked, mut done) = (0, 0);
    for n in 0..40 {
        let (garment, piece) = nth_piece(n);
        let names: Vec<&String> = piece
            .outline
            .edges()
            .iter()
            .map(|edge| &edge.name)
            .collect();
        for (i, from) in names.iter().enumerate() {
            let to = names[(i + names.len() / 2) % names.len()];
            let spread = ShapeChange::Spread {
                from: place(from, 0.5),
                to: place(to, 0.5),
                by: Mm(6.0),
                how: Spreading::Hinged(HingeEnd::To),
            };
            let widen = ShapeChange::Widen {
                edge: (*from).clone(),
                at_start: Mm(3.0),
                at_end: Mm(5.0),
            };
            for change in [spread, widen] {
                asked += 1;
                done += usize::from(chosen(garment, &piece.name, &change).is_ok());
            }
        }
    }
    assert!(asked > 300 && done * 10 > asked * 7, "{done} of {asked}");
}
