//! The lamp keeper's harbour jacket: darted front, set-in sleeve, turned-back cuff, collar, fully lined.

mod levels;
mod pieces;
mod sewing;

use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::Point;

use super::WardrobeError;
use super::needle::{NECK_EASE, at, cloth, neck_widened, plain_wool};
use super::table::Table;
use crate::body::Body;
use crate::drafts::{Constants, DraftError, DraftMeasures, DraftPiece, fitted_bodice};
use crate::garment::{Garment, Passing};
use crate::piece::{DartPress, Piece, Role};
use levels::{levels, tape_lines};
use pieces::{back, collar, cuff, front, sleeve};
use sewing::{notches, seams};

/// Ease of the jacket at the bust, inches: a fitted jacket has 95 to 107 mm (ease table, handbook charts).
const BUST_EASE: f64 = 4.0;
/// Ease at the waist, inches. *Own.*
const WAIST_EASE: f64 = 2.5;
/// How far the front edge lies beyond the centre front, inches. *Own.*
const OVERLAP: f64 = 0.8;

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

fn flipped(p: Point) -> Point {
    Point::new(-p.x, p.y)
}

/// Armpit level and waist of the front, y.
fn front_levels(draft: &DraftPiece, shape: &Shape) -> (f64, f64) {
    let bust = at(draft, "2").y;
    (bust, bust - shape.underarm)
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
