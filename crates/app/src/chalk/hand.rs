//! What a tool sees: the garment under the hand, where its pieces lie, where the pointer is.

use std::sync::Arc;

use egui::Modifiers;
use kurbo::{Point, Vec2};
use petitoile_core::LengthUnit;
use petitoile_core::garment::Garment;
use petitoile_core::piece::Piece;

use super::snap::Snapped;
use crate::canvas::shown::Table;
use crate::session::Session;

/// What a tool sees.
pub struct Hand<'a> {
    /// The sitting.
    pub session: &'a Session,
    /// The garment under the hand, as drawn or as made for the fitting; `None` before the first.
    pub garment: Option<&'a Arc<Garment>>,
    /// Where its pieces lie.
    pub table: &'a Table,
    /// The maker's unit.
    pub unit: LengthUnit,
    /// Where the pointer is, if it is on the table.
    pub pointer: Option<At>,
    /// Keys held down.
    pub keys: Modifiers,
    /// How many mm the reach of the pointer is at this zoom.
    pub reach: f64,
}

/// A place on the table.
#[derive(Debug, Clone, PartialEq)]
pub struct At {
    /// Where the pointer is, table coordinates, mm.
    pub pointer: Point,
    /// The same after snapping.
    pub point: Point,
    /// What it snapped to.
    pub snapped: Option<Snapped>,
    /// Name of the piece under the pointer.
    pub piece: Option<String>,
    /// Name of the nearest edge of that piece and the fraction along it, when it is within reach.
    pub edge: Option<(String, f64)>,
}

impl Hand<'_> {
    /// The piece of this name.
    pub fn piece(&self, name: &str) -> Option<&Arc<Piece>> {
        self.garment.and_then(|garment| garment.piece(name))
    }

    /// How far the piece of this name is moved from its own coordinates to the table.
    pub fn moved(&self, piece: &str) -> Vec2 {
        self.table
            .piece(piece)
            .map_or(Vec2::ZERO, |piece| piece.moved)
    }

    /// A place on the table in the coordinates of a piece.
    pub fn in_piece(&self, piece: &str, at: Point) -> Point {
        at - self.moved(piece)
    }

    /// A place of a piece on the table.
    pub fn on_table(&self, piece: &str, at: Point) -> Point {
        at + self.moved(piece)
    }
}
