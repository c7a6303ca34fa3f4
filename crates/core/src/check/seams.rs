//! Do the sides of every seam fit, and do their notches meet?

use crate::adapt::Adapted;
use crate::finding::{Finding, Gravity, Place};
use crate::seams::{Relation, Seam, SeamError, side_length};

use super::finding;

/// Difference that no hand notices: half a millimetre, as the notches (common practice, no source).
const FITS: f64 = 0.5;

/// Share of the seam that can still be eased or stretched in while sewing (common practice, no source).
const CAN_BE_EASED: f64 = 0.05;

/// Difference that a hand always spreads over a seam, however short (common practice, no source).
const ALWAYS_EASED: f64 = 2.0;

/// Seams whose sides differ after adapting and altering, and notches that do not meet.
pub(super) fn findings(adapted: &Adapted) -> Vec<Finding> {
    let mut findings = Vec::new();
    for seam in &adapted.made.seams {
        match unequal(adapted, seam) {
            Ok(found) => findings.extend(found),
            Err(why) => findings.push(cannot_measure(seam, &why)),
        }
        if let Ok(apart) = notches_apart(adapted, seam) {
            findings.extend(apart);
        }
    }
    findings
}

fn unequal(adapted: &Adapted, seam: &Seam) -> Result<Option<Finding>, SeamError> {
    let (a, b) = (
        side_length(&seam.a, &adapted.pieces)?,
        side_length(&seam.b, &adapted.pieces)?,
    );
    let wanted = seam.relation.wanted(b);
    let off = a - wanted;
    if off.0.abs() <= FITS {
        return Ok(None);
    }
    let gravity = if off.0.abs() > (CAN_BE_EASED * wanted.0).max(ALWAYS_EASED) {
        Gravity::Unusable
    } else {
        Gravity::Care
    };
    let (side, other) = (names(seam, true), names(seam, false));
    let what = format!(
        "{side} is {:.1} mm long and should be {:.1} mm to fit {other} ({:.1} mm): {:.1} mm too {}.",
        a.0,
        wanted.0,
        b.0,
        off.0.abs(),
        if off.0 > 0.0 { "long" } else { "short" }
    );
    let advice = match gravity {
        Gravity::Unusable => "Alter one of the edges, or let the demand that pulls them apart go.",
        _ => "Spread the difference along the seam while sewing, or alter one of the edges.",
    };
    Ok(Some(finding(
        gravity,
        Place::part(&seam.name),
        what,
        advice.to_owned(),
        None,
    )))
}

fn notches_apart(adapted: &Adapted, seam: &Seam) -> Result<Vec<Finding>, SeamError> {
    let walked = seam.walked(&adapted.pieces)?;
    // Ease need not be spread evenly, so notches of an eased seam may lie apart by as much.
    let play = match seam.relation {
        Relation::Eased(_) => (side_length(&seam.a, &adapted.pieces)?
            - side_length(&seam.b, &adapted.pieces)?)
        .0
        .abs(),
        _ => 0.0,
    };
    let place = || Place::part(&seam.name);
    let apart = walked
        .pairs
        .iter()
        .filter(|pair| pair.apart.0 > FITS + play)
        .map(|pair| {
            let what = format!(
                "the notches {:.1} mm along {} and {:.1} mm along {} miss each other by {:.1} mm.",
                pair.a.at.0,
                names(seam, true),
                pair.b.at.0,
                names(seam, false),
                pair.apart.0
            );
            let advice = "Match the ends of the seam first, and mark one of the notches anew.";
            finding(Gravity::Care, place(), what, advice.to_owned(), None)
        });
    let alone = walked.alone.iter().map(|(kind, a, b)| {
        let kind = kind.label();
        let what = format!(
            "{} has {a} {kind} notches, {} has {b}: they cannot all meet.",
            names(seam, true),
            names(seam, false)
        );
        finding(
            Gravity::Note,
            place(),
            what,
            "Give each notch its like on the other side.".to_owned(),
            None,
        )
    });
    Ok(apart.chain(alone).collect())
}

fn cannot_measure(seam: &Seam, why: &SeamError) -> Finding {
    let what = format!("the seam cannot be measured: {why}.");
    finding(
        Gravity::Care,
        Place::part(&seam.name),
        what,
        "Name its edges again, or take the seam out.".to_owned(),
        None,
    )
}

