//! Notches: clicked, typed from either end, by shares, matched on the mate; moved, changed, taken out.

use egui::{Key, Ui};
use petitoile_core::alteration::{Alteration, MarkChange, SeamChange};
use petitoile_core::notch::{Notch, NotchKind};

use crate::chalk::ask::{alter, try_alter};
use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::chalk::mate::{met, seams_of};
use crate::chalk::on_edge::{OnEdge, pick_edge, place_fields};
use crate::chalk::tool::{Gesture, Group, Handle, HandleLook, Tool};
use crate::command::{Chosen, Command};
use crate::fields::one_of;
use crate::wording;

/// Sets notches.
pub struct SetNotches {
    kind: NotchKind,
    on_mate: bool,
    chosen: Option<(String, usize)>,
    /// Where the chosen one is dragged to.
    dragged: Option<OnEdge>,
}

impl Default for SetNotches {
    fn default() -> Self {
        Self {
            kind: NotchKind::Single,
            on_mate: true,
            chosen: None,
            dragged: None,
        }
    }
}

const KINDS: [NotchKind; 3] = [NotchKind::Single, NotchKind::Double, NotchKind::Triple];

impl SetNotches {
    fn chosen<'a>(&self, hand: &'a Hand<'_>) -> Option<(&str, usize, &'a Notch)> {
        let (piece, number) = self.chosen.as_ref()?;
        let notch = hand.piece(piece)?.notches.get(*number)?;
        Some((piece, *number, notch))
    }

    fn set(&self, hand: &Hand<'_>, place: &OnEdge, commands: &mut Vec<Command>) {
        commands.push(Command::Choose(Chosen::edge(&place.piece, &place.edge)));
        // A facing cut like its piece meets it in the same notch.
        let met = self
            .on_mate
            .then(|| met(hand, place))
            .flatten()
            .filter(|met| met.mate.edge_ref() != place.edge_ref());
        let alteration = match met {
            Some(met) => Alteration::Seam(SeamChange::MatchNotch {
                seam: met.seam,
                at: met.at,
                at_mate: met.at_mate,
                kind: self.kind,
            }),
            None => MarkChange::AddNotch(Notch {
                edge: place.edge.clone(),
                fraction: place.fraction,
                kind: self.kind,
            })
            .of(&place.piece),
        };
        let sewn = seams_of(hand, &place.piece, &place.edge);
        if alter(hand, alteration, commands) && self.on_mate && sewn.is_empty() {
            commands.push(Command::Say(format!(
                "{} is sewn to nothing: there is no mate to notch",
                place.name()
            )));
        }
    }

    fn moved(&self, hand: &Hand<'_>, to: &OnEdge, kind: NotchKind) -> Option<Alteration> {
        let (piece, number, _) = self.chosen(hand)?;
        let change = MarkChange::SetNotch {
            number,
            at: to.in_outline(),
            kind,
        };
        Some(change.of(piece))
    }

    fn take_out(&mut self, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        if let Some((piece, number, _)) = self.chosen(hand) {
            alter(hand, MarkChange::RemoveNotch { number }.of(piece), commands);
        }
        self.chosen = None;
    }

    fn drag(&mut self, hand: &Hand<'_>, at: kurbo::Point) -> Option<Alteration> {
        let (piece, _, notch) = self.chosen(hand)?;
        let to = OnEdge::nearest(hand, piece, at)?;
        let moved = self.moved(hand, &to, notch.kind);
        self.dragged = Some(to);
        moved
    }

    /// Where a notch is, or is dragged to.
    fn place(&self, piece: &str, number: usize, notch: &Notch) -> OnEdge {
        let is_it = self
            .chosen
            .as_ref()
            .is_some_and(|(name, n)| name == piece && *n == number);
        self.dragged
            .clone()
            .filter(|_| is_it)
            .unwrap_or_else(|| OnEdge::new(piece, &notch.edge, notch.fraction))
    }
}

