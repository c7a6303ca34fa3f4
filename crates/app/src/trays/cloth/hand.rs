//! A part in the hand: lifted from where it lies or waits, moved with what it hits told at every moment, set down where it
//! is free. Nothing is recorded before it is set down; where it is not free it goes back.

use kurbo::{Point, Vec2};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::lay_plan::{LayChange, PartRef, Placed};
use petitoile_core::{Degrees, LengthUnit};
use petitoile_lay::by_hand::{Table, moved_by};
use petitoile_lay::check_plan::{FaultKind, PlanFault};

use super::laid::{Laid, Lines, Part, Scene, lines_of};
use crate::command::Command;

/// How many places along each side of an offcut are tried for a part that is laid by a key.
const PLACES: u32 = 14;

/// A part in the hand.
#[derive(Debug, Clone, PartialEq)]
pub struct Lifted {
    /// Which.
    pub part: PartRef,
    /// "sleeve, left".
    pub name: String,
    /// Where it is held on an offcut; `None`: over the bare table.
    pub held: Option<Placed>,
    /// Where its middle is on the table.
    pub middle: Point,
    /// Its lines as it is held.
    pub lines: Lines,
    /// How far it is turned off the grain there, degrees.
    pub off_grain: f64,
    /// What is wrong with it there.
    pub faults: Vec<PlanFault>,
    /// Does the pointer hold it? Else it is moved by keys.
    pub by_pointer: bool,
    /// From where the pointer took hold to its middle.
    grip: Vec2,
    /// Where it lay.
    before: Option<Placed>,
}

/// What a hand needs to know of the table.
#[derive(Clone, Copy)]
pub struct Ground<'a> {
    /// Name of the fitting.
    pub fitting: &'a str,
    /// What lies there.
    pub laid: &'a Laid,
    /// What it was laid out from.
    pub scene: &'a Scene<'a>,
}

impl<'a> Ground<'a> {
    fn table(&self) -> Table<'a> {
        Table {
            to_lay: self.scene.to_lay,
            offcuts: self.scene.left,
            plan: self.scene.plan,
        }
    }

    /// A change by hand as a command.
    pub fn change(&self, change: LayChange) -> Command {
        Command::Edit(Edit::Fitting {
            fitting: self.fitting.to_owned(),
            change: FittingEdit::Lay(change),
        })
    }

    fn unit(&self) -> LengthUnit {
        self.scene.unit
    }
}

impl Lifted {
    /// Takes a part in the hand. `Err` says why it cannot be.
    pub fn new(part: &Part, pointer: Option<Point>) -> Result<Self, String> {
        if part.is_cut() {
            return Err(format!(
                "{} is cut already; take the mark away first",
                part.name
            ));
        }
        if part.shape.is_none() {
            return Err(format!("{} is no longer to be laid", part.name));
        }
        let middle = part.lines.bounds.center();
        Ok(Self {
            part: part.part.clone(),
            name: part.name.clone(),
            held: part.placed.clone(),
            middle,
            lines: part.lines.clone(),
            off_grain: 0.0,
            faults: Vec::new(),
            by_pointer: pointer.is_some(),
            grip: pointer.map_or(Vec2::ZERO, |p| middle - p),
            before: part.placed.clone(),
        })
    }

    /// Follows the pointer; with `reach` it snaps to what it would touch.
    pub fn follow(&mut self, ground: &Ground<'_>, pointer: Point, reach: Option<f64>) {
        self.to(ground, pointer + self.grip, reach);
    }

    /// Moved so that its middle comes to a place on the table.
    fn to(&mut self, ground: &Ground<'_>, middle: Point, reach: Option<f64>) {
        let by = middle - self.middle;
        let cloth = ground.laid.cloth_at(middle).or_else(|| {
            // Over the edge of its offcut it still belongs to it, so that it is told how far it sticks out.
            let name = &self.held.as_ref()?.offcut;
            let cloth = ground.laid.cloth(name)?;
            let near = self.lines.bounds + by;
            let over = near.intersect(cloth.bounds);
            (over.width() > 0.0 && over.height() > 0.0).then_some(cloth)
        });
        let table = ground.table();
        let held = cloth.and_then(|cloth| {
            let name = &cloth.offcut.name;
            match &self.held {
                Some(held) if held.offcut == *name => Some(moved_by(held, by)),
                Some(held) => table.carried_to(held, name, middle - cloth.moved),
                None => table.laid_at(&self.part, name, middle - cloth.moved),
            }
        });
        let held = held.map(|held| {
            reach
                .and_then(|reach| table.snapped(&held, reach))
                .unwrap_or(held)
        });
        match held {
            Some(held) => self.hold(ground, held),
            None => {
                self.held = None;
                self.faults.clear();
                self.lines = moved_lines(&self.lines, by);
                self.middle = middle;
            }
        }
    }

