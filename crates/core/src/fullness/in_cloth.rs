//! What a cloth takes: how deep a fold must be to lie flat, how narrow it can be pressed, how full it can be gathered.
//!
//! Lengths in mm. Limits without a source are common practice and say so.

use super::layout::Layout;
use super::{FoldedEdge, Fullness, Kind};
use crate::units::Mm;

/// Depth of a pleat in layers of cloth, below which it does not lie flat (common practice, fact sheet E2, no source).
pub const FLAT_PLEAT: f64 = 3.0;

/// Narrowest pleat that is folded and pressed by hand, mm (common practice, no source).
pub const NARROWEST_PLEAT: f64 = 4.0;

/// Width of a pleat in layers of cloth, below which the folds of neighbours push each other off (common practice, no
/// source).
pub const NARROW_IN_LAYERS: f64 = 6.0;

/// Stitch of a gathering row on a doll's garment, mm (1.5 to 1.8: common practice, fact sheet E1, no source).
pub const DOLL_STITCH: f64 = 1.5;

/// Stitch of a gathering row at full size, mm (10 per inch: common practice, fact sheet E1, no source).
pub const FULL_STITCH: f64 = 2.5;

/// Cloth up to this many times as long is eased in without folds (common practice, no source).
pub const EASED_UP_TO: f64 = 1.10;

/// How a cloth falls.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    /// It falls close and needs more fullness to look full.
    Soft,
    /// It stands off and looks full with less.
    Crisp,
}

impl Hand {
    /// How full gathers are made in it: cloth length / finished length.
    ///
    /// # Source
    /// Chiffon 3, taffeta 2: "The New Dressmaker" (1921), ch. 28, via a public paraphrase.
    pub fn gathers(self) -> f64 {
        match self {
            Self::Soft => 3.0,
            Self::Crisp => 2.0,
        }
    }
}

/// How a cloth falls, by its name; `None` for names that do not tell.
///
/// # Source
/// Chiffon and taffeta: see [`Hand::gathers`]; the other names are counted to them by common practice, no source.
pub fn hand(cloth: &str) -> Option<Hand> {
    const SOFT: [&str; 8] = [
        "chiffon",
        "georgette",
        "gauze",
        "voile",
        "crepe",
        "charmeuse",
        "challis",
        "mull",
    ];
    const CRISP: [&str; 6] = [
        "taffeta", "organza", "organdie", "poplin", "tarlatan", "buckram",
    ];
    let name = cloth.to_lowercase();
    let is_one_of = |words: &[&str]| words.iter().any(|word| name.contains(word));
    if is_one_of(&SOFT) {
        Some(Hand::Soft)
    } else if is_one_of(&CRISP) {
        Some(Hand::Crisp)
    } else {
        None
    }
}

/// How full gathers are made in a cloth of this name; `None` for names that do not tell.
///
/// # Example
/// ```
/// # use petitoile_core::fullness::gathers_for;
/// assert_eq!(gathers_for("silk chiffon"), Some(3.0));
/// ```
pub fn gathers_for(cloth: &str) -> Option<f64> {
    hand(cloth).map(Hand::gathers)
}

/// The fullest gathers that go on a length: folds as deep as a stitch, packed solid, `stitch / thickness` (geometry).
pub fn fullest_gathers(thickness: Mm, stitch: Mm) -> f64 {
    stitch.0 / thickness.0.max(f64::MIN_POSITIVE)
}

/// The shallowest fold of this kind that lies flat in cloth this thick.
pub fn shallowest(kind: Kind, thickness: Mm) -> Mm {
    match kind {
        // A stitched fold holds itself; it cannot be narrower than the two layers in it.
        Kind::PinTucks | Kind::WideTucks => Mm(2.0 * thickness.0),
        _ => Mm(FLAT_PLEAT * thickness.0),
    }
}

