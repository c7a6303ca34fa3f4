//! The kinds of fullness by name, and what each takes up.

use serde::{Deserialize, Serialize};

use super::Fullness;

/// Tucks up to this width are pin tucks (common practice, no source), mm.
pub const PIN_TUCK: f64 = 3.0;

/// A kind of fullness.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Kind {
    /// Folds all lying one way.
    Knife,
    /// Two folds away from each other, meeting behind.
    Box,
    /// Two folds meeting in front.
    Inverted,
    /// A box pleat on a box pleat.
    DoubleBox,
    /// An inverted pleat under an inverted pleat.
    DoubleInverted,
    /// Loops standing out from the edge, drawn up by even stitches.
    Cartridge,
    /// Stitched folds as narrow as a pin.
    PinTucks,
    /// Wider stitched folds.
    WideTucks,
    /// Drawn in by running stitch along the edge.
    Gathers,
    /// Drawn in by several rows into the piece.
    Shirring,
    /// A little more cloth, shrunk or sewn in without a fold.
    Ease,
}

impl Kind {
    /// Every kind, in the order they are offered.
    pub const ALL: [Self; 11] = [
        Self::Knife,
        Self::Box,
        Self::Inverted,
        Self::DoubleBox,
        Self::DoubleInverted,
        Self::Cartridge,
        Self::PinTucks,
        Self::WideTucks,
        Self::Gathers,
        Self::Shirring,
        Self::Ease,
    ];

    /// In the maker's words: "knife pleats".
    pub fn words(self) -> &'static str {
        match self {
            Self::Knife => "knife pleats",
            Self::Box => "box pleats",
            Self::Inverted => "inverted pleats",
            Self::DoubleBox => "double box pleats",
            Self::DoubleInverted => "double inverted pleats",
            Self::Cartridge => "cartridge pleats",
            Self::PinTucks => "pin tucks",
            Self::WideTucks => "tucks",
            Self::Gathers => "gathers",
            Self::Shirring => "shirring",
            Self::Ease => "ease",
        }
    }

    /// So many of them: "1 box pleat", "5 box pleats".
    pub fn counted(self, count: u32) -> String {
        let words = self.words();
        let one = words
            .strip_suffix('s')
            .filter(|_| count == 1 && self.is_counted());
        format!("{count} {}", one.unwrap_or(words))
    }

    /// How many depths of cloth one pleat or tuck takes up; `None` for what is drawn in or eased.
    ///
    /// # Source
    /// Knife 2, box and inverted 4, tuck 2: the handbook named in [`super::cloth_length`]. Double box 8, so that full
    /// ones (depth half the spacing) take 5 times the finished length (fact sheet E2, secondary).
    pub fn depths_taken(self) -> Option<f64> {
        match self {
            Self::Knife | Self::PinTucks | Self::WideTucks => Some(2.0),
            Self::Box | Self::Inverted => Some(4.0),
            Self::DoubleBox | Self::DoubleInverted => Some(8.0),
            Self::Cartridge | Self::Gathers | Self::Shirring | Self::Ease => None,
        }
    }

    /// Depth of a full pleat as a share of its spacing: the next one begins where its folds end behind.
    pub fn full_depth(self) -> Option<f64> {
        match self {
            Self::Knife => Some(1.0),
            Self::Box | Self::Inverted | Self::DoubleBox | Self::DoubleInverted => Some(0.5),
            _ => None,
        }
    }

    /// Is it folded one by one, so that it has a whole number?
    pub fn is_counted(self) -> bool {
        self.depths_taken().is_some() || self == Self::Cartridge
    }

    /// Are its folds stitched along their length?
    pub fn is_tuck(self) -> bool {
        matches!(self, Self::PinTucks | Self::WideTucks)
    }
}

impl Fullness {
    /// Which kind it is.
    pub fn kind(&self) -> Kind {
        match *self {
            Self::Gathers { .. } => Kind::Gathers,
            Self::KnifePleats { .. } => Kind::Knife,
            Self::BoxPleats { inverted: true, .. } => Kind::Inverted,
            Self::BoxPleats { .. } => Kind::Box,
            Self::DoubleBoxPleats { inverted: true, .. } => Kind::DoubleInverted,
            Self::DoubleBoxPleats { .. } => Kind::DoubleBox,
            Self::Tucks { width, .. } if width.0 <= PIN_TUCK => Kind::PinTucks,
            Self::Tucks { .. } => Kind::WideTucks,
            Self::CartridgePleats { .. } => Kind::Cartridge,
            Self::Shirring { .. } => Kind::Shirring,
            Self::Ease { .. } => Kind::Ease,
        }
    }

