//! The net mender's smock: yoke, gathered body, gathered sleeves into a cuff band, neckband.

mod levels;
mod pieces;
mod sewing;

use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::Point;

use super::WardrobeError;
use super::needle::{LEFT, NECK_EASE, RIGHT, at, neck_widened, plain_cotton, with_point};
use super::table::Table;
use crate::body::Body;
use crate::drafts::{Constants, Draft, DraftMeasures, DraftPiece, gathered_sleeve, loose_bodice};
use crate::garment::{Garment, Passing};
use crate::piece::Role;
use levels::{levels, tape_lines};
use pieces::{back_yoke, band, body_piece, front_yoke, neckband, sleeve};
use sewing::seams;

/// How far down the centre back of the body is open, as a share of its length. *Own.*
const SLIT: f64 = 0.55;

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
