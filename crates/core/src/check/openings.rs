//! Does the body get in?

use std::sync::Arc;

use crate::adapt::Adapted;
use crate::ease::cloth_term;
use crate::edge::{EdgeRef, Finish};
use crate::finding::{Finding, Gravity, Place};
use crate::fullness::Filled;
use crate::garment::{Opening, OpeningSize, Passing, TapeError};
use crate::measure::Measure;
use crate::piece::{Piece, Role};
use crate::tolerance::DRAWING;
use crate::units::Mm;

use super::finding;

/// Openings that are too small for what must pass: hole + 2 slit >= passing girth + cloth.
///
/// # Source
/// Geometry; fact sheet J2. The cloth counted is the garment's own, and for the trunk the layers worn underneath.
/// A hole drawn in by a tape or elastic in a casing opens as wide as its cloth.
pub(super) fn findings(filled: &Filled) -> Vec<Finding> {
    let openings = filled.adapted.made.openings.iter();
    openings
        .filter_map(|opening| too_small(filled, opening))
        .collect()
}

/// The pieces as they are when it is opened: let out to their cloth where a casing draws them in.
fn opened(filled: &Filled, opening: &Opening) -> Vec<Arc<Piece>> {
    let is_casing = |piece: &Piece, at: &EdgeRef| {
        let edge = piece
            .outline
            .edge(&at.edge)
            .filter(|_| at.piece == piece.name);
        edge.is_some_and(|edge| {
            edge.finish
                .iter()
                .any(|s| matches!(s.finish, Finish::Casing { .. }))
        })
    };
    let pieces = filled.adapted.pieces.iter().zip(&filled.pieces);
    let let_out = |piece: &Piece| opening.hole.iter().any(|at| is_casing(piece, at));
    pieces
        .map(|(sewn, cloth)| {
            if let_out(sewn) {
                cloth.clone()
            } else {
                sewn.clone()
            }
        })
        .collect()
}

fn too_small(filled: &Filled, opening: &Opening) -> Option<Finding> {
    let adapted = &filled.adapted;
    let place = Place::part(&opening.name);
    let size = match opening.size(&opened(filled, opening)) {
        Ok(size) => size,
        Err(why) => return Some(cannot_measure(place, &why)),
    };
    let girth = adapted.fitting.body.passing(opening.passes) + cloth(adapted, opening.passes);
    if size.open().0 >= girth.0 - DRAWING.0 {
        return None;
    }
    let what = format!(
        "it opens to {:.1} mm, but {} needs {:.1} mm.",
        size.open().0,
        passes(opening.passes),
        girth.0
    );
    Some(finding(
        Gravity::Unusable,
        place,
        what,
        advice(opening, size, girth),
        None,
    ))
}

fn advice(opening: &Opening, size: OpeningSize, girth: Mm) -> String {
    let needed = size.slit_for(girth).0;
    let wider = (girth - size.open()).0;
    if opening.slit.is_empty() {
        format!("Open it by a slit of {needed:.1} mm, or make the hole {wider:.1} mm wider.")
    } else {
        format!(
            "Make the slit {needed:.1} mm long instead of {:.1} mm, or the hole {wider:.1} mm wider.",
            size.slit.0
        )
    }
}

fn cannot_measure(place: Place, why: &TapeError) -> Finding {
    let advice =
        "Name the edges of the opening again; until then nobody knows whether it lets the body in.";
    finding(
        Gravity::Care,
        place,
        format!("the opening cannot be measured: {why}."),
        advice.to_owned(),
        None,
    )
}

/// What the cloth takes up while the body passes.
fn cloth(adapted: &Adapted, passes: Passing) -> Mm {
    let shell = adapted
        .fitting
        .cloths
        .get(&Role::Shell)
        .or(adapted.made.cloths.get(&Role::Shell));
    let own = shell.map_or(Mm(0.0), |cloth| cloth.thickness);
    let underneath = if passes == Passing::Trunk {
        adapted.fitting.stack_underneath(Measure::WaistGirth)
    } else {
        Mm(0.0)
    };
    cloth_term(&[underneath], own)
}

