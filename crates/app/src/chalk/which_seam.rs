//! Which seam is in hand: picked from the list, or by a click on one of its edges.

use egui::Ui;
use kurbo::{Affine, Rect, Shape};
use petitoile_core::Mm;
use petitoile_core::seams::{Relation, Seam, SeamKind, Stretch};

use super::brush::Brush;
use super::hand::{At, Hand};
use super::mate::seams_of;
use super::on_edge::OnEdge;
use crate::command::{Chosen, Command};
use crate::fields::pick;
use crate::wording;

/// How seams are sewn.
pub const KINDS: [SeamKind; 6] = [
    SeamKind::Plain,
    SeamKind::French,
    SeamKind::Felled,
    SeamKind::Bound,
    SeamKind::Overedged,
    SeamKind::Lapped,
];

/// The seam in hand.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct InHand(Option<String>);

impl InHand {
    /// The seam that was picked; else the first one of the edge that is chosen.
    pub fn seam<'a>(&self, hand: &'a Hand<'_>) -> Option<&'a Seam> {
        let seams = &hand.garment?.seams;
        let picked = self
            .0
            .as_ref()
            .and_then(|name| seams.iter().find(|seam| seam.name == *name));
        picked.or_else(|| {
            let edge = OnEdge::chosen(hand)?;
            seams_of(hand, &edge.piece, &edge.edge).into_iter().next()
        })
    }

    /// Picks a seam and chooses its first edge on the table.
    pub fn take(&mut self, seam: &Seam, commands: &mut Vec<Command>) {
        self.0 = Some(seam.name.clone());
        if let Some(first) = seam.a.first() {
            commands.push(Command::Choose(Chosen::edge(&first.piece, &first.edge)));
        }
    }

    /// Keeps the seam in hand under a new name.
    pub fn renamed(&mut self, name: &str) {
        self.0 = Some(name.to_owned());
    }

    /// Takes the seam of a clicked edge; a second click on an edge of several seams takes the next of them.
    pub fn click(&mut self, hand: &Hand<'_>, at: &At, commands: &mut Vec<Command>) {
        let Some(place) = OnEdge::under(at) else {
            self.0 = None;
            commands.push(Command::Choose(
                at.piece.clone().map(Chosen::piece).unwrap_or_default(),
            ));
            return;
        };
        commands.push(Command::Choose(Chosen::edge(&place.piece, &place.edge)));
        let seams = seams_of(hand, &place.piece, &place.edge);
        let now = seams
            .iter()
            .position(|seam| Some(seam.name.as_str()) == self.0.as_deref());
        let next = now.map_or(0, |n| (n + 1) % seams.len());
        self.0 = seams.get(next).map(|seam| seam.name.clone());
        if seams.is_empty() {
            commands.push(Command::Say(format!("{} is sewn to nothing", place.name())));
        }
    }

    /// Lets go of it. `false` when none was picked.
    pub fn let_go(&mut self) -> bool {
        self.0.take().is_some()
    }

    /// The seams in a list that drops down.
    pub fn pick(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        let Some(garment) = hand.garment else {
            return;
        };
        let now = self.seam(hand).map(|seam| seam.name.clone());
        let names: Vec<Option<String>> = garment
            .seams
            .iter()
            .map(|seam| Some(seam.name.clone()))
            .collect();
        ui.horizontal(|ui| {
            ui.label("Seam");
            let words = |name: &Option<String>| name.clone().unwrap_or_else(|| "none".to_owned());
            if let Some(Some(name)) = pick(ui, "seam", "Seam", &now, &names, words)
                && let Some(seam) = garment.seams.iter().find(|seam| seam.name == name)
            {
                self.take(seam, commands);
            }
        });
    }
}

/// "Front, side" or "Front, side and Side, front".
pub fn side_words(side: &[Stretch]) -> String {
    let names: Vec<String> = side
        .iter()
        .map(|s| {
            let part = if (s.from - s.to).abs() < 1.0 - 1e-9 {
                " (part)"
            } else {
                ""
            };
            format!("{}, {}{part}", s.piece, s.edge)
        })
        .collect();
    names.join(" and ")
}

/// "fits", "2 mm too long".
pub fn fit_words(seam: &Seam, hand: &Hand<'_>) -> String {
    let Some(garment) = hand.garment else {
        return String::new();
    };
    match seam.difference(&garment.pieces) {
        Ok(off) if off.0.abs() < 0.05 => "fits".to_owned(),
        Ok(off) => format!(
            "{} too {}",
            wording::length(Mm(off.0.abs()), hand.unit),
            if off.0 > 0.0 { "long" } else { "short" }
        ),
        Err(why) => why.to_string(),
    }
}

/// "equal", "eased by 4 mm", "gathered to 1 of 2".
pub fn relation_words(relation: Relation, hand: &Hand<'_>) -> String {
    match relation {
        Relation::Equal => "equal".to_owned(),
        Relation::Eased(by) => format!("eased by {}", wording::length(by, hand.unit)),
        Relation::Ratio(ratio) => format!("gathered {ratio:.2} to 1"),
    }
}

/// How a seam is sewn.
pub fn kind_words(kind: SeamKind) -> &'static str {
    match kind {
        SeamKind::Plain => "plain",
        SeamKind::French => "French",
        SeamKind::Felled => "felled",
        SeamKind::Bound => "bound",
        SeamKind::Overedged => "overcast",
        SeamKind::Lapped => "lapped",
    }
}

/// Paints a side of a seam as a fresh line, with a dot where sewing starts.
pub fn paint_side(side: &[Stretch], hand: &Hand<'_>, brush: &Brush<'_>) {
    let Some(garment) = hand.garment else {
        return;
    };
    for (number, stretch) in side.iter().enumerate() {
        if let Some(line) = stretch.line(&garment.pieces) {
            let on_table = line.mapped(|p| hand.on_table(&stretch.piece, p));
            brush.line(&on_table.to_path());
            if number == 0 {
                brush.dot(on_table.start());
            }
        }
    }
}

/// The part of the table that two pieces take up, the second laid against the first in these ways.
pub fn both_pieces(hand: &Hand<'_>, still: &str, laid: &str, ways: &[Affine]) -> Option<Rect> {
    let (first, second) = hand.piece(still).zip(hand.piece(laid))?;
    let to_table = Affine::translate(hand.moved(still));
    let own = first.outline.bounds() + hand.moved(still);
    let whole = ways.iter().fold(own, |whole, way| {
        whole.union((to_table * *way * second.outline.path()).bounding_box())
    });
    let room = 0.06 * whole.width().max(whole.height());
    Some(whole.inflate(room, room))
}
