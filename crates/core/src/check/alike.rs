//! Pieces that look nearly the same when turned over or round, and could be sewn in the wrong way.
//!
//! A piece that is exactly the same does no harm set either way and is not mentioned.

use std::collections::BTreeSet;
use std::sync::Arc;

use kurbo::{Affine, BezPath, Point, Shape, Vec2};

use crate::adapt::Adapted;
use crate::alteration::{Alteration, SeamChange};
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::finish::{Finished, FinishedPiece};
use crate::garment::Garment;
use crate::notch::{Notch, NotchKind};
use crate::piece::Piece;
use crate::seams::{Stretch, side_length};
use crate::tolerance::DRAWING;

use super::finding;

/// Difference that an eye misses on a cut piece (common practice, no source).
const LOOKS_ALIKE: f64 = 2.0;

/// The same on the stitch line, where allowances differ from edge to edge (common practice, no source).
const STITCH_ALIKE: f64 = 4.0;

/// Difference that does no harm when the piece is set the other way.
const HARMLESS: f64 = 0.2;

/// How near the image of a notch must come to another to be taken for it.
const NOTCH_NEAR: f64 = 3.0;

/// Fractions of every edge at which it is asked what it is sewn to.
const ASKED_AT: [f64; 4] = [0.375, 0.625, 0.125, 0.875];

/// A place on an edge: edge name and fraction.
type Spot = (String, f64);

/// Nearly symmetric pieces whose edges go to different mates and whose notches do not tell them apart.
pub(super) fn findings(finished: &Finished) -> Vec<Finding> {
    let adapted = &finished.filled.adapted;
    finished
        .pieces
        .iter()
        .filter(|piece| piece.piece.fold_edge().is_none())
        .filter_map(|piece| wrong_way(adapted, piece))
        .collect()
}

/// The ways of laying a piece wrongly, with how to say it.
const WAYS: [(&str, bool, bool); 3] = [
    ("turned over left to right", true, false),
    ("turned over top to bottom", false, true),
    ("turned half round", true, true),
];

fn wrong_way(adapted: &Adapted, piece: &FinishedPiece) -> Option<Finding> {
    let garment = &adapted.made;
    WAYS.iter().find_map(|(words, across, along)| {
        let (turned, off) = nearest_image(piece, *across, *along)?;
        if notches_tell(&piece.piece, turned) {
            return None;
        }
        let (spot, image) = different_mates(garment, &piece.piece, turned)?;
        Some(told(
            garment,
            &piece.piece,
            words,
            off,
            &spot,
            &image,
            remedy(adapted, &piece.piece.name),
        ))
    })
}

/// Notches by hand: on the garment where it is shown as drawn, else as a step of the fitting, whose pieces these are.
fn remedy(adapted: &Adapted, piece: &str) -> Edit {
    let alteration = Alteration::Seam(SeamChange::Distinguish {
        piece: piece.to_owned(),
    });
    if Arc::ptr_eq(&adapted.garment, &adapted.made) {
        Edit::Alter {
            garment: adapted.garment.name.clone(),
            alteration,
        }
    } else {
        Edit::Fitting {
            fitting: adapted.fitting.name.clone(),
            change: FittingEdit::AddAlteration(alteration),
        }
    }
}

/// The image of a piece, if it looks like the piece, and how far off it is.
fn nearest_image(piece: &FinishedPiece, across: bool, along: bool) -> Option<(Affine, f64)> {
    let cut = corners_of(&piece.cut);
    let stitch = corners_of(&piece.stitch);
    let grain = grain_of(&piece.piece);
    let centres = [piece.cut.bounding_box().center(), centroid(&cut)];
    let images = centres.into_iter().filter_map(|centre| {
        let turned = image(centre, grain, across, along);
        let off = deviation(&cut, turned, LOOKS_ALIKE)?;
        // The stitch line may differ more than the cut line, where allowances differ.
        let harm = deviation(&stitch, turned, f64::INFINITY)
            .unwrap_or(off)
            .max(off);
        (harm > HARMLESS).then_some((turned, off))
    });
    images.min_by(|x, y| x.1.total_cmp(&y.1))
}