/// "Front, side" or "Front, side and Yoke, hem".
fn names(seam: &Seam, first: bool) -> String {
    let side = if first { &seam.a } else { &seam.b };
    let mut names: Vec<String> = side
        .iter()
        .map(|stretch| format!("{}, {}", stretch.piece, stretch.edge))
        .collect();
    names.dedup();
    names.join(" and ")
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::check::samples;
    use crate::garment::Garment;
    use crate::notch::{Notch, NotchKind};
    use crate::piece::Piece;
    use crate::units::Mm;

    /// A cap and an armscye on source and target, sewn to each other.
    fn found(
        relation: Relation,
        source: (f64, f64),
        target: (f64, f64),
        notches: (&[f64], &[f64]),
    ) -> Vec<Finding> {
        let piece = |name: &str, width: f64, notches: &[f64]| {
            let notches = notches
                .iter()
                .map(|f| Notch {
                    edge: "waist".to_owned(),
                    fraction: *f,
                    kind: NotchKind::Single,
                })
                .collect();
            Piece {
                notches,
                ..samples::strip(name, width, 50.0)
            }
        };
        let pieces =
            |(a, b): (f64, f64)| vec![piece("Sleeve", a, notches.0), piece("Front", b, notches.1)];
        let whole = |name: &str| vec![samples::stretch(name, "waist", 0.0, 1.0)];
        let seam = samples::seam(
            "sleeve into armscye",
            whole("Sleeve"),
            whole("Front"),
            relation,
        );
        let mut adapted = samples::adapted(
            samples::garment(pieces(source), vec![seam]),
            samples::doll("doll"),
        );
        adapted.pieces = pieces(target).into_iter().map(Arc::new).collect();
        adapted.made = Arc::new(Garment {
            seams: crate::adapt::sewn::in_proportion(&adapted.garment, &adapted.pieces),
            ..Garment::clone(&adapted.made)
        });
        findings(&adapted)
    }

    #[test]
    fn sides_that_fit_say_nothing() {
        assert_eq!(
            found(
                Relation::Equal,
                (400.0, 400.0),
                (100.0, 100.4),
                (&[0.5], &[0.5])
            ),
            Vec::new()
        );
        assert_eq!(
            found(
                Relation::Ratio(2.0),
                (800.0, 400.0),
                (200.0, 100.0),
                (&[], &[])
            ),
            Vec::new()
        );
        let eased = Relation::Eased(Mm(20.0));
        assert_eq!(
            found(eased, (420.0, 400.0), (105.0, 100.0), (&[], &[])),
            Vec::new(),
            "ease goes in proportion"
        );
    }

    #[test]
    fn a_little_too_long_can_be_eased_and_a_lot_cannot_be_sewn() {
        let little = found(Relation::Equal, (400.0, 400.0), (103.0, 100.0), (&[], &[]));
        assert_eq!(little[0].gravity, Gravity::Care);
        insta::assert_snapshot!(little[0], @"sleeve into armscye: Sleeve, waist is 103.0 mm long and should be 100.0 mm to fit Front, waist (100.0 mm): 3.0 mm too long. Spread the difference along the seam while sewing, or alter one of the edges.");
        let lot = found(Relation::Equal, (400.0, 400.0), (90.0, 100.0), (&[], &[]));
        assert_eq!(lot[0].gravity, Gravity::Unusable);
        insta::assert_snapshot!(lot[0], @"sleeve into armscye: Sleeve, waist is 90.0 mm long and should be 100.0 mm to fit Front, waist (100.0 mm): 10.0 mm too short. Alter one of the edges, or let the demand that pulls them apart go.");
    }

    #[test]
    fn notches_that_miss_each_other_are_told() {
        let missed = found(
            Relation::Equal,
            (100.0, 100.0),
            (100.0, 100.0),
            (&[0.3, 0.6], &[0.3, 0.62]),
        );
        assert_eq!(missed.len(), 1);
        insta::assert_snapshot!(missed[0], @"sleeve into armscye: the notches 60.0 mm along Sleeve, waist and 62.0 mm along Front, waist miss each other by 2.0 mm. Match the ends of the seam first, and mark one of the notches anew.");
        assert_eq!(
            found(
                Relation::Equal,
                (100.0, 100.0),
                (100.0, 100.0),
                (&[0.3], &[0.304])
            ),
            Vec::new()
        );
    }

    #[test]
    fn a_notch_without_its_like_is_a_note() {
        let alone = found(
            Relation::Equal,
            (100.0, 100.0),
            (100.0, 100.0),
            (&[0.3, 0.6], &[0.3]),
        );
        assert_eq!(alone[0].gravity, Gravity::Note);
        insta::assert_snapshot!(alone[0], @"sleeve into armscye: Sleeve, waist has 2 single notches, Front, waist has 1: they cannot all meet. Give each notch its like on the other side.");
    }

    #[test]
    fn a_seam_on_an_edge_that_is_gone_is_told() {
        let seam = samples::seam(
            "shoulder",
            vec![samples::stretch("Front", "shoulder", 0.0, 1.0)],
            Vec::new(),
            Relation::Equal,
        );
        let adapted = samples::adapted(
            samples::garment(vec![samples::strip("Front", 10.0, 10.0)], vec![seam]),
            samples::doll("doll"),
        );
        insta::assert_snapshot!(findings(&adapted)[0], @"shoulder: the seam cannot be measured: there is no edge Front, shoulder. Name its edges again, or take the seam out.");
    }
}