    /// How many pleats or tucks; `None` for what is drawn in or eased.
    pub fn count(&self) -> Option<u32> {
        match *self {
            Self::KnifePleats { count, .. }
            | Self::BoxPleats { count, .. }
            | Self::DoubleBoxPleats { count, .. }
            | Self::Tucks { count, .. }
            | Self::CartridgePleats { count, .. } => Some(count),
            Self::Gathers { .. } | Self::Shirring { .. } | Self::Ease { .. } => None,
        }
    }

    /// The same with another number of pleats; what is drawn in or eased stays as it is.
    pub fn with_count(self, number: u32) -> Self {
        let mut fullness = self;
        match &mut fullness {
            Self::KnifePleats { count, .. }
            | Self::BoxPleats { count, .. }
            | Self::DoubleBoxPleats { count, .. }
            | Self::Tucks { count, .. }
            | Self::CartridgePleats { count, .. } => *count = number,
            Self::Gathers { .. } | Self::Shirring { .. } | Self::Ease { .. } => {}
        }
        fullness
    }

    /// The same with another depth (width of a tuck); what has none of its own stays as it is.
    pub fn with_depth(self, deep: crate::units::Mm) -> Self {
        let mut fullness = self;
        match &mut fullness {
            Self::KnifePleats { depth, .. }
            | Self::BoxPleats { depth, .. }
            | Self::DoubleBoxPleats { depth, .. } => *depth = deep,
            Self::Tucks { width, .. } => *width = deep,
            _ => {}
        }
        fullness
    }

    /// The share of something drawn in or eased that lies on this share of its stretch; pleats are dealt out by
    /// [`Self::with_count`].
    pub fn shared(self, share: f64) -> Self {
        match self {
            Self::Ease { by } => Self::Ease {
                by: crate::units::Mm(by.0 * share),
            },
            other => other,
        }
    }

    /// Depth of a pleat or width of a tuck; `None` where it follows from the lengths.
    pub fn depth(&self) -> Option<crate::units::Mm> {
        match *self {
            Self::KnifePleats { depth, .. }
            | Self::BoxPleats { depth, .. }
            | Self::DoubleBoxPleats { depth, .. } => Some(depth),
            Self::Tucks { width, .. } => Some(width),
            _ => None,
        }
    }
}

impl super::FullnessOp {
    /// In the maker's words, lengths in `unit`: "waist: 4 knife pleats, 11.5 mm deep, stitched down 20 mm".
    pub fn words(&self, unit: crate::units::LengthUnit) -> String {
        format!(
            "{}: {}{}",
            self.edge,
            self.fullness.words(unit),
            self.sewn_words(unit)
        )
    }

    /// ", stitched down 20 mm" where its pleats are.
    pub fn sewn_words(&self, unit: crate::units::LengthUnit) -> String {
        let words = |down| format!(", stitched down {}", unit.show_chosen(down));
        self.sewn_down().map_or_else(String::new, words)
    }
}

impl Fullness {
    /// In the maker's words, lengths in `unit`: "4 knife pleats, 11.5 mm deep", "gathers, 2 times".
    pub fn words(&self, unit: crate::units::LengthUnit) -> String {
        let kind = self.kind();
        match (*self, self.count(), self.depth()) {
            (Self::Gathers { ratio } | Self::Shirring { ratio, .. }, ..) => {
                let times = format!("{ratio:.2}");
                let times = times.trim_end_matches('0').trim_end_matches('.');
                format!("{}, {times} times", kind.words())
            }
            (Self::Ease { by }, ..) => format!("{} of {}", kind.words(), unit.show_computed(by)),
            (_, Some(count), Some(depth)) => {
                let how = if kind.is_tuck() { "wide" } else { "deep" };
                let depth = unit.show_computed(depth);
                format!("{}, {depth} {how}", kind.counted(count))
            }
            (_, Some(count), None) => kind.counted(count),
            _ => kind.words().to_owned(),
        }
    }
}
