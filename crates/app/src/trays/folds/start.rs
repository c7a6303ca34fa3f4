//! What a kind starts with on an edge, and one kind turned into another for the same cloth.

use petitoile_core::body::Body;
use petitoile_core::fullness::{
    Depth, FullnessOp, Kind, PIN_TUCK, Solved, Unsolved, Wanted, solve,
};
use petitoile_core::measure::Measure;
use petitoile_core::piece::Piece;
use petitoile_core::strips::gathered_instead;
use petitoile_core::{LengthUnit, Mm};

/// Sizes that suit a body: a woman of 168 cm starts with knife pleats of 42 mm, a doll of 45 cm with 11 mm.
#[derive(Debug, Clone, Copy)]
pub struct Suits {
    /// Visible width of a pleat, mm.
    pleat: f64,
    /// Width of a tuck, mm.
    tuck: f64,
    /// Width of a cartridge loop, mm.
    shirred_loop: f64,
}

impl Suits {
    /// Own choice: shares of the height.
    pub fn body(body: &Body) -> Self {
        let height = body.measure(Measure::Height).value.0;
        Self {
            pleat: height / 40.0,
            tuck: height / 120.0,
            shirred_loop: height / 250.0,
        }
    }

    /// What is asked for when a kind is put on a plain edge.
    fn wanted(self, kind: Kind, finished: Mm) -> Wanted {
        let start = Wanted {
            finished: Some(finished),
            ..Wanted::new(kind)
        };
        let pleat = Some(Mm(self.pleat.min(finished.0)));
        match kind {
            Kind::Gathers | Kind::Shirring => Wanted {
                ratio: Some(2.0),
                ..start
            },
            Kind::Ease => Wanted {
                cloth: Some(Mm(finished.0 * 1.03)),
                ..start
            },
            Kind::Cartridge => Wanted {
                visible: Some(Mm(self.shirred_loop.min(finished.0))),
                ratio: Some(4.0),
                ..start
            },
            Kind::PinTucks => Wanted {
                depth: Some(Depth::Of(Mm((self.tuck / 4.0).clamp(0.5, PIN_TUCK)))),
                spacing: Some(Mm((self.tuck * 1.2).min(finished.0))),
                ..start
            },
            Kind::WideTucks => Wanted {
                depth: Some(Depth::Of(Mm(self.tuck.max(PIN_TUCK + 0.5)))),
                spacing: Some(Mm((self.tuck.max(PIN_TUCK + 0.5) * 3.0).min(finished.0))),
                ..start
            },
            Kind::Box | Kind::DoubleBox => Wanted {
                spacing: pleat.map(|p| Mm((p.0 * 2.0).min(finished.0))),
                depth: Some(Depth::Full),
                ..start
            },
            _ => Wanted {
                visible: pleat,
                depth: Some(Depth::Full),
                ..start
            },
        }
    }
}

/// A new fullness over all of an edge.
pub fn new(piece: &Piece, edge: &str, length: Mm, kind: Kind, suits: Suits) -> Option<FullnessOp> {
    let solved = possible(&suits.wanted(kind, length))?;
    Some(solved.op(edge, 0.0, 1.0, opposite(piece, edge)))
}

/// The same cloth in another kind, on the same stretch; where that cannot be, what the kind starts with, and why.
pub fn turned(
    op: &FullnessOp,
    finished: Mm,
    kind: Kind,
    suits: Suits,
    unit: LengthUnit,
) -> Option<(Solved, String)> {
    let start = suits.wanted(kind, finished).told_in(unit);
    let cloth = op.fullness.cloth_length(finished);
    let same_cloth = if kind == Kind::Gathers {
        gathered_instead(op.fullness, &op.layout, finished)
    } else if !kind.is_counted() && !op.fullness.kind().is_counted() {
        solve(&drawn_in(op, finished, kind, unit))
    } else {
        solve(&Wanted {
            cloth: Some(cloth),
            ratio: None,
            depth: None,
            // Pleats keep their number; what was drawn in gets pleats as wide as suits the body.
            count: op.fullness.count(),
            visible: start.visible.filter(|_| op.fullness.count().is_none()),
            spacing: start.spacing.filter(|_| op.fullness.count().is_none()),
            layout: op.layout.clone(),
            ..start.clone()
        })
    };
    let why = match same_cloth {
        Ok(solved) if (solved.cloth - cloth).0.abs() < 1e-4 => {
            return Some((solved, String::new()));
        }
        Ok(_) => String::new(),
        Err(Unsolved::Impossible { why, .. } | Unsolved::Open { ask: why }) => why,
    };
    Some((possible(&start)?, why))
}

/// Shirring and ease say the same cloth in other words.
fn drawn_in(op: &FullnessOp, finished: Mm, kind: Kind, unit: LengthUnit) -> Wanted {
    Wanted {
        finished: Some(finished),
        cloth: Some(op.fullness.cloth_length(finished)),
        layout: op.layout.clone(),
        unit,
        ..Wanted::new(kind)
    }
}

fn possible(wanted: &Wanted) -> Option<Solved> {
    match solve(wanted) {
        Ok(solved) => Some(solved),
        Err(Unsolved::Impossible { nearest, .. }) => Some(*nearest),
        Err(Unsolved::Open { .. }) => None,
    }
}

/// The edge that is widened as much: the one across, when both are about as long. Gored and circular pieces hinge.
fn opposite(piece: &Piece, edge: &str) -> Option<String> {
    let edges = piece.outline.edges();
    let at = piece.outline.index_of(edge)?;
    if edges.len() != 4 {
        return None;
    }
    let (here, across) = (edges.get(at)?, edges.get((at + 2) % 4)?);
    let (a, b) = (here.line.length(), across.line.length());
    (a.min(b) > 0.8 * a.max(b)).then(|| across.name.clone())
}
