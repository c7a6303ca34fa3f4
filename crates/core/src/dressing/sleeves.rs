//! Undersleeves in a sleeve: layers of cloth that have to lie between the arm and a narrow sleeve.

use crate::adapt::Adapted;
use crate::edit::{Edit, FittingEdit};
use crate::finding::Place;
use crate::fitting::DemandChoice;
use crate::garment::{Garment, tape_measure, times_on_tape};
use crate::measure::{Level, Measure};
use crate::piece::{Frame, Piece, Placement, Role};
use crate::project::Project;
use crate::tape::TapeKind;
use crate::tolerance::DRAWING;
use crate::units::Mm;

use super::mended;
use super::passage::own_cloth;

/// A sleeve worn under another.
#[derive(Debug, Clone, PartialEq)]
pub struct Undersleeve {
    /// Whose sleeve: name of the fitting, or "worn underneath".
    pub name: String,
    /// Thickness of its layers together.
    pub thickness: Mm,
    /// Its girth / the arm's, at upper arm, elbow and wrist: 1 lies close, 2 is gathered to half.
    pub fullness: [f64; 3],
}

/// Room in a sleeve at one place of the arm.
#[derive(Debug, Clone, PartialEq)]
pub struct ArmRoom {
    /// Upper arm, elbow or wrist.
    pub measure: Measure,
    /// The tape line, or the piece, that says how wide the sleeve is.
    pub place: Place,
    /// The arm.
    pub arm: Mm,
    /// Arm with everything worn on it, pressed flat.
    pub dressed: Mm,
    /// What the sleeve's own cloth takes up.
    pub own: Mm,
    /// The sleeve.
    pub sleeve: Mm,
    /// How much more the sleeve measures than all that; negative is too narrow.
    pub margin: Mm,
    /// What is worn under it, by name.
    pub under: Vec<String>,
    /// Makes it as wide as it must be: as a finished measure of its tape line, so that everything follows, else by hand at
    /// the end of its seam. `None` where it is wide enough, or one change does not do.
    pub wider: Option<Edit>,
}

/// Where the arm is looked at.
const PLACES: [(Measure, Level); 3] = [
    (Measure::UpperArmGirth, Level::Underarm),
    (Measure::ElbowGirth, Level::Elbow),
    (Measure::WristGirth, Level::Wrist),
];

/// Girth of an arm with an undersleeve pressed flat round it: as much cloth as a sleeve of `fullness` times the arm's
/// girth has, lying without air.
///
/// # Source
/// Geometry: the section of the arm g^2 / (4 pi), and that of the cloth fullness x g x t beside it. Gathers hold air, so
/// this is the least they need.
///
/// # Example
/// ```
/// # use petitoile_core::{Mm, dressing::undersleeve_girth};
/// assert_eq!(undersleeve_girth(Mm(80.0), Mm(0.0), 2.0), Mm(80.0));
/// // 83 mm wrist, lawn of 0.165 mm gathered to half: 2 mm more.
/// assert!((undersleeve_girth(Mm(83.0), Mm(0.165), 2.0).0 - 85.05).abs() < 0.01);
/// ```
pub fn undersleeve_girth(arm: Mm, thickness: Mm, fullness: f64) -> Mm {
    let cloth = 4.0 * std::f64::consts::PI * fullness.max(0.0) * arm.0 * thickness.0;
    Mm((arm.0 * arm.0 + cloth).max(0.0).sqrt())
}

/// Room in every sleeve of the garment; with nothing given, what the fitting says lies under it
/// ([`crate::fitting::Fitting::stack_underneath`]).
pub(super) fn rooms(adapted: &Adapted, under: &[Undersleeve]) -> Vec<ArmRoom> {
    PLACES
        .into_iter()
        .enumerate()
        .filter_map(|(place, (measure, level))| {
            let (sleeve, lies) = sleeve_girth(adapted, measure, level)?;
            let arm = adapted.fitting.body.mm(measure);
            let plain = if under.is_empty() {
                plain(adapted, measure)
            } else {
                under.to_vec()
            };
            let dressed = plain.iter().fold(arm, |girth, under| {
                let fullness = under.fullness.get(place).copied().unwrap_or(1.0);
                // Fullness counts against the bare arm, whatever lies between.
                let cloth = fullness * arm.0 / girth.0.max(f64::MIN_POSITIVE);
                undersleeve_girth(girth, under.thickness, cloth)
            });
            let own = Mm(std::f64::consts::PI * own_cloth(adapted).0);
            let mut room = ArmRoom {
                measure,
                place: lies,
                arm,
                dressed,
                own,
                sleeve,
                margin: sleeve - dressed - own,
                under: plain.iter().map(|under| under.name.clone()).collect(),
                wider: None,
            };
            if room.is_narrow() {
                room.wider = wider(adapted, &room, level);
            }
            Some(room)
        })
        .collect()
}

/// What the fitting says is worn under it there, as one close sleeve.
fn plain(adapted: &Adapted, measure: Measure) -> Vec<Undersleeve> {
    let thickness = adapted.fitting.stack_underneath(measure);
    let close = Undersleeve {
        name: "what is worn underneath".to_owned(),
        thickness,
        fullness: [1.0; 3],
    };
    let is_there = thickness.0 > 0.0;
    is_there.then_some(close).into_iter().collect()
}

