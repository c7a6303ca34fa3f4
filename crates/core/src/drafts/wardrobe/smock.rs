//! The net mender's smock: yoke, gathered body, gathered sleeves into a cuff band, neckband.

use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::{CubicBez, Point};

use super::WardrobeError;
use super::needle::{
    ARM, BAND, LEFT, NECK_EASE, RIGHT, TORSO, WHOLE, copies, mirrored, named, neck_widened, piece,
    plain_cotton, with_finish, with_point,
};
use super::places::At;
use super::table::{Join, Table, bit};
use crate::body::Body;
use crate::drafts::pen::level_then_square;
use crate::drafts::pen::{
    curved, fold, level_both, level_then_upright, on_ray, other_leg, square_then_upright, straight,
    upright_then_level,
};
use crate::drafts::{Constants, Draft, DraftMeasures, DraftPiece, gathered_sleeve, loose_bodice};
use crate::edge::{Edge, Finish, FinishStretch};
use crate::fullness::{Fullness, FullnessOp};
use crate::garment::{Garment, Passing};
use crate::measure::{Level, Measure};
use crate::notch::NotchKind;
use crate::piece::{Piece, Role, Side};
use crate::seams::{Insert, InsertKind, SeamKind};
use crate::tape::Hold;
use crate::units::Mm;

/// Cloth / finished width where the body is gathered into the yoke. *Own; 1.5 to 2 is common practice, no source.*
const GATHERS: f64 = 1.6;
/// How far down the centre back of the body is open, as a share of its length. *Own.*
const SLIT: f64 = 0.25;

/// The net mender's smock for a body.
///
/// The loose bodice is cut along its width line: above lies a yoke (front on a fold, back opening), below a body that is
/// gathered into it and hangs to the hip and a little lower. Sleeves are gathered at cap and wrist. 11 copies.
///
/// # Errors
/// [`WardrobeError`] when the drafts give no piece for this body.
///
/// # Source
/// [`loose_bodice`] and [`gathered_sleeve`]; neckline widened, side seam in the middle, sleeve's hem widened, yoke, bands and length are *own*.
pub fn net_menders_smock(body: &Arc<Body>) -> Result<Garment, WardrobeError> {
    let m = DraftMeasures::of(body);
    let inch = Constants::InProportion.inch(&m);
    let bodice = loose_bodice(&m, Constants::InProportion)?;
    let sleeve_draft = gathered_sleeve(&m, Constants::InProportion)?;
    let drafted = |draft: &Draft, name: &str| {
        let found = draft.pieces.iter().find(|p| p.name == name).cloned();
        found.ok_or_else(|| WardrobeError::Missing {
            garment: "net mender's smock".to_owned(),
            what: format!("{name} in the draft"),
        })
    };
    let (front, back) = (drafted(&bodice, "front")?, drafted(&bodice, "back")?);
    // The side seam is moved to the middle between front and back.
    let middle = f64::midpoint(at(&front, "L").x, at(&back, "L").x);
    let shaped = |draft: DraftPiece| {
        let armpit = Point::new(middle, at(&draft, "L").y);
        with_point(neck_widened(draft, "F", "I", NECK_EASE * inch), "L", armpit)
    };
    let (front, back) = (shaped(front), shaped(back));
    let skirt = 0.55 * m.back_waist_length;
    let cuff_length = 1.18 * m.hand_girth;
    let (front_yoke, back_yoke) = (front_yoke(&front)?, back_yoke(&back)?);
    let neckband = neckband(&front_yoke, &back_yoke, inch)?;
    let pieces = vec![
        front_yoke,
        back_yoke,
        body_piece("front body", &front, m.underarm_length + skirt)?,
        body_piece("back body", &back, m.underarm_length + skirt)?,
        sleeve(&drafted(&sleeve_draft, "sleeve")?, &m)?,
        band("cuff", cuff_length, 3.0 * inch, &[RIGHT, LEFT])?,
        neckband,
    ];
    let mut table = Table::new("net mender's smock", pieces);
    seams(&mut table);
    levels(&mut table, &front, &back, &m);
    tape_lines(&mut table, &front, &back);
    let slit = [("back yoke", "centre back"), ("back body", "centre back")];
    table.opening(
        "back",
        Passing::Head,
        &[("front yoke", "neckline"), ("back yoke", "neckline")],
        &slit,
    );
    table.opening("cuff", Passing::Hand, &[("cuff", "sleeve edge")], &[]);
    table.garment(
        body,
        BTreeMap::from([(Role::Shell, plain_cotton("unbleached plain-weave cotton"))]),
    )
}

