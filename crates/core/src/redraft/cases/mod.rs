//! The garments of the redraft benchmark: drafted pieces with body lines, seams and the tape lines their rules use.

mod bodices;
mod body_sheet;
mod pieces;
mod skirts;

use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::Affine;

use crate::drafts::{DraftError, DraftMeasures};
use crate::garment::Garment;
use crate::measure::Measure;
use crate::piece::Piece;
use bodices::{fitted, loose, loose_with_sleeve};
use body_sheet::body;
pub(super) use body_sheet::estimated;
use skirts::{circular, gored, hip_follows_waist};

/// One draft of the benchmark.
pub struct Case {
    /// Name in the table.
    pub name: &'static str,
    /// The measures its rules use, as demanded.
    pub demands: &'static str,
    /// Builds its garment for a body.
    pub garment: fn(&DraftMeasures) -> Result<Garment, DraftError>,
    /// Measures whose ratios are used across and along by the makers' way, per piece name ("" for all others).
    across_along: &'static [(&'static str, Measure, Measure)],
}

/// All drafts of the benchmark.
pub const CASES: &[Case] = &[
    Case {
        name: "loose bodice",
        demands: "bust, across back, across front, neck width (1/6 neck base), centre back, front waist length, underarm length, back waist (W/4), shoulder heights (1/6 neck base, 1/6 back length), back shoulder point (by the width of back), front armscye depth; the front's waist hangs from the chest",
        garment: loose,
        across_along: &[("", Measure::BustGirth, Measure::BackWaistLength)],
    },
    Case {
        name: "loose bodice and flat sleeve",
        demands: "as the loose bodice; cap to armscye, upper arm, inside arm length, hand girth",
        garment: loose_with_sleeve,
        across_along: &[
            ("sleeve", Measure::UpperArmGirth, Measure::InsideArmLength),
            ("", Measure::BustGirth, Measure::BackWaistLength),
        ],
    },
    Case {
        name: "fitted bodice",
        demands: "bust, across front, across back, neck width (by the bust), neck depth (1/5 neck base), back neck width and shoulder height (1/6), shoulder length, front waist length, underarm length, centre back, front waist (W/4), back chest and waist (by the width of back), centre front lean and dart place (by the bust) and height (3/4 underarm)",
        garment: fitted,
        across_along: &[("", Measure::BustGirth, Measure::BackWaistLength)],
    },
    Case {
        name: "five-gored skirt",
        demands: "waist and its shares (1/8, 1/6), front and side hip (by the waist), back hip (by the hip, or by the waist where the rule does), front, side and back length",
        garment: gored,
        across_along: &[("", Measure::HipGirth, Measure::WaistToKnee)],
    },
    Case {
        name: "half-circle skirt",
        demands: "waist, length",
        garment: circular,
        across_along: &[("", Measure::WaistGirth, Measure::WaistToKnee)],
    },
];

impl Case {
    /// The body the source is drafted for: the 92 cm woman; for the gored skirt, whose rule has two branches, the 84 cm
    /// woman where the target is on her branch. (Adapting cannot turn one design into another.)
    pub(super) fn source(&self, to: &DraftMeasures) -> &'static DraftMeasures {
        let other_branch = self.name == "five-gored skirt" && !hip_follows_waist(to);
        match super::TARGETS.first() {
            Some((_, adult_84)) if other_branch => adult_84,
            _ => &DraftMeasures::ADULT_92,
        }
    }

    /// One factor for every piece: the ratio of the busts.
    pub(super) fn one_factor(
        &self,
        from: &DraftMeasures,
        to: &DraftMeasures,
    ) -> BTreeMap<String, (f64, f64)> {
        let factor = to.bust_girth / from.bust_girth;
        BTreeMap::from([(String::new(), (factor, factor))])
    }

    /// One factor across, another along, per piece.
    pub(super) fn across_along(
        &self,
        from: &DraftMeasures,
        to: &DraftMeasures,
    ) -> BTreeMap<String, (f64, f64)> {
        let (from, to) = (body(from), body(to));
        let ratio = |m| to.mm(m).0 / from.mm(m).0;
        self.across_along
            .iter()
            .map(|(piece, across, along)| ((*piece).to_owned(), (ratio(*across), ratio(*along))))
            .collect()
    }
}

/// Every piece of a garment scaled by its factors across and along.
pub(super) fn scaled(garment: &Garment, factors: &BTreeMap<String, (f64, f64)>) -> Garment {
    let pieces = garment
        .pieces
        .iter()
        .map(|piece| {
            let (x, y) = factors
                .get(&piece.name)
                .or_else(|| factors.get(""))
                .copied()
                .unwrap_or((1.0, 1.0));
            let map = Affine::new([x, 0.0, 0.0, y, 0.0, 0.0]);
            let lines = piece
                .outline
                .edges()
                .iter()
                .map(|e| e.line.mapped(|p| map * p))
                .collect();
            let outline = piece
                .outline
                .with_lines(lines)
                .unwrap_or_else(|_| piece.outline.clone());
            Arc::new(Piece {
                outline,
                ..Piece::clone(piece)
            })
        })
        .collect();
    Garment {
        pieces,
        ..garment.clone()
    }
}
