//! How an edge is finished: over all of it, over a dragged stretch, or as an opening below a notch in one step.

use egui::{Key, Ui};
use petitoile_core::Mm;
use petitoile_core::alteration::MarkChange;
use petitoile_core::edge::Finish;

use crate::chalk::ask::alter;
use crate::chalk::brush::Brush;
use crate::chalk::hand::{At, Hand};
use crate::chalk::near::fraction_near;
use crate::chalk::on_edge::{OnEdge, pick_edge};
use crate::chalk::tool::{Gesture, Group, Handle, HandleLook, Tool};
use crate::command::{Chosen, Command};
use crate::fields::{Typed, length_field, one_of, pick};
use crate::wording;

/// Finishes without their sizes, as they are picked.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Sort {
    Seam,
    Hem,
    Facing,
    Raw,
    Fold,
    Selvedge,
    Casing,
    Open,
    Slit,
    Placket,
}

const SORTS: [Sort; 10] = [
    Sort::Seam,
    Sort::Hem,
    Sort::Facing,
    Sort::Raw,
    Sort::Fold,
    Sort::Selvedge,
    Sort::Casing,
    Sort::Open,
    Sort::Slit,
    Sort::Placket,
];

/// Finishes edges.
pub struct FinishEdges {
    sort: Sort,
    hem: Option<Mm>,
    twice: bool,
    casing: Mm,
    placket: Mm,
    from: Option<OnEdge>,
}

impl Default for FinishEdges {
    fn default() -> Self {
        Self {
            sort: Sort::Hem,
            hem: None,
            twice: true,
            // Both widths: common practice for doll clothes, no source.
            casing: Mm(8.0),
            placket: Mm(10.0),
            from: None,
        }
    }
}

impl Sort {
    fn words(self) -> &'static str {
        match self {
            Self::Seam => "Seam",
            Self::Hem => "Hem",
            Self::Facing => "Facing",
            Self::Raw => "Left as cut",
            Self::Fold => "Cut on fold",
            Self::Selvedge => "Selvedge",
            Self::Casing => "Casing",
            Self::Open => "Left open",
            Self::Slit => "Slit",
            Self::Placket => "Placket",
        }
    }

    /// Is it an opening that starts at a notch?
    fn opens(self) -> bool {
        matches!(self, Self::Open | Self::Slit | Self::Placket)
    }
}

impl FinishEdges {
    fn finish(&self) -> Finish {
        match self.sort {
            Sort::Seam => Finish::Seam,
            Sort::Hem => Finish::Hem {
                width: self.hem,
                turns: if self.twice { 2 } else { 1 },
            },
            Sort::Facing => Finish::Facing,
            Sort::Raw => Finish::Raw,
            Sort::Fold => Finish::Fold,
            Sort::Selvedge => Finish::Selvedge,
            Sort::Casing => Finish::Casing { width: self.casing },
            Sort::Open => Finish::Open,
            Sort::Slit => Finish::Slit,
            Sort::Placket => Finish::Placket {
                width: self.placket,
            },
        }
    }

    fn set(
        &self,
        hand: &Hand<'_>,
        edge: &OnEdge,
        (from, to): (f64, f64),
        commands: &mut Vec<Command>,
    ) {
        commands.push(Command::Choose(Chosen::edge(&edge.piece, &edge.edge)));
        let change = MarkChange::SetFinish {
            edge: edge.edge.clone(),
            from,
            to,
            finish: self.finish(),
        };
        alter(hand, change.of(&edge.piece), commands);
    }

    /// The stretch that a drag along an edge has covered so far, or has covered.
    fn stretch(&self, hand: &Hand<'_>, to: &At) -> Option<(OnEdge, (f64, f64))> {
        let from = self.from.as_ref()?;
        let edge = from.edge_of(hand)?;
        let end = fraction_near(&edge.line, hand.in_piece(&from.piece, to.point));
        // Within reach of a corner the stretch goes all the way.
        let near = hand.reach / edge.line.length().max(f64::MIN_POSITIVE);
        let snapped = |at: f64| match at {
            at if at < near => 0.0,
            at if at > 1.0 - near => 1.0,
            at => at,
        };
        let (a, b) = (snapped(from.fraction), snapped(end));
        Some((from.clone(), (a.min(b), a.max(b))))
    }
}

