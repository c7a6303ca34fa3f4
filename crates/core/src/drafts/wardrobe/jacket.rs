//! The lamp keeper's harbour jacket: darted front, set-in sleeve, turned-back cuff, collar, fully lined.

use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::{CubicBez, Point, Vec2};

use super::WardrobeError;
use super::needle::{
    ARM, BAND, LEFT, NECK_EASE, RIGHT, TORSO, WHOLE, cloth, copies, mirrored, neck_widened, piece,
    plain_wool, with_finish,
};
use super::places::At;
use super::table::{Join, Table, bit};
use crate::body::Body;
use crate::drafts::pen::level_then_square;
use crate::drafts::pen::{
    curved, fold, level_then_upright, other_leg, square_then_upright, straight, upright_then_level,
};
use crate::drafts::sleeve::{back_again, hollow_cap};
use crate::drafts::{Constants, DraftError, DraftMeasures, DraftPiece, fitted_bodice};
use crate::edge::{Edge, Finish};
use crate::garment::{Garment, Passing};
use crate::geometry::curve::Line;
use crate::measure::{Level, Measure};
use crate::notch::NotchKind;
use crate::piece::{DartPress, Mark, MarkKind, Piece, Role};
use crate::tape::Hold;
use crate::units::Mm;

/// Ease of the jacket at the bust, inches: a fitted jacket has 95 to 107 mm (ease table, handbook charts).
const BUST_EASE: f64 = 4.0;
/// Ease at the waist, inches. *Own.*
const WAIST_EASE: f64 = 2.5;
/// How far the front edge lies beyond the centre front, inches. *Own.*
const OVERLAP: f64 = 0.8;
/// Cap length / armscye: eased in. *Own, as the flat sleeve but less.*
const CAP_TO_ARMSCYE: f64 = 1.05;
/// Sleeve width / upper arm girth: 84 mm of ease on a 299 mm arm; a jacket sleeve has 75 to 110 mm (ease table).
const SLEEVE_TO_ARM: f64 = 1.28;

/// The harbour jacket for a body.
///
/// Pieces: front, back (half, on a fold), sleeve, cuff, collar (half, on a fold); shell and lining are cut from the same
/// drawings: 16 copies. Right copies are as drawn, seen from outside.
///
/// # Errors
/// [`WardrobeError`] when the drafts give no piece for this body.
///
/// # Source
/// Neckline (then widened), shoulder, armscye depth and dart height by the fitted bodice of [`fitted_bodice`]; side seam moved to the
/// middle, ease, straight front edge, sleeve, cuff and collar are *own*.
pub fn harbour_jacket(body: &Arc<Body>) -> Result<Garment, WardrobeError> {
    let m = DraftMeasures::of(body);
    let inch = Constants::InProportion.inch(&m);
    let draft = fitted_bodice(&m, Constants::InProportion)?;
    let drafted = |name: &str| draft.pieces.iter().find(|p| p.name == name).cloned();
    let (Some(front_draft), Some(back_draft)) = (drafted("front"), drafted("back")) else {
        return Err(WardrobeError::Missing {
            garment: "harbour jacket".to_owned(),
            what: "front and back in the draft".to_owned(),
        });
    };
    let front_draft = neck_widened(front_draft, "7", "9s", NECK_EASE * inch);
    let back_draft = neck_widened(back_draft, "F", "I", NECK_EASE * inch);
    let shape = Shape::new(&m, inch)?;
    let front = front(&front_draft, &shape)?;
    let back = back(&back_draft, &shape)?;
    let length =
        |piece: &Piece, edge: &str| piece.outline.edge(edge).map_or(0.0, |e| e.line.length());
    let (sleeve, hem) = sleeve(&m, length(&front, "armscye"), length(&back, "armscye"))?;
    let cuff = cuff(hem, inch)?;
    let collar = collar(length(&front, "neckline") + length(&back, "neckline"), inch)?;
    let mut table = Table::new("harbour jacket", vec![front, back, sleeve, cuff, collar]);
    levels(&mut table, &front_draft, &back_draft, &shape, &m);
    table.dart(
        "front",
        "waist dart",
        ["dart leg side", "dart leg centre"],
        DartPress::After,
    );
    notches(&mut table);
    seams(&mut table);
    tape_lines(&mut table, &front_draft, &back_draft, &shape);
    // The front opens from neck to hem: nothing has to pass there. A closed cuff has to let the hand in.
    table.opening("wrist", Passing::Hand, &[("sleeve", "hem")], &[]);
    table.garment(body, cloths())
}