fn image(centre: Point, grain: Vec2, across: bool, along: bool) -> Affine {
    let turn = Affine::translate(centre.to_vec2()) * Affine::rotate(grain.atan2());
    // In this frame the grain runs along x.
    let flip = Affine::scale_non_uniform(
        if along { -1.0 } else { 1.0 },
        if across { -1.0 } else { 1.0 },
    );
    turn * flip * turn.inverse()
}

/// Corners of a closed path, long sides divided, so that distances can be taken from point to side.
fn corners_of(path: &BezPath) -> Vec<Point> {
    const LONGEST: f64 = 8.0;
    let mut corners: Vec<Point> = Vec::new();
    kurbo::flatten(path, DRAWING.0, |element| {
        let Some(to) = element.end_point() else {
            return;
        };
        if let Some(from) = corners.last().copied() {
            let parts = ((to - from).hypot() / LONGEST).ceil().clamp(1.0, 64.0) as u32;
            corners.extend((1..parts).map(|i| from.lerp(to, f64::from(i) / f64::from(parts))));
        }
        corners.push(to);
    });
    corners
}

/// Middle of the corners, each weighed with the length of its two sides.
fn centroid(corners: &[Point]) -> Point {
    let mut sum = Vec2::ZERO;
    let mut length = 0.0;
    for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let side = (*b - *a).hypot();
        sum += a.midpoint(*b).to_vec2() * side;
        length += side;
    }
    if length > 0.0 {
        (sum / length).to_point()
    } else {
        Point::ZERO
    }
}

/// Largest distance of the image of an outline from that outline; `None` beyond the limit.
fn deviation(corners: &[Point], turned: Affine, limit: f64) -> Option<f64> {
    let mut most: f64 = 0.0;
    for corner in corners {
        most = most.max(distance(turned * *corner, corners));
        if most > limit {
            return None;
        }
    }
    Some(most)
}

fn distance(p: Point, corners: &[Point]) -> f64 {
    let sides = corners.iter().zip(corners.iter().cycle().skip(1));
    sides
        .map(|(a, b)| to_side(p, *a, *b))
        .fold(f64::INFINITY, f64::min)
}

