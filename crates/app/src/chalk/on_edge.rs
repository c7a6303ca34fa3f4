//! A place on an edge as a tool takes it: from the pointer, on the table, in words, typed.

use egui::Ui;
use kurbo::Point;
use petitoile_core::Mm;
use petitoile_core::edge::{Edge, EdgeRef, OutlinePoint};
use petitoile_core::piece::Piece;
use petitoile_core::tolerance::JOINING;

use super::hand::{At, Hand};
use super::near::{fraction_near, nearest_edge};
use crate::command::{Chosen, Command};
use crate::fields::{Asked, Typed, length_field, pick, share_field};
use crate::wording;

/// Shares of an edge that a place is drawn to, with their words.
pub const SHARES: [(f64, &str); 5] = [
    (0.25, "1/4"),
    (1.0 / 3.0, "1/3"),
    (0.5, "1/2"),
    (2.0 / 3.0, "2/3"),
    (0.75, "3/4"),
];

/// A place on an edge of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct OnEdge {
    /// Name of the piece.
    pub piece: String,
    /// Name of the edge in it.
    pub edge: String,
    /// Fraction of its length.
    pub fraction: f64,
}

impl OnEdge {
    /// A place on an edge.
    pub fn new(piece: impl Into<String>, edge: impl Into<String>, fraction: f64) -> Self {
        Self {
            piece: piece.into(),
            edge: edge.into(),
            fraction,
        }
    }

    /// The place under the pointer, if an edge is within its reach.
    pub fn under(at: &At) -> Option<Self> {
        let (edge, fraction) = at.edge.as_ref()?;
        Some(Self::new(at.piece.clone()?, edge, *fraction))
    }

    /// The same, drawn to a half, a third or a quarter of the edge that is within reach; with its words.
    pub fn drawn_to(hand: &Hand<'_>, at: &At) -> Option<(Self, Option<&'static str>)> {
        let place = Self::under(at)?;
        if let Some(snapped) = place.snapped(hand, at) {
            return Some((snapped, None));
        }
        let length = place.length(hand).0;
        let near = |share: &&(f64, &str)| (share.0 - place.fraction).abs() * length <= hand.reach;
        Some(match SHARES.iter().find(near) {
            Some((share, words)) => (
                Self {
                    fraction: *share,
                    ..place
                },
                Some(words),
            ),
            None => (place, None),
        })
    }

    /// The place where the pointer snapped to, when that lies on the edge.
    fn snapped(&self, hand: &Hand<'_>, at: &At) -> Option<Self> {
        let line = &self.edge_of(hand)?.line;
        let own = hand.in_piece(&self.piece, at.snapped.as_ref()?.at);
        let fraction = fraction_near(line, own);
        ((line.at(fraction) - own).hypot() <= JOINING.0).then(|| self.at(fraction))
    }

    /// The place on the outline of a piece that is nearest to a place of the table.
    pub fn nearest(hand: &Hand<'_>, piece: &str, at: Point) -> Option<Self> {
        let (edge, fraction, _) = nearest_edge(hand.piece(piece)?, hand.in_piece(piece, at))?;
        Some(Self::new(piece, edge, fraction))
    }

    /// The edge that is chosen, at its start.
    pub fn chosen(hand: &Hand<'_>) -> Option<Self> {
        let chosen = &hand.session.chosen;
        let (piece, edge) = (chosen.piece.as_ref()?, chosen.edge.as_ref()?);
        hand.piece(piece)?.outline.edge(edge)?;
        Some(Self::new(piece, edge, 0.0))
    }

    /// The same edge elsewhere.
    #[must_use]
    pub fn at(&self, fraction: f64) -> Self {
        Self {
            fraction,
            ..self.clone()
        }
    }

    /// The edge.
    pub fn edge_of<'a>(&self, hand: &'a Hand<'_>) -> Option<&'a Edge> {
        hand.piece(&self.piece)?.outline.edge(&self.edge)
    }

    /// Its name, piece and edge.
    pub fn edge_ref(&self) -> EdgeRef {
        EdgeRef::new(&self.piece, &self.edge)
    }

    /// The place in its piece.
    pub fn in_outline(&self) -> OutlinePoint {
        OutlinePoint::new(&self.edge, self.fraction)
    }

    /// Where it lies on the table.
    pub fn on_table(&self, hand: &Hand<'_>) -> Option<Point> {
        let point = self.edge_of(hand)?.line.at(self.fraction);
        Some(hand.on_table(&self.piece, point))
    }

    /// How long the whole edge is; 0 when it is gone.
    pub fn length(&self, hand: &Hand<'_>) -> Mm {
        Mm(self.edge_of(hand).map_or(0.0, |edge| edge.line.length()))
    }