fn at(draft: &DraftPiece, name: &str) -> Point {
    draft.point(name).unwrap_or_default()
}

/// The front's half lies at -x, seen from outside on the right side of the body.
fn front_yoke(draft: &DraftPiece) -> Result<Piece, WardrobeError> {
    let (neck_pit, neck, shoulder, width) = (
        at(draft, "F1"),
        at(draft, "F"),
        at(draft, "I"),
        at(draft, "G"),
    );
    let foot = Point::new(0.0, width.y);
    let edges = vec![
        fold("centre front", foot, neck_pit),
        curved("neckline", &[level_then_upright(neck_pit, neck)]),
        straight("shoulder", &[neck, shoulder]),
        curved("armscye", &[square_then_upright(neck, shoulder, width)]),
        straight("yoke seam", &[width, foot]),
    ];
    piece(
        "front yoke",
        TORSO,
        copies(&[WHOLE], &[Role::Shell]),
        edges.into_iter().map(mirrored).collect(),
    )
}

fn back_yoke(draft: &DraftPiece) -> Result<Piece, WardrobeError> {
    let (nape, neck, shoulder, width) = (
        at(draft, "A"),
        at(draft, "F"),
        at(draft, "I"),
        at(draft, "G"),
    );
    let foot = Point::new(0.0, width.y);
    let edges = vec![
        with_finish(Finish::Facing, straight("centre back", &[foot, nape])),
        curved("neckline", &[level_then_square(nape, neck, shoulder)]),
        straight("shoulder", &[neck, shoulder]),
        curved("armscye", &[square_then_upright(neck, shoulder, width)]),
        straight("yoke seam", &[width, foot]),
    ];
    piece(
        "back yoke",
        TORSO,
        copies(&[RIGHT, LEFT], &[Role::Shell]),
        edges,
    )
}

/// The body below the yoke: side seam of this length on the line of the bodice's own, gathered above, hemmed below.
fn body_piece(name: &str, draft: &DraftPiece, side_length: f64) -> Result<Piece, WardrobeError> {
    let (width, armpit) = (at(draft, "G"), at(draft, "L"));
    let top = Point::new(0.0, width.y);
    // Straight down with a little flare, whichever way the draft's own side seam leans. *Own.*
    let side = on_ray(armpit, armpit + kurbo::Vec2::new(0.08, -1.0), side_length);
    let foot = Point::new(0.0, side.y - 0.03 * side_length);
    let is_front = name == "front body";
    let centre = if is_front {
        fold("centre front", foot, top)
    } else {
        straight("centre back", &[foot, top]).map(slit)
    };
    let hem = with_finish(
        Finish::Hem {
            width: None,
            turns: 2,
        },
        curved("hem", &[level_both(side, foot)]),
    );
    let edges = vec![
        centre,
        straight("yoke seam", &[top, width]),
        curved("armscye", &[upright_then_level(width, armpit)]),
        straight("side seam", &[armpit, side]),
        hem,
    ];
    let (edges, sides): (Vec<Option<Edge>>, &[Side]) = if is_front {
        (edges.into_iter().map(mirrored).collect(), &[WHOLE])
    } else {
        (edges, &[RIGHT, LEFT])
    };
    let mut body = piece(name, TORSO, copies(sides, &[Role::Shell]), edges)?;
    body.fullness.push(FullnessOp {
        edge: "yoke seam".to_owned(),
        from: 0.0,
        to: 1.0,
        fullness: Fullness::Gathers { ratio: GATHERS },
        even_to: Some("hem".to_owned()),
    });
    Ok(body)
}

/// A centre back drawn upwards: sewn below, faced above.
fn slit(edge: Edge) -> Edge {
    let stretch = |from, to, finish| FinishStretch { from, to, finish };
    Edge {
        finish: vec![
            stretch(0.0, 1.0 - SLIT, Finish::Seam),
            stretch(1.0 - SLIT, 1.0, Finish::Facing),
        ],
        ..edge
    }
}