/// From a place on an edge to its lower end: where a slit below a notch runs.
fn below(hand: &Hand<'_>, place: &OnEdge) -> Option<(f64, f64)> {
    let line = &place.edge_of(hand)?.line;
    Some(if line.start().y < line.end().y {
        (0.0, place.fraction)
    } else {
        (place.fraction, 1.0)
    })
}

/// "from 20 mm to 60 mm", or nothing for the whole edge.
fn stretch_words(hand: &Hand<'_>, edge: &OnEdge, (from, to): (f64, f64)) -> String {
    if from <= 0.0 && to >= 1.0 {
        return String::new();
    }
    let show = |at: f64| wording::length(edge.at(at).distances(hand).0, hand.unit);
    let (start, _) = edge.end_names(hand);
    format!(", {} to {} from {start}", show(from), show(to))
}

impl Tool for FinishEdges {
    fn name(&self) -> &'static str {
        "Edge finish"
    }

    fn tip(&self) -> &'static str {
        "Hem, facing, fold, casing, slit, placket: over an edge or a stretch of it"
    }

    fn group(&self) -> Group {
        Group::Mark
    }

    fn key(&self) -> Option<Key> {
        Some(Key::E)
    }

    fn snaps(&self) -> bool {
        false
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        let finish = finish_words(self.finish(), hand);
        if let (Some(_), Some(at)) = (&self.from, &hand.pointer)
            && let Some((edge, range)) = self.stretch(hand, at)
        {
            return format!(
                "Let go: {finish} on {}{}",
                edge.name(),
                stretch_words(hand, &edge, range)
            );
        }
        match hand.pointer.as_ref().and_then(OnEdge::under) {
            Some(place) => format!("Click: {finish} on {}; drag for a stretch", place.name()),
            None if self.sort.opens() => {
                format!("Click a notch: {finish} below it; or drag along an edge")
            }
            None => format!("Click an edge: {finish}; drag along it for a stretch"),
        }
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        if !self.sort.opens() {
            return Vec::new();
        }
        let pieces = hand.garment.into_iter().flat_map(|garment| &garment.pieces);
        pieces
            .flat_map(|piece| piece.notches.iter().map(move |notch| (piece, notch)))
            .enumerate()
            .filter_map(|(number, (piece, notch))| {
                let place = OnEdge::new(&piece.name, &notch.edge, notch.fraction);
                Some(Handle {
                    id: format!("{number}"),
                    at: place.on_table(hand)?,
                    label: format!(
                        "{} below the notch on {}, {}",
                        self.sort.words(),
                        place.name(),
                        place.distance_words(hand)
                    ),
                    look: HandleLook::Mark,
                    chosen: false,
                })
            })
            .collect()
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match gesture {
            Gesture::Click(at) => match OnEdge::under(&at) {
                Some(place) => self.set(hand, &place, (0.0, 1.0), commands),
                None => commands.push(Command::Choose(
                    at.piece.map(Chosen::piece).unwrap_or_default(),
                )),
            },
            Gesture::Press(at) => self.from = OnEdge::under(&at),
            Gesture::Drop(_, at) => {
                let stretch = self.stretch(hand, &at);
                self.from = None;
                if let Some((edge, range)) = stretch {
                    self.set(hand, &edge, range, commands);
                }
            }
            Gesture::Take { handle, .. } => {
                let pieces = hand.garment.into_iter().flat_map(|garment| &garment.pieces);
                let mut notches =
                    pieces.flat_map(|piece| piece.notches.iter().map(move |notch| (piece, notch)));
                let taken = handle.parse().ok().and_then(|n: usize| notches.nth(n));
                let place = taken
                    .map(|(piece, notch)| OnEdge::new(&piece.name, &notch.edge, notch.fraction));
                if let Some(place) = place
                    && let Some(range) = below(hand, &place)
                {
                    self.set(hand, &place, range, commands);
                }
            }
            _ => {}
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        self.from.take().is_some()
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        ui.horizontal(|ui| {
            ui.label("Finish");
            let words = |sort: &Sort| sort.words().to_owned();
            if let Some(sort) = pick(ui, "finish", "Finish", &self.sort, &SORTS, words) {
                self.sort = sort;
            }
        });
        self.sizes(ui, hand);
        pick_edge(ui, hand, commands);
        let Some(edge) = OnEdge::chosen(hand) else {
            return;
        };
        if ui.button(format!("Finish all of {}", edge.edge)).clicked() {
            self.set(hand, &edge, (0.0, 1.0), commands);
        }
        self.stretch_fields(ui, hand, &edge, commands);
        let stretches = edge.edge_of(hand).map(|e| e.finish.clone());
        for stretch in stretches.into_iter().flatten() {
            ui.label(format!(
                "{}{}",
                wording::sentence(&finish_words(stretch.finish, hand)),
                stretch_words(hand, &edge, (stretch.from, stretch.to))
            ));
        }
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let Some(at) = &hand.pointer else {
            return;
        };
        let stretch = self
            .stretch(hand, at)
            .or_else(|| Some((OnEdge::under(at)?, (0.0, 1.0))));
        let Some((edge, range)) = stretch else {
            return;
        };
        let line = edge
            .edge_of(hand)
            .and_then(|found| found.line.between(range.0, range.1));
        if let Some(line) = line {
            brush.line(&line.mapped(|p| hand.on_table(&edge.piece, p)).to_path());
        }
        if self.from.is_some() {
            brush.words(
                at.point,
                stretch_words(hand, &edge, range).trim_start_matches(", "),
            );
        }
    }
}

