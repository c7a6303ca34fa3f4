//! Where fullness is: the edge that is worked on, and every fullness of the garment as a row.

use egui::{RichText, Ui};
use petitoile_core::allowance::AllowancePlan;
use petitoile_core::edge::EdgeRef;
use petitoile_core::fullness::{Band, FullnessOp, WorkedIn};
use petitoile_core::garment::Garment;
use petitoile_core::piece::Piece;
use petitoile_core::{LengthUnit, Mm};

use crate::command::{Chosen, Command};
use crate::fields::pick;
use crate::session::Session;
use crate::trays::{faded, heading};

/// The edge that is chosen on the table, with its piece.
pub struct Place<'a> {
    /// The piece as it is sewn.
    pub piece: &'a Piece,
    /// Name of the edge.
    pub edge: &'a str,
    /// Length of the edge as it is sewn.
    pub length: Mm,
    /// Width of a plain seam.
    pub allowance: Mm,
    /// The garment that the piece belongs to.
    garment: &'a Garment,
}

impl<'a> Place<'a> {
    /// Where the maker works now.
    pub fn chosen(session: &'a Session, garment: &'a Garment) -> Option<Self> {
        let piece = garment.piece(session.chosen.piece.as_deref()?)?;
        let edge = piece.outline.edge(session.chosen.edge.as_deref()?)?;
        let worked = session.work.done.as_ref();
        Some(Self {
            piece,
            edge: &edge.name,
            length: Mm(edge.line.length()),
            allowance: worked.map_or_else(
                || AllowancePlan::default().seam,
                |worked| worked.adapted.fitting.allowances.seam,
            ),
            garment,
        })
    }

    /// The cloth that the piece is worked in.
    pub fn cloth(&self, session: &'a Session) -> WorkedIn<'a> {
        WorkedIn::of(self.piece, |role| super::cloth_of(session, role))
    }

    /// The band that the edge is sewn to.
    pub fn band(&self) -> Option<Band<'a>> {
        Band::of(self.garment, &self.piece.name, self.edge)
    }

    /// What stands where another edge of the piece meets this one: a placket by the name of its opening, else the edge.
    pub fn named(&self, edge: &str) -> String {
        let mut openings = self.garment.openings.iter();
        let opens = |slit: &EdgeRef| slit.piece == self.piece.name && slit.edge == edge;
        openings
            .find(|opening| opening.slit.iter().any(opens))
            .map_or_else(
                || edge.to_owned(),
                |opening| format!("placket, {}", opening.name),
            )
    }

    /// Every fullness on the edge: its place in the list of the piece.
    pub fn ops(&self) -> Vec<(usize, &'a FullnessOp)> {
        let all = self.piece.fullness.iter().enumerate();
        all.filter(|(_, op)| op.edge == self.edge).collect()
    }
}

/// The edge from a list, for those who do not point at the table.
pub fn choose(ui: &mut Ui, session: &Session, garment: &Garment, commands: &mut Vec<Command>) {
    let edges: Vec<(String, String)> = garment
        .pieces
        .iter()
        .flat_map(|piece| {
            let edges = piece.outline.edges().iter().filter(|edge| !edge.is_fold());
            edges.map(|edge| (piece.name.clone(), edge.name.clone()))
        })
        .collect();
    let now = session
        .chosen
        .piece
        .clone()
        .zip(session.chosen.edge.clone())
        .unwrap_or_default();
    let words = |(piece, edge): &(String, String)| {
        if piece.is_empty() {
            "choose an edge".to_owned()
        } else {
            format!("{piece}: {edge}")
        }
    };
    ui.horizontal(|ui| {
        ui.label("Edge");
        let room = ui.available_width();
        ui.scope(|ui| {
            ui.spacing_mut().combo_width = room - 12.0;
            if let Some((piece, edge)) = pick(ui, "edge", "Edge", &now, &edges, words) {
                commands.push(Command::Choose(Chosen::edge(piece, edge)));
            }
        });
    });
    if now.1.is_empty() {
        faded(ui, "Choose it here, or click it on the table.");
    }
}

/// Every fullness of the garment; a click goes there.
pub fn rows(
    ui: &mut Ui,
    session: &Session,
    garment: &Garment,
    number: &mut usize,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    let any = garment
        .pieces
        .iter()
        .any(|piece| !piece.fullness.is_empty());
    if !any {
        return;
    }
    heading(ui, "In this garment");
    for piece in &garment.pieces {
        let here = session.chosen.piece.as_deref() == Some(piece.name.as_str());
        for (i, op) in piece.fullness.iter().enumerate() {
            let same_edge = here && session.chosen.edge.as_deref() == Some(op.edge.as_str());
            let words = format!("{}, {}", piece.name, op.words(unit));
            ui.horizontal(|ui| {
                let room = ui.available_width() - 84.0;
                let button = egui::Button::selectable(same_edge && *number == i, words)
                    .truncate()
                    .min_size(egui::vec2(room, 28.0));
                let shown = ui.scope(|ui| {
                    ui.set_max_width(room);
                    ui.add(button)
                });
                if shown.inner.clicked() {
                    *number = i;
                    commands.push(Command::Choose(Chosen::edge(&piece.name, &op.edge)));
                }
                let off = ui
                    .button(RichText::new("Take off").small())
                    .accessible_name(format!("Take off: {}, {}", piece.name, op.edge));
                if off.clicked() {
                    let mut left = piece.fullness.clone();
                    left.remove(i);
                    commands.push(super::all_of(&piece.name, left));
                }
            });
        }
    }
}