/// The drafted sleeve with its hem widened to three quarters more than the cuff; front half (the hollow one) at +x.
fn sleeve(draft: &DraftPiece, m: &DraftMeasures) -> Result<Piece, WardrobeError> {
    let underarm = at(draft, "5");
    let half_hem = 0.875 * 1.18 * m.hand_girth;
    let drop = other_leg("sleeve", "underarm", m.inside_wrist, underarm.x - half_hem)?;
    let foot = Point::new(half_hem, underarm.y - drop);
    let middle = Point::new(0.0, foot.y - 0.05 * drop);
    let cap = |name: &str| draft.outline.edge(name).cloned();
    let hem = CubicBez::new(
        foot,
        Point::new(foot.x * 2.0 / 3.0, foot.y),
        Point::new(foot.x / 3.0, middle.y),
        middle,
    );
    // The hem runs on across the middle as one edge.
    let all = [
        hem,
        CubicBez::new(
            middle,
            Point::new(-hem.p2.x, hem.p2.y),
            Point::new(-hem.p1.x, hem.p1.y),
            Point::new(-foot.x, foot.y),
        ),
    ];
    let clockwise = vec![
        named("cap back", cap("cap upper").map(Edge::reversed)),
        straight("underarm back", &[underarm, foot]),
        curved("hem", &all),
        straight(
            "underarm front",
            &[
                Point::new(-foot.x, foot.y),
                Point::new(-underarm.x, underarm.y),
            ],
        ),
        named("cap front", cap("cap under").map(Edge::reversed)),
    ];
    piece(
        "sleeve",
        ARM,
        copies(&[RIGHT, LEFT], &[Role::Shell]),
        clockwise.into_iter().map(mirrored).collect(),
    )
}

/// A band folded lengthwise, drawn unfolded: "sleeve edge" is sewn to the sleeve, "inner edge" felled over it.
fn band(name: &str, length: f64, depth: f64, sides: &[Side]) -> Result<Piece, WardrobeError> {
    let p = Point::new;
    let edges = vec![
        straight("inner edge", &[p(0.0, 0.0), p(length, 0.0)]),
        straight("end front", &[p(length, 0.0), p(length, depth)]),
        straight("sleeve edge", &[p(length, depth), p(0.0, depth)]),
        straight("end back", &[p(0.0, depth), p(0.0, 0.0)]),
    ];
    let mut band = piece(name, BAND, copies(sides, &[Role::Shell]), edges)?;
    band.grainline = Some((p(0.2 * length, depth / 2.0), p(0.8 * length, depth / 2.0)));
    Ok(band)
}

/// The neckband, half from the fold at the centre front to the opening at the back; drawn unfolded.
fn neckband(front: &Piece, back: &Piece, inch: f64) -> Result<Piece, WardrobeError> {
    let neckline = |d: &Piece| d.outline.edge("neckline").map_or(0.0, |e| e.line.length());
    let (length, depth) = (neckline(front) + neckline(back), 2.5 * inch);
    let p = Point::new;
    let edges = vec![
        straight("neck edge", &[p(0.0, 0.0), p(length, 0.0)]),
        straight("end", &[p(length, 0.0), p(length, depth / 2.0)]),
        straight("inner end", &[p(length, depth / 2.0), p(length, depth)]),
        straight("inner edge", &[p(length, depth), p(0.0, depth)]),
        fold("centre front", p(0.0, depth), p(0.0, 0.0)),
    ];
    // Front in the middle, right side of the body at -x.
    let mut band = piece(
        "neckband",
        BAND,
        copies(&[WHOLE], &[Role::Shell]),
        edges.into_iter().map(mirrored).collect(),
    )?;
    band.grainline = Some((p(-0.8 * length, depth / 2.0), p(-0.2 * length, depth / 2.0)));
    Ok(band)
}