/// The jacket's own figures, mm.
struct Shape {
    /// Quarter of the finished bust.
    quarter: f64,
    /// How far the side seam comes in at the waist.
    side: f64,
    /// Width of the dart at the waist.
    dart: f64,
    /// Middle of the dart from the centre front.
    dart_middle: f64,
    /// Height of the dart.
    dart_height: f64,
    /// Front edge beyond the centre front.
    overlap: f64,
    /// Armpit to waist, upright.
    underarm: f64,
    /// Nape to waist.
    back_length: f64,
}

impl Shape {
    fn new(m: &DraftMeasures, inch: f64) -> Result<Self, DraftError> {
        let quarter = (m.bust_girth + BUST_EASE * inch) / 4.0;
        let taken = 2.0 * quarter - (m.waist_girth + WAIST_EASE * inch) / 2.0;
        // A fifth of what the waist is smaller comes out of each side seam, the rest out of the dart.
        let side = 0.2 * taken;
        let dart = taken - 2.0 * side;
        if dart <= 0.0 {
            return Err(DraftError::NoLength {
                piece: "front",
                edge: "mouth of the dart",
                length: dart,
            });
        }
        Ok(Self {
            quarter,
            side,
            dart,
            dart_middle: 0.105 * m.bust_girth,
            dart_height: m.dart_height,
            overlap: OVERLAP * inch,
            underarm: m.underarm_length,
            back_length: m.back_waist_length,
        })
    }
}

fn at(draft: &DraftPiece, name: &str) -> Point {
    draft.point(name).unwrap_or_default()
}

fn hem_of(edge: Option<Edge>) -> Option<Edge> {
    with_finish(
        Finish::Hem {
            width: None,
            turns: 1,
        },
        edge,
    )
}

fn flipped(p: Point) -> Point {
    Point::new(-p.x, p.y)
}

/// Armpit level and waist of the front, y.
fn front_levels(draft: &DraftPiece, shape: &Shape) -> (f64, f64) {
    let bust = at(draft, "2").y;
    (bust, bust - shape.underarm)
}

/// Drafted with the side at +x, then mirrored: the right front is seen from outside with its side at the left.
fn front(draft: &DraftPiece, shape: &Shape) -> Result<Piece, WardrobeError> {
    let (neck_pit, neck, shoulder, width) = (
        at(draft, "1"),
        at(draft, "7"),
        at(draft, "9s"),
        at(draft, "g"),
    );
    let (bust, waist) = front_levels(draft, shape);
    let (armpit, side) = (
        Point::new(shape.quarter, bust),
        Point::new(shape.quarter - shape.side, waist),
    );
    let mouth = |sign: f64| Point::new(shape.dart_middle + sign * shape.dart / 2.0, waist);
    let apex = Point::new(shape.dart_middle, waist + shape.dart_height);
    let (edge_top, edge_foot) = (
        Point::new(-shape.overlap, neck_pit.y),
        Point::new(-shape.overlap, waist),
    );
    let edges = vec![
        straight("front edge", &[edge_foot, edge_top]),
        straight("neck extension", &[edge_top, neck_pit]),
        curved("neckline", &[level_then_upright(neck_pit, neck)]),
        straight("shoulder", &[neck, shoulder]),
        curved(
            "armscye",
            &[
                square_then_upright(neck, shoulder, width),
                upright_then_level(width, armpit),
            ],
        ),
        straight("side seam", &[armpit, side]),
        hem_of(straight("waist side", &[side, mouth(1.0)])),
        straight("dart leg side", &[mouth(1.0), apex]),
        straight("dart leg centre", &[apex, mouth(-1.0)]),
        hem_of(straight("waist centre", &[mouth(-1.0), edge_foot])),
    ];
    let edges = edges.into_iter().map(mirrored).collect();
    let mut front = piece(
        "front",
        TORSO,
        copies(&[RIGHT, LEFT], &[Role::Shell, Role::Lining]),
        edges,
    )?;
    let middle = -shape.quarter / 2.0;
    front.grainline = Some((
        Point::new(middle, waist + 0.2 * shape.underarm),
        Point::new(middle, bust - 0.1 * shape.underarm),
    ));
    front.marks = buttonholes(neck_pit.y, waist, shape.overlap);
    Ok(front)
}