impl Tool for SetNotches {
    fn name(&self) -> &'static str {
        "Notch"
    }

    fn tip(&self) -> &'static str {
        "Set notches on an edge, and on its mate in the same step"
    }

    fn group(&self) -> Group {
        Group::Mark
    }

    fn key(&self) -> Option<Key> {
        Some(Key::N)
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        if let Some((piece, number, notch)) = self.chosen(hand) {
            let place = self.place(piece, number, notch);
            return format!(
                "{} notch on {}, {}: drag it, or Delete takes it out",
                wording::strokes(notch.kind),
                place.name(),
                place.distance_words(hand)
            );
        }
        let under = hand
            .pointer
            .as_ref()
            .and_then(|at| OnEdge::drawn_to(hand, at));
        match under {
            Some((place, share)) => {
                let share = share.map_or(String::new(), |words| format!(" at {words},"));
                format!(
                    "Click: {} notch on {},{share} {}",
                    wording::strokes(self.kind).to_lowercase(),
                    place.name(),
                    place.distance_words(hand)
                )
            }
            None => "Click an edge to notch it, or a notch to change it".to_owned(),
        }
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        let mut handles = Vec::new();
        for piece in hand.garment.into_iter().flat_map(|garment| &garment.pieces) {
            for (number, notch) in piece.notches.iter().enumerate() {
                let place = self.place(&piece.name, number, notch);
                let Some(at) = place.on_table(hand) else {
                    continue;
                };
                let is_chosen = |(name, n): &(String, usize)| *name == piece.name && *n == number;
                handles.push(Handle {
                    id: format!("{}/{number}", piece.name),
                    at,
                    label: format!(
                        "{} notch on {}, {}",
                        wording::strokes(notch.kind),
                        place.name(),
                        place.distance_words(hand)
                    ),
                    look: HandleLook::Mark,
                    chosen: self.chosen.as_ref().is_some_and(is_chosen),
                });
            }
        }
        handles
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match gesture {
            Gesture::Click(at) => {
                self.chosen = None;
                match OnEdge::drawn_to(hand, &at) {
                    Some((place, _)) => self.set(hand, &place, commands),
                    None => commands.push(Command::Choose(
                        at.piece.map(Chosen::piece).unwrap_or_default(),
                    )),
                }
            }
            Gesture::Take { handle, .. } => {
                self.chosen = handle
                    .rsplit_once('/')
                    .and_then(|(piece, number)| Some((piece.to_owned(), number.parse().ok()?)));
                if let Some((piece, _, notch)) = self.chosen(hand) {
                    commands.push(Command::Choose(Chosen::edge(piece, &notch.edge)));
                }
            }
            Gesture::DragHandle(_, at) => {
                if let Some(alteration) = self.drag(hand, at.point) {
                    try_alter(hand, alteration, commands);
                }
            }
            Gesture::DropHandle(_, at) => {
                if let Some(alteration) = self.drag(hand, at.point) {
                    alter(hand, alteration, commands);
                }
                self.dragged = None;
            }
            Gesture::Nudge(by) => {
                let to = self.chosen(hand).and_then(|(piece, _, notch)| {
                    let place = OnEdge::new(piece, &notch.edge, notch.fraction);
                    let along = place.edge_of(hand)?.line.direction(notch.fraction).dot(by);
                    // Nearly square to the edge an arrow still moves by its whole step.
                    let step = by.hypot() * if along < 0.0 { -1.0 } else { 1.0 };
                    let fraction = notch.fraction + step / place.length(hand).0;
                    self.moved(hand, &place.at(fraction.clamp(0.0, 1.0)), notch.kind)
                });
                if let Some(alteration) = to {
                    alter(hand, alteration, commands);
                }
            }
            Gesture::Delete => self.take_out(hand, commands),
            _ => {}
        }
    }

    fn cancel(&mut self, commands: &mut Vec<Command>) -> bool {
        self.dragged = None;
        let was = self.chosen.take().is_some();
        if was {
            commands.push(Command::StopTrying);
        }
        was
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        let chosen = self
            .chosen(hand)
            .map(|(piece, _, notch)| (OnEdge::new(piece, &notch.edge, notch.fraction), notch.kind));
        let kind = chosen.as_ref().map_or(self.kind, |(_, kind)| *kind);
        let mut asked = None;
        ui.horizontal_wrapped(|ui| {
            if let Some(kind) = one_of(ui, "Notch", kind, &KINDS, wording::strokes) {
                match &chosen {
                    Some((place, _)) => asked = self.moved(hand, place, kind),
                    None => self.kind = kind,
                }
            }
        });
        match &chosen {
            Some((place, kind)) => {
                ui.label(place.name());
                if let Some(to) = place_fields(ui, hand, place, true, commands) {
                    asked = self.moved(hand, &place.at(to), *kind);
                }
                if ui.button("Take this notch out").clicked() {
                    self.take_out(hand, commands);
                }
            }
            None => {
                ui.checkbox(&mut self.on_mate, "Notch the mate too");
                pick_edge(ui, hand, commands);
                if let Some(place) = OnEdge::chosen(hand)
                    && let Some(at) = place_fields(ui, hand, &place, false, commands)
                {
                    self.set(hand, &place.at(at), commands);
                }
            }
        }
        if let Some(alteration) = asked {
            alter(hand, alteration, commands);
        }
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let Some((place, _)) = hand
            .pointer
            .as_ref()
            .filter(|_| self.chosen.is_none())
            .and_then(|at| OnEdge::drawn_to(hand, at))
        else {
            return;
        };
        let there = [
            Some(place.clone()),
            self.on_mate
                .then(|| met(hand, &place))
                .flatten()
                .map(|met| met.mate),
        ];
        for place in there.into_iter().flatten() {
            if let Some(at) = place.on_table(hand) {
                brush.dot(at);
                brush.words(at, &place.distance_words(hand));
            }
        }
    }
}
