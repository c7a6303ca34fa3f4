//! Lines marked inside a piece: placement lines, fold lines of pleats, stitching lines of darts and tucks,
//! buttonholes, boning channels and casings for a cord.

use egui::{Key, Ui};
use kurbo::{Point, Vec2};
use petitoile_core::Mm;
use petitoile_core::alteration::MarkChange;
use petitoile_core::geometry::curve::Line;
use petitoile_core::piece::{Mark, MarkKind};

use crate::chalk::ask::alter;
use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::chalk::marked::{self, Grip};
use crate::chalk::on_edge::pick_piece;
use crate::chalk::tool::{Gesture, Group, Handle, Tool};
use crate::command::{Chosen, Command};
use crate::fields::{Asked, Typed, angle_field, length_field, name_field, pick};
use crate::wording;

/// What is marked.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Sort {
    Placement,
    Pleat,
    Stitching,
    Buttonhole,
    Boning,
    Casing,
}

const SORTS: [Sort; 6] = [
    Sort::Placement,
    Sort::Pleat,
    Sort::Stitching,
    Sort::Buttonhole,
    Sort::Boning,
    Sort::Casing,
];

/// Marks lines inside a piece, corner after corner.
pub struct MarkLine {
    sort: Sort,
    name: String,
    width: Mm,
    length: Option<Mm>,
    /// Piece and the corners so far, in its own coordinates.
    drawn: Option<(String, Vec<Point>)>,
    grip: Option<Grip>,
}

impl Default for MarkLine {
    fn default() -> Self {
        Self {
            sort: Sort::Placement,
            name: String::new(),
            // Common practice for doll clothes, no source.
            width: Mm(4.0),
            length: None,
            drawn: None,
            grip: None,
        }
    }
}

impl Sort {
    fn words(self) -> &'static str {
        match self {
            Self::Placement => "Placement line",
            Self::Pleat => "Pleat or fold line",
            Self::Stitching => "Dart or tuck line",
            Self::Buttonhole => "Buttonhole",
            Self::Boning => "Boning channel",
            Self::Casing => "Casing inside",
        }
    }

    /// First word of a name that was not typed.
    fn noun(self) -> &'static str {
        match self {
            Self::Placement => "placement",
            Self::Pleat => "fold",
            Self::Stitching => "stitching",
            Self::Buttonhole => "buttonhole",
            Self::Boning => "bone",
            Self::Casing => "casing",
        }
    }
}

fn is_line(kind: &MarkKind) -> bool {
    matches!(kind, MarkKind::Buttonhole(..)) || kind.line().is_some()
}

impl MarkLine {
    /// Where the next corner lies: at the typed length where there is one.
    fn next(&self, from: Point, to: Point) -> Point {
        match self.length {
            Some(length) if (to - from).hypot() > 0.0 => {
                from + (to - from) * (length.0 / (to - from).hypot())
            }
            _ => to,
        }
    }

    fn corner(&mut self, hand: &Hand<'_>, to: Point, commands: &mut Vec<Command>) {
        let from =
            |(piece, corners): &(String, Vec<Point>)| Some((piece.clone(), *corners.last()?));
        let Some((piece, last)) = self.drawn.as_ref().and_then(from) else {
            return;
        };
        let next = self.next(last, hand.in_piece(&piece, to));
        if let Some((_, corners)) = &mut self.drawn {
            corners.push(next);
        }
        if self.sort == Sort::Buttonhole {
            self.finish(hand, commands);
        }
    }

    fn finish(&mut self, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        let Some((piece, corners)) = self.drawn.take() else {
            return;
        };
        let Some(kind) = self.kind(&corners) else {
            commands.push(Command::Say("Click where the line ends first".to_owned()));
            self.drawn = Some((piece, corners));
            return;
        };
        let name = match self.name.trim() {
            "" => marked::fresh_name(hand, &piece, self.sort.noun()),
            typed => typed.to_owned(),
        };
        if alter(
            hand,
            MarkChange::AddMark(Mark { name, kind }).of(&piece),
            commands,
        ) {
            self.name.clear();
        }
    }

    fn kind(&self, corners: &[Point]) -> Option<MarkKind> {
        if self.sort == Sort::Buttonhole {
            return Some(MarkKind::Buttonhole(*corners.first()?, *corners.get(1)?));
        }
        let line = Line::through_corners(corners).filter(|_| corners.len() > 1)?;
        let width = self.width;
        Some(match self.sort {
            Sort::Pleat => MarkKind::Fold(line),
            Sort::Stitching => MarkKind::Stitch(line),
            Sort::Boning | Sort::Casing => MarkKind::Channel { line, width },
            Sort::Placement | Sort::Buttonhole => MarkKind::Line(line),
        })
    }
}

/// "40 mm, 90 degrees": how long and which way; 0 degrees to the right, 90 upwards.
fn run(hand: &Hand<'_>, by: Vec2) -> String {
    format!(
        "{}, {:.1}\u{b0}",
        wording::length(Mm(by.hypot()), hand.unit),
        by.atan2().to_degrees()
    )
}