/// Four buttonholes that lie across the centre front. *Own.*
fn buttonholes(top: f64, waist: f64, overlap: f64) -> Vec<Mark> {
    let y = |i: u8| top + (waist - top) * (0.06 + 0.27 * f64::from(i));
    (0..4_u8)
        .map(|i| Mark {
            name: format!("buttonhole {}", i + 1),
            kind: MarkKind::Buttonhole(
                Point::new(0.15 * overlap, y(i)),
                Point::new(-0.95 * overlap, y(i)),
            ),
        })
        .collect()
}

fn back(draft: &DraftPiece, shape: &Shape) -> Result<Piece, WardrobeError> {
    let (nape, neck, shoulder, width) = (
        at(draft, "A"),
        at(draft, "F"),
        at(draft, "I"),
        at(draft, "G"),
    );
    let waist = -shape.back_length;
    let (foot, side) = (
        Point::new(0.0, waist),
        Point::new(shape.quarter - shape.side, waist),
    );
    let armpit = Point::new(shape.quarter, waist + shape.underarm);
    let edges = vec![
        fold("centre back", foot, nape),
        curved("neckline", &[level_then_square(nape, neck, shoulder)]),
        straight("shoulder", &[neck, shoulder]),
        curved(
            "armscye",
            &[
                square_then_upright(neck, shoulder, width),
                upright_then_level(width, armpit),
            ],
        ),
        straight("side seam", &[armpit, side]),
        hem_of(straight("waist", &[side, foot])),
    ];
    let mut back = piece(
        "back",
        TORSO,
        copies(&[WHOLE], &[Role::Shell, Role::Lining]),
        edges,
    )?;
    let middle = shape.quarter / 2.0;
    back.grainline = Some((
        Point::new(middle, 0.8 * waist),
        Point::new(middle, 0.35 * waist),
    ));
    Ok(back)
}

/// The sleeve and the width of its hem. Front half at +x: the right sleeve seen from outside.
fn sleeve(
    m: &DraftMeasures,
    front_armscye: f64,
    back_armscye: f64,
) -> Result<(Piece, f64), WardrobeError> {
    let (front_cap, back_cap) = (
        CAP_TO_ARMSCYE * front_armscye,
        CAP_TO_ARMSCYE * back_armscye,
    );
    let (height, front_width, back_width) =
        cap_of(front_cap, back_cap, SLEEVE_TO_ARM * m.upper_arm_girth)?;
    let (front, back) = (
        Point::new(front_width, -height),
        Point::new(back_width, -height),
    );
    let (middle, half_hem) = ((front_width - back_width) / 2.0, 0.6 * m.hand_girth);
    let drop = other_leg(
        "sleeve",
        "underarm",
        m.inside_wrist,
        (front_width + back_width) / 2.0 - half_hem,
    )?;
    let (hem_front, hem_back) = (
        Point::new(middle + half_hem, -height - drop),
        Point::new(middle - half_hem, -height - drop),
    );
    let edges = vec![
        curved("cap front", &hollow_cap(front)),
        straight("underarm front", &[front, hem_front]),
        straight("hem", &[hem_front, hem_back]),
        straight("underarm back", &[hem_back, flipped(back)]),
        curved("cap back", &back_again(&hollow_cap(back))),
    ];
    let mut sleeve = piece(
        "sleeve",
        ARM,
        copies(&[RIGHT, LEFT], &[Role::Shell, Role::Lining]),
        edges,
    )?;
    sleeve.grainline = Some((
        Point::new(middle, -height - 0.8 * drop),
        Point::new(middle, -height - 0.1 * drop),
    ));
    Ok((sleeve, 2.0 * half_hem))
}

