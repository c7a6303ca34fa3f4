//! Garments as they come in: names and marks stripped, pieces turned, mirrored and shuffled.

use std::collections::BTreeMap;
use std::sync::Arc;

use petitoile_core::body::{Body, BodyKind};
use petitoile_core::drafts::wardrobe::{
    gored_sunday_skirt, half_circle_sunday_skirt, harbour_jacket, net_menders_smock,
};
use petitoile_core::drafts::{
    Constants, Draft, DraftMeasures, fitted_bodice, flat_sleeve, gathered_sleeve, gown,
    loose_bodice,
};
use petitoile_core::edge::Edge;
use petitoile_core::garment::Garment;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::kurbo::Affine;
use petitoile_core::piece::{Copy, Follow, FollowRule, Piece, Placement, Role, Side};

use super::bodies::body;

/// A garment that came in, and what its pieces and edges were called.
pub struct Bare {
    pub garment: Garment,
    /// Name now -> name before.
    pub pieces: BTreeMap<String, String>,
    /// (piece, edge) now -> edge before.
    pub edges: BTreeMap<(String, String), String>,
}

/// How a garment comes in.
#[derive(Debug, Clone, Copy)]
pub struct Coming {
    pub turned: bool,
    pub mirrored: bool,
    /// Are edges that run on smoothly joined, as a drawing has them?
    pub joined: bool,
}

pub const AS_DRAWN: Coming = Coming {
    turned: false,
    mirrored: false,
    joined: false,
};
pub const SHUFFLED: Coming = Coming {
    turned: true,
    mirrored: true,
    joined: false,
};
pub const AS_A_DRAWING: Coming = Coming {
    turned: true,
    mirrored: true,
    joined: true,
};

/// Strips a garment; `seed` steers turns and order.
pub fn bare(garment: &Garment, coming: Coming, seed: u64) -> Bare {
    let mut state = seed
        .wrapping_mul(6_364_136_223_846_793_005)
        .wrapping_add(1_442_695_040_888_963_407);
    let mut next = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as f64 / (1_u64 << 31) as f64
    };
    let mut order: Vec<usize> = (0..garment.pieces.len()).collect();
    if coming.turned {
        for i in (1..order.len()).rev() {
            order.swap(i, (next() * (i + 1) as f64) as usize % (i + 1));
        }
    }
    let (mut pieces, mut names, mut edge_names) = (Vec::new(), BTreeMap::new(), BTreeMap::new());
    for (n, from) in order.into_iter().enumerate() {
        let source = &garment.pieces[from];
        let turn = if coming.turned {
            next() * std::f64::consts::TAU
        } else {
            0.0
        };
        let flip = if coming.mirrored && next() < 0.5 {
            Affine::FLIP_X
        } else {
            Affine::IDENTITY
        };
        let motion = Affine::translate((300.0 * n as f64, 40.0)) * Affine::rotate(turn) * flip;
        let mut edges: Vec<Edge> = source
            .outline
            .edges()
            .iter()
            .map(|edge| Edge::seam(edge.name.clone(), edge.line.mapped(|p| motion * p)))
            .collect();
        if coming.joined {
            edges = joined(edges);
        }
        let by = if coming.turned {
            (next() * edges.len() as f64) as usize % edges.len()
        } else {
            0
        };
        edges.rotate_left(by);
        let name = format!("piece {}", n + 1);
        let outline = Outline::new(edges).unwrap();
        let renamed = outline.edges().iter().enumerate().map(|(k, edge)| {
            let now = format!("edge {}", k + 1);
            edge_names.insert((name.clone(), now.clone()), edge.name.clone());
            Edge {
                name: now,
                ..edge.clone()
            }
        });
        let outline = Outline::new(renamed.collect()).unwrap();
        names.insert(name.clone(), source.name.clone());
        pieces.push(Arc::new(plain(&name, outline)));
    }
    let garment = Garment {
        name: garment.name.clone(),
        made_for: Arc::new(Body::new("not known", BodyKind::Woman)),
        pieces,
        seams: Vec::new(),
        tape_lines: Vec::new(),
        openings: Vec::new(),
        cloths: BTreeMap::new(),
        included_allowance: BTreeMap::new(),
    };
    Bare {
        garment,
        pieces: names,
        edges: edge_names,
    }
}