/// The smallest distance from pleat to pleat that can be folded and pressed in cloth this thick.
pub fn narrowest(kind: Kind, thickness: Mm) -> Mm {
    let layers = NARROW_IN_LAYERS * thickness.0;
    match kind {
        Kind::Knife => Mm(layers.max(NARROWEST_PLEAT)),
        Kind::Box | Kind::Inverted => Mm(2.0 * layers.max(NARROWEST_PLEAT)),
        Kind::DoubleBox | Kind::DoubleInverted => {
            Mm(2.0 * (layers * 5.0 / 3.0).max(NARROWEST_PLEAT))
        }
        Kind::PinTucks | Kind::WideTucks => Mm(3.0 * thickness.0),
        // Two layers stand side by side in each loop.
        Kind::Cartridge => Mm(2.0 * thickness.0),
        Kind::Gathers | Kind::Shirring | Kind::Ease => Mm(0.0),
    }
}

/// How pleats that are too small to be pressed in a cloth can be made instead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pressable {
    /// What there is.
    pub before: Fullness,
    /// From pleat to pleat, as it is.
    pub spacing: Mm,
    /// The least that can be pressed: from pleat to pleat.
    pub narrowest: Mm,
    /// The least depth that lies flat.
    pub shallowest: Mm,
    /// Fewer and larger ones for the same cloth, in the same proportion; gathers or ease where not even one can be pressed.
    pub instead: Fullness,
}

/// What pleats on a finished length become when they are too small to be pressed in cloth this thick; `None` when they
/// are large enough, and for what is not folded.
///
/// The cloth length stays, and with it the proportion of depth to width: full pleats stay full. An even number stays even,
/// so that they still part in the middle.
pub fn pressable(
    fullness: Fullness,
    layout: &Layout,
    finished: Mm,
    thickness: Mm,
) -> Option<Pressable> {
    let kind = fullness.kind();
    let count = fullness.count().filter(|n| *n > 0)?;
    let folded = FoldedEdge::new(fullness, layout, finished);
    let spacing = spacing(&folded);
    let depth = folded.pleats.first()?.depth;
    let (narrowest, shallowest) = (narrowest(kind, thickness), shallowest(kind, thickness));
    if spacing.0 >= narrowest.0 - 1e-9 && depth.0 >= shallowest.0 - 1e-9 {
        return None;
    }
    let n = f64::from(count);
    let fewer = (n * spacing.0 / narrowest.0).min(n * depth.0 / shallowest.0) + 1e-9;
    let mut fewer = fewer.floor().clamp(0.0, n) as u32;
    if count % 2 == 0 && fewer > 1 {
        fewer -= fewer % 2;
    }
    let instead = if fewer == 0 && folded.mean_layers() <= EASED_UP_TO {
        Fullness::Ease {
            by: folded.cloth - folded.finished,
        }
    } else if fewer == 0 {
        Fullness::Gathers {
            ratio: folded.mean_layers(),
        }
    } else {
        // The depth of a loop follows from its count.
        fullness
            .with_count(fewer)
            .with_depth(Mm(depth.0 * n / f64::from(fewer)))
    };
    Some(Pressable {
        before: fullness,
        spacing,
        narrowest,
        shallowest,
        instead,
    })
}

/// The smallest distance from pleat to pleat; for a single one the whole length.
fn spacing(folded: &FoldedEdge) -> Mm {
    let pairs = folded.pleats.windows(2);
    Mm(pairs
        .filter_map(|pair| Some((pair.last()?.at - pair.first()?.at).0))
        .fold(folded.finished.0, f64::min))
}

/// The stack of cloth at a folded edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stack {
    /// Layers at the thickest place; for gathers the mean.
    pub layers: f64,
    /// How high they lie.
    pub height: Mm,
    /// Where, on the finished stretch.
    pub at: Mm,
}

/// The stack at the thickest place of a folded edge: layers x thickness.
pub fn stack(folded: &FoldedEdge, thickness: Mm) -> Stack {
    let (layers, at) = folded.thickest();
    Stack {
        layers,
        height: Mm(layers * thickness.0),
        at,
    }
}