fn seams(t: &mut Table) {
    let shell = Role::Shell;
    let fy = |edge, corner| bit("front yoke", WHOLE, edge, corner);
    let by = |edge, corner| bit("back yoke", RIGHT, edge, corner);
    let fb = |edge, corner| bit("front body", WHOLE, edge, corner);
    let bb = |side, edge, corner| bit("back body", side, edge, corner);
    let sleeve = |edge, corner| bit("sleeve", RIGHT, edge, corner);
    let cuff = |edge, corner| bit("cuff", RIGHT, edge, corner);
    let neckband = |edge, corner| bit("neckband", WHOLE, edge, corner);
    t.sew(
        "shoulder",
        shell,
        &[fy("shoulder", "neckline")],
        &[by("shoulder", "neckline")],
        Join::Equal,
    );
    t.sew(
        "front yoke seam",
        shell,
        &[fb("yoke seam", "centre front")],
        &[fy("yoke seam", "centre front")],
        Join::Equal,
    );
    t.sew(
        "back yoke seam",
        shell,
        &[bb(RIGHT, "yoke seam", "centre back")],
        &[by("yoke seam", "centre back")],
        Join::Equal,
    );
    t.sew(
        "side seam",
        shell,
        &[fb("side seam", "armscye")],
        &[bb(RIGHT, "side seam", "armscye")],
        Join::Equal,
    );
    t.last_seam(|seam| seam.kind = SeamKind::Felled);
    let back = |side| bb(side, "centre back", "yoke seam").part(SLIT, 1.0);
    t.sew(
        "centre back seam",
        shell,
        &[back(RIGHT)],
        &[back(LEFT)],
        Join::Equal,
    );
    let cap = [
        sleeve("cap back", "underarm back"),
        sleeve("cap front", "cap back"),
    ];
    let armscye = [
        bb(RIGHT, "armscye", "side seam"),
        by("armscye", "yoke seam"),
        fy("armscye", "shoulder"),
        fb("armscye", "yoke seam"),
    ];
    t.sew("sleeve into armscye", shell, &cap, &armscye, Join::Gathered);
    t.sew(
        "underarm",
        shell,
        &[sleeve("underarm front", "cap front")],
        &[sleeve("underarm back", "cap back")],
        Join::Equal,
    );
    t.last_seam(|seam| seam.kind = SeamKind::Felled);
    t.sew(
        "sleeve into cuff",
        shell,
        &[sleeve("hem", "underarm back")],
        &[cuff("sleeve edge", "end back")],
        Join::Gathered,
    );
    t.sew(
        "cuff inside",
        shell,
        &[cuff("inner edge", "end back")],
        &[cuff("sleeve edge", "end back")],
        Join::Equal,
    );
    t.last_seam(|seam| seam.kind = SeamKind::Lapped);
    t.sew(
        "cuff ends",
        shell,
        &[cuff("end front", "sleeve edge")],
        &[cuff("end back", "sleeve edge")],
        Join::Equal,
    );
    let neckline = [fy("neckline", "centre front"), by("neckline", "shoulder")];
    t.sew(
        "neckband",
        shell,
        &[neckband("neck edge", "centre front")],
        &neckline,
        Join::Equal,
    );
    t.sew(
        "neckband inside",
        shell,
        &[neckband("inner edge", "centre front")],
        &[neckband("neck edge", "centre front")],
        Join::Equal,
    );
    t.last_seam(|seam| seam.kind = SeamKind::Lapped);
    t.sew(
        "neckband end",
        shell,
        &[neckband("end", "neck edge")],
        &[neckband("inner end", "inner edge")],
        Join::Equal,
    );
    let tie = Insert {
        name: "tie".to_owned(),
        kind: InsertKind::Tie,
        thickness: Mm(0.3),
        from: 0.6,
        to: 0.9,
    };
    t.last_seam(|seam| seam.inserts.push(tie));
    notches(t);
}

fn notches(t: &mut Table) {
    for (piece, edge, corner, share, kind) in [
        ("front body", "side seam", "armscye", 0.5, NotchKind::Single),
        ("back body", "side seam", "armscye", 0.5, NotchKind::Single),
        ("front body", "armscye", "side seam", 0.5, NotchKind::Single),
        ("back body", "armscye", "side seam", 0.5, NotchKind::Double),
        (
            "back body",
            "centre back",
            "yoke seam",
            SLIT,
            NotchKind::Triple,
        ),
        (
            "sleeve",
            "underarm front",
            "cap front",
            0.5,
            NotchKind::Single,
        ),
        (
            "sleeve",
            "underarm back",
            "cap back",
            0.5,
            NotchKind::Single,
        ),
    ] {
        t.notch(piece, edge, corner, share, kind);
    }
    // On the cap where the body's notches meet it, gathers taken evenly.
    let lengths: Vec<f64> = ["back body", "back yoke", "front yoke", "front body"]
        .iter()
        .map(|p| t.edge_length(p, "armscye"))
        .collect();
    let caps = t.edge_length("sleeve", "cap back") + t.edge_length("sleeve", "cap front");
    let ratio = caps / lengths.iter().sum::<f64>().max(1.0);
    for (cap, corner, body, kind) in [
        (
            "cap front",
            "underarm front",
            "front body",
            NotchKind::Single,
        ),
        ("cap back", "underarm back", "back body", NotchKind::Double),
    ] {
        let share =
            0.5 * t.edge_length(body, "armscye") * ratio / t.edge_length("sleeve", cap).max(1.0);
        t.notch("sleeve", cap, corner, share, kind);
    }
}

