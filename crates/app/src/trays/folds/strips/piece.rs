//! The strip as a piece of the garment, its joins marked on it.

use std::sync::Arc;

use egui::Ui;
use petitoile_core::alteration::{Alteration, PiecesChange};
use petitoile_core::edge::{Edge, Finish};
use petitoile_core::fullness::{Fullness, FullnessOp, Layout, Solved};
use petitoile_core::garment::Garment;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::piece::{
    Copy, Face, Follow, FollowRule, Mark, MarkKind, Piece, Placement, Role, Side,
};
use petitoile_core::strips::{Ends, JoinedStrip, LongEdge, Make, Slant, StripWanted};
use petitoile_core::{LengthUnit, Mm};

use super::form::StripForm;
use super::result::lines;
use crate::command::{Chosen, Command};
use crate::fields::{Style, typed_field};
use crate::session::{On, Session};
use crate::trays::faded;

/// From line to line of the tally on the piece, mm.
const WORDS: f64 = 4.0;

/// A name and a button: the strip becomes a piece.
pub fn offer(
    ui: &mut Ui,
    form: &mut StripForm,
    strip: &JoinedStrip,
    wanted: &StripWanted,
    (session, garment): (&Session, &Garment),
    commands: &mut Vec<Command>,
) {
    ui.horizontal_wrapped(|ui| {
        let style = Style {
            width: 110.0,
            computed: false,
        };
        if let Some(name) = typed_field(ui, "Name of the piece", &form.name, style, |_| true) {
            form.name = name.trim().to_owned();
        }
        let free = !form.name.is_empty() && garment.piece(&form.name).is_none();
        if ui
            .add_enabled(free, egui::Button::new("Make it a piece"))
            .clicked()
        {
            let unit = session.shown().unit;
            match piece(
                &form.name,
                strip,
                wanted,
                form.pleats(wanted),
                (session.on(), unit),
            ) {
                Some(piece) => {
                    let add = PiecesChange::Add(Arc::new(piece));
                    commands.push(Command::Alter(Alteration::Pieces(add)));
                    commands.push(Command::Choose(Chosen::piece(&form.name)));
                }
                None => commands.push(Command::Say("The strip has no size.".to_owned())),
            }
        }
    });
    if garment.piece(&form.name).is_some() {
        faded(ui, "A piece of this name is there; give another.");
    }
}

/// The piece: as it is sewn, its fullness on the upper edge, a line at every join and the tally in words.
fn piece(
    name: &str,
    strip: &JoinedStrip,
    wanted: &StripWanted,
    pleats: Option<Solved>,
    (on, unit): (On, LengthUnit),
) -> Option<Piece> {
    let (long, wide) = (strip.finished.0, strip.finished_width.0);
    let p = petitoile_core::kurbo::Point::new;
    let corners = [p(0.0, 0.0), p(long, 0.0), p(long, wide), p(0.0, wide)];
    let [a, b, c, d] = corners;
    let (upper, lower) = match wanted.make {
        Make::Single { upper, lower } => (upper, Some(lower)),
        // Stored as its half: folded here.
        Make::Double { allowance } => (LongEdge::Seam(allowance), None),
    };
    // A ring is closed by one more join.
    let end = Some(match wanted.ends {
        Ends::Ring => LongEdge::Seam(wanted.allowance),
        Ends::Open(edge) => edge,
    });
    let outline = Outline::new(vec![
        made("lower edge", Line::straight(a, b), lower),
        made("left end", Line::straight(b, c), end),
        made("upper edge", Line::straight(c, d), Some(upper)),
        made("right end", Line::straight(d, a), end),
    ])
    .ok()?;
    let gathers = Fullness::Gathers {
        ratio: wanted.ratio,
    };
    let (drawn_in, layout) = match pleats {
        Some(pleats) => (pleats.fullness, pleats.layout),
        None => (gathers, Layout::default()),
    };
    let mut fullness = Vec::new();
    if wanted.ratio > 1.0 {
        let above = FullnessOp {
            even_to: Some("lower edge".to_owned()),
            layout,
            ..FullnessOp::new("upper edge", drawn_in)
        };
        // Sewn on at both edges, it is drawn in at both.
        let is_sewn_below = matches!(lower, Some(LongEdge::Seam(_)));
        let below = above.across().filter(|_| is_sewn_below);
        fullness.push(above);
        fullness.extend(below);
    }
    let rule = |mm: f64| match on {
        On::Fitting => FollowRule::Typed(Mm(mm)),
        On::Garment => FollowRule::Detail,
    };
    Some(Piece {
        name: name.to_owned(),
        outline,
        placement: Placement::Follows(Follow {
            length: rule(long),
            depth: rule(wide),
        }),
        body_lines: Vec::new(),
        darts: Vec::new(),
        notches: Vec::new(),
        marks: marks(strip, wanted, unit),
        grainline: None,
        fullness,
        copies: vec![Copy {
            side: Side::Whole,
            role: Role::Shell,
        }],
        face: Face::default(),
    })
}

/// An edge of the piece, with exactly the cloth beyond it that the strip was reckoned with; `None`: on the fold.
fn made(name: &str, line: Line, edge: Option<LongEdge>) -> Edge {
    let (finish, own) = match edge {
        None => (Finish::Fold, None),
        Some(LongEdge::Raw) => (Finish::Raw, None),
        Some(LongEdge::Seam(width)) => (Finish::Seam, Some(width)),
        Some(LongEdge::Hem { width, turns }) => {
            let width = Some(width);
            (Finish::Hem { width, turns }, None)
        }
    };
    Edge::finished(name, line, finish).with_allowance(own)
}

/// A line at every join (a ring closes at its ends), the tally below each other.
fn marks(strip: &JoinedStrip, wanted: &StripWanted, unit: LengthUnit) -> Vec<Mark> {
    let (long, wide) = (strip.finished.0, strip.finished_width.0);
    let p = petitoile_core::kurbo::Point::new;
    let lean = match wanted.slant {
        Slant::Straight => 0.0,
        Slant::Bias => wide / 2.0 / wanted.ratio.max(1.0),
    };
    let end = match wanted.ends {
        Ends::Ring => 0.0,
        Ends::Open(edge) => edge.takes(),
    };
    // The piece is drawn as it is sewn and spread evenly: a join lies on the cloth where it was reckoned.
    let inside = strip
        .joins
        .iter()
        .map(|join| (join.on_cloth.0 - end) / wanted.ratio)
        .filter(|at| 1e-6 < *at && *at < long - 1e-6);
    let mut marks: Vec<Mark> = (1..)
        .zip(inside)
        .map(|(number, at)| {
            // Joins are counted from the start, which lies at the right, the edge at the top.
            let x = long - at;
            let (from, to) = (p((x - lean).max(0.0), 0.0), p((x + lean).min(long), wide));
            Mark {
                name: format!("join {number}"),
                kind: MarkKind::Line(Line::straight(from, to)),
            }
        })
        .collect();
    let words = lines(strip, wanted, unit);
    // Inside where there is room, else below the cut line.
    let fits = wide / (words.len() as f64 + 1.0) >= WORDS;
    let hem = match wanted.make {
        Make::Single { lower, .. } => lower.takes(),
        Make::Double { .. } => wide,
    };
    let top = if fits { wide } else { -hem - WORDS };
    for (i, words) in words.into_iter().enumerate() {
        let y = top - WORDS * (i as f64 + 1.0);
        marks.push(Mark {
            name: words,
            kind: MarkKind::Text(p(long / 2.0, y)),
        });
    }
    marks
}
