//! Two Sunday skirts: one of five gores, one a half circle. Each hangs from a waistband.

use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::Point;

use super::WardrobeError;
use super::needle::{
    BAND, LEFT, RIGHT, TORSO, WHOLE, copies, fold_mark, mirrored, piece, plain_wool, with_finish,
};
use super::places::At;
use super::table::{Join, Table, bit};
use crate::body::Body;
use crate::drafts::pen::{fold, straight};
use crate::drafts::{CircleShare, Constants, Draft, DraftMeasures, circular_skirt, gored_skirt};
use crate::edge::{Edge, Finish, FinishStretch};
use crate::garment::{Garment, Passing};
use crate::measure::{Level, Measure};
use crate::notch::NotchKind;
use crate::piece::{Piece, Role};
use crate::seams::SeamKind;
use crate::tape::Hold;

/// How much of the centre back stays open at the top, as a share of its length. *Own.*
const PLACKET: f64 = 0.3;
/// Ease of the half-circle skirt at the waist, inches. *Own; dresses have 3/4 to 1 in (ease table).*
const WAIST_EASE: f64 = 0.75;

/// The five-gored Sunday skirt for a body: front on a fold, two side and two back gores, waistband; 6 copies.
///
/// The centre back is open at the top and closes edge to edge under the lap of the band.
///
/// # Errors
/// [`WardrobeError`] when the draft gives no piece for this body.
///
/// # Source
/// [`gored_skirt`]; the waistband is *own*.
pub fn gored_sunday_skirt(body: &Arc<Body>) -> Result<Garment, WardrobeError> {
    let m = DraftMeasures::of(body);
    let draft = gored_skirt(&m, Constants::InProportion)?;
    let waist = ["front", "side", "back"]
        .iter()
        .filter_map(|p| draft.length(p, "waist"))
        .sum();
    let inch = Constants::InProportion.inch(&m);
    let shell = [Role::Shell];
    let pieces = vec![
        piece(
            "front",
            TORSO,
            copies(&[WHOLE], &shell),
            finished(&draft, "front"),
        )?,
        piece(
            "side",
            TORSO,
            copies(&[RIGHT, LEFT], &shell),
            finished(&draft, "side"),
        )?,
        piece(
            "back",
            TORSO,
            copies(&[RIGHT, LEFT], &shell),
            finished(&draft, "back"),
        )?,
        waistband(waist, inch)?,
    ];
    let mut table = Table::new("five-gored Sunday skirt", pieces);
    gored_seams(&mut table);
    gored_levels(&mut table, &draft);
    gored_tape_lines(&mut table, &draft);
    table.opening(
        "centre back",
        Passing::Trunk,
        &[("front", "waist"), ("side", "waist"), ("back", "waist")],
        &[("back", "centre back")],
    );
    table.garment(body, serge())
}

/// The half-circle Sunday skirt for a body: two quarters with a seam in front and behind, waistband; 3 copies.
///
/// # Errors
/// [`WardrobeError`] when the measures make no skirt.
///
/// # Source
/// [`circular_skirt`], closed form; ease and waistband are *own*.
pub fn half_circle_sunday_skirt(body: &Arc<Body>) -> Result<Garment, WardrobeError> {
    let m = DraftMeasures::of(body);
    let inch = Constants::InProportion.inch(&m);
    let draft = circular_skirt(
        m.waist_girth + WAIST_EASE * inch,
        m.skirt_front,
        CircleShare::Half,
    )?;
    // The seam in the middle of the front stands where the draft has its fold.
    let unfold = |edge: Edge| {
        if edge.name == "centre front" {
            Edge {
                finish: Vec::new(),
                ..edge
            }
        } else {
            edge
        }
    };
    let edges = finished(&draft, "skirt")
        .into_iter()
        .map(|edge| edge.map(unfold))
        .collect();
    let waist = draft.length("skirt", "waist").unwrap_or_default();
    let mut panel = piece(
        "quarter",
        TORSO,
        copies(&[RIGHT, LEFT], &[Role::Shell]),
        edges,
    )?;
    panel.grainline = grain_along(&panel, "centre front");
    let mut table = Table::new(
        "half-circle Sunday skirt",
        vec![panel, waistband(waist, inch)?],
    );
    let panel = |side, edge, corner| bit("quarter", side, edge, corner);
    table.sew(
        "centre front seam",
        Role::Shell,
        &[panel(RIGHT, "centre front", "waist")],
        &[panel(LEFT, "centre front", "waist")],
        Join::Equal,
    );
    table.sew(
        "centre back seam",
        Role::Shell,
        &[panel(RIGHT, "centre back", "waist").part(PLACKET, 1.0)],
        &[panel(LEFT, "centre back", "waist").part(PLACKET, 1.0)],
        Join::Equal,
    );
    table.sew(
        "waistband",
        Role::Shell,
        &[bit("waistband", WHOLE, "waist edge", "centre front")],
        &[panel(RIGHT, "waist", "centre front")],
        Join::Equal,
    );
    band_seams(&mut table);
    for corner in ["centre front", "centre back"] {
        table.notch(
            "quarter",
            corner,
            "waist",
            0.6,
            if corner == "centre front" {
                NotchKind::Single
            } else {
                NotchKind::Triple
            },
        );
    }
    table.level(
        "quarter",
        Level::Waist,
        At::Corner("waist", "centre front"),
        At::Corner("waist", "centre back"),
    );
    table.level(
        "quarter",
        Level::Knee,
        At::Corner("hem", "centre front"),
        At::Corner("hem", "centre back"),
    );
    let parts = vec![table.along("quarter", "waist")];
    table.girth("waist", Measure::WaistGirth, parts);
    table.last_tape(|tape| tape.hold = Hold::Fitted);
    for edge in ["centre front", "centre back"] {
        let parts = vec![table.along("quarter", edge)];
        table.measure(edge, Measure::WaistToKnee, parts);
        table.last_tape(|tape| tape.hold = Hold::Fitted);
    }
    table.opening(
        "centre back",
        Passing::Trunk,
        &[("quarter", "waist")],
        &[("quarter", "centre back")],
    );
    table.garment(body, serge())
}