/// Cap height and the two half widths for these half caps and this whole width.
fn cap_of(front_cap: f64, back_cap: f64, width: f64) -> Result<(f64, f64, f64), DraftError> {
    let too_wide = DraftError::OutOfReach {
        piece: "sleeve",
        edge: "cap",
        length: front_cap + back_cap,
        distance: width,
    };
    let widths = |height: f64| {
        Some((
            half_width(height, front_cap)?,
            half_width(height, back_cap)?,
        ))
    };
    // The higher the cap the narrower the sleeve.
    let (mut low, mut high) = (0.0, front_cap.min(back_cap));
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        match widths(middle) {
            Some((front, back)) if width < front + back => low = middle,
            _ => high = middle,
        }
    }
    let height = f64::midpoint(low, high);
    match widths(height) {
        Some((front, back)) if (front + back - width).abs() < 1e-6 * width => {
            Ok((height, front, back))
        }
        _ => Err(too_wide),
    }
}

/// Half width of a sleeve whose half cap has this height and length; `None` when it is higher than long.
fn half_width(height: f64, half_cap: f64) -> Option<f64> {
    let length = |width: f64| {
        Line::from_cubics(&hollow_cap(Point::new(width, -height))).map_or(0.0, |line| line.length())
    };
    let (mut low, mut high) = (1e-3 * half_cap, half_cap);
    if half_cap < length(low) || length(high) < half_cap {
        return None;
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if length(middle) < half_cap {
            low = middle
        } else {
            high = middle
        }
    }
    Some(f64::midpoint(low, high))
}

/// A turned-back cuff: as long as the sleeve's hem, a little wider where it stands off.
fn cuff(hem: f64, inch: f64) -> Result<Piece, WardrobeError> {
    let (depth, flare) = (2.75 * inch, 0.3 * inch);
    let (a, b) = (Point::new(-flare, 0.0), Point::new(hem + flare, 0.0));
    let (c, d) = (Point::new(hem, depth), Point::new(0.0, depth));
    let edges = vec![
        straight("outer edge", &[a, b]),
        straight("end front", &[b, c]),
        straight("sleeve edge", &[c, d]),
        straight("end back", &[d, a]),
    ];
    piece(
        "cuff",
        BAND,
        copies(&[RIGHT, LEFT], &[Role::Shell, Role::Lining]),
        edges,
    )
}

/// A turn-down collar, half from the fold at the centre back, its front end pointed.
fn collar(neckline: f64, inch: f64) -> Result<Piece, WardrobeError> {
    let depth = 2.6 * inch;
    let (a, b) = (Point::ORIGIN, Point::new(neckline, 0.0));
    let (tip, top) = (
        Point::new(neckline + 0.6 * inch, depth + 0.35 * inch),
        Point::new(0.0, depth),
    );
    let outer = CubicBez::new(
        tip,
        tip - Vec2::new(0.35 * neckline, 0.1 * inch),
        top + Vec2::new(0.35 * neckline, 0.0),
        top,
    );
    let edges = vec![
        straight("neckline", &[a, b]),
        straight("front end", &[b, tip]),
        curved("outer edge", &[outer]),
        fold("centre back", top, a),
    ];
    piece(
        "collar",
        BAND,
        copies(&[WHOLE], &[Role::Shell, Role::Lining]),
        edges,
    )
}

fn levels(
    table: &mut Table,
    front: &DraftPiece,
    back: &DraftPiece,
    shape: &Shape,
    m: &DraftMeasures,
) {
    let (bust, _) = front_levels(front, shape);
    let (width, shoulder) = (at(front, "g"), at(front, "9s"));
    let t = table;
    t.level(
        "front",
        Level::ShoulderPoint,
        At::Corner("shoulder", "armscye"),
        At::Height("neckline", shoulder.y),
    );
    t.level(
        "front",
        Level::Across,
        At::Near("armscye", flipped(width)),
        At::Height("front edge", width.y),
    );
    t.level(
        "front",
        Level::Bust,
        At::Corner("armscye", "side seam"),
        At::Height("front edge", bust),
    );
    t.level(
        "front",
        Level::Waist,
        At::Corner("waist side", "side seam"),
        At::Corner("waist centre", "front edge"),
    );
    let (width, shoulder) = (at(back, "G"), at(back, "I"));
    let armpit = -shape.back_length + shape.underarm;
    t.level(
        "back",
        Level::Nape,
        At::Corner("centre back", "neckline"),
        At::Height("shoulder", 0.0),
    );
    t.level(
        "back",
        Level::ShoulderPoint,
        At::Height("centre back", shoulder.y),
        At::Corner("shoulder", "armscye"),
    );
    t.level(
        "back",
        Level::Across,
        At::Height("centre back", width.y),
        At::Near("armscye", width),
    );
    t.level(
        "back",
        Level::Bust,
        At::Height("centre back", armpit),
        At::Corner("armscye", "side seam"),
    );
    t.level(
        "back",
        Level::Waist,
        At::Corner("centre back", "waist"),
        At::Corner("side seam", "waist"),
    );
    sleeve_levels(t, m.inside_elbow / m.inside_wrist);
}