impl Tool for MarkLine {
    fn name(&self) -> &'static str {
        "Marked line"
    }

    fn tip(&self) -> &'static str {
        "Mark a placement, pleat, dart or tuck line, a buttonhole, a channel"
    }

    fn group(&self) -> Group {
        Group::Mark
    }

    fn key(&self) -> Option<Key> {
        Some(Key::K)
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        if let Some((grip, mark)) = self.grip.as_ref().and_then(|g| Some((g, g.mark(hand)?))) {
            let long = mark.kind.line().map(Line::length);
            let long = long.map_or(String::new(), |mm| {
                format!(", {}", wording::length(Mm(mm), hand.unit))
            });
            return format!(
                "{} {} of {}{long}: drag it, or Delete takes it out",
                wording::sentence(mark.kind.noun()),
                mark.name,
                grip.piece()
            );
        }
        let what = self.sort.words().to_lowercase();
        let Some((piece, corners)) = &self.drawn else {
            return format!("Click where the {what} starts");
        };
        let numbers = hand.pointer.as_ref().zip(corners.last()).map(|(at, last)| {
            let to = self.next(*last, hand.in_piece(piece, at.point));
            run(hand, to - *last)
        });
        let more = if self.sort == Sort::Buttonhole || corners.len() < 2 {
            ""
        } else {
            "; Enter or a double click finishes"
        };
        format!(
            "Click: the {what} goes to here, {}{more}",
            numbers.unwrap_or_default()
        )
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        if self.drawn.is_some() {
            return Vec::new();
        }
        marked::handles(hand, self.grip.as_ref(), is_line)
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        if self.drawn.is_none() && marked::gesture(&mut self.grip, hand, &gesture, commands) {
            return;
        }
        match gesture {
            Gesture::Click(at) if self.drawn.is_some() => self.corner(hand, at.point, commands),
            Gesture::Click(at) | Gesture::Press(at) => {
                self.grip = None;
                commands.push(Command::Choose(
                    at.piece.clone().map(Chosen::piece).unwrap_or_default(),
                ));
                self.drawn = at.piece.map(|piece| {
                    let from = hand.in_piece(&piece, at.point);
                    (piece, vec![from])
                });
            }
            Gesture::Drop(_, at) => {
                self.corner(hand, at.point, commands);
                self.finish(hand, commands);
            }
            Gesture::DoubleClick(_) | Gesture::Finish => self.finish(hand, commands),
            Gesture::Delete => {
                if let Some((_, corners)) = self.drawn.as_mut().filter(|(_, c)| c.len() > 1) {
                    corners.pop();
                }
            }
            _ => {}
        }
    }

    fn cancel(&mut self, commands: &mut Vec<Command>) -> bool {
        let was = self.drawn.take().is_some() | self.grip.take().is_some();
        if was {
            commands.push(Command::StopTrying);
        }
        was
    }

    fn step_back(&mut self) -> bool {
        let Some((_, corners)) = &mut self.drawn else {
            return false;
        };
        corners.pop();
        if corners.is_empty() {
            self.drawn = None;
        }
        true
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        if marked::fields(&mut self.grip, ui, hand, commands) {
            return;
        }
        ui.horizontal(|ui| {
            ui.label("Mark");
            let words = |sort: &Sort| sort.words().to_owned();
            if let Some(sort) = pick(ui, "sort", "What is marked", &self.sort, &SORTS, words) {
                self.sort = sort;
            }
        });
        ui.horizontal(|ui| {
            ui.label("Name");
            if let Some(name) = name_field(ui, "Name of the line", &self.name) {
                self.name = name;
            }
        });
        if matches!(self.sort, Sort::Boning | Sort::Casing) {
            ui.horizontal(|ui| {
                ui.label("Width");
                let now = Some(self.width);
                let field = length_field(ui, "Width of the channel", now, "", hand.unit, 76.0);
                if let Typed::Length(width) = field.typed {
                    self.width = width;
                }
            });
        }
        ui.horizontal(|ui| {
            ui.label("Length");
            let field = length_field(
                ui,
                "Length of the next stretch",
                self.length,
                "as clicked",
                hand.unit,
                96.0,
            );
            match field.typed {
                Typed::Length(length) => self.length = Some(length),
                Typed::Cleared => self.length = None,
                _ => {}
            }
        });
        let Some((piece, corners)) = &self.drawn else {
            start(self, ui, hand, commands);
            return;
        };
        let (piece, last) = (piece.clone(), corners.last().copied());
        ui.horizontal(|ui| {
            ui.label("Angle");
            let angle = angle_field(ui, "Angle of the next stretch", None);
            let (Asked::Done(angle), Some(length), Some(last)) = (angle, self.length, last) else {
                return;
            };
            let way = Vec2::from_angle(angle.to_radians()) * length.0;
            self.corner(hand, hand.on_table(&piece, last + way), commands);
        });
        if self.drawn.is_some() && ui.button("Finish the line").clicked() {
            self.finish(hand, commands);
        }
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let Some((piece, corners)) = &self.drawn else {
            return;
        };
        let mut corners: Vec<Point> = corners.clone();
        if let (Some(at), Some(last)) = (&hand.pointer, corners.last().copied()) {
            let to = self.next(last, hand.in_piece(piece, at.point));
            brush.words(hand.on_table(piece, to), &run(hand, to - last));
            corners.push(to);
        }
        let on_table: Vec<Point> = corners.iter().map(|p| hand.on_table(piece, *p)).collect();
        if let Some(line) = Line::through_corners(&on_table).filter(|_| on_table.len() > 1) {
            brush.line(&line.to_path());
        }
        on_table.first().iter().for_each(|p| brush.dot(**p));
    }
}

/// Without the pointer a line starts in the middle of the chosen piece.
fn start(tool: &mut MarkLine, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
    pick_piece(ui, hand, commands);
    let chosen = hand.session.chosen.piece.clone();
    let middle = chosen.and_then(|name| Some((hand.piece(&name)?.outline.bounds().center(), name)));
    if let Some((middle, piece)) = middle
        && ui.button("Start in the middle of the piece").clicked()
    {
        tool.drawn = Some((piece, vec![middle]));
    }
}