/// The change that makes a sleeve as wide as it must be.
fn wider(adapted: &Adapted, room: &ArmRoom, level: Level) -> Option<Edit> {
    // To the half millimetre above.
    let short = (-room.margin.0 * 2.0).ceil() / 2.0;
    let fitting = &adapted.fitting;
    let taped = room.place.part.as_ref();
    if let Some(name) = taped.filter(|name| adapted.tape_lines.iter().any(|t| t.name == **name)) {
        let choice = DemandChoice {
            measure: Some(room.sleeve + Mm(short)),
            ease: None,
            ..fitting.demands.get(name).copied().unwrap_or_default()
        };
        return Some(Edit::Fitting {
            fitting: fitting.name.clone(),
            change: FittingEdit::SetDemand(name.clone(), Some(choice)),
        });
    }
    let mut arms = adapted.made.pieces.iter().filter(|piece| is_of_arm(piece));
    let (piece, others) = (arms.next()?, arms.next());
    let line = piece.body_lines.iter().find(|line| line.level == level)?;
    // Only where the sleeve ends there: higher up its cap would no longer fit its armscye.
    if others.is_some() || line.from.edge != line.to.edge {
        return None;
    }
    let times = times_on_tape(piece, room.measure).max(1.0);
    let steps = mended::widened(adapted, piece, &line.from.edge, short / times);
    let then = across(&mended::made(&adapted.made, &steps)?, room.measure, level)?;
    let is_enough = (room.sleeve.0 - room.margin.0) - then <= DRAWING.0;
    is_enough
        .then(|| mended::edit_of(adapted, &steps))
        .flatten()
}

impl ArmRoom {
    /// Is it too narrow?
    pub fn is_narrow(&self) -> bool {
        self.margin.0 < -DRAWING.0
    }
}

/// The narrowest girth that a sleeve has there, and what says so: tape lines, else straight across its body line.
fn sleeve_girth(adapted: &Adapted, measure: Measure, level: Level) -> Option<(Mm, Place)> {
    let rows = adapted.ease.iter();
    let taped = rows
        .filter(|row| row.is_girth && row.measure == measure)
        .min_by(|a, b| a.garment.1.0.total_cmp(&b.garment.1.0));
    if let Some(row) = taped {
        return Some((row.garment.1, Place::part(&row.name)));
    }
    let girth = across(&adapted.made, measure, level)?;
    let mut arms = adapted.made.pieces.iter();
    let piece = arms.find(|piece| is_of_arm(piece))?;
    Some((Mm(girth), Place::piece(&piece.name)))
}

fn is_of_arm(piece: &Piece) -> bool {
    piece.placement == Placement::Framed(Frame::Arm) && piece.copies_in(Role::Shell) > 0
}

/// Sum over the pieces of a sleeve, straight across each at its body line.
fn across(garment: &Garment, measure: Measure, level: Level) -> Option<f64> {
    let arms = garment.pieces.iter().filter(|piece| is_of_arm(piece));
    let widths: Vec<f64> = arms
        .filter_map(|piece| {
            let line = piece.body_lines.iter().find(|line| line.level == level)?;
            let (from, to) = (piece.point_at(&line.from)?, piece.point_at(&line.to)?);
            Some((to - from).hypot() * times_on_tape(piece, measure))
        })
        .collect();
    (!widths.is_empty()).then(|| widths.iter().sum())
}

/// Sleeves worn under those of a fitting in the outfits of its project: of every fitting below it that has sleeves, its
/// cloth, and its fullness as the source garment has it on its own body.
pub fn undersleeves(project: &Project, fitting: &str) -> Vec<Undersleeve> {
    let mut list: Vec<Undersleeve> = Vec::new();
    for name in project
        .outfits
        .iter()
        .flat_map(|outfit| outfit.under(fitting))
    {
        if list.iter().any(|known| known.name == *name) {
            continue;
        }
        list.extend(undersleeve(project, name));
    }
    list
}

fn undersleeve(project: &Project, name: &str) -> Option<Undersleeve> {
    let fitting = project.fitting(name)?;
    let garment = project.garment(&fitting.garment)?;
    if !garment.pieces.iter().any(|piece| is_of_arm(piece)) {
        return None;
    }
    let roles = [
        Role::Shell,
        Role::FlatLined,
        Role::Interlining,
        Role::Lining,
    ];
    let layers = roles.iter().filter(|role| {
        let mut arms = garment.pieces.iter().filter(|piece| is_of_arm(piece));
        arms.any(|piece| piece.copies_in(**role) > 0)
    });
    let thickness = layers
        .filter_map(|role| fitting.cloths.get(role).or(garment.cloths.get(role)))
        .map(|cloth| cloth.thickness.0)
        .sum();
    let fullness = PLACES.map(|(measure, level)| {
        let tapes = garment.tape_lines.iter();
        let taped = tapes
            .filter(|tape| tape.kind == TapeKind::Girth && tape.measure == measure)
            .find_map(|tape| tape_measure(tape, &garment.pieces).ok());
        let girth = taped
            .map(|mm| mm.0)
            .or_else(|| across(garment, measure, level));
        let arm = garment.made_for.mm(measure).0;
        girth.map_or(1.0, |girth| (girth / arm.max(f64::MIN_POSITIVE)).max(1.0))
    });
    Some(Undersleeve {
        name: name.to_owned(),
        thickness: Mm(thickness),
        fullness,
    })
}
