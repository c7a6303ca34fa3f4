//! What every tool of the Chalk tray is: one small file in `tools/` with this shape.

use egui::{Key, Ui};
use kurbo::{Point, Vec2};
use petitoile_core::garment::Garment;

use petitoile_core::snapping::{NamedPoint, Start};

use super::brush::Brush;
use super::hand::{At, Hand};
use crate::command::Command;

/// A tool of the Chalk tray. It keeps only what is half done; what it finishes it pushes as a command.
pub trait Tool {
    /// Its name, as on its button: one or two words.
    fn name(&self) -> &'static str;

    /// What it is for, one sentence.
    fn tip(&self) -> &'static str;

    /// Under which heading it stands.
    fn group(&self) -> Group;

    /// The letter that takes it in hand, if it has one.
    fn key(&self) -> Option<Key> {
        None
    }

    /// What the next click does, one sentence; with the numbers while something is half done.
    fn says(&self, hand: &Hand<'_>) -> String;

    /// Places it offers to take hold of. Each is a labelled button for keyboard and screen reader too.
    fn handles(&self, _hand: &Hand<'_>) -> Vec<Handle> {
        Vec::new()
    }

    /// Pointer or keys did something on the table.
    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>);

    /// Gives up what is half done. `false` when nothing was.
    fn cancel(&mut self, commands: &mut Vec<Command>) -> bool;

    /// Typed numbers and choices of this tool, in the tray.
    fn fields(&mut self, _ui: &mut Ui, _hand: &Hand<'_>, _commands: &mut Vec<Command>) {}

    /// The garment as it would be if what is half done were finished now.
    fn preview(&self) -> Option<&Garment> {
        None
    }

    /// Does it set places that snap? One that only takes hold of pieces, edges or marks does not.
    fn snaps(&self) -> bool {
        true
    }

    /// What its places snap to besides what lies on the table: where the line starts, points of what is half drawn.
    fn snaps_to(&self, _hand: &Hand<'_>) -> SnapsTo {
        SnapsTo::default()
    }

    /// A key typed on the table while no field has the keys. `true` when the tool takes it: digits begin a number.
    fn typed(&mut self, _hand: &Hand<'_>, _key: Typed, _commands: &mut Vec<Command>) -> bool {
        false
    }

    /// Is a number half typed on the table? Then letters, Tab and Enter are for it.
    fn is_typing(&self) -> bool {
        false
    }

    /// Takes the last bit of what is half done back, so that undo never goes past it. `false` when nothing is.
    fn step_back(&mut self) -> bool {
        false
    }

    /// Do arrow keys move something of this tool? Otherwise they move the crosshair.
    fn takes_arrows(&self, hand: &Hand<'_>) -> bool {
        self.handles(hand).iter().any(|handle| handle.chosen)
    }

    /// Paints what is half done.
    fn paint(&self, _hand: &Hand<'_>, _brush: &Brush<'_>) {}
}

/// What the places of a tool snap to besides what lies on the table.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SnapsTo {
    /// Where the line that is being drawn starts.
    pub start: Option<Start>,
    /// Points of what is half drawn.
    pub points: Vec<NamedPoint>,
    /// A point that is being moved: nothing snaps to it, nor to the edges it lies on.
    pub moving: Option<Point>,
}

/// A key typed on the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Typed {
    /// A sign of a number or its unit.
    Sign(char),
    /// Takes the last sign back.
    Back,
    /// On to the next number.
    Next,
    /// Back to the number before.
    Previous,
    /// The numbers are right.
    Enter,
}

/// Headings of the tools.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Group {
    /// Choose and move.
    #[default]
    Hand,
    /// Draw new lines and pieces.
    Draw,
    /// Alter what is there.
    Alter,
    /// Darts.
    Darts,
    /// Notches, grain, marks.
    Mark,
    /// What is sewn to what.
    Seams,
    /// Measure.
    Measure,
}

/// What pointer or keys did on the table.
#[derive(Debug, Clone, PartialEq)]
pub enum Gesture {
    /// The pointer moved, nothing pressed.
    Move(At),
    /// A click beside all handles.
    Click(At),
    /// A double click beside all handles.
    DoubleClick(At),
    /// A drag began beside all handles.
    Press(At),
    /// That drag goes on: from, to.
    Drag(At, At),
    /// That drag ended: from, to.
    Drop(At, At),
    /// A handle was clicked, or chosen with the keyboard; `more` when it should be added to what is chosen.
    Take {
        /// Which handle.
        handle: String,
        /// Add it to what is chosen.
        more: bool,
    },
    /// A handle is dragged: which, and where to.
    DragHandle(String, At),
    /// That drag ended.
    DropHandle(String, At),
    /// Enter: finish.
    Finish,
    /// Delete or Backspace.
    Delete,
    /// Arrow keys: move what is chosen, mm.
    Nudge(Vec2),
}

/// A place that can be taken hold of.
#[derive(Debug, Clone, PartialEq)]
pub struct Handle {
    /// Tells it from the others of this tool; stays the same from frame to frame.
    pub id: String,
    /// Where it is on the table, mm.
    pub at: Point,
    /// What is read out: "Front, side seam, corner".
    pub label: String,
    /// How it looks.
    pub look: HandleLook,
    /// Is it chosen?
    pub chosen: bool,
}

/// How a handle looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HandleLook {
    /// A corner between two edges.
    Corner,
    /// A point on a line.
    Point,
    /// A point that steers a curve.
    Steering,
    /// The middle of an edge.
    Edge,
    /// A notch or mark.
    Mark,
}

impl Group {
    /// Every heading, in order.
    pub const ALL: [Self; 7] = [
        Self::Hand,
        Self::Draw,
        Self::Alter,
        Self::Darts,
        Self::Mark,
        Self::Seams,
        Self::Measure,
    ];

    /// Its words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Hand => "Hand",
            Self::Draw => "Draw",
            Self::Alter => "Alter",
            Self::Darts => "Darts",
            Self::Mark => "Mark",
            Self::Seams => "Seams",
            Self::Measure => "Measure",
        }
    }
}