impl FinishEdges {
    fn sizes(&mut self, ui: &mut Ui, hand: &Hand<'_>) {
        let (name, now, hint) = match self.sort {
            Sort::Hem => ("Hem width", self.hem, "as fitting"),
            Sort::Casing => ("Casing width", Some(self.casing), ""),
            Sort::Placket => ("Placket width", Some(self.placket), ""),
            _ => return,
        };
        ui.horizontal(|ui| {
            ui.label(name);
            let typed = length_field(ui, name, now, hint, hand.unit, 96.0).typed;
            match (self.sort, typed) {
                (Sort::Hem, Typed::Cleared) => self.hem = None,
                (Sort::Hem, Typed::Length(width)) => self.hem = Some(width),
                (Sort::Casing, Typed::Length(width)) => self.casing = width,
                (Sort::Placket, Typed::Length(width)) => self.placket = width,
                _ => {}
            }
        });
        if self.sort == Sort::Hem {
            ui.horizontal(|ui| {
                let words = |twice| if twice { "Turned twice" } else { "Turned once" };
                if let Some(twice) = one_of(ui, "Hem", self.twice, &[true, false], words) {
                    self.twice = twice;
                }
            });
        }
    }

    /// An opening from a typed place down to the lower end.
    fn stretch_fields(
        &self,
        ui: &mut Ui,
        hand: &Hand<'_>,
        edge: &OnEdge,
        commands: &mut Vec<Command>,
    ) {
        let (start, _) = edge.end_names(hand);
        let length = edge.length(hand).0;
        let id = ui.make_persistent_id(("stretch", &edge.piece, &edge.edge));
        let (mut from, mut to) = ui
            .data(|d| d.get_temp::<(f64, f64)>(id))
            .unwrap_or((0.0, length));
        ui.horizontal_wrapped(|ui| {
            ui.label(format!("Measured from {start}:"));
            for (name, end) in [("from", &mut from), ("to", &mut to)] {
                ui.label(name);
                let label = format!("Stretch {name}");
                let field = length_field(ui, &label, Some(Mm(*end)), "", hand.unit, 64.0);
                if let Typed::Length(mm) = field.typed {
                    *end = mm.0.min(length);
                }
            }
            let button = ui.button("Finish this stretch");
            if button.clicked() && length > 0.0 {
                let range = (from.min(to) / length, from.max(to) / length);
                self.set(hand, edge, range, commands);
            }
        });
        ui.data_mut(|d| d.insert_temp(id, (from, to)));
    }
}

/// "hem 8 mm turned twice", "placket 10 mm".
fn finish_words(finish: Finish, hand: &Hand<'_>) -> String {
    let show = |width: Mm| wording::length(width, hand.unit);
    match finish {
        Finish::Hem { width, turns } => {
            let width = width.map_or(String::new(), |width| format!(" {}", show(width)));
            let turns = if turns == 2 { "twice" } else { "once" };
            format!("hem{width} turned {turns}")
        }
        Finish::Casing { width } | Finish::Placket { width } => {
            format!("{} {}", finish.noun(), show(width))
        }
        other => other.noun().to_owned(),
    }
}