/// Levels of an arm piece with cap, underarm and hem edges "front" and "back"; the elbow by its share of the underarm.
fn sleeve_levels(t: &mut Table, elbow: f64) {
    t.level(
        "sleeve",
        Level::CapTop,
        At::Corner("cap back", "cap front"),
        At::Corner("cap front", "cap back"),
    );
    t.level(
        "sleeve",
        Level::Underarm,
        At::Corner("underarm back", "cap back"),
        At::Corner("underarm front", "cap front"),
    );
    let y = t.height_on("sleeve", "underarm front", "cap front", elbow);
    t.level(
        "sleeve",
        Level::Elbow,
        At::Height("underarm back", y),
        At::Height("underarm front", y),
    );
    t.level(
        "sleeve",
        Level::Wrist,
        At::Corner("hem", "underarm back"),
        At::Corner("hem", "underarm front"),
    );
}

fn notches(t: &mut Table) {
    for (piece, edge, corner, share, kind) in [
        ("front", "armscye", "shoulder", 0.6, NotchKind::Single),
        ("sleeve", "cap front", "cap back", 0.6, NotchKind::Single),
        ("back", "armscye", "shoulder", 0.6, NotchKind::Double),
        ("sleeve", "cap back", "cap front", 0.6, NotchKind::Double),
        ("front", "side seam", "armscye", 0.5, NotchKind::Single),
        ("back", "side seam", "armscye", 0.5, NotchKind::Single),
        (
            "sleeve",
            "underarm front",
            "cap front",
            0.45,
            NotchKind::Single,
        ),
        (
            "sleeve",
            "underarm back",
            "cap back",
            0.45,
            NotchKind::Single,
        ),
    ] {
        t.notch(piece, edge, corner, share, kind);
    }
    // Half way along the front neckline, and where the collar meets it.
    let (front, back) = (
        t.edge_length("front", "neckline"),
        t.edge_length("back", "neckline"),
    );
    let share = (back + 0.5 * front) / (back + front).max(1.0);
    t.notch("front", "neckline", "shoulder", 0.5, NotchKind::Single);
    t.notch(
        "collar",
        "neckline",
        "centre back",
        share,
        NotchKind::Single,
    );
}

fn seams(t: &mut Table) {
    let front = |edge, corner| bit("front", RIGHT, edge, corner);
    let back = |edge, corner| bit("back", WHOLE, edge, corner);
    let sleeve = |edge, corner| bit("sleeve", RIGHT, edge, corner);
    let cuff = |edge, corner| bit("cuff", RIGHT, edge, corner);
    let collar = |edge, corner| bit("collar", WHOLE, edge, corner);
    t.sew_both(
        "shoulder",
        &[front("shoulder", "neckline")],
        &[back("shoulder", "neckline")],
        Join::Equal,
    );
    t.sew_both(
        "side seam",
        &[front("side seam", "armscye")],
        &[back("side seam", "armscye")],
        Join::Equal,
    );
    t.sew_both(
        "sleeve into front armscye",
        &[sleeve("cap front", "cap back")],
        &[front("armscye", "shoulder")],
        Join::Eased,
    );
    t.sew_both(
        "sleeve into back armscye",
        &[sleeve("cap back", "cap front")],
        &[back("armscye", "shoulder")],
        Join::Eased,
    );
    t.sew_both(
        "underarm",
        &[sleeve("underarm front", "cap front")],
        &[sleeve("underarm back", "cap back")],
        Join::Equal,
    );
    t.sew_both(
        "cuff to sleeve",
        &[cuff("sleeve edge", "end back")],
        &[sleeve("hem", "underarm back")],
        Join::Equal,
    );
    t.sew_both(
        "cuff ends",
        &[cuff("end front", "sleeve edge")],
        &[cuff("end back", "sleeve edge")],
        Join::Equal,
    );
    let neckline = [
        back("neckline", "centre back"),
        front("neckline", "shoulder"),
    ];
    t.sew_both(
        "collar to neckline",
        &[collar("neckline", "centre back")],
        &neckline,
        Join::Equal,
    );
    t.bag_out("front edge", front("front edge", "neck extension"));
    t.bag_out("neck extension", front("neck extension", "front edge"));
    t.bag_out("cuff outer edge", cuff("outer edge", "end back"));
    t.bag_out("collar outer edge", collar("outer edge", "centre back"));
    t.bag_out("collar front end", collar("front end", "outer edge"));
}

