//! Is everything large enough to be held, turned and sewn?

use kurbo::{Affine, Point, Vec2};

use crate::adapt::{Adapted, EaseRow};
use crate::edge::{Edge, EdgeRef, Finish};
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::finish::{Finished, FinishedPiece};
use crate::garment::is_of_one_limb;
use crate::geometry::simple::corners;
use crate::piece::Piece;
use crate::seams::{Seam, Stretch};
use crate::units::{LengthUnit, Mm};

use super::finding;

/// Tubes narrower than this do not go round a machine's arm or under its foot (common practice, no source).
const NARROW_TUBE: f64 = 60.0;

/// Tubes narrower than this can hardly be turned (read: a 7 mm flat wrist is "almost impossible to turn", fact sheet J3;
/// the limit of twice that, and a little, is ours).
const UNTURNABLE_TUBE: f64 = 20.0;

/// A cut piece narrower than this slips from the fingers and under the foot (common practice, no source).
const NARROWEST_PIECE: f64 = 10.0;

/// Directions in which a piece is measured for its width.
const DIRECTIONS: u32 = 36;

/// Narrow tubes, allowances wider than half the piece, pieces too small to handle.
pub(super) fn findings(finished: &Finished) -> Vec<Finding> {
    let adapted = &finished.filled.adapted;
    let mut findings = narrow_tubes(adapted);
    if findings.is_empty() {
        findings.extend(adapted.ease.iter().filter_map(narrow_limb));
    }
    let handling = |piece| wide_allowance(adapted, piece).or_else(|| too_small(piece));
    findings.extend(finished.pieces.iter().filter_map(handling));
    findings
}

/// One finding for each piece that seams close to a narrow tube: its lining is told with it.
fn narrow_tubes(adapted: &Adapted) -> Vec<Finding> {
    let mut findings: Vec<Finding> = Vec::new();
    for found in adapted
        .garment
        .seams
        .iter()
        .filter_map(|seam| narrow_tube(adapted, seam))
    {
        if !findings.iter().any(|f| f.place.piece == found.place.piece) {
            findings.push(found);
        }
    }
    findings
}

/// A seam that closes one piece to a tube.
fn narrow_tube(adapted: &Adapted, seam: &Seam) -> Option<Finding> {
    let ([a], [b]) = (seam.a.as_slice(), seam.b.as_slice()) else {
        return None;
    };
    if a.piece != b.piece || a.copy != b.copy || a.edge == b.edge {
        return None;
    }
    let piece = adapted.pieces.iter().find(|piece| piece.name == a.piece)?;
    let (first, second) = (
        piece.outline.index_of(&a.edge)?,
        piece.outline.index_of(&b.edge)?,
    );
    let (low, high) = (first.min(second), first.max(second));
    let edges = piece.outline.edges();
    let is_between = |at: usize| low < at && at < high;
    if is_folded_band(adapted, a, &|name| {
        piece.outline.index_of(name).is_some_and(is_between)
    }) || is_folded_band(adapted, b, &|name| {
        piece.outline.index_of(name).is_some_and(is_between)
    }) {
        return None;
    }
    let length =
        |edges: &mut dyn Iterator<Item = &Edge>| edges.map(|edge| edge.line.length()).sum::<f64>();
    let between = length(&mut edges.iter().take(high).skip(low + 1));
    let around = length(&mut edges.iter().skip(high + 1).chain(edges.iter().take(low)));
    // Edges that meet in a corner close a point, not a tube.
    let girth = if between > 0.0 && around > 0.0 {
        between.min(around)
    } else {
        return None;
    };
    tube(
        girth,
        Place {
            piece: Some(piece.name.clone()),
            ..Place::part(&seam.name)
        },
    )
}

