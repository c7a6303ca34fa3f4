//! What a tool of alterations is shown on the table: a piece, an edge, a place on it, a corner, a dart, a seam.

use kurbo::Point;
use petitoile_core::alteration::PointRef;
use petitoile_core::edge::EdgeRef;
use petitoile_core::piece::{Dart, Piece};
use petitoile_core::seams::Seam;

use super::hand::{At, Hand};
use super::on_edge::OnEdge;
use super::tool::{Handle, HandleLook};
use crate::command::Chosen;

/// Something that was shown to a tool.
#[derive(Debug, Clone, PartialEq)]
pub enum Spot {
    /// A piece, by name.
    Piece(String),
    /// An edge.
    Edge(EdgeRef),
    /// A place on an edge.
    Place(OnEdge),
    /// The corner where an edge starts.
    Corner(EdgeRef),
    /// A point on the line: a corner or a point inside an edge.
    Point {
        /// Name of the piece.
        piece: String,
        /// Which point.
        point: PointRef,
    },
    /// A dart.
    Dart {
        /// Name of the piece.
        piece: String,
        /// Name of the dart.
        dart: String,
    },
    /// A seam, by name.
    Seam(String),
}

/// What a tool wants to be shown next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Wants {
    /// A piece.
    Piece,
    /// An edge.
    Edge,
    /// An edge of this piece.
    EdgeOf(String),
    /// A place on an edge.
    Place,
    /// A place on an edge of this piece.
    PlaceOn(String),
    /// A corner.
    Corner,
    /// A corner or a point on a line.
    Point,
    /// A dart.
    Dart,
    /// A seam.
    Seam,
}

impl Spot {
    /// Its words: "side of Front".
    pub fn words(&self, hand: &Hand<'_>) -> String {
        match self {
            Self::Piece(piece) => piece.clone(),
            Self::Edge(edge) => format!("{} of {}", edge.edge, edge.piece),
            Self::Place(place) => format!("{}, {}", place.name(), place.distance_words(hand)),
            Self::Corner(edge) => format!("corner at the start of {} of {}", edge.edge, edge.piece),
            Self::Point { piece, point } if point.number == 0 => {
                format!("corner at the start of {} of {piece}", point.edge)
            }
            Self::Point { piece, point } => {
                format!("point {} in {} of {piece}", point.number / 3, point.edge)
            }
            Self::Dart { piece, dart } => format!("{dart} of {piece}"),
            Self::Seam(seam) => seam.clone(),
        }
    }

    /// The piece it lies on.
    pub fn piece(&self) -> Option<&str> {
        match self {
            Self::Piece(piece) | Self::Point { piece, .. } | Self::Dart { piece, .. } => {
                Some(piece)
            }
            Self::Edge(edge) | Self::Corner(edge) => Some(&edge.piece),
            Self::Place(place) => Some(&place.piece),
            Self::Seam(_) => None,
        }
    }

    /// What is chosen on the table with it.
    pub fn chosen(&self) -> Option<Chosen> {
        match self {
            Self::Edge(edge) => Some(Chosen::edge(&edge.piece, &edge.edge)),
            Self::Place(place) => Some(Chosen::edge(&place.piece, &place.edge)),
            other => other.piece().map(Chosen::piece),
        }
    }

    /// Where it is on the table.
    pub fn at(&self, hand: &Hand<'_>) -> Option<Point> {
        match self {
            Self::Piece(name) => {
                let piece = hand.piece(name)?;
                Some(hand.on_table(name, piece.outline.bounds().center()))
            }
            Self::Edge(edge) => OnEdge::new(&edge.piece, &edge.edge, 0.5).on_table(hand),
            Self::Place(place) => place.on_table(hand),
            Self::Corner(edge) => OnEdge::new(&edge.piece, &edge.edge, 0.0).on_table(hand),
            Self::Point { piece, point } => {
                let line = &hand.piece(piece)?.outline.edge(&point.edge)?.line;
                Some(hand.on_table(piece, *line.points().get(point.number)?))
            }
            Self::Dart { piece, dart } => {
                let (body, dart) = dart_of(hand, piece, dart)?;
                Some(hand.on_table(piece, tip(body, dart)?))
            }
            Self::Seam(name) => {
                let stretch = seam_of(hand, name)?.a.first()?;
                let middle = 0.5 * (stretch.from + stretch.to);
                OnEdge::new(&stretch.piece, &stretch.edge, middle).on_table(hand)
            }
        }
    }
}