/// The edges of a drafted piece with their finishes, mirrored: as drafted, front left and back right, a gore belongs to
/// the left side of the body.
fn finished(draft: &Draft, piece: &str) -> Vec<Option<Edge>> {
    let edges = draft
        .outline(piece)
        .map_or(&[][..], |outline| outline.edges());
    let before = edges
        .iter()
        .skip(edges.len().saturating_sub(1))
        .chain(edges);
    let finished = edges
        .iter()
        .zip(before)
        .map(|(edge, before)| match edge.name.as_str() {
            "hem" => with_finish(
                Finish::Hem {
                    width: None,
                    turns: 2,
                },
                Some(edge.clone()),
            ),
            "centre back" => Some(placket(edge.clone(), before.name == "hem")),
            _ => Some(edge.clone()),
        });
    finished.map(mirrored).collect()
}

/// A centre back that is sewn below and open above.
fn placket(edge: Edge, starts_at_hem: bool) -> Edge {
    let stretch = |from, to, finish| FinishStretch { from, to, finish };
    let finish = if starts_at_hem {
        vec![
            stretch(0.0, 1.0 - PLACKET, Finish::Seam),
            stretch(1.0 - PLACKET, 1.0, Finish::Facing),
        ]
    } else {
        vec![
            stretch(0.0, PLACKET, Finish::Facing),
            stretch(PLACKET, 1.0, Finish::Seam),
        ]
    };
    Edge { finish, ..edge }
}

fn grain_along(piece: &Piece, edge: &str) -> Option<(Point, Point)> {
    let line = &piece.outline.edge(edge)?.line;
    let inwards = piece.outline.bounds().center() - line.at(0.5);
    let shift = kurbo::Vec2::new(0.25 * inwards.x, 0.0);
    Some((line.at(0.2) + shift, line.at(0.8) + shift))
}

/// A waistband folded lengthwise: half from the fold at the centre front, with a lap at the centre back.
///
/// It is drawn unfolded, twice its finished depth high. Finished depth 1 1/4 in, lap 3/4 in. *Own.*
fn waistband(half_waist: f64, inch: f64) -> Result<Piece, WardrobeError> {
    let (depth, lap) = (2.5 * inch, 0.75 * inch);
    let p = Point::new;
    let edges = vec![
        straight("waist edge", &[p(0.0, 0.0), p(half_waist, 0.0)]),
        straight("lap", &[p(half_waist, 0.0), p(half_waist + lap, 0.0)]),
        straight(
            "end",
            &[p(half_waist + lap, 0.0), p(half_waist + lap, depth / 2.0)],
        ),
        straight(
            "inner end",
            &[p(half_waist + lap, depth / 2.0), p(half_waist + lap, depth)],
        ),
        straight(
            "inner lap",
            &[p(half_waist + lap, depth), p(half_waist, depth)],
        ),
        straight("inner edge", &[p(half_waist, depth), p(0.0, depth)]),
        fold("centre front", p(0.0, depth), p(0.0, 0.0)),
    ];
    // The right half of the body lies at -x, seen from outside with the front in the middle.
    let edges = edges.into_iter().map(mirrored).collect();
    let mut band = piece("waistband", BAND, copies(&[WHOLE], &[Role::Shell]), edges)?;
    band.grainline = Some((
        p(-0.8 * half_waist, 0.75 * depth),
        p(-0.2 * half_waist, 0.75 * depth),
    ));
    let middle = depth / 2.0;
    band.marks = vec![fold_mark(p(-half_waist - lap, middle), p(0.0, middle))];
    Ok(band)
}