fn tape_lines(t: &mut Table, front: &DraftPiece, back: &DraftPiece, shape: &Shape) {
    let (bust, _) = front_levels(front, shape);
    let armpit = -shape.back_length + shape.underarm;
    let overlap = Mm(2.0 * shape.overlap);
    let parts = vec![
        t.across(
            "front",
            At::Corner("armscye", "side seam"),
            At::Height("front edge", bust),
        ),
        t.across(
            "back",
            At::Height("centre back", armpit),
            At::Corner("armscye", "side seam"),
        ),
    ];
    t.girth("bust", Measure::BustGirth, parts);
    t.last_tape(|tape| (tape.overlap, tape.hold) = (overlap, Hold::Fitted));
    let parts = vec![
        t.along("front", "waist side"),
        t.along("front", "waist centre"),
        t.along("back", "waist"),
    ];
    t.girth("waist", Measure::WaistGirth, parts);
    t.last_tape(|tape| (tape.overlap, tape.hold) = (overlap, Hold::Fitted));
    let parts = vec![t.along("front", "neckline"), t.along("back", "neckline")];
    t.girth("neckline", Measure::NeckBaseGirth, parts);
    let parts = vec![t.along("front", "shoulder")];
    t.measure("shoulder", Measure::ShoulderLength, parts);
    let parts = vec![t.across(
        "front",
        At::Corner("neckline", "neck extension"),
        At::Near("armscye", flipped(at(front, "g"))),
    )];
    t.measure("across front", Measure::AcrossFront, parts);
    t.last_tape(|tape| tape.share = 0.5);
    let width = at(back, "G");
    let parts = vec![t.across(
        "back",
        At::Height("centre back", width.y),
        At::Near("armscye", width),
    )];
    t.measure("across back", Measure::AcrossBack, parts);
    t.last_tape(|tape| tape.share = 0.5);
    let parts = vec![t.upright(
        "back",
        At::Corner("centre back", "neckline"),
        At::Corner("armscye", "side seam"),
    )];
    t.measure("armscye depth", Measure::ArmscyeDepth, parts);
    let parts = vec![t.upright(
        "front",
        At::Corner("neckline", "neck extension"),
        At::Corner("waist centre", "front edge"),
    )];
    t.measure("centre front", Measure::FrontWaistLength, parts);
    let parts = vec![t.along("back", "centre back")];
    t.measure("centre back", Measure::BackWaistLength, parts);
    let parts = vec![t.along("sleeve", "underarm front")];
    t.measure("sleeve, inside", Measure::InsideArmLength, parts);
    let parts = vec![t.across(
        "sleeve",
        At::Corner("underarm back", "cap back"),
        At::Corner("underarm front", "cap front"),
    )];
    t.girth("upper arm", Measure::UpperArmGirth, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
    let parts = vec![t.along("sleeve", "hem")];
    t.girth("wrist", Measure::WristGirth, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
}

fn cloths() -> BTreeMap<Role, crate::cloth::Cloth> {
    BTreeMap::from([
        (Role::Shell, plain_wool("navy plain-weave wool")),
        (
            Role::Lining,
            cloth(
                "silk taffeta",
                0.15,
                "0.1 to 0.2 mm, common practice, no source",
            ),
        ),
    ])
}