/// A piece of which only the outline is known.
pub fn plain(name: &str, outline: Outline) -> Piece {
    Piece {
        name: name.to_owned(),
        outline,
        placement: Placement::Follows(Follow {
            length: FollowRule::Detail,
            depth: FollowRule::Detail,
        }),
        body_lines: Vec::new(),
        darts: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        grainline: None,
        fullness: Vec::new(),
        copies: vec![Copy {
            side: Side::Whole,
            role: Role::Shell,
        }],
        face: Default::default(),
    }
}

/// Edges that run on within a few degrees become one, under the name of the longer.
fn joined(edges: Vec<Edge>) -> Vec<Edge> {
    let runs_on = |a: &Edge, b: &Edge| {
        let (d, e) = (a.line.direction(1.0), b.line.direction(0.0));
        d.dot(e) > 0.0 && d.cross(e).abs() < 0.1
    };
    let mut edges = edges;
    // Start at a corner.
    for _ in 0..edges.len() {
        if runs_on(edges.last().unwrap(), &edges[0]) {
            edges.rotate_left(1);
        } else {
            break;
        }
    }
    let mut out: Vec<Edge> = Vec::new();
    for edge in edges {
        match out.last_mut() {
            Some(last) if runs_on(last, &edge) => {
                let cubics: Vec<_> = last.line.cubics().chain(edge.line.cubics()).collect();
                if edge.line.length() > last.line.length() {
                    last.name = edge.name;
                }
                last.line = petitoile_core::geometry::curve::Line::from_cubics(&cubics).unwrap();
            }
            _ => out.push(edge),
        }
    }
    out
}

/// The pieces of drafts as one garment without anything else.
fn of_drafts(name: &str, drafts: &[Draft]) -> Garment {
    let pieces = drafts
        .iter()
        .flat_map(|draft| &draft.pieces)
        .map(|piece| Arc::new(plain(piece.name, piece.outline.clone())))
        .collect();
    Garment {
        name: name.to_owned(),
        made_for: body("woman-92"),
        pieces,
        seams: Vec::new(),
        tape_lines: Vec::new(),
        openings: Vec::new(),
        cloths: BTreeMap::new(),
        included_allowance: BTreeMap::new(),
    }
}

/// Every garment of the wardrobe and every draft that the rules give for a body, with the names they have.
pub fn garments(wearer: &str) -> Vec<Garment> {
    let wearer = body(wearer);
    let m = DraftMeasures::of(&wearer);
    let rule = Constants::InProportion;
    let drafts = [
        (
            "bodice with sleeves",
            vec![loose_bodice(&m, rule), flat_sleeve(&m, rule)],
        ),
        (
            "loose bodice with gathered sleeves",
            vec![loose_bodice(&m, rule), gathered_sleeve(&m, rule)],
        ),
        ("fitted bodice", vec![fitted_bodice(&m, rule)]),
        ("gown", vec![gown(&m, rule)]),
    ];
    let drafted = drafts.into_iter().filter_map(|(name, drafts)| {
        let drafts: Vec<Draft> = drafts.into_iter().collect::<Result<_, _>>().ok()?;
        Some(of_drafts(name, &drafts))
    });
    let sewn = [
        harbour_jacket(&wearer),
        net_menders_smock(&wearer),
        gored_sunday_skirt(&wearer),
        half_circle_sunday_skirt(&wearer),
    ];
    drafted
        .chain(sewn.into_iter().filter_map(Result::ok))
        .collect()
}