/// Is a piece with such an edge folded over as a band is, and sewn flat, never round a tube?
///
/// A waistband, neckband or cuff of one piece is sewn by the same edge to what it holds, or its ends lie on each other
/// beside the seam.
fn is_folded_band(adapted: &Adapted, closed: &Stretch, is_between: &dyn Fn(&str) -> bool) -> bool {
    adapted.made.seams.iter().any(|seam| {
        let all = || seam.a.iter().chain(&seam.b);
        let holds = all()
            .any(|s| (&s.piece, &s.edge, s.copy) == (&closed.piece, &closed.edge, closed.copy))
            && all().any(|s| s.piece != closed.piece);
        let ([a], [b]) = (seam.a.as_slice(), seam.b.as_slice()) else {
            return holds;
        };
        let is_end =
            |s: &Stretch| s.piece == closed.piece && s.copy == closed.copy && is_between(&s.edge);
        holds || (a.edge != b.edge && is_end(a) && is_end(b))
    })
}

/// A narrow sleeve or trouser leg of more than one piece, known by its tape line only.
fn narrow_limb(row: &EaseRow) -> Option<Finding> {
    (row.is_girth && is_of_one_limb(row.measure))
        .then(|| tube(row.garment.1.0, Place::part(&row.name)))
        .flatten()
}

fn tube(girth: f64, place: Place) -> Option<Finding> {
    if girth >= NARROW_TUBE {
        return None;
    }
    let gravity = if girth < UNTURNABLE_TUBE {
        Gravity::Care
    } else {
        Gravity::Note
    };
    let what = format!(
        "closed it is a tube of only {girth:.1} mm, under {NARROW_TUBE:.0} mm: too narrow for the machine."
    );
    let advice = if gravity == Gravity::Care {
        "Finish its ends and set it in flat, close it last and by hand, and choose cloth that needs no turning."
    } else {
        "Finish its ends and set it in flat, and close it last."
    };
    Some(finding(gravity, place, what, advice.to_owned(), None))
}

/// An allowance that reaches past the middle of its piece.
fn wide_allowance(adapted: &Adapted, piece: &FinishedPiece) -> Option<Finding> {
    let width = narrowest(&piece.piece, corners(&piece.piece.outline));
    let edges = piece
        .piece
        .outline
        .edges()
        .iter()
        .zip(&piece.allowances)
        .filter(|(edge, _)| is_seam(edge));
    let (edge, widest) = edges.max_by(|x, y| x.1.0.total_cmp(&y.1.0))?;
    if widest.0 <= width / 2.0 {
        return None;
    }
    let what = format!(
        "the allowance of {} is wider than half the finished piece ({width:.1} mm across): the two sides lie over each other inside.",
        LengthUnit::Millimetre.show_chosen(*widest)
    );
    // Half the piece, rounded down to a half millimetre.
    let good = Mm((width / 2.0 * 2.0).floor() / 2.0);
    let change =
        FittingEdit::SetSingleAllowance(EdgeRef::new(&piece.piece.name, &edge.name), Some(good));
    let remedy = (good.0 >= 1.0).then(|| Edit::Fitting {
        fitting: adapted.fitting.name.clone(),
        change,
    });
    let advice = "Use a narrower allowance here, or trim it after sewing.";
    Some(finding(
        Gravity::Care,
        Place::edge(&piece.piece.name, &edge.name),
        what,
        advice.to_owned(),
        remedy,
    ))
}

/// Is its allowance left inside as it is, neither turned nor folded?
fn is_seam(edge: &Edge) -> bool {
    edge.finish
        .iter()
        .all(|stretch| matches!(stretch.finish, Finish::Seam | Finish::Facing | Finish::Open))
}

fn too_small(piece: &FinishedPiece) -> Option<Finding> {
    let mut cut = Vec::new();
    kurbo::flatten(&piece.cut, crate::tolerance::DRAWING.0, |element| {
        cut.extend(element.end_point())
    });
    let width = narrowest(&piece.piece, cut);
    if width >= NARROWEST_PIECE {
        return None;
    }
    let what = format!(
        "the cut piece is only {width:.1} mm across, under {NARROWEST_PIECE:.0} mm: hard to hold and to sew."
    );
    let advice = "Draw it on a larger bit of cloth, sew along the line, and cut it out afterwards.";
    Some(finding(
        Gravity::Care,
        Place::piece(&piece.piece.name),
        what,
        advice.to_owned(),
        None,
    ))
}