    /// Held there: lines and faults follow.
    fn hold(&mut self, ground: &Ground<'_>, held: Placed) {
        let Some(cloth) = ground.laid.cloth(&held.offcut) else {
            return;
        };
        let shape = ground
            .laid
            .part(&self.part)
            .and_then(|part| part.shape.as_ref());
        let Some(lines) = lines_of(ground.scene, &held, shape, cloth.moved) else {
            return;
        };
        self.faults = ground.table().faults(&held);
        self.off_grain = ground.table().off_grain(&held).map_or(0.0, |off| off.0);
        // That other parts of the same copy wait is no fault of this place.
        self.faults
            .retain(|fault| !matches!(fault.kind, FaultKind::PartsMissing(_)));
        self.middle = lines.bounds.center();
        self.lines = lines;
        self.held = Some(held);
    }

    /// Looks again at what is wrong, after it was lifted.
    pub fn look(&mut self, ground: &Ground<'_>) {
        if let Some(held) = self.held.clone() {
            self.hold(ground, held);
        }
    }

    /// Moved by an arrow key, mm.
    pub fn nudge(&mut self, ground: &Ground<'_>, by: Vec2) {
        self.to(ground, self.middle + by, None);
    }

    /// Pushed until it touches.
    pub fn push(&mut self, ground: &Ground<'_>, way: Vec2) {
        let reach = ground
            .laid
            .bounds()
            .map_or(0.0, |all| all.width() + all.height());
        let held = self.held.as_ref();
        if let Some(pushed) = held.and_then(|held| ground.table().pushed(held, way, reach)) {
            self.hold(ground, pushed);
        }
    }

    /// Turned by an angle, as far as the grain allows.
    pub fn turn(&mut self, ground: &Ground<'_>, by: f64) {
        let held = self.held.as_ref();
        if let Some(turned) = held.and_then(|held| ground.table().turned_by(held, Degrees(by))) {
            self.hold(ground, turned);
        }
    }

    /// Turned so that its grain points to a place on the table, as near as the grain allows.
    pub fn turn_to(&mut self, ground: &Ground<'_>, to: Point) {
        let way = to - self.middle;
        let Some(held) = self.held.as_ref().filter(|_| way.hypot() > 0.0) else {
            return;
        };
        let Some(cloth) = ground.laid.cloth(&held.offcut) else {
            return;
        };
        let off = (-way.x).atan2(way.y).to_degrees() - cloth.offcut.grain.0;
        if let Some(turned) = ground.table().turned_to(held, Degrees(off)) {
            self.hold(ground, turned);
        }
    }

    /// Turned upside down. `Err` says why not.
    pub fn upside_down(&mut self, ground: &Ground<'_>) -> Result<(), String> {
        let Some(held) = &self.held else {
            return Err(format!("{} lies on no cloth yet", self.name));
        };
        let table = ground.table();
        if !table.may_lie_upside_down(held) {
            return Err(format!(
                "{} may not lie upside down here: the cloth has a nap, or you chose so for the piece",
                self.name
            ));
        }
        if let Some(turned) = table.turned_over_end(held) {
            self.hold(ground, turned);
        }
        Ok(())
    }

    /// Flipped over. `Err` says why not.
    pub fn flip(&mut self, ground: &Ground<'_>) -> Result<(), String> {
        let Some(held) = &self.held else {
            return Err(format!("{} lies on no cloth yet", self.name));
        };
        let table = ground.table();
        if !table.may_flip(held) {
            return Err(format!(
                "{} may not be turned over: the sides of this cloth are not alike",
                self.name
            ));
        }
        if let Some(flipped) = table.flipped(held) {
            self.hold(ground, flipped);
        }
        Ok(())
    }