    /// How far it is from the start of the edge, and from its end.
    pub fn distances(&self, hand: &Hand<'_>) -> (Mm, Mm) {
        let length = self.length(hand).0;
        (
            Mm(length * self.fraction),
            Mm(length * (1.0 - self.fraction)),
        )
    }

    /// "side of Front".
    pub fn name(&self) -> String {
        format!("{} of {}", self.edge, self.piece)
    }

    /// "120 mm from hem, 45 mm from waist".
    pub fn distance_words(&self, hand: &Hand<'_>) -> String {
        let (start, end) = self.end_names(hand);
        let (from_start, from_end) = self.distances(hand);
        let show = |mm| wording::length(mm, hand.unit);
        format!(
            "{} from {start}, {} from {end}",
            show(from_start),
            show(from_end)
        )
    }

    /// What the two ends of its edge are called: by the edges that meet it there.
    pub fn end_names(&self, hand: &Hand<'_>) -> (String, String) {
        hand.piece(&self.piece)
            .and_then(|piece| end_names(piece, &self.edge))
            .unwrap_or_else(|| ("its start".to_owned(), "its end".to_owned()))
    }
}

/// What the ends of an edge are called: by the edges before and after it. `None` when they are one and the same.
pub fn end_names(piece: &Piece, edge: &str) -> Option<(String, String)> {
    let edges = piece.outline.edges();
    let number = piece.outline.index_of(edge)?;
    let before = edges.get((number + edges.len() - 1) % edges.len())?;
    let after = edges.get((number + 1) % edges.len())?;
    (before.name != after.name && before.name != edge)
        .then(|| (before.name.clone(), after.name.clone()))
}

/// Piece and edge in two lists, for those who do not use the pointer; what is picked is chosen on the table.
pub fn pick_edge(ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
    let chosen = &hand.session.chosen;
    pick_piece(ui, hand, commands);
    let Some(piece) = chosen.piece.as_deref().and_then(|name| hand.piece(name)) else {
        return;
    };
    let names: Vec<Option<String>> = piece
        .outline
        .edges()
        .iter()
        .map(|edge| Some(edge.name.clone()))
        .collect();
    ui.horizontal(|ui| {
        ui.label("Edge");
        let words = |name: &Option<String>| name.clone().unwrap_or_else(|| "none".to_owned());
        if let Some(Some(edge)) = pick(ui, "edge", "Edge", &chosen.edge, &names, words) {
            commands.push(Command::Choose(Chosen::edge(&piece.name, edge)));
        }
    });
}

/// The piece in a list.
pub fn pick_piece(ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
    let names: Vec<Option<String>> = hand
        .garment
        .into_iter()
        .flat_map(|garment| &garment.pieces)
        .map(|piece| Some(piece.name.clone()))
        .collect();
    ui.horizontal(|ui| {
        ui.label("Piece");
        let words = |name: &Option<String>| name.clone().unwrap_or_else(|| "none".to_owned());
        let now = &hand.session.chosen.piece;
        if let Some(Some(piece)) = pick(ui, "piece", "Piece", now, &names, words) {
            commands.push(Command::Choose(Chosen::piece(piece)));
        }
    });
}

/// Two fields for a place on an edge: how far from the one end, how far from the other; and its shares as buttons.
/// With `shown` the fields hold the place as it is. Gives the fraction that was asked for.
pub fn place_fields(
    ui: &mut Ui,
    hand: &Hand<'_>,
    place: &OnEdge,
    shown: bool,
    commands: &mut Vec<Command>,
) -> Option<f64> {
    let length = place.length(hand).0;
    let (start, end) = place.end_names(hand);
    let (from_start, from_end) = place.distances(hand);
    let mut asked = None;
    for (name, now, from_the_end) in [(start, from_start, false), (end, from_end, true)] {
        ui.horizontal(|ui| {
            let name = format!("From {name}");
            ui.label(&name);
            let field = length_field(ui, &name, shown.then_some(now), "", hand.unit, 76.0);
            match field.typed {
                Typed::Length(mm) if mm.0 > length => commands.push(Command::Say(format!(
                    "{} is only {} long",
                    place.name(),
                    wording::length(Mm(length), hand.unit)
                ))),
                Typed::Length(mm) if length > 0.0 => {
                    let fraction = mm.0 / length;
                    asked = Some(if from_the_end {
                        1.0 - fraction
                    } else {
                        fraction
                    });
                }
                Typed::Trouble(why) => commands.push(Command::Say(format!("{name}: {why}"))),
                _ => {}
            }
        });
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("At");
        let now = shown.then_some(place.fraction);
        if let Asked::Done(share) = share_field(ui, "Share of the edge", now) {
            asked = Some(share);
        }
        for (share, words) in SHARES {
            let button = ui
                .button(words)
                .accessible_name(format!("At {words} of {}", place.edge));
            if button.clicked() {
                asked = Some(share);
            }
        }
    });
    asked
}