/// The smallest width of a piece, opened out if it is drawn as a half.
fn narrowest(piece: &Piece, mut points: Vec<Point>) -> f64 {
    if let Some(fold) = piece.fold_edge() {
        let mirror = Affine::reflect(fold.line.start(), fold.line.direction(0.5));
        let other: Vec<Point> = points.iter().map(|p| mirror * *p).collect();
        points.extend(other);
    }
    let width = |direction: Vec2| {
        let along = points.iter().map(|p| p.to_vec2().dot(direction));
        let (low, high) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| {
            (low.min(x), high.max(x))
        });
        high - low
    };
    let directions =
        (0..DIRECTIONS).map(|i| f64::from(i) * std::f64::consts::PI / f64::from(DIRECTIONS));
    directions
        .map(|angle| width(Vec2::new(libm::cos(angle), libm::sin(angle))))
        .fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use crate::check::samples::{
        adapted, doll, finished, finished_with, garment, seam, stretch, strip,
    };
    use crate::seams::Relation;

    fn tube(girth: f64) -> Vec<Finding> {
        let underarm = seam(
            "underarm",
            vec![stretch("Sleeve", "left", 0.0, 1.0)],
            vec![stretch("Sleeve", "right", 1.0, 0.0)],
            Relation::Equal,
        );
        let sleeve = garment(vec![strip("Sleeve", girth, 90.0)], vec![underarm]);
        findings(&finished(adapted(sleeve, doll("doll"))))
            .into_iter()
            .filter(|f| f.place.part.as_deref() == Some("underarm"))
            .collect()
    }

    #[test]
    fn a_narrow_sleeve_is_finished_flat_before_it_is_closed() {
        assert_eq!(tube(60.0), Vec::new());
        assert_eq!(tube(52.0)[0].gravity, Gravity::Note);
        insta::assert_snapshot!(tube(52.0)[0], @"Sleeve, underarm: closed it is a tube of only 52.0 mm, under 60 mm: too narrow for the machine. Finish its ends and set it in flat, and close it last.");
        assert_eq!(tube(14.0)[0].gravity, Gravity::Care);
        insta::assert_snapshot!(tube(14.0)[0], @"Sleeve, underarm: closed it is a tube of only 14.0 mm, under 60 mm: too narrow for the machine. Finish its ends and set it in flat, close it last and by hand, and choose cloth that needs no turning.");
    }

    #[test]
    fn a_lined_sleeve_is_told_once() {
        let underarm = |name: &str| {
            seam(
                name,
                vec![stretch("Sleeve", "left", 0.0, 1.0)],
                vec![stretch("Sleeve", "right", 1.0, 0.0)],
                Relation::Equal,
            )
        };
        let seams = vec![underarm("underarm"), underarm("underarm, lining")];
        let sleeve = garment(vec![strip("Sleeve", 41.0, 90.0)], seams);
        let found = findings(&finished(adapted(sleeve, doll("doll"))));
        let tubes = found.iter().filter(|f| f.what.contains("tube")).count();
        assert_eq!(tubes, 1, "{found:?}");
    }

    /// A band of 300 x 18 mm, folded along its middle.
    fn folded(seams: Vec<Seam>) -> Vec<Finding> {
        let pieces = vec![strip("Band", 300.0, 18.0), strip("Skirt", 300.0, 140.0)];
        findings(&finished(adapted(garment(pieces, seams), doll("doll"))))
    }

    #[test]
    fn a_waistband_folded_over_and_sewn_flat_is_no_tube() {
        let inside = || {
            seam(
                "waistband inside",
                vec![stretch("Band", "hem", 0.0, 1.0)],
                vec![stretch("Band", "waist", 1.0, 0.0)],
                Relation::Equal,
            )
        };
        let waist = seam(
            "waistband",
            vec![stretch("Skirt", "waist", 0.0, 1.0)],
            vec![stretch("Band", "hem", 0.0, 1.0)],
            Relation::Equal,
        );
        assert_eq!(folded(vec![inside()]).len(), 1, "sewn to itself only");
        assert_eq!(folded(vec![waist, inside()]), Vec::new());
    }

    #[test]
    fn a_sleeve_of_two_pieces_is_known_by_its_tape_line() {
        let wrist = |girth: f64| {
            let mut adapted = adapted(
                garment(vec![strip("Upper sleeve", 40.0, 90.0)], Vec::new()),
                doll("doll"),
            );
            let row = |measure| EaseRow {
                name: "wrist".to_owned(),
                hold: crate::tape::Hold::Fitted,
                measure,
                is_girth: true,
                body: (Mm(150.0), Mm(27.0)),
                garment: (Mm(200.0), Mm(girth)),
                cloth: Mm(0.0),
            };
            adapted.ease = vec![
                row(crate::measure::Measure::WristGirth),
                row(crate::measure::Measure::NeckGirth),
            ];
            findings(&finished(adapted))
                .into_iter()
                .filter(|f| f.place.part.as_deref() == Some("wrist"))
                .count()
        };
        assert_eq!(
            (wrist(40.0), wrist(80.0)),
            (1, 0),
            "the neck is no tube to be sewn"
        );
    }

    #[test]
    fn a_deep_hem_on_a_shallow_ruffle_is_no_wide_allowance() {
        let ruffle = finished_with(
            strip("Ruffle", 120.0, 20.0),
            "hem",
            Finish::Hem {
                width: Some(Mm(8.0)),
                turns: 2,
            },
        );
        let mut finished = finished(adapted(garment(vec![ruffle], Vec::new()), doll("doll")));
        finished.pieces[0].allowances = vec![Mm(16.0), Mm(5.0), Mm(5.0), Mm(5.0)];
        assert_eq!(findings(&finished), Vec::new());
    }

    /// Findings on a strip whose allowances are all this wide.
    fn with_allowance(piece: Piece, allowance: f64) -> Vec<Finding> {
        let mut finished = finished(adapted(garment(vec![piece], Vec::new()), doll("doll")));
        for piece in &mut finished.pieces {
            piece
                .allowances
                .iter_mut()
                .for_each(|width| *width = Mm(allowance));
            let b = piece.piece.outline.bounds().inflate(allowance, allowance);
            piece.cut = kurbo::Shape::to_path(&b, 0.1);
        }
        findings(&finished)
    }

    #[test]
    fn an_allowance_wider_than_half_its_band_is_told_with_one_that_fits() {
        assert_eq!(with_allowance(strip("Band", 120.0, 14.0), 6.35), Vec::new());
        let wide = with_allowance(strip("Band", 120.0, 9.0), 6.35);
        insta::assert_snapshot!(wide[0], @"Band, left: the allowance of 6.35 mm is wider than half the finished piece (9.0 mm across): the two sides lie over each other inside. Use a narrower allowance here, or trim it after sewing.");
        let Some(Edit::Fitting {
            change: FittingEdit::SetSingleAllowance(_, Some(good)),
            ..
        }) = &wide[0].remedy
        else {
            unreachable!()
        };
        assert_eq!(*good, Mm(4.5));
    }

    #[test]
    fn a_half_on_the_fold_is_measured_opened_out() {
        let half = finished_with(strip("Band", 9.0, 120.0), "left", Finish::Fold);
        assert_eq!(
            with_allowance(half, 6.35),
            Vec::new(),
            "opened out it is 18 mm wide"
        );
    }

    #[test]
    fn a_piece_too_small_to_hold_is_told() {
        let small = with_allowance(strip("Tab", 20.0, 5.0), 2.0);
        insta::assert_snapshot!(small[0], @"Tab: the cut piece is only 9.0 mm across, under 10 mm: hard to hold and to sew. Draw it on a larger bit of cloth, sew along the line, and cut it out afterwards.");
        assert_eq!(with_allowance(strip("Tab", 20.0, 8.0), 2.0), Vec::new());
    }
}