fn to_side(p: Point, a: Point, b: Point) -> f64 {
    let side = b - a;
    let along = if side.hypot2() > 0.0 {
        ((p - a).dot(side) / side.hypot2()).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (p - a - side * along).hypot()
}

/// Is there a notch whose image has no like?
fn notches_tell(piece: &Piece, turned: Affine) -> bool {
    let at = |notch: &Notch| {
        piece
            .outline
            .edge(&notch.edge)
            .map(|edge| edge.line.at(notch.fraction))
    };
    let notches: Vec<(Point, NotchKind)> = piece
        .notches
        .iter()
        .filter_map(|notch| Some((at(notch)?, notch.kind)))
        .collect();
    let has_like = |(p, kind): &(Point, NotchKind)| {
        notches
            .iter()
            .any(|(q, other)| other == kind && (turned * *p - *q).hypot() < NOTCH_NEAR)
    };
    !notches.iter().all(has_like)
}

/// A place on an edge that is sewn to another piece than the place it is taken for.
fn different_mates(garment: &Garment, piece: &Piece, turned: Affine) -> Option<(Spot, Spot)> {
    let spots = ASKED_AT
        .iter()
        .flat_map(|f| piece.outline.edges().iter().map(move |edge| (edge, *f)));
    let mut one_sided = None;
    let all = all_spots(piece);
    for (edge, fraction) in spots {
        let spot = (edge.name.clone(), fraction);
        let Some(image) = nearest_spot(&all, turned * edge.line.at(fraction)) else {
            continue;
        };
        let (here, there) = (mates(garment, piece, &spot), mates(garment, piece, &image));
        let names = |mates: &[(String, Spot)]| {
            mates
                .iter()
                .map(|(piece, _)| piece.clone())
                .collect::<BTreeSet<_>>()
        };
        if names(&here) == names(&there) {
            continue;
        }
        match (here.is_empty(), there.is_empty()) {
            (false, false) => return Some((spot, image)),
            (false, true) => one_sided = one_sided.or(Some((spot, image))),
            _ => {}
        }
    }
    one_sided
}

/// Places all along a piece's edges.
fn all_spots(piece: &Piece) -> Vec<(Spot, Point)> {
    const STEPS: u32 = 32;
    let along = (0..=STEPS).map(|i| f64::from(i) / f64::from(STEPS));
    let edges = piece.outline.edges().iter();
    edges
        .flat_map(|edge| {
            along
                .clone()
                .map(move |f| ((edge.name.clone(), f), edge.line.at(f)))
        })
        .collect()
}

/// The place that is nearest to a point.
fn nearest_spot(spots: &[(Spot, Point)], p: Point) -> Option<Spot> {
    let off = |at: &Point| (*at - p).hypot2();
    spots
        .iter()
        .min_by(|x, y| off(&x.1).total_cmp(&off(&y.1)))
        .map(|(spot, _)| spot.clone())
}

/// What a place on an edge is sewn to: pieces, with the place on them.
fn mates(garment: &Garment, piece: &Piece, (edge, fraction): &Spot) -> Vec<(String, Spot)> {
    let sides = garment
        .seams
        .iter()
        .flat_map(|seam| [(&seam.a, &seam.b), (&seam.b, &seam.a)]);
    sides
        .filter_map(|(mine, other)| {
            place_on(
                other,
                share_of(mine, piece, edge, *fraction, garment)?,
                garment,
            )
        })
        .collect()
}

/// Share of a seam side at a place on an edge of a piece.
fn share_of(
    side: &[Stretch],
    piece: &Piece,
    edge: &str,
    fraction: f64,
    garment: &Garment,
) -> Option<f64> {
    let whole = side_length(side, &garment.pieces).ok()?.0;
    let mut before = 0.0;
    for stretch in side {
        let length = stretch.length(&garment.pieces).ok()?.0;
        if stretch.piece == piece.name
            && stretch.edge == edge
            && let Some(along) = stretch.along(fraction)
        {
            return (whole > 0.0).then(|| (before + along * length) / whole);
        }
        before += length;
    }
    None
}

/// The place at a share of a seam side.
fn place_on(side: &[Stretch], share: f64, garment: &Garment) -> Option<(String, Spot)> {
    let mut rest = share * side_length(side, &garment.pieces).ok()?.0;
    for (i, stretch) in side.iter().enumerate() {
        let length = stretch.length(&garment.pieces).ok()?.0;
        if rest <= length || i + 1 == side.len() {
            let along = if length > 0.0 {
                (rest / length).clamp(0.0, 1.0)
            } else {
                0.0
            };
            return Some((
                stretch.piece.clone(),
                (
                    stretch.edge.clone(),
                    stretch.from + along * (stretch.to - stretch.from),
                ),
            ));
        }
        rest -= length;
    }
    None
}

fn told(
    garment: &Garment,
    piece: &Piece,
    words: &str,
    off: f64,
    spot: &Spot,
    image: &Spot,
    remedy: Edit,
) -> Finding {
    let (here, there) = (
        sewn_to(garment, piece, spot),
        sewn_to(garment, piece, image),
    );
    let what = format!(
        "{words} it looks the same within {off:.1} mm, but one edge is sewn to {here} and the other to {there}: it can be set in the wrong way round."
    );
    let (first, second) = kinds(&here, &there);
    let advice = if there == "nothing" {
        format!("Notch the edge that is sewn to {here}.")
    } else {
        format!(
            "Notch it: {} towards {here}, {} towards {there}.",
            strokes(first),
            strokes(second)
        )
    };
    finding(
        Gravity::Care,
        Place::edge(&piece.name, &spot.0),
        what,
        advice,
        Some(remedy),
    )
}

/// What a place is sewn to, in words; shell and lining are sewn to the same piece, which is named once.
fn sewn_to(garment: &Garment, piece: &Piece, at: &Spot) -> String {
    let mut names: Vec<String> = Vec::new();
    for (name, _) in mates(garment, piece, at) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    if names.is_empty() {
        "nothing".to_owned()
    } else {
        names.join(" and ")
    }
}

/// The garment with notches that tell the sides of a piece apart, for every way of laying it wrongly in which its
/// stitch line looks alike; `None` when there is no such way, or its notches tell already.
pub(crate) fn told_apart(garment: &Garment, piece: &Piece) -> Option<Garment> {
    let path = piece.outline.path();
    let stitch = corners_of(&path);
    let centres = [path.bounding_box().center(), centroid(&stitch)];
    let alike = WAYS.iter().filter_map(|(_, across, along)| {
        let images = centres.map(|centre| image(centre, grain_of(piece), *across, *along));
        let off = |turned: &Affine| deviation(&stitch, *turned, STITCH_ALIKE);
        images
            .into_iter()
            .filter_map(|turned| Some((off(&turned)?, turned)))
            .min_by(|x, y| x.0.total_cmp(&y.0))
    });
    let mut notched = garment.clone();
    for (_, turned) in alike {
        let now = notched.piece(&piece.name)?.clone();
        if notches_tell(&now, turned) {
            continue;
        }
        let Some((spot, image)) = different_mates(garment, piece, turned) else {
            continue;
        };
        let (first, second) = kinds(
            &sewn_to(garment, piece, &spot),
            &sewn_to(garment, piece, &image),
        );
        add_notch(&mut notched, garment, piece, &spot, first);
        add_notch(&mut notched, garment, piece, &image, second);
    }
    (notched != *garment).then_some(notched)
}

fn grain_of(piece: &Piece) -> Vec2 {
    piece.grainline.map_or(Vec2::new(0.0, 1.0), |(a, b)| b - a)
}

/// Single is read as front, double as back (fact sheet E1, S25); where neither is named, the first gets one stroke.
fn kinds(here: &str, there: &str) -> (NotchKind, NotchKind) {
    let back = |name: &str| name.to_lowercase().contains("back");
    if back(here) && !back(there) {
        (NotchKind::Double, NotchKind::Single)
    } else {
        (NotchKind::Single, NotchKind::Double)
    }
}

fn strokes(kind: NotchKind) -> &'static str {
    match kind {
        NotchKind::Single => "one stroke",
        NotchKind::Double => "two strokes",
        NotchKind::Triple => "three strokes",
    }
}

/// Notches a place and what it is sewn to; a place that is sewn to nothing gets none.
fn add_notch(
    notched: &mut Garment,
    garment: &Garment,
    piece: &Piece,
    spot: &Spot,
    kind: NotchKind,
) {
    let mates = mates(garment, piece, spot);
    if mates.is_empty() {
        return;
    }
    for (name, (edge, fraction)) in mates
        .into_iter()
        .chain([(piece.name.clone(), spot.clone())])
    {
        if let Some(piece) = notched.pieces.iter_mut().find(|piece| piece.name == name) {
            let notch = Notch {
                edge,
                fraction,
                kind,
            };
            // A lined seam names the same place twice.
            if !piece.notches.contains(&notch) {
                let mut marked = Piece::clone(piece);
                marked.notches.push(notch);
                *piece = Arc::new(marked);
            }
        }
    }
}

#[cfg(test)]
mod tests;