    /// Brought by a key: to the first free place on the offcuts, else into the middle of the first.
    pub fn bring(&mut self, ground: &Ground<'_>, first: Option<&str>) {
        let wanted = |name: &str| first == Some(name);
        let mut cloths: Vec<_> = ground.laid.cloths.iter().collect();
        cloths.sort_by_key(|cloth| !wanted(&cloth.offcut.name));
        let table = ground.table();
        let free = cloths.iter().find_map(|cloth| {
            let bounds = cloth.offcut.bounds();
            places(bounds).find_map(|middle| {
                let held = table.laid_at(&self.part, &cloth.offcut.name, middle)?;
                let is_free = |fault: &PlanFault| matches!(fault.kind, FaultKind::PartsMissing(_));
                table.faults(&held).iter().all(is_free).then_some(held)
            })
        });
        let in_the_way = || {
            let cloth = cloths.first()?;
            table.laid_at(
                &self.part,
                &cloth.offcut.name,
                cloth.offcut.bounds().center(),
            )
        };
        if let Some(held) = free.or_else(in_the_way) {
            self.hold(ground, held);
        }
    }

    /// What the hand is told: free, or what it hits.
    pub fn words(&self, unit: LengthUnit) -> String {
        match (&self.held, self.faults.as_slice()) {
            (None, _) => format!("{} lies on no cloth here", self.name),
            (Some(held), []) => {
                let free = format!("{} is free on {}", self.name, held.offcut);
                match off_grain_words(self.off_grain) {
                    Some(words) => format!("{free}, {words}"),
                    None => free,
                }
            }
            (Some(_), faults) => {
                let all: Vec<String> = faults.iter().map(|fault| fault.what(unit)).collect();
                format!("{} {}", self.name, all.join("; "))
            }
        }
    }

    /// Sets it down: the commands that record it, or say why it went back. `reach` is how far it may be pushed out of what
    /// it overlaps.
    pub fn set_down(mut self, ground: &Ground<'_>, reach: f64) -> Vec<Command> {
        let Some(held) = self.held.clone() else {
            return match &self.before {
                Some(_) => vec![ground.change(LayChange::TakeUp(self.part))],
                None => Vec::new(),
            };
        };
        if self.before.as_ref() == Some(&held) {
            return Vec::new();
        }
        if self.faults.is_empty() {
            return vec![ground.change(LayChange::Put(held))];
        }
        let told = self.words(ground.unit());
        if let Some(snapped) = ground.table().snapped(&held, reach) {
            self.hold(ground, snapped);
            if let (true, Some(held)) = (self.faults.is_empty(), self.held) {
                return vec![ground.change(LayChange::Put(held))];
            }
        }
        vec![Command::Say(format!(
            "{told} there; it went back to where it was"
        ))]
    }
}

/// "1.5 degrees off the grain", "upside down"; nothing where it is true to the grain.
fn off_grain_words(off: f64) -> Option<String> {
    let over = off.abs() > 90.0;
    let off = if over { 180.0 - off.abs() } else { off.abs() };
    match (over, off < 0.05) {
        (false, true) => None,
        (true, true) => Some("upside down".to_owned()),
        (false, false) => Some(format!("{off:.1}\u{b0} off the grain")),
        (true, false) => Some(format!("upside down, {off:.1}\u{b0} off the grain")),
    }
}

/// Places on an offcut, from its lower left corner on, row by row.
fn places(bounds: kurbo::Rect) -> impl Iterator<Item = Point> {
    (0..PLACES * PLACES).map(move |i| {
        let share = |n: u32| (f64::from(n) + 0.5) / f64::from(PLACES);
        Point::new(
            bounds.x0 + bounds.width() * share(i % PLACES),
            bounds.y0 + bounds.height() * share(i / PLACES),
        )
    })
}

fn moved_lines(lines: &Lines, by: Vec2) -> Lines {
    let pair = |(a, b): (Point, Point)| (a + by, b + by);
    Lines {
        outline: lines.outline.iter().map(|p| *p + by).collect(),
        grain: lines.grain.map(pair),
        fold: lines.fold.map(pair),
        joins: lines.joins.iter().copied().map(pair).collect(),
        middle: lines.middle + by,
        bounds: lines.bounds + by,
    }
}