/// What of the band is sewn to the band.
fn band_seams(t: &mut Table) {
    let band = |edge, corner| bit("waistband", WHOLE, edge, corner);
    t.sew(
        "waistband inside",
        Role::Shell,
        &[band("inner edge", "centre front")],
        &[band("waist edge", "centre front")],
        Join::Equal,
    );
    t.last_seam(|seam| seam.kind = SeamKind::Lapped);
    t.sew(
        "waistband lap",
        Role::Shell,
        &[band("lap", "waist edge")],
        &[band("inner lap", "inner edge")],
        Join::Equal,
    );
    t.sew(
        "waistband end",
        Role::Shell,
        &[band("end", "lap")],
        &[band("inner end", "inner lap")],
        Join::Equal,
    );
}

fn gored_seams(t: &mut Table) {
    let front = |edge, corner| bit("front", WHOLE, edge, corner);
    let side = |edge, corner| bit("side", RIGHT, edge, corner);
    let back = |side, edge, corner| bit("back", side, edge, corner);
    t.sew(
        "front seam",
        Role::Shell,
        &[front("front seam", "waist")],
        &[side("front seam", "waist")],
        Join::Equal,
    );
    t.sew(
        "back seam",
        Role::Shell,
        &[side("back seam", "waist")],
        &[back(RIGHT, "back seam", "waist")],
        Join::Equal,
    );
    t.sew(
        "centre back seam",
        Role::Shell,
        &[back(RIGHT, "centre back", "waist").part(PLACKET, 1.0)],
        &[back(LEFT, "centre back", "waist").part(PLACKET, 1.0)],
        Join::Equal,
    );
    let waist = [
        front("waist", "centre front"),
        side("waist", "front seam"),
        back(RIGHT, "waist", "back seam"),
    ];
    t.sew(
        "waistband",
        Role::Shell,
        &[bit("waistband", WHOLE, "waist edge", "centre front")],
        &waist,
        Join::Equal,
    );
    band_seams(t);
    for (piece, edge, kind) in [
        ("front", "front seam", NotchKind::Single),
        ("side", "front seam", NotchKind::Single),
        ("side", "back seam", NotchKind::Double),
        ("back", "back seam", NotchKind::Double),
        ("back", "centre back", NotchKind::Triple),
    ] {
        t.notch(
            piece,
            edge,
            "waist",
            if edge == "centre back" { 0.6 } else { 0.5 },
            kind,
        );
    }
}

/// Point of the hip line on the straight grain, and its like on the seam drawn from 4 to 6; mirrored as the gores are.
fn hip(draft: &Draft, piece: &str) -> (Point, Point) {
    let found = draft.pieces.iter().find(|p| p.name == piece);
    let at = |name| found.and_then(|p| p.point(name)).unwrap_or_default();
    (
        Point::new(0.0, at("1").y - (at("4").y - at("5").y)),
        Point::new(-at("5").x, at("5").y),
    )
}

fn gored_levels(t: &mut Table, draft: &Draft) {
    for (piece, grain, sloped) in [
        ("front", "centre front", "front seam"),
        ("side", "front seam", "back seam"),
        ("back", "back seam", "centre back"),
    ] {
        let (straight, seam) = hip(draft, piece);
        t.level(
            piece,
            Level::Waist,
            At::Corner("waist", grain),
            At::Corner("waist", sloped),
        );
        t.level(
            piece,
            Level::Hip,
            At::Near(grain, straight),
            At::Near(sloped, seam),
        );
        t.level(
            piece,
            Level::Knee,
            At::Corner("hem", grain),
            At::Corner("hem", sloped),
        );
    }
}

fn gored_tape_lines(t: &mut Table, draft: &Draft) {
    let pieces = ["front", "side", "back"];
    let parts = pieces.iter().map(|piece| t.along(piece, "waist")).collect();
    t.girth("waist", Measure::WaistGirth, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
    let edges = [
        ("centre front", "front seam"),
        ("front seam", "back seam"),
        ("back seam", "centre back"),
    ];
    let parts = pieces
        .iter()
        .zip(edges)
        .map(|(piece, (grain, sloped))| {
            let (straight, seam) = hip(draft, piece);
            t.across(piece, At::Near(grain, straight), At::Near(sloped, seam))
        })
        .collect();
    t.girth("hip", Measure::HipGirth, parts);
    let parts = vec![t.along("front", "centre front")];
    t.measure("centre front", Measure::WaistToKnee, parts);
    for (name, piece, edge) in [
        ("side length", "side", "back seam"),
        ("centre back", "back", "centre back"),
    ] {
        let parts = vec![t.along(piece, edge)];
        t.measure(name, Measure::WaistToKnee, parts);
        t.last_tape(|tape| tape.share = 1.02);
    }
}

fn serge() -> BTreeMap<Role, crate::cloth::Cloth> {
    BTreeMap::from([(Role::Shell, plain_wool("grey plain-weave wool"))])
}