impl Wants {
    /// What of it lies under the pointer.
    pub fn under(&self, hand: &Hand<'_>, at: &At) -> Option<Spot> {
        match self {
            Self::Piece => at.piece.clone().map(Spot::Piece),
            Self::Place => OnEdge::drawn_to(hand, at).map(|(place, _)| Spot::Place(place)),
            Self::PlaceOn(piece) => OnEdge::drawn_to(hand, at)
                .map(|(place, _)| place)
                .filter(|place| place.piece == *piece)
                .or_else(|| OnEdge::nearest(hand, piece, at.point))
                .map(Spot::Place),
            Self::Edge => edge_under(at).map(Spot::Edge),
            Self::EdgeOf(piece) => edge_under(at)
                .filter(|edge| edge.piece == *piece)
                .map(Spot::Edge),
            Self::Dart => dart_under(hand, at),
            Self::Seam => {
                let edge = edge_under(at)?;
                seam_at(hand, &edge, at.edge.as_ref()?.1).map(|seam| Spot::Seam(seam.name.clone()))
            }
            Self::Corner | Self::Point => self.nearest(hand, at),
        }
    }

    /// Every spot of this kind that has a handle, with its handle.
    pub fn handles(&self, hand: &Hand<'_>) -> Vec<(Handle, Spot)> {
        let spots = self.offered(hand).into_iter();
        let handles = spots.filter_map(|(spot, look)| {
            let label = spot.words(hand);
            let handle = Handle {
                id: format!("{look:?} {label}"),
                at: spot.at(hand)?,
                label: match spot {
                    Spot::Edge(_) => format!("{label}, edge"),
                    Spot::Piece(_) => format!("{label}, whole piece"),
                    Spot::Seam(_) => format!("{label}, seam"),
                    Spot::Dart { .. } => format!("{label}, tip"),
                    _ => label,
                },
                look,
                chosen: false,
            };
            Some((handle, spot))
        });
        handles.collect()
    }

    fn nearest(&self, hand: &Hand<'_>, at: &At) -> Option<Spot> {
        let name = at.piece.as_deref()?;
        let spots = points(hand.piece(name)?, matches!(self, Self::Point)).into_iter();
        let near = spots.filter_map(|(spot, _)| {
            let away = (spot.at(hand)? - at.pointer).hypot();
            (away <= 1.6 * hand.reach).then_some((spot, away))
        });
        near.min_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(spot, _)| spot)
    }

    fn offered(&self, hand: &Hand<'_>) -> Vec<(Spot, HandleLook)> {
        let mut spots = Vec::new();
        match self {
            Self::Piece => {
                let pieces = hand.garment.into_iter().flat_map(|garment| &garment.pieces);
                spots.extend(pieces.map(|p| (Spot::Piece(p.name.clone()), HandleLook::Mark)));
            }
            Self::Edge | Self::EdgeOf(_) => {
                for piece in self.pieces(hand) {
                    let edges = piece.outline.edges().iter();
                    spots.extend(edges.map(|edge| {
                        (
                            Spot::Edge(EdgeRef::new(&piece.name, &edge.name)),
                            HandleLook::Edge,
                        )
                    }));
                }
            }
            Self::Place | Self::PlaceOn(_) => {
                for piece in self.pieces(hand) {
                    for edge in piece.outline.edges() {
                        for (fraction, look) in
                            [(0.0, HandleLook::Corner), (0.5, HandleLook::Point)]
                        {
                            let place = OnEdge::new(&piece.name, &edge.name, fraction);
                            spots.push((Spot::Place(place), look));
                        }
                    }
                }
            }
            Self::Corner | Self::Point => {
                for piece in self.pieces(hand) {
                    spots.extend(points(piece, matches!(self, Self::Point)));
                }
            }
            Self::Dart => {
                for piece in hand.garment.into_iter().flat_map(|garment| &garment.pieces) {
                    spots.extend(piece.darts.iter().map(|dart| {
                        let spot = Spot::Dart {
                            piece: piece.name.clone(),
                            dart: dart.name.clone(),
                        };
                        (spot, HandleLook::Mark)
                    }));
                }
            }
            Self::Seam => {
                let seams = hand.garment.into_iter().flat_map(|garment| &garment.seams);
                spots.extend(seams.map(|s| (Spot::Seam(s.name.clone()), HandleLook::Edge)));
            }
        }
        spots
    }

    /// The piece that is meant; without one the chosen piece; without that all of them.
    fn pieces<'a>(&self, hand: &'a Hand<'_>) -> Vec<&'a Piece> {
        let named = match self {
            Self::EdgeOf(piece) | Self::PlaceOn(piece) => Some(piece.as_str()),
            _ => hand.session.chosen.piece.as_deref(),
        };
        match named.and_then(|name| hand.piece(name)) {
            Some(piece) => vec![piece],
            None => {
                let pieces = hand.garment.into_iter().flat_map(|garment| &garment.pieces);
                pieces.map(|piece| piece.as_ref()).collect()
            }
        }
    }
}

