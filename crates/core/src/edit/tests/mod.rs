#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod fitting;
mod laying;
mod offcuts;
mod project;
mod refusals;
mod words;

use super::*;
use crate::body::{BodyKind, Measured, Origin, Torso};
use crate::edge::{Edge, Finish, OutlinePoint};
use crate::fitting::DetailRule;
use crate::garment::{Opening, Passing};
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::lay_plan::Placed;
use crate::measure::Level;
use crate::piece::{BodyLine, Copy, Frame, Placement, Side};
use crate::seams::{Relation, Seam, SeamKind, Stretch};
use crate::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};
use crate::units::Degrees;
use kurbo::Point;

const WHOLE: Copy = Copy {
    side: Side::Whole,
    role: Role::Shell,
};

fn rectangle(name: &str, hem: Finish) -> Piece {
    let corners = [
        Point::new(0.0, 0.0),
        Point::new(40.0, 0.0),
        Point::new(40.0, 60.0),
        Point::new(0.0, 60.0),
    ];
    let side = |name: &str, from: usize, to: usize| {
        Edge::seam(name, Line::straight(corners[from], corners[to]))
    };
    let hem = Edge::finished("hem", Line::straight(corners[0], corners[1]), hem);
    Piece {
        name: name.to_owned(),
        outline: Outline::new(vec![
            hem,
            side("right", 1, 2),
            side("waist", 2, 3),
            side("left", 3, 0),
        ])
        .unwrap(),
        placement: Placement::Framed(Frame::Torso),
        body_lines: vec![BodyLine {
            level: Level::Waist,
            from: OutlinePoint::new("waist", 0.0),
            to: OutlinePoint::new("waist", 1.0),
        }],
        darts: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        grainline: None,
        face: Default::default(),
        fullness: Vec::new(),
        copies: vec![WHOLE],
    }
}

fn stretch(piece: &str, edge: &str) -> Stretch {
    Stretch {
        piece: piece.to_owned(),
        copy: WHOLE,
        edge: edge.to_owned(),
        from: 0.0,
        to: 1.0,
    }
}

fn skirt() -> Garment {
    let hem = Finish::Hem {
        width: None,
        turns: 2,
    };
    let part = |piece: &str| TapePart {
        piece: piece.to_owned(),
        path: TapePath::Along {
            edge: "waist".to_owned(),
            from: 0.0,
            to: 1.0,
        },
    };
    Garment {
        name: "skirt".to_owned(),
        made_for: Arc::new(Body::new("me", BodyKind::Woman)),
        pieces: vec![
            Arc::new(rectangle("front", hem)),
            Arc::new(rectangle("back", hem)),
        ],
        seams: vec![Seam {
            name: "side".to_owned(),
            a: vec![stretch("front", "right")],
            b: vec![stretch("back", "left")],
            mirrored: false,
            relation: Relation::Equal,
            kind: SeamKind::Plain,
            inserts: Vec::new(),
        }],
        tape_lines: vec![TapeLine {
            name: "waist".to_owned(),
            measure: Measure::WaistGirth,
            share: 1.0,
            kind: TapeKind::Girth,
            parts: vec![part("front"), part("back")],
            hold: Hold::Auto,
            overlap: Mm(0.0),
            lacing_gap: Mm(0.0),
        }],
        openings: vec![Opening {
            name: "waist".to_owned(),
            hole: vec![EdgeRef::new("front", "waist")],
            slit: vec![EdgeRef::new("back", "left")],
            passes: Passing::Trunk,
        }],
        cloths: Default::default(),
        included_allowance: Default::default(),
    }
}

fn doll() -> Body {
    let mut doll =
        Body::new("doll", BodyKind::Doll).with(Measure::WaistGirth, Measured::own_tape(Mm(84.0)));
    doll.torso = Torso::Soft { give: Mm(2.0) };
    doll
}

/// A project with a skirt, a doll, two fittings and an outfit.
fn project() -> Project {
    let body = Arc::new(doll());
    let edits = [
        Edit::RenameProject("Sunday".to_owned()),
        Edit::PutGarment(Arc::new(skirt())),
        Edit::PutBody(body.clone()),
        Edit::PutFitting(Arc::new(Fitting::new(
            "skirt on doll",
            "skirt",
            body.clone(),
        ))),
        Edit::PutFitting(Arc::new(Fitting::new("petticoat", "skirt", body))),
        Edit::PutOutfit(Outfit {
            name: "best".to_owned(),
            layers: vec!["petticoat".to_owned(), "skirt on doll".to_owned()],
            pads: Vec::new(),
        }),
    ];
    edits.iter().fold(Project::default(), |project, edit| {
        project.edited(edit).unwrap()
    })
}

fn on_skirt(change: FittingEdit) -> Edit {
    Edit::Fitting {
        fitting: "skirt on doll".to_owned(),
        change,
    }
}

fn refused(edit: &Edit) -> String {
    project().edited(edit).unwrap_err().to_string()
}