fn passes(passing: Passing) -> &'static str {
    match passing {
        Passing::Head => "the head with its wig",
        Passing::Hand => "the hand",
        Passing::Foot => "the foot over the heel",
        Passing::Trunk => "the widest of shoulders and hips",
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use crate::body::Measured;
    use crate::check::samples::{adapted, doll, finished, finished_with, garment, strip};
    use crate::cloth::Cloth;
    use crate::measure::Measure;

    /// A hole of this girth with a slit of this length (none when 0) on a body of these figures.
    fn opening(
        passes: Passing,
        hole: f64,
        slit: f64,
        figures: &[(Measure, f64)],
        thickness: f64,
    ) -> Vec<Finding> {
        let body = figures.iter().fold(doll("doll"), |body, (m, mm)| {
            body.with(*m, Measured::own_tape(Mm(*mm)))
        });
        let mut garment = garment(
            vec![
                strip("Neck", hole, 10.0),
                strip("Back", 40.0, slit.max(1.0)),
            ],
            Vec::new(),
        );
        let slit = if slit > 0.0 {
            vec![EdgeRef::new("Back", "right")]
        } else {
            Vec::new()
        };
        garment.openings = vec![Opening {
            name: "centre back".to_owned(),
            hole: vec![EdgeRef::new("Neck", "hem")],
            slit,
            passes,
        }];
        garment.cloths.insert(
            Role::Shell,
            Cloth {
                name: "lawn".to_owned(),
                thickness: Mm(thickness),
                source: String::new(),
            },
        );
        findings(&finished(adapted(garment, body)).filled)
    }

    #[test]
    fn a_slit_too_short_for_the_head_says_how_long_it_must_be() {
        let head = [(Measure::HeadGirthWithWig, 320.0)];
        let found = opening(Passing::Head, 130.0, 40.0, &head, 0.0);
        assert_eq!(found[0].gravity, Gravity::Unusable);
        insta::assert_snapshot!(found[0], @"centre back: it opens to 210.0 mm, but the head with its wig needs 320.0 mm. Make the slit 95.0 mm long instead of 40.0 mm, or the hole 110.0 mm wider.");
        insta::assert_snapshot!(opening(Passing::Head, 130.0, 0.0, &head, 0.0)[0], @"centre back: it opens to 130.0 mm, but the head with its wig needs 320.0 mm. Open it by a slit of 95.0 mm, or make the hole 190.0 mm wider.");
        insta::assert_snapshot!(opening(Passing::Head, 130.0, 94.0, &head, 0.32)[0], @"centre back: it opens to 318.0 mm, but the head with its wig needs 321.0 mm. Make the slit 95.5 mm long instead of 94.0 mm, or the hole 3.0 mm wider.");
    }

    /// Fact sheet J2, all six cases: the slit that is needed is enough, half a millimetre less is not.
    #[test]
    fn the_slits_of_the_fact_sheet_just_let_the_body_through() {
        use Measure::{HandGirth, HeadGirthWithWig, HeelGirth, HipGirth, ShoulderWidth};
        for (passes, hole, girth, slit) in [
            (Passing::Head, 130.0, vec![(HeadGirthWithWig, 320.0)], 95.0),
            (Passing::Head, 52.0, vec![(HeadGirthWithWig, 105.0)], 26.5),
            (Passing::Hand, 27.0, vec![(HandGirth, 38.0)], 5.5),
            (
                Passing::Trunk,
                84.0,
                vec![(HipGirth, 126.0), (ShoulderWidth, 40.0)],
                21.0,
            ),
            (Passing::Foot, 102.0, vec![(HeelGirth, 122.0)], 10.0),
            (Passing::Head, 371.2, vec![(HeadGirthWithWig, 561.1)], 94.95),
        ] {
            assert_eq!(
                opening(passes, hole, slit, &girth, 0.0),
                Vec::new(),
                "{passes:?} {hole}"
            );
            assert_eq!(
                opening(passes, hole, slit - 0.5, &girth, 0.0).len(),
                1,
                "{passes:?} {hole}"
            );
        }
    }

    #[test]
    fn an_opening_on_an_edge_that_is_gone_is_told() {
        let mut garment = garment(vec![strip("Neck", 100.0, 10.0)], Vec::new());
        garment.openings = vec![Opening {
            name: "centre back".to_owned(),
            hole: vec![EdgeRef::new("Neck", "neckline")],
            slit: Vec::new(),
            passes: Passing::Head,
        }];
        insta::assert_snapshot!(findings(&finished(adapted(garment, doll("doll"))).filled)[0], @"centre back: the opening cannot be measured: centre back: there is no edge Neck, neckline; take it out of the tape line or rename it. Name the edges of the opening again; until then nobody knows whether it lets the body in.");
    }

    /// A skirt gathered from 180 to 90 mm by a band, or by elastic in a casing; the hips measure 126 mm.
    #[test]
    fn elastic_in_a_casing_opens_as_wide_as_the_cloth() {
        let skirt = |finish| {
            let mut skirt = finished_with(strip("Skirt", 90.0, 60.0), "waist", finish);
            let fullness = crate::fullness::Fullness::Gathers { ratio: 2.0 };
            skirt.fullness = vec![crate::fullness::FullnessOp {
                edge: "waist".to_owned(),
                from: 0.0,
                to: 1.0,
                fullness,
                even_to: Some("hem".to_owned()),
                layout: Default::default(),
            }];
            let mut garment = garment(vec![skirt], Vec::new());
            garment.openings = vec![Opening {
                name: "waist".to_owned(),
                hole: vec![EdgeRef::new("Skirt", "waist")],
                slit: Vec::new(),
                passes: Passing::Trunk,
            }];
            let figure = |mm| Measured::own_tape(Mm(mm));
            let body = doll("doll")
                .with(Measure::HipGirth, figure(126.0))
                .with(Measure::ShoulderWidth, figure(40.0));
            findings(&finished(adapted(garment, body)).filled).len()
        };
        assert_eq!(skirt(Finish::Seam), 1);
        assert_eq!(skirt(Finish::Casing { width: Mm(5.0) }), 0);
    }
}