/// The corners of a piece, and with `inner` the points on its lines too.
fn points(piece: &Piece, inner: bool) -> Vec<(Spot, HandleLook)> {
    let mut spots = Vec::new();
    for edge in piece.outline.edges() {
        if !inner {
            let corner = Spot::Corner(EdgeRef::new(&piece.name, &edge.name));
            spots.push((corner, HandleLook::Corner));
            continue;
        }
        for number in (0..edge.line.points().len().saturating_sub(1)).step_by(3) {
            let look = if number == 0 {
                HandleLook::Corner
            } else {
                HandleLook::Point
            };
            let spot = Spot::Point {
                piece: piece.name.clone(),
                point: PointRef::new(&edge.name, number),
            };
            spots.push((spot, look));
        }
    }
    spots
}

fn edge_under(at: &At) -> Option<EdgeRef> {
    let (edge, _) = at.edge.as_ref()?;
    Some(EdgeRef::new(at.piece.as_ref()?, edge))
}

fn dart_under(hand: &Hand<'_>, at: &At) -> Option<Spot> {
    let edge = edge_under(at)?;
    let dart = hand
        .piece(&edge.piece)?
        .darts
        .iter()
        .find(|dart| dart.leg_in == edge.edge || dart.leg_out == edge.edge)?;
    Some(Spot::Dart {
        piece: edge.piece,
        dart: dart.name.clone(),
    })
}

/// A dart of a piece, by name.
pub fn dart_of<'a>(hand: &'a Hand<'_>, piece: &str, dart: &str) -> Option<(&'a Piece, &'a Dart)> {
    let piece = hand.piece(piece)?;
    let dart = piece.darts.iter().find(|other| other.name == dart)?;
    Some((piece, dart))
}

/// Where the tip of a dart is, in the coordinates of its piece.
pub fn tip(piece: &Piece, dart: &Dart) -> Option<Point> {
    Some(piece.outline.edge(&dart.leg_in)?.line.end())
}

/// A seam, by name.
pub fn seam_of<'a>(hand: &'a Hand<'_>, name: &str) -> Option<&'a Seam> {
    hand.garment?.seams.iter().find(|seam| seam.name == name)
}

/// The seam that is sewn at a place on an edge.
fn seam_at<'a>(hand: &'a Hand<'_>, edge: &EdgeRef, fraction: f64) -> Option<&'a Seam> {
    hand.garment?.seams.iter().find(|seam| {
        seam.a.iter().chain(&seam.b).any(|stretch| {
            let (low, high) = (stretch.from.min(stretch.to), stretch.from.max(stretch.to));
            stretch.piece == edge.piece
                && stretch.edge == edge.edge
                && (low..=high).contains(&fraction)
        })
    })
}