fn levels(t: &mut Table, front: &DraftPiece, back: &DraftPiece, m: &DraftMeasures) {
    for (yoke, body, centre, draft) in [
        ("front yoke", "front body", "centre front", front),
        ("back yoke", "back body", "centre back", back),
    ] {
        // The waist lies the underarm length below the armpit.
        let armpit = at(draft, "L").y;
        let waist = armpit - m.underarm_length;
        if centre == "centre back" {
            t.level(
                yoke,
                Level::Nape,
                At::Corner(centre, "neckline"),
                At::Height("shoulder", 0.0),
            );
            t.level(
                yoke,
                Level::ShoulderPoint,
                At::Height(centre, at(draft, "I").y),
                At::Corner("shoulder", "armscye"),
            );
        } else {
            t.level(
                yoke,
                Level::ShoulderPoint,
                At::Height("neckline", at(draft, "I").y),
                At::Corner("shoulder", "armscye"),
            );
        }
        t.level(
            yoke,
            Level::Across,
            At::Corner(centre, "yoke seam"),
            At::Corner("armscye", "yoke seam"),
        );
        t.level(
            body,
            Level::Across,
            At::Corner(centre, "yoke seam"),
            At::Corner("armscye", "yoke seam"),
        );
        t.level(
            body,
            Level::Bust,
            At::Height(centre, armpit),
            At::Corner("armscye", "side seam"),
        );
        t.level(
            body,
            Level::Waist,
            At::Height(centre, waist),
            At::Height("side seam", waist),
        );
    }
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
    let elbow = t.height_on(
        "sleeve",
        "underarm front",
        "cap front",
        m.inside_elbow / m.inside_wrist,
    );
    t.level(
        "sleeve",
        Level::Elbow,
        At::Height("underarm back", elbow),
        At::Height("underarm front", elbow),
    );
    t.level(
        "sleeve",
        Level::Wrist,
        At::Corner("hem", "underarm back"),
        At::Corner("hem", "underarm front"),
    );
}

fn tape_lines(t: &mut Table, front: &DraftPiece, back: &DraftPiece) {
    let parts = vec![
        t.across(
            "front body",
            At::Height("centre front", at(front, "L").y),
            At::Corner("armscye", "side seam"),
        ),
        t.across(
            "back body",
            At::Height("centre back", at(back, "L").y),
            At::Corner("armscye", "side seam"),
        ),
    ];
    t.girth("bust", Measure::BustGirth, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
    let parts = vec![
        t.along("front yoke", "neckline"),
        t.along("back yoke", "neckline"),
    ];
    t.girth("neckline", Measure::NeckBaseGirth, parts);
    let parts = vec![t.along("back yoke", "shoulder")];
    t.measure("shoulder", Measure::ShoulderLength, parts);
    for (name, piece, centre, measure) in [
        (
            "across front",
            "front yoke",
            "centre front",
            Measure::AcrossFront,
        ),
        (
            "across back",
            "back yoke",
            "centre back",
            Measure::AcrossBack,
        ),
    ] {
        let parts = vec![t.across(
            piece,
            At::Corner(centre, "yoke seam"),
            At::Corner("armscye", "yoke seam"),
        )];
        t.measure(name, measure, parts);
        t.last_tape(|tape| tape.share = 0.5);
    }
    let parts = vec![
        t.along("back yoke", "centre back"),
        t.upright(
            "back body",
            At::Corner("centre back", "yoke seam"),
            At::Corner("armscye", "side seam"),
        ),
    ];
    t.measure("armscye depth", Measure::ArmscyeDepth, parts);
    let parts = vec![
        t.along("back yoke", "centre back"),
        t.along("back body", "centre back"),
    ];
    t.measure("length at the back", Measure::BackWaistLength, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
    let parts = vec![t.along("sleeve", "underarm front")];
    t.measure("sleeve, inside", Measure::InsideArmLength, parts);
    let parts = vec![t.across(
        "sleeve",
        At::Corner("underarm back", "cap back"),
        At::Corner("underarm front", "cap front"),
    )];
    t.girth("upper arm", Measure::UpperArmGirth, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
    let parts = vec![t.along("cuff", "sleeve edge")];
    t.girth("cuff", Measure::HandGirth, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
}
